/* stepping.h - the insides of policy.h: policy.c narrows the problem and lists what each sum buys, thrift.c picks of that
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
	unsigned char *set;              /* scratch */
};

/* The plan and the figures of the last three steps, of out's points. removed_so_far: by the best of the steps before. */
void stepping_thrift(struct stepping *s, double removed_so_far);

#endif
