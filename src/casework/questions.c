/* questions.c - the table of what an interview can ask
 *
 * To add a question: rows here, in the order their parts are asked. tests/unit/check_answers.c gives every
 * row's tries as answers and holds that the journal then tells the fact. A fact stands here only if its answer
 * can be written without saying more than was answered: shares of the grist cannot (the rest of it would
 * become known), nor can the rinse after a cleaner (it would pass for one after the sanitiser).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/questions.h"

#include <string.h>

#include <afterboil/journal.h>
#include "process/slots.h"

/* ---- answers to choose from ---- */

#define CHOICES(name, ...) static const struct case_choice name[] = { __VA_ARGS__, { NULL, NULL } }

CHOICES(families, { "pale and hoppy", "pale-hoppy" }, { "pale lager", "pale-lager" },
    { "amber, brown or malty", "amber-malty" }, { "stout or porter", "dark-roast" }, { "wheat beer", "wheat" },
    { "Belgian or farmhouse", "belgian-farmhouse" }, { "sour on purpose", "sour-mixed" },
    { "strong", "strong" }, { "something else", "other" });
CHOICES(yes_no_turned, { "yes", "no" }, { "no", "yes" });
CHOICES(crushes, { "flour, husks torn", "fine" }, { "cracked, husks whole", "normal" },
    { "many whole kernels", "coarse" });
CHOICES(vigours, { "it barely moved", "weak" }, { "it simmered", "simmer" }, { "it rolled", "rolling" });
CHOICES(lids, { "off", "off" }, { "partly on", "partly" }, { "on", "on" });
CHOICES(hops_kept, { "sealed in the freezer", "frozen-sealed" }, { "sealed in the fridge", "fridge-sealed" },
    { "sealed, but warm", "warm-sealed" },
    { "opened, but cold", "opened-cold" }, { "opened and warm", "opened-warm" });
CHOICES(chills, { "ice or cold water bath", "ice-bath" }, { "immersion coil", "coil" },
    { "counterflow chiller", "counterflow" }, { "plate chiller", "plate" },
    { "closed, overnight", "overnight-closed" }, { "open, in the air", "air" },
    { "some other way", "other" });
CHOICES(waters, { "the tap", "tap" }, { "a well", "well" }, { "the tap, through a softener", "softened" },
    { "bottles", "bottled" }, { "reverse osmosis", "reverse-osmosis" }, { "rain", "rain" },
    { "a blend of tap and other", "blend" });
CHOICES(treatments, { "no", "none" }, { "sulphite tablet or powder", "sulphite" },
    { "slow carbon filter", "carbon-filter" }, { "boiled", "boiled" }, { "left to stand", "stood" },
    { "reverse osmosis", "reverse-osmosis" });
CHOICES(top_ups, { "no, or only with boiled water", "yes" }, { "yes, with unboiled water", "no" });
CHOICES(salts, { "no salts", "none" }, { "yes, weighed", "weighed" }, { "yes, by eye", "by-eye" },
    { "yes, nobody knows how", "added" });
CHOICES(yeast_forms, { "dry", "dry" }, { "liquid pack", "liquid" }, { "slurry from a batch", "slurry" },
    { "dregs of a bottle", "dregs" });
CHOICES(yeast_kept, { "yes, in the fridge", "cold" }, { "no, at room warmth", "room" },
    { "somewhere warm", "warm" });
CHOICES(airs, { "not at all", "none" }, { "poured it in", "pour" }, { "shook or stirred it", "shake" },
    { "whisk or drill", "whisk" }, { "air pump", "pump" }, { "pure oxygen", "oxygen" });
CHOICES(controls, { "not at all", "none" }, { "by the room", "room" }, { "tub of water", "water-bath" },
    { "frozen bottles in a tub", "ice-bottles" }, { "wet cloth", "wet-cloth" }, { "fan", "fan" },
    { "heat belt or pad", "heat-belt" }, { "fridge with a thermostat", "fridge" },
    { "fermentation chamber", "chamber" }, { "glycol", "glycol" });
