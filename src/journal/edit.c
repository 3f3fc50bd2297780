/* edit.c - one answer into the text of a journal
 *
 * Works on bytes, as append.c does, so that comments, layout and foreign elements survive. Whether the result
 * is a journal is for the real reader to say: whoever edits reads it again before it is written.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/edit.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/journal.h>
#include <afterboil/quantity.h>
#include "journal/tables.h"

enum { PART = 64, FIXED = 160 };

/* A target taken apart. */
struct where {
	char outer[PART], inner[PART];     /* "recipe", "hop"; outer "" for a child of the batch */
	char match[FIXED], fixed[FIXED];   /* "item=hose", "for=14 d" */
	char attribute[PART];
	bool fresh, replaces;
};

/* ---- targets ---- */

/* Copies up to one of the signs in stop; false when it does not fit. */
static bool take(const char **at, const char *stop, char *to, size_t size)
{
	size_t n = strcspn(*at, stop);
	if (n >= size)
		return false;
	memcpy(to, *at, n);
	to[n] = '\0';
	*at += n;
	return true;
}

static bool take_group(const char **at, char open, const char *close, char *to, size_t size)
{
	to[0] = '\0';
	if (**at != open)
		return true;
	++*at;
	if (!take(at, close, to, size) || **at == '\0')
		return false;
	++*at;
	return true;
}

static bool parse(const char *target, struct where *w)
{
	*w = (struct where){ .fresh = target[0] == '+', .replaces = target[0] == '!' };
	target += w->fresh || w->replaces;
	if (!take(&target, "/{( ", w->inner, sizeof w->inner))
		return false;
	if (*target == '/') {
		memcpy(w->outer, w->inner, sizeof w->outer);
		target++;
		if (!take(&target, "{( ", w->inner, sizeof w->inner))
			return false;
	}
	if (!take_group(&target, '{', "}", w->match, sizeof w->match) ||
	    !take_group(&target, '(', ")", w->fixed, sizeof w->fixed))
		return false;
	return *target++ == ' ' && take(&target, "", w->attribute, sizeof w->attribute) &&
	    w->inner[0] != '\0' && w->attribute[0] != '\0';
}

static const struct ab_elem_spec *child_spec(const struct ab_elem_spec *children, const char *name)
{
	for (; children != NULL && children->name != NULL; children++)
		if (strcmp(children->name, name) == 0)
			return children;
	return NULL;
}

/* "batch" itself is the root of the document. */
static const struct ab_elem_spec *spec_of(const struct where *w)
{
	if (strcmp(w->inner, "batch") == 0)
		return ab_journal_doc.root;
	const struct ab_elem_spec *outer = w->outer[0] == '\0' ? NULL :
	    child_spec(ab_batch_children, w->outer);
	if (w->outer[0] != '\0')
		return outer == NULL ? NULL : child_spec(outer->children, w->inner);
	return child_spec(ab_batch_children, w->inner);
}

const struct ab_attr_spec *ab_edit_spec(const char *target)
{
	struct where w;
	const struct ab_elem_spec *elem = parse(target, &w) ? spec_of(&w) : NULL;
	for (const struct ab_attr_spec *a = elem == NULL ? NULL : elem->attrs; a != NULL && a->name != NULL;
	    a++)
		if (strcmp(a->name, w.attribute) == 0)
			return a;
	return NULL;
}

/* ---- finding ---- */

/* Each "key=value" of a list in turn. */
static bool next_pair(const char **at, char *key, char *value)
{
	if (**at == '\0')
		return false;
	bool good = take(at, "=", key, PART) && **at == '=';
	*at += **at == '=';
	good = good && take(at, ";", value, FIXED);
	*at += **at == ';';
	return good;
}

static bool matches(const struct ab_scan_batch *element, const char *pairs)
{
	char key[PART], value[FIXED];
	while (next_pair(&pairs, key, value)) {
		size_t len = 0;
		const char *written = ab_scan_attribute(element, key, &len);
		if (written == NULL || len != strlen(value) || memcmp(written, value, len) != 0)
			return false;
	}
	return true;
}

