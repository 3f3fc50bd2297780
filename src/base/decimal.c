/* decimal.c - a plain decimal number, whatever the locale of the host program
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/decimal.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

const double ab_decimal_tens[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
    1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
const double ab_decimal_steps[] = { 1e-0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11,
    1e-12, 1e-13, 1e-14, 1e-15, 1e-16, 1e-17, 1e-18, 1e-19, 1e-20, 1e-21, 1e-22 };

/* Digits from s on, leading zeros apart; mantissa may wrap when there are too many, which the caller then
 * refuses. */
static const char *read_digits(const char *s, uint64_t *mantissa, ptrdiff_t *digits)
{
	if (*mantissa == 0)
		while (*s == '0')
			s++;
	const char *first = s;
	for (; is_digit(*s); s++)
		*mantissa = *mantissa * 10 + (uint64_t)(*s - '0');
	*digits += s - first;
	return s;
}

/* Of any length, with leading zeros that do not count. */
static enum ab_decimal read_long(const char **text, double *value, double *step)
{
	const char *s = *text;
	bool minus = *s == '-';
	uint64_t mantissa = 0;
	ptrdiff_t digits = 0, decimals = 0;
	s += *s == '-' || *s == '+';
	const char *whole = s;
	s = read_digits(s, &mantissa, &digits);
	bool seen = s > whole;
	if (*s == '.') {
		const char *part = ++s;
		s = read_digits(s, &mantissa, &digits);
		decimals = s - part;
		seen = seen || decimals > 0;
	}
	if (!seen)
		return AB_DECIMAL_NONE;
	if (digits > AB_DECIMAL_DIGITS || decimals > AB_DECIMAL_PLACES)
		return AB_DECIMAL_LONG;
	double x = decimals == 0 ? (double)mantissa : (double)mantissa / ab_decimal_tens[decimals];
	*value = minus ? -x : x;
	*step = ab_decimal_steps[decimals];
	*text = s;
	return AB_DECIMAL_OK;
}

/* What is not short is read again with more care. */
enum ab_decimal ab_decimal_read(const char **text, double *value, double *step)
{
	const char *first = *text + (**text == '-' || **text == '+');
	double x;
	const char *end = ab_decimal_short(first, &x, step);
	if (end == first)
		return read_long(text, value, step);
	*value = **text == '-' ? -x : x;
	*text = end;
	return AB_DECIMAL_OK;
}
