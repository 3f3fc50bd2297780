/* changewords.c - which change a brewer means, or which cause or touch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <stdlib.h>
#include <string.h>

#include "base/record.h"
#include "base/str.h"
#include "knowledge/compile.h"

enum { LONGEST = 48, MOST_IDS = 256 };

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool is_letter(char c)
{
	return (small(c) >= 'a' && small(c) <= 'z') || (c >= '0' && c <= '9') || (unsigned char)c >= 128;
}

/* The next word of *at into to; false at the end. */
static bool next_word(const char **at, char *to)
{
	size_t n = 0;
	while (**at != '\0' && !is_letter(**at))
		++*at;
	for (; is_letter(**at); ++*at)
		if (n + 1 < LONGEST)
			to[n++] = small(**at);
	to[n] = '\0';
	return n > 0;
}

/* Letters of a word before an ending, of which four are left at least: as many as word has where it has none. */
static size_t stem(const char *word)
{
	static const char *const endings[] = { "ing", "ed", "es", "e", "s" };
	size_t n = strlen(word);
	for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
		size_t end = strlen(endings[i]);
		if (n >= end + 4 && strcmp(word + n - end, endings[i]) == 0)
			return n - end;
	}
	return n;
}

/* They differ by an ending ("fermented", "fermenting"), or one is the beginning of the other ("cool", "cooler");
 * short words must be the same, or "in" would find "ink". */
static bool alike(const char *a, const char *b)
{
	size_t na = strlen(a), nb = strlen(b), n = na < nb ? na : nb, stems = stem(a);
	return (stems == stem(b) && strncmp(a, b, stems) == 0) ||
	    (strncmp(a, b, n) == 0 && (n >= 4 ? (na > nb ? na - nb : nb - na) <= 3 : na == nb));
}

static bool stands_in(const char *word, const char *text)
{
	char other[LONGEST];
	while (next_word(&text, other))
		if (alike(word, other))
			return true;
	return false;
}

/* Words without meaning of their own; else "the fridge" would not find "Fridge". */
static bool is_filler(const char *word)
{
	static const char *const fillers[] = { "a", "an", "the", "of", "and", "with", "my", "in", "on", "for",
	    "to", "now", "new", "use", "using", "used", "i", "we", "it", "made", "some", "did", "tried", NULL };
	for (size_t i = 0; fillers[i] != NULL; i++)
		if (strcmp(fillers[i], word) == 0)
			return true;
	return false;
}

static bool fits(const char *id, const char *title, const char *words)
{
	char word[LONGEST];
	bool any = false;
	for (; next_word(&words, word); any = any || !is_filler(word))
		if (!is_filler(word) && !stands_in(word, title) && !stands_in(word, id))
			return false;
	return any;
}

static bool holds_all(const char *text, const char *words)
{
	return fits("", text, words);
}

/* The same words, but for small ones, endings and their order. */
static bool says_the_same(const char *a, const char *b)
{
	return holds_all(a, b) && holds_all(b, a);
}

/* One by its place: a change or a cause. */
struct one { const char *id, *title; const char *const *words; size_t n_words; };
typedef struct one one_at(const struct ab_knowledge *k, size_t i);

static struct one change_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ k->changes[i].id, k->changes[i].title, k->changes[i].words, k->changes[i].n_words };
}

static struct one cause_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ .id = k->causes[i].id, .title = k->causes[i].title };
}

static struct one check_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ .id = k->checks[i].id, .title = k->checks[i].title };
}

static bool is_called(struct one one, const char *words)
{
	bool called = ab_word_cmp(one.id, words) == 0 || ab_word_cmp(one.title, words) == 0;

	for (size_t i = 0; i < one.n_words; i++)
		called = called || says_the_same(one.words[i], words);
	return called;
}

static bool is_said_of(struct one one, const char *words)
{
	bool said = false;

	for (size_t i = 0; i < one.n_words; i++)
		said = said || holds_all(one.words[i], words);
	return said;
}

/* Beyond so many ids nothing is near: rules that large have been made by a machine. */
static size_t nearest_id(const struct ab_knowledge *k, one_at *at, size_t n, const char *words, const char **near)
{
	const char *ids[MOST_IDS + 1] = { NULL }, *found;
	for (size_t i = 0; i < n && i < MOST_IDS; i++)
		ids[i] = at(k, i).id;
	found = ab_nearest(words, ids);
	if (found != NULL)
		near[0] = found;
	return found != NULL;
}

static int meant(const struct ab_knowledge *k, one_at *at, size_t count, const char *words, const char **near,
    size_t max, size_t *n_near)
{
	int found = -1;
	size_t n = 0;
	*n_near = 0;
	for (size_t i = 0; i < count; i++)
		if (is_called(at(k, i), words))
			return (int)i;
	for (size_t i = 0; i < count; i++) {
		if (!fits(at(k, i).id, at(k, i).title, words))
			continue;
		found = (int)i;
		if (n++ < max)
			near[*n_near] = at(k, i).id, ++*n_near;
	}
	if (n == 1) {
		*n_near = 0;
		return found;
	}
	for (size_t i = 0; n == 0 && *n_near < max && i < count; i++)
		if (is_said_of(at(k, i), words))
			near[(*n_near)++] = at(k, i).id;
	if (n == 0 && *n_near == 0 && max > 0)
		*n_near = nearest_id(k, at, count, words, near);
	return -1;
}

