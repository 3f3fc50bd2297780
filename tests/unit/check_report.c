/* check_report.c - reports of results made by hand: what must be said in which case, in text, JSON and HTML
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/report.h>

#include <check.h>
#include <jansson.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/alloc.h"
#include "report/saying.h"

/* ---- a world of two faults, three causes, two changes, one check ---- */

static const char *const words_place[] = { "cellar", "attic", NULL };
static const struct ab_fact_def defs[] = {
	{ "t.temp", AB_FACT_NUMBER, "C", NULL, 0, 100, "temperature", "How warm was it?", 0, false },
	{ "t.over", AB_FACT_NUMBER, "K", NULL, -50, 50, "warmth over", NULL, 0, false },
	{ "t.share", AB_FACT_NUMBER, "share", NULL, 0, 1, "a share", NULL, 0, false },
	{ "t.flag", AB_FACT_FLAG, "", NULL, 0, 1, "a flag", NULL, 0, false },
	{ "t.word", AB_FACT_WORD, "", words_place, 0, 1, "a place", NULL, 0, false },
	{ "t.sg", AB_FACT_NUMBER, "SG", NULL, 0.9, 1.2, "a gravity", NULL, 0, false },
	{ "t.mm", AB_FACT_NUMBER, "mm", NULL, 0, 100, "a height", NULL, 0, false },
	{ "t.kpa", AB_FACT_NUMBER, "kPa", NULL, 0, 1000, "a pressure", NULL, 0, false },
};
enum { N_FACTS = sizeof defs / sizeof *defs, N_FAULTS = 2, N_CAUSES = 3 };
static const struct ab_fact_table table = { defs, N_FACTS };

static struct ab_fault faults[N_FAULTS] = { { .id = "butter", .title = "Butter" }, { .id = "dms", .title = "DMS" } };
static struct ab_cause causes[N_CAUSES] = {
	{ .id = "warm", .title = "Too warm", .why = "Yeast hurries.", .next = "Keep it cool.", .side = AB_SIDE_COLD,
	    .stage = 6 },
	{ .id = "cold", .title = "Too cold", .why = "Yeast sleeps.", .side = AB_SIDE_COLD, .stage = 6 },
	{ .id = "young", .title = "Only young", .why = "It clears.", .next = "Wait.", .benign = true, .stage = 6 },
};
static struct ab_change changes[2] = {
	{ .id = "cellar", .title = "Use the cellar", .habit = true, .how = "Carry it down.",
	    .caution = "Mind the stairs." },
	{ .id = "box", .title = "A cold box" },
};
static struct ab_check checks[1] = { { .id = "sniff", .title = "Does it smell warm?", .how = "Sniff." } };
static struct ab_family families[1] = { { .id = "wheat", .title = "wheat beers" } };
static const struct ab_knowledge k = { .facts = &table,
	.faults = faults,
	.n_faults = N_FAULTS,
	.causes = causes,
	.n_causes = N_CAUSES,
	.changes = changes,
	.n_changes = 2,
	.checks = checks,
	.n_checks = 1,
	.families = families,
	.n_families = 1,
	.version = "0123456789abcdef" };

static struct ab_reason pro[] = { { .is_fault = true, .fault = 0, .blame_without = 0.1, .text = "butter was found" },
	{ .slot = 0, .blame_without = 0.4, .text = NULL } };
static struct ab_reason con[] = { { .slot = 3, .blame_without = 0.9, .text = "it was sealed" } };
static struct ab_suspect suspects[] = {
	{ .cause = 0, .blame = 0.62, .blame_low = 0.48, .blame_high = 0.74, .present = 0.7, .pro = pro, .n_pro = 2,
	    .con = con, .n_con = 1 },
	{ .cause = 1, .blame = 0.2, .blame_low = 0.2, .blame_high = 0.2, .present = 0.3 },
};
static struct ab_suspect young[] = { { .cause = 2, .blame = 0.9, .blame_low = 0.85, .blame_high = 0.95,
    .present = 0.9 } };
static int story[] = { 0, 1 }, risks[] = { 1 }, unknown[] = { 0, 4 }, unexplained[] = { 1 }, expected[] = { 0 };
static double present[N_CAUSES] = { 0.7, 0.35, 0.1 };
static struct ab_ask asks[] = { { .is_check = true, .check = 0, .bits = 0.5, .minutes = 10, .cost = 1, .wait_days = 2 },
	{ .slot = 0, .bits = 0.2 } };
static struct ab_warning warnings[] = { { "bottle-pressure", "Bottles may burst.", NULL } };
static struct ab_finding found[N_FAULTS] = { { AB_SEEN_FOUND, 2, 0 }, { AB_SEEN_FOUND, 1, 0 } };
static struct ab_finding nothing[N_FAULTS];
static double intensity[N_FAULTS] = { 3, 2 }, load[N_FAULTS] = { 6, 2 };

