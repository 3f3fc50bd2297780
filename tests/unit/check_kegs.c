/* check_kegs.c - the gas and the pressure of kegs that go on fermenting
 *
 * The chart of pressure and temperature: the ASBC table as tests/handbook/check_physics.c has it. Half a volume a
 * point: Balling (0.46286 g of CO2 a g of extract). The mass balance is closed by the solubility of CO2 in pure
 * water, from Sander's compilation of Henry's law constants (0.034 mol/(L atm) at 25 C, 2400 K; from memory), which
 * no formula of ours uses.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"

#include <stdio.h>
#include <string.h>

#include "process/co2.h"

#define AT20 "<yeast class='clean-ale'/><reading at='+1d' wort='20 C'/><reading at='+9d' wort='20 C'/>"
#define G(when, sg) "<reading at='" when "' gravity='" sg " SG' instrument='hydrometer'/>"
#define FINISHED AT20 "<recipe fg='1.010 SG' volume='20 L'/>" G("+0h", "1.050") G("+6d", "1.010") G("+9d", "1.010")
/* four points over the plan: 4 x 0.4907 = 1.963 volumes */
#define LEFT4 AT20 "<recipe fg='1.010 SG' volume='20 L'/>" G("+0h", "1.050") G("+9d", "1.014")
#define KEG "<package at='+10d' into='keg'/>"
#define SUGAR_KEG "<package at='+10d' into='keg' volume='20 L' priming='120 g' sugar='sucrose'/>"
/* 2.576 volumes */
#define GAS "<carbonate pressure='12 psi' temp='38 F'/>"
#define WARM "<store temp='20 C'/>"

