/* choose.c - the plan, and what each budget buys
 *
 * The best set within the limits by joint replay, proven (plan.h); narrowed by the policy, each step with what
 * it gives up (policy.h); then the figures to show.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <stdlib.h>

/* Minutes of what was complained of weigh so much (estimate: they are the ones that are felt). */
#define COMPLAINED 2

size_t advising_list(size_t n_changes, const unsigned char *chosen, int *set)
{
	size_t n = 0;

	for (size_t u = 0; u < n_changes; u++)
		if (chosen[u])
			set[n++] = (int)u;
	return n;
}

int advising_by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

/* Load a batch of one slight flaw in all batches of the horizon, the fault being the middle one by weight; 0 for a
 * brewer who has a flaw to get rid of. */
static enum ab_status one_flaw(const struct advising *a, double *flaw, struct ab_diag *diag)
{
	size_t n = a->k->n_faults;
	double *weights = ab_arena_alloc(a->arena, n, sizeof *weights);
	double batches = advising_batches_per_year(a) * a->out->horizon_years;

	if (weights == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; i < n; i++)
		weights[i] = a->k->faults[i].severity;
	if (n > 0)
		qsort(weights, n, sizeof *weights, advising_by_size);
	*flaw = n == 0 || !advising_well(a) ? 0 : weights[n / 2] / fmax(1, batches);
	return AB_OK;
}

static enum ab_status apply_policy(struct advising *a, const struct ab_problem *problem,
    struct ab_policy_plan *plan, struct ab_diag *diag)
{
	size_t n = a->k->n_changes;
	struct ab_policy policy = a->options->policy != NULL ? *a->options->policy : ab_policy_usual;
	unsigned char *bought = ab_arena_alloc(a->arena, n, 1);
	double *minutes = ab_arena_alloc(a->arena, n, sizeof *minutes), flaw = 0;
	enum ab_status st = one_flaw(a, &flaw, diag);

	if (st != AB_OK)
		return st;
	if (bought == NULL || minutes == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++) {
		/* who says that nothing is wrong asks for no habit either that nobody could taste */
		bought[u] = advising_costs_money(&a->out->items[u]) || advising_well_by_word(a);
		minutes[u] = a->out->items[u].minutes;
	}
	policy.habits = a->out->changes;
	return ab_policy_apply(&(struct ab_policy_case){ .problem = problem, .money = AXIS_WHOLE,
	    .habits = AXIS_HABITS, .lifted = { [AXIS_MONEY] = true, [AXIS_RUNNING] = !a->out->running_told },
	    .bought = bought, .minutes = advising_for_time(a) ? NULL : minutes, .flaw = flaw }, &policy,
	    a->arena, plan, diag);
}

static enum ab_status give_frontier(struct advising *a, const struct ab_policy_plan *plan, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;

	out->frontier = ab_arena_alloc(a->arena, plan->n_points, sizeof *out->frontier);
	if (out->frontier == NULL)
		return advising_nomem(diag);
	out->n_frontier = plan->n_points;
	out->enough = NAN;
	for (size_t i = plan->n_points; i-- > 0;) {
		const struct ab_frontier_point *p = &plan->points[i];

		out->frontier[i] = (struct ab_step){ .cost = p->cost, .removed = p->removed,
			.load = out->load_before - p->removed, .chosen = p->chosen };
		if (p->removed >= ab_policy_usual.enough * plan->points[plan->n_points - 1].removed)
			out->enough = p->cost;
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
	advising_joint(a, set, advising_list(a->k->n_changes, chosen, set), share);
	out->flawless_before = out->flawless_after = a->leak_clean;
	for (size_t i = 0; i < a->k->n_causes; i++) {
		out->load_after += a->load[i] * (1 - share[i]);
		out->flawless_before *= 1 - a->recur[i] * a->spoils[i];
		out->flawless_after *= 1 - a->recur[i] * (1 - share[i]) * a->spoils[i];
	}
	return AB_OK;
}

/* Where a table had to leave something out, what that could bring more belongs to the gap. */
static void give_plan(struct advising *a, const struct ab_policy_plan *plan)
{
	struct ab_advice *out = a->out;

	for (size_t u = 0; u < a->k->n_changes; u++) {
		out->items[u].chosen = plan->chosen[u];
		out->items[u].in_best = plan->best[u];
		if (!plan->chosen[u])
			continue;
		out->minutes_added += out->items[u].minutes;
		out->running_added += out->items[u].running_cost;
	}
	out->best = plan->best_removed;
	out->gap = plan->gap + a->neglected;
	for (size_t i = 0; i < AB_POLICY_STEPS; i++)
		out->given_up[i] = plan->given_up[i];
	a->state = plan->state;
}

/* Open, and within each limit by itself. */
static bool can_be_had(const struct ab_problem *p, size_t u)
{
	bool within = p->state[u] == AB_CHANGE_OPEN;

	for (size_t b = 0; b < p->n_budgets; b++)
		within = within && p->cost[u * p->n_budgets + b] <= p->budget[b];
	return within;
}

/* Where time is wanted, what counts is minutes saved: each change that saves some is a "cause" of its own,
 * which it removes wholly. Minutes add up, so there are no tables. What cannot be had saves nobody time: the
 * policy's shares are of what can be saved here. */
static enum ab_status time_problem(const struct advising *a, struct ab_problem *problem, struct ab_diag *diag)
{
	size_t n = a->k->n_changes;
	double *load = ab_arena_alloc(a->arena, n, sizeof *load);
	struct ab_effect *effects = ab_arena_alloc(a->arena, n, sizeof *effects);

	if (load == NULL || effects == NULL)
		return advising_nomem(diag);
	*problem = a->problem;
	problem->n_causes = n;
	problem->load = load;
	problem->effects = effects;
	problem->n_effects = problem->n_joints = 0;
	for (size_t u = 0; u < n; u++) {
		load[u] = !can_be_had(&a->problem, u) ? 0
		    : fmax(0, -a->out->items[u].minutes) * (advising_answers(a, (int)u) ? COMPLAINED : 1);
		if (load[u] > 0)
			effects[problem->n_effects++] = (struct ab_effect){ .cause = (int)u, .change = (int)u,
			    .share = 1 };
	}
	return AB_OK;
}

/* The flaws a plan for time takes away on its way; what each budget buys is not told of minutes. */
static enum ab_status choose_time(struct advising *a, struct ab_diag *diag)
{
	struct ab_policy_plan plan;
	struct ab_problem problem;
	enum ab_status st = time_problem(a, &problem, diag);

	if (st == AB_OK)
		st = apply_policy(a, &problem, &plan, diag);
	if (st == AB_OK)
		st = joint_figures(a, plan.chosen, diag);
	if (st != AB_OK)
		return st;
	plan.best_removed = a->out->load_before - a->out->load_after;
	for (size_t i = 0; i < AB_POLICY_STEPS; i++)
		plan.given_up[i] = 0;
	give_plan(a, &plan);
	a->out->gap = 0;
	a->out->enough = NAN;
	return AB_OK;
}

enum ab_status advising_choose(struct advising *a, struct ab_diag *diag)
{
	struct ab_policy_plan plan;
	enum ab_status st;

	if (advising_for_time(a))
		return choose_time(a, diag);
	st = apply_policy(a, &a->problem, &plan, diag);
	if (st == AB_OK)
		st = give_frontier(a, &plan, diag);
	if (st == AB_OK)
		st = joint_figures(a, plan.chosen, diag);
	if (st != AB_OK)
		return st;
	give_plan(a, &plan);
	return AB_OK;
}
