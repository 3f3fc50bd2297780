/* journal.c - reading batch journals: the record engine, and what is done with each finished batch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/journal.h>

#include <assert.h>
#include <string.h>

#include <afterboil/check.h>
#include "base/alloc.h"
#include "journal/finish.h"
#include "journal/idset.h"
#include "journal/tables.h"

/* What the callbacks share during one reading. folder is where logs are looked for, NULL when there is no
 * such place. */
struct reading {
	const char *name, *folder;
	struct ab_arena *arena;
	ab_batch_done *done;
	void *ctx;
	bool unique;           /* ids are compared: not in a stream, whose memory must stay flat */
	struct ab_idset ids;
};

static enum ab_status no_memory(const struct reading *r, struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, r->name, 0, "out of memory");
}

/* The store and every report name a batch by its id: of two with one id the later would pass for a
 * correction of the first. */
static enum ab_status check_unique(struct reading *r, const struct ab_batch *b, struct ab_diag *diag)
{
	long earlier;
	if (!r->unique)
		return AB_OK;
	if (ab_idset_add(&r->ids, b->id, b->mark.line, &earlier) != 0)
		return no_memory(r, diag);
	if (earlier == 0)
		return AB_OK;
	return ab_fail(diag, AB_EINPUT, r->name, b->mark.line,
	    "a second batch has the id \"%.64s\" (the first is in line %ld); give each batch of a file its "
	    "own", b->id, earlier);
}

/* The order matters: derived members first, then times made absolute, for the checks compare absolute
 * times; logs last, since a refused journal should cost no reading of its logs. */
static enum ab_status on_batch(void *ctx, void *record, struct ab_diag *diag)
{
	struct reading *r = ctx;
	struct ab_batch *b = record;
	/* The caller's name may be gone when the batch is still in use. */
	b->source = ab_arena_strdup(r->arena, r->name);
	enum ab_status st = b->source != NULL ? check_unique(r, b, diag) : no_memory(r, diag);
	if (st == AB_OK)
		st = ab_batch_derive(b, diag);
	if (st == AB_OK)
		st = ab_batch_resolve(b, diag);
	if (st == AB_OK)
		st = ab_batch_check(b, diag);
	if (st == AB_OK)
		st = ab_batch_load_logs(b, r->folder, r->arena, diag);
	return st == AB_OK ? r->done(r->ctx, b, diag) : st;
}

static enum ab_status read_all(struct reading *r, const struct ab_source *source, size_t limit,
    struct ab_diag *diag)
{
	enum ab_status st = ab_records_read(source, limit, &ab_journal_doc, r->arena, on_batch, r, diag);
	ab_idset_clear(&r->ids);
	return st;
}

/* The folder part of a path, for ab_free; NULL when memory is short. A name without a slash lies where
 * the process stands, which is "." for every call that follows. */
static char *folder_of(const char *path)
{
	char *copy = ab_strdup(path);
	char *slash = copy == NULL ? NULL : strrchr(copy, '/');
	if (slash != NULL) {
		/* "/x" has the folder "/", which keeps its slash. */
		slash[slash == copy] = '\0';
		return copy;
	}
	ab_free(copy);
	return copy == NULL ? NULL : ab_strdup(".");
}

enum ab_status ab_journal_read_file(const char *path, struct ab_arena *arena, ab_batch_done *done, void *ctx,
    struct ab_diag *diag)
{
	const struct ab_source source = { .name = path, .path = path, .fd = -1 };
	char *folder = folder_of(path);
	struct reading r = { .name = path, .folder = folder, .arena = arena, .done = done, .ctx = ctx,
	    .unique = true };
	enum ab_status st = folder != NULL ? read_all(&r, &source, AB_JOURNAL_LIMIT, diag)
	    : no_memory(&r, diag);
	ab_free(folder);
	return st;
}

enum ab_status ab_journal_read_memory(const char *data, size_t len, const char *name, const char *folder,
    struct ab_arena *arena, ab_batch_done *done, void *ctx, struct ab_diag *diag)
{
	const struct ab_source source = { .name = name, .data = data, .len = len, .fd = -1 };
	struct reading r = { .name = name, .folder = folder, .arena = arena, .done = done, .ctx = ctx,
	    .unique = true };
	return read_all(&r, &source, AB_JOURNAL_LIMIT, diag);
}

/* No folder: a stream has no place of its own, and a stranger's journal must not name files of this
 * machine. No limit on bytes: the record engine bounds each batch. */
enum ab_status ab_journal_read_stream(int fd, const char *name, struct ab_arena *arena,
    ab_batch_done *done, void *ctx, struct ab_diag *diag)
{
	assert(name != NULL && done != NULL);
	const struct ab_source source = { .name = name, .fd = fd };
	struct reading r = { .name = name, .arena = arena, .done = done, .ctx = ctx };
	return read_all(&r, &source, 0, diag);
}
