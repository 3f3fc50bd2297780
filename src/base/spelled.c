/* spelled.c - units and small numbers as people say and type them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/spelled.h"

#include <string.h>

enum { LONGEST = 32 };

/* "|" between; small letters, without the plural s. Within one dimension no two units differ by case alone. Brix are
 * taken as Plato: both are the share of sugar by weight, and differ by less than a hydrometer shows (from memory). */
static const struct { enum ab_dim dim; const char *unit, *said; } units[] = {
	{ AB_DIM_VOLUME, "L", "l|lt|ltr|litre|liter|litter" }, { AB_DIM_VOLUME, "mL", "ml|millilitre|milliliter|cc" },
	{ AB_DIM_VOLUME, "hL", "hl|hectolitre|hectoliter" }, { AB_DIM_VOLUME, "gal", "gal|gallon|galon|us gallon" },
	{ AB_DIM_VOLUME, "qt", "qt|quart" }, { AB_DIM_VOLUME, "pt", "pt|pint|us pint" },
	{ AB_DIM_VOLUME, "cup", "cup" },
	{ AB_DIM_VOLUME, "floz", "floz|fl oz|fl. oz|fluid oz|fluid ounce" },
	{ AB_DIM_VOLUME, "impgal", "impgal|imp gal|imperial gallon|uk gallon" },
	{ AB_DIM_MASS, "g", "g|gr|gm|grm|gram|gramm|gramme" },
	{ AB_DIM_MASS, "kg", "kg|kilo|kilogram|kilogramm|kilogramme|kgr" },
	{ AB_DIM_MASS, "mg", "mg|milligram" }, { AB_DIM_MASS, "oz", "oz|ounce" }, { AB_DIM_MASS, "lb", "lb|pound|#" },
	{ AB_DIM_TEMP, "C", "c|celsius|celcius|celsuis|centigrade" },
	{ AB_DIM_TEMP, "F", "f|fahrenheit|farenheit|fahrenheight|farenheight" }, { AB_DIM_TEMP, "K", "k|kelvin" },
	{ AB_DIM_TEMP_DIFF, "K", "k|kelvin" }, { AB_DIM_TEMP_DIFF, "C", "c|celsius|celcius" },
	{ AB_DIM_TEMP_DIFF, "F", "f|fahrenheit|farenheit" },
	{ AB_DIM_TIME, "s", "s|sec|second" },
	{ AB_DIM_TIME, "min", "min|minute|minuite|minut|'|\xE2\x80\xB2|\xE2\x80\x99" },
	{ AB_DIM_TIME, "h", "h|hr|hour" },
	{ AB_DIM_TIME, "d", "d|day" }, { AB_DIM_TIME, "wk", "wk|w|week" }, { AB_DIM_TIME, "mo", "mo|mth|month" },
	{ AB_DIM_TIME, "y", "y|yr|year" },
	{ AB_DIM_PRESSURE, "kPa", "kpa" }, { AB_DIM_PRESSURE, "bar", "bar" },
	{ AB_DIM_PRESSURE, "mbar", "mbar|millibar" },
	{ AB_DIM_PRESSURE, "psi", "psi|pound per square inch" }, { AB_DIM_PRESSURE, "atm", "atm|atmosphere" },
	{ AB_DIM_GRAVITY, "SG", "sg|specific gravity" }, { AB_DIM_GRAVITY, "P", "p|plato|brix|bx" },
	{ AB_DIM_GRAVITY, "points", "point|pt|gu|gravity point" },
	{ AB_DIM_LENGTH, "mm", "mm|millimetre|millimeter" }, { AB_DIM_LENGTH, "cm", "cm|centimetre|centimeter" },
	{ AB_DIM_LENGTH, "m", "m|metre|meter" }, { AB_DIM_LENGTH, "in", "in|inch|inche" },
	{ AB_DIM_LENGTH, "ft", "ft|foot|feet" },
	{ AB_DIM_SHARE, "%", "%|percent|per cent|pct" },
	{ AB_DIM_CO2, "vol", "vol|volume" }, { AB_DIM_CO2, "g/L", "g/l|gram per litre|gram per liter" },
	{ AB_DIM_CONC, "mg/L", "mg/l" }, { AB_DIM_CONC, "ppm", "ppm" }, { AB_DIM_CONC, "g/L", "g/l" },
	{ AB_DIM_CONC, "ug/L", "ug/l" },
	{ AB_DIM_CONC, "ppb", "ppb" },
	{ AB_DIM_DOSE, "mL/L", "ml/l|ml per litre|ml per liter" }, { AB_DIM_DOSE, "mL/gal", "ml/gal|ml per gallon" },
	{ AB_DIM_DOSE, "floz/gal", "floz/gal" }, { AB_DIM_DOSE, "oz/gal", "oz/gal|oz per gallon|ounce per gallon" },
	{ AB_DIM_CELLS, "Gcells", "gcell|billion cell|billion" },
	{ AB_DIM_CELLS, "Mcells", "mcell|million cell|million" },
	{ AB_DIM_BITTERNESS, "IBU", "ibu|ebu" }, { AB_DIM_PH, "pH", "ph" },
	{ AB_DIM_AREA, "m2", "m2" }, { AB_DIM_AREA, "cm2", "cm2" }, { AB_DIM_AREA, "ft2", "ft2" },
	{ AB_DIM_PACKS, "packs", "pack|package|packet|paket|sachet|pouch|pouche|vial|bag" },
};

