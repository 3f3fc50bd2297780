/* common.c - the common thread of bad batches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/common.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "trend/shuffle.h"
#include "trend/stats.h"

enum { NEWEST = 400 };

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
    double bad_over, signed char *on)
{
	struct ab_common c = { .factor = factor->name, .value = factor->value };

	for (size_t i = 0; i < n; i++) {
		bool told = false, with;

		on[i] = 0;
		if (!usable(&batches[i]))
			continue;
		with = has(&batches[i], factor, &told);
		if (!told)
			continue;
		on[i] = with ? 1 : -1;
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

/* A split of the batches into those with a factor and those without: on is 1, -1, or 0 where nothing is told. */
struct split { struct ab_common c; signed char *on; size_t place; };
struct splits { struct split *items; size_t n, n_batches; struct ab_arena *arena; };

/* Each value of a factor is tallied once, when first met. The batches before have all been gone through. */
static bool seen(const struct ab_trend_batch *batches, size_t i, size_t j)
{
	const struct ab_factor *f = &batches[i].factors[j];

	for (size_t b = 0; b <= i; b++)
		for (size_t k = 0; k < (b < i ? batches[b].n_factors : j); k++)
			if (strcmp(batches[b].factors[k].name, f->name) == 0 &&
			    strcmp(batches[b].factors[k].value, f->value) == 0)
				return true;
	return false;
}

/* 1 the same batches, -1 just the others, 0 another split. */
static int same_split(const signed char *a, const signed char *b, size_t n)
{
	int sign = 0;

	for (size_t i = 0; i < n; i++) {
		if ((a[i] == 0) != (b[i] == 0))
			return 0;
		if (a[i] == 0)
			continue;
		if (sign == 0)
			sign = a[i] == b[i] ? 1 : -1;
		if (a[i] * sign != b[i])
			return 0;
	}
	return sign;
}

/* More of the bad than of the good have it. */
static bool accuses(const struct ab_common *c)
{
	return c->bad_with * c->good > c->good_with * c->bad;
}

/* What is told together: the accused side keeps its name, others on the same side are named beside it. Of two
 * values of one factor the accused one stands for both. */
static bool join(struct splits *s, struct split *old, const struct ab_common *c, int sign)
{
	if (sign < 0 && accuses(c) && !accuses(&old->c)) {
		old->c = *c;
		for (size_t i = 0; i < s->n_batches; i++)
			old->on[i] = (signed char)-old->on[i];
		return true;
	}
	if (sign < 0 || strcmp(old->c.factor, c->factor) == 0)
		return true;
	old->c.also = old->c.also == NULL ? ab_arena_printf(s->arena, "%s %s", c->factor, c->value)
	    : ab_arena_printf(s->arena, "%s, %s %s", old->c.also, c->factor, c->value);
	return old->c.also != NULL;
}

/* on is the next one's scratch until it is kept. */
static bool add(struct splits *s, const struct ab_common *c, signed char **on)
{
	for (size_t i = 0; i < s->n; i++) {
		int sign = same_split(s->items[i].on, *on, s->n_batches);

		if (sign != 0)
			return join(s, &s->items[i], c, sign);
	}
	s->items[s->n] = (struct split){ *c, *on, s->n };
	s->n++;
	*on = ab_arena_alloc(s->arena, s->n_batches, 1);
	return *on != NULL;
}

/* Least p first; of equals the one more of the bad have. */
static int by_p(const void *x, const void *y)
{
	const struct split *a = x, *b = y;

	if (a->c.p != b->c.p)
		return a->c.p < b->c.p ? -1 : 1;
	if (accuses(&a->c) != accuses(&b->c))
		return accuses(&a->c) ? -1 : 1;
	return a->place < b->place ? -1 : 1;
}

/* A find that a clearer one explains is told with that one: among batches alike in the clearer one nothing is left of
 * it. Two names of one vessel are not two finds. */
static enum ab_status find_leads(
    const struct shuffle *s, struct ab_trend *out, struct ab_arena *arena, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (size_t j = 1; j < out->n_common && out->common[j].p <= AB_COMMON_WORTH; j++)
		for (size_t i = 0; st == AB_OK && i < j && out->common[j].beside == NULL; i++) {
			double left = 1;

			if (out->common[i].beside != NULL)
				continue;
			st = shuffle_given(s, i, j, arena, &left, diag);
			if (st == AB_OK && left > AB_COMMON_WORTH)
				out->common[j].beside = &out->common[i];
		}
	return st;
}

/* Sorted, corrected for all that was compared, and what is one find put together. */
static enum ab_status weigh(
    struct splits *s, const struct ab_trend_batch *batches, struct ab_trend *out, struct ab_diag *diag)
{
	signed char *use = ab_arena_alloc(s->arena, s->n_batches, 1);
	const signed char **on = ab_arena_alloc(s->arena, s->n, sizeof *on);
	double *p = ab_arena_alloc(s->arena, s->n, sizeof *p),
	       *adjusted = ab_arena_alloc(s->arena, s->n, sizeof *adjusted);
	enum ab_status st;

	if (use == NULL || on == NULL || p == NULL || adjusted == NULL)
		return nomem(diag);
	for (size_t i = 0; i < s->n_batches; i++)
		use[i] = !usable(&batches[i]) ? 0 : batches[i].load > out->bad_over ? 1 : -1;
	qsort(s->items, s->n, sizeof *s->items, by_p);
	for (size_t i = 0; i < s->n; i++) {
		on[i] = s->items[i].on;
		p[i] = s->items[i].c.p;
		out->common[i] = s->items[i].c;
	}
	out->n_common = s->n;
	const struct shuffle shuffle = { on, use, p, s->n, s->n_batches };
	st = shuffle_adjust(&shuffle, s->arena, adjusted, &out->common_draws, diag);
	for (size_t i = 0; st == AB_OK && i < s->n; i++)
		out->common[i].p_adjusted = adjusted[i];
	return st == AB_OK ? find_leads(&shuffle, out, s->arena, diag) : st;
}

/* What all batches share, or none, can tell nothing and would only be one more
 * thing compared. */
static bool can_tell(const struct ab_common *c)
{
	return c->bad_with + c->good_with < c->bad + c->good && c->bad > 0 && c->good > 0 &&
	    c->bad_with + c->good_with > 0;
}

enum ab_status common_thread(const struct ab_trend_batch *batches, size_t n, struct ab_arena *arena,
    struct ab_trend *out, struct ab_diag *diag)
{
	struct splits s = { .arena = arena };
	size_t total = 0;
	double *sorted;
	signed char *on;

	/* plenty for a thread, and what older ones shared is mostly gone; each split takes a byte a batch */
	batches += n > NEWEST ? n - NEWEST : 0;
	n = n > NEWEST ? NEWEST : n;
	s.n_batches = n;
	sorted = ab_arena_alloc(arena, n, sizeof *sorted);
	on = ab_arena_alloc(arena, n, 1);
	for (size_t i = 0; i < n; i++)
		total += batches[i].n_factors;
	out->common = ab_arena_alloc(arena, total, sizeof *out->common);
	s.items = ab_arena_alloc(arena, total, sizeof *s.items);
	if (sorted == NULL || on == NULL || out->common == NULL || s.items == NULL)
		return nomem(diag);
	out->bad_over = median(batches, n, sorted);
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < batches[i].n_factors; j++) {
			struct ab_common c;

			if (seen(batches, i, j))
				continue;
			c = tally(batches, n, &batches[i].factors[j], out->bad_over, on);
			if (can_tell(&c) && !add(&s, &c, &on))
				return nomem(diag);
		}
	return weigh(&s, batches, out, diag);
}
