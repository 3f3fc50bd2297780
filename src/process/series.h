/* series.h - a quantity over time: hours since pitching and values, in order
 *
 * Between two points the value runs straight; before the first and after the last it is held. Functions on an
 * empty series, or on a window that ends before it begins, return NAN (ab_series_hours_above and _fall return
 * 0).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_PROCESS_SERIES_H
#define AB_PROCESS_SERIES_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>

/* The C library has these as float. */
#define AB_NAN ((double)NAN)
#define AB_INF ((double)INFINITY)

struct ab_point { double h, v; };
struct ab_series { struct ab_point *at; size_t n, cap; };

/* Room for cap points. False when memory is short. */
bool ab_series_new(struct ab_series *s, struct ab_arena *arena, size_t cap);
/* Adds a point, in any order; one beyond cap or with a part that is not finite is passed over. */
void ab_series_add(struct ab_series *s, double h, double v);
/* Puts the points in order and averages those of one moment: once, after the last ab_series_add. */
void ab_series_settle(struct ab_series *s);

double ab_series_at(const struct ab_series *s, double h);
/* Time-weighted mean, and largest value, from one hour to another. */
double ab_series_mean(const struct ab_series *s, double from_h, double to_h);
double ab_series_max(const struct ab_series *s, double from_h, double to_h);
/* Points from one hour to another, both included. */
size_t ab_series_count(const struct ab_series *s, double from_h, double to_h);
/* Hours spent above a limit; with sign -1 hours spent below it. */
double ab_series_hours_above(const struct ab_series *s, double limit, double sign, double from_h,
    double to_h);
/* Largest fall (sign 1) or rise (sign -1) from one point to a later one at most window hours after it. One
 * pass; needs an arena for two words a point; NAN when memory is short. */
double ab_series_fall(const struct ab_series *s, double sign, double window_h, double from_h, double to_h,
    struct ab_arena *arena);
/* What the values scatter by (standard deviation), from how far each lies off the line between its two
 * neighbours; only points with both neighbours within so many hours tell, and it takes eight of them: else
 * NAN. */
double ab_series_scatter(const struct ab_series *s, double within_h);
/* First hour at or below a value; NAN when never. */
double ab_series_first_below(const struct ab_series *s, double v);

#endif
