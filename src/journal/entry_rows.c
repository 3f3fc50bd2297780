/* entry_rows.c - the sentences of a brewing day
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_rows.h"

#include <afterboil/journal.h>

#define Q(keys, attr, dim) { ENTRY_QUANTITY, keys, attr, dim, NULL, NULL, 0, 0, NULL }
/* A temperature, and what it usually is: working estimates. */
#define T(keys, attr, lo, hi) { ENTRY_QUANTITY, keys, attr, AB_DIM_TEMP, NULL, NULL, lo, hi, NULL }
#define BEER(keys, attr) T(keys, attr, -3, 45)
#define ROOM(keys, attr) T(keys, attr, -6, 45)
#define N(keys, attr) { ENTRY_NUMBER, keys, attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define AGE(attr) { ENTRY_QUANTITY, "aged|age", attr, AB_DIM_TIME, NULL, NULL, 0, 0, "old|of age" }
/* "a 1 quart starter", "2.5 cm headspace" */
#define BEHIND(keys, attr, dim, behind) { ENTRY_QUANTITY, keys, attr, dim, NULL, NULL, 0, 0, behind }
#define W(keys, attr, words) { ENTRY_WORD, keys, attr, AB_DIM_NONE, words, NULL, 0, 0, NULL }
#define F(keys, attr, fixed) { ENTRY_FIXED, keys, attr, AB_DIM_NONE, NULL, fixed, 0, 0, NULL }
#define ID(keys, attr) { ENTRY_ID, keys, attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
/* Kit with a name of its own, so that a bad piece shows up in the records: "the fermenter named red". */
#define NAMED ID("named|called|number|nr|id", "id")
#define NAME(attr) { ENTRY_NAME, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define B(keys, attr, words) { ENTRY_BOILED, keys, attr, AB_DIM_NONE, words, NULL, 0, 0, NULL }
#define REST(attr) { ENTRY_REST, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }

/* The journal has no place for it, and it stands in a note: "~" and by which words. */
#define NOTED(keys, words, dim) Q(keys, "~" words, dim)
/* How many there were, and how large: "38 bottles, 2 short", "40 x 500 mL". */
#define PIECES(of) { ENTRY_PIECES, "", "~", AB_DIM_NONE, NULL, NULL, 0, 0, of }
/* As BREATH, with its temperatures and gravities: the journal has no place for these either. */
#define BREATH_ALL { ENTRY_BREATH, "", NULL, AB_DIM_NONE, NULL, "all", 0, 0, NULL }
#define BREATH { ENTRY_BREATH, "", NULL, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define COLOUR(attr) { ENTRY_COLOUR, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define CALLED(attr) { ENTRY_NAME, "called|named|strain", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }, { ENTRY_ID, "called|named|strain", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }

/* inside, sets, with, bare, nouns, only, never, stage, then, then_dim, below_c */
#define ROW_PLAIN NULL, false, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_RECIPE "recipe", false, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_SETS NULL, true, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_WITH(element) NULL, false, element, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_THEN(then, dim, never) NULL, false, NULL, 0, "", NULL, never, ENTRY_ANY_TIME, then, dim, 0
#define ROW_BARE(dim, nouns) NULL, false, NULL, 1u << (dim), nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_NAMED(nouns) NULL, false, NULL, 0, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_ONLY(words, never) NULL, false, NULL, 0, "", words, never, ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_WHILE(stage, words, never) NULL, false, NULL, 0, "", words, never, stage, NULL, AB_DIM_NONE, 0
#define ROW_COLD(stage, words, never, below) NULL, false, NULL, 0, "", words, never, stage, NULL, AB_DIM_NONE, below
#define ROW_WHILE_NAMED(stage, nouns, words, never) NULL, false, NULL, 0, nouns, words, never, stage, NULL, AB_DIM_NONE, 0
#define ROW_IN_RECIPE(nouns) "recipe", false, NULL, 1u << AB_DIM_MASS, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_SETS_NAMED(nouns) NULL, true, NULL, 1u, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0

/* Words between the things said that add nothing. */
#define SMALL "of the a an in into to with at and was is it its on from for some took lasted now up we i my after then this " \
	"still again yet already just only really actually exactly there here it's had has have been be were are so today"

/* Of first signs nothing is "still" or "again". */
#define OF_SIGNS "of the a an in into to with at and was is it its on from for some took up we i my after then this already just only really it's has have been there so today "

/* Where a fermenter stands or bottles do, between words of a line and as what may be found there. DARK: of these, where no light comes in. */
#define PLACES "cellar basement garage kitchen closet shed bathroom bedroom pantry hallway attic loft laundry utility spare upstairs downstairs corner cupboard wardrobe "
#define A_PLACE "cellar|basement|garage|kitchen|closet|shed|bathroom|bedroom|pantry|hallway|attic|loft|laundry room|utility room|spare room|upstairs|downstairs|corner|cupboard|wardrobe"
#define DARK "cellar|basement|closet|cupboard|wardrobe|under the stairs|the dark|dark room"
#define ROOMS "cellar|basement|garage|kitchen|closet|shed|bathroom|bedroom|pantry|hallway|attic|loft|laundry room|utility room|spare room"

#define COLD_PLACE "fridge|refrigerator|freezer"
/* What was turned, and how: "bumped the temp up to 70 F", "turned fridge down to 2 C". COLDEST_FERMENTING: no yeast of the trade is made to work below it
 * (estimate), and whoever cools beer to less crashes it. WARMEST_BEER: as in BEER. */
#define COLDEST_FERMENTING 5
#define WARMEST_BEER 45
#define TURNED "raised|raised it|bumped|bumped it|ramped|ramped it|warmed|warmed it|lowered|lowered it|dropped|dropped it|let it rise|let it free rise|let it warm|let it warm up|let it drop|let it cool|free rise|free rose|turned it|turned|turned it up|turned it down|turned up|turned down|brought it|brought it up|brought it down|cranked it|set temp|set the temp|set temperature|set the temperature|" \
	"raised temp|raised the temp|raised temperature|raised the temperature|bumped temp|bumped the temp|bumped temperature|bumped the temperature|lowered temp|lowered the temp|lowered temperature|lowered the temperature|dropped temp|dropped the temp|dropped temperature|dropped the temperature"
#define TURNED_TO "to|up to|down to|back to|back up to|back down to|slowly to"
#define TURNED_NEVER "pitch pitched mash sparge ph volume pressure gas co2 regulator keg bottles bottle cans kettle room starter"
#define SET "set|turned|turned up|turned down|lowered|raised|bumped|dropped|cranked|reduced"
#define COOLERS "fridge|refrigerator|freezer|chest freezer|fermentation chamber|ferm chamber|chamber|fermentation fridge"
#define COOLER_WORDS "fridge refrigerator chest freezer fermentation ferm chamber temp temperature up down " SMALL
#define GASES "regulator|regulators|gas|co2|serving pressure|head pressure|keg pressure"
#define STORED_WORDS "temp temperature bottles cans keg and place cool box crate case larder hall room there " PLACES SMALL
#define STORED { BEER("at|", "temp"), Q("for", "for", AB_DIM_TIME), W("in|to|into|under|", "light", ab_words_light), BEER("hottest", "hottest"), F("upright", "upright", "yes") }

/* What a line about bottles holds, and its little words; cans are filled alike. */
#define BOTTLING_WORDS "beer primed priming bottles bottle and l all normal plain ordinary water boiled dissolved using done filled mixed stirred bucket bottling into in them " SMALL
#define BOTTLING { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), Q("at", "gravity", AB_DIM_GRAVITY), W("in|into|", "bottle", ab_words_bottle), \
	W("sugar|", "mixing", ab_words_mixing), W("caps|capped with", "cap", ab_words_cap), F("capped on foam|on foam", "cap-on-foam", "yes"), \
	BEHIND("neck|headspace|head space|gap", "neck", AB_DIM_LENGTH, "headspace|head space|of headspace|of head space|neck|in the neck|gap|of air|of neck|empty|below the cap|under the cap|from the top"), Q("in|into", "size", AB_DIM_VOLUME), Q("", "volume", AB_DIM_VOLUME), W("", "colour", ab_words_colour), \
	F("with wand|with a wand|with the wand|by wand|with bottling wand|with a bottling wand|with the bottling wand|from the bottom up|from the bottom", "wand", "yes"), \
	F("without wand|without a wand|without the wand|without a bottling wand|no wand|straight from the tap|straight from the spigot|from the tap|from the spigot", "wand", "no"), \
	PIECES("bottles|bottle|longnecks|long necks|bombers|growlers|swing tops|swing-tops|swing top bottles|pet bottles|plastic bottles|mini kegs|minikegs|mini-kegs") }
