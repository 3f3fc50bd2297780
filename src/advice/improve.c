/* improve.c - a plan made better by what joint replay knows and plan.h does not
 *
 * The exact search multiplies the effects of changes on one cause; two that set the same fact really do the
 * work once. So single additions and exchanges are tried under all limits, as long as one brings
 * ADVISING_WORTH of the load or more; each such step does, so there are at most 100.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

/* set and share are scratch for advising_joint; chosen is changed in place and put back after each
 * trial. */
struct moves {
	const struct advising *a;
	const struct ab_problem *problem;
	unsigned char *chosen;
	int *set;
	double *share;
};

size_t advising_list(size_t n_changes, const unsigned char *chosen, size_t without, int *set)
{
	size_t n = 0;

	for (size_t u = 0; u < n_changes; u++)
		if (chosen[u] && u != without)
			set[n++] = (int)u;
	return n;
}

/* Joint replay of the whole plan: the dear call of this file. */
static double value(const struct moves *m)
{
	return advising_joint(m->a, m->set, advising_list(m->problem->n_changes, m->chosen, SIZE_MAX, m->set),
	    m->share);
}

/* The tolerance grows with the costs added up, as their rounding does. */
static bool within_budgets(const struct ab_problem *p, const unsigned char *chosen)
{
	for (size_t k = 0; k < p->n_budgets; k++) {
		double sum = 0, size = 0;

		for (size_t u = 0; u < p->n_changes; u++)
			if (chosen[u]) {
				sum += p->cost[u * p->n_budgets + k];
				size += fabs(p->cost[u * p->n_budgets + k]);
			}
		if (sum > p->budget[k] + 1e-11 * size)   /* as plan.h */
			return false;
	}
	return true;
}

/* May v stand beside the chosen, and is everything needed by one of them there? chosen already contains
 * v here. */
static bool allowed(const struct ab_problem *p, const unsigned char *chosen, size_t v)
{
	for (size_t u = 0; u < p->n_changes; u++)
		if (u != v && chosen[u] && p->group[v] >= 0 && p->group[u] == p->group[v])
			return false;
	for (size_t i = 0; i < p->n_needs; i++) {
		int needs = p->needs[i].needs;

		if (chosen[p->needs[i].change] && !chosen[needs] && p->state[needs] != AB_CHANGE_OWNED)
			return false;
	}
	return within_budgets(p, chosen);
}

/* The best addition once `out` (-1 = nothing) is taken away; raises best and sets in when one is better
 * than best. The bound by the gain alone spares most replays, which are the dear part. */
static void try_additions(const struct moves *m, double whole, int out, double *best, int *best_out,
    int *best_in)
{
	double base = out >= 0 ? value(m) : whole;

	assert(out < 0 || !m->chosen[out]);
	for (size_t v = 0; v < m->problem->n_changes; v++) {
		/* beside others no change does more than alone, to within what could matter here */
		if (m->problem->state[v] != AB_CHANGE_OPEN || m->chosen[v] || (int)v == out ||
		    m->a->out->items[v].gain <= whole - base + *best)
			continue;
		m->chosen[v] = 1;
		double adds = allowed(m->problem, m->chosen, v) ? value(m) - whole : 0;
		if (adds > *best) {
			*best = adds;
			*best_out = out;
			*best_in = (int)v;
		}
		m->chosen[v] = 0;
	}
}

/* Best move first, not first move: a hundred changes are few enough, and the result does not hang on
 * their order. */
enum ab_status advising_improve(const struct advising *a, const struct ab_problem *problem,
    unsigned char *chosen, struct ab_diag *diag)
{
	struct moves m = { .a = a, .problem = problem, .chosen = chosen };
	int in;

	m.set = ab_arena_alloc(a->arena, problem->n_changes, sizeof *m.set);
	m.share = ab_arena_alloc(a->arena, problem->n_causes, sizeof *m.share);
	if (m.set == NULL || m.share == NULL)
		return advising_nomem(diag);
	do {
		double whole = value(&m), best = ADVISING_WORTH * a->out->load_before;
		int out = -1;

		in = -1;
		try_additions(&m, whole, -1, &best, &out, &in);
		for (size_t u = 0; u < problem->n_changes; u++)
			if (chosen[u]) {
				chosen[u] = 0;
				try_additions(&m, whole, (int)u, &best, &out, &in);
				chosen[u] = 1;
			}
		if (out >= 0)
			chosen[out] = 0;
		if (in >= 0)
			chosen[in] = 1;
	} while (in >= 0);
	return AB_OK;
}
