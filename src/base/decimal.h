/* decimal.h - a plain decimal number, whatever the locale of the host program
 *
 * strtod reads the locale's point and accepts "inf", "0x1p3" and "1e9"; nothing of that belongs in a journal.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_DECIMAL_H
#define AB_BASE_DECIMAL_H

/* Significant digits read. */
enum { AB_DECIMAL_DIGITS = 17 };

enum ab_decimal {
	AB_DECIMAL_OK,
	AB_DECIMAL_NONE,   /* no digit where the number should start */
	AB_DECIMAL_LONG,   /* more than AB_DECIMAL_DIGITS, or more than 22 after the point */
};

/* Reads an optional sign, digits and at most one '.' from *text and moves *text past them. value is the
 * nearest double for up to 15 digits, within one unit of the last place for 16 and 17. step is one unit of
 * the last digit written. On failure nothing changes. */
enum ab_decimal ab_decimal_read(const char **text, double *value, double *step);

#endif
