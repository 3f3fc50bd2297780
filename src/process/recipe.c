/* recipe.c - the grist, the hops and the hot side, as far as the cold side needs them
 *
 * Shares are of the fermentables by weight: as told, or from the amounts when every part has one. A grist
 * that is told whole makes the missing parts zero; one that is told in part leaves them unknown. Lines without
 * amounts tell what is in it, not what is not: such a part has its usual share, wide, grade C, "assumed".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <assert.h>
#include <math.h>
#include <string.h>
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_ONE(AB_F_RECIPE_BITTERNESS, AB_FIELD_NUM, recipe, bitterness_ibu, 1),
	AB_ONE(AB_F_MASH_LAST_RUNNINGS, AB_FIELD_NUM, mash, last_runnings_sg, 1),
	AB_ONE(AB_F_MASH_RUNNINGS_PH, AB_FIELD_NUM, mash, runnings_ph, 1),
	AB_ONE(AB_F_MASH_CRUSH, AB_FIELD_WORD, mash, crush, 1),
	AB_ONE(AB_F_MASH_GRAIN_BOILED, AB_FIELD_YESNO, mash, grain_boiled, 1),
	AB_ONE(AB_F_BOIL_TIME, AB_FIELD_NUM, boil, time_s, 1 / 60.0),
	AB_ONE(AB_F_BOIL_VIGOUR, AB_FIELD_WORD, boil, vigour, 1),
	AB_ONE(AB_F_BOIL_LID, AB_FIELD_WORD, boil, lid, 1),
	AB_ONE(AB_F_BOIL_SCORCHED, AB_FIELD_YESNO, boil, scorched, 1),
};

/* Read with the brewer's thermometer, so corrected for what it is known to be off. */
static const struct ab_plain by_thermometer[] = {
	AB_ONE(AB_F_MASH_TEMP, AB_FIELD_NUM, mash, temp_c, 1),
	AB_ONE(AB_F_MASH_LOWEST, AB_FIELD_NUM, mash, lowest_c, 1),
	AB_ONE(AB_F_MASH_SPARGE_TEMP, AB_FIELD_NUM, mash, sparge_c, 1),
};

/* Checked, or known by how much it is off: in this batch or as a rule. */
static bool thermometer_is_known(const struct ab_work *w)
{
	const struct ab_batch *from[] = { w->batch, w->usual };

	for (size_t k = 0; k < 2 && from[k] != NULL; k++)
		for (AB_EACH(struct ab_instrument, i, from[k]->instruments))
			if (i->item == AB_INSTR_THERMOMETER && (i->checked == AB_YES || i->off_c.known))
				return true;
	return false;
}

/* The offset is subtracted before the fact is set, so no rule ever sees the raw reading. Nobody knows what a
 * thermometer that was never held into ice is worth: a degree, as a standard deviation (estimate; they are often off by
 * two). */
static void set_mash_temps(struct ab_work *w)
{
	static const double UNCHECKED_K = 1;
	bool checked = thermometer_is_known(w);

	for (size_t i = 0; i < sizeof by_thermometer / sizeof *by_thermometer; i++) {
		struct ab_told told = ab_look(w, &by_thermometer[i]);
		if (told.known)
			ab_put_right(w, &told);
		if (told.known && !checked)
			told.resolution = fmax(told.resolution, UNCHECKED_K * sqrt(12));
		ab_set_told(w, by_thermometer[i].slot, &told);
	}
}

/* A beer of 1.020 takes some 65 g of malt or extract a litre, by what a mash gives at most (300 points L/kg); less
 * was not all of it. Of a batch of untold size: of the smallest that is brewed (estimate). */
static const double LEAST_GL = 60, SMALLEST_L = 4;