#define CANNING_WORDS "beer primed priming cans can and all aluminium aluminum sugar with using purged gas co2 seamed them them " SMALL
#define CANNING { Q("with", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), Q("at", "gravity", AB_DIM_GRAVITY), F("plastic cans|plastic can|plastic", "bottle", "plastic-can"), \
	W("sugar|", "mixing", ab_words_mixing), F("no sugar|without sugar|no priming sugar|no priming|without priming|unprimed|not primed", "priming", "0 g"), \
	W("into|in|", "filled", ab_words_target), Q("in|into", "size", AB_DIM_VOLUME), Q("", "volume", AB_DIM_VOLUME), PIECES("cans|can|plastic cans") }

#define CASKING { Q("with|", "priming", AB_DIM_MASS), F("no sugar|without sugar|no priming sugar|no priming|without priming|unprimed|not primed", "priming", "0 g"), W("", "sugar", ab_words_sugar), W("", "mixing", ab_words_mixing), \
	Q("at", "gravity", AB_DIM_GRAVITY), Q("", "volume", AB_DIM_VOLUME) }
#define KEGGING_WORDS "keg kegs beer and sugar with co2 gas " SMALL
#define KEGGING { W("into|in|", "filled", ab_words_target), Q("at", "gravity", AB_DIM_GRAVITY), N("purges|purged|flushed|flushed keg with co2|flushed the keg with co2|flushed with co2|flushed keg|flushed it|purged it|purged keg|purged keg with co2|purged the keg|purged with co2", "purges"), Q("to", "purge-pressure", AB_DIM_PRESSURE), \
	Q("with", "priming", AB_DIM_MASS), F("no sugar|without sugar|no priming sugar|no priming|without priming|unprimed|not primed", "priming", "0 g"), W("", "sugar", ab_words_sugar), Q("", "volume", AB_DIM_VOLUME), \
	F("mini keg|mini kegs|minikeg|minikegs|mini-keg|mini-kegs", "bottle", "mini-keg"), PIECES("kegs|mini kegs|minikegs|mini-kegs") }

