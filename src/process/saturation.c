/* saturation.c - oxygen before fermentation: aerate.oxygen and aerate.oxygen-short
 *
 * Formulas, units, ranges and sources: saturation.h. The wort is taken at its pitching temperature, else
 * 20 C, at its original gravity, else 12 P, at the profile's altitude, else at sea level: what that
 * gets wrong (+-10 %) is small beside what meters show for one and the same method (+-25 %). Trust C.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/saturation.h"
#include <afterboil/quantity.h>
#include "process/words.h"
#include "process/working.h"

static const double UNAIRED = 2, OXYGEN_MOST = 25, USUAL_C = 20, USUAL_P = 12, SATURATION_REL = 0.1,
    METHOD_REL = 0.25;

/* Clamped, since the polynomials are fits inside 0 to 40 C. The pressure part takes the vapour out
 * first: only dry air dissolves. */
double ab_oxygen_in_water(double t_c, double atm)
{
	double t = fmin(40, fmax(0, t_c)), k = t + 273.15;
	double at_1 =
	    exp(-139.34411 + (1.575701e5 + (-6.642308e7 + (1.243800e10 - 8.621949e11 / k) / k) / k) / k);
	double steam = exp(11.8571 - (3840.70 + 216961 / k) / k);
	double theta = 9.75e-4 - 1.426e-5 * t + 6.436e-8 * t * t;

	return fmax(0, at_1 * atm * (1 - steam / atm) * (1 - theta * atm) / ((1 - steam) * (1 - theta)));
}

double ab_pressure_at(double altitude_m)
{
	return pow(1 - 0.0065 * altitude_m / 288.15, 5.255877);
}

double ab_oxygen_wort_share(double plato)
{
	return exp(-0.0202 * plato);
}

/* The published reading, and the minutes it was taken after. */
static const struct { double mgl, minutes; } methods[] = {
	[AB_AERATE_POUR] = { 4, 0 }, [AB_AERATE_SHAKE] = { 8, 40 / 60.0 },
	    [AB_AERATE_WHISK] = { 8, 40 / 60.0 },
	[AB_AERATE_PUMP] = { 8, 5 }, [AB_AERATE_OXYGEN] = { 12, 1 },
};

/* Wort never counts below what running into the fermenter gives by itself (UNAIRED). */
double ab_oxygen_aerated(int method, double minutes, double saturation)
{
	double floor = fmin(UNAIRED, saturation);

	if (method <= AB_AERATE_NONE || method > AB_AERATE_OXYGEN)
		return floor;
	double most = methods[method].mgl, share = methods[method].minutes > 0 && minutes >= 0 ?
	    minutes / methods[method].minutes : 1;
	if (method == AB_AERATE_OXYGEN)
		return fmin(OXYGEN_MOST, floor + (most - floor) * share);
	most = fmin(most, saturation);
	/* The published time is taken as three time constants: 95 % of the way. */
	return floor + (most - floor) * fmin(1, (1 - exp(-3 * share)) / (1 - exp(-3)));
}

/* Straight between the advised points; see saturation.h for who advises. */
double ab_oxygen_wanted(double plato, bool lager, bool dry_first)
{
	double want = plato <= 12 ? 8 : plato <= 16 ? 8 + (plato - 12) /
	    2 : fmin(15, 10 + (plato - 16) * 5 / 8);

	return want * (lager ? 1.2 : 1) * (dry_first ? 0.25 : 1);
}

/* Of several aerations the one that gave most; false when none is told. Not the sum: saturation is a
 * ceiling, and oxygen given earlier is partly gone. */
static bool best_aeration(const struct ab_work *w, double saturation, double *best, struct ab_basis *basis)
{
	const struct ab_list *told = &w->batch->aerations;
	bool usual = told->n == 0 && w->usual != NULL, any = false;

	if (usual)
		told = &w->usual->aerations;
	for (AB_EACH(struct ab_aerate, a, *told)) {
		double gives = ab_oxygen_aerated(a->method, a->time_s.known ? a->time_s.v / 60 : AB_NAN,
		    saturation);
		if (a->method == 0)
			continue;
		*best = any ? fmax(*best, gives) : gives;
		any = true;
		ab_rest_on_num(basis, &a->mark, &a->time_s, usual);
	}
	return any;
}

