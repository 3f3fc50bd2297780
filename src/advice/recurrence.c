/* recurrence.c - how often each cause strikes this brewer, and what it brings when it does
 *
 * The chance of one batch more, brewed as each of the batches was (together.h, next): what own tastings taught of
 * how often the cause comes here and of how well changes hold is in it, and the facts as they were. Of these the
 * mean, the newest counting most: how this brewer brews is what the batches show. Once a change that takes a real
 * share of a cause is in force, it is how the batches since were brewed. (Present posteriors shrunk to what is
 * usual for such brewing were tried first: they take the facts of a batch for luck, and said 0.75 where 0.84 came
 * of brewers who go on as they are.) A trouble told in the profile weighs beside them as ADVISING_TOLD batches do,
 * and without a batch beside what is usual for such brewing, which is worth as many as the rate is there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <math.h>
#include <afterboil/held.h>

#include "advice/grounds.h"

/* A change that takes away less of a cause than this does not start a new count for it */
#define STARTS_ANEW 0.3

/* The newest adopted change that takes a real share of this cause: the batch it began with (0 if none after the
 * first). */
static size_t turning_point(const struct advising *a, size_t cause)
{
	size_t at = 0;

	for (size_t i = 0; i < a->grounds->n_turns; i++) {
		const struct ground_turn *t = &a->grounds->turns[i];

		if (t->at > at && advising_rated(&a->k->changes[t->change], cause, a->facts[t->at]) >= STARTS_ANEW)
			at = t->at;
	}
	return at;
}

/* Means over the batches that count; before the newest AB_HELD_MOST they hardly would. */
struct counted { double weight, present, next; };

static struct counted count_batches(const struct advising *a, size_t cause)
{
	struct counted sum = { 0, 0, 0 };

	for (size_t b = a->turn[cause]; b < a->n_cases; b++) {
		double w = a->grounds->age[b];

		if (a->next[b] == NULL)
			continue;
		sum.weight += w;
		sum.present += w * a->present[b][cause];
		sum.next += w * a->next[b][cause];
	}
	return (struct counted){ sum.weight, sum.present / sum.weight, sum.next / sum.weight };
}

static void recur_one(const struct advising *a, size_t cause, struct ab_recurrence *r)
{
	struct counted own = { 0, NAN, a->prior[cause] };
	double worth;

	if (a->n_cases > 0)
		own = count_batches(a, cause);
	worth = AB_HELD_RATE_BATCHES + own.weight;
	*r = (struct ab_recurrence){ .cause = (int)cause,
		.prior = a->prior[cause],
		.data_weight = own.weight,
		.observed = own.present,
		.p = own.next };
	if (a->told != NULL)
		r->p = (worth * own.next + ADVISING_TOLD * a->told->diagnosis->present[cause]) /
		    (worth + ADVISING_TOLD);
}

/* Grades of a fault that count as flaws begin above what the beer is meant to have. An expected trait
 * (banana in a wheat beer) is no flaw until it is stronger than meant. */
static void note_meant(struct advising *a)
{
	const struct ab_knowledge *k = a->k;

	for (size_t b = 0; b < a->n_sets; b++)
		for (size_t f = 0; f < k->n_faults; f++) {
			int grade = 0;

			while (grade < 3 && a->grounds->may_mean[b * k->n_faults + f] &&
			    ab_fault_expected(k, a->facts[b], a->family[b], (int)f, grade + 1))
				grade++;
			a->meant[b * k->n_faults + f] = (unsigned char)grade;
		}
}

/* Load and P(a flaw) one cause brings to one kind of batch: as casework reckons it, a grade over what
 * is meant counts from the ground up. tail[g] is P(grade >= g), so their sum is the expected grade. */
static void brings_one(const struct advising *a, size_t cause, size_t set, double *load, double *spoils)
{
	const unsigned char *meant = a->meant + set * a->k->n_faults;
	double clean = 1;
	size_t n;
	const struct ground_way *way = grounds_way(a->grounds, a->n_sets, cause, set, &n);

	assert(set < a->n_sets);
	*load = 0;
	for (size_t i = 0; i < n; i++) {
		const double *tail = a->k->causes[cause].links[way[i].link].tail;
		int above = meant[way[i].fault];
		double grade;

		if (above >= 3)
			continue;
		grade = above * tail[above + 1];
		for (int g = above + 1; g <= 3; g++)
			grade += tail[g];
		*load += way[i].weight * grade;
		clean *= 1 - tail[above + 1];
	}
	*spoils = 1 - clean;
}

