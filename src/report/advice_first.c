/* advice_first.c - what to find out before money is spent: a check, or what a journal does not tell
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include "report/saying.h"

/* As the question that a fact is asked by: a bare title would be a riddle. */
const char *report_ask(struct page *p, const struct ab_knowledge *k, const struct ab_ask *ask)
{
	const struct ab_fact_def *def = ask->is_check ? NULL : &k->facts->defs[ask->slot];

	return def == NULL ? say_words(p, k->checks[ask->check].title) : def->asks != NULL ? def->asks : def->title;
}

const char *report_ask_takes(struct page *p, const struct ab_ask *ask)
{
	return page_text(p, "%s, %s",
	    ask->minutes > 0 || ask->is_check ? page_text(p, "about %s", say_minutes(p, ask->minutes))
					      : "only remembering",
	    ask->cost > 0 ? say_money(p, ask->cost) : "free");
}

/* What one answer does to what is bought. */
static const char *then(struct page *p, const struct ab_knowledge *k, int take, int drop)
{
	if (take < 0 && drop < 0)
		return "buy as planned";
	if (take < 0)
		return page_text(p, "leave out \"%s\"", say_words(p, k->changes[drop].title));
	return drop < 0 ? page_text(p, "buy \"%s\" as well", say_words(p, k->changes[take].title))
			: page_text(p, "buy \"%s\" rather than \"%s\"", say_words(p, k->changes[take].title),
			      say_words(p, k->changes[drop].title));
}

/* An answer as one says it after "if": of a check yes or no, of a fact what it is then. */
static const char *answer(struct page *p, const struct ab_knowledge *k, const struct ab_ask *ask, int i)
{
	if (ask->is_check || ask->question == NULL)
		return i == 0 ? "yes" : "no";
	const struct ab_fact as = { .origin = AB_ORIGIN_MEASURED, .value = ask->answer[i] };
	const struct ab_fact_def *def = &k->facts->defs[ask->weighed];
	if (def->kind != AB_FACT_NUMBER)
		return page_text(p, "\"%s\"", say_figure(p, def, &as));
	return page_text(p, "\"%s\" is %s, like %s%s%s", def->title,
	    ask->answer[i] > ask->answer[1 - i] ? "high" : "low", say_value(p, def, &as),
	    say_unit(p, def)[0] != '\0' ? " " : "", say_unit(p, def));
}

static const char *ahead_words(struct page *p, const struct ab_knowledge *k, const struct ab_ahead *x)
{
	return page_text(p, " If %s (likely %s): %s; if %s: %s. Waiting for the answer takes %s more off.",
	    answer(p, k, x->ask, 0), say_percent(p, x->p_yes), then(p, k, x->take[0], x->drop[0]),
	    answer(p, k, x->ask, 1), then(p, k, x->take[1], x->drop[1]), say_fixed(p, x->worth, 2));
}

/* A beer without a journal has nowhere to write it. */
static const char *written(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_ask *ask)
{
	if (ask->is_check)
		return a->n_batches > 0
		    ? page_text(p, " Then log \"check %s yes\" (or no).", k->checks[ask->check].id)
		    : "";
	return a->ahead.batch != NULL && a->ahead.batch->source != NULL
	    ? page_text(
		  p, " \"afterboil interview %s\" asks it and writes the answer down.", a->ahead.batch->source)
	    : "";
}

/* Before money is spent, since a check that costs nothing may make half of the plan needless. */
void report_first_check(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	const struct ab_ask *ask = a->first_check;

	if (ask == NULL)
		return;
	page_section(p,
	    !a->ahead.first     ? "Check first, before you spend"
		: ask->is_check ? "Spend nothing yet: do this first"
				: "Spend nothing yet: answer this first");
	page_begin(p, 2);
	page_say(p, LOUD, report_ask(p, k, ask));
	page_say(p, QUIET, page_text(p, " (%s)", report_ask_takes(p, ask)));
	if (ask->is_check && k->checks[ask->check].how != NULL)
		page_say(p, PLAIN, page_text(p, " %s", say_words(p, k->checks[ask->check].how)));
	if (a->ahead.first)
		page_say(p, PLAIN, ahead_words(p, k, &a->ahead));
	page_say(p, QUIET, written(p, k, a, ask));
	page_end(p);
}
