/* check_redraw.c - the likely range: repeatable, within what the steps allow, and right where it can be worked out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/redraw.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/alloc.h"
#include "brute.h"

enum { N = 400 };

static struct brute_net b;
static double low[BRUTE_CAUSES], high[BRUTE_CAUSES], p_low[BRUTE_CAUSES], p_high[BRUTE_CAUSES];
static double blame[BRUTE_CAUSES], present[BRUTE_CAUSES];
static double odds_step[BRUTE_CAUSES], tail_step[BRUTE_LINKS], leak_step[BRUTE_FAULTS];
static struct ab_steps steps;
static struct ab_range range = { .blame_low = low, .blame_high = high, .present_low = p_low, .present_high = p_high };
static struct ab_beliefs beliefs = { .present = present, .blame = blame };
static struct ab_diag diag;

static void fill(double *at, size_t n, double x)
{
	for (size_t i = 0; i < n; i++)
		at[i] = x;
}

static void setup(void)
{
	ab_diag_init(&diag);
	brute_make(&b, 42, BRUTE_MIXED, 12, 8, 0.3);
	fill(odds_step, BRUTE_CAUSES, 0.4);
	fill(tail_step, BRUTE_LINKS, 0.5);
	fill(leak_step, BRUTE_FAULTS, 0.3);
	steps = (struct ab_steps){ odds_step, tail_step, leak_step };
}

/* One cause, no fault: present is its prior, whose logit is normal: percentiles are known. */
START_TEST(prior_alone_follows_the_normal)
{
	const double z10 = 1.2815515655446004;   /* R 4.2: qnorm(0.9) */

	brute_make(&b, 1, BRUTE_MILD, 1, 1, 0);
	b.finding[0].seen = AB_SEEN_NOTHING;
	b.log_odds[0] = -1;
	odds_step[0] = 0.8;
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, 10000, 5, &range, &diag), AB_OK);
	/* Standard error of a 10 % quantile of 10,000 draws: sqrt(.1 x .9 / 10000) / density = 0.017 sd; four of
	 * them allowed. */
	ck_assert_double_eq_tol(log(p_low[0] / (1 - p_low[0])), -1 - z10 * 0.8, 4 * 0.017 * 0.8);
	ck_assert_double_eq_tol(log(p_high[0] / (1 - p_high[0])), -1 + z10 * 0.8, 4 * 0.017 * 0.8);
	ck_assert_double_eq(high[0], 0);
}
END_TEST

/* A found fault with one link of step s and no leak, one prior: blame given leak-free evidence is 1 in every draw. */
START_TEST(certain_stays_certain)
{
	b.log_odds[0] = 0;
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.6, 0.3, 0 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	brute_bind(&b, 1, 1, 1);
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 1, &range, &diag), AB_OK);
	ck_assert_double_eq(low[0], 1);
	ck_assert_double_eq(high[0], 1);
}
END_TEST

START_TEST(same_seed_same_range)
{
	double keep[BRUTE_CAUSES];
	int differ = 0;

	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 9, &range, &diag), AB_OK);
	memcpy(keep, low, sizeof keep);
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 9, &range, &diag), AB_OK);
	ck_assert_mem_eq(keep, low, 12 * sizeof *low);
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 10, &range, &diag), AB_OK);
	for (int i = 0; i < 12; i++)
		differ += low[i] > keep[i] || low[i] < keep[i];
	ck_assert_int_gt(differ, 0);
}
END_TEST

START_TEST(no_step_no_range)
{
	static const struct ab_steps none;

	ck_assert_int_eq(ab_net_solve(&b.net, &beliefs, &diag), AB_OK);
	ck_assert_int_eq(ab_net_redraw(&b.net, &none, N, 9, &range, &diag), AB_OK);
	for (int i = 0; i < 12; i++) {
		/* Interpolation between equal draws rounds. */
		ck_assert_double_eq_tol(low[i], blame[i], 1e-15);
		ck_assert_double_eq_tol(high[i], blame[i], 1e-15);
		ck_assert_double_eq_tol(p_low[i], present[i], 1e-15);
		ck_assert_double_eq_tol(p_high[i], present[i], 1e-15);
	}
}
END_TEST