static struct ab_pitch pitched;   /* it was brewed */
static struct ab_batch batch = { .id = "b7",
	.pitch = &pitched,
	.line = "pale",
	.title = "Pale \033[31m<b>",
	.family = 5,
	.brewed = { .known = true, .date_only = true, .s = 0 } };
static struct ab_fact facts[N_FACTS] = {
	{ .origin = AB_ORIGIN_DERIVED, .value = 20, .u = 0.5, .grade = 'C', .lines = { 3, 4 },
	    .working = "20 measured" },
	{ .origin = AB_ORIGIN_MEASURED, .value = 2, .lines = { 5 } },
	{ .origin = AB_ORIGIN_USUAL, .value = 0.5, .guess = true, .grade = 'A' },
	{ .origin = AB_ORIGIN_ASSUMED, .value = 1, .grade = 'B' },
	{ .origin = AB_ORIGIN_MEASURED, .value = 1 },
	{ .origin = AB_ORIGIN_MEASURED, .value = 1.01 },
};

static struct ab_diagnosis full_diagnosis(void)
{
	return (struct ab_diagnosis){ .family = 0,
		.suspects = suspects,
		.n_suspects = 2,
		.risks = risks,
		.n_risks = 1,
		.present = present,
		.story = story,
		.n_story = 2,
		.story_share = 0.3,
		.unexplained = unexplained,
		.n_unexplained = 1,
		.expected = expected,
		.n_expected = 1,
		.unknown = unknown,
		.n_unknown = 2,
		.asks = asks,
		.n_asks = 2,
		.warnings = warnings,
		.n_warnings = 1 };
}

static struct ab_case full_case(struct ab_diagnosis *d)
{
	return (struct ab_case){ .batch = &batch,
		.facts = facts,
		.evidence = { .finding = found },
		.diagnosis = d,
		.load = 8,
		.load_low = 6,
		.load_high = 10,
		.fault_load = load,
		.fault_intensity = intensity,
		.tasted = true };
}

static struct ab_look look_of(enum ab_format format)
{
	return (struct ab_look){ .format = format, .width = 200, .currency = "$" };
}

static void has(const char *title, const char *text, const char *want)
{
	ck_assert_msg(strstr(text, want) != NULL, "%s: no \"%s\" in\n%s", title, want, text);
}

static void lacks(const char *title, const char *text, const char *unwanted)
{
	ck_assert_msg(strstr(text, unwanted) == NULL, "%s: \"%s\" in\n%s", title, unwanted, text);
}

/* ---- diagnosis ---- */

static char *diagnosis_of(struct ab_case *c, const struct ab_look *look)
{
	struct ab_case *cases[] = { c };
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_diagnoses(&k, cases, 1, NULL, look, &text, &diag), AB_OK);
	return text;
}

static const char *const said[] = {
	"Diagnosis of batch b7", "line pale", "brewed 1970-01-01", "family wheat",
	"butter: moderate (this beer is meant to have some); DMS: slight",
	("Probably: too warm. Blame 62 %: of 100 batches like this one, about 62 owe what was found to it "
	 "(likely 48 to 74)."), "Yeast hurries.",
	"+ butter was found (without this: 10 %)", "+ temperature (without this: 40 %)",
	"- it was sealed (without this: 90 %)",
	"20 %", "Too cold", "The best single story has more than one cause: too warm and too cold.",
	"~ Too cold (perhaps: 35 %)",
	"1. Does it smell warm? (about 10 minutes, $1, answer after 2 days) Sniff.",
	"2. How warm was it? (only remembering, free)", "* Keep it cool.",
	"No cause in the rules explains it well: DMS.", "it would matter: A place?", "! Bottles may burst.",
	"estimates",
};

START_TEST(diagnosis_says)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	char *text = diagnosis_of(&c, &look);
	has("full", text, said[_i]);
	lacks("escape", text, "\033");
	lacks("tasted", text, "Feared");
	ab_report_free(text);
}
END_TEST

/* A worry was in nobody's glass, and has no strength. */
START_TEST(a_fear_is_not_found)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);

	c.evidence.feared = true;
	char *text = diagnosis_of(&c, &look);
	has("feared", text, "Feared, not tasted: butter (this beer is meant to have some); DMS.");
	lacks("feared", text, "Found in the glass");
	ab_report_free(text);
}
END_TEST

