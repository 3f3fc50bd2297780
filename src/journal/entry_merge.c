/* entry_merge.c - what is told of a pitching, a mash, a boil and whatever else a batch has once goes onto what is
 * told already
 *
 * A batch is pitched once, but it is told in pieces: the temperature on the sheet, the packs a day later. What is
 * new is added, what was told alike is passed over, and what differs is refused: which of the two is true only the
 * brewer knows.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/entry.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/journal.h>
#include <afterboil/quantity.h>
#include "base/alloc.h"
#include "base/rough.h"
#include "journal/edit.h"

enum { VALUE = 128 };

struct merging {
	const struct ab_entry *entry;
	struct ab_arena *arena;
	const char *batch_id;
	struct ab_str now;            /* the text so far */
	long line;
	const char *added, *stays;    /* what goes onto what is there, and the moment that was told before; or NULL */
	bool any, whole;              /* something is written; all of it, as elements of its own */
	bool lives;                   /* bottles that were told gone are there again */
};

static struct ab_edit_place place_of(const struct merging *m)
{
	return (struct ab_edit_place){ ab_str_text(&m->now), m->now.len, m->batch_id, m->line };
}

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* "18 C", and "about 18 C" as well. */
static bool read_figure(const char *text, enum ab_dim dim, double *v)
{
	struct ab_quantity q;
	struct ab_rough r;
	char why[300];

	if (ab_quantity_read(text, dim, &q, why, sizeof why)) {
		*v = q.value;
		return true;
	}
	if (!ab_rough_read(text, dim, &r, why, sizeof why))
		return false;
	*v = r.value;
	return true;
}

/* "64.4 F" and "18 C" are the same; both as a journal has them. */
static bool is_same(const char *target, const char *a, const char *b)
{
	const struct ab_attr_spec *spec = ab_edit_spec(target);
	double x, y;
	char *end_a, *end_b;

	if (ab_word_cmp(a, b) == 0)
		return true;
	if (spec != NULL && spec->kind == AB_ATTR_QUANTITY)
		return read_figure(a, (enum ab_dim)spec->dim, &x) && read_figure(b, (enum ab_dim)spec->dim, &y) &&
		    fabs(x - y) <= 1e-6 * fmax(1, fabs(x));
	double p = strtod(a, &end_a), q = strtod(b, &end_b);
	return spec != NULL && spec->kind == AB_ATTR_NUMBER && *end_a == '\0' && *end_b == '\0' && fabs(p - q) <= 1e-9;
}

/* The attribute's own name: behind the '!' and the element's. */
static const char *attr_of(const struct ab_entry_set *set)
{
	return strchr(set->target, ' ') + 1;
}

static bool is_attr(const struct ab_entry_set *set, const char *attr)
{
	return strcmp(attr_of(set), attr) == 0;
}

static void told(const struct merging *m, const struct ab_entry_set *set, char value[VALUE])
{
	struct ab_edit_place place = place_of(m);

	ab_edit_value(&place, set->target + 1, value, VALUE);
}

/* Bottles that were let off are drunk later, and one was found after all were drunk: the last that became of them
 * counts, and its day. */
static bool fate_changes(const struct merging *m, const struct ab_entry *e, const struct ab_entry_set *set)
{
	enum { DATE = sizeof "2031-03-07" - 1 };
	char value[VALUE];
	bool other = false, later = false;

	for (size_t i = 0; (is_attr(set, "fate") || is_attr(set, "fate-at")) && i < e->n_said; i++) {
		if (!is_attr(&e->said[i], "fate") && !is_attr(&e->said[i], "fate-at"))
			continue;
		told(m, &e->said[i], value);
		if (is_attr(&e->said[i], "fate"))
			other = value[0] != '\0' && strcmp(value, e->said[i].value) != 0;
		else
			later = value[0] >= '0' && value[0] <= '9' && strncmp(e->said[i].value, value, DATE) > 0;
	}
	return other || later;
}

/* ---- onto what is there ---- */

