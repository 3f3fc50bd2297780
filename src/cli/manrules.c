/* manrules.c - what afterboil-rules(5) says beside the tables
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/manformats.h"

#include "knowledge/raw.h"

static const char HEAD[] =
    ".Dd November 26, 2026\n.Dt AFTERBOIL-RULES 5\n.Os\n.Sh NAME\n.Nm afterboil-rules\n"
    ".Nd what afterboil knows of faults, causes and changes\n"
    ".Sh DESCRIPTION\n"
    "All that\n.Xr afterboil 1\nknows of the trade stands in rules files: XML in UTF-8, namespace "
    "urn:afterboil:rules:1, "
    "with <rules> at the top.\n"
    "Faults are what a taster notices, causes what brings them.\n"
    "A cause says how common it is (prior), what it gives, and what in a journal speaks for or against it (sign); "
    "a gate says when it cannot be.\n"
    "Changes take causes away, checks tell causes apart.\n"
    "Families, yeasts, sanitisers and bottles say what is normal.\n"
    "A kin joins causes that are one thing by several ways, as an infection is.\n"
    "Boxes are what a batch sheet asks for, touches what a batch asks of a brewer's time.\n"
    "Malts are what malts are called in a line of the log; what one maltster alone calls a malt of his is no "
    "word here, and may "
    "stand in a file of your own.\n"
    "Chores are burdens that no beer tastes of, such as slow chilling, and what eases them.\n"
    "Numbers are what the trade counts on and no other rule holds, such as how many days at one gravity are still.\n"
    ".Pp\n"
    "Every number needs a source, or says that it is an estimate; an estimate is said to be one on screen, too.\n"
    "Unknown facts are silent: a sign, a condition or a gate on what nobody wrote down does nothing.\n"
    ".Sh YOUR OWN RULES\n"
    "Put a file of your own, with any name that ends in .xml, into a folder of your own, and name the folder with "
    "--rules.\n"
    "Its files are read after those that come with the program.\n"
    "A new id adds; replace=\"yes\" with an id that is there already takes its place, as a whole.\n"
    "First let the program look it over with rules lint: it names file and line of what is wrong.\n"
    "afterboil rules list shows the ids there are, and afterboil rules list facts the facts.\n"
    ".Pp\n"
    "A fault needs a cause that gives it.\n"
    "A cause needs a prior, the first without a condition, and at least one fault it gives.\n"
    "The schema rules.rng, beside the rules, serves editors that know RELAX NG.\n"
    ".Sh VALUES\n"
    ".Bl -tag -width Ds\n"
    ".It text\n"
    "Anything.\n"
    ".It a short name\n"
    "Letters, digits, full stops, hyphens and underscores, up to 64 of them.\n"
    "Short names have blanks or commas between them.\n"
    ".It a word\n"
    "One of those listed; capitals do not matter.\n"
    ".It a number\n"
    "Digits with a full stop as the point.\n"
    ".It a quantity\n"
    "A number and its unit, such as 19.5 C; a length of time may be a sum, such as 3d 4h.\n"
    ".El\n";

/* From the head of knowledge.h, said to a brewer. */
static const struct format_note notes[] = {
	{ NULL, "id", "what others call it by" },
	{ NULL, "replace", "yes takes the place of what has this id already" },
	{ NULL, "source", "where it comes from, or \"estimate\" and why" },
	{ NULL, "fact", "a fact; afterboil rules list facts shows them" },
	{ NULL, "fault", "id of a fault" },
	{ NULL, "cause", "id of a cause" },
	{ NULL, "change", "id of a change" },
	{ NULL, "side", "hot, or cold: all after the boil" },
	{ NULL, "stage", "when in a batch it happens" },
	{ NULL, "noticeable", "the chance that it is tasted at all" },
	{ NULL, "moderate", "the chance that it is moderate or worse; else between the two others" },
	{ NULL, "strong", "the chance that it is strong" },
	{ NULL, "minutes", "of work" },
	{ "fault", "severity", "how much a slight grade of it spoils a beer" },
	{ "fault", "packaged-only", "nobody can find it before the beer is packaged and has its gas" },
	{ "confused", "with", "the fault it really is" },
	{ "confused", "share", "in which share of the reports" },
	{ "cause", "kind", "process when the brewing brought it, benign when nothing went wrong" },
	{ "cause", "kin", "id of the kin it belongs to" },
	{ "cause", "expects", "yes when it gives what the family or the yeast is meant to have" },
	{ "prior", "p", "the chance that it is there in a batch of which nothing else is known; over 0 and under 1" },
	{ "gate", "says", "why it is impossible then" },
	{ "sign", "unit", "of x, where the fact has one" },
	{ "sign", "group", "of the signs of one group only the strongest counts: they read the same thing" },
	{ "sign", "nominal", "yes: the curve is of the figure as it is reckoned, and is read there however "
	    "unsure the figure is (what is uncertain in the reckoning was so in what the curve rests on); else "
	    "the ratio is its mean over what the fact may be" },
	{ "sign", "for", "what is said where it speaks for the cause" },
	{ "sign", "against", "what is said where it speaks against it" },
	{ "at", "x", "a value of the fact; x rises from point to point" },
	{ "at", "ratio", "how many times likelier such a value is with the cause than without; 1 says nothing" },
	{ "is", "word", "a word of the fact; yes or no where it is a yes or no" },
	{ "is", "ratio", "how many times likelier this word is with the cause than without; 1 says nothing" },
	{ "when", "is", "the fact is one of these words" },
	{ "when", "not", "the fact is known and none of these words" },
	{ "when", "unless", "the fact is not known to be one of these words; holds of an unknown fact, too" },
	{ "when", "over", "the fact is known and over this" },
	{ "when", "under", "the fact is known and under this" },
	{ "when", "known", "whether the fact is known" },
	{ "change", "kind", "a habit, or something to buy" },
	{ "change", "cost", "to buy, in US dollars" },
	{ "change", "running", "a batch, in US dollars" },
	{ "change", "running-per-year", "a year, in US dollars" },
	{ "change", "minutes", "more a batch; with a minus, less" },
	{ "change", "once-minutes", "once, to set it up" },
	{ "change", "attend", "somebody must be at home at least this often while it is under way" },
	{ "change", "over-room", "kelvin: how much warmer than its room a beer is reckoned where {room.yeasts} "
	    "of <how> names classes of yeast" },
	{ "change", "slowest", "the longest primary of a class that {room.yeasts} names" },
	{ "change", "space", "none, drawer, cupboard or floor" },
	{ "change", "noisy", "it can be heard" },
	{ "change", "smoky", "it makes smoke or fumes" },
	{ "change", "group", "changes of one group do the same work" },
	{ "sets", "to", "the fact becomes this; one of the three is needed" },
	{ "sets", "at-most", "the fact becomes no more than this" },
	{ "sets", "at-least", "the fact becomes no less than this" },
	{ "prevents", "share", "the share of the cause it takes away, where its facts are unknown" },
	{ "check", "cost", "in US dollars" },
	{ "check", "wait", "until there is an answer" },
	{ "check", "base", "the chance of a yes when none of its causes is there" },
	{ "check", "answered-by", "the fact that tells the same, and finer; where it is known, nobody asks" },
	{ "check", "about", "ids of faults: asked only when one of them was found" },
	{ "check", "stalls", "told before a beer that hangs is blamed: it looks at the reading" },
	{ "check", "marked",
	    "words of a bottle's mark: it had the suspected treatment; held against the others it answers the check" },
	{ "check", "spared", "the same: it was kept from that" },
	{ "yes", "p", "the chance of a yes when the cause is there" },
	{ "expects", "up-to", "no sign of anything wrong up to this grade" },
	{ "hurts", "factor", "times the severity; 0 when it does not matter" },
	{ "freshness", "fading", "the oxygen in mg/L times the days at 20 C from which it fades" },
	{ "freshness", "stale", "the same, from which it is stale" },
	{ "freshness", "long-stale", "the same, from which it is long stale" },
	{ "yeast", "low", "lower end of its usual range" },
	{ "yeast", "high", "upper end of it" },
	{ "yeast", "tolerated-low", "lowest it still works well at" },
	{ "yeast", "tolerated-high", "highest it is still clean at" },
	{ "yeast", "attenuation-low", "apparent attenuation, lower end" },
	{ "yeast", "attenuation-high", "apparent attenuation, upper end" },
	{ "yeast", "pitch-rate", "million cells a millilitre and degree Plato" },
	{ "yeast", "rest", "temperature at which it clears up butter" },
	{ "yeast", "primary", "how long the main fermentation takes" },
	{ "yeast", "clean", "how long it clears up after that" },
	{ "yeast", "lag", "longest usual time to the first signs" },
	{ "yeast", "phenolic", "it makes clove or spice" },
	{ "yeast", "diastatic", "it eats on slowly, in bottles too" },
	{ "yeast", "sulphury", "it makes sulphur" },
	{ "yeast", "flocculent", "it drops early" },
	{ "yeast", "stands-in", "bottles whose yeast has no told class are judged by it, for safety" },
	{ "sanitiser", "agent", "the word a journal has for it" },
	{ "sanitiser", "contact", "how long it must stand; the label goes before" },
	{ "sanitiser", "keeps", "how long it keeps once mixed" },
	{ "sanitiser", "heat", "how hot, for that contact, where heat does it" },
	{ "sanitiser", "no-rinse", "it need not be rinsed off" },
	{ "bottle", "kind", "the word a journal has for it" },
	{ "bottle", "limit", "the most carbonation it bears; a lower limit of its maker goes before" },
	{ "bottle", "limit-pressure", "the most pressure it bears; a lower limit of its maker goes before" },
	{ "bottle", "care", "what to do with one that may hold too much; else what is said of glass bottles is said" },
	{ "box", "fact", "the fact it makes known" },
	{ "box", "also", "facts it makes known besides" },
	{ "box", "day", "on which day of the batch" },
	{ "box", "core", "yes puts it on every sheet" },
	{ "box", "first", "of two readings, the first comes so long after pitching where the yeast is not known" },
	{ "box", "apart", "between the two readings" },
	{ "aim", "says", "may hold names in braces that are filled in, such as {yeast.low} or {og}" },
	{ "malt", "kind", "the kind of malt that a journal writes for it; of other the name is kept as it was said" },
	{ "needs", "or-thing", "a thing that does in its place" },
	{ "spares", "thing", "who has it pays so much less" },
	{ "spares", "cost", "off the price" },
	{ "spares", "running", "off the running cost, a batch" },
	{ "spares", "room", "yes: it stands there already, and no room is asked for" },
	{ "spares", "leaves", "what is still bought, read after \"only\"" },
	{ "ease", "anew", "yes: what it brings has failed, so it is had again whoever owns one, and it comes first" },
	{ "ease", "without", "a change: who owns it has nothing of this ease" },
	{ "ease", "share", "how much of the burden it takes, by itself" },
	{ "touch", "after", "ids of touches: the first of them that is done with this beer goes before" },
	{ "touch", "before", "the id of the touch it prepares, which stands after it: it waits for no later day" },
	{ "touch", "shown-by", "the record of a journal that shows it done: look is any reading, same-gravity "
	    "one that stood for three days, cleaning a fermenter cleaned after packaging, forced a <test> of a "
	    "forced sample" },
	{ "touch", "lapses", "yes: nobody writes it down, so it counts as done once it may wait no longer" },
	{ "touch", "goal", "yes: the beer is there" },
	{ "touch", "upkeep", "yes: cleaning that comes with it" },
	{ "touch", "hour", "of the day it is best done at" },
	{ "takes", "minutes", "usually" },
	{ "takes", "low", "at the least" },
	{ "takes", "high", "at the most" },
	{ "due", "from", "so long after what goes before" },
	{ "due", "pace", "the yeast's own time for this" },
	{ "due", "share", "of that pace, when that is later" },
	{ "due", "waits", "how long it may wait" },
	{ "due", "slow", "so many times the pace, where a deadline is kept and nothing was measured" },
	{ "number", "is", "with its unit: days, kelvin; points of gravity and chances bare" },
	{ NULL, NULL, NULL }
};

