/* entry_words.c - a line of plain words cut into words, and the phrases they spell
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <string.h>
#include <strings.h>

#include "base/rough.h"
#include "journal/edit.h"

const char *ab_entry_escaped(struct ab_arena *arena, const char *text)
{
	struct ab_str safe, out;
	const char *copy = NULL;

	ab_str_init(&safe, 0);
	ab_str_init(&out, 0);
	ab_str_add_safe(&safe, text, false);
	ab_str_add(&out, "");
	ab_edit_escape(&out, ab_str_text(&safe));
	if (ab_str_ok(&safe) && ab_str_ok(&out))
		copy = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&safe);
	ab_str_clear(&out);
	return copy;
}

/* One word of that many bytes; "@" is said "at", and "w/" with. */
static bool add_word(struct sentence *s, const char *from, size_t len, bool breath)
{
	static const struct { const char *sign, *word; } signs[] = { { "@", "at" }, { "w/", "with" },
	    { "w/o", "without" } };
	const char *word = NULL;

	for (size_t i = 0; word == NULL && i < sizeof signs / sizeof *signs; i++)
		word = strlen(signs[i].sign) == len && strncmp(from, signs[i].sign, len) == 0 ? signs[i].word : NULL;
	char *copy = ab_arena_strndup(s->arena, word != NULL ? word : from, word != NULL ? strlen(word) : len);

	if (copy == NULL)
		return false;
	s->raw[s->n] = from;
	s->breath[s->n] = breath;
	s->word[s->n++] = copy;
	return true;
}

/* "C60", as malt is sold: crystal malt by its colour, of which the number begins at the second byte. Not behind a
 * word that tells a name. */
static bool is_crystal(const struct sentence *s, const char *from, size_t len)
{
	enum { SHORTEST = 3, LONGEST = 4 };
	bool named = s->n > 0 && entry_is_filler("named called number nr id strain", s->word[s->n - 1]);

	return !named && (*from == 'C' || *from == 'c') && len >= SHORTEST && len <= LONGEST &&
	    strspn(from + 1, "0123456789") == len - 1;
}

static bool add_crystal(struct sentence *s, const char *from, size_t len, bool breath)
{
	size_t first = s->n;

	if (!add_word(s, from, 1, breath) || !add_word(s, from + 1, len - 1, false))
		return false;
	return (s->word[first] = ab_arena_strdup(s->arena, "crystal")) != NULL;
}

bool entry_cut(struct sentence *s, const char *words)
{
	static const char blank[] = " \t\r\n=";
	bool breath = false;

	s->said = words;
	words += strspn(words, blank);
	while (*words != '\0' && s->n < ENTRY_WORDS) {
		size_t n = *words == '@' ? 1 : strcspn(words, blank), keep = n;
		bool last = words[n + strspn(words + n, blank)] == '\0';
		while (keep > 0 && (strchr(",;:!", words[keep - 1]) != NULL || (last && words[keep - 1] == '.')))
			keep--;
		bool crystal = s->n + 1 < ENTRY_WORDS && is_crystal(s, words, keep);
		if (keep > 0 && !(crystal ? add_crystal(s, words, keep, breath) : add_word(s, words, keep, breath)))
			return false;
		breath = (breath && keep == 0) || keep < n;
		words += n;
		words += strspn(words, blank);
	}
	s->more = *words != '\0';
	return true;
}

/* How many words from `at` on spell this phrase ("cold crash"); 0 when they do not. */
static size_t spells(const struct sentence *s, size_t at, const char *phrase, size_t len)
{
	size_t n = 0;

	/* Nearly all of the phrases that are tried differ in their first letter. */
	if (len > 0 && (at >= s->n || ((s->word[at][0] ^ phrase[0]) & ~ENTRY_CASE) != 0))
		return 0;
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
	return ab_rough_word(word);
}

const char *entry_joined(const struct sentence *s, size_t at, size_t n)
{
	const char *text = n > 0 && at + n <= s->n ? s->word[at] : NULL;

	for (size_t i = 1; text != NULL && i < n; i++)
		text = ab_arena_printf(s->arena, "%s %s", text, s->word[at + i]);
	return text;
}
