/* check_store_formats.c - stores of every older format, and of several at once, are brought up to date and lose
 * nothing
 *
 * Each format as older programs wrote it, and stores put together from two: with the number of one format and a
 * column or table of another, with no number (as a copy by .dump has it), with the newest number and something
 * lacking. Each is opened, compared with what it held, and opened again with the work interrupted at any step of
 * SQLite's own machine: it is the old one or the new.
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/history.h>
#include "base/alloc.h"
#include "rulecase.h"
#include "storecase.h"

static char folder[64], path[128], copy[160];
static struct ab_diag diag;
static const struct ab_past_wish all = { .facts = true, .beliefs = true };

/* ---- interrupting: SQLite asks after so many steps of its machine, whoever opened the store ---- */

static long steps_left = -1;   /* -1: never */
static bool interrupted;

static int at_step(void *ctx)
{
	(void)ctx;
	if (steps_left != 0) {
		steps_left -= steps_left > 0;
		return 0;
	}
	interrupted = true;
	return 1;
}

static int watch(sqlite3 *db, char **message, const struct sqlite3_api_routines *api)
{
	(void)message;
	(void)api;
	sqlite3_progress_handler(db, 1, at_step, NULL);
	return SQLITE_OK;
}

static void set_up(void)
{
	rules_read();
	ab_diag_init(&diag);
	strcpy(folder, "/tmp/afterboil-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	snprintf(path, sizeof path, "%s/history.db", folder);
	snprintf(copy, sizeof copy, "%s/before.db", folder);
	steps_left = -1;
	sqlite3_auto_extension((void (*)(void))watch);
}

static void tear_down(void)
{
	static const char *const names[] = { "history.db", "history.db-journal", "before.db", "before.db-journal" };

	ab_alloc_fail_at(-1);
	sqlite3_reset_auto_extension();
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		char whole[256];

		snprintf(whole, sizeof whole, "%s/%s", folder, names[i]);
		unlink(whole);
	}
	rmdir(folder);
	rules_drop();
}

/* ---- stores by hand ---- */

