/* entry_lead.c - how a line of plain words begins: what it is about, and what it may be about when it does not say
 *
 * "60 g cascade" has no lead: each row that may go without is tried, and those that understand all of it are what may be
 * meant. A word that is a slip of the hand for one that would be known is named with it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <afterboil/when.h>
#include "base/record.h"
#include "base/spelled.h"
#include "base/str.h"

enum { NAMES = 400, WORD = 40, LETTERS = 3 };

/* Is the temperature that the first slot would take there said, and below the row's limit? "dropped to 34 F" is a crash, "to 12 C" a lager's. */
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

/* "pitched more hops" is no yeast, and neither are packs of hops or nutrient for it; sugar that is boiled before there is beer is none
 * for bottles. */
static bool is_only(const struct sentence *s, size_t at, const struct entry_row *row)
{
	bool empty, any = row->only == NULL;
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;

	if (!is_of_stage(s, row->stage) || (row->below_c > 0 && !is_so_cold(s, at, row)))
		return false;
	if (!any && strcmp(row->element, "package") == 0 && s->help != NULL && s->help->now != NULL && (pitched == NULL || !pitched->known))
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
	const struct entry_row *best = NULL;
	bool empty;

	*n = 0;
	for (size_t i = 0; at < s->n && i < n_entry_rows; i++) {
		size_t words = entry_one_of(s, at, entry_rows[i].leads, &empty);
		/* Of two with the same lead that which asks for more is meant. */
		if ((words > *n || (words > 0 && words == *n && entry_rows[i].only != NULL)) && is_only(s, at + words, &entry_rows[i])) {
			*n = words;
			best = &entry_rows[i];
		}
	}
	return best;
}

/* ---- slips of the hand ---- */

/* Words that a mistyped one is compared with; copies, for they are parts of longer texts. first: only those that begin with
 * one of these letters; NULL: all. */
struct names { struct ab_arena *arena; const char *first; const char *items[NAMES + 1]; size_t n; bool bad; };

static void add_name(struct names *to, const char *text, size_t len)
{
	bool plain = len > LETTERS && memchr(text, ' ', len) == NULL && (to->first == NULL || strchr(to->first, *text) != NULL);

	for (size_t i = 0; plain && i < to->n; i++)
		plain = strlen(to->items[i]) != len || strncmp(to->items[i], text, len) != 0;
	if (!plain || to->n == NAMES)
		return;
	to->items[to->n] = ab_arena_strndup(to->arena, text, len);
	to->bad = to->bad || to->items[to->n] == NULL;
	to->n += to->items[to->n] != NULL;
}

static void add_phrases(struct names *to, const char *phrases)
{
	for (const char *p = phrases; *p != '\0';) {
		size_t len = strcspn(p, "|");
		add_name(to, p, strcspn(p, "| "));
		p += len + (p[len] == '|');
	}
}

static void add_slot(struct names *to, const struct sentence *s, const struct entry_slot *slot)
{
	const struct ab_entry_word *a;

	add_phrases(to, slot->keys);
	for (size_t i = 0; slot->words != NULL && slot->words[i] != NULL; i++)
		add_name(to, slot->words[i], strlen(slot->words[i]));
	for (size_t i = 0; slot->words != NULL && (a = entry_alias_at(s, i)) != NULL; i++)
		if (a->list == slot->words)
			add_name(to, a->said, strlen(a->said));
}

const char *entry_near(const struct sentence *s, size_t at)
{
	struct names names = { .arena = s->arena };

	if (at >= s->n || strlen(s->word[at]) <= LETTERS)
		return NULL;
	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++)
			add_slot(&names, s, &s->part[p].row->slots[i]);
	names.items[names.n] = NULL;
	const char *near = ab_nearest(s->word[at], names.items);
	return near != NULL && ab_word_cmp(near, s->word[at]) != 0 ? near : NULL;
}

/* The one name that the word is a slip of the hand for; NULL when there is none, or more than one. */
static const char *only_slip(const char *word, const struct names *names)
{
	const char *found = NULL;

	for (size_t i = 0; i < names->n; i++) {
		if (ab_word_cmp(word, names->items[i]) == 0)
			return NULL;
		if (!ab_is_slip(word, names->items[i]))
			continue;
		if (found != NULL)
			return NULL;
		found = names->items[i];
	}
	return found;
}