CHOICES(airlocks, { "an airlock with liquid", "airlock" }, { "a blow-off tube", "blow-off" },
    { "sealed shut", "sealed" }, { "a bag or balloon of gas", "gas-bag" }, { "open or loose lid", "open" },
    { "gas pressure from a bottle", "top-pressure" }, { "I did not chill it", NULL });
CHOICES(vessels, { "bucket", "bucket" }, { "plastic carboy", "pet" }, { "glass carboy", "glass" },
    { "steel", "steel" }, { "conical", "conical" }, { "keg", "keg" }, { "something else", "other" });
CHOICES(lights, { "no, it is dark", "dark" }, { "indoor light", "indoor" }, { "daylight from a window", "window" },
    { "direct sun", "sun" });
CHOICES(stores, { "yes, dark", "dark" }, { "no, indoor light", "indoor" }, { "no, near a window", "window" },
    { "no, in the sun", "sun" });
CHOICES(hop_ways, { "through the open lid", "open-lid" }, { "through a small opening", "port" },
    { "with a dropper, closed", "dropper" }, { "purged with gas", "purged" },
    { "while it still fermented", "while-active" }, { "into the keg itself", "in-keg" }, { "no dry hops", NULL });
CHOICES(doses, { "much less than the label", "30 %" }, { "a little less", "70 %" }, { "as the label says", "100 %" },
    { "twice as much or more", "200 %" });
/* "Nothing missed" is said of everything: one piece tells of itself. */
CHOICES(missed, { "no, everything was sanitised", "@+gear{item=everything} sanitiser=other" },
    { "yes: fermenter or lid", "@+gear{item=lid} sanitiser=none" },
    { "yes: hose or siphon", "@+gear{item=siphon} sanitiser=none" },
    { "yes: spoon, sieve or funnel", "@+gear{item=spoon} sanitiser=none" },
    { "yes: tap or bottling wand", "@+gear{item=tap} sanitiser=none" },
    { "yes: bottles or caps", "@+gear{item=caps} sanitiser=none" },
    { "yes: keg", "@+gear{item=keg} sanitiser=none" },
    { "yes: hands", "@+gear{item=hands} sanitiser=none" });
CHOICES(sanitisers, { "no-rinse acid", "acid" }, { "iodine", "iodine" }, { "bleach", "bleach" },
    { "peracetic acid", "peracetic" }, { "chlorine dioxide", "chlorine-dioxide" }, { "alcohol", "alcohol" },
    { "dry heat", "heat" }, { "boiling water", "boiling" }, { "steam", "steam" }, { "sulphite", "sulphite" },
    { "something else", "other" });
CHOICES(rinses, { "yes", "tap" }, { "no, or with boiled water", "none" });
CHOICES(bleaches, { "yes", "@+gear{item=other} sanitiser=bleach" },
    { "no", "@+gear{item=everything} sanitiser=other" });
CHOICES(agents, { "nothing", "none" }, { "water only", "water" }, { "washing-up liquid", "detergent" },
    { "percarbonate or brewery wash", "percarbonate" }, { "caustic", "caustic" },
    { "scented soap", "scented-soap" }, { "bleach", "bleach" });
CHOICES(washed, { "yes, cleaned and sanitised", "yes" }, { "rinsed only, or not", "no" });
CHOICES(packages, { "in bottles", "@package into=bottles&tasting from=bottle" },
    { "in a keg", "@package into=keg&tasting from=tap-keg" },
    { "in a cask", "@package into=cask&tasting from=tap-keg" },
    { "in cans", "@package into=cans&tasting from=other" },
    { "still in the fermenter", "@tasting from=fermenter" });
CHOICES(intos, { "bottles", "bottles" }, { "keg", "keg" }, { "cask", "cask" }, { "cans", "cans" });
CHOICES(mixings, { "stirred in", "stirred" }, { "beer run onto the syrup", "onto-syrup" },
    { "each bottle by itself", "per-bottle" }, { "drops or tablets", "drops" }, { "not mixed", "unmixed" });
CHOICES(caps, { "plain crown caps", "plain" }, { "oxygen-absorbing caps", "oxygen-absorbing" },
    { "swing tops", "swing" }, { "screw caps", "screw" }, { "used twist-offs", "twist-off-reused" },
    { "corks", "cork" });
