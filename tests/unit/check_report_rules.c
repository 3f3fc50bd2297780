/* check_report_rules.c - rules listed and explained: every kind, every condition, every number with where it comes from
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

static char *explained(const char *id, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_msg(ab_report_rules_explain(&rc_rules, id, look, &text, &diag) == AB_OK, "%s: %s", id, diag.text);
	return text;
}

static char *listed(const char *kind, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_msg(ab_report_rules_list(&rc_rules, kind, look, &text, &diag) == AB_OK, "%s", diag.text);
	return text;
}

/* ---- explained ---- */

static const struct { const char *title, *id, *want; } lines[] = {
	{ "a fault by its id", "butter", "Fault butter: Butter" },
	{ "a fault by a tasting word", "popcorn", "Fault butter: Butter" },
	{ "what it is like", "butter", "Like: Popcorn." },
	{ "its words", "butter", "Words: buttery, popcorn" },
	{ "its weight", "butter", "1.5 per slight grade" },
	{ "what turns up by itself", "butter", "noticeable in 3 %, strong in under 1 % of cases  [estimate]" },
	{ "and under a condition", "butter",
	    "noticeable in 20 %, strong in 5 % of cases, when w.temp over 22.5 C  [a book, p. 7]" },
	{ "which causes give it", "butter", "* Too warm (warm)" },
	{ "a cause", "warm", "Cause warm: Too warm" },
	{ "its side and stage", "warm", "cold side, stage ferment" },
	{ "a hot one", "air", "hot side, stage mash" },
	{ "why", "warm", "Why: Yeast hurries." },
	{ "what next time", "warm", "Next time: Keep it cool." },
	{ "its caution", "warm", "Take care: Mind the ice." },
	{ "how often", "warm", "* 25 % of batches  [survey of 40]" },
	{ "how often under conditions: words and a flag", "warm",
	    "* 60 % of batches, when w.place is cellar or shed and w.flag is not yes  [no source]" },
	{ "impossible, in words", "warm",
	    "* impossible, when w.sg is known and w.ppm is unknown and w.volume under 5 L: there was ice" },
	{ "impossible, without words", "warm", "* impossible, when w.temp over 22.5 C\n" },
	{ "a curve", "warm", "w.temp in C: 18: x1, 24.5: x4  [curve]" },
	{ "a flag both ways", "warm", "w.flag: no: x0.5, yes: x2  [flags]" },
	{ "of a word beyond the second, too", "cold", "w.place: attic: x3, shed: x0.25  [places]" },
	{ "words, silent ones left out", "warm", "w.place: attic: x3, when w.temp over 22.5 C  [words]" },
	{ "what it tastes of", "warm", "Butter: noticeable in 40 %, strong in 10 % of cases  [linked]" },
	{ "a harmless one", "young", "a harmless explanation" },
	{ "a habit", "cellar", "Habit cellar: Use the cellar" },
	{ "what it costs: time", "cellar", "nothing to buy, nothing a year to run, 5 minutes a batch" },
	{ "an upgrade", "box", "Upgrade box: A cold box" },
	{ "what it costs: money, running, time saved", "box", "$90 to buy, $12.50 a year to run, -10 minutes a batch" },
	{ "what it sets", "box", "* a temperature to 20 C  [dial]" },
	{ "at most", "box", "* a pressure at most 2.5 bar  [gauge]" },
	{ "at least", "box", "* a share at least 50 %  [guess]" },
	{ "a flag it sets", "box", "* a flag to yes" },
	{ "what it takes away", "box", "takes away 80 % of: Too warm, when w.temp over 22.5 C  [trial]" },
	{ "a check", "sniff", "Check sniff: Does it smell?" },
	{ "if yes", "sniff", "If yes: Warm." },
	{ "if no", "sniff", "If no: Not warm." },
	{ "what it takes", "sniff", "Takes: 2.5 hours, $2" },
	{ "what it takes, free", "shake", "Takes: 1 minute, free" },
	{ "its base", "sniff", "yes in 10 % of cases" },
	{ "its causes", "sniff", "Too warm: 70 %  [noses]" },
};

START_TEST(explains)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = explained(lines[_i].id, &look);
	rc_has(lines[_i].title, text, lines[_i].want);
	ab_report_free(text);
}
END_TEST

static const struct { const char *title, *id, *unwanted; } silent[] = {
	{ "no caution, no label", "young", "Take care" },
	{ "no next, no label", "dirt", "Next time" },
	{ "no words, no label", "dms", "Words:" },
	{ "a fault that no cause gives", "dms", "* Too warm" },
	{ "a cause of the process is not called harmless", "warm", "harmless" },
	{ "a check without answers told", "shake", "If yes" },
	{ "no US unit unless asked", "box", "psi" },
	{ "another rule's lines", "sniff", "Butter" },
};

START_TEST(leaves_out)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = explained(silent[_i].id, &look);
	rc_lacks(silent[_i].title, text, silent[_i].unwanted);
	ab_report_free(text);
}
END_TEST

START_TEST(us_units_in_what_a_change_sets)
{
	struct ab_look look = rc_look(AB_TEXT);
	look.us_units = true;
	char *text = explained("box", &look);
	rc_has("a temperature", text, "a temperature to 68 F");
	rc_has("a pressure: 250 / 6.894757", text, "at most 36.3 psi");
	ab_report_free(text);
}
END_TEST

static const struct { const char *title, *id, *near; } none[] = {
	{ "a slip of the pen: what is near", "buttrey", "near it: \"" },
	{ "nothing near", "zzzzzzzzzz", "called \"zzzzzzzzzz\"; " }, { "no id", "", "called \"\"" },
};

