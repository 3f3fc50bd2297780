/* standing.c - which touches a batch has, and the windows of those that are not behind it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/calendaring.h"

#include <math.h>

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

static int place_of(const struct standings *all, const struct making *m, int touch)
{
	for (size_t i = 0; i < all->n; i++)
		if (all->at[i].t.touch == &m->k->touches[touch])
			return (int)i;
	return -1;
}

static int place_of_first(const struct standings *all, const struct making *m, const struct ab_touch *t)
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
static void add_touch(struct standings *all, const struct making *m, const struct ab_touch *t)
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

/* ---- windows of the rest ---- */

static int day_number(const struct making *m, double s)
{
	return (int)lround(fmax(0, fmin((s - calendar_today(m)) / DAY, AB_CALENDAR_DAYS)));
}

static struct ab_schedule_touch window(const struct making *m, const struct standing *s)
{
	const struct ab_calendar_touch *t = &s->t;
	struct ab_schedule_touch w = { .after = t->after, .lo = s->lo, .hi = s->hi, .first = 0,
		.last = AB_CALENDAR_DAYS - 1, .minutes = (int)ceil(t->takes->minutes), .late_cost = 1 };
	if (t->due == NULL) {
		w.lo = m->asked->brew_s > calendar_today(m) ? day_number(m, m->asked->brew_s) : 0;
		w.hi = AB_CALENDAR_DAYS;
		w.late_cost = m->asked->brew_s >= calendar_today(m) ? BREW_COST : 0;
	} else if (t->after < 0) {
		w.lo = day_number(m, t->due_s);
		w.hi = t->overdue ? AB_CALENDAR_DAYS : day_number(m, t->latest_s);
		w.late_cost = t->overdue ? OVERDUE_COST : 1;
	}
	return w;
}

/* place[i]: where standing i went among what is to do. */
static void part(struct making *m, struct standings *all, int *place)
{
	for (size_t i = 0; i < all->n; i++) {
		struct standing *s = &all->at[i];
		if (standing_past(s)) {
			m->past[m->n_past++] = s->t;
			continue;
		}
		place[i] = (int)m->n;
		s->t.after = s->base < 0 || standing_past(&all->at[s->base]) ? -1 : place[s->base];
		m->goal = s->t.touch->goal ? (int)m->n : m->goal;
		s->t.waiting = !s->t.overdue && s->t.due_s < floor(calendar_today(m) / DAY) * DAY;
		m->windows[m->n] = window(m, s);
		m->touches[m->n++] = s->t;
	}
	for (size_t i = 0; i < all->n; i++) {
		const struct standing *s = &all->at[i];
		if (standing_past(s) || s->before < 0 || standing_past(&all->at[s->before]))
			continue;
		m->touches[place[i]].before = place[s->before];
		m->windows[place[i]].before = place[s->before];
	}
}

static bool take_room(struct making *m, struct standings *all, int **place)
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
	struct standings all = { NULL, 0 };
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
	calendar_mark(&all, m);
	m->goal = -1;
	m->begun = standing_past(&all.at[0]);
	part(m, &all, place);
	return AB_OK;
}
