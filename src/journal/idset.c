/* idset.c - a hash table of ids with open addressing, at most half full
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/idset.h"

#include <assert.h>
#include <stdint.h>
#include <string.h>

#include "base/alloc.h"

/* FNV-1a, 64 bit. Someone who makes ids collide only slows down the reading of their own file of at most
 * 8 MiB. */
static uint64_t hash(const char *text)
{
	uint64_t h = 14695981039346656037u;
	for (; *text != '\0'; text++)
		h = (h ^ (unsigned char)*text) * 1099511628211u;
	return h;
}

/* cap is a power of two, so a mask replaces a division; the table is at most half full, so an empty slot
 * always ends the walk. */
static struct idset_slot *find(struct idset_slot *slots, size_t cap, const char *id)
{
	assert(cap > 0 && (cap & (cap - 1)) == 0);
	size_t at = (size_t)hash(id) & (cap - 1);
	while (slots[at].id != NULL && strcmp(slots[at].id, id) != 0)
		at = (at + 1) & (cap - 1);
	return &slots[at];
}

/* Doubling keeps the mean cost of an entry constant; ids need no removal, so an empty slot is always a true
 * end. */
static int grow(struct ab_idset *set)
{
	size_t cap = set->cap == 0 ? 64 : set->cap * 2;
	struct idset_slot *slots = ab_calloc(cap, sizeof *slots);
	if (slots == NULL)
		return -1;
	for (size_t i = 0; i < set->cap; i++)
		if (set->slots[i].id != NULL)
			*find(slots, cap, set->slots[i].id) = set->slots[i];
	ab_free(set->slots);
	set->slots = slots;
	set->cap = cap;
	return 0;
}

int ab_idset_add(struct ab_idset *set, const char *id, long line, long *earlier)
{
	*earlier = 0;
	if (set->arena == NULL && (set->arena = ab_arena_new()) == NULL)
		return -1;
	/* Grown before the search: the slot found would move otherwise. */
	if (set->n * 2 >= set->cap && grow(set) != 0)
		return -1;
	struct idset_slot *slot = find(set->slots, set->cap, id);
	if (slot->id != NULL) {
		*earlier = slot->line;
		return 0;
	}
	/* The ids of a batch die with its arena; the set outlives it. */
	const char *copy = ab_arena_strdup(set->arena, id);
	if (copy == NULL)
		return -1;
	*slot = (struct idset_slot){ copy, line };
	set->n++;
	return 0;
}

void ab_idset_clear(struct ab_idset *set)
{
	ab_arena_free(set->arena);
	ab_free(set->slots);
	*set = (struct ab_idset){ 0 };
}
