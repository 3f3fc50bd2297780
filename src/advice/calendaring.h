/* calendaring.h - what calendar.c, standing.c and behind.c share: one calendar in the making
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_ADVICE_CALENDARING_H
#define AB_ADVICE_CALENDARING_H

#include <afterboil/calendar.h>

enum { DAY = 86400 };
/* What is wished for most weighs most: no free day given up, then what is overdue, then the beer's day, then the
 * day a brewer has named for the brewing, then no touch left waiting. A day's weight times AB_CALENDAR_DAYS stays
 * below a free day's. */
enum { DAY_COST = 10000, BREW_COST = 100, OVERDUE_COST = 20000, PRESSED_COST = 100000000 };

/* touches: what is to do, in the order of the rules, windows beside them; past: the rest. goal: its place, -1 when
 * it is past. */
struct making {
	const struct ab_knowledge *k;
	const struct ab_calendar_asked *asked;
	struct ab_arena *arena;
	struct ab_calendar_touch *touches, *past;
	struct ab_schedule_touch *windows;
	struct ab_schedule_day *days;
	size_t n, n_past;
	int goal;
	bool slow, begun;
};

/* A touch of this beer, with its window after that on which it hangs: places in all, -1 none. */
struct standing { struct ab_calendar_touch t; int base, before, lo, hi; };
struct standings { struct standing *at; size_t n; };

double calendar_today(const struct making *m);
bool standing_past(const struct standing *s);
/* Marks those that are behind it, and says when each of the others is due that hangs on one of these. */
void calendar_mark(struct standings *all, const struct making *m);

/* Which touches there are, where each stands, and when the rest is due. AB_EINPUT, AB_ENOMEM. */
enum ab_status calendar_gather(struct making *m, struct ab_diag *diag);

#endif