CHOICES(purges, { "no, air was in it", "air-filled" }, { "yes, purged with gas", "purged" },
    { "filled with liquid first", "liquid-purged" }, { "by gas flowing through", "flow-purged" });
CHOICES(colours, { "brown", "brown" }, { "green", "green" }, { "clear", "clear" }, { "not glass", "opaque" });
CHOICES(glasses, { "rinsed, no soap", "rinsed" }, { "with washing-up liquid", "detergent" },
    { "dishwasher", "dishwasher" }, { "may be greasy", "greasy" });
CHOICES(pours, { "bottle", "bottle" }, { "tap", "tap" }, { "cask", "cask" }, { "can", "can" });
CHOICES(behaviours, { "getting stronger", "growing" }, { "fading", "fading" }, { "staying the same", "steady" });
CHOICES(surfaces, { "nothing", "clear" }, { "foam or scum of the fermentation", "foam" }, { "hop bits", "hop-bits" },
    { "wet islands of yeast", "yeast-islands" }, { "a skin, dry, wrinkled or in big bubbles", "film" },
    { "fur or coloured spots", "mould" });
CHOICES(amounts, { "little", "little" }, { "the usual", "usual" }, { "plenty", "plenty" });
CHOICES(warmths, { "too cold", "cold" }, { "about right", "right" }, { "too warm", "warm" });
CHOICES(extents, { "yes, all", "every-bottle" }, { "no, only some", "some-bottles" });
CHOICES(taps, { "yes, the same", "every-bottle" }, { "no, only from the tap", "tap-only" });

/* ---- the rows ---- */

#define ROW(id, place, ...) { .slot = AB_F_##id, .target = place, __VA_ARGS__ }
#define C_WORDS(list) .choices = (list)
#define TEMP(answers) .metric = "C", .us = "F", .tries = (answers)
#define SPAN(unit, answers) .metric = (unit), .us = (unit), .tries = (answers)
#define YESNO .choices = NULL

#define BATCH_VOLUME(id) ROW(id, "recipe volume", .name = "batch.volume", .asks = "How much beer did the batch make?", \
    .metric = "L", .us = "gal", .tries = "20 L")

