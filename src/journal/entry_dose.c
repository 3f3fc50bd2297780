/* entry_dose.c - priming sugar told by the litre or by the bottle, and doses and readings that are hardly so
 *
 * A journal's priming is the sugar of the whole beer, also where it went in bottle by bottle. "3 g per bottle" taken for that
 * would hide bottles that burst, so it is multiplied out here, where the words are still known, or refused.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_dose.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/spelled.h"
#include "base/str.h"
#include "base/units.h"
#include "journal/moments.h"
#include "journal/odd.h"

enum { WORDS = 64, LONG = 40, NUMBER = 32 };
/* Bottles hold less, batches more (working estimate). */
#define LARGEST_BOTTLE_L 2.5
/* Grams in a litre of one bottle that nobody means: it is the whole beer's sugar (working estimate). */
#define NO_BOTTLES_G_L 40.0
/* Beer with yeast in it: below, it freezes before long; above, not even the hottest strains are held (working estimates). */
#define COLDEST_C 0.0
#define HOTTEST_C 45.0
/* From here on the journal itself refuses it, and says why (check.c). */
#define IMPOSSIBLE_C 60.0
/* The driest beers end a little above (working estimate). */
#define LEAST_SG 0.990

struct dosing {
	const char *from[WORDS]; size_t len[WORDS];   /* in the line */
	char word[WORDS][LONG];                       /* small, without the comma behind */
	size_t n;
	double amount_g, volume_l, size_l;
	size_t amount, amount_n, by, by_n;            /* by: "per bottle", "/ L"; by_n = 0: none */
	bool litre;
};

static void cut(struct dosing *d, const char *words)
{
	for (const char *p = words; d->n < WORDS && *(p += strspn(p, " \t")) != '\0'; p += d->len[d->n++]) {
		size_t len = strcspn(p, " \t"), keep = len;
		while (keep > 0 && strchr(",;.:()", p[keep - 1]) != NULL)
			keep--;
		size_t skip = strspn(p, "("), end = keep < LONG - 1 ? keep : LONG - 1;
		d->from[d->n] = p;
		d->len[d->n] = len;
		for (size_t i = skip; i < end; i++)
			d->word[d->n][i - skip] = (char)(p[i] >= 'A' && p[i] <= 'Z' ? p[i] + 32 : p[i]);
		d->word[d->n][end > skip ? end - skip : 0] = '\0';
	}
}

static bool is_one_of(const char *word, const char *const *list)
{
	for (; *list != NULL; list++)
		if (strcmp(word, *list) == 0)
			return true;
	return false;
}

/* The quantity at a word, in the unit facts are kept in; how many words it has, 0 = none. */
static size_t quantity(const struct dosing *d, size_t at, enum ab_dim dim, double *v)
{
	char number[NUMBER], text[2 * LONG], why[300];
	const char *tail, *unit;
	bool doubt;
	struct ab_quantity q;

	if (at >= d->n || !ab_number_typed(d->word[at], number, sizeof number, &tail, &doubt))
		return 0;
	size_t n = *tail == '\0' ? 2 : 1;
	if (at + n > d->n)
		return 0;
	unit = ab_unit_spelled(dim, n == 2 ? d->word[at + 1] : tail);
	/* "12 fl oz", "12fl oz" */
	if (unit == NULL && at + n < d->n) {
		snprintf(text, sizeof text, "%s %s", n == 2 ? d->word[at + 1] : tail, d->word[at + n]);
		unit = ab_unit_spelled(dim, text);
		n++;
	}
	if (unit == NULL || *unit == '\0')
		return 0;
	snprintf(text, sizeof text, "%s %s", number, unit);
	if (!ab_quantity_read(text, dim, &q, why, sizeof why))
		return 0;
	*v = q.value;
	return n;
}

static const char *const bottles[] = { "bottle", "/bottle", "per-bottle", NULL };
static const char *const litres[] = { "l", "litre", "liter", "lt", NULL };

static bool is_each(const char *word)
{
	static const char *const each[] = { "per", "each", "every", "a", "/", NULL };
	return is_one_of(word, each);
}

