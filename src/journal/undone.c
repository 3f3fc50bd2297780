/* undone.c - the last entries into the journals of a folder, told and taken back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/undo.h>

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/lock.h"
#include "base/savefile.h"
#include "base/str.h"
#include "journal/edit.h"
#include "journal/undorecord.h"

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static const char *text_of(struct ab_arena *arena, const char *from, size_t n)
{
	char *text = ab_arena_strndup(arena, from, n);

	if (text != NULL)
		ab_text_scrub(text);
	return text;
}

static enum ab_status tell(
    const struct undo_record *r, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	*out = (struct ab_undo_entry){ text_of(arena, r->kind, strlen(r->kind)), text_of(arena, r->file, r->n_file),
		text_of(arena, r->batch, r->n_batch), text_of(arena, r->words, r->n_words),
		text_of(arena, r->at, strlen(r->at)), .begun = strcmp(r->before, UNDO_ABSENT) == 0 };
	return out->kind != NULL && out->file != NULL && out->batch != NULL && out->words != NULL && out->at != NULL
	    ? AB_OK
	    : nomem(diag);
}

static enum ab_status none(const char *path, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EUSAGE, path, 0,
	    "nothing was taken back: no entry is kept that could be; what is written from now on can be, and a "
	    "line of the "
	    "recipe by its name (--undo hops)");
}

/* The newest of that file, or (NULL) of any. */
static enum ab_status newest(
    const char *beside, const char *file, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	struct ab_trail t;
	struct undo_record r;
	size_t end;
	enum ab_status st = ab_trail_open(beside, AB_UNDO_NAME, UNDO_MARK, false, UNDO_MOST_READ, &t, diag);

	if (st != AB_OK)
		return st;
	st = undo_record_newest(&t, file, NULL, &r, &end) ? tell(&r, arena, out, diag)
							  : none(file != NULL ? beside : NULL, diag);
	ab_trail_close(&t);
	return st;
}

enum ab_status ab_undo_newest(
    const char *beside, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	return newest(beside, NULL, arena, out, diag);
}

enum ab_status ab_undo_last(const char *path, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	return newest(path, undo_name(path), arena, out, diag);
}

/* ---- taken back ---- */

struct taking { const struct undo_record *r; const struct ab_undo_entry *entry; bool gone; };

static enum ab_status changed_since(const struct ab_undo_entry *e, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EUSAGE, NULL, 0,
	    "nothing was taken back: the journal was changed in another way since \"%.120s\" (%s, %s), as by "
	    "hand, and that is "
	    "not lost; take the entry out of the file by hand, or a line of the recipe by its name (--undo hops)",
	    e->words, e->kind, e->at);
}

/* Only from what the entry left, to what it found. */
static enum ab_status make_back(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *diag)
{
	struct taking *t = ctx;
	const struct undo_record *r = t->r;
	char hex[UNDO_HEX];
	struct ab_str out;
	(void)batch;

	undo_digest(place->text, place->len, hex);
	t->gone = strcmp(hex, r->before) == 0;
	if (strcmp(hex, r->after) != 0 || r->start > place->len || r->n_new > place->len - r->start)
		return changed_since(t->entry, diag);
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	ab_str_addn(&out, place->text, r->start);
	ab_str_addn(&out, r->old, r->n_old);
	ab_str_addn(&out, place->text + r->start + r->n_new, place->len - r->start - r->n_new);
	undo_digest(ab_str_text(&out), out.len, hex);
	enum ab_status st = !ab_str_ok(&out) ? nomem(diag) : strcmp(hex, r->before) == 0 ? AB_OK
	    : ab_fail(diag, AB_EINPUT, NULL, 0, "nothing was taken back: what was kept of the entry is damaged");
	/* by its length: who made the digest fit may have put a NUL in */
	*text = st == AB_OK ? ab_strndup(ab_str_text(&out), out.len) : NULL;
	*len = out.len;
	ab_str_clear(&out);
	return st == AB_OK && *text == NULL ? nomem(diag) : st;
}

/* A journal that was begun with the entry goes as a whole: where it is as the entry left it, and a file of its own. */
static enum ab_status remove_begun(
    const char *path, const struct undo_record *r, const struct ab_undo_entry *e, struct ab_diag *diag)
{
	char *text = NULL, hex[UNDO_HEX];
	size_t len = 0;
	int lock = -1;
	struct stat is;
	enum ab_status st = ab_lock_beside(path, &lock, diag);

	if (st == AB_OK)
		st = ab_loadfile(path, AB_JOURNAL_LIMIT, &text, &len, diag);
	if (st == AB_OK) {
		undo_digest(text, len, hex);
		if (strcmp(hex, r->after) != 0 || r->start != 0 || r->n_old != 0 || r->n_new != len)
			st = changed_since(e, diag);
		else if (lstat(path, &is) != 0 || !S_ISREG(is.st_mode) || unlink(path) != 0)
			st = ab_fail(diag, AB_ESYSTEM, path, 0,
			    "nothing was taken back: the journal that was begun then cannot be removed");
	}
	ab_free(text);
	ab_unlock(lock);
	return st;
}

