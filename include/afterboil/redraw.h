/* redraw.h - the likely range of a diagnosis: estimates drawn anew within their step, and solved again
 *
 * Each estimated number has a step, the standard deviation of a normal error on a scale where every value is
 * allowed; z is one standard normal draw:
 *   prior of a cause (with its signs)   ln odds + sd z
 *   a link, a leak                      logit + sd z of each of its tail's three probabilities
 * Moving all three by one z keeps the tail monotone; 0 and 1 stay what they are. A step of 0 leaves the
 * number alone. Each draw is solved exactly; the range is the 10th and the 90th percentile over the draws,
 * per cause (the interpolated quantile of gsl_stats_quantile_from_sorted_data, type 7 in R's list: Hyndman
 * and Fan 1996, Am. Stat. 50). A draw so far out that rounding makes the evidence impossible is drawn again.
 * The generator is GSL's mt19937 with the caller's seed: the same arguments give the same range, everywhere.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_REDRAW_H
#define AFTERBOIL_REDRAW_H

#include <afterboil/network.h>

enum { AB_REDRAW_MIN = 10, AB_REDRAW_MAX = 10000 };

/* Standard deviations, each 0..5; borrowed. An array that is NULL stands for all zero. */
struct ab_steps {
	const double *log_odds;   /* n_causes */
	const double *tail;       /* n_links, in the order of net->links */
	const double *leak;       /* n_faults */
};

/* The caller's arrays, n_causes long; any may be NULL when not wanted. low <= high always. */
struct ab_range {
	double *blame_low, *blame_high;
	double *present_low, *present_high;
	/* Sets of causes (ab_net_blame_any): n_sets rows of n_causes; low and high are n_sets long. */
	const unsigned char *const *set; size_t n_sets;
	double *set_low, *set_high;
};

/* n draws, AB_REDRAW_MIN to AB_REDRAW_MAX (1,000 steadies the range to about 0.01; estimate). Time: n solves;
 * memory: 16 bytes a draw and cause.
 * Errors of ab_net_solve on the network as given; AB_EUSAGE for a step or an n outside its range.
 * AB_ENOMEM. */
enum ab_status ab_net_redraw(const struct ab_net *net, const struct ab_steps *steps, int n,
    unsigned long seed, struct ab_range *range, struct ab_diag *diag);

/* One probability moved by `by` on the logit scale; 0 and 1 stay. Exact in the sense that no 1 - (1 - p) is
 * formed. */
double ab_logit_move(double p, double by);
/* The same by a factor on its odds, exp(by): for several moved alike. */
double ab_odds_move(double p, double odds);

#endif
