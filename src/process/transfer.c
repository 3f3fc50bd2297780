/* transfer.c - moving the beer
 *
 * As told; of several moves the worst counts. Poured beer splashes, whether anybody wrote it down or not.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_MANY(AB_F_TRANSFER_SPLASHED, AB_FIELD_YESNO, transfers, ab_transfer, splashed, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_TRANSFER_BY_MOUTH, AB_FIELD_YESNO, transfers, ab_transfer, by_mouth, 1, AB_TAKE_LARGEST),
	/* air-filled is the first word, and the worst */
	AB_MANY(AB_F_TRANSFER_TARGET, AB_FIELD_WORD, transfers, ab_transfer, target, 1, AB_TAKE_SMALLEST),
};

void ab_facts_transfer(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	/* "Not splashed" is the brewer's word and stands even where it was poured. */
	for (AB_EACH(struct ab_transfer, t, w->batch->transfers)) {
		struct ab_basis basis = ab_basis_new();
		if (t->how != AB_HOW_POURED || t->splashed == AB_NO ||
		    ab_value(w, AB_F_TRANSFER_SPLASHED) > 0)
			continue;
		ab_rest_on(&basis, &t->mark, false);
		ab_set(w, AB_F_TRANSFER_SPLASHED, &basis, 1, 0, 'A', "poured");
	}
}
