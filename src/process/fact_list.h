/* fact_list.h - the list of facts: one line each, the only place where they are named
 *
 * AB_FACT_LIST(N, F, W): N(enum, name, unit, lo, hi, title, asks, minutes) a number; F(enum, name, title,
 * asks, minutes) a flag;
 * W(enum, name, words, title, asks, minutes) a word. LASTS behind the minutes: it can still be found out of a batch
 * that is long in the glass, since it is kit or a habit that stays, stands in a recipe or on an order, or a bottle that
 * is left shows it (estimate, judged one by one); not what was so on the day and nobody wrote down. To add a fact: one
 * line here, its computation in the file of its phenomenon, a row in tests/unit/check_<phenomenon>.c, an example that
 * shows it.
 *
 * A fact no rule looks at says in a comment what it is for; tests/unit/check_fact_uses.c holds the list to
 * that.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_FACT_LIST_H
#define AB_PROCESS_FACT_LIST_H

#define AB_FACT_LIST(N, F, W) \
	/* recipe and hot side */ \
	W(RECIPE_FAMILY, "recipe.family", ab_words_family, "style family", "What kind of beer is it?", 0) \
	/* for <only-for> and <not-for> of changes that suit large or small batches */ \
	N(RECIPE_VOLUME, "recipe.volume", "L", 0.1, 2000, "size of the batch", "How much beer was it?", 0) \
	N(RECIPE_PILSNER_SHARE, "recipe.pilsner-share", "share", 0, 1, "share of Pilsner malt", \
	    "How much of the malt was Pilsner malt?", 0) \
	N(RECIPE_SUGAR_SHARE, "recipe.sugar-share", "share", 0, 1, "share of simple sugar", \
	    "How much of the fermentables was sugar or honey?", 0) \
	N(RECIPE_EXTRACT_SHARE, "recipe.extract-share", "share", 0, 1, "share of malt extract", NULL, 0) \
	N(RECIPE_EXTRACT_AGE, "recipe.extract-age", "d", 0, 3000, "age of the liquid extract", \
	    "How old was the malt extract?", 1) \
	N(RECIPE_ROASTED_SHARE, "recipe.roasted-share", "share", 0, 1, "share of roasted malt", NULL, 0) \
	N(RECIPE_SMOKED_SHARE, "recipe.smoked-share", "share", 0, 1, "share of smoked malt", NULL, 0) \
	F(RECIPE_UNFERMENTABLE, "recipe.unfermentable-sugar", "lactose or maltodextrin used", NULL, 0) \
	/* counts in the evidence: such a beer hides less from its tasters */ \
	F(RECIPE_ONE_MALT_ONE_HOP, "recipe.one-malt-one-hop", "one malt, one hop: hides nothing", NULL, 0) \
	N(RECIPE_BITTERNESS, "recipe.bitterness", "IBU", 0, 200, "planned bitterness", NULL, 0) \
	N(MASH_TEMP, "mash.temp", "C", 40, 80, "mash temperature", "At what temperature did you mash?", 0) \
	N(MASH_LOWEST, "mash.lowest", "C", 10, 80, "lowest temperature the mash fell to", NULL, 0) \
	N(MASH_SPARGE_TEMP, "mash.sparge-temp", "C", 10, 100, "temperature of the sparge water", \
	    "How hot was the sparge water?", 0) \
	N(MASH_LAST_RUNNINGS, "mash.last-runnings", "SG", 0.99, 1.1, \
	    "gravity of the last runnings", NULL, 0) \
	N(MASH_RUNNINGS_PH, "mash.runnings-ph", "pH", 4, 8, "pH of the last runnings", NULL, 0) \
	W(MASH_CRUSH, "mash.crush", ab_words_crush, "crush of the malt", \
	    "How does the crush look: flour, cracked, whole?", 1 LASTS) \
	F(MASH_GRAIN_BOILED, "mash.grain-boiled", "grain was boiled or steeped very hot", \
	    "Was grain boiled or squeezed hot?", 0) \
	N(BOIL_TIME, "boil.time", "min", 0, 300, "length of the boil", "How long did you boil?", 0 LASTS) \
	W(BOIL_VIGOUR, "boil.vigour", ab_words_vigour, "vigour of the boil", \
	    "Did the boil roll, simmer or barely move?", 0 LASTS) \
	W(BOIL_LID, "boil.lid", ab_words_lid, "lid during the boil", "Was the lid on during the boil?", 0 LASTS) \
	F(BOIL_SCORCHED, "boil.scorched", "wort or extract scorched", "Was anything burnt on to the kettle floor?", 0) \
	N(HOPS_AGE, "hops.age", "d", 0, 3000, "age of the oldest hops since opening or harvest", \
	    "How old were the hops?", 1 LASTS) \
	W(HOPS_KEPT, "hops.kept", ab_words_hop_keep, "how the hops were kept", "How were the hops kept?", 0 LASTS) \
	/* chill and water */ \
	W(CHILL_METHOD, "chill.method", ab_words_chill, "way of chilling", "How did you chill?", 0 LASTS) \
	N(CHILL_ABOVE_80, "chill.above-80", "min", 0, 1440, \
	    "time above 80 C after the boil, stand included", \
	    "How long did the wort stay near boiling after the heat was off?", 0) \
	N(CHILL_TO_PITCH, "chill.to-pitch", "h", 0, 200, "end of boil to pitching", \
	    "How long from the end of the boil until the yeast went in?", 0) \
	N(CHILL_DMS, "chill.dms-potential", "ug/L", 0, 5000, "DMS formed after the boil and kept", NULL, 0) \
	F(CHILL_COVERED, "chill.covered", "covered while hot", NULL, 0) \
	W(CHILL_TRUB, "chill.trub", ab_words_trub, "kettle trub carried over", NULL, 0) \
	F(WATER_CHLORINE, "water.chlorine-left", "mains water not treated against chlorine", \
	    "Did you treat the tap water against chlorine?", 0 LASTS) \
	F(WATER_SMELLS, "water.smells-of-chlorine", "the tap smells of chlorine", \
	    "Does your tap water smell of a swimming pool?", 1 LASTS) \
	N(WATER_TOPUP, "water.unboiled-share", "share", 0, 1, "share of unboiled top-up water", \
	    "Did you top up with unboiled water?", 0 LASTS) \
	N(WATER_TOPPED, "water.top-up-share", "share", 0, 1, "share of top-up water, boiled or not", NULL, 0) \
	N(WATER_IRON, "water.iron", "mg/L", 0, 50, "iron in the water", NULL, 10) \
	N(WATER_ALKALINITY, "water.alkalinity", "mg/L", 0, 800, "alkalinity of the water, as calcium carbonate", \
	    NULL, 10) \
	N(WATER_SULPHATE, "water.sulphate", "mg/L", 0, 3000, "sulphate in the water", NULL, 10) \
	N(WATER_SODIUM, "water.sodium", "mg/L", 0, 3000, "sodium in the water", NULL, 10) \
	W(WATER_SOURCE, "water.source", ab_words_water, "where the water comes from", \
	    "Where does your water come from?", 0 LASTS) \
	W(WATER_SALTS, "water.salts", ab_words_salts, "brewing salts", \
	    "Did you add salts, and did you weigh them?", 0 LASTS) \
	/* yeast and pitch */ \
	W(YEAST_FORM, "yeast.form", ab_words_yeast_form, "form of the yeast", \
	    "Dry yeast, a liquid pack or slurry?", 0 LASTS) \
	N(YEAST_AGE, "yeast.age", "d", 0, 3000, "age of the yeast", "How old was the yeast?", 1) \
	W(YEAST_KEPT, "yeast.kept", ab_words_keep, "how the yeast was kept", \
	    "Was the yeast kept in the fridge?", 0 LASTS) \
	F(YEAST_STARTER, "yeast.starter", "a starter was made", "Did you make a starter?", 0 LASTS) \
	/* for <not-for> of a change: who pitches two need not be told to */ \
	N(YEAST_PACKS, "yeast.packs", "count", 0, 1000, "packs of yeast pitched", NULL, 0) \
	N(YEAST_GENERATION, "yeast.generation", "count", 0, 60, "times the yeast was re-used", NULL, 0) \
	F(YEAST_LAST_SPOILT, "yeast.last-spoilt", "the batch before with this yeast was spoilt", \
	    "Was the beer that this yeast came from sour or spoilt?", 0) \
	F(YEAST_NUTRIENT, "yeast.nutrient", "nutrient added", NULL, 0) \
	F(YEAST_PHENOLIC, "yeast.phenolic", "the strain makes clove", "Which yeast was it?", 0 LASTS) \
	F(YEAST_DIASTATIC, "yeast.diastatic", "the strain eats starch", NULL, 0) \
	F(YEAST_LAGER, "yeast.lager", "a lager yeast", NULL, 0) \
	F(YEAST_SULPHURY, "yeast.sulphury", "the class is known for sulphur", NULL, 0) \
	F(YEAST_FLOCCULENT, "yeast.flocculent", "the class drops early", NULL, 0) \
	F(YEAST_FRUITY, "yeast.fruity", "the class is known for fruit", NULL, 0) \
	N(PITCH_RATE_SHARE, "pitch.rate-share", "share", 0, 20, "cells pitched, as a share of the norm", \
	    "How much yeast went in?", 1 LASTS) \
	W(PITCH_JUDGED, "pitch.judged", ab_words_enough, "how much yeast it was, by the brewer's own word", \
	    "Was it little yeast for this beer, the usual, or plenty?", 0 LASTS) \
	N(PITCH_TEMP_OVER, "pitch.temp-over", "K", -40, 60, "pitching temperature over the yeast's range", \
	    "How warm was the wort when the yeast went in?", 0) \
	F(PITCH_CLEAN, "pitch.clean", "nothing unsanitised touched the wort at pitching", \
	    "Did anything unsanitised touch the cold wort?", 0) \
	N(PITCH_DOUBLINGS, "pitch.doublings-before-yeast", "count", 0, 500, \
	    "times bacteria of the wort could double before the yeast took over", NULL, 0) \
	W(AERATE_METHOD, "aerate.method", ab_words_aerate, "how the wort was aerated", \
	    "How did you get air into the wort?", 0 LASTS) \
	N(AERATE_TIME, "aerate.time", "min", 0, 600, "time spent aerating", NULL, 0) \
	N(AERATE_OXYGEN, "aerate.oxygen", "mg/L", 0, 60, "oxygen in the wort at pitching", NULL, 0) \
	N(AERATE_SHORT, "aerate.oxygen-short", "mg/L", -60, 30, \
	    "oxygen in the wort below what the yeast wants", NULL, 0) \
	N(LAG_TIME, "lag.time", "h", 0, 300, "pitching to first signs", \
	    "How long until the first signs of life?", 0) \
	N(LAG_OVER, "lag.over", "h", -100, 300, "lag beyond the longest usual", NULL, 0) \
	/* gravity */ \
	N(GRAVITY_OG, "gravity.og", "SG", 0.99, 1.2, "original gravity", \
	    "What was the original gravity?", 3) \
	N(GRAVITY_OG_OVER_PLAN, "gravity.og-over-plan", "points", -100, 100, \
	    "original gravity over plan", NULL, 3) \
	N(GRAVITY_LAST, "gravity.last", "SG", 0.98, 1.2, "last trusted gravity", \
	    "What was the last gravity?", 3) \
	N(GRAVITY_ATTENUATION, "gravity.attenuation", "share", -0.1, 1.1, "apparent attenuation", NULL, 3) \
	N(GRAVITY_OVER_EXPECTED, "gravity.over-expected", "points", -60, 120, \
	    "last gravity over the expected final", NULL, 3) \
	N(GRAVITY_POINTS_LEFT, "gravity.points-left", "points", -60, 120, \
	    "points left to ferment at packaging", NULL, 3) \
	N(GRAVITY_STABLE_DAYS, "gravity.stable-days", "d", 0, 200, \
	    "days the gravity stood still before packaging", \
	    "Did two gravities days apart agree before packaging?", 5) \
	/* for a <practice>: what is read with it is told by gravity.uncorrected-refractometer */ \
	F(INSTRUMENT_REFRACTOMETER, "instrument.refractometer", "a refractometer is there", NULL, 0) \
	N(GRAVITY_READINGS, "gravity.readings", "count", 0, 10000, "gravity readings taken", NULL, 3) \
	N(GRAVITY_DROP_PACKAGED, "gravity.drop-in-package", "points", -20, 60, \
	    "gravity lost after packaging", "Is the gravity in the bottle lower than at bottling?", 10) \
	N(GRAVITY_ABV, "gravity.abv", "%", -1, 25, "alcohol by volume", NULL, 0) \
	/* for the brewer who waits: where it will end, in place of a guess */ \
	N(GRAVITY_CURVE_FINAL, "gravity.curve-final", "SG", 0.98, 1.1, \
	    "final gravity the readings' curve leads to", NULL, 3) \
	/* and when; rules look at gravity.state, which is drawn from the same curve */ \
	N(GRAVITY_CURVE_FINISH, "gravity.curve-finish-day", "d", 0, 300, \
	    "day after pitching on which the curve is within half a point of its end", NULL, 3) \
	N(GRAVITY_CURVE_B, "gravity.curve-b", "1/h", 0, 1, "rate of the gravity curve", NULL, 3) \
	/* the early days end here; no sign: a pitch four times too small moves it by a few hours only, */ \
	/* and warmth by as much */ \
	N(GRAVITY_HALF_TIME, "gravity.half-time", "h", 0, 1000, \
	    "pitching to half attenuation, by the curve", NULL, 3) \
	W(GRAVITY_STATE, "gravity.state", ab_words_gravity_state, \
	    "what the gravity was doing at the last reading", NULL, 3) \
	F(GRAVITY_UNCORRECTED, "gravity.uncorrected-refractometer", \
	    "refractometer reading not corrected for alcohol", \
	    "Was a refractometer used after fermentation began?", 0) \
	F(GRAVITY_UNMIXED, "gravity.unmixed-sample", "sample from wort not mixed", \
	    "Was the wort well mixed before the gravity sample?", 0) \
	F(INSTRUMENT_HYDROMETER, "instrument.hydrometer-checked", "hydrometer checked in water", \
	    "Did you check the hydrometer in plain water, and it was right?", 3 LASTS) \
	F(INSTRUMENT_THERMOMETER, "instrument.thermometer-checked", "thermometer checked in ice water", \
	    "Did you check the thermometer in ice water, and it was right?", 5 LASTS) \
	/* fermentation */ \
	N(FERMENT_EARLY_MEAN, "ferment.early-mean", "C", -5, 60, \
	    "mean beer temperature, first 72 h or to half attenuation", \
	    "How warm was the beer in the first three days?", 0) \
	N(FERMENT_EARLY_OVER, "ferment.early-mean-over", "K", -40, 50, \
	    "early mean over the top of the yeast's range", NULL, 0) \
	N(FERMENT_PEAK_OVER, "ferment.peak-over", "K", -40, 60, \
	    "peak over the top of the yeast's range", NULL, 0) \
	N(FERMENT_BELOW, "ferment.below-range", "K", -50, 40, \
	    "mean of the main fermentation below the yeast's range", NULL, 0) \
	N(FERMENT_SWING, "ferment.swing", "K", 0, 40, "largest swing within a day", \
	    "Did the temperature swing between day and night?", 0) \
	N(FERMENT_DROP, "ferment.largest-drop", "K", 0, 40, \
	    "largest drop within a day before final gravity", NULL, 0) \
	N(FERMENT_HOURS_OUT, "ferment.hours-out", "h", 0, 2000, \
	    "hours beyond what the yeast bears, before final gravity", NULL, 0) \
	N(FERMENT_ROOM, "ferment.room", "C", -10, 50, "room temperature", "How warm is the room?", 0 LASTS) \
	/* what of ferment.early-mean is the beer's own heat: that fact has the sign */ \
	N(FERMENT_HEAT_RISE, "ferment.heat-rise", "K", -5, 40, \
	    "beer over its room at the peak, by its own heat", NULL, 0) \
	/* for the brewer: how fast this vessel follows its room, whatever ferments in it */ \
	N(VESSEL_UA, "vessel.ua", "W/K", 0, 60, "heat the fermenter loses for each kelvin over the room", \
	    NULL, 0) \
	W(FERMENT_CONTROL, "ferment.control", ab_words_control, "temperature control", \
	    "How is the fermenter's temperature held?", 0 LASTS) \
	W(FERMENT_JUDGED, "ferment.judged", ab_words_warmth, \
	    "how warm it stood for its yeast, by the brewer's own word", \
	    "Was it too cold for the yeast, about right, or too warm?", 0) \
	F(FERMENT_SWUNG, "ferment.swung", "the temperature went up and down by degrees, by the brewer's own word", \
	    "Did the temperature go up and down by several degrees?", 0) \
	N(FERMENT_REST_DAYS, "ferment.rest-days", "d", 0, 100, \
	    "days warm enough for a diacetyl rest near the end", \
	    "Did you let it warm up for a few days at the end?", 0 LASTS) \
	N(FERMENT_CLEANUP, "ferment.cleanup-share", "share", 0, 1, \
	    "diacetyl precursor expected gone before the chill or the package", NULL, 0) \
	N(FERMENT_DAYS, "ferment.days", "d", 0, 2000, "pitching to packaging", \
	    "How long from adding the yeast to bottling or kegging?", 0) \
	N(FERMENT_DAYS_SHORT, "ferment.days-short", "d", -2000, 200, \
	    "days short of the usual before packaging", NULL, 0) \
	N(FERMENT_ON_YEAST, "ferment.on-yeast", "d", 0, 3000, "days on the yeast", NULL, 0) \
	F(FERMENT_STALLED, "ferment.stalled", "fermentation stalled", \
	    "Did the fermentation stop early, with the gravity still high?", 0) \
	F(FERMENT_RESTARTED, "ferment.restarted", "fermentation started again", NULL, 0) \
	F(FERMENT_ROUSED, "ferment.roused", "the yeast was stirred up or warmed", NULL, 0) \
	/* for pack.co2-expected */ \
	N(FERMENT_PRESSURE, "ferment.pressure", "kPa", 0, 1500, "pressure held over the beer when it had fermented", \
	    NULL, 0) \
	F(CRASH_DONE, "crash.done", "chilled in the fermenter before packaging", NULL, 0) \
	W(CRASH_AIRLOCK, "crash.airlock", ab_words_airlock, \
	    "what the vessel could draw in during the cold crash", \
	    "What was on the fermenter while it chilled?", 0 LASTS) \
	F(CRASH_SUCKED, "crash.sucked-back", "airlock liquid or air was drawn in", \
	    "Did the airlock empty itself when you chilled?", 0) \
	/* vessel, transfer, hops */ \
	W(VESSEL_KIND, "vessel.kind", ab_words_vessel, "fermenter", "What do you ferment in?", 0 LASTS) \
	N(VESSEL_AGE, "vessel.age", "d", 0, 20000, "age of the fermenter", "How old is the fermenter?", 0 LASTS) \
	F(VESSEL_SCRATCHED, "vessel.scratched", "scratched or smelling inside", \
	    "Is the plastic scratched, or does it smell?", 1 LASTS) \
	F(VESSEL_SEALED, "vessel.sealed", "closed well all the time", "Was the lid tight all the time?", 0) \
	F(VESSEL_FLIES, "vessel.flies", "fruit flies about", NULL, 0) \
	F(VESSEL_HELD_SOUR, "vessel.held-sour", \
	    "vessel or soft parts shared with mixed cultures or diastatic yeast", \
	    "Did this kit ever hold a sour or wild beer?", 0 LASTS) \
	F(VESSEL_LAST_SPOILT, "vessel.last-spoilt", "the batch before in this fermenter was spoilt", \
	    "Was the batch before in this fermenter sour or spoilt?", 0 LASTS) \
	F(VESSEL_SECOND, "vessel.second", "racked to a second vessel", \
	    "Did you move it to a second fermenter before packaging?", 0 LASTS) \
	N(VESSEL_SECOND_AIR, "vessel.second-headspace", "L", 0, 200, \
	    "air over the beer in the second vessel", NULL, 0) \
	N(VESSEL_OPEN, "vessel.open-time", "min", 0, 10000, "time the vessel stood open", \
	    "Did it stand open at any time?", 0) \
	W(VESSEL_LIGHT, "vessel.light", ab_words_light, "light on the fermenter", \
	    "Does light reach the fermenter?", 0 LASTS) \
	F(TRANSFER_SPLASHED, "transfer.splashed", "splashed or bubbled on the way", \
	    "Did it splash or bubble when you moved or bottled it?", 0) \
	W(TRANSFER_TARGET, "transfer.target", ab_words_target, "what was in the vessel it went to", NULL, 0) \
	F(TRANSFER_BY_MOUTH, "transfer.by-mouth", "siphon started by mouth", \
	    "Did you start the siphon by mouth?", 0 LASTS) \
	N(HOPS_DRY_LOAD, "hops.dry-load", "g/L", 0, 60, "dry hops", "How many dry hops?", 0 LASTS) \
	N(HOPS_DRY_CONTACT, "hops.dry-contact", "d", 0, 365, "dry-hop contact", NULL, 0) \
	W(HOPS_DRY_OPENED, "hops.dry-opened", ab_words_hop_open, "how the dry hops went in", \
	    "How did the dry hops go in?", 0 LASTS) \
	F(HOPS_LOOSE, "hops.loose", "dry hops went in loose", "Were the dry hops loose, without a bag?", 0 LASTS) \
	N(HOPS_DRY_TO_PACKAGE, "hops.dry-to-package", "d", 0, 365, "last dry hop to packaging", NULL, 0) \
	N(HOPS_FALL, "hops.fall", "points", -60, 120, "points that the gravity fell after the last dry hop", NULL, 3) \
	N(HOPS_FALL_RESTED, "hops.fall-from-rest", "points", -60, 120, \
	    "fall of a resting gravity after the dry hops", NULL, 3) \
	N(HOPS_CREEP, "hops.creep", "points", 0, 12, \
	    "points that the dry hops' enzymes may still let ferment in the package", NULL, 0) \
	/* hygiene */ \
	N(SANITISE_CONTACT, "sanitise.contact-share", "share", 0, 100, \
	    "shortest contact, as a share of the label's", "How long was the sanitiser in contact?", 0 LASTS) \
	N(SANITISE_DOSE, "sanitise.dose-share", "share", 0, 20, "weakest dose, as a share of the label's", \
	    "How did you dose the sanitiser?", 0 LASTS) \
	N(SANITISE_MIX_AGE, "sanitise.mix-age", "d", 0, 1000, \
	    "age of the mixed sanitiser over what it keeps", NULL, 0) \
	N(SANITISE_HEAT, "sanitise.heat-units", "PU", 0, 1000000, \
	    "least heat dose of what was sanitised by heat, in pasteurisation units", \
	    "How hot was it, and for how long?", 0) \
	F(SANITISE_MISSED, "sanitise.missed", "something that touched cold wort or beer was not sanitised", \
	    "Did anything touch the cooled wort or beer that was not sanitised?", 0) \
	F(SANITISE_RINSED_TAP, "sanitise.rinsed-tap", "rinsed with tap water after sanitising", \
	    "Did you rinse with tap water after sanitising?", 0 LASTS) \
	F(SANITISE_BLEACH, "sanitise.bleach", "bleach used on anything", "Did you use bleach?", 0 LASTS) \
	F(CLEAN_SOIL, "clean.soil-left", "soil or a ring was left", "Was a ring or soil left anywhere?", 1 LASTS) \
	F(CLEAN_DISMANTLED, "clean.dismantled", "taps and wands taken apart", \
	    "Do you take the tap and wand apart to clean them?", 0 LASTS) \
	F(CLEAN_SCENTED, "clean.scented-soap", "scented soap used", NULL, 0) \
	F(CLEAN_ALKALINE, "clean.alkaline", "an alkaline cleaner was used", \
	    "Do you soak the kit in an alkaline cleaner?", 0 LASTS) \
	F(CLEAN_UNRINSED, "clean.unrinsed", "a cleaner was left unrinsed", \
	    "Did you rinse the cleaner off?", 0) \
	N(GEAR_SOFT_AGE, "gear.soft-age", "d", 0, 20000, "age of the oldest hose, tap or seal", \
	    "How old are hoses and taps?", 0 LASTS) \
	F(GEAR_FOOD, "gear.for-food", "all hoses and parts are made for food", \
	    "Is every hose and part that wort or beer touches made for food?", 1 LASTS) \
	F(GEAR_RUSTY, "gear.rusty", "rust or worn plating touches beer", \
	    "Is there rust or worn plating anywhere?", 1 LASTS) \
	F(GEAR_SMELLS, "gear.smells", "a piece of kit smells of what it held", NULL, 0) \
	F(BOTTLES_CLEAN, "bottles.clean", "bottles were cleaned and sanitised", \
	    "Were the bottles cleaned and sanitised?", 0 LASTS) \
	/* packaging */ \
	W(PACK_INTO, "pack.into", ab_words_package, "packaged into", "Is it in bottles or in a keg?", 0 LASTS) \
	N(PACK_PRIMING, "pack.priming-rate", "g/L", 0, 60, "priming sugar, as sucrose", \
	    "How much priming sugar for how much beer?", 0 LASTS) \
	W(PACK_MIXING, "pack.mixing", ab_words_mixing, "how the priming was mixed", \
	    "How was the priming sugar mixed in?", 0 LASTS) \
	/* rules look at pack.co2-over, which is this less what is wanted */ \
	N(PACK_CO2, "pack.co2-expected", "vol", 0, 15, "carbonation expected at the end", NULL, 0) \
	N(PACK_CO2_OVER, "pack.co2-over", "vol", -6, 15, "carbonation expected over what is wanted", NULL, \
	    0) \
	/* and of this at its share of the limit, as the warning does */ \
	N(PACK_PRESSURE, "pack.pressure-worst", "kPa", -100, 3000, \
	    "pressure in bottle, can or keg at the hottest storage", NULL, 0) \
	N(PACK_PRESSURE_SHARE, "pack.pressure-share", "share", -1, 30, \
	    "bottle pressure at the hottest storage over the bottle's limit", NULL, 0) \
	N(PACK_NECK, "pack.neck", "mm", 0, 300, "empty height in the neck", \
	    "How far below the rim were the bottles filled?", 1 LASTS) \
	W(PACK_CAP, "pack.cap", ab_words_cap, "closure", "How are the bottles closed?", 0 LASTS) \
	F(PACK_FOAM, "pack.cap-on-foam", "capped on foam", NULL, 0) \
	F(PACK_WAND, "pack.bottom-filled", "filled from the bottom", \
	    "Did you fill bottles from the bottom?", 0 LASTS) \
	W(PACK_FILLED, "pack.filled", ab_words_target, "what was in the keg before the beer", \
	    "Was the keg purged?", 0 LASTS) \
	N(PACK_PURGES, "pack.purges", "count", 0, 60, "purge cycles", NULL, 0) \
	/* for the minutes of the calendar: mini kegs are filled one by one */ \
	W(PACK_KIND, "pack.kind", ab_words_bottle, "kind of bottle, can or small keg", NULL, 0) \
	W(PACK_COLOUR, "pack.colour", ab_words_colour, "colour of the bottles", \
	    "What colour are the bottles?", 0 LASTS) \
	F(PACK_LEAK, "pack.leaks", "closure or seal leaks, or was never checked and loses gas", \
	    "Do some bottles hiss less than others, or does the keg lose pressure?", 2 LASTS) \
	N(KEG_CO2, "keg.equilibrium-co2", "vol", 0, 8, "carbonation the keg's pressure leads to", \
	    "What are the keg's pressure and temperature?", 1 LASTS) \
	N(KEG_TO_COME, "keg.co2-to-come", "vol", 0, 15, "gas that what ferments in the keg yet will make", NULL, 0) \
	W(KEG_METHOD, "keg.method", ab_words_gas, "way of force-carbonating", NULL, 0) \
	/* for the warning that what it makes of the beer is not reckoned */ \
	W(KEG_GAS, "keg.gas", ab_words_keg_gas, "what the keg's cylinder holds", NULL, 0) \
	/* for the warning of kegs that stand cold */ \
	N(KEG_WARM, "keg.pressure-if-warm", "kPa", -100, 3000, \
	    "gauge pressure in a cold keg with gravity left, if it came to stand warm", NULL, 0) \
	/* oxygen after fermentation, each before the yeast took its share; the total after */ \
	N(OXYGEN_TRANSFER, "oxygen.transfer", "mg/L", 0, 60, "oxygen from moving and filling", NULL, 0) \
	N(OXYGEN_SECOND, "oxygen.second-vessel", "mg/L", 0, 300, \
	    "oxygen from the air over the beer in a second vessel", NULL, 0) \
	/* opened and permeation have no cause of their own: they are items of the total, which rules read */ \
	/* as stale.outlook, by way of stale.dose, and of the drawing of where it came from */ \
	N(OXYGEN_OPENED, "oxygen.opened", "mg/L", 0, 300, "oxygen from an opened lid", NULL, 0) \
	N(OXYGEN_HOPS, "oxygen.dry-hop", "mg/L", 0, 100, "oxygen that came with the dry hops", NULL, 0) \
	N(OXYGEN_CRASH, "oxygen.crash", "mg/L", 0, 100, "oxygen drawn in by the cold crash", NULL, 0) \
	N(OXYGEN_PERMEATION, "oxygen.permeation", "mg/L", 0, 300, \
	    "oxygen through the fermenter's wall and lid", NULL, 0) \
	N(OXYGEN_HEADSPACE, "oxygen.headspace", "mg/L", 0, 300, "oxygen in the neck or the keg's gas", NULL, \
	    0) \
	N(OXYGEN_CLOSURE, "oxygen.closure", "mg/L", 0, 300, "oxygen through cap or seals in storage", NULL, \
	    0) \
	N(OXYGEN_TOTAL, "oxygen.total", "mg/L", 0, 1000, \
	    "oxygen after fermentation, in all, less what yeast took up", NULL, 0) \
	/* storage and serving */ \
	N(STORE_DAYS, "store.days", "d", 0, 5000, "packaging to the last tasting", \
	    "How long ago was it packaged?", 0) \
	N(STORE_EQUIVALENT, "store.equivalent-days", "d", 0, 20000, "storage as days at 20 C", \
	    "How warm was it stored?", 0 LASTS) \
	N(STALE_DOSE, "stale.dose", "mg d/L", 0, 1e6, "oxygen times days at 20 C", NULL, 0) \
	W(STALE_OUTLOOK, "stale.outlook", ab_words_outlook, "how fresh such a beer is by rule of thumb", \
	    NULL, 0) \
	N(STORE_CONDITION_C, "store.conditioning-temp", "C", -5, 50, \
	    "temperature in the first two weeks after packaging", \
	    "How warm were the bottles in the first two weeks?", 0) \
	N(STORE_CONDITION_D, "store.conditioning-days", "d", 0, 2000, \
	    "days warm enough to carbonate", NULL, 0) \
	W(STORE_LIGHT, "store.light", ab_words_light, "light on the stored beer", \
	    "Was it stored in the dark?", 0 LASTS) \
	N(LIGHT_DOSE, "light.dose", "min", 0, 1000000, \
	    "light through the glass, as minutes of full sun in clear glass", NULL, 0) \
	W(SERVE_FROM, "serve.from", ab_words_pour, "served from", \
	    "Did you pour it from a bottle or from a tap?", 0 LASTS) \
	N(SERVE_LINE_CLEANED, "serve.line-cleaned", "d", 0, 3000, "days since the beer line was cleaned", \
	    "When was the beer line last cleaned?", 0 LASTS) \
	N(SERVE_LINE_SHARE, "serve.line-share", "share", 0, 50, \
	    "beer line as a share of the length that balances", \
	    "How long is the beer line, and at what pressure?", 2 LASTS) \
	N(SERVE_GAS_OVER, "serve.gas-over", "vol", -8, 8, \
	    "gas of the keg's beer over what it holds as it is served", \
	    "At what pressure and how cold is the keg served?", 1 LASTS) \
	F(SERVE_TOWER_WARM, "serve.tower-warm", "the tap or its line is warm", NULL, 1) \
	W(SERVE_GLASS, "serve.glass", ab_words_glass, "how the glass was cleaned", \
	    "How do you wash the glass?", 0 LASTS) \
	F(SERVE_SEDIMENT, "serve.sediment-poured", "sediment poured along", \
	    "Was the sediment poured into the glass?", 0) \
	/* what the tasting says about behaviour, and sights */ \
	N(TASTE_AGE, "taste.age", "d", -200, 5000, "days from packaging to the tasting", NULL, 0) \
	N(TASTE_BEER_AGE, "taste.beer-age", "d", 0, 5000, "days from pitching to the tasting", \
	    "How old was the beer when tasted?", 0) \
	N(TASTE_SOUND_DAYS, "taste.sound-days", "d", 0, 5000, \
	    "days in the package after which it was still sound", NULL, 0) \
	F(TASTE_SINCE_HOPS, "taste.since-hops", "it was not there before the dry hops", NULL, 0) \
	F(TASTE_GROWING, "taste.growing", "it grows from tasting to tasting", \
	    "Is it getting stronger with time?", 5 LASTS) \
	F(TASTE_FADING, "taste.fading", "it fades from tasting to tasting", "Is it fading with time?", 5 LASTS) \
	F(TASTE_SOME_BOTTLES, "taste.some-bottles", "only some bottles have it", \
	    "Do all bottles have it?", 10 LASTS) \
	F(TASTE_TAP_ONLY, "taste.tap-only", "only from the tap, not from the keg or a bottle", \
	    "Does it taste the same straight from the keg?", 5 LASTS) \
	W(TASTE_PART, "taste.part", ab_words_part, "the part of the package that has it", NULL, 0) \
	W(TASTE_ONE_PACKAGE, "taste.one-package", ab_words_one_package, \
	    "of beer in bottles and in a keg, which has it", NULL, 0) \
	F(TASTE_EVERY_BATCH, "taste.every-batch", "every batch has it", "Do your other batches have it too?", 0 LASTS) \
	F(TASTE_AT_PACKAGING, "taste.at-packaging", "it was there at packaging", \
	    "Was it there already when you bottled or kegged it?", 0) \
	F(TASTE_UNPACKAGED, "taste.before-packaging-only", \
	    "everything tasted or seen is from before packaging", NULL, 0) \
	F(TASTE_FEARED, "taste.feared-only", "nothing was tasted or measured: a worry only", NULL, 0) \
	/* for the trend: how far verdicts on one beer lie apart (verdicts.h) */ \
	N(TASTE_SCORES, "taste.scores", "count", 0, 1000, "scores given", NULL, 0) \
	N(TASTE_SCORE, "taste.score", "share", 0, 1, "mean score, as a share of the most", NULL, 0) \
	N(TASTE_SCORE_SPREAD, "taste.score-spread", "share", 0, 1, \
	    "how far the scores lie apart (standard deviation)", NULL, 0) \
	F(LOOKS_STILL, "looks.airlock-still", "the airlock is still", NULL, 0) \
	F(LOOKS_FILM, "looks.film", "a film, islands or ropes", "Is there a film or skin on top of the beer?", 1) \
	W(LOOKS_SURFACE, "looks.surface", ab_words_surface, "what floats on the beer", \
	    "What floats on the beer: foam, hop bits, wet islands of yeast, a skin, fur?", 1) \
	F(LOOKS_NECK_RING, "looks.neck-ring", "a ring in the neck", \
	    "Is there a ring inside the bottle necks?", 1 LASTS) \
	F(LOOKS_NEARBY, "looks.smell-nearby", "something near the fermenter smells so", NULL, 0)

#endif
