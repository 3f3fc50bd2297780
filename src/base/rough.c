/* rough.c - amounts as people know them: "16-27 C", "about 18 C", "below 15.5 C", "a few days", "overnight"
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/rough.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

/* MAX_TEXT as in quantity.c. */
enum { MAX_TEXT = 64 };

static const char *const nearly[] = { "about", "around", "roughly", "approximately", "approx", "approx.", "perhaps",
	"maybe", "probably", "circa", "ca", "ca.", "~", "almost", "nearly", NULL };
static const char *const under[] = { "<=", "<", "\xE2\x89\xA4", "below", "under", "less than", "at most", "up to",
	"no more than", "not more than", NULL };
static const char *const over[] = { ">=", ">", "\xE2\x89\xA5", "above", "over", "more than", "at least", "no less than",
	"not less than", NULL };
/* What stands behind. "or so" is no bound. */
static const struct { const char *said; enum ab_bound bound; } tails[] = {
	{ " or so", AB_BOUND_NONE }, { " or less", AB_BOUND_UNDER }, { " or under", AB_BOUND_UNDER },
	{ " or below", AB_BOUND_UNDER }, { " or more", AB_BOUND_OVER }, { " or over", AB_BOUND_OVER },
	{ " or above", AB_BOUND_OVER }, { " or longer", AB_BOUND_OVER },
};
/* The last only behind "between". */
static const char *const dashes[] = { "\xE2\x80\x93", "-", " to ", " or ", " and ", NULL };
enum { DASH_AND = 4 };
/* Lengths of time that have a word; the figures are common practice. */
static const struct { const char *said, *is; } times[] = {
	{ "overnight", "12 h" }, { "over night", "12 h" }, { "a night", "12 h" }, { "one night", "12 h" },
};
static const struct { const char *said, *is; } counts[] = {
	{ "a few", "3" }, { "few", "3" }, { "a couple of", "2" }, { "a couple", "2" }, { "couple of", "2" },
	{ "half an", "0.5" }, { "half a", "0.5" },
	{ "a", "1" }, { "an", "1" }, { "one", "1" }, { "two", "2" }, { "three", "3" }, { "four", "4" },
	{ "five", "5" }, { "six", "6" },
	{ "seven", "7" }, { "eight", "8" }, { "nine", "9" }, { "ten", "10" }, { "twelve", "12" },
};

bool ab_rough_word(const char *word)
{
	for (const char *const *w = nearly; *w != NULL; w++)
		if (ab_word_cmp(word, *w) == 0)
			return true;
	return false;
}

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool is_letter(char c)
{
	return small(c) >= 'a' && small(c) <= 'z';
}

/* Behind the word that text begins with, blanks too; NULL when it does not. */
static const char *past(const char *text, const char *word)
{
	size_t n = 0;

	while (word[n] != '\0' && small(text[n]) == word[n])
		n++;
	if (word[n] != '\0' || (is_letter(word[n - 1]) && is_letter(text[n])))
		return NULL;
	return text + n + strspn(text + n, " ");
}

static const char *past_any(const char *text, const char *const *words)
{
	const char *rest = NULL;

	/* The longest: "approx." begins with "approx". */
	for (; *words != NULL; words++) {
		const char *at = past(text, *words);
		rest = at != NULL && (rest == NULL || at > rest) ? at : rest;
	}
	return rest;
}

/* ---- one side ---- */

/* Digits of a number, with a point and a sign; 0 when text begins with none. */
static size_t number_len(const char *text)
{
	size_t sign = text[0] == '-' || text[0] == '+', n = strspn(text + sign, "0123456789.");

	return n > 0 ? sign + n : 0;
}

/* "number unit"; of times with the unit as it is said. */
static bool side(const char *text, enum ab_dim dim, struct ab_quantity *q)
{
	char why[8], again[MAX_TEXT + 16];
	size_t n = number_len(text);

	if (ab_quantity_read(text, dim, q, why, sizeof why))
		return true;
	const char *unit = dim == AB_DIM_TIME && n > 0 ? ab_unit_spelled(dim, text + n + strspn(text + n, " ")) : NULL;
	if (unit == NULL)
		return false;
	snprintf(again, sizeof again, "%.*s %s", (int)n, text, unit);
	return ab_quantity_read(again, dim, q, why, sizeof why);
}

/* "a few days", "overnight". */
static bool time_said(const char *text, struct ab_quantity *q)
{
	char number[MAX_TEXT + 16];

	for (size_t i = 0; i < sizeof times / sizeof *times; i++)
		if (ab_word_cmp(text, times[i].said) == 0)
			return side(times[i].is, AB_DIM_TIME, q);
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
		const char *unit = past(text, counts[i].said);
		if (unit == NULL || *unit == '\0')
			continue;
		snprintf(number, sizeof number, "%s %.*s", counts[i].is, MAX_TEXT, unit);
		if (side(number, AB_DIM_TIME, q))
			return true;
	}
	return false;
}

/* ---- two ---- */

/* The left side takes the right one's unit where it has none. */
static bool sides(const char *left, size_t n, const char *right, enum ab_dim dim, struct ab_quantity q[2])
{
	char text[2 * MAX_TEXT + 2];

	while (n > 0 && left[n - 1] == ' ')
		n--;
	right += strspn(right, " ");
	size_t digits = number_len(right);
	if (n == 0 || digits == 0 || !side(right, dim, &q[1]))
		return false;
	snprintf(text, sizeof text, "%.*s%s", (int)n, left, number_len(left) == n ? right + digits : "");
	return side(text, dim, &q[0]);
}

