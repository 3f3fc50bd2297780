/* check_panel.c - blind difference tests: known values, what must hold of any numbers, and a fair serving order
 *
 * Printed tables and R stand in tests/handbook/panel.t.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/panel.h>
#include "base/alloc.h"

/* ---- known values: binomial tails by hand or by exact fractions ---- */

static const struct { enum ab_panel_test test; size_t right, n; double p; } known[] = {
	{ AB_PANEL_TRIANGLE, 8, 12, 0.018758 }, { AB_PANEL_TRIANGLE, 13, 24, 0.028441 },
	{ AB_PANEL_TRIANGLE, 12, 24, 0.067659 },
	{ AB_PANEL_TRIANGLE, 15, 30, 0.043482 }, { AB_PANEL_TRIANGLE, 5, 5, 1.0 / 243 },
	{ AB_PANEL_TRIANGLE, 28, 60, 0.021860 },
	{ AB_PANEL_TRIANGLE, 7, 10, 0.019662 }, { AB_PANEL_TRIANGLE, 0, 7, 1 }, { AB_PANEL_TRIANGLE, 1, 1, 1.0 / 3 },
	{ AB_PANEL_DUO_TRIO, 5, 5, 1.0 / 32 }, { AB_PANEL_PAIR, 4, 5, 6.0 / 32 },
	{ AB_PANEL_PREFERENCE, 6, 6, 2.0 / 64 },
	{ AB_PANEL_PREFERENCE, 0, 6, 2.0 / 64 }, { AB_PANEL_PREFERENCE, 3, 6, 1 }, { AB_PANEL_PREFERENCE, 4, 7, 1 },
	{ AB_PANEL_PREFERENCE, 1, 5, 12.0 / 32 },
};

START_TEST(known_p)
{
	double p = ab_panel_p(known[_i].test, known[_i].right, known[_i].n);
	ck_assert_msg(fabs(p - known[_i].p) < 1e-6, "%s %zu of %zu: %.7f", ab_panel_words[known[_i].test],
	    known[_i].right, known[_i].n, p);
}
END_TEST

/* ---- whatever the test and the number ---- */

START_TEST(what_must_hold)
{
	enum ab_panel_test t = (enum ab_panel_test)_i;
	for (size_t n = 1; n <= 40; n++) {
		double last = 2;
		struct ab_panel_belief b, before = { -1, -1, -1, -1 };
		for (size_t k = t == AB_PANEL_PREFERENCE ? (n + 1) / 2 : 0; k <= n; k++) {
			double p = ab_panel_p(t, k, n);
			ab_panel_believe(t, k, n, &b);
			ck_assert_msg(p >= 0 && p <= last, "%zu of %zu", k, n);
			ck_assert(b.difference > 0 && b.difference <= 1 && b.low < b.share && b.share < b.high &&
			    b.high < 1);
			ck_assert(t == AB_PANEL_PREFERENCE || b.low > 0);
			ck_assert_msg(b.share > before.share && b.low > before.low && b.high > before.high,
			    "more right, less able: %zu of %zu", k, n);
			last = p;
			before = b;
		}
		size_t strict = ab_panel_least(t, n, 0.01), loose = ab_panel_least(t, n, 0.05);
		ck_assert(strict >= loose);
		if (loose == SIZE_MAX) {
			ck_assert(ab_panel_p(t, n, n) > 0.05);
			ck_assert(ab_panel_power(t, n, 0.05, 1) == 0);
			continue;
		}
		ck_assert(ab_panel_p(t, loose, n) <= 0.05 && (loose == 0 || ab_panel_p(t, loose - 1, n) > 0.05));
		/* nobody can tell: the false alarms; everybody can: certain */
		ck_assert(ab_panel_power(t, n, 0.05, 0) <= 0.05 && ab_panel_power(t, n, 0.05, 1) == 1);
		ck_assert(ab_panel_power(t, n, 0.05, 0.3) < ab_panel_power(t, n, 0.05, 0.6));
	}
}
END_TEST

START_TEST(votes_for_either_count_alike)
{
	struct ab_panel_belief a, b;
	ab_panel_believe(AB_PANEL_PREFERENCE, 3, 11, &a);
	ab_panel_believe(AB_PANEL_PREFERENCE, 8, 11, &b);
	ck_assert(a.difference == b.difference && a.share == b.share && a.low == b.low && a.high == b.high);
	ck_assert(ab_panel_p(AB_PANEL_PREFERENCE, 3, 11) == ab_panel_p(AB_PANEL_PREFERENCE, 8, 11));
}
END_TEST

