/* hidden.c - facts of simulated brewers, drawn given the causes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "hidden.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SWEEPS = 100, HALVINGS = 40 };
static const double TILT_MOST = 3.9;   /* e^-3.9 = 1/50 */

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL) {
		printf("hidden: out of memory\n");
		exit(1);
	}
	return p;
}

/* ---- what frames a batch ---- */

static void mark(bool *frame, const struct ab_conds *conds)
{
	for (size_t i = 0; i < conds->n; i++)
		frame[conds->items[i].slot] = true;
}

static void mark_cause(bool *frame, const struct ab_cause *c)
{
	for (size_t i = 0; i < c->n_priors; i++)
		mark(frame, &c->priors[i].when);
	for (size_t i = 0; i < c->n_gates; i++)
		mark(frame, &c->gates[i].when);
	for (size_t i = 0; i < c->n_links; i++)
		mark(frame, &c->links[i].when);
}

static void mark_all(bool *frame, const struct ab_knowledge *k)
{
	for (size_t i = 0; i < k->n_causes; i++)
		mark_cause(frame, &k->causes[i]);
	for (size_t f = 0; f < k->n_faults; f++)
		for (size_t i = 0; i < k->faults[f].n_leaks; i++)
			mark(frame, &k->faults[f].leaks[i].when);
	for (size_t i = 0; i < k->n_checks; i++)
		for (size_t j = 0; j < k->checks[i].n_only_for; j++)
			mark(frame, &k->checks[i].only_for[j]);
}

/* ---- values ---- */

static void add_value(struct hidden_fact *f, double x)
{
	for (size_t i = 0; i < f->n; i++)
		if (f->value[i] == x)
			return;
	if (f->n < HIDDEN_VALUES)
		f->value[f->n++] = x;
}

static int by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

/* The points of all curves on it, and the middle between neighbours: a brewer's number seldom lies on a point. */
static void add_middles(struct hidden_fact *f)
{
	size_t n = f->n;

	qsort(f->value, n, sizeof *f->value, by_size);
	for (size_t i = 0; i + 1 < n; i++)
		add_value(f, (f->value[i] + f->value[i + 1]) / 2);
}

static void find_values(const struct ab_knowledge *k, size_t slot, struct hidden_fact *f)
{
	const struct ab_fact_def *def = &k->facts->defs[slot];

	for (size_t c = 0; c < k->n_causes; c++)
		for (size_t s = 0; s < k->causes[c].n_signs; s++) {
			const struct ab_sign *sign = &k->causes[c].signs[s];
			if (sign->slot != (int)slot)
				continue;
			for (size_t i = 0; i < sign->n; i++)
				add_value(f, sign->x[i]);
			for (int i = 0; sign->n == 0 && (def->kind == AB_FACT_FLAG ? i < 2 : def->words[i] != NULL);
			     i++)
				add_value(f, i);
		}
	if (def->kind == AB_FACT_NUMBER)
		add_middles(f);
}

/* ---- how often each ---- */

static double log_ratio(const struct ab_cause *c, struct ab_fact *facts, size_t slot, double value, double before)
{
	struct ab_fact kept = facts[slot];

	facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
	double by = ab_cause_log_odds(c, facts, NULL) - before;
	facts[slot] = kept;
	return by;
}

/* ratio[cause][value] of the causes moved, with nothing else known; their number. */
static size_t ratios_of(
    const struct hidden *h, size_t slot, struct ab_fact *nothing, double (*ratio)[HIDDEN_VALUES], size_t *cause)
{
	const struct hidden_fact *f = &h->fact[slot];
	size_t n = 0;

	for (size_t c = 0; c < h->k->n_causes; c++) {
		double before = ab_cause_log_odds(&h->k->causes[c], nothing, NULL);
		bool moved = false;
		for (size_t v = 0; v < f->n; v++) {
			ratio[n][v] = exp(log_ratio(&h->k->causes[c], nothing, slot, f->value[v], before));
			moved = moved || fabs(ratio[n][v] - 1) > 1e-9;
		}
		cause[n] = c;
		n += moved;
	}
	return n;
}

static void normalise(struct hidden_fact *f)
{
	double sum = 0;

	for (size_t v = 0; v < f->n; v++)
		sum += f->often[v];
	for (size_t v = 0; v < f->n; v++)
		f->often[v] /= sum;
}

/* The tilt of one cause at which the mean of its ratio is 1, the others' tilts being in often already. */
static double tilt_of(const struct hidden_fact *f, const double *ratio)
{
	double low = -TILT_MOST, high = TILT_MOST;

	for (int i = 0; i < HALVINGS; i++) {
		double tilt = (low + high) / 2, off = 0;
		for (size_t v = 0; v < f->n; v++)
			off += f->often[v] * exp(-tilt * fmin(ratio[v] - 1, 1)) * (ratio[v] - 1);
		if (off > 0)
			low = tilt;
		else
			high = tilt;
	}
	return (low + high) / 2;
}

