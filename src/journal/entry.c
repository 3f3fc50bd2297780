/* entry.c - a line of plain words becomes one element of a journal
 *
 * The sentence is cut into words; the row is the one whose lead the sentence begins with (the longest); then,
 * word by word from the left, each slot that is still free is tried: first those whose little word stands
 * there, then the bare ones. What no slot takes is an error.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <afterboil/journal.h>
#include "base/str.h"
#include "journal/edit.h"
#include "journal/entry_rows.h"

enum { WORDS = 64, JOINED = 3 };

struct sentence {
	const char *word[WORDS];      /* in the arena, as written */
	const char *raw[WORDS];       /* where each begins in what was said */
	size_t n, at;
	bool more;                    /* it goes on beyond the last of these words */
	const struct entry_row *row;
	bool used[ENTRY_SLOTS], guess;
	struct ab_str xml, echo;
	struct ab_arena *arena;
};

/* ---- texts ---- */

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

/* A comma between two things said is only breath; one inside a number is not ours to mend. */
static bool cut(struct sentence *s, const char *words)
{
	while (*words != '\0' && s->n < WORDS) {
		size_t n = strcspn(words, " \t\r\n"), keep = n;
		while (keep > 0 && strchr(",;", words[keep - 1]) != NULL)
			keep--;
		if (keep > 0) {
			char *copy = ab_arena_alloc(s->arena, keep + 1, 1);
			if (copy == NULL)
				return false;
			memcpy(copy, words, keep);
			s->raw[s->n] = words;
			s->word[s->n++] = copy;
		}
		words += n;
		words += strspn(words, " \t\r\n");
	}
	s->more = *words != '\0';
	return true;
}

