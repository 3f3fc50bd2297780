/* check_plan.c - the planner against enumeration, against its own certificate, and at its edges
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "advice/planning.h"
#include "base/alloc.h"
#include "plan_cases.h"

enum { SEEDS = 30 };

static struct plan_case drawn;

/* ---- random instances against enumeration ---- */

static const struct { const char *title; struct plan_shape shape; } shapes[] = {
	{ "plain, one budget", { .changes = 12, .causes = 8, .touches = 3, .budgets = 1, .tight = 0.3 } },
	{ "two budgets", { .changes = 13, .causes = 9, .touches = 3, .budgets = 2, .tight = 0.4 } },
	{ "three budgets", { .changes = 13, .causes = 9, .touches = 4, .budgets = 3, .tight = 0.5 } },
	{ "crowded causes", { .changes = 14, .causes = 3, .touches = 3, .budgets = 2, .tight = 0.3 } },
	{ "needs", { .changes = 12, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.4, .needs = true } },
	{ "shared needs",
	    { .changes = 12, .causes = 8, .touches = 2, .budgets = 1, .tight = 0.3, .shared_needs = true } },
	{ "shared needs, crowded",
	    { .changes = 14, .causes = 5, .touches = 3, .budgets = 1, .tight = 0.25, .needs = true,
	    .shared_needs = true } },
	{ "groups", { .changes = 13, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.4, .groups = true } },
	{ "owned and out", { .changes = 14, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.4, .owned = true } },
	{ "near copies", { .changes = 13, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.3, .copies = true } },
	{ "savings", { .changes = 13, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.1, .savings = true } },
	{ "savings must mend", { .changes = 12, .causes = 8, .touches = 3, .budgets = 3, .tight = 0.2, .savings = true,
	    .overdrawn = true } },
	{ "cost like benefit",
	    { .changes = 14, .causes = 10, .touches = 3, .budgets = 1, .tight = 0.4, .proportional = true } },
	{ "ties",
	    { .changes = 11, .causes = 5, .touches = 3, .budgets = 1, .tight = 0.4, .coarse = true, .copies = true } },
	{ "ties with everything",
	    { .changes = 12, .causes = 6, .touches = 3, .budgets = 2, .tight = 0.3, .coarse = true,
	    .copies = true, .needs = true, .groups = true, .owned = true, .savings = true } },
	{ "everything, sixteen changes",
	    { .changes = 16, .causes = 9, .touches = 4, .budgets = 3, .tight = 0.3, .copies = true,
	    .needs = true, .shared_needs = true, .groups = true, .owned = true, .savings = true } },
	{ "tables", { .changes = 13, .causes = 8, .touches = 3, .budgets = 2, .tight = 0.3, .tables = true } },
	{ "tables, crowded", { .changes = 12, .causes = 4, .touches = 3, .budgets = 2, .tight = 0.4, .tables = true } },
	{ "tables with everything",
	    { .changes = 13, .causes = 8, .touches = 3, .budgets = 3, .tight = 0.3, .tables = true, .copies = true,
	    .needs = true, .shared_needs = true, .groups = true, .owned = true, .savings = true } },
	{ "tables that must mend",
	    { .changes = 12, .causes = 8, .touches = 3, .budgets = 3, .tight = 0.2, .tables = true, .savings = true,
	    .overdrawn = true } },
};
enum { N_SHAPES = sizeof shapes / sizeof *shapes };

static void
compare_with_truth(const char *title, int seed, const struct plan_options *options)
{
	const struct ab_problem *p = &drawn.problem;
	unsigned char chosen[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen };
	struct plan_truth truth;
	struct ab_diag diag;
	bool any = plan_case_enumerate(p, &truth);
	enum ab_status st;
	size_t u;

	ab_diag_init(&diag);
	st = plan_solve_with(p, options, &choice, &diag);
	ck_assert_msg(st == (any ? AB_OK : AB_EINPUT), "%s, seed %d: status %d, %s", title, seed, st, diag.text);
	if (!any)
		return;
	ck_assert_msg(plan_case_allows(p, chosen), "%s, seed %d: the plan breaks a rule", title, seed);
	ck_assert_msg(fabs(choice.removed - truth.removed) < 1e-10, "%s, seed %d: removes %.15g, the best is %.15g",
	    title, seed, choice.removed, truth.removed);
	ck_assert_msg(choice.gap >= 0 && choice.gap <= 0, "%s, seed %d: gap %g", title, seed, choice.gap);
	for (u = 0; u < p->n_changes; u++)
		ck_assert_msg(chosen[u] == truth.chosen[u],
		    "%s, seed %d: as good, but not the preferred plan (change %zu)", title, seed, u);
}

static void
compare_shape(int row, const struct plan_options *options)
{
	int seed;

	for (seed = 0; seed < SEEDS; seed++) {
		plan_case_make(&drawn, &shapes[row].shape, (unsigned long long)(100 * row + seed));
		compare_with_truth(shapes[row].title, seed, options);
	}
}

START_TEST(equals_enumeration)
{
	compare_shape(_i, &(struct plan_options){ 0 });
}
END_TEST

