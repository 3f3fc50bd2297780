/* temperature.c - how warm the beer fermented, against its yeast's range
 *
 * From measured values over time (C; time-weighted, straight between readings), else from a controlled
 * target, else reconstructed from the room (reconstruct.c). The early mean runs to 72 h or to half of the
 * attenuation, whichever comes first, because esters and fusels are made while the yeast grows (trust B).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include "process/reconstruct.h"
#include "process/words.h"

static const double EARLY_H = 72, SHORTEST_EARLY_H = 24, DAY_H = 24;

/* What a room read at other times may have been off by in the first days, K: one moment is not a day and a night (1
 * K); and from the first days to the first reading it drifts as the weather does, a kelvin in a day, two in four,
 * three at most (estimates). */
static double room_unseen(const struct ab_series *room)
{
	static const double ONE_LOOK_K = 1, A_DAY_K = 1, DRIFT_MOST_K = 3;
	double later = fmax(0, room->at[0].h - EARLY_H) / DAY_H;

	return hypot(room->n == 1 ? ONE_LOOK_K : 0, fmin(DRIFT_MOST_K, A_DAY_K * sqrt(later)));
}

/* The mean of the room: read beside the beer, else told of vessel or brewery. 0.5: a room thermometer's
 * step. One moment has no span to average over. */
static struct ab_told find_room(const struct ab_work *w)
{
	struct ab_told room = { .known = false };

	if (w->room.n > 0) {
		double first = w->room.at[0].h, last = w->room.at[w->room.n - 1].h;
		room = (struct ab_told){ true, last > first ? ab_series_mean(&w->room, first, last) : w->room.at[0].v,
		    fmax(hypot(0.5, sqrt(12) * room_unseen(&w->room)), w->room_width), w->room_basis };
		return room;
	}
	room = AB_LOOK_MANY(w, AB_FIELD_NUM, vessels, ab_vessel, room_c, 1, AB_TAKE_FIRST);
	if (!room.known && w->profile != NULL && w->profile->room_c.known) {
		room = ab_told_num(&w->profile->mark, &w->profile->room_c, 1, true);
	}
	return room;
}

/* Not under a day: a mean over a few hours would be the pitching's. */
static double early_end(const struct ab_work *w)
{
	return w->half_h < EARLY_H ? fmax(w->half_h, SHORTEST_EARLY_H) : EARLY_H;
}

/* A beer may be packaged before it was done; nothing after counts as fermentation. */
static double fermentation_end(const struct ab_work *w)
{
	double end = isfinite(w->final_h) ? w->final_h : 7 * DAY_H;
	return w->packaged_h < end ? w->packaged_h : end;
}

/* A controller holds its target to 1 K (estimate), so early, mean and peak are one. */
static void from_target(struct ab_level *level, const struct ab_told *target)
{
	*level = (struct ab_level){ true, false, target->v, 1, target->v, 1, target->v, 1, target->v, 'B',
	    "the target held by the control", target->basis };
}

/* "At 20 C", and not what held it nor how warm the room was: a figure that nobody read off the beer. 2 K: the beer's
 * own heat and the day's swing (estimate). */
static void from_aim(struct ab_level *level, const struct ab_told *target)
{
	*level = (struct ab_level){ true, false, target->v, 2, target->v, 2, target->v, 2, target->v, 'C',
	    "the temperature aimed at; what held it is not told", target->basis };
}

/* Controls that do not hold a temperature are ways to lose heat: reconstruct.c knows what each is
 * worth. */
static void find_level(struct ab_work *w, const struct ab_told *room)
{
	struct ab_told target = AB_LOOK_MANY(w, AB_FIELD_NUM, vessels, ab_vessel, target_c, 1, AB_TAKE_FIRST);
	int control = ab_word(w, AB_F_FERMENT_CONTROL);

	if (target.known && (control >= AB_CONTROL_FRIDGE || control == AB_CONTROL_HEAT_BELT))
		from_target(&w->level, &target);
	/* A heat belt without a target, or a fridge without one, tells nothing of the room's part in it. */
	else if (room->known && control < AB_CONTROL_HEAT_BELT)
		ab_reconstruct(w, room, control, early_end(w), fermentation_end(w));
	else if (target.known && !room->known && !ab_known(w, AB_F_FERMENT_CONTROL))
		from_aim(&w->level, &target);
	if (w->level.known && control != 0)
		ab_rest_on_fact(&w->level.basis, &w->facts[AB_F_FERMENT_CONTROL]);
	if (w->level.known && w->level.basis.origin == AB_ORIGIN_MEASURED)
		w->level.basis.origin = AB_ORIGIN_DERIVED;
}

