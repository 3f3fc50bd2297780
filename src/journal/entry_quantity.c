/* entry_quantity.c - quantities of a line of plain words: as they are typed ("19,5 degrees C", "60g", "a week",
 * "1048"), written as a journal has them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_figures.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/spelled.h"

/* The scale in which a temperature is what the slot usually is, where it is only one: "mash 66" is none of
 * Fahrenheit. The brewer's own, where it is known; NULL when neither tells. */
static const char *scale_of(const struct sentence *s, const struct entry_slot *slot, double x)
{
	bool ranged = slot->lo < slot->hi, us = s->help != NULL && s->help->units == 2;
	bool c = ranged && x >= slot->lo && x <= slot->hi,
	     f = ranged && (x - 32) * 5 / 9 >= slot->lo && (x - 32) * 5 / 9 <= slot->hi;

	if (s->help == NULL)
		return NULL;
	/* "wort 60" may be hot. */
	if (s->help->units == 0)
		return c && !f ? "C" : f && !c && strcmp(slot->attr, "wort") != 0 ? "F" : NULL;
	return ranged && !(us ? f : c) ? NULL : us ? "F" : "C";
}

/* "degrees" alone are of the scale that is meant. */
static const char *unit_meant(
    const struct sentence *s, const struct entry_slot *slot, const char *digits, const char *said)
{
	const char *unit = ab_unit_spelled(slot->dim, said);
	/* On a brew day, where nobody counts in months. */
	bool minutes = slot->dim == AB_DIM_TIME && slot->attr != NULL &&
	    (strcmp(slot->attr, "time") == 0 || strcmp(slot->attr, "to-pitch") == 0);

	if (unit == NULL && minutes && strcmp(said, "m") == 0)
		return "min";
	if (unit == NULL || *unit != '\0')
		return unit;
	unit = slot->dim != AB_DIM_TEMP_DIFF ? scale_of(s, slot, strtod(digits, NULL))
	    : s->help == NULL || s->help->units == 0 ? NULL : s->help->units == 2 ? "F" : "K";
	return unit;
}

/* The unit at a word behind the figure, whose own word may have some of it left over; *n words more are taken. NULL
 * when none stands there. */
static const char *unit_at(
    const struct sentence *s, const struct entry_slot *slot, size_t at, const struct entry_figure *f, size_t *n)
{
	for (*n = ENTRY_JOINED + 1; (*n)-- > 0;) {
		const char *more = *n > 0 ? entry_joined(s, at, *n) : "";
		const char *said = more == NULL ? NULL : *f->tail == '\0' ? more : *n == 0 ? f->tail
		    : ab_arena_printf(s->arena, "%s %s", f->tail, more);
		const char *unit = said == NULL || *said == '\0' ? NULL : unit_meant(s, slot, f->digits, said);
		if (unit != NULL)
			return unit;
	}
	return NULL;
}

/* 1.048, 1048 and 998 are gravities without a unit; 12 may be Plato or points. The range is that of the journal. */
static const char *bare_gravity(const struct sentence *s, const char *number)
{
	double v = strtod(number, NULL);

	if (v >= 0.97 && v <= 1.25)
		return ab_arena_printf(s->arena, "%s SG", number);
	if (v >= 970 && v <= 1250 && strchr(number, '.') == NULL)
		return ab_arena_printf(s->arena, "%d.%03d SG", (int)v / 1000, (int)v % 1000);
	return NULL;
}

/* ---- one number ---- */

/* Is there another quantity that the number could be: of another dimension, with the same little word or without? */
static bool is_only_reading(const struct sentence *s, const struct entry_slot *slot, size_t key_at, bool keyed)
{
	bool empty;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *other = &s->part[p].row->slots[i];
			size_t key = entry_one_of(s, key_at, other->keys, &empty);
			bool open = (other->attr == NULL || *other->attr != '~') &&
			    (other->kind == ENTRY_QUANTITY || other->kind == ENTRY_NUMBER) &&
			    other->dim != slot->dim && !s->part[p].used[i];
			if (open && (keyed ? key > 0 : empty))
				return false;
		}
	return true;
}

