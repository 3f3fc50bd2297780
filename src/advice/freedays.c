/* freedays.c - the days a brewer has, read from words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/calendar.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/when.h>

enum { DAY = 86400, WEEK = 7, THURSDAY = 4, PART = 80, FREE_FROM = 10, HOME_FROM = 19, HOUR_MINUTES = 60, NOON = 12 };

void ab_days_start(struct ab_days *days, double first_s, int free_minutes, int home_minutes)
{
	*days = (struct ab_days){ .first_s = first_s, .free_minutes = free_minutes, .home_minutes = home_minutes,
	    .free_hour = (double)NAN, .home_hour = (double)NAN, .now_hour = (double)NAN };
	for (int i = 0; i < AB_CALENDAR_DAYS; i++) {
		days->day[i] = AB_DAY_FREE;
		days->own_hour[i] = (double)NAN;
	}
}

double ab_days_begin(const struct ab_days *days, int i)
{
	return days->day[i] != AB_DAY_FREE ? days->home_hour
	    : isnan(days->own_hour[i])     ? days->free_hour
					   : days->own_hour[i];
}

bool ab_days_hours_told(const struct ab_days *days)
{
	bool any = false;
	for (int i = 0; i < AB_CALENDAR_DAYS; i++) {
		if (days->day[i] == AB_DAY_FREE && isnan(days->own_hour[i]))
			return false;
		any = any || days->day[i] == AB_DAY_FREE;
	}
	return any;
}

double ab_day_begins(enum ab_day_kind kind, double told_hour, double minutes)
{
	return !isnan(told_hour) ? told_hour : kind == AB_DAY_FREE || minutes >= HOUR_MINUTES ? FREE_FROM : HOME_FROM;
}

void ab_days_now(struct ab_days *days, double hour)
{
	bool free = days->day[0] == AB_DAY_FREE;
	double begins = ab_day_begins(days->day[0], ab_days_begin(days, 0), 0);
	int minutes = free ? days->free_minutes : days->home_minutes;
	int least = free && days->evenings ? 0 : minutes < days->home_minutes ? minutes : days->home_minutes;
	int left = (int)lround((begins - hour) * HOUR_MINUTES) + minutes;
	left = left < least ? least : left > minutes ? minutes : left;
	days->now_hour = hour;
	days->used[0] += minutes - left;
}

/* Sunday 0; 1970-01-01 was a Thursday. */
static int weekday(const struct ab_days *days, int i)
{
	double d = floor(days->first_s / DAY) + i + THURSDAY;
	return (int)(d - WEEK * floor(d / WEEK));
}

static int weekday_word(const char *text)
{
	static const char *const names[] = { "sunday", "monday", "tuesday", "wednesday", "thursday", "friday",
		"saturday" };
	size_t len = strlen(text);
	/* "tuesdays", "weds" */
	len -= len > 3 && (text[len - 1] | 0x20) == 's';
	for (int i = 0; i < WEEK; i++) {
		size_t k = 0;
		while (k < len && (text[k] | 0x20) == names[i][k] && names[i][k] != '\0')
			k++;
		if (len >= 3 && k == len)
			return i;
	}
	return -1;
}

/* A stretch of days: of dates, or of weekdays, week after week or (other) every other one, that of day anchor among
 * them. taken: it is not free. hour: at which such a day begins, NAN: not told. */
struct stretch { bool week; int from, to; bool other; int anchor; bool taken; double hour; };

static bool end_of(const struct ab_days *days, const char *text, bool weekdays, struct stretch *s, int *out,
    char *why, size_t size)
{
	struct ab_when when;
	char told[300];
	int day = weekday_word(text);
	if (weekdays && day >= 0) {
		s->week = true;
		*out = day;
		return true;
	}
	if (ab_when_read(text, &when, told, sizeof told) && when.date_only && !when.relative) {
		double at = floor(when.s / DAY) - floor(days->first_s / DAY);
		*out = (int)fmax(-1, fmin(at, AB_CALENDAR_DAYS));
		s->week = false;
		return true;
	}
	snprintf(why, size,
	    "\"%.40s\" is no day; allowed: %sa date as 2031-03-07, or two of them as "
	    "2031-03-07..2031-03-14",
	    text,
	    weekdays
		? "sun mon tue wed thu fri sat, weekends, weekdays, weeknights, every day, each with its hour or "
		    "not (tue 19:00, sat morning), "
		: "");
	return false;
}

/* The number of a day that was read as one. */
static double since_day(const char *text)
{
	struct ab_when when;
	char told[300];
	return ab_when_read(text, &when, told, sizeof told) ? floor(when.s / DAY) : 0;
}