static enum ab_status add_one(
    struct merging *m, const struct ab_entry *e, const struct ab_entry_set *set, struct ab_diag *diag)
{
	struct ab_edit_place place = place_of(m);
	struct ab_str next;

	ab_str_init(&next, AB_JOURNAL_LIMIT);
	/* With its '!' it takes the place of what is told. */
	enum ab_status st = ab_edit(&place, set->target + !fate_changes(m, e, set), set->value,
	    e->guess || set->rough, &next, diag);
	ab_str_clear(&m->now);
	m->now = next;
	m->added = ab_arena_printf(m->arena, "%s%s%s %s", m->added != NULL ? m->added : "",
	    m->added != NULL ? ", " : "", attr_of(set), set->value);
	m->any = true;
	return st != AB_OK ? st : m->added != NULL && ab_str_ok(&m->now) ? AB_OK : nomem(diag);
}

static enum ab_status onto(struct merging *m, const struct ab_entry *e, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < e->n_said; i++) {
		const struct ab_entry_set *set = &e->said[i];
		char value[VALUE];
		told(m, set, value);
		bool differs = value[0] != '\0' && !is_same(set->target + 1, value, set->value);
		if (value[0] == '\0' || (differs && fate_changes(m, e, set)))
			st = add_one(m, e, set, diag);
		else if (is_attr(set, "fate-at"))
			continue;
		else if (differs && is_attr(set, "at"))
			st = (m->stays = ab_arena_strdup(m->arena, value)) != NULL ? AB_OK : nomem(diag);
		else if (differs)
			st = ab_fail(diag, AB_EINPUT, NULL, 0,
			    "of the %s it is told already: %s %.60s, and this says %.60s; nothing was written. "
			    "Which is right? Change it in the journal%s",
			    e->title, attr_of(set), value, set->value,
			    strcmp(e->name, "yeast") == 0
				? ", or say yeast that went in besides in a line that begins with \"yeast\""
				: "");
	}
	return st;
}

/* ---- what became of the bottles ---- */

static bool is_told(const struct merging *m, const char *target)
{
	struct ab_edit_place place = place_of(m);
	char value[VALUE];

	ab_edit_value(&place, target, value, VALUE);
	return value[0] != '\0';
}

static const char *said_of(const struct ab_entry *e, const char *attr)
{
	for (size_t i = 0; i < e->n_said; i++)
		if (is_attr(&e->said[i], attr))
			return e->said[i].value;
	return NULL;
}

/* "poured it all away" of a beer that nobody bottled is of something else, and would hush the alarm of the bottles
 * to come. */
static enum ab_status fate_has_bottles(const struct merging *m, const struct ab_entry *e, struct ab_diag *diag)
{
	if (strcmp(e->name, "package") != 0 || said_of(e, "fate") == NULL || is_told(m, "package at") ||
	    is_told(m, "package into"))
		return AB_OK;
	return ab_fail(diag, AB_EINPUT, NULL, 0,
	    "that tells what became of all the bottles, and no bottling is told yet; nothing was written. Write the "
	    "bottling first, or write it as a note");
}

/* An attribute of the first package out of the text. */
static enum ab_status forget(struct merging *m, const char *name, struct ab_diag *diag)
{
	struct ab_scan_batch batch, package;
	struct ab_str next;
	size_t len = 0;
	const char *text = ab_str_text(&m->now),
		   *value = ab_scan_find_batch(text, m->now.len, m->batch_id, m->line, &batch) &&
		ab_scan_find_child(&batch, "package", 0, &package)
	    ? ab_scan_attribute(&package, name, &len)
	    : NULL;

