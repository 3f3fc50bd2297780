/* tables.c - the attribute and element tables of the batch journal
 *
 * Bounds are in the unit the dimension is kept in. They are estimates, generous: they catch a wrong unit or a
 * lost decimal point ("200 C", "10.48 SG"), never an unusual brewer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/tables.h"

#include <afterboil/journal.h>
#include <afterboil/quantity.h>

enum { HOUR = 3600, DAY = 24 * HOUR, YEAR = 365 * DAY + DAY / 4 };

/* Largest values, by what is measured. */
#define MOST_L 2000.0           /* a shared pilot kit holds hundreds */
#define MOST_G 500e3
#define BEER_C -10.0, 60.0      /* a beer: frozen hard to a car in the sun */
#define ROOM_C -40.0, 60.0
#define WORT_C -5.0, 110.0
#define SG 0.97, 1.25           /* dry mead-like to the thickest wort */
#define AGE 0.0, 50.0 * YEAR
#define SPAN 0.0, 10.0 * YEAR
#define SHARE 0.0, 1.0
#define KPA 0.0, 1500.0
#define MGL 0.0, 5000.0

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
static const struct ab_attr_spec recipe[] = {
	AB_A_Q(ab_recipe, "volume", volume_l, AB_DIM_VOLUME, 0.1, MOST_L),
	AB_A_Q(ab_recipe, "og", og_sg, AB_DIM_GRAVITY, 1.0, 1.25),
	AB_A_Q(ab_recipe, "fg", fg_sg, AB_DIM_GRAVITY, SG),
	AB_A_Q(ab_recipe, "co2", co2_vol, AB_DIM_CO2, 0, 8),
	AB_A_Q(ab_recipe, "bitterness", bitterness_ibu, AB_DIM_BITTERNESS, 0, 500),
	AB_A_END
};
static const struct ab_elem_spec recipe_children[] = {
	AB_E_MANY(ab_recipe, malts, ab_malt, "malt", malt, "a malt or unmalted grain"),
	AB_E_MANY(ab_recipe, sugars, ab_sugar, "sugar", sugar, "a sugar in the wort"),
	AB_E_MANY(ab_recipe, extracts, ab_extract, "extract", extract, "a malt extract and its age"),
	AB_E_MANY(ab_recipe, hops, ab_hop, "hop", hop, "a hop addition on the hot side"),
	AB_E_MANY(ab_recipe, extras, ab_extra, "extra", extra, "fruit, spice, oak, coffee"),
	AB_E_TEXT(ab_recipe, notes, ab_note, "note", NULL, true, "free text"),
	AB_E_END
};