/* The parts of a grist, added up. */
struct grist {
	double total_g, shares;
	double pilsner, roasted, smoked, sugar, extract;     /* in g while by_weight, else in shares */
	size_t parts, with_amount, with_share;
	size_t bases, roasts, smokes, sweets, kits;          /* lines of such: base malts, roasted, ..., hopped kits */
	bool unfermentable, complete, too_little;
	struct ab_basis basis;
};

/* What a beer can be made of alone: no oats, crystal, roasted or sour malt, nor an adjunct. */
static bool is_base(int malt)
{
	return malt != AB_MALT_OATS && malt != AB_MALT_CRYSTAL && malt != AB_MALT_ROASTED &&
	    malt != AB_MALT_ACIDULATED && malt != AB_MALT_ADJUNCT;
}

/* Counting how many parts tell a weight or a share decides later whether silence means zero. */
static void add_part(struct grist *g, const struct ab_mark *mark, const struct ab_num *amount,
    const struct ab_num *share)
{
	g->parts++;
	g->with_amount += amount->known;
	g->with_share += share->known;
	g->total_g += amount->known ? amount->v : 0;
	g->shares += share->known ? share->v : 0;
	ab_rest_on_num(&g->basis, mark, amount, false);
	ab_rest_on_num(&g->basis, mark, share, false);
}

/* Sugars that ferment out, and so lower the final gravity; the others raise it. */
static bool is_simple(int sugar)
{
	return sugar != AB_SUGAR_LACTOSE && sugar != AB_SUGAR_MALTODEXTRIN && sugar != AB_SUGAR_DRY_EXTRACT;
}

static void count_parts(struct grist *g, const struct ab_recipe *r)
{
	for (AB_EACH(struct ab_malt, m, r->malts)) {
		add_part(g, &m->mark, &m->amount_g, &m->share);
		g->bases += is_base(m->kind);
		g->roasts += m->kind == AB_MALT_ROASTED;
		g->smokes += m->kind == AB_MALT_SMOKED;
	}
	for (AB_EACH(struct ab_sugar, s, r->sugars)) {
		add_part(g, &s->mark, &s->amount_g, &s->share);
		g->sweets += s->kind != 0 && is_simple(s->kind);
		g->unfermentable |= s->kind == AB_SUGAR_LACTOSE || s->kind == AB_SUGAR_MALTODEXTRIN;
	}
	for (AB_EACH(struct ab_extract, e, r->extracts)) {
		add_part(g, &e->mark, &e->amount_g, &e->share);
		g->kits += e->kind == AB_EXTRACT_KIT;
	}
	g->complete = r->complete == AB_YES;
}

/* Whole when it is said to be, when all weights are told, or shares that make nine tenths: shares are told rounded, and
 * the odd pinch of colour malt is left out. Weights that make no beer are not all of them: nothing of base malt or
 * extract, or less than the weakest beer takes. */
static bool is_whole(const struct grist *g, const struct ab_recipe *r)
{
	bool weighed = g->with_amount == g->parts && (g->bases > 0 || r->extracts.n > 0) && !g->too_little;

	return g->parts > 0 && (g->complete || weighed || g->shares >= 0.9);
}

/* The share of one part: told; by weight when all weights are known; 1 when it is the only part of a whole grist; else
 * AB_NAN. A share that is told wins over weights: recipes are often scaled, shares are not. */
static double part(const struct grist *g, const struct ab_recipe *r, const struct ab_num *amount,
    const struct ab_num *share)
{
	if (share->known)
		return share->v;
	if (!is_whole(g, r))
		return AB_NAN;
	if (amount->known && g->with_amount == g->parts && g->total_g > 0)
		return amount->v / g->total_g;
	return g->parts == 1 ? 1 : AB_NAN;
}

