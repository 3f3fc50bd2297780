/* check_dated.c - which days are ahead by mistake, and which are a clock that is off or a story
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/dated.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>

#include <afterboil/when.h>

enum { DAY = 86400, MOST = 5 };

static double year(int y)
{
	return ab_when_from_civil(y, 6, 1) + DAY / 2;
}

/* Years of the batches (0: day not known), the clock's (0: none), and up to which year a brewed and a planned one
 * may be dated; 9999: any. A week and a year are added to the clock, which the years round off. */
static const struct { const char *title; int batches[MOST], clock, brewed, planned; } rows[] = {
	{ "nothing", { 0 }, 2026, 9999, 9999 },
	{ "days not known", { 0, 0, 0 }, 2026, 9999, 9999 },
	{ "all behind the clock", { 2024, 2025, 2026 }, 2026, 2026, 2027 },
	{ "one mistyped by a hundred years", { 2024, 2025, 2126 }, 2026, 2026, 2027 },
	{ "one mistyped by ten", { 2024, 2025, 2036 }, 2026, 2026, 2027 },
	{ "one of two", { 2025, 2126 }, 2026, 2026, 2027 },
	{ "two of four", { 2025, 2025, 2126, 2126 }, 2026, 2026, 2027 },
	{ "in any order", { 2126, 2024, 2025 }, 2026, 2026, 2027 },
	{ "one alone, by a hundred", { 2126 }, 2026, 2046, 2046 },
	{ "a clock set to nothing", { 2024, 2025, 2026 }, 1970, 2045, 2045 },
	{ "a story told ahead", { 2030, 2030, 2031, 2031 }, 2026, 2050, 2050 },
	{ "a story with a slip in it", { 2030, 2030, 2031, 2131 }, 2026, 2050, 2050 },
	{ "no clock", { 2024, 2025, 2126 }, 0, 2045, 2045 },
	{ "no clock and one alone", { 2126 }, 0, 9999, 9999 },
	{ "one not known beside", { 0, 2025, 2126 }, 2026, 2026, 2027 },
};

static int year_of(double s)
{
	return isinf(s) ? 9999 : (int)floor(s / (365.25 * DAY) + 1970);
}

START_TEST(limits)
{
	double days[MOST];
	size_t n = 0;

	for (; n < MOST &&
	     (rows[_i].batches[n] != 0 || (n + 1 < MOST && rows[_i].batches[n + 1] != 0) ||
		 (rows[_i].batches[0] == 0 && _i == 1 && n < 3));
	     n++)
		days[n] = rows[_i].batches[n] != 0 ? year(rows[_i].batches[n]) : (double)NAN;
	struct ab_dated is = ab_dated_limits(days, n, rows[_i].clock != 0 ? year(rows[_i].clock) : -INFINITY);
	ck_assert_msg(year_of(is.brewed_s) == rows[_i].brewed && year_of(is.planned_s) == rows[_i].planned,
	    "%s: %d, %d", rows[_i].title, year_of(is.brewed_s), year_of(is.planned_s));
}
END_TEST

/* A week and a year, to the day. */
START_TEST(to_the_day)
{
	double days[] = { year(2024), year(2025) }, today = year(2026);
	struct ab_dated is = ab_dated_limits(days, 2, today);

	ck_assert_double_eq(is.brewed_s, today + 7.0 * DAY);
	ck_assert_double_eq(is.planned_s, today + 366.0 * DAY);
}
END_TEST

/* What is behind the clock is never ahead, whatever else there is; and a later clock never takes a day back. */
START_TEST(behind_the_clock)
{
	srand(7);
	for (int round = 0; round < 2000; round++) {
		double days[MOST], again[MOST], newest = -INFINITY, clock = year(2000 + rand() % 60);
		size_t n = 1 + (size_t)rand() % MOST;

		for (size_t i = 0; i < n; i++) {
			again[i] = days[i] = year(2000 + rand() % 100);
			newest = days[i] <= clock ? fmax(newest, days[i]) : newest;
		}
		struct ab_dated is = ab_dated_limits(days, n, clock), later = ab_dated_limits(again, n, clock + 1e9);
		ck_assert(newest <= is.brewed_s && is.brewed_s <= is.planned_s);
		ck_assert(n == 1 || clock + 1e9 <= later.brewed_s);
		for (size_t i = 1; i < n; i++)
			ck_assert(days[i - 1] <= days[i]);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("dated");
	TCase *tc = tcase_create("dated");

	tcase_add_loop_test(tc, limits, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_test(tc, to_the_day);
	tcase_add_test(tc, behind_the_clock);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
