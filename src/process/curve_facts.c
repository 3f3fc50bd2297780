/* curve_facts.c - the gravity curve of a batch, and what the gravity was doing at the last reading
 *
 * In deg P over hours. Readings that can be trusted (gravities.c) each weigh by their u; a log is averaged
 * down to so many points, which keep the u of one reading, for what ails a floating sensor it has all the
 * time. An original gravity that has no hour, or a forced sample's final one, enters as a known end. Form
 * grade A; the numbers are as good as the readings.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>
#include <afterboil/quantity.h>
#include "process/gravities.h"
#include "process/words.h"
#include "process/working.h"

enum { MOST_POINTS = 48 };
/* A final gravity is reached within half a point; one point from its end the beer is still at work. A forced
 * sample is kept warm and shaken: it ends lower than the batch by up to two points (estimate). */
static const double FINISH_SG = 0.0005, STILL_SG = 0.0015, AT_WORK_SG = 0.001, OG_H = 12, FORCED_U_SG = 0.001,
    FLOAT_U_SG = 0.002, SHORT_POINTS = 5, STILL_D = 2,
    FALLS_FROM_H = 36, FALLS_WITHIN_H = 96;

/* Local slope by a central difference: turns an uncertainty in SG into one in deg P and back. */
static double plato_per_sg(double sg)
{
	return (ab_plato_from_sg(sg + FINISH_SG) - ab_plato_from_sg(sg - FINISH_SG)) / (2 * FINISH_SG);
}

/* Readings before the pitch by up to OG_H are the wort's; older ones are another beer's or a misdated
 * line. */
static void add(struct ab_curve_point *at, size_t *n, double h, double sg, double u_sg, double until)
{
	if (isfinite(h) && isfinite(sg) && h >= -OG_H && !(h > until))
		at[(*n)++] = (struct ab_curve_point){ h, ab_plato_from_sg(sg), u_sg * plato_per_sg(sg) };
}

/* Ties stay equal: the fit does not mind two readings of one hour. */
static int by_hour(const void *a, const void *b)
{
	const struct ab_curve_point *p = a, *q = b;
	return (p->h > q->h) - (p->h < q->h);
}

/* Means of as many neighbours as it takes. u is averaged, not divided by the root of the number: see
 * the banner on floating sensors. Thinning also keeps one log from outvoting every hydrometer reading. */
static size_t thin(struct ab_curve_point *at, size_t n)
{
	size_t each = (n + MOST_POINTS - 1) / MOST_POINTS, kept = 0;

	for (size_t i = 0; each > 1 && i < n; i += each) {
		size_t k = n - i < each ? n - i : each;
		struct ab_curve_point mean = { 0, 0, 0 };
		for (size_t j = i; j < i + k; j++) {
			mean.h += at[j].h / (double)k;
			mean.p += at[j].p / (double)k;
			mean.u += at[j].u / (double)k;
		}
		at[kept++] = mean;
	}
	return each > 1 ? kept : n;
}

/* The room is an upper bound: readings, the package, and every sample, whether or not they will be
 * taken. */
static size_t gather(struct ab_work *w, struct ab_curve_point **points)
{
	const struct ab_batch *b = w->batch;
	double until = ab_read_until_h(w);
	size_t n = 0, room = b->readings.n + 1;

	for (AB_EACH(struct ab_log, log, b->logs))
		room += log->sensor != NULL ? log->sensor->n : 0;
	struct ab_curve_point *at = *points = ab_arena_alloc(w->arena, room, sizeof *at);
	if (at == NULL) {
		w->short_of_memory = true;
		return 0;
	}
	for (AB_EACH_SAMPLE(r, w))
		if (r->gravity_sg.known && !ab_gravity_misleads(w, r) && r->mixed != AB_NO)
			add(at, &n, ab_hours(w, &r->at), ab_gravity_true(w, r), ab_gravity_u(r), until);
	if (b->package != NULL && b->package->gravity_sg.known)
		add(at, &n, w->packaged_h, b->package->gravity_sg.v,
		    hypot(0.0005, ab_num_u(&b->package->mark, &b->package->gravity_sg, 0.003)), until);
	for (AB_EACH(struct ab_log, log, b->logs)) {
		for (size_t i = 0; log->sensor != NULL && i < log->sensor->n; i++) {
			struct ab_when when = { .known = true, .s = log->sensor->samples[i].s };
			add(at, &n, ab_hours(w, &when), log->sensor->samples[i].gravity_sg,
			    FLOAT_U_SG, until);
		}
	}
	qsort(at, n, sizeof *at, by_hour);
	return thin(at, n);
}

