/* chill.c - from flame-out to pitching
 *
 * Time above 80 C in minutes: as told, or the usual of the way of chilling. The latter are estimates (grade
 * C); in a closed vessel left overnight Newton's law with a time constant of 6 h (20 L, still air; estimate)
 * takes 6 h x ln(80/60) = 104 min from 100 to 80 C.
 * Through a counterflow or plate chiller the wort waits hot in the kettle for its turn.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_ONE(AB_F_CHILL_METHOD, AB_FIELD_WORD, chill, method, 1),
	AB_ONE(AB_F_CHILL_TO_PITCH, AB_FIELD_NUM, chill, to_pitch_s, 1 / 3600.0),
	AB_ONE(AB_F_CHILL_TRUB, AB_FIELD_WORD, chill, trub, 1),
};

/* Estimates (grade C), by the word of the method. 0 min: no usual time, so nothing is assumed. */
static const struct { double min, u; const char *how; } usual_min[AB_CHILL_MAX_] = {
	[AB_CHILL_ICE_BATH] = { 10, 5, "an ice bath" },
	[AB_CHILL_COIL] = { 5, 3, "a coil" },
	[AB_CHILL_COUNTERFLOW] = { 15, 8, "a counterflow chiller" },
	[AB_CHILL_PLATE] = { 15, 8, "a plate chiller" },
	[AB_CHILL_OVERNIGHT] = { 104, 30, "a closed vessel left overnight" },
	[AB_CHILL_AIR] = { 60, 25, "cooling in the air" },
};

/* A stand shorter than what is told as "above 80 C" is part of it; a longer one comes on top. Otherwise
 * a hop stand told both ways would be counted twice, and DMS with it. */
static void set_above_80(struct ab_work *w)
{
	struct ab_told above = AB_LOOK_ONE(w, AB_FIELD_NUM, chill, above80_s, 1 / 60.0);
	struct ab_told stand = AB_LOOK_ONE(w, AB_FIELD_NUM, stand, time_s, 1 / 60.0);
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, stand, temp_c, 1);
	double standing = stand.known && !(temp.known && temp.v < 80) ? stand.v : 0;
	int method = ab_word(w, AB_F_CHILL_METHOD);
	struct ab_basis basis = ab_basis_new();

	if (above.known && !(standing > above.v)) {
		ab_set_told(w, AB_F_CHILL_ABOVE_80, &above);
		return;
	}
	if (standing > 0)
		ab_rest_on_basis(&basis, &stand.basis);
	if (above.known) {
		ab_rest_on_basis(&basis, &above.basis);
		double u = ab_told_u(&above, 0.1 * above.v);
		ab_set(w, AB_F_CHILL_ABOVE_80, &basis, above.v + standing, u, 'A',
		    "%.0f min while chilling and %.0f min standing hot", above.v, standing);
	} else if (method != 0 && usual_min[method].min > 0) {
		ab_rest_on_fact(&basis, &w->facts[AB_F_CHILL_METHOD]);
		basis.origin = AB_ORIGIN_ASSUMED;
		ab_set(w, AB_F_CHILL_ABOVE_80, &basis, usual_min[method].min + standing,
		    usual_min[method].u, 'C', "%.0f min is usual with %s, and %.0f min standing hot",
		    usual_min[method].min,
		    usual_min[method].how, standing);
	} else if (standing > 0) {
		ab_set(w, AB_F_CHILL_ABOVE_80, &basis, standing, 5, 'B',
		    "%.0f min standing hot; the chilling itself is not told", standing);
	}
}

/* Covered while hot: told of the chilling, or a lid on the hot stand. A lid told for the hot stand says
 * yes where the chilling says no or nothing; its own "no" never overrules what was told of the
 * chilling. Place 2 of the words is "on"; "partly" is not covered. */
static void set_covered(struct ab_work *w)
{
	struct ab_told covered = AB_LOOK_ONE(w, AB_FIELD_YESNO, chill, covered, 1);
	struct ab_told lid = AB_LOOK_ONE(w, AB_FIELD_WORD, stand, lid, 1);

	if (lid.known && (!covered.known || covered.v <= 0)) {
		lid.v = lid.v >= 2;
		covered = covered.known && lid.v <= 0 ? covered : lid;
	}
	ab_set_told(w, AB_F_CHILL_COVERED, &covered);
}

void ab_facts_chill(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_above_80(w);
	set_covered(w);
}
