/* batchplanning.h - what batchplan.c and batchtaken.c share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_BATCHPLANNING_H
#define AB_ADVICE_BATCHPLANNING_H

#include <afterboil/batchplan.h>

/* The first class of yeast that the journal names; NULL: none, or no batch. */
const char *batchplan_yeast_class(const struct ab_batch *b);

/* Sets yeast and yeast_from of a plan that has its batch and last. AB_EUSAGE: the class told is none of the rules;
 * AB_EINPUT: the rules have no yeasts. */
enum ab_status batchplan_choose_yeast(
    const struct ab_batchplan_asked *asked, struct ab_batchplan *plan, struct ab_diag *diag);

/* facts: those of the batch, with what the last brew tells better; taken of the plan says which came from where.
 * Errors as ab_facts_bare. */
enum ab_status batchplan_take_facts(const struct ab_batchplan_asked *asked, const struct ab_batch *batch,
    struct ab_arena *arena, struct ab_batchplan *plan, struct ab_fact **facts, struct ab_diag *diag);

#endif
