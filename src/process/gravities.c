/* gravities.c - which gravities can be trusted, as true SG 20/20 over time
 *
 * Source: the hydrometer's buoyancy (extract.c, trust B). No formula for a refractometer in fermenting beer
 * is used: every one found is a hobby fit; such a reading is only good for telling whether the gravity stands
 * still. Uncertainties (SG): hydrometer 0.0005 besides its rounding, floating sensor 0.002 (estimate), a
 * guess at least 0.003.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/gravities.h"
#include "process/extract.h"
#include "process/words.h"

/* BY_K_SG: wort expands more than the water the correction is for, by about 0.3 points at 30 C; in proportion beyond,
 * where nobody should read (estimate). */
static const double CALIBRATED_C = 20, BY_K_SG = 3e-5;

bool ab_gravity_misleads(const struct ab_work *w, const struct ab_reading *r)
{
	/* An untimed reading is not the one before pitching: that one has its own place in everybody's
	 * notes. */
	return r->gravity_sg.known && r->instrument == AB_INSTR_REFRACTOMETER && r->corrected != AB_YES &&
	    !(ab_hours(w, &r->at) <= AB_REFRACTOMETER_H);
}

double ab_read_until_h(const struct ab_work *w)
{
	bool day_only = w->batch->package != NULL && w->batch->package->at.date_only;

	return isfinite(w->packaged_h) ? w->packaged_h + (day_only ? 12 : 1) : AB_INF;
}

/* The first one with a known error: who owns two and checks one uses that one. */
static double hydrometer_off(const struct ab_batch *b)
{
	for (AB_EACH(struct ab_instrument, i, b->instruments))
		if (i->item == AB_INSTR_HYDROMETER && i->off_sg.known)
			return i->off_sg.v;
	return 0;
}

/* No instrument told means a hydrometer, by far the most common. The density formula is stretched to 60
 * C; outside that (a slip of the unit, a boiling sample) the reading stands as it is. */
double ab_gravity_true(const struct ab_work *w, const struct ab_reading *r)
{
	double sg = r->gravity_sg.v;
	bool hydrometer = r->instrument == AB_INSTR_HYDROMETER || r->instrument == 0;

	if (!hydrometer || r->corrected == AB_YES)
		return sg;
	sg -= hydrometer_off(w->batch);
	if (r->sample_c.known && r->sample_c.v >= 0 && r->sample_c.v <= 60)
		sg = ab_hydrometer_correct(sg, r->sample_c.v, CALIBRATED_C);
	return sg;
}

double ab_gravity_u(const struct ab_reading *r)
{
	double own = r->instrument == AB_INSTR_FLOAT ? 0.002 : 0.0005;
	if (r->sample_c.known && r->corrected != AB_YES && r->instrument != AB_INSTR_FLOAT)
		own = hypot(own, BY_K_SG * fmin(40, fabs(r->sample_c.v - CALIBRATED_C)));
	return hypot(own, ab_num_u(&r->mark, &r->gravity_sg, 0.003));
}

void ab_rest_on_gravity(struct ab_basis *basis, const struct ab_reading *r)
{
	ab_rest_on_num(basis, &r->mark, &r->gravity_sg, false);
	if (r->corrected != AB_YES)
		ab_rest_on_num(basis, &r->mark, &r->sample_c, false);
}

/* For the series' room, which cannot grow. */
static size_t count_logged(const struct ab_batch *b)
{
	size_t n = 0;
	for (AB_EACH(struct ab_log, log, b->logs))
		n += log->sensor != NULL ? log->sensor->n : 0;
	return n;
}

static void add_logged(struct ab_work *w)
{
	for (AB_EACH(struct ab_log, log, w->batch->logs)) {
		size_t before = w->gravity.n;
		for (size_t i = 0; log->sensor != NULL && i < log->sensor->n; i++) {
			struct ab_when at = { .known = true, .s = log->sensor->samples[i].s };
			ab_series_add(&w->gravity, ab_hours(w, &at), log->sensor->samples[i].gravity_sg);
		}
		if (w->gravity.n > before)
			ab_rest_on(&w->gravity_basis, &log->mark, false);
	}
}

/* An unmixed sample is no value of the whole beer, so it is left out here; attenuation.c may still use
 * it as a wide original gravity. */
void ab_gravities_gather(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;

	if (!ab_series_new(&w->gravity, w->arena, b->readings.n + 1 + count_logged(b))) {
		w->short_of_memory = true;
		return;
	}
	for (AB_EACH_SAMPLE(r, w)) {
		if (!r->gravity_sg.known || ab_gravity_misleads(w, r) || r->mixed == AB_NO)
			continue;
		double h = ab_hours(w, &r->at);
		if (!isfinite(h))
			continue;
		ab_series_add(&w->gravity, h, ab_gravity_true(w, r));
		ab_rest_on_gravity(&w->gravity_basis, r);
	}
	if (b->package != NULL && b->package->gravity_sg.known && isfinite(w->packaged_h)) {
		ab_series_add(&w->gravity, w->packaged_h, b->package->gravity_sg.v);
		ab_rest_on_num(&w->gravity_basis, &b->package->mark, &b->package->gravity_sg, false);
	}
	add_logged(w);
	ab_series_settle(&w->gravity);
}
