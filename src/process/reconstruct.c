/* reconstruct.c - the beer's temperature where nobody measured it, from its room and its own heat (heat.h)
 *
 * Heat is released along the gravity curve when there is one; else along a typical one: B of 0.12/h for a
 * class that is done in 7 days, in proportion for others, 0.035/h for lagers, within a factor of 1.6 (typical
 * 0.08 to 0.2 for ales, 0.02 to 0.06 for lagers; from memory), its middle where 2.7 % are fermented at
 * pitching (3.6/B; estimate). What is not told: 20 L, 1.048 to 1.012. The band has UA, heat and B at their
 * usual ends all at once, so a quarter of it is taken as u. Grade B on the batch's own curve, else C.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/reconstruct.h"
#include <assert.h>
#include "process/words.h"

/* B_WIDTH: factor between the middle and the ends of typical B. */
static const double STEP_H = 1, ALE_B = 0.12, ALE_DAYS = 7, LAGER_B = 0.035, B_WIDTH = 1.6, MIDDLE = 3.6,
    USUAL_L = 20, USUAL_OG = 1.048, USUAL_FG = 1.012, LAG_H = 12;

/* How each control lets the heat go, and how far the room told may be from the air or water about the vessel
 * (K; estimates). */
static const struct { enum ab_heat_way way; double u; const char *how; } ways[] = {
	[0] = { AB_HEAT_STILL_AIR, 1,
	    "reconstructed from the room and the heat of fermentation, in still air" },
	[AB_CONTROL_NONE] = { AB_HEAT_STILL_AIR, 1,
	    "reconstructed from the room and the heat of fermentation, in still air" },
	[AB_CONTROL_ROOM] = { AB_HEAT_STILL_AIR, 0.7,
	    "reconstructed from the room and the heat of fermentation, in still air" },
	[AB_CONTROL_WATER_BATH] = { AB_HEAT_BATH, 1.2,
	    "reconstructed from the room and the heat of fermentation, in a bath" },
	[AB_CONTROL_ICE_BOTTLES] = { AB_HEAT_BATH, 2,
	    "reconstructed from the room and the heat of fermentation, in a bath; the ice is not counted" },
	[AB_CONTROL_WET_CLOTH] = { AB_HEAT_FAN, 2,
	    "reconstructed from the room and the heat of fermentation, under a wet cloth" },
	[AB_CONTROL_FAN] = { AB_HEAT_FAN, 1.2,
	    "reconstructed from the room and the heat of fermentation, before a fan" },
};

/* What the model needs of a batch. in: the middle case. The ends of the band are made from it in
 * trace_band. */
struct brew {
	struct ab_heat_in in;
	double kj_per_heat, b_low, b_high;
	struct ab_heat_ua ua;
	bool own_curve;
};

/* Own ends are two u of the fit, but never wider than the typical ones: the curve must not make the
 * answer worse. A told lag moves the untold middle by what it differs from half a day. */
static void find_course(const struct ab_work *w, struct brew *brew)
{
	const struct ab_curve *c = &w->gravity_curve.curve;
	const struct ab_lag *lag = w->batch->lag;

	brew->own_curve = w->gravity_curve.refusal == AB_CURVE_FITTED;
	if (brew->own_curve) {
		double u = 2 * sqrt(c->cov[AB_CURVE_B][AB_CURVE_B]);
		brew->in.b = c->param[AB_CURVE_B];
		brew->in.m_h = c->param[AB_CURVE_M];
		brew->b_low = fmax(brew->in.b - u, brew->in.b / B_WIDTH);
		brew->b_high = fmin(brew->in.b + u, brew->in.b * B_WIDTH);
		return;
	}
	double days = w->yeast != NULL && w->yeast->primary_days > 0 ? w->yeast->primary_days : ALE_DAYS;
	brew->in.b = w->yeast != NULL && w->yeast->lager ? LAGER_B : ALE_B * ALE_DAYS / days;
	brew->b_low = brew->in.b / B_WIDTH;
	brew->b_high = brew->in.b * B_WIDTH;
	brew->in.m_h = MIDDLE / brew->in.b + (lag != NULL && lag->first_s.known ? lag->first_s.v /
	    3600 - LAG_H : 0);
}

