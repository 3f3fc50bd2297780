/* words.c - the word lists of journal and profile
 *
 * The order is part of the contract: enums and stored values are 1 + the place in the list. Add at the end.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/words.h>
#include <afterboil/profile.h>

#include "base/str.h"
#include "journal/tables.h"

/* Families and not styles: what counts is which traits are meant to be there, and for that nine are enough.
 * The rules must have an entry for each. */
const char *const ab_words_family[] = {
	"pale-hoppy", "pale-lager", "amber-malty", "dark-roast", "wheat", "belgian-farmhouse", "sour-mixed",
	"strong", "other", NULL
};
const char *const ab_words_malt[] = {
	"pale", "pilsner", "vienna", "munich", "wheat", "rye", "oats", "crystal", "roasted", "smoked",
	"acidulated", "adjunct", "other", NULL
};
/* One list for recipe and priming; lactose and maltodextrin are in it because ordinary yeast leaves them,
 * which explains a high final gravity. */
const char *const ab_words_sugar[] = {
	"sucrose", "dextrose", "candi", "honey", "lactose", "maltodextrin", "dry-extract", "other", NULL
};
const char *const ab_words_extract[] = {
	"liquid", "dry", "hopped-kit", NULL
};
const char *const ab_words_hop_use[] = {
	"bittering", "flavour", "whirlpool", "dry", NULL
};
/* How bad each is, recipe.c says: stores hold the places, so a word that came later stands last. */
const char *const ab_words_hop_keep[] = {
	"frozen-sealed", "fridge-sealed", "opened-cold", "opened-warm", "warm-sealed", NULL
};
const char *const ab_words_crush[] = {
	"fine", "normal", "coarse", NULL
};
const char *const ab_words_water[] = {
	"tap", "well", "softened", "bottled", "reverse-osmosis", "rain", "blend", NULL
};
/* Against chlorine and chloramine. */
const char *const ab_words_treatment[] = {
	"none", "sulphite", "carbon-filter", "boiled", "stood", "reverse-osmosis", NULL
};
/* added: nobody tells how they were measured. */
const char *const ab_words_salts[] = {
	"none", "weighed", "by-eye", "added", NULL
};
const char *const ab_words_vigour[] = {
	"weak", "simmer", "rolling", NULL
};
const char *const ab_words_lid[] = {
	"off", "partly", "on", NULL
};
/* overnight-closed is the way without a chiller, air the one that leaves wort open. */
const char *const ab_words_chill[] = {
	"ice-bath", "coil", "counterflow", "plate", "overnight-closed", "air", "other", NULL
};
const char *const ab_words_trub[] = {
	"little", "some", "most", NULL
};
const char *const ab_words_yeast_form[] = {
	"dry", "liquid", "slurry", "dregs", NULL
};
const char *const ab_words_keep[] = {
	"cold", "room", "warm", NULL
};
/* Air and oxygen apart: however long it takes, air dissolves no more than its own share of oxygen
 * allows, about 8 mg/L in wort (common practice). */
const char *const ab_words_aerate[] = {
	"none", "pour", "shake", "whisk", "pump", "oxygen", NULL
};
const char *const ab_words_vessel[] = {
	"bucket", "pet", "glass", "steel", "conical", "keg", "other", NULL
};
/* From none to the surest; the rules ask by word, never by place. */
const char *const ab_words_control[] = {
	"none", "room", "water-bath", "ice-bottles", "wet-cloth", "fan", "heat-belt", "fridge", "chamber",
	"glycol", NULL
};
/* By the strength of light that reaches the beer, not by where the beer stands. */
const char *const ab_words_light[] = {
	"dark", "indoor", "window", "sun", NULL
};
/* One list for readings and for checks of instruments, so that a reading finds the check of what took it. */
const char *const ab_words_instrument[] = {
	"hydrometer", "refractometer", "float", "thermometer", "scale", "ph-meter", "strip", NULL
};
/* while-active: yeast at work takes up what air comes in. */
const char *const ab_words_hop_open[] = {
	"open-lid", "port", "dropper", "purged", "while-active", "in-keg", NULL
};
/* What the vessel breathes in when it cools: air through an airlock, its own gas from a bag, nothing when
 * sealed. */
