/* elimination.h - one fault that comes again and again: what its batches all share is left, the rest is not it
 * alone
 *
 * Plain logic on the journals, no chances: a vessel, a yeast, a kind of water that some batches with the fault had
 * and others with it had not cannot by itself be what makes it. What all of them had may be it; that clean ones had
 * it, too, speaks against it, and how many is told. Two pieces of kit that are both bad escape such logic, and so
 * does what has no name in the journals.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_ELIMINATION_H
#define AFTERBOIL_ELIMINATION_H

#include <afterboil/knowledge.h>
#include <afterboil/trend.h>

/* So many batches with the fault at least, of the newest tasted ones, the last of them among the few newest: what has
 * stayed away since then is no riddle any more. (Estimates.) */
enum { AB_ELIMINATE_LEAST = 3, AB_ELIMINATE_NEWEST = 24, AB_ELIMINATE_RECENT = 4 };

/* A factor (struct ab_factor) told of AB_ELIMINATE_LEAST batches with the fault or more. */
struct ab_elim_thing {
	const char *factor, *values;     /* the one they all had; of one that is out those they had, "blue, red" */
	size_t told;                     /* batches with the fault that tell of it */
	size_t clean_with, clean;        /* of what is left: clean batches that had it, and that tell of it */
};
/* A cause that gives the fault. Left: how much blame it bears at least in each of the batches. Out: how much in the
 * batch named, where it is hardly to blame (less than AB_HARDLY), though a fifth or more in another (estimates). */
struct ab_elim_cause { int cause; double share; const char *batch; };
#define AB_HARDLY 0.05

struct ab_elimination {
	int fault;
	const char *since;               /* the first batch of those looked at that has it */
	size_t with, tasted;             /* batches with the fault, of so many tasted since that one */
	struct ab_elim_thing *left, *out; size_t n_left, n_out;              /* left: fewest clean ones first */
	struct ab_elim_cause *causes, *out_causes;
	size_t n_causes, n_out_causes; /* most share first; most blamed first */
};

/* batches in order of date; *out NULL when no fault comes so often. AB_ENOMEM. */
enum ab_status ab_eliminate(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    struct ab_arena *arena, struct ab_elimination **out, struct ab_diag *diag);

#endif
