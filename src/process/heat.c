/* heat.c - fermentation heat against Newton's law of cooling, step by exact step
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/heat.h>
#include <assert.h>
#include <math.h>
#include <afterboil/quantity.h>
#include "process/curve_fit.h"
#include "process/extract.h"

/* Of a log: readings taken, and steps between them. */
enum { MOST_READ = 128, MOST_LEGS = 512 };
/* h: what the first leg is held against, and an hour is what most are cut to. */
static const double FIRST_LEG = 1;
/* kJ/(kg K) of wort and beer: 4.0 to 4.1, 4.05 for beer. */
static const double CP = 4.0;
/* W to kJ/h */
static const double KJ_H = 3.6;

/* In a bath the water floats in its turn, so the lower end is that of a bigger vessel in still air. */
static const struct ab_heat_ua usual[AB_HEAT_WAY_MAX_] = {
	[AB_HEAT_STILL_AIR] = { 2, 2.5, 3 },
	[AB_HEAT_JACKET] = { 1, 1.25, 1.5 },
	[AB_HEAT_FAN] = { 4, 5, 6 },
	[AB_HEAT_BATH] = { 4, 10, 15 },
	[AB_HEAT_FRIDGE] = { 3, 4.5, 6 },
};

/* Heat leaves by the surface, which grows with the power 2/3 of the volume; the table is for 20 L. */
struct ab_heat_ua ab_heat_ua_usual(enum ab_heat_way way, double volume_l)
{
	double by_area = cbrt(volume_l / 20) * cbrt(volume_l / 20);
	return (struct ab_heat_ua){ usual[way].low * by_area, usual[way].mid * by_area,
	    usual[way].high * by_area };
}

/* Real extract, since apparent attenuation flatters the sugar burnt; 10 og 0.9982: percent by weight to
 * g/L. */
double ab_heat_extract(double og_sg, double fg_sg)
{
	double oe = ab_plato_from_sg(og_sg), re = ab_extract_real(oe, ab_plato_from_sg(fg_sg));
	return 10 * (oe - re) * og_sg * 0.9982;
}

double ab_heat_capacity(double volume_l, double og_sg)
{
	return CP * og_sg * volume_l;
}

/* The room at hour h; *k walks along as h grows. Linear lookup with a cursor: every caller asks in
 * order of time, so a trace costs one walk of the room's log. */
static double room_at(const struct ab_heat_in *in, double h, size_t *k)
{
	assert(in->n_room > 0 && *k < in->n_room);
	while (*k + 1 < in->n_room && in->room_h[*k + 1] <= h)
		++*k;
	if (h <= in->room_h[*k] || *k + 1 == in->n_room)
		return in->room_c[*k];
	double part = (h - in->room_h[*k]) / (in->room_h[*k + 1] - in->room_h[*k]);
	return in->room_c[*k] + part * (in->room_c[*k + 1] - in->room_c[*k]);
}

/* What every step of one length has in common. */
struct stepper { double kept, loss, per_kj; };

/* kept = exp(-UA dt/C); a heat of 1 kJ spread evenly over the step ends as per_kj kelvins. Exact for a
 * constant room and an even heat, so it stays stable at any step, where Euler's rule would swing. Near
 * x = 0 the quotient is 0/0: its limit is 1. */
static struct stepper stepper_of(const struct ab_heat_in *in, double ua_wk, double dt)
{
	double x = KJ_H * ua_wk * dt / in->capacity_kjk;
	double spread = x > 1e-9 ? -expm1(-x) / x : 1;
	return (struct stepper){ exp(-x), -expm1(-x), spread / in->capacity_kjk };
}

static double stepped(const struct stepper *s, double c, double room, double kj)
{
	return c * s->kept + room * s->loss + kj * s->per_kj;
}

/* The heat of a step is the fall of the logistic (ab_curve_left) over it, not its slope at one end: nothing is lost
 * however long the step. Its exponential grows by one factor a step; taken anew now and then, so that no error of
 * rounding grows as well. */
void ab_heat_trace(const struct ab_heat_in *in, double step_h, size_t n, double *c)
{
	enum { ANEW = 24 };
	struct stepper s = stepper_of(in, in->ua_wk, step_h);
	double left = ab_curve_left(in->b, in->m_h, 0), t = in->start_c, grown = 0, factor = exp(in->b * step_h);
	size_t k = 0;

	for (size_t i = 0; i < n; i++) {
		c[i] = t;
		grown = i % ANEW == 0 ? exp(in->b * ((double)(i + 1) * step_h - in->m_h)) : grown * factor;
		double end = 1 / (1 + grown);   /* 0 beyond the range of double */
		t = stepped(&s, t, room_at(in, ((double)i + 0.5) * step_h, &k), in->heat_kj * (left - end));
		left = end;
	}
}

