/* check_stats.c - the few statistics of trend: known answers, edges, and what must hold of any numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "trend/stats.h"

/* ---- two means ---- */

static const struct { const char *title; double a[4]; size_t na; double b[4]; size_t nb; double floor_sd, p,
    low, high; } means[] = {
	/* by hand: means 4 and 2, scatter 1 with 4 degrees, scale sqrt(2/3); t = 2.449490, P = 0.964758; t_0.9 =
	 * 1.533206 */
	{ "two and two apart", { 3, 4, 5 }, 3, { 1, 2, 3 }, 3, 0, 0.964758, 2 - 1.533206 * 0.8164966,
	    2 + 1.533206 * 0.8164966 },
	{ "the other way round", { 1, 2, 3 }, 3, { 3, 4, 5 }, 3, 0, 1 - 0.964758, -2 - 1.533206 * 0.8164966,
	    -2 + 1.533206 * 0.8164966 },
	{ "a floor below the scatter changes nothing", { 3, 4, 5 }, 3, { 1, 2, 3 }, 3, 0.9, 0.964758,
	    2 - 1.533206 * 0.8164966, 2 + 1.533206 * 0.8164966 },
	/* scatter 2 instead of 1: t = 1.224745, P = 0.856068 */
	{ "a floor above it counts", { 3, 4, 5 }, 3, { 1, 2, 3 }, 3, 2, 0.856068, 2 - 1.533206 * 1.6329932,
	    2 + 1.533206 * 1.6329932 },
	{ "no difference", { 1, 3, 0 }, 2, { 1, 3, 0 }, 2, 0, 0.5, -1.885618 * 1.4142136, 1.885618 * 1.4142136 },
	{ "no scatter at all, better", { 4, 4, 0 }, 2, { 1, 0, 0 }, 1, 0, 1, 3, 3 },
	{ "no scatter at all, worse", { 1, 1, 0 }, 2, { 4, 0, 0 }, 1, 0, 0, -3, -3 },
	{ "no scatter, no difference", { 1, 1, 0 }, 2, { 1, 0, 0 }, 1, 0, 0.5, 0, 0 },
	{ "nothing before", { 0 }, 0, { 1, 2, 3 }, 3, 1, NAN, NAN, NAN },
	{ "nothing after", { 1, 2, 3 }, 3, { 0 }, 0, 1, NAN, NAN, NAN },
	{ "one and one", { 1 }, 1, { 2 }, 1, 1, NAN, NAN, NAN },
};

static bool near(double got, double want, double tolerance)
{
	return isnan(want) ? isnan(got) : fabs(got - want) <= tolerance;
}

START_TEST(two_means)
{
	double p, low, high;

	ab_trend_two_means(means[_i].a, means[_i].na, means[_i].b, means[_i].nb, means[_i].floor_sd, &p, &low, &high);
	ck_assert_msg(
	    near(p, means[_i].p, 1e-6) && near(low, means[_i].low, 1e-5) && near(high, means[_i].high, 1e-5),
	    "%s: %g, %g to %g", means[_i].title, p, low, high);
	ab_trend_two_means(means[_i].a, means[_i].na, means[_i].b, means[_i].nb, means[_i].floor_sd, NULL, NULL, NULL);
}
END_TEST

/* ---- two shares ---- */

/* P(y < x) for whole numbers has a closed sum: of Beta(a1, a2) over Beta(b1, b2), sum over i < a1 of
 * B(b1 + i, a2 + b2) / ((a2 + i) B(1 + i, a2) B(b1, b2)), the chance that x is the greater with the two swapped. */
static double closed(int a1, int a2, int b1, int b2)
{
	double sum = 0;

	for (int i = 0; i < a1; i++)
		sum += exp(lgamma(b1 + i) + lgamma(a2 + b2) - lgamma(b1 + i + a2 + b2) - log(a2 + i) -
		    (lgamma(1 + i) + lgamma(a2) - lgamma(1 + i + a2)) -
		    (lgamma(b1) + lgamma(b2) - lgamma(b1 + b2)));
	return sum;
}

