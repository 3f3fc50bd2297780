/* rulecase.c - the project's rules, for tests
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "rulecase.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include <afterboil/diagnose.h>
#include "factcase.h"

const struct ab_knowledge *rules;
struct ab_arena *rules_arena;

void rules_read(void)
{
	const char *dir = getenv("AFTERBOIL_RULES");
	struct ab_knowledge *read = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	rules_arena = ab_arena_new();
	/* An assertion that fails here, once for all, leaves libcheck with an empty plan, which counts as skipped. */
	if (dir == NULL || ab_knowledge_read(&dir, 1, ab_fact_defs(), ab_casework_vocabulary(), rules_arena, &read,
	    &diag) != AB_OK) {
		printf("Bail out! no rules in AFTERBOIL_RULES: %s:%ld: %s\n", diag.source, diag.line, diag.text);
		exit(EXIT_FAILURE);
	}
	rules = read;
}

void rules_drop(void)
{
	ab_arena_free(rules_arena);
	rules_arena = NULL;
	rules = NULL;
}

int rules_cause(const char *id)
{
	int found = ab_cause_find(rules, id);

	ck_assert_msg(found >= 0, "no cause %s", id);
	return found;
}

int rules_change(const char *id)
{
	int found = ab_change_find(rules, id);

	ck_assert_msg(found >= 0, "no change %s", id);
	return found;
}

struct ab_fact *rules_facts(const char *journal)
{
	struct ab_fact *facts = ab_arena_alloc(rules_arena, ab_fact_defs()->n, sizeof *facts);
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_compute(fact_read(journal, rules_arena), NULL, &rules->norms, rules_arena, facts,
	    &diag), AB_OK);
	return facts;
}

double rules_chance(const struct ab_fact *facts, const char *cause)
{
	double *p = ab_arena_alloc(rules_arena, rules->n_causes, sizeof *p);

	ab_alone(rules, facts, p);
	return p[rules_cause(cause)];
}

double rules_odds(const struct ab_fact *facts, const char *cause)
{
	double p = rules_chance(facts, cause);

	return p / (1 - p);
}
