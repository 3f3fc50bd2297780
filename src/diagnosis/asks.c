/* asks.c - what to look at or ask next: the cheapest bit of information
 *
 * A check is weighed as one more finding, a question (asks_questions.c) by what its two most telling answers would
 * do to the odds (checks.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/asks.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <afterboil/checks.h>

static const double LEAST_BITS = 0.002;
/* As the header says (estimates). */
static const double MINUTES_A_DOLLAR = 10, MINUTES_A_DAY = 15, MINUTES_TO_ASK = 2;

/* Blame is what matters once something was found. */
double asks_bits(const struct asking *g, const struct ab_worth *w)
{
	return g->job->d->nothing_found ? w->bits : w->blame_bits;
}

/* The minutes just to ask keep a question that takes no time from being worth infinitely much. */
double ab_ask_effort(const struct ab_ask *a)
{
	return MINUTES_TO_ASK + a->minutes + MINUTES_A_DOLLAR * a->cost + MINUTES_A_DAY * a->wait_days;
}

/* Bits per effort and not bits alone: a laboratory would always win. */
static double worth(const struct ab_ask *a)
{
	return a->bits / ab_ask_effort(a);
}

/* ---- checks ---- */

/* Nobody can look whether the haze goes where none was seen. */
static bool is_about_found(const struct job *job, const struct ab_check *check)
{
	for (size_t i = 0; i < check->n_about; i++)
		if (job->evidence->finding[check->about[i]].seen == AB_SEEN_FOUND)
			return true;
	return check->n_about == 0;
}

static bool may_check(const struct job *job, size_t i)
{
	const struct ab_check *check = &job->k->checks[i];
	if (check->told_only)
		return false;
	if (job->evidence->check != NULL && job->evidence->check[i] != 0)
		return false;
	if (check->answered_by >= 0 && AB_FACT_KNOWN(&job->facts[check->answered_by]))
		return false;
	if (!is_about_found(job, check))
		return false;
	for (size_t j = 0; j < check->n_only_for; j++)
		if (ab_conds_hold(&check->only_for[j], job->facts))
			return true;
	return check->n_only_for == 0;
}

static bool put_check(struct asking *g, const struct ab_check *check, struct ab_net_check *out)
{
	int *cause = ab_arena_alloc(g->job->arena, check->n_yes, sizeof *cause);
	double *yes = ab_arena_alloc(g->job->arena, check->n_yes, sizeof *yes);
	if (cause == NULL || yes == NULL)
		return false;
	*out = (struct ab_net_check){ check->base, check->n_yes, cause, yes };
	for (size_t i = 0; i < check->n_yes; i++) {
		cause[i] = check->yes[i].cause;
		yes[i] = check->yes[i].p;
	}
	return true;
}

/* All checks are weighed, not only those of the leading cause: the one that clears three lesser suspects at
 * once may be worth more. There are some dozens, and each costs two solves. */
static enum ab_status weigh_checks(struct asking *g)
{
	struct job *job = g->job;
	size_t n = 0, most = job->k->n_checks;
	struct ab_net_check *checks = ab_arena_alloc(job->arena, most, sizeof *checks);
	struct ab_worth *worths = ab_arena_alloc(job->arena, most, sizeof *worths);
	int *which = ab_arena_alloc(job->arena, most, sizeof *which);
	if (checks == NULL || worths == NULL || which == NULL)
		return job_no_memory(job);
	for (size_t i = 0; i < most; i++) {
		if (!may_check(job, i))
			continue;
		if (!put_check(g, &job->k->checks[i], &checks[n]))
			return job_no_memory(job);
		assert(n < most);
		which[n++] = (int)i;
	}
	enum ab_status st = ab_check_worths(&g->b.net, checks, n, worths, job->diag);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		const struct ab_check *c = &job->k->checks[which[i]];
		struct ab_ask ask = { .is_check = true, .check = which[i], .slot = -1, .bits = asks_bits(g, &worths[i]),
			.minutes = c->minutes, .cost = c->cost, .wait_days = c->wait_days };
		if (ask.bits >= LEAST_BITS)
			g->asks[g->n++] = ask;
	}
	return st;
}

