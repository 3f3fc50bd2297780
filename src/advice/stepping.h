/* stepping.h - the insides of policy.h: policy.c narrows the problem and lists what each sum buys,
 * exchange.c betters a plan that something small was put out of, thrift.c picks, filler.c puts out of what was picked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_STEPPING_H
#define AB_ADVICE_STEPPING_H

#include <afterboil/policy.h>

enum { STEPPING_POINTS = 512 };

/* The problem as the steps so far leave it; state is ours, the rest the caller's. */
struct stepping {
	const struct ab_policy_case *c;
	const struct ab_policy *policy;
	struct ab_arena *arena;
	struct ab_policy_plan *out;
	struct ab_diag *diag;
	struct ab_problem problem;
	enum ab_change_state *state, *kept;
	unsigned char *set, *trial;      /* scratch */
};

/* The plan and the figures of the last three steps, of out's points. removed_so_far: by the best of the steps
 * before. */
void stepping_thrift(struct stepping *s, double removed_so_far);

/* What is almost nothing beside the rest put out of out->chosen, and the figures of that step. */
void stepping_filler(struct stepping *s);

/* Money up front. */
double stepping_cost(const struct stepping *s, const unsigned char *chosen);
/* What a chosen change adds to the rest, of whole; INFINITY where others need it, or what it gives back. */
double stepping_adds(const struct ab_problem *p, unsigned char *chosen, size_t u, double whole);
/* What its minutes ask of a change; of one that saves some, nothing. */
double stepping_least_for_time(const struct stepping *s, size_t u);
/* The chosen change that adds least to the rest, if that is too little; -1 when all are worth their place. */
int stepping_smallest(const struct stepping *s, unsigned char *chosen);
/* A better set in which nothing is too small, where going without one of this leads to one. removed: of chosen,
 * kept up. */
void stepping_exchange(struct stepping *s, unsigned char *chosen, double *removed);

#endif