/* A home thermometer is good to half a kelvin; few readings leave days unseen. The figures are
 * estimates; a guess adds to them, as its error is of another kind. */
static double mean_u(const struct ab_work *w, size_t n, bool guess)
{
	double u = hypot(n >= 12 ? 0.5 : n >= 3 ? 0.8 : n == 2 ? 1.1 : 1.6, ab_reading_u(w->beer_width, false, 0));
	return guess ? hypot(u, 1.5) : u;
}

/* Half a day more for counting, as the reading that ends the window is often taken a little late. */
static void set_early(struct ab_work *w)
{
	double to = early_end(w);
	/* Pitching itself (hour 0) does not count as having looked after the beer. */
	size_t n = ab_series_count(&w->beer, 1, to + DAY_H / 2);

	if (n > 0)
		ab_set(w, AB_F_FERMENT_EARLY_MEAN, &w->beer_basis, ab_series_mean(&w->beer, 0, to), mean_u(w, n,
		    w->beer_basis.guess), 'B',
		    "mean of %d reading%s to %.0f h, weighted by time", (int)n, AB_S(n), to);
	else if (ab_level(w)->known)
		ab_set(w, AB_F_FERMENT_EARLY_MEAN, &w->level.basis, w->level.early, w->level.early_u,
		    w->level.grade, "%s", w->level.how);
}

/* "As if it had been that much over": the first days of the beer, measured or reconstructed, moved as a whole by
 * what that differs from how it was. Peak, hours out of range and, where the beer was
 * measured, the mean of the fermentation follow; what came after the first days, and how it swung, does not. */
static void move_early(struct ab_work *w)
{
	double to = early_end(w), now, by;

	if (!ab_is_as_if(w, AB_F_FERMENT_EARLY_OVER))
		return;
	now = ab_series_count(&w->beer, 1, to + DAY_H / 2) > 0 ? ab_series_mean(&w->beer, 0, to)
	    : ab_level(w)->early;
	by = ab_value(w, AB_F_FERMENT_EARLY_OVER) + w->yeast->high_c - now;
	for (size_t i = 0; i < w->beer.n; i++)
		w->beer.at[i].v += w->beer.at[i].h <= to ? by : 0;
	w->level.early += by;
	w->level.peak += by;
}

/* mean over top, told with what the mean is. */
static void set_early_over(struct ab_work *w)
{
	const struct ab_fact *mean = &w->facts[AB_F_FERMENT_EARLY_MEAN];
	struct ab_basis basis = ab_basis_new();

	if (!AB_FACT_KNOWN(mean))
		return;
	ab_rest_on_fact(&basis, mean);
	ab_rest_on_basis(&basis, &w->yeast_basis);
	ab_set(w, AB_F_FERMENT_EARLY_OVER, &basis, mean->value - w->yeast->high_c, mean->u, mean->grade,
	    "(%.1f C, %s) - (%.1f C, top of the range of %s)", mean->value,
	    mean->working != NULL ? mean->working : "early mean",
	    w->yeast->high_c, w->yeast->title);
}

/* What a figure over the yeast's range rests on: the measured beer, or what stands in for it. A beer measured only
 * before or after the days in question does not count as measured. */
static struct ab_basis over_range(struct ab_work *w, bool measured)
{
	struct ab_basis basis = measured ? w->beer_basis : ab_level(w)->basis;

	ab_rest_on_basis(&basis, &w->yeast_basis);
	return basis;
}

/* Readings only count as a peak of what was looked at; without any, the reconstruction's. */
static void set_peak(struct ab_work *w)
{
	double top = w->yeast->high_c, to = fermentation_end(w);
	size_t n = ab_series_count(&w->beer, 1, to);
	struct ab_basis basis = over_range(w, n > 0);

	if (n > 0) {
		double peak = ab_series_max(&w->beer, 0, to);
		ab_set(w, AB_F_FERMENT_PEAK_OVER, &basis, peak - top, mean_u(w, n, basis.guess), 'B',
		    "(%.1f C, highest of %d reading%s to %.0f h) - (%.1f C, top of the range)", peak,
		    (int)n, AB_S(n), to, top);
	} else if (ab_level(w)->known) {
		ab_set(w, AB_F_FERMENT_PEAK_OVER, &basis, w->level.peak - top, w->level.peak_u, w->level.grade,
		    "(%.1f C, %s) - (%.1f C, top of the range)", w->level.peak, w->level.how, top);
	}
}

