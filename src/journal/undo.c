/* undo.c - the last entries into the journals of a folder, and how they are taken back
 *
 * A record of the trail is one line of figures and then its texts:
 *
 *     entry KIND AT START OLD NEW FILE BATCH WORDS BEFORE AFTER
 *
 * At byte START there stood OLD bytes, now NEW; FILE, BATCH and WORDS are the lengths of these texts; the last two are digests of the whole file. Behind the
 * line stand the texts, the OLD bytes and a line feed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/undo.h>

#include <stdio.h>
#include <string.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "base/sha256.h"
#include "base/str.h"
#include "base/trail.h"
#include "journal/edit.h"

static const char mark[] = "afterboil undo 1\n";
/* Twice: what is added to a full trail is written before the oldest goes. */
enum { MOST_READ = 2 * AB_UNDO_LIMIT, LINE = 400, HEX = 65 };

struct record {
	char kind[16], at[32], before[HEX], after[HEX];
	size_t start, n_old, n_new, n_file, n_batch, n_words;
	const char *file, *batch, *words, *old;
	size_t begin, end;    /* in the trail */
};

static void digest(const char *text, size_t len, char hex[HEX])
{
	struct ab_sha256 s;

	ab_sha256_init(&s);
	ab_sha256_add(&s, text, len);
	ab_sha256_hex(&s, hex);
}

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* ---- the trail ---- */

/* False at its end, and at a record that was broken off. */
static bool next_record(const struct ab_trail *t, size_t at, struct record *r)
{
	char line[LINE];
	const char *from = t->text + at, *lf = memchr(from, '\n', t->len - at);
	size_t n = lf != NULL ? (size_t)(lf - from) : 0, left = t->len - at - (lf != NULL ? n + 1 : 0);

	if (lf == NULL || n >= sizeof line)
		return false;
	memcpy(line, from, n);
	line[n] = '\0';
	if (sscanf(line, "entry %15s %31s %zu %zu %zu %zu %zu %zu %64s %64s", r->kind, r->at, &r->start, &r->n_old, &r->n_new, &r->n_file, &r->n_batch,
	    &r->n_words, r->before, r->after) != 10)
		return false;
	/* Each alone first: a sum of what a stranger wrote may run over. */
	if (r->n_file > left || r->n_batch > left || r->n_words > left || r->n_old > left || r->n_file + r->n_batch + r->n_words + r->n_old + 1 > left)
		return false;
	r->file = lf + 1;
	r->batch = r->file + r->n_file;
	r->words = r->batch + r->n_batch;
	r->old = r->words + r->n_words;
	r->begin = at;
	r->end = (size_t)(r->old + r->n_old + 1 - t->text);
	return r->old[r->n_old] == '\n';
}

static const char *name_of(const char *path)
{
	const char *slash = strrchr(path, '/');

	return slash != NULL ? slash + 1 : path;
}

/* The newest of that file (NULL: of any). end: where the records that are whole end. */
static bool find_newest(const struct ab_trail *t, const char *file, struct record *out, size_t *end)
{
	struct record r;
	bool any = false;

	*end = t->len < sizeof mark - 1 ? t->len : sizeof mark - 1;
	while (next_record(t, *end, &r)) {
		*end = r.end;
		if (file != NULL && (strlen(file) != r.n_file || memcmp(file, r.file, r.n_file) != 0))
			continue;
		*out = r;
		any = true;
	}
	return any;
}

/* What is left when the oldest are gone. */
static size_t first_kept(const struct ab_trail *t, size_t more)
{
	struct record r;
	size_t at = sizeof mark - 1;

	while (t->len - at + more > AB_UNDO_LIMIT && next_record(t, at, &r))
		at = r.end;
	return at;
}

/* ---- an entry ---- */

struct ab_undo { char *path, *text; size_t len; struct ab_trail trail; };

static void give_up(struct ab_undo *u)
{
	ab_trail_close(&u->trail);
	ab_free(u->text);
	ab_free(u->path);
	ab_free(u);
}

enum ab_status ab_undo_begin(const char *path, struct ab_undo **out, struct ab_diag *diag)
{
	struct ab_undo *u = ab_malloc(sizeof *u);

