/* calendar_text.c - batches laid out over days, on paper: what is so now, what the plan rests on, and the touches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/calendaring.h"

#include <math.h>
#include <string.h>

#include <afterboil/facts.h>

enum { DAY = 86400, WEEK = 7, THURSDAY = 4 };

const char *calendar_day(struct page *p, double s)
{
	static const char *const names[] = { "Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat" };
	double d = floor(s / DAY) + THURSDAY;
	return page_text(p, "%s %s", names[(int)(d - WEEK * floor(d / WEEK))], say_date(p, s));
}

/* ---- now ---- */

static const char *days_ago(struct page *p, double s, double today_s)
{
	int days = (int)lround((today_s - s) / DAY);
	return days <= 0 ? "today" : days == 1 ? "yesterday" : page_text(p, "%d days ago", days);
}

/* What rests on a day that nobody wrote down says so. */
static const char *say_supposed(struct page *p, double s)
{
	return isnan(s) ? "" : page_text(p, ", if it was pitched on the evening of %s", calendar_day(p, s));
}

static void say_overdue(
    struct page *p, const struct ab_calendar_of *of, const struct ab_calendar_touch *t, double today_s)
{
	page_item(p, 2, "!", BAD);
	page_say(p, BAD, page_text(p, "%s: \"%s\" is overdue: it could wait until %s, %s%s.", of->name, t->touch->title,
	    calendar_day(p, t->latest_s), days_ago(p, t->latest_s, today_s), say_supposed(p, t->supposed_s)));
	if (t->touch->shown == AB_SHOWN_LOOK)
		page_say(p, BAD, page_text(p, " Nothing was read since %s. Go and look today, and write it down "
		    "(afterboil log %s wort 20 C).", say_date(p, of->plan->newest_s), of->name));
	page_end(p);
}

static void say_done(struct page *p, const struct ab_calendar_of *of)
{
	const struct ab_calendar *c = of->plan->calendar;
	size_t n = 0;
	page_item(p, 2, "+", PLAIN);
	page_say(p, PLAIN, page_text(p, "%s: done: ", of->name));
	for (size_t i = 0; i < c->n_past; i++)
		if (c->past[i].state == AB_TOUCH_DONE)
			page_say(p, PLAIN, page_text(p, "%s%s %s", n++ == 0 ? "" : ", ", c->past[i].touch->title,
			    say_date(p, c->past[i].day_s)));
	page_say(p, PLAIN, n == 0 ? "nothing that is written down." : ".");
	page_end(p);
}

static void say_now(struct page *p, const struct ab_calendar_of *of, size_t n, double today_s)
{
	page_section(p, page_text(p, "Now, %s", calendar_day(p, today_s)));
	for (size_t i = 0; i < n; i++)
		for (size_t k = 0; k < of[i].plan->calendar->n; k++)
			if (of[i].plan->calendar->touches[k].overdue)
				say_overdue(p, &of[i], &of[i].plan->calendar->touches[k], today_s);
	for (size_t i = 0; i < n; i++) {
		const struct ab_calendar *c = of[i].plan->calendar;
		int chore;
		size_t next = ab_calendar_first(c, false, &chore);
		if (c->begun)
			say_done(p, &of[i]);
		if (next < c->n)
			page_point(p, 2, "*", PLAIN,
			    page_text(p, "%s: next: %s%s%s, %s%s%s.", of[i].name, c->touches[next].touch->title,
				chore >= 0 ? "; before it: " : "", chore >= 0 ? c->touches[chore].touch->title : "",
				c->touches[next].day_s <= today_s ? "today"
								  : calendar_day(p, c->touches[next].day_s),
				c->touches[next].waiting ? page_text(p, " (due since %s; it can wait until %s)",
							       calendar_day(p, c->touches[next].due_s),
							       calendar_day(p, c->touches[next].latest_s))
							 : "",
				say_supposed(p, c->touches[next].supposed_s)));
	}
}

/* ---- how far it fits ---- */

static void say_later(struct page *p, const struct ab_calendar *c)
{
	page_para(p, 0, BAD, page_text(p, "No schedule has the beer ready by %s. The nearest that keeps to your "
	    "days has its first tasting on %s.", calendar_day(p, c->drink_s), calendar_day(p, c->ready_s)));
	for (size_t i = 0; i < c->n_wanted; i++)
		page_point(p, 2, "*", PLAIN,
		    page_text(p, "%s%s", i == 0 ? "It would do if you had time on " : "and on ",
			calendar_day(p, c->wanted_s[i])));
	if (c->n_wanted == 0)
		page_para(p, 0, PLAIN, "No day you could free would change that: it is the beer that needs the time.");
}

