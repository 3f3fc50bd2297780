/* overview_top.c - the top of the report page: what to do next, when and why, and what can hurt
 *
 * Who reads only this much knows what to do on the next brew day.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

enum { MOST_ALARMS = 3, MOST_UNTASTED = 3 };

static void open_box(struct page *p, const char *kind, const char *title)
{
	page_end(p);
	ab_str_addf(&p->out, "<div class=\"%s\">\n<h2>", kind);
	page_escaped(p, title);
	ab_str_add(&p->out, "</h2>\n");
}

static void close_box(struct page *p)
{
	page_end(p);
	ab_str_add(&p->out, "</div>\n");
}

/* ---- what to do next ---- */

/* When in a brew a change of this stage is made. */
static const char *when_of(const struct ab_change *c)
{
	static const struct { const char *stage, *says; } when[] = {
		{ "mash", "On the next brew day, at mashing." }, { "boil", "On the next brew day, at the boil." },
		{ "water", "Before the next brew day, with the water." },
		{ "ingredients", "When you buy for the next brew." },
		{ "chill", "On the next brew day, from the end of the boil." },
		{ "pitch", "On the next brew day, at pitching." },
		{ "ferment", "With the next brew, while it ferments." },
		{ "transfer", "With the next brew, when you move the beer." },
		{ "dry-hop", "With the next brew, at dry hopping." },
		{ "package", "With the next brew, at packaging." },
		{ "store", "With the next beer that is packaged, where it is kept." },
		{ "serve", "With the next glass." },
		{ "measure", "Before the next brew day." } };

	for (size_t i = 0; i < sizeof when / sizeof *when; i++)
		if (strcmp(ab_words_stage[c->stage], when[i].stage) == 0)
			return when[i].says;
	return "With the next brew.";
}

static void put_row(struct page *p, const char *term, const char *text)
{
	ab_str_add(&p->out, "<dt>");
	page_escaped(p, term);
	ab_str_add(&p->out, "</dt><dd>");
	page_escaped(p, text);
	ab_str_add(&p->out, "</dd>\n");
}

/* Of the place too where something else might as well fill it: by a tenth of the redraws, less is chance. */
static const char *stays_words(struct page *p, const struct ab_item *item)
{
	if (isnan(item->stays) || !item->chosen)
		return "";
	return page_text(p, "; it stays in %s of plans when all estimates are shifted at random%s",
	    say_percent(p, item->stays),
	    item->place_stays - item->stays >= 0.1
		? page_text(p, ", and it or what could stand in its place in %s", say_percent(p, item->place_stays))
		: "");
}

static void put_item(struct page *p, const struct ab_overview *o, const struct ab_next_step *step)
{
	const struct ab_item *item = &o->advice->items[step->item];
	const struct ab_change *c = &o->k->changes[item->change];
	const struct ab_because *because = item->n_because > 0 ? &item->because[0] : NULL;

	ab_str_add(&p->out, "<p class=\"big\">");
	page_escaped(p, page_text(p, "%s.", c->title));
	ab_str_add(&p->out, "</p>\n");
	const char *how = report_how(p, o->k, o->advice, item->change);
	if (how[0] != '\0')
		page_para(p, 0, PLAIN, how);
	page_end(p);
	ab_str_add(&p->out, "<dl>\n");
	const char *day = report_step_brew(p, step);
	put_row(p, "When", day[0] == '\0' ? when_of(c) : page_text(p, "%s The next brew: %s.", when_of(c), day));
	if (because != NULL && o->advice->next_eases == NULL)
		put_row(p, "Against",
		    page_text(p, "%s%s%s: %s.", o->k->faults[because->fault].title, report_tasted(because),
			because->tasted ? "; it comes of" : ", which comes of",
			o->k->causes[because->cause].title));
	if (o->advice->next_eases != NULL)
		put_row(p, "Why", report_eases(p, o->k, o->advice));
	put_row(p, "Costs", page_text(p, "%s.", say_capital(p, report_price(p, item, REPORT_IN_FULL))));
	if (o->advice->next_eases == NULL)
		put_row(p, "Brings",
		    page_text(p,
			"About %s off a flaw load of %s a batch (0 is a beer without a flaw; estimates)%s.",
			say_fixed(p, item->gain, 2), say_fixed(p, o->advice->load_before, 2),
			stays_words(p, item)));
	if (report_stands_for(p, o->k, o->advice, item)[0] != '\0')
		put_row(p, item->chosen ? "Until then" : "First", report_stands_for(p, o->k, o->advice, item) + 1);
	if (report_under(p, o->k, step)[0] != '\0')
		put_row(p, "On trial", report_under(p, o->k, step) + 1);
	if (ab_item_caution(o->k, item) != NULL)
		put_row(p, "Take care", say_words(p, ab_item_caution(o->k, item)));
	ab_str_add(&p->out, "</dl>\n");
}

