/* check_grids.c - formulas over grids, each reckoned here a second time by another road
 *
 * Where a formula of the process room has a closed form, it is held against a sum or a bisection; where it is a
 * table, against the table as its source gives it. Constants are written out anew here, with the source, so that a
 * slip in either place shows.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <check.h>
#include <afterboil/arena.h>
#include <afterboil/dms.h>
#include <afterboil/quantity.h>
#include "process/co2.h"
#include "process/extract.h"
#include "process/oxygen_ways.h"
#include "process/pitch.h"
#include "process/saturation.h"
#include "process/staling.h"
#include "process/storage.h"
#include "process/words.h"

#define COUNT(rows) ((int)(sizeof rows / sizeof *rows))
#define CLOSE(title, got, want, rel) \
	ck_assert_msg(fabs((got) - (want)) <= (rel) * fmax(1e-9, fabs(want)), "%s: %.12g, not %.12g", title, \
	(double)(got), (double)(want))

/* ---- carbon dioxide: pressure of a bottle ---- */

static const double vols[] = { 0.5, 1.5, 2, 2.4, 2.8, 3.5, 4.5 };
static const double temps[] = { 0, 4, 10, 15, 20, 25, 30, 40 };

/* Fit A, a curve through the ASBC table: volumes = (psi + 14.695)(0.01821 + 0.090115 exp(-(F - 32)/43.11)) -
 * 0.003342. */
static double fit_a_vol(double kpa, double t_c)
{
	double f = 1.8 * t_c + 32;
	return (kpa / 6.894757293 + 14.695) * (0.01821 + 0.090115 * exp(-(f - 32) / 43.11)) - 0.003342;
}

/* Fit E, as in European brewing texts: g/L = bar absolute x 10 exp(-10.73797 + 2617.25/K); 1.9768 g/L is a volume. */
static double fit_e_vol(double kpa, double t_c)
{
	return (kpa + 101.325) / 100 * 10 * exp(-10.73797 + 2617.25 / (t_c + 273.15)) / 1.9768;
}

/* The pressure at which a fit gives so many volumes, by halving. */
static double pressure_by_halving(double (*fit)(double, double), double vol, double t_c)
{
	double lo = -101, hi = 5000;
	for (int i = 0; i < 80; i++) {
		double mid = (lo + hi) / 2;
		if (fit(mid, t_c) < vol)
			lo = mid;
		else
			hi = mid;
	}
	return lo;
}

START_TEST(bottle_pressure)
{
	double vol = vols[_i / COUNT(temps)], t = temps[_i % COUNT(temps)];
	double a = pressure_by_halving(fit_a_vol, vol, t), e = pressure_by_halving(fit_e_vol, vol, t);
	char title[60];

	snprintf(title, sizeof title, "%.1f vol at %.0f C", vol, t);
	ck_assert_msg(fabs(ab_co2_asbc_kpa(vol, t) - a) < 1e-3, "%s: fit A gives %.4f kPa, not %.4f", title,
	    ab_co2_asbc_kpa(vol, t), a);
	ck_assert_msg(fabs(ab_co2_henry_kpa(vol, t) - e) < 1e-3, "%s: fit E gives %.4f kPa, not %.4f", title,
	    ab_co2_henry_kpa(vol, t), e);
	ck_assert_msg(
	    fabs(ab_co2_bottle_kpa(vol, t) - fmax(a, e)) < 1e-3, "%s: %.4f kPa", title, ab_co2_bottle_kpa(vol, t));
	/* the way back */
	ck_assert_double_eq_tol(ab_co2_asbc(a, t), vol, 1e-6);
	ck_assert_double_eq_tol(ab_co2_henry(e, t), vol, 1e-6);
	/* the two agree within a tenth where beer is stored */
	if (t <= 30 && vol >= 1.5)
		ck_assert_msg(fabs(a - e) < 0.1 * (fmax(a, e) + 101.325), "%s: %.1f and %.1f kPa", title, a, e);
	/* more gas or more heat, more pressure */
	ck_assert(ab_co2_bottle_kpa(vol + 0.1, t) > ab_co2_bottle_kpa(vol, t));
	ck_assert(ab_co2_bottle_kpa(vol, t + 1) > ab_co2_bottle_kpa(vol, t));
}
END_TEST

