/* nextstep.h - what a brewer does next, most urgent first: the same answer wherever it is asked
 *
 * A diagnosis speaks of one beer and a plan of beers to come; read one after the other they seem to differ
 * ("wait", "change this"). Here both are put in order: what may hurt somebody, then the beers that exist (one
 * to tend, one to leave alone, one to taste), then the next brew. One change at a time: while a change is on
 * trial (noted in the profile, no batch with it tasted) no other is begun; two noted at once are both named. A trial
 * of one beer is no business of another that is about to be brewed, and one that is forgotten is none of anybody.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_NEXTSTEP_H
#define AFTERBOIL_NEXTSTEP_H

#include <afterboil/batchplan.h>
#include <afterboil/casework.h>
#include <afterboil/dated.h>

enum ab_next {
	AB_NEXT_SAFE, /* bottles of batch may burst, and those of also. Of the last year only, by the clock: older
		       * ones are mostly drunk (estimate) */
	AB_NEXT_VENT, /* keg, cask, can or the like of batch, and of also, may stand under a high pressure that
		       * nobody here can judge (ab_case_pressed); of the last year only */
	AB_NEXT_DATE, /* batch is dated ahead of today (dated.h): its day is to be put right; the newest of them */
	AB_NEXT_TEND, /* batch has begun, is not packaged and not forgotten (batchplan.h, asleep); then another that
		       * needs something today: of each sort the one that needs something soonest */
	AB_NEXT_TASTE, /* batch is packaged and not tasted. trial: a change it was brewed with, or NULL */
	AB_NEXT_WAIT,  /* batch was tasted and most likely nothing is wrong with it (cause): leave it. For
			* AB_NUM_YOUNG_D from the tasting; from a week on it stands behind all that can be done */
	AB_NEXT_KEEP,  /* the newest beer tasted (batch) was brewed with trial and is well, or better than those
			* before:  go on so. For AB_NUM_YOUNG_D from the tasting */
	AB_NEXT_CHECK, /* before anything is bought (advice.h, ahead) */
	AB_NEXT_BREW,  /* brew with trial and change nothing else; batch: what to brew, or what is about to be
			* (its journal is there and nothing has begun), or NULL */
	/* Of a new change nothing is said before a beer was tasted, unless the profile tells of a trouble: what is
	 * usual would change with every line that is noted. */
	AB_NEXT_BEGIN, /* begin a new change with the next brew: item; batch: the one about to be brewed, or
			* NULL */
	AB_NEXT_AFTER, /* item, but only when the trial was tasted */
	AB_NEXT_SAME,  /* nothing to change, or (item >= 0) nothing to be told before a beer was tasted, or (well)
			* nothing  that was tasted asks for it, since (cause >= 0) most likely nothing is wrong with
			* what was found;  batch: the one about to be brewed, or NULL */
	AB_NEXT_FORGOTTEN, /* trial waits for its tasting for more than a year, or its beer was not brewed in six
			    * brews since (estimates): it holds up no other change. batch: the one brewed with it,
			    * or NULL */
	AB_NEXTS
};
extern const char *const ab_next_words[AB_NEXTS]; /* safe, vent, date, tend, wait, taste, keep, check, brew, begin,
						   * after, same, forgotten */

/* What the tasted batches before and after a change tell of it (trend.h has the same figures): p_better NAN where
 * nothing can be compared; more_needed: tasted batches with it that are still wanted to tell, 0 = enough or not
 * known; together: another change came with the same batch. */
struct ab_next_kept {
	const struct ab_changed *change;
	size_t n_before, n_after, more_needed;
	double p_better;
	bool together;
};

/* fit: how the batch's plan met the days there are (NONE: not at all; ALL also of what has no plan, and where an
 * earlier step tells it). kept: of trial, or NULL (KEEP). cause, item: -1 = none. item: place in the items of the
 * advice. due: what the batch needs next and when (TEND), its tasting (TASTE), the day it is to be brewed (BREW,
 * BEGIN and SAME of a batch about to be brewed); NULL = not known (batchplan.h). */
