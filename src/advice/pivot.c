/* pivot.c - the one estimate whose truth would change the plan, by the draws that firmness.c made
 *
 * Of each quantity (what a cause costs, what a change takes of a cause) the fifth of the worlds is looked at in
 * which it is highest, and that in which it is lowest. Another plan that removes more there than ours, and not in
 * all worlds, is what one would choose who knew. All other estimates vary in those worlds as they do; so what is
 * found hangs on no other being just as written. The plan is picked in one half of such a fifth and its worth is
 * told by the other, each in turn: of the best of many plans one's own draws tell too well.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "advice/planning.h"

/* A fifth of fewer worlds tells nothing; more room than this is not worth it (doubles). LEAST: share of the load
 * below which nobody would taste that another plan was better (policy by estimate, as the thrift of policy.h). */
enum { LEAST_WORLDS = 50, MOST_ROOM = 4 * 1024 * 1024 };
static const double LEAST = 0.02;

enum ab_status pivoting_open(
    struct pivoting *p, struct redrawing *r, const unsigned char *plan, size_t draws, struct ab_diag *diag)
{
	struct advising *a = r->a;

	*p = (struct pivoting){ .r = r, .plan = plan, .row = a->k->n_causes };
	for (size_t j = 0; j < r->tables.n; j++)
		p->row += (size_t)1 << r->tables.joints[j].n;
	p->n = MOST_ROOM / p->row < draws ? MOST_ROOM / p->row : draws;
	p->worlds = ab_arena_alloc(a->arena, p->n * p->row, sizeof *p->worlds);
	p->plans = ab_arena_alloc(a->arena, PIVOTING_PLANS, a->k->n_changes);
	a->out->pivot = (struct ab_pivot){ .known = false };
	return p->worlds != NULL && p->plans != NULL ? AB_OK : advising_nomem(diag);
}

static void keep_plan(struct pivoting *p, const unsigned char *best)
{
	size_t n = p->r->a->k->n_changes;
	struct ab_problem written = p->r->problem;

	if (p->n_plans == PIVOTING_PLANS || memcmp(best, p->plan, n) == 0)
		return;
	for (size_t i = 0; i < p->n_plans; i++)
		if (memcmp(best, p->plans + i * n, n) == 0)
			return;
	written.cost = p->r->a->problem.cost;
	memcpy(written.budget, advising_same_money(p->r->a).budget, sizeof written.budget);
	if (plan_within(&written, best))
		memcpy(p->plans + p->n_plans++ * n, best, n);
}

void pivoting_keep(const struct pivoting *p, size_t at, const struct redrawing *r)
{
	double *world = p->worlds + at * p->row;

	if (at >= p->n)
		return;
	memcpy(world, r->load, r->a->k->n_causes * sizeof *world);
	world += r->a->k->n_causes;
	for (size_t j = 0; j < r->tables.n; j++) {
		size_t sets = (size_t)1 << r->tables.joints[j].n;

		memcpy(world, r->tables.joints[j].share, sets * sizeof *world);
		world += sets;
	}
}

/* What each plan removes more than ours in each world. */
static void fill_more(const struct pivoting *p, struct ab_joint *joints, double *more)
{
	const struct redrawing *r = p->r;
	struct ab_problem problem = r->problem;

	problem.joints = joints;
	for (size_t w = 0; w < p->n; w++) {
		const double *world = p->worlds + w * p->row, *share = world + r->a->k->n_causes;
		double ours;

		problem.load = world;
		for (size_t j = 0; j < r->tables.n; j++) {
			joints[j] = r->tables.joints[j];
			joints[j].share = share;
			share += (size_t)1 << joints[j].n;
		}
		ours = ab_plan_removed(&problem, p->plan);
		for (size_t d = 0; d < p->n_plans; d++)
			more[d * p->n + w] = ab_plan_removed(&problem, p->plans + d * r->a->k->n_changes) - ours;
	}
}

/* A quantity of the worlds: cause, change (-1: the load of the cause), its place in a row. */
struct quantity { int cause, change; size_t at; };
struct looking { const struct pivoting *p; const double *more; struct of_world { double x; size_t w; } *order; };

static int by_x(const void *a, const void *b)
{
	const struct of_world *x = a, *y = b;

	return x->x < y->x ? -1 : x->x > y->x ? 1 : x->w < y->w ? -1 : x->w > y->w;
}