/* A malt of unknown kind makes the Pilsner share NAN: it might be one. set_share then passes over it. */
static void sum_parts(struct grist *g, const struct ab_recipe *r)
{
	for (AB_EACH(struct ab_malt, m, r->malts)) {
		double share = m->kind == 0 ? AB_NAN : part(g, r, &m->amount_g, &m->share);
		g->pilsner += m->kind == AB_MALT_PILSNER || m->kind == 0 ? share : 0;
		g->roasted += m->kind == AB_MALT_ROASTED || m->kind == 0 ? share : 0;
		g->smoked += m->kind == AB_MALT_SMOKED || m->kind == 0 ? share : 0;
	}
	for (AB_EACH(struct ab_sugar, s, r->sugars)) {
		double share = part(g, r, &s->amount_g, &s->share);
		/* no beer is of sugar alone: its grist is not told */
		if (r->malts.n == 0 && r->extracts.n == 0 && is_simple(s->kind) && !s->share.known)
			share = AB_NAN;
		if (s->kind != 0 && is_simple(s->kind))
			g->sugar += share;
		if (s->kind == AB_SUGAR_DRY_EXTRACT)
			g->extract += share;
	}
	for (AB_EACH(struct ab_extract, e, r->extracts))
		g->extract += part(g, r, &e->amount_g, &e->share);
}

/* A share of 0 is a finding only when the whole grist is known; one above 0 is one anyhow. */
static void set_share(struct ab_work *w, int slot, const struct grist *g, const struct ab_recipe *r, double share)
{
	if (!is_whole(g, r) && !(share > 0))
		return;
	ab_set(w, slot, &g->basis, share, g->basis.guess ? 0.1 : 0.01, 'A',
	    "%.0f %% of the fermentables by weight", 100 * share);
}

/* What is told to be in it, nobody says how much: what such a part usually is, as wide as recipes are. usual: that
 * number of the rules; its u stands behind it. What is not told of stays unknown. */
static void assume_share(struct ab_work *w, int slot, const struct grist *g, size_t lines, enum ab_number usual)
{
	struct ab_basis basis = g->basis;
	double share = w->norms->numbers[usual];

	if (lines == 0 || !(share > 0) || ab_known(w, slot))
		return;
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, slot, &basis, share, w->norms->numbers[usual + 1], 'C',
	    "some is told, not how much: such a part is about %.0f %%", 100 * share);
}

static void assume_shares(struct ab_work *w, const struct grist *g, const struct ab_recipe *r)
{
	bool one_base = g->bases == 1 && r->extracts.n == 0;
	size_t pilsners = 0;

	for (AB_EACH(struct ab_malt, m, r->malts))
		pilsners += m->kind == AB_MALT_PILSNER;
	assume_share(w, AB_F_RECIPE_PILSNER_SHARE, g, one_base ? pilsners : 0, AB_NUM_PILSNER_SHARE);
	assume_share(w, AB_F_RECIPE_ROASTED_SHARE, g, g->roasts, AB_NUM_ROASTED_SHARE);
	assume_share(w, AB_F_RECIPE_SMOKED_SHARE, g, g->smokes, AB_NUM_SMOKED_SHARE);
	assume_share(w, AB_F_RECIPE_SUGAR_SHARE, g, g->parts > g->sweets ? g->sweets : 0, AB_NUM_SUGAR_SHARE);
}

/* Cans of kits are much of a size: where all else is weighed, a kit is taken for what such a kit weighs, and the shares
 * of what was put to it follow. Sugar of no kind told may be dry extract: then nothing does. */
