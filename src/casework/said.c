/* said.c - what a brewer types into what a journal says: not known, guesses, yes and no, choices
 *
 * Forgiving where one meaning is plain, and asking back where it is not. Numbers and times: spoken.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casework/said.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"

/* ---- text ---- */

static bool is_letter(char c)
{
	return c >= 'a' && c <= 'z';
}

void case_plain(const char *said, char *to)
{
	size_t n = 0;
	for (; *said != '\0' && n + 1 < CASE_LINE; said++) {
		char c = *said >= 'A' && *said <= 'Z' ? (char)(*said - 'A' + 'a') : *said;
		if (c == '\t' || c == '\n' || c == '\r')
			c = ' ';
		if (c == ' ' && (n == 0 || to[n - 1] == ' '))
			continue;
		to[n++] = c;
	}
	while (n > 0 && strchr(" .!", to[n - 1]) != NULL)
		n--;
	to[n] = '\0';
}

bool case_is_one_of(const char *text, const char *const *list)
{
	for (; *list != NULL; list++)
		if (strcmp(text, *list) == 0)
			return true;
	return false;
}

/* Past the word or phrase that text begins with, and the blank behind it; NULL when it does not. */
const char *case_after(const char *text, const char *phrase)
{
	size_t n = strlen(phrase);
	if (strncmp(text, phrase, n) != 0 || is_letter(text[n]))
		return NULL;
	return text + n + (text[n] == ' ');
}

bool case_is_unknown(const char *text)
{
	static const char *const unknown[] = { "", "-", "don't know", "dont know", "do not know", "i don't know",
		"i dont know", "i do not know", "dunno", "no idea", "not sure", "unsure", "unknown", "idk", "dk",
		"don't remember", "dont remember", "i don't remember", "can't remember", "cannot remember",
		"can't say", "can't tell", "no clue", "skip", "pass", "next", "not known", "forgot",
		"i forgot", "who knows", "no notes", "never measured", "not measured", "did not measure",
		"didn't measure", NULL };
	return case_is_one_of(text, unknown);
}

/* ---- guesses ---- */

/* Cuts what says that it is a guess; true when something did. */
bool case_cut_guess(char *text)
{
	static const char *const heads[] = { "about", "around", "roughly", "approximately", "approx", "approx.",
		"maybe", "perhaps", "probably", "circa", "ca", "ca.", "i think", "i guess", "i believe", "guess",
		"nearly", "almost", "some", "something like", "~", "likely", "must be", "it was", "it is",
		"was", NULL };
	static const char *const tails[] = { "?", "or so", "i think", "i guess", "ish", "-ish", "more or less",
		"probably", "maybe", "roughly", "about", NULL };
	static const size_t no_guess = 3;   /* the last heads only fill */
	size_t n_heads = sizeof heads / sizeof *heads - 1;
	bool guess = false;
	for (size_t i = 0; i < n_heads; i++) {
		const char *rest = case_after(text, heads[i]);
		if (rest == NULL || *rest == '\0')
			continue;
		memmove(text, rest, strlen(rest) + 1);
		guess = guess || i + no_guess < n_heads;
		i = (size_t)-1;   /* from the start: "i think about 20" */
	}
	for (size_t i = 0; tails[i] != NULL; i++) {
		size_t len = strlen(text), tail = strlen(tails[i]);
		if (len <= tail || strcmp(text + len - tail, tails[i]) != 0 ||
		    (is_letter(tails[i][0]) && is_letter(text[len - tail - 1])))
			continue;
		len -= tail;
		while (len > 0 && strchr(" ,", text[len - 1]) != NULL)
			len--;
		text[len] = '\0';
		guess = true;
		i = (size_t)-1;
	}
	return guess;
}

