/* check_traps.c - well-known wrong versions of formulas: each is worked beside ours, and ours must be the other one
 *
 * Lager kinetics of 1998 (an 8 to 14 C model that makes more alcohol at 20 C than its sugar allows) are not built
 * at all; what is, Balling's alcohol, is held to the sugar it came from.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <check.h>
#include <afterboil/heat.h>
#include <afterboil/quantity.h>
#include "process/co2.h"
#include "process/extract.h"
#include "process/oxygen_ways.h"
#include "process/storage.h"

/* Kell 1975 with the denominator's digits as printed, and as swapped in many copies. */
static double kell(double t, double denominator)
{
	return (999.83952 + 16.945176 * t - 7.9870401e-3 * t * t - 46.170461e-6 * pow(t,
	    3) + 105.56302e-9 * pow(t, 4) -
	    280.54253e-12 * pow(t, 5)) / (1 + denominator * t);
}

START_TEST(swapped_digits_of_kell)
{
	ck_assert_double_eq_tol(kell(20, 16.897850e-3), 997.94, 0.01);
	ck_assert_double_eq_tol(ab_water_density(20), 998.2041, 0.005);
	for (double t = 10; t <= 40; t += 5) {
		ck_assert_double_eq_tol(ab_water_density(t), kell(t, 16.879850e-3), 0.005);
		ck_assert_double_ge(ab_water_density(t) - kell(t, 16.897850e-3), 0.1);
	}
	/* a hydrometer of 20 C in wort of 30 C: 1.05243 by right, and the swapped digits move it by more than
	 * is allowed */
	double swapped = 1.050 * kell(20, 16.897850e-3) / kell(30, 16.897850e-3) * (1 - 25e-6 * 10);
	ck_assert_double_eq_tol(ab_hydrometer_correct(1.050, 30, 20), 1.05243, 2e-5);
	ck_assert_double_ge(fabs(swapped - 1.05243), 5e-5);
}
END_TEST

/* Gay-Lussac: 1 g of hexose makes at most 0.5111 g of ethanol; of maltose, with its water, 0.538. The lager
 * model run at 20 C made 57.5 g of 46. */
START_TEST(no_more_alcohol_than_sugar)
{
	for (double og = 1.020; og < 1.115; og += 0.005)
		for (double fg = 1.000; fg < og - 0.005; fg += 0.004) {
			double oe = ab_plato_from_sg(og), re = ab_extract_real(oe, ab_plato_from_sg(fg));
			double a = ab_alcohol_by_weight(oe, re);
			/* 100 g of wort lose what leaves as gas: extract used in g of the wort that 100 g of
			 * beer were */
			double wort = 100 + 1.0665 * a, used = wort * oe / 100 - re;
			ck_assert_double_le(a, 0.538 * used);
			ck_assert_double_ge(a, 0.44 * used);
		}
	ck_assert_double_gt(57.5 / 46, 0.538);
}
END_TEST

/* 586.2 to 652 kJ/kg of extract fermented (plants; Kunze 586.6); 1.217 kJ/g is free energy and twice that. */
START_TEST(doubled_heat)
{
	ck_assert_double_eq_tol(AB_HEAT_LOW, 0.586, 0.03);
	ck_assert_double_eq_tol(AB_HEAT_HIGH, 0.652, 0.03);
	ck_assert(AB_HEAT_LOW <= AB_HEAT_MID && AB_HEAT_MID <= AB_HEAT_HIGH);
	ck_assert_double_lt(AB_HEAT_HIGH, 1.217 / 1.5);
}
END_TEST

/* A polynomial in volumes and deg F that goes round: 51.0 psi for 4 volumes at 68 F where the ASBC fit says
 * 55.2: on the side that bursts. */
static double polynomial_psi(double vol, double f)
{
	return -16.6999 - 0.0101059 * f + 0.00116512 * f * f + 0.173354 * f * vol + 4.24267 * vol -
	    0.0684226 * vol * vol;
}

