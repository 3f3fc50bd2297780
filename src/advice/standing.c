/* standing.c - which touches a batch has, which of them are behind it, and the windows of the rest
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/calendaring.h"

#include <math.h>

/* A touch of this beer, with its window after that on which it hangs: places in all, -1 none. */
struct standing { struct ab_calendar_touch t; int base, before, lo, hi; };
struct all { struct standing *at; size_t n; };

static double today(const struct making *m) { return m->asked->days->first_s; }
static bool past(const struct standing *s) { return s->t.state != AB_TOUCH_TO_DO; }

/* ---- which touches there are ---- */

static bool any_holds(const struct ab_conds *conds, size_t n, const struct ab_fact *facts)
{
	for (size_t i = 0; i < n; i++)
		if (ab_conds_hold(&conds[i], facts))
			return true;
	return false;
}

static bool applies(const struct making *m, const struct ab_touch *t)
{
	const struct ab_fact *facts = m->asked->facts;
	if (t->shown == AB_SHOWN_COOL && !(m->asked->shown != NULL && m->asked->shown->too_warm))
		return false;
	return (t->n_only_for == 0 || any_holds(t->only_for, t->n_only_for, facts)) &&
	    !any_holds(t->not_for, t->n_not_for, facts);
}

static int place_of(const struct all *all, const struct making *m, int touch)
{
	for (size_t i = 0; i < all->n; i++)
		if (all->at[i].t.touch == &m->k->touches[touch])
			return (int)i;
	return -1;
}

