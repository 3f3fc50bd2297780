/* loop.c - the simulated brewer and the truth about the brewing
 *
 * Its own reading of changes: nothing here calls the advice it is to judge.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <gsl/gsl_randist.h>

/* Imagined batches behind a brewer's own chances: at 1.5 and a share of 0.1 half of all brewers never meet the
 * cause in ten batches and one in ten meets it every second time (estimate: faults of home brewers recur). */
const double loop_same_brewer = 1.5;
/* No habit is kept, and no kit works, always. */
static const double MOST = 0.95;
/* Told not to have been: of what surely never was, no change takes anything, and the advice would forget what may
 * still come. */
static const double NEVER = 1e-6;
enum { FAULTS = 256 };

static void *room(struct ab_arena *arena, size_t n, size_t size)
{
	void *p = ab_arena_alloc(arena, n + 1, size);

	if (p == NULL) {
		printf("loop: out of memory\n");
		exit(1);
	}
	return p;
}

/* ---- what changes do to facts and causes ---- */

static bool bites(const struct ab_fact *fact, const struct ab_sets *sets)
{
	if (!AB_FACT_KNOWN(fact) || fact->value == sets->value)
		return false;
	return sets->mode == AB_SET_TO ||
	    (sets->mode == AB_SET_AT_MOST ? fact->value > sets->value : fact->value < sets->value);
}

/* The facts with the changes in force; does any differ? What was reckoned from a moved fact is unknown afterwards. */
static bool facts_with(const struct loop_brewer *b, const unsigned char *has, struct ab_fact *facts)
{
	const struct ab_knowledge *k = b->world->truth;
	bool moved = false;

	memcpy(facts, b->base, k->facts->n * sizeof *facts);
	for (size_t u = 0; u < k->n_changes; u++)
		for (size_t s = 0; has[u] && s < k->changes[u].n_sets; s++) {
			const struct ab_sets *sets = &k->changes[u].sets[s];
			if (!bites(&facts[sets->slot], sets))
				continue;
			facts[sets->slot].value = sets->value;
			facts[sets->slot].guess = false;
			ab_facts_outdate(facts, sets->slot);
			moved = true;
		}
	return moved;
}

static bool looks_at(const struct ab_cause *c, int slot)
{
	bool so = false;

	for (size_t i = 0; i < c->n_signs; i++) {
		so |= c->signs[i].slot == slot;
		for (size_t j = 0; j < c->signs[i].when.n; j++)
			so |= c->signs[i].when.items[j].slot == slot;
	}
	for (size_t i = 0; i < c->n_priors; i++)
		for (size_t j = 0; j < c->priors[i].when.n; j++)
			so |= c->priors[i].when.items[j].slot == slot;
	for (size_t i = 0; i < c->n_gates; i++)
		for (size_t j = 0; j < c->gates[i].when.n; j++)
			so |= c->gates[i].when.items[j].slot == slot;
	return so;
}

/* The facts tell what the change does to this cause: then its rated share is not asked. */
static bool told_by_facts(const struct loop_brewer *b, const struct ab_change *change, const struct ab_cause *cause)
{
	for (size_t s = 0; s < change->n_sets; s++)
		if (AB_FACT_KNOWN(&b->base[change->sets[s].slot]) && looks_at(cause, change->sets[s].slot))
			return true;
	return false;
}

static double rated(const struct ab_change *change, size_t cause, const struct ab_fact *facts)
{
	double share = 0;

	for (size_t i = 0; i < change->n_prevents; i++)
		if ((size_t)change->prevents[i].cause == cause && ab_conds_hold(&change->prevents[i].when, facts))
			share = change->prevents[i].share;
	return share;
}

/* They hang on the facts before any change: once a brewer. */
static void fill_rated(const struct loop_brewer *b)
{
	const struct ab_knowledge *k = b->world->truth;

	for (size_t u = 0; u < k->n_changes; u++)
		for (size_t c = 0; c < k->n_causes; c++)
			if (!told_by_facts(b, &k->changes[u], &k->causes[c]))
				b->rated[u * k->n_causes + c] = rated(&k->changes[u], c, b->base);
}