static const struct fact_row rows[] = {
	/* a finished keg on gas is what it was */
	{ .title = "finished", FINISHED KEG GAS, "pack.co2-expected", 2.576, 2e-3, .u = 0.1 },
	{ .title = "finished: nothing to come", FINISHED KEG GAS, "keg.co2-to-come", 0, 1e-9 },
	{ .title = "finished: the regulator's pressure", FINISHED KEG GAS, "pack.pressure-worst", 82.7, 1, NULL,
	    AB_ORIGIN_ASSUMED },
	{ .title = "finished: as much as wanted", "<recipe co2='2.5 vol'/>" KEG GAS, "pack.co2-over", 0.076, 2e-3 },
	{ .title = "no limit, no share", FINISHED KEG GAS, "pack.pressure-share", AB_SILENT },
	/* stored warm, all by Henry's law: 2.610 in the beer (12 psi at 38 F), 0.027 x 184.07/101.325 x
	 * 273.15/276.48 = 0.0485 over it; at 20 C 0.839 volumes an atm: (2.610 + 0.0485)/(0.839 + 0.027 x
	 * 273.15/293.15) = 3.077 atm */
	{ .title = "finished, brought into a room", FINISHED KEG GAS WARM, "pack.pressure-worst",
	    (3.077 - 1) * 101.325, 1, NULL, AB_ORIGIN_DERIVED },
	/* with four points: (2.610 + 1.963 + 0.0485)/0.8642 = 5.348 atm */
	{ .title = "four points left", LEFT4 KEG GAS WARM, "pack.co2-expected", 2.576 + 1.963, 0.02 },
	{ .title = "their gas", LEFT4 KEG GAS WARM, "keg.co2-to-come", 1.963, 0.02 },
	{ .title = "their pressure", LEFT4 KEG GAS WARM, "pack.pressure-worst", (5.348 - 1) * 101.325, 2, NULL,
	    AB_ORIGIN_DERIVED },
	/* half a keg of gas: (4.573 + 1.795)/(0.839 + 0.9318) = 3.596 atm */
	{ .title = "in a half full keg",
	    LEFT4 "<package at='+10d' into='keg' size='19 L' headspace='9.5 L'/>" GAS WARM, "pack.pressure-worst",
	  (3.596 - 1) * 101.325, 2 },
	{ .title = "what size and beer leave over",
	    LEFT4 "<package at='+10d' into='keg' size='19 L' volume='9.5 L'/>" GAS WARM, "pack.pressure-worst",
	  (3.596 - 1) * 101.325, 2 },
	/* u: half of a point's doubt of 2.08 (check_priming.c), half of the gas, and the chart's 0.1 */
	{ .title = "in the cold half of it counts", LEFT4 KEG GAS, "pack.co2-expected", 2.576 + 1.963 / 2, 0.02,
	    .u = 1.115 },
	{ .title = "on the hottest day", LEFT4 KEG GAS "<store temp='4 C' hottest='20 C'/>", "pack.pressure-worst",
	    (5.348 - 1) * 101.325, 2 },
	{ .title = "lost in the keg, whatever was left", FINISHED KEG GAS G("+30d", "1.006"), "pack.co2-expected",
	    2.576 + 1.963, 0.02 },
	/* 8 g/L, three days before: 1.629 points (check_priming.c) */
	{ .title = "hop creep",
	    AT20 "<recipe volume='20 L' fg='1.010 SG'/>" G("+0h", "1.050") G("+6d",
	    "1.010") "<dry-hop at='+7d' amount='160 g'/>" KEG GAS WARM,
	  "pack.co2-expected", 2.576 + 0.80, 0.02 },
	{ .title = "set by the tap alone", LEFT4 KEG "<serve pressure='12 psi' temp='38 F'/>" WARM,
	    "pack.co2-expected", 2.576 + 1.963, 0.02 },
	/* it is the points' gas, not the settings' */
	{ .title = "the tap is not to blame", LEFT4 KEG GAS WARM "<serve pressure='12 psi' temp='38 F'/>",
	    "serve.gas-over", 0, 2e-3 },
	/* sugar beside the cylinder: 1.5 volumes */
	{ .title = "sugar, and a burst of gas",
	    FINISHED SUGAR_KEG "<carbonate pressure='12 psi' temp='38 F' method='shaken'/>", "pack.co2-expected",
	4.076, 5e-3 },
	{ .title = "sugar, and gas at the tap", FINISHED SUGAR_KEG "<serve pressure='12 psi' temp='38 F'/>",
	    "pack.co2-expected", 2.576, 5e-3, .u = 0.27 },
	{ .title = "sugar, and gas of some time", FINISHED SUGAR_KEG GAS, "pack.co2-expected", 2.576, 5e-3, .u = 0.8 },
	{ .title = "sugar alone", FINISHED SUGAR_KEG, "pack.co2-expected", 2.339, 5e-3 },
	/* 2.339 and 0.027 x 0.932 over it, at 25 C: 0.722 volumes an atm (Henry), so 2.364/(0.722 + 0.0248) =
	 * 3.166 atm */
	{ .title = "sugar alone: its pressure", FINISHED SUGAR_KEG, "pack.pressure-worst", (3.166 - 1) * 101.325, 4 },
	{ .title = "no sugar is none", FINISHED "<package at='+10d' into='keg' priming='0 g'/>" GAS,
	    "pack.co2-expected", 2.576, 2e-3 },
	/* nobody tells of gas: the carbonation is silent where little is left, the pressure not, for most such
	 * kegs are gassed: (2.4 + 1.963) shut in with 0.027 of gas of 1 atm at 20 C, 0.0252, at 25 C by Henry's
	 * 0.7219 volumes an atm: 4.388/(0.7219 + 0.027 x 273.15/298.15) = 5.876 atm */
	{ .title = "gas untold, four points: their pressure", LEFT4 KEG, "pack.pressure-worst",
	    (5.876 - 1) * 101.325, 4, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "gas untold, finished: no pressure", FINISHED KEG, "pack.pressure-worst", AB_SILENT },
	{ .title = "gas untold, a valve on it", LEFT4 KEG "<spund at='+10d' pressure='20 psi'/>",
	    "pack.pressure-worst", 137.9, 0.5 },
	/* a cold keg: 4.388 + its other half, on a day at 25 C; it is told as it stands, (2.4 + 0.9815 + 0.0252)
	 * / (1.387 + 0.027 x 273.15/277.15) */
	{ .title = "four points, cold, carried out", LEFT4 KEG GAS, "keg.pressure-if-warm",
	    ((2.610 + 1.963 + 0.0485) / 0.7466 - 1) * 101.325, 4, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "untold gas, cold, carried out", LEFT4 KEG "<serve temp='4 C'/>", "keg.pressure-if-warm",
	    (5.876 - 1) * 101.325, 4, NULL, AB_ORIGIN_ASSUMED },
	{ .title = "a keg that stands warm is told as it stands", LEFT4 KEG GAS "<store temp='26 C'/>",
	    "keg.pressure-if-warm", AB_SILENT },
	{ .title = "a finished one comes to no more", FINISHED KEG GAS, "keg.pressure-if-warm", AB_SILENT },
	{ .title = "nor more than its valve", LEFT4 KEG GAS "<spund at='+10d' pressure='20 psi'/>",
	    "keg.pressure-if-warm", 137.9, 0.5 },
	/* mixed gas: what its pressure makes is not reckoned; what ferments by itself is */
	{ .title = "mixed gas", LEFT4 KEG "<carbonate pressure='30 psi' temp='38 F' gas='mixed'/>",
	    "pack.co2-expected", AB_SILENT },
	{ .title = "nitrogen: no pressure is said",
	    LEFT4 KEG "<carbonate pressure='30 psi' temp='38 F' gas='nitrogen'/>", "pack.pressure-worst", AB_SILENT },
	{ .title = "nor what the tap lets off", FINISHED KEG
	    "<carbonate pressure='30 psi' temp='38 F' gas='mixed'/><serve pressure='30 psi' temp='40 F'/>",
	    "serve.gas-over", AB_SILENT },
	{ .title = "nor what the keg comes to",
	    FINISHED KEG "<carbonate pressure='30 psi' temp='38 F' gas='mixed'/>", "keg.equilibrium-co2", AB_SILENT },
	{ .title = "carbon dioxide told is as untold",
	    FINISHED KEG "<carbonate pressure='12 psi' temp='38 F' gas='co2'/>", "pack.co2-expected", 2.576, 2e-3 },
	{ .title = "eight points under nitrogen make their own",
	    AT20 "<recipe fg='1.010 SG'/>" G("+0h", "1.050") G("+9d", "1.018") KEG
	  "<carbonate pressure='30 psi' temp='68 F' gas='nitrogen'/>", "pack.co2-expected", 0.839 + 3.926, 0.08 },
	/* a valve on a gassed keg: of 2.576 + 1.963 no more stays than 40 psi hold at 20 C, 0.839 x 54.696/14.696
	 * = 3.123 (Henry); what the cylinder gave stays under a lower one. u: of the chart's 0.1, and how much of
	 * the rest came */
	{ .title = "a valve on a gassed keg", LEFT4 KEG GAS WARM "<spund at='+10d' pressure='40 psi'/>",
	    "pack.co2-expected", 3.123, 0.01, .u = 0.556 },
	{ .title = "not below what the cylinder gives", LEFT4 KEG GAS WARM "<spund at='+10d' pressure='20 psi'/>",
	    "pack.co2-expected", 2.576, 2e-3, .u = 0.1 },
	{ .title = "its pressure is the valve's", LEFT4 KEG GAS WARM "<spund at='+10d' pressure='40 psi'/>",
	    "pack.pressure-worst", 275.8, 0.5 },
	{ .title = "the tap's part of it stays the tap's",
	    LEFT4 KEG GAS WARM "<spund at='+10d' pressure='40 psi'/><serve pressure='12 psi' temp='38 F'/>",
	"serve.gas-over", 0, 2e-3 },
	/* sugar: 2.339; 10 psi at 20 C hold 0.839 x 24.696/14.696 = 1.410 */
	{ .title = "a valve on a primed keg",
	    FINISHED SUGAR_KEG "<store temp='20 C'/><spund at='+10d' pressure='10 psi'/>", "pack.co2-expected",
	1.410, 0.01 },
	/* a mini keg of untold size: half a litre over 4.5 L: (2.339 + 0.1111 x 0.932)/(0.7219 + 0.1111 x 0.9162)
	 * = 2.968 atm */
	{ .title = "a mini keg", FINISHED "<package at='+10d' into='keg' bottle='mini-keg' volume='20 L' "
	    "priming='120 g' sugar='sucrose'/>", "pack.pressure-worst",
	  (2.968 - 1) * 101.325, 4 },
	/* glass filled beside a keg is judged as glass, without a keg's headspace: Henry's 2.576/0.8280 bar at 20
	 * C are 209.8 kPa over the air's, of the 4 bar of a heavy bottle; of one nobody told the keg alone is
	 * judged */
	{ .title = "glass beside a keg", FINISHED "<package at='+10d' into='keg' bottle='heavy'/>" GAS WARM,
	    "pack.pressure-worst", 209.8, 0.5 },
	{ .title = "its share", FINISHED "<package at='+10d' into='keg' bottle='heavy'/>" GAS WARM,
	    "pack.pressure-share", 209.8 / 400, 2e-3 },
	/* nobody tells of gas: silent where little is left; 8 points are 3.93 volumes on 0.839 */
	{ .title = "gas untold", FINISHED KEG, "pack.co2-expected", AB_SILENT },
	{ .title = "gas untold, four points", LEFT4 KEG, "pack.co2-expected", AB_SILENT },
	{ .title = "gas untold, eight points",
	    AT20 "<recipe fg='1.010 SG'/>" G("+0h", "1.050") G("+9d", "1.018") KEG, "pack.co2-expected",
	0.839 + 3.926, 0.08 },
	{ .title = "the least is not held against the wish",
	    AT20 "<recipe fg='1.010 SG'/>" G("+0h", "1.050") G("+9d", "1.018") KEG, "pack.co2-over", AB_SILENT },
	/* fermented under pressure: 20 psi at 20 C are 0.839 x 34.696/14.696 = 1.981 volumes (Henry) */
	{ .title = "fermented under pressure", FINISHED "<spund at='+3d' pressure='20 psi'/>" KEG,
	    "pack.co2-expected", 1.981, 0.01 },
	{ .title = "and points left", LEFT4 "<spund at='+3d' pressure='20 psi'/>" KEG, "pack.co2-expected",
	    1.981 + 1.963, 0.03 },
	/* a valve on the filled keg: of 0.839 + 1.963 it leaves 1.981 */
	{ .title = "a valve on the filled keg", LEFT4 KEG "<spund at='+10d' pressure='20 psi'/>",
	    "pack.co2-expected", 1.981, 0.01 },
	{ .title = "and its pressure", LEFT4 KEG "<spund at='+10d' pressure='20 psi'/>", "pack.pressure-worst",
	    137.9, 0.5 },
	{ .title = "not below the regulator, whatever the valve is set to",
	    LEFT4 KEG GAS "<spund at='+10d' pressure='5 psi'/>", "pack.pressure-worst", 82.7, 0.5 },
	{ .title = "a valve over it", LEFT4 KEG GAS WARM "<spund at='+10d' pressure='20 psi'/>",
	    "pack.pressure-worst", 137.9, 0.5 },
	{ .title = "a valve that was taken off keeps nothing down",
	    LEFT4 KEG "<spund at='+10d' pressure='20 psi' until='+12d'/>", "pack.co2-expected", AB_SILENT },
	{ .title = "bottles have no keg's gas", LEFT4 "<package at='+10d' into='bottles'/>", "keg.co2-to-come",
	    AB_SILENT },
};

