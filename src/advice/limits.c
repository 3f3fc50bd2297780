/* limits.c - budgets, prices, what is owned and what is barred
 *
 * What the command line does not say the profile says; what neither says is no limit, but for running costs: who
 * tells only what may be spent now is taken to spend no more than that a year on running (who has nothing to spend
 * has it not). A brewer's own prices replace those of the rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

/* NAN is "not given on the command line". */
static double number_or(double given, const struct ab_num *told, double scale, double otherwise)
{
	if (!isnan(given))
		return given;
	return told != NULL && told->known ? told->v * scale : otherwise;
}

bool advising_for_time(const struct advising *a)
{
	return a->profile != NULL && a->profile->goal == AB_GOAL_TIME;
}

double advising_batches_per_year(const struct advising *a)
{
	const struct ab_profile *p = a->profile;

	return p != NULL && p->batches_per_year.known && p->batches_per_year.v > 0
	    ? p->batches_per_year.v : AB_BATCHES_A_YEAR;
}

/* Whoever brews at all brews once more. */
static double brews_ahead(const struct advising *a)
{
	const struct ab_profile *p = a->profile;

	if (a->options->brews > 0)
		return (double)a->options->brews;
	return p != NULL && p->batches_per_year.known && p->batches_per_year.v > 0
	    ? fmax(1, floor(p->batches_per_year.v * a->out->horizon_years + 0.5)) : INFINITY;
}

/* Running money is told a year in the profile and counted over the horizon here: hence the scale. */
static void read_limits(struct advising *a)
{
	static const struct ab_num unknown;
	const struct ab_profile *p = a->profile;
	const struct ab_advice_options *o = a->options;
	struct ab_advice *out = a->out;

	out->currency = p != NULL && p->currency != NULL ? p->currency : "$";
	out->budget = number_or(o->budget, p != NULL ? &p->money_now : &unknown, 1, INFINITY);
	out->minutes = number_or(o->minutes, p != NULL ? &p->time_per_batch_s : &unknown, 1 / 60.0, INFINITY);
	out->away_hours = number_or(o->away_hours, p != NULL ? &p->away_s : &unknown, 1 / 3600.0, 0);
	out->horizon_years = number_or(o->horizon_years, p != NULL ? &p->horizon_s : &unknown,
	    1 / (365.25 * 86400), 1);
	out->running = number_or(o->running, p != NULL ? &p->money_per_year : &unknown,
	    out->horizon_years, NAN);
	out->running_told = !isnan(out->running);
	if (!out->running_told)
		out->running = out->budget * out->horizon_years;
	out->changes = o->changes != 0 ? o->changes
	    : o->policy != NULL ? o->policy->habits : ab_policy_usual.habits;
	out->brews = brews_ahead(a);
	out->n_batches = a->n_cases;
}

/* The first one stands; a profile with two prices for one thing is odd, not wrong. */
const struct ab_price *advising_own_price(const struct advising *a, const char *id)
{
	if (a->profile == NULL)
		return NULL;
	for (AB_EACH(const struct ab_price, price, a->profile->prices))
		if (strcmp(price->change, id) == 0)
			return price;
	return NULL;
}

/* A brewer's own running cost is a yearly one. Minutes spent once are spread over the batches of the
 * horizon. */
static void price_item(const struct advising *a, struct ab_item *item)
{
	const struct ab_change *c = &a->k->changes[item->change];
	const struct ab_price *own = advising_own_price(a, c->id);
	double per_year = advising_batches_per_year(a), batches = per_year * a->out->horizon_years;

	item->cost = own != NULL && own->cost.known ? own->cost.v : c->cost;
	item->running_cost = own != NULL && own->running_per_year.known ? own->running_per_year.v
	    : c->running_per_batch * per_year + c->running_per_year;
	item->minutes = own != NULL && own->minutes_s.known ? own->minutes_s.v / 60 : c->minutes;
	if (batches >= 1)
		item->minutes += c->once_minutes / batches;
	item->stays = item->place_stays = NAN;
}

/* Noted, and no batch brewed with it yet (else it would be adopted). */
static const struct ab_changed *begun(const struct advising *a, const char *id)
{
	const struct ab_changed *found = NULL;

	if (a->profile != NULL)
		for (AB_EACH(const struct ab_changed, c, a->profile->changed))
			if (c->what != NULL && strcmp(c->what, id) == 0)
				found = c;
	return found;
}

/* A journal that says a change was made beats the profile; what is owned but unused, or begun, costs nothing to
 * begin with. */
