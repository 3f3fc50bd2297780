/* revise.c - the chance of later tastings under each suspect, and what that leaves of a verdict
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/revise.h>

#include <math.h>

#define MOST_SIGN 1e9
#define INSIDE 1e-6

static double there(double strength, double leak)
{
	return strength + leak - strength * leak;
}

/* P(what the tasting says | the fault is there with this chance). */
static double said(const struct ab_later *b, double chance)
{
	return b->found ? AB_REVISE_MENTIONED * chance : 1 - AB_REVISE_MENTIONED * chance;
}

/* ways[m]: weight of all ways in which the habit was in force in m batches so far. Divided by 1 + sign, lest long
 * rows overflow; the same factor stands in both sums. */
static void add(double *ways, size_t n, const struct ab_later *b, bool culprit)
{
	double sign = fmin(b->sign, MOST_SIGN), with = culprit ? said(b, there(b->strength, b->leak)) : 1,
	    without = culprit ? said(b, b->leak) : 1;
	double yes = ((1 - b->taken) * sign * with + b->taken * without) / (1 + sign), no = without / (1 + sign);

	for (size_t m = n + 1; m > 0; m--)
		ways[m] = no * ways[m] + yes * ways[m - 1];
	ways[0] *= no;
}

/* Sum over the ways, each row of the urn by its chance B(a + m, b + n - m) / B(a, b). A culprit was there in the
 * verdict's batch; of any other cause that is not known. */
static double sum(double rate, const struct ab_later *later, size_t n, bool culprit)
{
	double ways[AB_REVISE_MOST + 1] = { 1 }, all = 0;
	double a = AB_REVISE_RATE_BATCHES * rate + (culprit ? 1 : 0), b = AB_REVISE_RATE_BATCHES * (1 - rate);

	for (size_t i = 0; i < n; i++)
		add(ways, i, &later[i], culprit);
	for (size_t m = 0; m <= n; m++)
		all += ways[m] * exp(lgamma(a + (double)m) - lgamma(a) + lgamma(b + (double)(n - m)) - lgamma(b) -
		    lgamma(a + b + (double)n) + lgamma(a + b));
	return all;
}

double ab_revise_chance(double rate, const struct ab_later *later, size_t n)
{
	double p = fmin(fmax(rate, INSIDE), 1 - INSIDE);

	if (n > AB_REVISE_MOST) {
		later += n - AB_REVISE_MOST;
		n = AB_REVISE_MOST;
	}
	return n == 0 ? 1 : sum(p, later, n, true) / sum(p, later, n, false);
}

void ab_revise(double *belief, const double *chance, size_t n)
{
	double all = 0, old = 0;

	for (size_t i = 0; i < n; i++) {
		all += belief[i] * chance[i];
		old += belief[i];
	}
	for (size_t i = 0; i < n && old > 0; i++)
		belief[i] = all > 0 ? belief[i] * chance[i] / all : belief[i] / old;
}
