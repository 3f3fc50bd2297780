/* check_frontier.c - what each budget buys, against enumeration and against one plan at a time
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <check.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"
#include "plan_cases.h"

enum { POINTS = 2048, SEEDS = 10 };

static struct plan_case drawn;
static struct ab_frontier_point points[POINTS];
static unsigned char store[POINTS * AB_PLAN_CHANGES];

static const struct { const char *title; int axis; struct plan_shape shape; } shapes[] = {
	{ "one budget", 0, { .changes = 11, .causes = 8, .touches = 3, .budgets = 1, .tight = 1 } },
	{ "two budgets, over minutes", 1, { .changes = 11, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.5 } },
	{ "needs and groups", 0, { .changes = 12, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.6, .needs = true,
	    .shared_needs = true, .groups = true } },
	{ "savings on the axis", 0,
	    { .changes = 11, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.5, .savings = true } },
	{ "savings must mend another budget", 0, { .changes = 11, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.5,
	    .savings = true, .overdrawn = true } },
	{ "owned, copies", 0,
	    { .changes = 12, .causes = 8, .touches = 3, .budgets = 1, .tight = 0.7, .owned = true, .copies = true } },
	{ "ties", 0,
	    { .changes = 10, .causes = 5, .touches = 3, .budgets = 2, .tight = 0.6, .coarse = true, .copies = true } },
	{ "cost like benefit", 0,
	    { .changes = 11, .causes = 8, .touches = 3, .budgets = 1, .tight = 0.6, .proportional = true } },
	{ "tables", 0,
	    { .changes = 11, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.6, .tables = true, .groups = true } },
};
enum { N_SHAPES = sizeof shapes / sizeof *shapes };

static double
cost_of(const struct ab_problem *p, const unsigned char *chosen, int axis)
{
	double sum = 0;
	size_t u;

	for (u = 0; u < p->n_changes; u++)
		sum += chosen[u] ? p->cost[u * p->n_budgets + (size_t)axis] : 0;
	return sum;
}

static void
check_points(const char *title, int axis, size_t n)
{
	const struct ab_problem *p = &drawn.problem;
	size_t k;

	for (k = 0; k < n; k++) {
		ck_assert_msg(
		    points[k].chosen == store + k * p->n_changes, "%s: point %zu is not in its slice", title, k);
		ck_assert_msg(plan_case_allows(p, points[k].chosen), "%s: point %zu breaks a rule", title, k);
		ck_assert_msg(fabs(cost_of(p, points[k].chosen, axis) - points[k].cost) < 1e-9,
		    "%s: cost of point %zu", title, k);
		ck_assert_msg(fabs(ab_plan_removed(p, points[k].chosen) - points[k].removed) < 1e-11,
		    "%s: removed of point %zu", title, k);
		ck_assert_msg(points[k].gap >= 0 && points[k].gap <= 0, "%s: gap of point %zu", title, k);
		ck_assert_msg(
		    k == 0 || (points[k].cost > points[k - 1].cost && points[k].removed > points[k - 1].removed),
		    "%s: point %zu is no better than the one before", title, k);
	}
}

START_TEST(equals_enumeration)
{
	double cost[POINTS], removed[POINTS];
	int seed, compared = 0;
	size_t k;

	for (seed = 0; seed < SEEDS; seed++) {
		struct ab_diag diag;
		enum ab_status st;
		size_t n, want;

		plan_case_make(&drawn, &shapes[_i].shape, (unsigned long long)(400 + 100 * _i + seed));
		want = plan_case_frontier(&drawn.problem, shapes[_i].axis, cost, removed, POINTS);
		ab_diag_init(&diag);
		st = ab_plan_frontier(&drawn.problem, shapes[_i].axis, points, POINTS, store, &n, &diag);
		ck_assert_msg(
		    st == (want > 0 ? AB_OK : AB_EINPUT), "%s, seed %d: %s", shapes[_i].title, seed, diag.text);
		ck_assert_msg(n == want, "%s, seed %d: %zu points, not %zu", shapes[_i].title, seed, n, want);
		check_points(shapes[_i].title, shapes[_i].axis, n);
		for (k = 0; k < n; k++) {
			ck_assert_msg(fabs(points[k].cost - cost[k]) < 1e-9, "%s, seed %d: point %zu costs %g, not %g",
			    shapes[_i].title, seed, k, points[k].cost, cost[k]);
			ck_assert_msg(fabs(points[k].removed - removed[k]) < 1e-10,
			    "%s, seed %d: point %zu removes %g, not %g", shapes[_i].title, seed, k,
			    points[k].removed, removed[k]);
			compared++;
		}
	}
	ck_assert_int_gt(compared, 2 * SEEDS);
}
END_TEST

/* At 40 changes: at every third point, and a cent below it, the plan alone says the same. */
START_TEST(agrees_with_single_plans)
{
	const struct plan_shape shape = { .changes = 40,
		.causes = 25,
		.touches = 4,
		.budgets = 2,
		.tight = 0.5,
		.needs = _i == 1,
		.groups = _i == 2,
		.savings = _i == 3 };
	unsigned char chosen[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen };
	size_t n, k;

	plan_case_make(&drawn, &shape, (unsigned long long)(800 + _i));
	ck_assert_int_eq(ab_plan_frontier(&drawn.problem, 0, points, POINTS, store, &n, NULL), AB_OK);
	ck_assert_uint_gt(n, 20);
	check_points("40 changes", 0, n);
	for (k = 1; k < n; k += 3) {
		drawn.problem.budget[0] = points[k].cost;
		ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
		ck_assert_double_eq_tol(choice.removed, points[k].removed, 1e-11);
		drawn.problem.budget[0] = points[k].cost - 0.01;
		ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
		ck_assert_double_eq_tol(choice.removed, points[k - 1].removed, 1e-11);
	}
}
END_TEST

