/* redrawing.c - a world whose estimates were drawn again, walked from the batches to the problem of planning
 *
 * The steps are those of the advice itself, on rules that were drawn. Of the batches the newest MOST_BATCHES are
 * diagnosed again, together, in one round of messages (together.h); how far a chance moved in that round from what
 * the same round makes of the rules as written is how far it moves from what it was found to be: so with no
 * estimate moved all is as it was. Costs told by the brewer stay, and with no limit of money told a plan is held
 * against others of its own money. What own glasses showed is a mean over few batches: each cause's is drawn by a
 * factor with a step of 0.5 (estimate). How far the rules' loads are believed against them, and the share of faults
 * that get reported (attribution.c), are one draw each.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/redrawing.h"

#include <math.h>
#include <string.h>
#include <gsl/gsl_randist.h>
#include <afterboil/held.h>
#include <afterboil/redraw.h>

/* Those before them weigh less than a fortieth of the newest. */
enum { MOST_BATCHES = 24 };
static const double SEEN_STEP = 0.5;

static double logit(double p)
{
	return log(p) - log1p(-p);
}

static bool open_chance(double p)
{
	return p > 0 && p < 1;
}

/* at, moved by as much as from moved to, from in logit. What is settled, or was (NAN), stays. */
static double carried(double at, double from, double to)
{
	return !isnan(from) && open_chance(to) ? ab_logit_move(at, logit(to) - from) : at;
}

/* The round as written is what every draw is held against. */
static void take_logits(double *p, size_t n)
{
	for (size_t i = 0; i < n; i++)
		p[i] = open_chance(p[i]) ? logit(p[i]) : (double)NAN;
}

/* ---- diagnosed again ---- */

/* One round on the rules of `other`. */
static enum ab_status one_round(
    struct redrawing *r, struct advising *other, struct ab_together *out, struct ab_diag *diag)
{
	size_t n = other->n_cases - r->from;
	struct ab_together_batch *batches = ab_arena_alloc(other->arena, n, sizeof *batches);
	const struct ab_together_of of = { .batches = batches, .n_batches = n, .n_causes = other->k->n_causes,
		.rate_batches = AB_HELD_RATE_BATCHES, .share_batches = AB_HELD_SHARE_BATCHES, .keeps = ADVISING_DECAY,
		.rounds = 1, .scratch = r->scratch };
	enum ab_status st = AB_OK;

	other->alone_in = ab_arena_alloc(other->arena, other->n_cases, sizeof *other->alone_in);
	if (batches == NULL || other->alone_in == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = advising_batch(other, r->from + i, &other->cases[r->from + i]->evidence, &batches[i], diag);
	return st == AB_OK ? ab_together_solve(&of, other->arena, out, diag) : st;
}

/* The trouble told by itself, as it was diagnosed. */
static enum ab_status told_again(
    struct redrawing *r, const struct advising *other, struct ab_beliefs *beliefs, struct ab_diag *diag)
{
	struct ab_net net;
	enum ab_status st =
	    ab_diagnose_net(other->k, other->told->facts, &other->told->evidence, other->arena, &net, diag);

	return st == AB_OK ? ab_net_solve_in(r->scratch, &net, beliefs, diag) : st;
}

static bool is_told(const struct advising *a)
{
	return a->told != NULL && a->told->evidence.finding != NULL;
}

/* All that is diagnosed. In the arena. */
static enum ab_status diagnose(struct redrawing *r, struct advising *other, struct redrawn *again, struct ab_diag *diag)
{
	size_t n = other->n_cases - r->from, n_causes = other->k->n_causes, told = n * n_causes;
	struct ab_together out = { 0 };
	enum ab_status st = n > 0 ? one_round(r, other, &out, diag) : AB_OK;

