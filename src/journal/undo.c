/* undo.c - the last entries into the journals of a folder, kept as they are made
 *
 * An entry is kept as one stretch of the file, from the first byte that differs to the last (undorecord.h). One
 * that goes on with the entry before takes its place: from what stood there before that one to what stands there
 * now.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/undo.h>

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "base/str.h"
#include "journal/undorecord.h"

/* absent: there is no file yet. */
struct ab_undo { char *path, *text; size_t len; bool absent; struct ab_trail trail; };

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

static void give_up(struct ab_undo *u)
{
	ab_trail_close(&u->trail);
	ab_free(u->text);
	ab_free(u->path);
	ab_free(u);
}

/* A pipe would be waited for, and beside a device no trail is begun. */
static enum ab_status is_a_file(const char *path, struct ab_diag *diag)
{
	struct stat is;

	return stat(path, &is) == 0 && !S_ISREG(is.st_mode)
	    ? ab_fail(diag, AB_EINPUT, path, 0, "is no ordinary file")
	    : AB_OK;
}

/* Once more under the trail's lock: it may have been changed while we waited. */
static enum ab_status look(struct ab_undo *u, struct ab_diag *diag)
{
	enum ab_status st = is_a_file(u->path, diag);

	if (st != AB_OK)
		return st;
	u->absent = access(u->path, F_OK) != 0;
	if (!u->absent)
		return ab_loadfile(u->path, AB_JOURNAL_LIMIT, &u->text, &u->len, diag);
	u->text = ab_strdup("");
	return u->text != NULL ? AB_OK : nomem(diag);
}

enum ab_status ab_undo_begin(const char *path, struct ab_undo **out, struct ab_diag *diag)
{
	struct ab_undo *u = ab_malloc(sizeof *u);

	*out = NULL;
	if (u == NULL)
		return nomem(diag);
	*u = (struct ab_undo){ .path = ab_strdup(path), .trail = { .fd = -1 } };
	enum ab_status st = u->path == NULL ? nomem(diag) : is_a_file(path, diag);
	if (st == AB_OK)
		st = ab_trail_open(path, AB_UNDO_NAME, UNDO_MARK, true, UNDO_MOST_READ, &u->trail, diag);
	if (st == AB_OK)
		st = look(u, diag);
	if (st != AB_OK)
		give_up(u);
	else
		*out = u;
	return st;
}

/* The record of what differs between the two: one stretch, from the first byte to the last. */
static void build(
    const struct ab_undo *u, const char *now, size_t len, const struct ab_undo_entry *e, struct ab_str *out)
{
	const char *file = undo_name(u->path);
	char before[UNDO_HEX] = UNDO_ABSENT, after[UNDO_HEX];
	size_t start = 0, tail = 0, least = len < u->len ? len : u->len;

	while (start < least && u->text[start] == now[start])
		start++;
	while (tail < least - start && u->text[u->len - 1 - tail] == now[len - 1 - tail])
		tail++;
	if (!u->absent)
		undo_digest(u->text, u->len, before);
	undo_digest(now, len, after);
	ab_str_addf(out, "entry %s %s %zu %zu %zu %zu %zu %zu %s %s\n", e->kind, e->at, start,
	    u->len - start - tail, len - start - tail, strlen(file), strlen(e->batch), strlen(e->words), before,
	    after);
	ab_str_addf(out, "%s%s%s", file, e->batch, e->words);
	ab_str_addn(out, u->text + start, u->len - start - tail);
	ab_str_add(out, "\n");
}

/* Is it the one that this entry goes on with: the newest of the file, of the same kind and batch, and nobody wrote
 * since? */
static bool is_same_sitting(const struct ab_undo *u, const struct ab_undo_entry *e, const struct undo_record *r)
{
	char hex[UNDO_HEX];

	undo_digest(u->text, u->len, hex);
	return strcmp(r->kind, e->kind) == 0 && strlen(e->batch) == r->n_batch &&
	    memcmp(e->batch, r->batch, r->n_batch) == 0 && strcmp(hex, r->after) == 0 && r->start <= u->len &&
	    r->n_new <= u->len - r->start;
}

