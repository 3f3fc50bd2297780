/* compile.h - raw records into the structs of afterboil/knowledge.h
 *
 * names.c, conds.c and compile.c hold what all kinds need: names to places, conditions, values and strengths;
 * faults.c, causes.c, changes.c and norms.c each compile their kinds.
 * A function that meets an error notes a finding and goes on with what is left; when memory is short it sets
 * lint->no_memory and returns early.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_COMPILE_H
#define AB_KNOWLEDGE_COMPILE_H

#include "knowledge/lint.h"

/* Names in order, for look-up, with the place each stands for. */
struct name_at { const char *name; int at; };
/* names: NULL-terminated, for ab_nearest */
struct name_index { struct name_at *items; size_t n; const char **names; };

struct compiler {
	const struct ab_fact_table *facts;
	const struct ab_vocabulary *vocabulary;
	struct ab_arena *arena;
	struct lint *lint;
	const struct raw_all *all;
	struct ab_knowledge *k;
	struct name_index index[RAW_KINDS], fact_index;
	const char *file;          /* of the thing now compiled */
	struct { struct ab_conds *items; size_t n, cap; } conds;   /* all different ones */
	struct ab_cond *cond_room;   /* where they stand side by side */
	size_t cond_left;
};

/* Makes names findable; before any look-up. */
void compile_index_kind(struct compiler *c, enum raw_kind kind);
void compile_index_facts(struct compiler *c);
/* Place in its kind's array, or -1 and a finding. */
int compile_ref(struct compiler *c, enum raw_kind kind, const char *id, long line);
int compile_slot(struct compiler *c, const char *fact, long line);
/* Place + 1 in a word list, or 0 and a finding; "" and NULL words lists are the caller's affair. */
int compile_word(struct compiler *c, const char *what, const char *word, const char *const *words, long line);

/* The next of the words that stand in *text with blanks or commas between, which is stepped over; false: no more. A
 * longer one is cut: it is no name, and stands so in the message. */
bool compile_next(const char **text, char *word, size_t size);

/* "a, b, c", cut at size. */
void compile_list_words(const char *const *words, char *buf, size_t size);

/* Room for n things in the arena, or NULL with no_memory set. */
void *compile_room(struct compiler *c, size_t n, size_t size);
/* A finding of error at a line of the current file. */
#define compile_wrong(c, line, ...) lint_say((c)->lint, true, (c)->file, line, __VA_ARGS__)
#define compile_advise(c, line, ...) lint_say((c)->lint, false, (c)->file, line, __VA_ARGS__)

/* Parts that several elements share. compile_conds gives no conditions, which always hold, when memory is
 * short: the whole reading fails then. */
const char *compile_text(const struct raw_text *text);
struct ab_source_note compile_source(struct compiler *c, const char *source, long line);
struct ab_conds compile_conds(struct compiler *c, const struct ab_list *whens);
/* <NAME-when> beside <NAME>, of element id. */
struct ab_tell *compile_tells(struct compiler *c, const struct ab_list *list, const char *name, const char *beside,
    const char *id, size_t *n);
/* Words by which one is found among its kind ("chore"), place at: what find already tells of another is wrong.
 * find: -1 = of none; NULL: told apart later. */
typedef int compile_finder(const struct ab_knowledge *k, const char *word);
size_t compile_names(struct compiler *c, const struct ab_list *list, const char *kind, const char *id, int at,
    compile_finder *find, const char ***names);
/* A word of one change that says what another's word, title or id does is wrong. After all changes. */
void compile_told_apart(struct compiler *c);
/* Lists of <only-for> or <not-for>. */
struct ab_conds *compile_alternatives(struct compiler *c, const struct ab_list *list);
/* A number of a fact, with or without the fact's unit, yes or no for a flag, a word: into *value. False and a
 * finding when it is none. */
bool compile_value(struct compiler *c, int slot, const char *attr, const char *text, long line,
    double *value);
void compile_tail(struct compiler *c, const struct raw_strength *raw, double *tail);

/* One element into the struct at its place; what is wrong with it becomes a finding, and the rest is still
 * read. */
void compile_fault(struct compiler *c, const struct raw_fault *raw, struct ab_fault *fault);
void compile_cause(struct compiler *c, const struct raw_cause *raw, struct ab_cause *cause);
void compile_change(struct compiler *c, const struct raw_change *raw, struct ab_change *change);
void compile_check(struct compiler *c, const struct raw_check *raw, struct ab_check *check);
void compile_kins(struct compiler *c);
void compile_contraries(struct compiler *c);
void compile_boxes(struct compiler *c);
void compile_touches(struct compiler *c);
void compile_malts(struct compiler *c);
void compile_chores(struct compiler *c);
void compile_things(struct compiler *c);
/* <spares>, and what may stand in the place of a need. */
void compile_spares(struct compiler *c, const struct raw_change *raw, struct ab_change *change);
void compile_or_things(struct compiler *c, const struct raw_change *raw, struct ab_change *change);
void compile_families(struct compiler *c);
void compile_norms(struct compiler *c);
void compile_numbers(struct compiler *c);
/* "Did it help?" of every change, behind the checks; after changes, checks and numbers. */
void compile_remedies(struct compiler *c);
/* What each cause may be reported as; after faults, causes and families. */
void compile_reports(struct compiler *c);
/* k->hearing; after causes. */
void compile_hearing(struct compiler *c);
/* Sorts all that a fault may be called. */
void compile_spoken(struct compiler *c);

/* Everything. Findings go to lint; AB_ENOMEM when memory is short. */
enum ab_status rules_compile(const struct raw_all *all, const struct ab_fact_table *facts,
    const struct ab_vocabulary *vocabulary, struct ab_arena *arena, struct lint *lint, struct ab_knowledge *k,
    struct ab_diag *diag);

#endif
