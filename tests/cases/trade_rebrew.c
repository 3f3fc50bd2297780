/* trade_rebrew.c - one beer with one trouble, brewed again: a little at a time, or everything at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trade.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/trend.h>

static const double TROUBLE = 0.9, ELSE = 0.1, HEAVY = 1;
enum { AT_MOST = 3, MOST_BREWS = 1 + 2 * AT_MOST };

static double alone(struct loop_brewer *b, size_t cause, double *keep)
{
	size_t n = b->world->truth->n_causes;

	memcpy(keep, b->chance, n * sizeof *keep);
	memset(b->chance, 0, n * sizeof *keep);
	b->chance[cause] = TROUBLE;
	double load = loop_load(b, NULL);
	memcpy(b->chance, keep, n * sizeof *keep);
	return load;
}

static bool some_change_halves(struct loop_brewer *b, size_t cause)
{
	for (size_t u = 0; u < b->world->k->n_changes; u++) {
		if (!loop_may(b, (int)u))
			continue;
		loop_with(b, (int)u, b->with);
		loop_load(b, b->with);
		if (b->now[cause] <= b->chance[cause] / 2)
			return true;
	}
	return false;
}

/* Drawn by what the rules make of the brewer's facts, of the causes that weigh and that some change halves; -1:
 * none is of that kind. */
static int draw_trouble(struct loop_brewer *b)
{
	const struct ab_knowledge *k = b->world->truth;
	double *keep = ab_arena_alloc(b->arena, 2 * k->n_causes, sizeof *keep), *weight = keep + k->n_causes;
	int cause;

	if (keep == NULL)
		loop_give_up("trouble", "out of memory");
	for (size_t c = 0; c < k->n_causes; c++)
		weight[c] =
		    !k->causes[c].benign && b->before[c] > 0.02 && alone(b, c, keep) >= HEAVY ? b->before[c] : 0;
	do {   /* a draw that nothing halves is drawn again */
		double sum = 0;
		cause = -1;
		for (size_t c = 0; c < k->n_causes; c++) {
			sum += weight[c];
			if (weight[c] > 0 && gsl_rng_uniform(b->rng) * sum < weight[c])
				cause = (int)c;
		}
		if (cause >= 0)
			weight[cause] = 0;
	} while (cause >= 0 && !some_change_halves(b, (size_t)cause));
	return cause;
}

struct rebrewing {
	const struct loop_read *read;
	const struct loop_world *world;
	const struct ab_fact *facts;
	unsigned long seed;
	int cause;                            /* the trouble */
	int set[AT_MOST]; size_t n_set;       /* the first three of the plan after the first batch */
};

/* Two with one seed are the same person, with the same first batch: the trouble strikes nine times in ten,
 * everything else ten times more seldom than it would. */
static struct loop_brewer *first_batch(const struct rebrewing *r, struct ab_arena *arena)
{
	struct loop_brewer *b = loop_begin(r->world, r->facts, r->seed, r->read->scratch, arena);

	for (size_t c = 0; c < r->read->k->n_causes; c++)
		b->chance[c] *= ELSE;
	b->chance[r->cause] = TROUBLE;
	loop_brew(b);
	return b;
}

static bool find_set(struct rebrewing *r)
{
	struct loop_brewer *b = loop_begin(r->world, r->facts, r->seed, r->read->scratch, trade_arena());

	r->n_set = 0;
	r->cause = draw_trouble(b);
	trade_drop(b);
	if (r->cause < 0)
		return false;
	b = first_batch(r, trade_arena());
	while (r->n_set < AT_MOST) {
		int u = loop_ours(b);
		if (u < 0)
			break;
		loop_adopt(b, u);
		r->set[r->n_set++] = u;
	}
	trade_drop(b);
	return r->n_set == AT_MOST;
}

/* Does the cause with most blame so far lead? Ties count as not. */
static bool named(const struct loop_brewer *b, int cause)
{
	const struct ab_knowledge *k = b->world->k;
	double its = 0, most = 0;

	for (size_t c = 0; c < k->n_causes; c++) {
		double sum = 0;
		for (size_t i = 0; i < b->n_cases && !k->causes[c].benign; i++)
			sum += b->cases[i]->diagnosis->blame[c];
		if ((int)c == cause)
			its = sum;
		else
			most = fmax(most, sum);
	}
	return its > most;
}

