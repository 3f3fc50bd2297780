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
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/trend.h>

#include "loop.h"

struct sum { double n, total, squares; };

static void add(struct sum *s, double x)
{
	s->n++;
	s->total += x;
	s->squares += x * x;
}

static double mean(const struct sum *s)
{
	return s->total / s->n;
}

static double error(const struct sum *s)
{
	return s->n > 1 ? sqrt(fmax(0, s->squares / s->n - mean(s) * mean(s)) / (s->n - 1)) : INFINITY;
}

static void print(const char *name, int number, const char *title, const struct sum *s)
{
	char whole[64];

	snprintf(whole, sizeof whole, number > 0 ? "%s-%d" : "%s", name, number);
	printf("  %-74s %7.3f +- %.3f  (%.0f)\n", title, mean(s), error(s), s->n);
	printf("trade\t%s\t%.0f\t%.6f\t%.6f\n", whole, s->n, mean(s), error(s));
}

static struct loop_world usual_world(const struct loop_read *read, enum tasting tasting, size_t batches)
{
	return (struct loop_world){ .k = read->k, .truth = read->k, .tasting = tasting, .budget = 120, .minutes = 45, .batches = batches,
		.at_once = 1 };
}

/* ---- one beer with one trouble, brewed again ---- */

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

/* Drawn by what the rules make of the brewer's facts, of the causes that weigh and that some change halves; -1: none is of that kind. */
static int draw_trouble(struct loop_brewer *b)
{
	const struct ab_knowledge *k = b->world->truth;
	double *keep = ab_arena_alloc(b->arena, 2 * k->n_causes, sizeof *keep), *weight = keep + k->n_causes;
	int cause;

	if (keep == NULL)
		loop_give_up("trouble", "out of memory");
	for (size_t c = 0; c < k->n_causes; c++)
		weight[c] = !k->causes[c].benign && b->before[c] > 0.02 && alone(b, c, keep) >= HEAVY ? b->before[c] : 0;
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

/* Two with one seed are the same person, with the same first batch: the trouble strikes nine times in ten, everything else ten times more
 * seldom than it would. */
static struct loop_brewer *first_batch(const struct rebrewing *r, struct ab_arena *arena)
{
	struct loop_brewer *b = loop_begin(r->world, r->facts, r->seed, r->read->scratch, arena);

	for (size_t c = 0; c < r->read->k->n_causes; c++)
		b->chance[c] *= ELSE;
	b->chance[r->cause] = TROUBLE;
	loop_brew(b);
	return b;
}

static void drop(struct loop_brewer *b)
{
	gsl_rng_free(b->rng);
	ab_arena_free(b->arena);
}

static struct ab_arena *new_arena(void)
{
	struct ab_arena *arena = ab_arena_new();

	if (arena == NULL)
		loop_give_up("brewer", "out of memory");
	return arena;
}

static bool find_set(struct rebrewing *r)
{
	struct loop_brewer *b = loop_begin(r->world, r->facts, r->seed, r->read->scratch, new_arena());

	r->n_set = 0;
	r->cause = draw_trouble(b);
	drop(b);
	if (r->cause < 0)
		return false;
	b = first_batch(r, new_arena());
	while (r->n_set < AT_MOST) {
		int u = loop_ours(b);
		if (u < 0)
			break;
		loop_adopt(b, u);
		r->set[r->n_set++] = u;
	}
	drop(b);
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
		t[i] = (struct ab_trend_batch){ .id = c->batch->id, .brewed_s = 86400.0 * (double)i, .tasted = true, .load = c->load,
		    .load_low = c->load_low, .load_high = c->load_high, .fault_load = c->fault_load, .changes = changes,
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

/* How likely the change after which trend sees the load fall most is the one that takes most: 0 or 1, by lot where trend cannot tell
 * them apart. NAN when none of the three takes a quarter of the true load. */
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

struct arm { struct sum settled[AT_MOST + 1], named[MOST_BREWS + 1], heaviest[AT_MOST + 1], blame, credited, together; };

static void look(struct arm *arm, const struct loop_brewer *b, int cause, size_t rebrew)
{
	loop_load(b, NULL);
	if (rebrew <= AT_MOST)
		add(&arm->settled[rebrew], b->now[cause] <= TROUBLE / 2);
	add(&arm->named[b->n_cases], named(b, cause));
}

/* As advised anew after each batch. */
static void follow_anew(struct arm *arm, const struct rebrewing *r)
{
	struct loop_brewer *b = first_batch(r, new_arena());

	add(&arm->named[1], named(b, r->cause));
	for (size_t i = 1; i <= AT_MOST; i++) {
		const struct ab_advice *a = loop_advice(b);
		add(&arm->heaviest[i], a->n_recurrences > 0 && a->recurrences[0].cause == r->cause);
		int u = loop_ours(b);
		if (u >= 0)
			loop_adopt(b, u);
		loop_brew(b);
		look(arm, b, r->cause, i);
	}
	add(&arm->blame, share_of_blame(b, r->cause));
	drop(b);
}

/* The three of the first plan, each brewed so many times before the next, or all at once; the same number of batches. */
static double follow_set(struct arm *arm, const struct rebrewing *r, size_t brews, bool at_once)
{
	struct loop_brewer *b = first_batch(r, new_arena());

	add(&arm->named[1], named(b, r->cause));
	for (size_t i = 0; i < AT_MOST * brews; i++) {
		for (size_t j = 0; j < AT_MOST; j++)
			if (at_once ? i == 0 : i == j * brews)
				loop_adopt(b, r->set[j]);
		loop_brew(b);
		look(arm, b, r->cause, i + 1);
	}
	const struct ab_trend *trend = trend_of(b);
	for (size_t i = 0; i < trend->n_changes; i++)
		add(&arm->together, trend->changes[i].together);
	double right = credited(b, r);
	if (!isnan(right))
		add(&arm->credited, right);
	add(&arm->blame, share_of_blame(b, r->cause));
	drop(b);
	return right;
}

static void print_arm(const char *name, const char *title, const struct arm *arm)
{
	static const char *const rebrews[] = { "after the first rebrew the trouble is gone (half as often or less)", "after the second", "after the third" };
	char what[32];

	printf("%s\n", title);
	snprintf(what, sizeof what, "settled-%s", name);
	for (int i = 1; i <= AT_MOST; i++)
		print(what, i, rebrews[i - 1], &arm->settled[i]);
	snprintf(what, sizeof what, "named-%s", name);
	for (int i = 1; i <= MOST_BREWS; i++)
		if (arm->named[i].n > 0)
			print(what, i, i == 1 ? "after the first batch its cause is blamed most" : "with one batch more", &arm->named[i]);
	snprintf(what, sizeof what, "heaviest-%s", name);
	for (int i = 1; i <= AT_MOST; i++)
		if (arm->heaviest[i].n > 0)
			print(what, i, i == 1 ? "after the first batch the advice expects most load from it" : "with one batch more", &arm->heaviest[i]);
	snprintf(what, sizeof what, "blame-%s", name);
	print(what, 0, "share of all blame that is laid on it in the end", &arm->blame);
	if (arm->together.n == 0)
		return;
	snprintf(what, sizeof what, "credited-%s", name);
	print(what, 0, "the change that trend shows as best is the one that helped most", &arm->credited);
	snprintf(what, sizeof what, "together-%s", name);
	print(what, 0, "trend says it cannot tell them apart", &arm->together);
}

static void rebrew(const struct loop_read *read, size_t brewers)
{
	static struct arm arms[5];
	struct sum ahead[2] = { { 0, 0, 0 } };
	struct loop_world world = usual_world(read, TASTE_BADLY, MOST_BREWS);

	for (size_t i = 0; i < brewers; i++) {
		struct rebrewing r = { .read = read, .world = &world, .facts = read->facts[i % read->n_facts], .seed = 13000 + i };
		if (!find_set(&r))
			continue;
		follow_anew(&arms[0], &r);
		for (size_t brews = 1; brews <= 2; brews++) {
			double one = follow_set(&arms[2 * brews - 1], &r, brews, false);
			double all = follow_set(&arms[2 * brews], &r, brews, true);
			if (!isnan(one))
				add(&ahead[brews - 1], one - all);
		}
	}
	printf("\none beer with one trouble (a cause that strikes %.0f times in 10), brewed again; 30 %% of faults missed, 10 %% misnamed\n", 10 * TROUBLE);
	print_arm("anew", "one change at a time, as advised anew after each batch", &arms[0]);
	print_arm("one", "the first plan's three changes one at a time", &arms[1]);
	print_arm("all", "the same three all at once", &arms[2]);
	print_arm("slowly", "one at a time, two brews each", &arms[3]);
	print_arm("all-longer", "all at once, as many brews", &arms[4]);
	printf("the change that helped most is found, one at a time ahead of all at once\n");
	print("credited-ahead", 0, "one brew a change", &ahead[0]);
	print("credited-ahead", 2, "two brews a change", &ahead[1]);
}

/* ---- from the first batch to the fifteenth ---- */

enum { LEARNING = 15, LATE = 11, NOTED = 2 };

static bool spoiled(const struct ab_case *c, size_t n_faults)
{
	for (size_t f = 0; f < n_faults; f++)
		if (c->fault_load[f] > 0 && c->evidence.finding[f].grade >= NOTED)
			return true;
	return false;
}

static void beginner(const struct loop_read *read, size_t brewers)
{
	struct sum truth[LEARNING + 1] = { { 0, 0, 0 } }, tasted[LEARNING + 1] = { { 0, 0, 0 } }, noticed[LEARNING + 1] = { { 0, 0, 0 } };
	struct sum bad[LEARNING + 1] = { { 0, 0, 0 } }, late = { 0, 0, 0 }, fallen = { 0, 0, 0 };
	struct loop_world world = usual_world(read, TASTE_BADLY, LEARNING);

	for (size_t i = 0; i < brewers; i++) {
		struct loop_brewer *b = loop_begin(&world, read->facts[i % read->n_facts], 15000 + i, read->scratch, new_arena());
		double first = loop_load(b, NULL), spoiled_late = 0;
		for (int n = 1; n <= LEARNING; n++) {
			add(&truth[n], loop_load(b, NULL));
			loop_brew(b);
			const struct ab_case *c = b->cases[n - 1];
			add(&tasted[n], c->load);
			add(&noticed[n], c->load > 0);
			add(&bad[n], spoiled(c, read->k->n_faults));
			spoiled_late += n >= LATE && spoiled(c, read->k->n_faults);
			int u = n < LEARNING ? loop_ours(b) : -1;
			if (u >= 0)
				loop_adopt(b, u);
		}
		add(&late, spoiled_late / (LEARNING - LATE + 1));
		add(&fallen, 1 - loop_load(b, NULL) / first);
		drop(b);
	}
	printf("\nbrewers as they come, %d batches, one change a batch as advised; 30 %% of faults missed, 10 %% misnamed\n", LEARNING);
	printf("  batch  true load  tasted load  a fault noticed  one beyond slight\n");
	for (int n = 1; n <= LEARNING; n++)
		printf("  %5d  %9.2f  %11.2f  %15.2f  %17.2f\n", n, mean(&truth[n]), mean(&tasted[n]), mean(&noticed[n]), mean(&bad[n]));
	print("noticed", 1, "first batches with a fault that is noticed", &noticed[1]);
	print("spoiled-first", 0, "first batches with a fault beyond slight", &bad[1]);
	print("fallen", 0, "the true load fell by this share from batch 1 to 15", &fallen);
	print("spoiled-late", 0, "batches 11 to 15 with a fault beyond slight", &late);
}

/* ---- where the money goes ---- */

static void plan_side(const struct ab_advice *a, const struct ab_knowledge *k, struct sum *cold, struct sum *first)
{
	double money[2] = { 0, 0 };
	bool any = false;

	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		if (!(item->cost > 0))
			continue;
		if (!any)
			add(first, k->changes[item->change].side == AB_SIDE_COLD);
		any = true;
		money[k->changes[item->change].side] += item->cost;
	}
	if (any)
		add(cold, money[AB_SIDE_COLD] / (money[AB_SIDE_COLD] + money[AB_SIDE_HOT]));
}

static void price_list(struct loop_brewer *b, struct sum *list)
{
	double money[2] = { 0, 0 };

	for (size_t u = 0; u < b->world->k->n_changes; u++)
		if (loop_may(b, (int)u))
			money[b->world->k->changes[u].side] += b->world->k->changes[u].cost;
	if (money[0] + money[1] > 0)
		add(list, money[AB_SIDE_COLD] / (money[0] + money[1]));
}

static void sides(const struct loop_read *read, size_t brewers)
{
	static const int budgets[] = { 25, 50, 200 };
	enum { BUDGETS = sizeof budgets / sizeof *budgets };
	struct sum cold[BUDGETS] = { { 0, 0, 0 } }, first[BUDGETS] = { { 0, 0, 0 } }, list[BUDGETS] = { { 0, 0, 0 } };
	struct loop_world world = usual_world(read, TASTE_BADLY, 13);   /* ten more to come: a year of brewing */

	for (size_t i = 0; i < brewers; i++) {
		struct loop_brewer *b = loop_begin(&world, read->facts[i % read->n_facts], 17000 + i, read->scratch, new_arena());
		for (int n = 0; n < 3; n++)
			loop_brew(b);
		for (size_t j = 0; j < BUDGETS; j++) {
			world.budget = budgets[j];
			b->advice = NULL;   /* asked with another budget */
			price_list(b, &list[j]);
			plan_side(loop_advice(b), read->k, &cold[j], &first[j]);
		}
		drop(b);
	}
	printf("\nafter three batches, what plans buy: share of the money that goes to the cold side, of plans that buy anything\n");
	for (size_t j = 0; j < BUDGETS; j++) {
		char title[96];
		snprintf(title, sizeof title, "budget %d: on the cold side", budgets[j]);
		print("cold", budgets[j], title, &cold[j]);
		print("first-cold", budgets[j], "  what is bought first is cold", &first[j]);
		print("list", budgets[j], "  of all that fits the brewer and the budget, by price", &list[j]);
	}
}

/* ---- why it falls short of who knows the truth ---- */

enum { UNHURRIED = 30, DECIDED = 10 };

/* What the advice believes of the causes, weighed as the oracle weighs the truth. */
static int oracle_on_beliefs(struct loop_brewer *b)
{
	const struct ab_advice *a = loop_advice(b);
	struct loop_brewer other = *b;
	size_t n = b->world->k->n_changes, causes = b->world->k->n_causes;
	unsigned char *plan = ab_arena_alloc(b->arena, n, 1);
	double most = 0, *chance = ab_arena_alloc(b->arena, causes, sizeof *chance);
	int best = -1;

	if (plan == NULL || chance == NULL)
		loop_give_up("beliefs", "out of memory");
	loop_load(b, NULL);
	for (size_t i = 0; i < a->n_recurrences; i++) {
		int c = a->recurrences[i].cause;
		double left = b->chance[c] > 0 ? b->now[c] / b->chance[c] : 1;
		chance[c] = left > 0 ? fmin(a->recurrences[i].p / left, 1) : 0;
	}
	other.chance = chance;
	loop_oracle(&other, DECIDED, plan);
	double before = loop_load(&other, NULL);
	for (size_t u = 0; u < n; u++) {
		if (!plan[u] || b->has[u] || !loop_may(b, (int)u))
			continue;
		loop_with(b, (int)u, b->with);
		double gain = before - loop_load(&other, b->with);
		if (gain > most) {
			most = gain;
			best = (int)u;
		}
	}
	return best;
}

static const struct { const char *title; bool told; size_t before; loop_policy *next; } reasons[] = {
	{ "as it is", false, 0, loop_ours },
	{ "each batch's causes told", true, 0, loop_ours },
	{ "thirty batches before the first change", false, UNHURRIED, loop_ours },
	{ "both", true, UNHURRIED, loop_ours },
	{ "as it is, the choice the oracle's", false, 0, oracle_on_beliefs },
	{ "each batch's causes told, the choice the oracle's", true, 0, oracle_on_beliefs },
	{ "both, the choice the oracle's", true, UNHURRIED, oracle_on_beliefs },
};
enum { REASONS = sizeof reasons / sizeof *reasons };

static void why(const struct loop_read *read, size_t brewers)
{
	struct sum share[REASONS] = { { 0, 0, 0 } }, course[REASONS] = { { 0, 0, 0 } };
	double removed[REASONS] = { 0 }, best = 0;
	struct loop_world world = usual_world(read, TASTE_COMPLETE, UNHURRIED + DECIDED);

	for (size_t i = 0; i < brewers; i++) {
		double most = 0;
		for (size_t r = 0; r < REASONS; r++) {
			world.told_causes = reasons[r].told;
			struct loop_brewer *b = loop_begin(&world, read->facts[i % read->n_facts], 1000 + i, read->scratch, new_arena());
			double before = loop_load(b, NULL), over = 0;
			unsigned char *plan = ab_arena_alloc(b->arena, read->k->n_changes, 1);
			if (r == 0) {
				loop_oracle(b, DECIDED, plan);
				most = before - loop_load(b, plan);
				best += most;
			}
			for (size_t n = 0; n < reasons[r].before; n++)
				loop_brew(b);
			for (int n = 0; n < DECIDED; n++) {
				loop_brew(b);
				int u = reasons[r].next(b);
				if (u >= 0)
					loop_adopt(b, u);
				over += (before - loop_load(b, NULL)) / DECIDED;
			}
			removed[r] += before - loop_load(b, NULL);
			if (most > 0) {
				add(&share[r], (before - loop_load(b, NULL)) / most);
				add(&course[r], over / most);
			}
			drop(b);
		}
	}
	printf("\nten changes, one a batch, complete tastings: share of what an oracle takes away (in the end; on average over the ten batches)\n");
	for (size_t r = 0; r < REASONS; r++)
		printf("  %-52s %5.1f %%   brewer by brewer %5.1f +- %.1f %%   on the way %5.1f +- %.1f %%\n", reasons[r].title, 100 * removed[r] / best,
		    100 * mean(&share[r]), 100 * error(&share[r]), 100 * mean(&course[r]), 100 * error(&course[r]));
}

static const struct { const char *name; void (*run)(const struct loop_read *, size_t); size_t usual; } parts[] = {
	{ "rebrew", rebrew, 50 }, { "beginner", beginner, 12 }, { "sides", sides, 80 }, { "why", why, 20 },
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
