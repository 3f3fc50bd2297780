/* moving.h - the facts that changes move, and to what
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_MOVING_H
#define AB_ADVICE_MOVING_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/facts.h>
#include <afterboil/knowledge.h>

/* More different facts than this are never moved at once: the rules know fewer that can be. */
enum { MOVING_MOST = 128 };

/* In order of slot, each once. n_moved counts every setting that moved something. */
struct moving { struct ab_as_if moved[MOVING_MOST]; size_t n, n_moved; };

/* Sets in after what the changes set, in their order; where two set the same fact the later one sees what the
 * earlier left. after holds the facts as brewed, at least those that are set. */
void moving_set(const struct ab_knowledge *k, const int *changes, size_t n_changes, struct ab_fact *after,
    struct moving *m);
/* Copies all facts to after first. */
void moving_apply(const struct ab_knowledge *k, const struct ab_fact *facts, const int *changes,
    size_t n_changes, struct ab_fact *after, struct moving *m);
bool moving_has(const struct moving *m, int slot);
/* Without the batch: what was reckoned from a moved fact becomes unknown, unless it was moved itself. Only for
 * the facts of facts.h. */
void moving_outdate(const struct moving *m, struct ab_fact *after);

#endif
