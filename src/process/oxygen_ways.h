/* oxygen_ways.h - the ways air takes into beer, each as a formula: numbers in, numbers out
 *
 * To ask "what if", call with other numbers: five purges for one, 15 mm for 40. Gas volumes in L at t_c and 1
 * atm, oxygen in mg, shares of a gas by volume. "Trust" is the formula's; how much of the oxygen reaches the
 * beer is the budget's matter (oxygen_budget.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_OXYGEN_WAYS_H
#define AB_PROCESS_OXYGEN_WAYS_H

/* An estimate with its range: the true value is held to lie from low to high nine times in ten. */
struct ab_range { double mid, low, high; };

/* Share of oxygen in dry air. */
#define AB_AIR_OXYGEN 0.20946
/* 1 Barrer in cm3(STP) mm/(m2 d atm): its definition, 1e-10 cm3(STP) cm/(cm2 s cmHg), in other units. A
 * lecture note's 846 is wrong. */
#define AB_BARRER 65.66
/* cm3(STP) mm/(m2 d atm) at 25 C: ranges of a table of food packaging (Biosystems Engineering, table 11.2),
 * trust B; EPDM from memory, C. */
#define AB_PERM_HDPE 60.0      /* 39 to 98 */
#define AB_PERM_PET 1.8        /* 1.2 to 2.4 */
#define AB_PERM_EPDM 1600.0    /* from memory */
#define AB_PERM_SILICONE 39400.0   /* 600 Barrer, from memory */
#define AB_PERM_PVC_SOFT 100.0     /* 20 to 590 */

/* mg of oxygen in a gas: ideal gas at 1 atm; trust A. A litre of air at 20 C holds 279 mg, not the 150 one
 * reads. */
double ab_oxygen_mg(double gas_l, double share, double t_c);
/* Share left after so many fills to gauge_kpa, each vented: share (1 atm/(1 atm + gauge))^n. Trust A for
 * still gas that mixes. */
double ab_purged_by_cycles(double share, double gauge_kpa, double cycles);
/* Share left after so many vessel volumes flowed through, perfectly mixed: share exp(-volumes). Trust A; gas
 * let in low and slowly does better. */
double ab_purged_by_flow(double share, double volumes);
/* Share in a vessel filled to the brim with liquid but for a pocket of air, then pushed empty with gas. Trust
 * A. */
double ab_purged_by_liquid(double pocket_l, double vessel_l);
/* Litres of CO2 at t_c, 1 atm that beer_l gives off when it ferments extract_gl g/L of real extract: Balling,
 * 0.46286 g/g. Trust A. */
double ab_fermentation_gas(double beer_l, double extract_gl, double t_c);

/* mg a day through a sheet (m2, mm) or along a tube (m, mm inner and outer diameter) from air into beer
 * without oxygen, for a permeability in cm3 mm/(m2 d atm): Fick and Henry at rest; trust A for the form, B to
 * C for the numbers put in. */
double ab_permeated_sheet(double permeability, double area_m2, double thick_mm);
double ab_permeated_tube(double permeability, double length_m, double inner_mm, double outer_mm);

/* Litres of air, at 20 C, that come in through an open airlock when beer_l under head_l of its own CO2 is
 * chilled: CO2 dissolves, gas shrinks, and air keeps up 1 atm. At equilibrium, so an upper bound: a closed
 * tank was seen to draw an eighth of the ideal in 40 h. Solubility: co2.h, fit E. 0 to 30 C, trust B. 0 when
 * it is warmed. */
double ab_crash_air(double beer_l, double head_l, double from_c, double to_c);

/* mL of empty neck for a fill height in mm below the rim. bottle: word of ab_words_bottle, 1 + place. A cone
 * from the bore (mm) that widens as it goes down, set so that a longneck filled to 57 mm is 18 mL short of
 * the brim (overflow against nominal volume, from memory): trust C, +-25 %. */
double ab_neck_ml(int bottle, double mm);
/* The usual size of such a bottle, L (common practice). */
double ab_bottle_litres(int bottle);
/* mL of oxygen a day (room temperature) through a closure; cap: word of ab_words_cap, 1 + place. Crowns with
 * PVC liner 0.002 mL/d (Wisk and Siebert 1987), 0.001 with better liners (MBAA Technical Quarterly 1990):
 * trust A; all others are estimates, trust C. */
struct ab_range ab_cap_ml_day(int cap);
/* Share of the oxygen over beer that the beer has taken up after days: 0.75 (1 - exp(-d/8.5)), through the
 * old head-space study in which neck air fell from 25 to 27 % oxygen to 12 % in 10 days at room temperature
 * and uptake ended at three quarters. Trust C elsewhere. */
double ab_oxygen_taken(double days);
/* All oxygen in a closed package over what a meter shows in the shaken beer: 1 + (head/beer)/K, K =
 * 0.03263 at 20 C. Trust A. */
double ab_package_ratio(double head_ml, double beer_ml);

#endif
