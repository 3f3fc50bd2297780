/* entry_values.c - the values of a line of plain words: quantities, numbers, words of a list
 *
 * Quantities are taken as they are typed ("19,5 degrees C", "60g", "a week", "1048") and written as a journal has them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <afterboil/journal.h>
#include "base/spelled.h"

enum { JOINED = 3, NUMBER = 32 };

/* ---- words ---- */

/* How many words from `at` on spell this phrase ("cold crash"); 0 when they do not. */
static size_t spells(const struct sentence *s, size_t at, const char *phrase, size_t len)
{
	size_t n = 0;

	for (size_t from = 0; from < len;) {
		size_t end = from;
		while (end < len && phrase[end] != ' ')
			end++;
		if (at + n >= s->n || strlen(s->word[at + n]) != end - from ||
		    strncasecmp(s->word[at + n], phrase + from, end - from) != 0)
			return 0;
		n++;
		from = end + (end < len);
	}
	return n;
}

size_t entry_one_of(const struct sentence *s, size_t at, const char *phrases, bool *empty)
{
	size_t most = 0;

	*empty = phrases[0] == '\0';
	for (const char *p = phrases;; p++) {
		size_t len = strcspn(p, "|"), n = spells(s, at, p, len);
		*empty |= len == 0;
		most = n > most ? n : most;
		p += len;
		if (*p == '\0')
			return most;
	}
}

bool entry_is_filler(const char *fillers, const char *word)
{
	for (const char *p = fillers; *p != '\0';) {
		size_t len = strcspn(p, " ");
		if (strlen(word) == len && strncasecmp(word, p, len) == 0)
			return true;
		p += len + (p[len] == ' ');
	}
	return false;
}

bool entry_is_guess(const char *word)
{
	static const char *const guesses[] = { "about", "around", "roughly", "approximately", "approx", "approx.", "perhaps", "maybe",
		"probably", "circa", "ca", "ca.", "~", NULL };

	for (const char *const *w = guesses; *w != NULL; w++)
		if (ab_word_cmp(word, *w) == 0)
			return true;
	return false;
}

const char *entry_joined(const struct sentence *s, size_t at, size_t n)
{
	const char *text = n > 0 && at + n <= s->n ? s->word[at] : NULL;

	for (size_t i = 1; text != NULL && i < n; i++)
		text = ab_arena_printf(s->arena, "%s %s", text, s->word[at + i]);
	return text;
}

static const char *of_list(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		if (ab_word_cmp(text, *words) == 0)
			return *words;
	return NULL;
}

static const char *of_help(const struct sentence *s, const char *attr, const char *text)
{
	return s->help != NULL && s->help->word != NULL && attr != NULL ? s->help->word(s->help->ctx, attr, text) : NULL;
}

/* The longest run of words that is of the list or means one of it. */
static size_t word(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	for (size_t n = JOINED; n > 0; n--) {
		const char *text = entry_joined(s, at, n);
		*value = text != NULL ? of_list(text, slot->words) : NULL;
		for (size_t i = 0; text != NULL && *value == NULL && i < n_entry_aliases; i++)
			if (entry_aliases[i].words == slot->words && ab_word_cmp(text, entry_aliases[i].said) == 0)
				*value = entry_aliases[i].word;
		if (text != NULL && *value == NULL)
			*value = of_help(s, slot->attr, text);
		if (*value != NULL)
			return n;
	}
	return 0;
}

static size_t id(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	size_t len = at < s->n ? strlen(s->word[at]) : 0;

	for (size_t n = JOINED; n > 0; n--) {
		const char *text = entry_joined(s, at, n);
		*value = text != NULL ? of_help(s, slot->attr, text) : NULL;
		if (*value != NULL)
			return n;
	}
	/* A class nobody knows would tell nothing: where those there are can be named, only they are taken. Else any word is,
	 * but where a yeast is told, not where any word may follow, and no little word. */
	bool class = strcmp(slot->attr, "class") == 0;
	if (class && ((s->help != NULL && s->help->choice != NULL) || strcmp(s->part[0].row->element, "yeast") != 0 ||
	    (at < s->n && entry_is_filler(s->part[0].row->fillers, s->word[at]))))
		return 0;
	if (len == 0 || len > 64 || !isalpha((unsigned char)s->word[at][0]))
		return 0;
	for (size_t i = 0; i < len; i++)
		if (!isalnum((unsigned char)s->word[at][i]) && strchr("._-", s->word[at][i]) == NULL)
			return 0;
	*value = s->word[at];
	return 1;
}

