/* calendar_touches.c - the touches of one batch or several on paper: when, how long, what waits, what falls together
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/calendaring.h"

#include <math.h>

enum { HOUR = 3600, MINUTE = 60, DAY = 86400, HOUR_MINUTES = 60, COLUMNS = 4 };

static const char *when(struct page *p, const struct calendar_row *r)
{
	double minutes = round((r->begins_s - DAY * floor(r->begins_s / DAY)) / MINUTE);
	return page_text(p, "%s%s %02d:%02d", r->t->pressed ? "! " : "", calendar_day(p, r->begins_s),
	    (int)minutes / HOUR_MINUTES, (int)minutes % HOUR_MINUTES);
}

static const char *may_wait(struct page *p, const struct ab_calendar_touch *t)
{
	if (t->overdue)
		return page_text(p, "overdue since %s", say_date(p, t->latest_s));
	if (t->due == NULL)
		return "all else moves along";
	if (t->waiting)
		return page_text(p, "due since %s", say_date(p, t->due_s)); /* until when: where it is said what is
									       next */
	return t->latest_s > t->day_s ? page_text(p, "to %s", say_date(p, t->latest_s)) : "no";
}

/* A batch's name only where there are several; a column of its own would leave no room for the rest. */
void calendar_table(struct page *p, const struct calendar_row *rows, size_t n_rows, bool several)
{
	const char **cells = p->bad ? NULL : ab_arena_alloc(p->arena, COLUMNS * (n_rows + 1), sizeof *cells);
	static const char *const heads[] = { "when", "what", "your time", "may wait" };
	size_t n = 0;
	if (cells == NULL) {
		p->bad = true;
		return;
	}
	for (size_t k = 0; k < COLUMNS; k++)
		cells[n++] = heads[k];
	for (size_t i = 0; i < n_rows; i++) {
		const struct calendar_row *r = &rows[i];
		cells[n++] = when(p, r);
		cells[n++] = several ? page_text(p, "%s: %s", r->of->name, r->t->touch->title) : r->t->touch->title;
		cells[n++] = say_minutes(p, r->t->takes->minutes);
		cells[n++] = may_wait(p, r->t);
	}
	page_section(p, "Every touch");
	page_table(p, 2, "lxll", true, cells, n_rows + 1);
}

/* ---- what falls together ---- */

static bool of_several(const struct calendar_row *rows, size_t n)
{
	for (size_t i = 1; i < n; i++)
		if (rows[i].of != rows[0].of)
			return true;
	return false;
}

static void say_together(struct page *p, const struct calendar_row *rows, size_t n)
{
	double minutes = 0;
	bool pressed = false;
	page_item(p, 2, "*", PLAIN);
	page_say(p, PLAIN, page_text(p, "%s: ", calendar_day(p, rows[0].t->day_s)));
	for (size_t i = 0; i < n; i++) {
		minutes += rows[i].t->takes->minutes;
		pressed = pressed || rows[i].t->pressed;
		page_say(p, PLAIN,
		    page_text(p, "%s%s %s", i == 0 ? "" : ", ", rows[i].of->name, rows[i].t->touch->title));
	}
	page_say(p, PLAIN, page_text(p, "; %s together.", say_minutes(p, minutes)));
	if (pressed)
		page_say(p, BAD, " That is more than the day has: what may wait, let it wait.");
	page_end(p);
}

void calendar_clashes(struct page *p, const struct calendar_row *rows, size_t n_rows)
{
	bool said = false;
	for (size_t i = 0, n; i < n_rows; i += n) {
		for (n = 1; i + n < n_rows && rows[i + n].t->day_s == rows[i].t->day_s; n++)
			;
		if (!of_several(&rows[i], n))
			continue;
		if (!said)
			page_section(p, "Two batches on one day");
		said = true;
		say_together(p, &rows[i], n);
	}
}

/* ---- time ---- */

