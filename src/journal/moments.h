/* moments.h - every point in time a batch tells, and small questions about times and gravities that the
 * checks share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_MOMENTS_H
#define AB_JOURNAL_MOMENTS_H

#include <stdbool.h>
#include <afterboil/diag.h>
#include <afterboil/journal.h>

struct ab_moment { const char *element, *attribute; struct ab_when *when; long line; };
typedef enum ab_status ab_moment_visit(void *ctx, const struct ab_batch *batch,
    const struct ab_moment *moment, struct ab_diag *diag);

/* Visits each known moment (AB_ATTR_WHEN; a date of best before is none) until one visit fails. */
enum ab_status ab_batch_each_moment(const struct ab_batch *batch, ab_moment_visit *visit, void *ctx,
    struct ab_diag *diag);

/* Whether a is surely before b: both known and absolute, a date alone being anywhere in its day; or both counted from a
 * packaging whose day nobody tells. */
bool ab_when_before(const struct ab_when *a, const struct ab_when *b);

/* The highest gravity told, planned or read, of those that are not from after packaging; INFINITY when none is surely
 * from before it. */
double ab_batch_original_gravity(const struct ab_batch *batch);

#endif