/* A cut scan pays most of a crowded cause in full: the way big problems go, seen on small ones. */
START_TEST(equals_enumeration_with_scan_cut)
{
	compare_shape(_i, &(struct plan_options){ .scan = 2 });
}
END_TEST

/* Prices hardly worked on: the tree does the work and every branch is walked. */
START_TEST(equals_enumeration_with_poor_prices)
{
	compare_shape(_i, &(struct plan_options){ .scan = 1, .root_steps = 1 });
}
END_TEST

/* ---- stopping early ---- */

START_TEST(early_stop_certifies)
{
	const struct plan_options poor = { .scan = 2, .root_steps = 1 };
	int seed, open = 0;
	long limit;

	for (seed = 0; seed < SEEDS; seed++)
		for (limit = 1; limit <= 5; limit++) {
			unsigned char chosen[AB_PLAN_CHANGES];
			struct ab_choice choice = { .chosen = chosen };
			struct plan_truth truth;
			enum ab_status st;

			plan_case_make(&drawn, &shapes[_i].shape, (unsigned long long)(7000 + 100 * _i + seed));
			drawn.problem.node_limit = limit;
			if (!plan_case_enumerate(&drawn.problem, &truth))
				continue;
			st = plan_solve_with(&drawn.problem, &poor, &choice, NULL);
			if (st == AB_ELIMIT)
				continue;       /* savings must mend, and the few nodes found no plan */
			ck_assert_int_eq(st, AB_OK);
			ck_assert_int_le(choice.nodes, limit);
			ck_assert(plan_case_allows(&drawn.problem, chosen));
			ck_assert_msg(choice.bound >= truth.removed - 1e-12,
			    "%s, seed %d, %ld nodes: bound %.15g below the best %.15g", shapes[_i].title, seed,
			    limit, choice.bound, truth.removed);
			ck_assert_double_eq_tol(choice.gap, choice.bound - choice.removed, 1e-15);
			ck_assert_msg(choice.gap > 0 || choice.removed >= truth.removed - 1e-12,
			    "%s, seed %d: called proven, is not", shapes[_i].title, seed);
			open += choice.gap > 0;
		}
	ck_assert_msg(open > 0, "%s: no search was stopped early, so nothing was tested", shapes[_i].title);
}
END_TEST

/* ---- the root certificate, recomputed from the inequality ---- */

/* max over all sets A of the changes touching the cause of [f_i(A) - w_i(A)], one change after the other. */
static double best_of_cause(const struct ab_problem *p, const struct plan_certificate *c, int cause, double load,
    size_t k, double keep, double paid)
{
	double with, without;

	while (k < p->n_effects && (p->effects[k].cause != cause || !c->open[p->effects[k].change]))
		k++;
	if (k == p->n_effects)
		return load * (1 - keep) - paid;
	without = best_of_cause(p, c, cause, load, k + 1, keep, paid);
	with = best_of_cause(p, c, cause, load, k + 1, keep * (1 - p->effects[k].share), paid + c->pay[k]);
	return with > without ? with : without;
}

/* The same of a cause with a table, whose payments come after those of the effects and of the tables before it. */
static double
best_of_table(const struct ab_problem *p, const struct plan_certificate *c, size_t at)
{
	const struct ab_joint *j = &p->joints[at];
	size_t set, k, first = p->n_effects;
	double best = 0;

	for (k = 0; k < at; k++)
		first += p->joints[k].n;
	for (set = 0; set < (size_t)1 << j->n; set++) {
		double worth = p->load[j->cause] * j->share[set];
		bool may = true;

		for (k = 0; k < j->n; k++)
			if (set >> k & 1) {
				worth -= c->pay[first + k];
				may = may && c->open[j->changes[k]];
			}
		best = may ? fmax(best, worth) : best;
	}
	return best;
}

static double
worth_of(const struct ab_problem *p, const struct plan_certificate *c, int u)
{
	double r = 0;
	size_t k;

	for (k = 0; k < p->n_effects; k++)
		if (p->effects[k].change == u)
			r += c->pay[k];
	size_t i, place = p->n_effects;

	for (k = 0; k < p->n_joints; k++)
		for (i = 0; i < p->joints[k].n; i++, place++)
			r += p->joints[k].changes[i] == u ? c->pay[place] : 0;
	for (k = 0; k < p->n_budgets; k++)
		r -= c->charge[k] * p->cost[(size_t)u * p->n_budgets + k];
	for (k = 0; k < c->n_arcs; k++) {
		r -= c->arcs[k].change == u ? c->subsidy[k] : 0;
		r += c->arcs[k].needs == u ? c->subsidy[k] : 0;
	}
	return r;
}

static double
recompute(const struct ab_problem *p, const struct plan_certificate *c)
{
	double sum = 0;
	size_t i, k, u, v;

	for (i = 0; i < p->n_causes; i++) {
		double load = p->load[i];

		for (k = 0; k < p->n_effects; k++)
			if (p->effects[k].cause == (int)i && p->state[p->effects[k].change] == AB_CHANGE_OWNED)
				load *= 1 - p->effects[k].share;
		sum += best_of_cause(p, c, (int)i, load, 0, 1, 0);
	}
	for (k = 0; k < p->n_joints; k++)
		sum += best_of_table(p, c, k);
	for (k = 0; k < p->n_budgets; k++)
		sum += c->charge[k] * p->budget[k];
	for (u = 0; u < p->n_changes; u++) {
		double top = 0;
		bool first = true;

		for (v = 0; c->open[u] && v < p->n_changes; v++) {
			if (!c->open[v] || (v != u && (p->group[u] < 0 || p->group[u] != p->group[v])))
				continue;
			first = first && v >= u;
			top = fmax(top, worth_of(p, c, (int)v));
		}
		sum += first ? top : 0;         /* once a group, at its first open member */
	}
	return sum;
}

