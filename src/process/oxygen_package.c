/* oxygen_package.c - the ways air takes into bottles and kegs: moves, filling, neck or headspace, closure
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/oxygen_gather.h"
#include <math.h>
#include <string.h>
#include <afterboil/quantity.h>
#include "process/extract.h"
#include "process/words.h"

static const double USUAL_NECK_MM = 30, USUAL_NECK_U = 10, USUAL_PURGE_KPA = 200;

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
void ab_oxygen_gather_moves(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	struct ab_range sum = { 0, 0, 0 };
	struct ab_basis basis = ab_basis_new();
	bool splash_given = ab_is_as_if(w, AB_F_TRANSFER_SPLASHED);
	bool target_given = ab_is_as_if(w, AB_F_TRANSFER_TARGET);

	for (AB_EACH(struct ab_transfer, t, w->batch->transfers)) {
		int splashed = splash_given ? ab_oxygen_answer(w, AB_F_TRANSFER_SPLASHED) : t->splashed - 1;
		int target = target_given ? ab_word(w, AB_F_TRANSFER_TARGET) : t->target;
		sum = ab_range_sum(sum, ab_oxygen_move(t->how, target, splashed));
		ab_rest_on(&basis, &t->mark, false);
		if (silicone_hose(w, &basis))
			sum = ab_range_sum(sum, ab_oxygen_hose(1.5, 10, g->beer_l));
	}
	if (w->batch->transfers.n > 0 || splash_given || target_given) {
		if (w->batch->transfers.n == 0)
			sum = ab_oxygen_move(0, ab_word(w, AB_F_TRANSFER_TARGET),
			    ab_oxygen_answer(w, AB_F_TRANSFER_SPLASHED));
		ab_oxygen_add(g, "moving the beer", "the moves as told", sum, &basis);
	} else if (w->batch->package != NULL) {
		basis.origin = AB_ORIGIN_ASSUMED;
		ab_oxygen_add(g, "moving the beer", "not told how: one quiet or splashing move",
		    ab_oxygen_move(0, 0, -1), &basis);
	}
}

/* Bottles only: a keg's filling is its purging, gather_keg. */
void ab_oxygen_gather_filling(struct ab_oxygen_gathering *g)
{
	int bottom = ab_oxygen_answer(g->w, AB_F_PACK_WAND);
	struct ab_basis basis = ab_basis_new();

	if (ab_word(g->w, AB_F_PACK_INTO) != AB_PACK_BOTTLES)
		return;
	ab_rest_on_fact(&basis, &g->w->facts[AB_F_PACK_WAND]);
	if (bottom < 0)
		basis.origin = AB_ORIGIN_ASSUMED;
	const char *how = bottom > 0 ? "from the bottom" : bottom == 0 ? "from above" : "not told how";
	ab_oxygen_add(g, "filling the bottles", how, ab_oxygen_filling(bottom), &basis);
}

void ab_oxygen_set_transfer(struct ab_oxygen_gathering *g)
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
		ab_oxygen_set(g, AB_F_OXYGEN_TRANSFER, &sum, &basis, "moves and filling as told");
}

/* A neck that was not told is assumed for the total, and oxygen.headspace stays unknown. */
void ab_oxygen_gather_neck(struct ab_oxygen_gathering *g)
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
	    p->size_l.known ? p->size_l.v : AB_NAN, ab_oxygen_answer(w, AB_F_PACK_FOAM));
	const char *how = told ? "air in the neck" : "not told how high: 30 mm";
	ab_oxygen_add(g, "air in the neck", how, r, &basis);
	if (told)
		ab_set(w, AB_F_OXYGEN_HEADSPACE, &basis, r.mid, ab_range_u(r), 'C',
		    "%.0f mm are about %.0f mL of neck, %s: %.1f to %.1f mg/L", neck->value,
		    ab_neck_ml(p->bottle, neck->value), ab_oxygen_answer(w, AB_F_PACK_FOAM) > 0 ?
		    "most of its air driven out by foam" : "full of air", r.low, r.high);
}

/* Volumes of the keg that the fermentation's own gas made. A keg purged by fermenting into it is purged
 * by this many times its volume. */
static double own_volumes(const struct ab_oxygen_gathering *g, double keg_l)
{
	double og = ab_value(g->w, AB_F_GRAVITY_OG), fg = ab_value(g->w, AB_F_GRAVITY_LAST);

	if (!isfinite(og) || !isfinite(fg))
		return AB_NAN;
	double oe = ab_plato_from_sg(og), re = ab_extract_real(oe, ab_plato_from_sg(fg));
	return ab_fermentation_gas(g->beer_l, 10 * fmax(0, oe - re), AB_OXYGEN_USUAL_C) / keg_l;
}

double ab_oxygen_keg_l(const struct ab_package *p)
{
	static const double MINI_KEG_L = 5;

	return p->size_l.known && p->size_l.v > 0 ? p->size_l.v
	    : p->bottle == AB_BOTTLE_MINI_KEG ? MINI_KEG_L : AB_USUAL_KEG_L;
}

/* What is left of a keg not quite full; under 0.3 L (the error of both volumes) the usual half litre
 * stands in. */
struct ab_range ab_oxygen_keg_head(const struct ab_package *p, double keg_l, double beer_l)
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
void ab_oxygen_gather_keg(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_package *p = w->batch->package;
	int filled = ab_word(w, AB_F_PACK_FILLED);
	double cycles = ab_value(w, AB_F_PACK_PURGES);
	double keg_l = ab_oxygen_keg_l(p);
	double beer_l = fmin(g->beer_l, keg_l), kpa = p->purge_kpa.known ? p->purge_kpa.v : USUAL_PURGE_KPA;
	struct ab_basis basis = ab_basis_new();
	bool told = filled != 0 || isfinite(cycles);

	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_FILLED]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_PURGES]);
	struct ab_range r = ab_oxygen_keg(filled, cycles, kpa, own_volumes(g, keg_l), keg_l, beer_l,
	    ab_oxygen_keg_head(p, keg_l, beer_l));
	if (!told) {
		/* air or hardly any: nobody said */
		basis.origin = AB_ORIGIN_ASSUMED;
		r = (struct ab_range){ 0.3 * r.mid, 0, r.high };
	}
	ab_oxygen_add(g, "air in the keg", told ? "what purging left" : "not told whether it was purged", r, &basis);
	if (told)
		ab_oxygen_set(g, AB_F_OXYGEN_HEADSPACE, &r, &basis,
		    "what the filling and purging left in the keg");
}

/* kept[]: what comes through the cap arrives over months, when the yeast has long settled. */
void ab_oxygen_gather_closure(struct ab_oxygen_gathering *g)
{
	struct ab_work *w = g->w;
	const struct ab_package *p = w->batch->package;
	bool keg = ab_word(w, AB_F_PACK_INTO) == AB_PACK_KEG;
	double days = ab_value(w, AB_F_STORE_DAYS), litres = keg ? ab_oxygen_keg_l(p) : AB_NAN;
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
	ab_oxygen_add_told(g, AB_F_OXYGEN_CLOSURE, "through the closure", keg ? "seals of the keg over the days in it" :
	    "caps over the days in the bottle",
	    ab_oxygen_closure(bottle, ab_word(w, AB_F_PACK_CAP), ab_oxygen_answer(w, AB_F_PACK_LEAK), litres, days),
	    &basis);
}
