/* dryhop.c - dry hops: how much, how long, how they went in, how long before packaging
 *
 * g per L of beer, days; as told or from the times (trust A). Hops are taken to stay until the cold crash or packaging when no contact is told.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/words.h"

/* A recipe that says of each of its hops what it is for, and of none that it is a dry hop, has no dry hops. */
static bool lists_all_hops(const struct ab_recipe *recipe)
{
	for (AB_EACH(struct ab_hop, h, recipe->hops))
		if (h->use == 0 || h->use == AB_HOP_DRY)
			return false;
	return recipe->hops.n > 0;
}

static void set_load(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	struct ab_basis basis = w->volume.basis;
	double grams = 0;

	basis.origin = AB_ORIGIN_DERIVED;
	for (AB_EACH(struct ab_dryhop, d, b->dryhops)) {
		grams += d->amount_g.known ? d->amount_g.v : 0;
		ab_rest_on(&basis, &d->mark, false);
	}
	/* The plan's dry hops stand in when the doing was not written down with amounts. */
	for (AB_EACH(struct ab_hop, h, grams > 0 || b->recipe == NULL ? (struct ab_list){ 0 } : b->recipe->hops)) {
		if (h->use != AB_HOP_DRY || !h->amount_g.known)
			continue;
		grams += h->amount_g.v;
		ab_rest_on(&basis, &h->mark, false);
	}
	if (grams <= 0 && b->dryhops.n == 0 && b->recipe != NULL && lists_all_hops(b->recipe)) {
		ab_rest_on(&basis, &b->recipe->mark, false);
		ab_set(w, AB_F_HOPS_DRY_LOAD, &basis, 0, 0.05, 'B', "the recipe lists hops and what for, and none is dry");
		return;
	}
	if (grams > 0 && w->volume.known)
		ab_set(w, AB_F_HOPS_DRY_LOAD, &basis, grams / w->volume.v, 0.05 * grams / w->volume.v, 'A',
		    "%.0f g in %.1f L", grams, w->volume.v);
}

/* When hops leave the beer if nobody says so. */
static double beer_leaves_h(const struct ab_work *w)
{
	double h = w->packaged_h;
	for (AB_EACH(struct ab_crash, c, w->batch->crashes)) {
		double crash = ab_hours(w, &c->at);
		if (!(crash >= h))
			h = crash;
	}
	return h;
}

static void set_contact(struct ab_work *w)
{
	const struct ab_dryhop *longest = NULL;
	double most = -AB_INF;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		double h = d->contact_s.known ? d->contact_s.v / 3600 : beer_leaves_h(w) - ab_hours(w, &d->at);
		if (h >= 0 && h > most) {
			most = h;
			longest = d;
		}
	}
	if (longest == NULL)
		return;
	struct ab_basis basis = ab_basis_new();
	ab_rest_on(&basis, &longest->mark, false);
	ab_set(w, AB_F_HOPS_DRY_CONTACT, &basis, most / 24, 0.3, 'A',
	    longest->contact_s.known ? "as told" : "until the beer left them");
}

static void set_to_package(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double last = -AB_INF;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		double h = ab_hours(w, &d->at);
		if (!isfinite(h))
			continue;
		last = fmax(last, h);
		ab_rest_on(&basis, &d->mark, false);
	}
	if (!isfinite(w->packaged_h))
		return;
	ab_rest_on(&basis, &w->batch->package->mark, false);
	ab_set(w, AB_F_HOPS_DRY_TO_PACKAGE, &basis, (w->packaged_h - last) / 24, 0.3, 'A',
	    "from day %.1f to day %.1f", last / 24,
	    w->packaged_h / 24);
}

void ab_facts_dryhop(struct ab_work *w)
{
	/* through the open lid is the first word, and the worst */
	static const struct ab_plain opened = AB_MANY(AB_F_HOPS_DRY_OPENED, AB_FIELD_WORD, dryhops, ab_dryhop,
	    opened, 1, AB_TAKE_SMALLEST);

	ab_set_plain(w, &opened, 1);
	set_load(w);
	set_contact(w);
	set_to_package(w);
}