/* What beer still holds after fermentation: fit E under one atmosphere. */
START_TEST(residual_gas)
{
	ck_assert_double_eq_tol(ab_co2_residual(temps[_i]), fit_e_vol(0, temps[_i]), 1e-6);
	ck_assert(ab_co2_residual(temps[_i]) > ab_co2_residual(temps[_i] + 2));
}
END_TEST

/* ---- priming sugars ---- */

/* g of CO2 a g: two moles of four from a hexose, four of a disaccharide; the 5 % that feeds yeast cancels out.
 * Molar masses: C 12.011, H 1.008, O 15.999. Dextrose is the monohydrate homebrewers buy when it is so told;
 * 0.44416 is the monohydrate. */
static double co2_per_g(double moles, double molar)
{
	return moles * (12.011 + 2 * 15.999) / molar;
}

START_TEST(sugars_by_stoichiometry)
{
	double water = 2 * 1.008 + 15.999, hexose = 6 * 12.011 + 12 * 1.008 + 6 * 15.999, sucrose = 2 * hexose - water;
	double one = co2_per_g(4, sucrose);

	CLOSE("sucrose", ab_sucrose_equivalent(AB_SUGAR_SUCROSE), 1.0, 1e-9);
	CLOSE("candi is sucrose", ab_sucrose_equivalent(AB_SUGAR_CANDI), 1.0, 1e-9);
	CLOSE("dextrose, monohydrate", ab_sucrose_equivalent(AB_SUGAR_DEXTROSE), co2_per_g(2, hexose + water) / one,
	    1e-3);
	CLOSE("honey, four fifths hexose", ab_sucrose_equivalent(AB_SUGAR_HONEY), 0.8 * co2_per_g(2, hexose) / one,
	    1e-3);
	ck_assert_msg(ab_sucrose_equivalent(AB_SUGAR_LACTOSE) <= 0, "ale yeast does not ferment lactose");
	ck_assert_msg(ab_sucrose_equivalent(AB_SUGAR_MALTODEXTRIN) <= 0, "nor maltodextrin");
	/* Dry malt extract is 0.95 extract (sugar tables: 44 points of a pound in a gallon, sucrose 46.2), of which
	 * 70 to 85 % ferment by the hydrometer, 0.8192 of that in truth (Balling). Per g fermented 0.46286 g of CO2
	 * (Balling, with what the yeast grows from) to 0.51428 (maltose, nothing for the yeast). */
	double truly = 0.95 * 0.8192, by_rule = 1.9768 / 4;
	ck_assert_double_gt(ab_sucrose_equivalent(AB_SUGAR_DRY_EXTRACT), truly * 0.70 * 0.46286 / by_rule);
	ck_assert_double_lt(ab_sucrose_equivalent(AB_SUGAR_DRY_EXTRACT), truly * 0.85 * 0.51428 / by_rule);
	ck_assert_double_eq_tol(ab_sucrose_equivalent(AB_SUGAR_DRY_EXTRACT),
	    truly * 0.775 * (0.46286 + 0.95 * 0.51428) / 2 / by_rule, 0.03);
	/* One volume is 1.9768 g/L; 4 g/L of sucrose give it with about 5 % lost to yeast. */
	for (double g = 0; g <= 12; g += 0.5)
		ck_assert_double_eq_tol(ab_co2_from_sucrose(g), 0.96 * g * one / 1.9768, 0.012 * g + 1e-9);
}
END_TEST

/* ---- pitch ---- */

static const struct { const char *klass; double rate; } classes[] = {
	{ "ale", 0.75 }, { "hybrid", 1.0 }, { "warm lager", 1.2 }, { "lager", 1.5 }, { "farmhouse", 0.5 },
};
static const double degrees[] = { 4, 10, 12, 15.9, 16, 16.1, 20, 25 };

