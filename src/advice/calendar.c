/* calendar.c - the touches of a batch, given to the scheduler, and what came back told in dates
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/calendar.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/curve.h>

enum { DAY = 86400, HOURS = 24, ALL_DAY = 24 * 60 };
/* What is wished for most weighs most: no free day given up, then the beer's day, then no touch left waiting. A day's
 * weight times AB_CALENDAR_DAYS stays below a free day's. */
enum { DAY_COST = 10000, PRESSED_COST = 100000000 };
static const double ONE_POINT_P = 0.25;

/* ---- the pace ---- */

enum ab_status ab_calendar_pace_of(const struct ab_yeast_norm *norm, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_norms *norms, struct ab_arena *arena,
    struct ab_calendar_pace *out, struct ab_diag *diag)
{
	double sum = 0, squares = 0, widest = 0;
	*out = (struct ab_calendar_pace){ norm->primary_days, norm->clean_days, (double)NAN, 0 };
	for (size_t i = 0; i < n; i++) {
		struct ab_curve_of of;
		double h, u;
		enum ab_status st = ab_curve_of_batch(batches[i], profile, norms, arena, &of, diag);
		if (st != AB_OK)
			return st;
		if (of.refusal != AB_CURVE_FITTED || !ab_curve_finish(&of.curve, ONE_POINT_P, &h, &u) || h <= 0)
			continue;
		sum += h / HOURS;
		squares += h / HOURS * h / HOURS;
		widest = fmax(widest, u / HOURS);
		out->brews++;
	}
	if (out->brews == 0)
		return AB_OK;
	double mean = sum / (double)out->brews;
	double var = out->brews < 2 ? 0 : (squares - sum * mean) / (double)(out->brews - 1);
	out->primary = mean;
	out->slow_primary = mean + 2 * fmax(sqrt(fmax(var, 0)), widest);
	return AB_OK;
}

/* ---- which touches, and their windows ---- */

/* What is being made: the beer's touches, by place in rules and in the plan. */
struct making {
	const struct ab_knowledge *k;
	const struct ab_calendar_asked *asked;
	struct ab_arena *arena;
	struct ab_calendar_touch *touches;
	struct ab_schedule_touch *windows;
	struct ab_schedule_day *days;
	size_t n;
	int goal;
	bool slow;
};

static bool any_holds(const struct ab_conds *conds, size_t n, const struct ab_fact *facts)
{
	for (size_t i = 0; i < n; i++)
		if (ab_conds_hold(&conds[i], facts))
			return true;
	return false;
}

static bool applies(const struct ab_touch *t, const struct ab_fact *facts)
{
	return (t->n_only_for == 0 || any_holds(t->only_for, t->n_only_for, facts)) &&
	    !any_holds(t->not_for, t->n_not_for, facts);
}

static int place_of(const struct making *m, int touch)
{
	for (size_t i = 0; i < m->n; i++)
		if (m->touches[i].touch == &m->k->touches[touch])
			return (int)i;
	return -1;
}

static int place_of_first(const struct making *m, const struct ab_touch *t)
{
	for (size_t i = 0; i < t->n_after; i++) {
		int at = place_of(m, t->after[i]);
		if (at >= 0)
			return at;
	}
	return -1;
}

static double paced(const struct making *m, const struct ab_due *due)
{
	const struct ab_calendar_pace *pace = &m->asked->pace;
	double days = due->pace == AB_PACE_PRIMARY ? pace->primary : due->pace == AB_PACE_CLEAN ? pace->clean : 0;
	if (m->slow && due->pace == AB_PACE_PRIMARY && pace->brews > 0)
		days = pace->slow_primary;
	else if (m->slow)
		days *= due->slow;
	return days * due->share;
}

/* A day too late is safer than a day too early, for what is due; for how long it may wait the other way round. A hair
 * is cut off, so that 7 days reckoned in floating point are not 8. */
