/* scores.c - the scores a batch was given, as shares of their maximum
 *
 * Sheets differ in their maximum, so each score is taken as a share of its own. Count, mean and standard
 * deviation of the sample are all that later comparisons of batches need. A score without a maximum is none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"

#include <math.h>

static bool share_of(const struct ab_tasting *t, double *share)
{
	if (!t->score.known || !t->score_of.known || !(t->score_of.v > 0))
		return false;
	*share = t->score.v / t->score_of.v;
	return true;
}

/* Welford 1962 */
void ab_facts_scores(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double share, mean = 0, squares = 0;
	int n = 0;

	for (AB_EACH(struct ab_tasting, t, w->batch->tastings)) {
		if (!share_of(t, &share))
			continue;
		double off = share - mean;
		mean += off / ++n;
		squares += off * (share - mean);
		ab_rest_on(&basis, &t->mark, false);
	}
	if (n == 0)
		return;
	ab_set(w, AB_F_TASTE_SCORES, &basis, n, 0, 'A', "the tastings with a score counted");
	ab_set(w, AB_F_TASTE_SCORE, &basis, mean, n > 1 ? sqrt(squares / (n - 1) / n) : 0, 'A',
	    "mean of the scores, each a share of its most");
	if (n > 1)
		ab_set(w, AB_F_TASTE_SCORE_SPREAD, &basis, sqrt(squares / (n - 1)), 0, 'A',
		    "standard deviation of the scores, each a share of its most");
}
