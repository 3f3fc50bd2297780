/* questions_orders.c - what can be asked of a brewer, and which is asked next
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "questions.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tables.h"

/* Effort in minutes, as the program counts it: to ask at all, a dollar, a day's wait. */
static const double TO_ASK = 2, A_DOLLAR = 10, A_DAY = 15;

_Noreturn void questions_give_up(const char *what, const char *why)
{
	printf("run_questions: %s: %s\n", what, why);
	exit(1);
}

void *questions_room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL)
		questions_give_up("room", "out of memory");
	return p;
}

/* ---- what can be asked ---- */

size_t questions_place(const struct run *run, struct question q)
{
	return q.slot >= 0 ? (size_t)q.slot : run->k->facts->n + (size_t)q.check;
}

static bool may_check(const struct ab_check *check, const struct ab_fact *facts)
{
	for (size_t i = 0; i < check->n_only_for && !check->told_only; i++)
		if (ab_conds_hold(&check->only_for[i], facts))
			return true;
	return check->n_only_for == 0 && !check->told_only;
}

bool questions_come_with(const struct ab_fact_table *facts, size_t slot, size_t asked)
{
	size_t n = strlen(facts->defs[asked].name);

	return slot == asked ||
	    (facts->defs[slot].asks == NULL && strncmp(facts->defs[slot].name, facts->defs[asked].name, n) == 0 &&
		facts->defs[slot].name[n] == '-');
}

void questions_find_askable(struct run *run)
{
	for (size_t slot = 0; slot < run->k->facts->n; slot++)
		for (size_t s = 0; run->k->facts->defs[slot].asks != NULL && s < run->k->facts->n; s++)
			if (run->hidden->fact[s].n > 0 && questions_come_with(run->k->facts, s, slot))
				run->can_be_asked[slot] = true;
}

double questions_effort(const struct run *run, struct question q)
{
	if (q.slot >= 0)
		return TO_ASK + run->k->facts->defs[q.slot].minutes;
	const struct ab_check *c = &run->k->checks[q.check];
	return TO_ASK + c->minutes + A_DOLLAR * c->cost + A_DAY * c->wait_days;
}

/* ---- orders ---- */

/* Asked and not known, it stays in the program's list. */
bool questions_ours(const struct asked *a, const struct ab_diagnosis *d, struct question *q)
{
	for (size_t i = 0; i < d->n_asks; i++) {
		*q = (struct question){ d->asks[i].is_check ? -1 : d->asks[i].slot,
			d->asks[i].is_check ? d->asks[i].check : -1 };
		if (!a->done[questions_place(a->run, *q)])
			return true;
	}
	return false;
}

bool questions_listed(const struct asked *a, struct question *q)
{
	for (size_t i = 0; i < a->n_list; i++)
		if (!a->done[questions_place(a->run, a->list[i])]) {
			*q = a->list[i];
			return true;
		}
	return false;
}

static bool listed(const struct asked *a, struct question q)
{
	for (size_t i = 0; i < a->n_list; i++)
		if (a->list[i].slot == q.slot && a->list[i].check == q.check)
			return true;
	return false;
}

static void add(struct asked *a, struct question q)
{
	if (a->n_list < QUESTIONS_MAX && !listed(a, q))
		a->list[a->n_list++] = q;
}

void questions_list_any(struct asked *a)
{
	const struct ab_knowledge *k = a->run->k;

	for (size_t s = 0; s < k->facts->n; s++)
		if (a->run->can_be_asked[s])
			add(a, (struct question){ (int)s, -1 });
	for (size_t c = 0; c < k->n_checks; c++)
		if (may_check(&k->checks[c], a->truth))
			add(a, (struct question){ -1, (int)c });
	for (size_t i = a->n_list; i > 1; i--) {
		size_t j = gsl_rng_uniform_int(a->run->rng, i);
		struct question q = a->list[i - 1];
		a->list[i - 1] = a->list[j];
		a->list[j] = q;
	}
}

