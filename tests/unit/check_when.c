/* check_when.c - dates, times of day and times since pitching
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/when.h>

#include <check.h>
#include <stdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/plain.h"

#define DAY 86400.0

/* Seconds from the days of the calendar; POSIX gives 2000-03-01 as day 11017. */
static const struct { const char *text; double s; int relative, date_only; } reads[] = {
	{ "1970-01-01T00:00", 0, 0, 0 },
	{ "1970-01-01", 43200, 0, 1 },
	{ "1970-01-02 00:01", 86460, 0, 0 },
	{ "1969-12-31T23:59", -60, 0, 0 },
	{ "2000-02-29", 11016 * DAY + 43200, 0, 1 },
	{ "2000-03-01T00:00", 11017 * DAY, 0, 0 },
	{ "1900-01-01T00:00", -25567 * DAY, 0, 0 },
	{ "2999-12-31T23:59", 376200 * DAY - 60, 0, 0 },
	{ "2031-03-07T15:30", 22345 * DAY + 15.5 * 3600, 0, 0 },
	{ "  2031-03-07\n", 22345 * DAY + 43200, 0, 1 },
	{ "+3d 4h", 273600, 1, 0 },
	{ "+90 min", 5400, 1, 0 },
	{ "+0h", 0, 1, 0 },
	{ "+1.5d", 129600, 1, 0 },
	{ "+2wk", 14 * DAY, 1, 0 },
	{ "package+14d", 14 * DAY, 1, 0 },
	{ " Bottling +1d 12h", 36 * 3600, 1, 0 },
};

START_TEST(read_rows)
{
	struct ab_when w;
	char why[400];
	const char *t = reads[_i].text;
	ck_assert_msg(ab_when_read(t, &w, why, sizeof why), "%s: %s", t, why);
	ck_assert_msg(w.known, "%s", t);
	ck_assert_msg(w.s == reads[_i].s, "%s: %.17g", t, w.s);
	ck_assert_msg(w.relative == reads[_i].relative && w.date_only == reads[_i].date_only, "%s", t);
}
END_TEST

static const struct { const char *text, *says; } refused[] = {
	{ "", "no date" },
	{ "yesterday", "no date" },
	{ "package", "no date" },
	{ "tasting+3d", "no date" },
	{ "package+3", "starts like a time" },
	{ "package-3d", "no date" },
	{ "package+ 3d", "starts like a time" },
	{ "2031-3-7", "no date" },
	{ "07.03.2031", "no date" },
	{ "03/07/2031", "no date" },
	{ "2031-03-07T", "no date" },
	{ "2031-03-07T15", "no date" },
	{ "2031-03-07T15:30:00", "no date" },
	{ "2031-03-07T15:30Z", "no date" },
	{ "2031-03-07T15:30+01:00", "no date" },
	{ "2031-03-07  15:30", "no date" },
	{ "2031-03-07x15:30", "no date" },
	{ "20310307", "no date" },
	{ "-2031-03-07", "no date" },
	{ "2031-13-01", "month" },
	{ "2031-00-01", "month" },
	{ "2031-04-31", "day" },
	{ "2031-04-00", "day" },
	{ "2031-02-29", "day" },
	{ "2100-02-29", "day" },
	{ "1899-12-31", "year" },
	{ "3000-01-01", "year" },
	{ "0000-01-01", "year" },
	{ "2031-03-07T24:00", "time of day" },
	{ "2031-03-07T15:60", "time of day" },
	{ "+", "since pitching" },
	{ "+3", "since pitching" },
	{ "+-3d", "since pitching" },
	{ "++3d", "since pitching" },
	{ "+ 3d", "since pitching" },
	{ "+4h 3d", "since pitching" },
	{ "-3d", "no date" },
	{ "3d", "no date" },
	{ "+3 L", "since pitching" },
	{ "2031-03-07\x1b[2J", "?[2J" },
	{ "+1111111111111111111111111111111111111111111111111111111111111111111111111111111111111111111111h",
	    "too long" },
};