/* The second words of the leads that begin with that word: "dry hoped". */
static void add_seconds(struct names *to, const char *word)
{
	size_t len = strlen(word);

	for (size_t i = 0; i < n_entry_rows; i++)
		for (const char *p = entry_rows[i].leads; *p != '\0'; p += strcspn(p, "|"), p += *p == '|')
			if (strncasecmp(p, word, len) == 0 && p[len] == ' ')
				add_name(to, p + len + 1, strcspn(p + len + 1, "| "));
}

enum ab_status entry_mended(const struct sentence *s, const char **as, const char **line)
{
	const char *word = s->at < s->n ? s->word[s->at] : "";
	const char first[] = { *word, (char)(*word ^ ENTRY_CASE), '\0' };
	struct names names = { .arena = s->arena, .first = first };

	*line = NULL;
	/* "dont" is no slip for "done". */
	if (ab_denies(word))
		return AB_OK;
	for (size_t i = 0; s->n_parts == 0 && i < n_entry_rows; i++)
		add_phrases(&names, entry_rows[i].leads);
	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++)
			add_slot(&names, s, &s->part[p].row->slots[i]);
	*as = strlen(word) > LETTERS ? only_slip(word, &names) : NULL;
	if (*as == NULL && s->n_parts == 0 && s->at + 1 < s->n && !s->breath[s->at + 1] && strlen(s->word[s->at + 1]) > LETTERS && !ab_denies(s->word[s->at + 1])) {
		struct names seconds = { .arena = s->arena };
		add_seconds(&seconds, word);
		const char *second = only_slip(s->word[s->at + 1], &seconds);
		*as = second == NULL ? NULL : ab_arena_printf(s->arena, "%s %s", word, second);
		if (*as != NULL)
			*line = ab_arena_printf(s->arena, "%.*s%s%s%s", (int)(s->raw[s->at] - s->said), s->said, *as, s->at + 2 < s->n ? " " : "",
			    s->at + 2 < s->n ? s->raw[s->at + 2] : "");
		return names.bad || seconds.bad || (second != NULL && *line == NULL) ? AB_ENOMEM : AB_OK;
	}
	if (*as != NULL)
		*line = ab_arena_printf(s->arena, "%.*s%s%s%s", (int)(s->raw[s->at] - s->said), s->said, *as, s->at + 1 < s->n ? " " : "",
		    s->at + 1 < s->n ? s->raw[s->at + 1] : "");
	return names.bad || (*as != NULL && *line == NULL) ? AB_ENOMEM : AB_OK;
}

/* ---- what it may be about ---- */

/* The dimensions of the first quantity in the sentence, as bits. */
static unsigned dims_said(const struct sentence *s)
{
	const char *value;
	unsigned dims = 0;

	for (size_t at = s->at; at < s->n && dims == 0; at++)
		for (int dim = AB_DIM_NONE + 1; dim < AB_DIM_MAX_; dim++) {
			const struct entry_slot any = { ENTRY_QUANTITY, "", "", (enum ab_dim)dim, NULL, NULL, 0, 0, NULL };
			dims |= entry_value(s, &any, at, &value) > 0 ? 1u << dim : 0;
		}
	return dims;
}

/* Two words or more by which the caller calls what one of the row's slots takes ("flaked barley") show what is meant as its nouns do. */
static size_t phrase_of(const struct sentence *s, const struct entry_row *row)
{
	size_t most = 0, n;
	bool empty;

	for (size_t i = 0; s->help != NULL && i < s->help->n_words; i++) {
		const struct ab_entry_word *word = &s->help->words[i];
		const struct entry_slot *slot = row->slots;
		while (slot->kind != ENTRY_NONE && slot->words != word->list)
			slot++;
		for (size_t at = s->at; slot->kind != ENTRY_NONE && strchr(word->said, ' ') != NULL && at < s->n; at++)
			if ((n = entry_one_of(s, at, word->said, &empty)) > most)
				most = n;
	}
	return most;
}

/* How many words the longest of the row's nouns that stand there has; 0: none does. dims: what is measured in the line. */
static size_t noun_of(const struct sentence *s, const struct entry_row *row, unsigned dims)
{
	size_t most = (row->bare & dims) != 0 ? phrase_of(s, row) : 0, n;
	bool empty;

	for (size_t at = s->at; row->nouns[0] != '\0' && at < s->n; at++)
		if ((n = entry_one_of(s, at, row->nouns, &empty)) > most)
			most = n;
	return most;
}

