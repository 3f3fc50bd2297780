/* entry_lone.h - a number that no part of a line takes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_LONE_H
#define AB_JOURNAL_ENTRY_LONE_H

#include "journal/entry_values.h"

/* The number at a word that no slot took, and what may be behind it. thousands: "1,500" may be two. */
struct entry_lone { size_t at, n; const char *shown, *number, *tail; bool thousands; };

/* A slot that the number may belong to, and of which row. */
struct entry_open { const struct entry_row *row; const struct entry_slot *slot; };

/* False when no number stands there, or memory is short. */
bool entry_lone_at(const struct sentence *s, size_t at, struct entry_lone *out);

/* The quantities that may still stand at `at`, with or without their little word; ENTRY_SLOTS at most. */
size_t entry_open_slots(const struct sentence *s, size_t at, bool keyed, struct entry_open *out);

/* Does a unit of any kind stand behind the number? Is it one that nobody writes of anything but a gravity? */
bool entry_has_unit(const struct sentence *s, const struct entry_lone *l);
bool entry_lone_gravity(const struct entry_lone *l);

/* The line with the words [at, at + n) said as this instead; NULL when memory is short, as of all below. */
const char *entry_instead(const struct sentence *s, const struct entry_lone *l, const char *text);

/* Why it has no place, with what would, which is offered, too: "wort 19.5" lacks its unit; "1,500" is one and a half
 * here and fifteen hundred there; "wort 20 L" has a unit of something else; "1.020" is a gravity in a line about
 * something else. */
const char *entry_no_unit(const struct sentence *s, struct entry_lone *l, const struct entry_open *slots, size_t n);
const char *entry_which_number(const struct sentence *s, struct entry_lone *l);
const char *entry_wrong_unit(const struct sentence *s, const struct entry_lone *l, const struct entry_open *slots,
    size_t n);
const char *entry_a_gravity(const struct sentence *s, const struct entry_lone *l);

#endif
