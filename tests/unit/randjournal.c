/* randjournal.c - random but valid journals, made from the reader's own tables
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "randjournal.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <check.h>
#include <afterboil/quantity.h>
#include <afterboil/when.h>

#include "journal/tables.h"

#define PITCHED "2031-03-01T18:00"
#define BREWED "2031-03-01"

struct value { const struct ab_attr_spec *spec; double v; const char *text; };

struct rj_element {
	const struct ab_elem_spec *spec;
	struct value *values;
	size_t n_values;
	const char *text;
	struct rj_element **held;
	size_t n_held;
	long number;
};

/* ---- dice ---- */

void rj_seed(struct rj_dice *dice, uint64_t seed)
{
	dice->state = seed * 0x9E3779B97F4A7C15u + 0x1234567u;
	for (int i = 0; i < 8; i++)
		rj_next(dice);
}

uint64_t rj_next(struct rj_dice *dice)
{
	uint64_t x = dice->state != 0 ? dice->state : 1;

	x ^= x >> 12;
	x ^= x << 25;
	x ^= x >> 27;
	dice->state = x;
	return x * 0x2545F4914F6CDD1Du;
}

double rj_unit(struct rj_dice *dice)
{
	return (double)(rj_next(dice) >> 11) / 9007199254740992.0;
}

size_t rj_below(struct rj_dice *dice, size_t n)
{
	return n == 0 ? 0 : (size_t)(rj_unit(dice) * (double)n);
}

bool rj_chance(struct rj_dice *dice, double p)
{
	return rj_unit(dice) < p;
}

/* ---- what home brewers have, in kept units ---- */

enum { H = 3600, D = 86400, MOST_HELD = 200 };

static const struct { const char *element, *attribute; double lo, hi; } homely[] = {
	{ "recipe", "volume", 15, 30 }, { "recipe", "og", 1.040, 1.070 }, { "recipe", "fg", 1.005, 1.020 },
	{ "recipe", "co2", 1.8, 3.2 },
	{ "recipe", "bitterness", 5, 80 }, { "malt", "amount", 100, 5000 }, { "malt", "share", 0.05, 0.2 },
	{ "sugar", "share", 0.01, 0.1 },
	{ "extract", "share", 0.05, 0.2 }, { "mash", "temp", 60, 72 }, { "mash", "sparge-temp", 60, 85 },
	{ "mash", "last-runnings", 1.002, 1.02 },
	{ "mash", "runnings-ph", 5.2, 6.2 }, { "mash", "cooled-below", 40, 70 }, { "mash", "time", 0, 3 * H },
	{ "boil", "time", 0, 2 * H },
	{ "boil", "off", 0, 0.2 }, { "stand", "time", 0, H }, { "stand", "temp", 60, 99 },
	{ "chill", "above-80", 0, 2 * H },
	{ "chill", "to-pitch", 0, 2 * D }, { "chill", "end-temp", 5, 35 }, { "water", "top-up", 0, 8 },
	{ "water", "iron", 0, 5 },
	{ "water", "*", 0, 400 }, { "hop", "alpha", 0.02, 0.16 }, { "yeast", "amount", 5, 40 },
	{ "yeast", "volume", 0.05, 0.5 }, { "yeast", "packs", 1, 4 },
	{ "yeast", "cells", 50, 500 }, { "yeast", "starter", 0, 4 }, { "yeast", "generation", 0, 9 },
	{ "pitch", "temp", 5, 35 },
	{ "aerate", "time", 0, 30 * 60 }, { "vessel", "volume", 31, 60 }, { "vessel", "headspace", 0.5, 8 },
	{ "vessel", "target", 4, 30 },
	{ "vessel", "room", 5, 32 }, { "vessel", "rated-pressure", 50, 400 }, { "vessel", "age", 0, 3000.0 * D },
	{ "reading", "sample", 15, 28 }, { "reading", "ph", 4, 5.5 },
	{ "lag", "first-signs", 2 * H, 4 * D }, { "rest", "for", 0, 6 * D }, { "crash", "temp", 0, 10 },
	{ "crash", "for", D, 5 * D },
	{ "opened", "for", 0, 3600 }, { "dry-hop", "amount", 5, 200 }, { "gear", "dose", 0.5, 4 },
	{ "gear", "dose-ppm", 5, 300 },
	{ "gear", "label-share", 0.2, 2 }, { "gear", "contact", 0, H }, { "package", "neck", 5, 70 },
	{ "package", "priming", 0, 200 },
	{ "package", "volume", 14, 30 }, { "package", "gravity", 1.004, 1.02 }, { "package", "purges", 0, 12 },
	{ "package", "purge-pressure", 20, 200 },
	{ "package", "size", 0.25, 2 }, { "package", "headspace", 0.1, 4 }, { "carbonate", "pressure", 20, 250 },
	{ "carbonate", "temp", 0, 20 },
	{ "store", "temp", 0, 30 }, { "store", "hottest", 30, 40 }, { "serve", "line-length", 800, 8000 },
	{ "serve", "line-bore", 3, 8 },
	{ "serve", "pressure", 20, 200 }, { "serve", "temp", 1, 16 }, { "instrument", "off-temp", -2, 2 },
	{ "instrument", "off-gravity", 0.998, 1.002 },
	{ "found", "intensity", 1, 5 }, { "tasting", "score", 0, 50 }, { "tasting", "score-of", 50, 100 },
	{ "tasting", "panel", 1, 6 },
	{ "tasting", "temp", 3, 18 }, { "test", "gravity", 1.006, 1.014 },
};
static const struct { int dim; double lo, hi; } by_dim[] = {
	{ AB_DIM_MASS, 5, 500 }, { AB_DIM_TIME, 0, 90 * D }, { AB_DIM_TEMP, 2, 30 }, { AB_DIM_VOLUME, 1, 30 },
};

