/* check_workers.c - steps shared out among threads: each once, the first error by number, and no more at once than
 * asked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/workers.h"

#include <check.h>
#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { MOST = 5000 };

static struct trial {
	atomic_int done[MOST];
	atomic_bool busy[AB_WORKERS_MOST];
	atomic_size_t most_worker, in_all;
	size_t fails_from, fails_to;         /* steps from.. to - 1 fail */
	size_t told, last_told;
	pthread_t caller;
	bool told_elsewhere, step_elsewhere;
} t;

/* Slow enough that the others come to their turn. */
static void idle(size_t i)
{
	for (volatile size_t k = 0; k < 200 + i % 7 * 100; k++)
		;
}

static enum ab_status step(void *ctx, size_t worker, size_t i, struct ab_diag *diag)
{
	size_t most = atomic_load(&t.most_worker);

	ck_assert_ptr_eq(ctx, &t);
	if (worker >= AB_WORKERS_MOST || atomic_exchange(&t.busy[worker], true))
		abort();   /* two steps of one worker at once */
	while (worker > most && !atomic_compare_exchange_weak(&t.most_worker, &most, worker))
		;
	if ((worker == 0) != (pthread_equal(pthread_self(), t.caller) != 0))
		t.step_elsewhere = true;
	idle(i);
	atomic_fetch_add(&t.done[i], 1);
	atomic_fetch_add(&t.in_all, 1);
	atomic_store(&t.busy[worker], false);
	if (i >= t.fails_from && i < t.fails_to)
		return ab_fail(diag, AB_EINPUT, "brew.xml", (long)i + 1, "step %zu", i);
	return AB_OK;
}

static void told(void *ctx, size_t done)
{
	ck_assert_ptr_eq(ctx, &t);
	t.told++;
	t.told_elsewhere = t.told_elsewhere || !pthread_equal(pthread_self(), t.caller);
	if (done <= t.last_told)
		abort();
	t.last_told = done;
}

static enum ab_status run(size_t n, size_t workers, size_t fails_from, size_t fails_to, struct ab_diag *diag)
{
	const struct ab_steps steps = { .n = n, .step = step, .told = told, .ctx = &t };

	memset(&t, 0, sizeof t);
	t.fails_from = fails_from;
	t.fails_to = fails_to;
	t.caller = pthread_self();
	ab_diag_init(diag);
	return ab_steps_run(&steps, workers, diag);
}

static const struct { size_t n, workers; } rows[] = {
	{ 0, 1 }, { 0, 4 }, { 1, 1 }, { 1, 4 }, { 3, 4 }, { 7, 2 }, { 100, 1 }, { 100, 3 }, { MOST, 0 },
	{ MOST, 2 }, { MOST, 4 }, { MOST, 99 },
};

START_TEST(each_once)
{
	size_t n = rows[_i].n, workers = ab_workers_for(rows[_i].workers, n);
	struct ab_diag diag;

	ck_assert_int_eq(run(n, rows[_i].workers, n, n, &diag), AB_OK);
	ck_assert_int_eq(diag.status, AB_OK);
	for (size_t i = 0; i < MOST; i++)
		ck_assert_int_eq(t.done[i], i < n);
	ck_assert_uint_lt(t.most_worker, workers);
	ck_assert(!t.told_elsewhere && !t.step_elsewhere);
	ck_assert(workers > 1 || t.told == n);
	ck_assert_uint_le(t.last_told, n);
}
END_TEST

static const struct { size_t threads, steps, want; } fors[] = {
	{ 0, 10, 1 }, { 1, 10, 1 }, { 2, 10, 2 }, { 4, 10, 4 }, { 5, 10, 4 }, { 1000, 10, 4 }, { 4, 3, 3 },
	{ 4, 1, 1 }, { 4, 0, 1 }, { 0, 0, 1 },
};

START_TEST(how_many)
{
	ck_assert_uint_eq(ab_workers_for(fors[_i].threads, fors[_i].steps), fors[_i].want);
}
END_TEST

static const struct { size_t n, workers, from, to; } errors[] = {
	{ 100, 1, 0, 100 }, { 100, 4, 0, 100 }, { 100, 4, 99, 100 }, { 3000, 4, 1234, 1235 },
	{ 3000, 4, 1234, 3000 }, { 3000, 3, 5, 9 },
	{ 3000, 2, 2999, 3000 },
};

