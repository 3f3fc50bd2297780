/* newbatch.c - the text of a new journal
 *
 * What is repeated is copied as it was written, attribute by attribute, so that "5.3 gal" stays "5.3 gal" and a
 * journal with a prefix gives one without.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/newbatch.h>

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "journal/edit.h"
#include "journal/scan.h"

enum { SLUG = 40 };

/* What of each element was meant, and may be meant again. What happened (times but those of late sugar and fruit,
 * lags, ages, what was smelled) is in neither list. The first list is repeated, the second becomes a comment. */
struct part { const char *element, *attributes; };
static const struct part ingredients[] = {
	{ "malt", "kind amount share name" }, { "sugar", "kind amount share name" },
	{ "extract", "kind amount share name" }, { "hop", "use name amount alpha" }, { "extra", "name amount sugars" },
};
static const struct part habits[] = {
	{ "mash", "temp time crush sparge-temp" }, { "water", "source treatment salts top-up top-up-boiled supplier" },
	{ "boil", "time vigour lid" }, { "stand", "time temp lid" }, { "chill", "method covered trub" },
	{ "yeast", "class strain form amount volume packs starter rehydrated nutrient supplier" },
	{ "pitch", "temp" }, { "aerate", "method time" },
	{ "vessel", "id kind second volume headspace control target light place" }, { "rest", "temp for" },
	{ "dry-hop", "name amount opened contact loose" }, { "crash", "temp for airlock" },
	{ "transfer", "to how target" },
	{ "gear", "item id cleaned sanitiser dose label-share contact rinse" },
	{ "package", "into bottle colour cap wand priming sugar mixing volume size" },
	{ "carbonate", "pressure temp method" }, { "store", "temp for light place" },
};
#define COUNT(list) (sizeof (list) / sizeof *(list))

/* ---- one element ---- */

/* Between double quotes from now on, whatever it stood in; a comment must not hold two hyphens. */
static void add_value(struct ab_str *s, const char *value, size_t len, bool in_comment)
{
	for (size_t i = 0; i < len; i++) {
		if (value[i] == '"')
			ab_str_add(s, "&quot;");
		else
			ab_str_addn(s, &value[i], 1);
		if (in_comment && value[i] == '-' && i + 1 < len && value[i + 1] == '-')
			ab_str_add(s, " ");
	}
}

/* "4.5 kg" times 0.2 is "0.9 kg"; what is no number stays. Three digits: a kitchen scale has no more. */
static void add_scaled(struct ab_str *s, const char *value, size_t len, double factor)
{
	char text[72], number[32], *end;

	snprintf(text, sizeof text, "%.*s", (int)len, value);
	double x = strtod(text, &end);
	if (end == text || len >= sizeof text || !isfinite(x)) {
		add_value(s, value, len, false);
		return;
	}
	double y = x * factor, step = y > 0 ? pow(10, floor(log10(y)) - 2) : 1;
	ab_str_add(s, ab_num_text(round(y / step) * step, number, sizeof number));
	ab_str_add(s, end);
}

/* Calls for each word of a list. */
static bool next_word(const char **list, char *word, size_t size)
{
	size_t n = strcspn(*list, " ");

	if (n == 0)
		return false;
	snprintf(word, size, "%.*s", (int)n, *list);
	*list += n + ((*list)[n] == ' ');
	return true;
}

/* The attributes of the list that the element has, amounts times factor. Returns whether there were any. */
static bool add_attributes(struct ab_str *s, const struct ab_scan_batch *element, const char *list, double factor,
    bool in_comment)
{
	char name[32];
	bool any = false;

	while (next_word(&list, name, sizeof name)) {
		size_t len = 0;
		const char *value = ab_scan_attribute(element, name, &len);
		bool amount = strcmp(name, "amount") == 0 || strcmp(name, "volume") == 0 ||
		    strcmp(name, "priming") == 0 || strcmp(name, "headspace") == 0;
		/* Sugar for 20 L would burst the bottles of 4 L: of another size nothing is offered. */
		if (value == NULL || (amount && in_comment && factor != 1))
			continue;
		any = true;
		ab_str_addf(s, " %s=\"", name);
		if (amount && factor != 1)
			add_scaled(s, value, len, factor);
		else
			add_value(s, value, len, in_comment);
		ab_str_add(s, "\"");
	}
	return any;
}

/* When sugar or fruit is meant to go into fermenting beer, counted from pitching, to the hour: without it, it would
 * count as part of the wort. */
