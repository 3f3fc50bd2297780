/* sheet.h - the batch sheet: the few things worth writing down in the next batch, in the order of its days, and
 * what was written put into the journal afterwards
 *
 * Which boxes: those the rules call core; those of the changes on trial (the facts a change sets, or the facts that
 * speak most of the causes it prevents); then the facts that the last tasted batches of the beer (of the brewer,
 * where the beer has none) lacked and that promised most: expected bits of ab_diagnosis.asks, each batch further
 * back at seven tenths (estimate), until the sheet is full. Only what a journal can hold and the rules have a box
 * for, and only of such a batch (only-for). What the journal tells already is left out.
 *
 * No files, no clock: texts go in and come out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_SHEET_H
#define AFTERBOIL_SHEET_H

#include <afterboil/casework.h>
#include <afterboil/newbatch.h>
#include <afterboil/priming.h>

struct case_row;   /* casework's own */

struct ab_sheet_setup {
	const struct ab_knowledge *k;
	const struct ab_profile *profile;               /* or NULL */
	struct ab_batch *const *batches; size_t n;      /* all of the folder, in order of brewing */
	const struct ab_batch *batch;                   /* the one it is for; NULL: not begun yet */
	const struct ab_batch *like;                    /* the brew before it; NULL: the first of its beer */
	/* the texts of the files that batch and like were read from; NULL where there is none */
	const char *text, *like_text; size_t len, like_len;
	const struct ab_when *on;                       /* day of brewing */
	/* Of the calendar, days after it; 0: not told, and the pace of the yeast is reckoned with. */
	double first_d, second_d;
	const struct ab_priming *priming, *once_done;   /* what the batch wants in its bottles, now and then; NULL:
							   not told */
	size_t most;                                    /* boxes on a sheet; core and trial ones come in any case */
	bool us_units;
};

/* One thing to write into a box. */
struct ab_sheet_part {
	const char *says;         /* "day 1"; "" when the box's title says it */
	const char *unit;         /* of a number: "C", "SG"; "" for words and times */
	const char *const *choices; size_t n_choices;   /* in words */
	const char *last;         /* what stood there the last time, as written; "" when nothing did */
	const char *last_says;    /* the same as a brewer would say it */
	const char *target;       /* journal/edit.h */
	const struct case_row *row;
	bool told; /* the journal tells it already, here or in another way: a reading of that day, grams for packs
		    */
};

struct ab_sheet_box {
	const struct ab_box *box;
	const char *title, *aim;  /* aim: "17 to 20 C"; NULL when there is none or it cannot be told */
	bool trial;               /* asked for the change on trial */
	double bits;              /* what it promised in the last batches; 0: core or trial only */
	struct ab_sheet_part *parts; size_t n_parts;
};

enum { AB_SHEET_TRIALS = 3 };
struct ab_sheet {
	const struct ab_sheet_setup *setup;
	const char *title;                              /* of the beer */
	struct ab_sheet_box *boxes; size_t n_boxes;     /* in the order of the days, then of the rules */
	const char *next_time; const struct ab_batch *next_of;
	const struct ab_changed *trials[AB_SHEET_TRIALS]; size_t n_trials;
	size_t n_asked;                                 /* tasted batches that were asked what they lacked */
	double first_d, second_d;                       /* days after pitching of the two gravities */
};

/* Makes the sheet; everything lives in the arena, setup is borrowed. Errors of ab_case_work; AB_ENOMEM. */
enum ab_status ab_sheet_make(const struct ab_sheet_setup *setup, struct ab_arena *arena, struct ab_sheet **out,
    struct ab_diag *diag);

/* Does an answer to the one make the other needless, as packs of yeast make its grams? */
bool ab_sheet_instead(const struct ab_sheet_part *answered, const struct ab_sheet_part *other);

struct ab_sheet_reply {
	bool taken, unknown;      /* unknown: nothing was said, nothing is written */
	char says[600];           /* when not taken: what was not understood and what would be */
	char value[100];          /* what was written */
};

/* One answer as typed into the text of a journal. "same" is what stood there the last time; "18:30" is of the day
 * of brewing; blank and "don't know" write nothing. today: "2031-03-07", for "3 days ago". text: the journal with the
 * batch in this line. On AB_OK and reply->taken && !unknown *out is the new text, for ab_journal_free; else NULL.
 * AB_ENOMEM, AB_ELIMIT. */
enum ab_status ab_sheet_answer(const struct ab_sheet *sheet, const struct ab_sheet_part *part, const char *said,
    const char *today, const char *text, size_t len, long line, struct ab_sheet_reply *reply, char **out,
    size_t *out_len, struct ab_diag *diag);

#endif
