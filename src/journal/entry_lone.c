/* entry_lone.c - a number that no part of a line takes: which unit it lacks, which of two it is, and how it would
 * be right
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/entry_lone.h"

#include <stdio.h>
#include <string.h>

#include "base/spelled.h"
#include "journal/edit.h"

enum { NUMBER = 32, LIST = 400 };

const char *entry_instead(const struct sentence *s, const struct entry_lone *l, const char *text)
{
	const char *behind = l->at + l->n < s->n ? s->raw[l->at + l->n] : "";

	return ab_arena_printf(s->arena, "%.*s%s%s%s", (int)(s->raw[l->at] - s->said), s->said, text,
	    *behind == '\0' ? "" : s->breath[l->at + l->n] ? ", " : " ", behind);
}

bool entry_lone_at(const struct sentence *s, size_t at, struct entry_lone *out)
{
	char digits[NUMBER];
	const char *word = at < s->n ? s->word[at] : "";

	*out = (struct entry_lone){ .at = at, .n = 1, .shown = word };
	if (at >= s->n || !ab_number_typed(word + (word[0] == '~'), digits, sizeof digits, &out->tail, &out->thousands))
		return false;
	out->number = ab_arena_strdup(s->arena, digits);
	return out->number != NULL;
}

size_t entry_open_slots(const struct sentence *s, size_t at, bool keyed, struct entry_open *out)
{
	size_t n = 0;
	bool empty;

	for (size_t p = 0; p < s->n_parts; p++)
		for (size_t i = 0; i < ENTRY_SLOTS && s->part[p].row->slots[i].kind != ENTRY_NONE; i++) {
			const struct entry_slot *slot = &s->part[p].row->slots[i];
			size_t key = entry_one_of(s, at, slot->keys, &empty);
			bool fits = slot->kind == ENTRY_QUANTITY && *slot->attr != '~' && !s->part[p].used[i] &&
			    (keyed ? key > 0 : empty);
			if (fits && n < ENTRY_SLOTS)
				out[n++] = (struct entry_open){ s->part[p].row, slot };
		}
	return n;
}

/* Would the journal hold it? Nobody is told to write what is refused then. */
static bool journal_takes(const struct sentence *s, const struct entry_open *o, const char *text)
{
	const char *target = ab_arena_printf(
	    s->arena, "%s%s %s", o->row->inside != NULL ? "recipe/" : "", o->row->element, o->slot->attr);
	const struct ab_attr_spec *spec = target != NULL ? ab_edit_spec(target) : NULL;
	struct ab_quantity q;
	char why[300];

	return spec == NULL || (ab_quantity_read(text, o->slot->dim, &q, why, sizeof why) &&
	    ((spec->lo == 0 && spec->hi == 0) || (q.value >= spec->lo && q.value <= spec->hi)));
}

static void add(char *list, const char *between, const char *text)
{
	size_t used = strlen(list);

	snprintf(list + used, LIST - used, "%s%s", used > 0 ? between : "", text);
}

const char *entry_no_unit(const struct sentence *s, struct entry_lone *l, const struct entry_open *slots, size_t n)
{
	char ways[LIST] = "", units[LIST] = "";
	bool degrees = l->at + 1 < s->n && ab_unit_spelled(AB_DIM_TEMP, s->word[l->at + 1]) != NULL;

	l->n += degrees;
	for (size_t i = 0; i < n; i++) {
		bool fahrenheit = slots[i].slot->dim == AB_DIM_TEMP && s->help != NULL && s->help->units == 2;
		const char *usual = fahrenheit ? "F|C" : ab_dim_usual(slots[i].slot->dim);
		if (degrees && slots[i].slot->dim != AB_DIM_TEMP)
			continue;
		add(units, "; ", ab_dim_units(slots[i].slot->dim));
		for (size_t k = 0; *usual != '\0' && k < (n > 1 ? 1 : 2);) {
			size_t len = strcspn(usual, "|");
			const char *text = ab_arena_printf(s->arena, "%s %.*s", l->number, (int)len, usual);
			usual += len + (usual[len] == '|');
			if (text != NULL && !journal_takes(s, &slots[i], text))
				continue;
			k++;
			const char *way = text != NULL ? entry_instead(s, l, text) : NULL;
			enum ab_status st = way != NULL ? entry_understood(s, way) : AB_ENOMEM;
			if (st == AB_ENOMEM)
				return NULL;
			if (st != AB_OK)
				continue;
			const char *quoted = way != NULL ? ab_arena_printf(s->arena, "\"%s\"", way) : NULL;
			if (quoted == NULL)
				return NULL;
			entry_offer(s, way);
			add(ways, " or ", quoted);
		}
	}
	const char *shown = degrees ? entry_joined(s, l->at, 2) : l->shown,
		   *tail = ways[0] == '\0' ? entry_tail(s) : "";
	bool one = n == 1 && units[0] != '\0';
	if (shown == NULL || tail == NULL)
		return NULL;
	return ab_arena_printf(s->arena, "\"%s\" has no unit that tells what it is%s%s%s%s%s%s", shown,
	    ways[0] != '\0' ? "; write it like " : "", ways, one ? " (units: " : "", one ? units : "",
	    one ? ")" : "", tail);
}