static void add_moment(struct ab_str *s, const struct ab_batch *like, const char *element, size_t i)
{
	const struct ab_list *sugars = &like->recipe->sugars, *extras = &like->recipe->extras;
	struct ab_when at = { .known = false };
	char text[40];

	if (strcmp(element, "sugar") == 0 && i < sugars->n)
		at = ((const struct ab_sugar *)sugars->items)[i].at;
	else if (strcmp(element, "extra") == 0 && i < extras->n)
		at = ((const struct ab_extra *)extras->items)[i].at;
	double since = round(ab_batch_since_pitch(like, &at) / 3600) * 3600;
	if (!(since > 0))
		return;
	at = (struct ab_when){ .known = true, .relative = true, .s = since };
	ab_str_addf(s, " at=\"%s\"", ab_when_write(&at, text, sizeof text));
}

/* like: the batch whose recipe it is, NULL where moments are not repeated: then it is a comment. */
static void add_parts(struct ab_str *s, const struct ab_scan_batch *parent, const struct part *part,
    const char *indent, double factor, const struct ab_batch *like)
{
	bool in_comment = like == NULL;
	struct ab_scan_batch element;

	for (size_t i = 0; ab_scan_find_child(parent, part->element, i, &element); i++) {
		struct ab_str one;
		size_t len = 0;
		ab_str_init(&one, 0);
		const char *guess = ab_scan_attribute(&element, "guess", &len);
		bool any = add_attributes(&one, &element, part->attributes, factor, in_comment);
		if (any && !in_comment && like->recipe != NULL)
			add_moment(&one, like, part->element, i);
		if (any)
			ab_str_addf(s, "%s<%s%s%s/>\n", indent, part->element, ab_str_text(&one),
			    guess != NULL && len == 3 ? " guess=\"yes\"" : "");
		s->bad = s->bad || !ab_str_ok(&one);
		ab_str_clear(&one);
	}
}

/* ---- the recipe and the habits ---- */

static double factor_of(const struct ab_newbatch *b)
{
	const struct ab_recipe *recipe = b->like != NULL ? b->like->recipe : NULL;
	bool scales = b->volume != NULL && recipe != NULL && recipe->volume_l.known && recipe->volume_l.v > 0;

	return scales ? b->volume->v / recipe->volume_l.v : 1;
}

/* How much: what was asked for, else the recipe's own, else the usual size. */
static void add_volume(struct ab_str *s, const struct ab_newbatch *b)
{
	char number[32];
	const struct ab_recipe *recipe = b->like != NULL ? b->like->recipe : NULL;
	bool us = b->profile != NULL && b->profile->units == 2;

	if (b->volume != NULL)
		ab_str_addf(s, " volume=\"%s\"", b->volume_text);
	else if ((recipe == NULL || !recipe->volume_l.known) && b->profile != NULL && b->profile->batch_l.known)
		ab_str_addf(s, " volume=\"%s %s\"",
		    ab_num_text(
			round(b->profile->batch_l.v / (us ? AB_GALLON_L : 1) * 100) / 100, number, sizeof number),
		    us ? "gal" : "L");
}

static void add_recipe(struct ab_str *s, const struct ab_newbatch *b, const struct ab_scan_batch *like)
{
	struct ab_scan_batch recipe;
	struct ab_str in;
	bool has = like != NULL && ab_scan_find_child(like, "recipe", 0, &recipe);

	ab_str_init(&in, 0);
	if (has)
		for (size_t i = 0; i < COUNT(ingredients); i++)
			add_parts(&in, &recipe, &ingredients[i], "    ", factor_of(b), b->like);
	ab_str_add(s, "  <recipe");
	add_volume(s, b);
	if (has)
		add_attributes(s, &recipe, b->volume == NULL ? "volume og fg co2 bitterness" : "og fg co2 bitterness",
		    1, false);
	if (in.len > 0)
		ab_str_addf(s, ">\n%s  </recipe>\n", ab_str_text(&in));
	else
		ab_str_add(s, "/>\n");
	s->bad = s->bad || !ab_str_ok(&in);
	ab_str_clear(&in);
}

