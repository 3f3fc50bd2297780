/* check_rough.c - amounts as people know them: what is read, how wide, what is a guess, what is refused
 *
 * The middle and half width are arithmetic of each row; 12 h for a night and 3 for a few are common practice. A
 * standard uncertainty of half a range is wider than that of an even spread, half / sqrt 3 (JCGM 100:2008, 4.3.7).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/rough.h"

#define H 3600.0
#define D 86400.0

static const struct { const char *text; enum ab_dim dim; double value, half; bool guess; } reads[] = {
	{ "16-27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "16 - 27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "16 to 27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "16 C to 27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "16\xE2\x80\x93" "27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "between 16 and 27 C", AB_DIM_TEMP, 21.5, 5.5, false },
	{ "about 16 to 27 C", AB_DIM_TEMP, 21.5, 5.5, true },
	{ "-2-4 C", AB_DIM_TEMP, 1, 3, false },
	{ "-2 to -1 C", AB_DIM_TEMP, -1.5, 0.5, false },
	{ "50-68 F", AB_DIM_TEMP, 15, 5, false },
	{ "1.016-1.020 SG", AB_DIM_GRAVITY, 1.018, 0.002, false },
	{ "14 or 16 points", AB_DIM_GRAVITY, 1.015, 0.001, false },
	{ "30-35 psi", AB_DIM_PRESSURE, 32.5 * 6.894757293168361, 2.5 * 6.894757293168361, false },
	{ "4.2-4.4", AB_DIM_PH, 4.3, 0.1, false },
	{ "2-3 d", AB_DIM_TIME, 2.5 * D, 0.5 * D, false },
	{ "2 to 3 weeks", AB_DIM_TIME, 17.5 * D, 3.5 * D, false },
	{ "3d 4h-5d", AB_DIM_TIME, 98 * H, 22 * H, false },
	{ "between one and two weeks", AB_DIM_TIME, NAN, 0, false },
	{ "20-20 L", AB_DIM_VOLUME, 20, 0, false },
	{ "about 18 C", AB_DIM_TEMP, 18, 0, true },
	{ "About 18 C", AB_DIM_TEMP, 18, 0, true },
	{ "~18 C", AB_DIM_TEMP, 18, 0, true },
	{ "~ 18 C", AB_DIM_TEMP, 18, 0, true },
	{ "ca. 18 C", AB_DIM_TEMP, 18, 0, true },
	{ "18 C or so", AB_DIM_TEMP, 18, 0, true },
	{ "  nearly 20 L ", AB_DIM_VOLUME, 20, 0, true },
	{ "overnight", AB_DIM_TIME, 12 * H, 0, true },
	{ "Over night", AB_DIM_TIME, 12 * H, 0, true },
	{ "a few days", AB_DIM_TIME, 3 * D, 0, true },
	{ "few days", AB_DIM_TIME, 3 * D, 0, true },
	{ "a couple of hours", AB_DIM_TIME, 2 * H, 0, true },
	{ "a week", AB_DIM_TIME, 7 * D, 0, true },
	{ "two weeks", AB_DIM_TIME, 14 * D, 0, true },
	{ "about two weeks", AB_DIM_TIME, 14 * D, 0, true },
	{ "half an hour", AB_DIM_TIME, H / 2, 0, true },
	{ "2 weeks", AB_DIM_TIME, 14 * D, 0, false },
	{ "90 minutes", AB_DIM_TIME, 1.5 * H, 0, false },
};

START_TEST(what_is_read)
{
	struct ab_rough r = { 0 };
	char why[300];
	bool got = ab_rough_read(reads[_i].text, reads[_i].dim, &r, why, sizeof why);

	if (isnan(reads[_i].value)) {
		ck_assert_msg(!got, "%s", reads[_i].text);
		return;
	}
	ck_assert_msg(got, "\"%s\" is not read: %s", reads[_i].text, why);
	ck_assert_msg(fabs(r.value - reads[_i].value) < 1e-9 * fmax(1, fabs(reads[_i].value)), "\"%s\": %.12g",
	    reads[_i].text, r.value);
	ck_assert_msg(r.guess == reads[_i].guess, "\"%s\": guess %d", reads[_i].text, r.guess);
	ck_assert_msg(fabs((r.high - r.low) / 2 - reads[_i].half) < 1e-9 * fmax(1, reads[_i].half),
	    "\"%s\": %g to %g", reads[_i].text, r.low, r.high);
	if (reads[_i].half > 0)
		ck_assert_msg(fabs(r.resolution / sqrt(12) - reads[_i].half) < 1e-9 * reads[_i].half,
		    "\"%s\": u %g", reads[_i].text, r.resolution / sqrt(12));
}
END_TEST

/* ---- bounds ---- */

