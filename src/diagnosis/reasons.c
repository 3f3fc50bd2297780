/* reasons.c - why: what each suspect's blame would be without one finding, without one sign
 *
 * A finding is left out by solving again. A sign changes only its own cause's odds, and the blame of a cause
 * that is there does not depend on its odds: so blame without the sign = (blame / present) x present without
 * the sign, where the odds of present move by the sign's weight. No solving is needed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/str.h"

enum { EXPLAINED = 12 };               /* suspects that get reasons */
static const double LEAST_STEP = 0.1;  /* in logit of blame: less is no reason */
/* Unmentioned faults are many and weak; only what somebody judged absent is worth a solve each. */
static const double JUDGED = 0.6;

/* EDGE keeps a certainty from an infinite distance to everything else. */
static double logit(double p)
{
	static const double EDGE = 1e-12;
	p = fmin(fmax(p, EDGE), 1 - EDGE);
	return log(p) - log1p(-p);
}

struct reasons { struct ab_reason *items; size_t n; double blame; };

/* In logit, since from 0.98 to 0.90 is as much of a change as from 0.10 to 0.02; a difference would see
 * neither of them next to 0.5. */
static void add(struct reasons *r, struct ab_reason reason)
{
	if (fabs(logit(r->blame) - logit(reason.blame_without)) >= LEAST_STEP)
		r->items[r->n++] = reason;
}

/* ---- texts ---- */

static const char *number_text(struct ab_arena *arena, const struct ab_fact_def *def, double value)
{
	char buf[32];
	/* Three digits that count, never more: the rest is not known anyway. A gravity needs its
	 * thousandths whatever that makes. */
	double scale = pow(10, fmax(0, 2 - floor(log10(fmax(fabs(value), 1e-3)))));
	if (value > 0.9 && value < 1.2 && def->hi < 2 && def->lo > 0.5)
		scale = 1000;   /* a gravity */
	ab_num_text(round(value * scale) / scale, buf, sizeof buf);
	return ab_arena_printf(arena, "%s: %s %s", def->title, buf, def->unit);
}

static const char *fact_text(struct ab_arena *arena, const struct ab_fact_def *def, double value)
{
	if (def->kind == AB_FACT_NUMBER)
		return number_text(arena, def, value);
	if (def->kind == AB_FACT_FLAG)
		return ab_arena_printf(arena, "%s: %s", def->title, value > 0 ? "yes" : "no");
	return ab_arena_printf(arena, "%s: %s", def->title, def->words[(int)value]);
}

/* A number stands beside the rules' own words; yes, no and words they say themselves. */
static const char *sign_text(const struct job *job, const struct ab_sign *sign, double weight)
{
	const char *says = weight > 0 ? sign->says_for : sign->says_against;
	const struct ab_fact_def *def = &job->k->facts->defs[sign->slot];
	bool told = says != NULL && says[0] != '\0';
	if (told && def->kind != AB_FACT_NUMBER)
		return says;
	const char *fact = fact_text(job->arena, def, job->facts[sign->slot].value);
	return told && fact != NULL ? ab_arena_printf(job->arena, "%s (%s)", says, fact) : fact;
}

static const char *finding_text(const struct job *job, size_t node)
{
	const struct node *n = &job->b.nodes[node];
	const struct ab_finding *f = &job->b.finding[node];
	if (n->check >= 0)
		return ab_arena_printf(job->arena, "%s %s", job->k->checks[n->check].title,
		    f->seen == AB_SEEN_ANSWER ? "Yes." : "No.");
	const char *title = job->k->faults[n->fault].title;
	return f->seen == AB_SEEN_FOUND ? ab_arena_printf(job->arena, "found: %s, %s", title,
	    ab_grade_name(f->grade))
	                                : ab_arena_printf(job->arena, "not found: %s", title);
}

/* ---- leaving out ---- */

static bool is_worth_leaving_out(const struct job *job, size_t node)
{
	const struct ab_finding *f = &job->b.finding[node];
	return f->seen != AB_SEEN_ABSENT || f->sensitivity >= JUDGED;
}

static enum ab_status without_finding(struct job *job, size_t node, double *blame,
    struct reasons *all, size_t n)
{
	struct ab_finding *f = &job->b.finding[node], kept = *f;
	struct ab_beliefs beliefs = { .blame = blame };
	f->seen = AB_SEEN_NOTHING;
	enum ab_status st = ab_net_solve_in(job->scratch, &job->b.net, &beliefs, job->diag);
	/* Put back before anything can return: the next finding needs the whole evidence. */
	*f = kept;
	const char *text = finding_text(job, node);
	if (st != AB_OK)
		return st;
	if (text == NULL)
		return job_no_memory(job);
	for (size_t i = 0; i < n; i++)
		add(&all[i], (struct ab_reason){ .is_fault = job->b.nodes[node].fault >= 0,
		    .fault = job->b.nodes[node].fault, .slot = -1, .is_check = job->b.nodes[node].check >= 0,
		    .check = job->b.nodes[node].check,
		    .blame_without = blame[job->d->suspects[i].cause], .text = text });
	return AB_OK;
}

