/* listing.h - the insides of nextstep.h: the list as its two files fill it
 *
 * nextstep.c tells of beers that exist, nextbrew.c of changes and the next brew.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_LISTING_H
#define AB_ADVICE_LISTING_H

#include <afterboil/nextstep.h>

/* So many changes on trial are told of. */
enum { LISTING_TRIALS = 2 };

/* today_s: the clock, or the newest day of the journals. clock_s: the clock alone, -INFINITY when nobody told it.
 * brewed_s: the newest brew day of what was brewed, -INFINITY of nothing: what is only planned may lie ahead. */
struct listing {
	const struct ab_next_of *of;
	struct ab_next_step *out;
	size_t n;
	double today_s, clock_s, brewed_s;
};

/* One more step, of no cause and no item yet; batch may be NULL. */
struct ab_next_step *listing_add(struct listing *l, enum ab_next kind, const struct ab_batch *batch);

/* Is today no more than so many days after? */
bool listing_within(const struct listing *l, double since_s, double days);

/* The day of the last tasting, else of the brewing; -INFINITY unknown. */
double listing_last_tasted_s(const struct ab_batch *b);

/* The tasting of a batch, and what it needs next; NULL when it asks for nothing. */
const struct ab_touch_due *listing_goal_of(const struct ab_next_of *of, const struct ab_batch *b);
const struct ab_touch_due *listing_next_of(const struct ab_next_of *of, const struct ab_batch *b);

/* Begun, not packaged, not forgotten. */
bool listing_is_running(const struct listing *l, const struct ab_case *c);

/* The newest beer that was tasted; NULL. */
const struct ab_case *listing_newest_tasted(const struct ab_next_of *of);

/* What leads a diagnosis that has a suspect, and how likely it is to blame. */
void listing_note_benign(struct ab_next_step *step, const struct ab_case *c);

/* The changes that wait for a tasting, newest first, LISTING_TRIALS at most; returns how many. Of the forgotten the
 * newest, where *forgotten is NULL. */
size_t listing_trials(const struct listing *l, const struct ab_changed **trials, const struct ab_changed **forgotten);

/* The newest begun batch that was brewed with the change and can tell of it; NULL when none was. */
const struct ab_batch *listing_brewed_with(const struct ab_next_of *of, const struct ab_changed *c);

/* The steps: what the newest change came to, what is to be tasted, what to begin with. */
void listing_keep(struct listing *l);
void listing_taste(struct listing *l, const struct ab_changed *const *trials, size_t n);
void listing_next_brew(struct listing *l, const struct ab_changed *const *trials, size_t n);

#endif
