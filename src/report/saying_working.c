/* saying_working.c - workings of facts in the brewer's units
 *
 * A working is written in the units facts are kept in; every quantity in it is a number, a space and its unit.
 * Digits count here, unlike in the words of the rules (saying_us.c), which speak in round figures. Factors: NIST
 * SP 811 (2008), appendix B.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/saying.h"

#include <string.h>

#include "base/units.h"

/* Units of working texts, which are written in those the facts are kept in, as a brewer reads them. more =
 * digits more than were written. Concentrations, degrees Plato and volumes of gas are the same everywhere. */
static const struct { const char *unit; struct { const char *unit; double factor, offset; int more; } as[2];
} quantities[] = {
	{ "C", { { NULL, 0, 0, 0 }, { "F", 1.8, 32, 0 } } },
	{ "K", { { NULL, 0, 0, 0 }, { "F degrees", 1.8, 0, 0 } } },
	{ "L", { { NULL, 0, 0, 0 }, { "gal", 1 / AB_GALLON_L, 0, 1 } } },
	{ "mL", { { NULL, 0, 0, 0 }, { "fl oz", 1 / AB_FLOZ_ML, 0, 1 } } },
	{ "g", { { NULL, 0, 0, 0 }, { "oz", 1 / AB_OUNCE_G, 0, 2 } } },
	{ "g/L", { { NULL, 0, 0, 0 }, { "oz/gal", AB_GALLON_L / AB_OUNCE_G, 0, 1 } } },
	{ "mm", { { NULL, 0, 0, 0 }, { "in", 1 / 25.4, 0, 2 } } },
	{ "m", { { NULL, 0, 0, 0 }, { "ft", 1 / 0.3048, 0, 0 } } },
	{ "kPa", { { "bar", 0.01, 0, 2 }, { "psi", 1 / 6.894757, 0, 1 } } },
};

/* A number at s, if it stands alone: its length, its digits after the point. */
static size_t working_number(const char *s, const char *start, double *x, int *digits)
{
	size_t n = s[0] == '-' ? 1 : 0, from = n, point = 0;
	double value = 0, scale = 1;

	if (s > start && (s[-1] == '.' || s[-1] == '^' || (s[-1] >= '0' && s[-1] <= '9')))
		return 0;
	for (; (s[n] >= '0' && s[n] <= '9') || (s[n] == '.' && point == 0 && s[n + 1] >= '0' && s[n + 1] <= '9'); n++) {
		if (s[n] == '.') {
			point = n;
			continue;
		}
		value = 10 * value + (s[n] - '0');
		scale *= point > 0 ? 10 : 1;
	}
	*digits = point > 0 ? (int)(n - point - 1) : 0;
	*x = (from > 0 ? -1 : 1) * value / scale;
	return n > from ? n : 0;
}

/* Place of the unit at s, or -1; a unit ends where its word ends. */
static int working_unit(const char *s)
{
	size_t n = strcspn(s, " ,;:()");

	while (n > 0 && s[n - 1] == '.')
		n--;
	for (size_t i = 0; i < sizeof quantities / sizeof *quantities; i++)
		if (strlen(quantities[i].unit) == n && memcmp(quantities[i].unit, s, n) == 0)
			return (int)i;
	return -1;
}

/* Rewritten here and not where it was worked out: the store and the data keep one text whatever the reader
 * likes. */
const char *say_working(struct page *p, const char *text)
{
	const char *out = "", *done = text;
	int look = p->look->us_units ? 1 : 0, digits;
	double x;

	for (const char *s = text; *s != '\0';) {
		size_t n = working_number(s, text, &x, &digits);
		int unit = n > 0 && s[n] == ' ' ? working_unit(s + n + 1) : -1;
		if (unit >= 0 && quantities[unit].as[look].unit != NULL) {
			int more = digits + quantities[unit].as[look].more;
			x = x * quantities[unit].as[look].factor + quantities[unit].as[look].offset;
			out = page_text(p, "%s%.*s%s %s", out, (int)(s - done), done,
			    say_fixed(p, x, more < 4 ? more : 4), quantities[unit].as[look].unit);
			s += n + 1 + strlen(quantities[unit].unit);
			done = s;
		} else
			s += n > 0 ? n : 1;
	}
	return page_text(p, "%s%s", out, done);
}