/* How many words from `at` on spell this phrase ("cold crash"); 0 when they do not. */
static size_t spells(const struct sentence *s, size_t at, const char *phrase, size_t len)
{
	size_t n = 0;

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

/* The longest of the phrases ("a|b c") that stands at `at`. empty tells whether one of them is the empty one. */
static size_t one_of(const struct sentence *s, size_t at, const char *phrases, bool *empty)
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

/* ---- values: how many words were taken, and what is written; 0 = no such value here ---- */

/* "19.5 C", "19.5C", and for a gravity a bare 1.020. */
static size_t quantity(const struct sentence *s, size_t at, enum ab_dim dim, const char **value)
{
	struct ab_quantity q;
	char why[256];
	const char *text =
	    at + 1 < s->n ? ab_arena_printf(s->arena, "%s %s", s->word[at], s->word[at + 1]) : NULL;

	if (at >= s->n)
		return 0;
	if (text != NULL && ab_quantity_read(text, dim, &q, why, sizeof why)) {
		*value = text;
		return 2;
	}
	if (ab_quantity_read(s->word[at], dim, &q, why, sizeof why)) {
		*value = s->word[at];
		return 1;
	}
	text = dim == AB_DIM_GRAVITY && strncmp(s->word[at], "1.", 2) == 0
	    ? ab_arena_printf(s->arena, "%s SG", s->word[at])
	    : NULL;
	if (text == NULL || !ab_quantity_read(text, dim, &q, why, sizeof why))
		return 0;
	*value = text;
	return 1;
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

static const char *of_list(const char *text, const char *const *words)
{
	for (; *words != NULL; words++)
		if (ab_word_cmp(text, *words) == 0)
			return *words;
	return NULL;
}

/* The longest run of words that is of the list or means one of it. */
static size_t word(const struct sentence *s, size_t at, const char *const *words, const char **value)
{
	for (size_t n = JOINED; n > 0; n--) {
		const char *text = at + n <= s->n ? s->word[at] : NULL;
		for (size_t i = 1; text != NULL && i < n; i++)
			text = ab_arena_printf(s->arena, "%s %s", text, s->word[at + i]);
		*value = text != NULL ? of_list(text, words) : NULL;
		for (size_t i = 0; text != NULL && *value == NULL && i < n_entry_aliases; i++)
			if (entry_aliases[i].words == words && ab_word_cmp(text, entry_aliases[i].said) == 0)
				*value = entry_aliases[i].word;
		if (*value != NULL)
			return n;
	}
	return 0;
}

static size_t id(const struct sentence *s, size_t at, const char **value)
{
	size_t len = at < s->n ? strlen(s->word[at]) : 0;

	if (len == 0 || len > 64 || !isalpha((unsigned char)s->word[at][0]))
		return 0;
	for (size_t i = 0; i < len; i++)
		if (!isalnum((unsigned char)s->word[at][i]) && strchr("._-", s->word[at][i]) == NULL)
			return 0;
	*value = s->word[at];
	return 1;
}

/* As it was said, commas and all. */
static size_t rest(const struct sentence *s, size_t at, const char **value)
{
	*value = at < s->n ? s->raw[at] : NULL;
	return at < s->n ? s->n - at : 0;
}

static size_t value_of(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	switch (slot->kind) {
	case ENTRY_QUANTITY:
		return quantity(s, at, slot->dim, value);
	case ENTRY_NUMBER:
		return number(s, at, value);
	case ENTRY_WORD:
		return word(s, at, slot->words, value);
	case ENTRY_ID:
		return id(s, at, value);
	case ENTRY_REST:
		return rest(s, at, value);
	case ENTRY_FIXED: case ENTRY_NONE:
		break;
	}
	return 0;
}

/* ---- slots ---- */

/* The words this slot takes from `at` on. keyed: only with its little word; else only without. */
static size_t fits(const struct sentence *s, const struct entry_slot *slot, size_t at, bool keyed,
    const char **value)
{
	bool empty;
	size_t key = one_of(s, at, slot->keys, &empty), n;

	if (slot->kind == ENTRY_FIXED) {
		*value = slot->fixed;
		return keyed ? key : 0;
	}
	if (keyed ? key == 0 : !empty)
		return 0;
	n = value_of(s, slot, at + (keyed ? key : 0), value);
	return n > 0 ? n + (keyed ? key : 0) : 0;
}

static void put(struct sentence *s, const char *attr, const char *value)
{
	const char *safe = ab_entry_escaped(s->arena, value);

	if (safe == NULL) {
		s->xml.bad = true;
		return;
	}
	if (attr != NULL)
		ab_str_addf(&s->xml, " %s=\"%s\"", attr, safe);
	ab_str_addf(&s->echo, "%s%s%s%s", s->echo.len > 0 ? ", " : "", attr != NULL ? attr : "",
	    attr != NULL ? " " : "", value);
}

static bool already(const struct sentence *s, const char *attr)
{
	for (size_t i = 0; i < ENTRY_SLOTS; i++)
		if (s->used[i] && s->row->slots[i].attr != NULL && attr != NULL &&
		    strcmp(s->row->slots[i].attr, attr) == 0)
			return true;
	return false;
}

static bool take(struct sentence *s, bool keyed, const char **content)
{
	for (size_t i = 0; i < ENTRY_SLOTS && s->row->slots[i].kind != ENTRY_NONE; i++) {
		const char *value = NULL;
		size_t n = s->used[i] || already(s, s->row->slots[i].attr)
		    ? 0
		    : fits(s, &s->row->slots[i], s->at, keyed, &value);
		if (n == 0)
			continue;
		s->used[i] = true;
		s->at += n;
		if (s->row->slots[i].kind == ENTRY_REST)
			*content = value;
		put(s, s->row->slots[i].kind == ENTRY_REST ? NULL : s->row->slots[i].attr, value);
		return true;
	}
	return false;
}

static bool pass_over(struct sentence *s)
{
	static const char *const guesses[] = { "about", "roughly", "approx", "perhaps", NULL };
	const char *word = s->word[s->at];

	for (const char *const *g = guesses; *g != NULL; g++)
		if (ab_word_cmp(word, *g) == 0) {
			s->guess = true;
			s->at++;
			return true;
		}
	for (const char *p = s->row->fillers; *p != '\0';) {
		size_t len = strcspn(p, " ");
		if (strlen(word) == len && strncasecmp(word, p, len) == 0) {
			s->at++;
			return true;
		}
		p += len + (p[len] == ' ');
	}
	return false;
}

/* ---- the whole ---- */

static const struct entry_row *row_of(struct sentence *s)
{
	const struct entry_row *best = NULL;
	bool empty;

	for (size_t i = 0; i < n_entry_rows; i++) {
		size_t n = one_of(s, 0, entry_rows[i].leads, &empty);
		if (n > s->at) {
			s->at = n;
			best = &entry_rows[i];
		}
	}
	return best;
}

static enum ab_status no_row(const struct sentence *s, struct ab_diag *diag)
{
	char list[600] = "";

	for (size_t i = 0; i < n_entry_rows; i++) {
		size_t len = strcspn(entry_rows[i].leads, "|"), used = strlen(list);
		snprintf(list + used, sizeof list - used, "%s%.*s", i > 0 ? ", " : "", (int)len,
		    entry_rows[i].leads);
	}
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "\"%.40s\" begins nothing that can be logged; a line begins with one of: %s",
	    s->n > 0 ? s->word[0] : "", list);
}

static enum ab_status misunderstood(const struct sentence *s, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "\"%.40s\" has no place in a line about %s; write it like \"%s\", or as \"note ...\"",
	    s->at < s->n ? s->word[s->at] : "", s->row->title, s->row->example);
}

