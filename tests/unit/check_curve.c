/* check_curve.c - the gravity curve: fit, refusals, what it foretells, and its facts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/curve.h>
#include <string.h>
#include "process/curve_fit.h"
#include "process/series.h"
#include "process/slots.h"

enum { MOST = 40 };
static const struct ab_curve_known NO = { .known = false };

/* Readings off a known curve, with a small regular wobble. */
static size_t readings(struct ab_curve_point *at, const double param[4], const double *h, size_t n, double wobble)
{
	struct ab_curve c = { .param = { param[0], param[1], param[2], param[3] } };

	for (size_t i = 0; i < n; i++)
		at[i] = (struct ab_curve_point){ h[i], ab_curve_at(&c, h[i]) + (i % 2 == 0 ? wobble : -wobble), 0.13 };
	return n;
}

static const double days[] = { 0, 24, 48, 72, 96, 120, 168, 240 };

/* pi, pe, B, M: an ale, a lager, a hot farmhouse, a strong slow one, one off to a late start */
static const double brews[][4] = {
	{ 12, 2.5, 0.1, 36 }, { 12, 2.8, 0.035, 100 }, { 14, 1, 0.2, 30 }, { 22, 6, 0.06, 60 },
	{ 11, 2.2, 0.12, 75 }, { 12, -0.5, 0.09, 50 },
};

START_TEST(finds_what_made_the_readings)
{
	struct ab_curve_point at[MOST];
	struct ab_curve c;
	size_t n = readings(at, brews[_i], days, sizeof days / sizeof *days, 0);

	ck_assert_int_eq(ab_curve_fit(at, n, NO, NO, &c), AB_CURVE_FITTED);
	for (int k = 0; k < AB_CURVE_PARAMS; k++)
		ck_assert_msg(fabs(c.param[k] - brews[_i][k]) < 1e-6 * fmax(1, brews[_i][k]),
		    "brew %d: parameter %d is %.9g, not %g", _i, k, c.param[k], brews[_i][k]);
	ck_assert_msg(c.chi2 < 1e-10, "brew %d: %g", _i, c.chi2);
	ck_assert_msg(c.r2 > 1 - 1e-9, "brew %d: %g", _i, c.r2);
	ck_assert_int_eq(c.freedom, 4);
}
END_TEST

/* Scatter and share explained, reckoned again over every reading, the first among them. */
START_TEST(quality_is_of_all_readings)
{
	struct ab_curve_point at[MOST];
	struct ab_curve c;
	size_t n = readings(at, brews[0], days, sizeof days / sizeof *days, 0.05);
	double mean = 0, left = 0, all = 0;

	ck_assert_int_eq(ab_curve_fit(at, n, NO, NO, &c), AB_CURVE_FITTED);
	for (const struct ab_curve_point *p = at; p < at + n; p++)
		mean += p->p / (double)n;
	for (const struct ab_curve_point *p = at; p < at + n; p++) {
		left += pow(p->p - ab_curve_at(&c, p->h), 2);
		all += pow(p->p - mean, 2);
	}
	ck_assert_double_eq_tol(c.r2, 1 - left / all, 1e-12);
	ck_assert_double_eq_tol(c.residual_sd, sqrt(left / c.freedom), 1e-12);
}
END_TEST

/* The rows a textbook of brewing research is checked with: Pi 12, Pe 2.5, B 0.1, M 36 (recomputed in double
 * precision). */
static const struct { double h, p; } rows12[] = {
	{ 0, 11.7473 }, { 12, 11.2099 }, { 24, 9.8010 }, { 36, 7.25 }, { 48, 4.6990 }, { 72, 2.7527 }, { 96, 2.5235 },
};

START_TEST(the_form)
{
	struct ab_curve c = { .param = { 12, 2.5, 0.1, 36 } };

	ck_assert_double_eq_tol(ab_curve_at(&c, rows12[_i].h), rows12[_i].p, 1e-4);
	ck_assert_double_eq_tol(ab_curve_slope(&c, 36), -24 * 0.2375, 1e-9);
	ck_assert_double_eq_tol(12 - 9.5 * ab_curve_share(&c, rows12[_i].h), ab_curve_at(&c, rows12[_i].h), 1e-12);
	ck_assert_double_eq_tol(ab_curve_at(&c, 1e6), 2.5, 1e-12);
	ck_assert_double_eq_tol(ab_curve_at(&c, -1e6), 12, 1e-12);
}
END_TEST

