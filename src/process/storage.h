/* storage.h - how fast beer grows old
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_STORAGE_H
#define AB_PROCESS_STORAGE_H

#include <stdbool.h>

struct ab_store;
struct ab_work;

/* Days at 20 C that age beer as much as so many days at t_c: days x q10^((t - 20)/10). Beer: q10 2 to 3
 * (Bamforth & Lentini 2009, from memory of a summary; SO2 loss and ageing scores agree with 2.0 to 2.1), 2.2
 * taken. Trust B, 0 to 40 C. */
double ab_equivalent_days(double days, double t_c, double q10);

/* Light for less than a day, and no end told: that is what the beer got while it stood elsewhere, and tells nothing of
 * its age (estimate: who tells how long a beer was kept tells days). */
bool ab_is_exposure(const struct ab_store *s);

/* Days that the stays told add up to, up to the glass asked about; NAN: none is told, or not up to that glass. */
double ab_told_stays_d(const struct ab_work *w);

/* The least warmth in which the batch's yeast makes gas in a bottle, C (estimate: storage.c). */
double ab_conditions_from(const struct ab_work *w);

#endif
