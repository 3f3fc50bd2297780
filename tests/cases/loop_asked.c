/* loop_asked.c - the brewer does the checks that the diagnosis names, and answers its questions
 *
 * An outcome is drawn from the causes that were there, by the rules of the world. A question has an answer where
 * the fact is one that the program was not told; else the brewer does not know. A check costs what the rules say,
 * and nothing is asked that costs more than is left.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <stdio.h>
#include <stdlib.h>

/* After one batch: so many get an answer, of so many that are put. */
enum { ANSWERS = 3, PUT = 6 };

struct asking {
	struct loop_brewer *b;
	struct ab_case *c;
	const bool *active;
	signed char *check;      /* as in ab_evidence */
	bool *put;               /* by slot, then by check */
};

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL)
		loop_give_up("asked", "out of memory");
	return p;
}

static signed char outcome(const struct loop_brewer *b, int check, const bool *active)
{
	const struct ab_check *c = &b->world->truth->checks[check];
	double no = 1 - c->base;

	for (size_t i = 0; i < c->n_yes; i++)
		no *= active[c->yes[i].cause] ? 1 - c->yes[i].p : 1;
	return gsl_rng_uniform(b->rng) < no ? -1 : 1;
}

/* Puts one question or check; is it answered? */
static bool put(struct asking *a, const struct ab_ask *ask)
{
	struct loop_brewer *b = a->b;

	if (ask->is_check) {
		a->check[ask->check] = outcome(b, ask->check, a->active);
		b->spent += ask->cost;
		return true;
	}
	if (!AB_FACT_KNOWN(&b->facts[ask->slot]))
		return false;
	a->c->facts[ask->slot] = b->facts[ask->slot];
	return true;
}

/* The best that was not put yet and can be paid; NULL: none. */
static const struct ab_ask *next_ask(const struct asking *a, const struct ab_diagnosis *d)
{
	for (size_t i = 0; i < d->n_asks; i++) {
		bool *was = &a->put[d->asks[i].is_check ? a->b->world->k->facts->n + (size_t)d->asks[i].check
							: (size_t)d->asks[i].slot];
		if (*was || a->b->spent + d->asks[i].cost > a->b->world->budget)
			continue;
		*was = true;
		return &d->asks[i];
	}
	return NULL;
}

enum ab_status loop_ask(struct loop_brewer *b, struct ab_case *c, const bool *active, struct ab_diag *diag)
{
	const struct ab_knowledge *k = b->world->k;
	struct ab_diagnose_options options = { .scratch = b->scratch, .reasons = true };
	struct asking a = { b, c, active, room(b->arena, k->n_checks, 1),
		room(b->arena, k->facts->n + k->n_checks, sizeof(bool)) };
	size_t answers = 0;
	enum ab_status st;

	c->evidence.check = a.check;
	st = ab_diagnose(k, c->facts, &c->evidence, &options, b->arena, &c->diagnosis, diag);
	for (size_t n = 0; st == AB_OK && answers < ANSWERS && n < PUT; n++) {
		const struct ab_ask *ask = next_ask(&a, c->diagnosis);
		if (ask == NULL)
			break;
		if (!put(&a, ask))
			continue;
		answers++;
		st = ab_diagnose(k, c->facts, &c->evidence, &options, b->arena, &c->diagnosis, diag);
	}
	return st;
}
