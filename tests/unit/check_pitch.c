/* check_pitch.c - yeast, cells, pitching and lag
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include "process/pitch.h"

/* 20 L at 1.0484 = 12.0 P: the norm of clean ale is 180, of lager 360 (thousand million cells) */
#define WORT "<recipe volume='20 L' og='12 P'/>"
#define ALE(more) WORT "<yeast class='clean-ale' " more "/>"

static const struct fact_row rows[] = {
	{ .title = "cells as told", ALE("cells='180 Gcells'"), "pitch.rate-share", 1, 1e-3, .u = 0.2 },
	{ .title = "a lager needs twice as many", WORT "<yeast class='lager' cells='180 Gcells'/>",
	  "pitch.rate-share", 0.5, 1e-3 },
	/* 11 g x 8 x (1 - 0.04 x 30/365.25) */
	{ .title = "dry, age untold", ALE("form='dry' amount='11 g'"), "pitch.rate-share",
	  11 * 8 * (1 - 0.04 * 30 / 365.25) / 180, 1e-3 },
	{ .title = "dry packets", ALE("form='dry' packs='2' age='1 y'"), "pitch.rate-share",
	  22 * 8 * 0.96 / 180, 1e-3 },
	{ .title = "dry kept warm", ALE("form='dry' amount='11 g' age='1 y' kept='warm'"), "pitch.rate-share",
	  11 * 8 * 0.5 / 180, 1e-3 },
	{ .title = "liquid, fresh", ALE("form='liquid' packs='1' age='0 d'"), "pitch.rate-share", 100 / 180.0, 1e-3 },
	/* 100 d x 0.45 % */
	{ .title = "liquid, old", ALE("form='liquid' packs='1' age='100 d'"), "pitch.rate-share", 55 / 180.0, 1e-3 },
	/* 80 to 30 living of 100 by 0.2 and 0.7 % a day: 0.276 of 55 in u, with 0.35 of the count itself */
	{ .title = "old, and the sources differ", ALE("form='liquid' packs='1' age='100 d'"), "pitch.rate-share",
	  55 / 180.0, 1e-3, .u = 0.1363 },
	{ .title = "fresh, and they do not", ALE("form='liquid' packs='1' age='0 d'"), "pitch.rate-share",
	    100 / 180.0, 1e-3,
	  .u = 0.1944 },
	{ .title = "liquid, very old", ALE("form='liquid' packs='1' age='3 y'"), "pitch.rate-share", 5 / 180.0,
	  1e-3 },
	/* best before 90 d after pitching: made about 90 d before it, 40.5 % lost */
	{ .title = "liquid, by its date", ALE("form='liquid' packs='1' best-before='2031-05-30'"),
	  "pitch.rate-share", 59.5 / 180, 5e-3 },
	/* min(200 V, start + 140 V) with 55 and 1.5 L: 265 */
	{ .title = "stirred starter", ALE("form='liquid' packs='1' age='100 d' starter='1.5 L' stirred='yes'"),
	  "pitch.rate-share", 265 / 180.0, 1e-3 },
	{ .title = "unstirred starter",
	  ALE("form='liquid' packs='1' age='100 d' starter='1.5 L' stirred='no'"), "pitch.rate-share",
	  160 / 180.0, 1e-3 },
	{ .title = "no starter", ALE("form='liquid' packs='1' age='100 d' starter='0 L'"), "pitch.rate-share",
	  55 / 180.0, 1e-3 },
	{ .title = "slurry", ALE("form='slurry' volume='150 mL' age='0 d'"), "pitch.rate-share", 150 / 180.0,
	  1e-3, .u = 0.417 },
	{ .title = "two yeasts add up", ALE("cells='90 Gcells'") "<yeast cells='90 Gcells'/>",
	  /* a fifth of each count, and 4 of 48 planned points */
	  "pitch.rate-share", 1, 1e-3, .u = 0.1638 },
	{ .title = "two lines of one yeast",
	  ALE("form='dry' amount='11 g' packs='1'") "<yeast judged='little' guess='yes'/>", "pitch.rate-share",
	  88 / 180.0, 0.03 },
	{ .title = "... one of which names it",
	  WORT "<yeast class='clean-ale' guess='yes'/><yeast form='dry' amount='11 g'/>", "pitch.rate-share",
	  88 / 180.0, 0.03 },
	{ .title = "... its form on a line of its own", WORT "<yeast form='dry'/><yeast amount='11 g'/>",
	  "pitch.rate-share", 88 / 180.0, 0.03 },
	{ .title = "... and a starter", ALE("cells='60 Gcells'") "<yeast starter='1 L' stirred='no' guess='yes'/>",
	  "pitch.rate-share", 130 / 180.0, 1e-3 },
	{ .title = "a second yeast of no told amount", ALE("form='dry' amount='11 g'") "<yeast strain='wild one'/>",
	  "pitch.rate-share", AB_SILENT },
	{ .title = "a second yeast of the same form", ALE("form='dry' amount='11 g'") "<yeast form='dry'/>",
	  "pitch.rate-share", AB_SILENT },
	{ .title = "lines that tell no amount", ALE("form='dry'") "<yeast judged='little'/>", "pitch.rate-share",
	  AB_SILENT },
	{ .title = "volume untold", "<recipe og='12 P'/><yeast class='clean-ale' cells='180 Gcells'/>",
	  "pitch.rate-share", AB_SILENT },
	{ .title = "gravity untold", "<recipe volume='20 L'/><yeast class='clean-ale' cells='180 Gcells'/>",
	  "pitch.rate-share", AB_SILENT },
	{ .title = "amount untold", ALE("form='dry'"), "pitch.rate-share", AB_SILENT },
	{ .title = "class untold: as an ale", WORT "<yeast cells='180 Gcells'/>", "pitch.rate-share", 1, 1e-3 },
	{ .title = "strong wort needs a quarter more",
	  "<recipe volume='20 L' og='20 P'/><yeast class='clean-ale' cells='300 Gcells'/>",
	  "pitch.rate-share", 0.8, 1e-3 },
	{ .title = "a planned gravity does not make it an assumption", ALE("cells='180 Gcells'"),
	  "pitch.rate-share", 1, 1e-3, NULL, AB_ORIGIN_DERIVED },
	{ .title = "an unknown class does", WORT "<yeast cells='180 Gcells'/>", "pitch.rate-share", 1, 1e-3,
	  NULL, AB_ORIGIN_ASSUMED },
	{ .title = "past its date", ALE("form='liquid' packs='1' best-before='2031-02-01'"), "yeast.age", 208.8, 1 },
	{ .title = "usual yeast", WORT, "pitch.rate-share", 1, 1e-3,
	  "<usual><yeast class='clean-ale' cells='180 Gcells'/></usual>" },
	{ .title = "form", ALE("form='dregs'"), "yeast.form", 0, 0, .word = "dregs" },
	{ .title = "age", ALE("age='40 d'"), "yeast.age", 40, 1e-9, NULL, AB_ORIGIN_MEASURED },
	{ .title = "age by the pack's date", ALE("form='liquid' best-before='2031-05-30'"), "yeast.age", 90, 1,
	  NULL, AB_ORIGIN_DERIVED },
	{ .title = "no age and no date: unknown, not fresh", ALE("form='liquid' packs='1'"), "yeast.age", AB_SILENT },
	/* a month is taken: 30 d x 0.45 % */
	{ .title = "liquid, age untold", ALE("form='liquid' packs='1'"), "pitch.rate-share", 86.5 / 180, 1e-3 },
	{ .title = "a dry packet's date says nothing", ALE("form='dry' best-before='2031-05-30'"), "yeast.age",
	  AB_SILENT },
	{ .title = "kept", ALE("kept='room'"), "yeast.kept", 0, 0, .word = "room" },
	{ .title = "starter", ALE("starter='1 L'"), "yeast.starter", 1, 0 },
	{ .title = "starter of nothing", ALE("starter='0 L'"), "yeast.starter", 0, 0 },
	{ .title = "starter untold", ALE("form='liquid'"), "yeast.starter", AB_SILENT },
	{ .title = "generation", ALE("generation='6'"), "yeast.generation", 6, 0 },
	{ .title = "the beer before was spoilt", ALE("form='slurry' last-spoilt='yes'") "<yeast last-spoilt='no'/>",
	    "yeast.last-spoilt", 1, 0 },
	{ .title = "it was sound", ALE("last-spoilt='no'"), "yeast.last-spoilt", 0, 0 },
	{ .title = "not told how it was", ALE("form='slurry'"), "yeast.last-spoilt", AB_SILENT },
	{ .title = "nutrient", ALE("nutrient='yes'"), "yeast.nutrient", 1, 0 },
	{ .title = "phenolic", "<yeast class='farmhouse'/>", "yeast.phenolic", 1, 0 },
	{ .title = "not phenolic", ALE(""), "yeast.phenolic", 0, 0 },
	{ .title = "diastatic", "<yeast class='farmhouse'/>", "yeast.diastatic", 1, 0 },
	{ .title = "lager", "<yeast class='lager'/>", "yeast.lager", 1, 0 },
	{ .title = "sulphury", "<yeast class='lager'/>", "yeast.sulphury", 1, 0 },
	{ .title = "flocculent", ALE(""), "yeast.flocculent", 0, 0 },
	{ .title = "fruity", "<yeast class='farmhouse'/>", "yeast.fruity", 1, 0 },
	{ .title = "unknown class, unknown traits", "<yeast class='nobody-knows'/>", "yeast.phenolic", AB_SILENT },
	{ .title = "read at pitching", "<yeast class='clean-ale'/><reading at='+0h' wort='25 C'/>",
	    "pitch.temp-over", 5, 1e-9 },
	{ .title = "the first read within an hour of it", "<yeast class='clean-ale'/><reading at='+2h' wort='21 C'/>"
	    "<reading at='+1h' gravity='1.050 SG'/><reading at='+1h' wort='25 C'/><reading at='+0h' wort='26 C'/>",
	    "pitch.temp-over", 5, 1e-9 },
	{ .title = "read the day after", "<yeast class='clean-ale'/><reading at='+1d' wort='25 C'/>",
	    "pitch.temp-over", AB_SILENT },
	{ .title = "told of the pitch, and read",
	    "<yeast class='clean-ale'/><pitch temp='22 C'/><reading at='+0h' wort='25 C'/>", "pitch.temp-over", 2,
	1e-9 },
	{ .title = "pitched warm", ALE("") "<pitch at='2031-03-01T18:00' temp='28 C'/>", "pitch.temp-over", 8, 1e-9 },
	{ .title = "as it left the chiller", ALE("") "<chill end-temp='24 C'/>", "pitch.temp-over", 4, 1e-9 },
	{ .title = "pitched warm, no class", "<pitch at='2031-03-01T18:00' temp='28 C'/>", "pitch.temp-over",
	  AB_SILENT },
	{ .title = "pitched clean", "<pitch at='2031-03-01T18:00' clean='yes'/>", "pitch.clean", 1, 0 },
	{ .title = "aerated", "<aerate method='shake' time='40 s'/>", "aerate.method", 0, 0, .word = "shake" },
	{ .title = "the best of two ways", "<aerate method='pour'/><aerate method='oxygen'/>", "aerate.method",
	  0, 0, .word = "oxygen" },
	{ .title = "aeration time", "<aerate method='shake' time='90 s'/>", "aerate.time", 1.5, 1e-9 },
	{ .title = "lag", "<lag first-signs='1 d 6 h'/>", "lag.time", 30, 1e-9 },
	{ .title = "lag over", ALE("") "<lag first-signs='30 h'/>", "lag.over", 6, 1e-9 },
	{ .title = "lag over, no class", "<lag first-signs='30 h'/>", "lag.over", AB_SILENT },
	{ .title = "half a pack is little, by the brewer's word", "<yeast judged='little'/>", "pitch.judged", 0, 0,
	    .word = "little" },
	{ .title = "of two yeasts the most", "<yeast judged='little'/><yeast judged='plenty'/>", "pitch.judged", 0,
	    0, .word = "plenty" },
	{ .title = "not judged", "<yeast form='dry'/>", "pitch.judged", AB_SILENT },
};

