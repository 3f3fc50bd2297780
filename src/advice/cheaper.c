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

/* Both costs are of the horizon, to buy and to run. */
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

		if (whole_cost(a, item) > 0 && item->begun == NULL && item->stays < FIRM &&
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

void advising_cheaper(struct advising *a)
{
	struct ab_advice *out = a->out;
	double enough = a->options->policy != NULL ? a->options->policy->enough : ab_policy_usual.enough;
	double least = enough * (out->load_before - out->load_after), cost = plan_cost(a);

	out->cheaper = (struct ab_cheaper){ .known = false };
	int without = enough > 0 ? least_firm(a) : -1;
	for (size_t i = 0; without >= 0 && i < out->n_frontier; i++) {
		const struct ab_step *step = &out->frontier[i];

		if (step->chosen[out->items[without].change] || step->removed < least || !(step->cost < cost))
			continue;
		out->cheaper = (struct ab_cheaper){ true, without, (int)i, cost - step->cost };
		return;
	}
}
