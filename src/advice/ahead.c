/* ahead.c - what a check, or an answer about the batch, is worth before anything is bought
 *
 * Each answer is put into the batch it is about and the batch diagnosed anew, on what the others say of it
 * (these are not looked at again: what they would say next is a second thought); how often each cause
 * strikes and what it costs follows by the same steps as without it (recurrence.c, attribution.c). A check is a
 * finding; an unknown fact moves the odds of that batch's causes by what its signs make of the answer, and those of
 * one batch more brewed so.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>
#include <afterboil/checks.h>

/* Less than this share of the load could not be tasted even if an answer came out as hoped (policy by estimate;
 * a hundredth, as the policy's smallest change). */
static const double LEAST = 0.01;
/* In log-odds: beyond it a cause is certain or out of the question. */
static const double FARTHEST = 30;

struct looking {
	struct advising *a;
	size_t b;                          /* the batch */
	struct ab_problem problem;
	const double *present, *blame;     /* of it, once answered */
	double *alone, *before;            /* of it, by an answer of a question; NULL: as they were */
	struct ab_net_scratch *scratch;
	struct ab_informed informed;
	const double *load[2];             /* yes, no */
	double p[2];
};

static enum ab_status make_ready(struct looking *l, struct ab_diag *diag)
{
	struct advising *a = l->a;
	size_t n = a->k->n_changes;

	l->informed.now = ab_arena_alloc(a->arena, n, 1);
	l->informed.after = ab_arena_alloc(a->arena, 2 * n, 1);
	if (l->informed.now == NULL || l->informed.after == NULL)
		return advising_nomem(diag);
	l->problem = advising_same_money(a);
	return AB_OK;
}

/* The batch with this evidence, on these chances before it was tasted: its beliefs, and *log_p of the evidence up
 * to what both answers share; -INFINITY: it cannot be, and what was believed stands. */
static enum ab_status believe(struct looking *l, const struct ab_together_batch *batch, const double *before,
    double *log_p, struct ab_diag *diag)
{
	struct advising *a = l->a;
	struct ab_beliefs beliefs = { .present = ab_arena_alloc(a->arena, a->k->n_causes, sizeof(double)),
		.blame = ab_arena_alloc(a->arena, a->k->n_causes, sizeof(double)) };
	struct ab_diag own;
	enum ab_status st;

	if (beliefs.present == NULL || beliefs.blame == NULL)
		return advising_nomem(diag);
	ab_diag_init(&own);
	*log_p = -INFINITY;
	l->present = a->present[l->b];
	l->blame = a->blame[l->b];
	st = ab_together_again(batch, a->k->n_causes, before, l->scratch, &beliefs, &own);
	if (st == AB_EIMPOSSIBLE)
		return AB_OK;
	if (st != AB_OK)
		return st == AB_ELIMIT ? st : ab_fail(diag, st, NULL, 0, "%s", own.text);
	l->present = beliefs.present;
	l->blame = beliefs.blame;
	*log_p = beliefs.log_evidence;
	return AB_OK;
}

static const double *before_of(const struct looking *l, const struct ab_together_batch *batch)
{
	return l->a->before[l->b] != NULL ? l->a->before[l->b] : batch->alone;
}

static enum ab_status check_says(struct looking *l, int check, signed char says, double *log_p, struct ab_diag *diag)
{
	struct advising *a = l->a;
	struct ab_evidence evidence = a->cases[l->b]->evidence;
	signed char *done = ab_arena_alloc(a->arena, a->k->n_checks, 1);
	struct ab_together_batch batch;
	enum ab_status st;

	if (done == NULL)
		return advising_nomem(diag);
	if (evidence.check != NULL)
		memcpy(done, evidence.check, a->k->n_checks);
	done[check] = says;
	evidence.check = done;
	st = advising_batch(a, l->b, &evidence, &batch, diag);
	return st == AB_OK ? believe(l, &batch, before_of(l, &batch), log_p, diag) : st;
}

/* Chances whose log-odds an answer moves; what is certain stays. */
static double *moved(const struct looking *l, const double *p, const struct ab_net_question *q, bool is_a)
{
	double *out = ab_arena_alloc(l->a->arena, l->a->k->n_causes, sizeof *out);

	if (out != NULL)
		memcpy(out, p, l->a->k->n_causes * sizeof *out);
	for (size_t i = 0; out != NULL && i < q->n; i++) {
		double *x = &out[q->cause[i]], step = fmax(-FARTHEST, fmin(FARTHEST, ab_question_step(q, i, is_a)));

		if (*x > 0 && *x < 1)
			*x = 1 / (1 + (1 - *x) / *x * exp(-step));
	}
	return out;
}

/* The signs that look at the fact speak for this batch alone: what the others say of it moves with them, as far as
 * it was. */