const char *const ab_words_airlock[] = {
	"airlock", "blow-off", "sealed", "gas-bag", "open", "top-pressure", NULL
};
const char *const ab_words_transfer[] = {
	"siphon", "tap", "poured", "pumped", "closed", NULL
};
/* What the beer flows into. liquid-purged is filled with water or sanitiser and pushed empty with gas;
 * flow-purged only had gas blown through. */
const char *const ab_words_target[] = {
	"air-filled", "purged", "liquid-purged", "flow-purged", NULL
};
/* Whatever touches cooled wort or beer. Hands are in it: they do, too. A sampler is what samples are taken with, or
 * what is hung into the beer: thief, baster, hydrometer. The kettle stands on the hot side: its metal and smell count,
 * not how it was sanitised. */
const char *const ab_words_gear[] = {
	"fermenter", "lid", "airlock", "tap", "hose", "siphon", "spoon", "funnel", "chiller",
	"bottles", "caps",
	"wand", "bottling-bucket", "keg", "lines", "faucet", "starter-jar", "hands", "sampler", "kettle", "other",
	"everything", NULL
};
/* What stood open. */
const char *const ab_words_opened[] = {
	"fermenter", "second", "bottling-vessel", "keg", NULL
};
/* Cleaners; a sanitiser that also cleans (bleach) stands in both lists, for it was used for one or the
 * other. other: something that cleans, nobody tells what. */
const char *const ab_words_agent[] = {
	"none", "water", "detergent", "percarbonate", "caustic", "scented-soap", "bleach", "other",
	NULL
};
const char *const ab_words_sanitiser[] = {
	"none", "acid", "iodine", "bleach", "peracetic", "chlorine-dioxide", "alcohol", "heat", "boiling",
	"steam", "sulphite", "other", NULL
};
const char *const ab_words_rinse[] = {
	"none", "tap", "boiled", NULL
};
/* Named in C as well (odd.c, by place). */
const char *const ab_words_package[] = {
	"bottles", "keg", "cask", "cans", NULL
};
/* The same of a brewery, some of which fill bottles and kegs. Named in C as well (profile.c, by place). */
const char *const ab_words_packs[] = {
	"bottles", "keg", "cask", "cans", "both", NULL
};
/* What became of all the bottles. Named in C as well (pressed.c, by place). */
const char *const ab_words_fate[] = {
	"drunk", "poured-away", "let-off", NULL
};
/* By what pressure they bear, so far as a brewer can tell; unknown-glass is the honest word for found
 * bottles and is treated as weak. */
const char *const ab_words_bottle[] = {
	"longneck", "reused-longneck", "heavy", "swing-top", "sparkling", "pet", "growler", "unknown-glass",
	"plastic-can", "mini-keg", NULL
};
/* Which packages limits are told of: cans, kegs and casks are told by into=. */
const char *const ab_words_kit[] = {
	"longneck", "reused-longneck", "heavy", "swing-top", "sparkling", "pet", "growler", "unknown-glass",
	"plastic-can", "mini-keg", "can", "keg", "cask", NULL
};
const char *const ab_words_colour[] = {
	"brown", "green", "clear", "opaque", NULL
};
const char *const ab_words_cap[] = {
	"plain", "oxygen-absorbing", "swing", "screw", "twist-off-reused", "cork", NULL
};
/* How evenly the priming sugar got about: what varies from bottle to bottle begins here. */
const char *const ab_words_mixing[] = {
	"stirred", "onto-syrup", "per-bottle", "drops", "unmixed", NULL
};
const char *const ab_words_gas[] = {
	"set-and-wait", "shaken", "burst", NULL
};
/* mixed: carbon dioxide and nitrogen, for stouts. */
const char *const ab_words_keg_gas[] = {
	"co2", "mixed", "nitrogen", NULL
};
const char *const ab_words_pour[] = {
	"bottle", "tap", "cask", "can", NULL
};
const char *const ab_words_glass[] = {
	"rinsed", "detergent", "dishwasher", "greasy", "unknown", NULL
};
/* The places 3 and 4 are named in check.c. packaged: finished beer, out of whatever it was in. */
const char *const ab_words_place[] = {
	"fermenter", "packaging", "bottle", "tap-keg", "other", "packaged", NULL
};
const char *const ab_words_behaviour[] = {
	"growing", "fading", "steady", NULL
};
/* Who has the fault: some bottles point to bottles, the tap to lines, a half of the run to filling. */
const char *const ab_words_extent[] = {
	"every-bottle", "some-bottles", "tap-only", "first-pour-only", "first-half", "last-half", NULL
};
/* From the harmless to what lives: of several looks the worst counts. */
const char *const ab_words_surface[] = {
	"clear", "foam", "hop-bits", "yeast-islands", "film", "mould", NULL
};
/* The brewer's own judgement, where nobody counted. */
const char *const ab_words_enough[] = {
	"little", "usual", "plenty", NULL
};
const char *const ab_words_warmth[] = {
	"cold", "right", "warm", NULL
};
const char *const ab_words_units[] = {
	"metric", "us", NULL
};
const char *const ab_words_goal[] = {
	"quality", "time", NULL
};
const char *const ab_words_space[] = {
	"none", "drawer", "cupboard", "floor", NULL
};

