/* tastings_text.c - the tastings of one batch, one after the other: how it came on over the weeks, and bottles with a
 * mark beside the others
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>
#include <stdlib.h>

#include "report/saying.h"

static const double DAY_S = 86400;

/* As it was written, "buttery"; an id, which "afterboil taste" writes, by the fault's name. */
static const char *fault_words(struct page *p, const struct ab_knowledge *k, const char *word)
{
	int fault = ab_fault_find(k, word);

	return fault < 0 ? word : say_lower(p, k->faults[fault].title);
}

/* What one tasting found: "fruity 2, buttery". */
static const char *found_in(struct page *p, const struct ab_knowledge *k, const struct ab_tasting *t)
{
	const char *all = "";

	for (AB_EACH(const struct ab_found, f, t->found))
		all = page_text(p, "%s%s%s%s%s", all, all[0] != '\0' ? ", " : "", fault_words(p, k, f->fault),
		    f->intensity.known ? " " : "", f->intensity.known ? say_short(p, f->intensity.v, 1) : "");
	return all[0] != '\0' ? all : "nothing wrong";
}

/* ---- over the weeks ---- */

/* Seconds since packaging; NAN where the two dates do not tell. */
static double age_s(const struct ab_batch *b, const struct ab_tasting *t)
{
	const struct ab_package *pack = b->package;
	const struct ab_pitch *pitch = b->pitch;

	if (!t->at.known && t->at.packaged)
		return t->at.s;
	if (pack == NULL || !pack->at.known || !t->at.known)
		return (double)NAN;
	if (pack->at.relative == t->at.relative)
		return t->at.s - pack->at.s;
	if (pitch == NULL || !pitch->at.known || pitch->at.relative)
		return (double)NAN;
	return pack->at.relative ? t->at.s - pitch->at.s - pack->at.s : t->at.s + pitch->at.s - pack->at.s;
}

/* In the order of their days, which reading has made days of the calendar; those without one last. */
struct told { const struct ab_tasting *t; size_t place; };

static int by_time(const void *x, const void *y)
{
	const struct told *a = x, *b = y;

	if (a->t->at.known != b->t->at.known)
		return a->t->at.known ? -1 : 1;
	if (a->t->at.known && a->t->at.s != b->t->at.s)
		return a->t->at.s < b->t->at.s ? -1 : 1;
	return a->place < b->place ? -1 : 1;
}

/* "3 weeks after packaging", "before packaging", a date, or NULL. */
static const char *when_words(struct page *p, const struct ab_batch *b, const struct ab_tasting *t)
{
	double days = floor(age_s(b, t) / DAY_S);

	if (isnan(days))
		return !t->at.known ? NULL : t->at.relative ? page_text(p, "%s after the yeast",
		    say_count(p, (size_t)fmax(t->at.s / DAY_S, 0), "day", "days")) : say_date(p, t->at.s);
	if (days < 0)
		return "before packaging";
	return days < 14 ? page_text(p, "%s after packaging", say_count(p, (size_t)days, "day", "days"))
	    : page_text(p, "%zu weeks after packaging", (size_t)(days / 7 + 0.5));
}

/* Does it tell of time: two tastings, on different days? */
static bool over_time(const struct told *told, size_t n)
{
	while (n > 0 && !told[n - 1].t->at.known)
		n--;
	return n > 1 && told[n - 1].t->at.s - told[0].t->at.s >= DAY_S;
}

static void say_tasting(
    struct page *p, const struct ab_knowledge *k, const struct ab_batch *b, const struct ab_tasting *t)
{
	const char *when = when_words(p, b, t);

	page_begin(p, 2);
	page_say(p, PLAIN, page_text(p, "%s%s%s: %s", when != NULL ? when : "undated", t->by != NULL ? ", " : "",
	    t->by != NULL ? t->by : "", found_in(p, k, t)));
	if (t->score.known && t->score_of.known)
		page_say(p, QUIET,
		    page_text(p, " (%s of %s)", say_short(p, t->score.v, 1), say_short(p, t->score_of.v, 1)));
	page_end(p);
}

void report_tastings(struct page *p, const struct ab_knowledge *k, const struct ab_batch *b)
{
	struct told *told = p->bad ? NULL : ab_arena_alloc(p->arena, b->tastings.n + 1, sizeof *told);
	size_t n = 0;

	p->bad = p->bad || told == NULL;
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (told != NULL && t->mark_on == NULL) {
			told[n] = (struct told){ t, n };
			n++;
		}
	if (n > 1)
		qsort(told, n, sizeof *told, by_time);
	if (!over_time(told, n))
		return;
	page_section(p, "From tasting to tasting");
	for (size_t i = 0; i < n; i++)
		say_tasting(p, k, b, told[i].t);
}

/* ---- marked bottles ---- */

/* With a mark like this one's, or without any mark like it: bottles tasted, and those that had something wrong. */
struct bottles { size_t n, bad; };

static struct bottles bottles_of(const struct ab_batch *b, const struct ab_tasting *like, bool alike)
{
	struct bottles all = { 0, 0 };

	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (ab_same_bottles(t, like) == alike) {
			all.n++;
			all.bad += t->found.n > 0;
		}
	return all;
}

/* Once for each mark that has more of it, with the plain counts and how little they may mean. */
static void say_mark(struct page *p, const struct ab_batch *b, const struct ab_tasting *first)
{
	struct bottles with = bottles_of(b, first, true), without = bottles_of(b, first, false);

	if (with.bad * without.n <= without.bad * with.n)
		return;
	page_point(p, 2, "*", PLAIN,
	    page_text(p,
		"Something wrong in %zu of %zu marked %s, in %zu of %zu of the others. "
		"By chance alone this often: %s.",
		with.bad, with.n, first->mark_on, without.bad, without.n,
		say_percent(p, ab_fisher(with.bad, with.n - with.bad, without.bad, without.n - without.bad))));
}

static bool is_first_of_mark(const struct ab_batch *b, const struct ab_tasting *t)
{
	for (AB_EACH(const struct ab_tasting, other, b->tastings))
		if (ab_same_bottles(other, t))
			return other == t;
	return true;
}

void report_marked_bottles(struct page *p, const struct ab_knowledge *k, const struct ab_batch *b)
{
	bool any = false;

	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		any = any || t->mark_on != NULL;
	if (!any)
		return;
	page_section(p, page_text(p, "Marked bottles of %s", b->id));
	for (AB_EACH(const struct ab_tasting, t, b->tastings)) {
		page_begin(p, 2);
		page_say(p, PLAIN, page_text(p, "%s%s: %s", t->mark_on != NULL ? "marked " : "without a mark",
		    t->mark_on != NULL ? t->mark_on : "", found_in(p, k, t)));
		page_end(p);
	}
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (t->mark_on != NULL && is_first_of_mark(b, t))
			say_mark(p, b, t);
}