static double arc_subsidies[CASE_NEEDS + AB_PLAN_CHANGES], effect_pay[AB_PLAN_CHANGES * 16 + CASE_JOINTS * CASE_TABLE];
static struct plan_arc arc_list[CASE_NEEDS + AB_PLAN_CHANGES];

START_TEST(root_certificate_holds)
{
	const struct plan_options options = { .scan = _i % 2 == 0 ? 0 : 2 };
	unsigned char open[AB_PLAN_CHANGES];
	struct plan_certificate c = { .pay = effect_pay, .open = open, .arcs = arc_list, .subsidy = arc_subsidies };
	struct plan_truth truth;
	int seed;
	size_t k;

	for (seed = 0; seed < 12; seed++) {
		double again;

		plan_case_make(&drawn, &shapes[_i / 2].shape, (unsigned long long)(300 + 100 * _i + seed));
		if (!plan_case_enumerate(&drawn.problem, &truth))
			continue;
		ck_assert_int_eq(plan_certify(&drawn.problem, &options, &c, NULL), AB_OK);
		again = recompute(&drawn.problem, &c);
		for (k = 0; k < c.n_arcs; k++)
			ck_assert(c.subsidy[k] >= 0);
		for (k = 0; k < drawn.problem.n_budgets; k++)
			ck_assert(c.charge[k] >= 0);
		ck_assert_msg(again >= truth.removed - 1e-12, "%s, seed %d: certificate %.15g below the best %.15g",
		    shapes[_i / 2].title, seed, again, truth.removed);
		/* paying in full what is not scanned can only loosen the bound */
		if (options.scan == 0)
			ck_assert_msg(fabs(again - c.bound) < 1e-11, "%s, seed %d: bound %.15g, recomputed %.15g",
			    shapes[_i / 2].title, seed, c.bound, again);
		else
			ck_assert_msg(again <= c.bound + 1e-11, "%s, seed %d: bound %.15g, recomputed %.15g",
			    shapes[_i / 2].title, seed, c.bound, again);
	}
}
END_TEST

/* ---- what forcing a change in or out costs the bound, against the best plans with and without it ---- */

static bool
keeps_arcs(const struct plan_model *m, const unsigned char *chosen)
{
	size_t k;

	for (k = 0; k < m->n_arcs; k++)
		if (chosen[m->original[m->arcs[k].change]] && !chosen[m->original[m->arcs[k].needs]])
			return false;
	return true;
}

/* best[u][0 or 1]: the most any allowed set without or with change u of the model removes; -infinity when there is
 * none. */
static void
best_by_change(const struct ab_problem *p, const struct plan_model *m, double best[][2])
{
	unsigned char chosen[AB_PLAN_CHANGES] = { 0 };
	unsigned long set;
	size_t u;

	for (u = 0; u < m->n; u++)
		best[u][0] = best[u][1] = -(double)INFINITY;
	for (set = 0; set < 1UL << m->n; set++) {
		double value;

		for (u = 0; u < m->n; u++)
			chosen[m->original[u]] = (unsigned char)(set >> u & 1);
		if (!plan_case_allows(p, chosen) || !keeps_arcs(m, chosen))
			continue;
		value = ab_plan_removed(p, chosen);
		for (u = 0; u < m->n; u++)
			best[u][set >> u & 1] = fmax(best[u][set >> u & 1], value);
	}
}

static void check_losses(const char *title, int seed, const struct plan_model *m, struct plan_bound *b,
    struct plan_node *node, double best[][2])
{
	double bound = plan_bound_price(b, node);
	size_t u;

	for (u = 0; u < m->n; u++) {
		ck_assert_msg(bound - b->loss_in[u] >= best[u][1] - 1e-12,
		    "%s, seed %d: change %zu in: %.15g below %.15g", title, seed, u, bound - b->loss_in[u],
		    best[u][1]);
		ck_assert_msg(bound - b->loss_not[u] >= best[u][0] - 1e-12,
		    "%s, seed %d: change %zu out: %.15g below %.15g", title, seed, u, bound - b->loss_not[u],
		    best[u][0]);
	}
}

