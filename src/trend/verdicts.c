/* verdicts.c - variance of verdicts within and between batches, by restricted maximum likelihood
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/verdicts.h>

#include <math.h>
#include <stdint.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_min.h>
#include <afterboil/trend.h>

enum { STEPS = 160, ITERATIONS = 200 };
static const double LOG_LEAST = -12, LOG_MOST = 12;   /* of between^2 / noise^2 */

void ab_verdict_slots(const struct ab_fact_table *facts, int *slots)
{
	static const char *const names[AB_VERDICT_FACTS] = { "taste.scores", "taste.score", "taste.score-spread" };

	for (int i = 0; i < AB_VERDICT_FACTS; i++)
		slots[i] = ab_fact_slot(facts, names[i]);
}

struct layout { const struct ab_verdict_group *groups; size_t n; double within; size_t verdicts; };

/* For a given ratio of variances the rest has a closed form: the mean weighs batches by n / (1 + n ratio), the
 * noise takes its share of what is left. */
static double deviance(const struct layout *l, double ratio, double *mean, double *noise)
{
	double weights = 0, sum = 0, logs = 0, squares = l->within;

	for (size_t i = 0; i < l->n; i++) {
		double n = (double)l->groups[i].n, w = n / (1 + n * ratio);

		weights += w;
		sum += n > 0 ? w * l->groups[i].mean : 0;
		logs += log1p(n * ratio);
	}
	*mean = sum / weights;
	for (size_t i = 0; i < l->n; i++) {
		double n = (double)l->groups[i].n, off = n > 0 ? l->groups[i].mean - *mean : 0;

		squares += n / (1 + n * ratio) * off * off;
	}
	*noise = sqrt(squares / (double)(l->verdicts - 1));
	return logs + log(weights) + (double)(l->verdicts - 1) * log(squares);
}

static double at_log(double x, void *layout)
{
	double mean, noise;

	return deviance(layout, exp(x), &mean, &noise);
}

/* A coarse walk first: the deviance of unequal groups may have two valleys. Then Brent's method in the deepest. */
static double best_ratio(const struct layout *l)
{
	double step = (LOG_MOST - LOG_LEAST) / STEPS, best = LOG_LEAST, mean, noise;
	gsl_function f = { at_log, (void *)(uintptr_t)l };
	gsl_error_handler_t *old;
	gsl_min_fminimizer *s;

	for (int i = 1; i <= STEPS; i++)
		if (at_log(LOG_LEAST + i * step, f.params) < at_log(best, f.params))
			best = LOG_LEAST + i * step;
	if (deviance(l, 0, &mean, &noise) <= at_log(best, f.params))
		return 0;
	old = gsl_set_error_handler_off();
	s = gsl_min_fminimizer_alloc(gsl_min_fminimizer_brent);
	if (s != NULL && gsl_min_fminimizer_set(s, &f, best, best - step, best + step) == GSL_SUCCESS)
		for (int i = 0; i < ITERATIONS && gsl_min_fminimizer_iterate(s) == GSL_SUCCESS; i++)
			best = gsl_min_fminimizer_x_minimum(s);
	gsl_set_error_handler(old);
	if (s == NULL)
		return NAN;
	gsl_min_fminimizer_free(s);
	return exp(best);
}

static void count(struct layout *l, struct ab_verdicts *out)
{
	for (size_t i = 0; i < l->n; i++) {
		const struct ab_verdict_group *g = &l->groups[i];

		l->verdicts += g->n;
		out->n_batches += g->n > 0;
		if (g->n > 1)
			l->within += (double)(g->n - 1) * g->sd * g->sd;
	}
	out->n = l->verdicts;
	out->beyond = out->n - out->n_batches;
}

bool ab_verdicts_work(const struct ab_verdict_group *groups, size_t n, struct ab_verdicts *out)
{
	struct layout l = { groups, n, 0, 0 };
	double ratio, freedom;

	*out = (struct ab_verdicts){ .mean = NAN, .noise = NAN, .noise_low = NAN, .noise_high = NAN, .between = NAN,
		.apart = NAN, .tell = NAN };
	count(&l, out);
	if (out->beyond < AB_VERDICTS_LEAST || out->n_batches < 2 || !(l.within > 0))
		return false;
	ratio = best_ratio(&l);
	if (isnan(ratio))
		return false;
	deviance(&l, ratio, &out->mean, &out->noise);
	freedom = (double)out->beyond;
	out->between = out->noise * sqrt(ratio);
	out->noise_low = sqrt(l.within / gsl_cdf_chisq_Pinv(0.9, freedom));
	out->noise_high = sqrt(l.within / gsl_cdf_chisq_Pinv(0.1, freedom));
	out->apart = M_SQRT2 * out->noise * gsl_cdf_ugaussian_Pinv(0.75);
	out->tell = M_SQRT2 * out->noise * gsl_cdf_tdist_Pinv(0.975, freedom);
	return true;
}

static double told(const struct ab_trend_batch *b, int slot)
{
	for (size_t i = 0; i < b->n_facts; i++)
		if (b->slots[i] == slot)
			return b->values[i];
	return NAN;
}

enum ab_status ab_trend_verdicts(const struct ab_trend_batch *batches, size_t n, const struct ab_fact_table *facts,
    struct ab_arena *arena, struct ab_trend *trend, struct ab_diag *diag)
{
	struct ab_verdict_group *groups = ab_arena_alloc(arena, n + 1, sizeof *groups);
	int slots[AB_VERDICT_FACTS];

	if (groups == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the scores");
	ab_verdict_slots(facts, slots);
	for (size_t i = 0; i < n; i++) {
		double scores = told(&batches[i], slots[0]);

		groups[i] = (struct ab_verdict_group){ isnan(scores) ? 0 : (size_t)scores,
			told(&batches[i], slots[1]), told(&batches[i], slots[2]) };
	}
	ab_verdicts_work(groups, n, &trend->verdicts);
	return AB_OK;
}
