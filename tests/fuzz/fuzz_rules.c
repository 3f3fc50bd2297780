/* fuzz_rules.c - a rules file from a stranger: read, compiled, looked at as a whole
 *
 * Every other reading runs out of memory somewhere, so the ways out are walked as well.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdlib.h>
#include <afterboil/casework.h>

#include "base/alloc.h"
#include "knowledge/compile.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void use(const struct ab_knowledge *k)
{
	struct ab_fact *facts = calloc(k->facts->n, sizeof *facts);
	double *p = calloc(k->n_causes + 1, sizeof *p);
	const char *near[4];
	size_t n;
	if (facts == NULL || p == NULL)
		abort();
	ab_alone(k, facts, p);
	for (size_t i = 0; i < k->n_causes; i++)
		if (!(p[i] >= 0 && p[i] <= 1))
			abort();
	for (size_t i = 0; i < k->n_faults; i++)
		ab_fault_word(k, k->faults[i].title, near, 4, &n);
	free(facts);
	free(p);
}

static void read_once(const uint8_t *data, size_t size)
{
	struct ab_lint findings[8];
	struct ab_arena *arena = ab_arena_new();
	struct lint lint = { .arena = arena, .items = findings, .max = 8 };
	struct raw_all all = { { { 0 } } };
	struct ab_knowledge k = { 0 };
	enum ab_status st;
	if (arena == NULL)
		return;
	st = rules_gather_text("fuzz", (const char *)data, size, arena, &lint, &all, NULL);
	if (st == AB_OK && lint.errors == 0)
		st = rules_compile(&all, ab_fact_defs(), NULL, arena, &lint, &k, NULL);
	if (st == AB_OK && lint.errors == 0) {
		lint_whole(&lint, &k);
		use(&k);
	}
	ab_arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	read_once(data, size);
	if (size > 0 && data[size - 1] % 2 == 0) {
		ab_alloc_fail_at((long)(size % 97));
		read_once(data, size);
		ab_alloc_fail_at(-1);
	}
	return 0;
}
