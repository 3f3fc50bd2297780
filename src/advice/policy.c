/* policy.c - from the best plan to a livable one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/stepping.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* All estimates, all policy. alone, beside: a hundredth of a brewery's flaws is below what a panel of friends
 * could tell in a year of brewing. paying: three times that, for a wrong "buy" costs more than a wrong "try".
 * spared: who brews without a flaw and keeps off less than one slight one over the horizon for the money has spent
 * it on nothing anybody could taste. enough: the last fifth of what money can buy costs several times the rest (six
 * times for the examples). habits: more than a handful at once are not kept (common practice), and what worked
 * could not be told afterwards. thrift: two hundredths, as nobody would taste the difference between two such
 * plans. bought: of 80 simulated brewers who begin one change a batch those who weigh purchases at half, and begin
 * with what was tasted, removed 71 of 100 that could be removed in ten batches; purchases in full, and what brings
 * most first, 72 (within its error) for a fifth more money (tests/cases/loop.t). equal: well inside the error of
 * any rated share. hour: forty minutes with every batch for less than a twenty-fifth of its flaws are not kept up.
 * filler: beside a change that takes twenty times as much nobody would miss it. */
const struct ab_policy ab_policy_usual = {
	.alone = 0.01, .paying = 0.03, .spared = 1, .habits = 6, .beside = 0.01, .hour = 0.06, .filler = 0.05,
	.thrift = 0.02, .enough = 0.8,
	.bought = 0.5, .equal = 0.05,
};

const char *const ab_policy_words[AB_POLICY_STEPS] = {
	[AB_POLICY_ALONE] = "too little by itself", [AB_POLICY_HABITS] = "too many new habits at once",
	[AB_POLICY_BESIDE] = "adds too little to the rest", [AB_POLICY_THRIFT] = "hardly better for more money",
	[AB_POLICY_ENOUGH] = "enough, as no limit of money was told",
	[AB_POLICY_FILLER] = "would do almost nothing beside the rest",
};

static enum ab_status no_memory(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while choosing a plan");
}

static enum ab_status solve(struct stepping *s, unsigned char *chosen, double *removed, double *gap)
{
	struct ab_choice choice = { .chosen = chosen };
	enum ab_status st = ab_plan_solve(&s->problem, &choice, s->diag);

	*removed = st == AB_OK ? choice.removed : 0;
	s->out->before = choice.before;
	if (gap != NULL)
		*gap = choice.gap;
	return st;
}

double stepping_cost(const struct stepping *s, const unsigned char *chosen)
{
	double sum = 0;

	for (size_t u = 0; u < s->problem.n_changes; u++)
		sum += chosen[u] ? s->problem.cost[u * s->problem.n_budgets + s->c->money] : 0;
	return sum;
}

/* ---- too little by itself ---- */

/* What a change worth its place needs may come with it, however little it does by itself. To a fixed
 * point: what is needed may need something in its turn. */
static void keep_needed(const struct stepping *s, const enum ab_change_state *limits)
{
	for (bool again = true; again;) {
		again = false;
		for (size_t i = 0; i < s->problem.n_needs; i++) {
			int u = s->problem.needs[i].change, v = s->problem.needs[i].needs;

			if (s->state[u] != AB_CHANGE_OPEN || s->state[v] != AB_CHANGE_OUT ||
			    (limits != NULL && limits[v] != AB_CHANGE_OPEN))
				continue;
			s->state[v] = AB_CHANGE_OPEN;
			again = true;
		}
	}
}

/* The load that shares are counted of. Of a purchase no less than that at which `spared` flaws are the least it
 * must take away by itself: a share of hardly anything is nothing anybody could taste. */
static double measure(const struct stepping *s, size_t u)
{
	double least = s->policy->paying > 0 ? s->policy->spared * s->c->flaw / s->policy->paying : 0;

	return s->c->bought[u] ? fmax(s->out->before, least) : s->out->before;
}

/* What its minutes ask of it; a change that saves some, nothing. */
double stepping_least_for_time(const struct stepping *s, size_t u)
{
	return s->c->minutes != NULL ? s->policy->hour * fmax(0, s->c->minutes[u]) / 60 * s->out->before : 0;
}

/* Without what gives back of an overdrawn budget there may be no plan at all. */
static bool mends(const struct ab_problem *p, size_t u)
{
	for (size_t b = 0; b < p->n_budgets; b++)
		if (p->budget[b] < 0 && p->cost[u * p->n_budgets + b] < 0)
			return true;
	return false;
}

static void rule_out_alone(struct stepping *s)
{
	size_t n = s->problem.n_changes;

	memset(s->set, 0, n);
	for (size_t u = 0; u < n; u++) {
		double share = s->c->bought[u] ? s->policy->paying : s->policy->alone;
		double least = fmax(share * measure(s, u), stepping_least_for_time(s, u));

		if (s->state[u] != AB_CHANGE_OPEN || mends(&s->problem, u))
			continue;
		s->set[u] = 1;
		if (ab_plan_removed(&s->problem, s->set) < least)
			s->state[u] = AB_CHANGE_OUT;
		s->set[u] = 0;
	}
	keep_needed(s, s->c->problem->state);
}