/* A log cut into legs: what each has of time, room and heat is the same for every UA that is tried.
 * read: the reading at its end, or -1. other: it is of another length than those before. At most MOST_READ - 1
 * readings cut time into legs no longer than the span over (MOST_LEGS - MOST_READ), which bounds both arrays; they
 * live on the stack. */
struct leg { double dt, room, kj; int read; bool other; };
struct legs { size_t n, readings; double c[MOST_READ]; struct leg at[MOST_LEGS]; };

/* Between readings no leg is longer than an hour, or than so many legs allow; of a fine log every so manieth
 * reading is taken. */
static void cut(const struct ab_heat_in *in, const double *h, const double *c, size_t n, struct legs *out)
{
	size_t stride = (n + MOST_READ - 1) / MOST_READ, k = 0;
	double left = ab_curve_left(in->b, in->m_h, h[0]);
	double longest = fmax(1, (h[n - 1] - h[0]) / (MOST_LEGS - MOST_READ)), at = h[0], length = FIRST_LEG;

	out->n = 0;
	out->readings = 1;
	out->c[0] = c[0];
	for (size_t i = stride; i < n; i += stride) {
		double from = at, steps = fmax(1, ceil((h[i] - from) / longest)), dt = (h[i] - from) / steps;
		bool other = fabs(dt - length) > 1e-6;
		length = other ? dt : length;
		for (double j = 1; j <= steps; j++) {
			at = from + j * dt;
			double end = ab_curve_left(in->b, in->m_h, at);
			out->at[out->n++] = (struct leg){ dt, room_at(in, at - dt / 2, &k),
			    in->heat_kj * (left - end), -1, other && j <= 1 };
			left = end;
		}
		at = h[i];
		assert(out->n > 0 && out->n <= MOST_LEGS && out->readings < MOST_READ);
		out->at[out->n - 1].read = (int)out->readings;
		out->c[out->readings++] = c[i];
	}
}

/* The sum of squares with a UA. Legs of one length, the rule in a log, share a stepper. */
static double squares(const struct ab_heat_in *in, const struct legs *legs, double ua)
{
	struct stepper s = stepper_of(in, ua, FIRST_LEG);
	double t = legs->c[0], sum = 0;

	for (size_t i = 0; i < legs->n; i++) {
		const struct leg *leg = &legs->at[i];
		if (leg->other)
			s = stepper_of(in, ua, leg->dt);
		t = stepped(&s, t, leg->room, leg->kj);
		if (leg->read >= 0)
			sum += (t - legs->c[leg->read]) * (t - legs->c[leg->read]);
	}
	return sum;
}

/* The sum of squares along ln UA has one valley where the log tells anything: golden section, then its
 * curvature. Golden section needs no slope and cannot leave the bracket. No thermometer is trusted
 * beyond 0.3 K, however well the legs fit. Refused where UA is known to no better than a half, or sits
 * at an end of the bracket: then the log does not tell it. */
bool ab_heat_fit_ua(const struct ab_heat_in *in, const double *beer_h, const double *beer_c, size_t n,
    double *ua_wk, double *u_wk)
{
	static const double LOW = 0.3, HIGH = 40, GOLDEN = 0.6180339887498949, THERMOMETER = 0.3, STEP = 0.05;

	struct legs legs;

	if (n < 6)
		return false;
	cut(in, beer_h, beer_c, n, &legs);
	double lo = log(LOW), hi = log(HIGH), a = hi - GOLDEN * (hi - lo), b = lo + GOLDEN * (hi - lo);
	double fa = squares(in, &legs, exp(a)), fb = squares(in, &legs, exp(b));
	while (hi - lo > 1e-4) {
		if (fa < fb) {
			hi = b;
			b = a, fb = fa;
			a = hi - GOLDEN * (hi - lo), fa = squares(in, &legs, exp(a));
		} else {
			lo = a;
			a = b, fa = fb;
			b = lo + GOLDEN * (hi - lo), fb = squares(in, &legs, exp(b));
		}
	}
	double x = (lo + hi) / 2, best = squares(in, &legs, exp(x));
	double bend = (squares(in, &legs, exp(x + STEP)) + squares(in, &legs, exp(x - STEP)) -
	    2 * best) / (STEP * STEP);
	double variance = fmax(best / (double)(legs.readings - 2), THERMOMETER * THERMOMETER);
	*ua_wk = exp(x);
	*u_wk = bend > 0 ? *ua_wk * sqrt(2 * variance / bend) : HUGE_VAL;
	return *u_wk <= *ua_wk / 2 && x > log(LOW) + STEP && x < log(HIGH) - STEP;
}
