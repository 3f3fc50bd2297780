/* calendar_json.c - a batch laid out over days, as data; the shape is a contract, rules/calendar.schema.json
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <math.h>

#include <afterboil/when.h>

enum { NOON = 43200 };

static void put_day(struct put *o, const char *key, double s)
{
	char text[24];
	struct ab_when when = { .known = true, .date_only = true, .s = s + NOON };
	put_text(o, key, isnan(s) ? NULL : ab_when_write(&when, text, sizeof text));
}

static json_t *touch_of(const struct ab_calendar *c, size_t i)
{
	static const char *const kinds[] = { "home", "free", "away" };
	const struct ab_calendar_touch *t = &c->touches[i];
	struct put o = put_begin();
	put_text(&o, "id", t->touch->id);
	put_text(&o, "title", t->touch->title);
	put_day(&o, "day", t->day_s);
	put_number(&o, "hour", report_calendar_hour(c, i));
	put_number(&o, "minutes", t->takes->minutes);
	put_number(&o, "minutes_low", t->takes->low);
	put_number(&o, "minutes_high", t->takes->high);
	put_text(&o, "after", t->after < 0 ? NULL : c->touches[t->after].touch->id);
	put_day(&o, "due", t->due == NULL ? (double)NAN : t->due_s);
	put_day(&o, "may_wait_until", t->due == NULL ? (double)NAN : t->latest_s);
	put_text(&o, "day_is", kinds[t->day]);
	put_flag(&o, "pressed", t->pressed);
	put_flag(&o, "upkeep", t->touch->upkeep);
	put_text(&o, "caution", t->touch->caution);
	return put_end(&o);
}

static json_t *pace_of(const struct ab_calendar *c, const struct ab_calendar_words *w)
{
	struct put o = put_begin();
	put_number(&o, "primary_days", c->pace.primary);
	put_number(&o, "slow_days", c->pace.brews > 0 ? c->pace.slow_primary : (double)NAN);
	put_number(&o, "clean_days", c->pace.clean);
	put_count(&o, "brews", c->pace.brews);
	put_flag(&o, "estimate", c->pace.brews == 0);
	put_flag(&o, "slow_end_used", c->slow);
	put_text(&o, "yeast", w->yeast);
	put_flag(&o, "yeast_assumed", w->yeast_assumed);
	return put_end(&o);
}

json_t *report_calendar_json(const struct ab_calendar *c, const struct ab_calendar_words *w)
{
	static const char *const fits[] = { "all", "later", "pressed", "away", "none" };
	struct put o = put_begin();
	json_t *touches = json_array(), *wanted = json_array();
	bool none = c->fit == AB_FIT_NONE;
	for (size_t i = 0; i < c->n; i++)
		touches = json_add(touches, touch_of(c, i));
	for (size_t i = 0; i < c->n_wanted; i++) {
		char text[24];
		struct ab_when when = { .known = true, .date_only = true, .s = c->wanted_s[i] + NOON };
		wanted = json_add(wanted, json_text(ab_when_write(&when, text, sizeof text)));
	}
	put_text(&o, "beer", w->beer);
	put_text(&o, "fits", fits[c->fit]);
	put_day(&o, "ready", none ? (double)NAN : c->ready_s);
	put_day(&o, "wanted", c->drink_s);
	put_value(&o, "pace", pace_of(c, w));
	put_number(&o, "minutes", c->minutes);
	put_number(&o, "upkeep_minutes", c->upkeep_minutes);
	put_number(&o, "longest_alone_days", c->quiet < c->n ? c->quiet_days : (double)NAN);
	put_number(&o, "longest_alone_safe_days", c->quiet < c->n ? c->quiet_most_days : (double)NAN);
	put_value(&o, "touches", touches);
	put_value(&o, "days_that_would_help", wanted);
	return put_end(&o);
}
