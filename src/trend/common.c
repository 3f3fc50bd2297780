/* common.c - the common thread of bad batches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/common.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "trend/stats.h"

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while looking for a common thread");
}

/* An untasted batch is neither good nor bad. */
static bool usable(const struct ab_trend_batch *b)
{
	return b->tasted && !isnan(b->load);
}

/* Median of the tasted loads: half of the batches are "bad" at most. */
static double median(const struct ab_trend_batch *batches, size_t n, double *sorted)
{
	size_t m = 0;

	for (size_t i = 0; i < n; i++)
		if (usable(&batches[i]))
			sorted[m++] = batches[i].load;
	stats_sort(sorted, m);
	return stats_median_sorted(sorted, m);
}

/* told is only ever set to true: a batch may name several pieces of one factor. */
static bool has(const struct ab_trend_batch *b, const struct ab_factor *factor, bool *told)
{
	bool found = false;

	for (size_t i = 0; i < b->n_factors; i++)
		if (strcmp(b->factors[i].name, factor->name) == 0) {
			*told = true;
			found = found || strcmp(b->factors[i].value, factor->value) == 0;
		}
	return found;
}

/* Only batches that say something about the factor are counted: missing is not "no". p_least says how
 * small p could get at all with so many batches: without it "nothing found" and "nothing can be found
 * yet" look alike. */
static struct ab_common tally(const struct ab_trend_batch *batches, size_t n, const struct ab_factor *factor,
    double bad_over)
{
	struct ab_common c = { .factor = factor->name, .value = factor->value };

	for (size_t i = 0; i < n; i++) {
		bool told = false, with;

		if (!usable(&batches[i]))
			continue;
		with = has(&batches[i], factor, &told);
		if (!told)
			continue;
		if (batches[i].load > bad_over) {
			c.bad++;
			c.bad_with += with;
		} else {
			c.good++;
			c.good_with += with;
		}
	}
	c.p = ab_fisher(c.bad_with, c.bad - c.bad_with, c.good_with, c.good - c.good_with);
	assert(c.bad_with <= c.bad && c.good_with <= c.good);
	c.p_least = stats_least_fisher(c.bad_with + c.good_with, c.bad, c.bad + c.good);
	return c;
}

/* Each value of a factor is tallied once, when first met. */
static bool seen(const struct ab_trend *out, const struct ab_factor *f)
{
	for (size_t i = 0; i < out->n_common; i++)
		if (strcmp(out->common[i].factor, f->name) == 0 &&
		    strcmp(out->common[i].value, f->value) == 0)
			return true;
	return false;
}

static void insert(struct ab_trend *out, const struct ab_common *c)
{
	size_t j = out->n_common++;

	for (; j > 0 && out->common[j - 1].p > c->p; j--)
		out->common[j] = out->common[j - 1];
	out->common[j] = *c;
}

/* Holm's step-down correction: of many vessels and yeasts one will look guilty by chance. Sorted by p,
 * the smallest is multiplied by all that are compared, and no later one may end below an earlier one. */
static void holm(struct ab_trend *out)
{
	double most = 0;

	for (size_t i = 0; i < out->n_common; i++) {
		most = fmax(most, fmin(1, out->common[i].p * (double)(out->n_common - i)));
		out->common[i].p_adjusted = most;
	}
}

/* What all batches share, or none, can tell nothing and would only cost the others in Holm's
 * correction. */
enum ab_status common_thread(const struct ab_trend_batch *batches, size_t n, struct ab_arena *arena,
    struct ab_trend *out, struct ab_diag *diag)
{
	size_t total = 0;
	double *sorted = ab_arena_alloc(arena, n, sizeof *sorted);

	for (size_t i = 0; i < n; i++)
		total += batches[i].n_factors;
	out->common = ab_arena_alloc(arena, total, sizeof *out->common);
	if (sorted == NULL || out->common == NULL)
		return nomem(diag);
	out->bad_over = median(batches, n, sorted);
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < batches[i].n_factors; j++) {
			struct ab_common c;

			if (seen(out, &batches[i].factors[j]))
				continue;
			c = tally(batches, n, &batches[i].factors[j], out->bad_over);
			if (c.bad_with + c.good_with < c.bad + c.good && c.bad > 0 && c.good > 0 &&
			    c.bad_with + c.good_with > 0)
				insert(out, &c);
		}
	holm(out);
	return AB_OK;
}