/* ---- adds too little to the rest ---- */

static bool is_needed(const struct ab_problem *p, const unsigned char *chosen, size_t u)
{
	for (size_t i = 0; i < p->n_needs; i++)
		if ((size_t)p->needs[i].needs == u && chosen[p->needs[i].change])
			return true;
	return false;
}

/* Does the rest live on a budget that u gives back? To the rounding of its sums (as plan.h). */
static bool pays_for_others(const struct ab_problem *p, const unsigned char *chosen, size_t u)
{
	for (size_t b = 0; b < p->n_budgets; b++) {
		double sum = -p->cost[u * p->n_budgets + b], size = 0;

		for (size_t v = 0; v < p->n_changes; v++) {
			sum += chosen[v] ? p->cost[v * p->n_budgets + b] : 0;
			size += fabs(p->cost[v * p->n_budgets + b]);
		}
		if (p->cost[u * p->n_budgets + b] < 0 && sum > p->budget[b] + 1e-11 * size)
			return true;
	}
	return false;
}

/* What u adds to the rest of a plan it stands in. What another needs counts as worth its place, and so does
 * what gives a limited budget back that the rest has used up. */
double stepping_adds(const struct ab_problem *p, unsigned char *chosen, size_t u, double whole)
{
	double rest;

	if (is_needed(p, chosen, u) || pays_for_others(p, chosen, u))
		return INFINITY;
	chosen[u] = 0;
	rest = ab_plan_removed(p, chosen);
	chosen[u] = 1;
	return whole - rest;
}

int stepping_smallest(const struct stepping *s, unsigned char *chosen)
{
	double whole = ab_plan_removed(&s->problem, chosen), part = 1;
	int worst = -1;

	for (size_t u = 0; u < s->problem.n_changes; u++) {
		double x = chosen[u]
		    ? stepping_adds(&s->problem, chosen, u, whole) / (s->policy->beside * measure(s, u))
		    : INFINITY;

		if (x < part) {
			part = x;
			worst = (int)u;
		}
	}
	return worst;
}

/* Taken out one by one. */
static double trim(const struct stepping *s, unsigned char *chosen)
{
	int worst;

	while ((worst = stepping_smallest(s, chosen)) >= 0)
		chosen[worst] = 0;
	return ab_plan_removed(&s->problem, chosen);
}

/* Solved again without the smallest until none is too small: its money may do better elsewhere. Not
 * proven: sets with no small item need not lie on this path. */
static enum ab_status solve_rounds(struct stepping *s, unsigned char *chosen, double *removed)
{
	size_t n = s->problem.n_changes;
	enum ab_status st = AB_OK;
	int worst = -1;
	bool any = false;

	memcpy(s->kept, s->state, n * sizeof *s->kept);
	do {
		if (worst >= 0)
			s->state[worst] = AB_CHANGE_OUT;
		st = solve(s, chosen, removed, NULL);
		worst = st == AB_OK ? stepping_smallest(s, chosen) : -1;
		any |= worst >= 0;
	} while (worst >= 0);
	memcpy(s->state, s->kept, n * sizeof *s->kept);
	if (st == AB_OK && any)
		stepping_exchange(s, chosen, removed);
	return st;
}

/* ---- what each sum buys ---- */

/* Cheapest first; what costs as much and removes no more falls out. A new point drops those it outdoes. */
static void add_point(struct ab_policy_plan *out, const struct ab_frontier_point *point)
{
	struct ab_frontier_point *f = out->points;
	size_t n = 0, at;

	for (size_t i = 0; i < out->n_points; i++)
		if (f[i].cost <= point->cost && f[i].removed >= point->removed)
			return;
	for (size_t i = 0; i < out->n_points; i++)
		if (f[i].cost < point->cost || f[i].removed > point->removed)
			f[n++] = f[i];
	assert(n <= STEPPING_POINTS + 1);     /* room for one more: see make_frontier */
	for (at = n; at > 0 && f[at - 1].cost > point->cost; at--)
		f[at] = f[at - 1];
	f[at] = *point;
	out->n_points = n + 1;
}

/* With all the money any set could cost, so that it reaches beyond what the brewer has. */
static enum ab_status make_frontier(struct stepping *s)
{
	struct ab_policy_plan *out = s->out;
	struct ab_problem wide = s->problem;
	struct ab_frontier_point *points = ab_arena_alloc(s->arena, STEPPING_POINTS, sizeof *points);
	unsigned char *store = ab_arena_alloc(s->arena, STEPPING_POINTS, wide.n_changes);
	double total = 0;
	size_t n = 0;
	enum ab_status st;

