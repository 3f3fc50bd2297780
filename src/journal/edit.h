/* edit.h - one answer into the text of a journal, every other byte as it was
 *
 * A target says where an answer goes, in one string:
 *
 *     [+|!]path[{key=value;...}][(key=value;...)] attribute
 *
 * path is "batch", an element of it ("water"), or an element in an element ("recipe/hop"). The attribute is
 * set on the first element of that path which matches what stands in braces and lacks the attribute; where
 * there is none, a new element is added with what stands in braces, the answer, and what stands in
 * parentheses. "+" always adds a new element; "!" replaces the attribute where the first matching element has it
 * already.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_EDIT_H
#define AB_JOURNAL_EDIT_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/diag.h>
#include <afterboil/journal.h>
#include "base/record.h"
#include "base/str.h"
#include "journal/scan.h"

/* A batch in a text: as the reader found it. */
struct ab_edit_place { const char *text; size_t len; const char *batch_id; long line; };

/* Writes the new text to out. guess: a quantity is written as "about" so much, so that what stands beside it is none;
 * of what else is told the element is marked guess="yes". value is plain text and is escaped.
 * The text is not read again here; the caller does. AB_EINPUT when the batch is not found, or an element that
 * may stand once has the attribute already; AB_EUSAGE for a target that is none; AB_ENOMEM. */
enum ab_status ab_edit(const struct ab_edit_place *place, const char *target, const char *value, bool guess,
    struct ab_str *out, struct ab_diag *diag);

/* Adds <note>text</note> to the batch. */
enum ab_status ab_edit_note(const struct ab_edit_place *place, const char *note, struct ab_str *out,
    struct ab_diag *diag);

/* Does an element that the target may mean carry the attribute already? */
bool ab_edit_told(const struct ab_edit_place *place, const char *target);

/* What it carries, as written, of the first such element; "" when there is none or it does not fit. */
void ab_edit_value(const struct ab_edit_place *place, const char *target, char *to, size_t size);

/* Reads the file, hands its text and the place of the batch to make, and replaces the file by what that gives (for
 * ab_free), all under a lock. What it gives must read as a journal with as many batches. Every failure leaves the
 * file as it was: AB_EINPUT also when no batch has the id, AB_ELIMIT, AB_ESYSTEM, AB_ENOMEM, and what make gave. */
typedef enum ab_status ab_edit_make(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag);
enum ab_status ab_edit_file(const char *path, const char *batch_id, ab_edit_make *make, void *ctx,
    struct ab_diag *diag);

/* The attribute that a target names, as the journal's tables describe it; NULL when there is none. */
const struct ab_attr_spec *ab_edit_spec(const char *target);

/* Text between tags or quotes. */
void ab_edit_escape(struct ab_str *out, const char *text);

/* append.c: text with an element more inside the one given. */
void ab_append_inside(struct ab_str *out, const char *text, size_t len, const struct ab_scan_batch *batch,
    const char *element);

#endif