/* Before anything is bought. */
static void say_first_check(struct page *p, const struct ab_overview *o)
{
	const struct ab_ask *ask = o->advice->first_check;

	if (ask == NULL || o->advice->ahead.first)   /* then it is among the steps */
		return;
	page_begin(p, 0);
	page_say(p, LOUD, "Check first, before you spend: ");
	const char *what = report_ask(p, o->k, ask);
	size_t len = strlen(what);
	page_say(p, PLAIN, page_text(p, "%s%s", what, len > 0 && what[len - 1] == '?' ? "" : ".")); /* most are
												       questions */
	page_end(p);
}

static void say_untasted(struct page *p, const struct ab_overview *o)
{
	size_t told = 0;

	for (size_t i = o->advice == NULL ? o->n_cases : 0;
	     i-- > 0 && told < MOST_UNTASTED && !o->cases[i]->tasted && !report_on_paper(o->cases[i]); told++)
		page_para(p, 0, PLAIN,
		    page_text(p,
			"Batch %s, brewed %s, is not tasted yet: taste it when it is ready and "
			"write down what you find.",
			o->cases[i]->batch->id, say_date(p, o->cases[i]->batch->brewed.s)));
}

/* What may burst has a box of its own below. */
static void put_step(struct page *p, const struct ab_overview *o, const struct ab_next_step *s)
{
	if (s->kind == AB_NEXT_SAFE)
		return;
	if (s->kind == AB_NEXT_BEGIN) {
		put_item(p, o, s);
		return;
	}
	page_begin(p, 0);
	page_say(p, LOUD, page_text(p, "%s: ", report_step_lead(p, s)));
	page_say(p, PLAIN, report_step_words(p, o->k, o->advice, s));
	page_end(p);
	if (report_step_caution(p, o->k, o->advice, s) != NULL)
		page_para(p, 0, CAREFUL, page_text(p, "Take care: %s", report_step_caution(p, o->k, o->advice, s)));
}

static void put_rest(struct page *p, size_t n, bool more, bool same)
{
	page_end(p);
	ab_str_addf(&p->out,
	    same
		? "<p>No change is needed now; for one you want all the same the <a href=\"#plan\">plan</a> has "
		    "%zu%s.</p>\n"
		: "<p>One change at a time; the <a href=\"#plan\">plan</a> has %zu%s.</p>\n",
	    n,
	    more         ? " more"
		: n == 1 ? " change"
			 : " changes");
}

static void say_next_step(struct page *p, const struct ab_overview *o)
{
	const struct ab_advice *a = o->advice;
	size_t told = 0;   /* of the plan */
	bool same = false;

	open_box(p, "next", "Do this next");
	if (a == NULL)
		page_para(p, 0, PLAIN, "Nothing new: brew the same beer again and keep notes.");
	for (size_t i = 0; a != NULL && i < a->n_steps; i++) {
		put_step(p, o, &a->steps[i]);
		told += a->steps[i].kind == AB_NEXT_BEGIN && a->items[a->steps[i].item].chosen;
		same = same || (a->steps[i].kind == AB_NEXT_SAME && a->steps[i].well);
	}
	if (a != NULL)
		say_first_check(p, o);
	say_untasted(p, o);
	if (a != NULL && a->n_plan > told)
		put_rest(p, a->n_plan - told, told > 0, same);
	close_box(p);
}

/* ---- what can hurt ---- */

/* What to do comes first and alone: on a phone the reckoning would push the next step off the screen. */
static void say_alarm(struct page *p, const struct ab_warning *w, const char *which)
{
	const char *care = w->care != NULL ? w->care : w->text;

	page_para(p, 0, PLAIN, page_text(p, "%s: %s", say_capital(p, which), say_working(p, care)));
	if (w->care == NULL)
		return;
	page_end(p);
	ab_str_add(&p->out, "<details class=\"part\"><summary>How that is reckoned</summary>\n");
	page_para(p, 0, PLAIN, say_working(p, page_text(p, "%.*s", (int)(w->care - w->text), w->text)));
	page_end(p);
	ab_str_add(&p->out, "</details>\n");
}

