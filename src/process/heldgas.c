/* heldgas.c - pressure over fermenting beer, and the gas that beer holds before any sugar
 *
 * Henry's law (co2.h, fit E) at the warmest since it fermented, under the air's own pressure where it was brewed
 * (standard atmosphere; saturation.h) and the gauge pressure a valve held: the equilibrium of a keg, so at most that
 * much; a valve that was set when little was left to ferment never filled the beer, and half of what it adds is doubt
 * then. Trust A for the law to 20 C. The weather's +-1 kPa is 0.01 volumes at 20 C, far within what the warmth leaves
 * open.
 *
 * While it ferments the gas follows the valve within hours, for bubbles carry it out; afterwards still beer loses it
 * over days, as it takes it up (priming.c). So a pressure that ended while it fermented for sure is forgotten: before a
 * reading that was still to sink, or before the earliest that such a yeast is done (AB_FAST_SHARE). One that may have
 * been let off later counts whole, the safe side, and half of what it adds is doubt (estimate). An element that tells
 * no pressure ends none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/co2.h"
#include "process/gravities.h"
#include "process/words.h"
#include "process/working.h"

/* GAUGE_U_KPA: the small gauges on such valves are read to a tenth of a bar (estimate). */
static const double GAUGE_U_KPA = 10;

/* SINKS_SG: a mark of a hydrometer. */
static const double SINKS_SG = 0.001, DAY_H = 24;

/* Before it, the beer fermented for sure, h. */
static double earliest_end_h(const struct ab_work *w)
{
	const struct ab_series *s = &w->gravity;
	double last = ab_value(w, AB_F_GRAVITY_LAST);
	double fast = w->yeast != NULL ? DAY_H * AB_FAST_SHARE * w->yeast->primary_days : 0;
	size_t n = 0;

	while (n < s->n && s->at[n].v > last + SINKS_SG)
		n++;
	double from = n > 0 ? s->at[n - 1].h : 0, to = n < s->n && isfinite(last) ? s->at[n].h : AB_INF;
	return fast < to ? fmax(fast, from) : from;
}

double ab_spund_ended_s(const struct ab_batch *b, const struct ab_spund *s)
{
	const struct ab_spund *all = b->spunds.items, *next = s + 1 < all + b->spunds.n ? s + 1 : NULL;
	double end = ab_batch_since_pitch(b, &s->until), begun = ab_batch_since_pitch(b, &s->at);

	/* none ends before it begins: a slip of the pen acquits nothing */
	if (end < begun)
		end = AB_NAN;
	for (AB_EACH(struct ab_spund, other, b->spunds)) {
		double at = ab_batch_since_pitch(b, &other->at);
		if (other->pressure_kpa.known && at > begun && !(at >= end))
			end = at;
	}
	if (isnan(end) && next != NULL && next->pressure_kpa.known && isfinite(ab_batch_since_pitch(b, &next->at)))
		end = ab_batch_since_pitch(b, &next->at);
	return isnan(end) ? AB_INF : end;
}

static double ended_h(const struct ab_work *w, const struct ab_spund *s)
{
	return ab_spund_ended_s(w->batch, s) / 3600;
}

static bool has_valve(const struct ab_work *w)
{
	const struct ab_package *p = w->batch->package;
	return p != NULL && (p->into == AB_PACK_KEG || p->into == AB_PACK_CASK);
}

/* Told in the hours after the bottling, or later: bottles and cans have no valve, so it is told late. */
static bool told_late(const struct ab_work *w, const struct ab_spund *s)
{
	return ab_packaged_hours(w, &s->at) > 0 && !has_valve(w);
}

/* An unknown end of it, or of the fermentation, acquits none. One set as a keg was filled is the keg's (kegs.c). */
static bool counts(const struct ab_work *w, const struct ab_spund *s)
{
	double late = ab_packaged_hours(w, &s->at);
	return s->pressure_kpa.known &&
	    (has_valve(w) ? !(late >= 0) : !(late > 0) || told_late(w, s)) &&
	    !(ended_h(w, s) < earliest_end_h(w));
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
	double kpa = ab_num_at_most(&most->pressure_kpa), end = ended_h(w, most);
	bool let_off = isfinite(end) && !(end >= w->packaged_h), late = ab_hours(w, &most->at) > w->final_h;
	double u = kpa > 0 ? hypot(GAUGE_U_KPA, let_off || late ? kpa / 2 : 0) : 0;
	ab_rest_on_num(&basis, &most->mark, &most->pressure_kpa, false);
	ab_set(w, AB_F_FERMENT_PRESSURE, &basis, kpa,
	    hypot(u, ab_num_u(&most->mark, &most->pressure_kpa, kpa / 5)), let_off || late ? 'C' : 'B',
	    told_late(w, most) ? "at most: %.0f kPa, told on day %.1f, after the bottling"
	    : late ? "at most: %.0f kPa as told, from day %.1f, when little or nothing was left to ferment"
	    : let_off ? "%.0f kPa as told; let off on day %.1f, and what gas stayed in the beer is not known"
	    : "%.0f kPa as told",
	    kpa, (late ? ab_hours(w, &most->at) : end) / 24);
}

double ab_held_vol(const struct ab_work *w, double warmest_c, double *u)
{
	bool told = ab_known(w, AB_F_FERMENT_PRESSURE);
	double kpa = told ? ab_value(w, AB_F_FERMENT_PRESSURE) : 0, held = ab_co2_held(kpa, warmest_c, ab_air_atm(w));

	*u = told ? ab_co2_held(kpa + w->facts[AB_F_FERMENT_PRESSURE].u, warmest_c, ab_air_atm(w)) - held : 0;
	return held;
}
