/* advice_eases.c - what eases the burdens the profile names: lists of their own, for what a flaw weighs against an
 * hour nobody knows
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>

#include "report/json.h"
#include "report/saying.h"

/* Of what eases a burden so many are listed; all for who asks for more. */
enum { MOST = 4 };

/* A caution stands where the change is first told. */
static void say_one(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_eased_by *by, size_t n)
{
	const struct ab_item *item = &a->items[by->item];
	const struct ab_change *change = &k->changes[item->change];

	page_item(p, 1, page_text(p, "%2zu.", n), PLAIN);
	page_say(p, LOUD, say_words(p, change->title));
	page_say(p, PLAIN,
	    page_text(
		p, " (%s). About %s of it.", report_price(p, item, REPORT_IN_FULL), say_percent(p, by->share)));
	page_end(p);
	if (ab_item_caution(k, item) != NULL && by->item != a->next)
		page_point(p, 5, "!", CAREFUL, say_words(p, ab_item_caution(k, item)));
}

/* Free and cheap come first, so what takes most may stand far down: it is always told. */
static size_t most_of(const struct ab_easing *easing)
{
	size_t most = 0;

	for (size_t i = 1; i < easing->n; i++)
		if (easing->by[i].share > easing->by[most].share)
			most = i;
	return most;
}

static size_t list(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_easing *easing)
{
	size_t most = most_of(easing), n = 0;

	for (size_t i = 0; i < easing->n; i++)
		if (i < MOST || i == most || p->look->verbose)
			say_one(p, k, a, &easing->by[i], ++n);
	return easing->n - n;
}

void report_advice_eases(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	for (size_t i = 0; i < a->n_easings; i++) {
		const struct ab_easing *easing = &a->easings[i];

		page_section(p, page_text(p, "What you named: %s", k->chores[easing->chore].title));
		size_t untold = list(p, k, a, easing);
		page_para(p, 1, PLAIN,
		    easing->n == 0
			? "Nothing that eases it is left within your limits and for the way you brew, as far as "
			    "that is told."
			: page_text(p,
			    "By itself each; estimates. No beer tastes of it: it is in no flaw load, and what it "
			    "costs in no sum of the plan.%s",
			    untold > 0 ? page_text(p, " %zu more with --all.", untold) : ""));
	}
}

const char *report_eases(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	const struct ab_easing *easing = a->next_eases;

	for (size_t i = 0; easing != NULL && i < easing->n; i++)
		if (easing->by[i].item == a->next)
			return page_text(p, "Eases what you named (%s): about %s of it by itself, an estimate. ",
			    k->chores[easing->chore].title, say_percent(p, easing->by[i].share));
	return "";
}

json_t *report_eases_json(const struct ab_knowledge *k, const struct ab_advice *a)
{
	json_t *array = json_array();

	for (size_t i = 0; i < a->n_easings; i++) {
		const struct ab_easing *easing = &a->easings[i];
		json_t *by = json_array();
		struct put o = put_begin();
		for (size_t j = 0; j < easing->n; j++) {
			const struct ab_item *item = &a->items[easing->by[j].item];
			struct put one = put_begin();
			put_text(&one, "id", k->changes[item->change].id);
			put_text(&one, "title", k->changes[item->change].title);
			put_number(&one, "cost", item->cost);
			put_number(&one, "running_cost", item->running_cost);
			put_number(&one, "minutes", item->minutes);
			put_number(&one, "share", easing->by[j].share);
			by = json_add(by, put_end(&one));
		}
		put_text(&o, "chore", k->chores[easing->chore].id);
		put_text(&o, "title", k->chores[easing->chore].title);
		put_value(&o, "by", by);
		array = json_add(array, put_end(&o));
	}
	return array;
}
