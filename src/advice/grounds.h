/* grounds.h - what the facts of the batches decide and no estimate moves, looked up once
 *
 * Which link, leak and trait of the rules speaks in which batch hangs on conditions on facts; how strongly it
 * speaks is an estimate. A redraw moves the second alone, and the batches are walked some hundred times. So places
 * in the rules stand here, never numbers out of them: they are the same in rules that were drawn.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_GROUNDS_H
#define AB_ADVICE_GROUNDS_H

#include <stddef.h>

struct advising;

/* A cause may bring this fault to such a batch, by its link of that place; weight: of the fault in that family. */
struct ground_way { unsigned short link, fault; double weight; };
/* A cause that may have made a fault which was found. */
struct ground_link { unsigned short cause, link; };
/* A fault that was found: its leak (-1 none), and its links from first on, in the order of causes. */
struct ground_found { int fault, leak; size_t first, n; };
/* A change that was made, and the first batch with it. */
struct ground_turn { size_t change, at; };

struct grounds {
	double *age;                           /* n_cases: what it counts by its age alone */
	unsigned char *may_mean;               /* n_sets x n_faults: 1 where the fault may be a trait */
	short *leak;                           /* n_sets x n_faults: the leak that holds, -1 none */
	struct ground_way *ways; /* of cause i in set b: from ways_from[i * n_sets + b] to the next, by fault; none
				  * in sets that weigh nothing */
	size_t *ways_from;
	struct ground_found *found; /* of case b: from found_from[b] to the next; of the trouble told: n_cases */
	size_t *found_from;
	struct ground_link *links; size_t n_links, cap_links;
	struct ground_turn *turns;
	size_t n_turns; /* in the order of changes, without those there from the first batch on */
	size_t *owned; size_t n_owned;         /* changes owned, in use, and not made in the time of the batches */
};

/* The way of cause i in set b. */
static inline const struct ground_way *grounds_way(
    const struct grounds *g, size_t n_sets, size_t i, size_t b, size_t *n)
{
	size_t from = g->ways_from[i * n_sets + b];

	*n = g->ways_from[i * n_sets + b + 1] - from;
	return g->ways + from;
}

#endif