START_TEST(losses_hold)
{
	static double best[AB_PLAN_CHANGES][2];
	struct plan_model *m;
	struct plan_bound b;
	struct plan_node *node;
	int seed, k;

	for (seed = 0; seed < 8; seed++) {
		plan_case_make(&drawn, &shapes[_i / 2].shape, (unsigned long long)(5000 + 100 * _i + seed));
		ck_assert_int_eq(plan_model_new(&drawn.problem, -1, &m, NULL), AB_OK);
		best_by_change(&drawn.problem, m, best);
		ck_assert(plan_bound_init(&b, m, _i % 2 == 0 ? 0 : 2));
		node = plan_node_new(m);
		ck_assert_ptr_nonnull(node);
		plan_node_reset(m, node);
		plan_bound_focus(&b, node);
		plan_bound_sweep(&b, node);
		for (k = 0; k < 40; k++) {              /* at poor prices and at better ones */
			if (k % 10 == 0)
				plan_bound_charge(&b, node);
			check_losses(shapes[_i / 2].title, seed, m, &b, node, best);
			plan_bound_step(&b, node, 0.3, k == 0);
		}
		plan_node_free(node);
		plan_bound_clear(&b);
		plan_model_free(m);
	}
}
END_TEST

/* Good prices: the root alone must come close, or the search only looks exact because small trees are small. */
START_TEST(root_bound_is_tight)
{
	const struct plan_shape shape = {
		.changes = 16, .causes = 10, .touches = 3, .budgets = 1, .tight = 0.4, .proportional = true
	};
	unsigned char open[AB_PLAN_CHANGES];
	struct plan_certificate c = { .pay = effect_pay, .open = open, .arcs = arc_list, .subsidy = arc_subsidies };
	struct plan_truth truth;
	double worst = 0;
	int seed;

	for (seed = 0; seed < 20; seed++) {
		plan_case_make(&drawn, &shape, (unsigned long long)(900 + seed));
		ck_assert(plan_case_enumerate(&drawn.problem, &truth));
		ck_assert_int_eq(plan_certify(&drawn.problem, &(struct plan_options){ 0 }, &c, NULL), AB_OK);
		worst = fmax(worst, c.bound / truth.removed - 1);
	}
	ck_assert_msg(worst < 0.05, "worst root gap %g", worst);
}
END_TEST

/* ---- sizes enumeration cannot reach ---- */

START_TEST(sixty_changes_are_proven)
{
	const struct plan_shape shape = { .changes = 60,
		.causes = 40,
		.touches = 4,
		.budgets = 1 + _i % 3,
		.tight = 0.1 + 0.06 * _i,
		.needs = _i % 2 == 0,
		.groups = _i % 3 == 0,
		.savings = _i % 4 == 0,
		.owned = _i % 5 == 0,
		.copies = _i % 5 == 1 };
	unsigned char chosen[AB_PLAN_CHANGES], again[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen }, second = { .chosen = again };

	plan_case_make(&drawn, &shape, (unsigned long long)_i);
	ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
	ck_assert(choice.gap >= 0 && choice.gap <= 0);
	ck_assert(plan_case_allows(&drawn.problem, chosen));
	ck_assert_double_eq_tol(choice.removed, ab_plan_removed(&drawn.problem, chosen), 1e-12);
	/* other prices, another tree, the same plan */
	ck_assert_int_eq(
	    plan_solve_with(&drawn.problem, &(struct plan_options){ .scan = 3, .root_steps = 40 }, &second, NULL),
	    AB_OK);
	ck_assert_double_eq_tol(choice.removed, second.removed, 1e-11);
	ck_assert(memcmp(chosen, again, drawn.problem.n_changes) == 0);
}
END_TEST

START_TEST(more_budget_never_removes_less)
{
	struct plan_shape shape = { .changes = 40,
		.causes = 25,
		.touches = 4,
		.budgets = 2,
		.tight = 0.1,
		.savings = _i % 2 == 0,
		.needs = _i % 3 == 0,
		.groups = _i % 3 == 1 };
	double last = -1;
	int step;

	for (step = 0; step < 12; step++) {
		unsigned char chosen[AB_PLAN_CHANGES];
		struct ab_choice choice = { .chosen = chosen };

		shape.tight = 0.05 * step;
		plan_case_make(&drawn, &shape, (unsigned long long)(40 + _i));
		ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
		ck_assert_msg(choice.removed >= last - 1e-12, "step %d: %g after %g", step, choice.removed, last);
		last = choice.removed;
	}
	ck_assert(last > 0);
}
END_TEST

/* Every set a problem of 40 changes allows removes at most what the plan does: tried with sets drawn at random. */
START_TEST(no_random_set_beats_the_plan)
{
	const struct plan_shape shape = {
		.changes = 40, .causes = 25, .touches = 4, .budgets = 2, .tight = 0.3, .needs = _i % 2 == 0
	};
	unsigned char chosen[AB_PLAN_CHANGES], other[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen };
	unsigned long long seed = 77 + (unsigned long long)_i;
	int k, u, tried = 0;

	plan_case_make(&drawn, &shape, (unsigned long long)(60 + _i));
	ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
	for (k = 0; k < 5000; k++) {
		memcpy(other, chosen, sizeof other);
		for (u = 0; u < 1 + k % 4; u++)
			other[(int)(plan_case_random(&seed) * 40)] ^= 1;
		if (!plan_case_allows(&drawn.problem, other))
			continue;
		tried++;
		ck_assert(ab_plan_removed(&drawn.problem, other) <= choice.removed + 1e-12);
	}
	ck_assert_int_gt(tried, 100);
}
END_TEST

/* ---- small problems with known answers ---- */