static void by_hand(const char *file, const char *sql)
{
	sqlite3 *db = NULL;

	ck_assert_int_eq(sqlite3_open(file, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s: %s", sql, sqlite3_errmsg(db));
	sqlite3_close(db);
}

static enum ab_status open_store(struct ab_history **out)
{
	ab_diag_init(&diag);
	return ab_history_open(path, out, &diag);
}

#define FIRST "id='a' brewed='2031-03-07' line='pale' family='pale hoppy'><vessel id='F2'/>" \
	"<pitch at='2031-03-07T18:00' temp='24 C'/>" \
	"<change>x</change>" STORE_TASTED

/* Of today: a batch in two revisions, another, a promise, a change of a profile. */
static void of_today(void)
{
	struct ab_history *s;

	ck_assert_int_eq(open_store(&s), AB_OK);
	ck_assert_int_eq(ab_history_begin(s, &diag), AB_OK);
	ab_history_judged_with(s, NULL, "9.9");
	ck_assert_int_eq(store_put(s, store_work("id='a' brewed='2031-03-07' line='pale'>"), NULL, &diag), AB_OK);
	ck_assert_int_eq(store_put(s, store_work(FIRST), NULL, &diag), AB_OK);
	ck_assert_int_eq(store_put(s, store_work("id='b' brewed='2031-04-07'>"), NULL, &diag), AB_OK);
	ck_assert_int_eq(ab_history_put_promise(s, "x", 1, &(struct ab_promised){ 5, 3, true }, false, &diag), AB_OK);
	ck_assert_int_eq(ab_history_commit(s, &diag), AB_OK);
	ab_history_close(s);
	by_hand(path, "INSERT INTO changed VALUES('', 'y', 1932724800, NULL)");
}

/* What takes a store of today back to an older format. Format 1 kept a row a fact and a row a belief. */
#define NO_5 "ALTER TABLE batch DROP COLUMN program;"
#define NO_4 "ALTER TABLE batch DROP COLUMN profile;"
#define NO_3 "DROP TABLE changed;"
#define ROWS \
	"CREATE TABLE fact(n INTEGER NOT NULL, name TEXT NOT NULL, value REAL, u REAL, origin INTEGER, PRIMARY " \
	"KEY(name, n)) WITHOUT ROWID;" \
	"CREATE TABLE belief(n INTEGER NOT NULL, cause TEXT NOT NULL, present REAL, blame REAL, PRIMARY KEY(n, " \
	"cause)) WITHOUT ROWID;" \
	"INSERT INTO fact VALUES(2, 'gravity.og', 1.048, 0.001, 1), (3, 'gravity.og', 1.061, 0, 2), (1, " \
	"'gravity.og', 9, 0, 2), (2, 'of.old', 7, 0, 1);" \
	"INSERT INTO belief VALUES(2, 'ferment-too-warm', 0.75, 0.5), (2, 'no-longer-known', 0.3, 0.1), (3, " \
	"'ferment-too-warm', 0.125, 0);"
#define NO_2 "ALTER TABLE batch DROP COLUMN facts; ALTER TABLE batch DROP COLUMN beliefs; DROP TABLE name;" ROWS
#define IS(n) "PRAGMA user_version = " #n

/* rows: facts and beliefs are those of ROWS. gone: what the older store cannot have told. */
static const struct { const char *title, *back; bool rows, no_changed, no_profile, no_program; } stores[] = {
	{ "format 4", NO_5 IS(4), false, false, false, true },
	{ "format 3", NO_5 NO_4 IS(3), false, false, true, true },
	{ "format 2", NO_5 NO_4 NO_3 IS(2), false, true, true, true },
	{ "format 1", NO_5 NO_4 NO_3 NO_2 IS(1), true, true, true, true },
	/* put together */
	{ "3, with the column of 4", NO_5 IS(3), false, false, false, true },
	{ "3, with the columns of 4 and 5", IS(3), false, false, false, false },
	{ "3, with the column of 5 alone", NO_4 IS(3), false, false, true, false },
	{ "4, with the column of 5", IS(4), false, false, false, false },
	{ "2, with the table of 3", NO_5 NO_4 IS(2), false, false, true, true },
	{ "2, with the column of 4 and no table of 3", NO_5 NO_3 IS(2), false, true, false, true },
	{ "1, with all of 5", IS(1), false, false, false, false },
	{ "1, with the table of 3", NO_5 NO_4 NO_2 IS(1), true, false, true, true },
	{ "1, with columns for what is packed, and the names",
	    NO_5 NO_4 NO_3 "UPDATE batch SET facts = NULL, beliefs = NULL; DELETE FROM name;" ROWS IS(1),
	    true, true, true, true },
	{ "1 by number 4", NO_5 NO_4 NO_3 NO_2 IS(4), true, true, true, true },
	{ "no number, as a copy by .dump", IS(0), false, false, false, false },
	{ "no number, format 3", NO_5 NO_4 IS(0), false, false, true, true },
	{ "no number, format 1", NO_5 NO_4 NO_3 NO_2 IS(0), true, true, true, true },
	{ "5, without its column", NO_5 IS(5), false, false, false, true },
	{ "5, without the table of 3", NO_3 IS(5), false, true, false, false },
	{ "4, without its index", "DROP INDEX batch_by_date;" IS(4), false, false, false, false },
	{ "4, its index with the days alone",
	    "DROP INDEX batch_by_date; CREATE INDEX batch_by_date ON batch(brewed, id);" IS(4), false, false, false,
	false },
};
enum { STORES = sizeof stores / sizeof *stores };

static double fact_of(const struct ab_past *p, const char *name)
{
	for (size_t i = 0; i < p->n_facts; i++)
		if (strcmp(rules->facts->defs[p->slots[i]].name, name) == 0)
			return p->values[i];
	return NAN;
}

static const struct ab_past *read_all(struct ab_history *s, size_t *n)
{
	struct ab_past *past;
	enum ab_status st = ab_history_batches(s, rules, NULL, &all, rules_arena, &past, n, &diag);

	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return past;
}

static void same_texts(const char *a, const char *b, const char *title)
{
	ck_assert_msg(strcmp(a != NULL ? a : "?", b != NULL ? b : "?") == 0, "%s: %s, was %s", title, b, a);
}

/* Everything but what the older format could not hold. */
static void nothing_lost(int which, const struct ab_past *was, const struct ab_past *is, size_t n)
{
	const char *title = stores[which].title;
	int warm = ab_cause_find(rules, "ferment-too-warm");

	for (size_t i = 0; i < n; i++) {
		same_texts(was[i].id, is[i].id, title);
		same_texts(was[i].line, is[i].line, title);
		same_texts(was[i].hash, is[i].hash, title);
		same_texts(was[i].rules, is[i].rules, title);
		same_texts(stores[which].no_profile ? NULL : was[i].profile, is[i].profile, title);
		same_texts(stores[which].no_program ? NULL : was[i].program, is[i].program, title);
		ck_assert(was[i].revision == is[i].revision && was[i].tasted == is[i].tasted &&
		    was[i].n_factors == is[i].n_factors);
		ck_assert(was[i].load == is[i].load || (isnan(was[i].load) && isnan(is[i].load)));
		ck_assert_uint_eq(is[i].n_changes, was[i].n_changes - (i == 1 && stores[which].no_changed));
		for (size_t f = 0; f < rules->n_faults; f++)
			ck_assert(was[i].fault_load[f] == is[i].fault_load[f]);
		if (stores[which].rows) {
			ck_assert_uint_eq(is[i].n_facts, 1);
			ck_assert_double_eq(fact_of(&is[i], "gravity.og"), i == 0 ? 1.048 : 1.061);
			ck_assert_double_eq(is[i].present[warm], i == 0 ? 0.75 : 0.125);
			continue;
		}
		ck_assert_uint_eq(is[i].n_facts, was[i].n_facts);
		for (size_t j = 0; j < is[i].n_facts; j++)
			ck_assert(was[i].slots[j] == is[i].slots[j] && was[i].values[j] == is[i].values[j] &&
			    was[i].us[j] == is[i].us[j]);
		for (size_t c = 0; c < rules->n_causes; c++)
			ck_assert(was[i].present[c] == is[i].present[c] && was[i].blame[c] == is[i].blame[c]);
	}
}

START_TEST(brought_up)
{
	struct ab_history *s;
	const struct ab_past *was, *is;
	size_t n_was, n;
	struct ab_promised p;

	of_today();
	ck_assert_int_eq(open_store(&s), AB_OK);
	was = read_all(s, &n_was);
	ck_assert_uint_eq(n_was, 2);
	same_texts("9.9", was[0].program, "today");
	ck_assert_uint_eq(was[1].n_changes, 1);
	ab_history_close(s);
	by_hand(path, stores[_i].back);
	for (int again = 0; again < 2; again++) {   /* once brought up to date, then as any other */
		enum ab_status st = open_store(&s);

		ck_assert_msg(st == AB_OK, "%s: %s", stores[_i].title, diag.text);
		is = read_all(s, &n);
		ck_assert_uint_eq(n, n_was);
		nothing_lost(_i, was, is, n);
		ck_assert(ab_history_promise(s, "x", &p) && p.load_before == 5 && p.load_after == 3);
		ck_assert_int_eq(store_number(path, "PRAGMA user_version"), 5);
		ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch"), 3);
		ck_assert_int_eq(store_number(path, "SELECT count(*) FROM changed"), !stores[_i].no_changed);
		ck_assert_int_eq(
		    store_number(path, "SELECT count(*) FROM sqlite_master WHERE name IN ('fact', 'belief')"), 0);
		ck_assert_int_eq(
		    store_number(path, "SELECT count(*) FROM sqlite_master WHERE name = 'batch_by_date'"), 1);
		ab_history_close(s);
	}
	if (stores[_i].rows)
		ck_assert_int_eq(store_number(path, "SELECT length(facts) FROM batch WHERE n = 2"), 2 * 21); /* the
														unknown
														one
														as
														well
													      */
}
END_TEST

/* All that is asked for the days of a history, or each would cost the reading of a row of 3 KB. */
START_TEST(days_in_the_index)
{
	of_today();
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM pragma_index_info('batch_by_date') WHERE name IN "
	    "('brewed', 'id', 'revision', 'tasted', 'line')"), 5);
}
END_TEST