/* Slopes of the finish and of the band by differences, the delta method by hand. */
START_TEST(finish_and_band_follow_the_covariance)
{
	struct ab_curve_point at[MOST];
	struct ab_curve c, moved;
	double h, u, want = 0, band = 0, d[4], e[4];
	size_t n = readings(at, brews[_i], days, sizeof days / sizeof *days, 0.1);

	ck_assert_int_eq(ab_curve_fit(at, n, NO, NO, &c), AB_CURVE_FITTED);
	ck_assert(ab_curve_finish(&c, 0.13, &h, &u));
	ck_assert_double_eq_tol(ab_curve_at(&c, h) - c.param[AB_CURVE_PE], 0.13, 1e-9);
	for (int k = 0; k < 4; k++) {
		double step = 1e-5 * fabs(c.param[k]), up, down, no;
		moved = c;
		moved.param[k] += step;
		ck_assert(ab_curve_finish(&moved, 0.13, &up, &no));
		e[k] = ab_curve_at(&moved, 60);
		moved.param[k] -= 2 * step;
		ck_assert(ab_curve_finish(&moved, 0.13, &down, &no));
		d[k] = (up - down) / (2 * step);
		e[k] = (e[k] - ab_curve_at(&moved, 60)) / (2 * step);
	}
	for (int i = 0; i < 4; i++)
		for (int k = 0; k < 4; k++) {
			want += d[i] * d[k] * c.cov[i][k];
			band += e[i] * e[k] * c.cov[i][k];
		}
	ck_assert_double_eq_tol(u, sqrt(want), 1e-4 * u);
	ck_assert_double_eq_tol(ab_curve_u(&c, 60), sqrt(band), 1e-4 * sqrt(band));
}
END_TEST

/* More readings, less doubt; wilder ones, more; the covariance widens with the scatter and never shrinks below the
 * readings' u. */
START_TEST(doubt_grows_with_scatter)
{
	static const double twice[] = { 0, 0.5, 24, 24.5, 48, 48.5, 72, 72.5, 96, 96.5, 120, 120.5, 168, 168.5, 240,
		240.5 };
	struct ab_curve_point at[MOST];
	struct ab_curve calm, wild, exact, many;

	ck_assert_int_eq(ab_curve_fit(at, readings(at, brews[0], days, 8, 0), NO, NO, &exact), AB_CURVE_FITTED);
	ck_assert_int_eq(ab_curve_fit(at, readings(at, brews[0], days, 8, 0.02), NO, NO, &calm), AB_CURVE_FITTED);
	ck_assert_int_eq(ab_curve_fit(at, readings(at, brews[0], days, 8, 0.4), NO, NO, &wild), AB_CURVE_FITTED);
	ck_assert_int_eq(ab_curve_fit(at, readings(at, brews[0], twice, 16, 0), NO, NO, &many), AB_CURVE_FITTED);
	ck_assert_double_eq_tol(calm.cov[1][1], exact.cov[1][1], 0.1 * exact.cov[1][1]);
	ck_assert(wild.cov[1][1] > 3 * exact.cov[1][1]);
	ck_assert(many.cov[1][1] < 0.6 * exact.cov[1][1]);
	ck_assert(wild.residual_sd > 5 * calm.residual_sd && wild.r2 < calm.r2);
}
END_TEST