START_TEST(benign_is_said_first)
{
	struct ab_diagnosis d = {
		.family = -1, .suspects = young, .n_suspects = 1, .verdict_benign = true, .present = present
	};
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	char *text = diagnosis_of(&c, &look);
	const char *first = strstr(text, "Nothing seems to be wrong with this beer."),
		   *cause = strstr(text, "only young");
	ck_assert(first != NULL && cause != NULL && first < cause);
	has("benign", text, "What to do\n  * Wait.");
	has("benign is not blamed", text,
	    "Of 100 batches like this one, about 90 owe what was found to it (likely 85 to 95).");
	lacks("benign is not blamed", text, "Blame");
	lacks("benign", text, "next time");
	lacks("benign", text, "spoil");
	ab_report_free(text);
}
END_TEST

START_TEST(clean_and_untasted)
{
	struct ab_diagnosis d = { .family = -1,
		.nothing_found = true,
		.present = present,
		.risks = risks,
		.n_risks = 1,
		.asks = asks,
		.n_asks = 2,
		.warnings = warnings,
		.n_warnings = 1 };
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	c.evidence.finding = nothing;
	char *text = diagnosis_of(&c, &look);
	has("clean", text, "No fault was found");
	has("clean", text, "What may show up later");
	has("a warning is never left out", text, "! Bottles may burst.");
	has("and no praise beside it", text, "But mind its pressure");
	lacks("and no praise beside it", text, "Well brewed");
	lacks("clean", text, "What to check next");
	ab_report_free(text);
	d.warnings = (struct ab_warning[]){ { "pressure-unjudged", "The keg.", NULL } };
	text = diagnosis_of(&c, &look);
	has("a keg's pressure", text, "But mind its pressure");
	ab_report_free(text);
	d.n_warnings = 0;
	text = diagnosis_of(&c, &look);
	has("nothing to mind", text, "Well brewed");
	lacks("nothing to mind", text, "pressure");
	ab_report_free(text);
	c.tasted = false;
	text = diagnosis_of(&c, &look);
	has("untasted", text, "Not tasted yet");
	lacks("untasted", text, "No fault was found");
	ab_report_free(text);
}
END_TEST

/* A bottle that may burst is told of before anything else, and once. */
START_TEST(alarm_stands_first)
{
	static struct ab_warning both[] = { { "cold", "A slip on the ice.", NULL }, { "bottle-pressure",
	    "Bottles may burst.", NULL },
		{ "bottle-bombs", "It gushes.", NULL } };
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	d.warnings = both;
	d.n_warnings = 3;
	char *text = diagnosis_of(&c, &look);
	const char *alarm = strstr(text, "! Bottles may burst."), *rest = strstr(text, "Found in the glass");
	ck_assert_msg(alarm != NULL && rest != NULL && alarm < rest, "%s", text);
	ck_assert_msg(strstr(alarm + 1, "! Bottles may burst.") == NULL, "%s", text);
	lacks("the same care is asked once", text, "It gushes.");
	has("others stand last, with their cause", text, "Take care\n  ! Too cold: a slip on the ice.");
	ab_report_free(text);
	look.format = AB_JSON;
	text = diagnosis_of(&c, &look);
	has("data holds all", text, "It gushes.");
	ab_report_free(text);
}
END_TEST

START_TEST(story_of_the_blamed_only)
{
	static struct ab_suspect innocent[] = { { .cause = 0, .blame = 0.9, .present = 0.9 },
	    { .cause = 1, .blame = 0.19, .present = 0.8 } };
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	d.suspects = innocent;
	char *text = diagnosis_of(&c, &look);
	lacks("one blamed is no story", text, "best single story");
	ab_report_free(text);
	look.format = AB_JSON;
	text = diagnosis_of(&c, &look);
	json_t *root = json_loads(text, 0, NULL);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "story")), 2);
	json_decref(root);
	ab_report_free(text);
}
END_TEST

START_TEST(idle_questions_are_not_asked)
{
	static struct ab_ask idle[] = { { .is_check = true, .check = 0, .bits = 0.049 }, { .slot = 0, .bits = 0.05 } };
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	d.asks = idle;
	char *text = diagnosis_of(&c, &look);
	has("the one worth asking", text, "1. How warm was it?");
	lacks("the idle one", text, "smell warm");
	ab_report_free(text);
	d.n_asks = 1;
	text = diagnosis_of(&c, &look);
	has("none", text, "What to check next\n  Nothing cheap to find out would change this answer.");
	lacks("none", text, "it would matter");
	ab_report_free(text);
	look.verbose = true;
	text = diagnosis_of(&c, &look);
	has("all are shown when asked for", text, "1. Does it smell warm?");
	ab_report_free(text);
}
END_TEST

/* A harmless explanation that leads acquits nobody beside it. */
static const struct { const char *title; double harmless, guilty; const char *want; } verdicts[] = {
	{ "nothing", 0.9, 0.29, "Nothing seems to be wrong" }, { "perhaps", 0.9, 0.31, "Perhaps nothing is wrong" },
	{ "unsure", 0.59, 0, "Perhaps nothing is wrong" }, { "both", 0.9, 0.5, "Part of what was found is harmless" },
};