/* The same journal is filed anew, once, where it is not known which profile or program judged it; old revisions
 * stay. */
START_TEST(filed_anew)
{
	struct ab_history *s;
	int added = -1, anew = stores[_i].no_profile || stores[_i].no_program ? 2 : 0;
	size_t n;

	of_today();
	by_hand(path, stores[_i].back);
	ck_assert_int_eq(open_store(&s), AB_OK);
	ab_history_judged_with(s, NULL, "9.9");
	ck_assert_int_eq(store_put(s, store_work(FIRST), &added, &diag), AB_OK);
	ck_assert_msg(added == anew, "%s: %d", stores[_i].title, added);
	ck_assert_int_eq(store_put(s, store_work(FIRST), &added, &diag), AB_OK);
	ck_assert_int_eq(added, 0);
	same_texts("none", read_all(s, &n)->profile, stores[_i].title);
	same_texts("9.9", read_all(s, &n)->program, stores[_i].title);
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch WHERE id = 'a'"), anew ? 3 : 2);
	ab_history_close(s);
}
END_TEST

static void copy_file(const char *from, const char *to)
{
	static char bytes[1 << 20];
	FILE *in = fopen(from, "rb"), *out;

	ck_assert_ptr_nonnull(in);
	size_t n = fread(bytes, 1, sizeof bytes, in);
	fclose(in);
	ck_assert(n > 0 && n < sizeof bytes);
	out = fopen(to, "wb");
	ck_assert(out != NULL && fwrite(bytes, 1, n, out) == n && fclose(out) == 0);
}