/* The original gravity, unless a reading with its hour has it already. */
static struct ab_curve_known known_original(const struct ab_work *w, const struct ab_curve_point *at,
    size_t n)
{
	const struct ab_fact *og = &w->facts[AB_F_GRAVITY_OG];

	if (!AB_FACT_KNOWN(og) || (n > 0 && at[0].h <= OG_H))
		return (struct ab_curve_known){ .known = false };
	return (struct ab_curve_known){ true, ab_plato_from_sg(og->value),
		fmax(og->u, FINISH_SG) * plato_per_sg(og->value) };
}

/* Not of a beer that stands still already: where it stands is its end, whatever a forced sample reached. */
static struct ab_curve_known known_final(const struct ab_work *w)
{
	bool still = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= STILL_D;

	const struct ab_test *forced = still ? NULL : ab_forced_end(w->batch);

	if (forced == NULL)
		return (struct ab_curve_known){ .known = false };
	return (struct ab_curve_known){ true, ab_plato_from_sg(forced->gravity_sg.v),
		FORCED_U_SG * plato_per_sg(forced->gravity_sg.v) };
}

static void fit(struct ab_work *w)
{
	struct ab_curve_of *of = &w->gravity_curve;
	struct ab_curve_point *at;

	of->n = gather(w, &at);
	of->at = at;
	of->refusal = ab_curve_fit(at, of->n, known_original(w, at, of->n), known_final(w), &of->curve);
}

/* All four rest on the same readings, so on one basis. */
static void set_curve(struct ab_work *w)
{
	const struct ab_curve *c = &w->gravity_curve.curve;
	double pe = c->param[AB_CURVE_PE], sg = ab_sg_from_plato(pe), slope = plato_per_sg(sg), h, u;
	const struct ab_basis *basis = &w->gravity_basis;

	ab_set(w, AB_F_GRAVITY_CURVE_FINAL, basis, sg, sqrt(c->cov[AB_CURVE_PE][AB_CURVE_PE]) / slope, 'A',
	    "a logistic through %d readings, %.2f P off on the whole, explains %.1f %% of them", (int)c->n,
	    c->residual_sd, 100 * c->r2);
	ab_set(w, AB_F_GRAVITY_CURVE_B, basis, c->param[AB_CURVE_B], sqrt(c->cov[AB_CURVE_B][AB_CURVE_B]),
	    'A', "steepest %.1f points a day", -ab_curve_slope(c, c->param[AB_CURVE_M]) / slope * 1000);
	ab_set(w, AB_F_GRAVITY_HALF_TIME, basis, c->param[AB_CURVE_M], sqrt(c->cov[AB_CURVE_M][AB_CURVE_M]),
	    'A', NULL);
	if (ab_curve_finish(c, FINISH_SG * slope, &h, &u))
		ab_set(w, AB_F_GRAVITY_CURVE_FINISH, basis, h / 24, u / 24, 'A',
		    "half a point over %.4f, between day %.1f and day %.1f with a chance of 95 in 100", sg,
		    (h - 1.96 * u) / 24, (h + 1.96 * u) / 24);
}

/* Points the last reading is from the end, by the curve or by standing still; NAN: nothing tells. */
static double points_to_go(const struct ab_work *w)
{
	const struct ab_curve *c = &w->gravity_curve.curve;

	/* imagined at rest, it is, whatever the readings were on their way to */
	if (ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) && ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= STILL_D)
		return 0;
	if (w->gravity_curve.refusal == AB_CURVE_FITTED)
		return 1000 * (ab_curve_at(c, c->last_h) - c->param[AB_CURVE_PE]) /
		    plato_per_sg(ab_sg_from_plato(c->param[AB_CURVE_PE]));
	return ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= STILL_D ? 0 : AB_NAN;
}

