/* stats.c - the few statistics a brewer's dozen batches can bear
 *
 * Sources: two means, Box & Tiao, Bayesian Inference in Statistical Analysis (1973), 2.5; Jeffreys' Beta(1/2,
 * 1/2) prior for shares; Fisher's exact test (two-sided: all tables at most as probable). Distributions and
 * quadrature are GSL's; checked against R in tests/handbook.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/stats.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sort.h>

double stats_mean(const double *x, size_t n)
{
	double sum = 0;

	for (size_t i = 0; i < n; i++)
		sum += x[i];
	return n > 0 ? sum / (double)n : NAN;
}

static double squares_about(const double *x, size_t n, double mean)
{
	double sum = 0;

	for (size_t i = 0; i < n; i++)
		sum += (x[i] - mean) * (x[i] - mean);
	return sum;
}

/* Pooled: few batches on each side, and no reason why a change should alter how much tasters disagree.
 * The floor keeps two batches that happened to score alike from proving anything. */
double stats_scatter(const double *a, size_t na, const double *b, size_t nb, double floor_sd)
{
	double squares = squares_about(a, na, stats_mean(a, na)) + squares_about(b, nb, stats_mean(b, nb));

	return fmax(floor_sd, sqrt(squares / (double)(na + nb - 2)));
}

static void set(double *p, double v)
{
	if (p != NULL)
		*p = v;
}

/* Student's t with a flat prior: P(mean of b is below mean of a). 80 % limits, as everywhere in the
 * trend. */
void ab_trend_two_means(const double *a, size_t na, const double *b, size_t nb, double floor_sd,
    double *p_less, double *low, double *high)
{
	double ma, mb, scale, freedom, reach;

	set(p_less, NAN);
	set(low, NAN);
	set(high, NAN);
	if (na == 0 || nb == 0 || na + nb < 3)
		return;
	ma = stats_mean(a, na);
	mb = stats_mean(b, nb);
	freedom = (double)(na + nb - 2);
	scale = stats_scatter(a, na, b, nb, floor_sd) * sqrt(1 / (double)na + 1 / (double)nb);
	if (!(scale > 0)) {   /* no scatter at all and none assumed: the difference is what it is */
		set(p_less, mb < ma ? 1 : mb > ma ? 0 : 0.5);
		set(low, ma - mb);
		set(high, ma - mb);
		return;
	}
	reach = scale * gsl_cdf_tdist_Pinv(0.9, freedom);
	set(p_less, gsl_cdf_tdist_P((ma - mb) / scale, freedom));
	set(low, ma - mb - reach);
	set(high, ma - mb + reach);
}

/* ---- two shares ---- */

struct shares { double a1, a2, b1, b2, ln_beta; };   /* ln_beta: of a1 and a2 */

/* With x = 1 / (1 + e^-u): A's density at u, and the chance that B lies below. */
static double density(const struct shares *s, double u)
{
	return exp(-s->a1 * log1p(exp(-u)) - s->a2 * log1p(exp(u)) - s->ln_beta);
}

static double below(const struct shares *s, double u)
{
	return gsl_cdf_beta_P(1 / (1 + exp(-u)), s->b1, s->b2);
}

/* From the mode of A outward, until there is no more to come: upward as long as A has something to give, for B may
 * begin far above where A is likely; downward both only fall. */
static double outward(const struct shares *s, double from, double step)
{
	static const double none = 1e-15;
	double sum = 0, u = from, most;

	do {
		u += step;
		double gives = density(s, u), x = gives * below(s, u);
		sum += x;
		most = step > 0 ? gives : x;
	} while (most > none * fabs(step));
	return sum;
}

/* In the logit both are bells without ends, smooth in a strip of pi on either side of the axis: there equal steps
 * alone converge as fast as anything does (Trefethen and Weideman 2014, SIAM Review 56:385). A step is three
 * quarters of the spread of both taken together, for which 1/a1 + 1/a2 stands: the variance of a logit is no less.
 */
double stats_beta_below(double a1, double a2, double b1, double b2)
{
	gsl_error_handler_t *old = gsl_set_error_handler_off();
	struct shares s = { a1, a2, b1, b2, gsl_sf_lnbeta(a1, a2) };
	double spread = 1 / sqrt(1 / (1 / a1 + 1 / a2) + 1 / (1 / b1 + 1 / b2)), step = fmin(0.5, 0.75 * spread),
	       mode = log(a1 / a2);
	double sum = density(&s, mode) * below(&s, mode) + outward(&s, mode, step) + outward(&s, mode, -step);

	gsl_set_error_handler(old);
	return fmin(fmax(sum * step, 0), 1);
}

