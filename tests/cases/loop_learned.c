/* loop_learned.c - what can be learned of a simulated brewer's hidden chances by who is told each batch's causes
 *
 * How brewers are drawn is known, and what each change takes. Nothing is forgotten, for nothing fades in these worlds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <afterboil/together.h>

/* Beta before, a strike or none with each batch's share of the chance after: exact by a rule of more nodes than
 * half the batches. */
void loop_learned(struct loop_brewer *b, double *mean)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES];

	for (size_t c = 0; c < b->world->truth->n_causes; c++) {
		double p = b->before[c], all = 0, sum = 0;
		mean[c] = 0;
		if (!(p > 0 && p < 1))
			continue;
		if (!ab_beta_rule(loop_same_brewer * p, loop_same_brewer * (1 - p), AB_TOGETHER_RATES, at, weight))
			loop_give_up("bounds", "out of memory");
		for (size_t i = 0; i < AB_TOGETHER_RATES; i++) {
			double likely = weight[i];
			for (size_t t = 0; t < b->n_cases; t++)
				likely *= b->struck[t][c] ? at[i] : 1 - at[i] * b->left[t][c];
			all += likely;
			sum += likely * at[i];
		}
		mean[c] = sum / all;
	}
}