START_TEST(cells_wanted)
{
	double rate = classes[_i % COUNT(classes)].rate, p = degrees[_i / COUNT(classes)];
	char title[60];

	snprintf(title, sizeof title, "%s at %.1f P", classes[_i % COUNT(classes)].klass, p);
	for (double litres = 1; litres <= 60; litres += 7) {
		/* 1e6 cells a mL and degree: a litre has a thousand mL, a thousand million is 1e9 */
		double cells = rate * 1e6 * litres * 1000 * p / 1e9;
		CLOSE(title, ab_pitch_norm(rate, litres, p), p > 16 ? cells + cells / 4 : cells, 1e-12);
	}
}
END_TEST

/* Alive after so many days, day by day; faster in the warm. Rows of keep: untold, cold, room, warm. */
static const double liquid_day[] = { 0.0045, 0.0045, 0.0135, 0.027 }, dry_year[] = { 0.04, 0.04, 0.20, 0.50 };

START_TEST(cells_alive)
{
	double liquid = 1, dry = 1;

	for (int day = 0; day <= 1500; day++) {
		CLOSE("liquid", ab_yeast_alive_liquid(day, _i), fmax(0.05, liquid), 1e-9);
		CLOSE("dry", ab_yeast_alive_dry(day, _i), fmax(0.05, dry), 1e-9);
		liquid -= liquid_day[_i];
		dry -= dry_year[_i] / 365.25;
	}
}
END_TEST

START_TEST(cells_after_a_starter)
{
	for (double litres = 0.25; litres <= 4; litres += 0.25)
		for (double start = 5; start <= 900; start += 35)
			for (int stirred = 0; stirred <= 2; stirred++) {
				double grown = start + (stirred == 1 ? 70 : 140) * litres;   /* 1 is "no" */
				double most = 200 * litres, want = grown < most ? grown : most;
				CLOSE("starter", ab_starter_end(start, litres, stirred),
				    want > start ? want : start, 1e-12);
			}
}
END_TEST

/* ---- hydrometer and extracts ---- */

/* Density of water, kg/m3: CRC Handbook (ITS-90). */
static const struct { double t, density; } water[] = {
	{ 0, 999.84 }, { 4, 999.97 }, { 10, 999.70 }, { 15, 999.10 }, { 20, 998.21 }, { 25, 997.05 },
	{ 30, 995.65 }, { 35, 994.03 }, { 40, 992.22 },
};

START_TEST(hydrometer_by_the_density_of_water)
{
	double calibrated = _i < COUNT(water) ? 20 : 15, at_calibrated = _i < COUNT(water) ? 998.21 : 999.10;
	double t = water[_i % COUNT(water)].t, density = water[_i % COUNT(water)].density;

	ck_assert_double_eq_tol(ab_water_density(t), density, 0.006);
	for (double sg = 1; sg <= 1.12; sg += 0.01) {
		/* Glass grows 25e-6 of its volume a kelvin and shoves more aside. */
		double want = sg * (at_calibrated / density) / (1 + 25e-6 * (t - calibrated));
		ck_assert_msg(fabs(ab_hydrometer_correct(sg, t, calibrated) - want) < 2e-5,
		    "%.3f at %.0f C, made for %.0f C: %.5f, not %.5f", sg, t, calibrated,
		    ab_hydrometer_correct(sg, t, calibrated), want);
		ck_assert_double_eq_tol(ab_hydrometer_correct(sg, calibrated, calibrated), sg, 1e-12);
	}
}
END_TEST

/* Balling's balance: 2.0665 g of extract become 1 g of alcohol, and 1.0665 g leave the beer. */
START_TEST(extract_is_conserved)
{
	for (double oe = 6; oe <= 24; oe += 1.5)
		for (double ae = 0.5; ae < oe; ae += 1.5) {
			double re = ab_extract_real(oe, ae), abw = ab_alcohol_by_weight(oe, re);
			ck_assert_msg(re > ae && re < oe, "%.1f, %.1f: real extract %.3f", oe, ae, re);
			ck_assert_msg(fabs(ab_extract_original(abw, re) - oe) < 0.02, "%.1f, %.1f P: back at %.4f",
			    oe, ae, ab_extract_original(abw, re));
			/* 100 g of beer came from 100 + 1.0665 A g of wort */
			ck_assert_double_eq_tol(oe * (100 + 1.0665 * abw), 100 * (2.0665 * abw + re), 3);
			double og = ab_sg_from_plato(oe), fg = ab_sg_from_plato(ae);
			ck_assert_double_eq_tol(ab_attenuation(og, fg), 1 - ae / oe, 1e-8);
			CLOSE("by volume", ab_alcohol_by_volume(og, fg), abw * fg / 0.7907, 1e-8);
		}
}
END_TEST

