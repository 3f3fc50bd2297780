/* trade_why.c - why the advice falls short of who knows the truth: the diagnosis, haste, or the choice
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trade.h"

#include <math.h>
#include <stdio.h>

enum { UNHURRIED = 30, DECIDED = 10 };

/* What the advice believes of the causes, weighed as the oracle weighs the truth. */
static int oracle_on_beliefs(struct loop_brewer *b)
{
	const struct ab_advice *a = loop_advice(b);
	struct loop_brewer other = *b;
	size_t n = b->world->k->n_changes, causes = b->world->k->n_causes;
	unsigned char *plan = ab_arena_alloc(b->arena, n, 1);
	double *chance = ab_arena_alloc(b->arena, causes, sizeof *chance);

	if (plan == NULL || chance == NULL)
		loop_give_up("beliefs", "out of memory");
	loop_load(b, NULL);
	for (size_t i = 0; i < a->n_recurrences; i++) {
		int c = a->recurrences[i].cause;
		double left = b->chance[c] > 0 ? b->now[c] / b->chance[c] : 1;
		chance[c] = left > 0 ? fmin(a->recurrences[i].p / left, 1) : 0;
	}
	other.chance = chance;
	loop_oracle(&other, DECIDED, plan);
	return loop_most_of(b, plan, chance);
}

static const struct { const char *title; bool told; size_t before; loop_policy *next; } reasons[] = {
	{ "as it is", false, 0, loop_ours },
	{ "each batch's causes told", true, 0, loop_ours },
	{ "thirty batches before the first change", false, UNHURRIED, loop_ours },
	{ "both", true, UNHURRIED, loop_ours },
	{ "as it is, the choice the oracle's", false, 0, oracle_on_beliefs },
	{ "each batch's causes told, the choice the oracle's", true, 0, oracle_on_beliefs },
	{ "both, the choice the oracle's", true, UNHURRIED, oracle_on_beliefs },
};
enum { REASONS = sizeof reasons / sizeof *reasons };

void trade_why(const struct loop_read *read, size_t brewers)
{
	struct trade_sum share[REASONS] = { { 0, 0, 0 } }, course[REASONS] = { { 0, 0, 0 } };
	double removed[REASONS] = { 0 }, best = 0;
	struct loop_world world = trade_world(read, TASTE_COMPLETE, UNHURRIED + DECIDED);

	for (size_t i = 0; i < brewers; i++) {
		double most = 0;
		for (size_t r = 0; r < REASONS; r++) {
			world.told_causes = reasons[r].told;
			struct loop_brewer *b = loop_begin(
			    &world, read->facts[i % read->n_facts], 1000 + i, read->scratch, trade_arena());
			double before = loop_load(b, NULL), over = 0;
			unsigned char *plan = ab_arena_alloc(b->arena, read->k->n_changes, 1);
			if (r == 0) {
				loop_oracle(b, DECIDED, plan);
				most = before - loop_load(b, plan);
				best += most;
			}
			for (size_t n = 0; n < reasons[r].before; n++)
				loop_brew(b);
			for (int n = 0; n < DECIDED; n++) {
				loop_brew(b);
				int u = reasons[r].next(b);
				if (u >= 0)
					loop_adopt(b, u);
				over += (before - loop_load(b, NULL)) / DECIDED;
			}
			removed[r] += before - loop_load(b, NULL);
			if (most > 0) {
				trade_add(&share[r], (before - loop_load(b, NULL)) / most);
				trade_add(&course[r], over / most);
			}
			trade_drop(b);
		}
	}
	printf(
	    "\nten changes, one a batch, complete tastings: share of what an oracle takes away (in the end; on "
	    "average over the ten batches)\n");
	for (size_t r = 0; r < REASONS; r++)
		printf("  %-52s %5.1f %%   brewer by brewer %5.1f +- %.1f %%   on the way %5.1f +- %.1f %%\n",
		    reasons[r].title, 100 * removed[r] / best, 100 * trade_mean(&share[r]),
		    100 * trade_error(&share[r]), 100 * trade_mean(&course[r]), 100 * trade_error(&course[r]));
}
