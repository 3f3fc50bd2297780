/* elimination_text.c - what is left of the suspects when one fault comes again and again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include "report/saying.h"

enum { MOST_CAUSES = 3 };

/* What every clean batch had, too, is not it by itself. */
static bool in_all_clean(const struct ab_elim_thing *t)
{
	return t->clean > 0 && t->clean_with == t->clean;
}

/* "siphon old; wand w1 (in 3 of 5 clean ones, too)". */
static const char *left_words(struct page *p, const struct ab_elimination *e, bool all_clean)
{
	const char *all = "";

	for (size_t i = 0; i < e->n_left; i++) {
		const struct ab_elim_thing *t = &e->left[i];
		const char *clean = all_clean || t->clean == 0 ? ""
		    : t->clean_with == 0
		    ? page_text(p, " (in none of %s)", say_count(p, t->clean, "clean one", "clean ones"))
		    : page_text(p, " (in %zu of %s, too)", t->clean_with,
			  say_count(p, t->clean, "clean one", "clean ones"));

		if (in_all_clean(t) == all_clean)
			all = page_text(p, "%s%s%s %s%s", all, *all == '\0' ? "" : "; ", t->factor, t->values, clean);
	}
	return all;
}

static const char *out_words(struct page *p, const struct ab_elimination *e)
{
	const char *all = "";

	for (size_t i = 0; i < e->n_out; i++)
		all = page_text(p, "%s%s%s (%s)", all, *all == '\0' ? "" : "; ", e->out[i].factor, e->out[i].values);
	return all;
}

/* Causes are said as elsewhere, by their titles. */
static const char *cause_words(
    struct page *p, const struct ab_knowledge *k, const struct ab_elim_cause *causes, size_t n)
{
	const char *all = "";

	for (size_t i = 0; i < n && i < MOST_CAUSES; i++) {
		const char *title = say_lower(p, k->causes[causes[i].cause].title),
			   *share = say_percent(p, causes[i].share);

		all = page_text(p, "%s%s%s (%s)", all, *all == '\0' ? "" : "; ", title,
		    causes[i].batch == NULL ? page_text(p, "%s or more to blame in each", share)
					    : page_text(p, "%s to blame in %s", share, causes[i].batch));
	}
	return all;
}

static void say_point(struct page *p, const char *lead, const char *what)
{
	if (*what != '\0')
		page_point(p, 2, "*", PLAIN, page_text(p, "%s %s.", lead, what));
}

void report_elimination(struct page *p, const struct ab_knowledge *k, const struct ab_elimination *e)
{
	if (e == NULL || e->n_left + e->n_out + e->n_causes + e->n_out_causes == 0)
		return;
	const char *open = left_words(p, e, false);
	page_section(p, "What is left of the suspects");
	page_para(p, 2, PLAIN, page_text(p, "%s came in %zu of %s since %s.", k->faults[e->fault].title, e->with,
	    say_count(p, e->tasted, "tasted batch", "tasted batches"), e->since));
	say_point(p, "Not one of these alone, for it came with each:", out_words(p, e));
	say_point(p, "Not this every time:", cause_words(p, k, e->out_causes, e->n_out_causes));
	say_point(p, "Not this by itself, for clean ones had it, too:", left_words(p, e, true));
	say_point(p, "The same every time, so still open:", open);
	say_point(p, "May have done it every time:", cause_words(p, k, e->causes, e->n_causes));
	if (e->n_left == 0)
		page_para(p, 2, PLAIN,
		    "No piece of kit that has a name in the journals was the same every time. Name fermenters, "
		    "hoses and wands (id=\"red\"), so that they can be told apart.");
	page_para(p, 2, QUIET,
	    page_text(p, "%sTwo things that are both bad escape this, and so does what no journal names.",
		*open == '\0'
		    ? ""
		    : "Next brew: change one thing that is still open, and nothing else. If the fault comes all "
		        "the same, "
		      "that one is out, too. "));
}
