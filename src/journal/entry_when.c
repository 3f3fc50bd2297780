/* entry_when.c - when it happened, in the words before or behind what happened
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/spelled.h"
#include "base/str.h"

enum { DAY = 86400, HOUR = 3600, MINUTE = 60, WEEK = 7, THURSDAY = 4, NOON = 12, SOON = 30 * MINUTE, TEXT = 40 };

/* What has been said of a moment so far. vague: it may be of two days. late: after noon, early: before, whatever
 * the clock face shows. open: of a day that only the brewer knows; unpitched: counted from a pitching nobody told.
 */
struct moment {
	bool day, clock, vague, today, late, early, open, unpitched;
	double day_s, clock_s;
	struct ab_when exact;
};

static double midnight(const struct ab_when *now)
{
	int y, m, d;

	ab_when_to_civil(now->s, &y, &m, &d);
	return ab_when_from_civil(y, m, d);
}

static bool is(const struct sentence *s, size_t at, const char *phrases, size_t *n)
{
	bool empty;

	*n = at < s->n ? entry_one_of(s, at, phrases, &empty) : 0;
	return *n > 0;
}

/* "18:30", "6:30pm", "6pm", "18h": seconds into the day. *half: 1 am, 2 pm, 0 not said. A bare number is no hour. */
static bool clock_of(const char *word, double *seconds, int *half, bool *whole)
{
	int hour = 0, minute = 0, n = 0;
	size_t digits = strspn(word, "0123456789");

	*half = 0;
	*whole = false;
	if (digits < 1 || digits > 2)
		return false;
	sscanf(word, "%2d", &hour);
	const char *rest = word + digits;
	*whole = *rest == ':' && strspn(rest + 1, "0123456789") == 2 && sscanf(rest, ":%2d%n", &minute, &n) == 1;
	rest += *whole ? n : 0;
	*half = ab_word_cmp(rest, "am") == 0 || ab_word_cmp(rest, "a.m") == 0 ? 1
	    : ab_word_cmp(rest, "pm") == 0 || ab_word_cmp(rest, "p.m") == 0   ? 2
									      : 0;
	if (*half == 0 && *rest != '\0' && !(ab_word_cmp(rest, "h") == 0 && *whole))
		return false;
	*seconds = hour * HOUR + minute * MINUTE;
	return minute < 60 && hour < 24;
}

/* "9 in the morning", "7 this evening": which half of the day it was; the words taken, of those that tell the day,
 * too, none. */
static size_t take_part_of_day(const struct sentence *s, size_t at, double seconds, int *half)
{
	size_t n;

	/* "12 at night" is of which day? */
	if (seconds < HOUR || seconds >= 13 * HOUR || (seconds >= 12 * HOUR && is(s, at, "at night", &n)))
		return 0;
	if (is(s, at, "in the morning|of the morning", &n))
		*half = 1;
	else if (is(s, at, "in the afternoon|in the evening", &n))
		*half = 2;
	else if (is(s, at, "at night", &n))
		*half = seconds < 6 * HOUR ? 1 : 2;
	else {
		bool early = is(s, at, "this morning|yesterday morning", &n),
		     late =
			 is(s, at, "this afternoon|this evening|tonight|yesterday afternoon|yesterday evening", &n);
		*half = early ? 1 : late ? 2 : 0;
		return 0;
	}
	return n;
}

/* With "pm" or "h" in the word or behind it. */
static size_t take_clock(const struct sentence *s, size_t at, struct moment *m)
{
	double seconds = 0;
	int half = 0;
	bool whole = false;
	size_t n = 1, more;

	if (is(s, at, "noon", &n)) {
		m->clock = true;
		m->clock_s = NOON * HOUR;
		return n;
	}
	n = 1;
	if (at >= s->n || !clock_of(s->word[at], &seconds, &half, &whole))
		return 0;
	if (half == 0 && is(s, at + 1, "am|a.m|a.m.", &more))
		half = 1, n += more;
	else if (half == 0 && is(s, at + 1, "pm|p.m|p.m.", &more))
		half = 2, n += more;
	else if (half == 0 && whole && is(s, at + 1, "h|hrs|hours|o'clock", &more))
		n += more;
	else if (half == 0 && is(s, at + 1, "o'clock", &more))
		whole = true, n += more;
	if (half == 0)
		n += take_part_of_day(s, at + n, seconds, &half);
	/* "this morning at 7", "last night at 11": the day told which half; 12 may be either. */
	if (half == 0 && !whole && (m->early || m->late) && at > 0 && is(s, at - 1, "at|by", &more) &&
	    seconds < 12 * HOUR)
		half = m->early || (m->vague && seconds < 6 * HOUR) ? 1 : 2;
	if (half == 0 && !whole)
		return 0;
	if (half > 0 && (seconds < HOUR || seconds >= 13 * HOUR))
		return 0;
	seconds = half > 0 && seconds >= 12 * HOUR ? seconds - 12 * HOUR : seconds;
	m->clock = true;
	m->clock_s = seconds + (half == 2 ? 12 * HOUR : 0);
	return n;
}

