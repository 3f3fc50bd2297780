/* entry_values.c - the values of a line of plain words that are words: of a list, names, numbers that count
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/spelled.h"

enum { JOINED = ENTRY_JOINED };
/* Bottles hold less, batches more (working estimate). */
#define LARGEST_BOTTLE_L 2.5

const char *entry_of_list(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		if (ab_word_cmp(text, *words) == 0)
			return *words;
	return NULL;
}

const struct ab_alias *entry_alias_at(const struct sentence *s, size_t i)
{
	if (i < n_entry_aliases)
		return &entry_aliases[i];
	i -= n_entry_aliases;
	return s->help != NULL && i < s->help->n_words ? &s->help->words[i] : NULL;
}

bool entry_is_alias(const char *text, const struct ab_alias *a)
{
	const char *said = a->said;

	if (ab_word_cmp(text, said) == 0)
		return true;
	if (a->list != ab_words_malt)
		return false;
	while (*text != '\0' &&
	    (tolower((unsigned char)*text) == tolower((unsigned char)*said) || (*text == '-' && *said == ' '))) {
		text++;
		said++;
	}
	return *text == '\0' && *said == '\0';
}

/* The word of the list that brewers say so; NULL when there is none. */
static const char *of_aliases(const struct sentence *s, const char *text, const char *const *list)
{
	const struct ab_alias *a;

	for (size_t i = 0; (a = entry_alias_at(s, i)) != NULL; i++)
		if (a->list == list && entry_is_alias(text, a))
			return a->word;
	return NULL;
}

static const char *of_help(const struct sentence *s, const char *attr, const char *text)
{
	return s->help != NULL && s->help->word != NULL && attr != NULL ? s->help->word(s->help->ctx, attr, text)
									: NULL;
}

/* "pale, malt 300 g": what a comma parts is no one value. */
static const char *in_one_breath(const struct sentence *s, size_t at, size_t n)
{
	for (size_t i = at + 1; i < at + n && i < s->n; i++)
		if (s->breath[i])
			return NULL;
	return entry_joined(s, at, n);
}

/* The longest run of words that is of the list or means one of it. */
static size_t word(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	for (size_t n = JOINED; n > 0; n--) {
		const char *text = in_one_breath(s, at, n);
		*value = text != NULL ? entry_of_list(text, slot->words) : NULL;
		if (text != NULL && *value == NULL)
			*value = of_aliases(s, text, slot->words);
		if (text != NULL && *value == NULL)
			*value = of_help(s, slot->attr, text);
		if (*value != NULL)
			return n;
	}
	return 0;
}

/* A check that nobody knows would make the journal unreadable. */
static bool is_of_choices(const struct sentence *s, const char *attr, const char *word)
{
	bool open = strcmp(attr, "kind") != 0 || s->help == NULL || s->help->choice == NULL;
	const char *choice;

	for (size_t i = 0; !open && (choice = s->help->choice(s->help->ctx, attr, i)) != NULL; i++)
		if (ab_word_cmp(choice, word) == 0)
			return true;
	return open;
}

static size_t id(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	size_t len = at < s->n ? strlen(s->word[at]) : 0;

	for (size_t n = JOINED; n > 0; n--) {
		const char *text = in_one_breath(s, at, n);
		*value = text != NULL ? of_help(s, slot->attr, text) : NULL;
		if (*value != NULL)
			return n;
	}
	/* A class nobody knows would tell nothing: where those there are can be named, only they are taken. Else
	 * any word is, but where a yeast is told, not where any word may follow, and no little word. */
	bool class = strcmp(slot->attr, "class") == 0;
	if (class && ((s->help != NULL && s->help->choice != NULL) || strcmp(s->part[0].row->element, "yeast") != 0 ||
	    (at < s->n && entry_is_filler(s->part[0].row->fillers, s->word[at]))))
		return 0;
	/* Kit has a number more often than a name. */
	bool kit = strcmp(slot->attr, "id") == 0;
	if (len == 0 || len > 64 ||
	    !(isalpha((unsigned char)s->word[at][0]) || (kit && isdigit((unsigned char)s->word[at][0]))))
		return 0;
	for (size_t i = 0; i < len; i++)
		if (!isalnum((unsigned char)s->word[at][i]) && strchr("._-", s->word[at][i]) == NULL)
			return 0;
	*value = s->word[at];
	return is_of_choices(s, slot->attr, *value);
}

/* As it was said, commas and all. */
static size_t rest(const struct sentence *s, size_t at, const char **value)
{
	*value = at < s->n ? s->raw[at] : NULL;
	return at < s->n ? s->n - at : 0;
}

/* Does what stands behind a comma tell of something else: is it a line of its own, or is anything but time measured
 * in it? */
static bool tells_more(const struct sentence *s, size_t at)
{
	const char *value;
	size_t lead;

	if (entry_row_at(s, at, &lead) != NULL)
		return true;
	for (; at < s->n; at++)
		for (int dim = AB_DIM_NONE + 1; dim < AB_DIM_MAX_; dim++) {
			const struct entry_slot any = { ENTRY_QUANTITY, "", "", (enum ab_dim)dim, NULL, NULL, 0, 0,
				NULL };
			if (dim != AB_DIM_TIME && entry_quantity(s, &any, at, &value) > 0)
				return true;
		}
	return false;
}

/* As it was said up to the end, or to the comma behind which more is told; a temperature or a gravity is not to be
 * lost in there, unless all belongs to it. */
