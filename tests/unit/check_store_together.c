/* check_store_together.c - several programs with one store at once: each revision is kept, nobody reads half a run
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <afterboil/history.h>
#include "rulecase.h"
#include "storecase.h"

enum { PROGRAMS = 4, RUNS = 6, TOGETHER = 3 };

static char folder[64], path[128];
static struct ab_diag diag;
static const struct ab_case *cases[PROGRAMS];

static void set_up(void)
{
	rules_read();
	strcpy(folder, "/tmp/afterboil-test-XXXXXX");
	ck_assert_ptr_nonnull(mkdtemp(folder));
	snprintf(path, sizeof path, "%s/history.db", folder);
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	char hot[160];

	snprintf(hot, sizeof hot, "%s-journal", path);
	unlink(path);
	unlink(hot);
	rmdir(folder);
	rules_drop();
}

static void make_cases(bool same_id)
{
	for (int i = 0; i < PROGRAMS; i++) {
		char inside[256];

		snprintf(inside, sizeof inside,
		    "id='%c' brewed='2031-03-0%d' line='pale'><vessel id='F%d'/>" STORE_TASTED,
		    same_id ? 'a' : 'a' + i, same_id ? 7 : 1 + i, i);
		cases[i] = store_work(inside);
	}
}

/* One run of the program: open, file TOGETHER contents of one batch, close. */
static enum ab_status run_once(int which, int run)
{
	struct ab_history *s = NULL;
	char hash[65];
	enum ab_status st = ab_history_open(path, &s, &diag);

	if (st == AB_OK)
		st = ab_history_begin(s, &diag);
	for (int i = 0; st == AB_OK && i < TOGETHER; i++) {
		snprintf(hash, sizeof hash, "%062d%d%d", which, run, i);
		st = ab_history_put(s, rules, cases[which], hash, NULL, &diag);
	}
	if (st == AB_OK)
		st = ab_history_commit(s, &diag);
	ab_history_close(s);
	return st;
}

/* All begin when the pipe is closed, so also the making of the tables is contended. */
static pid_t start(int gate, int which)
{
	pid_t child = fork();
	char byte;

	ck_assert_int_ge(child, 0);
	if (child != 0)
		return child;
	if (read(gate, &byte, 1) < 0)
		_exit(2);
	for (int run = 0; run < RUNS; run++)
		if (run_once(which, run) != AB_OK) {
			fprintf(stderr, "# program %d, run %d: %s\n", which, run, diag.text);
			_exit(1);
		}
	_exit(0);
}

/* What a reader sees: revisions come in whole runs, and never go back. */
static int look(int seen)
{
	struct ab_history *s = NULL;
	struct ab_past *past;
	struct ab_arena *arena = ab_arena_new();
	size_t n = 0;
	int now = 0;

	ck_assert_msg(ab_history_open(path, &s, &diag) == AB_OK, "%s", diag.text);
	ck_assert_msg(ab_history_batches(s, rules, NULL, NULL, arena, &past, &n, &diag) == AB_OK, "%s", diag.text);
	for (size_t i = 0; i < n; i++) {
		ck_assert_msg(
		    past[i].revision % TOGETHER == 0, "revision %d of a run of %d", past[i].revision, TOGETHER);
		ck_assert(past[i].n_factors == 1 && past[i].tasted);
		now += past[i].revision;
	}
	ck_assert_int_ge(now, seen);
	ab_history_close(s);
	ab_arena_free(arena);
	return now;
}

static const char *const orders[] = { "different batches", "the same batch" };

START_TEST(nothing_lost)
{
	int gate[2], seen = 0, left = PROGRAMS, status;
	pid_t children[PROGRAMS];

	make_cases(_i == 1);
	ck_assert_int_eq(pipe(gate), 0);
	for (int i = 0; i < PROGRAMS; i++)
		children[i] = start(gate[0], i);
	close(gate[0]);
	ck_assert_int_eq(write(gate[1], "xxxx", PROGRAMS), PROGRAMS);
	close(gate[1]);
	while (left > 0) {
		seen = look(seen);
		for (int i = 0; i < PROGRAMS; i++)
			if (children[i] > 0 && waitpid(children[i], &status, WNOHANG) == children[i]) {
				ck_assert_msg(
				    WIFEXITED(status) && WEXITSTATUS(status) == 0, "%s: program %d", orders[_i], i);
				children[i] = 0;
				left--;
			}
	}
	ck_assert_int_eq(look(seen), PROGRAMS * RUNS * TOGETHER);
	store_content(path, NULL);
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch"), PROGRAMS * RUNS * TOGETHER);
	ck_assert_int_eq(store_number(path, "SELECT count(DISTINCT hash) FROM batch"), PROGRAMS * RUNS * TOGETHER);
	/* revisions without a gap, whoever filed them */
	ck_assert_int_eq(
	    store_number(path,
		"SELECT count(*) FROM (SELECT id FROM batch GROUP BY id HAVING max(revision) = count(*) AND "
		"min(revision) = 1)"),
	    _i == 1 ? 1 : PROGRAMS);
	ck_assert_int_eq(
	    store_number(path,
		"SELECT count(*) FROM batch WHERE n NOT IN (SELECT n FROM factor) OR n NOT IN (SELECT n FROM fault)"),
	    0);
}
END_TEST

/* The order in which two programs come does not matter to what is kept, only to which is the newest. */
START_TEST(either_order)
{
	static const int orders_of_two[][2] = { { 0, 1 }, { 1, 0 } };
	struct ab_history *s[2] = { NULL, NULL };
	struct ab_arena *arena = ab_arena_new();
	struct ab_past *past;
	size_t n;
	int added;

	make_cases(true);
	for (int i = 0; i < 2; i++)
		ck_assert_int_eq(ab_history_open(path, &s[i], &diag), AB_OK);
	for (int i = 0; i < 2; i++) {
		int which = orders_of_two[_i][i];

		ck_assert_int_eq(ab_history_begin(s[which], &diag), AB_OK);
		ck_assert_int_eq(store_put(s[which], cases[which], &added, &diag), AB_OK);
		ck_assert_int_eq(ab_history_commit(s[which], &diag), AB_OK);
		ck_assert_int_eq(added, i == 0 ? 1 : 2);
	}
	for (int i = 0; i < 2; i++) {   /* both see the same */
		ck_assert_int_eq(ab_history_batches(s[i], rules, NULL, NULL, arena, &past, &n, &diag), AB_OK);
		ck_assert(n == 1 && past->revision == 2);
		ck_assert_str_eq(past->factors[0].value, orders_of_two[_i][1] == 0 ? "F0" : "F1");
		ab_history_close(s[i]);
	}
	ck_assert_int_eq(store_number(path, "SELECT count(*) FROM batch"), 2);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("store together");
	TCase *tc = tcase_create("store together");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, nothing_lost, 0, 2);
	tcase_add_loop_test(tc, either_order, 0, 2);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
