/* verdicts.h - how noisy is a score?
 *
 * Two judges, or one judge on two evenings, give the same beer different scores. Before a better score is taken
 * for a better beer one wants to know how far verdicts on one beer lie apart. That is the one-way layout with
 * random batches: score = mean + batch + verdict, both normal, their variances estimated by restricted maximum
 * likelihood (Patterson & Thompson 1971, Biometrika 58:545), which for equal numbers of verdicts a batch is the
 * textbook analysis of variance. Only each batch's count, mean and standard deviation are needed. Taster, place
 * and age of the beer all count as noise of the verdict here.
 *
 * Checked against lme4 on its Dyestuff data (Davies & Goldsmith 1972) and on unequal parts of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_VERDICTS_H
#define AFTERBOIL_VERDICTS_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/fact.h>

/* Below so many verdicts beyond the first of their batch nothing is said: the noise would itself be noise. */
enum { AB_VERDICTS_LEAST = 4 };

/* The facts that tell of scores: how many, their mean and standard deviation as shares of the maximum. */
enum { AB_VERDICT_FACTS = 3 };
void ab_verdict_slots(const struct ab_fact_table *facts, int *slots);

struct ab_verdict_group { size_t n; double mean, sd; };   /* sd: of the sample (n - 1); not read when n < 2 */

struct ab_verdicts {
	size_t n_batches, n;               /* scored, and scores of them all */
	size_t beyond;                     /* n - n_batches: what the noise is estimated from */
	double mean;                       /* of the batches, in the unit of the scores; NAN when nothing is told,
	                                    * as all below */
	double noise;                      /* standard deviation of verdicts on one batch */
	double noise_low, noise_high;      /* 80 % interval from the scatter within batches (chi-square) */
	double between;                    /* standard deviation of the batches themselves; 0 when the verdicts'
	                                    * noise explains all */
	double apart;                      /* two verdicts on one beer differ by more than this one time in two */
	double tell;                       /* a difference of two single scores below this is noise, as far as
	                                    * 19 in 20 go (Student's t) */
};

/* False, with the counts alone told, when beyond < AB_VERDICTS_LEAST, fewer than two batches are scored or all
 * verdicts on each batch agree to the last digit. Groups with n = 0 are passed over. Cannot fail otherwise. */
bool ab_verdicts_work(const struct ab_verdict_group *groups, size_t n, struct ab_verdicts *out);
#endif