static void mark_owned(const struct advising *a, struct ab_item *item)
{
	const char *id = a->k->changes[item->change].id;

	if (a->profile != NULL)
		for (AB_EACH(const struct ab_owns, owns, a->profile->owns))
			if (strcmp(owns->change, id) == 0) {
				item->owned = owns->unused != AB_YES;
				item->unused = owns->unused == AB_YES;
			}
	if (advising_adopted(a, item->change) < a->n_cases) {
		item->owned = advising_for_most(a, id);
		item->unused = !item->owned;
	}
	if (!item->owned && !item->unused)
		item->begun = begun(a, id);
	if (item->unused || item->begun != NULL)
		item->cost = 0;
}

/* By weight, so that the brewing of today decides, not of years ago. */
bool advising_holds_for_most(const struct advising *a, const struct ab_conds *conds)
{
	double share = 0;

	for (size_t b = 0; b < a->n_sets; b++)
		if (ab_conds_hold(conds, a->facts[b]))
			share += a->weight[b];
	return share >= 0.5;
}

/* What is owned stands somewhere already. */
static unsigned limits_against(const struct advising *a, const struct ab_change *c, const struct ab_item *item)
{
	const struct ab_profile *p = a->profile;
	unsigned against = c->attend_h < a->out->away_hours ? 1U << AB_LIMIT_AWAY : 0;

	if (p == NULL)
		return against;
	if (p->space != 0 && c->space > p->space - 1 && !item->owned && !item->unused && item->begun == NULL &&
	    !advising_spares_room(a, c))
		against |= 1U << AB_LIMIT_ROOM;
	if (c->noisy && p->noise_matters == AB_YES)
		against |= 1U << AB_LIMIT_NOISE;
	if (c->smoky && p->smoke_matters == AB_YES)
		against |= 1U << AB_LIMIT_FUMES;
	return against;
}

bool advising_refused(const struct advising *a, int change)
{
	const struct ab_change *c = &a->k->changes[change];

	if (a->profile != NULL)
		for (AB_EACH(const struct ab_refuses, r, a->profile->refuses))
			if (strcmp(r->change, c->id) == 0)
				return true;
	return false;
}

bool advising_has(const struct advising *a, int change)
{
	if (a->profile != NULL)
		for (AB_EACH(const struct ab_owns, owns, a->profile->owns))
			if (strcmp(owns->change, a->k->changes[change].id) == 0)
				return true;
	return false;
}

/* A brewer who says it stands there, only not in use, knows whom it is for. */
static bool said_at_hand(const struct advising *a, const char *id)
{
	if (a->profile != NULL)
		for (AB_EACH(const struct ab_owns, owns, a->profile->owns))
			if (owns->unused == AB_YES && strcmp(owns->change, id) == 0)
				return true;
	return false;
}

static bool fits(const struct advising *a, const struct ab_change *c)
{
	bool any = c->n_only_for == 0 || said_at_hand(a, c->id);

	for (size_t i = 0; i < c->n_not_for; i++)
		if (advising_holds_for_most(a, &c->not_for[i]))
			return false;
	for (size_t i = 0; !any && i < c->n_only_for; i++)
		any = advising_holds_for_most(a, &c->only_for[i]);
	return any;
}

/* What holds of most batches goes before the change's own word; of several the last, as everywhere in the rules. */
static const char *care_of(const struct advising *a, const struct ab_change *c)
{
	for (size_t i = c->n_cautions; i > 0; i--)
		if (advising_holds_for_most(a, &c->cautions[i - 1].when))
			return c->cautions[i - 1].says;
	return NULL;
}

const char *ab_item_caution(const struct ab_knowledge *k, const struct ab_item *item)
{
	return item->care != NULL ? item->care : k->changes[item->change].caution;
}

/* Who names a burden, and has no beer with anything wrong, asks for nothing else to be bought; who says that nothing
 * is wrong, for nothing at all. Where time is wanted, for what saves some. */
static const char *aside(const struct advising *a, const struct ab_item *item)
{
	if (!advising_costs_money(item) || advising_eases_named(a, item->change))
		return NULL;
	return advising_only_burdens(a) ? "not against what you named"
	    : advising_well_by_word(a) && !(advising_for_time(a) && item->minutes < 0)
	    ? "nothing is wrong, by what you say"
	    : NULL;
}

