/* trend_changes.c - did the changes do it: each change in numbers, beside what was promised of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/trend_telling.h"

#include <math.h>
#include <stdint.h>

#include "report/saying.h"

enum { MOST_CAUSES = 2 };

const char *trend_lighter(const struct telling *t, double by, int digits)
{
	return page_text(t->p, "%s %s", say_fixed(t->p, fabs(by), digits), by < 0 ? "heavier" : "lighter");
}

static const char *lighter(const struct telling *t, double by)
{
	return trend_lighter(t, by, 1);
}

/* A brewer gets better with every batch, change or not: what is said first is what is left when that and the beers'
 * differences are taken out. So few batches that cannot tell the two apart never get a colour; others from nine in
 * ten on. */
static void say_odds(const struct telling *t, const struct ab_trend_change *c)
{
	const struct ab_trend_said said = ab_trend_say(c);
	if (isnan(said.p_better)) {
		page_say(t->p, PLAIN,
		    c->n_after == 0 ? " Nothing tasted since: the question stays open."
				    : " Too few tastings to compare.");
		return;
	}
	page_say(t->p, PLAIN, " ");
	page_say(t->p, said.plain ? PLAIN : said.p_better >= 0.9 ? GOOD : said.p_better <= 0.1 ? BAD : PLAIN,
	    page_text(t->p, "Better with a chance of %s", say_percent(t->p, said.p_better)));
	page_say(t->p, PLAIN,
	    page_text(t->p, "; likely between %s and %s.", lighter(t, said.low), lighter(t, said.high)));
	if (!said.plain)
		page_say(t->p, PLAIN,
		    page_text(t->p,
			" A beer that gets better or worse anyway, batch after batch,%s taken out; as it "
			"stands the chance is %s.",
			c->line == NULL ? " and what differs between your beers are" : " is",
			say_percent(t->p, c->p_better)));
}

/* Said before anything else about certainty: with two changes at once no number of batches helps. */
static void say_needed(const struct telling *t, const struct ab_trend_change *c)
{
	if (c->together)
		page_say(t->p, CAREFUL,
		    " Another change came with the same batch: the two cannot be told apart.");
	if (c->more_needed == 0 || isnan(c->p_better))
		return;
	page_say(t->p, PLAIN,
	    c->more_needed == SIZE_MAX ? " How many more batches would settle it cannot be told yet."
				       : page_text(t->p, " To settle it, if the difference is real: %s more.",
					     say_count(t->p, c->more_needed, "tasted batch",
					     "tasted batches")));
}

/* What came is put beside it, and what to believe of the two together. A whole plan's promise says so: one change alone
 * cannot be held to it. */
static void say_promise(const struct telling *t, const struct ab_trend_change *c)
{
	const struct ab_promise *promise = report_promise(t->promises, t->n_promises, c->id);
	struct ab_learned learned;
	if (promise == NULL)
		return;
	page_say(t->p, PLAIN,
	    page_text(t->p, " Promised when it was advised, %s: from %s to %s.",
		promise->alone ? "by itself" : "with the whole plan", say_fixed(t->p, promise->load_before, 1),
		say_fixed(t->p, promise->load_after, 1)));
	if (!ab_trend_learn_change(c, promise->load_before, promise->load_after, &learned))
		return;
	page_say(t->p, PLAIN, page_text(t->p, " That is %s; your batches say %s, give or take %s; together: %s, "
	    "give or take %s.", lighter(t, learned.prior), lighter(t, learned.data),
	    say_fixed(t->p, learned.data_sd, 1), lighter(t, learned.mean), say_fixed(t->p, learned.sd, 1)));
}

/* The tool's own record, from three on: fewer say nothing about it. */
static void say_record(const struct telling *t)
{
	size_t n = 0, held = 0, less = 0;
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_change *c = &t->trend->changes[i];
		const struct ab_promise *promise = report_promise(t->promises, t->n_promises, c->id);
		struct ab_learned l;
		if (promise == NULL || !ab_trend_learn_change(c, promise->load_before, promise->load_after, &l))
			continue;
		n++;
		held += ab_trend_held(&l);
		less += l.data < l.prior;
	}
	if (n >= 3)
		page_para(t->p, 2, PLAIN, page_text(t->p, "Of %zu promises %zu held as far as so few batches can "
		    "tell (8 in 10 should); %zu brought less than promised.", n, held, less));
}

