/* advise.c - from a brewer's batches to a plan: the steps in order
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>

#define DECAY 0.85   /* as recurrence.c: the newest batch counts most */

static int family_of(const struct ab_case *c)
{
	return c->evidence.family;
}

static enum ab_status take_cases(struct advising *a, struct ab_diag *diag)
{
	double sum = 0;

	a->n_sets = a->n_cases;
	a->facts = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->facts);
	a->family = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->family);
	a->weight = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->weight);
	if (a->facts == NULL || a->family == NULL || a->weight == NULL)
		return advising_nomem(diag);
	for (size_t b = 0; b < a->n_sets; b++) {
		a->facts[b] = a->cases[b]->facts;
		a->family[b] = family_of(a->cases[b]);
		a->weight[b] = pow(DECAY, (double)(a->n_sets - 1 - b));
		sum += a->weight[b];
	}
	for (size_t b = 0; b < a->n_sets; b++)
		a->weight[b] /= sum;
	return AB_OK;
}

/* One imagined batch of which only the family is known. */
static enum ab_status imagine(struct advising *a, size_t at, int family, double weight, struct ab_diag *diag)
{
	struct ab_fact *facts = ab_arena_alloc(a->arena, a->k->facts->n, sizeof *facts);
	int slot = ab_fact_slot(a->k->facts, "recipe.family");

	if (facts == NULL)
		return advising_nomem(diag);
	if (slot >= 0 && family >= 0)
		facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_USUAL, .value = family };
	a->facts[at] = facts;
	a->family[at] = family;
	a->weight[at] = weight;
	return AB_OK;
}

/* Without batches: the families of the profile by their shares, or one beer of no known family. */
static enum ab_status imagine_families(struct advising *a, struct ab_diag *diag)
{
	const struct ab_profile *p = a->profile;
	size_t n = p != NULL ? p->brews.n : 0;
	enum ab_status st = AB_OK;
	double sum = 0;

	a->n_sets = n > 0 ? n : 1;
	a->facts = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->facts);
	a->family = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->family);
	a->weight = ab_arena_alloc(a->arena, a->n_sets, sizeof *a->weight);
	if (a->facts == NULL || a->family == NULL || a->weight == NULL)
		return advising_nomem(diag);
	if (n == 0)
		return imagine(a, 0, -1, 1, diag);
	n = 0;
	for (AB_EACH(const struct ab_brews, brews, p->brews)) {
		double share = brews->share.known ? brews->share.v : 1.0 / (double)a->n_sets;

		if (st == AB_OK)
			st = imagine(a, n++, brews->family - 1, share, diag);
		sum += share;
	}
	for (size_t b = 0; b < a->n_sets && sum > 0; b++)
		a->weight[b] /= sum;
	return st;
}

enum ab_status ab_advise(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n_cases, const struct ab_profile *profile,
    const struct ab_advice_options *options, struct ab_arena *arena, struct ab_advice **out, struct ab_diag *diag)
{
	static enum ab_status (*const steps[])(struct advising *, struct ab_diag *) = {
		advising_recurrence, advising_limits, advising_effects, advising_choose, advising_order, advising_firmness, advising_reason };
	struct advising a = { .k = k, .cases = cases, .n_cases = n_cases, .profile = profile, .options = options, .arena = arena };
	enum ab_status st;

	*out = NULL;
	a.out = ab_arena_alloc(arena, 1, sizeof *a.out);
	if (a.out == NULL)
		return advising_nomem(diag);
	st = n_cases > 0 ? take_cases(&a, diag) : imagine_families(&a, diag);
	for (size_t i = 0; st == AB_OK && i < sizeof steps / sizeof *steps; i++)
		st = steps[i](&a, diag);
	if (st != AB_OK)
		return st;
	advising_rank(&a);
	*out = a.out;
	return AB_OK;
}
