/* quantity.c - "20 L", "67 F", "1.048 SG": numbers with units, in
 *
 * One table of units: kept = written * factor + offset. Only gravity is curved (gravity.c). Factors are exact
 * by definition unless marked (NIST SP 811:2008, appendix B.8), written as products of definitions where that
 * is the definition.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/decimal.h"
#include "base/str.h"

/* Longer than any quantity a person writes, short enough for a message. */
enum { MAX_TEXT = 64 };

#define GALLON_L 3.785411784     /* 231 cubic inches of 25.4 mm */
#define FLOZ_ML 29.5735295625    /* a gallon's 128th */
#define POUND_G 453.59237

/* FAHRENHEIT is straight too, but worked out in one go so that 212 F is 100 C to the last bit. */
enum curve { STRAIGHT, FAHRENHEIT, PLATO };

/* One row a spelling. Case counts ("mL", not "ML"; "g" is not "G"), for in SI a letter's case changes its
 * meaning by powers of ten; a slip in case alone is named in the message. */
struct unit {
	const char *name;
	double factor, offset;
	enum curve curve;
};

/* US customary unless it says imperial: an imperial pint is a fifth larger, and guessing between them would
 * be worse than having no "pint" for imperial at all. */
static const struct unit volume_units[] = {
	{ "L", 1, 0, STRAIGHT },
	{ "mL", 0.001, 0, STRAIGHT },
	{ "hL", 100, 0, STRAIGHT },
	{ "gal", GALLON_L, 0, STRAIGHT },
	{ "qt", GALLON_L / 4, 0, STRAIGHT },
	{ "pt", GALLON_L / 8, 0, STRAIGHT },
	{ "floz", FLOZ_ML / 1000, 0, STRAIGHT },
	{ "impgal", 4.54609, 0, STRAIGHT },
	{ "cup", GALLON_L / 16, 0, STRAIGHT },
	{ 0 }
};
static const struct unit mass_units[] = {
	{ "g", 1, 0, STRAIGHT },
	{ "kg", 1000, 0, STRAIGHT },
	{ "mg", 0.001, 0, STRAIGHT },
	{ "oz", POUND_G / 16, 0, STRAIGHT },
	{ "lb", POUND_G, 0, STRAIGHT },
	{ 0 }
};
static const struct unit temp_units[] = {
	{ "C", 1, 0, STRAIGHT },
	{ "F", 5.0 / 9, -160.0 / 9, FAHRENHEIT },
	{ "K", 1, -273.15, STRAIGHT },
	{ 0 }
};
/* A difference has no offset: 2 F of spread are 1.1 K, whereas the temperature 2 F is -16.7 C. This is the
 * trap of mixing the two tables up, so they are dimensions of their own. */
static const struct unit temp_diff_units[] = {
	{ "K", 1, 0, STRAIGHT },
	{ "C", 1, 0, STRAIGHT },
	{ "F", 5.0 / 9, 0, STRAIGHT },
	{ 0 }
};
static const struct unit time_units[] = {
	{ "s", 1, 0, STRAIGHT },
	{ "min", 60, 0, STRAIGHT },
	{ "h", 3600, 0, STRAIGHT },
	{ "d", 86400, 0, STRAIGHT },
	{ "wk", 7 * 86400, 0, STRAIGHT },
	/* The mean month and year of the Julian calendar (365.25 days): "2 mo" of storage is not meant to
	 * the day. */
	{ "mo", 30.4375 * 86400, 0, STRAIGHT },
	{ "y", 365.25 * 86400, 0, STRAIGHT },
	{ 0 }
};
/* Gauge pressure, as every regulator shows it; "0 psi" is the open air. psi = pound-force on a square inch,
 * with standard gravity 9.80665 m/s2. */