	if (value == NULL)
		return AB_OK;
	const char *from = value, *to = value + len;
	while (strchr("\"'", *to) == NULL)
		to++;
	while (strncmp(from, name, strlen(name)) != 0)
		from--;
	while (from > package.attrs && strchr(" \t\r\n", from[-1]) != NULL)
		from--;
	ab_str_init(&next, AB_JOURNAL_LIMIT);
	ab_str_addn(&next, text, (size_t)(from - text));
	ab_str_addn(&next, to + 1, m->now.len - (size_t)(to + 1 - text));
	ab_str_clear(&m->now);
	m->now = next;
	m->any = m->lives = true;
	return ab_str_ok(&m->now) ? AB_OK : nomem(diag);
}

/* Bottles filled on another day are there, whatever became of those before. */
static enum ab_status forget_fate(struct merging *m, struct ab_diag *diag)
{
	enum ab_status st = forget(m, "fate-at", diag);

	return st == AB_OK ? forget(m, "fate", diag) : st;
}

/* Is it a packaging on a day that is not told of it yet? */
static bool packs_anew(const struct merging *m, const struct ab_entry *e)
{
	enum { DATE = sizeof "2031-03-07" - 1 };
	const char *at = strcmp(e->name, "package") == 0 && said_of(e, "fate") == NULL ? said_of(e, "at") : NULL;
	struct ab_edit_place place = place_of(m);
	char value[VALUE];

	ab_edit_value(&place, "package at", value, VALUE);
	if (at == NULL || strncmp(at, value, DATE) == 0)
		return false;
	/* A bottling told late is of bottles whose fate came after it. */
	ab_edit_value(&place, "package fate-at", value, VALUE);
	return !(value[0] >= '0' && value[0] <= '9' && at[0] >= '0' && at[0] <= '9' && strncmp(at, value, DATE) < 0);
}

/* ---- or beside it ---- */

static enum ab_status beside(struct merging *m, const struct ab_entry *e, struct ab_diag *diag)
{
	struct ab_scan_batch batch;
	struct ab_str next;

	if (!ab_scan_find_batch(ab_str_text(&m->now), m->now.len, m->batch_id, m->line, &batch))
		return ab_fail(diag, AB_EINPUT, NULL, m->line,
		    "the batch \"%.64s\" was not found in the text; write its id plainly", m->batch_id);
	ab_str_init(&next, AB_JOURNAL_LIMIT);
	ab_append_inside(&next, ab_str_text(&m->now), m->now.len, &batch, e->element);
	ab_str_clear(&m->now);
	m->now = next;
	m->any = true;
	return ab_str_ok(&m->now) ? AB_OK : nomem(diag);
}

/* "yeast 3 months old", "rehydrated the yeast": how it was, and nothing of what or how much. */
static bool only_describes(const struct ab_entry *e)
{
	static const char *const how[] = { "age", "kept", "rehydrated", "nutrient", "starter", "generation", NULL };

	for (size_t i = 0; i < e->n_said; i++) {
		size_t k = 0;
		while (how[k] != NULL && !is_attr(&e->said[i], how[k]))
			k++;
		if (how[k] == NULL)
			return false;
	}
	return e->n_said > 0;
}

/* Another class is another yeast. What can be told once only ("rehydrated 2 packs") tells how that was which is
 * told already. Told in a line of its own, yeast may have gone in besides: only the class that was not told yet, or
 * how the yeast was, makes it the same one. */
static bool is_one_yeast(const struct merging *m, const struct ab_entry *e, const struct ab_batch *b, bool alone)
{
	bool class = alone && (e->once || only_describes(e)), same = true, describes = class;

	for (size_t i = 0; b->yeasts.n == 1 && i < e->n_said; i++) {
		char value[VALUE];
		told(m, &e->said[i], value);
		bool differs = value[0] != '\0' && !is_same(e->said[i].target + 1, value, e->said[i].value);
		class = class || (is_attr(&e->said[i], "class") && value[0] == '\0');
		same = same && (describes || !(differs && (alone || is_attr(&e->said[i], "class"))));
	}
	return b->yeasts.n == 1 && same && (class || !alone);
}