/* Sunday 0; 1970-01-01 was a Thursday. */
static int weekday_of(double midnight_s)
{
	double d = floor(midnight_s / DAY) + THURSDAY;

	return (int)(d - WEEK * floor(d / WEEK));
}

static size_t take_weekday(const struct sentence *s, size_t at, const struct ab_when *now, struct moment *m)
{
	static const char *const names[] = { "sunday|sun", "monday|mon", "tuesday|tue|tues", "wednesday|wed",
		"thursday|thu|thur|thurs", "friday|fri", "saturday|sat" };
	size_t lead, n;

	lead = is(s, at, "last|on|this", &n) ? n : 0;
	for (int i = 0; i < WEEK; i++)
		if (is(s, at + lead, names[i], &n)) {
			int back = (weekday_of(midnight(now)) - i + WEEK) % WEEK;
			m->day = true;
			/* Today, or a week ago? The brewer will say. */
			m->vague = m->vague || back == 0;
			m->today = back == 0;
			m->day_s = midnight(now) - back * DAY;
			return lead + n;
		}
	return 0;
}

/* "2 days ago", "an hour ago", "a week ago". */
static size_t take_ago(const struct sentence *s, size_t at, const struct ab_when *now, struct moment *m)
{
	static const struct entry_slot span = { ENTRY_QUANTITY, "", "", AB_DIM_TIME, NULL, NULL, 0, 0, NULL };
	struct ab_quantity q;
	const char *value;
	char why[300];
	size_t n = entry_value(s, &span, at, &value), more;

	if (n == 0 || !is(s, at + n, "ago|earlier|before", &more) ||
	    !ab_quantity_read(value, AB_DIM_TIME, &q, why, sizeof why))
		return 0;
	if (q.value < DAY) {
		m->exact = (struct ab_when){ .known = true, .s = floor((now->s - q.value) / MINUTE) * MINUTE };
	} else {
		m->day = true;
		m->day_s = midnight(now) - floor(q.value / DAY + 0.5) * DAY;
	}
	return n + more;
}

static size_t take_day(const struct sentence *s, size_t at, const struct ab_when *now, struct moment *m)
{
	static const struct { const char *said; int back; bool vague, late, early; } rows[] = {
	    { "today", 0, false, false, false }, { "this morning", 0, false, false, true },
		{ "this afternoon|this evening|tonight", 0, false, true, false },
		{ "yesterday afternoon|yesterday evening", 1, false, true, false },
		{ "yesterday morning", 1, false, false, true }, { "yesterday", 1, false, false, false },
		{ "the day before yesterday|day before yesterday", 2, false, false, false },
		{ "last night", 1, true, true, false } };
	struct ab_when date;
	char why[200];
	size_t n;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (is(s, at, rows[i].said, &n)) {
			m->day = true;
			m->vague = rows[i].vague;
			m->late = rows[i].late;
			m->early = rows[i].early;
			m->today = rows[i].back == 0;
			m->day_s = midnight(now) - rows[i].back * DAY;
			return n;
		}
	if (is(s, at,
		"next morning|the next morning|next day|the next day|the morning after|the day after|next "
		"evening|the next evening",
		&n)) {
		m->day = m->vague = m->open = true;
		m->day_s = midnight(now);
		return n;
	}
	if (is(s, at, "now|just now|right now", &n)) {
		m->exact = *now;
		return n;
	}
	if (at < s->n && ab_when_read(s->word[at], &date, why, sizeof why)) {
		if (date.relative || !date.date_only)
			m->exact = date;
		else
			m->day = true, m->day_s = date.s - NOON * HOUR;
		return 1;
	}
	return 0;
}

/* "on day 4", "day 10", "3 days after pitching": the day of pitching is day 0, as on the sheet. */
static size_t take_from_pitching(const struct sentence *s, size_t at, struct moment *m)
{
	static const struct entry_slot span = { ENTRY_QUANTITY, "", "", AB_DIM_TIME, NULL, NULL, 0, 0, NULL };
	static const char after[] =
	    "after pitching|after pitch|after the pitch|after pitching the yeast|after the yeast went in|after "
	    "yeast went in|post pitch|from pitching|since pitching";
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;
	struct ab_quantity q;
	const char *value;
	char why[300];
	double days = -1;
	size_t n = 0, more;

	if (is(s, at, "day", &more) && at + 1 < s->n && strlen(s->word[at + 1]) <= 3 &&
	    strspn(s->word[at + 1], "0123456789") == strlen(s->word[at + 1])) {
		n = 2;
		days = atof(s->word[at + 1]);
	} else if ((n = entry_value(s, &span, at, &value)) > 0) {
		if (!is(s, at + n, after, &more) || !ab_quantity_read(value, AB_DIM_TIME, &q, why, sizeof why))
			return 0;
		n += more;
		days = q.value < DAY ? -1 : floor(q.value / DAY + 0.5);
		m->exact =
		    days >= 0 || pitched == NULL || !pitched->known || pitched->relative || pitched->date_only
		    ? m->exact
		    : (struct ab_when){ .known = true, .s = floor((pitched->s + q.value) / MINUTE) * MINUTE };
	}
	if (n == 0 || m->exact.known)
		return n;
	m->day = true;
	m->unpitched = pitched == NULL || !pitched->known || pitched->relative || days < 0;
	m->day_s = m->unpitched ? 0 : midnight(pitched) + days * DAY;
	return n;
}

