/* check_saying.c - numbers, money, minutes, dates and lists as a brewer would say them, at the edges where rounding
 * and plural turn
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/saying.h"

#include <check.h>
#include <float.h>
#include <locale.h>
#include <math.h>
#include <string.h>

static struct ab_look look;
static struct page page;

static void begin(void)
{
	look = (struct ab_look){ .format = AB_TEXT, .width = 80, .currency = "$" };
	page_start(&page, &look, "t");
}

static void end(void)
{
	char *out;
	struct ab_diag diag;
	ab_diag_init(&diag);
	ck_assert_int_eq(page_finish(&page, &out, &diag), AB_OK);
	ab_report_free(out);
}

static void is(const char *title, const char *found, const char *want)
{
	ck_assert_msg(strcmp(found, want) == 0, "%s: \"%s\", wanted \"%s\"", title, found, want);
}

static const struct { const char *title; double x; int digits; const char *fixed, *shorter; } numbers[] = {
	{ "nothing", 0, 2, "0.00", "0" },
	{ "nothing, whole", 0, 0, "0", "0" },
	{ "minus nothing", -0.0, 1, "0.0", "0" },
	{ "half a unit goes up", 2.5, 0, "3", "3" },
	{ "half a unit below nothing goes away from it", -2.5, 0, "-3", "-3" },
	{ "just below half", 2.4999, 0, "2", "2" },
	{ "an eighth to two digits", 0.125, 2, "0.13", "0.13" },
	{ "carried into the next digit", 9.996, 2, "10.00", "10" },
	{ "carried to a whole", 0.99995, 4, "1.0000", "1" },
	{ "zeros kept or left out", 1.5, 3, "1.500", "1.5" },
	{ "zeros inside stay", 1.0305, 4, "1.0305", "1.0305" },
	{ "a leading zero behind the point", 3.05, 2, "3.05", "3.05" },
	{ "too small to see", 0.0004, 3, "0.000", "0" },
	{ "too small to see, below nothing", -0.0004, 3, "0.000", "0" },
	{ "large", 123456789, 1, "123456789.0", "123456789" },
	{ "unknown", NAN, 1, "unknown", "unknown" },
	{ "no limit", INFINITY, 1, "no limit", "no limit" },
	{ "no limit below", -INFINITY, 1, "unknown", "unknown" },
};

START_TEST(says_numbers)
{
	begin();
	is(numbers[_i].title, say_fixed(&page, numbers[_i].x, numbers[_i].digits), numbers[_i].fixed);
	is(numbers[_i].title, say_short(&page, numbers[_i].x, numbers[_i].digits), numbers[_i].shorter);
	end();
}
END_TEST

START_TEST(a_number_beyond_all_is_no_garbage)
{
	begin();
	is("beyond", say_fixed(&page, DBL_MAX, 2), "no limit");
	is("beyond, below", say_fixed(&page, -DBL_MAX, 2), "unknown");
	is("just within", say_fixed(&page, 1e12, 0), "1000000000000");
	end();
}
END_TEST

/* Where the decimal comma rules, the point is still a point. */
START_TEST(the_point_is_a_point)
{
	static const char *const commas[] = { "de_DE.UTF-8", "fr_FR.UTF-8", "de_DE" };
	for (size_t i = 0; i < sizeof commas / sizeof *commas && setlocale(LC_NUMERIC, commas[i]) == NULL; i++)
		;
	begin();
	is("fixed", say_fixed(&page, 1.5, 2), "1.50");
	is("short", say_short(&page, 1.5, 2), "1.5");
	is("money", say_money(&page, 1.5), "$1.50");
	is("minutes", say_minutes(&page, 150), "2.5 hours");
	end();
}
END_TEST

static const struct { const char *title; double share; const char *want; } percents[] = {
	{ "none", 0, "0 %" },
	{ "next to none", 1e-12, "under 1 %" },
	{ "below half a percent", 0.00499, "under 1 %" },
	{ "half a percent", 0.005, "1 %" },
	{ "one", 0.01, "1 %" },
	{ "half", 0.5, "50 %" },
	{ "halves go up", 0.125, "13 %" },
	{ "nearly all", 0.9949, "99 %" },
	{ "over that", 0.9951, "over 99 %" },
	{ "all", 1, "over 99 %" },
	{ "below none", -0.1, "0 %" },
	{ "unknown", NAN, "unknown" },
};