START_TEST(unsafe_pressure)
{
	ck_assert_double_eq_tol(polynomial_psi(4, 68), 51.0, 0.1);
	for (double vol = 2.5; vol <= 5; vol += 0.25)
		for (double f = 60; f <= 104; f += 4)
			ck_assert_double_ge(ab_co2_bottle_kpa(vol, (f - 32) / 1.8), polynomial_psi(vol,
			    f) * 6.894757);
	ck_assert_double_ge(ab_co2_bottle_kpa(4, 20) / 6.894757, 55.0);
}
END_TEST

/* "3 days at 32 C, 30 at 22, 300 at 3" is no law: it has Q10 = 10 between the warm two and 3.4 between the
 * cold two. Bamforth and Lentini 2009: two weeks at 30 C are 4, 8, 16 weeks at 20, 10, 0 C by Q10 2; 6, 18,
 * 54 by Q10 3. */
START_TEST(three_thirty_three_hundred)
{
	ck_assert_double_eq_tol(ab_equivalent_days(14, 30, 2), 28, 1e-9);
	ck_assert_double_eq_tol(ab_equivalent_days(14, 30, 2), ab_equivalent_days(56, 10, 2), 1e-9);
	ck_assert_double_eq_tol(ab_equivalent_days(14, 30, 3), ab_equivalent_days(54 * 7, 0, 3), 1e-9);
	ck_assert_double_eq_tol(ab_equivalent_days(14, 28, 2.2) + ab_equivalent_days(60, 4, 2.2), 43.30,
	    0.01);
	for (double q10 = 2; q10 <= 3; q10 += 0.1) {
		double warm = ab_equivalent_days(3, 32, q10), cool = ab_equivalent_days(30, 22, q10),
		    cold = ab_equivalent_days(300, 3, q10);
		ck_assert_double_gt(cool / warm, 2);
		ck_assert_double_gt(cold / warm, 3);
	}
}
END_TEST

/* Ideal gas: 1 L of air at 20 C holds 0.279 g of oxygen, not 0.15; 1 mL in 200 L is 1.4 ppb, not 100. */
START_TEST(oxygen_arithmetic)
{
	double litre = ab_oxygen_mg(1, AB_AIR_OXYGEN, 20);

	ck_assert_double_eq_tol(litre, 31.998 * 0.20946 * 101.325 / (8.314462 * 293.15) * 1000, 0.1);
	ck_assert_double_eq_tol(litre, 278.6, 0.1);
	ck_assert_double_gt(litre, 1.5 * 150);
	ck_assert_double_eq_tol(1000 * litre / 1000 / 200, 1.39, 0.01);
}
END_TEST

/* 1 Barrer = 65.66 cm3(STP) mm/(m2 d atm), from its definition; a lecture note's 846 mL mm/(cm2 d bar) would
 * be ten million of that unit. */
START_TEST(wrong_barrer)
{
	ck_assert_double_eq_tol(1e-10 * 10 * 1e4 * 86400 * 76, AB_BARRER, 0.01);
	double silicone = ab_permeated_tube(600 * AB_BARRER, 1, 9.5, 12.7) / 24;
	ck_assert_double_eq_tol(silicone, 10.63, 0.11);
	ck_assert_double_gt(ab_permeated_tube(600 * 846 * 1e4, 1, 9.5, 12.7) / 24, 1000 * silicone);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("traps");
	TCase *t = tcase_create("traps");
	SRunner *sr = srunner_create(s);

	tcase_add_test(t, swapped_digits_of_kell);
	tcase_add_test(t, no_more_alcohol_than_sugar);
	tcase_add_test(t, doubled_heat);
	tcase_add_test(t, unsafe_pressure);
	tcase_add_test(t, three_thirty_three_hundred);
	tcase_add_test(t, oxygen_arithmetic);
	tcase_add_test(t, wrong_barrer);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
