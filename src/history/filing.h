/* filing.h - the insides of the store, shared by its files
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_HISTORY_FILING_H
#define AB_HISTORY_FILING_H

#include <stdint.h>
#include <sqlite3.h>
#include <afterboil/history.h>

/* Prepared statements, by name; see history.c for their texts. */
enum filing_sql {
	SQL_KNOWN,
	SQL_BATCH,
	SQL_FAULT,
	SQL_CHANGE,
	SQL_FACTOR,
	SQL_PROMISE,
	SQL_CHANGED_CLEAR,
	SQL_CHANGED,
	SQL_NAME_ADD,
	SQL_NAME,
	SQL_N
};

/* Entries on their way into a batch's row; packing.c says how they are laid out. */
struct filing_pack { unsigned char *bytes; size_t n, room; };   /* the last two in entries */
struct filing_entry { sqlite3_int64 name; unsigned char origin; double a, b; };
enum { FILING_ENTRY = 21 };

struct ab_history {
	sqlite3 *db;
	sqlite3_stmt *stmt[SQL_N];
	struct filing_pack pack;
	sqlite3_int64 *numbers;      /* of the names of facts, then of causes, under these rules; NULL = not
	                              * looked up */
	size_t numbered;
	char rules[sizeof ((struct ab_knowledge *)0)->version];
	char profile[AB_PROFILE_DIGEST];   /* what is put was judged with; empty = not told */
	char program[AB_PROGRAM_VERSION];  /* and which program judged it; empty = not told */
};

/* Room for so many entries; false when memory is short. filing_add wants it made. */
bool filing_room(struct filing_pack *pack, size_t entries);
void filing_add(struct filing_pack *pack, const struct filing_entry *e);
/* The i-th entry of a value read back. */
struct filing_entry filing_entry(const unsigned char *bytes, size_t i);

/* Fills store->numbers, giving new names a number, and makes room in store->pack for all of them. */
enum ab_status filing_names(struct ab_history *store, const struct ab_knowledge *k, struct ab_diag *diag);
/* After a rollback the numbers given may be gone. */
void filing_forget_names(struct ab_history *store);

/* Packs rows (batch, name, a, b, origin), in order of batch, through update (?1 the value, ?2 the batch). */
enum ab_status filing_pack_rows(struct ab_history *store, const char *select, const char *update,
    struct ab_diag *diag);

/* Runs statements without parameters. */
enum ab_status filing_run(struct ab_history *store, const char *text, struct ab_diag *diag);

/* Prepares all statements, again where they are already; false when one does not fit the tables. */
bool filing_prepare(struct ab_history *store);

/* Makes the tables of a new store, or brings those of an older one up to date (tables.c), and leaves the statements
 * prepared. */
enum ab_status filing_make_tables(struct ab_history *store, struct ab_diag *diag);

/* Turns SQLite's last error into a diagnosis. Returns AB_ESYSTEM, or AB_ENOMEM when SQLite ran out of
 * memory. */
enum ab_status filing_fail(const struct ab_history *store, struct ab_diag *diag);

#endif
