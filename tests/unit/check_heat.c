/* check_heat.c - fermentation heat and Newton's cooling: the model, its properties, UA from a log, and the facts
 *
 * The reference here is a plain fourth-order Runge-Kutta with a step of three minutes on the differential equation
 * itself, which shares no formula with the exact steps under test but the logistic.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/heat.h>
#include <afterboil/quantity.h>
#include <string.h>
#include "process/curve_fit.h"
#include "process/series.h"
#include "process/slots.h"

enum { HOURS = 200 };

static double room_of(const struct ab_heat_in *in, double h)
{
	for (size_t i = 1; i < in->n_room; i++)
		if (h < in->room_h[i] && h >= in->room_h[i - 1])
			return in->room_c[i - 1] +
			    (in->room_c[i] - in->room_c[i - 1]) * (h - in->room_h[i - 1]) /
			    (in->room_h[i] - in->room_h[i - 1]);
	return h < in->room_h[0] ? in->room_c[0] : in->room_c[in->n_room - 1];
}

static double slope(const struct ab_heat_in *in, double h, double t)
{
	double e = exp(in->b * (h - in->m_h)), q = in->heat_kj * in->b * e / ((1 + e) * (1 + e));
	return (q - 3.6 * in->ua_wk * (t - room_of(in, h))) / in->capacity_kjk;
}

static void runge_kutta(const struct ab_heat_in *in, double *out)
{
	double t = in->start_c, dt = 0.05;

	for (int i = 0; i < 20 * HOURS; i++) {
		double h = i * dt;
		if (i % 20 == 0)
			out[i / 20] = t;
		double a = slope(in, h, t), b = slope(in, h + dt / 2, t + dt / 2 * a),
		       c = slope(in, h + dt / 2, t + dt / 2 * b), d = slope(in, h + dt, t + dt * c);
		t += dt / 6 * (a + 2 * b + 2 * c + d);
	}
}

static const double zero[] = { 0 }, twenty[] = { 20 }, night_h[] = { 0, 12, 24, 36, 48, 60, 96 },
    night_c[] = { 22, 16, 22, 15, 23, 16, 20 };

/* All of 20 L that release 973.8 kJ. */
static const struct { const char *title; double b, m, ua, start; const double *h, *c; size_t n; } runs[] = {
	{ "still air", 0.1, 36, 2.5, 20, zero, twenty, 1 }, { "jacket", 0.1, 36, 1.25, 20, zero, twenty, 1 },
	{ "fast, in a bath", 0.2, 36, 12, 20, zero, twenty, 1 }, { "pitched warm", 0.12, 30, 2.5, 28, zero, twenty, 1 },
	{ "pitched cold", 0.12, 30, 2.5, 12, zero, twenty, 1 },
	{ "days and nights", 0.1, 40, 4, 20, night_h, night_c, 7 },
	{ "lager", 0.035, 100, 2.5, 10, zero, twenty, 1 },
};

static struct ab_heat_in in_of(int i)
{
	return (struct ab_heat_in){ .capacity_kjk = 83.6,
		.heat_kj = 973.8,
		.b = runs[i].b,
		.m_h = runs[i].m,
		.ua_wk = runs[i].ua,
		.start_c = runs[i].start,
		.room_h = runs[i].h,
		.room_c = runs[i].c,
		.n_room = runs[i].n };
}

START_TEST(trace_solves_the_equation)
{
	struct ab_heat_in in = in_of(_i);
	double want[HOURS], got[HOURS];

	runge_kutta(&in, want);
	ab_heat_trace(&in, 1, HOURS, got);
	for (int i = 0; i < HOURS; i++)
		ck_assert_msg(fabs(got[i] - want[i]) < 0.02, "%s at %d h: %.4f, not %.4f", runs[_i].title, i,
		    got[i], want[i]);
}
END_TEST

/* Second order: a quarter of the step, a sixteenth of the error, or so. */
START_TEST(finer_steps_come_closer)
{
	struct ab_heat_in in = in_of(_i);
	double want[HOURS], coarse[HOURS], fine[4 * HOURS], off1 = 0, off4 = 0;

	runge_kutta(&in, want);
	ab_heat_trace(&in, 1, HOURS, coarse);
	ab_heat_trace(&in, 0.25, 4 * HOURS, fine);
	for (int i = 0; i < HOURS; i++) {
		off1 = fmax(off1, fabs(coarse[i] - want[i]));
		off4 = fmax(off4, fabs(fine[4 * i] - want[i]));
	}
	ck_assert_msg(off4 < off1 / 8 + 1e-6, "%s: %g and %g", runs[_i].title, off1, off4);
}
END_TEST

