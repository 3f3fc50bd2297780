/* recurrence.c - how often each cause strikes this brewer, and what it brings when it does
 *
 * The decayed mean of the batches' "present" posteriors, shrunk to the prior as a beta-binomial with PRIOR_BATCHES imagined batches behind the prior.
 * Once a change that prevents a cause is in force, only batches from then on are counted for that cause; the prior they are
 * shrunk to is what was known before, less the change's rated share. Estimates: decay 0.85 a batch, prior worth 2 batches.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>

#define DECAY 0.85
#define PRIOR_BATCHES 2.0
/* a change that takes away less of a cause than this does not start a new count for it */
#define STARTS_ANEW 0.3

static void count_batches(const struct advising *a, size_t cause, size_t from, size_t to, double *n, double *hits)
{
	*n = *hits = 0;
	for (size_t b = from; b < to; b++) {
		double w = pow(DECAY, (double)(a->n_cases - 1 - b));

		*n += w;
		*hits += w * a->cases[b]->diagnosis->present[cause];
	}
}

/* The newest adopted change that takes a real share of this cause: the batch it began with, and its share. */
static size_t turning_point(const struct advising *a, size_t cause, double *share)
{
	size_t at = 0;

	*share = 0;
	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct ab_change *c = &a->k->changes[u];

		for (size_t i = 0; i < c->n_prevents; i++) {
			size_t b;

			if ((size_t)c->prevents[i].cause != cause || c->prevents[i].share < STARTS_ANEW)
				continue;
			b = advising_adopted(a, (int)u);
			if (b < a->n_cases && b > at) {
				at = b;
				*share = c->prevents[i].share;
			}
		}
	}
	return at;
}

static void recur_one(const struct advising *a, size_t cause, const double *prior, struct ab_recurrence *r)
{
	double n, hits, share, p = prior[cause];
	size_t turn = turning_point(a, cause, &share);

	if (turn > 0) {
		count_batches(a, cause, 0, turn, &n, &hits);
		p = (PRIOR_BATCHES * p + hits) / (PRIOR_BATCHES + n) * (1 - share);
	}
	count_batches(a, cause, turn, a->n_cases, &n, &hits);
	r->cause = (int)cause;
	r->prior = p;
	r->data_weight = n;
	r->observed = n > 0 ? hits / n : NAN;
	r->p = (PRIOR_BATCHES * p + hits) / (PRIOR_BATCHES + n);
}

/* Grades of a fault that count as flaws in this family begin above what the family is meant to have. */
static int expected_grade(const struct ab_knowledge *k, int family, size_t fault)
{
	if (family < 0 || (size_t)family >= k->n_families)
		return 0;
	for (size_t i = 0; i < k->families[family].n_expects; i++)
		if ((size_t)k->families[family].expects[i].fault == fault)
			return k->families[family].expects[i].grade;
	return 0;
}

static double hurts(const struct ab_knowledge *k, int family, size_t fault)
{
	if (family >= 0 && (size_t)family < k->n_families)
		for (size_t i = 0; i < k->families[family].n_hurts; i++)
			if ((size_t)k->families[family].hurts[i].fault == fault)
				return k->families[family].hurts[i].factor;
	return 1;
}

/* Load and P(a flaw) one cause brings to one kind of batch. link is scratch, n_faults long. */
static void brings_one(const struct advising *a, const struct ab_cause *c, size_t set, const struct ab_link **link, double *load, double *spoils)
{
	const struct ab_knowledge *k = a->k;
	double clean = 1;

	*load = 0;
	memset(link, 0, k->n_faults * sizeof *link);
	for (size_t i = 0; i < c->n_links; i++)
		if (ab_conds_hold(&c->links[i].when, a->facts[set]))
			link[c->links[i].fault] = &c->links[i];
	for (size_t f = 0; f < k->n_faults; f++) {
		int above = expected_grade(k, a->family[set], f);

		if (link[f] == NULL || above >= 3)
			continue;
		for (int g = above + 1; g <= 3; g++)
			*load += k->faults[f].severity * hurts(k, a->family[set], f) * link[f]->tail[g];
		clean *= 1 - link[f]->tail[above + 1];
	}
	*spoils = 1 - clean;
}

