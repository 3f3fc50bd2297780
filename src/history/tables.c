/* tables.c - the tables of a store, and how those of an older one become them
 *
 * One row a batch and revision, its facts and beliefs packed in it (packing.c); faults, changes and factors hang on it.
 * The format's number is PRAGMA user_version: 1 kept a row a fact and a row a belief; 2 packs them; 3 added the changes
 * a profile notes; 4 the profile a batch was judged with; 5 the program that judged it,
 * and whether a promise was of a change by itself (an older program takes no notice of that column).
 *
 * A store is brought up to date by what it lacks, not by its number: a copy made with ".dump" has lost the number, and
 * one put together from two has the wrong one. So each step looks first, and doing it twice does nothing. All is one
 * transaction.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <string.h>

enum { STORE_FORMAT = 5 };
static const char numbered[] = "PRAGMA user_version = 5";

/* A batch is some 3 KB: five of them share a page so, where one would leave a third of the usual page of 4 KB
 * empty. Asked for before the first table; a store that has some keeps its own. */
static const char pages[] = "PRAGMA page_size = 16384";

/* What is looked up by name (faults, changes, factors) hangs on a batch's n in tables of its own. Facts and beliefs are
 * read only all together, so they are packed into the row. Which batch is the first under a profile's change is found
 * out when reading, for it may be filed later. The index by date holds all that ab_history_days asks, so that no row of
 * 3 KB is read for it; a store that has a narrower one keeps it, and is read as well and slower. */
static const char tables[] =
    "CREATE TABLE IF NOT EXISTS batch(n INTEGER PRIMARY KEY, id TEXT NOT NULL, revision INTEGER NOT NULL, hash TEXT "
    "NOT NULL, line TEXT, family INTEGER, brewed REAL,"
    " rules TEXT NOT NULL, tasted INTEGER NOT NULL, load REAL, load_low REAL, load_high REAL, facts "
    "BLOB, beliefs BLOB, profile TEXT, program TEXT, UNIQUE(id, revision));"
    "CREATE INDEX IF NOT EXISTS batch_by_date ON batch(brewed, id, revision, tasted, line);"
    "CREATE TABLE IF NOT EXISTS name(k INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);"
    "CREATE TABLE IF NOT EXISTS fault(n INTEGER NOT NULL, id TEXT NOT NULL, intensity REAL, load REAL, PRIMARY KEY(n, "
    "id)) WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS change(n INTEGER NOT NULL, what TEXT NOT NULL, PRIMARY KEY(n, what)) WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS factor(n INTEGER NOT NULL, name TEXT NOT NULL, value TEXT NOT NULL, PRIMARY KEY(n, "
    "name, value)) WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS promise(change TEXT PRIMARY KEY, made REAL, load_before REAL, load_after REAL, "
    "alone INTEGER) "
    "WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS changed(brewery TEXT NOT NULL, what TEXT NOT NULL, day REAL NOT NULL, line TEXT);";

/* Columns that came later, at the end as ALTER TABLE puts them. NULL, not known, in the rows that are there. */
static const struct { const char *has, *add; } columns[] = {
	{ "SELECT 1 FROM pragma_table_info('batch') WHERE name = 'facts'", "ALTER TABLE batch ADD COLUMN facts BLOB" },
	{ "SELECT 1 FROM pragma_table_info('batch') WHERE name = 'beliefs'",
	    "ALTER TABLE batch ADD COLUMN beliefs BLOB" },
	{ "SELECT 1 FROM pragma_table_info('batch') WHERE name = 'profile'",
	    "ALTER TABLE batch ADD COLUMN profile TEXT" },
	{ "SELECT 1 FROM pragma_table_info('batch') WHERE name = 'program'",
	    "ALTER TABLE batch ADD COLUMN program TEXT" },
	{ "SELECT 1 FROM pragma_table_info('promise') WHERE name = 'alone'",
	    "ALTER TABLE promise ADD COLUMN alone INTEGER" },
};

/* What format 1 kept in tables of its own. What is packed already stays. The old table goes only after everything was
 * packed: until the commit it is all there is. */
static const struct { const char *has, *names, *rows, *pack, *drop; } unpacked[] = {
	{ "SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'fact'",
	    "INSERT OR IGNORE INTO name(name) SELECT DISTINCT name FROM fact ORDER BY name",
	    "SELECT n, k, value, u, origin FROM fact JOIN name USING(name) ORDER BY n, k",
	    "UPDATE batch SET facts = ?1 WHERE n = ?2 AND facts IS NULL", "DROP TABLE fact" },
	{ "SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'belief'",
	    "INSERT OR IGNORE INTO name(name) SELECT DISTINCT cause FROM belief ORDER BY cause",
	    "SELECT n, k, present, blame, 0 FROM belief JOIN name ON name.name = cause ORDER BY n, k",
	    "UPDATE batch SET beliefs = ?1 WHERE n = ?2 AND beliefs IS NULL", "DROP TABLE belief" },
};

