/* light.c - the light a beer got, in the fermenter and in its bottles
 *
 * Grade C (light.h); u as large as the value. A day has 8 h of daylight, or of lamps (estimate); stores of
 * untold length last to the tasting. A few hours in the light count as told, all of them.
 * A window counts as shade. The storage of bottles counts for bottles only; a fermenter of glass or clear
 * plastic lets light in as clear glass does, every other kind none. What is dark, opaque or keg is a dose of
 * 0.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/light.h>
#include <assert.h>
#include "process/storage.h"
#include "process/words.h"
#include "process/working.h"

/* A dose is minutes of full sun on clear glass; the factors stand in the order of the enums of light.h,
 * not of the journal's words: the two tables below translate. */
static const double by_light[] = { 0, 0.01, 0.1, 1 }, by_glass[] = { 1, 0.7, 0.05, 0 };
static const double MINUTES_A_DAY = 8 * 60, SUN_MINUTES_A_DAY = 60;
enum { VESSEL_PET = 2, VESSEL_GLASS = 3 };

/* ab_words_light: dark indoor window sun; ab_words_colour: brown green clear opaque. As 1 + their place. */
static const enum ab_light_class lights[] = { 0, AB_LIGHT_DARK, AB_LIGHT_INDOOR, AB_LIGHT_SHADE,
    AB_LIGHT_SUN };
static const enum ab_glass_class glasses[] = { 0, AB_GLASS_BROWN, AB_GLASS_GREEN, AB_GLASS_CLEAR,
    AB_GLASS_OPAQUE };

double ab_light_dose(double minutes, enum ab_light_class light, enum ab_glass_class glass)
{
	assert((size_t)light < sizeof by_light / sizeof *by_light);
	assert((size_t)glass < sizeof by_glass / sizeof *by_glass);
	return minutes * by_light[light] * by_glass[glass];
}

/* Sun wanders: a place in the sun has it for an hour a day or so (estimate). */
static double days_dose(double days, int light_word, enum ab_glass_class glass)
{
	enum ab_light_class light = lights[light_word];
	return ab_light_dose(days * (light == AB_LIGHT_SUN ? SUN_MINUTES_A_DAY : MINUTES_A_DAY),
	    light, glass);
}

/* NAN: not told. Dark or a wall of steel is a sure 0 even where the days are not told. */
static double in_fermenter(const struct ab_work *w, struct ab_basis *basis)
{
	int light = ab_word(w, AB_F_VESSEL_LIGHT), kind = ab_word(w, AB_F_VESSEL_KIND);
	double days = ab_value(w, AB_F_FERMENT_DAYS);
	bool lets_in = kind == VESSEL_PET || kind == VESSEL_GLASS;

	ab_rest_on_fact(basis, &w->facts[AB_F_VESSEL_KIND]);
	ab_rest_on_fact(basis, &w->facts[AB_F_VESSEL_LIGHT]);
	if ((kind != 0 && !lets_in) || light == 1)
		return 0;
	return light != 0 && kind != 0 && isfinite(days) ? days_dose(days, light, AB_GLASS_CLEAR) : AB_NAN;
}

/* In the few hours told of; lasting: the brightest light of all other stays, 0 untold. */
static double in_hours(const struct ab_work *w, enum ab_glass_class glass, int *lasting, struct ab_basis *basis)
{
	double dose = 0;

	*lasting = 0;
	for (AB_EACH(struct ab_store, s, w->batch->stores)) {
		if (!ab_is_exposure(s)) {
			*lasting = s->light > *lasting ? s->light : *lasting;
			continue;
		}
		dose += ab_light_dose(s->for_s.v / 60, lights[s->light], glass);
		ab_rest_on_num(basis, &s->mark, &s->for_s, false);
	}
	return dose;
}

/* light: of the stays, 0 untold. */
static double in_bottles(const struct ab_work *w, int light, enum ab_glass_class glass, struct ab_basis *basis)
{
	double days = ab_value(w, AB_F_STORE_DAYS), hours = 0;
	int lasting = light;

	if (!ab_is_as_if(w, AB_F_STORE_LIGHT))
		hours = in_hours(w, glass, &lasting, basis);
	if (!(hours > 0))
		return light != 0 && isfinite(days) ? days_dose(days, light, glass) : AB_NAN;
	return lasting != 0 && isfinite(days) ? hours + days_dose(days, lasting, glass) : hours;
}

/* Kegs and opaque bottles are a sure 0, whatever the light. */
static double in_store(const struct ab_work *w, struct ab_basis *basis)
{
	int light = ab_word(w, AB_F_STORE_LIGHT), colour = ab_word(w, AB_F_PACK_COLOUR);
	int into = ab_word(w, AB_F_PACK_INTO);

	ab_rest_on_fact(basis, &w->facts[AB_F_STORE_LIGHT]);
	ab_rest_on_fact(basis, &w->facts[AB_F_PACK_COLOUR]);
	if ((into != 0 && into != AB_PACK_BOTTLES) || light == AB_LIT_DARK ||
	    (colour != 0 && glasses[colour] == AB_GLASS_OPAQUE))
		return 0;
	return colour != 0 ? in_bottles(w, light, glasses[colour], basis) : AB_NAN;
}

void ab_facts_light(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double fermenter = in_fermenter(w, &basis), store = in_store(w, &basis);
	double known = (isfinite(fermenter) ? fermenter : 0) + (isfinite(store) ? store : 0);

	/* One part alone may say "much", never "none". */
	if ((!isfinite(fermenter) || !isfinite(store)) && !(known > 0))
		return;
	ab_set(w, AB_F_LIGHT_DOSE, &basis, known, known, 'C',
	    "%.1f min in the fermenter, %.1f min in the bottles, as full sun on clear glass",
	    isfinite(fermenter) ? fermenter : 0, isfinite(store) ? store : 0);
}
