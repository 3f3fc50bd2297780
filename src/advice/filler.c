/* filler.c - what does almost nothing beside the rest, or for its minutes, put out of the plan that was picked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/stepping.h"

#include <math.h>

/* What the one adds that adds most, of what no other needs. */
static double most_added(const struct stepping *s, double whole)
{
	double most = 0;

	for (size_t u = 0; u < s->problem.n_changes; u++) {
		double x = s->out->chosen[u] ? stepping_adds(&s->problem, s->out->chosen, u, whole) : 0;

		most = isfinite(x) ? fmax(most, x) : most;
	}
	return most;
}

/* The smallest of what adds too little beside that or for its minutes; -1 = none. */
static int most_idle(const struct stepping *s, double whole)
{
	double beside = s->policy->filler * most_added(s, whole), least = INFINITY;
	int worst = -1;

	for (size_t u = 0; u < s->problem.n_changes; u++) {
		double x = s->out->chosen[u] ? stepping_adds(&s->problem, s->out->chosen, u, whole) : INFINITY;

		if (x < fmax(beside, stepping_least_for_time(s, u)) && x < least) {
			least = x;
			worst = (int)u;
		}
	}
	return worst;
}

/* Of the plan that was picked, nothing put in its place: what is left is a plan still. */
void stepping_filler(struct stepping *s)
{
	struct ab_policy_plan *out = s->out;
	double whole = ab_plan_removed(&s->problem, out->chosen), left = whole;
	int worst;

	while ((worst = most_idle(s, left)) >= 0) {
		out->chosen[worst] = 0;
		left = ab_plan_removed(&s->problem, out->chosen);
	}
	if (left == whole)
		return;
	out->given_up[AB_POLICY_FILLER] = fmax(0, out->removed - left);
	out->removed = left;
	out->cost = stepping_cost(s, out->chosen);
}
