/* check_weight.c - conditions, signs averaged over uncertainty, odds of a cause
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tiny.h"

static struct ab_fact facts[T_FACTS];
static const struct ab_knowledge *k;
static const struct ab_cause *warm;

static void set_up(void)
{
	static const struct ab_fact unknown;
	for (int i = 0; i < T_FACTS; i++)
		facts[i] = unknown;
	k = tiny_rules("");
	warm = &k->causes[0];
}

static void tear_down(void)
{
	tiny_clean();
}

/* ---- conditions ---- */

static const struct { struct ab_cond cond; bool known; double value; bool holds; } conds[] = {
	{ { 0, AB_CMP_IS, 0, 5 }, true, 0, true }, { { 0, AB_CMP_IS, 0, 5 }, true, 1, false },
	{ { 0, AB_CMP_IS, 0, 5 }, true, 2, true },
	{ { 0, AB_CMP_IS, 0, 5 }, false, 0, false }, { { 0, AB_CMP_NOT, 0, 5 }, true, 1, true },
	{ { 0, AB_CMP_NOT, 0, 5 }, true, 2, false },
	{ { 0, AB_CMP_NOT, 0, 5 }, false, 1, false }, { { 0, AB_CMP_UNLESS, 0, 5 }, true, 1, true },
	{ { 0, AB_CMP_UNLESS, 0, 5 }, true, 2, false },
	{ { 0, AB_CMP_UNLESS, 0, 5 }, false, 2, true }, { { 0, AB_CMP_OVER, 2, 0 }, true, 2.1, true },
	{ { 0, AB_CMP_OVER, 2, 0 }, true, 2, false },
	{ { 0, AB_CMP_OVER, 2, 0 }, false, 9, false }, { { 0, AB_CMP_UNDER, 2, 0 }, true, 1.9, true },
	{ { 0, AB_CMP_UNDER, 2, 0 }, true, 2, false },
	{ { 0, AB_CMP_UNDER, 2, 0 }, false, 0, false }, { { 0, AB_CMP_KNOWN, 0, 0 }, true, 0, true },
	{ { 0, AB_CMP_KNOWN, 0, 0 }, false, 0, false },
	{ { 0, AB_CMP_UNKNOWN, 0, 0 }, true, 0, false }, { { 0, AB_CMP_UNKNOWN, 0, 0 }, false, 0, true },
};

START_TEST(one_condition)
{
	struct ab_conds one = { &conds[_i].cond, 1, 0 };
	facts[0] = tiny_fact(conds[_i].value);
	if (!conds[_i].known)
		facts[0].origin = AB_ORIGIN_UNKNOWN;
	ck_assert_msg(ab_conds_hold(&one, facts) == conds[_i].holds, "row %d", _i);
}
END_TEST

START_TEST(all_conditions)
{
	struct ab_cond two[] = { { T_OVER, AB_CMP_OVER, 1, 0 }, { T_ODD, AB_CMP_IS, 0, 2 } };
	struct ab_conds all = { two, 2, 0 }, none = { NULL, 0, 0 };
	facts[T_OVER] = tiny_fact(3);
	ck_assert(!ab_conds_hold(&all, facts));
	facts[T_ODD] = tiny_fact(1);
	ck_assert(ab_conds_hold(&all, facts));
	ck_assert(ab_conds_hold(&none, facts));
}
END_TEST

/* ---- signs ---- */

/* By hand from the points -1:0.3, 1:1, 3:5, 6:15, linear in log ratio. */
static const struct { double x, want; } curve[] = {
	{ -20, 0.3 }, { -1, 0.3 }, { 0, 0.5477225575051661 /* sqrt 0.3 */ }, { 1, 1 },
	{ 2, 2.23606797749979 /* sqrt 5 */ }, { 3, 5 },
	{ 4, 7.211247851537042 /* 5 * 3^(1/3) */ }, { 6, 15 }, { 40, 15 },
};

START_TEST(curve_points)
{
	facts[T_OVER] = tiny_fact(curve[_i].x);
	ck_assert_double_eq_tol(exp(ab_sign_weight(&warm->signs[0], facts)), curve[_i].want, 1e-9);
}
END_TEST

/* The mean of exp(a x) over a normal x is exp(a m + a^2 u^2 / 2): the rule is nearly exact where the curve is one
 * straight line. */
