/* spelled.h - units and small numbers as people say and type them
 *
 * A journal keeps to the spellings of quantity.h; whoever writes one for a brewer (a line of plain words, an answer)
 * takes these and writes those. To add a spelling: a word in the table of spelled.c, and a row in check_spelled.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_SPELLED_H
#define AB_BASE_SPELLED_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/quantity.h>

/* The unit of dim, as a journal writes it, that the word or phrase means: "degrees Celsius", "Litres", "fl. oz".
 * Case, a plural s and a full stop behind do not count. "" for "degrees" alone, which do not tell of which scale;
 * NULL when it is no unit of dim. */
const char *ab_unit_spelled(enum ab_dim dim, const char *said);

/* The digits for "two", "a", "half": NULL when it is no number. Small letters. */
const char *ab_number_spelled(const char *word);

/* The units most brewers would mean, the likeliest first, "|" between: what is offered where one is missing. */
const char *ab_dim_usual(enum ab_dim dim);

/* The number that text begins with, with '.' as the point, into to; *rest is behind it. A comma between digits is a
 * point; doubt: it may as well part thousands ("1,500"). False when text begins with none, or it does not fit. */
bool ab_number_typed(const char *text, char *to, size_t size, const char **rest, bool *doubt);

/* Is typed a slip of the hand for meant that can hardly be another word: one letter missing, one too many, or two
 * that changed places, both of five letters and more, of which the first is right? Another letter in the place of
 * one ("cooked" for "cooled") is none: that may well be meant. Case does not count. */
bool ab_is_slip(const char *typed, const char *meant);

/* Does a word of text say that something is not so: "don't", "dont", "not", "never", "no"? With an apostrophe of
 * either kind or without; case does not count. */
bool ab_denies(const char *text);

#endif
