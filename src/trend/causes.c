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

/* Blame of one cause over some batches: its sum, and the variance of how many of them owe it their faults. */
struct blame { double sum, doubt; };

/* The same batches as for the loads, or the two would not belong together. */
static struct blame blamed(const struct ab_trend_batch *batches, const struct ab_trend_change *c, size_t from,
    size_t to, size_t cause)
{
	struct blame all = { 0, 0 };

	for (size_t i = from; i < to; i++) {
		const struct ab_trend_batch *b = &batches[i];

		if (b->blame != NULL && b->tasted && !isnan(b->load) &&
		    (c->line == NULL || (b->line != NULL && strcmp(b->line, c->line) == 0))) {
			all.sum += b->blame[cause];
			all.doubt += b->blame[cause] * (1 - b->blame[cause]);
		}
	}
	return all;
}

static double share(double sum, size_t n)
{
	return n > 0 ? sum / (double)n : 0;
}

static double moved(const struct ab_trend_change *c, const struct ab_cause_shift *s)
{
	return fabs(share(s->before, c->n_before) - share(s->after, c->n_after));
}

/* How often the cause is to blame: for each count there may be a Beta(count + 1/2, n - count + 1/2), the counts
 * being Poisson-binomial; here the Beta with the mean and the variance of all of them. Were the sum taken for the
 * count itself, batches in doubt would prove as much as clear ones. */
static struct beta { double a, b; } beta_of(const struct blame *blame, size_t batches)
{
	double n = (double)batches, a = blame->sum + 0.5, b = fmax(0, n - blame->sum) + 0.5, mean = a / (n + 1);
	double within = (a * b - blame->doubt) / ((n + 1) * (n + 1) * (n + 2));
	double between = blame->doubt / ((n + 1) * (n + 1)), weight = mean * (1 - mean) / (within + between) - 1;

	return (struct beta){ mean * weight, (1 - mean) * weight };
}

static double better(struct stats_asked *asked, const struct ab_trend_change *c, const struct blame *before,
    const struct blame *after)
{
	if (c->n_before == 0 || c->n_after == 0)
		return (double)NAN;
	struct beta b = beta_of(before, c->n_before), a = beta_of(after, c->n_after);
	assert(a.a > 0 && b.a > 0);
	return stats_beta_below_again(asked, b.a, b.b, a.a, a.b);
}

/* all: room for every cause, where c->causes stands while it grows. */
static void shift_causes(const struct ab_trend_batch *batches, size_t n_causes, struct stats_asked *asked,
    struct ab_cause_shift *all, struct ab_trend_change *c)
{
	c->n_causes = 0;
	c->causes = all;
	for (size_t i = 0; i < n_causes; i++) {
		struct blame before = blamed(batches, c, c->begin, c->at, i),
			     after = blamed(batches, c, c->at, c->end, i);
		struct ab_cause_shift s = { (int)i, before.sum, after.sum, (double)NAN };
		size_t j = c->n_causes;

		if (s.before < WORTH_A_LINE && s.after < WORTH_A_LINE)
			continue;
		s.p_better = better(asked, c, &before, &after);
		for (; j > 0 && moved(c, &c->causes[j - 1]) < moved(c, &s); j--)
			c->causes[j] = c->causes[j - 1];
		c->causes[j] = s;
		c->n_causes++;
	}
}

/* Most causes have nothing to tell of a change: each keeps the room of those that have. */
static bool keep(struct ab_trend_change *c, struct ab_arena *arena)
{
	struct ab_cause_shift *own = ab_arena_alloc(arena, c->n_causes, sizeof *own);

	if (own == NULL)
		return false;
	if (c->n_causes > 0)
		memcpy(own, c->causes, c->n_causes * sizeof *own);
	c->causes = own;
	return true;
}

enum ab_status ab_trend_causes(const struct ab_trend_batch *batches, size_t n_causes, struct ab_arena *arena,
    struct ab_trend *trend, struct ab_diag *diag)
{
	struct stats_asked asked = { .n = 0 };
	struct ab_cause_shift *all = ab_arena_alloc(arena, n_causes, sizeof *all);
	bool room = all != NULL;

	for (size_t i = 0; room && i < trend->n_changes; i++) {
		assert(trend->changes[i].begin <= trend->changes[i].at && trend->changes[i].at < trend->changes[i].end);
		shift_causes(batches, n_causes, &asked, all, &trend->changes[i]);
		room = keep(&trend->changes[i], arena);
	}
	return room ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out the trend");
}
