/* report.h - finished results as text, JSON and HTML. Renders, decides nothing.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_REPORT_H
#define AFTERBOIL_REPORT_H

#include <afterboil/advice.h>
#include <afterboil/batchplan.h>
#include <afterboil/casework.h>
#include <afterboil/compare.h>
#include <afterboil/history.h>
#include <afterboil/interview.h>
#include <afterboil/panel.h>
#include <afterboil/sheet.h>
#include <afterboil/trend.h>

enum ab_format { AB_TEXT, AB_JSON, AB_HTML, AB_ICS };   /* ICS: a calendar only */

struct ab_look {
	enum ab_format format;
	int width;              /* columns, 40..200 */
	bool color;             /* ANSI colours */
	bool unicode;           /* bars and dots beyond ASCII allowed */
	bool us_units;          /* F, gal, oz in text */
	bool verbose;           /* all suspects, all reasons */
	const char *currency;   /* sign put before money in text */
};

/* A finished report is one text the caller frees with ab_report_free (NULL is fine); *out is NULL where it fails.
 * Many results make one document (JSON: an array when several). Borrowed is all else. Where nothing else is said,
 * AB_ENOMEM is the one error. */
void ab_report_free(char *text);

/* advice: over all the batches there are, so that the cure told is the plan's; NULL = the rules' own. */
enum ab_status ab_report_diagnoses(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_advice *advice, const struct ab_look *look, char **out, struct ab_diag *diag);
/* One JSON object on one line, for streams. */
enum ab_status ab_report_diagnosis_line(const struct ab_knowledge *k, const struct ab_case *c, char **out,
    struct ab_diag *diag);
