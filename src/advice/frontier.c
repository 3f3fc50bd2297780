/* frontier.c - what each budget buys: one run over falling budgets
 *
 * Each round asks for the best plan strictly cheaper than the last one, starting from the prices of the last
 * root and from the best plan met so far that is cheap enough.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/planning.h"

#include <assert.h>
#include <math.h>
#include <string.h>
#include "base/alloc.h"

enum { POOL = 1024 };

/* points[] and store[] are the caller's; slice i of store belongs to point i. Points come dearest first
 * and are turned at the end. */
struct frontier {
	const struct ab_problem *problem;
	struct plan_model *model;
	struct plan_search *search;
	struct plan_pool pool;
	size_t axis;                       /* in the model */
	struct ab_frontier_point *points;
	size_t max_points, n;              /* dearest first while it grows */
	unsigned char *store;
};

/* Every plan met while proving a dearer budget is a first plan for a cheaper one: most rounds begin
 * with the answer in hand and only have to prove it. */
static void
start_from_pool(struct frontier *f)
{
	struct plan_search *s = f->search;
	double limit = f->model->budget[f->axis] + f->model->slack[f->axis];
	const struct plan_met *best = NULL;
	size_t k;

	s->found = false;
	for (k = 0; k < f->pool.n; k++)
		if (f->pool.met[k].cost <= limit && (best == NULL || f->pool.met[k].value > best->value))
			best = &f->pool.met[k];
	if (best != NULL) {
		unsigned char chosen[AB_PLAN_CHANGES];

		memcpy(chosen, best->chosen, f->model->n);
		plan_search_offer(s, chosen);
	}
}

/* The best plan at the present budget as a point; as good as the last point but cheaper, it replaces
 * it. A tie within rounding is no step of the frontier. */
static enum ab_status
add_point(struct frontier *f, double cost, struct ab_diag *diag)
{
	const struct plan_search *s = f->search;
	struct ab_frontier_point *p;
	size_t u;

	if (f->n > 0 && s->best_value >= f->points[f->n - 1].removed - f->model->tie)
		f->n--;
	if (f->n == f->max_points)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "the frontier has more than %zu points",
		    f->max_points);
	p = &f->points[f->n];
	assert(f->n < f->max_points);
	p->chosen = f->store + f->n++ * f->problem->n_changes;
	memset(p->chosen, 0, f->problem->n_changes);
	for (u = 0; u < f->model->n; u++)
		p->chosen[f->model->original[u]] = s->best[u];
	p->cost = cost;
	p->removed = s->best_value;
	p->gap = s->open_bound > s->best_value + f->model->tie ? s->open_bound - s->best_value : 0;
	return AB_OK;
}

/* The best plan at the amount 0 is the first point; only one as good that gives back more could still replace
 * it. */
static bool
is_complete(const struct frontier *f)
{
	const struct ab_frontier_point *last = f->n > 0 ? &f->points[f->n - 1] : NULL;

	return last != NULL && last->cost <= f->model->slack[f->axis] &&
	    f->search->best_value < last->removed - f->model->tie;
}

/* Two slacks below the last cost: "strictly cheaper" has to survive the tolerance of the budget check.
 * Only the first failure is the caller's news, hence `quiet`. */
static enum ab_status
run(struct frontier *f, struct ab_diag *diag)
{
	struct plan_model *m = f->model;
	enum ab_status st = AB_OK;
	struct ab_diag quiet;
	double cost;

	for (;;) {
		start_from_pool(f);
		ab_diag_init(&quiet);
		st = plan_search_run(f->search, f->n == 0 ? diag : &quiet);
		if (st == AB_EINPUT && f->n > 0)
			return AB_OK;              /* cheaper than the last point nothing is feasible */
		if (st != AB_OK)
			return f->n == 0 ? st : ab_fail(diag, st, NULL, 0, "%s", quiet.text);
		if (is_complete(f))
			return AB_OK;
		cost = plan_model_cost(m, f->search->best, f->axis);
		st = add_point(f, cost, diag);
		if (st != AB_OK || !(m->slack[f->axis] > 0))
			return st;                 /* slack 0: nothing costs anything on this axis */
		m->budget[f->axis] = cost - 2 * m->slack[f->axis];
		f->search->root_steps = PLAN_WARM_STEPS;
	}
}

/* Cheapest first, as promised; the slices of the store move along. */
static void
turn_round(struct frontier *f)
{
	size_t k, u, n = f->problem->n_changes;

	for (k = 0; k < f->n / 2; k++) {
		struct ab_frontier_point *a = &f->points[k], *b = &f->points[f->n - 1 - k], keep = *a;

		for (u = 0; u < n; u++) {
			unsigned char c = a->chosen[u];

			a->chosen[u] = b->chosen[u];
			b->chosen[u] = c;
		}
		a->cost = b->cost;
		a->removed = b->removed;
		a->gap = b->gap;
		b->cost = keep.cost;
		b->removed = keep.removed;
		b->gap = keep.gap;
	}
}

/* The axis is looked up because the model drops budgets that limit nothing; this one is kept by
 * keep_axis. */
static enum ab_status
frontier_init(struct frontier *f, int axis, struct ab_diag *diag)
{
	static const struct plan_options usual = { 0 };
	long limit = f->problem->node_limit > 0 ? f->problem->node_limit : PLAN_NODE_LIMIT;
	enum ab_status st = plan_model_new(f->problem, axis, &f->model, diag);

	if (st != AB_OK)
		return st;
	while (f->model->axis[f->axis] != axis)
		f->axis++;
	f->pool.axis = f->axis;
	f->pool.room = POOL;
	f->pool.met = ab_malloc(POOL * sizeof *f->pool.met);
	f->search = ab_calloc(1, sizeof *f->search);
	if (f->pool.met == NULL || f->search == NULL || !plan_search_init(f->search, f->model, &usual, limit))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while setting up the frontier");
	f->search->pool = &f->pool;
	return AB_OK;
}

enum ab_status
ab_plan_frontier(const struct ab_problem *problem, int axis, struct ab_frontier_point *points,
    size_t max_points, unsigned char *chosen_store, size_t *n_points, struct ab_diag *diag)
{
	struct frontier f = { .problem = problem, .points = points, .max_points = max_points,
	    .store = chosen_store };
	enum ab_status st = plan_check(problem, diag);

	*n_points = 0;
	if (st != AB_OK)
		return st;
	if (axis < 0 || (size_t)axis >= problem->n_budgets)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "a frontier over budget %d; there are %zu", axis,
		    problem->n_budgets);
	st = frontier_init(&f, axis, diag);
	if (st == AB_OK)
		st = run(&f, diag);
	if (st == AB_OK) {
		turn_round(&f);
		*n_points = f.n;
	}
	if (f.search != NULL)
		plan_search_clear(f.search);
	ab_free(f.search);
	ab_free(f.pool.met);
	plan_model_free(f.model);
	return st;
}