	*again = (struct redrawn){ .present = ab_arena_alloc(other->arena, told + n_causes, sizeof(double)),
		.blame = ab_arena_alloc(other->arena, told + n_causes, sizeof(double)), .next = out.next };
	if (st == AB_OK && (again->present == NULL || again->blame == NULL))
		return advising_nomem(diag);
	if (st == AB_OK && n > 0) {
		memcpy(again->present, out.present, told * sizeof(double));
		memcpy(again->blame, out.blame, told * sizeof(double));
	}
	if (st == AB_OK && is_told(other))
		st = told_again(r, other,
		    &(struct ab_beliefs){ .present = again->present + told, .blame = again->blame + told }, diag);
	return st;
}

/* One row as it was found, moved as the round moved; out in the arena. */
static double *carry(
    const struct redrawing *r, const double *found, const double *from, const double *to, struct ab_arena *arena)
{
	size_t n = r->a->k->n_causes;
	double *row = ab_arena_alloc(arena, n, sizeof *row);

	for (size_t i = 0; row != NULL && i < n; i++)
		row[i] = carried(found[i], from[i], to[i]);
	return row;
}

static bool carry_told(const struct redrawing *r, struct advising *other, const struct redrawn *again)
{
	struct ab_case *told = ab_arena_alloc(other->arena, 1, sizeof *told);
	struct ab_diagnosis *d = ab_arena_alloc(other->arena, 1, sizeof *d);
	size_t at = (r->a->n_cases - r->from) * r->a->k->n_causes;

	if (told == NULL || d == NULL)
		return false;
	*told = *r->a->told;
	*d = *told->diagnosis;
	told->diagnosis = d;
	d->present = carry(r, d->present, r->first.present + at, again->present + at, other->arena);
	d->blame = carry(r, d->blame, r->first.blame + at, again->blame + at, other->arena);
	other->told = told;
	return d->present != NULL && d->blame != NULL;
}

static bool carry_batch(const struct redrawing *r, struct advising *other, const struct redrawn *again, size_t b)
{
	const struct advising *a = r->a;
	size_t at = (b - r->from) * a->k->n_causes;

	other->present[b] = carry(r, a->present[b], r->first.present + at, again->present + at, other->arena);
	other->next[b] = carry(r, a->next[b], r->first.next + at, again->next + at, other->arena);
	if (a->blame[b] != NULL)
		other->blame[b] = carry(r, a->blame[b], r->first.blame + at, again->blame + at, other->arena);
	return other->present[b] != NULL && other->next[b] != NULL && (a->blame[b] == NULL || other->blame[b] != NULL);
}

static bool carry_all(const struct redrawing *r, struct advising *other, const struct redrawn *again)
{
	const struct advising *a = r->a;
	bool room;

	other->present = ab_arena_alloc(other->arena, a->n_cases, sizeof *other->present);
	other->blame = ab_arena_alloc(other->arena, a->n_cases, sizeof *other->blame);
	other->next = ab_arena_alloc(other->arena, a->n_cases, sizeof *other->next);
	room = other->present != NULL && other->blame != NULL && other->next != NULL;
	for (size_t b = 0; room && b < a->n_cases; b++) {
		other->present[b] = a->present[b];
		other->blame[b] = a->blame[b];
		other->next[b] = a->next[b];
		room = b < r->from || carry_batch(r, other, again, b);
	}
	return room && (!is_told(a) || carry_told(r, other, again));
}

/* ---- the loads ---- */

/* In rooms of their own; what they read of `a` and do not write is shared. */
static enum ab_status walk(struct advising *other, struct ab_diag *diag)
{
	size_t n = other->k->n_causes;
	enum ab_status st;

	other->out = ab_arena_alloc(other->arena, 1, sizeof *other->out);
	other->seen = ab_arena_alloc(other->arena, n, sizeof *other->seen);
	other->told_part = ab_arena_alloc(other->arena, n, sizeof *other->told_part);
	if (other->out == NULL || other->seen == NULL || other->told_part == NULL)
		return advising_nomem(diag);
	st = advising_priors(other, diag);
	if (st == AB_OK)
		st = advising_recurrence(other, diag);
	if (st == AB_OK)
		st = advising_seen(other, diag);
	return st == AB_OK ? advising_attribution(other, diag) : st;
}

static void draw_loads(struct redrawing *r, struct advising *other, gsl_rng *rng)
{
	double batches = advising_rules_batches * exp(gsl_ran_gaussian_ziggurat(rng, SEEN_STEP));
	double reported = ab_logit_move(advising_reported, gsl_ran_gaussian_ziggurat(rng, estimates_chance));

	for (size_t i = 0; i < other->k->n_causes; i++) {
		other->loads[i].seen *= exp(gsl_ran_gaussian_ziggurat(rng, SEEN_STEP));
		r->load[i] = advising_load(other, i, batches, reported);
	}
}

/* ---- the costs ---- */

static void draw_costs(struct redrawing *r)
{
	const struct advising *a = r->a;
	double whole = 0;

	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct estimates_change *e = &r->e.change[u];
		const struct ab_price *own = advising_own_price(a, a->k->changes[u].id);
		bool told = own != NULL;
		const double *row = a->problem.cost + u * AXIS_N;
		double *cost = r->cost + u * AXIS_N, buy = told && own->cost.known ? 1 : e->price,
		       run = told && own->running_per_year.known ? 1 : e->price,
		       minutes = told && own->minutes_s.known ? 1 : e->minutes;

		cost[AXIS_MONEY] = row[AXIS_MONEY] * buy;
		cost[AXIS_RUNNING] = row[AXIS_RUNNING] * run;
		cost[AXIS_MINUTES] = row[AXIS_MINUTES] * minutes;
		cost[AXIS_HABITS] = row[AXIS_HABITS];
		cost[AXIS_BREWS] = row[AXIS_BREWS];
		cost[AXIS_WHOLE] = cost[AXIS_MONEY] + (row[AXIS_WHOLE] - row[AXIS_MONEY]) * run;
		whole += a->out->items[u].chosen ? cost[AXIS_WHOLE] : 0;
	}
	if (isfinite(r->problem.budget[AXIS_WHOLE]))
		r->problem.budget[AXIS_WHOLE] = whole;
}