/* A perfect jacket keeps all the heat: 973.8 kJ in 83.6 kJ/K. And the trap: heat of 1.217 kJ a gram would warm it
 * twice as much. */
START_TEST(nothing_is_lost_in_a_perfect_jacket)
{
	struct ab_heat_in in = in_of(0);
	double c[HOURS];

	in.ua_wk = 0;
	ab_heat_trace(&in, 1, HOURS, c);
	ck_assert_double_eq_tol(c[HOURS - 1] - 20, 973.8 / 83.6 / (1 + exp(-3.6)), 1e-4);
	/* about 1.45 K for a real degree Plato fermented */
	double og = 1.0484, extract = ab_heat_extract(og, 1.010), re_fall = extract / (10 * og * 0.9982);
	double rise = AB_HEAT_LOW * extract * 20 / ab_heat_capacity(20, og) / re_fall;
	ck_assert_double_eq_tol(rise, 1.45, 0.05);
	ck_assert_double_eq_tol(AB_HEAT_HIGH / AB_HEAT_LOW, 1.11, 0.01);
	ck_assert(AB_HEAT_HIGH < 1.217 / 1.5);
}
END_TEST

/* In a perfect jacket each hour's warmth is what the logistic says by itself, also months on and where fermentation
 * begins so late that the exponential at first is too small for a double. */
START_TEST(the_logistic_of_every_hour)
{
	enum { LONG = 9000 };
	static const struct { double b, m; } curves[] = { { 0.1, 36 }, { 0.035, 100 }, { 0.4, 500 },
	    { 0.2, 5000 }, { 2, 3 } };
	static double c[LONG];

	for (size_t k = 0; k < sizeof curves / sizeof *curves; k++) {
		struct ab_heat_in in = in_of(0);

		in.ua_wk = 0;
		in.b = curves[k].b;
		in.m_h = curves[k].m;
		ab_heat_trace(&in, 1, LONG, c);
		for (int i = 0; i < LONG; i++) {
			double want = 973.8 / 83.6 * (ab_curve_left(in.b, in.m_h, 0) - ab_curve_left(in.b, in.m_h, i));
			ck_assert_double_eq_tol(c[i] - 20, want, 1e-11);
		}
	}
}
END_TEST

/* Warmer rooms and more heat never make colder beer, nor a looser vessel a warmer peak in a room as warm as its
 * start. */
START_TEST(never_the_wrong_way)
{
	struct ab_heat_in in = in_of(_i), more = in;
	double base[HOURS], other[HOURS], warm[8];

	ab_heat_trace(&in, 1, HOURS, base);
	for (size_t i = 0; i < in.n_room; i++)
		warm[i] = in.room_c[i] + (i == 0 ? 2 : 1);
	more.room_c = warm;
	ab_heat_trace(&more, 1, HOURS, other);
	for (int i = 0; i < HOURS; i++)
		ck_assert_msg(other[i] >= base[i] - 1e-12, "%s: a warmer room, %d h", runs[_i].title, i);
	more = in;
	more.heat_kj *= 1.1;
	ab_heat_trace(&more, 1, HOURS, other);
	for (int i = 0; i < HOURS; i++)
		ck_assert_msg(other[i] >= base[i] - 1e-12, "%s: more heat, %d h", runs[_i].title, i);
	more = in_of(0);
	ab_heat_trace(&more, 1, HOURS, base);
	more.ua_wk *= 1.3;
	ab_heat_trace(&more, 1, HOURS, other);
	for (int i = 0; i < HOURS; i++)
		ck_assert_msg(other[i] <= base[i] + 1e-12, "a looser vessel, %d h", i);
}
END_TEST