/* Counts, not percentages: "in 2 of 3" cannot be mistaken for proof. */
static void say_shifts(const struct telling *t, const struct ab_trend_change *c)
{
	size_t n = c->n_faults < TREND_FAULTS || t->p->look->verbose ? c->n_faults : TREND_FAULTS;
	for (size_t i = 0; i < n && c->n_before > 0 && c->n_after > 0; i++) {
		const struct ab_fault_shift *s = &c->faults[i];
		size_t meant = s->before_meant + s->after_meant;
		page_para(t->p, 4, QUIET,
		    page_text(t->p, "%s: a flaw in %zu of %zu before, %zu of %zu after%s",
			t->k->faults[s->fault].title, s->before_with, c->n_before, s->after_with, c->n_after,
			meant == 0 ? ""
				   : page_text(t->p,
					 "; there, but no more than such a beer may have, in %zu before, %zu after",
					 s->before_meant, s->after_meant)));
	}
}

/* In batches' worth of blame: "1.8 of 3", for each batch leaves some doubt. What a benign explanation took is
 * nobody's fault and no change mends it. */
static void say_blamed(const struct telling *t, const struct ab_trend_change *c)
{
	size_t told = 0;
	for (size_t i = 0; i < c->n_causes && c->n_before > 0 && c->n_after > 0; i++) {
		const struct ab_cause_shift *s = &c->causes[i];
		if (t->k->causes[s->cause].benign || (told++ >= MOST_CAUSES && !t->p->look->verbose))
			continue;
		page_para(t->p, 4, QUIET, page_text(t->p, "%s: to blame in %s of %zu before, %s of %zu after",
		    t->k->causes[s->cause].title, say_fixed(t->p, s->before, 1), c->n_before,
		    say_fixed(t->p, s->after, 1), c->n_after));
	}
}

/* Once for all that it is true of. */
static void say_plain(const struct telling *t)
{
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_said said = ab_trend_say(&t->trend->changes[i]);
		if (isnan(said.p_better) || !said.plain)
			continue;
		page_para(t->p, 2, PLAIN,
		    page_text(t->p,
			"Where no drift is taken out (that needs %d tasted batches) a chance proves nothing: a "
			"beer that gets better or worse anyway, batch after batch, would look the same.",
			AB_TREND_DRIFT_LEAST));
		return;
	}
}

void trend_say_changes(const struct telling *t)
{
	if (t->trend->n_changes == 0)
		return;
	page_section(t->p, "Did the changes help?");
	for (size_t i = 0; i < t->trend->n_changes; i++) {
		const struct ab_trend_change *c = &t->trend->changes[i];
		page_item(t->p, 2, "*", PLAIN);
		page_say(t->p, LOUD, ab_change_title(t->k, c->id));
		page_say(t->p, PLAIN,
		    page_text(t->p, ", from %s%s%s.", say_date(t->p, c->date_s),
			c->line == NULL ? ", all lines" : ", line ", c->line == NULL ? "" : c->line));
		page_say(t->p, PLAIN,
		    page_text(t->p, " Mean load %s before (%s), %s after (%s).",
			c->n_before > 0 ? say_fixed(t->p, c->before, 1) : "unknown",
			say_count(t->p, c->n_before, "batch", "batches"),
			c->n_after > 0 ? say_fixed(t->p, c->after, 1) : "unknown",
			say_count(t->p, c->n_after, "batch", "batches")));
		say_odds(t, c);
		say_needed(t, c);
		say_promise(t, c);
		page_end(t->p);
		say_shifts(t, c);
		say_blamed(t, c);
	}
	say_plain(t);
	say_record(t);
}
