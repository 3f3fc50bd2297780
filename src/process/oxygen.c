/* oxygen.c - the oxygen budget of a batch: oxygen.transfer, .headspace and so on, and oxygen.total
 *
 * What the journal tells is put into the formulas of oxygen_budget.h (mg/L of beer, sources and trust there).
 * Where it is silent on how the beer was moved or how high it was filled, a usual value with a wide range
 * stands in for the total (origin "assumed"), not for the single fact.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/oxygen.h>
#include <assert.h>
#include <string.h>
#include <afterboil/quantity.h>
#include "process/extract.h"
#include "process/oxygen_budget.h"
#include "process/words.h"
#include "process/working.h"

static const double USUAL_NECK_MM = 30, USUAL_NECK_U = 10, USUAL_KEG_L = 19, USUAL_PURGE_KPA = 200,
    USUAL_ACTIVE_H = 7 * 24, /* fermentation of an untold yeast */
    USUAL_SECOND_D = 14, CRASH_C = 3, USUAL_C = 20, USUAL_L = 20;

/* The budget while it grows. An item that rests on a told fact sets that fact too (add_told); an
 * assumed one stands in the total only, so no rule takes a guess of ours for something the brewer said. */
struct gathering {
	struct ab_work *w;
	struct ab_oxygen *out;
	double beer_l, final_h;
	bool kept[AB_OXYGEN_ITEMS];           /* came too late for the yeast */
	struct ab_basis all;
};

/* Yes 1, no 0, not told -1. The form that oxygen_budget.h asks in. */
static int answer(const struct ab_work *w, int slot)
{
	return ab_known(w, slot) ? ab_value(w, slot) > 0 : -1;
}

static struct ab_oxygen_item *add(struct gathering *g, const char *name, const char *how, struct ab_range r,
    const struct ab_basis *basis)
{
	struct ab_oxygen_item *item = &g->out->items[g->out->n++];

	assert(g->out->n < AB_OXYGEN_ITEMS);    /* one place is the yeast's, in ab_oxygen_close */
	*item = (struct ab_oxygen_item){ .name = name, .how = how, .mgl = r.mid, .low = r.low, .high = r.high,
	    .grade = 'C',
		.assumed = basis->origin == AB_ORIGIN_ASSUMED };
	memcpy(item->lines, basis->lines, basis->n * sizeof *basis->lines);
	ab_rest_on_basis(&g->all, basis);
	return item;
}

/* u from the range: a fact knows no lopsided doubt. */
static void set_fact(struct gathering *g, int slot, const struct ab_range *r, const struct ab_basis *basis,
    const char *how)
{
	ab_set(g->w, slot, basis, r->mid, ab_range_u(*r), 'C', "%s, in %.1f L: %.2f to %.2f mg/L", how,
	    g->beer_l, r->low, r->high);
}

static void add_told(struct gathering *g, int slot, const char *name, const char *how, struct ab_range r,
    const struct ab_basis *basis)
{
	add(g, name, how, r, basis);
	set_fact(g, slot, &r, basis, how);
}

/* Hours from pitching to packaging; where the end is not told, a week after fermentation. */
static double leaves_h(const struct gathering *g)
{
	return isfinite(g->w->packaged_h) ? g->w->packaged_h : g->final_h + USUAL_ACTIVE_H;
}

/* An untold hour counts from the end of fermentation, the longest time it could have been in the beer
 * without yeast at work. */
static double days_left(const struct gathering *g, double from_h)
{
	double h = isfinite(from_h) ? from_h : g->final_h;
	return fmax(0, (leaves_h(g) - h) / 24);
}

/* The usual vessels stand in only as a whole: see find_kit in hygiene.c. */
static const struct ab_list *vessels(const struct ab_work *w, bool *usual)
{
	*usual = w->batch->vessels.n == 0 && w->usual != NULL;
	return *usual ? &w->usual->vessels : &w->batch->vessels;
}

/* Gas over the beer in the first fermenter: told, or what it holds less the beer, or a fifth of the beer
 * (estimate). */
static double head_l(const struct gathering *g, struct ab_basis *basis)
{
	bool usual;
	const struct ab_list *list = vessels(g->w, &usual);
	const struct ab_vessel *v = list->n > 0 ? list->items : NULL;

	if (v == NULL || (!v->headspace_l.known && !v->volume_l.known))
		return 0.2 * g->beer_l;
	ab_rest_on(basis, &v->mark, usual);
	return v->headspace_l.known ? v->headspace_l.v : fmax(0, v->volume_l.v - g->beer_l);
}

