/* entry_dose.c - priming sugar told by the litre or by the bottle
 *
 * A journal's priming is the sugar of the whole beer, also where it went in bottle by bottle. "3 g per bottle"
 * taken for that would hide bottles that burst, so it is multiplied out here, where the words are still known, or
 * refused.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_dose.h"

#include <stdio.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "base/spelled.h"
#include "base/str.h"
#include "base/units.h"

enum { NUMBER = 32 };
/* Bottles hold less, batches more (working estimate). */
#define LARGEST_BOTTLE_L 2.5
/* Grams in a litre of one bottle that nobody means: it is the whole beer's sugar (working estimate). */
#define NO_BOTTLES_G_L 40.0

static void cut(struct entry_dosing *d, const char *words)
{
	for (const char *p = words; d->n < ENTRY_DOSE_WORDS && *(p += strspn(p, " \t")) != '\0'; p += d->len[d->n++]) {
		size_t len = strcspn(p, " \t"), keep = len;
		while (keep > 0 && strchr(",;.:()", p[keep - 1]) != NULL)
			keep--;
		size_t skip = strspn(p, "("), end = keep < ENTRY_DOSE_LONG - 1 ? keep : ENTRY_DOSE_LONG - 1;
		d->from[d->n] = p;
		d->len[d->n] = len;
		for (size_t i = skip; i < end; i++)
			d->word[d->n][i - skip] = (char)(p[i] >= 'A' && p[i] <= 'Z' ? p[i] + 32 : p[i]);
		d->word[d->n][end > skip ? end - skip : 0] = '\0';
	}
}

bool entry_dose_is(const char *word, const char *const *list)
{
	for (; *list != NULL; list++)
		if (strcmp(word, *list) == 0)
			return true;
	return false;
}

/* The quantity at a word, in the unit facts are kept in; how many words it has, 0 = none. */
static size_t quantity(const struct entry_dosing *d, size_t at, enum ab_dim dim, double *v)
{
	char number[NUMBER], text[2 * ENTRY_DOSE_LONG], why[300];
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
	return entry_dose_is(word, each);
}

/* "per bottle", "in each 500 ml bottle", "per litre", "/ l". */
static void find_by(struct entry_dosing *d)
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
		if (at < d->n && q == 0 && !joined && entry_dose_is(d->word[at], litres))
			d->litre = true;
		else if (at >= d->n || !entry_dose_is(d->word[at], bottles))
			continue;
		d->size_l = size;
		d->by = i;
		d->by_n = at + 1 - i;
	}
}

/* "7g/l" and "7 g/L" say both at once. */
static size_t by_litre(struct entry_dosing *d, size_t at, double *v)
{
	for (size_t n = 0; n < 2 && at + n < d->n; n++) {
		char *slash = strchr(d->word[at + n], '/');
		if (slash == NULL || !entry_dose_is(slash + 1, litres))
			continue;
		*slash = '\0';
		size_t got = quantity(d, at, AB_DIM_MASS, v);
		*slash = '/';
		if (got == n + 1)
			return got;
	}
	return 0;
}

static void find_amounts(struct entry_dosing *d)
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

static const char *rewritten(const struct entry_dosing *d, double total_g, struct ab_arena *arena)
{
	struct ab_str out;
	char number[NUMBER];
	const char *text = NULL;

	ab_str_init(&out, 0);
	ab_num_text((double)(long)(total_g * 10 + 0.5) / 10, number, sizeof number);
	for (size_t i = 0; i < d->n; i++) {
		bool amount = i >= d->amount && i<d->amount + d->amount_n, by = d->by_n> 0 && i >= d->by &&
		    i < d->by + d->by_n;
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

static enum ab_status too_much(const struct entry_dosing *d, const struct ab_entry_help *help, struct ab_diag *diag)
{
	static const char how[] =
	    "would burst it; if that is the sugar of the whole beer, say \"bottle by bottle\" for \"per bottle\"";

	return is_us(help) ? ab_fail(diag, AB_EUSAGE, NULL, 0, "%.1f oz in a bottle of %.0f fl oz %s",
				 d->amount_g / AB_OUNCE_G, 1000 * d->size_l / AB_FLOZ_ML, how)
			   : ab_fail(diag, AB_EUSAGE, NULL, 0, "%.0f g in a bottle of %.0f mL %s", d->amount_g,
				 1000 * d->size_l, how);
}

static enum ab_status ask_size(
    const char *words, const struct ab_entry_help *help, struct ab_arena *arena, struct ab_diag *diag)
{
	static const char *const metric[] = { "330 mL", "500 mL", "750 mL" },
				 *const us[] = { "12 fl oz", "16 fl oz", "22 fl oz" };
	const char *const *sizes = is_us(help) ? us : metric;

	for (size_t i = 0; help != NULL && help->doubt != NULL && i < 3; i++) {
		const char *way = ab_arena_printf(arena, "%s, %s bottles", words, sizes[i]);
		if (way == NULL)
			return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
		help->doubt->ways[help->doubt->n++] = way;
	}
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "sugar in each bottle: how large are they? Write \"%.300s, %s bottles\"", words, sizes[1]);
}

/* Is it about packaging at all? "note" and recipes are not. */
static bool is_priming(const struct entry_dosing *d)
{
	static const char *const leads[] = { "bottled", "bottling", "primed", "priming", NULL };

	for (size_t i = 0; i < d->n; i++) {
		if (strcmp(d->word[i], "note") == 0)
			return false;
		if (entry_dose_is(d->word[i], leads))
			return true;
	}
	return false;
}

/* May the line be about sugar in bottles? Most are of something else, and pay nothing. */
static bool may_be(const char *words)
{
	static const char *const parts[] = { "rim", "ottl", "RIM", "OTTL", "cube", "drop", "lump", "spoon", "tsp",
		"tbsp", NULL };

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
	struct entry_dosing *d = ab_arena_alloc(arena, 1, sizeof *d);
	if (d == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*d = (struct entry_dosing){ .n = 0 };
	cut(d, words);
	find_by(d);
	find_amounts(d);
	const char *said_so;
	enum ab_status st = entry_dose_counted(d, is_priming(d), arena, &said_so, pieces, diag);
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
		return ab_fail(diag, AB_EUSAGE, NULL, 0,
		    "sugar %s: of how much beer? Write how much was bottled too, as in \"%.300s, %s\"",
		    d->litre ? "by the litre" : "in each bottle", words, is_us(help) ? "5 gal" : "19 L");
	if (!d->litre && d->amount_g / d->size_l > NO_BOTTLES_G_L)
		return too_much(d, help, diag);
	*out = rewritten(d, d->amount_g * volume / (d->litre ? 1 : d->size_l), arena);
	return *out != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}