const char *entry_which_number(const struct sentence *s, struct entry_lone *l)
{
	char joined[NUMBER];
	size_t whole = strcspn(l->number, ".");
	const char *small = ab_arena_printf(s->arena, "%s%s", l->number, l->tail), *large, *a, *b;

	snprintf(joined, sizeof joined, "%.*s%s", (int)whole, l->number, l->number + whole + 1);
	large = ab_arena_printf(s->arena, "%s%s", joined, l->tail);
	a = small != NULL ? entry_instead(s, l, small) : NULL;
	b = large != NULL ? entry_instead(s, l, large) : NULL;
	if (a == NULL || b == NULL)
		return NULL;
	entry_offer(s, a);
	entry_offer(s, b);
	return ab_arena_printf(
	    s->arena, "\"%s\" may be %s or %s; write \"%s\" or \"%s\"", l->shown, small, large, a, b);
}

const char *entry_wrong_unit(
    const struct sentence *s, const struct entry_lone *l, const struct entry_open *slots, size_t n)
{
	char what[LIST] = "";
	const char *shown = *l->tail != '\0' || l->at + 1 >= s->n ? l->shown : entry_joined(s, l->at, 2);

	for (size_t i = 0; i < n; i++) {
		const char *text = n > 1 ? ab_dim_name(slots[i].slot->dim)
					 : ab_arena_printf(s->arena, "%s (%s)", ab_dim_name(slots[i].slot->dim),
					       ab_dim_units(slots[i].slot->dim));
		if (text == NULL)
			return NULL;
		if (strstr(what, text) == NULL)
			add(what, " or ", text);
	}
	const char *tail = entry_tail(s);
	return shown == NULL || tail == NULL
	    ? NULL
	    : ab_arena_printf(s->arena, "\"%s\" has no place in a line about %s; %s may have%s", shown,
		  s->part[0].row->title, what, tail);
}

bool entry_has_unit(const struct sentence *s, const struct entry_lone *l)
{
	if (*l->tail != '\0')
		return true;
	for (int dim = 0; l->at + 1 < s->n && dim < AB_DIM_MAX_; dim++) {
		const char *unit = ab_unit_spelled((enum ab_dim)dim, s->word[l->at + 1]);
		if (unit != NULL && *unit != '\0')
			return true;
	}
	return false;
}

bool entry_lone_gravity(const struct entry_lone *l)
{
	size_t len = strlen(l->number);
	bool dotted = len >= 4 &&
	    (strncmp(l->number, "1.0", 3) == 0 || strncmp(l->number, "1.1", 3) == 0 ||
		strncmp(l->number, "0.99", 4) == 0);

	return dotted || (len == 4 && (strncmp(l->number, "10", 2) == 0 || strncmp(l->number, "11", 2) == 0));
}

const char *entry_a_gravity(const struct sentence *s, const struct entry_lone *l)
{
	const char *now = ab_arena_printf(s->arena, "gravity %s", l->number),
		   *og = ab_arena_printf(s->arena, "og %s", l->number);

	entry_offer(s, now);
	entry_offer(s, og);
	return now == NULL || og == NULL
	    ? NULL
	    : ab_arena_printf(s->arena,
		  "\"%s\" looks like a gravity, and this line is about %s; write \"%s\" or \"%s\"", l->shown,
		  s->part[0].row->title, now, og);
}
