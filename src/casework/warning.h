/* warning.h - what warnings.c and pressed.c hand to each other: the warnings of one case in the making
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_WARNING_H
#define AB_CASEWORK_WARNING_H

#include "casework/casework.h"

/* Warnings go into the diagnosis itself, so that whoever shows it shows them; no report can forget the
 * list. */
struct warner {
	const struct ab_knowledge *k;
	const struct ab_case *c;
	struct ab_arena *arena;
	struct ab_diagnosis *d;
	size_t cap;
	bool failed;
};

/* The same words twice would only dull them: said once. text may be NULL when memory was short. */
void case_warn(struct warner *w, const char *id, const char *text);
/* The same with what to do about it behind; reckoned: how it is known. */
void case_warn_with_care(struct warner *w, const char *id, const char *reckoned, const char *care);

/* NULL: not known. usual and name: as case_slot. */
const struct ab_fact *case_warner_fact(const struct warner *w, int usual, const char *name);

/* ---- pressed.c ---- */

/* What it was packaged into (enum AB_PACK_), 0 not known; nobody holds the bottles any more. */
int case_packaged_into(const struct warner *w);
bool case_are_gone(const struct warner *w);
void case_warn_of_pressure(struct warner *w);
void case_warn_of_mixed_gas(struct warner *w);
/* Where they were let off and were bottles: that this ends no alarm. */
void case_warn_of_let_off(struct warner *w);

#endif
