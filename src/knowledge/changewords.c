/* changewords.c - which change a brewer means, or which cause or touch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <string.h>

#include "base/record.h"
#include "base/str.h"

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

/* One is the beginning of the other, so that "bottle" finds "bottles" and the other way round; short words
 * must be the same, or "in" would find "ink". */
static bool alike(const char *a, const char *b)
{
	size_t na = strlen(a), nb = strlen(b), n = na < nb ? na : nb;
	return strncmp(a, b, n) == 0 && (n >= 4 ? (na > nb ? na - nb : nb - na) <= 3 : na == nb);
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
	    "to", "now", "new", "use", "using", "used", NULL };
	for (size_t i = 0; fillers[i] != NULL; i++)
		if (strcmp(fillers[i], word) == 0)
			return true;
	return false;
}

static bool fits(const char *id, const char *title, const char *words)
{
	char word[LONGEST];
	bool any = false;
	while (next_word(&words, word)) {
		if (is_filler(word))
			continue;
		any = true;
		if (!stands_in(word, title) && !stands_in(word, id))
			return false;
	}
	return any;
}

/* One by its place: a change or a cause. */
struct one { const char *id, *title; };
typedef struct one one_at(const struct ab_knowledge *k, size_t i);

static struct one change_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ k->changes[i].id, k->changes[i].title };
}

static struct one cause_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ k->causes[i].id, k->causes[i].title };
}

static struct one check_at(const struct ab_knowledge *k, size_t i)
{
	return (struct one){ k->checks[i].id, k->checks[i].title };
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
		if (ab_word_cmp(at(k, i).id, words) == 0 || ab_word_cmp(at(k, i).title, words) == 0)
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
	if (n == 0 && max > 0)
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

int ab_check_word(const struct ab_knowledge *k, const char *words, const char **near, size_t max, size_t *n_near)
{
	return meant(k, check_at, ab_asked_checks(k), words, near, max, n_near);
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
