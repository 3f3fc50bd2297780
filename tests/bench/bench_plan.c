/* bench_plan.c - how long planning takes: medians and worst of seeded random problems. Never a timed test.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plan.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "../unit/plan_cases.h"

enum { SEEDS = 12, POINTS = 2048 };

static struct plan_case drawn, redrawn;

static double
now_ms(void)
{
	struct timespec t;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static int
by_size(const void *a, const void *b)
{
	const double *x = a, *y = b;

	return *x < *y ? -1 : *x > *y;
}

static struct plan_shape
shape_of(int changes, int k)
{
	return (struct plan_shape){ .changes = changes, .causes = changes * 2 / 3, .touches = 4, .budgets = 1 + k % 2,
	    .tight = 0.1 + 0.1 * (k % 7), .needs = k % 3 == 1, .groups = k % 3 == 2, .savings = k % 5 == 4 };
}

static void
print_row(const char *what, int changes, double *ms, int n, long nodes, int open)
{
	qsort(ms, (size_t)n, sizeof *ms, by_size);
	printf("%-24s %3d changes: median %8.2f ms, worst %8.2f ms, %ld nodes in all, %d not proven\n", what,
	    changes, ms[n / 2], ms[n - 1], nodes, open);
}

static int
bench_plans(int changes)
{
	double ms[SEEDS * 7];
	unsigned char chosen[AB_PLAN_CHANGES];
	long nodes = 0;
	int k, open = 0;

	for (k = 0; k < SEEDS * 7; k++) {
		struct plan_shape shape = shape_of(changes, k);
		struct ab_choice choice = { .chosen = chosen };
		double start;

		plan_case_make(&drawn, &shape, (unsigned long long)(5000 + k));
		start = now_ms();
		if (ab_plan_solve(&drawn.problem, &choice, NULL) != AB_OK)
			return 1;
		ms[k] = now_ms() - start;
		nodes += choice.nodes;
		open += choice.gap > 0;
	}
	print_row("one plan", changes, ms, SEEDS * 7, nodes, open);
	return 0;
}

static int
bench_frontiers(int changes)
{
	static struct ab_frontier_point points[POINTS];
	static unsigned char store[POINTS * AB_PLAN_CHANGES];
	double ms[SEEDS];
	size_t n = 0;
	long total = 0;
	int k, j, open = 0;

	for (k = 0; k < SEEDS; k++) {
		struct plan_shape shape = shape_of(changes, k);
		double start;

		shape.tight = 1;
		plan_case_make(&drawn, &shape, (unsigned long long)(6000 + k));
		start = now_ms();
		if (ab_plan_frontier(&drawn.problem, 0, points, POINTS, store, &n, NULL) != AB_OK)
			return 1;
		ms[k] = now_ms() - start;
		total += (long)n;
		for (j = 0; j < (int)n; j++)
			open += points[j].gap > 0;
	}
	print_row("frontier (nodes=points)", changes, ms, SEEDS, total, open);
	return 0;
}

static int
bench_redraws(int changes, int redraws)
{
	double ms[SEEDS];
	unsigned char chosen[AB_PLAN_CHANGES];
	long nodes = 0;
	int k, j, open = 0;

	for (k = 0; k < SEEDS; k++) {
		struct plan_shape shape = shape_of(changes, k);
		struct ab_choice choice = { .chosen = chosen };

		plan_case_make(&drawn, &shape, (unsigned long long)(7000 + k));
		ms[k] = 0;
		for (j = 0; j < redraws; j++) {
			double start;

			plan_case_make(&redrawn, &shape, (unsigned long long)(7000 + k));
			plan_case_redraw(&redrawn, (unsigned long long)j);
			start = now_ms();
			if (ab_plan_solve(&redrawn.problem, &choice, NULL) != AB_OK)
				return 1;
			ms[k] += now_ms() - start;
			nodes += choice.nodes;
			open += choice.gap > 0;
		}
	}
	print_row("1,000 redraws", changes, ms, SEEDS, nodes, open);
	return 0;
}

int
main(void)
{
	static const int sizes[] = { 20, 40, 60, 80 };
	int bad = 0;
	size_t k;

	for (k = 0; k < sizeof sizes / sizeof *sizes; k++)
		bad += bench_plans(sizes[k]);
	bad += bench_frontiers(60);
	bad += bench_redraws(40, 1000);
	return bad > 0;
}