enum ab_status ab_report_facts(const struct ab_knowledge *k, struct ab_case *const *cases, size_t n,
    const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_advice(const struct ab_knowledge *k, const struct ab_advice *advice,
    const struct ab_look *look, char **out, struct ab_diag *diag);
/* A profile said back, a line a thing: what each was taken for, and what comes of it. Text and HTML. */
struct ab_understood {
	const struct ab_profile *profile;
	const struct ab_advice *advice;   /* by that profile */
	const struct ab_case *usual;      /* of a batch that tells nothing: what is known of it are the habits */
	const struct ab_fact *without;    /* of such a batch where there is no profile */
	const struct ab_unreckoned *unreckoned; size_t n_unreckoned;   /* of <usual>, with the facts of usual */
	const struct ab_days *days; bool days_told;                    /* of the profile, from any day on */
};
enum ab_status ab_report_profile(const struct ab_knowledge *k, const struct ab_understood *understood,
    const struct ab_look *look, char **out, struct ab_diag *diag);
/* What to do now, next and then (the steps of the advice), at most so many: text and HTML; no JSON, which advice
 * has. */
enum ab_status ab_report_steps(const struct ab_knowledge *k, const struct ab_advice *advice, size_t most,
    const struct ab_look *look, char **out, struct ab_diag *diag);
/* What advice had promised for a change when it was given (ab_history_promise): loads per batch before and
 * with it, or, not alone, with the whole plan. */
struct ab_promise { const char *change; double load_before, load_after; bool alone; };
/* promises may be NULL when n_promises is 0. */
enum ab_status ab_report_trend(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, const struct ab_promise *promises, size_t n_promises,
    const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_compare(const struct ab_knowledge *k, const struct ab_comparison *comparison,
    const struct ab_look *look, char **out, struct ab_diag *diag);
/* A calendar of one or several batches, in any of the formats. ICS is iCalendar (RFC 5545): an event a touch, in
 * floating local time, with an alarm when it is due and one on the last day it may wait. What is done is an event
 * without alarms, what is over a cancelled one: with the same UID they take the place of those of an earlier
 * calendar. key names the batch in the UIDs: the same whenever it is planned, and of no other batch. stamp_s is
 * now, seconds since 1970 in UTC; today_s the day it is for. name: of the batch; beer may be NULL. */
struct ab_calendar_of { const struct ab_batchplan *plan; const char *name, *beer, *key; };
struct ab_calendar_words {
	bool days_told;
	double stamp_s, today_s;
	const struct ab_batch *const *asleep; size_t n_asleep;   /* left out, since nothing was written for long */
	const struct ab_batch *const *ahead; size_t n_ahead;     /* left out, dated ahead by a slip */
	const struct ab_batch *const *bursting;
	size_t n_bursting; /* whose bottles may burst, newest first; planned or not */
	bool as_of;                                              /* today_s is the last day written, not the clock's */
};
enum ab_status ab_report_calendar(const struct ab_calendar_of *of, size_t n, const struct ab_calendar_words *words,
    const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_panel(const struct ab_panel *panel, const struct ab_look *look, char **out,
    struct ab_diag *diag);
/* What an interview says, piece by piece, as text: how it goes; the question; why it is asked; which words there
 * are for what is tasted; what the last answer moved (empty when nothing); that an answer was not understood; the
 * alarm for bursting bottles (empty when there is none); why no more is asked; the end of it with the diagnosis of
 * c (that of the interview, with its likely ranges). */
enum ab_status ab_report_greeting(const struct ab_interview *iv, size_t questions, const struct ab_look *look,
    char **out, struct ab_diag *diag);
enum ab_status ab_report_question(const struct ab_interview *iv, size_t questions, const struct ab_look *look,
    char **out, struct ab_diag *diag);
enum ab_status ab_report_why(const struct ab_knowledge *k, const struct ab_interview *iv,
    const struct ab_why *why, size_t n, const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_taste_words(const struct ab_knowledge *k, const struct ab_look *look, char **out,
    struct ab_diag *diag);
enum ab_status ab_report_reply(const struct ab_knowledge *k, const struct ab_interview *iv,
    const struct ab_reply *reply, const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_alarm(const struct ab_case *c, const struct ab_look *look, char **out,
    struct ab_diag *diag);
/* A touch that is to be done now: its title, how, and its caution; id: the batch it names. */
enum ab_status ab_report_now(const struct ab_touch *touch, const char *id, const struct ab_look *look, char **out,
    struct ab_diag *diag);
enum ab_status ab_report_last_question(const struct ab_interview *iv, const struct ab_look *look, char **out,
    struct ab_diag *diag);
enum ab_status ab_report_interview_end(
    const struct ab_knowledge *k, struct ab_case *c, const struct ab_look *look, char **out, struct ab_diag *diag);
/* The batch sheet: as text, or as HTML for paper of that size. And one part of it as it is asked for when the sheet
 * is typed in; new_day: with the heading of its day. */
enum ab_paper { AB_A4, AB_LETTER };
enum ab_status ab_report_sheet(const struct ab_sheet *sheet, enum ab_paper paper, const struct ab_look *look,
    char **out, struct ab_diag *diag);
enum ab_status ab_report_sheet_part(const struct ab_sheet *sheet, const struct ab_sheet_box *box,
    const struct ab_sheet_part *part, bool new_day, const struct ab_look *look, char **out, struct ab_diag *diag);
/* The same as a table for a spreadsheet (RFC 4180): a row a batch; loads, habits, the load of each fault found
 * in any, changes, the rules and the profile it was judged under and the program that did. Freed with
 * ab_report_free. */
enum ab_status ab_report_trend_csv(const struct ab_knowledge *k, const struct ab_trend_batch *batches, size_t n,
    const struct ab_trend *trend, char **out, struct ab_diag *diag);
/* rules list, of one kind (faults, causes ...) or all (NULL); and one rule with all its numbers and where they are
 * from. AB_EUSAGE: no such kind, no such id; diag names those there are. */
enum ab_status ab_report_rules_list(const struct ab_knowledge *k, const char *kind,
    const struct ab_look *look, char **out, struct ab_diag *diag);
enum ab_status ab_report_rules_explain(const struct ab_knowledge *k, const char *id,
    const struct ab_look *look, char **out, struct ab_diag *diag);

#endif
