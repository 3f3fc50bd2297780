/* questions.h - what an interview can ask, and how each answer becomes part of a journal
 *
 * One table: for each fact that can be asked for, one row a part of the answer, in the order they are asked
 * for until the fact is known. Facts whose answer no element of the journal can hold have no row and are not
 * asked.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_QUESTIONS_H
#define AB_CASEWORK_QUESTIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/knowledge.h>

/* One answer to choose. value goes to the row's target; beginning with "@" it is edits of its own:
 * "@package into=bottles&tasting from=bottle". NULL: does not apply, kept as "not known". */
struct case_choice { const char *says, *value; };

/* When a row is asked at all. */
enum case_when { CASE_ALWAYS, CASE_DATED, CASE_UNDATED, CASE_PACKAGED, CASE_UNPACKAGED, CASE_SLURRY,
    CASE_NO_SLURRY };

struct case_row {
	int slot;                  /* the fact the answer is for; AB_F_MAX_: an opening question */
	const char *name;          /* of an opening question, or of a part that several facts ask for; NULL:
	                            * the fact's */
	const char *asks;          /* NULL: the question of the fact list */
	const char *target;        /* journal/edit.h; "$today" stands for the day of the interview, "$found" for the
	                            * word of the fault it is about */
	const struct case_choice *choices;   /* NULL: by the kind of the attribute */
	const char *metric, *us;   /* what a bare number means */
	const char *tries;         /* answers in words of a brewer, low to high, "|" between: what may come */
	int own;                   /* a fact this part alone tells, so that it is not asked twice; 0 = none */
	enum case_when when;
	bool after_pitch;          /* a length of time is counted from pitching, not back from today */
	double least, most, step;  /* what a number can be, in the unit it is kept in; most 0: whatever the journal
				      takes */
	const char *also;          /* edits in any case, as in choices */
};

/* Other words for a family of beer or a class of yeast, "|" between; NULL when there are none. */
const char *case_other_words(const char *value);

extern const struct case_row case_rows[];
extern const size_t case_n_rows;

/* The questions before all others, in order; the first of them, of what was tasted, is no row. */
extern const struct case_row case_openings[];
extern const size_t case_n_openings;

/* Is there a row for the fact? */
bool case_can_ask(int slot);

#endif
