/* trend_story.c - a brewer's history in a few sentences: how many beers, what cost most, what each change did, what
 * is open
 *
 * Nothing is said here that does not stand below with its figures; it is for who reads no further.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>

#include "report/saying.h"

enum { LEAST_TASTED = 4, MOST_FAULTS = 3, MOST_CHANGES = 4 };

/* What a story is told of. */
struct story {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_trend_batch *batches;
	size_t n;
	const struct ab_trend *trend;
};

static size_t tasted_of(const struct story *s)
{
	size_t n = 0;

	for (size_t i = 0; i < s->n; i++)
		n += s->batches[i].tasted;
	return n;
}

static size_t with_fault(const struct story *s, int fault)
{
	size_t n = 0;

	for (size_t i = 0; i < s->n; i++)
		n += s->batches[i].tasted && s->batches[i].fault_load[fault] > 0;
	return n;
}

static void say_beers(const struct story *s)
{
	size_t clean = 0, tasted = tasted_of(s);
	const struct ab_trend_batch *worst = NULL;

	for (size_t i = 0; i < s->n; i++) {
		const struct ab_trend_batch *b = &s->batches[i];

		if (!b->tasted)
			continue;
		clean += !(b->load > 0);
		worst = b->load > 0 && (worst == NULL || b->load > worst->load) ? b : worst;
	}
	page_begin(s->p, 2);
	page_say(s->p, PLAIN, page_text(s->p, "%zu beers tasted, %zu without a flaw.", tasted, clean));
	if (worst != NULL)
		page_say(s->p, PLAIN,
		    page_text(s->p, " The heaviest was %s (load %s).", worst->id, say_fixed(s->p, worst->load, 1)));
	for (size_t i = 0; i < s->trend->n_main_faults && i < MOST_FAULTS; i++) {
		int fault = s->trend->main_faults[i];

		page_say(s->p, PLAIN, page_text(s->p, "%s%s (in %zu)", i == 0 ? " What cost most: " : ", ",
		    say_lower(s->p, s->k->faults[fault].title), with_fault(s, fault)));
	}
	page_say(s->p, PLAIN, s->trend->n_main_faults > 0 ? "." : "");
	page_end(s->p);
}

/* What the change is made against and what moved most of it; NULL where none of it showed. */
static const struct ab_cause_shift *meant_by(const struct ab_change *change, const struct ab_trend_change *c)
{
	for (size_t i = 0; i < c->n_causes; i++)
		for (size_t k = 0; k < change->n_prevents; k++)
			if (change->prevents[k].cause == c->causes[i].cause)
				return &c->causes[i];
	return NULL;
}

static const char *verdict_of(struct page *p, const struct ab_trend_change *c)
{
	const struct ab_trend_said said = ab_trend_say(c);

	if (c->n_after == 0)
		return "Nothing tasted since.";
	if (c->together)
		return "Another change came with it: the two cannot be told apart.";
	if (isnan(said.p_better) || said.plain)
		return "Too few batches to tell it from luck.";
	return said.p_better >= 0.9 ? "Very likely it helped."
	    : said.p_better <= 0.1
	    ? "Most likely it got worse."
	    : page_text(p, "Open still: better with a chance of %s.", say_percent(p, said.p_better));
}

/* Numbered as in the figures. */
static void say_change(const struct story *s, size_t i)
{
	const struct ab_trend_change *c = &s->trend->changes[i];
	int place = ab_change_find(s->k, c->id);
	const struct ab_cause_shift *meant = place < 0 ? NULL : meant_by(&s->k->changes[place], c);

	page_item(s->p, 2, page_text(s->p, "%zu.", i + 1), PLAIN);
	page_say(s->p, PLAIN,
	    page_text(s->p, "%s, %s%s%s.", say_date(s->p, c->date_s),
		place < 0 ? c->id : say_lower(s->p, s->k->changes[place].title), c->line == NULL ? "" : ", for ",
		c->line == NULL ? "" : c->line));
	if (c->n_before > 0 && c->n_after > 0 && meant != NULL)
		page_say(s->p, PLAIN,
		    page_text(s->p, " It is made against \"%s\", to blame in %s of %zu before, %s of %zu since.",
			say_lower(s->p, s->k->causes[meant->cause].title), say_fixed(s->p, meant->before, 1),
			c->n_before, say_fixed(s->p, meant->after, 1), c->n_after));
	else if (c->n_before > 0 && c->n_after > 0 && place >= 0)
		page_say(s->p, PLAIN, " What it is made against was to blame neither before nor since.");
	page_say(s->p, PLAIN, page_text(s->p, " %s", verdict_of(s->p, c)));
	page_end(s->p);
}

void report_trend_story(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend)
{
	const struct story s = { p, k, batches, n, trend };
	const struct ab_elimination *e = trend->elimination;
	size_t from = trend->n_changes > MOST_CHANGES ? trend->n_changes - MOST_CHANGES : 0;

	if (tasted_of(&s) < LEAST_TASTED)
		return;
	page_section(p, "In short");
	say_beers(&s);
	for (size_t i = from; i < trend->n_changes; i++)
		say_change(&s, i);
	if (e != NULL)
		page_point(p, 2, "?", PLAIN,
		    page_text(p, "Still coming: %s, in %zu of %zu since %s.",
			say_lower(p, k->faults[e->fault].title), e->with, e->tasted, e->since));
}
