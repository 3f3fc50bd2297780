/* insidecase.c - see insidecase.h
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "insidecase.h"

#include <check.h>
#include <math.h>
#include <stdint.h>

/* ---- a generator that falls silent ---- */

struct gate { gsl_rng *from; unsigned long open, given; };

static void gate_set(void *state, unsigned long seed)
{
	(void)state;
	(void)seed;
}

static unsigned long gate_get(void *state)
{
	struct gate *g = state;

	if (g->given >= g->open)
		return 0;
	g->given++;
	return gsl_rng_get(g->from);
}

static double gate_get_double(void *state)
{
	return (double)gate_get(state) / 4294967296.0;
}

static const gsl_rng_type gate = { "gate", 0xffffffffUL, 0, sizeof(struct gate), gate_set, gate_get, gate_get_double };

gsl_rng *inside_rng(unsigned long seed, unsigned long open)
{
	gsl_rng *rng = gsl_rng_alloc(&gate);
	struct gate *g = rng->state;

	*g = (struct gate){ .from = gsl_rng_alloc(gsl_rng_mt19937), .open = open };
	gsl_rng_set(g->from, seed);
	return rng;
}

unsigned long inside_rng_given(const gsl_rng *rng)
{
	const struct gate *g = rng->state;

	return g->given;
}

void inside_rng_free(gsl_rng *rng)
{
	struct gate *g = rng->state;

	gsl_rng_free(g->from);
	gsl_rng_free(rng);
}

/* ---- advice ---- */

static void make_sets(struct advising *a, const struct brewery *b)
{
	size_t n = a->n_cases > 0 ? a->n_cases : 1;
	double sum = 0;

	a->n_sets = n;
	a->out = ab_arena_alloc(a->arena, 1, sizeof *a->out);
	a->facts = ab_arena_alloc(a->arena, n, sizeof *a->facts);
	a->batch = ab_arena_alloc(a->arena, n, sizeof *a->batch);
	a->family = ab_arena_alloc(a->arena, n, sizeof *a->family);
	a->weight = ab_arena_alloc(a->arena, n, sizeof *a->weight);
	a->facts[0] = ab_arena_alloc(a->arena, a->k->facts->n, sizeof **a->facts);
	a->family[0] = -1;
	a->weight[0] = 1;
	for (size_t i = 0; i < a->n_cases; i++) {
		a->facts[i] = b->cases[i]->facts;
		a->batch[i] = b->cases[i]->batch;
		a->family[i] = b->cases[i]->evidence.family;
		a->weight[i] = pow(ADVISING_DECAY, (double)(n - 1 - i));
	}
	for (size_t i = 0; i < n; i++)
		sum += a->weight[i];
	for (size_t i = 0; i < n; i++)
		a->weight[i] /= sum;
}

void inside_open(struct advising *a, struct brewery *b, const struct ab_knowledge *k)
{
	static enum ab_status (*const steps[])(struct advising *, struct ab_diag *) = {
		advising_replays_open, advising_told, advising_uses, advising_forces, advising_grounds, advising_priors,
		advising_contexts, advising_together, advising_learn, advising_recurrence, advising_seen,
		advising_things, advising_limits, advising_attribution, advising_there,
		advising_idle, advising_effects, advising_problem, advising_choose, advising_left_out, advising_order };

	*a = (struct advising){ .k = k,
		.cases = b->cases,
		.n_cases = b->n,
		.profile = b->profile,
		.options = &b->options,
		.arena = b->arena };
	ck_assert(b->n <= ADVISING_FADED);
	make_sets(a, b);
	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
		ck_assert_msg(steps[i](a, &b->diag) == AB_OK, "step %zu: %s", i, b->diag.text);
}

void inside_close(struct advising *a)
{
	advising_replays_close(a);
}

void inside_found(struct brewery *b, struct ab_case *c, int fault, double load)
{
	const struct ab_diagnose_options options = { .redraws = 0 };
	struct ab_finding *finding = ab_arena_alloc(b->arena, b->k->n_faults, sizeof *finding);

	finding[fault] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	c->evidence.finding = finding;
	c->tasted = true;
	c->fault_load = ab_arena_alloc(b->arena, b->k->n_faults, sizeof *c->fault_load);
	c->fault_load[fault] = load;
	ck_assert_int_eq(ab_diagnose(b->k, c->facts, &c->evidence, &options, b->arena, &c->diagnosis, &b->diag), AB_OK);
}

/* ---- rules that are sure ---- */

static void settle(struct ab_source_note *s)
{
	s->estimate = false;
}

void inside_measured(const struct ab_knowledge *of)
{
	struct ab_knowledge *k = (struct ab_knowledge *)(uintptr_t)of;

	for (size_t i = 0; i < k->n_causes; i++) {
		struct ab_cause *c = &k->causes[i];

		for (size_t j = 0; j < c->n_priors; j++)
			settle(&c->priors[j].source);
		for (size_t j = 0; j < c->n_signs; j++)
			settle(&c->signs[j].source);
		for (size_t j = 0; j < c->n_links; j++)
			settle(&c->links[j].source);
	}
	for (size_t f = 0; f < k->n_faults; f++)
		for (size_t j = 0; j < k->faults[f].n_leaks; j++)
			settle(&k->faults[f].leaks[j].source);
	for (size_t u = 0; u < k->n_changes; u++) {
		struct ab_change *c = &k->changes[u];

		settle(&c->source);
		for (size_t j = 0; j < c->n_prevents; j++)
			settle(&c->prevents[j].source);
		for (size_t j = 0; j < c->n_sets; j++)
			settle(&c->sets[j].source);
	}
}
