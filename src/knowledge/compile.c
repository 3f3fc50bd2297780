/* compile.c - what every kind of rule needs to be compiled: texts, sources, strengths; and the whole
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/compile.h"

#include <math.h>
#include <string.h>

/* Never NULL for n = 0 unless memory is short: the arena gives even an empty array an address. */
void *compile_room(struct compiler *c, size_t n, size_t size)
{
	void *room = ab_arena_alloc(c->arena, n, size);
	if (room == NULL)
		c->lint->no_memory = true;
	return room;
}

/* ---- texts and sources ---- */

const char *compile_text(const struct raw_text *text)
{
	return text == NULL || text->text == NULL || text->text[0] == '\0' ? NULL : text->text;
}

/* Every number must say where it is from. One that begins with "estimate" is also redrawn when the likely
 * range is asked for, so the word is more than a remark. */
struct ab_source_note compile_source(struct compiler *c, const char *source, long line)
{
	if (source == NULL || source[0] == '\0')
		compile_wrong(c, line,
		    "a number needs a source: say where it is from, or source=\"estimate\"");
	return (struct ab_source_note){ source, source != NULL && strncmp(source, "estimate", 8) == 0,
	    line, c->file };
}

/* ---- strengths ---- */

/* tail[k] is the chance of grade k or more, so it falls from 1; the sweep relies on that (differences of
 * neighbours are probabilities). Rules that break it are refused here, not mended. */
void compile_tail(struct compiler *c, const struct raw_strength *raw, double *tail)
{
	tail[0] = 1;
	tail[1] = raw->noticeable.v;
	tail[3] = raw->strong.v;
	/* In between by the geometric mean: the same step of log strength from slight to moderate as from
	 * moderate to strong. */
	tail[2] = raw->moderate.known ? raw->moderate.v : sqrt(tail[1] * tail[3]);
	if (tail[1] < tail[2] || tail[2] < tail[3])
		compile_wrong(c, raw->mark.line,
		    "strengths must not rise: noticeable is the chance of any grade, so moderate and then "
		    "strong are "
		    "at most as much");
}

/* ---- the whole ---- */

/* Faults before causes before changes and checks only for the order of messages: references are by place,
 * and every kind has been indexed already. */
static void compile_kinds(struct compiler *c)
{
	const struct raw_all *all = c->all;
	struct ab_knowledge *k = c->k;
	for (size_t i = 0; i < k->n_faults && !c->lint->no_memory; i++)
		compile_fault(c, RAW_AT(const struct raw_fault, all, RAW_FAULT, i), &k->faults[i]);
	for (size_t i = 0; i < k->n_causes && !c->lint->no_memory; i++)
		compile_cause(c, RAW_AT(const struct raw_cause, all, RAW_CAUSE, i), &k->causes[i]);
	for (size_t i = 0; i < k->n_changes && !c->lint->no_memory; i++)
		compile_change(c, RAW_AT(const struct raw_change, all, RAW_CHANGE, i), &k->changes[i]);
	for (size_t i = 0; i < k->n_checks && !c->lint->no_memory; i++)
		compile_check(c, RAW_AT(const struct raw_check, all, RAW_CHECK, i), &k->checks[i]);
}

/* All places at once, so that a reference from one thing to a later one can be taken before that is
 * compiled. */
static void make_room(struct compiler *c)
{
	struct ab_knowledge *k = c->k;
	k->n_faults = c->all->kinds[RAW_FAULT].n;
	k->n_causes = c->all->kinds[RAW_CAUSE].n;
	k->n_changes = c->all->kinds[RAW_CHANGE].n;
	k->n_checks = c->all->kinds[RAW_CHECK].n;
	k->faults = compile_room(c, k->n_faults, sizeof *k->faults);
	k->causes = compile_room(c, k->n_causes, sizeof *k->causes);
	k->changes = compile_room(c, k->n_changes, sizeof *k->changes);
	k->checks = compile_room(c, k->n_checks + k->n_changes, sizeof *k->checks);
}

enum ab_status rules_compile(const struct raw_all *all, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct lint *lint, struct ab_knowledge *k,
    struct ab_diag *diag)
{
	struct compiler c = { .facts = facts, .vocabulary = vocabulary, .arena = arena, .lint = lint,
	    .all = all, .k = k };
	k->facts = facts;
	for (enum raw_kind kind = 0; kind < RAW_KINDS; kind++)
		compile_index_kind(&c, kind);
	compile_index_facts(&c);
	make_room(&c);
	if (!lint->no_memory)
		compile_kinds(&c);
	if (!lint->no_memory)
		compile_told_apart(&c);
	if (!lint->no_memory)
		compile_kins(&c);
	if (!lint->no_memory)
		compile_contraries(&c);
	if (!lint->no_memory)
		compile_boxes(&c);
	if (!lint->no_memory)
		compile_touches(&c);
	if (!lint->no_memory)
		compile_malts(&c);
	if (!lint->no_memory)
		compile_chores(&c);
	if (!lint->no_memory)
		compile_things(&c);
	if (!lint->no_memory)
		compile_families(&c);
	if (!lint->no_memory)
		compile_reports(&c);
	if (!lint->no_memory)
		compile_hearing(&c);
	if (!lint->no_memory)
		compile_norms(&c);
	if (!lint->no_memory)
		compile_numbers(&c);
	if (!lint->no_memory)
		compile_remedies(&c);
	if (!lint->no_memory)
		compile_spoken(&c);
	return lint->no_memory ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}
