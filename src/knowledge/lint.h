/* lint.h - where what is wrong with the rules is gathered
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_LINT_H
#define AB_KNOWLEDGE_LINT_H

#include "knowledge/raw.h"

/* Up to max findings are kept; errors and the first of them are always known. */
struct lint {
	struct ab_arena *arena;
	struct ab_lint *items;
	size_t max, n, errors;
	struct ab_lint first;
	bool no_memory;
};

/* Notes a finding. Numbers in the text go through ab_num_text: the locale must not show. */
void lint_say(struct lint *lint, bool error, const char *file, long line, const char *fmt,
    ...) __attribute__((format(printf, 5, 6)));

/* What only the whole can show: faults nobody gives, words used twice, requirements that cannot be met. */
void lint_whole(struct lint *lint, const struct ab_knowledge *k);

/* read.c: all files of all folders, merged. Structural errors are findings, one a file. version gets 16 hex
 * digits and a NUL. */
enum ab_status rules_gather(const char *const *dirs, size_t n, struct ab_arena *arena, struct lint *lint,
    struct raw_all *all, char *version, struct ab_diag *diag);
/* One file from memory, added to all. */
enum ab_status rules_gather_text(const char *name, const char *text, size_t len, struct ab_arena *arena,
    struct lint *lint, struct raw_all *all, struct ab_diag *diag);

#endif
