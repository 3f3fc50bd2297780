/* heldgas.c - pressure over fermenting beer, and the gas that beer holds before any sugar
 *
 * Henry's law (co2.h, fit E) at the warmest since it fermented, under the air's own pressure where it was brewed (standard atmosphere;
 * saturation.h) and the gauge pressure a valve held: the equilibrium of a keg, so at most that much; a valve that was set when little
 * was left to ferment never filled the beer, and half of what it adds is doubt then. Trust A for the law to 20 C. The weather's +-1 kPa is 0.01 volumes at 20 C, far within what
 * the warmth leaves open.
 *
 * While it ferments the gas follows the valve within hours, for bubbles carry it out; afterwards still beer loses it over days, as it takes
 * it up (priming.c). So a pressure that ended before the fermentation did is forgotten; one that was let off later counts whole,
 * the safe side, and half of what it adds is doubt (estimate).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/co2.h"
#include "process/working.h"

/* GAUGE_U_KPA: the small gauges on such valves are read to a tenth of a bar (estimate). */
static const double GAUGE_U_KPA = 10;

/* When a pressure ended: as told, or when the next was set; infinite while it stands. Those without a time stand in their order. */
static double ended_h(const struct ab_work *w, const struct ab_spund *s)
{
	const struct ab_spund *all = w->batch->spunds.items, *next = s + 1 < all + w->batch->spunds.n ? s + 1 : NULL;
	double end = ab_hours(w, &s->until), begun = ab_hours(w, &s->at);

	for (AB_EACH(struct ab_spund, other, w->batch->spunds)) {
		double h = ab_hours(w, &other->at);
		if (h > begun && !(h >= end))
			end = h;
	}
	if (isnan(end) && next != NULL && isfinite(ab_hours(w, &next->at)))
		end = ab_hours(w, &next->at);
	return isnan(end) ? AB_INF : end;
}

/* An unknown end of fermentation acquits none. */
static bool counts(const struct ab_work *w, const struct ab_spund *s)
{
	return s->pressure_kpa.known && !(ab_hours(w, &s->at) > w->packaged_h) && !(ended_h(w, s) < w->final_h);
}

void ab_facts_heldgas(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	const struct ab_spund *most = NULL;

	for (AB_EACH(struct ab_spund, s, w->batch->spunds))
		if (counts(w, s) && (most == NULL || s->pressure_kpa.v > most->pressure_kpa.v))
			most = s;
	if (most == NULL)
		return;
	double kpa = most->pressure_kpa.v, end = ended_h(w, most);
	bool let_off = isfinite(end) && !(end >= w->packaged_h), late = ab_hours(w, &most->at) > w->final_h;
	double u = kpa > 0 ? hypot(GAUGE_U_KPA, let_off || late ? kpa / 2 : 0) : 0;
	ab_rest_on(&basis, &most->mark, false);
	ab_set(w, AB_F_FERMENT_PRESSURE, &basis, kpa, hypot(u, ab_reading_u(most->pressure_kpa.resolution, basis.guess, kpa / 5)),
	    let_off || late ? 'C' : 'B', late ? "at most: %.0f kPa as told, from day %.1f, when little or nothing was left to ferment" : let_off ? "%.0f kPa as told; let off on day %.1f, and what gas stayed in the beer is not known" : "%.0f kPa as told",
	    kpa, (late ? ab_hours(w, &most->at) : end) / 24);
}

double ab_held_vol(const struct ab_work *w, double warmest_c, double *u)
{
	bool told = ab_known(w, AB_F_FERMENT_PRESSURE);
	double kpa = told ? ab_value(w, AB_F_FERMENT_PRESSURE) : 0, held = ab_co2_held(kpa, warmest_c, ab_air_atm(w));

	*u = told ? ab_co2_held(kpa + w->facts[AB_F_FERMENT_PRESSURE].u, warmest_c, ab_air_atm(w)) - held : 0;
	return held;
}