enum { AB_NEXT_ALSO = 15 };
struct ab_next_step {
	enum ab_next kind;
	const struct ab_batch *batch;
	const struct ab_batch *also[AB_NEXT_ALSO];
	size_t n_also, n_more; /* SAFE, VENT: the others, and how many beyond these */
	int cause, item;
	const struct ab_touch_due *due, *then;   /* then: what comes behind a due that is overdue; NULL */
	const struct ab_changed *trial;
	const struct ab_ask *check;
	const struct ab_changed *under; /* AFTER, BEGIN: a change on trial against what item is most against; NULL =
					   none */
	const char *line;   /* BEGIN: for this beer only, since another has a change on trial; NULL = for all */
	const struct ab_next_kept *kept;
	enum ab_calendar_fit fit;
	bool well;              /* SAME; KEEP: it had no flaw itself */
	bool by_word;           /* SAME, well: no beer was tasted, the profile says that nothing is wrong */
	bool coming;            /* BREW, BEGIN, SAME: batch is not brewed yet, its journal lies ready */
	double brew_s;   /* BREW, BEGIN and SAME without a journal yet: the first free day for it, while no beer
			  * ferments;   0 = not known */
	double stored_s; /* TEND: since when it is told to be stored, while nothing tells that it was packaged: most
			  * likely that was forgotten; 0 = not so */
	const struct ab_fact *facts; /* where there is a cause, and nothing is wrong: of that batch */
	double p, low, high; /* WAIT, and SAME with a cause: how likely it is that nothing is wrong, with its likely
				range */
};

/* cases in order of brewing; profile may be NULL. item: the place of what the plan would begin with, after: of
 * what it would go on with, what is on trial left out (-1 = nothing). check: to be done before buying, or NULL.
 * touches: of the folder, or NULL. kept: of changes of the profile, each once. today: unknown = the newest day the
 * journals tell; a day before that counts as it. ahead: those that are dated ahead of today, which are not among
 * the cases: no more than their danger and their day is told of them. well: the newest beer tasted has no flaw, and
 * what was tasted before is gone, or none was tasted and the profile says that nothing is wrong: nothing new is
 * begun. */
struct ab_next_of {
	struct ab_case *const *cases; size_t n;
	const struct ab_profile *profile;
	struct ab_when today;
	int item, after;
	const struct ab_ask *check;
	const struct ab_touch_next *touches;
	const struct ab_next_kept *kept; size_t n_kept;
	struct ab_case *const *ahead; size_t n_ahead;
	bool well;
	const struct ab_norms *norms;   /* of the rules: its numbers are read */
	const unsigned char *same;      /* by place in the profile's changed: 1 where that acts on the cause which
					 * `after` is most against; NULL = none does */
};

/* Is it dated ahead of today: its brewing, or a tasting? */
bool ab_next_dated_ahead(const struct ab_batch *batch, const struct ab_dated *limits);

/* Is there any trace of it beyond its recipe and its day, that nobody writes ahead? */
bool ab_next_begun(const struct ab_batch *batch);

/* Do bottles of it, as long as bottles are thought to be about (AB_NUM_BOTTLES_D), burst perhaps? Those of a batch
 * dated ahead do, if ab_case_bursting says so. */
bool ab_next_danger(const struct ab_norms *norms, const struct ab_case *c, double clock_s);

/* At most so many steps: one of each kind but those that exclude each other, two to tend and two changes on trial. */
enum { AB_NEXT_MOST = 13 };

/* Fills out[AB_NEXT_MOST]; how many. At least one: AB_NEXT_SAME when nothing else is to do for the next brew. */
size_t ab_next_steps(const struct ab_next_of *of, struct ab_next_step *out);

#endif
