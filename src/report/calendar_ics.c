/* calendar_ics.c - a batch laid out over days, as iCalendar (RFC 5545) by libical
 *
 * Times carry no zone: they are "floating", the same hour wherever the brewer is, as brewers' notes are. Each touch has
 * a UID made of the batch and the touch: when the plan is made and imported again its event moves.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <libical/ical.h>
#include <math.h>
#include <string.h>

#include <afterboil/when.h>
#include "base/alloc.h"
#include "base/str.h"

enum { DAY = 86400, HOUR = 3600, MINUTE = 60, EVENING_BEFORE = 12 * HOUR, LONG_MINUTES = 60 };

static struct icaltimetype at(double s, bool utc)
{
	struct icaltimetype t = icaltime_null_time();
	double rest = s - DAY * floor(s / DAY);
	ab_when_to_civil(s, &t.year, &t.month, &t.day);
	t.hour = (int)(rest / HOUR);
	t.minute = (int)(fmod(rest, HOUR) / MINUTE);
	t.second = (int)fmod(rest, MINUTE);
	if (utc)
		t.zone = icaltimezone_get_utc_timezone();
	return t;
}

/* What has no property or no memory makes the whole none: a calendar with a touch missing is worse than none. */
static bool give(icalcomponent *to, icalproperty *property)
{
	if (property != NULL)
		icalcomponent_add_property(to, property);
	return property != NULL;
}

/* Long things are told of the evening before, short ones when they are due. */
static bool give_alarm(icalcomponent *event, const struct ab_calendar_touch *t)
{
	struct icaltriggertype trigger = { .time = icaltime_null_time(),
		.duration = icaldurationtype_from_int(t->takes->minutes >= LONG_MINUTES ? -EVENING_BEFORE : 0) };
	icalcomponent *alarm = icalcomponent_new_valarm();
	if (alarm == NULL)
		return false;
	icalcomponent_add_component(event, alarm);
	return give(alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY)) &&
	    give(alarm, icalproperty_new_description(t->touch->title)) &&
	    give(alarm, icalproperty_new_trigger(trigger));
}

static void describe(const struct ab_calendar_touch *t, struct ab_str *s)
{
	char day[24];
	struct ab_when latest = { .known = true, .date_only = true, .s = t->latest_s + DAY / 2 };
	const char *parts[] = { t->touch->how, t->touch->waiting };
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (parts[i] != NULL)
			ab_str_addf(s, "%s\n", parts[i]);
	if (t->due != NULL && t->latest_s > t->day_s)
		ab_str_addf(s, "May wait until %s.\n", ab_when_write(&latest, day, sizeof day));
	if (t->due != NULL && t->latest_s <= t->day_s && t->touch->waiting == NULL)
		ab_str_add(s, "Should not wait.\n");
	if (t->touch->caution != NULL)
		ab_str_addf(s, "Take care: %s\n", t->touch->caution);
	ab_str_add(s, "Minutes and days are estimates.");
}

/* A control character has no place in a calendar line, and libical passes it on. */
static bool fill(icalcomponent *event, const struct ab_calendar *c, size_t i, const struct ab_calendar_words *w,
    struct ab_str *texts)
{
	const struct ab_calendar_touch *t = &c->touches[i];
	double start = t->day_s + round(report_calendar_hour(c, i) * MINUTE) * MINUTE;
	ab_str_addf(texts, "%s-%s@afterboil", w->key, t->touch->id);
	bool good = ab_str_ok(texts) && give(event, icalproperty_new_uid(ab_str_text(texts)));
	ab_str_clear(texts);
	ab_str_init(texts, 0);
	ab_str_add_safe(texts, w->beer == NULL ? "" : w->beer, false);
	ab_str_addf(texts, "%s%s (%.0f min)", w->beer == NULL ? "" : ": ", t->touch->title, t->takes->minutes);
	good = good && ab_str_ok(texts) && give(event, icalproperty_new_summary(ab_str_text(texts)));
	ab_str_clear(texts);
	ab_str_init(texts, 0);
	describe(t, texts);
	good = good && ab_str_ok(texts) && give(event, icalproperty_new_description(ab_str_text(texts)));
	return good && give(event, icalproperty_new_dtstamp(at(w->stamp_s, true))) &&
	    give(event, icalproperty_new_dtstart(at(start, false))) &&
	    give(event, icalproperty_new_duration(icaldurationtype_from_int((int)t->takes->minutes * MINUTE))) &&
	    give_alarm(event, t);
}

static bool add_event(icalcomponent *calendar, const struct ab_calendar *c, size_t i, const struct ab_calendar_words *w)
{
	struct ab_str texts;
	icalcomponent *event = icalcomponent_new_vevent();
	if (event == NULL)
		return false;
	icalcomponent_add_component(calendar, event);
	ab_str_init(&texts, 0);
	bool good = fill(event, c, i, w, &texts);
	ab_str_clear(&texts);
	return good;
}

enum ab_status report_calendar_ics(const struct ab_calendar *c, const struct ab_calendar_words *w, char **out,
    struct ab_diag *diag)
{
	icalcomponent *calendar = icalcomponent_new_vcalendar();
	char *text = NULL;
	struct ab_str copy;
	bool good = calendar != NULL && give(calendar, icalproperty_new_version("2.0")) &&
	    give(calendar, icalproperty_new_prodid("-//afterboil//calendar//EN"));
	*out = NULL;
	for (size_t i = 0; good && i < c->n; i++)
		good = add_event(calendar, c, i, w);
	text = good ? icalcomponent_as_ical_string_r(calendar) : NULL;
	/* Into our own memory, so that a report is freed like any other. */
	ab_str_init(&copy, 0);
	if (text != NULL)
		ab_str_add(&copy, text);
	icalmemory_free_buffer(text);
	if (calendar != NULL)
		icalcomponent_free(calendar);
	good = text != NULL && ab_str_ok(&copy);
	if (good)
		*out = copy.text;
	else
		ab_str_clear(&copy);
	return good ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}
