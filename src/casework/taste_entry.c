/* taste_entry.c - what was tasted, in plain words, becomes one element of a journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/taste_entry.h>

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/str.h"

enum { USUAL = 3, PHRASE = 80, NEAR = 3 };

struct sentence {
	const struct ab_knowledge *k;
	struct ab_str xml, echo;
	bool nothing;
};

/* How strong, by words around the fault (common usage; the scale is ours). */
static const struct { const char *word; int intensity; } strengths[] = {
	{ "hint of", 1 }, { "faintly", 1 }, { "faint", 1 }, { "slightly", 1 }, { "slight", 1 }, { "a little", 2 }, { "little", 2 }, { "mildly", 2 },
	{ "mild", 2 }, { "clearly", 3 }, { "very", 4 }, { "strongly", 4 }, { "strong", 4 }, { "undrinkably", 5 }, { "awfully", 5 },
};
static const char *const denials[] = { "no", "not", "without", NULL };

static char *trim(char *text)
{
	size_t len = strlen(text);

	while (len > 0 && (isspace((unsigned char)text[len - 1]) || strchr(".;:", text[len - 1]) != NULL))
		text[--len] = '\0';
	return text + strspn(text, " \t\r\n");
}

/* Past the word when text begins with it and a blank. */
static char *past_word(char *text, const char *word)
{
	size_t len = strlen(word);

	return strncasecmp(text, word, len) == 0 && (text[len] == ' ' || text[len] == '\0') ? text + len + strspn(text + len, " ") : NULL;
}

/* "3" at the end, "=3" too; 0 when there is none, -1 when it is out of range. */
static int cut_number(char *text)
{
	size_t len = strlen(text), at = len;

	while (at > 0 && isdigit((unsigned char)text[at - 1]))
		at--;
	if (at == len || at == 0 || strchr(" =", text[at - 1]) == NULL)
		return 0;
	int n = len - at == 1 ? text[at] - '0' : 9;
	text[at - 1] = '\0';
	trim(text);
	return n >= 1 && n <= 5 ? n : -1;
}

static int cut_strength(char **text)
{
	for (size_t i = 0; i < sizeof strengths / sizeof *strengths; i++) {
		char *rest = past_word(*text, strengths[i].word);
		if (rest != NULL && *rest != '\0') {
			*text = rest;
			return strengths[i].intensity;
		}
	}
	return 0;
}

static bool cut_denial(char **text)
{
	for (const char *const *d = denials; *d != NULL; d++) {
		char *rest = past_word(*text, *d);
		if (rest != NULL && *rest != '\0') {
			*text = rest;
			return true;
		}
	}
	return false;
}

static enum ab_status no_fault(const struct sentence *s, const char *word, struct ab_diag *diag)
{
	const char *near[NEAR] = { NULL };
	char list[200] = "";
	size_t n = 0;

	ab_fault_word(s->k, word, near, NEAR, &n);
	for (size_t i = 0; i < n; i++)
		snprintf(list + strlen(list), sizeof list - strlen(list), "%s\"%s\"", i > 0 ? ", " : "; near it: ", near[i]);
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "\"%.40s\" is no fault that is known here%s; \"afterboil rules list faults\" lists them", word, list);
}

/* One phrase between commas. */
static enum ab_status phrase(struct sentence *s, char *text, struct ab_diag *diag)
{
	bool absent = cut_denial(&text);
	int strength = cut_strength(&text), n = cut_number(text);
	const char *near[1];
	size_t n_near;

	if (*text == '\0')
		return AB_OK;
	if (!absent && (strcasecmp(text, "nothing") == 0 || strcasecmp(text, "clean") == 0)) {
		s->nothing = true;
		return AB_OK;
	}
	if (n < 0)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "how strong %.40s is goes from 1 (barely there) to 5 (undrinkable)", text);
	int fault = ab_fault_word(s->k, text, near, 0, &n_near);
	if (fault < 0)
		return no_fault(s, text, diag);
	const char *id = s->k->faults[fault].id, *sep = s->echo.len > 0 ? ", " : "";
	int intensity = n > 0 ? n : strength > 0 ? strength : USUAL;
	if (absent)
		ab_str_addf(&s->xml, "<absent fault=\"%s\"/>", id);
	else
		ab_str_addf(&s->xml, "<found fault=\"%s\" intensity=\"%d\"/>", id, intensity);
	if (absent)
		ab_str_addf(&s->echo, "%sno %s", sep, s->k->faults[fault].title);
	else
		ab_str_addf(&s->echo, "%s%s %d", sep, s->k->faults[fault].title, intensity);
	return AB_OK;
}