	*out = NULL;
	if (u == NULL)
		return nomem(diag);
	*u = (struct ab_undo){ .path = ab_strdup(path), .trail = { .fd = -1 } };
	enum ab_status st = u->path == NULL ? nomem(diag) : ab_trail_open(path, AB_UNDO_NAME, mark, true, MOST_READ, &u->trail, diag);
	if (st == AB_OK)
		st = ab_loadfile(path, AB_JOURNAL_LIMIT, &u->text, &u->len, diag);
	if (st != AB_OK)
		give_up(u);
	else
		*out = u;
	return st;
}

/* The record of what differs between the two: one stretch, from the first byte to the last. */
static void build(const struct ab_undo *u, const char *now, size_t len, const struct ab_undo_entry *e, struct ab_str *out)
{
	const char *file = name_of(u->path);
	char before[HEX], after[HEX];
	size_t start = 0, tail = 0, least = len < u->len ? len : u->len;

	while (start < least && u->text[start] == now[start])
		start++;
	while (tail < least - start && u->text[u->len - 1 - tail] == now[len - 1 - tail])
		tail++;
	digest(u->text, u->len, before);
	digest(now, len, after);
	ab_str_addf(out, "entry %s %s %zu %zu %zu %zu %zu %zu %s %s\n", e->kind, e->at, start, u->len - start - tail, len - start - tail, strlen(file),
	    strlen(e->batch), strlen(e->words), before, after);
	ab_str_addf(out, "%s%s%s", file, e->batch, e->words);
	ab_str_addn(out, u->text + start, u->len - start - tail);
	ab_str_add(out, "\n");
}

static enum ab_status keep(const struct ab_undo *u, const struct ab_undo_entry *e, const char *now, size_t len, struct ab_diag *diag)
{
	struct record r;
	struct ab_str one, all;
	size_t end, from;

	ab_str_init(&one, MOST_READ);
	ab_str_init(&all, 2 * MOST_READ);
	build(u, now, len, e, &one);
	bool any = find_newest(&u->trail, NULL, &r, &end);
	struct ab_trail whole = { u->trail.fd, u->trail.text, end };
	from = any ? first_kept(&whole, one.len) : end;
	if (from > sizeof mark - 1) {
		ab_str_addn(&all, u->trail.text + from, end - from);
		end = sizeof mark - 1;
	}
	ab_str_addn(&all, ab_str_text(&one), one.len);
	/* One larger than all that is kept: the older ones would not fit to it either. */
	bool fits = one.len <= AB_UNDO_LIMIT;
	enum ab_status st = !ab_str_ok(&one) || !ab_str_ok(&all) ? nomem(diag) : ab_trail_write(&u->trail, end, ab_str_text(&all), fits ? all.len : 0, diag);
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
	enum ab_status st = ab_loadfile(undo->path, AB_JOURNAL_LIMIT, &now, &len, diag);
	if (st == AB_OK && (len != undo->len || memcmp(now, undo->text, len) != 0))
		st = keep(undo, entry, now, len, diag);
	ab_free(now);
	give_up(undo);
	return st;
}

/* ---- taken back ---- */

static const char *text_of(struct ab_arena *arena, const char *from, size_t n)
{
	char *text = ab_arena_strndup(arena, from, n);

	if (text != NULL)
		ab_text_scrub(text);
	return text;
}

static enum ab_status tell(const struct record *r, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	*out = (struct ab_undo_entry){ text_of(arena, r->kind, strlen(r->kind)), text_of(arena, r->file, r->n_file), text_of(arena, r->batch, r->n_batch),
		text_of(arena, r->words, r->n_words), text_of(arena, r->at, strlen(r->at)) };
	return out->kind != NULL && out->file != NULL && out->batch != NULL && out->words != NULL && out->at != NULL ? AB_OK : nomem(diag);
}

static enum ab_status none(const char *path, struct ab_diag *diag)
{
	return ab_fail(diag, AB_EUSAGE, path, 0, "nothing was taken back: no entry is kept that could be; what \"log\" and \"taste\" write from now on can be, "
	    "and a line of the recipe by its name (--undo hops)");
}

enum ab_status ab_undo_newest(const char *beside, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag)
{
	struct ab_trail t;
	struct record r;
	size_t end;
	enum ab_status st = ab_trail_open(beside, AB_UNDO_NAME, mark, false, MOST_READ, &t, diag);

