/* entry_slips.c - words that are slips of the hand for one that would be known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/record.h"
#include "base/spelled.h"
#include "base/str.h"

enum { NAMES = 400, WORD = 40, LETTERS = 3 };

/* Words that a mistyped one is compared with; copies, for they are parts of longer texts. first: only those that
 * begin with one of these letters; NULL: all. */
struct names { struct ab_arena *arena; const char *first; const char *items[NAMES + 1]; size_t n; bool bad; };

static void add_name(struct names *to, const char *text, size_t len)
{
	bool plain = len > LETTERS && memchr(text, ' ', len) == NULL &&
	    (to->first == NULL || strchr(to->first, *text) != NULL);

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
	const struct ab_alias *a;

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
	const struct entry_row *row;
	size_t len = strlen(word);

	for (size_t i = 0; (row = entry_row(i)) != NULL; i++)
		for (const char *p = row->leads; *p != '\0'; p += strcspn(p, "|"), p += *p == '|')
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
	const struct entry_row *row;
	for (size_t i = 0; s->n_parts == 0 && (row = entry_row(i)) != NULL; i++)
		add_phrases(&names, row->leads);
	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++)
			add_slot(&names, s, &s->part[p].row->slots[i]);
	*as = strlen(word) > LETTERS ? only_slip(word, &names) : NULL;
	if (*as == NULL && s->n_parts == 0 && s->at + 1 < s->n && !s->breath[s->at + 1] &&
	    strlen(s->word[s->at + 1]) > LETTERS && !ab_denies(s->word[s->at + 1])) {
		struct names seconds = { .arena = s->arena };
		add_seconds(&seconds, word);
		const char *second = only_slip(s->word[s->at + 1], &seconds);
		*as = second == NULL ? NULL : ab_arena_printf(s->arena, "%s %s", word, second);
		if (*as != NULL)
			*line = ab_arena_printf(s->arena, "%.*s%s%s%s", (int)(s->raw[s->at] - s->said), s->said,
			    *as, s->at + 2 < s->n ? " " : "", s->at + 2 < s->n ? s->raw[s->at + 2] : "");
		return names.bad || seconds.bad || (second != NULL && *line == NULL) ? AB_ENOMEM : AB_OK;
	}
	if (*as != NULL)
		*line = ab_arena_printf(s->arena, "%.*s%s%s%s", (int)(s->raw[s->at] - s->said), s->said, *as,
		    s->at + 1 < s->n ? " " : "", s->at + 1 < s->n ? s->raw[s->at + 1] : "");
	return names.bad || (*as != NULL && *line == NULL) ? AB_ENOMEM : AB_OK;
}

/* ---- how a line may have been meant to begin ---- */

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

size_t entry_near_leads(const struct sentence *s, const char *lines[AB_ENTRY_WAYS], const char **nearest)
{
	enum { TRIES = 4 };
	struct names names = { .arena = s->arena };
	const struct entry_row *row;
	const char *near, *rest = s->at + 1 < s->n ? s->raw[s->at + 1] : "";
	size_t n = 0;

	/* What ticks something off in words of the brewer's own is never guessed at. */
	for (size_t i = 0; s->at < s->n && (row = entry_row(i)) != NULL; i++)
		if (!(row->text && row->fixed[0] != '\0'))
			add_phrases(&names, row->leads);
	names.items[names.n] = NULL;
	*nearest = NULL;
	for (int i = 0; i < TRIES && s->at < s->n && (near = near_name(s->word[s->at], &names)) != NULL; i++) {
		if (entry_try_line(s, ab_arena_printf(s->arena, "%s%s%s", near, *rest != '\0' ? " " : "", rest),
			lines, &n) != AB_OK)
			return ENTRY_NOMEM;
		*nearest = i == 0 ? near : *nearest;
		leave_out(&names, near);
	}
	return n;
}
