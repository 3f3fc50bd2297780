/* firmness.c - how often each item stays in the best plan when every estimate is redrawn, and what the plan then
 * falls short of the best
 *
 * Each draw is a world (redrawing.h): rules, prices and minutes moved, the batches diagnosed again, loads and the
 * shares of sets reckoned again, and that problem solved exactly. Seeded: results repeat, and the same seed draws
 * the same worlds from the same rules, so that two answers are held against each other in them and not by chance.
 * Generator: GSL mt19937. In a world whose prices or minutes take more than there is, ours is what is bought in its
 * order until that is gone.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_errno.h>
#include "advice/planning.h"
#include "base/workers.h"

/* Worlds in which what was tasted cannot be are drawn again, so often in all. A worker begins with a round of its
 * own, which fewer draws than WORTH_A_WORKER would not repay. */
enum { MOST_AGAIN = 1000, WORTH_A_WORKER = 20 };

/* What a worker has of its own. */
struct counter {
	struct redrawing r;
	gsl_rng *rng;
	struct ab_choice choice;
	unsigned char *ours;               /* of the plan what there is means for in this draw */
};

struct counting {
	struct advising *a;
	struct counter *counters; size_t n;
	unsigned char *plan;               /* as advised */
	unsigned char *best;               /* draws x n_changes */
	double *regret;                    /* draws */
	size_t *place;                     /* room for a list of changes */
	atomic_size_t again;
	struct pivoting pivot;
};

static enum ab_status make_ready(struct counting *c, struct ab_diag *diag)
{
	struct advising *a = c->a;
	size_t n = a->k->n_changes, draws = a->options->redraws;

	c->plan = ab_arena_alloc(a->arena, n, 1);
	c->best = ab_arena_alloc(a->arena, draws, n);
	c->regret = ab_arena_alloc(a->arena, draws, sizeof *c->regret);
	c->place = ab_arena_alloc(a->arena, n, sizeof *c->place);
	a->worlds = ab_arena_alloc(a->arena, draws * (a->out->n_frontier + 1), sizeof *a->worlds);
	if (c->plan == NULL || c->best == NULL || c->regret == NULL || c->place == NULL || a->worlds == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++)
		c->plan[u] = a->out->items[u].chosen;
	return pivoting_open(&c->pivot, &c->counters[0].r, c->plan, draws, diag);
}

/* At this stage the plan lists changes by their number. What an item needs stands before it. */
static void buy_in_order(struct counter *c)
{
	const struct ab_advice *out = c->r.a->out;
	const struct ab_knowledge *k = c->r.a->k;

	memset(c->ours, 0, k->n_changes);
	for (size_t i = 0; i < out->n_plan; i++) {
		const struct advising_needs *needs = &c->r.a->needs[out->plan[i]];
		bool met = true;

		for (size_t j = 0; j < needs->n; j++)
			met = met && (c->ours[needs->on[j]] || out->items[needs->on[j]].owned);
		c->ours[out->plan[i]] = met;
		if (met && !plan_within(&c->r.problem, c->ours))
			c->ours[out->plan[i]] = 0;
	}
}

/* One that saves minutes may be what makes room for one before it: where all fit together, all are bought. */
static double fallen_short(struct counter *c, const unsigned char *plan)
{
	const unsigned char *ours = plan;

	if (!plan_within(&c->r.problem, plan)) {
		buy_in_order(c);
		ours = c->ours;
	}
	return fmax(0, c->choice.removed - ab_plan_removed(&c->r.problem, ours));
}

/* Each draw has a seed of its own: it is the same world whoever draws it and however many are drawn. A prime far
 * beyond the number of draws, so that seeds near each other share no world. */
static unsigned long seed_of(const struct advising *a, size_t draw)
{
	return a->options->seed * 1000003UL + draw;
}

/* Whether the draws of all are too many hangs on their sum alone, not on who is first. */
static enum ab_status draw_and_solve(struct counting *c, struct counter *own, size_t draw, struct ab_diag *diag)
{
	struct ab_diag why;
	enum ab_status st;

	gsl_rng_set(own->rng, seed_of(c->a, draw));
	do {
		ab_diag_init(&why);
		st = redrawing_draw(&own->r, own->rng, &why);
	} while (st == AB_EIMPOSSIBLE && atomic_fetch_add(&c->again, 1) + 1 < MOST_AGAIN);
	if (st != AB_OK)
		return ab_fail(diag, st, NULL, 0, "%s", why.text);
	return ab_plan_solve(&own->r.problem, &own->choice, diag);
}

/* Of the plans as they are, whatever can be paid there: cheaper.c holds them against each other. */
static void keep_world(const struct counting *c, const struct counter *own, size_t draw)
{
	const struct ab_advice *out = c->a->out;
	double *world = c->a->worlds + draw * (out->n_frontier + 1);

	world[0] = ab_plan_removed(&own->r.problem, c->plan);
	for (size_t i = 0; i < out->n_frontier; i++)
		world[1 + i] = ab_plan_removed(&own->r.problem, out->frontier[i].chosen);
}

static enum ab_status count_one(void *ctx, size_t worker, size_t i, struct ab_diag *diag)
{
	struct counting *c = ctx;
	struct counter *own = &c->counters[worker];
	size_t n = c->a->k->n_changes;
	enum ab_status st = draw_and_solve(c, own, i, diag);

	if (st != AB_OK)
		return st;
	c->regret[i] = fallen_short(own, c->plan);
	memcpy(c->best + i * n, own->choice.chosen, n);
	keep_world(c, own, i);
	pivoting_keep(&c->pivot, i, &own->r);
	return AB_OK;
}

