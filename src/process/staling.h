/* staling.h - how far a beer has gone stale, by rule of thumb
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_STALING_H
#define AB_PROCESS_STALING_H

#include <afterboil/fact.h>

/* Places of the words of stale.outlook. */
enum { AB_OUTLOOK_FRESH, AB_OUTLOOK_FADING, AB_OUTLOOK_STALE, AB_OUTLOOK_LONG_STALE };

/* mg d/L: oxygen that was there at packaging counts all the days (at 20 C), what came in through the closure
 * meanwhile half of them. No equation from package oxygen to shelf life is published that can be trusted:
 * trust C. mg/L, days at 20 C. */
double ab_stale_dose(double at_start_mgl, double closure_mgl, double equivalent_days);
/* The outlook: place of the word for a dose, by what the style family bears (norm->fading above 0). Below 0.5
 * mg/L other reactions than oxygen's lead, so that much counts at least. Trust C. */
int ab_stale_outlook(double dose, double equivalent_days, const struct ab_freshness_norm *norm);

#endif
