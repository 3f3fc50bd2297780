/* entry_rows_ferment.c - sentences while it ferments: readings, rests, hops, cold; where it stands, transfers, cleaning
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_slots.h"

#include <afterboil/journal.h>

/* Of first signs nothing is "still" or "again". */
#define OF_SIGNS \
	"of the a an in into to with at and was is it its on from for some took up we i my after then this already " \
	"just only really it's has have been there so today "
/* Of PLACES those where no light comes in. */
#define DARK "cellar|basement|closet|cupboard|wardrobe|under the stairs|the dark|dark room"
#define ROOMS \
	"cellar|basement|garage|kitchen|closet|shed|bathroom|bedroom|pantry|hallway|attic|loft|laundry room|" \
	"utility room|spare room"
#define COLD_PLACE "fridge|refrigerator|freezer"

/* What was turned, and how: "bumped the temp up to 70 F", "turned fridge down to 2 C". COLDEST_FERMENTING: no yeast
 * of the trade is made to work below it (estimate), and whoever cools beer to less crashes it. WARMEST_BEER: as in
 * BEER. */
#define COLDEST_FERMENTING 5
#define WARMEST_BEER 45
#define TURNED \
	"raised|raised it|bumped|bumped it|ramped|ramped it|warmed|warmed it|lowered|lowered it|dropped|dropped it|" \
	"let it rise|let it free rise|let it warm|let it warm up|let it drop|let it cool|free rise|free rose|" \
	"turned it|turned|turned it up|turned it down|turned up|turned down|brought it|brought it up|" \
	"brought it down|cranked it|set temp|set the temp|set temperature|set the temperature|raised temp|" \
	"raised the temp|raised temperature|raised the temperature|bumped temp|bumped the temp|bumped temperature|" \
	"bumped the temperature|lowered temp|lowered the temp|lowered temperature|lowered the temperature|" \
	"dropped temp|dropped the temp|dropped temperature|dropped the temperature"
#define TURNED_NEVER \
	"pitch pitched mash sparge ph volume pressure gas co2 regulator keg bottles bottle cans kettle room starter"
#define COOLERS \
	"fridge|refrigerator|freezer|chest freezer|fermentation chamber|ferm chamber|chamber|fermentation fridge"
#define COOLER_WORDS "fridge refrigerator chest freezer fermentation ferm chamber temp temperature up down " SMALL

