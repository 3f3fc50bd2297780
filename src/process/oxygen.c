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
#include "process/oxygen_gather.h"
#include "process/words.h"

static const double USUAL_ACTIVE_H = 7 * 24, /* fermentation of an untold yeast */
    USUAL_L = 20;

int ab_oxygen_answer(const struct ab_work *w, int slot)
{
	return ab_known(w, slot) ? ab_value(w, slot) > 0 : -1;
}

struct ab_oxygen_item *ab_oxygen_add(struct ab_oxygen_gathering *g, const char *name, const char *how,
    struct ab_range r,
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
void ab_oxygen_set(struct ab_oxygen_gathering *g, int slot, const struct ab_range *r, const struct ab_basis *basis,
    const char *how)
{
	ab_set(g->w, slot, basis, r->mid, ab_range_u(*r), 'C', "%s, in %.1f L: %.2f to %.2f mg/L", how,
	    g->beer_l, r->low, r->high);
}

void ab_oxygen_add_told(struct ab_oxygen_gathering *g, int slot, const char *name, const char *how, struct ab_range r,
    const struct ab_basis *basis)
{
	ab_oxygen_add(g, name, how, r, basis);
	ab_oxygen_set(g, slot, &r, basis, how);
}

/* Hours from pitching to packaging; where the end is not told, a week after fermentation. */
static double leaves_h(const struct ab_oxygen_gathering *g)
{
	return isfinite(g->w->packaged_h) ? g->w->packaged_h : g->final_h + USUAL_ACTIVE_H;
}

double ab_oxygen_days_left(const struct ab_oxygen_gathering *g, double from_h)
{
	double h = isfinite(from_h) ? from_h : g->final_h;
	return fmax(0, (leaves_h(g) - h) / 24);
}

const struct ab_list *ab_oxygen_vessels(const struct ab_work *w, bool *usual)
{
	*usual = w->batch->vessels.n == 0 && w->usual != NULL;
	return *usual ? &w->usual->vessels : &w->batch->vessels;
}

double ab_oxygen_head_l(const struct ab_oxygen_gathering *g, struct ab_basis *basis)
{
	bool usual;
	const struct ab_list *list = ab_oxygen_vessels(g->w, &usual);
	const struct ab_vessel *v = list->n > 0 ? list->items : NULL;

	if (v == NULL || (!v->headspace_l.known && !v->volume_l.known))
		return 0.2 * g->beer_l;
	ab_rest_on_num(basis, &v->mark, v->headspace_l.known ? &v->headspace_l : &v->volume_l, usual);
	return v->headspace_l.known ? v->headspace_l.v : fmax(0, v->volume_l.v - g->beer_l);
}

/* Bottles that were primed or had points left ferment once more; so does a primed keg. */
static bool referments(const struct ab_work *w)
{
	const struct ab_package *p = w->batch->package;
	return ab_value(w, AB_F_PACK_PRIMING) > 0.5 || (p != NULL && p->fresh_yeast == AB_YES);
}

/* Moves first, for set_transfer adds up what is there by then. */
static void gather(struct ab_oxygen_gathering *g)
{
	int into = ab_word(g->w, AB_F_PACK_INTO);

	ab_oxygen_gather_moves(g);
	ab_oxygen_gather_filling(g);
	ab_oxygen_set_transfer(g);
	ab_oxygen_gather_second(g);
	ab_oxygen_gather_opened(g);
	ab_oxygen_gather_hops(g);
	ab_oxygen_gather_crash(g);
	ab_oxygen_gather_wall(g);
	if (g->w->batch->package == NULL || (into != AB_PACK_BOTTLES && into != AB_PACK_KEG))
		return;
	if (into == AB_PACK_BOTTLES)
		ab_oxygen_gather_neck(g);
	else
		ab_oxygen_gather_keg(g);
	ab_oxygen_gather_closure(g);
	g->out->complete = true;
}

/* Every way is reckoned into the litres actually packaged. Without a package the budget is incomplete,
 * and a total that lacks its largest parts would look like a clean beer: none is set. */
static void reckon(struct ab_work *w, struct ab_oxygen *out)
{
	double final = isfinite(w->final_h) ? w->final_h : w->yeast != NULL ? 24 * w->yeast->primary_days :
	    USUAL_ACTIVE_H;
	struct ab_oxygen_gathering g = { .w = w, .out = out, .beer_l = w->volume.v, .final_h = final,
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
