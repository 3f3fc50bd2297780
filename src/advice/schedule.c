/* schedule.c - touches laid out over days: a bound by recursion over the tree of windows, then a search
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/schedule.h>

#include <assert.h>
#include <limits.h>
#include <string.h>

static const long long NEVER = LLONG_MAX / 4;

/* Minutes of a day that are taken: of its first part, what goes beyond the day among them, and of its second. */
struct part { int first, second; };

/* bound[t][d]: the least that touch t and all that hang on it cost with t on day d, no day shared. */
struct search {
	const struct ab_schedule_task *task;
	long long *bound[AB_SCHEDULE_TOUCHES];
	struct part used[AB_SCHEDULE_DAYS];
	int day[AB_SCHEDULE_TOUCHES];
	bool over[AB_SCHEDULE_TOUCHES], apart[AB_SCHEDULE_TOUCHES];
	struct ab_schedule *best;
};

static int larger(int a, int b) { return a > b ? a : b; }
static int smaller(int a, int b) { return a < b ? a : b; }

/* The days a touch may fall on once that on which it hangs stands on day at; lo > hi: none. */
struct window { int lo, hi; };
static struct window window_of(const struct ab_schedule_task *task, const struct ab_schedule_touch *t, int at)
{
	int from = t->after < 0 ? 0 : at;
	return (struct window){ larger(larger(from + t->lo, t->first), 0),
		smaller(smaller(from + t->hi, t->last), (int)task->n_days - 1) };
}

static long long cost_on(const struct ab_schedule_touch *t, int at, int day)
{
	int late = day - (t->after < 0 ? 0 : at) - t->lo;
	return (long long)t->late_cost * larger(late, 0) + (long long)t->day_cost * day;
}

/* What it takes of the day is added to *used. */
static bool holds(const struct ab_schedule_day *day, int minutes, struct part *used, bool *over, bool *apart)
{
	bool first = used->first + minutes <= day->minutes;
	*apart = !first && used->second + minutes <= day->apart;
	*over = !first && !*apart;
	*(*apart ? &used->second : &used->first) += minutes;
	return !*over || used->first + used->second <= day->most;
}

/* ---- the bound ---- */

/* The least for touch t and its own when that on which it hangs stands on day at. */
static long long least_after(const struct search *s, size_t t, int at)
{
	const struct ab_schedule_touch *touch = &s->task->touches[t];
	struct window w = window_of(s->task, touch, at);
	long long least = NEVER;
	for (int d = w.lo; d <= w.hi; d++) {
		long long cost = s->bound[t][d] == NEVER ? NEVER : s->bound[t][d] + cost_on(touch, at, d);
		least = cost < least ? cost : least;
	}
	return least;
}

/* What hangs on touch t standing on day d costs at least this; NEVER when one of them finds no day. */
static long long least_of_own(const struct search *s, size_t t, int d)
{
	long long sum = 0;
	for (size_t c = t + 1; c < s->task->n && sum < NEVER; c++)
		if (s->task->touches[c].after == (int)t) {
			long long least = least_after(s, c, d);
			sum = least == NEVER ? NEVER : sum + least;
		}
	return sum;
}

/* From the last touch to the first: what hangs on a touch has a greater number. */
static enum ab_status make_bounds(struct search *s, struct ab_arena *arena, struct ab_diag *diag)
{
	for (size_t t = s->task->n; t-- > 0;) {
		s->bound[t] = ab_arena_alloc(arena, s->task->n_days, sizeof *s->bound[t]);
		if (s->bound[t] == NULL)
			return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
		for (size_t d = 0; d < s->task->n_days; d++) {
			bool over, apart;
			struct part alone = { 0, 0 };
			long long own = holds(&s->task->days[d], s->task->touches[t].minutes, &alone, &over, &apart)
			    ? least_of_own(s, t, (int)d) : NEVER;
			s->bound[t][d] = own == NEVER ? NEVER : own + (over ? s->task->over_cost : 0);
		}
	}
	return AB_OK;
}

/* ---- the search ---- */

/* What the touches from t on cost at least, those before standing: only those that hang on one that stands, for
 * the rest is in theirs. */
static long long least_left(const struct search *s, size_t t)
{
	long long sum = 0;
	for (size_t c = t; c < s->task->n && sum < NEVER; c++) {
		int after = s->task->touches[c].after;
		if (after >= (int)t)
			continue;
		long long least = least_after(s, c, after < 0 ? 0 : s->day[after]);
		sum = least == NEVER ? NEVER : sum + least;
	}
	return sum;
}

