/* entry_take.h - a sentence while it is understood: what its slots take, and what is made of it in the end
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_TAKE_H
#define AB_JOURNAL_ENTRY_TAKE_H

#include "journal/entry_values.h"

/* ---- entry_take.c ---- */

/* The first free slot that takes what stands at s->at, those with their little word before those without: its value is
 * put, and s->at moves on. content: of a row whose rest is text. False when none takes it. */
bool entry_take(struct sentence *s, const char **content);

/* "cleaned fermenter, hose and tap with percarbonate": one more item of which all the rest is told, too. */
bool entry_take_item(struct sentence *s);

/* Would a free slot take what stands at `at`? */
bool entry_would_take(const struct sentence *s, size_t at);

/* Steps over a word that says nothing here, or that all is a guess. */
bool entry_pass_over(struct sentence *s);

/* attr="value" (NULL: words alone) into the element, and into what is said of it; short memory shows in the texts. */
void entry_put(struct sentence *s, struct entry_part *part, const char *attr, const char *value);

/* Is the attribute told by a slot already? */
bool entry_already(const struct entry_part *part, const char *attr);

/* ---- entry_make.c ---- */

/* The entry, or as many as items were told. at: when it happened, where the sentence does not say. AB_ENOMEM. */
enum ab_status entry_finish(struct sentence *s, const struct ab_when *at, const char *content, struct ab_entry **out,
    struct ab_diag *diag);

#endif