/* A silicone hose lets air through its wall: a metre and a half, ten minutes a move (estimate). Free
 * text from the journal: "ilicon" finds it with a small or a capital letter, without asking a locale
 * about case. */
static bool silicone_hose(const struct ab_work *w, struct ab_basis *basis)
{
	for (AB_EACH(struct ab_gear, gear, w->batch->gear)) {
		if ((gear->item != AB_GEAR_HOSE && gear->item != AB_GEAR_SIPHON) || gear->material == NULL ||
		    strstr(gear->material, "ilicon") == NULL)
			continue;
		ab_rest_on(basis, &gear->mark, false);
		return true;
	}
	return false;
}

/* "As if" facts speak of all moves at once, so each is judged by them in place of its own record. A
 * packaged beer was moved at least once, told or not. */
static void gather_moves(struct gathering *g)
{
	struct ab_work *w = g->w;
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();
	bool splash_given = ab_is_as_if(w, AB_F_TRANSFER_SPLASHED);
	bool target_given = ab_is_as_if(w, AB_F_TRANSFER_TARGET);

	for (AB_EACH(struct ab_transfer, t, w->batch->transfers)) {
		int splashed = splash_given ? answer(w, AB_F_TRANSFER_SPLASHED) : t->splashed - 1;
		int target = target_given ? ab_word(w, AB_F_TRANSFER_TARGET) : t->target;
		sum = ab_range_sum(sum, ab_oxygen_move(t->how, target, splashed));
		ab_rest_on(&basis, &t->mark, false);
		if (silicone_hose(w, &basis))
			sum = ab_range_sum(sum, ab_oxygen_hose(1.5, 10, g->beer_l));
	}
	if (w->batch->transfers.n > 0 || splash_given || target_given) {
		if (w->batch->transfers.n == 0)
			sum = ab_oxygen_move(0, ab_word(w, AB_F_TRANSFER_TARGET),
			    answer(w, AB_F_TRANSFER_SPLASHED));
		add(g, "moving the beer", "the moves as told", sum, &basis);
	} else if (w->batch->package != NULL) {
		basis.origin = AB_ORIGIN_ASSUMED;
		add(g, "moving the beer", "not told how: one quiet or splashing move",
		    ab_oxygen_move(0, 0, -1), &basis);
	}
}

/* Bottles only: a keg's filling is its purging, gather_keg. */
static void gather_filling(struct gathering *g)
{
	int bottom = answer(g->w, AB_F_PACK_WAND);
	struct ab_basis basis = ab_basis_new();

	if (ab_word(g->w, AB_F_PACK_INTO) != AB_PACK_BOTTLES)
		return;
	ab_rest_on_fact(&basis, &g->w->facts[AB_F_PACK_WAND]);
	if (bottom < 0)
		basis.origin = AB_ORIGIN_ASSUMED;
	const char *how = bottom > 0 ? "from the bottom" : bottom == 0 ? "from above" : "not told how";
	add(g, "filling the bottles", how, ab_oxygen_filling(bottom), &basis);
}

/* oxygen.transfer: moving and filling, as far as they are told. Called when only moving and filling are
 * among the items: the sum over all of them is just these two. */
static void set_transfer(struct gathering *g)
{
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();
	size_t told = 0;

	for (size_t i = 0; i < g->out->n; i++) {
		const struct ab_oxygen_item *item = &g->out->items[i];
		if (item->assumed)
			continue;
		told++;
		sum = ab_range_sum(sum, (struct ab_range){ item->mgl, item->low, item->high });
	}
	for (AB_EACH(struct ab_transfer, t, g->w->batch->transfers))
		ab_rest_on(&basis, &t->mark, false);
	ab_rest_on_fact(&basis, &g->w->facts[AB_F_PACK_WAND]);
	if (told > 0)
		set_fact(g, AB_F_OXYGEN_TRANSFER, &sum, &basis, "moves and filling as told");
}

/* Untold is NAN, which days_left takes as the end of fermentation. */
static double second_from_h(const struct ab_work *w)
{
	for (AB_EACH(struct ab_vessel, v, w->batch->vessels))
		if (v->second == AB_YES && v->from.known)
			return ab_hours(w, &v->from);
	return AB_NAN;
}