/* Names bear capitals; a word without one may be a slip. */
static size_t name(const struct sentence *s, size_t at, const char **value)
{
	size_t n = 0;

	while (n < JOINED && at + n < s->n && isupper((unsigned char)s->word[at + n][0]) && !entry_is_guess(s->word[at + n]) &&
	    !entry_is_filler(s->part[0].row->fillers, s->word[at + n]) && strlen(s->word[at + n]) <= NUMBER)
		n++;
	*value = entry_joined(s, at, n);
	return *value != NULL ? n : 0;
}

/* As it was said, commas and all. */
static size_t rest(const struct sentence *s, size_t at, const char **value)
{
	*value = at < s->n ? s->raw[at] : NULL;
	return at < s->n ? s->n - at : 0;
}

static size_t number(const struct sentence *s, size_t at, const char **value)
{
	if (at >= s->n || strspn(s->word[at], "0123456789") != strlen(s->word[at]) || strlen(s->word[at]) > 4)
		return 0;
	*value = s->word[at];
	bool counted = at + 1 < s->n &&
	    (strcmp(s->word[at + 1], "times") == 0 || strcmp(s->word[at + 1], "cycles") == 0);
	return counted ? 2 : 1;
}

/* ---- quantities ---- */

/* "degrees" alone are those of the brewer's units, where these are known. */
static const char *unit_meant(const struct sentence *s, enum ab_dim dim, const char *said)
{
	const char *unit = ab_unit_spelled(dim, said);

	if (unit == NULL || *unit != '\0')
		return unit;
	if (s->help == NULL || s->help->units == 0)
		return NULL;
	return s->help->units == 2 ? "F" : dim == AB_DIM_TEMP_DIFF ? "K" : "C";
}

/* The unit behind a number whose word has `tail` left over; *n words more are taken. NULL when none stands there. */
static const char *unit_at(const struct sentence *s, enum ab_dim dim, size_t at, const char *tail, size_t *n)
{
	for (*n = JOINED + 1; (*n)-- > 0;) {
		const char *more = *n > 0 ? entry_joined(s, at, *n) : "";
		const char *said = more == NULL ? NULL : *tail == '\0' ? more : *n == 0 ? tail
		    : ab_arena_printf(s->arena, "%s %s", tail, more);
		const char *unit = said == NULL || *said == '\0' ? NULL : unit_meant(s, dim, said);
		if (unit != NULL)
			return unit;
	}
	return NULL;
}

/* 1.048, 1048 and 998 are gravities without a unit; 12 may be Plato or points. The range is that of the journal. */
static const char *bare_gravity(const struct sentence *s, const char *number)
{
	double v = strtod(number, NULL);

	if (v >= 0.97 && v <= 1.25)
		return ab_arena_printf(s->arena, "%s SG", number);
	if (v >= 970 && v <= 1250 && strchr(number, '.') == NULL)
		return ab_arena_printf(s->arena, "%d.%03d SG", (int)v / 1000, (int)v % 1000);
	return NULL;
}