static void range_of(const struct ab_elem_spec *e, const struct ab_attr_spec *a, bool wild, double *lo, double *hi)
{
	*lo = a->lo;
	*hi = a->hi;
	if (wild)
		return;
	for (size_t i = 0; i < sizeof homely / sizeof *homely; i++)
		if (strcmp(homely[i].element, e->name) == 0 &&
		    (strcmp(homely[i].attribute, a->name) == 0 ||
			(homely[i].attribute[0] == '*' && a->dim == AB_DIM_CONC))) {
			*lo = homely[i].lo;
			*hi = homely[i].hi;
			return;
		}
	for (size_t i = 0; i < sizeof by_dim / sizeof *by_dim; i++)
		if (by_dim[i].dim == a->dim && a->kind == AB_ATTR_QUANTITY) {
			*lo = by_dim[i].lo;
			*hi = by_dim[i].hi;
		}
}

/* ---- drawing ---- */

/* Ids that facts look at, so that some of them meet. */
static const char *draw_id(struct rj_dice *dice, const char *attribute, struct ab_arena *arena)
{
	static const char *const classes[] = { "clean-ale", "lager", "farmhouse", "no-such-class" };

	if (strcmp(attribute, "class") == 0)
		return classes[rj_below(dice, 4)];
	return ab_arena_printf(arena, "i%zu", rj_below(dice, 4));
}

static const char *draw_text(struct rj_dice *dice, const char *attribute)
{
	static const char *const faults[] = { "buttery", "butterscotch", "papery", "sour" },
				 *const texts[] = { "a", "one & two", "<b>", "\"q\"" };
	return strcmp(attribute, "fault") == 0 ? faults[rj_below(dice, 4)] : texts[rj_below(dice, 4)];
}

/* What one batch's readings hang on. */
static double room_c, original_sg, rate_h;

/* A reading's temperatures keep near the room, and its gravity falls with time as a fermentation's does. */
static bool draw_reading(struct rj_dice *dice, const char *attribute, double at_s, double *v)
{
	if (strcmp(attribute, "wort") == 0)
		*v = room_c + 4 * exp(-at_s / (4 * D)) + rj_unit(dice);
	else if (strcmp(attribute, "room") == 0)
		*v = room_c + rj_unit(dice);
	else if (strcmp(attribute, "gravity") == 0)
		*v = 1.011 + (original_sg - 1.011) / (1 + exp(rate_h * (at_s / H - 60))) + 0.0005 * rj_unit(dice);
	else
		return false;
	return true;
}

/* Evenly over the range, now and then its very ends. */
static double draw_number(
    struct rj_dice *dice, const struct ab_elem_spec *e, const struct ab_attr_spec *a, bool wild, double at_s)
{
	double lo, hi;