static double share_of_blame(const struct loop_brewer *b, int cause)
{
	double its = 0, all = 0;

	for (size_t c = 0; c < b->world->k->n_causes; c++)
		for (size_t i = 0; i < b->n_cases; i++) {
			its += (int)c == cause ? b->cases[i]->diagnosis->blame[c] : 0;
			all += b->cases[i]->diagnosis->blame[c];
		}
	return all > 0 ? its / all : 0;
}

/* The batches as trend gets them from the history. */
static const struct ab_trend *trend_of(struct loop_brewer *b)
{
	struct ab_trend_batch *t = ab_arena_alloc(b->arena, b->n_cases, sizeof *t);
	struct ab_trend *trend = NULL;
	struct ab_diag diag;

	ab_diag_init(&diag);
	for (size_t i = 0; t != NULL && i < b->n_cases; i++) {
		const struct ab_case *c = b->cases[i];
		const struct ab_change_note *notes = c->batch->changes.items;
		const char **changes = ab_arena_alloc(b->arena, c->batch->changes.n + 1, sizeof *changes);
		for (size_t j = 0; changes != NULL && j < c->batch->changes.n; j++)
			changes[j] = notes[j].what;
		t[i] = (struct ab_trend_batch){ .id = c->batch->id,
			.brewed_s = 86400.0 * (double)i,
			.tasted = true,
			.load = c->load,
			.load_low = c->load_low,
			.load_high = c->load_high,
			.fault_load = c->fault_load,
			.changes = changes,
			.n_changes = changes != NULL ? c->batch->changes.n : 0 };
	}
	if (t == NULL || ab_trend_work(t, b->n_cases, b->world->k->n_faults, b->arena, &trend, &diag) != AB_OK)
		loop_give_up("trend", diag.text);
	return trend;
}

static double taken_by(struct loop_brewer *b, int change)
{
	unsigned char *has = ab_arena_alloc(b->arena, b->world->k->n_changes, 1);

	if (has == NULL)
		loop_give_up("trend", "out of memory");
	double before = loop_load(b, has);
	has[change] = 1;
	return (before - loop_load(b, has)) / before;
}

/* How likely the change after which trend sees the load fall most is the one that takes most: 0 or 1, by lot where
 * trend cannot tell them apart. NAN when none of the three takes a quarter of the true load. */
static double credited(struct loop_brewer *b, const struct rebrewing *r)
{
	const struct ab_trend *trend = trend_of(b);
	double most = 0, fall = -INFINITY, ties = 0, right = 0;
	int best = -1;

	for (size_t i = 0; i < r->n_set; i++)
		if (taken_by(b, r->set[i]) > most) {
			most = taken_by(b, r->set[i]);
			best = r->set[i];
		}
	if (most < 0.25)
		return (double)NAN;
	for (size_t i = 0; i < trend->n_changes; i++) {
		const struct ab_trend_change *c = &trend->changes[i];
		if (c->before - c->after > fall)
			ties = right = 0;
		fall = fmax(fall, c->before - c->after);
		ties += c->before - c->after >= fall;
		right += c->before - c->after >= fall && strcmp(c->id, b->world->k->changes[best].id) == 0;
	}
	return right / ties;
}

struct arm {
	struct trade_sum settled[AT_MOST + 1], named[MOST_BREWS + 1], heaviest[AT_MOST + 1], blame, credited,
	    together;
};

static void look(struct arm *arm, const struct loop_brewer *b, int cause, size_t rebrew)
{
	loop_load(b, NULL);
	if (rebrew <= AT_MOST)
		trade_add(&arm->settled[rebrew], b->now[cause] <= TROUBLE / 2);
	trade_add(&arm->named[b->n_cases], named(b, cause));
}

/* As advised anew after each batch. */
static void follow_anew(struct arm *arm, const struct rebrewing *r)
{
	struct loop_brewer *b = first_batch(r, trade_arena());

	trade_add(&arm->named[1], named(b, r->cause));
	for (size_t i = 1; i <= AT_MOST; i++) {
		const struct ab_advice *a = loop_advice(b);
		trade_add(&arm->heaviest[i], a->n_recurrences > 0 && a->recurrences[0].cause == r->cause);
		int u = loop_ours(b);
		if (u >= 0)
			loop_adopt(b, u);
		loop_brew(b);
		look(arm, b, r->cause, i);
	}
	trade_add(&arm->blame, share_of_blame(b, r->cause));
	trade_drop(b);
}

