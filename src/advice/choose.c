/* choose.c - the best set of changes under all limits, and what each budget buys
 *
 * Solves exactly (plan.h), looks by joint replay at what each chosen item adds to the rest, rules out what
 * adds less than ADVISING_WORTH of the load and solves again, until nothing is too small: a plan is not
 * padded because money is left. The figures shown for a set are its joint replay.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { MAX_POINTS = 256 };

/* A saving in running cost does not make a purchase free. */
static bool costs_money(const struct ab_item *item)
{
	return item->cost > 0 || item->running_cost > 0;
}

/* The flaw load a change must take away by itself to be thought of. The bar is higher for money: a
 * habit that does little costs nothing to drop again. */
static double least_alone(const struct advising *a, size_t change)
{
	return (costs_money(&a->out->items[change]) ? ADVISING_WORTH_PAYING : ADVISING_WORTH) *
	    a->out->load_before;
}

/* Too small and barred are different things to the reader but one to the planner: out. */
static enum ab_change_state state_of(const struct advising *a, size_t u)
{
	const struct ab_item *item = &a->out->items[u];

	/* what an owned change does shows in the batches brewed with it: it is in force, but it is not
	 * counted a second time */
	if (item->owned)
		return AB_CHANGE_OWNED;
	return item->barred != NULL || a->small[u] || item->gain < least_alone(a, u)
	    ? AB_CHANGE_OUT : AB_CHANGE_OPEN;
}

/* What a change worth its place needs may come with it, however little it does by itself. To a fixed
 * point: what is needed may need something in its turn. */
static void keep_needed(const struct advising *a, enum ab_change_state *state)
{
	for (bool again = true; again;) {
		again = false;
		for (size_t u = 0; u < a->k->n_changes; u++)
			for (size_t i = 0; state[u] == AB_CHANGE_OPEN && i < a->k->changes[u].n_needs; i++) {
				int w = a->k->changes[u].needs[i];

				if (state[w] != AB_CHANGE_OUT || a->out->items[w].barred != NULL ||
				    a->small[w])
					continue;
				state[w] = AB_CHANGE_OPEN;
				again = true;
			}
	}
}

/* list == NULL only counts, for the room; the same loop then fills it, so the two cannot differ. */
static size_t list_effects(const struct advising *a, const double *effect, const enum ab_change_state *state,
    struct ab_effect *list)
{
	size_t n = 0, n_causes = a->k->n_causes;

	for (size_t u = 0; u < a->k->n_changes; u++)
		for (size_t i = 0; state[u] == AB_CHANGE_OPEN && i < n_causes; i++) {
			double share = effect[u * n_causes + i];

			if (share <= 0)
				continue;
			if (list != NULL)
				list[n] = (struct ab_effect){ .cause = (int)i, .change = (int)u,
				    .share = share };
			n++;
		}
	return n;
}

static size_t list_needs(const struct advising *a, struct ab_need *list)
{
	size_t n = 0;

	for (size_t u = 0; u < a->k->n_changes; u++)
		for (size_t i = 0; i < a->k->changes[u].n_needs; i++, n++)
			if (list != NULL)
				list[n] = (struct ab_need){ .change = (int)u,
				    .needs = a->k->changes[u].needs[i] };
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

/* A habit costs one of AXIS_HABITS, what costs money none: nobody keeps ten new habits at once. */
static void fill_costs(const struct advising *a, double *cost)
{
	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct ab_item *item = &a->out->items[u];
		double *row = cost + u * AXIS_N;

		row[AXIS_MONEY] = item->cost;
		row[AXIS_MINUTES] = item->minutes;
		row[AXIS_RUNNING] = item->running_cost * a->out->horizon_years;
		row[AXIS_HABITS] = costs_money(item) ? 0 : 1;
	}
}