static const struct entry_row rows[] = {
	{ "wort|beer|temperature|temp|fermenting|beer temperature|wort temperature|beer temp|wort temp|"
	  "fermentation temperature|fermentation temp",
	    "reading", "", "at", "temperature of the beer", "wort 19.5 C", "temperature temp and beer wort chilling "
	    "cooling pitching aerating reads says shows " SMALL, false, true, false, ROW_BARE(AB_DIM_TEMP, ""),
	    { BEER("at|dropped to|fell to|went down to|rose to|went up to|climbed to|came up to|down to|up to|",
		"wort"), ROOM("room|room at|room is|in a room of", "room") } },
	{ "bucket|bucket at|bucket is|bucket is at|carboy|carboy at|carboy is at|fermenter at|fermenter is at|"
	  "fermenter temp|fermenter temperature|fermentor at|fermentor is at|fermentor temp|fermentor temperature",
	    "reading", "", "at", "temperature of the beer", "bucket 19 C", "temperature temp " SMALL, false, true,
	    false, ROW_PLAIN, { BEER("at|", "wort"), ROOM("room|room at|room is|in a room of", "room") } },
	{ "still fermenting|still working|still going|still bubbling|still active|still foaming|still has foam|"
	  "still has krausen",
	    "reading", "", "at", "beer that ferments", "still fermenting 1.018", "beer away gravity wort " SMALL,
	    false, true, false, ROW_PLAIN, { Q("", "gravity", AB_DIM_GRAVITY), BEER("at|", "wort") } },
	{ "room|room temperature|room temp|ambient|ambient temperature",
	    "reading", "", "at", "temperature of the room", "room 21 C", "temperature temp inside room " PLACES SMALL,
	    false, true, false, ROW_BARE(AB_DIM_TEMP, ROOMS),
	    { ROOM("at|dropped to|fell to|went down to|rose to|went up to|climbed to|down to|up to|", "room") } },
	{ "temperature in|temp in|temperature of|temp of", "reading", "", "at", "temperature of the room",
	    "room 21 C", "temperature temp inside room overnight last night " PLACES SMALL, false, true, false,
	    ROW_ONLY(ROOMS, "beer wort fermenter bucket carboy mash water"),
	    { ROOM("fell to|dropped to|went down to|rose to|went up to|climbed to|was|is|at|to|down to|up to|",
		"room") } },
	{ "gravity|sg|specific gravity|fg|final gravity|took a gravity reading|took gravity|took a gravity|"
	  "took a sample|took sample|took another sample|pulled a sample",
	    "reading", "", "at", "gravity", "gravity 1.020 SG at 22 C by hydrometer", "bottle degassed sg reading "
	    "got took came says reads shows read showed stable unchanged same before sample dropping falling third "
	    "second fourth time times row straight hydrometer " SMALL, false, true, false,
	    ROW_BARE(AB_DIM_GRAVITY, ""),
	    { Q("|at|hasn't changed|has not changed|unchanged|unchanged at|stable at|steady at|stuck at|down to|"
		"dropped to|fell to", "gravity", AB_DIM_GRAVITY), T("at", "sample", -2, 60),
		W("by|with|", "instrument", ab_words_instrument), F("corrected", "corrected", "yes"),
		F("uncorrected", "corrected", "no") } },
	{ "og|original gravity|starting gravity|start gravity|initial gravity",
	    "reading", " at=\"+0h\"", NULL, "original gravity", "OG 1.048 at 22 C by hydrometer",
	    "sg reading says reads shows read showed sample came out " SMALL, false, true, false,
	    ROW_BARE(AB_DIM_GRAVITY, ""),
	    { Q("|at|of", "gravity", AB_DIM_GRAVITY), T("at", "sample", -2, 60),
		W("by|with|", "instrument", ab_words_instrument), F("corrected", "corrected", "yes"),
		F("uncorrected", "corrected", "no"), F("mixed|stirred", "mixed", "yes") } },
	{ "ph", "reading", "", "at", "pH", "ph 4.4", "is", false, true, false, ROW_PLAIN,
	    { Q("", "ph", AB_DIM_PH) } },
	{ "first signs|first signs of fermentation|first bubbles|first foam|first krausen|first kraeusen|active|"
	  "started|started fermenting|fermentation started|fermentation has started|lag|lag time|lag phase|"
	  "airlock started|airlock started bubbling|airlock going|airlock going since|airlock active|"
	  "airlock bubbling|airlock bubbling since|started bubbling|started foaming|bubbling started|it started|"
	  "it started bubbling|bubbling since|foaming since|fermenting since|bubbling after|foaming after|"
	  "fermenting after|foam after|krausen after|bubbles after|active since|active after|took off|took off after",
	    "lag", "", NULL, "first signs of fermentation", "first signs after 9 h", "fermenting bubbling bubbles "
	    "foam foaming krausen kraeusen airlock yeast top seen through " OF_SIGNS, true, true, false,
	    ROW_NAMED("foam|foaming|bubbling|bubbles|krausen|kraeusen"),
	    { Q("after|at|was|of|", "first-signs", AB_DIM_TIME) } },
	{ "lag roused|roused without effect|roused in vain|roused but nothing moved|roused and nothing moved|"
	  "roused it but nothing moved|roused it and nothing moved|roused but it did not move|roused and it did "
	  "not move",
	    "lag", " roused=\"yes\"", NULL, "rousing of a beer that hung", "roused it and nothing moved",
	    SMALL, true, false,
	    false, ROW_PLAIN, { { ENTRY_NONE, NULL, NULL, AB_DIM_NONE, NULL, NULL, 0, 0, NULL } } },
	{ "no change|no change at|no change in gravity|no change in gravity at|no movement|no movement at|"
	  "no further drop|no drop|same reading|same reading as before|same gravity|same gravity as before",
	    "reading", "", "at", "a gravity that stands", "no change 1.014", "still yet again gravity sg since the "
	    "last yesterday reading " SMALL, false, true, false, ROW_PLAIN,
	    { Q("|at|still at", "gravity", AB_DIM_GRAVITY), T("at", "sample", -2, 60),
		W("by|with|", "instrument", ab_words_instrument) } },
	{ "warm rest|diacetyl rest|d-rest|d rest|rest", "rest", "", "at", "warm rest", "rest at 21 C for 3 d", SMALL,
	    false, true, false, ROW_PLAIN, { BEER("at|to|", "temp"), Q("for|", "for", AB_DIM_TIME) } },
	{ "raised it to|raised to|raised temp to|raised the temp to|raised the temperature to|bumped to|bumped it to|"
	  "bumped up to|bumped it up to|bumped temp to|bumped the temp to|turned it up to|turned up to|"
	  "brought it up to|warmed it to|warmed it up to|warmed up to|let it rise to|let it warm to|"
	  "let it warm up to|ramped to|ramped up to",
	    "rest", "", "at", "warm rest", "raised it to 21 C for 3 d", "up clean cleanup diacetyl rest " SMALL,
	    false, true, false, ROW_ONLY("for|rest|clean up|cleanup|diacetyl", "pitch pitched mash sparge"),
	    { BEER("at|to|", "temp"), Q("for", "for", AB_DIM_TIME), } },
	{ "dry hops|dry hopped|dry hop|dry hopping|dry-hopped|dry-hop|dry-hops|dryhopped|dryhop|dryhops|dh",
	    "dry-hop", "", "at", "dry hops", "dry hop 60 g opened lid for 4 d", "dry hops hop beer wort quick "
	    "quickly briefly short " SMALL, false, true, false, ROW_BARE(AB_DIM_MASS, "dry hops|dry hop|hops|hop"),
	    { Q("with|", "amount", AB_DIM_MASS), W("opened|through|by|", "opened", ab_words_hop_open),
		Q("for|x", "contact", AB_DIM_TIME), F("loose", "loose", "yes"), F("bagged|bag", "loose", "no"),
		ID("named|called", "name"), NAME("name") } },
	{ "opened", "opened", "", "at", "vessel open", "opened for 2 min", "lid fermenter bucket off up quick "
	    "quickly briefly short shortly once " SMALL, false, false, false, ROW_NAMED("lid"),
	    { Q("for|", "for", AB_DIM_TIME) } },
	{ "spunding|spunded|spund|spunding valve|spunding valve set|under pressure|fermenting under pressure|"
	  "fermented under pressure|pressure fermentation|pressure over the beer|fermenter pressure|"
	  "fermenter under pressure",
	    "spund", "", "at", "fermenting under pressure", "spunding at 0.8 bar",
	    "fermenter valve set beer pressure " SMALL, false, true, false, ROW_PLAIN,
	    { Q("at|to|of|", "pressure", AB_DIM_PRESSURE) } },
	{ "cold crashed|cold crash|crashed|crash|cold crashing",
	    "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "beer " SMALL, false, false,
	    false, ROW_PLAIN,
	    { T("to|at|", "temp", -3, 20), Q("for|x", "for", AB_DIM_TIME),
		W("under|with|by|", "airlock", ab_words_airlock), F("sucked back|sucked", "sucked-back", "yes") } },
	/* What it was brought to is the beer's own from then on; how long it is held there nobody said. */
	{ TURNED, "reading", "", "at", "temperature of the beer", "fermenting at 19 C",
	    "temp temperature beer fermenter up down " SMALL, false, true, false,
	    ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER, WARMEST_BEER), { BEER(TURNED_TO, "wort") } },
	{ TURNED, "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag",
	    "temp temperature beer fermenter up down " SMALL, false, true, false,
	    ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER, COLDEST_FERMENTING),
	    { BEER(TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	{ "cooled|cooled down|cooled it|cooled it down|cooled the beer|chilled|chilled down|chilled it|"
	  "chilled it down|chilled the beer|crash cooled|crash chilled",
	    "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "beer fermenter down " SMALL,
	    false, true, false, ROW_COLD(ENTRY_YEAST_IN, TURNED_TO, TURNED_NEVER " wort coil plate ice min minutes",
	    COLDEST_FERMENTING), { BEER(TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	{ SET, "store", "", "from", "storage", "stored at 12 C dark", COOLER_WORDS, false, true, false,
	    ROW_WHILE(ENTRY_PACKAGED, COOLERS, "pitch mash"),
	    { BEER("at|" TURNED_TO, "temp"), Q("for", "for", AB_DIM_TIME) } },
	{ SET, "reading", "", "at", "where the vessel stands: temperature of the room",
	    "moved the bucket to a room of 18 C", COOLER_WORDS, false, true, false,
	    ROW_WHILE(ENTRY_YEAST_IN, COOLERS, "pitch mash"), { ROOM("at|" TURNED_TO, "room") } },
	{ SET, "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", COOLER_WORDS, false, true,
	    false, ROW_COLD(ENTRY_YEAST_IN, COOLERS, "pitch mash", COLDEST_FERMENTING),
	    { BEER("at|" TURNED_TO, "temp"), Q("for|x", "for", AB_DIM_TIME) } },
	/* A vessel that is carried is no transfer. */
	{ "moved bucket|moved the bucket|moved carboy|moved the carboy|moved fermenter|moved the fermenter|"
	  "moved fermentor|moved the fermentor|carried the bucket|carried the carboy|carried the fermenter",
	    "reading", "", "at", "where the vessel stands: temperature of the room",
	    "moved the bucket to a room of 18 C", "warmer cooler temperature temp inside down back where room " PLACES
	    SMALL, false, true, false, ROW_PLAIN,
	    { ROOM("room|room at|room is|in a room of|to a room of|room of|at", "room"), ROOM("", "room") } },
	/* With a fridge told alone it is the vessel too, till there are bottles. */
	{ "moved it to|moved to|moved it|carried it|brought it|took it|put it|set it|stood it",
	    "reading", "", "at", "where the vessel stands: temperature of the room",
	    "moved the bucket to a room of 18 C", "warmer cooler fridge refrigerator freezer temperature temp inside "
	    "down back where room " PLACES SMALL, false, true, false, ROW_WHILE_NAMED(ENTRY_FERMENTING, "fridge",
	    A_PLACE "|" COLD_PLACE, "keg bottle bottles secondary purged from out"),
	    { ROOM("room|room at|room is|in a room of|to a room of|room of|at", "room"), ROOM("", "room") } },
	{ "put it|set it|stood it", "vessel", "", NULL, "where the vessel stands", "put it in the closet",
	    "fermenter room " PLACES SMALL, false, true, false,
	    ROW_WHILE(ENTRY_FERMENTING, DARK, "keg bottle bottles secondary purged"),
	    { W("light|in|into|to|under|", "light", ab_words_light), ROOM("room at|room|at|", "room") } },
	{ "closed transfer|closed xfer|closed transferred", "transfer", " how=\"closed\"", "at", "closed transfer",
	    "closed transfer into purged keg", "off beer keg kegs vessel fermenter clean over with co2 " SMALL, false,
	    false, false, ROW_PLAIN, { W("into|to|", "target", ab_words_target) } },
	{ "racked|transferred|moved|xferred|xfer", "transfer", "", "at", "transfer",
	    "racked by siphon into purged keg", "off beer keg kegs bucket carboy vessel fermenter secondary 2ndary "
	    "bottling another second clean over " SMALL, false, false, false, ROW_PLAIN,
	    { W("into|to|", "target", ab_words_target), W("by|with|using|through|", "how", ab_words_transfer),
		F("splashed|splashing|bit of splashing|some splashing", "splashed", "yes"),
		F("quietly|quiet|no splashing|without splashing|not splashed|gently", "splashed", "no") } },
	{ "siphoned|syphoned", "transfer", " how=\"siphon\"", "at", "transfer by siphon", "siphoned into purged keg",
	    "beer keg kegs bucket carboy vessel fermenter secondary bottling another second clean over " SMALL, false,
	    false, false, ROW_PLAIN,
	    { W("into|to|", "target", ab_words_target),
		F("splashed|splashing|bit of splashing|some splashing", "splashed", "yes"),
		F("quietly|quiet|no splashing|without splashing|not splashed|gently", "splashed", "no") } },
	{ "cleaned|washed|scrubbed|soaked|cleaned out|washed out",
	    "gear", "", NULL, "cleaning", "cleaned fermenter with percarbonate",
	    "all well out overnight night over thoroughly " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), W("with|using|in|by", "cleaned", ab_words_agent),
		F("apart|dismantled", "dismantled", "yes"), NAMED } },
	{ "gear for food|gear for-food|gear is for food|gear made for food|all gear is for food|"
	  "all gear is made for food|all hoses and parts are for food|all hoses and parts are made for food",
	    "gear", " item=\"other\" for-food=\"yes\"", NULL, "all hoses and parts are made for food",
	    "gear for food", SMALL,
	    false, false, false, ROW_PLAIN, { NAMED } },
	{ "gear not for food|gear not for-food|gear is not for food|gear not made for food",
	    "gear", " item=\"other\" for-food=\"no\"", NULL, "a part that is not made for food",
	    "gear not for food", SMALL,
	    false, false, false, ROW_PLAIN, { NAMED } },
	{ "garden hose|used a garden hose|used garden hose|through a garden hose|hose is a garden hose",
	    "gear", " item=\"hose\" material=\"garden hose\" for-food=\"no\"", NULL, "a hose that is not made for food",
	    "used a garden hose", "it was the beer wort water " SMALL, false, false, false, ROW_PLAIN, { NAMED } },
	{ "hose for food|hose is for food|hose made for food|hose is made for food|hose is food grade|hose is "
	    "food-grade|"
	  "food grade hose|food-grade hose",
	    "gear", " item=\"hose\" for-food=\"yes\"", NULL, "a hose made for food", "hose is for food", SMALL,
	    false, false,
	    false, ROW_PLAIN, { NAMED } },
	{ "gear", "gear", "", NULL, "what a part is made for", "gear hose for food", "is was made the a " SMALL,
	    false, true,
	    false, ROW_PLAIN, { W("", "item", ab_words_gear),
		F("for-food|for food|food grade|food-grade|food safe", "for-food", "yes"),
		F("not for-food|not for food|not food grade|not food-grade|not food safe", "for-food", "no"), NAMED } },
	{ "rinsed|rinsed out", "gear", " cleaned=\"water\"", NULL, "cleaning with water", "rinsed fermenter",
	    "all well out hot warm cold tap water with thoroughly " SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), NAMED } },
	{ "sanitised|sanitized|disinfected|sterilised|sterilized",
	    "gear", "", NULL, "sanitising", "sanitised hose with acid for 2 min", "sanitiser sanitizer solution "
	    SMALL, false, true, false, ROW_PLAIN,
	    { W("", "item", ab_words_gear), W("with|using|in|by", "sanitiser", ab_words_sanitiser),
		Q("for", "contact", AB_DIM_TIME), Q("dose|at", "dose", AB_DIM_DOSE),
		F("no rinse|no-rinse|not rinsed|unrinsed|without rinsing", "rinse", "none"),
		W("rinsed|rinse", "rinse", ab_words_rinse), NAMED } },
};
const struct entry_table entry_rows_ferment = { rows, sizeof rows / sizeof *rows };
