/* entry_rows.c - the sentences of a brewing day
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_rows.h"

#include <afterboil/journal.h>

#define Q(keys, attr, dim) { ENTRY_QUANTITY, keys, attr, dim, NULL, NULL }
#define N(keys, attr) { ENTRY_NUMBER, keys, attr, AB_DIM_NONE, NULL, NULL }
#define W(keys, attr, words) { ENTRY_WORD, keys, attr, AB_DIM_NONE, words, NULL }
#define F(keys, attr, fixed) { ENTRY_FIXED, keys, attr, AB_DIM_NONE, NULL, fixed }
#define ID(keys, attr) { ENTRY_ID, keys, attr, AB_DIM_NONE, NULL, NULL }
#define REST(attr) { ENTRY_REST, "", attr, AB_DIM_NONE, NULL, NULL }

const struct entry_row entry_rows[] = {
	{ "boiled|boil", "boil", "", NULL, "boil", "boiled for 60 min lid off", "", true, true, false,
	    { Q("for|", "time", AB_DIM_TIME), W("lid", "lid", ab_words_lid), W("", "vigour", ab_words_vigour) } },
	{ "chilled wort|cooled wort|chilled|cooled", "chill", "", NULL, "chilling", "cooled in 25 min by coil to 20 C", "", true, true, false,
	    { Q("in|for|", "to-pitch", AB_DIM_TIME), W("by|with|in|", "method", ab_words_chill), Q("to|down to", "end-temp", AB_DIM_TEMP),
		F("covered", "covered", "yes") } },
	{ "yeast", "yeast", "", NULL, "yeast", "yeast clean-ale dry 11 g", "of class", false, true, false,
	    { W("", "form", ab_words_yeast_form), Q("", "amount", AB_DIM_MASS), Q("", "packs", AB_DIM_PACKS), Q("starter", "starter", AB_DIM_VOLUME),
		Q("", "volume", AB_DIM_VOLUME), Q("aged|age", "age", AB_DIM_TIME), W("kept", "kept", ab_words_keep), ID("", "class") } },
	{ "pitched|pitch", "pitch", "", "at", "pitching", "pitched at 18 C", "yeast", true, false, false, { Q("at|", "temp", AB_DIM_TEMP) } },
	{ "aerated|aerate|aeration", "aerate", "", NULL, "aeration", "aerated by shaking for 2 min", "with", false, true, false,
	    { W("by|", "method", ab_words_aerate), Q("for|", "time", AB_DIM_TIME) } },
	{ "wort|beer", "reading", "", "at", "temperature of the beer", "wort 19.5 C", "temperature temp is", false, true, false,
	    { Q("at|", "wort", AB_DIM_TEMP), Q("room", "room", AB_DIM_TEMP) } },
	{ "room", "reading", "", "at", "temperature of the room", "room 21 C", "temperature temp is", false, true, false, { Q("at|", "room", AB_DIM_TEMP) } },
	{ "gravity|sg", "reading", "", "at", "gravity", "gravity 1.020 SG at 22 C by hydrometer", "is", false, true, false,
	    { Q("", "gravity", AB_DIM_GRAVITY), Q("at", "sample", AB_DIM_TEMP), W("by|with|", "instrument", ab_words_instrument),
		F("corrected", "corrected", "yes"), F("uncorrected", "corrected", "no") } },
	{ "ph", "reading", "", "at", "pH", "ph 4.4", "is", false, true, false, { Q("", "ph", AB_DIM_PH) } },
	{ "first signs|first bubbles|active|started", "lag", "", NULL, "first signs of fermentation", "first signs after 9 h", "", true, true, false,
	    { Q("after|at|", "first-signs", AB_DIM_TIME) } },
	{ "warm rest|diacetyl rest|rest", "rest", "", "at", "warm rest", "rest at 21 C for 3 d", "", false, true, false,
	    { Q("at|to|", "temp", AB_DIM_TEMP), Q("for|", "for", AB_DIM_TIME) } },
	{ "dry hops|dry hopped|dry hop|dry-hopped|dry-hop", "dry-hop", "", "at", "dry hops", "dry hop 60 g opened lid for 4 d", "of in", false, true, false,
	    { Q("with|", "amount", AB_DIM_MASS), W("opened|through|by|", "opened", ab_words_hop_open), Q("for", "contact", AB_DIM_TIME), F("loose", "loose", "yes"),
		F("bagged|bag", "loose", "no"), ID("named", "name") } },
	{ "opened", "opened", "", "at", "vessel open", "opened for 2 min", "lid", false, false, false, { Q("for|", "for", AB_DIM_TIME) } },
	{ "cold crashed|cold crash|crashed|crash", "crash", "", "at", "cold crash", "crashed to 2 C for 2 d under gas bag", "", false, true, false,
	    { Q("to|at|", "temp", AB_DIM_TEMP), Q("for", "for", AB_DIM_TIME), W("under|with|by|", "airlock", ab_words_airlock),
		F("sucked back|sucked", "sucked-back", "yes") } },
	{ "racked|transferred|moved", "transfer", "", "at", "transfer", "racked by siphon into purged keg", "a the keg bucket carboy vessel fermenter", false,
	    false, false,
	    { W("into|to|", "target", ab_words_target), W("by|with|through|", "how", ab_words_transfer), F("splashed|splashing", "splashed", "yes"),
		F("quietly|quiet", "splashed", "no") } },
	{ "cleaned|washed", "gear", "", NULL, "cleaning", "cleaned fermenter with percarbonate", "the", false, true, false,
	    { W("", "item", ab_words_gear), W("with|in|by", "cleaned", ab_words_agent), F("apart|dismantled", "dismantled", "yes") } },
	{ "sanitised|sanitized", "gear", "", NULL, "sanitising", "sanitised hose with acid for 2 min", "the", false, true, false,
	    { W("", "item", ab_words_gear), W("with|in|by", "sanitiser", ab_words_sanitiser), Q("for", "contact", AB_DIM_TIME), Q("dose|at", "dose", AB_DIM_DOSE),
		W("rinsed|rinse", "rinse", ab_words_rinse) } },
	{ "bottled", "package", " into=\"bottles\"", "at", "bottling", "bottled with 120 g sucrose at 1.011 SG", "of the", true, false, false,
	    { Q("with|", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar), Q("at", "gravity", AB_DIM_GRAVITY), W("in|into|", "bottle", ab_words_bottle),
		W("sugar", "mixing", ab_words_mixing), W("caps|capped with", "cap", ab_words_cap), F("capped on foam|on foam", "cap-on-foam", "yes"),
		Q("neck", "neck", AB_DIM_LENGTH) } },
	{ "kegged", "package", " into=\"keg\"", "at", "kegging", "kegged into liquid-purged at 1.011 SG", "a the keg", true, false, false,
	    { W("into|in|", "filled", ab_words_target), Q("at", "gravity", AB_DIM_GRAVITY), N("purges|purged", "purges"), Q("to", "purge-pressure", AB_DIM_PRESSURE),
		Q("with", "priming", AB_DIM_MASS), W("", "sugar", ab_words_sugar) } },
	{ "carbonated|gas on|carbonate", "carbonate", "", NULL, "gas on the keg", "carbonated at 0.9 bar and 5 C", "and the", true, true, false,
	    { Q("at|to|", "pressure", AB_DIM_PRESSURE), Q("at|", "temp", AB_DIM_TEMP), Q("for", "for", AB_DIM_TIME), W("by|", "method", ab_words_gas) } },
	{ "stored|store|put", "store", "", "from", "storage", "stored at 12 C dark", "in the", false, true, false,
	    { Q("at|", "temp", AB_DIM_TEMP), Q("for", "for", AB_DIM_TIME), W("in|", "light", ab_words_light), Q("hottest", "hottest", AB_DIM_TEMP),
		F("upright", "upright", "yes") } },
	{ "fined|finings", "fining", "", "at", "finings", "fined with gelatine", "", false, true, false, { ID("with|", "name") } },
	{ "changed", "change", "", NULL, "something new", "changed capped on foam from now on", "", false, true, true, { REST(NULL) } },
	{ "note", "note", "", NULL, "note", "note it smells of apples", "", false, true, true, { REST(NULL) } },
};
const size_t n_entry_rows = sizeof entry_rows / sizeof *entry_rows;

const struct entry_alias entry_aliases[] = {
	{ "shaking", "shake", ab_words_aerate }, { "shaken", "shake", ab_words_aerate }, { "pouring", "pour", ab_words_aerate },
	{ "splashing", "pour", ab_words_aerate }, { "stone", "oxygen", ab_words_aerate }, { "air pump", "pump", ab_words_aerate },
	{ "lid", "open-lid", ab_words_hop_open }, { "the lid", "open-lid", ab_words_hop_open }, { "still working", "while-active", ab_words_hop_open },
	{ "siphoned", "siphon", ab_words_transfer }, { "hose", "siphon", ab_words_transfer }, { "closed loop", "closed", ab_words_transfer },
	{ "table sugar", "sucrose", ab_words_sugar }, { "sugar", "sucrose", ab_words_sugar }, { "corn sugar", "dextrose", ab_words_sugar },
	{ "glucose", "dextrose", ab_words_sugar }, { "ice", "ice-bath", ab_words_chill }, { "immersion coil", "coil", ab_words_chill },
	{ "overnight", "overnight-closed", ab_words_chill }, { "oxygen caps", "oxygen-absorbing", ab_words_cap },
	{ "oxygen scavenging", "oxygen-absorbing", ab_words_cap }, { "bucket", "fermenter", ab_words_gear }, { "carboy", "fermenter", ab_words_gear },
	{ "tubing", "hose", ab_words_gear }, { "air", "air-filled", ab_words_target }, { "flushed", "flow-purged", ab_words_target },
	{ "fridge", "dark", ab_words_light }, { "cellar", "dark", ab_words_light }, { "shelf", "indoor", ab_words_light },
	{ "blowoff", "blow-off", ab_words_airlock }, { "pressure", "top-pressure", ab_words_airlock },
};
const size_t n_entry_aliases = sizeof entry_aliases / sizeof *entry_aliases;
