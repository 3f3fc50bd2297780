/* storecase.c - for tests of the store
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "storecase.h"

#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

#include "rulecase.h"

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

const struct ab_case *store_work(const char *inside)
{
	char text[2048];
	struct ab_batch *batch = NULL;
	struct ab_case *c = NULL;
	struct ab_diag diag;
	const struct ab_diagnose_options options = { 0 };
	int len = snprintf(text, sizeof text, "<batch xmlns='urn:afterboil:journal:1' %s</batch>", inside);

	ab_diag_init(&diag);
	enum ab_status st = ab_journal_read_memory(text, (size_t)len, "b.xml", NULL, rules_arena, keep, &batch, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", inside, diag.text);
	ck_assert_int_eq(ab_case_work(rules, batch, NULL, &options, rules_arena, &c, &diag), AB_OK);
	return c;
}

enum ab_status store_put(struct ab_history *into, const struct ab_case *c, int *added, struct ab_diag *diag)
{
	char hash[65];

	ck_assert_int_eq(ab_history_digest(c->batch, hash, diag), AB_OK);
	return ab_history_put(into, rules, c, hash, added, diag);
}

/* FNV-1a. */
static uint64_t mix(uint64_t h, const void *bytes, size_t n)
{
	for (size_t i = 0; i < n; i++)
		h = (h ^ ((const unsigned char *)bytes)[i]) * 1099511628211u;
	return h;
}

/* All rows of one statement; kinds count too, so NULL is not "". */
static uint64_t rows(sqlite3 *db, const char *sql, uint64_t h)
{
	sqlite3_stmt *q = NULL;
	int rc;

	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &q, NULL) == SQLITE_OK, "%s: %s", sql, sqlite3_errmsg(db));
	while ((rc = sqlite3_step(q)) == SQLITE_ROW)
		for (int i = 0; i < sqlite3_column_count(q); i++) {
			const int kind = sqlite3_column_type(q, i);
			const void *bytes = sqlite3_column_blob(q, i);

			h = mix(mix(h, &kind, sizeof kind), bytes, (size_t)sqlite3_column_bytes(q, i));
		}
	ck_assert_msg(rc == SQLITE_DONE, "%s: %s", sql, sqlite3_errmsg(db));
	sqlite3_finalize(q);
	return h;
}

static void whole(sqlite3 *db)
{
	sqlite3_stmt *q = NULL;

	ck_assert_msg(sqlite3_prepare_v2(db, "PRAGMA integrity_check", -1, &q, NULL) == SQLITE_OK &&
	    sqlite3_step(q) == SQLITE_ROW, "%s", sqlite3_errmsg(db));
	ck_assert_str_eq((const char *)sqlite3_column_text(q, 0), "ok");
	sqlite3_finalize(q);
}

uint64_t store_content(const char *path, const char *layer)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *q = NULL;
	uint64_t h = 14695981039346656037u;

	ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, layer), SQLITE_OK);
	sqlite3_busy_timeout(db, 10000);
	whole(db);
	h = rows(db, "SELECT type, name, sql FROM sqlite_master ORDER BY name", h);
	h = rows(db, "PRAGMA user_version", h);
	ck_assert_int_eq(sqlite3_prepare_v2(
			     db, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name", -1, &q, NULL),
	    SQLITE_OK);
	while (sqlite3_step(q) == SQLITE_ROW) {
		char sql[128];

		snprintf(
		    sql, sizeof sql, "SELECT * FROM \"%s\" ORDER BY 1, 2", (const char *)sqlite3_column_text(q, 0));
		h = rows(db, sql, h);
	}
	sqlite3_finalize(q);
	sqlite3_close(db);
	return h;
}

int store_number(const char *path, const char *sql)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *q = NULL;
	int n = -1;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	if (sqlite3_prepare_v2(db, sql, -1, &q, NULL) == SQLITE_OK && sqlite3_step(q) == SQLITE_ROW)
		n = sqlite3_column_int(q, 0);
	sqlite3_finalize(q);
	sqlite3_close(db);
	return n;
}
