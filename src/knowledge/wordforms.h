/* wordforms.h - a taster's word without what spelling, grammar and good manners add to it
 *
 * "Too buttery", "slightly green-apples" and "sulfury" are the listed "buttery", "green apple" and "sulphur".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_WORDFORMS_H
#define AB_KNOWLEDGE_WORDFORMS_H

#include <stdbool.h>
#include <stddef.h>

enum { WORDFORMS_BARE = 96 };

/* Small letters, one blank for any gap, "ph" as "f" and "ou" as "o"; cut at size. */
void wordforms_small(const char *word, char *to, size_t size);
/* The same without words that say how much, and without endings. to: WORDFORMS_BARE bytes. */
void wordforms_bare(const char *word, char *to);
/* "Hardly fizzy" holds "fizzy" and says that it is not: what stands inside such a phrase is not meant. small: by
 * wordforms_small. */
bool wordforms_denies(const char *small);

#endif
