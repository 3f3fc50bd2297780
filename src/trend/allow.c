/* allow.c - what a change did, with allowance for a steady drift and for beers that differ
 *
 * Least squares of the load on the line, the place in the order of brewing and before/after, by taking the first
 * two out of the others (Frisch & Waugh 1933, Econometrica 1:387); with the reference prior the effect has a
 * Student t posterior (Box & Tiao 1973, 2.7), the same numbers as R's lm.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/stats.h"

#include <math.h>
#include <string.h>
#include <gsl/gsl_cdf.h>

/* Takes the mean of each line out of all three columns; tells how many lines there are. done is scratch. */
static size_t within_lines(struct stats_row *r, size_t n)
{
	size_t lines = 0;

	for (size_t i = 0; i < n; i++)
		r[i].done = false;
	for (size_t i = 0; i < n; i++) {
		struct stats_row sum = { .line = r[i].line };
		double m = 0;

		if (r[i].done)
			continue;
		lines++;
		for (int pass = 0; pass < 2; pass++)
			for (size_t j = i; j < n; j++) {
				if (strcmp(r[j].line, sum.line) != 0)
					continue;
				if (pass == 0) {
					sum.load += r[j].load;
					sum.place += r[j].place;
					sum.after += r[j].after;
					m++;
				} else {
					r[j].load -= sum.load / m;
					r[j].place -= sum.place / m;
					r[j].after -= sum.after / m;
					r[j].done = true;
				}
			}
	}
	return lines;
}

void stats_allowing(struct stats_row *r, size_t n, double floor_sd, struct ab_trend_allowed *out)
{
	double pp = 0, pa = 0, pl = 0, aa = 0, al = 0, ll = 0, freedom, scale, t;
	size_t lines = within_lines(r, n);

	*out = (struct ab_trend_allowed){ NAN, NAN, NAN, NAN };
	for (size_t i = 0; i < n; i++) {
		pp += r[i].place * r[i].place;
		pa += r[i].place * r[i].after;
		pl += r[i].place * r[i].load;
	}
	if (n < lines + 3 || !(pp > 0))
		return;
	for (size_t i = 0; i < n; i++) {
		double a = r[i].after - r[i].place * pa / pp, l = r[i].load - r[i].place * pl / pp;

		aa += a * a;
		al += a * l;
		ll += l * l;
	}
	if (!(aa > 1e-9))
		return;   /* before and after cannot be told from the order of brewing */
	freedom = (double)(n - lines - 2);
	scale = fmax(floor_sd, sqrt(fmax(0, ll - al * al / aa) / freedom)) / sqrt(aa);
	out->lighter = -al / aa;
	if (!(scale > 0))
		return;
	t = gsl_cdf_tdist_Pinv(0.9, freedom);
	out->p_better = gsl_cdf_tdist_P(out->lighter / scale, freedom);
	out->low = out->lighter - t * scale;
	out->high = out->lighter + t * scale;
}

struct ab_trend_said ab_trend_say(const struct ab_trend_change *c)
{
	const struct ab_trend_allowed *a = &c->allowed;

	if (c->n_before + c->n_after >= AB_TREND_DRIFT_LEAST && !isnan(a->p_better) && !isnan(c->p_better))
		return (struct ab_trend_said){ a->p_better, a->low, a->high, false };
	return (struct ab_trend_said){ c->p_better, c->low, c->high, true };
}
