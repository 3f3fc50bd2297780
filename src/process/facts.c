/* facts.c - the table of facts, and the one walk that computes them all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/facts.h>
#include <assert.h>
#include <string.h>
#include "process/working.h"

/* fact_list.h is the one list of facts; it is read here as definitions and in slots.h as places, so the
 * two cannot drift apart. An id missing in one would not compile. */
#define DEF_N(id, name, unit, lo, hi, title, asks, takes) { name, AB_FACT_NUMBER, unit, NULL, lo, hi, \
    title, asks, .minutes = takes },
#define DEF_F(id, name, title, asks, takes) { name, AB_FACT_FLAG, "", NULL, 0, 1, title, asks, .minutes = takes },
#define DEF_W(id, name, words, title, asks, takes) { name, AB_FACT_WORD, "", words, 0, 0, title, \
    asks, .minutes = takes },

#define LASTS , .lasting = true
static const struct ab_fact_def defs[] = { AB_FACT_LIST(DEF_N, DEF_F, DEF_W) };

_Static_assert(sizeof defs / sizeof *defs == AB_F_MAX_, "one definition a slot");

/* One table for the life of the program: rules, store and reports speak of the same slots. */
const struct ab_fact_table *ab_fact_defs(void)
{
	static const struct ab_fact_table table = { defs, AB_F_MAX_ };
	return &table;
}

/* Later ones read what earlier ones set. The order is part of the contract: a phenomenon moved before
 * one it reads from would silently find "unknown", not fail. */
static void (*const phenomena[])(struct ab_work *) = {
	ab_gather, ab_facts_recipe, ab_facts_chill, ab_facts_water, ab_facts_attenuation, ab_facts_curve,
	    ab_facts_dms, ab_facts_temperature, ab_facts_cleanup,
	    ab_facts_pitch,
	ab_facts_saturation, ab_facts_lag, ab_facts_growth, ab_facts_vessel, ab_facts_transfer,
	ab_facts_heldgas, ab_facts_dryhop, ab_facts_hygiene, ab_facts_packaging, ab_facts_priming,
	ab_facts_storage, ab_facts_light, ab_facts_oxygen, ab_facts_staling, ab_facts_serving,
	ab_facts_tasting, ab_facts_scores, ab_facts_looks,
};

/* "As if" facts stand before everything else and ab_set leaves them alone, so a what-if runs through
 * the same code as a real batch: no second model to keep in step. */
static void begin(struct ab_work *w)
{
	const struct ab_when zero = { .known = true };

	if (w->profile != NULL)
		w->usual = w->profile->usual;
	w->pitched_s = -ab_batch_since_pitch(w->batch, &zero);
	memset(w->facts, 0, AB_F_MAX_ * sizeof *w->facts);
	for (size_t i = 0; i < w->n_as_if; i++)
		w->facts[w->as_if[i].slot] = (struct ab_fact){ .origin = AB_ORIGIN_ASSUMED,
			.value = w->as_if[i].value,
			.working = "as if it were so" };
}

void ab_facts_walk(struct ab_work *w)
{
	ab_facts_walk_to(w, NULL);
}

void ab_facts_walk_to(struct ab_work *w, void (*last)(struct ab_work *))
{
	begin(w);
	for (size_t i = 0; i < sizeof phenomena / sizeof *phenomena; i++) {
		phenomena[i](w);
		if (phenomena[i] == last)
			return;
	}
}

/* Memory is asked about once, after the walk: a phenomenon that lacks it sets the flag and leaves its
 * facts unknown. */
static enum ab_status ended(const struct ab_work *w, struct ab_diag *diag)
{
	if (w->short_of_memory)
		return ab_fail(diag, AB_ENOMEM, w->batch->source, w->batch->mark.line,
		    "out of memory while computing the facts");
	return AB_OK;
}

static enum ab_status walk(struct ab_work *w, struct ab_diag *diag)
{
	ab_facts_walk(w);
	return ended(w, diag);
}

enum ab_status ab_facts_recompute(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, const struct ab_as_if *as_if, size_t n_as_if, struct ab_arena *arena,
    struct ab_fact *facts, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena,
		.facts = facts, .as_if = as_if,
		.n_as_if = n_as_if };

	return walk(&w, diag);
}

