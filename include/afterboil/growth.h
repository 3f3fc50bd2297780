/* growth.h - bacteria of the wort: how they grow while it waits, and what heat does to them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_GROWTH_H
#define AFTERBOIL_GROWTH_H

/* Growth rate of wort bacteria, 1/h: the square-root law (Ratkowsky 1982), sqrt(mu) = 0.03784 (T - 3 C), set
 * so that they double in an hour at 25 C. No doubling time in wort was found in print: trust C. 0 below 3 C,
 * and above 45 C, where they die rather. */
double ab_growth_rate(double t_c);
double ab_growth_doubling_h(double t_c);   /* ln 2/rate; infinite where the rate is 0 */
/* Doublings in so many hours at one temperature. */
double ab_growth_doublings(double t_c, double hours);
/* Doublings while wort cools by itself (Newton, tau_h) for so many hours from a temperature towards its
 * surrounding. */
double ab_growth_cooling(double from_c, double around_c, double tau_h, double hours);

/* Pasteurisation units of so many minutes at a temperature: 1.393^(T - 60) a minute (Del Vecchio et al. 1951;
 * the sum is trust A, that every germ keeps to it is B: z from 7 to 12.5 K are reported). */
double ab_pasteur_units(double t_c, double minutes);

#endif
