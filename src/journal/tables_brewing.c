/* tables_brewing.c - what a journal may hold of the recipe and of the brewing day, up to the yeast
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/batch_tables.h"

#include <afterboil/journal.h>
#include <afterboil/quantity.h>

/* Amounts and shares are both allowed: brewers know one or the other, and a share can be had from the
 * amounts. */
static const struct ab_attr_spec malt[] = {
	AB_A_WORD(ab_malt, "kind", kind, ab_words_malt),
	AB_A_TEXT(ab_malt, "name", name),
	AB_A_Q(ab_malt, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_Q(ab_malt, "share", share, AB_DIM_SHARE, SHARE),
	AB_A_Q(ab_malt, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_END
};
/* No age: sugar hardly stales; extract does. */
static const struct ab_attr_spec sugar[] = {
	AB_A_WORD(ab_sugar, "kind", kind, ab_words_sugar),
	AB_A_TEXT(ab_sugar, "name", name),
	AB_A_Q(ab_sugar, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_Q(ab_sugar, "share", share, AB_DIM_SHARE, SHARE),
	AB_A_WHEN(ab_sugar, "at", at),
	AB_A_END
};
static const struct ab_attr_spec extract[] = {
	AB_A_WORD(ab_extract, "kind", kind, ab_words_extract),
	AB_A_TEXT(ab_extract, "name", name),
	AB_A_Q(ab_extract, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_Q(ab_extract, "share", share, AB_DIM_SHARE, SHARE),
	AB_A_Q(ab_extract, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_END
};
/* alpha to 40 %: the richest hops have about half of that (estimate). */
static const struct ab_attr_spec hop[] = {
	AB_A_WORD(ab_hop, "use", use, ab_words_hop_use),
	AB_A_TEXT(ab_hop, "name", name),
	AB_A_Q(ab_hop, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_Q(ab_hop, "alpha", alpha_share, AB_DIM_SHARE, 0, 0.4),
	AB_A_Q(ab_hop, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_WORD(ab_hop, "kept", kept, ab_words_hop_keep),
	AB_A_END
};
/* No kind: what fruit or spice it was is for the reader of the journal; whether it was clean is for the
 * rules. */
static const struct ab_attr_spec extra[] = {
	AB_A_TEXT(ab_extra, "name", name),
	AB_A_Q(ab_extra, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_YESNO(ab_extra, "sanitised", sanitised),
	AB_A_WHEN(ab_extra, "at", at),
	AB_A_Q(ab_extra, "sugars", sugars_share, AB_DIM_SHARE, SHARE),
	AB_A_END
};
/* The plan, kept apart from readings: a plan is no measurement and must not weigh as one. */
const struct ab_attr_spec ab_attrs_recipe[] = {
	AB_A_Q(ab_recipe, "volume", volume_l, AB_DIM_VOLUME, 0.1, MOST_L),
	AB_A_Q(ab_recipe, "og", og_sg, AB_DIM_GRAVITY, 1.0, 1.25),
	AB_A_Q(ab_recipe, "fg", fg_sg, AB_DIM_GRAVITY, SG),
	AB_A_Q(ab_recipe, "co2", co2_vol, AB_DIM_CO2, 0, 8),
	AB_A_Q(ab_recipe, "bitterness", bitterness_ibu, AB_DIM_BITTERNESS, 0, 500),
	AB_A_YESNO(ab_recipe, "complete", complete),
	AB_A_END
};
const struct ab_elem_spec ab_recipe_children[] = {
	AB_E_MANY(ab_recipe, malts, ab_malt, "malt", malt, "a malt or unmalted grain"),
	AB_E_MANY(ab_recipe, sugars, ab_sugar, "sugar", sugar, "a sugar in the wort"),
	AB_E_MANY(ab_recipe, extracts, ab_extract, "extract", extract, "a malt extract and its age"),
	AB_E_MANY(ab_recipe, hops, ab_hop, "hop", hop, "a hop addition on the hot side"),
	AB_E_MANY(ab_recipe, extras, ab_extra, "extra", extra, "fruit, spice, oak, coffee"),
	AB_E_TEXT(ab_recipe, notes, ab_note, "note", NULL, true, "free text"),
	AB_E_END
};

/* Hot-side things are few: they are told only so far as faults on the cold side are mistaken for theirs. */
const struct ab_attr_spec ab_attrs_mash[] = {
	AB_A_Q(ab_mash, "temp", temp_c, AB_DIM_TEMP, 30, 90),
	AB_A_Q(ab_mash, "time", time_s, AB_DIM_TIME, 0, 2 * DAY),
	AB_A_WORD(ab_mash, "crush", crush, ab_words_crush),
	AB_A_Q(ab_mash, "sparge-temp", sparge_c, AB_DIM_TEMP, 0, 105),
	AB_A_Q(ab_mash, "last-runnings", last_runnings_sg, AB_DIM_GRAVITY, 0.99, 1.25),
	AB_A_Q(ab_mash, "runnings-ph", runnings_ph, AB_DIM_PH, 3, 9),
	AB_A_Q(ab_mash, "cooled-below", lowest_c, AB_DIM_TEMP, 0, 90),
	AB_A_YESNO(ab_mash, "steeped-hot", grain_boiled),
	AB_A_END
};
/* Chlorine and chloramine are apart, since what removes the one (standing, boiling) may leave the other. */
const struct ab_attr_spec ab_attrs_water[] = {
	AB_A_WORD(ab_water, "source", source, ab_words_water),
	AB_A_WORD(ab_water, "treatment", treatment, ab_words_treatment),
	AB_A_YESNO(ab_water, "chloramine", chloramine),
	AB_A_YESNO(ab_water, "smells-of-chlorine", smells),
	AB_A_Q(ab_water, "top-up", topup_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_YESNO(ab_water, "top-up-boiled", topup_boiled),
	AB_A_YESNO(ab_water, "top-up-treated", topup_treated),
	AB_A_WORD(ab_water, "salts", salts, ab_words_salts),
	AB_A_Q(ab_water, "sulphate", sulphate_mgl, AB_DIM_CONC, MGL),
	AB_A_Q(ab_water, "chloride", chloride_mgl, AB_DIM_CONC, MGL),
	AB_A_Q(ab_water, "sodium", sodium_mgl, AB_DIM_CONC, MGL),
	/* Iron is tasted at a few tenths of a mg/L (from memory); hundreds would be a wrong unit. */
	AB_A_Q(ab_water, "iron", iron_mgl, AB_DIM_CONC, 0, 100),
	AB_A_Q(ab_water, "alkalinity", alkalinity_mgl, AB_DIM_CONC, MGL),
	AB_A_TEXT(ab_water, "supplier", supplier),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_boil[] = {
	AB_A_Q(ab_boil, "time", time_s, AB_DIM_TIME, 0, 2 * DAY),
	AB_A_WORD(ab_boil, "vigour", vigour, ab_words_vigour),
	AB_A_WORD(ab_boil, "lid", lid, ab_words_lid),
	/* A share of the volume an hour. */
	AB_A_Q(ab_boil, "off", off_share, AB_DIM_SHARE, 0, 0.9),
	AB_A_YESNO(ab_boil, "scorched", scorched),
	AB_A_END
};
/* Told apart from the boil since hops give aroma here and wort is hot and often uncovered. */
const struct ab_attr_spec ab_attrs_stand[] = {
	AB_A_Q(ab_stand, "time", time_s, AB_DIM_TIME, 0, 2 * DAY),
	AB_A_Q(ab_stand, "temp", temp_c, AB_DIM_TEMP, 20, 110),
	AB_A_WORD(ab_stand, "lid", lid, ab_words_lid),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_chill[] = {
	AB_A_WORD(ab_chill, "method", method, ab_words_chill),
	AB_A_Q(ab_chill, "above-80", above80_s, AB_DIM_TIME, 0, 2 * DAY),
	/* Long, for wort may be kept in a closed vessel for weeks (no-chill). */
	AB_A_Q(ab_chill, "to-pitch", to_pitch_s, AB_DIM_TIME, 0, 100 * DAY),
	AB_A_YESNO(ab_chill, "covered", covered),
	AB_A_WORD(ab_chill, "trub", trub, ab_words_trub),
	AB_A_Q(ab_chill, "end-temp", end_c, AB_DIM_TEMP, WORT_C),
	AB_A_END
};
/* Every way a pitch can be counted: grams of dry yeast, packs, millilitres of slurry, cells. Which is worth
 * what is reckoned later. */
const struct ab_attr_spec ab_attrs_yeast[] = {
	/* An id and not a word of a list: classes of yeast are rules and can be added by the brewer. */
	AB_A_ID(ab_yeast, "class", klass),
	AB_A_TEXT(ab_yeast, "strain", strain),
	AB_A_WORD(ab_yeast, "form", form, ab_words_yeast_form),
	AB_A_Q(ab_yeast, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_Q(ab_yeast, "volume", volume_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_N(ab_yeast, "packs", packs, 0, 1000),
	AB_A_Q(ab_yeast, "cells", cells_g, AB_DIM_CELLS, 0, 1e6),
	AB_A_Q(ab_yeast, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_DATE(ab_yeast, "best-before", best_before),
	AB_A_WORD(ab_yeast, "kept", kept, ab_words_keep),
	AB_A_YESNO(ab_yeast, "made-starter", made_starter),
	AB_A_Q(ab_yeast, "starter", starter_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_YESNO(ab_yeast, "stirred", stirred),
	AB_A_N(ab_yeast, "generation", generation, 0, 1000),
	AB_A_YESNO(ab_yeast, "last-spoilt", last_spoilt),
	AB_A_YESNO(ab_yeast, "rehydrated", rehydrated),
	AB_A_YESNO(ab_yeast, "nutrient", nutrient),
	AB_A_WORD(ab_yeast, "judged", judged, ab_words_enough),
	AB_A_TEXT(ab_yeast, "lot", lot),
	AB_A_TEXT(ab_yeast, "supplier", supplier),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_pitch[] = {
	AB_A_WHEN(ab_pitch, "at", at),
	AB_A_Q(ab_pitch, "temp", temp_c, AB_DIM_TEMP, WORT_C),
	AB_A_YESNO(ab_pitch, "clean", clean),
	AB_A_END
};
const struct ab_attr_spec ab_attrs_aerate[] = {
	AB_A_WORD(ab_aerate, "method", method, ab_words_aerate),
	AB_A_Q(ab_aerate, "time", time_s, AB_DIM_TIME, 0, 10 * DAY),
	AB_A_END
};