START_TEST(mean_over_uncertainty)
{
	struct ab_sign line = { .slot = T_OVER, .group = -1, .n = 2, .x = { -40, 40 }, .log_ratio = { -20, 20 } };
	static const double us[] = { 0.1, 0.5, 1, 2 };
	for (size_t i = 0; i < 4; i++) {
		double a = 0.5, u = us[i];
		facts[T_OVER] = tiny_fact(1.5);
		facts[T_OVER].u = u;
		ck_assert_double_eq_tol(ab_sign_weight(&line, facts), a * 1.5 + a * a * u * u / 2, 1e-4);
	}
}
END_TEST

static double all_at_once(const struct ab_knowledge *rules)
{
	double odds[8];
	struct ab_held held;
	ck_assert_uint_le(rules->n_causes, 8);
	ab_held_begin(&held, facts);
	ab_all_log_odds(rules, &held, odds);
	return odds[0];
}

/* The same rules, whose first cause has other signs. */
static struct ab_knowledge with_signs(struct ab_sign *signs, struct ab_arena *arena)
{
	struct ab_knowledge other = *k;

	other.causes = ab_arena_alloc(arena, k->n_causes, sizeof *other.causes);
	ck_assert_ptr_nonnull(other.causes);
	memcpy(other.causes, k->causes, k->n_causes * sizeof *other.causes);
	other.causes[0].signs = signs;
	return other;
}

/* A curve of the figure as it is reckoned is read there, however unsure the figure; alone and heard with all. */
START_TEST(nominal_is_read_where_it_stands)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_sign as_reckoned[3];
	struct ab_diag diag;

	ab_diag_init(&diag);
	facts[T_OVER] = tiny_fact(3);
	facts[T_OVER].u = 2;
	memcpy(as_reckoned, warm->signs, sizeof as_reckoned);
	as_reckoned[0].nominal = true;
	ck_assert_double_eq_tol(ab_sign_weight(&as_reckoned[0], facts), log(5), 1e-12);
	ck_assert(fabs(ab_sign_weight(&warm->signs[0], facts) - log(5)) > 0.05);
	struct ab_knowledge other = with_signs(as_reckoned, arena);
	ck_assert_int_eq(ab_knowledge_settle(&other, arena, &diag), AB_OK);
	double settled = all_at_once(&other);
	ck_assert_double_eq(settled, ab_cause_log_odds(&other.causes[0], facts, NULL));
	ck_assert(fabs(settled - all_at_once(k)) > 0.05);
	ab_arena_free(arena);
}
END_TEST

START_TEST(flat_beyond_stays_flat)
{
	facts[T_OVER] = tiny_fact(-20);
	facts[T_OVER].u = 2;
	ck_assert_double_eq_tol(exp(ab_sign_weight(&warm->signs[0], facts)), 0.3, 1e-12);
}
END_TEST

START_TEST(words_of_a_sign)
{
	facts[T_CONTROL] = tiny_fact(0);
	ck_assert_double_eq_tol(exp(ab_sign_weight(&warm->signs[2], facts)), 2, 1e-12);
	facts[T_CONTROL] = tiny_fact(2);
	ck_assert_double_eq(ab_sign_weight(&warm->signs[2], facts), 0);
}
END_TEST

START_TEST(a_guess_weighs_half)
{
	facts[T_OVER] = tiny_fact(3);
	facts[T_OVER].guess = true;
	ck_assert_double_eq_tol(ab_sign_weight(&warm->signs[0], facts), log(5) / 2, 1e-12);
}
END_TEST

START_TEST(unknown_is_silent)
{
	ck_assert_double_eq(ab_sign_weight(&warm->signs[0], facts), 0);
}
END_TEST

START_TEST(a_condition_that_fails_silences)
{
	struct ab_cond odd = { T_ODD, AB_CMP_IS, 0, 2 };
	struct ab_sign sign = warm->signs[0];
	sign.when = (struct ab_conds){ &odd, 1, 0 };
	facts[T_OVER] = tiny_fact(3);
	ck_assert_double_eq(ab_sign_weight(&sign, facts), 0);
	facts[T_ODD] = tiny_fact(1);
	ck_assert_double_eq_tol(ab_sign_weight(&sign, facts), log(5), 1e-12);
}
END_TEST

/* ---- causes ---- */

START_TEST(bare_prior)
{
	ck_assert_double_eq_tol(ab_cause_log_odds(warm, facts, NULL), log(0.2 / 0.8), 1e-12);
}
END_TEST

START_TEST(last_prior_that_holds)
{
	facts[T_CONTROL] = tiny_fact(2);
	ck_assert_double_eq_tol(ab_cause_log_odds(warm, facts, NULL), log(0.05 / 0.95), 1e-12);
}
END_TEST

