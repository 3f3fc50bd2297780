/* dryhop.c - dry hops: how much, how long, how they went in, how long before packaging
 *
 * g per L of beer, days; as told or from the times (trust A). Hops are taken to stay until the cold crash or
 * packaging when no contact is told. Those that go into the keg itself stay there up to the glass asked about.
 *
 * Hop creep (trust C): enzymes of the hops free sugar from dextrins. Kirkpatrick and Shellhammer 2018 (J.
 * Agric. Food Chem.; second-hand) found, at 20 C over yeast, 0.7 % more alcohol in 5 days and 1.3 % in 40,
 * 1 to 2 P at most, and little when cold or short; one case of bottles went from 3.0 to 4.5 volumes, 3
 * points. So: 3 points at 8 g/L and in proportion below (estimate); what came before packaging, 0.7 of 1.3 in
 * 5 days, is exp(-0.155 d) short of it; a contact of few days frees 1 - exp(-d/1.5) (estimate), and half for
 * each 10 K under 20 C (estimate). Lots differ by far: u is as large as the value. A gravity seen to stand
 * still for three days after the hops acquits them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/dryhop.h"
#include "process/storage.h"
#include "process/working.h"
#include "process/words.h"

/* A recipe that says of each of its hops what it is for, and of none that it is a dry hop, has no dry hops. Whoever
 * tells the bittering ones by weight told the list; "a lot of flavour hops" alone is a remark on the beer, and what
 * else went in is not known. */
static bool lists_all_hops(const struct ab_recipe *recipe)
{
	bool bittered = false;

	for (AB_EACH(struct ab_hop, h, recipe->hops)) {
		if (h->use == 0 || h->use == AB_HOP_DRY)
			return false;
		bittered |= h->use == AB_HOP_BITTERING && h->amount_g.known;
	}
	return bittered;
}

/* "0 g" is how a journal says that there were none. */
static bool says_none(const struct ab_batch *b)
{
	for (AB_EACH(struct ab_dryhop, d, b->dryhops))
		if (!d->amount_g.known || d->amount_g.v > 0)
			return false;
	return b->dryhops.n > 0;
}

/* 0.05: kitchen scales and the last litre of the volume, estimate. */
static void set_load(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	struct ab_basis basis = w->volume.basis;
	double grams = 0;

	basis.origin = AB_ORIGIN_DERIVED;
	for (AB_EACH(struct ab_dryhop, d, b->dryhops)) {
		grams += d->amount_g.known ? d->amount_g.v : 0;
		ab_rest_on_num(&basis, &d->mark, &d->amount_g, false);
	}
	/* The plan's dry hops stand in when the doing was not written down with amounts. */
	for (AB_EACH(struct ab_hop, h, grams > 0 || b->recipe == NULL ? (struct ab_list){ 0 }
	    : b->recipe->hops)) {
		if (h->use != AB_HOP_DRY || !h->amount_g.known)
			continue;
		grams += h->amount_g.v;
		ab_rest_on_num(&basis, &h->mark, &h->amount_g, false);
	}
	if (grams <= 0 && says_none(b)) {
		ab_set(w, AB_F_HOPS_DRY_LOAD, &basis, 0, 0, 'A', "none");
		return;
	}
	if (grams <= 0 && b->dryhops.n == 0 && b->recipe != NULL && lists_all_hops(b->recipe)) {
		ab_rest_on(&basis, &b->recipe->mark, false);
		ab_set(w, AB_F_HOPS_DRY_LOAD, &basis, 0, 0.05, 'B',
		    "the recipe lists hops and what for, and none is dry");
		return;
	}
	if (grams > 0 && w->volume.known)
		ab_set(w, AB_F_HOPS_DRY_LOAD, &basis, grams / w->volume.v, 0.05 * grams / w->volume.v, 'A',
		    "%.0f g in %.1f L", grams, w->volume.v);
}

static bool is_keg(const struct ab_package *p)
{
	return p != NULL && (p->into == AB_PACK_KEG || p->into == AB_PACK_CASK);
}

/* A day without its hour may be any hour of it: hops of kegging day went into the keg. */
static bool is_in_keg(const struct ab_work *w, const struct ab_dryhop *d)
{
	const struct ab_package *p = w->batch->package;

	if (d->opened == AB_OPEN_KEG)
		return true;
	return is_keg(p) && ab_packaged_hours(w, &d->at) >= (d->at.date_only || p->at.date_only ? -12 : 0);
}

/* Hours up to the glass; below 0: it was poured before the hops. Those told to be in the keg went in with the beer
 * where no day is told. */
