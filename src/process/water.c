/* water.c - what came with the water: chlorine, minerals, germs
 *
 * Chlorine and chloramine in mains water make chlorophenols with the phenols of malt. Sulphite, activated
 * carbon and reverse osmosis take both away; boiling and standing take away free chlorine only (common
 * practice; texts on water treatment). A water softener takes neither. Where it is not told which of the two
 * the works doses, boiling or standing leaves the answer open.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_ONE(AB_F_WATER_SMELLS, AB_FIELD_YESNO, water, smells, 1),
	AB_ONE(AB_F_WATER_IRON, AB_FIELD_NUM, water, iron_mgl, 1),
	AB_ONE(AB_F_WATER_ALKALINITY, AB_FIELD_NUM, water, alkalinity_mgl, 1),
	AB_ONE(AB_F_WATER_SULPHATE, AB_FIELD_NUM, water, sulphate_mgl, 1),
	AB_ONE(AB_F_WATER_SODIUM, AB_FIELD_NUM, water, sodium_mgl, 1),
	AB_ONE(AB_F_WATER_SOURCE, AB_FIELD_WORD, water, source, 1),
	AB_ONE(AB_F_WATER_SALTS, AB_FIELD_WORD, water, salts, 1),
};

#define WATER(kind, member) AB_LOOK_ONE(w, kind, water, member, 1)

/* Answered in the order of certainty, and not at all where the case is open. Top-up comes last:
 * untreated, it brings back what the treatment of the rest took away. */
static void set_chlorine(struct ab_work *w)
{
	struct ab_told source = WATER(AB_FIELD_WORD, source), treatment = WATER(AB_FIELD_WORD, treatment);
	struct ab_told chloramine = WATER(AB_FIELD_YESNO, chloramine), topup = WATER(AB_FIELD_NUM, topup_l);
	struct ab_told treated = WATER(AB_FIELD_YESNO, topup_treated), smells = WATER(AB_FIELD_YESNO, smells);
	int from = source.known ? 1 + (int)source.v : 0, how = treatment.known ? 1 + (int)treatment.v : 0;
	/* None but waterworks put chloramine into water. */
	bool mains = from == AB_WATER_TAP || from == AB_WATER_BLEND || from == AB_WATER_SOFTENED ||
	    (from == 0 && chloramine.known && chloramine.v > 0);
	struct ab_basis basis = ab_basis_new();
	double left = AB_NAN;
	const char *why = NULL;

	if (from != 0 && !mains)
		left = 0, why = "the water is not from the mains";
	else if (how == AB_TREAT_SULPHITE || how == AB_TREAT_CARBON || how == AB_TREAT_RO)
		left = 0, why = "the treatment takes chlorine and chloramine away";
	else if (how == AB_TREAT_NONE && (mains || (smells.known && smells.v > 0)))
		left = 1, why = "mains water, not treated";
	else if ((how == AB_TREAT_BOILED || how == AB_TREAT_STOOD) && chloramine.known)
		left = chloramine.v, why = "boiling and standing drive off chlorine, not chloramine";
	ab_rest_on_basis(&basis, source.known ? &source.basis : mains ? &chloramine.basis : &treatment.basis);
	if (treatment.known)
		ab_rest_on_basis(&basis, &treatment.basis);
	if (left <= 0 && mains && topup.known && topup.v > 0 && treated.known && treated.v <= 0)
		left = 1, why = "the top-up water came untreated from the mains";
	if (why != NULL)
		ab_set(w, AB_F_WATER_CHLORINE, &basis, left, 0, 'A', "%s", why);
}

/* Where the batch's size is not told it is taken for the usual one: home batches are 10 to 25 L (estimate). */
static struct ab_told volume_of(const struct ab_work *w)
{
	struct ab_told usual = { true, 20, 0, ab_basis_new() };

	usual.basis.origin = AB_ORIGIN_ASSUMED;
	return w->volume.known ? w->volume : usual;
}

static double share_u(const struct ab_work *w, double share)
{
	return (w->volume.known ? 0.05 : 0.3) * share;
}

/* Boiled top-up carries no germs, so it counts as none here; its chlorine is the other fact's matter. */
static void set_topup(struct ab_work *w)
{
	struct ab_told topup = WATER(AB_FIELD_NUM, topup_l), boiled = WATER(AB_FIELD_YESNO, topup_boiled);
	struct ab_basis basis = topup.basis;

	if (!topup.known && boiled.known && boiled.v <= 0) {
		/* It is told that there was some: kits and partial boils take a tenth to half of the batch
		 * (estimate). */
		boiled.basis.origin = AB_ORIGIN_ASSUMED;
		ab_set(w, AB_F_WATER_TOPUP, &boiled.basis, 0.25, 0.12, 'C',
		    "unboiled top-up, how much is not told");
		return;
	}
	if (!topup.known && !boiled.known)
		return;
	if ((topup.known && topup.v <= 0) || (boiled.known && boiled.v > 0)) {
		basis = topup.known ? topup.basis : boiled.basis;
		ab_set(w, AB_F_WATER_TOPUP, &basis, 0, 0, 'A', "no unboiled top-up");
	} else if (boiled.known) {
		struct ab_told volume = volume_of(w);
		ab_rest_on_basis(&basis, &volume.basis);
		double share = fmin(1, topup.v / volume.v);
		ab_set(w, AB_F_WATER_TOPUP, &basis, share, share_u(w, share), w->volume.known ? 'A' : 'C',
		    "%.1f L unboiled in %.1f L", topup.v, volume.v);
	}
}

/* Boiled or not: where that is not told, the rules may still weigh that there was some. */
static void set_topped(struct ab_work *w)
{
	struct ab_told topup = WATER(AB_FIELD_NUM, topup_l);
	struct ab_basis basis = topup.basis;

	if (!topup.known)
		return;
	struct ab_told volume = volume_of(w);
	if (topup.v > 0)
		ab_rest_on_basis(&basis, &volume.basis);
	double share = topup.v > 0 ? fmin(1, topup.v / volume.v) : 0;
	ab_set(w, AB_F_WATER_TOPPED, &basis, share, share_u(w, share), w->volume.known || share <= 0 ? 'A' : 'C', NULL);
}

void ab_facts_water(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_chlorine(w);
	set_topup(w);
	set_topped(w);
}