enum { SMALL = 4 };

struct small {
	const char *title, *want;            /* one digit a change */
	double removed;
	double load[3];
	double share[SMALL][3];
	double cost[SMALL][2];
	double budget[2];
	struct ab_need needs[3];             /* a need of 0 by 0 is none */
	int group[SMALL];
	enum ab_change_state state[SMALL];
	enum ab_status status;
};

#define NO_GROUP { -1, -1, -1, -1 }

static const struct small smalls[] = {
	{ .title = "the dearer of two equals is left", .want = "0100", .removed = 0.5, .load = { 1 },
	    .share = { { 0.5 }, { 0.5 } },
	    .cost = { { 3 }, { 2 } }, .budget = { 2, 9 }, .group = NO_GROUP },
	{ .title = "of two equals the first", .want = "1000", .removed = 0.5, .load = { 1 },
	    .share = { { 0.5 }, { 0.5 } },
	    .cost = { { 2 }, { 2 } }, .budget = { 2, 9 }, .group = NO_GROUP },
	{ .title = "of two equals the first, though dearer", .want = "1000", .removed = 0.5, .load = { 1 },
	    .share = { { 0.5 }, { 0.5 } }, .cost = { { 3 }, { 2 } }, .budget = { 4, 9 }, .group = NO_GROUP },
	{ .title = "one change rather than two as good", .want = "0010", .removed = 0.5, .load = { 0.5, 0.5 },
	    .share = { { 0.5, 0 }, { 0, 0.5 }, { 0.5, 0.5 } }, .cost = { { 1 }, { 1 }, { 2 } }, .budget = { 2,
	    9 }, .group = NO_GROUP },
	{ .title = "nothing that removes nothing", .want = "1000", .removed = 1, .load = { 1 },
	    .share = { { 1 }, { 0.5 }, { 0.25 } },
	    .cost = { { 0 } }, .budget = { 2, 9 }, .group = NO_GROUP },
	{ .title = "diminishing returns within a cause", .want = "1100", .removed = 0.75, .load = { 1 },
	    .share = { { 0.5 }, { 0.5 }, { 0.2 } }, .cost = { { 1 }, { 1 }, { 1 } }, .budget = { 2, 9 },
	    .group = NO_GROUP },
	{ .title = "buy nothing", .want = "0000", .removed = 0, .load = { 1 }, .share = { { 0.5 }, { 0.5 } },
	    .cost = { { 3 }, { 2 } }, .budget = { 1, 9 }, .group = NO_GROUP },
	{ .title = "no flaw load at all", .want = "0000", .removed = 0, .load = { 0 }, .share = { { 0.5 }, { 0.5 } },
	    .cost = { { 0 }, { -2 } }, .budget = { 1, 9 }, .group = NO_GROUP },
	{ .title = "a saving of minutes pays for another change", .want = "1100", .removed = 0.5, .load = { 1 },
	    .share = { { 0.5 } }, .cost = { { 0, 30 }, { 5, -20 } }, .budget = { 5, 10 }, .group = NO_GROUP },
	{ .title = "a saving not needed is not bought", .want = "1000", .removed = 0.5, .load = { 1 },
	    .share = { { 0.5 } }, .cost = { { 0, 30 }, { 5, -20 } }, .budget = { 5, 30 }, .group = NO_GROUP },
	{ .title = "a budget below zero mended", .want = "0100", .removed = 0, .load = { 1 }, .share = { { 0.5 } },
	    .cost = { { 0, 30 }, { 5, -20 } }, .budget = { 5, -15 }, .group = NO_GROUP },
	{ .title = "a budget below zero no saving mends", .load = { 1 }, .share = { { 0.5 } },
	    .cost = { { 0, 30 }, { 5, -20 } },
	    .budget = { 5, -25 }, .group = NO_GROUP, .status = AB_EINPUT },
	{ .title = "a mending saving out of reach", .load = { 1 }, .share = { { 0.5 } },
	    .cost = { { 0, 30 }, { 5, -20 } },
	    .budget = { 4, -15 }, .group = NO_GROUP, .status = AB_EINPUT },
	{ .title = "two savings of one group cannot both mend", .load = { 1 }, .cost = { { 1, -10 }, { 1, -10 } },
	    .budget = { 9, -15 }, .group = { 7, 7, -1, -1 }, .status = AB_EINPUT },
	{ .title = "sums such as 0.1 + 0.2 fit 0.3", .want = "1100", .removed = 1.0, .load = { 1, 0.5 },
	    .share = { { 0.75, 0 }, { 0, 0.5 } }, .cost = { { 0.1 }, { 0.2 } }, .budget = { 0.3, 9 },
	    .group = NO_GROUP },
	{ .title = "what it needs comes along", .want = "1010", .removed = 0.9, .load = { 1 },
	    .share = { { 0.9 }, { 0.5 } },
	    .cost = { { 2 }, { 3 }, { 2 } }, .budget = { 4, 9 }, .needs = { { 0, 2 } }, .group = NO_GROUP },
	{ .title = "what it needs is too dear", .want = "0100", .removed = 0.5, .load = { 1 },
	    .share = { { 0.9 }, { 0.5 } },
	    .cost = { { 2 }, { 3 }, { 3 } }, .budget = { 4, 9 }, .needs = { { 0, 2 } }, .group = NO_GROUP },
	{ .title = "what it needs is owned", .want = "1000", .removed = 0.9, .load = { 1 },
	    .share = { { 0.9 }, { 0.5 } },
	    .cost = { { 2 }, { 3 }, { 3 } }, .budget = { 4, 9 }, .needs = { { 0, 2 } }, .group = NO_GROUP,
	    .state = { 0, 0, AB_CHANGE_OWNED } },
	{ .title = "what it needs is ruled out", .want = "0100", .removed = 0.5, .load = { 1 },
	    .share = { { 0.9 }, { 0.5 } },
	    .cost = { { 2 }, { 3 }, { 0 } }, .budget = { 4, 9 }, .needs = { { 0, 2 } }, .group = NO_GROUP,
	    .state = { 0, 0, AB_CHANGE_OUT } },
	{ .title = "two that need each other", .want = "1100", .removed = 0.95, .load = { 1 },
	    .share = { { 0.9 }, { 0.5 } },
	    .cost = { { 2 }, { 2 } }, .budget = { 4, 9 }, .needs = { { 0, 1 }, { 1, 0 } }, .group = NO_GROUP },
	{ .title = "either-or takes the better", .want = "0110", .removed = 0.76, .load = { 1 },
	    .share = { { 0.5 }, { 0.6 }, { 0.4 } }, .cost = { { 1 }, { 1 }, { 1 } }, .budget = { 9, 9 },
	    .group = { 4, 4, -1, -1 } },
	{ .title = "either-or with the other one owned", .want = "0010", .removed = 0.2, .load = { 1 },
	    .share = { { 0.5 }, { 0.6 }, { 0.4 } }, .cost = { { 1 }, { 1 }, { 1 } }, .budget = { 9, 9 },
	    .group = { 4, 4, -1, -1 },
	    .state = { AB_CHANGE_OWNED } },
	{ .title = "no limit on the second budget", .want = "1100", .removed = 0.75, .load = { 1 },
	    .share = { { 0.5 }, { 0.5 } },
	    .cost = { { 1, 1e6 }, { 1, 1e6 } }, .budget = { 2, INFINITY }, .group = NO_GROUP },
};

