/* words.c - the word lists of journal and profile
 *
 * The order is part of the contract: enums and stored values are 1 + the place in the list. Add at the end.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/journal.h>
#include <afterboil/profile.h>

#include "journal/tables.h"

const char *const ab_words_family[] = {
	"pale-hoppy", "pale-lager", "amber-malty", "dark-roast", "wheat", "belgian-farmhouse", "sour-mixed",
	"strong", "other", NULL
};
const char *const ab_words_malt[] = {
	"pale", "pilsner", "vienna", "munich", "wheat", "rye", "oats", "crystal", "roasted", "smoked",
	"acidulated", "adjunct", "other", NULL
};
const char *const ab_words_sugar[] = {
	"sucrose", "dextrose", "candi", "honey", "lactose", "maltodextrin", "dry-extract", "other", NULL
};
const char *const ab_words_extract[] = {
	"liquid", "dry", "hopped-kit", NULL
};
const char *const ab_words_hop_use[] = {
	"bittering", "flavour", "whirlpool", "dry", NULL
};
const char *const ab_words_hop_keep[] = {
	"frozen-sealed", "fridge-sealed", "opened-cold", "opened-warm", NULL
};
const char *const ab_words_crush[] = {
	"fine", "normal", "coarse", NULL
};
const char *const ab_words_water[] = {
	"tap", "well", "softened", "bottled", "reverse-osmosis", "rain", "blend", NULL
};
const char *const ab_words_treatment[] = {
	"none", "sulphite", "carbon-filter", "boiled", "stood", "reverse-osmosis", NULL
};
const char *const ab_words_salts[] = {
	"none", "weighed", "by-eye", NULL
};
const char *const ab_words_vigour[] = {
	"weak", "simmer", "rolling", NULL
};
const char *const ab_words_lid[] = {
	"off", "partly", "on", NULL
};
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
const char *const ab_words_aerate[] = {
	"none", "pour", "shake", "whisk", "pump", "oxygen", NULL
};
const char *const ab_words_vessel[] = {
	"bucket", "pet", "glass", "steel", "conical", "keg", "other", NULL
};
const char *const ab_words_control[] = {
	"none", "room", "water-bath", "ice-bottles", "wet-cloth", "fan", "heat-belt", "fridge", "chamber",
	"glycol", NULL
};
const char *const ab_words_light[] = {
	"dark", "indoor", "window", "sun", NULL
};
const char *const ab_words_instrument[] = {
	"hydrometer", "refractometer", "float", "thermometer", "scale", "ph-meter", "strip", NULL
};
const char *const ab_words_hop_open[] = {
	"open-lid", "port", "dropper", "purged", "while-active", NULL
};
const char *const ab_words_airlock[] = {
	"airlock", "blow-off", "sealed", "gas-bag", "open", "top-pressure", NULL
};
const char *const ab_words_transfer[] = {
	"siphon", "tap", "poured", "pumped", "closed", NULL
};
const char *const ab_words_target[] = {
	"air-filled", "purged", "liquid-purged", "flow-purged", NULL
};
const char *const ab_words_gear[] = {
	"fermenter", "lid", "airlock", "tap", "hose", "siphon", "spoon", "funnel", "chiller",
	"bottles", "caps",
	"wand", "bottling-bucket", "keg", "lines", "faucet", "starter-jar", "hands", "other", NULL
};
const char *const ab_words_agent[] = {
	"none", "water", "detergent", "percarbonate", "caustic", "scented-soap", "bleach", NULL
};
const char *const ab_words_sanitiser[] = {
	"none", "acid", "iodine", "bleach", "peracetic", "chlorine-dioxide", "alcohol", "heat", "boiling",
	"steam", "sulphite", "other", NULL
};
const char *const ab_words_rinse[] = {
	"none", "tap", "boiled", NULL
};
const char *const ab_words_package[] = {
	"bottles", "keg", "cask", "cans", NULL
};
const char *const ab_words_bottle[] = {
	"longneck", "reused-longneck", "heavy", "swing-top", "sparkling", "pet", "growler", "unknown-glass",
	NULL
};
const char *const ab_words_colour[] = {
	"brown", "green", "clear", "opaque", NULL
};
const char *const ab_words_cap[] = {
	"plain", "oxygen-absorbing", "swing", "screw", "twist-off-reused", "cork", NULL
};
const char *const ab_words_mixing[] = {
	"stirred", "onto-syrup", "per-bottle", "drops", "unmixed", NULL
};
const char *const ab_words_gas[] = {
	"set-and-wait", "shaken", "burst", NULL
};
const char *const ab_words_pour[] = {
	"bottle", "tap", "cask", "can", NULL
};
const char *const ab_words_glass[] = {
	"rinsed", "detergent", "dishwasher", "greasy", "unknown", NULL
};
const char *const ab_words_place[] = {
	"fermenter", "packaging", "bottle", "tap-keg", "other", NULL
};
const char *const ab_words_behaviour[] = {
	"growing", "fading", "steady", NULL
};
const char *const ab_words_extent[] = {
	"every-bottle", "some-bottles", "tap-only", "first-pour-only", "first-half", "last-half", NULL
};
const char *const ab_words_units[] = {
	"metric", "us", NULL
};
const char *const ab_words_space[] = {
	"none", "drawer", "cupboard", "floor", NULL
};

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
	{ "agent", ab_words_agent },
	{ "sanitiser", ab_words_sanitiser },
	{ "rinse", ab_words_rinse },
	{ "package", ab_words_package },
	{ "bottle", ab_words_bottle },
	{ "colour", ab_words_colour },
	{ "cap", ab_words_cap },
	{ "mixing", ab_words_mixing },
	{ "gas", ab_words_gas },
	{ "pour", ab_words_pour },
	{ "glass", ab_words_glass },
	{ "place", ab_words_place },
	{ "behaviour", ab_words_behaviour },
	{ "extent", ab_words_extent },
	{ "units", ab_words_units },
	{ "space", ab_words_space },
	{ NULL, NULL },
};