/* The hidden chances with these changes, into b->now; the facts with them, into b->facts. */
static void reckon(const struct loop_brewer *b, const unsigned char *has)
{
	const struct ab_knowledge *k = b->world->truth;
	const double *after = b->before;

	if (facts_with(b, has, b->facts)) {
		ab_alone(k, b->facts, b->after);
		after = b->after;
	}
	for (size_t c = 0; c < k->n_causes; c++)
		b->now[c] = b->chance[c] * (after[c] < b->before[c] ? fmax(after[c] / b->before[c], 1 - MOST) : 1);
	for (size_t u = 0; u < k->n_changes; u++)
		for (size_t c = 0; has[u] && c < k->n_causes; c++)
			b->now[c] *= 1 - b->rated[u * k->n_causes + c];
}

/* ---- the truth ---- */

static int family_of(const struct ab_knowledge *k, const struct ab_fact *facts)
{
	int slot = ab_fact_slot(k->facts, "recipe.family");

	return AB_FACT_KNOWN(&facts[slot]) ? (int)facts[slot].value : -1;
}

/* Flaw load of each grade of a fault: 0 while the beer is meant to have it. */
static double severity(const struct ab_knowledge *k, const struct ab_fact *facts, size_t fault, int grade)
{
	int family = family_of(k, facts);

	return ab_fault_expected(k, facts, family, (int)fault, grade) ? 0 : k->faults[fault].severity *
	    ab_family_factor(k, family, (int)fault);
}

/* below[fault][grade]: P(this cause keeps the fault under the grade), multiplied into it. The last link that holds
 * counts. */
static void keep_below(const struct loop_brewer *b, const struct ab_cause *cause, double chance)
{
	const double *tail[FAULTS] = { NULL };

	for (size_t i = 0; i < cause->n_links; i++)
		if (ab_conds_hold(&cause->links[i].when, b->facts))
			tail[cause->links[i].fault] = cause->links[i].tail;
	for (size_t f = 0; f < b->world->truth->n_faults; f++)
		for (int g = 1; tail[f] != NULL && g < AB_GRADES; g++)
			b->below[f * AB_GRADES + (size_t)g] *= 1 - chance * tail[f][g];
}

/* What comes without a cause known here is nobody's to mend, and left out. */
double loop_load(const struct loop_brewer *b, const unsigned char *has)
{
	const struct ab_knowledge *k = b->world->truth;
	double load = 0;

	reckon(b, has != NULL ? has : b->has);
	for (size_t i = 0; i < k->n_faults * AB_GRADES; i++)
		b->below[i] = 1;
	for (size_t c = 0; c < k->n_causes; c++)
		if (b->now[c] > 0 && !k->causes[c].benign)
			keep_below(b, &k->causes[c], b->now[c]);
	for (size_t f = 0; f < k->n_faults; f++)
		for (int g = 1; g < AB_GRADES; g++)
			if (b->below[f * AB_GRADES + (size_t)g] < 1)
				load += b->heavy[f * AB_GRADES + (size_t)g] * (1 - b->below[f * AB_GRADES + (size_t)g]);
	return load;
}

/* ---- a batch ---- */

struct loop_brewer *loop_begin(const struct loop_world *world, const struct ab_fact *base, unsigned long seed,
    struct ab_net_scratch *scratch, struct ab_arena *arena)
{
	size_t n = world->truth->n_causes;
	struct loop_brewer *b = room(arena, 1, sizeof *b);

