/* scan.h - where in the bytes of a journal a batch starts and ends
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_SCAN_H
#define AB_JOURNAL_SCAN_H

#include <stdbool.h>
#include <stddef.h>

struct ab_scan_batch {
	const char *start;        /* its '<' */
	const char *name;         /* as written, prefix and all */
	size_t name_len;
	bool prefixed;
	const char *end_tag;      /* the '<' of </batch>; NULL for <batch ... /> */
	const char *slash;        /* the '/' of <batch ... />; NULL otherwise */
};

/* Finds the batch whose tag starts in this line and has this id. text must be well-formed UTF-8 XML without
 * DOCTYPE. False when the id is written in a way that only a parser can read (a character reference). */
bool ab_scan_find_batch(const char *text, size_t len, const char *id, long line, struct ab_scan_batch *out);

#endif