static size_t breath(const struct sentence *s, size_t at, bool all, const char **value)
{
	static const struct entry_slot temp = { ENTRY_QUANTITY, "", "", AB_DIM_TEMP, NULL, NULL, 0, 0, NULL };
	size_t end = at;

	while (end < s->n && !(s->breath[end] && tells_more(s, end))) {
		if (!all && (entry_quantity(s, &temp, end, value) > 0 || entry_is_gravity(s, end)))
			return 0;
		end++;
	}
	*value = end == at ? NULL
	    : end == s->n  ? s->raw[at]
			   : ab_arena_strndup(s->arena, s->raw[at],
				 (size_t)(s->raw[end - 1] - s->raw[at]) + strlen(s->word[end - 1]));
	return *value != NULL ? end - at : 0;
}

/* "crystal 40", "caramel 120 L", "crystal 150 EBC": by degrees Lovibond or EBC, which only the bag tells; behind
 * the kind, and no amount. */
static size_t colour(const struct sentence *s, size_t at, const char **value)
{
	enum { LIGHTEST = 5, DARKEST = 1500 };
	static const struct entry_slot kind = { ENTRY_WORD, "", "kind", AB_DIM_NONE, ab_words_malt, NULL, 0, 0, NULL };
	static const char scales[] = "l ebc lov lovibond srm";
	size_t digits = at < s->n ? strspn(s->word[at], "0123456789") : 0;
	const char *tail = at < s->n ? s->word[at] + digits : "", *of;
	bool joined = *tail != '\0' && entry_is_filler(scales, tail),
	     behind = at + 1 < s->n && !s->breath[at + 1] && entry_is_filler(scales, s->word[at + 1]);

	if (at == 0 || digits == 0 || digits > 4 || s->breath[at] || (*tail != '\0' && !joined) ||
	    entry_value(s, &kind, at - 1, &of) == 0 || atoi(s->word[at]) < LIGHTEST || atoi(s->word[at]) > DARKEST)
		return 0;
	for (int dim = AB_DIM_NONE + 1; !joined && !behind && at + 1 < s->n && dim < AB_DIM_MAX_; dim++)
		if (ab_unit_spelled((enum ab_dim)dim, s->word[at + 1]) != NULL)
			return 0;
	*value = entry_joined(s, at - 1, 2 + (!joined && behind));
	return *value != NULL ? 1 + (!joined && behind) : 0;
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

/* "2 short", "one broken": what became of some of them. */
static size_t left_over(const struct sentence *s, size_t at)
{
	bool joint = at < s->n && entry_is_filler("and + &", s->word[at]);
	size_t n = at + joint;

	if (n + 1 >= s->n ||
	    (strspn(s->word[n], "0123456789") != strlen(s->word[n]) && ab_number_spelled(s->word[n]) == NULL))
		return 0;
	return entry_is_filler(
		   "short over spare extra left broken broke cracked leaking leaked burst empty half-full",
		   s->word[n + 1])
	    ? joint + 2
	    : 0;
}

size_t entry_pieces(
    const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value, const char **size)
{
	static const struct entry_slot volume = { ENTRY_QUANTITY, "", "", AB_DIM_VOLUME, NULL, NULL, 0, 0, NULL };
	size_t digits = at < s->n ? strspn(s->word[at], "0123456789") : 0, n = 1, sized, kinds, more;
	bool empty,
	    spelled = at < s->n && digits == 0 && ab_number_spelled(s->word[at]) != NULL &&
	    !entry_is_filler("a an half", s->word[at]);
	struct ab_quantity q;
	char why[300];
	const char *x = at < s->n ? s->word[at] + digits : "";

	*size = NULL;
	if (!spelled && (digits == 0 || digits > 4 || !(*x == '\0' || ab_word_cmp(x, "x") == 0)))
		return 0;
	bool times = *x != '\0' || (at + 1 < s->n && entry_is_filler("x of", s->word[at + 1]));
	n += times && *x == '\0';
	sized = entry_quantity(s, &volume, at + n, size);
	n += sized;
	kinds = entry_one_of(s, at + n, slot->behind, &empty);
	/* "24 L" is how much beer there was. */
	if (kinds == 0 && !(times && sized > 0))
		return 0;
	n += kinds;
	/* "20 cans, 0.5 L each": so little is no beer of a whole batch. */
	if (sized == 0 && (sized = entry_quantity(s, &volume, at + n, size)) > 0) {
		bool each = at + n + sized < s->n && entry_is_filler("each apiece", s->word[at + n + sized]);
		bool small = ab_quantity_read(*size, AB_DIM_VOLUME, &q, why, sizeof why) && q.value <= LARGEST_BOTTLE_L;
		n += each || small ? sized + each : 0;
		*size = each || small ? *size : NULL;
	}
	more = left_over(s, at + n);
	n += more;
	size_t len = (size_t)(s->raw[at + n - 1] - s->raw[at]) + strlen(s->word[at + n - 1]);
	*value = ab_arena_strndup(s->arena, s->raw[at], len);
	return *value != NULL ? n : 0;
}

size_t entry_value(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	const char *size;

	switch (slot->kind) {
	case ENTRY_QUANTITY:
		return slot->dim == AB_DIM_PACKS ? entry_count_of(s, slot, at, value)
						 : entry_quantity(s, slot, at, value);
	case ENTRY_NUMBER:
		return number(s, at, value);
	case ENTRY_WORD:
		return word(s, at, slot, value);
	case ENTRY_BOILED:
		return entry_hop_use(s, at, slot, value);
	case ENTRY_ID:
		return id(s, at, slot, value);
	case ENTRY_NAME:
		return entry_name(s, slot, at, value);
	case ENTRY_REST:
		return rest(s, at, value);
	case ENTRY_BREATH:
		return breath(s, at, slot->fixed != NULL, value);
	case ENTRY_PIECES:
		return entry_pieces(s, slot, at, value, &size);
	case ENTRY_COLOUR:
		return colour(s, at, value);
	case ENTRY_FIXED: case ENTRY_NONE:
		break;
	}
	return 0;
}