	*b = (struct loop_brewer){ .world = world, .base = base, .chance = room(arena, n, sizeof *b->chance),
	    .has = room(arena, world->k->n_changes, 1), .with = room(arena, world->k->n_changes, 1),
	    .cases = room(arena, world->batches, sizeof *b->cases),
	    .struck = room(arena, world->batches, sizeof *b->struck), .left = room(arena, world->batches,
	    sizeof *b->left),
	    .was = room(arena, world->batches, sizeof *b->was), .scratch = scratch,
	    .rated = room(arena, world->k->n_changes * n, sizeof *b->rated),
	    .heavy = room(arena, world->truth->n_faults * AB_GRADES, sizeof *b->heavy), .facts = room(arena,
	    world->truth->facts->n, sizeof *b->facts), .now = room(arena, n, sizeof *b->now),
	    .before = room(arena, n, sizeof *b->before), .after = room(arena, n, sizeof *b->after),
	    .below = room(arena, world->truth->n_faults * AB_GRADES, sizeof *b->below),
	    .rng = gsl_rng_alloc(gsl_rng_taus2), .arena = arena };
	gsl_rng_set(b->rng, seed);
	ab_alone(world->truth, base, b->before);
	fill_rated(b);
	for (size_t f = 0; f < world->truth->n_faults; f++)
		for (int g = 1; g < AB_GRADES; g++)
			b->heavy[f * AB_GRADES + (size_t)g] = severity(world->truth, base, f, g);
	for (size_t c = 0; c < n; c++)
		if (b->before[c] > 0 && b->before[c] < 1)
			b->chance[c] = gsl_ran_beta(
			    b->rng, loop_same_brewer * b->before[c], loop_same_brewer * (1 - b->before[c]));
	return b;
}

static struct ab_batch *new_batch(struct loop_brewer *b)
{
	struct ab_batch *batch = room(b->arena, 1, sizeof *batch);
	char *id = room(b->arena, 16, 1);

	snprintf(id, 16, "brew-%zu", b->n_cases + 1);
	batch->id = id;
	batch->changes = b->changes;
	b->changes = (struct ab_list){ 0 };
	return batch;
}

/* The load as the program reckons it from what it is told. */
static void weigh(struct ab_case *c, const struct ab_knowledge *k, const struct brew *brew, struct ab_arena *arena)
{
	c->fault_load = room(arena, k->n_faults, sizeof *c->fault_load);
	c->load = 0;
	for (size_t f = 0; f < k->n_faults; f++)
		if (brew->finding[f].seen == AB_SEEN_FOUND)
			c->load += c->fault_load[f] =
			    severity(k, c->facts, f, brew->finding[f].grade) * brew->finding[f].grade;
	c->load_low = c->load_high = c->load;
	c->tasted = true;
}

static struct ab_fact *told(const struct loop_brewer *b)
{
	struct ab_fact *some = room(b->arena, b->world->k->facts->n, sizeof *some);

	for (size_t i = 0; i < b->world->k->facts->n; i++)
		if (gsl_rng_uniform(b->rng) >= b->world->hidden)
			some[i] = b->facts[i];
	return some;
}

static bool try_brew(struct loop_brewer *b, struct ab_case *c)
{
	const struct ab_knowledge *truth = b->world->truth;
	bool *active = room(b->arena, truth->n_causes, sizeof *active);
	double *left = room(b->arena, truth->n_causes, sizeof *left);
	struct ab_diagnose_options options = { .scratch = b->scratch };
	struct ab_diag diag;

	for (size_t i = 0; i < truth->n_causes; i++) {
		active[i] = gsl_rng_uniform(b->rng) < b->now[i];
		left[i] = b->chance[i] > 0 ? b->now[i] / b->chance[i] : 1;
	}
	b->struck[b->n_cases] = active;
	b->left[b->n_cases] = left;
	b->was[b->n_cases] = room(b->arena, truth->facts->n, sizeof **b->was);
	memcpy(b->was[b->n_cases], b->facts, truth->facts->n * sizeof **b->was);
	struct brew *brew = brewers_taste(truth, b->facts, active, b->world->tasting, b->rng, b->arena);
	c->facts = told(b);
	c->evidence = (struct ab_evidence){ brew->finding, NULL, family_of(truth, c->facts), false };
	weigh(c, b->world->k, brew, b->arena);
	ab_diag_init(&diag);
	enum ab_status st = b->world->asked ? loop_ask(b, c, active, &diag) :
	    ab_diagnose(b->world->k, c->facts, &c->evidence, &options, b->arena, &c->diagnosis, &diag);
	if (st != AB_OK && st != AB_ELIMIT && st != AB_EIMPOSSIBLE) {
		printf("loop: %s\n", diag.text);
		exit(1);
	}
	for (size_t i = 0; st == AB_OK && b->world->told_causes && i < truth->n_causes; i++) {
		c->diagnosis->present[i] = active[i] ? 1 : NEVER;
		c->diagnosis->blame[i] = brew->to_blame[i];
	}
	if (b->world->told_causes)   /* else the advice would look at what was tasted again, and believe that */
		c->evidence.finding = NULL;
	return st == AB_OK;
}

