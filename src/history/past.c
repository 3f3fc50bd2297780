/* past.c - reading the history back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/reading.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum ab_status reading_nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while reading the history");
}

/* A column's text in the arena; NULL stays NULL. False when memory is short. SQLite's text is gone with
 * the next step, so it is copied. */
static bool take_text(struct reading *r, sqlite3_stmt *q, int column, const char **out)
{
	const char *text = (const char *)sqlite3_column_text(q, column);

	*out = text != NULL ? ab_arena_strdup(r->arena, text) : NULL;
	return text == NULL || *out != NULL;
}

/* Where a text of the same few stands, or where to keep it: two that fall on one place stand side by side. */
static const char **place_of(struct reading *r, const char *text)
{
	enum { BESIDE = 4 };
	unsigned digest = 5381;

	for (const char *c = text; *c != '\0'; c++)
		digest = digest * 33 + (unsigned char)*c;
	for (unsigned i = 0; i < BESIDE; i++) {
		const char **kept = &r->lately[(digest + i) % LATELY];
		if (*kept == NULL || strcmp(*kept, text) == 0)
			return kept;
	}
	return &r->lately[digest % LATELY];
}

/* The same of names of lines, rules and vessels: one copy for many batches. */
static bool take_name(struct reading *r, sqlite3_stmt *q, int column, const char **out)
{
	const char *text = (const char *)sqlite3_column_text(q, column), **kept;

	*out = NULL;
	if (text == NULL)
		return true;
	kept = place_of(r, text);
	if (*kept == NULL || strcmp(*kept, text) != 0)
		*kept = ab_arena_strdup(r->arena, text);
	*out = *kept;
	return *out != NULL;
}

static double take_number(sqlite3_stmt *q, int column)
{
	return sqlite3_column_type(q, column) == SQLITE_NULL ? NAN : sqlite3_column_double(q, column);
}

static enum ab_status take_batch(struct reading *r, sqlite3_stmt *q, struct ab_diag *diag)
{
	struct ab_past *p = &r->past[r->count];
	int family = sqlite3_column_int(q, 4);

	r->n[r->count++] = sqlite3_column_int64(q, 0);
	p->revision = sqlite3_column_int(q, 2);
	p->family = family >= 0 && (size_t)family < r->k->n_families ? r->k->families[family].id : NULL;
	p->brewed_s = take_number(q, 5);
	p->tasted = sqlite3_column_int(q, 6) != 0;
	p->load = take_number(q, 7);
	p->load_low = take_number(q, 8);
	p->load_high = take_number(q, 9);
	p->fault_load = ab_arena_alloc(r->arena, r->k->n_faults, sizeof *p->fault_load);
	p->fault_intensity = ab_arena_alloc(r->arena, r->k->n_faults, sizeof *p->fault_intensity);
	if (!take_text(r, q, 1, &p->id) || !take_name(r, q, 3, &p->line) || !take_text(r, q, 10, &p->hash) ||
	    !take_name(r, q, 11, &p->rules) || !take_name(r, q, 12, &p->profile) ||
	    !take_name(r, q, 13, &p->program) || p->fault_load == NULL || p->fault_intensity == NULL)
		return reading_nomem(diag);
	return AB_OK;
}

/* A fault the rules no longer know is passed over: it has no place in arrays by fault. */
static enum ab_status take_fault(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	int f = ab_fault_find(r->k, (const char *)sqlite3_column_text(q, 0));

	(void)diag;
	if (f >= 0) {
		p->fault_intensity[f] = take_number(q, 1);
		p->fault_load[f] = take_number(q, 2);
	}
	return AB_OK;
}

static enum ab_status take_change(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	const char *what = (const char *)sqlite3_column_text(q, 0);
	size_t cap = p->n_changes;   /* a new array each time: batches with more than a few changes are
	                              * rare */
	const char **items = ab_arena_alloc(r->arena, cap + 1, sizeof *items);

	if (items == NULL || what == NULL)
		return reading_nomem(diag);
	for (size_t i = 0; i < p->n_changes; i++) {
		if (strcmp(p->changes[i], what) == 0)   /* journal and profile both say it */
			return AB_OK;
		items[i] = p->changes[i];
	}
	if (!take_name(r, q, 0, &items[p->n_changes]))
		return reading_nomem(diag);
	p->changes = items;
	p->n_changes++;
	return AB_OK;
}