/* "sat", "mon..thu", "mon to thu", a date, two dates. */
static bool read_stretch(const struct ab_days *days, char *text, bool weekdays, struct stretch *s, char *why,
    size_t size)
{
	char *gap = strstr(text, ".."), *to = gap == NULL ? NULL : gap + 2;
	bool to_week;
	if (gap == NULL && (gap = strstr(text, " to ")) != NULL)
		to = gap + 4;
	if (gap == NULL) {
		bool good = end_of(days, text, weekdays, s, &s->from, why, size);
		s->to = s->from;
		return good;
	}
	while (gap > text && gap[-1] == ' ')
		gap--;
	*gap = '\0';
	to += strspn(to, " ");
	if (!end_of(days, to, weekdays, s, &s->to, why, size))
		return false;
	to_week = s->week;
	if (!end_of(days, text, weekdays, s, &s->from, why, size))
		return false;
	if (s->week == to_week && (s->week || s->from <= s->to))
		return true;
	snprintf(why, size,
	    "\"%.40s\" to \"%.40s\" is no stretch of days: write the earlier date first, and no weekday "
	    "with a date",
	    text, to);
	return false;
}

static bool begins_with(char **text, const char *words)
{
	size_t n = strlen(words);
	for (size_t k = 0; k < n; k++)
		if ((*text)[k] == '\0' || ((*text)[k] | 0x20) != (words[k] | 0x20))
			return false;
	*text += n + strspn(*text + n, " ");
	return true;
}

static bool ends_with(char *text, const char *words)
{
	size_t len = strlen(text), n = strlen(words);
	for (size_t k = 0; k < n; k++)
		if (n > len || (text[len - n + k] | 0x20) != (words[k] | 0x20))
			return false;
	while (n < len && text[len - n - 1] == ' ')
		n++;
	text[len - n] = '\0';
	return true;
}

/* "19:00", "7pm", "7:30 pm"; a bare number may be anything. */
static double hour_said(char *text)
{
	size_t len = strlen(text);
	char copy[16];
	bool pm = len > 2 && ends_with(text, "pm"), am = !pm && len > 2 && ends_with(text, "am");
	double hour;
	if (strlen(text) >= sizeof copy || (!pm && !am && strchr(text, ':') == NULL))
		return (double)NAN;
	hour = ab_days_hour(text);
	if ((pm || am) && !(hour >= 1 && hour < NOON + 1))
		return (double)NAN;
	hour = (pm || am) && hour >= NOON ? hour - NOON : hour;
	return pm ? hour + NOON : hour;
}

/* "weeknights" and "after work" are evenings, and of which days besides. */
static bool cut_week(char *text)
{
	static const char *const words[] = { "weeknights", "weeknight", "week nights", "week night", "week evenings",
		"week evening" };
	size_t i = 0, n = sizeof words / sizeof *words;
	while (i < n && !ends_with(text, words[i]))
		i++;
	bool work = i == n && ends_with(text, "after work");
	/* never longer than what was cut */
	if (i < n || (work && text[0] == '\0'))
		strcat(text, text[0] == '\0' ? "weekday" : " weekday");
	return i < n || work;
}

/* The hour behind the days, cut off them. The parts of a day begin when most have them (working estimates). */
static double cut_hour(char *text)
{
	static const struct { const char *words; double hour; } parts[] = { { "mornings", 9 },
	    { "morning", 9 }, { "afternoons", 14 },
		{ "afternoon", 14 }, { "evenings", HOME_FROM }, { "evening", HOME_FROM }, { "nights", 20.5 },
		{ "night", 20.5 } };
	if (cut_week(text))
		return HOME_FROM;
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (ends_with(text, parts[i].words))
			return parts[i].hour;
	char tail[PART], *at = NULL;
	for (char *c = text; *c != '\0'; c++)
		at = c > text && c[-1] == ' ' && *c >= '0' && *c <= '9' ? c : at;
	if (at == NULL)
		return (double)NAN;
	snprintf(tail, sizeof tail, "%s", at);
	double hour = hour_said(tail);
	if (isnan(hour))
		return hour;
	while (at > text && at[-1] == ' ')
		at--;
	*at = '\0';
	if (!ends_with(text, " from") && !ends_with(text, " at"))
		ends_with(text, " after");
	return hour;
}

/* Words for several days of the week; "" is left of "evenings". */
static bool read_many(const char *text, struct stretch *s)
{
	static const struct { const char *words; int from, to; } rows[] = { { "weekends", 6, 0 },
	    { "weekend", 6, 0 }, { "weekdays", 1, 5 }, { "weeknights", 1, 5 }, { "weeknight", 1, 5 },
		{ "week nights", 1, 5 },
		{ "weekday", 1, 5 }, { "workdays", 1, 5 }, { "days", 0, 6 }, { "day", 0, 6 }, { "everyday", 0, 6 },
		{ "daily", 0, 6 } };
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		size_t k = 0;
		while (text[k] != '\0' && (text[k] | 0x20) == rows[i].words[k])
			k++;
		if (text[k] != '\0' || rows[i].words[k] != '\0')
			continue;
		s->week = true;
		s->from = rows[i].from;
		s->to = rows[i].to;
		return true;
	}
	return false;
}

static void pass_small(char **text)
{
	static const char *const small[] = { "on ", "the ", "usually ", "mostly ", "at ", "in the ", "my " };
	for (size_t i = 0; i < sizeof small / sizeof *small; i++)
		if (begins_with(text, small[i]))
			i = (size_t)-1;
}