/* Every way to refuse. p < 0 ends the readings. */
static const struct {
	const char *title;
	double h[10], p[10];
	struct ab_curve_known original, final;
	enum ab_curve_refusal want;
} refusals[] = {
	{ "four readings are too few", { 0, 24, 48, 96 }, { 12, 9.8, 4.7, 2.5, -99 }, { 0 }, { 0 }, AB_CURVE_FEW },
	{ "four do with a known end", { 0, 24, 48, 72 }, { 11.75, 9.8, 4.7, 2.75, -99 }, { 0 }, { true, 2.5, 0.1 },
	    AB_CURVE_FITTED },
	{ "four do with a known original", { 24, 48, 72, 120 }, { 9.8, 4.7, 2.75, 2.5, -99 }, { true, 12, 0.1 },
	    { 0 }, AB_CURVE_FITTED },
	{ "three do with both", { 24, 36, 48 }, { 9.8, 7.25, 4.7, -99 }, { true, 12, 0.1 }, { true, 2.5, 0.1 },
	    AB_CURVE_FITTED },
	{ "three with one do not", { 24, 36, 48 }, { 9.8, 7.25, 4.7, -99 }, { true, 12, 0.1 }, { 0 }, AB_CURVE_FEW },
	{ "none at all", { 0 }, { -99 }, { true, 12, 0.1 }, { true, 2.5, 0.1 }, AB_CURVE_FEW },
	{ "only the first shows that it fell", { 0, 96, 120, 144, 168 }, { 12, 2.56, 2.52, 2.5, 2.5, -99 }, { 0 },
	    { 0 }, AB_CURVE_VAGUE },
	{ "it stands still", { 0, 24, 48, 72, 96 }, { 12, 12, 11.9, 12, 11.9, -99 }, { 0 }, { 0 }, AB_CURVE_NO_FALL },
	{ "a hundred hours of nothing, then one reading", { 0, 10, 20, 30, 250 }, { 12, 12, 12, 12, 2.5, -99 },
	    { 0 }, { 0 }, AB_CURVE_VAGUE },
	{ "one before and four after say nothing of the rate", { 0, 150, 170, 190, 210 },
	    { 12, 2.5, 2.5, 2.5, 2.5, -99 }, { 0 }, { 0 },
	    AB_CURVE_VAGUE },
};

START_TEST(refuses)
{
	struct ab_curve_point at[10];
	struct ab_curve c;
	size_t n = 0;

	for (; n < 10 && refusals[_i].p[n] > -9; n++)
		at[n] = (struct ab_curve_point){ refusals[_i].h[n], refusals[_i].p[n], 0.13 };
	enum ab_curve_refusal got = ab_curve_fit(at, n, refusals[_i].original, refusals[_i].final, &c);
	if (refusals[_i].want == AB_CURVE_VAGUE)   /* or any other word for "these cannot bear it" */
		ck_assert_msg(got != AB_CURVE_FITTED && got != AB_CURVE_FEW && got != AB_CURVE_NO_FALL, "%s: %s",
		    refusals[_i].title, ab_curve_refusal_text[got]);
	else
		ck_assert_msg(got == refusals[_i].want, "%s: %s (B %g M %g)", refusals[_i].title,
		    ab_curve_refusal_text[got], c.param[2], c.param[3]);
}
END_TEST

/* Readings off a curve that no brewer's is, or that say too little of it. */
static const struct {
	const char *title;
	double param[4], h[8], u;
	size_t n;
	struct ab_curve_known original;
	enum ab_curve_refusal want;
} odd[] = {
	{ "gone within hours", { 12, 2.5, 0.9, 30 }, { 20, 27, 29, 30, 31, 33, 40 }, 0.01, 7, { 0 }, AB_CURVE_RATE },
	{ "gone within months", { 12, 2.5, 0.004, 400 }, { 0, 100, 200, 300, 400, 500, 700, 1000 }, 0.01, 8, { 0 },
	    AB_CURVE_RATE },
	/* no loop over the readings may begin at the second */
	{ "one before the middle is enough", { 12, 2.5, 0.1, 20 }, { 0, 21, 25, 30, 36, 44, 50, 60 }, 1e-4, 8,
	    { 0 }, AB_CURVE_FITTED },
	{ "and one after it", { 12, 2.5, 0.1, 55 }, { 0, 12, 24, 36, 44, 50, 54, 90 }, 1e-4, 8, { 0 },
	    AB_CURVE_FITTED },
	{ "all before the middle", { 12, 2.5, 0.1, 60 }, { 0, 12, 24, 36, 44, 50, 55, 58 }, 1e-4, 8, { 0 },
	    AB_CURVE_ONE_END },
	{ "all after the middle", { 12, 2.5, 0.1, 20 }, { 21, 25, 30, 36, 44, 50, 60, 80 }, 1e-4, 8, { 0 },
	    AB_CURVE_ONE_END },
	{ "half gone before it was pitched", { 12, 2.5, 0.05, -30 }, { 0, 12, 24, 36, 48, 60, 80, 100 }, 1e-3, 8,
	    { true, 12, 1e-3 },
	  AB_CURVE_MIDDLE },
	{ "read by eye", { 12, 2.5, 0.1, 36 }, { 0, 24, 36, 48, 72 }, 4, 5, { 0 }, AB_CURVE_VAGUE },
	{ "the ends clear, one reading between", { 12, 2.5, 0.15, 36 }, { 0, 8, 36, 64, 72, 80 }, 0.4, 6, { 0 },
	    AB_CURVE_VAGUE },
	{ "just past the middle", { 12, 2.5, 0.1, 36 }, { 0, 8, 16, 24, 30, 34, 38, 40 }, 0.15, 8, { 0 },
	    AB_CURVE_VAGUE },
	{ "the same, read ten times as well", { 12, 2.5, 0.1, 36 }, { 0, 8, 16, 24, 30, 34, 38, 40 }, 0.015, 8,
	    { 0 }, AB_CURVE_FITTED },
};

