/* reason.c - why this plan, or why none, in one paragraph; and a check worth doing before any money is spent
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>

/* A check this informative about the last disappointing batch is offered before money is spent (estimate). */
#define WORTH_ASKING 0.15
/* Blame from which a cause is worth a look before money is spent on it (estimate). */
#define SUSPECTED 0.1

/* By load, not by number of causes: one bad mash may weigh more than five small slips in the cellar. */
static double share_on_hot_side(const struct advising *a)
{
	double hot = 0;

	for (size_t i = 0; i < a->k->n_causes; i++)
		if (a->k->causes[i].side == AB_SIDE_HOT)
			hot += a->load[i];
	return a->out->load_before > 0 ? hot / a->out->load_before : 0;
}

/* Does the check look at a cause that the item acts on, and that is suspected in the batch? */
static bool looks_at(const struct advising *a, const struct ab_ask *ask, size_t b, const struct ab_item *item)
{
	const struct ab_check *check = &a->k->checks[ask->check];
	const double *blame = a->cases[b]->diagnosis->blame;

	for (size_t i = 0; i < check->n_yes; i++) {
		size_t cause = (size_t)check->yes[i].cause;
		if (a->effect[(size_t)item->change * a->k->n_causes + cause] > 0 && blame != NULL &&
		    blame[cause] >= SUSPECTED)
			return true;
	}
	return false;
}

/* The newest batch that disappointed, and only that one: an old one's bottles are drunk. */
static struct ab_ask *check_first(const struct advising *a, const struct ab_item *item)
{
	for (size_t b = a->n_cases; b-- > 0;) {
		struct ab_diagnosis *d = a->cases[b]->diagnosis;

		if (!a->cases[b]->tasted || d->nothing_found || d->verdict_benign)
			continue;
		for (size_t i = 0; i < d->n_asks; i++)
			if (d->asks[i].is_check && d->asks[i].bits >= WORTH_ASKING && looks_at(a, &d->asks[i], b, item))
				return &d->asks[i];
		return NULL;
	}
	return NULL;
}

/* Nothing is looked into before what costs nothing. */
void advising_first_check(struct advising *a)
{
	struct ab_advice *out = a->out;
	const struct ab_item *item = out->next >= 0 ? &out->items[out->next] : NULL;
	bool costs = item != NULL && !item->unused && (item->cost > 0 || item->running_cost > 0);

	out->first_check = !costs ? NULL : out->ahead.first ? out->ahead.ask : check_first(a, item);
}

/* A running cost is a purchase too, only later. */
static bool buys(const struct advising *a)
{
	for (size_t u = 0; u < a->out->n_items; u++)
		if (a->out->items[u].chosen &&
		    (a->out->items[u].cost > 0 || a->out->items[u].running_cost > 0))
			return true;
	return false;
}

/* Three batches outweigh the two that the prior counts for (recurrence.c). */
static const char *basis_words(const struct advising *a)
{
	static const char *const none[2][2] = {
		{ "No batch of yours was read: this rests on what is usual for brewers like you, not on your beer. ",
		    "No batch of yours was read: this rests on what you say is wrong, and for the rest on what "
		    "is usual for brewers like you. " },
		{ "You have brewed nothing yet: this rests on what is usual for brewers. ",
		    "You have brewed nothing yet: this rests on what you say is wrong, and for the rest on what "
		    "is usual for brewers. " } };
	bool beginner = a->profile != NULL && a->profile->brewed.known && !(a->profile->brewed.v > 0);
	if (a->fine)
		return ab_arena_printf(a->arena,
		    "%s you say that nothing is wrong with your beer: that weighs as much as %d batches tasted without "
		    "a fault, and the rest is what is usual for brewers like you. ",
		    a->n_cases == 0 ? "No batch of yours was read, and" : "Beside your batches", ADVISING_TOLD);
	if (a->n_cases == 0)
		return none[beginner][a->told != NULL];
	if (a->n_cases < 3)
		return "Few batches were read, so what is usual still weighs much. ";
	return "";
}

static enum advising_tasted tasted_of(const struct advising *a, const struct ab_recurrence *r)
{
	return advising_tasted(a, advising_heaviest_fault(a, (size_t)r->cause));
}

