/* profile_text.c - a profile said back: what it was taken for
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/profile_telling.h"

#include <math.h>
#include <string.h>

/* NAMED: of what is left out so many are named. */
enum { NAMED = 3, NEAR = 4, A_MINUTE = 60, AN_HOUR = 3600, A_YEAR = 31557600 };

void told_line(struct page *p, long line, const char *element, bool guess, const char *text)
{
	page_begin(p, 2);
	p->hang = 6;
	if (line > 0)
		page_say(p, QUIET, page_text(p, "line %ld, ", line));
	page_say(p, QUIET, page_text(p, "%s: ", element));
	page_say(p, PLAIN, text);
	page_say(p, QUIET, guess ? " (a guess)" : "");
	page_end(p);
}

/* "Ferment in the coolest steady place" (coolest-room) */
static const char *titled(struct page *p, const char *title, const char *id)
{
	return page_text(p, "\"%s\" (%s)", say_words(p, title), id);
}

static const struct ab_item *item_of(const struct ab_advice *a, int change)
{
	for (size_t i = 0; i < a->n_items; i++)
		if (a->items[i].change == change)
			return &a->items[i];
	return NULL;
}

/* ---- what is owned ---- */

/* What is not advised any more, since this does it. */
static const char *in_its_place(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, int change)
{
	const char *text = "";
	size_t n = 0;

	for (size_t i = 0; i < a->n_items; i++) {
		if (a->items[i].in_place != &k->changes[change])
			continue;
		if (n++ < NAMED)
			text = page_text(p, "%s%s\"%s\"", text, n == 1 ? "" : ", ",
			    say_words(p, k->changes[a->items[i].change].title));
	}
	return n == 0 ? ""
	    : page_text(p, "; nor %s %s%s", n == 1 ? "is" : "are", text,
		  n > NAMED ? page_text(p, " and %zu more", n - NAMED) : "");
}

static const char *what_it_does(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_owns *owns, int change)
{
	const struct ab_item *item = item_of(a, change);

	if (item == NULL)
		return "";
	if (item->owned)
		return page_text(p, "owned and in use; not advised again%s", in_its_place(p, k, a, change));
	const char *how = owns->unused == AB_YES ? "owned, not used"
	    : a->n_batches > 0 && owns->since.known ? "owned, and used for few of the beers"
						    : "owned, and taken as not used, since it would help against "
						      "what is wrong (unused=\"no\" says that it is used)";
	return page_text(p, "%s: %s%s", how,
	    item->running_cost > 0 ? "costs nothing to start" : "costs nothing",
	    item->barred != NULL ? page_text(p, "; left out all the same: %s", item->barred) : "");
}

static void say_owned(struct page *p, const struct ab_knowledge *k, const struct ab_understood *u)
{
	for (AB_EACH(const struct ab_owns, o, u->profile->owns)) {
		int change = ab_change_find(k, o->change);

		told_line(p, o->mark.line, "owns", o->mark.guess,
		    change < 0 ? page_text(p, "\"%s\" is no change of the rules: nothing comes of it", o->change)
			       : page_text(p, "%s: %s", titled(p, k->changes[change].title, o->change),
				     what_it_does(p, k, u->advice, o, change)));
	}
}

/* The changes that it makes cheaper here. */
static const char *what_it_spares(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const char *title, int thing)
{
	const char *text = "";
	size_t n = 0, owned = 0;

	for (size_t u = 0; u < k->n_changes; u++) {
		const struct ab_item *item = item_of(a, (int)u);
		bool spared = false;
		for (size_t i = 0; i < k->changes[u].n_spares; i++)
			spared = spared || k->changes[u].spares[i].thing == thing;
		owned += spared && item != NULL && item->owned;
		if (!spared || item == NULL || item->have == NULL)
			continue;
		if (n++ < NAMED)
			text = page_text(p, "%s%s%s", text, n == 1 ? "" : ", ",
			    titled(p, k->changes[u].title, k->changes[u].id));
	}
	if (n == 0)
		return page_text(p, "%s: %s", title,
		    owned > 0 ? "what it serves is owned already" : "no change is cheaper by it");
	return page_text(p, "%s: makes cheaper %s%s", title, text,
	    n > NAMED ? page_text(p, " and %zu more", n - NAMED) : "");
}