/* The lowest number that fails, every time, though others may have met theirs sooner. */
START_TEST(first_error_by_number)
{
	for (int again = 0; again < 20; again++) {
		char want[32];
		struct ab_diag diag;

		ck_assert_int_eq(
		    run(errors[_i].n, errors[_i].workers, errors[_i].from, errors[_i].to, &diag), AB_EINPUT);
		snprintf(want, sizeof want, "step %zu", errors[_i].from);
		ck_assert_str_eq(diag.text, want);
		ck_assert_str_eq(diag.source, "brew.xml");
		ck_assert_int_eq(diag.line, (long)errors[_i].from + 1);
		for (size_t i = 0; i < errors[_i].from; i++)
			ck_assert_int_eq(t.done[i], 1);
		/* one alone stops there; how far others came meanwhile is the machine's business */
		ck_assert(errors[_i].workers > 1 || t.in_all == errors[_i].from + 1);
	}
}
END_TEST

/* ---- two at once, each at a step that fails ---- */

static struct { atomic_bool failed[2]; atomic_size_t in_all; size_t first; } pair;

static void pause_ms(long ms)
{
	nanosleep(&(struct timespec){ .tv_nsec = ms * 1000000 }, NULL);
}

/* Step `first` of the two waits until the other has failed, and fails then; without a second thread it gives up
 * after seconds. */
static enum ab_status one_after_the_other(void *ctx, size_t worker, size_t i, struct ab_diag *diag)
{
	(void)ctx, (void)worker;
	atomic_fetch_add(&pair.in_all, 1);
	if (i > 1) {
		pause_ms(1);
		return AB_OK;
	}
	for (int ms = 0; ms < 5000 && i != pair.first && !atomic_load(&pair.failed[pair.first]); ms++)
		pause_ms(1);
	atomic_store(&pair.failed[i], true);
	return ab_fail(diag, AB_EINPUT, NULL, 0, "step %zu", i);
}

/* Whichever fails first by the clock: told is the lower number, and nothing new is begun once one has failed. */
START_TEST(two_fail)
{
	const struct ab_steps steps = { .n = MOST, .step = one_after_the_other };
	struct ab_diag diag;

	memset(&pair, 0, sizeof pair);
	pair.first = (size_t)_i;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_steps_run(&steps, 3, &diag), AB_EINPUT);
	ck_assert_str_eq(diag.text, "step 0");
	ck_assert_uint_lt(pair.in_all, MOST);
}
END_TEST

static atomic_int signals_elsewhere, signals;
static pthread_t main_thread;

static void on_signal(int number)
{
	(void)number;
	atomic_fetch_add(&signals, 1);
	if (!pthread_equal(pthread_self(), main_thread))
		atomic_fetch_add(&signals_elsewhere, 1);
}

static enum ab_status kill_step(void *ctx, size_t worker, size_t i, struct ab_diag *diag)
{
	(void)ctx, (void)diag;
	if (worker > 0 && i % 10 == 0)
		kill(getpid(), SIGUSR1);
	idle(i);
	return AB_OK;
}

/* A handler that cleans up may count on the thread it was made in. */
START_TEST(signals_go_to_the_caller)
{
	const struct ab_steps steps = { .n = MOST, .step = kill_step };
	struct sigaction act = { .sa_handler = on_signal };
	sigset_t before, after;

	main_thread = pthread_self();
	ck_assert_int_eq(sigaction(SIGUSR1, &act, NULL), 0);
	pthread_sigmask(SIG_SETMASK, NULL, &before);
	ck_assert_int_eq(ab_steps_run(&steps, 4, NULL), AB_OK);
	pthread_sigmask(SIG_SETMASK, NULL, &after);
	ck_assert_int_eq(signals_elsewhere, 0);
	for (int s = 1; s < 32; s++)
		ck_assert_int_eq(sigismember(&before, s), sigismember(&after, s));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("workers");
	TCase *tc = tcase_create("workers");
	SRunner *runner;

	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, each_once, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_loop_test(tc, how_many, 0, (int)(sizeof fors / sizeof *fors));
	tcase_add_loop_test(tc, first_error_by_number, 0, (int)(sizeof errors / sizeof *errors));
	tcase_add_loop_test(tc, two_fail, 0, 2);
	tcase_add_test(tc, signals_go_to_the_caller);
	suite_add_tcase(s, tc);
	runner = srunner_create(s);
	srunner_set_tap(runner, "-");
	srunner_run_all(runner, CK_SILENT);
	srunner_free(runner);
	return EXIT_SUCCESS;
}