/* "wort 20": where it is usual so, and can be nothing else. */
static const char *bare_temp(const struct sentence *s, const struct entry_slot *slot, size_t at, const char *digits)
{
	bool keyed = at > s->at;
	double x;

	if (slot->lo == slot->hi || !entry_plain_number(digits + (digits[0] == '-'), &x))
		return NULL;
	x = digits[0] == '-' ? -x : x;
	/* "wort 1.020" is a gravity, and "pitched at 9" may be an hour. */
	bool hour = keyed && ab_word_cmp(s->word[s->at], "at") == 0 && s->part[0].row->at != NULL &&
	    strcmp(s->part[0].row->at, "at") == 0 && x >= 1 && x <= 12 && strchr(digits, '.') == NULL;
	/* "bucket 20" may be its litres. */
	enum { LEAST_L = 5 };
	bool size = !keyed && at == s->lead && at > 0 && entry_is_filler("bucket carboy", s->word[at - 1]) &&
	    x >= LEAST_L && (s->help == NULL || s->help->units != 2);
	const char *scale =
	    bare_gravity(s, digits) != NULL || hour || size || !is_only_reading(s, slot, s->at, keyed)
	    ? NULL
	    : scale_of(s, slot, x);
	return scale != NULL ? ab_arena_printf(s->arena, "%s %s", digits, scale) : NULL;
}

/* "after 2 weeks": the 2 is no temperature. */
static bool before_a_unit(const struct sentence *s, size_t at)
{
	/* "carboy 20 L" */
	if (at < s->n && !s->breath[at] && entry_is_filler("l g", s->word[at]))
		return true;
	/* "gravity 1.020 day 5" */
	if (at + 1 < s->n && ab_word_cmp(s->word[at], "day") == 0 && isdigit((unsigned char)s->word[at + 1][0]))
		return false;
	for (int dim = AB_DIM_NONE + 1; at < s->n && !s->breath[at] && strlen(s->word[at]) > 1 &&
	     !entry_is_filler("in", s->word[at]) && dim < AB_DIM_MAX_;
	     dim++)
		if (ab_unit_spelled((enum ab_dim)dim, s->word[at]) != NULL)
			return true;
	return false;
}

/* One number and its unit. */
static size_t one(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	enum ab_dim dim = slot->dim;
	struct entry_figure f;
	size_t more = 0;

	*value = NULL;
	if (!entry_figure_at(s, at, &f) || (f.doubt && dim != AB_DIM_GRAVITY))
		return 0;
	const char *unit = unit_at(s, slot, at + f.n, &f, &more);
	if (unit != NULL)
		*value = ab_arena_printf(s->arena, "%s %s", f.digits, unit);
	else if (*f.tail == '\0' && !f.spelled && !before_a_unit(s, at + f.n))
		*value = dim == AB_DIM_GRAVITY ? bare_gravity(s, f.digits)
		    : dim == AB_DIM_PH         ? ab_arena_strdup(s->arena, f.digits)
		    : dim == AB_DIM_TEMP       ? bare_temp(s, slot, at, f.digits)
					       : NULL;
	return *value == NULL ? 0 : unit != NULL ? f.n + more : f.n;
}

static size_t half_more(const struct sentence *s, size_t at, const char **value)
{
	char *unit, digits[ENTRY_NUMBER_SIZE];
	bool empty;
	size_t half = at < s->n ? entry_one_of(s, at, "and a half", &empty) : 0,
	       quarter = at < s->n ? entry_one_of(s, at, "and a quarter", &empty) : 0;
	size_t n = half > 0 ? half : quarter;
	double x = strtod(*value, &unit);

	/* "an hour and a half" */
	if (n == 0 || unit == *value || *unit != ' ' || x != floor(x) ||
	    ab_num_text(x + (half > 0 ? 0.5 : 0.25), digits, sizeof digits) == NULL)
		return 0;
	const char *more = ab_arena_printf(s->arena, "%s%s", digits, unit);
	if (more == NULL)
		return 0;
	*value = more;
	return n;
}

