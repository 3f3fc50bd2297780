/* firmness.c - how often each item stays in the best plan when every estimate is redrawn, and what the plan then falls short
 * of the best
 *
 * Each draw is a world (redrawing.h): rules, prices and minutes moved, the batches diagnosed again, loads and the shares of
 * sets reckoned again, and that problem solved exactly. Seeded: results repeat, and the same seed draws the same worlds from
 * the same rules, so that two answers are held against each other in them and not by chance. Generator: GSL mt19937.
 * In a world whose prices or minutes take more than there is, ours is what is bought in its order until that is gone.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_errno.h>
#include "advice/planning.h"

/* Worlds in which what was tasted cannot be are drawn again, so often in all. */
enum { MOST_AGAIN = 1000 };

struct counting {
	struct redrawing r;
	gsl_rng *rng;
	struct ab_choice choice;
	unsigned char *plan, *ours;        /* as advised; what of it there is means for in this draw */
	double *regret;                    /* draws */
	struct pivoting pivot;
};

static enum ab_status make_ready(struct counting *c, struct ab_diag *diag)
{
	struct advising *a = c->r.a;
	size_t n = a->k->n_changes;

	c->choice.chosen = ab_arena_alloc(a->arena, n, 1);
	c->plan = ab_arena_alloc(a->arena, n, 1);
	c->ours = ab_arena_alloc(a->arena, n, 1);
	c->regret = ab_arena_alloc(a->arena, a->options->redraws, sizeof *c->regret);
	if (c->choice.chosen == NULL || c->plan == NULL || c->ours == NULL || c->regret == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++)
		c->plan[u] = a->out->items[u].chosen;
	return pivoting_open(&c->pivot, &c->r, c->plan, a->options->redraws, diag);
}

/* At this stage the plan lists changes by their number. What an item needs stands before it. */
static void buy_in_order(struct counting *c)
{
	const struct ab_advice *out = c->r.a->out;
	const struct ab_knowledge *k = c->r.a->k;

	memset(c->ours, 0, k->n_changes);
	for (size_t i = 0; i < out->n_plan; i++) {
		const struct ab_change *change = &k->changes[out->plan[i]];
		bool met = true;

		for (size_t j = 0; j < change->n_needs; j++)
			met = met && (c->ours[change->needs[j]] || out->items[change->needs[j]].owned);
		c->ours[out->plan[i]] = met;
		if (met && !plan_within(&c->r.problem, c->ours))
			c->ours[out->plan[i]] = 0;
	}
}

/* One that saves minutes may be what makes room for one before it: where all fit together, all are bought. */
static double fallen_short(struct counting *c)
{
	const unsigned char *ours = c->plan;

	if (!plan_within(&c->r.problem, c->plan)) {
		buy_in_order(c);
		ours = c->ours;
	}
	return fmax(0, c->choice.removed - ab_plan_removed(&c->r.problem, ours));
}

static enum ab_status draw_and_solve(struct counting *c, size_t *again, struct ab_diag *diag)
{
	struct ab_diag own;
	enum ab_status st;

	do {
		ab_diag_init(&own);
		st = redrawing_draw(&c->r, c->rng, &own);
	} while (st == AB_EIMPOSSIBLE && ++*again < MOST_AGAIN);
	if (st != AB_OK)
		return st == AB_EIMPOSSIBLE ? st : ab_fail(diag, st, NULL, 0, "%s", own.text);
	return ab_plan_solve(&c->r.problem, &c->choice, diag);
}

static enum ab_status count(struct counting *c, struct ab_diag *diag)
{
	const struct advising *a = c->r.a;
	const struct ab_progress *progress = a->options->progress;
	struct ab_advice *out = a->out;
	size_t n = a->k->n_changes, draws = a->options->redraws, again = 0;
	enum ab_status st = AB_OK;

	for (size_t u = 0; u < n; u++)
		out->items[u].stays = 0;
	out->regret = 0;
	for (size_t i = 0; st == AB_OK && i < draws; i++) {
		st = draw_and_solve(c, &again, diag);
		if (st != AB_OK)
			return st;
		c->regret[i] = fallen_short(c);
		out->regret += c->regret[i] / (double)draws;
		for (size_t u = 0; u < n; u++)
			out->items[u].stays += c->choice.chosen[u];
		pivoting_keep(&c->pivot, c->choice.chosen);
		if (progress != NULL)
			progress->step(progress->ctx, i + 1, draws);
	}
	for (size_t u = 0; u < n; u++)
		out->items[u].stays /= (double)draws;
	qsort(c->regret, draws, sizeof *c->regret, advising_by_size);
	out->regret_high = c->regret[(size_t)(0.9 * (double)(draws - 1))];
	return pivoting_find(&c->pivot, diag);
}

/* GSL's handler would abort when memory is short. */
static gsl_rng *new_rng(unsigned long seed)
{
	gsl_error_handler_t *old = gsl_set_error_handler_off();
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);

	gsl_set_error_handler(old);
	if (rng != NULL)
		gsl_rng_set(rng, seed);
	return rng;
}

/* Where the estimates can hardly be moved without ruling out what was tasted nothing is said of how firm it is. */
static void unsay(struct advising *a)
{
	for (size_t u = 0; u < a->k->n_changes; u++)
		a->out->items[u].stays = NAN;
	a->out->regret = a->out->regret_high = NAN;
}

/* Without redraws "stays" keeps its NAN, and the report says nothing of it; minutes are not what loads are. */
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag)
{
	struct counting c = { .rng = NULL };
	enum ab_status st;

	a->out->regret = a->out->regret_high = NAN;
	if (a->options->redraws == 0 || advising_for_time(a))
		return AB_OK;
	st = redrawing_open(&c.r, a, diag);
	if (st == AB_OK)
		st = make_ready(&c, diag);
	if (st == AB_OK && (c.rng = new_rng(a->options->seed)) == NULL)
		st = advising_nomem(diag);
	if (st == AB_OK)
		st = count(&c, diag);
	if (c.rng != NULL)
		gsl_rng_free(c.rng);
	redrawing_close(&c.r);
	if (st == AB_EIMPOSSIBLE)
		unsay(a);
	return st == AB_EIMPOSSIBLE ? AB_OK : st;
}
