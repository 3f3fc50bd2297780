/* plainwords.h - families of beer, classes of yeast and malts as brewers call them
 *
 * "stout", "a wheat beer", "5" of the list: which family is meant; "English", "dry ale": which class of the rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_PLAINWORDS_H
#define AFTERBOIL_PLAINWORDS_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/entry.h>
#include <afterboil/knowledge.h>

/* The i-th family as it is asked for ("stout or porter"), static; NULL beyond the last. */
const char *ab_family_choice(size_t i);

/* The family meant, static: by its number in that list, by its words or others for it, by the journal's own word.
 * unknown: it was left blank, or "don't know" was said. NULL when none is meant, or more than one might be. */
const char *ab_family_said(const char *said, bool *unknown);

/* The journal's word for the value of an attribute ("family", "class") that the phrase means and nothing else: its id,
 * its title, another word for it. NULL when there is none. */
const char *ab_plain_word(const struct ab_knowledge *k, const char *attr, const char *said);

/* The i-th value there is for the attribute ("class"): its id; NULL beyond the last and for other attributes. */
const char *ab_plain_choice(const struct ab_knowledge *k, const char *attr, size_t i);

/* What the rules call malts, as words of ab_entry_help, in the arena; *n: how many. NULL when memory is short. */
const struct ab_alias *ab_plain_malts(const struct ab_knowledge *k, struct ab_arena *arena, size_t *n);

#endif
