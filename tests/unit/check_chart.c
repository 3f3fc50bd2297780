/* check_chart.c - is a habit steady or has it moved: levels, shifts, odd ones; and what must hold of any series
 *
 * Handbook examples and run lengths stand in tests/handbook/charts.t.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include <afterboil/chart.h>
#include "base/alloc.h"

static struct ab_arena *arena;
static struct ab_diag diag;

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void end(void)
{
	ab_arena_free(arena);
}

static struct ab_chart chart_of(const double *x, size_t n, double floor_sd)
{
	struct ab_chart c;
	ck_assert_int_eq(ab_chart_work(x, n, floor_sd, arena, &c, &diag), AB_OK);
	return c;
}

/* ---- stories: what a brewer would see at a glance ---- */

enum { MOST = 16 };
static const struct {
	const char *title;
	double x[MOST], floor_sd;
	size_t n, shifts, from;      /* from: of the first shift */
	double before, after, mean;
} stories[] = {
	{ "steady", { 19, 20, 18.5, 19.4, 20.2, 18.8, 19.1 }, 0, 7, 0, 0, 0, 0, 19.285714 },
	{ "the very same each time", { 20, 20, 20, 20, 20, 20 }, 0, 6, 0, 0, 0, 0, 20 },
	{ "the very same but for what a thermometer may err", { 20, 20, 20, 20.4, 20, 20 }, 0.5, 6, 0, 0, 0, 0,
	    20.066667 },
	{ "up by a lot and for good", { 19, 20, 18.5, 19.4, 20.2, 18.8, 25, 26, 25.5, 25.1 }, 0, 10, 1, 6,
	    19.316667, 25.4, 25.4 },
	{ "down by a lot and for good", { 25, 26, 25.5, 25.1, 25.8, 25.4, 19, 20, 18.5, 19.4 }, 0, 10, 1, 6,
	    25.466667, 19.225, 19.225 },
	{ "up and back", { 1, 2, 1.5, 1.2, 1.8, 1.4, 9, 9.5, 8.7, 9.1, 9.3, 1.5, 1.2, 1.7 }, 0, 14, 2, 6, 1.483333,
	    9.12, 1.466667 },
	/* three batches before are no level to speak of: with Student's t for three, a jump needs more to count */
	{ "a jump after three of great scatter", { 15, 22, 18, 24, 23 }, 0, 5, 0, 0, 0, 0, 20.4 },
	/* told as steps */
	{ "a drift", { 10, 10.4, 9.8, 10.1, 10.6, 11, 11.5, 12, 12.4, 13, 13.5, 14, 14.6, 15 }, 0, 14, 2, 5, 10.18,
	    11.725, 14.02 },
};

START_TEST(tells_the_story)
{
	struct ab_chart c = chart_of(stories[_i].x, stories[_i].n, stories[_i].floor_sd);
	ck_assert_msg(c.n_shifts == stories[_i].shifts, "%s: %zu shifts", stories[_i].title, c.n_shifts);
	ck_assert_msg(fabs(c.mean - stories[_i].mean) < 1e-5, "%s: mean %g", stories[_i].title, c.mean);
	ck_assert_msg(c.low <= c.mean && c.mean <= c.high, "%s: next from %g to %g", stories[_i].title, c.low, c.high);
	if (c.n_shifts == 0)
		return;
	ck_assert_msg(c.shifts[0].from == stories[_i].from, "%s: from %zu", stories[_i].title, c.shifts[0].from);
	ck_assert_msg(fabs(c.shifts[0].before - stories[_i].before) < 1e-5 &&
		fabs(c.shifts[0].after - stories[_i].after) < 1e-5,
	    "%s: %g to %g", stories[_i].title, c.shifts[0].before, c.shifts[0].after);
}
END_TEST

START_TEST(one_alone_is_odd)
{
	const double x[] = { 19, 20, 18.5, 19.4, 20.2, 18.8, 19.6, 31, 19.3, 19.8 };
	struct ab_chart c = chart_of(x, 10, 0);
	for (size_t i = 0; i < 10; i++)
		ck_assert_msg(c.odd[i] == (i == 7), "%zu", i);
	ck_assert_uint_eq(c.n_shifts, 0);
}
END_TEST

/* The next value is expected in the range with 80 %: drawn series, the next one drawn too. */
START_TEST(the_next_is_where_expected)
{
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	size_t within = 0, steady = 0;
	enum { RUNS = 4000 };
	gsl_rng_set(rng, 7);
	for (int r = 0; r < RUNS; r++) {
		double x[7];
		for (int i = 0; i < 7; i++)
			x[i] = 12 + 3 * gsl_ran_ugaussian(rng);
		struct ab_chart c = chart_of(x, 6, 0);
		steady += c.n_shifts == 0;
		within += c.n_shifts == 0 && x[6] >= c.low && x[6] <= c.high;
		ab_arena_reset(arena);
	}
	gsl_rng_free(rng);
	/* four standard errors of a share of 0.8 in 4000 */
	ck_assert_msg(fabs((double)within / (double)steady - 0.8) < 0.0253, "%zu of %zu", within, steady);
	ck_assert_msg(steady > RUNS * 97 / 100, "steady series called moved: %zu", RUNS - steady);
}
END_TEST

