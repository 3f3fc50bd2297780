/* expected.c - the final gravity to expect, by the plan or by the yeast and the mash
 *
 * The recipe's, else the middle of the yeast class's apparent attenuation (trust B, +- a quarter of the range), 1.5 in
 * the hundred less for each kelvin of mash over 66 C and more below, 5 K at most (estimate, common practice; +- half of
 * it), where simple sugar ferments out and lactose or maltodextrin stays (0.38 points for a g/L).
 *
 * Of a yeast that eats starch a plan above where its class ends tells nothing: it goes on below it, and the class's end
 * stands in.
 *
 * A yeast of no told class has no expected end. Where bottles may burst silence would be taken for leave, so the class
 * that the rules let stand in tells a safe end (safe_fg; estimate), with all that yeasts reach as its width. It counts
 * as a guess.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <afterboil/priming.h>
#include <afterboil/quantity.h>
#include "process/gravities.h"
#include "process/words.h"

/* Points that lactose and maltodextrin leave: of those in the wort, of those put in later and read (late), and of those
 * that went in when the last gravity was read or after it (unread), which is no part of it: as in latesugar.c. */
struct staying { double wort, late, unread; };

/* 0.38 points for 1 g/L: a gram of sugar in a litre raises SG by that (banner); neither sort is eaten by brewer's
 * yeast. */
static struct staying unfermentable_points(const struct ab_work *w)
{
	static const double WORT_H = 24;
	struct staying points = { 0, 0, 0 };

	if (w->batch->recipe == NULL || !w->volume.known)
		return points;
	for (AB_EACH(struct ab_sugar, s, w->batch->recipe->sugars)) {
		double h = ab_hours(w, &s->at);
		if ((s->kind != AB_SUGAR_LACTOSE && s->kind != AB_SUGAR_MALTODEXTRIN) || !s->amount_g.known)
			continue;
		double *of = !(h > WORT_H) ? &points.wort : h < w->last_gravity_h ? &points.late : &points.unread;
		*of += 0.38 * s->amount_g.v / w->volume.v;
	}
	return points;
}

/* What the mash adds to the class's attenuation, a share; 0 when it is not told. */
static double mash_shift(struct ab_work *w)
{
	static const double USUAL_MASH_C = 66, MOST_K = 5, BY_K = 0.015;
	const struct ab_fact *mash = &w->facts[AB_F_MASH_TEMP];

	if (!AB_FACT_KNOWN(mash))
		return 0;
	ab_rest_on_fact(&w->expected_basis, mash);
	return -BY_K * fmin(MOST_K, fmax(-MOST_K, mash->value - USUAL_MASH_C));
}

/* Of the yeast and the mash; what stays, in points, is no part of what the class's attenuation is of. */
static double left_by_class(double og_sg, double share, double sugar, double stays)
{
	double oe = ab_plato_from_sg(fmax(1, og_sg - stays / 1000));
	return ab_sg_from_plato(oe * (1 - share) * (1 - sugar)) + stays / 1000;
}

/* What yeasts that do not eat on may reach, from the least to the most, a share: so little is known of one of no
 * class. */
static double widest(const struct ab_work *w)
{
	double low = 1, high = 0;

	for (size_t i = 0; i < w->norms->n_yeasts; i++)
		if (!w->norms->yeasts[i].diastatic) {
			low = fmin(low, w->norms->yeasts[i].att_low);
			high = fmax(high, w->norms->yeasts[i].att_high);
		}
	return fmax(0, high - low);
}

/* It tells more than any plan. What became of it counts, the last told. */
const struct ab_test *ab_forced_end(const struct ab_batch *batch)
{
	const struct ab_test *last = NULL;

	for (AB_EACH(struct ab_test, t, batch->tests))
		if (t->gravity_sg.known && t->kind != NULL && strcmp(t->kind, "forced-fermentation") == 0)
			last = t;
	return last;
}

static const double ALIKE_POINTS = 1000 * AB_ALIKE_SG;

bool ab_forced_lower(const struct ab_work *w)
{
	return w->expected_by_test && !ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) &&
	    ab_value(w, AB_F_GRAVITY_OVER_EXPECTED) > ALIKE_POINTS;
}