/* The arena has no realloc: a new array for each few. */
static enum ab_status take_factor(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	enum { FEW = 4 };

	if (p->n_factors % FEW == 0) {
		struct ab_factor *items = ab_arena_alloc(r->arena, p->n_factors + FEW, sizeof *items);

		if (items == NULL)
			return reading_nomem(diag);
		for (size_t i = 0; i < p->n_factors; i++)
			items[i] = p->factors[i];
		p->factors = items;
	}
	if (!take_name(r, q, 0, &p->factors[p->n_factors].name) || !take_name(r, q, 1, &p->factors[p->n_factors].value))
		return reading_nomem(diag);
	p->n_factors++;
	return AB_OK;
}

/* One statement a kind, run once a batch: joined to the batches they would multiply the rows. */
static const struct { const char *sql; take_row *take; } hangings[] = {
	{ "SELECT id, intensity, load FROM fault WHERE n = ?1 ORDER BY id", take_fault },
	{ "SELECT what FROM change WHERE n = ?1 ORDER BY what", take_change },
	{ "SELECT name, value FROM factor WHERE n = ?1 ORDER BY name, value", take_factor },
};

/* One prepared statement for all batches, reset after each. */
static enum ab_status take_hanging(struct reading *r, const char *text, take_row *take, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;

	if (sqlite3_prepare_v2(r->store->db, text, -1, &q, NULL) != SQLITE_OK)
		st = filing_fail(r->store, diag);
	for (size_t i = 0; st == AB_OK && i < r->count; i++) {
		int rc;

		sqlite3_bind_int64(q, 1, r->n[i]);
		while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW)
			st = take(r, &r->past[i], q, diag);
		if (st == AB_OK && rc != SQLITE_DONE)
			st = filing_fail(r->store, diag);
		sqlite3_reset(q);
	}
	sqlite3_finalize(q);
	return st;
}

/* A change that a profile notes is in force from the first batch brewed on its day (both are noon) or later,
 * of its line when it names one. The store looks for that batch, for it may be older than what is read. */
static const char changed[] =
	"SELECT what, (SELECT n FROM batch AS b WHERE revision = (SELECT max(revision) FROM batch WHERE id = b.id)"
	    " AND brewed >= c.day AND (c.line IS NULL OR line = c.line) AND (?1 IS NULL OR line = ?1)"
	    " ORDER BY brewed, id LIMIT 1) FROM changed AS c ORDER BY day, what";

/* Not brewed yet is NULL, read as 0, which is the number of no row. */
static enum ab_status take_changed(struct reading *r, sqlite3_stmt *q, struct ab_diag *diag)
{
	sqlite3_int64 n = sqlite3_column_int64(q, 1);

	for (size_t i = 0; i < r->count; i++)
		if (r->n[i] == n)
			return take_change(r, &r->past[i], q, diag);
	return AB_OK;
}

