/* check_verdicts.c - how far scores of one batch lie apart
 *
 * The estimates themselves are held to lme4 in tests/handbook/stats.t; here is what can be reckoned by hand, and laws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <check.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <afterboil/facts.h>
#include <afterboil/trend.h>
#include "base/alloc.h"

enum { MANY = 40 };

/* Two batches, means 10 and 20, three verdicts each with variance 4 and 6. By the textbook's analysis of variance:
 * within (2*4 + 2*6) / 4 = 5, between (3 * 50 - 5) / 3 = 145 / 3. */
START_TEST(by_hand)
{
	const struct ab_verdict_group groups[] = { { 3, 10, 2 }, { 0, NAN, NAN }, { 3, 20, sqrt(6) } };
	struct ab_verdicts v;

	ck_assert(ab_verdicts_work(groups, 3, &v));
	ck_assert_uint_eq(v.n_batches, 2);
	ck_assert_uint_eq(v.n, 6);
	ck_assert_uint_eq(v.beyond, 4);
	ck_assert_double_eq_tol(v.mean, 15, 1e-9);
	ck_assert_double_eq_tol(v.noise, sqrt(5), 1e-6);
	ck_assert_double_eq_tol(v.between, sqrt(145 / 3.0), 1e-5);
	/* chi-square of 4 degrees of freedom: 1.0636 and 7.7794 (NIST handbook 1.3.6.7.4); t 0.975: 2.776
	 * (1.3.6.7.2) */
	ck_assert_double_eq_tol(v.noise_low, sqrt(20 / 7.779), 1e-3);
	ck_assert_double_eq_tol(v.noise_high, sqrt(20 / 1.064), 1e-3);
	ck_assert_double_eq_tol(v.tell, sqrt(10) * 2.776, sqrt(10) * 5e-4);   /* as the table is rounded */
	ck_assert_double_eq_tol(v.apart, sqrt(10) * 0.6745, 1e-3);
}
END_TEST

static const struct { const char *title; struct ab_verdict_group groups[3]; size_t n; } silent[] = {
	{ "nothing", { { 0, NAN, NAN } }, 0 }, { "none scored", { { 0, NAN, NAN }, { 0, NAN, NAN } }, 2 },
	{ "one each", { { 1, 3, NAN }, { 1, 4, NAN }, { 1, 5, NAN } }, 3 }, { "one batch", { { 9, 3, 1 } }, 1 },
	{ "three beyond", { { 3, 3, 1 }, { 2, 4, 1 } }, 2 }, { "all agree", { { 4, 3, 0 }, { 4, 4, 0 } }, 2 },
};

START_TEST(nothing_is_said)
{
	struct ab_verdicts v;

	ck_assert_msg(!ab_verdicts_work(silent[_i].groups, silent[_i].n, &v), "%s", silent[_i].title);
	ck_assert(isnan(v.mean) && isnan(v.noise) && isnan(v.between) && isnan(v.tell) && isnan(v.apart));
}
END_TEST

/* Batches closer together than the noise explains do not differ. */
START_TEST(no_difference)
{
	const struct ab_verdict_group groups[] = { { 5, 10, 3 }, { 5, 10.1, 3 }, { 5, 9.9, 3 } };
	struct ab_verdicts v;

	ck_assert(ab_verdicts_work(groups, 3, &v));
	ck_assert_double_eq(v.between, 0);
	/* one common variance then, of all about the mean: (12 * 9 + 5 * 0.02) / 14 */
	ck_assert_double_eq_tol(v.noise, sqrt((12 * 9 + 5 * 0.02) / 14), 1e-9);
}
END_TEST

/* Another unit and another zero change nothing but the unit. */
START_TEST(unit_does_not_matter)
{
	struct ab_verdict_group a[4] = { { 3, 31, 4 }, { 2, 38, 1 }, { 1, 29, NAN }, { 4, 44, 5 } }, b[4];
	struct ab_verdicts va, vb;

	for (int i = 0; i < 4; i++)
		b[i] = (struct ab_verdict_group){ a[i].n, a[i].mean / 50 + 2, a[i].sd / 50 };
	ck_assert(ab_verdicts_work(a, 4, &va) && ab_verdicts_work(b, 4, &vb));
	ck_assert_double_eq_tol(vb.mean, va.mean / 50 + 2, 1e-8);
	ck_assert_double_eq_tol(vb.noise, va.noise / 50, 1e-8);
	ck_assert_double_eq_tol(vb.between, va.between / 50, 1e-7);
	ck_assert_double_eq_tol(vb.tell, va.tell / 50, 1e-8);
}
END_TEST

