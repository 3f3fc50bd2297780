/* plan.h - choosing changes exactly, under several budgets at once. Numbers in, numbers out.
 *
 * Maximise f(S) = sum_i h_i (1 - prod_{u in S} (1 - e_iu)): h_i is the flaw load cause i is expected to bring
 * per batch, e_iu the share of it that change u removes. Additive over causes, diminishing within a cause.
 * Where changes do not act on a cause one by one, what each set of them removes of it can be given as a table
 * (struct ab_joint): any figures at all, also changes that help or hinder each other.
 * Exact branch and bound with a price bound (each open change is paid a price by every cause it touches and
 * is charged for each budget); the gap is certified and printed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_PLAN_H
#define AFTERBOIL_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/diag.h>

enum { AB_BUDGETS = 6, AB_PLAN_CHANGES = 512, AB_PLAN_CAUSES = 512, AB_PLAN_JOINT = 16 };

/* owned: in force at no cost; out: may not be chosen */
enum ab_change_state { AB_CHANGE_OPEN, AB_CHANGE_OWNED, AB_CHANGE_OUT };

struct ab_effect { int cause, change; double share; };   /* 0 < share <= 1, at most one per pair */
/* What sets of changes remove of one cause together: share[mask], bit k of mask for changes[k] being chosen;
 * 2^n figures from 0 to 1, share[0] = 0; 1 <= n <= AB_PLAN_JOINT, changes all different and none of them
 * owned. At most one per cause, and such a cause has no effects beside it. */
struct ab_joint { int cause; size_t n; const int *changes; const double *share; };
/* change u may be chosen only when `needs` is chosen or owned */
struct ab_need { int change, needs; };

struct ab_problem {
	size_t n_causes, n_changes, n_effects, n_needs, n_budgets;
	const double *load;                 /* n_causes, h_i >= 0 */
	const struct ab_effect *effects;
	const struct ab_need *needs;
	const int *group;                   /* n_changes: changes of one group >= 0 exclude each other; -1 =
	                                     * none */
	const enum ab_change_state *state;  /* n_changes; NULL = all open */
	const double *cost;                 /* n_changes x n_budgets, row by row, may be negative (a change
	                                     * that saves minutes) */
	double budget[AB_BUDGETS];          /* limits; INFINITY = no limit */
	long node_limit;                    /* 0 = 200000 */
	const struct ab_joint *joints; size_t n_joints;
};

struct ab_choice {
	unsigned char *chosen;   /* caller's, n_changes: 1 = in the plan (owned ones not counted) */
	double removed;          /* f(S with owned) - f(owned) */
	double before;           /* sum h_i left with only the owned changes */
	double bound;            /* no plan removes more than this */
	double gap;              /* bound - removed, 0 when proven best (below 1e-12 of before) */
	double spent[AB_BUDGETS];
	long nodes;
};

/* AB_EUSAGE: bad index or number (share outside 0 to 1, an effect twice, a load below 0, a cost or budget
 * that is no number, a joint that is none). AB_ELIMIT: more changes, causes or budgets than above, or no plan found
 * before the node limit. AB_EINPUT: no feasible plan exists at all: some budget is below zero and no saving within
 * reach mends it. AB_ENOMEM.
 *
 * "Buy nothing" (an empty choice) is a plan. Among equally good plans (closer than 1e-12 of `before`) prefers
 * fewer changes, then lower indices (so the caller lists habits first); among more than 10,000 nodes of ties
 * the preference is not proven, the value is.
 * A budget counts as kept when exceeded by at most 1e-11 of the sum of the sizes of its costs, so 0.1 + 0.2
 * fits 0.3. An owned change keeps the rest of its group out, and is never in the choice. `group` NULL = no
 * groups. */
enum ab_status ab_plan_solve(const struct ab_problem *problem, struct ab_choice *choice,
    struct ab_diag *diag);

/* The whole frontier over budget `axis`: for every amount at which the best plan changes, its cost and what
 * it removes, cheapest first, from 0 to the budget given. points[].chosen are n_changes-long slices of
 * chosen_store, which must hold max_points * n_changes bytes. n_points tells how many (0 on any error);
 * AB_ELIMIT when max_points is too small. Of equally good plans the cheaper on the axis counts. The first
 * point is the best plan at the amount 0 and may cost less than that. node_limit holds for each point by
 * itself. AB_EUSAGE also when there is no budget `axis`. */
struct ab_frontier_point { double cost, removed, gap; unsigned char *chosen; };
enum ab_status ab_plan_frontier(const struct ab_problem *problem, int axis, struct ab_frontier_point *points,
    size_t max_points, unsigned char *chosen_store, size_t *n_points, struct ab_diag *diag);

/* What it is worth to learn something before choosing: expected value of sample information (Raiffa &
 * Schlaifer 1961). Each thing that may be learned has its chance (they sum to 1 within 1e-9) and the loads
 * expected once it is known (n_causes); the loads before are their mean. The problem's own load is not read.
 *     worth = sum_o p_o max_S f(S; load_o) - max_S f(S; sum_o p_o load_o)  >= 0,
 * 0 when no answer changes the plan. Exact where the gaps of all plans are 0 (gap sums what may be missing).
 * now (n_changes) and after (n_outcomes x n_changes) are the caller's: the best plans. Errors of
 * ab_plan_solve; AB_EUSAGE for chances that are none. */
struct ab_outcome { double p; const double *load; };
struct ab_informed { unsigned char *now, *after; double removed_now, removed_after, worth, gap; };
enum ab_status ab_plan_informed(const struct ab_problem *problem, const struct ab_outcome *outcomes,
    size_t n_outcomes, struct ab_informed *informed, struct ab_diag *diag);

/* f(S with owned) - f(owned) for any set, by direct evaluation. */
double ab_plan_removed(const struct ab_problem *problem, const unsigned char *chosen);

#endif