/* "per bottle", "in each 500 ml bottle", "per litre", "/ l". */
static void find_by(struct dosing *d)
{
	for (size_t i = 1; i < d->n && d->by_n == 0; i++) {
		double size = 0;
		size_t at = i, q;
		bool joined = strcmp(d->word[i], "/bottle") == 0 || strcmp(d->word[i], "per-bottle") == 0;
		if (strcmp(d->word[at], "in") == 0 && at + 1 < d->n)
			at++;
		if (!joined && !is_each(d->word[at]))
			continue;
		at += !joined;
		q = joined ? 0 : quantity(d, at, AB_DIM_VOLUME, &size);
		at += q;
		if (at < d->n && q == 0 && !joined && is_one_of(d->word[at], litres))
			d->litre = true;
		else if (at >= d->n || !is_one_of(d->word[at], bottles))
			continue;
		d->size_l = size;
		d->by = i;
		d->by_n = at + 1 - i;
	}
}

/* "7g/l" and "7 g/L" say both at once. */
static size_t by_litre(struct dosing *d, size_t at, double *v)
{
	for (size_t n = 0; n < 2 && at + n < d->n; n++) {
		char *slash = strchr(d->word[at + n], '/');
		if (slash == NULL || !is_one_of(slash + 1, litres))
			continue;
		*slash = '\0';
		size_t got = quantity(d, at, AB_DIM_MASS, v);
		*slash = '/';
		if (got == n + 1)
			return got;
	}
	return 0;
}

static void find_amounts(struct dosing *d)
{
	double v;

	for (size_t i = 0; i < d->n; i++) {
		size_t n = d->amount_n > 0 ? 0 : by_litre(d, i, &v);
		bool litre = n > 0;
		n = litre || d->amount_n > 0 ? n : quantity(d, i, AB_DIM_MASS, &v);
		if (n > 0) {
			d->amount = i;
			d->amount_n = n;
			d->amount_g = v;
			d->litre = d->litre || litre;
		} else if (quantity(d, i, AB_DIM_VOLUME, &v) > 0) {
			*(v < LARGEST_BOTTLE_L ? &d->size_l : &d->volume_l) = v;
		}
	}
}

static const char *rewritten(const struct dosing *d, double total_g, struct ab_arena *arena)
{
	struct ab_str out;
	char number[NUMBER];
	const char *text = NULL;

	ab_str_init(&out, 0);
	ab_num_text((double)(long)(total_g * 10 + 0.5) / 10, number, sizeof number);
	for (size_t i = 0; i < d->n; i++) {
		bool amount = i >= d->amount && i < d->amount + d->amount_n, by = d->by_n > 0 && i >= d->by && i < d->by + d->by_n;
		/* the size is told by itself, behind */
		double v;
		size_t q = amount || by || d->litre ? 0 : quantity(d, i, AB_DIM_VOLUME, &v);
		if (i == d->amount)
			ab_str_addf(&out, "%s g ", number);
		if (q > 0 && v < LARGEST_BOTTLE_L)
			i += q - 1;
		else if (!amount && !by)
			ab_str_addf(&out, "%.*s ", (int)d->len[i], d->from[i]);
	}
	if (!d->litre) {
		ab_num_text((double)(long)(d->size_l * 10000 + 0.5) / 10, number, sizeof number);
		ab_str_addf(&out, "in %s mL bottle by bottle", number);
	}
	if (ab_str_ok(&out))
		text = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&out);
	return text;
}

static bool is_us(const struct ab_entry_help *help)
{
	return help != NULL && help->units == 2;
}

static enum ab_status too_much(const struct dosing *d, const struct ab_entry_help *help, struct ab_diag *diag)
{
	static const char how[] = "would burst it; if that is the sugar of the whole beer, say \"bottle by bottle\" for \"per bottle\"";

	return is_us(help) ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%.1f oz in a bottle of %.0f fl oz %s", d->amount_g / AB_OUNCE_G, 1000 * d->size_l / AB_FLOZ_ML, how)
	    : ab_fail(diag, AB_EUSAGE, NULL, 0, "%.0f g in a bottle of %.0f mL %s", d->amount_g, 1000 * d->size_l, how);
}

