/* check_drift.c - a beer that gets better by itself is not the change's doing
 *
 * Brewers simulated with normal scatter whose beer drifts, steadily, and who change something in the middle that does
 * nothing: how often is it said to have helped with a chance over 0.9? It says itself that it is wrong in one of ten.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include <afterboil/trend.h>

enum { ROUNDS = 2000, MOST = 40 };
#define SCATTER 6.0

struct told { double plain, said; };

/* Shares of brewers told "helped, over 0.9": as it stands, and as it is said. lines: so many beers in turn, which
 * differ. drift and step in scatters: per batch, and what the change does. */
static struct told simulate(size_t before, size_t after, size_t lines, double drift, double step)
{
	static const char *const names[] = { "pale", "stout", "wheat" }, *const what[] = { "x" };
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	struct ab_arena *arena = ab_arena_new();
	struct ab_diag diag;
	struct told told = { 0, 0 };
	double fault[1] = { 0 };

	ab_diag_init(&diag);
	gsl_rng_set(rng, 11);
	for (int round = 0; round < ROUNDS; round++) {
		struct ab_trend_batch b[MOST];
		struct ab_trend *t = NULL;

		for (size_t i = 0; i < before + after; i++)
			b[i] = (struct ab_trend_batch){ .id = "b",
				.line = lines > 1 ? names[i % lines] : "pale",
				.brewed_s = 86400.0 * (double)i,
				.tasted = true,
				.load = 100 + 20 * (double)(i % lines) +
				    SCATTER *
					(gsl_ran_gaussian(rng, 1) - drift * (double)i - (i >= before ? step : 0)),
				.load_low = NAN,
				.load_high = NAN,
				.fault_load = fault,
				.changes = what,
				.n_changes = i == before };
		ck_assert_int_eq(ab_trend_work(b, before + after, 1, arena, &t, &diag), AB_OK);
		ck_assert_uint_eq(t->n_changes, 1);
		const struct ab_trend_said said = ab_trend_say(&t->changes[0]);
		told.plain += t->changes[0].p_better > 0.9;
		told.said += said.p_better > 0.9 && !said.plain;
		ab_arena_reset(arena);
	}
	ab_arena_free(arena);
	gsl_rng_free(rng);
	return (struct told){ told.plain / ROUNDS, told.said / ROUNDS };
}

/* before, after, drift in scatters a batch */
static const struct { size_t before, after; double drift; } drifts[] = {
	{ 2, 2, 0.3 }, { 3, 3, 0.3 }, { 3, 3, 1 }, { 4, 4, 0 }, { 4, 4, 0.3 }, { 4, 4, 1 }, { 6, 3, 0.3 },
	{ 8, 8, 0.1 }, { 8, 8, 0.3 },
	{ 15, 15, 0.1 }, { 15, 15, 0.3 }, { 4, 4, -0.3 },
};

START_TEST(a_drift_is_no_help)
{
	struct told told = simulate(drifts[_i].before, drifts[_i].after, 1, drifts[_i].drift, 0);

	printf("# %zu and %zu batches, drift %.1f: over 0.9 as it stands in %.3f, as it is said in %.3f\n",
	    drifts[_i].before, drifts[_i].after, drifts[_i].drift, told.plain, told.said);
	ck_assert_double_le(told.said, 0.1 + 3 * sqrt(0.09 / ROUNDS));
	if (drifts[_i].drift >= 0.3 && drifts[_i].before + drifts[_i].after >= 8)
		ck_assert_double_ge(told.plain, 0.2);   /* or there was nothing to guard against */
}
END_TEST

/* And what a change did do is still found, given the batches for it. */
START_TEST(help_is_seen)
{
	struct told none = simulate(15, 15, 1, 0, 2), beside = simulate(15, 15, 1, 0.1, 2);

	printf("# a step of two scatters, 15 and 15 batches: said in %.3f without a drift, %.3f beside one\n",
	    none.said, beside.said);
	ck_assert_double_ge(none.said, 0.8);
	ck_assert_double_ge(beside.said, 0.8);
}
END_TEST

/* Too few to tell: as it stands, and marked so. */
START_TEST(few_are_plain)
{
	struct ab_trend_change c = {
		.n_before = 3, .n_after = 4, .p_better = 0.95, .low = 1, .high = 5, .allowed = { 2, 0.7, -1, 4 }
	};
	struct ab_trend_said said = ab_trend_say(&c);

	ck_assert(said.plain && said.p_better == 0.95 && said.low == 1 && said.high == 5);
	c.n_before = 4;
	said = ab_trend_say(&c);
	ck_assert(!said.plain && said.p_better == 0.7 && said.low == -1 && said.high == 4);
	c.allowed.p_better = NAN;
	ck_assert(ab_trend_say(&c).plain);
	c.p_better = NAN;
	ck_assert(isnan(ab_trend_say(&c).p_better));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("drift");
	TCase *tc = tcase_create("drift");

	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, a_drift_is_no_help, 0, (int)(sizeof drifts / sizeof *drifts));
	tcase_add_test(tc, help_is_seen);
	tcase_add_test(tc, few_are_plain);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