/* What is owned, and in use, and does the same already; NULL. */
static const struct ab_change *is_there(const struct advising *a, const struct ab_change *c)
{
	for (size_t i = 0; i < c->n_excludes; i++)
		if (a->out->items[c->excludes[i]].owned)
			return &a->k->changes[c->excludes[i]];
	return NULL;
}

/* The most it takes away of a cause, in any case. */
static double most_of(const struct ab_change *c, int cause)
{
	double most = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if (c->prevents[i].cause == cause)
			most = fmax(most, c->prevents[i].share);
	return most;
}

/* Of one group, and in use: whatever c is against that does as much against; NULL. A tub with ice beside which a wet
 * cloth is hung is no change. */
static const struct ab_change *is_outdone(const struct advising *a, const struct ab_change *c)
{
	for (size_t u = 0; c->group != NULL && c->n_prevents > 0 && u < a->k->n_changes; u++) {
		const struct ab_change *has = &a->k->changes[u];
		bool all = has != c && a->out->items[u].owned && has->group != NULL &&
		    strcmp(has->group, c->group) == 0;

		for (size_t i = 0; all && i < c->n_prevents; i++)
			all = most_of(has, c->prevents[i].cause) >= c->prevents[i].share;
		if (all)
			return has;
	}
	return NULL;
}

static bool carries_on(const struct advising *a, const struct ab_change *c)
{
	for (size_t i = 0; i < c->n_not_after; i++)
		if (advising_last_had(a, c->not_after[i].fault))
			return true;
	return false;
}

/* The first reason is the one told: what no limit lifted would mend, then what is surest. */
static void bar(const struct advising *a, struct ab_item *item)
{
	static const char *const words[AB_LIMITS] = {
		[AB_LIMIT_AWAY] = "needs somebody at home more often", [AB_LIMIT_ROOM] = "no room for it",
		[AB_LIMIT_NOISE] = "too noisy", [AB_LIMIT_FUMES] = "fumes" };
	const struct ab_change *c = &a->k->changes[item->change];

	item->care = care_of(a, c);
	item->limits = limits_against(a, c, item);
	item->barred = advising_refused(a, item->change) ? "refused in the profile"
	    : !fits(a, c)                                ? "not for the way you brew"
	    : carries_on(a, c)                           ? "it would carry on what was wrong with the last batch"
							 : NULL;
	if (item->barred != NULL) {
		item->limits = 0;
		return;
	}
	for (int l = AB_LIMITS; l-- > 0;)
		if (item->limits >> l & 1)
			item->barred = words[l];
}

/* A habit makes use of what stands there: nothing is bought for it, or one fridge bought to keep beer in would ferment
 * the next one at the same time. */
static void bar_without(const struct advising *a, struct ab_item *item)
{
	const struct ab_change *c = &a->k->changes[item->change];
	const struct advising_needs *needs = &a->needs[item->change];

	for (size_t i = 0; c->habit && item->barred == NULL && i < needs->n; i++) {
		const struct ab_item *with = &a->out->items[needs->on[i]];

		if (!a->k->changes[needs->on[i]].habit && !with->owned && !with->unused && with->begun == NULL) {
			item->barred = "it makes use of kit you do not have";
			item->limits = 0;
		}
	}
}

enum ab_status advising_nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out advice");
}

static void bar_in_place(const struct advising *a, struct ab_item *item)
{
	const struct ab_change *c = &a->k->changes[item->change], *has = item->barred == NULL ? is_there(a, c) : NULL;

	if (has != NULL)
		item->barred = "what you have does without it";
	else if (item->barred == NULL && !item->owned && (has = is_outdone(a, c)) != NULL)
		item->barred = "what you do already does as much";
	item->in_place = has;
}

enum ab_status advising_limits(struct advising *a, struct ab_diag *diag)
{
	struct ab_advice *out = a->out;

	read_limits(a);
	out->n_items = a->k->n_changes;
	out->items = ab_arena_alloc(a->arena, out->n_items, sizeof *out->items);
	if (out->items == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < out->n_items; u++) {
		out->items[u].change = (int)u;
		price_item(a, &out->items[u]);
		mark_owned(a, &out->items[u]);
		if (!advising_spare(a, &out->items[u]))
			return advising_nomem(diag);
		bar(a, &out->items[u]);
	}
	for (size_t u = 0; u < out->n_items; u++) {
		bar_without(a, &out->items[u]);
		bar_in_place(a, &out->items[u]);
		if (out->items[u].barred == NULL)
			out->items[u].barred = aside(a, &out->items[u]);
	}
	return AB_OK;
}