/* ---- ranking ---- */

static int by_worth(const void *a, const void *b)
{
	const struct ab_ask *x = a, *y = b;
	if (x->worth != y->worth)
		return x->worth < y->worth ? 1 : -1;
	if (x->check != y->check)
		return x->check < y->check ? -1 : 1;
	return (x->slot > y->slot) - (x->slot < y->slot);
}

/* A derived fact is asked for by the plainer one it comes from: ferment.early-mean-over by
 * ferment.early-mean. */
static int asked_by(const struct ab_fact_table *facts, int slot)
{
	const char *name = facts->defs[slot].name;
	if (facts->defs[slot].asks != NULL)
		return slot;
	for (size_t i = 0; i < facts->n; i++) {
		size_t len = strlen(facts->defs[i].name);
		if (facts->defs[i].asks != NULL && strncmp(facts->defs[i].name, name, len) == 0 &&
		    name[len] == '-')
			return (int)i;
	}
	return -1;
}

/* What is asked may be plainer than what was weighed, so two weighed facts can end in one question. */
static void add_question(struct asking *g, const struct ab_ask *unknown)
{
	struct ab_ask ask = *unknown;
	ask.slot = asked_by(g->job->k->facts, unknown->slot);
	if (ask.slot < 0 || AB_FACT_KNOWN(&g->job->facts[ask.slot]))
		return;
	ask.minutes = g->job->k->facts->defs[ask.slot].minutes;
	for (size_t i = 0; i < g->n; i++)
		if (g->asks[i].slot == ask.slot)
			return;   /* the better use of the same question came first */
	g->asks[g->n++] = ask;
}

static enum ab_status rank(struct asking *g, struct ab_ask *unknown, size_t n)
{
	struct ab_diagnosis *d = g->job->d;
	d->unknown = ab_arena_alloc(g->job->arena, n, sizeof *d->unknown);
	if (d->unknown == NULL)
		return job_no_memory(g->job);
	if (n > 0)
		qsort(unknown, n, sizeof *unknown, by_worth);
	for (size_t i = 0; i < n && unknown[i].bits >= LEAST_BITS; i++) {
		/* what is only reckoned nobody can tell */
		if (g->job->k->facts->defs[unknown[i].slot].asks != NULL)
			d->unknown[d->n_unknown++] = unknown[i].slot;
		add_question(g, &unknown[i]);
	}
	for (size_t i = 0; i < g->n; i++)
		g->asks[i].worth = worth(&g->asks[i]);
	if (g->n > 0)
		qsort(g->asks, g->n, sizeof *g->asks, by_worth);
	d->asks = g->asks;
	d->n_asks = g->n;
	return AB_OK;
}

enum ab_status diagnose_asks(struct job *job)
{
	size_t n_facts = job->k->facts->n, n_unknown = 0;
	struct asking g = { .job = job, .facts = ab_arena_alloc(job->arena, n_facts, sizeof *g.facts),
		.asks = ab_arena_alloc(job->arena, n_facts + job->k->n_checks, sizeof *g.asks) };
	struct ab_ask *unknown = ab_arena_alloc(job->arena, n_facts, sizeof *unknown);
	if (g.facts == NULL || g.asks == NULL || unknown == NULL ||
	    !net_build(job->k, job->facts, job->evidence, NET_ABSENT_WEIGHED, job->arena, &g.b))
		return job_no_memory(job);
	memcpy(g.facts, job->facts, n_facts * sizeof *g.facts);
	enum ab_status st = weigh_checks(&g);
	if (st == AB_OK)
		st = asks_weigh_questions(&g, unknown, &n_unknown);
	return st == AB_OK ? rank(&g, unknown, n_unknown) : st;
}
