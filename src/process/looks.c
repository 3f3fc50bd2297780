/* looks.c - plain sights: a film, a ring, a still airlock
 *
 * As told; seen once is seen.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"

/* Largest: several looks at a batch, and what was seen once does not become unseen. */
static const struct ab_plain rows[] = {
	AB_MANY(AB_F_LOOKS_STILL, AB_FIELD_YESNO, looks, ab_looks, airlock_still, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_LOOKS_FILM, AB_FIELD_YESNO, looks, ab_looks, film, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_LOOKS_SURFACE, AB_FIELD_WORD, looks, ab_looks, surface, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_LOOKS_NECK_RING, AB_FIELD_YESNO, looks, ab_looks, neck_ring, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_LOOKS_NEARBY, AB_FIELD_YESNO, looks, ab_looks, smell_nearby, 1, AB_TAKE_LARGEST),
};

void ab_facts_looks(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
}