/* The peak says 8, the mean 5: both come from one thermometer, so only the 8 counts; the control adds its 2. */
START_TEST(strongest_of_a_group)
{
	double used[3];
	facts[T_OVER] = tiny_fact(3);
	facts[T_PEAK] = tiny_fact(6);
	facts[T_CONTROL] = tiny_fact(0);
	ck_assert_double_eq_tol(ab_cause_log_odds(warm, facts, used), log(0.25 * 8 * 2), 1e-12);
	ck_assert_double_eq(used[0], 0);
	ck_assert_double_eq_tol(used[1], log(8), 1e-12);
	ck_assert_double_eq_tol(used[2], log(2), 1e-12);
	facts[T_PEAK] = tiny_fact(1);   /* 8^(1/6) is less than 5 */
	ab_cause_log_odds(warm, facts, used);
	ck_assert_double_eq_tol(used[0], log(5), 1e-12);
	ck_assert_double_eq(used[1], 0);
}
END_TEST

START_TEST(gated)
{
	double used[3] = { 9, 9, 9 };
	facts[T_OVER] = tiny_fact(6);
	facts[T_CONTROL] = tiny_fact(2);
	ck_assert(isfinite(ab_cause_log_odds(warm, facts, NULL)));   /* one of the gate's two conditions */
	facts[T_SEALED] = tiny_fact(1);
	ck_assert(ab_cause_log_odds(warm, facts, used) < -1e300);
	ck_assert_double_eq(used[0], 0);
}
END_TEST

START_TEST(kept_within_the_solver)
{
	struct ab_sign sure = { .slot = T_OVER, .group = -1, .n = 2, .x = { 0, 1 }, .log_ratio = { -900, 900 } };
	struct ab_cause c = *warm;
	c.signs = &sure;
	c.n_signs = 1;
	facts[T_OVER] = tiny_fact(1);
	ck_assert_double_eq(ab_cause_log_odds(&c, facts, NULL), 500);
	facts[T_OVER] = tiny_fact(0);
	ck_assert_double_eq(ab_cause_log_odds(&c, facts, NULL), -500);
}
END_TEST

/* Who gives a cause other signs, in another array, is heard; and settled, they are heard the quick way, too. */
START_TEST(other_signs_are_heard)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_sign loud[3];
	struct ab_diag diag;
	ab_diag_init(&diag);
	facts[T_OVER] = tiny_fact(3);
	double before = all_at_once(k);
	ck_assert_double_eq(before, ab_cause_log_odds(warm, facts, NULL));
	ck_assert_uint_eq(warm->n_signs, 3);
	memcpy(loud, warm->signs, sizeof loud);
	for (size_t i = 0; i < loud[0].n; i++)
		loud[0].log_ratio[i] *= 2;
	struct ab_knowledge other = with_signs(loud, arena);
	double after = ab_cause_log_odds(&other.causes[0], facts, NULL);
	ck_assert(fabs(after - before) > 0.1);
	ck_assert_double_eq(all_at_once(&other), after);
	ck_assert_int_eq(ab_knowledge_settle(&other, arena, &diag), AB_OK);
	ck_assert_ptr_ne(other.hearing, k->hearing);
	ck_assert_double_eq(all_at_once(&other), after);
	other.hearing = NULL;
	ck_assert_double_eq(all_at_once(&other), after);
	ck_assert_double_eq(all_at_once(k), before);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("weight");
	TCase *tc = tcase_create("weight");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, one_condition, 0, sizeof conds / sizeof *conds);
	tcase_add_test(tc, all_conditions);
	tcase_add_loop_test(tc, curve_points, 0, sizeof curve / sizeof *curve);
	tcase_add_test(tc, mean_over_uncertainty);
	tcase_add_test(tc, nominal_is_read_where_it_stands);
	tcase_add_test(tc, flat_beyond_stays_flat);
	tcase_add_test(tc, words_of_a_sign);
	tcase_add_test(tc, a_guess_weighs_half);
	tcase_add_test(tc, unknown_is_silent);
	tcase_add_test(tc, a_condition_that_fails_silences);
	tcase_add_test(tc, bare_prior);
	tcase_add_test(tc, last_prior_that_holds);
	tcase_add_test(tc, strongest_of_a_group);
	tcase_add_test(tc, gated);
	tcase_add_test(tc, kept_within_the_solver);
	tcase_add_test(tc, other_signs_are_heard);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