int case_strength(const char **text)
{
	static const struct { const char *word; int strength; } words[] = { { "barely", 1 }, { "a hint of",
	    1 }, { "a touch of", 1 }, { "touch of", 1 }, { "a touch", 1 }, { "almost no", 1 }, { "hardly any", 1 },
		{ "hint of", 1 }, { "a trace of", 1 }, { "trace of", 1 }, { "faint", 1 }, { "faintly", 1 },
		{ "a little", 2 }, { "a bit", 2 }, { "a bit of", 2 }, { "a little bit of", 2 },
		{ "a little bit", 2 }, { "little bit", 2 }, { "little bit of", 2 }, { "bit", 2 }, { "bit of", 2 },
		{ "slight", 1 }, { "slightly", 1 }, { "mild", 2 },
		{ "mildly", 2 }, { "somewhat", 2 }, { "little", 2 }, { "clearly", 3 }, { "medium", 3 },
		{ "moderate", 3 }, { "moderately", 3 },
		{ "quite", 4 }, { "rather", 3 }, { "strong", 4 }, { "strongly", 4 }, { "very", 4 }, { "really", 4 },
		{ "a lot of", 4 }, { "lots of", 4 }, { "way too", 4 }, { "far too", 4 }, { "much too", 4 },
		{ "awfully", 5 }, { "extremely", 5 }, { "undrinkably", 5 }, { "overwhelming", 5 },
		{ "overwhelmingly", 5 }, { "kinda", 2 }, { "sorta", 2 }, { "kind of", 2 }, { "sort of", 2 },
		{ "kind of a", 2 }, { "sort of a", 2 }, { "a tad", 1 }, { "tad", 1 },
		{ "a wee bit", 1 }, { "ever so slightly", 1 }, { "a smidge", 1 }, { "a smidgen of", 1 },
		{ "a bit too", 2 }, { "a little too", 2 }, { "a tad too", 1 }, { "slightly too", 1 },
		{ "some", 2 }, { "pretty", 3 }, { "fairly", 3 }, { "noticeably", 3 }, { "definitely", 3 },
		{ "distinctly", 3 }, { "plenty of", 4 }, { "super", 4 }, { "so", 4 }, { "seriously", 4 },
		{ "heavily", 4 }, { "insanely", 5 }, { "horribly", 5 }, { "terribly", 5 }, { "massively", 5 } };
	const char *longest = NULL;
	int strength = 0;
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		const char *rest = case_after(*text, words[i].word);
		if (rest == NULL || *rest == '\0' || (longest != NULL && rest <= longest))
			continue;
		longest = rest;
		strength = words[i].strength;
	}
	if (longest != NULL)
		*text = longest;
	return strength;
}

/* ---- choices ---- */

static void wrong_choice(const struct case_asked *a, struct case_said *out)
{
	if (a->row->choices == NULL && a->n_choices == 2)
		snprintf(out->why, sizeof out->why, "Please answer yes or no, or leave it blank if you do not "
		    "know.");
	else
		snprintf(out->why, sizeof out->why, "Please choose one by its number (1 to %zu) or its words, or "
		    "leave it blank if you do not know.", a->n_choices);
}

/* "yes" and "no" in other words. */
const char *case_yes_or_no(const char *text)
{
	static const char *const yes[] = { "y", "yes", "yeah", "yep", "yup", "ja", "sure", "of course", "i did",
		"it did", "it does", "it was", "i do", "true", "always", "often", "a little", "a bit", "some",
		NULL };
	static const char *const no[] = { "n", "no", "nope", "nah", "never", "not at all", "none", "nothing",
		"i did not", "i didn't", "it did not", "it didn't", "it does not", "it doesn't", "false", "not",
		NULL };
	return case_is_one_of(text, yes) ? "yes" : case_is_one_of(text, no) ? "no" : NULL;
}

static bool is_inside(const char *text, const char *says)
{
	char plain[CASE_LINE];
	case_plain(says, plain);
	const char *at = strstr(plain, text);
	return at != NULL && (at == plain || !is_letter(at[-1]));
}

/* Is the word, len long, a word of text? */
static bool has_word(const char *text, const char *word, size_t len)
{
	for (const char *at = text; *at != '\0'; at++)
		if (strncmp(at, word, len) == 0 && (at == text || !is_letter(at[-1])) && !is_letter(at[len]))
			return true;
	return false;
}

/* The choice one of whose other words stands in text (or is all of it), the longest deciding; none when two fit
 * alike. */
static size_t by_other_words(const struct case_asked *a, const char *text, bool whole)
{
	size_t n = a->n_choices, found = n, longest = 0;
	for (size_t i = 0; i < n; i++)
		for (const char *at = case_other_words(a->choices[i].value); at != NULL && *at != '\0';) {
			size_t len = strcspn(at, "|");
			if (len >= longest && has_word(text, at, len) && (!whole || text[len] == '\0')) {
				found = len == longest && found != i ? n : i;
				longest = len;
			}
			at += len + (at[len] == '|');
		}
	return found;
}