static void weigh_kits(struct ab_work *w, const struct grist *g, const struct ab_recipe *r)
{
	const double *kit = &w->norms->numbers[AB_NUM_KIT_G];
	double sugar = 0, extract = 0;
	size_t kits = 0;

	for (AB_EACH(struct ab_extract, e, r->extracts)) {
		kits += e->kind == AB_EXTRACT_KIT && !e->amount_g.known;
		extract += e->amount_g.known ? e->amount_g.v : kit[0];
	}
	if (kits == 0 || r->sugars.n == 0 || g->with_share > 0 || g->with_amount + kits < g->parts || !(kit[0] > 0))
		return;
	for (AB_EACH(struct ab_sugar, s, r->sugars)) {
		if (s->kind == 0)
			return;
		sugar += is_simple(s->kind) ? s->amount_g.v : 0;
		extract += s->kind == AB_SUGAR_DRY_EXTRACT ? s->amount_g.v : 0;
	}
	struct ab_basis basis = g->basis;
	double total = g->total_g + (double)kits * kit[0], off = (double)kits * kit[1] / total;
	basis.origin = AB_ORIGIN_ASSUMED;
	if (sugar > 0)
		ab_set(w, AB_F_RECIPE_SUGAR_SHARE, &basis, sugar / total, off * sugar / total, 'C',
		    "a kit without its weight is taken for %.2f kg", kit[0] / 1000);
	ab_set(w, AB_F_RECIPE_EXTRACT_SHARE, &basis, extract / total, off * (1 - extract / total), 'C',
	    "a kit without its weight is taken for %.2f kg", kit[0] / 1000);
}

/* Grain that needs no mash: what is steeped beside an extract. */
static bool is_steeped(int malt)
{
	return malt == AB_MALT_CRYSTAL || malt == AB_MALT_ROASTED;
}

/* Most tell the tins and the steeped grain, and no weights, or that of the grain alone. What is not steeped is extract
 * then. Sugar beside it may be anything up to half. */
static void set_extract_share(struct ab_work *w, const struct grist *g, const struct ab_recipe *r)
{
	set_share(w, AB_F_RECIPE_EXTRACT_SHARE, g, r, g->extract);
	if (ab_known(w, AB_F_RECIPE_EXTRACT_SHARE) || r->extracts.n == 0 || r->sugars.n > 0 || g->with_share > 0)
		return;
	for (AB_EACH(struct ab_extract, e, r->extracts))
		if (e->amount_g.known)
			return;
	for (AB_EACH(struct ab_malt, m, r->malts))
		if (!is_steeped(m->kind))
			return;
	struct ab_basis basis = g->basis;
	const double *number = &w->norms->numbers[r->malts.n > 0 ? AB_NUM_BESIDE_SHARE : AB_NUM_EXTRACT_SHARE];
	bool kit = r->malts.n == 0 && g->kits > 0;
	if (!(number[0] > 0))
		return;
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_RECIPE_EXTRACT_SHARE, &basis, kit ? 1 : number[0], number[1], 'C', "%s",
	    r->malts.n > 0 ? "extract, and grain that is only steeped"
	    : kit ? "a hopped kit, which is extract by its nature"
	    : "extract is told and no malt; that it is all is not told");
}

/* Liquid extract darkens and goes stale within months; dry does not, so it is passed over. */
static void set_extract_age(struct ab_work *w, const struct ab_recipe *r)
{
	const struct ab_extract *oldest = NULL;

	for (AB_EACH(struct ab_extract, e, r->extracts))
		if (e->age_s.known && e->kind != AB_EXTRACT_DRY &&
		    (oldest == NULL || e->age_s.v > oldest->age_s.v))
			oldest = e;
	if (oldest == NULL)
		return;
	struct ab_told told = ab_told_num(&oldest->mark, &oldest->age_s, 1 / 86400.0, false);
	ab_set_told(w, AB_F_RECIPE_EXTRACT_AGE, &told);
}

/* One malt and one hop, and nothing else that could hide a flaw. Two are two however little is told; one may be the
 * only one that was written down. */
static void set_bare(struct ab_work *w, const struct grist *g, const struct ab_recipe *r)
{
	struct ab_basis basis = g->basis;
	bool one = g->parts == 1 && r->malts.n == 1 && r->extras.n == 0;
	const struct ab_hop *first = r->hops.items;

	if (g->parts == 0 || r->hops.n == 0)
		return;
	for (AB_EACH(struct ab_hop, h, r->hops)) {
		bool nameless = h->name == NULL && r->hops.n == 1;
		bool same = h->name != NULL && first->name != NULL && strcmp(h->name, first->name) == 0;
		one = one && (nameless || same);
		ab_rest_on(&basis, &h->mark, false);
	}
	if (!one || is_whole(g, r))
		ab_set(w, AB_F_RECIPE_ONE_MALT_ONE_HOP, &basis, one, 0, 'A', NULL);
}

