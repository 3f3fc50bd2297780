/* bench_network.c - how long one diagnosis takes: medians and worst of seeded random networks. Never a timed test.
 *
 * Aims: all marginals 50 us at 8 found faults, 5 ms at width 16 (65 causes, 48 faults, those not found judged absent).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "../unit/brute.h"

enum { SEEDS = 40, REPEATS = 5 };

static const struct { int causes, faults, found; double density; enum brute_kind kind; } rows[] = {
	{ 65, 48, 4,  0.08, BRUTE_STRONG },
	{ 65, 48, 8,  0.08, BRUTE_STRONG },
	{ 65, 48, 8,  0.15, BRUTE_MILD },
	{ 65, 48, 16, 0.08, BRUTE_STRONG },
	{ 65, 48, 16, 0.20, BRUTE_MILD },
	{ 65, 48, 16, 0.20, BRUTE_STRONG },
	{ 65, 48, 20, 0.08, BRUTE_STRONG },
	{ 35, 28, 16, 1.00, BRUTE_STRONG },   /* every cause gives every fault: the worst there can be */
};

static struct brute_net b;
static double present[BRUTE_CAUSES], blame[BRUTE_CAUSES];
static unsigned char story[BRUTE_CAUSES];

static double now_us(void)
{
	struct timespec t;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec * 1e6 + (double)t.tv_nsec / 1e3;
}

static int by_size(const void *x, const void *y)
{
	double a = *(const double *)x, c = *(const double *)y;

	return (a > c) - (a < c);
}

/* The best of some repeats, in microseconds; the first fills the scratch. */
static double best_of(struct ab_net_scratch *s, struct ab_beliefs *beliefs)
{
	double best = 1e18;

	for (int k = 0; k <= REPEATS; k++) {
		double start = now_us(), t;

		if (ab_net_solve_in(s, &b.net, beliefs, NULL) != AB_OK)
			return 0;
		t = now_us() - start;
		best = t < best ? t : best;
	}
	return best;
}

static void bench_row(struct ab_net_scratch *s, size_t row)
{
	double marginals[SEEDS], stories[SEEDS];
	int width = 0, open = 0;

	for (int k = 0; k < SEEDS; k++) {
		struct ab_beliefs plain = { .present = present, .blame = blame };
		struct ab_beliefs told = { .present = present, .blame = blame, .story = story };

		brute_make(&b, (unsigned)k + 1, rows[row].kind, (size_t)rows[row].causes, (size_t)rows[row].faults, rows[row].density);
		for (int f = 0; f < rows[row].faults; f++)
			b.finding[f] = f < rows[row].found ? (struct ab_finding){ AB_SEEN_FOUND, 1 + f % 3, 0 }
				: (struct ab_finding){ AB_SEEN_ABSENT, 0, 0.4 };
		marginals[k] = best_of(s, &plain);
		stories[k] = best_of(s, &told);
		width = plain.width > width ? plain.width : width;
		open += told.story_proven != 1;
	}
	qsort(marginals, SEEDS, sizeof *marginals, by_size);
	qsort(stories, SEEDS, sizeof *stories, by_size);
	printf("%2d causes %2d faults, %2d found, density %.2f, width to %2d: marginals median %7.0f us, worst %7.0f us; with the story "
	    "median %7.0f us, worst %7.0f us, %d not proven\n", rows[row].causes, rows[row].faults, rows[row].found, rows[row].density,
	    width, marginals[SEEDS / 2], marginals[SEEDS - 1], stories[SEEDS / 2], stories[SEEDS - 1], open);
}

int main(void)
{
	struct ab_net_scratch *s = ab_net_scratch_new();

	if (s == NULL)
		return 4;
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++)
		bench_row(s, row);
	ab_net_scratch_free(s);
	return 0;
}