/* AXIS_N budgets in the order of the enum; INFINITY where none is set. */
enum ab_status advising_problem(const struct advising *a, const double *load, const double *effect,
    struct ab_problem *problem, struct ab_effect **list, struct ab_diag *diag)
{
	size_t n = a->k->n_changes;
	enum ab_change_state *state = ab_arena_alloc(a->arena, n, sizeof *state);
	int *group = ab_arena_alloc(a->arena, n, sizeof *group),
	    *parent = ab_arena_alloc(a->arena, n, sizeof *parent);
	double *cost = ab_arena_alloc(a->arena, n * AXIS_N, sizeof *cost);
	struct ab_effect *effects;
	struct ab_need *needs = ab_arena_alloc(a->arena, list_needs(a, NULL), sizeof *needs);

	if (state == NULL || group == NULL || parent == NULL || cost == NULL || needs == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++)
		state[u] = state_of(a, u);
	keep_needed(a, state);
	effects = ab_arena_alloc(a->arena, list_effects(a, effect, state, NULL), sizeof *effects);
	if (effects == NULL)
		return advising_nomem(diag);
	make_groups(a, parent, group);
	free_owned(a, group);
	fill_costs(a, cost);
	*problem = (struct ab_problem){ .n_causes = a->k->n_causes, .n_changes = n,
		.n_effects = list_effects(a, effect, state, effects),
		.n_needs = list_needs(a, needs), .n_budgets = AXIS_N, .load = load, .effects = effects,
		.needs = needs, .group = group,
		.state = state, .cost = cost };
	problem->budget[AXIS_MONEY] = a->out->budget;
	problem->budget[AXIS_MINUTES] = a->out->minutes;
	problem->budget[AXIS_RUNNING] = a->out->running;
	problem->budget[AXIS_HABITS] = (double)a->out->changes;
	if (list != NULL)
		*list = effects;
	return AB_OK;
}

/* The chosen item that adds least to the rest by joint replay, if that is too little; -1 if all are
 * worth their place. What another chosen change needs is left in, even when it adds nothing itself. */
static int smallest(const struct advising *a, const struct ab_problem *problem, const unsigned char *chosen,
    int *set, double *share)
{
	size_t n = problem->n_changes;
	double whole = advising_joint(a, set, advising_list(n, chosen, SIZE_MAX, set), share),
	    least = ADVISING_WORTH * a->out->load_before;
	int worst = -1;

	for (size_t u = 0; u < n; u++) {
		double adds;
		bool needed = false;

		for (size_t i = 0; i < problem->n_needs; i++)
			needed = needed ||
			    (problem->needs[i].needs == (int)u && chosen[problem->needs[i].change]);
		if (!chosen[u] || needed)
			continue;
		adds = whole - advising_joint(a, set, advising_list(n, chosen, u, set), share);
		if (adds < least) {
			least = adds;
			worst = (int)u;
		}
	}
	return worst;
}

/* Solved again after each: taking one out may make another worth its place. */
static enum ab_status solve_rounds(struct advising *a, struct ab_problem *problem, struct ab_choice *choice,
    struct ab_diag *diag)
{
	enum ab_status st = AB_OK;
	int *set = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *set);
	double *share = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *share);

	if (set == NULL || share == NULL)
		return advising_nomem(diag);
	for (size_t round = 0; round <= a->k->n_changes; round++) {   /* each rules one out */
		int worst;

		st = advising_problem(a, a->load, a->effect, problem, NULL, diag);
		if (st == AB_OK)
			st = ab_plan_solve(problem, choice, diag);
		if (st != AB_OK)
			return st;
		worst = smallest(a, problem, choice->chosen, set, share);
		if (worst < 0)
			return AB_OK;
		a->small[worst] = 1;
	}
	return st;
}

/* Puts one set's point into the frontier, cheapest first; what costs as much and removes no more falls
 * out. Pareto front, kept small and sorted by insertion; a new point drops those it dominates. */