/* left[]: share of the air that purging the target leaves, by its word (estimates of ab_oxygen_move). */
static void gather_second(struct gathering *g)
{
	static const double left[] = { 1, 1, 0.1, 0.03, 0.1 };
	struct ab_work *w = g->w;
	double air = ab_value(w, AB_F_VESSEL_SECOND_AIR), from = second_from_h(w);
	double days = isfinite(from) ? days_left(g, from) : fmin(USUAL_SECOND_D, days_left(g, g->final_h));
	struct ab_basis basis = ab_basis_new();

	if (!(ab_value(w, AB_F_VESSEL_SECOND) > 0) || !isfinite(air))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_VESSEL_SECOND]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_VESSEL_SECOND_AIR]);
	add_told(g, AB_F_OXYGEN_SECOND, "second vessel",
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

/* What was opened while it fermented was flushed out again. */
static void gather_opened(struct gathering *g)
{
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();
	double head = head_l(g, &basis), shorter = opened_as_if(g->w);
	size_t n = 0;

	for (AB_EACH(struct ab_opened, o, g->w->batch->openings)) {
		double h = ab_hours(g->w, &o->at);
		ab_rest_on(&basis, &o->mark, false);
		if (h < g->final_h || was_for_hops(g->w, h))
			continue;
		n++;
		double minutes = opened_for(o) * shorter;
		sum = ab_range_sum(sum, ab_oxygen_opened(minutes, head, g->beer_l, days_left(g, h)));
	}
	const char *how = n > 0 ? "air changed for the gas over the beer" : "only while it fermented, or "
	    "for the hops";
	if (g->w->batch->openings.n > 0)
		add_told(g, AB_F_OXYGEN_OPENED, "opened lid", how, sum, &basis);
}

/* Dated additions decide whether yeast was still at work; undated ones count as after fermentation, as
 * most are. */
static void gather_hops(struct gathering *g)
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
	double head = head_l(g, &basis);
	const char *how = active ? "while it fermented: the yeast took most of it up"
	    : "the air between them, and the lid";
	struct ab_range r = ab_oxygen_hops(load, additions, ab_word(w, AB_F_HOPS_DRY_OPENED), active,
	    head, g->beer_l, days_left(g, last));
	add_told(g, AB_F_OXYGEN_HOPS, "dry hops", how, r, &basis);
}

/* The warmer of the hour and the day before: told hours of a crash are often those of the thermometer,
 * not of the switch. */
static double before_crash_c(struct ab_work *w, double h)
{
	if (w->beer.n > 0 && isfinite(h))
		return fmax(ab_series_at(&w->beer, h), ab_series_at(&w->beer, h - 24));
	return w->level.known ? ab_level(w)->mean : USUAL_C;
}

