/* calendar.c - the touches of a batch, given to the scheduler, and what came back told in dates
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/calendar.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/curve.h>
#include "advice/calendaring.h"

enum { HOURS = 24, ALL_DAY = 24 * 60 };
static const double ONE_POINT_P = 0.25;

/* ---- the pace ---- */

enum ab_status ab_calendar_pace_of(const struct ab_yeast_norm *norm, const struct ab_batch *const *batches, size_t n,
    const struct ab_profile *profile, const struct ab_norms *norms, struct ab_arena *arena,
    struct ab_calendar_pace *out, struct ab_diag *diag)
{
	double sum = 0, squares = 0, widest = 0;
	*out = (struct ab_calendar_pace){ norm->primary_days, norm->clean_days, (double)NAN, 0, false, 0,
		AB_CURVE_UNTRIED, 0 };
	for (size_t i = 0; i < n; i++) {
		struct ab_curve_of of;
		double h, u;
		enum ab_status st = ab_curve_of_batch(batches[i], profile, norms, arena, &of, diag);
		if (st != AB_OK)
			return st;
		if (of.refusal != AB_CURVE_FITTED || !ab_curve_finish(&of.curve, ONE_POINT_P, &h, &u) || h <= 0) {
			out->tried += of.n > 0;
			out->refusal = of.n == 0            ? out->refusal
			    : of.refusal == AB_CURVE_FITTED ? AB_CURVE_NO_END
							    : of.refusal;
			continue;
		}
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

/* ---- laying out ---- */

/* How much is given up: nothing, days that are not free, days away. */
enum bend { KEEP, PRESS, PRESS_AWAY };

static void fill_days(struct making *m, enum bend bend)
{
	const struct ab_days *days = m->asked->days;
	for (int i = 0; i < AB_CALENDAR_DAYS; i++) {
		enum ab_day_kind kind = days->day[i];
		int minutes = kind == AB_DAY_FREE ? days->free_minutes : kind == AB_DAY_HOME ? days->home_minutes : 0;
		int evening = kind == AB_DAY_FREE && days->evenings ? days->home_minutes - days->used_evening[i] : 0;
		minutes = minutes > days->used[i] ? minutes - days->used[i] : 0;
		bool pressed = bend == PRESS_AWAY || (bend == PRESS && kind != AB_DAY_AWAY);
		m->days[i] =
		    (struct ab_schedule_day){ kind == AB_DAY_AWAY ? -1 : minutes, pressed ? ALL_DAY : -1, evening };
	}
}

/* last: the last day for the goal. Towards a day wanted the beer is brewed as late as may be, since most beer is
 * best fresh; without one it is to be there soon. */
static enum ab_status lay(struct making *m, enum bend bend, int last, bool late, struct ab_schedule *out,
    struct ab_diag *diag)
{
	struct ab_schedule_task task = { m->windows, m->n, m->days, AB_CALENDAR_DAYS, PRESSED_COST };
	fill_days(m, bend);
	late = late && !m->begun;
	if (m->goal >= 0) {
		m->windows[m->goal].last = last;
		m->windows[0].day_cost = late ? -DAY_COST : 0;
		m->windows[m->goal].day_cost = late ? 0 : DAY_COST;
	}
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
	if (isnan(out->drink_s) || m->goal < 0)
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

/* Does the one hang on the other, by however many between? */
static bool moves_along(const struct making *m, int touch, int with)
{
	while (touch > with)
		touch = m->touches[touch].after;
	return touch == with;
}

/* The evening of a free day is as that of any other, and not before its told part is over. */
static void put_in_evening(const struct ab_days *days, int day, struct ab_calendar_touch *t)
{
	double over = ab_day_begins(AB_DAY_FREE, ab_days_begin(days, day), 0) + days->free_minutes / 60.0;
	t->day = AB_DAY_HOME;
	t->from_hour = fmax(ab_day_begins(AB_DAY_HOME, days->home_hour, 0), over);
}

static void tell_days(struct making *m, const struct ab_schedule *s, struct ab_calendar *out)
{
	for (size_t i = 0; i < m->n; i++) {
		struct ab_calendar_touch *t = &m->touches[i];
		t->day_s = date(m, s->day[i]);
		if (t->after >= 0) {
			t->due_s = date(m, s->day[t->after] + m->windows[i].lo);
			t->latest_s = date(m, s->day[t->after] + m->windows[i].hi);
		} else if (t->due == NULL) {
			t->due_s = date(m, m->windows[i].lo);
			t->latest_s = date(m, AB_CALENDAR_DAYS);
		}
		t->day = m->asked->days->day[s->day[i]];
		t->pressed = s->over[i];
		t->from_hour = ab_days_begin(m->asked->days, s->day[i]);
		if (s->apart[i])
			put_in_evening(m->asked->days, s->day[i], t);
		t->now_hour = s->day[i] == 0 ? m->asked->days->now_hour : (double)NAN;
		out->minutes += t->takes->minutes;
		out->low += t->takes->low;
		out->high += t->takes->high;
		out->upkeep_minutes += t->touch->upkeep ? t->takes->minutes : 0;
		out->n_overdue += t->overdue;
	}
	for (size_t i = 0; i < m->n; i++)
		if (m->windows[i].before > 0 && !m->touches[i].overdue && !moves_along(m, m->windows[i].before, (int)i))
			m->touches[i].latest_s = fmin(m->touches[i].latest_s, date(m, s->day[m->windows[i].before]));
	out->ready_s = m->goal < 0 ? (double)NAN : m->touches[m->goal].day_s;
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

static int place_in(const struct ab_calendar *c, const struct ab_touch *touch)
{
	for (size_t i = 0; touch != NULL && i < c->n; i++)
		if (c->touches[i].touch == touch)
			return (int)i;
	return -1;
}

/* What the goal hangs on: afterwards the beer is packaged and needs nobody. */
static const struct ab_touch *goal_after(const struct ab_calendar *c)
{
	for (size_t i = 0; i < c->n; i++)
		if (c->touches[i].touch->goal && c->touches[i].after >= 0)
			return c->touches[c->touches[i].after].touch;
	return NULL;
}

/* A batch that runs stands alone from today on. */
static void find_quiet(struct ab_calendar *out, double today_s)
{
	int last = place_in(out, goal_after(out));
	double from = out->begun || out->n == 0 ? today_s : out->touches[0].day_s;
	out->quiet = out->n;
	for (int i = 0; i <= last; i++) {
		const struct ab_calendar_touch *next = &out->touches[i];
		int days = (int)lround((next->day_s - from) / DAY);
		if (days > out->quiet_days && !next->overdue) {
			out->quiet = (size_t)i;
			out->quiet_s = from;
			out->quiet_days = days;
			out->quiet_most_days = (int)lround((next->latest_s - from) / DAY);
		}
		from = next->day_s;
	}
}

/* In order of days; places on which others hang go along. */
static enum ab_status sort_touches(struct making *m, struct ab_calendar *out, struct ab_diag *diag)
{
	struct hung {
		const struct ab_touch *after, *before;
	} *hung = ab_arena_alloc(m->arena, m->k->n_touches, sizeof *hung);
	if (hung == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (size_t i = 0; i < m->n; i++) {
		const struct ab_calendar_touch *t = &m->touches[i];
		struct hung *h = &hung[t->touch - m->k->touches];
		h->after = t->after < 0 ? NULL : m->touches[t->after].touch;
		h->before = t->before < 0 ? NULL : m->touches[t->before].touch;
	}
	if (m->n > 0)
		qsort(m->touches, m->n, sizeof *m->touches, by_day);
	out->touches = m->touches;
	out->n = m->n;
	for (size_t i = 0; i < m->n; i++) {
		const struct hung *h = &hung[out->touches[i].touch - m->k->touches];
		out->touches[i].after = place_in(out, h->after);
		out->touches[i].before = place_in(out, h->before);
	}
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
	enum ab_status st = calendar_gather(&m, diag);
	c->past = m.past;
	c->n_past = m.n_past;
	c->begun = m.begun;
	if (st == AB_OK)
		st = solve(&m, c, &s, diag);
	if (st == AB_OK && c->fit != AB_FIT_NONE) {
		tell_days(&m, &s, c);
		if (c->fit == AB_FIT_ALL && !isnan(c->drink_s))
			keep_the_day(&m, c);
		st = sort_touches(&m, c, diag);
		find_quiet(c, asked->days->first_s);
	}
	if (st == AB_OK)
		*out = c;
	return st;
}

/* It prepares what is laid on the same day, with nothing else left before that. */
static bool is_chore(const struct ab_calendar *c, size_t i)
{
	const struct ab_calendar_touch *t = &c->touches[i], *step = t->before < 0 ? NULL : &c->touches[t->before];
	return t->touch->upkeep && step != NULL && step->after < 0 && step->day_s <= t->day_s;
}

size_t ab_calendar_first(const struct ab_calendar *c, bool overdue, int *chore)
{
	size_t first = c->n;
	for (size_t i = 0; i < c->n; i++) {
		const struct ab_calendar_touch *t = &c->touches[i], *best = &c->touches[first < c->n ? first : i];
		bool sooner = first == c->n || t->day_s < best->day_s ||
		    (t->day_s == best->day_s && t->latest_s < best->latest_s);
		if (t->overdue == overdue && t->after < 0 && !is_chore(c, i) && sooner)
			first = i;
	}
	if (chore != NULL)
		*chore = -1;
	for (size_t i = 0; chore != NULL && first < c->n && i < c->n; i++)
		if (is_chore(c, i) && c->touches[i].before == (int)first)
			*chore = (int)i;
	return first;
}

void ab_days_take(struct ab_days *days, const struct ab_calendar *calendar)
{
	for (size_t i = 0; i < calendar->n; i++) {
		int day = (int)lround((calendar->touches[i].day_s - days->first_s) / DAY);
		if (day < 0 || day >= AB_CALENDAR_DAYS)
			continue;
		bool evening = days->day[day] == AB_DAY_FREE && calendar->touches[i].day == AB_DAY_HOME;
		(evening ? days->used_evening : days->used)[day] += (int)ceil(calendar->touches[i].takes->minutes);
	}
}
