/* oxygen_ferment.c - the ways air takes to the beer in a fermenter: second vessel, lid, hops, crash, wall
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/oxygen_gather.h"
#include <math.h>
#include "process/words.h"

static const double USUAL_SECOND_D = 14, CRASH_C = 3;

/* Untold is NAN, which days_left takes as the end of fermentation. */
static double second_from_h(const struct ab_work *w)
{
	for (AB_EACH(struct ab_vessel, v, w->batch->vessels))
		if (v->second == AB_YES && v->from.known)
			return ab_hours(w, &v->from);
	return AB_NAN;
}

/* left[]: share of the air that purging the target leaves, by its word (estimates of ab_oxygen_move). */
void ab_oxygen_gather_second(struct ab_oxygen_gathering *g)
{
	static const double left[] = { 1, 1, 0.1, 0.03, 0.1 };
	struct ab_work *w = g->w;
	double air = ab_value(w, AB_F_VESSEL_SECOND_AIR), from = second_from_h(w);
	double days = isfinite(from) ? ab_oxygen_days_left(g, from)
	    : fmin(USUAL_SECOND_D, ab_oxygen_days_left(g, g->final_h));
	struct ab_basis basis = ab_basis_new();

	if (!(ab_value(w, AB_F_VESSEL_SECOND) > 0) || !isfinite(air))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_VESSEL_SECOND]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_VESSEL_SECOND_AIR]);
	ab_oxygen_add_told(g, AB_F_OXYGEN_SECOND, "second vessel",
	    "the air over the beer there, as far as the beer took it up",
	    ab_oxygen_over(air, g->beer_l, days, AB_AIR_OXYGEN * left[ab_word(w, AB_F_TRANSFER_TARGET)]),
	    &basis);
}

/* A look within two hours of a dry hop is the dry hop's own. */
static bool was_for_hops(const struct ab_work *w, double h)
{
	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops))
		if (fabs(ab_hours(w, &d->at) - h) < 2)
			return true;
	return false;
}

/* Minutes; an untold look counts two (estimate), the same as in vessel.c. */
static double opened_for(const struct ab_opened *o)
{
	return o->for_s.known ? o->for_s.v / 60 : 2;
}

/* As if it had been open for so long in all: every opening shorter or longer by the same factor. */
static double opened_as_if(const struct ab_work *w)
{
	double minutes = 0;

	for (AB_EACH(struct ab_opened, o, w->batch->openings))
		minutes += opened_for(o);
	return ab_is_as_if(w, AB_F_VESSEL_OPEN) && minutes > 0 ? ab_value(w, AB_F_VESSEL_OPEN) / minutes : 1;
}

/* Over the beer of a fermenter lies its own gas. A bottling vessel and an open keg are full of air anyhow: what
 * that does the move and the filling tell. */
static bool of_fermenter(const struct ab_opened *o)
{
	return o->vessel != AB_OPENED_BOTTLING && o->vessel != AB_OPENED_KEG;
}

/* What was opened while it fermented was flushed out again. */
void ab_oxygen_gather_opened(struct ab_oxygen_gathering *g)
{
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();
	double head = ab_oxygen_head_l(g, &basis), shorter = opened_as_if(g->w), longest = 0;
	size_t n = 0, told = 0;

	for (AB_EACH(struct ab_opened, o, g->w->batch->openings)) {
		double h = ab_hours(g->w, &o->at);
		if (!of_fermenter(o))
			continue;
		told++;
		ab_rest_on_num(&basis, &o->mark, &o->for_s, false);
		if (h < g->final_h || was_for_hops(g->w, h))
			continue;
		n++;
		double minutes = opened_for(o) * shorter;
		longest = fmax(longest, ab_oxygen_days_left(g, h));
		sum = ab_range_sum(sum, ab_oxygen_opened(minutes, head, g->beer_l, ab_oxygen_days_left(g, h)));
	}
	sum = ab_oxygen_at_most(sum, longest, AB_AIR_OXYGEN);
	const char *how = n > 0 ? "air changed for the gas over the beer" : "only while it fermented, or "
	    "for the hops";
	if (told > 0)
		ab_oxygen_add_told(g, AB_F_OXYGEN_OPENED, "opened lid", how, sum, &basis);
}

/* Dated additions decide whether yeast was still at work; undated ones count as after fermentation, as
 * most are. */
