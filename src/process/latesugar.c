/* latesugar.c - sugar and fruit that went into fermenting beer
 *
 * A gram of sucrose in a litre makes a quarter of a volume (co2.h), as half a gravity point does: so much it counts,
 * though a hydrometer rises by 0.38 only (the alcohol makes the rest). Fruit holds 4 to 16 % sugar (tables of food,
 * from memory): 12 % are taken, and six tenths of it are doubt; spice, oak and coffee weigh too little to matter. What
 * went in within a day of pitching counts as wort. Of an extra whose time nobody told what ferments counts as put in
 * last, the safe side. What is in before a gravity was read is in that gravity; what came with it or later counts
 * whole, for nobody saw it ferment. So does what is told of the hours after packaging, or of later: it can only have
 * gone into the bottles. Of a beer that nobody read what ferments goes at the pace the wort does, from when it went in
 * (estimate, on the slow side: that yeast is awake already). The days of a cold crash are none of these: cold yeast
 * sleeps.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/co2.h"
#include "process/gravities.h"
#include "process/working.h"

#define POINTS_BY_GL 0.5
static const double FRUIT_SHARE = 0.12, FRUIT_U = 0.6, WORT_H = 24, LEAST_GL = AB_LATE_LEAST / POINTS_BY_GL;

struct addition { double h, gl, u; const struct ab_mark *mark; const struct ab_num *amount, *sugars; };

/* gl NAN: nobody told how much. False: none, or none that is late. */
static bool of_sugar(const struct ab_work *w, const struct ab_sugar *s, struct addition *out)
{
	double gl = ab_sucrose_equivalent(s->kind) * s->amount_g.v / w->volume.v;
	*out = (struct addition){ ab_hours(w, &s->at), gl, 0, &s->mark, &s->amount_g, NULL };
	out->u = 0.1 * out->gl;
	if (!s->amount_g.known || !w->volume.known)
		out->gl = out->u = AB_NAN;
	return s->at.known && out->h > WORT_H && ab_sucrose_equivalent(s->kind) > 0;
}

static bool of_extra(const struct ab_work *w, const struct ab_extra *e, struct addition *out)
{
	double share = e->sugars_share.known ? e->sugars_share.v : FRUIT_SHARE;
	bool measured = e->amount_g.known && w->volume.known;

	*out = (struct addition){ e->at.known ? ab_hours(w, &e->at) : AB_INF,
		measured ? share * e->amount_g.v / w->volume.v : AB_NAN, 0, &e->mark,
		&e->amount_g, &e->sugars_share };
	out->u = (e->sugars_share.known ? 0.1 : FRUIT_U) * out->gl;
	/* Neither how much nor when: nothing is known of it. */
	return out->h > WORT_H && (measured || e->at.known) && share > 0;
}

/* All that are late, handed on one by one. */
typedef void take(void *ctx, const struct addition *a);

static void each(const struct ab_work *w, take *to, void *ctx)
{
	const struct ab_recipe *r = w->batch->recipe;
	struct addition a;

	for (AB_EACH(struct ab_sugar, s, r != NULL ? r->sugars : (struct ab_list){ 0 }))
		if (of_sugar(w, s, &a))
			to(ctx, &a);
	for (AB_EACH(struct ab_extra, e, r != NULL ? r->extras : (struct ab_list){ 0 }))
		if (of_extra(w, e, &a))
			to(ctx, &a);
}

struct adding { struct ab_late *late; double after_h; };

static void consider(void *ctx, const struct addition *a)
{
	const struct adding *adding = ctx;
	struct ab_late *late = adding->late;

	if (!(a->gl < LEAST_GL))
		late->last_h = fmax(late->last_h, a->h);
	if (a->h < adding->after_h || !isfinite(a->gl))
		return;
	late->points += POINTS_BY_GL * a->gl;
	late->u += POINTS_BY_GL * a->u;
	late->untold |= !isfinite(a->h) && a->gl >= LEAST_GL;
	ab_rest_on_num(&late->basis, a->mark, a->amount, false);
	if (a->sugars != NULL)
		ab_rest_on_num(&late->basis, a->mark, a->sugars, false);
}

/* Did something go in that nobody told the weight of, and that the last gravity may not know of? */
static bool is_uncounted(const struct ab_work *w, double after_h)
{
	const struct ab_recipe *r = w->batch->recipe;

	for (AB_EACH(struct ab_extra, e, r != NULL ? r->extras : (struct ab_list){ 0 }))
		if (!e->amount_g.known && !(e->sugars_share.known && e->sugars_share.v <= 0) &&
		    !(ab_hours(w, &e->at) < fmax(after_h, WORT_H)))
			return true;
	for (AB_EACH(struct ab_sugar, s, r != NULL ? r->sugars : (struct ab_list){ 0 }))
		if (!s->amount_g.known && ab_sucrose_equivalent(s->kind) > 0 &&
		    ab_hours(w, &s->at) >= fmax(after_h, WORT_H))
			return true;
	return false;
}

struct ab_late ab_late_sugar(const struct ab_work *w, double after_h)
{
	struct ab_late late = { .last_h = -AB_INF, .basis = ab_basis_new() };

	each(w, consider, &(struct adding){ &late, after_h });
	late.uncounted = is_uncounted(w, after_h);
	return late;
}

/* A crash of no told end lasts until the packaging, one of no told beginning ended with it. */
double ab_warm_h(const struct ab_work *w, double from_h)
{
	double h = w->packaged_h - from_h;

	for (AB_EACH(struct ab_crash, c, w->batch->crashes)) {
		double lasts = c->for_s.known ? c->for_s.v / 3600 : AB_NAN;
		double at = c->at.known ? ab_hours(w, &c->at) : w->packaged_h - lasts;
		double end = at + lasts < w->packaged_h ? at + lasts : w->packaged_h, begun = fmax(at, from_h);
		h -= isfinite(at) && end > begun ? end - begun : 0;
	}
	return h > 0 ? h : isfinite(h) ? 0 : h;
}

struct leaving { const struct ab_work *w; double pace_days, points; };

static void leave(void *ctx, const struct addition *a)
{
	struct leaving *l = ctx;
	double days = ab_warm_h(l->w, a->h) / 24;

	/* of no told time, or after the packaging: whole */
	if (isfinite(a->gl))
		l->points += POINTS_BY_GL * a->gl *
		    (days > 0 ? ab_share_left(days, l->pace_days) / ab_share_left(0, l->pace_days) : 1);
}

double ab_late_left(const struct ab_work *w, double pace_days)
{
	struct leaving l = { w, pace_days, 0 };

	each(w, leave, &l);
	return l.points;
}

const char *ab_late_says(const struct ab_late *late)
{
#define TOO \
	"; what of sugar or an extra went in without its amount told is not counted, and comes on top if it ferments"
#define LAST "; what ferments of an extra of untold time is taken as put in after that"
#define WITH "; with what sugar that was put in later makes"
	static const char *const says[2][3] = { { "", WITH, LAST }, { TOO, WITH TOO, LAST TOO } };

	return says[late->uncounted][late->untold ? 2 : late->points > 0 ? 1 : 0];
}