static const struct { int a1, a2, b1, b2; double want; } betas[] = {
	{ 9, 3, 4, 8, 0.985013 },   /* flat priors, 8 of 10 against 3 of 10 */
	{ 4, 8, 9, 3, 1 - 0.985013 }, { 1, 1, 1, 1, 0.5 }, { 2, 1, 1, 2, 5.0 / 6 }, { 1, 11, 4, 8, NAN },
	{ 30, 12, 22, 20, NAN },
};

START_TEST(two_betas)
{
	double got = stats_beta_below(betas[_i].a1, betas[_i].a2, betas[_i].b1, betas[_i].b2);

	ck_assert_double_eq_tol(got, closed(betas[_i].a1, betas[_i].a2, betas[_i].b1, betas[_i].b2), 1e-9);
	if (!isnan(betas[_i].want))
		ck_assert_double_eq_tol(got, betas[_i].want, 1e-6);
}
END_TEST

/* scipy 1.10: beta.cdf(beta.ppf(u, a1, a2), b1, b2) over u from 0 to 1 by quad, at 1e-10 */
static const struct { double a1, a2, b1, b2, want, tol; } steep[] = {
	{ 0.4, 0.4, 0.4, 0.4, 0.5, 1e-9 }, { 100, 0.4, 50, 0.4, 0.5931198588, 1e-9 },
	{ 0.4, 3, 0.45, 2, 0.4050478849, 1e-9 },
	{ 0.4, 12, 2, 8, 0.0607128240, 1e-9 }, { 0.5, 0.5, 0.5, 3.5, 0.8062151328, 1e-9 },
};

START_TEST(steep_betas)
{
	ck_assert_double_eq_tol(stats_beta_below(steep[_i].a1, steep[_i].a2, steep[_i].b1, steep[_i].b2),
	    steep[_i].want, steep[_i].tol);
}
END_TEST

/* B lies where A hardly ever does: of a flat A and a B of density n x^(n-1) the chance is 1 / (n + 1), exactly; of
 * A of density k (1-x)^(k-1) it is k B(k, n + 1) = k! n! / (n + k)!. */
static const struct { double a1, a2, b1, b2, want; } apart[] = {
	{ 1, 1, 40, 1, 1.0 / 41 }, { 1, 1, 3000, 1, 1.0 / 3001 }, { 1, 1, 100000, 1, 1.0 / 100001 },
	{ 1, 2, 3000, 1, 2.0 / (3001.0 * 3002) },
	{ 1, 1, 1, 3000, 3000.0 / 3001 },
};

START_TEST(betas_apart)
{
	double got = stats_beta_below(apart[_i].a1, apart[_i].a2, apart[_i].b1, apart[_i].b2);

	ck_assert_double_eq_tol(got, apart[_i].want, 1e-9);
	ck_assert_double_eq_tol(got / apart[_i].want, 1, 1e-3);
}
END_TEST

/* More questions than there is room for, each asked twice, near and far apart. */
START_TEST(asked_again)
{
	static struct stats_asked asked;

	for (int round = 0; round < 2; round++)
		for (int i = 0; i < 3 * STATS_ASKED / 2; i++)
			for (int twice = 0; twice < 2; twice++) {
				double got = stats_beta_below_again(&asked, 0.5 + i % 7, 0.5 + i, 1.5, 0.5 + i % 3);

				ck_assert(!(got < stats_beta_below(0.5 + i % 7, 0.5 + i, 1.5, 0.5 + i % 3)));
				ck_assert(!(got > stats_beta_below(0.5 + i % 7, 0.5 + i, 1.5, 0.5 + i % 3)));
			}
	ck_assert_uint_eq(asked.n, 3 * STATS_ASKED);   /* each once a round, and once only */
	ck_assert_double_eq(stats_two_shares_again(&asked, 2, 2, 0, 3), ab_trend_two_shares(2, 2, 0, 3));
	/* as many as there is room for are all remembered */
	asked.n = 0;
	for (int i = 0; i < 2 * STATS_ASKED; i++)
		stats_beta_below_again(&asked, 0.5 + i % STATS_ASKED, 1.5, 0.5, 2.5);
	ck_assert_uint_eq(asked.n, STATS_ASKED);
}
END_TEST

