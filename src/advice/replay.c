/* replay.c - what changes would have done to one batch: their facts set, the rest computed again, and all of it
 * put through the same signs
 *
 * A change moves only facts that are known in the batch: where nothing is known there is nothing to replay.
 * Rated shares stand in there (effects.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moving.h"

#include <assert.h>
#include <string.h>
#include <afterboil/advice.h>

/* Applies one setting; true when the fact was known and moved. A change never makes a batch worse than
 * it was: "at most 20 C" leaves a beer at 18 C alone. What is set by a habit is no guess any more, nor is it as wide as
 * one; else what it rests on (origin, lines, uncertainty) is as it was measured. */
static bool set_fact(struct ab_fact *fact, const struct ab_sets *sets)
{
	if (!AB_FACT_KNOWN(fact) || fact->value == sets->value)
		return false;
	if ((sets->mode == AB_SET_AT_MOST && fact->value < sets->value) ||
	    (sets->mode == AB_SET_AT_LEAST && fact->value > sets->value))
		return false;
	fact->value = sets->value;
	if (fact->guess)
		fact->u /= AB_GUESS_WIDENS;
	fact->guess = false;
	return true;
}

/* Sorted by insertion: few facts are moved at once. */
static void note(struct moving *m, int slot, double value)
{
	size_t at = m->n;

	for (size_t i = 0; i < m->n; i++)
		if (m->moved[i].slot == slot) {
			m->moved[i].value = value;
			return;
		}
	assert(m->n < MOVING_MOST);
	for (; at > 0 && m->moved[at - 1].slot > slot; at--)
		m->moved[at] = m->moved[at - 1];
	m->moved[at] = (struct ab_as_if){ slot, value };
	m->n++;
}

void moving_set(const struct ab_knowledge *k, const int *changes, size_t n_changes, struct ab_fact *after,
    struct moving *m)
{
	m->n = m->n_moved = 0;
	for (size_t i = 0; i < n_changes; i++) {
		const struct ab_change *c = &k->changes[changes[i]];

		assert(changes[i] >= 0 && (size_t)changes[i] < k->n_changes);
		for (size_t s = 0; s < c->n_sets; s++) {
			if (!set_fact(&after[c->sets[s].slot], &c->sets[s]))
				continue;
			note(m, c->sets[s].slot, c->sets[s].value);
			m->n_moved++;
		}
	}
}

void moving_apply(const struct ab_knowledge *k, const struct ab_fact *facts, const int *changes,
    size_t n_changes, struct ab_fact *after, struct moving *m)
{
	memcpy(after, facts, k->facts->n * sizeof *facts);
	moving_set(k, changes, n_changes, after, m);
}

bool moving_has(const struct moving *m, int slot)
{
	for (size_t i = 0; i < m->n; i++)
		if (m->moved[i].slot == slot)
			return true;
	return false;
}

void moving_outdate(const struct moving *m, struct ab_fact *after)
{
	struct ab_fact kept[MOVING_MOST];

	for (size_t i = 0; i < m->n; i++)
		kept[i] = after[m->moved[i].slot];
	for (size_t i = 0; i < m->n; i++)
		ab_facts_outdate(after, m->moved[i].slot);
	for (size_t i = 0; i < m->n; i++)
		after[m->moved[i].slot] = kept[i];
}

/* Where the rules speak of other facts than ours, none is reckoned from another. */
size_t ab_replay(const struct ab_knowledge *k, const struct ab_fact *facts, const int *changes,
    size_t n_changes, struct ab_fact *scratch, double *p)
{
	struct moving m;

	moving_apply(k, facts, changes, n_changes, scratch, &m);
	if (k->facts == ab_fact_defs())
		moving_outdate(&m, scratch);
	if (p != NULL)
		ab_alone(k, scratch, p);
	return m.n_moved;
}

/* What follows from the moved facts is taken from the new computation; what was unknown stays so, or a change
 * would seem to help merely by making something known. What the physics only reads in passing does not count
 * as following: those differences are a hair, and no table of causes could tell of them. */
enum ab_status ab_replay_batch(const struct ab_knowledge *k, const struct ab_replay_of *of, const int *changes,
    size_t n_changes, struct ab_arena *arena, struct ab_fact *scratch, size_t *moved, struct ab_diag *diag)
{
	size_t n = k->facts->n;
	struct ab_fact *again = ab_arena_alloc(arena, n, sizeof *again),
	    *silent = ab_arena_alloc(arena, n, sizeof *silent);
	struct moving m;
	enum ab_status st;

	assert(k->facts == ab_fact_defs());
	*moved = 0;
	if (again == NULL || silent == NULL)
		return ab_fail(diag, AB_ENOMEM, of->batch->source, 0, "out of memory for a replay");
	moving_apply(k, of->facts, changes, n_changes, scratch, &m);
	memcpy(silent, scratch, n * sizeof *silent);
	moving_outdate(&m, silent);
	st = ab_facts_recompute(of->batch, of->profile, &k->norms, m.moved, m.n, arena, again, diag);
	for (size_t s = 0; st == AB_OK && s < n; s++)
		if (AB_FACT_KNOWN(&scratch[s]) && !AB_FACT_KNOWN(&silent[s]))
			scratch[s] = again[s];
	*moved = m.n_moved;
	return st;
}
