/* entry_lead.c - how a line of plain words begins: what it is about, and what it may be about when it does not say
 *
 * "60 g cascade" has no lead: each row that may go without is tried, and those that understand all of it are what
 * may be meant.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <string.h>

/* Is the temperature that the first slot would take there said, and below the row's limit? "dropped to 34 F" is a
 * crash, "to 12 C" a lager's. */
static bool is_so_cold(const struct sentence *s, size_t at, const struct entry_row *row)
{
	struct entry_slot slot = row->slots[0];
	struct ab_quantity q;
	const char *value;
	char why[300];
	bool empty;

	for (size_t i = at; i < s->n; i++) {
		size_t key = entry_one_of(s, i, slot.keys, &empty);
		if (key > 0 && entry_value(s, &slot, i + key, &value) > 0)
			return ab_quantity_read(value, slot.dim, &q, why, sizeof why) && q.value < row->below_c;
	}
	return false;
}

/* Does what is told belong to where the beer is? */
static bool is_of_stage(const struct sentence *s, enum entry_stage stage)
{
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;
	int packaged = s->help != NULL ? s->help->packaged : 0;

	switch (stage) {
	case ENTRY_FERMENTING:
		return packaged == 1;
	case ENTRY_PACKAGED:
		return packaged != 1;
	case ENTRY_YEAST_IN:
		return packaged != 2 && pitched != NULL && pitched->known;
	case ENTRY_ANY_TIME:
		break;
	}
	return true;
}

/* "pitched more hops" is no yeast, and neither are packs of hops or nutrient for it; sugar that is boiled before
 * there is beer is none for bottles. */
static bool is_only(const struct sentence *s, size_t at, const struct entry_row *row)
{
	bool empty, any = row->only == NULL;
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;

	if (!is_of_stage(s, row->stage) || (row->below_c > 0 && !is_so_cold(s, at, row)))
		return false;
	if (!any && strcmp(row->element, "package") == 0 && s->help != NULL && s->help->now != NULL &&
	    (pitched == NULL || !pitched->known))
		return false;
	for (size_t i = at; row->only != NULL && i < s->n && !(i > at && s->breath[i]); i++) {
		if (entry_is_filler(row->never, s->word[i]))
			return false;
		any = any || entry_one_of(s, i, row->only, &empty) > 0;
	}
	return any;
}

const struct entry_row *entry_row_at(const struct sentence *s, size_t at, size_t *n)
{
	const struct entry_row *best = NULL, *row;
	bool empty;

	*n = 0;
	for (size_t i = 0; at < s->n && (row = entry_row(i)) != NULL; i++) {
		size_t words = entry_one_of(s, at, row->leads, &empty);
		/* Of two with the same lead that which asks for more is meant. */
		if ((words > *n || (words > 0 && words == *n && row->only != NULL)) && is_only(s, at + words, row)) {
			*n = words;
			best = row;
		}
	}
	return best;
}

/* ---- what it may be about ---- */

/* The dimensions of the first quantity in the sentence, as bits. */
static unsigned dims_said(const struct sentence *s)
{
	const char *value;
	unsigned dims = 0;

	for (size_t at = s->at; at < s->n && dims == 0; at++)
		for (int dim = AB_DIM_NONE + 1; dim < AB_DIM_MAX_; dim++) {
			const struct entry_slot any = { ENTRY_QUANTITY, "", "", (enum ab_dim)dim, NULL, NULL, 0, 0,
				NULL };
			dims |= entry_value(s, &any, at, &value) > 0 ? 1u << dim : 0;
		}
	return dims;
}

/* Two words or more by which the caller calls what one of the row's slots takes ("flaked barley") show what is
 * meant as its nouns do. */
static size_t phrase_of(const struct sentence *s, const struct entry_row *row)
{
	enum { HYPHENED = 2 };   /* "Maris-Otter" stands for two words */
	size_t most = 0, n;
	bool empty;

	for (size_t i = 0; s->help != NULL && i < s->help->n_words; i++) {
		const struct ab_alias *word = &s->help->words[i];
		const struct entry_slot *slot = row->slots;
		while (slot->kind != ENTRY_NONE && slot->words != word->list)
			slot++;
		for (size_t at = s->at; slot->kind != ENTRY_NONE && strchr(word->said, ' ') != NULL && at < s->n; at++)
			if ((n = entry_one_of(s, at, word->said, &empty)) > most)
				most = n;
			else if (most < HYPHENED && strchr(s->word[at], '-') != NULL &&
			    entry_is_alias(s->word[at], word))
				most = HYPHENED;
	}
	return most;
}

/* How many words the longest of the row's nouns that stand there has; 0: none does. dims: what is measured in the
 * line. */
static size_t noun_of(const struct sentence *s, const struct entry_row *row, unsigned dims)
{
	size_t most = (row->bare & dims) != 0 ? phrase_of(s, row) : 0, n;
	bool empty;

	for (size_t at = s->at; row->nouns[0] != '\0' && at < s->n; at++)
		if ((n = entry_one_of(s, at, row->nouns, &empty)) > most)
			most = n;
	return most;
}

enum ab_status entry_try_line(const struct sentence *s, const char *line, const char **lines, size_t *n)
{
	enum ab_status st = line != NULL ? entry_understood(s, line) : AB_ENOMEM;

	if (st == AB_OK)
		lines[(*n)++] = line;
	return st == AB_ENOMEM ? st : AB_OK;
}

size_t entry_ways(const struct sentence *s, const char *ways[AB_ENTRY_WAYS])
{
	const struct entry_row *row;
	unsigned dims = dims_said(s);
	bool sight = false;
	size_t n = 0, longest = 0;
	enum ab_status st = AB_OK;

	if (s->at >= s->n)
		return 0;
	for (size_t i = 0; (row = entry_row(i)) != NULL; i++)
		longest = noun_of(s, row, dims) > longest ? noun_of(s, row, dims) : longest;
	for (size_t i = 0; st == AB_OK && (row = entry_row(i)) != NULL && n + 1 < AB_ENTRY_WAYS; i++) {
		/* What stands in the fridge before there are bottles is the fermenter. */
		int packaged = s->help != NULL ? s->help->packaged : 0;
		bool other = (packaged == 1 && strcmp(row->element, "store") == 0) ||
		    (packaged == 2 && row->stage == ENTRY_FERMENTING);
		bool may = !other && (longest > 0 ? noun_of(s, row, dims) == longest : (row->bare & dims) != 0);
		size_t before = n;
		if (may)
			st = entry_try_line(s,
			    ab_arena_printf(
				s->arena, "%.*s %s", (int)strcspn(row->leads, "|"), row->leads, s->raw[s->at]),
			    ways, &n);
		/* What is only seen may be seen again. */
		sight = sight || (n > before && row->bare == 0);
	}
	if (st == AB_OK && n > 0 && sight)
		st = entry_try_line(s, ab_arena_printf(s->arena, "note %s", s->raw[s->at]), ways, &n);
	return st == AB_OK ? n : ENTRY_NOMEM;
}