/* Degrees Plato: rises all the way, and the way back comes back. */
START_TEST(plato_there_and_back)
{
	double last = -1;
	for (double sg = 1; sg <= 1.12; sg += 0.0005) {
		double p = ab_plato_from_sg(sg);
		ck_assert_msg(p > last || sg <= 1.0005, "%.4f: %.6f P after %.6f", sg, p, last);
		last = p;
		if (p > 0)
			ck_assert_double_eq_tol(ab_sg_from_plato(p), sg, 1e-9);
		/* four points a degree, within a tenth of it */
		ck_assert_double_eq_tol(p, (sg - 1) * 1000 / (3.87 + 0.0129 * p), 0.15 + 0.01 * p);
	}
}
END_TEST

/* ---- oxygen in wort ---- */

/* mg/L in fresh water under moist air at 1 atm: US Geological Survey, table of Benson and Krause's equation. */
static const struct { double t, mgl; } saturation[] = {
	{ 0, 14.62 }, { 5, 12.77 }, { 10, 11.29 }, { 15, 10.08 }, { 20, 9.09 }, { 25, 8.26 }, { 30, 7.56 },
	{ 35, 6.95 }, { 40, 6.41 },
};

START_TEST(oxygen_in_wort)
{
	double t = saturation[_i].t, water_mgl = ab_oxygen_in_water(t, 1);

	ck_assert_msg(fabs(water_mgl - saturation[_i].mgl) < 0.012, "%.0f C: %.3f mg/L, not %.2f", t, water_mgl,
	    saturation[_i].mgl);
	for (double p = 0; p <= 25; p += 2.5) {
		double share = ab_oxygen_wort_share(p), most = water_mgl * share;
		CLOSE("wort", share, pow(6.6 / 8.9, p / 15), 0.02);
		for (int method = AB_AERATE_NONE; method <= AB_AERATE_OXYGEN; method++) {
			double last = 0;
			for (double minutes = 0; minutes <= 40; minutes += 0.5) {
				double got = ab_oxygen_aerated(method, minutes, most);
				ck_assert_msg(
				    got >= last - 1e-12, "method %d, %.1f min: less than before", method, minutes);
				ck_assert_msg(method == AB_AERATE_OXYGEN ? got <= 25 : got <= most + 1e-9,
				    "method %d gives %.2f of at most %.2f mg/L", method, got, most);
				ck_assert(got >= fmin(2, most) - 1e-12);
				last = got;
			}
		}
	}
}
END_TEST

/* A tenth of an atmosphere less, a tenth less oxygen, but for the steam. */
START_TEST(oxygen_by_pressure)
{
	for (double atm = 0.6; atm < 1; atm += 0.05) {
		double share = ab_oxygen_in_water(20, atm) / ab_oxygen_in_water(20, 1), steam = 0.02307; /* atm, at
													    20 C */
		ck_assert_double_eq_tol(share, (atm - steam) / (1 - steam), 1e-3);
	}
	/* US Standard Atmosphere 1976, its table */
	ck_assert_double_eq_tol(ab_pressure_at(0), 1, 1e-9);
	ck_assert_double_eq_tol(ab_pressure_at(1000) * 1013.25, 898.76, 0.1);
	ck_assert_double_eq_tol(ab_pressure_at(2000) * 1013.25, 795.01, 0.15);
	ck_assert_double_eq_tol(ab_pressure_at(3000) * 1013.25, 701.21, 0.2);
}
END_TEST

/* ---- purging ---- */

/* Fill and vent in steps, following the oxygen by amount and not by formula. */
START_TEST(purge_step_by_step)
{
	static const double gauges[] = { 0, 20, 69, 100, 207 };
	double gauge = gauges[_i], pressure = 101.325, oxygen = 0.20946 * pressure;

	for (int n = 0; n <= 40; n++) {
		CLOSE("cycles", ab_purged_by_cycles(0.20946, gauge, n), oxygen / pressure, 1e-9);
		/* fill with gas without oxygen, then let go down to an atmosphere */
		oxygen *= 101.325 / (101.325 + gauge);
	}
}
END_TEST