START_TEST(says_percents)
{
	begin();
	is(percents[_i].title, say_percent(&page, percents[_i].share), percents[_i].want);
	end();
}
END_TEST

static const struct { const char *title, *currency; double amount; const char *want; } moneys[] = {
	{ "a cent", "$", 0.01, "$0.01" },
	{ "a dime keeps its nought", "$", 0.1, "$0.10" },
	{ "less than half a cent over a whole", "$", 4.004, "$4" },
	{ "half a cent over", "$", 4.006, "$4.01" },
	{ "thousands", "$", 12345, "$12345" },
	{ "cents below nothing", "$", -4.25, "-$4.25" },
	{ "a code below nothing", "EUR", -4, "-4 EUR" },
	{ "a code in small letters", "kr", 9, "9 kr" },
	{ "one letter stands before", "R", 9, "R9" },
	{ "a sign of three bytes stands before", "\u20AC", 9.5, "\u20AC9.50" },
	{ "no limit below", "$", -INFINITY, "no limit" },
};

START_TEST(says_money)
{
	begin();
	look.currency = moneys[_i].currency;
	is(moneys[_i].title, say_money(&page, moneys[_i].amount), moneys[_i].want);
	end();
}
END_TEST

static const struct { const char *title; double minutes; const char *want; } minutes[] = {
	{ "none", 0, "no time" },
	{ "one", 1, "1 minute" },
	{ "half rounds up to one", 0.5, "1 minute" },
	{ "two", 1.5, "2 minutes" },
	{ "just under two hours", 119, "119 minutes" },
	{ "two hours", 120, "2 hours" },
	{ "hours to a tenth", 200, "3.3 hours" },
	{ "saved", -25, "-25 minutes" },
	{ "hours saved", -150, "-2.5 hours" },
	{ "no limit", INFINITY, "no limit" },
	{ "unknown", NAN, "unknown" },
};

START_TEST(says_minutes)
{
	begin();
	is(minutes[_i].title, say_minutes(&page, minutes[_i].minutes), minutes[_i].want);
	end();
}
END_TEST

static const struct { const char *title; double s; const char *want; } dates[] = {
	{ "the first day", 0, "1970-01-01" },
	{ "its last second", 86399, "1970-01-01" },
	{ "the next", 86400, "1970-01-02" },
	{ "a leap day", 951782400, "2000-02-29" },
	{ "the day before the first", -1, "1969-12-31" },
	{ "none", NAN, "no date" },
};

START_TEST(says_dates)
{
	begin();
	is(dates[_i].title, say_date(&page, dates[_i].s), dates[_i].want);
	end();
}
END_TEST

static const struct { const char *title; size_t n; const char *want; } lists[] = {
	{ "one", 1, "a\n" }, { "two", 2, "a and b\n" }, { "three", 3, "a, b and c\n" },
	{ "four", 4, "a, b, c and d\n" },
};

START_TEST(says_lists)
{
	static const char *const words[] = { "a", "b", "c", "d" };
	char *out;
	struct ab_diag diag;
	begin();
	ab_diag_init(&diag);
	page_begin(&page, 0);
	for (size_t i = 0; i < lists[_i].n; i++)
		say_next(&page, PLAIN, i, lists[_i].n, words[i]);
	ck_assert_int_eq(page_finish(&page, &out, &diag), AB_OK);
	is(lists[_i].title, out, lists[_i].want);
	ab_report_free(out);
}
END_TEST

START_TEST(counts_and_origins)
{
	begin();
	is("none", say_count(&page, 0, "batch", "batches"), "0 batches");
	is("one", say_count(&page, 1, "batch", "batches"), "1 batch");
	is("more", say_count(&page, 2, "batch", "batches"), "2 batches");
	is("not known", say_origin(AB_ORIGIN_UNKNOWN), "unknown");
	is("the last", say_origin(AB_ORIGIN_ASSUMED), "assumed");
	end();
}
END_TEST

