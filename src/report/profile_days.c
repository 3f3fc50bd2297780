/* profile_days.c - the days of a profile said back
 *
 * By the four weeks that the words were laid over: a weekday that is free in all of them is one, in some of them it is
 * told with its dates.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/profile_telling.h"

#include <math.h>

enum { DAY = 86400, WEEK = 7, WEEKS = 4, THURSDAY = 4, A_MINUTE = 60 };

/* Monday 0; 1970-01-01 was a Thursday. */
static int weekday_of(const struct ab_days *days, int i)
{
	double d = floor(days->first_s / DAY) + i + THURSDAY - 1;

	return (int)(d - WEEK * floor(d / WEEK));
}

static bool is_free(const struct ab_days *days, int i)
{
	return days->day[i] == AB_DAY_FREE;
}

static const char *hour(struct page *p, double told)
{
	int minutes = (int)lround(told * 60);

	return isnan(told) ? "" : page_text(p, " from %02d:%02d", minutes / 60, minutes % 60);
}

/* The dates of that weekday among the four weeks which are free; all of them: "". */
static const char *which(struct page *p, const struct ab_days *days, int first, size_t *n)
{
	const char *text = "";

	*n = 0;
	for (int i = first; i < WEEKS * WEEK; i += WEEK)
		if (is_free(days, i))
			text = page_text(p, "%s%s%s", text, (*n)++ > 0 ? ", " : "",
			    say_date(p, days->first_s + i * DAY));
	return *n == WEEKS ? "" : page_text(p, " (%s)", text);
}

static const char *free_days(struct page *p, const struct ab_days *days)
{
	static const char *const names[] = { "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday",
		"Sunday" };
	const char *text = "";

	for (int d = 0; d < WEEK; d++)
		for (int i = 0; i < WEEK; i++) {
			size_t n;
			const char *dates = weekday_of(days, i) == d ? which(p, days, i, &n) : NULL;
			int one = i;

			if (dates == NULL || n == 0)
				continue;
			while (!is_free(days, one))
				one += WEEK;
			text = page_text(p, "%s%s%s%s%s", text, text[0] != '\0' ? ", " : "", names[d], dates,
			    hour(p, ab_days_begin(days, one)));
		}
	return text;
}

static void say_free(struct page *p, const struct ab_understood *u)
{
	const struct ab_week *w = u->profile->week;
	const char *text = free_days(p, u->days);

	if (u->days_told)
		told_line(p, w->mark.line, "week", w->mark.guess,
		    text[0] != '\0' ? page_text(p, "days with time: %s", text)
				    : page_text(p, "no day with time in the four weeks from %s on",
					  say_date(p, u->days->first_s)));
	if (w->time_s.known)
		told_line(p, w->mark.line, "week", w->mark.guess,
		    page_text(p, "%s on such a day", say_minutes(p, w->time_s.v / A_MINUTE)));
	if (w->other_s.known || w->other_begins != NULL)
		told_line(p, w->mark.line, "week", w->mark.guess,
		    page_text(p, "%s on any other%s", say_minutes(p, u->days->home_minutes),
			hour(p, u->days->home_hour)));
}

/* The stretches that are not over. */
static void say_away(struct page *p, const struct ab_understood *u)
{
	const struct ab_days *days = u->days;
	const char *text = "";

	for (int i = 0; i < AB_CALENDAR_DAYS; i++) {
		int from = i;

		while (i < AB_CALENDAR_DAYS && days->day[i] == AB_DAY_AWAY)
			i++;
		if (i == from)
			continue;
		text = page_text(p, "%s%s%s", text, text[0] != '\0' ? ", " : "",
		    say_date(p, days->first_s + from * DAY));
		if (i - from > 1)
			text = page_text(p, "%s to %s", text, say_date(p, days->first_s + (i - 1) * DAY));
	}
	told_line(p, ((const struct ab_away *)u->profile->away.items)->mark.line, "away", false,
	    text[0] != '\0' ? page_text(p, "not at home %s", text)
			    : page_text(p, "no day of them is to come, from %s on", say_date(p, days->first_s)));
}

void told_days(struct page *p, const struct ab_understood *u)
{
	if (u->profile->week != NULL)
		say_free(p, u);
	if (u->profile->away.n > 0)
		say_away(p, u);
}
