/* past.c - reading the history back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <math.h>
#include <stdlib.h>

struct reading {
	struct ab_history *store;
	const struct ab_knowledge *k;
	struct ab_arena *arena;
	struct ab_past *past;
	sqlite3_int64 *n;      /* row of each batch */
	size_t count, cap;
};

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while reading the history");
}

/* A column's text in the arena; NULL stays NULL. False when memory is short. */
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
	p->present = ab_arena_alloc(r->arena, r->k->n_causes, sizeof *p->present);
	if (!take_text(r, q, 1, &p->id) || !take_text(r, q, 3, &p->line) || !take_text(r, q, 10, &p->hash) || !take_text(r, q, 11, &p->rules) ||
	    p->fault_load == NULL || p->fault_intensity == NULL || p->present == NULL)
		return nomem(diag);
	return AB_OK;
}

/* One row that hangs on a batch. */
typedef enum ab_status take_row(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag);

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

static enum ab_status take_belief(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	int i = ab_cause_find(r->k, (const char *)sqlite3_column_text(q, 0));

	(void)diag;
	if (i >= 0)
		p->present[i] = take_number(q, 1);
	return AB_OK;
}

static enum ab_status take_change(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	size_t cap = p->n_changes;   /* a new array each time: batches with more than a few changes are rare */
	const char **items = ab_arena_alloc(r->arena, cap + 1, sizeof *items);

	if (items == NULL)
		return nomem(diag);
	for (size_t i = 0; i < p->n_changes; i++)
		items[i] = p->changes[i];
	if (!take_text(r, q, 0, &items[p->n_changes]))
		return nomem(diag);
	p->changes = items;
	p->n_changes++;
	return AB_OK;
}

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

static enum ab_status take_fact(struct reading *r, struct ab_past *p, sqlite3_stmt *q, struct ab_diag *diag)
{
	int slot = ab_fact_slot(r->k->facts, (const char *)sqlite3_column_text(q, 0));

	if (slot < 0)
		return AB_OK;
	if (p->slots == NULL) {
		p->slots = ab_arena_alloc(r->arena, r->k->facts->n, sizeof *p->slots);
		p->values = ab_arena_alloc(r->arena, r->k->facts->n, sizeof *p->values);
		if (p->slots == NULL || p->values == NULL)
			return nomem(diag);
	}
	p->slots[p->n_facts] = slot;
	p->values[p->n_facts++] = take_number(q, 1);
	return AB_OK;
}

static const struct { const char *sql; take_row *take; } hangings[] = {
	{ "SELECT id, intensity, load FROM fault WHERE n = ?1 ORDER BY id", take_fault },
	{ "SELECT cause, present FROM belief WHERE n = ?1 ORDER BY cause", take_belief },
	{ "SELECT what FROM change WHERE n = ?1 ORDER BY what", take_change },
	{ "SELECT name, value FROM factor WHERE n = ?1 ORDER BY name, value", take_factor },
};

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

struct row { sqlite3_int64 n; size_t place; };

static int by_number(const void *a, const void *b)
{
	const struct row *x = a, *y = b;

	return (x->n > y->n) - (x->n < y->n);
}

/* The rows of the batches read, by number; NULL when memory is short. */
static struct row *sort_rows(const struct reading *r)
{
	struct row *rows = ab_arena_alloc(r->arena, r->count, sizeof *rows);

	for (size_t i = 0; rows != NULL && i < r->count; i++)
		rows[i] = (struct row){ r->n[i], i };
	if (rows != NULL && r->count > 0)
		qsort(rows, r->count, sizeof *rows, by_number);
	return rows;
}

/* Facts are kept by name first (one fact over all batches is the usual question): read in one sweep and dealt out. */
static enum ab_status take_facts(struct reading *r, struct ab_diag *diag)
{
	static const char text[] = "SELECT name, value, n FROM fact ORDER BY name, n";
	struct row *rows = sort_rows(r);
	sqlite3_stmt *q = NULL;
	enum ab_status st = rows != NULL ? AB_OK : nomem(diag);
	int rc = SQLITE_DONE;

	if (st == AB_OK && sqlite3_prepare_v2(r->store->db, text, -1, &q, NULL) != SQLITE_OK)
		st = filing_fail(r->store, diag);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW) {
		const struct row wanted = { sqlite3_column_int64(q, 2), 0 };
		const struct row *found = bsearch(&wanted, rows, r->count, sizeof *rows, by_number);

		if (found != NULL)   /* an older revision, or another line, is not */
			st = take_fact(r, &r->past[found->place], q, diag);
	}
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	return st;
}

static const char newest[] =
	"SELECT n, id, revision, line, family, brewed, tasted, load, load_low, load_high, hash, rules FROM batch AS b"
	" WHERE revision = (SELECT max(revision) FROM batch WHERE id = b.id) AND (?1 IS NULL OR line = ?1) ORDER BY brewed, id";

static enum ab_status take_batches(struct reading *r, const char *line, struct ab_diag *diag)
{
	sqlite3_stmt *q = NULL;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	if (sqlite3_prepare_v2(r->store->db, newest, -1, &q, NULL) != SQLITE_OK)
		return filing_fail(r->store, diag);
	if (line != NULL)
		sqlite3_bind_text(q, 1, line, -1, SQLITE_STATIC);
	while (st == AB_OK && (rc = sqlite3_step(q)) == SQLITE_ROW)
		st = take_batch(r, q, diag);
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(r->store, diag);
	sqlite3_finalize(q);
	return st;
}

enum ab_status ab_history_history(struct ab_history *store, const struct ab_knowledge *k, const char *line, struct ab_arena *arena,
    struct ab_past **out, size_t *n, struct ab_diag *diag)
{
	struct reading r = { .store = store, .k = k, .arena = arena };
	enum ab_status st = take_batches(&r, line, diag);

	for (size_t i = 0; st == AB_OK && i < sizeof hangings / sizeof *hangings; i++)
		st = take_hanging(&r, hangings[i].sql, hangings[i].take, diag);
	if (st == AB_OK)
		st = take_facts(&r, diag);
	*out = r.past;
	*n = st == AB_OK ? r.count : 0;
	return st;
}

bool ab_history_promise(struct ab_history *store, const char *change, double *load_before, double *load_after)
{
	sqlite3_stmt *q = NULL;
	bool found = false;

	if (sqlite3_prepare_v2(store->db, "SELECT load_before, load_after FROM promise WHERE change = ?1", -1, &q, NULL) == SQLITE_OK) {
		sqlite3_bind_text(q, 1, change, -1, SQLITE_STATIC);
		if (sqlite3_step(q) == SQLITE_ROW) {
			*load_before = sqlite3_column_double(q, 0);
			*load_after = sqlite3_column_double(q, 1);
			found = true;
		}
	}
	sqlite3_finalize(q);
	return found;
}