/* Adds the line to those that are understood. */
static enum ab_status try_line(const struct sentence *s, const char *line, const char **lines, size_t *n)
{
	enum ab_status st = line != NULL ? entry_understood(s, line) : AB_ENOMEM;

	if (st == AB_OK)
		lines[(*n)++] = line;
	return st == AB_ENOMEM ? st : AB_OK;
}

size_t entry_ways(const struct sentence *s, const char *ways[AB_ENTRY_WAYS])
{
	unsigned dims = dims_said(s);
	bool sight = false;
	size_t n = 0, longest = 0;
	enum ab_status st = AB_OK;

	if (s->at >= s->n)
		return 0;
	for (size_t i = 0; i < n_entry_rows; i++)
		longest = noun_of(s, &entry_rows[i], dims) > longest ? noun_of(s, &entry_rows[i], dims) : longest;
	for (size_t i = 0; st == AB_OK && i < n_entry_rows && n + 1 < AB_ENTRY_WAYS; i++) {
		const struct entry_row *row = &entry_rows[i];
		/* What stands in the fridge before there are bottles is the fermenter. */
		int packaged = s->help != NULL ? s->help->packaged : 0;
		bool other = (packaged == 1 && strcmp(row->element, "store") == 0) || (packaged == 2 && row->stage == ENTRY_FERMENTING);
		bool may = !other && (longest > 0 ? noun_of(s, row, dims) == longest : (row->bare & dims) != 0);
		size_t before = n;
		if (may)
			st = try_line(s, ab_arena_printf(s->arena, "%.*s %s", (int)strcspn(row->leads, "|"), row->leads, s->raw[s->at]), ways, &n);
		/* What is only seen may be seen again. */
		sight = sight || (n > before && row->bare == 0);
	}
	if (st == AB_OK && n > 0 && sight)
		st = try_line(s, ab_arena_printf(s->arena, "note %s", s->raw[s->at]), ways, &n);
	return st == AB_OK ? n : ENTRY_NOMEM;
}

/* ---- nothing ---- */

/* "wrot" for "wort": two letters that changed places, too. */
static const char *near_name(const char *word, const struct names *names)
{
	char swapped[WORD];
	size_t len = strlen(word);

	for (size_t i = 0; len > LETTERS && len < WORD && i + 1 < len; i++) {
		snprintf(swapped, sizeof swapped, "%s", word);
		swapped[i] = word[i + 1];
		swapped[i + 1] = word[i];
		for (size_t k = 0; k < names->n; k++)
			if (ab_word_cmp(names->items[k], swapped) == 0)
				return names->items[k];
	}
	return len > LETTERS ? ab_nearest(word, names->items) : NULL;
}

static void leave_out(struct names *names, const char *item)
{
	for (size_t i = 0; i < names->n; i++)
		if (names->items[i] == item)
			names->items[i] = names->items[--names->n];
	names->items[names->n] = NULL;
}

/* The leads that the first word may be a slip for: those with which all of the line is understood. nearest: understood or not;
 * NULL when it is near none. */
static size_t near_leads(const struct sentence *s, const char *lines[AB_ENTRY_WAYS], const char **nearest)
{
	enum { TRIES = 4 };
	struct names names = { .arena = s->arena };
	const char *near, *rest = s->at + 1 < s->n ? s->raw[s->at + 1] : "";
	size_t n = 0;

	/* What ticks something off in words of the brewer's own is never guessed at. */
	for (size_t i = 0; s->at < s->n && i < n_entry_rows; i++)
		if (!(entry_rows[i].text && entry_rows[i].fixed[0] != '\0'))
			add_phrases(&names, entry_rows[i].leads);
	names.items[names.n] = NULL;
	*nearest = NULL;
	for (int i = 0; i < TRIES && s->at < s->n && (near = near_name(s->word[s->at], &names)) != NULL; i++) {
		if (try_line(s, ab_arena_printf(s->arena, "%s%s%s", near, *rest != '\0' ? " " : "", rest), lines, &n) != AB_OK)
			return ENTRY_NOMEM;
		*nearest = i == 0 ? near : *nearest;
		leave_out(&names, near);
	}
	return n;
}

/* "a", "a" or "b". */
static const char *listed(const struct sentence *s, const char *const *ways, size_t n)
{
	const char *list = "";

	for (size_t i = 0; list != NULL && i < n; i++) {
		list = ab_arena_printf(s->arena, "%s%s\"%.200s\"", list, i == 0 ? "" : i + 1 == n ? " or " : ", ", ways[i]);
		entry_offer(s, ways[i]);
	}
	return list;
}

