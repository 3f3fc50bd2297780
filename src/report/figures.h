/* figures.h - the figures of the report page
 *
 * Each draws one thing and its table, or nothing where there is nothing to draw; then it returns false.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_FIGURES_H
#define AB_REPORT_FIGURES_H

#include <afterboil/overview.h>
#include "report/reports.h"
#include "report/svg.h"

/* One batch. n: number of the batch on the page, for ids. */
struct batch_figures {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_profile *profile;
	const struct ab_case *c;
	int n;
};
bool figure_temperature(const struct batch_figures *b);
bool figure_gravity(const struct batch_figures *b);
bool figure_touches(const struct batch_figures *b);
bool figure_oxygen(const struct batch_figures *b);
bool figure_pressure(const struct batch_figures *b);
bool figure_causes(const struct batch_figures *b);

/* What each sum brings of what costs money, the plan, and what each budget buys; the slider's numbers stand in the
 * frontier's table. */
bool figure_worth(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);
bool figure_plan(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);
bool figure_frontier(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);

/* Cautions of what the plan holds, by its numbers; no figure. */
bool figure_cautions(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);

/* The flaw load batch after batch, changes marked by their numbers among the trend's. */
bool figure_loads(struct page *p, const struct ab_overview *o);
/* The faults it is made of, a row each. */
bool figure_faults(struct page *p, const struct ab_overview *o);
/* The load before and after each change, with what was promised. */
bool figure_changes(struct page *p, const struct ab_overview *o);
/* A control chart for each measured habit. */
bool figure_habits(struct page *p, const struct ab_overview *o);
/* What the bad batches share: a figure where something stands out, else its table alone (false then, too). */
bool figure_common(struct page *p, const struct ab_trend *trend);
/* The faults of two brews side by side. */
bool figure_brews(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c);

/* The top of the page: the sum of it, what to do next and when, what can hurt, and where to find the rest. */
void overview_top(struct page *p, const struct ab_overview *o);

/* One batch alone is no course of things. */
bool overview_has_trend(const struct ab_overview *o);

/* The notes of its journal, in the brewer's own words; false when there are none. */
bool overview_notes(struct page *p, const struct ab_batch *batch);

/* For figures of a batch: hours from pitching (from 18:00 of the brew day where it is not told), NAN unknown. */
double figure_hours(const struct ab_batch *batch, const struct ab_when *when);
/* An id no other figure of the page has. */
const char *figure_id(const struct batch_figures *b, const char *what);
/* A known fact of the case by name, or NULL. */
const struct ab_fact *figure_fact(const struct batch_figures *b, const char *name);
/* A temperature in the brewer's unit, and that unit. */
double figure_temp(const struct page *p, double c);
const char *figure_temp_unit(const struct page *p);

#endif
