/* entry_rows_brewday.c - sentences from the boil until the yeast is in
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_slots.h"

#include <afterboil/journal.h>

static const struct entry_row rows[] = {
	{ "boiled|boil|boil time|boiling", "boil", "", NULL, "boil", "boiled for 60 min lid off", "wort boil " SMALL,
	    true, true, false,
	    ROW_BARE(AB_DIM_TIME, "lid|rolling boil|hard boil|vigorous boil|gentle boil|weak boil"),
	    { Q("for|", "time", AB_DIM_TIME), W("lid", "lid", ab_words_lid), W("", "vigour", ab_words_vigour) } },
	{ "chilled wort|cooled wort|chilled|cooled|chill|cool|chilling|cooling|chilled the wort|cooled the wort|"
	  "cooled down|chilled down|cooled it|chilled it|cooled it down|chilled it down|left to cool|left it to cool|"
	  "let it cool|let cool|put pot in|put the pot in|put kettle in|put the kettle in|pot in|kettle in|"
	  "left the kettle|left kettle|left the pot|left the wort|left it in the kettle|wort was cooled|"
	  "wort was chilled|wort cooled|wort chilled",
	    "chill", "", NULL, "chilling", "cooled in 25 min by coil to 20 C", "wort pot kettle end down temp "
	    "temperature get got getting bring brought chiller " SMALL, true, true, false, ROW_BARE(AB_DIM_TIME, ""),
	    { Q("in|for|", "to-pitch", AB_DIM_TIME), W("by|with|using|in|", "method", ab_words_chill),
		T("to|down to", "end-temp", -2, 60), F("covered", "covered", "yes") } },
	{ "lid on while it cooled|lid on while cooling|lid on while chilling|covered while it cooled|"
	  "covered while cooling|covered while chilling",
	    "chill", " covered=\"yes\"", NULL, "chilling, covered", "covered while cooling, 30 min by coil to 20 C",
	    "wort pot kettle down " SMALL, true, false, false, ROW_PLAIN,
	    { Q("in|for|", "to-pitch", AB_DIM_TIME), W("by|with|using|in|", "method", ab_words_chill),
		T("to|down to", "end-temp", -2, 60) } },
	{ "no chill|no-chill", "chill", " method=\"overnight-closed\"", NULL, "cooling overnight, closed", "no chill",
	    "overnight cube in closed " SMALL, true, false, false, ROW_PLAIN,
	    { T("to|down to", "end-temp", -2, 60) } },
	{ "yeast", "yeast", "", NULL, "yeast", "yeast clean-ale dry 11 g", "of class yeast ale " SMALL, false, true,
	    false, ROW_BARE(AB_DIM_PACKS, "yeast|starter"),
	    { W("", "form", ab_words_yeast_form), Q("", "amount", AB_DIM_MASS), Q("", "packs", AB_DIM_PACKS),
		BEHIND("starter|starter of", "starter", AB_DIM_VOLUME, "starter"), Q("", "volume", AB_DIM_VOLUME),
		AGE("age"), W("kept|stored|from|straight from", "kept", ab_words_keep),
		F("rehydrated", "rehydrated", "yes"),
		F("without rehydrating|not rehydrated|unrehydrated|without rehydration", "rehydrated", "no"),
		F("nutrient", "nutrient", "yes"), N("generation", "generation"), CALLED("strain"),
		ID("", "class") } },
	{ "rehydrated|rehydrated yeast|rehydrated the yeast|yeast rehydrated",
	    "yeast", " rehydrated=\"yes\"", NULL, "yeast that was rehydrated", "rehydrated the yeast",
	    "yeast ale lager wheat first water warm boiled " SMALL, true, false, false, ROW_PLAIN,
	    { W("", "form", ab_words_yeast_form), Q("", "packs", AB_DIM_PACKS), Q("", "amount", AB_DIM_MASS) } },
	{ "pitched|pitch|pitching|yeast pitched|yeast in|yeast added|added yeast|added the yeast|pitched the yeast|"
	  "sprinkled|sprinkled in|sprinkled on|threw it in|threw yeast in|threw the yeast in|threw in the yeast|"
	  "tossed it in|tossed in the yeast|tossed the yeast in|dumped in the yeast|dumped the yeast in|"
	  "poured in the yeast|poured the yeast in|stirred in the yeast",
	    "pitch", "", "at", "pitching", "pitched 1 packet of dry ale yeast at 18 C", "yeast with last previous "
	    "batch top fermenter fermentor bucket carboy " SMALL, true, false, false, ROW_WITH("yeast"),
	    { BEER("at|into|", "temp") } },
	/* Hops are thrown in too: of these, and of nothing else, only what says that it is yeast. */
	{ "threw in|tossed in", "pitch", "", "at", "pitching", "pitched 1 packet of dry ale yeast at 18 C",
	    "yeast with last previous batch top fermenter fermentor bucket carboy " SMALL, true, false, false, NULL,
	    false, "yeast", 0, "", "yeast|pack|packs|packet|packets|sachet|sachets|starter|slurry|vial|dregs",
	    "hop hops", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0, { BEER("at|into|", "temp") } },
	{ "aerated|aerate|aeration", "aerate", "", NULL, "aeration", "aerated by shaking for 2 min", SMALL, false,
	    true, false, ROW_PLAIN,
	    { W("by|with|using|", "method", ab_words_aerate), Q("for|", "time", AB_DIM_TIME) } },
	{ "shook|shaken|shook up|shook the bucket|shook the carboy|gave it a shake|gave it a good shake|"
	  "gave the bucket a shake|gave the bucket a good shake|gave the carboy a shake|gave the carboy a good shake|"
	  "gave the fermenter a good shake",
	    "aerate", " method=\"shake\"", NULL, "aeration by shaking", "shook for 5 min",
	    "bucket carboy fermenter wort vessel well hard really good lightly gently around before pitching " SMALL,
	    false, false, false, ROW_PLAIN, { Q("for|", "time", AB_DIM_TIME) } },
	{ "splashed it into|splashed into|splashed it in|splashed the wort into|poured it back and forth|"
	  "poured back and forth|poured the wort back and forth|poured from high up|poured it from high up|"
	  "poured it in from high up|poured from bucket to bucket",
	    "aerate", " method=\"pour\"", NULL, "aeration by pouring", "poured it back and forth",
	    "bucket buckets carboy fermenter fermentor wort well hard high up few couple times two between lots "
	    "splashing " SMALL, false, false, false, ROW_PLAIN, { Q("for|", "time", AB_DIM_TIME) } },
	{ "whisked|whisked it|whisked the wort", "aerate", " method=\"whisk\"", NULL, "aeration with a whisk",
	    "whisked for 5 min", "wort well hard " SMALL, false, false, false, ROW_PLAIN,
	    { Q("for|", "time", AB_DIM_TIME) } },
	{ "oxygenated|oxygen|pure oxygen|o2|hit it with oxygen|hit it with pure oxygen|hit with oxygen|"
	  "hit with pure oxygen|gave it oxygen|gave it pure oxygen|blew in oxygen",
	    "aerate", " method=\"oxygen\"", NULL, "aeration with oxygen", "oxygenated for 60 s",
	    "wort pure oxygen o2 stone " SMALL, false, false, false, ROW_NAMED("oxygen|pure oxygen"),
	    { Q("for|", "time", AB_DIM_TIME) } },
};
const struct entry_table entry_rows_brewday = { rows, sizeof rows / sizeof *rows };