/* Gauge kPa of a keg with so many points left, so much over 10 L of beer, on gas of 80 kPa at 4 C, that meets so
 * much heat. */
static double keg_kpa(int points, double head_l, double hottest_c, const char *method)
{
	char text[800];

	snprintf(text, sizeof text,
	    AT20 "<recipe fg='1.010 SG' volume='10 L'/>" G("+0h",
		"1.050") "<reading at='+9d' gravity='1.0%02d SG'/>"
			 "<package at='+10d' into='keg' size='%.2f L' headspace='%.2f L'/>"
			 "<carbonate pressure='80 kPa' temp='4 C' %s/><store temp='4 C' hottest='%.1f C'/>",
	    10 + points, 10 + head_l, head_l, method, hottest_c);
	return fact_value(text, "pack.pressure-worst");
}

static const char *const methods[] = { "", "method='set-and-wait' for='3 d'", "method='shaken' for='2 d'",
	"method='burst' for='2 d'" };

/* More left never presses less, more room over the beer never more, nor does the cold. */
START_TEST(never_milder)
{
	const char *method = methods[_i];
	for (int points = 0; points <= 12; points += 2)
		for (double head = 0.25; head < 20; head *= 3)
			for (double t = 4; t <= 40; t += 6) {
				double kpa = keg_kpa(points, head, t, method);
				ck_assert_msg(keg_kpa(points + 2, head, t, method) >= kpa - 1e-9,
				    "more left: %d points, %.2f L, %.0f C", points, head, t);
				ck_assert_msg(keg_kpa(points, 3 * head, t, method) <= kpa + 1e-9,
				    "more room: %d points, %.2f L, %.0f C", points, head, t);
				ck_assert_msg(keg_kpa(points, head, t + 6, method) >= kpa - 1e-9,
				    "warmer: %d points, %.2f L, %.0f C", points, head, t);
				ck_assert(kpa >= 80 - 1e-9 || strstr(method, "burst") != NULL ||
				    strstr(method, "shaken") != NULL);
			}
}
END_TEST

