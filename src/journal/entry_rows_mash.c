/* entry_rows_mash.c - sentences about mash, water, hot stand, vessel
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_slots.h"

#include <afterboil/journal.h>

static const struct entry_row rows[] = {
	{ "mashed|mash|steeped|mashed in|mash in|mashing|mash at|mash temperature|mash temp",
	    "mash", "", NULL, "mash", "mash 66 C for 60 min", "grain and grains " SMALL, true, true, false,
	    ROW_BARE(AB_DIM_TIME, ""),
	    { T("at|", "temp", 40, 80), NOTED("with|in|", "mash water ", AB_DIM_VOLUME),
		NOTED("|with", "grain in the mash ", AB_DIM_MASS), Q("for|rested|rested for|held|held for|"
		"let it sit for|let it sit|let sit for|sat for|stood for|let it rest for|", "time", AB_DIM_TIME),
		W("crush|crushed", "crush", ab_words_crush),
		T("sparged at|sparge at|sparged with|sparged|sparge", "sparge-temp", 40, 105) } },
	{ "sparged|sparge|sparging", "mash", "", NULL, "sparge", "sparged at 76 C", "water " SMALL, true, true, false,
	    ROW_PLAIN, { T("at|with|", "sparge-temp", 40, 105), NOTED("with|", "sparge water ", AB_DIM_VOLUME) } },
	{ "mash ph|mash ph is|mash ph was|mash ph at|ph of the mash|ph of mash|ph in the mash",
	    "note", "mash pH ", NULL, "only a note (mash pH)", "mash pH 5.4", "", false, true, true, ROW_PLAIN,
	    { BREATH_ALL } },
	{ "preboil|pre-boil|pre boil|preboil volume|pre-boil volume|preboil gravity|pre-boil gravity|"
	  "pre boil gravity|gravity before the boil|gravity before boil|volume before the boil",
	    "note", "before the boil ", NULL, "only a note (before the boil)", "pre-boil 26 L at 1.042", "", false,
	    true, true, ROW_PLAIN, { BREATH_ALL } },
	{ "strike water|mash water", "note", "strike water ", NULL, "only a note (the water of the mash)",
	    "strike water 15 L at 74 C", "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	/* How much water went in for that is not told. */
	{ "topped up to|topped it up to|top up to|topped the fermenter up to",
	    "note", "topped up to ", NULL, "only a note (how much water went in is not told)", "topped up to 20 L",
	    "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	{ "collected", "note", "collected ", NULL, "only a note (before the boil)", "collected 26 L pre-boil", "",
	    false, true, true, ROW_ONLY("preboil|pre-boil|pre boil|before the boil|before boil|before boiling|"
	    "in the kettle|into the kettle|runnings", ""), { BREATH_ALL } },
	{ "last runnings|final runnings|runnings ended at|sparged down to|sparged until",
	    "mash", "", NULL, "the last runnings", "last runnings 1.008", "gravity runnings reading read " SMALL,
	    true, true, false, ROW_PLAIN, { Q("", "last-runnings", AB_DIM_GRAVITY) } },
	{ "water|treated water|treated the water|treated brewing water",
	    "water", "", NULL, "water", "water tap treated with sulphite", "and half one tap-water tablet treated "
	    "water straight with " SMALL, true, true, false,
	    ROW_NAMED("tap water|well water|rain water|softened water|bottled water"),
	    { W("from|", "source", ab_words_water),
		W("treated with|treatment|treated|", "treatment", ab_words_treatment),
		F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none"),
		F("smells of chlorine|smelled of chlorine", "smells-of-chlorine", "yes"),
		W("salts", "salts", ab_words_salts),
		Q("topped up with|top up|top-up|topped up", "top-up", AB_DIM_VOLUME) } },
	{ "tap water|town water|city water|mains water", "water", " source=\"tap\"", NULL, "tap water",
	    "tap water untreated", "brewing all only straight with " SMALL, true, false, false, ROW_PLAIN,
	    { W("treated with|treatment|treated|", "treatment", ab_words_treatment),
		F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none"),
		F("smells of chlorine|smelled of chlorine|smells of swimming pool", "smells-of-chlorine", "yes") } },
	{ "bottled water|bottled spring water|bottled mineral water",
	    "water", " source=\"bottled\"", NULL, "bottled water", "bottled water", "brewing all only straight with "
	    SMALL, true, false, false, ROW_PLAIN,
	    { W("treated with|treatment|treated|", "treatment", ab_words_treatment),
		F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none") } },
	{ "campden tablet|campden tablets|campden|half a campden tablet|half campden tablet|half a campden|"
	  "1/2 campden tablet|one campden tablet|1 campden tablet|crushed campden tablet",
	    "water", " treatment=\"sulphite\"", NULL, "water treated with sulphite", "campden tablet",
	    "half one water mash strike sparge brewing liquor all crushed " SMALL, true, false, false, ROW_PLAIN,
	    { W("from|", "source", ab_words_water) } },
	{ "topped up with|topped up|top up|top-up", "water", "", NULL, "water to top up",
	    "topped up with 3 L boiled water", "tap water cold cool " SMALL, false, true, false, ROW_SETS,
	    { Q("with|", "top-up", AB_DIM_VOLUME), F("boiled|pre-boiled", "top-up-boiled", "yes"),
		F("unboiled", "top-up-boiled", "no"), F("treated", "top-up-treated", "yes"),
		F("untreated", "top-up-treated", "no") } },
	{ "whirlpool|whirlpooled|hot stand|hop stand|hopstand",
	    "stand", "", NULL, "hot stand", "whirlpool for 20 min at 80 C", SMALL, true, true, false,
	    ROW_BARE(AB_DIM_TIME, ""),
	    { Q("for|", "time", AB_DIM_TIME), T("at|", "temp", 50, 105), W("lid", "lid", ab_words_lid) } },
	{ "fermented in|fermenting in|fermenter|fermenter is|fermentor|fermentor is|vessel|in the fermenter|"
	  "put the fermenter|put fermenter|put the bucket|put bucket|put the carboy|put carboy|stood the fermenter|"
	  "stood the bucket|stood the carboy|set the fermenter|set the bucket|set the carboy",
	    "vessel", "", NULL, "the vessel", "fermenter bucket named red room 19 C by water-bath",
	    "held beer cool cold water " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "kind", ab_words_vessel), ROOM("room at|room", "room"),
		W("by|control|controlled by|", "control", ab_words_control), Q("", "volume", AB_DIM_VOLUME),
		Q("headspace", "headspace", AB_DIM_VOLUME), BEER("set to|target|at", "target"), AGE("age"),
		W("light|in", "light", ab_words_light), F("scratched", "scratched", "yes"),
		F("too warm|too hot", "judged", "warm"), F("too cold|too cool", "judged", "cold"),
		F("temperature went up and down|went up and down|up and down|swings|swinging", "swings",
		"yes"), NAMED } },
};
const struct entry_table entry_rows_mash = { rows, sizeof rows / sizeof *rows };