START_TEST(refuses_odd_curves)
{
	struct ab_curve_point at[MOST];
	struct ab_curve c;
	size_t n = readings(at, odd[_i].param, odd[_i].h, odd[_i].n, 0);

	for (size_t i = 0; i < n; i++)
		at[i].u = odd[_i].u;
	enum ab_curve_refusal got = ab_curve_fit(at, n, odd[_i].original, NO, &c);
	ck_assert_msg(got == odd[_i].want, "%s: %s (B %g +- %g, Pe %g +- %g)", odd[_i].title,
	    ab_curve_refusal_text[got], c.param[2], sqrt(c.cov[2][2]), c.param[1], sqrt(c.cov[1][1]));
}
END_TEST

/* A curve that is only at its beginning does not know where it will end; told the end, it does. */
START_TEST(the_beginning_alone_tells_no_end)
{
	static const double early[] = { 0, 6, 12, 18, 24, 28 };
	struct ab_curve_point at[MOST];
	struct ab_curve c;
	size_t n = readings(at, brews[0], early, 6, 0.05);

	ck_assert_int_ne(ab_curve_fit(at, n, NO, NO, &c), AB_CURVE_FITTED);
	ck_assert_int_eq(ab_curve_fit(at, n, NO, (struct ab_curve_known){ true, 2.5, 0.2 }, &c), AB_CURVE_FITTED);
	ck_assert_double_eq_tol(c.param[AB_CURVE_M], 36, 3);
}
END_TEST

START_TEST(every_refusal_has_its_words)
{
	size_t n = 0;
	while (ab_curve_refusal_text[n] != NULL)
		ck_assert(strlen(ab_curve_refusal_text[n++]) > 8);
	ck_assert_uint_eq(n, AB_CURVE_REFUSAL_MAX_);
}
END_TEST

#define ALE "<yeast class='clean-ale'/>"
#define G(at, sg) "<reading at='" at "' gravity='" sg " SG' instrument='hydrometer'/>"
/* Pi 12.39 P (1.050), Pe 2.56 (1.010), B 0.1, M 36, rounded to the half point */
#define DONE G("+0h", "1.049") G("+24h", "1.0405") G("+36h", "1.0295") G("+48h", "1.019") G("+72h", "1.011") \
	G("+120h", "1.010")

