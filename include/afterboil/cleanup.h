/* cleanup.h - how much of the butter's precursor is gone: alpha-acetolactate, by time and warmth
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CLEANUP_H
#define AFTERBOIL_CLEANUP_H

#include <stddef.h>

/* Half-life in hours of alpha-acetolactate in beer at t_c. Its slow oxidative decarboxylation is the step
 * that takes the time; yeast then takes the diacetyl up fast (Krogerus and Gibson 2013). No rate with its
 * temperature was found in print: first order, 50 h at 20 C, 97 kJ/mol is a placeholder (trust C), chosen so
 * that 7 to 10 min at 90 C do it all, as in maturation by heat and fixed yeast. Only for an order, not for
 * mg/L. */
double ab_cleanup_half_life_h(double t_c);
/* Share gone between two hours of a temperature that runs straight between its points (h ascending) and is
 * held beyond them. faster: 1, or 2 and 0.5 for the ends of what may be. NAN when n is 0; 0 when to_h is not
 * after from_h. */
double ab_cleanup_share(const double *h, const double *c, size_t n, double from_h, double to_h,
    double faster);

#endif