/* Where the second number begins: behind the first dash or word for one that parts two numbers. */
static bool range(const char *text, enum ab_dim dim, struct ab_quantity q[2])
{
	const char *between = past(text, "between");

	text = between != NULL ? between : text;
	for (size_t i = 0; dashes[i] != NULL; i++) {
		/* Not a sign in front. */
		const char *at = text[0] == '\0' ? NULL : strstr(text + 1, dashes[i]);
		if (at != NULL && (i == DASH_AND) == (between != NULL) &&
		    sides(text, (size_t)(at - text), at + strlen(dashes[i]), dim, q))
			return true;
	}
	return false;
}

/* ---- all ---- */

/* What words beside the figure say of it. */
struct said { bool marked; enum ab_bound bound; };

/* Cuts "or so" and "or more" off the end. */
static void cut_tail(char *text, struct said *said)
{
	size_t n = strlen(text);

	for (size_t i = 0; i < sizeof tails / sizeof *tails; i++) {
		size_t tail = strlen(tails[i].said);
		if (n <= tail || text[n - tail] != ' ' || ab_word_cmp(text + n - tail + 1, tails[i].said + 1) != 0)
			continue;
		text[n - tail] = '\0';
		said->marked |= tails[i].bound == AB_BOUND_NONE;
		said->bound = tails[i].bound != AB_BOUND_NONE ? tails[i].bound : said->bound;
		return;
	}
}

/* Behind words in front that say how the figure is meant: "about 2 to 3 d", "over about 25 C". */
static const char *past_words(const char *text, struct said *said)
{
	const char *next;

	if ((next = past_any(text, nearly)) != NULL)
		said->marked = true;
	else if ((next = past_any(text, under)) != NULL)
		said->bound = AB_BOUND_UNDER;
	else if ((next = past_any(text, over)) != NULL)
		said->bound = AB_BOUND_OVER;
	return next;
}

static bool from_range(
    const struct ab_quantity q[2], bool guess, struct ab_rough *out, const char *text, char *why, size_t size)
{
	double width = q[1].value - q[0].value;

	if (width < 0) {
		snprintf(why, size, "\"%s\" runs from the larger to the smaller; write the smaller first", text);
		ab_text_scrub(why);
		return false;
	}
	double step = q[0].resolution > q[1].resolution ? q[0].resolution : q[1].resolution,
	       wide = width / 2 * AB_RESOLUTION_OF_U;
	*out = (struct ab_rough){ q[0].value + width / 2, q[0].value, q[1].value, wide > step ? wide : step, guess,
		AB_BOUND_NONE };
	return true;
}

/* How far beyond a bound at v it is taken to be. */
static double beyond(enum ab_dim dim, double v, bool is_over)
{
	double by = fabs(v) * (is_over ? AB_BEYOND_OVER : AB_BEYOND_UNDER);

	switch (dim) {
	case AB_DIM_TEMP:
	case AB_DIM_TEMP_DIFF:
		return AB_BEYOND_C;
	case AB_DIM_GRAVITY:
		return AB_BEYOND_SG;
	case AB_DIM_PH:
		return AB_BEYOND_PH;
	case AB_DIM_SHARE:
		return is_over && v >= 0 && v <= 1 ? fmin(by, (1 - v) / 2) : by;
	default:
		return by;
	}
}

/* A guess of a bound ("over about 25 C") keeps its side, and is a guess as well. */
static struct ab_rough from_bound(const struct ab_quantity *q, enum ab_dim dim, struct said said)
{
	bool is_over = said.bound == AB_BOUND_OVER;
	double by = beyond(dim, q->value, is_over), wide = by * AB_RESOLUTION_OF_U;

	if (!(by > 0))
		return (struct ab_rough){ q->value, q->value, q->value, q->resolution, true, AB_BOUND_NONE };
	return (struct ab_rough){ is_over ? q->value + by : q->value - by, q->value, q->value, wide, said.marked,
		said.bound };
}

bool ab_rough_read(const char *text, enum ab_dim dim, struct ab_rough *out, char *why, size_t size)
{
	char copy[MAX_TEXT + 1];
	struct ab_quantity q[2];
	size_t len;
	struct said said = { false, AB_BOUND_NONE };

	why[0] = '\0';
	text += strspn(text, " \t\r\n");
	for (len = strlen(text); len > 0 && strchr(" \t\r\n", text[len - 1]) != NULL; len--)
		;
	if (len == 0 || len > MAX_TEXT || dim == AB_DIM_MONEY || dim == AB_DIM_NONE)
		return false;
	memcpy(copy, text, len);
	copy[len] = '\0';
	const char *rest = copy, *next;
	cut_tail(copy, &said);
	/* "over night" is no bound. */
	while (!(dim == AB_DIM_TIME && time_said(rest, q)) && (next = past_words(rest, &said)) != NULL)
		rest = next;
	bool marked = said.marked || said.bound != AB_BOUND_NONE;
	if (range(rest, dim, q))
		return from_range(q, marked, out, copy, why, size);
	bool by_word = dim == AB_DIM_TIME && time_said(rest, q);
	/* "2 weeks" is as exact as "2 wk". */
	if (!by_word && ((!marked && dim != AB_DIM_TIME) || !side(rest, dim, q)))
		return false;
	*out = said.bound != AB_BOUND_NONE ? from_bound(q, dim, said)
	    : (struct ab_rough){ q->value, q->value, q->value, q->resolution, by_word || marked, AB_BOUND_NONE };
	return true;
}
