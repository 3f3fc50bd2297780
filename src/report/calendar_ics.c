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

enum { DAY = 86400, HOUR = 3600, MINUTE = 60, EVENING_BEFORE = 12 * HOUR, LONG_MINUTES = 60, PAST_HOUR = 19,
    BURSTING_HOUR = 9, BURSTING_MINUTES = 15 };
/* Bytes that libical takes in all, for every event and besides. */
enum { PER_EVENT = 64 * 1024, PER_CALENDAR = 64 * 1024 };

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

static bool give_one_alarm(icalcomponent *event, const char *text, int from_start)
{
	struct icaltriggertype trigger = { .time = icaltime_null_time(),
		.duration = icaldurationtype_from_int(from_start) };
	icalcomponent *alarm = icalcomponent_new_valarm();
	if (alarm == NULL)
		return false;
	icalcomponent_add_component(event, alarm);
	return give(alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY)) &&
	    give(alarm, icalproperty_new_description(text)) && give(alarm, icalproperty_new_trigger(trigger));
}

/* Long things are told of the evening before, short ones when they are due; and once more on the last day they may
 * wait. What is logged until then has no alarm in the next calendar. */
static bool give_alarms(icalcomponent *event, const struct calendar_row *r, struct ab_str *text)
{
	const struct ab_calendar_touch *t = r->t;
	bool good = give_one_alarm(event, t->touch->title, t->takes->minutes >= LONG_MINUTES ? -EVENING_BEFORE : 0);
	if (!good || t->due == NULL || t->touch->lapses || t->overdue || t->latest_s <= t->day_s)
		return good;
	ab_str_clear(text);
	ab_str_init(text, 0);
	ab_str_addf(text, "The last day this may wait: %s", t->touch->title);
	return ab_str_ok(text) && give_one_alarm(event, ab_str_text(text), (int)(t->latest_s - t->day_s));
}

static void describe(const struct ab_calendar_touch *t, struct ab_str *s)
{
	char day[24];
	struct ab_when latest = { .known = true, .date_only = true, .s = t->latest_s + DAY / 2 };
	const char *parts[] = { t->touch->how, t->touch->waiting };
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (parts[i] != NULL)
			ab_str_addf(s, "%s\n", parts[i]);
	if (t->overdue)
		ab_str_addf(
		    s, "Overdue: it could wait until %s. Do it today.\n", ab_when_write(&latest, day, sizeof day));
	else if (t->due != NULL && t->latest_s > t->day_s)
		ab_str_addf(s, "May wait until %s.\n", ab_when_write(&latest, day, sizeof day));
	else if (t->due != NULL && t->touch->waiting == NULL)
		ab_str_add(s, "Should not wait.\n");
	if (t->touch->caution != NULL)
		ab_str_addf(s, "Take care: %s\n", t->touch->caution);
	ab_str_add(s, "Minutes and days are estimates.");
}

static const char *mark_of(const struct ab_calendar_touch *t)
{
	return t->state == AB_TOUCH_DONE ? "Done: "
	    : t->state == AB_TOUCH_MOOT  ? "Over: "
	    : t->overdue                 ? "OVERDUE: "
					 : "";
}

static bool give_time(icalcomponent *event, double begins_s, int minutes, const struct ab_calendar_words *w)
{
	return give(event, icalproperty_new_dtstamp(at(w->stamp_s, true))) &&
	    give(event, icalproperty_new_dtstart(at(begins_s, false))) &&
	    give(event, icalproperty_new_duration(icaldurationtype_from_int(minutes * MINUTE)));
}

/* A control character has no place in a calendar line, and libical passes it on. */
static bool fill(
    icalcomponent *event, const struct calendar_row *r, const struct ab_calendar_words *w, struct ab_str *texts)
{
	const struct ab_calendar_touch *t = r->t;
	bool to_do = t->state == AB_TOUCH_TO_DO;
	ab_str_addf(texts, "%s-%s@afterboil", r->of->key, t->touch->id);
	bool good = ab_str_ok(texts) && give(event, icalproperty_new_uid(ab_str_text(texts)));
	ab_str_clear(texts);
	ab_str_init(texts, 0);
	ab_str_add(texts, mark_of(t));
	ab_str_add_safe(texts, r->of->name, false);
	ab_str_addf(texts, ": %s (%.0f min)", t->touch->title, t->takes->minutes);
	good = good && ab_str_ok(texts) && give(event, icalproperty_new_summary(ab_str_text(texts)));
	ab_str_clear(texts);
	ab_str_init(texts, 0);
	describe(t, texts);
	good = good && ab_str_ok(texts) && give(event, icalproperty_new_description(ab_str_text(texts)));
	good = good && give_time(event, r->begins_s, (int)t->takes->minutes, w);
	if (good && !to_do)
		return give(event,
		    icalproperty_new_status(
			t->state == AB_TOUCH_DONE ? ICAL_STATUS_CONFIRMED : ICAL_STATUS_CANCELLED));
	return good && give_alarms(event, r, texts);
}