/* The expected end, else the usual share of extract. A fitted curve knows its own end best. */
static struct brew brew_of(const struct ab_work *w, int control)
{
	struct brew brew = { .own_curve = false };
	assert(control >= 0 && (size_t)control < sizeof ways / sizeof *ways);
	const struct ab_pitch *pitch = w->batch->pitch;
	double volume = w->volume.known ? w->volume.v : USUAL_L;
	double og = ab_known(w, AB_F_GRAVITY_OG) ? ab_value(w, AB_F_GRAVITY_OG) : USUAL_OG;
	double fg = isfinite(w->expected_fg) ? w->expected_fg : og - (USUAL_OG - USUAL_FG) /
	    (USUAL_OG - 1) * (og - 1);

	find_course(w, &brew);
	if (brew.own_curve)
		fg = ab_value(w, AB_F_GRAVITY_CURVE_FINAL);
	brew.kj_per_heat = fmax(0, ab_heat_extract(og, fg)) * volume;
	brew.in.heat_kj = AB_HEAT_MID * brew.kj_per_heat;
	brew.in.capacity_kjk = ab_heat_capacity(volume, og);
	brew.ua = ab_heat_ua_usual(ways[control].way, volume);
	brew.in.ua_wk = brew.ua.mid;
	brew.in.start_c = pitch != NULL && pitch->temp_c.known ? pitch->temp_c.v : AB_NAN;
	return brew;
}

/* The room as the model takes it: its readings, or one value all the time. false: no memory. "As if the
 * room were so" replaces the readings: mixing both would answer neither question. */
static bool lay_room(struct ab_work *w, struct ab_heat_in *in, const struct ab_told *room)
{
	size_t n = w->room.n > 0 && !ab_is_as_if(w, AB_F_FERMENT_ROOM) ? w->room.n : 1;
	double *h = ab_arena_alloc(w->arena, 2 * n, sizeof *h);

	if (h == NULL)
		return false;
	h[0] = 0;
	h[n] = room->v;
	for (size_t i = 0; n == w->room.n && i < n; i++) {
		h[i] = w->room.at[i].h;
		h[n + i] = w->room.at[i].v;
	}
	in->room_h = h;
	in->room_c = h + n;
	in->n_room = n;
	if (!isfinite(in->start_c))
		in->start_c = h[n];
	return true;
}

/* Mean of an hourly trace up to an hour, straight between hours. */
static double mean_to(const double *c, size_t n, double to_h)
{
	size_t k = to_h >= (double)(n - 1) ? n - 1 : to_h < 1 ? 1 : (size_t)to_h;
	double sum = (c[0] + c[k]) / 2;

	assert(n > 1);
	for (size_t i = 1; i < k; i++)
		sum += c[i];
	return sum / (double)k;
}

/* The first hours are the pitching's, not the fermentation's. */
static double peak_to(const double *c, size_t n, double to_h)
{
	size_t from = n > 12 ? 12 : 0;
	double top = c[from];

	for (size_t i = from; i < n && (double)i <= to_h; i++)
		top = c[i] > top ? c[i] : top;
	return top;
}

/* All at their cool ends, then all at their warm ones. Hour by hour the band is what all three span.
 * Without an own curve the middle moves with B, so that what is fermented at pitching stays the same. */
static void trace_band(const struct brew *brew, size_t n, double *mid, double *low, double *high)
{
	struct ab_heat_in cool = brew->in, warm = brew->in;
	double shift = brew->in.b * brew->in.m_h;

	cool.ua_wk = brew->ua.high, cool.b = brew->b_low, cool.heat_kj = AB_HEAT_LOW * brew->kj_per_heat;
	warm.ua_wk = brew->ua.low, warm.b = brew->b_high, warm.heat_kj = AB_HEAT_HIGH * brew->kj_per_heat;
	if (!brew->own_curve) {
		cool.m_h = shift / cool.b;
		warm.m_h = shift / warm.b;
	}
	ab_heat_trace(&brew->in, STEP_H, n, mid);
	ab_heat_trace(&cool, STEP_H, n, low);
	ab_heat_trace(&warm, STEP_H, n, high);
}

