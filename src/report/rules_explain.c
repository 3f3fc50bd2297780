/* rules_explain.c - one rule in full, with its numbers and where they come from
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>

#include "report/saying.h"

/* What the rules do not say leaves no empty label. */
static void labelled(struct page *p, const char *label, const char *text)
{
	if (text == NULL || *text == '\0')
		return;
	page_item(p, 2, label, QUIET);
	page_say(p, PLAIN, text);
	page_end(p);
}

/* No number of a rule is shown without where it is from. */
static void sourced(struct page *p, const char *text, const struct ab_source_note *source)
{
	page_item(p, 4, "*", PLAIN);
	page_say(p, PLAIN, text);
	page_say(p, QUIET, page_text(p, "  [%s]", source->text != NULL ? source->text : "no source"));
	page_end(p);
}

/* ---- conditions ---- */

/* A bit a word, the first word the lowest; 64 is the width of the set. */
static const char *words_of(struct page *p, const struct ab_fact_def *def, unsigned long long words)
{
	const char *text = "";
	static const char *const no_yes[] = { "no", "yes", NULL };
	const char *const *list = def->kind == AB_FACT_FLAG ? no_yes : def->words;
	for (int i = 0; list != NULL && list[i] != NULL && i < 64; i++)
		if (words >> i & 1)
			text = page_text(p, "%s%s%s", text, *text != '\0' ? " or " : "", list[i]);
	return text;
}

static const char *cond_text(struct page *p, const struct ab_knowledge *k, const struct ab_cond *c)
{
	const struct ab_fact_def *def = &k->facts->defs[c->slot];
	assert(c->slot >= 0 && (size_t)c->slot < k->facts->n);
	switch (c->cmp) {
	case AB_CMP_IS: return page_text(p, "%s is %s", def->name, words_of(p, def, c->words));
	case AB_CMP_NOT: return page_text(p, "%s is not %s", def->name, words_of(p, def, c->words));
	case AB_CMP_UNLESS: return page_text(p, "%s is not known to be %s", def->name, words_of(p, def, c->words));
	case AB_CMP_OVER: return page_text(p, "%s over %s %s", def->name, say_short(p, c->value, 4),
	    def->unit);
	case AB_CMP_UNDER: return page_text(p, "%s under %s %s", def->name, say_short(p, c->value, 4),
	    def->unit);
	case AB_CMP_KNOWN: return page_text(p, "%s is known", def->name);
	case AB_CMP_UNKNOWN: return page_text(p, "%s is unknown", def->name);
	}
	return "";
}

/* Conditions of a rule all have to hold, hence "and". */
static const char *when_text(struct page *p, const struct ab_knowledge *k, const struct ab_conds *conds)
{
	const char *text = "";
	for (size_t i = 0; i < conds->n; i++)
		text =
		    page_text(p, "%s%s%s", text, i == 0 ? ", when " : " and ",
		    cond_text(p, k, &conds->items[i]));
	return text;
}

/* Two of the grades tell the shape; four figures a line would not be read. */
static const char *tail_text(struct page *p, const double *tail)
{
	return page_text(
	    p, "noticeable in %s, strong in %s of cases", say_percent(p, tail[1]), say_percent(p, tail[3]));
}

/* ---- kinds of rules ---- */

/* Kept as logarithms, shown as factors on the odds, which is how the rules file states them. */
static const char *curve_text(struct page *p, const struct ab_sign *s)
{
	const char *text = "";
	for (size_t i = 0; i < s->n; i++)
		text = page_text(p, "%s%s%s: x%s", text, i == 0 ? "" : ", ", say_short(p, s->x[i], 3),
		    say_short(p, exp(s->log_ratio[i]), 2));
	return text;
}

