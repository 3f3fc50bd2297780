/* packing.c - a batch's facts and beliefs as one value each, and the numbers that stand for their names
 *
 * A hundred rows a batch would be most of the time a long history takes, so both are kept as a run of entries
 * of 21 bytes, lowest byte first: number of the name (4 bytes, table name), origin of a fact (1; 0 in
 * beliefs), then two IEEE doubles of 8 bytes: value and u of a fact, present and blame of a belief.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <assert.h>
#include <string.h>

#include "base/alloc.h"

/* Little-endian whatever the machine, so a store can be carried to another one. Written out, for compilers make one
 * store of it where the machine's order is the same. */
static inline void put_bytes(unsigned char *to, uint64_t v, size_t n)
{
	const unsigned char bytes[8] = { (unsigned char)v, (unsigned char)(v >> 8), (unsigned char)(v >> 16),
		(unsigned char)(v >> 24), (unsigned char)(v >> 32), (unsigned char)(v >> 40),
		(unsigned char)(v >> 48), (unsigned char)(v >> 56) };

	memcpy(to, bytes, n);
}

static uint64_t take_bytes(const unsigned char *from, size_t n)
{
	uint64_t v = 0;

	for (size_t i = 0; i < n; i++)
		v |= (uint64_t)from[i] << 8 * i;
	return v;
}

/* memcpy, not a cast: that would break aliasing. IEEE 754 doubles are taken for granted. */
static void put_double(unsigned char *to, double v)
{
	uint64_t bits;

	memcpy(&bits, &v, sizeof bits);
	put_bytes(to, bits, sizeof bits);
}

static double take_double(const unsigned char *from)
{
	uint64_t bits = take_bytes(from, sizeof bits);
	double v;

	memcpy(&v, &bits, sizeof v);
	return v;
}

/* By malloc and copy: the arena of a run cannot give back what a long history grew out of. */
bool filing_room(struct filing_pack *pack, size_t entries)
{
	unsigned char *bytes;

	if (pack->room >= entries)
		return true;
	bytes = ab_malloc(entries * FILING_ENTRY);
	if (bytes == NULL)
		return false;
	if (pack->n > 0)
		memcpy(bytes, pack->bytes, pack->n * FILING_ENTRY);
	ab_free(pack->bytes);
	pack->bytes = bytes;
	pack->room = entries;
	return true;
}

/* The layout, in FILING_ENTRY bytes: name 4, origin 1, two doubles 8 each. */
void filing_add(struct filing_pack *pack, const struct filing_entry *e)
{
	assert(pack->n < pack->room);
	unsigned char *to = pack->bytes + pack->n++ * FILING_ENTRY;

	put_bytes(to, (uint64_t)e->name, 4);
	to[4] = e->origin;
	put_double(to + 5, e->a);
	put_double(to + 13, e->b);
}

/* The mirror of filing_add; any change of one is a new format (tables.c). */
struct filing_entry filing_entry(const unsigned char *bytes, size_t i)
{
	const unsigned char *from = bytes + i * FILING_ENTRY;

	return (struct filing_entry){ (sqlite3_int64)take_bytes(from, 4), from[4], take_double(from + 5),
	    take_double(from + 13) };
}

/* ---- names ---- */

/* Insert or ignore, then look up: two statements that hold also when another program added the name
 * first. */
static enum ab_status number_of(struct ab_history *store, const char *name, sqlite3_int64 *number,
    struct ab_diag *diag)
{
	sqlite3_stmt *add = store->stmt[SQL_NAME_ADD], *find = store->stmt[SQL_NAME];
	enum ab_status st = AB_OK;

	sqlite3_bind_text(add, 1, name, -1, SQLITE_STATIC);
	if (sqlite3_step(add) != SQLITE_DONE)
		st = filing_fail(store, diag);
	sqlite3_reset(add);
	sqlite3_bind_text(find, 1, name, -1, SQLITE_STATIC);
	if (st == AB_OK && sqlite3_step(find) == SQLITE_ROW)
		*number = sqlite3_column_int64(find, 0);
	else if (st == AB_OK)
		st = filing_fail(store, diag);
	sqlite3_reset(find);
	return st;
}

