/* causes.c - before and after each change, cause by cause
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/trend.h>

#include <assert.h>
#include <math.h>
#include <string.h>

#include "trend/stats.h"

/* A quarter of one batch's blame on either side: less is the noise of a long list of suspects (estimate). */
#define WORTH_A_LINE 0.25

/* The same batches as for the loads, or the two would not belong together. */
static double blamed(const struct ab_trend_batch *batches, const struct ab_trend_change *c, size_t from,
    size_t to, size_t cause)
{
	double sum = 0;

	for (size_t i = from; i < to; i++) {
		const struct ab_trend_batch *b = &batches[i];

		if (b->blame != NULL && b->tasted && !isnan(b->load) &&
		    (c->line == NULL || (b->line != NULL && strcmp(b->line, c->line) == 0)))
			sum += b->blame[cause];
	}
	return sum;
}

static double share(double sum, size_t n)
{
	return n > 0 ? sum / (double)n : 0;
}

static double moved(const struct ab_trend_change *c, const struct ab_cause_shift *s)
{
	return fabs(share(s->before, c->n_before) - share(s->after, c->n_after));
}

/* Blame is a chance, so its sum is the number of batches expected to owe their faults to the cause; used as a
 * count it says what a count would, with the doubt of each batch left in. */
static double better(struct stats_asked *asked, const struct ab_trend_change *c, const struct ab_cause_shift *s)
{
	double nb = (double)c->n_before, na = (double)c->n_after;

	if (c->n_before == 0 || c->n_after == 0)
		return (double)NAN;
	return stats_beta_below_again(asked, s->before + 0.5, fmax(0, nb - s->before) + 0.5, s->after + 0.5,
	    fmax(0, na - s->after) + 0.5);
}

static enum ab_status shift_causes(const struct ab_trend_batch *batches, size_t n_causes, struct stats_asked *asked,
    struct ab_arena *arena, struct ab_trend_change *c, struct ab_diag *diag)
{
	c->n_causes = 0;
	c->causes = ab_arena_alloc(arena, n_causes, sizeof *c->causes);
	if (c->causes == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out the trend");
	for (size_t i = 0; i < n_causes; i++) {
		struct ab_cause_shift s = { (int)i, blamed(batches, c, c->begin, c->at, i),
			blamed(batches, c, c->at, c->end, i), (double)NAN };
		size_t j = c->n_causes;

		if (s.before < WORTH_A_LINE && s.after < WORTH_A_LINE)
			continue;
		s.p_better = better(asked, c, &s);
		for (; j > 0 && moved(c, &c->causes[j - 1]) < moved(c, &s); j--)
			c->causes[j] = c->causes[j - 1];
		c->causes[j] = s;
		c->n_causes++;
	}
	return AB_OK;
}

enum ab_status ab_trend_causes(const struct ab_trend_batch *batches, size_t n_causes, struct ab_arena *arena,
    struct ab_trend *trend, struct ab_diag *diag)
{
	struct stats_asked asked = { .n = 0 };
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < trend->n_changes; i++) {
		assert(trend->changes[i].begin <= trend->changes[i].at && trend->changes[i].at < trend->changes[i].end);
		st = shift_causes(batches, n_causes, &asked, arena, &trend->changes[i], diag);
	}
	return st;
}