/* Stopped at a step of a statement, any of them over all stores (each begins at another and takes every
 * `apart`-th): the old or the new, said, and done the next time. The last step of the commit itself may be stopped
 * when all is done. */
START_TEST(interrupted_anywhere)
{
	struct ab_history *s;
	uint64_t was, is;
	const long apart = 29;
	long at = _i % apart, struck = 0;

	of_today();
	by_hand(path, stores[_i].back);
	copy_file(path, copy);
	was = store_content(path, NULL);
	ck_assert_int_eq(open_store(&s), AB_OK);
	ab_history_close(s);
	is = store_content(path, NULL);
	ck_assert(was != is);
	do {
		copy_file(copy, path);
		interrupted = false;
		steps_left = at;
		enum ab_status st = open_store(&s);
		steps_left = -1;
		ab_history_close(s);
		ck_assert_msg(st == AB_OK || (st == AB_ESYSTEM && strstr(diag.text, "interrupted") != NULL),
		    "%s, step %ld: %s", stores[_i].title, at, diag.text);
		uint64_t found = store_content(path, NULL);
		ck_assert_msg(found == is || (st != AB_OK && found == was),
		    "%s, step %ld: %s, but neither old nor new", stores[_i].title, at,
		    st == AB_OK ? "done" : diag.text);
		struck += interrupted && st != AB_OK;
		ck_assert_int_eq(open_store(&s), AB_OK);
		ab_history_close(s);
		ck_assert(store_content(path, NULL) == is);
		at += apart;
	} while (interrupted);
	ck_assert_int_gt(struck, 15);
}
END_TEST

START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	struct ab_history *s;
	uint64_t was;
	long at = 0;

	of_today();
	by_hand(path, stores[_i].back);
	was = store_content(path, NULL);
	for (; st != AB_OK && at < 100; at++) {
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_history_open(path, &s, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(
		    st == AB_OK || st == AB_ENOMEM, "%s, allocation %ld: status %d", stores[_i].title, at, (int)st);
		ck_assert((store_content(path, NULL) == was) == (st != AB_OK));
		if (st == AB_OK)
			ab_history_close(s);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, stores[_i].rows ? 2 : 1);
}
END_TEST

/* What is no history of ours stays as it is, whatever its number. */
static const struct { const char *title, *made; } strangers[] = {
	{ "another table", "CREATE TABLE songs(title TEXT, by TEXT); INSERT INTO songs VALUES('x', 'y')" },
	{ "another table, with a number", "CREATE TABLE songs(title TEXT, by TEXT); PRAGMA user_version = 3" },
	{ "another batch", "CREATE TABLE batch(title TEXT, by TEXT); INSERT INTO batch VALUES('x', 'y')" },
	{ "another batch, with our number", "CREATE TABLE batch(title TEXT, by TEXT); PRAGMA user_version = 5" },
	{ "another table, with our number", "CREATE TABLE songs(title TEXT, by TEXT); PRAGMA user_version = 5" },
};

START_TEST(a_stranger)
{
	struct ab_history *s;
	uint64_t was;

	by_hand(path, strangers[_i].made);
	was = store_content(path, NULL);
	ck_assert_int_eq(open_store(&s), AB_ESYSTEM);
	ck_assert_ptr_null(s);
	ck_assert_msg(
	    strcmp(diag.text,
		"this file is a database, but no history of afterboil; another file can be named with --store") ==
		0,
	    "%s: %s", strangers[_i].title, diag.text);
	ck_assert_str_eq(diag.source, path);
	ck_assert(store_content(path, NULL) == was);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("store formats");
	TCase *tc = tcase_create("store formats");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 300);
	tcase_add_loop_test(tc, brought_up, 0, STORES);
	tcase_add_test(tc, days_in_the_index);
	tcase_add_loop_test(tc, filed_anew, 0, STORES);
	tcase_add_loop_test(tc, interrupted_anywhere, 0, STORES);
	tcase_add_loop_test(tc, short_of_memory, 0, STORES);
	tcase_add_loop_test(tc, a_stranger, 0, (int)(sizeof strangers / sizeof *strangers));
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