/* Often = exp(-sum of tilt * (ratio - 1)), cut at 1 so that a ratio of 50 does not make its value impossible: near
 * the most even distribution under the means wanted (Jaynes 1957, Phys. Rev. 106). */
static void find_often(const struct hidden *h, size_t slot, struct ab_fact *nothing, double (*ratio)[HIDDEN_VALUES],
    size_t *cause, double *tilt)
{
	struct hidden_fact *f = &h->fact[slot];
	size_t n = ratios_of(h, slot, nothing, ratio, cause);

	for (size_t v = 0; v < f->n; v++)
		f->often[v] = 1;
	memset(tilt, 0, n * sizeof *tilt);
	for (int sweep = 0; sweep < SWEEPS; sweep++)
		for (size_t i = 0; i < n; i++) {
			for (size_t v = 0; v < f->n; v++)
				f->often[v] *= exp(tilt[i] * fmin(ratio[i][v] - 1, 1));
			tilt[i] = tilt_of(f, ratio[i]);
			for (size_t v = 0; v < f->n; v++)
				f->often[v] *= exp(-tilt[i] * fmin(ratio[i][v] - 1, 1));
			normalise(f);
		}
	normalise(f);
}

struct hidden *hidden_new(const struct ab_knowledge *k, struct ab_arena *arena)
{
	struct hidden *h = room(arena, 1, sizeof *h);
	struct ab_fact *nothing = room(arena, k->facts->n, sizeof *nothing);
	double(*ratio)[HIDDEN_VALUES] = room(arena, k->n_causes, sizeof *ratio),
	*tilt = room(arena, k->n_causes, sizeof *tilt);
	size_t *cause = room(arena, k->n_causes, sizeof *cause);

	*h = (struct hidden){ k, room(arena, k->facts->n, sizeof *h->fact), room(arena, k->facts->n, 1) };
	mark_all(h->frame, k);
	for (size_t s = 0; s < k->facts->n; s++) {
		find_values(k, s, &h->fact[s]);
		if (h->fact[s].n > 0)
			find_often(h, s, nothing, ratio, cause, tilt);
	}
	return h;
}

double hidden_mean_ratio(const struct hidden *h, int slot, size_t cause)
{
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *nothing = room(arena, h->k->facts->n, sizeof *nothing);
	const struct ab_cause *c = &h->k->causes[cause];
	double before = ab_cause_log_odds(c, nothing, NULL), mean = 0;

	for (size_t v = 0; v < h->fact[slot].n; v++)
		mean += h->fact[slot].often[v] *
		    exp(log_ratio(c, nothing, (size_t)slot, h->fact[slot].value[v], before));
	ab_arena_free(arena);
	return mean;
}

/* ---- one brewer ---- */

struct ab_fact *hidden_frame(const struct hidden *h, const struct ab_fact *journal, struct ab_arena *arena)
{
	struct ab_fact *facts = room(arena, h->k->facts->n, sizeof *facts);

	for (size_t s = 0; s < h->k->facts->n; s++)
		if (h->frame[s])
			facts[s] = journal[s];
	return facts;
}

static size_t pick(const double *weight, size_t n, gsl_rng *rng)
{
	double sum = 0, u;
	size_t v = 0;

	for (size_t i = 0; i < n; i++)
		sum += weight[i];
	u = gsl_rng_uniform(rng) * sum;
	while (v + 1 < n && (u -= weight[v]) >= 0)
		v++;
	return v;
}

/* A value that makes a cause impossible which is there has weight 0; when all do, the fact stays unknown. */
static void draw_fact(const struct hidden *h, const struct ab_knowledge *world, const bool *active, size_t slot,
    gsl_rng *rng, struct ab_fact *facts)
{
	const struct hidden_fact *f = &h->fact[slot];
	double weight[HIDDEN_VALUES], most = 0;

	memcpy(weight, f->often, sizeof weight);
	for (size_t c = 0; c < world->n_causes; c++) {
		double before = active[c] ? ab_cause_log_odds(&world->causes[c], facts, NULL) : -INFINITY;
		if (isinf(before))
			continue;
		for (size_t v = 0; v < f->n; v++)
			weight[v] *= exp(log_ratio(&world->causes[c], facts, slot, f->value[v], before));
	}
	for (size_t v = 0; v < f->n; v++)
		most = fmax(most, weight[v]);
	if (most > 0)
		facts[slot] =
		    (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = f->value[pick(weight, f->n, rng)] };
}

void hidden_draw(const struct hidden *h, const struct ab_knowledge *world, const bool *active, gsl_rng *rng,
    struct ab_fact *facts)
{
	for (size_t s = 0; s < h->k->facts->n; s++)
		if (h->fact[s].n > 0 && !AB_FACT_KNOWN(&facts[s]))
			draw_fact(h, world, active, s, rng, facts);
}

double hidden_any(const struct hidden *h, int slot, gsl_rng *rng)
{
	return h->fact[slot].value[gsl_rng_uniform_int(rng, h->fact[slot].n)];
}