START_TEST(verdict_rows)
{
	struct ab_suspect two[] = { { .cause = 2, .blame = verdicts[_i].harmless },
	    { .cause = 0, .blame = verdicts[_i].guilty } };
	struct ab_diagnosis d = {
		.family = -1, .suspects = two, .n_suspects = 2, .verdict_benign = true, .present = present
	};
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	char *text = diagnosis_of(&c, &look);
	has(verdicts[_i].title, text, verdicts[_i].want);
	ab_report_free(text);
}
END_TEST

/* Nor is anybody told to wait while bottles may burst, by the reckoning or by what was found; any other warning
 * leaves it. */
START_TEST(no_waiting_beside_an_alarm)
{
	static const struct { const char *id; bool waits; } alarm[] = { { "bottle-pressure", false },
	    { "bottle-bombs", false }, { "cold", true } };

	for (size_t i = 0; i < sizeof alarm / sizeof *alarm; i++) {
		struct ab_warning warning = { alarm[i].id, "Mind it.", NULL };
		struct ab_diagnosis d = { .family = -1,
			.suspects = young,
			.n_suspects = 1,
			.verdict_benign = true,
			.present = present,
			.warnings = &warning,
			.n_warnings = 1 };
		struct ab_case c = full_case(&d);
		struct ab_look look = look_of(AB_TEXT);
		char *text = diagnosis_of(&c, &look);

		ck_assert_msg((strstr(text, "* Wait.") != NULL) == alarm[i].waits, "%s: %s", alarm[i].id, text);
		ck_assert_msg((strstr(text, "Nothing seems to be wrong") != NULL) == alarm[i].waits, "%s: %s",
		    alarm[i].id, text);
		ck_assert_msg(
		    (strstr(text, "the pressure is not") == NULL) == alarm[i].waits, "%s: %s", alarm[i].id, text);
		ab_report_free(text);
	}
}
END_TEST

START_TEST(no_range_no_range)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_TEXT);
	d.suspects = suspects + 1;
	d.n_suspects = 1;
	char *text = diagnosis_of(&c, &look);
	has("low", text, "Possibly: too cold. Blame 20 %");
	has("low", text, "No single cause stands out yet");
	lacks("not redrawn", text, "(likely");
	d.n_suspects = 0;
	ab_report_free(text);
	text = diagnosis_of(&c, &look);
	has("none", text, "None of the causes in the rules fits");
	ab_report_free(text);
}
END_TEST

START_TEST(diagnosis_as_data)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_JSON);
	c.load_high = (double)NAN;
	char *text = diagnosis_of(&c, &look);
	json_error_t error;
	json_t *root = json_loads(text, 0, &error);
	const char *batch_id, *cause, *kind, *grade;
	double blame, minutes;
	ck_assert_msg(root != NULL, "%s", error.text);
	ck_assert_int_eq(json_unpack(root, "{s:s, s:[{s:s, s:F, s:s}!], s:n}", "batch", &batch_id, "found", "id",
			     &cause, "load", &blame, "grade", &grade, "load_high"),
	    -1);
	ck_assert_int_eq(json_unpack(root, "{s:s, s:[{s:s, s:F}], s:n}", "batch", &batch_id, "causes", "id",
			     &cause, "blame", &blame, "load_high"),
	    0);
	ck_assert_str_eq(batch_id, "b7");
	ck_assert_str_eq(cause, "warm");
	ck_assert_double_eq(blame, 0.62);   /* 17 digits bring the very number back */
	ck_assert_int_eq(json_unpack(root, "{s:[{s:s, s:F}]}", "next", "kind", &kind, "minutes", &minutes), 0);
	ck_assert_str_eq(kind, "check");
	ck_assert_double_eq(minutes, 10);
	json_decref(root);
	ab_report_free(text);
}
END_TEST

START_TEST(one_line_a_batch)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_diag diag;
	char *text;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_diagnosis_line(&k, &c, &text, &diag), AB_OK);
	ck_assert_ptr_eq(strchr(text, '\n'), text + strlen(text) - 1);
	ab_report_free(text);
}
END_TEST

START_TEST(several_make_an_array)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d), *cases[] = { &c, &c };
	struct ab_look look = look_of(AB_JSON);
	struct ab_diag diag;
	char *text;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_facts(&k, cases, 2, &look, &text, &diag), AB_OK);
	json_t *root = json_loads(text, 0, NULL);
	ck_assert(json_is_array(root) && json_array_size(root) == 2);
	json_decref(root);
	ab_report_free(text);
	ck_assert_int_eq(ab_report_facts(&k, cases, 0, &look, &text, &diag), AB_OK);
	ck_assert_str_eq(text, "[]\n");
	ab_report_free(text);
}
END_TEST