void ab_oxygen_gather_hops(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	double load = ab_value(w, AB_F_HOPS_DRY_LOAD), last = -AB_INF;
	struct ab_basis basis = ab_basis_new();
	int additions = w->batch->dryhops.n > 1 ? (int)w->batch->dryhops.n : 1;

	if (!(load > 0))
		return;
	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops))
		last = fmax(last, ab_hours(w, &d->at));
	ab_rest_on_fact(&basis, &w->facts[AB_F_HOPS_DRY_LOAD]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_HOPS_DRY_OPENED]);
	bool active = isfinite(last) && last < g->final_h;
	double head = ab_oxygen_head_l(g, &basis);
	const char *how = active ? "while it fermented: the yeast took most of it up"
	    : ab_word(w, AB_F_HOPS_DRY_OPENED) == AB_OPEN_KEG ? "the air between them"
	    : "the air between them, and the lid";
	struct ab_range r = ab_oxygen_hops(load, additions, ab_word(w, AB_F_HOPS_DRY_OPENED), active,
	    head, g->beer_l, ab_oxygen_days_left(g, last));
	ab_oxygen_add_told(g, AB_F_OXYGEN_HOPS, "dry hops", how, r, &basis);
}

/* The warmer of the hour and the day before: told hours of a crash are often those of the thermometer,
 * not of the switch. */
static double before_crash_c(struct ab_work *w, double h)
{
	if (w->beer.n > 0 && isfinite(h))
		return fmax(ab_series_at(&w->beer, h), ab_series_at(&w->beer, h - 24));
	return w->level.known ? ab_level(w)->mean : AB_OXYGEN_USUAL_C;
}

/* Only when something is told of the lock: a crash alone says nothing of what was drawn in. */
void ab_oxygen_gather_crash(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_crash *c = w->batch->crashes.items;
	int lock = ab_word(w, AB_F_CRASH_AIRLOCK), sucked = ab_oxygen_answer(w, AB_F_CRASH_SUCKED);
	struct ab_basis basis = ab_basis_new();

	if (c == NULL || w->batch->crashes.n == 0 || (lock == 0 && sucked < 0))
		return;
	ab_rest_on_num(&basis, &c->mark, &c->temp_c, false);
	ab_rest_on_fact(&basis, &w->facts[AB_F_CRASH_AIRLOCK]);
	double h = ab_hours(w, &c->at), head = ab_oxygen_head_l(g, &basis);
	double from = before_crash_c(w, h), to = c->temp_c.known ? c->temp_c.v : CRASH_C;
	ab_oxygen_add_told(g, AB_F_OXYGEN_CRASH, "cold crash", "air drawn in by gas and beer that shrink",
	    ab_oxygen_crash(lock, sucked, g->beer_l, head, from, to,
	    ab_oxygen_days_left(g, h)), &basis);
}

/* What the first vessel is made of, and whether its lid is tight: as told, or as if. */
static int wall_kind(const struct ab_work *w, const struct ab_vessel *v)
{
	return v->second != AB_YES && ab_is_as_if(w, AB_F_VESSEL_KIND) ? ab_word(w, AB_F_VESSEL_KIND) : v->kind;
}

static bool wall_leaks(const struct ab_work *w, const struct ab_vessel *v)
{
	return v->second != AB_YES && ab_is_as_if(w, AB_F_VESSEL_SEALED) ? ab_value(w, AB_F_VESSEL_SEALED) <= 0
	    : v->sealed == AB_NO;
}

/* Each vessel from the end of fermentation, or from when the beer came into it, to the next one or the
 * package. While it ferments, gas flows out and yeast takes up what comes in: hence only from its end. */
void ab_oxygen_gather_wall(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	bool usual, second = ab_value(w, AB_F_VESSEL_SECOND) > 0, any = false;
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();

	if (w->batch->package == NULL || !isfinite(w->packaged_h))
		return;
	for (AB_EACH(struct ab_vessel, v, *ab_oxygen_vessels(w, &usual))) {
		const struct ab_vessel *next = second && v + 1 != v_end ? v + 1 : NULL;
		double from = fmax(g->final_h, v->from.known ? ab_hours(w, &v->from) : 0);
		double to = w->packaged_h;
		if (next != NULL && next->from.known)
			to = fmin(to, ab_hours(w, &next->from));
		int kind = wall_kind(w, v);
		if (kind == 0 || (v->second == AB_YES && !second))
			continue;
		any = true;
		ab_rest_on(&basis, &v->mark, usual);
		sum = ab_range_sum(sum, ab_oxygen_wall(kind, wall_leaks(w, v), g->beer_l,
		    (to - from) / 24));
		if (!second)
			break;
	}
	if (any)
		ab_oxygen_add_told(g, AB_F_OXYGEN_PERMEATION, "through the fermenter's wall",
		    "plastic and lid, from the end of fermentation to packaging", sum, &basis);
}