static int place_of_first(const struct all *all, const struct making *m, const struct ab_touch *t)
{
	for (size_t i = 0; i < t->n_after; i++) {
		int at = place_of(all, m, t->after[i]);
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
 * is cut off, so that 7 days reckoned in floating point are not 8. What it comes after is not done with this beer:
 * nothing to do here either. */
static void add_touch(struct all *all, const struct making *m, const struct ab_touch *t)
{
	const struct ab_fact *facts = m->asked->facts;
	struct standing *s = &all->at[all->n];
	*s = (struct standing){ .t = { .touch = t,
				    .takes = &t->takes[0],
				    .tell = t->tell,
				    .after = -1,
				    .before = -1,
				    .hour = t->hour,
				    .due_s = (double)NAN,
				    .latest_s = (double)NAN,
				    .supposed_s = (double)NAN },
		.base = place_of_first(all, m, t),
		.before = -1 };
	for (size_t i = 0; i < t->n_takes; i++)
		if (ab_conds_hold(&t->takes[i].when, facts))
			s->t.takes = &t->takes[i];
	s->t.tell = ab_tell_of(t->tell, t->tells, t->n_tells, facts);
	for (size_t i = 0; i < t->n_dues; i++)
		if (ab_conds_hold(&t->dues[i].when, facts))
			s->t.due = &t->dues[i];
	if (s->t.due != NULL && s->base < 0)
		return;
	if (s->t.due != NULL) {
		s->lo = (int)ceil(fmax(s->t.due->from_days, paced(m, s->t.due)) - 1e-6);
		s->hi = s->lo + (int)floor(s->t.due->waits_days + 1e-6);
	}
	all->n++;
}

/* ---- what is behind it ---- */

/* A look that came too early, or a gravity, is none; what else was done is done, whenever. */
static bool counts_from_due(enum ab_shown shown)
{
	return shown == AB_SHOWN_LOOK || shown == AB_SHOWN_GRAVITY || shown == AB_SHOWN_SAME_GRAVITY ||
	    shown == AB_SHOWN_RETASTE;
}

/* Since when a note may tell of it: what prepares another step from the pitching on (before, it was for the brew
 * day); what else from that on which it hangs, and bottles may be put away before the first is tasted. NAN: not
 * yet. */
static double told_since(const struct all *all, const struct standing *s)
{
	const struct standing *base = s->base < 0 ? NULL : &all->at[s->base];
	if (s->before >= 0)
		base = &all->at[0];
	else if (base != NULL && !past(base) && s->t.touch->shown == AB_SHOWN_STORE && base->base >= 0)
		base = &all->at[base->base];
	return base != NULL && past(base) ? base->t.day_s : (double)NAN;
}

static double done_on(const struct all *all, const struct making *m, const struct standing *s)
{
	const struct standing *base = s->base < 0 ? NULL : &all->at[s->base];
	bool from_due = base != NULL && past(base);
	double from = from_due ? base->t.day_s + (double)s->lo * DAY : today(m), since = told_since(all, s),
	       day = (double)NAN;
	if (base == NULL || from_due || !counts_from_due(s->t.touch->shown))
		day = ab_shown_day(m->asked->shown, s->t.touch, from);
	return isnan(day) && !isnan(since) ? ab_shown_noted(m->asked->shown, s->t.touch, since, from) : day;
}

static void mark_done(struct all *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct standing *s = &all->at[i];
		double day = done_on(all, m, s);
		if (isnan(day))
			continue;
		s->t.state = AB_TOUCH_DONE;
		s->t.day_s = day;
	}
}

/* Hops go in early, too, and come out without a gravity; kit is cleaned and bottles are put away at any time: none
 * of them tells of what should have come before. */
static bool tells_of_base(const struct standing *s)
{
	static const bool tells[] = { [AB_SHOWN_LOOK] = true, [AB_SHOWN_REST] = true, [AB_SHOWN_GRAVITY] = true,
		[AB_SHOWN_SAME_GRAVITY] = true, [AB_SHOWN_PACKAGE] = true, [AB_SHOWN_TASTING] = true,
		[AB_SHOWN_RETASTE] = true,
		[AB_SHOWN_CLEANING] = false, [AB_SHOWN_COOL] = false, [AB_SHOWN_FORCED] = false };
	return s->t.state == AB_TOUCH_MOOT || (s->t.state == AB_TOUCH_DONE && tells[s->t.touch->shown]);
}

/* Who packaged has read the gravity or never will; what was to be ready for it is ready, or too late. */
static void mark_over(struct all *all)
{
	for (size_t i = all->n; i-- > 0;) {
		struct standing *s = &all->at[i];
		const struct standing *for_what = s->before < 0 ? NULL : &all->at[s->before];
		if (!past(s) && for_what != NULL && past(for_what)) {
			s->t.state = AB_TOUCH_MOOT;
			s->t.day_s = for_what->t.day_s;
		}
		if (tells_of_base(s) && s->base >= 0 && !past(&all->at[s->base])) {
			all->at[s->base].t.state = AB_TOUCH_MOOT;
			all->at[s->base].t.day_s = s->t.day_s;
		}
	}
}

/* A gravity that has fallen since counts from itself; hops come out when it was told on putting them in. */
static double due_of(const struct making *m, const struct standing *s, double base_s)
{
	const struct ab_shown_of *shown = m->asked->shown;
	double due = base_s + (double)s->lo * DAY;
	if (s->t.touch->shown == AB_SHOWN_SAME_GRAVITY && shown->gravity_s > base_s)
		due = fmax(due, shown->gravity_s + ceil(s->t.due->from_days) * DAY);
	if (s->t.touch->shown == AB_SHOWN_COOL)
		due = fmax(due, today(m));
	if (s->t.touch->shown == AB_SHOWN_HOPS_OUT && !isnan(shown->hops_due_s))
		due = shown->hops_due_s;
	return due;
}

/* By the hour of the pitching where that is told: twelve hours from the evening end on the day after. Where nobody
 * told it, it was pitched on the evening of the brew day at the latest hour, and a day more must pass. */
static double latest_of(const struct making *m, const struct all *all, struct standing *s)
{
	double latest = s->t.due_s + (double)(s->hi - s->lo) * DAY, pitched_s = m->asked->shown->pitched_s;
	if (all->at[s->base].t.touch->shown != AB_SHOWN_PITCH)
		return latest;
	if (!isnan(pitched_s))
		return fmax(latest, floor((pitched_s + (s->lo + s->t.due->waits_days) * DAY) / DAY) * DAY);
	s->t.supposed_s = all->at[s->base].t.day_s;
	return latest + DAY;
}

/* What another batch has already, on a day that does for this one, too. */
static void mark_shared(struct all *all, const struct making *m)
{
	for (size_t i = 0; m->asked->elsewhere != NULL && i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		double day = m->asked->elsewhere[t->touch - m->k->touches];
		if (past(&all->at[i]) || !t->touch->shared || isnan(day))
			continue;
		t->state = AB_TOUCH_MOOT;
		t->day_s = day;
	}
}

static void mark_due(struct all *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct standing *s = &all->at[i];
		if (past(s) || s->base < 0 || !past(&all->at[s->base]))
			continue;
		s->t.due_s = due_of(m, s, all->at[s->base].t.day_s);
		s->t.latest_s = latest_of(m, all, s);
		s->t.overdue = s->t.latest_s < today(m);
		if (!s->t.overdue || !s->t.touch->lapses)
			continue;
		s->t.state = AB_TOUCH_MOOT;
		s->t.overdue = false;
		s->t.day_s = s->t.latest_s;
	}
}