/* The belief is honest: brewers' rebrews drawn from its own prior, half without a difference, and of those it calls
 * x % likely about x % differ. Summed exactly over all outcomes instead of drawn. */
START_TEST(beliefs_are_calibrated)
{
	const size_t n = 12;
	double said = 0, so = 0, total = 0;
	for (size_t k = 0; k <= n; k++) {
		struct ab_panel_belief b;
		double none = ab_panel_p(AB_PANEL_TRIANGLE, k, n) -
		    (k < n ? ab_panel_p(AB_PANEL_TRIANGLE, k + 1, n) : 0),
		       some = 0;
		enum { STEPS = 4000 };
		for (int i = 0; i < STEPS; i++) {
			double x = 1.0 / 3 + 2.0 / 3 * (i + 0.5) / STEPS;
			some += exp(lgamma(13) - lgamma((double)k + 1) - lgamma(13 - (double)k) +
				    (double)k * log(x) + (double)(n - k) * log(1 - x)) /
			    STEPS;
		}
		ab_panel_believe(AB_PANEL_TRIANGLE, k, n, &b);
		ck_assert_msg(fabs(b.difference - some / (some + none)) < 1e-5, "%zu: %g, %g", k, b.difference,
		    some / (some + none));
		said += b.difference * (some + none) / 2;
		so += some / 2;
		total += (some + none) / 2;
	}
	ck_assert(fabs(total - 1) < 1e-6 && fabs(said - so) < 1e-6 && fabs(so - 0.5) < 1e-6);
}
END_TEST

/* ---- the serving order ---- */

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

static const struct { enum ab_panel_test test; size_t orders; } balanced[] = {
	{ AB_PANEL_TRIANGLE, 6 }, { AB_PANEL_DUO_TRIO, 4 }, { AB_PANEL_PAIR, 2 }, { AB_PANEL_PREFERENCE, 2 },
};

/* Each order of cups equally often, or once less in a block cut short; the odd cup is where it is said to be. */
static void check_balance(enum ab_panel_test test, size_t orders, size_t n, unsigned long seed)
{
	struct ab_serving *s;
	size_t as_first = 0;
	ck_assert_int_eq(ab_panel_serve(test, n, seed, arena, &s, &diag), AB_OK);
	for (size_t i = 0; i < n; i++) {
		size_t again = 0;
		for (size_t j = i / orders * orders; j < n && j < (i / orders + 1) * orders; j++)
			again += strcmp(s[i].beer, s[j].beer) == 0;
		ck_assert_msg(again == 1, "%s seed %lu: %s comes %zu times in a block", ab_panel_words[test], seed,
		    s[i].beer, again);
		ck_assert_uint_eq(strlen(s[i].beer), (size_t)s[i].cups);
		as_first += s[i].beer[0] == 'A';
		for (int c = 0; c < s[i].cups; c++) {
			bool reference = test == AB_PANEL_DUO_TRIO && c == 0;
			ck_assert(reference ? s[i].code[c] == 0 : s[i].code[c] >= 100 && s[i].code[c] <= 999);
			for (int d = 0; d < c; d++)
				ck_assert(s[i].code[c] != s[i].code[d]);
		}
		if (test == AB_PANEL_TRIANGLE)
			for (int c = 0; c < 3; c++)
				ck_assert((c == s[i].odd) ==
				    ((s[i].beer[c] != s[i].beer[(c + 1) % 3]) &&
					(s[i].beer[c] != s[i].beer[(c + 2) % 3])));
		else if (test == AB_PANEL_DUO_TRIO)
			ck_assert(s[i].odd > 0 && s[i].beer[s[i].odd] == s[i].beer[0] &&
			    s[i].beer[3 - s[i].odd] != s[i].beer[0]);
		else
			ck_assert_int_eq(s[i].odd, -1);
	}
	if (n % orders == 0)
		ck_assert_uint_eq(2 * as_first, n);
}

START_TEST(order_is_balanced)
{
	for (unsigned long seed = 0; seed < 40; seed++)
		for (size_t n = 1; n <= 24; n += 1 + seed % 5)
			check_balance(balanced[_i].test, balanced[_i].orders, n, seed);
}
END_TEST