	if (!wild && strcmp(e->name, "reading") == 0 && draw_reading(dice, a->name, at_s, &lo))
		return lo;
	if (!wild && strcmp(e->name, "package") == 0 && strcmp(a->name, "gravity") == 0 &&
	    draw_reading(dice, a->name, 20 * D, &lo))
		return lo;
	range_of(e, a, wild, &lo, &hi);
	if (wild && rj_chance(dice, 0.1))
		return rj_chance(dice, 0.5) ? lo : hi;
	double v = lo + rj_unit(dice) * (hi - lo);
	bool whole = a->kind == AB_ATTR_NUMBER;
	return whole ? fmax(lo, floor(v)) : v;
}

static double draw_moment(struct rj_dice *dice, const char *element, const char *attribute)
{
	double after = 0, span = 14;

	if (strcmp(element, "package") == 0) {
		after = 14;
		span = 20;
	} else if (strcmp(element, "tasting") == 0 || strcmp(element, "store") == 0) {
		after = 40;
		span = 100;
	}
	if (strcmp(attribute, "until") == 0)
		after += 140;
	/* whole minutes, for dates are written so */
	return floor((after + rj_unit(dice) * span) * 1440) * 60;
}

static void draw_value(struct rj_dice *dice, const struct ab_elem_spec *e, const struct ab_attr_spec *a, bool wild,
    double at_s, struct value *out, struct ab_arena *arena)
{
	size_t n = 0;

	*out = (struct value){ a, 0, NULL };
	switch (a->kind) {
	case AB_ATTR_WORD:
		while (a->words[n] != NULL)
			n++;
		out->text = a->words[rj_below(dice, n)];
		break;
	case AB_ATTR_YESNO:
		out->text = rj_chance(dice, 0.5) ? "yes" : "no";
		break;
	case AB_ATTR_ID:
		out->text = strcmp(e->name, "batch") == 0 ? "r" : draw_id(dice, a->name, arena);
		break;
	case AB_ATTR_TEXT:
		out->text = draw_text(dice, a->name);
		break;
	case AB_ATTR_DATE:
		out->text = strcmp(e->name, "batch") == 0 ? BREWED : "2031-06-01";
		break;
	case AB_ATTR_WHEN:
		if (strcmp(e->name, "pitch") == 0)
			out->text = PITCHED;
		else
			out->v = draw_moment(dice, e->name, a->name);
		break;
	default:
		out->v = draw_number(dice, e, a, wild, at_s);
	}
}

static void draw_attributes(struct rj_dice *dice, struct rj_element *e, bool wild, struct ab_arena *arena)
{
	size_t n = 0;
	double often = rj_chance(dice, 0.2) ? 1 : 0.6;

	for (const struct ab_attr_spec *a = e->spec->attrs; a != NULL && a->name != NULL; a++)
		n++;
	e->values = ab_arena_alloc(arena, n + 1, sizeof *e->values);
	for (const struct ab_attr_spec *a = e->spec->attrs; a != NULL && a->name != NULL; a++) {
		/* A log names a file; there is none. The time of the pitch is told always, so that dates and times
		 * after it are the same. */
		bool always = a->required || strcmp(a->name, "at") == 0;
		if (always || rj_chance(dice, often))
			{
			double at_s = e->n_values > 0 ? e->values[0].v : 0;
			draw_value(dice, e->spec, a, wild, at_s, &e->values[e->n_values++], arena);
		}
	}
}

static struct rj_element *draw(
    struct rj_dice *dice, const struct ab_elem_spec *spec, bool wild, long *number, struct ab_arena *arena);

static void draw_held(struct rj_dice *dice, struct rj_element *e, bool wild, long *number, struct ab_arena *arena)
{
	if (e->spec->children == NULL)
		return;
	e->held = ab_arena_alloc(arena, MOST_HELD, sizeof *e->held);
	for (const struct ab_elem_spec *c = e->spec->children; c != NULL && c->name != NULL; c++) {
		bool readings = strcmp(c->name, "reading") == 0, pitch = strcmp(c->name, "pitch") == 0;
		size_t n = readings ? rj_below(dice, 14) : c->many ? rj_below(dice, 3) : rj_chance(dice, 0.75) || pitch;
		if (strcmp(c->name, "log") == 0)
			n = 0;
		while (n-- > 0)
			e->held[e->n_held++] = draw(dice, c, wild, number, arena);
	}
}