/* The cool end may cross over the warm one late on: quick heat is gone sooner. */
static void order_band(size_t n, const double *mid, double *low, double *high)
{
	for (size_t i = 0; i < n; i++) {
		double least = fmin(fmin(low[i], high[i]), mid[i]),
		    most = fmax(fmax(low[i], high[i]), mid[i]);
		low[i] = least;
		high[i] = most;
	}
}

/* Reckoned from what was measured is derived, not measured. */
static void rest_on_told(struct ab_work *w, struct ab_basis *basis)
{
	if (w->volume.known)
		ab_rest_on_basis(basis, &w->volume.basis);
	if (w->batch->pitch != NULL && w->batch->pitch->temp_c.known)
		ab_rest_on_num(basis, &w->batch->pitch->mark, &w->batch->pitch->temp_c, false);
	if (basis->origin == AB_ORIGIN_MEASURED)
		basis->origin = AB_ORIGIN_DERIVED;
}

/* Room for three hourly traces, a day at least and a month at most; NULL when memory is short. */
static double *trace_room(struct ab_work *w, double early_h, double end_h, size_t *n)
{
	*n = (size_t)fmin(fmax(fmax(end_h, early_h), 24), 720) + 1;
	return ab_arena_alloc(w->arena, 3 * *n, sizeof(double));
}

/* A quarter of the band as u: see the banner. The curve is handed out only where no beer reading could be set
 * against it. */
static void trace(struct ab_work *w)
{
	const struct ab_told *room = &w->tracing.room;
	double early_h = w->tracing.early_h, end_h = w->tracing.end_h;
	struct brew brew = brew_of(w, w->tracing.control);
	struct ab_level *level = &w->level;
	size_t n;
	double *mid = trace_room(w, early_h, end_h, &n);

	level->untraced = false;
	if (mid == NULL || !lay_room(w, &brew.in, room)) {
		w->short_of_memory = true;
		level->known = false;
		return;
	}
	double *low = mid + n, *high = low + n;
	trace_band(&brew, n, mid, low, high);
	double off = hypot(ways[w->tracing.control].u, ab_told_u(room, 1.5));
	level->early = mean_to(mid, n, early_h);
	level->mean = mean_to(mid, n, end_h);
	level->peak = peak_to(mid, n, end_h);
	level->early_u = hypot(off, (mean_to(high, n, early_h) - mean_to(low, n, early_h)) / 4);
	level->mean_u = hypot(off, (mean_to(high, n, end_h) - mean_to(low, n, end_h)) / 4);
	level->peak_u = hypot(off, (peak_to(high, n, end_h) - peak_to(low, n, end_h)) / 4);
	if (ab_series_count(&w->beer, 1, end_h) > 0)
		return;
	order_band(n, mid, low, high);
	w->heat = (struct ab_heat_of){ n, STEP_H, mid, low, high };
}

const struct ab_level *ab_level(struct ab_work *w)
{
	if (w->level.untraced)
		trace(w);
	return &w->level;
}

void ab_reconstruct(struct ab_work *w, const struct ab_told *room, int control, double early_h, double end_h)
{
	bool own_curve = w->gravity_curve.refusal == AB_CURVE_FITTED;

	assert(control >= 0 && (size_t)control < sizeof ways / sizeof *ways);
	w->level = (struct ab_level){ .known = true, .untraced = true, .after = room->v,
		.grade = own_curve ? 'B' : 'C', .how = ways[control].how, .basis = room->basis };
	w->tracing.room = *room;
	w->tracing.control = control;
	w->tracing.early_h = early_h;
	w->tracing.end_h = end_h;
	rest_on_told(w, &w->level.basis);
	/* The curve is wanted by itself then; and what is moved by hand later must find the figures as they
	 * are now. */
	if (ab_series_count(&w->beer, 1, end_h) == 0 || w->n_as_if > 0)
		(void)ab_level(w);
}

/* Measured: the largest difference at a beer reading, the room's readings about it. Not further than
 * half a day from the room's readings: held ends would invent differences. */