static enum ab_status may_go(
    const char *path, const struct ab_undo_entry *e, const char *batch, const char *kind, struct ab_diag *diag)
{
	if (strcmp(e->batch, batch) != 0)
		return ab_fail(diag, AB_EUSAGE, path, 0,
		    "nothing was taken back: the last entry in this file is of the batch \"%.64s\": \"%.120s\"",
		    e->batch, e->words);
	if (kind != NULL && strcmp(e->kind, kind) != 0)
		return ab_fail(diag, AB_EUSAGE, path, 0,
		    "nothing was taken back: the last entry of the batch \"%.64s\" is of \"%s\" and not of "
		    "\"%s\": \"%.120s\"",
		    batch, e->kind, kind, e->words);
	return AB_OK;
}

/* again: it was gone already, and its record is now. */
static enum ab_status take_newest(struct ab_trail *t, const char *path, const char *batch, const char *kind,
    struct ab_arena *arena, struct ab_undo_entry *out, bool *again, struct ab_diag *diag)
{
	struct undo_record r;
	size_t end;

	*again = false;
	if (!undo_record_newest(t, undo_name(path), NULL, &r, &end))
		return none(path, diag);
	enum ab_status st = tell(&r, arena, out, diag);
	if (st == AB_OK)
		st = may_go(path, out, batch, kind, diag);
	struct taking taking = { &r, out, false };
	if (st == AB_OK)
		st = out->begun ? remove_begun(path, &r, out, diag)
				: ab_edit_file(path, batch, make_back, &taking, diag);
	/* Killed between the journal and the trail, the last time: it is gone already, and the one before is meant. */
	*again = st == AB_EUSAGE && taking.gone;
	if (st != AB_OK && !*again)
		return st;
	struct ab_diag ignored;
	ab_diag_init(&ignored);
	enum ab_status cut = ab_trail_write(t, r.begin, t->text + r.end, end - r.end, *again ? diag : &ignored);
	*again &= cut == AB_OK;
	if (!*again)
		return st;
	undo_record_drop(t, &r, &end);
	ab_diag_init(diag);
	return AB_OK;
}

/* A loop, for a trail may come from strangers and hold thousands that are gone. */
static enum ab_status take(struct ab_trail *t, const char *path, const char *batch, const char *kind,
    struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	enum ab_status st;
	bool again;

	do
		st = take_newest(t, path, batch, kind, arena, out, &again, diag);
	while (again);
	return st;
}

enum ab_status ab_undo_take(const char *path, const char *batch, const char *kind, struct ab_arena *arena,
    struct ab_undo_entry *out, struct ab_diag *diag)
{
	struct ab_trail t;
	enum ab_status st = ab_trail_open(path, AB_UNDO_NAME, UNDO_MARK, false, UNDO_MOST_READ, &t, diag);

	if (st == AB_OK)
		st = take(&t, path, batch, kind, arena, out, diag);
	ab_trail_close(&t);
	return st;
}

/* ---- changes noted in a profile ---- */

static bool find_words(const struct ab_trail *t, const char *file, const char *kind, const char *words,
    struct undo_record *out, size_t *end)
{
	struct undo_record r;
	bool any = false;

	*end = t->len < sizeof UNDO_MARK - 1 ? t->len : sizeof UNDO_MARK - 1;
	while (undo_record_next(t, *end, &r)) {
		*end = r.end;
		if (strcmp(r.kind, kind) != 0 || r.n_file != strlen(file) || memcmp(r.file, file, r.n_file) != 0 ||
		    r.n_words != strlen(words) || memcmp(r.words, words, r.n_words) != 0)
			continue;
		*out = r;
		any = true;
	}
	return any;
}

enum ab_status ab_undo_kept(
    const char *path, const char *kind, const char *words, bool forget, bool *kept, struct ab_diag *diag)
{
	struct ab_trail t;
	struct undo_record r = { .n_old = 0 };
	size_t end;
	enum ab_status st = ab_trail_open(path, AB_UNDO_NAME, UNDO_MARK, false, UNDO_MOST_READ, &t, diag);

	*kept = false;
	if (st != AB_OK)
		return st;
	*kept = find_words(&t, undo_name(path), kind, words, &r, &end);
	if (*kept && forget)
		st = ab_trail_write(&t, r.begin, t.text + r.end, end - r.end, diag);
	ab_trail_close(&t);
	return st;
}
