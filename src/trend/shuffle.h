/* shuffle.h - how often so clear a thread would come by chance, whatever else is compared with it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TREND_SHUFFLE_H
#define AB_TREND_SHUFFLE_H

#include <afterboil/trend.h>

enum { SHUFFLE_ALL = 20000, SHUFFLE_DRAWS = 10000 };

/* Batches and the splits compared on them. on[s][i]: 1 batch i has it, -1 it has not, 0 nothing is told. use[i]: 1 bad,
 * -1 good, 0 not tasted. p[s]: Fisher's, least first. */
struct shuffle { const signed char *const *on; const signed char *use; const double *p; size_t n_splits, n; };

/* p corrected by step-down min-P (Westfall & Young 1993, Resampling-Based Multiple Testing, algorithm 2.8): "bad"
 * is dealt out anew over the tasted batches, in every way when there are at most SHUFFLE_ALL, else SHUFFLE_DRAWS
 * times from a fixed seed (standard error at most 0.005, 0.0022 at 0.05; the deal that was seen counts as one of
 * them, so it is never 0). Splits that go together weigh as little as they say, where Holm takes each for a new
 * one. draws: 0 = every way. AB_ENOMEM. */
enum ab_status shuffle_adjust(const struct shuffle *s, struct ab_arena *arena, double *adjusted, size_t *draws,
    struct ab_diag *diag);

/* Chance of so uneven a split b when only batches alike in split a are compared: the exact conditional test over strata
 * (Mehta, Patel & Gray 1985, J. Am. Stat. Assoc. 80:969), two-sided as in R's mantelhaen.test(exact = TRUE). */
enum ab_status shuffle_given(const struct shuffle *s, size_t a, size_t b, struct ab_arena *arena, double *p,
    struct ab_diag *diag);

#endif