START_TEST(small_problems)
{
	const struct small *s = &smalls[_i];
	struct ab_effect effects[12];
	unsigned char chosen[SMALL];
	struct ab_choice choice = { .chosen = chosen };
	struct ab_problem p = { .n_causes = 3, .n_changes = SMALL, .n_budgets = 2, .load = s->load, .effects = effects,
		.needs = s->needs, .group = s->group, .state = s->state, .cost = &s->cost[0][0],
		.budget = { s->budget[0], s->budget[1] } };
	char got[SMALL + 1] = "";
	struct ab_diag diag;
	int u, i;

	for (u = 0; u < SMALL; u++)
		for (i = 0; i < 3; i++)
			if (s->share[u][i] > 0)
				effects[p.n_effects++] = (struct ab_effect){ i, u, s->share[u][i] };
	while (p.n_needs < 3 && s->needs[p.n_needs].change != s->needs[p.n_needs].needs)
		p.n_needs++;
	ab_diag_init(&diag);
	ck_assert_msg(ab_plan_solve(&p, &choice, &diag) == s->status, "%s: %s", s->title, diag.text);
	if (s->status != AB_OK)
		return;
	for (u = 0; u < SMALL; u++)
		got[u] = (char)('0' + chosen[u]);
	ck_assert_msg(strcmp(got, s->want) == 0, "%s: chose %s, not %s", s->title, got, s->want);
	ck_assert_msg(fabs(choice.removed - s->removed) < 1e-12, "%s: removes %g", s->title, choice.removed);
	for (i = 0; i < 2; i++) {
		double sum = 0;

		for (u = 0; u < SMALL; u++)
			sum += chosen[u] ? s->cost[u][i] : 0;
		ck_assert_msg(fabs(choice.spent[i] - sum) < 1e-12, "%s: spent %g", s->title, choice.spent[i]);
	}
}
END_TEST

START_TEST(no_changes_at_all)
{
	const double load[] = { 1, 2 };
	const struct ab_problem p = { .n_causes = 2, .load = load }, empty = { 0 };
	struct ab_choice choice = { 0 };

	ck_assert_int_eq(ab_plan_solve(&p, &choice, NULL), AB_OK);
	ck_assert(choice.removed <= 0 && choice.gap <= 0);
	ck_assert_double_eq_tol(choice.before, 3, 1e-15);
	ck_assert_int_eq(ab_plan_solve(&empty, &choice, NULL), AB_OK);
}
END_TEST

