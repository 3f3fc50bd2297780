/* plan.c - the way into the planner: what may be asked, and what is answered
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>
#include <assert.h>

#include <math.h>
#include <string.h>
#include "advice/planning.h"
#include "base/alloc.h"

/* These limits are the sizes of arrays on the stack of the search, and its recursion goes one level a
 * change. */
static enum ab_status
check_sizes(const struct ab_problem *p, struct ab_diag *diag)
{
	if (p->n_changes > AB_PLAN_CHANGES)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "%zu changes to plan with; at most %d are allowed",
		    p->n_changes, AB_PLAN_CHANGES);
	if (p->n_causes > AB_PLAN_CAUSES)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "%zu causes to plan for; at most %d are allowed",
		    p->n_causes, AB_PLAN_CAUSES);
	if (p->n_budgets > AB_BUDGETS)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "%zu budgets; at most %d are allowed", p->n_budgets,
		    AB_BUDGETS);
	if (p->node_limit < 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "a node limit of %ld; it must be 0 (usual) or more",
		    p->node_limit);
	return AB_OK;
}

/* NAN in one cost would make every comparison false and so every plan "within budget". */
static enum ab_status
check_numbers(const struct ab_problem *p, struct ab_diag *diag)
{
	size_t i, k;

	for (i = 0; i < p->n_causes; i++)
		if (!(p->load[i] >= 0) || !isfinite(p->load[i]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "load %g of cause %zu; it must be 0 or more",
			    p->load[i], i);
	for (k = 0; k < p->n_budgets; k++)
		if (isnan(p->budget[k]) || (isinf(p->budget[k]) && p->budget[k] < 0))
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "budget %zu is not a number", k);
	for (k = 0; k < p->n_changes * p->n_budgets; k++)
		if (!isfinite(p->cost[k]))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "cost %g of change %zu; it must be finite", p->cost[k], k / p->n_budgets);
	for (k = 0; k < p->n_changes; k++) {
		if (p->state != NULL && p->state[k] != AB_CHANGE_OPEN && p->state[k] != AB_CHANGE_OWNED &&
		    p->state[k] != AB_CHANGE_OUT)
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "change %zu has no known state", k);
		if (p->group != NULL && p->group[k] < -1)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "group %d of change %zu; it must be -1 or more", p->group[k], k);
	}
	return AB_OK;
}

/* A matrix of flags: duplicates would multiply a share in twice without anybody noticing. */
static enum ab_status
check_effects(const struct ab_problem *p, struct ab_diag *diag)
{
	unsigned char *seen = ab_calloc(p->n_causes + 1, AB_PLAN_CHANGES);
	enum ab_status st = AB_OK;
	size_t k;

	if (seen == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (k = 0; k < p->n_effects && st == AB_OK; k++) {
		const struct ab_effect *e = &p->effects[k];

		if (e->cause < 0 || (size_t)e->cause >= p->n_causes || e->change < 0 ||
		    (size_t)e->change >= p->n_changes)
			st = ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "effect %zu joins cause %d and change %d, which do not exist", k,
			    e->cause, e->change);
		else if (!(e->share > 0 && e->share <= 1))
			st = ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "effect %zu has share %g; it must be above 0 and at most 1", k, e->share);
		else if (seen[(size_t)e->cause * AB_PLAN_CHANGES + (size_t)e->change]++)
			st = ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "change %d acts twice on cause %d; one effect is allowed", e->change, e->cause);
	}
	ab_free(seen);
	return st;
}

/* A table has the same right to be wrong as a list: places, figures, and nothing told twice. */
static enum ab_status
check_joint(const struct ab_problem *p, size_t at, struct ab_diag *diag)
{
	const struct ab_joint *j = &p->joints[at];
	bool seen[AB_PLAN_CHANGES] = { false };
	size_t k;

	if (j->cause < 0 || (size_t)j->cause >= p->n_causes || j->n < 1 || j->n > AB_PLAN_JOINT)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "table %zu is of cause %d and %zu changes; 1 to %d are "
		    "allowed", at, j->cause, j->n, AB_PLAN_JOINT);
	for (k = 0; k < j->n; k++) {
		int u = j->changes[k];

		if (u < 0 || (size_t)u >= p->n_changes || seen[u] ||
		    (p->state != NULL && p->state[u] == AB_CHANGE_OWNED))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "table %zu holds change %d, which is none, owned or told twice", at, u);
		seen[u] = true;
	}
	for (k = 0; k < (size_t)1 << j->n; k++)
		if (!(j->share[k] >= 0 && j->share[k] <= 1) || (k == 0 && j->share[0] > 0))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "table %zu has share %g for set %zu; it must be 0 to 1, and 0 for none", at,
			    j->share[k], k);
	return AB_OK;
}

static enum ab_status
check_joints(const struct ab_problem *p, struct ab_diag *diag)
{
	bool told[AB_PLAN_CAUSES] = { false };
	enum ab_status st = AB_OK;
	size_t k;

	for (k = 0; k < p->n_effects; k++)
		told[p->effects[k].cause] = true;
	for (k = 0; k < p->n_joints && st == AB_OK; k++) {
		st = check_joint(p, k, diag);
		if (st == AB_OK && told[p->joints[k].cause])
			st = ab_fail(diag, AB_EUSAGE, NULL, 0, "cause %d has a table and effects beside it, or "
			    "two tables; one is allowed", p->joints[k].cause);
		if (st == AB_OK)
			told[p->joints[k].cause] = true;
	}
	return st;
}