static void say_things(struct page *p, const struct ab_knowledge *k, const struct ab_understood *u)
{
	for (AB_EACH(const struct ab_owns, o, u->profile->things)) {
		int thing = ab_thing_word(k, o->thing, NULL, 0, NULL);
		const char *title = thing < 0 ? NULL : say_words(p, k->things[thing].title);

		told_line(p, o->mark.line, "owns", o->mark.guess,
		    thing < 0 ? page_text(p, "\"%s\" is no thing of the rules: nothing comes of it", o->thing)
			: o->unused == AB_NO ? page_text(p, "%s, in use: nothing comes of it", title)
					     : what_it_spares(p, k, u->advice, title, thing));
	}
}

/* ---- what is wrong ---- */

/* What was typed, where that is not what it is called. */
static const char *typed(struct page *p, const char *word, const char *is)
{
	return page_text(p, "\"%s\" is %s", word, is);
}

static const char *what_is_wrong(struct page *p, const struct ab_knowledge *k, const struct ab_trouble *t)
{
	const char *near[NEAR], *word = t->fault != NULL ? t->fault : t->cause != NULL ? t->cause : t->chore;
	size_t n;
	int at = t->fault != NULL ? ab_fault_word(k, t->fault, near, NEAR, &n)
	    : t->cause != NULL    ? ab_cause_find(k, t->cause)
				  : ab_chore_word(k, t->chore);

	if (at < 0)
		return page_text(p, "\"%s\" is nothing that the rules know: advice refuses it", word);
	if (t->fault != NULL)
		return typed(p, word, page_text(p, "the fault %s", titled(p, k->faults[at].title, k->faults[at].id)));
	if (t->cause != NULL)
		return typed(p, word, page_text(p, "the cause \"%s\"", say_words(p, k->causes[at].title)));
	return typed(p, word, page_text(p, "the burden %s", titled(p, k->chores[at].title, k->chores[at].id)));
}

static void say_wrong(struct page *p, const struct ab_knowledge *k, const struct ab_profile *profile)
{
	for (AB_EACH(const struct ab_trouble, t, profile->troubles))
		told_line(p, t->mark.line, "trouble", t->mark.guess, what_is_wrong(p, k, t));
	if (profile->fine != NULL)
		told_line(p, profile->fine->mark.line, "trouble", profile->fine->mark.guess,
		    "nothing is wrong with the beer; believed as so many clean batches, and nothing is advised for it "
		    "but what burdens and time ask");
	for (AB_EACH(const struct ab_taster, t, profile->tasters))
		for (size_t i = 0; i < t->blind_to.n; i++) {
			const char *near[NEAR], *word = ((const char *const *)t->blind_to.items)[i];
			size_t n;
			int at = ab_fault_word(k, word, near, NEAR, &n);

			told_line(p, t->mark.line, "taster", t->mark.guess,
			    page_text(p, "%s cannot taste %s", t->name,
				at < 0 ? page_text(p, "\"%s\", which is no fault that the rules know", word)
				       : titled(p, k->faults[at].title, k->faults[at].id)));
		}
}

/* ---- prices, refusals, what was changed ---- */

static const char *title_of(struct page *p, const struct ab_knowledge *k, const char *id)
{
	int change = ab_change_find(k, id);

	return change < 0 ? page_text(p, "\"%s\", no change of the rules", id)
			  : titled(p, k->changes[change].title, id);
}

static const char *joined(struct page *p, const char *text, bool told, const char *more)
{
	return !told ? text : page_text(p, "%s%s%s", text, text[0] != '\0' ? ", " : "", more);
}

static const char *price_of(struct page *p, const struct ab_price *r)
{
	const char *text = joined(p, "", r->cost.known, page_text(p, "%s to buy", say_money(p, r->cost.v)));

	text = joined(p, text, r->running_per_year.known,
	    page_text(p, "%s a year to run", say_money(p, r->running_per_year.v)));
	return joined(p, text, r->minutes_s.known,
	    page_text(p, "%s a batch", say_minutes(p, r->minutes_s.v / A_MINUTE)));
}

static void say_changes(struct page *p, const struct ab_knowledge *k, const struct ab_profile *profile)
{
	for (AB_EACH(const struct ab_refuses, r, profile->refuses))
		told_line(p, r->mark.line, "refuses", r->mark.guess,
		    page_text(p, "%s: never advised", title_of(p, k, r->change)));
	for (AB_EACH(const struct ab_price, r, profile->prices))
		told_line(p, r->mark.line, "price", r->mark.guess,
		    page_text(p, "%s: %s", title_of(p, k, r->change), price_of(p, r)));
	for (AB_EACH(const struct ab_changed, c, profile->changed))
		told_line(p, c->mark.line, "changed", c->mark.guess,
		    page_text(p, "%s: in force from the first batch%s%s brewed on %s or later",
			c->what != NULL ? title_of(p, k, c->what) : page_text(p, "\"%s\"", c->text),
			c->line != NULL ? " of " : "", c->line != NULL ? c->line : "", say_date(p, c->on.s)));
}

