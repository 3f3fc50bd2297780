/* howto_text.c - how a change is done, with what the rules know of this brewer's room filled in
 *
 * {room} is its temperature, {room.yeasts} the classes of yeast it suits. A sentence with a name that cannot be told is left
 * out: it would say nothing.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

/* A working beer runs two to five kelvin over its room (working estimate); the middle of that. A yeast slower than SLOW days
 * is chosen for its taste, not for the room. */
static const double OVER_ROOM = 3.5, SLOW_DAYS = 21;

static bool suits(const struct ab_yeast_norm *y, double beer_c)
{
	return beer_c >= y->tolerated_low_c && beer_c <= y->tolerated_high_c && !(y->primary_days > SLOW_DAYS);
}

/* Those that add spice stand apart: who wants a clean beer wants none of them. */
static const char *classes(struct page *p, const struct ab_knowledge *k, double beer_c, bool spicy)
{
	const char *text = "";

	for (size_t i = 0; i < k->norms.n_yeasts; i++)
		if (suits(&k->norms.yeasts[i], beer_c) && k->norms.yeasts[i].phenolic == spicy)
			text = page_text(p, "%s%s%s", text, *text == '\0' ? "" : ", ", k->norms.yeasts[i].title);
	return text;
}

static const char *room_yeasts(struct page *p, const struct ab_knowledge *k, double room_c)
{
	const char *plain = classes(p, k, room_c + OVER_ROOM, false), *spicy = classes(p, k, room_c + OVER_ROOM, true);

	if (*plain == '\0' && *spicy == '\0')
		return NULL;
	return *spicy == '\0' ? plain : page_text(p, "%s%s%s with its spice", plain, *plain == '\0' ? "" : "; or, ", spicy);
}

/* NULL where it cannot be told. */
static const char *value_of(struct page *p, const struct ab_knowledge *k, double room_c, const char *name, size_t len)
{
	if (isnan(room_c))
		return NULL;
	if (len == strlen("room") && strncmp(name, "room", len) == 0)
		return page_text(p, "%s C", say_short(p, room_c, 1));
	return len == strlen("room.yeasts") && strncmp(name, "room.yeasts", len) == 0 ? room_yeasts(p, k, room_c) : NULL;
}

/* One sentence with its names filled in; NULL when one cannot be. */
static const char *filled(struct page *p, const struct ab_knowledge *k, double room_c, const char *text, size_t len)
{
	const char *out = "", *end = text + len;

	while (text < end) {
		const char *open = memchr(text, '{', (size_t)(end - text)), *close = open == NULL ? NULL : memchr(open, '}', (size_t)(end - open));
		if (close == NULL)
			return page_text(p, "%s%.*s", out, (int)(end - text), text);
		const char *value = value_of(p, k, room_c, open + 1, (size_t)(close - open) - 1);
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
	const char *text = k->changes[change].how, *out = "";

	while (text != NULL && *text != '\0') {
		size_t len = sentence_length(text);
		const char *sentence = filled(p, k, a != NULL ? a->room_c : (double)NAN, text, len);
		if (sentence != NULL)
			out = page_text(p, "%s%s%s", out, *out == '\0' ? "" : " ", sentence);
		text += len;
		text += *text == ' ';
	}
	return say_words(p, out);
}