static double clean_of_leaks(const struct advising *a)
{
	double sum = 0;

	for (size_t b = 0; b < a->n_sets; b++) {
		double clean = 1;

		for (size_t f = 0; f < a->k->n_faults; f++) {
			const struct ab_fault *fault = &a->k->faults[f];
			double tail = 0;
			int above = expected_grade(a->k, a->family[b], f);

			for (size_t i = 0; i < fault->n_leaks; i++)
				if (ab_conds_hold(&fault->leaks[i].when, a->facts[b]))
					tail = above < 3 ? fault->leaks[i].tail[above + 1] : 0;
			clean *= 1 - tail;
		}
		sum += a->weight[b] * clean;
	}
	return sum;
}

static void sort_recurrences(struct ab_recurrence *r, size_t n)
{
	for (size_t i = 1; i < n; i++) {
		struct ab_recurrence x = r[i];
		size_t j = i;

		for (; j > 0 && r[j - 1].load < x.load; j--)
			r[j] = r[j - 1];
		r[j] = x;
	}
}

static void fill(struct advising *a, const double *prior, const struct ab_link **link)
{
	struct ab_advice *out = a->out;

	for (size_t i = 0; i < a->k->n_causes; i++) {
		const struct ab_cause *c = &a->k->causes[i];
		struct ab_recurrence *r = &out->recurrences[i];

		recur_one(a, i, prior, r);
		a->recur[i] = r->p;
		for (size_t b = 0; !c->benign && b < a->n_sets; b++) {
			double load, spoils;

			brings_one(a, c, b, link, &load, &spoils);
			a->brings[i] += a->weight[b] * load;
			a->spoils[i] += a->weight[b] * spoils;
		}
		a->load[i] = r->load = a->recur[i] * a->brings[i];
		out->load_before += a->load[i];
	}
	out->n_recurrences = a->k->n_causes;
	sort_recurrences(out->recurrences, out->n_recurrences);
	a->leak_clean = clean_of_leaks(a);
}

/* What sort of brewing it is (family, control, package: the words), without this batch's measurements: the prior of such a brewer. */
static void keep_context(const struct advising *a, size_t set, struct ab_fact *context)
{
	for (size_t s = 0; s < a->k->facts->n; s++)
		if (a->k->facts->defs[s].kind == AB_FACT_WORD)
			context[s] = a->facts[set][s];
}

enum ab_status advising_recurrence(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->n_causes;
	double *prior = ab_arena_alloc(a->arena, n, sizeof *prior), *one = ab_arena_alloc(a->arena, n, sizeof *one);
	struct ab_fact *blank = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *blank);
	const struct ab_link **link = ab_arena_alloc(a->arena, a->k->n_faults, sizeof *link);

	a->recur = ab_arena_alloc(a->arena, n, sizeof *a->recur);
	a->brings = ab_arena_alloc(a->arena, n, sizeof *a->brings);
	a->load = ab_arena_alloc(a->arena, n, sizeof *a->load);
	a->spoils = ab_arena_alloc(a->arena, n, sizeof *a->spoils);
	a->out->recurrences = ab_arena_alloc(a->arena, n, sizeof *a->out->recurrences);
	if (prior == NULL || one == NULL || blank == NULL || link == NULL || a->recur == NULL || a->brings == NULL || a->load == NULL ||
	    a->spoils == NULL || a->out->recurrences == NULL)
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_sets; b++) {
		keep_context(a, b, blank);
		ab_alone(a->k, blank, one);
		for (size_t i = 0; i < n; i++)
			prior[i] += a->weight[b] * one[i];
	}
	fill(a, prior, link);
	return AB_OK;
}
