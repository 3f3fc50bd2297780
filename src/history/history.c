/* history.c - opening the store, its tables and its transactions
 *
 * One row a batch and revision, its facts and beliefs packed in it (packing.c); faults, changes and factors
 * hang on it. Format number in PRAGMA user_version; a store of an older format is brought up to date when it is
 * opened.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "base/alloc.h"

enum { STORE_FORMAT = 4 };
/* A batch is some 3 KB: five of them share a page so, where one would leave a third of the usual page of 4 KB
 * empty. Asked for before the first table; a store that has some keeps its own. */
static const char pages[] = "PRAGMA page_size = 16384";

/* The folder is synced, too, after the journal of a commit was removed: else a power cut could bring the journal back,
 * and with it undo what the call had said was filed. */
static const char safely[] = "PRAGMA synchronous = EXTRA";

/* Changes a profile notes between batches; which batch is the first under one is found out when reading, for
 * it may be filed later. Format 3 added it. */
#define CHANGED_TABLE \
	"CREATE TABLE changed(brewery TEXT NOT NULL, what TEXT NOT NULL, day REAL NOT NULL, line TEXT);"

/* One row a batch and revision; what is looked up by name (faults, changes, factors) hangs on its n in
 * tables of its own. Facts and beliefs are read only all together, so they are packed into the row
 * (filing.h), where format 1 kept a row a fact and a row a belief. */
static const char schema[] =
	"CREATE TABLE batch(n INTEGER PRIMARY KEY, id TEXT NOT NULL, revision INTEGER NOT NULL, hash TEXT "
	"NOT NULL, line TEXT, family INTEGER, brewed REAL,"
	" rules TEXT NOT NULL, tasted INTEGER NOT NULL, load REAL, load_low REAL, load_high REAL, facts "
	    "BLOB, beliefs BLOB, profile TEXT, UNIQUE(id, revision));"
	"CREATE INDEX batch_by_date ON batch(brewed, id);"
	"CREATE TABLE name(k INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);"
	"CREATE TABLE fault(n INTEGER NOT NULL, id TEXT NOT NULL, intensity REAL, load REAL, PRIMARY KEY(n, "
	    "id)) WITHOUT ROWID;"
	"CREATE TABLE change(n INTEGER NOT NULL, what TEXT NOT NULL, PRIMARY KEY(n, what)) WITHOUT ROWID;"
	"CREATE TABLE factor(n INTEGER NOT NULL, name TEXT NOT NULL, value TEXT NOT NULL, PRIMARY KEY(n, "
	    "name, value)) WITHOUT ROWID;"
	"CREATE TABLE promise(change TEXT PRIMARY KEY, made REAL, load_before REAL, load_after REAL) "
	    "WITHOUT ROWID;"
	CHANGED_TABLE
	"PRAGMA user_version = 4;";

/* What format 1 kept in tables of its own. */
static const char widen[] =
	"ALTER TABLE batch ADD COLUMN facts BLOB; ALTER TABLE batch ADD COLUMN beliefs BLOB;"
	"CREATE TABLE name(k INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);"
	"INSERT INTO name(name) SELECT name FROM fact UNION SELECT cause FROM belief;";
static const char old_facts[] = "SELECT n, k, value, u, origin FROM fact JOIN name USING(name) ORDER BY n, k";
static const char old_beliefs[] = "SELECT n, k, present, blame, 0 FROM belief JOIN name ON name.name = cause "
    "ORDER BY n, k";
/* Only after everything was packed: until the commit the old tables are all there is. */
static const char narrow[] = "DROP TABLE fact; DROP TABLE belief; PRAGMA user_version = 2;";
/* What format 2 lacked. */
static const char add_changed[] = CHANGED_TABLE "PRAGMA user_version = 3;";
/* What format 3 lacked: the profile a batch was judged with. NULL, not known, in what is there already. */
static const char add_profile[] = "ALTER TABLE batch ADD COLUMN profile TEXT; PRAGMA user_version = 4;";

