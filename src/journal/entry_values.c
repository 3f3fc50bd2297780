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

/* Is it a word that belongs to a list of the journal, any of them, or means one? */
static bool is_listed(const char *text)
{
	for (size_t i = 0; i < n_entry_rows; i++)
		for (const struct entry_slot *slot = entry_rows[i].slots; slot->kind != ENTRY_NONE; slot++)
			if (slot->words != NULL && of_list(text, slot->words) != NULL)
				return true;
	for (size_t i = 0; i < n_entry_aliases; i++)
		if (ab_word_cmp(text, entry_aliases[i].said) == 0)
			return true;
	return false;
}

static bool is_key(const struct sentence *s, size_t at)
{
	bool empty;

	for (size_t p = 0; p < s->n_parts; p++)
		for (const struct entry_slot *slot = s->part[p].row->slots; slot->kind != ENTRY_NONE; slot++)
			if (entry_one_of(s, at, slot->keys, &empty) > 0)
				return true;
	return false;
}

/* A name without a capital: letters only, and no word that means anything here, or is a slip for one that would. */
static bool is_small_name(const struct sentence *s, size_t at)
{
	enum { SHORTEST = 3 };
	const char *word = at < s->n ? s->word[at] : "";
	size_t len = strlen(word);

	if (len < SHORTEST || len > NUMBER || !islower((unsigned char)word[0]))
		return false;
	for (size_t i = 0; i < len; i++)
		if (!isalpha((unsigned char)word[i]) && strchr("-'", word[i]) == NULL)
			return false;
	for (int dim = 0; dim < AB_DIM_MAX_; dim++)
		if (ab_unit_spelled((enum ab_dim)dim, word) != NULL)
			return false;
	size_t lead;
	return !entry_is_guess(word) && !entry_is_filler(s->part[0].row->fillers, word) && ab_number_spelled(word) == NULL &&
	    !is_key(s, at) && !is_listed(word) && entry_row_at(s, at, &lead) == NULL && entry_near(s, at) == NULL;
}

static bool is_great_name(const struct sentence *s, size_t at)
{
	return at < s->n && isupper((unsigned char)s->word[at][0]) && !entry_is_guess(s->word[at]) &&
	    !entry_is_filler(s->part[0].row->fillers, s->word[at]) && strlen(s->word[at]) <= NUMBER;
}

/* With capitals, or in plain small letters where nothing else could be meant. */
static size_t name(const struct sentence *s, size_t at, const char **value)
{
	size_t n = 0;

	while (n < JOINED && is_great_name(s, at + n) && (n == 0 || !s->breath[at + n]))
		n++;
	while (n < JOINED && is_small_name(s, at + n) && (n == 0 || !s->breath[at + n]))
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

/* ---- numbers that are two ---- */

static bool plain_number(const char *text, double *x)
{
	char *end;
	size_t n = strspn(text, "0123456789.");

	*x = strtod(text, &end);
	return n > 0 && text[n] == '\0' && *end == '\0';
}

/* "1/2", "3/4" and, of two words, "1 1/2". */
static size_t fraction(const struct sentence *s, size_t at, char *digits, const char **tail)
{
	size_t whole = strspn(s->word[at], "0123456789"), n = 1;
	double sum = 0;
	int above = 0, below = 0, used = 0;

	if (whole > 0 && s->word[at][whole] == '\0' && at + 1 < s->n && strchr(s->word[at + 1], '/') != NULL) {
		sum = strtod(s->word[at], NULL);
		n = 2;
	}
	const char *word = s->word[at + n - 1];
	if (sscanf(word, "%2d/%2d%n", &above, &below, &used) < 2 || above < 1 || below < 2 || above >= below || !isdigit((unsigned char)word[0]))
		return 0;
	*tail = word + used;
	return ab_num_text(sum + floor(1000.0 * above / below + 0.5) / 1000, digits, NUMBER) != NULL ? n : 0;
}

/* The middle of "19-20" and "19 to 20"; 0 when it is none. */
static size_t middle(const struct sentence *s, size_t at, char *digits, const char **tail)
{
	char low[NUMBER], high[NUMBER];
	const char *rest, *second;
	double a, b;
	bool doubt, empty;
	size_t n = 1;

	if (!ab_number_typed(s->word[at], low, sizeof low, &rest, &doubt) || doubt)
		return 0;
	if (*rest == '-' && isdigit((unsigned char)rest[1])) {
		second = rest + 1;
	} else if (*rest == '\0' && at + 2 < s->n && entry_one_of(s, at + 1, "to|-|or|and", &empty) > 0) {
		second = s->word[at + 2];
		n = 3;
	} else {
		return 0;
	}
	if (!ab_number_typed(second, high, sizeof high, tail, &doubt) || doubt || !plain_number(low, &a) || !plain_number(high, &b) || a >= b)
		return 0;
	return ab_num_text((a + b) / 2, digits, NUMBER) != NULL ? n : 0;
}

bool entry_is_rough(const struct sentence *s, size_t at, size_t n)
{
	char digits[NUMBER];
	const char *tail;

	for (size_t i = at; i < at + n && i < s->n; i++) {
		size_t len = strlen(s->word[i]);
		if (middle(s, i, digits, &tail) > 0 || (len > 3 && isdigit((unsigned char)s->word[i][0]) && strstr(s->word[i], "ish") == s->word[i] + len - 3))
			return true;
	}
	return false;
}

/* ---- one number ---- */

/* The number at a word, in digits: how many words it takes, and what of the last of them is left for a unit. */
struct figure { char digits[NUMBER]; const char *tail; size_t n; bool spelled, doubt; };

static bool figure_at(const struct sentence *s, size_t at, struct figure *f)
{
	const char *spelled = at < s->n ? ab_number_spelled(s->word[at]) : NULL;

	*f = (struct figure){ .tail = "", .n = 1 };
	if (at >= s->n)
		return false;
	if (spelled != NULL) {
		/* "half an hour", "a couple of weeks" */
		const char *second = at + 1 < s->n ? ab_number_spelled(s->word[at + 1]) : NULL;
		snprintf(f->digits, sizeof f->digits, "%s", second != NULL && s->word[at][0] == 'a' ? second : spelled);
		f->spelled = true;
		f->n += second != NULL;
		f->n += at + f->n < s->n && strcmp(s->word[at + f->n], "of") == 0;
		return true;
	}
	size_t n = fraction(s, at, f->digits, &f->tail);
	n = n > 0 ? n : middle(s, at, f->digits, &f->tail);
	f->n = n > 0 ? n : 1;
	if (n == 0 && !ab_number_typed(s->word[at] + (s->word[at][0] == '~'), f->digits, sizeof f->digits, &f->tail, &f->doubt))
		return false;
	if (strcmp(f->tail, "ish") == 0)
		f->tail = "";
	return true;
}

/* Is there another quantity that the number could be: of another dimension, with the same little word or without? */
static bool is_only_reading(const struct sentence *s, const struct entry_slot *slot, size_t key_at, bool keyed)
{
	bool empty;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *other = &s->part[p].row->slots[i];
			size_t key = entry_one_of(s, key_at, other->keys, &empty);
			bool open = (other->kind == ENTRY_QUANTITY || other->kind == ENTRY_NUMBER) && other->dim != slot->dim && !s->part[p].used[i];
			if (open && (keyed ? key > 0 : empty))
				return false;
		}
	return true;
}

