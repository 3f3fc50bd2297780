/* entry_next.c - where the next sentence of a line begins, and what it is about when it does not say
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_read.h"

#include <string.h>

#include "base/spelled.h"

size_t entry_ways_meant(const struct sentence *s, const struct ab_when *now, const char *ways[AB_ENTRY_WAYS])
{
	enum { DAY = 86400 };
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;
	/* What was not done is not read as done. */
	size_t n = ab_denies(s->said) || entry_is_elsewise(s, 0, entry_breath_end(s, s->at)) ? 0 : entry_ways(s, ways);
	/* A gravity from the day after pitching on is none of before. */
	bool later = pitched != NULL && pitched->known && !pitched->relative && now->known && !now->relative &&
	    now->s > pitched->s + DAY;

	return later && n == 2 && strncmp(ways[0], "gravity ", 8) == 0 && strncmp(ways[1], "og ", 3) == 0 ? 1 : n;
}

/* "fermenting at 67, basement 63": what is said up to the next comma, where that alone makes a line, its lead put
 * before it; the next line will ask where it may be two. */
static enum ab_status without_lead(const struct sentence *s, size_t at, const struct ab_when *now, const char **next)
{
	struct sentence piece = { .arena = s->arena, .help = s->help, .trying = s->trying };
	const char *ways[AB_ENTRY_WAYS];
	size_t end = entry_breath_end(s, at);
	const char *words = ab_arena_strndup(
	    s->arena, s->raw[at], end < s->n ? (size_t)(s->raw[end] - s->raw[at]) : strlen(s->raw[at]));

	if (words == NULL || !entry_cut(&piece, words))
		return AB_ENOMEM;
	/* "pitched 1 pack, 3 hours after the boil": a length of time belongs to what was said before, if to
	 * anything. */
	if (entry_has_time(&piece))
		return AB_OK;
	size_t n = entry_ways_meant(&piece, s->when.known ? &s->when : now, ways);
	if (n == ENTRY_NOMEM)
		return AB_ENOMEM;
	if (n == 1)
		*next = ab_arena_printf(
		    s->arena, "%s%s%s", ways[0], end < s->n ? ", " : "", end < s->n ? s->raw[end] : "");
	else if (n > 1)
		*next = s->raw[at];
	return n == 1 && *next == NULL ? AB_ENOMEM : AB_OK;
}

/* "kegged at 12 psi": the gas is told of; but of what a keg was purged at nobody knows which pressure is which. */
static bool begins_then(const struct sentence *s, const struct entry_row *row)
{
	const struct entry_slot told = { ENTRY_QUANTITY, "", "", row->then_dim, NULL, NULL, 0, 0, NULL };
	const char *value;
	bool empty;

	for (size_t i = s->lead; row->then != NULL && i < s->at; i++)
		if (entry_is_filler(row->never, s->word[i]))
			return false;
	return row->then != NULL &&
	    entry_value(s, &told, s->at + entry_one_of(s, s->at, "at|set to|set at", &empty), &value) > 0;
}

enum { DEEPEST = 2 };
enum ab_status entry_next_begins(const struct sentence *s, const struct ab_when *now, struct entry_ahead *next)
{
	static const char joints[] = "and then + & plus also";
	const struct entry_row *row = s->part[0].row;
	size_t at = s->at, n;
	bool joint = s->breath[at];
	enum ab_status st = AB_OK;

	for (; at < s->n && entry_is_filler(joints, s->word[at]); at++)
		joint = true;
	/* "19 L into the fermenter at 1.046" */
	bool gravity =
	    !joint && entry_is_filler("at", s->word[at]) && entry_is_gravity(s, at + 1) && !entry_would_take(s, at);
	at += gravity;
	joint = joint || gravity;
	/* What is boiled for the bottles is the sugar. */
	if (strcmp(row->element, "package") == 0 && at < s->n && entry_is_filler("boiled dissolved", s->word[at]))
		return AB_OK;
	bool then = begins_then(s, row);
	if (then && (next->words = ab_arena_printf(s->arena, "%s %s", row->then, s->raw[s->at])) == NULL)
		return AB_ENOMEM;
	if (then) {
		next->head = ab_arena_printf(s->arena, "%.*s", (int)(s->raw[s->at] - s->said), s->said);
		return next->head != NULL ? AB_OK : AB_ENOMEM;
	}
	if (!joint || at >= s->n || (!s->part[0].any && row->need) ||
	    (row->text && row->slots[0].kind != ENTRY_BREATH) || entry_would_take(s, at))
		return AB_OK;
	bool more = row->inside != NULL &&
	    (strchr("0123456789.", s->word[at][0]) != NULL || ab_number_spelled(s->word[at]) != NULL);
	if (entry_row_at(s, at, &n) != NULL) {
		next->words = s->raw[at];
	} else if (more) {
		next->words =
		    ab_arena_printf(s->arena, "%.*s %s", (int)strcspn(row->leads, "|"), row->leads, s->raw[at]);
		st = next->words != NULL ? AB_OK : AB_ENOMEM;
	} else if (gravity && (strcmp(row->element, "recipe") == 0 || strcmp(row->element, "pitch") == 0)) {
		/* What goes in has its original one. */
		next->words = ab_arena_printf(s->arena, "og %s", s->raw[at]);
		st = next->words != NULL ? AB_OK : AB_ENOMEM;
	} else if (s->trying < DEEPEST) {
		st = without_lead(s, at, now, &next->words);
	}
	next->head = next->words == NULL
	    ? NULL
	    : ab_arena_printf(
		  s->arena, "%.*s%s", (int)(s->raw[gravity ? s->at : at] - s->said), s->said, gravity ? ", " : "");
	return next->words != NULL && next->head == NULL ? AB_ENOMEM : st;
}