static void set_rise_measured(struct ab_work *w, double end_h)
{
	struct ab_basis basis = w->beer_basis;
	double rise = -AB_INF;
	size_t n = 0;

	for (size_t i = 0; i < w->beer.n; i++) {
		double h = w->beer.at[i].h;
		if (h < 12 || h > end_h || h < w->room.at[0].h - 12 || h > w->room.at[w->room.n - 1].h + 12)
			continue;
		rise = fmax(rise, w->beer.at[i].v - ab_series_at(&w->room, h));
		n++;
	}
	ab_rest_on_basis(&basis, &w->room_basis);
	if (n > 0)
		ab_set(w, AB_F_FERMENT_HEAT_RISE, &basis, rise, n >= 3 ? 0.7 : 1.5, 'A',
		    "beer over room, most of %d readings", (int)n);
}

/* Until it is packaged, chilled or moved for a rest it stays where it stands. Only so far does the
 * model of room and heat hold. */
static double stays_until(const struct ab_work *w)
{
	double until = isfinite(w->packaged_h) ? w->packaged_h : AB_INF;

	for (AB_EACH(struct ab_crash, c, w->batch->crashes))
		until = fmin(until, isfinite(ab_hours(w, &c->at)) ? ab_hours(w, &c->at) : until);
	for (AB_EACH(struct ab_rest, r, w->batch->rests))
		until = fmin(until, isfinite(ab_hours(w, &r->at)) ? ab_hours(w, &r->at) : until);
	return until;
}

/* Readings before pitching are of wort cooling, not of beer warming. */
static void set_ua(struct ab_work *w, const struct ab_told *room, int control)
{
	struct brew brew = brew_of(w, control);
	struct ab_basis basis = w->beer_basis;
	size_t n = 0;
	double *h = ab_arena_alloc(w->arena, 2 * w->beer.n, sizeof *h), *c, until = stays_until(w), ua, u;

	if (h == NULL || !lay_room(w, &brew.in, room)) {
		w->short_of_memory = true;
		return;
	}
	c = h + w->beer.n;
	for (size_t i = 0; i < w->beer.n; i++) {
		if (w->beer.at[i].h < 0 || w->beer.at[i].h > until)
			continue;
		h[n] = w->beer.at[i].h;
		c[n++] = w->beer.at[i].v;
	}
	if (!ab_heat_fit_ua(&brew.in, h, c, n, &ua, &u))
		return;
	/* Heat itself is known to 5 %, without the batch's own curve to a fifth. */
	u = hypot(u, (brew.own_curve ? 0.05 : 0.2) * ua);
	ab_rest_on_basis(&basis, &w->room_basis);
	ab_rest_on_basis(&basis, &w->gravity_basis);
	ab_set(w, AB_F_VESSEL_UA, &basis, ua, u, brew.own_curve ? 'B' : 'C',
	    "what makes heat of fermentation and room give the %d beer temperatures; halfway to the room in "
	    "%.1f h", (int)n, 0.6931 * brew.in.capacity_kjk / (3.6 * ua));
}

/* Beer and room both measured beat any model; UA needs enough of both to be told apart from heat. */
void ab_set_heat(struct ab_work *w, const struct ab_told *room, int control, double end_h)
{
	if (w->beer.n > 0 && w->room.n > 0) {
		set_rise_measured(w, end_h);
		if (w->beer.n >= 6 && w->room.n >= 3 && (size_t)control < sizeof ways / sizeof *ways)
			set_ua(w, room, control);
	}
	const struct ab_level *level = &w->level;
	if (!ab_known(w, AB_F_FERMENT_HEAT_RISE) && w->heat.n > 0)
		ab_set(w, AB_F_FERMENT_HEAT_RISE, &level->basis, level->peak - level->after,
		    fmax(level->peak_u, 0.5), level->grade, "%s", level->how);
}

enum ab_status ab_heat_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_heat_of *out, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena };

	*out = (struct ab_heat_of){ .n = 0 };
	w.facts = ab_arena_alloc(arena, AB_F_MAX_, sizeof *w.facts);
	if (w.facts != NULL)
		ab_facts_walk(&w);
	if (w.facts == NULL || w.short_of_memory)
		return ab_fail(diag, AB_ENOMEM, batch->source, batch->mark.line,
		    "out of memory while reconstructing temperatures");
	*out = w.heat;
	return AB_OK;
}
