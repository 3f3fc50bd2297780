/* learn.c - what was promised, what came, and what to believe now
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/trend.h>

#include <assert.h>
#include <math.h>
#include <gsl/gsl_cdf.h>

struct ab_learned ab_trend_learn(double prior, double prior_sd, double data, double data_sd)
{
	double told = 1 / (prior_sd * prior_sd), seen = isinf(data_sd) ? 0 : 1 / (data_sd * data_sd);

	assert(prior_sd > 0 && data_sd > 0);
	return (struct ab_learned){ prior, prior_sd, data, data_sd,
		(told * prior + (seen > 0 ? seen * data : 0)) / (told + seen), 1 / sqrt(told + seen) };
}

/* The scatter of the difference is read off its 80 % interval, which is Student's t for so many batches: wide
 * for few, as it should be. */
bool ab_trend_learn_change(const struct ab_trend_change *c, double load_before, double load_after,
    struct ab_learned *out)
{
	double promised = load_before - load_after, sd = (c->high - c->low) / 2 / gsl_cdf_ugaussian_Pinv(0.9);

	if (isnan(c->p_better) || !(promised > 0) || !(sd > 0))
		return false;
	*out = ab_trend_learn(promised, promised, c->before - c->after, sd);
	return true;
}

bool ab_trend_held(const struct ab_learned *l)
{
	return fabs(l->data - l->prior) <=
	    gsl_cdf_ugaussian_Pinv(0.9) * sqrt(l->data_sd * l->data_sd + l->prior_sd * l->prior_sd);
}
