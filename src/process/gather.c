/* gather.c - what every phenomenon starts from: the yeast's norm, the volume, the times, and the measured
 * values over time
 *
 * Beer and room temperatures come from readings and sensor logs alike; an instrument known to be off is put
 * right. A gravity is taken up only when it can be trusted (attenuation.c says which can).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <string.h>
#include "process/gravities.h"
#include "process/words.h"

/* NULL for a class the rules do not know: every fact against a class is then unknown, not wrong. */
static const struct ab_yeast_norm *norm_of(const struct ab_norms *norms, const char *klass)
{
	for (size_t i = 0; klass != NULL && i < norms->n_yeasts; i++)
		if (strcmp(norms->yeasts[i].id, klass) == 0)
			return &norms->yeasts[i];
	return NULL;
}

/* Bottles of a yeast that nobody named must not be thought done wherever they stopped. A known class or a planned end
 * tells better. */
static const struct ab_yeast_norm *stand_in_of(const struct ab_work *w)
{
	for (size_t i = 0; w->yeast == NULL && i < w->norms->n_yeasts; i++)
		if (w->norms->yeasts[i].stands_in)
			return &w->norms->yeasts[i];
	return NULL;
}

/* The first yeast of a known class: later ones are mostly for bottling or a rescue. */
static void find_yeast(struct ab_work *w, const struct ab_batch *batch, bool usual)
{
	for (AB_EACH(struct ab_yeast, y, batch->yeasts)) {
		w->yeast = norm_of(w->norms, y->klass);
		if (w->yeast == NULL)
			continue;
		ab_rest_on(&w->yeast_basis, &y->mark, usual);
		return;
	}
}

/* What was packaged is what was primed and pitched for; the recipe's volume comes before the brewery's
 * habit. Each row falls back on the usual batch inside ab_look. A volume of 0 counts as untold:
 * everything later divides by it. */
static void find_volume(struct ab_work *w)
{
	static const struct ab_plain rows[] = {
		AB_ONE(0, AB_FIELD_NUM, recipe, volume_l, 1), AB_ONE(0, AB_FIELD_NUM, package, volume_l, 1),
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows && !w->volume.known; i++) {
		w->volume = ab_look(w, &rows[i]);
		w->volume.known = w->volume.known && w->volume.v > 0;
	}
	if (w->volume.known || w->profile == NULL || !w->profile->batch_l.known || w->profile->batch_l.v <= 0)
		return;
	w->volume = ab_told_num(&w->profile->mark, &w->profile->batch_l, 1, true);
	w->volume.resolution = 0;
}

bool ab_is_of_finished(const struct ab_tasting *t)
{
	return t->from != AB_PLACE_FERMENTER && t->from != AB_PLACE_PACKAGING;
}

/* The last tasting, and the last that found anything: storage and age are told up to the glass that had what is asked
 * about, though a later one was clean. When that glass has no day, the day of a clean one is not its. */
static void find_times(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	bool found = false, undated = false;

	w->packaged_h = b->package != NULL ? ab_hours(w, &b->package->at) : AB_NAN;
	w->tasted_after_h = w->found_h = w->found_after_h = AB_NAN;
	for (AB_EACH(struct ab_tasting, t, b->tastings)) {
		w->tasted_after_h = fmax(w->tasted_after_h, ab_packaged_hours(w, &t->at));
		undated |= !t->at.known && !t->at.packaged && ab_is_of_finished(t);
		found |= t->found.n > 0;
	}
	w->tasted_after_h = undated ? AB_NAN : w->tasted_after_h;
	for (AB_EACH(struct ab_tasting, t, b->tastings)) {
		if (t->found.n == 0 && found)
			continue;
		w->found_h = fmax(w->found_h, ab_hours(w, &t->at));
		w->found_after_h = fmax(w->found_after_h, ab_packaged_hours(w, &t->at));
	}
}

/* Only the batch's own instruments: an error told of the usual gear may have been mended since. */
double ab_thermometer_off(const struct ab_work *w, struct ab_basis *basis, double *resolution)
{
	static const unsigned char turned[] = { [AB_BOUND_NONE] = AB_BOUND_NONE, [AB_BOUND_UNDER] = AB_BOUND_OVER,
		[AB_BOUND_OVER] = AB_BOUND_UNDER };

	*resolution = 0;
	for (AB_EACH(struct ab_instrument, i, w->batch->instruments))
		if (i->item == AB_INSTR_THERMOMETER && i->off_c.known) {
			struct ab_num off = i->off_c;
			off.bound = turned[off.bound];
			ab_rest_on_num(basis, &i->mark, &off, false);
			*resolution = off.resolution;
			return off.v;
		}
	return 0;
}