/* Mixed flow in ten thousand small steps a volume. */
START_TEST(purge_by_flow)
{
	double share = 0.20946;
	for (int i = 1; i <= 60000; i++) {
		share -= share / 10000;
		if (i % 5000 == 0)
			CLOSE("flow", ab_purged_by_flow(0.20946, i / 10000.0), share, 5e-4);
	}
	CLOSE("pocket", ab_purged_by_liquid(0.1, 19), 0.20946 * 0.1 / 19, 1e-9);
	CLOSE("a pocket larger than the vessel", ab_purged_by_liquid(30, 19), 0.20946, 1e-9);
}
END_TEST

/* mg in a litre of gas: 31.998 g in a mole, 22.414 L a mole at 0 C. */
START_TEST(oxygen_in_gas)
{
	for (double t = -5; t <= 40; t += 5)
		CLOSE("gas", ab_oxygen_mg(2, 0.20946, t), 2 * 0.20946 * 31998 / 22.414 * 273.15 / (273.15 + t), 1e-4);
	/* A tube by rings: thin walls one on another. */
	double rings = 0;
	for (int i = 0; i < 2000; i++)
		rings += (4.0 / 2000) / (6 + 8.0 * (i + 0.5) / 2000);
	CLOSE("tube", ab_permeated_tube(100, 3, 6, 14),
	    1 / (rings / (3.14159265358979 * 3 * 100 * 0.20946 * 1.4276)) * 1e-3, 1e-5);
	CLOSE("sheet", ab_permeated_sheet(60, 0.5, 2), 60 * 0.5 / 2 * 0.20946 * 1.4276, 1e-9);
}
END_TEST

/* A cut cone by slices, for each bottle at each fill. */
START_TEST(necks_by_slices)
{
	for (double mm = 5; mm <= 90; mm += 17) {
		double bore = 0, widens = 0, sum = 0;
		/* bore and widening from two thin slices, as a caliper would */
		bore = sqrt(ab_neck_ml(_i, 0.001) * 1000 / 0.001 * 4 / 3.14159265358979);
		widens =
		    (sqrt((ab_neck_ml(_i, 10.001) - ab_neck_ml(_i, 10)) * 1000 / 0.001 * 4 / 3.14159265358979) -
			bore) /
		    10;
		for (int i = 0; i < 4000; i++) {
			double d = bore + widens * mm * (i + 0.5) / 4000;
			sum += 3.14159265358979 / 4 * d * d * mm / 4000;
		}
		ck_assert_msg(fabs(ab_neck_ml(_i, mm) - sum / 1000) < 1e-3 * sum / 1000,
		    "bottle %d at %.0f mm: %.4f mL, not %.4f", _i, mm, ab_neck_ml(_i, mm), sum / 1000);
		ck_assert_msg(bore > 10 && bore < 60, "bottle %d has a bore of %.1f mm", _i, bore);
	}
	/* litres such a bottle is sold with (common practice); the first row is a bottle untold */
	static const double litres[AB_BOTTLE_MAX_] = { 0.4, [AB_BOTTLE_LONGNECK] = 0.355, [AB_BOTTLE_REUSED] = 0.4,
		[AB_BOTTLE_HEAVY] = 0.5, [AB_BOTTLE_SWING] = 0.5, [AB_BOTTLE_SPARKLING] = 0.75, [AB_BOTTLE_PET] = 1,
		[AB_BOTTLE_GROWLER] = 1.9, [AB_BOTTLE_UNKNOWN] = 0.5, [AB_BOTTLE_PLASTIC_CAN] = 0.33,
		[AB_BOTTLE_MINI_KEG] = 5 };
	ck_assert_double_eq_tol(ab_bottle_litres(_i), litres[_i], 1e-12);
}
END_TEST

/* ---- DMS ---- */

