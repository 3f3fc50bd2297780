/* nextbrew.c - what the next steps say of changes: on trial, tasted, to be begun with the next brew
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/listing.h"
#include <afterboil/batchplan.h>

#include <math.h>
#include <string.h>

/* A change noted for a day further ahead than AHEAD_DAYS is none of the next brew, and neither is a brew after whose
 * day another was brewed by more than MISSED_DAYS (estimate: a brew day is put off by a week or two). */
enum { DAY = 86400, AHEAD_DAYS = 60, MISSED_DAYS = 14 };
/* A change that was tasted in more batches is no news (estimate). */
enum { MOST_NEWS = 3 };
static const double EVEN = 0.5;

/* A change that waits for a tasting so long is forgotten, and holds up nothing: since it was noted, or since the brew
 * with it; one of a beer after so many brews of others (estimates: a year, and half a year's brewing). */
enum { FORGOTTEN_DAYS = 365, FORGOTTEN_BREWS = 6 };

static bool of_line(const struct ab_batch *b, const char *line)
{
	return line == NULL || (b->line != NULL && strcmp(b->line, line) == 0);
}

/* Brewed with it: by the day, for nobody notes the hour of a change. */
static bool is_under(const struct ab_batch *b, const struct ab_changed *c)
{
	return of_line(b, c->line) && floor(b->brewed.s / DAY) >= floor(c->on.s / DAY);
}

/* Drunk or poured away: nobody can taste it any more. */
static bool is_gone(const struct ab_batch *b)
{
	return b->package != NULL && b->package->fate != 0 && b->package->fate != AB_FATE_LET_OFF;
}

/* The newest begun batch that was brewed with the change and can tell of it; NULL when none was. */
const struct ab_batch *listing_brewed_with(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = of->n; i-- > 0;) {
		const struct ab_batch *b = of->cases[i]->batch;

		if (ab_next_begun(b) && is_under(b, c) && (of->cases[i]->tasted || !is_gone(b)))
			return b;
	}
	return NULL;
}

static bool was_tasted_with(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = 0; i < of->n; i++)
		if (of->cases[i]->tasted && is_under(of->cases[i]->batch, c))
			return true;
	return false;
}

static bool is_forgotten(const struct listing *l, const struct ab_changed *c)
{
	const struct ab_batch *b = listing_brewed_with(l->of, c);
	int others = 0;

	for (size_t i = 0; b == NULL && i < l->of->n; i++) {
		const struct ab_batch *other = l->of->cases[i]->batch;

		others += ab_next_begun(other) && !of_line(other, c->line) &&
		    floor(other->brewed.s / DAY) >= floor(c->on.s / DAY);
	}
	return others >= FORGOTTEN_BREWS || !listing_within(l, b != NULL ? b->brewed.s : c->on.s, FORGOTTEN_DAYS);
}

/* The newest noted first. Of the forgotten the newest as well. */
size_t listing_trials(const struct listing *l, const struct ab_changed **trials, const struct ab_changed **forgotten)
{
	const struct ab_next_of *of = l->of;
	size_t n = 0;

	const struct ab_changed *all = of->profile != NULL ? of->profile->changed.items : NULL;
	for (size_t i = all != NULL ? of->profile->changed.n : 0; i-- > 0 && n < LISTING_TRIALS;)
		if (all[i].on.known && !was_tasted_with(of, &all[i]) &&
		    (of->n == 0 || all[i].on.s - l->today_s <= (double)AHEAD_DAYS * DAY)) {
			if (of->n == 0 || !is_forgotten(l, &all[i]))
				trials[n++] = &all[i];
			else if (*forgotten == NULL)
				*forgotten = &all[i];
		}
	return n;
}

static const struct ab_next_kept *kept_of(const struct ab_next_of *of, const struct ab_changed *c)
{
	for (size_t i = 0; i < of->n_kept; i++)
		if (of->kept[i].change == c)
			return &of->kept[i];
	return NULL;
}

/* Only by the newest beer that was tasted, and the newest change it was brewed with: what is older is a habit by now. A
 * beer with faults says nothing against a change that those before had more of. */
void listing_keep(struct listing *l)
{
	const struct ab_next_of *of = l->of;
	const struct ab_case *c = listing_newest_tasted(of);

	if (c == NULL || of->profile == NULL ||
	    !listing_within(l, listing_last_tasted_s(c->batch), of->norms->numbers[AB_NUM_YOUNG_D]))
		return;
	const struct ab_changed *all = of->profile->changed.items, *trial = NULL;
	for (size_t k = 0; k < of->profile->changed.n; k++)
		if (all[k].on.known && is_under(c->batch, &all[k]) && (trial == NULL || all[k].on.s >= trial->on.s))
			trial = &all[k];
	const struct ab_next_kept *kept = trial == NULL ? NULL : kept_of(of, trial);
	bool well = (c->diagnosis->verdict_benign || !(c->load > 0)) && ab_case_bursting(c) == NULL,
	     better = kept != NULL && kept->p_better >= EVEN;
	if (trial == NULL || !(well || better) || (kept != NULL && kept->n_after > MOST_NEWS))
		return;
	listing_add(l, AB_NEXT_KEEP, c->batch)->trial = trial;
	l->out[l->n - 1].well = well;
	l->out[l->n - 1].kept = kept;
}

/* Its journal is there, and nothing has begun. One whose day is well past was brewed, or will not be: nobody wrote more
 * of it. */
static bool is_coming(const struct listing *l, const struct ab_batch *b)
{
	return !ab_next_begun(b) && !(l->brewed_s - b->brewed.s > (double)MISSED_DAYS * DAY) &&
	    !(l->clock_s - b->brewed.s > (double)AB_PLAN_NOT_BREWED_DAYS * DAY);
}

