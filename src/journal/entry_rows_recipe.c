/* entry_rows_recipe.c - sentences about how bottles ended and were served, instruments, the recipe, checks, and
 * what is only a note
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_slots.h"

#include <afterboil/journal.h>

static const struct entry_row rows[] = {
	{ "all drunk|all are drunk|drank them all|drank all bottles|all bottles drunk|bottles all drunk|"
	  "all bottles are drunk|bottles are all drunk|bottles are gone|all bottles are gone|bottles gone",
	    "package", " fate=\"drunk\"", "fate-at", "bottling", "all drunk",
	    "the of it them now up and bottles are ", true, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "poured them all away|poured all away|poured it all away|poured all bottles away|"
	  "poured all the bottles away|poured the bottles away|poured them away|poured all of it away|"
	  "poured them all out|dumped them|dumped them all|dumped all bottles|dumped all the bottles|"
	  "dumped the bottles",
	    "package", " fate=\"poured-away\"", "fate-at", "bottling", "poured them all away",
	    "the of it them all now down drain sink and bottles ", true, false, false, ROW_PLAIN,
	    { { .kind = ENTRY_NONE } } },
	{ "opened and let off all bottles|let off all bottles|let off all the bottles|opened all bottles|"
	  "opened all the bottles|opened and let off the bottles|opened and let off them all|vented all bottles|"
	  "vented all the bottles|let the gas off all bottles|let the gas off all the bottles|"
	  "let the gas off the bottles|let the gas off them all",
	    "package", " fate=\"let-off\"", "fate-at", "bottling", "opened and let off all bottles",
	    "the of them all now and again bottles recapped capped ", true, false, false, ROW_PLAIN,
	    { { .kind = ENTRY_NONE } } },
	{ "served|serving|poured|first pour|first pint|first glass",
	    "serve", "", NULL, "serving", "served from tap at 8 C", "the a and", true, true, false,
	    ROW_BARE(AB_DIM_PRESSURE, ""),
	    { W("from|", "from", ab_words_pour), BEER("at|", "temp"), Q("at|", "pressure", AB_DIM_PRESSURE),
		W("glass", "glass", ab_words_glass), Q("line", "line-length", AB_DIM_LENGTH),
		Q("line cleaned", "line-cleaned", AB_DIM_TIME) } },
	{ "checked", "instrument", " checked=\"yes\"", NULL, "an instrument that was checked",
	    "checked thermometer off by 1 C", SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_instrument), Q("off by|off", "off-temp", AB_DIM_TEMP_DIFF),
		Q("off by|off", "off-gravity", AB_DIM_GRAVITY) } },
	/* ---- the recipe, without a line of XML ---- */
	{ "family|style|kind of beer|kind|type", "batch", "", NULL, "the kind of beer", "family wheat",
	    "is beer a an the of it ", false, true, false, ROW_SETS, { W("", "family", ab_words_family) } },
	{ "recipe|planned|plan", "recipe", "", NULL, "the recipe", "recipe 20 L OG 1.048 FG 1.011 35 IBU", "and beer "
	    SMALL, false, true, false, ROW_SETS,
	    { Q("volume|batch|", "volume", AB_DIM_VOLUME), Q("og|original gravity|", "og", AB_DIM_GRAVITY),
		Q("fg|final gravity", "fg", AB_DIM_GRAVITY), Q("co2|carbonation|", "co2", AB_DIM_CO2),
		Q("", "bitterness", AB_DIM_BITTERNESS) } },
	{ "volume|batch size|batch volume|batch", "recipe", "", NULL, "how much beer", "volume 20 L",
	    "beer batch wort fermenter fermentor bucket carboy " SMALL, false, true, false,
	    ROW_SETS_NAMED("batch|into the fermenter|in the fermenter|in fermenter|into fermenter|in the bucket|"
	    "into the bucket|in bucket|in the carboy|into the carboy|in the fermentor|into the fermentor|"
	    "in fermentor|into fermentor"), { Q("", "volume", AB_DIM_VOLUME) } },
	{ "malt|malts|grain|grains|grist", "malt", "", NULL, "malt", "malt 4.5 kg pale",
	    "malt malts and grain grains " SMALL, false, true, false,
	    ROW_IN_RECIPE("malt|malts|grain|grains|crystal|munich|vienna|pilsner"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), AGE("age"), W("", "kind", ab_words_malt),
		COLOUR("name"), ID("named|called", "name") } },
	{ "sugar|sugars", "sugar", "", NULL, "sugar in the wort", "sugar 300 g candi", "sugar " SMALL, false, true,
	    false, ROW_IN_RECIPE("sugar|sugars"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), W("", "kind", ab_words_sugar),
		ID("named|called", "name") } },
	{ "late sugar|sugar added|added sugar|sugar into the fermenter",
	    "sugar", "", "at", "sugar put in while it ferments", "late sugar 300 g candi", "sugar " SMALL, false,
	    true, false, ROW_RECIPE,
	    { Q("", "amount", AB_DIM_MASS), W("", "kind", ab_words_sugar), ID("named|called", "name") } },
	{ "extract|malt extract|extracts", "extract", "", NULL, "malt extract", "extract 1.7 kg liquid aged 8 mo",
	    "extract malt old " SMALL, false, true, false, ROW_IN_RECIPE("extract|extracts|dme|lme"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), Q("aged|age|", "age", AB_DIM_TIME),
		W("", "kind", ab_words_extract), ID("named|called", "name") } },
	{ "hops|hop", "hop", "", NULL, "hops", "hops 30 g at 60 min aged 1 y kept frozen-sealed",
	    "hops hop boiled first second third last addition " SMALL, false, true, false,
	    ROW_IN_RECIPE("hops|hop|bittering|aroma"),
	    { Q("", "amount", AB_DIM_MASS), AGE("age"), B("at|for|boiled for|boiled|", "use", ab_words_hop_use),
		W("", "use", ab_words_hop_use), Q("alpha|", "alpha", AB_DIM_SHARE),
		W("kept|", "kept", ab_words_hop_keep), ID("named|called", "name"), NAME("name") } },
	{ "extra|fruit|spice|spices", "extra", "", "at", "fruit, spice, oak or coffee", "extra 20 g coriander", SMALL,
	    false, true, false, ROW_RECIPE,
	    { Q("", "amount", AB_DIM_MASS), F("sanitised|sanitized|boiled", "sanitised", "yes"),
		F("raw|unsanitised", "sanitised", "no"), ID("named|", "name") } },
	{ "forced sample fell to|forced sample fell|forced sample dropped to|forced sample is down to|"
	  "forced sample down to|forced test fell to|the forced sample fell to",
	    "test", " kind=\"forced-fermentation\" result=\"yes\"", "at", "a forced sample that fell",
	    "forced sample fell to 1.012", SMALL, false, true, false, ROW_PLAIN,
	    { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample stayed at|forced sample stands at|forced sample stuck at|forced sample still at|"
	  "forced sample unchanged at|forced sample ended the same|forced test stayed at",
	    "test", " kind=\"forced-fermentation\" result=\"no\"", "at", "a forced sample that stayed",
	    "forced sample stayed at 1.020", SMALL, false, true, false, ROW_PLAIN,
	    { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample went to|forced sample went down to|forced sample ended at|forced sample ended|"
	  "forced sample finished at|forced test ended at",
	    "test", " kind=\"forced-fermentation\"", "at", "a forced sample that ended",
	    "forced sample fell to 1.010", SMALL, false, true, false, ROW_PLAIN,
	    { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample|forced sample is at|forced sample reads|forced test|forced test reads|forced test is at|"
	  "forced ferment|forced fermentation",
	    "test", " kind=\"forced-fermentation\"", "at", ENTRY_FORCED_READ, "forced sample fell to 1.010", SMALL,
	    false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "check|result of check|result of the check|check done",
	    "test", "", "at", "a check that was done", "check hydrometer-in-water no",
	    "result came out answer was is ", false, true, false, ROW_PLAIN,
	    { F("yes|it did|it does", "result", "yes"),
		F("no|it did not|it does not|it didn't|it doesn't", "result", "no"), ID("", "kind") } },
	{ "stirred up the yeast|stirred the yeast|stirred up the yeast cake",
	    "note", "stirred up the yeast ", NULL, "only a note (rousing)", "stirred up the yeast", "", false, false,
	    true, ROW_PLAIN, { REST(NULL) } },
	{ "roused|roused up", "note", "roused ", NULL, "only a note (rousing)", "roused the yeast", "", false, true,
	    true, ROW_PLAIN, { REST(NULL) } },
	{ "swirled|swirled up", "note", "swirled ", NULL, "only a note (rousing)", "swirled the bucket", "", false,
	    true, true, ROW_PLAIN, { REST(NULL) } },
	{ "bubbling like crazy|bubbling like mad|bubbling away|bubbling hard|bubbling vigorously|bubbling strongly",
	    "note", "bubbling strongly ", NULL, "only a note (it ferments)", "bubbling like crazy", "", false, false,
	    true, ROW_PLAIN, { BREATH } },
	/* Not of its first signs: of those it is said when they began. */
	{ "airlock is bubbling|airlock still bubbling|airlock is still bubbling|airlock bubbles|airlock is going|"
	  "airlock is still going|airlock is active|airlock is busy|airlock going crazy|airlock going mad",
	    "note", "airlock bubbling ", NULL, "only a note (it ferments)", "airlock is bubbling", "", false, false,
	    true, ROW_PLAIN, { BREATH } },
	{ "bubbling slowed|bubbling has slowed|bubbling is slowing|bubbling slows|bubbling slowly|bubbling a little|"
	  "bubbling a bit|bubbling less",
	    "note", "bubbling slowly ", NULL, "only a note (it ferments)", "bubbling slowed down", "", false, false,
	    true, ROW_PLAIN, { BREATH } },
	{ "hops out|hops are out|hops were taken out|hops taken out|hops removed|dry hops out|dry hops removed|"
	  "hop bag out|removed hops|removed the hops|removed the dry hops|removed the hop bag|took out hops|"
	  "took out the hops|pulled hops|pulled the hops|pulled out the hops|fished out the hops|beer off the hops",
	    "note", "hops out ", NULL, "only a note (the hops are out)", "hops out", "", false, false, true,
	    ROW_PLAIN, { REST(NULL) } },
	{ "rocked", "note", "rocked ", NULL, "only a note (rousing)", "rocked the fermenter", "", false, true, true,
	    ROW_PLAIN, { REST(NULL) } },
	{ "pitched another|pitched more|pitched fresh|pitched a fresh|pitched a second|pitched second",
	    "note", "pitched fresh yeast: ", NULL, "only a note (fresh yeast)",
	    "pitched another packet of dry ale yeast", "", false, true, true,
	    ROW_ONLY("yeast|pack|packs|packet|packets", "hop hops sugar malt extract honey fruit nutrient nutrients "
	    "energizer energiser finings"), { REST(NULL) } },
	{ "repitched|re-pitched", "note", "pitched fresh yeast: ", NULL, "only a note (fresh yeast)",
	    "repitched dry ale yeast", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "changed", "change", "", NULL, "something new", "changed capped on foam from now on", "", false, true, true,
	    ROW_PLAIN, { REST(NULL) } },
	{ "helped|what helped|it helped to|tried and it helped|tried, and it helped", "tried", " helped=\"yes\"", NULL,
	    "a remedy that helped", "helped fill higher and cap on foam", "", false, true, true, ROW_PLAIN,
	    { REST(NULL) } },
	{ "did not help|didn't help|did not help to|what did not help|tried in vain|tried without effect|in vain",
	    "tried",
	    " helped=\"no\"", NULL, "a remedy that did not help", "did not help cool before pitching", "",
	    false, true, true,
	    ROW_PLAIN, { REST(NULL) } },
	{ "done", "note", "done: ", NULL, "done", "done wash bottles", "", false, true, true, ROW_PLAIN,
	    { REST(NULL) } },
	{ "note", "note", "", NULL, "note", "note it smells of apples", "", false, true, true, ROW_PLAIN,
	    { REST(NULL) } },
};
const struct entry_table entry_rows_recipe = { rows, sizeof rows / sizeof *rows };
