/* field.h - the few value types that records are made of
 *
 * Missing means unknown: never zero, never "no".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_FIELD_H
#define AFTERBOIL_FIELD_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/when.h>

/* First member of every record: where it stands in its file, and whether the brewer marked it as a guess, all of it. */
struct ab_mark { long line; bool guess; };

/* "more than 3 wk" is AB_BOUND_OVER. */
enum ab_bound { AB_BOUND_NONE, AB_BOUND_UNDER, AB_BOUND_OVER };

/* A number that may be missing. v is in the unit its dimension is kept in (quantity.h), or bare. guess: told roughly
 * ("about 18 C"); what else its record tells is as sure as before. bound: what was told is its end on that side; v lies
 * beyond it by its own standard uncertainty, resolution / sqrt 12 (rough.h). */
struct ab_num { double v, resolution; bool known, guess; unsigned char bound; };

/* An answer that may be missing. */
enum ab_yesno { AB_UNKNOWN, AB_NO, AB_YES };

/* A list of records or of pointers, in an arena. Use AB_EACH below. */
struct ab_list { void *items; size_t n, cap; };

/* for (AB_EACH(struct ab_reading, r, batch->readings)) ... */
#define AB_EACH(type, var, list) \
	type *var = (list).items, *var##_end = var == NULL ? NULL : var + (list).n; var != var##_end; var++

/* A word people use for one of a list. Case does not count, nor which of blank, '_' and '-' stands between. */
struct ab_alias { const char *said, *word; const char *const *list; };

#endif