START_TEST(refused_rows)
{
	struct ab_when w = { .s = -7 };
	char why[400] = "";
	const char *t = refused[_i].text;
	ck_assert_msg(!ab_when_read(t, &w, why, sizeof why), "\"%s\" was read as %g", t, w.s);
	ck_assert_msg(strstr(why, refused[_i].says) != NULL, "\"%s\": %s", t, why);
	ck_assert_msg(strstr(why, "2031-03-07T15:30") != NULL, "no example in: %s", why);
	ck_assert_msg(w.s == -7 && !w.known, "%s: touched", t);
}
END_TEST

static bool same(const struct ab_when *a, const struct ab_when *b)
{
	return a->known == b->known && a->relative == b->relative && a->packaged == b->packaged &&
	    a->date_only == b->date_only && memcmp(&a->s, &b->s, sizeof a->s) == 0;
}

/* Hours since pitching take a shorter way than what has a blank around it: both must end on the same bits. */
START_TEST(both_ways_agree)
{
	static const char *const numbers[] = { "0", "4", "118", "007", "999999", "1000000", "0000118", "1.5", ".5" };
	static const char *const units[] = { "s", "min", "h", "d", "wk", "mo", "y" };
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
		for (size_t u = 0; u < sizeof units / sizeof *units; u++) {
			char text[40], blank[40], why[400];
			struct ab_when a, b, plain = { .s = -7 };
			snprintf(text, sizeof text, "+%s%s", numbers[i], units[u]);
			snprintf(blank, sizeof blank, " +%s%s", numbers[i], units[u]);
			ck_assert_msg(ab_when_read(text, &a, why, sizeof why), "%s: %s", text, why);
			ck_assert_msg(ab_when_read(blank, &b, why, sizeof why), "%s: %s", text, why);
			ck_assert_msg(same(&a, &b), "%s: %.17g and %.17g", text, a.s, b.s);
			bool short_way = ab_when_plain(text, &plain);
			ck_assert_msg(short_way == (i < 5 && (u == 2 || u == 3)), "%s", text);
			ck_assert_msg(short_way ? same(&plain, &b) : plain.s == -7 && !plain.known, "%s", text);
		}
}
END_TEST

/* What only begins like it is left to the longer way, untouched. */
START_TEST(not_plain)
{
	static const char *const others[] = { "", "+", "+h", "+d", "118h", "+118", "+118 h", "+118H", "+118hh",
		"+118h ", " +118h", "+-1h", "++1h", "+3d 4h", "+3d4h", "+1,5h", "package+3d", "2031-03-07" };
	for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
		struct ab_when w = { .s = -7 };
		ck_assert_msg(!ab_when_plain(others[i], &w), "\"%s\"", others[i]);
		ck_assert_msg(w.s == -7 && !w.known, "\"%s\": touched", others[i]);
	}
}
END_TEST

/* Day after day through eleven centuries, counted the slow way. */
START_TEST(every_day)
{
	static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
	double s = ab_when_from_civil(1900, 1, 1);
	for (int y = 1900; y < 3000; y++)
		for (int m = 1; m <= 12; m++) {
			int n = days[m - 1] + (m == 2 && ((y % 4 == 0 && y % 100 != 0) || y % 400 == 0));
			for (int d = 1; d <= n; d++, s += DAY) {
				int yy, mm, dd;
				if (ab_when_from_civil(y, m, d) != s)
					ck_abort_msg("%d-%d-%d is not %g", y, m, d, s);
				ab_when_to_civil(s + DAY - 1, &yy, &mm, &dd);
				if (yy != y || mm != m || dd != d)
					ck_abort_msg("%d-%d-%d came back as %d-%d-%d", y, m, d, yy, mm, dd);
			}
		}
	ck_assert(s == ab_when_from_civil(3000, 1, 1));
}
END_TEST

