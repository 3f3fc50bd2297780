/* shuffle.c - how often so clear a thread would come by chance, whatever else is compared with it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trend/shuffle.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

/* Tables as probable as the one seen count with it, though their last digits differ: as in R. */
#define ALIKE (1 + 1e-7)

enum { SEED = 20310307 };

/* Sets of batches as bits, and each p reckoned once: thousands of deals meet the same few tables. */
struct set { uint64_t *with, *without; size_t n_with, n_without; double *p; };
struct deal {
	const struct shuffle *s;
	struct set *sets;
	size_t words, *places, tasted, bad;   /* places of the tasted; how many are bad */
	uint64_t *now;                        /* who is bad in this deal */
	size_t *hits, *pick;
};

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while looking for a common thread");
}

static void mark(uint64_t *set, size_t i)
{
	set[i / 64] |= (uint64_t)1 << i % 64;
}

static size_t both(const uint64_t *a, const uint64_t *b, size_t words)
{
	size_t n = 0;

	for (size_t i = 0; i < words; i++)
		n += (size_t)__builtin_popcountll(a[i] & b[i]);
	return n;
}

/* A split that every tasted batch tells needs a table of one row: the others follow from the number of bad. */
static bool make_set(const struct deal *d, const signed char *on, struct set *out, struct ab_arena *arena)
{
	out->with = ab_arena_alloc(arena, d->words, sizeof *out->with);
	out->without = ab_arena_alloc(arena, d->words, sizeof *out->without);
	if (out->with == NULL || out->without == NULL)
		return false;
	for (size_t i = 0; i < d->tasted; i++)
		if (on[d->places[i]] != 0)
			mark(on[d->places[i]] > 0 ? out->with : out->without, d->places[i]);
	out->n_with = both(out->with, out->with, d->words);
	out->n_without = both(out->without, out->without, d->words);
	out->p = ab_arena_alloc(arena, (out->n_with + 1) * (out->n_with + out->n_without == d->tasted ? 1
	    : out->n_without + 1), sizeof *out->p);
	return out->p != NULL;
}

/* 0 in the table = not reckoned yet; no p is 0. */
static double p_now(const struct deal *d, const struct set *set)
{
	size_t x = both(set->with, d->now, d->words), y = both(set->without, d->now, d->words);
	double *p = &set->p[set->n_with + set->n_without == d->tasted ? x : x * (set->n_without + 1) + y];

	if (*p == 0)
		*p = ab_fisher(x, y, set->n_with - x, set->n_without - y);
	return *p;
}

/* The step-down part: a split competes with itself and all less clear ones, not with those already told. */
static void count(struct deal *d)
{
	double least = 1;

	for (size_t i = d->s->n_splits; i-- > 0;) {
		least = fmin(least, p_now(d, &d->sets[i]));
		d->hits[i] += least <= d->s->p[i] * ALIKE;
	}
}

static void hand_out(struct deal *d)
{
	memset(d->now, 0, d->words * sizeof *d->now);
	for (size_t i = 0; i < d->bad; i++)
		mark(d->now, d->places[d->pick[i]]);
	count(d);
}

/* How many ways there are to choose; SHUFFLE_ALL + 1 when more. */
static size_t ways(size_t n, size_t k)
{
	double w = 1;

	for (size_t i = 0; i < k; i++)
		w = w * (double)(n - i) / (double)(i + 1);
	return w <= SHUFFLE_ALL + 0.5 ? (size_t)(w + 0.5) : SHUFFLE_ALL + 1;
}

/* Every choice of `bad` of the tasted, in order of the alphabet. */
static void every_way(struct deal *d)
{
	for (size_t i = 0; i < d->bad; i++)
		d->pick[i] = i;
	for (;;) {
		size_t i = d->bad;

		hand_out(d);
		while (i > 0 && d->pick[i - 1] == d->tasted - d->bad + i - 1)
			i--;
		if (i == 0)
			return;
		d->pick[i - 1]++;
		for (; i < d->bad; i++)
			d->pick[i] = d->pick[i - 1] + 1;
	}
}

static enum ab_status by_drawing(struct deal *d, struct ab_arena *arena, struct ab_diag *diag)
{
	gsl_rng rng = { gsl_rng_mt19937, ab_arena_alloc(arena, gsl_rng_mt19937->size, 1) };
	size_t *all = ab_arena_alloc(arena, d->tasted, sizeof *all);

