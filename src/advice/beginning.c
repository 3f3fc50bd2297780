/* beginning.c - what to begin with: of the plan the change that tells and brings most, or what is to be tried before it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

/* What it needs is there, or not in the plan (then the limits have seen to it). */
static bool may_begin(const struct advising *a, const struct ab_item *item)
{
	const struct advising_needs *needs = &a->needs[item->change];

	for (size_t i = 0; i < a->out->n_plan; i++)
		for (size_t j = 0; j < needs->n; j++)
			if (a->out->items[a->out->plan[i]].change == needs->on[j])
				return false;
	return true;
}

/* What it brings alone where it acts on what was tasted or told (answers): nothing else is begun with it. */
static double brings(const struct advising *a, const struct ab_item *item, bool answers)
{
	if (!answers)
		return item->chosen ? item->joint_gain : item->gain;
	return !advising_wrong(a) ? advising_takes_of_there(a, item) : advising_of_trouble(a, item->change);
}

static double begin_worth(const struct advising *a, const struct ab_item *item)
{
	double bought = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought;

	return brings(a, item, item->answers) * (advising_is_free(item) ? 1 : bought);
}

/* What an item acts on, by its weightiest reason. */
static enum advising_tasted against(const struct ab_item *item)
{
	if (item->answers)
		return ADVISING_THERE;
	if (item->n_because == 0 || !item->because[0].tasted)
		return ADVISING_NEVER;
	return item->because[0].gone ? ADVISING_GONE : ADVISING_THERE;
}

/* Which of the plan is asked about: bits of 1 << enum advising_tasted; only what acts on what is wrong. */
struct sort { unsigned which; bool answers; };

/* A free change outside the plan only because the purchase `place`, of its group, does the same and more: the place of
 * the best of them that brings no less than the purchase weighed by policy.bought; else -1. Better habits come before
 * better kit, and whoever tries the habit first also learns whether the kit is against the right cause. */
static int stand_in(const struct advising *a, int place, bool fresh)
{
	const struct ab_advice *out = a->out;
	const struct ab_item *bought = place < 0 ? NULL : &out->items[place];
	double weight = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought;
	const char *group = bought == NULL || advising_is_free(bought) ? NULL : a->k->changes[bought->change].group;
	int best = -1;

	for (size_t i = 0; group != NULL && i < out->n_items; i++) {
		const struct ab_item *item = &out->items[i];
		const struct ab_change *c = &a->k->changes[item->change];

		if (item->chosen || item->owned || item->barred != NULL || !advising_is_free(item) ||
		    (fresh && item->begun != NULL) || c->group == NULL || strcmp(c->group, group) != 0 ||
		    a->needs[item->change].n > 0 || item->gain < weight * bought->gain)
			continue;
		if (best < 0 || item->gain > out->items[best].gain)
			best = (int)i;
	}
	return best;
}

/* Who told of ten times its price to spend does not ask what it costs (estimate), and wants the control rather than
 * the toil. */
static bool is_small_change(const struct advising *a, const struct ab_item *bought)
{
	return isfinite(a->out->budget) && 10 * bought->cost <= a->out->budget;
}

/* Of a purchase that a free change is to be tried before, what that brings: it is what would be begun with. Never more
 * than the purchase itself. */
static double worth_of(const struct advising *a, int place, bool fresh)
{
	const struct ab_item *item = &a->out->items[place];
	double worth = begin_worth(a, item);
	int free = stand_in(a, place, fresh);

	return free < 0 || is_small_change(a, item)
	    ? worth : fmax(worth, fmin(brings(a, &a->out->items[free], item->answers), brings(a, item, item->answers)));
}

/* Of the plan the heaviest of at least so much worth. fresh: of what is not begun already. */
static int heaviest(const struct advising *a, bool fresh, struct sort sort, double least)
{
	const struct ab_advice *out = a->out;
	int best = -1;

	for (size_t i = 0; i < out->n_plan; i++) {
		const struct ab_item *item = &out->items[out->plan[i]];
		if ((fresh && item->begun != NULL) || !may_begin(a, item) ||
		    !(sort.which >> against(item) & 1) || (sort.answers && !item->answers) ||
		    !(worth_of(a, out->plan[i], fresh) >= least))
			continue;
		if (best < 0 || worth_of(a, out->plan[i], fresh) > worth_of(a, best, fresh))
			best = out->plan[i];
	}
	return best;
}

