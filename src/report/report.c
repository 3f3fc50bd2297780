/* report.c - which report in which format
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json.h"
#include "report/reports.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"

/* What differs between diagnosis and facts is one function each; all else is shared below. */
typedef void case_page(
    struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a);
typedef json_t *case_data(const struct ab_knowledge *k, const struct ab_case *c);

/* One batch is an object, several an array (the manual says so): who asks for one wants no list. */
static enum ab_status cases_as_data(case_data *data, const struct ab_knowledge *k,
    struct ab_case *const *cases, size_t n, char **out, struct ab_diag *diag)
{
	json_t *document = n == 1 ? data(k, cases[0]) : json_array();
	for (size_t i = 0; n != 1 && i < n; i++)
		document = json_add(document, data(k, cases[i]));
	return json_finish(document, false, out, diag);
}

/* advice: NULL = none. */
struct shown { const struct ab_knowledge *k; struct ab_case *const *cases; size_t n; const struct ab_advice *advice; };

/* The closing words belong to the diagnosis alone, once for all cases. */
static enum ab_status cases_as_page(case_page *fill, const char *title, const struct shown *s,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, title);
	for (size_t i = 0; i < s->n; i++) {
		page_gap(&p);
		fill(&p, s->k, s->cases[i], s->advice);
	}
	if (fill == report_diagnosis_text)
		report_diagnosis_end(&p, s->k, s->cases, s->n, s->advice);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_diagnoses(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_advice *advice, const struct ab_look *look, char **out, struct ab_diag *diag)
{
	return look->format == AB_JSON ? cases_as_data(report_diagnosis_json, k, cases, n, out, diag)
				       : cases_as_page(report_diagnosis_text, "Diagnosis",
					     &(struct shown){ k, cases, n, advice }, look, out, diag);
}

/* Compact, so that one case is one line whatever it holds: line breaks in texts are escaped by JSON. */
enum ab_status ab_report_diagnosis_line(
    const struct ab_knowledge *k, const struct ab_case *c, char **out, struct ab_diag *diag)
{
	return json_finish(report_diagnosis_json(k, c), true, out, diag);
}

static void facts_page(struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a)
{
	(void)a;
	report_facts_text(p, k, c);
}

enum ab_status ab_report_facts(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	return look->format == AB_JSON
	    ? cases_as_data(report_facts_json, k, cases, n, out, diag)
	    : cases_as_page(facts_page, "Facts", &(struct shown){ k, cases, n, NULL }, look, out, diag);
}

/* JSON goes first and alone: a page would cost an arena and a walk for nothing. */
enum ab_status ab_report_advice(const struct ab_knowledge *k, const struct ab_advice *advice,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	if (look->format == AB_JSON)
		return json_finish(report_advice_json(k, advice), false, out, diag);
	page_start(&p, look, "Advice");
	report_advice_text(&p, k, advice);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_steps(const struct ab_knowledge *k, const struct ab_advice *advice, size_t most,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Next");
	report_steps(&p, k, advice, most);
	return page_finish(&p, out, diag);
}

/* NULL: nothing was promised for that change. */
const struct ab_promise *report_promise(const struct ab_promise *promises, size_t n, const char *change)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(promises[i].change, change) == 0)
			return &promises[i];
	return NULL;
}

/* Promises are optional and looked up by change, because the trend itself knows nothing of advice. */
enum ab_status ab_report_trend(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	if (look->format == AB_JSON)
		return json_finish(report_trend_json(k, batches, n, trend, promises, n_promises),
		    false, out, diag);
	page_start(&p, look, "Trend");
	report_trend_text(&p, k, batches, n, trend, promises, n_promises);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_compare(const struct ab_knowledge *k, const struct ab_comparison *comparison,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	if (look->format == AB_JSON)
		return json_finish(report_compare_json(k, comparison), false, out, diag);
	page_start(&p, look, "Two brews");
	report_compare_text(&p, k, comparison);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_calendar(const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *words,
    const struct ab_look *look, char **out, struct ab_diag *diag)
{
	struct page p;
	if (look->format == AB_JSON)
		return json_finish(report_calendar_json(of, n, words), false, out, diag);
	if (look->format == AB_ICS)
		return report_calendar_ics(of, n, words, out, diag);
	page_start(&p, look, "Calendar");
	report_calendar_text(&p, of, n, words);
	return page_finish(&p, out, diag);
}

enum ab_status ab_report_panel(const struct ab_panel *panel, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	if (look->format == AB_JSON)
		return json_finish(report_panel_json(panel), false, out, diag);
	page_start(&p, look, "Blind tasting");
	report_panel_text(&p, panel);
	return page_finish(&p, out, diag);
}

static enum ab_status no_such_kind(const char *kind, struct ab_diag *diag)
{
	char all[200] = "";
	size_t at = 0;
	for (size_t i = 0; report_rules_kind(i) != NULL && at < sizeof all; i++)
		at += (size_t)snprintf(all + at, sizeof all - at, "%s%s", i > 0 ? ", " : "", report_rules_kind(i));
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "there is no kind of rule \"%.40s\"; allowed are %s", kind, all);
}

enum ab_status ab_report_rules_list(
    const struct ab_knowledge *k, const char *kind, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	const char *found = NULL;
	*out = NULL;
	for (size_t i = 0; kind != NULL && found == NULL && report_rules_kind(i) != NULL; i++)
		if (ab_word_cmp(report_rules_kind(i), kind) == 0)
			found = report_rules_kind(i);
	if (kind != NULL && found == NULL)
		return no_such_kind(kind, diag);
	if (look->format == AB_JSON)
		return json_finish(report_rules_json(k, found), false, out, diag);
	page_start(&p, look, "Rules");
	report_rules_list(&p, k, found);
	return page_finish(&p, out, diag);
}

/* Near words come from the faults' vocabulary: that is where people mistype. */
static enum ab_status no_such_rule(const struct ab_knowledge *k, const char *id, struct ab_diag *diag)
{
	const char *near[3] = { NULL };
	size_t n = 0;
	ab_fault_word(k, id, near, 3, &n);
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "no fault, cause, change, check, chore or thing is called \"%.40s\"%s%s%s; \"afterboil rules "
	    "list\" shows them all", id, n > 0 ? "; near it: \"" : "", n > 0 ? near[0] : "",
	    n > 0 ? "\"" : "");
}

/* Written first and thrown away when nothing was found: to ask beforehand would be the same four
 * searches. */
enum ab_status ab_report_rules_explain(
    const struct ab_knowledge *k, const char *id, const struct ab_look *look, char **out,
    struct ab_diag *diag)
{
	struct page p;
	page_start(&p, look, "Rule explained");
	bool found = report_rules_explain(&p, k, id);
	enum ab_status st = page_finish(&p, out, diag);
	if (st != AB_OK || found)
		return st;
	ab_report_free(*out);
	*out = NULL;
	return no_such_rule(k, id, diag);
}