/* Unit and zero do not matter: degrees Celsius or Fahrenheit, the same verdict. */
START_TEST(unit_does_not_matter)
{
	for (size_t s = 0; s < sizeof stories / sizeof *stories; s++) {
		double f[MOST];
		for (size_t i = 0; i < stories[s].n; i++)
			f[i] = 1.8 * stories[s].x[i] + 32;
		struct ab_chart a = chart_of(stories[s].x, stories[s].n, stories[s].floor_sd),
				b = chart_of(f, stories[s].n, 1.8 * stories[s].floor_sd);
		ck_assert_uint_eq(a.n_shifts, b.n_shifts);
		ck_assert_msg(fabs(1.8 * a.low + 32 - b.low) < 1e-9 && fabs(1.8 * a.high + 32 - b.high) < 1e-9,
		    "%s", stories[s].title);
		for (size_t i = 0; i < a.n; i++)
			ck_assert_msg(fabs(a.u[i] - b.u[i]) < 1e-6 && a.odd[i] == b.odd[i], "%s: %zu: %g, %g",
			    stories[s].title, i, a.u[i], b.u[i]);
	}
}
END_TEST

/* Upside down, rising becomes falling and nothing else. */
START_TEST(up_and_down_are_alike)
{
	for (size_t s = 0; s < sizeof stories / sizeof *stories; s++) {
		double f[MOST];
		for (size_t i = 0; i < stories[s].n; i++)
			f[i] = -stories[s].x[i];
		struct ab_chart a = chart_of(stories[s].x, stories[s].n, stories[s].floor_sd),
				b = chart_of(f, stories[s].n, stories[s].floor_sd);
		ck_assert_uint_eq(a.n_shifts, b.n_shifts);
		for (size_t i = 0; i < a.n_shifts; i++)
			ck_assert(a.shifts[i].from == b.shifts[i].from && a.shifts[i].seen == b.shifts[i].seen &&
			    fabs(a.shifts[i].before + b.shifts[i].before) < 1e-12);
		for (size_t i = 0; i < a.n; i++)
			ck_assert(a.up[i] == b.down[i] && a.down[i] == b.up[i] && a.reach[i] == b.reach[i]);
	}
}
END_TEST

/* Any series, however wild: no NAN, shifts in order, each level with two values at least but the last. */
START_TEST(wild_series)
{
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_rng_set(rng, 11);
	for (int r = 0; r < 500; r++) {
		double x[60];
		size_t n = 5 + gsl_rng_uniform_int(rng, 56);
		for (size_t i = 0; i < n; i++)
			x[i] = r % 3 == 0 ? round(gsl_ran_ugaussian(rng)) : gsl_ran_cauchy(rng, pow(10, r % 7 - 3.0));
		struct ab_chart c = chart_of(x, n, r % 2 ? 0 : 0.1);
		for (size_t i = 0; i < n; i++)
			ck_assert(isfinite(c.u[i]) && isfinite(c.ewma[i]) && c.up[i] >= 0 && c.down[i] >= 0 &&
			    c.reach[i] > 0);
		for (size_t i = 0; i < c.n_shifts; i++) {
			size_t before = i == 0 ? 0 : c.shifts[i - 1].from;
			ck_assert(c.shifts[i].from >= before + 2 && c.shifts[i].seen >= c.shifts[i].from &&
			    c.shifts[i].seen < n);
			ck_assert(isfinite(c.shifts[i].before) && isfinite(c.shifts[i].after));
		}
		ab_arena_reset(arena);
	}
	gsl_rng_free(rng);
}
END_TEST

START_TEST(short_of_memory)
{
	const double x[] = { 1, 2, 3, 4, 5 };
	for (long i = 0;; i++) {
		struct ab_chart c;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(i);
		struct ab_arena *a = ab_arena_new();
		enum ab_status st = a == NULL ? AB_ENOMEM : ab_chart_work(x, 5, 0, a, &c, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(a);
		if (st == AB_OK) {
			ck_assert(i > 0);
			return;
		}
		ck_assert_int_eq(st, AB_ENOMEM);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("chart");
	TCase *t = tcase_create("chart");
	SRunner *sr;
	int failed;
	tcase_add_checked_fixture(t, begin, end);
	tcase_add_loop_test(t, tells_the_story, 0, (int)(sizeof stories / sizeof *stories));
	tcase_add_test(t, one_alone_is_odd);
	tcase_add_test(t, the_next_is_where_expected);
	tcase_add_test(t, unit_does_not_matter);
	tcase_add_test(t, up_and_down_are_alike);
	tcase_add_test(t, wild_series);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed != 0;
}
