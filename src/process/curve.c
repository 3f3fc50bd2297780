/* curve.c - the gravity curve: where to begin, when to refuse, and what follows from it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/curve.h>
#include <math.h>
#include <string.h>
#include "process/curve_fit.h"

const char *const ab_words_gravity_state[] = { "falling", "finished", "stalled", NULL };

const char *const ab_curve_refusal_text[] = {
	[AB_CURVE_UNTRIED] = "no curve was tried",
	[AB_CURVE_FITTED] = "a curve fits",
	[AB_CURVE_FEW] = "there are too few gravity readings for a curve",
	[AB_CURVE_NO_FALL] = "the gravity readings do not fall",
	[AB_CURVE_ONE_END] = "the readings all lie on one side of half attenuation",
	[AB_CURVE_NO_END] = "no curve settles on the readings",
	[AB_CURVE_RATE] = "the best curve is steeper or flatter than any fermentation",
	[AB_CURVE_MIDDLE] = "the best curve has its middle far from the readings",
	[AB_CURVE_VAGUE] = "the readings leave the curve too vague",
	NULL
};

/* Typical B is 0.08 to 0.2 (ale) and 0.02 to 0.06 (lager), from memory; the limits leave room for the odd
 * brewer. */
static const double LEAST_FALL_P = 1, LEAST_B = 0.005, MOST_B = 0.6, MIDDLE_EARLY_H = 24, MIDDLE_LATE_H = 72,
    VAGUE_B = 0.5, VAGUE_PE = 2, LEAST_U = 1e-4;

double ab_curve_at(const struct ab_curve *c, double h)
{
	double left = ab_curve_left(c->param[AB_CURVE_B], c->param[AB_CURVE_M], h);
	return c->param[AB_CURVE_PE] + (c->param[AB_CURVE_PI] - c->param[AB_CURVE_PE]) * left;
}

double ab_curve_share(const struct ab_curve *c, double h)
{
	return 1 - ab_curve_left(c->param[AB_CURVE_B], c->param[AB_CURVE_M], h);
}

/* 24: per day, as brewers count, while the parameters count in hours. */
double ab_curve_slope(const struct ab_curve *c, double h)
{
	double left = ab_curve_left(c->param[AB_CURVE_B], c->param[AB_CURVE_M], h);
	return -24 * c->param[AB_CURVE_B] * (c->param[AB_CURVE_PI] - c->param[AB_CURVE_PE]) *
	    left * (1 - left);
}

/* sqrt(d' cov d) */
static double spread(const struct ab_curve *c, const double d[AB_CURVE_PARAMS])
{
	double var = 0;
	for (size_t i = 0; i < AB_CURVE_PARAMS; i++)
		for (size_t k = 0; k < AB_CURVE_PARAMS; k++)
			var += d[i] * d[k] * c->cov[i][k];
	return sqrt(fmax(0, var));
}

/* d holds the partial slopes in the order of the parameters (first-order propagation). */
double ab_curve_u(const struct ab_curve *c, double h)
{
	double b = c->param[AB_CURVE_B], m = c->param[AB_CURVE_M], left = ab_curve_left(b, m, h);
	double bend = (c->param[AB_CURVE_PI] - c->param[AB_CURVE_PE]) * left * (1 - left);
	const double d[AB_CURVE_PARAMS] = { left, 1 - left, -bend * (h - m), bend * b };
	return spread(c, d);
}

/* False where "near the end" is not below the whole fall: the logarithm would leave its domain. */
bool ab_curve_finish(const struct ab_curve *c, double near_p, double *h, double *u)
{
	double fall = c->param[AB_CURVE_PI] - c->param[AB_CURVE_PE], b = c->param[AB_CURVE_B];

	if (!(near_p > 0) || !(fall > near_p) || !(b > 0))
		return false;
	/* left = near/fall, so B (t - M) = ln(fall/near - 1) */
	double reach = log(fall / near_p - 1), by_fall = 1 / (b * (fall - near_p));
	const double d[AB_CURVE_PARAMS] = { by_fall, -by_fall, -reach / (b * b), 1 };
	*h = c->param[AB_CURVE_M] + reach / b;
	*u = spread(c, d);
	return true;
}

/* Hour at which the readings pass p, straight between them; the nearer end when they do not. */
static double passes(const struct ab_curve_point *at, size_t n, double p)
{
	for (size_t i = 1; i < n; i++)
		if (at[i - 1].p >= p && at[i].p < p)
			return at[i - 1].h + (at[i].h - at[i - 1].h) * (at[i - 1].p - p) /
			    (at[i - 1].p - at[i].p);
	return at[0].p < p ? at[0].h : at[n - 1].h;
}

