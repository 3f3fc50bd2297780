/* scan.h - where in the bytes of a journal a batch starts and ends
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_SCAN_H
#define AB_JOURNAL_SCAN_H

#include <stdbool.h>
#include <stddef.h>

/* A batch, or any other element. */
struct ab_scan_batch {
	const char *start;        /* its '<' */
	const char *name;         /* as written, prefix and all */
	size_t name_len;
	bool prefixed;
	const char *end_tag;      /* the '<' of </batch>; NULL for <batch ... /> */
	const char *slash;        /* the '/' of <batch ... />; NULL otherwise */
	const char *attrs, *attrs_end;   /* from after the name to the '>', or the '/' before it */
};

/* Finds the batch whose tag starts in this line and has this id. text must be well-formed UTF-8 XML without
 * DOCTYPE. False when the id is written in a way that only a parser can read (a character reference). */
bool ab_scan_find_batch(const char *text, size_t len, const char *id, long line, struct ab_scan_batch *out);

/* Finds the nth (from 0) element of this name directly inside parent, written with the parent's prefix or
 * none alike. */
bool ab_scan_find_child(const struct ab_scan_batch *parent, const char *name, size_t nth,
    struct ab_scan_batch *out);

/* The value of an attribute as written between its quotes (blanks at both ends cut); NULL when it is not
 * there. */
const char *ab_scan_attribute(const struct ab_scan_batch *element, const char *name, size_t *len);

/* The root element, whatever its name; the same conditions. */
bool ab_scan_find_root(const char *text, size_t len, struct ab_scan_batch *out);

#endif
