/* oxygen_ways.c - air on its way into beer: gas, purges, plastics, the cold crash, necks and caps
 *
 * Sources, units, ranges and trust: oxygen_ways.h, formula by formula.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/oxygen_ways.h"
#include <assert.h>
#include <math.h>
#include "process/co2.h"
#include "process/words.h"

static const double ATM_KPA = 101.325, ATM_BAR = 1.01325, GAS = 0.0831446 /* L bar/(mol K) */,
    ZERO_K = 273.15, O2_MOLAR = 31.998, CO2_MOLAR = 44.01, CO2_PER_VOL = 1.9768, MG_PER_CM3_STP = 1.4276,
    PI = 3.14159265358979;

double ab_oxygen_mg(double gas_l, double share, double t_c)
{
	return 1000 * O2_MOLAR * share * gas_l * ATM_BAR / (GAS * (t_c + ZERO_K));
}

double ab_purged_by_cycles(double share, double gauge_kpa, double cycles)
{
	return share * pow(ATM_KPA / (ATM_KPA + fmax(0, gauge_kpa)), cycles);
}

/* Perfect mixing, the worst case: a plug of gas would sweep better. */
double ab_purged_by_flow(double share, double volumes)
{
	return share * exp(-volumes);
}

/* What the displaced liquid left in pockets is air, all else is the pushing gas. */
double ab_purged_by_liquid(double pocket_l, double vessel_l)
{
	return AB_AIR_OXYGEN * fmin(1, pocket_l / vessel_l);
}

double ab_fermentation_gas(double beer_l, double extract_gl, double t_c)
{
	double grams = 0.46286 * beer_l * extract_gl;
	return grams / CO2_MOLAR * GAS * (t_c + ZERO_K) / ATM_BAR;
}

double ab_permeated_sheet(double permeability, double area_m2, double thick_mm)
{
	return permeability * area_m2 * AB_AIR_OXYGEN / thick_mm * MG_PER_CM3_STP;
}

double ab_permeated_tube(double permeability, double length_m, double inner_mm, double outer_mm)
{
	/* mm of wall against m of length */
	return 2e-3 * PI * length_m * permeability * AB_AIR_OXYGEN / log(outer_mm / inner_mm) *
	    MG_PER_CM3_STP;
}

/* mol of CO2 a litre of beer holds under 1 bar of it. */
static double co2_per_bar(double t_c)
{
	return ab_co2_henry(0, t_c) * CO2_PER_VOL / CO2_MOLAR / ATM_BAR;
}

/* CO2 in beer and gas space together is what stays the same while both cool; what the pressure then
 * lacks to 1 atm is drawn in as air, told as litres at 20 C. */
double ab_crash_air(double beer_l, double head_l, double from_c, double to_c)
{
	double k1 = from_c + ZERO_K, k2 = to_c + ZERO_K;

	if (!(to_c < from_c))
		return 0;
	double mol = ATM_BAR * (co2_per_bar(from_c) * beer_l + head_l / (GAS * k1));
	double left_bar = mol / (co2_per_bar(to_c) * beer_l + head_l / (GAS * k2));
	double air_mol = (ATM_BAR - left_bar) * head_l / (GAS * k2);
	return fmax(0, air_mol * GAS * (20 + ZERO_K) / ATM_BAR);
}

/* Bore at the rim in mm, mm wider per mm down, usual litres. All estimates but the longneck's slope. */
static const struct { double bore, widens, litres; } bottles[AB_BOTTLE_MAX_] = {
	[0] = { 16, 0.142, 0.4 },
	[AB_BOTTLE_LONGNECK] = { 16, 0.142, 0.355 }, [AB_BOTTLE_REUSED] = { 16, 0.142, 0.4 },
	[AB_BOTTLE_HEAVY] = { 17, 0.18, 0.5 },
	[AB_BOTTLE_SWING] = { 17, 0.2, 0.5 }, [AB_BOTTLE_SPARKLING] = { 18, 0.13, 0.75 },
	[AB_BOTTLE_PET] = { 21.7, 0.4, 1 },
	[AB_BOTTLE_GROWLER] = { 33, 0.5, 1.9 }, [AB_BOTTLE_UNKNOWN] = { 17, 0.2, 0.5 },
	[AB_BOTTLE_PLASTIC_CAN] = { 52, 0.3, 0.33 }, [AB_BOTTLE_MINI_KEG] = { 40, 1, 5 },
};

double ab_neck_ml(int bottle, double mm)
{
	assert(bottle >= 0 && bottle < AB_BOTTLE_MAX_);
	double d0 = bottles[bottle].bore, d1 = d0 + bottles[bottle].widens * mm;
	/* a cut cone, mm3 to mL */
	return PI / 12 * mm * (d0 * d0 + d0 * d1 + d1 * d1) / 1000;
}

double ab_bottle_litres(int bottle)
{
	assert(bottle >= 0 && bottle < AB_BOTTLE_MAX_);
	return bottles[bottle].litres;
}

struct ab_range ab_cap_ml_day(int cap)
{
	static const struct ab_range caps[AB_CAP_MAX_] = {
		[0] = { 0.002, 0.001, 0.005 },
		[AB_CAP_PLAIN] = { 0.0015, 0.001, 0.002 }, [AB_CAP_ABSORBING] = { 0.0002, 0, 0.001 },
		[AB_CAP_SWING] = { 0.003, 0.001, 0.01 }, [AB_CAP_SCREW] = { 0.003, 0.001, 0.01 },
		[AB_CAP_TWIST] = { 0.01, 0.002, 0.05 }, [AB_CAP_CORK] = { 0.005, 0.001, 0.03 },
	};
	assert(cap >= 0 && cap < AB_CAP_MAX_);
	return caps[cap];
}

double ab_oxygen_taken(double days)
{
	return 0.75 * (1 - exp(-fmax(0, days) / 8.5));
}

double ab_package_ratio(double head_ml, double beer_ml)
{
	return 1 + head_ml / beer_ml / 0.03263;
}
