/* replaying.c - batches as they would have been: each set of moved facts put through the physics once
 *
 * A change moves facts that are known. Where other facts are reckoned from a moved one, all facts of the batch
 * are computed again as if the moved ones were so (facts.h); only what differs is kept. Sets of changes that
 * move the same facts to the same values share one computation, so that a search may ask thousands of times.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advising.h"

#include <assert.h>
#include <stdint.h>
#include <string.h>
#include "advice/moving.h"

enum { BUCKETS = 256 };

struct differing { int slot; struct ab_fact fact; };

/* One computation: the moved facts it stands on, in order of slot, and what else then differs. */
struct replayed {
	struct replayed *next;
	size_t b, n_key, n_diff;
	const struct ab_as_if *key;
	const struct differing *diff;
};

struct advising_replays {
	struct replayed *bucket[BUCKETS];
	unsigned char *derives;             /* facts: 1 where others are reckoned from it */
	unsigned char *reach;               /* facts x facts: 1 where the second is reckoned from the first */
	struct ab_fact *facts;              /* scratch for the physics */
	struct ab_arena *work;              /* texts of the physics, dropped after each run */
	bool short_of_memory;
};

static bool has_physics(const struct advising *a)
{
	return a->k->facts == ab_fact_defs();
}

/* Asked of the physics itself: what becomes unknown when this fact is moved by hand was reckoned from it. */
static void note_reach(struct advising_replays *r, size_t n, size_t slot)
{
	for (size_t i = 0; i < n; i++)
		r->facts[i].origin = AB_ORIGIN_DERIVED;
	ab_facts_outdate(r->facts, (int)slot);
	for (size_t i = 0; i < n; i++)
		if (!AB_FACT_KNOWN(&r->facts[i]))
			r->derives[slot] = r->reach[slot * n + i] = 1;
}

enum ab_status advising_replays_open(struct advising *a, struct ab_diag *diag)
{
	size_t n = a->k->facts->n;
	struct advising_replays *r = ab_arena_alloc(a->arena, 1, sizeof *r);

	if (r == NULL)
		return advising_nomem(diag);
	a->replays = r;
	r->derives = ab_arena_alloc(a->arena, n, 1);
	r->reach = ab_arena_alloc(a->arena, n * n, 1);
	r->facts = ab_arena_alloc(a->arena, n, sizeof *r->facts);
	r->work = ab_arena_new();
	if (r->derives == NULL || r->reach == NULL || r->facts == NULL || r->work == NULL)
		return advising_nomem(diag);
	for (size_t s = 0; has_physics(a) && s < n; s++)
		note_reach(r, n, s);
	return AB_OK;
}

void advising_replays_close(struct advising *a)
{
	if (a->replays != NULL)
		ab_arena_free(a->replays->work);
}

bool advising_short_of_memory(const struct advising *a)
{
	return a->replays->short_of_memory;
}

bool advising_derives(const struct advising *a, int slot, int derived)
{
	return derived < 0 ? a->replays->derives[slot] != 0
	    : a->replays->reach[(size_t)slot * a->k->facts->n + (size_t)derived] != 0;
}

static size_t bucket_of(size_t b, const struct ab_as_if *key, size_t n)
{
	uint64_t h = 0xcbf29ce484222325ULL ^ b;

	for (size_t i = 0; i < n; i++) {
		uint64_t bits;

		memcpy(&bits, &key[i].value, sizeof bits);
		h = (h ^ (uint64_t)key[i].slot) * 0x100000001b3ULL;
		h = (h ^ bits ^ bits >> 29) * 0x100000001b3ULL;
	}
	return (size_t)(h >> 32) % BUCKETS;
}

static bool same_key(const struct replayed *r, size_t b, const struct ab_as_if *key, size_t n)
{
	if (r->b != b || r->n_key != n)
		return false;
	for (size_t i = 0; i < n; i++)   /* not memcmp: padding */
		if (r->key[i].slot != key[i].slot || r->key[i].value < key[i].value ||
		    r->key[i].value > key[i].value)
			return false;
	return true;
}

static bool differs(const struct ab_fact *before, const struct ab_fact *after)
{
	return AB_FACT_KNOWN(before) && (!AB_FACT_KNOWN(after) || before->value < after->value ||
	    before->value > after->value || before->u < after->u || before->u > after->u ||
	    before->guess != after->guess);
}

/* Is the fact one that follows from the moved ones by the table of facts.h? Others may differ by a hair, where
 * the physics reads a fact in passing: then no cause would know that the change touches it. */
