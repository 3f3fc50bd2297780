/* reduce.c - what of a planning problem is decided before any search
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/reducing.h"

#include <assert.h>
#include <math.h>

/* NULL lists mean "the usual for all": tests and small callers leave them out. */
static enum ab_change_state
state_of(const struct ab_problem *p, size_t u)
{
	return p->state == NULL ? AB_CHANGE_OPEN : p->state[u];
}

int
plan_group_of(const struct ab_problem *p, size_t u)
{
	return p->group == NULL ? -1 : p->group[u];
}

/* Owned changes have acted already: their causes' loads shrink once and for all, and their group is
 * taken. */
static void
settle_owned(struct plan_reduction *r)
{
	const struct ab_problem *p = r->problem;
	size_t u, v, k;

	for (u = 0; u < p->n_changes; u++) {
		r->owned[u] = state_of(p, u) == AB_CHANGE_OWNED;
		r->stays[u] = state_of(p, u) == AB_CHANGE_OPEN;
	}
	for (k = 0; k < p->n_causes; k++)
		r->load[k] = p->load[k];
	for (k = 0; k < p->n_effects; k++)
		if (r->owned[p->effects[k].change])
			r->load[p->effects[k].cause] *= 1 - p->effects[k].share;
	for (u = 0; u < p->n_changes; u++)
		for (v = 0; r->owned[u] && plan_group_of(p, u) >= 0 && v < p->n_changes; v++)
			if (plan_group_of(p, v) == plan_group_of(p, u))
				r->stays[v] = false;
}

/* One sweep finds one link of a chain of needs; the caller repeats until nothing moves. */
static bool
drop_unreachable(struct plan_reduction *r)
{
	bool changed = false;
	size_t k;

	for (k = 0; k < r->problem->n_needs; k++) {
		int u = r->problem->needs[k].change, v = r->problem->needs[k].needs;

		if (r->stays[u] && !r->stays[v] && !r->owned[v]) {
			r->stays[u] = false;
			changed = true;
		}
	}
	return changed;
}

/* A change that removes nothing, saves nothing and is needed by none is in no preferred plan. */
static bool
drop_useless(struct plan_reduction *r)
{
	const struct ab_problem *p = r->problem;
	bool useful[AB_PLAN_CHANGES] = { false }, changed = false;
	size_t u, b, k;

	for (k = 0; k < p->n_effects; k++)
		if (r->load[p->effects[k].cause] > 0)
			useful[p->effects[k].change] = true;
	for (k = 0; k < p->n_joints; k++)
		for (u = 0; r->load[p->joints[k].cause] > 0 && u < p->joints[k].n; u++)
			useful[p->joints[k].changes[u]] = true;
	for (k = 0; k < p->n_needs; k++)
		if (r->stays[p->needs[k].change] && p->needs[k].change != p->needs[k].needs)
			useful[p->needs[k].needs] = true;
	for (u = 0; u < p->n_changes; u++) {
		for (b = 0; b < p->n_budgets; b++)
			if (p->cost[u * p->n_budgets + b] < 0 &&
			    (isfinite(p->budget[b]) || (int)b == r->keep_axis))
				useful[u] = true;
		if (r->stays[u] && !useful[u]) {
			r->stays[u] = false;
			changed = true;
		}
	}
	return changed;
}

/* How many of both there are. Numbering and filling walk the same places, so they cannot differ. */
size_t
plan_places(const struct ab_problem *p)
{
	size_t n = p->n_effects, k;

	for (k = 0; k < p->n_joints; k++)
		n += p->joints[k].n;
	return n;
}

struct plan_place
plan_place_at(const struct ab_problem *p, size_t k)
{
	size_t j, at = k;

	if (k < p->n_effects)
		return (struct plan_place){ p->effects[k].cause, p->effects[k].change, (int)k,
			p->effects[k].share, 0 };
	k -= p->n_effects;
	for (j = 0; k >= p->joints[j].n; j++)
		k -= p->joints[j].n;
	return (struct plan_place){ p->joints[j].cause, p->joints[j].changes[k], (int)at,
		p->joints[j].share[(size_t)1 << k], (unsigned)k };
}

/* Causes are numbered as they are first met, and only those that an open change touches: the others'
 * load is a constant. */
static size_t
number_what_stays(struct plan_reduction *r, size_t *n_causes, size_t *n_edges)
{
	const struct ab_problem *p = r->problem;
	size_t u, i, k, n = 0;

	assert(p->n_changes <= AB_PLAN_CHANGES && p->n_causes <= AB_PLAN_CAUSES);
	for (u = 0; u < p->n_changes; u++)
		r->change_at[u] = r->stays[u] ? (int)n++ : -1;
	for (i = 0; i < p->n_causes; i++)
		r->cause_at[i] = -1;
	*n_causes = *n_edges = 0;
	for (k = 0; k < plan_places(p); k++) {
		struct plan_place e = plan_place_at(p, k);
		int cause = e.cause;

		if (!r->stays[e.change] || !(r->load[cause] > 0))
			continue;
		if (r->cause_at[cause] < 0)
			r->cause_at[cause] = (int)(*n_causes)++;
		(*n_edges)++;
	}
	return n;
}

size_t
plan_reduce(struct plan_reduction *r, size_t *n_causes, size_t *n_edges)
{
	settle_owned(r);
	/* Each may make work for the other: to a fixed point. */
	while (drop_unreachable(r) || drop_useless(r))
		;
	return number_what_stays(r, n_causes, n_edges);
}