static const struct unit pressure_units[] = {
	{ "kPa", 1, 0, STRAIGHT },
	{ "bar", 100, 0, STRAIGHT },
	{ "mbar", 0.1, 0, STRAIGHT },
	{ "psi", POUND_G * 9.80665 / (25.4 * 25.4), 0, STRAIGHT },
	{ "atm", 101.325, 0, STRAIGHT },
	{ 0 }
};
/* Points are counted from water: 48 points are 1.048. Kept as SG at 20/20 C. */
static const struct unit gravity_units[] = {
	{ "SG", 1, 0, STRAIGHT },
	{ "P", 1, 0, PLATO },
	{ "points", 0.001, 1, STRAIGHT },
	{ 0 }
};
static const struct unit length_units[] = {
	{ "mm", 1, 0, STRAIGHT },
	{ "cm", 10, 0, STRAIGHT },
	{ "m", 1000, 0, STRAIGHT },
	{ "in", 25.4, 0, STRAIGHT },
	{ "ft", 304.8, 0, STRAIGHT },
	{ 0 }
};
static const struct unit share_units[] = {
	{ "%", 0.01, 0, STRAIGHT },
	{ 0 }
};
static const struct unit co2_units[] = {
	{ "vol", 1, 0, STRAIGHT },
	{ "g/L", 1 / 1.9768, 0, STRAIGHT },  /* density of the real gas at 0 C, 1 atm: 1.9768 g/L (from
	                                      * memory) */
	{ 0 }
};
static const struct unit conc_units[] = {
	{ "mg/L", 1, 0, STRAIGHT },
	{ "ppm", 1, 0, STRAIGHT },  /* of water and beer: 1 mg in about 1 kg, taken as 1 L */
	{ "g/L", 1000, 0, STRAIGHT },
	/* Small letters only: U+00B5 and U+03BC both look like the sign for micro, and a file typed on one
	 * machine would not match on another. */
	{ "ug/L", 0.001, 0, STRAIGHT },
	{ "ppb", 0.001, 0, STRAIGHT },
	{ 0 }
};
/* Sanitiser labels say "oz per gallon" and mean fluid ounces, so oz is a volume here and nowhere else. */
static const struct unit dose_units[] = {
	{ "mL/L", 1, 0, STRAIGHT },
	{ "mL/gal", 1 / GALLON_L, 0, STRAIGHT },
	{ "floz/gal", FLOZ_ML / GALLON_L, 0, STRAIGHT },
	{ "oz/gal", FLOZ_ML / GALLON_L, 0, STRAIGHT },
	{ 0 }
};
/* In thousand millions: a pitch is hundreds of them, and no exponent has to be written. */
static const struct unit cells_units[] = {
	{ "Gcells", 1, 0, STRAIGHT },
	{ "Mcells", 0.001, 0, STRAIGHT },
	{ 0 }
};
static const struct unit bitterness_units[] = {
	{ "IBU", 1, 0, STRAIGHT },
	{ 0 }
};
static const struct unit ph_units[] = {
	{ "pH", 1, 0, STRAIGHT },
	{ 0 }
};
static const struct unit area_units[] = {
	{ "m2", 1, 0, STRAIGHT },
	{ "cm2", 1e-4, 0, STRAIGHT },
	{ "ft2", 0.3048 * 0.3048, 0, STRAIGHT },
	{ 0 }
};
static const struct unit packs_units[] = {
	{ "packs", 1, 0, STRAIGHT },
	{ "pack", 1, 0, STRAIGHT },
	{ "packet", 1, 0, STRAIGHT },
	{ "packets", 1, 0, STRAIGHT },
	{ 0 }
};