/* "not every other sat from 2031-03-08", "every saturday morning": what stands before and behind the stretch is
 * taken off it. */
static bool read_part(const struct ab_days *days, char *text, bool weekdays, struct stretch *s, char *why, size_t size)
{
	struct stretch since = { .week = false };
	char *from;
	s->hour = (double)NAN;
	s->taken = weekdays && (begins_with(&text, "not ") || begins_with(&text, "except "));
	if (weekdays)
		pass_small(&text);
	s->other = weekdays && (begins_with(&text, "every other ") || begins_with(&text, "every second "));
	from = s->other ? strstr(text, " from ") : NULL;
	if (s->other && from == NULL) {
		snprintf(why, size, "\"every other %.40s\": which of them? Write one of those days, as in "
		    "every other sat from 2031-03-08", text);
		return false;
	}
	if (from != NULL) {
		*from = '\0';
		from += 6 + strspn(from + 6, " ");
		if (!end_of(days, from, false, &since, &s->anchor, why, size))
			return false;
		s->anchor = (int)fmod(floor(since_day(from) - floor(days->first_s / DAY)), 2 * WEEK);
	}
	if (weekdays)
		s->hour = cut_hour(text);
	bool every = weekdays && !s->other &&
	    (begins_with(&text, "every ") || begins_with(&text, "each ") || begins_with(&text, "any ") ||
		begins_with(&text, "all "));
	/* "evenings" and "every evening" leave nothing, or the one word. */
	bool bare = !isnan(s->hour) &&
	    (text[0] == '\0' || ((text[0] | 0x20) == 'e' && ends_with(text, "every") && text[0] == '\0'));
	if (weekdays && (bare ? read_many("day", s) : (every || strlen(text) > 3) && read_many(text, s)))
		return true;
	return read_stretch(days, text, weekdays, s, why, size);
}

static bool covers(const struct ab_days *days, const struct stretch *s, int i)
{
	int weeks = s->other ? (i - s->anchor + 4 * WEEK) / WEEK : 0;
	if (weeks % 2 != 0)
		return false;
	int d = s->week ? weekday(days, i) : i;
	return s->from <= s->to ? d >= s->from && d <= s->to : d >= s->from || d <= s->to;
}

static void mark(struct ab_days *days, const struct stretch *s, enum ab_day_kind kind)
{
	for (int i = 0; i < AB_CALENDAR_DAYS; i++)
		if (covers(days, s, i) && days->day[i] != AB_DAY_AWAY) {
			days->day[i] = kind;
			days->own_hour[i] = kind == AB_DAY_FREE ? s->hour : (double)NAN;
		}
}

/* What parts one stretch from the next: a sign, or "and". *next: where that is over. */
static size_t part_length(const char *text, size_t *next)
{
	size_t len = 0;
	while (text[len] != '\0' && strchr(",;+&", text[len]) == NULL && strncmp(text + len, " and ", 5) != 0)
		len++;
	*next = len + (text[len] == ' ' ? 5 : text[len] != '\0');
	return len;
}

static bool mark_all(
    struct ab_days *days, const char *text, bool weekdays, enum ab_day_kind kind, char *why, size_t size)
{
	size_t found = 0;
	while (*text != '\0') {
		char part[PART];
		struct stretch s = { .week = false, .hour = (double)NAN };
		size_t next, len = part_length(text, &next), lead = strspn(text, " \t\n"),
			     n = len < lead ? 0 : len - lead;
		n = n < sizeof part ? n : sizeof part - 1;
		memcpy(part, text + lead, n);
		while (n > 0 && strchr(" \t\n", part[n - 1]) != NULL)
			n--;
		part[n] = '\0';
		text += next;
		if (n == 0)
			continue;
		if (!read_part(days, part, weekdays, &s, why, size))
			return false;
		mark(days, &s, s.taken ? AB_DAY_HOME : kind);
		found++;
	}
	if (found == 0)
		snprintf(why, size, "no day is named");
	return found > 0;
}

bool ab_days_free(struct ab_days *days, const char *text, bool told, char *why, size_t size)
{
	for (int i = 0; !told && i < AB_CALENDAR_DAYS; i++)
		if (days->day[i] == AB_DAY_FREE)
			days->day[i] = AB_DAY_HOME;
	return mark_all(days, text, true, AB_DAY_FREE, why, size);
}

bool ab_days_away(struct ab_days *days, const char *text, char *why, size_t size)
{
	return mark_all(days, text, false, AB_DAY_AWAY, why, size);
}

double ab_days_hour(const char *text)
{
	int hour = -1, minute = 0, end = 0;
	text += strspn(text, " ");
	if (sscanf(text, "%2d:%2d%n", &hour, &minute, &end) < 2) {
		minute = end = 0;
		if (sscanf(text, "%2d%n", &hour, &end) < 1)
			return (double)NAN;
	}
	bool good = strspn(text, "0123456789:") == strlen(text) && text[end] == '\0' && hour >= 0 && hour < 24 &&
	    minute >= 0 && minute < 60;
	return good ? hour + minute / 60.0 : (double)NAN;
}
