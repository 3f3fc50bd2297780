/* problem.c - the choice as plan.h wants it: what is open, what it costs, what excludes what
 *
 * Only limits speak here: what a brewer has, owns, refuses, has room for. What is worth doing is policy.h's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

/* What an owned change does shows in the batches brewed with it: it is in force, but it is not counted a
 * second time. What removes nothing anywhere has no place in a plan, unless another needs it. */
static enum ab_change_state state_of(const struct advising *a, size_t u)
{
	const struct ab_item *item = &a->out->items[u];

	if (item->owned)
		return AB_CHANGE_OWNED;
	return item->barred != NULL ? AB_CHANGE_OUT : AB_CHANGE_OPEN;
}

struct ab_effect *advising_effect_list(const struct advising *a, const double *effect,
    const enum ab_change_state *state, size_t *n)
{
	size_t n_causes = a->k->n_causes, room = 0;
	struct ab_effect *list;

	for (size_t e = 0; e < a->k->n_changes * n_causes; e++)
		room += state[e / n_causes] == AB_CHANGE_OPEN && effect[e] > 0;
	list = ab_arena_alloc(a->arena, room, sizeof *list);
	*n = 0;
	for (size_t e = 0; list != NULL && e < a->k->n_changes * n_causes; e++)
		if (state[e / n_causes] == AB_CHANGE_OPEN && effect[e] > 0)
			list[(*n)++] = (struct ab_effect){ .cause = (int)(e % n_causes),
				.change = (int)(e / n_causes), .share = effect[e] };
	return list;
}

static size_t list_needs(const struct advising *a, struct ab_need *list)
{
	size_t n = 0;

	for (size_t u = 0; u < a->k->n_changes; u++)
		for (size_t i = 0; i < a->needs[u].n; i++, n++)
			if (list != NULL)
				list[n] = (struct ab_need){ .change = (int)u, .needs = a->needs[u].on[i] };
	return n;
}

/* Union by parent links without ranks: a hundred changes at most. */
static int root_of(int *parent, int u)
{
	while (parent[u] != u)
		u = parent[u];
	return u;
}

/* Changes that exclude each other, or share a group name, may not stand in one plan: joined into one
 * group each. Exclusion is not transitive in the rules, but is here: the planner knows groups only. It
 * errs to the side of a plan that can be carried out. */
static void make_groups(const struct advising *a, int *parent, int *group)
{
	const struct ab_knowledge *k = a->k;

	for (size_t u = 0; u < k->n_changes; u++) {
		parent[u] = (int)u;
		group[u] = -1;
	}
	for (size_t u = 0; u < k->n_changes; u++) {
		for (size_t i = 0; i < k->changes[u].n_excludes; i++)
			parent[root_of(parent, (int)u)] = root_of(parent, k->changes[u].excludes[i]);
		for (size_t v = 0; k->changes[u].group != NULL && v < u; v++)
			if (k->changes[v].group != NULL &&
			    strcmp(k->changes[u].group, k->changes[v].group) == 0)
				parent[root_of(parent, (int)u)] = root_of(parent, (int)v);
	}
	for (size_t u = 0; u < k->n_changes; u++) {
		int r = root_of(parent, (int)u);

		if (r != (int)u)
			group[u] = group[r] = r;
	}
}

/* An owned change of a group does not stop a better one of the group from being bought. It is in force
 * already and takes no place in the group. */
static void free_owned(const struct advising *a, int *group)
{
	for (size_t u = 0; u < a->k->n_changes; u++)
		if (a->out->items[u].owned)
			group[u] = -1;
}

/* A habit costs one of AXIS_HABITS, what costs money none: nobody keeps ten new habits at once. AXIS_WHOLE: all the
 * money of the horizon, to buy and to run; what costs nothing to buy is not free. Its current does not keep what
 * stands there already from being used, unless a limit of running cost was told. AXIS_BREWS: each is begun with a
 * brew of its own, or nobody could tell what did it. */
static void fill_costs(const struct advising *a, double *cost)
{
	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct ab_item *item = &a->out->items[u];
		bool there = item->unused || item->begun != NULL;
		double *row = cost + u * AXIS_N, runs = item->running_cost * a->out->horizon_years;

		row[AXIS_MONEY] = item->cost;
		row[AXIS_MINUTES] = item->minutes;
		row[AXIS_RUNNING] = there && !a->out->running_told ? 0 : runs;
		row[AXIS_HABITS] = advising_costs_money(item) ? 0 : 1;
		row[AXIS_WHOLE] = item->cost + (there ? 0 : runs);
		row[AXIS_BREWS] = 1;
	}
}

/* A saving in running cost does not make a purchase free. */
bool advising_costs_money(const struct ab_item *item)
{
	return item->cost > 0 || item->running_cost > 0;
}

struct ab_problem advising_same_money(const struct advising *a)
{
	struct ab_problem problem = a->problem;
	double cost = 0;

	for (size_t u = 0; u < a->k->n_changes; u++)
		cost += a->out->items[u].chosen ? a->problem.cost[u * AXIS_N + AXIS_WHOLE] : 0;
	problem.state = a->state;
	problem.budget[AXIS_HABITS] = a->out->changes > 0 ? (double)a->out->changes : INFINITY;
	if (!isfinite(problem.budget[AXIS_MONEY]))
		problem.budget[AXIS_WHOLE] = cost;
	return problem;
}

/* AXIS_N budgets in the order of the enum; INFINITY where none is set. Habits have no limit here: theirs is
 * policy. Nor has the whole money: its parts have. */
enum ab_status advising_problem(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_changes;
	enum ab_change_state *state = ab_arena_alloc(a->arena, n, sizeof *state);
	int *group = ab_arena_alloc(a->arena, n, sizeof *group),
	    *parent = ab_arena_alloc(a->arena, n, sizeof *parent);
	double *cost = ab_arena_alloc(a->arena, n * AXIS_N, sizeof *cost);
	struct ab_need *needs = ab_arena_alloc(a->arena, list_needs(a, NULL), sizeof *needs);

	if (state == NULL || group == NULL || parent == NULL || cost == NULL || needs == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++)
		state[u] = state_of(a, u);
	make_groups(a, parent, group);
	free_owned(a, group);
	fill_costs(a, cost);
	a->problem = (struct ab_problem){ .n_causes = a->k->n_causes, .n_changes = n,
		.n_needs = list_needs(a, needs), .n_budgets = AXIS_N, .load = a->load, .needs = needs,
		.group = group, .state = state, .cost = cost,
		.budget = { [AXIS_MONEY] = a->out->budget, [AXIS_MINUTES] = a->out->minutes,
		    [AXIS_RUNNING] = a->out->running, [AXIS_HABITS] = INFINITY, [AXIS_WHOLE] = INFINITY,
		    [AXIS_BREWS] = a->out->brews } };
	return advising_tables(a, diag);
}
