/* allbatches.c - what is believed of each batch in the light of all (together.h)
 *
 * What a batch's facts make of a cause is its own; how often the cause strikes here beyond that is learned from
 * what was tasted of the others. A change that was made holds off its rated share in the batches with it whose
 * facts do not tell of it; one there from the first batch on has no before, and its mark is in the facts. One batch
 * stands as it was diagnosed, and tells of the next. Of longer histories the newest AB_HELD_MOST are taken
 * together; those before them weigh nothing, and stand as they were diagnosed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <math.h>
#include <string.h>
#include <afterboil/held.h>
#include <afterboil/together.h>

/* A finger's breadth of what one could see in a percentage; and rounds enough for all but what goes round in
 * circles. */
#define SETTLED 0.005
enum { ROUNDS = 12 };
/* no share is believed to be all */
#define MOST 0.99

static bool make_rows(struct advising *a)
{
	size_t n = a->n_cases;

	a->present = ab_arena_alloc(a->arena, n, sizeof *a->present);
	a->blame = ab_arena_alloc(a->arena, n, sizeof *a->blame);
	a->tasted_only = ab_arena_alloc(a->arena, n, sizeof *a->tasted_only);
	a->before = ab_arena_alloc(a->arena, n, sizeof *a->before);
	a->next = ab_arena_alloc(a->arena, n, sizeof *a->next);
	a->alone_in = ab_arena_alloc(a->arena, n, sizeof *a->alone_in);
	if (a->present == NULL || a->blame == NULL || a->tasted_only == NULL || a->before == NULL || a->next == NULL ||
	    a->alone_in == NULL)
		return false;
	for (size_t b = 0; b < n; b++) {
		const struct ab_diagnosis *d = a->cases[b]->diagnosis;

		a->present[b] = a->tasted_only[b] = d->present;
		a->blame[b] = d->blame;
	}
	return true;
}

/* Diagnoses made by hand may lack it. A network made of the same facts has weighed them already. */
static double *alone_of(const struct advising *a, size_t b, const struct ab_net *net)
{
	double *p = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *p);

	if (p != NULL && net == NULL)
		ab_alone(a->k, a->cases[b]->facts, p);
	for (size_t i = 0; p != NULL && net != NULL && i < a->k->n_causes; i++)
		p[i] = 1 / (1 + exp(-net->log_odds[i]));
	return p;
}

/* What the changes it was brewed with are expected to hold off, where its facts do not tell. */
static void held_off(const struct advising *a, size_t b, double *held)
{
	const struct ab_fact *facts = a->cases[b]->facts;

	for (size_t u = 0; u < a->k->n_changes; u++) {
		const struct ab_change *change = &a->k->changes[u];

		if (!a->in_force[u * a->n_cases + b] || advising_from_the_first(a, u))
			continue;
		for (size_t i = 0; i < a->k->n_causes; i++) {
			double share = advising_rated(change, i, facts);

			if (share > 0 && !advising_replayable(a, change, i, facts))
				held[i] = 1 - (1 - held[i]) * (1 - fmin(MOST, share));
		}
	}
}

/* Of a batch whose findings are not at hand its diagnosis tells. */
static double *given(const struct advising *a, size_t b, const double *alone)
{
	double *ratio = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *ratio);

	for (size_t i = 0; ratio != NULL && i < a->k->n_causes; i++)
		ratio[i] = ab_exposed_ratio(alone[i], a->cases[b]->diagnosis->present[i]);
	return ratio;
}

enum ab_status advising_batch(const struct advising *a, size_t b, const struct ab_evidence *evidence,
    struct ab_together_batch *out, struct ab_diag *diag)
{
	struct ab_net *net = ab_arena_alloc(a->arena, 1, sizeof *net);
	double *held = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *held);
	enum ab_status st = AB_OK;

	if (net == NULL || held == NULL)
		return advising_nomem(diag);
	held_off(a, b, held);
	if (evidence->finding != NULL)
		st = ab_diagnose_net(a->k, a->cases[b]->facts, evidence, a->arena, net, diag);
	if (st == AB_OK && a->alone_in[b] == NULL)
		a->alone_in[b] = alone_of(a, b, evidence->finding != NULL ? net : NULL);
	if (st != AB_OK || a->alone_in[b] == NULL)
		return st != AB_OK ? st : advising_nomem(diag);
	*out = (struct ab_together_batch){ .alone = a->alone_in[b], .held = held };
	if (evidence->finding == NULL)
		out->ratio = given(a, b, out->alone);
	else if (net->n_faults > 0)
		out->net = net;
	return evidence->finding != NULL || out->ratio != NULL ? AB_OK : advising_nomem(diag);
}

/* P(it struck) by what was seen of the batch, its tasting in the light of the others, on the rules' own prior. */
static bool tell_of_tasting(struct advising *a, size_t b, const double *ratio)
{
	double *p = ab_arena_alloc(a->arena, a->k->n_causes, sizeof *p);

	for (size_t i = 0; p != NULL && i < a->k->n_causes; i++) {
		double alone = a->alone_in[b][i];

		p[i] = a->cases[b]->diagnosis->present[i];
		if (alone > 0 && alone < 1 && isfinite(ratio[i]))
			p[i] = alone * ratio[i] / (alone * ratio[i] + 1 - alone);
	}
	a->tasted_only[b] = p;
	return p != NULL;
}

static enum ab_status take_over(struct advising *a, struct ab_diag *diag)
{
	const struct ab_together_of *of = &a->light;
	const struct ab_together *t = &a->in_the_light;

	for (size_t i = 0; i < of->n_batches; i++) {
		size_t b = a->light_from + i, at = i * of->n_causes;

		a->present[b] = t->present + at;
		a->before[b] = t->before + at;
		a->next[b] = t->next + at;
		if (of->batches[i].net != NULL)
			a->blame[b] = t->blame + at;
		if (!tell_of_tasting(a, b, t->ratio + at))
			return advising_nomem(diag);
	}
	return AB_OK;
}

enum ab_status advising_together(struct advising *a, struct ab_diag *diag)
{
	size_t from = a->n_cases > AB_HELD_MOST ? a->n_cases - AB_HELD_MOST : 0, n = a->n_cases - from;
	struct ab_together_batch *batches = ab_arena_alloc(a->arena, n, sizeof *batches);
	enum ab_status st = AB_OK;

	a->light_from = from;
	a->light = (struct ab_together_of){ .batches = batches, .n_batches = n, .n_causes = a->k->n_causes,
		.rate_batches = AB_HELD_RATE_BATCHES, .share_batches = AB_HELD_SHARE_BATCHES, .keeps = ADVISING_DECAY,
		.rounds = ROUNDS, .settled = SETTLED };
	if (batches == NULL || !make_rows(a))
		return advising_nomem(diag);
	if (n < 1)
		return AB_OK;
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = advising_batch(a, from + i, &a->cases[from + i]->evidence, &batches[i], diag);
	if (st == AB_OK)
		st = ab_together_solve(&a->light, a->arena, &a->in_the_light, diag);
	if (st == AB_OK)
		st = take_over(a, diag);
	if (st == AB_OK) {
		a->out->unsettled = !a->in_the_light.settled;
		advising_turned(a);
	}
	return st;
}
