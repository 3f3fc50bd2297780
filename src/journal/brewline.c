/* brewline.c - what a beer brewed again and again has to say before it is brewed again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/newbatch.h>

#include <string.h>

#include "base/str.h"

static bool is_called(const struct ab_batch *b, const char *name, struct ab_arena *arena)
{
	const char *stem = ab_newbatch_stem(arena, b->id);

	return (b->line != NULL && ab_word_cmp(b->line, name) == 0) ||
	    (b->title != NULL && ab_word_cmp(b->title, name) == 0) || (stem != NULL && ab_word_cmp(stem, name) == 0);
}

const struct ab_batch *ab_line_find(struct ab_batch *const *batches, size_t n, const char *name,
    struct ab_arena *arena)
{
	for (size_t i = n; i-- > 0;)
		if (is_called(batches[i], name, arena))
			return batches[i];
	return NULL;
}

bool ab_line_same(const struct ab_batch *a, const struct ab_batch *b)
{
	return a == b || (a->line != NULL && b->line != NULL && strcmp(a->line, b->line) == 0);
}

const char *ab_line_next_time(struct ab_batch *const *batches, size_t n, const struct ab_batch *b,
    const struct ab_batch **of)
{
	*of = NULL;
	for (size_t i = n; i-- > 0;) {
		const char *told = NULL;
		if (!ab_line_same(batches[i], b))
			continue;
		/* Tastings stand in the order they were written: the last is the newest thought. */
		for (AB_EACH(const struct ab_tasting, t, batches[i]->tastings))
			if (t->next_time != NULL && t->next_time[0] != '\0')
				told = t->next_time;
		if (told != NULL) {
			*of = batches[i];
			return told;
		}
	}
	return NULL;
}

static bool was_tasted_since(struct ab_batch *const *batches, size_t n, const struct ab_changed *c)
{
	for (size_t i = 0; i < n; i++) {
		const struct ab_batch *b = batches[i];
		bool of_line = c->line == NULL || (b->line != NULL && strcmp(b->line, c->line) == 0);
		if (of_line && b->brewed.s >= c->on.s && b->tastings.n > 0)
			return true;
	}
	return false;
}

/* Newest first; the oldest falls out when there is no more room. */
static size_t put_in(const struct ab_changed **out, size_t n, size_t max, const struct ab_changed *c)
{
	size_t at = n;

	while (at > 0 && out[at - 1]->on.s < c->on.s)
		at--;
	if (at >= max)
		return n;
	n += n < max;
	for (size_t i = n - 1; i > at; i--)
		out[i] = out[i - 1];
	out[at] = c;
	return n;
}

size_t ab_line_on_trial(const struct ab_profile *profile, struct ab_batch *const *batches, size_t n,
    const char *line, const struct ab_when *on, const struct ab_changed **out, size_t max)
{
	size_t found = 0;

	if (profile == NULL)
		return 0;
	for (AB_EACH(const struct ab_changed, c, profile->changed)) {
		bool for_line = c->line == NULL || (line != NULL && strcmp(line, c->line) == 0);
		if (!for_line || !c->on.known || c->on.s > on->s || was_tasted_since(batches, n, c))
			continue;
		found = put_in(out, found, max, c);
	}
	return found;
}