START_TEST(volumes_and_ways)
{
	for (int way = 0; way < AB_HEAT_WAY_MAX_; way++) {
		struct ab_heat_ua small = ab_heat_ua_usual(way, 20), big = ab_heat_ua_usual(way, 160);
		ck_assert(small.low > 0 && small.low <= small.mid && small.mid <= small.high);
		ck_assert_double_eq_tol(big.mid, 4 * small.mid, 1e-9); /* eight times the volume, four times the
									  skin */
	}
	ck_assert(ab_heat_ua_usual(AB_HEAT_JACKET, 20).high < ab_heat_ua_usual(AB_HEAT_STILL_AIR, 20).low);
	ck_assert(ab_heat_ua_usual(AB_HEAT_STILL_AIR, 20).high < ab_heat_ua_usual(AB_HEAT_FAN, 20).low);
}
END_TEST

/* A log made with one UA gives that UA back, with and without noise; u holds what the noise did. */
static const double made_with[] = { 1.2, 2.5, 4, 8 };

START_TEST(ua_comes_back)
{
	struct ab_heat_in in = in_of(5);
	double c[HOURS], h[HOURS], ua, u;

	in.ua_wk = made_with[_i];
	ab_heat_trace(&in, 1, HOURS, c);
	for (int i = 0; i < HOURS; i++)
		h[i] = i;
	ck_assert(ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	ck_assert_msg(fabs(ua - made_with[_i]) < 0.01 * made_with[_i], "%g for %g", ua, made_with[_i]);
	ck_assert(u < 0.1 * ua);
	for (int i = 1; i < HOURS; i++)
		c[i] += 0.5 * (i % 4 == 0) - 0.5 * (i % 4 == 2) + 0.3 * (i % 3 == 0) - 0.3 * (i % 3 == 1);
	ck_assert(ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	ck_assert_msg(fabs(ua - made_with[_i]) < 3 * u + 0.01 * made_with[_i], "%g +- %g for %g", ua, u, made_with[_i]);
}
END_TEST

/* u is a thermometer's 0.3 K over what the log moves when UA does: by differences of traces, no curvature. */
START_TEST(ua_is_as_sure_as_a_thermometer)
{
	struct ab_heat_in in = in_of(0), more = in;
	double c[HOURS], d[HOURS], h[HOURS], ua, u, sum = 0;

	ab_heat_trace(&in, 1, HOURS, c);
	more.ua_wk = 2.5 * 1.001;
	ab_heat_trace(&more, 1, HOURS, d);
	for (int i = 0; i < HOURS; i++)
		h[i] = i;
	for (int i = 0; i < 120; i++)
		sum += (d[i] - c[i]) / 1e-3 * (d[i] - c[i]) / 1e-3;
	ck_assert(ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	ck_assert_double_eq_tol(u, 2.5 * 0.3 / sqrt(sum), 0.05 * u);
	/* a log of every minute is thinned, comes to the same and is no surer than 128 readings: those of every
	 * hour would be 120 */
	static double fine_h[60 * 120], fine_c[60 * 120];
	double ua_fine, u_fine;
	ab_heat_trace(&in, 1 / 60.0, 60 * 120, fine_c);
	for (int i = 0; i < 60 * 120; i++)
		fine_h[i] = i / 60.0;
	ck_assert(ab_heat_fit_ua(&in, fine_h, fine_c, 60 * 120, &ua_fine, &u_fine));
	ck_assert_double_eq_tol(ua_fine, 2.5, 0.01);
	ck_assert_double_eq_tol(u_fine, u, 0.1 * u);
	/* the first hours hardly move, and say hardly anything; five good readings are one too few */
	ck_assert(!ab_heat_fit_ua(&in, h, c, 9, &ua, &u));
	for (int i = 0; i < 6; i++) {
		h[i] = 20 * i;
		c[i] = c[20 * i];
	}
	ck_assert(ab_heat_fit_ua(&in, h, c, 6, &ua, &u));
	ck_assert(!ab_heat_fit_ua(&in, h, c, 5, &ua, &u));
}
END_TEST

/* Much heat makes UA sharp, and still one beyond any vessel is not believed. */
START_TEST(ua_has_bounds)
{
	struct ab_heat_in in = in_of(0);
	double c[HOURS], h[HOURS], ua, u;

	for (int i = 0; i < HOURS; i++)
		h[i] = i;
	in.heat_kj *= 50;
	in.ua_wk = 80;
	ab_heat_trace(&in, 1, HOURS, c);
	ck_assert(!ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	in.ua_wk = 0.1;
	ab_heat_trace(&in, 1, HOURS, c);
	ck_assert(!ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	in.ua_wk = 30;
	ab_heat_trace(&in, 1, HOURS, c);
	ck_assert(ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	ck_assert_double_eq_tol(ua, 30, 0.3);
}
END_TEST

/* With twice the heat assumed a log yields about twice the UA: the trap shows. */
START_TEST(doubled_heat_is_found_out)
{
	struct ab_heat_in in = in_of(0);
	double c[HOURS], h[HOURS], ua, u;

	ab_heat_trace(&in, 1, HOURS, c);
	for (int i = 0; i < HOURS; i++)
		h[i] = i;
	in.heat_kj *= 1.217 / 0.5866;
	ck_assert(ab_heat_fit_ua(&in, h, c, 120, &ua, &u));
	ck_assert(ua > 1.6 * 2.5);
}
END_TEST

START_TEST(ua_is_not_made_up)
{
	static const double flat[] = { 20, 20, 20, 20, 20, 20, 20 }, h[] = { 0, 24, 48, 72, 96, 120, 144 };
	struct ab_heat_in in = in_of(0);
	double ua, u;

	ck_assert(!ab_heat_fit_ua(&in, h, flat, 5, &ua, &u));      /* too few */
	in.heat_kj = 0;
	ck_assert(!ab_heat_fit_ua(&in, h, flat, 7, &ua, &u));      /* no heat and no difference: nothing to learn */
	in.heat_kj = 973.8;
	ck_assert(!ab_heat_fit_ua(&in, h, flat, 7, &ua, &u)); /* beer as the room all the time: beyond any vessel */
}
END_TEST

START_TEST(extract_fermented)
{
	/* 12 P to an apparent 2.5 P: RDF 0.648 of 125.6 g/L */
	double og = ab_sg_from_plato(12), fg = ab_sg_from_plato(2.5);
	ck_assert_double_eq_tol(ab_heat_extract(og, fg), 125.6 * 0.8192 * (12 - 2.5) / 12, 0.1);
	ck_assert_double_eq_tol(ab_heat_extract(og, og), 0, 1e-9);
	ck_assert_double_eq_tol(ab_heat_capacity(20, 1.045), 83.6, 1e-9);
}
END_TEST

#define ALE "<yeast class='clean-ale'/>"
#define OWN "<recipe volume='20 L'/><reading at='+0h' gravity='1.049 SG'/><reading at='+24h' gravity='1.0405 SG'/>" \
	"<reading at='+36h' gravity='1.0295 SG'/><reading at='+48h' gravity='1.019 SG'/>" \
	"<reading at='+72h' gravity='1.011 SG'/>" \
	"<reading at='+120h' gravity='1.010 SG'/>"
#define BREW "<recipe volume='20 L' og='1.048 SG' fg='1.012 SG'/>"
static const struct fact_row rows[] = {
	/* scipy's solve_ivp: peak 2.638 K over a room of 21 C (see check_temperature.c) */
	{ .title = "rise", ALE BREW "<vessel kind='bucket' room='21 C'/>", "ferment.heat-rise", 2.638, 0.02, NULL,
	    AB_ORIGIN_DERIVED },
	{ .title = "less in a bath", ALE BREW "<vessel kind='bucket' room='21 C' control='water-bath'/>",
	    "ferment.heat-rise", 0.768, 0.02 },
	{ .title = "more in a bigger one",
	    ALE "<recipe volume='160 L' og='1.048 SG' fg='1.012 SG'/><vessel room='21 C'/>", "ferment.heat-rise",
	  4.232, 0.03 },
	{ .title = "a lager makes little", "<yeast class='lager'/>" BREW "<vessel room='10 C'/>",
	    "ferment.heat-rise", 0.891, 0.02 },
	{ .title = "no room", ALE BREW, "ferment.heat-rise", AB_SILENT },
	{ .title = "held by a fridge", ALE BREW "<vessel control='fridge' target='18 C' room='25 C'/>",
	    "ferment.heat-rise", AB_SILENT },
	{ .title = "measured",
	    ALE "<reading at='+24h' wort='22 C' room='19 C'/><reading at='+48h' wort='23.5 C' room='19.5 C'/>",
	  "ferment.heat-rise", 4, 1e-9 },
	{ .title = "beer alone", ALE "<vessel room='20 C'/><reading at='+24h' wort='22 C'/>", "ferment.heat-rise",
	    AB_SILENT },
	{ .title = "few readings, no UA",
	    ALE "<reading at='+24h' wort='22 C' room='19 C'/><reading at='+48h' wort='23.5 C' room='19.5 C'/>",
	  "vessel.ua", AB_SILENT },
	/* made with 2.5 W/K by scipy's solve_ivp, rounded to 0.1 K: 20 L, 1.048 to 1.012, B 0.12/h, M 30 h, room
	 * 20 C, pitched at 20 C */
	{ .title = "UA", ALE BREW "<vessel room='20 C'/><pitch at='2031-03-01T18:00' temp='20 C'/>"
	    "<reading at='+12h' wort='20.6 C' room='20 C'/>"
	  "<reading at='+24h' wort='21.7 C' room='20 C'/><reading at='+36h' wort='22.6 C' room='20 C'/>"
	  "<reading at='+48h' wort='22.0 C' room='20 C'/>"
	  "<reading at='+60h' wort='21.0 C' room='20 C'/><reading at='+84h' wort='20.1 C' room='20 C'/>",
	  "vessel.ua", 2.5, 0.25, .u = 0.55 },
	/* the same log, and then cold: told as a crash it says nothing of the room's air */
	{ .title = "UA until the crash", ALE BREW
	    "<vessel room='20 C'/><pitch at='2031-03-01T18:00' temp='20 C'/>"
	    "<reading at='+12h' wort='20.6 C' room='20 C'/>"
	  "<reading at='+24h' wort='21.7 C' room='20 C'/><reading at='+36h' wort='22.6 C' room='20 C'/>"
	  "<reading at='+48h' wort='22.0 C' room='20 C'/>"
	  "<reading at='+60h' wort='21.0 C' room='20 C'/><reading at='+84h' wort='20.1 C' room='20 C'/>"
	  "<crash at='+90h' temp='2 C'/>"
	  "<reading at='+120h' wort='2 C' room='20 C'/>", "vessel.ua", 2.5, 0.25 },
	{ .title = "no UA of a cooled one",
	    ALE BREW "<vessel room='20 C' control='chamber' target='20 C'/><pitch at='2031-03-01T18:00' temp='20 C'/>"
	  "<reading at='+12h' wort='20.6 C' room='20 C'/><reading at='+24h' wort='21.7 C' room='20 C'/>"
	  "<reading at='+36h' wort='22.6 C' room='20 C'/>"
	  "<reading at='+48h' wort='22.0 C' room='20 C'/><reading at='+60h' wort='21.0 C' room='20 C'/>"
	  "<reading at='+84h' wort='20.1 C' room='20 C'/>",
	  "vessel.ua", AB_SILENT },
	/* pitched 8 K warm it takes a day to come down; by solve_ivp again */
	{ .title = "a warm pitch stays warm",
	    ALE BREW "<pitch at='2031-03-01T18:00' temp='29 C'/><vessel room='21 C'/>", "ferment.early-mean",
	  23.385, 0.03 },
	/* a lag of 36 h puts all of it 24 h later */
	{ .title = "after a long lag", ALE BREW "<lag first-signs='36 h'/><vessel room='21 C'/>",
	    "ferment.early-mean", 22.035, 0.02 },
	/* what is left of a warm pitch after half a day counts as a peak, the pitch itself does not */
	{ .title = "a pitch is no peak", ALE BREW "<pitch at='2031-03-01T18:00' temp='29 C'/><vessel room='21 C'/>",
	    "ferment.peak-over", 3.801, 0.02 },
	/* along the batch's own curve, B 0.1 and M 36, 1.050 to 1.010: 2.48 K; a typical curve would make 2.86 */
	{ .title = "along its own curve", ALE OWN "<vessel room='20 C'/>", "ferment.heat-rise", 2.50, 0.1 },
	{ .title = "a room that was followed",
	    ALE BREW "<reading at='+0h' room='18 C'/><reading at='+240h' room='18 C'/>", "ferment.early-mean",
	  19.35, 0.02 },
};

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void) diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

/* low <= mid <= high at every hour, and the levels' u span it. */
START_TEST(the_band_holds_its_middle)
{
	static const char *const vessels[] = { "", "control='water-bath'", "control='fan'", "control='wet-cloth'",
		"control='ice-bottles'", "control='room'" };
	struct ab_arena *arena = ab_arena_new();
	struct ab_diag diag;
	struct ab_batch *batch = NULL;
	struct ab_heat_of of;

	ab_diag_init(&diag);
	for (size_t i = 0; i < sizeof vessels / sizeof *vessels; i++) {
		char *text = ab_arena_printf(arena,
		    "<batch xmlns='urn:afterboil:journal:1' id='t' brewed='2031-03-01'><pitch at='2031-03-01T18:00' "
		    "temp='24 C'/>" ALE BREW "<vessel room='19 C' %s/></batch>",
		    vessels[i]);
		ck_assert_int_eq(
		    ab_journal_read_memory(text, strlen(text), "t", NULL, arena, keep, &batch, &diag), AB_OK);
		ck_assert_int_eq(ab_heat_of_batch(batch, NULL, &fact_norms, arena, &of, &diag), AB_OK);
		ck_assert_uint_ge(of.n, 100);
		double widest = 0;
		for (size_t k = 0; k < of.n; k++) {
			ck_assert_msg(
			    of.low[k] <= of.mid[k] && of.mid[k] <= of.high[k], "%s hour %d", vessels[i], (int)k);
			widest = fmax(widest, of.high[k] - of.low[k]);
		}
		ck_assert_msg(widest > 0.3, "%s: no band", vessels[i]);
		ck_assert_double_eq_tol(of.mid[0], 24, 1e-9);
	}
	ab_arena_free(arena);
}
END_TEST

static double widest(const char *journal, struct ab_arena *arena)
{
	struct ab_heat_of of;
	struct ab_diag diag;
	double most = 0;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_heat_of_batch(fact_read(journal, arena), NULL, &fact_norms, arena, &of, &diag), AB_OK);
	for (size_t k = 0; k < of.n; k++)
		most = fmax(most, of.high[k] - of.low[k]);
	return most;
}

/* One's own gravities narrow the band, and raise the grade. */
START_TEST(own_curve_narrows)
{
	struct ab_arena *arena = ab_arena_new();
	static struct ab_fact facts[AB_F_MAX_];
	double own = widest(ALE OWN "<vessel room='20 C'/>", arena),
	       typical = widest(ALE BREW "<vessel room='20 C'/>", arena);

	ck_assert_msg(own > 0.5 && own < 0.45 * typical, "%g and %g", own, typical);
	ck_assert_msg(!(widest(ALE BREW "<vessel room='20 C'/><reading at='+30h' wort='21 C'/>", arena) > 0),
	    "measured beer is reconstructed");
	fact_compute(ALE OWN "<vessel room='20 C'/>", NULL, arena, facts);
	ck_assert_int_eq(facts[AB_F_FERMENT_EARLY_MEAN].grade, 'B');
	ck_assert(!AB_FACT_KNOWN(&facts[AB_F_FERMENT_HOURS_OUT]));
	fact_compute(ALE BREW "<vessel room='20 C'/>", NULL, arena, facts);
	ck_assert_int_eq(facts[AB_F_FERMENT_EARLY_MEAN].grade, 'C');
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("heat");
	int n = sizeof runs / sizeof *runs;

	tcase_add_loop_test(tc, trace_solves_the_equation, 0, n);
	tcase_add_loop_test(tc, finer_steps_come_closer, 0, n);
	tcase_add_test(tc, nothing_is_lost_in_a_perfect_jacket);
	tcase_add_test(tc, the_logistic_of_every_hour);
	tcase_add_loop_test(tc, never_the_wrong_way, 0, n);
	tcase_add_test(tc, volumes_and_ways);
	tcase_add_loop_test(tc, ua_comes_back, 0, sizeof made_with / sizeof *made_with);
	tcase_add_test(tc, ua_is_as_sure_as_a_thermometer);
	tcase_add_test(tc, ua_has_bounds);
	tcase_add_test(tc, doubled_heat_is_found_out);
	tcase_add_test(tc, ua_is_not_made_up);
	tcase_add_test(tc, extract_fermented);
	tcase_add_test(tc, own_curve_narrows);
	tcase_add_test(tc, the_band_holds_its_middle);
	return fact_rows_run("heat", rows, sizeof rows / sizeof *rows, tc);
}