/* A change that needs itself is let through: it asks for nothing (fill_needs drops it). */
static enum ab_status
check_needs(const struct ab_problem *p, struct ab_diag *diag)
{
	size_t k;

	for (k = 0; k < p->n_needs; k++) {
		const struct ab_need *need = &p->needs[k];

		if (need->change < 0 || (size_t)need->change >= p->n_changes || need->needs < 0 ||
		    (size_t)need->needs >= p->n_changes)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "need %zu joins changes %d and %d, which do not exist", k,
			    need->change, need->needs);
	}
	return AB_OK;
}

/* Everything is checked before anything is built, so the files behind it may rely on every index and
 * number. */
enum ab_status
plan_check(const struct ab_problem *problem, struct ab_diag *diag)
{
	enum ab_status st = check_sizes(problem, diag);

	if (st == AB_OK)
		st = check_numbers(problem, diag);
	if (st == AB_OK)
		st = check_effects(problem, diag);
	if (st == AB_OK)
		st = check_joints(problem, diag);
	return st == AB_OK ? check_needs(problem, diag) : st;
}

/* The answer in the caller's numbering. A gap below a tie is rounding, not doubt. removed is reckoned
 * anew from the problem itself, so the answer does not rest on the model's reductions. */
static void
tell(const struct ab_problem *p, const struct plan_search *s, struct ab_choice *choice)
{
	const struct plan_model *m = s->model;
	size_t u, b;

	if (p->n_changes > 0)
		memset(choice->chosen, 0, p->n_changes);
	memset(choice->spent, 0, sizeof choice->spent);
	for (u = 0; u < m->n; u++)
		if (s->best[u])
			choice->chosen[m->original[u]] = 1;
	for (u = 0; u < p->n_changes; u++)
		for (b = 0; choice->chosen[u] && b < p->n_budgets; b++)
			choice->spent[b] += p->cost[u * p->n_budgets + b];
	choice->before = m->before;
	choice->removed = ab_plan_removed(p, choice->chosen);
	choice->bound = s->open_bound > choice->removed ? s->open_bound : choice->removed;
	/* Nodes given up at the limit keep their bound; without any, the best found is the bound. */
	choice->gap = choice->bound - choice->removed;
	if (choice->gap <= m->tie) {
		choice->gap = 0;
		choice->bound = choice->removed;
	}
	choice->nodes = s->nodes;
}

enum ab_status
plan_solve_with(const struct ab_problem *problem, const struct plan_options *options,
    struct ab_choice *choice, struct ab_diag *diag)
{
	struct plan_model *m = NULL;
	struct plan_search *s = NULL;
	enum ab_status st = plan_check(problem, diag);

	if (st == AB_OK)
		st = plan_model_new(problem, -1, &m, diag);
	if (st != AB_OK)
		return st;
	s = ab_malloc(sizeof *s);
	if (s == NULL || !plan_search_init(s, m, options, problem->node_limit > 0 ? problem->node_limit
	    : PLAN_NODE_LIMIT)) {
		st = ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while setting up the plan");
		goto out;
	}
	st = plan_search_run(s, diag);
	if (st == AB_OK)
		tell(problem, s, choice);
	assert(st != AB_OK || choice->gap >= 0);
out:
	if (s != NULL)
		plan_search_clear(s);
	ab_free(s);
	plan_model_free(m);
	return st;
}

/* The knobs are for tests; what the usual ones are is no promise. */
enum ab_status
ab_plan_solve(const struct ab_problem *problem, struct ab_choice *choice, struct ab_diag *diag)
{
	const struct plan_options usual = { 0 };

	return plan_solve_with(problem, &usual, choice, diag);
}

/* Owned changes take their part first: what they remove is no merit of the plan. */
double
ab_plan_removed(const struct ab_problem *p, const unsigned char *chosen)
{
	double owned[AB_PLAN_CAUSES], left[AB_PLAN_CAUSES], sum = 0;
	assert(p->n_causes <= AB_PLAN_CAUSES);
	size_t i, k;

	for (i = 0; i < p->n_causes; i++)
		owned[i] = left[i] = 1;
	for (k = 0; k < p->n_effects; k++) {
		int u = p->effects[k].change, c = p->effects[k].cause;

		if (p->state != NULL && p->state[u] == AB_CHANGE_OWNED)
			owned[c] *= 1 - p->effects[k].share;
		else if (chosen[u])
			left[c] *= 1 - p->effects[k].share;
	}
	for (k = 0; k < p->n_joints; k++) {
		size_t mask = 0;

		for (i = 0; i < p->joints[k].n; i++)
			mask |= (size_t)chosen[p->joints[k].changes[i]] << i;
		left[p->joints[k].cause] = 1 - p->joints[k].share[mask];
	}
	for (i = 0; i < p->n_causes; i++)
		sum += p->load[i] * owned[i] * (1 - left[i]);
	return sum;
}

bool
plan_within(const struct ab_problem *p, const unsigned char *chosen)
{
	for (size_t b = 0; b < p->n_budgets; b++) {
		double sum = 0, size = 0;

		for (size_t u = 0; u < p->n_changes; u++) {
			sum += chosen[u] ? p->cost[u * p->n_budgets + b] : 0;
			size += fabs(p->cost[u * p->n_budgets + b]);
		}
		if (sum > p->budget[b] + 1e-11 * size)
			return false;
	}
	return true;
}
