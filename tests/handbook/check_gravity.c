/* check_gravity.c - degrees Plato and SG 20/20 against printed tables
 *
 * Rows: the ASBC polynomial evaluated in double precision from the stated coefficients (tolerance 5e-4 P); a sugar
 * table hosted by the USDA, as quoted by brewers; NBS Circular C440 (1942), lb/gal in air at 20 C, from a
 * citrus-industry table after it; the closed form S = 1 + P/(258.6 - 227.1 P/258.2) known from mathematical text,
 * as a second formula. SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>

#define SIZE(a) ((int)(sizeof (a) / sizeof *(a)))

static const struct { double sg, plato; } polynomial[] = {
	{ 1.000, 0 },  /* -0.0030, clamped */
	{ 1.010, 2.5608 }, { 1.020, 5.0809 }, { 1.040, 9.9935 }, { 1.048, 11.9121 }, { 1.050, 12.3876 },
	{ 1.060, 14.7414 },
	{ 1.080, 19.3310 }, { 1.100, 23.7689 },
};

START_TEST(polynomial_rows)
{
	double p = ab_plato_from_sg(polynomial[_i].sg);
	ck_assert_msg(fabs(p - polynomial[_i].plato) < 5e-5, "SG %.3f: %.5f P, not %.4f", polynomial[_i].sg, p,
	    polynomial[_i].plato);
}
END_TEST

/* Printed to five decimals. */
static const struct { double plato, sg; } usda[] = {
	{ 8.4, 1.03344 }, { 8.5, 1.03385 }, { 8.8, 1.03508 }, { 8.9, 1.03549 },
};

START_TEST(usda_rows)
{
	double sg = ab_sg_from_plato(usda[_i].plato);
	ck_assert_msg(fabs(sg - usda[_i].sg) < 1.2e-5, "%.1f P: %.6f, not %.5f", usda[_i].plato, sg, usda[_i].sg);
}
END_TEST

/* lb/gal in air; the ratio to water's is the gravity but for a buoyancy term below the tolerance. */
static const struct { double brix, lb_gal; } c440[] = { { 4.0, 8.452 }, { 5.0, 8.486 } };
#define C440_WATER 8.322

START_TEST(c440_rows)
{
	double sg = ab_sg_from_plato(c440[_i].brix), table = c440[_i].lb_gal / C440_WATER;
	ck_assert_msg(fabs(sg - table) < 1e-4, "%.1f Bx: %.6f, not %.6f", c440[_i].brix, sg, table);
}
END_TEST

static const struct { double plato, closed, bisected; } inverse[] = {
	{ 2.5, 1.00975, 1.00976 }, { 5, 1.01967, 1.01968 }, { 10, 1.04003, 1.04003 }, { 12, 1.04838, 1.04837 },
	{ 15, 1.06112, 1.06111 }, { 20, 1.08298, 1.08297 }, { 25, 1.10566, 1.10567 },
};

START_TEST(inverse_rows)
{
	double p = inverse[_i].plato, sg = ab_sg_from_plato(p), closed = 1 + p / (258.6 - 227.1 * p / 258.2);
	ck_assert_msg(fabs(sg - inverse[_i].bisected) <= 5.1e-6, "%g P: %.7f, not %.5f", p, sg, inverse[_i].bisected);
	ck_assert_msg(fabs(closed - inverse[_i].closed) <= 5.1e-6, "closed form misprinted at %g P: %.7f", p, closed);
	ck_assert_msg(fabs(sg - closed) < 2e-5, "%g P: %.7f and %.7f", p, sg, closed);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("gravity");
	TCase *tc = tcase_create("gravity");
	tcase_add_loop_test(tc, polynomial_rows, 0, SIZE(polynomial));
	tcase_add_loop_test(tc, usda_rows, 0, SIZE(usda));
	tcase_add_loop_test(tc, c440_rows, 0, SIZE(c440));
	tcase_add_loop_test(tc, inverse_rows, 0, SIZE(inverse));
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
