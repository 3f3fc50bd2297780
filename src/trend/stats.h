/* stats.h - the insides of trend.h's statistics
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TREND_STATS_H
#define AB_TREND_STATS_H

#include <stdbool.h>
#include <stdint.h>
#include <afterboil/trend.h>

double stats_mean(const double *x, size_t n);   /* NAN of none */
void stats_sort(double *x, size_t n);
double stats_median_sorted(const double *x, size_t n);   /* NAN of none */

/* The scatter two groups share about their own means, never below floor_sd. Both together hold at least 3
 * values, each at least one. */
double stats_scatter(const double *a, size_t na, const double *b, size_t nb, double floor_sd);

/* P(y < x) for x ~ Beta(a1, a2), y ~ Beta(b1, b2), all at least 0.4; by quadrature to 1e-9. */
double stats_beta_below(double a1, double a2, double b1, double b2);

/* The last answers of the same, zeroed to begin with: small counts come again and again, and each costs thousands of
 * densities. The answer is the same to the last bit. */
enum { STATS_ASKED = 64 };
struct stats_asked { struct { double of[4], p; } at[STATS_ASKED]; size_t n; };
double stats_beta_below_again(struct stats_asked *asked, double a1, double a2, double b1, double b2);
/* ab_trend_two_shares by it. */
double stats_two_shares_again(struct stats_asked *asked, size_t with_a, size_t na, size_t with_b, size_t nb);

/* The smallest p Fisher's test could give when `with` of n batches have the factor and `bad` of n are bad:
 * the honest guard. */
double stats_least_fisher(size_t with, size_t bad, size_t n);

/* Theil-Sen slope of y over its places and an 80 % interval (Sen 1968, J. Am. Stat. Assoc. 63:1379); NAN
 * below 4 values. slopes: scratch of n (n - 1) / 2. */
void stats_theil_sen(const double *y, size_t n, double *slopes, double *slope, double *low, double *high);

/* Chance that batches before and after, their true means so many standard deviations apart, show lighter with 90 %
 * and more (ab_trend_two_means without a floor). 0 below three batches. */
double stats_power(double apart, size_t n_before, size_t n_after);
/* Batches still needed after a change so that a difference of this size would be seen with 80 %; 0 enough, SIZE_MAX
 * never with so few before (more than 10,000 is never). */
size_t stats_more_needed(double difference, double sd, size_t n_before, size_t n_after);

/* One batch on its way into stats_allowing: line never NULL, place in the order of brewing, after 1 or 0. */
struct stats_row { const char *line; double load, place, after; bool done; };
/* What the change did, lines and a steady drift taken out; NAN with fewer than one batch more than lines + 2. Uses up
 * the rows. */
void stats_allowing(struct stats_row *rows, size_t n, double floor_sd, struct ab_trend_allowed *out);

#endif