	if (rng.state == NULL || all == NULL)
		return nomem(diag);
	gsl_rng_set(&rng, SEED);
	for (size_t i = 0; i < d->tasted; i++)
		all[i] = i;
	for (int n = 0; n < SHUFFLE_DRAWS; n++) {
		for (size_t i = 0; i < d->bad; i++) {
			size_t j = i + gsl_rng_uniform_int(&rng, d->tasted - i), kept = all[i];

			d->pick[i] = all[j];
			all[i] = all[j];
			all[j] = kept;
		}
		hand_out(d);
	}
	return AB_OK;
}

static bool prepare(struct deal *d, struct ab_arena *arena)
{
	d->words = d->s->n / 64 + 1;
	d->places = ab_arena_alloc(arena, d->s->n, sizeof *d->places);
	d->pick = ab_arena_alloc(arena, d->s->n, sizeof *d->pick);
	d->hits = ab_arena_alloc(arena, d->s->n_splits, sizeof *d->hits);
	d->sets = ab_arena_alloc(arena, d->s->n_splits, sizeof *d->sets);
	d->now = ab_arena_alloc(arena, d->words, sizeof *d->now);
	if (d->places == NULL || d->pick == NULL || d->hits == NULL || d->sets == NULL || d->now == NULL)
		return false;
	for (size_t i = 0; i < d->s->n; i++)
		if (d->s->use[i] != 0) {
			d->places[d->tasted++] = i;
			d->bad += d->s->use[i] > 0;
		}
	for (size_t i = 0; i < d->s->n_splits; i++)
		if (!make_set(d, d->s->on[i], &d->sets[i], arena))
			return false;
	return true;
}

enum ab_status shuffle_adjust(const struct shuffle *s, struct ab_arena *arena, double *adjusted, size_t *draws,
    struct ab_diag *diag)
{
	struct deal d = { .s = s };
	enum ab_status st = AB_OK;
	double most = 0, own;
	size_t all;

	*draws = 0;
	if (s->n_splits == 0)
		return AB_OK;
	if (!prepare(&d, arena))
		return nomem(diag);
	all = ways(d.tasted, d.bad);
	if (all <= SHUFFLE_ALL)
		every_way(&d);
	else
		st = by_drawing(&d, arena, diag);
	*draws = all <= SHUFFLE_ALL ? 0 : SHUFFLE_DRAWS;
	own = *draws > 0 ? 1 : 0;   /* the deal that was seen */
	for (size_t i = 0; i < s->n_splits; i++) {
		most = fmax(most, ((double)d.hits[i] + own) / ((double)(*draws > 0 ? *draws : all) + own));
		adjusted[i] = most;
	}
	return st;
}

/* ---- one thread given another ---- */

/* Batches that are alike in the one split: how many, how many of them bad, how many in the other split, how many
 * both. */
struct stratum { unsigned n, bad, with, seen; };

/* P(bad with b = 0, 1, ...) of the strata together, one folded in after another. dist has room for s->n + 1. */
static void fold(double *dist, double *next, unsigned *most, const struct stratum *t)
{
	unsigned top = t->bad < t->with ? t->bad : t->with;

	for (unsigned i = 0; i <= *most + top; i++)
		next[i] = 0;
	for (unsigned i = 0; i <= *most; i++)
		for (unsigned x = 0; x <= top; x++)
			next[i + x] += dist[i] * gsl_ran_hypergeometric_pdf(x, t->with, t->n - t->with, t->bad);
	*most += top;
	memcpy(dist, next, (*most + 1) * sizeof *dist);
}

enum ab_status shuffle_given(const struct shuffle *s, size_t a, size_t b, struct ab_arena *arena, double *p,
    struct ab_diag *diag)
{
	struct stratum strata[3] = { { 0, 0, 0, 0 } };
	double *dist = ab_arena_alloc(arena, s->n + 1, sizeof *dist),
	       *next = ab_arena_alloc(arena, s->n + 1, sizeof *next);
	unsigned most = 0, seen = 0;

	if (dist == NULL || next == NULL)
		return nomem(diag);
	for (size_t i = 0; i < s->n; i++)
		if (s->use[i] != 0 && s->on[b][i] != 0) {
			struct stratum *t = &strata[s->on[a][i] + 1];

			t->n++;
			t->bad += s->use[i] > 0;
			t->with += s->on[b][i] > 0;
			t->seen += s->use[i] > 0 && s->on[b][i] > 0;
		}
	dist[0] = 1;
	for (int i = 0; i < 3; i++) {
		seen += strata[i].seen;
		if (strata[i].n > 0)
			fold(dist, next, &most, &strata[i]);
	}
	*p = 0;
	for (unsigned i = 0; i <= most; i++)
		*p += dist[i] <= dist[seen] * ALIKE ? dist[i] : 0;
	*p = fmin(1, *p);
	assert(seen <= most);
	return AB_OK;
}
