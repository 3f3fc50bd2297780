/* filing.h - the insides of the store, shared by its files
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_HISTORY_FILING_H
#define AB_HISTORY_FILING_H

#include <sqlite3.h>
#include <afterboil/history.h>

/* Prepared statements, by name; see history.c for their texts. */
enum filing_sql { SQL_KNOWN, SQL_BATCH, SQL_FACT, SQL_FAULT, SQL_BELIEF, SQL_CHANGE, SQL_FACTOR, SQL_PROMISE, SQL_N };

struct ab_history {
	sqlite3 *db;
	sqlite3_stmt *stmt[SQL_N];
};

/* Turns SQLite's last error into a diagnosis. Returns AB_ESYSTEM, or AB_ENOMEM when SQLite ran out of memory. */
enum ab_status filing_fail(const struct ab_history *store, struct ab_diag *diag);

#endif
