/* chart.c - EWMA and CUSUM on self-starting values
 *
 * Sources in chart.h. Distributions are GSL's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/chart.h>

#include <assert.h>
#include <math.h>
#include <gsl/gsl_cdf.h>

#include "trend/stats.h"

/* A value this far off is called odd by itself (Shewhart's limit), and counts for no more in the charts: one
 * hot week is no new level. Two in a row are. */
#define ODD 3.0

void ab_chart_ewma(const double *x, size_t n, double centre, double sd, double weight, double width,
    double *z, double *reach)
{
	double last = centre, left = 1;

	for (size_t i = 0; i < n; i++) {
		last = z[i] = weight * x[i] + (1 - weight) * last;
		left *= (1 - weight) * (1 - weight);
		if (reach != NULL)
			reach[i] = sd * width * sqrt(weight / (2 - weight) * (1 - left));
	}
}

void ab_chart_cusum(const double *x, size_t n, double target, double slack, double *up, double *down)
{
	double high = 0, low = 0;

	for (size_t i = 0; i < n; i++) {
		high = up[i] = fmax(0, high + x[i] - target - slack);
		low = down[i] = fmax(0, low + target - x[i] - slack);
	}
}

/* P(T < t) turned into the normal value of the same tail; by the nearer tail, so that a far jump does not
 * become infinite. */
static double normal_of_t(double t, double freedom)
{
	double tail = gsl_cdf_tdist_Q(fabs(t), freedom);
	double z = tail > 0 ? gsl_cdf_ugaussian_Qinv(tail) : 37;

	return t < 0 ? -z : z;
}

/* What of x is carried into level and scatter: no more than what would have been cut off as a standard value,
 * or one hot week would hide the next. */
static double cut_value(double x, double u, double clip, double mean, double scale, double freedom)
{
	if (!(fabs(u) > clip))
		return x;
	return mean + (u > 0 ? 1 : -1) * scale * gsl_cdf_tdist_Qinv(gsl_cdf_ugaussian_Q(clip), freedom);
}

/* Mean and squares are carried along (Welford). Two equal values have no scatter: then the floor is all
 * there is, and without one a further equal value is no news and another infinitely much. */
void ab_chart_standardise(const double *x, size_t n, double floor_sd, double clip, double *u)
{
	double mean = 0, squares = 0;

	for (size_t i = 0; i < n; i++) {
		double before = (double)i, v = x[i], off;

		u[i] = 0;
		if (i >= 2 && x[i] != mean) {
			double scale = fmax(floor_sd, sqrt(squares / (before - 1))) * sqrt((before + 1) / before);

			u[i] = normal_of_t((x[i] - mean) / scale, before - 1);
			v = cut_value(x[i], u[i], clip, mean, scale, before - 1);
		}
		off = v - mean;
		mean += off / (before + 1);
		squares += off * (v - mean);
	}
}

/* Place of the first alarm from `from` on, or n. */
static size_t first_alarm(const struct ab_chart *c, size_t from)
{
	for (size_t i = from; i < c->n; i++)
		if (fabs(c->ewma[i]) > c->reach[i] || c->up[i] > AB_CHART_LIMIT || c->down[i] > AB_CHART_LIMIT)
			return i;
	return c->n;
}

/* The split of the values up to the alarm that explains most of their scatter by two levels: the likeliest
 * one under normal scatter (Hinkley 1970, Biometrika 57:1). Two values of the old level are always left. */
static size_t begin_of_shift(const struct ab_chart *c, size_t from, size_t seen)
{
	double all = 0, old = 0, most = -1, n = (double)(seen - from + 1);
	size_t best = seen;

	assert(seen >= from + 2);
	for (size_t i = from; i <= seen; i++)
		all += c->x[i];
	for (size_t i = from; i < seen; i++) {
		double before = (double)(i - from + 1), gap;

		old += c->x[i];
		if (i == from)
			continue;
		gap = (all - old) / (n - before) - old / before;
		if (gap * gap * before * (n - before) > most) {
			most = gap * gap * before * (n - before);
			best = i + 1;
		}
	}
	return best;
}

/* All from `from` on, as if the batches before had been another brewer's. */
static void run(struct ab_chart *c, size_t from, double floor_sd)
{
	size_t n = c->n - from;

	ab_chart_standardise(c->x + from, n, floor_sd, ODD, c->u + from);
	for (size_t i = from; i < c->n; i++) {
		c->odd[i] = fabs(c->u[i]) > ODD;
		c->u[i] = fmax(-ODD, fmin(ODD, c->u[i]));
	}
	ab_chart_ewma(c->u + from, n, 0, 1, AB_CHART_WEIGHT, AB_CHART_WIDTH, c->ewma + from, c->reach + from);
	ab_chart_cusum(c->u + from, n, 0, AB_CHART_SLACK, c->up + from, c->down + from);
}

/* The level now: from the last shift on, without the odd ones, which are told by themselves. Where the next
 * is expected: Student's t for a further value. */
static void level(struct ab_chart *c, size_t from, double floor_sd)
{
	double sum = 0, squares = 0, n = 0, reach;

	for (size_t i = from; i < c->n; i++)
		if (!c->odd[i]) {
			sum += c->x[i];
			n++;
		}
	assert(n > 0);
	c->mean = sum / n;
	c->low = c->high = (double)NAN;
	if (n < 2)
		return;
	for (size_t i = from; i < c->n; i++)
		if (!c->odd[i])
			squares += (c->x[i] - c->mean) * (c->x[i] - c->mean);
	reach = gsl_cdf_tdist_Pinv(0.9, n - 1) * fmax(floor_sd, sqrt(squares / (n - 1))) * sqrt(1 + 1 / n);
	c->low = c->mean - reach;
	c->high = c->mean + reach;
}

static bool make_room(struct ab_chart *c, struct ab_arena *arena)
{
	double *all = ab_arena_alloc(arena, 5 * c->n, sizeof *all);

	c->odd = ab_arena_alloc(arena, c->n, sizeof *c->odd);
	c->shifts = ab_arena_alloc(arena, c->n, sizeof *c->shifts);
	if (all == NULL || c->odd == NULL || c->shifts == NULL)
		return false;
	c->u = all;
	c->ewma = all + c->n;
	c->reach = all + 2 * c->n;
	c->up = all + 3 * c->n;
	c->down = all + 4 * c->n;
	return true;
}

/* One alarm after the other; each new level starts the charts anew. */
enum ab_status ab_chart_work(const double *x, size_t n, double floor_sd, struct ab_arena *arena,
    struct ab_chart *out, struct ab_diag *diag)
{
	size_t from = 0, seen;

	*out = (struct ab_chart){ .slot = -1, .n = n, .x = x };
	assert(n >= AB_CHART_LEAST);
	if (!make_room(out, arena))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for a control chart");
	run(out, 0, floor_sd);
	while ((seen = first_alarm(out, from)) < n) {
		size_t begin = begin_of_shift(out, from, seen);

		out->shifts[out->n_shifts++] = (struct ab_chart_shift){ .from = begin, .seen = seen,
			.before = stats_mean(x + from, begin - from), .after = (double)NAN };
		from = begin;
		run(out, from, floor_sd);
	}
	for (size_t i = 0; i < out->n_shifts; i++) {
		struct ab_chart_shift *s = &out->shifts[i];
		size_t end = i + 1 < out->n_shifts ? s[1].from : n;

		s->after = stats_mean(x + s->from, end - s->from);
	}
	level(out, from, floor_sd);
	return AB_OK;
}