/* Log-odds without one sign: the next strongest of its group takes its place. The cause is copied
 * without the sign and weighed again; taking the sign's weight off the sum would forget the weaker sign
 * of its group, which then speaks. */
static double odds_without(const struct ab_cause *cause, size_t sign, const struct ab_fact *facts)
{
	struct ab_sign rest[AB_CAUSE_SIGNS];
	struct ab_cause copy = *cause;
	assert(sign < cause->n_signs && cause->n_signs <= AB_CAUSE_SIGNS);
	copy.n_signs = 0;
	for (size_t i = 0; i < cause->n_signs; i++)
		if (i != sign)
			rest[copy.n_signs++] = cause->signs[i];
	copy.signs = rest;
	return ab_cause_log_odds(&copy, facts, NULL);
}

static bool without_signs(const struct job *job, const struct ab_suspect *s, struct reasons *r)
{
	const struct ab_cause *cause = &job->k->causes[s->cause];
	double used[AB_CAUSE_SIGNS];
	double odds = ab_cause_log_odds(cause, job->facts, used);
	for (size_t i = 0; i < cause->n_signs; i++) {
		if (used[i] == 0)
			continue;
		/* Exact: the tasting gives a fixed likelihood ratio for the cause, so a step in its prior
		 * log-odds is the same step in its posterior ones. */
		double moved = logit(s->present) + odds_without(cause, i, job->facts) - odds;
		double present = 1 / (1 + exp(-moved));
		const char *text = sign_text(job, &cause->signs[i], used[i]);
		if (text == NULL)
			return false;
		add(r, (struct ab_reason){ .fault = -1, .slot = cause->signs[i].slot, .check = -1,
		    .weight = used[i], .blame_without = s->blame / s->present * present, .text = text });
	}
	return true;
}

/* ---- the two sides ---- */

/* Without the strongest reason for, blame is lowest; against, highest. */
static int rising(const void *a, const void *b)
{
	double x = ((const struct ab_reason *)a)->blame_without,
	    y = ((const struct ab_reason *)b)->blame_without;
	return (x > y) - (x < y);
}

static int falling(const void *a, const void *b)
{
	return rising(b, a);
}

/* One array: pro from the front, con behind it. */
static void split(struct ab_suspect *s, const struct reasons *r)
{
	if (r->n == 0)
		return;
	qsort(r->items, r->n, sizeof *r->items, rising);
	while (s->n_pro < r->n && r->items[s->n_pro].blame_without < s->blame)
		s->n_pro++;
	s->pro = r->items;
	s->con = r->items + s->n_pro;
	s->n_con = r->n - s->n_pro;
	qsort(s->con, s->n_con, sizeof *s->con, falling);
}

/* Each finding and each sign can be a reason once. */
static struct reasons *make_room(struct job *job, size_t n)
{
	struct reasons *all = ab_arena_alloc(job->arena, n, sizeof *all);
	for (size_t i = 0; all != NULL && i < n; i++) {
		size_t most = job->b.net.n_faults + job->k->causes[job->d->suspects[i].cause].n_signs;
		all[i] = (struct reasons){ ab_arena_alloc(job->arena, most, sizeof *all[i].items), 0,
		    job->d->suspects[i].blame };
		if (all[i].items == NULL)
			return NULL;
	}
	return all;
}

enum ab_status diagnose_reasons(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	size_t n = d->n_suspects < EXPLAINED ? d->n_suspects : EXPLAINED;
	struct reasons *all = make_room(job, n);
	double *blame = ab_arena_alloc(job->arena, job->b.net.n_causes, sizeof *blame);
	enum ab_status st = AB_OK;
	if (all == NULL || blame == NULL)
		return job_no_memory(job);
	for (size_t i = 0; st == AB_OK && n > 0 && i < job->b.net.n_faults; i++)
		if (is_worth_leaving_out(job, i))
			st = without_finding(job, i, blame, all, n);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		if (!without_signs(job, &d->suspects[i], &all[i]))
			return job_no_memory(job);
		split(&d->suspects[i], &all[i]);
	}
	return st;
}
