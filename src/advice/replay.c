/* replay.c - what changes would have done to one batch: their facts put through the same signs
 *
 * A change moves only facts that are known in the batch: where nothing is known there is nothing to replay.
 * Rated shares stand in there (effects.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <string.h>
#include <afterboil/facts.h>

/* Applies one setting; true when the fact was known and moved. A change never makes a batch worse than
 * it was: "at most 20 C" leaves a beer at 18 C alone. What is set by a habit is no guess any more. */
static bool set_fact(struct ab_fact *fact, const struct ab_sets *sets)
{
	if (!AB_FACT_KNOWN(fact) || fact->value == sets->value)
		return false;
	if ((sets->mode == AB_SET_AT_MOST && fact->value < sets->value) ||
	    (sets->mode == AB_SET_AT_LEAST && fact->value > sets->value))
		return false;
	fact->value = sets->value;
	fact->guess = false;
	return true;
}

/* Facts reckoned from the moved one (oxygen, staling) no longer hold; where the rules speak of other facts
 * than ours there are none. */
static void outdate(const struct ab_knowledge *k, struct ab_fact *facts, int slot)
{
	if (k->facts == ab_fact_defs())
		ab_facts_outdate(facts, slot);
}

/* Settings in the order of the changes; where two set the same fact the later one sees what the earlier
 * left. */
size_t ab_replay(const struct ab_knowledge *k, const struct ab_fact *facts, const int *changes,
    size_t n_changes, struct ab_fact *scratch, double *p)
{
	size_t moved = 0;

	memcpy(scratch, facts, k->facts->n * sizeof *facts);
	for (size_t i = 0; i < n_changes; i++) {
		const struct ab_change *c = &k->changes[changes[i]];

		assert(changes[i] >= 0 && (size_t)changes[i] < k->n_changes);
		for (size_t s = 0; s < c->n_sets; s++) {
			if (!set_fact(&scratch[c->sets[s].slot], &c->sets[s]))
				continue;
			outdate(k, scratch, c->sets[s].slot);
			moved++;
		}
	}
	if (p != NULL)
		ab_alone(k, scratch, p);
	return moved;
}
