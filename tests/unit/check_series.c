/* check_series.c - a quantity over time, against brute force
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/series.h"
#include <stdlib.h>
#include <check.h>

static struct ab_arena *arena;

static void setup(void) { arena = ab_arena_new(); }
static void teardown(void) { ab_arena_free(arena); }

static struct ab_series make(const struct ab_point *points, size_t n)
{
	struct ab_series s;
	ck_assert(ab_series_new(&s, arena, n));
	for (size_t i = 0; i < n; i++)
		ab_series_add(&s, points[i].h, points[i].v);
	ab_series_settle(&s);
	return s;
}

static const struct ab_point steps[] = { { 10, 4 }, { 0, 2 }, { 20, 0 }, { 10,
  8 } };   /* out of order; two at 10 average to 6 */

START_TEST(settles)
{
	struct ab_series s = make(steps, 4);
	ck_assert_uint_eq(s.n, 3);
	ck_assert_double_eq_tol(s.at[1].v, 6, 1e-12);
	ck_assert_double_eq_tol(ab_series_at(&s, 5), 4, 1e-12);
	ck_assert_double_eq_tol(ab_series_at(&s, -5), 2, 1e-12);
	ck_assert_double_eq_tol(ab_series_at(&s, 99), 0, 1e-12);
}
END_TEST

START_TEST(passes_over_nonsense)
{
	struct ab_series s;
	ck_assert(ab_series_new(&s, arena, 2));
	ab_series_add(&s, AB_NAN, 1);
	ab_series_add(&s, 1, AB_NAN);
	ab_series_add(&s, 1, 1);
	ab_series_add(&s, 2, 2);
	ab_series_add(&s, 3, 3);
	ck_assert_uint_eq(s.n, 2);
}
END_TEST

START_TEST(empty)
{
	struct ab_series s;
	ck_assert(ab_series_new(&s, arena, 0));
	ab_series_settle(&s);
	ck_assert(isnan(ab_series_at(&s, 0)));
	ck_assert(isnan(ab_series_mean(&s, 0, 1)));
	ck_assert(isnan(ab_series_max(&s, 0, 1)));
	ck_assert(isnan(ab_series_first_below(&s, 1)));
	ck_assert_double_eq(ab_series_hours_above(&s, 0, 1, 0, 1), 0);
	ck_assert_double_eq(ab_series_fall(&s, 1, 24, 0, 9, arena), 0);
}
END_TEST

START_TEST(by_hand)
{
	struct ab_series s = make(steps, 4);
	/* triangles: 0-10 area 40, 10-20 area 30 */
	ck_assert_double_eq_tol(ab_series_mean(&s, 0, 20), 3.5, 1e-12);
	ck_assert_double_eq_tol(ab_series_mean(&s, -10, 0), 2, 1e-12);
	ck_assert_double_eq_tol(ab_series_mean(&s, 5, 10), 5, 1e-12);
	ck_assert(isnan(ab_series_mean(&s, 5, 5)));
	ck_assert_double_eq_tol(ab_series_max(&s, 0, 5), 4, 1e-12);
	ck_assert_double_eq_tol(ab_series_max(&s, 0, 20), 6, 1e-12);
	ck_assert_uint_eq(ab_series_count(&s, 0, 10), 2);
	ck_assert_uint_eq(ab_series_count(&s, 10, 10), 1);
	ck_assert_uint_eq(ab_series_count(&s, 10, 0), 0);
	ck_assert_uint_eq(ab_series_count(&s, -AB_INF, AB_INF), s.n);
	ck_assert_uint_eq(ab_series_count(&s, AB_NAN, AB_INF), 0);
	ck_assert_uint_eq(ab_series_count(&s, 0, AB_NAN), 0);
	/* above 4 from 5 to 13.333 */
	ck_assert_double_eq_tol(ab_series_hours_above(&s, 4, 1, 0, 20), 25 / 3.0, 1e-12);
	ck_assert_double_eq_tol(ab_series_hours_above(&s, 4, -1, 0, 20), 20 - 25 / 3.0, 1e-12);
	ck_assert_double_eq_tol(ab_series_fall(&s, 1, 24, 0, 20, arena), 6, 1e-12);
	ck_assert_double_eq_tol(ab_series_fall(&s, -1, 24, 0, 20, arena), 4, 1e-12);
	ck_assert_double_eq_tol(ab_series_fall(&s, 1, 5, 0, 20, arena), 0, 1e-12);
	ck_assert_double_eq_tol(ab_series_first_below(&s, 2), 0, 1e-12);
	ck_assert_double_eq_tol(ab_series_first_below(&s, 1), 10 + 10 * 5 / 6.0, 1e-12);
	ck_assert(isnan(ab_series_first_below(&s, -1)));
}
END_TEST

