/* diagnosis_open.c - what a diagnosis leaves open: risks, what to check next, what could not be judged
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/telling.h"

#include <string.h>

#include "report/saying.h"

/* How much of each list fits on one screen; all of it when verbose. */
enum { MOST_RISKS = 3, MOST_ASKS = 2, MOST_UNKNOWN = 4 };

void tell_risks(const struct telling *t)
{
	size_t n = tell_most(t, t->d->n_risks, MOST_RISKS);
	if (n == 0)
		return;
	page_section(t->p,
	    t->d->nothing_found ? "What may show up later, or in another batch"
				: "May be so in this batch, but innocent of what was found");
	for (size_t i = 0; i < n; i++) {
		int cause = t->d->risks[i];
		double p = t->d->present[cause];
		page_item(t->p, 2, "~", QUIET);
		page_say(t->p, PLAIN, t->k->causes[cause].title);
		page_say(t->p, QUIET,
		    page_text(t->p, " (%s: %s)", ab_likely_word(p, p, p), say_percent(t->p, p)));
		page_end(t->p);
	}
}

/* Time, money and waiting, for a check may be cheap and still come too late. */
static const char *cost_of(const struct telling *t, const struct ab_ask *ask)
{
	const char *time =
	    ask->minutes > 0 ? page_text(t->p, "about %s", say_minutes(t->p, ask->minutes))
	    : "only remembering";
	const char *money = ask->cost > 0 ? page_text(t->p, ", %s", say_money(t->p, ask->cost)) : ", free";
	const char *wait = ask->wait_days > 0
	    ? page_text(t->p, ", answer after %s", say_count(t->p, (size_t)(ask->wait_days + 0.5),
	    "day", "days"))
	    : "";
	return page_text(t->p, "%s%s%s", time, money, wait);
}

/* The checks' instructions go along, since "do a forced test" helps nobody who does not know how. */
static void say_ask(const struct telling *t, size_t place, const struct ab_ask *ask)
{
	const struct ab_fact_def *def = ask->is_check ? NULL : &t->k->facts->defs[ask->slot];
	const char *asks = ask->is_check ? NULL : ab_case_asks(t->k, t->c, ask->slot);
	page_item(t->p, 2, page_text(t->p, "%zu.", place), PLAIN);
	page_say(t->p, LOUD,
	    ask->is_check           ? say_words(t->p, t->k->checks[ask->check].title)
		: asks != NULL ? asks
			       : def->title);
	page_say(t->p, QUIET, page_text(t->p, " (%s)", cost_of(t, ask)));
	if (ask->is_check && t->k->checks[ask->check].how != NULL)
		page_say(t->p, PLAIN, page_text(t->p, " %s", say_words(t->p, t->k->checks[ask->check].how)));
	/* a beer without a journal has nowhere to write it */
	if (ask->is_check && t->c->batch->source != NULL)
		page_say(t->p, QUIET,
		    page_text(t->p, " Then log \"check %s yes\" (or no).", t->k->checks[ask->check].id));
	page_end(t->p);
}

void tell_asks(const struct telling *t)
{
	size_t limit = tell_most(t, t->d->n_asks, MOST_ASKS), told = 0;
	page_section(t->p, "What to check next");
	for (size_t i = 0; i < t->d->n_asks && told < limit; i++)
		if (t->p->look->verbose || tell_worth_asking(&t->d->asks[i]))
			say_ask(t, ++told, &t->d->asks[i]);
	if (!tell_asks_matter(t))
		page_para(t->p, 2, PLAIN, "Nothing cheap to find out would change this answer.");
}

/* Said openly, or the causes named would seem to explain it. */
static void say_unexplained(const struct telling *t)
{
	if (t->d->n_unexplained == 0)
		return;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN, "No cause in the rules explains it well: ");
	for (size_t i = 0; i < t->d->n_unexplained; i++)
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s%s", i > 0 ? "; " : "",
			say_lower(t->p, t->k->faults[t->d->unexplained[i]].title)));
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* Do both facts have the same question: that for the size of the batch? */
static bool same_question(const struct telling *t, int a, int b)
{
	const char *one = ab_case_asks(t->k, t->c, a), *other = ab_case_asks(t->k, t->c, b);
	return a == b || (one != NULL && other != NULL && strcmp(one, other) == 0);
}

