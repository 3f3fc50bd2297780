/* past.c - reading the history back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* One reading of the store while it goes on. n[i] is the row of past[i]: both grow in step, which is
 * why take_batch pushes to the one with copies of the other's counters. */
struct reading {
	struct ab_history *store;
	const struct ab_knowledge *k;
	struct ab_arena *arena;
	struct ab_past *past;
	sqlite3_int64 *n;      /* row of each batch */
	size_t count, cap;
	struct place *places;  /* by the numbers of names, from 0 */
	sqlite3_int64 n_places;
	struct ab_past_wish wish;
};

struct place { int slot, cause; };   /* what a name means under the rules in hand; -1 = nothing wanted */

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while reading the history");
}

/* A column's text in the arena; NULL stays NULL. False when memory is short. SQLite's text is gone with
 * the next step, so it is copied. */
static bool take_text(struct reading *r, sqlite3_stmt *q, int column, const char **out)
{
	const unsigned char *text = sqlite3_column_text(q, column);

	*out = text != NULL ? ab_arena_strdup(r->arena, (const char *)text) : NULL;
	return text == NULL || *out != NULL;
}

static double take_number(sqlite3_stmt *q, int column)
{
	return sqlite3_column_type(q, column) == SQLITE_NULL ? NAN : sqlite3_column_double(q, column);
}

static enum ab_status take_batch(struct reading *r, sqlite3_stmt *q, struct ab_diag *diag)
{
	struct ab_past *p;
	sqlite3_int64 *n;
	size_t count = r->count, cap = r->cap;
	int family = sqlite3_column_int(q, 4);

	assert(r->count <= r->cap);
	n = ab_arena_push(r->arena, &r->n, &count, &cap, sizeof *n);
	p = n != NULL ? ab_arena_push(r->arena, &r->past, &r->count, &r->cap, sizeof *p) : NULL;
	if (p == NULL)
		return nomem(diag);
	*n = sqlite3_column_int64(q, 0);
	p->revision = sqlite3_column_int(q, 2);
	p->family = family >= 0 && (size_t)family < r->k->n_families ? r->k->families[family].id : NULL;
	p->brewed_s = take_number(q, 5);
	p->tasted = sqlite3_column_int(q, 6) != 0;
	p->load = take_number(q, 7);
	p->load_low = take_number(q, 8);
	p->load_high = take_number(q, 9);
	p->fault_load = ab_arena_alloc(r->arena, r->k->n_faults, sizeof *p->fault_load);
	p->fault_intensity = ab_arena_alloc(r->arena, r->k->n_faults, sizeof *p->fault_intensity);
	if (!take_text(r, q, 1, &p->id) || !take_text(r, q, 3, &p->line) || !take_text(r, q, 10, &p->hash) ||
	    !take_text(r, q, 11, &p->rules) || !take_text(r, q, 12, &p->profile) ||
	    !take_text(r, q, 13, &p->program) || p->fault_load == NULL || p->fault_intensity == NULL)
		return nomem(diag);
	return AB_OK;
}

/* One row that hangs on a batch. */
typedef enum ab_status take_row(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag);

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
		return nomem(diag);
	for (size_t i = 0; i < p->n_changes; i++) {
		if (strcmp(p->changes[i], what) == 0)   /* journal and profile both say it */
			return AB_OK;
		items[i] = p->changes[i];
	}
	if (!take_text(r, q, 0, &items[p->n_changes]))
		return nomem(diag);
	p->changes = items;
	p->n_changes++;
	return AB_OK;
}

/* As take_change: few a batch, and the arena has no realloc. */
static enum ab_status take_factor(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	struct ab_factor *items = ab_arena_alloc(r->arena, p->n_factors + 1, sizeof *items);

	if (items == NULL)
		return nomem(diag);
	for (size_t i = 0; i < p->n_factors; i++)
		items[i] = p->factors[i];
	if (!take_text(r, q, 0, &items[p->n_factors].name) || !take_text(r, q, 1, &items[p->n_factors].value))
		return nomem(diag);
	p->factors = items;
	p->n_factors++;
	return AB_OK;
}

/* ---- what is packed in the batch's own row ---- */

/* Numbers from a store of other rules, or a damaged one, are no index to trust. */
static struct place place_of(const struct reading *r, sqlite3_int64 name)
{
	return name > 0 && name < r->n_places ? r->places[name] : (struct place){ -1, -1 };
}

