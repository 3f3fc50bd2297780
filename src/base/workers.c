/* workers.c - steps shared out among threads
 *
 * Steps are handed out by a counter, so that none waits for a slow one. A number is handed out only after all below
 * it were: when a step fails, each with a lower number is done or at work, and the lowest that failed is the same
 * in every run.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/workers.h"

#include <assert.h>
#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>

struct crew {
	const struct ab_steps *steps;
	atomic_size_t next, done;
	atomic_bool stop;
};

struct worker {
	struct crew *crew;
	size_t me, failed_at;
	enum ab_status st;
	struct ab_diag diag;
	pthread_t thread;
};

size_t ab_workers_for(size_t threads, size_t steps)
{
	size_t most = threads < steps ? threads : steps;

	return most < 1 ? 1 : most > AB_WORKERS_MOST ? AB_WORKERS_MOST : most;
}

static void work(struct worker *w)
{
	struct crew *crew = w->crew;
	const struct ab_steps *steps = crew->steps;
	size_t i, done;

	while (!atomic_load(&crew->stop) && (i = atomic_fetch_add(&crew->next, 1)) < steps->n) {
		w->st = steps->step(steps->ctx, w->me, i, &w->diag);
		if (w->st != AB_OK) {
			w->failed_at = i;
			atomic_store(&crew->stop, true);
			return;
		}
		done = atomic_fetch_add(&crew->done, 1) + 1;
		if (w->me == 0 && steps->told != NULL)
			steps->told(steps->ctx, done);
	}
}

static void *thread_main(void *worker)
{
	work(worker);
	return NULL;
}

/* With all signals held back, which a thread inherits. Returns how many there are beside the caller; fewer than
 * asked for where the machine grants no more. */
static size_t start(struct worker *workers, size_t n)
{
	sigset_t all, before;
	size_t started = 1;

	sigfillset(&all);
	if (pthread_sigmask(SIG_SETMASK, &all, &before) != 0)
		return 0;
	while (started < n && pthread_create(&workers[started].thread, NULL, thread_main, &workers[started]) == 0)
		started++;
	pthread_sigmask(SIG_SETMASK, &before, NULL);
	return started - 1;
}

static enum ab_status outcome(const struct worker *workers, size_t n, struct ab_diag *diag)
{
	const struct worker *first = NULL;

	for (size_t w = 0; w < n; w++)
		if (workers[w].st != AB_OK && (first == NULL || workers[w].failed_at < first->failed_at))
			first = &workers[w];
	if (first == NULL)
		return AB_OK;
	return ab_fail(diag, first->st, first->diag.source[0] != '\0' ? first->diag.source : NULL, first->diag.line,
	    "%s", first->diag.text);
}

enum ab_status ab_steps_run(const struct ab_steps *steps, size_t workers, struct ab_diag *diag)
{
	struct crew crew = { .steps = steps };
	struct worker crewmen[AB_WORKERS_MOST];
	size_t n = ab_workers_for(workers, steps->n), beside;

	assert(steps->step != NULL);
	for (size_t w = 0; w < n; w++) {
		crewmen[w] = (struct worker){ .crew = &crew, .me = w };
		ab_diag_init(&crewmen[w].diag);
	}
	beside = n > 1 ? start(crewmen, n) : 0;
	work(&crewmen[0]);
	for (size_t w = 1; w <= beside; w++)
		pthread_join(crewmen[w].thread, NULL);
	return outcome(crewmen, beside + 1, diag);
}