/* After a rollback or with other rules: a number is only good as long as its row is. */
void filing_forget_names(struct ab_history *store)
{
	ab_free(store->numbers);
	store->numbers = NULL;
}

/* Numbered once for all batches filed under one set of rules. The rules' version is part of the key:
 * other rules may have the same number of names and mean others. */
enum ab_status filing_names(struct ab_history *store, const struct ab_knowledge *k, struct ab_diag *diag)
{
	size_t n = k->facts->n + k->n_causes;
	enum ab_status st = AB_OK;

	if (store->numbers != NULL && store->numbered == n && strcmp(store->rules, k->version) == 0)
		return AB_OK;
	filing_forget_names(store);
	store->numbers = ab_calloc(n, sizeof *store->numbers);
	if (store->numbers == NULL || !filing_room(&store->pack, n))
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory in the history store");
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = number_of(store, i < k->facts->n ? k->facts->defs[i].name
		    : k->causes[i - k->facts->n].id, &store->numbers[i], diag);
	store->numbered = n;
	memcpy(store->rules, k->version, sizeof store->rules);
	if (st != AB_OK)
		filing_forget_names(store);
	return st;
}

/* ---- stores of format 1, which kept a row a fact and a row a belief ---- */

/* A batch without a single row keeps its NULL. */
static enum ab_status give(struct ab_history *store, sqlite3_stmt *to, sqlite3_int64 batch,
    struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	if (store->pack.n > 0) {
		sqlite3_bind_blob(to, 1, store->pack.bytes, (int)(store->pack.n * FILING_ENTRY),
		    SQLITE_STATIC);
		sqlite3_bind_int64(to, 2, batch);
		if (sqlite3_step(to) != SQLITE_DONE)
			st = filing_fail(store, diag);
		sqlite3_reset(to);
	}
	store->pack.n = 0;
	return st;
}

/* Rows in order of batch become one value each. Room doubles: the rows of one batch are counted by
 * nobody beforehand. n starts at 0, which no batch has, so the first give() has nothing to give. */
static enum ab_status pack_rows(struct ab_history *store, sqlite3_stmt *from, sqlite3_stmt *to,
    struct ab_diag *diag)
{
	sqlite3_int64 batch = 0;
	enum ab_status st = AB_OK;
	int rc = SQLITE_DONE;

	while (st == AB_OK && (rc = sqlite3_step(from)) == SQLITE_ROW) {
		if (sqlite3_column_int64(from, 0) != batch)
			st = give(store, to, batch, diag);
		batch = sqlite3_column_int64(from, 0);
		if (st == AB_OK && !filing_room(&store->pack,
		    store->pack.n < store->pack.room ? store->pack.n + 1 : 2 * store->pack.n + 256))
			st = ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory in the history store");
		if (st == AB_OK)
			filing_add(&store->pack, &(struct filing_entry){ sqlite3_column_int64(from, 1),
			    (unsigned char)sqlite3_column_int(from, 4),
			    sqlite3_column_double(from, 2), sqlite3_column_double(from, 3) });
	}
	if (st == AB_OK && rc != SQLITE_DONE)
		st = filing_fail(store, diag);
	return st == AB_OK ? give(store, to, batch, diag) : st;
}

/* The select must come in order of batch, which is how one pass suffices. */
enum ab_status filing_pack_rows(struct ab_history *store, const char *select, const char *update,
    struct ab_diag *diag)
{
	sqlite3_stmt *from = NULL, *to = NULL;
	enum ab_status st;

	store->pack.n = 0;
	if (sqlite3_prepare_v2(store->db, select, -1, &from, NULL) == SQLITE_OK &&
	    sqlite3_prepare_v2(store->db, update, -1, &to, NULL) == SQLITE_OK)
		st = pack_rows(store, from, to, diag);
	else
		st = filing_fail(store, diag);
	sqlite3_finalize(from);
	sqlite3_finalize(to);
	return st;
}
