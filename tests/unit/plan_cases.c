/* plan_cases.c - see plan_cases.h. Everything here is written from the definition of the problem, not from the planner.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_cases.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double
plan_case_random(unsigned long long *seed)
{
	*seed ^= *seed >> 12;
	*seed ^= *seed << 25;
	*seed ^= *seed >> 27;
	return (double)((*seed * 2685821657736338717ULL) >> 11) / 9007199254740992.0;
}

static int
below(unsigned long long *seed, int n)
{
	return (int)(plan_case_random(seed) * n);
}

static double
stepped(const struct plan_shape *shape, double x)
{
	return shape->coarse ? ceil(4 * x) / 4 : x;
}

static void
make_effects(struct plan_case *c, const struct plan_shape *shape, unsigned long long *seed)
{
	struct ab_problem *p = &c->problem;
	int u, k, free_cause = 0;

	for (u = 0; u < shape->changes; u++) {
		int n = 1 + below(seed, shape->touches);
		bool seen[AB_PLAN_CAUSES] = { false };

		for (k = 0; k < n; k++) {
			int cause = shape->linear ? free_cause++ : below(seed, shape->causes);

			if (cause >= shape->causes || seen[cause])
				continue;
			seen[cause] = true;
			c->effects[p->n_effects++] = (struct ab_effect){ cause, u,
			    stepped(shape, 0.05 + 0.95 * plan_case_random(seed)) };
		}
	}
}

/* The effects of a cause become a table over its first changes that are not owned. */
static void
make_table(struct plan_case *c, int cause, unsigned long long *seed)
{
	struct ab_problem *p = &c->problem;
	size_t at = p->n_joints, n = 0, kept = 0, k, set, way = (size_t)below(seed, 3);
	double alone[CASE_TABLE], *share = c->joint_share[at];

	for (k = 0; k < p->n_effects; k++) {
		if (c->effects[k].cause != cause) {
			c->effects[kept++] = c->effects[k];
		} else if (n < CASE_TABLE && c->state[c->effects[k].change] != AB_CHANGE_OWNED) {
			alone[n] = c->effects[k].share;
			c->joint_changes[at][n++] = c->effects[k].change;
		}
	}
	p->n_effects = kept;
	if (n == 0)
		return;
	share[0] = 0;
	for (set = 1; set < (size_t)1 << n; set++) {
		double most = 0, left = 1;

		for (k = 0; k < n; k++)
			if (set >> k & 1) {
				most = fmax(most, alone[k]);
				left *= 1 - alone[k];
			}
		/* the best of them does the work; only all together do it; whatever the dice say */
		share[set] = way == 0 ? most
		    : way == 1        ? (set + 1 == (size_t)1 << n ? 1 - left : 0.1 * most)
				      : plan_case_random(seed);
	}
	c->joints[p->n_joints++] = (struct ab_joint){ cause, n, c->joint_changes[at], share };
}

static void
make_copy(struct plan_case *c, int from, int to, double change)
{
	struct ab_problem *p = &c->problem;
	size_t k, n, kept = 0;

	for (k = 0; k < p->n_effects; k++)
		if (c->effects[k].change != to)
			c->effects[kept++] = c->effects[k];
	p->n_effects = n = kept;
	for (k = 0; k < n; k++)
		if (c->effects[k].change == from) {
			c->effects[p->n_effects] = c->effects[k];
			c->effects[p->n_effects].share *= change;
			c->effects[p->n_effects++].change = to;
		}
	for (k = 0; k < p->n_budgets; k++)
		c->cost[(size_t)to * p->n_budgets + k] = c->cost[(size_t)from * p->n_budgets + k];
}

static void
make_costs(struct plan_case *c, const struct plan_shape *shape, unsigned long long *seed)
{
	struct ab_problem *p = &c->problem;
	size_t u, b;

	for (u = 0; u < p->n_changes; u++)
		for (b = 0; b < p->n_budgets; b++) {
			double x = plan_case_random(seed), *cost = &c->cost[u * p->n_budgets + b];

			*cost = x < 0.2 ? 0 : floor(100 * x) / (b == 0 ? 1 : 4);
			if (shape->savings && plan_case_random(seed) < 0.2)
				*cost = -*cost / 2;
		}
	if (shape->proportional) {
		for (u = 0; u < p->n_changes; u++) {
			double gain = 0;

			for (b = 0; b < p->n_effects; b++)
				if (c->effects[b].change == (int)u)
					gain += c->load[c->effects[b].cause] * c->effects[b].share;
			c->cost[u * p->n_budgets] = floor(100 * gain * (0.95 + 0.1 * plan_case_random(seed)));
		}
	}
}