static void keep(struct search *s, long long cost)
{
	s->best->found = true;
	s->best->cost = cost;
	memcpy(s->best->day, s->day, sizeof s->day);
	memcpy(s->best->over, s->over, sizeof s->over);
	memcpy(s->best->apart, s->apart, sizeof s->apart);
}

/* The day of the window that promises most after those tried; -1 when none is left that could win. Days are
 * tried in order of promise, ties from the first: (promise, day) rises from call to call. */
static int next_day(const struct search *s, size_t t, struct window w, int at, long long *promise, int tried)
{
	long long least = NEVER;
	int best = -1;
	for (int d = w.lo; d <= w.hi; d++) {
		long long p = s->bound[t][d];
		if (p == NEVER)
			continue;
		p += cost_on(&s->task->touches[t], at, d);
		if ((p > *promise || (p == *promise && d > tried)) && p < least) {
			least = p;
			best = d;
		}
	}
	*promise = least;
	return best;
}

static enum ab_status place(struct search *s, size_t t, long long cost);

/* What prepares a touch stands already, for its number is smaller. The bound knows nothing of this: it only becomes
 * too hopeful, never too high. */
static bool prepared(const struct search *s, size_t t, int d)
{
	for (size_t i = 0; i < t; i++)
		if (s->task->touches[i].before == (int)t && s->day[i] > d)
			return false;
	return true;
}

/* Touch t on day d, and on to the next touch. */
static enum ab_status stand(struct search *s, size_t t, int d, int at, long long cost)
{
	const struct ab_schedule_touch *touch = &s->task->touches[t];
	enum ab_status st = AB_OK;
	if (++s->best->steps > AB_SCHEDULE_STEPS)
		return AB_ELIMIT;
	struct part before = s->used[d], with = before;
	if (!prepared(s, t, d) || !holds(&s->task->days[d], touch->minutes, &with, &s->over[t], &s->apart[t]))
		return AB_OK;
	cost += cost_on(touch, at, d) + (s->over[t] ? s->task->over_cost : 0);
	s->day[t] = d;
	s->used[d] = with;
	long long left = least_left(s, t + 1);
	if (left != NEVER && (!s->best->found || cost + left < s->best->cost))
		st = place(s, t + 1, cost);
	s->used[d] = before;
	return st;
}

static enum ab_status place(struct search *s, size_t t, long long cost)
{
	long long promise = -NEVER;
	int d = -1;
	enum ab_status st = AB_OK;
	if (t == s->task->n) {
		keep(s, cost);
		return AB_OK;
	}
	const struct ab_schedule_touch *touch = &s->task->touches[t];
	int at = touch->after < 0 ? 0 : s->day[touch->after];
	struct window w = window_of(s->task, touch, at);
	while (st == AB_OK && (d = next_day(s, t, w, at, &promise, d)) >= 0)
		st = stand(s, t, d, at, cost);
	return st;
}

/* ---- the task ---- */

static enum ab_status check(const struct ab_schedule_task *task, struct ab_diag *diag)
{
	if (task->n > AB_SCHEDULE_TOUCHES || task->n_days > AB_SCHEDULE_DAYS)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "a schedule of %zu touches over %zu days: at most %d over %d",
		    task->n, task->n_days, AB_SCHEDULE_TOUCHES, AB_SCHEDULE_DAYS);
	for (size_t t = 0; t < task->n; t++) {
		const struct ab_schedule_touch *touch = &task->touches[t];
		if (touch->lo > touch->hi || touch->minutes < 0)
			return ab_fail(diag, AB_EUSAGE, NULL, 0,
			    "touch %zu: a window that ends before it begins, or less than no minutes", t);
		if (touch->after >= (int)t)
			return ab_fail(diag, AB_EUSAGE, NULL, 0, "touch %zu hangs on no earlier one", t);
	}
	return AB_OK;
}

enum ab_status ab_schedule_solve(const struct ab_schedule_task *task, struct ab_arena *arena,
    struct ab_schedule *out, struct ab_diag *diag)
{
	memset(out, 0, sizeof *out);
	enum ab_status st = check(task, diag);
	if (st != AB_OK)
		return st;
	struct search *s = ab_arena_alloc(arena, 1, sizeof *s);
	if (s == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*s = (struct search){ .task = task, .best = out };
	st = make_bounds(s, arena, diag);
	if (st == AB_OK && least_left(s, 0) != NEVER && place(s, 0, 0) != AB_OK)
		st = ab_fail(diag, AB_ELIMIT, NULL, 0, "no schedule was proven best in %d steps", AB_SCHEDULE_STEPS);
	return st;
}