static const struct fact_row rows[] = {
	{ .title = "final", ALE DONE, "gravity.curve-final", 1.010, 0.0007, NULL, AB_ORIGIN_DERIVED },
	{ .title = "rate", ALE DONE, "gravity.curve-b", 0.1, 0.01 },
	{ .title = "half", ALE DONE, "gravity.half-time", 36, 1.5 },
	/* 36 + ln(9.83/0.127 - 1)/0.1 = 79.3 h */
	{ .title = "finish", ALE DONE, "gravity.curve-finish-day", 79.3 / 24, 0.3 },
	{ .title = "no yeast needed", DONE, "gravity.curve-final", 1.010, 0.0007 },
	{ .title = "finished", ALE DONE, "gravity.state", 0, 0, .word = "finished" },
	{ .title = "four readings",
	    ALE G("+0h", "1.049") G("+24h", "1.0405") G("+48h", "1.019") G("+120h", "1.010"), "gravity.curve-final",
	  AB_SILENT },
	{ .title = "four and an original without its hour",
	    ALE "<reading gravity='1.050 SG' instrument='hydrometer'/>" G("+24h", "1.0405")
	  G("+36h", "1.0295") G("+48h", "1.019") G("+72h", "1.011"), "gravity.curve-b", 0.1, 0.02, .u = 0.0058 },
	{ .title = "four and a forced sample",
	    ALE "<test kind='forced-fermentation' result='yes' gravity='1.010 SG'/>" G("+0h", "1.049")
	  G("+24h", "1.0405") G("+36h", "1.0295") G("+48h", "1.019"), "gravity.curve-final", 1.010, 0.001 },
	{ .title = "another test's gravity is no end",
	    ALE "<test kind='hydrometer-water' result='yes' gravity='1.002 SG'/>" G("+0h", "1.049")
	  G("+24h", "1.0405") G("+36h", "1.0295") G("+48h", "1.019"), "gravity.curve-final", AB_SILENT },
	{ .title = "a refractometer misleads and is left out",
	    ALE G("+0h", "1.049") G("+24h", "1.0405") G("+48h", "1.019") G("+120h", "1.010")
	  "<reading at='+72h' gravity='1.022 SG' instrument='refractometer'/>", "gravity.curve-final", AB_SILENT },
	{ .title = "a sample not mixed is left out",
	    ALE G("+0h", "1.049") G("+24h", "1.0405") G("+48h", "1.019") G("+120h", "1.010")
	  "<reading at='+36h' gravity='1.0295 SG' instrument='hydrometer' mixed='no'/>", "gravity.curve-final",
	  AB_SILENT },
	{ .title = "a forced sample is no end of a beer at rest",
	    ALE "<test kind='forced-fermentation' result='yes' gravity='1.010 SG'/>"
	  G("+0h", "1.0495") G("+24h", "1.0435") G("+36h", "1.037") G("+48h", "1.0305") G("+72h", "1.0255")
	  G("+120h", "1.025"),
	  "gravity.curve-final", 1.025, 0.0008 },
	{ .title = "wort and one reading are no fall", ALE G("+0h", "1.050") G("+80h", "1.018"), "gravity.state",
	    AB_SILENT },
	{ .title = "falling by the curve",
	    ALE G("+0h", "1.049") G("+24h", "1.0405") G("+36h", "1.0295") G("+44h", "1.0225") G("+52h", "1.017")
	  G("+60h", "1.0135"), "gravity.state", 0, 0, .word = "falling" },
	{ .title = "falling by two readings", ALE G("+0h", "1.050") G("+48h", "1.030") G("+72h", "1.020"),
	    "gravity.state", 0, 0,
	  .word = "falling" },
	{ .title = "two readings weeks apart tell nothing",
	    ALE G("+0h", "1.050") G("+48h", "1.030") G("+20d", "1.018"), "gravity.state",
	  AB_SILENT },
	{ .title = "still and high", ALE G("+0h", "1.050") G("+5d", "1.025") G("+9d", "1.025"), "gravity.state", 0,
	    0, .word = "stalled" },
	{ .title = "a curve that came to rest high",
	    ALE G("+0h", "1.0495") G("+24h", "1.0435") G("+36h", "1.037") G("+48h", "1.0305")
	  G("+72h", "1.0255") G("+120h", "1.025"), "gravity.state", 0, 0, .word = "stalled" },
	{ .title = "still and low", ALE G("+0h", "1.050") G("+5d", "1.011") G("+9d", "1.011"), "gravity.state", 0,
	    0, .word = "finished" },
	/* inside the class's range, but a forced sample of it went on: neither finished, nor yet called stalled;
	 * far over it hangs */
	{ .title = "a forced sample fell by little", ALE G("+0h", "1.050") G("+5d", "1.012") G("+20d", "1.012")
	  "<test kind='forced-fermentation' result='yes' gravity='1.009 SG'/>", "gravity.state", AB_SILENT },
	{ .title = "a forced sample fell by much", ALE G("+0h", "1.050") G("+5d", "1.014") G("+20d", "1.014")
	  "<test kind='forced-fermentation' result='yes' gravity='1.005 SG'/>", "gravity.state", 0, 0,
	  .word = "stalled" },
	{ .title = "a forced sample stayed", ALE G("+0h", "1.050") G("+5d", "1.014") G("+20d", "1.014")
	  "<test kind='forced-fermentation' result='no' gravity='1.013 SG'/>", "gravity.state", 0, 0,
	  .word = "finished" },
	{ .title = "the last forced sample counts", ALE G("+0h", "1.050") G("+5d", "1.014") G("+20d", "1.014")
	  "<test kind='forced-fermentation' result='no' gravity='1.013 SG'/>"
	  "<test kind='forced-fermentation' result='yes' gravity='1.005 SG'/>",
	  "gravity.state", 0, 0, .word = "stalled" },
	{ .title = "one reading", ALE G("+0h", "1.050") G("+9d", "1.011"), "gravity.state", AB_SILENT },
	/* what comes after packaging is not of this curve */
	{ .title = "not after packaging", ALE DONE "<package at='+10d' gravity='1.010 SG'/>" G("+60d", "1.002"),
	    "gravity.curve-final", 1.010,
	  0.0007 },
	/* early mean to the curve's half, 36 h, not to 72: 18 until then, 26 after */
	{ .title = "half attenuation by the curve", ALE DONE "<recipe fg='1.010 SG'/><reading at='+2h' wort='18 C'/>"
	  "<reading at='+40h' wort='18 C'/><reading at='+41h' wort='26 C'/>", "ferment.early-mean", 18, 1e-6 },
};

