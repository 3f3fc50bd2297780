/* batchtaken.c - what the plan of a batch is told by its journal, by the last brew of its beer, or by the profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/batchplanning.h"

#include <string.h>

#include <afterboil/facts.h>
#include "advice/advising.h"

/* ---- the facts that its touches hang on ---- */

/* The brewer's own word before what only follows from a list that does not name it. */
static bool better(const struct ab_fact *last, const struct ab_fact *own)
{
	if (!AB_FACT_KNOWN(last) || last->origin == AB_ORIGIN_USUAL || last->origin == AB_ORIGIN_ASSUMED)
		return false;
	return !AB_FACT_KNOWN(own) || own->origin == AB_ORIGIN_USUAL || own->origin == AB_ORIGIN_ASSUMED ||
	    own->grade > last->grade;
}

static enum ab_taken source_of(const struct ab_fact *own)
{
	return !AB_FACT_KNOWN(own) || own->origin == AB_ORIGIN_ASSUMED ? AB_TAKEN_NOWHERE
	    : own->origin == AB_ORIGIN_USUAL			      ? AB_TAKEN_PROFILE
								      : AB_TAKEN_BATCH;
}

/* What follows from the yeast is told with the yeast; what was measured in a beer tells nothing of the next. */
static bool of_its_own(int slot)
{
	static const char *const begins[] = { "yeast.", "gravity.", "ferment.", "pack.pressure-" };
	for (size_t i = 0; i < sizeof begins / sizeof *begins; i++)
		if (strncmp(ab_fact_defs()->defs[slot].name, begins[i], strlen(begins[i])) == 0)
			return true;
	return false;
}

/* Does the i-th not hold by what is known now? Then those behind it decide nothing. */
static bool fails(const struct ab_conds *conds, size_t i, const struct ab_fact *own)
{
	struct ab_conds one = { .items = conds->items + i, .n = 1 };

	return AB_FACT_KNOWN(&own[conds->items[i].slot]) && !ab_conds_hold(&one, own);
}

/* What a condition of a touch names, once. */
static void take(
    struct ab_batchplan *plan, const struct ab_conds *conds, struct ab_fact *own, const struct ab_fact *last)
{
	for (size_t i = 0; i < conds->n && !(i > 0 && fails(conds, i - 1, own)); i++) {
		int slot = conds->items[i].slot;
		bool seen = false;
		for (size_t j = 0; j < plan->n_taken; j++)
			seen = seen || plan->taken[j].slot == slot;
		if (seen || of_its_own(slot))
			continue;
		enum ab_taken from = source_of(&own[slot]);
		if (last != NULL && better(&last[slot], &own[slot])) {
			own[slot] = last[slot];
			from = AB_TAKEN_LAST;
		}
		plan->taken[plan->n_taken++] = (struct ab_taken_fact){ slot, own[slot].value, from };
	}
}

static void take_for(
    struct ab_batchplan *plan, const struct ab_touch *t, struct ab_fact *own, const struct ab_fact *last)
{
	for (size_t i = 0; i < t->n_takes; i++)
		take(plan, &t->takes[i].when, own, last);
	for (size_t i = 0; i < t->n_tells; i++)
		take(plan, &t->tells[i].when, own, last);
	for (size_t i = 0; i < t->n_dues; i++)
		take(plan, &t->dues[i].when, own, last);
	for (size_t i = 0; i < t->n_only_for; i++)
		take(plan, &t->only_for[i], own, last);
	for (size_t i = 0; i < t->n_not_for; i++)
		take(plan, &t->not_for[i], own, last);
}

/* What nobody knows was taken from nowhere, and is not told of. */
static void drop_unknown(struct ab_batchplan *plan)
{
	size_t kept = 0;
	for (size_t i = 0; i < plan->n_taken; i++)
		if (plan->taken[i].from != AB_TAKEN_NOWHERE)
			plan->taken[kept++] = plan->taken[i];
	plan->n_taken = kept;
}

static enum ab_status facts_of(const struct ab_batchplan_asked *asked, const struct ab_batch *batch,
    struct ab_arena *arena, struct ab_fact **out, struct ab_diag *diag)
{
	*out = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof **out);
	return *out == NULL ? advising_nomem(diag)
			    : ab_facts_bare(batch, asked->profile, &asked->k->norms, arena, *out, diag);
}

enum ab_status batchplan_take_facts(const struct ab_batchplan_asked *asked, const struct ab_batch *batch,
    struct ab_arena *arena, struct ab_batchplan *plan, struct ab_fact **facts, struct ab_diag *diag)
{
	struct ab_fact *last = NULL;
	enum ab_status st = facts_of(asked, batch, arena, facts, diag);
	if (st == AB_OK && plan->last != NULL)
		st = facts_of(asked, plan->last, arena, &last, diag);
	plan->taken = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *plan->taken);
	if (st == AB_OK && plan->taken == NULL)
		st = advising_nomem(diag);
	for (size_t i = 0; st == AB_OK && i < asked->k->n_touches; i++)
		take_for(plan, &asked->k->touches[i], *facts, last);
	drop_unknown(plan);
	return st;
}

/* ---- the yeast ---- */

const char *batchplan_yeast_class(const struct ab_batch *b)
{
	const struct ab_yeast *yeasts = b == NULL ? NULL : b->yeasts.items;
	for (size_t i = 0; b != NULL && i < b->yeasts.n; i++)
		if (yeasts[i].klass != NULL)
			return yeasts[i].klass;
	return NULL;
}

enum ab_status batchplan_choose_yeast(
    const struct ab_batchplan_asked *asked, struct ab_batchplan *plan, struct ab_diag *diag)
{
	const struct ab_batch *usual = asked->profile == NULL ? NULL : asked->profile->usual;
	const struct { const char *klass; enum ab_taken from; } rows[] = { { asked->yeast, AB_TAKEN_TOLD },
		{ batchplan_yeast_class(plan->batch), AB_TAKEN_BATCH },
		{ batchplan_yeast_class(plan->last), AB_TAKEN_LAST },
		{ batchplan_yeast_class(usual), AB_TAKEN_PROFILE } };
	if (asked->k->norms.n_yeasts == 0)
		return ab_fail(diag, AB_EINPUT, NULL, 0, "the rules have no yeasts");
	plan->yeast = &asked->k->norms.yeasts[0];
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		int at = rows[i].klass == NULL ? -1 : ab_yeast_find(asked->k, rows[i].klass);
		if (at < 0 && rows[i].from == AB_TAKEN_TOLD && rows[i].klass != NULL)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "--yeast %.40s: there is no such class; \"afterboil rules "
			    "list yeasts\" shows which there are",
			    rows[i].klass);
		if (at < 0)
			continue;
		plan->yeast = &asked->k->norms.yeasts[at];
		plan->yeast_from = rows[i].from;
		return AB_OK;
	}
	return AB_OK;
}
