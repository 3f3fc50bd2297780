/* asks_questions.c - which unknown facts are worth asking for, and what their answers would do
 *
 * The answers of a question are those that raise and lower its leading cause most; what they do to every cause is
 * found by putting them in and weighing the signs again, so groups, conditions and gates are honoured.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/asks.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { QUESTIONS = 32, ANSWERS = 96 };   /* questions weighed by solving, the rest promise less; answers tried */

static bool cond_asks(const struct ab_conds *conds, int slot)
{
	for (size_t i = 0; i < conds->n; i++)
		if (conds->items[i].slot == slot)
			return true;
	return false;
}

static const struct ab_sign *sign_on(const struct ab_cause *cause, int slot)
{
	for (size_t i = 0; i < cause->n_signs; i++)
		if ((cause->sign_slots != NULL ? cause->sign_slots[i] : cause->signs[i].slot) == slot)
			return &cause->signs[i];
	return NULL;
}

/* Could this fact move the cause's odds? */
static bool depends(const struct ab_cause *cause, int slot)
{
	if (sign_on(cause, slot) != NULL)
		return true;
	for (size_t i = 0; i < cause->n_signs; i++)
		if (cause->signs[i].when.n > 0 && cond_asks(&cause->signs[i].when, slot))
			return true;
	for (size_t i = 0; i < cause->n_gates; i++)
		if (cond_asks(&cause->gates[i].when, slot))
			return true;
	for (size_t i = 0; i < cause->n_priors; i++)
		if (cond_asks(&cause->priors[i].when, slot))
			return true;
	return false;
}

/* The cause with the highest blame (then present) of those that the fact could move; -1 = none. */
static int leading_cause(const struct job *job, int slot)
{
	int best = -1;
	double most = -1;
	for (size_t i = 0; i < job->k->n_causes; i++) {
		/* The little of presence only breaks ties, as when nothing was found and all blame is 0. */
		double p = job->d->blame[i] + 1e-3 * job->d->present[i];
		if (p > most && depends(&job->k->causes[i], slot)) {
			most = p;
			best = (int)i;
		}
	}
	return best;
}

/* What could be answered. */
struct answers { double value[ANSWERS]; size_t n; };

static void add_answer(struct answers *to, double value)
{
	if (to->n < ANSWERS)
		to->value[to->n++] = value;
}

/* On either side of a number that a condition compares with, near it: farther off, signs on the same fact
 * would speak too. */
static void add_sides(struct answers *to, const struct ab_conds *conds, int slot, const struct ab_fact_def *def)
{
	double step = (def->hi - def->lo) / 1000;
	for (size_t i = 0; i < conds->n; i++)
		if (conds->items[i].slot == slot && (conds->items[i].cmp == AB_CMP_OVER ||
		    conds->items[i].cmp == AB_CMP_UNDER)) {
			add_answer(to, conds->items[i].value - step);
			add_answer(to, conds->items[i].value + step);
		}
}

/* Words and flags: each. A number: the points of the cause's curves, and what its conditions compare with. */
static void possible_answers(const struct ab_cause *cause, int slot, const struct ab_fact_def *def,
    struct answers *to)
{
	to->n = 0;
	for (int i = 0; def->kind == AB_FACT_FLAG ? i < 2 : def->kind == AB_FACT_WORD && def->words[i] != NULL; i++)
		add_answer(to, i);
	if (def->kind != AB_FACT_NUMBER)
		return;
	for (size_t i = 0; i < cause->n_signs; i++) {
		for (size_t j = 0; cause->signs[i].slot == slot && j < cause->signs[i].n; j++)
			add_answer(to, cause->signs[i].x[j]);
		add_sides(to, &cause->signs[i].when, slot, def);
	}
	for (size_t i = 0; i < cause->n_gates; i++)
		add_sides(to, &cause->gates[i].when, slot, def);
	for (size_t i = 0; i < cause->n_priors; i++)
		add_sides(to, &cause->priors[i].when, slot, def);
}

/* By putting the answer in and weighing all signs again: a difference of two ratios would miss that the
 * answer may beat a stronger sign of its group, open a gate or change the prior. */
static double moved_by(struct asking *g, int slot, double value, int cause)
{
	static const double MOST = 200;   /* of checks.h */
	assert(slot >= 0 && (size_t)slot < g->job->k->facts->n);
	g->facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = value };
	double by = ab_cause_log_odds(&g->job->k->causes[cause], g->facts, NULL) - g->b.log_odds[cause];
	g->facts[slot] = g->job->facts[slot];
	return isinf(by) ? by : fmin(fmax(by, -MOST), MOST);
}

/* The answers that say most for and most against the cause. Two stand for all: the network would have to be
 * solved for each, and the two ends show most of what can be learned. */