/* Thirty copies of one change: 2^30 plans of 15 are equally good, and the first fifteen are preferred. */
START_TEST(copies_do_not_explode)
{
	enum { COPIES = 30 };
	const double load[] = { 1 };
	struct ab_effect effects[COPIES];
	double cost[COPIES];
	unsigned char chosen[COPIES];
	struct ab_choice choice = { .chosen = chosen };
	struct ab_problem p = { .n_causes = 1, .n_changes = COPIES, .n_effects = COPIES, .n_budgets = 1, .load = load,
		.effects = effects, .cost = cost, .budget = { 15 } };
	int u;

	for (u = 0; u < COPIES; u++) {
		effects[u] = (struct ab_effect){ 0, u, 0.1 };
		cost[u] = 1;
	}
	ck_assert_int_eq(ab_plan_solve(&p, &choice, NULL), AB_OK);
	ck_assert_double_eq_tol(choice.removed, 1 - pow(0.9, 15), 1e-12);
	for (u = 0; u < COPIES; u++)
		ck_assert_int_eq(chosen[u], u < 15);
	ck_assert_int_lt(choice.nodes, 100);
}
END_TEST

/* ---- what may not be asked ---- */

struct wrong { const char *title; enum ab_status status; void (*spoil)(struct ab_problem *p); };

static double odd_load[2], odd_cost[4];
static struct ab_effect odd_effects[2];
static struct ab_need odd_needs[1];
static int odd_group[2];
static enum ab_change_state odd_state[2];

static void cause_outside(struct ab_problem *p) { (void)p; odd_effects[1].cause = 2; }
static void change_below(struct ab_problem *p) { (void)p; odd_effects[1].change = -1; }
static void share_zero(struct ab_problem *p) { (void)p; odd_effects[0].share = 0; }
static void share_above(struct ab_problem *p) { (void)p; odd_effects[0].share = 1.01; }
static void share_nan(struct ab_problem *p) { (void)p; odd_effects[0].share = (double)NAN; }
static void effect_twice(struct ab_problem *p) { (void)p; odd_effects[1] = odd_effects[0]; }
static void load_negative(struct ab_problem *p) { (void)p; odd_load[0] = -1; }
static void load_infinite(struct ab_problem *p) { (void)p; odd_load[0] = (double)INFINITY; }
static void cost_nan(struct ab_problem *p) { (void)p; odd_cost[3] = (double)NAN; }
static void budget_nan(struct ab_problem *p) { p->budget[1] = (double)NAN; }
static void budget_minus_infinity(struct ab_problem *p) { p->budget[0] = -(double)INFINITY; }
static void need_outside(struct ab_problem *p) { (void)p; odd_needs[0].needs = 2; }
static void group_odd(struct ab_problem *p) { (void)p; odd_group[1] = -2; }
static void state_odd(struct ab_problem *p) { (void)p; odd_state[1] = (enum ab_change_state)3; }
static int odd_joined[] = { 1, 0 };
static double odd_table[] = { 0, 0.4, 0.3, 0.5 };
static struct ab_joint odd_joint = { 1, 2, odd_joined, odd_table };
static void join(struct ab_problem *p) { p->n_effects = 1; p->joints = &odd_joint; p->n_joints = 1; }
static void table_beside_effects(struct ab_problem *p) { join(p); p->n_effects = 2; }
static void table_of_no_cause(struct ab_problem *p) { join(p); odd_joint.cause = 2; }
static void table_of_nothing(struct ab_problem *p) { join(p); odd_joint.n = 0; }
static void table_too_wide(struct ab_problem *p) { join(p); odd_joint.n = AB_PLAN_JOINT + 1; }
static void table_change_outside(struct ab_problem *p) { join(p); odd_joined[1] = 2; }
static void table_change_twice(struct ab_problem *p) { join(p); odd_joined[1] = 1; }
static void table_change_owned(struct ab_problem *p) { join(p); odd_state[0] = AB_CHANGE_OWNED; }
static void table_share_above(struct ab_problem *p) { join(p); odd_table[3] = 1.5; }
static void table_share_nan(struct ab_problem *p) { join(p); odd_table[2] = (double)NAN; }
static void table_from_nothing(struct ab_problem *p) { join(p); odd_table[0] = 0.1; }
static void limit_negative(struct ab_problem *p) { p->node_limit = -1; }
static void many_changes(struct ab_problem *p) { p->n_changes = AB_PLAN_CHANGES + 1; }
static void many_causes(struct ab_problem *p) { p->n_causes = AB_PLAN_CAUSES + 1; }
static void many_budgets(struct ab_problem *p) { p->n_budgets = AB_BUDGETS + 1; }
static void nothing_wrong(struct ab_problem *p) { (void)p; }