/* The three of the first plan, each brewed so many times before the next, or all at once; the same number of
 * batches. */
static double follow_set(struct arm *arm, const struct rebrewing *r, size_t brews, bool at_once)
{
	struct loop_brewer *b = first_batch(r, trade_arena());

	trade_add(&arm->named[1], named(b, r->cause));
	for (size_t i = 0; i < AT_MOST * brews; i++) {
		for (size_t j = 0; j < AT_MOST; j++)
			if (at_once ? i == 0 : i == j * brews)
				loop_adopt(b, r->set[j]);
		loop_brew(b);
		look(arm, b, r->cause, i + 1);
	}
	const struct ab_trend *trend = trend_of(b);
	for (size_t i = 0; i < trend->n_changes; i++)
		trade_add(&arm->together, trend->changes[i].together);
	double right = credited(b, r);
	if (!isnan(right))
		trade_add(&arm->credited, right);
	trade_add(&arm->blame, share_of_blame(b, r->cause));
	trade_drop(b);
	return right;
}

static void print_arm(const char *name, const char *title, const struct arm *arm)
{
	static const char *const rebrews[] = { "after the first rebrew the trouble is gone (half as often or less)",
		"after the second", "after the third" };
	char what[32];

	printf("%s\n", title);
	snprintf(what, sizeof what, "settled-%s", name);
	for (int i = 1; i <= AT_MOST; i++)
		trade_print(what, i, rebrews[i - 1], &arm->settled[i]);
	snprintf(what, sizeof what, "named-%s", name);
	for (int i = 1; i <= MOST_BREWS; i++)
		if (arm->named[i].n > 0)
			trade_print(what, i,
			    i == 1 ? "after the first batch its cause is blamed most" : "with one batch more",
			    &arm->named[i]);
	snprintf(what, sizeof what, "heaviest-%s", name);
	for (int i = 1; i <= AT_MOST; i++)
		if (arm->heaviest[i].n > 0)
			trade_print(what, i,
			    i == 1 ? "after the first batch the advice expects most load from it"
				   : "with one batch more",
			    &arm->heaviest[i]);
	snprintf(what, sizeof what, "blame-%s", name);
	trade_print(what, 0, "share of all blame that is laid on it in the end", &arm->blame);
	if (arm->together.n == 0)
		return;
	snprintf(what, sizeof what, "credited-%s", name);
	trade_print(what, 0, "the change that trend shows as best is the one that helped most", &arm->credited);
	snprintf(what, sizeof what, "together-%s", name);
	trade_print(what, 0, "trend says it cannot tell them apart", &arm->together);
}

void trade_rebrew(const struct loop_read *read, size_t brewers)
{
	static struct arm arms[5];
	struct trade_sum ahead[2] = { { 0, 0, 0 } };
	struct loop_world world = trade_world(read, TASTE_BADLY, MOST_BREWS);

	for (size_t i = 0; i < brewers; i++) {
		struct rebrewing r = {
			.read = read, .world = &world, .facts = read->facts[i % read->n_facts], .seed = 13000 + i
		};
		if (!find_set(&r))
			continue;
		follow_anew(&arms[0], &r);
		for (size_t brews = 1; brews <= 2; brews++) {
			double one = follow_set(&arms[2 * brews - 1], &r, brews, false);
			double all = follow_set(&arms[2 * brews], &r, brews, true);
			if (!isnan(one))
				trade_add(&ahead[brews - 1], one - all);
		}
	}
	printf(
	    "\none beer with one trouble (a cause that strikes %.0f times in 10), brewed again; 30 %% of faults "
	    "missed, 10 %% misnamed\n",
	    10 * TROUBLE);
	print_arm("anew", "one change at a time, as advised anew after each batch", &arms[0]);
	print_arm("one", "the first plan's three changes one at a time", &arms[1]);
	print_arm("all", "the same three all at once", &arms[2]);
	print_arm("slowly", "one at a time, two brews each", &arms[3]);
	print_arm("all-longer", "all at once, as many brews", &arms[4]);
	printf("the change that helped most is found, one at a time ahead of all at once\n");
	trade_print("credited-ahead", 0, "one brew a change", &ahead[0]);
	trade_print("credited-ahead", 2, "two brews a change", &ahead[1]);
}