/* Only when something is told of the lock: a crash alone says nothing of what was drawn in. */
static void gather_crash(struct gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_crash *c = w->batch->crashes.items;
	int lock = ab_word(w, AB_F_CRASH_AIRLOCK), sucked = answer(w, AB_F_CRASH_SUCKED);
	struct ab_basis basis = ab_basis_new();

	if (c == NULL || w->batch->crashes.n == 0 || (lock == 0 && sucked < 0))
		return;
	ab_rest_on(&basis, &c->mark, false);
	ab_rest_on_fact(&basis, &w->facts[AB_F_CRASH_AIRLOCK]);
	double h = ab_hours(w, &c->at), head = head_l(g, &basis);
	double from = before_crash_c(w, h), to = c->temp_c.known ? c->temp_c.v : CRASH_C;
	add_told(g, AB_F_OXYGEN_CRASH, "cold crash", "air drawn in by gas and beer that shrink",
	    ab_oxygen_crash(lock, sucked, g->beer_l, head, from, to,
	    days_left(g, h)), &basis);
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
static void gather_wall(struct gathering *g)
{
	struct ab_work *w = g->w;
	bool usual, second = ab_value(w, AB_F_VESSEL_SECOND) > 0, any = false;
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();

	if (w->batch->package == NULL || !isfinite(w->packaged_h))
		return;
	for (AB_EACH(struct ab_vessel, v, *vessels(w, &usual))) {
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
		add_told(g, AB_F_OXYGEN_PERMEATION, "through the fermenter's wall",
		    "plastic and lid, from the end of fermentation to packaging", sum, &basis);
}

/* A neck that was not told is assumed for the total, and oxygen.headspace stays unknown. */
static void gather_neck(struct gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_package *p = w->batch->package;
	const struct ab_fact *neck = &w->facts[AB_F_PACK_NECK];
	bool told = AB_FACT_KNOWN(neck);
	struct ab_basis basis = ab_basis_new();

	ab_rest_on_fact(&basis, neck);
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_FOAM]);
	if (!told)
		basis.origin = AB_ORIGIN_ASSUMED;
	struct ab_range r = ab_oxygen_neck(p->bottle, told ? neck->value : USUAL_NECK_MM, told ? neck->u :
	    USUAL_NECK_U,
	    p->size_l.known ? p->size_l.v : AB_NAN, answer(w, AB_F_PACK_FOAM));
	const char *how = told ? "air in the neck" : "not told how high: 30 mm";
	add(g, "air in the neck", how, r, &basis);
	if (told)
		ab_set(w, AB_F_OXYGEN_HEADSPACE, &basis, r.mid, ab_range_u(r), 'C',
		    "%.0f mm are about %.0f mL of neck, %s: %.1f to %.1f mg/L", neck->value,
		    ab_neck_ml(p->bottle, neck->value), answer(w, AB_F_PACK_FOAM) > 0 ?
		    "most of its air driven out by foam" : "full of air", r.low, r.high);
}

/* Volumes of the keg that the fermentation's own gas made. A keg purged by fermenting into it is purged
 * by this many times its volume. */
static double own_volumes(const struct gathering *g, double keg_l)
{
	double og = ab_value(g->w, AB_F_GRAVITY_OG), fg = ab_value(g->w, AB_F_GRAVITY_LAST);

	if (!isfinite(og) || !isfinite(fg))
		return AB_NAN;
	double oe = ab_plato_from_sg(og), re = ab_extract_real(oe, ab_plato_from_sg(fg));
	return ab_fermentation_gas(g->beer_l, 10 * fmax(0, oe - re), USUAL_C) / keg_l;
}

/* What is left of a keg not quite full; under 0.3 L (the error of both volumes) the usual half litre
 * stands in. */
static struct ab_range keg_head(const struct ab_package *p, double keg_l, double beer_l)
{
	double left = keg_l - beer_l;

	if (p->headspace_l.known)
		return (struct ab_range){ p->headspace_l.v, 0.8 * p->headspace_l.v, 1.2 * p->headspace_l.v };
	if (p->size_l.known && left > 0.3)
		return (struct ab_range){ left, 0.5 * left, 1.5 * left };
	return (struct ab_range){ 0.5, 0.2, 1.5 };
}

/* Told or not, the litres of the keg matter twice: for the gas over the beer and for how far it was
 * purged. */
static void gather_keg(struct gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_package *p = w->batch->package;
	int filled = ab_word(w, AB_F_PACK_FILLED);
	double cycles = ab_value(w, AB_F_PACK_PURGES);
	double keg_l = p->size_l.known && p->size_l.v > 0 ? p->size_l.v : USUAL_KEG_L;
	double beer_l = fmin(g->beer_l, keg_l), kpa = p->purge_kpa.known ? p->purge_kpa.v : USUAL_PURGE_KPA;
	struct ab_basis basis = ab_basis_new();
	bool told = filled != 0 || isfinite(cycles);

	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_FILLED]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_PURGES]);
	struct ab_range r = ab_oxygen_keg(filled, cycles, kpa, own_volumes(g, keg_l), keg_l, beer_l,
	    keg_head(p, keg_l, beer_l));
	if (!told) {
		/* air or hardly any: nobody said */
		basis.origin = AB_ORIGIN_ASSUMED;
		r = (struct ab_range){ 0.3 * r.mid, 0, r.high };
	}
	add(g, "air in the keg", told ? "what purging left" : "not told whether it was purged", r, &basis);
	if (told)
		set_fact(g, AB_F_OXYGEN_HEADSPACE, &r, &basis,
		    "what the filling and purging left in the keg");
}

