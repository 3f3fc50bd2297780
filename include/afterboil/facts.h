/* facts.h - what a journal amounts to: the physics of the cold side as named facts
 *
 * One file of src/process per phenomenon. Each formula's file says its source, units, validity and trust grade. A fact is computed only
 * from what is known; where the journal is silent, the profile's usual habit stands in (origin "usual"); where both are
 * silent the fact stays unknown.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_FACTS_H
#define AFTERBOIL_FACTS_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/fact.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>

/* All facts there are, in the order of their slots. */
const struct ab_fact_table *ab_fact_defs(void);

/* Computes every fact of a batch into facts (ab_fact_defs()->n long, the caller's). profile may be NULL. Working texts go to the arena.
 * AB_ENOMEM only: a journal that was read has no wrong facts, only unknown ones. */
enum ab_status ab_facts_compute(const struct ab_batch *batch, const struct ab_profile *profile, const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag);

#endif