static enum ab_status fact_is(struct looking *l, const struct ab_net_question *q, bool is_a, struct ab_diag *diag)
{
	struct ab_together_batch batch;
	double log_p;
	enum ab_status st = advising_batch(l->a, l->b, &l->a->cases[l->b]->evidence, &batch, diag);

	if (st != AB_OK)
		return st;
	l->alone = moved(l, batch.alone, q, is_a);
	l->before = moved(l, before_of(l, &batch), q, is_a);
	return l->alone == NULL || l->before == NULL ? advising_nomem(diag)
						     : believe(l, &batch, l->before, &log_p, diag);
}

/* The rows of all batches with that of the one exchanged. */
static const double **exchanged(const struct looking *l, const double **rows, const double *row)
{
	const double **out = ab_arena_alloc(l->a->arena, l->a->n_cases, sizeof *out);

	if (out != NULL) {
		memcpy(out, rows, l->a->n_cases * sizeof *out);
		out[l->b] = row;
	}
	return out;
}

/* One batch more, brewed as each was, after the answer. */
static enum ab_status next_again(const struct looking *l, const double ***rows, struct ab_diag *diag)
{
	const struct advising *a = l->a;
	size_t n = a->light.n_batches, n_causes = a->k->n_causes;
	double *next = ab_arena_alloc(a->arena, n * n_causes, sizeof *next);

	*rows = ab_arena_alloc(a->arena, a->n_cases, sizeof **rows);
	if (next == NULL || *rows == NULL)
		return advising_nomem(diag);
	memcpy(*rows, a->next, a->n_cases * sizeof **rows);
	if (l->b < a->light_from)
		return AB_OK;
	for (size_t i = 0; i < n; i++)
		(*rows)[a->light_from + i] = next + i * n_causes;
	if (l->alone == NULL)
		return ab_together_next(&a->light, &a->in_the_light, l->b - a->light_from, l->present, next, diag);
	struct ab_together_batch *batches = ab_arena_alloc(a->arena, n, sizeof *batches);
	double *before = ab_arena_alloc(a->arena, n * n_causes, sizeof *before);
	struct ab_together_of of = a->light;
	struct ab_together found = a->in_the_light;
	size_t at = l->b - a->light_from;

	if (batches == NULL || before == NULL)
		return advising_nomem(diag);
	memcpy(batches, of.batches, n * sizeof *batches);
	memcpy(before, found.before, n * n_causes * sizeof *before);
	batches[at].alone = l->alone;
	memcpy(before + at * n_causes, l->before, n_causes * sizeof *before);
	of.batches = batches;
	found.before = before;
	return ab_together_next(&of, &found, at, l->present, next, diag);
}

/* All steps from batches to loads again, in rooms of their own. */
static enum ab_status loads(struct looking *l, const double **load, struct ab_diag *diag)
{
	struct advising other = *l->a;
	enum ab_status st;

	other.present = exchanged(l, l->a->present, l->present);
	other.blame = exchanged(l, l->a->blame, l->blame);
	other.out = ab_arena_alloc(other.arena, 1, sizeof *other.out);
	if (other.out == NULL || other.present == NULL || other.blame == NULL)
		return advising_nomem(diag);
	if (other.told_part != NULL)
		other.told_part = ab_arena_alloc(other.arena, other.k->n_causes, sizeof *other.told_part);
	if (l->a->told_part != NULL && other.told_part == NULL)
		return advising_nomem(diag);
	st = next_again(l, &other.next, diag);
	if (st == AB_OK)
		st = advising_priors(&other, diag);
	if (st == AB_OK)
		st = advising_recurrence(&other, diag);
	if (st == AB_OK)
		st = advising_attribution(&other, diag);
	*load = other.load;
	return st;
}

/* AB_ELIMIT: too wide to be weighed. */
static enum ab_status weigh_check(struct looking *l, int check, struct ab_diag *diag)
{
	double log_p[2] = { 0, 0 };
	enum ab_status st = AB_OK;

	l->alone = l->before = NULL;
	for (int i = 0; st == AB_OK && i < 2; i++) {
		st = check_says(l, check, i == 0 ? 1 : -1, &log_p[i], diag);
		if (st == AB_OK)
			st = loads(l, &l->load[i], diag);
	}
	if (st != AB_OK)
		return st;
	if (isinf(log_p[0]) && isinf(log_p[1]))
		return AB_ELIMIT;
	l->p[0] = isinf(log_p[0]) ? 0 : 1 / (1 + exp(log_p[1] - log_p[0]));
	return AB_OK;
}

/* AB_ELIMIT too where its answers move all alike. */
static enum ab_status weigh_question(struct looking *l, const struct ab_net_question *q, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	if (!ab_question_chance(q, l->a->present[l->b], l->a->blame[l->b], &l->p[0]))
		return AB_ELIMIT;
	for (int i = 0; st == AB_OK && i < 2; i++) {
		st = fact_is(l, q, i == 0, diag);
		if (st == AB_OK)
			st = loads(l, &l->load[i], diag);
	}
	return st;
}

