/* overview.c - the report page: its order
 *
 * What to do next comes first, then the plan it is taken from, then how it goes, then the newest batches; in each part
 * the figures come before the words, and whoever unfolds them finds all that the other commands would say.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/overview.h>

#include <math.h>

#include "report/figures.h"
#include "report/page_style.h"
#include "report/saying.h"

/* ---- markup ---- */

static void put(struct page *p, const char *markup)
{
	page_end(p);
	ab_str_add(&p->out, markup);
}

static void open_section(struct page *p, const char *id)
{
	page_end(p);
	ab_str_addf(&p->out, "<section id=\"%s\">\n", id);
}

static void close_section(struct page *p)
{
	put(p, "<p class=\"up\"><a href=\"#top\">To the top</a></p>\n</section>\n");
}

/* Headings of other reports stand a step lower in here. */
static void open_words(struct page *p, const char *summary)
{
	put(p, "<details class=\"words\"><summary>");
	page_escaped(p, summary);
	ab_str_add(&p->out, "</summary>\n");
	p->level = 2;
}

static void close_words(struct page *p)
{
	put(p, "</details>\n");
	p->level = 1;
}

/* ---- the trend ---- */

/* Called better or worse only when the whole likely range lies on one side of 0. */
static void say_slope(struct page *p, const struct ab_trend *t)
{
	if (isnan(t->slope_per_batch))
		page_para(p, 0, PLAIN, "Too few tasted batches to tell: four are needed.");
	else if (t->slope_high < 0)
		page_para(p, 0, GOOD, "Yes: your beer is getting better.");
	else if (t->slope_low > 0)
		page_para(p, 0, BAD, "No: your beer is getting worse.");
	else
		page_para(p, 0, PLAIN, "No clear trend yet.");
}

static void tell_trend(struct page *p, const struct ab_overview *o)
{
	if (!overview_has_trend(o))
		return;
	open_section(p, "trend");
	page_title(p, "Is it getting better?");
	say_slope(p, o->trend);
	report_trend_story(p, o->k, o->batches, o->n_batches, o->trend);
	put(p, "<div class=\"two\">\n<div>\n");
	figure_loads(p, o);
	figure_changes(p, o);
	put(p, "</div>\n<div>\n");
	figure_faults(p, o);
	put(p, "</div>\n</div>\n");
	if (o->trend->n_charts > 0) {
		page_section(p, "Your habits, measured");
		page_para(p, 0, QUIET,
		    "A steady habit may still be a bad one; these figures only show whether it moved.");
		put(p, "<div class=\"few\">\n");
		figure_habits(p, o);
		put(p, "</div>\n");
	}
	if (o->trend->n_common > 0) {
		page_section(p, "What the bad batches share");
		figure_common(p, o->trend);
	}
	report_trend_revisions(p, o->k, o->trend);
	open_words(p, "The trend in words, and every batch");
	report_trend_text(p, o->k, o->batches, o->n_batches, o->trend, o->promises, o->n_promises);
	close_words(p);
	close_section(p);
}

/* ---- two brews of a line ---- */

static void tell_brews(struct page *p, const struct ab_overview *o)
{
	const struct ab_comparison *c = o->comparison;

	if (c == NULL)
		return;
	open_section(p, "brews");
	page_title(p, page_text(p, "The last two brews of %s", c->b->batch->line));
	if (c->n_faults == 0)
		page_para(p, 0, GOOD,
		    page_text(p, "Nothing was found in %s nor in %s.", c->a->batch->id, c->b->batch->id));
	figure_brews(p, o->k, c);
	open_words(p, "What differed between them, in words");
	report_compare_text(p, o->k, c);
	close_words(p);
	close_section(p);
}

/* ---- a batch ---- */

/* Long on a phone: folded where a fault was found and its causes stand before it, but open on paper. */
static void tell_course(const struct batch_figures *b, bool folded)
{
	put(b->p,
	    folded
		? "<details class=\"part\"><summary>Its course in drawings: temperature, gravity, what was done "
		    "when, oxygen, "
		  "pressure</summary>\n"
		: "<div class=\"two\">\n");
	figure_temperature(b);
	figure_gravity(b);
	figure_touches(b);
	figure_oxygen(b);
	figure_pressure(b);
	put(b->p, folded ? "</details>\n" : "</div>\n");
}

static void tell_batch(struct page *p, const struct ab_overview *o, size_t which, int n)
{
	const struct batch_figures b = { p, o->k, o->profile, o->cases[which], n };
	bool found = !b.c->diagnosis->nothing_found, paper = report_on_paper(b.c);

	open_section(p, page_text(p, "batch-%d", n));
	report_heading(p, b.c, b.c->tasted ? "Diagnosis" : paper ? "Journal" : "Course");
	put(p, found ? "<div class=\"two\">\n<div>\n" : "");
	if (found) {
		figure_causes(&b);
		tell_course(&b, true);
		put(p, "</div>\n<div>\n");
	}
	report_diagnosis_body(p, o->k, b.c, o->advice);
	overview_notes(p, b.c->batch);
	put(p, found ? "</div>\n</div>\n" : "");
	if (!found && !paper)
		tell_course(&b, false);
	close_section(p);
}

/* ---- the plan ---- */

static void tell_plan(struct page *p, const struct ab_overview *o)
{
	if (o->advice == NULL)
		return;
	open_section(p, "plan");
	page_title(p, "The plan");
	if (o->advice->reason != NULL)
		page_para(p, 0, PLAIN, o->advice->reason);
	report_advice_eases(p, o->k, o->advice);
	put(p, "<div class=\"two\">\n<div>\n");
	figure_plan(p, o->k, o->advice);
	report_cheaper(p, 0, o->k, o->advice);
	page_end(p);
	put(p, "</div>\n<div>\n");
	figure_frontier(p, o->k, o->advice);
	figure_worth(p, o->k, o->advice);
	put(p, "</div>\n</div>\n");
	figure_cautions(p, o->k, o->advice);
	open_words(p, "The plan in words: why each, how sure, and what else there is");
	report_advice_text(p, o->k, o->advice);
	close_words(p);
	close_section(p);
}

static bool any_tasted(const struct ab_overview *o)
{
	for (size_t i = 0; i < o->n_cases; i++)
		if (o->cases[i]->tasted)
			return true;
	return false;
}

enum ab_status ab_report_overview(const struct ab_overview *o, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct ab_look html = *look;
	struct page p;

	html.format = AB_HTML;
	html.unicode = true;
	page_start_with(&p, &html, "Your beer: a report", page_style);
	overview_top(&p, o);
	put(&p, "<main>\n");
	p.level = 1;
	if (any_tasted(o))
		tell_plan(&p, o);
	tell_trend(&p, o);
	tell_brews(&p, o);
	for (size_t i = 0; i < o->n_shown; i++)
		tell_batch(&p, o, o->shown[i], (int)i + 1);
	if (!any_tasted(o))   /* then it holds only what is usual */
		tell_plan(&p, o);
	page_para(&p, 0, QUIET,
	    "Percentages, loads and ranges are estimates from the strengths that the rules state, and "
	    "from few batches. Cautions defer to your local codes and to who is licensed for gas, electricity "
	    "and pressure.");
	put(&p, "</main>\n");
	ab_str_add(&p.out, page_script);
	return page_finish(&p, out, diag);
}
