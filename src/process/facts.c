/* facts.c - the table of facts, and the one walk that computes them all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/facts.h>
#include <string.h>
#include "process/working.h"

#define DEF_N(id, name, unit, lo, hi, title, asks, minutes) { name, AB_FACT_NUMBER, unit, NULL, lo, hi, title, asks, minutes },
#define DEF_F(id, name, title, asks, minutes) { name, AB_FACT_FLAG, "", NULL, 0, 1, title, asks, minutes },
#define DEF_W(id, name, words, title, asks, minutes) { name, AB_FACT_WORD, "", words, 0, 0, title, asks, minutes },

static const struct ab_fact_def defs[] = { AB_FACT_LIST(DEF_N, DEF_F, DEF_W) };

_Static_assert(sizeof defs / sizeof *defs == AB_F_MAX_, "one definition a slot");

const struct ab_fact_table *ab_fact_defs(void)
{
	static const struct ab_fact_table table = { defs, AB_F_MAX_ };
	return &table;
}

/* Later ones read what earlier ones set. */
static void (*const phenomena[])(struct ab_work *) = {
	ab_gather, ab_facts_recipe, ab_facts_chill, ab_facts_water, ab_facts_attenuation, ab_facts_temperature,
	    ab_facts_pitch,
	ab_facts_lag, ab_facts_vessel, ab_facts_transfer, ab_facts_dryhop, ab_facts_hygiene, ab_facts_packaging,
	    ab_facts_priming,
	ab_facts_storage, ab_facts_serving, ab_facts_tasting, ab_facts_looks,
};

enum ab_status ab_facts_compute(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena, .facts = facts };

	if (profile != NULL)
		w.usual = profile->usual;
	memset(facts, 0, AB_F_MAX_ * sizeof *facts);
	for (size_t i = 0; i < sizeof phenomena / sizeof *phenomena; i++)
		phenomena[i](&w);
	if (w.short_of_memory)
		return ab_fail(diag, AB_ENOMEM, batch->source, batch->mark.line,
		    "out of memory while computing the facts");
	return AB_OK;
}
