/* check_storage.c - storage and serving
 *
 * Q10 2.2: 28 C ages 1.8790 times as fast as 20 C, 4 C 0.28324 times.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include "process/serving.h"
#include "process/storage.h"

#define PACK(into) "<package at='2031-03-11T18:00' into='" into "'/>"
#define TASTED(when) "<tasting at='" when "'/>"

#define KEG "<package into='keg'/><carbonate pressure='0.9 bar' temp='4 C'/>"

static const struct fact_row rows[] = {
	{ .title = "days", PACK("bottles") TASTED("2031-04-10T18:00"), "store.days", 30, 1e-9 },
	{ .title = "to the last tasting", PACK("bottles") TASTED("2031-04-10T18:00")
	  TASTED("2031-03-21T18:00"), "store.days", 30, 1e-9 },
	{ .title = "not tasted, but stays told", PACK("bottles")
	  "<store for='14 d' temp='20 C'/><store for='30 d' temp='4 C'/>", "store.days", 44, 1e-9 },
	{ .title = "not packaged", TASTED("2031-04-10T18:00"), "store.days", AB_SILENT },
	{ .title = "tasted before packaging", PACK("bottles") TASTED("2031-03-05T18:00"), "store.days", AB_SILENT },
	{ .title = "date of packaging untold", "<package into='bottles'/><store for='14 d' temp='16 C'/>",
	    "store.days", 14, 1e-9 },
	{ .title = "undated, two stays", "<package/><store for='14 d' temp='28 C'/><store for='60 d' temp='4 C'/>",
	  "store.equivalent-days", 14 * 1.8790 + 60 * 0.28324, 0.01 },
	{ .title = "undated, the first two weeks",
	    "<package/><store for='10 d' temp='16 C'/><store for='40 d' temp='4 C'/>",
	  "store.conditioning-temp", (10 * 16 + 4 * 4) / 14.0, 1e-6 },
	{ .title = "undated, and a last stay without length",
	    "<package/><store for='10 d' temp='16 C'/><store temp='4 C'/>",
	  "store.days", 10, 1e-9 },
	{ .title = "undated, until a day", "<package/><store until='2031-03-31' temp='16 C'/>", "store.days",
	    AB_SILENT },
	{ .title = "undated, but tasted on a day",
	    "<package/><store for='10 d' temp='16 C'/>" TASTED("2031-03-21T18:00"), "store.days", 10,
	  1e-9 },
	{ .title = "longer than the beer is old",
	    "<package/><store for='10 d' temp='16 C'/>" TASTED("2031-03-05T18:00"), "store.days", AB_SILENT },
	{ .title = "the glass that had it has no day, the clean one has", PACK("keg")
	  "<tasting at='2031-03-11T18:00' from='packaging'><absent fault='a'/></tasting>"
	  "<tasting from='keg'><found fault='a'/></tasting>", "store.days", AB_SILENT },
	{ .title = "faulty when young, clean after years", "<store for='3-4 y' temp='12 C'/>"
	  "<tasting><found fault='a'/></tasting><tasting at='+3y 6mo'><absent fault='a'/></tasting>",
	  "store.days", AB_SILENT },
	{ .title = "the same, and it tells no warmth of the young one", "<store for='3-4 y' temp='12 C'/>"
	  "<tasting><found fault='a'/></tasting><tasting><absent fault='a'/></tasting>",
	  "store.equivalent-days", AB_SILENT },
	{ .title = "the same with a day of packaging", PACK("bottles") "<store for='3-4 y' temp='12 C'/>"
	  "<tasting><found fault='a'/></tasting><tasting><absent fault='a'/></tasting>", "store.days", AB_SILENT },
	{ .title = "the young one has a day", PACK("bottles") "<store for='3-4 y' temp='12 C'/>"
	  "<tasting at='2031-03-21T18:00'><found fault='a'/></tasting><tasting><absent fault='a'/></tasting>",
	  "store.days", 10, 1e-9 },
	{ .title = "sound at first, faulty when it had stood", "<store for='3-4 y' temp='12 C'/>"
	  "<tasting at='+30d'><absent fault='a'/></tasting><tasting><found fault='a'/></tasting>",
	  "store.days", 3.5 * 365.25, 2 },
	{ .title = "three tasters", "<store for='10 d' temp='12 C'/><tasting><found fault='a'/></tasting>"
	  "<tasting><found fault='b'/></tasting><tasting><found fault='a'/></tasting>", "store.days", 10, 1e-9 },
	{ .title = "a sample of the fermenter comes before the stay", "<store for='10 d' temp='12 C'/>"
	  "<tasting from='fermenter'><absent fault='a'/></tasting><tasting><found fault='a'/></tasting>",
	  "store.days", 10, 1e-9 },
	{ .title = "undated, age at the tasting",
	    "<package/><store for='10 d'/><tasting><found fault='a'/></tasting>", "taste.age", 10,
	  1e-9 },
	{ .title = "undated, not tasted", "<package/><store for='10 d'/>", "taste.age", AB_SILENT },
	{ .title = "two stays", PACK("bottles")
	  "<store for='14 d' temp='28 C'/><store for='60 d' temp='4 C'/>", "store.equivalent-days",
	  14 * 1.8790 + 60 * 0.28324, 0.01, NULL, AB_ORIGIN_DERIVED },
	{ .title = "up to the tasting", PACK("bottles")
	  "<store for='14 d' temp='20 C'/><store for='60 d' temp='20 C'/>" TASTED("2031-04-10T18:00"),
	  "store.equivalent-days", 30, 1e-6 },
	{ .title = "by dates", PACK("bottles")
	  "<store from='2031-03-11T18:00' temp='20 C'/><store from='2031-03-25T18:00' temp='4 C'/>"
	  TASTED("2031-04-10T18:00"),
	  "store.equivalent-days", 14 + 16 * 0.28324, 0.01 },
	{ .title = "the last stay goes on", PACK("bottles") "<store for='14 d' temp='20 C'/>"
	  TASTED("2031-04-10T18:00"), "store.equivalent-days", 30, 1e-6,
	  .u = 7.82 },
	{ .title = "a day more is nothing", PACK("bottles") "<store for='29 d' temp='20 C'/>"
	  TASTED("2031-04-10T18:00"), "store.equivalent-days", 29, 1e-6 },
	{ .title = "a stay in the middle", PACK("bottles")
	  "<store from='2031-03-21T18:00' until='2031-03-31T18:00' temp='20 C'/>" TASTED("2031-03-31T18:00"),
	  "store.equivalent-days", 10, 1e-6 },
	{ .title = "from the package on", PACK("bottles") "<store temp='20 C' until='2031-03-21T18:00'/>",
	  "store.equivalent-days", 10, 1e-6 },
	{ .title = "one stay's warmth untold", PACK("bottles")
	  "<store for='14 d' temp='20 C'/><store for='60 d'/>", "store.equivalent-days", AB_SILENT },
	{ .title = "nothing told of the stay", PACK("bottles") TASTED("2031-04-10T18:00"),
	  "store.equivalent-days", AB_SILENT },
	{ .title = "bottles in the room", PACK("bottles") TASTED("2031-04-10T18:00"), "store.equivalent-days",
	  30, 1e-6, "room='20 C'", AB_ORIGIN_ASSUMED },
	{ .title = "a keg where it is carbonated", PACK("keg") "<carbonate temp='4 C' pressure='80 kPa'/>"
	  TASTED("2031-04-10T18:00"), "store.equivalent-days",
	  30 * 0.28324, 0.01, NULL, AB_ORIGIN_ASSUMED },
	/* at 20 C Q10 does not matter; 15 % for the place */
	{ .title = "u at 20 C", PACK("bottles") "<store for='100 d' temp='20 C'/>", "store.equivalent-days",
	  100, 1e-6, .u = 15 },
	/* at 30 C 200 to 300 days: 100/sqrt 12 and 15 % of 220 */
	{ .title = "u at 30 C", PACK("bottles") "<store for='100 d' temp='30 C'/>", "store.equivalent-days",
	  220, 1e-6, .u = 43.9 },
	/* only the hottest: between 20 and 40 C, so 30 C; evenly, (100 x 2.2^2 - 100)/sqrt 12 besides the above */
	{ .title = "only the hottest", PACK("bottles") "<store for='100 d' hottest='40 C'/>", "store.equivalent-days",
	  220, 1e-6, NULL, AB_ORIGIN_ASSUMED, .u = 119.2 },
	{ .title = "its days are sure", PACK("bottles") "<store for='100 d' hottest='40 C'/>", "store.days",
	  100, 1e-9, NULL, AB_ORIGIN_DERIVED },
	{ .title = "a told warmth is kept", PACK("bottles") "<store for='100 d' temp='20 C' hottest='40 C'/>",
	  "store.equivalent-days", 100, 1e-6, NULL, AB_ORIGIN_DERIVED, .u = 15 },
	{ .title = "no warmer than a room", PACK("bottles") "<store for='100 d' hottest='22.5 C'/>",
	  "store.equivalent-days", 100, 1e-6, .u = 18.8 },
	{ .title = "the first weeks of it", PACK("bottles") "<store for='100 d' hottest='40 C'/>",
	  "store.conditioning-temp", 30, 1e-9, .u = 5.86 },
	{ .title = "a fifth of it at 16 C or more", PACK("bottles") "<store for='10 d' hottest='17 C'/>",
	  "store.conditioning-days", 2, 1e-9, .u = 4.12 },
	/* hours in the light are no age, and take away no warmth that is told, nor the end of the stay before */
	{ .title = "sun in between", "<package/><store for='10 d' temp='20 C'/><store light='sun' for='2 h'/>"
	  "<store for='10 d' temp='20 C'/>", "store.equivalent-days", 20, 1e-9 },
	{ .title = "sun, and where it stands now", PACK("bottles") "<store temp='20 C'/><store light='sun' for='2 h'/>"
	  TASTED("2031-03-31T18:00"), "store.equivalent-days", 20, 1e-9 },
	{ .title = "to the picnic table", "<package/><store light='sun' for='3 h'/><tasting/>", "store.days",
	    AB_SILENT },
	{ .title = "and back", "<package/><store for='20 d' temp='20 C'/><store light='sun' for='24 min' temp='30 C'/>"
	  "<tasting/>", "store.days", 20 + 1.0 / 60, 1e-6 },
	{ .title = "where it did not stay", "<store for='10 d' temp='20 C'/><store light='sun' for='2 h' temp='40 C'/>"
	  TASTED("package+30d"), "store.equivalent-days", 30, 0.5 },
	{ .title = "a day in the light may be one", "<package/><store light='sun' for='24 h'/><tasting/>",
	    "store.days", 1, 1e-9 },
	{ .title = "an hour in the dark may be one", "<package/><store light='dark' for='1 h'/><tasting/>",
	    "store.days", 1 / 24.0, 1e-9 },
	{ .title = "until then it is one", "<package/><store from='2031-04-01T10:00' until='2031-04-01T16:00' "
	  "light='sun' for='6 h'/>", "store.days", 0.25, 1e-9 },
	{ .title = "the rest stood as usual", PACK("bottles") "<store light='sun' for='2 h' temp='40 C'/>"
	  TASTED("package+14d"), "store.equivalent-days", 14, 1e-6, "room='20 C'", AB_ORIGIN_ASSUMED },
	{ .title = "conditioning", PACK("bottles")
	  "<store for='7 d' temp='21 C'/><store for='30 d' temp='11 C'/>", "store.conditioning-temp", 16, 1e-9 },
	{ .title = "warm days", "<yeast class='clean-ale'/>" PACK("bottles")
	  "<store for='12 d' temp='20 C'/><store for='30 d' temp='8 C'/>",
	  "store.conditioning-days", 12, 1e-9 },
	{ .title = "lagers carbonate cooler", "<yeast class='lager'/>" PACK("bottles")
	  "<store for='12 d' temp='11 C'/>", "store.conditioning-days", 12, 1e-9 },
	{ .title = "ales do not", "<yeast class='clean-ale'/>" PACK("bottles")
	  "<store for='12 d' temp='11 C'/>", "store.conditioning-days", 0, 1e-9 },
	{ .title = "light", PACK("bottles") "<store light='dark'/><store light='sun'/>", "store.light", 0, 0,
	  .word = "sun" },
	/* counted from a packaging whose day nobody tells */
	{ .title = "days from packaging on", "<package into='bottles'/>" TASTED("package+14d"), "store.days", 14,
	  1e-9 },
	{ .title = "the day of packaging is in no fact", "<package into='bottles'/>" TASTED("package+14d"),
	    "taste.beer-age", AB_SILENT },
	{ .title = "and so it was not in the fermenter up to then", "<package into='bottles'/>" TASTED("package+14d"),
	    "ferment.days", AB_SILENT },
	{ .title = "no package is told at all", TASTED("package+14d"), "store.days", 14, 1e-9 },
	{ .title = "two stays one after another", "<package/><store until='package+14d' temp='16 C'/>"
	  "<store from='package+14d' temp='28 C'/>" TASTED("package+4wk"), "store.equivalent-days",
	  14 * 0.72947 + 14 * 1.8790, 0.01 },
	{ .title = "the first two weeks of them", "<package/><store until='package+7d' temp='16 C'/>"
	  "<store from='package+7d' temp='28 C'/>" TASTED("package+4wk"), "store.conditioning-temp", 22, 1e-9 },
	{ .title = "a stay is cut short by the glass", "<store for='3 y' temp='20 C'/>" TASTED("package+14d"),
	  "store.equivalent-days", 14, 1e-6 },
	{ .title = "one without an end goes on to the glass", "<store temp='20 C'/>" TASTED("package+14d"),
	  "store.equivalent-days", 14, 1e-6 },
	{ .title = "the last goes on", "<store for='7 d' temp='20 C'/>" TASTED("package+14d"), "store.equivalent-days",
	  14, 1e-6 },
	{ .title = "bottles in the room, and no day", "<package into='bottles'/>" TASTED("package+14d"),
	  "store.equivalent-days", 14, 1e-6, "room='20 C'", AB_ORIGIN_ASSUMED },
	{ .title = "the young glass by its age, the old one clean", "<store for='3-4 y'/>"
	  "<tasting at='package+10d'><found fault='a'/></tasting><tasting><absent fault='a'/></tasting>", "store.days",
	  10, 1e-9 },
	{ .title = "a stay by its dates and no day of packaging",
	    "<package/><store from='2031-04-01' until='2031-04-11' temp='28 C'/>", "store.conditioning-temp", 28,
	  1e-9 },
	/* serving */
	{ .title = "from as told", "<serve from='cask'/>", "serve.from", 0, 0, .word = "cask" },
	{ .title = "from what it was packaged in", PACK("keg"), "serve.from", 0, 0, NULL, AB_ORIGIN_DERIVED, "tap" },
	{ .title = "from cans", PACK("cans"), "serve.from", 0, 0, .word = "can" },
	{ .title = "line cleaned", "<serve line-cleaned='60 d'/>", "serve.line-cleaned", 60, 1e-9 },
	{ .title = "balanced line", "<serve line-length='4 ft' line-bore='4.7625 mm' pressure='12 psi'/>",
	  "serve.line-share", 1, 1e-6 },
	{ .title = "short line", "<serve line-length='4 ft' line-bore='6.35 mm' pressure='12 psi'/>",
	  "serve.line-share", 4 * 0.85 / 12, 1e-6 },
	{ .title = "pressure of the keg",
	  "<carbonate pressure='12 psi'/><serve line-length='2 ft' line-bore='4.7625 mm'/>",
	  "serve.line-share", 0.5, 1e-6 },
	{ .title = "bore untold", "<serve line-length='4 ft' pressure='12 psi'/>", "serve.line-share", AB_SILENT },
	{ .title = "no pressure", "<serve line-length='4 ft' line-bore='4.8 mm' pressure='0 psi'/>",
	  "serve.line-share", AB_SILENT },
	/* 0.9 bar at 4 C hold 2.618 by the ASBC fit, at 10 C 2.149; 0.4 bar at 4 C 1.933, 1.4 bar 3.303 */
	{ .title = "served as it was gassed", KEG "<serve temp='4 C'/>", "serve.gas-over", 0, 1e-9 },
	{ .title = "served warmer, it foams", KEG "<serve temp='10 C'/>", "serve.gas-over", 0.469, 0.001, .u = 0.1414 },
	{ .title = "served under less pressure too", KEG "<serve temp='4 C' pressure='0.4 bar'/>", "serve.gas-over",
	    0.685, 0.001 },
	{ .title = "under more it takes up", KEG "<serve temp='4 C' pressure='1.4 bar'/>", "serve.gas-over", -0.685,
	    0.001 },
	{ .title = "how cold is untold", KEG "<serve pressure='0.4 bar'/>", "serve.gas-over", AB_SILENT },
	{ .title = "how it was gassed is untold", "<package into='keg'/><serve temp='4 C' pressure='0.4 bar'/>",
	  "serve.gas-over", AB_SILENT },
	{ .title = "no keg", "<package into='bottles'/><carbonate pressure='0.9 bar' temp='4 C'/><serve temp='10 C'/>",
	  "serve.gas-over", AB_SILENT },
	{ .title = "tower", "<serve tower-warm='yes'/>", "serve.tower-warm", 1, 0 },
	{ .title = "glass", "<serve glass='greasy'/>", "serve.glass", 0, 0, .word = "greasy" },
	{ .title = "sediment", "<serve sediment-poured='yes'/>", "serve.sediment-poured", 1, 0 },
};

int main(void)
{
	return fact_rows_run("storage", rows, sizeof rows / sizeof *rows, NULL);
}