static size_t take_any(const struct sentence *s, size_t at, const struct ab_when *now, struct moment *m)
{
	size_t n = 0;

	if (!m->day && !m->exact.known)
		n = take_day(s, at, now, m);
	if (n == 0 && !m->day && !m->exact.known)
		n = take_from_pitching(s, at, m);
	if (n == 0 && !m->day && !m->exact.known)
		n = take_ago(s, at, now, m);
	if (n == 0 && !m->day && !m->exact.known)
		n = take_weekday(s, at, now, m);
	return n == 0 && !m->clock && !m->exact.known ? take_clock(s, at, m) : n;
}

/* Which moment it is, or why that is not plain. */
static const char *settle(
    const struct sentence *s, const struct ab_when *now, struct moment *m, const char *said, struct ab_when *out)
{
	char day[TEXT], before[TEXT];
	double day_s = m->day ? m->day_s : midnight(now), s_ = day_s + m->clock_s;
	struct ab_when date = { .known = true, .date_only = true, .s = day_s + NOON * HOUR }, last = date;

	if (m->exact.known) {
		*out = m->exact;
		return NULL;
	}
	if (m->unpitched)
		return ab_arena_printf(s->arena,
		    "\"%.40s\" is counted from the day the yeast went in, and the journal has not told it; "
		    "write the day, like \"%s ...\"",
		    said, ab_when_write(now, day, sizeof day));
	/* "last night 1:30" was after midnight, "this evening 8:30" is no morning. */
	if (m->late && m->clock && m->clock_s < (m->vague ? 6 : 0) * HOUR)
		s_ += DAY;
	else if (m->late && m->clock && m->clock_s < NOON * HOUR)
		s_ += NOON * HOUR;
	last.s -= m->today || !m->day ? (m->day ? WEEK : 1) * DAY : 0;
	if (m->open || (m->vague && !(m->clock && !m->today)))
		return ab_arena_printf(s->arena,
		    "\"%.40s\": on which day? Write it, with its hour or without, like \"%s ...\" or \"%s 21:00 ...\"",
		    said, ab_when_write(&last, before, sizeof before), ab_when_write(&date, day, sizeof day));
	if (m->clock && !m->day && s_ > now->s + SOON)
		return ab_arena_printf(s->arena,
		    "\"%.40s\" of today is still to come; write \"yesterday %.40s ...\" if it was then, or "
		    "\"today %.40s ...\"",
		    said, said, said);
	*out = m->clock ? (struct ab_when){ .known = true, .s = s_ } : date;
	return NULL;
}

/* The line says when, and so does what was given beside it (--at): of two that differ nobody knows which is right.
 * A day without its hour is that of the moment given when it is the same; "now" says nothing more. */
static const char *against_given(const struct sentence *s, const char *said, struct ab_when *out)
{
	const struct ab_when *given = s->help->given;
	char text[TEXT];
	bool same = out->date_only && !out->relative && given->known && !given->relative &&
	    midnight(out) == midnight(given);

	const char *why = same
	    ? NULL
	    : ab_arena_printf(s->arena,
		  "\"%.40s\" and --at %s both say when it happened; leave one of them out, or say all of it in one "
		  "place, like \"day 5 18:30 gravity 1.020\"",
		  said, ab_when_write(given, text, sizeof text));
	*out = same ? *given : *out;
	return same || why != NULL ? why : "";
}

size_t entry_when_at(const struct sentence *s, size_t at, struct ab_when *out, const char **why)
{
	const struct ab_when *now = s->help != NULL ? s->help->now : NULL;
	struct moment m = { 0 };
	size_t from = at, n, filler;

	*why = NULL;
	if (now == NULL || !now->known)
		return 0;
	for (;;) {
		filler = is(s, at, "at|on|since", &n) ? n : 0;
		n = take_any(s, at, now, &m);
		if (n == 0 && filler > 0 && (n = take_any(s, at + filler, now, &m)) > 0)
			n += filler;
		if (n == 0)
			break;
		at += n;
	}
	if (at == from)
		return 0;
	const char *said = entry_joined(s, from, at - from);
	/* What is told now happened at the moment given. */
	if (s->help->given != NULL && m.exact.known && !m.exact.relative && m.exact.s == now->s)
		return 0;
	*why = said == NULL ? "" : settle(s, now, &m, said, out);
	if (*why == NULL && s->help->given != NULL)
		*why = against_given(s, said, out);
	return at - from;
}
