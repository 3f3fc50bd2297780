/* needed.c - how many batches would settle whether a change helped
 *
 * Power of the one-sided Student test with one pooled scatter, by the noncentral t distribution: Johnson, Kotz &
 * Balakrishnan, Continuous Univariate Distributions 2 (1995), ch. 31. By a normal approximation, which takes the
 * scatter as known, the few batches of a home brewer would promise 80 % and keep as little as 55 %.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/stats.h"

#include <assert.h>
#include <math.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>

/* Seen: the chance of lighter, 90 % and more. Asked for: 80 % of such trials see it. Above NEVER batches it is
 * honest to say "cannot be told". */
static const double SEEN = 0.9, POWER = 0.8;
enum { STEPS = 256, NEVER = 10000 };

/* Density of s = found scatter / true one with so many degrees of freedom (a chi variable over its root). */
static double scatter_density(double s, double freedom)
{
	double scale = log(2) + freedom / 2 * log(freedom / 2) - gsl_sf_lngamma(freedom / 2);

	if (s <= 0)
		return freedom > 1 ? 0 : exp(scale);
	return exp(scale + (freedom - 1) * log(s) - freedom * s * s / 2);
}

/* P(t > its 90 % point) when the means are apart by so many standard deviations: the normal chance at each scatter
 * one might find, by Simpson's rule. */
double stats_power(double apart, size_t n_before, size_t n_after)
{
	double nb = (double)n_before, na = (double)n_after, freedom = nb + na - 2, sum = 0;

	if (n_before == 0 || n_after == 0 || freedom < 1)
		return 0;
	double shift = apart / sqrt(1 / nb + 1 / na), point = gsl_cdf_tdist_Pinv(SEEN, freedom);
	double reach = 10 / sqrt(2 * freedom), from = fmax(0, 1 - reach), step = (1 + reach - from) / STEPS;
	for (int i = 0; i <= STEPS; i++) {
		double s = from + i * step, weight = i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2;
		sum += weight * scatter_density(s, freedom) * gsl_cdf_ugaussian_P(shift - point * s);
	}
	return sum * step / 3;
}

/* The fewest after, by halving: power grows with them. */
size_t stats_more_needed(double difference, double sd, size_t n_before, size_t n_after)
{
	size_t low = 0, high = NEVER;   /* low is too few, high enough */

	if (!(difference > 0) || !(sd > 0) || n_before == 0 || stats_power(difference / sd, n_before, high) < POWER)
		return SIZE_MAX;
	while (high - low > 1) {
		size_t middle = low + (high - low) / 2;
		if (stats_power(difference / sd, n_before, middle) < POWER)
			low = middle;
		else
			high = middle;
	}
	assert(high > 0);
	return high <= n_after ? 0 : high - n_after;
}
