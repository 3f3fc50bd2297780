/* brewers.c - brewers simulated from the rules
 *
 * Its own reading of the rules: nothing here calls the network or its builder, only the chances before tasting and
 * conditions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "brewers.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_randist.h>

#include <afterboil/redraw.h>

/* What evidence.c gives one taster's complete sheet. */
const double brewers_noticed = 0.4, brewers_missed = 0.3, brewers_mistaken = 0.1;
static const double TOLD_COMPLETE = 0.5;

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL) {
		printf("brewers: out of memory\n");
		exit(1);
	}
	return p;
}

static void *copy(struct ab_arena *arena, const void *from, size_t n, size_t size)
{
	void *to = room(arena, n, size);

	if (n > 0)
		memcpy(to, from, n * size);
	return to;
}

/* ---- other rules ---- */

/* also: a step besides the common one. */
static double error(const struct shift *s, double also, gsl_rng *rng)
{
	double step = s->step + also;

	return (gsl_rng_uniform(rng) < 0.5 ? -step : step) + s->sd * gsl_ran_ugaussian(rng);
}

static void shift_tail(double *tail, double by)
{
	for (int g = 1; g < AB_GRADES; g++)
		tail[g] = fmin(ab_logit_move(tail[g], by), tail[g - 1]);
}

static void shift_sign(struct ab_sign *sign, double by)
{
	for (size_t i = 0; i < AB_CURVE_POINTS; i++)
		sign->log_ratio[i] *= by;
	for (size_t i = 0; i < AB_WORDS; i++)
		sign->word_log_ratio[i] *= by;
}

enum { STAGES = 32 };

/* What all links, and all causes of one stage, have in common in this world. */
struct common { double links, stage[STAGES]; };

static void shift_cause(
    struct ab_cause *c, const struct shift *s, const struct common *common, gsl_rng *rng, struct ab_arena *arena)
{
	double of_stage = c->stage < STAGES ? common->stage[c->stage] : 0;

	c->priors = copy(arena, c->priors, c->n_priors, sizeof *c->priors);
	c->links = copy(arena, c->links, c->n_links, sizeof *c->links);
	for (size_t i = 0; i < c->n_priors; i++)
		c->priors[i].p = ab_logit_move(c->priors[i].p,
		    s->odds + of_stage + (c->priors[i].source.estimate ? error(s, s->priors, rng) : 0));
	for (size_t i = 0; i < c->n_links; i++)
		if (c->links[i].source.estimate)
			shift_tail(c->links[i].tail, common->links + error(s, s->links, rng));
	if (s->sign_share <= 0)
		return;
	c->signs = copy(arena, c->signs, c->n_signs, sizeof *c->signs);
	for (size_t i = 0; i < c->n_signs; i++)
		if (c->signs[i].source.estimate)
			shift_sign(&c->signs[i], 1 + s->sign_share * gsl_ran_ugaussian(rng));
}

const struct ab_knowledge *brewers_shift(
    const struct ab_knowledge *k, const struct shift *shift, gsl_rng *rng, struct ab_arena *arena)
{
	struct ab_knowledge *other = copy(arena, k, 1, sizeof *k);
	struct common common = { shift->together > 0 ? shift->together * gsl_ran_ugaussian(rng) : 0, { 0 } };

	other->causes = copy(arena, k->causes, k->n_causes, sizeof *k->causes);
	other->faults = copy(arena, k->faults, k->n_faults, sizeof *k->faults);
	for (size_t i = 0; shift->stages > 0 && i < STAGES; i++)
		common.stage[i] = shift->stages * gsl_ran_ugaussian(rng);
	for (size_t i = 0; i < k->n_causes; i++)
		shift_cause(&other->causes[i], shift, &common, rng, arena);
	for (size_t f = 0; f < k->n_faults; f++) {
		struct ab_fault *fault = &other->faults[f];
		fault->leaks = copy(arena, fault->leaks, fault->n_leaks, sizeof *fault->leaks);
		for (size_t i = 0; i < fault->n_leaks; i++)
			if (fault->leaks[i].source.estimate)
				shift_tail(fault->leaks[i].tail, common.links + error(shift, shift->links, rng));
	}
	struct ab_diag diag;
	ab_diag_init(&diag);
	if (ab_knowledge_settle(other, arena, &diag) != AB_OK) {
		printf("brewers: %s\n", diag.text);
		exit(1);
	}
	return other;
}

/* ---- one batch ---- */

struct brewing {
	const struct ab_knowledge *k;
	const struct ab_fact *facts;
	gsl_rng *rng;
	struct brew *brew;
	unsigned char *level;        /* [cause][fault]; after the last cause the leaks */
	const double **tail;         /* n_faults: of the cause in hand, NULL = it does not give that fault */
};

static int draw_level(const double *tail, double share, gsl_rng *rng)
{
	double u = gsl_rng_uniform(rng);
	int level = 0;

	while (level + 1 < AB_GRADES && u < share * tail[level + 1])
		level++;
	return level;
}

static unsigned char *levels_of(const struct brewing *b, size_t cause)
{
	return b->level + cause * b->k->n_faults;
}