/* The half-life doubles every 6 K; straight cooling is the sum of short stands, Newton's the same with its own pace. */
START_TEST(dms_by_short_stands)
{
	static const struct { double from, to, minutes; } rows[] = {
		{ 100, 25, 10 }, { 100, 80, 20 }, { 95, 60, 5 }, { 85, 84, 30 }, { 100, 25, 60 },
	};
	double from = rows[_i].from, to = rows[_i].to, minutes = rows[_i].minutes, straight = 0, newton = 0;
	enum { STEPS = 20000 };

	for (int i = 0; i < STEPS; i++) {
		double t = from + (to - from) * (i + 0.5) / STEPS;
		straight += minutes / STEPS / (35 * pow(2, (100 - t) / 6));
		/* dt of Newton's law round 20 C with a time constant of one hour */
		newton += 60 * (from - to) / STEPS / (t - 20) / (35 * pow(2, (100 - t) / 6));
	}
	CLOSE("straight", ab_dms_ramp(from, to, minutes), straight, 1e-5);
	CLOSE("Newton", ab_dms_cooling(from, to, 20, 1), newton, 1e-4);
	for (double n = 0; n < 8; n += 0.5)
		CLOSE("left", ab_dms_left(n), pow(0.5, n), 1e-12);
	for (double t = 60; t <= 100; t += 4) {
		CLOSE("half-life", ab_dms_half_life_min(t, AB_DMS_PH), 35 * pow(2, (100 - t) / 6), 1e-9);
		ck_assert(ab_dms_half_life_min(t, AB_DMS_PH + 0.2) < ab_dms_half_life_min(t, AB_DMS_PH));
	}
}
END_TEST

/* ---- storage ---- */

/* Days at 20 C: hour by hour over a swing of day and night. */
START_TEST(storage_hour_by_hour)
{
	static const double q10s[] = { 2, 2.2, 3 };
	double q10 = q10s[_i], sum = 0, pieces = 0;

	for (int h = 0; h < 24 * 30; h++) {
		double t = 18 + 6 * sin(h / 24.0 * 2 * 3.14159265358979);
		sum += exp(log(q10) * (t - 20) / 10) / 24;
		pieces += ab_equivalent_days(1 / 24.0, t, q10);
	}
	CLOSE("a month", pieces, sum, 1e-12);
	CLOSE("20 C counts itself", ab_equivalent_days(17, 20, q10), 17.0, 1e-12);
	CLOSE("ten kelvin", ab_equivalent_days(17, 30, q10), 17 * q10, 1e-12);
	/* swings cost more than their mean */
	ck_assert(sum > ab_equivalent_days(30, 18, q10));
	/* oxygen there from the start counts whole, what comes in evenly counts half: the mean over the days */
	double dose = 0;
	for (int d = 0; d < 1000; d++)
		dose += (0.8 + 0.6 * (d + 0.5) / 1000) * 50 / 1000;
	CLOSE("dose", ab_stale_dose(0.8, 0.6, 50), dose, 1e-9);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("grids");
	TCase *tc = tcase_create("grids");

	tcase_add_loop_test(tc, bottle_pressure, 0, COUNT(vols) * COUNT(temps));
	tcase_add_loop_test(tc, residual_gas, 0, COUNT(temps));
	tcase_add_test(tc, sugars_by_stoichiometry);
	tcase_add_loop_test(tc, cells_wanted, 0, COUNT(classes) * COUNT(degrees));
	tcase_add_loop_test(tc, cells_alive, 0, 4);
	tcase_add_test(tc, cells_after_a_starter);
	tcase_add_loop_test(tc, hydrometer_by_the_density_of_water, 0, 2 * COUNT(water));
	tcase_add_test(tc, extract_is_conserved);
	tcase_add_test(tc, plato_there_and_back);
	tcase_add_loop_test(tc, oxygen_in_wort, 0, COUNT(saturation));
	tcase_add_test(tc, oxygen_by_pressure);
	tcase_add_loop_test(tc, purge_step_by_step, 0, 5);
	tcase_add_test(tc, purge_by_flow);
	tcase_add_test(tc, oxygen_in_gas);
	tcase_add_loop_test(tc, necks_by_slices, 0, AB_BOTTLE_MAX_);
	tcase_add_loop_test(tc, dms_by_short_stands, 0, 5);
	tcase_add_loop_test(tc, storage_hour_by_hour, 0, 3);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