const struct entry_row entry_rows[] = {
	{ "boiled|boil|boil time|boiling", "boil", "", NULL, "boil", "boiled for 60 min lid off", "wort boil " SMALL, true, true, false, ROW_BARE(AB_DIM_TIME, "lid|rolling boil|hard boil|vigorous boil|gentle boil|weak boil"),
	    { Q("for|", "time", AB_DIM_TIME), W("lid", "lid", ab_words_lid), W("", "vigour", ab_words_vigour) } },
	{ "chilled wort|cooled wort|chilled|cooled|chill|cool|chilling|cooling|chilled the wort|cooled the wort|cooled down|chilled down|cooled it|chilled it|cooled it down|chilled it down|left to cool|left it to cool|let it cool|let cool|put pot in|put the pot in|put kettle in|put the kettle in|pot in|kettle in|left the kettle|left kettle|left the pot|left the wort|left it in the kettle|wort was cooled|wort was chilled|wort cooled|wort chilled", "chill", "", NULL, "chilling", "cooled in 25 min by coil to 20 C", "wort pot kettle end down temp temperature get got getting bring brought chiller " SMALL, true, true, false, ROW_BARE(AB_DIM_TIME, ""),
	    { Q("in|for|", "to-pitch", AB_DIM_TIME), W("by|with|using|in|", "method", ab_words_chill), T("to|down to", "end-temp", -2, 60),
		F("covered", "covered", "yes") } },
	{ "lid on while it cooled|lid on while cooling|lid on while chilling|covered while it cooled|covered while cooling|covered while chilling", "chill", " covered=\"yes\"", NULL, "chilling, covered", "covered while cooling, 30 min by coil to 20 C",
	    "wort pot kettle down " SMALL, true, false, false, ROW_PLAIN, { Q("in|for|", "to-pitch", AB_DIM_TIME), W("by|with|using|in|", "method", ab_words_chill), T("to|down to", "end-temp", -2, 60) } },
	{ "no chill|no-chill", "chill", " method=\"overnight-closed\"", NULL, "cooling overnight, closed", "no chill", "overnight cube in closed " SMALL, true, false, false, ROW_PLAIN,
	    { T("to|down to", "end-temp", -2, 60) } },
	{ "yeast", "yeast", "", NULL, "yeast", "yeast clean-ale dry 11 g", "of class yeast ale " SMALL, false, true, false, ROW_BARE(AB_DIM_PACKS, "yeast|starter"),
	    { W("", "form", ab_words_yeast_form), Q("", "amount", AB_DIM_MASS), Q("", "packs", AB_DIM_PACKS), BEHIND("starter|starter of", "starter", AB_DIM_VOLUME, "starter"),
		Q("", "volume", AB_DIM_VOLUME), AGE("age"), W("kept|stored|from|straight from", "kept", ab_words_keep),
		F("rehydrated", "rehydrated", "yes"), F("without rehydrating|not rehydrated|unrehydrated|without rehydration", "rehydrated", "no"), F("nutrient", "nutrient", "yes"), N("generation", "generation"), CALLED("strain"), ID("", "class") } },
	{ "rehydrated|rehydrated yeast|rehydrated the yeast|yeast rehydrated", "yeast", " rehydrated=\"yes\"", NULL, "yeast that was rehydrated", "rehydrated the yeast", "yeast ale lager wheat first water warm boiled " SMALL, true, false, false,
	    ROW_PLAIN, { W("", "form", ab_words_yeast_form), Q("", "packs", AB_DIM_PACKS), Q("", "amount", AB_DIM_MASS) } },
	{ "pitched|pitch|pitching|yeast pitched|yeast in|yeast added|added yeast|added the yeast|pitched the yeast|sprinkled|sprinkled in|sprinkled on|threw it in|threw yeast in|threw the yeast in|threw in the yeast|tossed it in|tossed in the yeast|tossed the yeast in|dumped in the yeast|dumped the yeast in|poured in the yeast|poured the yeast in|stirred in the yeast", "pitch", "", "at", "pitching", "pitched 1 packet of dry ale yeast at 18 C", "yeast with last previous batch top fermenter fermentor bucket carboy " SMALL, true, false, false, ROW_WITH("yeast"),
	    { BEER("at|into|", "temp") } },
	/* Hops are thrown in too: of these, and of nothing else, only what says that it is yeast. */
	{ "threw in|tossed in", "pitch", "", "at", "pitching", "pitched 1 packet of dry ale yeast at 18 C", "yeast with last previous batch top fermenter fermentor bucket carboy " SMALL, true, false, false,
	    NULL, false, "yeast", 0, "", "yeast|pack|packs|packet|packets|sachet|sachets|starter|slurry|vial|dregs", "hop hops", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0, { BEER("at|into|", "temp") } },
	{ "aerated|aerate|aeration", "aerate", "", NULL, "aeration", "aerated by shaking for 2 min", SMALL, false, true, false, ROW_PLAIN,
	    { W("by|with|using|", "method", ab_words_aerate), Q("for|", "time", AB_DIM_TIME) } },
	{ "shook|shaken|shook up|shook the bucket|shook the carboy|gave it a shake|gave it a good shake|gave the bucket a shake|gave the bucket a good shake|gave the carboy a shake|gave the carboy a good shake|gave the fermenter a good shake", "aerate", " method=\"shake\"", NULL, "aeration by shaking", "shook for 5 min", "bucket carboy fermenter wort vessel well hard really good lightly gently around before pitching " SMALL, false, false, false,
	    ROW_PLAIN, { Q("for|", "time", AB_DIM_TIME) } },
	{ "splashed it into|splashed into|splashed it in|splashed the wort into|poured it back and forth|poured back and forth|poured the wort back and forth|poured from high up|poured it from high up|poured it in from high up|poured from bucket to bucket", "aerate", " method=\"pour\"", NULL,
	    "aeration by pouring", "poured it back and forth", "bucket buckets carboy fermenter fermentor wort well hard high up few couple times two between lots splashing " SMALL, false, false, false, ROW_PLAIN, { Q("for|", "time", AB_DIM_TIME) } },
	{ "whisked|whisked it|whisked the wort", "aerate", " method=\"whisk\"", NULL, "aeration with a whisk", "whisked for 5 min", "wort well hard " SMALL, false, false, false, ROW_PLAIN, { Q("for|", "time", AB_DIM_TIME) } },
	{ "oxygenated|oxygen|pure oxygen|o2|hit it with oxygen|hit it with pure oxygen|hit with oxygen|hit with pure oxygen|gave it oxygen|gave it pure oxygen|blew in oxygen", "aerate", " method=\"oxygen\"", NULL, "aeration with oxygen", "oxygenated for 60 s", "wort pure oxygen o2 stone " SMALL, false, false, false,
	    ROW_NAMED("oxygen|pure oxygen"), { Q("for|", "time", AB_DIM_TIME) } },
	{ "wort|beer|temperature|temp|fermenting|beer temperature|wort temperature|beer temp|wort temp|fermentation temperature|fermentation temp", "reading", "", "at", "temperature of the beer", "wort 19.5 C",
	    "temperature temp and beer wort chilling cooling pitching aerating reads says shows " SMALL, false, true, false, ROW_BARE(AB_DIM_TEMP, ""),
	    { BEER("at|dropped to|fell to|went down to|rose to|went up to|climbed to|came up to|down to|up to|", "wort"), ROOM("room|room at|room is|in a room of", "room") } },
	{ "bucket|bucket at|bucket is|bucket is at|carboy|carboy at|carboy is at|fermenter at|fermenter is at|fermenter temp|fermenter temperature|fermentor at|fermentor is at|fermentor temp|fermentor temperature", "reading", "", "at", "temperature of the beer", "bucket 19 C",
	    "temperature temp " SMALL, false, true, false, ROW_PLAIN, { BEER("at|", "wort"), ROOM("room|room at|room is|in a room of", "room") } },
	{ "still fermenting|still working|still going|still bubbling|still active|still foaming|still has foam|still has krausen", "reading", "", "at", "beer that ferments", "still fermenting 1.018", "beer away gravity wort " SMALL, false, true, false, ROW_PLAIN,
	    { Q("", "gravity", AB_DIM_GRAVITY), BEER("at|", "wort") } },
	{ "room|room temperature|room temp|ambient|ambient temperature", "reading", "", "at", "temperature of the room", "room 21 C", "temperature temp inside room " PLACES SMALL, false, true, false, ROW_BARE(AB_DIM_TEMP, ROOMS), { ROOM("at|dropped to|fell to|went down to|rose to|went up to|climbed to|down to|up to|", "room") } },
	{ "temperature in|temp in|temperature of|temp of", "reading", "", "at", "temperature of the room", "room 21 C", "temperature temp inside room overnight last night " PLACES SMALL, false, true, false, ROW_ONLY(ROOMS, "beer wort fermenter bucket carboy mash water"),
	    { ROOM("fell to|dropped to|went down to|rose to|went up to|climbed to|was|is|at|to|down to|up to|", "room") } },
	{ "gravity|sg|specific gravity|fg|final gravity|took a gravity reading|took gravity|took a gravity|took a sample|took sample|took another sample|pulled a sample", "reading", "", "at", "gravity", "gravity 1.020 SG at 22 C by hydrometer", "bottle degassed sg reading got took came says reads shows read showed stable unchanged same before sample dropping falling third second fourth time times row straight hydrometer " SMALL, false,
	    true, false, ROW_BARE(AB_DIM_GRAVITY, ""),
	    { Q("|at|hasn't changed|has not changed|unchanged|unchanged at|stable at|steady at|stuck at|down to|dropped to|fell to", "gravity", AB_DIM_GRAVITY), T("at", "sample", -2, 60),
		W("by|with|", "instrument", ab_words_instrument), F("corrected", "corrected", "yes"), F("uncorrected", "corrected", "no") } },
	{ "og|original gravity|starting gravity|start gravity|initial gravity", "reading", " at=\"+0h\"", NULL, "original gravity", "OG 1.048 at 22 C by hydrometer", "sg reading says reads shows read showed sample came out " SMALL, false,
	    true, false, ROW_BARE(AB_DIM_GRAVITY, ""),
	    { Q("|at|of", "gravity", AB_DIM_GRAVITY), T("at", "sample", -2, 60), W("by|with|", "instrument", ab_words_instrument),
		F("corrected", "corrected", "yes"), F("uncorrected", "corrected", "no"), F("mixed|stirred", "mixed", "yes") } },
	{ "ph", "reading", "", "at", "pH", "ph 4.4", "is", false, true, false, ROW_PLAIN, { Q("", "ph", AB_DIM_PH) } },
	{ "first signs|first signs of fermentation|first bubbles|first foam|first krausen|first kraeusen|active|started|started fermenting|fermentation started|fermentation has started|lag|lag time|lag phase|airlock started|airlock started bubbling|airlock going|airlock going since|airlock active|airlock bubbling|airlock bubbling since|started bubbling|started foaming|bubbling started|it started|it started bubbling|bubbling since|foaming since|fermenting since|bubbling after|foaming after|fermenting after|foam after|krausen after|bubbles after|active since|active after|took off|took off after", "lag", "", NULL, "first signs of fermentation", "first signs after 9 h", "fermenting bubbling bubbles foam foaming krausen kraeusen airlock yeast top seen through " OF_SIGNS, true, true, false, ROW_NAMED("foam|foaming|bubbling|bubbles|krausen|kraeusen"),
	    { Q("after|at|was|of|", "first-signs", AB_DIM_TIME) } },
	{ "warm rest|diacetyl rest|d-rest|d rest|rest", "rest", "", "at", "warm rest", "rest at 21 C for 3 d", SMALL, false, true, false, ROW_PLAIN,
	    { BEER("at|to|", "temp"), Q("for|", "for", AB_DIM_TIME) } },
	{ "raised it to|raised to|raised temp to|raised the temp to|raised the temperature to|bumped to|bumped it to|bumped up to|bumped it up to|bumped temp to|bumped the temp to|turned it up to|turned up to|brought it up to|warmed it to|warmed it up to|warmed up to|let it rise to|let it warm to|let it warm up to|ramped to|ramped up to", "rest", "", "at", "warm rest", "raised it to 21 C for 3 d", "up clean cleanup diacetyl rest " SMALL, false, true, false,
	    ROW_ONLY("for|rest|clean up|cleanup|diacetyl", "pitch pitched mash sparge"), { BEER("at|to|", "temp"), Q("for", "for", AB_DIM_TIME), } },
	{ "dry hops|dry hopped|dry hop|dry hopping|dry-hopped|dry-hop|dry-hops|dryhopped|dryhop|dryhops|dh", "dry-hop", "", "at", "dry hops", "dry hop 60 g opened lid for 4 d", "dry hops hop beer wort quick quickly briefly short " SMALL, false, true, false, ROW_BARE(AB_DIM_MASS, "dry hops|dry hop|hops|hop"),
	    { Q("with|", "amount", AB_DIM_MASS), W("opened|through|by|", "opened", ab_words_hop_open), Q("for|x", "contact", AB_DIM_TIME), F("loose", "loose", "yes"),
		F("bagged|bag", "loose", "no"), ID("named|called", "name"), NAME("name") } },
	{ "opened", "opened", "", "at", "vessel open", "opened for 2 min", "lid fermenter bucket off up quick quickly briefly short shortly once " SMALL, false, false, false, ROW_NAMED("lid"), { Q("for|", "for", AB_DIM_TIME) } },
	{ "spunding|spunded|spund|spunding valve|spunding valve set|under pressure|fermenting under pressure|fermented under pressure|pressure fermentation|pressure over the beer|fermenter pressure|fermenter under pressure", "spund", "", "at",
	    "fermenting under pressure", "spunding at 0.8 bar", "fermenter valve set beer pressure " SMALL, false, true, false, ROW_PLAIN, { Q("at|to|of|", "pressure", AB_DIM_PRESSURE) } },
	{ "cold crashed|cold crash|crashed|crash|cold crashing", "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "beer " SMALL, false, false, false, ROW_PLAIN,
	    { T("to|at|", "temp", -3, 20), Q("for|x", "for", AB_DIM_TIME), W("under|with|by|", "airlock", ab_words_airlock),
		F("sucked back|sucked", "sucked-back", "yes") } },
	/* What it was brought to is the beer's own from then on; how long it is held there nobody said. */
	{ TURNED, "reading", "", "at", "temperature of the beer", "fermenting at 19 C", "temp temperature beer fermenter up down " SMALL, false, true, false, ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER, WARMEST_BEER), { BEER(TURNED_TO, "wort") } },
	{ TURNED, "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "temp temperature beer fermenter up down " SMALL, false, true, false, ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER, COLDEST_FERMENTING),
	    { BEER(TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	{ "cooled|cooled down|cooled it|cooled it down|cooled the beer|chilled|chilled down|chilled it|chilled it down|chilled the beer|crash cooled|crash chilled", "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "beer fermenter down " SMALL, false, true, false,
	    ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER " wort coil plate ice min minutes", COLDEST_FERMENTING), { BEER(TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	{ SET, "store", "", "from", "storage", "stored at 12 C dark", COOLER_WORDS, false, true, false, ROW_WHILE(ENTRY_PACKAGED, COOLERS, "pitch mash"), { BEER("at|" TURNED_TO, "temp"), Q("for", "for", AB_DIM_TIME) } },
	{ SET, "reading", "", "at", "where the vessel stands: temperature of the room", "moved the bucket to a room of 18 C", COOLER_WORDS, false, true, false, ROW_WHILE(ENTRY_YEAST_IN, COOLERS, "pitch mash"), { ROOM("at|" TURNED_TO, "room") } },
	{ SET, "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", COOLER_WORDS, false, true, false, ROW_COLD(ENTRY_YEAST_IN, COOLERS, "pitch mash", COLDEST_FERMENTING),
	    { BEER("at|" TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	/* A vessel that is carried is no transfer. */
	{ "moved bucket|moved the bucket|moved carboy|moved the carboy|moved fermenter|moved the fermenter|moved fermentor|moved the fermentor|carried the bucket|carried the carboy|carried the fermenter", "reading", "", "at", "where the vessel stands: temperature of the room",
	    "moved the bucket to a room of 18 C", "warmer cooler temperature temp inside down back where room " PLACES SMALL, false, true, false, ROW_PLAIN, { ROOM("room|room at|room is|in a room of|to a room of|room of|at", "room"), ROOM("", "room") } },
	/* With a fridge told alone it is the vessel too, till there are bottles. */
	{ "moved it to|moved to|moved it|carried it|brought it|took it|put it|set it|stood it", "reading", "", "at", "where the vessel stands: temperature of the room",
	    "moved the bucket to a room of 18 C", "warmer cooler fridge refrigerator freezer temperature temp inside down back where room " PLACES SMALL, false, true, false, ROW_WHILE_NAMED(ENTRY_FERMENTING, "fridge", A_PLACE "|" COLD_PLACE, "keg bottle bottles secondary purged from out"),
	    { ROOM("room|room at|room is|in a room of|to a room of|room of|at", "room"), ROOM("", "room") } },
	{ "put it|set it|stood it", "vessel", "", NULL, "where the vessel stands", "put it in the closet", "fermenter room " PLACES SMALL, false, true, false,
	    ROW_WHILE(ENTRY_FERMENTING, DARK, "keg bottle bottles secondary purged"), { W("light|in|into|to|under|", "light", ab_words_light), ROOM("room at|room|at|", "room") } },
	{ "closed transfer|closed xfer|closed transferred", "transfer", " how=\"closed\"", "at", "closed transfer", "closed transfer into purged keg", "off beer keg kegs vessel fermenter clean over with co2 " SMALL,
	    false, false, false, ROW_PLAIN, { W("into|to|", "target", ab_words_target) } },
	{ "racked|transferred|moved|xferred|xfer", "transfer", "", "at", "transfer", "racked by siphon into purged keg", "off beer keg kegs bucket carboy vessel fermenter secondary 2ndary bottling another second clean over " SMALL,
	    false, false, false, ROW_PLAIN,
	    { W("into|to|", "target", ab_words_target), W("by|with|using|through|", "how", ab_words_transfer), F("splashed|splashing|bit of splashing|some splashing", "splashed", "yes"),
		F("quietly|quiet|no splashing|without splashing|not splashed|gently", "splashed", "no") } },
	{ "siphoned|syphoned", "transfer", " how=\"siphon\"", "at", "transfer by siphon", "siphoned into purged keg", "beer keg kegs bucket carboy vessel fermenter secondary bottling another second clean over " SMALL,
	    false, false, false, ROW_PLAIN,
	    { W("into|to|", "target", ab_words_target), F("splashed|splashing|bit of splashing|some splashing", "splashed", "yes"), F("quietly|quiet|no splashing|without splashing|not splashed|gently", "splashed", "no") } },
	{ "cleaned|washed|scrubbed|soaked|cleaned out|washed out", "gear", "", NULL, "cleaning", "cleaned fermenter with percarbonate", "all well out overnight night over thoroughly " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), W("with|using|in|by", "cleaned", ab_words_agent), F("apart|dismantled", "dismantled", "yes"), NAMED } },
	{ "rinsed|rinsed out", "gear", " cleaned=\"water\"", NULL, "cleaning with water", "rinsed fermenter", "all well out hot warm cold tap water with thoroughly " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), NAMED } },
	{ "sanitised|sanitized|disinfected|sterilised|sterilized", "gear", "", NULL, "sanitising", "sanitised hose with acid for 2 min", "sanitiser sanitizer solution " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), W("with|using|in|by", "sanitiser", ab_words_sanitiser), Q("for", "contact", AB_DIM_TIME), Q("dose|at", "dose", AB_DIM_DOSE),
		F("no rinse|no-rinse|not rinsed|unrinsed|without rinsing", "rinse", "none"), W("rinsed|rinse", "rinse", ab_words_rinse), NAMED } },
	{ "bottled|bottled up|bottling|bottling day", "package", " into=\"bottles\"", "at", "bottling", "bottled with 120 g sucrose at 1.011 SG", "beer primed priming bottles and bottle l all normal plain ordinary water boiled dissolved using done filled mixed stirred bucket bottling " SMALL, true, false, false, ROW_PLAIN,
	    BOTTLING },
	{ "filled|filled up", "package", " into=\"bottles\"", "at", "bottling", "bottled with 120 g sucrose at 1.011 SG", BOTTLING_WORDS, true, false, false,
	    ROW_ONLY("bottle|bottles|swing tops|swing-tops|longnecks|growlers|bombers", "fermenter fermentor bucket carboy kettle pot water sanitiser sanitizer keg kegs can cans cask"), BOTTLING },
	{ "canned|canned it|canning|canning day|canned up", "package", " into=\"cans\"", "at", "canning", "canned 19 L at 1.011 SG", CANNING_WORDS, true, false, false, ROW_PLAIN, CANNING },
	{ "filled|filled up", "package", " into=\"cans\"", "at", "canning", "canned 19 L at 1.011 SG", CANNING_WORDS, true, false, false,
	    ROW_ONLY("can|cans", "fermenter fermentor bucket carboy kettle pot water sanitiser sanitizer keg kegs bottle bottles cask watering jerry"), CANNING },
	{ "casked|casked it|racked into cask|racked into the cask|racked into a cask|racked to cask|racked to the cask|into the cask|casking", "package", " into=\"cask\"", "at", "filling the cask",
	    "casked with 60 g sucrose at 1.012 SG", "beer primed priming cask and sugar with using " SMALL, true, false, false, ROW_PLAIN, CASKING },
	{ "filled|filled up", "package", " into=\"cask\"", "at", "filling the cask", "casked with 60 g sucrose at 1.012 SG", "beer primed priming cask casks and sugar with using " SMALL, true, false, false,
	    ROW_ONLY("cask|casks", "fermenter fermentor bucket carboy kettle pot water sanitiser sanitizer bottle bottles can cans keg kegs"), CASKING },
	{ "primed|priming|priming sugar|dissolved", "package", "", NULL, "priming", "primed with 110 g sucrose", "beer bottling bucket sugar bottles normal plain ordinary water boiled dissolved using mixed stirred " SMALL, true, true, false,
	    ROW_BARE(AB_DIM_MASS, "sugar|sugars"),
	    { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), W("sugar|", "mixing", ab_words_mixing), Q("in|into", "size", AB_DIM_VOLUME),
		Q("for|", "volume", AB_DIM_VOLUME) } },
	{ "boiled|boiled up", "package", "", NULL, "priming", "boiled 110 g sugar", "beer bottling bucket sugar bottles normal plain ordinary water using and min minutes " SMALL, true, true, false,
	    ROW_ONLY("sugar|sucrose|dextrose|glucose", "lid wort kettle hops"), { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar) } },
	{ "kegged|keged|kegged it", "package", " into=\"keg\"", "at", "kegging", "kegged into liquid-purged at 1.011 SG", KEGGING_WORDS, true, false, false, ROW_THEN("carbonated", AB_DIM_PRESSURE, "purge purges purged purging flushed flushing seated sealed seal pressurised pressurized pushed transferred"), KEGGING },
	{ "filled|filled up", "package", " into=\"keg\"", "at", "kegging", "kegged into liquid-purged at 1.011 SG", KEGGING_WORDS, true, false, false,
	    ROW_ONLY("keg|kegs|minikeg|minikegs", "fermenter fermentor bucket carboy kettle pot water sanitiser sanitizer bottle bottles can cans cask"), KEGGING },
	{ "carbonated|gas on|on gas|on the gas|put on gas|put it on gas|put on the gas|put it on the gas|hooked up gas|hooked up the gas|connected gas|connected the gas|carbonate|carbing|carbonating|force carbonated|force-carbonated|force carbed|carbed|set the gas to|set gas to|set the gas at|set gas at|set the keg to|set keg to|set the regulator to|set regulator to", "carbonate", "", NULL, "gas on the keg", "carbonated at 0.9 bar and 5 C", "and keg " SMALL, true, true, false, ROW_BARE(AB_DIM_PRESSURE, ""),
	    { Q("at|to|set to|set at|", "pressure", AB_DIM_PRESSURE), BEER("at|", "temp"), Q("for", "for", AB_DIM_TIME), W("by|", "method", ab_words_gas) } },
	{ "burst carbonated|burst carbed|burst carb|burst carbing|burst carbonating", "carbonate", " method=\"burst\"", NULL, "gas on the keg", "burst carbonated at 2 bar for 24 h", "and keg " SMALL, true, true, false, ROW_PLAIN,
	    { Q("at|to|", "pressure", AB_DIM_PRESSURE), BEER("at|", "temp"), Q("for", "for", AB_DIM_TIME) } },
	{ SET, "carbonate", "", NULL, "gas on the keg", "carbonated at 0.9 bar and 5 C", "regulator gas co2 pressure serving head keg " SMALL, true, true, false, ROW_ONLY(GASES, "spunding spund fermenter"),
	    { Q("at|" TURNED_TO, "pressure", AB_DIM_PRESSURE), BEER("at", "temp") } },
	{ "keg", "carbonate", "", NULL, "gas on the keg", "keg lost pressure", "gas lid seal post through around the a an at is was it its has now by " , true, true, false, ROW_PLAIN,
	    { F("lost pressure|loses pressure|losing pressure|lost its pressure|lost gas|loses gas|losing gas|lost its gas|leaks|leaked|leaking|hisses|hissing", "lost-pressure", "yes"),
		F("holds pressure|held pressure|kept pressure|holds its pressure|held its pressure|kept its pressure|tight", "lost-pressure", "no") } },
	{ "airlock still|airlock is still|airlock silent|airlock is silent|airlock quiet|airlock is quiet|airlock dead|airlock is dead|airlock stopped|airlock has stopped|airlock stopped bubbling|airlock has stopped bubbling|airlock not bubbling|airlock isn't bubbling|airlock is not bubbling|no airlock activity|no bubbles in the airlock|no bubbles from the airlock|no bubbling|stopped bubbling|bubbling stopped|bubbling has stopped",
	    "looks", " airlock-still=\"yes\"", "at", "sight: the airlock is still", "airlock still", "in the airlock " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "ring in the neck|ring in the necks|ring in neck|ring inside the neck|ring inside the necks|ring in the bottle neck|ring in the bottle necks|ring in the bottles|neck ring", "looks", " neck-ring=\"yes\"", "at", "sight: a ring in the bottle necks",
	    "ring in the neck", "bottles bottle all some " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "stored|store|moved bottles|moved the bottles|moved cans|moved the cans|put cans|put the cans|cans in|cans are in|all cans in|bottles moved|bottles in|all bottles in|all the bottles in|all bottles are in|all the bottles are in|bottles all in|bottles at|all bottles at|bottles are in|bottles are at|bottles now at|bottles now in|bottles are now at|bottles are now in|bottles stand in|bottles stored|chilled bottles|chilled the bottles|put them|put bottles|put the bottles|moved them|stuck them|stuck the bottles", "store", "", "from", "storage", "stored at 12 C dark",
	    STORED_WORDS, false, true, false, ROW_NAMED("cellar|fridge"), STORED },
	{ "put|put it", "store", "", "from", "storage", "stored at 12 C dark", STORED_WORDS, false, true, false, ROW_WHILE(ENTRY_PACKAGED, NULL, ""), STORED },
	{ "moved it", "store", "", "from", "storage", "stored at 12 C dark", STORED_WORDS, false, true, false, ROW_WHILE(ENTRY_PACKAGED, A_PLACE "|fridge", "purged secondary from out"), STORED },
	{ "gelatin|gelatine", "fining", " name=\"gelatine\"", "at", "finings", "fined with gelatine", "beer fermenter keg bloomed solution " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "isinglass", "fining", " name=\"isinglass\"", "at", "finings", "fined with isinglass", "beer fermenter keg cask solution " SMALL, false, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "fined|finings", "fining", "", "at", "finings", "fined with gelatine", "", false, true, false, ROW_PLAIN, { ID("with|", "name") } },
	{ "mashed|mash|steeped|mashed in|mash in|mashing|mash at|mash temperature|mash temp", "mash", "", NULL, "mash", "mash 66 C for 60 min", "grain and grains " SMALL, true, true, false, ROW_BARE(AB_DIM_TIME, ""),
	    { T("at|", "temp", 40, 80), NOTED("with|in|", "mash water ", AB_DIM_VOLUME), NOTED("|with", "grain in the mash ", AB_DIM_MASS), Q("for|rested|rested for|held|held for|let it sit for|let it sit|let sit for|sat for|stood for|let it rest for|", "time", AB_DIM_TIME), W("crush|crushed", "crush", ab_words_crush),
		T("sparged at|sparge at|sparged with|sparged|sparge", "sparge-temp", 40, 105) } },
	{ "sparged|sparge|sparging", "mash", "", NULL, "sparge", "sparged at 76 C", "water " SMALL, true, true, false, ROW_PLAIN,
	    { T("at|with|", "sparge-temp", 40, 105), NOTED("with|", "sparge water ", AB_DIM_VOLUME) } },
	{ "mash ph|mash ph is|mash ph was|mash ph at|ph of the mash|ph of mash|ph in the mash", "note", "mash pH ", NULL, "only a note (mash pH)", "mash pH 5.4", "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	{ "preboil|pre-boil|pre boil|preboil volume|pre-boil volume|preboil gravity|pre-boil gravity|pre boil gravity|gravity before the boil|gravity before boil|volume before the boil", "note", "before the boil ", NULL, "only a note (before the boil)",
	    "pre-boil 26 L at 1.042", "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	{ "strike water|mash water", "note", "strike water ", NULL, "only a note (the water of the mash)", "strike water 15 L at 74 C", "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	/* How much water went in for that is not told. */
	{ "topped up to|topped it up to|top up to|topped the fermenter up to", "note", "topped up to ", NULL, "only a note (how much water went in is not told)", "topped up to 20 L", "", false, true, true, ROW_PLAIN, { BREATH_ALL } },
	{ "collected", "note", "collected ", NULL, "only a note (before the boil)", "collected 26 L pre-boil", "", false, true, true,
	    ROW_ONLY("preboil|pre-boil|pre boil|before the boil|before boil|before boiling|in the kettle|into the kettle|runnings", ""), { BREATH_ALL } },
	{ "last runnings|final runnings|runnings ended at|sparged down to|sparged until", "mash", "", NULL, "the last runnings", "last runnings 1.008", "gravity runnings reading read " SMALL, true, true, false, ROW_PLAIN,
	    { Q("", "last-runnings", AB_DIM_GRAVITY) } },
	{ "water|treated water|treated the water|treated brewing water", "water", "", NULL, "water", "water tap treated with sulphite", "and half one tap-water tablet treated water straight with " SMALL, true, true, false, ROW_NAMED("tap water|well water|rain water|softened water|bottled water"),
	    { W("from|", "source", ab_words_water), W("treated with|treatment|treated|", "treatment", ab_words_treatment), F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none"),
		F("smells of chlorine|smelled of chlorine", "smells-of-chlorine", "yes"), W("salts", "salts", ab_words_salts),
		Q("topped up with|top up|top-up|topped up", "top-up", AB_DIM_VOLUME) } },
	{ "tap water|town water|city water|mains water", "water", " source=\"tap\"", NULL, "tap water", "tap water untreated", "brewing all only straight with " SMALL, true, false, false,
	    ROW_PLAIN, { W("treated with|treatment|treated|", "treatment", ab_words_treatment), F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none"),
		F("smells of chlorine|smelled of chlorine|smells of swimming pool", "smells-of-chlorine", "yes") } },
	{ "bottled water|bottled spring water|bottled mineral water", "water", " source=\"bottled\"", NULL, "bottled water", "bottled water", "brewing all only straight with " SMALL, true, false, false,
	    ROW_PLAIN, { W("treated with|treatment|treated|", "treatment", ab_words_treatment), F("untreated|not treated|nothing added|no treatment|without treatment", "treatment", "none") } },
	{ "campden tablet|campden tablets|campden|half a campden tablet|half campden tablet|half a campden|1/2 campden tablet|one campden tablet|1 campden tablet|crushed campden tablet", "water", " treatment=\"sulphite\"", NULL, "water treated with sulphite", "campden tablet", "half one water mash strike sparge brewing liquor all crushed " SMALL, true, false, false,
	    ROW_PLAIN, { W("from|", "source", ab_words_water) } },
	{ "topped up with|topped up|top up|top-up", "water", "", NULL, "water to top up", "topped up with 3 L boiled water", "tap water cold cool " SMALL, false, true, false,
	    ROW_SETS,
	    { Q("with|", "top-up", AB_DIM_VOLUME), F("boiled|pre-boiled", "top-up-boiled", "yes"), F("unboiled", "top-up-boiled", "no"),
		F("treated", "top-up-treated", "yes"), F("untreated", "top-up-treated", "no") } },
	{ "whirlpool|whirlpooled|hot stand|hop stand|hopstand", "stand", "", NULL, "hot stand", "whirlpool for 20 min at 80 C", SMALL, true, true, false, ROW_BARE(AB_DIM_TIME, ""),
	    { Q("for|", "time", AB_DIM_TIME), T("at|", "temp", 50, 105), W("lid", "lid", ab_words_lid) } },
	{ "fermented in|fermenting in|fermenter|fermenter is|fermentor|fermentor is|vessel|in the fermenter|put the fermenter|put fermenter|put the bucket|put bucket|put the carboy|put carboy|stood the fermenter|stood the bucket|stood the carboy|set the fermenter|set the bucket|set the carboy", "vessel", "", NULL, "the vessel", "fermenter bucket named red room 19 C by water-bath", "held beer cool cold water " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "kind", ab_words_vessel), ROOM("room at|room", "room"), W("by|control|controlled by|", "control", ab_words_control), Q("", "volume", AB_DIM_VOLUME),
		Q("headspace", "headspace", AB_DIM_VOLUME), BEER("set to|target|at", "target"), AGE("age"),
		W("light|in", "light", ab_words_light), F("scratched", "scratched", "yes"), NAMED } },
	{ "all drunk|all are drunk|drank them all|drank all bottles|all bottles drunk|bottles all drunk|all bottles are drunk|bottles are all drunk|bottles are gone|all bottles are gone|bottles gone", "package", " fate=\"drunk\"", "fate-at", "bottling", "all drunk", "the of it them now up and bottles are ", true, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "poured them all away|poured all away|poured it all away|poured all bottles away|poured all the bottles away|poured the bottles away|poured them away|poured all of it away|poured them all out|dumped them|dumped them all|dumped all bottles|dumped all the bottles|dumped the bottles", "package", " fate=\"poured-away\"", "fate-at", "bottling", "poured them all away", "the of it them all now down drain sink and bottles ", true, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "opened and let off all bottles|let off all bottles|let off all the bottles|opened all bottles|opened all the bottles|opened and let off the bottles|opened and let off them all|vented all bottles|vented all the bottles|let the gas off all bottles|let the gas off all the bottles|let the gas off the bottles|let the gas off them all", "package", " fate=\"let-off\"", "fate-at", "bottling", "opened and let off all bottles", "the of them all now and again bottles recapped capped ", true, false, false, ROW_PLAIN, { { .kind = ENTRY_NONE } } },
	{ "served|serving|poured|first pour|first pint|first glass", "serve", "", NULL, "serving", "served from tap at 8 C", "the a and", true, true, false, ROW_BARE(AB_DIM_PRESSURE, ""),
	    { W("from|", "from", ab_words_pour), BEER("at|", "temp"), Q("at|", "pressure", AB_DIM_PRESSURE), W("glass", "glass", ab_words_glass),
		Q("line", "line-length", AB_DIM_LENGTH), Q("line cleaned", "line-cleaned", AB_DIM_TIME) } },
	{ "checked", "instrument", " checked=\"yes\"", NULL, "an instrument that was checked", "checked thermometer off by 1 C", SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_instrument), Q("off by|off", "off-temp", AB_DIM_TEMP_DIFF), Q("off by|off", "off-gravity", AB_DIM_GRAVITY) } },
	/* ---- the recipe, without a line of XML ---- */
	{ "family|style|kind of beer|kind|type", "batch", "", NULL, "the kind of beer", "family wheat", "is beer a an the of it " , false, true, false, ROW_SETS,
	    { W("", "family", ab_words_family) } },
	{ "recipe|planned|plan", "recipe", "", NULL, "the recipe", "recipe 20 L OG 1.048 FG 1.011 35 IBU", "and beer " SMALL, false, true, false, ROW_SETS,
	    { Q("volume|batch|", "volume", AB_DIM_VOLUME), Q("og|original gravity|", "og", AB_DIM_GRAVITY), Q("fg|final gravity", "fg", AB_DIM_GRAVITY),
		Q("co2|carbonation|", "co2", AB_DIM_CO2), Q("", "bitterness", AB_DIM_BITTERNESS) } },
	{ "volume|batch size|batch volume|batch", "recipe", "", NULL, "how much beer", "volume 20 L", "beer batch wort fermenter fermentor bucket carboy " SMALL, false, true, false,
	    ROW_SETS_NAMED("batch|into the fermenter|in the fermenter|in fermenter|into fermenter|in the bucket|into the bucket|in bucket|in the carboy|into the carboy|in the fermentor|into the fermentor|in fermentor|into fermentor"),
	    { Q("", "volume", AB_DIM_VOLUME) } },
	{ "malt|malts|grain|grains|grist", "malt", "", NULL, "malt", "malt 4.5 kg pale", "malt malts and grain grains " SMALL, false, true, false, ROW_IN_RECIPE("malt|malts|grain|grains|crystal|munich|vienna|pilsner"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), AGE("age"), W("", "kind", ab_words_malt), COLOUR("name"), ID("named|called", "name") } },
	{ "sugar|sugars", "sugar", "", NULL, "sugar in the wort", "sugar 300 g candi", "sugar " SMALL, false, true, false, ROW_IN_RECIPE("sugar|sugars"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), W("", "kind", ab_words_sugar), ID("named|called", "name") } },
	{ "late sugar|sugar added|added sugar|sugar into the fermenter", "sugar", "", "at", "sugar put in while it ferments", "late sugar 300 g candi", "sugar " SMALL, false, true, false, ROW_RECIPE,
	    { Q("", "amount", AB_DIM_MASS), W("", "kind", ab_words_sugar), ID("named|called", "name") } },
	{ "extract|malt extract|extracts", "extract", "", NULL, "malt extract", "extract 1.7 kg liquid aged 8 mo", "extract malt old " SMALL, false, true, false, ROW_IN_RECIPE("extract|extracts|dme|lme"),
	    { Q("", "amount", AB_DIM_MASS), Q("", "share", AB_DIM_SHARE), Q("aged|age|", "age", AB_DIM_TIME), W("", "kind", ab_words_extract), ID("named|called", "name") } },
	{ "hops|hop", "hop", "", NULL, "hops", "hops 30 g at 60 min aged 1 y kept frozen-sealed", "hops hop boiled first second third last addition " SMALL, false, true, false, ROW_IN_RECIPE("hops|hop|bittering|aroma"),
	    { Q("", "amount", AB_DIM_MASS), AGE("age"), B("at|for|boiled for|boiled|", "use", ab_words_hop_use), W("", "use", ab_words_hop_use),
		Q("alpha|", "alpha", AB_DIM_SHARE), W("kept|", "kept", ab_words_hop_keep), ID("named|called", "name"), NAME("name") } },
	{ "extra|fruit|spice|spices", "extra", "", "at", "fruit, spice, oak or coffee", "extra 20 g coriander", SMALL, false, true, false, ROW_RECIPE,
	    { Q("", "amount", AB_DIM_MASS), F("sanitised|sanitized|boiled", "sanitised", "yes"), F("raw|unsanitised", "sanitised", "no"), ID("named|", "name") } },
	{ "forced sample fell to|forced sample fell|forced sample dropped to|forced sample is down to|forced sample down to|forced test fell to|the forced sample fell to",
	    "test", " kind=\"forced-fermentation\" result=\"yes\"", "at", "a forced sample that fell", "forced sample fell to 1.012", SMALL, false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample stayed at|forced sample stands at|forced sample stuck at|forced sample still at|forced sample unchanged at|forced sample ended the same|forced test stayed at", "test",
	    " kind=\"forced-fermentation\" result=\"no\"", "at", "a forced sample that stayed", "forced sample stayed at 1.020", SMALL, false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample went to|forced sample went down to|forced sample ended at|forced sample ended|forced sample finished at|forced test ended at", "test", " kind=\"forced-fermentation\"", "at",
	    "a forced sample that ended", "forced sample fell to 1.010", SMALL, false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "forced sample|forced sample is at|forced sample reads|forced test|forced test reads|forced test is at|forced ferment|forced fermentation", "test", " kind=\"forced-fermentation\"", "at",
	    ENTRY_FORCED_READ, "forced sample fell to 1.010", SMALL, false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY) } },
	{ "check|result of check|result of the check|check done", "test", "", "at", "a check that was done", "check hydrometer-in-water no", "result came out answer was is " , false, true, false, ROW_PLAIN,
	    { F("yes|it did|it does", "result", "yes"), F("no|it did not|it does not|it didn't|it doesn't", "result", "no"), ID("", "kind") } },
	{ "stirred up the yeast|stirred the yeast|stirred up the yeast cake", "note", "stirred up the yeast ", NULL, "only a note (rousing)", "stirred up the yeast", "", false, false, true, ROW_PLAIN, { REST(NULL) } },
	{ "roused|roused up", "note", "roused ", NULL, "only a note (rousing)", "roused the yeast", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "swirled|swirled up", "note", "swirled ", NULL, "only a note (rousing)", "swirled the bucket", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "bubbling like crazy|bubbling like mad|bubbling away|bubbling hard|bubbling vigorously|bubbling strongly", "note", "bubbling strongly ", NULL, "only a note (it ferments)", "bubbling like crazy", "",
	    false, false, true, ROW_PLAIN, { BREATH } },
	/* Not of its first signs: of those it is said when they began. */
	{ "airlock is bubbling|airlock still bubbling|airlock is still bubbling|airlock bubbles|airlock is going|airlock is still going|airlock is active|airlock is busy|airlock going crazy|airlock going mad", "note", "airlock bubbling ", NULL, "only a note (it ferments)",
	    "airlock is bubbling", "", false, false, true, ROW_PLAIN, { BREATH } },
	{ "bubbling slowed|bubbling has slowed|bubbling is slowing|bubbling slows|bubbling slowly|bubbling a little|bubbling a bit|bubbling less", "note", "bubbling slowly ", NULL, "only a note (it ferments)", "bubbling slowed down", "",
	    false, false, true, ROW_PLAIN, { BREATH } },
	{ "hops out|hops are out|hops were taken out|hops taken out|hops removed|dry hops out|dry hops removed|hop bag out|removed hops|removed the hops|removed the dry hops|removed the hop bag|took out hops|took out the hops|pulled hops|pulled the hops|pulled out the hops|fished out the hops|beer off the hops", "note", "hops out ", NULL, "only a note (the hops are out)",
	    "hops out", "", false, false, true, ROW_PLAIN, { REST(NULL) } },
	{ "rocked", "note", "rocked ", NULL, "only a note (rousing)", "rocked the fermenter", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "pitched another|pitched more|pitched fresh|pitched a fresh|pitched a second|pitched second", "note", "pitched fresh yeast: ", NULL, "only a note (fresh yeast)",
	    "pitched another packet of dry ale yeast", "", false, true, true, ROW_ONLY("yeast|pack|packs|packet|packets", "hop hops sugar malt extract honey fruit nutrient nutrients energizer energiser finings"), { REST(NULL) } },
	{ "repitched|re-pitched", "note", "pitched fresh yeast: ", NULL, "only a note (fresh yeast)", "repitched dry ale yeast", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "changed", "change", "", NULL, "something new", "changed capped on foam from now on", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "done", "note", "done: ", NULL, "done", "done wash bottles", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
	{ "note", "note", "", NULL, "note", "note it smells of apples", "", false, true, true, ROW_PLAIN, { REST(NULL) } },
};
const size_t n_entry_rows = sizeof entry_rows / sizeof *entry_rows;