static enum ab_status weigh(struct looking *l, const struct ab_ask *ask, struct ab_diag *diag)
{
	enum ab_status st = ask->is_check ? weigh_check(l, ask->check, diag) : weigh_question(l, ask->question, diag);

	l->p[1] = 1 - l->p[0];
	return st != AB_OK ? st : ab_plan_informed(&l->problem, (struct ab_outcome[]){ { l->p[0], l->load[0] },
	    { l->p[1], l->load[1] } },
	    2, &l->informed, diag);
}

/* Of what costs money, what brings most of what `in` holds and `other` does not. */
static int purchase(const struct looking *l, const unsigned char *in, const unsigned char *other)
{
	int who = -1;

	for (size_t u = 0; u < l->problem.n_changes; u++)
		if (in[u] && !other[u] && l->a->out->items[u].cost > 0 &&
		    (who < 0 || l->a->out->items[u].gain > l->a->out->items[who].gain))
			who = (int)u;
	return who;
}

/* What is to come before buying goes before what is not, and then what is worth most for its effort. */
static bool goes_before(const struct ab_ahead *x, const struct ab_ahead *y)
{
	if (y->ask == NULL || x->first != y->first)
		return y->ask == NULL || x->first;
	return x->worth / ab_ask_effort(x->ask) > y->worth / ab_ask_effort(y->ask);
}

static void keep(const struct looking *l, struct ab_ask *ask, struct ab_ahead *best)
{
	const struct ab_informed *x = &l->informed;
	struct ab_ahead now = { .ask = ask,
		.batch = l->a->cases[l->b]->batch,
		.p_yes = l->p[0],
		.worth = x->worth,
		.bought = best->bought };
	bool other = false;

	for (int i = 0; i < 2; i++) {
		const unsigned char *after = x->after + (size_t)i * l->problem.n_changes;

		now.take[i] = purchase(l, after, x->now);
		now.drop[i] = purchase(l, x->now, after);
		other |= now.take[i] >= 0 || now.drop[i] >= 0;
	}
	now.first = now.bought > 0 && ((other && x->worth >= LEAST * l->a->out->load_before) || x->worth > now.bought);
	if (goes_before(&now, best))
		*best = now;
}

/* Can somebody still tell? A check is done on the beer. */
static bool can_be_known(const struct looking *l, const struct ab_ask *ask)
{
	return ask->is_check || (ask->question != NULL && l->a->k->facts->defs[ask->slot].lasting);
}

static enum ab_status look(struct looking *l, struct ab_ahead *best, struct ab_diag *diag)
{
	struct ab_diagnosis *d = l->a->cases[l->b]->diagnosis;
	size_t tried[2] = { 0, 0 };
	enum ab_status st = make_ready(l, diag);

	for (size_t i = 0; st == AB_OK && i < d->n_asks; i++) {
		if (!can_be_known(l, &d->asks[i]) || tried[d->asks[i].is_check]++ >= MOST_AHEAD)
			continue;
		st = weigh(l, &d->asks[i], diag);
		if (st == AB_OK && l->informed.worth > 0)
			keep(l, &d->asks[i], best);
		if (st == AB_ELIMIT)
			st = AB_OK;
	}
	return st;
}

/* The newest batch that disappointed, and only that one: an old one's bottles are drunk. -1 = none. */
static long disappointed(const struct advising *a)
{
	for (size_t b = a->n_cases; b-- > 0;) {
		const struct ab_diagnosis *d = a->cases[b]->diagnosis;

		if (a->cases[b]->tasted && !d->nothing_found && !d->verdict_benign)
			return (long)b;
	}
	return -1;
}

enum ab_status advising_ahead(struct advising *a, struct ab_diag *diag)
{
	struct ab_ahead *best = &a->out->ahead;
	long b = disappointed(a);
	struct ab_net_scratch *scratch;
	enum ab_status st;

	*best = (struct ab_ahead){ .take = { -1, -1 }, .drop = { -1, -1 } };
	for (size_t u = 0; u < a->out->n_items; u++)
		if (a->out->items[u].chosen && a->out->items[u].cost > 0)
			best->bought += a->out->items[u].joint_gain;
	if (b < 0 || advising_for_time(a) || a->cases[b]->evidence.finding == NULL)
		return AB_OK;
	scratch = ab_net_scratch_new();
	if (scratch == NULL)
		return advising_nomem(diag);
	st = look(&(struct looking){ .a = a, .b = (size_t)b, .scratch = scratch }, best, diag);
	ab_net_scratch_free(scratch);
	return st;
}