/* How far beyond: 2 K, 3 points, 0.2 of pH, a quarter or a fifth; of a share half of what is left to the whole. */
static const struct {
	const char *text;
	enum ab_dim dim;
	double end, beyond;
	enum ab_bound bound;
	bool guess;
} sided[] = {
	{ "<15.5 C", AB_DIM_TEMP, 15.5, -2, AB_BOUND_UNDER, false },
	{ "\xE2\x89\xA4 15.5 C", AB_DIM_TEMP, 15.5, -2, AB_BOUND_UNDER, false },
	{ "below 15.5 C", AB_DIM_TEMP, 15.5, -2, AB_BOUND_UNDER, false },
	{ "under 18 C", AB_DIM_TEMP, 18, -2, AB_BOUND_UNDER, false },
	{ "18 C or below", AB_DIM_TEMP, 18, -2, AB_BOUND_UNDER, false },
	{ "over 25 C", AB_DIM_TEMP, 25, 2, AB_BOUND_OVER, false },
	{ "> 25 C", AB_DIM_TEMP, 25, 2, AB_BOUND_OVER, false },
	{ "over about 25 C", AB_DIM_TEMP, 25, 2, AB_BOUND_OVER, true },
	{ "about 25 C or above", AB_DIM_TEMP, 25, 2, AB_BOUND_OVER, true },
	{ "under 68 F", AB_DIM_TEMP, 20, -2, AB_BOUND_UNDER, false },
	{ "below 1.010 SG", AB_DIM_GRAVITY, 1.010, -0.003, AB_BOUND_UNDER, false },
	{ "above 4.4", AB_DIM_PH, 4.4, 0.2, AB_BOUND_OVER, false },
	{ "more than 3 wk", AB_DIM_TIME, 21 * D, 21 * D / 4, AB_BOUND_OVER, false },
	{ "more than three weeks", AB_DIM_TIME, 21 * D, 21 * D / 4, AB_BOUND_OVER, false },
	{ "3 weeks or more", AB_DIM_TIME, 21 * D, 21 * D / 4, AB_BOUND_OVER, false },
	{ "2 min or longer", AB_DIM_TIME, 120, 30, AB_BOUND_OVER, false },
	{ ">= 30 min", AB_DIM_TIME, H / 2, H / 8, AB_BOUND_OVER, false },
	{ "at least 2 wk", AB_DIM_TIME, 14 * D, 3.5 * D, AB_BOUND_OVER, false },
	{ "not more than 10 d", AB_DIM_TIME, 10 * D, -2 * D, AB_BOUND_UNDER, false },
	{ "less than an hour", AB_DIM_TIME, H, -H / 5, AB_BOUND_UNDER, false },
	{ "30 g or less", AB_DIM_MASS, 30, -6, AB_BOUND_UNDER, false },
	{ "at least 80 %", AB_DIM_SHARE, 0.8, 0.1, AB_BOUND_OVER, false },
	{ "over 20 %", AB_DIM_SHARE, 0.2, 0.05, AB_BOUND_OVER, false },
	{ "over 150 %", AB_DIM_SHARE, 1.5, 0.375, AB_BOUND_OVER, false },
	/* nothing lies beyond: a guess of the figure */
	{ "below 0 K", AB_DIM_TEMP_DIFF, 0, -2, AB_BOUND_UNDER, false },
	{ "over 1 K", AB_DIM_TEMP_DIFF, 1, 2, AB_BOUND_OVER, false },
	{ "under 0 L", AB_DIM_VOLUME, 0, 0, AB_BOUND_NONE, true },
	{ "at least 100 %", AB_DIM_SHARE, 1, 0, AB_BOUND_NONE, true },
};

