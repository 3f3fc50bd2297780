/* easing.c - what eases a burden that no beer tastes of: slow chilling, an empty cylinder
 *
 * Not weighed against flaws: nobody knows how many flaws half an hour is worth. Each burden the profile names has
 * its own list, within the limits of money, minutes, room and packaging, what is free first and then what takes
 * more. Only where no beer has anything wrong is it what to begin with.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <stdlib.h>
#include <string.h>

/* What is owned, and neither said to be in use nor not, may be in use already: so it counts (estimate). */
static const double MAYBE = 0.5;

static int place_of(const struct ab_advice *out, int change)
{
	for (size_t i = 0; i < out->n_items; i++)
		if (out->items[i].change == change)
			return (int)i;
	return -1;
}

static bool perhaps_idle(const struct advising *a, const struct ab_item *item)
{
	if (item->unused && a->profile != NULL)
		for (AB_EACH(const struct ab_owns, owns, a->profile->owns))
			if (owns->unused == 0 && strcmp(owns->change, a->k->changes[item->change].id) == 0)
				return true;
	return false;
}

/* What failed is bought again, whoever owns one and whomever it is for: only a refusal stands against it. */
static bool is_open(const struct advising *a, const struct ab_item *item, const struct ab_ease *ease)
{
	if (ease->without >= 0 && advising_has(a, ease->without))
		return false;
	if (ease->anew)
		return item->limits == 0 && !advising_refused(a, item->change);
	return !item->owned && item->barred == NULL && advising_needs_owned(a, item->change);
}

static bool may_be_had(const struct advising *a, const struct ab_item *item, const struct ab_ease *ease)
{
	const struct ab_advice *out = a->out;

	return is_open(a, item, ease) && item->cost <= out->budget &&
	    item->running_cost * out->horizon_years <= out->running && !(item->minutes > out->minutes);
}

/* What takes the place of what failed, then what is free, then what takes most for its money. */
static int better_first(const void *one, const void *other)
{
	const struct ab_eased_by *x = one, *y = other;

	if (x->anew != y->anew)
		return x->anew ? -1 : 1;
	if (x->free != y->free)
		return x->free ? -1 : 1;
	if (x->worth != y->worth)
		return x->worth > y->worth ? -1 : 1;
	return x->item - y->item;
}

static enum ab_status list(const struct advising *a, int chore, struct ab_easing *easing, struct ab_diag *diag)
{
	const struct ab_chore *c = &a->k->chores[chore];
	const struct ab_advice *out = a->out;

	*easing = (struct ab_easing){ .chore = chore, .by = ab_arena_alloc(a->arena, c->n_eases, sizeof *easing->by) };
	if (easing->by == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; i < c->n_eases; i++) {
		int place = place_of(out, c->eases[i].change);
		const struct ab_item *item = place >= 0 ? &out->items[place] : NULL;

		if (item != NULL && may_be_had(a, item, &c->eases[i]) && c->eases[i].share > 0)
			easing->by[easing->n++] = (struct ab_eased_by){ place, c->eases[i].share,
				advising_worth(a, item, c->eases[i].share) * (perhaps_idle(a, item) ? MAYBE
				: 1), advising_is_free(item), c->eases[i].anew };
	}
	qsort(easing->by, easing->n, sizeof *easing->by, better_first);
	return AB_OK;
}

/* Named twice, by two of its words, it is one. */
static bool is_listed(const struct ab_advice *out, int chore)
{
	for (size_t i = 0; i < out->n_easings; i++)
		if (out->easings[i].chore == chore)
			return true;
	return false;
}

/* Does anything of the plan act on what is wrong with the beer? With time as the goal the beer is not what is asked
 * about. */
static bool beer_comes_first(const struct advising *a)
{
	bool any = advising_wrong(a);

	for (size_t i = 0; i < a->out->n_plan; i++)
		any = any || a->out->items[a->out->plan[i]].answers;
	return any && !advising_for_time(a);
}

static void begin_with_it(struct advising *a)
{
	struct ab_advice *out = a->out;
	const struct ab_easing *first = NULL;

	for (size_t i = 0; i < out->n_easings && first == NULL; i++)
		first = out->easings[i].n > 0 ? &out->easings[i] : NULL;
	if (first == NULL || beer_comes_first(a))
		return;
	out->next = first->by[0].item;
	out->next_eases = first;
	out->stands_for = out->until = -1;
	for (size_t i = first->n; i-- > 0;)
		if (out->items[first->by[i].item].begun == NULL)
			out->after = first->by[i].item;
}

bool advising_eases_named(const struct advising *a, int change)
{
	if (a->profile == NULL)
		return false;
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		int chore = t->chore != NULL ? ab_chore_word(a->k, t->chore) : -1;

		for (size_t i = 0; chore >= 0 && i < a->k->chores[chore].n_eases; i++)
			if (a->k->chores[chore].eases[i].change == change)
				return true;
	}
	return false;
}

static bool any_named(const struct advising *a)
{
	if (a->profile != NULL)
		for (AB_EACH(const struct ab_trouble, t, a->profile->troubles))
			if (t->chore != NULL)
				return true;
	return false;
}

bool advising_only_burdens(const struct advising *a)
{
	if (!any_named(a) || advising_wrong(a))
		return false;
	for (size_t f = 0; f < a->k->n_faults; f++)
		if (advising_tasted(a, (int)f) == ADVISING_THERE)
			return false;
	return true;
}

enum ab_status advising_easing(struct advising *a, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;

	if (!any_named(a))
		return AB_OK;
	out->easings = ab_arena_alloc(a->arena, a->profile->troubles.n, sizeof *out->easings);
	if (out->easings == NULL)
		return advising_nomem(diag);
	for (AB_EACH(const struct ab_trouble, t, a->profile->troubles)) {
		int chore = t->chore != NULL ? ab_chore_word(a->k, t->chore) : -1;
		enum ab_status st = AB_OK;

		if (t->chore != NULL && chore < 0)
			return ab_fail(diag, AB_EINPUT, a->profile->source, t->mark.line,
			    "no chore is called \"%.40s\"; \"afterboil rules list chores\" shows them", t->chore);
		if (chore >= 0 && !is_listed(out, chore))
			st = list(a, chore, &out->easings[out->n_easings++], diag);
		if (st != AB_OK)
			return st;
	}
	begin_with_it(a);
	return AB_OK;
}