/* bare: the number may stand without a unit. */
static const struct dim {
	const char *name, *units, *kept, *example;
	bool bare;
	const struct unit *table;   /* NULL: no units */
} dims[] = {
	[AB_DIM_NONE] = { "a number", "none (a bare number)", "", "12", true, NULL },
	[AB_DIM_VOLUME] = { "a volume", "L, mL, hL, gal, qt, pt, floz, impgal, cup", "L",
	    "20 L", false, volume_units },
	[AB_DIM_MASS] = { "a mass", "g, kg, mg, oz, lb", "g", "11 g", false, mass_units },
	[AB_DIM_TEMP] = { "a temperature", "C, F, K", "C", "19.5 C", false, temp_units },
	[AB_DIM_TEMP_DIFF] = { "a temperature difference", "K, C, F", "K", "2 K", false, temp_diff_units },
	[AB_DIM_TIME] = { "a length of time", "s, min, h, d, wk, mo, y", "s", "3d 4h", false, time_units },
	[AB_DIM_PRESSURE] = { "a gauge pressure", "kPa, bar, mbar, psi, atm", "kPa",
	    "12 psi", false, pressure_units },
	[AB_DIM_GRAVITY] = { "a gravity", "SG, P, points", "SG", "1.048 SG", false, gravity_units },
	[AB_DIM_LENGTH] = { "a length", "mm, cm, m, in, ft", "mm", "30 cm", false, length_units },
	[AB_DIM_SHARE] = { "a share", "%", "", "75 %", false, share_units },
	[AB_DIM_CO2] = { "an amount of CO2", "vol, g/L", "vol", "2.4 vol", false, co2_units },
	[AB_DIM_CONC] = { "a concentration", "mg/L, ppm, g/L, ug/L, ppb", "mg/L",
	    "8 mg/L", false, conc_units },
	[AB_DIM_DOSE] = { "a dose", "mL/L, mL/gal, floz/gal, oz/gal", "mL/L", "1.6 mL/L", false, dose_units },
	[AB_DIM_CELLS] = { "a number of cells", "Gcells, Mcells", "Gcells", "200 Gcells", false,
	    cells_units },
	[AB_DIM_BITTERNESS] = { "a bitterness", "IBU", "IBU", "35 IBU", false, bitterness_units },
	[AB_DIM_PH] = { "a pH", "pH, or none", "pH", "4.4", true, ph_units },
	[AB_DIM_AREA] = { "an area", "m2, cm2, ft2", "m2", "0.5 m2", false, area_units },
	[AB_DIM_PACKS] = { "a number of yeast packs", "packs, pack, packet, packets", "packs",
	    "2 packs", false, packs_units },
	[AB_DIM_MONEY] = { "an amount of money", "a currency sign or 3-letter code, or none", "",
	    "12.50", true, NULL },
};
_Static_assert(sizeof dims / sizeof *dims == AB_DIM_MAX_, "every dimension needs its words");

/* Signs a price may carry; which one is not checked, for there is one currency to a profile. */
static const char *const money_signs[] = {
	"$", "\xC2\xA3", "\xE2\x82\xAC", "\xC2\xA5", "\xE2\x82\xB9", "\xE2\x82\xA9", "\xE2\x82\xBD",
	"\xE2\x82\xBA", "\xE2\x82\xAA", "R$", "kr", "z\xC5\x82", "K\xC4\x8D", "Ft", "Fr",
};

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* 10^n is a double without rounding up to n = 22, and so 10^-n is the nearest double there. */
static const double tens[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
    1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };
static const double steps[] = { 1e-0, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11,
    1e-12, 1e-13, 1e-14, 1e-15, 1e-16, 1e-17, 1e-18, 1e-19, 1e-20, 1e-21, 1e-22 };
enum { MAX_DIGITS = 17, MAX_DECIMALS = sizeof tens / sizeof *tens - 1 };
_Static_assert(sizeof steps == sizeof tens, "a step for each power");

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
	if (digits > MAX_DIGITS || decimals > MAX_DECIMALS)
		return AB_DECIMAL_LONG;
	/* Both operands are exact up to 15 digits, so IEEE division rounds once: the nearest double. */
	double x = decimals == 0 ? (double)mantissa : (double)mantissa / tens[decimals];
	*value = minus ? -x : x;
	/* What was written tells how finely it was read: "1.05" and "1.050" are one value and two
	 * precisions. */
	*step = steps[decimals];
	*text = s;
	return AB_DECIMAL_OK;
}