/* "wort 20" of a brewer who likes degrees Celsius: where it is usual so, and can be nothing else. */
static const char *bare_temp(const struct sentence *s, const struct entry_slot *slot, size_t at, const char *digits)
{
	bool fahrenheit = s->help != NULL && s->help->units == 2, keyed = at > s->at;
	double x;

	if (s->help == NULL || s->help->units == 0 || slot->lo == slot->hi || !plain_number(digits + (digits[0] == '-'), &x))
		return NULL;
	x = digits[0] == '-' ? -x : x;
	/* "wort 1.020" is a gravity, and "pitched at 9" may be an hour. */
	bool hour = keyed && ab_word_cmp(s->word[s->at], "at") == 0 && s->part[0].row->at != NULL && strcmp(s->part[0].row->at, "at") == 0 && x >= 1 && x <= 12 && strchr(digits, '.') == NULL;
	if (bare_gravity(s, digits) != NULL || hour)
		return NULL;
	x = fahrenheit ? (x - 32) * 5 / 9 : x;
	if (x < slot->lo || x > slot->hi || !is_only_reading(s, slot, s->at, keyed))
		return NULL;
	return ab_arena_printf(s->arena, "%s %s", digits, fahrenheit ? "F" : "C");
}

/* One number and its unit. */
static size_t one(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	enum ab_dim dim = slot->dim;
	struct figure f;
	size_t more = 0;

	*value = NULL;
	if (!figure_at(s, at, &f) || (f.doubt && dim != AB_DIM_GRAVITY))
		return 0;
	const char *unit = unit_at(s, dim, at + f.n, f.tail, &more);
	if (unit != NULL)
		*value = ab_arena_printf(s->arena, "%s %s", f.digits, unit);
	else if (*f.tail == '\0' && !f.spelled)
		*value = dim == AB_DIM_GRAVITY ? bare_gravity(s, f.digits) : dim == AB_DIM_PH ? ab_arena_strdup(s->arena, f.digits)
		    : dim == AB_DIM_TEMP ? bare_temp(s, slot, at, f.digits) : NULL;
	return *value == NULL ? 0 : unit != NULL ? f.n + more : f.n;
}

/* "3d 4h" in one word, "1 hour and 20 minutes" in many. */
static size_t span(const struct sentence *s, size_t at, const char **value)
{
	static const struct entry_slot length = { ENTRY_QUANTITY, "", "", AB_DIM_TIME, NULL, NULL, 0, 0 };
	struct ab_quantity q;
	char why[300];
	size_t n = one(s, &length, at, value), joint = 0, m;
	const char *next, *sum;

	if (n == 0 && at < s->n && ab_quantity_read(s->word[at], AB_DIM_TIME, &q, why, sizeof why)) {
		*value = s->word[at];
		n = 1;
	}
	while (n > 0) {
		joint = at + n < s->n && strcasecmp(s->word[at + n], "and") == 0;
		m = one(s, &length, at + n + joint, &next);
		sum = m > 0 ? ab_arena_printf(s->arena, "%s %s", *value, next) : NULL;
		if (sum == NULL || !ab_quantity_read(sum, AB_DIM_TIME, &q, why, sizeof why))
			break;
		*value = sum;
		n += joint + m;
	}
	return n;
}

static size_t quantity(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = slot->dim == AB_DIM_TIME ? span(s, at, value) : one(s, slot, at, value);

	return n > 0 && ab_quantity_read(*value, slot->dim, &q, why, sizeof why) ? n : 0;
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
static size_t count_of(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	size_t n = quantity(s, slot, at, value);

	if (n > 0)
		*value = ab_arena_strndup(s->arena, *value, strcspn(*value, " "));
	return *value != NULL ? n : 0;
}

size_t entry_value(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	switch (slot->kind) {
	case ENTRY_QUANTITY:
		return slot->dim == AB_DIM_PACKS ? count_of(s, slot, at, value) : quantity(s, slot, at, value);
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
