/* standstill.c - whether the gravity stood still, stalled, and when it was done
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/gravities.h"

/* STILL: two readings that differ by no more are one gravity. MARK_SG: nearly a mark of a hydrometer (0.001 SG): a
 * reading that lies so far under the one it is held against has sunk (estimate; its rounding and the sample's
 * temperature make less). */
static const double STILL_SG = 0.0015, MARK_SG = 0.0008;

/* A refractometer that is wrong about the gravity is still right about its standing still. */
static bool still_series(const struct ab_work *w, struct ab_series *out, bool misleading)
{
	if (!misleading) {
		*out = w->gravity;
		return true;
	}
	if (!ab_series_new(out, w->arena, w->batch->readings.n))
		return false;
	for (AB_EACH_SAMPLE(r, w))
		if (ab_gravity_misleads(w, r))
			ab_series_add(out, ab_hours(w, &r->at), r->gravity_sg.v);
	ab_series_settle(out);
	return true;
}

/* How far two readings of one gravity may lie apart: three times what close ones scatter by, as a floating
 * sensor's do, but no more than 4 points: then it has sunk. */
static double still_within(const struct ab_series *s)
{
	double scatter = ab_series_scatter(s, 12);
	return isfinite(scatter) ? fmin(0.004, fmax(STILL_SG, 3 * scatter)) : STILL_SG;
}

/* Walked from the end backwards: what counts is how long the LAST gravity has stood, not the longest
 * rest anywhere: since the first reading that was no mark higher, or a beer that sinks a mark from reading to reading
 * would stand. A floating sensor has its own scatter for a mark. The first day is left out, where nothing moves
 * because nothing has begun. */
static bool set_stable(struct ab_work *w, bool misleading)
{
	struct ab_series s = { .n = 0 };
	double until = ab_read_until_h(w), last = AB_NAN, since = AB_NAN,
	    end = AB_NAN;
	struct ab_basis basis = w->gravity_basis;
	size_t n = 0, astray = 0;

	/* sugar sets a beer going again that stood still before it */
	double from = fmax(24, ab_late_sugar(w, AB_INF).last_h);
	w->short_of_memory |= !still_series(w, &s, misleading);
	/* one reading astray among many close ones is noise, two together are a change */
	double within = still_within(&s);
	size_t allowed = within > STILL_SG ? 1 : 0;
	double mark = within > STILL_SG ? within : MARK_SG;
	for (size_t i = s.n; i-- > 0 && s.at[i].h > from;) {
		if (s.at[i].h > until)
			continue;
		n++;
		if (n == 1)
			end = since = s.at[i].h, last = s.at[i].v;
		else if (fabs(s.at[i].v - last) <= within) {
			since = s.at[i].v - last < mark ? s.at[i].h : since;
			astray = 0;
		} else if (++astray > allowed)
			break;
	}
	if (n < 2)
		return false;
	ab_set(w, AB_F_GRAVITY_STABLE_DAYS, &basis, (end - since) / 24, 0.3, 'A',
	    "%.3f from day %.1f to day %.1f", last, since / 24, end / 24);
	return true;
}

/* Still for three days and well short of the class: stalled, whatever nobody wrote. */
static void set_stalled(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double att = ab_value(w, AB_F_GRAVITY_ATTENUATION), still = ab_value(w, AB_F_GRAVITY_STABLE_DAYS);

	if (ab_known(w, AB_F_FERMENT_STALLED) || w->yeast == NULL || !isfinite(att))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_ATTENUATION]);
	if (att >= w->yeast->att_low - 0.03)
		ab_set(w, AB_F_FERMENT_STALLED, &basis, 0, 0, 'B',
		    "%.0f %% attenuation is usual for the yeast", 100 * att);
	else if (still >= 3 && ab_value(w, AB_F_GRAVITY_OVER_EXPECTED) >= 5)
		ab_set(w, AB_F_FERMENT_STALLED, &basis, 1, 0, 'B',
		    "%.0f %% attenuation, and still for %.1f d", 100 * att, still);
}

/* When the final gravity was reached: between two readings, and where they lie far apart as near as can be to
 * the class's usual day. */
static double final_reached(const struct ab_work *w, double sg)
{
	const struct ab_series *s = &w->gravity;
	double usual = w->yeast != NULL ? 24 * w->yeast->primary_days : AB_NAN;
	size_t i = 0;

	while (i < s->n && s->at[i].v > sg)
		i++;
	if (i == s->n)
		return usual;
	double from = i > 0 ? s->at[i - 1].h : 0, to = s->at[i].h;
	return isfinite(usual) ? fmin(fmax(usual, from), to) : to;
}

/* Without a known end (-1 is never reached) final_reached falls back on the class's usual day. */
static void find_phases(struct ab_work *w, double last_sg)
{
	double og = ab_value(w, AB_F_GRAVITY_OG);
	bool done = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= 2 || last_sg <= w->expected_fg + 0.003;

	if (isfinite(w->expected_fg))
		w->half_h = ab_series_first_below(&w->gravity, (og + w->expected_fg) / 2);
	w->final_h = final_reached(w, isfinite(last_sg) && done ? last_sg + 0.001 : -1);
}

/* A raw refractometer is the last witness, where no trusted reading tells. "Stalled" needs the rest, the phases
 * both. */
void ab_gravity_stands(struct ab_work *w, double last_sg)
{
	if (!set_stable(w, false))
		set_stable(w, true);
	set_stalled(w);
	find_phases(w, last_sg);
}
