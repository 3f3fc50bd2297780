/* decimal.h - a plain decimal number, whatever the locale of the host program
 *
 * strtod reads the locale's point and accepts "inf", "0x1p3" and "1e9"; nothing of that belongs in a journal.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_DECIMAL_H
#define AB_BASE_DECIMAL_H

#include <stddef.h>
#include <stdint.h>

/* Significant digits read. Places after the point: 10^n is a double without rounding up to there, and so 10^-n is the
 * nearest double. */
enum { AB_DECIMAL_DIGITS = 17, AB_DECIMAL_PLACES = 22 };
extern const double ab_decimal_tens[AB_DECIMAL_PLACES + 1], ab_decimal_steps[AB_DECIMAL_PLACES + 1];

enum ab_decimal {
	AB_DECIMAL_OK,
	AB_DECIMAL_NONE,   /* no digit where the number should start */
	AB_DECIMAL_LONG,   /* more than AB_DECIMAL_DIGITS, or more than 22 after the point */
};

/* Reads an optional sign, digits and at most one '.' from *text and moves *text past them. value is the
 * nearest double for up to 15 digits, within one unit of the last place for 16 and 17. step is one unit of
 * the last digit written. On failure nothing changes. */
enum ab_decimal ab_decimal_read(const char **text, double *value, double *step);

static inline const char *ab_decimal_digits(const char *s, uint64_t *mantissa)
{
	for (unsigned digit; (digit = (unsigned)(*s - '0')) < 10; s++)
		*mantissa = *mantissa * 10 + digit;
	return s;
}

/* A mantissa of digits and a power of ten, not digit by digit in doubles: that would round at every digit,
 * and 1.048 would differ from the 1.048 in a C table, so that range checks at the bounds would fail.
 * Without a sign and not too long, as nearly every number is: the place behind it, or s when it is no such number. Here
 * so that readers of thousands need not call. */
static inline const char *ab_decimal_short(const char *s, double *value, double *step)
{
	uint64_t mantissa = 0;
	const char *end = ab_decimal_digits(s, &mantissa);
	size_t digits = (size_t)(end - s), places = 0;
	if (*end == '.') {
		const char *part = end + 1;
		end = ab_decimal_digits(part, &mantissa);
		places = (size_t)(end - part);
		digits += places;
	}
	if (digits == 0 || digits > AB_DECIMAL_DIGITS)
		return s;
	/* Both operands are exact up to 15 digits, so IEEE division rounds once: the nearest double. */
	*value = places == 0 ? (double)(int64_t)mantissa : (double)(int64_t)mantissa / ab_decimal_tens[places];
	/* What was written tells how finely it was read: "1.05" and "1.050" are one value and two precisions. */
	*step = ab_decimal_steps[places];
	return end;
}

#endif
