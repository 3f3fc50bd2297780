/* casework.h - one batch taken through the whole pipe: journal, facts, evidence, diagnosis, flaw load
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CASEWORK_H
#define AFTERBOIL_CASEWORK_H

#include <afterboil/check.h>
#include <afterboil/diagnose.h>
#include <afterboil/facts.h>
#include <afterboil/journal.h>
#include <afterboil/knowledge.h>
#include <afterboil/priming.h>
#include <afterboil/profile.h>
#include <afterboil/unreckoned.h>

/* The vocabularies of the journal that ab_knowledge_read wants, and the fact table: what a caller needs to
 * load rules. */
const struct ab_vocabulary *ab_casework_vocabulary(void);

/* What counts and has no number: "judged absent: buttery (diacetyl)", with its line. */
struct ab_counted { long line; const char *text; };

struct ab_case {
	const struct ab_batch *batch;
	struct ab_fact *facts;              /* ab_fact_defs()->n */
	struct ab_evidence evidence;
	struct ab_diagnosis *diagnosis;
	/* Flaw load: sum over found faults of severity x grade (1..3) x the family's factor, expected traits
	 * not counted. low and high: what tasters one step of intensity milder or stricter would have made of
	 * it (estimate of their disagreement). */
	double load, load_low, load_high;
	double *fault_load;                 /* n_faults: each fault's part */
	double *fault_intensity;            /* n_faults: mean intensity found, 0 = not found, or gone since */
	struct ab_priming priming;          /* for who is about to bottle it (priming.h); not of beliefs only */
	struct ab_unreckoned *unreckoned;   /* told, and no fact came of it; not of beliefs only, like the next */
	struct ab_counted *counted;
	size_t n_unreckoned, n_counted;
	bool tasted;                        /* at least one tasting: otherwise the load is unknown (NAN) */
};

/* Found once, and a week later or more judged absent by all who had found it: part of the evidence, at the grade it
 * had, and not of the load. */
static inline bool ab_case_gone(const struct ab_case *c, size_t fault)
{
	return c->evidence.finding[fault].seen == AB_SEEN_FOUND && !(c->fault_intensity[fault] > 0);
}

/* Evidence of a batch: tastings combined (the last complete picture of each fault; found beats not mentioned; what is
 * gone since was found all the same;
 * a fault found by one taster and judged absent by another lowers the grade; unmentioned in a complete
 * tasting = absent with sensitivity 0.4 for one taster, 1 - 0.6^panel for more; judged absent 0.8;
 * one-malt-one-hop beers raise sensitivity; a taster's known blind spots count nothing), checks done. Words
 * not in the vocabulary are AB_EINPUT with line and near words. */
enum ab_status ab_case_evidence(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_fact *facts, struct ab_arena *arena,
    struct ab_evidence *out, struct ab_diag *diag);

/* The whole pipe. profile may be NULL. Whatever the options, the diagnosis carries the warnings:
 * "bottle-pressure" (reckoned pressure above 0.9 of the bottle's limit, or its uncertainty reaches beyond
 * it), "pressure-unjudged" (it is high, and the limit of such a package is not known), "bottle-bombs"
 * (over-carbonation found in bottles), cautions of found faults and of the first three causes with blame >= 0.2
 * (under their ids), "hydrometer-unchecked" and "thermometer-unchecked" (a sign that doubles or halves such a
 * cause's odds rests on one). Errors of ab_case_evidence and ab_diagnose. */
enum ab_status ab_case_work(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag);

/* Appends to out, a list of struct ab_odd as ab_batch_odd fills, what one tasting finds and misses at once in two words
 * for one fault: only the rules know that they are one. Words that are no fault are passed over. AB_OK; AB_ENOMEM. */
enum ab_status ab_case_odd(const struct ab_knowledge *k, const struct ab_batch *batch, struct ab_arena *arena,
    struct ab_list *out, struct ab_diag *diag);

/* Its warning of bottles that may burst, under either of the first two ids; NULL: none. */
const struct ab_warning *ab_case_bursting(const struct ab_case *c);

/* May they, or stands it under a high pressure that nobody here can judge (keg, cask, can)? No such batch is one to
 * brew again just so, however clean it tastes. */
bool ab_case_pressed(const struct ab_case *c);

/* Its warning of bottles whose pressure may reach their limit within what the reckoning is off by, and no nearer,
 * where besides no readings three days apart show that the beer was done; or of a high pressure that nobody here
 * can judge, or of one over fermenting beer in a vessel that is not known to bear it. NULL: none. Usual sugar in
 * beer that was done is nothing to tell at once. */
const struct ab_warning *ab_case_near_limit(const struct ab_knowledge *k, const struct ab_case *c);

/* A change of the profile as it is told: its title, or the brewer's own words. */
const char *ab_changed_title(const struct ab_knowledge *k, const struct ab_changed *c);

/* The words to ask for a fact with: its own, or those for the size of the batch where the journal tells the amount
 * (of dry hops, yeast, priming sugar) and not how much beer it went into. NULL: the fact has none. */
const char *ab_case_asks(const struct ab_knowledge *k, const struct ab_case *c, int slot);

/* Beliefs only of n batches, stage by stage: to the last bit as one by one, but sooner, and nobody is warned.
 * options must say beliefs_only. out[i] is the case of batches[i]. An error is that of the first batch, in their
 * order, that has one. */
enum ab_status ab_case_work_few(const struct ab_knowledge *k, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_diagnose_options *options, struct ab_arena *arena,
    struct ab_case **out, struct ab_diag *diag);

/* A batch made of nothing but faults, for `diagnose --fault buttery=3`: words and intensities (1..5, NAN =
 * not told; the array may be NULL); family word or NULL.
 * Its one tasting counts as complete: what is not named is weakly absent. AB_EUSAGE: a word, an intensity or
 * a family that is none. AB_ENOMEM. */
enum ab_status ab_case_from_faults(const struct ab_knowledge *k, const char *const *words,
    const double *intensity, size_t n, const char *family, struct ab_arena *arena, struct ab_batch **out,
    struct ab_diag *diag);

#endif
