/* overview.h - the report page: everything there is to see of a brewer's batches, as one HTML file
 *
 * The page stands alone: no script is needed to read it, nothing is fetched. It holds what can hurt, what to do
 * next and when; the plan, how often each of it stays, what each budget buys, and its cautions (at the end, before
 * anything was tasted); the trend of two batches and more (loads and the faults they are made of, each change with
 * its promise beside what came, measured habits, what bad batches share); the last two brews of a line; the newest
 * tasted batches with their figures (causes, temperature, gravity, what was done when, oxygen, pressure). Every
 * figure has a text equivalent and its numbers in a table; the words of the other reports unfold under the figures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_OVERVIEW_H
#define AFTERBOIL_OVERVIEW_H

#include <afterboil/report.h>

/* All borrowed. cases: in order of brew date, all of the folder; those in shown (n_shown places in cases,
 * newest first) are told in full and need a diagnosis with reasons. profile, advice and trend may be NULL:
 * then their parts are left out. */
struct ab_overview {
	const struct ab_knowledge *k;
	const struct ab_profile *profile;
	struct ab_case *const *cases; size_t n_cases;
	const size_t *shown; size_t n_shown;
	const struct ab_advice *advice;
	const struct ab_trend *trend; const struct ab_trend_batch *batches; size_t n_batches;
	const struct ab_promise *promises; size_t n_promises;
	const struct ab_comparison *comparison;   /* of the last two brews of a line; NULL: left out */
};

/* look->format is not asked: the page is HTML. The caller frees *out with ab_report_free. AB_ENOMEM. */
enum ab_status ab_report_overview(const struct ab_overview *o, const struct ab_look *look, char **out,
    struct ab_diag *diag);

#endif
