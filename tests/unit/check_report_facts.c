/* check_report_facts.c - facts on the screen in metric and US units, their trust and origin; and as data, always in
 * the units of the rules
 *
 * Factors of US units: NIST SP 811 (2008), appendix B: 1 gal = 3.785412 L, 1 in = 25.4 mm, 1 psi = 6.894757 kPa, F
 * = 1.8 C + 32.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <string.h>

#include "base/alloc.h"

/* ---- units: the same fact twice, figures worked out by hand ---- */

static const struct { const char *title; int slot; double value, u; const char *metric, *us; } units[] = {
	{ "a temperature", RC_TEMP, 20, 0.5, "w.temp = 20 +- 0.5 C:", "w.temp = 68 +- 0.9 F:" },
	{ "freezing", RC_TEMP, 0, 0, "w.temp = 0 C:", "w.temp = 32 F:" },
	{ "a temperature to a tenth", RC_TEMP, 18.26, 0, "w.temp = 18.3 C:", "w.temp = 64.9 F:" },
	{ "a difference has no offset", RC_OVER, -2, 1, "w.over = -2 +- 1 K:", "w.over = -3.6 +- 1.8 F degrees:" },
	{ "a volume", RC_VOLUME, 19, 0.2, "w.volume = 19 +- 0.2 L:", "w.volume = 5.02 +- 0.05 gal:" },
	{ "a height", RC_HEIGHT, 25.4, 5, "w.height = 25.4 +- 5 mm:", "w.height = 1 +- 0.2 in:" },
	{ "a pressure", RC_PRESSURE, 300, 10, "w.pressure = 3 +- 0.1 bar:", "w.pressure = 43.5 +- 1.5 psi:" },
	{ "a share", RC_SHARE, 0.625, 0.05, "w.share = 63 +- 5 %:", "w.share = 63 +- 5 %:" },
	{ "a gravity keeps its four digits", RC_SG, 1.01, 0.0006, "w.sg = 1.0100 +- 0.0006 SG:",
	    "w.sg = 1.0100 +- 0.0006 SG:" },
	{ "a count has no unit", RC_COUNT, 3, 0, "w.count = 3: a count", "w.count = 3: a count" },
	{ "points", RC_POINTS, 4.26, 0.5, "w.points = 4.3 +- 0.5 points:", "w.points = 4.3 +- 0.5 points:" },
	{ "a unit of no row stays as it is", RC_PPM, 1.256, 0.25, "w.ppm = 1.26 +- 0.25 mg/L:",
	    "w.ppm = 1.26 +- 0.25 mg/L:" },
	{ "tens to a tenth", RC_PPM, 12.345, 0.25, "w.ppm = 12.3 +- 0.3 mg/L:", "w.ppm = 12.3 +- 0.3 mg/L:" },
	{ "hundreds to the whole", RC_PPM, 145.67, 22.53, "w.ppm = 146 +- 23 mg/L:", "w.ppm = 146 +- 23 mg/L:" },
	{ "less than hundreds", RC_PPM, -145.67, 0.2, "w.ppm = -146 mg/L:", "w.ppm = -146 mg/L:" },
	{ "a spread that rounds to nothing is none", RC_TEMP, 20, 0.04, "w.temp = 20 C:", "w.temp = 68 +- 0.1 F:" },
	{ "yes", RC_FLAG, 1, 0, "w.flag = yes: a flag", "w.flag = yes: a flag" },
	{ "no", RC_FLAG, 0, 0, "w.flag = no: not \"a flag\"", "w.flag = no: not \"a flag\"" },
	{ "a flag has no spread", RC_FLAG, 1, 0.5, "w.flag = yes: a flag", "w.flag = yes: a flag" },
	{ "the first word", RC_PLACE, 0, 0, "w.place = cellar: a place", "w.place = cellar: a place" },
	{ "the last word", RC_PLACE, 2, 0, "w.place = shed: a place", "w.place = shed: a place" },
};

START_TEST(in_both_units)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	rc_facts[units[_i].slot] =
	    (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = units[_i].value, .u = units[_i].u };
	for (int us = 0; us < 2; us++) {
		look.us_units = us;
		char *text = rc_facts_of(&c, &look);
		rc_has(units[_i].title, text, us ? units[_i].us : units[_i].metric);
		rc_has("one of all", text, "1 of 12 facts are known");
		ab_report_free(text);
	}
	look.unicode = true;
	char *text = rc_facts_of(&c, &look);
	rc_lacks("the sign where it can be shown", text, "+-");
	ab_report_free(text);
}
END_TEST

