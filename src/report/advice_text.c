/* advice_text.c - one screen that says what to do differently, or buy, and what it would bring
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>

#include "report/advice_telling.h"
#include "report/saying.h"

/* ---- where it stands ---- */

/* No limit is said out loud only for money: that one is usually forgotten, not meant. */
static const char *money_limit(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	if (!isfinite(a->budget))
		return "No limit of money was given (--budget sets one): this gets four fifths of what any "
		    "money would. ";
	if (a->running_told)
		return page_text(t->p, "To spend now: %s. ", say_money(t->p, a->budget));
	return a->budget > 0
	    ? page_text(t->p,
		  "To spend now: %s, and no more than that a year on running costs (--running sets its own limit). ",
		  say_money(t->p, a->budget))
	    : "To spend: nothing, now or on running costs. ";
}

/* What was read and what may be spent: as much as the next step needs before it. That it rests on no beer of this
 * brewer's has to be said before it, too. */
static void say_read(const struct telling *t)
{
	page_begin(t->p, 0);
	page_say(t->p, PLAIN, t->a->n_batches == 0 ? "" : page_text(t->p,
	    "Read: %s. ", say_count(t->p, t->a->n_batches, "batch", "batches")));
	page_say(t->p, PLAIN, money_limit(t));
	page_end(t->p);
	if (t->a->n_batches == 0 && t->a->reason != NULL)
		page_para(t->p, 0, LOUD, t->a->reason);
}

/* ---- what to do next ---- */

/* How far to trust a figure, as the end of a sentence. */
static const char *basis_of(const struct telling *t, enum ab_basis basis)
{
	static const char *const words[] = {
		[AB_BASIS_REPLAY] = "replayed on your batches",
		[AB_BASIS_RATED] = "rated by the rules",
		[AB_BASIS_MIXED] = "in part replayed on your batches",
		[AB_BASIS_FACTS] = "replayed on your facts alone" };
	assert((size_t)basis < sizeof words / sizeof *words);
	if (basis == AB_BASIS_MIXED && t->a->n_batches == 0)
		return "in part replayed on your facts alone";
	return words[basis];
}

/* Fault and cause; one reason is enough to act on, all of them only for who asks. */
static void say_against(const struct telling *t, const struct ab_item *item)
{
	size_t n = item->n_because < 1 || t->p->look->verbose ? item->n_because : 1;
	for (size_t i = 0; i < n; i++) {
		const struct ab_because *b = &item->because[i];
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s%s%s, from: %s",
			i > 0                                   ? "; "
			    : b->tasted || t->a->n_batches == 0 ? "Against "
								: "Foresight, against ",
			t->k->faults[b->fault].title, report_tasted(b), t->k->causes[b->cause].title));
	}
	page_say(t->p, PLAIN, n > 0 ? ". " : "");
}

/* Told of the place too where something else might as well fill it: by a tenth of the redraws, less is chance. */
static const char *firm_words(struct page *p, const struct ab_item *item)
{
	if (isnan(item->stays) || !item->chosen)
		return ".";
	if (!(item->place_stays - item->stays >= 0.1))
		return page_text(p, "; firm %s.", say_percent(p, item->stays));
	return page_text(p, "; firm %s, or %s with what could stand in its place.", say_percent(p, item->stays),
	    say_percent(p, item->place_stays));
}

/* What it is against, what it brings, and how sure that is. */
static void say_why(const struct telling *t, const struct ab_item *item, double brings, const char *of)
{
	bool eases = t->a->next_eases != NULL && item == &t->a->items[t->a->next];
	if (eases)
		page_say(t->p, PLAIN, report_eases(t->p, t->k, t->a));
	if (eases && !(brings > REPORT_ALMOST_NOTHING * t->a->load_before))
		return;
	say_against(t, item);
	page_say(t->p, PLAIN, "Takes ");
	page_say(t->p, GOOD, say_fixed(t->p, brings, 2));
	page_say(t->p, PLAIN, page_text(t->p, " off%s, %s%s", of, basis_of(t, item->basis),
	    item->learned ? " and moved by what came of it here" : ""));
	page_say(t->p, PLAIN, firm_words(t->p, item));
}

/* Alone against alone, for one change is made at a time. */
static bool outdoes_what_is_free(const struct ab_advice *a, const struct ab_item *item)
{
	bool more = item->cost > 0, other = false;
	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *x = &a->items[a->plan[i]];
		if (x->cost > 0 || x->running_cost > 0)
			continue;
		other = true;
		more = more && item->gain > 2 * fmax(x->gain, x->joint_gain);
	}
	return more && other;
}

/* The change to begin, with its reason: what it does alone, as nothing else is begun with it. A caution that
 * belongs to it stands with it. */