/* Lactose and maltodextrin are let out of the class's end: what eats starch may eat them. */
bool ab_slow_goes_on(const struct ab_work *w)
{
	double over = ab_value(w, AB_F_GRAVITY_OVER_EXPECTED), og = ab_value(w, AB_F_GRAVITY_OG);

	if (w->yeast == NULL || !w->yeast->diastatic || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS))
		return false;
	if (w->expected_by_test && fabs(over) <= ALIKE_POINTS)
		return false;
	/* a plan alone tells nothing of such a yeast */
	if (!isfinite(og))
		return true;
	double middle = (w->yeast->att_low + w->yeast->att_high) / 2;
	double end = ab_sg_from_plato(ab_plato_from_sg(og) * (1 - middle));
	over = fmax(over, 1000 * (ab_value(w, AB_F_GRAVITY_LAST) - end));
	return !(ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= w->norms->numbers[AB_NUM_SLOW_STILL_D] &&
	    over <= w->norms->numbers[AB_NUM_HANGS_POINTS]);
}

/* An end with its width, and what the mash adds to the class's attenuation. */
struct end { double fg, u, shift; };

/* oe * x * 0.004 turns a share of the extract into SG, one degree Plato being about 4 points. 0.99: no shift may
 * promise more than all the sugar. */
static struct end end_of_class(struct ab_work *w, const struct ab_yeast_norm *yeast)
{
	double sugar = ab_known(w, AB_F_RECIPE_SUGAR_SHARE) ? ab_value(w, AB_F_RECIPE_SUGAR_SHARE) : 0;
	double width = w->yeast != NULL ? yeast->att_high - yeast->att_low : widest(w), shift = mash_shift(w);
	double mid = fmin(0.99, (yeast->att_low + yeast->att_high) / 2 + shift);
	double og = ab_value(w, AB_F_GRAVITY_OG), oe = ab_plato_from_sg(og);
	struct staying stays = unfermentable_points(w);

	ab_rest_on_fact(&w->expected_basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_rest_on_basis(&w->expected_basis, &w->yeast_basis);
	return (struct end){ left_by_class(og, mid, sugar, stays.wort) + stays.late / 1000,
		hypot(hypot(0.001, oe * width / 4 * 0.004), oe * shift / 2 * 0.004), shift };
}

static void expect_planned(struct ab_work *w, const struct ab_recipe *recipe)
{
	double unread = unfermentable_points(w).unread;

	ab_rest_on_num(&w->expected_basis, &recipe->mark, &recipe->fg_sg, false);
	w->expected_fg = recipe->fg_sg.v - unread / 1000;
	w->expected_fg_u = 0.002;
	w->expected_how = unread > 0 ? "planned, less the milk sugar or maltodextrin put in after that" : "planned";
	if (w->yeast == NULL || !w->yeast->diastatic || !ab_known(w, AB_F_GRAVITY_OG))
		return;
	/* What eats starch goes on past any plan: of such a yeast a plan above where its class ends tells nothing. */
	struct end end = end_of_class(w, w->yeast);
	if (!(end.fg < w->expected_fg))
		return;
	w->expected_fg = end.fg;
	w->expected_fg_u = end.u;
	w->expected_how = "usual for such a yeast, which eats starch and goes on below what was planned";
	w->expected_by_class = true;
}

/* The plan first: a recipe's author knew grist and mash. */
void ab_gravity_expect(struct ab_work *w)
{
	const struct ab_recipe *recipe = w->batch->recipe;

	w->expected_basis = ab_basis_new();
	const struct ab_test *forced = ab_forced_end(w->batch);
	if (forced != NULL) {
		ab_rest_on_num(&w->expected_basis, &forced->mark, &forced->gravity_sg, false);
		w->expected_fg = forced->gravity_sg.v;
		w->expected_fg_u = 0.0015;   /* two readings of a hydrometer (estimate) */
		w->expected_by_test = true;
		w->expected_how = "where a forced sample ended";
		return;
	}
	if (recipe != NULL && recipe->fg_sg.known) {
		expect_planned(w, recipe);
		return;
	}
	const struct ab_yeast_norm *yeast = w->yeast != NULL ? w->yeast : w->stand_in;
	if (yeast == NULL || !ab_known(w, AB_F_GRAVITY_OG))
		return;
	struct end end = end_of_class(w, yeast);
	if (w->yeast == NULL) {
		w->safe_fg = end.fg;
		w->safe_fg_u = end.u;
		return;
	}
	w->expected_fg = end.fg;
	w->expected_fg_u = end.u;
	w->expected_how = end.shift < 0 ? "usual for the yeast class after so warm a mash" :
	    end.shift > 0 ? "usual for the yeast class after so cool a mash" : "usual for the yeast class";
	w->expected_by_class = true;
}
