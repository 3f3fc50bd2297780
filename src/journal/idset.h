/* idset.h - the ids seen in one file, to find a second one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_IDSET_H
#define AB_JOURNAL_IDSET_H

#include <stddef.h>
#include <afterboil/arena.h>

struct ab_idset {
	struct ab_arena *arena;   /* the set's own; NULL until the first id */
	struct idset_slot { const char *id; long line; } *slots;
	size_t n, cap;
};

/* All zero is an empty set. Adds id; *earlier is the line where it stood before, 0 when it is new. Returns 0,
 * or -1 when memory is short. */
int ab_idset_add(struct ab_idset *set, const char *id, long line, long *earlier);
void ab_idset_clear(struct ab_idset *set);

#endif