static enum ab_status ask_size(const char *words, const struct ab_entry_help *help, struct ab_arena *arena, struct ab_diag *diag)
{
	static const char *const metric[] = { "330 mL", "500 mL", "750 mL" }, *const us[] = { "12 fl oz", "16 fl oz", "22 fl oz" };
	const char *const *sizes = is_us(help) ? us : metric;

	for (size_t i = 0; help != NULL && help->doubt != NULL && i < 3; i++) {
		const char *way = ab_arena_printf(arena, "%s, %s bottles", words, sizes[i]);
		if (way == NULL)
			return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
		help->doubt->ways[help->doubt->n++] = way;
	}
	return ab_fail(diag, AB_EUSAGE, NULL, 0, "sugar in each bottle: how large are they? Write \"%.300s, %s bottles\"", words, sizes[1]);
}

/* Is it about packaging at all? "note" and recipes are not. */
static bool is_priming(const struct dosing *d)
{
	static const char *const leads[] = { "bottled", "bottling", "primed", "priming", NULL };

	for (size_t i = 0; i < d->n; i++) {
		if (strcmp(d->word[i], "note") == 0)
			return false;
		if (is_one_of(d->word[i], leads))
			return true;
	}
	return false;
}

/* ---- sugar by the piece ---- */

/* What is counted and not weighed: drops, cubes and spoons hold what they hold, and nobody knows how much from here. */
static const char *const piece_words[] = { "drop", "drops", "cube", "cubes", "lump", "lumps", "tablet", "tablets", "teaspoon", "teaspoons", "teaspoonful",
	"tsp", "tablespoon", "tablespoons", "tbsp", "spoon", "spoons", "spoonful", "cup", "cups", "cupful", NULL };

static bool is_count(const char *word)
{
	return ab_number_spelled(word) != NULL || strcmp(word, "a") == 0 || strcmp(word, "an") == 0 || (word[0] != '\0' && word[strspn(word, "0123456789./")] == '\0');
}

/* "5 drops of vanilla" are no sugar, nor is a cup of water. */
static bool is_of_else(const struct dosing *d, size_t at)
{
	static const char *const sweet[] = { "sugar", "sugars", "dextrose", "glucose", "sucrose", "honey", "syrup", "candi", "molasses", "treacle", "extract", "dme",
		"corn", "cane", "table", "brown", "white", "priming", "carbonation", NULL };
	static const char *const passed[] = { "of", "the", "a", "plain", "normal", "that", NULL };

	if (at + 1 < d->n && strcmp(d->word[at + 1], "water") == 0)
		return true;
	if (at + 1 >= d->n || strcmp(d->word[at + 1], "of") != 0)
		return false;
	size_t i = at + 1;
	while (i < d->n && is_one_of(d->word[i], passed))
		i++;
	return i >= d->n || !is_one_of(d->word[i], sweet);
}

/* "2 carbonation drops per bottle": the words [*from, *to). */
static bool find_pieces(const struct dosing *d, size_t *from, size_t *to)
{
	enum { BETWEEN = 3 };

	for (size_t i = 1; i < d->n; i++)
		for (size_t back = 1; is_one_of(d->word[i], piece_words) && !is_of_else(d, i) && back <= BETWEEN && back <= i; back++)
			if (is_count(d->word[i - back])) {
				*from = i - back;
				/* "half a teaspoon" */
				while (*from > 0 && is_count(d->word[*from - 1]))
					--*from;
				*to = d->by_n > 0 && d->by > i ? d->by + d->by_n : i + 1;
				/* "one sugar cube each" */
				*to = d->by_n == 0 && i + 1 < d->n && strcmp(d->word[i + 1], "each") == 0 ? i + 2 : *to;
				*to += *to + 1 < d->n && strcmp(d->word[*to], "of") == 0 ? 2 : 0;
				return true;
			}
	return false;
}

