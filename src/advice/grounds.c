/* grounds.c - walks the batches' facts through the conditions of the rules, once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/grounds.h"

#include <math.h>

#include "advice/advising.h"

/* ---- by sets ---- */

static bool family_may_mean(const struct advising *a, size_t b, size_t fault)
{
	if (a->family[b] < 0 || (size_t)a->family[b] >= a->k->n_families)
		return false;
	const struct ab_family *family = &a->k->families[a->family[b]];
	for (size_t i = 0; i < family->n_expects; i++)
		if ((size_t)family->expects[i].fault == fault && ab_conds_hold(&family->expects[i].when, a->facts[b]))
			return true;
	return false;
}

/* By a yeast or the like: its strength, which decides, is an estimate. */
static void note_traits(const struct advising *a, size_t b, unsigned char *may)
{
	for (size_t i = 0; i < a->k->n_causes; i++) {
		const struct ab_cause *c = &a->k->causes[i];
		for (size_t j = 0; c->expects && j < c->n_links; j++)
			if (c->links[j].when.n > 0 && ab_conds_hold(&c->links[j].when, a->facts[b]))
				may[c->links[j].fault] = 1;
	}
	for (size_t f = 0; f < a->k->n_faults; f++)
		may[f] = may[f] || family_may_mean(a, b, f);
}

static int leak_at(const struct advising *a, const struct ab_fact *facts, size_t fault)
{
	const struct ab_fault *f = &a->k->faults[fault];
	int at = -1;

	for (size_t i = 0; i < f->n_leaks; i++)
		if (ab_conds_hold(&f->leaks[i].when, facts))
			at = (int)i;
	return at;
}

static void note_sets(const struct advising *a, struct grounds *g)
{
	size_t n = a->k->n_faults;

	for (size_t b = 0; b < a->n_sets; b++) {
		if (a->weight[b] <= 0)
			continue;
		note_traits(a, b, g->may_mean + b * n);
		for (size_t f = 0; f < n; f++)
			g->leak[b * n + f] = (short)leak_at(a, a->facts[b], f);
	}
}

/* ---- links ---- */

/* The last whose conditions hold is the one that counts: the rules list the general case first. -1: none. */
static int link_at(const struct ab_cause *c, const struct ab_fact *facts, size_t fault)
{
	int at = -1;

	for (size_t i = 0; i < c->n_links; i++)
		if ((size_t)c->links[i].fault == fault && ab_conds_hold(&c->links[i].when, facts))
			at = (int)i;
	return at;
}

/* at: room for a place a fault, -1 in all, and so it is left. */
static void add_ways(const struct advising *a, struct grounds *g, size_t cause, size_t b, int *at, size_t *n)
{
	const struct ab_cause *c = &a->k->causes[cause];

	for (size_t i = 0; i < c->n_links; i++)
		if (ab_conds_hold(&c->links[i].when, a->facts[b]))
			at[c->links[i].fault] = (int)i;
	for (size_t f = 0; f < a->k->n_faults; f++) {
		if (at[f] < 0)
			continue;
		g->ways[(*n)++] = (struct ground_way){ (unsigned short)at[f], (unsigned short)f,
			a->k->faults[f].severity * ab_family_factor(a->k, a->family[b], (int)f) };
		at[f] = -1;
	}
}

static bool note_ways(const struct advising *a, struct grounds *g)
{
	size_t most = 0, n = 0, sets = 0, n_at = a->n_sets * a->k->n_causes;
	int *at = ab_arena_alloc(a->arena, a->k->n_faults, sizeof *at);

	for (size_t i = 0; i < a->k->n_causes; i++)
		most += a->k->causes[i].n_links;
	for (size_t b = 0; b < a->n_sets; b++)
		sets += a->weight[b] > 0;
	g->ways = ab_arena_alloc(a->arena, most * sets, sizeof *g->ways);
	g->ways_from = ab_arena_alloc(a->arena, n_at + 1, sizeof *g->ways_from);
	if (at == NULL || g->ways == NULL || g->ways_from == NULL)
		return false;
	for (size_t f = 0; f < a->k->n_faults; f++)
		at[f] = -1;
	for (size_t i = 0; i < n_at; i++) {
		g->ways_from[i] = n;
		if (a->weight[i % a->n_sets] > 0)
			add_ways(a, g, i / a->n_sets, i % a->n_sets, at, &n);
	}
	g->ways_from[n_at] = n;
	return true;
}

/* ---- what was found ---- */

static bool was_found(const struct ab_case *c, size_t fault)
{
	return c->tasted && c->fault_load != NULL && c->fault_load[fault] > 0;
}