/* Of several looks that were missed one makes up for all: the last that is due. */
static void mark_missed(struct all *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		for (size_t j = i + 1; j < all->n && t->touch->shown != AB_SHOWN_NONE && !past(&all->at[i]); j++) {
			const struct ab_calendar_touch *later = &all->at[j].t;
			if (later->state == AB_TOUCH_DONE && later->touch->shown == t->touch->shown &&
			    later->day_s >= t->due_s) {
				t->state = AB_TOUCH_MOOT;
				t->overdue = false;
				t->day_s = later->day_s;
			}
			if (past(&all->at[j]) || later->touch->shown != t->touch->shown || !(later->due_s <= today(m)))
				continue;
			t->state = AB_TOUCH_MOOT;
			t->day_s = later->due_s;
			all->at[j].t.overdue = all->at[j].t.overdue || t->overdue;
			all->at[j].t.latest_s = t->overdue ? fmin(later->latest_s, t->latest_s) : later->latest_s;
			t->overdue = false;
		}
	}
}

/* A look is of no use any more once that which it prepares is due: it would only hide it. */
static void mark_too_late(struct all *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		int before = all->at[i].before;
		if (past(&all->at[i]) || !t->overdue || t->touch->shown != AB_SHOWN_LOOK || before < 0 ||
		    !(all->at[before].t.due_s <= today(m)))
			continue;
		t->state = AB_TOUCH_MOOT;
		t->overdue = false;
		t->day_s = all->at[before].t.due_s;
	}
}

/* Of a beer that is drunk or poured away nothing is read, filled, put away or tasted any more; kit is still cleaned. */
static void mark_gone(struct all *all, const struct making *m)
{
	const struct ab_package *p = m->asked->shown->batch->package;
	if (p == NULL || (p->fate != AB_FATE_DRUNK && p->fate != AB_FATE_POURED_AWAY))
		return;
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		if (past(&all->at[i]) || t->touch->shown == AB_SHOWN_CLEANING)
			continue;
		t->state = AB_TOUCH_MOOT;
		t->day_s = p->fate_at.known && !p->fate_at.relative ? floor(p->fate_at.s / DAY) * DAY : today(m);
	}
}

/* ---- windows of the rest ---- */

static int day_number(const struct making *m, double s)
{
	return (int)lround(fmax(0, fmin((s - today(m)) / DAY, AB_CALENDAR_DAYS)));
}

