/* trend_revised.c - verdicts looked at again: which suspect of an earlier batch is less likely now, and why
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <afterboil/revise.h>
#include "report/saying.h"

/* Counts first: what it was that spoke. Only then the chances, and who leads now. */
static void say_revision(struct page *p, const struct ab_knowledge *k, const struct ab_revision *r)
{
	const char *cause = k->causes[r->cause].title;
	page_item(p, 2, "*", PLAIN);
	page_say(p, PLAIN, page_text(p, "%s: %s was laid to \"%s\". Since then", r->batch, k->faults[r->fault].title,
	    cause));
	page_say(p, PLAIN, r->acted ? ", with a change made against it," : ",");
	page_say(p, PLAIN, page_text(p, " the fault came in %zu of %s", r->found,
	    say_count(p, r->later, "batch", "batches")));
	if (r->came_without > 0)
		page_say(p, PLAIN,
		    page_text(p, "; in %zu of them that cause should hardly have been there", r->came_without));
	if (r->stayed_away > 0)
		page_say(p, PLAIN,
		    page_text(p, "; in %zu the cause was likely there and the fault was not", r->stayed_away));
	page_say(p, PLAIN, ". ");
	page_say(p, LOUD, page_text(p, "It is now less likely: %s, was %s.", say_percent(p, r->after),
	    say_percent(p, r->before)));
	page_say(p, PLAIN, r->leader < 0
	    ? page_text(p, " Something the rules do not name leads (%s, was %s).", say_percent(p, r->leader_after),
		  say_percent(p, r->leader_before))
	    : page_text(p, " \"%s\" leads now (%s, was %s).", k->causes[r->leader].title,
		  say_percent(p, r->leader_after), say_percent(p, r->leader_before)));
	page_end(p);
}

void report_trend_revisions(struct page *p, const struct ab_knowledge *k, const struct ab_trend *trend)
{
	if (trend->n_revisions == 0)
		return;
	page_section(p, "What looks different now");
	for (size_t i = 0; i < trend->n_revisions; i++)
		say_revision(p, k, &trend->revisions[i]);
	page_para(p, 2, QUIET,
	    "A hint, not a proof: of a hundred such turns in simulated brewers the old verdict was right after "
	    "all in about forty. A habit is taken to stay as it is until a change is noted.");
}
