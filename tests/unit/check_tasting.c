/* check_tasting.c - behaviour over time and between bottles
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

#define ON(when, more, what) "<tasting at='" when "' " more ">" what "</tasting>"
#define FOUND(fault, more) "<found fault='" fault "' " more "/>"
#define PACK "<package at='2031-03-11T18:00'/>"
#define ALE "<yeast class='clean-ale'/>"

static const struct fact_row rows[] = {
	{ .title = "age", PACK ON("2031-04-10T18:00", "", ""), "taste.age", 30, 1e-9 },
	{ .title = "age before packaging", PACK ON("2031-03-09T18:00", "", ""), "taste.age", -2, 1e-9 },
	{ .title = "beer's age", ON("2031-04-10T18:00", "", ""), "taste.beer-age", 40, 1e-9 },
	{ .title = "age when it was found, though it is gone since", ON("2031-03-31T18:00", "", FOUND("buttery", "intensity='2'"))
	  ON("2031-09-10T18:00", "", "<absent fault='buttery'/>"), "taste.beer-age", 30, 1e-9 },
	{ .title = "age of the last that found anything", ON("2031-03-31T18:00", "", FOUND("buttery", "intensity='2'"))
	  ON("2031-04-10T18:00", "", FOUND("papery", "intensity='2'") "<absent fault='buttery'/>"), "taste.beer-age", 40, 1e-9 },
	{ .title = "age of a clean beer", ON("2031-03-31T18:00", " complete='yes'", "") ON("2031-04-10T18:00", " complete='yes'", ""),
	  "taste.beer-age", 40, 1e-9 },
	{ .title = "not tasted", PACK, "taste.age", AB_SILENT },
	{ .title = "growing as told", ON("2031-04-10", "", FOUND("sour", "behaviour='growing'")),
	  "taste.growing", 1, 0, NULL, AB_ORIGIN_MEASURED },
	{ .title = "growing is not fading", ON("2031-04-10", "", FOUND("sour", "behaviour='growing'")),
	  "taste.fading", 0, 0 },
	{ .title = "steady is neither", ON("2031-04-10", "", FOUND("sour", "behaviour='steady'")),
	  "taste.growing", 0, 0 },
	{ .title = "growing as shown", ON("2031-04-01", "", FOUND("sour", "intensity='2'")) ON("2031-04-20",
	  "", FOUND("sour", "intensity='4'")),
	  "taste.growing", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "fading as shown", ON("2031-04-01", "", FOUND("buttery", "intensity='4'")) ON("2031-04-20",
	  "", FOUND("buttery", "intensity='2'")),
	  "taste.fading", 1, 0 },
	{ .title = "in any order", ON("2031-04-20", "", FOUND("buttery", "intensity='2'")) ON("2031-04-01", "",
	  FOUND("buttery", "intensity='4'")),
	  "taste.fading", 1, 0 },
	{ .title = "gone", ON("2031-04-01", "", FOUND("buttery", "intensity='2'")) ON("2031-04-20", "",
	  "<absent fault='buttery'/>"), "taste.fading", 1, 0 },
	{ .title = "gone from a complete sheet", ON("2031-04-01", "", FOUND("buttery", "intensity='2'"))
	  ON("2031-04-20", "complete='yes'", ""), "taste.fading", 1, 0 },
	{ .title = "not spoken of", ON("2031-04-01", "", FOUND("buttery", "intensity='2'")) ON("2031-04-20",
	  "", ""), "taste.fading", AB_SILENT },
	{ .title = "came", ON("2031-04-01", "complete='yes'", "") ON("2031-04-20", "", FOUND("sour",
	  "intensity='3'")), "taste.growing", 1, 0 },
	{ .title = "a week is time", ON("2031-04-01", "", FOUND("sour", "intensity='2'")) ON("2031-04-08", "",
	  FOUND("sour", "intensity='4'")), "taste.growing", 1, 0 },
	{ .title = "the same day is no time", ON("2031-04-01", "", FOUND("sour", "intensity='2'"))
	  ON("2031-04-03", "", FOUND("sour", "intensity='4'")),
	  "taste.growing", AB_SILENT },
	{ .title = "another fault is no trend", ON("2031-04-01", "", FOUND("sour", "intensity='2'"))
	  ON("2031-04-20", "", FOUND("buttery", "intensity='4'")),
	  "taste.growing", AB_SILENT },
	{ .title = "the same strength", ON("2031-04-01", "", FOUND("sour", "intensity='2'")) ON("2031-04-20",
	  "", FOUND("sour", "intensity='2'")),
	  "taste.growing", 0, 0 },
	{ .title = "words beat numbers", ON("2031-04-01", "", FOUND("sour", "intensity='2'"))
	  ON("2031-04-20", "", FOUND("sour", "intensity='4' behaviour='steady'")), "taste.growing", 0, 0, NULL,
	  AB_ORIGIN_MEASURED },
	{ .title = "other bottles are another glass, not a later one", ON("2031-04-01", "mark='dark'", FOUND("sour", "intensity='1'"))
	  ON("2031-04-20", "mark='light'", FOUND("sour", "intensity='4'")), "taste.growing", AB_SILENT },
	{ .title = "the same bottles", ON("2031-04-01", "mark='light'", FOUND("sour", "intensity='1'"))
	  ON("2031-04-20", "mark='Light'", FOUND("sour", "intensity='4'")), "taste.growing", 1, 0 },
	{ .title = "sound for a month", PACK ON("2031-04-10T18:00", "", "<absent fault='sour'/>") ON("2031-06-10", "", FOUND("sour",
	  "intensity='3'")), "taste.sound-days", 30, 1e-9, NULL, AB_ORIGIN_DERIVED },
	{ .title = "sound by a complete sheet", PACK ON("2031-04-10T18:00", "complete='yes'", "") ON("2031-06-10", "", FOUND("sour",
	  "intensity='3'")), "taste.sound-days", 30, 1e-9 },
	{ .title = "the last of two sound glasses", PACK ON("2031-04-10T18:00", "", "<absent fault='sour'/>")
	  ON("2031-03-31T18:00", "", "<absent fault='sour'/>") ON("2031-06-10", "", FOUND("sour", "intensity='3'")), "taste.sound-days",
	  30, 1e-9 },
	{ .title = "of another fault it was sound", PACK ON("2031-04-10T18:00", "", "<absent fault='buttery'/>") ON("2031-06-10", "",
	  FOUND("sour", "intensity='3'")), "taste.sound-days", AB_SILENT },
	{ .title = "other bottles were sound", PACK ON("2031-04-10T18:00", "mark='light'", "<absent fault='sour'/>")
	  ON("2031-06-10", "mark='dark'", FOUND("sour", "intensity='3'")), "taste.sound-days", AB_SILENT },
	{ .title = "sound again is not sound before", PACK ON("2031-04-10T18:00", "", FOUND("sour", "intensity='3'")) ON("2031-06-10",
	  "", "<absent fault='sour'/>"), "taste.sound-days", AB_SILENT },
	{ .title = "faulty is not sound, whatever it lacked", PACK ON("2031-04-10T18:00", "", FOUND("thin", "intensity='3'")
	  "<absent fault='sour'/>") ON("2031-06-10", "", FOUND("sour", "intensity='3'")), "taste.sound-days", AB_SILENT },
	{ .title = "sound before there was a package", PACK ON("2031-03-09T18:00", "", "<absent fault='sour'/>") ON("2031-06-10", "",
	  FOUND("sour", "intensity='3'")), "taste.sound-days", AB_SILENT },
	{ .title = "a fear came later", PACK ON("2031-04-10T18:00", "", "<absent fault='sour'/>") ON("2031-06-10", "", FOUND("sour",
	  "feared='yes'")), "taste.sound-days", AB_SILENT },
	{ .title = "undated", "<tasting>" FOUND("sour", "intensity='2'") "</tasting>", "taste.growing", AB_SILENT },
	/* scores */
	{ .title = "a score", ON("2031-04-10", "score='38' score-of='50'", ""), "taste.score", 0.76, 1e-12 },
	{ .title = "one score", ON("2031-04-10", "score='38' score-of='50'", ""), "taste.scores", 1, 0 },
	{ .title = "one score has no spread", ON("2031-04-10", "score='38' score-of='50'", ""), "taste.score-spread", AB_SILENT },
	{ .title = "sheets differ in their most", ON("2031-04-10", "score='30' score-of='50'", "") ON("2031-04-10",
	  "score='8' score-of='10'", ""), "taste.score", 0.7, 1e-12 },
	{ .title = "spread of the sample", ON("2031-04-10", "score='30' score-of='50'", "") ON("2031-04-10", "score='8' score-of='10'", "")
	  ON("2031-04-11", "score='20' score-of='20'", ""), "taste.score-spread", 0.2, 1e-12 },
	{ .title = "three scores", ON("2031-04-10", "score='30' score-of='50'", "") ON("2031-04-10", "score='8' score-of='10'", "")
	  ON("2031-04-11", "score='20' score-of='20'", "") ON("2031-04-11", "", ""), "taste.scores", 3, 0 },
	{ .title = "no most, no score", ON("2031-04-10", "score='38'", ""), "taste.scores", AB_SILENT },
	{ .title = "not scored", ON("2031-04-10", "", ""), "taste.score", AB_SILENT },
	/* extent */
	{ .title = "some bottles", ON("2031-04-10", "", FOUND("sour", "extent='some-bottles'")),
	  "taste.some-bottles", 1, 0 },
	{ .title = "every bottle", ON("2031-04-10", "", FOUND("sour", "extent='every-bottle'")),
	  "taste.some-bottles", 0, 0 },
	{ .title = "last half", ON("2031-04-10", "", FOUND("gushing", "extent='last-half'")),
	  "taste.some-bottles", 1, 0 },
	{ .title = "last half of a keg is no bottle", PACK ON("2031-04-10", "from='tap-keg'", FOUND("gushing", "extent='last-half'")),
	  "taste.some-bottles", AB_SILENT },
	{ .title = "first half of a keg, by the package", "<package into='keg'/>" ON("2031-04-10", "", FOUND("gushing", "extent='first-half'")),
	  "taste.some-bottles", AB_SILENT },
	{ .title = "which half", ON("2031-04-10", "", FOUND("gushing", "extent='last-half'")), "taste.part", 0, 0, .word = "last-half" },
	{ .title = "first half", ON("2031-04-10", "", FOUND("gushing", "extent='first-half'")), "taste.part", 0, 0, .word = "first-half" },
	{ .title = "first pour", ON("2031-04-10", "", FOUND("sour", "extent='first-pour-only'")), "taste.part", 0, 0, .word = "first-pour" },
	{ .title = "the first part told stands", ON("2031-04-10", "", FOUND("sour", "extent='last-half'") FOUND("gushing", "extent='first-half'")),
	  "taste.part", 0, 0, .word = "last-half" },
	{ .title = "every bottle is no part", ON("2031-04-10", "", FOUND("sour", "extent='every-bottle'")), "taste.part", AB_SILENT },
	{ .title = "tap only", ON("2031-04-10", "", FOUND("buttery", "extent='tap-only'")), "taste.tap-only", 1, 0 },
	{ .title = "tap only says nothing of bottles", ON("2031-04-10", "", FOUND("buttery",
	  "extent='tap-only'")), "taste.some-bottles", AB_SILENT },
	{ .title = "first pour", ON("2031-04-10", "", FOUND("buttery", "extent='first-pour-only'")),
	  "taste.tap-only", 1, 0 },
	{ .title = "extent untold", ON("2031-04-10", "", FOUND("buttery", "")), "taste.tap-only", AB_SILENT },
	{ .title = "every batch", ON("2031-04-10", "every-batch='yes'", ""), "taste.every-batch", 1, 0 },
	{ .title = "first time", ON("2031-04-10", "first-time='yes'", ""), "taste.every-batch", 0, 0 },
	/* at packaging */
	{ .title = "from the fermenter only", "<tasting from='fermenter'><found fault='sour'/></tasting>",
	  "taste.before-packaging-only", 1, 0 },
	{ .title = "from the fermenter, later from a bottle",
	  "<tasting from='fermenter'><found fault='sour'/></tasting><tasting from='bottle'/>", "taste.before-packaging-only", 0, 0 },
	{ .title = "finished, and no day", ALE "<tasting from='finished'><found fault='sour'/></tasting>", "taste.before-packaging-only", 0, 0 },
	{ .title = "day four, and no word of a package", ALE "<tasting at='+4d'><found fault='sour'/></tasting>", "taste.before-packaging-only", 1, 0,
	  .origin = AB_ORIGIN_ASSUMED },
	{ .title = "after the yeast's week", ALE "<tasting at='+8d'><found fault='sour'/></tasting>", "taste.before-packaging-only", AB_SILENT },
	{ .title = "day four, and it was stored", ALE "<store temp='4 C'/><tasting at='+4d'><found fault='sour'/></tasting>", "taste.before-packaging-only", AB_SILENT },
	{ .title = "day four, and it is under gas", ALE "<carbonate pressure='1 bar'/><tasting at='+4d'><found fault='sour'/></tasting>",
	  "taste.before-packaging-only", AB_SILENT },
	{ .title = "day four, of some bottles", ALE "<tasting at='+4d'><found fault='sour' extent='some-bottles'/></tasting>", "taste.before-packaging-only", AB_SILENT },
	{ .title = "day four, from the bottle", ALE "<tasting at='+4d' from='bottle'><found fault='sour'/></tasting>", "taste.before-packaging-only", 0, 0 },
	{ .title = "under gas is in a keg", "<carbonate pressure='1 bar'/>", "pack.into", .origin = AB_ORIGIN_DERIVED, .word = "keg" },
	{ .title = "bottled from the keg", "<carbonate pressure='1 bar'/><package into='bottles'/>", "pack.into", .word = "bottles" },
	{ .title = "no word of where it came from", "<tasting><found fault='sour'/></tasting>", "taste.before-packaging-only", AB_SILENT },
	{ .title = "as told", PACK ON("2031-04-10", "", FOUND("buttery", "at-packaging='no'")),
	  "taste.at-packaging", 0, 0, NULL, AB_ORIGIN_MEASURED },
	{ .title = "tasted from the fermenter", PACK ON("2031-03-09", "from='fermenter'", FOUND("buttery",
	  "")), "taste.at-packaging", 1, 0 },
	{ .title = "clean from the fermenter", PACK ON("2031-03-09", "from='fermenter' complete='yes'", ""),
	  "taste.at-packaging", 0, 0 },
	{ .title = "a glance from the fermenter", PACK ON("2031-03-09", "from='fermenter'", ""),
	  "taste.at-packaging", AB_SILENT },
	{ .title = "tasted while packaging", ON("2031-03-12", "from='packaging'", FOUND("buttery", "")),
	  "taste.at-packaging", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "from the fermenter, package untold", ON("2031-03-12", "from='fermenter'", FOUND("buttery",
	  "")), "taste.at-packaging", 1, 0 },
	{ .title = "from a tap, package untold", ON("2031-03-12", "from='tap-keg'", FOUND("buttery", "")),
	  "taste.at-packaging", AB_SILENT },
	{ .title = "by the date", PACK ON("2031-03-09", "", FOUND("buttery", "")), "taste.at-packaging", 1, 0 },
	{ .title = "from a bottle later", PACK ON("2031-04-09", "from='bottle'", FOUND("buttery", "")),
	  "taste.at-packaging", AB_SILENT },
	/* one fault in two words */
	{ .title = "the same fault by another word grew",
	  ON("2031-04-01", "", FOUND("buttery", "intensity='2'")) ON("2031-04-20", "", FOUND("butterscotch", "intensity='4'")),
	  "taste.growing", 1, 0 },
	{ .title = "another fault is not the same one grown",
	  ON("2031-04-01", "", FOUND("buttery", "intensity='2'")) ON("2031-04-20", "", FOUND("sour", "intensity='4'")),
	  "taste.growing", AB_SILENT },
	/* worries */
	{ .title = "feared", ON("2031-04-10", "", FOUND("sour", "feared='yes'")), "taste.feared-only", 1, 0 },
	{ .title = "one is real", ON("2031-04-10", "", FOUND("sour", "feared='yes'") FOUND("buttery",
	  "intensity='2'")), "taste.feared-only", 0, 0 },
	{ .title = "nothing found", ON("2031-04-10", "", ""), "taste.feared-only", AB_SILENT },
	{ .title = "a worry is no fault at packaging", PACK ON("2031-03-09", "from='fermenter'", FOUND("sour",
	  "feared='yes'")), "taste.at-packaging", AB_SILENT },
};

int main(void)
{
	return fact_rows_run("tasting", rows, sizeof rows / sizeof *rows, NULL);
}