/* Mean over each second world of the n, from first on. */
static double mean_of(const struct looking *l, size_t plan, const struct of_world *of, size_t first, size_t n)
{
	double sum = 0;
	size_t m = 0;

	for (size_t i = first; i < n; i += 2, m++)
		sum += l->more[plan * l->p->n + of[i].w];
	return sum / (double)m;
}

static size_t best_in(const struct looking *l, const struct of_world *of, size_t first, size_t n)
{
	size_t best = 0;

	for (size_t d = 1; d < l->p->n_plans; d++)
		if (mean_of(l, d, of, first, n) > mean_of(l, best, of, first, n))
			best = d;
	return best;
}

static double everywhere(const struct looking *l, size_t plan)
{
	double sum = 0;

	for (size_t w = 0; w < l->p->n; w++)
		sum += l->more[plan * l->p->n + w];
	return sum / (double)l->p->n;
}

/* Of what one plan holds and the other does not, the change that brings most as reckoned; -1 when there is none. */
static int heaviest_of(const struct advising *a, const unsigned char *in, const unsigned char *not_in)
{
	int who = -1;

	for (size_t u = 0; u < a->k->n_changes; u++)
		if (in[u] && !not_in[u] && (who < 0 || a->out->items[u].gain > a->out->items[who].gain))
			who = (int)u;
	return who;
}

/* One end of the order; keeps it when our plan falls shorter there than anywhere yet. */
static void look_at(const struct looking *l, const struct quantity *q, bool higher)
{
	const struct pivoting *p = l->p;
	struct ab_pivot *out = &p->r->a->out->pivot;
	size_t fifth = p->n / 5;
	const struct of_world *of = l->order + (higher ? p->n - fifth : 0);
	size_t even = best_in(l, of, 0, fifth), odd = best_in(l, of, 1, fifth);
	double of_even = mean_of(l, even, of, 1, fifth), of_odd = mean_of(l, odd, of, 0, fifth),
	       regret = (of_even + of_odd) / 2;
	size_t plan = of_even > of_odd ? even : odd;

	if (regret <= out->regret)
		return;
	if (everywhere(l, plan) >= LEAST * p->r->a->out->load_before)
		return;   /* it is better anyhow, whatever this quantity is */
	*out = (struct ab_pivot){ .known = true,
		.cause = q->cause,
		.change = q->change,
		.higher = higher,
		.regret = regret,
		.take = heaviest_of(p->r->a, p->plans + plan * p->r->a->k->n_changes, p->plan),
		.drop = heaviest_of(p->r->a, p->plan, p->plans + plan * p->r->a->k->n_changes) };
}

static void look(const struct looking *l, const struct quantity *q)
{
	const struct pivoting *p = l->p;

	for (size_t w = 0; w < p->n; w++)
		l->order[w] = (struct of_world){ p->worlds[w * p->row + q->at], w };
	qsort(l->order, p->n, sizeof *l->order, by_x);
	if (!(l->order[p->n - 1].x > l->order[0].x))
		return;   /* no estimate stands behind it */
	look_at(l, q, false);
	look_at(l, q, true);
}

/* Small ones cannot move a plan by anything one could taste. */
enum ab_status pivoting_find(struct pivoting *p, const unsigned char *best, size_t draws, struct ab_diag *diag)
{
	const struct redrawing *r = p->r;
	struct advising *a = r->a;
	struct ab_joint *joints = ab_arena_alloc(a->arena, r->tables.n, sizeof *joints);
	double *more = ab_arena_alloc(a->arena, PIVOTING_PLANS * p->n, sizeof *more),
	       least = LEAST * a->out->load_before;
	struct looking l = { p, more, ab_arena_alloc(a->arena, p->n, sizeof *l.order) };
	size_t at = a->k->n_causes;

	for (size_t i = 0; i < draws; i++)
		keep_plan(p, best + i * a->k->n_changes);
	if (joints == NULL || more == NULL || l.order == NULL)
		return advising_nomem(diag);
	a->out->pivot.regret = least;
	if (p->n < LEAST_WORLDS || p->n_plans == 0)
		return AB_OK;
	fill_more(p, joints, more);
	for (size_t i = 0; i < a->k->n_causes; i++)
		if (a->load[i] >= least)
			look(&l, &(struct quantity){ (int)i, -1, i });
	for (size_t j = 0; j < r->tables.n; j++) {
		const struct ab_joint *t = &r->tables.joints[j];

		for (size_t u = 0; u < t->n && a->load[t->cause] >= least; u++)
			look(&l, &(struct quantity){ t->cause, t->changes[u], at + ((size_t)1 << u) });
		at += (size_t)1 << t->n;
	}
	return AB_OK;
}