/* libc's calendar in UTC as a second opinion. */
START_TEST(as_libc)
{
	for (long long t = -2208988800LL; t < 32503680000LL; t += 86400LL * 97 + 3607) {
		time_t clock = (time_t)t;
		struct tm tm;
		int y, m, d;
		ck_assert_ptr_nonnull(gmtime_r(&clock, &tm));
		ab_when_to_civil((double)t, &y, &m, &d);
		ck_assert_msg(
		    y == tm.tm_year + 1900 && m == tm.tm_mon + 1 && d == tm.tm_mday, "%lld: %d-%d-%d", t, y, m, d);
	}
}
END_TEST

static const struct { const char *text, *written; } writes[] = {
	{ "2031-03-07", "2031-03-07" },
	{ "2031-03-07 15:30", "2031-03-07T15:30" },
	{ "1969-12-31T23:59", "1969-12-31T23:59" },
	{ "1900-01-01T00:00", "1900-01-01T00:00" },
	{ "2999-12-31T23:59", "2999-12-31T23:59" },
	{ "+3d 4h", "+3d 4h" },
	{ "+76 h", "+3d 4h" },
	{ "bottling +76 h", "package+3d 4h" },
	{ "+90min", "+1h 30min" },
	{ "+1d 5min", "+1d 5min" },
	{ "+0d", "+0min" },
	{ "+20 s", "+0min" },
	{ "+24h", "+1d" },
};

START_TEST(write_rows)
{
	struct ab_when w, again;
	char buf[20], why[400];
	ck_assert(ab_when_read(writes[_i].text, &w, why, sizeof why));
	ck_assert_str_eq(ab_when_write(&w, buf, sizeof buf), writes[_i].written);
	ck_assert_msg(ab_when_read(buf, &again, why, sizeof why), "%s: %s", buf, why);
	ck_assert(again.relative == w.relative && again.date_only == w.date_only);
}
END_TEST

/* Of moments on one clock; a day of packaging that nobody tells makes one of its own. */
START_TEST(apart)
{
	const double d = 86400;
	const struct ab_when day = { .known = true, .s = 10 * d }, later = { .known = true, .s = 12 * d },
	    pitch = { .known = true, .relative = true, .s = 12 * d },
	    package = { .relative = true, .packaged = true, .s = 3 * d },
	    older = { .relative = true, .packaged = true, .s = 4 * d }, none = { .known = false };
	ck_assert_double_eq(ab_when_apart(&day, &later), 2 * d);
	ck_assert_double_eq(ab_when_apart(&later, &day), -2 * d);
	ck_assert_double_eq(ab_when_apart(&package, &older), d);
	ck_assert(isnan(ab_when_apart(&day, &pitch)));
	ck_assert(isnan(ab_when_apart(&day, &package)) && isnan(ab_when_apart(&package, &pitch)));
	ck_assert(isnan(ab_when_apart(&day, &none)) && isnan(ab_when_apart(&none, &none)));
}
END_TEST

START_TEST(write_fits)
{
	struct ab_when far = { .known = true, .relative = true, .s = 1e15 + 59 };
	for (size_t size = 1; size <= 20; size++) {
		char buf[24];
		memset(buf, 'x', sizeof buf);
		ab_when_write(&far, buf, size);
		ck_assert_uint_lt(strlen(buf), size);
		ck_assert_int_eq(buf[size], 'x');
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("when");
	TCase *tc = tcase_create("when");
	tcase_add_loop_test(tc, read_rows, 0, sizeof reads / sizeof *reads);
	tcase_add_loop_test(tc, refused_rows, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, both_ways_agree);
	tcase_add_test(tc, not_plain);
	tcase_add_test(tc, every_day);
	tcase_add_test(tc, as_libc);
	tcase_add_loop_test(tc, write_rows, 0, sizeof writes / sizeof *writes);
	tcase_add_test(tc, write_fits);
	tcase_add_test(tc, apart);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