/* The next phrase of text, cut off it; NULL at the end. A fault's own word may hold "and": then only commas part. */
static char *next_phrase(char **text)
{
	char *at = *text, *comma, *word;

	if (at == NULL)
		return NULL;
	comma = strchr(at, ',');
	word = strstr(at, " and ");
	if (comma == NULL && word == NULL) {
		*text = NULL;
	} else if (word == NULL || (comma != NULL && comma < word)) {
		*comma = '\0';
		*text = comma + 1;
	} else {
		*word = '\0';
		*text = word + 5;
	}
	return trim(at);
}

static enum ab_status phrases(struct sentence *s, char *text, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (char *one = next_phrase(&text); st == AB_OK && one != NULL; one = next_phrase(&text))
		st = phrase(s, one, diag);
	if (st == AB_OK && (!ab_str_ok(&s->xml) || !ab_str_ok(&s->echo)))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK && s->xml.len == 0 && !s->nothing)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "what was tasted? Write it like \"buttery 3, green apple 1, no sour\", or \"nothing\"");
	if (st == AB_OK && s->nothing && strstr(ab_str_text(&s->xml), "<found") != NULL)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "\"nothing\" and a fault are told at once; which of the two?");
	return st;
}

static const char *attributes(const struct ab_tasting_more *more, bool nothing, const struct ab_when *at, struct ab_arena *arena)
{
	char when[32] = "";
	const char *by = more->by != NULL ? ab_entry_escaped(arena, more->by) : "", *slash = more->score != NULL ? strchr(more->score, '/') : NULL;
	const char *score = "";

	if (at->known)
		ab_when_write(at, when, sizeof when);
	if (slash != NULL)
		score = ab_arena_printf(arena, " score=\"%.*s\" score-of=\"%s\"", (int)(slash - more->score), more->score, slash + 1);
	if (by == NULL || score == NULL)
		return NULL;
	return ab_arena_printf(arena, "%s%s%s%s%s%s%s%s", at->known ? " at=\"" : "", when, at->known ? "\"" : "", *by != '\0' ? " by=\"" : "", by,
	    *by != '\0' ? "\"" : "", more->complete || nothing ? " complete=\"yes\"" : "", score);
}

static bool is_score(const char *text)
{
	int of = 0, n = 0;

	return sscanf(text, "%*3[0-9]/%3d%n", &of, &n) == 1 && of > 0 && text[n] == '\0';
}

static enum ab_status finish(struct sentence *s, const struct ab_tasting_more *more, const struct ab_when *at, struct ab_arena *arena,
    struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *entry = ab_arena_alloc(arena, 1, sizeof *entry);
	const char *attrs = attributes(more, s->nothing, at, arena), *note = more->note != NULL ? ab_entry_escaped(arena, more->note) : "";

	if (entry == NULL || attrs == NULL || note == NULL || !ab_str_ok(&s->xml) || !ab_str_ok(&s->echo))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	entry->element = ab_arena_printf(arena, "<tasting%s>%s%s%s%s</tasting>", attrs, ab_str_text(&s->xml), *note != '\0' ? "<note>" : "", note,
	    *note != '\0' ? "</note>" : "");
	entry->echo = ab_arena_printf(arena, "tasting: %s%s", s->echo.len > 0 ? ab_str_text(&s->echo) : "no fault", more->complete || s->nothing
	    ? "; all faults were considered" : "");
	entry->name = "tasting";
	if (entry->element == NULL || entry->echo == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	return AB_OK;
}

enum ab_status ab_tasting_read(const struct ab_knowledge *k, const char *words, const struct ab_tasting_more *more, const struct ab_when *at,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag)
{
	struct sentence s = { .k = k };
	char *copy;
	enum ab_status st;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu", AB_ENTRY_LIMIT, strlen(words));
	if (more->score != NULL && !is_score(more->score))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "score %.20s: write it like 32/50", more->score);
	copy = ab_arena_strdup(arena, words);
	if (copy == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	ab_str_init(&s.xml, 0);
	ab_str_init(&s.echo, 0);
	ab_str_add(&s.xml, "");
	st = phrases(&s, copy, diag);
	if (st == AB_OK)
		st = finish(&s, more, at, arena, out, diag);
	ab_str_clear(&s.xml);
	ab_str_clear(&s.echo);
	return st;
}
