/* growth.c - the head start of bacteria in the wort, from the cooled wort to the first signs of the yeast
 *
 * Grade C (growth.h): a rule of thumb, u a third. They stop for good below pH 4.4 and above 2 % alcohol, so
 * the first signs end the window. How many there were at the start is what cleaning decides; a doubling is a
 * doubling of those.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/growth.h>
#include "process/words.h"
#include "process/working.h"

static const double BY_K = 0.03784, LEAST_C = 3, MOST_C = 45, LN2 = 0.6931471805599453;
static const double PU_BASE = 1.393, PU_AT_C = 60;
/* Cooling by itself from the boil: chill.c's vessel left overnight, and its hour to 80 C in the open air (60
 * min/ln(80/60)). */
static const double CLOSED_TAU_H = 6, AIR_TAU_H = 3.5, BOILING_C = 100, USUAL_C = 20;

/* Ratkowsky's square root law (growth.h); nothing below 3 C or from 45 C on, where it would not hold. */
double ab_growth_rate(double t_c)
{
	double root = BY_K * (t_c - LEAST_C);
	return t_c > LEAST_C && t_c < MOST_C ? root * root : 0;
}

double ab_growth_doubling_h(double t_c)
{
	return LN2 / ab_growth_rate(t_c);
}

double ab_growth_doublings(double t_c, double hours)
{
	return hours * ab_growth_rate(t_c) / LN2;
}

/* Nothing grows until it is below 45 C: from there on, the middle of each step. A step across the limit
 * would smear growth into the hot hours; the hour it passes 45 C is exact by Newton's law. */
double ab_growth_cooling(double from_c, double around_c, double tau_h, double hours)
{
	enum { STEPS = 50 };
	double hot = from_c > MOST_C && around_c < MOST_C
	    ? tau_h * log((from_c - around_c) / (MOST_C - around_c)) : 0;
	double step = (hours - hot) / STEPS, sum = 0;

	if (!(step > 0))
		return 0;
	for (int i = 0; i < STEPS; i++)
		sum += ab_growth_rate(around_c + (from_c - around_c) *
		    exp(-(hot + (i + 0.5) * step) / tau_h));
	return sum * step / LN2;
}

double ab_pasteur_units(double t_c, double minutes)
{
	return minutes * pow(PU_BASE, t_c - PU_AT_C);
}

/* How warm the wort waited and began: as it was pitched, as it left the chiller, as it fermented. In
 * the order of how near each is to the hours that count; the early mean last, for it has the yeast's
 * heat in it. */
static double wort_c(const struct ab_work *w, struct ab_basis *basis)
{
	struct ab_told pitch = AB_LOOK_ONE(w, AB_FIELD_NUM, pitch, temp_c, 1);
	struct ab_told end = AB_LOOK_ONE(w, AB_FIELD_NUM, chill, end_c, 1);
	const struct ab_told *told = pitch.known ? &pitch : end.known ? &end : NULL;

	if (told != NULL) {
		ab_rest_on_basis(basis, &told->basis);
		return told->v;
	}
	ab_rest_on_fact(basis, &w->facts[AB_F_FERMENT_EARLY_MEAN]);
	return ab_known(w, AB_F_FERMENT_EARLY_MEAN) ? ab_value(w, AB_F_FERMENT_EARLY_MEAN) : USUAL_C;
}

/* A chiller's first half hour is hot; left to itself, wort takes hours to come down to where anything
 * grows. */
static double while_waiting(const struct ab_work *w, double wort)
{
	double hours = ab_value(w, AB_F_CHILL_TO_PITCH);
	int method = ab_word(w, AB_F_CHILL_METHOD);

	if (method == AB_CHILL_OVERNIGHT || method == AB_CHILL_AIR)
		return ab_growth_cooling(BOILING_C, fmin(wort, USUAL_C),
		    method == AB_CHILL_AIR ? AIR_TAU_H : CLOSED_TAU_H, hours);
	return ab_growth_doublings(wort, fmax(0, hours - 0.5));
}

void ab_facts_growth(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	bool waited = ab_known(w, AB_F_CHILL_TO_PITCH), lagged = ab_known(w, AB_F_LAG_TIME);

	/* The lag is the longer part: without it nothing can be said. */
	if (!lagged)
		return;
	double wort = wort_c(w, &basis), before = waited ? while_waiting(w, wort) : 0,
	    lag = ab_growth_doublings(wort, ab_value(w, AB_F_LAG_TIME));
	ab_rest_on_fact(&basis, &w->facts[AB_F_LAG_TIME]);
	ab_rest_on_fact(&basis, &w->facts[AB_F_CHILL_TO_PITCH]);
	ab_set(w, AB_F_PITCH_DOUBLINGS, &basis, before + lag, (before + lag) / 3, 'C',
	    "%.1f before pitching and %.1f in %.0f h of lag at %.1f C, a doubling taking %.1f h there",
	    before, lag, ab_value(w, AB_F_LAG_TIME), wort, LN2 / fmax(ab_growth_rate(wort), 1e-6));
}
