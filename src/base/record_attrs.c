/* record_attrs.c - the attributes of an element into its struct, found quickly where tags repeat
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/record_attrs.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

static const struct ab_attr_spec *find_attr(const struct ab_attr_spec *specs, const char *name)
{
	for (; specs != NULL && specs->name != NULL; specs++)
		if (specs->name[0] == name[0] && strcmp(specs->name, name) == 0)
			return specs;
	return NULL;
}

/* The same for the i-th attribute of a tag; a name at the same address is the same name (xmlin.h). */
static const struct ab_attr_spec *attr_at(struct record_kind *kind, size_t i, const char *name)
{
	if (i >= RECORD_KEPT)
		return find_attr(kind->spec->attrs, name);
	struct record_kept *kept = &kind->kept[i];
	if (kept->name != name)
		*kept = (struct record_kept){ name, find_attr(kind->spec->attrs, name) };
	return kept->attr;
}

static uint64_t needs_of(const struct ab_elem_spec *spec)
{
	uint64_t needs = 0;
	for (size_t i = 0; spec->attrs != NULL && spec->attrs[i].name != NULL; i++)
		needs |= (uint64_t)spec->attrs[i].required << i;
	return needs;
}

/* Rows of one table stand side by side, and so do their places. */
static struct record_kind *kind_of(struct record_memory *m, const struct ab_elem_spec *spec)
{
	struct record_kind *kind = &m->kinds[(uintptr_t)spec / sizeof *spec % RECORD_PLACES];
	if (kind->spec != spec)
		*kind = (struct record_kind){ .spec = spec, .needs = needs_of(spec) };
	return kind;
}

static const struct ab_elem_spec *find_elem(const struct ab_elem_spec *specs, const char *name)
{
	for (; specs != NULL && specs->name != NULL; specs++)
		if (specs->name[0] == name[0] && strcmp(specs->name, name) == 0)
			return specs;
	return NULL;
}

const struct ab_elem_spec *record_child(struct record_memory *m, const struct ab_elem_spec *parent, const char *name)
{
	struct record_child *c = &m->children[(uintptr_t)name / 8 % RECORD_PLACES];
	if (c->name != name || c->parent != parent)
		*c = (struct record_child){ parent, find_elem(parent->children, name), name };
	return c->child;
}

enum ab_status record_unknown_attr(const struct ab_elem_spec *spec, const char *name,
    const struct ab_attr_place *place, struct ab_diag *diag)
{
	const char *names[RECORD_SPECS + 2];
	char what[96];
	size_t n = 0;
	if (spec != NULL && spec->attrs != NULL)
		for (const struct ab_attr_spec *a = spec->attrs; a->name != NULL && n < RECORD_SPECS; a++)
			names[n++] = a->name;
	if (spec != NULL && spec->may_guess)
		names[n++] = "guess";
	names[n] = NULL;
	snprintf(what, sizeof what, "in <%.64s> the attribute", place->element);
	return ab_attr_unknown(what, name, names, place, diag);
}

/* guess is no row of each table but a mark of the record: it says how sure the whole element is. */
static enum ab_status read_guess(struct ab_mark *mark, const char *value, const struct ab_attr_place *place,
    struct ab_diag *diag)
{
	int answer = AB_UNKNOWN;
	enum ab_status st = ab_attr_yesno("guess", value, &answer, place, diag);
	mark->guess |= answer == AB_YES;
	return st;
}

/* Only the root's id and date and the like are required: unknown must always be sayable by leaving out. */
static enum ab_status check_required(const struct record_kind *kind, uint64_t seen, const struct ab_attr_place *place,
    struct ab_diag *diag)
{
	uint64_t missing = kind->needs & ~seen;
	size_t i = 0;
	if (missing == 0)
		return AB_OK;
	while (!(missing >> i & 1))
		i++;
	return ab_fail(diag, AB_EINPUT, place->source, place->line,
	    "<%s> has no %s; it is one of the few things that must be there", kind->spec->name,
	    kind->spec->attrs[i].name);
}

/* Attributes of other namespaces (xml:lang, schema hints) are passed over. */
enum ab_status record_attrs(struct record_memory *m, const struct ab_elem_spec *spec, void *record,
    const struct record_tag *tag, struct ab_diag *diag)
{
	struct ab_attr_place place = { tag->source, spec->name, tag->line, tag->by_hand };
	struct ab_mark *mark = record;
	struct record_kind *kind = kind_of(m, spec);
	uint64_t seen = 0;
	mark->line = tag->line;
	for (size_t i = 0; i < tag->n; i++) {
		if (tag->attrs[i].ns != NULL)
			continue;
		enum ab_status st;
		const struct ab_attr_spec *a = attr_at(kind, i, tag->attrs[i].name);
		if (a != NULL) {
			assert(a - spec->attrs < RECORD_SPECS);
			/* One bit a row; XML itself forbids an attribute twice in one tag. */
			seen |= (uint64_t)1 << (a - spec->attrs);
			if (ab_attr_plain(a, tag->attrs[i].value, record))
				continue;
			st = ab_attr_store(a, tag->attrs[i].value, tag->attrs[i].len, record, tag->arena, &place, diag);
		} else if (spec->may_guess && strcmp(tag->attrs[i].name, "guess") == 0) {
			st = read_guess(mark, tag->attrs[i].value, &place, diag);
		} else {
			st = record_unknown_attr(spec, tag->attrs[i].name, &place, diag);
		}
		if (st != AB_OK)
			return st;
	}
	return check_required(kind, seen, &place, diag);
}