/* Told that it was aired and not how: between pouring and shaking (estimate). */
static const double AIRED_MGL = 6, AIRED_U = 2;

static bool aired_somehow(const struct ab_work *w, double saturation, double *best, struct ab_basis *basis)
{
	for (AB_EACH(struct ab_aerate, a, w->batch->aerations)) {
		ab_rest_on(basis, &a->mark, false);
		basis->origin = AB_ORIGIN_ASSUMED;
		*best = fmin(AIRED_MGL, saturation);
		return true;
	}
	return false;
}

/* Asked "as if it had been aired so", the facts speak in place of the records. */
static bool find_aeration(const struct ab_work *w, double saturation, double *best, struct ab_basis *basis)
{
	if (!ab_is_as_if(w, AB_F_AERATE_METHOD) && !ab_is_as_if(w, AB_F_AERATE_TIME))
		return best_aeration(w, saturation, best, basis);
	ab_rest_on_fact(basis, &w->facts[AB_F_AERATE_METHOD]);
	ab_rest_on_fact(basis, &w->facts[AB_F_AERATE_TIME]);
	*best = ab_oxygen_aerated(ab_word(w, AB_F_AERATE_METHOD),
	    ab_is_as_if(w, AB_F_AERATE_TIME) ? ab_value(w, AB_F_AERATE_TIME) : AB_NAN, saturation);
	return ab_known(w, AB_F_AERATE_METHOD);
}

/* As pitched, else as it left the chiller: the two are hours apart at most. */
static double wort_temp(const struct ab_work *w)
{
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, pitch, temp_c, 1);

	if (!temp.known)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, chill, end_c, 1);
	return temp.known ? temp.v : USUAL_C;
}

/* atm. A profile's altitude is no record of the batch: the fact's origin stays what the aeration's is. */
double ab_air_atm(const struct ab_work *w)
{
	const struct ab_num *up = w->profile != NULL ? &w->profile->altitude_mm : NULL;
	return up != NULL && up->known ? ab_pressure_at(up->v / 1000) : 1;
}

/* Dry yeast counts as first pitch unless a generation is told. */
static void set_short(struct ab_work *w, double plato)
{
	const struct ab_fact *got = &w->facts[AB_F_AERATE_OXYGEN];
	bool dry = ab_word(w, AB_F_YEAST_FORM) == AB_YEAST_DRY && !(ab_value(w, AB_F_YEAST_GENERATION) > 0);
	double want = ab_oxygen_wanted(plato, ab_value(w, AB_F_YEAST_LAGER) > 0, dry);
	struct ab_basis basis = ab_basis_new();

	ab_rest_on_fact(&basis, got);
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_YEAST_FORM]);
	/* 8 to 10 is the width of the advice. */
	ab_set(w, AB_F_AERATE_SHORT, &basis, want - got->value, hypot(got->u, 1), 'C',
	    "(%.1f mg/L wanted at %.1f P%s) - (%.1f mg/L reached)", want,
	    plato, dry ? " by dry yeast, which brings reserves" : "", got->value);
}

/* Two independent relative errors: the meter readings of a method and the saturation behind them. */
void ab_facts_saturation(struct ab_work *w)
{
	bool strength = ab_known(w, AB_F_GRAVITY_OG);
	double plato = strength ? ab_plato_from_sg(ab_value(w, AB_F_GRAVITY_OG)) : USUAL_P, t = wort_temp(w),
	    best = 0, atm = ab_air_atm(w);
	double saturation = ab_oxygen_in_water(t, atm) * ab_oxygen_wort_share(plato);
	struct ab_basis basis = ab_basis_new();

	bool told = find_aeration(w, saturation, &best, &basis);
	if (!told && !aired_somehow(w, saturation, &best, &basis))
		return;
	ab_set(w, AB_F_AERATE_OXYGEN, &basis, best,
	    hypot(told ? METHOD_REL * best : AIRED_U, SATURATION_REL * best), 'C',
	    "%s; air at %.2f atm gives at most %.1f mg/L at %.1f C and %.1f P",
	    told ? "what the method gives" : "it was aired, nobody tells how: between pouring and shaking", atm,
	    saturation, t, plato);
	if (ab_known(w, AB_F_AERATE_OXYGEN) && strength)
		set_short(w, plato);
}