static bool has(const struct ab_scan_batch *element, const char *attribute)
{
	size_t len;
	return ab_scan_attribute(element, attribute, &len) != NULL;
}

/* The element to set the attribute on, or none. */
static bool find_element(const struct where *w, const struct ab_scan_batch *parent,
    struct ab_scan_batch *out)
{
	if (w->fresh)
		return false;
	for (size_t i = 0; ab_scan_find_child(parent, w->inner, i, out); i++)
		if (matches(out, w->match) && (w->replaces || !has(out, w->attribute)))
			return true;
	return false;
}

static bool find_batch(const struct ab_edit_place *p, struct ab_scan_batch *out)
{
	return ab_scan_find_batch(p->text, p->len, p->batch_id, p->line, out);
}

/* The first element that the target may mean and that has the attribute. */
static const char *told_value(const struct ab_edit_place *place, const char *target, size_t *len)
{
	struct where w;
	struct ab_scan_batch batch, outer, element;
	if (!parse(target, &w) || !find_batch(place, &batch))
		return NULL;
	if (strcmp(w.inner, "batch") == 0)
		return ab_scan_attribute(&batch, w.attribute, len);
	if (w.outer[0] != '\0' && !ab_scan_find_child(&batch, w.outer, 0, &outer))
		return NULL;
	const struct ab_scan_batch *parent = w.outer[0] != '\0' ? &outer : &batch;
	for (size_t i = 0; ab_scan_find_child(parent, w.inner, i, &element); i++)
		if (matches(&element, w.match) && has(&element, w.attribute))
			return ab_scan_attribute(&element, w.attribute, len);
	return NULL;
}

void ab_edit_value(const struct ab_edit_place *place, const char *target, char *to, size_t size)
{
	size_t len = 0;
	const char *value = told_value(place, target, &len);
	bool fits = value != NULL && len < size;
	if (fits)
		memcpy(to, value, len);
	to[fits ? len : 0] = '\0';
}

bool ab_edit_told(const struct ab_edit_place *place, const char *target)
{
	size_t len;
	return told_value(place, target, &len) != NULL;
}

/* ---- writing ---- */

void ab_edit_escape(struct ab_str *out, const char *text)
{
	for (; *text != '\0'; text++)
		switch (*text) {
		case '&': ab_str_add(out, "&amp;"); break;
		case '<': ab_str_add(out, "&lt;"); break;
		case '>': ab_str_add(out, "&gt;"); break;
		case '"': ab_str_add(out, "&quot;"); break;
		default: ab_str_addn(out, text, 1);
		}
}

static void add_attribute(struct ab_str *out, const char *name, const char *value)
{
	ab_str_addf(out, " %s=\"", name);
	ab_edit_escape(out, value);
	ab_str_add(out, "\"");
}

static void add_pairs(struct ab_str *out, const char *pairs)
{
	char key[PART], value[FIXED];
	while (next_pair(&pairs, key, value))
		add_attribute(out, key, value);
}

/* Into the start tag that is there. */
static void set_attribute(struct ab_str *out, const struct ab_edit_place *p,
    const struct ab_scan_batch *element, const char *name, const char *value, bool guess)
{
	size_t len = 0;
	const char *old = ab_scan_attribute(element, name, &len), *end = element->attrs_end;
	const char *from = p->text;
	if (old != NULL) {
		ab_str_addn(out, from, (size_t)(old - from));
		ab_edit_escape(out, value);
		from = old + len;
	}
	while (end > element->attrs && strchr(" \t\r\n", end[-1]) != NULL)
		end--;
	ab_str_addn(out, from, (size_t)(end - from));
	if (old == NULL)
		add_attribute(out, name, value);
	if (guess && !has(element, "guess"))
		ab_str_add(out, " guess=\"yes\"");
	ab_str_addn(out, end, (size_t)(p->text + p->len - end));
}

