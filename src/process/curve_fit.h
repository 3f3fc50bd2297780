/* curve_fit.h - least squares for the gravity curve, without any judgement of what came out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_CURVE_FIT_H
#define AB_PROCESS_CURVE_FIT_H

#include <afterboil/curve.h>

/* Share still unfermented, 1/(1 + exp(B (t - M))), for any argument. */
double ab_curve_left(double b, double m, double h);
/* Fits from start. known[0] is the original extract, known[1] the final one. False when it does not settle or
 * memory is short. */
bool ab_curve_solve(const struct ab_curve_point *at, size_t n, const struct ab_curve_known known[2],
    const double start[AB_CURVE_PARAMS], struct ab_curve *out);

#endif
