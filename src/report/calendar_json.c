/* calendar_json.c - batches laid out over days, as data; the shape is a contract, rules/calendar.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <math.h>

#include <afterboil/facts.h>

enum { HOUR = 3600 };

static void put_day(struct put *o, const char *key, double s)
{
	put_value(o, key, json_date(s));
}

static json_t *touch_of(const struct calendar_row *r)
{
	static const char *const kinds[] = { "home", "free", "away" };
	const struct ab_calendar_touch *t = r->t;
	const struct ab_calendar *c = r->of->plan->calendar;
	struct put o = put_begin();
	put_text(&o, "id", t->touch->id);
	put_text(&o, "title", t->touch->title);
	put_day(&o, "day", t->day_s);
	put_number(&o, "hour", (r->begins_s - t->day_s) / HOUR);
	put_number(&o, "minutes", t->takes->minutes);
	put_number(&o, "minutes_low", t->takes->low);
	put_number(&o, "minutes_high", t->takes->high);
	put_text(&o, "after", t->after < 0 ? NULL : c->touches[t->after].touch->id);
	put_text(&o, "prepares", t->before < 0 ? NULL : c->touches[t->before].touch->id);
	put_day(&o, "due", t->due == NULL ? (double)NAN : t->due_s);
	put_day(&o, "may_wait_until", t->due == NULL ? (double)NAN : t->latest_s);
	put_flag(&o, "overdue", t->overdue);
	put_text(&o, "day_is", kinds[t->day]);
	put_flag(&o, "pressed", t->pressed);
	put_flag(&o, "upkeep", t->touch->upkeep);
	put_text(&o, "caution", t->touch->caution);
	return put_end(&o);
}

static json_t *past_of(const struct ab_calendar_touch *t)
{
	struct put o = put_begin();
	put_text(&o, "id", t->touch->id);
	put_text(&o, "title", t->touch->title);
	put_text(&o, "state", t->state == AB_TOUCH_DONE ? "done" : "over");
	put_day(&o, "day", t->day_s);
	return put_end(&o);
}

static const char *from_word(enum ab_taken from)
{
	static const char *const words[] = { NULL, "batch", "last", "profile", "told" };
	return words[from];
}

static json_t *taken_of(const struct ab_taken_fact *t)
{
	struct put o = put_begin();
	put_text(&o, "fact", ab_fact_defs()->defs[t->slot].name);
	put_text(&o, "from", from_word(t->from));
	return put_end(&o);
}

static json_t *pace_of(const struct ab_batchplan *plan)
{
	const struct ab_calendar *c = plan->calendar;
	struct put o = put_begin();
	put_number(&o, "primary_days", c->pace.primary);
	put_number(&o, "slow_days", c->pace.brews > 0 ? c->pace.slow_primary : (double)NAN);
	put_number(&o, "clean_days", c->pace.clean);
	put_count(&o, "brews", c->pace.brews);
	put_flag(&o, "own", c->pace.own);
	put_flag(&o, "estimate", c->pace.brews == 0);
	put_flag(&o, "slow_end_used", c->slow);
	put_text(&o, "yeast", plan->yeast->title);
	put_text(&o, "yeast_from", from_word(plan->yeast_from));
	put_flag(&o, "yeast_assumed", plan->yeast_from == AB_TAKEN_NOWHERE);
	return put_end(&o);
}

static json_t *wanted_of(const struct ab_calendar *c)
{
	json_t *wanted = json_array();
	for (size_t i = 0; i < c->n_wanted; i++)
		wanted = json_add(wanted, json_date(c->wanted_s[i]));
	return wanted;
}

static bool may_burst(const struct ab_calendar_of *of, const struct ab_calendar_words *w)
{
	bool found = false;
	for (size_t i = 0; i < w->n_bursting; i++)
		found = found || w->bursting[i] == of->plan->batch;
	return found;
}

static json_t *batch_of(const struct ab_calendar_of *of, const struct calendar_row *rows, size_t n_rows,
    const struct ab_calendar_words *w)
{
	static const char *const fits[] = { "all", "later", "pressed", "away", "none" };
	const struct ab_calendar *c = of->plan->calendar;
	struct put o = put_begin();
	json_t *touches = json_array(), *past = json_array(), *taken = json_array();
	bool none = c->fit == AB_FIT_NONE;
	for (size_t i = 0; i < n_rows; i++)
		touches = rows[i].of == of ? json_add(touches, touch_of(&rows[i])) : touches;
	for (size_t i = 0; i < c->n_past; i++)
		past = json_add(past, past_of(&c->past[i]));
	for (size_t i = 0; i < of->plan->n_taken; i++)
		taken = json_add(taken, taken_of(&of->plan->taken[i]));
	put_text(&o, "batch", of->plan->batch == NULL ? NULL : of->plan->batch->id);
	put_text(&o, "beer", of->beer);
	put_text(&o, "last", of->plan->last == NULL ? NULL : of->plan->last->id);
	put_day(&o, "today", w->today_s);
	put_flag(&o, "begun", c->begun);
	put_flag(&o, "may_burst", may_burst(of, w));
	put_text(&o, "fits", fits[c->fit]);
	put_day(&o, "ready", none ? (double)NAN : c->ready_s);
	put_day(&o, "wanted", c->drink_s);
	put_value(&o, "pace", pace_of(of->plan));
	put_value(&o, "taken", taken);
	put_number(&o, "minutes", c->minutes);
	put_number(&o, "upkeep_minutes", c->upkeep_minutes);
	put_number(&o, "longest_alone_days", c->quiet < c->n ? c->quiet_days : (double)NAN);
	put_number(&o, "longest_alone_safe_days", c->quiet < c->n ? c->quiet_most_days : (double)NAN);
	put_count(&o, "overdue", c->n_overdue);
	put_value(&o, "touches", touches);
	put_value(&o, "past", past);
	put_value(&o, "days_that_would_help", wanted_of(c));
	return put_end(&o);
}

json_t *report_calendar_json(const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w)
{
	struct ab_arena *arena = ab_arena_new();
	size_t n_rows = 0;
	struct calendar_row *rows = arena == NULL ? NULL : report_calendar_rows(of, n, arena, &n_rows);
	json_t *all = rows == NULL ? NULL : n == 1 ? batch_of(of, rows, n_rows, w) : json_array();
	for (size_t i = 0; rows != NULL && n > 1 && i < n; i++)
		all = json_add(all, batch_of(&of[i], rows, n_rows, w));
	ab_arena_free(arena);
	return all;
}
