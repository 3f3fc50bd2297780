/* entry_rows_package.c - sentences about bottles, cans, casks and kegs; gas, storage, finings
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_slots.h"

#include <afterboil/journal.h>

#define GASES "regulator|regulators|gas|co2|serving pressure|head pressure|keg pressure"
#define STORED_WORDS \
	"temp temperature bottles cans keg and place cool box crate case larder hall room there " PLACES SMALL
#define STORED \
	{ BEER("at|", "temp"), Q("for", "for", AB_DIM_TIME), W("in|to|into|under|", "light", ab_words_light), \
	BEER("hottest", "hottest"), F("upright", "upright", "yes") }

/* What a line about bottles holds, and its little words; cans are filled alike. */
#define BOTTLING_WORDS \
	"beer primed priming bottles bottle and l all normal plain ordinary water boiled dissolved using done " \
	"filled mixed stirred bucket bottling into in them " SMALL
#define BOTTLING \
	{ Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), Q("at", "gravity", AB_DIM_GRAVITY), \
	W("in|into|", "bottle", ab_words_bottle), W("sugar|", "mixing", ab_words_mixing), \
	W("caps|capped with", "cap", ab_words_cap), F("capped on foam|on foam", "cap-on-foam", "yes"), \
	BEHIND("neck|headspace|head space|gap", "neck", AB_DIM_LENGTH, "headspace|head space|of headspace|" \
	"of head space|neck|in the neck|gap|of air|of neck|empty|below the cap|under the cap|from the top"), \
	Q("in|into", "size", AB_DIM_VOLUME), Q("", "volume", AB_DIM_VOLUME), W("", "colour", ab_words_colour), \
	F("with wand|with a wand|with the wand|by wand|with bottling wand|with a bottling wand|" \
	"with the bottling wand|from the bottom up|from the bottom", "wand", "yes"), \
	F("without wand|without a wand|without the wand|without a bottling wand|no wand|straight from the tap|" \
	"straight from the spigot|from the tap|from the spigot", "wand", "no"), \
	PIECES("bottles|bottle|longnecks|long necks|bombers|growlers|swing tops|swing-tops|swing top bottles|" \
	"pet bottles|plastic bottles|mini kegs|minikegs|mini-kegs") }
#define CANNING_WORDS \
	"beer primed priming cans can and all aluminium aluminum sugar with using purged gas co2 seamed them them " \
	SMALL
#define CANNING \
	{ Q("with", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), Q("at", "gravity", AB_DIM_GRAVITY), \
	F("plastic cans|plastic can|plastic", "bottle", "plastic-can"), W("sugar|", "mixing", ab_words_mixing), \
	F("no sugar|without sugar|no priming sugar|no priming|without priming|unprimed|not primed", "priming", \
	"0 g"), W("into|in|", "filled", ab_words_target), Q("in|into", "size", AB_DIM_VOLUME), \
	Q("", "volume", AB_DIM_VOLUME), PIECES("cans|can|plastic cans") }
#define CASKING \
	{ Q("with|", "priming", AB_DIM_MASS), F("no sugar|without sugar|no priming sugar|no priming|" \
	"without priming|unprimed|not primed", "priming", "0 g"), W("", "sugar", ab_words_sugar), \
	W("", "mixing", ab_words_mixing), Q("at", "gravity", AB_DIM_GRAVITY), Q("", "volume", AB_DIM_VOLUME) }
#define KEGGING_WORDS "keg kegs beer and sugar with co2 gas " SMALL
#define KEGGING \
	{ W("into|in|", "filled", ab_words_target), Q("at", "gravity", AB_DIM_GRAVITY), \
	N("purges|purged|flushed|flushed keg with co2|flushed the keg with co2|flushed with co2|flushed keg|" \
	"flushed it|purged it|purged keg|purged keg with co2|purged the keg|purged with co2", "purges"), \
	Q("to", "purge-pressure", AB_DIM_PRESSURE), Q("with", "priming", AB_DIM_MASS), \
	F("no sugar|without sugar|no priming sugar|no priming|without priming|unprimed|not primed", "priming", \
	"0 g"), W("", "sugar", ab_words_sugar), Q("", "volume", AB_DIM_VOLUME), \
	F("mini keg|mini kegs|minikeg|minikegs|mini-keg|mini-kegs", "bottle", "mini-keg"), \
	PIECES("kegs|mini kegs|minikegs|mini-kegs") }

