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
/* From then on a sample is fermenting beer, stirred by its own gas, and no longer the wort. */
enum { AB_UNDERWAY_H = 12 };

/* Until when a reading tells of the beer before it was packaged, h; infinite while it is not. A day told without its
 * hour is that whole day: what was read on it was read before the bottles were filled. */
double ab_read_until_h(const struct ab_work *w);
/* Fills w->gravity with the trusted ones. */
void ab_gravities_gather(struct ab_work *w);
/* A refractometer reading after fermentation began, not corrected for alcohol. */
bool ab_gravity_misleads(const struct ab_work *w, const struct ab_reading *r);
/* The reading as SG 20/20: put right for sample temperature and a known error of the instrument. */
double ab_gravity_true(const struct ab_work *w, const struct ab_reading *r);
/* Its standard uncertainty; and what rests on it. */
double ab_gravity_u(const struct ab_reading *r);
void ab_rest_on_gravity(struct ab_basis *basis, const struct ab_reading *r);

/* The fast end of a fermentation, as a share of its class's usual days (working estimate; attenuation.c). */
#define AB_FAST_SHARE 0.6
/* The share of the sugar that a fermentation has left after so many days, where its class takes primary_days
 * (attenuation.c). */
double ab_share_left(double days, double primary_days);

/* The parts of ab_facts_attenuation that have files of their own: expected_fg and what it rests on, after the original
 * gravity; rest, stall, half and final hour, after the attenuation (last_sg NAN: never read); how it was read. */
void ab_gravity_expect(struct ab_work *w);
void ab_gravity_stands(struct ab_work *w, double last_sg);
void ab_gravity_tell_readings(struct ab_work *w);

/* Where a forced sample of this very beer ended, the last told; NULL without one. */
const struct ab_test *ab_forced_end(const struct ab_batch *batch);
/* Such a sample ended lower than the beer stands, by more than two readings of a hydrometer differ: there is sugar left
 * in it, however long it has stood. Known after ab_facts_attenuation; false of a beer that is imagined at rest. */
bool ab_forced_lower(const struct ab_work *w);
/* Of a yeast that eats starch: may it go on where it stands? Such strains sink by less in two weeks than a hydrometer
 * shows, so days at rest alone never tell: after their days (AB_NUM_SLOW_STILL_D) it must also not hang
 * (AB_NUM_HANGS_POINTS) over the end that is expected and over the middle of its class, whatever was planned; or a
 * forced sample ended where it stands. False of other yeasts. */
bool ab_slow_goes_on(const struct ab_work *w);

#endif
