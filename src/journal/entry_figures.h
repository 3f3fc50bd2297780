/* entry_figures.h - a number of a line as it was typed, in digits
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_FIGURES_H
#define AB_JOURNAL_ENTRY_FIGURES_H

#include "journal/entry_values.h"

enum { ENTRY_NUMBER_SIZE = 32 };

/* The number at a word: how many words it takes, and what of the last of them is left for a unit. doubt: it may be
 * two. */
struct entry_figure { char digits[ENTRY_NUMBER_SIZE]; const char *tail; size_t n; bool spelled, doubt; };

/* False when none stands there. */
bool entry_figure_at(const struct sentence *s, size_t at, struct entry_figure *f);

/* Digits and a point, and nothing else. */
bool entry_plain_number(const char *text, double *x);

#endif