/* "3d 4h" in one word, "1 hour and 20 minutes" in many. */
static size_t span(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	const struct entry_slot length = { ENTRY_QUANTITY, "", slot->attr, AB_DIM_TIME, NULL, NULL, 0, 0, NULL };
	struct ab_quantity q;
	char why[300];
	size_t n = one(s, &length, at, value), joint = 0, m;
	const char *next, *sum;

	if (n == 0 && at < s->n && ab_quantity_read(s->word[at], AB_DIM_TIME, &q, why, sizeof why)) {
		*value = s->word[at];
		n = 1;
	}
	n += n > 0 ? half_more(s, at + n, value) : 0;
	while (n > 0) {
		joint = at + n < s->n && strcasecmp(s->word[at + n], "and") == 0;
		m = one(s, &length, at + n + joint, &next);
		sum = m > 0 ? ab_arena_printf(s->arena, "%s %s", *value, next) : NULL;
		if (sum == NULL || !ab_quantity_read(sum, AB_DIM_TIME, &q, why, sizeof why))
			break;
		*value = sum;
		n += joint + m;
	}
	return n;
}

size_t entry_quantity(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = slot->dim == AB_DIM_TIME ? span(s, slot, at, value) : one(s, slot, at, value);

	return n > 0 && ab_quantity_read(*value, slot->dim, &q, why, sizeof why) ? n : 0;
}

/* ---- what else is counted ---- */

/* "at 60": brewers tell of hops by the minutes they boil, and never of longer than an hour without a word for it;
 * above that it may be how hot a stand is, and once the yeast is in, how warm dry hops are. */
static bool is_of_the_boil(const struct sentence *s, size_t at)
{
	enum { LONGEST = 60 };
	const struct ab_when *pitched = s->help != NULL ? s->help->pitched : NULL;
	bool pitched_yet = s->help == NULL || (pitched != NULL && pitched->known);
	size_t len = at < s->n ? strlen(s->word[at]) : 0;

	return at > 0 && !pitched_yet && len > 0 && len <= 2 && strspn(s->word[at], "0123456789") == len &&
	    atoi(s->word[at]) <= LONGEST && ab_word_cmp(s->word[at - 1], "at") == 0 && !before_a_unit(s, at + 1);
}

/* How long a hop was boiled tells what it is for; the bounds are those of common practice (estimate). */
size_t entry_hop_use(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value)
{
	struct ab_quantity q;
	char why[300];
	size_t n = span(s, slot, at, value);

	if (n == 0 && is_of_the_boil(s, at)) {
		*value = ab_arena_printf(s->arena, "%s min", s->word[at]);
		n = *value != NULL;
	}
	if (n == 0 || !ab_quantity_read(*value, AB_DIM_TIME, &q, why, sizeof why))
		return 0;
	enum { BITTERING, FLAVOUR, WHIRLPOOL };
	*value = slot->words[q.value >= 30 * 60 ? BITTERING : q.value > 0 ? FLAVOUR : WHIRLPOOL];
	return n;
}

/* Packs are counted in the journal without a unit. */
size_t entry_count_of(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value)
{
	size_t n = entry_quantity(s, slot, at, value);

	if (n > 0)
		*value = ab_arena_strndup(s->arena, *value, strcspn(*value, " "));
	return *value != NULL ? n : 0;
}

bool entry_has_time(const struct sentence *s)
{
	static const struct entry_slot length = { ENTRY_QUANTITY, "", "", AB_DIM_TIME, NULL, NULL, 0, 0, NULL };
	const char *value;

	for (size_t i = 0; i < s->n; i++)
		if (entry_quantity(s, &length, i, &value) > 0)
			return true;
	return false;
}

bool entry_is_gravity(const struct sentence *s, size_t at)
{
	static const struct entry_slot gravity = { ENTRY_QUANTITY, "", "", AB_DIM_GRAVITY, NULL, NULL, 0, 0, NULL };
	const char *value;

	return at < s->n && entry_quantity(s, &gravity, at, &value) > 0;
}