/* Volumes in pure water, a litre, at so many atm. */
static double in_water(double atm, double t_c)
{
	return 22.26 * 0.034 * exp(2400 * (1 / (t_c + 273.15) - 1 / 298.15)) * atm;
}

/* Ideal gas, R = 0.082057 L atm/(mol K). */
static double in_gas(double atm, double head, double t_c)
{
	return 22.26 * head * atm / (0.082057 * (t_c + 273.15));
}

/* What was shut in and what was made is what is there, in beer and over it; 0.49 volumes a point. Pure water takes
 * up within 2 % of beer to 10 C, 3.5 % at 20 C. */
START_TEST(nothing_is_lost)
{
	double start = in_water(1 + 80 / 101.325, 4);
	for (int points = 6; points <= 12; points += 2)   /* below, the reckoning asks whether it is at its end */
		for (double head = 0.25; head < 20; head *= 3) {
			double shut = start + in_gas(1 + 80 / 101.325, head / 10, 4) + 0.49 * points;
			double atm = 1 + keg_kpa(points, head, 20, "") / 101.325,
			       there = in_water(atm, 20) + in_gas(atm, head / 10, 20);
			ck_assert_msg(fabs(there / shut - 1) < 0.04, "%d points, %.2f L: %.3f of %.3f volumes",
			    points, head, there, shut);
		}
}
END_TEST