static struct ab_schedule_touch window(const struct making *m, const struct ab_calendar_touch *t)
{
	struct ab_schedule_touch w = { .after = t->after, .first = 0, .last = AB_CALENDAR_DAYS - 1,
	    .minutes = (int)ceil(t->takes->minutes) };
	if (t->due == NULL) {
		w.hi = AB_CALENDAR_DAYS - 1;
		return w;
	}
	w.lo = (int)ceil(fmax(t->due->from_days, paced(m, t->due)) - 1e-6);
	w.hi = w.lo + (int)floor(t->due->waits_days + 1e-6);
	w.late_cost = 1;
	return w;
}

static void add_touch(struct making *m, const struct ab_touch *t)
{
	const struct ab_fact *facts = m->asked->facts;
	struct ab_calendar_touch *out = &m->touches[m->n];
	*out = (struct ab_calendar_touch){ .touch = t, .takes = &t->takes[0], .after = place_of_first(m, t),
	    .hour = t->hour };
	for (size_t i = 0; i < t->n_takes; i++)
		if (ab_conds_hold(&t->takes[i].when, facts))
			out->takes = &t->takes[i];
	for (size_t i = 0; i < t->n_dues; i++)
		if (ab_conds_hold(&t->dues[i].when, facts))
			out->due = &t->dues[i];
	/* What it comes after is not done with this beer: nothing to do here either. */
	if (out->due != NULL && out->after < 0)
		return;
	m->windows[m->n] = window(m, out);
	m->goal = t->goal ? (int)m->n : m->goal;
	m->n++;
}

