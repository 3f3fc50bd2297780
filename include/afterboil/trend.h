/* trend.h - is it getting better, and did the changes do it?
 *
 * Takes plain series (from the store or straight from cases) and compares before with after. Means of flaw
 * load are compared under normal scatter of one unknown size with the reference prior p(mu1, mu2, sigma) ~
 * 1/sigma: the difference has a Student t posterior (Box & Tiao 1973, section 2.5), the same numbers as the
 * classical two-sample t test. The scatter is never taken as smaller than what tasters alone bring. Shares of
 * batches with a fault by Beta(1/2,1/2)-binomial posteriors (Jeffreys). Plain counts always stand beside.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_TREND_H
#define AFTERBOIL_TREND_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/chart.h>
#include <afterboil/dated.h>
#include <afterboil/diag.h>
#include <afterboil/fact.h>
#include <afterboil/held.h>
#include <afterboil/history.h>
#include <afterboil/verdicts.h>

/* Measured habits that are charted, by the names of their facts; NULL-terminated. Each is a difference to what
 * the yeast or the recipe wants, or a time, so that beers of all kinds share a chart. */
enum { AB_TREND_HABITS = 5 };
extern const char *const ab_trend_habits[AB_TREND_HABITS + 1];
/* Their slots; -1 where the table knows none. What a wish for the past wants (ab_history_batches). */
void ab_trend_habit_slots(const struct ab_fact_table *facts, int *slots);

struct ab_elimination;
struct ab_trend_batch {
	const char *id, *line, *family;
	double brewed_s;
	bool tasted;
	double load, load_low, load_high;      /* NAN when not tasted */
	const double *fault_load;              /* n_faults */
	const double *fault_intensity; /* n_faults, found at all, also what the beer is meant to have and so weighs
					* nothing; NULL = not known */
	const char *const *changes; size_t n_changes;   /* ids or texts of changes first in force with this
	                                                 * batch */
	const struct ab_factor *factors; size_t n_factors;
	size_t n_facts; const int *slots; const double *values, *us;   /* as in ab_past */
	const double *blame;                   /* n_causes, or NULL */
	const char *rules, *profile, *program;   /* judged under and by, as in ab_past; NULL = not known */
};

/* The effect of a change when the batches' lines and a steady drift over the batches compared (at most 200 on
 * either side) are taken out, by least squares: what was getting better anyway is not the change's. How much
 * lighter, P(lighter), 80 % credible interval. NAN when so few batches cannot tell the two apart. */
struct ab_trend_allowed { double lighter, p_better, low, high; };

struct ab_trend_change {
	const char *id, *line;                 /* line NULL: over all lines */
	double date_s;
	size_t n_before, n_after;              /* tasted batches */
	double before, after;                  /* mean flaw load; NAN when none */
	double p_better;                       /* P(mean load after < before); NAN when either side has
	                                        * none */
	double low, high;                      /* 80 % credible interval of before - after; NAN when p_better
	                                        * is */
	bool together;                         /* another change came with the same batch: cannot be told
	                                        * apart */
	size_t more_needed;                    /* tasted batches after, still needed so that this difference,
	                                        * if real, would be seen with 80 % probability; 0 = enough;
	                                        * SIZE_MAX = not to be told */
	/* faults that weighed something on either side; moved = mean load after - before; what moved most first.
	 * meant: batches in which it was found, and no more of it than the beer is meant to have */
	struct ab_fault_shift {
		int fault;
		size_t before_with, after_with;
		double p_better, moved;
		size_t before_meant, after_meant;
	} *faults; size_t n_faults;
	size_t begin, at, end;                 /* places of the batches compared: from begin, from at on,
	                                        * before end; of line only, when it is told */
	/* by ab_trend_causes: causes blamed on either side, in batches' worth (the sum of blame), and the
	 * chance that it is blamed less often after: Beta(1/2, 1/2) and the counts these may be (a Beta with their
	 * mean and variance: within 0.02 of all counts one by one); what moved most first */
	struct ab_cause_shift {
		int cause;
		double before, after, p_better;
	} *causes; size_t n_causes;
	struct ab_trend_allowed allowed;
};

/* What a change may be said to have done, first of all: from AB_TREND_DRIFT_LEAST tasted batches on with the drift
 * taken out, where that can be reckoned; with fewer as it stands, and then plain is true: a drift would look just
 * like the change, so nobody should call it helped. In simulated brewers whose beer drifts by itself and whose
 * change does nothing, the plain chance is over 0.9 in up to nine of ten, this one in one of ten, as it says
 * (check_drift). P NAN: nothing to compare. (An estimate: from a handful of batches the two cannot be told apart.)
 */
enum { AB_TREND_DRIFT_LEAST = AB_HELD_DRIFT_LEAST };
struct ab_trend_said { double p_better, low, high; bool plain; };
struct ab_trend_said ab_trend_say(const struct ab_trend_change *change);

/* common thread of the newest 400 batches: Fisher exact, corrected over the different splits by shuffling which
 * batches are bad (step-down min-P, Westfall & Young 1993: exact up to 20,000 ways to do so, else 10,000 seeded
 * draws with a standard error of 0.005 at most); a value that all others of a two-valued factor lack is the same
 * split, and stands for both with the side more of the bad are on. p_least = smallest p these counts could give. */