START_TEST(html_holds_no_foreign_element)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d);
	struct ab_look look = look_of(AB_HTML);
	char *text = diagnosis_of(&c, &look);
	has("html", text, "<!DOCTYPE html>");
	has("html", text, "Pale ?[31m&lt;b&gt;");
	lacks("html", text, "<b>");
	lacks("html", text, "http");
	ab_report_free(text);
}
END_TEST

/* ---- facts ---- */

static const struct { const char *title; bool us; const char *want; } fact_lines[] = {
	{ "C", false, "t.temp = 20 +- 0.5 C: temperature (derived, rule of thumb, lines 3, 4)" },
	{ "F", true, "t.temp = 68 +- 0.9 F: temperature" },
	{ "a difference", false, "t.over = 2 K: warmth over (measured, as read, line 5)" },
	{ "a difference in F", true, "t.over = 3.6 F degrees" },
	{ "a share", false, "t.share = 50 %: a share (usual, a guess, grade A)" },
	{ "a flag", false, "t.flag = yes: a flag (assumed, grade B)" },
	{ "a word", false, "t.word = attic: a place" },
	{ "a gravity", true, "t.sg = 1.0100 SG" },
	{ "the working", false, "\n      20 measured\n" },
	{ "how many are known", false, "6 of 8 facts are known" },
};

START_TEST(fact_rows)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d), *cases[] = { &c };
	struct ab_look look = look_of(AB_TEXT);
	struct ab_diag diag;
	char *text;
	ab_diag_init(&diag);
	look.us_units = fact_lines[_i].us;
	ck_assert_int_eq(ab_report_facts(&k, cases, 1, &look, &text, &diag), AB_OK);
	has(fact_lines[_i].title, text, fact_lines[_i].want);
	lacks("unknown ones", text, "t.kpa");
	ab_report_free(text);
	look.verbose = true;
	ck_assert_int_eq(ab_report_facts(&k, cases, 1, &look, &text, &diag), AB_OK);
	has("unknown ones when asked", text, "t.kpa: a pressure");
	ab_report_free(text);
}
END_TEST

/* ---- sayings ---- */

static const struct { const char *title, *currency; double amount; const char *want; } moneys[] = {
	{ "whole", "$", 35, "$35" }, { "cents", "$", 4.5, "$4.50" }, { "a code", "EUR", 35, "35 EUR" },
	{ "another sign", "\u20AC", 3, "\u20AC3" },
	{ "nothing", "$", 0, "nothing" }, { "no limit", "$", INFINITY, "no limit" }, { "unknown", "$", NAN, "unknown" },
	{ "less than nothing", "$", -4, "-$4" }, { "rounded up", "$", 9.999, "$10" }, { "no sign told", NULL, 2, "$2" },
};

START_TEST(money_rows)
{
	struct ab_look look = look_of(AB_TEXT);
	struct page p;
	char *out;
	struct ab_diag diag;
	ab_diag_init(&diag);
	look.currency = moneys[_i].currency;
	page_start(&p, &look, "t");
	const char *text = say_money(&p, moneys[_i].amount);
	ck_assert_msg(strcmp(text, moneys[_i].want) == 0, "%s: \"%s\"", moneys[_i].title, text);
	ck_assert_int_eq(page_finish(&p, &out, &diag), AB_OK);
	ab_report_free(out);
}
END_TEST

static const struct { const char *title; double x; int digits; const char *want; } numbers[] = {
	{ "whole", 3, 0, "3" }, { "two digits", 3.14159, 2, "3.14" }, { "kept zeros", 1.01, 4, "1.0100" },
	{ "carried", 0.996, 2, "1.00" },
	{ "minus", -1.5, 1, "-1.5" }, { "no minus zero", -0.001, 2, "0.00" }, { "unknown", NAN, 2, "unknown" },
	{ "no limit", INFINITY, 1, "no limit" },
};

START_TEST(number_rows)
{
	struct ab_look look = look_of(AB_TEXT);
	struct page p;
	char *out;
	struct ab_diag diag;
	ab_diag_init(&diag);
	page_start(&p, &look, "t");
	const char *text = say_fixed(&p, numbers[_i].x, numbers[_i].digits);
	ck_assert_msg(strcmp(text, numbers[_i].want) == 0, "%s: \"%s\"", numbers[_i].title, text);
	ck_assert_str_eq(say_percent(&p, 0.001), "under 1 %");
	ck_assert_str_eq(say_percent(&p, 0), "0 %");
	ck_assert_str_eq(say_percent(&p, 0.999), "over 99 %");
	ck_assert_str_eq(say_percent(&p, 0.995), "over 99 %");
	ck_assert_str_eq(say_percent(&p, 0.994), "99 %");
	ck_assert_str_eq(say_percent(&p, 0.625), "63 %");
	ck_assert_str_eq(say_minutes(&p, 1), "1 minute");
	ck_assert_str_eq(say_minutes(&p, 90), "90 minutes");
	ck_assert_str_eq(say_minutes(&p, 150), "2.5 hours");
	ck_assert_int_eq(page_finish(&p, &out, &diag), AB_OK);
	ab_report_free(out);
}
END_TEST

