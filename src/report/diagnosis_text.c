/* diagnosis_text.c - one screen that says what most likely went wrong with a batch, why, and what to do
 *
 * The order is that of two brewers over one glass: is it bad at all, what it was, why, what else, what to
 * look at, what to do, what to mind.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/telling.h"

#include <string.h>

#include "report/saying.h"

/* Where "probably" begins (ab_likely_word). */
static const double SURE = 0.6;

/* ---- what was tasted ---- */

/* Lists of a diagnosis are a few numbers long. */
static bool in(const int *list, size_t n, int x)
{
	while (n > 0)
		if (list[--n] == x)
			return true;
	return false;
}

/* Expected traits count as found too: they were tasted. */
size_t tell_n_found(const struct telling *t)
{
	size_t n = 0;
	for (size_t f = 0; f < t->k->n_faults; f++)
		n += t->c->evidence.finding[f].seen == AB_SEEN_FOUND;
	return n;
}

/* Is all that was found gone from the beer by now? */
static bool is_over(const struct telling *t)
{
	for (size_t f = 0; f < t->k->n_faults; f++)
		if (t->c->evidence.finding[f].seen == AB_SEEN_FOUND && !ab_case_gone(t->c, f))
			return false;
	return tell_n_found(t) > 0;
}

/* Repeated first, in the rules' words, so that a word understood wrongly shows at once. */
static void say_tasted(const struct telling *t)
{
	bool feared = t->c->evidence.feared;
	size_t i = 0;
	if (tell_n_found(t) == 0)
		return;
	page_begin(t->p, 0);
	page_say(t->p, PLAIN, feared ? "Feared, not tasted: " : "Found in the glass: ");
	for (size_t f = 0; f < t->k->n_faults; f++) {
		const struct ab_finding *found = &t->c->evidence.finding[f];
		if (found->seen != AB_SEEN_FOUND)
			continue;
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s%s%s%s%s%s", i++ > 0 ? "; " : "", say_lower(t->p, t->k->faults[f].title),
			feared ? "" : ": ", feared ? "" : ab_grade_name(found->grade),
			in(t->d->expected, t->d->n_expected, (int)f) ? " (this beer is meant to have some)" : "",
			ab_case_gone(t->c, f) ? " (gone since)" : ""));
	}
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* ---- what to mind ---- */

/* Warnings of bottles that may burst stand above all else; ids as in casework.h. Only danger to people
 * counts: everything else may wait for its place on the page. */
static bool is_alarm(const struct ab_warning *w)
{
	return strcmp(w->id, "bottle-pressure") == 0 || strcmp(w->id, "bottle-bombs") == 0;
}

/* A cause's caution alone would be a riddle: "vent the jar" needs to be told of what. */
static const char *warning_text(const struct telling *t, const struct ab_warning *w)
{
	int cause = ab_cause_find(t->k, w->id);
	return cause < 0 ? say_working(t->p, w->text) : page_text(t->p, "%s: %s", t->k->causes[cause].title,
	    say_lower(t->p, say_working(t->p, w->text)));
}

/* One alarm: the reckoned pressure and the gushing found ask for the same care, and said twice it would be
 * skipped. */
static void say_alarm(const struct telling *t)
{
	for (size_t i = 0; i < t->d->n_warnings; i++) {
		if (!is_alarm(&t->d->warnings[i]))
			continue;
		page_gap(t->p);
		page_point(t->p, 0, "!", CAREFUL, say_working(t->p, t->d->warnings[i].text));
		page_gap(t->p);
		return;
	}
}

/* Alarms are left out, as they stand above all else already. */
static void say_warnings(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->d->n_warnings; i++) {
		const struct ab_warning *w = &t->d->warnings[i];
		if (is_alarm(w) || tell_is_unjudged(w))
			continue;
		if (told++ == 0)
			page_section(t->p, "Take care");
		page_point(t->p, 2, "!", CAREFUL, warning_text(t, w));
	}
}

/* ---- the whole ---- */

/* Never a clean bill while a process cause is as likely as not, nor while bottles may burst. */
static void say_harmless(const struct telling *t)
{
	double guilt = tell_most_guilt(t);
	if (ab_case_bursting(t->c) != NULL)
		page_para(t->p, 0, PLAIN,
		    "What was tasted may be harmless, the pressure is not: do first what stands above.");
	else if (guilt >= TELL_EVEN)
		page_para(t->p, 0, PLAIN,
		    "Part of what was found is harmless in such a beer, but not all: a cause in the process "
		    "stands among the other suspects.");
	else if (t->d->suspects[0].blame >= SURE && guilt < TELL_LIKELY)
		page_para(t->p, 0, GOOD, "Nothing seems to be wrong with this beer. Change nothing yet.");
	else
		page_para(t->p, 0, GOOD,
		    "Perhaps nothing is wrong with this beer. Change nothing yet; look first at what is listed "
		    "below to check.");
}

static const struct ab_check *check_of_stalls(const struct ab_knowledge *k)
{
	for (size_t i = 0; i < k->n_checks; i++)
		if (k->checks[i].stalls)
			return &k->checks[i];
	return NULL;
}

/* Of a beer still on its way: that it hangs, and that an instrument is checked before a beer is blamed. */
static void say_on_its_way(const struct telling *t)
{
	const char *unready = report_unready(t->p, &t->c->priming);
	const struct ab_check *check = check_of_stalls(t->k);
	if (*unready == '\0')
		return;
	page_begin(t->p, 0);
	page_say(t->p, CAREFUL, say_capital(t->p, unready));
	if (t->c->priming.why == AB_PRIMING_POINTS_LEFT && check != NULL)
		page_say(t->p, PLAIN,
		    page_text(t->p, "Check the instrument before the beer: %s %s", say_lower(t->p, check->title),
			say_words(t->p, check->how)));
	page_end(t->p);
}

