/* check_report_html.c - each report as one HTML file: every tag closed in turn, nothing fetched, nothing of a
 * stranger run
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

static const char EVIL[] = "<script>alert(1)</script>\" onload='x' & \033[31m\xC2\x9B&amp;";

/* ---- a reader of tags: the first that is not closed in turn, or NULL ---- */

enum { DEEPEST = 32, TAG = 16 };

static bool is_void(const char *tag)
{
	return strcmp(tag, "meta") == 0 || strcmp(tag, "!DOCTYPE") == 0;
}

static const char *unbalanced(const char *text)
{
	static char open[DEEPEST][TAG];
	int depth = 0;
	for (const char *at = text; (at = strchr(at, '<')) != NULL; at++) {
		char tag[TAG];
		bool closes = at[1] == '/';
		size_t n = strcspn(at + 1 + closes, " >");
		snprintf(tag, sizeof tag, "%.*s", (int)n, at + 1 + closes);
		if (!isalpha((unsigned char)tag[0]) && tag[0] != '!')
			return "a bare <";
		if (is_void(tag))
			continue;
		if (!closes && depth < DEEPEST)
			memcpy(open[depth++], tag, sizeof tag);
		else if (depth == 0 || strcmp(open[--depth], tag) != 0)
			return at;
	}
	return depth == 0 ? NULL : open[depth - 1];
}

static const struct { const char *title, *text; bool good; } balance[] = {
	{ "closed", "<p>a<span class=\"x\">b</span></p>", true }, { "crossed", "<p><span></p></span>", false },
	{ "left open", "<p>", false },
	{ "never opened", "</p>", false },
	{ "an element that needs no end", "<meta charset=\"utf-8\"><p></p>", true }, { "a bare sign", "a < b", false },
};

START_TEST(the_reader_itself)
{
	ck_assert_msg((unbalanced(balance[_i].text) == NULL) == balance[_i].good, "%s", balance[_i].title);
}
END_TEST

/* ---- every report, with evil in every text a stranger may write ---- */

static char *diagnosis(const struct ab_look *look)
{
	static struct ab_reason reasons[] = { { .slot = 0, .text = EVIL }, { .slot = 0, .text = EVIL } };
	static struct ab_suspect suspects[] = { { .cause = RC_WARM, .blame = 0.7, .pro = reasons, .n_pro = 1,
	    .con = reasons, .n_con = 2 },
		{ .cause = RC_YOUNG, .blame = 0.3, .blame_low = 0.2, .blame_high = 0.4 } };
	static struct ab_warning warnings[] = { { "bottle-pressure", EVIL, NULL }, { "warm", EVIL, NULL } };
	static struct ab_ask asks[] = { { .is_check = true, .check = RC_SNIFF, .bits = 1 } };
	static int risks[] = { RC_AIR }, unknown[] = { RC_TEMP };
	struct ab_case c;
	struct ab_diagnosis d;
	rc_case(&c, &d);
	d.suspects = suspects;
	d.n_suspects = 2;
	d.warnings = warnings;
	d.n_warnings = 2;
	d.asks = asks;
	d.risks = risks;
	d.unknown = unknown;
	d.n_asks = d.n_risks = d.n_unknown = 1;
	rc_batch.id = rc_batch.line = rc_batch.title = EVIL;
	return rc_diagnosis(&c, look);
}

static char *facts(const struct ab_look *look)
{
	struct ab_case c;
	struct ab_diagnosis d;
	rc_case(&c, &d);
	rc_batch.title = EVIL;
	rc_facts[RC_TEMP] =
	    (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = 20, .u = 1, .working = EVIL, .lines = { 3 } };
	return rc_facts_of(&c, look);
}

static char *advice(const struct ab_look *look)
{
	static struct ab_item items[] = { { .change = RC_CELLAR, .joint_gain = 1, .chosen = true,
	    .stays = NAN }, { .change = RC_BOX, .cost = 5, .barred = EVIL } };
	static struct ab_step steps[] = { { 0, 0, 3, NULL }, { 90, 1, 2, NULL } };
	static int plan[] = { 0 };
	struct ab_advice a = { .budget = 100,
		.minutes = INFINITY,
		.running = INFINITY,
		.load_before = 3,
		.load_after = 2,
		.items = items,
		.n_items = 2,
		.plan = plan,
		.n_plan = 1,
		.frontier = steps,
		.n_frontier = 2,
		.enough = 0,
		.reason = EVIL };
	struct ab_look with = *look;
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	with.currency = EVIL;
	ck_assert_int_eq(ab_report_advice(&rc_rules, &a, &with, &text, &diag), AB_OK);
	return text;
}

static char *trend(const struct ab_look *look)
{
	static const double loads[RC_FAULTS] = { 1 };
	static struct ab_trend_batch batches[] = { { .id = EVIL, .line = EVIL, .tasted = true, .load = 1,
	    .fault_load = loads } };
	static struct ab_trend_change changes[] = { { .id = EVIL, .line = EVIL, .p_better = 0.95, .low = 1,
	    .high = 2 } };
	static struct ab_common common[] = { { EVIL, EVIL, 1, 1, 0, 1, 0.01, 0.01, 0.01, EVIL, NULL } };
	struct ab_trend t = {
		.changes = changes, .n_changes = 1, .common = common, .n_common = 1, .slope_per_batch = NAN
	};
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_trend(&rc_rules, batches, 1, &t, NULL, 0, look, &text, &diag), AB_OK);
	return text;
}

