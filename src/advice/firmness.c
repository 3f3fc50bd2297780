/* firmness.c - how often each item stays in the best plan when every estimate is redrawn, what the plan then
 * falls short of the best, and the one estimate whose truth would change it most
 *
 * Shares are rated on the same coarse scale as the strengths of causes and err alike: a whole step of 0.8 on
 * the logit scale (ranges.c says why). What sets of changes do together (tables.c) is not redrawn: here each change acts
 * by itself on what the others left, plan and rivals alike; so two that rest on one fact look a little better beside each
 * other, and two that need each other a little worse, than in the plan's own figures. Replayed shares rest on such signs and are redrawn alike. Loads are
 * redrawn log-normally with a step of 0.5 (estimate: they are means over batches, in part of the brewer's own
 * glasses). Seeded: results repeat. Generator: GSL mt19937.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#define SHARE_STEP 0.8
#define LOAD_STEP 0.5
/* Steps to either end of what is likely (about 95 of 100), and the share of the load below which nobody would
 * taste that another plan was better (policy by estimate, as the thrift of policy.h). */
#define LIKELY 2
#define PIVOT_LEAST 0.02

/* Logit keeps a share inside 0 to 1; 1 itself has no logit, and a 0 stays 0: no estimate makes an
 * effect where the rules see none. */
static double move_share(double share, double by)
{
	if (share <= 0)
		return 0;
	if (share > 0.999)
		share = 0.999;
	return 1 / (1 + exp(-log(share / (1 - share)) - by));
}

/* Every effect alone, even two that rest on one sign: joint errors are unknown, and lone ones shake the
 * plan more. How far the rules' loads are believed against the brewer's own glasses is one estimate for all
 * causes, and so is the share of faults that get reported (attribution.c). */
static void redraw(const struct advising *a, gsl_rng *rng, double *load, double *effect)
{
	size_t n = a->k->n_causes;
	double batches = advising_rules_batches * exp(gsl_ran_gaussian(rng, LOAD_STEP));
	double reported = move_share(advising_reported, gsl_ran_gaussian(rng, SHARE_STEP));

	for (size_t i = 0; i < n; i++)
		load[i] = advising_load(a, i, batches, reported) * exp(gsl_ran_gaussian(rng, LOAD_STEP));
	for (size_t e = 0; e < a->k->n_changes * n; e++)
		effect[e] = move_share(a->effect[e], gsl_ran_gaussian(rng, SHARE_STEP));
}

/* One problem is set up and its numbers overwritten from round to round. A change whose share was 0 has no row
 * in list and stays out. */
struct redrawing {
	struct advising *a;
	struct ab_problem problem;
	struct ab_effect *list;
	double *load, *effect;             /* of the round */
	struct ab_choice choice;
	unsigned char *plan;               /* the plan whose firmness is asked */
	double *regret;                    /* rounds */
};

static enum ab_status make_ready(struct redrawing *r, struct ab_diag *diag)
{
	struct advising *a = r->a;
	size_t n_causes = a->k->n_causes, n = a->k->n_changes;

	r->problem = advising_same_money(a);
	r->list = advising_effect_list(a, a->effect, a->state, &r->problem.n_effects);
	r->load = ab_arena_alloc(a->arena, n_causes, sizeof *r->load);
	r->effect = ab_arena_alloc(a->arena, n * n_causes, sizeof *r->effect);
	r->choice.chosen = ab_arena_alloc(a->arena, n, 1);
	r->plan = ab_arena_alloc(a->arena, n, 1);
	r->regret = ab_arena_alloc(a->arena, a->options->redraws, sizeof *r->regret);
	if (r->list == NULL || r->load == NULL || r->effect == NULL || r->choice.chosen == NULL ||
	    r->plan == NULL || r->regret == NULL)
		return advising_nomem(diag);
	r->problem.effects = r->list;
	r->problem.load = r->load;
	r->problem.n_joints = 0;
	for (size_t u = 0; u < n; u++)
		r->plan[u] = a->out->items[u].chosen;
	return AB_OK;
}

static double share_at(const struct redrawing *r, const double *effect, size_t e)
{
	return effect[(size_t)r->list[e].change * r->a->k->n_causes + (size_t)r->list[e].cause];
}

/* The best plan under the numbers of the round, and what ours then falls short of it. Never below 0: ours is a
 * plan of that problem too. */
static enum ab_status solve(struct redrawing *r, double *regret, struct ab_diag *diag)
{
	enum ab_status st = ab_plan_solve(&r->problem, &r->choice, diag);

	*regret = st == AB_OK ? fmax(0, r->choice.removed - ab_plan_removed(&r->problem, r->plan)) : 0;
	return st;
}

static int by_size(const void *a, const void *b)
{
	const double *x = a, *y = b;

	return *x < *y ? -1 : *x > *y;
}

static void tell(const struct ab_progress *p, size_t done, size_t of)
{
	if (p != NULL)
		p->step(p->ctx, done, of);
}