/* Faults that come from nowhere, as independent: the same assumption as in the network. */
static double clean_of_leaks(const struct advising *a)
{
	double sum = 0;

	for (size_t b = 0; b < a->n_sets; b++) {
		double clean = 1;

		for (size_t f = 0; a->weight[b] > 0 && f < a->k->n_faults; f++) {
			int above = a->meant[b * a->k->n_faults + f], at = a->grounds->leak[b * a->k->n_faults + f];

			clean *= 1 - (at >= 0 && above < 3 ? a->k->faults[f].leaks[at].tail[above + 1] : 0);
		}
		sum += a->weight[b] * clean;
	}
	return sum;
}

/* Benign explanations have a frequency but bring no load: nothing is wrong when they strike. */
static void bring(struct advising *a)
{
	for (size_t i = 0; i < a->k->n_causes; i++)
		for (size_t b = 0; !a->k->causes[i].benign && b < a->n_sets; b++) {
			double load, spoils;

			if (a->weight[b] <= 0)
				continue;
			brings_one(a, i, b, &load, &spoils);
			a->brings[i] += a->weight[b] * load;
			a->spoils[i] += a->weight[b] * spoils;
		}
	a->leak_clean = clean_of_leaks(a);
}

/* What sort of brewing it is (family, control, package: the words), without this batch's measurements:
 * the prior of such a brewer. Numbers are left out because the diagnosis of each batch has used them
 * already; without a batch none has, and what the profile tells (a room of 26 C) is all there is. */
static void by_context(const struct advising *a, const struct ab_fact *facts, struct ab_fact *context, double *p)
{
	for (size_t s = 0; s < a->k->facts->n; s++)
		if (a->k->facts->defs[s].kind == AB_FACT_WORD || a->n_cases == 0)
			context[s] = facts[s];
	ab_alone(a->k, context, p);
}

/* The prior is the mean over this brewer's batches of what such a batch suffers from, before its own
 * measurements are looked at. */
enum ab_status advising_priors(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_causes;
	double *one = ab_arena_alloc(a->arena, n, sizeof *one);
	struct ab_fact *blank = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *blank);

	a->prior = ab_arena_alloc(a->arena, n, sizeof *a->prior);
	a->brings = ab_arena_alloc(a->arena, n, sizeof *a->brings);
	a->spoils = ab_arena_alloc(a->arena, n, sizeof *a->spoils);
	a->meant = ab_arena_alloc(a->arena, a->n_sets * a->k->n_faults, 1);
	if (one == NULL || blank == NULL || a->prior == NULL || a->brings == NULL || a->spoils == NULL ||
	    a->meant == NULL)
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_sets; b++) {
		if (a->weight[b] <= 0)
			continue;
		by_context(a, a->facts[b], blank, one);
		for (size_t i = 0; i < n; i++)
			a->prior[i] += a->weight[b] * one[i];
	}
	note_meant(a);
	bring(a);
	return AB_OK;
}

enum ab_status advising_contexts(struct advising *a, struct ab_diag *diag)
{
	struct ab_fact *blank = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *blank);

	a->context = ab_arena_alloc(a->arena, a->n_cases * a->k->n_causes, sizeof *a->context);
	if (blank == NULL || a->context == NULL)
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_cases; b++)   /* of the batch as it was, whatever family was asked for */
		by_context(a, a->cases[b]->facts, blank, a->context + b * a->k->n_causes);
	return AB_OK;
}

enum ab_status advising_recurrence(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_causes;

	a->recur = ab_arena_alloc(a->arena, n, sizeof *a->recur);
	a->turn = ab_arena_alloc(a->arena, n, sizeof *a->turn);
	a->load = ab_arena_alloc(a->arena, n, sizeof *a->load);
	a->out->recurrences = ab_arena_alloc(a->arena, n, sizeof *a->out->recurrences);
	if (a->recur == NULL || a->turn == NULL || a->load == NULL || a->out->recurrences == NULL)
		return advising_nomem(diag);
	a->out->n_recurrences = n;
	for (size_t i = 0; i < n; i++) {
		struct ab_recurrence *r = &a->out->recurrences[i];

		a->turn[i] = turning_point(a, i);
		recur_one(a, i, r);
		a->recur[i] = r->p;
		r->expected = r->p * a->brings[i];
	}
	return AB_OK;
}