/* Published: home-brewing textbook rates (ale 0.75, lager 1.5) and the rule for starters quoted in pitch.h. */
START_TEST(formulas)
{
	ck_assert_double_eq_tol(ab_pitch_norm(0.75, 20, 12), 180, 1e-9);
	ck_assert_double_eq_tol(ab_pitch_norm(1.0, 20, 12), 240, 1e-9);
	ck_assert_double_eq_tol(ab_pitch_norm(1.5, 20, 12), 360, 1e-9);
	ck_assert_double_eq_tol(ab_pitch_norm(0.75, 23, 12), 207, 1e-9);
	ck_assert_double_eq_tol(ab_starter_end(60, 2, 0), 340, 1e-9);
	ck_assert_double_eq_tol(ab_starter_end(80, 1, 0), 200, 1e-9);
	ck_assert_double_eq_tol(ab_starter_end(100, 1.5, 0), 300, 1e-9);
	/* a large pitch into a small starter does not shrink */
	ck_assert_double_eq_tol(ab_starter_end(300, 1, 0), 300, 1e-9);
	/* 45 d: between the linear 0.7 % a day (68.5 %) and the counted 0.2 % a day (91 %) */
	ck_assert(ab_yeast_alive_liquid(45, 1) > 0.685 && ab_yeast_alive_liquid(45, 1) < 0.91);
	/* a month at 40 C costs feed yeast about nine tenths; "warm" is cooler than that, but never better than room */
	ck_assert(ab_yeast_alive_dry(365, 3) < ab_yeast_alive_dry(365, 2));
	ck_assert(ab_yeast_alive_dry(365, 2) < ab_yeast_alive_dry(365, 1));
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("formulas");
	tcase_add_test(tc, formulas);
	return fact_rows_run("pitch", rows, sizeof rows / sizeof *rows, tc);
}
