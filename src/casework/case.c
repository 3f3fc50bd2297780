/* case.c - one batch through the whole pipe
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/casework.h"

#include <assert.h>
#include <string.h>

/* The rules need the journal's words, and knowledge must not know the journal: this is the one room below
 * advice that knows both. */
const struct ab_vocabulary *ab_casework_vocabulary(void)
{
	static const struct ab_vocabulary vocabulary = { ab_words_family, ab_words_sanitiser, ab_words_bottle,
	    ab_words_space, ab_words_gear };
	return &vocabulary;
}

int case_slot(const struct ab_fact_table *facts, int usual, const char *name)
{
	return (size_t)usual < facts->n && strcmp(facts->defs[usual].name, name) == 0 ? usual : ab_fact_slot(facts, name);
}

static enum ab_status no_memory(const struct ab_batch *batch, struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, batch->source, 0, "out of memory for the diagnosis");
}

/* The order of the pipe: facts need only the journal and the norms, evidence needs one fact (a plain beer
 * hides less), the diagnosis needs both. Load, moot questions and warnings come after it, since they are
 * about its result. */
enum ab_status ab_case_work(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag)
{
	struct ab_case *c = ab_arena_alloc(arena, 1, sizeof *c);
	enum ab_status st;
	*out = NULL;
	if (c == NULL)
		return no_memory(batch, diag);
	c->batch = batch;
	c->tasted = batch->tastings.n > 0;
	c->facts = ab_arena_alloc(arena, k->facts->n, sizeof *c->facts);
	/* Kept per fault, since a trend is drawn of each and not only of their sum. */
	c->fault_load = ab_arena_alloc(arena, k->n_faults, sizeof *c->fault_load);
	c->fault_intensity = ab_arena_alloc(arena, k->n_faults, sizeof *c->fault_intensity);
	if (c->facts == NULL || c->fault_load == NULL || c->fault_intensity == NULL)
		return no_memory(batch, diag);
	assert(k->facts != NULL && options != NULL);
	/* Workings are for people, and who wants beliefs only shows them to nobody. */
	st = options->beliefs_only ? ab_facts_bare(batch, profile, &k->norms, arena, c->facts, diag)
	    : ab_facts_compute(batch, profile, &k->norms, arena, c->facts, diag);
	if (st == AB_OK)
		st = case_evidence(k, batch, profile, c->facts, arena, &c->evidence,
		    c->fault_intensity, diag);
	if (st == AB_OK)
		st = ab_diagnose(k, c->facts, &c->evidence, options, arena, &c->diagnosis, diag);
	if (st != AB_OK)
		return st;
	st = options->beliefs_only ? AB_OK : ab_priming_of_batch(batch, profile, &k->norms, arena, &c->priming, diag);
	if (st != AB_OK)
		return st;
	case_load(k, c);
	case_drop_moot(k, c);
	if (!case_warnings(k, c, arena))
		return no_memory(batch, diag);
	/* Only a finished case is handed out: a half one would show a diagnosis without its warnings. */
	*out = c;
	return AB_OK;
}