START_TEST(a_side_is_told)
{
	struct ab_rough r = { 0 };
	char why[300];
	const char *text = sided[_i].text;
	double u = fabs(sided[_i].beyond), small = 1e-9 * fmax(1, fabs(sided[_i].end));

	ck_assert_msg(ab_rough_read(text, sided[_i].dim, &r, why, sizeof why), "\"%s\" is not read: %s", text, why);
	ck_assert_msg(fabs(r.value - sided[_i].end - sided[_i].beyond) < small, "\"%s\": %.12g", text, r.value);
	ck_assert_msg(fabs(r.low - sided[_i].end) < small && r.low >= r.high && r.low <= r.high, "\"%s\"", text);
	ck_assert_msg(r.bound == sided[_i].bound && r.guess == sided[_i].guess, "\"%s\": %d, guess %d", text,
	    (int)r.bound, r.guess);
	if (u > 0)
		ck_assert_msg(fabs(r.resolution / sqrt(12) - u) < small, "\"%s\": u %g", text, r.resolution / sqrt(12));
}
END_TEST

/* Mean and standard deviation of what lies beyond, by adding up slices of a falling density, to the end that is
 * possible (infinite: 60 scales). */
static void slices(double scale, double to, bool half_normal, double *mean, double *deviation)
{
	double step = fmin(to, 60 * scale) / 200000, sum = 0, first = 0, second = 0;

	for (int i = 0; i < 200000; i++) {
		double x = (i + 0.5) * step, z = x / scale, p = half_normal ? exp(-z * z / 2) : exp(-z);
		sum += p;
		first += p * x;
		second += p * x * x;
	}
	*mean = first / sum;
	*deviation = sqrt(second / sum - *mean * *mean);
}

/* "more than 3 weeks" and "less than an hour" against what is thought of how far beyond it was: an exponential (mean
 * and deviation are alike: Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions, from memory), which for
 * "less" ends at nothing; a half normal of the same mean is narrower, so the exponential is the careful one. */
START_TEST(beyond_as_an_exponential)
{
	struct ab_rough over, under;
	char why[300];
	double mean, u, half_mean, half_u;

	ck_assert(ab_rough_read("more than 3 wk", AB_DIM_TIME, &over, why, sizeof why));
	slices(21 * D / 4, INFINITY, false, &mean, &u);
	ck_assert_msg(fabs(over.value - 21 * D - mean) < 0.01 * mean, "mean %g d", mean / D);
	ck_assert_msg(fabs(over.resolution / sqrt(12) - u) < 0.01 * u, "u %g d", u / D);
	slices(21 * D / 4 * sqrt(acos(-1) / 2), INFINITY, true, &half_mean, &half_u);
	ck_assert_msg(fabs(half_mean - mean) < 0.01 * mean && half_u < u, "%g, %g d", half_mean / D, half_u / D);
	ck_assert(ab_rough_read("less than 1 h", AB_DIM_TIME, &under, why, sizeof why));
	slices(H / 4, H, false, &mean, &u);
	ck_assert_msg(fabs(H - under.value - mean) < 0.15 * mean, "mean %g h, not %g", mean / H, 1 - under.value / H);
	ck_assert_msg(fabs(under.resolution / sqrt(12) - u) < 0.15 * u, "u %g h", u / H);
}
END_TEST