START_TEST(shares_mirror)
{
	for (size_t na = 1; na <= 12; na += 3)
		for (size_t nb = 1; nb <= 12; nb += 4)
			for (size_t a = 0; a <= na; a++)
				for (size_t b = 0; b <= nb; b++) {
					double p = ab_trend_two_shares(a, na, b, nb);

					ck_assert_double_eq_tol(p + ab_trend_two_shares(b, nb, a, na), 1, 2e-9);
					ck_assert_double_eq_tol(p, ab_trend_two_shares(nb - b, nb, na - a, na), 2e-9);
					ck_assert(b == nb || p > ab_trend_two_shares(a, na, b + 1, nb));
				}
	ck_assert_double_eq_tol(ab_trend_two_shares(0, 0, 0, 0), 0.5, 1e-10);   /* no batch on either side */
}
END_TEST

/* ---- Fisher ---- */

static const struct { size_t t[4]; double p; } fishers[] = {
	{ { 3, 1, 1, 3 }, 0.485714 },    /* the lady tasting tea: Fisher, The Design of Experiments, 1935 */
	{ { 8, 2, 1, 5 }, 0.034965 }, { { 1, 9, 11, 3 }, 0.002759 }, { { 3, 9, 9, 3 }, 0.039126 },
	{ { 4, 0, 0, 4 }, 2.0 / 70 },    /* the least that four against four can give */
	{ { 0, 0, 0, 0 }, 1 }, { { 5, 0, 5, 0 }, 1 }, { { 0, 3, 0, 4 }, 1 }, { { 1, 0, 0, 1 }, 1 },
	{ { 2, 2, 2, 2 }, 1 },
};

START_TEST(fisher)
{
	const size_t *t = fishers[_i].t;

	ck_assert_double_eq_tol(ab_fisher(t[0], t[1], t[2], t[3]), fishers[_i].p, 1e-6);
	ck_assert_double_eq_tol(ab_fisher(t[2], t[3], t[0], t[1]), fishers[_i].p, 1e-6); /* rows, columns, and both
											    the other way */
	ck_assert_double_eq_tol(ab_fisher(t[1], t[0], t[3], t[2]), fishers[_i].p, 1e-6);
	ck_assert_double_eq_tol(ab_fisher(t[0], t[2], t[1], t[3]), fishers[_i].p, 1e-6);
}
END_TEST

static const struct { size_t with, bad, n; double p; } leasts[] = {
	{ 4, 4, 8, 2.0 / 70 }, { 1, 4, 8, 1 }, { 2, 4, 8, 2 * 6.0 / 28 }, { 3, 3, 6, 2.0 / 20 }, { 0, 4, 8, 1 },
	{ 8, 4, 8, 1 },
};

START_TEST(least_fisher)
{
	ck_assert_double_eq_tol(stats_least_fisher(leasts[_i].with, leasts[_i].bad, leasts[_i].n), leasts[_i].p, 1e-9);
}
END_TEST

/* ---- slope ---- */

static const struct { const char *title; double y[8]; size_t n; double slope, low, high; } slopes[] = {
	{ "a straight line", { 9, 8, 7, 6, 5 }, 5, -1, -1, -1 },
	{ "level", { 2, 2, 2, 2 }, 4, 0, 0, 0 },
	/* slopes 1, 1, 1, 1, 9/4, 7/3, 3, 6, ...: one wild batch moves little */
	{ "one outlier", { 1, 2, 3, 4, 50, 6, 7, 8 }, 8, 1, NAN, NAN },
	{ "too few", { 1, 2, 3 }, 3, NAN, NAN, NAN }, { "none", { 0 }, 0, NAN, NAN, NAN },
};

