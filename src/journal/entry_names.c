/* entry_names.c - names in a line of plain words, which stand in no list
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <ctype.h>
#include <string.h>

#include "base/spelled.h"

/* Letters of a name. */
enum { SHORTEST = 3, LONGEST = 32 };

/* Is it a word that belongs to a list of the journal, any of them, or means one? */
static bool is_listed(const struct sentence *s, const char *text)
{
	const struct ab_alias *a;
	const struct entry_row *row;

	for (size_t i = 0; (row = entry_row(i)) != NULL; i++)
		for (const struct entry_slot *slot = row->slots; slot->kind != ENTRY_NONE; slot++)
			if (slot->words != NULL && entry_of_list(text, slot->words) != NULL)
				return true;
	for (size_t i = 0; (a = entry_alias_at(s, i)) != NULL; i++)
		if (entry_is_alias(text, a))
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

/* Said of hops, and no name of any: "30 g left over", "50 g ordered". No hop is called by a word in "ed" or "ing",
 * but for the Goldings. */
static bool is_no_name(const char *word)
{
	static const char no[] =
	    "out off left over leftover leftovers spare extra more less too old new lost much many next later "
	    "again half all some most what which that these those than "
	    "but or if because though instead minus plus without except very bit lot lots could would should "
	    "will can may might must he she they them him her his "
	    "their friend friends other others another same different away back gone where when while until "
	    "till before since";
	size_t len = strlen(word);
	bool ed = len > 3 && strcmp(word + len - 2, "ed") == 0, ing = len > 4 && strcmp(word + len - 3, "ing") == 0;

	return entry_is_filler(no, word) || ed || (ing && ab_word_cmp(word, "golding") != 0);
}

/* A name without a capital: letters only, and no word that means anything here, or is a slip for one that would. */
static bool is_small_name(const struct sentence *s, size_t at)
{
	const char *word = at < s->n ? s->word[at] : "";
	size_t len = strlen(word);

	if (len < SHORTEST || len > LONGEST || !islower((unsigned char)word[0]))
		return false;
	for (size_t i = 0; i < len; i++)
		if (!isalpha((unsigned char)word[i]) && strchr("-'", word[i]) == NULL)
			return false;
	for (int dim = 0; dim < AB_DIM_MAX_; dim++)
		if (ab_unit_spelled((enum ab_dim)dim, word) != NULL)
			return false;
	size_t lead;
	return !entry_is_guess(word) && !ab_denies(word) && !entry_is_filler(s->part[0].row->fillers, word) &&
	    ab_number_spelled(word) == NULL && !is_key(s, at) && !is_listed(s, word) &&
	    entry_row_at(s, at, &lead) == NULL && entry_near(s, at) == NULL;
}

static bool is_great_name(const struct sentence *s, size_t at)
{
	return at < s->n && isupper((unsigned char)s->word[at][0]) && !entry_is_guess(s->word[at]) &&
	    !ab_denies(s->word[at]) && !entry_is_filler(s->part[0].row->fillers, s->word[at]) &&
	    strlen(s->word[at]) <= LONGEST;
}

size_t entry_name(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	size_t n = 0;
	bool called = *slot->keys != '\0';

	while (n < ENTRY_JOINED && is_great_name(s, at + n) && (called || !is_no_name(s->word[at + n])) &&
	    (n == 0 || !s->breath[at + n]))
		n++;
	while (n < ENTRY_JOINED && is_small_name(s, at + n) && (called || !is_no_name(s->word[at + n])) &&
	    (n == 0 || !s->breath[at + n]))
		n++;
	*value = entry_joined(s, at, n);
	return *value != NULL ? n : 0;
}
