/* tables.c - what a journal may hold of the packaged beer, and the whole of a batch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/batch_tables.h"

#include <afterboil/journal.h>
#include <afterboil/quantity.h>

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
	AB_A_WORD(ab_carbonate, "gas", gas, ab_words_keg_gas),
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
/* helped is needed: what was tried and led to nothing known says nothing. */
static const struct ab_attr_spec remedy[] = {
	AB_A_ID(ab_remedy, "what", what),
	AB_ROW(ab_remedy, "helped", AB_ATTR_YESNO, helped, 0, NULL, 0, 0, true),
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
	AB_E_HOLDS(ab_batch, recipe, ab_recipe, "recipe", ab_attrs_recipe, ab_recipe_children, false,
	"what was planned"),
	AB_E_ONE(ab_batch, mash, ab_mash, "mash", ab_attrs_mash, "the mash and the sparge"),
	AB_E_ONE(ab_batch, water, ab_water, "water", ab_attrs_water, "brewing water and its treatment"),
	AB_E_ONE(ab_batch, boil, ab_boil, "boil", ab_attrs_boil, "the boil"),
	AB_E_ONE(ab_batch, stand, ab_stand, "stand", ab_attrs_stand, "a hot stand or whirlpool"),
	AB_E_ONE(ab_batch, chill, ab_chill, "chill", ab_attrs_chill, "how the wort was chilled"),
	AB_E_MANY(ab_batch, yeasts, ab_yeast, "yeast", ab_attrs_yeast, "a yeast that was pitched"),
	AB_E_ONE(ab_batch, pitch, ab_pitch, "pitch", ab_attrs_pitch, "pitching: the origin of relative times"),
	AB_E_MANY(ab_batch, aerations, ab_aerate, "aerate", ab_attrs_aerate, "how air or oxygen got into the wort"),
	AB_E_MANY(ab_batch, vessels, ab_vessel, "vessel", ab_attrs_vessel, "a vessel the beer sat in"),
	AB_E_MANY(ab_batch, readings, ab_reading, "reading", ab_attrs_reading,
	    "a temperature, gravity or pH that was read"),
	AB_E_MANY(ab_batch, logs, ab_log, "log", ab_attrs_log, "a sensor log under the journal's folder"),
	AB_E_ONE(ab_batch, lag, ab_lag, "lag", ab_attrs_lag, "the first signs of fermentation"),
	AB_E_MANY(ab_batch, rests, ab_rest, "rest", ab_attrs_rest, "a warm rest"),
	AB_E_MANY(ab_batch, crashes, ab_crash, "crash", ab_attrs_crash, "a cold crash"),
	AB_E_MANY(ab_batch, finings, ab_fining, "fining", ab_attrs_fining, "finings"),
	AB_E_MANY(ab_batch, spunds, ab_spund, "spund", ab_attrs_spund, "pressure over fermenting beer"),
	AB_E_MANY(ab_batch, dryhops, ab_dryhop, "dry-hop", ab_attrs_dryhop, "a dry hopping"),
	AB_E_MANY(ab_batch, transfers, ab_transfer, "transfer", ab_attrs_transfer, "a transfer to another vessel"),
	AB_E_MANY(ab_batch, openings, ab_opened, "opened", ab_attrs_opened, "a time the vessel stood open"),
	AB_E_MANY(ab_batch, gear, ab_gear, "gear", ab_attrs_gear, "a piece of kit, how it was cleaned and sanitised"),
	AB_E_ONE(ab_batch, package, ab_package, "package", package, "packaging"),
	AB_E_ONE(ab_batch, carbonate, ab_carbonate, "carbonate", carbonate, "a keg under gas"),
	AB_E_MANY(ab_batch, stores, ab_store, "store", store, "a place and time of storage"),
	AB_E_ONE(ab_batch, serve, ab_serve, "serve", serve, "how it is served"),
	AB_E_MANY(ab_batch, instruments, ab_instrument, "instrument", instrument,
	    "an instrument, checked or not"),
	AB_E_TEXT(ab_batch, changes, ab_change_note, "change", change, true,
	    "something done differently this time"),
	AB_E_TEXT(ab_batch, remedies, ab_remedy, "tried", remedy, true,
	    "what was tried against a fault, and whether it helped"),
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
const struct ab_record_doc ab_journal_doc = { AB_JOURNAL_NS, &root, "batches", 0, 100000, &ab_by_hand };
