/* cheaper.c - a purchase that is likelier out of the best plan than in it, and the cheaper plan that does nearly as much
 *
 * The best plan by the figures as they are is the best guess; but where moving the estimates leaves a dear item out more often than
 * not, and a cheaper plan without it takes nearly as much off, money is better kept until batches speak for it: a habit that
 * was taken up in vain is dropped again, a purchase is not.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

/* In fewer of the redraws' best plans than this it is likelier not to belong there. By what the figure says, no estimate. */
static const double FIRM = 0.5;
static const double ROUNDING = 1e-9;   /* of sums of the same prices in two orders */

/* Both costs are of the horizon, to buy and to run; of what is begun or stands there nothing (problem.c). */
static double whole_cost(const struct advising *a, const struct ab_item *item)
{
	return a->problem.cost[(size_t)item->change * AXIS_N + AXIS_WHOLE];
}

/* The dearest of the plan that is not firm; -1. Not redrawn is not unfirm. */
static int least_firm(const struct advising *a)
{
	const struct ab_advice *out = a->out;
	int found = -1;

	for (size_t i = 0; i < out->n_plan; i++) {
		const struct ab_item *item = &out->items[out->plan[i]];

		if (whole_cost(a, item) > 0 && item->stays < FIRM &&
		    (found < 0 || whole_cost(a, item) > whole_cost(a, &out->items[found])))
			found = out->plan[i];
	}
	return found;
}

static double plan_cost(const struct advising *a)
{
	double sum = 0;

	for (size_t i = 0; i < a->out->n_plan; i++)
		sum += whole_cost(a, &a->out->items[a->out->plan[i]]);
	return sum;
}

/* Of the plans of the frontier without it, cheapest first: the last that costs no more than `most` and takes off at least so much, or
 * the first; -1 = none. */
static int plan_without(const struct advising *a, const struct ab_item *item, double most, double least, bool last)
{
	const struct ab_advice *out = a->out;
	int found = -1;

	for (size_t i = 0; i < out->n_frontier && (last || found < 0); i++)
		if (!out->frontier[i].chosen[item->change] && out->frontier[i].removed >= least && out->frontier[i].cost <= most)
			found = (int)i;
	return found;
}

void advising_cheaper(struct advising *a)
{
	struct ab_advice *out = a->out;
	double enough = a->options->policy != NULL ? a->options->policy->enough : ab_policy_usual.enough;
	double least = enough * (out->load_before - out->load_after), cost = plan_cost(a);
	int without = enough > 0 ? least_firm(a) : -1, step;

	out->cheaper = (struct ab_cheaper){ .known = false };
	if (without < 0)
		return;
	const struct ab_item *item = &out->items[without];
	step = plan_without(a, item, cost - whole_cost(a, item) + ROUNDING * cost, least, true);
	if (step < 0)
		step = plan_without(a, item, cost - ROUNDING * cost, least, false);
	if (step >= 0)
		out->cheaper = (struct ab_cheaper){ true, without, step, cost - out->frontier[step].cost };
}