static int how_bad(int kept)
{
	static const int bad[] = { 0, 1, 2, 4, 5, 3 };   /* by word: warm-sealed lies before opened-cold */

	assert(kept >= 0 && (size_t)kept < sizeof bad / sizeof *bad);
	return bad[kept];
}

/* The oldest hops, and the worst way any of them were kept. Age and keeping may come from different
 * hops: each worst is looked for by itself. */
static void set_hops(struct ab_work *w, const struct ab_recipe *r)
{
	struct ab_told age = { .known = false }, kept = { .known = false };

	for (AB_EACH(struct ab_hop, h, r->hops)) {
		if (h->age_s.known && !(age.known && h->age_s.v / 86400 <= age.v))
			age = ab_told_num(&h->mark, &h->age_s, 1 / 86400.0, false);
		if (h->kept != 0 && !(kept.known && how_bad(h->kept) <= how_bad(1 + (int)kept.v))) {
			kept = (struct ab_told){ true, h->kept - 1, 0, ab_basis_new() };
			ab_rest_on(&kept.basis, &h->mark, false);
		}
	}
	ab_set_told(w, AB_F_HOPS_AGE, &age);
	ab_set_told(w, AB_F_HOPS_KEPT, &kept);
}

/* What a brewer usually brews stands in: families shift priors and what counts as a flaw. */
static void set_family(struct ab_work *w)
{
	int family = w->batch->family != 0 ? w->batch->family : w->usual != NULL ? w->usual->family : 0;
	struct ab_told told = { family != 0, family - 1, 0, ab_basis_new() };

	ab_rest_on(&told.basis, w->batch->family != 0 || w->usual == NULL ? &w->batch->mark : &w->usual->mark,
	    w->batch->family == 0);
	ab_set_told(w, AB_F_RECIPE_FAMILY, &told);
}

/* A batch without a recipe is taken as the usual one; every share then says so by its origin. */
void ab_facts_recipe(struct ab_work *w)
{
	const struct ab_recipe *r = w->batch->recipe != NULL ? w->batch->recipe : w->usual != NULL
	    ? w->usual->recipe : NULL;
	struct grist g = { .basis = ab_basis_new() };

	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_mash_temps(w);
	set_family(w);
	ab_set_told(w, AB_F_RECIPE_VOLUME, &w->volume);
	if (r == NULL)
		return;
	if (r != w->batch->recipe)
		g.basis.origin = AB_ORIGIN_USUAL;
	count_parts(&g, r);
	g.too_little = g.total_g < LEAST_GL * (w->volume.known ? w->volume.v : SMALLEST_L);
	sum_parts(&g, r);
	set_share(w, AB_F_RECIPE_PILSNER_SHARE, &g, r, g.pilsner);
	set_share(w, AB_F_RECIPE_ROASTED_SHARE, &g, r, g.roasted);
	set_share(w, AB_F_RECIPE_SMOKED_SHARE, &g, r, g.smoked);
	set_share(w, AB_F_RECIPE_SUGAR_SHARE, &g, r, g.sugar);
	weigh_kits(w, &g, r);
	set_extract_share(w, &g, r);
	assume_shares(w, &g, r);
	if (g.unfermentable || is_whole(&g, r))
		ab_set(w, AB_F_RECIPE_UNFERMENTABLE, &g.basis, g.unfermentable, 0, 'A', NULL);
	set_extract_age(w, r);
	set_hops(w, r);
	set_bare(w, &g, r);
}
