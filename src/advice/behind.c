/* behind.c - which touches of a batch are behind it: done, too late, or of no use any more; and when the rest is due
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/calendaring.h"

#include <math.h>

double calendar_today(const struct making *m) { return m->asked->days->first_s; }
bool standing_past(const struct standing *s) { return s->t.state != AB_TOUCH_TO_DO; }

/* A look that came too early, or a gravity, is none; what else was done is done, whenever. */
static bool counts_from_due(enum ab_shown shown)
{
	return shown == AB_SHOWN_LOOK || shown == AB_SHOWN_GRAVITY || shown == AB_SHOWN_SAME_GRAVITY ||
	    shown == AB_SHOWN_RETASTE;
}

/* Since when a note may tell of it: what prepares another step from the pitching on (before, it was for the brew
 * day); what else from that on which it hangs, and bottles may be put away before the first is tasted. NAN: not
 * yet. */
static double told_since(const struct standings *all, const struct standing *s)
{
	const struct standing *base = s->base < 0 ? NULL : &all->at[s->base];
	if (s->before >= 0)
		base = &all->at[0];
	else if (base != NULL && !standing_past(base) && s->t.touch->shown == AB_SHOWN_STORE && base->base >= 0)
		base = &all->at[base->base];
	return base != NULL && standing_past(base) ? base->t.day_s : (double)NAN;
}

static double done_on(const struct standings *all, const struct making *m, const struct standing *s)
{
	const struct standing *base = s->base < 0 ? NULL : &all->at[s->base];
	bool from_due = base != NULL && standing_past(base);
	double from = from_due ? base->t.day_s + (double)s->lo * DAY : calendar_today(m), since = told_since(all, s),
	       day = (double)NAN;
	if (base == NULL || from_due || !counts_from_due(s->t.touch->shown))
		day = ab_shown_day(m->asked->shown, s->t.touch, from);
	return isnan(day) && !isnan(since) ? ab_shown_noted(m->asked->shown, s->t.touch, since, from) : day;
}

static void mark_done(struct standings *all, const struct making *m)
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
static void mark_over(struct standings *all)
{
	for (size_t i = all->n; i-- > 0;) {
		struct standing *s = &all->at[i];
		const struct standing *for_what = s->before < 0 ? NULL : &all->at[s->before];
		if (!standing_past(s) && for_what != NULL && standing_past(for_what)) {
			s->t.state = AB_TOUCH_MOOT;
			s->t.day_s = for_what->t.day_s;
		}
		if (tells_of_base(s) && s->base >= 0 && !standing_past(&all->at[s->base])) {
			all->at[s->base].t.state = AB_TOUCH_MOOT;
			all->at[s->base].t.day_s = s->t.day_s;
		}
	}
}

/* A bottle opened early gives the others no gas: what is put away waits for the day on which the first tasting was due,
 * unless it may not wait at all. */
static double gassed_s(const struct standings *all, const struct standing *s)
{
	const struct standing *base = &all->at[s->base], *packed = base->base < 0 ? NULL : &all->at[base->base];
	bool waits = s->t.touch->shown == AB_SHOWN_STORE && s->t.due->waits_days > 0;

	return waits && packed != NULL && standing_past(packed) ? packed->t.day_s + (double)base->lo * DAY : -INFINITY;
}

/* A gravity that has fallen since counts from itself; hops come out when it was told on putting them in. */
static double due_of(const struct standings *all, const struct making *m, const struct standing *s)
{
	const struct ab_shown_of *shown = m->asked->shown;
	double base_s = all->at[s->base].t.day_s, due = fmax(base_s + (double)s->lo * DAY, gassed_s(all, s));
	if (s->t.touch->shown == AB_SHOWN_SAME_GRAVITY && shown->gravity_s > base_s)
		due = fmax(due, shown->gravity_s + ceil(s->t.due->from_days) * DAY);
	if (s->t.touch->shown == AB_SHOWN_COOL)
		due = fmax(due, calendar_today(m));
	if (s->t.touch->shown == AB_SHOWN_HOPS_OUT && !isnan(shown->hops_due_s))
		due = shown->hops_due_s;
	return due;
}

/* By the hour of the pitching where that is told: twelve hours from the evening end on the day after. Where nobody
 * told it, it was pitched on the evening of the brew day at the latest hour, and a day more must pass. */
static double latest_of(const struct making *m, const struct standings *all, struct standing *s)
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
static void mark_shared(struct standings *all, const struct making *m)
{
	for (size_t i = 0; m->asked->elsewhere != NULL && i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		double day = m->asked->elsewhere[t->touch - m->k->touches];
		if (standing_past(&all->at[i]) || !t->touch->shared || isnan(day))
			continue;
		t->state = AB_TOUCH_MOOT;
		t->day_s = day;
	}
}

static void mark_due(struct standings *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct standing *s = &all->at[i];
		if (standing_past(s) || s->base < 0 || !standing_past(&all->at[s->base]))
			continue;
		s->t.due_s = due_of(all, m, s);
		s->t.latest_s = latest_of(m, all, s);
		s->t.overdue = s->t.latest_s < calendar_today(m);
		if (!s->t.overdue || !s->t.touch->lapses)
			continue;
		s->t.state = AB_TOUCH_MOOT;
		s->t.overdue = false;
		s->t.day_s = s->t.latest_s;
	}
}

/* Of several looks that were missed one makes up for all: the last that is due. */
static void mark_missed(struct standings *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		for (size_t j = i + 1; j < all->n && t->touch->shown != AB_SHOWN_NONE && !standing_past(&all->at[i]);
		     j++) {
			const struct ab_calendar_touch *later = &all->at[j].t;
			if (later->state == AB_TOUCH_DONE && later->touch->shown == t->touch->shown &&
			    later->day_s >= t->due_s) {
				t->state = AB_TOUCH_MOOT;
				t->overdue = false;
				t->day_s = later->day_s;
			}
			if (standing_past(&all->at[j]) || later->touch->shown != t->touch->shown ||
			    !(later->due_s <= calendar_today(m)))
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
static void mark_too_late(struct standings *all, const struct making *m)
{
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		int before = all->at[i].before;
		if (standing_past(&all->at[i]) || !t->overdue || t->touch->shown != AB_SHOWN_LOOK || before < 0 ||
		    !(all->at[before].t.due_s <= calendar_today(m)))
			continue;
		t->state = AB_TOUCH_MOOT;
		t->overdue = false;
		t->day_s = all->at[before].t.due_s;
	}
}

/* Of a beer that is drunk or poured away nothing is read, filled, put away or tasted any more; kit is still cleaned. */
static void mark_gone(struct standings *all, const struct making *m)
{
	const struct ab_package *p = m->asked->shown->batch->package;
	if (p == NULL || (p->fate != AB_FATE_DRUNK && p->fate != AB_FATE_POURED_AWAY))
		return;
	for (size_t i = 0; i < all->n; i++) {
		struct ab_calendar_touch *t = &all->at[i].t;
		if (standing_past(&all->at[i]) || t->touch->shown == AB_SHOWN_CLEANING)
			continue;
		t->state = AB_TOUCH_MOOT;
		bool told = p->fate_at.known && !p->fate_at.relative;
		t->day_s = told ? floor(p->fate_at.s / DAY) * DAY : calendar_today(m);
	}
}

void calendar_mark(struct standings *all, const struct making *m)
{
	if (m->asked->shown != NULL) {
		mark_done(all, m);
		mark_gone(all, m);
		mark_over(all);
		mark_due(all, m);
		mark_missed(all, m);
		mark_too_late(all, m);
	}
	mark_shared(all, m);
}
