/* saying_us.c - words of the rules for a brewer who thinks in US units
 *
 * Rules are written once, with metric figures in their sentences; the figures are put into US units as the
 * text is shown. Factors: NIST SP 811 (2008), appendix B.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/saying.h"

#include <ctype.h>
#include <string.h>

#include "base/decimal.h"
#include "base/str.h"
#include "base/units.h"

/* Units that stand in texts; "mm" before "m" would matter, were there an "m". Whole degrees and pounds, since
 * rules speak in round numbers. */
static const struct { const char *unit, *us; double factor, offset; int digits; } in_words[] = {
	{ "C", "F", 1.8, 32, 0 }, { "K", "F degrees", 1.8, 0, 0 }, { "bar", "psi", 100 / 6.894757, 0, 0 },
	{ "degrees", "F degrees", 1.8, 0, 0 }, { "mm", "in", 1 / 25.4, 0, 1 }, { "cm", "in", 1 / 2.54, 0, 1 },
	{ "L", "gal", 1 / AB_GALLON_L, 0, 1 },
	{ "kg", "lb", 1000 / AB_POUND_G, 0, 0 }, { "g", "oz", 1 / AB_OUNCE_G, 0, 1 },
};
enum { IN_WORDS = sizeof in_words / sizeof *in_words };
/* Yeast comes in packets of 11 g everywhere, and fine scales show grams. */
static const double LEAST_G = 20;

/* The unit that begins here and ends with the word; -1 = none. */
static int unit_at(const char *text)
{
	for (int i = 0; i < IN_WORDS; i++) {
		size_t len = strlen(in_words[i].unit);
		if (strncmp(text, in_words[i].unit, len) == 0 && !isalnum((unsigned char)text[len]) &&
		    text[len] != '/' && strncmp(text + len, " Plato", 6) != 0)
			return i;
	}
	return -1;
}

/* Digits with at most one point; 0 when none begin here. */
static size_t number_at(const char *text)
{
	size_t n = strspn(text, "0123456789");
	if (n > 0 && text[n] == '.' && isdigit((unsigned char)text[n + 1]))
		n += 1 + strspn(text + n + 1, "0123456789");
	return n;
}

/* The unit of a number that ends before text: its own, or that of the number after "to" or "and"
 * ("64 to 67 C"). */
static int unit_of(const char *text)
{
	static const char *const ranges[] = { " to ", " and ", " or " };
	if (*text == ' ' && unit_at(text + 1) >= 0)
		return unit_at(text + 1);
	for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
		size_t len = strlen(ranges[i]), digits = strncmp(text, ranges[i], len) == 0
		    ? number_at(text + len) : 0;
		if (digits > 0 && text[len + digits] == ' ')
			return unit_at(text + len + digits + 1);
	}
	return -1;
}

/* " (32 F)" behind "0 C": what the figure before it becomes. How long it is; 0 when it does not stand there. */
static size_t said_again(const char *text)
{
	size_t digits = strncmp(text, " (", 2) == 0 ? number_at(text + 2) : 0;
	return digits > 0 && strncmp(text + 2 + digits, " F)", 3) == 0 ? 2 + digits + 3 : 0;
}

/* One number, with the unit that follows it where it has its own. Returns how far it read. */
static size_t put_us(struct page *p, struct ab_str *out, const char *text, size_t digits)
{
	int unit = unit_of(text + digits);
	const char *at = text;
	double x, step;
	bool read = unit >= 0 && ab_decimal_read(&at, &x, &step) == AB_DECIMAL_OK;
	if (!read || (strcmp(in_words[unit].unit, "g") == 0 && x < LEAST_G)) {
		ab_str_addn(out, text, digits);
		return digits;
	}
	ab_str_add(out, say_short(p, x * in_words[unit].factor + in_words[unit].offset,
	    in_words[unit].digits));
	if (unit_at(text + digits + 1) != unit || text[digits] != ' ')
		return digits;
	ab_str_addf(out, " %s", in_words[unit].us);
	size_t end = digits + 1 + strlen(in_words[unit].unit);
	return end + said_again(text + end);
}

const char *say_words(struct page *p, const char *words)
{
	struct ab_str out;
	if (!p->look->us_units || words == NULL || strpbrk(words, "0123456789") == NULL)
		return words;
	ab_str_init(&out, 0);
	for (const char *at = words; *at != '\0';) {
		size_t digits = number_at(at);
		/* Only a number that begins a word: "pH5.8" and "E10" are names. */
		if (digits > 0 && (at == words || at[-1] == ' ' || at[-1] == '('))
			at += put_us(p, &out, at, digits);
		else
			ab_str_addn(&out, at++, 1);
	}
	if (!ab_str_ok(&out))
		p->bad = true;
	const char *kept = page_text(p, "%s", ab_str_text(&out));
	ab_str_clear(&out);
	return kept;
}
