/* plain.h - values as nearly all are written: one number and one unit, hours or days since pitching
 *
 * Short ways to what ab_quantity_read and ab_when_read give, to the last bit. False for whatever else it may be, also
 * for what is wrong: those two look at it from the beginning, and refuse it in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_PLAIN_H
#define AB_BASE_PLAIN_H

#include <stdbool.h>
#include <afterboil/quantity.h>
#include <afterboil/when.h>

/* "18.7 C": nothing around it, no sign, no curve. */
bool ab_quantity_plain(const char *text, enum ab_dim dim, struct ab_quantity *out);

/* "+118h", "+3d" */
bool ab_when_plain(const char *text, struct ab_when *out);

#endif