START_TEST(slope)
{
	double scratch[64], middle, low, high;

	stats_theil_sen(slopes[_i].y, slopes[_i].n, scratch, &middle, &low, &high);
	ck_assert_msg(near(middle, slopes[_i].slope, 1e-12), "%s: %g", slopes[_i].title, middle);
	if (!isnan(slopes[_i].low) || isnan(slopes[_i].slope))
		ck_assert_msg(near(low, slopes[_i].low, 1e-12) && near(high, slopes[_i].high, 1e-12),
		    "%s: %g to %g", slopes[_i].title, low, high);
}
END_TEST

/* Turned upside down or read backwards the interval turns with it. */
START_TEST(slope_mirrors)
{
	double y[12], up[12], back[12], scratch[80], s[3], u[3], b[3];

	srand(5);
	for (int round = 0; round < 50; round++) {
		for (int i = 0; i < 12; i++)
			y[i] = rand() % 100;
		for (int i = 0; i < 12; i++) {
			up[i] = -y[i];
			back[i] = y[11 - i];
		}
		stats_theil_sen(y, 12, scratch, &s[0], &s[1], &s[2]);
		stats_theil_sen(up, 12, scratch, &u[0], &u[1], &u[2]);
		stats_theil_sen(back, 12, scratch, &b[0], &b[1], &b[2]);
		ck_assert_double_eq_tol(s[0], -u[0], 1e-12);
		ck_assert_double_eq_tol(s[1], -u[2], 1e-12);
		ck_assert_double_eq_tol(s[2], -u[1], 1e-12);
		ck_assert_double_eq_tol(s[1], -b[2], 1e-12);
		ck_assert(s[1] <= s[0] && s[0] <= s[2]);
	}
}
END_TEST

/* ---- how many more ---- */

/* By R's noncentral t: the fewest n with 1 - pt(qt(0.9, before + n - 2), before + n - 2, apart / sqrt(1 / before +
 * 1 / n)) >= 0.8. */
static const struct { const char *title; double difference, sd; size_t before, after, more; } needs[] = {
	{ "as many as before", 1, 1, 10, 0, 10 }, { "two are there already", 1, 1, 10, 2, 8 },
	{ "just enough", 1, 1, 10, 10, 0 }, { "one short", 1, 1, 10, 9, 1 },
	{ "more than enough", 1, 1, 10, 30, 0 }, { "a large difference needs one", 5, 1, 10, 0, 1 },
	{ "with so few before never", 1, 1, 4, 0, SIZE_MAX }, { "just above never", 1, 1, 5, 0, 54 },
	{ "none before", 1, 1, 0, 3, SIZE_MAX }, { "no difference", 0, 1, 10, 0, SIZE_MAX },
	{ "worse", -1, 1, 10, 0, SIZE_MAX },
	{ "no scatter", 1, 0, 10, 0, SIZE_MAX }, { "not known", NAN, 1, 10, 0, SIZE_MAX },
	{ "endlessly many", 1e-9, 1, 10, 0, SIZE_MAX },
};

START_TEST(more_needed)
{
	size_t got = stats_more_needed(needs[_i].difference, needs[_i].sd, needs[_i].before, needs[_i].after);

	ck_assert_msg(got == needs[_i].more, "%s: %zu", needs[_i].title, got);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("stats");
	TCase *tc = tcase_create("stats");
	tcase_set_timeout(tc, 60);   /* quadrature by the thousand, on a busy machine */
	tcase_add_loop_test(tc, two_means, 0, sizeof means / sizeof *means);
	tcase_add_loop_test(tc, two_betas, 0, sizeof betas / sizeof *betas);
	tcase_add_loop_test(tc, steep_betas, 0, sizeof steep / sizeof *steep);
	tcase_add_loop_test(tc, betas_apart, 0, sizeof apart / sizeof *apart);
	tcase_add_test(tc, shares_mirror);
	tcase_add_test(tc, asked_again);
	tcase_add_loop_test(tc, fisher, 0, sizeof fishers / sizeof *fishers);
	tcase_add_loop_test(tc, least_fisher, 0, sizeof leasts / sizeof *leasts);
	tcase_add_loop_test(tc, slope, 0, sizeof slopes / sizeof *slopes);
	tcase_add_test(tc, slope_mirrors);
	tcase_add_loop_test(tc, more_needed, 0, sizeof needs / sizeof *needs);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