static void add_habits(struct ab_str *s, const struct ab_newbatch *b, const struct ab_scan_batch *like)
{
	struct ab_str in;

	ab_str_init(&in, 0);
	for (size_t i = 0; i < COUNT(habits); i++)
		add_parts(&in, like, &habits[i], "    ", b->volume != NULL ? 0 : 1, NULL);
	if (in.len > 0) {
		ab_str_add(s, "  <!-- How ");
		add_value(s, b->like->id, strlen(b->like->id), true);
		ab_str_addf(s, " was done%s. Nothing in this comment counts: move out of it what was so again.\n",
		    b->volume != NULL ? "; amounts were for another volume and are left out" : "");
		ab_str_add(s, ab_str_text(&in));
		ab_str_add(s, "  -->\n");
	}
	s->bad = s->bad || !ab_str_ok(&in);
	ab_str_clear(&in);
}

/* ---- the whole ---- */

static void add_named(struct ab_str *s, const char *name, const char *value)
{
	if (value == NULL)
		return;
	ab_str_addf(s, " %s=\"", name);
	ab_edit_escape(s, value);
	ab_str_add(s, "\"");
}

static void add_text(struct ab_str *s, const struct ab_newbatch *b, const struct ab_scan_batch *like)
{
	char date[24];

	ab_str_add(s, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<batch xmlns=\"urn:afterboil:journal:1\"");
	add_named(s, "id", b->id);
	add_named(s, "brewed", ab_when_write(&b->brewed, date, sizeof date));
	add_named(s, "line", b->line);
	add_named(s, "title", b->title);
	add_named(s, "family", b->family);
	add_named(s, "wort", b->wort);
	ab_str_add(s, ">\n");
	for (size_t i = 0; i < b->n_notes; i++) {
		ab_str_add(s, "  <note>");
		ab_edit_escape(s, b->notes[i]);
		ab_str_add(s, "</note>\n");
	}
	add_recipe(s, b, like);
	if (like != NULL)
		add_habits(s, b, like);
	ab_str_add(s, "</batch>\n");
}

enum ab_status ab_newbatch_text(const struct ab_newbatch *b, struct ab_arena *arena, const char **out,
    struct ab_diag *diag)
{
	struct ab_scan_batch like;
	struct ab_str s;

	*out = NULL;
	if (b->like != NULL &&
	    !ab_scan_find_batch(b->like_text, b->like_len, b->like->id, b->like->mark.line, &like))
		return ab_fail(diag, AB_EINPUT, b->like->source, b->like->mark.line,
		    "the batch \"%.64s\" was not found in the text; write its id plainly, in a UTF-8 file",
		    b->like->id);
	ab_str_init(&s, AB_JOURNAL_LIMIT);
	add_text(&s, b, b->like != NULL ? &like : NULL);
	*out = ab_str_ok(&s) ? ab_arena_strdup(arena, ab_str_text(&s)) : NULL;
	ab_str_clear(&s);
	return *out != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* ---- names ---- */

const char *ab_newbatch_slug(struct ab_arena *arena, const char *text)
{
	char slug[SLUG + 1];
	size_t n = 0;

	for (; *text != '\0' && n < SLUG; text++) {
		unsigned char c = (unsigned char)*text;
		bool fits = c < 0x80 && isalnum(c);
		if (fits)
			slug[n++] = (char)tolower(c);
		else if (n > 0 && slug[n - 1] != '-')
			slug[n++] = '-';
	}
	while (n > 0 && slug[n - 1] == '-')
		n--;
	return ab_arena_strndup(arena, slug, n);
}

/* Where the number at the end of an id begins, with the sign before it; at its end when there is none. */
static size_t stem_len(const char *id)
{
	size_t len = strlen(id), n = len;

	while (n > 0 && isdigit((unsigned char)id[n - 1]))
		n--;
	return n < len && n > 1 && strchr("-_.", id[n - 1]) != NULL ? n - 1 : len;
}

const char *ab_newbatch_stem(struct ab_arena *arena, const char *id)
{
	return ab_arena_strndup(arena, id, stem_len(id));
}

const char *ab_newbatch_id(struct ab_batch *const *batches, size_t n, const char *stem, struct ab_arena *arena)
{
	size_t len = strlen(stem);
	long highest = 0;

	for (size_t i = 0; i < n; i++) {
		const char *id = batches[i]->id;
		if (strncmp(id, stem, len) != 0)
			continue;
		/* "shed-ipa" itself was the first; a split "pale-3a" was the third. */
		long number = id[len] == '\0' ? 1 : strchr("-_.", id[len]) != NULL ? strtol(id + len + 1, NULL, 10) : 0;
		if (number > highest && number < 1000000)
			highest = number;
	}
	return ab_arena_printf(arena, "%s-%ld", stem, highest + 1);
}
