/* facts.h - what a journal amounts to: the physics of the cold side as named facts
 *
 * One file of src/process per phenomenon. Each formula's file says its source, units, validity and trust
 * grade. A fact is computed only from what is known; where the journal is silent, the profile's usual habit
 * stands in (origin "usual"); where both are silent the fact stays unknown.
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

/* The words of stale.outlook: fresh fading stale long-stale. */
extern const char *const ab_words_outlook[];
/* The words of taste.part: first-pour first-half last-half fermenter-tap. */
extern const char *const ab_words_part[];
/* The words of taste.one-package: bottles keg both. */
extern const char *const ab_words_one_package[];

/* Computes every fact of a batch into facts (ab_fact_defs()->n long, the caller's). profile may be NULL.
 * Working texts go to the arena. AB_ENOMEM only: a journal that was read has no wrong facts, only unknown
 * ones. */
enum ab_status ab_facts_compute(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag);

/* The same facts without their workings, for who reads only numbers: a history of thousands. */
enum ab_status ab_facts_bare(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag);

/* The same of n batches, those of batches[i] into facts[i]: to the last bit as one by one, but sooner. */
enum ab_status ab_facts_bare_few(const struct ab_batch *const *batches, size_t n, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_fact *const *facts, struct ab_diag *diag);

/* A fact as if it were so: its slot, and the value in the fact's unit (words: place from 0; yes 1, no 0). */
struct ab_as_if { int slot; double value; };

/* "What if": the same with some facts given. They stand before anything is read (origin "assumed", u 0),
 * whatever the journal says, and all that is computed from facts follows: pack.purges = 5 changes
 * oxygen.headspace, oxygen.total, stale.dose and stale.outlook; pack.priming-rate changes pack.co2-expected
 * and the pressures; store.equivalent-days the dose. What is computed from the journal's records and not from
 * a fact does not follow (a fermentation's temperature does not change the gravity reached).
 * ferment.early-mean-over moves the first days of the beer as a whole: mean, peak, hours out of range and growth
 * before the yeast follow; yeast.age, yeast.kept and yeast.starter change the cells pitched (not those that were
 * counted); vessel.kind and vessel.sealed what comes through the wall; gravity.points-left and
 * gravity.stable-days what still ferments in the package, whatever was lost there. To know what a
 * change would have done, recompute with what it sets and compare; a change that only bounds a fact
 * ("at most") is the caller's to compare first. Slots are of ab_fact_defs(). */
enum ab_status ab_facts_recompute(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, const struct ab_as_if *as_if, size_t n_as_if, struct ab_arena *arena,
    struct ab_fact *facts, struct ab_diag *diag);

/* For replay on facts alone, where no batch is at hand: after the fact at slot was moved, makes unknown the
 * oxygen and staling facts that rest on it, so that no sign speaks for the old state; the signs on the plain
 * facts then decide. facts as from ab_facts_compute. */
void ab_facts_outdate(struct ab_fact *facts, int slot);

#endif
