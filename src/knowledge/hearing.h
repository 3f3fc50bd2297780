/* hearing.h - the signs of all causes, by the fact they read
 *
 * A batch knows some eighty facts of two hundred, and each is read by signs of many causes. By fact, all of them
 * are met in one walk through memory; by cause, most of the time would go into fetching what is then silent.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_HEARING_H
#define AB_KNOWLEDGE_HEARING_H

#include <afterboil/knowledge.h>

/* Rules with more are weighed cause by cause: the room for weights stands on the stack. */
enum { HEARING_SIGNS = 2048,
	HEARING_CAUSES = 512 };

/* Whose sign it is: cause, place in that cause, place among all signs (causes in order), its conditions. */
struct hearing_who {
	unsigned short cause, sign, at, when;
};
/* A word's sign weighs the same each time; one that weighs nothing is left out. */
struct hearing_word {
	struct hearing_who who;
	double weight;
};
/* x and log_ratio: n each. */
struct hearing_curve {
	struct hearing_who who;
	size_t n;
	const double *x, *log_ratio;
	bool nominal;
};

struct ab_hearing {
	size_t n_facts;
	unsigned *curve_from; /* by slot, one more than facts: where its curves begin */
	struct hearing_curve *curves;
	unsigned *word_from; /* by slot * AB_WORDS + word, one more at the end */
	struct hearing_word *words;
	struct ab_conds *when; /* all different ones that signs ask; the first always holds */
	size_t n_when;
	short *group;                   /* by place among all signs */
	unsigned short *first;          /* by cause: place of its first sign among all */
	const struct ab_sign **made_of; /* by cause: who copied a cause and changed its signs has others there */
	size_t n_causes, n_signs;
};

#endif
