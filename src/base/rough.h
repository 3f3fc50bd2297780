/* rough.h - amounts as people know them: "16-27 C", "about 18 C", "below 15.5 C", "a few days", "overnight"
 *
 * What a person wrote for a quantity that is no plain "number unit". A range is its middle, as uncertain as half of
 * it is wide. Of a bound ("below", "more than", "or longer") only the side is told. How far it was beyond is taken to
 * fall off as an exponential does, of which mean and standard deviation are alike: so it is read as that far beyond the
 * bound, and as uncertain (AB_BEYOND, estimates). Whatever else is rough is a guess. To add a word: a row in a table of
 * rough.c and of check_rough.c, and the pattern in write_schema.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_ROUGH_H
#define AB_BASE_ROUGH_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/field.h>
#include <afterboil/quantity.h>

/* A resolution r counts as r / sqrt 12 (working.h). */
#define AB_RESOLUTION_OF_U 3.4641016151377544

/* How far beyond a bound it usually is: temperatures, gravities and pH count from zeros that mean nothing here; of what
 * else is measured a quarter over it, or as much under it, a fifth; of a share half of what is left to the whole where
 * that is less. A bound of 0 has nothing beyond on either side, but for differences of temperature: who knows
 * that a thermometer shows too little, and not by how much, writes "below 0 K". */
#define AB_BEYOND_C 2.0
#define AB_BEYOND_SG 0.003
#define AB_BEYOND_PH 0.2
#define AB_BEYOND_OVER 0.25
#define AB_BEYOND_UNDER 0.2

/* In the unit the dimension is kept in. low and high: the ends of a range, else both the figure as told. resolution: as
 * of a quantity (a range's makes half its width the standard uncertainty; a bound's what the value is beyond it). */
struct ab_rough { double value, low, high, resolution; bool guess; enum ab_bound bound; };

/* Reads text as a rough quantity of dim. False when it is none; then why (of size bytes) says what is wrong with what
 * plainly was meant as one, else it is "". No prices. */
bool ab_rough_read(const char *text, enum ab_dim dim, struct ab_rough *out, char *why, size_t size);

/* Is the word one of "about", "roughly", "ca." and their like? */
bool ab_rough_word(const char *word);

#endif
