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
	static const struct ab_vocabulary vocabulary = { ab_words_family, ab_words_sanitiser, ab_words_kit,
	    ab_words_space, ab_words_gear, ab_words_number, ab_words_malt };
	return &vocabulary;
}

int case_slot(const struct ab_fact_table *facts, int usual, const char *name)
{
	return (size_t)usual < facts->n && strcmp(facts->defs[usual].name, name) == 0 ? usual
										      : ab_fact_slot(facts, name);
}

static enum ab_status no_memory(const struct ab_batch *batch, struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, batch->source, 0, "out of memory for the diagnosis");
}

static struct ab_case *new_case(const struct ab_knowledge *k, const struct ab_batch *batch, struct ab_arena *arena)
{
	struct ab_case *c = ab_arena_alloc(arena, 1, sizeof *c);
	if (c == NULL)
		return NULL;
	c->batch = batch;
	c->tasted = batch->tastings.n > 0;
	/* What is computed is all of them, though rules on fewer may be in hand (of tests). */
	size_t n_facts = ab_fact_defs()->n > k->facts->n ? ab_fact_defs()->n : k->facts->n;
	c->facts = ab_arena_raw(arena, n_facts, sizeof *c->facts);
	/* Kept per fault, since a trend is drawn of each and not only of their sum. */
	c->fault_load = ab_arena_alloc(arena, k->n_faults, sizeof *c->fault_load);
	c->fault_intensity = ab_arena_alloc(arena, k->n_faults, sizeof *c->fault_intensity);
	return c->facts == NULL || c->fault_load == NULL || c->fault_intensity == NULL ? NULL : c;
}

static enum ab_status find_evidence(const struct ab_knowledge *k, const struct ab_profile *profile,
    struct ab_arena *arena, struct ab_case *c, struct ab_diag *diag)
{
	return case_evidence(k, c->batch, profile, c->facts, arena, &c->evidence, c->fault_intensity, diag);
}

/* Load, moot questions and warnings come after the diagnosis, since they are about its result. */
static enum ab_status finish(
    const struct ab_knowledge *k, struct ab_arena *arena, struct ab_case *c, struct ab_diag *diag)
{
	case_load(k, c);
	case_drop_moot(k, c);
	return case_warnings(k, c, arena) ? AB_OK : no_memory(c->batch, diag);
}

/* For people only, like the workings of the facts. */
static enum ab_status find_told(
    const struct ab_knowledge *k, struct ab_arena *arena, struct ab_case *c, struct ab_diag *diag)
{
	c->unreckoned = ab_arena_alloc(arena, AB_UNRECKONED_MOST, sizeof *c->unreckoned);
	if (c->unreckoned == NULL || !case_counted(k, c, arena))
		return no_memory(c->batch, diag);
	c->n_unreckoned = ab_unreckoned(c->batch, c->facts, c->unreckoned);
	return AB_OK;
}

/* The order of the pipe: facts need only the journal and the norms, evidence needs one fact (a plain beer
 * hides less), the diagnosis needs both. */
enum ab_status ab_case_work(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag)
{
	struct ab_case *c = new_case(k, batch, arena);
	enum ab_status st;
	*out = NULL;
	if (c == NULL)
		return no_memory(batch, diag);
	assert(k->facts != NULL && options != NULL);
	/* Workings are for people, and who wants beliefs only shows them to nobody. */
	st = options->beliefs_only ? ab_facts_bare(batch, profile, &k->norms, arena, c->facts, diag)
	    : ab_facts_compute(batch, profile, &k->norms, arena, c->facts, diag);
	if (st == AB_OK)
		st = find_evidence(k, profile, arena, c, diag);
	if (st == AB_OK)
		st = ab_diagnose(k, c->facts, &c->evidence, options, arena, &c->diagnosis, diag);
	if (st == AB_OK && !options->beliefs_only)
		st = ab_priming_of_batch(batch, profile, &k->norms, arena, &c->priming, diag);
	if (st == AB_OK && !options->beliefs_only)
		st = find_told(k, arena, c, diag);
	if (st == AB_OK)
		st = finish(k, arena, c, diag);
	/* Only a finished case is handed out: a half one would show a diagnosis without its warnings. */
	*out = st == AB_OK ? c : NULL;
	return st;
}

/* One stage of all before the next of any: the code of each stage and the part of the rules it reads are then fetched
 * once for all of them. */
static enum ab_status by_stages(const struct ab_knowledge *k, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag)
{
	struct ab_fact **facts = ab_arena_alloc(arena, n, sizeof *facts);
	enum ab_status st = facts != NULL ? AB_OK : no_memory(batches[0], diag);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		out[i] = new_case(k, batches[i], arena);
		if (out[i] == NULL)
			st = no_memory(batches[i], diag);
		else
			facts[i] = out[i]->facts;
	}
	if (st == AB_OK)
		st = ab_facts_bare_few(batches, n, profile, &k->norms, arena, facts, diag);
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = find_evidence(k, profile, arena, out[i], diag);
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = ab_diagnose(k, out[i]->facts, &out[i]->evidence, options, arena, &out[i]->diagnosis, diag);
	for (size_t i = 0; st == AB_OK && i < n; i++)
		case_load(k, out[i]);
	return st;
}

/* By stages a later batch may fail before an earlier one; worked singly once more, the first to fail is told of. */
enum ab_status ab_case_work_few(const struct ab_knowledge *k, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag)
{
	struct ab_diag later;
	ab_diag_init(&later);
	assert(options->beliefs_only);
	enum ab_status st = n == 0 ? AB_OK : by_stages(k, batches, n, profile, options, arena, out, &later);
	enum ab_status again = AB_OK;
	for (size_t i = 0; st != AB_OK && again == AB_OK && i < n; i++)
		again = ab_case_work(k, batches[i], profile, options, arena, &out[i], diag);
	return again;
}

const char *ab_changed_title(const struct ab_knowledge *k, const struct ab_changed *c)
{
	int place = c->what != NULL ? ab_change_find(k, c->what) : -1;

	return place >= 0 ? k->changes[place].title : c->text != NULL && c->text[0] != '\0' ? c->text : c->what;
}