static const char OWN[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<rules xmlns=\"urn:afterboil:rules:1\">\n"
    "  <fault id=\"cellar-smell\" severity=\"3\" source=\"estimate: as other off smells\">\n"
    "    <title>Smell of the cellar</title>\n"
    "    <like>Damp stone, an old cupboard.</like>\n"
    "    <word>like our cellar</word>\n"
    "    <leak noticeable=\"0.01\" strong=\"0.002\" source=\"estimate\"/>\n"
    "  </fault>\n"
    "  <cause id=\"cellar-air\" side=\"cold\" stage=\"ferment\">\n"
    "    <title>The beer took up the air of the cellar</title>\n"
    "    <why>An open vessel takes in what the room smells of.</why>\n"
    "    <next>Keep the lid on, and ferment upstairs.</next>\n"
    "    <prior p=\"0.05\" source=\"estimate: one batch in twenty here\"/>\n"
    "    <gate says=\"a keg lets no air in\"><when fact=\"vessel.kind\" is=\"keg\"/></gate>\n"
    "    <sign fact=\"ferment.room\" unit=\"C\" source=\"estimate: our cellar is cool\"\n"
    "        for=\"the room was as cool as the cellar\" against=\"the room was too warm for the cellar\">\n"
    "      <at x=\"14\" ratio=\"3\"/><at x=\"18\" ratio=\"1\"/><at x=\"22\" ratio=\"0.3\"/>\n"
    "    </sign>\n"
    "    <gives fault=\"cellar-smell\" noticeable=\"0.6\" strong=\"0.2\" source=\"estimate\"/>\n"
    "  </cause>\n"
    "  <change id=\"ferment-upstairs\" kind=\"habit\" side=\"cold\" stage=\"ferment\" minutes=\"5\"\n"
    "      source=\"estimate: the stairs\">\n"
    "    <title>Ferment upstairs</title>\n"
    "    <how>In the cupboard under the roof.</how>\n"
    "    <caution>Carry no full vessel up alone.</caution>\n"
    "    <prevents cause=\"cellar-air\" share=\"0.9\" source=\"estimate\"/>\n"
    "  </change>\n"
    "</rules>\n";

static const char TAIL[] =
    ".Sh SEE ALSO\n.Xr afterboil 1 ,\n.Xr afterboil-journal 5\n"
    ".Sh CAVEATS\n"
    "A number without a measurement behind it is an estimate, whoever wrote it; say so in its source.\n"
    "What can hurt someone needs a <caution>, which does not replace the maker's instructions, local codes or "
    "licensed practice.\n";

const struct format_page format_rules = {
	HEAD, TAIL,
	{ { &ab_rules_doc, "ELEMENTS", "Where several stand for one thing, the last whose conditions hold is used." } },
	{ { "A file of your own, my-rules/cellar.xml:", OWN,
	    "afterboil rules lint --rules my-rules\n"
	    "afterboil rules explain cellar-air --rules my-rules\n"
	    "afterboil diagnose --rules my-rules --fault \"like our cellar\"\n" } },
	notes, NULL, NULL
};