int ab_change_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max,
    size_t *n_near)
{
	return meant(k, change_at, k->n_changes, words, near, max, n_near);
}

int ab_cause_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near)
{
	return meant(k, cause_at, k->n_causes, words, near, max, n_near);
}

/* How many of the words a check has, those of its name twice: what one did is often told by how it is done. */
static int shared(const struct ab_check *c, const char *words)
{
	char word[LONGEST];
	int n = 0;
	while (next_word(&words, word))
		if (!is_filler(word))
			n += stands_in(word, c->title) || stands_in(word, c->id) ? 2
			    : c->how != NULL && stands_in(word, c->how)          ? 1
										 : 0;
	return n;
}

/* The checks that share most. */
static size_t sharing(const struct ab_knowledge *k, const char *words, const char **near, size_t max)
{
	size_t n = 0;
	int most = 1;
	for (size_t i = 0; i < ab_asked_checks(k); i++) {
		int here = shared(&k->checks[i], words);
		if (here > most)
			n = 0, most = here;
		if (here == most && n < max)
			near[n++] = k->checks[i].id;
	}
	return n;
}

int ab_check_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near)
{
	int found = meant(k, check_at, ab_asked_checks(k), words, near, max, n_near);
	if (found < 0 && *n_near == 0)
		*n_near = sharing(k, words, near, max);
	return found;
}

static bool is_touch(const struct ab_touch *t, const char *words)
{
	bool is = ab_word_cmp(t->id, words) == 0 || ab_word_cmp(t->title, words) == 0;
	for (size_t i = 0; i < t->n_words; i++)
		is = is || ab_word_cmp(t->words[i], words) == 0;
	return is;
}

int ab_touch_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near)
{
	int found = -1;
	size_t n = 0;
	*n_near = 0;
	for (size_t i = 0; i < k->n_touches; i++)
		if (is_touch(&k->touches[i], words))
			return (int)i;
	for (size_t i = 0; i < k->n_touches; i++) {
		if (!fits(k->touches[i].id, k->touches[i].title, words))
			continue;
		found = (int)i;
		if (n++ < max)
			near[(*n_near)++] = k->touches[i].title;
	}
	if (n == 1)
		*n_near = 0;
	return n == 1 ? found : -1;
}

/* ---- one word for two ---- */

enum { MOST_WORDS = 12 };

/* A word, or (word NULL) a title or an id; key: its words without their endings, in order. */
struct said { const char *key; int change; const struct raw_text *word; };

static int by_letters(const void *a, const void *b)
{
	return strcmp(a, b);
}

static const char *key_of(struct compiler *c, const char *words)
{
	char stems[MOST_WORDS][LONGEST], all[MOST_WORDS * LONGEST] = "";
	size_t n = 0, at = 0;
	while (n < MOST_WORDS && next_word(&words, stems[n]))
		if (!is_filler(stems[n])) {
			stems[n][stem(stems[n])] = '\0';
			n++;
		}
	qsort(stems, n, sizeof *stems, by_letters);
	for (size_t i = 0; i < n; i++) {
		size_t long_s = strlen(stems[i]);
		memcpy(all + at, stems[i], long_s);
		all[at + long_s] = ' ';
		at += long_s + 1;
	}
	const char *key = ab_arena_strndup(c->arena, all, at);
	c->lint->no_memory |= key == NULL;
	return key != NULL ? key : "";
}

/* Titles and ids first, then the first change that says it. */
static int by_key(const void *a, const void *b)
{
	const struct said *x = a, *y = b;
	int order = strcmp(x->key, y->key);
	if (order == 0)
		order = (x->word != NULL) - (y->word != NULL);
	return order != 0 ? order : x->change - y->change;
}

static size_t list_said(struct compiler *c, struct said *said)
{
	size_t n = 0;
	for (size_t i = 0; i < c->k->n_changes; i++) {
		const struct raw_change *raw = RAW_AT(const struct raw_change, c->all, RAW_CHANGE, i);
		const struct raw_text *words = raw->words.items;
		const struct ab_change *change = &c->k->changes[i];
		said[n++] = (struct said){ key_of(c, change->id), (int)i, NULL };
		said[n++] = (struct said){ key_of(c, change->title != NULL ? change->title : ""), (int)i, NULL };
		for (size_t j = 0; j < raw->words.n; j++)
			if (compile_text(&words[j]) != NULL)
				said[n++] = (struct said){ key_of(c, words[j].text), (int)i, &words[j] };
	}
	return n;
}

void compile_told_apart(struct compiler *c)
{
	size_t n = 2 * c->k->n_changes, first = 0;
	for (size_t i = 0; i < c->k->n_changes; i++)
		n += RAW_AT(const struct raw_change, c->all, RAW_CHANGE, i)->words.n;
	struct said *said = compile_room(c, n, sizeof *said);
	if (said == NULL)
		return;
	n = list_said(c, said);
	if (n > 0)
		qsort(said, n, sizeof *said, by_key);
	for (size_t i = 1; i < n; i++) {
		const struct ab_change *change = &c->k->changes[said[i].change];
		if (strcmp(said[i].key, said[first].key) != 0)
			first = i;
		if (said[i].word == NULL || said[i].change == said[first].change || said[i].key[0] == '\0')
			continue;
		c->file = change->file;
		compile_wrong(c, said[i].word->mark.line,
		    "the word \"%s\" of change \"%s\" names another change already", said[i].word->text, change->id);
	}
}
