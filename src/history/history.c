/* history.c - opening the store, its statements and its transactions
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "history/filing.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "base/alloc.h"

/* The folder is synced, too, after the journal of a commit was removed: else a power cut could bring the journal back,
 * and with it undo what the call had said was filed. */
static const char safely[] = "PRAGMA synchronous = EXTRA; PRAGMA cache_size = -4000";

static const char *const sql[SQL_N] = {
	[SQL_KNOWN] = "SELECT revision, hash, rules, profile, program FROM batch WHERE id = ?1 ORDER BY "
	"revision DESC LIMIT 1",
	[SQL_BATCH] = ("INSERT INTO batch(id, revision, hash, line, family, brewed, rules, tasted, load, "
	    "load_low, load_high, facts, beliefs, profile, program)"
	               " VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)"),
	[SQL_FAULT] = "INSERT INTO fault(n, id, intensity, load) VALUES(?1, ?2, ?3, ?4)",
	[SQL_CHANGE] = "INSERT OR IGNORE INTO change(n, what) VALUES(?1, ?2)",
	[SQL_FACTOR] = "INSERT OR IGNORE INTO factor(n, name, value) VALUES(?1, ?2, ?3)",
	[SQL_PROMISE] = ("INSERT INTO promise(change, made, load_before, load_after, alone) VALUES(?1, ?2, ?3, ?4, 1) "
	    "ON CONFLICT(change) DO UPDATE SET made = excluded.made, load_before = excluded.load_before, "
	    "load_after = excluded.load_after, alone = 1 WHERE NOT ?5"),
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
enum ab_status filing_run(struct ab_history *store, const char *text, struct ab_diag *diag)
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

/* Prepared once for the life of the store: filing a long history runs each some thousand times. */
bool filing_prepare(struct ab_history *store)
{
	for (int i = 0; i < SQL_N; i++) {
		sqlite3_finalize(store->stmt[i]);
		store->stmt[i] = NULL;
		if (sqlite3_prepare_v3(store->db, sql[i], -1, SQLITE_PREPARE_PERSISTENT, &store->stmt[i],
		    NULL) != SQLITE_OK)
			return false;
	}
	return true;
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
		st = filing_run(store, safely, diag);
	}
	if (st == AB_OK)
		st = filing_make_tables(store, diag);
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
	return filing_run(store, "BEGIN IMMEDIATE", diag);
}

enum ab_status ab_history_commit(struct ab_history *store, struct ab_diag *diag)
{
	return filing_run(store, "COMMIT", diag);
}

/* Names numbered in the transaction are gone with it, so the numbers must be forgotten, or later rows
 * would point at nothing. */
void ab_history_rollback(struct ab_history *store)
{
	sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
	filing_forget_names(store);
}