static void add_point(struct ab_advice *out, double cost, double removed)
{
	struct ab_step *f = out->frontier;
	size_t n = 0, at;

	for (size_t i = 0; i < out->n_frontier; i++)
		if (f[i].cost <= cost && f[i].removed >= removed)
			return;
	for (size_t i = 0; i < out->n_frontier; i++)
		if (f[i].cost < cost || f[i].removed > removed)
			f[n++] = f[i];
	assert(n <= MAX_POINTS);    /* room for one more: see make_frontier */
	for (at = n; at > 0 && f[at - 1].cost > cost; at--)
		f[at] = f[at - 1];
	f[at] = (struct ab_step){ .cost = cost, .removed = removed, .load = out->load_before - removed };
	out->n_frontier = n + 1;
}

struct replaying { const struct advising *a; const struct ab_problem *problem; int *set; double *share; };

/* Drops what is too small from a set. Returns what is left of it removes, and its cost. In place: what
 * the caller holds afterwards is the plan without its padding. */
static double trim(const struct replaying *r, unsigned char *chosen, double *cost)
{
	size_t n = r->problem->n_changes;
	int worst;

	while ((worst = smallest(r->a, r->problem, chosen, r->set, r->share)) >= 0)
		chosen[worst] = 0;
	*cost = 0;
	for (size_t u = 0; u < n; u++)
		*cost += chosen[u] ? r->problem->cost[u * AXIS_N] : 0;
	return advising_joint(r->a, r->set, advising_list(n, chosen, SIZE_MAX, r->set), r->share);
}

/* Each point's set by joint replay. Of what fits the budget the cheapest set becomes the plan that
 * removes as much as the best, to within ADVISING_THRIFT: money left over is no reason to spend it.
 * Returns what the plan costs. Both passes are needed: the best must be known before "as good as the
 * best" can be asked. trim works in place, so points[] hold the trimmed sets afterwards. */
static double replay_points(const struct replaying *r, const struct ab_frontier_point *points, size_t n,
    unsigned char *chosen)
{
	struct ab_advice *out = r->a->out;
	double plan_cost, cost, best, removed[MAX_POINTS], costs[MAX_POINTS];
	size_t plan = n;

	assert(n <= MAX_POINTS);
	best = trim(r, chosen, &plan_cost);
	for (size_t i = 0; i < n; i++) {
		removed[i] = trim(r, points[i].chosen, &costs[i]);
		add_point(out, costs[i], removed[i]);
		if (costs[i] <= out->budget)
			best = fmax(best, removed[i]);
	}
	cost = trim(r, chosen, &plan_cost) >= best - ADVISING_THRIFT * out->load_before
	    ? plan_cost : INFINITY;
	for (size_t i = 0; i < n; i++)
		if (costs[i] <= out->budget && costs[i] < cost && removed[i] >= best - ADVISING_THRIFT *
		    out->load_before) {
			cost = costs[i];
			plan = i;
		}
	if (plan < n)
		memcpy(chosen, points[plan].chosen, r->problem->n_changes);
	return cost;
}

/* With all the money any set could cost as the budget, so the frontier reaches beyond what the brewer
 * has. */
static enum ab_status make_frontier(const struct replaying *r, unsigned char *chosen, double *purse,
    struct ab_diag *diag)
{
	const struct advising *a = r->a;
	const struct ab_problem *problem = r->problem;
	struct ab_problem wide = *problem;
	struct ab_frontier_point *points = ab_arena_alloc(a->arena, MAX_POINTS, sizeof *points);
	unsigned char *store = ab_arena_alloc(a->arena, MAX_POINTS, problem->n_changes);
	double total = 0;
	size_t n = 0;
	enum ab_status st;

