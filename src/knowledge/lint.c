/* lint.c - what is wrong with the rules as a whole, and the two doors of the room: read and lint
 *
 * Findings come in three waves, and a wave is only looked for when the one before found no error: each file
 * by itself, names and numbers, the whole. So the root is named, not its echoes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/lint.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "knowledge/compile.h"

/* ---- findings ---- */

/* The first error is kept apart, since a caller without room for a list must still be able to tell it.
 * Findings past the list are counted, so "and 3 more" is true. */
void lint_say(struct lint *lint, bool error, const char *file, long line, const char *fmt, ...)
{
	char text[AB_DIAG_TEXT];
	va_list ap;
	va_start(ap, fmt);
	vsnprintf(text, sizeof text, fmt, ap);
	va_end(ap);
	assert(lint->items != NULL || lint->max == 0);
	bool first = error && lint->errors == 0, kept = lint->n < lint->max;
	lint->n++;
	lint->errors += error;
	if (!first && !kept)
		return;
	struct ab_lint found = { error, file, line, ab_arena_strdup(lint->arena, text) };
	if (found.text == NULL) {
		lint->no_memory = true;
		found.text = "out of memory";
	}
	if (first)
		lint->first = found;
	if (kept)
		lint->items[lint->n - 1] = found;
}

/* ---- words ---- */

struct used_word { const char *word; const struct ab_fault *fault; };

/* Equal words in the order of their faults, so that a lint names the same pair on every run: qsort keeps no
 * order. */
static int by_word(const void *a, const void *b)
{
	const struct used_word *x = a, *y = b;
	int order = ab_word_cmp(x->word, y->word);
	return order != 0 ? order : (x->fault > y->fault) - (x->fault < y->fault);
}

/* A tasting word must mean one fault. A fault's own id or title among its words is harmless. */
static void check_words(struct lint *lint, const struct ab_knowledge *k)
{
	size_t n = 0, room = 0;
	for (size_t i = 0; i < k->n_faults; i++)
		room += k->faults[i].n_words + 2;
	struct used_word *used = ab_arena_alloc(lint->arena, room, sizeof *used);
	if (used == NULL) {
		lint->no_memory = true;
		return;
	}
	for (size_t i = 0; i < k->n_faults; i++) {
		const struct ab_fault *f = &k->faults[i];
		used[n++] = (struct used_word){ f->id, f };
		used[n++] = (struct used_word){ f->title, f };
		for (size_t j = 0; j < f->n_words; j++)
			used[n++] = (struct used_word){ f->words[j], f };
	}
	if (n > 0)
		qsort(used, n, sizeof *used, by_word);
	/* Sorted, equal words are neighbours: one pass instead of every pair. */
	for (size_t i = 1; i < n; i++)
		if (used[i].fault != used[i - 1].fault && ab_word_cmp(used[i].word, used[i - 1].word) == 0)
			lint_say(lint, true, used[i].fault->file, used[i].fault->line,
			    "the word \"%s\" means both fault \"%s\" and fault \"%s\"; it may mean "
			    "one", used[i].word, used[i - 1].fault->id, used[i].fault->id);
}

/* ---- faults and causes ---- */

static bool is_given(const struct ab_knowledge *k, int fault)
{
	for (size_t i = 0; i < k->n_causes; i++)
		for (size_t j = 0; j < k->causes[i].n_links; j++)
			if (k->causes[i].links[j].fault == fault)
				return true;
	return false;
}

/* A fault nothing gives is an error: found, it could only be blamed on the leak. One without words is a
 * remark. */
static void check_faults(struct lint *lint, const struct ab_knowledge *k)
{
	for (size_t i = 0; i < k->n_faults; i++) {
		const struct ab_fault *f = &k->faults[i];
		if (!is_given(k, (int)i))
			lint_say(lint, true, f->file, f->line,
			    "no cause gives fault \"%s\"; a fault that nothing brings cannot be diagnosed",
			    f->id);
		if (f->n_words == 0)
			lint_say(lint, false, f->file, f->line,
			    "fault \"%s\" has no <word>: tasters must use its id or title", f->id);
	}
}

static bool is_prevented(const struct ab_knowledge *k, int cause)
{
	for (size_t i = 0; i < k->n_changes; i++)
		for (size_t j = 0; j < k->changes[i].n_prevents; j++)
			if (k->changes[i].prevents[j].cause == cause)
				return true;
	return false;
}

/* What advice cannot mend is worth knowing, but no mistake: some causes are the weather. */
static void check_causes(struct lint *lint, const struct ab_knowledge *k)
{
	for (size_t i = 0; i < k->n_causes; i++) {
		const struct ab_cause *c = &k->causes[i];
		if (!c->benign && !is_prevented(k, (int)i))
			lint_say(lint, false, c->file, c->line,
			    "no change prevents cause \"%s\": advice can do nothing about it", c->id);
		if (c->why == NULL)
			lint_say(lint, false, c->file, c->line, "cause \"%s\" does not say <why>", c->id);
	}
}

/* ---- changes ---- */

