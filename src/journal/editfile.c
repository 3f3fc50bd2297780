/* editfile.c - a journal's file changed by who knows how, and read again before it is replaced
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/edit.h"

#include <string.h>

#include "base/alloc.h"
#include "base/lock.h"
#include "base/savefile.h"

/* What a reading found. */
struct found { const char *id; const struct ab_batch *batch; size_t batches; };

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct found *f = ctx;
	(void)diag;
	f->batches++;
	if (strcmp(batch->id, f->id) == 0)
		f->batch = batch;
	return AB_OK;
}

static enum ab_status read_text(const char *path, const char *text, size_t len, struct ab_arena *arena,
    struct found *f, struct ab_diag *diag)
{
	/* The logs a journal names lie beside it. */
	const char *slash = strrchr(path, '/');
	const char *folder =
	    slash == NULL ? "." : ab_arena_strndup(arena, path, slash == path ? 1 : (size_t)(slash - path));
	if (folder == NULL)
		return ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	enum ab_status st = ab_journal_read_memory(text, len, path, folder, arena, on_batch, f, diag);
	if (st == AB_OK && f->batch == NULL)
		st = ab_fail(diag, AB_EINPUT, path, 0, "no batch here has the id \"%.64s\"", f->id);
	return st;
}

static enum ab_status change(const char *path, const char *batch_id, ab_edit_make *make, void *ctx,
    struct ab_arena *arena, struct ab_diag *diag)
{
	struct found before = { .id = batch_id }, after = { .id = batch_id };
	char *text = NULL, *changed = NULL;
	size_t len = 0, n = 0;
	enum ab_status st = ab_loadfile(path, AB_JOURNAL_LIMIT, &text, &len, diag);
	if (st == AB_OK)
		st = read_text(path, text, len, arena, &before, diag);
	if (st == AB_OK) {
		struct ab_edit_place place = { text, len, batch_id, before.batch->mark.line };
		st = make(ctx, &place, before.batch, &changed, &n, diag);
	}
	if (st == AB_OK)
		st = read_text(path, changed, n, arena, &after, diag);
	if (st == AB_OK && after.batches != before.batches)
		st = ab_fail(diag, AB_EINPUT, path, 0, "not changed: batches would come or go");
	if (st == AB_OK)
		st = ab_savefile(path, changed, n, diag);
	ab_free(changed);
	ab_free(text);
	return st;
}

enum ab_status ab_edit_file(const char *path, const char *batch_id, ab_edit_make *make, void *ctx,
    struct ab_diag *diag)
{
	int lock = -1;
	struct ab_arena *arena = ab_arena_new();
	enum ab_status st = arena == NULL ? ab_fail(diag, AB_ENOMEM, path, 0, "out of memory")
	    : ab_lock_beside(path, &lock, diag);
	if (st == AB_OK)
		st = change(path, batch_id, make, ctx, arena, diag);
	ab_unlock(lock);
	ab_arena_free(arena);
	return st;
}