static const char *const sql[SQL_N] = {
	[SQL_KNOWN] = "SELECT revision, hash, rules, profile FROM batch WHERE id = ?1 ORDER BY revision DESC LIMIT 1",
	[SQL_BATCH] = ("INSERT INTO batch(id, revision, hash, line, family, brewed, rules, tasted, load, "
	    "load_low, load_high, facts, beliefs, profile)"
	               " VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)"),
	[SQL_FAULT] = "INSERT INTO fault(n, id, intensity, load) VALUES(?1, ?2, ?3, ?4)",
	[SQL_CHANGE] = "INSERT OR IGNORE INTO change(n, what) VALUES(?1, ?2)",
	[SQL_FACTOR] = "INSERT OR IGNORE INTO factor(n, name, value) VALUES(?1, ?2, ?3)",
	[SQL_PROMISE] = "INSERT OR IGNORE INTO promise(change, made, load_before, load_after) VALUES(?1, "
	    "?2, ?3, ?4)",
	[SQL_CHANGED_CLEAR] = "DELETE FROM changed WHERE brewery = ?1",
	[SQL_CHANGED] = "INSERT INTO changed(brewery, what, day, line) VALUES(?1, ?2, ?3, ?4)",
	[SQL_NAME_ADD] = "INSERT OR IGNORE INTO name(name) VALUES(?1)",
	[SQL_NAME] = "SELECT k FROM name WHERE name = ?1",
};
_Static_assert(sizeof sql / sizeof *sql == SQL_N, "every statement needs its text");

/* Not enough memory is the program's trouble, not the file's: another --store would not help. A store
 * that could not even be opened has no errcode to ask, hence the NULL test, and does not know its file's name. */
static enum ab_status fail_at(sqlite3 *db, const char *path, struct ab_diag *diag)
{
	int rc = db != NULL ? sqlite3_errcode(db) : SQLITE_NOMEM;

	if (rc == SQLITE_NOMEM)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory in the history store");
	return ab_fail(diag, AB_ESYSTEM, path, 0,
	    "the history store could not be used (%s); another file can be named with --store", sqlite3_errmsg(db));
}

enum ab_status filing_fail(const struct ab_history *store, struct ab_diag *diag)
{
	return fail_at(store->db, sqlite3_db_filename(store->db, "main"), diag);
}

/* For statements without parameters only; anything with a value goes through a prepared one, so no text
 * of a journal becomes SQL. */
static enum ab_status run(struct ab_history *store, const char *text, struct ab_diag *diag)
{
	return sqlite3_exec(store->db, text, NULL, NULL, NULL) == SQLITE_OK
	    ? AB_OK : filing_fail(store, diag);
}

/* mkdir -p of what stands before the last '/', with mode 0700. 0700: what somebody brews and tastes is
 * nobody else's business. EEXIST is no error, whoever made it. */
static enum ab_status make_folders(const char *path, struct ab_diag *diag)
{
	char *copy = ab_strdup(path);
	enum ab_status st = AB_OK;

	if (copy == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	for (char *p = strchr(copy + 1, '/'); st == AB_OK && p != NULL; p = strchr(p + 1, '/')) {
		*p = '\0';
		if (mkdir(copy, 0700) != 0 && errno != EEXIST)
			st = ab_fail(diag, AB_ESYSTEM, copy, 0, "cannot make this folder for the history: %s",
			    strerror(errno));
		*p = '/';
	}
	ab_free(copy);
	return st;
}

/* user_version is 0 in a new file; -1: the file cannot be read as a database. */
static int format_of(struct ab_history *store)
{
	sqlite3_stmt *q = NULL;
	int format = -1;

	if (sqlite3_prepare_v2(store->db, "PRAGMA user_version", -1, &q, NULL) == SQLITE_OK &&
	    sqlite3_step(q) == SQLITE_ROW)
		format = sqlite3_column_int(q, 0);
	sqlite3_finalize(q);
	return format;
}

/* All in the transaction of make_tables: a power cut leaves format 1 whole. */
static enum ab_status upgrade(struct ab_history *store, struct ab_diag *diag)
{
	enum ab_status st = run(store, widen, diag);