static const struct entry_row rows[] = {
	{ "bottled|bottled up|bottling|bottling day", "package", " into=\"bottles\"", "at", "bottling",
	    "bottled with 120 g sucrose at 1.011 SG", "beer primed priming bottles and bottle l all normal plain "
	    "ordinary water boiled dissolved using done filled mixed stirred bucket bottling " SMALL, true, false,
	    false, ROW_PLAIN, BOTTLING },
	{ "filled|filled up", "package", " into=\"bottles\"", "at", "bottling",
	    "bottled with 120 g sucrose at 1.011 SG", BOTTLING_WORDS, true, false, false,
	    ROW_ONLY("bottle|bottles|swing tops|swing-tops|longnecks|growlers|bombers", "fermenter fermentor bucket "
	    "carboy kettle pot water sanitiser sanitizer keg kegs can cans cask"), BOTTLING },
	{ "canned|canned it|canning|canning day|canned up", "package", " into=\"cans\"", "at", "canning",
	    "canned 19 L at 1.011 SG", CANNING_WORDS, true, false, false, ROW_PLAIN, CANNING },
	{ "filled|filled up", "package", " into=\"cans\"", "at", "canning", "canned 19 L at 1.011 SG", CANNING_WORDS,
	    true, false, false, ROW_ONLY("can|cans", "fermenter fermentor bucket carboy kettle pot water sanitiser "
	    "sanitizer keg kegs bottle bottles cask watering jerry"), CANNING },
	{ "casked|casked it|racked into cask|racked into the cask|racked into a cask|racked to cask|"
	  "racked to the cask|into the cask|casking",
	    "package", " into=\"cask\"", "at", "filling the cask", "casked with 60 g sucrose at 1.012 SG",
	    "beer primed priming cask and sugar with using " SMALL, true, false, false, ROW_PLAIN, CASKING },
	{ "filled|filled up", "package", " into=\"cask\"", "at", "filling the cask",
	    "casked with 60 g sucrose at 1.012 SG", "beer primed priming cask casks and sugar with using " SMALL,
	    true, false, false, ROW_ONLY("cask|casks", "fermenter fermentor bucket carboy kettle pot water sanitiser "
	    "sanitizer bottle bottles can cans keg kegs"), CASKING },
	{ "primed|priming|priming sugar|dissolved", "package", "", NULL, "priming", "primed with 110 g sucrose",
	    "beer bottling bucket sugar bottles normal plain ordinary water boiled dissolved using mixed stirred "
	    SMALL, true, true, false, ROW_BARE(AB_DIM_MASS, "sugar|sugars"),
	    { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar),
		W("sugar|", "mixing", ab_words_mixing), Q("in|into", "size", AB_DIM_VOLUME),
		Q("for|", "volume", AB_DIM_VOLUME) } },
	{ "boiled|boiled up", "package", "", NULL, "priming", "boiled 110 g sugar", "beer bottling bucket sugar "
	    "bottles normal plain ordinary water using and min minutes " SMALL, true, true, false,
	    ROW_ONLY("sugar|sucrose|dextrose|glucose", "lid wort kettle hops"),
	    { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar) } },
	{ "kegged|keged|kegged it", "package", " into=\"keg\"", "at", "kegging",
	    "kegged into liquid-purged at 1.011 SG", KEGGING_WORDS, true, false, false, ROW_THEN("carbonated",
	    AB_DIM_PRESSURE, "purge purges purged purging flushed flushing seated sealed seal pressurised "
	    "pressurized pushed transferred"), KEGGING },
	{ "filled|filled up", "package", " into=\"keg\"", "at", "kegging", "kegged into liquid-purged at 1.011 SG",
	    KEGGING_WORDS, true, false, false, ROW_ONLY("keg|kegs|minikeg|minikegs", "fermenter fermentor bucket "
	    "carboy kettle pot water sanitiser sanitizer bottle bottles can cans cask"), KEGGING },
	{ "carbonated|gas on|on gas|on the gas|put on gas|put it on gas|put on the gas|put it on the gas|"
	  "hooked up gas|hooked up the gas|connected gas|connected the gas|carbonate|carbing|carbonating|"
	  "force carbonated|force-carbonated|force carbed|carbed|set the gas to|set gas to|set the gas at|set gas at|"
	  "set the keg to|set keg to|set the regulator to|set regulator to",
	    "carbonate", "", NULL, "gas on the keg", "carbonated at 0.9 bar and 5 C", "and keg " SMALL, true, true,
	    false, ROW_BARE(AB_DIM_PRESSURE, ""),
	    { Q("at|to|set to|set at|", "pressure", AB_DIM_PRESSURE), BEER("at|", "temp"),
		Q("for", "for", AB_DIM_TIME), W("by|", "method", ab_words_gas), W("with|under|of|on|", "gas",
		ab_words_keg_gas) } },
	{ "burst carbonated|burst carbed|burst carb|burst carbing|burst carbonating",
	    "carbonate", " method=\"burst\"", NULL, "gas on the keg", "burst carbonated at 2 bar for 24 h", "and keg "
	    SMALL, true, true, false, ROW_PLAIN,
	    { Q("at|to|", "pressure", AB_DIM_PRESSURE), BEER("at|", "temp"), Q("for", "for", AB_DIM_TIME) } },
	{ SET, "carbonate", "", NULL, "gas on the keg", "carbonated at 0.9 bar and 5 C",
	    "regulator gas co2 pressure serving head keg " SMALL, true, true, false,
	    ROW_ONLY(GASES, "spunding spund fermenter"),
	    { Q("at|" TURNED_TO, "pressure", AB_DIM_PRESSURE), BEER("at", "temp") } },
	{ "keg", "carbonate", "", NULL, "gas on the keg", "keg lost pressure", "gas lid seal post through around the "
	    "a an at is was it its has now by ", true, true, false, ROW_PLAIN,
	    { F("lost pressure|loses pressure|losing pressure|lost its pressure|lost gas|loses gas|losing gas|"
		"lost its gas|leaks|leaked|leaking|hisses|hissing", "lost-pressure", "yes"),
		F("holds pressure|held pressure|kept pressure|holds its pressure|held its pressure|kept its pressure|"
		"tight", "lost-pressure", "no") } },
	{ "airlock still|airlock is still|airlock silent|airlock is silent|airlock quiet|airlock is quiet|"
	  "airlock dead|airlock is dead|airlock stopped|airlock has stopped|airlock stopped bubbling|"
	  "airlock has stopped bubbling|airlock not bubbling|airlock isn't bubbling|airlock is not bubbling|"
	  "no airlock activity|no bubbles in the airlock|no bubbles from the airlock|no bubbling|stopped bubbling|"
	  "bubbling stopped|bubbling has stopped",
	    "looks", " airlock-still=\"yes\"", "at", "sight: the airlock is still", "airlock still", "in the airlock "
	    SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "ring in the neck|ring in the necks|ring in neck|ring inside the neck|ring inside the necks|"
	  "ring in the bottle neck|ring in the bottle necks|ring in the bottles|neck ring",
	    "looks", " neck-ring=\"yes\"", "at", "sight: a ring in the bottle necks", "ring in the neck",
	    "bottles bottle all some " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "stored|store|moved bottles|moved the bottles|moved cans|moved the cans|put cans|put the cans|cans in|"
	  "cans are in|all cans in|bottles moved|bottles in|all bottles in|all the bottles in|all bottles are in|"
	  "all the bottles are in|bottles all in|bottles at|all bottles at|bottles are in|bottles are at|"
	  "bottles now at|bottles now in|bottles are now at|bottles are now in|bottles stand in|bottles stored|"
	  "chilled bottles|chilled the bottles|put them|put bottles|put the bottles|moved them|stuck them|"
	  "stuck the bottles",
	    "store", "", "from", "storage", "stored at 12 C dark", STORED_WORDS, false, true, false,
	    ROW_NAMED("cellar|fridge"), STORED },
	{ "put|put it", "store", "", "from", "storage", "stored at 12 C dark", STORED_WORDS, false, true, false,
	    ROW_WHILE(ENTRY_PACKAGED, NULL, ""), STORED },
	{ "moved it", "store", "", "from", "storage", "stored at 12 C dark", STORED_WORDS, false, true, false,
	    ROW_WHILE(ENTRY_PACKAGED, A_PLACE "|fridge", "purged secondary from out"), STORED },
	{ "gelatin|gelatine", "fining", " name=\"gelatine\"", "at", "finings", "fined with gelatine",
	    "beer fermenter keg bloomed solution " SMALL, false, false, false, ROW_PLAIN,
	    { { .kind = ENTRY_NONE } } },
	{ "isinglass", "fining", " name=\"isinglass\"", "at", "finings", "fined with isinglass",
	    "beer fermenter keg cask solution " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "fined|finings", "fining", "", "at", "finings", "fined with gelatine", "", false, true, false, ROW_PLAIN,
	    { ID("with|", "name") } },
};
const struct entry_table entry_rows_package = { rows, sizeof rows / sizeof *rows };