/* Drawn with noise 6 and batches 4 apart: means of the estimated variances come out so (REML is nearly unbiased),
 * and the 80 % interval of the noise holds it four times in five (binomial, 400 draws: standard deviation 2 %). */
START_TEST(known_truth)
{
	enum { DRAWS = 400, BATCHES = 12, EACH = 3 };
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	double within = 0, between = 0;
	int held = 0;

	gsl_rng_set(rng, 20310307);
	for (int d = 0; d < DRAWS; d++) {
		struct ab_verdict_group g[BATCHES];
		struct ab_verdicts v;

		for (int i = 0; i < BATCHES; i++) {
			double level = 30 + gsl_ran_gaussian(rng, 4), x[EACH], squares = 0;

			g[i] = (struct ab_verdict_group){ EACH, 0, 0 };
			for (int j = 0; j < EACH; j++)
				g[i].mean += (x[j] = level + gsl_ran_gaussian(rng, 6)) / EACH;
			for (int j = 0; j < EACH; j++)
				squares += (x[j] - g[i].mean) * (x[j] - g[i].mean);
			g[i].sd = sqrt(squares / (EACH - 1));
		}
		ck_assert(ab_verdicts_work(g, BATCHES, &v));
		within += v.noise * v.noise / DRAWS;
		between += v.between * v.between / DRAWS;
		held += v.noise_low <= 6 && 6 <= v.noise_high;
	}
	gsl_rng_free(rng);
	ck_assert_double_eq_tol(within, 36, 2.5);
	ck_assert_double_eq_tol(between, 16, 3);
	ck_assert_int_ge(held, (int)(DRAWS * (0.8 - 3 * 0.02)));
	ck_assert_int_le(held, (int)(DRAWS * (0.8 + 3 * 0.02)));
}
END_TEST

/* ---- of a trend ---- */

static int slots[AB_VERDICT_FACTS];
static double values[MANY][AB_VERDICT_FACTS], us[AB_VERDICT_FACTS];
static struct ab_trend_batch batches[MANY];

/* Every third batch is not scored; the others twice, 0.2 apart. */
static void fill(void)
{
	ab_verdict_slots(ab_fact_defs(), slots);
	for (int i = 0; i < MANY; i++) {
		values[i][0] = 2;
		values[i][1] = 0.5 + 0.01 * i;
		values[i][2] = 0.2 / M_SQRT2;
		batches[i] = (struct ab_trend_batch){
			.n_facts = i % 3 == 2 ? 0 : AB_VERDICT_FACTS, .slots = slots, .values = values[i], .us = us
		};
	}
}

START_TEST(batches_tell)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_trend trend = { 0 };
	struct ab_diag diag;

	ab_diag_init(&diag);
	fill();
	for (int i = 0; i < AB_VERDICT_FACTS; i++)
		ck_assert_int_ge(slots[i], 0);
	ck_assert_int_eq(ab_trend_verdicts(batches, MANY, ab_fact_defs(), arena, &trend, &diag), AB_OK);
	ck_assert_uint_eq(trend.verdicts.n_batches, 27);
	ck_assert_uint_eq(trend.verdicts.n, 54);
	ck_assert_double_eq_tol(trend.verdicts.noise, 0.2 / M_SQRT2, 0.02);
	ab_arena_free(arena);
}
END_TEST

START_TEST(memory_runs_out)
{
	enum ab_status st = AB_ENOMEM;
	int k = 0;

	fill();
	for (; st == AB_ENOMEM; k++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_trend trend = { 0 };
		struct ab_diag diag;

		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_trend_verdicts(batches, MANY, ab_fact_defs(), arena, &trend, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || diag.status == AB_ENOMEM);
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_ge(k, 2);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("verdicts");
	TCase *t = tcase_create("verdicts");
	SRunner *sr = srunner_create(s);
	int failed;

	suite_add_tcase(s, t);
	tcase_set_timeout(t, 60);
	tcase_add_test(t, by_hand);
	tcase_add_loop_test(t, nothing_is_said, 0, (int)(sizeof silent / sizeof *silent));
	tcase_add_test(t, no_difference);
	tcase_add_test(t, unit_does_not_matter);
	tcase_add_test(t, known_truth);
	tcase_add_test(t, batches_tell);
	tcase_add_test(t, memory_runs_out);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