static void
make_budgets(struct plan_case *c, const struct plan_shape *shape)
{
	struct ab_problem *p = &c->problem;
	size_t u, b;

	for (b = 0; b < p->n_budgets; b++) {
		double all = 0, saved = 0;

		for (u = 0; u < p->n_changes; u++) {
			double cost = p->cost[u * p->n_budgets + b];

			all += cost > 0 ? cost : 0;
			saved += cost < 0 ? -cost : 0;
		}
		p->budget[b] = floor(shape->tight * all);
		if (shape->overdrawn && b == 1)
			p->budget[b] = -floor(0.5 * saved);
	}
}

static void
make_needs(struct plan_case *c, const struct plan_shape *shape, unsigned long long *seed)
{
	struct ab_problem *p = &c->problem;
	int u, n = shape->changes, hub = below(seed, n);

	for (u = 0; u < n; u++) {
		if (shape->needs && plan_case_random(seed) < 0.2)
			c->needs[p->n_needs++] = (struct ab_need){ u, below(seed, n) };
		if (shape->shared_needs && u != hub && plan_case_random(seed) < 0.4)
			c->needs[p->n_needs++] = (struct ab_need){ u, hub };
	}
}

void
plan_case_make(struct plan_case *c, const struct plan_shape *shape, unsigned long long seed)
{
	struct ab_problem *p = &c->problem;
	int u, i;

	memset(c, 0, sizeof *c);
	seed = seed * 0x9e3779b97f4a7c15ULL + 0x1234567;
	for (i = 0; i < 8; i++)
		plan_case_random(&seed);
	p->n_causes = (size_t)shape->causes;
	p->n_changes = (size_t)shape->changes;
	p->n_budgets = (size_t)shape->budgets;
	p->load = c->load;
	p->effects = c->effects;
	p->needs = c->needs;
	p->group = c->group;
	p->state = c->state;
	p->cost = c->cost;
	for (i = 0; i < shape->causes; i++)
		c->load[i] = plan_case_random(&seed) < 0.05 ? 0 : stepped(shape, pow(plan_case_random(&seed), 2));
	make_effects(c, shape, &seed);
	make_costs(c, shape, &seed);
	for (u = 0; u < shape->changes; u++) {
		double x = plan_case_random(&seed);

		c->group[u] = shape->groups && x < 0.3 ? (int)(x * 10) : -1;
		x = plan_case_random(&seed);
		c->state[u] = !shape->owned || x < 0.8 ? AB_CHANGE_OPEN : x < 0.9 ? AB_CHANGE_OWNED : AB_CHANGE_OUT;
	}
	for (u = 1; shape->copies && u < shape->changes; u += 3)
		make_copy(c, u - 1, u, u % 2 == 0 ? 1 : 0.999);
	make_needs(c, shape, &seed);
	p->joints = c->joints;
	for (i = 0; shape->tables && i < shape->causes && p->n_joints < CASE_JOINTS; i += 2)
		make_table(c, i, &seed);
	make_budgets(c, shape);
}

void
plan_case_redraw(struct plan_case *c, unsigned long long seed)
{
	size_t k;

	seed = seed * 0x9e3779b97f4a7c15ULL + 99;
	for (k = 0; k < 8; k++)
		plan_case_random(&seed);
	for (k = 0; k < c->problem.n_causes; k++)
		c->load[k] *= 0.5 + plan_case_random(&seed);
	for (k = 0; k < c->problem.n_effects; k++)
		c->effects[k].share = 1 - (1 - c->effects[k].share) * (0.7 + 0.3 * plan_case_random(&seed));
}

static bool
in_force(const struct ab_problem *p, const unsigned char *chosen, int u)
{
	return chosen[u] || p->state[u] == AB_CHANGE_OWNED;
}

bool
plan_case_allows(const struct ab_problem *p, const unsigned char *chosen)
{
	size_t u, v, b;

	for (u = 0; u < p->n_changes; u++) {
		if (chosen[u] && p->state[u] != AB_CHANGE_OPEN)
			return false;
		for (v = 0; chosen[u] && p->group[u] >= 0 && v < p->n_changes; v++)
			if (v != u && p->group[u] == p->group[v] && in_force(p, chosen, (int)v))
				return false;
	}
	for (u = 0; u < p->n_needs; u++)
		if (chosen[p->needs[u].change] && !in_force(p, chosen, p->needs[u].needs))
			return false;
	for (b = 0; b < p->n_budgets; b++) {
		double sum = 0, size = 0;

		for (u = 0; u < p->n_changes; u++) {
			sum += chosen[u] ? p->cost[u * p->n_budgets + b] : 0;
			size += fabs(p->cost[u * p->n_budgets + b]);
		}
		if (sum > p->budget[b] + 1e-11 * size)
			return false;
	}
	return true;
}