static void say_fit(struct page *p, const struct ab_calendar *c)
{
	if (c->fit == AB_FIT_NONE)
		page_para(p, 0, BAD,
		    "No schedule fits these days, not even with every one of them free: some step would "
		    "have to be done on a day beyond the calendar. Look at the dates given.");
	else if (c->fit == AB_FIT_LATER)
		say_later(p, c);
	else if (c->fit == AB_FIT_PRESSED || c->fit == AB_FIT_AWAY)
		page_para(p, 0, BAD,
		    page_text(p,
			"No schedule fits the days you have%s. The nearest asks for those marked "
			"with !.",
			c->fit == AB_FIT_AWAY ? ", not even if every day at home were free" : ""));
	else if (!isnan(c->drink_s) && !isnan(c->ready_s))
		page_para(p, 0, GOOD,
		    page_text(p, "Wanted on %s: first tasting %s before, the yeast reckoned slow.",
			calendar_day(p, c->drink_s),
			c->drink_s > c->ready_s
			    ? say_count(p, (size_t)lround((c->drink_s - c->ready_s) / DAY), "day", "days")
			    : "on the day, no day"));
	else if (!isnan(c->ready_s))
		page_para(p, 0, GOOD, page_text(p, "First tasting on %s.", calendar_day(p, c->ready_s)));
}

/* ---- what it rests on ---- */

/* Why the pace is not the brewer's own, and what would make it so. */
static const char *not_yours(struct page *p, const struct ab_calendar_pace *pace)
{
	if (pace->tried > 0)
		return page_text(p,
		    "The gravities in your journals cannot tell yours: %s. More, spread from pitching to a "
		    "steady end, would.",
		    ab_curve_refusal_text[pace->refusal]);
	if (pace->others > 0)
		return page_text(p,
		    "%s of this beer %s gravities that tell a pace, but by another yeast; some by this one "
		    "would make it yours.",
		    say_count(p, pace->others, "brew", "brews"), pace->others == 1 ? "has" : "have");
	return "Gravities in your journals would make it yours.";
}

static void say_pace(struct page *p, const struct ab_batchplan *plan)
{
	const struct ab_calendar *c = plan->calendar;
	const char *days = say_short(p, c->slow && c->pace.brews > 0 ? c->pace.slow_primary : c->pace.primary, 1);
	if (c->pace.own)
		page_para(p, 0, PLAIN, page_text(p, "Pace: by this batch's own gravities: %s days to its end%s.", days,
		    c->slow ? " at the slow end" : ""));
	else if (c->pace.brews > 0)
		page_para(p, 0, PLAIN, page_text(p, "Pace: your own gravities, %s of this beer: %s days to its end%s.",
		    say_count(p, c->pace.brews, "brew", "brews"), days, c->slow ? " at the slow end" : ""));
	else
		page_para(p, 0, PLAIN,
		    page_text(p,
			"Pace: an estimate, %s days to the end of fermentation and %s more to "
			"clean up, usual for %s%s%s. %s",
			days, say_short(p, c->pace.clean, 1), plan->yeast->title,
			plan->yeast_from != AB_TAKEN_NOWHERE ? ""
			    : plan->batch == NULL            ? ", which is assumed (--yeast tells)"
							     : ", which is assumed: its journal names no yeast",
			c->slow ? "; towards a day wanted it is reckoned slower" : "", not_yours(p, &c->pace)));
}

/* After packaging the yeast's pace moves nothing. */
static bool has_pace(const struct ab_calendar *c)
{
	for (size_t i = 0; i < c->n; i++)
		if (c->touches[i].due != NULL && c->touches[i].due->pace != AB_PACE_NONE)
			return true;
	return false;
}

/* The journal names a day for the brewing; say so when the plan has another. */
static void say_brew_day(struct page *p, const struct ab_batchplan *plan, double today_s)
{
	const struct ab_calendar *c = plan->calendar;
	double meant =
	    plan->batch == NULL || c->begun || c->n == 0 ? (double)NAN : DAY * floor(plan->batch->brewed.s / DAY);
	if (meant >= today_s && c->touches[0].day_s > meant)
		page_para(p, 0, BAD, page_text(p, "It was meant to be brewed on %s; the days you have put it on %s.",
		    calendar_day(p, meant), calendar_day(p, c->touches[0].day_s)));
	else if (meant < today_s)
		page_para(p, 0, BAD,
		    page_text(p,
			"Its journal says it was brewed on %s, and nothing else: if so, write it down "
			"(afterboil log %s pitched at 19 C --at %s).",
			say_date(p, meant), plan->batch->id, say_date(p, meant)));
}

static const char *taken_from(struct page *p, const struct ab_batchplan *plan, enum ab_taken from)
{
	return from == AB_TAKEN_LAST ? page_text(p, "as last time (%s)", plan->last == NULL ? "" : plan->last->id)
				     : "as usual by your profile";
}

