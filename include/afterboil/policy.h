/* policy.h - what is deliberately left out of the best plan, step by step, and what each step gives up
 *
 * The best plan within the limits is what plan.h proves. Advice is not that plan but a livable one: nobody
 * keeps ten new habits at once, nobody should be told to pay for what nobody can taste. These are rules of
 * conduct, not knowledge of the trade: every one is named, has its constant in struct ab_policy, and costs
 * an exactly known part of the load, so that
 *     removed by the plan = removed by the best - sum of given_up.
 * Pure: numbers in, numbers out; the same problem and policy give the same plan.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_POLICY_H
#define AFTERBOIL_POLICY_H

#include <afterboil/arena.h>
#include <afterboil/plan.h>

/* Shares are of the load before any of the changes. 0 switches a rule off (habits: 0 = as many as fit).
 * All are policy by estimate; the reason stands beside each in ab_policy_usual (policy.c). */
struct ab_policy {
	double alone;       /* a free change must by itself take away this share to be thought of */
	double paying;      /* what costs money, this share */
	double spared;      /* and, of a brewer without a flaw to get rid of, no less than so many slight flaws over the
	                     * horizon, however small the load is. beside then asks as much more of a purchase */
	size_t habits;      /* at most so many free changes at once */
	double beside;      /* each must add this share to the rest of the plan */
	double hour; /* and, alone and beside the rest, for the minutes it takes of each batch this share an hour */
	double filler; /* of the plan that is picked each must add this share of what the one that adds most adds:
			* beside a cure what takes a few hundredths of it is filler */
	double thrift;      /* of plans within this share of the best the cheapest that is a good buy: none that lies
	                     * below the line from a cheaper to a dearer plan (cost against removed) */
	double enough;      /* where no limit of money is told, the cheapest plan that removes this share of what
	                     * any money would: not told is not "money no object" */
	double bought;      /* what a purchase's gain counts when asked what to begin with: a free change comes first
	                     * unless something bought brings more than 1 / bought times as much */
	double equal;       /* worths within this share of each other are called equal (order of buying) */
};
extern const struct ab_policy ab_policy_usual;

/* The steps, each on what the one before left. */
enum ab_policy_step {
	AB_POLICY_ALONE,    /* too little by itself */
	AB_POLICY_HABITS,   /* too many new habits at once */
	AB_POLICY_BESIDE,   /* adds too little to the rest: searched among the plans of all budgets, not
	                     * proven; what it gives up is exact all the same */
	AB_POLICY_THRIFT,   /* hardly better for more money */
	AB_POLICY_ENOUGH,   /* enough, where no limit of money is told */
	AB_POLICY_FILLER,   /* almost nothing beside what adds most, or for its minutes: put out of the plan last, and
	                     * nothing put in its place */
	AB_POLICY_STEPS
};
extern const char *const ab_policy_words[AB_POLICY_STEPS];   /* "too little by itself", ... */

/* problem: the limits as they are; its budgets `money` and `habits` are told by their axes, and the cost on
 * axis `habits` is 1 for a habit, 0 for the rest. Thrift, enough and points go by the cost on axis `money`. lifted:
 * limits of money that the points look beyond (that of axis `money` always is one). bought: 1 = costs money. */
struct ab_policy_case {
	const struct ab_problem *problem;
	size_t money, habits;
	bool lifted[AB_BUDGETS];
	const unsigned char *bought;
	const double *minutes; /* n_changes: what a batch takes longer by it, below 0 = saves; NULL = minutes do not
				  count */
	double flaw; /* load a batch of one slight flaw, of a fault of middling weight, in all batches of the
		      * horizon; 0 = there are flaws to get rid of, and spared asks for nothing */
};

struct ab_policy_plan {
	unsigned char *best;         /* n_changes: the best plan within the limits */
	unsigned char *chosen;       /* n_changes: the plan after all steps */
	double before;               /* load before */
	double best_removed, gap;    /* of the best; gap certified as in plan.h */
	double removed, cost;        /* of chosen */
	double given_up[AB_POLICY_STEPS];   /* >= 0; up to rounding they sum to best_removed - removed */
	enum ab_change_state *state; /* n_changes: what is open after AB_POLICY_ALONE */
	/* What each sum of money buys under the first three steps, cheapest first, every point better than
	 * those before it, the plan as it was before AB_POLICY_FILLER among them. */
	struct ab_frontier_point *points; size_t n_points;
};

/* Everything comes from the arena. Errors of ab_plan_solve and ab_plan_frontier; AB_EUSAGE for a share outside
 * 0 to 1 or axes that are none. */
enum ab_status ab_policy_apply(const struct ab_policy_case *c, const struct ab_policy *policy,
    struct ab_arena *arena, struct ab_policy_plan *out, struct ab_diag *diag);

#endif
