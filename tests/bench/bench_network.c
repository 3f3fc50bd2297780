/* bench_network.c - how long one diagnosis takes: medians and worst of seeded random networks. Never a timed test.
 *
 * Aims: all marginals 50 us at 8 found faults, 5 ms at width 16 (65 causes, 48 faults, those not found judged
 * absent). Then the networks that the rules themselves make (AFTERBOIL_RULES): nothing known but what was tasted.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <afterboil/casework.h>
#include "diagnosis/build.h"
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
static double present[AB_NET_CAUSES], blame[AB_NET_CAUSES];
static unsigned char story[AB_NET_CAUSES];

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

/* The best of some repeats, in microseconds; the first fills the scratch. 0: too wide to be solved. */
static double best_of(struct ab_net_scratch *s, const struct ab_net *net, struct ab_beliefs *beliefs)
{
	double best = 1e18;

	for (int k = 0; k <= REPEATS; k++) {
		double start = now_us(), t;

		if (ab_net_solve_in(s, net, beliefs, NULL) != AB_OK)
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

		brute_make(&b, (unsigned)k + 1, rows[row].kind, (size_t)rows[row].causes, (size_t)rows[row].faults,
		    rows[row].density);
		for (int f = 0; f < rows[row].faults; f++)
			b.finding[f] = f < rows[row].found ? (struct ab_finding){ AB_SEEN_FOUND, 1 + f % 3, 0 }
				: (struct ab_finding){ AB_SEEN_ABSENT, 0, 0.4 };
		marginals[k] = best_of(s, &b.net, &plain);
		stories[k] = best_of(s, &b.net, &told);
		width = plain.width > width ? plain.width : width;
		open += told.story_proven != 1;
	}
	qsort(marginals, SEEDS, sizeof *marginals, by_size);
	qsort(stories, SEEDS, sizeof *stories, by_size);
	printf(
	    "%2d causes %2d faults, %2d found, density %.2f, width to %2d: marginals median %7.0f us, worst "
	    "%7.0f us; with the story "
	    "median %7.0f us, worst %7.0f us, %d not proven\n",
	    rows[row].causes, rows[row].faults, rows[row].found, rows[row].density, width, marginals[SEEDS / 2],
	    marginals[SEEDS - 1], stories[SEEDS / 2], stories[SEEDS - 1], open);
}

/* ---- the rules' own networks ---- */

static const size_t own_found[] = { 8, 16 };

/* found of the faults, each set as likely as another (a shuffle broken off), graded in turn; the others judged
 * absent. */
static void draw(const struct ab_knowledge *k, unsigned seed, size_t found, struct ab_finding *finding)
{
	uint64_t x = 88172645463325252u + seed * 0x9E3779B97F4A7C15u;
	size_t order[AB_NET_FAULTS];

	for (size_t f = 0; f < k->n_faults; f++) {
		order[f] = f;
		finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 0.4 };
	}
	for (size_t i = 0; i < found; i++) {
		x ^= x << 13, x ^= x >> 7, x ^= x << 17;   /* xorshift64, Marsaglia 2003 */
		size_t j = i + (size_t)(x >> 11) % (k->n_faults - i), f = order[j];
		order[j] = order[i];
		finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1 + (int)(i % 3), 0 };
	}
}

/* The share of pairs of a cause and a found fault that are linked; leaks apart, which are links of their own here. */
static double density(const struct ab_knowledge *k, const struct ab_net *net, size_t found)
{
	size_t links = 0;

	for (size_t i = 0; i < net->n_links; i++)
		links += net->links[i].cause < (int)k->n_causes &&
		    net->finding[net->links[i].fault].seen == AB_SEEN_FOUND;
	return (double)links / (double)(k->n_causes * found);
}

/* Without the story, which takes a minute here. What is wider than can be solved is counted and not timed. */
static int bench_own(struct ab_net_scratch *s, const struct ab_knowledge *k, const struct ab_fact *facts, size_t found)
{
	struct ab_finding finding[AB_NET_FAULTS];
	struct ab_evidence evidence = { .finding = finding, .family = -1 };
	double marginals[SEEDS], dense = 0;
	int low = AB_NET_WIDTH, high = 0;
	size_t n = 0;

	for (unsigned seed = 1; seed <= SEEDS; seed++) {
		struct ab_beliefs plain = { .present = present, .blame = blame };
		struct ab_arena *arena = ab_arena_new();
		struct built built;

		draw(k, seed, found, finding);
		if (arena == NULL || !net_build(k, facts, &evidence, NET_OWN_LEAKS, arena, &built) ||
		    built.net.n_causes > AB_NET_CAUSES)
			return 4;
		dense += density(k, &built.net, found) / SEEDS;
		marginals[n] = best_of(s, &built.net, &plain);
		if (marginals[n] > 0) {
			n++;
			low = plain.width < low ? plain.width : low;
			high = plain.width > high ? plain.width : high;
		}
		ab_arena_free(arena);
	}
	if (n == 0)
		return 4;
	qsort(marginals, n, sizeof *marginals, by_size);
	printf(
	    "the rules' own %zu causes %zu faults, %zu found, density %.2f, width %d to %d (%zu of %d too "
	    "wide): marginals median %7.0f us, "
	    "worst %7.0f us\n",
	    k->n_causes, k->n_faults, found, dense, low, high, SEEDS - n, SEEDS, marginals[n / 2],
	    marginals[n - 1]);
	return 0;
}

static int bench_rules(struct ab_net_scratch *s)
{
	const char *dir = getenv("AFTERBOIL_RULES");
	struct ab_arena *arena = ab_arena_new();
	struct ab_fact *facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);   /* zeroed: all unknown */
	struct ab_knowledge *k = NULL;
	struct ab_diag diag;
	int bad = 0;

	ab_diag_init(&diag);
	if (dir == NULL ||
	    ab_knowledge_read(&dir, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag) != AB_OK) {
		fprintf(stderr, "bench_network: no rules: %s\n",
		    dir == NULL ? "AFTERBOIL_RULES is not set" : diag.text);
		bad = 1;
	}
	for (size_t i = 0; bad == 0 && i < sizeof own_found / sizeof *own_found; i++)
		bad = bench_own(s, k, facts, own_found[i]);
	ab_arena_free(arena);
	return bad;
}

int main(void)
{
	struct ab_net_scratch *s = ab_net_scratch_new();

	if (s == NULL)
		return 4;
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++)
		bench_row(s, row);
	int bad = bench_rules(s);
	ab_net_scratch_free(s);
	return bad;
}