/* The heaviest of what was tasted and is still there; NULL. */
static const struct ab_recurrence *top_tasted(const struct advising *a)
{
	const struct ab_advice *out = a->out;

	for (size_t i = 0; i < out->n_recurrences; i++)
		if (out->recurrences[i].load > 0 && tasted_of(a, &out->recurrences[i]) == ADVISING_THERE)
			return &out->recurrences[i];
	return NULL;
}

static bool anything_gone(const struct advising *a)
{
	for (size_t f = 0; f < a->k->n_faults; f++)
		if (advising_tasted(a, (int)f) == ADVISING_GONE)
			return true;
	return false;
}

/* What was tasted goes before what is only feared, however heavy: the one is a matter of fact. */
static const char *trouble_words(const struct advising *a)
{
	const struct ab_recurrence *top = a->out->n_recurrences > 0 ? &a->out->recurrences[0] : NULL,
				   *tasted = top_tasted(a);

	if (top == NULL || !(top->load > 0))
		return "";
	const char *cause = a->k->causes[top->cause].title;
	if (a->n_cases == 0)
		return ab_arena_printf(a->arena, "%s is: %s (it would strike about %.0f of 100 batches). ",
		    a->told != NULL ? "What costs you most, by what you say," : "What costs brewers most", cause,
		    100 * top->p);
	if (tasted == top)
		return ab_arena_printf(a->arena,
		    "What costs you most, over your batches, is: %s (it would strike about %.0f of 100 "
		    "batches brewed like yours). ",
		    cause, 100 * top->p);
	if (tasted != NULL)
		return ab_arena_printf(a->arena,
		    "What you tasted is laid most to: %s (it would strike about %.0f of 100 batches brewed like "
		    "yours). "
		    "Feared more, %s: %s (%.0f of 100). ",
		    a->k->causes[tasted->cause].title, 100 * tasted->p,
		    tasted_of(a, top) == ADVISING_GONE ? "though what you tasted of it is gone"
						       : "and never tasted",
		    cause, 100 * top->p);
	return ab_arena_printf(a->arena,
	    "%sFeared most, %s: %s (it would strike about %.0f of 100 batches brewed like yours). ",
	    anything_gone(a) ? "What you tasted before is gone from your newest beers. " : "",
	    tasted_of(a, top) == ADVISING_GONE ? "though what you tasted of it is gone" : "and never tasted", cause,
	    100 * top->p);
}

/* fine: nothing is wrong, by the brewer's word. */
static const char *money_words(const struct advising *a, bool fine)
{
	if (a->out->n_plan == 0)
		return fine ? "By that nothing needs to be changed or bought for the beer: go on so, and let others "
			      "taste it blind now and then."
			    : "Nothing within these limits is worth doing: brew on, taste, and write it down.";
	if (a->out->buy_nothing)
		return fine ? "By that nothing needs to be changed or bought for the beer; what stands in the plan "
			      "keeps off what may yet come."
			    : "Nothing needs to be bought: the free changes do what can be done.";
	return "One change at a time, and the same beer again after each: then its taste tells what it did.";
}

/* Money comes last, after what is wrong and where: a list of things to buy that begins with a price is
 * a shop window. */
enum ab_status advising_reason(struct advising *a, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;
	const char *main_words, *side = "", *money;
	bool fine = advising_well_by_word(a) && !advising_for_time(a);

	out->hot_side = share_on_hot_side(a) > 0.5;
	out->buy_nothing = !buys(a);
	main_words = trouble_words(a);
	if (out->hot_side)
		side = "Most of the trouble comes from before the end of the boil: your cold side is not the "
		    "place to spend. ";
	money = money_words(a, fine);
	if (fine)
		main_words = side = "";
	if (advising_for_time(a) && out->n_plan > 0) {
		side = "";
		main_words = ab_arena_printf(a->arena, "You want time: this saves up to %.0f minutes a batch, as far "
		    "as you do not do so already. ", -out->minutes_added);
	}
	if (main_words == NULL)
		return advising_nomem(diag);
	const char *basis = basis_words(a);
	if (basis == NULL)
		return advising_nomem(diag);
	out->reason = ab_arena_printf(a->arena, "%s%s%s%s", basis, main_words, side, money);
	return out->reason != NULL ? AB_OK : advising_nomem(diag);
}