static bool follows(const struct advising *a, const struct replayed *r, size_t slot)
{
	for (size_t i = 0; i < r->n_key; i++)
		if (advising_derives(a, r->key[i].slot, (int)slot))
			return true;
	return false;
}

/* Facts unknown before stay so: replay moves facts, it does not invent them. Texts do not outlive the run. */
static bool keep_differing(const struct advising *a, struct replayed *r, const struct ab_fact *after)
{
	const struct ab_fact *before = a->facts[r->b];
	struct differing *diff;
	size_t n = 0;

	for (size_t s = 0; s < a->k->facts->n; s++)
		n += differs(&before[s], &after[s]) && follows(a, r, s);
	diff = ab_arena_alloc(a->arena, n, sizeof *diff);
	if (diff == NULL)
		return false;
	for (size_t s = 0; s < a->k->facts->n; s++)
		if (differs(&before[s], &after[s]) && follows(a, r, s)) {
			diff[r->n_diff] = (struct differing){ (int)s, after[s] };
			diff[r->n_diff++].fact.working = NULL;
		}
	r->diff = diff;
	return true;
}

static struct replayed *compute(const struct advising *a, size_t b, const struct ab_as_if *key, size_t n)
{
	struct advising_replays *store = a->replays;
	struct replayed *r = ab_arena_alloc(a->arena, 1, sizeof *r);
	struct ab_as_if *copy = ab_arena_alloc(a->arena, n, sizeof *copy);
	struct ab_diag diag;
	size_t at = bucket_of(b, key, n);
	enum ab_status st;

	if (r == NULL || copy == NULL)
		return NULL;
	memcpy(copy, key, n * sizeof *copy);
	*r = (struct replayed){ .next = store->bucket[at], .b = b, .key = copy, .n_key = n };
	ab_diag_init(&diag);
	st = ab_facts_recompute(a->batch[b], a->profile, &a->k->norms, key, n, store->work, store->facts,
	    &diag);
	if (st == AB_OK && !keep_differing(a, r, store->facts))
		st = AB_ENOMEM;
	ab_arena_reset(store->work);
	if (st != AB_OK)
		return NULL;
	store->bucket[at] = r;
	return r;
}

static const struct replayed *look_up(const struct advising *a, size_t b, const struct ab_as_if *key, size_t n)
{
	const struct replayed *r = a->replays->bucket[bucket_of(b, key, n)];

	while (r != NULL && !same_key(r, b, key, n))
		r = r->next;
	return r != NULL ? r : compute(a, b, key, n);
}

/* The moved facts that others are reckoned from. Facts that a moved one stands in for are not overwritten. */
static void run_physics(const struct advising *a, size_t b, const struct moving *m, struct ab_fact *after)
{
	struct ab_as_if key[MOVING_MOST];
	const struct replayed *r;
	size_t n = 0;

	for (size_t i = 0; i < m->n; i++)
		if (advising_derives(a, m->moved[i].slot, -1))
			key[n++] = m->moved[i];
	if (n == 0)
		return;
	r = look_up(a, b, key, n);
	if (r == NULL) {
		a->replays->short_of_memory = true;
		return;
	}
	for (size_t i = 0; i < r->n_diff; i++)
		if (!moving_has(m, r->diff[i].slot))
			after[r->diff[i].slot] = r->diff[i].fact;
}

/* A cause looks at a few facts of many: copying them all took a fifth of the time of all advice. */
static void copy_facts(const struct advising *a, size_t b, size_t cause, const int *changes, size_t n,
    struct ab_fact *after)
{
	const struct ab_fact *before = a->facts[b];

	for (const int *slot = a->looks[cause]; *slot >= 0; slot++)
		after[*slot] = a->glass[*slot] ? (struct ab_fact){ .origin = AB_ORIGIN_UNKNOWN } : before[*slot];
	for (size_t i = 0; i < n; i++) {
		const struct ab_change *c = &a->k->changes[changes[i]];

		for (size_t s = 0; s < c->n_sets; s++)
			after[c->sets[s].slot] = before[c->sets[s].slot];
	}
}

void advising_replay(const struct advising *a, size_t b, size_t cause, const int *changes, size_t n,
    struct ab_fact *after)
{
	struct moving m;

	assert(b < a->n_sets);
	copy_facts(a, b, cause, changes, n, after);
	moving_set(a->k, changes, n, after, &m);
	if (!has_physics(a))
		return;
	if (a->batch[b] != NULL && m.n <= MOVING_MOST)
		run_physics(a, b, &m, after);
	else
		moving_outdate(&m, after);
}