static void tell(void *ctx, size_t done)
{
	const struct counting *c = ctx;
	const struct ab_progress *progress = c->a->options->progress;

	if (progress != NULL)
		progress->step(progress->ctx, done, c->a->options->redraws);
}

static bool excludes(const struct ab_change *x, size_t y)
{
	bool any = false;

	for (size_t i = 0; i < x->n_excludes; i++)
		any = any || x->excludes[i] == (int)y;
	return any;
}

/* Of two such no plan holds both. */
static bool one_or_other(const struct ab_knowledge *k, size_t x, size_t y)
{
	const struct ab_change *a = &k->changes[x], *b = &k->changes[y];

	return (a->group != NULL && b->group != NULL && strcmp(a->group, b->group) == 0) || excludes(a, y) ||
	    excludes(b, x);
}

/* It and what may stand in its place; how many. */
static size_t in_its_place(const struct ab_knowledge *k, size_t change, size_t *changes)
{
	size_t n = 0;

	for (size_t u = 0; u < k->n_changes; u++)
		if (u == change || one_or_other(k, change, u))
			changes[n++] = u;
	return n;
}

/* The share of draws whose best plan holds any of them. */
static double held_in(const struct counting *c, const size_t *changes, size_t n)
{
	size_t draws = c->a->options->redraws, held = 0;

	for (size_t i = 0; i < draws; i++) {
		const unsigned char *best = c->best + i * c->a->k->n_changes;
		bool any = false;

		for (size_t j = 0; j < n; j++)
			any = any || best[changes[j]];
		held += any;
	}
	return (double)held / (double)draws;
}

static void sum_up(struct counting *c)
{
	struct ab_advice *out = c->a->out;
	size_t n = c->a->k->n_changes, draws = c->a->options->redraws;

	out->regret = 0;
	for (size_t i = 0; i < draws; i++)
		out->regret += c->regret[i] / (double)draws;
	for (size_t u = 0; u < n; u++) {
		out->items[u].stays = held_in(c, &u, 1);
		out->items[u].place_stays = held_in(c, c->place, in_its_place(c->a->k, u, c->place));
	}
	qsort(c->regret, draws, sizeof *c->regret, advising_by_size);
	out->regret_high = c->regret[(size_t)(0.9 * (double)(draws - 1))];
}

static enum ab_status count(struct counting *c, struct ab_diag *diag)
{
	const struct ab_steps steps = { .n = c->a->options->redraws, .step = count_one, .told = tell, .ctx = c };
	struct ab_diag why;
	enum ab_status st;

	/* that no world can be is no error of the advice: nothing is said of it */
	ab_diag_init(&why);
	st = ab_steps_run(&steps, c->n, &why);
	if (st != AB_OK)
		return st == AB_EIMPOSSIBLE ? st : ab_fail(diag, st, NULL, 0, "%s", why.text);
	sum_up(c);
	return pivoting_find(&c->pivot, c->best, steps.n, diag);
}

static enum ab_status open_counters(struct counting *c, struct ab_diag *diag)
{
	struct advising *a = c->a;
	enum ab_status st = AB_OK;

	c->counters = ab_arena_alloc(a->arena, c->n, sizeof *c->counters);
	if (c->counters == NULL)
		return advising_nomem(diag);
	for (size_t w = 0; st == AB_OK && w < c->n; w++) {
		struct counter *own = &c->counters[w];

		own->choice.chosen = ab_arena_alloc(a->arena, a->k->n_changes, 1);
		own->ours = ab_arena_alloc(a->arena, a->k->n_changes, 1);
		own->rng = gsl_rng_alloc(gsl_rng_mt19937);
		st = own->choice.chosen != NULL && own->ours != NULL && own->rng != NULL
		    ? redrawing_open(&own->r, a, diag)
		    : advising_nomem(diag);
	}
	return st;
}

static void close_counters(struct counting *c)
{
	for (size_t w = 0; c->counters != NULL && w < c->n; w++) {
		if (c->counters[w].rng != NULL)
			gsl_rng_free(c->counters[w].rng);
		redrawing_close(&c->counters[w].r);
	}
}

/* Where the estimates can hardly be moved without ruling out what was tasted nothing is said of how firm it is. */
static void unsay(struct advising *a)
{
	for (size_t u = 0; u < a->k->n_changes; u++)
		a->out->items[u].stays = a->out->items[u].place_stays = NAN;
	a->worlds = NULL;
	a->out->regret = a->out->regret_high = NAN;
}

/* Without redraws "stays" keeps its NAN, and the report says nothing of it; minutes are not what loads are. GSL's
 * handler, which would abort when memory is short, is the whole process's: off until the last worker is done. */
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag)
{
	struct counting c = { .a = a, .n = ab_workers_for(a->options->threads, a->options->redraws / WORTH_A_WORKER) };
	gsl_error_handler_t *old;
	enum ab_status st;

	a->out->regret = a->out->regret_high = NAN;
	if (a->options->redraws == 0 || advising_for_time(a))
		return AB_OK;
	old = gsl_set_error_handler_off();
	st = open_counters(&c, diag);
	if (st == AB_OK)
		st = make_ready(&c, diag);
	if (st == AB_OK)
		st = count(&c, diag);
	close_counters(&c);
	gsl_set_error_handler(old);
	if (st == AB_EIMPOSSIBLE)
		unsay(a);
	return st == AB_EIMPOSSIBLE ? AB_OK : st;
}