static const struct ab_batch *coming(const struct listing *l, const char *line)
{
	for (size_t i = l->of->n; i-- > 0;)
		if (is_coming(l, l->of->cases[i]->batch) && of_line(l->of->cases[i]->batch, line))
			return l->of->cases[i]->batch;
	return NULL;
}

/* What is about to be brewed, else the newest of the line: the same beer brewed again teaches most. */
static const struct ab_batch *to_brew(const struct listing *l, const char *line)
{
	if (coming(l, line) != NULL)
		return coming(l, line);
	for (size_t i = l->of->n; i-- > 0;)
		if (of_line(l->of->cases[i]->batch, line))
			return l->of->cases[i]->batch;
	return NULL;
}

/* Every packaged batch waits for its tasting, till it is forgotten; one is told, that of a trial before others. */
void listing_taste(struct listing *l, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_next_of *of = l->of;

	for (size_t t = 0; t < n; t++) {
		const struct ab_batch *b = listing_brewed_with(of, trials[t]);
		if (b != NULL && b->package != NULL) {
			listing_add(l, AB_NEXT_TASTE, b)->trial = trials[t];
			l->out[l->n - 1].due = listing_goal_of(of, b);
			return;
		}
	}
	for (size_t i = of->n; i-- > 0;)
		if (!of->cases[i]->tasted && of->cases[i]->batch->package != NULL && !is_gone(of->cases[i]->batch) &&
		    !ab_batchplan_asleep(of->cases[i]->batch, l->clock_s)) {
			listing_add(l, AB_NEXT_TASTE, of->cases[i]->batch)->due =
			    listing_goal_of(of, of->cases[i]->batch);
			return;
		}
}

/* Without a beer tasted or a trouble told a plan rests on what is usual. What takes time no taste tells. */
static bool knows_trouble(const struct ab_next_of *of)
{
	if (of->n == 0 || (of->profile != NULL && (of->profile->troubles.n > 0 || of->profile->goal == AB_GOAL_TIME)))
		return true;
	for (size_t i = 0; i < of->n; i++)
		if (of->cases[i]->tasted)
			return true;
	return false;
}

static bool anything_runs(const struct listing *l)
{
	for (size_t i = 0; i < l->of->n; i++)
		if (listing_is_running(l, l->of->cases[i]))
			return true;
	return false;
}

/* The day of a brew is known where its journal is there; else the first day that is free for it, but how many
 * fermenters there are is not told. */
static void add_brew(struct listing *l, enum ab_next kind, const struct ab_batch *b)
{
	struct ab_next_step *step = listing_add(l, kind, b);

	step->coming = b != NULL && is_coming(l, b);
	step->due = step->coming ? listing_next_of(l->of, b) : NULL;
	if (!step->coming && l->of->touches != NULL && !anything_runs(l))
		step->brew_s = l->of->touches->brew_s;
}

/* A beer about to be brewed that no change is on trial for, while each of those on trial is another beer's; else
 * NULL. */
static const struct ab_batch *free_brew(const struct listing *l, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_batch *b = n > 0 ? coming(l, NULL) : NULL;

	for (size_t t = 0; b != NULL && t < n; t++)
		if (b->line == NULL || trials[t]->line == NULL || of_line(b, trials[t]->line))
			b = NULL;
	return b;
}

/* Of those on trial the first that acts on what the change to go on with is against; NULL. */
static const struct ab_changed *under_trial(
    const struct ab_next_of *of, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_changed *all = n > 0 && of->same != NULL ? of->profile->changed.items : NULL;

	for (size_t t = 0; all != NULL && t < n; t++)
		if (of->same[trials[t] - all])
			return trials[t];
	return NULL;
}

void listing_next_brew(struct listing *l, const struct ab_changed *const *trials, size_t n)
{
	const struct ab_next_of *of = l->of;
	const struct ab_batch *other = free_brew(l, trials, n);
	int item = n > 0 ? of->after : knows_trouble(of) && !of->well ? of->item : -1;

	if ((n == 0 || other != NULL) && item >= 0 && of->check != NULL)
		listing_add(l, AB_NEXT_CHECK, NULL)->check = of->check;
	for (size_t t = 0; t < n; t++)
		if (listing_brewed_with(of, trials[t]) == NULL) {
			add_brew(l, AB_NEXT_BREW, to_brew(l, trials[t]->line));
			l->out[l->n - 1].trial = trials[t];
		}
	if (other != NULL && item >= 0) {
		add_brew(l, AB_NEXT_BEGIN, other);
		l->out[l->n - 1].item = item;
		l->out[l->n - 1].line = other->line;
		l->out[l->n - 1].under = under_trial(of, trials, n);
	} else if (n > 0 && item >= 0) {
		listing_add(l, AB_NEXT_AFTER, NULL)->item = item;
		l->out[l->n - 1].under = under_trial(of, trials, n);
	} else if (item >= 0) {
		add_brew(l, AB_NEXT_BEGIN, coming(l, NULL));
		l->out[l->n - 1].item = item;
	} else if (n == 0) {
		add_brew(l, AB_NEXT_SAME, to_brew(l, NULL));
		l->out[l->n - 1].item = of->item;   /* -1, or not told yet */
		l->out[l->n - 1].well = of->well;
		l->out[l->n - 1].by_word = of->well && listing_newest_tasted(of) == NULL;
		const struct ab_case *c = of->well ? listing_newest_tasted(of) : NULL;
		if (c != NULL && c->diagnosis->verdict_benign && c->diagnosis->n_suspects > 0)
			listing_note_benign(&l->out[l->n - 1], c);
	}
}
