/* entry_read.h - reading a line: its sentences, where the next begins, and what one means beyond its words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_READ_H
#define AB_JOURNAL_ENTRY_READ_H

#include "journal/entry_take.h"

/* What stands behind a sentence: the words of the next, and all that was said up to it. */
struct entry_ahead { const char *words, *head; };

/* ---- entry_next.c ---- */

/* The ways in which a line without a lead can be meant; ENTRY_NOMEM. */
size_t entry_ways_meant(const struct sentence *s, const struct ab_when *now, const char *ways[AB_ENTRY_WAYS]);

/* Is what stands at s->at a sentence of its own: behind a comma or "and" something else that happened, or one more
 * of the recipe ("malt 4.2 kg pale, 0.3 kg crystal")? next->words is that sentence, or stays NULL. AB_ENOMEM. */
enum ab_status entry_next_begins(const struct sentence *s, const struct ab_when *now, struct entry_ahead *next);

/* ---- entry_meant.c ---- */

/* First signs and forced samples, once all is taken: how long after the yeast went in, and what came of it.
 * AB_EUSAGE when that is not plain, AB_ENOMEM. */
enum ab_status entry_since_pitched(struct sentence *s, const struct ab_when *at, struct ab_diag *diag);
enum ab_status entry_forced_result(struct sentence *s, struct ab_diag *diag);

/* Is a gravity missing that the rest is about? And a check without its answer, or the other way round: AB_EUSAGE. */
bool entry_lacks_gravity(const struct sentence *s);
enum ab_status entry_lacks_answer(const struct sentence *s, struct ab_diag *diag);

/* ---- entry_understand.c ---- */

/* One sentence, cut into words: its row found, its slots filled. content: the text of a row that holds text;
 * instead: the whole line as it is to be read, or NULL; next: the sentence behind this one, or untouched. AB_EUSAGE,
 * AB_ENOMEM. */
enum ab_status entry_understand(struct sentence *s, const struct ab_when *at, const char **content,
    const char **instead, struct entry_ahead *next, struct ab_diag *diag);

#endif