/* Small steps: the range holds the point and is narrow; larger steps widen it; it stays within 0..1. */
START_TEST(wider_steps_wider_range)
{
	static double width[3];

	ck_assert_int_eq(ab_net_solve(&b.net, &beliefs, &diag), AB_OK);
	for (int k = 0; k < 3; k++) {
		fill(odds_step, 12, 0.05 * pow(4, k));
		fill(tail_step, BRUTE_LINKS, 0.05 * pow(4, k));
		ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 3, &range, &diag), AB_OK);
		for (int i = 0; i < 12; i++) {
			ck_assert_double_ge(low[i], 0);
			ck_assert_double_le(low[i], high[i]);
			ck_assert_double_le(high[i], 1);
			ck_assert_double_le(p_low[i], present[i] + 1e-12);
			ck_assert_double_ge(p_high[i], present[i] - 1e-12);
			width[k] += high[i] - low[i];
		}
	}
	ck_assert_double_lt(width[0], width[1]);
	ck_assert_double_lt(width[1], width[2]);
}
END_TEST

/* Each kind of step widens the range by itself. */
START_TEST(every_step_counts)
{
	const double *only[3] = { odds_step, tail_step, leak_step };
	double width = 0;

	steps = (struct ab_steps){ _i == 0 ? only[0] : NULL, _i == 1 ? only[1] : NULL, _i == 2 ? only[2] : NULL };
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, N, 3, &range, &diag), AB_OK);
	for (int i = 0; i < 12; i++)
		width += p_high[i] - p_low[i];
	ck_assert_msg(width > 0.01, "kind %d of step: the ranges sum to %g", _i, width);
}
END_TEST

/* Two probabilities next to 1 become one when moved up: then level 1 is impossible, and the draw is taken again. */
START_TEST(impossible_draws_are_drawn_again)
{
	b.log_odds[0] = 0;
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, nextafter(1, 0), nextafter(nextafter(1, 0), 0), 0 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	brute_bind(&b, 1, 1, 1);
	tail_step[0] = 3;
	ck_assert_msg(ab_net_redraw(&b.net, &steps, N, 1, &range, &diag) == AB_OK, "%s", diag.text);
	ck_assert_double_eq(low[0], 1);
}
END_TEST

static const struct { double p, by, want; } moves[] = {
	{ 0.5, 0, 0.5 }, { 0, 3, 0 }, { 1, -3, 1 }, { 0.5, 1.0986122886681098, 0.75 },
	{ 0.5, -1.0986122886681098, 0.25 },
	{ 0.9, -2.1972245773362196, 0.5 }, { 1e-9, 2.302585092994046, 9.99999991e-9 }, { 0.2, 800, 1 },
	{ 0.2, -800, 0 },
};

START_TEST(logit_moves)
{
	ck_assert_double_eq_tol(ab_logit_move(moves[_i].p, moves[_i].by), moves[_i].want, 1e-15);
}
END_TEST

/* A chain of three probabilities moved alike never turns round, however close they are. */
START_TEST(tails_stay_monotone)
{
	uint64_t r = 3;

	for (int k = 0; k < 20000; k++) {
		double p = brute_random(&r), q = k % 3 ? p * brute_random(&r) : nextafter(p, 0),
		       by = 20 * (brute_random(&r) - 0.5);

		ck_assert_double_le(ab_logit_move(q, by), nextafter(ab_logit_move(p, by), 2));
	}
	/* And the solver, which refuses a rising tail, accepts every draw of networks with tied and strong links. */
	for (uint64_t seed = 0; seed < 20; seed++) {
		enum ab_status st;

		brute_make(&b, seed, seed % 2 ? BRUTE_MIXED : BRUTE_STRONG, 10, 6, 0.5);
		fill(tail_step, BRUTE_LINKS, 2);
		st = ab_net_redraw(&b.net, &steps, 200, seed, &range, &diag);
		ck_assert_msg(st == AB_OK || (st == AB_EIMPOSSIBLE && ab_net_solve(&b.net, &beliefs, NULL) == st),
		    "%s", diag.text);
		ab_diag_init(&diag);
	}
}
END_TEST