/* One number and its unit. */
static size_t one(const struct sentence *s, size_t at, enum ab_dim dim, const char **value)
{
	char digits[NUMBER];
	const char *tail = "", *spelled = at < s->n ? ab_number_spelled(s->word[at]) : NULL, *unit, *typed;
	bool doubt = false;
	size_t more = 0;

	*value = NULL;
	if (at >= s->n)
		return 0;
	typed = s->word[at] + (s->word[at][0] == '~');
	const char *second = spelled != NULL && at + 1 < s->n ? ab_number_spelled(s->word[at + 1]) : NULL;
	if (spelled != NULL)
		snprintf(digits, sizeof digits, "%s", second != NULL && s->word[at][0] == 'a' ? second : spelled);
	else if (!ab_number_typed(typed, digits, sizeof digits, &tail, &doubt))
		return 0;
	if (doubt && dim != AB_DIM_GRAVITY)
		return 0;
	/* "half an hour", "a couple of weeks" */
	size_t article = second != NULL;
	article += spelled != NULL && at + 1 + article < s->n && strcmp(s->word[at + 1 + article], "of") == 0;
	unit = unit_at(s, dim, at + 1 + article, tail, &more);
	if (unit != NULL)
		*value = ab_arena_printf(s->arena, "%s %s", digits, unit);
	else if (*tail == '\0' && spelled == NULL)
		*value = dim == AB_DIM_GRAVITY ? bare_gravity(s, digits) : dim == AB_DIM_PH ? ab_arena_strdup(s->arena, digits) : NULL;
	return *value == NULL ? 0 : unit != NULL ? 1 + article + more : 1;
}

/* "3d 4h" in one word, "1 hour and 20 minutes" in many. */
static size_t span(const struct sentence *s, size_t at, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = one(s, at, AB_DIM_TIME, value), joint = 0, m;
	const char *next, *sum;

	if (n == 0 && at < s->n && ab_quantity_read(s->word[at], AB_DIM_TIME, &q, why, sizeof why)) {
		*value = s->word[at];
		n = 1;
	}
	while (n > 0) {
		joint = at + n < s->n && strcasecmp(s->word[at + n], "and") == 0;
		m = one(s, at + n + joint, AB_DIM_TIME, &next);
		sum = m > 0 ? ab_arena_printf(s->arena, "%s %s", *value, next) : NULL;
		if (sum == NULL || !ab_quantity_read(sum, AB_DIM_TIME, &q, why, sizeof why))
			break;
		*value = sum;
		n += joint + m;
	}
	return n;
}

static size_t quantity(const struct sentence *s, size_t at, enum ab_dim dim, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = dim == AB_DIM_TIME ? span(s, at, value) : one(s, at, dim, value);

	return n > 0 && ab_quantity_read(*value, dim, &q, why, sizeof why) ? n : 0;
}

/* How long a hop was boiled tells what it is for; the bounds are those of common practice (estimate). */
static size_t hop_use(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = span(s, at, value);

	if (n == 0 || !ab_quantity_read(*value, AB_DIM_TIME, &q, why, sizeof why))
		return 0;
	enum { BITTERING, FLAVOUR, WHIRLPOOL };
	*value = slot->words[q.value >= 30 * 60 ? BITTERING : q.value > 0 ? FLAVOUR : WHIRLPOOL];
	return n;
}

/* Packs are counted in the journal without a unit. */
static size_t count_of(const struct sentence *s, size_t at, enum ab_dim dim, const char **value)
{
	size_t n = quantity(s, at, dim, value);

	if (n > 0)
		*value = ab_arena_strndup(s->arena, *value, strcspn(*value, " "));
	return *value != NULL ? n : 0;
}

size_t entry_value(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	switch (slot->kind) {
	case ENTRY_QUANTITY:
		return slot->dim == AB_DIM_PACKS ? count_of(s, at, slot->dim, value) : quantity(s, at, slot->dim, value);
	case ENTRY_NUMBER:
		return number(s, at, value);
	case ENTRY_WORD:
		return word(s, at, slot, value);
	case ENTRY_BOILED:
		return hop_use(s, at, slot, value);
	case ENTRY_ID:
		return id(s, at, slot, value);
	case ENTRY_NAME:
		return name(s, at, value);
	case ENTRY_REST:
		return rest(s, at, value);
	case ENTRY_FIXED: case ENTRY_NONE:
		break;
	}
	return 0;
}
