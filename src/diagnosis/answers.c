/* answers.c - how likely each answer of a question is, and what it does to the odds
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/checks.h>

#include <assert.h>
#include <math.h>

#define SILENT 0.35667494393873245   /* ln 1/0.7, see checks.h */

static bool both_ways(double a, double b)
{
	return (a > 0 && b < 0) || (a < 0 && b > 0);
}

/* The place in the list of the leading cause; q->n when no cause is told apart by the answers. One that is
 * moved both ways goes before one that is not, for its ratios say by themselves how likely each answer is. */
static size_t leading(const struct ab_net_question *q, const double *present, const double *blame)
{
	size_t best = q->n;

	for (size_t i = 0; i < q->n; i++) {
		double a = q->log_ratio_a[i], b = q->log_ratio_b[i];
		int c = q->cause[i], d = best < q->n ? q->cause[best] : -1;
		bool both = both_ways(a, b), was = d >= 0 && both_ways(q->log_ratio_a[best],
		    q->log_ratio_b[best]);

		if (!both && (was || a == b))
			continue;
		if (d < 0 || both != was || blame[c] > blame[d] ||
		    (blame[c] >= blame[d] && present[c] > present[d]))
			best = i;
	}
	return best;
}

/* Ratios both at or above 1, or both at or below, cannot be those of two answers, of which one must come:
 * the nearer to 1 is a silence of the rules. See checks.h. */
double ab_question_step(const struct ab_net_question *q, size_t i, bool is_a)
{
	double a = q->log_ratio_a[i], b = q->log_ratio_b[i];
	double *silent = fabs(a) < fabs(b) ? &a : &b;

	assert(i < q->n);
	if (a != b && !both_ways(a, b))
		*silent = a + b > 0 ? -SILENT : SILENT;
	return is_a ? a : b;
}

/* P(answer a) by the leading cause: P(a | not c) = (1 - l) / (h - l), P(a | c) = h times that; see
 * checks.h. Two likelihood ratios h above and l below 1 fix how often each answer comes: both
 * conditional distributions must add up to 1. expm1 keeps answers that hardly move anything from
 * dividing 0 by 0. */
static double answer_a(double a, double b, double present)
{
	double up = expm1(a > 0 ? a : b), down = -expm1(a > 0 ? b : a);
	double raised = down / (up + down), p = raised + present * up * raised;

	assert(both_ways(a, b));
	return a > 0 ? p : 1 - p;
}

bool ab_question_chance(const struct ab_net_question *q, const double *present, const double *blame, double *p_a)
{
	size_t lead = leading(q, present, blame);

	*p_a = 0;
	if (lead == q->n)
		return false;
	*p_a = answer_a(ab_question_step(q, lead, true), ab_question_step(q, lead, false), present[q->cause[lead]]);
	return true;
}