/* Tables, but no batch with the columns it had from the first. */
static const char foreign[] = "SELECT 1 FROM sqlite_master WHERE type = 'table' AND 12 > (SELECT count(*) FROM "
    "pragma_table_info('batch') WHERE name IN ('n', 'id', 'revision', 'hash', 'line', 'family', 'brewed', 'rules', "
    "'tasted', 'load', 'load_low', 'load_high'))";

/* The number a question is answered with; 0 for no row, -1 when it cannot be asked. */
static int ask(struct ab_history *store, const char *text)
{
	sqlite3_stmt *q = NULL;
	int answer = -1, rc = SQLITE_ERROR;

	if (sqlite3_prepare_v2(store->db, text, -1, &q, NULL) == SQLITE_OK)
		rc = sqlite3_step(q);
	if (rc == SQLITE_ROW)
		answer = sqlite3_column_int(q, 0);
	else if (rc == SQLITE_DONE)
		answer = 0;
	sqlite3_finalize(q);
	return answer;
}

/* 0 in a new file; -1: the file cannot be read as a database. */
static int format_of(struct ab_history *store)
{
	return ask(store, "PRAGMA user_version");
}

static enum ab_status refuse(struct ab_history *store, int format, struct ab_diag *diag)
{
	const char *path = sqlite3_db_filename(store->db, "main");

	if (format > STORE_FORMAT)
		return ab_fail(diag, AB_ESYSTEM, path, 0,
		    "this history was written by a newer afterboil (format %d, known here: %d); use that, or "
		    "another file with --store", format, STORE_FORMAT);
	return ab_fail(diag, AB_ESYSTEM, path, 0, "this file is a database, but no history of afterboil; another file "
	    "can be named with --store");
}

static enum ab_status add_columns(struct ab_history *store, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < sizeof columns / sizeof *columns; i++) {
		int has = ask(store, columns[i].has);

		if (has < 0)
			st = filing_fail(store, diag);
		else if (has == 0)
			st = filing_run(store, columns[i].add, diag);
	}
	return st;
}

static enum ab_status pack(struct ab_history *store, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < sizeof unpacked / sizeof *unpacked; i++) {
		int has = ask(store, unpacked[i].has);

		if (has < 0)
			st = filing_fail(store, diag);
		if (has <= 0)
			continue;
		st = filing_run(store, unpacked[i].names, diag);
		if (st == AB_OK)
			st = filing_pack_rows(store, unpacked[i].rows, unpacked[i].pack, diag);
		if (st == AB_OK)
			st = filing_run(store, unpacked[i].drop, diag);
	}
	return st;
}

/* Under the lock. The statements are tried before the commit: tables they do not fit are none of ours, whatever their
 * names, and stay as they are. */
static enum ab_status bring_up(struct ab_history *store, struct ab_diag *diag)
{
	int format = format_of(store), other = format >= 0 ? ask(store, foreign) : -1;
	enum ab_status st;

	if (format < 0 || other < 0)
		return filing_fail(store, diag);
	if (format > STORE_FORMAT || other > 0)
		return refuse(store, format, diag);
	st = filing_run(store, tables, diag);
	if (st == AB_OK)
		st = add_columns(store, diag);
	if (st == AB_OK)
		st = pack(store, diag);
	if (st == AB_OK)
		st = filing_run(store, numbered, diag);
	if (st == AB_OK && !filing_prepare(store))
		st = sqlite3_errcode(store->db) == SQLITE_ERROR ? refuse(store, STORE_FORMAT, diag)
								: filing_fail(store, diag);
	return st;
}

/* Two programs at once: the second finds them made. The usual start takes no lock. */
enum ab_status filing_make_tables(struct ab_history *store, struct ab_diag *diag)
{
	int format = format_of(store);
	enum ab_status st;

	if (format < 0)
		return filing_fail(store, diag);
	if (format > STORE_FORMAT)
		return refuse(store, format, diag);
	if (format == STORE_FORMAT) {
		if (filing_prepare(store))
			return AB_OK;
		if (sqlite3_errcode(store->db) != SQLITE_ERROR)   /* of memory or the disk, not of the tables */
			return filing_fail(store, diag);
	}
	st = format == 0 ? filing_run(store, pages, diag) : AB_OK;
	if (st == AB_OK)
		st = filing_run(store, "BEGIN IMMEDIATE", diag);
	if (st == AB_OK)
		st = bring_up(store, diag);
	if (st == AB_OK)
		return filing_run(store, "COMMIT", diag);
	sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
	return st;
}