/* Three changes by hand: 0 is free, 1 costs 2, 2 costs 5; all of one cause each. */
START_TEST(known_frontier)
{
	const double load[] = { 1, 2, 4 }, cost[] = { 0, 2, 5 }, want_cost[] = { 0, 2, 5, 7 }, want[] = { 1, 3, 5, 7 };
	const struct ab_effect effects[] = { { 0, 0, 1 }, { 1, 1, 1 }, { 2, 2, 1 } };
	struct ab_problem p = { .n_causes = 3,
		.n_changes = 3,
		.n_effects = 3,
		.n_budgets = 1,
		.load = load,
		.effects = effects,
		.cost = cost,
		.budget = { _i == 0 ? 100 : (double)INFINITY } };
	struct ab_diag diag;
	size_t n, k;

	ck_assert_int_eq(ab_plan_frontier(&p, 0, points, POINTS, store, &n, NULL), AB_OK);
	ck_assert_uint_eq(n, 4);
	for (k = 0; k < n; k++) {
		ck_assert_double_eq_tol(points[k].cost, want_cost[k], 1e-12);
		ck_assert_double_eq_tol(points[k].removed, want[k], 1e-12);
	}
	ck_assert_int_eq(ab_plan_frontier(&p, 0, points, 4, store, &n, NULL), AB_OK);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_plan_frontier(&p, 0, points, 3, store, &n, &diag), AB_ELIMIT);
	ck_assert_uint_eq(n, 0);
	ck_assert(diag.text[0] != '\0');
}
END_TEST

START_TEST(wrong_axis)
{
	const struct ab_problem p = { .n_budgets = 1 };
	size_t n;

	ck_assert_int_eq(ab_plan_frontier(&p, 1, points, POINTS, store, &n, NULL), AB_EUSAGE);
	ck_assert_int_eq(ab_plan_frontier(&p, -1, points, POINTS, store, &n, NULL), AB_EUSAGE);
	ck_assert_int_eq(ab_plan_frontier(&p, 0, points, POINTS, store, &n, NULL), AB_OK);
	ck_assert_uint_eq(n, 1);                 /* buy nothing */
}
END_TEST

START_TEST(memory_runs_out)
{
	size_t n;
	long k, allocations;

	plan_case_make(&drawn, &shapes[0].shape, 5);
	ab_alloc_fail_at(-1);
	ck_assert_int_eq(ab_plan_frontier(&drawn.problem, 0, points, POINTS, store, &n, NULL), AB_OK);
	allocations = ab_alloc_count();
	ck_assert_int_gt(allocations, 5);
	for (k = 0; k < allocations; k++) {
		ab_alloc_fail_at(k);
		ck_assert_int_eq(ab_plan_frontier(&drawn.problem, 0, points, POINTS, store, &n, NULL), AB_ENOMEM);
		ck_assert_uint_eq(n, 0);
	}
	ab_alloc_fail_at(-1);
}
END_TEST

int
main(void)
{
	Suite *suite = suite_create("frontier");
	TCase *tc = tcase_create("frontier");
	SRunner *sr;

	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, equals_enumeration, 0, N_SHAPES);
	tcase_add_loop_test(tc, agrees_with_single_plans, 0, 4);
	tcase_add_loop_test(tc, known_frontier, 0, 2);
	tcase_add_test(tc, wrong_axis);
	tcase_add_test(tc, memory_runs_out);
	suite_add_tcase(suite, tc);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