#define AB_COMMON_WORTH 0.1   /* p beyond this is not worth a line; nor is what a clearer find leaves of another */
struct ab_common {
	const char *factor, *value;
	size_t bad_with, bad, good_with, good;
	double p, p_adjusted, p_least;
	const char *also;          /* other factors that split the batches just so and cannot be told from it:
	                            * "yeast lot 7, water well"; NULL = none */
	const struct ab_common *beside; /* a clearer one that explains it: among batches alike in that one its own
					 * p (exact, conditional) is over AB_COMMON_WORTH; one find, not two. NULL =
					 * none */
};

struct ab_trend {
	size_t n_batches;
	struct ab_chart *charts; size_t n_charts;          /* by ab_trend_charts */
	struct ab_trend_change *changes; size_t n_changes;
	struct ab_verdicts verdicts;                       /* by ab_trend_verdicts; noise NAN: not told */
	int *main_faults; size_t n_main_faults;            /* by total load, heaviest first */
	double slope_per_batch, slope_low, slope_high;     /* Theil-Sen slope of the load with its range, NAN
	                                                    * below 4 tasted batches */
	const struct ab_revision *revisions; size_t n_revisions;   /* verdicts that later batches spoke against
	                                                            * (revise.h); set by who looked */
	double bad_over;                                   /* a batch is called bad when its load is over
	                                                    * this: the median of the tasted */
	struct ab_common *common; size_t n_common;         /* factors seen on both sides, least p first;
	                                                    * silent (p_least says why) when the counts cannot
	                                                    * tell */
	size_t common_draws;                               /* p_adjusted by so many draws; 0 = exact */
	const struct ab_elimination *elimination;          /* of the fault that comes most often (elimination.h), or
	                                                    * NULL; set by who looked */
	const struct ab_trend_batch *ahead; size_t n_ahead;   /* left out, for they are dated ahead; set by who did */
};

/* batches in order of date. AB_ENOMEM. */
enum ab_status ab_trend_work(const struct ab_trend_batch *batches, size_t n, size_t n_faults,
    struct ab_arena *arena, struct ab_trend **out, struct ab_diag *diag);

/* Charts each habit that AB_CHART_LEAST of the batches tell (chart.h), in order of ab_trend_habits, into
 * trend. The scatter is never taken as smaller than what the facts' uncertainty leaves open. AB_ENOMEM. */
enum ab_status ab_trend_charts(const struct ab_trend_batch *batches, size_t n,
    const struct ab_fact_table *facts, struct ab_arena *arena, struct ab_trend *trend, struct ab_diag *diag);

/* How far scores of one batch lie apart (verdicts.h), as shares of the most, into trend. AB_ENOMEM. */
enum ab_status ab_trend_verdicts(const struct ab_trend_batch *batches, size_t n,
    const struct ab_fact_table *facts, struct ab_arena *arena, struct ab_trend *trend, struct ab_diag *diag);

/* Before and after each change for every cause, by its blame in the batches compared, into trend's changes.
 * Nothing where batches carry no blame. AB_ENOMEM. */
enum ab_status ab_trend_causes(const struct ab_trend_batch *batches, size_t n_causes, struct ab_arena *arena,
    struct ab_trend *trend, struct ab_diag *diag);

/* The newest revisions of a store as series, changes marked at the batch that noted them. In the arena. AB_ENOMEM. */
enum ab_status ab_trend_series(const struct ab_past *past, size_t n, struct ab_arena *arena,
    struct ab_trend_batch **out, struct ab_diag *diag);

/* Takes those that are dated ahead (limits: dated.h) out of a series in order of date and hands them out in ahead; an
 * untasted batch may be planned. AB_ENOMEM. */
enum ab_status ab_trend_set_apart(struct ab_trend_batch *batches, size_t *n, const struct ab_dated *limits,
    struct ab_arena *arena, struct ab_trend_batch **ahead, size_t *n_ahead, struct ab_diag *diag);

/* What a brewer's own batches make of an expectation: normal prior and normal data of a difference, weighted
 * by their precision (conjugate normal with known scatter). sd > 0; data_sd INFINITY = no data. */
struct ab_learned { double prior, prior_sd, data, data_sd, mean, sd; };
struct ab_learned ab_trend_learn(double prior, double prior_sd, double data, double data_sd);
/* The same for a change of a trend whose effect was promised as load_before - load_after: the promise may be
 * off by as much as itself (estimate), the data by what the scatter of so many batches leaves open. False
 * while there is nothing to learn from: an empty side, or nothing promised. */
bool ab_trend_learn_change(const struct ab_trend_change *change, double load_before, double load_after,
    struct ab_learned *out);

/* Did the promise hold: what came lies no further from it than 8 in 10 would when both are as sure as they say. */
bool ab_trend_held(const struct ab_learned *l);

/* P(mean of b < mean of a) and the 80 % credible interval of mean(a) - mean(b). floor_sd: scatter that
 * tasting alone brings, a lower bound on the scatter used.
 * All NAN when either side is empty or there are fewer than 3 values. Any output may be NULL. */
void ab_trend_two_means(const double *a, size_t na, const double *b, size_t nb, double floor_sd,
    double *p_less, double *low, double *high);
/* P(p_b < p_a) for counts with Jeffreys priors; by numerical integration to 1e-8. */
double ab_trend_two_shares(size_t with_a, size_t na, size_t with_b, size_t nb);
/* Fisher's exact test, two-sided (sum of tables at most as probable), as R's fisher.test. */
double ab_fisher(size_t a, size_t b, size_t c, size_t d);

#endif