/* What came from elsewhere than its own journal: the brewer should see it, and may say otherwise there. */
static void say_taken(struct page *p, const struct ab_batchplan *plan)
{
	const struct ab_fact_table *defs = ab_fact_defs();
	for (enum ab_taken from = AB_TAKEN_LAST; from <= AB_TAKEN_PROFILE; from++) {
		size_t n = 0;
		const char *text = "";
		if (plan->yeast_from == from)
			text = page_text(p, "%s%syeast (%s)", text, n++ == 0 ? "" : ", ", plan->yeast->title);
		for (size_t i = 0; i < plan->n_taken; i++) {
			const struct ab_taken_fact *t = &plan->taken[i];
			struct ab_fact fact = { .origin = AB_ORIGIN_DERIVED, .value = t->value };
			const struct ab_fact_def *def = &defs->defs[t->slot];
			if (t->from == from)
				text = page_text(p, "%s%s%s (%s%s%s)", text, n++ == 0 ? "" : ", ", def->title,
				    say_value(p, def, &fact), say_unit(p, def)[0] != '\0' ? " " : "", say_unit(p, def));
		}
		if (n > 0)
			page_para(p, 0, PLAIN, page_text(p, "Taken %s: %s.", taken_from(p, plan, from), text));
	}
}

/* A packaged beer that was tasted has no day to reach, and nothing taken from elsewhere moves what is left of it. */
static bool rests_on_something(const struct ab_calendar *c)
{
	return !c->begun || c->fit != AB_FIT_ALL || !isnan(c->ready_s);
}

static void say_batch(struct page *p, const struct ab_calendar_of *of, bool several, double today_s)
{
	if (several && !rests_on_something(of->plan->calendar))
		return;
	if (several)
		page_section(p,
		    of->beer != NULL && strcmp(of->beer, of->name) != 0
			? page_text(p, "%s (%s)", of->name, of->beer)
			: of->name);
	say_brew_day(p, of->plan, today_s);
	say_fit(p, of->plan->calendar);
	if (has_pace(of->plan->calendar))
		say_pace(p, of->plan);
	say_taken(p, of->plan);
}

/* ---- the whole ---- */

static void say_asleep(struct page *p, const struct ab_calendar_words *w)
{
	for (size_t i = 0; i < w->n_asleep; i++)
		page_para(p, 0, QUIET,
		    page_text(p,
			"Left out: %s. Nothing was written of it for over half a year, and it was "
			"neither packaged nor tasted.",
			w->asleep[i]->id));
}

static void say_ahead(struct page *p, const struct ab_calendar_words *w)
{
	for (size_t i = 0; i < w->n_ahead; i++)
		page_para(p, 0, CAREFUL,
		    page_text(p,
			"Left out: %s. It is dated ahead of today, or a tasting of it is: put its day right in "
			"its journal.",
			w->ahead[i]->id));
	if (w->as_of)
		page_para(p, 0, QUIET,
		    page_text(p,
			"Your journals lie ahead of this computer's clock. Planned as of the last day written in "
			"them, %s; --from tells another.",
			calendar_day(p, w->today_s)));
}

/* Before all else, whatever is planned. */
static void say_bursting(struct page *p, const struct ab_calendar_words *w)
{
	if (w->n_bursting > 0)
		page_para(p, 0, BAD,
		    page_text(p, "Take care: %s",
			report_may_burst(p, w->bursting[0], w->bursting + 1, w->n_bursting - 1, 0)));
}

void report_calendar_text(struct page *p, const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w)
{
	size_t n_rows;
	struct calendar_row *rows = report_calendar_rows(of, n, p->arena, &n_rows);
	bool begun = n > 1;
	if (rows == NULL) {
		p->bad = true;
		return;
	}
	for (size_t i = 0; i < n; i++)
		begun = begun || of[i].plan->calendar->begun;
	page_title(p, n > 1 ? page_text(p, "A plan for %zu batches", n) : page_text(p, "A plan for %s", of[0].name));
	say_bursting(p, w);
	say_ahead(p, w);
	if (begun)
		say_now(p, of, n, w->today_s);
	for (size_t i = 0; i < n; i++)
		say_batch(p, &of[i], n > 1, w->today_s);
	if (!w->days_told)
		page_para(p, 0, QUIET,
		    "Any day is taken as free: --free \"sat, sun\" or <week free=\"...\"/> in the profile "
		    "tells which are.");
	say_asleep(p, w);
	if (n_rows == 0)
		return;
	calendar_table(p, rows, n_rows, n > 1);
	calendar_clashes(p, rows, n_rows);
	calendar_time(p, of, n);
	calendar_how(p, rows, n_rows);
	page_gap(p);
	page_para(p, 0, CAREFUL,
	    "The dates are a plan and no proof. Package only when two readings at least three days "
	    "apart agree, whatever the calendar says.");
}