/* Without a headspace it is the bottle's pressure; with one so large that the beer does not count, the gas alone,
 * warmed. */
START_TEST(ends)
{
	for (double t = 0; t <= 40; t += 5) {
		double asbc = ab_co2_asbc(100, 10), henry = ab_co2_henry(100, 10), made = 1;
		double want = fmax(ab_co2_asbc_kpa(asbc + made, t), ab_co2_henry_kpa(henry + made, t));
		ck_assert_double_eq_tol(ab_co2_shut_kpa(100, 10, made, 0, t), want, 0.05);
		ck_assert_double_eq_tol(
		    ab_co2_shut_kpa(100, 10, made, 1e6, t), 201.325 * (t + 273.15) / 283.15 - 101.325, 0.1);
		ck_assert_double_eq_tol(ab_co2_shut_kpa(100, t, 0, 0.1, t), 100, 0.05); /* shut in, and nothing
											   happens */
	}
	/* a litre over each litre, at 0 C: what is made shares itself between 1.612 volumes an atm (Henry) and 1 */
	ck_assert_double_eq_tol(ab_co2_shut_kpa(0, 0, 1, 1, 0), fmax(101.325 / 2.612, 101.325 / 2.592), 0.5);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("laws");

	tcase_add_loop_test(tc, never_milder, 0, sizeof methods / sizeof *methods);
	tcase_add_test(tc, nothing_is_lost);
	tcase_add_test(tc, ends);
	return fact_rows_run("kegs", rows, sizeof rows / sizeof *rows, tc);
}