bool entry_is_elsewise(const struct sentence *s, size_t from, size_t to)
{
	static const char words[] = "will would should could shall must might want wants wanted need needs needed plan plans planned planning going gonna bought buy buying "
		"ordered order costs cost if unless tomorrow next soon later he she they friend friends other others";

	for (size_t i = from; i < to && i < s->n; i++)
		if (entry_is_filler(words, s->word[i]))
			return true;
	return false;
}

bool entry_asks_back(const struct sentence *s)
{
	size_t len = s->n > 0 ? strlen(s->word[s->n - 1]) : 0;

	return len > 0 && !s->more && s->word[s->n - 1][len - 1] == '?';
}

/* What is to come, of others, or asked: kept as a note, and as nothing else. */
static const char *elsewise(const struct sentence *s)
{
	const char *note = ab_arena_printf(s->arena, "note %s", s->said);

	entry_offer(s, note);
	return ab_arena_printf(s->arena, "\"%.60s\" does not plainly tell of what happened to this beer, and only that is logged; write \"note %.200s\"", s->said, s->said);
}

const char *entry_denied(const struct sentence *s)
{
	if (!ab_denies(s->said))
		return elsewise(s);
	entry_offer(s, ab_arena_printf(s->arena, "note %s", s->said));
	return ab_arena_printf(s->arena, "\"%.60s\" tells of what is not so, and only what happened is logged; write \"note %.200s\"",
	    s->said, s->said);
}

const char *entry_no_lead(const struct sentence *s)
{
	const char *ways[AB_ENTRY_WAYS], *list, *near;

	if (ab_denies(s->said) || entry_is_elsewise(s, 0, entry_breath_end(s, s->at)))
		return entry_denied(s);
	size_t n = entry_ways(s, ways);

	if (n == ENTRY_NOMEM)
		return NULL;
	if (n > 0) {
		list = listed(s, ways, n);
		return list == NULL ? NULL : ab_arena_printf(s->arena, "\"%.60s\" may be about more than one thing; write %s", s->raw[s->at], list);
	}
	n = near_leads(s, ways, &near);
	if (n == ENTRY_NOMEM)
		return NULL;
	if (n > 0) {
		list = listed(s, ways, n);
		return list == NULL ? NULL : ab_arena_printf(s->arena, "\"%.40s\" begins nothing that can be logged; did you mean %s?", s->word[s->at], list);
	}
	const char *word = s->at < s->n ? s->word[s->at] : "", *line;
	if (entry_without(s, &line) == AB_ENOMEM)
		return NULL;
	n = line == NULL ? entry_shorter(s, ways) : 0;
	if (n == ENTRY_NOMEM)
		return NULL;
	if (n > 0) {
		list = listed(s, ways, n);
		return list == NULL ? NULL : ab_arena_printf(s->arena, "\"%.60s\" is not understood as a whole; write %s", s->raw[s->at], list);
	}
	entry_offer(s, line);
	if (line != NULL)
		return ab_arena_printf(s->arena, "\"%.*s\" begins nothing that can be logged. Example: %.300s (which keeps it as a note)",
		    (int)strcspn(s->raw[s->at], ",;:"), s->raw[s->at], line);
	if (s->at < s->n && entry_is_filler("smells smelled smelt tastes tasted", word)) {
		const char *note = ab_arena_printf(s->arena, "note %.200s", s->raw[s->at]);
		entry_offer(s, note);
		return note == NULL ? NULL : ab_arena_printf(s->arena, "what a beer smells and tastes of is told to \"afterboil taste\", in its own words (\"rotten eggs 2\"), once it can be "
		    "judged; of beer that still ferments write \"%.200s\"", note);
	}
	near = near != NULL && ab_word_cmp(near, word) != 0 ? near : NULL;
	/* With the words before that say nothing by themselves: "took it out of the tub". */
	if (s->at < s->n)
		entry_offer(s, ab_arena_printf(s->arena, "note %s", s->raw[0]));
	return ab_arena_printf(s->arena, "\"%.40s\" begins nothing that can be logged%s%s%s. Example: note %.60s (kept in your own words; \"afterboil log\" "
	    "lists all that can be logged)", s->n > 0 ? s->word[0] : "", near != NULL ? "; nearest is \"" : "", near != NULL ? near : "", near != NULL ? "\"" : "",
	    s->at < s->n ? s->raw[0] : "...");
}