START_TEST(none_of_that_name)
{
	struct ab_look look = rc_look(_i % 2 ? AB_HTML : AB_TEXT);
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_explain(&rc_rules, none[_i].id, &look, &text, &diag), AB_EUSAGE);
	ck_assert_ptr_null(text);
	rc_has(none[_i].title, diag.text, none[_i].near);
}
END_TEST

/* ---- listed ---- */

static const struct { const char *title, *kind; size_t n; const char *id, *row; } kinds[] = {
	{ "faults", "faults", RC_FAULTS, "dms", "dms     DMS" },
	{ "causes and their stage", "causes", RC_CAUSES, "air", "air    Air         mash" },
	{ "a harmless cause", "causes", RC_CAUSES, "young", "young  Only young  harmless" },
	{ "habits", "changes", RC_CHANGES, "cellar", "cellar  Use the cellar  habit" },
	{ "upgrades", "changes", RC_CHANGES, "box", "box     A cold box      upgrade" },
	{ "checks", "checks", RC_CHECKS, "shake", "shake  Shake it" },
	{ "families", "families", 1, "wheat", "wheat  wheat beers" },
	{ "yeasts", "yeasts", 1, "clean", "clean  clean ale" },
	{ "facts and their unit", "facts", RC_FACTS, "w.sg", "w.sg        a gravity              SG" },
	{ "capitals do not matter", "Faults", RC_FAULTS, "dms", "dms     DMS" },
};

START_TEST(lists_a_kind)
{
	struct ab_look look = rc_look(AB_TEXT);
	char count[32], *text = listed(kinds[_i].kind, &look);
	snprintf(count, sizeof count, " (%zu)\n", kinds[_i].n);
	rc_has(kinds[_i].title, text, kinds[_i].row);
	rc_has(kinds[_i].title, text, count);
	ck_assert_uint_eq(rc_times(text, " ("), 1);
	rc_has("the version", text, "0123456789abcdef");
	ab_report_free(text);
}
END_TEST

START_TEST(lists_a_kind_as_data)
{
	struct ab_look look = rc_look(AB_JSON);
	char lower[16], keys[32];
	snprintf(lower, sizeof lower, "%s", kinds[_i].kind);
	lower[0] = (char)(lower[0] | 0x20);
	snprintf(keys, sizeof keys, "version %s", lower);
	json_t *root = rc_json(listed(kinds[_i].kind, &look)), *array = json_object_get(root, lower);
	bool seen = false;
	ck_assert_str_eq(rc_keys(root), keys);
	ck_assert_uint_eq(json_array_size(array), kinds[_i].n);
	for (size_t i = 0; i < kinds[_i].n; i++) {
		ck_assert_str_eq(rc_keys(json_array_get(array, i)), "id title note");
		seen = seen ||
		    strcmp(json_string_value(json_object_get(json_array_get(array, i), "id")), kinds[_i].id) == 0;
	}
	ck_assert_msg(seen, "%s", kinds[_i].title);
	json_decref(root);
}
END_TEST

START_TEST(lists_all)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = listed(NULL, &look);
	rc_before("faults first", text, "Wet paper", "Only young");
	rc_before("then causes", text, "Only young", "A new tube");
	rc_before("then changes", text, "A new tube", "Shake it");
	rc_before("then checks", text, "Shake it", "wheat beers");
	rc_lacks("facts are many: only when asked for", text, "w.temp");
	ab_report_free(text);
	look.format = AB_JSON;
	json_t *root = rc_json(listed(NULL, &look));
	ck_assert_str_eq(
	    rc_keys(root), "version faults causes changes checks families yeasts chores things touches boxes facts");
	json_decref(root);
}
END_TEST

/* What is told to be allowed, is. */
START_TEST(every_kind_allowed)
{
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_diag diag;
	char *text, *rest;
	size_t n = 0;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_list(&rc_rules, "sins", &look, &text, &diag), AB_EUSAGE);
	rest = strstr(diag.text, "allowed are ");
	ck_assert_ptr_nonnull(rest);
	for (char *kind = strtok(rest + strlen("allowed are "), ", "); kind != NULL; kind = strtok(NULL, ", "), n++)
		ab_report_free(listed(kind, &look));
	look.format = AB_JSON;
	text = listed(NULL, &look);
	json_t *root = rc_json(text);
	ck_assert_uint_eq(n + 1, json_object_size(root));   /* and the version */
	json_decref(root);
}
END_TEST

START_TEST(an_empty_kind)
{
	struct ab_knowledge bare = rc_rules;
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_diag diag;
	char *text;
	bare.n_checks = 0;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_list(&bare, "checks", &look, &text, &diag), AB_OK);
	rc_has("said", text, "(0)\n");
	ab_report_free(text);
	look.format = AB_JSON;
	ck_assert_int_eq(ab_report_rules_list(&bare, "checks", &look, &text, &diag), AB_OK);
	json_t *root = rc_json(text);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "checks")), 0);
	json_decref(root);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_rules");
	TCase *tc = tcase_create("report_rules");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, explains, 0, sizeof lines / sizeof *lines);
	tcase_add_loop_test(tc, leaves_out, 0, sizeof silent / sizeof *silent);
	tcase_add_test(tc, us_units_in_what_a_change_sets);
	tcase_add_loop_test(tc, none_of_that_name, 0, sizeof none / sizeof *none);
	tcase_add_loop_test(tc, lists_a_kind, 0, sizeof kinds / sizeof *kinds);
	tcase_add_loop_test(tc, lists_a_kind_as_data, 0, sizeof kinds / sizeof *kinds);
	tcase_add_test(tc, lists_all);
	tcase_add_test(tc, every_kind_allowed);
	tcase_add_test(tc, an_empty_kind);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
