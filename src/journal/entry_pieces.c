/* entry_pieces.c - priming sugar by the piece, and bottles that are counted: what nobody weighed becomes a note
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_dose.h"

#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

/* What is counted and not weighed: drops, cubes and spoons hold what they hold, and nobody knows how much from here. */
static const char *const piece_words[] = { "drop", "drops", "cube", "cubes", "lump", "lumps", "tablet", "tablets",
	"teaspoon", "teaspoons", "teaspoonful", "tsp", "tablespoon", "tablespoons", "tbsp", "spoon", "spoons",
	"spoonful", "cup", "cups", "cupful", NULL };

static bool is_count(const char *word)
{
	return ab_number_spelled(word) != NULL || strcmp(word, "a") == 0 || strcmp(word, "an") == 0 ||
	    (word[0] != '\0' && word[strspn(word, "0123456789./")] == '\0');
}

/* "5 drops of vanilla" are no sugar, nor is a cup of water. */
static bool is_of_else(const struct entry_dosing *d, size_t at)
{
	static const char *const sweet[] = { "sugar", "sugars", "dextrose", "glucose", "sucrose", "honey", "syrup",
		"candi", "molasses", "treacle", "extract", "dme", "corn", "cane", "table", "brown", "white",
		"priming", "carbonation", NULL };
	static const char *const passed[] = { "of", "the", "a", "plain", "normal", "that", NULL };

	if (at + 1 < d->n && strcmp(d->word[at + 1], "water") == 0)
		return true;
	if (at + 1 >= d->n || strcmp(d->word[at + 1], "of") != 0)
		return false;
	size_t i = at + 1;
	while (i < d->n && entry_dose_is(d->word[i], passed))
		i++;
	return i >= d->n || !entry_dose_is(d->word[i], sweet);
}

/* "2 carbonation drops per bottle": the words [*from, *to). */
static bool find_pieces(const struct entry_dosing *d, size_t *from, size_t *to)
{
	enum { BETWEEN = 3 };

	for (size_t i = 1; i < d->n; i++)
		for (size_t back = 1;
		     entry_dose_is(d->word[i], piece_words) && !is_of_else(d, i) && back <= BETWEEN && back <= i;
		     back++)
			if (is_count(d->word[i - back])) {
				*from = i - back;
				/* "half a teaspoon" */
				while (*from > 0 && is_count(d->word[*from - 1]))
					--*from;
				*to = d->by_n > 0 && d->by > i ? d->by + d->by_n : i + 1;
				/* "one sugar cube each" */
				*to = d->by_n == 0 && i + 1 < d->n && strcmp(d->word[i + 1], "each") == 0 ? i + 2 : *to;
				*to += *to + 1 < d->n && strcmp(d->word[*to], "of") == 0 ? 2 : 0;
				return true;
			}
	return false;
}

/* The line without them, as bottled, and they themselves as a note. NULL: memory is short. */
static const char *by_piece(const struct entry_dosing *d, size_t from, size_t to, bool lead, struct ab_arena *arena)
{
	struct ab_str out;
	const char *text = NULL;
	bool spoon = false, cup = false;

	ab_str_init(&out, 0);
	ab_str_add(&out, lead ? "" : "bottled ");
	for (size_t i = from; i < to; i++)
		spoon = spoon || strstr(d->word[i], "sp") != NULL, cup = cup || strncmp(d->word[i], "cup", 3) == 0;
	for (size_t i = 0; i < d->n; i++)
		if ((i < from || i >= to) && strcmp(d->word[i], "with") != 0)
			ab_str_addf(&out, "%s ", d->word[i]);
	/* A cup is of the whole beer. */
	ab_str_addf(&out, "%s, note sugar by the piece, its weight still to be told: ",
	    cup         ? ""
		: spoon ? "per-bottle"
			: "drops");
	for (size_t i = from; i < to; i++)
		ab_str_addf(&out, "%s%s", i > from ? " " : "", d->word[i]);
	if (ab_str_ok(&out))
		text = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&out);
	return text;
}

/* "48 bottles, 5 oz": how many bottles there were is a note. */
static const char *by_count(const struct entry_dosing *d, size_t at, struct ab_arena *arena)
{
	struct ab_str out;
	const char *text = NULL;

	ab_str_init(&out, 0);
	ab_str_add(&out, "bottled with ");
	for (size_t i = 0; i < d->n; i++)
		if (i != at && i != at + 1)
			ab_str_addf(&out, "%.*s ", (int)d->len[i], d->from[i]);
	ab_str_addf(&out, ", note %s bottles", d->word[at]);
	if (ab_str_ok(&out))
		text = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&out);
	return text;
}

static bool find_count(const struct entry_dosing *d, size_t *at)
{
	for (*at = 0; *at + 1 < d->n; ++*at)
		if (strcmp(d->word[*at + 1], "bottles") == 0 && d->word[*at][0] != '\0' &&
		    d->word[*at][strspn(d->word[*at], "0123456789")] == '\0')
			return true;
	return false;
}

enum ab_status entry_dose_counted(const struct entry_dosing *d, bool lead, struct ab_arena *arena, const char **out,
    bool *pieces, struct ab_diag *diag)
{
	size_t from, to;
	bool begins = d->n > 0 && is_count(d->word[0]),
	     each = d->by_n > 0 || (d->n > 0 && strcmp(d->word[d->n - 1], "each") == 0), any = false;

	*out = NULL;
	if ((lead || (begins && each)) && find_pieces(d, &from, &to)) {
		any = *pieces = true;
		*out = by_piece(d, from, to, lead, arena);
	} else if (d->amount_n > 0 && d->by_n == 0 && !lead && begins && find_count(d, &from) && from == 0) {
		/* With a lead the line is understood as it is. */
		any = true;
		*out = by_count(d, from, arena);
	}
	return any && *out == NULL ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}