/* kept[]: what comes through the cap arrives over months, when the yeast has long settled. */
static void gather_closure(struct gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_package *p = w->batch->package;
	bool keg = ab_word(w, AB_F_PACK_INTO) == AB_PACK_KEG;
	double days = ab_value(w, AB_F_STORE_DAYS), litres = keg ? USUAL_KEG_L : AB_NAN;
	int bottle = keg ? 0 : p->bottle != 0 ? p->bottle : AB_BOTTLE_UNKNOWN;
	struct ab_basis basis = ab_basis_new();

	if (!isfinite(days))
		return;
	if (p->size_l.known && p->size_l.v > 0)
		litres = p->size_l.v;
	ab_rest_on_fact(&basis, &w->facts[AB_F_STORE_DAYS]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_CAP]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_LEAK]);
	g->kept[g->out->n] = true;
	add_told(g, AB_F_OXYGEN_CLOSURE, "through the closure", keg ? "seals of the keg over the days in it" :
	    "caps over the days in the bottle",
	    ab_oxygen_closure(bottle, ab_word(w, AB_F_PACK_CAP), answer(w, AB_F_PACK_LEAK), litres, days),
	    &basis);
}

/* Bottles that were primed or had points left ferment once more; so does a primed keg. */
static bool referments(const struct ab_work *w)
{
	const struct ab_package *p = w->batch->package;
	return ab_value(w, AB_F_PACK_PRIMING) > 0.5 || (p != NULL && p->fresh_yeast == AB_YES);
}

/* Moves first, for set_transfer adds up what is there by then. */
static void gather(struct gathering *g)
{
	int into = ab_word(g->w, AB_F_PACK_INTO);

	gather_moves(g);
	gather_filling(g);
	set_transfer(g);
	gather_second(g);
	gather_opened(g);
	gather_hops(g);
	gather_crash(g);
	gather_wall(g);
	if (g->w->batch->package == NULL || (into != AB_PACK_BOTTLES && into != AB_PACK_KEG))
		return;
	if (into == AB_PACK_BOTTLES)
		gather_neck(g);
	else
		gather_keg(g);
	gather_closure(g);
	g->out->complete = true;
}

/* Every way is reckoned into the litres actually packaged. Without a package the budget is incomplete,
 * and a total that lacks its largest parts would look like a clean beer: none is set. */
static void reckon(struct ab_work *w, struct ab_oxygen *out)
{
	double final = isfinite(w->final_h) ? w->final_h : w->yeast != NULL ? 24 * w->yeast->primary_days :
	    USUAL_ACTIVE_H;
	struct gathering g = { .w = w, .out = out, .beer_l = w->volume.v, .final_h = final,
	    .all = ab_basis_new() };
	const struct ab_package *p = w->batch->package;

	out->n = 0;
	out->complete = false;
	out->total = out->low = out->high = 0;
	if (p != NULL && p->volume_l.known && p->volume_l.v > 0)
		g.beer_l = p->volume_l.v;
	else if (!w->volume.known)
		g.beer_l = USUAL_L;
	gather(&g);
	bool again = referments(w);
	ab_oxygen_close(out, g.kept, ab_oxygen_eaten(again));
	if (!out->complete)
		return;
	ab_set(w, AB_F_OXYGEN_TOTAL, &g.all, out->total, ab_range_u((struct ab_range){ out->total, out->low,
	    out->high }), 'C',
	    "%d ways in, less what yeast takes up%s: %.2f to %.2f mg/L", (int)out->n - 1, again ?
	    " while it referments" : "", out->low, out->high);
}

void ab_facts_oxygen(struct ab_work *w)
{
	struct ab_oxygen budget;
	reckon(w, &budget);
}

enum ab_status ab_oxygen_budget(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    const struct ab_as_if *as_if, size_t n_as_if, struct ab_arena *arena, struct ab_oxygen *out,
    struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena,
	    .as_if = as_if,
	    .n_as_if = n_as_if };

	*out = (struct ab_oxygen){ .n = 0 };
	w.facts = ab_arena_alloc(arena, AB_F_MAX_, sizeof *w.facts);
	if (w.facts != NULL) {
		ab_facts_walk(&w);
		reckon(&w, out);
	}
	if (w.facts == NULL || w.short_of_memory)
		return ab_fail(diag, AB_ENOMEM, batch->source, batch->mark.line,
		    "out of memory while reckoning the oxygen");
	return AB_OK;
}