static void say_alone(struct page *p, const struct ab_calendar_of *of, bool several)
{
	const struct ab_calendar *c = of->plan->calendar;
	if (c->quiet >= c->n)
		return;
	page_point(p, 2, "*", PLAIN, page_text(p, "%s%songest alone: %s from %s; it may safely be %s, if \"%s\" waits.",
	    several ? page_text(p, "%s: ", of->name) : "", several ? "l" : "L",
	    say_count(p, (size_t)c->quiet_days, "day", "days"), calendar_day(p, c->quiet_s),
	    say_count(p, (size_t)c->quiet_most_days, "day", "days"), c->touches[c->quiet].touch->title));
}

void calendar_time(struct page *p, const struct ab_calendar_of *of, size_t n)
{
	double minutes = 0, low = 0, high = 0, upkeep = 0;
	size_t touches = 0;
	bool begun = true;
	for (size_t i = 0; i < n; i++) {
		const struct ab_calendar *c = of[i].plan->calendar;
		minutes += c->minutes;
		low += c->low;
		high += c->high;
		upkeep += c->upkeep_minutes;
		touches += c->n;
		begun = begun && c->begun;
	}
	page_section(p, "Your time");
	page_point(p, 2, "*", PLAIN, page_text(p, "%s %s (%s to %s), in %s. %s",
	    begun ? "Still" : "In all", say_minutes(p, minutes), say_minutes(p, low), say_minutes(p, high),
	    say_count(p, touches, "touch", "touches"), say_words(p, "Minutes are estimates for some 20 L by hand.")));
	if (upkeep > 0)
		page_point(p, 2, "*", PLAIN, page_text(p, "Upkeep, in that: %s of cleaning. Where it falls away, whole "
		    "batches spoil.", say_minutes(p, upkeep)));
	for (size_t i = 0; i < n; i++)
		say_alone(p, &of[i], n > 1);
}

/* ---- how ---- */

static bool told_before(const struct calendar_row *rows, size_t i)
{
	for (size_t j = 0; j < i; j++)
		if (rows[j].t->touch == rows[i].t->touch)
			return true;
	return false;
}

/* The sugar for each batch that is to be packaged. */
static void say_sugar(struct page *p, const struct calendar_row *rows, size_t n_rows, const struct ab_touch *package)
{
	for (size_t i = 0; i < n_rows; i++) {
		const char *sugar = rows[i].t->touch != package ? "" : report_priming(p, &rows[i].of->plan->priming);
		if (sugar[0] != '\0')
			page_para(p, 4, rows[i].of->plan->priming.why == AB_PRIMING_READY ? LOUD : PLAIN,
			    page_text(p, "%s: %s", rows[i].of->name, report_named(p, sugar, rows[i].of->name)));
	}
}

/* Each touch once, however many batches ask for it. */
void calendar_how(struct page *p, const struct calendar_row *rows, size_t n_rows)
{
	page_section(p, "What to do, and what waiting does");
	for (size_t i = 0; i < n_rows; i++) {
		const struct ab_touch *t = rows[i].t->touch;
		if (told_before(rows, i))
			continue;
		page_item(p, 2, "*", PLAIN);
		page_say(p, LOUD, t->title);
		page_say(p, PLAIN, t->how == NULL ? "" : page_text(p, ": %s", say_words(p, t->how)));
		page_say(p, QUIET, t->waiting == NULL ? "" : page_text(p, " %s", say_words(p, t->waiting)));
		if (rows[i].of->plan->batch != NULL && rows[i].t->tell != NULL)
			page_say(p, PLAIN,
			    page_text(
				p, " Write it down, like %s", report_tell(p, rows[i].t->tell, rows[i].of->name)));
		page_end(p);
		if (t->shown == AB_SHOWN_PACKAGE)
			say_sugar(p, rows, n_rows, t);
		if (t->caution != NULL)
			page_para(p, 4, CAREFUL, page_text(p, "Take care: %s", say_words(p, t->caution)));
	}
}
