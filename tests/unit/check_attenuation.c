/* check_attenuation.c - gravities: which are trusted, what they come to
 *
 * Expected numbers: the handbook table of Balling's relations (tests/handbook/check_physics.c) where gravities are
 * the table's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

#define OG(sg) "<reading at='2031-03-01T18:00' gravity='" sg " SG' instrument='hydrometer'/>"
#define AT(when, sg, more) "<reading at='" when "' gravity='" sg " SG' instrument='hydrometer' " more "/>"
#define REFRACT(when, sg, more) "<reading at='" when "' gravity='" sg " SG' instrument='refractometer' " more "/>"
#define F(when, sg) "<reading at='" when "' gravity='" sg " SG' instrument='float'/>"
#define WARM(when) "<reading at='" when "' wort='19.0 C'/>"
#define PACK(when) "<package at='" when "' into='bottles'/>"
#define ALE "<yeast class='clean-ale'/>"

static const struct fact_row rows[] = {
	/* original gravity */
	{ .title = "measured", OG("1.050"), "gravity.og", 1.050, 1e-9, NULL, AB_ORIGIN_MEASURED },
	{ .title = "planned stands in", "<recipe og='1.052 SG'/>", "gravity.og", 1.052, 1e-9, NULL,
	  AB_ORIGIN_ASSUMED, .u = 0.004 },
	{ .title = "measured beats planned", "<recipe og='1.060 SG'/>" OG("1.050"), "gravity.og", 1.050, 1e-9,
	  NULL, AB_ORIGIN_MEASURED },
	{ .title = "a reading in the middle is no original", AT("+2d", "1.030", ""), "gravity.og", AB_SILENT },
	{ .title = "refractometer is good before pitching", REFRACT("+0h", "1.050", ""), "gravity.og", 1.050, 1e-9 },
	{ .title = "mixed before unmixed", AT("+1h", "1.040", "mixed='no'") AT("+2h", "1.050", "mixed='yes'"),
	  "gravity.og", 1.050, 1e-9 },
	{ .title = "unmixed if there is no other", AT("+1h", "1.040", "mixed='no'"), "gravity.og", 1.040, 1e-9,
	  .u = 0.010 },
	{ .title = "untimed", "<reading gravity='1.050 SG'/><reading gravity='1.010 SG'/>", "gravity.og",
	  1.050, 1e-9 },
	{ .title = "warm sample",
	  "<reading at='+0h' gravity='1.050 SG' sample='30 C' instrument='hydrometer'/>", "gravity.og",
	  1.05243, 2e-5 },
	{ .title = "warm sample, put right already",
	  "<reading at='+0h' gravity='1.050 SG' sample='30 C' corrected='yes'/>", "gravity.og", 1.050, 1e-9 },
	{ .title = "warm sample of a refractometer",
	  "<reading at='+0h' gravity='1.050 SG' sample='30 C' instrument='refractometer'/>", "gravity.og",
	  1.050, 1e-9 },
	{ .title = "hydrometer reads high", OG("1.050")
	  "<instrument item='hydrometer' off-gravity='2 points'/>", "gravity.og", 1.048, 1e-9 },
	{ .title = "over plan", "<recipe og='1.056 SG'/>" OG("1.050"), "gravity.og-over-plan", -6, 1e-6 },
	{ .title = "over plan needs a measurement", "<recipe og='1.056 SG'/>", "gravity.og-over-plan", AB_SILENT },
	/* what is usual, where the batch itself tells neither */
	{ .title = "usual, planned", "", "gravity.og", 1.060, 1e-9, "<usual><recipe og='1.060 SG'/></usual>",
	  AB_ORIGIN_USUAL, .u = 0.010 },
	{ .title = "usual, read at pitching", "", "gravity.og", 1.090, 1e-9,
	  "<usual><recipe og='1.080 SG'/><reading gravity='1.037 SG'/><reading at='+0d' gravity='1.090 SG'/></usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "usual, read on no day", "", "gravity.og", AB_SILENT, 0,
	  "<usual><reading gravity='1.037 SG'/></usual>" },
	{ .title = "the batch's own plan before the usual", "<recipe og='1.052 SG'/>", "gravity.og", 1.052, 1e-9,
	  "<usual><recipe og='1.060 SG'/></usual>", AB_ORIGIN_ASSUMED },
	{ .title = "what is usual is no plan of this one", OG("1.050"), "gravity.og-over-plan", AB_SILENT, 0,
	  "<usual><recipe og='1.060 SG'/></usual>" },
	/* last gravity */
	{ .title = "last", OG("1.050") AT("+5d", "1.014", "") AT("+9d", "1.011", ""), "gravity.last", 1.011,
	  1e-9, NULL, AB_ORIGIN_MEASURED },
	{ .title = "in any order", AT("+9d", "1.011", "") AT("+5d", "1.014", "") OG("1.050"), "gravity.last",
	  1.011, 1e-9 },
	{ .title = "an original is no last", OG("1.050"), "gravity.last", AB_SILENT },
	{ .title = "not after packaging", OG("1.050") AT("+9d", "1.012", "") PACK("+10d") AT("+40d", "1.006",
	  ""), "gravity.last", 1.012, 1e-9 },
	{ .title = "at packaging", OG("1.050") AT("+9d", "1.014", "")
	  "<package at='+10d' gravity='1.012 SG'/>", "gravity.last", 1.012, 1e-9 },
	{ .title = "refractometer falls back", OG("1.050") AT("+5d", "1.013", "") REFRACT("+9d", "1.024", ""),
	  "gravity.last", 1.013, 1e-9 },
	{ .title = "refractometer alone is none", REFRACT("+0h", "1.050", "") REFRACT("+9d", "1.024", ""),
	  "gravity.last", AB_SILENT },
	{ .title = "corrected refractometer", REFRACT("+0h", "1.050", "") REFRACT("+9d", "1.010",
	  "corrected='yes'"), "gravity.last", 1.010, 1e-9 },
	{ .title = "the one at packaging counts as a reading",
	    OG("1.050") REFRACT("+2d", "1.040", "") AT("+9d", "1.012", "")
	  "<package at='+10d' gravity='1.012 SG'/>", "gravity.readings", 4, 0 },
	{ .title = "without one at packaging",
	    OG("1.050") REFRACT("+2d", "1.040", "") AT("+9d", "1.012", "") PACK("+10d"),
	  "gravity.readings", 3, 0 },
	{ .title = "misleads", REFRACT("+9d", "1.024", ""), "gravity.uncorrected-refractometer", 1, 0 },
	{ .title = "misleads not when corrected", REFRACT("+9d", "1.010", "corrected='yes'"),
	  "gravity.uncorrected-refractometer", 0, 0 },
	{ .title = "misleads not before pitching", REFRACT("+11h", "1.050", ""),
	  "gravity.uncorrected-refractometer", 0, 0 },
	{ .title = "misleads from 12 h on", REFRACT("+13h", "1.050", ""), "gravity.uncorrected-refractometer", 1, 0 },
	{ .title = "instrument untold", "<reading at='+9d' gravity='1.020 SG'/>",
	  "gravity.uncorrected-refractometer", AB_SILENT },
	{ .title = "unmixed beside a plan: the plan", "<recipe og='1.050 SG'/>" AT("+1h", "1.080", "mixed='no'"),
	    "gravity.og", 1.050, 1e-9,
	  NULL, AB_ORIGIN_ASSUMED, NULL, 0.004 },
	{ .title = "and what it read is told beside it", "<recipe og='1.050 SG'/>" AT("+1h", "1.080", "mixed='no'"),
	    "gravity.og-over-plan", 30, 1e-6,
	  NULL, 0, NULL, 10 },
	{ .title = "unmixed, and half of it water: as wide as that",
	    "<recipe volume='20 L'/><water top-up='10 L'/>" AT("+1h", "1.080", "mixed='no'"),
	  "gravity.og", 1.080, 1e-9, NULL, 0, NULL, 0.020 },
	{ .title = "unmixed, no water on top",
	    "<recipe volume='20 L'/><water top-up='0 L'/>" AT("+1h", "1.080", "mixed='no'"),
	  "gravity.og", 1.080, 1e-9, NULL, 0, NULL, 0.005 },
	{ .title = "unmixed", AT("+1h", "1.040", "mixed='no'"), "gravity.unmixed-sample", 1, 0 },
	{ .title = "mixed", AT("+1h", "1.040", "mixed='yes'"), "gravity.unmixed-sample", 0, 0 },
	{ .title = "mixing untold", AT("+1h", "1.040", ""), "gravity.unmixed-sample", AB_SILENT },
	/* Balling */
	{ .title = "attenuation", OG("1.048") AT("+9d", "1.010", ""), "gravity.attenuation", 0.7850, 1e-4 },
	{ .title = "attenuation of a strong one", OG("1.080") AT("+9d", "1.020", ""), "gravity.attenuation",
	  0.7372, 1e-4 },
	{ .title = "alcohol", OG("1.060") AT("+9d", "1.012", ""), "gravity.abv", 6.410, 2e-3 },
	{ .title = "no original, no attenuation", AT("+9d", "1.012", ""), "gravity.attenuation", AB_SILENT },
	/* against what is expected */
	{ .title = "over plan's final", "<recipe fg='1.010 SG'/>" OG("1.050") AT("+9d", "1.018", ""),
	  "gravity.over-expected", 8, 1e-6 },
	/* 12.388 P x (1 - 0.765) = 2.911 P = 1.01138 */
	{ .title = "over the class's middle", ALE OG("1.050") AT("+9d", "1.020", ""), "gravity.over-expected",
	  8.62, 0.05 },
	{ .title = "neither plan nor class", OG("1.050") AT("+9d", "1.020", ""), "gravity.over-expected", AB_SILENT },
	{ .title = "an unknown class", "<yeast class='nobody-knows'/>" OG("1.050") AT("+9d", "1.020", ""),
	  "gravity.over-expected", AB_SILENT },
	/* 500 g of lactose in 20 L are 9.5 points from the first to the last: of the other 40.5 (10.11 P) 0.235
	 * stay, 1.0093; with the lactose 1.0188 */
	{ .title = "lactose is expected to stay",
	  ALE "<recipe volume='20 L'><malt kind='pale' amount='4 kg'/><sugar kind='lactose' amount='500 g'/>"
	  "</recipe>" OG("1.050") AT("+9d", "1.020", ""),
	  "gravity.over-expected", 1.22, 0.05 },
	/* a quarter of sugar: 2.911 x 0.75 = 2.183 P = 1.00852 */
	{ .title = "sugar is expected to go",
	  ALE "<recipe><malt kind='pale' amount='3 kg'/><sugar kind='sucrose' amount='1 kg'/></recipe>"
	  OG("1.050") AT("+9d", "1.010", ""),
	  "gravity.over-expected", 1.48, 0.05 },
	{ .title = "left at packaging", "<recipe fg='1.010 SG'/>" OG("1.050") AT("+9d", "1.014", "")
	  PACK("+10d"), "gravity.points-left", 4, 1e-6, .u = 2.1 },
	{ .title = "left, not packaged", "<recipe fg='1.010 SG'/>" OG("1.050") AT("+9d", "1.014", ""),
	  "gravity.points-left", AB_SILENT },
	{ .title = "left, long unseen: wider", "<recipe fg='1.010 SG'/>" OG("1.050") AT("+5d", "1.020", "")
	  PACK("+15d"), "gravity.points-left", 10,
	  1e-6, .u = 5.4 },
	/* standing still */
	{ .title = "still", OG("1.050") AT("+6d", "1.012", "") AT("+9d", "1.012", "") PACK("+10d"),
	  "gravity.stable-days", 3, 1e-6 },
	{ .title = "within half a mark", OG("1.050") AT("+6d", "1.0125", "") AT("+9d", "1.012", ""),
	  "gravity.stable-days", 3, 1e-6 },
	{ .title = "a mark lower has sunk", OG("1.050") AT("+6d", "1.013", "") AT("+9d", "1.012", ""),
	  "gravity.stable-days", 0, 1e-6 },
	{ .title = "a mark each time is a fall",
	    OG("1.050") AT("+6d", "1.014", "") AT("+9d", "1.013", "") AT("+12d", "1.012", ""),
	  "gravity.stable-days", 0, 1e-6 },
	{ .title = "up a mark and back stood",
	    OG("1.050") AT("+6d", "1.012", "") AT("+9d", "1.013", "") AT("+12d", "1.012", ""),
	  "gravity.stable-days", 6, 1e-6 },
	{ .title = "still moving", OG("1.050") AT("+6d", "1.016", "") AT("+9d", "1.012", ""),
	  "gravity.stable-days", 0, 1e-6 },
	{ .title = "one reading shows nothing", OG("1.050") AT("+9d", "1.012", ""), "gravity.stable-days",
	  AB_SILENT },
	{ .title = "a wrong refractometer can still stand still", REFRACT("+7d", "1.024", "") REFRACT("+10d",
	  "1.024", ""), "gravity.stable-days", 3, 1e-6 },
	{ .title = "a refractometer between does not disturb", OG("1.050") AT("+6d", "1.012", "")
	  REFRACT("+8d", "1.024", "") AT("+9d", "1.012", ""), "gravity.stable-days",
	  3, 1e-6 },
	{ .title = "an untimed one neither", OG("1.050") AT("+6d", "1.012", "") "<reading gravity='1.020 SG'/>"
	  AT("+9d", "1.012", ""), "gravity.stable-days", 3, 1e-6 },
	/* half of the attenuation is at 48 h; an unmixed 1.020 at the start would put it at once */
	{ .title = "an unmixed one does not end the early days", "<recipe fg='1.010 SG' og='1.050 SG'/>"
	  AT("+0h", "1.020", "mixed='no'") AT("+1h", "1.050", "")
	  AT("+95h", "1.010", "")
	  "<reading at='+10h' wort='20 C'/><reading at='+24h' wort='20 C'/><reading at='+48h' wort='24 C'/>",
	  "ferment.early-mean",
	  (24 * 20 + 24 * 22) / 48.0, 1e-6 },
	{ .title = "five points over make a stall", ALE "<recipe fg='1.017 SG'/>" OG("1.060") AT("+9d",
	  "1.022", "") AT("+13d", "1.022", ""), "ferment.stalled", 1, 0 },
	{ .title = "readings", OG("1.050") AT("+6d", "1.012", "") REFRACT("+9d", "1.012", ""),
	  "gravity.readings", 3, 0 },
	{ .title = "no readings are not zero", "<reading at='+1d' wort='20 C'/>", "gravity.readings", AB_SILENT },
	/* stalled */
	{ .title = "stalled as told", "<lag stalled='yes'/>", "ferment.stalled", 1, 0, NULL, AB_ORIGIN_MEASURED },
	{ .title = "stalled as shown", ALE OG("1.050") AT("+9d", "1.022", "") AT("+13d", "1.022", ""),
	  "ferment.stalled", 1, 0, NULL, AB_ORIGIN_DERIVED },
	{ .title = "high but moving", ALE OG("1.050") AT("+9d", "1.026", "") AT("+13d", "1.022", ""),
	  "ferment.stalled", AB_SILENT },
	{ .title = "two days still are not three", ALE OG("1.050") AT("+9d", "1.022", "") AT("+11d", "1.022",
	  ""), "ferment.stalled", AB_SILENT },
	{ .title = "three are", ALE OG("1.050") AT("+9d", "1.022", "") AT("+12d", "1.022", ""),
	  "ferment.stalled", 1, 0 },
	{ .title = "well attenuated", ALE OG("1.050") AT("+9d", "1.012", ""), "ferment.stalled", 0, 0 },
	{ .title = "restarted", "<lag restarted='yes'/>", "ferment.restarted", 1, 0 },
	{ .title = "hydrometer checked", "<instrument item='hydrometer' checked='yes'/>",
	  "instrument.hydrometer-checked", 1, 0 },
	{ .title = "thermometer is another", "<instrument item='hydrometer' checked='yes'/>",
	  "instrument.thermometer-checked", AB_SILENT },
	{ .title = "thermometer by habit", "", "instrument.thermometer-checked", 0, 0,
	  "<usual><instrument item='thermometer' checked='no'/></usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "a guess is wide", "<reading at='+9d' gravity='1.012 SG' guess='yes'/>", "gravity.last",
	  1.012, 1e-9, .u = 0.00304 },
	/* 76.5 % of 12.388 P, 7.5 in the hundred less at 71 C: 3.840 P left, 1.01505; 4.5 more at 63 C: 2.354 P,
	 * 1.00918; 5 K at most */
	{ .title = "a warm mash leaves more", ALE OG("1.050") "<mash temp='71 C'/>" AT("+9d", "1.015", ""),
	  "gravity.over-expected", -0.05, 0.02 },
	{ .title = "a cool mash less", ALE OG("1.050") "<mash temp='63 C'/>" AT("+9d", "1.010", ""),
	  "gravity.over-expected", 0.82, 0.02 },
	{ .title = "a very warm one no more", ALE OG("1.050") "<mash temp='75 C'/>" AT("+9d", "1.015", ""),
	  "gravity.over-expected", -0.05, 0.02 },
	{ .title = "the mash counts for nothing in a plan", "<recipe fg='1.010 SG'/>" ALE OG("1.050")
	  "<mash temp='71 C'/>" AT("+9d", "1.010", ""), "gravity.over-expected", 0, 1e-9 },
	/* readings of a float every 6 h, 1 to 3 points apart: 66 h of one gravity; and one that sinks a point
	 * each time */
	{ .title = "a float's own scatter is stillness",
	  F("+8d", "1.012") F("+8d 6h", "1.014") F("+8d 12h", "1.011") F("+8d 18h", "1.013")
	  F("+9d", "1.012") F("+9d 6h", "1.014") F("+9d 12h", "1.011") F("+9d 18h", "1.013")
	  F("+10d", "1.012") F("+10d 6h", "1.014") F("+10d 12h", "1.011") F("+10d 18h", "1.012"),
	  "gravity.stable-days", 2.75, 1e-9 },
	{ .title = "a float that sinks is not still",
	  F("+8d", "1.0220") F("+8d 6h", "1.0210") F("+8d 12h", "1.0200") F("+8d 18h", "1.0190")
	  F("+9d", "1.0180") F("+9d 6h", "1.0170") F("+9d 12h", "1.0160") F("+9d 18h", "1.0150")
	  F("+10d", "1.0140") F("+10d 6h", "1.0130") F("+10d 12h", "1.0120") F("+10d 18h", "1.0110"),
	  "gravity.stable-days", 0, 1e-9 },
	{ .title = "two close readings that differ are no scatter", AT("+8d", "1.016", "") AT("+8d 6h", "1.013", ""),
	  "gravity.stable-days", 0, 1e-9 },
	/* a thermometer's readings tell no gravity, wherever they stand between those that do */
	{ .title = "readings of warmth are not counted", WARM("+2h") OG("1.050") WARM("+1d") WARM("+2d")
	  AT("+9d", "1.012", "") WARM("+10d"), "gravity.readings", 2, 0 },
	{ .title = "nor are they the last", OG("1.050") WARM("+1d") AT("+9d", "1.012", "") WARM("+10d"),
	  "gravity.last", 1.012, 1e-9 },
	{ .title = "an instrument is told by any reading",
	  "<reading at='+1d' wort='19.0 C' instrument='refractometer'/>", "instrument.refractometer", 1, 0 },
	{ .title = "no instrument is told by none", WARM("+1d"), "instrument.refractometer", AB_SILENT },
	{ .title = "a float is coarse", "<reading at='+9d' gravity='1.012 SG' instrument='float'/>",
	  "gravity.last", 1.012, 1e-9, .u = 0.002 },
};

int main(void)
{
	return fact_rows_run("attenuation", rows, sizeof rows / sizeof *rows, NULL);
}