/* "Nothing" where one of them is that there is none. */
static size_t none_of(const struct case_asked *a, const char *text)
{
	static const char *const nothing[] = { "nothing", "nothing at all", "nothing special", "with nothing",
		"by nothing", "no control", "uncontrolled", "not controlled", NULL };
	size_t i = 0;
	while (i < a->n_choices && (a->choices[i].value == NULL || strcmp(a->choices[i].value, "none") != 0))
		i++;
	return case_is_one_of(text, nothing) ? i : a->n_choices;
}

/* One that fits as it stands, else the only one that begins so, else the only one that has a word so, else the
 * journal's word. */
static size_t find_choice(const struct case_asked *a, const char *text)
{
	/* "no" is not short for Norwegian. */
	enum { SHORTEST = 3 };
	size_t n = a->n_choices, found = n, times = 0, len = strlen(text);
	/* The journal's own word comes last: the "no" of a question turned round is written as "yes". */
	for (size_t i = 0; i < n; i++)
		if (ab_word_cmp(a->choices[i].says, text) == 0)
			return i;
	if ((found = by_other_words(a, text, true)) != n || (found = none_of(a, text)) != n)
		return found;
	for (int pass = 0; pass < 2 && times == 0; pass++)
		for (size_t i = 0; i < n; i++) {
			char says[CASE_LINE];
			case_plain(a->choices[i].says, says);
			bool fits = pass == 0 ? case_after(says, text) != NULL || (len >= SHORTEST && strncmp(says,
			    text, len) == 0) : len >= SHORTEST && is_inside(text, says);
			found = fits ? i : found;
			times += fits;
		}
	if (times == 1)
		return found;
	/* "tap" stands in three answers, and is the word of one. */
	found = times > 1 ? n : by_other_words(a, text, false);
	for (size_t i = 0; i < n && found == n; i++)
		if (a->choices[i].value != NULL && ab_word_cmp(a->choices[i].value, text) == 0)
			found = i;
	return found;
}

static void read_choice(const struct case_asked *a, const char *text, struct case_said *out)
{
	size_t at = 0, digits = strspn(text, "0123456789"), n = a->n_choices;
	const char *yes_no = case_yes_or_no(text);
	if (digits > 0 && digits < 4 && (text[digits] == '\0' || text[digits] == ')')) {
		for (size_t i = 0; i < digits; i++)
			at = 10 * at + (size_t)(text[i] - '0');
		at = at >= 1 && at <= n ? at - 1 : n;
	} else {
		at = find_choice(a, text);
		if (at == n && yes_no != NULL)
			at = find_choice(a, yes_no);
	}
	if (at == n) {
		wrong_choice(a, out);
		return;
	}
	const char *value = a->choices[at].value;
	out->kind = value == NULL ? CASE_SAID_UNKNOWN : CASE_SAID_VALUE;
	if (value != NULL && value[0] == '@')
		out->edits = value + 1;
	else if (value != NULL)
		snprintf(out->value, sizeof out->value, "%s", value);
}

/* ---- the whole ---- */

void case_take_choices(struct case_asked *asked)
{
	static const struct case_choice yes_no[] = { { "yes", "yes" }, { "no", "no" }, { NULL, NULL } };

	if (asked->n_choices > 0)
		return;
	asked->choices = asked->row->choices != NULL ? asked->row->choices
	    : asked->spec != NULL && asked->spec->kind == AB_ATTR_YESNO ? yes_no : NULL;
	while (asked->choices != NULL && asked->choices[asked->n_choices].says != NULL)
		asked->n_choices++;
}

void case_read_said(const struct case_asked *asked, const char *said, struct case_said *out)
{
	char text[CASE_LINE];
	*out = (struct case_said){ .kind = CASE_SAID_WRONG };
	assert(asked->spec != NULL || asked->n_choices > 0);
	case_plain(said, text);
	if (case_is_unknown(text)) {
		out->kind = CASE_SAID_UNKNOWN;
		return;
	}
	out->guess = case_cut_guess(text);
	if (asked->n_choices > 0)
		read_choice(asked, text, out);
	else if (asked->spec->kind == AB_ATTR_WHEN || asked->spec->kind == AB_ATTR_DATE)
		case_read_time(asked, text, out);
	else
		case_read_number(asked, text, out);
}
