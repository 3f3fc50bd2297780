/* advice_learned.c - what came of the changes that were made, and what is believed of them now
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>

#include "report/json.h"
#include "report/saying.h"

/* The first of a change is what it was made for. */
static bool first_of_change(const struct ab_advice *a, size_t i)
{
	return i == 0 || a->tried[i - 1].change != a->tried[i].change;
}

static bool worth_telling(const struct page *p, const struct ab_advice *a, size_t i)
{
	return p->look->verbose || (first_of_change(a, i) && a->tried[i].proved != AB_PROVED_NOTHING);
}

const struct ab_tried *report_tried(const struct ab_advice *a, int change)
{
	for (size_t i = 0; i < a->n_tried; i++)
		if (a->tried[i].change == change)
			return &a->tried[i];
	return NULL;
}

const char *report_tried_words(struct page *p, const struct ab_tried *t)
{
	bool stands = t->kept && t->proved != AB_PROVED_FAILED;

	return page_text(
	    p, "%s %s: %s", stands ? "since" : "tried from", say_date(p, t->since_s), ab_proved_words[t->proved]);
}

/* "in about 2.6 of 5 batches without it, 0.4 of 3 with it": by what was noted and tasted of them. */
static const char *counts_of(struct page *p, const struct ab_tried *t)
{
	const char *without = t->without == 0 ? "" : page_text(p, "about %s of %s without it, ",
	    say_fixed(p, t->struck, 1), say_count(p, t->without, "batch", "batches"));

	return page_text(p, "in %sabout %s of %s with it", without, say_fixed(p, t->came, 1),
	    t->without > 0 ? page_text(p, "%zu", t->with) : say_count(p, t->with, "batch", "batches"));
}

static void say_one(struct page *p, const struct ab_knowledge *k, const struct ab_tried *t)
{
	enum tone tone = t->proved == AB_PROVED_FAILED ? BAD : t->proved == AB_PROVED_GOOD ? GOOD : PLAIN;

	page_item(p, 2, "*", PLAIN);
	page_say(p, LOUD, say_words(p, k->changes[t->change].title));
	page_say(p, PLAIN, ", ");
	page_say(p, tone, report_tried_words(p, t));
	page_say(p, PLAIN,
	    page_text(p,
		". Against: %s. Expected to keep off %s of it; it was there %s; from now on reckoned with: %s.",
		k->causes[t->cause].title, say_percent(p, t->prior), counts_of(p, t), say_percent(p, t->share)));
	if (t->few && (t->proved == AB_PROVED_GOOD || t->proved == AB_PROVED_LESS))
		page_say(p, PLAIN,
		    " With so few batches, getting better all round by yourself would look the same: only part "
		    "of it is put down to the change.");
	if (t->together >= 0)
		page_say(p, PLAIN, page_text(p, " It came together with \"%s\": the two cannot be told apart.",
		    say_words(p, k->changes[t->together].title)));
	page_end(p);
}

static void say_turned(struct page *p, const struct ab_knowledge *k, const struct ab_turned *t)
{
	const char *stayed = t->change < 0 ? "with the others beside it" :
	    page_text(p, "it came again with \"%s\" in use, and", say_words(p, k->changes[t->change].title));

	page_item(p, 2, "*", PLAIN);
	page_say(p, LOUD, "Over your batches together");
	page_say(p, PLAIN,
	    page_text(p, ": by itself %s points to: %s (%s). But %s likelier is: %s (%s, by itself %s).", t->batch,
		k->causes[t->first].title, say_percent(p, t->first_alone), stayed, k->causes[t->now].title,
		say_percent(p, t->now_now), say_percent(p, t->now_alone)));
	page_end(p);
}

static void say_unsettled(struct page *p)
{
	page_item(p, 2, "*", PLAIN);
	page_say(p, PLAIN,
	    "Your batches together give no steady picture yet: take which cause is the likelier as rough.");
	page_end(p);
}

void report_advice_learned(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	size_t told = a->turned.told || a->unsettled;

	if (told > 0)
		page_section(p, "Learned from your own batches (estimates)");
	if (a->turned.told)
		say_turned(p, k, &a->turned);
	if (a->unsettled)
		say_unsettled(p);

	for (size_t i = 0; i < a->n_tried; i++) {
		if (!worth_telling(p, a, i))
			continue;
		if (told++ == 0)
			page_section(p, "Learned from your own batches (estimates)");
		say_one(p, k, &a->tried[i]);
	}
}

json_t *report_turned_json(const struct ab_knowledge *k, const struct ab_turned *t)
{
	struct put o;

	if (!t->told)
		return json_null();
	o = put_begin();
	put_text(&o, "batch", t->batch);
	put_text(&o, "first", k->causes[t->first].id);
	put_number(&o, "first_alone", t->first_alone);
	put_number(&o, "first_together", t->first_now);
	put_text(&o, "now", k->causes[t->now].id);
	put_number(&o, "now_alone", t->now_alone);
	put_number(&o, "now_together", t->now_now);
	put_text(&o, "change", t->change >= 0 ? k->changes[t->change].id : NULL);
	return put_end(&o);
}

json_t *report_tried_json(const struct ab_knowledge *k, const struct ab_advice *a)
{
	static const char *const words[] = { [AB_PROVED_NOTHING] = "nothing", [AB_PROVED_FAILED] = "failed",
		[AB_PROVED_LESS] = "less", [AB_PROVED_GOOD] = "good" };
	json_t *array = json_array();

	for (size_t i = 0; i < a->n_tried; i++) {
		const struct ab_tried *t = &a->tried[i];
		struct put o = put_begin();

		assert((size_t)t->proved < sizeof words / sizeof *words);
		put_text(&o, "change", k->changes[t->change].id);
		put_text(&o, "cause", k->causes[t->cause].id);
		put_value(&o, "since", json_date(t->since_s));
		put_flag(&o, "kept", t->kept);
		put_number(&o, "prior", t->prior);
		put_count(&o, "without", t->without);
		put_number(&o, "struck", t->struck);
		put_count(&o, "with", t->with);
		put_flag(&o, "few", t->few);
		put_number(&o, "came", t->came);
		put_number(&o, "share", t->share);
		put_number(&o, "sd", t->sd);
		put_text(&o, "proved", words[t->proved]);
		put_text(&o, "together", t->together >= 0 ? k->changes[t->together].id : NULL);
		array = json_add(array, put_end(&o));
	}
	return array;
}