/* ---- advice ---- */

static struct ab_because because[] = { { .fault = 0, .cause = 0, .load = 1 } };
static struct ab_item items[] = {
	{ .change = 0, .minutes = 5, .gain = 2, .joint_gain = 2, .basis = AB_BASIS_REPLAY, .stays = 0.9,
	    .chosen = true, .because = because, .n_because = 1 },
	{ .change = 1, .cost = 90, .running_cost = 12.5, .minutes = -10, .gain = 1, .joint_gain = 0.5,
	    .basis = AB_BASIS_RATED, .stays = NAN, .chosen = true },
};
static int plan[] = { 0, 1 };
static struct ab_step frontier[] = { { 0, 2, 3, NULL }, { 90, 2.5, 2.5, NULL }, { 300, 2.6, 2.4, NULL } };

static struct ab_next_step begin_first[] = { { .kind = AB_NEXT_BEGIN, .cause = -1 } };

static struct ab_advice full_advice(void)
{
	return (struct ab_advice){ .budget = 100,
		.minutes = INFINITY,
		.horizon_years = 1,
		.running = INFINITY,
		.running_told = true,
		.changes = 6,
		.currency = "$",
		.n_batches = 1,
		.load_before = 5,
		.load_after = 2.5,
		.flawless_before = 0.2,
		.flawless_after = 0.5,
		.items = items,
		.n_items = 2,
		.plan = plan,
		.n_plan = 2,
		.frontier = frontier,
		.n_frontier = 3,
		.minutes_added = -5,
		.running_added = 12.5,
		.enough = 90,
		.reason = "Because.",
		.first_check = &asks[0],
		.steps = begin_first,
		.n_steps = 1 };
}

static char *advice_of(const struct ab_advice *a, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_advice(&k, a, look, &text, &diag), AB_OK);
	return text;
}

static const char *const advised[] = {
	"Read: 1 batch. To spend now: $100.", "new habits at once, at most 6", "Because.",
	" 1.  2.00  free  Use the cellar", "Carry it down. Foresight, against",
	"Takes 2.00 off a flaw load of 5.00 (0: no flaw), replayed on your batches; firm 90",
	" 2. A cold box ($90, $12.50 a year, saves 10 minutes)", "Takes 0.50 off, rated by the rules.",
	"Together: $90 now, $12.50 a year to run, 5 minutes saved a batch.",
	"flaw load 5.00, a flawless batch 20 % of the time",
	"flaw load 2.50, a flawless batch 50 % of the time", "estimates",
	"nothing       3.00", "$300       2.40", "$90 is enough for four fifths",
	"Does it smell warm? (about 10 minutes, $1) Sniff.",
	"! Mind the stairs.", "proved",
};

START_TEST(advice_says)
{
	struct ab_advice a = full_advice();
	struct ab_look look = look_of(AB_TEXT);
	char *text = advice_of(&a, &look);
	has("advice", text, advised[_i]);
	lacks("what was not redrawn is not firm", text, "rated, firm");
	ab_report_free(text);
}
END_TEST

START_TEST(advice_edges)
{
	struct ab_advice a = full_advice();
	struct ab_look look = look_of(AB_TEXT);
	a.budget = INFINITY;
	a.n_plan = 0;
	a.gap = 0.25;
	a.n_frontier = 1;
	a.first_check = NULL;
	char *text = advice_of(&a, &look);
	has("no limit", text, "No limit of money was given");
	has("no plan", text, "change nothing");
	lacks("no plan", text, "Together");
	lacks("one step is no frontier", text, "What each budget");
	has("a gap is told", text, "more than 0.25 beyond");
	lacks("no check", text, "Check first");
	ab_report_free(text);
	look.format = AB_JSON;
	text = advice_of(&a, &look);
	has("no limit is null", text, "\"budget\": null");
	ab_report_free(text);
}
END_TEST

static const struct { const char *title; double budget, load_after; const char *want, *lack; } left_over[] = {
	{ "all spent", 90, 2.5, "Together: $90", "other" },
	{ "some left, more would buy", 100, 2.5, "The other $10 would buy almost nothing more; $300 to buy and "
	    "to run for a year would (load left: 2.40).", "nor would" },
	{ "some left, no sum buys", 100, 2.41,
	    "The other $10 would buy almost nothing more, nor would any greater sum.", "to run for a year would" },
	{ "more than any sum", 1000, 2.5,
	    "The other $910 would buy almost nothing more, nor would any greater sum.", "to run for a year would" },
	{ "no limit", INFINITY, 2.5, "Together: $90", "other" },
};

