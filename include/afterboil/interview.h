/* interview.h - asks the most telling question next, and writes each answer into a journal
 *
 * No terminal, no files, no clock: the caller prints questions, hands over what was typed, and saves the text
 * after every answer. The journal is the only state: what was answered stands in it as elements, what nobody
 * knew as a <note>, so a journal that is continued asks nothing twice. After each answer the text is read
 * again by the journal's own reader and goes the way of every batch; the diagnosis here is that of the text.
 *
 * The order: what is tasted; a few plain questions every diagnosis wants (kind of beer, yeast, where it is
 * now, its age); then the unknown fact with most expected information about blame for its effort
 * (ab_diagnosis.asks), as long as its answer can be written into a journal. Physical checks are not asked
 * for: they are for the end.
 *
 * Its end comes when nothing disappointing was found, when the number of questions is used up, when no
 * question is worth its effort (below 0.01 bits a minute, where asking at all takes two; estimate), or when
 * no answer to any of those left would change what is advised. For the last each of them is tried: every
 * answer there is to choose from, or numbers over the usual span, is written into the text and the whole pipe
 * run; then the worst answers of the six questions that leave the lead least, two at a time. The advice is the
 * same when the first "what to do next time" (of the leading kin of causes, or the leading cause), the verdict
 * that nothing is wrong, and the alarm for bursting bottles are. Three answers together might still change it;
 * that is not tried.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_INTERVIEW_H
#define AFTERBOIL_INTERVIEW_H

#include <afterboil/casework.h>

struct ab_interview_setup {
	const struct ab_knowledge *k;
	const struct ab_profile *profile;   /* or NULL */
	const char *name, *folder;   /* of the journal: stands in messages; where its sensor logs are (NULL:
	                              * none) */
	const char *today;           /* "2031-03-07" */
	bool us_units;               /* what a bare number means */
	size_t questions;            /* at most so many after the plain ones */
};

struct ab_interview;

/* Begins with the batch batch_id in text, or (text NULL) with a new journal of that id, brewed today until it
 * is told. Pointers of the setup must outlive it; text is copied. Errors of ab_journal_read_memory (also
 * AB_EINPUT: no such batch; not UTF-8) and ab_case_work. */
enum ab_status ab_interview_new(const struct ab_interview_setup *setup, const char *text, size_t len,
    const char *batch_id, struct ab_interview **out, struct ab_diag *diag);
void ab_interview_free(struct ab_interview *iv);

/* The journal as it stands now, and its case. Borrowed until the next answer. */
const char *ab_interview_text(const struct ab_interview *iv, size_t *len);
const struct ab_case *ab_interview_case(const struct ab_interview *iv);
struct ab_batch *ab_interview_batch(const struct ab_interview *iv);

enum ab_interview_end {
	AB_END_NOT_YET,
	AB_END_NOTHING_FOUND,   /* tasted, and nothing to explain */
	AB_END_SETTLED,         /* no answer left, nor two together, would change the advice */
	AB_END_NOTHING_WORTH,   /* nothing left to ask that is worth its effort */
	AB_END_ENOUGH,          /* as many as were wanted */
};
/* Has it ended, and why? */
enum ab_interview_end ab_interview_end(const struct ab_interview *iv);

/* What kind of answer is wanted. */
enum ab_wanted { AB_WANT_TASTE, AB_WANT_CHOICE, AB_WANT_YESNO, AB_WANT_NUMBER };

struct ab_question {
	enum ab_wanted wanted;
	const char *name;        /* "recipe.family": of the fact, or of the plain question */
	const char *asks;
	const char *const *choices; size_t n_choices;   /* of AB_WANT_CHOICE: what to choose from, in words */
	const char *example;     /* of AB_WANT_NUMBER: "18 C"; "" when it needs none */
	int slot;                /* the fact asked for; -1: one of the plain ones */
	size_t number;           /* 1 upward among those that count; 0: a plain one */
	bool again;              /* a further part of the same question; of what is tasted: anything else? */
};

/* The question to ask now; NULL when it has ended. */
const struct ab_question *ab_interview_question(const struct ab_interview *iv);

/* The causes whose blame an answer could move most, most first: why it is asked. */
struct ab_why { int cause; double blame, lowest, highest; };
/* At most max into why; n tells how many. AB_ENOMEM. */
enum ab_status ab_interview_why(struct ab_interview *iv, struct ab_why *why, size_t max, size_t *n,
    struct ab_diag *diag);

struct ab_reply {
	bool taken;              /* false: nothing changed, says tells why */
	bool unknown;            /* kept as not known */
	bool guess;
	const char *says;        /* what was not understood and what would be, or NULL */
	const char *near[6]; size_t n_near;   /* tasting words that may be meant */
};

/* Takes an answer as typed: blank and "don't know" alike mean not known (of what is tasted: that is all).
 * AB_OK also when it was not understood. Otherwise AB_ENOMEM or AB_ELIMIT, and nothing has changed. */
enum ab_status ab_interview_answer(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag);

/* The checks to offer at the end, best first: those that promise a twentieth of a bit and have their answer
 * after at most so many days (INFINITY: any). Returns how many were written. */
size_t ab_interview_checks(const struct ab_interview *iv, double wait_days, int *checks, size_t max);
/* The answer to a check that was done: place in the rules. Errors as ab_interview_answer. */
enum ab_status ab_interview_checked(struct ab_interview *iv, int check, bool yes, struct ab_diag *diag);

/* Takes the last answer back; false when there is none. Errors as above. */
enum ab_status ab_interview_back(struct ab_interview *iv, bool *went, struct ab_diag *diag);

/* How the last answer moved the blame of causes, the largest step first, none under two hundredths. Returns how
 * many were written. */
struct ab_move { int cause; double before, after; };
size_t ab_interview_moves(const struct ab_interview *iv, struct ab_move *moves, size_t max);

/* Can the fact at this slot be asked for here? */
bool ab_interview_can_ask(int slot);

#endif