static enum ab_status understand(struct sentence *s, const char **content, struct ab_diag *diag)
{
	bool any = false;

	s->row = row_of(s);
	if (s->row == NULL)
		return no_row(s, diag);
	while (s->at < s->n) {
		if (take(s, true, content) || take(s, false, content))
			any = true;
		else if (!pass_over(s))
			return misunderstood(s, diag);
	}
	if (s->more && !s->row->text)
		return misunderstood(s, diag);
	if (!any && s->row->need)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing is said about %s; write it like \"%s\"",
		    s->row->title, s->row->example);
	return AB_OK;
}

/* A note has no attribute for its time: the date goes before its words. */
static enum ab_status finish(struct sentence *s, const struct ab_when *at, const char *content,
    struct ab_entry **out, struct ab_diag *diag)
{
	struct ab_entry *entry = ab_arena_alloc(s->arena, 1, sizeof *entry);
	const char *safe = content != NULL ? ab_entry_escaped(s->arena, content) : "";
	const char *guess = s->guess && !s->row->text ? " guess=\"yes\"" : "", *attrs = ab_str_text(&s->xml);
	char when[32] = "";

	if (at->known)
		ab_when_write(at, when, sizeof when);
	if (entry == NULL || safe == NULL || !ab_str_ok(&s->xml) || !ab_str_ok(&s->echo))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	const char *time =
	    s->row->at != NULL && at->known ? ab_arena_printf(s->arena, " %s=\"%s\"", s->row->at, when) : "";
	const char *stamp =
	    strcmp(s->row->element, "note") == 0 && at->known ? ab_arena_printf(s->arena, "%s: ", when) : "";
	if (time == NULL || stamp == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	entry->element = s->row->text
	    ? ab_arena_printf(s->arena, "<%s>%s%s</%s>", s->row->element, stamp, safe, s->row->element)
	    : ab_arena_printf(s->arena, "<%s%s%s%s%s/>", s->row->element, time, s->row->fixed, attrs, guess);
	entry->echo = ab_arena_printf(s->arena, "%s%s%s%s%s%s", s->row->title, s->echo.len > 0 ? ": " : "",
	    ab_str_text(&s->echo), s->guess ? " (a guess)" : "", *time != '\0' ? ", at " : "",
	    *time != '\0' ? when : "");
	entry->name = s->row->element;
	entry->once = s->row->once;
	if (entry->element == NULL || entry->echo == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*out = entry;
	return AB_OK;
}

enum ab_status ab_entry_read(const char *words, const struct ab_when *at, struct ab_arena *arena,
    struct ab_entry **out, struct ab_diag *diag)
{
	struct sentence s = { .arena = arena };
	const char *content = NULL;
	enum ab_status st;

	*out = NULL;
	if (strlen(words) > AB_ENTRY_LIMIT)
		return ab_fail(diag, AB_ELIMIT, NULL, 0, "a line may be %d bytes long, this one has %zu",
		    AB_ENTRY_LIMIT, strlen(words));
	ab_str_init(&s.xml, 0);
	ab_str_init(&s.echo, 0);
	st = cut(&s, words) ? understand(&s, &content, diag) : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (st == AB_OK)
		st = finish(&s, at, content, out, diag);
	ab_str_clear(&s.xml);
	ab_str_clear(&s.echo);
	return st;
}

const char *ab_entry_example(size_t i)
{
	return i < n_entry_rows ? entry_rows[i].example : NULL;
}