/* Points between the last two readings when they are days apart at most, both well after pitching, and
 * over the expected end, by the class that stands in where none is told. Here because a curve often refuses two or
 * three readings, though they plainly show the beer at work. */
static double still_falls(const struct ab_work *w, double over)
{
	const struct ab_series *s = &w->gravity;

	if (s->n < 2 || s->at[s->n - 2].h < FALLS_FROM_H ||
	    s->at[s->n - 1].h - s->at[s->n - 2].h > FALLS_WITHIN_H)
		return 0;
	double fall = s->at[s->n - 2].v - s->at[s->n - 1].v;
	return fall > STILL_SG && over > 1000 * AT_WORK_SG ? 1000 * fall : 0;
}

/* The curve first, then rest, then the last two readings. "Stalled" and "finished" differ only in how
 * far short of the expected end it came to rest. Where a forced sample fell it is not finished, and whether it hangs
 * is left open until it is SHORT_POINTS. Nor is one finished that a yeast which eats starch stands in: such go on by
 * less than readings show. */
static void set_state(struct ab_work *w)
{
	struct ab_basis basis = w->gravity_basis;
	bool safe = ab_known(w, AB_F_GRAVITY_LAST) && isfinite(w->safe_fg);
	double left = points_to_go(w);
	double over = safe ? 1000 * (ab_value(w, AB_F_GRAVITY_LAST) - w->safe_fg)
	    : ab_value(w, AB_F_GRAVITY_OVER_EXPECTED);
	double fell = still_falls(w, over);
	bool lower = ab_forced_lower(w), stalled = ab_known(w, AB_F_FERMENT_STALLED)
	    ? ab_value(w, AB_F_FERMENT_STALLED) > 0
	    : over >= SHORT_POINTS;
	bool slow = ab_slow_goes_on(w);
	enum { FALLING = AB_GRAVITY_FALLING - 1, FINISHED = AB_GRAVITY_FINISHED - 1, STALLED = AB_GRAVITY_STALLED - 1 };

	ab_rest_on_fact(&basis, &w->facts[AB_F_FERMENT_STALLED]);
	if (lower)
		ab_rest_on_basis(&basis, &w->expected_basis);
	stalled |= lower && over >= SHORT_POINTS;
	basis.guess |= safe && stalled;   /* by a yeast that only stands in */
	if (left > 1000 * AT_WORK_SG)
		ab_set(w, AB_F_GRAVITY_STATE, &basis, FALLING, 0, 'B',
		    "%.1f points to go by the curve", left);
	else if (isfinite(left) && (stalled || !(lower || slow)))
		ab_set(w, AB_F_GRAVITY_STATE, &basis, stalled ? STALLED : FINISHED, 0, 'B',
		    "%.1f points from where it comes to rest", left);
	else if (fell > 0) {
		basis.guess |= safe;
		ab_set(w, AB_F_GRAVITY_STATE, &basis, FALLING, 0, 'B',
		    "%.1f points between the last two readings", fell);
	}
}

/* The curve's middle is better than two readings around the half, so it takes the place of
 * attenuation.c's. */
void ab_facts_curve(struct ab_work *w)
{
	fit(w);
	if (w->gravity_curve.refusal == AB_CURVE_FITTED) {
		set_curve(w);
		w->half_h = w->gravity_curve.curve.param[AB_CURVE_M];
	}
	set_state(w);
}

enum ab_status ab_curve_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_curve_of *out, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena };

	memset(out, 0, sizeof *out);
	w.facts = ab_arena_alloc(arena, AB_F_MAX_, sizeof *w.facts);
	if (w.facts != NULL)
		ab_facts_walk_to(&w, ab_facts_curve);
	if (w.facts == NULL || w.short_of_memory)
		return ab_fail(diag, AB_ENOMEM, batch->source, batch->mark.line,
		    "out of memory while fitting the gravity curve");
	*out = w.gravity_curve;
	return AB_OK;
}
