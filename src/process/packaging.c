/* packaging.c - bottles and kegs: closures, necks, purges, leaks
 *
 * As told. What was put under gas is in a keg. A keg that was watched and kept its pressure does not leak; a closure
 * that was only never looked at says nothing.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/words.h"

/* Only what is told; what follows from it (pressure, oxygen) is set by priming.c and oxygen.c, which
 * come later. */
static const struct ab_plain rows[] = {
	AB_ONE(AB_F_PACK_INTO, AB_FIELD_WORD, package, into, 1),
	AB_ONE(AB_F_PACK_MIXING, AB_FIELD_WORD, package, mixing, 1),
	AB_ONE(AB_F_PACK_NECK, AB_FIELD_NUM, package, neck_mm, 1),
	AB_ONE(AB_F_PACK_CAP, AB_FIELD_WORD, package, cap, 1),
	AB_ONE(AB_F_PACK_FOAM, AB_FIELD_YESNO, package, cap_on_foam, 1),
	AB_ONE(AB_F_PACK_WAND, AB_FIELD_YESNO, package, wand, 1),
	AB_ONE(AB_F_PACK_FILLED, AB_FIELD_WORD, package, filled, 1),
	AB_ONE(AB_F_PACK_PURGES, AB_FIELD_NUM, package, purges, 1),
	AB_ONE(AB_F_PACK_KIND, AB_FIELD_WORD, package, bottle, 1),
	AB_ONE(AB_F_PACK_COLOUR, AB_FIELD_WORD, package, colour, 1),
	AB_ONE(AB_F_KEG_METHOD, AB_FIELD_WORD, carbonate, method, 1),
	AB_ONE(AB_F_KEG_GAS, AB_FIELD_WORD, carbonate, gas, 1),
};

#define LOOK(record, member) AB_LOOK_ONE(w, AB_FIELD_YESNO, record, member, 1)

/* Three witnesses, the strongest first. A check without a finding turns into "no leak"; lost.v = 0
 * because the field looked at says that it was checked, not what it showed. */
static void set_leak(struct ab_work *w)
{
	struct ab_told lost = LOOK(carbonate, lost_pressure), checked = LOOK(carbonate, leak_checked),
	    seal = LOOK(package, seal_checked);

	if (!lost.known && checked.known && checked.v > 0)
		lost = checked, lost.v = 0;
	if (!lost.known && seal.known && seal.v > 0)
		lost = seal, lost.v = 0;
	ab_set_told(w, AB_F_PACK_LEAK, &lost);
}

/* "Siphoned into keg, carbonated at 12 psi": only a keg takes gas, whoever forgot to write that it was filled. Bottles
 * may be filled from it later, and are told of then. */
static void set_keg(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();

	if (ab_known(w, AB_F_PACK_INTO) || w->batch->package != NULL || w->batch->carbonate == NULL)
		return;
	ab_rest_on(&basis, &w->batch->carbonate->mark, false);
	basis.origin = AB_ORIGIN_DERIVED;
	ab_set(w, AB_F_PACK_INTO, &basis, AB_PACK_KEG - 1, 0, 'B', "it was put under gas");
}

void ab_facts_packaging(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_keg(w);
	/* The profile's habit counts as usual: half of the later facts ask for bottle or keg first. */
	if (!ab_known(w, AB_F_PACK_INTO) && w->profile != NULL && w->profile->packs != 0) {
		struct ab_told packs = { true, w->profile->packs - 1, 0, ab_basis_new() };
		packs.basis.origin = AB_ORIGIN_USUAL;
		ab_set_told(w, AB_F_PACK_INTO, &packs);
	}
	set_leak(w);
}