/* By the mean, not the lowest value: a cold night stalls no yeast, a cold week does. */
static void set_below(struct ab_work *w)
{
	double low = w->yeast->low_c, to = fermentation_end(w);
	size_t n = ab_series_count(&w->beer, 1, to);
	struct ab_basis basis = over_range(w, n > 0);

	if (n > 0) {
		double mean = ab_series_mean(&w->beer, 0, to);
		ab_set(w, AB_F_FERMENT_BELOW, &basis, low - mean, mean_u(w, n, basis.guess), 'B',
		    "(%.1f C, bottom of the range) - (%.1f C, mean of %d reading%s to %.0f h)", low, mean,
		    (int)n, AB_S(n), to);
	} else if (ab_level(w)->known) {
		ab_set(w, AB_F_FERMENT_BELOW, &basis, low - w->level.mean, w->level.mean_u, w->level.grade,
		    "(%.1f C, bottom of the range) - (%.1f C, %s)", low, w->level.mean, w->level.how);
	}
}

/* Out of the range the class bears; only counted from measured values, or from a held target. A
 * reconstruction is too coarse to count hours by, hence heat.n == 0. One reading is no duration. */
static void set_hours_out(struct ab_work *w)
{
	double low = w->yeast->tolerated_low_c, high = w->yeast->tolerated_high_c, to = fermentation_end(w);
	struct ab_basis basis = over_range(w, w->beer.n > 0);

	if (ab_series_count(&w->beer, 1, to) >= 2) {
		double above = ab_series_hours_above(&w->beer, high, 1, 0, to),
		    below = ab_series_hours_above(&w->beer, low, -1, 0, to);
		ab_set(w, AB_F_FERMENT_HOURS_OUT, &basis, above + below, 0.15 * (above + below) + 2, 'B',
		    "%.0f h above %.1f C and %.0f h below %.1f C, to %.0f h", above, high, below, low, to);
	} else if (w->beer.n == 0 && ab_level(w)->known && w->heat.n == 0) {
		bool out = w->level.mean > high || w->level.mean < low;
		ab_set(w, AB_F_FERMENT_HOURS_OUT, &basis, out ? to : 0, 12, 'B', "%.1f C, %s", w->level.mean,
		    w->level.how);
	}
}

/* Falls and swings within a day, until the end of fermentation: a planned crash comes after. Needs an
 * arena for its queue, hence the check for memory. */
static void set_swings(struct ab_work *w)
{
	double to = fermentation_end(w);

	if (ab_series_count(&w->beer, 0, to) < 3)
		return;
	double fall = ab_series_fall(&w->beer, 1, DAY_H, 0, to, w->arena), rise = ab_series_fall(&w->beer, -1,
	    DAY_H, 0, to, w->arena);
	w->short_of_memory |= isnan(fall) || isnan(rise);
	ab_set(w, AB_F_FERMENT_DROP, &w->beer_basis, fall, 0.7, 'B',
	    "largest fall from one reading to a later one within 24 h, to %.0f h", to);
	ab_set(w, AB_F_FERMENT_SWING, &w->beer_basis, fmax(fall, rise), 0.7, 'B',
	    "falls by %.1f K and rises by %.1f K within 24 h, to %.0f h",
	    fall, rise, to);
}

/* From two thirds of the way to final gravity until it is chilled or packaged, at or above what the
 * class needs to clean up; or rests as told, if they say more. 0.05 K under the limit, since a
 * controller set to it reads a hair less half the time. Readings must reach to the start of the rest,
 * or it would be judged by the rush before. A rest of no told length is not known to have lasted. */
