/* finish.h - what is left to do with a batch once its elements are read
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_FINISH_H
#define AB_JOURNAL_FINISH_H

#include <afterboil/diag.h>
#include <afterboil/journal.h>

/* Sets the members that follow from others (made_starter, rated, off_sg, next_time). AB_EINPUT when two
 * attributes of one element contradict each other, or an element says too little to mean anything. */
enum ab_status ab_batch_derive(struct ab_batch *batch, struct ab_diag *diag);

/* Makes every relative time absolute. AB_EINPUT when the pitch itself is told relative to pitching. */
enum ab_status ab_batch_resolve(struct ab_batch *batch, struct ab_diag *diag);

/* Reads the sensor logs; folder NULL refuses any. AB_EINPUT for a path that leaves the folder or cannot be
 * read, and whatever
 * ab_sensor_read says of the log itself. */
enum ab_status ab_batch_load_logs(struct ab_batch *batch, const char *folder, struct ab_arena *arena,
    struct ab_diag *diag);

#endif