static size_t count_found(const struct ab_case *c, size_t n_faults)
{
	size_t n = 0;

	for (size_t f = 0; f < n_faults; f++)
		n += was_found(c, f);
	return n;
}

static bool add_links(
    const struct advising *a, struct grounds *g, const struct ab_fact *facts, struct ground_found *found)
{
	found->first = g->n_links;
	for (size_t i = 0; i < a->k->n_causes; i++) {
		int at = link_at(&a->k->causes[i], facts, (size_t)found->fault);
		struct ground_link *link = at < 0 ? NULL
		    : ab_arena_push(a->arena, &g->links, &g->n_links, &g->cap_links, sizeof *link);

		if (link != NULL)
			*link = (struct ground_link){ (unsigned short)i, (unsigned short)at };
		else if (at >= 0)
			return false;
	}
	found->n = g->n_links - found->first;
	return true;
}

static bool add_found(
    const struct advising *a, struct grounds *g, const struct ab_case *c, const struct ab_fact *facts, size_t *n)
{
	for (size_t f = 0; f < a->k->n_faults; f++) {
		if (!was_found(c, f))
			continue;
		g->found[*n] = (struct ground_found){ .fault = (int)f, .leak = leak_at(a, facts, f) };
		if (!add_links(a, g, facts, &g->found[*n]))
			return false;
		++*n;
	}
	return true;
}

static bool note_found(const struct advising *a, struct grounds *g)
{
	size_t most = a->told != NULL ? count_found(a->told, a->k->n_faults) : 0, n = 0;

	for (size_t b = 0; b < a->n_cases; b++)
		most += count_found(a->cases[b], a->k->n_faults);
	g->found = ab_arena_alloc(a->arena, most, sizeof *g->found);
	g->found_from = ab_arena_alloc(a->arena, a->n_cases + 2, sizeof *g->found_from);
	if (g->found == NULL || g->found_from == NULL)
		return false;
	for (size_t b = 0; b < a->n_cases; b++) {
		if (!add_found(a, g, a->cases[b], a->facts[b], &n))
			return false;
		g->found_from[b + 1] = n;
	}
	if (a->told != NULL && !add_found(a, g, a->told, a->told->facts, &n))
		return false;
	g->found_from[a->n_cases + 1] = n;
	return true;
}

/* ---- changes ---- */

/* One there from the first batch on has no before. */
static void note_turns(const struct advising *a, struct grounds *g)
{
	for (size_t u = 0; u < a->k->n_changes; u++) {
		size_t at = advising_adopted(a, (int)u);

		if (at < a->n_cases && !advising_from_the_first(a, u))
			g->turns[g->n_turns++] = (struct ground_turn){ u, at };
	}
}

static bool made(const struct advising *a, int change)
{
	size_t at = advising_adopted(a, change);

	return at > 0 && at < a->n_cases;
}

static void note_owned(const struct advising *a, struct grounds *g)
{
	for (AB_EACH(const struct ab_owns, owns, a->profile->owns)) {
		int u = ab_change_find(a->k, owns->change);

		if (u >= 0 && owns->unused != AB_YES && !made(a, u))
			g->owned[g->n_owned++] = (size_t)u;
	}
}

/* ---- the whole ---- */

static bool make_room(const struct advising *a, struct grounds *g)
{
	size_t n = a->n_sets * a->k->n_faults;

	g->age = ab_arena_alloc(a->arena, a->n_cases, sizeof *g->age);
	g->may_mean = ab_arena_alloc(a->arena, n, sizeof *g->may_mean);
	g->leak = ab_arena_alloc(a->arena, n, sizeof *g->leak);
	g->turns = ab_arena_alloc(a->arena, a->k->n_changes, sizeof *g->turns);
	g->owned = ab_arena_alloc(a->arena, a->profile != NULL ? a->profile->owns.n : 0, sizeof *g->owned);
	return g->age != NULL && g->may_mean != NULL && g->leak != NULL && g->turns != NULL && g->owned != NULL;
}

enum ab_status advising_grounds(struct advising *a, struct ab_diag *diag)
{
	struct grounds *g = ab_arena_alloc(a->arena, 1, sizeof *g);

	a->grounds = g;
	if (g == NULL || !make_room(a, g))
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_cases; b++)
		g->age[b] = pow(ADVISING_DECAY, (double)(a->n_cases - 1 - b));
	note_sets(a, g);
	note_turns(a, g);
	if (a->profile != NULL)
		note_owned(a, g);
	return note_ways(a, g) && note_found(a, g) ? AB_OK : advising_nomem(diag);
}