static struct rj_element *draw(
    struct rj_dice *dice, const struct ab_elem_spec *spec, bool wild, long *number, struct ab_arena *arena)
{
	struct rj_element *e = ab_arena_alloc(arena, 1, sizeof *e);

	e->spec = spec;
	e->number = (*number)++;
	draw_attributes(dice, e, wild, arena);
	if (spec->has_text)
		e->text = "some words";
	draw_held(dice, e, wild, number, arena);
	return e;
}

struct rj_element *rj_draw(struct rj_dice *dice, bool wild, struct ab_arena *arena)
{
	long number = 0;

	room_c = 10 + 15 * rj_unit(dice);
	original_sg = 1.040 + 0.025 * rj_unit(dice);
	rate_h = 0.05 + 0.1 * rj_unit(dice);
	return draw(dice, ab_journal_doc.root, wild, &number, arena);
}

/* ---- writing ---- */

struct out { char *text; size_t n, cap; struct ab_arena *arena; const struct rj_style *style; struct rj_dice dice; };

static void put(struct out *o, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

static void put(struct out *o, const char *fmt, ...)
{
	char piece[600];
	va_list args;

	va_start(args, fmt);
	int len = vsnprintf(piece, sizeof piece, fmt, args);
	va_end(args);
	ck_assert(len >= 0 && (size_t)len < sizeof piece);
	ck_assert(o->n + (size_t)len < o->cap);
	memcpy(o->text + o->n, piece, (size_t)len + 1);
	o->n += (size_t)len;
}

static void put_escaped(struct out *o, const char *text)
{
	for (; *text != '\0'; text++) {
		const char *as = *text == '&' ? "&amp;" : *text == '<' ? "&lt;" : *text == '"' ? "&quot;" : NULL;
		if (as != NULL)
			put(o, "%s", as);
		else
			put(o, "%c", *text);
	}
}

/* value = written * factor + offset, for two ways of writing a dimension. NIST SP 811:2008 appendix B. */
static const struct { int dim; const char *unit; double factor, offset; const char *other; double other_factor,
    other_offset; } ways[] = {
	{ AB_DIM_VOLUME, "L", 1, 0, "gal", 3.785411784, 0 }, { AB_DIM_MASS, "g", 1, 0, "oz", 28.349523125, 0 },
	{ AB_DIM_TEMP, "C", 1, 0, "F", 5 / 9.0, -160 / 9.0 }, { AB_DIM_TEMP_DIFF, "K", 1, 0, "F", 5 / 9.0, 0 },
	{ AB_DIM_TIME, "s", 1, 0, "min", 60, 0 }, { AB_DIM_PRESSURE, "kPa", 1, 0, "psi", 6.894757293168361, 0 },
	{ AB_DIM_GRAVITY, "SG", 1, 0, "points", 0.001, 1 }, { AB_DIM_LENGTH, "mm", 1, 0, "in", 25.4, 0 },
	{ AB_DIM_SHARE, "%", 0.01, 0, "%", 0.01, 0 }, { AB_DIM_CO2, "vol", 1, 0, "g/L", 1 / 1.9768, 0 },
	{ AB_DIM_CONC, "mg/L", 1, 0, "ppm", 1, 0 },
	{ AB_DIM_DOSE, "mL/L", 1, 0, "floz/gal", 29.5735295625 / 3.785411784, 0 },
	{ AB_DIM_CELLS, "Gcells", 1, 0, "Mcells", 0.001, 0 }, { AB_DIM_BITTERNESS, "IBU", 1, 0, "IBU", 1, 0 },
	{ AB_DIM_PH, "pH", 1, 0, "", 1, 0 },
};

/* Enough digits that both ways mean the same; never beyond an allowed end by rounding. */
static void put_quantity(struct out *o, const struct value *v)
{
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		if (ways[i].dim != v->spec->dim)
			continue;
		bool other = o->style->other_units;
		double x = other ? (v->v - ways[i].other_offset) / ways[i].other_factor
				 : (v->v - ways[i].offset) / ways[i].factor;
		put(o, "%.*f %s", fabs(x) >= 1e6 ? 5 : 8, x, other ? ways[i].other : ways[i].unit);
		return;
	}
	ck_abort_msg("no unit for dimension %d of %s", v->spec->dim, v->spec->name);
}