/* The plan lists what is free before what is bought; begun with is what brings most, for each batch teaches about
 * one change only. First of what acts on what was tasted; of what is worth the same (policy.equal) what acts on a
 * fault that was tasted: that the brewer can taste again, what is feared may never come. What is gone is worth no
 * new habit while there is anything else. */
static int begin_with(const struct advising *a, bool fresh)
{
	enum { NEVER = 1U << ADVISING_NEVER, GONE = 1U << ADVISING_GONE, THERE = 1U << ADVISING_THERE };
	const struct ab_advice *out = a->out;
	double equal = a->options->policy != NULL ? a->options->policy->equal : ab_policy_usual.equal;

	for (size_t i = 0; i < out->n_plan && advising_for_time(a); i++) {
		const struct ab_item *item = &out->items[out->plan[i]];
		if (!(fresh && item->begun != NULL) && may_begin(a, item))
			return out->plan[i];
	}
	int wrong = heaviest(a, fresh, (struct sort){ THERE, true }, -INFINITY);
	if (wrong >= 0)
		return wrong;
	int most = heaviest(a, fresh, (struct sort){ NEVER | THERE, false }, -INFINITY);
	if (most < 0)
		return heaviest(a, fresh, (struct sort){ GONE, false }, -INFINITY);
	int tasted = heaviest(a, fresh, (struct sort){ THERE, false }, (1 - equal) * worth_of(a, most, fresh));
	return tasted >= 0 ? tasted : most;
}

bool advising_needs_owned(const struct advising *a, int change)
{
	const struct advising_needs *needs = &a->needs[change];
	bool all = true;

	for (size_t i = 0; i < a->out->n_items; i++)
		for (size_t j = 0; j < needs->n; j++)
			all = all && (a->out->items[i].change != needs->on[j] || a->out->items[i].owned);
	return all;
}

/* Instead of a purchase that is not firm (cheaper.c) the heaviest of the plan and of the cheaper one; -1 = there is
 * nothing else. */
static int besides(const struct advising *a, int place, bool fresh)
{
	const struct ab_advice *out = a->out;
	const unsigned char *cheaper = out->cheaper.known ? out->frontier[out->cheaper.step].chosen : NULL;
	double bought = a->options->policy != NULL ? a->options->policy->bought : ab_policy_usual.bought, most = 0;
	int best = -1;

	for (size_t i = 0; cheaper != NULL && i < out->n_items; i++) {
		const struct ab_item *item = &out->items[i];
		double weight = ab_item_brings(item) * (advising_is_free(item) ? 1 : bought);

		if ((int)i == place || !(item->chosen || cheaper[item->change]) || item->owned ||
		    (fresh && item->begun != NULL) || !advising_needs_owned(a, item->change) ||
		    !(weight > most))
			continue;
		most = weight;
		best = (int)i;
	}
	return best;
}

static int instead_of(const struct advising *a, int place, bool fresh)
{
	int other = a->out->cheaper.known && place == a->out->cheaper.without ? besides(a, place, fresh) : -1;

	return other >= 0 ? other : place;
}

/* What leads, or what goes before it. free: what does enough of a purchase for nothing; -1 = none does. */
static int settle(const struct advising *a, int place, bool fresh, int *free)
{
	*free = stand_in(a, place, fresh);
	return *free >= 0 && !is_small_change(a, &a->out->items[place]) ? *free : instead_of(a, place, fresh);
}

void advising_begin(struct advising *a)
{
	struct ab_advice *out = a->out;
	int lead = begin_with(a, false), free, later;

	out->next = settle(a, lead, false, &free);
	out->after = settle(a, begin_with(a, true), true, &later);
	out->stands_for = free >= 0 && out->next == free ? lead : -1;
	out->until = out->next == lead ? free : -1;
}