void loop_brew(struct loop_brewer *b)
{
	struct ab_case *c = room(b->arena, 1, sizeof *c);

	c->batch = new_batch(b);
	do
		reckon(b, b->has);
	while (!try_brew(b, c));
	b->cases[b->n_cases++] = c;
}

/* ---- changes ---- */

/* Of one group one is in use: a fridge takes the place of the water bath. */
static bool gives_way(const struct ab_knowledge *k, size_t mate, int to)
{
	const char *a = k->changes[mate].group, *b = k->changes[to].group;

	return mate != (size_t)to && a != NULL && b != NULL && strcmp(a, b) == 0;
}

void loop_with(const struct loop_brewer *b, int change, unsigned char *has)
{
	memcpy(has, b->has, b->world->k->n_changes);
	for (size_t u = 0; u < b->world->k->n_changes; u++)
		if (gives_way(b->world->k, u, change))
			has[u] = 0;
	has[change] = 1;
}

static double minutes_with(const struct loop_brewer *b, int change)
{
	double sum = b->minutes + b->world->k->changes[change].minutes;

	for (size_t u = 0; u < b->world->k->n_changes; u++)
		sum -= b->has[u] && gives_way(b->world->k, u, change) ? b->world->k->changes[u].minutes : 0;
	return sum;
}

static bool fits(const struct ab_change *c, const struct ab_fact *facts)
{
	bool any = c->n_only_for == 0;

	for (size_t i = 0; i < c->n_not_for; i++)
		if (ab_conds_hold(&c->not_for[i], facts))
			return false;
	for (size_t i = 0; i < c->n_only_for; i++)
		any |= ab_conds_hold(&c->only_for[i], facts);
	return any;
}

bool loop_may(const struct loop_brewer *b, int change)
{
	const struct ab_knowledge *k = b->world->k;
	const struct ab_change *c = &k->changes[change];

	if (b->has[change] || b->spent + c->cost > b->world->budget + 1e-9 ||
	    minutes_with(b, change) > b->world->minutes + 1e-9 || !fits(c, b->base))
		return false;
	for (size_t i = 0; i < c->n_needs; i++)
		if (!b->has[c->needs[i]])
			return false;
	for (size_t u = 0; u < k->n_changes; u++) {
		if (!b->has[u] || gives_way(k, u, change))
			continue;
		for (size_t i = 0; i < k->changes[u].n_excludes; i++)
			if (k->changes[u].excludes[i] == change)
				return false;
		for (size_t i = 0; i < c->n_excludes; i++)
			if (c->excludes[i] == (int)u)
				return false;
	}
	return true;
}

void loop_adopt(struct loop_brewer *b, int change)
{
	const struct ab_change *c = &b->world->k->changes[change];
	struct ab_change_note *notes = room(b->arena, b->changes.n + 1, sizeof *notes);

	if (b->changes.n > 0)
		memcpy(notes, b->changes.items, b->changes.n * sizeof *notes);
	notes[b->changes.n] = (struct ab_change_note){ .what = c->id, .adopted = AB_YES };
	b->changes = (struct ab_list){ notes, b->changes.n + 1, b->changes.n + 1 };
	b->minutes = minutes_with(b, change);
	b->spent += c->cost;
	loop_with(b, change, b->with);
	memcpy(b->has, b->with, b->world->k->n_changes);
}
