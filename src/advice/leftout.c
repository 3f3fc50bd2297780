/* leftout.c - what each of the brewer's limits costs: the best plan with that limit alone lifted
 *
 * Of the best plans, not of the livable ones: what policy leaves out is told elsewhere (policy.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

const char *const ab_limit_words[AB_LIMITS] = {
	[AB_LIMIT_MONEY] = "money now", [AB_LIMIT_RUNNING] = "running cost", [AB_LIMIT_MINUTES] = "minutes a batch",
	[AB_LIMIT_BREWS] = "brews to come",
	[AB_LIMIT_AWAY] = "hours away from home", [AB_LIMIT_ROOM] = "room", [AB_LIMIT_NOISE] = "noise",
	[AB_LIMIT_FUMES] = "fumes",
};

/* The problem of one limit lifted; chosen and state are its own. */
struct lifting {
	struct advising *a;
	struct ab_problem problem;
	enum ab_change_state *state;
	unsigned char *best, *now; /* n_changes: with the limit lifted; with it in force, or in the plan all the same */
	double removed_now;
};

/* A sum gets no limit; changes that this limit alone bars come open. Returns whether anything differs. */
static bool lift(struct lifting *l, enum ab_limit limit)
{
	static const int axis[AB_LIMITS] = { [AB_LIMIT_MONEY] = AXIS_MONEY, [AB_LIMIT_RUNNING] = AXIS_RUNNING,
		[AB_LIMIT_MINUTES] = AXIS_MINUTES, [AB_LIMIT_BREWS] = AXIS_BREWS, [AB_LIMIT_AWAY] = -1,
		[AB_LIMIT_ROOM] = -1, [AB_LIMIT_NOISE] = -1,
		[AB_LIMIT_FUMES] = -1 };
	bool differs = false;

	l->problem = l->a->problem;
	l->problem.state = l->state;
	for (size_t u = 0; u < l->problem.n_changes; u++) {
		bool alone = l->a->out->items[u].limits == 1U << limit;

		l->state[u] = l->a->problem.state[u];
		if (alone && l->state[u] == AB_CHANGE_OUT) {
			l->state[u] = AB_CHANGE_OPEN;
			differs = true;
		}
	}
	if (axis[limit] >= 0 && isfinite(l->problem.budget[axis[limit]])) {
		l->problem.budget[axis[limit]] = INFINITY;
		differs = true;
	}
	return differs;
}

/* Of what comes in, the change without which most would be lost. */
static int heaviest(struct lifting *l)
{
	double whole = ab_plan_removed(&l->problem, l->best), most = 0;
	int who = -1;

	for (size_t u = 0; u < l->problem.n_changes; u++) {
		double adds;

		if (!l->best[u] || l->now[u])
			continue;
		l->best[u] = 0;
		adds = whole - ab_plan_removed(&l->problem, l->best);
		l->best[u] = 1;
		if (who < 0 || adds > most) {
			most = adds;
			who = (int)u;
		}
	}
	return who;
}

/* What those that come in add, all together; best keeps none of them. */
static double added(struct lifting *l)
{
	double whole = ab_plan_removed(&l->problem, l->best);

	for (size_t u = 0; u < l->problem.n_changes; u++)
		l->best[u] = l->best[u] && l->now[u];
	return whole - ab_plan_removed(&l->problem, l->best);
}

/* Where the plan holds what the best one lacks, that part of the difference is not kept out. */
static enum ab_status try_limit(struct lifting *l, enum ab_limit limit, struct ab_left_out *out, struct ab_diag *diag)
{
	struct ab_choice choice = { .chosen = l->best };
	enum ab_status st;

	if (!lift(l, limit))
		return AB_OK;
	st = ab_plan_solve(&l->problem, &choice, diag);
	if (st != AB_OK || !(choice.removed - l->removed_now > 1e-9 * choice.before))
		return st;
	int who = heaviest(l);
	if (who >= 0)
		*out = (struct ab_left_out){ fmin(choice.removed - l->removed_now, added(l)), who };
	return AB_OK;
}

/* Minutes saved are not compared with load. */
enum ab_status advising_left_out(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_changes;
	struct lifting l = { .a = a, .removed_now = a->out->best };
	enum ab_status st = AB_OK;

	l.state = ab_arena_alloc(a->arena, n, sizeof *l.state);
	l.best = ab_arena_alloc(a->arena, n, 1);
	l.now = ab_arena_alloc(a->arena, n, 1);
	if (l.state == NULL || l.best == NULL || l.now == NULL)
		return advising_nomem(diag);
	for (size_t u = 0; u < n; u++)
		l.now[u] = a->out->items[u].in_best || a->out->items[u].chosen;
	for (int limit = 0; limit < AB_LIMITS; limit++) {
		a->out->left_out[limit] = (struct ab_left_out){ 0, -1 };
		if (st == AB_OK && !advising_for_time(a))
			st = try_limit(&l, limit, &a->out->left_out[limit], diag);
	}
	return st;
}
