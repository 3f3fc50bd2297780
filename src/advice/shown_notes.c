/* shown_notes.c - what a note shows as done: one that begins with the words of a touch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/calendar.h>

#include <math.h>
#include <string.h>

#include <afterboil/when.h>
#include "base/spelled.h"
#include "base/str.h"

enum { DAY = 86400 };

static double day_of(double s) { return floor(s / DAY) * DAY; }

/* Those that log writes begin with the hour, "2031-03-12T19:00: "; at is unknown without. */
static const char *words_of(const struct ab_note *n, struct ab_when *at)
{
	const char *text = n->text == NULL ? "" : n->text + strspn(n->text, " \t\r\n");
	const char *colon = strstr(text, ": ");
	char hour[24], why[200];
	size_t len = colon == NULL ? sizeof hour : (size_t)(colon - text);
	*at = (struct ab_when){ .known = false };
	if (len >= sizeof hour)
		return text;
	memcpy(hour, text, len);
	hour[len] = '\0';
	at->known = ab_when_read(hour, at, why, sizeof why) && !at->relative;
	return at->known ? text + len + 2 : text;
}

/* A note has any words: only one that begins with those of the touch is taken for it, for "must get hops out" is a
 * reminder; or with "done" and its name. */
static bool says(const char *text, const struct ab_touch *t)
{
	const char *done = ab_word_begins(text, "done");
	/* "washed bottles? not yet" */
	if (ab_denies(text))
		return false;
	if (done != NULL) {
		done += strspn(done, ": ");
		return ab_word_begins(done, t->title) != NULL || ab_word_begins(done, t->id) != NULL;
	}
	for (size_t i = 0; i < t->n_words; i++)
		if (ab_word_begins(text, t->words[i]) != NULL)
			return true;
	return false;
}

/* The first note of the touch that is not of before since_s; of one without its day: from_s, but no later than
 * today. */
static double noted(const struct ab_shown_of *of, const struct ab_touch *t, double since_s, double from_s)
{
	double first = (double)NAN;
	for (AB_EACH(const struct ab_note, n, of->batch->notes)) {
		struct ab_when at;
		const char *text = words_of(n, &at);
		if (ab_touch_by_note(t->shown) && says(text, t) && !(at.known && day_of(at.s) < since_s))
			first = fmin(first, at.known ? at.s : fmin(from_s, of->today_s));   /* NAN is passed over */
	}
	return first;
}

double ab_shown_noted(const struct ab_shown_of *of, const struct ab_touch *touch, double since_s, double from_s)
{
	double s = noted(of, touch, since_s, from_s);
	return isnan(s) ? s : day_of(s);
}
