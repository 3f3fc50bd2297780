/* interviewing.h - what the files of the interview share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_INTERVIEWING_H
#define AB_CASEWORK_INTERVIEWING_H

#include <afterboil/interview.h>
#include "base/str.h"
#include "casework/questions.h"
#include "casework/said.h"
#include "journal/edit.h"

/* The journal after an answer, and where in the questions that is. */
struct iv_state { char *text; size_t len, asked; int slot; };

/* A text taken through the pipe. */
struct iv_work { struct ab_arena *arena; struct ab_batch *batch; struct ab_case *c; };

/* Whose turn it is, and what is asked. row NULL: what is tasted. */
struct iv_turn {
	struct ab_question question;
	const struct case_row *row;
	bool asking;
	enum ab_interview_end end;
};

struct ab_interview {
	struct ab_interview_setup setup;
	struct ab_arena *arena;            /* as long as the interview */
	char id[80];
	const struct case_choice *yeasts; size_t n_yeasts;
	bool was_tasted;                   /* a tasting stood in the journal at the beginning */
	struct iv_state *states; size_t n, cap;   /* the last is now */
	struct iv_work now;
	double *before;                    /* blame before the last answer, n_causes */
	bool moved;
	struct ab_net_scratch *scratch;
	struct iv_turn turn;
	char says[CASE_WHY + 400];         /* of the last reply */
};

/* What was asked and nobody knew stands in notes that begin so. */
#define IV_NOT_KNOWN "Asked, not known: "
/* Stands in a new journal until the day of brewing is told. */
#define IV_NO_DATE "The day of brewing is not told; the date above is that of the interview."

/* ---- interview.c ---- */
const struct iv_state *iv_now(const struct ab_interview *iv);
struct ab_edit_place iv_place(const struct ab_interview *iv);
bool iv_not_known(const struct ab_interview *iv, const char *name);
bool iv_is_dated(const struct ab_interview *iv);
/* What a row is for, as notes name it; and what else nobody knows when its answer is not known: the part that
 * other questions share, or NULL. */
const char *iv_name(const struct ab_interview *iv, const struct case_row *row);
const char *iv_part(const struct ab_interview *iv, const struct case_row *row);
/* Reads a text and works it. reasons: with questions. Everything goes with w->arena. */
enum ab_status iv_work(struct ab_interview *iv, const char *text, size_t len, bool reasons, struct iv_work *w,
    struct ab_diag *diag);
void iv_drop(struct iv_work *w);
/* The text becomes the journal: read, worked, pushed. On failure nothing has changed. Takes text. */
enum ab_status iv_push(struct ab_interview *iv, char *text, size_t len, size_t asked, int slot,
    struct ab_diag *diag);

/* ---- answering.c ---- */
enum { IV_TARGET = 240 };
/* The row's target with what stands for something put in. */
void iv_target(const struct ab_interview *iv, const struct case_row *row, char *to, size_t size);
/* The fault a row is about, as it was named; NULL when the row is about none. */
const char *iv_found_word(const struct ab_interview *iv, const struct case_row *row);
/* Fills what an answer to the row is read against. */
void iv_asked(const struct ab_interview *iv, const struct case_row *row, struct case_asked *asked);
/* The text of place with the answer in it, for ab_free; NULL on failure. */
enum ab_status iv_written(const struct ab_interview *iv, const struct ab_edit_place *place,
    const struct case_row *row, const struct case_said *said, char **text, size_t *len, struct ab_diag *diag);
/* One edit after another into one text. */
struct iv_writing {
	struct ab_edit_place place;
	char *text;
	const char *today;
	struct ab_diag *diag;
	enum ab_status st;
};
void iv_begin(struct iv_writing *w, const struct ab_edit_place *place, const char *today, struct ab_diag *diag);
void iv_set(struct iv_writing *w, const char *target, const char *value, bool guess);
void iv_note(struct iv_writing *w, const char *note);
/* "target=value&target=value" */
void iv_edits(struct iv_writing *w, const char *edits);
/* The text, for ab_free; NULL when something failed (w->st). */
char *iv_done(struct iv_writing *w, size_t *len);

/* ---- trials.c: what an answer would do, found by giving it ---- */
/* What to do with each text that an answer would make; true to go on. */
typedef bool iv_on_trial(void *ctx, const struct iv_work *w, const char *text, size_t len);
/* Gives every answer that may come of every row of the fact, upon the text of place. An answer the reader would
 * refuse is none. */
enum ab_status iv_each_trial(struct ab_interview *iv, const struct ab_edit_place *place, int slot,
    iv_on_trial *on, void *ctx, struct ab_diag *diag);

/* What is advised: the "next time" of the leading kin or cause, whether all is well, and the alarm. */
struct iv_advised { const char *next; bool benign, alarm; };

/* What the answers left could do to the advice. */
enum { IV_WORST = 6 };
struct iv_worst { int slot; double margin; char *text; size_t len; };
struct iv_outlook {
	struct ab_interview *iv;
	struct iv_advised now;
	bool changes;                      /* some answer, or two, changes the advice */
	struct iv_worst worst[IV_WORST];   /* of each question the answer that leaves the lead least, the least
	                                    * first */
	size_t n;
};
void iv_outlook_begin(struct iv_outlook *o, struct ab_interview *iv);
/* Tries the answers of one more question. tells: one of them would make its fact known. */
enum ab_status iv_outlook_add(struct iv_outlook *o, int slot, bool *tells, struct ab_diag *diag);
/* Tries the worst answers two at a time. */
enum ab_status iv_outlook_pairs(struct iv_outlook *o, struct ab_diag *diag);
void iv_outlook_end(struct iv_outlook *o);

/* ---- asking.c ---- */
/* Is the row asked at all in this batch? Is its part told already? */
bool iv_holds(const struct ab_interview *iv, const struct case_row *row);
bool iv_is_told(const struct ab_interview *iv, const struct case_row *row);
/* Sets turn; on failure it may be half set. */
enum ab_status iv_choose(struct ab_interview *iv, struct ab_diag *diag);

/* ---- tasted.c ---- */
/* Is there nothing left to ask about what is tasted? */
bool iv_is_tasted(const struct ab_interview *iv);
/* One line about what is tasted, as typed. What is not understood is no error: reply->taken stays false, its says
 * (iv's, until the next reply) and near tell why, and nothing is written. */
enum ab_status iv_answer_taste(struct ab_interview *iv, const char *said, struct ab_reply *reply,
    struct ab_diag *diag);

#endif
