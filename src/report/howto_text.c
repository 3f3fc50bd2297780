/* howto_text.c - how a change is done, with what the rules know of this brewer's room filled in
 *
 * {room} is its temperature, {room.yeasts} the classes of yeast it suits, {room.spicy} those of them that add
 * spice: who wants a clean beer wants none of these. A sentence with a name that cannot be told is left out: it
 * would say nothing.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

/* The brewer's room, and the change whose words are filled in. */
struct room { const struct ab_knowledge *k; const struct ab_change *change; double c; };

static bool suits(const struct room *room, const struct ab_yeast_norm *y)
{
	double beer_c = room->c + room->change->over_room_k;

	return beer_c >= y->tolerated_low_c && beer_c <= y->tolerated_high_c &&
	    y->primary_days <= room->change->slowest_days;
}

/* NULL where none does. */
static const char *classes(struct page *p, const struct room *room, bool spicy)
{
	const char *text = NULL;

	for (size_t i = 0; i < room->k->norms.n_yeasts; i++)
		if (suits(room, &room->k->norms.yeasts[i]) && room->k->norms.yeasts[i].phenolic == spicy)
			text = page_text(p, "%s%s%s", text == NULL ? "" : text, text == NULL ? "" : ", ",
			    room->k->norms.yeasts[i].title);
	return text;
}

/* NULL where it cannot be told. */
static const char *value_of(struct page *p, const struct room *room, const char *name, size_t len)
{
	const char *word = page_text(p, "%.*s", (int)len, name);

	if (isnan(room->c))
		return NULL;
	if (strcmp(word, "room") == 0)
		return page_text(p, "%s C", say_short(p, room->c, 1));
	bool spicy = strcmp(word, "room.spicy") == 0;
	return spicy || strcmp(word, "room.yeasts") == 0 ? classes(p, room, spicy) : NULL;
}

/* One sentence with its names filled in; NULL when one cannot be. */
static const char *filled(struct page *p, const struct room *room, const char *text, size_t len)
{
	const char *out = "", *end = text + len;

	while (text < end) {
		const char *open = memchr(text, '{', (size_t)(end - text)),
			   *close = open == NULL ? NULL : memchr(open, '}', (size_t)(end - open));
		if (close == NULL)
			return page_text(p, "%s%.*s", out, (int)(end - text), text);
		const char *value = value_of(p, room, open + 1, (size_t)(close - open) - 1);
		if (value == NULL)
			return NULL;
		out = page_text(p, "%s%.*s%s", out, (int)(open - text), text, value);
		text = close + 1;
	}
	return out;
}

static size_t sentence_length(const char *text)
{
	const char *stop = strstr(text, ". ");

	return stop == NULL ? strlen(text) : (size_t)(stop - text) + 1;
}

const char *report_how(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, int change)
{
	const struct room room = { k, &k->changes[change], a != NULL ? a->room_c : (double)NAN };
	const char *text = room.change->how, *out = "";

	while (text != NULL && *text != '\0') {
		size_t len = sentence_length(text);
		const char *sentence = filled(p, &room, text, len);
		if (sentence != NULL)
			out = page_text(p, "%s%s%s", out, *out == '\0' ? "" : " ", sentence);
		text += len;
		text += *text == ' ';
	}
	return say_words(p, out);
}