	out->points = ab_arena_alloc(s->arena, STEPPING_POINTS + 2, sizeof *out->points);
	if (points == NULL || store == NULL || out->points == NULL)
		return no_memory(s->diag);
	for (size_t u = 0; u < wide.n_changes; u++)
		if (s->state[u] == AB_CHANGE_OPEN)
			total += fmax(0, wide.cost[u * wide.n_budgets + s->c->money]);
	for (size_t b = 0; b < wide.n_budgets; b++)
		wide.budget[b] = s->c->lifted[b] ? INFINITY : wide.budget[b];
	wide.budget[s->c->money] = fmax(total, isfinite(s->problem.budget[s->c->money])
	    ? s->problem.budget[s->c->money] : 0);
	st = ab_plan_frontier(&wide, (int)s->c->money, points, STEPPING_POINTS, store, &n, s->diag);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		points[i].removed = trim(s, points[i].chosen);
		points[i].cost = stepping_cost(s, points[i].chosen);
		add_point(out, &points[i]);
	}
	return st;
}

/* A point for the plan of solve_rounds. What then costs a budget its last saving has no plan: no point. */
static enum ab_status add_rounds(struct stepping *s)
{
	struct ab_frontier_point own = { .chosen = ab_arena_alloc(s->arena, s->problem.n_changes, 1) };
	struct ab_diag quiet, *diag = s->diag;
	enum ab_status st;

	if (own.chosen == NULL)
		return no_memory(s->diag);
	ab_diag_init(&quiet);
	s->diag = &quiet;
	st = solve_rounds(s, own.chosen, &own.removed);
	s->diag = diag;
	if (st == AB_EINPUT)
		return AB_OK;
	if (st != AB_OK)
		return ab_fail(diag, st, NULL, 0, "%s", quiet.text);
	own.cost = stepping_cost(s, own.chosen);
	add_point(s->out, &own);
	return AB_OK;
}

static enum ab_status check(const struct ab_policy_case *c, const struct ab_policy *p, struct ab_diag *diag)
{
	const double shares[] = { p->alone, p->paying, p->beside, p->hour, p->filler, p->thrift, p->enough, p->equal };

	if (c->money >= c->problem->n_budgets || c->habits >= c->problem->n_budgets)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "money is budget %zu and habits %zu of %zu", c->money,
		    c->habits, c->problem->n_budgets);
	if (!(p->spared >= 0) || !(c->flaw >= 0))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "%g flaws of %g to keep off; neither may be below 0",
		    p->spared, c->flaw);
	for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
		if (!(shares[i] >= 0 && shares[i] <= 1))
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "a share of %g in the policy; it must be 0 to 1", shares[i]);
	return AB_OK;
}

static enum ab_status make_room(struct stepping *s)
{
	size_t n = s->problem.n_changes;

	s->state = ab_arena_alloc(s->arena, n, sizeof *s->state);
	s->kept = ab_arena_alloc(s->arena, n, sizeof *s->kept);
	s->set = ab_arena_alloc(s->arena, n, 1);
	s->trial = ab_arena_alloc(s->arena, n, 1);
	s->out->best = ab_arena_alloc(s->arena, n, 1);
	s->out->chosen = ab_arena_alloc(s->arena, n, 1);
	if (s->state == NULL || s->kept == NULL || s->set == NULL || s->trial == NULL || s->out->best == NULL ||
	    s->out->chosen == NULL)
		return no_memory(s->diag);
	if (n > 0 && s->problem.state != NULL)   /* else zeroed: all open */
		memcpy(s->state, s->problem.state, n * sizeof *s->state);
	s->problem.state = s->out->state = s->state;
	return AB_OK;
}

/* The first two steps narrow the problem and are solved exactly each; the third and fourth choose among
 * what the narrowed problem offers. Each step's plans are plans of the step before, so none gains. */
enum ab_status ab_policy_apply(const struct ab_policy_case *c, const struct ab_policy *policy,
    struct ab_arena *arena, struct ab_policy_plan *out, struct ab_diag *diag)
{
	struct stepping s = { .c = c, .policy = policy, .arena = arena, .out = out, .diag = diag,
	    .problem = *c->problem };
	double alone = 0, habits = 0;
	enum ab_status st = check(c, policy, diag);

	memset(out, 0, sizeof *out);
	if (st == AB_OK)
		st = make_room(&s);
	if (st == AB_OK)
		st = solve(&s, out->best, &out->best_removed, &out->gap);
	if (st != AB_OK)
		return st;
	rule_out_alone(&s);
	st = solve(&s, out->chosen, &alone, NULL);
	if (policy->habits > 0)
		s.problem.budget[c->habits] = fmin(s.problem.budget[c->habits], (double)policy->habits);
	if (st == AB_OK)
		st = solve(&s, out->chosen, &habits, NULL);
	if (st == AB_OK)
		st = make_frontier(&s);
	if (st == AB_OK)
		st = add_rounds(&s);
	if (st != AB_OK)
		return st;
	out->given_up[AB_POLICY_ALONE] = fmax(0, out->best_removed - alone);
	out->given_up[AB_POLICY_HABITS] = fmax(0, alone - habits);
	stepping_thrift(&s, habits);
	stepping_filler(&s);
	return AB_OK;
}
