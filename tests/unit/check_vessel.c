/* check_vessel.c - vessels, transfers, dry hops, sights
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

static const struct fact_row rows[] = {
	{ .title = "kind of the first", "<vessel kind='bucket'/><vessel kind='glass' second='yes'/>",
	  "vessel.kind", 0, 0, .word = "bucket" },
	{ .title = "oldest", "<vessel age='1 y'/><vessel age='4 y'/>", "vessel.age", 4 * 365.25, 1e-6 },
	{ .title = "scratched", "<vessel scratched='no'/><vessel scratched='yes'/>", "vessel.scratched", 1, 0 },
	{ .title = "smelling bucket among the gear", "<gear item='fermenter' smells='yes'/>",
	  "gear.smells", 1, 0 },
	{ .title = "a smell is no scratch", "<gear item='fermenter' smells='yes'/>", "vessel.scratched", AB_SILENT },
	{ .title = "a dull bucket among the gear", "<gear item='fermenter' scratched='yes'/>", "vessel.scratched",
	    1, 0 },
	{ .title = "a bucket that does not smell is not judged by it", "<gear item='fermenter' smells='no'/>",
	  "vessel.scratched", AB_SILENT },
	{ .title = "a smelling hose is no vessel", "<gear item='hose' smells='yes'/>", "vessel.scratched",
	  AB_SILENT },
	{ .title = "sealed", "<vessel sealed='yes'/>", "vessel.sealed", 1, 0 },
	{ .title = "one not sealed", "<vessel sealed='yes'/><vessel sealed='no'/>", "vessel.sealed", 0, 0 },
	{ .title = "flies", "<vessel flies='yes'/>", "vessel.flies", 1, 0 },
	{ .title = "held sour", "<vessel held-sour='no'/>", "vessel.held-sour", 0, 0 },
	{ .title = "hose shared with sours", "<vessel held-sour='no'/><gear item='hose' shared-sour='yes'/>",
	  "vessel.held-sour", 1, 0 },
	{ .title = "warm, by the brewer's word", "<vessel judged='warm'/>", "ferment.judged", 0, 0, .word = "warm" },
	{ .title = "of the vessel it fermented in", "<vessel judged='right'/><vessel second='yes' judged='cold'/>",
	    "ferment.judged", 0, 0, .word = "right" },
	{ .title = "warmth not judged", "<vessel kind='bucket'/>", "ferment.judged", AB_SILENT },
	{ .title = "up and down, by the brewer's word", "<vessel swings='no'/><vessel swings='yes'/>",
	    "ferment.swung", 1, 0 },
	{ .title = "steady, by the brewer's word", "<vessel swings='no'/>", "ferment.swung", 0, 0 },
	{ .title = "second", "<vessel second='yes'/>", "vessel.second", 1, 0 },
	{ .title = "one of two is the second", "<vessel second='no'/><vessel second='yes'/>", "vessel.second", 1, 0 },
	{ .title = "and in the other order", "<vessel second='yes'/><vessel second='no'/>", "vessel.second", 1, 0 },
	{ .title = "second by a move", "<vessel id='a'/><vessel id='b'/><transfer to='b'/>", "vessel.second",
	  1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "a move to the first is none", "<vessel id='a'/><vessel id='b'/><transfer to='a'/>",
	  "vessel.second", AB_SILENT },
	{ .title = "second's air", "<vessel second='yes' headspace='3 L'/>", "vessel.second-headspace", 3, 0 },
	{ .title = "second's air by volumes", "<recipe volume='19 L'/><vessel second='yes' volume='23 L'/>",
	  "vessel.second-headspace", 4, 1e-9 },
	{ .title = "first's air is CO2", "<vessel headspace='3 L'/>", "vessel.second-headspace", AB_SILENT },
	{ .title = "open", "<opened for='5 min'/><opened for='1 min'/>", "vessel.open-time", 6, 1e-9 },
	{ .title = "a look", "<opened/>", "vessel.open-time", 2, 1e-9, .u = 1.4 },
	{ .title = "most light", "<vessel light='dark'/><vessel light='window'/>", "vessel.light", 0, 0,
	  .word = "window" },
	{ .title = "crash", "<crash at='+8d' airlock='blow-off' sucked-back='yes'/>", "crash.airlock", 0, 0,
	  .word = "blow-off" },
	{ .title = "a crash of which nothing is told", "<crash/>", "crash.done", 1, 0 },
	{ .title = "no crash told is none known", "<vessel/>", "crash.done", AB_SILENT },
	{ .title = "sucked back", "<crash at='+8d' airlock='airlock' sucked-back='yes'/>", "crash.sucked-back",
	  1, 0 },
	/* transfers */
	{ .title = "splashed", "<transfer splashed='yes'/>", "transfer.splashed", 1, 0 },
	{ .title = "poured", "<transfer how='poured'/>", "transfer.splashed", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "siphoned", "<transfer how='siphon'/>", "transfer.splashed", AB_SILENT },
	{ .title = "by mouth", "<transfer by-mouth='yes'/>", "transfer.by-mouth", 1, 0 },
	{ .title = "worst target", "<transfer target='purged'/><transfer target='air-filled'/>",
	  "transfer.target", 0, 0, .word = "air-filled" },
	/* dry hops */
	{ .title = "load",
	  "<recipe volume='20 L'/><dry-hop at='+5d' amount='60 g'/><dry-hop at='+7d' amount='40 g'/>",
	  "hops.dry-load", 5, 1e-9 },
	{ .title = "load by the plan",
	  "<recipe volume='20 L'><hop use='dry' amount='80 g'/><hop use='bittering' amount='20 g'/></recipe>",
	  "hops.dry-load", 4, 1e-9 },
	{ .title = "hops with their uses, none of them dry",
	  "<recipe volume='20 L'><hop use='bittering' amount='20 g'/><hop use='flavour'/></recipe>",
	  "hops.dry-load", 0, 1e-9 },
	{ .title = "a hop without its use may be dry",
	  "<recipe volume='20 L'><hop use='bittering' amount='20 g'/><hop amount='50 g'/></recipe>",
	  "hops.dry-load", AB_SILENT },
	{ .title = "no dry hops told", "<recipe volume='20 L'/>", "hops.dry-load", AB_SILENT },
	{ .title = "contact as told", "<dry-hop at='+5d' contact='3 d'/>", "hops.dry-contact", 3, 1e-9 },
	{ .title = "contact to packaging", "<dry-hop at='+5d'/><package at='+9d'/>", "hops.dry-contact", 4, 1e-9 },
	{ .title = "contact to the crash", "<dry-hop at='+5d'/><crash at='+7d'/><package at='+9d'/>",
	  "hops.dry-contact", 2, 1e-9 },
	{ .title = "opened worst", "<dry-hop at='+5d' opened='purged'/><dry-hop at='+6d' opened='open-lid'/>",
	  "hops.dry-opened", 0, 0, .word = "open-lid" },
	{ .title = "last to packaging", "<dry-hop at='+3d'/><dry-hop at='+7d'/><package at='+9d'/>",
	  "hops.dry-to-package", 2, 1e-9 },
	{ .title = "no dry hop, no days", "<package at='+9d'/>", "hops.dry-to-package", AB_SILENT },
	/* and in the keg, where they stay */
	{ .title = "into the keg, up to the tasting",
	  "<dry-hop at='+21d' opened='port'/><package at='+21d' into='keg'/>"
	  "<tasting at='+35d'><found fault='a'/></tasting>", "hops.dry-contact", 14, 1e-9 },
	{ .title = "an hour later", "<dry-hop at='+21d 6h'/><package at='+21d' into='keg'/>"
	  "<tasting at='+35d'><found fault='a'/></tasting>", "hops.dry-contact", 13.75, 1e-9 },
	{ .title = "no wait below nothing", "<dry-hop at='+21d 1h'/><package at='+21d' into='keg'/>",
	  "hops.dry-to-package", 0, 1e-9 },
	{ .title = "the day of kegging, and an hour in it", "<dry-hop at='2031-03-22'/>"
	  "<package at='2031-03-22T18:00' into='keg'/><tasting at='2031-04-01T18:00'><found fault='a'/></tasting>",
	  "hops.dry-contact", 10, 1e-9 },
	{ .title = "the day before is the fermenter", "<dry-hop at='2031-03-21'/>"
	  "<package at='2031-03-22T18:00' into='keg'/><tasting at='2031-04-01T18:00'><found fault='a'/></tasting>",
	  "hops.dry-contact", 1.25, 1e-9 },
	{ .title = "as told, and no day", "<dry-hop opened='in the keg'/><package at='+21d' into='keg'/>"
	  "<tasting at='+35d'><found fault='a'/></tasting>", "hops.dry-contact", 14, 1e-9 },
	{ .title = "up to the end of the stay", "<dry-hop opened='in-keg'/><store for='20 d'/>", "hops.dry-contact", 20,
	  1e-9 },
	{ .title = "no day of kegging",
	  "<dry-hop at='+21d' opened='in-keg'/><tasting at='+35d'><found fault='a'/></tasting>",
	  "hops.dry-contact", 14, 1e-9 },
	{ .title = "all from packaging on", "<dry-hop at='package+2d'/><package into='keg'/>"
	  "<tasting at='package+9d'><found fault='a'/></tasting>", "hops.dry-contact", 7, 1e-9 },
	{ .title = "into a keg whose day is not told", "<dry-hop opened='in-keg'/><tasting at='package+9d'>"
	  "<found fault='a'/></tasting>", "hops.dry-contact", 9, 1e-9 },
	{ .title = "how long is untold", "<dry-hop opened='in-keg'/><package into='keg'/><tasting/>",
	  "hops.dry-contact", AB_SILENT },
	{ .title = "the glass was poured before them", "<dry-hop at='+30d'/><package at='+21d' into='keg'/>"
	  "<tasting at='+25d'><found fault='a'/></tasting>", "hops.dry-contact", AB_SILENT },
	{ .title = "contact told wins in the keg too",
	  "<dry-hop at='+21d' contact='5 d'/><package at='+21d' into='keg'/>"
	  "<tasting at='+35d'><found fault='a'/></tasting>", "hops.dry-contact", 5, 1e-9 },
	{ .title = "some before, some in the keg",
	  "<dry-hop at='+18d'/><dry-hop opened='keg'/><package at='+21d' into='keg'/>"
	  "<tasting at='+22d'><found fault='a'/></tasting>", "hops.dry-contact", 3, 1e-9 },
	{ .title = "what is in the keg did not wait", "<dry-hop at='+18d'/><dry-hop opened='keg'/>"
	  "<package at='+21d' into='keg'/>", "hops.dry-to-package", 0, 1e-9 },
	{ .title = "into bottles an hour late is a slip of the clock", "<dry-hop at='+21d 1h'/>"
	  "<package at='+21d' into='bottles'/>", "hops.dry-to-package", 0, 1e-9 },
	{ .title = "into bottles days late nobody knows", "<dry-hop at='+25d'/><package at='+21d' into='bottles'/>",
	  "hops.dry-to-package", AB_SILENT },
	{ .title = "the word", "<dry-hop opened='into the keg'/>", "hops.dry-opened", 0, 0, .word = "in-keg" },
	/* 8 g/L: 3 points at 20 C; in a keg at 4 C half for each 10 K less, 3/2^1.6 */
	{ .title = "what is freed in the keg", "<recipe volume='20 L'/><dry-hop opened='in-keg' amount='160 g'/>"
	  "<package at='+21d' into='keg'/><carbonate temp='4 C' pressure='0.9 bar'/>", "hops.creep", 0.99, 0.01 },
	/* sights */
	{ .title = "still", "<looks airlock-still='yes'/>", "looks.airlock-still", 1, 0 },
	{ .title = "still once", "<looks airlock-still='yes'/><looks airlock-still='no'/>",
	  "looks.airlock-still", 1, 0 },
	{ .title = "ring once", "<looks neck-ring='no'/><looks neck-ring='yes'/>", "looks.neck-ring", 1, 0 },
	{ .title = "nearby once", "<looks smell-nearby='yes'/><looks smell-nearby='no'/>",
	  "looks.smell-nearby", 1, 0 },
	{ .title = "film seen once", "<looks film='no'/><looks film='yes'/>", "looks.film", 1, 0 },
	{ .title = "islands", "<looks surface='yeast-islands'/>", "looks.surface", 0, 0, .word = "yeast-islands" },
	{ .title = "the worst of several looks", "<looks surface='mould'/><looks surface='foam'/>", "looks.surface",
	    0, 0, .word = "mould" },
	{ .title = "a film, no more told", "<looks film='yes'/>", "looks.surface", AB_SILENT },
	{ .title = "loose hops", "<dry-hop at='+5d' loose='no'/><dry-hop at='+6d' loose='yes'/>", "hops.loose", 1, 0 },
	{ .title = "bagged hops", "<dry-hop at='+5d' loose='no'/>", "hops.loose", 0, 0 },
	{ .title = "bag untold", "<dry-hop at='+5d'/>", "hops.loose", AB_SILENT },
	{ .title = "the last batch was spoilt", "<vessel last-spoilt='yes'/><vessel last-spoilt='no'/>",
	    "vessel.last-spoilt", 1, 0 },
	{ .title = "the last batch was sound", "<vessel last-spoilt='no'/>", "vessel.last-spoilt", 0, 0 },
	{ .title = "ring", "<looks neck-ring='no'/>", "looks.neck-ring", 0, 0 },
	{ .title = "nearby", "<looks smell-nearby='yes'/>", "looks.smell-nearby", 1, 0 },
};

int main(void)
{
	return fact_rows_run("vessel", rows, sizeof rows / sizeof *rows, NULL);
}