/* 0 is "says nothing", a factor of 1, and not worth a word. */
static const char *table_text(struct page *p, const struct ab_fact_def *def, const struct ab_sign *s)
{
	const char *text = "";
	for (int i = 0; i < (def->kind == AB_FACT_FLAG ? 2 : AB_WORDS); i++)
		if (fabs(s->word_log_ratio[i]) > 0)
			text = page_text(p, "%s%s%s: x%s", text, *text == '\0' ? "" : ", ",
			    words_of(p, def, 1ULL << i), say_short(p, exp(s->word_log_ratio[i]), 2));
	return text;
}

static void told(struct page *p, const struct ab_knowledge *k, const char *label, const char *words,
    const struct ab_tell *tells, size_t n)
{
	labelled(p, label, words);
	for (size_t i = 0; i < n; i++)
		labelled(p, label, page_text(p, "%s%s", tells[i].says, when_text(p, k, &tells[i].when)));
}

/* In the order the inference uses them: prior, gates, signs, links. Gates are told among the
 * frequencies, as they are the case of "never". Every list carries its conditions, or two lines with
 * different numbers would seem to contradict each other. */
static void explain_cause(struct page *p, const struct ab_knowledge *k, const struct ab_cause *c)
{
	page_title(p, page_text(p, "Cause %s: %s", c->id, c->title));
	page_para(p, 2, QUIET,
	    page_text(p, "%s side, stage %s%s", ab_words_side[c->side], ab_words_stage[c->stage],
		c->benign ? ", a harmless explanation" : ""));
	labelled(p, "Why:", c->why);
	told(p, k, "Next time:", c->next, c->nexts, c->n_nexts);
	told(p, k, "Take care:", c->caution, c->cautions, c->n_cautions);
	page_para(p, 2, LOUD, "How often it is so, before anything is known");
	for (size_t i = 0; i < c->n_priors; i++)
		sourced(p,
		    page_text(p, "%s of batches%s", say_percent(p, c->priors[i].p),
			when_text(p, k, &c->priors[i].when)),
		    &c->priors[i].source);
	for (size_t i = 0; i < c->n_gates; i++)
		page_point(p, 4, "*", PLAIN,
		    page_text(p, "impossible%s%s%s", when_text(p, k, &c->gates[i].when),
			c->gates[i].says != NULL ? ": " : "",
			c->gates[i].says != NULL ? c->gates[i].says : ""));
	page_para(p, 2, LOUD, "What the journal says for or against it (a factor on the odds)");
	for (size_t i = 0; i < c->n_signs; i++) {
		const struct ab_sign *s = &c->signs[i];
		const struct ab_fact_def *def = &k->facts->defs[s->slot];
		sourced(p,
		    page_text(p, "%s%s%s: %s%s", def->name, def->kind == AB_FACT_NUMBER ? " in " : "",
			def->kind == AB_FACT_NUMBER ? def->unit : "",
			s->n > 0 ? curve_text(p, s) : table_text(p, def, s), when_text(p, k, &s->when)),
		    &s->source);
	}
	page_para(p, 2, LOUD, "What it tastes of");
	for (size_t i = 0; i < c->n_links; i++)
		sourced(p,
		    page_text(p, "%s: %s%s", k->faults[c->links[i].fault].title,
		    tail_text(p, c->links[i].tail), when_text(p, k, &c->links[i].when)),
		    &c->links[i].source);
}

/* Links hang on causes in the rules, so a fault's causes are found by asking all. */
static bool gives(const struct ab_cause *c, int fault)
{
	for (size_t i = 0; i < c->n_links; i++)
		if (c->links[i].fault == fault)
			return true;
	return false;
}

static void explain_words(struct page *p, const char *const *items, size_t n)
{
	const char *words = "";
	for (size_t i = 0; i < n; i++)
		words = page_text(p, "%s%s%s", words, i == 0 ? "" : ", ", items[i]);
	labelled(p, "Words:", words);
}

