/* calendar_text.c - a batch laid out over days, on paper
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>

#include "report/saying.h"

enum { DAY = 86400, WEEK = 7, THURSDAY = 4, COLUMNS = 4, HOUR_MINUTES = 60 };
/* Where the rules name no hour: the long things begin in the morning, the short ones after work (working estimate). */
enum { MORNING = 10, EVENING = 19, LONG = 60 };

static double begins(const struct ab_calendar_touch *t)
{
	return !isnan(t->hour) ? t->hour : t->takes->minutes >= LONG || t->day == AB_DAY_FREE ? MORNING : EVENING;
}

double report_calendar_hour(const struct ab_calendar *c, size_t i)
{
	double hour = begins(&c->touches[i]);
	for (size_t j = 0; j < i; j++)
		if (c->touches[j].day_s == c->touches[i].day_s)
			hour = fmax(hour, report_calendar_hour(c, j) + c->touches[j].takes->minutes / HOUR_MINUTES);
	return hour;
}

static const char *day_name(struct page *p, double s)
{
	static const char *const names[] = { "Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat" };
	double d = floor(s / DAY) + THURSDAY;
	return page_text(p, "%s %s", names[(int)(d - WEEK * floor(d / WEEK))], say_date(p, s));
}

static const char *takes(struct page *p, double minutes, double low, double high)
{
	return page_text(p, "%s (%s to %s)", say_minutes(p, minutes), say_minutes(p, low), say_minutes(p, high));
}

static void say_fit(struct page *p, const struct ab_calendar *c)
{
	if (c->fit == AB_FIT_LATER) {
		page_para(p, 0, BAD, page_text(p, "No schedule has the beer ready by %s. The nearest that keeps to your "
		    "days has its first tasting on %s.", day_name(p, c->drink_s), day_name(p, c->ready_s)));
		for (size_t i = 0; i < c->n_wanted; i++)
			page_point(p, 2, "*", PLAIN, page_text(p, "%s%s", i == 0 ? "It would do if you had time on " : "and on ",
			    day_name(p, c->wanted_s[i])));
		if (c->n_wanted == 0)
			page_para(p, 0, PLAIN, "No day you could free would change that: it is the beer that needs the time.");
	} else if (c->fit == AB_FIT_PRESSED || c->fit == AB_FIT_AWAY) {
		page_para(p, 0, BAD, page_text(p, "No schedule fits the days you have%s. The nearest asks for those marked "
		    "with !.", c->fit == AB_FIT_AWAY ? ", not even if every day at home were free" : ""));
	} else if (!isnan(c->drink_s)) {
		page_para(p, 0, GOOD, page_text(p, "Wanted on %s: first tasting %s before, the yeast reckoned slow.",
		    day_name(p, c->drink_s), c->drink_s > c->ready_s
		    ? say_count(p, (size_t)lround((c->drink_s - c->ready_s) / DAY), "day", "days") : "on the day, no day"));
	}
}

static void say_pace(struct page *p, const struct ab_calendar *c, const struct ab_calendar_words *w)
{
	const char *days = say_short(p, c->slow && c->pace.brews > 0 ? c->pace.slow_primary : c->pace.primary, 1);
	if (c->pace.brews > 0)
		page_para(p, 0, PLAIN, page_text(p, "Pace: your own gravities, %s of this beer: %s days to its end%s.",
		    say_count(p, c->pace.brews, "brew", "brews"), days, c->slow ? " at the slow end" : ""));
	else
		page_para(p, 0, PLAIN, page_text(p, "Pace: an estimate, %s days to the end of fermentation and %s more to "
		    "clean up, usual for %s%s%s. Gravities in your journals would make it yours.", days,
		    say_short(p, c->pace.clean, 1), w->yeast, w->yeast_assumed ? ", which is assumed (--yeast tells)" : "",
		    c->slow ? "; towards a day wanted it is reckoned slower" : ""));
}

