/* run_trade.c - what the trade takes for granted, on simulated brewers who follow the advice
 *
 * run_trade rebrew|beginner|sides|why RULES-DIR BREWERS JOURNAL...  BREWERS 0 = as many as fit a test.
 *   rebrew    one beer with one trouble, brewed again: a little at a time, or everything at once
 *   beginner  fifteen batches of brewers as they come, one change a batch
 *   sides     where the money of plans goes under small budgets
 *   why       which part of what the advice falls short of an oracle is the diagnosis, which haste, which the choice
 * Prints tables; lines for programs are "trade NAME N FIGURE ERROR", the error one standard error over brewers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trade.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void trade_add(struct trade_sum *s, double x)
{
	s->n++;
	s->total += x;
	s->squares += x * x;
}

double trade_mean(const struct trade_sum *s)
{
	return s->total / s->n;
}

double trade_error(const struct trade_sum *s)
{
	return s->n > 1 ? sqrt(fmax(0, s->squares / s->n - trade_mean(s) * trade_mean(s)) / (s->n - 1)) : INFINITY;
}

void trade_print(const char *name, int number, const char *title, const struct trade_sum *s)
{
	char whole[64];

	snprintf(whole, sizeof whole, number > 0 ? "%s-%d" : "%s", name, number);
	printf("  %-74s %7.3f +- %.3f  (%.0f)\n", title, trade_mean(s), trade_error(s), s->n);
	printf("trade\t%s\t%.0f\t%.6f\t%.6f\n", whole, s->n, trade_mean(s), trade_error(s));
}

struct loop_world trade_world(const struct loop_read *read, enum tasting tasting, size_t batches)
{
	return (struct loop_world){ .k = read->k,
		.truth = read->k,
		.tasting = tasting,
		.budget = 120,
		.minutes = 45,
		.batches = batches,
		.at_once = 1 };
}

void trade_drop(struct loop_brewer *b)
{
	gsl_rng_free(b->rng);
	ab_arena_free(b->arena);
}

struct ab_arena *trade_arena(void)
{
	struct ab_arena *arena = ab_arena_new();

	if (arena == NULL)
		loop_give_up("brewer", "out of memory");
	return arena;
}

static const struct { const char *name; void (*run)(const struct loop_read *, size_t); size_t usual; } parts[] = {
	{ "rebrew", trade_rebrew, 50 }, { "beginner", trade_beginner, 12 }, { "sides", trade_sides, 80 },
	{ "why", trade_why, 20 },
};

int main(int argc, char **argv)
{
	struct ab_arena *arena = ab_arena_new();
	struct loop_read read;
	bool known = false;

	if (argc < 5 || arena == NULL)
		loop_give_up("usage", "run_trade rebrew|beginner|sides|why RULES-DIR BREWERS JOURNAL...");
	loop_read(&read, argv[2], argv + 4, (size_t)argc - 4, arena);
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (strcmp(parts[i].name, argv[1]) == 0) {
			known = true;
			parts[i].run(&read, atoi(argv[3]) > 0 ? (size_t)atoi(argv[3]) : parts[i].usual);
		}
	ab_net_scratch_free(read.scratch);
	ab_arena_free(arena);
	return known ? 0 : 1;
}