static void set_rest_days(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	double from = w->final_h * 2 / 3, to = w->packaged_h, told = 0;
	struct ab_basis basis = w->beer_basis;
	bool known = false, untold = false;

	for (AB_EACH(struct ab_crash, c, b->crashes)) {
		double h = ab_hours(w, &c->at);
		if (!(h >= to))
			to = h;
	}
	for (AB_EACH(struct ab_rest, r, b->rests)) {
		bool warm = !(r->temp_c.known && r->temp_c.v < w->yeast->rest_c);
		untold |= warm && !r->for_s.known;
		known |= !warm || r->for_s.known;
		told += warm && r->for_s.known ? r->for_s.v / 86400 : 0;
		ab_rest_on_num(&basis, &r->mark, &r->temp_c, false);
		ab_rest_on_num(&basis, &r->mark, &r->for_s, false);
	}
	known = known && !(untold && told <= 0);
	if (isfinite(to) && w->beer.n > 0 && w->beer.at[0].h <= to &&
	    w->beer.at[w->beer.n - 1].h >= from - DAY_H) {
		known = true;
		told = fmax(told, ab_series_hours_above(&w->beer, w->yeast->rest_c - 0.05, 1, from, to) /
		    DAY_H);
	} else if (isfinite(to) && !known && !untold && w->level.known && to > from) {
		/* After the rush the beer falls back to its room. */
		known = true;
		basis = w->level.basis;
		told = w->level.after >= w->yeast->rest_c ? (to - from) / DAY_H : 0;
	}
	if (known)
		ab_set(w, AB_F_FERMENT_REST_DAYS, &basis, told, 0.5 + 0.1 * told, 'B',
		    "days at %.1f C or warmer from day %.1f on",
		    w->yeast->rest_c, from / DAY_H);
}

/* Off the yeast when first racked, not when packaged; a move before pitching is a slip. */
static void set_days(struct ab_work *w)
{
	const struct ab_batch *b = w->batch;
	struct ab_basis basis = ab_basis_new();
	double off_yeast = w->packaged_h, days = w->packaged_h / DAY_H;

	if (b->package == NULL || !(days >= 0))
		return;
	ab_rest_on(&basis, &b->package->mark, false);
	if (b->pitch != NULL)
		ab_rest_on(&basis, &b->pitch->mark, false);
	ab_set(w, AB_F_FERMENT_DAYS, &basis, days, 0.3, 'A', NULL);
	for (AB_EACH(struct ab_vessel, v, b->vessels)) {
		double h = ab_hours(w, &v->from);
		if (v->second == AB_YES && h < off_yeast && h > 0) {
			off_yeast = h;
			ab_rest_on(&basis, &v->mark, false);
		}
	}
	ab_set(w, AB_F_FERMENT_ON_YEAST, &basis, off_yeast / DAY_H, 0.3, 'A',
	    "from pitching until it left the first vessel");
	if (w->yeast == NULL)
		return;
	ab_rest_on_basis(&basis, &w->yeast_basis);
	ab_set(w, AB_F_FERMENT_DAYS_SHORT, &basis, w->yeast->primary_days + w->yeast->clean_days - days, 2,
	    'C', "(%.0f d to final gravity and %.0f d more on the yeast are usual) - (%.1f d taken)",
	    w->yeast->primary_days, w->yeast->clean_days,
	    days);
}

/* The room "as if" enters the model, but keeps no basis: it is no record. Without a class there is no
 * range to be over, so the rest ends there. */
void ab_facts_temperature(struct ab_work *w)
{
	static const struct ab_plain control = AB_MANY(AB_F_FERMENT_CONTROL, AB_FIELD_WORD,
	    vessels, ab_vessel, control, 1, AB_TAKE_FIRST);
	struct ab_told room = find_room(w);

	ab_set_plain(w, &control, 1);
	ab_set_told(w, AB_F_FERMENT_ROOM, &room);
	if (ab_is_as_if(w, AB_F_FERMENT_ROOM))
		room = (struct ab_told){ true, ab_value(w, AB_F_FERMENT_ROOM), 0, ab_basis_new() };
	find_level(w, &room);
	ab_set_heat(w, &room, ab_word(w, AB_F_FERMENT_CONTROL), fermentation_end(w));
	set_swings(w);
	if (w->yeast != NULL)
		move_early(w);
	set_early(w);
	set_days(w);
	if (w->yeast == NULL)
		return;
	set_early_over(w);
	set_peak(w);
	set_below(w);
	set_hours_out(w);
	set_rest_days(w);
}