static void contribute(const struct brewing *b, size_t cause, bool confusions)
{
	const struct ab_cause *c = &b->k->causes[cause];
	unsigned char *level = levels_of(b, cause);

	memset(b->tail, 0, b->k->n_faults * sizeof *b->tail);
	for (size_t i = 0; i < c->n_links; i++)
		if (ab_conds_hold(&c->links[i].when, b->facts))
			b->tail[c->links[i].fault] = c->links[i].tail;
	for (size_t f = 0; f < b->k->n_faults; f++) {
		const struct ab_fault *fault = &b->k->faults[f];
		int most = b->tail[f] != NULL ? draw_level(b->tail[f], 1, b->rng) : 0;
		for (size_t i = 0; confusions && i < fault->n_confusions; i++) {
			const struct ab_confusion *as = &fault->confusions[i];
			int mistaken = b->tail[as->with] != NULL ? draw_level(b->tail[as->with], as->share, b->rng) : 0;
			most = mistaken > most ? mistaken : most;
		}
		level[f] = (unsigned char)most;
	}
}

static void contribute_leaks(const struct brewing *b)
{
	unsigned char *level = levels_of(b, b->k->n_causes);

	for (size_t f = 0; f < b->k->n_faults; f++) {
		const struct ab_fault *fault = &b->k->faults[f];
		const double *tail = NULL;
		for (size_t i = 0; i < fault->n_leaks; i++)
			if (ab_conds_hold(&fault->leaks[i].when, b->facts))
				tail = fault->leaks[i].tail;
		level[f] = (unsigned char)(tail != NULL ? draw_level(tail, 1, b->rng) : 0);
	}
}

static int grade_of(const struct brewing *b, size_t fault)
{
	int most = 0;

	for (size_t c = 0; c <= b->k->n_causes; c++)
		most = levels_of(b, c)[fault] > most ? levels_of(b, c)[fault] : most;
	return most;
}

/* Told under the name as: whoever pushed the fault to its grade is to blame. */
static void tell(const struct brewing *b, size_t fault, int grade, size_t as)
{
	struct ab_finding *told = &b->brew->finding[as];

	b->brew->n_found += told->seen != AB_SEEN_FOUND;
	if (told->seen != AB_SEEN_FOUND || told->grade < grade)
		*told = (struct ab_finding){ AB_SEEN_FOUND, grade, 0 };
	for (size_t c = 0; c < b->k->n_causes; c++)
		if (levels_of(b, c)[fault] == grade)
			b->brew->to_blame[c] = true;
}

static void taste_some(const struct brewing *b)
{
	double looked_for = 0.02 + 0.2 * gsl_rng_uniform(b->rng);

	for (size_t f = 0; f < b->k->n_faults; f++) {
		int grade = grade_of(b, f);
		if (gsl_rng_uniform(b->rng) >= looked_for)
			continue;
		if (grade > 0)
			tell(b, f, grade, f);
		else
			b->brew->finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
	}
}

static void taste_all(const struct brewing *b)
{
	for (size_t i = 0; i < (b->k->n_causes + 1) * b->k->n_faults; i++)
		if (b->level[i] > 0 && gsl_rng_uniform(b->rng) >= brewers_noticed)
			b->level[i] = 0;
	for (size_t f = 0; f < b->k->n_faults; f++) {
		int grade = grade_of(b, f);
		if (grade > 0)
			tell(b, f, grade, f);
		else
			b->brew->finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, brewers_noticed };
	}
}

/* Some fault which the rules say this one is taken for, all alike; the fault itself when there is none. */
static size_t mistaken_name(const struct brewing *b, size_t fault)
{
	size_t name = fault, n = 0;

	for (size_t f = 0; f < b->k->n_faults; f++)
		for (size_t i = 0; i < b->k->faults[f].n_confusions; i++)
			if ((size_t)b->k->faults[f].confusions[i].with == fault &&
			    gsl_rng_uniform_int(b->rng, ++n) == 0)
				name = f;
	return name;
}

static void taste_badly(const struct brewing *b)
{
	bool complete = gsl_rng_uniform(b->rng) < TOLD_COMPLETE;

	for (size_t f = 0; complete && f < b->k->n_faults; f++)
		b->brew->finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, brewers_noticed };
	for (size_t f = 0; f < b->k->n_faults; f++) {
		int grade = grade_of(b, f);
		if (grade == 0 || gsl_rng_uniform(b->rng) < brewers_missed)
			continue;
		tell(b, f, grade, gsl_rng_uniform(b->rng) < brewers_mistaken ? mistaken_name(b, f) : f);
	}
}

static void (*const tastings[])(const struct brewing *b) = { taste_some, taste_all, taste_badly };

struct brew *brewers_taste(const struct ab_knowledge *world, const struct ab_fact *facts, const bool *active,
    enum tasting tasting, gsl_rng *rng, struct ab_arena *arena)
{
	struct brew *brew = room(arena, 1, sizeof *brew);
	struct brewing b = { world, facts, rng, brew, room(arena, (world->n_causes + 1) * world->n_faults, 1),
	    room(arena, world->n_faults, sizeof *b.tail) };

	brew->active = copy(arena, active, world->n_causes, sizeof *active);
	brew->to_blame = room(arena, world->n_causes, sizeof *brew->to_blame);
	brew->finding = room(arena, world->n_faults, sizeof *brew->finding);
	for (size_t c = 0; c < world->n_causes; c++)
		if (active[c])
			contribute(&b, c, tasting != TASTE_BADLY);
	contribute_leaks(&b);
	tastings[tasting](&b);
	return brew;
}

struct brew *brewers_brew(const struct ab_knowledge *world, const struct ab_fact *facts, enum tasting tasting,
    gsl_rng *rng, struct ab_arena *arena)
{
	double *alone = room(arena, world->n_causes, sizeof *alone);
	bool *active = room(arena, world->n_causes, sizeof *active);

	ab_alone(world, facts, alone);
	for (size_t c = 0; c < world->n_causes; c++)
		active[c] = gsl_rng_uniform(rng) < alone[c];
	return brewers_taste(world, facts, active, tasting, rng, arena);
}
