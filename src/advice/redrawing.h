/* redrawing.h - the problem of planning in a world whose estimates were drawn again: loads, tables and costs
 *
 * redrawing.c diagnoses the batches again and walks the same steps to the loads; retables_open.c and retables.c have
 * what sets of the open changes do to each cause; firmness.c solves and counts; pivot.c looks for what would change
 * the plan.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_REDRAWING_H
#define AB_ADVICE_REDRAWING_H

#include "advice/advising.h"
#include "advice/estimates.h"

/* What is known of a cause in one state of the facts, ready to be weighed in any draw: its prior, and the signs that
 * speak from `first` on in the store, n of them. prior -1: impossible. */
struct retables_state { int prior; size_t first, n; };
struct retables_word { short sign; double weight; };

enum { BY_REPLAY = -1, BY_NOTHING = -2 };

/* Sets of facts that are the same to all of it, numbers of signs and all, are one sort (of many batches the most
 * are, for causes of which little is measured): reckoned once, weighed as often as they come. by: the place in
 * prevents, or one of the above; [sort][change]. state: [sort][mask], of what is replayed in it; taken: what the
 * set then takes. alone: the share of each change as written, before anything was learned. */
struct retable {
	size_t cause, n, end;   /* end: of its states */
	int changes[AB_PLAN_JOINT];
	size_t *sort, n_sorts;  /* sort: by set */
	int *by;
	unsigned *state;
	double *taken;
	double *share, *fell, *left, *all, *short_by;
	double alone[AB_PLAN_JOINT];
};

struct retables {
	const struct advising *a;
	const struct estimates *e;
	struct retable *tables; size_t n;      /* as a->problem.joints, less what is not open */
	struct retables_state *states; size_t n_states, cap_states;
	struct retables_word *words; size_t n_words, cap_words;
	double *p;                             /* n_states: the chance of the cause, in this draw */
	struct ab_joint *joints;               /* n: the shares of this draw */
	size_t n_shares;
};

enum ab_status retables_open(
    struct retables *r, const struct advising *a, const struct estimates *e, struct ab_diag *diag);
/* Fills joints. present: what each set counts by, as advising_present_in of `drawn`. z: one draw of a normal error
 * for each change and cause, for what was learned of it; NULL: none. */
void retables_fill(struct retables *r, const struct advising *drawn, const double *z);

/* Row after row: the batches diagnosed again, oldest first, then what was told, which has no next. */
struct redrawn { double *present, *blame, *next; };

struct redrawing {
	struct advising *a;                    /* as reckoned */
	struct estimates e;
	struct retables tables;
	struct ab_arena *work;                 /* of one draw */
	struct ab_net_scratch *scratch;
	size_t from;                           /* batches from here on are diagnosed again */
	struct redrawn first;                  /* one round on the rules as written; in logit, NAN where settled */
	double *z;                             /* n_changes x n_causes */
	/* of the draw */
	struct ab_problem problem;
	double *load, *cost;
};

/* The estimates as written; problem is then that of advising_same_money on the open changes, but for rounding.
 * Errors of ab_together_solve. redrawing_close whatever happened. */
enum ab_status redrawing_open(struct redrawing *r, struct advising *a, struct ab_diag *diag);
void redrawing_close(struct redrawing *r);
/* The next world. AB_EIMPOSSIBLE: what was tasted cannot be in it; draw again. */
enum ab_status redrawing_draw(struct redrawing *r, gsl_rng *rng, struct ab_diag *diag);

/* What is kept of the draws for the question which one estimate would change the plan: of each world its loads and the
 * shares of all sets, and the plans that were best in some, the first MOST of them. */
enum { PIVOTING_PLANS = 32 };
struct pivoting {
	struct redrawing *r;
	const unsigned char *plan;             /* n_changes: ours */
	size_t n;                              /* worlds there is room for */
	double *worlds;                        /* n rows of row */
	size_t row;
	unsigned char *plans; size_t n_plans;  /* PIVOTING_PLANS x n_changes, all within the limits as written */
};

/* Room for so many draws as are worth it. r: any that draws them, and its own. AB_ENOMEM. */
enum ab_status pivoting_open(
    struct pivoting *p, struct redrawing *r, const unsigned char *plan, size_t draws, struct ab_diag *diag);
/* The draw `at` as it stands in r. For different draws at once by different threads. */
void pivoting_keep(const struct pivoting *p, size_t at, const struct redrawing *r);
/* Fills out->pivot when all draws are kept. best: draws x n_changes, the best plan of each. AB_ENOMEM. */
enum ab_status pivoting_find(struct pivoting *p, const unsigned char *best, size_t draws, struct ab_diag *diag);

#endif
