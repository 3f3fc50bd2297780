/* redraw.c - the likely range of a diagnosis by drawing estimated numbers again and solving again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/redraw.h>

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include "base/alloc.h"

#define STEP_MAX 5.0
#define ODDS_MAX 500.0   /* of network.h */

enum { TRIES = 50 };     /* for one draw that rounding made impossible */

struct redraw {
	const struct ab_net *net;
	const struct ab_steps *steps;
	gsl_rng rng;              /* its state is ours: gsl_rng_alloc would abort when memory is short */
	struct ab_net drawn;      /* points at the arrays below */
	double *log_odds;
	struct ab_link_to *links;
	struct ab_tail *leak;
	double *present, *blame;  /* of one draw */
	double *all;              /* all draws: [cause][blame, present][draw], then [set][draw] */
	const struct ab_range *range;
	struct ab_net_scratch *scratch;
};

/* 0 and 1 stay: they are statements ("never", "always"), not estimates. In logit, for there no step however
 * far leads out of 0..1. */
double ab_logit_move(double p, double by)
{
	return p <= 0 || p >= 1 || by == 0 ? p : ab_odds_move(p, exp(by));
}

double ab_odds_move(double p, double odds)
{
	double low;

	if (p <= 0 || p >= 1 || odds == 1)
		return p;
	/* p o / (1 - p + p o); for odds over 1 divided through by them, so that neither side overflows. */
	if (odds <= 1)
		return p * odds / (1 - p + p * odds);
	low = (1 - p) / odds;
	return p / (low + p);
}

static double step_of(const double *steps, size_t i)
{
	return steps != NULL ? steps[i] : 0;
}

/* One draw moves the whole tail: its grades were rated together, by one head. */
static struct ab_tail move_tail(const struct ab_tail *t, double by)
{
	struct ab_tail moved = *t;
	double odds = exp(by);

	for (int k = 1; k < AB_GRADES; k++) {
		moved.at[k] = ab_odds_move(t->at[k], odds);
		/* The move is monotone; its rounding need not be. */
		if (moved.at[k] > moved.at[k - 1])
			moved.at[k] = moved.at[k - 1];
	}
	return moved;
}

/* A draw is used up for every number that has a step, whatever the others are, so ranges do not jump with
 * unrelated edits. */
static double draw(struct redraw *r, const double *steps, size_t i)
{
	double sd = step_of(steps, i);

	return sd > 0 ? gsl_ran_gaussian(&r->rng, sd) : 0;
}

/* All in a fixed order from one seed: the same batch gives the same range in every run. */
static void draw_net(struct redraw *r)
{
	const struct ab_net *net = r->net;

	for (size_t i = 0; i < net->n_causes; i++)
		r->log_odds[i] = isinf(net->log_odds[i]) ? net->log_odds[i]
			: fmin(fmax(net->log_odds[i] + draw(r, r->steps->log_odds, i), -ODDS_MAX), ODDS_MAX);
	for (size_t l = 0; l < net->n_links; l++) {
		r->links[l] = net->links[l];
		r->links[l].tail = move_tail(&net->links[l].tail, draw(r, r->steps->tail, l));
	}
	for (size_t f = 0; f < net->n_faults; f++)
		r->leak[f] = move_tail(&net->leak[f], draw(r, r->steps->leak, f));
}

/* Written so that a step which is no number is refused. */
static bool steps_ok(const double *steps, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (!(step_of(steps, i) >= 0 && step_of(steps, i) <= STEP_MAX))
			return false;
	return true;
}

static enum ab_status check(const struct ab_net *net, const struct ab_steps *steps, int n,
    struct ab_diag *diag)
{
	if (n < AB_REDRAW_MIN || n > AB_REDRAW_MAX)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "%d redraws; allowed are %d to %d", n, AB_REDRAW_MIN,
		    AB_REDRAW_MAX);
	if (!steps_ok(steps->log_odds, net->n_causes) || !steps_ok(steps->tail, net->n_links) ||
	    !steps_ok(steps->leak, net->n_faults))
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "a step of an estimate lies outside 0..%g", STEP_MAX);
	return AB_OK;
}

/* All arrays have one place more than needed, since an allocation of nothing may be NULL and would look
 * like a failure. */
