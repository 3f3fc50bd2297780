/* nextstep_batch.c - what a batch that is there asks for now: care before it, tending, leaving alone, tasting
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/nextstep_telling.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

/* "pale-3, stout-2 and pale-1". */
static const char *danger_names(
    struct page *p, const struct ab_batch *first, const struct ab_batch *const *also, size_t n, size_t more)
{
	const char *names = first->id;

	for (size_t i = 0; i < n; i++)
		names = page_text(p, "%s%s%s", names, i + 1 == n && more == 0 ? " and " : ", ", also[i]->id);
	return more == 0 ? names : page_text(p, "%s and %zu more", names, more);
}

const char *report_may_burst(
    struct page *p, const struct ab_batch *first, const struct ab_batch *const *also, size_t n, size_t more)
{
	return page_text(p,
	    "bottles of %s may burst. Read \"afterboil diagnose --batch %s\" before you touch one. Today: chill them "
	    "all, covered and away from people, with eyes and hands protected. Once they are gone or safe, "
	    "write it down, like "
	    "\"afterboil log %s all drunk\", \"poured them all away\" or \"opened and let off all bottles\".",
	    danger_names(p, first, also, n, more), first->id, first->id);
}

const char *tell_vent(struct page *p, const struct ab_next_step *s)
{
	return page_text(p,
	    "the beer of %s may stand under a high pressure in its keg, cask or can. Read \"afterboil diagnose "
	    "--batch %s\" "
	    "before you open, loosen or warm it. Keep it cold; what is let off goes through the relief valve, a "
	    "little at a time, in a room "
	    "that is aired. Once it is drunk or poured away, write it down, like \"afterboil log %s all drunk\".",
	    danger_names(p, s->batch, s->also, s->n_also, s->n_more), s->batch->id, s->batch->id);
}

/* "Gravity reading on 2031-03-14 (it can wait until 2031-03-16)"; what is overdue is to be done today. */
static const char *due_words(struct page *p, const struct ab_touch_due *due)
{
	const char *if_pitched = isnan(due->supposed_s) ? "" : page_text(p, ", if it was pitched on the evening of %s",
	    say_date(p, due->supposed_s));
	const char *chore = due->chore == NULL ? "" : page_text(p, "; before it, \"%s\"", due->chore->title);
	if (due->overdue)
		return page_text(p, "\"%s\" is overdue since %s%s: do it today%s", due->touch->title,
		    say_date(p, due->latest_s), if_pitched, chore);
	if (due->since_s > 0)
		return page_text(p, "\"%s\" is due since %s%s: your next day for it is %s (it can wait until %s)%s",
		    due->touch->title, say_date(p, due->since_s), if_pitched, say_date(p, due->day_s),
		    say_date(p, due->latest_s), chore);
	return page_text(p,
	    due->latest_s > due->day_s ? "\"%s\" on %s%s (it can wait until %s)%s" : "\"%s\" on %s%s%.0s%s",
	    due->touch->title, say_date(p, due->day_s), if_pitched, say_date(p, due->latest_s), chore);
}

const char *report_named(struct page *p, const char *text, const char *batch)
{
	const char *gap = strstr(text, "BATCH");
	return gap == NULL ? text : page_text(p, "%.*s%s%s", (int)(gap - text), text, batch, gap + strlen("BATCH"));
}

const char *report_tell(struct page *p, const char *tell, const char *batch)
{
	return tell == NULL ? "" : page_text(p, "afterboil %s", report_named(p, say_words(p, tell), batch));
}

/* What is to be done about a beer that hangs or is too warm is more than its name tells. */
static const char *unready_how(struct page *p, const struct ab_touch_due *due)
{
	bool hangs = due->priming != NULL && due->priming->why == AB_PRIMING_POINTS_LEFT &&
	    (due->touch->shown == AB_SHOWN_NONE || due->touch->shown == AB_SHOWN_FORCED);
	bool remedy = hangs || due->touch->shown == AB_SHOWN_COOL;
	return !remedy
	    ? ""
	    : page_text(p, "%s%s%s", say_words(p, due->touch->how), due->touch->caution == NULL ? "" : " ",
		  due->touch->caution == NULL ? "" : due->touch->caution);
}

const char *tell_tend(struct page *p, const struct ab_next_step *s)
{
	if (s->stored_s > 0)
		return page_text(p,
		    "%s: it is written where it is kept, and not that it was packaged. Was it bottled? Then "
		    "write it down with its day, like "
		    "\"afterboil log %s --at %s bottled ...\", with the litres, the sugar and the last gravity: "
		    "what its bottles bear hangs on that. "
		    "If it still stands in the fermenter, \"afterboil calendar\" tells what comes.",
		    s->batch->id, s->batch->id, say_date(p, s->stored_s));
	if (s->due == NULL)
		return page_text(
		    p, "%s is on its way: \"afterboil calendar\" tells what it needs, and when.", s->batch->id);
	const char *tell = report_tell(p, s->due->tell, s->batch->id);
	const struct ab_priming *ready = s->due->priming;
	const char *unready = ready == NULL ? "" : report_unready(p, ready);
	const char *sugar = ready == NULL || s->due->touch->shown == AB_SHOWN_COOL || unready[0] != '\0'
	    ? unready_how(p, s->due)
	    : report_priming(p, ready);
	return page_text(p,
	    s->batch->package == NULL
		? "%s is on its way: %s%s%s.%s%s%s%s%s \"afterboil calendar\" tells all that comes."
		: "%s: %s%s%s.%s%s%s%s%s \"afterboil calendar\" tells all that comes.",
	    s->batch->id, unready, due_words(p, s->due),
	    s->then == NULL ? "" : page_text(p, "; then %s", due_words(p, s->then)), sugar[0] != '\0' ? " " : "",
	    report_named(p, sugar, s->batch->id), tell[0] != '\0' ? " When it is done, write it down, like \"" : "",
	    tell, tell[0] != '\0' ? "\"." : "");
}

const char *tell_benign(const char *title)
{
	static const char nothing[] = "Nothing is wrong: ";
	return strncmp(title, nothing, strlen(nothing)) == 0 ? title + strlen(nothing) : title;
}

const char *tell_wait(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	const struct ab_cause *cause = &k->causes[s->cause];
	const char *next = ab_cause_next(cause, s->facts);
	return page_text(p, "leave %s as it is: %s nothing is wrong with it (%s).%s%s", s->batch->id,
	    ab_likely_word(s->p, s->low, s->high), say_lower(p, tell_benign(cause->title)),
	    next != NULL ? " " : "", next != NULL ? say_words(p, next) : "");
}

const char *tell_taste(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s)
{
	const char *when = s->due == NULL ? "when it is ready"
	    : s->due->overdue
	    ? "now"
	    : page_text(p, "%son %s",
		  s->due->since_s > 0 ? page_text(p, "(due since %s) ", say_date(p, s->due->since_s)) : "",
		  say_date(p, s->due->day_s));
	const char *type = page_text(p, "%s %s, and write it down: \"afterboil taste %s buttery 2, no sour\".",
	    s->batch->id, when, s->batch->id);
	return s->trial == NULL ? type
				: page_text(p,
				      "%s It was brewed with a change on trial (%s): only its taste tells "
				      "whether that helped.",
				      type, ab_changed_title(k, s->trial));
}
