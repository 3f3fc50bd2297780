/* quantity.c - "20 L", "67 F", "1.048 SG": numbers with units, in
 *
 * The number by decimal.c, its unit by the table of units.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/decimal.h"
#include "base/plain.h"
#include "base/str.h"
#include "base/units.h"

/* Longer than any quantity a person writes, short enough for a message. */
enum { MAX_TEXT = 64 };

/* Signs a price may carry; which one is not checked, for there is one currency to a profile. */
static const char *const money_signs[] = {
	"$", "\xC2\xA3", "\xE2\x82\xAC", "\xC2\xA5", "\xE2\x82\xB9", "\xE2\x82\xA9", "\xE2\x82\xBD",
	"\xE2\x82\xBA", "\xE2\x82\xAA", "R$", "kr", "z\xC5\x82", "K\xC4\x8D", "Ft", "Fr",
};

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Every refusal names what would be right, with an example and all units: nobody should need the manual to
 * mend one attribute. */
static bool refuse(char *why, size_t size, const char *text, enum ab_dim dim, const char *trouble)
{
	char shown[MAX_TEXT + 4];
	snprintf(shown, sizeof shown, "%.*s%s", MAX_TEXT, text, strlen(text) > MAX_TEXT ? "..." : "");
	snprintf(why, size, "\"%s\" %s; write %s such as \"%s\" (units: %s)", shown, trouble, ab_dims[dim].name,
	    ab_dims[dim].example, ab_dims[dim].units);
	ab_text_scrub(why);
	return false;
}

/* Names of a few letters: a loop is done before a call would have begun. */
static inline bool is_named(const char *unit, const char *name, size_t len)
{
	size_t i = 0;
	while (i < len && unit[i] == name[i] && unit[i] != '\0')
		i++;
	return i == len && unit[i] == '\0';
}

static inline bool is_spelled(const char *unit, const char *name)
{
	while (*unit == *name && *unit != '\0') {
		unit++;
		name++;
	}
	return *unit == *name;
}

static const struct unit *find_unit(enum ab_dim dim, const char *name, size_t len)
{
	for (const struct unit *u = ab_dims[dim].table; u != NULL && u->name != NULL; u++)
		if (is_named(u->name, name, len))
			return u;
	return NULL;
}

/* The unit that differs in case only: a slip worth naming. */
static const struct unit *find_unit_blind(enum ab_dim dim, const char *name)
{
	for (const struct unit *u = ab_dims[dim].table; u != NULL && u->name != NULL; u++)
		if (ab_word_cmp(u->name, name) == 0)
			return u;
	return NULL;
}

static bool refuse_unit(char *why, size_t size, const char *text, enum ab_dim dim, const char *unit)
{
	char trouble[96];
	const struct unit *near = find_unit_blind(dim, unit);
	if (unit[0] == '\0')
		return refuse(why, size, text, dim, "has no unit");
	/* Not read as a point: "1,048" would be a thousand in one country and about one in the next. */
	if (unit[0] == ',' && is_digit(unit[1]))
		return refuse(why, size, text, dim,
		    "has a comma in its number, where '.' is the decimal point");
	/* "1e3" would otherwise be told to have the unknown unit "e3". */
	if ((unit[0] == 'e' || unit[0] == 'E') && (is_digit(unit[1]) || unit[1] == '-' || unit[1] == '+'))
		return refuse(why, size, text, dim, "has an exponent, where only plain decimals are read");
	if (near == NULL)
		return refuse(why, size, text, dim, ab_dims[dim].bare ? "has something after the number"
		    : "has an unknown unit");
	snprintf(trouble, sizeof trouble, "has a unit that is written \"%s\"", near->name);
	return refuse(why, size, text, dim, trouble);
}

/* Plato is read where the polynomial and its inverse were compared with tables, and a little beyond for very
 * dry beer. */
static bool keep_plato(const struct unit *u, double written, double step, struct ab_quantity *out)
{
	if (written < -5 || written > 40)
		return false;
	/* The curve is bent, but over one step of reading it is straight: the derivative carries
	 * the step over. */
	double slope = ab_sg_from_plato(written + 0.5) - ab_sg_from_plato(written - 0.5);
	*out = (struct ab_quantity){ ab_sg_from_plato(written), step * slope, u->name };
	return true;
}

/* "3d 4h": each part smaller than the one before, only the first with a sign (which then stands for all). */
static bool read_sum(const char *s, struct ab_quantity *out, char *why, size_t size, const char *text)
{
	bool minus = *s == '-';
	double sum = 0, last = 0, resolution = 0;
	const char *first = NULL;
	while (*s != '\0') {
		double x, step;
		if (first != NULL && !is_digit(*s) && *s != '.')
			return refuse(why, size, text, AB_DIM_TIME,
			    "has a part that is not a number and a unit");
		enum ab_decimal got = ab_decimal_read(&s, &x, &step);
		if (got != AB_DECIMAL_OK)
			return refuse(why, size, text, AB_DIM_TIME,
			    got == AB_DECIMAL_LONG ? "has too many digits" : "does not start with a number");
		s += *s == ' ';
		size_t len = 0;
		while (s[len] != '\0' && s[len] != ' ' && !is_digit(s[len]))
			len++;
		const struct unit *u = find_unit(AB_DIM_TIME, s, len);
		if (u == NULL)
			return refuse_unit(why, size, text, AB_DIM_TIME, s);
		/* "4h 3d" is more often a slip for "4d 3h" than meant; and it also shuts out the same unit
		 * twice. */
		if (first != NULL && u->factor >= last)
			return refuse(why, size, text, AB_DIM_TIME,
			    "does not go from the larger unit to the smaller");
		last = u->factor;
		first = first == NULL ? u->name : first;
		/* "-1d 4h" is 28 hours before, not 20. */
		sum += (x < 0 ? -x : x) * u->factor;
		resolution = step * u->factor;
		s += len;
		s += *s == ' ';
	}
	if (first == NULL)
		return refuse(why, size, text, AB_DIM_TIME, "is empty");
	*out = (struct ab_quantity){ minus ? -sum : sum, resolution, first };
	return true;
}

