/* vocabulary.c - tasting vocabulary, and places of ids
 *
 * A word is looked for as it stands first, then in a bare form that forgives spelling and grammar:
 * "Too buttery", "slightly green-apples", "sulfury", "a hint of butter", "cardboard taste". When the bare form fits
 * two faults, neither is taken and both are named.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/knowledge.h>

#include <assert.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/record.h"
#include "base/str.h"
#include "knowledge/compile.h"
#include "knowledge/wordforms.h"

enum { SHORTEST_INSIDE = 4 };

/* ---- ids ---- */

/* A plain walk: ids are looked up a few times a run; the words of journals have the sorted list. */
#define FIND(name, array, count) \
	int name(const struct ab_knowledge *k, const char *id) \
	{ \
		for (size_t i = 0; i < k->count; i++) \
			if (k->array[i].id != NULL && strcmp(k->array[i].id, id) == 0) \
				return (int)i; \
		return -1; \
	}

FIND(ab_fault_find, faults, n_faults)
FIND(ab_cause_find, causes, n_causes)
FIND(ab_change_find, changes, n_changes)
FIND(ab_check_find, checks, n_checks)
FIND(ab_touch_find, touches, n_touches)
FIND(ab_family_find, families, n_families)
FIND(ab_yeast_find, norms.yeasts, norms.n_yeasts)

const char *ab_change_title(const struct ab_knowledge *k, const char *id)
{
	int place = ab_change_find(k, id);
	return place >= 0 ? k->changes[place].title : id;
}

/* 1 for an unknown family: the fault then weighs what it weighs for everybody. */
double ab_family_factor(const struct ab_knowledge *k, int family, int fault)
{
	const struct ab_family *f = family >= 0 && (size_t)family < k->n_families
	    ? &k->families[family] : NULL;
	for (size_t i = 0; f != NULL && i < f->n_hurts; i++)
		if (f->hurts[i].fault == fault)
			return f->hurts[i].factor;
	return 1;
}

/* ---- looking ---- */

typedef bool fits(const char *word, const char *listed);

static bool same(const char *word, const char *listed)
{
	return ab_word_cmp(word, listed) == 0;
}

/* word is bare already. */
static bool same_bare(const char *word, const char *listed)
{
	char bare[WORDFORMS_BARE];
	wordforms_bare(listed, bare);
	return bare[0] != '\0' && strcmp(bare, word) == 0;
}

/* Is the listed word inside the longer word? Both end on letters' borders: "old cardboard taste" holds
 * "cardboard". SHORTEST_INSIDE keeps short words out: "tar" or "egg" would be found in much that means
 * something else. */
static bool inside(const char *word, const char *listed)
{
	char bare[WORDFORMS_BARE];
	wordforms_bare(listed, bare);
	size_t len = strlen(bare);
	const char *at = len < SHORTEST_INSIDE ? NULL : strstr(word, bare);
	return at != NULL && (at == word || at[-1] == ' ');
}

/* Id and title are words like any other: a program writes the one, a reader of the report the other. */
static bool fault_has(const struct ab_fault *f, const char *word, fits *fit)
{
	if (fit(word, f->id) || fit(word, f->title))
		return true;
	for (size_t i = 0; i < f->n_words; i++)
		if (fit(word, f->words[i]))
			return true;
	return false;
}

struct near { const char **list; size_t max, n; };

static void add_near(struct near *near, const char *name)
{
	if (near->n >= near->max)
		return;
	for (size_t i = 0; i < near->n; i++)
		if (strcmp(near->list[i], name) == 0)
			return;
	near->list[near->n++] = name;
}

/* The only fault that fits, or -1; all that fit go to near. A word that fits two faults is taken for
 * neither: a guess would go into the odds as if it had been tasted. */
static int only_fit(const struct ab_knowledge *k, const char *word, fits *fit, struct near *near)
{
	assert(fit != NULL && near != NULL);
	int found = -1;
	size_t n = 0;
	for (size_t i = 0; i < k->n_faults; i++)
		if (fault_has(&k->faults[i], word, fit)) {
			found = (int)i;
			n++;
			add_near(near, k->faults[i].id);
		}
	return n == 1 ? found : -1;
}

static const char *like_of(const struct ab_fault *f, const char *word)
{
	const char *own[] = { f->id, f->title, NULL };
	const char *like = ab_nearest(word, own);
	return like == NULL && f->n_words > 0 ? ab_nearest(word, f->words) : like;
}

/* "an-ti septic" as one word: where it is parted is no matter of spelling. False when it is one, or too long. */
static bool join(const char *word, char *joined, size_t size)
{
	size_t n = 0;
	for (const char *c = word; *c != '\0'; c++)
		if (strchr(" -_", *c) == NULL) {
			if (n + 1 == size)
				return false;
			joined[n++] = *c;
		}
	joined[n] = '\0';
	return word[n] != '\0';
}

/* Only shown, never taken: a word two letters off may be another word. */
static void add_lookalikes(const struct ab_knowledge *k, const char *word, struct near *near)
{
	char joined[64];
	bool parted = join(word, joined, sizeof joined);
	for (size_t i = 0; i < k->n_faults; i++) {
		const char *like = like_of(&k->faults[i], word);
		like = like == NULL && parted ? like_of(&k->faults[i], joined) : like;
		if (like != NULL)
			add_near(near, like);
	}
}

/* ---- the sorted list: nearly every word is in it, and every journal has some ---- */

