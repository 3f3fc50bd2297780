/* readings.c - how the gravity was read: how often, with what, from what sample
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/gravities.h"
#include "process/words.h"

/* Yes or no over all readings; tell says which it is for one of them, or AB_UNKNOWN. */
static void set_any_reading(struct ab_work *w, int slot,
    int (*tell)(const struct ab_work *, const struct ab_reading *))
{
	struct ab_basis yes = ab_basis_new(), no = yes;
	bool any_yes = false, any_no = false;

	for (AB_EACH_SAMPLE(r, w)) {
		int said = r->gravity_sg.known ? tell(w, r) : AB_UNKNOWN;
		any_yes |= said == AB_YES;
		any_no |= said == AB_NO;
		if (said != AB_UNKNOWN)
			ab_rest_on(said == AB_YES ? &yes : &no, &r->mark, false);
	}
	if (any_yes || any_no)
		ab_set(w, slot, any_yes ? &yes : &no, any_yes, 0, 'A', NULL);
}

static int tell_misleads(const struct ab_work *w, const struct ab_reading *r)
{
	return ab_gravity_misleads(w, r) ? AB_YES : r->instrument != 0 ? AB_NO : AB_UNKNOWN;
}

/* Nobody says that it was corrected is not that it was not, but most are read as they are (common practice). */
static void set_uncorrected(struct ab_work *w)
{
	struct ab_fact *fact = &w->facts[AB_F_GRAVITY_UNCORRECTED];

	set_any_reading(w, AB_F_GRAVITY_UNCORRECTED, tell_misleads);
	for (AB_EACH_SAMPLE(r, w))
		if (r->gravity_sg.known && ab_gravity_misleads(w, r) && r->corrected == AB_NO)
			return;
	if (!(ab_value(w, AB_F_GRAVITY_UNCORRECTED) > 0) || ab_is_as_if(w, AB_F_GRAVITY_UNCORRECTED))
		return;
	struct ab_basis basis = ab_basis_new();
	ab_rest_on_fact(&basis, fact);
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_GRAVITY_UNCORRECTED, &basis, 1, 0, 'C',
	    "that it was not corrected for alcohol is taken: nobody says that it was");
}

/* After half a day the yeast has stirred it, so an old "mixed: no" tells nothing any more. */
static int tell_unmixed(const struct ab_work *w, const struct ab_reading *r)
{
	return ab_hours(w, &r->at) > AB_UNDERWAY_H ||
	    r->mixed == AB_UNKNOWN ? AB_UNKNOWN : r->mixed == AB_NO ? AB_YES : AB_NO;
}

/* The usual gear is asked only when the batch's own list is silent: a check told of this batch is
 * newer. */
static void set_checked(struct ab_work *w, int slot, int item)
{
	const struct ab_batch *from[] = { w->batch, w->usual };

	for (size_t k = 0; k < 2 && !ab_known(w, slot); k++) {
		for (AB_EACH(struct ab_instrument, i, from[k] != NULL ? from[k]->instruments
		    : (struct ab_list){ 0 })) {
			if (i->item != item || i->checked == AB_UNKNOWN)
				continue;
			struct ab_told told = { true, i->checked - 1, 0, ab_basis_new() };
			ab_rest_on(&told.basis, &i->mark, k == 1);
			ab_set_told(w, slot, &told);
		}
	}
}

static void take_refractometer(struct ab_told *told, int item, const struct ab_mark *mark, bool usual)
{
	if (item != AB_INSTR_REFRACTOMETER)
		return;
	told->known = true;
	ab_rest_on(&told->basis, mark, usual);
}

/* Told as an instrument, checked or not, or read with. Silence is no proof that there is none. */
static void set_refractometer(struct ab_work *w)
{
	struct ab_told own = { false, 1, 0, ab_basis_new() }, usual = own;

	for (AB_EACH(struct ab_instrument, i, w->batch->instruments))
		take_refractometer(&own, i->item, &i->mark, false);
	for (AB_EACH_SAMPLE(r, w))
		take_refractometer(&own, r->instrument, &r->mark, false);
	if (own.known)
		ab_set_told(w, AB_F_INSTRUMENT_REFRACTOMETER, &own);
	if (w->usual == NULL || ab_known(w, AB_F_INSTRUMENT_REFRACTOMETER))
		return;
	for (AB_EACH(struct ab_instrument, i, w->usual->instruments))
		take_refractometer(&usual, i->item, &i->mark, true);
	for (AB_EACH(struct ab_reading, r, w->usual->readings))
		take_refractometer(&usual, r->instrument, &r->mark, true);
	if (usual.known)
		ab_set_told(w, AB_F_INSTRUMENT_REFRACTOMETER, &usual);
}

/* Readings count by hand; a log is many of them, and then the series knows the number. Zero is not set:
 * silence in the journal is no proof that nobody measured. */
static void set_readings(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	size_t n = 0;

	for (AB_EACH_SAMPLE(r, w)) {
		if (!r->gravity_sg.known)
			continue;
		n++;
		ab_rest_on(&basis, &r->mark, false);
	}
	/* the one written beside the packaging is a reading too */
	const struct ab_package *pack = w->batch->package;
	if (pack != NULL && pack->gravity_sg.known) {
		n++;
		ab_rest_on(&basis, &pack->mark, false);
	}
	if (w->gravity.n > n) {
		n = w->gravity.n;
		ab_rest_on_basis(&basis, &w->gravity_basis);
	}
	if (n > 0)
		ab_set(w, AB_F_GRAVITY_READINGS, &basis, (double)n, 0, 'A', NULL);
}

void ab_gravity_tell_readings(struct ab_work *w)
{
	set_readings(w);
	set_uncorrected(w);
	set_any_reading(w, AB_F_GRAVITY_UNMIXED, tell_unmixed);
	set_refractometer(w);
	set_checked(w, AB_F_INSTRUMENT_HYDROMETER, AB_INSTR_HYDROMETER);
	set_checked(w, AB_F_INSTRUMENT_THERMOMETER, AB_INSTR_THERMOMETER);
}
