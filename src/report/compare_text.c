/* compare_text.c - two brews side by side, on paper
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "report/saying.h"

enum { MOST_FACTS = 6, MOST_FAULTS = 8, MOST_CAUSES = 4, MOST_UNTOLD = 3, COLUMNS = 3 };

/* Percent of a cause's chance: less is no lead. */
static const double WORTH = 0.05;

static const char **cells_of(struct page *p, const struct ab_comparison *c, size_t rows, const char *first)
{
	const char **cells = p->bad ? NULL : ab_arena_alloc(p->arena, COLUMNS * (rows + 1), sizeof *cells);

	if (cells == NULL) {
		p->bad = true;
		return NULL;
	}
	cells[0] = first;
	cells[1] = c->a->batch->id;
	cells[2] = c->b->batch->id;
	return cells;
}

static const char *intensity(struct page *p, const struct ab_case *c, double x)
{
	return !c->tasted ? "not tasted" : x > 0 ? page_text(p, "%s of 5", say_short(p, x, 1)) : "-";
}

static const char *load(struct page *p, const struct ab_case *c)
{
	return !c->tasted ? "unknown" : page_text(p, "%s (%s to %s)", say_fixed(p, c->load, 1),
	    say_fixed(p, c->load_low, 1), say_fixed(p, c->load_high, 1));
}

static void say_glass(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	size_t n = c->n_faults < MOST_FAULTS || p->look->verbose ? c->n_faults : MOST_FAULTS;
	const char **cells = cells_of(p, c, n + 1, "");

	page_section(p, "In the glass");
	if (cells == NULL)
		return;
	for (size_t i = 0; i < n; i++) {
		cells[COLUMNS * (i + 1)] = k->faults[c->faults[i].fault].title;
		cells[COLUMNS * (i + 1) + 1] = intensity(p, c->a, c->faults[i].a);
		cells[COLUMNS * (i + 1) + 2] = intensity(p, c->b, c->faults[i].b);
	}
	cells[COLUMNS * (n + 1)] = "flaw load (likely)";
	cells[COLUMNS * (n + 1) + 1] = load(p, c->a);
	cells[COLUMNS * (n + 1) + 2] = load(p, c->b);
	page_table(p, 2, "xll", true, cells, n + 2);
}

static const char *value(struct page *p, const struct ab_fact_def *def, const struct ab_fact *fact)
{
	const char *unit = say_unit(p, def);

	return page_text(p, "%s%s%s", say_value(p, def, fact), *unit != '\0' ? " " : "", unit);
}

/* What moves no cause that is blamed is a difference, too, but not one to look at. */
static bool worth_a_line(const struct page *p, const struct ab_compare_fact *f)
{
	return p->look->verbose || (f->cause >= 0 && fabs(f->p_a - f->p_b) >= WORTH);
}

static const char *speaks(struct page *p, const struct ab_knowledge *k, const struct ab_compare_fact *f)
{
	if (f->cause < 0 || fabs(f->p_a - f->p_b) < 0.01)
		return "";
	return page_text(p, "%s: %s for the first, %s for the second, by this alone",
	    k->causes[f->cause].title, say_percent(p, f->p_a), say_percent(p, f->p_b));
}

static void say_process(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	size_t n = 0;

	page_section(p, "What differed in the process");
	for (size_t i = 0; i < c->n_facts && (n < MOST_FACTS || p->look->verbose); i++) {
		const struct ab_compare_fact *f = &c->facts[i];
		const struct ab_fact_def *def = &k->facts->defs[f->slot];
		const char *why = speaks(p, k, f);

		if (!worth_a_line(p, f))
			continue;
		n++;
		page_item(p, 2, "*", PLAIN);
		page_say(p, LOUD, page_text(p, "%c%s", toupper((unsigned char)def->title[0]), def->title + 1));
		page_say(p, PLAIN, page_text(p, ": %s, then %s.", value(p, def, &c->a->facts[f->slot]),
		    value(p, def, &c->b->facts[f->slot])));
		if (*why != '\0')
			page_say(p, QUIET, page_text(p, " %s.", why));
		page_end(p);
	}
	if (n == 0)
		page_para(p, 2, PLAIN, "Nothing that is written of both and would matter.");
	page_para(p, 2, QUIET, page_text(p, "Of the other facts %zu differ without mattering here%s, %zu are alike "
	    "within what they may be off by, and %zu are written of one batch only.", c->n_facts - n,
	    p->look->verbose || c->n_facts == n ? "" : " (--all shows them)", c->same, c->one_sided));
}

/* Perhaps the greatest difference of all: nobody knows. */
static void say_untold(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	size_t n = 0;

	for (size_t i = 0; i < c->n_untold && n < MOST_UNTOLD; i++) {
		const struct ab_compare_fact *f = &c->untold[i];
		const struct ab_fact_def *def = &k->facts->defs[f->slot];
		bool of_a = AB_FACT_KNOWN(&c->a->facts[f->slot]);
		const struct ab_case *told = of_a ? c->a : c->b, *not_told = of_a ? c->b : c->a;
		if (f->cause < 0 || fabs(f->p_a - f->p_b) < WORTH)
			continue;
		if (n++ == 0)
			page_section(p, "What may have differed, and is known of one only");
		page_point(p, 2, "*", PLAIN,
		    page_text(p, "%s: %s in %s, not known of %s. It bears on: %s.", say_capital(p, def->title),
			value(p, def, &told->facts[f->slot]), told->batch->id, not_told->batch->id,
			say_lower(p, k->causes[f->cause].title)));
	}
}

static void say_causes(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	size_t n = c->n_causes < MOST_CAUSES || p->look->verbose ? c->n_causes : MOST_CAUSES;

	if (n == 0)
		return;
	page_section(p, "What is blamed, in one more than in the other");
	for (size_t i = 0; i < n; i++)
		page_point(p, 2, "*", PLAIN, page_text(p, "%s: %s in %s, %s in %s",
		    k->causes[c->causes[i].cause].title, say_percent(p, c->causes[i].a), c->a->batch->id,
		    say_percent(p, c->causes[i].b), c->b->batch->id));
}

/* Two beers differ by their recipe first: that is no finding, and is said. */
static bool one_line(const struct ab_comparison *c)
{
	const char *a = c->a->batch->line, *b = c->b->batch->line;

	return a != NULL && b != NULL && strcmp(a, b) == 0;
}

static bool is_one_wort(const struct ab_comparison *c)
{
	const char *a = c->a->batch->wort, *b = c->b->batch->wort;

	return a != NULL && b != NULL && strcmp(a, b) == 0;
}

void report_compare_text(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	page_title(p, page_text(p, "%s (%s) beside %s (%s)", c->a->batch->id,
	    say_date(p, c->a->batch->brewed.s), c->b->batch->id, say_date(p, c->b->batch->brewed.s)));
	if (is_one_wort(c))
		page_para(p, 0, PLAIN,
		    "Both are of one wort: what differs in the glass came after it was split, and what differs "
		    "in mash, boil or recipe is a slip of the pen.");
	else if (!one_line(c))
		page_para(p, 0, CAREFUL, "These are not written as brews of one line: much of what differs may "
		    "be the recipe.");
	say_glass(p, k, c);
	report_marked_bottles(p, k, c->a->batch);
	report_marked_bottles(p, k, c->b->batch);
	say_process(p, k, c);
	say_untold(p, k, c);
	say_causes(p, k, c);
	page_gap(p);
	page_para(p, 0, QUIET, "Two batches prove nothing by themselves; brew the likeliest difference the other "
	    "way and taste again (afterboil panel helps to taste blind).");
}
