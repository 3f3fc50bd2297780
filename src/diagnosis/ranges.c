/* ranges.c - how sure the figures are: every estimate drawn again within its step
 *
 * One step of the coarse scales on which strengths and ratios are rated (0.1, 0.3, 0.5, 0.7, 0.9; ratio 2, 5,
 * 10) is about 0.85 in logit. Rounding alone would make the standard deviation half a step, but people who
 * estimate are surer than they should be: of the ranges that were to hold four truths in five, about half do
 * (Lichtenstein, Fischhoff & Phillips 1982, in Judgment under Uncertainty; from memory), so their errors are
 * near twice what they think. Hence a whole step (estimate): with it four in five ranges hold the truth for
 * simulated brewers whose every number is a step off, with half a step not half of them. The error of a
 * sign's ratio grows with its log.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <math.h>

static const double STEP = 0.8, SIGN_SHARE = 0.25, STEP_MAX = 5;

static const struct ab_prior *prior_of(const struct ab_cause *cause, const struct ab_fact *facts)
{
	size_t i = cause->n_priors - 1;
	while (i > 0 && !ab_conds_hold(&cause->priors[i].when, facts))
		i--;
	return &cause->priors[i];
}

/* Prior and signs err each for themselves. Independent errors add in squares. A number with a source has
 * no step: what was measured elsewhere may not fit this cellar, but nobody estimated it. */
static double odds_step(const struct job *job, size_t i)
{
	const struct ab_cause *cause = &job->k->causes[i];
	double used[AB_CAUSE_SIGNS];
	double sum = prior_of(cause, job->facts)->source.estimate ? STEP * STEP : 0;
	ab_cause_log_odds(cause, job->facts, used);
	for (size_t j = 0; j < cause->n_signs; j++)
		if (cause->signs[j].source.estimate)
			sum += SIGN_SHARE * SIGN_SHARE * used[j] * used[j];
	return fmin(sqrt(sum), STEP_MAX);
}

static bool make_steps(const struct job *job, double **odds, double **tail)
{
	const struct built *b = &job->b;
	*odds = ab_arena_alloc(job->arena, b->net.n_causes, sizeof **odds);
	*tail = ab_arena_alloc(job->arena, b->net.n_links, sizeof **tail);
	if (*odds == NULL || *tail == NULL)
		return false;
	assert(b->net.n_causes >= job->k->n_causes);
	for (size_t i = 0; i < job->k->n_causes; i++)
		/* The leaks that are causes of their own come behind and keep the step 0 of fresh memory:
		 * always there is no estimate. */
		(*odds)[i] = odds_step(job, i);
	for (size_t i = 0; i < b->net.n_links; i++)
		(*tail)[i] = b->link_estimate[i] ? STEP : 0;
	return true;
}

enum ab_status diagnose_ranges(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	size_t n = job->b.net.n_causes, draws = job->options->redraws;
	double *odds, *tail;
	struct ab_range range = { .blame_low = ab_arena_alloc(job->arena, n, sizeof *range.blame_low),
		.blame_high = ab_arena_alloc(job->arena, n, sizeof *range.blame_high) };
	if (range.blame_low == NULL || range.blame_high == NULL || !make_steps(job, &odds, &tail))
		return job_no_memory(job);
	enum ab_status st = diagnose_kin_sets(job, &range);
	if (st != AB_OK)
		return st;
	/* Leaks of found faults are causes of their own here, so their step is a link's. */
	struct ab_steps steps = { odds, tail, NULL };
	/* Brought into what redraw.h allows: how many draws is a wish, not an input worth failing for. */
	int wanted = draws < AB_REDRAW_MIN ? AB_REDRAW_MIN : draws > AB_REDRAW_MAX
	    ? AB_REDRAW_MAX : (int)draws;
	st = ab_net_redraw(&job->b.net, &steps, wanted, job->options->seed, &range, job->diag);
	for (size_t i = 0; st == AB_OK && i < d->n_suspects; i++) {
		struct ab_suspect *s = &d->suspects[i];
		s->blame_low = range.blame_low[s->cause];
		s->blame_high = range.blame_high[s->cause];
	}
	if (st == AB_OK && d->lead != NULL) {
		/* The kin that leads stands first. */
		d->kins[0].low = range.set_low[0];
		d->kins[0].high = range.set_high[0];
	}
	return st;
}