/* As data a fact is in the unit of the rules, whatever the brewer reads. */
START_TEST(data_know_no_us_units)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_JSON);
	rc_case(&c, &d);
	rc_facts[units[_i].slot] =
	    (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = units[_i].value, .u = units[_i].u };
	look.us_units = true;
	json_t *root = rc_json(rc_facts_of(&c, &look)), *facts = json_object_get(root, "facts"),
	       *one = json_array_get(facts, 0), *value = json_object_get(one, "value");
	const struct ab_fact_def *def = &rc_rules.facts->defs[units[_i].slot];
	ck_assert_uint_eq(json_array_size(facts), 1);
	ck_assert_str_eq(rc_keys(one), "name value unit origin u grade guess lines working");
	ck_assert_str_eq(json_string_value(json_object_get(one, "unit")), def->unit);
	if (def->kind == AB_FACT_NUMBER)
		ck_assert_msg(json_is_real(value) && json_real_value(value) == units[_i].value, "%s", units[_i].title);
	else if (def->kind == AB_FACT_FLAG)
		ck_assert_msg(
		    json_is_boolean(value) && json_is_true(value) == (units[_i].value > 0), "%s", units[_i].title);
	else
		ck_assert_msg(json_is_string(value) &&
			strcmp(json_string_value(value), def->words[(int)units[_i].value]) == 0,
		    "%s", units[_i].title);
	json_decref(root);
}
END_TEST

/* Workings in both units; the factors are those at the top, and 1 oz = 28.349523 g, 1 US fl oz = 29.57353 mL,
 * 1 ft = 0.3048 m. What is no quantity stays. */
static const struct { const char *title, *kept, *metric, *us; } workings[] = {
	{ "temperatures", "(24.1 C, mean of 5) - (20.0 C, top)", "(24.1 C, mean of 5) - (20.0 C, top)",
	  "(75.4 F, mean of 5) - (68.0 F, top)" },
	{ "below freezing", "-1.0 C at night", "-1.0 C at night", "30.2 F at night" },
	{ "differences", "falls by 5.0 K and rises by 2.5 K within 24 h",
	    "falls by 5.0 K and rises by 2.5 K within 24 h",
	  "falls by 9.0 F degrees and rises by 4.5 F degrees within 24 h" },
	{ "volume and mass", "120 g x 1.00 in 19.0 L", "120 g x 1.00 in 19.0 L", "4.23 oz x 1.00 in 5.02 gal" },
	{ "pressure", "189 kPa of the 300 kPa it bears", "1.89 bar of the 3.00 bar it bears",
	    "27.4 psi of the 43.5 psi it bears" },
	{ "lengths", "1.0 m of line; 4.2 m of 6.4 mm bore", "1.0 m of line; 4.2 m of 6.4 mm bore",
	  "3.3 ft of line; 13.8 ft of 0.252 in bore" },
	{ "a neck", "25 mm are about 7 mL of neck", "25 mm are about 7 mL of neck",
	    "0.98 in are about 0.2 fl oz of neck" },
	{ "a rate", "1.50 from 6.0 g/L priming", "1.50 from 6.0 g/L priming", "1.50 from 0.80 oz/gal priming" },
	{ "at the end, before a point", "warm at 20 C.", "warm at 20 C.", "warm at 68 F." },
	{ "what the whole trade says alike", "8.0 mg/L at 11.6 P, 2.40 vol, 1.0120, 76 %, 1.5 h",
	    "8.0 mg/L at 11.6 P, 2.40 vol, 1.0120, 76 %, 1.5 h",
	  "8.0 mg/L at 11.6 P, 2.40 vol, 1.0120, 76 %, 1.5 h" },
	{ "a word that begins like a unit", "3 Cans and 2 Kegs, 5 grams, 1.393^20 C",
	    "3 Cans and 2 Kegs, 5 grams, 1.393^20 C",
	  "3 Cans and 2 Kegs, 5 grams, 1.393^20 C" },
	{ "nothing", "", "", "" }, { "a lone number", "7", "7", "7" },
};

START_TEST(workings_in_both_units)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	look.width = 200;
	rc_facts[RC_COUNT] =
	    (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .grade = 'A', .working = workings[_i].kept };
	for (int us = 0; us < 2; us++) {
		look.us_units = us;
		char *text = rc_facts_of(&c, &look);
		rc_has(workings[_i].title, text, us ? workings[_i].us : workings[_i].metric);
		ab_report_free(text);
	}
	look.format = AB_JSON;
	json_t *root = rc_json(rc_facts_of(&c, &look)), *one = json_array_get(json_object_get(root, "facts"), 0);
	ck_assert_str_eq(json_string_value(json_object_get(one, "working")), workings[_i].kept);
	json_decref(root);
}
END_TEST

/* ---- where it comes from, and how far to trust it ---- */

