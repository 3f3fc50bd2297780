/* thrift.c - hardly better for more money: which of the plans that each sum buys is advised
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/stepping.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include "advice/planning.h"

/* The cheapest point within the limits that removes so much; NULL when none does. */
static const struct ab_frontier_point *cheapest(const struct stepping *s, double removed)
{
	const struct ab_policy_plan *out = s->out;

	for (size_t i = 0; i < out->n_points; i++)
		if (out->points[i].removed >= removed && plan_within(&s->problem, out->points[i].chosen))
			return &out->points[i];
	return NULL;
}

/* Is a limit of money told at all? */
static bool any_money(const struct stepping *s)
{
	bool any = isinf(s->problem.budget[s->c->money]);

	for (size_t b = 0; b < s->problem.n_budgets; b++)
		any = any && (!s->c->lifted[b] || isinf(s->problem.budget[b]));
	return any;
}

/* Does b lie below the line from a to c? Then a or c is the better buy, whatever money is worth. */
static bool below_line(
    const struct ab_frontier_point *a, const struct ab_frontier_point *b, const struct ab_frontier_point *c)
{
	return (b->removed - a->removed) * (c->cost - a->cost) < (c->removed - a->removed) * (b->cost - a->cost);
}

/* The cheapest good buy within the limits that removes so much (no more than the best of them does, which always is
 * one): 83 for hardly anything is no thrift where 90 brings three times as much. Upper hull, in one pass. */
static const struct ab_frontier_point *thriftiest(const struct stepping *s, double removed)
{
	const struct ab_policy_plan *out = s->out;
	const struct ab_frontier_point *hull[STEPPING_POINTS + 2];
	size_t n = 0, i = 0;

	for (size_t k = 0; k < out->n_points; k++) {
		if (!plan_within(&s->problem, out->points[k].chosen))
			continue;
		while (n >= 2 && below_line(hull[n - 2], hull[n - 1], &out->points[k]))
			n--;
		hull[n++] = &out->points[k];
	}
	while (i < n && hull[i]->removed < removed)
		i++;
	return i < n ? hull[i] : NULL;
}

/* The best affordable set in which nothing is too small, and the thriftiest within thrift of it. The points come
 * cheapest first and rise, so the last affordable is the best. */
void stepping_thrift(struct stepping *s, double removed_so_far)
{
	struct ab_policy_plan *out = s->out;
	const struct ab_problem *p = &s->problem;
	double most = 0;
	const struct ab_frontier_point *pick, *thrifty;

	for (size_t i = 0; i < out->n_points; i++)
		if (plan_within(&s->problem, out->points[i].chosen))
			most = out->points[i].removed;
	pick = thrifty = thriftiest(s, most - s->policy->thrift * out->before);
	assert(pick != NULL);
	if (any_money(s) && s->policy->enough > 0 && s->policy->enough * most < pick->removed)
		pick = cheapest(s, s->policy->enough * most);
	if (p->n_changes > 0)
		memcpy(out->chosen, pick->chosen, p->n_changes);
	out->removed = pick->removed;
	out->cost = pick->cost;
	/* rounding of two sums of the same set in two orders is nothing given up */
	out->given_up[AB_POLICY_BESIDE] = fmax(0, removed_so_far - most);
	out->given_up[AB_POLICY_THRIFT] = fmax(0, most - thrifty->removed);
	out->given_up[AB_POLICY_ENOUGH] = fmax(0, thrifty->removed - pick->removed);
}