/* Worked by hand from NIST's factors: 1.8 C + 32, 14.5038 psi a bar, 25.4 mm an inch, 3.7854 L a gallon. */
static const struct { const char *title, *words, *want; } us_words[] = {
	{ "a temperature", "Above about 69 C the enzyme dies.", "Above about 156 F the enzyme dies." },
	{ "a range", "then mash at 64 to 67 C.", "then mash at 147 to 153 F." },
	{ "another range", "between 60 and 20 C bacteria grow", "between 140 and 68 F bacteria grow" },
	{ "freezing", "right at 0 C.", "right at 32 F." },
	{ "a difference has no zero to move", "more than 4 K between day and night",
	    "more than 7 F degrees between day and night" },
	{ "pressure and temperature", "0.83 bar at 3 C are", "12 psi at 37 F are" },
	{ "a length", "leave 20 to 25 mm;", "leave 0.8 to 1 in;" },
	{ "a volume", "about 1.3 L of air", "about 0.3 gal of air" },
	{ "said in both already", "read 0 C (32 F) in ice water", "read 32 F in ice water" },
	{ "degrees of difference", "Two more: 2 or 3 degrees, or the last 10 degrees.",
	    "Two more: 4 or 5 F degrees, or the last 18 F degrees." },
	{ "degrees of another scale", "falls by 1 to 2 degrees Plato", "falls by 1 to 2 degrees Plato" },
	{ "brackets", "in ice water (0 C)", "in ice water (32 F)" },
	{ "a concentration stays", "20 mL of 4 g/L and 2 mg/L, 3 L/min", "20 mL of 4 g/L and 2 mg/L, 3 L/min" },
	{ "no number", "Cool it.", "Cool it." },
	{ "a word that begins with a unit", "5 Cans and 3 Lagers", "5 Cans and 3 Lagers" },
	{ "a gravity and a pH", "1.010, and pH 5.8", "1.010, and pH 5.8" },
	{ "a number inside a word", "E10 C", "E10 C" },
	{ "numbers in a row", "2 to 3 times at 20 C", "2 to 3 times at 68 F" },
};

START_TEST(says_words_of_the_rules)
{
	begin();
	is(us_words[_i].title, say_words(&page, us_words[_i].words), us_words[_i].words);
	look.us_units = true;
	is(us_words[_i].title, say_words(&page, us_words[_i].words), us_words[_i].want);
	end();
}
END_TEST

/* A figure in a sentence: three digits that count, a gravity with its four places. */
static const struct { const char *title, *unit; double value; const char *want, *us; } figures[] = {
	{ "temperature", "C", 18.04, "a fact: 18 C", "a fact: 64.5 F" },
	{ "difference", "K", 4.13, "a fact: 4.1 K", "a fact: 7.4 F degrees" },
	{ "gravity", "SG", 1.01, "a fact: 1.0100 SG", "a fact: 1.0100 SG" },
	{ "two digits", "mg/L", 1.057, "a fact: 1.06 mg/L", "a fact: 1.06 mg/L" },
	{ "one digit", "mg/L", 10.57, "a fact: 10.6 mg/L", "a fact: 10.6 mg/L" },
	{ "none", "mg/L", 105.7, "a fact: 106 mg/L", "a fact: 106 mg/L" },
	{ "no unit", "count", 3, "a fact: 3", "a fact: 3" },
};

START_TEST(says_figures)
{
	const struct ab_fact_def def = {
		.name = "f", .kind = AB_FACT_NUMBER, .unit = figures[_i].unit, .title = "a fact"
	};
	const struct ab_fact fact = { .origin = AB_ORIGIN_MEASURED, .value = figures[_i].value };

	begin();
	is(figures[_i].title, say_figure(&page, &def, &fact), figures[_i].want);
	look.us_units = true;
	is(figures[_i].title, say_figure(&page, &def, &fact), figures[_i].us);
	end();
}
END_TEST

int main(void)
{
	Suite *s = suite_create("saying");
	TCase *tc = tcase_create("saying");
	tcase_add_loop_test(tc, says_words_of_the_rules, 0, sizeof us_words / sizeof *us_words);
	tcase_add_loop_test(tc, says_figures, 0, sizeof figures / sizeof *figures);
	tcase_add_loop_test(tc, says_numbers, 0, sizeof numbers / sizeof *numbers);
	tcase_add_test(tc, a_number_beyond_all_is_no_garbage);
	tcase_add_test(tc, the_point_is_a_point);
	tcase_add_loop_test(tc, says_percents, 0, sizeof percents / sizeof *percents);
	tcase_add_loop_test(tc, says_money, 0, sizeof moneys / sizeof *moneys);
	tcase_add_loop_test(tc, says_minutes, 0, sizeof minutes / sizeof *minutes);
	tcase_add_loop_test(tc, says_dates, 0, sizeof dates / sizeof *dates);
	tcase_add_loop_test(tc, says_lists, 0, sizeof lists / sizeof *lists);
	tcase_add_test(tc, counts_and_origins);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
