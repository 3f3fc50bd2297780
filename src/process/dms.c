/* dms.c - DMS formed after the boil and kept: what the boil left of its precursor, by the time it stayed hot
 *
 * Precursor in the wort: 200 g of malt a litre at 1.048; 6 ug/g is a textbook's lager malt, kilned pale malt
 * has 1 to 3 (second-hand): 1.5 + 3.5 x the share of Pilsner malt is taken (estimate), and a third for malt
 * extract, which was boiled down before (estimate). u is half of the value: malts differ by a factor of two.
 * Grade B for the kinetics.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/dms.h>
#include "process/words.h"
#include "process/working.h"

/* 35 min at 100 C and AB_DMS_PH, doubling every 6 K: kinetics and sources in dms.h. */
static const double AT_BOIL_MIN = 35, DOUBLES_K = 6, BY_PH = 0.5212, LN2 = 0.6931471805599453;
static const double MALT_GL = 200, MALT_POINTS = 48, PALE_UGG = 1.5, PILSNER_MORE = 3.5,
    EXTRACT_SHARE = 1 / 3.0, USUAL_BOIL_MIN = 60, AROUND_C = 20, COOL_C = 25, STAND_C = 90;

double ab_dms_half_life_min(double t_c, double ph)
{
	return AT_BOIL_MIN * exp2((100 - t_c) / DOUBLES_K) * exp(-BY_PH * (ph - AB_DMS_PH));
}

/* The integral of an exponential along a straight fall, in closed form; expm1 because a small fall
 * would cancel to 0/0. */
double ab_dms_ramp(double from_c, double to_c, double minutes)
{
	double fall = from_c - to_c, at_top = minutes / ab_dms_half_life_min(from_c, AB_DMS_PH);
	return fall < 1e-6 ? at_top : at_top * DOUBLES_K / LN2 / fall * -expm1(-LN2 * fall / DOUBLES_K);
}

/* dt = -tau dT/(T - around): Simpson's rule over the temperature. Newton's law has no closed form here.
 * Over temperature, not time: the grid is then fine where it is hot, which is where nearly everything
 * forms. */
double ab_dms_cooling(double from_c, double to_c, double around_c, double tau_h)
{
	enum { STEPS = 40 };
	double width = (from_c - to_c) / STEPS, sum = 0;

	for (int i = 0; i <= STEPS; i++) {
		double t = to_c + width * i;
		double weight = i == 0 || i == STEPS ? 1 : i % 2 == 1 ? 4 : 2;
		sum += weight / ((t - around_c) * ab_dms_half_life_min(t, AB_DMS_PH));
	}
	return 60 * tau_h * sum * width / 3;
}

double ab_dms_left(double half_lives)
{
	return exp2(-half_lives);
}

/* What is not told counts as pale malt at the usual strength; every share used is noted even when
 * unknown, for a later answer would move it. */
static double precursor(const struct ab_work *w, struct ab_basis *basis)
{
	double pilsner = ab_known(w, AB_F_RECIPE_PILSNER_SHARE) ? ab_value(w, AB_F_RECIPE_PILSNER_SHARE) : 0;
	double extract = ab_known(w, AB_F_RECIPE_EXTRACT_SHARE) ? ab_value(w, AB_F_RECIPE_EXTRACT_SHARE) : 0;
	double points = ab_known(w, AB_F_GRAVITY_OG) ? 1000 * (ab_value(w, AB_F_GRAVITY_OG) - 1)
	    : MALT_POINTS;

	ab_rest_on_fact(basis, &w->facts[AB_F_RECIPE_PILSNER_SHARE]);
	ab_rest_on_fact(basis, &w->facts[AB_F_RECIPE_EXTRACT_SHARE]);
	ab_rest_on_fact(basis, &w->facts[AB_F_GRAVITY_OG]);
	return MALT_GL * points / MALT_POINTS * (PALE_UGG + PILSNER_MORE * pilsner) *
	    (1 - extract * (1 - EXTRACT_SHARE));
}

/* Half-lives from flame-out to cold. chill.above-80 has the stand in it; what is left of it is the way
 * from 100 to 80 C, which goes on as it began: straight with a chiller, by Newton's law without. 60 tau
 * / ln(80/60) turns the told fall from 100 to 80 C back into the vessel's time constant in a room of 20
 * C. A stand under 80 C is not inside chill.above-80, so it counts whole. */
static double hot_half_lives(const struct ab_work *w)
{
	struct ab_told stand = AB_LOOK_ONE(w, AB_FIELD_NUM, stand, time_s, 1 / 60.0);
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, stand, temp_c, 1);
	double above = ab_value(w, AB_F_CHILL_ABOVE_80), at = temp.known ? temp.v : STAND_C;
	double standing = stand.known ? stand.v : 0, hot = at >= 80 ? fmin(standing, above) : 0,
	    falling = above - hot;
	int method = ab_word(w, AB_F_CHILL_METHOD);
	double sum = at >= 80 ? ab_dms_ramp(at, at, hot) : ab_dms_ramp(at, at, standing);

	if (method == AB_CHILL_OVERNIGHT || method == AB_CHILL_AIR)
		return sum + ab_dms_cooling(100, COOL_C, AROUND_C, falling / 60 / log(80 / 60.0));
	return sum + ab_dms_ramp(100, COOL_C, falling / 20 * (100 - COOL_C));
}

/* No fact without the time hot: a usual value for it would invent DMS in every batch that says nothing.
 * The boil counts at 100 C, where its half-life is AT_BOIL_MIN. */
void ab_facts_dms(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double boil = ab_known(w, AB_F_BOIL_TIME) ? ab_value(w, AB_F_BOIL_TIME) : USUAL_BOIL_MIN;

	if (!ab_known(w, AB_F_CHILL_ABOVE_80))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_CHILL_ABOVE_80]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_BOIL_TIME]);
	double smm = precursor(w, &basis), left = ab_dms_left(boil / AT_BOIL_MIN), hot = hot_half_lives(w);
	double formed = smm * left * (1 - ab_dms_left(hot));
	ab_set(w, AB_F_CHILL_DMS, &basis, formed, 0.5 * formed, 'B',
	    "%.0f ug/L in the malt's precursor, %.0f %% of it left by %.0f min of boil, %.2f half-lives "
	    "until cold", smm, 100 * left, boil, hot);
}
