/* said.h - what a brewer types into what a journal says
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_SAID_H
#define AB_CASEWORK_SAID_H

#include "base/record.h"
#include "casework/questions.h"

enum case_said_kind { CASE_SAID_WRONG, CASE_SAID_UNKNOWN, CASE_SAID_VALUE };

enum { CASE_VALUE = 96, CASE_WHY = 400, CASE_LINE = 400 };

struct case_said {
	enum case_said_kind kind;
	bool guess;
	char value[CASE_VALUE];    /* ready for the attribute; "" when edits are told */
	const char *edits;         /* of a choice: edits of its own */
	char why[CASE_WHY];        /* of CASE_SAID_WRONG */
};

/* What an answer is read against. */
struct case_asked {
	const struct case_row *row;
	const struct ab_attr_spec *spec;
	const struct case_choice *choices; size_t n_choices;   /* 0: a number or a time */
	const char *today;
	bool us_units;
};

/* Sets the choices of its row, or yes and no where its spec is one; leaves those that are there already. */
void case_take_choices(struct case_asked *asked);

void case_read_said(const struct case_asked *asked, const char *said, struct case_said *out);

/* "don't know" in all its forms, and nothing at all. text as case_plain leaves it. */
bool case_is_unknown(const char *text);
/* Small letters, single blanks, no full stop at the end; at most CASE_LINE. */
void case_plain(const char *said, char *to);
/* 1 to 5 for "a bit", "very" ... at the head of text, which is stepped over; 0 when there is none. The scale is
 * the journal's (1 barely there, 5 undrinkable); which word is which number is a working estimate. */
int case_strength(const char **text);

/* ---- between said.c, spoken.c and taste_words.c ---- */
bool case_is_one_of(const char *text, const char *const *list);
/* Cuts what says that it is a guess ("about 10", "10 or so"); true when something did. */
bool case_cut_guess(char *text);
/* Past the word or phrase that text begins with, and the blank behind it; NULL when it does not. */
const char *case_after(const char *text, const char *phrase);
/* "yes" or "no" in other words, or NULL. */
const char *case_yes_or_no(const char *text);
/* A quantity or a bare number; a moment or a length of time. Set out->kind. */
void case_read_number(const struct case_asked *asked, const char *text, struct case_said *out);
void case_read_time(const struct case_asked *asked, const char *text, struct case_said *out);

#endif
