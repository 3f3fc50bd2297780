/* entry_offer.c - a line that was not understood handed back as one that is: what had no place in it is kept as a note
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <string.h>

#include <afterboil/journal.h>
#include "base/spelled.h"

static const char joints[] = "and then + & plus also but";

void entry_offer(const struct sentence *s, const char *line)
{
	struct ab_entry_doubt *d = s->help != NULL ? s->help->doubt : NULL;

	if (d != NULL && line != NULL && d->n < AB_ENTRY_WAYS)
		d->ways[d->n++] = line;
}

/* How many bytes the words [from, to) have in the line, without the comma or the joint behind them. */
static int span_of(const struct sentence *s, size_t from, size_t to)
{
	while (to > from + 1 && entry_is_filler(joints, s->word[to - 1]))
		to--;
	return (int)(s->raw[to - 1] - s->raw[from] + (long)strcspn(s->raw[to - 1], " \t\r\n,;"));
}

size_t entry_breath_end(const struct sentence *s, size_t at)
{
	size_t end = at + 1;

	while (end < s->n && !s->breath[end])
		end++;
	return end < s->n ? end : s->n;
}

/* Sugar in bottles that stood in a note only would hide what bursts them. */
static bool hides_sugar(const struct sentence *s, size_t from, size_t to)
{
	static const struct entry_slot mass = { ENTRY_QUANTITY, "", "", AB_DIM_MASS, NULL, NULL, 0, 0, NULL };
	static const struct entry_slot sugar = { ENTRY_WORD, "", "", AB_DIM_NONE, ab_words_sugar, NULL, 0, 0, NULL };
	const char *value;

	for (size_t i = from; i < to; i++)
		if (entry_is_filler("sugar sugars syrup primed priming", s->word[i]) ||
		    entry_value(s, &mass, i, &value) > 0 || entry_value(s, &sugar, i, &value) > 0)
			return true;
	return false;
}

/* "wort 20 to 19": what stands there belongs to the number before. */
static bool ranges(const struct sentence *s, size_t from)
{
	return from > 0 && from + 1 < s->n && entry_is_filler("to - or", s->word[from]) &&
	    strspn(s->word[from + 1], "0123456789") > 0;
}

/* The line with the words [from, to) at its end, as a note; NULL in *line when that is not understood either. */
static enum ab_status noted(const struct sentence *s, size_t from, size_t to, const char **line)
{
	size_t note = from;

	*line = NULL;
	while (note + 1 < to && entry_is_filler(joints, s->word[note]))
		note++;
	/* "pitching at 18 C next time" would be no pitching. */
	if (from >= to || (!s->breath[from] && entry_is_elsewise(s, from, to)) || hides_sugar(s, from, to) ||
	    ranges(s, from))
		return AB_OK;
	const char *before = from == 0 ? "" : ab_arena_printf(s->arena, "%.*s", span_of(s, 0, from), s->raw[0]);
	const char *text = before == NULL
	    ? NULL
	    : ab_arena_printf(s->arena, "%s%s%.*s, note %.*s", before, from > 0 && to < s->n ? ", " : "",
		  to < s->n ? span_of(s, to, s->n) : 0, to < s->n ? s->raw[to] : "", span_of(s, note, to),
		  s->raw[note]);
	enum ab_status st = text != NULL ? entry_understood(s, text) : AB_ENOMEM;
	*line = st == AB_OK ? text : NULL;
	return st == AB_ENOMEM ? st : AB_OK;
}

enum ab_status entry_without(const struct sentence *s, const char **line)
{
	size_t end = s->at < s->n ? entry_breath_end(s, s->at) : s->n;
	enum ab_status st = AB_OK;

	*line = NULL;
	if (s->at >= s->n || s->more || s->trying)
		return AB_OK;
	/* Nothing of it is understood: the rest may be. */
	if (s->n_parts == 0)
		return end < s->n ? noted(s, s->at, end, line) : AB_OK;
	/* "drank them all but two": taken without its end it would hush the alarm of the two. */
	if (strstr(s->part[0].row->fixed, "fate=") != NULL)
		return AB_OK;
	/* A lead alone would tell of something that may not be meant: only packaging and what else happens once is
	 * told by it. */
	bool any = s->part[0].any || s->part[0].row->once;
	size_t from = s->at;
	while (from > s->taken && !s->breath[from])
		from--;
	for (size_t to = end; any && st == AB_OK && *line == NULL; to = s->n) {
		st = noted(s, from, to, line);
		if (to == s->n)
			break;
	}
	return st;
}