/* A floating sensor writes thousands of rows: the curve is that of their means, and no surer than one sensor can be. */
START_TEST(a_log_is_thinned)
{
	enum { ROWS = 2000 };
	static struct ab_sample samples[ROWS];
	static struct ab_fact facts[AB_F_MAX_];
	double pitched = ab_when_from_civil(2031, 3, 1) + 18 * 3600;
	struct ab_sensor sensor = { .samples = samples, .n = ROWS };
	struct ab_log log = { .mark = { .line = 7 }, .sensor = &sensor };
	struct ab_pitch pitch = { .at = { .known = true, .s = pitched } };
	struct ab_batch batch = { .id = "t", .pitch = &pitch, .logs = { &log, 1, 1 } };
	struct ab_arena *arena = ab_arena_new();
	struct ab_diag diag;
	struct ab_curve_of of;

	for (int i = 0; i < ROWS; i++) {
		double h = 0.1 * i;
		samples[i] = (struct ab_sample){ pitched + 3600 * h, AB_NAN, AB_NAN,
			1.010 + 0.040 / (1 + exp(0.1 * (h - 40))) };
	}
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_compute(&batch, NULL, &fact_norms, arena, facts, &diag), AB_OK);
	ck_assert_double_eq_tol(facts[AB_F_GRAVITY_CURVE_FINAL].value, 1.010, 3e-4);
	/* half in deg P comes a little after half in SG: 7.47 P is 1.0297 */
	ck_assert_double_eq_tol(facts[AB_F_GRAVITY_HALF_TIME].value, 40.3, 0.2);
	ck_assert_int_eq(facts[AB_F_GRAVITY_CURVE_FINAL].lines[0], 7);
	ck_assert_int_eq(ab_curve_of_batch(&batch, NULL, &fact_norms, arena, &of, &diag), AB_OK);
	ck_assert_int_eq(of.refusal, AB_CURVE_FITTED);
	ck_assert_uint_le(of.n, 48);
	ck_assert_uint_ge(of.n, 40);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("curve");
	tcase_add_loop_test(tc, finds_what_made_the_readings, 0, sizeof brews / sizeof *brews);
	tcase_add_loop_test(tc, the_form, 0, sizeof rows12 / sizeof *rows12);
	tcase_add_loop_test(tc, finish_and_band_follow_the_covariance, 0, sizeof brews / sizeof *brews);
	tcase_add_test(tc, doubt_grows_with_scatter);
	tcase_add_test(tc, quality_is_of_all_readings);
	tcase_add_loop_test(tc, refuses, 0, sizeof refusals / sizeof *refusals);
	tcase_add_loop_test(tc, refuses_odd_curves, 0, sizeof odd / sizeof *odd);
	tcase_add_test(tc, the_beginning_alone_tells_no_end);
	tcase_add_test(tc, every_refusal_has_its_words);
	tcase_add_test(tc, a_log_is_thinned);
	return fact_rows_run("curve", rows, sizeof rows / sizeof *rows, tc);
}