static int by_word(const void *a, const void *b)
{
	return ab_word_cmp(((const struct ab_spoken *)a)->word, ((const struct ab_spoken *)b)->word);
}

static void add_spoken(struct ab_knowledge *k, const char *word, size_t fault)
{
	if (word != NULL)
		k->spoken[k->n_spoken++] = (struct ab_spoken){ word, (int)fault };
}

/* Where a word stands among those that are spelled alike, or the empty place where it would. */
static unsigned *place_of(const struct ab_knowledge *k, const char *word)
{
	size_t at = ab_word_sum(word) & (k->n_spoken_at - 1);
	while (k->spoken_at[at] != 0 && ab_word_cmp(k->spoken[k->spoken_at[at] - 1].word, word) != 0)
		at = (at + 1) & (k->n_spoken_at - 1);
	return &k->spoken_at[at];
}

/* At least half of the places stay empty, so that searches are short. */
static void compile_places(struct compiler *c)
{
	struct ab_knowledge *k = c->k;
	size_t n = 2;
	assert(k->n_spoken < UINT_MAX);
	while (n < 2 * k->n_spoken)
		n *= 2;
	k->spoken_at = compile_room(c, n, sizeof *k->spoken_at);
	k->n_spoken_at = n;
	for (size_t i = 0; k->spoken_at != NULL && i < k->n_spoken; i++) {
		unsigned *place = place_of(k, k->spoken[i].word);
		if (*place == 0)
			*place = (unsigned)(i + 1);
	}
}

/* All words of all faults in one sorted list, and places for them, because this is the one search that runs for every
 * fault of every journal of a long history. */
void compile_spoken(struct compiler *c)
{
	struct ab_knowledge *k = c->k;
	size_t n = 0;
	for (size_t i = 0; i < k->n_faults; i++)
		n += 2 + k->faults[i].n_words;
	k->spoken = compile_room(c, n, sizeof *k->spoken);
	for (size_t i = 0; k->spoken != NULL && i < k->n_faults; i++) {
		add_spoken(k, k->faults[i].id, i);
		add_spoken(k, k->faults[i].title, i);
		for (size_t j = 0; j < k->faults[i].n_words; j++)
			add_spoken(k, k->faults[i].words[j], i);
	}
	if (k->n_spoken > 0)
		qsort(k->spoken, k->n_spoken, sizeof *k->spoken, by_word);
	if (k->spoken != NULL)
		compile_places(c);
}

/* Place + 1 of the first word spelled so, 0 when there is none. A list that was made by hand has no places. */
static size_t first_spelled(const struct ab_knowledge *k, const char *word)
{
	if (k->n_spoken_at > 0)
		return *place_of(k, word);
	for (size_t i = 0; i < k->n_spoken; i++)
		if (ab_word_cmp(k->spoken[i].word, word) == 0)
			return i + 1;
	return 0;
}

/* The fault of a listed word; -1 when it is not listed, or for more than one. */
static int spoken_fault(const struct ab_knowledge *k, const char *word)
{
	size_t place = first_spelled(k, word);
	if (place == 0)
		return -1;
	const struct ab_spoken *hit = &k->spoken[place - 1], *end = k->spoken + k->n_spoken;
	for (const struct ab_spoken *next = hit + 1; next < end && ab_word_cmp(next->word, word) == 0; next++)
		if (next->fault != hit->fault)
			return -1;
	return hit->fault;
}

/* From the strict to the forgiving, and the first that finds anything decides: a looser match must
 * never overrule a stricter one. near holds what was ambiguous, and then nothing looser is tried. */
static int unlisted_fault(const struct ab_knowledge *k, const char *word, struct near *near)
{
	char bare[WORDFORMS_BARE], small[WORDFORMS_BARE];
	int found = only_fit(k, word, same, near);
	wordforms_bare(word, bare);
	wordforms_small(word, small, sizeof small);
	/* "A little fizz" is the listed "little fizz", no fizz that there is a little too much of. */
	if (found < 0 && near->n == 0 && (strncmp(small, "a ", 2) == 0 || strncmp(small, "an ", 3) == 0))
		found = only_fit(k, strchr(small, ' ') + 1, same, near);
	if (found < 0 && near->n == 0)
		found = only_fit(k, bare, same_bare, near);
	if (found < 0 && near->n == 0) {
		add_lookalikes(k, word, near);
		if (!wordforms_denies(small))
			only_fit(k, bare, inside, near);
	}
	return found;
}

int ab_opposite_word(const struct ab_knowledge *k, const char *word)
{
	char bare[WORDFORMS_BARE];
	wordforms_bare(word, bare);
	for (size_t i = 0; i < k->n_faults; i++)
		for (size_t j = 0; j < k->faults[i].n_opposites; j++)
			if (same_bare(bare, k->faults[i].opposites[j]))
				return (int)i;
	return -1;
}

int ab_fault_word(const struct ab_knowledge *k, const char *word, const char **near_list, size_t max,
    size_t *n_near)
{
	struct near near = { near_list, near_list == NULL ? 0 : max, 0 };
	int found = spoken_fault(k, word);
	if (found < 0)
		found = unlisted_fault(k, word, &near);
	/* Nothing is near the opposite of a fault: to offer the fault would turn the meaning round. */
	if (n_near != NULL)
		*n_near = found >= 0 || ab_opposite_word(k, word) >= 0 ? 0 : near.n;
	return found;
}
