/* rough.h - amounts as people know them: "16-27 C", "about 18 C", "below 15.5 C", "a few days", "overnight"
 *
 * What a person wrote for a quantity that is no plain "number unit". A range is its middle, as uncertain as half of
 * it is wide; whatever else is rough is a guess. A bound is read as the bound: what lies beyond it nobody told, and
 * a guess is wide (working.h). To add a word: a row in a table of rough.c and of check_rough.c, and the pattern in
 * write_schema.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_ROUGH_H
#define AB_BASE_ROUGH_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/quantity.h>

/* In the unit the dimension is kept in. low and high: the ends of a range, else both the value. resolution: as of a
 * quantity (a range's makes half its width the standard uncertainty). */
struct ab_rough { double value, low, high, resolution; bool guess; };

/* Reads text as a rough quantity of dim. False when it is none; then why (of size bytes) says what is wrong with what
 * plainly was meant as one, else it is "". No prices. */
bool ab_rough_read(const char *text, enum ab_dim dim, struct ab_rough *out, char *why, size_t size);

/* Is the word one of "about", "roughly", "ca." and their like? */
bool ab_rough_word(const char *word);

#endif