static const struct { const char *title; struct ab_fact fact; const char *want, *grade; size_t lines; } origins[] = {
	{ "a reading", { .origin = AB_ORIGIN_MEASURED, .lines = { 4 } }, "(measured, as read, line 4)", NULL, 1 },
	{ "two lines", { .origin = AB_ORIGIN_DERIVED, .grade = 'A', .lines = { 4, 7 } },
	    "(derived, grade A, lines 4, 7)", "A", 2 },
	{ "as many lines as there is room for",
	    { .origin = AB_ORIGIN_DERIVED, .grade = 'B', .lines = { 1, 2, 3, 4, 5, 6 } },
	    "(derived, grade B, lines 1, 2, 3, 4, 5, 6)", "B", 6 },
	{ "a rule of thumb", { .origin = AB_ORIGIN_DERIVED, .grade = 'C' }, "(derived, rule of thumb)", "C", 0 },
	{ "a guess", { .origin = AB_ORIGIN_USUAL, .guess = true }, "(usual, a guess, as read)", NULL, 0 },
	{ "the model's own", { .origin = AB_ORIGIN_ASSUMED, .grade = 'B' }, "(assumed, grade B)", "B", 0 },
};

START_TEST(where_from)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	rc_facts[RC_COUNT] = origins[_i].fact;
	char *text = rc_facts_of(&c, &look);
	rc_has(origins[_i].title, text, origins[_i].want);
	ab_report_free(text);
	look.format = AB_JSON;
	json_t *root = rc_json(rc_facts_of(&c, &look)), *one = json_array_get(json_object_get(root, "facts"), 0),
	       *grade = json_object_get(one, "grade");
	ck_assert_uint_eq(json_array_size(json_object_get(one, "lines")), origins[_i].lines);
	ck_assert_int_eq(json_is_true(json_object_get(one, "guess")), origins[_i].fact.guess);
	ck_assert_msg(origins[_i].grade == NULL ? json_is_null(grade)
						: strcmp(json_string_value(grade), origins[_i].grade) == 0,
	    "%s", origins[_i].title);
	ck_assert(json_is_null(json_object_get(one, "working")));
	json_decref(root);
}
END_TEST

/* ---- the heading ---- */

static const struct { const char *title; struct ab_batch batch; const char *want; } headings[] = {
	{ "all known",
	    { .id = "b7", .line = "pale", .title = "Pale no. 7", .family = 1,
	    .brewed = { .known = true, .date_only = true } },
	    "Facts of batch b7, Pale no. 7, line pale, brewed 1970-01-01, family " },
	{ "no title", { .id = "b7", .line = "pale", .brewed = { .known = true, .date_only = true } },
	    "Facts of batch b7, pale, brewed" },
	{ "title, no line", { .id = "b7", .title = "Pale", .brewed = { .known = true, .date_only = true } },
	    "Facts of batch b7, Pale, brewed" },
	{ "neither", { .id = "b7", .brewed = { .known = true, .date_only = true } }, "Facts of batch b7, brewed" },
	{ "no date: a beer without a journal", { .id = "b7" }, "Facts, no style family given" },
	{ "a time of day is left out", { .id = "b7", .brewed = { .known = true, .s = 3600 } },
	    "brewed 1970-01-01, no style" },
};

START_TEST(heading)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	rc_batch = headings[_i].batch;
	char *text = rc_facts_of(&c, &look);
	rc_has(headings[_i].title, text, headings[_i].want);
	ab_report_free(text);
	look.format = AB_HTML;
	text = rc_facts_of(&c, &look);
	ck_assert_uint_eq(rc_times(text, "<h1>"), 1);
	ab_report_free(text);
}
END_TEST

START_TEST(unknown_ones)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	rc_facts[RC_SG] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = 1.01 };
	look.verbose = true;
	char *text = rc_facts_of(&c, &look);
	ck_assert_uint_eq(rc_times(text, "w.sg"), 1);
	for (int i = 0; i < RC_FACTS; i++)
		rc_has("every fact", text, rc_rules.facts->defs[i].name);
	rc_before("known ones first", text, "w.sg = 1.0100", "w.temp: a temperature");
	ab_report_free(text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_facts");
	TCase *tc = tcase_create("report_facts");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, workings_in_both_units, 0, sizeof workings / sizeof *workings);
	tcase_add_loop_test(tc, in_both_units, 0, sizeof units / sizeof *units);
	tcase_add_loop_test(tc, data_know_no_us_units, 0, sizeof units / sizeof *units);
	tcase_add_loop_test(tc, where_from, 0, sizeof origins / sizeof *origins);
	tcase_add_loop_test(tc, heading, 0, sizeof headings / sizeof *headings);
	tcase_add_test(tc, unknown_ones);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