static enum ab_status gather(struct making *m, struct ab_diag *diag)
{
	m->touches = ab_arena_alloc(m->arena, m->k->n_touches, sizeof *m->touches);
	m->windows = ab_arena_alloc(m->arena, m->k->n_touches, sizeof *m->windows);
	m->days = ab_arena_alloc(m->arena, AB_CALENDAR_DAYS, sizeof *m->days);
	if (m->touches == NULL || m->windows == NULL || m->days == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	m->goal = -1;
	m->n = 0;
	for (size_t i = 0; i < m->k->n_touches; i++)
		if (applies(&m->k->touches[i], m->asked->facts))
			add_touch(m, &m->k->touches[i]);
	if (m->goal < 0)
		return ab_fail(diag, AB_EINPUT, NULL, 0, "the rules have no touches that lead to a finished beer; "
		    "\"afterboil rules list touches\" shows what they have");
	return AB_OK;
}

/* ---- laying out ---- */

/* How much is given up: nothing, days that are not free, days away. */
enum bend { KEEP, PRESS, PRESS_AWAY };

static void fill_days(struct making *m, enum bend bend)
{
	const struct ab_days *days = m->asked->days;
	for (int i = 0; i < AB_CALENDAR_DAYS; i++) {
		enum ab_day_kind kind = days->day[i];
		int minutes = kind == AB_DAY_FREE ? days->free_minutes : kind == AB_DAY_HOME ? days->home_minutes : 0;
		bool pressed = bend == PRESS_AWAY || (bend == PRESS && kind != AB_DAY_AWAY);
		m->days[i] = (struct ab_schedule_day){ kind == AB_DAY_AWAY ? -1 : minutes, pressed ? ALL_DAY : minutes };
		if (kind == AB_DAY_AWAY && !pressed)
			m->days[i].most = -1;
	}
}

/* last: the last day for the goal. Towards a day wanted the beer is brewed as late as may be, since most beer is
 * best fresh; without one it is to be there soon. */
static enum ab_status lay(struct making *m, enum bend bend, int last, bool late, struct ab_schedule *out,
    struct ab_diag *diag)
{
	struct ab_schedule_task task = { m->windows, m->n, m->days, AB_CALENDAR_DAYS, PRESSED_COST };
	fill_days(m, bend);
	m->windows[m->goal].last = last;
	m->windows[0].day_cost = late ? -DAY_COST : 0;
	m->windows[m->goal].day_cost = late ? 0 : DAY_COST;
	return ab_schedule_solve(&task, m->arena, out, diag);
}

/* Whatever it takes, the least of it first. */
static enum ab_status lay_somehow(struct making *m, int last, bool late, enum ab_calendar_fit *fit,
    struct ab_schedule *out, struct ab_diag *diag)
{
	static const enum ab_calendar_fit fits[] = { AB_FIT_ALL, AB_FIT_PRESSED, AB_FIT_AWAY };
	enum ab_status st = AB_OK;
	*fit = AB_FIT_NONE;
	for (enum bend bend = KEEP; st == AB_OK && *fit == AB_FIT_NONE && bend <= PRESS_AWAY; bend++) {
		st = lay(m, bend, last, late, out, diag);
		if (out->found)
			*fit = fits[bend];
	}
	return st;
}

static double date(const struct making *m, int day)
{
	return m->asked->days->first_s + (double)day * DAY;
}

/* Days that would have to be free as well for the day wanted. */
static enum ab_status note_wanted(struct making *m, int drink, struct ab_calendar *out, struct ab_diag *diag)
{
	struct ab_schedule s;
	enum ab_status st = lay(m, PRESS, drink, true, &s, diag);
	if (st != AB_OK || !s.found)
		return st;
	out->wanted_s = ab_arena_alloc(m->arena, m->n, sizeof *out->wanted_s);
	if (out->wanted_s == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (size_t i = 0; i < m->n; i++) {
		bool known = !s.over[i];
		for (size_t j = 0; j < out->n_wanted; j++)
			known = known || out->wanted_s[j] == date(m, s.day[i]);
		if (!known)
			out->wanted_s[out->n_wanted++] = date(m, s.day[i]);
	}
	return AB_OK;
}

/* Without a day wanted: soon. With one: kept if it can be, else the earliest day that fits, else whatever it takes. */
static enum ab_status solve(struct making *m, struct ab_calendar *out, struct ab_schedule *s, struct ab_diag *diag)
{
	int end = AB_CALENDAR_DAYS - 1, drink = end;
	enum ab_status st;
	if (isnan(out->drink_s))
		return lay_somehow(m, end, false, &out->fit, s, diag);
	drink = (int)lround((out->drink_s - m->asked->days->first_s) / DAY);
	if (drink < 0 || drink > end)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "the day wanted is before the first day, or more than %d days "
		    "away", end);
	st = lay(m, KEEP, drink, true, s, diag);
	if (st != AB_OK || s->found)
		return st;
	st = note_wanted(m, drink, out, diag);
	if (st == AB_OK)
		st = lay_somehow(m, end, false, &out->fit, s, diag);
	if (st == AB_OK && out->fit == AB_FIT_ALL)
		out->fit = AB_FIT_LATER;
	return st;
}

/* ---- told in dates ---- */

static int by_day(const void *a, const void *b)
{
	const struct ab_calendar_touch *x = a, *y = b;
	if (x->day_s != y->day_s)
		return x->day_s < y->day_s ? -1 : 1;
	return x->touch < y->touch ? -1 : x->touch > y->touch;
}

static void tell_days(struct making *m, const struct ab_schedule *s, struct ab_calendar *out)
{
	for (size_t i = 0; i < m->n; i++) {
		struct ab_calendar_touch *t = &m->touches[i];
		int from = t->after < 0 ? 0 : s->day[t->after];
		t->day_s = date(m, s->day[i]);
		t->due_s = date(m, from + m->windows[i].lo);
		t->latest_s = date(m, from + m->windows[i].hi);
		t->day = m->asked->days->day[s->day[i]];
		t->pressed = s->over[i];
		out->minutes += t->takes->minutes;
		out->low += t->takes->low;
		out->high += t->takes->high;
		out->upkeep_minutes += t->touch->upkeep ? t->takes->minutes : 0;
	}
	out->ready_s = m->touches[m->goal].day_s;
}

/* A day that is wanted is kept only when nothing on the way to it waits longer than what comes after leaves. */
static void keep_the_day(struct making *m, const struct ab_calendar *out)
{
	double left = out->drink_s;

	for (int i = m->goal; i >= 0; i = m->touches[i].after) {
		m->touches[i].latest_s = fmin(m->touches[i].latest_s, left);
		left = m->touches[i].latest_s - (double)m->windows[i].lo * DAY;
	}
}

/* After sorting, where the touch on which each hangs went. */
static void find_afters(struct ab_calendar *out, const struct ab_touch *const *hung)
{
	for (size_t i = 0; i < out->n; i++) {
		out->touches[i].after = -1;
		for (size_t j = 0; hung[i] != NULL && j < out->n; j++)
			if (out->touches[j].touch == hung[i])
				out->touches[i].after = (int)j;
	}
}

static const struct ab_touch *goal_after(const struct ab_calendar *c)
{
	for (size_t i = 0; i < c->n; i++)
		if (c->touches[i].touch->goal && c->touches[i].after >= 0)
			return c->touches[c->touches[i].after].touch;
	return NULL;
}

/* Up to that on which the goal hangs: afterwards it is packaged and needs nobody. */
static void find_quiet(struct ab_calendar *out)
{
	const struct ab_touch *last = goal_after(out);
	out->quiet = out->n;
	for (size_t i = 0; i + 1 < out->n && out->touches[i].touch != last; i++) {
		const struct ab_calendar_touch *t = &out->touches[i], *next = t + 1;
		int days = (int)lround((next->day_s - t->day_s) / DAY);
		if (days <= out->quiet_days)
			continue;
		out->quiet = i;
		out->quiet_days = days;
		out->quiet_most_days = (int)lround((next->latest_s - t->day_s) / DAY);
	}
}

static enum ab_status sort_touches(struct making *m, struct ab_calendar *out, struct ab_diag *diag)
{
	const struct ab_touch **hung = ab_arena_alloc(m->arena, m->n, sizeof *hung);
	const struct ab_touch **by_place = ab_arena_alloc(m->arena, m->k->n_touches, sizeof *by_place);
	if (hung == NULL || by_place == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (size_t i = 0; i < m->n; i++)
		by_place[m->touches[i].touch - m->k->touches] =
		    m->touches[i].after < 0 ? NULL : m->touches[m->touches[i].after].touch;
	qsort(m->touches, m->n, sizeof *m->touches, by_day);
	for (size_t i = 0; i < m->n; i++)
		hung[i] = by_place[m->touches[i].touch - m->k->touches];
	out->touches = m->touches;
	out->n = m->n;
	find_afters(out, hung);
	return AB_OK;
}

enum ab_status ab_calendar_make(const struct ab_knowledge *k, const struct ab_calendar_asked *asked,
    struct ab_arena *arena, struct ab_calendar **out, struct ab_diag *diag)
{
	struct making m = { .k = k, .asked = asked, .arena = arena, .slow = !isnan(asked->drink_s) };
	struct ab_calendar *c = ab_arena_alloc(arena, 1, sizeof *c);
	struct ab_schedule s = { .found = false };
	*out = NULL;
	if (c == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*c = (struct ab_calendar){ .drink_s = asked->drink_s, .pace = asked->pace, .slow = m.slow };
	enum ab_status st = gather(&m, diag);
	if (st == AB_OK)
		st = solve(&m, c, &s, diag);
	if (st == AB_OK && c->fit != AB_FIT_NONE) {
		tell_days(&m, &s, c);
		if (c->fit == AB_FIT_ALL && !isnan(c->drink_s))
			keep_the_day(&m, c);
		st = sort_touches(&m, c, diag);
		find_quiet(c);
	}
	if (st == AB_OK)
		*out = c;
	return st;
}