static bool make_rooms(struct redraw *r, int n)
{
	const struct ab_net *net = r->net;
	size_t causes = net->n_causes + 1;

	r->rng.type = gsl_rng_mt19937;
	r->rng.state = ab_calloc(1, gsl_rng_mt19937->size);
	r->log_odds = ab_calloc(causes, sizeof *r->log_odds);
	r->links = ab_calloc(net->n_links + 1, sizeof *r->links);
	r->leak = ab_calloc(net->n_faults + 1, sizeof *r->leak);
	r->present = ab_calloc(causes, sizeof *r->present);
	r->blame = ab_calloc(causes, sizeof *r->blame);
	r->all = ab_calloc((causes * 2 + r->range->n_sets) * (size_t)n, sizeof *r->all);
	r->scratch = ab_net_scratch_new();
	r->drawn = *net;
	r->drawn.log_odds = r->log_odds;
	r->drawn.links = r->links;
	r->drawn.leak = r->leak;
	return r->rng.state != NULL && r->log_odds != NULL && r->links != NULL && r->leak != NULL &&
	    r->present != NULL && r->blame != NULL && r->all != NULL && r->scratch != NULL;
}

static void drop_rooms(struct redraw *r)
{
	ab_free(r->rng.state);
	ab_free(r->log_odds);
	ab_free(r->links);
	ab_free(r->leak);
	ab_free(r->present);
	ab_free(r->blame);
	ab_free(r->all);
	ab_net_scratch_free(r->scratch);
}

static int by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

/* The middle four fifths: what a brewer takes for "likely", and steady with a few hundred draws, whereas
 * the ends of 95 % would hang on a handful of them. */
static void percentiles(double *draws, size_t n, size_t i, double *low, double *high)
{
	if (low == NULL && high == NULL)
		return;
	assert(draws != NULL && n >= AB_REDRAW_MIN);
	qsort(draws, n, sizeof *draws, by_size);
	if (low != NULL)
		low[i] = gsl_stats_quantile_from_sorted_data(draws, 1, n, 0.1);
	if (high != NULL)
		high[i] = gsl_stats_quantile_from_sorted_data(draws, 1, n, 0.9);
}

/* A far draw may round two probabilities together and so make the evidence impossible: such a one is drawn
 * again. */
static enum ab_status solve_draw(struct redraw *r, struct ab_beliefs *beliefs)
{
	enum ab_status st = AB_EIMPOSSIBLE;

	for (int tries = 0; st == AB_EIMPOSSIBLE && tries < TRIES; tries++) {
		draw_net(r);
		st = ab_net_solve_in(r->scratch, &r->drawn, beliefs, NULL);
	}
	return st;
}

/* Of the drawn network that was just solved. */
static enum ab_status solve_sets(struct redraw *r, double log_evidence, size_t n, size_t k,
    struct ab_diag *diag)
{
	double *sets = r->all + 2 * r->net->n_causes * n;
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < r->range->n_sets; i++)
		st = ab_net_blame_any(r->scratch, &r->drawn, r->range->set[i], log_evidence,
		    &sets[i * n + k], diag);
	return st;
}

static enum ab_status run(struct redraw *r, size_t n, struct ab_diag *diag)
{
	struct ab_beliefs beliefs = { .present = r->present, .blame = r->blame };
	/* The network as given first: what is wrong with it is said about it, not about a draw. */
	enum ab_status st = ab_net_solve_in(r->scratch, r->net, &beliefs, diag);

	for (size_t k = 0; st == AB_OK && k < n; k++) {
		st = solve_draw(r, &beliefs);
		if (st != AB_OK)
			return ab_fail(diag, st, NULL, 0,
			    "redraw %zu of %zu could not be solved: %s; smaller steps would help", k + 1, n,
			    ab_status_name(st));
		for (size_t i = 0; st == AB_OK && i < r->net->n_causes; i++) {
			r->all[2 * i * n + k] = r->blame[i];
			r->all[(2 * i + 1) * n + k] = r->present[i];
		}
		if (st == AB_OK)
			st = solve_sets(r, beliefs.log_evidence, n, k, diag);
	}
	return st;
}

enum ab_status ab_net_redraw(const struct ab_net *net, const struct ab_steps *steps, int n,
    unsigned long seed, struct ab_range *range, struct ab_diag *diag)
{
	struct redraw r = { .net = net, .steps = steps, .range = range };
	enum ab_status st = check(net, steps, n, diag);

	if (st != AB_OK)
		return st;
	if (!make_rooms(&r, n)) {
		st = ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for %d redraws", n);
		goto out;
	}
	gsl_rng_set(&r.rng, seed);
	st = run(&r, (size_t)n, diag);
	for (size_t i = 0; st == AB_OK && i < net->n_causes; i++) {
		percentiles(r.all + 2 * i * (size_t)n, (size_t)n, i, range->blame_low, range->blame_high);
		percentiles(r.all + (2 * i + 1) * (size_t)n, (size_t)n, i, range->present_low,
		    range->present_high);
	}
	for (size_t i = 0; st == AB_OK && i < range->n_sets; i++)
		percentiles(r.all + (2 * net->n_causes + i) * (size_t)n, (size_t)n, i, range->set_low,
		    range->set_high);
out:
	drop_rooms(&r);
	return st;
}
