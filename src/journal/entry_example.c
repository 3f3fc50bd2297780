/* entry_example.c - what can be said, by example, in the units of who asks
 *
 * The examples are written once, in metric units. For a brewer who thinks in others their figures are put into
 * round ones of those: they are examples, and no conversion of anything that was measured.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"

/* least: below it a figure stays: yeast comes in packets of 11 g everywhere. */
static const struct { const char *unit, *us; double factor, offset, least; } units[] = {
	{ "C", "F", 1.8, 32, -50 }, { "bar", "psi", 100 / 6.894757, 0, 0 }, { "L", "gal", 1 / AB_GALLON_L, 0, 0 },
	{ "kg", "lb", 1000 / AB_POUND_G, 0, 0 },
	{ "g", "oz", 1 / AB_OUNCE_G, 0, 20 },
};
enum { UNITS = sizeof units / sizeof *units };

/* Of the words [at, at + 2) of an example, where they are a figure and its unit. by: a difference. */
static bool in_us(const char *figure, const char *unit, size_t len, bool by, struct ab_str *out)
{
	char *end;
	double x = strtod(figure, &end);

	for (int i = 0; end != figure && *end == ' ' && i < UNITS; i++) {
		if (strlen(units[i].unit) != len || strncmp(unit, units[i].unit, len) != 0 || x < units[i].least)
			continue;
		double us = x * units[i].factor + (by ? 0 : units[i].offset);
		ab_str_addf(out, "%.0f %s", fmax(1, floor(us + 0.5)), units[i].us);
		return true;
	}
	return false;
}

const char *entry_example_in(const char *example, int system, struct ab_arena *arena)
{
	struct ab_str out;
	bool by = false;

	if (system != 2)
		return example;
	ab_str_init(&out, 0);
	for (const char *at = example; *at != '\0';) {
		size_t n = strcspn(at, " "), gap = strspn(at + n, " "), len = strcspn(at + n + gap, " ,");
		if (gap > 0 && in_us(at, at + n + gap, len, by, &out)) {
			at += n + gap + len;
			continue;
		}
		by = n == 2 && strncmp(at, "by", 2) == 0;
		ab_str_addn(&out, at, n + gap);
		at += n + gap;
	}
	const char *text = ab_str_ok(&out) ? ab_arena_strdup(arena, ab_str_text(&out)) : NULL;
	ab_str_clear(&out);
	return text;
}

const char *entry_example_of(const struct sentence *s)
{
	const char *text = entry_example_in(s->part[0].row->example, s->help != NULL ? s->help->units : 0, s->arena);

	/* Short of memory the metric one is no worse. */
	return text != NULL ? text : s->part[0].row->example;
}

const char *ab_entry_example(size_t i, int system, struct ab_arena *arena)
{
	const struct entry_row *row = entry_row(i);

	return row != NULL ? entry_example_in(row->example, system, arena) : NULL;
}
