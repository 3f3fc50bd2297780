/* cheaper.c - a purchase that more likely than not does hardly more than a cheaper plan without it
 *
 * The best plan by the figures as they are is the best guess; but where moving the estimates leaves a dear item out
 * of the best plan more often than not, and a cheaper plan without it takes nearly as much off by the figures and
 * in most worlds, money is better kept until batches speak for it: a habit that was taken up in vain is dropped
 * again, a purchase is not. Both are asked: where several do much the same any of them may be best in a world, each
 * seldom, and the first of them is still the one to buy.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>

/* In fewer worlds than this it is likelier not so. By what the figure says, no estimate. */
static const double FIRM = 0.5;
static const double ROUNDING = 1e-9;   /* of sums of the same prices in two orders */

/* Both costs are of the horizon, to buy and to run; of what is begun or stands there nothing (problem.c). */
static double whole_cost(const struct advising *a, const struct ab_item *item)
{
	return a->problem.cost[(size_t)item->change * AXIS_N + AXIS_WHOLE];
}

static const struct ab_policy *policy_of(const struct advising *a)
{
	return a->options->policy != NULL ? a->options->policy : &ab_policy_usual;
}

/* In what share of the worlds the plan takes off more than that of a step, by more than thrift lets go for less
 * money. */
static double better_than(const struct advising *a, size_t step)
{
	const double *world = a->worlds;
	double least = fmax(policy_of(a)->thrift, ROUNDING) * a->out->load_before;
	size_t better = 0;

	for (size_t i = 0; i < a->options->redraws; i++, world += a->out->n_frontier + 1)
		better += world[0] - world[1 + step] > least;
	return (double)better / (double)a->options->redraws;
}

static double plan_cost(const struct advising *a)
{
	double sum = 0;

	for (size_t i = 0; i < a->out->n_plan; i++)
		sum += whole_cost(a, &a->out->items[a->out->plan[i]]);
	return sum;
}

/* Of the plans of the frontier without it, cheapest first: the last that costs no more than `most` and takes off at
 * least so much, or the first; -1 = none. */
static int plan_without(const struct advising *a, const struct ab_item *item, double most, double least, bool last)
{
	const struct ab_advice *out = a->out;
	int found = -1;

	for (size_t i = 0; i < out->n_frontier && (last || found < 0); i++)
		if (!out->frontier[i].chosen[item->change] && out->frontier[i].removed >= least &&
		    out->frontier[i].cost <= most)
			found = (int)i;
	return found;
}

/* What the cheaper plan without that item is; not known where there is none that does nearly as much. */
static struct ab_cheaper without(const struct advising *a, int place)
{
	const struct ab_advice *out = a->out;
	const struct ab_item *item = &out->items[place];
	double least = policy_of(a)->enough * (out->load_before - out->load_after), cost = plan_cost(a);
	int step = plan_without(a, item, cost - whole_cost(a, item) + ROUNDING * cost, least, true);

	if (step < 0)
		step = plan_without(a, item, cost - ROUNDING * cost, least, false);
	if (step < 0)
		return (struct ab_cheaper){ .known = false };
	return (struct ab_cheaper){ true, place, step, cost - out->frontier[step].cost, better_than(a, (size_t)step) };
}

/* Of those that are not firm the dearest. Not redrawn is not unfirm. */
void advising_cheaper(struct advising *a)
{
	struct ab_advice *out = a->out;
	double most = 0;

	out->cheaper = (struct ab_cheaper){ .known = false };
	for (size_t i = 0; a->worlds != NULL && policy_of(a)->enough > 0 && i < out->n_plan; i++) {
		const struct ab_item *item = &out->items[out->plan[i]];
		struct ab_cheaper cheaper;

		if (!(whole_cost(a, item) > most) || !(item->stays < FIRM))
			continue;
		cheaper = without(a, out->plan[i]);
		if (!cheaper.known || !(cheaper.better < FIRM))
			continue;
		most = whole_cost(a, item);
		out->cheaper = cheaper;
	}
}
