/* touchnext.c - what is to be done next of all the plans of a folder, and what is overdue
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/batchplan.h>

#include <math.h>

#include "advice/advising.h"

enum { DAY = 86400 };

/* Of one day, what may wait the least. */
static bool is_sooner(const struct ab_touch_due *a, const struct ab_touch_due *b)
{
	return b->touch == NULL || a->day_s < b->day_s || (a->day_s == b->day_s && a->latest_s < b->latest_s);
}

/* Readings that tell it is not done. */
static bool unready(const struct ab_priming *p)
{
	return p->why == AB_PRIMING_POINTS_LEFT || (p->why == AB_PRIMING_NOT_STILL && p->n_read > 1);
}

/* It hangs on what is done (only then it has a day of its own), and could have been done on a day before today. */
static double since_of(const struct ab_calendar_touch *t)
{
	return t->waiting ? t->due_s : 0;
}

static struct ab_touch_due due_of(const struct ab_batchplan *plan, size_t at, int chore)
{
	const struct ab_calendar *c = plan->calendar;
	if (at >= c->n)
		return (struct ab_touch_due){ .touch = NULL };
	const struct ab_calendar_touch *t = &c->touches[at];
	return (struct ab_touch_due){ plan->batch, t->touch, t->day_s, t->latest_s, t->overdue,
		chore < 0 ? NULL : c->touches[chore].touch, t->supposed_s,
		t->touch->shown == AB_SHOWN_PACKAGE || unready(&plan->priming) ? &plan->priming : NULL,
		t->tell, since_of(t) };
}

/* What is overdue is laid on a day to come, yet comes first. */
static void note(struct ab_touch_next *out, struct ab_batch_due *of, const struct ab_batchplan *plan)
{
	const struct ab_calendar *c = plan->calendar;
	int chore, late_chore;
	size_t first = ab_calendar_first(c, false, &chore), late = ab_calendar_first(c, true, &late_chore);
	out->known = out->known || c->n > 0;
	of->fit = c->fit;
	of->next = late < c->n ? due_of(plan, late, late_chore) : due_of(plan, first, chore);
	of->next.batch = plan->batch;
	of->then = late < c->n ? due_of(plan, first, chore) : (struct ab_touch_due){ .touch = NULL };
	for (size_t i = 0; i < c->n; i++) {
		if (c->touches[i].touch->goal)
			of->goal = due_of(plan, i, -1);
		if (c->touches[i].overdue && c->touches[i].after < 0 && out->n_overdue < AB_TOUCH_OVERDUE)
			out->overdue[out->n_overdue++] = due_of(plan, i, -1);
	}
	struct ab_touch_due soon = due_of(plan, first, chore);
	if (soon.touch != NULL && is_sooner(&soon, &out->next))
		out->next = soon;
}

/* A beer that nobody wrote down yet: as long as its first touch takes, by its first rule. */
static double first_brew_day(const struct ab_knowledge *k, const struct ab_days *days)
{
	const struct ab_touch *brew = k->n_touches > 0 ? &k->touches[0] : NULL;

	for (int i = 0; brew != NULL && brew->n_takes > 0 && i < AB_CALENDAR_DAYS; i++)
		if (days->day[i] == AB_DAY_FREE && days->free_minutes - days->used[i] >= brew->takes[0].minutes)
			return days->first_s + (double)i * DAY;
	return 0;
}

enum ab_status ab_touch_next(const struct ab_knowledge *k, const struct ab_profile *profile,
    struct ab_batch *const *batches, size_t n, double today_s, struct ab_arena *arena, struct ab_touch_next *out,
    struct ab_diag *diag)
{
	struct ab_days *days = ab_arena_alloc(arena, 1, sizeof *days);
	struct ab_batchplan_asked asked = { .k = k, .profile = profile, .batches = batches, .n = n, .days = days,
		.drink_s = (double)NAN };
	struct ab_batchplan *plans;
	size_t n_plans = 0;
	bool told;
	*out = (struct ab_touch_next){ .known = false };
	if (days == NULL)
		return advising_nomem(diag);
	enum ab_status st = ab_days_of_profile(profile, today_s, true, days, &told, diag);
	if (st == AB_OK)
		ab_days_now(days, (today_s - days->first_s) * 24 / DAY);
	if (st == AB_OK)
		st = ab_batchplan_unfinished(&asked, NULL, 0, arena, &plans, &n_plans, NULL, NULL, diag);
	if (st != AB_OK)
		return st;
	out->of = ab_arena_alloc(arena, n_plans, sizeof *out->of);
	if (out->of == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; i < n_plans; i++)
		note(out, &out->of[out->n_of++], &plans[i]);
	if (told)
		out->brew_s = first_brew_day(k, days);
	return st;
}
