/* loop_read.c - rules and the facts of journals for the simulated brewers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <stdio.h>
#include <stdlib.h>

#include <afterboil/casework.h>

_Noreturn void loop_give_up(const char *what, const char *why)
{
	printf("%s: %s\n", what, why);
	exit(1);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	(void)diag;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void read_journals(struct loop_read *read, char **paths, size_t n, struct ab_arena *arena)
{
	for (size_t i = 0; i < n; i++) {
		struct ab_batch *batch = NULL;
		struct ab_diag diag;
		struct ab_fact *facts = ab_arena_alloc(arena, read->k->facts->n, sizeof *facts);
		ab_diag_init(&diag);
		if (facts == NULL || ab_journal_read_file(paths[i], arena, keep, &batch, &diag) != AB_OK ||
		    batch == NULL || ab_facts_compute(batch, NULL, &read->k->norms, arena, facts, &diag) != AB_OK)
			loop_give_up(paths[i], diag.text);
		read->facts[read->n_facts++] = facts;
	}
}

void loop_read(struct loop_read *read, const char *rules, char **paths, size_t n, struct ab_arena *arena)
{
	const char *dirs[] = { rules };
	struct ab_knowledge *k = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (ab_knowledge_read(dirs, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag) != AB_OK)
		loop_give_up("rules", diag.text);
	*read = (struct loop_read){
		.k = k, .facts = ab_arena_alloc(arena, n, sizeof *read->facts), .scratch = ab_net_scratch_new()
	};
	if (read->facts == NULL || read->scratch == NULL)
		loop_give_up("facts", "out of memory");
	read_journals(read, paths, n, arena);
}