static enum ab_status take_all_changed(struct reading *r, const char *line, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	if (sqlite3_prepare_v2(r->store->db, changed, -1, &q, NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW)
		st = take_changed(r, q, diag);
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	return st;
}

/* By date and then id, so that a trend reads the same on every machine; the newest first, so that who wants the
 * last few reads no more. */
static const char newest[] =
	"SELECT n, id, revision, line, family, brewed, tasted, load, load_low, load_high, hash, rules, "
	    "profile, program FROM batch AS b"
	" WHERE revision = (SELECT max(revision) FROM batch WHERE id = b.id) AND (?1 IS NULL OR line = ?1) "
	    "ORDER BY brewed DESC, id DESC LIMIT ?2";

static void oldest_first(struct reading *r)
{
	for (size_t i = 0; i < r->count / 2; i++) {
		size_t j = r->count - 1 - i;
		struct ab_past past = r->past[i];
		sqlite3_int64 n = r->n[i];

		r->past[i] = r->past[j];
		r->past[j] = past;
		r->n[i] = r->n[j];
		r->n[j] = n;
	}
}

/* Room for all of them at once: growing by doubling would leave as much again behind in the arena. */
static enum ab_status make_room(struct reading *r, const char *line, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	sqlite3_int64 most = (sqlite3_int64)r->wish.last, n = -1;

	if (sqlite3_prepare_v2(r->store->db, "SELECT count(DISTINCT id) FROM batch WHERE ?1 IS NULL OR line = ?1",
		-1, &q, NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	if (sqlite3_step(q) == SQLITE_ROW)
		n = sqlite3_column_int64(q, 0);
	sqlite3_finalize(q);
	if (n < 0)
		return filing_fail(r->store, diag);
	r->cap = (size_t)(most > 0 && most < n ? most : n);
	r->past = ab_arena_alloc(r->arena, r->cap, sizeof *r->past);
	r->n = ab_arena_alloc(r->arena, r->cap, sizeof *r->n);
	return r->past != NULL && r->n != NULL ? AB_OK : reading_nomem(diag);
}

/* Newest revisions only; ?1 NULL means every line, so one statement serves both. */
static enum ab_status take_batches(struct reading *r, const char *line, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = make_room(r, line, diag);
	int rc = SQLITE_DONE;

	if (st != AB_OK)
		return st;
	if (sqlite3_prepare_v2(r->store->db, newest, -1, &q, NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	sqlite3_bind_int64(q, 2, r->wish.last > 0 ? (sqlite3_int64)r->wish.last : -1);   /* -1: no limit */
	while (st == AB_OK && r->count < r->cap && (rc = sqlite3_step(q)) == SQLITE_ROW)
		st = take_batch(r, q, diag);
	if (st == AB_OK && rc != SQLITE_DONE && rc != SQLITE_ROW)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	oldest_first(r);
	return st;
}

enum ab_status ab_history_batches(struct ab_history *store, const struct ab_knowledge *k,
    const char *line, const struct ab_past_wish *wish, struct ab_arena *arena, struct ab_past **out,
    size_t *n, struct ab_diag *diag)
{
	struct reading r = { .store = store, .k = k, .arena = arena,
		.wish = wish != NULL ? *wish : (struct ab_past_wish){ 0 } };
	bool packed = r.wish.facts || r.wish.beliefs || r.wish.blame;
	/* one transaction, the caller's or its own: one lock instead of thousands, and nobody files in
	 * between */
	bool own = sqlite3_get_autocommit(store->db) && sqlite3_exec(store->db, "BEGIN", NULL, NULL,
	    NULL) == SQLITE_OK;
	enum ab_status st = take_batches(&r, line, diag);

	for (size_t i = 0; st == AB_OK && i < sizeof hangings / sizeof *hangings; i++)
		st = take_hanging(&r, hangings[i].sql, hangings[i].take, diag);
	if (st == AB_OK)
		st = take_all_changed(&r, line, diag);
	if (st == AB_OK && packed)
		st = reading_places(&r, diag);
	if (st == AB_OK && packed)
		st = take_hanging(&r, "SELECT facts, beliefs FROM batch WHERE n = ?1", reading_packed, diag);
	if (own)
		sqlite3_exec(store->db, "COMMIT", NULL, NULL, NULL);
	*out = r.past;
	*n = st == AB_OK ? r.count : 0;
	return st;
}

enum ab_status ab_history_days(struct ab_history *store, const char *line, struct ab_arena *arena,
    struct ab_past_day **out, size_t *n, struct ab_diag *diag)
{
	static const char days[] =
	    "SELECT brewed, tasted FROM batch AS b WHERE revision = (SELECT max(revision) FROM batch"
	    " WHERE id = b.id) AND (?1 IS NULL OR line = ?1) ORDER BY brewed, id";
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	size_t cap = 0;
	int rc = SQLITE_DONE;

	*out = NULL;
	*n = 0;
	if (sqlite3_prepare_v2(store->db, days, -1, &q, NULL) != SQLITE_OK)
		return filing_fail(store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW) {
		struct ab_past_day *day = ab_arena_push(arena, out, n, &cap, sizeof *day);

		if (day == NULL)
			st = reading_nomem(diag);
		else
			*day = (struct ab_past_day){ take_number(q, 0), sqlite3_column_int(q, 1) != 0 };
	}
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(store, diag);
	sqlite3_finalize(q);
	return st;
}

/* An error counts as "none": a trend without promises is still a trend. */
bool ab_history_promise(struct ab_history *store, const char *change, struct ab_promised *out)
{
	sqlite3_stmt *q = NULL;
	bool found = false;

	if (sqlite3_prepare_v2(store->db, "SELECT load_before, load_after, alone FROM promise WHERE change = ?1", -1,
	    &q, NULL) == SQLITE_OK) {
		sqlite3_bind_text(q, 1, change, -1, SQLITE_STATIC);
		if (sqlite3_step(q) == SQLITE_ROW) {
			*out = (struct ab_promised){ sqlite3_column_double(q, 0), sqlite3_column_double(q, 1),
				sqlite3_column_int(q, 2) != 0 };
			found = true;
		}
	}
	sqlite3_finalize(q);
	return found;
}
