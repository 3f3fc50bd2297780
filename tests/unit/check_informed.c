/* check_informed.c - what it is worth to learn something before choosing
 *
 * Against a textbook's decision, and against counting every set under every outcome.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>
#include <gsl/gsl_rng.h>

#include <afterboil/plan.h>
#include "base/alloc.h"

static struct ab_diag diag;

static void set_up(void)
{
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
}

/* ---- a textbook ---- */

/* Render, Stair & Hanna, Quantitative Analysis for Management, the Thompson Lumber case: a large plant brings
 * 200,000 in a good market and loses 180,000 in a bad one, a small one 100,000 and -20,000, none 0; both markets
 * are equally likely; a survey says "good" in 70 of 100 good markets and "bad" in 80 of 100 bad ones. By hand:
 * P(survey good) = 0.45, P(good market | so) = 0.35 / 0.45 and | not so = 0.15 / 0.55; the large plant after a good
 * survey 115,555.56, the small one after a bad one 12,727.27; so 0.45 x 115,555.56 + 0.55 x 12,727.27 = 59,000
 * against 40,000 without: 19,000 (the book, with chances rounded to two digits: 19,200). Knowing the market: 0.5 x
 * 200,000 - 40,000 = 60,000. Here markets are causes, plants changes of one group; payoffs are moved by 180,000 so
 * that none is below 0, and 380,000 is all. */
enum { LARGE, SMALL, NONE };
static const struct ab_effect lumber_effects[] = { { 0, LARGE, 1 }, { 0, SMALL, 280. / 380 },
    { 0, NONE, 180. / 380 }, { 1, SMALL, 160. / 380 },
	{ 1, NONE, 180. / 380 } };
static const int lumber_group[] = { 0, 0, 0 };
static const struct ab_problem lumber = {
	.n_causes = 2, .n_changes = 3, .n_effects = 5, .effects = lumber_effects, .group = lumber_group
};

START_TEST(a_textbook_survey)
{
	const double good[] = { 380000 * 0.35 / 0.45, 380000 * 0.10 / 0.45 },
		     bad[] = { 380000 * 0.15 / 0.55, 380000 * 0.40 / 0.55 };
	unsigned char now[3], after[6];
	struct ab_informed x = { .now = now, .after = after };
	ck_assert_int_eq(ab_plan_informed(&lumber, (struct ab_outcome[]){ { 0.45, good }, { 0.55, bad } }, 2,
	    &x, &diag), AB_OK);
	ck_assert(now[SMALL] && after[LARGE] && after[3 + SMALL]);
	ck_assert_double_eq_tol(x.removed_now - 180000, 40000, 1e-6);
	ck_assert_double_eq_tol(x.removed_after - 180000, 59000, 1e-6);
	ck_assert_double_eq_tol(x.worth, 19000, 1e-6);
	ck_assert_double_eq(x.gap, 0);
}
END_TEST

START_TEST(knowing_the_market)
{
	const double good[] = { 380000, 0 }, bad[] = { 0, 380000 };
	unsigned char now[3], after[6];
	struct ab_informed x = { .now = now, .after = after };
	ck_assert_int_eq(ab_plan_informed(&lumber, (struct ab_outcome[]){ { 0.5, good }, { 0.5, bad } }, 2, &x,
	    &diag), AB_OK);
	ck_assert(now[SMALL] && after[LARGE] && after[3 + NONE]);
	ck_assert_double_eq_tol(x.worth, 60000, 1e-6);
}
END_TEST

/* ---- counting ---- */

enum { CAUSES = 4, CHANGES = 8, STATES = 8, ANSWERS = 3 };
static double share[CAUSES][CHANGES], cost[CHANGES], load[STATES][CAUSES], p[STATES];
static int answer[STATES];

static double counted(const double *h, double budget)
{
	double most = 0;

	for (unsigned set = 0; set < 1U << CHANGES; set++) {
		double spent = 0, sum = 0;

		for (int u = 0; u < CHANGES; u++)
			spent += set >> u & 1 ? cost[u] : 0;
		for (int i = 0; i < CAUSES && spent <= budget; i++) {
			double left = 1;

			for (int u = 0; u < CHANGES; u++)
				left *= set >> u & 1 ? 1 - share[i][u] : 1;
			sum += h[i] * (1 - left);
		}
		most = spent <= budget ? fmax(most, sum) : most;
	}
	return most;
}