const struct case_row case_rows[] = {
	ROW(RECIPE_FAMILY, "batch family", C_WORDS(families)),
	ROW(MASH_TEMP, "mash temp", TEMP("60 C|63 C|66 C|69 C|74 C")),
	ROW(MASH_SPARGE_TEMP, "mash sparge-temp", TEMP("60 C|76 C|90 C")),
	ROW(MASH_CRUSH, "mash crush", C_WORDS(crushes)),
	ROW(MASH_GRAIN_BOILED, "mash steeped-hot", YESNO),
	ROW(BOIL_TIME, "boil time", SPAN("min", "15 min|45 min|60 min|90 min|120 min")),
	ROW(BOIL_VIGOUR, "boil vigour", C_WORDS(vigours)),
	ROW(BOIL_LID, "boil lid", C_WORDS(lids)),
	ROW(BOIL_SCORCHED, "boil scorched", YESNO),
	ROW(HOPS_AGE, "recipe/hop age", SPAN("mo", "1 month|1 year|3 years")),
	ROW(HOPS_KEPT, "recipe/hop kept", C_WORDS(hops_kept)),
	ROW(CHILL_METHOD, "chill method", C_WORDS(chills)),
	ROW(CHILL_ABOVE_80, "chill above-80", SPAN("min", "5 min|20 min|45 min|3 hours")),
	ROW(CHILL_TO_PITCH, "chill to-pitch", SPAN("h", "1 hour|4 hours|12 hours|36 hours|5 days")),
	ROW(WATER_CHLORINE, "water source", .asks = "Where does your water come from?", C_WORDS(waters),
	    .own = AB_F_WATER_SOURCE),
	ROW(WATER_CHLORINE, "water treatment", C_WORDS(treatments)),
	ROW(WATER_SMELLS, "water smells-of-chlorine", YESNO),
	ROW(WATER_TOPUP, "water top-up-boiled", C_WORDS(top_ups)),
	ROW(WATER_SOURCE, "water source", C_WORDS(waters)),
	ROW(WATER_SALTS, "water salts", C_WORDS(salts)),
	ROW(YEAST_FORM, "yeast form", C_WORDS(yeast_forms)),
	ROW(YEAST_AGE, "yeast age", SPAN("mo", "2 weeks|3 months|8 months|2 years")),
	ROW(YEAST_KEPT, "yeast kept", C_WORDS(yeast_kept)),
	ROW(YEAST_STARTER, "yeast made-starter", YESNO),
	ROW(YEAST_LAST_SPOILT, "yeast last-spoilt", YESNO),
	ROW(YEAST_PHENOLIC, "yeast class", .choices = NULL),
	ROW(PITCH_RATE_SHARE, "yeast form", .asks = "Was the yeast dry, a liquid pack or slurry?",
	    C_WORDS(yeast_forms), .own = AB_F_YEAST_FORM),
	ROW(PITCH_RATE_SHARE, "yeast packs", .asks = "How many packs (packets, bottles) of yeast went in?",
	    .when = CASE_NO_SLURRY, .tries = "1|2|3", .least = 0.25, .most = 40, .step = 0.25),
	ROW(PITCH_RATE_SHARE, "yeast volume", .asks = "How much slurry went in?", .when = CASE_SLURRY,
	    .metric = "mL", .us = "cup", .tries = "200 mL|50 mL|1000 mL"),
	BATCH_VOLUME(PITCH_RATE_SHARE),
	ROW(PITCH_RATE_SHARE, "+reading{at=+0h} gravity", .asks = "What was the original gravity?",
	    .own = AB_F_GRAVITY_OG, .metric = "SG", .us = "SG", .tries = "1.050", .least = 1.01, .most = 1.2),
	ROW(PITCH_JUDGED, "yeast judged", C_WORDS(amounts)),
	ROW(PITCH_TEMP_OVER, "pitch temp", TEMP("10 C|18 C|22 C|26 C|32 C")),
	ROW(PITCH_CLEAN, "pitch clean", C_WORDS(yes_no_turned)),
	ROW(AERATE_METHOD, "aerate method", C_WORDS(airs)),
	ROW(LAG_TIME, "lag first-signs", SPAN("h", "4 hours|12 hours|24 hours|48 hours|4 days")),
	ROW(GRAVITY_OG, "+reading{at=+0h} gravity", .metric = "SG", .us = "SG", .tries = "1.050|1.036|1.070",
	    .least = 1.01, .most = 1.2),
	ROW(GRAVITY_LAST, "package gravity", .when = CASE_PACKAGED, .metric = "SG", .us = "SG",
	    .tries = "1.006|1.010|1.014|1.020|1.030"),
	ROW(GRAVITY_LAST, "+reading{at=$today} gravity", .when = CASE_UNPACKAGED, .metric = "SG", .us = "SG",
	    .tries = "1.006|1.010|1.014|1.020|1.030"),
	ROW(GRAVITY_DROP_PACKAGED, "package gravity", .asks = "What was the gravity at bottling?",
	    .when = CASE_DATED, .own = AB_F_GRAVITY_LAST, .metric = "SG", .us = "SG", .tries = "1.012"),
	ROW(GRAVITY_DROP_PACKAGED, "+reading{at=$today} gravity", .asks = "What is it in a bottle now, the gas "
	    "stirred out?", .when = CASE_DATED, .metric = "SG", .us = "SG", .tries = "1.012|1.010|1.006"),
	ROW(GRAVITY_UNMIXED, "+reading{at=+0h} gravity", .asks = "What did you read as original gravity?",
	    .own = AB_F_GRAVITY_OG, .metric = "SG", .us = "SG", .tries = "1.050", .least = 1.01, .most = 1.2),
	ROW(GRAVITY_UNMIXED, "reading{at=+0h} mixed", YESNO),
	ROW(INSTRUMENT_HYDROMETER, "instrument{item=hydrometer} checked", YESNO),
	ROW(INSTRUMENT_THERMOMETER, "instrument{item=thermometer} checked", YESNO),
	ROW(FERMENT_EARLY_MEAN, "+reading{at=+1d 12h} wort", TEMP("10 C|14 C|18 C|20 C|22 C|25 C|29 C")),
	ROW(FERMENT_ROOM, "vessel room", TEMP("8 C|12 C|16 C|19 C|22 C|25 C|29 C")),
	ROW(FERMENT_CONTROL, "vessel control", C_WORDS(controls)),
	ROW(FERMENT_REST_DAYS, "rest for", .asks = "Did you let it warm up at the end, and for how many days?",
	    SPAN("d", "0 days|1 day|2 days|4 days|10 days")),
	ROW(FERMENT_DAYS, "package at", .after_pitch = true, SPAN("d", "4 days|8 days|14 days|28 days|90 days")),
	ROW(FERMENT_STALLED, "lag stalled", YESNO),
	ROW(CRASH_AIRLOCK, "crash airlock", C_WORDS(airlocks)),
	ROW(CRASH_SUCKED, "crash sucked-back", YESNO),
	ROW(VESSEL_KIND, "vessel kind", C_WORDS(vessels)),
	ROW(VESSEL_AGE, "vessel age", SPAN("y", "3 months|2 years|6 years")),
	ROW(VESSEL_SCRATCHED, "vessel scratched", YESNO),
	ROW(VESSEL_SEALED, "vessel sealed", YESNO),
	ROW(VESSEL_HELD_SOUR, "vessel held-sour", YESNO),
	ROW(VESSEL_LAST_SPOILT, "vessel last-spoilt", YESNO),
	ROW(VESSEL_SECOND, "+vessel second", YESNO),
	ROW(VESSEL_OPEN, "opened for", .asks = "How long did the fermenter stand open in all, for looks and "
	    "samples?", SPAN("min", "0 minutes|2 minutes|15 minutes|2 hours|2 days")),
	ROW(FERMENT_JUDGED, "vessel judged", C_WORDS(warmths)),
	ROW(FERMENT_SWUNG, "vessel swings", YESNO),
	ROW(VESSEL_LIGHT, "vessel light", C_WORDS(lights)),
	ROW(TRANSFER_SPLASHED, "transfer splashed", YESNO),
	ROW(TRANSFER_BY_MOUTH, "transfer by-mouth", YESNO),
	ROW(HOPS_DRY_LOAD, "dry-hop amount", .asks = "How many dry hops in all? 0 for none",
	    .metric = "g", .us = "oz", .tries = "0 g|40 g|100 g|250 g"),
	BATCH_VOLUME(HOPS_DRY_LOAD),
	ROW(HOPS_LOOSE, "dry-hop loose", YESNO),
	ROW(HOPS_DRY_OPENED, "dry-hop opened", C_WORDS(hop_ways)),
	ROW(SANITISE_CONTACT, "gear{item=other} sanitiser", .asks = "What did you sanitise with?",
	    C_WORDS(sanitisers)),
	ROW(SANITISE_CONTACT, "gear{item=other} contact", SPAN("min", "2 minutes|10 seconds|1 minute|20 minutes")),
	ROW(SANITISE_DOSE, "gear{item=other} label-share", C_WORDS(doses)),
	ROW(SANITISE_MISSED, "gear{item=everything} sanitiser", C_WORDS(missed)),
	ROW(SANITISE_RINSED_TAP, "gear{item=everything} rinse", C_WORDS(rinses)),
	ROW(SANITISE_BLEACH, "gear{item=everything} sanitiser", C_WORDS(bleaches)),
	ROW(CLEAN_SOIL, "gear{item=everything} soil", YESNO),
	ROW(CLEAN_DISMANTLED, "gear{item=tap} dismantled", YESNO),
	ROW(CLEAN_ALKALINE, "gear{item=everything} cleaned", .asks = "What do you clean fermenter and kit with?",
	    C_WORDS(agents)),
	ROW(GEAR_SOFT_AGE, "gear{item=hose} age", SPAN("y", "2 months|1 year|4 years")),
	ROW(GEAR_FOOD, "gear{item=everything} for-food", YESNO),
	ROW(GEAR_RUSTY, "gear{item=everything} rusty", YESNO),
	ROW(BOTTLES_CLEAN, "package bottles-washed", C_WORDS(washed)),
	ROW(PACK_INTO, "package into", C_WORDS(intos)),
	ROW(PACK_PRIMING, "package priming", .asks = "How much priming sugar went in, in all?",
	    .metric = "g", .us = "oz", .tries = "120 g|40 g|90 g|160 g|250 g"),
	ROW(PACK_PRIMING, "package volume", .asks = "For how much beer was that?",
	    .metric = "L", .us = "gal", .tries = "20 L"),
	ROW(PACK_MIXING, "package mixing", C_WORDS(mixings)),
	ROW(PACK_NECK, "package neck", .metric = "mm", .us = "in", .tries = "10 mm|25 mm|40 mm|70 mm"),
	ROW(PACK_CAP, "package cap", C_WORDS(caps)),
	ROW(PACK_WAND, "package wand", YESNO),
	ROW(PACK_FILLED, "package filled", C_WORDS(purges)),
	ROW(PACK_COLOUR, "package colour", C_WORDS(colours)),
	ROW(PACK_LEAK, "carbonate lost-pressure", YESNO),
	ROW(KEG_CO2, "carbonate pressure", .asks = "What pressure does the keg stand under?",
	    .metric = "bar", .us = "psi", .tries = "0.8 bar|0.3 bar|1.2 bar|2 bar"),
	ROW(KEG_CO2, "carbonate temp", .asks = "How cold is the keg?", TEMP("5 C|2 C|12 C|20 C")),
	ROW(STORE_DAYS, "package at", .when = CASE_DATED, SPAN("d", "3 days|10 days|30 days|120 days")),
	ROW(STORE_DAYS, "store for", .when = CASE_UNDATED, SPAN("d", "3 days|10 days|30 days|120 days|400 days")),
	ROW(STORE_EQUIVALENT, "store temp", TEMP("3 C|12 C|20 C|25 C|32 C")),
	ROW(STORE_CONDITION_C, "store(for=14 d) temp", TEMP("4 C|12 C|16 C|20 C|24 C")),
	ROW(STORE_LIGHT, "store light", C_WORDS(stores)),
	ROW(SERVE_FROM, "serve from", C_WORDS(pours)),
	ROW(SERVE_LINE_CLEANED, "serve line-cleaned", SPAN("wk", "1 week|1 month|6 months")),
	ROW(SERVE_LINE_SHARE, "serve line-length", .asks = "How long is the beer line?",
	    .metric = "m", .us = "ft", .tries = "2 m|0.5 m|1 m|4 m"),
	ROW(SERVE_LINE_SHARE, "serve line-bore", .asks = "How wide is the line inside?",
	    .metric = "mm", .us = "in", .tries = "5 mm|8 mm"),
	ROW(SERVE_LINE_SHARE, "serve pressure", .asks = "What pressure is on it?",
	    .metric = "bar", .us = "psi", .tries = "0.8 bar"),
	ROW(SERVE_GAS_OVER, "carbonate pressure", .asks = "At what pressure was the keg given its gas?",
	    .metric = "bar", .us = "psi", .tries = "0.8 bar"),
	ROW(SERVE_GAS_OVER, "carbonate temp", .asks = "And at what temperature?", TEMP("5 C")),
	ROW(SERVE_GAS_OVER, "serve pressure", .asks = "At what pressure is it served?",
	    .metric = "bar", .us = "psi", .tries = "0.8 bar|0.2 bar|1.5 bar"),
	ROW(SERVE_GAS_OVER, "serve temp", .asks = "And how cold is it in the glass?", TEMP("5 C|1 C|12 C")),
	ROW(SERVE_GLASS, "serve glass", C_WORDS(glasses)),
	ROW(SERVE_SEDIMENT, "serve sediment-poured", YESNO),
	ROW(TASTE_BEER_AGE, "tasting at", .after_pitch = true, SPAN("d", "5 days|14 days|30 days|90 days|400 days")),
	ROW(TASTE_GROWING, "tasting/found{fault=$found} behaviour",
	.asks = "Is it getting stronger with time, fading, or "
	    "staying the same?", C_WORDS(behaviours)),
	ROW(TASTE_FADING, "tasting/found{fault=$found} behaviour",
	.asks = "Is it getting stronger with time, fading, or "
	    "staying the same?", C_WORDS(behaviours)),
	ROW(TASTE_SOME_BOTTLES, "tasting/found{fault=$found} extent", C_WORDS(extents)),
	ROW(TASTE_TAP_ONLY, "tasting/found{fault=$found} extent", C_WORDS(taps)),
	ROW(TASTE_EVERY_BATCH, "tasting every-batch", YESNO),
	ROW(TASTE_AT_PACKAGING, "tasting/found{fault=$found} at-packaging", YESNO),
	ROW(LOOKS_FILM, "looks film", YESNO),
	ROW(LOOKS_SURFACE, "looks surface", C_WORDS(surfaces)),
	ROW(LOOKS_NECK_RING, "looks neck-ring", YESNO),
};
const size_t case_n_rows = sizeof case_rows / sizeof *case_rows;