static double slow_fall(const struct ab_series *s, double sign, double window)
{
	double most = 0;
	for (size_t i = 0; i < s->n; i++)
		for (size_t k = i; k < s->n; k++)
			if (s->at[k].h - s->at[i].h <= window)
				most = fmax(most, sign * (s->at[i].v - s->at[k].v));
	return most;
}

static double slow_area(const struct ab_series *s, double from, double to)
{
	double sum = 0, step = (to - from) / 20000;
	for (int i = 0; i < 20000; i++)
		sum += step * ab_series_at(s, from + (i + 0.5) * step);
	return sum;
}

START_TEST(as_brute_force)
{
	struct ab_point points[40];

	srand((unsigned)_i + 1);
	for (size_t i = 0; i < 40; i++) {
		points[i].h = rand() % 500;
		points[i].v = rand() % 200 / 10.0;
	}
	struct ab_series s = make(points, 40);
	for (double window = 1; window < 300; window *= 2.5) {
		ck_assert_double_eq_tol(ab_series_fall(&s, 1, window, -1, 600, arena), slow_fall(&s, 1,
		  window), 1e-12);
		ck_assert_double_eq_tol(ab_series_fall(&s, -1, window, -1, 600, arena), slow_fall(&s, -1,
		  window), 1e-12);
	}
	ck_assert_double_eq_tol(ab_series_mean(&s, 30, 470), slow_area(&s, 30, 470) / 440, 2e-3);
	/* what is above and what is below make the whole */
	ck_assert_double_eq_tol(ab_series_hours_above(&s, 10.05, 1, 30, 470) + ab_series_hours_above(&s, 10.05,
	  -1, 30, 470), 440, 1e-9);
}
END_TEST

/* Up and down by 0.01: off its neighbours' line by 0.02, of which sqrt(1.5) is due to them; mean of |x| to standard
 * deviation 1.2533. */
START_TEST(scatter)
{
	struct ab_point wavy[12], straight[12], sparse[12];

	for (size_t i = 0; i < 12; i++) {
		wavy[i] = (struct ab_point){ (double)i, 1 + (i % 2 == 0 ? 0.01 : -0.01) };
		straight[i] = (struct ab_point){ (double)(i * i) / 20, 1 - (double)(i * i) / 2000 };
		sparse[i] = (struct ab_point){ 24.0 * (double)i, wavy[i].v };
	}
	struct ab_series w = make(wavy, 12), few = make(wavy, 9), s = make(straight, 12), far = make(sparse, 12);
	ck_assert_double_eq_tol(ab_series_scatter(&w, 12), 0.02 / sqrt(1.5) * 1.2533141, 1e-7);
	ck_assert_double_eq_tol(ab_series_scatter(&s, 12), 0, 1e-12);
	ck_assert(isnan(ab_series_scatter(&few, 12)) && isnan(ab_series_scatter(&far, 12)));
	ck_assert(!isnan(ab_series_scatter(&far, 24)));
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("series");
	TCase *tc = tcase_create("series");
	SRunner *sr;

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, settles);
	tcase_add_test(tc, passes_over_nonsense);
	tcase_add_test(tc, empty);
	tcase_add_test(tc, by_hand);
	tcase_add_test(tc, scatter);
	tcase_add_loop_test(tc, as_brute_force, 0, 20);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