/* The line without them, as bottled, and they themselves as a note. NULL: memory is short. */
static const char *by_piece(const struct dosing *d, size_t from, size_t to, bool lead, struct ab_arena *arena)
{
	struct ab_str out;
	const char *text = NULL;
	bool spoon = false, cup = false;

	ab_str_init(&out, 0);
	ab_str_add(&out, lead ? "" : "bottled ");
	for (size_t i = from; i < to; i++)
		spoon = spoon || strstr(d->word[i], "sp") != NULL, cup = cup || strncmp(d->word[i], "cup", 3) == 0;
	for (size_t i = 0; i < d->n; i++)
		if ((i < from || i >= to) && strcmp(d->word[i], "with") != 0)
			ab_str_addf(&out, "%s ", d->word[i]);
	/* A cup is of the whole beer. */
	ab_str_addf(&out, "%s, note sugar by the piece, its weight still to be told: ", cup ? "" : spoon ? "per-bottle" : "drops");
	for (size_t i = from; i < to; i++)
		ab_str_addf(&out, "%s%s", i > from ? " " : "", d->word[i]);
	if (ab_str_ok(&out))
		text = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&out);
	return text;
}

/* "48 bottles, 5 oz": how many bottles there were is a note. */
static const char *by_count(const struct dosing *d, size_t at, struct ab_arena *arena)
{
	struct ab_str out;
	const char *text = NULL;

	ab_str_init(&out, 0);
	ab_str_add(&out, "bottled with ");
	for (size_t i = 0; i < d->n; i++)
		if (i != at && i != at + 1)
			ab_str_addf(&out, "%.*s ", (int)d->len[i], d->from[i]);
	ab_str_addf(&out, ", note %s bottles", d->word[at]);
	if (ab_str_ok(&out))
		text = ab_arena_strdup(arena, ab_str_text(&out));
	ab_str_clear(&out);
	return text;
}

static bool find_count(const struct dosing *d, size_t *at)
{
	for (*at = 0; *at + 1 < d->n; ++*at)
		if (strcmp(d->word[*at + 1], "bottles") == 0 && d->word[*at][0] != '\0' && d->word[*at][strspn(d->word[*at], "0123456789")] == '\0')
			return true;
	return false;
}

/* *out stays NULL where nothing is counted. */
static enum ab_status counted(const struct dosing *d, bool lead, struct ab_arena *arena, const char **out, bool *pieces, struct ab_diag *diag)
{
	size_t from, to;
	bool begins = d->n > 0 && is_count(d->word[0]), each = d->by_n > 0 || (d->n > 0 && strcmp(d->word[d->n - 1], "each") == 0), any = false;

	*out = NULL;
	if ((lead || (begins && each)) && find_pieces(d, &from, &to)) {
		any = *pieces = true;
		*out = by_piece(d, from, to, lead, arena);
	} else if (d->amount_n > 0 && d->by_n == 0 && !lead && begins && find_count(d, &from) && from == 0) {
		/* With a lead the line is understood as it is. */
		any = true;
		*out = by_count(d, from, arena);
	}
	return any && *out == NULL ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : AB_OK;
}

/* May the line be about sugar in bottles? Most are of something else, and pay nothing. */
static bool may_be(const char *words)
{
	static const char *const parts[] = { "rim", "ottl", "RIM", "OTTL", "cube", "drop", "lump", "spoon", "tsp", "tbsp", NULL };

	for (const char *const *p = parts; *p != NULL; p++)
		if (strstr(words, *p) != NULL)
			return true;
	return false;
}