static void put_moment(struct out *o, double after)
{
	struct ab_when at = { .known = true, .s = after + ab_when_from_civil(2031, 3, 1) + 18 * H };
	char buf[40];

	if (o->style->other_units)
		put(o, "%s", ab_when_write(&at, buf, sizeof buf));
	else
		put(o, "+%.0fmin", after / 60);
}

static void put_value(struct out *o, const struct value *v)
{
	put(o, o->style->spread ? "\n\t%s=\"" : " %s=\"", v->spec->name);
	if (v->text != NULL)
		put_escaped(o, v->text);
	else if (v->spec->kind == AB_ATTR_WHEN)
		put_moment(o, v->v);
	else if (v->spec->kind == AB_ATTR_NUMBER)
		put(o, "%.0f", v->v);
	else
		put_quantity(o, v);
	put(o, "\"");
}

/* Fisher and Yates. */
static void shuffle(struct out *o, size_t *order, size_t n)
{
	for (size_t i = 0; i < n; i++)
		order[i] = i;
	for (size_t i = n; o->style->shuffle != 0 && i > 1; i--) {
		size_t j = rj_below(&o->dice, i), keep = order[i - 1];
		order[i - 1] = order[j];
		order[j] = keep;
	}
}

/* Brings elements of one name back into the order drawn: only different names change places. */
static void restore_within_names(const struct rj_element *e, size_t *order)
{
	for (size_t i = 0; i < e->n_held; i++)
		for (size_t j = i + 1; j < e->n_held; j++)
			if (e->held[order[i]]->spec == e->held[order[j]]->spec && order[j] < order[i]) {
				size_t keep = order[i];
				order[i] = order[j];
				order[j] = keep;
			}
}

static void put_element(struct out *o, const struct rj_element *e)
{
	size_t order[MOST_HELD];
	const char *between = o->style->spread ? "\n<!-- <pitch temp='3 C'/> -->\n" : "\n";

	put(o, "<%s", e->spec->name);
	if (e->number == 0)
		put(o, " xmlns=\"urn:afterboil:journal:1\" xmlns:x=\"urn:example:other\"");
	if (o->style->foreign)
		put(o, " x:temp=\"99 C\" x:at=\"never\"");
	if (o->style->guess > 0 && o->style->guess == e->number)
		put(o, " guess=\"yes\"");
	shuffle(o, order, e->n_values);
	for (size_t i = 0; i < e->n_values; i++)
		put_value(o, &e->values[order[i]]);
	if (e->text == NULL && e->n_held == 0) {
		put(o, "/>%s", between);
		return;
	}
	put(o, ">%s", e->text != NULL ? e->text : between);
	shuffle(o, order, e->n_held);
	restore_within_names(e, order);
	for (size_t i = 0; i < e->n_held; i++) {
		if (o->style->foreign)
			put(o,
			    "<x:pitch at=\"1999-01-01\" temp=\"5\">words <reading xmlns=\"urn:example:third\" "
			    "wort=\"40 C\"/></x:pitch>");
		put_element(o, e->held[order[i]]);
	}
	put(o, "</%s>%s", e->spec->name, between);
}

char *rj_write(const struct rj_element *batch, const struct rj_style *style, struct ab_arena *arena)
{
	struct out o = { .cap = 400000, .arena = arena, .style = style };

	o.text = malloc(o.cap);
	ck_assert_ptr_nonnull(o.text);
	rj_seed(&o.dice, style->shuffle);
	put_element(&o, batch);
	char *text = ab_arena_strdup(arena, o.text);
	free(o.text);
	return text;
}

/* ---- looking ---- */

long rj_count(const struct rj_element *batch)
{
	long n = 0;
	for (size_t i = 0; i < batch->n_held; i++)
		n += 1 + rj_count(batch->held[i]);
	return n;
}

const char *rj_name(const struct rj_element *e, long i)
{
	if (e->number == i)
		return e->spec->name;
	for (size_t j = 0; j < e->n_held; j++) {
		const char *name = rj_name(e->held[j], i);
		if (name != NULL)
			return name;
	}
	return NULL;
}

bool rj_has(const struct rj_element *e, const char *element, const char *attribute)
{
	for (size_t i = 0; strcmp(e->spec->name, element) == 0 && i < e->n_values; i++)
		if (strcmp(e->values[i].spec->name, attribute) == 0)
			return true;
	for (size_t j = 0; j < e->n_held; j++)
		if (rj_has(e->held[j], element, attribute))
			return true;
	return false;
}