static double in_keg_h(const struct ab_work *w, const struct ab_dryhop *d)
{
	double in_h = fmax(ab_hours(w, &d->at), w->packaged_h), late = ab_packaged_hours(w, &d->at);

	if (isfinite(w->found_h - in_h))
		return w->found_h - in_h;
	return (isfinite(w->found_after_h) ? w->found_after_h : 24 * ab_told_stays_d(w)) - fmax(0, late);
}

/* When hops leave the beer if nobody says so. The crash, if it came first: hops drop out with the cold. */
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

/* The longest of several additions, as it is the one that could go grassy. */
static void set_contact(struct ab_work *w)
{
	const struct ab_dryhop *longest = NULL;
	double most = -AB_INF;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		double h = d->contact_s.known ? d->contact_s.v / 3600
		    : is_in_keg(w, d) ? in_keg_h(w, d) : beer_leaves_h(w) - ab_hours(w, &d->at);
		if (h >= 0 && h > most) {
			most = h;
			longest = d;
		}
	}
	if (longest == NULL)
		return;
	struct ab_basis basis = ab_basis_new();
	ab_rest_on_num(&basis, &longest->mark, &longest->contact_s, false);
	ab_set(w, AB_F_HOPS_DRY_CONTACT, &basis, most / 24, 0.3, 'A',
	    longest->contact_s.known ? "as told"
	    : is_in_keg(w, longest) ? "in the keg, up to the tasting" : "until the beer left them");
}

static bool any_in_keg(const struct ab_work *w, struct ab_basis *basis)
{
	bool any = false;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops))
		if (is_in_keg(w, d)) {
			any = true;
			ab_rest_on(basis, &d->mark, false);
		}
	return any;
}

/* The last addition, for creep: each later one starts the enzymes anew. What is freed in the keg itself stays in it. */
static void set_to_package(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double last = -AB_INF;

	if (any_in_keg(w, &basis)) {
		ab_set(w, AB_F_HOPS_DRY_TO_PACKAGE, &basis, 0, 0.3, 'A', "they went into the keg");
		return;
	}
	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		double h = ab_hours(w, &d->at);
		if (!isfinite(h))
			continue;
		last = fmax(last, h);
		ab_rest_on(&basis, &d->mark, false);
	}
	if (!isfinite(w->packaged_h) || last > w->packaged_h + 24)
		return;
	ab_rest_on(&basis, &w->batch->package->mark, false);
	ab_set(w, AB_F_HOPS_DRY_TO_PACKAGE, &basis, fmax(0, w->packaged_h - last) / 24, 0.3, 'A',
	    "from day %.1f to day %.1f", last / 24,
	    w->packaged_h / 24);
}

/* Undated additions count not at all here; -infinity when none is dated. */
double ab_last_dry_hop_h(const struct ab_work *w)
{
	double last = -AB_INF;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		double h = ab_hours(w, &d->at);
		last = isfinite(h) ? fmax(last, h) : last;
	}
	return last;
}

/* A day after the hops first, as creep needs time to show; 71 h, not 72, because readings "three days
 * later" are rarely taken on the hour. */
static bool still_since(const struct ab_work *w, double hops_h)
{
	const struct ab_series *s = &w->gravity;
	double first = AB_NAN, low = AB_INF, high = -AB_INF, last = AB_NAN;

	for (size_t i = 0; i < s->n && !(s->at[i].h > w->packaged_h); i++) {
		if (s->at[i].h < hops_h + 24)
			continue;
		first = isnan(first) ? s->at[i].h : first;
		last = s->at[i].h;
		low = fmin(low, s->at[i].v);
		high = fmax(high, s->at[i].v);
	}
	return last - first >= 71 && high - low <= 0.0015;
}

/* The share of dextrins that a full load can free is the ceiling: more hops do not make more sugar
 * (estimate). */
double ab_hop_creep(double load_gl, double contact_d, double to_package_d, double t_c)
{
	static const double POINTS = 3, FULL_LOAD_GL = 8, CONTACT_D = 1.5, BY_DAY = 0.155;
	double freed = fmin(1, load_gl / FULL_LOAD_GL) * -expm1(-fmax(0, contact_d) / CONTACT_D);

	return POINTS * freed * exp2(fmin(0, t_c - 20) / 10) * exp(-BY_DAY * fmax(0, to_package_d));
}

/* Until a keg is empty: by then all is free that will be (estimate). */
static const double IN_KEG_D = 30;

/* The beer's temperature at the hops, or the keg's, else where it settled, else 20 C. A gravity that stood still is
 * evidence and beats any formula. */
