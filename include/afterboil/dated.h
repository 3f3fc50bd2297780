/* dated.h - a day that cannot be right: a journal dated ahead of today, "2126" for "2026"
 *
 * Such a batch would be the newest of all for a hundred years: what is learned from the newest, the trend, "today".
 * So it is found out, said, and left out of what is reckoned until its day is put right.
 *
 * A clock may be off as well, and a story of examples may lie ahead as a whole. So the clock is believed only where
 * half of the batches or more are behind it; else a batch must be AB_DATED_YEARS ahead of the middle one. All
 * limits are working estimates: nobody logs a brew a week before it, plans one more than a year ahead, or keeps a
 * store whose halves lie twenty years apart.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_DATED_H
#define AFTERBOIL_DATED_H

#include <stddef.h>

enum { AB_DATED_DAYS = 7, AB_DATED_PLANNED_DAYS = 366, AB_DATED_YEARS = 20 };

/* The last day a batch can be of, in seconds as in when.h: of one that was brewed (it was pitched, packaged, tasted)
 * and of one only planned. INFINITY: any, where nothing can be told. */
struct ab_dated { double brewed_s, planned_s; };

/* days_s: the days of n batches, NAN where not known; they are put in another order. today_s: the clock; -INFINITY
 * where nobody told it. */
struct ab_dated ab_dated_limits(double *days_s, size_t n, double today_s);

#endif