static const char *when(struct page *p, const struct ab_calendar *c, size_t i)
{
	const struct ab_calendar_touch *t = &c->touches[i];
	double minutes = round(report_calendar_hour(c, i) * HOUR_MINUTES);
	return page_text(p, "%s%s %02d:%02d", t->pressed ? "! " : "", day_name(p, t->day_s),
	    (int)minutes / HOUR_MINUTES, (int)minutes % HOUR_MINUTES);
}

static const char *may_wait(struct page *p, const struct ab_calendar_touch *t)
{
	if (t->due == NULL)
		return "all else moves along";
	return t->latest_s > t->day_s ? page_text(p, "to %s", say_date(p, t->latest_s)) : "no";
}

static void say_table(struct page *p, const struct ab_calendar *c)
{
	const char **cells = p->bad ? NULL : ab_arena_alloc(p->arena, COLUMNS * (c->n + 1), sizeof *cells);
	if (cells == NULL) {
		p->bad = true;
		return;
	}
	cells[0] = "when";
	cells[1] = "what";
	cells[2] = "your time";
	cells[3] = "may wait";
	for (size_t i = 0; i < c->n; i++) {
		const char **row = &cells[COLUMNS * (i + 1)];
		row[0] = when(p, c, i);
		row[1] = c->touches[i].touch->title;
		row[2] = say_minutes(p, c->touches[i].takes->minutes);
		row[3] = may_wait(p, &c->touches[i]);
	}
	page_section(p, "Every touch");
	page_table(p, 2, "lxll", true, cells, c->n + 1);
}

static void say_time(struct page *p, const struct ab_calendar *c)
{
	page_section(p, "Your time");
	page_point(p, 2, "*", PLAIN, page_text(p, "In all %s, in %s. Minutes are estimates for some 20 L by hand.",
	    takes(p, c->minutes, c->low, c->high), say_count(p, c->n, "touch", "touches")));
	if (c->upkeep_minutes > 0)
		page_point(p, 2, "*", PLAIN, page_text(p, "Upkeep, in that: %s of cleaning. Where it falls away, whole "
		    "batches spoil.", say_minutes(p, c->upkeep_minutes)));
	if (c->quiet < c->n)
		page_point(p, 2, "*", PLAIN, page_text(p, "Longest alone: %s from %s; it may safely be %s, if \"%s\" waits.",
		    say_count(p, (size_t)c->quiet_days, "day", "days"), day_name(p, c->quiet_s),
		    say_count(p, (size_t)c->quiet_most_days, "day", "days"), c->touches[c->quiet].touch->title));
}

static void say_how(struct page *p, const struct ab_calendar *c)
{
	page_section(p, "What to do, and what waiting does");
	for (size_t i = 0; i < c->n; i++) {
		const struct ab_touch *t = c->touches[i].touch;
		page_item(p, 2, "*", PLAIN);
		page_say(p, LOUD, t->title);
		page_say(p, PLAIN, t->how == NULL ? "" : page_text(p, ": %s", say_words(p, t->how)));
		page_say(p, QUIET, t->waiting == NULL ? "" : page_text(p, " %s", say_words(p, t->waiting)));
		page_end(p);
		if (t->caution != NULL)
			page_para(p, 4, CAREFUL, page_text(p, "Take care: %s", say_words(p, t->caution)));
	}
}

void report_calendar_text(struct page *p, const struct ab_calendar *c, const struct ab_calendar_words *w)
{
	page_title(p, w->beer == NULL ? "A plan for a batch" : page_text(p, "A plan for %s", w->beer));
	if (c->fit == AB_FIT_NONE) {
		page_para(p, 0, BAD, "No schedule fits these days, not even with every one of them free: some step would "
		    "have to be done on a day beyond the calendar. Look at the dates given.");
		return;
	}
	say_fit(p, c);
	say_pace(p, c, w);
	if (!w->days_told)
		page_para(p, 0, QUIET, "Any day is taken as free: --free \"sat, sun\" or <week free=\"...\"/> in the profile "
		    "tells which are.");
	say_table(p, c);
	say_time(p, c);
	say_how(p, c);
	page_gap(p);
	page_para(p, 0, CAREFUL, "The dates are a plan and no proof. Package only when two readings at least three days "
	    "apart agree, whatever the calendar says.");
}
