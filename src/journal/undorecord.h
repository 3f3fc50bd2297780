/* undorecord.h - the records of the file that remembers the last entries
 *
 * A record of the trail is one line of figures and then its texts:
 *
 *     entry KIND AT START OLD NEW FILE BATCH WORDS BEFORE AFTER
 *
 * At byte START there stood OLD bytes, now NEW; FILE, BATCH and WORDS are the lengths of these texts; the last two
 * are digests of the whole file, of which the first is UNDO_ABSENT where there was no file. Behind the line stand
 * the texts, the OLD bytes and a line feed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_UNDORECORD_H
#define AB_JOURNAL_UNDORECORD_H

#include <afterboil/undo.h>
#include "base/trail.h"

#define UNDO_MARK "afterboil undo 1\n"
#define UNDO_ABSENT "absent"
/* Twice: what is added to a full trail is written before the oldest goes. */
enum { UNDO_MOST_READ = 2 * AB_UNDO_LIMIT, UNDO_HEX = 65 };

struct undo_record {
	char kind[16], at[32], before[UNDO_HEX], after[UNDO_HEX];
	size_t start, n_old, n_new, n_file, n_batch, n_words;
	const char *file, *batch, *words, *old;
	size_t begin, end;    /* in the trail */
};

/* The record that begins at `at`; false at the end of the trail, and at a record that was broken off. */
bool undo_record_next(const struct ab_trail *t, size_t at, struct undo_record *r);
/* The newest of that file (NULL: of any journal) and of that kind (NULL: of any but a profile's). end: where the
 * records that are whole end. */
bool undo_record_newest(
    const struct ab_trail *t, const char *file, const char *kind, struct undo_record *out, size_t *end);
/* Takes a record out of the text of the trail, whose whole records end at *end, and not out of its file. */
void undo_record_drop(struct ab_trail *t, const struct undo_record *r, size_t *end);

/* The name of a file in its folder. */
const char *undo_name(const char *path);
/* SHA-256 of a text, in letters. */
void undo_digest(const char *text, size_t len, char hex[UNDO_HEX]);

#endif
