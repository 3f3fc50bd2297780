/* loop_bounds.c - what could be reached at best: policies that know what nobody can know at home
 *
 * Who knows the hidden chances loses nothing but what the pace costs; who is told after each batch what was in it,
 * and plans as the oracle does, what must be learned first: nobody who only tastes can do better. The best that a
 * learner could do is told no more than the program is, but knows the world, how its brewers are drawn and how they
 * taste, and believes of the brewer exactly what can be known (loop_exact.c); each time it plans for all the
 * changes there is room for still. What is lost beyond that is ours: by what we believe (afterboil's chances and
 * rules, planned with in the same way), and by what we make of it. Who also does the checks that the diagnosis
 * names, and answers what it asks (loop_asked.c), says what those are worth: no bound, but told more than the
 * policies are. Who is told the causes and plans as the program does says what the plan loses by itself; who knows
 * the rules of the world but never looks at a batch, what the batches are worth.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void *room(const struct loop_brewer *b, size_t n, size_t size)
{
	void *p = ab_arena_alloc(b->arena, n, size);

	if (p == NULL)
		loop_give_up("bounds", "out of memory");
	return p;
}

/* Were these the hidden chances, the oracle would aim at: for all changes there is room for still. The load is
 * linear in each chance, and they are independent: the load expected is that of their means. */
static void aim(struct loop_brewer *b, double *chance, size_t more)
{
	struct loop_brewer other = *b;

	if (b->aim == NULL)
		b->aim = room(b, b->world->k->n_changes, 1);
	other.chance = chance;
	loop_oracle(&other, more, b->aim);
	b->aimed = b->n_cases;
}

static size_t room_for(const struct loop_brewer *b)
{
	return (b->world->batches + 1 - b->n_cases) * b->world->at_once;
}

static int knowing(struct loop_brewer *b)
{
	if (b->aim == NULL)
		aim(b, b->chance, b->world->batches * b->world->at_once);
	return loop_most_of(b, b->aim, b->chance);
}

/* before: the chances by the rules of the world, as they stand from the beginning. */
static int rules_only(struct loop_brewer *b)
{
	if (b->aim == NULL)
		aim(b, b->before, b->world->batches * b->world->at_once);
	return loop_most_of(b, b->aim, b->before);
}

/* What was learned stands until the next tasting. */
static int by_learning(struct loop_brewer *b, void (*learn)(struct loop_brewer *b, double *mean))
{
	if (b->mean == NULL)
		b->mean = room(b, b->world->truth->n_causes, sizeof *b->mean);
	if (b->aim == NULL || b->aimed != b->n_cases) {
		learn(b, b->mean);
		aim(b, b->mean, room_for(b));
	}
	return loop_most_of(b, b->aim, b->mean);
}

static int learner(struct loop_brewer *b)
{
	return by_learning(b, loop_exact);
}

/* The chances as the advice says them, before what is in force by the reckoning of b. */
static void said_of(const struct ab_advice *advice, struct loop_brewer *b, double *mean)
{
	loop_load(b, NULL);
	memset(mean, 0, b->world->truth->n_causes * sizeof *mean);
	for (size_t i = 0; i < advice->n_recurrences; i++) {
		size_t c = (size_t)advice->recurrences[i].cause;
		double left = b->chance[c] > 0 ? b->now[c] / b->chance[c] : 1;
		mean[c] = left > 0 ? fmin(1, advice->recurrences[i].p / left) : 0;
	}
}

/* The same brewer in a world as the program's rules say, chances and all. */
static struct loop_brewer *as_the_rules_say(struct loop_brewer *b)
{
	struct loop_world *world = room(b, 1, sizeof *world);
	struct loop_brewer *twin;

	*world = *b->world;
	world->truth = b->world->k;
	twin = loop_begin(world, b->base, 1, b->scratch, b->arena);
	gsl_rng_free(twin->rng);
	memcpy(twin->chance, twin->before, world->k->n_causes * sizeof *twin->chance);
	return twin;
}

/* What the twin has begun is what the brewer has. */
static int said(struct loop_brewer *b)
{
	struct loop_brewer *twin = b->twin = b->twin != NULL ? b->twin : as_the_rules_say(b);

	memcpy(twin->has, b->has, b->world->k->n_changes);
	twin->spent = b->spent;
	twin->minutes = b->minutes;
	twin->n_cases = b->n_cases;
	if (twin->mean == NULL)
		twin->mean = room(b, b->world->k->n_causes, sizeof *twin->mean);
	if (twin->aim == NULL || twin->aimed != b->n_cases) {
		loop_load(twin, NULL);
		said_of(loop_advice(b), twin, twin->mean);
		aim(twin, twin->mean, room_for(b));
	}
	return loop_most_of(twin, twin->aim, twin->mean);
}

static int told_best(struct loop_brewer *b)
{
	return by_learning(b, loop_learned);
}

const struct loop_named loop_bounds[] = {
	{ "knowing", "knows the truth, at the same pace", knowing, false, false },
	{ "told-best", "told each batch's causes, plans like the oracle", told_best, false, false },
	{ "learner", "best that a learner could do", learner, false, false },
	{ "said", "afterboil's chances and rules, plans so", said, false, false },
	{ "told", "told each batch's causes, plans like afterboil", loop_ours, true, false },
	{ "asked", "afterboil's plan, and the checks it names are done", loop_ours, false, true },
	{ "rules", "knows the world's rules, looks at no batch", rules_only, false, false },
};
const size_t n_loop_bounds = sizeof loop_bounds / sizeof *loop_bounds;
