/* co2.c - carbon dioxide in beer
 *
 * Sources, units and trust of each formula: co2.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/co2.h"
#include <math.h>
#include <afterboil/quantity.h>
#include "process/words.h"

/* 1.9768 g/L: density of CO2 at 0 C and 1 atm, which is what one "volume" means. */
static const double KPA_PER_PSI = 6.894757, ATM_KPA = 101.325, GRAMS_PER_VOL = 1.9768;

/* Volumes per psi absolute. */
static double asbc_slope(double t_c)
{
	return 0.01821 + 0.090115 * exp(-(t_c * 1.8) / 43.11);
}

double ab_co2_asbc(double kpa, double t_c)
{
	return (kpa / KPA_PER_PSI + 14.695) * asbc_slope(t_c) - 0.003342;
}

double ab_co2_asbc_kpa(double vol, double t_c)
{
	return ((vol + 0.003342) / asbc_slope(t_c) - 14.695) * KPA_PER_PSI;
}

/* Volumes per bar absolute. */
static double henry_slope(double t_c)
{
	return 10 * exp(-10.73797 + 2617.25 / (t_c + 273.15)) / GRAMS_PER_VOL;
}

double ab_co2_henry(double kpa, double t_c)
{
	return (kpa + ATM_KPA) / 100 * henry_slope(t_c);
}

double ab_co2_henry_kpa(double vol, double t_c)
{
	return vol / henry_slope(t_c) * 100 - ATM_KPA;
}

/* The larger, since this one decides whether glass bursts: the fits part ways when hot. */
double ab_co2_bottle_kpa(double vol, double t_c)
{
	return fmax(ab_co2_asbc_kpa(vol, t_c), ab_co2_henry_kpa(vol, t_c));
}

/* Volumes in a litre of gas, per kPa absolute. */
static double gas_slope(double t_c)
{
	return 273.15 / (t_c + 273.15) / ATM_KPA;
}

double ab_co2_shut_kpa(double kpa, double from_c, double made, double head, double t_c)
{
	double over = head * gas_slope(t_c), all = made + head * gas_slope(from_c) * (kpa + ATM_KPA);
	double asbc = (ab_co2_asbc(kpa, from_c) + 0.003342 + all) / (asbc_slope(t_c) / KPA_PER_PSI + over) - ATM_KPA;
	double henry = (ab_co2_henry(kpa, from_c) + all) / (henry_slope(t_c) / 100 + over) - ATM_KPA;

	return fmax(asbc, henry);
}

double ab_co2_gauge_up(double atm)
{
	return ATM_KPA * (1 - atm);
}

double ab_co2_held(double kpa, double t_c, double atm)
{
	return ab_co2_henry(kpa - ab_co2_gauge_up(atm), t_c);
}

double ab_co2_residual(double t_c)
{
	return ab_co2_held(0, t_c, 1);
}

/* CO2 by weight against sucrose: dextrose monohydrate carries its water (0.44416/0.51428), honey is
 * taken as four fifths sugar. Dry malt extract: 0.95 of it is extract, of which yeast takes 0.8192 x 0.775 (apparent to
 * real, Balling; 70 to 85 % apparent), 0.46286 g of CO2 a g, over the 0.4942 of a g of sucrose at 4.0 g/L: 0.565, and
 * 0.60 by maltose's own 0.514; 0.6 (+-0.06) is taken. What is not named is an estimate. */
double ab_sucrose_equivalent(int sugar)
{
	static const double share[AB_SUGAR_MAX_] = {
		[AB_SUGAR_SUCROSE] = 1, [AB_SUGAR_DEXTROSE] = 0.44416 / 0.51428, [AB_SUGAR_CANDI] = 1,
		[AB_SUGAR_HONEY] = 0.8 * 0.48857 / 0.51428, [AB_SUGAR_DRY_EXTRACT] = 0.6,
		    [AB_SUGAR_OTHER] = 0.9,
	};
	return sugar > 0 && sugar < AB_SUGAR_MAX_ ? share[sugar] : share[AB_SUGAR_OTHER];
}

double ab_co2_from_sucrose(double g_per_l)
{
	return g_per_l / 4.0;
}

/* 1 point is close to 0.25 P of apparent extract near the end; 1.01 is the density of beer. The slope
 * is taken at 1.012, where bottled beer usually ends, since degrees Plato and points are not quite in
 * proportion. 0.8192: real against apparent extract (Balling); 0.46286: g of CO2 a g of extract. */
double ab_co2_from_points(double points)
{
	double apparent_p = (ab_plato_from_sg(1.013) - ab_plato_from_sg(1.011)) / 2 * points;
	return 0.8192 * apparent_p * 10 * 1.01 * 0.46286 / GRAMS_PER_VOL;
}