/* Both ends from the extremes, M where the middle is passed, B from the time between a quarter and
 * three quarters: there B t runs over 2 ln 3. The lower end is set 5 % beyond the lowest reading, as a
 * logistic never quite gets to its end. 0.015 to 0.3 keeps a start from noise inside what yeast does,
 * where the solver still has a slope to follow. */
static void begin(const struct ab_curve_point *at, size_t n, const struct ab_curve_known known[2],
    double start[])
{
	double hi = at[0].p, lo = at[0].p;

	for (size_t i = 1; i < n; i++) {
		hi = fmax(hi, at[i].p);
		lo = fmin(lo, at[i].p);
	}
	start[AB_CURVE_PI] = hi = known[0].known ? known[0].p : hi;
	start[AB_CURVE_PE] = lo = known[1].known ? known[1].p : lo - 0.05 * (hi - lo);
	double between = passes(at, n, lo + (hi - lo) / 4) - passes(at, n, lo + 0.75 * (hi - lo));
	start[AB_CURVE_M] = passes(at, n, (hi + lo) / 2);
	start[AB_CURVE_B] = fmin(fmax(2 * log(3) / fmax(between, 1), 0.015), 0.3);
}

/* Refusing before solving: with fewer points than parameters + 1, or no fall, the solver would still
 * find "a curve". */
static enum ab_curve_refusal bearable(const struct ab_curve_point *at, size_t n,
    const struct ab_curve_known known[2])
{
	double hi = known[0].known ? known[0].p : -HUGE_VAL, lo = known[1].known ? known[1].p : HUGE_VAL;

	if (n + known[0].known + known[1].known < 5)
		return AB_CURVE_FEW;
	for (size_t i = 0; i < n; i++) {
		hi = fmax(hi, at[i].p);
		lo = fmin(lo, at[i].p);
	}
	return hi - lo < LEAST_FALL_P ? AB_CURVE_NO_FALL : AB_CURVE_FITTED;
}

/* One that came out, against what the readings can tell. In this order, so that the message names the
 * root: a curve with no fall has no meaningful rate, one with readings on one side no meaningful
 * middle. */
static enum ab_curve_refusal judge(const struct ab_curve_point *at, size_t n,
    const struct ab_curve_known known[2], const struct ab_curve *c)
{
	double b = c->param[AB_CURVE_B], m = c->param[AB_CURVE_M], fall = c->param[AB_CURVE_PI] -
	    c->param[AB_CURVE_PE];
	bool above = known[0].known, below = known[1].known;

	for (size_t i = 0; i < n; i++) {
		above |= at[i].h < m;
		below |= at[i].h > m;
	}
	if (!(fall > LEAST_FALL_P))
		return AB_CURVE_NO_FALL;
	if (!(b >= LEAST_B && b <= MOST_B))
		return AB_CURVE_RATE;
	if (!above || !below)
		return AB_CURVE_ONE_END;
	if (!(m > -MIDDLE_EARLY_H && m < at[n - 1].h + MIDDLE_LATE_H))
		return AB_CURVE_MIDDLE;
	double u_b = sqrt(c->cov[AB_CURVE_B][AB_CURVE_B]), u_pe = sqrt(c->cov[AB_CURVE_PE][AB_CURVE_PE]);
	return u_b <= VAGUE_B * b && u_pe <= VAGUE_PE ? AB_CURVE_FITTED : AB_CURVE_VAGUE;
}

enum ab_curve_refusal ab_curve_fit(const struct ab_curve_point *at, size_t n, struct ab_curve_known original,
    struct ab_curve_known final, struct ab_curve *out)
{
	struct ab_curve_known known[2] = { original, final };
	double start[AB_CURVE_PARAMS];
	enum ab_curve_refusal no = bearable(at, n, known);

	memset(out, 0, sizeof *out);
	if (no != AB_CURVE_FITTED)
		return no;
	for (size_t k = 0; k < 2; k++)
		known[k].u = fmax(known[k].u, LEAST_U);
	begin(at, n, known, start);
	/* Other starts do not help: of thousands of drawn readings that did not settle, one did from the very
	 * curve they were drawn from. */
	return ab_curve_solve(at, n, known, start, out) ? judge(at, n, known, out) : AB_CURVE_NO_END;
}