const struct ab_entry_word entry_aliases[] = {
	{ "half on", "partly", ab_words_lid }, { "half off", "partly", ab_words_lid }, { "half open", "partly", ab_words_lid }, { "ajar", "partly", ab_words_lid },
	{ "mostly on", "partly", ab_words_lid }, { "mostly off", "partly", ab_words_lid }, { "partially on", "partly", ab_words_lid }, { "partly on", "partly", ab_words_lid },
	{ "vigorous", "rolling", ab_words_vigour }, { "hard", "rolling", ab_words_vigour }, { "gentle", "simmer", ab_words_vigour },
	{ "simmering", "simmer", ab_words_vigour }, { "overnight closed", "overnight-closed", ab_words_chill }, { "closed overnight", "overnight-closed", ab_words_chill }, { "covered overnight", "overnight-closed", ab_words_chill }, { "overnight covered", "overnight-closed", ab_words_chill },
	{ "sealed overnight", "overnight-closed", ab_words_chill }, { "overnight sealed", "overnight-closed", ab_words_chill }, { "overnight open", "air", ab_words_chill }, { "open overnight", "air", ab_words_chill }, { "uncovered overnight", "air", ab_words_chill }, { "overnight uncovered", "air", ab_words_chill },
	 { "sink", "other", ab_words_chill },
	{ "bathtub", "other", ab_words_chill }, { "bath tub", "other", ab_words_chill }, { "bath", "other", ab_words_chill }, { "tub", "other", ab_words_chill },
	{ "cold water", "other", ab_words_chill }, { "water bath", "other", ab_words_chill }, { "cold water bath", "other", ab_words_chill },
	{ "ice water", "ice-bath", ab_words_chill }, { "iced water", "ice-bath", ab_words_chill }, { "tub of ice", "ice-bath", ab_words_chill },
	{ "sink of ice", "ice-bath", ab_words_chill }, { "sink with ice", "ice-bath", ab_words_chill }, { "bath of ice", "ice-bath", ab_words_chill }, { "bucket of ice", "ice-bath", ab_words_chill }, { "ice and water", "ice-bath", ab_words_chill },
	{ "tub of water", "other", ab_words_chill }, { "sink of water", "other", ab_words_chill }, { "cold tub", "other", ab_words_chill }, { "swamp cooler", "other", ab_words_chill },
	 { "snow", "ice-bath", ab_words_chill }, { "copper coil", "coil", ab_words_chill },
	{ "fermentor", "fermenter", ab_words_gear }, { "bottle", "bottles", ab_words_gear }, { "syphon", "siphon", ab_words_gear }, { "bottling wand", "wand", ab_words_gear },
	{ "demijohn", "fermenter", ab_words_gear }, { "spigot", "tap", ab_words_gear }, { "syphon", "siphon", ab_words_transfer },
	{ "hot water", "water", ab_words_agent }, { "warm water", "water", ab_words_agent }, { "cold water", "water", ab_words_agent }, { "plain water", "water", ab_words_agent },
	{ "tap water", "water", ab_words_agent }, { "oxi", "percarbonate", ab_words_agent }, { "oxy", "percarbonate", ab_words_agent }, { "oxygen cleaner", "percarbonate", ab_words_agent },
	{ "oxygen bleach", "percarbonate", ab_words_agent }, { "sodium percarbonate", "percarbonate", ab_words_agent }, { "washing up liquid", "detergent", ab_words_agent },
	{ "washing-up liquid", "detergent", ab_words_agent }, { "oven", "heat", ab_words_sanitiser },
	{ "boiling water", "boiling", ab_words_sanitiser }, { "iodophor", "iodine", ab_words_sanitiser }, { "ethanol", "alcohol", ab_words_sanitiser },
	{ "basement", "dark", ab_words_light }, { "wardrobe", "dark", ab_words_light }, { "dark room", "dark", ab_words_light }, { "cupboard", "dark", ab_words_light }, { "closet", "dark", ab_words_light }, { "the stairs", "dark", ab_words_light },
	{ "under the stairs", "dark", ab_words_light }, { "refrigerator", "dark", ab_words_light }, { "fridge", "cold", ab_words_keep }, { "refrigerator", "cold", ab_words_keep },
	{ "shaking", "shake", ab_words_aerate }, { "shaken", "shake", ab_words_aerate }, { "pouring", "pour", ab_words_aerate },
	{ "splashing", "pour", ab_words_aerate }, { "stone", "oxygen", ab_words_aerate }, { "air pump", "pump", ab_words_aerate },
	{ "lid", "open-lid", ab_words_hop_open }, { "lid off", "open-lid", ab_words_hop_open }, { "the lid", "open-lid", ab_words_hop_open }, { "lid opened", "open-lid", ab_words_hop_open }, { "lid open", "open-lid", ab_words_hop_open }, { "still working", "while-active", ab_words_hop_open },
	{ "siphoned", "siphon", ab_words_transfer }, { "hose", "siphon", ab_words_transfer }, { "closed loop", "closed", ab_words_transfer },
	{ "table sugar", "sucrose", ab_words_sugar }, { "sugar", "sucrose", ab_words_sugar }, { "corn sugar", "dextrose", ab_words_sugar },
	{ "glucose", "dextrose", ab_words_sugar }, { "ice", "ice-bath", ab_words_chill }, { "immersion coil", "coil", ab_words_chill }, { "immersion chiller", "coil", ab_words_chill },
	{ "counterflow chiller", "counterflow", ab_words_chill }, { "plate chiller", "plate", ab_words_chill }, { "ice bath", "ice-bath", ab_words_chill },
	 { "oxygen caps", "oxygen-absorbing", ab_words_cap },
	{ "oxygen scavenging", "oxygen-absorbing", ab_words_cap }, { "bucket", "fermenter", ab_words_gear }, { "carboy", "fermenter", ab_words_gear },
	{ "tubing", "hose", ab_words_gear }, { "air", "air-filled", ab_words_target }, { "flushed", "flow-purged", ab_words_target },
	{ "fridge", "dark", ab_words_light }, { "cellar", "dark", ab_words_light }, { "shelf", "indoor", ab_words_light },
	{ "mini keg", "mini-keg", ab_words_bottle }, { "mini kegs", "mini-keg", ab_words_bottle }, { "minikeg", "mini-keg", ab_words_bottle }, { "minikegs", "mini-keg", ab_words_bottle }, { "mini-kegs", "mini-keg", ab_words_bottle },
	{ "plastic can", "plastic-can", ab_words_bottle }, { "plastic cans", "plastic-can", ab_words_bottle }, { "pet bottles", "pet", ab_words_bottle }, { "plastic bottles", "pet", ab_words_bottle },
	{ "swing tops", "swing-top", ab_words_bottle }, { "swing-tops", "swing-top", ab_words_bottle }, { "swing top bottles", "swing-top", ab_words_bottle }, { "growlers", "growler", ab_words_bottle },
	{ "longnecks", "longneck", ab_words_bottle }, { "long necks", "longneck", ab_words_bottle }, { "sparkling wine bottles", "sparkling", ab_words_bottle },
	{ "cans", "can", ab_words_pour }, { "bottles", "bottle", ab_words_pour },
	{ "lme", "liquid", ab_words_extract }, { "syrup", "liquid", ab_words_extract }, { "dme", "dry", ab_words_extract }, { "dried", "dry", ab_words_extract },
	{ "powder", "dry", ab_words_extract }, { "kit", "hopped-kit", ab_words_extract }, { "hopped", "hopped-kit", ab_words_extract },
	{ "aroma", "whirlpool", ab_words_hop_use }, { "flameout", "whirlpool", ab_words_hop_use }, { "flavor", "flavour", ab_words_hop_use },
	{ "bitter", "bittering", ab_words_hop_use }, { "fwh", "bittering", ab_words_hop_use }, { "first wort", "bittering", ab_words_hop_use }, { "flame out", "whirlpool", ab_words_hop_use }, { "frozen", "frozen-sealed", ab_words_hop_keep }, { "freezer", "frozen-sealed", ab_words_hop_keep },
	{ "in the freezer", "frozen-sealed", ab_words_hop_keep }, { "fridge", "fridge-sealed", ab_words_hop_keep },
	{ "in the fridge", "fridge-sealed", ab_words_hop_keep }, { "tablet", "sulphite", ab_words_treatment }, { "campden", "sulphite", ab_words_treatment }, { "campden tablet", "sulphite", ab_words_treatment },
	{ "half a campden", "sulphite", ab_words_treatment }, { "half campden tablet", "sulphite", ab_words_treatment }, { "one campden tablet", "sulphite", ab_words_treatment }, { "1 campden tablet", "sulphite", ab_words_treatment }, { "1/2 campden tablet", "sulphite", ab_words_treatment }, { "a campden tablet", "sulphite", ab_words_treatment }, { "sulphite tablet", "sulphite", ab_words_treatment },
	{ "filtered", "carbon-filter", ab_words_treatment }, { "filter", "carbon-filter", ab_words_treatment }, { "ro", "reverse-osmosis", ab_words_water },
	{ "carboy", "glass", ab_words_vessel }, { "glass carboy", "glass", ab_words_vessel }, { "stainless", "steel", ab_words_vessel }, { "stainless steel", "steel", ab_words_vessel },
	{ "plastic bucket", "bucket", ab_words_vessel }, { "plastic fermenter", "bucket", ab_words_vessel }, { "buckets", "bucket", ab_words_vessel }, { "demijohn", "glass", ab_words_vessel },
	{ "plastic carboy", "pet", ab_words_vessel }, { "tub", "water-bath", ab_words_control }, { "tub of water", "water-bath", ab_words_control },
	{ "fridge with a thermostat", "fridge", ab_words_control }, { "dextrose sugar", "dextrose", ab_words_sugar }, { "white sugar", "sucrose", ab_words_sugar },
	{ "cane sugar", "sucrose", ab_words_sugar }, { "brown sugar", "other", ab_words_sugar }, { "dme", "dry-extract", ab_words_sugar },
	{ "malt extract", "dry-extract", ab_words_sugar }, { "dried", "dry", ab_words_yeast_form }, { "wet", "liquid", ab_words_yeast_form },
	{ "in the fridge", "cold", ab_words_keep }, { "room temperature", "room", ab_words_keep }, { "purged keg", "purged", ab_words_target },
	{ "bottle by bottle", "per-bottle", ab_words_mixing }, { "stirred in", "stirred", ab_words_mixing }, { "mixed in", "stirred", ab_words_mixing }, { "stirred gently", "stirred", ab_words_mixing },
	{ "blowoff", "blow-off", ab_words_airlock }, { "pressure", "top-pressure", ab_words_airlock },
};
const size_t n_entry_aliases = sizeof entry_aliases / sizeof *entry_aliases;

const struct entry_ask entry_asks[] = {
	{ "chill", "overnight|over night", "closed or open", { "overnight closed", "overnight open" } },
};
const size_t n_entry_asks = sizeof entry_asks / sizeof *entry_asks;