#define OPENING(is, question, where, ...) { .slot = AB_F_MAX_, .name = is, .asks = question, .target = where, \
    __VA_ARGS__ }

const struct case_row case_openings[] = {
	OPENING("recipe.family", "What kind of beer is it?", "batch family", C_WORDS(families)),
	OPENING("yeast.class", "Which yeast was it, roughly?", "yeast class", .choices = NULL),
	OPENING("pack.into", "Where is the beer now?", "package into", C_WORDS(packages)),
	OPENING("batch.brewed", "When did you brew it?", "!batch brewed", SPAN("wk", "6 weeks ago"),
	    .also = "@tasting at=$today"),
	OPENING("package.at", "When was it packaged?", "package at", .when = CASE_DATED, SPAN("wk", "3 weeks ago")),
	OPENING("store.days", "How long ago was it packaged?", "store for", .when = CASE_UNDATED,
	    SPAN("wk", "3 weeks")),
};
const size_t case_n_openings = sizeof case_openings / sizeof *case_openings;

const char *case_other_words(const char *value)
{
	static const char *const words[][2] = {
		{ "pale-hoppy", "ipa|apa|american pale|pale ale|bitter|hoppy|american ale|golden ale|neipa" },
		{ "pale-lager", "pilsner|pils|lager|helles|kolsch|blonde|cream ale" },
		{ "amber-malty", "brown|amber|red|mild|marzen|bock|dunkel|altbier|alt|malty|scottish" },
		{ "dark-roast", "stout|porter|schwarzbier|black" },
		{ "wheat", "wheat|weizen|hefeweizen|weissbier|witbier|wit" },
		{ "belgian-farmhouse", "belgian|saison|farmhouse|tripel|dubbel|abbey|trappist" },
		{ "sour-mixed", "sour|gose|berliner|lambic|wild|brett" },
		{ "strong", "barley wine|barleywine|imperial|doppelbock|old ale|quadrupel" },
		{ "other", "other|cider|mead|fruit beer|smoked" },
		{ "clean-ale", "american|american ale|us ale|ale|neutral|california|west coast|dry ale" },
		{ "english-ale", "english|british|irish|london|scottish" },
		{ "german-wheat", "wheat|weizen|hefeweizen" }, { "belgian-abbey", "belgian|abbey|trappist" },
		{ "farmhouse", "saison|farmhouse|french" }, { "kveik", "kveik|norwegian|voss" },
		{ "lager", "lager|pilsner|pils|bock" }, { "warm-lager", "warm lager|steam|common" },
		{ "hybrid", "kolsch|alt|altbier|hybrid" },
		{ "bucket", "plastic bucket|bucket|buckets|plastic fermenter|pail" },
		{ "pet", "plastic carboy|plastic bottle|carboys of plastic" },
		{ "glass", "glass carboy|glass|demijohn|demijohns" }, { "steel", "steel|stainless|steel pot" },
		{ "bottles", "bottles with|bottles of|in bottles|into bottles|glass bottles|beer bottles|brown "
		    "bottles|swing tops|crown caps|bottled|bottle" },
		{ "mixed-culture", "mixed|brett|wild|sour|lacto|bacteria" },
	};
	for (size_t i = 0; value != NULL && i < sizeof words / sizeof *words; i++)
		if (strcmp(words[i][0], value) == 0)
			return words[i][1];
	return NULL;
}

bool case_can_ask(int slot)
{
	for (size_t i = 0; i < case_n_rows; i++)
		if (case_rows[i].slot == slot)
			return true;
	return false;
}
