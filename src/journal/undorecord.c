/* undorecord.c - the records of the file that remembers the last entries, read from a trail that may be a stranger's
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/undorecord.h"

#include <stdio.h>
#include <string.h>

#include "base/sha256.h"

enum { LINE = 400 };

void undo_digest(const char *text, size_t len, char hex[UNDO_HEX])
{
	struct ab_sha256 s;

	ab_sha256_init(&s);
	ab_sha256_add(&s, text, len);
	ab_sha256_hex(&s, hex);
}

const char *undo_name(const char *path)
{
	const char *slash = strrchr(path, '/');

	return slash != NULL ? slash + 1 : path;
}

bool undo_record_next(const struct ab_trail *t, size_t at, struct undo_record *r)
{
	char line[LINE];
	const char *from = t->text + at, *lf = memchr(from, '\n', t->len - at);
	size_t n = lf != NULL ? (size_t)(lf - from) : 0, left = t->len - at - (lf != NULL ? n + 1 : 0);

	if (lf == NULL || n >= sizeof line)
		return false;
	memcpy(line, from, n);
	line[n] = '\0';
	if (sscanf(line, "entry %15s %31s %zu %zu %zu %zu %zu %zu %64s %64s", r->kind, r->at, &r->start, &r->n_old,
		&r->n_new, &r->n_file, &r->n_batch, &r->n_words, r->before, r->after) != 10)
		return false;
	/* Each alone first: a sum of what a stranger wrote may run over. */
	if (r->n_file > left || r->n_batch > left || r->n_words > left || r->n_old > left ||
	    r->n_file + r->n_batch + r->n_words + r->n_old + 1 > left)
		return false;
	r->file = lf + 1;
	r->batch = r->file + r->n_file;
	r->words = r->batch + r->n_batch;
	r->old = r->words + r->n_words;
	r->begin = at;
	r->end = (size_t)(r->old + r->n_old + 1 - t->text);
	return r->old[r->n_old] == '\n';
}

bool undo_record_newest(
    const struct ab_trail *t, const char *file, const char *kind, struct undo_record *out, size_t *end)
{
	struct undo_record r;
	bool any = false;

	*end = t->len < sizeof UNDO_MARK - 1 ? t->len : sizeof UNDO_MARK - 1;
	while (undo_record_next(t, *end, &r)) {
		*end = r.end;
		bool fits = kind != NULL ? strcmp(r.kind, kind) == 0 : strcmp(r.kind, AB_UNDO_CHANGED) != 0;
		if (!fits || (file != NULL && (strlen(file) != r.n_file || memcmp(file, r.file, r.n_file) != 0)))
			continue;
		*out = r;
		any = true;
	}
	return any;
}

void undo_record_drop(struct ab_trail *t, const struct undo_record *r, size_t *end)
{
	memmove(t->text + r->begin, t->text + r->end, *end - r->end);
	t->len = *end = *end - (r->end - r->begin);
}
