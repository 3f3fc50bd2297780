/* firmness.c - how often each item stays in the best plan when every estimate is redrawn
 *
 * Loads are redrawn log-normally, shares on the logit scale, both with one step of STEP (estimate: rated
 * shares and priors are trusted to about a factor of 1.6 either way). Replayed shares rest on the same signs
 * and are redrawn alike. Seeded: results repeat. Generator: GSL mt19937.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#define STEP 0.5

/* Logit keeps a share inside 0 to 1; 1 itself has no logit, and a 0 stays 0: no estimate makes an
 * effect where the rules see none. */
static double redraw_share(gsl_rng *rng, double share)
{
	double x;

	if (share <= 0)
		return 0;
	if (share > 0.999)
		share = 0.999;
	x = log(share / (1 - share)) + gsl_ran_gaussian(rng, STEP);
	return 1 / (1 + exp(-x));
}

/* Every effect alone, even two that rest on one sign: joint errors are unknown, and lone ones shake the
 * plan more. */
static void redraw(const struct advising *a, gsl_rng *rng, double *load, double *effect)
{
	size_t n = a->k->n_causes;

	for (size_t i = 0; i < n; i++)
		load[i] = a->load[i] * exp(gsl_ran_gaussian(rng, STEP));
	for (size_t e = 0; e < a->k->n_changes * n; e++)
		effect[e] = redraw_share(rng, a->effect[e]);
}

/* Only shares and loads change between rounds, so one problem is set up and its numbers overwritten. A
 * change whose share was 0 has no row in list and stays out. */
static enum ab_status count_stays(struct advising *a, gsl_rng *rng, double *load, double *effect,
    struct ab_choice *choice, struct ab_diag *diag)
{
	size_t n = a->k->n_changes, rounds = a->options->redraws;
	struct ab_problem problem = a->problem;
	struct ab_effect *list = advising_effect_list(a, a->effect, a->state, &problem.n_effects);
	enum ab_status st = list != NULL ? AB_OK : advising_nomem(diag);

	problem.effects = list;
	problem.n_joints = 0;
	problem.state = a->state;
	problem.budget[AXIS_HABITS] = a->out->changes > 0 ? (double)a->out->changes : INFINITY;
	for (size_t u = 0; u < n; u++)
		a->out->items[u].stays = 0;
	for (size_t r = 0; st == AB_OK && r < rounds; r++) {
		redraw(a, rng, load, effect);
		problem.load = load;
		for (size_t e = 0; e < problem.n_effects; e++)
			list[e].share = effect[(size_t)list[e].change * a->k->n_causes +
			    (size_t)list[e].cause];
		st = ab_plan_solve(&problem, choice, diag);
		for (size_t u = 0; st == AB_OK && u < n; u++)
			a->out->items[u].stays += choice->chosen[u];
	}
	for (size_t u = 0; rounds > 0 && u < n; u++)
		a->out->items[u].stays /= (double)rounds;
	return st;
}

/* GSL's handler would abort when memory is short. */
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag)
{
	size_t n_causes = a->k->n_causes, n = a->k->n_changes;
	struct ab_choice choice = { .chosen = ab_arena_alloc(a->arena, n, 1) };
	double *load = ab_arena_alloc(a->arena, n_causes, sizeof *load);
	double *effect = ab_arena_alloc(a->arena, n * n_causes, sizeof *effect);
	gsl_error_handler_t *old;
	gsl_rng *rng;
	enum ab_status st;

	/* Then "stays" keeps its NAN, and the report says nothing of it; minutes are not redrawn. */
	if (a->options->redraws == 0 || advising_for_time(a))
		return AB_OK;
	if (choice.chosen == NULL || load == NULL || effect == NULL)
		return advising_nomem(diag);
	old = gsl_set_error_handler_off();
	rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_set_error_handler(old);
	if (rng == NULL)
		return advising_nomem(diag);
	gsl_rng_set(rng, a->options->seed);
	st = count_stays(a, rng, load, effect, &choice, diag);
	gsl_rng_free(rng);
	return st;
}
