/* taste_words.h - what was tasted, as it is said: "buttery 3, a bit of cardboard and no sour"
 *
 * One reader for the interview and for the command that notes a tasting. What is written in a journal for it,
 * and what is asked back, is theirs.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_TASTE_WORDS_H
#define AB_CASEWORK_TASTE_WORDS_H

#include "casework/said.h"

/* One thing named. */
struct case_taste {
	const char *word; /* the fault as it was said, in text below, or as the rules spell it: good as long as this
			     struct, not copied */
	int fault;        /* its place in the rules; -1: word is none of theirs */
	int intensity;    /* 1 barely there to 5 undrinkable; 0 not told, -1 told and out of that range */
	bool absent;      /* looked for and not found */
	bool rest;        /* "nothing else": all else was looked for too; fault is -1 */
	const char *extent; /* who has it, a word of ab_words_extent; NULL: not told. With a fault of -1 it is of
			       those told beside it */
	char text[CASE_LINE];
};

/* The next thing of *rest, which is stepped over; false when nothing is left. Commas, semicolons, "+", "&", "and"
 * and "but" part; a fault whose name holds "and" stays whole. */
bool case_next_taste(const struct ab_knowledge *k, const char **rest, struct case_taste *taste);

/* "in one bottle only", at either end of the text or all of it: its word of ab_words_extent, taken out of the text,
 * which may be empty then; NULL: nothing told. */
const char *case_cut_extent(char *text);

/* "nothing", "all good", "clean": no fault at all. text as case_plain leaves it. */
bool case_is_clean(const char *text);

/* "really nice": praise, which beside a fault tells nothing, and alone that there is none. "much better": no fault,
 * and no word that there is none either. */
bool case_is_praise(const char *text);
bool case_is_compared(const char *text);

#endif
