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

/* The attributes of the tag before, by the parser's names: the next tag of its kind most often has the same ones in
 * the same order. */
enum { RECORD_KEPT = 8 };
struct record_kept { const char *name; const struct ab_attr_spec *attr; };

/* Zero at first; needs: the bits of needing's required attributes, most often the last element's and the next one's are the
 * same. */
struct record_memory {
	const struct ab_elem_spec *needing, *kept_of;
	uint64_t needs;
	struct record_kept kept[RECORD_KEPT];
};

/* The attributes of one tag. arena: for what they hold. */
struct record_tag {
	const char *source;
	const struct ab_xml_attr *attrs; size_t n;
	long line;
	struct ab_arena *arena;
};

/* Fills the record (it begins with an ab_mark) from the attributes of its tag. AB_EINPUT: one is unknown, wrong or missing;
 * AB_ENOMEM. */
enum ab_status record_attrs(struct record_memory *m, const struct ab_elem_spec *spec, void *record,
    const struct record_tag *tag, struct ab_diag *diag);
/* Says what the element (NULL: one that takes none) may have instead. */
enum ab_status record_unknown_attr(const struct ab_elem_spec *spec, const char *name, const struct ab_attr_place *place,
    struct ab_diag *diag);

#endif
