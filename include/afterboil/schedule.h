/* schedule.h - touches laid out over days: which day for which, exactly
 *
 * Numbers in, numbers out: no dates, no clock, no trade. A day is a number from 0; a touch is something that
 * takes minutes on one day and hangs on an earlier touch by a window of days. The best layout is found by
 * branch and bound; its bound is the exact optimum of the same task with a day's minutes not shared between
 * touches (a recursion over the tree of windows), so that little is left to search and nothing is guessed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_SCHEDULE_H
#define AFTERBOIL_SCHEDULE_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

/* Touches, and days looked at, at most; and steps of the search. */
enum { AB_SCHEDULE_TOUCHES = 32, AB_SCHEDULE_DAYS = 1500, AB_SCHEDULE_STEPS = 4000000 };

/* One touch. It falls from lo to hi days after touch number after (a smaller number than its own; -1: lo to hi
 * are days themselves), and in any case from first to last. before: a greater number than its own: it prepares that
 * one, and falls on no later day; 0 (or any other) none. late_cost is paid for each day after lo; day_cost
 * for each day after day 0 (less than 0: the later the better). All costs are whole numbers up to 1e9 in size. */
struct ab_schedule_touch {
	int after, lo, hi, first, last, before;
	int minutes;
	long late_cost, day_cost;
};

/* A day has minutes, and apart from them (a day free until the afternoon has its evening, too) those of a second
 * part; and up to most in all when it must be: each touch that fits into neither part costs over_cost. The touches
 * of a day share it; they are put in order of their numbers, into the first part where there is room. most <
 * minutes + apart counts as those. */
struct ab_schedule_day { int minutes, most, apart; };

struct ab_schedule_task {
	const struct ab_schedule_touch *touches; size_t n;
	const struct ab_schedule_day *days; size_t n_days;
	long over_cost;
};

struct ab_schedule {
	bool found;                            /* false: no layout keeps all windows and minutes; the rest is 0 */
	int day[AB_SCHEDULE_TOUCHES];
	bool over[AB_SCHEDULE_TOUCHES];        /* it went beyond the minutes of its day */
	bool apart[AB_SCHEDULE_TOUCHES];       /* it went into the second part of its day */
	long long cost;                        /* the least there is */
	size_t steps;                          /* of the search */
};

/* The layout of least cost; of several the one whose first touches are earliest is not promised, but the same
 * task gives the same answer. AB_EUSAGE: more touches or days than the limits, a window that ends before it
 * begins, a touch that hangs on no earlier one, a negative number of minutes. AB_ELIMIT: not proven within
 * AB_SCHEDULE_STEPS. AB_ENOMEM. */
enum ab_status ab_schedule_solve(const struct ab_schedule_task *task, struct ab_arena *arena,
    struct ab_schedule *out, struct ab_diag *diag);

#endif
