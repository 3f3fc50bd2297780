/* attr.h - one attribute of a record: text into a field
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_ATTR_H
#define AB_BASE_ATTR_H

#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include "base/record.h"

/* Where a value stands, for messages; by_hand: what more its kind of document may say, or NULL. */
struct ab_attr_place { const char *source, *element; long line; const struct ab_by_hand *by_hand; };

/* Reads value (of len bytes, a NUL behind them) as spec says and stores it in record. AB_EINPUT (message names
 * place, attribute, what is allowed), AB_ENOMEM. */
enum ab_status ab_attr_store(const struct ab_attr_spec *spec, const char *value, size_t len, void *record,
    struct ab_arena *arena, const struct ab_attr_place *place, struct ab_diag *diag);

/* The same of what nearly all values are (plain.h), which say nothing of a guess; false, and nothing stored, for any
 * other, which ab_attr_store then reads or refuses. */
bool ab_attr_plain(const struct ab_attr_spec *spec, const char *value, void *record);

/* "yes" or "no" into *out (AB_YES, AB_NO); name is the attribute's. */
enum ab_status ab_attr_yesno(const char *name, const char *value, int *out, const struct ab_attr_place *place,
    struct ab_diag *diag);

/* Fails with "what <found> is unknown", the nearest of names and the list of them. */
enum ab_status ab_attr_unknown(const char *what, const char *found, const char *const *names,
    const struct ab_attr_place *place, struct ab_diag *diag);

#endif