/* Plain quantities are for ab_quantity_read, and what is no amount stays none. */
static const struct { const char *text; enum ab_dim dim; } none[] = {
	{ "18 C", AB_DIM_TEMP }, { "18", AB_DIM_TEMP }, { "about 18", AB_DIM_TEMP }, { "about", AB_DIM_TEMP },
	{ "warm", AB_DIM_TEMP }, { "", AB_DIM_TEMP },
	{ "-", AB_DIM_TEMP }, { "16-", AB_DIM_TEMP }, { "16-27", AB_DIM_TEMP }, { "16-27 L", AB_DIM_TEMP },
	{ "16 C-27", AB_DIM_TEMP }, { "a-b C", AB_DIM_TEMP },
	{ "16-20-27 C", AB_DIM_TEMP }, { "16 and 27 C", AB_DIM_TEMP }, { "between 16 to 27 C", AB_DIM_TEMP },
	{ "overnight", AB_DIM_TEMP },
	{ "1e-3 L", AB_DIM_VOLUME }, { "20 litres", AB_DIM_VOLUME }, { "1,5-2 L", AB_DIM_VOLUME },
	{ "about 20 L and more", AB_DIM_VOLUME },
	{ "some time", AB_DIM_TIME }, { "a", AB_DIM_TIME }, { "a few", AB_DIM_TIME }, { "weeks", AB_DIM_TIME },
	{ "aweek", AB_DIM_TIME }, { "2-3 fortnights", AB_DIM_TIME },
	{ "40-50", AB_DIM_MONEY }, { "about 40", AB_DIM_MONEY }, { "2-3", AB_DIM_NONE }, { "about 2", AB_DIM_NONE },
	{ "about 00000000000000000000000000000000000000000000000000000000000000018 C", AB_DIM_TEMP },
	{ "aboutabout 18 C", AB_DIM_TEMP }, { "overt 18 C", AB_DIM_TEMP },
};

START_TEST(what_is_none)
{
	struct ab_rough r;
	char why[300];

	ck_assert_msg(!ab_rough_read(none[_i].text, none[_i].dim, &r, why, sizeof why), "\"%s\" was read as %g",
	    none[_i].text, r.value);
	ck_assert_str_eq(why, "");
}
END_TEST

START_TEST(downwards_is_told)
{
	struct ab_rough r;
	char why[300], small[8];

	ck_assert(!ab_rough_read("27-16 C", AB_DIM_TEMP, &r, why, sizeof why));
	ck_assert_str_eq(why, "\"27-16 C\" runs from the larger to the smaller; write the smaller first");
	ck_assert(!ab_rough_read("27-16 C", AB_DIM_TEMP, &r, small, sizeof small));
	ck_assert_uint_eq(strlen(small), sizeof small - 1);
}
END_TEST

/* No text of these pieces makes it read beyond the text or say a number that is none. */
START_TEST(any_pieces)
{
	static const char *const pieces[] = { "about", "between", " ", "-", "16", "27", "C", "d", " to ", "a",
		"few", "week", "<", "over", "or more", "~", "or so", "and", ".", "\xE2\x80\x93", "\xFF", "night" };
	char text[120], why[40];
	struct ab_rough r;

	srand(7);
	for (int i = 0; i < 200000; i++) {
		text[0] = '\0';
		for (int n = rand() % 7; n >= 0; n--)
			strcat(strcat(text, pieces[(size_t)rand() % (sizeof pieces / sizeof *pieces)]),
			    rand() % 2 ? " " : "");
		for (int dim = AB_DIM_TEMP; dim <= AB_DIM_TIME; dim++)
			if (ab_rough_read(text, (enum ab_dim)dim, &r, why, sizeof why))
				ck_assert_msg(isfinite(r.value) && r.resolution >= 0 &&
					(r.bound == AB_BOUND_NONE ? r.low <= r.value && r.value <= r.high
					    : r.bound == AB_BOUND_OVER ? r.low < r.value : r.value < r.high),
				    "%s", text);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("rough");
	TCase *t = tcase_create("rough");
	SRunner *sr = srunner_create(s);

	tcase_add_loop_test(t, what_is_read, 0, sizeof reads / sizeof *reads);
	tcase_add_loop_test(t, a_side_is_told, 0, sizeof sided / sizeof *sided);
	tcase_add_test(t, beyond_as_an_exponential);
	tcase_add_loop_test(t, what_is_none, 0, sizeof none / sizeof *none);
	tcase_add_test(t, downwards_is_told);
	tcase_add_test(t, any_pieces);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