/* A new element, in its parent or with it. */
static void add_element(struct ab_str *out, const struct ab_edit_place *p, const struct where *w,
    const struct ab_scan_batch *parent, bool with_outer, const char *value, bool guess)
{
	struct ab_str e;
	ab_str_init(&e, AB_JOURNAL_LIMIT);
	if (with_outer)
		ab_str_addf(&e, "<%s>\n\t\t", w->outer);
	ab_str_addf(&e, "<%s", w->inner);
	add_pairs(&e, w->match);
	add_attribute(&e, w->attribute, value);
	add_pairs(&e, w->fixed);
	ab_str_add(&e, guess ? " guess=\"yes\"/>" : "/>");
	/* Lines of its own: more will be added inside, by this program or by hand. */
	if (with_outer)
		ab_str_addf(&e, "\n\t</%s>", w->outer);
	if (ab_str_ok(&e))
		ab_append_inside(out, p->text, p->len, parent, ab_str_text(&e));
	out->bad = out->bad || !ab_str_ok(&e);
	ab_str_clear(&e);
}

static enum ab_status no_batch(const struct ab_edit_place *p, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EINPUT, NULL, p->line,
	    "the batch \"%.64s\" was not found in the text; write its id plainly", p->batch_id);
}

static enum ab_status done(const struct ab_str *out, struct ab_diag *diag)
{
	return ab_str_ok(out) ? AB_OK : ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* May this element stand once only? Then a second one would be refused by the reader. */
static bool stands_once(const struct where *w)
{
	const struct ab_elem_spec *spec = spec_of(w);
	return spec != NULL && !spec->many;
}

/* "about 20 C", in text of that size; false of what cannot be said so, or is a guess by its words. */
static bool as_about(const char *target, const char *value, char *text, size_t size)
{
	const struct ab_attr_spec *spec = ab_edit_spec(target);
	struct ab_quantity q;
	char why[8];

	return spec != NULL && spec->kind == AB_ATTR_QUANTITY && spec->dim != AB_DIM_MONEY &&
	    ab_quantity_read(value, (enum ab_dim)spec->dim, &q, why, sizeof why) &&
	    (size_t)snprintf(text, size, "about %s", value) < size;
}

enum ab_status ab_edit(const struct ab_edit_place *place, const char *target, const char *value, bool guess,
    struct ab_str *out, struct ab_diag *diag)
{
	struct where w;
	char about[64];
	if (guess && as_about(target, value, about, sizeof about)) {
		value = about;
		guess = false;
	}
	struct ab_scan_batch batch, outer, element;
	if (!parse(target, &w) || spec_of(&w) == NULL)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "\"%.80s\" names no place in a journal", target);
	if (!find_batch(place, &batch))
		return no_batch(place, diag);
	if (strcmp(w.inner, "batch") == 0) {
		set_attribute(out, place, &batch, w.attribute, value, false);
		return done(out, diag);
	}
	bool nested = w.outer[0] != '\0';
	bool with_outer = nested && !ab_scan_find_child(&batch, w.outer, 0, &outer);
	const struct ab_scan_batch *parent = nested && !with_outer ? &outer : &batch;
	if (!with_outer && find_element(&w, parent, &element))
		set_attribute(out, place, &element, w.attribute, value, guess);
	else if (!with_outer && stands_once(&w) && ab_scan_find_child(parent, w.inner, 0, &element))
		return ab_fail(diag, AB_EINPUT, NULL, 0, "%s of <%s> is told already", w.attribute, w.inner);
	else
		add_element(out, place, &w, parent, with_outer, value, guess);
	return done(out, diag);
}

enum ab_status ab_edit_note(const struct ab_edit_place *place, const char *note, struct ab_str *out,
    struct ab_diag *diag)
{
	struct ab_scan_batch batch;
	struct ab_str e;
	if (!find_batch(place, &batch))
		return no_batch(place, diag);
	ab_str_init(&e, AB_JOURNAL_LIMIT);
	ab_str_add(&e, "<note>");
	ab_edit_escape(&e, note);
	ab_str_add(&e, "</note>");
	if (ab_str_ok(&e))
		ab_append_inside(out, place->text, place->len, &batch, ab_str_text(&e));
	out->bad = out->bad || !ab_str_ok(&e);
	ab_str_clear(&e);
	return done(out, diag);
}