	a->out->frontier = ab_arena_alloc(a->arena, MAX_POINTS + 1, sizeof *a->out->frontier);
	if (points == NULL || store == NULL || a->out->frontier == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < problem->n_changes; u++)
		if (problem->state[u] == AB_CHANGE_OPEN && problem->cost[u * AXIS_N] > 0)
			total += problem->cost[u * AXIS_N];
	wide.budget[AXIS_MONEY] = total;
	st = ab_plan_frontier(&wide, AXIS_MONEY, points, MAX_POINTS, store, &n, diag);
	if (st == AB_OK)
		*purse = replay_points(r, points, n, chosen);
	return st;
}

/* From the exact plan of effects that multiply to the best known by joint replay, and the frontier.
 * What was too small beside others is open again. 0.8: four fifths of what any money would bring is
 * "enough" (estimate; the report says so). */
static enum ab_status finish_plan(struct advising *a, struct ab_problem *problem, unsigned char *chosen,
    struct ab_diag *diag)
{
	struct ab_advice *out = a->out;
	struct replaying r = { a, problem, ab_arena_alloc(a->arena, a->k->n_changes, sizeof *r.set),
	    ab_arena_alloc(a->arena, a->k->n_causes, sizeof *r.share) };
	double cost, removed;
	enum ab_status st;

	if (r.set == NULL || r.share == NULL)
		return advising_nomem(diag);
	memset(a->small, 0, a->k->n_changes);
	st = advising_problem(a, a->load, a->effect, problem, NULL, diag);
	if (st == AB_OK)
		st = make_frontier(&r, chosen, &problem->budget[AXIS_MONEY], diag);
	if (st == AB_OK)
		st = advising_improve(a, problem, chosen, diag);
	if (st != AB_OK)
		return st;
	removed = trim(&r, chosen, &cost);
	add_point(out, cost, removed);
	for (size_t i = 0; i < out->n_frontier; i++)
		if (out->frontier[i].removed >= 0.8 * out->frontier[out->n_frontier - 1].removed) {
			out->enough = out->frontier[i].cost;
			break;
		}
	return AB_OK;
}

/* What is left of every cause when the whole plan is in force, by joint replay; the loads and chances
 * that follow. Flawless: no leak and no cause that spoils, as if independent; the same assumption as in
 * the rules. */
static enum ab_status joint_figures(struct advising *a, const unsigned char *chosen, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;
	int *set = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *set);
	double *share = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *share);

	if (set == NULL || share == NULL)
		return advising_nomem(diag);
	advising_joint(a, set, advising_list(a->k->n_changes, chosen, SIZE_MAX, set), share);
	out->flawless_before = out->flawless_after = a->leak_clean;
	for (size_t i = 0; i < a->k->n_causes; i++) {
		out->load_after += a->load[i] * (1 - share[i]);
		out->flawless_before *= 1 - a->recur[i] * a->spoils[i];
		out->flawless_after *= 1 - a->recur[i] * (1 - share[i]) * a->spoils[i];
	}
	return AB_OK;
}

/* Three stages: what is worth a place, the best of it under joint replay, the figures to show. */
enum ab_status advising_choose(struct advising *a, struct ab_diag *diag)
{
	struct ab_problem problem;
	struct ab_choice choice = { .chosen = ab_arena_alloc(a->arena, a->k->n_changes, 1) };
	enum ab_status st;

	if (choice.chosen == NULL)
		return advising_nomem(diag);
	st = solve_rounds(a, &problem, &choice, diag);
	if (st == AB_OK)
		st = finish_plan(a, &problem, choice.chosen, diag);
	if (st == AB_OK)
		st = joint_figures(a, choice.chosen, diag);
	if (st != AB_OK)
		return st;
	for (size_t u = 0; u < a->k->n_changes; u++) {
		a->out->items[u].chosen = choice.chosen[u];
		if (!choice.chosen[u])
			continue;
		a->out->minutes_added += a->out->items[u].minutes;
		a->out->running_added += a->out->items[u].running_cost;
	}
	a->out->gap = choice.gap;
	return AB_OK;
}