/* What stood there before that one is what stood there before all of it; false where what was kept of it is damaged. */
static bool step_back(struct ab_undo *u, const struct undo_record *r)
{
	char hex[UNDO_HEX];
	size_t len = u->len - r->n_new + r->n_old;
	char *text = ab_malloc(len + 1);

	if (text == NULL)
		return false;
	memcpy(text, u->text, r->start);
	memcpy(text + r->start, r->old, r->n_old);
	memcpy(text + r->start + r->n_old, u->text + r->start + r->n_new, u->len - r->start - r->n_new);
	text[len] = '\0';
	undo_digest(text, len, hex);
	bool absent = len == 0 && strcmp(r->before, UNDO_ABSENT) == 0;
	if (!absent && strcmp(hex, r->before) != 0) {
		ab_free(text);
		return false;
	}
	ab_free(u->text);
	u->text = text;
	u->len = len;
	u->absent = absent;
	return true;
}

/* What is left when the oldest are gone. */
static size_t first_kept(const struct ab_trail *t, size_t end, size_t more)
{
	const struct ab_trail whole = { t->fd, t->text, end };
	struct undo_record r;
	size_t at = sizeof UNDO_MARK - 1;

	while (end - at + more > AB_UNDO_LIMIT && undo_record_next(&whole, at, &r))
		at = r.end;
	return at;
}

static enum ab_status keep(
    struct ab_undo *u, const struct ab_undo_entry *e, const char *now, size_t len, struct ab_diag *diag)
{
	struct undo_record r;
	struct ab_str one, all;
	size_t end, at;
	bool any = undo_record_newest(&u->trail, undo_name(u->path), NULL, &r, &end);

	at = end;
	if (any && e->goes_on && is_same_sitting(u, e, &r) && step_back(u, &r)) {
		at = r.begin;
		undo_record_drop(&u->trail, &r, &end);
	}
	ab_str_init(&one, UNDO_MOST_READ);
	ab_str_init(&all, 2 * UNDO_MOST_READ);
	/* Taken back one by one, nothing of it is left. */
	if (u->absent || len != u->len || memcmp(now, u->text, len) != 0)
		build(u, now, len, e, &one);
	size_t from = first_kept(&u->trail, end, one.len);
	at = from > sizeof UNDO_MARK - 1 ? sizeof UNDO_MARK - 1 : at;
	from = from > at ? from : at;
	ab_str_addn(&all, u->trail.text + from, end - from);
	ab_str_addn(&all, ab_str_text(&one), one.len);
	/* One larger than all that is kept: the older ones would not fit to it either. */
	bool fits = one.len <= AB_UNDO_LIMIT;
	enum ab_status st = !ab_str_ok(&one) || !ab_str_ok(&all)
	    ? nomem(diag)
	    : ab_trail_write(&u->trail, at, ab_str_text(&all), fits ? all.len : 0, diag);
	ab_str_clear(&one);
	ab_str_clear(&all);
	return st;
}

enum ab_status ab_undo_end(struct ab_undo *undo, const struct ab_undo_entry *entry, struct ab_diag *diag)
{
	char *now = NULL;
	size_t len = 0;

	if (undo == NULL)
		return AB_OK;
	/* Nothing came of it: there is no file still. */
	bool none = undo->absent && access(undo->path, F_OK) != 0;
	enum ab_status st = none ? AB_OK : ab_loadfile(undo->path, AB_JOURNAL_LIMIT, &now, &len, diag);
	if (st == AB_OK && !none && (undo->absent || len != undo->len || memcmp(now, undo->text, len) != 0))
		st = keep(undo, entry, now, len, diag);
	ab_free(now);
	give_up(undo);
	return st;
}