/* Is the fact asked for above already, or by one of the n before it that are unknown? Asked twice, it is read as a
 * mistake. */
static bool is_asked(const struct telling *t, size_t n, int slot)
{
	size_t limit = tell_most(t, t->d->n_asks, MOST_ASKS), told = 0;
	for (size_t i = 0; i < t->d->n_asks && told < limit; i++) {
		if (!t->p->look->verbose && !tell_worth_asking(&t->d->asks[i]))
			continue;
		told++;
		if (!t->d->asks[i].is_check && same_question(t, t->d->asks[i].slot, slot))
			return true;
	}
	for (size_t i = 0; i < n; i++)
		if (same_question(t, t->d->unknown[i], slot))
			return true;
	return false;
}

/* As the questions they are: a bare title would be a riddle. */
static void say_unknown(const struct telling *t, size_t n)
{
	size_t shown = tell_most(t, n, MOST_UNKNOWN), told = 0, left = 0;
	for (size_t i = 0; i < n; i++)
		left += !is_asked(t, i, t->d->unknown[i]);
	if (left == 0)
		return;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN, "The journal does not say, and it would matter:");
	for (size_t i = 0; i < n && told < shown; i++) {
		const struct ab_fact_def *def = &t->k->facts->defs[t->d->unknown[i]];
		if (is_asked(t, i, t->d->unknown[i]))
			continue;
		told++;
		const char *asks = ab_case_asks(t->k, t->c, t->d->unknown[i]);
		page_say(t->p, PLAIN,
		    asks != NULL ? page_text(t->p, " %s", asks)
				 : page_text(t->p, " %s?", say_capital(t->p, def->title)));
	}
	if (told < left)
		page_say(t->p, PLAIN, page_text(t->p, " And %zu more.", left - told));
	page_end(t->p);
}

bool tell_is_unjudged(const struct ab_warning *w)
{
	return strcmp(w->id, "keg-mixed-gas") == 0;
}

/* Would the fact have mattered? */
static bool is_wanted(const struct telling *t, int slot)
{
	for (size_t i = 0; i < t->d->n_unknown; i++)
		if (t->d->unknown[i] == slot)
			return true;
	return false;
}

/* Told and lost is worse than not told: who wrote it down thinks that it counted. */
static size_t say_lost(const struct telling *t, bool say)
{
	size_t n = 0;
	for (size_t i = 0; i < t->c->n_unreckoned; i++) {
		const struct ab_unreckoned *u = &t->c->unreckoned[i];
		if (u->slot < 0 || !is_wanted(t, u->slot))
			continue;
		n++;
		if (say)
			page_para(t->p, 2, PLAIN,
			    page_text(t->p, "Line %ld tells %s %s, and it could not be reckoned: %s.", u->line,
				u->element, u->attr, u->why));
	}
	return n;
}

void tell_unjudged(const struct telling *t)
{
	size_t warned = 0;
	bool matters = t->p->look->verbose || tell_asks_matter(t);
	size_t n = matters ? t->d->n_unknown : 0, open = 0;
	for (size_t i = 0; i < n; i++)
		open += !is_asked(t, i, t->d->unknown[i]);
	for (size_t i = 0; i < t->d->n_warnings; i++)
		warned += tell_is_unjudged(&t->d->warnings[i]);
	if (open == 0 && t->d->n_unexplained == 0 && warned == 0 && (n == 0 || say_lost(t, false) == 0))
		return;
	page_section(t->p, "What could not be judged");
	for (size_t i = 0; i < t->d->n_warnings; i++)
		if (tell_is_unjudged(&t->d->warnings[i]))
			page_point(t->p, 2, "!", CAREFUL, t->d->warnings[i].text);
	say_unexplained(t);
	say_lost(t, n > 0);
	say_unknown(t, n);
}