void ab_put_right(const struct ab_work *w, struct ab_told *temp)
{
	double resolution;

	temp->v -= ab_thermometer_off(w, &temp->basis, &resolution);
	temp->resolution = hypot(temp->resolution, resolution);
}

/* Wider than any thermometer is read: a range was told ("16-27 C"). */
static const double RANGE_K = 2;

static void add_temperature(struct ab_series *s, struct ab_basis *basis, double *width, double h,
    const struct ab_num *t, double off, const struct ab_mark *mark)
{
	if (!t->known || !isfinite(h))
		return;
	if (t->resolution > RANGE_K)
		*width = fmax(*width, t->resolution);
	ab_series_add(s, h, t->v - off);
	ab_rest_on_num(basis, mark, t, false);
}

/* A log's samples are not put right by the hand thermometer's error: another instrument took them. */
static void add_logs(struct ab_work *w)
{
	for (AB_EACH(struct ab_log, log, w->batch->logs)) {
		if (log->sensor == NULL)
			continue;
		const struct ab_sensor *sensor = log->sensor;
		size_t before = w->beer.n, room = w->room.n;
		for (size_t i = 0; i < sensor->n; i++) {
			struct ab_when at = { .known = true, .s = sensor->samples[i].s };
			double h = ab_hours(w, &at);
			ab_series_add(&w->beer, h, sensor->samples[i].wort_c);
			ab_series_add(&w->room, h, sensor->samples[i].room_c);
		}
		if (w->beer.n > before)
			ab_rest_on(&w->beer_basis, &log->mark, false);
		if (w->room.n > room)
			ab_rest_on(&w->room_basis, &log->mark, false);
	}
}

/* The one walk over all readings, in which each is looked at for all that anybody asks. */
static void gather_readings(struct ab_work *w, double off)
{
	for (AB_EACH(struct ab_reading, r, w->batch->readings)) {
		double h = ab_hours(w, &r->at);
		add_temperature(&w->beer, &w->beer_basis, &w->beer_width, h, &r->wort_c, off, &r->mark);
		add_temperature(&w->room, &w->room_basis, &w->room_width, h, &r->room_c, off, &r->mark);
		if (r->gravity_sg.known || r->instrument != 0)
			w->samples[w->n_samples++] = r;
		if (w->at_pitching == NULL && r->wort_c.known && fabs(h) <= 1)
			w->at_pitching = r;
	}
}

/* All readings by hand share its error. */
static void put_right_by_wide(const struct ab_series *s, struct ab_basis *basis, double *width, double wide,
    const struct ab_basis *by)
{
	if (s->n == 0)
		return;
	*width = hypot(*width, wide);
	ab_rest_on_basis(basis, by);
}

/* The cap is exact but for the pitching temperature (+ 1), so ab_series_add never drops a reading. */
static void gather_temperatures(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	struct ab_basis corrected = ab_basis_new();
	double wide, off = ab_thermometer_off(w, &corrected, &wide);
	size_t n = b->readings.n;

	for (AB_EACH(struct ab_log, log, b->logs))
		n += log->sensor != NULL ? log->sensor->n : 0;
	w->samples = ab_arena_raw(w->arena, b->readings.n, sizeof *w->samples);
	if (w->samples == NULL || !ab_series_new(&w->beer, w->arena, n + 1) || !ab_series_new(&w->room, w->arena, n)) {
		w->short_of_memory = true;
		return;
	}
	gather_readings(w, off);
	if (wide > RANGE_K) {
		put_right_by_wide(&w->beer, &w->beer_basis, &w->beer_width, wide, &corrected);
		put_right_by_wide(&w->room, &w->room_basis, &w->room_width, wide, &corrected);
	}
	add_logs(w);
	/* A pitching temperature alone says nothing of the days after. */
	if (w->beer.n > 0 && b->pitch != NULL)
		add_temperature(&w->beer, &w->beer_basis, &w->beer_width, 0, &b->pitch->temp_c, off, &b->pitch->mark);
	ab_series_settle(&w->beer);
	ab_series_settle(&w->room);
}

/* First of all phenomena, so nothing here may read a fact. The usual yeast stands in only where none is
 * told: a told one of an unknown class is another yeast. */
void ab_gather(struct ab_work *w)
{
	w->beer_width = w->room_width = 0;
	w->yeast_basis = w->beer_basis = w->room_basis = w->gravity_basis = ab_basis_new();
	w->expected_fg = w->safe_fg = w->half_h = w->final_h = w->last_gravity_h = AB_NAN;
	find_yeast(w, w->batch, false);
	if (w->yeast == NULL && w->batch->yeasts.n == 0 && w->usual != NULL)
		find_yeast(w, w->usual, true);
	w->stand_in = stand_in_of(w);
	find_volume(w);
	find_times(w);
	gather_temperatures(w);
	ab_gravities_gather(w);
}
