/* record_attrs.h - what record.c and record_attrs.c share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_RECORD_ATTRS_H
#define AB_BASE_RECORD_ATTRS_H

#include <stdint.h>

#include "base/attr.h"
#include "base/record.h"

/* Attributes or children of one element: one bit each, or one place in a message's list. */
enum { RECORD_SPECS = 64 };

/* What is remembered of one kind of element, by the parser's names: which attributes the last such tag had (most
 * often the next one has the same in the same order), and the bits of those that are required. */
enum { RECORD_KEPT = 8 };
struct record_kept { const char *name; const struct ab_attr_spec *attr; };
struct record_kind {
	const struct ab_elem_spec *spec;
	uint64_t needs;
	struct record_kept kept[RECORD_KEPT];
};
/* Which element a name is within another. */
struct record_child { const struct ab_elem_spec *parent, *child; const char *name; };

/* Zero at first. A kind and a child have one place each where they may be; another that needs it takes it. */
enum { RECORD_PLACES = 64 };
struct record_memory { struct record_kind kinds[RECORD_PLACES]; struct record_child children[RECORD_PLACES]; };

/* The attributes of one tag. arena: for what they hold. */
struct record_tag {
	const char *source;
	const struct ab_xml_attr *attrs; size_t n;
	long line;
	struct ab_arena *arena;
	const struct ab_by_hand *by_hand;
};

/* The row of a child by its name, NULL when there is none. */
const struct ab_elem_spec *record_child(struct record_memory *m, const struct ab_elem_spec *parent, const char *name);

/* Fills the record (it begins with an ab_mark) from the attributes of its tag. AB_EINPUT: one is unknown, wrong or
 * missing; AB_ENOMEM. */
enum ab_status record_attrs(struct record_memory *m, const struct ab_elem_spec *spec, void *record,
    const struct record_tag *tag, struct ab_diag *diag);
/* Says what the element (NULL: one that takes none) may have instead. */
enum ab_status record_unknown_attr(const struct ab_elem_spec *spec, const char *name, const struct ab_attr_place *place,
    struct ab_diag *diag);

#endif
