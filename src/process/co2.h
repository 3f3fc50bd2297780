/* co2.h - carbon dioxide in beer: how much dissolves, how much sugar makes, what pressure it comes to
 *
 * 1 volume is 1 L of CO2 at 0 C and 1 atm per L of beer, 1.9768 g/L (real gas). Pressures are gauge, kPa.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_CO2_H
#define AB_PROCESS_CO2_H

/* Fit A: a fit to the ASBC table of the solubility of CO2 in beer, which spans 0 to 16 C (32 to 60 F): trust A to 20 C,
 * and stretched B to 30 C, C above. Its author (a technical note of 2011) states that it misses the table by 0.01 vol
 * on the whole, 0.044 at worst. Its coefficients stand here from memory; tests/handbook/check_physics.c holds it
 * against charts and against fit E. */
double ab_co2_asbc(double kpa, double t_c);
double ab_co2_asbc_kpa(double vol, double t_c);
/* Fit E: Henry's law with one enthalpy of solution (21.8 kJ/mol) as in European brewing texts, coefficients from
 * memory; the same trust. The two agree within 2 % from 0 to 20 C and part ways above. */
double ab_co2_henry(double kpa, double t_c);
double ab_co2_henry_kpa(double vol, double t_c);
/* What a bottle has to bear: the larger of the two pressures, without its neck (pressure.c). */
double ab_co2_bottle_kpa(double vol, double t_c);

/* What beer that has just fermented still holds, at the highest temperature it met since, under so much gauge pressure
 * and air of so many atm: Fit E. Trust B, +-0.08 vol without pressure. ab_co2_residual: open, at sea level. */
double ab_co2_held(double kpa, double t_c, double atm);
double ab_co2_residual(double t_c);
/* What is added to a gauge pressure at sea level, where the fits' gauges stand, for the same gas where the air has so
 * many atm. */
double ab_co2_gauge_up(double atm);

/* g of sucrose that make as much CO2 as 1 g of a sugar (a word of ab_words_sugar, 1 + place): stoichiometry
 * (trust A) for sucrose and dextrose monohydrate; C for honey (80 % sugars) and dry extract (1 g makes
 * the gas of 0.6 g of sucrose); 0 for what yeast leaves alone. */
double ab_sucrose_equivalent(int sugar);
/* The pressure at t_c in a keg that was shut at from_c with kpa over beer at one with it, and in which so many volumes
 * were made since: head L of gas over each litre of beer, nothing goes in or out (mass balance; Henry's law in the
 * beer, ideal gas over it, which is 0.7 % short of real CO2). Each fit for itself, the larger of the two. */
double ab_co2_shut_kpa(double kpa, double from_c, double made, double head, double t_c);

/* Volumes from sucrose in g/L: 4.0 g/L make one; 3.844 g/L by stoichiometry and 5 % that goes into yeast. */
double ab_co2_from_sucrose(double g_per_l);
/* Volumes from gravity points (0.001 SG) lost in the closed package: Balling, 0.46286 g CO2 per g of real
 * extract. Trust A. */
double ab_co2_from_points(double points);

#endif
