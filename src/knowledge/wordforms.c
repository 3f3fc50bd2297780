/* wordforms.c - a taster's word without what spelling, grammar and good manners add to it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/wordforms.h"

#include <assert.h>
#include <string.h>

static bool starts(const char *text, const char *with)
{
	return strncmp(text, with, strlen(with)) == 0;
}

/* "ph" as "f" and "ou" as "o": sulphur, mould, both spellings are in use. */
void wordforms_small(const char *word, char *to, size_t size)
{
	size_t n = 0;
	for (; *word != '\0' && n + 1 < size; word++) {
		char c = *word >= 'A' && *word <= 'Z' ? (char)(*word - 'A' + 'a') : *word;
		char before = n > 0 ? to[n - 1] : ' ';
		if (c == '-' || c == '_' || c == '\t' || c == '\n' || c == '\r')
			c = ' ';
		if (c == ' ' && before == ' ')
			continue;
		/* The p stands there already and becomes the f. */
		if (c == 'h' && before == 'p')
			to[n - 1] = 'f';
		else if (!(c == 'u' && before == 'o'))
			to[n++] = c;
	}
	while (n > 0 && to[n - 1] == ' ')
		n--;
	to[n] = '\0';
}

/* What says how much of it there is, or that it is tasted at all, is not part of the word: intensity says that. Several
 * may stand in a row ("a bit too"). "Little", "less" and "not" are not among them: they turn the meaning round. */
static const char *without_lead(const char *word)
{
	static const char *const leads[] = { "too ", "a bit ", "a little ", "slightly ", "very ", "rather ",
	    "quite ", "some ", "a ", "an ", "bit ", "of ", "like ", "hint of ", "touch of ", "strong ", "strongly ",
	    "faint ", "faintly ", "slight ", "mild ", "mildly ", "way ", "so ", "really ", "extremely ", "pretty ",
	    "clearly ", "tastes ", "taste of ", "taste like ", "smells ", "smell of ", "smell like ", "went ", "gone ",
	    "turned ", NULL };
	for (size_t i = 0; leads[i] != NULL; i++)
		if (word[0] == leads[i][0] && starts(word, leads[i]))
			return without_lead(word + strlen(leads[i]));
	return word;
}

/* Endings that only grammar adds (apples, buttery, corn-like) and nouns that only say it is tasted or smelled. At
 * least three letters stay. Over and over until nothing is left to cut, for both words go through the same mill: it
 * need not be grammar, only the same for "apple", "apples" and "appley". A double s stays: "grass" is no plural. */
static void cut_ending(char *word)
{
	static const char *const endings[] = { " like", " taste", " flavor", " aroma", " smell", " odor", " notes",
		" note", " edge", "iness", "ish", "y", "ies", "es", "s", "e", NULL };
	size_t len = strlen(word);
	for (size_t i = 0; endings[i] != NULL;) {
		size_t end = strlen(endings[i]);
		bool after_s = endings[i][0] != ' ' && len > end && word[len - end - 1] == 's';
		if (len < end + 3 || after_s || memcmp(word + len - end, endings[i], end) != 0) {
			i++;
			continue;
		}
		len -= end;
		word[len] = '\0';
		i = 0;
	}
}

void wordforms_bare(const char *word, char *to)
{
	char small[WORDFORMS_BARE];
	wordforms_small(word, small, sizeof small);
	const char *rest = without_lead(small);
	assert(strlen(rest) < WORDFORMS_BARE);
	memcpy(to, rest, strlen(rest) + 1);
	cut_ending(to);
}

/* Words as wordforms_small leaves them: "without" has lost a letter. */
bool wordforms_denies(const char *small)
{
	static const char *const words[] = { "hardly", "barely", "scarcely", "less", "never", "withot",
		"lost", "losing", "loses", "lacks", "gone", "disappeared", "disappears", "vanished", NULL };
	for (size_t i = 0; words[i] != NULL; i++) {
		/* "The gas has gone" denies it, "gone flat" does not. */
		size_t len = strlen(words[i]), gone = strcmp(words[i], "gone") == 0;
		for (const char *at = strstr(small, words[i]); at != NULL; at = strstr(at + 1, words[i]))
			if ((at == small || at[-1] == ' ') && (at[len] == '\0' || (at[len] == ' ' && !gone)))
				return true;
	}
	return false;
}
