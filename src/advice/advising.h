/* advising.h - the insides of advice.h: what its files hand to each other, one after the other
 *
 * limits.c reads budgets, prices and what is barred; recurrence.c learns how often each cause strikes;
 * attribution.c what it costs; effects.c finds what each change would have done; choose.c picks the best set
 * and its frontier, improve.c betters it; buying.c orders and ranks; firmness.c redraws the estimates;
 * reason.c says it in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_ADVISING_H
#define AB_ADVICE_ADVISING_H

#include <stdbool.h>
#include <afterboil/advice.h>

enum advising_axis { AXIS_MONEY, AXIS_MINUTES, AXIS_RUNNING, AXIS_HABITS, AXIS_N };

/* The newest batch counts most: each before it this much less (estimate). */
#define ADVISING_DECAY 0.85

/* A change must take away this share of the load expected before to be worth a place in the plan; what costs
 * money must, by itself, take away the second to be thought of at all (estimates: below the first nobody
 * would taste it, below the second nobody should be told to pay for it). */
#define ADVISING_WORTH 0.01
#define ADVISING_WORTH_PAYING 0.03
/* Of plans that differ by less than this share of the load the cheaper is chosen (estimate: nobody would
 * taste the difference). */
#define ADVISING_THRIFT 0.02

struct advising {
	const struct ab_knowledge *k;
	struct ab_case *const *cases;
	size_t n_cases;
	const struct ab_profile *profile;
	const struct ab_advice_options *options;
	struct ab_arena *arena;
	struct ab_advice *out;

	/* what is worked on: the cases' facts, or one imagined batch a family when there are no cases */
	const struct ab_fact **facts;   /* n_facts_sets */
	int *family;                    /* n_facts_sets; -1 unknown */
	double *weight;                 /* n_facts_sets: how much each counts, the newest most; sums to 1 */
	size_t n_sets;

	unsigned char *uses;            /* n_causes x facts: 1 where the cause looks at that fact */
	unsigned char *touches;         /* n_changes x n_causes: 1 where the change could take something of
	                                 * the cause */
	double *alone;                  /* n_sets x n_causes: P(cause) by the facts of the set */
	double *seen;                   /* n_causes: its "present" over the sets, weighed */
	struct ab_fact *scratch;        /* room for one set of facts, and for a basis a cause */
	unsigned char *spare;
	double *recur;                  /* n_causes: P(it strikes the next batch) */
	double *brings;                 /* n_causes: flaw load it brings when it strikes */
	size_t *turn;                   /* n_causes: the first case that counts for it, after what was last
	                                 * changed about it */
	double *load;                   /* n_causes: expected per batch, rules and own glasses together
	                                 * (attribution.c) */
	double *spoils;                 /* n_causes: P(a noticeable flaw | it strikes) */
	unsigned char *meant;           /* n_sets x n_faults: up to this grade the fault is a trait the beer
	                                 * is meant to have */
	double leak_clean;              /* P(no flaw comes from nowhere) */
	double *effect;                 /* n_changes x n_causes: share of the cause removed, alone */
	unsigned char *basis;           /* n_changes x n_causes: 1 replay, 2 rated, 3 both */
	unsigned char *small;           /* n_changes: ruled out as worth too little in the plan */
};

enum ab_status advising_limits(struct advising *a, struct ab_diag *diag);
enum ab_status advising_recurrence(struct advising *a, struct ab_diag *diag);
/* Notes which facts each cause looks at, and what each change could touch. */
enum ab_status advising_uses(struct advising *a, struct ab_diag *diag);
enum ab_status advising_attribution(struct advising *a, struct ab_diag *diag);
enum ab_status advising_effects(struct advising *a, struct ab_diag *diag);
enum ab_status advising_choose(struct advising *a, struct ab_diag *diag);
enum ab_status advising_order(struct advising *a, struct ab_diag *diag);
/* Sorts the items for showing; the last step, since all others count by change. */
void advising_rank(struct advising *a);
enum ab_status advising_firmness(struct advising *a, struct ab_diag *diag);
enum ab_status advising_reason(struct advising *a, struct ab_diag *diag);

/* The flaw load per batch that these changes take away together, over the whole history: joint replay where
 * facts are known, rated shares elsewhere. share (n_causes) gets the part of each cause. */
double advising_joint(const struct advising *a, const int *changes, size_t n, double *share);

/* Lists the chosen changes but one (SIZE_MAX = all) into set (n_changes long). Returns how many. */
size_t advising_list(size_t n_changes, const unsigned char *chosen, size_t without, int *set);

/* Adds to and exchanges in a plan, under its limits, what joint replay shows to be better. */
enum ab_status advising_improve(const struct advising *a, const struct ab_problem *problem,
    unsigned char *chosen, struct ab_diag *diag);

/* The numbers of the choice as plan.h wants them, from loads (n_causes) and effects (n_changes x n_causes).
 * Arrays come from the arena; list (may be NULL) gets the problem's effects writable, for redraws. */
enum ab_status advising_problem(const struct advising *a, const double *load, const double *effect,
    struct ab_problem *problem, struct ab_effect **list, struct ab_diag *diag);

/* When did change u come into force at this brewery: index of the first case brewed with it, n_cases if
 * never. A trial (adopted="no") is not kept. */
size_t advising_adopted(const struct advising *a, int change);

/* The share of a cause that the rules say a change takes away, under these facts: of its rows whose
 * conditions hold the last; 0 if none. */
bool advising_replayable(const struct advising *a, const struct ab_change *c, size_t cause,
    const struct ab_fact *facts);
double advising_rated(const struct ab_change *change, size_t cause, const struct ab_fact *facts);

/* Out of memory, said once. Returns AB_ENOMEM. */
enum ab_status advising_nomem(struct ab_diag *diag);


#endif