/* Told on the day itself, in the morning: it waits for nothing. */
static bool fill_bursting(
    icalcomponent *event, const struct ab_batch *b, const struct ab_calendar_words *w, struct ab_str *texts)
{
	ab_str_addf(texts, "%s-take-care@afterboil", b->id);
	bool good = ab_str_ok(texts) && give(event, icalproperty_new_uid(ab_str_text(texts)));
	ab_str_clear(texts);
	ab_str_init(texts, 0);
	ab_str_add(texts, "TAKE CARE: bottles of ");
	ab_str_add_safe(texts, b->id, false);
	ab_str_add(texts, " may burst");
	good = good && ab_str_ok(texts) && give(event, icalproperty_new_summary(ab_str_text(texts))) &&
	    give_one_alarm(event, ab_str_text(texts), 0);
	ab_str_add(texts, ". Before you touch one, read afterboil diagnose --batch ");
	ab_str_add_safe(texts, b->id, false);
	ab_str_add(texts, ". Chill them all today, covered and away from people, with eyes and hands protected.");
	return good && ab_str_ok(texts) && give(event, icalproperty_new_description(ab_str_text(texts))) &&
	    give_time(event, w->today_s + BURSTING_HOUR * HOUR, BURSTING_MINUTES, w);
}

/* A touch, or bottles that may burst (r NULL). */
static bool add_event(icalcomponent *calendar, const struct calendar_row *r, const struct ab_batch *bursting,
    const struct ab_calendar_words *w)
{
	struct ab_str texts;
	icalcomponent *event = icalcomponent_new_vevent();
	if (event == NULL)
		return false;
	icalcomponent_add_component(calendar, event);
	ab_str_init(&texts, 0);
	bool good = r != NULL ? fill(event, r, w, &texts) : fill_bursting(event, bursting, w, &texts);
	ab_str_clear(&texts);
	return good;
}

/* What is behind a batch, at the hour of the evening it is told of. */
static bool add_past(icalcomponent *calendar, const struct ab_calendar_of *of, const struct ab_calendar_words *w)
{
	const struct ab_calendar *c = of->plan->calendar;
	bool good = true;
	for (size_t i = 0; good && i < c->n_past; i++) {
		struct calendar_row row = { of, &c->past[i], c->past[i].day_s + PAST_HOUR * HOUR };
		good = add_event(calendar, &row, NULL, w);
	}
	return good;
}

static bool add_all(
    icalcomponent *calendar, const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w)
{
	struct ab_arena *arena = ab_arena_new();
	size_t n_rows = 0;
	struct calendar_row *rows = arena == NULL ? NULL : report_calendar_rows(of, n, arena, &n_rows);
	bool good = rows != NULL && give(calendar, icalproperty_new_version("2.0")) &&
	    give(calendar, icalproperty_new_prodid("-//afterboil//calendar//EN"));
	for (size_t i = 0; good && i < w->n_bursting; i++)
		good = add_event(calendar, NULL, w->bursting[i], w);
	for (size_t i = 0; good && i < n_rows; i++)
		good = add_event(calendar, &rows[i], NULL, w);
	for (size_t i = 0; good && i < n; i++)
		good = add_past(calendar, &of[i], w);
	ab_arena_free(arena);
	return good;
}

/* libical does not look whether it got memory, and falls (pvl_push, 3.0). So as much as it will take is asked for
 * first, and given back: this process has one thread, and the memory stays within its reach. check_calendar_ics
 * measures what it takes. */
static bool memory_will_do(const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w)
{
	size_t events = w->n_bursting;
	for (size_t i = 0; i < n; i++)
		events += of[i].plan->calendar->n + of[i].plan->calendar->n_past;
	void *reserve = ab_malloc(PER_CALENDAR + events * PER_EVENT);
	bool will_do = reserve != NULL;
	ab_free(reserve);
	return will_do;
}

enum ab_status report_calendar_ics(
    const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w, char **out, struct ab_diag *diag)
{
	icalcomponent *calendar = memory_will_do(of, n, w) ? icalcomponent_new_vcalendar() : NULL;
	struct ab_str copy;
	bool good = calendar != NULL && add_all(calendar, of, n, w);
	char *text = good ? icalcomponent_as_ical_string_r(calendar) : NULL;
	*out = NULL;
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