/* The length of a currency sign or code at s, 0 when there is none. */
static size_t money_mark(const char *s)
{
	size_t caps = 0;
	while (s[caps] >= 'A' && s[caps] <= 'Z')
		caps++;
	if (caps == 3)
		return 3;
	size_t longest = 0;
	for (size_t i = 0; i < sizeof money_signs / sizeof *money_signs; i++) {
		size_t len = strlen(money_signs[i]);
		if (len > longest && strncmp(s, money_signs[i], len) == 0)
			longest = len;
	}
	return longest;
}

static bool read_money(const char *s, struct ab_quantity *out, char *why, size_t size, const char *text)
{
	size_t before = money_mark(s);
	s += before;
	s += before > 0 && *s == ' ';
	double x, step;
	enum ab_decimal got = ab_decimal_read(&s, &x, &step);
	if (got != AB_DECIMAL_OK)
		return refuse(why, size, text, AB_DIM_MONEY,
		    got == AB_DECIMAL_LONG ? "has too many digits" : "has no number where one is expected");
	const char *rest = s;
	if (before == 0) {
		rest += *rest == ' ' && rest[1] != '\0';
		rest += money_mark(rest);
	}
	if (*rest != '\0')
		return refuse_unit(why, size, text, AB_DIM_MONEY, s + (*s == ' '));
	*out = (struct ab_quantity){ x, step, "" };
	return true;
}

static bool read_one(const char *s, enum ab_dim dim, struct ab_quantity *out, char *why, size_t size,
    const char *text)
{
	double x, step;
	enum ab_decimal got = ab_decimal_read(&s, &x, &step);
	if (got != AB_DECIMAL_OK)
		return refuse(why, size, text, dim,
		    got == AB_DECIMAL_LONG ? "has too many digits" : "does not start with a number");
	s += *s == ' ' && s[1] != '\0';
	if (*s == '\0' && ab_dims[dim].bare) {
		*out = (struct ab_quantity){ x, step, "" };
		return true;
	}
	const struct unit *u = find_unit(dim, s, strlen(s));
	if (u == NULL)
		return refuse_unit(why, size, text, dim, s);
	if (u->curve == PLATO)
		return keep_plato(u, x, step, out) ||
		    refuse(why, size, text, dim, "is no gravity of wort or beer (-5 to 40 P)");
	double value = u->curve == FAHRENHEIT ? (x - 32) * 5 / 9 : x * u->factor + u->offset;
	/* A lost minus or unit shows here; what is cold but possible is left to the bounds of each
	 * attribute. */
	if (dim == AB_DIM_TEMP && value < -273.15)
		return refuse(why, size, text, dim, "is below absolute zero");
	*out = (struct ab_quantity){ value, step * u->factor, u->name };
	return true;
}

/* Kept apart from the search for what is spelled otherwise: nearly all have one of few units, each told by a letter or
 * two. */
bool ab_quantity_plain(const char *text, enum ab_dim dim, struct ab_quantity *out)
{
	double x, step;
	const struct unit *u = ab_dims[dim].table;
	const char *s = ab_decimal_short(text, &x, &step);
	if (u == NULL || s == text || s - text > AB_DECIMAL_DIGITS + 2)   /* zeros in front, perhaps too many */
		return false;
	s += *s == ' ';
	while (u->name != NULL && !is_spelled(u->name, s))
		u++;
	if (u->name == NULL || u->curve != STRAIGHT)
		return false;
	double value = x * u->factor + u->offset;
	if (dim == AB_DIM_TEMP && value < -273.15)
		return false;
	*out = (struct ab_quantity){ value, step * u->factor, u->name };
	return true;
}

/* Kept out of what is plain, which needs no room for a copy. */
static __attribute__((noinline)) bool read_any(
    const char *text, enum ab_dim dim, struct ab_quantity *out, char *why, size_t size)
{
	char copy[MAX_TEXT + 1];
	const char *from = text;
	while (is_blank(*from))
		from++;
	size_t len = strlen(from);
	while (len > 0 && is_blank(from[len - 1]))
		len--;
	if (len > MAX_TEXT)
		return refuse(why, size, from, dim, "is too long (at most 64 bytes)");
	/* Almost always there is nothing to cut off, and then nothing to copy. */
	if (from[len] != '\0') {
		memcpy(copy, from, len);
		copy[len] = '\0';
		from = copy;
	}
	if (dim == AB_DIM_TIME)
		return read_sum(from, out, why, size, from);
	return dim == AB_DIM_MONEY ? read_money(from, out, why, size, from) : read_one(from, dim, out, why, size, from);
}

bool ab_quantity_read(const char *text, enum ab_dim dim, struct ab_quantity *out, char *why, size_t size)
{
	assert((unsigned)dim < AB_DIM_MAX_ && out != NULL && size > 0);
	return ab_quantity_plain(text, dim, out) || read_any(text, dim, out, why, size);
}