enum ab_status entry_dose(const char *words, const struct ab_entry_help *help, struct ab_arena *arena, const char **out,
    bool *pieces, struct ab_diag *diag)
{
	*out = words;
	*pieces = false;
	if (!may_be(words) || ab_denies(words))
		return AB_OK;
	struct dosing *d = ab_arena_alloc(arena, 1, sizeof *d);
	if (d == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*d = (struct dosing){ .n = 0 };
	cut(d, words);
	find_by(d);
	find_amounts(d);
	const char *said_so;
	enum ab_status st = counted(d, is_priming(d), arena, &said_so, pieces, diag);
	if (st != AB_OK || said_so != NULL) {
		*out = said_so != NULL ? said_so : words;
		return st;
	}
	if (!is_priming(d))
		return AB_OK;
	if (d->amount_n == 0 || !(d->amount_g > 0) || (d->by_n == 0 && !d->litre))
		return AB_OK;
	double volume = d->volume_l > 0 ? d->volume_l : help != NULL ? help->volume_l : 0;
	d->size_l = d->size_l > 0 ? d->size_l : help != NULL ? help->size_l : 0;
	if (!d->litre && !(d->size_l > 0))
		return ask_size(words, help, arena, diag);
	if (!(volume > 0))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "sugar %s: of how much beer? Write how much was bottled too, as in \"%.300s, %s\"",
		    d->litre ? "by the litre" : "in each bottle", words, is_us(help) ? "5 gal" : "19 L");
	if (!d->litre && d->amount_g / d->size_l > NO_BOTTLES_G_L)
		return too_much(d, help, diag);
	*out = rewritten(d, d->amount_g * volume / (d->litre ? 1 : d->size_l), arena);
	return *out != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* ---- hardly so ---- */

static bool said(const struct ab_entry *e, const char *attr, enum ab_dim dim, double *v)
{
	struct ab_quantity q;
	char why[300];
	size_t len = strlen(attr);

	for (size_t i = 0; i < e->n_said; i++) {
		size_t n = strlen(e->said[i].target);
		bool is = n > len && strcmp(e->said[i].target + n - len, attr) == 0 && e->said[i].target[n - len - 1] == ' ';
		if (is && ab_quantity_read(e->said[i].value, dim, &q, why, sizeof why)) {
			*v = q.value;
			return true;
		}
	}
	return false;
}

/* In the brewer's units; the usual range is 4 to 8 g/L, common practice. */
static const char *odd_priming(const struct ab_entry_help *help, double g, double volume_l, struct ab_arena *arena)
{
	const char *what = g / volume_l > AB_ODD_PRIMING_MOST_G_L ? "bottles may burst" : "that hardly carbonates";
	double oz = g / AB_OUNCE_G, gal = volume_l / AB_GALLON_L;

	return is_us(help) ? ab_arena_printf(arena, "%.1f oz in %.1f gal are %.1f oz/gal of priming; %s (usual: 0.5 to 1.1 oz/gal, common practice). Is that "
	    "the sugar of the whole beer?", oz, gal, oz / gal, what)
	    : ab_arena_printf(arena, "%.0f g in %.1f L are %.1f g/L of priming; %s (usual: 4 to 8 g/L, common practice). Is that the sugar of the "
	    "whole beer?", g, volume_l, g / volume_l, what);
}

const char *ab_entry_unlikely(const struct ab_entry *e, const struct ab_entry_help *help, struct ab_arena *arena,
    bool *grave, bool *nomem)
{
	bool package = strcmp(e->name, "package") == 0, reading = strcmp(e->name, "reading") == 0;
	double v, g, volume = help->volume_l;
	const char *why = NULL;

	*grave = true;
	*nomem = false;
	if (!package && !reading)
		return NULL;
	if (reading && help->pitched != NULL && help->pitched->known && !ab_when_before(&e->at, help->pitched) &&
	    said(e, "wort", AB_DIM_TEMP, &v) && (v < COLDEST_C || (v > HOTTEST_C && v <= IMPOSSIBLE_C)))
		why = ab_arena_printf(arena, "%.0f C (%.0f F) is %s than beer with yeast in it gets; is the unit right?", v, v * 1.8 + 32,
		    v < COLDEST_C ? "colder" : "hotter");
	else if (said(e, "gravity", AB_DIM_GRAVITY, &g) && g < LEAST_SG)
		why = ab_arena_printf(arena, "a gravity of %.3f is lower than beer gets; is it a slip?", g);
	else if (said(e, "gravity", AB_DIM_GRAVITY, &g) && help->og_sg > 0 && help->pitched != NULL && help->pitched->known &&
	    g > help->og_sg + AB_ODD_GRAVITY_SG && ab_when_before(help->pitched, &e->at))
		why = ab_arena_printf(arena, "a gravity of %.3f is above the original one of %.3f; is it a slip?", g, help->og_sg);
	else if (package && said(e, "priming", AB_DIM_MASS, &g) && g > 0 && (said(e, "volume", AB_DIM_VOLUME, &volume) || volume > 0) &&
	    (g / volume < AB_ODD_PRIMING_LEAST_G_L || g / volume > AB_ODD_PRIMING_MOST_G_L)) {
		*grave = false;
		why = odd_priming(help, g, volume, arena);
	} else
		return NULL;
	*nomem = why == NULL;
	return why;
}
