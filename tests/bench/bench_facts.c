/* bench_facts.c - what the models cost on top of reading: all facts of one batch, median and worst in us. Never a
 * timed test.
 *
 * bench_facts RULES-DIR JOURNAL... ; without arguments AFTERBOIL_RULES and the examples and plain journals of srcdir.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <afterboil/casework.h>

enum { ROUNDS = 201, JOURNALS = 200 };

struct bench {
	const struct ab_knowledge *k;
	struct ab_profile *profile;
	double median[JOURNALS], worst;
	size_t n;
};

static double now_us(void)
{
	struct timespec t;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec * 1e6 + (double)t.tv_nsec / 1e3;
}

static int by_size(const void *a, const void *b)
{
	const double *x = a, *y = b;
	return *x < *y ? -1 : *x > *y;
}

static enum ab_status measure(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct bench *b = ctx;
	double us[ROUNDS];

	for (int i = 0; i < ROUNDS; i++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
		double start = now_us();
		if (ab_facts_compute(batch, b->profile, &b->k->norms, arena, facts, diag) != AB_OK)
			return AB_ENOMEM;
		us[i] = now_us() - start;
		ab_arena_free(arena);
	}
	qsort(us, ROUNDS, sizeof *us, by_size);
	printf("%-28s median %7.1f us, worst %7.1f us\n", batch->id, us[ROUNDS / 2], us[ROUNDS - 1]);
	b->median[b->n++] = us[ROUNDS / 2];
	b->worst = us[ROUNDS - 1] > b->worst ? us[ROUNDS - 1] : b->worst;
	return b->n < JOURNALS ? AB_OK : AB_ELIMIT;
}

static int bench_file(struct bench *b, const char *path, struct ab_diag *diag)
{
	struct ab_arena *arena = ab_arena_new();
	enum ab_status st = ab_journal_read_file(path, arena, measure, b, diag);

	ab_arena_free(arena);
	if (st != AB_OK)
		fprintf(stderr, "bench_facts: %s: %s\n", path, diag->text);
	return st != AB_OK;
}

static int bench_all(struct bench *b, struct ab_arena *arena, struct ab_diag *diag)
{
	static const char *const where[] = { "examples/[0-9]*.xml", "tests/cases/plain/*.xml" };
	const char *root = getenv("srcdir") != NULL ? getenv("srcdir") : ".";
	int bad = 0;

	for (size_t w = 0; w < 2; w++) {
		char path[512];
		glob_t found;
		b->profile = NULL;
		snprintf(path, sizeof path, "%s/examples/profile.xml", root);
		if (w == 0)
			bad |= ab_profile_read_file(path, arena, &b->profile, diag) != AB_OK;
		snprintf(path, sizeof path, "%s/%s", root, where[w]);
		if (glob(path, 0, NULL, &found) != 0)
			continue;
		for (size_t i = 0; i < found.gl_pathc; i++)
			bad |= bench_file(b, found.gl_pathv[i], diag);
		globfree(&found);
	}
	return bad;
}

int main(int argc, char **argv)
{
	const char *dir = argc > 1 ? argv[1] : getenv("AFTERBOIL_RULES");
	struct ab_arena *arena = ab_arena_new();
	struct ab_knowledge *k = NULL;
	struct bench b = { .n = 0 };
	struct ab_diag diag;
	int bad = 0;

	ab_diag_init(&diag);
	if (dir == NULL || ab_knowledge_read(&dir, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k,
	    &diag) != AB_OK) {
		fprintf(stderr, "bench_facts: no rules: %s\n", dir == NULL ? "AFTERBOIL_RULES is not set"
		    : diag.text);
		return 1;
	}
	b.k = k;
	for (int i = 2; i < argc; i++)
		bad |= bench_file(&b, argv[i], &diag);
	if (argc <= 2)
		bad = bench_all(&b, arena, &diag);
	qsort(b.median, b.n, sizeof *b.median, by_size);
	if (b.n > 0)
		printf("%zu batches: median of medians %.1f us, largest median %.1f us, worst single %.1f us\n",
		    b.n, b.median[b.n / 2], b.median[b.n - 1], b.worst);
	ab_arena_free(arena);
	return bad;
}
