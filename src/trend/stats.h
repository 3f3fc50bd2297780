/* stats.h - the insides of trend.h's statistics
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TREND_STATS_H
#define AB_TREND_STATS_H

#include <stdint.h>
#include <afterboil/trend.h>

/* The smallest p Fisher's test could give when `with` of n batches have the factor and `bad` of n are bad: the honest guard. */
double stats_least_fisher(size_t with, size_t bad, size_t n);

/* Theil-Sen slope of y over its places and an 80 % interval (Sen 1968, J. Am. Stat. Assoc. 63:1379); NAN below 4 values. slopes: scratch of n (n - 1) / 2. */
void stats_theil_sen(const double *y, size_t n, double *slopes, double *slope, double *low, double *high);

/* Batches still needed after a change so that a difference of this size would be seen; 0 enough, SIZE_MAX never with so few before. */
size_t stats_more_needed(double difference, double sd, size_t n_before, size_t n_after);

#endif
