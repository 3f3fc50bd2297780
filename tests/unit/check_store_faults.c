/* check_store_faults.c - the store on a disk that fails or loses power at any call: all of a run or nothing of it
 *
 * Each way of using the store runs again and again, and each time the next call of the file layer fails: once (a
 * full disk that has room again), or that one and all after it (the process is gone, or the disk is), or with what
 * was not synced taken back as well (a power cut). Afterwards the file is whole, holds what it held before or what
 * it should hold now and nothing between, and the same can be done again.
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/history.h>
#include "faultvfs.h"
#include "rulecase.h"
#include "storecase.h"

enum { MOST_CALLS = 20000 };

static char folder[64], path[128], hot[160];
static struct ab_diag diag;
static struct { char *bytes; size_t n; } before;   /* the file each try begins with */
static uint64_t empty;                              /* a store just made: a new one is made before it is filed into */
static const struct ab_case *first, *revised, *second;

static void set_up(void)
{
	rules_read();
	fault_install();
	strcpy(folder, "/tmp/afterboil-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	snprintf(path, sizeof path, "%s/history.db", folder);
	snprintf(hot, sizeof hot, "%s-journal", path);
	ab_diag_init(&diag);
	first = store_work(
	    "id='a' brewed='2031-03-07' line='pale'><vessel id='F2'/><change>new hose</change>" STORE_TASTED);
	revised = store_work("id='a' brewed='2031-03-07' line='pale'><vessel id='F3'/>" STORE_TASTED);
	second = store_work(
	    "id='b' brewed='2031-03-20' line='pale'><pitch at='2031-03-20T18:00' temp='24 C'/>" STORE_TASTED);
}

static void tear_down(void)
{
	fault_disarm();
	free(before.bytes);
	before.bytes = NULL;
	unlink(path);
	unlink(hot);
	rmdir(folder);
	rules_drop();
}

/* ---- ways of using the store ---- */

static enum ab_status file_first(struct ab_history *s)
{
	enum ab_status st = ab_history_begin(s, &diag);

	if (st == AB_OK)
		st = store_put(s, first, NULL, &diag);
	if (st == AB_OK)
		st = ab_history_put_promise(s, "air-pump", 1, &(struct ab_promised){ 5, 3, true }, false, &diag);
	if (st == AB_OK)
		st = ab_history_commit(s, &diag);
	if (st != AB_OK)
		ab_history_rollback(s);
	return st;
}

/* What a run of the program files: a changed batch, a new one, a promise, the changes of a profile. */
static enum ab_status file_more(struct ab_history *s)
{
	const struct ab_profile profile = { .name = "shed" };
	enum ab_status st = ab_history_begin(s, &diag);

	if (st == AB_OK)
		st = store_put(s, revised, NULL, &diag);
	if (st == AB_OK)
		st = store_put(s, second, NULL, &diag);
	if (st == AB_OK)
		st = ab_history_put_promise(s, "shake-hard", 2, &(struct ab_promised){ 4, 2, true }, false, &diag);
	if (st == AB_OK)
		st = ab_history_put_changed(s, &profile, &diag);
	if (st == AB_OK)
		st = ab_history_commit(s, &diag);
	if (st != AB_OK)
		ab_history_rollback(s);
	return st;
}

/* Under the same id over and over: more than SQLite keeps in memory, so that it writes into the file before the end. */
static enum ab_status file_many(struct ab_history *s)
{
	char hash[65];
	enum ab_status st = ab_history_begin(s, &diag);

	for (int i = 0; st == AB_OK && i < 1200; i++) {
		snprintf(hash, sizeof hash, "%064d", i);
		st = ab_history_put(s, rules, i % 2 ? first : second, hash, NULL, &diag);
	}
	if (st == AB_OK)
		st = ab_history_commit(s, &diag);
	if (st != AB_OK)
		ab_history_rollback(s);
	return st;
}

static enum ab_status only_open(struct ab_history *s)
{
	(void)s;
	return AB_OK;
}

/* What is read is all there is, or it is an error: never fewer batches. */
static enum ab_status read_all(struct ab_history *s)
{
	const struct ab_past_wish all = { .facts = true, .beliefs = true };
	struct ab_arena *arena = ab_arena_new();
	struct ab_past *past;
	size_t n;
	enum ab_status st = ab_history_batches(s, rules, NULL, &all, arena, &past, &n, &diag);

	ck_assert(st != AB_OK || (n == 2 && past[0].revision == 2 && past[0].n_factors == 1 && past[1].n_facts > 0 &&
	    past[0].fault_load[ab_fault_find(rules, "diacetyl")] > 0));
	ab_arena_free(arena);
	return st;
}

/* ---- what is there before ---- */

static void by_hand(const char *sql)
{
	sqlite3 *db = NULL;

	ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, fault_real()), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(db));
	sqlite3_close(db);
}

