/* trade_course.c - brewers as they come, from the first batch to the fifteenth; and on which side the money of
 * plans goes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "trade.h"

#include <stdio.h>

/* ---- from the first batch to the fifteenth ---- */

enum { LEARNING = 15, LATE = 11, NOTED = 2 };

static bool spoiled(const struct ab_case *c, size_t n_faults)
{
	for (size_t f = 0; f < n_faults; f++)
		if (c->fault_load[f] > 0 && c->evidence.finding[f].grade >= NOTED)
			return true;
	return false;
}

void trade_beginner(const struct loop_read *read, size_t brewers)
{
	struct trade_sum truth[LEARNING + 1] = { { 0, 0, 0 } }, tasted[LEARNING + 1] = { { 0, 0, 0 } },
	    noticed[LEARNING + 1] = { { 0, 0, 0 } };
	struct trade_sum bad[LEARNING + 1] = { { 0, 0, 0 } }, late = { 0, 0, 0 }, fallen = { 0, 0, 0 };
	struct loop_world world = trade_world(read, TASTE_BADLY, LEARNING);

	for (size_t i = 0; i < brewers; i++) {
		struct loop_brewer *b =
		    loop_begin(&world, read->facts[i % read->n_facts], 15000 + i, read->scratch, trade_arena());
		double first = loop_load(b, NULL), spoiled_late = 0;
		for (int n = 1; n <= LEARNING; n++) {
			trade_add(&truth[n], loop_load(b, NULL));
			loop_brew(b);
			const struct ab_case *c = b->cases[n - 1];
			trade_add(&tasted[n], c->load);
			trade_add(&noticed[n], c->load > 0);
			trade_add(&bad[n], spoiled(c, read->k->n_faults));
			spoiled_late += n >= LATE && spoiled(c, read->k->n_faults);
			int u = n < LEARNING ? loop_ours(b) : -1;
			if (u >= 0)
				loop_adopt(b, u);
		}
		trade_add(&late, spoiled_late / (LEARNING - LATE + 1));
		trade_add(&fallen, 1 - loop_load(b, NULL) / first);
		trade_drop(b);
	}
	printf(
	    "\nbrewers as they come, %d batches, one change a batch as advised; 30 %% of faults missed, 10 %% "
	    "misnamed\n",
	    LEARNING);
	printf("  batch  true load  tasted load  a fault noticed  one beyond slight\n");
	for (int n = 1; n <= LEARNING; n++)
		printf("  %5d  %9.2f  %11.2f  %15.2f  %17.2f\n", n, trade_mean(&truth[n]), trade_mean(&tasted[n]),
		    trade_mean(&noticed[n]), trade_mean(&bad[n]));
	trade_print("noticed", 1, "first batches with a fault that is noticed", &noticed[1]);
	trade_print("spoiled-first", 0, "first batches with a fault beyond slight", &bad[1]);
	trade_print("fallen", 0, "the true load fell by this share from batch 1 to 15", &fallen);
	trade_print("spoiled-late", 0, "batches 11 to 15 with a fault beyond slight", &late);
}

/* ---- where the money goes ---- */

static void plan_side(
    const struct ab_advice *a, const struct ab_knowledge *k, struct trade_sum *cold, struct trade_sum *first)
{
	double money[2] = { 0, 0 };
	bool any = false;

	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		if (!(item->cost > 0))
			continue;
		if (!any)
			trade_add(first, k->changes[item->change].side == AB_SIDE_COLD);
		any = true;
		money[k->changes[item->change].side] += item->cost;
	}
	if (any)
		trade_add(cold, money[AB_SIDE_COLD] / (money[AB_SIDE_COLD] + money[AB_SIDE_HOT]));
}

static void price_list(struct loop_brewer *b, struct trade_sum *list)
{
	double money[2] = { 0, 0 };

	for (size_t u = 0; u < b->world->k->n_changes; u++)
		if (loop_may(b, (int)u))
			money[b->world->k->changes[u].side] += b->world->k->changes[u].cost;
	if (money[0] + money[1] > 0)
		trade_add(list, money[AB_SIDE_COLD] / (money[0] + money[1]));
}

void trade_sides(const struct loop_read *read, size_t brewers)
{
	static const int budgets[] = { 25, 50, 200 };
	enum { BUDGETS = sizeof budgets / sizeof *budgets };
	struct trade_sum cold[BUDGETS] = { { 0, 0, 0 } }, first[BUDGETS] = { { 0, 0, 0 } }, list[BUDGETS] = {
	    { 0, 0, 0 } };
	struct loop_world world = trade_world(read, TASTE_BADLY, 13);   /* ten more to come: a year of brewing */

	for (size_t i = 0; i < brewers; i++) {
		struct loop_brewer *b =
		    loop_begin(&world, read->facts[i % read->n_facts], 17000 + i, read->scratch, trade_arena());
		for (int n = 0; n < 3; n++)
			loop_brew(b);
		for (size_t j = 0; j < BUDGETS; j++) {
			world.budget = budgets[j];
			b->advice = NULL;   /* asked with another budget */
			price_list(b, &list[j]);
			plan_side(loop_advice(b), read->k, &cold[j], &first[j]);
		}
		trade_drop(b);
	}
	printf(
	    "\nafter three batches, what plans buy: share of the money that goes to the cold side, of plans "
	    "that buy anything\n");
	for (size_t j = 0; j < BUDGETS; j++) {
		char title[96];
		snprintf(title, sizeof title, "budget %d: on the cold side", budgets[j]);
		trade_print("cold", budgets[j], title, &cold[j]);
		trade_print("first-cold", budgets[j], "  what is bought first is cold", &first[j]);
		trade_print("list", budgets[j], "  of all that fits the brewer and the budget, by price", &list[j]);
	}
}