/* How far the answers of a question can drive the odds of one cause apart, nothing else known. */
static double decides(const struct asked *a, size_t cause, struct question q)
{
	const struct ab_knowledge *k = a->run->k;
	double most = 0, least = 0;

	if (q.check >= 0) {
		const struct ab_check *c = &k->checks[q.check];
		for (size_t i = 0; i < c->n_yes; i++)
			if (c->yes[i].cause == (int)cause) {
				double p = 1 - (1 - c->base) * (1 - c->yes[i].p);
				return log(p / c->base) - log((1 - p) / (1 - c->base));
			}
		return 0;
	}
	for (size_t i = 0; i < k->causes[cause].n_signs; i++) {
		const struct ab_sign *sign = &k->causes[cause].signs[i];
		if (!questions_come_with(k->facts, (size_t)sign->slot, (size_t)q.slot))
			continue;
		for (size_t j = 0; j < AB_CURVE_POINTS && j < sign->n; j++)
			most = fmax(most, sign->log_ratio[j]), least = fmin(least, sign->log_ratio[j]);
		for (size_t j = 0; sign->n == 0 && j < AB_WORDS; j++)
			most = fmax(most, sign->word_log_ratio[j]), least = fmin(least, sign->word_log_ratio[j]);
	}
	return most - least;
}

/* The question that decides a cause best and is not in the list yet. */
static bool add_decider(struct asked *a, size_t cause, bool cheap)
{
	const struct ab_knowledge *k = a->run->k;
	struct question best = { -1, -1 };
	double most = 0;

	for (size_t i = 0; i < k->facts->n + k->n_checks; i++) {
		bool fact = i < k->facts->n;
		struct question q = { fact ? (int)i : -1, fact ? -1 : (int)(i - k->facts->n) };
		if (listed(a, q) || (fact ? !a->run->can_be_asked[i] : !may_check(&k->checks[q.check], a->truth)))
			continue;
		double by = decides(a, cause, q) / (cheap ? questions_effort(a->run, q) : 1);
		if (by > most) {
			most = by;
			best = q;
		}
	}
	if (most > 0)
		add(a, best);
	return most > 0;
}

static void add_cause(int *cause, size_t *n, int c)
{
	for (size_t i = 0; i < *n; i++)
		if (cause[i] == c)
			return;
	if (c >= 0)
		cause[(*n)++] = c;
}

static double strength(const struct ab_cause *c, int fault)
{
	double most = 0;

	for (size_t i = 0; i < c->n_links; i++)
		if (c->links[i].fault == fault)
			most = fmax(most, c->links[i].tail[1]);
	return most;
}

/* The causes that print gives for one fault, list after list in their order; then what else the rules link to it,
 * strongest first. */
static void add_printed(const struct run *run, int fault, int *cause, size_t *n)
{
	const struct ab_knowledge *k = run->k;

	for (size_t r = 0; r < n_listed_rows; r++)
		for (int c = 0; c < COLUMNS && ab_fault_find(k, listed_rows[r].fault) == fault; c++) {
			char copy[1024], *save = NULL;
			snprintf(copy, sizeof copy, "%s",
			    listed_rows[r].column[c] == NULL ? "" : listed_rows[r].column[c]);
			for (char *id = strtok_r(copy, " ", &save); id != NULL; id = strtok_r(NULL, " ", &save))
				add_cause(cause, n, ab_cause_find(k, id));
		}
	for (double at = 1; at > 0; at -= 0.05)
		for (size_t c = 0; c < k->n_causes; c++) {
			double s = strength(&k->causes[c], fault);
			if (s <= at && s > at - 0.05)
				add_cause(cause, n, (int)c);
		}
}

/* Faults from the strongest down; for each cause in turn the question that decides it; then, all over again, the
 * next best ones. */
void questions_list_printed(struct asked *a, bool cheap)
{
	const struct ab_knowledge *k = a->run->k;
	int *cause = questions_room(a->arena, k->n_causes, sizeof *cause);
	size_t n = 0;
	bool more = true;

	for (int grade = AB_GRADES - 1; grade > 0; grade--)
		for (size_t f = 0; f < k->n_faults; f++)
			if (a->brew->finding[f].seen == AB_SEEN_FOUND && a->brew->finding[f].grade == grade)
				add_printed(a->run, (int)f, cause, &n);
	for (int round = 0; more && round < MOST; round++) {
		more = false;
		for (size_t i = 0; i < n; i++)
			more = add_decider(a, (size_t)cause[i], cheap) || more;
	}
}