static void use(enum ab_status (*act)(struct ab_history *))
{
	struct ab_history *s = NULL;

	ck_assert_int_eq(ab_history_open(path, &s, &diag), AB_OK);
	ck_assert_int_eq(act(s), AB_OK);
	ab_history_close(s);
}

static void nothing(void)
{
	use(only_open);
	empty = store_content(path, fault_real());
	unlink(path);
}

static void one_batch(void)
{
	use(file_first);
}

static void two_batches(void)
{
	use(file_first);
	use(file_more);
}

static void format_4(void)
{
	use(file_first);
	by_hand("ALTER TABLE batch DROP COLUMN program; PRAGMA user_version = 4");
}

/* The column of format 4 is there, the number is not. */
static void format_3_and_more(void)
{
	use(file_first);
	by_hand("ALTER TABLE batch DROP COLUMN program; PRAGMA user_version = 3");
}

static void format_3(void)
{
	use(file_first);
	by_hand(
	    "ALTER TABLE batch DROP COLUMN program; ALTER TABLE batch DROP COLUMN profile; PRAGMA user_version = 3");
}

static void format_2(void)
{
	use(file_first);
	by_hand(
	    "DROP TABLE changed; ALTER TABLE batch DROP COLUMN program; ALTER TABLE batch DROP COLUMN profile; "
	    "PRAGMA user_version = 2");
}

/* As check_history.c has it, in small: a row a fact, a row a belief. */
static void format_1(void)
{
	use(file_first);
	by_hand(
	    "DROP TABLE changed; DROP TABLE name; ALTER TABLE batch DROP COLUMN facts; ALTER TABLE batch DROP "
	    "COLUMN beliefs; ALTER TABLE batch DROP COLUMN program; ALTER TABLE batch DROP COLUMN profile;"
	    "CREATE TABLE fact(n INTEGER NOT NULL, name TEXT NOT NULL, value REAL, u REAL, origin INTEGER, "
	    "PRIMARY KEY(name, n)) WITHOUT ROWID;"
	    "CREATE TABLE belief(n INTEGER NOT NULL, cause TEXT NOT NULL, present REAL, blame REAL, PRIMARY "
	    "KEY(n, cause)) WITHOUT ROWID;"
	    "INSERT INTO fact VALUES(1, 'gravity.og', 1.048, 0.001, 1), (1, 'pitch.rate-share', 0.5, 0.1, 2);"
	    "INSERT INTO belief VALUES(1, 'ferment-too-warm', 0.75, 0.5); PRAGMA user_version = 1");
}

static const struct {
	const char *title;
	void (*prepare)(void);
	enum ab_status (*act)(struct ab_history *);
	long step;   /* of every `step` calls one is made to fail; a second try at the end for all */
} uses[] = {
	{ "the first of all", nothing, file_first, 1 },
	{ "a run more", one_batch, file_more, 1 },
	{ "more than fits in memory", one_batch, file_many, 29 },
	{ "brought up from format 1", format_1, only_open, 1 },
	{ "brought up from format 2", format_2, only_open, 1 },
	{ "brought up from format 3", format_3, only_open, 1 },
	{ "brought up from format 3 with a column of format 4", format_3_and_more, only_open, 1 },
	{ "brought up from format 4", format_4, only_open, 1 },
	{ "read", two_batches, read_all, 1 },
};
enum { USES = sizeof uses / sizeof *uses };

