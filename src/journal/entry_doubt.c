/* entry_doubt.c - what a line of plain words lacks, and how it would be right
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_lone.h"

#include <string.h>

#include "base/spelled.h"

/* Does any slot take what stands there? */
static bool is_taken(const struct sentence *s, size_t at)
{
	const char *value;
	bool empty;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			if (entry_one_of(s, at, slot->keys, &empty) > 0 ||
			    (empty && entry_value(s, slot, at, &value) > 0))
				return true;
		}
	return false;
}

/* The slot of a class that is not told yet, where those there are can be named. */
static bool lacks_class(const struct sentence *s)
{
	for (size_t p = 0; s->help != NULL && s->help->choice != NULL && p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			if (slot->kind == ENTRY_ID && strcmp(slot->attr, "class") == 0 && !s->part[p].used[i])
				return true;
		}
	return false;
}

/* A name as it stands on a packet, of one word or more: it is no class, and those there are may be what is meant. */
static const char *no_class(const struct sentence *s)
{
	struct entry_lone l = { .at = s->at, .n = 1 };
	const char *first = NULL, *way;

	while (s->at + l.n < s->n && !is_taken(s, s->at + l.n) &&
	    !entry_is_filler(s->part[0].row->fillers, s->word[s->at + l.n]))
		l.n++;
	const char *shown = entry_joined(s, l.at, l.n);
	/* With its name, by which the next brew will know the class. A slip for a class is none. */
	bool named = shown != NULL && strcspn(shown, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") < strlen(shown);
	for (size_t i = 0; (way = s->help->choice(s->help->ctx, "class", i)) != NULL; i++) {
		const char *text = named ? ab_arena_printf(s->arena, "%s called %s", way, shown) : way,
			   *line = text != NULL ? entry_instead(s, &l, text) : NULL;
		enum ab_status st = line == NULL ? AB_ENOMEM : named ? entry_understood(s, line) : AB_OK;
		/* What no name can be, or the rest of the line, makes it no line: then as before. */
		line = st == AB_EUSAGE ? entry_instead(s, &l, way) : st == AB_OK ? line : NULL;
		if (line == NULL)
			return NULL;
		first = first != NULL ? first : line;
		entry_offer(s, line);
	}
	return shown == NULL
	    ? NULL
	    : ab_arena_printf(s->arena,
		  "\"%.60s\" is no class of yeast, and has no place in a line about %s. Example: %s (its class "
		  "once, with its name, and it is known by that from then on; \"afterboil rules list yeasts\" "
		  "lists the classes)",
		  shown, s->part[0].row->title, first != NULL ? first : entry_example_of(s));
}

/* "dry hop 60 g, 4 days": what stands there lacks only the little word it would be taken with. NULL: it does not,
 * or memory is short. */
static const char *lacks_its_word(const struct sentence *s, bool *nomem)
{
	static const char little[] = "for with at to in into";
	const char *value, *ways = "", *shown = s->word[s->at];

	/* "after 2 weeks" has one already, and another would say something else. */
	for (size_t p = s->taken == s->at ? 0 : s->n_parts; p < s->n_parts; p++)
		for (size_t i = 0; !*nomem && i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			size_t n = slot->kind != ENTRY_QUANTITY || s->part[p].used[i] || *slot->keys == '\0'
			    ? 0
			    : entry_value(s, slot, s->at, &value);
			const char *key =
			    n == 0 ? NULL : ab_arena_strndup(s->arena, slot->keys, strcspn(slot->keys, "|"));
			*nomem = n > 0 && key == NULL;
			if (key == NULL || !entry_is_filler(little, key))
				continue;
			shown = n < 3 ? entry_joined(s, s->at, n) : shown;
			const struct entry_lone l = { .at = s->at, .n = 1 };
			const char *text = ab_arena_printf(
			    s->arena, "%s %.*s", key, (int)strcspn(s->raw[s->at], " \t,;"), s->raw[s->at]);
			const char *line = text != NULL ? entry_instead(s, &l, text) : NULL;
			enum ab_status st = line != NULL ? entry_understood(s, line) : AB_ENOMEM;
			if (st == AB_OK) {
				ways = ab_arena_printf(
				    s->arena, "%s%s\"%.200s\"", ways, *ways != '\0' ? " or " : "", line);
				entry_offer(s, line);
			}
			*nomem = st == AB_ENOMEM || ways == NULL;
		}
	return *nomem || *ways == '\0'
	    ? NULL
	    : ab_arena_printf(
		  s->arena, "\"%s\" has no little word that tells of what it is; write %s", shown, ways);
}

/* The line with another word in that place. */
static const char *put_right(const struct sentence *s, size_t at, const char *word)
{
	const struct entry_lone l = { .at = at, .n = 1 };

	return entry_instead(s, &l, word);
}

/* A word mistyped: the whole line with what it may have been meant for. */
static const char *slip(const struct sentence *s, size_t at, const char *way)
{
	entry_offer(s, way);
	return ab_arena_printf(s->arena, "\"%.40s\" has no place in a line about %s; did you mean \"%.200s\"?",
	    s->word[at], s->part[0].row->title, way);
}

/* "overnight": what stands there may mean two things; NULL when it does not. */
static const char *two_meanings(const struct sentence *s, bool *nomem)
{
	bool empty;

	*nomem = false;
	for (size_t i = 0; i < n_entry_asks; i++) {
		struct entry_lone l = { .at = s->at };
		l.n = strcmp(entry_asks[i].element, s->part[0].row->element) == 0
		    ? entry_one_of(s, s->at, entry_asks[i].said, &empty)
		    : 0;
		if (l.n == 0)
			continue;
		const char *a = entry_instead(s, &l, entry_asks[i].ways[0]),
			   *b = entry_instead(s, &l, entry_asks[i].ways[1]);
		const char *shown = entry_joined(s, l.at, l.n),
			   *text = a == NULL || b == NULL || shown == NULL
		    ? NULL
		    : ab_arena_printf(
			  s->arena, "%s: %s? Write \"%.200s\" or \"%.200s\"", shown, entry_asks[i].which, a, b);
		entry_offer(s, a);
		entry_offer(s, b);
		*nomem = text == NULL;
		return text;
	}
	return NULL;
}

/* "bucket 20": how warm it is, or how many litres? NULL when it is not that, or memory is short. */
static const char *litres_or_degrees(const struct sentence *s, const char *called, bool *nomem)
{
	struct entry_lone l;

	if (s->at + 1 != s->n || !entry_lone_at(s, s->at, &l) || *l.tail != '\0' || l.thousands ||
	    entry_lone_gravity(&l) || s->said != s->raw[0] || s->at != s->lead)
		return NULL;
	const char *warm = ab_arena_printf(s->arena, "%s at %s C", called, l.number),
		   *beer = ab_arena_printf(s->arena, "volume %s L", l.number);
	const char *vessel = ab_arena_printf(s->arena, "fermenter %s %s L", called, l.number);
	const char *text = warm == NULL || beer == NULL || vessel == NULL
	    ? NULL
	    : ab_arena_printf(s->arena,
		  "\"%.40s\" may be how warm it is, how much beer "
		  "there is, or how large the vessel is; write \"%s\", \"%s\" or \"%s\"",
		  l.shown, warm, beer, vessel);
	entry_offer(s, warm);
	entry_offer(s, beer);
	entry_offer(s, vessel);
	*nomem = text == NULL;
	return text;
}

/* "bucket, about 5 gallons": how large it is, or how much beer is in it? NULL when it is not that, or memory is
 * short. */
static const char *which_size(const struct sentence *s, bool *nomem)
{
	static const struct entry_slot volume = { ENTRY_QUANTITY, "", "", AB_DIM_VOLUME, NULL, NULL, 0, 0, NULL };
	const char *value = NULL, *called = s->lead > 0 ? s->word[s->lead - 1] : "";

	*nomem = false;
	if (s->at >= s->n || s->part[0].any || !entry_is_filler("bucket carboy", called))
		return NULL;
	if (entry_value(s, &volume, s->at, &value) == 0)
		return litres_or_degrees(s, called, nomem);
	const char *about = s->guess || s->about ? "about " : "";
	const char *beer = ab_arena_printf(s->arena, "volume %s%s", about, s->raw[s->at]);
	const char *vessel =
	    ab_arena_printf(s->arena, "fermenter %s %s%s", called, about, s->raw[s->at]);
	const char *text = beer == NULL || vessel == NULL
	    ? NULL
	    : ab_arena_printf(s->arena,
		  "%s: how much beer there is, or how large the vessel is? Write "
		  "\"%.200s\" or \"%.200s\"",
		  value, beer, vessel);
	entry_offer(s, beer);
	entry_offer(s, vessel);
	*nomem = text == NULL;
	return text;
}

const char *entry_doubt(const struct sentence *s)
{
	struct entry_open slots[ENTRY_SLOTS];
	const char *word = s->at < s->n ? s->word[s->at] : "";
	struct entry_lone l;
	size_t n = 0;

	if (s->at < s->n && ab_denies(s->raw[s->at]))
		return entry_denied(s);
	bool nomem;
	const char *which = two_meanings(s, &nomem);
	if (which == NULL && !nomem)
		which = which_size(s, &nomem);
	if (which != NULL || nomem)
		return which;
	/* "at 19": the number is behind a little word. */
	bool keyed = !entry_lone_at(s, s->at, &l) && s->at + 1 < s->n && entry_lone_at(s, s->at + 1, &l);
	if (l.number != NULL)
		n = entry_open_slots(s, s->at, keyed, slots);
	if (!keyed && l.number != NULL && s->at + 1 < s->n && (ab_word_cmp(s->word[s->at + 1], "bottles") == 0 ||
	    ab_word_cmp(s->word[s->at + 1], "x") == 0))
		return ab_arena_printf(s->arena,
		    "how many bottles there were is nothing a journal holds; write how much beer there was "
		    "(\"bottled 19 "
		    "L with 120 g sucrose\"), and the bottles as \"note %s bottles\"",
		    word);
	if (n > 0 && l.thousands)
		return entry_which_number(s, &l);
	if (n > 0 && !entry_has_unit(s, &l) && entry_lone_gravity(&l) &&
	    strstr(s->part[0].row->leads, "gravity") == NULL)
		return entry_a_gravity(s, &l);
	const char *worded = s->at < s->n ? lacks_its_word(s, &nomem) : NULL;
	if (worded != NULL || nomem)
		return worded;
	if (n > 0)
		return entry_has_unit(s, &l) ? entry_wrong_unit(s, &l, slots, n) : entry_no_unit(s, &l, slots, n);
	/* "a pack past its date" names no class. */
	bool other = s->at < s->n &&
	    (ab_unit_spelled(AB_DIM_PACKS, word) != NULL ||
		entry_is_filler("pack packet was past date old fresh cold warm last next morning", word));
	if (!other && !entry_lone_at(s, s->at, &l) && lacks_class(s))
		return no_class(s);
	size_t at = s->at;
	const char *near = entry_near(s, at);
	/* "by sifon": behind the little word. */
	near = near != NULL ? near : entry_near(s, ++at);
	const char *way = near != NULL ? put_right(s, at, near) : NULL;
	enum ab_status st = near == NULL ? AB_EUSAGE : way != NULL ? entry_understood(s, way) : AB_ENOMEM;
	if (st == AB_OK)
		return slip(s, at, way);
	if (st == AB_ENOMEM)
		return NULL;
	const char *tail = entry_tail(s);
	return tail == NULL ? NULL
			    : ab_arena_printf(s->arena, "\"%.40s\" has no place in a line about %s%s%s%s%s", word,
				  s->part[0].row->title, near != NULL ? "; nearest is \"" : "",
				  near != NULL ? near : "", near != NULL ? "\"" : "", tail);
}