/* The newest is told, for its bottles are the likeliest to stand about; of the others only who they are, since
 * the same care holds for all. */
static void say_alarms(struct page *p, const struct ab_overview *o)
{
	size_t told = 0, all = 0;

	for (size_t i = 0; i < o->n_cases; i++)
		all += ab_case_bursting(o->cases[i]) != NULL;
	if (all == 0)
		return;
	open_box(p, "alarm", "Take care: bottles may burst");
	for (size_t i = o->n_cases; i-- > 0 && told < MOST_ALARMS;) {
		const struct ab_warning *w = ab_case_bursting(o->cases[i]);
		const char *which = page_text(p, "batch %s, brewed %s", o->cases[i]->batch->id,
		    say_date(p, o->cases[i]->batch->brewed.s));
		if (w == NULL)
			continue;
		if (told++ == 0)
			say_alarm(p, w, which);
		else if (told == 2)
			page_begin(p, 0);
		if (told > 1)
			page_say(p, PLAIN,
			    page_text(p, "%s%s", told == 2 ? "The same care for what is left of " : "; ", which));
	}
	if (all > told)
		page_say(p, PLAIN, page_text(p, "; and %zu more", all - told));
	if (all > 1)
		page_say(p, PLAIN, ".");
	close_box(p);
}

/* ---- the sum of it ---- */

static const char *say_tasted_count(struct page *p, size_t n, size_t tasted, size_t clean)
{
	if (n == 1)
		return clean > 0 ? "tasted, and without a flaw" : tasted > 0 ? "tasted" : "not tasted yet";
	if (tasted == 0)
		return "none tasted yet";
	return page_text(
	    p, "%zu tasted, %s without a flaw", tasted, clean == 0 ? "none" : page_text(p, "%zu of them", clean));
}

static void say_summary(struct page *p, const struct ab_overview *o)
{
	size_t n = 0, tasted = 0, clean = 0;
	const struct ab_batch *first = NULL, *last = NULL;

	for (size_t i = 0; i < o->n_cases; i++) {
		tasted += o->cases[i]->tasted;
		clean += o->cases[i]->tasted && !(o->cases[i]->load > 0);
		if (report_on_paper(o->cases[i]))
			continue;
		n++;
		first = first == NULL ? o->cases[i]->batch : first;
		last = o->cases[i]->batch;
	}
	const char *count = n == 0 ? "Nothing brewed yet"
				   : page_text(p, n == 1 ? "%s, brewed %s" : "%s, brewed from %s to ",
					 say_count(p, n, "batch", "batches"), say_date(p, first->brewed.s));
	page_para(p, 0, PLAIN,
	    page_text(p, "%s%s%s%s%s.", count, n > 1 ? say_date(p, last->brewed.s) : "", n > 0 ? "; " : "",
		n > 0 ? say_tasted_count(p, n, tasted, clean) : "",
		n < o->n_cases
		    ? page_text(p, "; %s for a brew to come", say_count(p, o->n_cases - n, "journal", "journals"))
		    : ""));
}

static void put_link(struct page *p, const char *to, const char *text)
{
	ab_str_addf(&p->out, "<a href=\"#%s\">", to);
	page_escaped(p, text);
	ab_str_add(&p->out, "</a>\n");
}

static void put_contents(struct page *p, const struct ab_overview *o)
{
	page_end(p);
	ab_str_add(&p->out, "<nav aria-label=\"On this page\">\n");
	if (o->advice != NULL)
		put_link(p, "plan", "The plan");
	if (overview_has_trend(o))
		put_link(p, "trend", "Is it getting better?");
	if (o->comparison != NULL)
		put_link(p, "brews", "The last two brews");
	for (size_t i = 0; i < o->n_shown; i++)
		put_link(p, page_text(p, "batch-%zu", i + 1),
		    page_text(p, "Batch %s", o->cases[o->shown[i]]->batch->id));
	ab_str_add(&p->out, "</nav>\n");
}

bool overview_has_trend(const struct ab_overview *o)
{
	return o->trend != NULL && o->n_batches > 1;
}

void overview_top(struct page *p, const struct ab_overview *o)
{
	ab_str_add(&p->out, "<header id=\"top\">\n");
	page_title(p, "Your beer");
	if (o->n_cases > 0)
		say_summary(p, o);
	say_alarms(p, o);
	say_next_step(p, o);
	put_contents(p, o);
	ab_str_add(&p->out, "</header>\n");
}
