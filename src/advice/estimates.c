/* estimates.c - the rules drawn again within the steps of their estimates
 *
 * Chances (priors, strengths, leaks, rated shares) move by a whole step of 0.8 in logit, a sign's log ratio by a
 * quarter of itself: the steps of the likely ranges (ranges.c says why). All grades of a strength move by one draw,
 * for one head rated them together. What a change is meant to reach is rated as coarsely as a share, and moves like
 * one. Prices move by a factor with a step of 0.35 (estimate): the ranges that things of one sort are sold in reach
 * from about 0.7 to 1.4 of their middle. Minutes by one of 0.5 (estimate: who is quick takes half the time of who
 * is slow). How heavily a fault weighs is no estimate of something that is so, but a judgement, and stays.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/estimates.h"

#include <math.h>
#include <string.h>
#include <gsl/gsl_randist.h>
#include <afterboil/redraw.h>

const double estimates_chance = 0.8, estimates_sign = 0.25, estimates_price = 0.35, estimates_minutes = 0.5;

static void *copy(struct ab_arena *arena, const void *from, size_t n, size_t size)
{
	void *to = ab_arena_alloc(arena, n, size);

	if (to != NULL && n > 0)
		memcpy(to, from, n * size);
	return to;
}

static bool copy_cause(struct estimates *e, size_t i, struct ab_arena *arena)
{
	struct ab_cause *c = &e->drawn.causes[i];

	c->priors = copy(arena, c->priors, c->n_priors, sizeof *c->priors);
	c->signs = copy(arena, c->signs, c->n_signs, sizeof *c->signs);
	c->links = copy(arena, c->links, c->n_links, sizeof *c->links);
	e->sign[i] = ab_arena_alloc(arena, c->n_signs, sizeof *e->sign[i]);
	return c->priors != NULL && c->signs != NULL && c->links != NULL && e->sign[i] != NULL;
}

static bool copy_rules(struct estimates *e, struct ab_arena *arena)
{
	const struct ab_knowledge *k = e->k;
	bool room;

	e->drawn = *k;
	e->drawn.causes = copy(arena, k->causes, k->n_causes, sizeof *k->causes);
	e->drawn.faults = copy(arena, k->faults, k->n_faults, sizeof *k->faults);
	e->drawn.changes = copy(arena, k->changes, k->n_changes, sizeof *k->changes);
	e->sign = ab_arena_alloc(arena, k->n_causes, sizeof *e->sign);
	e->change = ab_arena_alloc(arena, k->n_changes, sizeof *e->change);
	room = e->drawn.causes != NULL && e->drawn.faults != NULL && e->drawn.changes != NULL && e->sign != NULL &&
	    e->change != NULL;
	for (size_t i = 0; room && i < k->n_causes; i++)
		room = copy_cause(e, i, arena);
	for (size_t f = 0; room && f < k->n_faults; f++) {
		struct ab_fault *fault = &e->drawn.faults[f];

		fault->leaks = copy(arena, fault->leaks, fault->n_leaks, sizeof *fault->leaks);
		room = fault->leaks != NULL;
	}
	for (size_t u = 0; room && u < k->n_changes; u++) {
		struct ab_change *c = &e->drawn.changes[u];

		c->prevents = copy(arena, c->prevents, c->n_prevents, sizeof *c->prevents);
		room = c->prevents != NULL;
	}
	return room;
}

enum ab_status estimates_open(
    struct estimates *e, const struct ab_knowledge *k, struct ab_arena *arena, struct ab_diag *diag)
{
	*e = (struct estimates){ .k = k, .settled = ab_arena_new() };
	if (e->settled == NULL || !copy_rules(e, arena))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for redrawn estimates");
	return estimates_draw(e, NULL, diag);
}

void estimates_close(struct estimates *e)
{
	ab_arena_free(e->settled);
	e->settled = NULL;
}

static double draw(gsl_rng *rng, const struct ab_source_note *source, double step)
{
	return rng != NULL && source->estimate ? gsl_ran_gaussian_ziggurat(rng, step) : 0;
}

/* The move keeps the order of grades; its rounding need not. */
static void move_tail(double *tail, const double *as_written, double by)
{
	double odds = exp(by);

	for (int g = 1; g < AB_GRADES; g++) {
		double moved = ab_odds_move(as_written[g], odds);

		tail[g] = moved < tail[g - 1] ? moved : tail[g - 1];
	}
}

static void draw_sign(struct ab_sign *sign, const struct ab_sign *as_written, double factor)
{
	for (size_t i = 0; i < sign->n; i++)
		sign->log_ratio[i] = as_written->log_ratio[i] * factor;
	for (size_t i = 0; sign->n == 0 && i < AB_WORDS; i++)
		sign->word_log_ratio[i] = as_written->word_log_ratio[i] * factor;
}

static void draw_cause(struct estimates *e, size_t i, gsl_rng *rng)
{
	const struct ab_cause *from = &e->k->causes[i];
	struct ab_cause *to = &e->drawn.causes[i];

	for (size_t j = 0; j < from->n_priors; j++)
		to->priors[j].p =
		    ab_logit_move(from->priors[j].p, draw(rng, &from->priors[j].source, estimates_chance));
	for (size_t j = 0; j < from->n_signs; j++) {
		e->sign[i][j] = 1 + draw(rng, &from->signs[j].source, estimates_sign);
		draw_sign(&to->signs[j], &from->signs[j], e->sign[i][j]);
	}
	for (size_t j = 0; j < from->n_links; j++)
		move_tail(to->links[j].tail, from->links[j].tail, draw(rng, &from->links[j].source, estimates_chance));
}

static void draw_change(struct estimates *e, size_t u, gsl_rng *rng)
{
	const struct ab_change *from = &e->k->changes[u];
	bool sets = from->n_sets > 0;

	for (size_t j = 0; j < from->n_prevents; j++)
		e->drawn.changes[u].prevents[j].share = ab_logit_move(from->prevents[j].share,
		    draw(rng, &from->prevents[j].source, estimates_chance));
	e->change[u].price = exp(draw(rng, &from->source, estimates_price));
	e->change[u].minutes = exp(draw(rng, &from->source, estimates_minutes));
	e->change[u].reach = sets ? draw(rng, &from->sets[0].source, estimates_chance) : 0;
}

enum ab_status estimates_draw(struct estimates *e, gsl_rng *rng, struct ab_diag *diag)
{
	for (size_t i = 0; i < e->k->n_causes; i++)
		draw_cause(e, i, rng);
	for (size_t f = 0; f < e->k->n_faults; f++)
		for (size_t j = 0; j < e->k->faults[f].n_leaks; j++) {
			const struct ab_leak *leak = &e->k->faults[f].leaks[j];

			move_tail(e->drawn.faults[f].leaks[j].tail, leak->tail,
			    draw(rng, &leak->source, estimates_chance));
		}
	for (size_t u = 0; u < e->k->n_changes; u++)
		draw_change(e, u, rng);
	ab_arena_reset(e->settled);
	return ab_knowledge_settle(&e->drawn, e->settled, diag);
}