	if (st == AB_OK)
		st = filing_pack_rows(store, old_facts, "UPDATE batch SET facts = ?1 WHERE n = ?2", diag);
	if (st == AB_OK)
		st = filing_pack_rows(store, old_beliefs, "UPDATE batch SET beliefs = ?1 WHERE n = ?2", diag);
	return st == AB_OK ? run(store, narrow, diag) : st;
}

/* Creates the tables of a new store, or brings those of an old one up to date, in one transaction; two
 * programs at once: the second finds them made. Asked twice on purpose: outside the lock, so that the
 * usual start takes none; inside it again, for another program may have made them in between. */
static enum ab_status make_tables(struct ab_history *store, struct ab_diag *diag)
{
	int format = format_of(store);
	enum ab_status st;

	if (format < 0)
		return filing_fail(store, diag);
	if (format > STORE_FORMAT)
		return ab_fail(diag, AB_ESYSTEM, sqlite3_db_filename(store->db, "main"), 0,
		    "this history was written by a newer afterboil (format %d, known here: %d); use that, or "
		    "another file with --store", format, STORE_FORMAT);
	if (format == STORE_FORMAT)
		return AB_OK;
	st = format == 0 ? run(store, pages, diag) : AB_OK;
	if (st == AB_OK)
		st = run(store, "BEGIN IMMEDIATE", diag);
	format = st == AB_OK ? format_of(store) : format;   /* as it is now that nobody else can change it */
	if (st == AB_OK && format == 0)
		st = run(store, schema, diag);
	if (st == AB_OK && format == 1)
		st = upgrade(store, diag);
	if (st == AB_OK && (format == 1 || format == 2))
		st = run(store, add_changed, diag);
	if (st == AB_OK && format >= 1 && format <= 3)
		st = run(store, add_profile, diag);
	if (st == AB_OK)
		st = run(store, "COMMIT", diag);
	else
		sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
	return st;
}

/* Prepared once for the life of the store: filing a long history runs each some thousand times. */
static enum ab_status prepare(struct ab_history *store, struct ab_diag *diag)
{
	for (int i = 0; i < SQL_N; i++)
		if (sqlite3_prepare_v3(store->db, sql[i], -1, SQLITE_PREPARE_PERSISTENT, &store->stmt[i],
		    NULL) != SQLITE_OK)
			return filing_fail(store, diag);
	return AB_OK;
}

/* Five seconds of patience where another program is writing. One thread uses a store at a time, so nothing of it
 * needs a lock within the program. */
enum ab_status ab_history_open(const char *path, struct ab_history **out, struct ab_diag *diag)
{
	struct ab_history *store = ab_calloc(1, sizeof *store);
	enum ab_status st = AB_OK;

	*out = NULL;
	if (store == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (strcmp(path, ":memory:") != 0)
		st = make_folders(path, diag);
	if (st == AB_OK && sqlite3_open_v2(path, &store->db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE |
	    SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK)
		st = fail_at(store->db, path, diag);
	if (st == AB_OK) {
		sqlite3_busy_timeout(store->db, 5000);
		st = run(store, safely, diag);
	}
	if (st == AB_OK)
		st = make_tables(store, diag);
	if (st == AB_OK)
		st = prepare(store, diag);
	if (st != AB_OK) {
		ab_history_close(store);
		return st;
	}
	*out = store;
	return AB_OK;
}

/* Also for a store half opened: finalize and close take NULL. */
void ab_history_close(struct ab_history *store)
{
	if (store == NULL)
		return;
	for (int i = 0; i < SQL_N; i++)
		sqlite3_finalize(store->stmt[i]);
	sqlite3_close(store->db);
	filing_forget_names(store);
	ab_free(store->pack.bytes);
	ab_free(store);
}

/* IMMEDIATE: waiting for the lock here is better than finding it taken after half of the batches. */
enum ab_status ab_history_begin(struct ab_history *store, struct ab_diag *diag)
{
	return run(store, "BEGIN IMMEDIATE", diag);
}

enum ab_status ab_history_commit(struct ab_history *store, struct ab_diag *diag)
{
	return run(store, "COMMIT", diag);
}

/* Names numbered in the transaction are gone with it, so the numbers must be forgotten, or later rows
 * would point at nothing. */
void ab_history_rollback(struct ab_history *store)
{
	sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
	filing_forget_names(store);
}