/* ---- limits ---- */

static void limit(struct page *p, const char *what, const struct ab_num *n, const char *text)
{
	if (n->known)
		told_line(p, 0, what, false, text);
}

static void say_limits(struct page *p, const struct ab_profile *b)
{
	for (AB_EACH(const struct ab_brews, f, b->brews))
		told_line(p, f->mark.line, "brews", f->mark.guess,
		    page_text(p, "%s%s", ab_words_family[f->family - 1],
			f->share.known ? page_text(p, ", %s of the batches", say_percent(p, f->share.v)) : ""));
	limit(p, "money now", &b->money_now,
	    b->money_now.v > 0 ? page_text(p, "at most %s for changes", say_money(p, b->money_now.v))
			       : "nothing is bought; free changes only");
	limit(p, "money per-year", &b->money_per_year,
	    page_text(p, "at most %s a year to run them", say_money(p, b->money_per_year.v)));
	limit(p, "time per-batch", &b->time_per_batch_s,
	    page_text(p, "at most %s more a batch", say_minutes(p, b->time_per_batch_s.v / A_MINUTE)));
	limit(p, "time away", &b->away_s,
	    page_text(p, "nobody at home up to %s: what needs somebody sooner is left out",
		say_minutes(p, b->away_s.v / A_MINUTE)));
	limit(p, "horizon", &b->horizon_s,
	    page_text(p, "running costs count over %s", say_years(p, b->horizon_s.v / A_YEAR)));
	limit(p, "per-year", &b->batches_per_year,
	    page_text(p, "%s batches a year", say_short(p, b->batches_per_year.v, 1)));
	limit(p, "brewed-so-far", &b->brewed,
	    b->brewed.v > 0
		? page_text(p, "%s; kept, and nothing is reckoned from it: journals tell more",
		      say_count(p, (size_t)b->brewed.v, "batch", "batches"))
		: "none yet; advice says so, and reckons nothing from it");
	if (b->space > 0)
		told_line(p, 0, "space",
		    false, page_text(p, "%s: what takes more room is left out", ab_words_space[b->space - 1]));
	if (b->noise_matters == AB_YES)
		told_line(p, 0, "noise-matters", false, "what is noisy is left out");
	if (b->smoke_matters == AB_YES)
		told_line(p, 0, "smoke-matters", false, "what makes fumes is left out");
	if (b->goal == AB_GOAL_TIME)
		told_line(p, 0, "goal", false, "a shorter, easier brew day comes before the beer");
}

/* ---- habits ---- */

static void say_habits(struct page *p, const struct ab_knowledge *k, const struct ab_understood *u)
{
	for (size_t i = 0; i < k->facts->n; i++) {
		const struct ab_fact *f = &u->usual->facts[i];
		const struct ab_fact_def *def = &k->facts->defs[i];

		if (!AB_FACT_KNOWN(f) || AB_FACT_KNOWN(&u->without[i]))
			continue;
		told_line(p, f->lines[0], "usual", f->guess,
		    page_text(p, "%s = %s%s%s", def->name, say_value(p, def, f),
			say_unit(p, def)[0] != '\0' ? " " : "", say_unit(p, def)));
	}
	for (size_t i = 0; i < u->n_unreckoned; i++)
		told_line(p, u->unreckoned[i].line, "usual",
		    false, page_text(p, "%s%s%s is told, but not reckoned: %s", u->unreckoned[i].element,
			u->unreckoned[i].attr != NULL ? " " : "",
			u->unreckoned[i].attr != NULL ? u->unreckoned[i].attr : "", u->unreckoned[i].why));
}

enum ab_status ab_report_profile(const struct ab_knowledge *k, const struct ab_understood *u,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	const char *title = "How the profile was understood";

	page_start(&p, look, title);
	page_section(&p, title);
	say_owned(&p, k, u);
	say_things(&p, k, u);
	say_wrong(&p, k, u->profile);
	say_changes(&p, k, u->profile);
	say_limits(&p, u->profile);
	told_days(&p, u);
	say_habits(&p, k, u);
	return page_finish(&p, out, diag);
}