/* ---- one world ---- */

enum ab_status redrawing_draw(struct redrawing *r, gsl_rng *rng, struct ab_diag *diag)
{
	struct advising other = *r->a;
	struct redrawn again;
	enum ab_status st;

	ab_arena_reset(r->work);
	other.arena = r->work;
	st = estimates_draw(&r->e, rng, diag);
	other.k = &r->e.drawn;
	for (size_t e = 0; e < other.k->n_changes * other.k->n_causes; e++)
		r->z[e] = advising_tried(r->a, e / other.k->n_causes, e % other.k->n_causes)
		    ? gsl_ran_gaussian_ziggurat(rng, 1)
		    : 0;
	if (st == AB_OK)
		st = diagnose(r, &other, &again, diag);
	if (st == AB_OK && !carry_all(r, &other, &again))
		return advising_nomem(diag);
	if (st == AB_OK)
		st = walk(&other, diag);
	if (st != AB_OK)
		return st;
	draw_loads(r, &other, rng);
	draw_costs(r);
	retables_fill(&r->tables, &other, r->z);
	return AB_OK;
}

static enum ab_status make_room(struct redrawing *r, struct ab_diag *diag)
{
	struct advising *a = r->a;
	size_t n = a->k->n_changes;

	r->work = ab_arena_new();
	r->scratch = ab_net_scratch_new();
	r->load = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *r->load);
	r->cost = ab_arena_alloc(a->arena, n * AXIS_N, sizeof *r->cost);
	r->z = ab_arena_alloc(a->arena, n * a->k->n_causes, sizeof *r->z);
	return r->work != NULL && r->scratch != NULL && r->load != NULL && r->cost != NULL && r->z != NULL ? AB_OK
	    : advising_nomem(diag);
}

enum ab_status redrawing_open(struct redrawing *r, struct advising *a, struct ab_diag *diag)
{
	struct advising other = *a;
	enum ab_status st;

	*r = (struct redrawing){ .a = a, .from = a->n_cases > MOST_BATCHES ? a->n_cases - MOST_BATCHES : 0 };
	st = make_room(r, diag);
	if (st == AB_OK)
		st = estimates_open(&r->e, a->k, a->arena, diag);
	if (st == AB_OK)
		st = retables_open(&r->tables, a, &r->e, diag);
	other.k = &r->e.drawn;
	if (st == AB_OK)
		st = diagnose(r, &other, &r->first, diag);
	if (st != AB_OK)
		return st;
	take_logits(r->first.present, (a->n_cases - r->from + 1) * a->k->n_causes);
	take_logits(r->first.blame, (a->n_cases - r->from + 1) * a->k->n_causes);
	take_logits(r->first.next, (a->n_cases - r->from) * a->k->n_causes);
	memcpy(r->load, a->load, a->k->n_causes * sizeof *r->load);
	memcpy(r->cost, a->problem.cost, a->k->n_changes * AXIS_N * sizeof *r->cost);
	r->problem = advising_same_money(a);
	r->problem.load = r->load;
	r->problem.cost = r->cost;
	r->problem.joints = r->tables.joints;
	r->problem.n_joints = r->tables.n;
	return AB_OK;
}

void redrawing_close(struct redrawing *r)
{
	estimates_close(&r->e);
	ab_arena_free(r->work);
	ab_net_scratch_free(r->scratch);
}