static enum ab_status count_stays(struct redrawing *r, gsl_rng *rng, struct ab_diag *diag)
{
	struct ab_advice *out = r->a->out;
	size_t n = r->a->k->n_changes, rounds = r->a->options->redraws;
	enum ab_status st = AB_OK;

	for (size_t u = 0; u < n; u++)
		out->items[u].stays = 0;
	out->regret = 0;
	for (size_t i = 0; st == AB_OK && i < rounds; i++) {
		redraw(r->a, rng, r->load, r->effect);
		for (size_t e = 0; e < r->problem.n_effects; e++)
			r->list[e].share = share_at(r, r->effect, e);
		st = solve(r, &r->regret[i], diag);
		for (size_t u = 0; st == AB_OK && u < n; u++)
			out->items[u].stays += r->choice.chosen[u];
		out->regret += r->regret[i] / (double)rounds;
		tell(r->a->options->progress, i + 1, rounds);
	}
	for (size_t u = 0; u < n; u++)
		out->items[u].stays /= (double)rounds;
	qsort(r->regret, rounds, sizeof *r->regret, by_size);
	out->regret_high = r->regret[(size_t)(0.9 * (double)(rounds - 1))];
	return st;
}

/* ---- the one estimate that would change the plan ---- */

/* Of what the other plan holds and ours does not, the change that brings most there; -1 when there is none. */
static int heaviest_of(struct redrawing *r, const unsigned char *in, const unsigned char *not_in)
{
	double most = 0, whole = ab_plan_removed(&r->problem, in);
	unsigned char *set = r->choice.chosen == in ? r->choice.chosen : r->plan;
	int who = -1;

	for (size_t u = 0; u < r->problem.n_changes; u++) {
		double adds;

		if (!in[u] || not_in[u])
			continue;
		set[u] = 0;
		adds = whole - ab_plan_removed(&r->problem, set);
		set[u] = 1;
		if (who < 0 || adds > most) {
			most = adds;
			who = (int)u;
		}
	}
	return who;
}

/* The estimate moved by `steps` of its size; keeps it when our plan falls shorter there than anywhere yet. */
static enum ab_status try_pivot(struct redrawing *r, int cause, int change, double steps, struct ab_diag *diag)
{
	struct ab_pivot *p = &r->a->out->pivot;
	double regret;
	enum ab_status st = solve(r, &regret, diag);

	if (st != AB_OK || regret <= p->regret)
		return st;
	*p = (struct ab_pivot){ .known = true,
		.cause = cause,
		.change = change,
		.higher = steps > 0,
		.regret = regret,
		.take = heaviest_of(r, r->choice.chosen, r->plan),
		.drop = heaviest_of(r, r->plan, r->choice.chosen) };
	return AB_OK;
}

/* Each load and each share by itself to either end of its likely range, all others as they are. Small ones
 * cannot move a plan by anything one could taste, so they are passed over. */
static enum ab_status find_pivot(struct redrawing *r, struct ab_diag *diag)
{
	const struct advising *a = r->a;
	double least = PIVOT_LEAST * a->out->load_before;
	enum ab_status st = AB_OK;

	a->out->pivot = (struct ab_pivot){ .regret = least };
	memcpy(r->load, a->load, a->k->n_causes * sizeof *r->load);
	for (size_t e = 0; e < r->problem.n_effects; e++)
		r->list[e].share = share_at(r, a->effect, e);
	for (int way = -1; way <= 1; way += 2) {
		for (size_t i = 0; st == AB_OK && i < a->k->n_causes; i++) {
			if (a->load[i] * exp(LIKELY * LOAD_STEP) < least)
				continue;
			r->load[i] = a->load[i] * exp(way * LIKELY * LOAD_STEP);
			st = try_pivot(r, (int)i, -1, way, diag);
			r->load[i] = a->load[i];
		}
		for (size_t e = 0; st == AB_OK && e < r->problem.n_effects; e++) {
			double share = r->list[e].share;

			if (a->load[r->list[e].cause] < least)
				continue;
			r->list[e].share = move_share(share, way * LIKELY * SHARE_STEP);
			st = try_pivot(r, r->list[e].cause, r->list[e].change, way, diag);
			r->list[e].share = share;
		}
	}
	return st;
}

/* GSL's handler would abort when memory is short. */
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag)
{
	struct redrawing r = { .a = a };
	gsl_error_handler_t *old;
	gsl_rng *rng;
	enum ab_status st;

	a->out->regret = a->out->regret_high = NAN;
	/* Then "stays" keeps its NAN, and the report says nothing of it; minutes are not redrawn. */
	if (a->options->redraws == 0 || advising_for_time(a))
		return AB_OK;
	st = make_ready(&r, diag);
	if (st != AB_OK)
		return st;
	old = gsl_set_error_handler_off();
	rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_set_error_handler(old);
	if (rng == NULL)
		return advising_nomem(diag);
	gsl_rng_set(rng, a->options->seed);
	st = count_stays(&r, rng, diag);
	gsl_rng_free(rng);
	return st == AB_OK ? find_pivot(&r, diag) : st;
}