/* Words first: who asks for "buttery" wants to see whether that is the fault meant. */
static void explain_fault(struct page *p, const struct ab_knowledge *k, int fault)
{
	const struct ab_fault *f = &k->faults[fault];
	page_title(p, page_text(p, "Fault %s: %s", f->id, f->title));
	labelled(p, "Like:", f->like);
	explain_words(p, f->words, f->n_words);
	labelled(p, "Weight:", page_text(p, "%s per slight grade of flaw load",
	    say_short(p, f->severity, 2)));
	told(p, k, "Take care:", f->caution, f->cautions, f->n_cautions);
	page_para(p, 2, LOUD, "With none of the causes below it still turns up:");
	for (size_t i = 0; i < f->n_leaks; i++)
		sourced(p,
		    page_text(p, "%s%s", tail_text(p, f->leaks[i].tail), when_text(p, k, &f->leaks[i].when)),
		    &f->leaks[i].source);
	page_para(p, 2, LOUD, "Causes that give it");
	for (size_t i = 0; i < k->n_causes; i++)
		if (gives(&k->causes[i], fault))
			page_point(p, 4,
			    "*", PLAIN, page_text(p, "%s (%s)", k->causes[i].title, k->causes[i].id));
}

static void explain_spared(struct page *p, const struct ab_spares *s, const char *title)
{
	const char *running =
	    s->running_per_batch > 0 ? page_text(p, ", %s a batch", say_money(p, s->running_per_batch)) : "";

	sourced(p,
	    page_text(p, "%s: %s%s%s%s%s", title, s->cost > 0 ? page_text(p, "%s less", say_money(p, s->cost)) : "",
		running, s->room ? s->cost > 0 ? ", and no room" : "it takes no more room" : "",
		s->leaves != NULL ? "; still to buy: " : "", s->leaves != NULL ? s->leaves : ""),
	    &s->source);
}

/* A setting is printed as a fact would be, in the reader's units. */
static void explain_change(struct page *p, const struct ab_knowledge *k, const struct ab_change *c)
{
	page_title(p, page_text(p, "%s %s: %s", c->habit ? "Habit" : "Upgrade", c->id, c->title));
	if (c->n_words > 0)
		explain_words(p, c->words, c->n_words);
	labelled(p, "How:", report_how(p, k, NULL, (int)(c - k->changes)));
	told(p, k, "Take care:", c->caution, c->cautions, c->n_cautions);
	double batches = c->running_per_batch * AB_BATCHES_A_YEAR;
	labelled(p, "Costs:",
	    page_text(p, "%s to buy, %s a year to run%s, %s a batch", say_money(p, c->cost),
		say_money(p, c->running_per_year + batches),
		batches > 0 ? page_text(p, " (%s a batch, at %d a year)", say_money(p, c->running_per_batch),
		    AB_BATCHES_A_YEAR) : "", say_minutes(p, c->minutes)));
	for (size_t i = 0; i < c->n_spares; i++)
		explain_spared(
		    p, &c->spares[i], page_text(p, "with %s", k->things[c->spares[i].thing].title));
	page_para(p, 2, LOUD, "What it acts on");
	static const char *const modes[] = { "to", "at most", "at least" };
	for (size_t i = 0; i < c->n_sets; i++) {
		struct ab_fact as = { .origin = AB_ORIGIN_DERIVED, .value = c->sets[i].value };
		const struct ab_fact_def *def = &k->facts->defs[c->sets[i].slot];
		sourced(p,
		    page_text(p, "%s %s %s %s", def->title, modes[c->sets[i].mode], say_value(p, def, &as),
			say_unit(p, def)),
		    &c->sets[i].source);
	}
	for (size_t i = 0; i < c->n_prevents; i++)
		sourced(p,
		    page_text(p, "takes away %s of: %s%s", say_percent(p, c->prevents[i].share),
			k->causes[c->prevents[i].cause].title, when_text(p, k, &c->prevents[i].when)),
		    &c->prevents[i].source);
}

