/* effects.c - what each change takes away of each cause, for this brewer
 *
 * Batch by batch: where a fact that the change sets and the cause looks at is known, replay; else the rated share of the rules. The batches are
 * weighed by how likely the cause was present in them. A replay never promises more than CEILING (estimate: no habit is kept perfectly).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>

#define CEILING 0.95

enum { BY_REPLAY = 1, BY_RATING = 2 };

static void note_slots(const struct ab_conds *conds, unsigned char *row)
{
	for (size_t i = 0; i < conds->n; i++)
		row[conds->items[i].slot] = 1;
}

static void note_cause(const struct ab_cause *c, unsigned char *row)
{
	for (size_t i = 0; i < c->n_signs; i++) {
		row[c->signs[i].slot] = 1;
		note_slots(&c->signs[i].when, row);
	}
	for (size_t i = 0; i < c->n_priors; i++)
		note_slots(&c->priors[i].when, row);
	for (size_t i = 0; i < c->n_gates; i++)
		note_slots(&c->gates[i].when, row);
}

static bool replayable(const struct advising *a, const struct ab_change *c, size_t cause, const struct ab_fact *facts)
{
	const unsigned char *row = &a->uses[cause * a->k->facts->n];

	for (size_t s = 0; s < c->n_sets; s++)
		if (row[c->sets[s].slot] && AB_FACT_KNOWN(&facts[c->sets[s].slot]))
			return true;
	return false;
}

double advising_rated(const struct ab_change *c, size_t cause, const struct ab_fact *facts)
{
	double share = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if ((size_t)c->prevents[i].cause == cause && ab_conds_hold(&c->prevents[i].when, facts))
			share = c->prevents[i].share;
	return share;
}

static double probability(double log_odds)
{
	return 1 / (1 + exp(-log_odds));
}

static double fell(double before, double after)
{
	double share = before > 0 ? 1 - after / before : 0;

	return share < 0 ? 0 : share > CEILING ? CEILING : share;
}

/* Share of one cause that changes (n of them) take away in set b. by collects BY_REPLAY and BY_RATING. */
static double removed(const struct advising *a, size_t b, size_t cause, const int *changes, size_t n, struct ab_fact *scratch, unsigned char *by)
{
	const struct ab_knowledge *k = a->k;
	const struct ab_cause *c = &k->causes[cause];
	double left = 1;
	bool replay = false;

	for (size_t i = 0; i < n; i++) {
		const struct ab_change *change = &k->changes[changes[i]];
		double share;

		if (replayable(a, change, cause, a->facts[b])) {
			replay = true;
			continue;
		}
		share = advising_rated(change, cause, a->facts[b]);
		if (share > 0)
			*by |= BY_RATING;
		left *= 1 - share;
	}
	if (replay && ab_replay(k, a->facts[b], changes, n, scratch, NULL) > 0) {
		double before = probability(ab_cause_log_odds(c, a->facts[b], NULL));

		left *= 1 - fell(before, probability(ab_cause_log_odds(c, scratch, NULL)));
	}
	if (replay)
		*by |= BY_REPLAY;
	return 1 - left;
}

static double present_in(const struct advising *a, size_t b, size_t cause)
{
	return a->n_cases > 0 ? a->cases[b]->diagnosis->present[cause] : a->recur[cause];
}

static double averaged(const struct advising *a, size_t cause, const int *changes, size_t n, struct ab_fact *scratch, unsigned char *by)
{
	double sum = 0, weights = 0;

	for (size_t b = 0; b < a->n_sets; b++) {
		double w = a->weight[b] * present_in(a, b, cause);

		if (w <= 0)
			continue;
		sum += w * removed(a, b, cause, changes, n, scratch, by);
		weights += w;
	}
	return weights > 0 ? sum / weights : 0;
}

double advising_joint(const struct advising *a, int cause, const int *changes, size_t n, struct ab_fact *scratch)
{
	unsigned char by = 0;

	return averaged(a, (size_t)cause, changes, n, scratch, &by);
}

static bool touches(const struct advising *a, const struct ab_change *c, size_t cause)
{
	const unsigned char *row = &a->uses[cause * a->k->facts->n];

	for (size_t i = 0; i < c->n_prevents; i++)
		if ((size_t)c->prevents[i].cause == cause)
			return true;
	for (size_t s = 0; s < c->n_sets; s++)
		if (row[c->sets[s].slot])
			return true;
	return false;
}

static void effects_of(struct advising *a, size_t u, struct ab_fact *scratch)
{
	struct ab_item *item = &a->out->items[u];
	double replayed = 0, rated = 0;
	unsigned char by = 0;
	int change = (int)u;

	for (size_t i = 0; i < a->k->n_causes; i++) {
		size_t at = u * a->k->n_causes + i;

		if (a->load[i] <= 0 || !touches(a, &a->k->changes[u], i))
			continue;
		a->effect[at] = averaged(a, i, &change, 1, scratch, &a->basis[at]);
		item->gain += a->load[i] * a->effect[at];
		by |= a->basis[at];
		if (a->basis[at] & BY_REPLAY)
			replayed += a->load[i] * a->effect[at];
		if (a->basis[at] & BY_RATING)
			rated += a->load[i] * a->effect[at];
	}
	if (item->gain > 0)   /* by what brought the gain; where nothing did, by what was tried */
		by = (unsigned char)((replayed > 0 ? BY_REPLAY : 0) | (rated > 0 ? BY_RATING : 0));
	item->basis = by == BY_REPLAY ? AB_BASIS_REPLAY : by == (BY_REPLAY | BY_RATING) ? AB_BASIS_MIXED : AB_BASIS_RATED;
}

enum ab_status advising_effects(struct advising *a, struct ab_diag *diag)
{
	const struct ab_knowledge *k = a->k;
	struct ab_fact *scratch = ab_arena_alloc(a->arena, k->facts->n, sizeof *scratch);

	a->uses = ab_arena_alloc(a->arena, k->n_causes * k->facts->n, 1);
	a->effect = ab_arena_alloc(a->arena, k->n_changes * k->n_causes, sizeof *a->effect);
	a->basis = ab_arena_alloc(a->arena, k->n_changes * k->n_causes, 1);
	if (scratch == NULL || a->uses == NULL || a->effect == NULL || a->basis == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; i < k->n_causes; i++)
		note_cause(&k->causes[i], &a->uses[i * k->facts->n]);
	for (size_t u = 0; u < k->n_changes; u++)
		effects_of(a, u, scratch);
	return AB_OK;
}
