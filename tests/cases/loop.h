/* loop.h - simulated brewers who brew, taste, change something, and brew again
 *
 * A brewer has a hidden chance of each cause, which the program never sees: drawn around what the rules of the
 * world say of the brewer's facts, as a beta of loop_same_brewer imagined batches, so that some causes dog one
 * brewer and never meet another. A change takes of each cause what the rules of the world say: by the facts it sets
 * where these are known, else its rated share. The program has its own rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_LOOP_H
#define AB_TESTS_LOOP_H

#include <afterboil/advice.h>

#include "brewers.h"

/* The rules and what the journals say, for brewers to be drawn from; scratch is freed with ab_net_scratch_free. */
struct loop_read {
	const struct ab_knowledge *k;
	struct ab_fact **facts;
	size_t n_facts;
	struct ab_net_scratch *scratch;
};
void loop_read(struct loop_read *read, const char *rules, char **paths, size_t n, struct ab_arena *arena);
/* Says it and ends the program. */
_Noreturn void loop_give_up(const char *what, const char *why);

/* What a policy may know beside the brewer's own batches, and what only the truth knows. */
struct loop_world {
	const struct ab_knowledge *k, *truth;    /* the program's rules; the world's */
	enum tasting tasting;
	double hidden;                           /* share of the known facts that the program is not told */
	double budget, minutes;                  /* money for all batches; more minutes a batch than before */
	size_t batches, at_once;                 /* room for so many batches; at most so many changes begin with one */
	bool asked;       /* the brewer does the checks that the diagnosis names, and answers its questions */
	bool told_causes; /* each batch's causes are told, in place of what the diagnosis makes of it */
};

struct loop_brewer {
	const struct loop_world *world;
	const struct ab_fact *base;              /* before any change */
	double *chance;                          /* n_causes: the hidden chance of each cause, before any change */
	unsigned char *has, *with;               /* n_changes: in force; room for trying */
	double spent, minutes;
	struct ab_case **cases; size_t n_cases;  /* what the program is told */
	bool **struck;
	double **left; /* n_cases x n_causes: was it there; what the changes in force left of its chance */
	struct ab_fact **was;                    /* n_cases: all facts of each batch */
	struct ab_list changes;                  /* struct ab_change_note: what began with the next batch */
	const struct ab_advice *advice; size_t advised;   /* the program's, after so many batches */
	unsigned char *aim; size_t aimed;        /* of a bound, the same; */
	double *mean;                            /* n_causes: the chances it has learned */
	struct loop_exact *exact;
	struct loop_brewer *twin;                /* of who plans by the program's rules */
	struct ab_net_scratch *scratch;
	double *rated; /* n_changes x n_causes: the share a change takes where no fact tells it */
	double *heavy;                           /* n_faults x AB_GRADES: flaw load of each grade in this beer */
	struct ab_fact *facts; double *now, *before, *after, *below;   /* room for reckoning */
	gsl_rng *rng;
	struct ab_arena *arena;
};

extern const double loop_same_brewer;

/* A brewer with these facts; everything lives in the arena. Two with the same seed are the same person. */
struct loop_brewer *loop_begin(const struct loop_world *world, const struct ab_fact *base, unsigned long seed,
    struct ab_net_scratch *scratch, struct ab_arena *arena);

/* Brews and tastes one batch and files it as a case; a tasting the network cannot take is brewed again. */
void loop_brew(struct loop_brewer *b);

/* The batch is diagnosed, asked about as the diagnosis says, and diagnosed again. Errors of ab_diagnose. */
enum ab_status loop_ask(struct loop_brewer *b, struct ab_case *c, const bool *active, struct ab_diag *diag);

/* May the change be begun: not in force, within money and minutes, fit for this brewing, what it needs there,
 * nothing it excludes? One of its group that is in force gives way to it. */
bool loop_may(const struct loop_brewer *b, int change);
/* What is in force when it is begun besides. has: n_changes. */
void loop_with(const struct loop_brewer *b, int change, unsigned char *has);
void loop_adopt(struct loop_brewer *b, int change);

/* The truth: flaw load expected of a batch with these changes (n_changes; NULL = those in force). No sampling in it.
 * b->now holds each cause's chance with them afterwards. */
double loop_load(const struct loop_brewer *b, const unsigned char *has);

/* What to begin with the next batch: a change that loop_may, or -1. */
typedef int loop_policy(struct loop_brewer *b);
struct loop_named { const char *name, *title; loop_policy *next; bool told_causes, asked; };
extern const struct loop_named loop_policies[];
extern const size_t n_loop_policies;
/* What bounds them: each knows what nobody can know at home ("asked": what checks tell at home). The first knows
 * the truth and follows the oracle's plan. */
extern const struct loop_named loop_bounds[];
extern const size_t n_loop_bounds;

/* afterboil's plan for what has been brewed, asked once a batch. */
const struct ab_advice *loop_advice(struct loop_brewer *b);
/* What it says to begin with of what may be begun; -1 = nothing. */
int loop_ours(struct loop_brewer *b);

/* The mean of the hidden chances for who knows the rules of the world, and of each batch which causes were there;
 * mean: n_causes. */
void loop_learned(struct loop_brewer *b, double *mean);

/* The same for who is told no more of a batch than the program is, but knows the rules of the world, all facts,
 * what each change takes, and how brewers taste: nobody who is told the same could know the chances better. Draws
 * from b->rng. */
void loop_exact(struct loop_brewer *b, double *mean);

/* Of a plan the change that takes most from what is in force, were these the chances; -1 when nothing of it may be
 * begun. */
int loop_most_of(struct loop_brewer *b, const unsigned char *plan, double *chance);
/* The oracle's set, given the truth: what is in force and how many changes more at most. plan: n_changes. */
void loop_oracle(const struct loop_brewer *b, size_t most, unsigned char *plan);

#endif
