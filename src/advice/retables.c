/* retables.c - what sets of changes take away of each cause, in one draw of the estimates
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include <afterboil/redraw.h>

/* A learned share is moved by no more than this in logit, however wide it is (policy by estimate: two steps). */
#define LEARNED_MOST 1.6

static double chance_of(const struct retables *r, size_t cause, const struct retables_state *s)
{
	double odds;

	if (s->prior < 0)
		return 0;
	odds = r->e->drawn.causes[cause].priors[s->prior].log_odds;
	for (size_t i = 0; i < s->n; i++)
		odds += r->words[s->first + i].weight * r->e->sign[cause][r->words[s->first + i].sign];
	return 1 / (1 + exp(-odds));
}

static double fall(const struct retables *r, size_t before, size_t after)
{
	double share = r->p[before] > 0 ? 1 - r->p[after] / r->p[before] : 0;

	return share < 0 ? 0 : share > ADVISING_CEILING ? ADVISING_CEILING : share;
}

/* A set comes short of its marks as those in it do, each by what it takes alone; and takes no less than a part of
 * it. Sums of a set are those of the set without its last and that one's: this is done for every set of every sort
 * in every draw. */
static void fill_fell(const struct retables *r, struct retable *t, size_t s)
{
	const unsigned *state = &t->state[s << t->n];
	double *all = t->all, *by = t->short_by;

	t->fell[0] = all[0] = by[0] = 0;
	for (size_t i = 0; i < t->n; i++) {
		unsigned last = 1U << i;
		double alone = t->by[s * t->n + i] == BY_REPLAY ? fall(r, state[0], state[last]) : 0,
		    come_short = alone * r->e->change[t->changes[i]].reach;

		for (unsigned mask = last; mask < last << 1; mask++) {
			double least = 0, fell;

			all[mask] = all[mask - last] + alone;
			by[mask] = by[mask - last] + come_short;
			for (unsigned rest = mask; rest != 0; rest &= rest - 1) {
				double part = t->fell[mask & ~(rest & -rest)];

				least = part > least ? part : least;
			}
			fell = state[mask] != state[0] ? ab_logit_move(fall(r, state[0], state[mask]),
							     all[mask] > 0 ? by[mask] / all[mask] : 0)
						       : 0;
			t->fell[mask] = fell > least ? fell : least;
		}
	}
}

static double rated(const struct retables *r, const struct retable *t, size_t s, size_t i)
{
	int by = t->by[s * t->n + i];

	return by >= 0 ? r->e->drawn.changes[t->changes[i]].prevents[by].share : 0;
}

static size_t lowest(unsigned mask)
{
	return (size_t)__builtin_ctz(mask);
}

static void fill_sort(const struct retables *r, struct retable *t, size_t s)
{
	double kept[AB_PLAN_JOINT], *taken = t->taken + (s << t->n);

	fill_fell(r, t, s);
	for (size_t i = 0; i < t->n; i++)
		kept[i] = 1 - rated(r, t, s, i);
	t->left[0] = 1;
	for (unsigned mask = 1; mask < 1U << t->n; mask++) {
		t->left[mask] = t->left[mask & (mask - 1)] * kept[lowest(mask)];
		taken[mask] = 1 - t->left[mask] * (1 - t->fell[mask]);
	}
}

static void add_set(struct retable *t, size_t b, double w)
{
	const double *taken = t->taken + (t->sort[b] << t->n);

	for (unsigned mask = 1; mask < 1U << t->n; mask++)
		t->share[mask] += w * taken[mask];
}

static const struct ab_tried *tried(const struct advising *a, size_t u, size_t cause)
{
	for (size_t i = 0; i < a->out->n_tried; i++)
		if ((size_t)a->out->tried[i].change == u && (size_t)a->out->tried[i].cause == cause)
			return &a->out->tried[i];
	return NULL;
}

/* What own batches taught of a change stands, whatever the draw makes of what was expected of it: what is left open
 * of it is its own spread. */
static void learn(const struct retables *r, struct retable *t, size_t i, const double *z)
{
	const struct advising *a = r->a;
	size_t at = (size_t)t->changes[i] * a->k->n_causes + t->cause;
	const struct ab_tried *tr =
	    advising_tried(a, (size_t)t->changes[i], t->cause) ? tried(a, (size_t)t->changes[i], t->cause) : NULL;
	double held = a->held[at], alone = t->share[1U << i];

	if (tr == NULL)
		return;
	if (z != NULL && alone > 0 && tr->share > 0 && tr->share < 1) {
		double step = fmin(tr->sd / (tr->share * (1 - tr->share)), LEARNED_MOST);

		held *= t->alone[i] / alone * ab_logit_move(tr->share, z[at] * step) / tr->share;
	}
	for (unsigned mask = 1; mask < 1U << t->n; mask++)
		if (mask >> i & 1)
			t->share[mask] = advising_as_learned(t->share[mask], t->share[mask & ~(1U << i)], held);
}

static void fill_table(const struct retables *r, struct retable *t, const struct advising *drawn, const double *z)
{
	const struct advising *a = r->a;

	memset(t->share, 0, sizeof *t->share << t->n);
	for (size_t s = 0; s < t->n_sorts && drawn->seen[t->cause] > 0; s++)
		fill_sort(r, t, s);
	for (size_t b = 0; b < a->n_sets; b++)
		if (advising_present_in(a, b, t->cause) > 0 && drawn->seen[t->cause] > 0)
			add_set(t, b, advising_present_in(drawn, b, t->cause) / drawn->seen[t->cause]);
	if (z == NULL)
		memcpy(t->left, t->share, sizeof *t->left << t->n);
	for (size_t i = 0; i < t->n; i++)
		learn(r, t, i, z);
	for (unsigned mask = 0; mask < 1U << t->n; mask++)
		t->share[mask] = fmin(fmax(t->share[mask], 0), 1);
	t->share[0] = 0;
}

void retables_fill(struct retables *r, const struct advising *drawn, const double *z)
{
	size_t s = 0;

	for (size_t j = 0; j < r->n; j++) {   /* states lie table after table */
		size_t end = r->tables[j].end;

		for (; s < end; s++)
			r->p[s] = chance_of(r, r->tables[j].cause, &r->states[s]);
		fill_table(r, &r->tables[j], drawn, z);
	}
}