static void keep_file(void)
{
	FILE *in = fopen(path, "rb");

	before.bytes = malloc(1 << 20);
	ck_assert_ptr_nonnull(before.bytes);
	before.n = in != NULL ? fread(before.bytes, 1, 1 << 20, in) : 0;
	ck_assert(before.n < 1 << 20);
	if (in != NULL)
		fclose(in);
}

static void restore_file(void)
{
	unlink(hot);
	unlink(path);
	if (before.n > 0) {
		FILE *out = fopen(path, "wb");

		ck_assert(out != NULL && fwrite(before.bytes, 1, before.n, out) == before.n && fclose(out) == 0);
	}
	fault_settle();
}

/* Opens, acts, closes: whatever is armed stays so until the store is closed. */
static enum ab_status attempt(enum ab_status (*act)(struct ab_history *))
{
	struct ab_history *s = NULL;

	ab_diag_init(&diag);
	enum ab_status st = ab_history_open(path, &s, &diag);
	if (st == AB_OK)
		st = act(s);
	ab_history_close(s);
	return st;
}

struct way { const char *title; unsigned kinds; int code; bool onward; int power; };

/* One fault at one place; false when there was no such place any more. */
static bool try(int which, const struct way *way, long at, uint64_t was, uint64_t is)
{
	restore_file();
	fault_arm(way->kinds, at, way->code, way->onward);
	enum ab_status st = attempt(uses[which].act);
	bool struck = fault_disarm();

	if (way->power > 0)
		fault_power_cut(way->power);
	uint64_t found = store_content(path, fault_real());
	ck_assert_msg(st == AB_OK || st == AB_ESYSTEM, "%s, %s, call %ld: status %d, %s", uses[which].title,
	    way->title, at, (int)st, diag.text);
	ck_assert_msg(st == AB_OK ||
		(diag.text[0] != '\0' && strstr(diag.source, "history.db") != NULL &&
		    strstr(diag.text, "constraint") == NULL),
	    "%s, %s, call %ld: \"%s\"", uses[which].title, way->title, at, diag.text);
	ck_assert_msg(found == is || (st != AB_OK && (found == was || found == empty)),
	    "%s, %s, call %ld: %s, but the store holds %s", uses[which].title, way->title, at,
	    st == AB_OK ? "said to be done" : diag.text,
	    found == was ? "what was there before" : "something between");
	return struck;
}

/* And again, with nothing in the way: what was lost can be made good, and what was not stays. */
static void again(int which, const struct way *way, long at, uint64_t is)
{
	ck_assert_msg(attempt(uses[which].act) == AB_OK, "%s, %s, call %ld: the second try: %s", uses[which].title,
	    way->title, at, diag.text);
	ck_assert_msg(uses[which].act == file_many || store_content(path, fault_real()) == is,
	    "%s, %s, call %ld: not the same after a second try", uses[which].title, way->title, at);
}

static void prepare(int which, uint64_t *was, uint64_t *is)
{
	uses[which].prepare();
	keep_file();
	*was = store_content(path, fault_real());
	restore_file();
	ck_assert_msg(attempt(uses[which].act) == AB_OK, "%s", diag.text);
	*is = store_content(path, fault_real());
	ck_assert(*was != *is || uses[which].act == read_all);
}