enum ab_status ab_facts_bare(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena,
		.facts = facts, .bare = true };

	return walk(&w, diag);
}

/* Phenomenon by phenomenon: the code of all of them is larger than the nearest cache, and batch by batch each would
 * be fetched anew (with that, of all filing, misses of a code cache of 32 KiB are halved, simulated). */
enum ab_status ab_facts_bare_few(const struct ab_batch *const *batches, size_t n, const struct ab_profile *profile,
    const struct ab_norms *norms, struct ab_arena *arena, struct ab_fact *const *facts, struct ab_diag *diag)
{
	struct ab_work *w = ab_arena_raw(arena, n, sizeof *w);
	enum ab_status st = AB_OK;

	if (w == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while computing the facts");
	for (size_t i = 0; i < n; i++) {
		w[i] = (struct ab_work){ .batch = batches[i], .profile = profile, .norms = norms, .arena = arena,
			.facts = facts[i], .bare = true };
		begin(&w[i]);
	}
	for (size_t p = 0; p < sizeof phenomena / sizeof *phenomena; p++)
		for (size_t i = 0; i < n; i++)
			phenomena[p](&w[i]);
	for (size_t i = 0; st == AB_OK && i < n; i++)
		st = ended(&w[i], diag);
	return st;
}

enum ab_status ab_facts_compute(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_fact *facts, struct ab_diag *diag)
{
	return ab_facts_recompute(batch, profile, norms, NULL, 0, arena, facts, diag);
}

/* What the facts of models rest on. One that is moved by hand leaves them behind. In topological order:
 * a fact stands below those it is derived from, so one pass over the table reaches all. */
static const struct { int derived, from[12]; } rests[] = {
	{ AB_F_PITCH_RATE_SHARE, { AB_F_YEAST_AGE, AB_F_YEAST_KEPT, AB_F_YEAST_STARTER } },
	{ AB_F_FERMENT_EARLY_MEAN, { AB_F_FERMENT_EARLY_OVER } },
	{ AB_F_FERMENT_PEAK_OVER, { AB_F_FERMENT_EARLY_OVER } },
	{ AB_F_FERMENT_BELOW, { AB_F_FERMENT_EARLY_OVER } },
	{ AB_F_FERMENT_HOURS_OUT, { AB_F_FERMENT_EARLY_OVER } },
	{ AB_F_AERATE_OXYGEN, { AB_F_AERATE_METHOD, AB_F_AERATE_TIME } },
	{ AB_F_AERATE_SHORT, { AB_F_AERATE_OXYGEN, AB_F_GRAVITY_OG, AB_F_YEAST_FORM } },
	{ AB_F_OXYGEN_TRANSFER, { AB_F_TRANSFER_SPLASHED, AB_F_TRANSFER_TARGET, AB_F_PACK_WAND,
	    AB_F_PACK_INTO } },
	{ AB_F_OXYGEN_SECOND, { AB_F_VESSEL_SECOND, AB_F_VESSEL_SECOND_AIR, AB_F_TRANSFER_TARGET } },
	{ AB_F_OXYGEN_OPENED, { AB_F_VESSEL_OPEN } },
	{ AB_F_OXYGEN_HOPS, { AB_F_HOPS_DRY_LOAD, AB_F_HOPS_DRY_OPENED, AB_F_HOPS_DRY_TO_PACKAGE } },
	{ AB_F_OXYGEN_CRASH, { AB_F_CRASH_AIRLOCK, AB_F_CRASH_SUCKED } },
	{ AB_F_OXYGEN_PERMEATION, { AB_F_VESSEL_SECOND, AB_F_VESSEL_KIND, AB_F_VESSEL_SEALED } },
	{ AB_F_OXYGEN_HEADSPACE, { AB_F_PACK_NECK, AB_F_PACK_FOAM, AB_F_PACK_FILLED, AB_F_PACK_PURGES,
	    AB_F_PACK_INTO } },
	{ AB_F_OXYGEN_CLOSURE, { AB_F_PACK_CAP, AB_F_PACK_LEAK, AB_F_STORE_DAYS, AB_F_PACK_INTO } },
	{ AB_F_OXYGEN_TOTAL, { AB_F_OXYGEN_TRANSFER, AB_F_OXYGEN_SECOND, AB_F_OXYGEN_OPENED, AB_F_OXYGEN_HOPS,
	    AB_F_OXYGEN_CRASH, AB_F_OXYGEN_PERMEATION, AB_F_OXYGEN_HEADSPACE, AB_F_OXYGEN_CLOSURE,
	    AB_F_PACK_PRIMING } },
	{ AB_F_STALE_DOSE, { AB_F_OXYGEN_TOTAL, AB_F_STORE_EQUIVALENT } },
	{ AB_F_STALE_OUTLOOK, { AB_F_RECIPE_FAMILY, AB_F_OXYGEN_TOTAL, AB_F_STORE_EQUIVALENT } },
	{ AB_F_HOPS_CREEP, { AB_F_HOPS_DRY_LOAD, AB_F_HOPS_DRY_CONTACT, AB_F_HOPS_DRY_TO_PACKAGE } },
	{ AB_F_KEG_TO_COME, { AB_F_GRAVITY_POINTS_LEFT, AB_F_GRAVITY_STABLE_DAYS, AB_F_HOPS_CREEP } },
	{ AB_F_PACK_CO2, { AB_F_PACK_PRIMING, AB_F_GRAVITY_POINTS_LEFT, AB_F_GRAVITY_STABLE_DAYS,
	    AB_F_HOPS_CREEP } },
	{ AB_F_PACK_CO2_OVER, { AB_F_PACK_CO2 } },
	{ AB_F_PACK_PRESSURE, { AB_F_PACK_CO2 } },
	{ AB_F_KEG_WARM, { AB_F_KEG_TO_COME, AB_F_PACK_CO2 } },
	{ AB_F_PACK_PRESSURE_SHARE, { AB_F_PACK_PRESSURE } },
	{ AB_F_CHILL_DMS, { AB_F_CHILL_ABOVE_80, AB_F_CHILL_METHOD, AB_F_BOIL_TIME,
	    AB_F_RECIPE_PILSNER_SHARE } },
	{ AB_F_PITCH_DOUBLINGS, { AB_F_CHILL_TO_PITCH, AB_F_CHILL_METHOD, AB_F_LAG_TIME,
	    AB_F_FERMENT_EARLY_MEAN } },
	{ AB_F_LIGHT_DOSE, { AB_F_STORE_LIGHT, AB_F_STORE_DAYS, AB_F_PACK_COLOUR, AB_F_PACK_INTO,
	    AB_F_VESSEL_LIGHT, AB_F_VESSEL_KIND } },
	{ AB_F_FERMENT_HEAT_RISE, { AB_F_FERMENT_ROOM, AB_F_FERMENT_CONTROL } },
	{ AB_F_FERMENT_CLEANUP, { AB_F_FERMENT_REST_DAYS, AB_F_FERMENT_DAYS, AB_F_FERMENT_CONTROL,
	    AB_F_FERMENT_ROOM } },
	{ AB_F_GRAVITY_OVER_EXPECTED, { AB_F_GRAVITY_POINTS_LEFT } },
	{ AB_F_GRAVITY_DROP_PACKAGED, { AB_F_GRAVITY_POINTS_LEFT, AB_F_GRAVITY_STABLE_DAYS } },
	{ AB_F_GRAVITY_STATE, { AB_F_GRAVITY_LAST, AB_F_GRAVITY_OVER_EXPECTED, AB_F_GRAVITY_POINTS_LEFT,
	    AB_F_GRAVITY_STABLE_DAYS, AB_F_FERMENT_STALLED } },
};

void ab_facts_outdate(struct ab_fact *facts, int slot)
{
	bool moved[AB_F_MAX_] = { false };

	assert(slot >= 0 && slot < AB_F_MAX_);
	moved[slot] = true;
	for (size_t i = 0; i < sizeof rests / sizeof *rests; i++)
		/* slot 0 is the family, which is named first where it counts, so that 0 can end a row */
		for (size_t j = 0; j < sizeof rests[i].from / sizeof *rests[i].from; j++)
			if ((rests[i].from[j] != 0 || j == 0) && moved[rests[i].from[j]] &&
			    rests[i].derived != slot) {
				moved[rests[i].derived] = true;
				facts[rests[i].derived] = (struct ab_fact){ .origin = AB_ORIGIN_UNKNOWN };
			}
}