/* States of the world with a chance each; an answer lumps some of them. */
static void draw(gsl_rng *rng)
{
	double sum = 0;

	for (int u = 0; u < CHANGES; u++)
		cost[u] = (double)gsl_rng_uniform_int(rng, 9);
	for (int i = 0; i < CAUSES; i++)
		for (int u = 0; u < CHANGES; u++)
			share[i][u] = gsl_rng_uniform(rng) < 0.4 ? gsl_rng_uniform(rng) : 0;
	for (int s = 0; s < STATES; s++) {
		sum += p[s] = gsl_rng_uniform(rng) + 0.01;
		answer[s] = (int)gsl_rng_uniform_int(rng, ANSWERS);
		for (int i = 0; i < CAUSES; i++)
			load[s][i] = gsl_rng_uniform(rng) < 0.5 ? gsl_rng_uniform(rng) * 4 : 0.1;
	}
	for (int s = 0; s < STATES; s++)
		p[s] /= sum;
}

/* The chance and the mean loads of the states with this answer; -1 = of all. */
static double lump(int which, double *h)
{
	double sum = 0;

	memset(h, 0, CAUSES * sizeof *h);
	for (int s = 0; s < STATES; s++)
		if (which < 0 || answer[s] == which) {
			sum += p[s];
			for (int i = 0; i < CAUSES; i++)
				h[i] += p[s] * load[s][i];
		}
	for (int i = 0; i < CAUSES && sum > 0; i++)
		h[i] /= sum;
	return sum;
}

static struct ab_problem drawn_problem(struct ab_effect *effects)
{
	struct ab_problem problem = { .n_causes = CAUSES,
		.n_changes = CHANGES,
		.effects = effects,
		.n_budgets = 1,
		.cost = cost,
		.budget = { 12 } };

	for (int i = 0; i < CAUSES; i++)
		for (int u = 0; u < CHANGES; u++)
			if (share[i][u] > 0)
				effects[problem.n_effects++] = (struct ab_effect){ i, u, share[i][u] };
	return problem;
}

/* Also: an answer is never worth less than nothing, and never more than knowing the state. */
START_TEST(as_counted)
{
	struct ab_effect effects[CAUSES * CHANGES];
	double h[ANSWERS][CAUSES], mean[CAUSES], after = 0;
	struct ab_outcome some[ANSWERS], all[STATES];
	unsigned char now[CHANGES], chosen[STATES * CHANGES];
	struct ab_informed x = { .now = now, .after = chosen }, perfect = x;
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);

	gsl_rng_set(rng, (unsigned long)_i + 1);
	draw(rng);
	gsl_rng_free(rng);
	struct ab_problem problem = drawn_problem(effects);
	lump(-1, mean);
	for (int k = 0; k < ANSWERS; k++) {
		some[k] = (struct ab_outcome){ lump(k, h[k]), h[k] };
		after += some[k].p * counted(h[k], 12);
	}
	for (int s = 0; s < STATES; s++)
		all[s] = (struct ab_outcome){ p[s], load[s] };
	ck_assert_int_eq(ab_plan_informed(&problem, some, ANSWERS, &x, &diag), AB_OK);
	ck_assert_double_eq_tol(x.removed_now, counted(mean, 12), 1e-9);
	ck_assert_double_eq_tol(x.removed_after, after, 1e-9);
	ck_assert_double_eq_tol(x.worth, after - counted(mean, 12), 1e-9);
	ck_assert_double_eq(x.gap, 0);
	ck_assert_int_eq(ab_plan_informed(&problem, all, STATES, &perfect, &diag), AB_OK);
	ck_assert(x.worth >= 0 && x.worth <= perfect.worth + 1e-9);
}
END_TEST

/* ---- what is refused ---- */

static const struct { const char *title; double p, q; } wrong[] = { { "too little", 0.4, 0.5 },
    { "too much", 0.6, 0.5 }, { "below nothing", -0.5, 1.5 },
	{ "no number", NAN, 1 } };

START_TEST(chances_that_are_none)
{
	const double h[] = { 1, 1 };
	unsigned char now[3], after[6];
	struct ab_informed x = { .now = now, .after = after };
	ck_assert_msg(ab_plan_informed(&lumber, (struct ab_outcome[]){ { wrong[_i].p, h }, { wrong[_i].q,
	    h } }, 2, &x, &diag) == AB_EUSAGE, "%s",
	    wrong[_i].title);
}
END_TEST

START_TEST(out_of_memory)
{
	const double h[] = { 1, 1 };
	unsigned char now[3], after[6];
	struct ab_informed x = { .now = now, .after = after };
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	for (; st == AB_ENOMEM && at < 1000; at++) {
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_plan_informed(&lumber, (struct ab_outcome[]){ { 0.5, h }, { 0.5, h } }, 2, &x, &diag);
		ab_alloc_fail_at(-1);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 3);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("informed");
	TCase *tc = tcase_create("informed");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, a_textbook_survey);
	tcase_add_test(tc, knowing_the_market);
	tcase_add_loop_test(tc, as_counted, 0, 100);
	tcase_add_loop_test(tc, chances_that_are_none, 0, sizeof wrong / sizeof *wrong);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