static const struct wrong wrongs[] = {
	{ "nothing wrong", AB_OK, nothing_wrong },
	{ "cause that does not exist", AB_EUSAGE, cause_outside },
	{ "change that does not exist", AB_EUSAGE, change_below },
	{ "share 0", AB_EUSAGE, share_zero }, { "share above 1", AB_EUSAGE, share_above },
	{ "share NaN", AB_EUSAGE, share_nan },
	{ "effect twice", AB_EUSAGE, effect_twice }, { "load below 0", AB_EUSAGE, load_negative },
	{ "load infinite", AB_EUSAGE, load_infinite }, { "cost NaN", AB_EUSAGE, cost_nan },
	{ "budget NaN", AB_EUSAGE, budget_nan },
	{ "budget -infinity", AB_EUSAGE, budget_minus_infinity }, { "need outside", AB_EUSAGE, need_outside },
	{ "group -2", AB_EUSAGE, group_odd }, { "unknown state", AB_EUSAGE, state_odd },
	{ "a table", AB_OK, join }, { "a table and an effect", AB_EUSAGE, table_beside_effects },
	{ "a table of no cause", AB_EUSAGE, table_of_no_cause }, { "a table of nothing", AB_EUSAGE, table_of_nothing },
	{ "a table too wide", AB_EUSAGE, table_too_wide }, { "a table of no change", AB_EUSAGE, table_change_outside },
	{ "a table with a change twice", AB_EUSAGE, table_change_twice },
	{ "a table with an owned change", AB_EUSAGE, table_change_owned },
	{ "a table's share above 1", AB_EUSAGE, table_share_above },
	{ "a table's share NaN", AB_EUSAGE, table_share_nan },
	{ "a table that starts above 0", AB_EUSAGE, table_from_nothing },
	{ "negative node limit", AB_EUSAGE, limit_negative }, { "too many changes", AB_ELIMIT, many_changes },
	{ "too many causes", AB_ELIMIT, many_causes }, { "too many budgets", AB_ELIMIT, many_budgets },
};

START_TEST(wrong_questions)
{
	unsigned char chosen[2];
	struct ab_choice choice = { .chosen = chosen };
	struct ab_problem p = { .n_causes = 2,
		.n_changes = 2,
		.n_effects = 2,
		.n_needs = 1,
		.n_budgets = 2,
		.load = odd_load,
		.effects = odd_effects,
		.needs = odd_needs,
		.group = odd_group,
		.state = odd_state,
		.cost = odd_cost,
		.budget = { 2, 2 } };
	struct ab_diag diag;
	enum ab_status st;
	int k;

	for (k = 0; k < 2; k++) {
		odd_load[k] = 1;
		odd_cost[k] = odd_cost[k + 2] = 1;
		odd_effects[k] = (struct ab_effect){ k, k, 0.5 };
		odd_group[k] = -1;
		odd_state[k] = AB_CHANGE_OPEN;
	}
	odd_needs[0] = (struct ab_need){ 0, 1 };
	wrongs[_i].spoil(&p);
	ab_diag_init(&diag);
	st = ab_plan_solve(&p, &choice, &diag);
	ck_assert_msg(st == wrongs[_i].status, "%s: %d %s", wrongs[_i].title, st, diag.text);
	ck_assert_msg(st == AB_OK || diag.text[0] != '\0', "%s: no message", wrongs[_i].title);
}
END_TEST

/* Every allocation may fail: a clean status, nothing leaked (the sanitizer looks), and the next call works. */
START_TEST(memory_runs_out)
{
	unsigned char chosen[AB_PLAN_CHANGES];
	struct ab_choice choice = { .chosen = chosen };
	long k, n;

	plan_case_make(&drawn, &shapes[12].shape, 3);
	ab_alloc_fail_at(-1);
	ck_assert_int_eq(
	    plan_solve_with(&drawn.problem, &(struct plan_options){ .scan = 1, .root_steps = 1 }, &choice, NULL),
	    AB_OK);
	n = ab_alloc_count();
	ck_assert_int_gt(n, 5);
	for (k = 0; k < n; k++) {
		struct ab_diag diag;

		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		ck_assert_int_eq(plan_solve_with(&drawn.problem,
				     &(struct plan_options){ .scan = 1, .root_steps = 1 }, &choice, &diag),
		    AB_ENOMEM);
		ck_assert_int_eq(diag.status, AB_ENOMEM);
	}
	ab_alloc_fail_at(-1);
	ck_assert_int_eq(ab_plan_solve(&drawn.problem, &choice, NULL), AB_OK);
}
END_TEST

int
main(void)
{
	Suite *suite = suite_create("plan");
	TCase *random = tcase_create("random"), *known = tcase_create("known");
	SRunner *sr;

	tcase_set_timeout(random, 120);
	tcase_add_loop_test(random, equals_enumeration, 0, N_SHAPES);
	tcase_add_loop_test(random, equals_enumeration_with_scan_cut, 0, N_SHAPES);
	tcase_add_loop_test(random, equals_enumeration_with_poor_prices, 0, N_SHAPES);
	tcase_add_loop_test(random, early_stop_certifies, 0, N_SHAPES);
	tcase_add_loop_test(random, root_certificate_holds, 0, 2 * N_SHAPES);
	tcase_add_loop_test(random, losses_hold, 0, 2 * N_SHAPES);
	tcase_add_test(random, root_bound_is_tight);
	tcase_add_loop_test(random, sixty_changes_are_proven, 0, 10);
	tcase_add_loop_test(random, more_budget_never_removes_less, 0, 6);
	tcase_add_loop_test(random, no_random_set_beats_the_plan, 0, 4);
	suite_add_tcase(suite, random);
	tcase_add_loop_test(known, small_problems, 0, sizeof smalls / sizeof *smalls);
	tcase_add_test(known, no_changes_at_all);
	tcase_add_test(known, copies_do_not_explode);
	tcase_add_loop_test(known, wrong_questions, 0, sizeof wrongs / sizeof *wrongs);
	tcase_add_test(known, memory_runs_out);
	suite_add_tcase(suite, known);
	sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