static char *list(const struct ab_look *look)
{
	struct ab_knowledge evil = rc_rules;
	struct ab_family family[] = { { .id = EVIL, .title = EVIL } };
	struct ab_diag diag;
	char *text = NULL;
	evil.families = family;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_list(&evil, NULL, look, &text, &diag), AB_OK);
	return text;
}

static char *explained(const struct ab_look *look)
{
	struct ab_knowledge evil = rc_rules;
	struct ab_check check[] = { { .id = "evil", .title = EVIL, .how = EVIL, .if_yes = EVIL, .caution = EVIL } };
	struct ab_diag diag;
	char *text = NULL;
	evil.checks = check;
	evil.n_checks = 1;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_explain(&evil, "evil", look, &text, &diag), AB_OK);
	return text;
}

static const struct { const char *title; char *(*report)(const struct ab_look *look); size_t evils; } reports[] = {
	{ "diagnosis", diagnosis, 5 }, { "facts", facts, 2 }, { "advice", advice, 1 }, { "trend", trend, 5 },
	{ "rules list", list, 2 },
	{ "rules explain", explained, 4 },
};

START_TEST(tags_are_closed)
{
	struct ab_look look = rc_look(AB_HTML);
	for (int all = 0; all < 2; all++) {
		look.verbose = all;
		char *text = reports[_i].report(&look);
		const char *where = unbalanced(text);
		ck_assert_msg(where == NULL, "%s: %.60s", reports[_i].title, where == NULL ? "" : where);
		ck_assert_msg(strncmp(text, "<!DOCTYPE html>\n", 16) == 0, "%s", reports[_i].title);
		ck_assert_uint_eq(rc_times(text, "<title>"), 1);
		ck_assert_uint_ge(rc_times(text, "<h1>"), 1);
		ab_report_free(text);
	}
}
END_TEST

START_TEST(a_stranger_is_only_quoted)
{
	struct ab_look look = rc_look(AB_HTML);
	look.verbose = true;
	look.color = true;   /* colours are for terminals */
	char *text = reports[_i].report(&look);
	ck_assert_msg(rc_times(text,
			  "&lt;script&gt;alert(1)&lt;/script&gt;&quot; onload=&#39;x&#39; &amp; ?[31m?&amp;amp;") >=
		reports[_i].evils,
	    "%s: too few quotes in\n%s", reports[_i].title, text);
	rc_lacks(reports[_i].title, text, "<script");
	rc_lacks(reports[_i].title, text, "onload='");
	rc_lacks(reports[_i].title, text, "\033");
	rc_lacks(reports[_i].title, text, "\xC2\x9B");
	rc_lacks("nothing is fetched", text, "http");
	rc_lacks("nothing is fetched", text, "src=");
	rc_lacks("nothing is fetched", text, "url(");
	ab_report_free(text);
}
END_TEST

START_TEST(tables_have_heads)
{
	struct ab_look look = rc_look(AB_HTML);
	look.verbose = true;
	char *text = trend(&look);
	rc_has("trend", text, "<th scope=\"col\">batch</th><th scope=\"col\">brewed</th>");
	rc_before("common", text, "bad batches share</h2>", "By chance alone");
	ab_report_free(text);
	text = advice(&look);
	rc_has("all other changes", text, "<th scope=\"col\" class=\"r\">gain</th>");
	rc_has("the frontier", text, "<th scope=\"col\" class=\"r\">money</th>");
	ab_report_free(text);
}
END_TEST

/* The same on a terminal: what drives it is made harmless. */
START_TEST(a_terminal_is_not_driven)
{
	struct ab_look look = rc_look(AB_TEXT);
	look.verbose = true;
	char *text = reports[_i].report(&look);
	for (const char *at = text; *at != '\0'; at++)
		ck_assert_msg(*at == '\n' || !iscntrl((unsigned char)*at), "%s: control %d at %.20s",
		    reports[_i].title, *at, at);
	rc_lacks(reports[_i].title, text, "\xC2\x9B");
	ab_report_free(text);
}
END_TEST

/* However narrow, no line of text is wider: words too long are cut. */
START_TEST(no_line_is_too_wide)
{
	static const int widths[] = { 40, 41, 60, 79, 80, 100, 133, 200 };
	struct ab_look look = rc_look(AB_TEXT);
	look.verbose = true;
	for (size_t i = 0; i < sizeof widths / sizeof *widths; i++) {
		look.width = widths[i];
		char *text = reports[_i].report(&look);
		for (const char *line = text; *line != '\0';) {
			size_t n = strcspn(line, "\n");
			ck_assert_msg(n <= (size_t)widths[i], "%s in %d columns: %.*s", reports[_i].title,
			    widths[i], (int)n, line);
			ck_assert_msg(n == 0 || line[n - 1] != ' ', "%s: a blank at the end of %.*s",
			    reports[_i].title, (int)n, line);
			line += n + (line[n] == '\n');
		}
		ab_report_free(text);
	}
}
END_TEST

int main(void)
{
	enum { N = sizeof reports / sizeof *reports };
	Suite *s = suite_create("report_html");
	TCase *tc = tcase_create("report_html");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, the_reader_itself, 0, sizeof balance / sizeof *balance);
	tcase_add_loop_test(tc, tags_are_closed, 0, N);
	tcase_add_loop_test(tc, a_stranger_is_only_quoted, 0, N);
	tcase_add_test(tc, tables_have_heads);
	tcase_add_loop_test(tc, a_terminal_is_not_driven, 0, N);
	tcase_add_loop_test(tc, no_line_is_too_wide, 0, N);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