/* The stretch [s->at, end) alone. */
static size_t stretch_ways(const struct sentence *s, size_t end, const char *ways[AB_ENTRY_WAYS])
{
	struct sentence piece = { .arena = s->arena, .help = s->help, .trying = s->trying };
	const char *words = ab_arena_printf(s->arena, "%.*s", span_of(s, s->at, end), s->raw[s->at]);

	if (words == NULL || !entry_cut(&piece, words))
		return ENTRY_NOMEM;
	return entry_has_time(&piece) ? 0 : entry_ways(&piece, ways);
}

/* Each of n ways with the words from `end` on as a note behind; those that are not understood so are left out,
 * and so is a note, which would swallow the other: the whole line makes a better one. */
static size_t with_note(const struct sentence *s, size_t end, const char *ways[AB_ENTRY_WAYS], size_t n)
{
	size_t note = end, good = 0;

	while (note + 1 < s->n && entry_is_filler(joints, s->word[note]))
		note++;
	for (size_t i = 0; i < n; i++) {
		const char *line = ab_arena_printf(s->arena, "%s, note %s", ways[i], s->raw[note]);
		enum ab_status st = line != NULL ? entry_understood(s, line) : AB_ENOMEM;
		if (st == AB_ENOMEM)
			return ENTRY_NOMEM;
		if (st == AB_OK && strncmp(ways[i], "note ", 5) != 0)
			ways[good++] = line;
	}
	return good;
}

size_t entry_shorter(const struct sentence *s, const char *ways[AB_ENTRY_WAYS])
{
	static const char dangling[] = "at on in of the a an with from for to by and into";
	enum { LONGEST_TRIED = 12 };
	size_t end = s->n - s->at > LONGEST_TRIED ? s->at + LONGEST_TRIED : s->n, n = 0;

	if (s->at >= s->n || s->more || ab_denies(s->said))
		return 0;
	for (end--; n == 0 && end > s->at; end--) {
		/* "on the" is said of what follows. */
		if (entry_is_filler(dangling, s->word[end - 1]))
			continue;
		n = hides_sugar(s, end, s->n) ? 0 : stretch_ways(s, end, ways);
		/* Once the yeast is in, a gravity is rather the one of now. */
		if (n == 2 && s->help != NULL && s->help->pitched != NULL && s->help->pitched->known &&
		    strncmp(ways[1], "og ", 3) == 0)
			n = 1;
		n = n != ENTRY_NOMEM ? with_note(s, end, ways, n) : n;
	}
	return n;
}

const char *entry_tail(const struct sentence *s)
{
	const char *line = NULL;

	if (entry_without(s, &line) == AB_ENOMEM)
		return NULL;
	entry_offer(s, line);
	if (line == NULL && !s->trying && entry_is_elsewise(s, s->at, entry_breath_end(s, s->at)) &&
	    !hides_sugar(s, 0, s->n)) {
		const char *note = ab_arena_printf(s->arena, "note %s", s->said);
		entry_offer(s, note);
		return note == NULL ? NULL : ab_arena_printf(s->arena, ". Example: %.300s", note);
	}
	/* Nothing of it was taken: perhaps it is about something else. */
	if (line == NULL && !s->part[0].any && s->n > 2 && !s->trying && !hides_sugar(s, 0, s->n)) {
		const char *note = ab_arena_printf(s->arena, "note %s", s->said);
		entry_offer(s, note);
		return note == NULL ? NULL
				    : ab_arena_printf(s->arena, ". Example: %s; or, in your own words: %.200s",
					  entry_example_of(s), note);
	}
	return line == NULL ? ab_arena_printf(s->arena, ". Example: %s", entry_example_of(s))
	    : ab_arena_printf(s->arena, ". Example: %.300s (which keeps it as a note)", line);
}