static void set_creep(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double unused, hops_h = ab_last_dry_hop_h(w), load = ab_value(w, AB_F_HOPS_DRY_LOAD),
	    wait = ab_value(w, AB_F_HOPS_DRY_TO_PACKAGE);
	bool kegged = any_in_keg(w, &basis);
	double contact = ab_known(w, AB_F_HOPS_DRY_CONTACT) ? ab_value(w, AB_F_HOPS_DRY_CONTACT)
	    : kegged ? IN_KEG_D : wait;
	double t = w->beer.n > 0 ? ab_series_at(&w->beer, hops_h) : w->level.known ? w->level.after : 20;

	if (!(load > 0) || !isfinite(wait))
		return;
	if (kegged)
		t = ab_keg_warmth(w, &unused, &basis);
	ab_rest_on_fact(&basis, &w->facts[AB_F_HOPS_DRY_LOAD]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_HOPS_DRY_TO_PACKAGE]);
	if (isfinite(hops_h) && still_since(w, hops_h)) {
		ab_set(w, AB_F_HOPS_CREEP, &basis, 0, 0.3, 'B',
		    "the gravity stood still for three days after the hops");
		return;
	}
	double points = ab_hop_creep(load, contact, wait, isfinite(t) ? t : 20);
	ab_set(w, AB_F_HOPS_CREEP, &basis, points, points, 'C',
	    "%.1f g/L for %.1f d, packaged after %.1f d; hops differ by far, none to three times this", load,
	    contact, wait);
}

/* Had it stood still for the usual days before that gravity of the hops? The hour: as above. */
static bool rested(const struct ab_work *w, double before_h, double sg)
{
	const struct ab_series *s = &w->gravity;
	double since = before_h;

	for (size_t i = s->n; i-- > 0 && (s->at[i].h > before_h || fabs(s->at[i].v - sg) <= 0.0015);)
		since = fmin(since, s->at[i].h);
	return before_h - since >= 24 * w->norms->numbers[AB_NUM_STILL_D] - 1;
}

/* From the last gravity of the two days before the hops to the last before packaging, a day after them at least. Hops
 * that went into a working beer say nothing: there the yeast was not done. All four are estimates; the last is what two
 * readings are off by together. */
static void set_fall(struct ab_work *w)
{
	static const double DONE_H = 96, BEFORE_H = 48, AFTER_H = 24, READING_POINTS = 0.9;
	const struct ab_series *s = &w->gravity;
	double hops_h = ab_last_dry_hop_h(w), before = AB_NAN, before_h = AB_NAN, after = AB_NAN;
	struct ab_basis basis = w->gravity_basis;

	for (AB_EACH(struct ab_dryhop, d, w->batch->dryhops)) {
		if (d->opened == AB_OPEN_ACTIVE)
			return;
		ab_rest_on(&basis, &d->mark, false);
	}
	for (size_t i = 0; i < s->n && !(s->at[i].h > w->packaged_h + 1); i++) {
		if (s->at[i].h >= hops_h - BEFORE_H && s->at[i].h <= hops_h + 6)
			before = s->at[i].v, before_h = s->at[i].h;
		else if (s->at[i].h >= hops_h + AFTER_H)
			after = s->at[i].v;
	}
	if (!(hops_h >= DONE_H) || !isfinite(before) || !isfinite(after))
		return;
	ab_set(w, AB_F_HOPS_FALL, &basis, 1000 * (before - after), READING_POINTS, 'B',
	    "%.3f at the hops, %.3f after them", before, after);
	if (rested(w, before_h, before))
		ab_set(w, AB_F_HOPS_FALL_RESTED, &basis, 1000 * (before - after), READING_POINTS, 'B',
		    "still at %.3f up to the hops, %.3f after them", before, after);
}

void ab_facts_dryhop(struct ab_work *w)
{
	/* through the open lid is the first word, and the worst */
	static const struct ab_plain opened = AB_MANY(AB_F_HOPS_DRY_OPENED, AB_FIELD_WORD, dryhops, ab_dryhop,
	    opened, 1, AB_TAKE_SMALLEST);
	/* one handful without a bag is enough */
	static const struct ab_plain loose = AB_MANY(AB_F_HOPS_LOOSE, AB_FIELD_YESNO, dryhops, ab_dryhop,
	    loose, 1, AB_TAKE_LARGEST);

	ab_set_plain(w, &opened, 1);
	ab_set_plain(w, &loose, 1);
	set_load(w);
	set_contact(w);
	set_to_package(w);
	set_creep(w);
	set_fall(w);
}
