/* check_growth.c - bacteria of the wort before the yeast, and pasteurisation units
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/growth.h>
#include "process/slots.h"

START_TEST(rates)
{
	ck_assert_double_eq_tol(ab_growth_rate(3), 0, 1e-15);
	ck_assert_double_eq_tol(ab_growth_rate(-5), 0, 1e-15);
	ck_assert_double_eq_tol(ab_growth_rate(60), 0, 1e-15);
	ck_assert(isinf(ab_growth_doubling_h(2)));
	ck_assert_double_eq_tol(ab_growth_doublings(25, 7), 7, 0.01);
	for (double t = 3; t < 44; t += 0.5)
		ck_assert(ab_growth_rate(t + 0.5) > ab_growth_rate(t));
}
END_TEST

/* Cooling is a sum of moments; what is hot or cold adds nothing; longer never less. */
START_TEST(cooling)
{
	double sum = 0, t = 100, dt = 0.001, before = 0;

	for (double h = 0; h < 20; h += dt, t -= (t - 20) / 6 * dt)
		sum += dt / ab_growth_doubling_h(t);
	ck_assert_double_eq_tol(ab_growth_cooling(100, 20, 6, 20), sum, 0.002 * sum);
	/* 6 h x ln(80/25) = 7 h until it is below 45 C */
	ck_assert_double_eq_tol(ab_growth_cooling(100, 20, 6, 6), 0, 1e-12);
	for (double h = 1; h < 40; h++) {
		double now = ab_growth_cooling(100, 20, 6, h);
		ck_assert_msg(now >= before, "%g h", h);
		before = now;
	}
}
END_TEST

START_TEST(pasteur)
{
	ck_assert_double_eq_tol(ab_pasteur_units(60, 1), 1, 1e-12);
	ck_assert_double_eq_tol(ab_pasteur_units(60, 0), 0, 1e-15);
	/* ten times as much for every 1/log10(1.393) K */
	ck_assert_double_eq_tol(ab_pasteur_units(60 + 6.9470, 1), 10, 2e-3);
}
END_TEST

#define PITCH(t) "<pitch at='2031-03-01T18:00' temp='" t " C'/>"
/* 20 C: (0.03784 x 17)^2/ln 2 = 0.59699 doublings an hour */
static const struct fact_row rows[] = {
	{ .title = "lag", PITCH("20") "<lag first-signs='12 h'/>", "pitch.doublings-before-yeast", 12 * 0.59699,
	    0.001, NULL, AB_ORIGIN_DERIVED },
	{ .title = "half an hour of chilling is hot",
	    PITCH("20") "<chill method='coil' to-pitch='1 h'/><lag first-signs='12 h'/>",
	  "pitch.doublings-before-yeast", 12.5 * 0.59699, 0.001 },
	{ .title = "quick", PITCH("20") "<chill method='coil' to-pitch='20 min'/><lag first-signs='12 h'/>",
	    "pitch.doublings-before-yeast",
	  12 * 0.59699, 0.001 },
	{ .title = "colder is slower", PITCH("10") "<lag first-signs='24 h'/>", "pitch.doublings-before-yeast",
	    24 / 9.88, 0.01 },
	/* 20 h from 100 C towards 20, of which 13 h below 45 C (20.93 doublings, summed as in cooling below),
	 * then 12 h of lag */
	{ .title = "left overnight",
	    PITCH("20") "<chill method='overnight-closed' to-pitch='20 h'/><lag first-signs='12 h'/>",
	  "pitch.doublings-before-yeast", 12 * 0.59699 + 20.93, 0.05 },
	/* with 3.5 h in place of 6 it is below 45 C after 4 h: 12.476 doublings by the same sum */
	{ .title = "in the open air", PITCH("20") "<chill method='air' to-pitch='12 h'/><lag first-signs='12 h'/>",
	  "pitch.doublings-before-yeast", 12 * 0.59699 + 12.476, 0.05 },
	{ .title = "as it left the chiller", "<chill method='coil' end-temp='10 C'/><lag first-signs='24 h'/>",
	    "pitch.doublings-before-yeast",
	  24 / 9.88, 0.01 },
	{ .title = "as it fermented",
	    "<yeast class='lager'/><reading at='+6h' wort='10 C'/><reading at='+30h' wort='10 C'/>"
	  "<reading at='+60h' wort='10 C'/><lag first-signs='24 h'/>", "pitch.doublings-before-yeast",
	  24 / 9.88, 0.01 },
	{ .title = "warmth not told: 20 C", "<lag first-signs='12 h'/>", "pitch.doublings-before-yeast",
	    12 * 0.59699, 0.001 },
	{ .title = "no lag, no word", PITCH("20") "<chill method='overnight-closed' to-pitch='20 h'/>",
	    "pitch.doublings-before-yeast", AB_SILENT },
};

int main(void)
{
	TCase *tc = tcase_create("growth");
	tcase_add_test(tc, rates);
	tcase_add_test(tc, cooling);
	tcase_add_test(tc, pasteur);
	return fact_rows_run("growth", rows, sizeof rows / sizeof *rows, tc);
}