START_TEST(left_over_rows)
{
	struct ab_advice a = full_advice();
	struct ab_look look = look_of(AB_TEXT);
	a.budget = left_over[_i].budget;
	a.load_before = 3;
	a.load_after = left_over[_i].load_after;
	char *text = advice_of(&a, &look);
	has(left_over[_i].title, text, left_over[_i].want);
	lacks(left_over[_i].title, text, left_over[_i].lack);
	ab_report_free(text);
}
END_TEST

/* What costs nothing now but something each year is not free. */
START_TEST(running_cost_is_not_free)
{
	struct ab_item dear = items[1];
	struct ab_advice a = full_advice();
	struct ab_look look = look_of(AB_TEXT);
	static int only[] = { 0 };
	dear.cost = 0;
	a.items = &dear;
	a.n_items = 1;
	a.plan = only;
	a.n_plan = 1;
	char *text = advice_of(&a, &look);
	has("running", text, "(nothing now, $12.50 a year, saves 10 minutes)");
	ab_report_free(text);
}
END_TEST

/* ---- trend ---- */

static const char *const noted[] = { "cellar" };
static struct ab_trend_batch batches[] = {
	{ .id = "a", .line = "pale", .brewed_s = 0, .tasted = true, .load = 8, .load_low = 6, .load_high = 9,
	    .fault_load = load },
	{ .id = "b", .line = "pale", .brewed_s = 864000, .tasted = true, .load = 0, .load_low = 0, .load_high = 1,
	    .fault_load = (double[]){ 0, 0 }, .changes = noted, .n_changes = 1 },
	{ .id = "c", .brewed_s = 1728000, .load = NAN, .load_low = NAN, .load_high = NAN,
	    .fault_load = (double[]){ 0, 0 } },
};
static struct ab_fault_shift shifts[] = { { .fault = 0, .before_with = 1, .p_better = 0.7, .moved = -6 } };
static struct ab_trend_change compared[] = { { .id = "cellar", .line = "pale", .date_s = 864000, .n_before = 1,
    .n_after = 1, .before = 8, .after = 0, .p_better = 0.95,
	.low = -1, .high = 9.5, .together = true, .more_needed = 3, .faults = shifts, .n_faults = 1,
	.allowed = { NAN, NAN, NAN, NAN } } };
static struct ab_common common[] = { { "fermenter", "F2", 3, 3, 0, 4, 0.03, 0.06, 0.03, NULL, NULL } };
static const struct ab_promise promises[] = { { "cellar", 5, 2.5, true } };

static char *trend_of(const struct ab_trend *t, size_t n_promises, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_trend(&k, batches, 3, t, promises, n_promises, look, &text, &diag), AB_OK);
	return text;
}

static struct ab_trend full_trend(void)
{
	return (struct ab_trend){ .n_batches = 3,
		.changes = compared,
		.n_changes = 1,
		.slope_per_batch = -0.5,
		.slope_low = -0.8,
		.slope_high = -0.1,
		.common = common,
		.n_common = 1 };
}

static const char *const trended[] = {
	"Flaw load over 3 batches", ("Your beer is getting better: each batch 0.50 lighter than the one before "
	    "(likely between 0.10 lighter and 0.80 lighter"), "over 2 tasted batches", "Line: pale",
	"1970-01-11   0.0  ............  *  none", "butter; DMS", "One-off batches", "not tasted yet",
	"Use the cellar, from 1970-01-11, line pale. Mean load 8.0 before (1 batch), 0.0 after (1 batch).",
	"Better with a chance of 95 %; likely between 1.0 heavier and 9.5 lighter.", "cannot be told apart",
	"3 tasted batches more",
	"Promised when it was advised, by itself: from 5.0 to 2.5.", "Butter: a flaw in 1 of 1 before, 0 of 1 after",
	"fermenter F2: in 3 of 3 bad batches, 0 of 4 good ones. By chance alone this often: 6 %.",
};

START_TEST(trend_says)
{
	struct ab_trend t = full_trend();
	struct ab_look look = look_of(AB_TEXT);
	char *text = trend_of(&t, 1, &look);
	has("trend", text, trended[_i]);
	ab_report_free(text);
}
END_TEST

