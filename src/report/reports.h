/* reports.h - what the files of this room hand to each other
 *
 * To add a report: 1. a function here that fills a page, in a file X_text.c; 2. its twin in X_json.c; 3. an
 * entry in include/afterboil/report.h and a line in report.c that calls the right one; 4. a row in
 * tests/unit/check_report.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_REPORTS_H
#define AB_REPORT_REPORTS_H

#include <jansson.h>
#include <afterboil/elimination.h>
#include <afterboil/report.h>
#include "report/layout.h"

/* The line that says which batch this is about: "Diagnosis of batch 7, ...". */
void report_heading(struct page *p, const struct ab_case *c, const char *what);
/* Is it begun on paper only, and nothing told of how it tastes? */
bool report_on_paper(const struct ab_case *c);
/* a: the advice over all batches it was read with, or NULL. */
void report_diagnosis_text(
    struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a);
/* The same without its heading. */
void report_diagnosis_body(
    struct page *p, const struct ab_knowledge *k, const struct ab_case *c, const struct ab_advice *a);
/* For the end of an interview. */
void report_diagnosis_short(struct page *p, const struct ab_knowledge *k, const struct ab_case *c);
/* What stands once under all of them. */
void report_diagnosis_end(struct page *p, const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_advice *a);
void report_facts_text(struct page *p, const struct ab_knowledge *k, const struct ab_case *c);
/* One step of nextstep.h: "Wait", "Next brew"; and what to do, a sentence that goes on after it. */
/* The sugar of a beer about to be bottled, with its band and its caution, or why it is not said; "" where it is not
 * asked. BATCH stands for the batch in what to type. */
const char *report_priming(struct page *p, const struct ab_priming *s);
/* The same for a page that is printed before anybody knows: how much it will be once it is done, if nothing but
 * time stands against it now. */
const char *report_priming_ahead(struct page *p, const struct ab_priming *now, const struct ab_priming *once_done);
/* Why readings say that it is not done, "still falling (...): read it again. "; "" where they do not. */
const char *report_unready(struct page *p, const struct ab_priming *s);
/* The text with the batch's name for BATCH. */
const char *report_named(struct page *p, const char *text, const char *batch);
/* What to type when the touch is done: "afterboil log own-1 wort 20 C"; "" where the rules do not tell. */
const char *report_tell(struct page *p, const char *tell, const char *batch);
/* "bottles of pale-3, stout-2 and 2 more may burst", and what to do today. */
const char *report_may_burst(
    struct page *p, const struct ab_batch *first, const struct ab_batch *const *also, size_t n, size_t more);
/* Of a change to begin: the brew and its day, as in "pale-4 on 2031-03-08", what of it is known; "" of other steps. */
const char *report_step_brew(struct page *p, const struct ab_next_step *step);
const char *report_step_lead(struct page *p, const struct ab_next_step *step);
const char *report_step_words(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s);
void report_steps(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, size_t most);
/* Of the change on trial, or NULL. */
const char *report_step_caution(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_next_step *s);
/* How a change is done, with what this brewer's room makes of it; "" where the rules do not tell. a: NULL = of
 * nobody. */
const char *report_how(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, int change);
/* Short "begun", "owned", "$60", "$30/y" for what costs nothing now, "free"; in full to buy, to run and in time:
 * "$60, $28 a year, saves 5 minutes". */
enum report_price { REPORT_SHORT, REPORT_IN_FULL };
const char *report_price(struct page *p, const struct ab_item *item, enum report_price how);
/* ", which you found" (a gravity is not tasted), named in the profile alone, or that it is gone; "" for what was
 * never found. */
const char *report_tasted(const struct ab_because *because);
/* That what it is against is on trial already, with a blank before it; "" where it is not. */
const char *report_under(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *step);
/* Why a free change goes before the purchase of the plan that does the same, or what helps out until a purchase is
 * there, with a blank before it; "" for any other. */
const char *report_stands_for(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_item *item);
/* For each burden that was named a section, with what takes some of it. */
void report_advice_eases(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a);
/* What the change to begin with eases, as a sentence with a blank behind it; "" where next_eases is none. */
const char *report_eases(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a);
/* That a purchase of the plan is not firm, and what a cheaper plan does without it, as a paragraph; nothing where
 * there is none. */
