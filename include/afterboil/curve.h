/* curve.h - the gravity curve: a logistic through the brewer's own gravities, and what it foretells
 *
 * Speers, Rogers and Smith 2003 (J. Inst. Brew. 109:229-235; method Yeast-14 of the ASBC): apparent extract
 * over time follows
 *     P(t) = Pe + (Pi - Pe) / (1 + exp(B (t - M)))
 * Pi original and Pe final apparent extract (deg P), B rate (1/h), M hour at which half is fermented;
 * steepest, B (Pi - Pe)/4, at M. The form is trusted (grade A); the numbers are the brewer's own. Everything
 * here takes numbers and gives numbers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CURVE_H
#define AFTERBOIL_CURVE_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/fact.h>
#include <afterboil/journal.h>
#include <afterboil/profile.h>

/* The parameters, by place. */
enum { AB_CURVE_PI, AB_CURVE_PE, AB_CURVE_B, AB_CURVE_M, AB_CURVE_PARAMS };

/* One gravity: hours after pitching, apparent extract in deg P, its standard uncertainty (over 0). */
struct ab_curve_point { double h, p, u; };
/* An original or final extract known otherwise: it enters as one more measurement of that parameter. As u
 * goes to 0 this is the curve with that parameter held. */
struct ab_curve_known { bool known; double p, u; };

/* Why there is no curve. AB_CURVE_FITTED: there is one. */
enum ab_curve_refusal {
	AB_CURVE_UNTRIED,
	AB_CURVE_FITTED,
	AB_CURVE_FEW,       /* fewer than 5 readings; 4 when one end is known, 3 when both are */
	AB_CURVE_NO_FALL,   /* the gravity does not fall by at least 1 deg P */
	AB_CURVE_ONE_END,   /* all readings lie on one side of half attenuation, and the other end is not
	                     * known */
	AB_CURVE_NO_END,    /* the iteration did not settle, or memory was short */
	AB_CURVE_RATE,      /* B outside 0.005 to 0.6 per hour: no fermentation goes so */
	AB_CURVE_MIDDLE,    /* M before pitching by more than a day, or long after the last reading */
	AB_CURVE_VAGUE,     /* the readings leave B more than half of itself wide, or the final gravity 2 deg
	                     * P */
	AB_CURVE_REFUSAL_MAX_
};
/* In words: "the readings all lie on one side of the middle". NULL-terminated list. */
extern const char *const ab_curve_refusal_text[];

struct ab_curve {
	double param[AB_CURVE_PARAMS];
	double cov[AB_CURVE_PARAMS][AB_CURVE_PARAMS];  /* from the readings' u; widened by chi2/freedom where
	                                                * they scatter more */
	size_t n;                                      /* readings */
	int freedom;                                   /* readings and known ends less 4 parameters */
	double chi2;                                   /* sum of squared (residual / u), known ends
	                                                * included */
	double residual_sd;                            /* deg P, plain, over freedom (at least 1) */
	double r2;                                     /* share of the readings' variance explained */
	double first_h, last_h;                        /* of the readings */
};

/* Fits by Levenberg-Marquardt. at in order of time. On a refusal out holds what was reached and must not be
 * used as a curve. */
enum ab_curve_refusal ab_curve_fit(const struct ab_curve_point *at, size_t n, struct ab_curve_known original,
    struct ab_curve_known final, struct ab_curve *out);

/* P(t), deg P, and the share fermented of what ferments (0 to 1), at an hour. */
double ab_curve_at(const struct ab_curve *curve, double h);
double ab_curve_share(const struct ab_curve *curve, double h);
/* Standard uncertainty of the curve at an hour (delta method), deg P; for where a new reading would fall add
 * its own u in squares. */
double ab_curve_u(const struct ab_curve *curve, double h);
/* Hour at which only near_p (deg P, over 0) is left over Pe, and its standard uncertainty (delta method).
 * False when the curve is never that far from its end. */
bool ab_curve_finish(const struct ab_curve *curve, double near_p, double *h, double *u);
/* How steep at an hour, deg P a day (0 or less: it falls). */
double ab_curve_slope(const struct ab_curve *curve, double h);

/* The gravities of a batch that the curve is fitted to, for drawing beside it. */
struct ab_curve_of {
	enum ab_curve_refusal refusal;
	struct ab_curve curve;
	const struct ab_curve_point *at;
	size_t n;
};
/* AB_ENOMEM only. The points live in the arena. */
enum ab_status ab_curve_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_curve_of *out, struct ab_diag *diag);

/* Words of the fact gravity.state: falling finished stalled. */
extern const char *const ab_words_gravity_state[];
/* Places in it, counted from 1 (0 = not known). */
enum { AB_GRAVITY_FALLING = 1, AB_GRAVITY_FINISHED, AB_GRAVITY_STALLED };

#endif