static const struct { const char *title; int n; double step; int impossible; enum ab_status want; } wrong[] = {
	{ "too few draws",  9,                 0.1,  0, AB_EUSAGE },
	{ "too many draws", AB_REDRAW_MAX + 1, 0.1,  0, AB_EUSAGE },
	{ "negative step",  N,                 -0.1, 0, AB_EUSAGE },
	{ "huge step",      N,                 5.1,  0, AB_EUSAGE },
	{ "step not a number", N,              NAN,  0, AB_EUSAGE },
	{ "impossible",     N,                 0.1,  1, AB_EIMPOSSIBLE },
};

START_TEST(wrong_is_refused)
{
	tail_step[1] = wrong[_i].step;
	if (wrong[_i].impossible) {
		brute_make(&b, 2, BRUTE_MILD, 2, 2, 0);
		b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
		b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	}
	ck_assert_msg(
	    ab_net_redraw(&b.net, &steps, wrong[_i].n, 1, &range, &diag) == wrong[_i].want, "%s", wrong[_i].title);
	ck_assert_msg(diag.text[0] != '\0', "%s: no word", wrong[_i].title);
}
END_TEST

START_TEST(memory_may_run_out)
{
	enum ab_status st = AB_ENOMEM;
	long k;

	for (k = 0; st != AB_OK && k < 200; k++) {
		ab_alloc_fail_at(k);
		st = ab_net_redraw(&b.net, &steps, 10, 1, &range, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ab_diag_init(&diag);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(k, 8);
}
END_TEST

/* The range of a set: of one cause it is that cause's own; of all it holds the value as given and lies above the
 * largest member's. */
START_TEST(sets_have_ranges)
{
	static const unsigned char first[BRUTE_CAUSES] = { 1 }, all[BRUTE_CAUSES] = { 1, 1, 1, 1, 1, 1 };
	const unsigned char *const set[] = { first, all };
	double set_low[2], set_high[2], got;
	struct ab_net_scratch *scratch = ab_net_scratch_new();
	struct ab_range with = range;

	with.set = set;
	with.n_sets = 2;
	with.set_low = set_low;
	with.set_high = set_high;
	brute_make(&b, 12, BRUTE_MILD, 6, 4, 0.6);
	fill(odds_step, BRUTE_CAUSES, 0.4);
	fill(tail_step, BRUTE_LINKS, 0.4);
	ck_assert_int_eq(ab_net_redraw(&b.net, &steps, 400, 3, &with, &diag), AB_OK);
	ck_assert_double_eq_tol(set_low[0], low[0], 1e-9);
	ck_assert_double_eq_tol(set_high[0], high[0], 1e-9);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &beliefs, &diag), AB_OK);
	ck_assert_int_eq(ab_net_blame_any(scratch, &b.net, all, beliefs.log_evidence, &got, &diag), AB_OK);
	ck_assert(set_low[1] < got && got < set_high[1]);
	for (size_t i = 0; i < 6; i++)
		ck_assert(set_low[1] >= low[i] && set_high[1] >= high[i]);
	ab_net_scratch_free(scratch);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("redraw");
	TCase *tc = tcase_create("redraw");
	SRunner *sr;

	tcase_set_timeout(tc, 120);
	tcase_add_checked_fixture(tc, setup, NULL);
	tcase_add_test(tc, sets_have_ranges);
	tcase_add_test(tc, prior_alone_follows_the_normal);
	tcase_add_test(tc, certain_stays_certain);
	tcase_add_test(tc, same_seed_same_range);
	tcase_add_test(tc, no_step_no_range);
	tcase_add_test(tc, wider_steps_wider_range);
	tcase_add_loop_test(tc, every_step_counts, 0, 3);
	tcase_add_test(tc, impossible_draws_are_drawn_again);
	tcase_add_loop_test(tc, logit_moves, 0, sizeof moves / sizeof *moves);
	tcase_add_test(tc, tails_stay_monotone);
	tcase_add_loop_test(tc, wrong_is_refused, 0, sizeof wrong / sizeof *wrong);
	tcase_add_test(tc, memory_may_run_out);
	suite_add_tcase(s, tc);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