/* Whole entries only; a blob cut short loses its tail instead of being read beyond. */
static size_t entries(sqlite3_stmt *q, int column, const unsigned char **bytes)
{
	*bytes = sqlite3_column_blob(q, column);
	return *bytes == NULL ? 0 : (size_t)sqlite3_column_bytes(q, column) / FILING_ENTRY;
}

/* Names of older rules that mean nothing now are left out one by one, so an old history stays readable. A
 * wish for a few facts takes room for no more. */
static enum ab_status take_facts(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	const unsigned char *bytes;
	size_t n = entries(q, 0, &bytes), room = n;

	if (r->wish.slots != NULL && room > r->wish.n_slots)
		room = r->wish.n_slots;
	p->slots = ab_arena_alloc(r->arena, room, sizeof *p->slots);
	p->values = ab_arena_alloc(r->arena, 2 * room, sizeof *p->values);
	if (p->slots == NULL || p->values == NULL)
		return nomem(diag);
	p->us = p->values + room;
	for (size_t i = 0; i < n && p->n_facts < room; i++) {
		struct filing_entry e = filing_entry(bytes, i);

		if (place_of(r, e.name).slot < 0)
			continue;
		p->slots[p->n_facts] = place_of(r, e.name).slot;
		p->us[p->n_facts] = e.b;
		p->values[p->n_facts++] = e.a;
	}
	return AB_OK;
}

static enum ab_status take_beliefs(struct reading *r, struct ab_past *p, sqlite3_stmt *q,
    struct ab_diag *diag)
{
	const unsigned char *bytes;
	size_t n = entries(q, 1, &bytes);

	p->present = ab_arena_alloc(r->arena, 2 * r->k->n_causes, sizeof *p->present);
	if (p->present == NULL)
		return nomem(diag);
	p->blame = p->present + r->k->n_causes;
	for (size_t i = 0; i < n; i++) {
		struct filing_entry e = filing_entry(bytes, i);

		if (place_of(r, e.name).cause < 0)
			continue;
		p->present[place_of(r, e.name).cause] = e.a;
		p->blame[place_of(r, e.name).cause] = e.b;
	}
	return AB_OK;
}

static enum ab_status take_packed(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	enum ab_status st = r->wish.facts ? take_facts(r, p, q, diag) : AB_OK;

	return st == AB_OK && r->wish.beliefs ? take_beliefs(r, p, q, diag) : st;
}

/* The slot of a fact that is wanted, or -1. */
static int wanted(const struct reading *r, const char *name)
{
	int slot = ab_fact_slot(r->k->facts, name);

	if (slot < 0 || r->wish.slots == NULL)
		return slot;
	for (size_t i = 0; i < r->wish.n_slots; i++)
		if (r->wish.slots[i] == slot)
			return slot;
	return -1;
}

/* What each numbered name means here. Highest first, so one allocation is enough. */
static enum ab_status find_places(struct reading *r, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	if (sqlite3_prepare_v2(r->store->db, "SELECT k, name FROM name ORDER BY k DESC", -1, &q,
	    NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW) {
		const char *name = (const char *)sqlite3_column_text(q, 1);

		if (r->places == NULL) {   /* the first is the highest */
			r->n_places = sqlite3_column_int64(q, 0) + 1;
			r->places = ab_arena_alloc(r->arena, (size_t)r->n_places, sizeof *r->places);
		}
		if (r->places == NULL || name == NULL)
			st = nomem(diag);
		else
			r->places[sqlite3_column_int64(q, 0)] =
			    (struct place){ wanted(r, name), ab_cause_find(r->k, name) };
	}
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	return st;
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

/* Newest revisions only; ?1 NULL means every line, so one statement serves both. */
static enum ab_status take_batches(struct reading *r, const char *line, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	if (sqlite3_prepare_v2(r->store->db, newest, -1, &q, NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	sqlite3_bind_int64(q, 2, r->wish.last > 0 ? (sqlite3_int64)r->wish.last : -1);   /* -1: no limit */
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW)
		st = take_batch(r, q, diag);
	if (st == AB_OK && rc != SQLITE_DONE)
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
	bool packed = r.wish.facts || r.wish.beliefs;
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
		st = find_places(&r, diag);
	if (st == AB_OK && packed)
		st = take_hanging(&r, "SELECT facts, beliefs FROM batch WHERE n = ?1", take_packed, diag);
	if (own)
		sqlite3_exec(store->db, "COMMIT", NULL, NULL, NULL);
	*out = r.past;
	*n = st == AB_OK ? r.count : 0;
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