static const struct way ways[] = {
	{ "a full disk", FAULT_WRITE, SQLITE_FULL, false, 0 },
	{ "a disk full for good", FAULT_WRITE, SQLITE_FULL, true, 0 },
	{ "a write that fails", FAULT_WRITE, SQLITE_IOERR_WRITE, false, 0 },
	{ "a read that fails", FAULT_READ, SQLITE_IOERR_READ, false, 0 },
	{ "a sync that fails", FAULT_SYNC, SQLITE_IOERR_FSYNC, false, 0 },
	{ "no sync any more", FAULT_SYNC, SQLITE_IOERR_FSYNC, true, 0 },
	{ "a truncation that fails", FAULT_TRUNCATE, SQLITE_IOERR_TRUNCATE, false, 0 },
	{ "a deletion that fails", FAULT_DELETE, SQLITE_IOERR_DELETE, false, 0 },
	{ "no deletion any more", FAULT_DELETE, SQLITE_IOERR_DELETE, true, 0 },
	{ "a file that cannot be opened", FAULT_OPEN, SQLITE_CANTOPEN, false, 0 },
	{ "no file can be opened any more", FAULT_OPEN, SQLITE_CANTOPEN, true, 0 },
	{ "a lock that fails", FAULT_LOCK, SQLITE_IOERR_LOCK, false, 0 },
	{ "killed", FAULT_ANY, SQLITE_IOERR, true, 0 },
	{ "power cut, nothing unsynced kept", FAULT_ANY, SQLITE_IOERR, true, 1 },
	{ "power cut, every second kept", FAULT_ANY, SQLITE_IOERR, true, 2 },
	{ "power cut, every third kept", FAULT_ANY, SQLITE_IOERR, true, 3 },
};
enum { WAYS = sizeof ways / sizeof *ways };

START_TEST(all_or_nothing)
{
	int which = _i;
	uint64_t was, is;
	long struck = 0;

	prepare(which, &was, &is);
	for (const struct way *way = ways; way < ways + WAYS; way++)
		for (long at = 0; at < MOST_CALLS; at += uses[which].step) {
			if (!try(which, way, at, was, is))
				break;
			ck_assert_int_lt(at, MOST_CALLS - uses[which].step);
			again(which, way, at, is);
			struck++;
		}
	ck_assert_int_gt(struck, uses[which].act == read_all ? 10 : 50);   /* or nothing was tried */
}
END_TEST

/* What was said to be filed stays filed when the power goes right after: the end of the rollback journal is on the
 * disk, too. Nothing is left that a power cut could take back. */
START_TEST(done_is_done)
{
	uint64_t was, is;

	prepare(_i, &was, &is);
	restore_file();
	ck_assert_int_eq(attempt(uses[_i].act), AB_OK);
	ck_assert_msg(fault_power_cut(1) == 0, "%s: something was not synced", uses[_i].title);
	ck_assert_msg(store_content(path, fault_real()) == is, "%s", uses[_i].title);
}
END_TEST

/* The disk of the tests does lose what was not synced: without the file layer's syncs a commit would be gone. */
START_TEST(the_power_cut_is_one)
{
	sqlite3 *db = NULL;
	uint64_t was, is;

	prepare(1, &was, &is);
	restore_file();
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, "PRAGMA synchronous = OFF; DELETE FROM batch; DELETE FROM fault", NULL, NULL, NULL),
	    SQLITE_OK);
	sqlite3_close(db);
	ck_assert(store_content(path, fault_real()) != was);
	restore_file();
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, "PRAGMA synchronous = OFF; DELETE FROM batch; DELETE FROM fault", NULL, NULL, NULL),
	    SQLITE_OK);
	sqlite3_close(db);
	ck_assert_int_gt(fault_power_cut(1), 0);
	unlink(hot);   /* the deletion was taken back, too: an old journal lies there */
	ck_assert(store_content(path, fault_real()) == was);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("store faults");
	TCase *tc = tcase_create("store faults");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 300);
	tcase_add_loop_test(tc, all_or_nothing, 0, USES);
	tcase_add_loop_test(tc, done_is_done, 0, USES);
	tcase_add_test(tc, the_power_cut_is_one);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
