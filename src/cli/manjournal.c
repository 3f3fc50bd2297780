/* manjournal.c - what afterboil-journal(5) says beside the tables
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/manformats.h"

#include "journal/tables.h"

static const char HEAD[] =
    ".Dd November 26, 2026\n.Dt AFTERBOIL-JOURNAL 5\n.Os\n.Sh NAME\n.Nm afterboil-journal\n"
    ".Nd batch journal and brewery profile of a home brewery\n"
    ".Sh DESCRIPTION\n"
    "A batch journal tells one brew, from the recipe to the tasting.\n"
    "A brewery profile tells what stays the same from batch to batch, and what there is to spend.\n"
    "Both are XML files in UTF-8, written by hand or with\n.Xr afterboil 1 .\n"
    ".Pp\n"
    "Elements stand in any order.\n"
    "Hardly anything is needed: what is missing is unknown, and unknown is never taken for no or for nothing.\n"
    "What was told and could not be reckoned, \"afterboil facts\" lists with what was missing beside it.\n"
    "Write what you know, and leave out the rest.\n"
    ".Pp\n"
    "A journal has the element <batch> at its top, or <batches> with any number of <batch> in it.\n"
    "Its namespace is urn:afterboil:journal:1, that of a profile urn:afterboil:profile:1.\n"
    "Elements and attributes of other namespaces are passed over.\n"
    ".Pp\n"
    "What you only believe, mark with guess=\"yes\", which every element takes but <batch> and <brewery>: then "
    "all it tells is a guess.\n"
    "A guess counts for less.\n"
    "Of one yeast a second <yeast guess=\"yes\"> may tell what the first does not; where both tell the same, they are "
    "two yeasts.\n"
    "What fits nowhere goes into a <note>, for yourself: no answer hangs on it.\n"
    ".Pp\n"
    "The schemas journal.rng and profile.rng, beside the rules, serve editors that know RELAX NG.\n"
    ".Sh VALUES\n"
    ".Bl -tag -width Ds\n"
    ".It text\n"
    "Anything.\n"
    ".It a short name\n"
    "Letters, digits, full stops, hyphens and underscores, up to 64 of them.\n"
    "Short names have blanks or commas between them.\n"
    ".It a word\n"
    "One of those listed, or one of OTHER WORDS below; capitals do not matter.\n"
    ".It a date\n"
    "Year, month and day: 2031\\-03\\-07.\n"
    ".It a moment\n"
    "A date, a date with the time of day (2031\\-03\\-07T15:30), how long after pitching (+3d 4h),\n"
    "or how long after packaging (package+14d).\n"
    "Where no <package> tells its day, how long after is known, and the day is not.\n"
    "Times are those of the clock on the wall; summer time is not looked at.\n"
    "Pitching itself needs a date; where it is not told, the clock starts at 18:00 of the day brewed.\n"
    ".It a number\n"
    "Digits with a full stop as the point.\n"
    ".It a quantity\n"
    "A number and its unit, such as 19.5 C; a length of time may be a sum, such as 3d 4h.\n"
    "The gallon, quart, pint and fluid ounce are those of the US; impgal is the imperial gallon.\n"
    "Ten points of gravity are 1.010 SG.\n"
    "The bounds shown below catch a wrong unit or a lost point; they are no advice.\n"
    ".Pp\n"
    "A quantity may be as rough as you know it, but for prices and bare numbers.\n"
    "A range (16\\-27 C, 16 to 27 C, between 16 and 27 C) counts as its middle, as uncertain as half of it is wide.\n"
    "What has about, around, roughly, ca. or ~ in front, or or so behind, is a guess; what stands beside it is not.\n"
    "Of a bound (<15.5 C, below 15.5 C, over 25 C, at least 2 wk, 2 min or longer) only the side is known.\n"
    "It is taken to lie beyond: by 2 C, three points or 0.2 of pH, else by a quarter over it or a fifth under it,\n"
    "of a share by half of what is left to the whole where that is less, and to be as uncertain (estimates);\n"
    "what may burst is reckoned with the bound itself.\n"
    "Where you have an idea, a range says more.\n"
    "In XML itself < is written as &lt;.\n"
    "A length of time may be in words: 2 weeks as 2 wk, and as guesses overnight (12 h), a week, two weeks, a "
    "few days (3 d).\n"
    ".El\n";

/* From the comments of journal.h and profile.h, said to a brewer. */
static const struct format_note notes[] = {
	{ "batch", "id", "what this batch is called by; no other batch may have the same" },
	{ "batch", "brewed", "the brew day" },
	{ "batch", "line", "the beer that is brewed again and again; batches of one line are compared" },
	{ "batch", "family", "what kind of beer it is" },
	{ "batch", "wort", "a name that batches split from one wort have in common" },
	{ "recipe", "og", "original gravity as planned" },
	{ "recipe", "fg", "final gravity as planned" },
	{ "recipe", "co2", "carbonation as planned" },
	{ "recipe", "complete", "every fermentable is listed; untold, lines without amounts tell what was in "
	    "the beer and not what was not" },
	{ "malt", "share", "of all that goes into the mash" },
	{ "hop", "use", "where every hop has one, the bittering ones with an amount, and none is dry, there were no "
	    "dry hops" },
	{ "hop", "alpha", "alpha acid" },
	{ "hop", "kept", "how the hops were kept until then" },
	{ "mash", "last-runnings", "gravity at the end of the sparge" },
	{ "mash", "runnings-ph", "at the end of the sparge" },
	{ "mash", "cooled-below", "the lowest temperature the mash fell to" },
	{ "mash", "steeped-hot", "grain was boiled, or steeped or squeezed very hot" },
	{ "water", "treatment", "what was done against chlorine and chloramine" },
	{ "water", "top-up", "cold water added after the boil" },
	{ "water", "alkalinity", "as calcium carbonate" },
	{ "water", "supplier", "the works or the brand, to compare batches by" },
	{ "boil", "off", "what boils away in an hour, as a share of the volume" },
	{ "chill", "above-80", "how long the wort stayed above 80 C after the boil" },
	{ "chill", "to-pitch", "from the end of the boil to the yeast" },
	{ "chill", "trub", "how much of it went into the fermenter" },
	{ "chill", "end-temp", "of the wort as it left the chiller" },
	{ "yeast", "class", "a class of yeast of the rules; afterboil rules list yeasts shows them" },
	{ "yeast", "amount", "of dry yeast, in all" },
	{ "yeast", "volume", "of slurry" },
	{ "yeast", "kept", "how the yeast was kept" },
	{ "yeast", "starter", "volume of the starter; 0 L when none was made" },
	{ "yeast", "generation", "how often it was used before; 0 is fresh" },
	{ "yeast", "last-spoilt", "the beer it was taken from, or made before, was sour or spoilt otherwise" },
	{ "yeast", "judged", "how much it was by your own word, where nobody counted" },
	{ "pitch", "clean", "no when something not sanitised touched the wort" },
	{ "vessel", "volume", "what it can hold" },
	{ "vessel", "headspace", "the air over the beer" },
	{ "vessel", "control", "how its temperature was held" },
	{ "vessel", "target", "the temperature aimed at" },
	{ "vessel", "second", "the beer was moved into it after the first fermenter" },
	{ "vessel", "scratched", "scratched inside, or it smells" },
	{ "vessel", "held-sour", "it ever held a sour or wild beer" },
	{ "vessel", "last-spoilt", "the batch before in it was sour or spoilt otherwise" },
	{ "vessel", "flies", "fruit flies were about" },
	{ "vessel", "judged", "how warm it stood for its yeast, by your own word, where nobody measured" },
	{ "vessel", "swings", "its temperature went up and down by degrees, by your own word" },
	{ "vessel", "rated", "made to be put under pressure" },
	{ "vessel", "rated-pressure", "up to which pressure its maker allows" },
	{ NULL, "room", "temperature of the room around it" },
	{ "brewery", "room", "usual temperature where beer ferments" },
	{ "reading", "wort", "temperature of the wort or beer itself" },
	{ "reading", "sample", "temperature of the gravity sample" },
	{ "reading", "corrected", "the gravity is corrected already, for temperature or alcohol" },
	{ "reading", "mixed", "the wort was well mixed before" },
	{ "log", "file", "its path, from the folder of the journal on" },
	{ "log", "utc-offset", "hours added to times that are in UTC or have a zone" },
	{ "lag", "first-signs", "from pitching to the first foam or bubbles" },
	{ "lag", "restarted", "fermentation started again after it had ended" },
	{ "lag", "stalled", "it stopped early and stayed high" },
	{ "lag", "roused", "the yeast was stirred up or warmed" },
	{ NULL, "for", "how long" },
	{ "crash", "airlock", "what was on the vessel while it cooled" },
	{ "crash", "sucked-back", "air or airlock liquid was drawn in" },
	{ "sugar", "at", "put in while it fermented, then; untold, it was in the wort" },
	{ "extra", "at",
	    "when it went in; untold, what ferments of it counts as put in last, for bottles burst of late sugar" },
	{ "extra", "sugars", "the share of its weight that ferments; untold, 12 %" },
	{ "spund", "pressure", "as the gauge shows it; 0 bar when it was let off. Only in a vessel made and "
	    "stamped for more, with its own relief valve: never in glass, a "
	    "bucket or plastic not made for it" },
	{ "spund", "until", "when it was let off" },
	{ "dry-hop", "amount", "0 g when there were none" },
	{ "dry-hop", "opened", "how they went in" },
	{ "dry-hop", "contact", "how long they stayed in" },
	{ "dry-hop", "loose", "not in a bag" },
	{ "transfer", "to", "id of the vessel or package it went to" },
	{ "transfer", "target", "what was in there before the beer" },
	{ "transfer", "by-mouth", "the siphon was started by mouth" },
	{ "opened", "vessel", "which it was; untold, the fermenter" },
	{ "gear", "item", "one piece, of which the line then tells and of no other; \"everything\" for all that "
	    "cold wort or beer touched. Of the kettle rust, smell and what it is made for count; how it was cleaned "
	    "does not, for wort boils in it" },
	{ "gear", "cleaned", "with what; other, or yes, where that is not known" },
	{ "gear", "dismantled", "taken apart to clean" },
	{ "gear", "soil", "a ring or soil was left" },
	{ "gear", "dose-ppm", "the same where it was counted in ppm" },
	{ "gear", "label-share", "the dose as a share of what the label says" },
	{ "gear", "contact", "how long the sanitiser stood or the piece was wet" },
	{ "gear", "heat", "how hot the piece was all that time, where heat was the sanitiser" },
	{ "gear", "mixed-age", "how long ago the sanitiser was mixed" },
	{ "gear", "rinse", "none, beside a sanitiser that wants none, is told of that one: a cleaner that was not "
	    "rinsed off before it wants a line of its own" },
	{ "gear", "shared-sour", "used with mixed cultures too, or yeast that eats on" },
	{ "gear", "rusty", "rust or worn plating" },
	{ "gear", "for-food", "made for food and drink: a garden hose is not" },
	{ "package", "neck", "empty height in the neck" },
	{ "package", "wand", "filled from the bottom" },
	{ "package", "priming", "the sugar for all of the volume" },
	{ "package", "mixing", "how the sugar was mixed in" },
	{ "carbonate", "gas", "what the cylinder holds: mixed is carbon dioxide with nitrogen. What either but "
	    "co2 makes of a keg is not reckoned" },
	{ "package", "purges", "how often the keg was filled with gas and vented" },
	{ "package", "filled", "what was in keg or bottle before the beer" },
	{ "package", "size", "of one bottle or keg" },
	{ "package", "fate",
	    "what became of all the bottles; drunk and poured-away end the warning of them, let-off does not" },
	{ "package", "fate-at", "when that was" },
	{ "package", "headspace", "over the beer in a keg" },
	{ NULL, "pressure", "as the gauge shows it" },
	{ "store", "temp", "the usual one" },
	{ "store", "hottest", "the highest it met; without temp the usual is taken to lie below it, at 20 C, or 5 K "
	    "under it, at the least" },
	{ "store", "for", "how long; under a day with light tells of the light, not of the beer's age" },
	{ "store", "upright", "bottles stood" },
	{ "serve", "line-cleaned", "time since then" },
	{ "serve", "idle", "how long the line stood unused" },
	{ "serve", "tower-warm", "the tap or its line is warm" },
	{ "instrument", "checked", "held against a known point: ice water, plain water" },
	{ "instrument", "off-temp",
	    "what it shows too much; with a minus, too little: below 0 K where nobody knows by how much" },
	{ "instrument", "off-gravity", "the same of a gravity, such as 2 points" },
	{ "instrument", "compensated", "it corrects for temperature by itself" },
	{ "change", "what", "its id where the rules know it; afterboil rules list changes shows them" },
	{ "tried", "what",
	    "its id where the rules know it; or, inside the element, own words. What the rules do not know tells "
	    "nothing; check says so" },
	{ "tried", "helped", "what was wrong was not there then, or less; with this brew or another" },
	{ "change", "adopted", "kept from now on, or only tried" },
	{ "found", "fault", "in plain tasting words, such as buttery" },
	{ "found", "intensity", "from 1, barely there, to 5, undrinkable" },
	{ "found", "at-packaging", "it was there at packaging already" },
	{ "found", "feared", "expected, neither tasted nor measured" },
	{ "absent", "fault", "in plain tasting words" },
	{ "tasting", "by", "who tasted" },
	{ "tasting", "blind", "without knowing which beer it was" },
	{ "tasting", "from", "packaged is finished beer, out of whatever it was in" },
	{ "water", "salts", "added: nobody tells how they were measured" },
	{ "packs", "into", "both: some in bottles, some in kegs" },
	{ "brewery", "currency", "the sign shown with prices; nothing is converted" },
	{ "tasting", "complete", "every fault was thought of, so what is not named was not there" },
	{ "tasting", "score-of", "what the score is out of" },
	{ "tasting", "panel", "how many tasters agreed on it" },
	{ "tasting", "every-batch", "every batch has what was found" },
	{ "tasting", "first-time", "no batch had it before" },
	{ "tasting", "mark", "what this bottle was marked for when it was filled, such as splashed" },
	{ "test", "kind", "a check of the rules; afterboil rules list checks shows them, each as a question" },
	{ "test", "result", "the answer to that question, which afterboil rules explain tells in full, with how it is "
	    "done and what follows: of hydrometer-in-water yes says that the hydrometer is off" },
	{ "looks", "neck-ring", "a ring inside the bottle necks" },
	{ "looks", "surface", "what floats on the beer" },
	{ "looks", "smell-nearby", "something near the fermenter smells so" },
	{ "brewery", "units", "in which answers are given" },
	{ "brewery", "space", "the largest new thing there is room for" },
	{ "brewery", "goal", "what advice is to gain" },
	{ "brewery", "brewed-so-far", "batches, 0 for none yet; it moves no figure, advice says whom it is for" },
	{ "brewery", "horizon", "the time over which running costs are counted" },
	{ "brewery", "altitude",
	    "above the sea; thin air brings less oxygen into wort, and open beer holds less gas under it" },
	{ "money", "now", "what may be spent at once" },
	{ "money", "per-year", "what may be spent a year on running costs" },
	{ "time", "per-batch", "how much longer a batch may take" },
	{ "time", "away", "the longest that nobody is at home while a beer ferments" },
	{ "week", "free", "days of the week, such as sat, sun, not every other sat from 2031-03-08; with an "
	    "hour of their own where they differ: tue 19:00, sat 10:00" },
	{ "week", "begins", "the hour from which on there is, such as 10:00" },
	{ "week", "other-begins", "the same on the others, such as 20:30" },
	{ "week", "time", "how much there is on those days" },
	{ "week", "other", "how much there is on the others" },
	{ "away", "days", "a day, or the first and the last with two full stops between" },
	{ "owns", "since", "batches before and after that day show what it was worth" },
	{ "owns", "change", "an id that afterboil rules list changes shows" },
	{ "owns", "thing", "in place of change: what stands there and is no change by itself, such as fridge, tub or "
	    "large kettle; afterboil rules list things shows them" },
	{ "owns", "unused", "of a change: it lies in a cupboard; without it, what is owned is taken to be in use. Of a "
	    "thing it is taken so; no: it is not to be had, as a fridge full of food" },
	{ "trouble", "fault", "in plain tasting words; \"nothing\": the beer is fine; one of the three" },
	{ "trouble", "cause", "an id of the rules" },
	{ "trouble", "chore",
	    "a burden that no beer tastes of, such as slow chilling; afterboil rules list chores shows them" },
	{ "taster", "blind-to", "faults this taster does not notice" },
	{ "taster", "panel", "people behind this name" },
	{ "price", "change", "an id that afterboil rules list changes shows" },
	{ "refuses", "change", "an id that afterboil rules list changes shows" },
	{ "price", "cost", "to buy" },
	{ "price", "per-year", "to run" },
	{ "price", "time", "a batch" },
	{ "changed", "on", "in force from the first batch brewed on that day or later" },
	{ "changed", "line", "only for this beer" },
	{ NULL, NULL, NULL }
};

