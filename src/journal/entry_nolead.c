/* entry_nolead.c - why a line begins nothing that can be logged, and what would
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <string.h>

#include "base/spelled.h"
#include "base/str.h"

/* "a", "a" or "b". */
static const char *listed(const struct sentence *s, const char *const *ways, size_t n)
{
	const char *list = "";

	for (size_t i = 0; list != NULL && i < n; i++) {
		list = ab_arena_printf(s->arena, "%s%s\"%.200s\"", list,
		    i == 0           ? ""
			: i + 1 == n ? " or "
				     : ", ",
		    ways[i]);
		entry_offer(s, ways[i]);
	}
	return list;
}

bool entry_is_elsewise(const struct sentence *s, size_t from, size_t to)
{
	static const char words[] =
	    "will would should could shall must might want wants wanted need needs needed plan plans planned "
	    "planning going gonna bought buy buying "
	    "ordered order costs cost if unless tomorrow next soon later he she they friend friends other others";

	for (size_t i = from; i < to && i < s->n; i++)
		if (entry_is_filler(words, s->word[i]))
			return true;
	return false;
}

bool entry_asks_back(const struct sentence *s)
{
	size_t len = s->n > 0 ? strlen(s->word[s->n - 1]) : 0;

	return len > 0 && !s->more && s->word[s->n - 1][len - 1] == '?';
}

/* What is to come, of others, or asked: kept as a note, and as nothing else. */
static const char *elsewise(const struct sentence *s)
{
	const char *note = ab_arena_printf(s->arena, "note %s", s->said);

	entry_offer(s, note);
	return ab_arena_printf(s->arena,
	    "\"%.60s\" does not plainly tell of what happened to this beer, and only that is logged; write "
	    "\"note %.200s\"",
	    s->said, s->said);
}

const char *entry_denied(const struct sentence *s)
{
	if (!ab_denies(s->said))
		return elsewise(s);
	entry_offer(s, ab_arena_printf(s->arena, "note %s", s->said));
	return ab_arena_printf(s->arena,
	    "\"%.60s\" tells of what is not so, and only what happened is logged; write \"note %.200s\"", s->said,
	    s->said);
}

/* What was said, and the ways it may be written: NULL when memory is short. */
static const char *offered(const struct sentence *s, const char *const *ways, size_t n, const char *said,
    const char *asks, const char *end)
{
	const char *list = n == ENTRY_NOMEM ? NULL : listed(s, ways, n);

	return list == NULL ? NULL : ab_arena_printf(s->arena, "\"%.60s\" %s %s%s", said, asks, list, end);
}

static const char *kept_as(const struct sentence *s, const char *line)
{
	return ab_arena_printf(s->arena,
	    "\"%.*s\" begins nothing that can be logged. Example: %.300s (which keeps it as a note)",
	    (int)strcspn(s->raw[s->at], ",;:"), s->raw[s->at], line);
}

static const char *for_taste(const struct sentence *s)
{
	const char *note = ab_arena_printf(s->arena, "note %.200s", s->raw[s->at]);

	entry_offer(s, note);
	return note == NULL ? NULL
			    : ab_arena_printf(s->arena,
				  "what a beer smells and tastes of is told to \"afterboil taste\", in its own words "
				  "(\"rotten eggs 2\"), once it can be judged; of beer that still ferments write "
				  "\"%.200s\"",
				  note);
}

/* With the words before that say nothing by themselves: "took it out of the tub". */
static const char *begins_nothing(const struct sentence *s, const char *near)
{
	if (s->at < s->n)
		entry_offer(s, ab_arena_printf(s->arena, "note %s", s->raw[0]));
	return ab_arena_printf(s->arena,
	    "\"%.40s\" begins nothing that can be logged%s%s%s. Example: note %.60s (kept in your own words; "
	    "\"afterboil log\" lists all that can be logged)",
	    s->n > 0 ? s->word[0] : "", near != NULL ? "; nearest is \"" : "", near != NULL ? near : "",
	    near != NULL ? "\"" : "", s->at < s->n ? s->raw[0] : "...");
}

const char *entry_no_lead(const struct sentence *s)
{
	const char *ways[AB_ENTRY_WAYS], *near, *line;

	if (ab_denies(s->said) || entry_is_elsewise(s, 0, entry_breath_end(s, s->at)))
		return entry_denied(s);
	size_t n = entry_ways(s, ways);
	if (n > 0)
		return offered(s, ways, n, s->raw[s->at], "may be about more than one thing; write", "");
	const char *word = s->at < s->n ? s->word[s->at] : "";
	n = entry_near_leads(s, ways, &near);
	if (n > 0)
		return offered(s, ways, n, word, "begins nothing that can be logged; did you mean", "?");
	if (entry_without(s, &line) == AB_ENOMEM)
		return NULL;
	n = line == NULL ? entry_shorter(s, ways) : 0;
	if (n > 0)
		return offered(s, ways, n, s->raw[s->at], "is not understood as a whole; write", "");
	entry_offer(s, line);
	if (line != NULL)
		return kept_as(s, line);
	if (s->at < s->n && entry_is_filler("smells smelled smelt tastes tasted", word))
		return for_taste(s);
	return begins_nothing(s, near != NULL && ab_word_cmp(near, word) != 0 ? near : NULL);
}