/* Hot-side things are few: they are told only so far as faults on the cold side are mistaken for theirs. */
static const struct ab_attr_spec mash[] = {
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
static const struct ab_attr_spec water[] = {
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
static const struct ab_attr_spec boil[] = {
	AB_A_Q(ab_boil, "time", time_s, AB_DIM_TIME, 0, 2 * DAY),
	AB_A_WORD(ab_boil, "vigour", vigour, ab_words_vigour),
	AB_A_WORD(ab_boil, "lid", lid, ab_words_lid),
	/* A share of the volume an hour. */
	AB_A_Q(ab_boil, "off", off_share, AB_DIM_SHARE, 0, 0.9),
	AB_A_YESNO(ab_boil, "scorched", scorched),
	AB_A_END
};
/* Told apart from the boil since hops give aroma here and wort is hot and often uncovered. */
static const struct ab_attr_spec stand[] = {
	AB_A_Q(ab_stand, "time", time_s, AB_DIM_TIME, 0, 2 * DAY),
	AB_A_Q(ab_stand, "temp", temp_c, AB_DIM_TEMP, 20, 110),
	AB_A_WORD(ab_stand, "lid", lid, ab_words_lid),
	AB_A_END
};
static const struct ab_attr_spec chill[] = {
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
static const struct ab_attr_spec yeast[] = {
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
	AB_A_YESNO(ab_yeast, "rehydrated", rehydrated),
	AB_A_YESNO(ab_yeast, "nutrient", nutrient),
	AB_A_WORD(ab_yeast, "judged", judged, ab_words_enough),
	AB_A_TEXT(ab_yeast, "lot", lot),
	AB_A_TEXT(ab_yeast, "supplier", supplier),
	AB_A_END
};
static const struct ab_attr_spec pitch[] = {
	AB_A_WHEN(ab_pitch, "at", at),
	AB_A_Q(ab_pitch, "temp", temp_c, AB_DIM_TEMP, WORT_C),
	AB_A_YESNO(ab_pitch, "clean", clean),
	AB_A_END
};
static const struct ab_attr_spec aerate[] = {
	AB_A_WORD(ab_aerate, "method", method, ab_words_aerate),
	AB_A_Q(ab_aerate, "time", time_s, AB_DIM_TIME, 0, 10 * DAY),
	AB_A_END
};
/* volume is what it can hold, not what is in it: headspace is told apart, for the air above is what
 * matters. */
static const struct ab_attr_spec vessel[] = {
	AB_A_ID(ab_vessel, "id", id),
	AB_A_WORD(ab_vessel, "kind", kind, ab_words_vessel),
	AB_A_Q(ab_vessel, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_Q(ab_vessel, "volume", volume_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_Q(ab_vessel, "headspace", headspace_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_WORD(ab_vessel, "control", control, ab_words_control),
	AB_A_Q(ab_vessel, "target", target_c, AB_DIM_TEMP, BEER_C),
	AB_A_WORD(ab_vessel, "light", light, ab_words_light),
	AB_A_YESNO(ab_vessel, "sealed", sealed),
	AB_A_YESNO(ab_vessel, "scratched", scratched),
	AB_A_YESNO(ab_vessel, "second", second),
	AB_A_WHEN(ab_vessel, "from", from),
	AB_A_WHEN(ab_vessel, "until", until),
	AB_A_Q(ab_vessel, "room", room_c, AB_DIM_TEMP, ROOM_C),
	/* Of the vessel's whole past, not of this batch: wild cultures survive in scratches. */
	AB_A_YESNO(ab_vessel, "held-sour", held_sour),
	AB_A_YESNO(ab_vessel, "last-spoilt", last_spoilt),
	AB_A_YESNO(ab_vessel, "flies", flies),
	AB_A_YESNO(ab_vessel, "rated", rated),
	AB_A_Q(ab_vessel, "rated-pressure", rated_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_TEXT(ab_vessel, "place", place),
	AB_A_END
};
/* wort and room are two attributes since fermenting beer is warmer than its room by degrees; a reading that
 * does not say which would be worth little. */
static const struct ab_attr_spec reading[] = {
	AB_A_WHEN(ab_reading, "at", at),
	AB_A_Q(ab_reading, "wort", wort_c, AB_DIM_TEMP, WORT_C),
	AB_A_Q(ab_reading, "room", room_c, AB_DIM_TEMP, ROOM_C),
	AB_A_Q(ab_reading, "gravity", gravity_sg, AB_DIM_GRAVITY, SG),
	AB_A_WORD(ab_reading, "instrument", instrument, ab_words_instrument),
	AB_A_Q(ab_reading, "sample", sample_c, AB_DIM_TEMP, WORT_C),
	/* Without it a correction already made would be made twice. */
	AB_A_YESNO(ab_reading, "corrected", corrected),
	AB_A_YESNO(ab_reading, "mixed", mixed),
	AB_A_Q(ab_reading, "ph", ph, AB_DIM_PH, 2, 9),
	AB_A_END
};
static const struct ab_attr_spec log_attrs[] = {
	AB_ROW(ab_log, "file", AB_ATTR_TEXT, file, 0, NULL, 0, 0, true),
	/* Zones reach from -12 h to +14 h. */
	AB_A_Q(ab_log, "utc-offset", utc_offset_s, AB_DIM_TIME, -15 * HOUR, 15 * HOUR),
	AB_A_END
};
static const struct ab_attr_spec lag[] = {
	AB_A_Q(ab_lag, "first-signs", first_s, AB_DIM_TIME, 0, 60 * DAY),
	AB_A_YESNO(ab_lag, "restarted", restarted),
	AB_A_YESNO(ab_lag, "stalled", stalled),
	AB_A_YESNO(ab_lag, "roused", roused),
	AB_A_END
};
static const struct ab_attr_spec rest[] = {
	AB_A_WHEN(ab_rest, "at", at),
	AB_A_Q(ab_rest, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_Q(ab_rest, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_END
};
/* Cooling shrinks the gas over the beer, so what the airlock could let in is asked here and not of the
 * vessel. */
static const struct ab_attr_spec crash[] = {
	AB_A_WHEN(ab_crash, "at", at),
	AB_A_Q(ab_crash, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_Q(ab_crash, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_crash, "airlock", airlock, ab_words_airlock),
	AB_A_YESNO(ab_crash, "sucked-back", sucked),
	AB_A_END
};
static const struct ab_attr_spec fining[] = {
	AB_A_WHEN(ab_fining, "at", at),
	AB_A_TEXT(ab_fining, "name", name),
	AB_A_END
};
/* Gauge pressure, as the valve is set. */
static const struct ab_attr_spec spund[] = {
	AB_A_WHEN(ab_spund, "at", at),
	AB_A_Q(ab_spund, "pressure", pressure_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_WHEN(ab_spund, "until", until),
	AB_A_END
};
/* How they went in matters as much as how many: an opened lid is a dose of oxygen. */
static const struct ab_attr_spec dryhop[] = {
	AB_A_WHEN(ab_dryhop, "at", at),
	AB_A_TEXT(ab_dryhop, "name", name),
	AB_A_Q(ab_dryhop, "amount", amount_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_WORD(ab_dryhop, "opened", opened, ab_words_hop_open),
	AB_A_Q(ab_dryhop, "contact", contact_s, AB_DIM_TIME, SPAN),
	AB_A_YESNO(ab_dryhop, "loose", loose),
	AB_A_END
};
/* Each transfer is a chance to take up oxygen and germs, so each has its own row and none is summed up. */
static const struct ab_attr_spec transfer[] = {
	AB_A_WHEN(ab_transfer, "at", at),
	AB_A_ID(ab_transfer, "to", to),
	AB_A_WORD(ab_transfer, "how", how, ab_words_transfer),
	AB_A_WORD(ab_transfer, "target", target, ab_words_target),
	AB_A_YESNO(ab_transfer, "splashed", splashed),
	AB_A_YESNO(ab_transfer, "by-mouth", by_mouth),
	AB_A_Q(ab_transfer, "hose-age", hose_age_s, AB_DIM_TIME, AGE),
	AB_A_END
};
static const struct ab_attr_spec opened[] = {
	AB_A_WHEN(ab_opened, "at", at),
	AB_A_Q(ab_opened, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_END
};
/* Dose in three ways, for labels speak in three: mL/L, ppm, and "as the label says". */
static const struct ab_attr_spec gear[] = {
	AB_A_NEED_WORD(ab_gear, "item", item, ab_words_gear),
	AB_A_ID(ab_gear, "id", id),
	AB_A_Q(ab_gear, "age", age_s, AB_DIM_TIME, AGE),
	AB_A_WORD(ab_gear, "cleaned", cleaned, ab_words_agent),
	AB_A_YESNO(ab_gear, "dismantled", dismantled),
	AB_A_YESNO(ab_gear, "soil", soil),
	AB_A_WORD(ab_gear, "sanitiser", sanitiser, ab_words_sanitiser),
	AB_A_Q(ab_gear, "dose", dose_mll, AB_DIM_DOSE, 0, 1000),
	AB_A_Q(ab_gear, "dose-ppm", dose_mgl, AB_DIM_CONC, 0, 1e6),
	/* Up to a hundredfold: overdosing by eye happens. */
	AB_A_Q(ab_gear, "label-share", label_share, AB_DIM_SHARE, 0, 100),
	AB_A_Q(ab_gear, "contact", contact_s, AB_DIM_TIME, SPAN),
	AB_A_Q(ab_gear, "heat", heat_c, AB_DIM_TEMP, 0, 200),
	AB_A_Q(ab_gear, "mixed-age", mixed_age_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_gear, "rinse", rinse, ab_words_rinse),
	AB_A_TEXT(ab_gear, "material", material),
	AB_A_YESNO(ab_gear, "shared-sour", shared_sour),
	AB_A_YESNO(ab_gear, "smells", smells),
	AB_A_YESNO(ab_gear, "rusty", rusty),
	AB_A_YESNO(ab_gear, "scratched", scratched),
	AB_A_END
};
/* Bottles and kegs in one element, since a batch is packaged once; what does not apply stays unknown. */
static const struct ab_attr_spec package[] = {
	AB_A_WHEN(ab_package, "at", at),
	AB_A_ID(ab_package, "id", id),
	AB_A_WORD(ab_package, "into", into, ab_words_package),
	AB_A_WORD(ab_package, "bottle", bottle, ab_words_bottle),
	AB_A_WORD(ab_package, "colour", colour, ab_words_colour),
	AB_A_Q(ab_package, "neck", neck_mm, AB_DIM_LENGTH, 0, 500),
	AB_A_WORD(ab_package, "cap", cap, ab_words_cap),
	AB_A_YESNO(ab_package, "cap-on-foam", cap_on_foam),
	AB_A_YESNO(ab_package, "wand", wand),
	/* The sugar of the whole volume, as it is weighed; per bottle it follows. */
	AB_A_Q(ab_package, "priming", priming_g, AB_DIM_MASS, 0, MOST_G),
	AB_A_WORD(ab_package, "sugar", sugar, ab_words_sugar),
	AB_A_WORD(ab_package, "mixing", mixing, ab_words_mixing),
	AB_A_Q(ab_package, "volume", volume_l, AB_DIM_VOLUME, 0.1, MOST_L),
	AB_A_Q(ab_package, "gravity", gravity_sg, AB_DIM_GRAVITY, SG),
	AB_A_N(ab_package, "purges", purges, 0, 1000),
	AB_A_Q(ab_package, "purge-pressure", purge_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_WORD(ab_package, "filled", filled, ab_words_target),
	AB_A_YESNO(ab_package, "fresh-yeast", fresh_yeast),
	AB_A_YESNO(ab_package, "bottles-washed", bottles_washed),
	AB_A_Q(ab_package, "size", size_l, AB_DIM_VOLUME, 0.05, MOST_L),
	AB_A_YESNO(ab_package, "seal-checked", seal_checked),
	AB_A_YESNO(ab_package, "lubricated", lubricated),
	AB_A_WORD(ab_package, "fate", fate, ab_words_fate),
	AB_A_WHEN(ab_package, "fate-at", fate_at),
	AB_A_Q(ab_package, "headspace", headspace_l, AB_DIM_VOLUME, 0, MOST_L),
	AB_A_END
};
/* Gauge pressure, as the regulator shows it; process adds the air's own. */
static const struct ab_attr_spec carbonate[] = {
	AB_A_Q(ab_carbonate, "pressure", pressure_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_Q(ab_carbonate, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_Q(ab_carbonate, "for", for_s, AB_DIM_TIME, SPAN),
	AB_A_WORD(ab_carbonate, "method", method, ab_words_gas),
	AB_A_YESNO(ab_carbonate, "leak-checked", leak_checked),
	AB_A_YESNO(ab_carbonate, "lost-pressure", lost_pressure),
	AB_A_END
};
/* temp is the usual, hottest the worst: ageing goes by the one, bursting by the other. */
static const struct ab_attr_spec store[] = {
	AB_A_WHEN(ab_store, "from", from),
	AB_A_WHEN(ab_store, "until", until),
	AB_A_Q(ab_store, "for", for_s, AB_DIM_TIME, AGE),
	AB_A_Q(ab_store, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	/* Beyond the range of beer: a car in the sun is the very thing this is for. */
	AB_A_Q(ab_store, "hottest", hottest_c, AB_DIM_TEMP, -10, 80),
	AB_A_WORD(ab_store, "light", light, ab_words_light),
	AB_A_YESNO(ab_store, "upright", upright),
	AB_A_TEXT(ab_store, "place", place),
	AB_A_END
};
/* A tap's faults are not the beer's: line age and cleaning are asked so that they can be told apart. */
static const struct ab_attr_spec serve[] = {
	AB_A_WORD(ab_serve, "from", from, ab_words_pour),
	AB_A_Q(ab_serve, "line-length", line_mm, AB_DIM_LENGTH, 0, 200e3),
	AB_A_Q(ab_serve, "line-bore", bore_mm, AB_DIM_LENGTH, 0.5, 50),
	AB_A_Q(ab_serve, "line-age", line_age_s, AB_DIM_TIME, AGE),
	AB_A_Q(ab_serve, "line-cleaned", line_cleaned_s, AB_DIM_TIME, AGE),
	AB_A_Q(ab_serve, "pressure", pressure_kpa, AB_DIM_PRESSURE, KPA),
	AB_A_Q(ab_serve, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_WORD(ab_serve, "glass", glass, ab_words_glass),
	AB_A_YESNO(ab_serve, "tower-warm", tower_warm),
	AB_A_YESNO(ab_serve, "sediment-poured", sediment_poured),
	AB_A_Q(ab_serve, "idle", idle_s, AB_DIM_TIME, AGE),
	AB_A_YESNO(ab_serve, "faucet-dismantled", faucet_dismantled),
	AB_A_END
};
/* off is what it shows too much; a reading is corrected by taking it off. */
static const struct ab_attr_spec instrument[] = {
	AB_A_NEED_WORD(ab_instrument, "item", item, ab_words_instrument),
	AB_A_YESNO(ab_instrument, "checked", checked),
	AB_A_Q(ab_instrument, "off-temp", off_c, AB_DIM_TEMP_DIFF, -30, 30),
	/* Read as a gravity ("2 points" = 1.002) and turned into a difference by finish.c. */
	AB_A_Q(ab_instrument, "off-gravity", off_sg, AB_DIM_GRAVITY, 0.95, 1.05),
	AB_A_YESNO(ab_instrument, "compensated", compensated),
	AB_A_END
};
static const struct ab_attr_spec change[] = {
	AB_A_ID(ab_change_note, "what", what),
	AB_A_YESNO(ab_change_note, "adopted", adopted),
	AB_A_END
};

/* fault is text and no id: tasters write in their own words, and only the rules know which fault is meant. */
static const struct ab_attr_spec found[] = {
	AB_ROW(ab_found, "fault", AB_ATTR_TEXT, fault, 0, NULL, 0, 0, true),
	AB_A_N(ab_found, "intensity", intensity, 1, 5),
	AB_A_WORD(ab_found, "behaviour", behaviour, ab_words_behaviour),
	AB_A_WORD(ab_found, "extent", extent, ab_words_extent),
	AB_A_TEXT(ab_found, "note", note),
	AB_A_YESNO(ab_found, "at-packaging", at_packaging),
	AB_A_YESNO(ab_found, "feared", feared),
	AB_A_END
};
/* No intensity: absent is absent; how sure that is depends on who tasted. */
static const struct ab_attr_spec absent[] = {
	AB_ROW(ab_absent, "fault", AB_ATTR_TEXT, fault, 0, NULL, 0, 0, true),
	AB_A_END
};
/* complete decides whether silence is evidence, so it must be said and is never assumed. */
static const struct ab_attr_spec tasting[] = {
	AB_A_WHEN(ab_tasting, "at", at),
	AB_A_TEXT(ab_tasting, "by", by),
	AB_A_YESNO(ab_tasting, "blind", blind),
	AB_A_WORD(ab_tasting, "from", from, ab_words_place),
	AB_A_Q(ab_tasting, "temp", temp_c, AB_DIM_TEMP, BEER_C),
	AB_A_YESNO(ab_tasting, "complete", complete),
	AB_A_N(ab_tasting, "score", score, 0, 1000),
	AB_A_N(ab_tasting, "score-of", score_of, 1, 1000),
	AB_A_N(ab_tasting, "panel", panel, 1, 1000),
	AB_A_YESNO(ab_tasting, "every-batch", every_batch),
	AB_A_YESNO(ab_tasting, "first-time", first_time),
	AB_A_TEXT(ab_tasting, "mark", mark_on),
	AB_A_END
};
static const struct ab_elem_spec tasting_children[] = {
	AB_E_MANY(ab_tasting, found, ab_found, "found", found, "a fault that was noticed"),
	AB_E_MANY(ab_tasting, absent, ab_absent, "absent", absent, "a fault looked for and not there"),
	AB_E_TEXT(ab_tasting, notes, ab_note, "note", NULL, true, "free text"),
	AB_E_TEXT(ab_tasting, next_note, ab_note, "next-time", NULL, false,
	    "what to do differently next time"), AB_E_END
};
/* result is needed: a check that was done and has no answer says nothing. */
static const struct ab_attr_spec test[] = {
	AB_A_NEED_ID(ab_test, "kind", kind),
	AB_ROW(ab_test, "result", AB_ATTR_YESNO, result, 0, NULL, 0, 0, true),
	AB_A_WHEN(ab_test, "at", at),
	AB_A_Q(ab_test, "gravity", gravity_sg, AB_DIM_GRAVITY, SG),
	AB_A_END
};
/* What can be seen without any instrument, each a question of yes or no. */
static const struct ab_attr_spec looks[] = {
	AB_A_WHEN(ab_looks, "at", at),
	AB_A_YESNO(ab_looks, "airlock-still", airlock_still),
	AB_A_YESNO(ab_looks, "krausen-fell", krausen_fell),
	AB_A_YESNO(ab_looks, "sediment", sediment),
	AB_A_YESNO(ab_looks, "neck-ring", neck_ring),
	AB_A_YESNO(ab_looks, "film", film),
	AB_A_WORD(ab_looks, "surface", surface, ab_words_surface),
	AB_A_YESNO(ab_looks, "smell-nearby", smell_nearby),
	AB_A_END
};

/* In the order of a brew. ONE means that a second is refused, MANY that each stands for itself. */
const struct ab_elem_spec ab_batch_children[] = {
	AB_E_HOLDS(ab_batch, recipe, ab_recipe, "recipe", recipe, recipe_children, false, "what was planned"),
	AB_E_ONE(ab_batch, mash, ab_mash, "mash", mash, "the mash and the sparge"),
	AB_E_ONE(ab_batch, water, ab_water, "water", water, "brewing water and its treatment"),
	AB_E_ONE(ab_batch, boil, ab_boil, "boil", boil, "the boil"),
	AB_E_ONE(ab_batch, stand, ab_stand, "stand", stand, "a hot stand or whirlpool"),
	AB_E_ONE(ab_batch, chill, ab_chill, "chill", chill, "how the wort was chilled"),
	AB_E_MANY(ab_batch, yeasts, ab_yeast, "yeast", yeast, "a yeast that was pitched"),
	AB_E_ONE(ab_batch, pitch, ab_pitch, "pitch", pitch, "pitching: the origin of relative times"),
	AB_E_MANY(ab_batch, aerations, ab_aerate, "aerate", aerate, "how air or oxygen got into the wort"),
	AB_E_MANY(ab_batch, vessels, ab_vessel, "vessel", vessel, "a vessel the beer sat in"),
	AB_E_MANY(ab_batch, readings, ab_reading, "reading", reading,
	    "a temperature, gravity or pH that was read"),
	AB_E_MANY(ab_batch, logs, ab_log, "log", log_attrs, "a sensor log under the journal's folder"),
	AB_E_ONE(ab_batch, lag, ab_lag, "lag", lag, "the first signs of fermentation"),
	AB_E_MANY(ab_batch, rests, ab_rest, "rest", rest, "a warm rest"),
	AB_E_MANY(ab_batch, crashes, ab_crash, "crash", crash, "a cold crash"),
	AB_E_MANY(ab_batch, finings, ab_fining, "fining", fining, "finings"),
	AB_E_MANY(ab_batch, spunds, ab_spund, "spund", spund, "pressure over fermenting beer"),
	AB_E_MANY(ab_batch, dryhops, ab_dryhop, "dry-hop", dryhop, "a dry hopping"),
	AB_E_MANY(ab_batch, transfers, ab_transfer, "transfer", transfer, "a transfer to another vessel"),
	AB_E_MANY(ab_batch, openings, ab_opened, "opened", opened, "a time the vessel stood open"),
	AB_E_MANY(ab_batch, gear, ab_gear, "gear", gear, "a piece of kit, how it was cleaned and sanitised"),
	AB_E_ONE(ab_batch, package, ab_package, "package", package, "packaging"),
	AB_E_ONE(ab_batch, carbonate, ab_carbonate, "carbonate", carbonate, "a keg under gas"),
	AB_E_MANY(ab_batch, stores, ab_store, "store", store, "a place and time of storage"),
	AB_E_ONE(ab_batch, serve, ab_serve, "serve", serve, "how it is served"),
	AB_E_MANY(ab_batch, instruments, ab_instrument, "instrument", instrument,
	    "an instrument, checked or not"),
	AB_E_TEXT(ab_batch, changes, ab_change_note, "change", change, true,
	    "something done differently this time"),
	AB_E_HOLDS(ab_batch, tastings, ab_tasting, "tasting", tasting, tasting_children, true, "a tasting"),
	AB_E_MANY(ab_batch, tests, ab_test, "test", test, "a check that was done"),
	AB_E_MANY(ab_batch, looks, ab_looks, "looks", looks, "plain sights"),
	AB_E_TEXT(ab_batch, notes, ab_note, "note", NULL, true, "free text"),
	AB_E_END
};

static const struct ab_attr_spec batch[] = {
	AB_A_NEED_ID(ab_batch, "id", id),
	AB_ROW(ab_batch, "brewed", AB_ATTR_DATE, brewed, 0, NULL, 0, 0, true),
	AB_A_TEXT(ab_batch, "line", line),
	AB_A_TEXT(ab_batch, "title", title),
	AB_A_TEXT(ab_batch, "brewer", brewer),
	AB_A_WORD(ab_batch, "family", family, ab_words_family),
	AB_A_TEXT(ab_batch, "wort", wort),
	AB_A_END
};
static const struct ab_elem_spec root = {
	"batch", sizeof(struct ab_batch), 0, false, true, batch, ab_batch_children, false, false,
	0, "one brew"
};

/* 100000 elements a batch: far more than a year of readings every ten minutes would be, and little memory. */
const struct ab_record_doc ab_journal_doc = { AB_JOURNAL_NS, &root, "batches", 0, 100000 };