/* Marks everything a change needs, directly or not. Marked before going down: a ring of needs ends where
 * it began instead of never. */
static void mark_needs(const struct ab_knowledge *k, int change, bool *marked)
{
	for (size_t i = 0; i < k->changes[change].n_needs; i++) {
		assert(change >= 0 && (size_t)change < k->n_changes);
		int needed = k->changes[change].needs[i];
		if (!marked[needed]) {
			marked[needed] = true;
			mark_needs(k, needed, marked);
		}
	}
}

/* One group means one of a kind: two fridges for one purpose exclude each other without saying so. */
static bool excludes(const struct ab_change *a, const struct ab_change *b, int b_at)
{
	if (a->group != NULL && b->group != NULL && strcmp(a->group, b->group) == 0)
		return true;
	for (size_t i = 0; i < a->n_excludes; i++)
		if (a->excludes[i] == b_at)
			return true;
	return false;
}

/* The first pair that cannot go together among what is marked. All pairs, both ways round: one side
 * saying so is enough. Some dozens of changes are marked at most. */
static bool clash(const struct ab_knowledge *k, const bool *marked, int *one, int *other)
{
	for (int i = 0; i < (int)k->n_changes; i++)
		for (int j = 0; j < (int)k->n_changes; j++)
			if (i != j && marked[i] && marked[j] && excludes(&k->changes[i], &k->changes[j], j)) {
				*one = i;
				*other = j;
				return true;
			}
	return false;
}

/* The planner would never find such a change in any plan, and nobody would know why. */
static void check_changes(struct lint *lint, const struct ab_knowledge *k)
{
	bool *marked = ab_arena_alloc(lint->arena, k->n_changes, sizeof *marked);
	int one, other;
	if (marked == NULL) {
		lint->no_memory = true;
		return;
	}
	for (int i = 0; i < (int)k->n_changes; i++) {
		const struct ab_change *c = &k->changes[i];
		if (c->n_needs == 0)
			continue;
		memset(marked, 0, k->n_changes * sizeof *marked);
		mark_needs(k, i, marked);
		if (marked[i])
			lint_say(lint, true, c->file, c->line, "change \"%s\" needs itself", c->id);
		marked[i] = true;
		if (clash(k, marked, &one, &other))
			lint_say(lint, true, c->file, c->line,
			    "what change \"%s\" needs can never be had together: \"%s\" excludes \"%s\"",
			    c->id, k->changes[one].id, k->changes[other].id);
	}
}

void lint_whole(struct lint *lint, const struct ab_knowledge *k)
{
	check_words(lint, k);
	check_faults(lint, k);
	check_causes(lint, k);
	check_changes(lint, k);
}

/* ---- the doors ---- */

static enum ab_status gather_compile_check(const char *const *dirs, size_t n,
    const struct ab_fact_table *facts, const struct ab_vocabulary *vocabulary, struct ab_arena *arena,
    struct lint *lint, struct ab_knowledge *k, struct ab_diag *diag)
{
	struct raw_all *all = ab_arena_alloc(arena, 1, sizeof *all);
	if (all == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	enum ab_status st = rules_gather(dirs, n, arena, lint, all, k->version, diag);
	if (st == AB_OK && lint->errors == 0)
		st = rules_compile(all, facts, vocabulary, arena, lint, k, diag);
	if (st == AB_OK && lint->errors == 0)
		lint_whole(lint, k);
	if (st == AB_OK && lint->no_memory)
		st = ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	return st;
}

/* Findings are no failure: only what kept the rules from being looked at (a folder that cannot be read,
 * memory) is a bad status. */
enum ab_status ab_knowledge_lint(const char *const *dirs, size_t n, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct ab_lint *findings, size_t max,
    size_t *n_findings, struct ab_diag *diag)
{
	struct lint lint = { .arena = arena, .items = findings, .max = max };
	struct ab_knowledge *k = ab_arena_alloc(arena, 1, sizeof *k);
	*n_findings = 0;
	if (k == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	enum ab_status st = gather_compile_check(dirs, n, facts, vocabulary, arena, &lint, k, diag);
	*n_findings = lint.n;
	return st;
}

/* Strict where the lint is patient: a program must not diagnose with rules of which a part was left out. */
enum ab_status ab_knowledge_read(const char *const *dirs, size_t n, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct ab_knowledge **out,
    struct ab_diag *diag)
{
	struct lint lint = { .arena = arena };
	struct ab_knowledge *k = ab_arena_alloc(arena, 1, sizeof *k);
	*out = NULL;
	if (k == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	enum ab_status st = gather_compile_check(dirs, n, facts, vocabulary, arena, &lint, k, diag);
	if (st != AB_OK)
		return st;
	if (lint.errors > 1)
		return ab_fail(diag, AB_EINPUT, lint.first.file, lint.first.line,
		    "%s (and %zu more errors in the rules)", lint.first.text, lint.errors - 1);
	if (lint.errors == 1)
		return ab_fail(diag, AB_EINPUT, lint.first.file, lint.first.line, "%s", lint.first.text);
	*out = k;
	return AB_OK;
}