static const char *faults_named(struct page *p, const struct ab_knowledge *k, const struct ab_check *c)
{
	const char *named = "";
	for (size_t i = 0; i < c->n_about; i++)
		named = page_text(p, "%s%s%s", named, i == 0 ? "" : ", ", k->faults[c->about[i]].title);
	return named;
}

/* The base rate is part of the check: a test that is often "yes" for no reason tells little. */
static void explain_check(struct page *p, const struct ab_knowledge *k, const struct ab_check *c)
{
	page_title(p, page_text(p, "Check %s: %s", c->id, c->title));
	labelled(p, "How:", c->how);
	labelled(p, "If yes:", c->if_yes);
	labelled(p, "If no:", c->if_no);
	labelled(p, "Take care:", c->caution);
	labelled(p, "Takes:",
	    page_text(p, "%s, %s", say_minutes(p, c->minutes), c->cost > 0 ? say_money(p, c->cost) : "free"));
	if (c->n_about > 0)
		labelled(p, "Only for:", faults_named(p, k, c));
	page_para(p, 2, LOUD,
	    page_text(p, "The answer is yes in %s of cases with none of these, else more often:",
		say_percent(p, c->base)));
	for (size_t i = 0; i < c->n_yes; i++)
		sourced(p, page_text(p, "%s: %s", k->causes[c->yes[i].cause].title,
		    say_percent(p, c->yes[i].p)), &c->yes[i].source);
}

static void explain_chore(struct page *p, const struct ab_knowledge *k, const struct ab_chore *c)
{
	page_title(p, page_text(p, "Chore %s: %s", c->id, c->title));
	explain_words(p, c->words, c->n_words);
	page_para(p, 2, LOUD, "What eases it, and how much of the burden each takes by itself");
	for (size_t i = 0; i < c->n_eases; i++)
		sourced(p,
		    page_text(p, "%s: %s (%s)", say_percent(p, c->eases[i].share),
			k->changes[c->eases[i].change].title, k->changes[c->eases[i].change].id),
		    &c->eases[i].source);
}

static void explain_thing(struct page *p, const struct ab_knowledge *k, int thing)
{
	const struct ab_thing *t = &k->things[thing];
	page_title(p, page_text(p, "Thing %s: %s", t->id, t->title));
	explain_words(p, t->words, t->n_words);
	page_para(p, 2, LOUD, "What it serves, and what it takes off the price");
	for (size_t u = 0; u < k->n_changes; u++) {
		const struct ab_change *c = &k->changes[u];
		for (size_t i = 0; i < c->n_spares; i++)
			if (c->spares[i].thing == thing)
				explain_spared(p, &c->spares[i], page_text(p, "%s (%s)", c->title, c->id));
		for (size_t i = 0; i < c->n_needs; i++)
			if (c->or_thing[i] == thing)
				page_point(p, 4, "*", PLAIN, page_text(p, "%s (%s)", c->title, c->id));
	}
}

/* All of them, not the first: an id may name a fault and a cause at once, and both are wanted. */
bool report_rules_explain(struct page *p, const struct ab_knowledge *k, const char *id)
{
	int fault = ab_fault_word(k, id, NULL, 0, NULL), cause = ab_cause_find(k, id),
	    change = ab_change_find(k, id), check = ab_check_find(k, id), chore = ab_chore_word(k, id),
	    thing = ab_thing_word(k, id, NULL, 0, NULL);
	if (fault >= 0)
		explain_fault(p, k, fault);
	if (cause >= 0)
		explain_cause(p, k, &k->causes[cause]);
	if (change >= 0)
		explain_change(p, k, &k->changes[change]);
	if (check >= 0)
		explain_check(p, k, &k->checks[check]);
	if (chore >= 0)
		explain_chore(p, k, &k->chores[chore]);
	if (thing >= 0)
		explain_thing(p, k, thing);
	return fault >= 0 || cause >= 0 || change >= 0 || check >= 0 || chore >= 0 || thing >= 0;
}