static const char *const usual[AB_DIM_MAX_] = {
	[AB_DIM_VOLUME] = "L|gal|mL", [AB_DIM_MASS] = "g|oz|kg|lb", [AB_DIM_TEMP] = "C|F", [AB_DIM_TEMP_DIFF] = "K|F",
	[AB_DIM_TIME] = "min|h|d", [AB_DIM_PRESSURE] = "bar|psi", [AB_DIM_GRAVITY] = "P|points",
	[AB_DIM_LENGTH] = "mm|in",
	[AB_DIM_SHARE] = "%", [AB_DIM_CO2] = "vol|g/L", [AB_DIM_CONC] = "mg/L|ppm", [AB_DIM_DOSE] = "mL/L|oz/gal",
	[AB_DIM_CELLS] = "Gcells", [AB_DIM_BITTERNESS] = "IBU", [AB_DIM_AREA] = "m2", [AB_DIM_PACKS] = "packs",
};

const char *ab_dim_usual(enum ab_dim dim)
{
	return usual[dim] != NULL ? usual[dim] : "";
}

/* Past "degrees", "deg." and the signs for them, of which keyboards have two; the same when there is none. */
static const char *past_degrees(const char *text)
{
	static const char *const words[] = { "degrees", "degree", "degress", "degres", "degre", "deegrees", "degs",
		"deg", "grad", "\xC2\xB0", "\xC2\xBA", "\xCB\x9A" };

	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		size_t len = strlen(words[i]);
		if (strncmp(text, words[i], len) != 0)
			continue;
		text += len;
		text += *text == '.';
		return text + strspn(text, " ");
	}
	return text;
}

/* Small letters, without the full stop behind. False when it is too long for a unit. */
static bool tidy(const char *said, char *to)
{
	size_t n = strlen(said);

	while (n > 0 && said[n - 1] == '.')
		n--;
	if (n >= LONGEST)
		return false;
	for (size_t i = 0; i < n; i++)
		to[i] = said[i] >= 'A' && said[i] <= 'Z' ? (char)(said[i] - 'A' + 'a') : said[i];
	to[n] = '\0';
	return true;
}

static bool in_list(const char *list, const char *text)
{
	size_t n = strlen(text);

	for (const char *at = list; n > 0;) {
		size_t len = strcspn(at, "|");
		if (len == n && memcmp(at, text, n) == 0)
			return true;
		/* "grams", but no "ls": what is one letter long has no plural. */
		if (len > 1 && n == len + 1 && text[len] == 's' && memcmp(at, text, len) == 0)
			return true;
		if (at[len] == '\0')
			return false;
		at += len + 1;
	}
	return false;
}

const char *ab_unit_spelled(enum ab_dim dim, const char *said)
{
	char text[LONGEST];
	const char *unit = text;
	bool scale = dim == AB_DIM_TEMP || dim == AB_DIM_TEMP_DIFF || dim == AB_DIM_GRAVITY;

	if (!tidy(said, text))
		return NULL;
	if (scale)
		unit = past_degrees(text);
	if (unit != text && *unit == '\0')
		return dim == AB_DIM_GRAVITY ? NULL : "";
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (units[i].dim == dim && in_list(units[i].said, unit))
			return units[i].unit;
	return NULL;
}