void report_cheaper(struct page *p, int indent, const struct ab_knowledge *k, const struct ab_advice *a);
/* What came of the changes that were made; nothing when none taught anything (all of them where the look is
 * verbose). */
void report_advice_learned(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);
/* What it would bring, what each budget would, how sure that is; what is likely to strike, when asked for. */
void report_advice_outlook(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);
/* Less than this share of the load now is almost nothing: no reason to spend (estimate; what the planner
 * itself holds too small to buy). */
#define REPORT_ALMOST_NOTHING 0.02
/* The step of the frontier from which on more money than the budget buys more than that; -1: none. */
int report_worth_more(const struct ab_advice *advice);
/* Of a change that was made what it is told by, or NULL; "tried from 2031-03-07: did not hold as promised", "since
 * ...". */
const struct ab_tried *report_tried(const struct ab_advice *advice, int change);
const char *report_tried_words(struct page *p, const struct ab_tried *tried);
/* A check, or the question a fact is asked by; and its time and money. */
const char *report_ask(struct page *p, const struct ab_knowledge *k, const struct ab_ask *ask);
const char *report_ask_takes(struct page *p, const struct ab_ask *ask);
/* What to find out before anything is bought; nothing where there is nothing. */
void report_first_check(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a);
void report_advice_text(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice);
void report_trend_text(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches,
    size_t n, const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises);
/* The whole history in a few sentences; nothing below four tasted batches. */
void report_trend_story(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend);
/* The section of the trend on measured habits; nothing when none is charted. */
void report_trend_charts(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches,
    const struct ab_trend *trend);
/* Verdicts that later batches spoke against; nothing when there are none. */
void report_trend_revisions(struct page *p, const struct ab_knowledge *k, const struct ab_trend *trend);
/* What each tasting of bottles without a mark found, in the order of time; nothing where all are of one day. */
void report_tastings(struct page *p, const struct ab_knowledge *k, const struct ab_batch *b);
/* What is left of the suspects where one fault comes again and again; nothing where e is NULL or empty. */
void report_elimination(struct page *p, const struct ab_knowledge *k, const struct ab_elimination *e);
/* Bottles marked at filling beside those without a mark; nothing where there is no mark. */
void report_marked_bottles(struct page *p, const struct ab_knowledge *k, const struct ab_batch *b);
void report_compare_text(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c);
void report_calendar_text(struct page *p, const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w);
/* Every touch that is to do, in order of time. begins_s: wall clock; what falls on one day follows each other, and
 * a long evening ends after midnight. */
struct calendar_row { const struct ab_calendar_of *of; const struct ab_calendar_touch *t; double begins_s; };
struct calendar_row *report_calendar_rows(
    const struct ab_calendar_of *of, size_t n, struct ab_arena *arena, size_t *n_rows);
void report_panel_text(struct page *p, const struct ab_panel *panel);
/* The i-th kind of rule that can be listed, NULL beyond the last. */
const char *report_rules_kind(size_t i);
void report_rules_list(struct page *p, const struct ab_knowledge *k, const char *kind);
/* False when nothing has this id. */
bool report_rules_explain(struct page *p, const struct ab_knowledge *k, const char *id);

/* NULL when memory is short. */
json_t *report_diagnosis_json(const struct ab_knowledge *k, const struct ab_case *c);
json_t *report_facts_json(const struct ab_knowledge *k, const struct ab_case *c);
json_t *report_advice_json(const struct ab_knowledge *k, const struct ab_advice *advice);
json_t *report_eases_json(const struct ab_knowledge *k, const struct ab_advice *a);
json_t *report_tried_json(const struct ab_knowledge *k, const struct ab_advice *advice);
json_t *report_turned_json(const struct ab_knowledge *k, const struct ab_turned *turned);
json_t *report_trend_json(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises);
/* The promise made for this change, or NULL. */
const struct ab_promise *report_promise(const struct ab_promise *promises, size_t n, const char *change);
json_t *report_compare_json(const struct ab_knowledge *k, const struct ab_comparison *c);
json_t *report_calendar_json(const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w);
enum ab_status report_calendar_ics(
    const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *w, char **out, struct ab_diag *diag);
json_t *report_panel_json(const struct ab_panel *panel);
json_t *report_rules_json(const struct ab_knowledge *k, const char *kind);

#endif