static struct ab_schedule_touch window(const struct making *m, const struct standing *s)
{
	const struct ab_calendar_touch *t = &s->t;
	struct ab_schedule_touch w = { .after = t->after, .lo = s->lo, .hi = s->hi, .first = 0,
		.last = AB_CALENDAR_DAYS - 1, .minutes = (int)ceil(t->takes->minutes), .late_cost = 1 };
	if (t->due == NULL) {
		w.lo = m->asked->brew_s > today(m) ? day_number(m, m->asked->brew_s) : 0;
		w.hi = AB_CALENDAR_DAYS;
		w.late_cost = m->asked->brew_s >= today(m) ? BREW_COST : 0;
	} else if (t->after < 0) {
		w.lo = day_number(m, t->due_s);
		w.hi = t->overdue ? AB_CALENDAR_DAYS : day_number(m, t->latest_s);
		w.late_cost = t->overdue ? OVERDUE_COST : 1;
	}
	return w;
}

/* place[i]: where standing i went among what is to do. */
static void part(struct making *m, struct all *all, int *place)
{
	for (size_t i = 0; i < all->n; i++) {
		struct standing *s = &all->at[i];
		if (past(s)) {
			m->past[m->n_past++] = s->t;
			continue;
		}
		place[i] = (int)m->n;
		s->t.after = s->base < 0 || past(&all->at[s->base]) ? -1 : place[s->base];
		m->goal = s->t.touch->goal ? (int)m->n : m->goal;
		s->t.waiting = !s->t.overdue && s->t.due_s < floor(today(m) / DAY) * DAY;
		m->windows[m->n] = window(m, s);
		m->touches[m->n++] = s->t;
	}
	for (size_t i = 0; i < all->n; i++) {
		const struct standing *s = &all->at[i];
		if (past(s) || s->before < 0 || past(&all->at[s->before]))
			continue;
		m->touches[place[i]].before = place[s->before];
		m->windows[place[i]].before = place[s->before];
	}
}

static bool take_room(struct making *m, struct all *all, int **place)
{
	size_t n = m->k->n_touches;
	all->at = ab_arena_alloc(m->arena, n, sizeof *all->at);
	m->touches = ab_arena_alloc(m->arena, n, sizeof *m->touches);
	m->past = ab_arena_alloc(m->arena, n, sizeof *m->past);
	m->windows = ab_arena_alloc(m->arena, n, sizeof *m->windows);
	m->days = ab_arena_alloc(m->arena, AB_CALENDAR_DAYS, sizeof *m->days);
	*place = ab_arena_alloc(m->arena, n, sizeof **place);
	return all->at != NULL && m->touches != NULL && m->past != NULL && m->windows != NULL && m->days != NULL &&
	    *place != NULL;
}

enum ab_status calendar_gather(struct making *m, struct ab_diag *diag)
{
	struct all all = { NULL, 0 };
	int *place;
	bool leads = false;
	if (!take_room(m, &all, &place))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (size_t i = 0; i < m->k->n_touches; i++)
		if (applies(m, &m->k->touches[i]))
			add_touch(&all, m, &m->k->touches[i]);
	for (size_t i = 0; i < all.n; i++) {
		leads = leads || all.at[i].t.touch->goal;
		if (all.at[i].t.touch->before >= 0)
			all.at[i].before = place_of(&all, m, all.at[i].t.touch->before);
	}
	if (!leads)
		return ab_fail(diag, AB_EINPUT, NULL, 0, "the rules have no touches that lead to a finished beer; "
		    "\"afterboil rules list touches\" shows what they have");
	if (m->asked->shown != NULL) {
		mark_done(&all, m);
		mark_gone(&all, m);
		mark_over(&all);
		mark_due(&all, m);
		mark_missed(&all, m);
		mark_too_late(&all, m);
	}
	mark_shared(&all, m);
	m->goal = -1;
	m->begun = past(&all.at[0]);
	part(m, &all, place);
	return AB_OK;
}
