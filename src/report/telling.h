/* telling.h - what the files that tell a diagnosis hand to each other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_TELLING_H
#define AB_REPORT_TELLING_H

#include "report/reports.h"

/* The page, the rules, the case and its diagnosis: what every part reads. */
struct telling {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_case *c;
	const struct ab_diagnosis *d;
	const struct ab_advice *a;   /* of all batches it was read with; NULL = none is at hand */
};

/* What to do about it: what the plan would take against it, else what the rules say; never another cure than the plan's
 * without a word. */
void tell_cures(const struct telling *t);
/* The step that bare "afterboil" tells of the next brew; NULL. */
const struct ab_next_step *tell_next_brew(const struct ab_advice *a);
/* What it begins, where that acts on a suspect of this diagnosis: then it is told among the cures. NULL = elsewhere. */
const struct ab_item *tell_begins_here(const struct ab_advice *a, const struct ab_diagnosis *d);

/* Where "perhaps" begins (ab_likely_word), and what is as likely as not. */
#define TELL_LIKELY 0.3
#define TELL_EVEN 0.5
/* The blame of the process cause most blamed. */
double tell_most_guilt(const struct telling *t);

/* The answer and why: the leading cause or kin, what speaks for and against it, what would change it, the
 * other suspects, the story. There is a suspect, and something was found. */
void tell_lead(const struct telling *t);

/* ---- diagnosis_open.c ---- */
/* Maybe so, but innocent of what was found. Kept apart from suspects: it must not read as an accusation. */
void tell_risks(const struct telling *t);
/* What to check next: two things at most, for a list of ten questions gets no answer at all. */
void tell_asks(const struct telling *t);
/* Where no answer could change the verdict, gaps in the journal are not worth a reader's time. */
/* Is the warning one of what nobody here can judge? It is told there, and not among the cares. */
bool tell_is_unjudged(const struct ab_warning *w);
void tell_unjudged(const struct telling *t);

/* The one rule of brevity: a limit for the screen, none when everything was asked for. */
size_t tell_most(const struct telling *t, size_t n, size_t limit);
/* Expected traits count as found too: they were tasted. */
size_t tell_n_found(const struct telling *t);
/* Would an answer to this change what is said? Does any question still open? */
bool tell_worth_asking(const struct ab_ask *ask);
bool tell_asks_matter(const struct telling *t);

#endif