static inline const char *add_digits(const char *s, uint64_t *mantissa)
{
	for (unsigned digit; (digit = (unsigned)(*s - '0')) < 10; s++)
		*mantissa = *mantissa * 10 + digit;
	return s;
}

/* A mantissa of digits and a power of ten, not digit by digit in doubles: that would round at every digit,
 * and 1.048 would differ from the 1.048 in a C table, so that range checks at the bounds would fail. Nearly every
 * number is short and goes straight through; what is not is read again with more care. */
enum ab_decimal ab_decimal_read(const char **text, double *value, double *step)
{
	const char *first = *text + (**text == '-' || **text == '+');
	uint64_t mantissa = 0;
	const char *s = add_digits(first, &mantissa);
	ptrdiff_t digits = s - first, decimals = 0;
	if (*s == '.') {
		const char *part = s + 1;
		s = add_digits(part, &mantissa);
		decimals = s - part;
		digits += decimals;
	}
	if (digits == 0)
		return AB_DECIMAL_NONE;
	if (digits > MAX_DIGITS)
		return read_long(text, value, step);
	double x = decimals == 0 ? (double)(int64_t)mantissa : (double)(int64_t)mantissa / tens[decimals];
	*value = **text == '-' ? -x : x;
	*step = steps[decimals];
	*text = s;
	return AB_DECIMAL_OK;
}

/* Every refusal names what would be right, with an example and all units: nobody should need the manual to
 * mend one attribute. */
static bool refuse(char *why, size_t size, const char *text, enum ab_dim dim, const char *trouble)
{
	char shown[MAX_TEXT + 4];
	snprintf(shown, sizeof shown, "%.*s%s", MAX_TEXT, text, strlen(text) > MAX_TEXT ? "..." : "");
	snprintf(why, size, "\"%s\" %s; write %s such as \"%s\" (units: %s)", shown, trouble, dims[dim].name,
	    dims[dim].example, dims[dim].units);
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
	for (const struct unit *u = dims[dim].table; u != NULL && u->name != NULL; u++)
		if (is_named(u->name, name, len))
			return u;
	return NULL;
}

/* The unit that differs in case only: a slip worth naming. */
static const struct unit *find_unit_blind(enum ab_dim dim, const char *name)
{
	for (const struct unit *u = dims[dim].table; u != NULL && u->name != NULL; u++)
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
		return refuse(why, size, text, dim, dims[dim].bare ? "has something after the number"
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
	if (*s == '\0' && dims[dim].bare) {
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

/* One number and one unit with nothing around them, as nearly all are. False for whatever else it may be: that is
 * looked at from the beginning, and refused in words. */
static bool read_plain(const char *text, enum ab_dim dim, struct ab_quantity *out)
{
	const char *s = text;
	double x, step;
	const struct unit *u = dims[dim].table;
	if (u == NULL || *s == '-' || ab_decimal_read(&s, &x, &step) != AB_DECIMAL_OK)
		return false;
	if (s - text > MAX_DIGITS + 2)   /* zeros in front, perhaps more than a quantity may have */
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

bool ab_quantity_read(const char *text, enum ab_dim dim, struct ab_quantity *out, char *why, size_t size)
{
	char copy[MAX_TEXT + 1];
	assert((unsigned)dim < AB_DIM_MAX_ && out != NULL && size > 0);
	if (read_plain(text, dim, out))
		return true;
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

const char *ab_dim_units(enum ab_dim dim)
{
	return dims[dim].units;
}

const char *ab_dim_name(enum ab_dim dim)
{
	return dims[dim].name;
}

const char *ab_dim_kept(enum ab_dim dim)
{
	return dims[dim].kept;
}
