/* plan_cases.h - seeded random planning problems and the slow, certain answers to them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_PLAN_CASES_H
#define AB_TESTS_PLAN_CASES_H

#include <stdbool.h>
#include <afterboil/plan.h>

enum { CASE_NEEDS = 256, CASE_TABLE = 8, CASE_JOINTS = 16 };

struct plan_shape {
	int changes, causes;
	int touches;            /* causes a change touches, at most */
	int budgets;            /* money, minutes, space, running cost */
	double tight;           /* budget as a share of all positive costs */
	bool needs, shared_needs, groups, owned, copies, savings, overdrawn;
	bool proportional;      /* cost close to benefit: hard */
	bool linear;            /* each cause touched by one change at most */
	bool coarse;            /* loads and shares in steps, so that many plans tie */
	bool tables; /* every other cause told set by set: some sets overlap, some help each other, some are
			anything */
};

/* Owns every array the problem points to. */
struct plan_case {
	struct ab_problem problem;
	double load[AB_PLAN_CAUSES];
	struct ab_effect effects[AB_PLAN_CHANGES * 16];
	struct ab_need needs[CASE_NEEDS];
	int group[AB_PLAN_CHANGES];
	enum ab_change_state state[AB_PLAN_CHANGES];
	double cost[AB_PLAN_CHANGES * AB_BUDGETS];
	struct ab_joint joints[CASE_JOINTS];
	int joint_changes[CASE_JOINTS][CASE_TABLE];
	double joint_share[CASE_JOINTS][1 << CASE_TABLE];
};

/* A uniform number in [0, 1) from *seed (xorshift64*). */
double plan_case_random(unsigned long long *seed);
void plan_case_make(struct plan_case *c, const struct plan_shape *shape, unsigned long long seed);
/* Every load and share moved a little, as a redraw of the estimates does. */
void plan_case_redraw(struct plan_case *c, unsigned long long seed);

/* Is the set allowed: open changes only, needs, groups, budgets (with the slack the header states)? */
bool plan_case_allows(const struct ab_problem *p, const unsigned char *chosen);

/* What the set removes, by the definition: f(S with owned) - f(owned). */
double plan_case_value(const struct ab_problem *p, const unsigned char *chosen);

/* Enumeration of all 2^n sets: the best value and the preferred of the best sets. False when no set is allowed. */
struct plan_truth { double removed; unsigned char chosen[AB_PLAN_CHANGES]; };
bool plan_case_enumerate(const struct ab_problem *p, struct plan_truth *truth);

/* The whole frontier by enumeration, cheapest first; returns the number of points. */
size_t plan_case_frontier(const struct ab_problem *p, int axis, double *cost, double *removed, size_t max);

#endif
