/* workers.h - steps that hang on nothing but their number, shared out among threads
 *
 * Worlds drawn again and batches looked at one by one are such steps. What a step reads it shares; what it writes
 * is its worker's or its own. So the outcome is the same with one worker and with four, and on a machine that
 * grants no thread.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_WORKERS_H
#define AB_BASE_WORKERS_H

#include <stddef.h>
#include <afterboil/diag.h>

/* More than this would wait for memory rather than work. */
enum { AB_WORKERS_MOST = 4 };

/* worker: below the number asked for; never two steps of one worker at once. Worker 0 is the caller's own thread.
 * told: after each step of the caller's thread, in that thread, with the number of steps done in all; NULL = nobody
 * asks. Both get ctx. A step must not touch what is the whole process's (GSL's error handler, the locale). */
struct ab_steps {
	size_t n;
	enum ab_status (*step)(void *ctx, size_t worker, size_t i, struct ab_diag *diag);
	void (*told)(void *ctx, size_t done);
	void *ctx;
};

/* How many workers ab_steps_run has at most for so many steps when `threads` are granted: 1 to AB_WORKERS_MOST. */
size_t ab_workers_for(size_t threads, size_t steps);

/* Does all steps. The first that fails by its number wins, whichever thread met it first; those after it may be
 * left undone. Returns when no thread is left at work. Signals go to the caller's thread. */
enum ab_status ab_steps_run(const struct ab_steps *steps, size_t workers, struct ab_diag *diag);

#endif
