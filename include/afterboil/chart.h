/* chart.h - control charts: is a measured habit steady, or has it moved?
 *
 * EWMA (Roberts 1959) and tabular CUSUM (Page 1954), as in the NIST/SEMATECH handbook, 6.3.2.3 and 6.3.2.4. A
 * home brewer has no hundred batches to learn the usual level and scatter from, so both run on self-starting
 * values (Hawkins 1987, J. Quality Technology 19:189): each batch is compared with those before it, by
 * Student's t for exactly so many, and the result is turned into a standard normal. From the third batch on
 * those are independent N(0, 1) as long as nothing changed, whatever level and scatter are: the charts'
 * limits are exact from the start, and a jump after few batches counts for as little as it should.
 *
 * Chosen limits: EWMA weight 0.2, 3 standard deviations (of its own, growing with the batches); CUSUM slack
 * 0.5, limit 5. A steady habit is called moved about once in 350 batches; a move of two standard deviations
 * is found after about four (checked by simulation and against tables of run lengths). A single value counts
 * for at most 3 standard deviations (Hawkins & Olwell 1998, chapter 7, "winsorizing").
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_CHART_H
#define AFTERBOIL_CHART_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

enum { AB_CHART_LEAST = 5 };   /* below so many values nothing is said */

#define AB_CHART_WEIGHT 0.2
#define AB_CHART_WIDTH 3.0
#define AB_CHART_SLACK 0.5
#define AB_CHART_LIMIT 5.0

/* z[i] = weight x[i] + (1 - weight) z[i-1], z[-1] = centre; reach[i] = half the width between the limits at
 * i, sd width sqrt(weight / (2 - weight) (1 - (1 - weight)^(2 (i + 1)))). reach may be NULL. */
void ab_chart_ewma(const double *x, size_t n, double centre, double sd, double weight, double width,
    double *z, double *reach);
/* up[i] = max(0, up[i-1] + x[i] - target - slack), down[i] the same downward; all in the unit of x. */
void ab_chart_cusum(const double *x, size_t n, double target, double slack, double *up, double *down);
/* Self-starting standard values; u[0] = u[1] = 0. floor_sd: the scatter is never taken as smaller. clip: what
 * is further off than so many standard deviations counts for the level as if it were so many (u itself is not
 * cut off); INFINITY = never. */
void ab_chart_standardise(const double *x, size_t n, double floor_sd, double clip, double *u);

struct ab_chart_shift {
	size_t from;              /* place of the first value of the new level: the likeliest (Hinkley
	                           * 1970) */
	size_t seen;              /* place at which it was noticed */
	double before, after;     /* mean of the level before, and from then on to the next shift */
};

struct ab_chart {
	int slot;                 /* of the fact, for whoever set it; -1 */
	size_t n;
	const size_t *batch;      /* place of each value's batch, for whoever set it */
	const double *x;
	/* after a shift all start anew, from its first value; in standard deviations; u cut off at 3 */
	double *u, *ewma, *reach, *up, *down;
	bool *odd;                /* stands out alone: more than 3 standard deviations */
	struct ab_chart_shift *shifts; size_t n_shifts;   /* in order of time */
	double mean, low, high;   /* of the level now, odd ones left out: mean, and where the next is
	                           * expected, 80 % (Student's t for so few); NAN low and high when it holds
	                           * a single value */
};

/* Charts n >= AB_CHART_LEAST values in order of time, none NAN. x is kept, not copied. AB_ENOMEM. */
enum ab_status ab_chart_work(const double *x, size_t n, double floor_sd, struct ab_arena *arena,
    struct ab_chart *out, struct ab_diag *diag);

#endif