static void say_begin(const struct telling *t, const struct ab_next_step *s)
{
	const struct ab_item *item = &t->a->items[s->item];
	page_say(t->p, LOUD, say_words(t->p, tell_change(t, item)->title));
	page_say(t->p, PLAIN, page_text(t->p, " (%s). ", report_price(t->p, item, REPORT_IN_FULL)));
	const char *how = report_how(t->p, t->k, t->a, item->change);
	page_say(t->p, PLAIN, how[0] == '\0' ? "" : page_text(t->p, "%s ", how));
	say_why(t, item, item->gain,
	    page_text(t->p, " a flaw load of %s (0: no flaw)", say_fixed(t->p, t->a->load_before, 2)));
	if (outdoes_what_is_free(t->a, item))
		page_say(t->p, PLAIN,
		    " It costs money, yet brings more than twice what any free change of the plan does.");
	page_say(t->p, PLAIN, report_stands_for(t->p, t->k, t->a, item));
	if (s->line != NULL)
		page_say(t->p, PLAIN, page_text(t->p, " Of %s alone: another beer has a change on trial.", s->line));
	page_say(t->p, PLAIN, report_under(t->p, t->k, s));
	page_end(t->p);
	if (ab_item_caution(t->k, item) != NULL)
		page_point(t->p, 3, "!", CAREFUL, say_words(t->p, ab_item_caution(t->k, item)));
}

/* One list and one change in it: who reads only this has read the best of it. */
static void say_steps(const struct telling *t)
{
	if (t->a->n_steps > 0)
		page_section(t->p, "Do this next");
	for (size_t i = 0; i < t->a->n_steps; i++) {
		const struct ab_next_step *s = &t->a->steps[i];
		page_item(t->p, 1, page_text(t->p, "%zu.", i + 1), PLAIN);
		page_say(t->p, LOUD, page_text(t->p, "%s: ", report_step_lead(t->p, s)));
		if (s->kind == AB_NEXT_BEGIN) {
			say_begin(t, s);
			continue;
		}
		page_say(t->p, PLAIN, report_step_words(t->p, t->k, t->a, s));
		page_end(t->p);
		if (report_step_caution(t->p, t->k, t->a, s) != NULL)
			page_point(t->p, 3, "!", CAREFUL, report_step_caution(t->p, t->k, t->a, s));
	}
}

/* ---- why each of the plan ---- */

/* What to begin with has had its reasons. With the whole title, as the line above may have cut it. */
static void say_reasons(const struct telling *t)
{
	if (t->a->n_plan < 2 && !t->p->look->verbose)
		return;
	page_section(t->p, "Why each");
	for (size_t i = 0; i < t->a->n_plan; i++) {
		const struct ab_item *item = &t->a->items[t->a->plan[i]];
		if (t->a->plan[i] == t->a->next && !t->p->look->verbose)
			continue;
		page_item(t->p, 1, page_text(t->p, "%2zu.", i + 1), PLAIN);
		page_say(t->p, LOUD, say_words(t->p, tell_change(t, item)->title));
		page_say(t->p, PLAIN, page_text(t->p, " (%s). ", report_price(t->p, item, REPORT_IN_FULL)));
		say_why(t, item, ab_item_brings(item), "");
		page_end(t->p);
		if (t->p->look->verbose && tell_change(t, item)->how != NULL)
			page_para(t->p, 5, QUIET, report_how(t->p, t->k, t->a, item->change));
	}
}

/* ---- before, beside and after ---- */

/* One line a change of the plan, by its number there. Numbered as in the plan, because cautions are
 * read after it and their titles are long. */
static void say_cautions(const struct telling *t)
{
	size_t told = 0;
	for (size_t i = 0; i < t->a->n_plan; i++) {
		if (t->a->plan[i] == t->a->next)   /* its own stands with it */
			continue;
		const char *caution = ab_item_caution(t->k, &t->a->items[t->a->plan[i]]);
		if (caution == NULL)
			continue;
		if (told++ == 0)
			page_section(t->p, "Take care");
		page_point(t->p, 2, "!", CAREFUL, page_text(t->p, "%zu. %s", i + 1, say_words(t->p, caution)));
	}
}

/* With the reason why not: "you do it" and "no room for it" spare the question. */
static void say_rest(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	const char **cells = t->p->bad || !t->p->look->verbose
	    ? NULL
	    : ab_arena_alloc(t->p->arena, 4 * (a->n_items + 1), sizeof *cells);
	size_t rows = 1;
	if (cells == NULL)
		return;
	cells[0] = "gain";
	cells[1] = "cost";
	cells[2] = "change";
	cells[3] = "";
	for (size_t i = 0; i < a->n_items; i++) {
		const struct ab_item *item = &a->items[i];
		const struct ab_tried *tried = report_tried(a, item->change);
		if (item->chosen)
			continue;
		cells[4 * rows] = say_fixed(t->p, item->gain, 2);
		cells[4 * rows + 1] = item->cost > 0 ? say_money(t->p, item->cost) : "free";
		cells[4 * rows + 2] = say_words(t->p, tell_change(t, item)->title);
		cells[4 * rows + 3] = tried != NULL && tried->proved != AB_PROVED_NOTHING
		    ? report_tried_words(t->p, tried)
		    : item->owned          ? "you do it"
		    : item->barred != NULL ? item->barred
					   : "";
		rows++;
	}
	page_section(t->p, "All other changes");
	page_table(t->p, 2, "rrxl", true, cells, rows);
}

/* The first screen of 24 lines holds the one change to make next, what it costs and why, and the plan a line
 * each; what it rests on and the fine print come after. */
void report_advice_text(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice)
{
	struct telling t = { p, k, advice };
	page_title(p, "What to change next");
	say_read(&t);
	report_first_check(p, k, advice);
	say_steps(&t);
	report_advice_eases(p, k, advice);
	tell_advised_plan(&t);
	say_cautions(&t);
	say_reasons(&t);
	report_advice_learned(p, k, advice);
	report_advice_outlook(p, k, advice);
	say_rest(&t);
}
