/* trail.h - a file that only grows at its end, held by one process at a time
 *
 * Kept beside what it tells of, so that it goes where that goes. It is opened, read whole and locked at once;
 * records are added at its end and cut from its end. It is never replaced, or a lock on it would be one on a file
 * that is gone: a kill can only lose its own last record. A link, a device, a pipe or what does not begin with the
 * mark is left alone: a stranger's folder must not choose what is written to.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_TRAIL_H
#define AB_BASE_TRAIL_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/diag.h>

/* text: all of it, its mark too, NUL terminated; "" and fd -1 when there is none. */
struct ab_trail { int fd; char *text; size_t len; };

/* The trail of that name in the folder of `beside`. make: it is begun with the mark when it is not there. Waits for
 * who holds it. AB_EINPUT: it is none, AB_ELIMIT: longer than limit, AB_ESYSTEM, AB_ENOMEM; nothing is open then.
 */
enum ab_status ab_trail_open(const char *beside, const char *name, const char *mark, bool make, size_t limit,
    struct ab_trail *t, struct ab_diag *diag);
/* From `at` on the file holds these bytes and ends. text is as it was. AB_ESYSTEM. */
enum ab_status ab_trail_write(const struct ab_trail *t, size_t at, const char *data, size_t len, struct ab_diag *diag);
void ab_trail_close(struct ab_trail *t);

#endif
