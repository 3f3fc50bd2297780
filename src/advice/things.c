/* things.c - what stands there that is no change by itself, and what it takes off the price of one
 *
 * Who has a fridge to spare buys only the controller. A price of the brewer's own is left as it is: it is known what
 * was priced there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

enum { NEAR = 5 };

/* The rules are told near it, and where all of them stand. */
static enum ab_status no_such_thing(const struct advising *a, const struct ab_owns *owns, struct ab_diag *diag)
{
	const char *near[NEAR], *list = "";
	size_t n = 0;

	ab_thing_word(a->k, owns->thing, near, NEAR, &n);
	for (size_t i = 0; list != NULL && i < n; i++)
		list = ab_arena_printf(a->arena, "%s%s\"%s\"", list, i == 0 ? "; near it: " : ", ", near[i]);
	return list == NULL ? advising_nomem(diag)
			    : ab_fail(diag, AB_EINPUT, a->profile->source, owns->mark.line,
				  "no thing is called \"%.40s\"; \"afterboil rules list things\" shows them%s",
				  owns->thing, list);
}

static enum ab_status take_things(struct advising *a, struct ab_diag *diag)
{
	for (AB_EACH(const struct ab_owns, owns, a->profile->things)) {
		int at = ab_thing_word(a->k, owns->thing, NULL, 0, NULL);

		if (at < 0)
			return no_such_thing(a, owns, diag);
		a->has[at] = a->has[at] || owns->unused != AB_NO;
	}
	return AB_OK;
}

/* A change that is owned and lies idle is what it is made of. */
static void take_idle(struct advising *a)
{
	for (AB_EACH(const struct ab_owns, owns, a->profile->owns))
		for (size_t t = 0; owns->unused == AB_YES && t < a->k->n_things; t++)
			for (size_t i = 0; i < a->k->things[t].n_from; i++)
				if (strcmp(a->k->changes[a->k->things[t].from[i]].id, owns->change) == 0)
					a->has[t] = 1;
}

static bool list_needs(struct advising *a)
{
	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct ab_change *c = &a->k->changes[u];
		struct advising_needs *needs = &a->needs[u];

		needs->on = ab_arena_alloc(a->arena, c->n_needs, sizeof *needs->on);
		if (needs->on == NULL)
			return false;
		for (size_t i = 0; i < c->n_needs; i++)
			if (c->or_thing[i] < 0 || !a->has[c->or_thing[i]])
				needs->on[needs->n++] = c->needs[i];
	}
	return true;
}

enum ab_status advising_things(struct advising *a, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	a->has = ab_arena_alloc(a->arena, a->k->n_things, 1);
	a->needs = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *a->needs);
	if (a->has == NULL || a->needs == NULL)
		return advising_nomem(diag);
	if (a->profile != NULL)
		st = take_things(a, diag);
	if (st == AB_OK && a->profile != NULL)
		take_idle(a);
	return st != AB_OK ? st : list_needs(a) ? AB_OK : advising_nomem(diag);
}

bool advising_spares_room(const struct advising *a, const struct ab_change *c)
{
	for (size_t i = 0; i < c->n_spares; i++)
		if (c->spares[i].room && a->has[c->spares[i].thing])
			return true;
	return false;
}

/* "you have a spare fridge; left to buy: the controller". What a price of the brewer's own is for is not known. */
static const char *words(const struct advising *a, const struct ab_change *c, const struct ab_item *item, bool own)
{
	const char *things = "", *leaves = NULL;
	size_t n = 0;

	for (size_t i = 0; i < c->n_spares && things != NULL; i++)
		if (a->has[c->spares[i].thing]) {
			things = ab_arena_printf(a->arena, "%s%s%s", things, n++ > 0 ? " and " : "",
			    a->k->things[c->spares[i].thing].title);
			leaves = c->spares[i].leaves;
		}
	if (things == NULL || own || !(item->cost > 0))
		return things == NULL ? NULL : ab_arena_printf(a->arena, "you have %s", things);
	return ab_arena_printf(a->arena, "you have %s; left to buy: %s", things,
	    n == 1 && leaves != NULL ? leaves : "the rest");
}

/* Where nothing is left to be bought it stands there and is not in use, as if it had been said of the change. */
bool advising_spare(const struct advising *a, struct ab_item *item)
{
	const struct ab_change *c = &a->k->changes[item->change];
	const struct ab_price *own = advising_own_price(a, c->id);
	bool any = false, was = item->cost > 0;

	if (item->owned || item->unused || item->begun != NULL)
		return true;
	for (size_t i = 0; i < c->n_spares; i++) {
		const struct ab_spares *s = &c->spares[i];

		if (!a->has[s->thing])
			continue;
		bool price = s->cost > 0 && (own == NULL || !own->cost.known),
		     running = s->running_per_batch > 0 && (own == NULL || !own->running_per_year.known);
		any = any || price || running || s->room;
		/* Cents that rounding leaves are no price. */
		if (price)
			item->cost = item->cost - s->cost < 0.005 ? 0 : item->cost - s->cost;
		if (running)
			item->running_cost -= s->running_per_batch * advising_batches_per_year(a);
	}
	item->unused = any && was && !(item->cost > 0);
	item->have = any ? words(a, c, item, own != NULL && own->cost.known) : NULL;
	return !any || item->have != NULL;
}