START_TEST(trend_edges)
{
	struct ab_trend t = full_trend();
	struct ab_look look = look_of(AB_TEXT);
	struct ab_trend_change later = compared[0];
	later.n_after = 0;
	later.p_better = later.after = (double)NAN;
	later.more_needed = SIZE_MAX;
	later.together = false;
	t.changes = &later;
	t.slope_per_batch = (double)NAN;
	t.n_common = 0;
	char *text = trend_of(&t, 0, &look);
	has("nothing since", text, "the question stays open");
	has("few", text, "2 batches tasted so far: from four on");
	lacks("no promise", text, "Promised");
	lacks("no side, no count", text, "0 of 0");
	lacks("no number of what is unknown", text, "nan");
	ab_report_free(text);
	t.slope_per_batch = t.slope_low = 0.2;
	t.slope_high = 0.4;
	text = trend_of(&t, 0, &look);
	has("worse is said, too", text, "Your beer is getting worse");
	ab_report_free(text);
	look.format = AB_JSON;
	text = trend_of(&t, 0, &look);
	has("unknown is null", text, "\"p_better\": null");
	has("untold is null", text, "\"more_needed\": null");
	ab_report_free(text);
}
END_TEST

/* ---- rules ---- */

START_TEST(rules_edges)
{
	struct ab_look look = look_of(AB_TEXT);
	struct ab_diag diag;
	char *text;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_list(&k, "sins", &look, &text, &diag), AB_EUSAGE);
	has("kinds", diag.text, "faults, causes, changes");
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_explain(&k, "nothing", &look, &text, &diag), AB_EUSAGE);
	ck_assert_ptr_null(text);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_rules_list(&k, "faults", &look, &text, &diag), AB_OK);
	has("faults", text, "butter  Butter");
	lacks("only faults", text, "Too warm");
	ab_report_free(text);
}
END_TEST

/* ---- whatever allocation fails ---- */

static enum ab_status every_report(enum ab_format format, struct ab_diag *diag)
{
	struct ab_diagnosis d = full_diagnosis();
	struct ab_case c = full_case(&d), *cases[] = { &c };
	struct ab_advice a = full_advice();
	struct ab_trend t = full_trend();
	struct ab_look look = look_of(format);
	char *text;
	enum ab_status st = ab_report_diagnoses(&k, cases, 1, NULL, &look, &text, diag);
	ab_report_free(text);
	if (st == AB_OK) {
		st = ab_report_facts(&k, cases, 1, &look, &text, diag);
		ab_report_free(text);
	}
	if (st == AB_OK) {
		st = ab_report_advice(&k, &a, &look, &text, diag);
		ab_report_free(text);
	}
	if (st == AB_OK) {
		st = ab_report_trend(&k, batches, 3, &t, promises, 1, &look, &text, diag);
		ab_report_free(text);
	}
	if (st == AB_OK) {
		st = ab_report_rules_list(&k, NULL, &look, &text, diag);
		ab_report_free(text);
	}
	return st;
}

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 20000; at += 1 + at / 200) {
		struct ab_diag diag;
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = every_report((enum ab_format)_i, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && diag.status == AB_ENOMEM));
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

static void add_rows(TCase *tc)
{
	tcase_add_loop_test(tc, diagnosis_says, 0, sizeof said / sizeof *said);
	tcase_add_loop_test(tc, fact_rows, 0, sizeof fact_lines / sizeof *fact_lines);
	tcase_add_loop_test(tc, money_rows, 0, sizeof moneys / sizeof *moneys);
	tcase_add_loop_test(tc, number_rows, 0, sizeof numbers / sizeof *numbers);
	tcase_add_loop_test(tc, advice_says, 0, sizeof advised / sizeof *advised);
	tcase_add_loop_test(tc, trend_says, 0, sizeof trended / sizeof *trended);
	tcase_add_loop_test(tc, short_of_memory, AB_TEXT, AB_HTML + 1);
}

int main(void)
{
	Suite *s = suite_create("report");
	TCase *tc = tcase_create("report");
	json_set_alloc_funcs(ab_malloc, ab_free);
	add_rows(tc);
	tcase_add_test(tc, a_fear_is_not_found);
	tcase_add_test(tc, benign_is_said_first);
	tcase_add_test(tc, clean_and_untasted);
	tcase_add_test(tc, alarm_stands_first);
	tcase_add_test(tc, story_of_the_blamed_only);
	tcase_add_test(tc, idle_questions_are_not_asked);
	tcase_add_loop_test(tc, verdict_rows, 0, sizeof verdicts / sizeof *verdicts);
	tcase_add_test(tc, no_waiting_beside_an_alarm);
	tcase_add_test(tc, no_range_no_range);
	tcase_add_test(tc, diagnosis_as_data);
	tcase_add_test(tc, one_line_a_batch);
	tcase_add_test(tc, several_make_an_array);
	tcase_add_test(tc, html_holds_no_foreign_element);
	tcase_add_test(tc, advice_edges);
	tcase_add_loop_test(tc, left_over_rows, 0, sizeof left_over / sizeof *left_over);
	tcase_add_test(tc, running_cost_is_not_free);
	tcase_add_test(tc, trend_edges);
	tcase_add_test(tc, rules_edges);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