	if (st != AB_OK)
		return st;
	st = find_newest(&t, NULL, &r, &end) ? tell(&r, arena, out, diag) : none(NULL, diag);
	ab_trail_close(&t);
	return st;
}

struct taking { const struct record *r; const struct ab_undo_entry *entry; bool gone; };

/* Only from what the entry left, to what it found. */
static enum ab_status make_back(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch, char **text, size_t *len,
    struct ab_diag *diag)
{
	struct taking *t = ctx;
	const struct record *r = t->r;
	char hex[HEX];
	struct ab_str out;
	(void)batch;

	digest(place->text, place->len, hex);
	t->gone = strcmp(hex, r->before) == 0;
	if (strcmp(hex, r->after) != 0 || r->start > place->len || r->n_new > place->len - r->start)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "nothing was taken back: the journal was changed in another way since \"%.120s\" (%s, %s), by hand or by "
		    "\"enter\", and that is not lost; take the entry out of the file by hand, or a line of the recipe by its name (--undo hops)",
		    t->entry->words, t->entry->kind, t->entry->at);
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	ab_str_addn(&out, place->text, r->start);
	ab_str_addn(&out, r->old, r->n_old);
	ab_str_addn(&out, place->text + r->start + r->n_new, place->len - r->start - r->n_new);
	digest(ab_str_text(&out), out.len, hex);
	enum ab_status st = !ab_str_ok(&out) ? nomem(diag) : strcmp(hex, r->before) == 0 ? AB_OK
	    : ab_fail(diag, AB_EINPUT, NULL, 0, "nothing was taken back: what was kept of the entry is damaged");
	/* by its length: who made the digest fit may have put a NUL in */
	*text = st == AB_OK ? ab_strndup(ab_str_text(&out), out.len) : NULL;
	*len = out.len;
	ab_str_clear(&out);
	return st == AB_OK && *text == NULL ? nomem(diag) : st;
}

static enum ab_status may_go(const char *path, const struct ab_undo_entry *e, const char *batch, const char *kind, struct ab_diag *diag)
{
	if (strcmp(e->batch, batch) != 0)
		return ab_fail(diag, AB_EUSAGE, path, 0, "nothing was taken back: the last entry in this file is of the batch \"%.64s\": \"%.120s\"", e->batch,
		    e->words);
	if (kind != NULL && strcmp(e->kind, kind) != 0)
		return ab_fail(diag, AB_EUSAGE, path, 0, "nothing was taken back: the last entry of the batch \"%.64s\" is of \"%s\" and not of \"%s\": \"%.120s\"",
		    batch, e->kind, kind, e->words);
	return AB_OK;
}

/* again: it was gone already, and its record is now. */
static enum ab_status take_newest(struct ab_trail *t, const char *path, const char *batch, const char *kind, struct ab_arena *arena,
    struct ab_undo_entry *out, bool *again, struct ab_diag *diag)
{
	struct record r;
	size_t end;

	*again = false;
	if (!find_newest(t, name_of(path), &r, &end))
		return none(path, diag);
	enum ab_status st = tell(&r, arena, out, diag);
	if (st == AB_OK)
		st = may_go(path, out, batch, kind, diag);
	struct taking taking = { &r, out, false };
	if (st == AB_OK)
		st = ab_edit_file(path, batch, make_back, &taking, diag);
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
	memmove(t->text + r.begin, t->text + r.end, end - r.end);
	t->len = end - (r.end - r.begin);
	ab_diag_init(diag);
	return AB_OK;
}

/* A loop, for a trail may come from strangers and hold thousands that are gone. */
static enum ab_status take(struct ab_trail *t, const char *path, const char *batch, const char *kind, struct ab_arena *arena, struct ab_undo_entry *out,
    struct ab_diag *diag)
{
	enum ab_status st;
	bool again;

	do
		st = take_newest(t, path, batch, kind, arena, out, &again, diag);
	while (again);
	return st;
}

enum ab_status ab_undo_take(const char *path, const char *batch, const char *kind, struct ab_arena *arena, struct ab_undo_entry *out,
    struct ab_diag *diag)
{
	struct ab_trail t;
	enum ab_status st = ab_trail_open(path, AB_UNDO_NAME, mark, false, MOST_READ, &t, diag);

	if (st == AB_OK)
		st = take(&t, path, batch, kind, arena, out, diag);
	ab_trail_close(&t);
	return st;
}
