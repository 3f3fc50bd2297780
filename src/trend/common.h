/* common.h - the common thread of bad batches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TREND_COMMON_H
#define AB_TREND_COMMON_H

#include <afterboil/trend.h>

/* Fills common, n_common and bad_over of out. A batch is bad when its load is over the median of the tasted
 * ones; each value of each factor that is neither in all nor in none is tested by Fisher, all p corrected
 * together by shuffling (shuffle.h). */
enum ab_status common_thread(const struct ab_trend_batch *batches, size_t n, struct ab_arena *arena,
    struct ab_trend *out, struct ab_diag *diag);

#endif