/* f(S with owned) - f(owned), straight from the definition. */
double
plan_case_value(const struct ab_problem *p, const unsigned char *chosen)
{
	double left[AB_PLAN_CAUSES], owned[AB_PLAN_CAUSES], sum = 0;
	size_t i, k;

	for (i = 0; i < p->n_causes; i++)
		left[i] = owned[i] = p->load[i];
	for (k = 0; k < p->n_effects; k++) {
		const struct ab_effect *e = &p->effects[k];

		if (p->state[e->change] == AB_CHANGE_OWNED)
			owned[e->cause] *= 1 - e->share;
		if (in_force(p, chosen, e->change))
			left[e->cause] *= 1 - e->share;
	}
	for (k = 0; k < p->n_joints; k++) {
		size_t set = 0;

		for (i = 0; i < p->joints[k].n; i++)
			set += (size_t)chosen[p->joints[k].changes[i]] << i;
		left[p->joints[k].cause] *= 1 - p->joints[k].share[set];
	}
	for (i = 0; i < p->n_causes; i++)
		sum += owned[i] - left[i];
	return sum;
}

static void
unpack(unsigned long set, size_t n, unsigned char *chosen)
{
	size_t u;

	for (u = 0; u < n; u++)
		chosen[u] = (unsigned char)(set >> u & 1);
}

static bool
comes_first(const unsigned char *a, const unsigned char *b, size_t n)
{
	int count = 0;
	size_t u;

	for (u = 0; u < n; u++)
		count += a[u] - b[u];
	if (count != 0)
		return count < 0;
	for (u = 0; u < n && a[u] == b[u]; u++)
		;
	return u < n && a[u];
}

bool
plan_case_enumerate(const struct ab_problem *p, struct plan_truth *truth)
{
	unsigned long set, n_sets = 1UL << p->n_changes;
	double *value = malloc(n_sets * sizeof *value), before = 0, best = -1;
	unsigned char chosen[AB_PLAN_CHANGES];
	bool any = false;
	size_t i;

	if (value == NULL)
		abort();
	for (i = 0; i < p->n_causes; i++)
		before += p->load[i];
	for (set = 0; set < n_sets; set++) {
		unpack(set, p->n_changes, chosen);
		value[set] = plan_case_allows(p, chosen) ? plan_case_value(p, chosen) : -1;
		best = value[set] > best ? value[set] : best;
	}
	for (set = 0; set < n_sets; set++) {
		if (value[set] <= -1 || value[set] < best - 1e-12 * before)
			continue;
		unpack(set, p->n_changes, chosen);
		if (!any || comes_first(chosen, truth->chosen, p->n_changes))
			memcpy(truth->chosen, chosen, p->n_changes);
		any = true;
	}
	truth->removed = best;
	free(value);
	return any;
}

struct pair { double cost, removed; };

static int
by_cost(const void *a, const void *b)
{
	const struct pair *x = a, *y = b;

	if (x->cost < y->cost || x->cost > y->cost)
		return x->cost < y->cost ? -1 : 1;
	return x->removed > y->removed ? -1 : x->removed < y->removed;
}

size_t
plan_case_frontier(const struct ab_problem *p, int axis, double *cost, double *removed, size_t max)
{
	unsigned long set, n_sets = 1UL << p->n_changes;
	struct pair *pairs = malloc(n_sets * sizeof *pairs);
	unsigned char chosen[AB_PLAN_CHANGES];
	double before = 0;
	size_t n = 0, k, u, points = 0;

	if (pairs == NULL)
		abort();
	for (k = 0; k < p->n_causes; k++)
		before += p->load[k];
	for (set = 0; set < n_sets; set++) {
		unpack(set, p->n_changes, chosen);
		if (!plan_case_allows(p, chosen))
			continue;
		pairs[n].cost = 0;
		for (u = 0; u < p->n_changes; u++)
			pairs[n].cost += chosen[u] ? p->cost[u * p->n_budgets + (size_t)axis] : 0;
		pairs[n++].removed = plan_case_value(p, chosen);
	}
	qsort(pairs, n, sizeof *pairs, by_cost);
	for (k = 0; k < n && points < max; k++) {
		if (points > 0 && pairs[k].removed <= removed[points - 1] + 1e-12 * before)
			continue;
		if (points > 0 && pairs[k].cost <= 0)       /* the plan at the amount 0 is the first point */
			points = 0;
		cost[points] = pairs[k].cost;
		removed[points++] = pairs[k].removed;
	}
	free(pairs);
	return points;
}
