/* vessel.c - what the beer fermented and stood in
 *
 * As told. Of several vessels the worst counts (most light, oldest, any scratch); kind is the first one's.
 * The air over beer in a second vessel is told, or what it holds less the beer (trust A).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <string.h>
#include "process/words.h"

/* Sealed takes the smallest: one lid that leaks is a leak. Kind takes the first: that is where it
 * fermented. */
#define VESSEL(slot, kind, member, factor, how) AB_MANY(slot, kind, vessels, ab_vessel, member, factor, how)

static const struct ab_plain rows[] = {
	VESSEL(AB_F_VESSEL_KIND, AB_FIELD_WORD, kind, 1, AB_TAKE_FIRST),
	VESSEL(AB_F_VESSEL_AGE, AB_FIELD_NUM, age_s, 1 / 86400.0, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_SCRATCHED, AB_FIELD_YESNO, scratched, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_SEALED, AB_FIELD_YESNO, sealed, 1, AB_TAKE_SMALLEST),
	VESSEL(AB_F_VESSEL_FLIES, AB_FIELD_YESNO, flies, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_HELD_SOUR, AB_FIELD_YESNO, held_sour, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_LAST_SPOILT, AB_FIELD_YESNO, last_spoilt, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_SECOND, AB_FIELD_YESNO, second, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_FERMENT_JUDGED, AB_FIELD_WORD, judged, 1, AB_TAKE_FIRST),
	VESSEL(AB_F_FERMENT_SWUNG, AB_FIELD_YESNO, swings, 1, AB_TAKE_LARGEST),
	VESSEL(AB_F_VESSEL_LIGHT, AB_FIELD_WORD, light, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_CRASH_AIRLOCK, AB_FIELD_WORD, crashes, ab_crash, airlock, 1, AB_TAKE_FIRST),
	AB_MANY(AB_F_CRASH_SUCKED, AB_FIELD_YESNO, crashes, ab_crash, sucked, 1, AB_TAKE_LARGEST),
};

/* What a yes anywhere else makes yes too. told.v > value: a yes may overrule a no, never the other way
 * round. */
static void also(struct ab_work *w, int slot, struct ab_plain row)
{
	struct ab_told told = ab_look(w, &row);
	if (told.known && (!ab_known(w, slot) || told.v > ab_value(w, slot)))
		ab_set_told(w, slot, &told);
}

/* A fermenter scrubbed dull is told of the gear as often as of the vessel. What the gear smells of is a fact of its own
 * (hygiene.c). */
static void set_gear_of_vessel(struct ab_work *w)
{
	for (AB_EACH(struct ab_gear, g, w->batch->gear)) {
		struct ab_told told = { true, 1, 0, ab_basis_new() };
		if (g->scratched != AB_YES || (g->item != AB_GEAR_FERMENTER && g->item != AB_GEAR_BOTTLING_BUCKET))
			continue;
		ab_rest_on(&told.basis, &g->mark, false);
		ab_set_told(w, AB_F_VESSEL_SCRATCHED, &told);
	}
}

/* Racked to a second vessel when one is listed as such, or when a transfer went to another vessel than
 * the first. The first vessel of the list is where it fermented, so a move "to" it is no racking. */
static void set_second(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	const struct ab_vessel *first = b->vessels.items;

	if (ab_known(w, AB_F_VESSEL_SECOND))
		return;
	for (AB_EACH(struct ab_transfer, t, b->transfers)) {
		for (AB_EACH(struct ab_vessel, v, b->vessels)) {
			if (t->to == NULL || v->id == NULL || v == first || strcmp(t->to, v->id) != 0)
				continue;
			struct ab_basis basis = ab_basis_new();
			ab_rest_on(&basis, &t->mark, false);
			ab_rest_on(&basis, &v->mark, false);
			ab_set(w, AB_F_VESSEL_SECOND, &basis, 1, 0, 'A', "moved to another vessel");
		}
	}
}

/* Only vessels marked as second: the first one's gas is CO2 by then. */
static void set_second_air(struct ab_work *w)
{
	for (AB_EACH(struct ab_vessel, v, w->batch->vessels)) {
		struct ab_basis basis = ab_basis_new();
		if (v->second != AB_YES)
			continue;
		ab_rest_on_num(&basis, &v->mark, v->headspace_l.known ? &v->headspace_l : &v->volume_l, false);
		if (v->headspace_l.known) {
			ab_set(w, AB_F_VESSEL_SECOND_AIR, &basis, v->headspace_l.v,
			    ab_num_u(&v->mark, &v->headspace_l, 0.5), 0, NULL);
		} else if (v->volume_l.known && w->volume.known) {
			ab_rest_on_basis(&basis, &w->volume.basis);
			ab_set(w, AB_F_VESSEL_SECOND_AIR, &basis, fmax(0, v->volume_l.v - w->volume.v), 1,
			    'A', "%.1f L vessel - %.1f L beer",
			    v->volume_l.v, w->volume.v);
		}
	}
}

/* Minutes open in all; a look of untold length counts two (estimate). u: a fifth of the told time, and
 * a minute for each untold. */
static void set_open(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double minutes = 0;
	size_t untold = 0;

	for (AB_EACH(struct ab_opened, o, w->batch->openings)) {
		minutes += o->for_s.known ? o->for_s.v / 60 : 2;
		untold += !o->for_s.known;
		ab_rest_on_num(&basis, &o->mark, &o->for_s, false);
	}
	if (w->batch->openings.n > 0)
		ab_set(w, AB_F_VESSEL_OPEN, &basis, minutes, 0.2 * minutes + (double)untold,
		    untold > 0 ? 'C' : 'A',
		    "times opened: %d; for an untold while: %d", (int)w->batch->openings.n, (int)untold);
}

/* Only ever yes: a journal that tells of none may have left it out. */
static void set_crash(struct ab_work *w)
{
	const struct ab_crash *c = w->batch->crashes.items;
	struct ab_basis basis = ab_basis_new();

	if (w->batch->crashes.n == 0)
		return;
	ab_rest_on(&basis, &c->mark, false);
	ab_set(w, AB_F_CRASH_DONE, &basis, 1, 0, 0, NULL);
}

void ab_facts_vessel(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	also(w, AB_F_VESSEL_HELD_SOUR, (struct ab_plain)AB_MANY(0, AB_FIELD_YESNO, gear, ab_gear,
	    shared_sour, 1, AB_TAKE_LARGEST));
	set_gear_of_vessel(w);
	set_second(w);
	set_second_air(w);
	set_open(w);
	set_crash(w);
}
