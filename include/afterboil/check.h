/* check.h - does a journal make sense?
 *
 * The reader holds single attributes to their units and ranges. Here one statement is held against another.
 * What cannot have happened is refused while reading (AB_EINPUT with the line): packaged before pitching, a
 * final gravity far above the original, shares that sum to more than 105 %, a score above its maximum, an
 * intensity that is no whole number of 1 to 5. What may have happened but is more likely a slip is listed for
 * `afterboil check` and never stops anything.
 * The bounds are estimates of the possible, wide on purpose.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CHECK_H
#define AFTERBOIL_CHECK_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/field.h>
#include <afterboil/journal.h>

/* One odd statement: its line in the batch's source and what is odd about it, in one sentence. untold: nothing is wrong
 * with what is there; something is left out, which is allowed, and would tell more. */
struct ab_odd { long line; const char *text; bool untold; };

/* Refuses what cannot have happened: AB_EINPUT with line and source. The journal reader calls it for every
 * batch (times resolved); call it yourself only for a batch you built by hand. */
enum ab_status ab_batch_check(const struct ab_batch *batch, struct ab_diag *diag);

/* Appends to out, a list of struct ab_odd, what is merely odd, in the order of the checks; text lives in the
 * arena. AB_OK, also when there is much that is odd; AB_ENOMEM. */
enum ab_status ab_batch_odd(const struct ab_batch *batch, struct ab_arena *arena, struct ab_list *out,
    struct ab_diag *diag);

#endif