static const char JOURNAL[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<batch xmlns=\"urn:afterboil:journal:1\" id=\"porter-4\" brewed=\"2031-03-07\"\n"
    "    line=\"porter\" family=\"dark-roast\">\n"
    "  <recipe volume=\"20 L\" og=\"1.056 SG\" fg=\"1.014 SG\"/>\n"
    "  <boil time=\"60 min\" vigour=\"rolling\" lid=\"off\"/>\n"
    "  <chill method=\"coil\" above-80=\"10 min\" to-pitch=\"45 min\" end-temp=\"24 C\"/>\n"
    "  <yeast class=\"english-ale\" form=\"dry\" amount=\"11 g\"/>\n"
    "  <pitch at=\"2031-03-07T17:00\" temp=\"24 C\"/>\n"
    "  <vessel kind=\"bucket\" volume=\"30 L\" control=\"none\" room=\"22 C\"/>\n"
    "  <reading at=\"+0d\" gravity=\"1.055 SG\" instrument=\"hydrometer\"/>\n"
    "  <reading at=\"+1d 12h\" wort=\"26 C\"/>\n"
    "  <reading at=\"+10d\" gravity=\"1.015 SG\" instrument=\"hydrometer\" guess=\"yes\"/>\n"
    "  <package at=\"+14d\" into=\"bottles\" bottle=\"longneck\" priming=\"110 g\"\n"
    "      sugar=\"sucrose\" mixing=\"onto-syrup\" volume=\"19 L\"/>\n"
    "  <store for=\"3 wk\" temp=\"20 C\" light=\"dark\"/>\n"
    "  <tasting at=\"2031-04-18\" by=\"brewer\" from=\"bottle\" complete=\"yes\">\n"
    "    <found fault=\"boozy\" intensity=\"3\"/>\n"
    "    <absent fault=\"buttery\"/>\n"
    "    <next-time>keep it cooler for the first days</next-time>\n"
    "  </tasting>\n"
    "  <note>The first warm week of the year.</note>\n"
    "</batch>\n";

static const char PROFILE[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<brewery xmlns=\"urn:afterboil:profile:1\" currency=\"$\" units=\"metric\" space=\"floor\">\n"
    "  <batch-size volume=\"20 L\"/>\n"
    "  <per-year batches=\"10\"/>\n"
    "  <brews family=\"dark-roast\" share=\"60 %\"/>\n"
    "  <brews family=\"pale-hoppy\" share=\"40 %\"/>\n"
    "  <money now=\"80\" per-year=\"20\"/>\n"
    "  <time per-batch=\"30 min\"/>\n"
    "  <packs into=\"bottles\"/>\n"
    "  <usual>\n"
    "    <water source=\"tap\" treatment=\"sulphite\"/>\n"
    "    <gear item=\"bottles\" cleaned=\"percarbonate\" sanitiser=\"acid\" contact=\"2 min\"/>\n"
    "  </usual>\n"
    "  <taster name=\"brewer\"/>\n"
    "</brewery>\n";

static const char TAIL[] =
    ".Sh SEE ALSO\n.Xr afterboil 1 ,\n.Xr afterboil-rules 5\n"
    ".Sh CAVEATS\n"
    "What is not written down cannot be warned of: no warning does not mean that bottles are safe.\n"
    "Local codes and licensed practice go before anything said here.\n";

const struct format_page format_journal = {
	HEAD, TAIL,
	{ { &ab_journal_doc, "ELEMENTS OF A JOURNAL", "They come here in the order of a brew." },
	    { &ab_profile_doc, "ELEMENTS OF A PROFILE",
		"The file is named profile.xml, beside the journals or one folder up. "
		"<trouble> is what keeps coming back, batch after batch; what one beer tasted of stands in its "
		"journal as <found>. Told in both places it counts "
		"for more: as one batch and as what always is. For one bad batch write the tasting alone. "
		"What <owns>, <refuses>, <price> and <changed> name are ids of the rules, as afterboil rules "
		"list changes shows them. What is owned is taken to be in "
		"use, and is not advised; unused=\"yes\" says that it lies about, and then it is advised as free. "
		"A part of a change, such as a fridge without a controller, is a thing: <owns thing=\"fridge\"/> makes "
		"the change cost only what is still bought. "
		"The currency is a sign and converts nothing: the prices of the rules are in US dollars, and "
		"<price> tells yours." } },
	{ { "A journal, porter-4.xml:", JOURNAL,
	    "afterboil check porter-4.xml\nafterboil diagnose porter-4.xml\n" },
	    { "A profile, profile.xml, in the same folder:", PROFILE,
		"afterboil advise porter-4.xml --no-store\n" } },
	notes, format_howto, &ab_by_hand
};
