/* gravities.h - which gravities can be trusted, as true SG 20/20 over time
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_GRAVITIES_H
#define AB_PROCESS_GRAVITIES_H

#include <afterboil/journal.h>
#include "process/working.h"

/* After this many hours alcohol falsifies a refractometer. Fermentation is under way by then, or nearly
 * (estimate). */
enum { AB_REFRACTOMETER_H = 12 };

/* Fills w->gravity with the trusted ones. */
void ab_gravities_gather(struct ab_work *w);
/* A refractometer reading after fermentation began, not corrected for alcohol. */
bool ab_gravity_misleads(const struct ab_work *w, const struct ab_reading *r);
/* The reading as SG 20/20: put right for sample temperature and a known error of the instrument. */
double ab_gravity_true(const struct ab_work *w, const struct ab_reading *r);
/* Its standard uncertainty. */
double ab_gravity_u(const struct ab_reading *r);

#endif