/* When the room is full the oldest answer makes place. */
double stats_beta_below_again(struct stats_asked *asked, double a1, double a2, double b1, double b2)
{
	const double of[4] = { a1, a2, b1, b2 };
	size_t known = asked->n < STATS_ASKED ? asked->n : STATS_ASKED, at = asked->n % STATS_ASKED;

	for (size_t i = 0; i < known; i++)
		if (memcmp(asked->at[i].of, of, sizeof of) == 0)
			return asked->at[i].p;
	memcpy(asked->at[at].of, of, sizeof of);
	asked->at[at].p = stats_beta_below(a1, a2, b1, b2);
	asked->n++;
	return asked->at[at].p;
}

/* Jeffreys' prior, a half of each: 0 of 3 is then no proof of never. */
double stats_two_shares_again(struct stats_asked *asked, size_t with_a, size_t na, size_t with_b, size_t nb)
{
	assert(with_a <= na && with_b <= nb);
	return stats_beta_below_again(asked, (double)with_a + 0.5, (double)(na - with_a) + 0.5, (double)with_b + 0.5,
	    (double)(nb - with_b) + 0.5);
}

double ab_trend_two_shares(size_t with_a, size_t na, size_t with_b, size_t nb)
{
	struct stats_asked none = { .n = 0 };

	return stats_two_shares_again(&none, with_a, na, with_b, nb);
}

/* ---- Fisher ---- */

/* Two-sided: the sum over all tables no more probable than the one seen. */
double ab_fisher(size_t a, size_t b, size_t c, size_t d)
{
	unsigned row = (unsigned)(a + b), rest = (unsigned)(c + d), column = (unsigned)(a + c);
	double observed, p = 0;

	if (row + rest == 0)
		return 1;
	observed = gsl_ran_hypergeometric_pdf((unsigned)a, row, rest, column);
	for (unsigned x = column > rest ? column - rest : 0; x <= row && x <= column; x++) {
		double q = gsl_ran_hypergeometric_pdf(x, row, rest, column);

		if (q <= observed * (1 + 1e-7))   /* the tolerance R's fisher.test uses */
			p += q;
	}
	return p < 1 ? p : 1;
}

double stats_least_fisher(size_t with, size_t bad, size_t n)
{
	unsigned column = (unsigned)with, row = (unsigned)bad, rest = (unsigned)(n - bad);
	double least = 1;

	/* the least probable table of all is at one of the ends, for the probabilities have one hill */
	const unsigned ends[] = { column > rest ? column - rest : 0, column < row ? column : row };

	for (int i = 0; i < 2; i++)
		least = fmin(least, ab_fisher(ends[i], row - ends[i], column - ends[i],
		    rest - (column - ends[i])));
	return least;
}

/* ---- slope ---- */

void stats_sort(double *x, size_t n)
{
	gsl_sort(x, 1, n);
}

double stats_median_sorted(const double *x, size_t n)
{
	return n == 0 ? NAN : n % 2 ? x[n / 2] : (x[n / 2 - 1] + x[n / 2]) / 2;
}

/* The median of all slopes: one spoiled batch in three does not tilt it, as it would a least-squares
 * line. */
void stats_theil_sen(const double *y, size_t n, double *slopes, double *slope, double *low, double *high)
{
	size_t m = 0;
	double reach;

	*slope = *low = *high = NAN;
	if (n < 4)
		return;
	for (size_t i = 0; i < n; i++)
		for (size_t j = i + 1; j < n; j++)
			slopes[m++] = (y[j] - y[i]) / (double)(j - i);
	stats_sort(slopes, m);
	*slope = stats_median_sorted(slopes, m);
	/* Sen 1968: the limits have ranks M1 and M2 + 1 from below, M = (m -+ reach) / 2, reach from the
	 * variance of Kendall's S; 80 % */
	reach = gsl_cdf_ugaussian_Pinv(0.9) * sqrt((double)(n * (n - 1) * (2 * n + 5)) / 18);
	assert(m == n * (n - 1) / 2);
	*low = slopes[(size_t)fmax(0, floor(((double)m - reach) / 2) - 1)];
	*high = slopes[(size_t)fmin((double)m - 1, ceil(((double)m + reach) / 2))];
}