static void telling_values(struct asking *g, int slot, int cause, double *raises, double *lowers)
{
	struct answers answers;
	double most = -INFINITY, least = INFINITY;
	*raises = *lowers = 0;
	possible_answers(&g->job->k->causes[cause], slot, &g->job->k->facts->defs[slot], &answers);
	for (size_t i = 0; i < answers.n; i++) {
		double by = moved_by(g, slot, answers.value[i], cause);
		if (by > most) {
			most = by;
			*raises = answers.value[i];
		}
		if (by < least) {
			least = by;
			*lowers = answers.value[i];
		}
	}
}

/* False when memory is short; n == 0 in out when nothing is moved. answer: the two answers that were put in. */
static bool put_question(struct asking *g, int slot, int lead, struct ab_net_question *out, double answer[2])
{
	const struct ab_knowledge *k = g->job->k;
	int *cause = ab_arena_alloc(g->job->arena, k->n_causes, sizeof *cause);
	double *a = ab_arena_alloc(g->job->arena, k->n_causes, sizeof *a);
	double *b = ab_arena_alloc(g->job->arena, k->n_causes, sizeof *b);
	if (cause == NULL || a == NULL || b == NULL)
		return false;
	*out = (struct ab_net_question){ 0, cause, a, b };
	telling_values(g, slot, lead, &answer[0], &answer[1]);
	for (size_t i = 0; i < k->n_causes; i++) {
		/* From impossible no answer can move a cause by a finite step: infinity minus infinity is
		 * no number. */
		if (isinf(g->b.log_odds[i]) || !depends(&k->causes[i], slot))
			continue;
		a[out->n] = moved_by(g, slot, answer[0], (int)i);
		b[out->n] = moved_by(g, slot, answer[1], (int)i);
		if (a[out->n] != 0 || b[out->n] != 0)
			cause[out->n++] = (int)i;
	}
	return true;
}

/* A question and how much it promises: the odds it moves, counted by the blame (and a little by the presence)
 * of whose they are. */
struct candidate { struct ab_net_question question; double answer[2]; int slot; double promise; };

/* FAR: beyond a factor of e^3 = 20 a cause is settled, and more of the same tells nothing new (estimate). */
static double promise(const struct job *job, const struct ab_net_question *q)
{
	static const double FAR = 3, PRESENT = 0.1;
	double sum = 0;
	for (size_t i = 0; i < q->n; i++)
		sum += (job->d->blame[q->cause[i]] + PRESENT * job->d->present[q->cause[i]]) *
		    fmin(fabs(q->log_ratio_a[i] - q->log_ratio_b[i]), FAR);
	return sum;
}

/* Ties by slot: qsort keeps no order, and the same batch must always be asked the same. */
static int by_promise(const void *a, const void *b)
{
	const struct candidate *x = a, *y = b;
	if (x->promise != y->promise)
		return x->promise < y->promise ? 1 : -1;
	return (x->slot > y->slot) - (x->slot < y->slot);
}

/* The questions worth two solves each, at most QUESTIONS; NULL when memory is short. */
static struct candidate *candidates(struct asking *g, size_t *n)
{
	struct job *job = g->job;
	size_t most = job->k->facts->n;
	struct candidate *all = ab_arena_alloc(job->arena, most, sizeof *all);
	*n = 0;
	for (size_t i = 0; all != NULL && i < most; i++) {
		int lead = AB_FACT_KNOWN(&job->facts[i]) ? -1 : leading_cause(job, (int)i);
		struct candidate *c = &all[*n];
		if (lead < 0 || isinf(g->b.log_odds[lead]))
			continue;
		if (!put_question(g, (int)i, lead, &c->question, c->answer))
			return NULL;
		c->slot = (int)i;
		c->promise = promise(job, &c->question);
		*n += c->question.n > 0;
	}
	if (*n > 0)
		qsort(all, *n, sizeof *all, by_promise);
	*n = *n < QUESTIONS ? *n : QUESTIONS;
	return all;
}

enum ab_status asks_weigh_questions(struct asking *g, struct ab_ask *unknown, size_t *n_unknown)
{
	struct ab_net_question questions[QUESTIONS];
	struct ab_worth worths[QUESTIONS];
	size_t n;
	const struct candidate *all = candidates(g, &n);
	if (all == NULL)
		return job_no_memory(g->job);
	for (size_t i = 0; i < n; i++)
		questions[i] = all[i].question;
	enum ab_status st = ab_question_worths(&g->b.net, questions, n, worths, g->job->diag);
	*n_unknown = st == AB_OK ? n : 0;
	for (size_t i = 0; i < *n_unknown; i++) {
		double bits = asks_bits(g, &worths[i]);
		unknown[i] = (struct ab_ask){ .slot = all[i].slot, .check = -1, .bits = bits, .worth = bits,
			.minutes = g->job->k->facts->defs[all[i].slot].minutes, .question = &all[i].question,
			.weighed = all[i].slot,
			.answer = { all[i].answer[0], all[i].answer[1] } };
	}
	return st;
}