/* "Not tasted" and "nothing found" are different news, and only one is good: not where pressure is warned of. */
static void say_first(const struct telling *t)
{
	const struct ab_diagnosis *d = t->d;
	if (is_over(t) && !d->nothing_found && ab_case_bursting(t->c) == NULL)
		page_para(t->p, 0, GOOD,
		    "It is gone from this beer by now: leave the beer as it is. What follows is what made it.");
	else if (d->verdict_benign)
		say_harmless(t);
	else if (d->nothing_found && t->c->tasted)
		page_para(t->p, 0, ab_case_pressed(t->c) ? PLAIN : GOOD,
		    ab_case_pressed(t->c)
			? "No fault was found in this batch. But mind its pressure, which is warned of here, "
			    "before anything else."
			: "No fault was found in this batch. Well brewed: keep doing what you did.");
	else if (d->nothing_found) {
		say_on_its_way(t);
		page_para(t->p, 0, PLAIN,
		    "Not tasted yet, so there is nothing to explain. Taste it and write down what you find; "
		    "what the journal alone tells is below.");
	}
	else if (d->n_suspects == 0)
		page_para(t->p, 0, PLAIN, "None of the causes in the rules fits what was found.");
}

/* Order of the page: danger, what was found, the answer, why, what else, what to do. Who stops reading
 * anywhere has the most important part. */
void report_diagnosis_body(
    struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a)
{
	struct telling t = { p, k, c, c->diagnosis, a };
	say_alarm(&t);
	if (report_on_paper(c)) {
		page_para(p, 0, PLAIN,
		    page_text(p,
			"Not brewed yet: its journal holds what is meant, and nothing that happened. What was "
			"done goes in "
			"with \"afterboil log %s\" on the day, or \"afterboil enter %s\" afterwards.",
			c->batch->id, c->batch->id));
		return;
	}
	say_tasted(&t);
	say_first(&t);
	if (t.d->n_suspects > 0 && !t.d->nothing_found)
		tell_lead(&t);
	report_tastings(p, k, c->batch);
	report_marked_bottles(p, k, c->batch);
	tell_risks(&t);
	if (!t.d->nothing_found) {
		tell_asks(&t);
		tell_cures(&t);
		tell_unjudged(&t);
	}
	say_warnings(&t);
}

void report_diagnosis_text(
    struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a)
{
	report_heading(p, c, "Diagnosis");
	report_diagnosis_body(p, k, c, a);
}

/* The end of an interview: what was asked there is not told again as unknown, and only checks are left to
 * do. */
void report_diagnosis_short(struct page *p, const struct ab_knowledge *k, const struct ab_case *c)
{
	struct ab_diagnosis d = *c->diagnosis;
	struct telling t = { p, k, c, &d, NULL };
	d.asks = p->bad ? NULL : ab_arena_alloc(p->arena, d.n_asks, sizeof *d.asks);
	d.n_asks = 0;
	for (size_t i = 0; d.asks != NULL && i < c->diagnosis->n_asks; i++)
		if (c->diagnosis->asks[i].is_check)
			d.asks[d.n_asks++] = c->diagnosis->asks[i];
	p->bad = p->bad || d.asks == NULL;
	say_alarm(&t);
	say_tasted(&t);
	say_first(&t);
	if (d.n_suspects > 0 && !d.nothing_found)
		tell_lead(&t);
	if (!d.nothing_found) {
		tell_asks(&t);
		tell_cures(&t);
	}
	say_warnings(&t);
}

/* Once after all batches, not once a batch. */
void report_diagnosis_end(struct page *p, const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_advice *a)
{
	const struct ab_next_step *brew = tell_next_brew(a);
	bool spoiled = false, judged = false, journal = false;
	for (size_t i = 0; i < n; i++) {
		judged = judged || !cases[i]->diagnosis->nothing_found;
		journal = journal || cases[i]->batch->source != NULL;   /* not faults named on the command line */
		spoiled = spoiled ||
		    (!cases[i]->diagnosis->nothing_found && !cases[i]->diagnosis->verdict_benign);
	}
	if (!judged)
		return;
	page_gap(p);
	if (spoiled && brew != NULL && n == 1 && tell_begins_here(a, cases[0]->diagnosis) != NULL)
		page_para(p, 0, PLAIN, "Over all your beers the plan begins with that, too (\"afterboil advise\").");
	else if (spoiled && brew != NULL && brew->kind == AB_NEXT_BEGIN)
		page_para(p, 0, PLAIN,
		    page_text(p, "Over all your beers, %s: %s (%s); \"afterboil advise\" tells why.",
			say_lower(p, report_step_lead(p, brew)), k->changes[a->items[brew->item].change].title,
			report_price(p, &a->items[brew->item], REPORT_SHORT)));
	else if (spoiled && brew != NULL)
		page_para(p, 0, PLAIN,
		    page_text(p, "Over all your beers, %s: %s", say_lower(p, report_step_lead(p, brew)),
			report_step_words(p, k, a, brew)));
	else if (spoiled && journal)
		page_para(p, 0, PLAIN, "What to begin with, over all your beers: \"afterboil advise\".");
	if (spoiled && brew == NULL)
		page_para(p, 0, PLAIN,
		    "Most brewers spoil a batch now and then; one batch understood is worth three that just "
		    "came out well.");
	page_para(
	    p, 0, QUIET,
	    "Percentages are estimates from the strengths in the rules, not measured.");
}