const char *ab_number_spelled(const char *word)
{
	static const char *const words[][2] = { { "a", "1" }, { "an", "1" }, { "one", "1" }, { "two", "2" },
		{ "couple", "2" }, { "three", "3" }, { "four", "4" }, { "five", "5" }, { "six", "6" }, { "seven", "7" },
		{ "eight", "8" }, { "nine", "9" }, { "ten", "10" }, { "eleven", "11" }, { "twelve", "12" },
		{ "thirteen", "13" }, { "fourteen", "14" }, { "fifteen", "15" }, { "sixteen", "16" },
		{ "seventeen", "17" }, { "eighteen", "18" }, { "nineteen", "19" },
		{ "twenty", "20" }, { "fifty", "50" }, { "seventy", "70" }, { "eighty", "80" }, { "thirty", "30" },
		{ "forty", "40" }, { "fortyfive", "45" }, { "forty-five", "45" },
		{ "sixty", "60" }, { "ninety", "90" }, { "half", "0.5" }, { "zero", "0" }, { "last", "1" } };

	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strcmp(word, words[i][0]) == 0)
			return words[i][1];
	return NULL;
}

static size_t digits(const char *text)
{
	return strspn(text, "0123456789");
}

bool ab_number_typed(const char *text, char *to, size_t size, const char **rest, bool *doubt)
{
	size_t sign = *text == '-' || *text == '+', whole = digits(text + sign), part = 0, n;
	const char *point = text + sign + whole;

	*doubt = false;
	if ((*point == '.' || *point == ',') && digits(point + 1) > 0)
		part = digits(point + 1);
	if (whole + part == 0)
		return false;
	n = sign + whole + (part > 0 ? part + 1 : 0);
	/* "1.000,5" and "1,2,3" are no numbers to guess at. */
	if (n >= size || (part > 0 && (text[n] == ',' || text[n] == '.') && digits(text + n + 1) > 0))
		return false;
	memcpy(to, text, n);
	to[n] = '\0';
	if (part > 0 && *point == ',') {
		to[sign + whole] = '.';
		*doubt = part == 3 && whole >= 1 && whole <= 3 && text[sign] != '0';
	}
	*rest = text + n;
	return true;
}

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* How many letters are alike from the start on. */
static size_t alike(const char *a, const char *b)
{
	size_t n = 0;

	while (a[n] != '\0' && small(a[n]) == small(b[n]))
		n++;
	return n;
}

static bool same_rest(const char *a, const char *b)
{
	size_t n = alike(a, b);

	return a[n] == '\0' && b[n] == '\0';
}

bool ab_is_slip(const char *typed, const char *meant)
{
	enum { SHORTEST = 5 };
	size_t n = alike(typed, meant), a = strlen(typed), b = strlen(meant);

	if (n == 0 || (a < b ? a : b) < SHORTEST || (a == b && typed[n] == '\0'))
		return false;
	if (a + 1 == b)
		return same_rest(typed + n, meant + n + 1);
	if (a == b + 1)
		return same_rest(typed + n + 1, meant + n);
	return a == b && small(typed[n]) == small(meant[n + 1]) && small(typed[n + 1]) == small(meant[n]) &&
	    same_rest(typed + n + 2, meant + n + 2);
}

/* Longer than any word that denies. */
enum { DENIAL = 12 };

/* Small, without its apostrophe; empty when it is longer than any that counts. Returns what is behind it. */
static const char *bare_word(const char *p, char to[DENIAL])
{
	static const char curly[] = "\xE2\x80\x99";
	size_t n = 0;

	for (; *p != '\0' && strchr(" \t\r\n,;:.!?()\"", *p) == NULL; p++) {
		if (*p == '\'' || strncmp(p, curly, 3) == 0) {
			p += *p == '\'' ? 0 : 2;
			continue;
		}
		if (n < DENIAL)
			to[n] = (char)(*p >= 'A' && *p <= 'Z' ? *p + 32 : *p);
		n++;
	}
	to[n < DENIAL ? n : 0] = '\0';
	return p;
}

bool ab_denies(const char *text)
{
	static const char *const no[] = { "not", "no", "never", "nor", "neither", "none", "nothing", "dont",
		"didnt", "doesnt", "isnt", "wasnt", "arent", "werent", "havent", "hasnt", "hadnt", "wont", "cant",
		"cannot", "couldnt", "shouldnt", "wouldnt", "mustnt", "neednt", "aint", "forgot", "forgotten",
		NULL };
	char word[DENIAL];

	while (*text != '\0') {
		text = bare_word(text, word);
		for (const char *const *w = no; *w != NULL; w++)
			if (strcmp(word, *w) == 0)
				return true;
		text += *text != '\0';
	}
	return false;
}