/* By name: the schemas are written from this, so a list that is missing here is missing there. */
const struct ab_word_list ab_word_lists[] = {
	{ "family", ab_words_family },
	{ "malt", ab_words_malt },
	{ "sugar", ab_words_sugar },
	{ "extract", ab_words_extract },
	{ "hop-use", ab_words_hop_use },
	{ "hop-keep", ab_words_hop_keep },
	{ "crush", ab_words_crush },
	{ "water", ab_words_water },
	{ "treatment", ab_words_treatment },
	{ "salts", ab_words_salts },
	{ "vigour", ab_words_vigour },
	{ "lid", ab_words_lid },
	{ "chill", ab_words_chill },
	{ "trub", ab_words_trub },
	{ "yeast-form", ab_words_yeast_form },
	{ "keep", ab_words_keep },
	{ "aerate", ab_words_aerate },
	{ "vessel", ab_words_vessel },
	{ "control", ab_words_control },
	{ "light", ab_words_light },
	{ "instrument", ab_words_instrument },
	{ "hop-open", ab_words_hop_open },
	{ "airlock", ab_words_airlock },
	{ "transfer", ab_words_transfer },
	{ "target", ab_words_target },
	{ "gear", ab_words_gear },
	{ "opened", ab_words_opened },
	{ "agent", ab_words_agent },
	{ "sanitiser", ab_words_sanitiser },
	{ "rinse", ab_words_rinse },
	{ "package", ab_words_package },
	{ "packs", ab_words_packs },
	{ "fate", ab_words_fate },
	{ "bottle", ab_words_bottle },
	{ "colour", ab_words_colour },
	{ "cap", ab_words_cap },
	{ "mixing", ab_words_mixing },
	{ "gas", ab_words_gas }, { "keg-gas", ab_words_keg_gas },
	{ "pour", ab_words_pour },
	{ "glass", ab_words_glass },
	{ "place", ab_words_place },
	{ "behaviour", ab_words_behaviour },
	{ "extent", ab_words_extent },
	{ "surface", ab_words_surface },
	{ "enough", ab_words_enough },
	{ "warmth", ab_words_warmth },
	{ "units", ab_words_units },
	{ "space", ab_words_space },
	{ "goal", ab_words_goal },
	{ NULL, NULL },
};

bool ab_other_package(const struct ab_tasting *a, const struct ab_tasting *b)
{
	return (a->from == AB_PLACE_BOTTLE && b->from == AB_PLACE_TAP_KEG) ||
	    (a->from == AB_PLACE_TAP_KEG && b->from == AB_PLACE_BOTTLE);
}

bool ab_same_bottles(const struct ab_tasting *a, const struct ab_tasting *b)
{
	if (ab_other_package(a, b))
		return false;
	return a->mark_on == NULL || b->mark_on == NULL ? a->mark_on == b->mark_on
							: ab_word_cmp(a->mark_on, b->mark_on) == 0;
}