static enum ab_status add_yeast(
    struct merging *m, const struct ab_entry *e, const struct ab_batch *b, bool alone, struct ab_diag *diag)
{
	if (is_one_yeast(m, e, b, alone))
		return onto(m, e, diag);
	m->whole = m->whole || alone;
	enum ab_status st = beside(m, e, diag);
	for (size_t i = 0; st == AB_OK && !alone && i < e->n_said; i++) {
		m->added = ab_arena_printf(m->arena, "%s%s%s %s", m->added != NULL ? m->added : "",
		    m->added != NULL ? ", " : "", attr_of(&e->said[i]), e->said[i].value);
		st = m->added != NULL ? AB_OK : nomem(diag);
	}
	return st;
}

static bool is_there(const struct merging *m, const char *name)
{
	struct ab_scan_batch batch, element;

	return ab_scan_find_batch(ab_str_text(&m->now), m->now.len, m->batch_id, m->line, &batch) &&
	    ab_scan_find_child(&batch, name, 0, &element);
}

static enum ab_status make_merged(void *ctx, const struct ab_edit_place *place, const struct ab_batch *b, char **text,
    size_t *len, struct ab_diag *diag)
{
	struct merging *m = ctx;
	const struct ab_entry *e = m->entry;
	bool pitch = strcmp(e->name, "pitch") == 0, yeast = strcmp(e->name, "yeast") == 0;
	enum ab_status st = AB_OK;

	m->line = place->line;
	ab_str_init(&m->now, AB_JOURNAL_LIMIT);
	ab_str_addn(&m->now, place->text, place->len);
	if (!ab_str_ok(&m->now))
		st = nomem(diag);
	if (st == AB_OK)
		st = fate_has_bottles(m, e, diag);
	if (st == AB_OK && !yeast) {
		bool anew = packs_anew(m, e);
		m->whole = !is_there(m, e->name);
		st = m->whole ? beside(m, e, diag) : onto(m, e, diag);
		st = st == AB_OK && anew && !m->whole ? forget_fate(m, diag) : st;
	}
	if (st == AB_OK && (yeast || e->also != NULL))
		st = add_yeast(m, pitch ? e->also : e, b, !pitch, diag);
	if (st == AB_OK && !m->any)
		st = pitch || yeast
		    ? ab_fail(diag, AB_EINPUT, NULL, 0,
			  "that the yeast went in is told already, and this adds nothing to it; nothing "
			  "was written. If more went in later, say it like \"yeast 1 packet\"")
		    : ab_fail(diag, AB_EINPUT, NULL, 0,
			  "that is told of the %s already, and this adds nothing to it; nothing was written",
			  e->title);
	*text = st == AB_OK && ab_str_ok(&m->now) ? ab_strdup(ab_str_text(&m->now)) : NULL;
	*len = m->now.len;
	ab_str_clear(&m->now);
	return st != AB_OK ? st : *text != NULL ? AB_OK : nomem(diag);
}

enum ab_status ab_entry_merge(const char *path, const char *batch_id, const struct ab_entry *entry,
    struct ab_arena *arena, const char **echo, struct ab_diag *diag)
{
	struct merging m = { .entry = entry, .arena = arena, .batch_id = batch_id };

	*echo = entry->echo;
	bool once = entry->once && entry->inside == NULL && entry->n_sets == 0;
	if (!once && strcmp(entry->name, "yeast") != 0)
		return ab_entry_write(path, batch_id, entry, diag);
	enum ab_status st = ab_edit_file(path, batch_id, make_merged, &m, diag);
	if (st != AB_OK || m.whole)
		return st;
	*echo = ab_arena_printf(arena, "to what is told of the %s already: %s%s%s%s", entry->title,
	    m.added != NULL ? m.added : "", m.lives ? "; that all bottles were gone or let off counts no more" : "",
	    m.stays == NULL                         ? ""
		: strcmp(entry->name, "pitch") == 0 ? "; the yeast went in, as told, at "
						    : "; that was, as told, at ",
	    m.stays != NULL ? m.stays : "");
	return *echo != NULL ? AB_OK : nomem(diag);
}