START_TEST(order_comes_from_the_seed)
{
	struct ab_serving *a, *b, *c;
	ck_assert_int_eq(ab_panel_serve(AB_PANEL_TRIANGLE, 12, 7, arena, &a, &diag), AB_OK);
	ck_assert_int_eq(ab_panel_serve(AB_PANEL_TRIANGLE, 12, 7, arena, &b, &diag), AB_OK);
	ck_assert_int_eq(ab_panel_serve(AB_PANEL_TRIANGLE, 12, 8, arena, &c, &diag), AB_OK);
	ck_assert(memcmp(a, b, 12 * sizeof *a) == 0);
	ck_assert(memcmp(a, c, 12 * sizeof *a) != 0);
}
END_TEST

/* Over many seeds each order is as often the first: chi-square with 5 degrees below its 99.9 % point. */
START_TEST(first_cup_is_no_favourite)
{
	size_t odd[3] = { 0 };
	double chi = 0;
	enum { SEEDS = 3000 };
	for (unsigned long seed = 0; seed < SEEDS; seed++) {
		struct ab_serving *s;
		ck_assert_int_eq(ab_panel_serve(AB_PANEL_TRIANGLE, 1, seed, arena, &s, &diag), AB_OK);
		odd[s->odd]++;
	}
	for (int i = 0; i < 3; i++)
		chi += ((double)odd[i] - SEEDS / 3.0) * ((double)odd[i] - SEEDS / 3.0) / (SEEDS / 3.0);
	ck_assert_msg(chi < 13.816, "%g", chi);
}
END_TEST

/* ---- what is refused, and short memory ---- */

static const struct { size_t n; bool tasted; size_t right; enum ab_status want; size_t servings; } works[] = {
	{ 0, false, 0, AB_OK, 0 }, { 12, false, 0, AB_OK, 12 }, { 12, true, 7, AB_OK, 0 },
	{ 12, true, 12, AB_OK, 0 }, { 12, true, 0, AB_OK, 0 },
	{ 12, true, 13, AB_EUSAGE, 0 }, { 0, true, 0, AB_EUSAGE, 0 }, { 1000, true, 400, AB_OK, 0 },
	{ 1001, false, 0, AB_EUSAGE, 0 },
	{ 121, false, 0, AB_OK, 0 }, { 120, false, 0, AB_OK, 120 },
};

START_TEST(works_or_refuses)
{
	struct ab_panel *p;
	ck_assert_int_eq(
	    ab_panel_work(AB_PANEL_TRIANGLE, works[_i].n, works[_i].tasted, works[_i].right, 1, arena, &p, &diag),
	    works[_i].want);
	if (works[_i].want != AB_OK) {
		ck_assert(diag.text[0] != '\0');
		return;
	}
	ck_assert_uint_eq(p->n_servings, works[_i].servings);
	ck_assert(works[_i].tasted ? p->p >= 0 && p->p <= 1 : isnan(p->p));
	ck_assert(p->needed[0] > p->needed[1] && p->needed[1] > p->needed[2]);
}
END_TEST

START_TEST(no_order_for_too_many)
{
	struct ab_serving *s;
	ck_assert_int_eq(ab_panel_serve(AB_PANEL_PAIR, AB_PANEL_SERVED + 1, 1, arena, &s, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_panel_serve(AB_PANEL_PAIR, 0, 1, arena, &s, &diag), AB_EUSAGE);
}
END_TEST

START_TEST(short_of_memory)
{
	for (long i = 0;; i++) {
		struct ab_panel *p = NULL;
		struct ab_diag d;
		struct ab_arena *a;
		ab_diag_init(&d);
		ab_alloc_fail_at(i);
		a = ab_arena_new();
		enum ab_status st =
		    a == NULL ? AB_ENOMEM : ab_panel_work(AB_PANEL_TRIANGLE, 100, false, 0, 1, a, &p, &d);
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

#define N(rows) ((int)(sizeof rows / sizeof *rows))

int main(void)
{
	Suite *s = suite_create("panel");
	TCase *t = tcase_create("panel");
	SRunner *sr;
	int failed;
	tcase_add_checked_fixture(t, begin, end);
	tcase_add_loop_test(t, known_p, 0, N(known));
	tcase_add_loop_test(t, what_must_hold, 0, AB_PANEL_TESTS);
	tcase_add_test(t, votes_for_either_count_alike);
	tcase_add_test(t, beliefs_are_calibrated);
	tcase_add_loop_test(t, order_is_balanced, 0, N(balanced));
	tcase_add_test(t, order_comes_from_the_seed);
	tcase_add_test(t, first_cup_is_no_favourite);
	tcase_add_loop_test(t, works_or_refuses, 0, N(works));
	tcase_add_test(t, no_order_for_too_many);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed != 0;
}
