/* check_policy.c - thrift: the cheapest good buy of those hardly worse than the best, against enumeration of every set
 *
 * Numbers only. Each change takes away its own cause, so what a set removes is a sum that needs no planner.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/policy.h>

#include <check.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { CHANGES = 7, BUDGETS = 2, MONEY = 0, HABITS = 1 };

struct shop {
	size_t n;
	double gain[CHANGES], price[CHANGES];
	int group[CHANGES];                /* -1 = none */
	double money, thrift, rest;        /* rest: load that nothing takes away */
	double paying, spared, beside, flaw;
	double minutes[CHANGES], hour, filler;
};

static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	ab_diag_init(&diag);
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

static void apply(const struct shop *shop, struct ab_policy_plan *out)
{
	double load[CHANGES + 1], cost[CHANGES * BUDGETS];
	struct ab_effect effects[CHANGES];
	unsigned char bought[CHANGES];
	struct ab_problem p = { .n_causes = shop->n + 1,
		.n_changes = shop->n,
		.n_effects = shop->n,
		.n_budgets = BUDGETS,
		.load = load,
		.effects = effects,
		.group = shop->group,
		.cost = cost,
		.budget = { [MONEY] = shop->money, [HABITS] = INFINITY } };
	struct ab_policy_case c = { .problem = &p,
		.money = MONEY,
		.habits = HABITS,
		.lifted = { [MONEY] = true },
		.bought = bought,
		.minutes = shop->minutes,
		.flaw = shop->flaw };
	struct ab_policy policy = { .thrift = shop->thrift,
		.paying = shop->paying,
		.spared = shop->spared,
		.beside = shop->beside,
		.hour = shop->hour,
		.filler = shop->filler };

	for (size_t u = 0; u < shop->n; u++) {
		load[u] = shop->gain[u];
		effects[u] = (struct ab_effect){ .change = (int)u, .cause = (int)u, .share = 1 };
		cost[u * BUDGETS + MONEY] = shop->price[u];
		cost[u * BUDGETS + HABITS] = 0;
		bought[u] = shop->price[u] > 0;
	}
	load[shop->n] = shop->rest;
	ck_assert_msg(ab_policy_apply(&c, &policy, arena, out, &diag) == AB_OK, "%s", diag.text);
}

static unsigned set_of(const struct shop *shop, const unsigned char *chosen)
{
	unsigned set = 0;

	for (size_t u = 0; u < shop->n; u++)
		set |= (unsigned)chosen[u] << u;
	return set;
}

/* ---- rows worked by hand ---- */

/* The first: 25 brings 0.20, with 83 more 0.05, with 90 more instead 0.18. Thrift of 0.13 may give up the last
 * 0.13, and saves 7 by it: per unit of money that is dearer than what it does not buy. */
static const struct {
	const char *name;
	struct shop shop;
	unsigned chosen;
} rows[] = {
	{ "hardly anything for 83, three times as much for 90",
	    { .n = 3, .gain = { 0.20, 0.05, 0.18 }, .price = { 25, 83, 90 },
	    .group = { -1, 0, 0 }, .money = 120, .thrift = 0.02, .rest = 6 }, 5 },
	{ "the last sip is left where it costs the most of all",
	    { .n = 3, .gain = { 0.50, 0.10, 0.05 }, .price = { 20, 20, 60 },
	    .group = { -1, -1, -1 }, .money = 120, .thrift = 0.02, .rest = 6 }, 3 },
	{ "no thrift: the best",
	    { .n = 3, .gain = { 0.50, 0.10, 0.05 }, .price = { 20, 20, 60 }, .group = { -1, -1, -1 }, .money = 120,
	    .rest = 6 }, 7 },
	{ "what lies beyond the money makes no better buy",
	    { .n = 3, .gain = { 0.20, 0.05, 0.90 }, .price = { 25, 83, 120 },
	    .group = { -1, 0, 0 }, .money = 110, .rest = 6 }, 3 },
	{ "a flaw to get rid of: the share alone asks",
	    { .n = 2, .gain = { 0.20, 0.01 }, .price = { 25, 0 }, .group = { -1, -1 }, .money = 120,
	    .rest = 2, .paying = 0.03, .spared = 1 }, 3 },
	{ "none: less than one slight flaw is not bought, what is free stays",
	    { .n = 2, .gain = { 0.20, 0.01 }, .price = { 25, 0 },
	    .group = { -1, -1 }, .money = 120, .rest = 2, .paying = 0.03, .spared = 1, .flaw = 0.3 }, 2 },
	{ "what keeps off a whole one is",
	    { .n = 2, .gain = { 0.30, 0.01 }, .price = { 25, 0 }, .group = { -1, -1 }, .money = 120, .rest = 2,
	    .paying = 0.03, .spared = 1, .flaw = 0.3 }, 3 },
	{ "two flaws to be spared",
	    { .n = 2, .gain = { 0.30, 0.01 }, .price = { 25, 0 }, .group = { -1, -1 }, .money = 120, .rest = 2,
	    .paying = 0.03, .spared = 2, .flaw = 0.3 }, 2 },
	{ "beside asks a third as much, of 0.3",
	    { .n = 2, .gain = { 0.09, 0.09 }, .price = { 25, 0 }, .group = { -1, -1 }, .money = 120,
	    .rest = 2, .paying = 0.03, .beside = 0.01, .spared = 1, .flaw = 0.3 }, 2 },
	{ "nothing costs nothing",
	    { .n = 2, .gain = { 0.01, 0.02 }, .price = { 50, 60 }, .group = { -1, -1 }, .money = 200, .thrift = 0.02,
	    .rest = 6 }, 0 },
};

/* Loads sum to 10 with the rest: an hour asks for a tenth of them is 1.0, half an hour 0.5. Of a plan that is
 * picked each adds a twentieth of what the best adds, 0.25 of 5. */
static const struct {
	const char *name;
	struct shop shop;
	unsigned chosen;
	double alone, filler;    /* given up */
} idle[] = {
	{ "half an hour for enough",
	    { .n = 2, .gain = { 2, 0.5 }, .group = { -1, -1 }, .rest = 7.5, .minutes = { 0, 30 }, .hour = 0.1 }, 3,
	0, 0 },
	{ "a minute more for the same",
	    { .n = 2, .gain = { 2, 0.5 }, .group = { -1, -1 }, .rest = 7.5, .minutes = { 0, 31 }, .hour = 0.1 }, 1,
	0.5, 0 },
	{ "what saves time owes nothing for it",
	    { .n = 2, .gain = { 2, 0.01 }, .group = { -1, -1 }, .rest = 7.99, .minutes = { 0, -60 }, .hour = 0.1 },
	3, 0,
	    0 },
	{ "a cure, and as much as a twentieth of it",
	    { .n = 2, .gain = { 5, 0.25 }, .group = { -1, -1 }, .rest = 4.75, .filler = 0.05 }, 3, 0, 0 },
	{ "less is filler",
	    { .n = 3, .gain = { 5, 0.24, 0.2 }, .group = { -1, -1, -1 }, .rest = 4.56, .filler = 0.05 }, 1, 0, 0.44 },
	{ "without the cure the same is none",
	    { .n = 2, .gain = { 0.24, 0.2 }, .group = { -1, -1 }, .rest = 9.56, .filler = 0.05 }, 3, 0, 0 },
	{ "nor where the cure cannot be paid",
	    { .n = 2, .gain = { 5, 0.2 }, .price = { 50, 0 }, .group = { -1, -1 }, .money = 40, .rest = 4.8,
	    .filler = 0.05 },
	    2, 0, 0 },
	{ "what was paid for filler is kept",
	    { .n = 2, .gain = { 5, 0.2 }, .price = { 0, 50 }, .group = { -1, -1 }, .money = 60, .rest = 4.8,
	    .filler = 0.05 },
	    1, 0, 0.2 },
};

START_TEST(idle_by_hand)
{
	struct ab_policy_plan plan;
	double sum = 0, cost = 0;

	apply(&idle[_i].shop, &plan);
	ck_assert_msg(set_of(&idle[_i].shop, plan.chosen) == idle[_i].chosen, "%s: chose %x", idle[_i].name,
	    set_of(&idle[_i].shop, plan.chosen));
	ck_assert_double_eq_tol(plan.given_up[AB_POLICY_ALONE], idle[_i].alone, 1e-12);
	ck_assert_double_eq_tol(plan.given_up[AB_POLICY_FILLER], idle[_i].filler, 1e-12);
	for (int i = 0; i < AB_POLICY_STEPS; i++)
		sum += plan.given_up[i];
	ck_assert_double_eq_tol(plan.removed, plan.best_removed - sum, 1e-12);
	for (size_t u = 0; u < idle[_i].shop.n; u++)
		cost += plan.chosen[u] ? idle[_i].shop.price[u] : 0;
	ck_assert_double_eq(plan.cost, cost);
}
END_TEST

START_TEST(thrift_by_hand)
{
	struct ab_policy_plan plan;

	apply(&rows[_i].shop, &plan);
	ck_assert_msg(set_of(&rows[_i].shop, plan.chosen) == rows[_i].chosen, "%s: chose %x, not %x", rows[_i].name,
	    set_of(&rows[_i].shop, plan.chosen), rows[_i].chosen);
}
END_TEST

/* ---- any shop against enumeration ---- */

static uint64_t state;

static unsigned draw(unsigned below)
{
	state = state * 6364136223846793005ULL + 1442695040888963407ULL;   /* Knuth, MMIX */
	return (unsigned)(state >> 33) % below;
}

/* Gains and prices are whole numbers of 1024ths, so that sums are exact in whatever order. */
static struct shop shop_at_random(void)
{
	struct shop shop = { .n = CHANGES, .money = 20 + draw(200), .thrift = draw(12) / 256.0, .rest = draw(4) };

	for (int u = 0; u < CHANGES; u++) {
		shop.gain[u] = (1 + draw(400)) / 1024.0;
		shop.price[u] = draw(4) == 0 ? 0 : 1 + draw(90);
		shop.group[u] = draw(3) == 0 ? (int)draw(2) : -1;
	}
	return shop;
}

struct worth { bool feasible; double cost, removed; };

static struct worth worth_of(const struct shop *shop, unsigned set)
{
	struct worth w = { .feasible = true };
	int taken[2] = { 0, 0 };

	for (size_t u = 0; u < shop->n; u++) {
		if (!(set >> u & 1))
			continue;
		w.cost += shop->price[u];
		w.removed += shop->gain[u];
		w.feasible = w.feasible && (shop->group[u] < 0 || taken[shop->group[u]]++ == 0);
	}
	w.feasible = w.feasible && w.cost <= shop->money;
	return w;
}

/* Is there a worth of money, 0 or more, at which no feasible set is better than this one? */
static bool good_buy(const struct shop *shop, unsigned set)
{
	struct worth own = worth_of(shop, set);
	double least = 0, most = INFINITY;

	for (unsigned other = 0; other < 1U << shop->n; other++) {
		struct worth w = worth_of(shop, other);

		if (!w.feasible)
			continue;
		if (w.cost > own.cost)
			least = fmax(least, (w.removed - own.removed) / (w.cost - own.cost));
		else if (w.cost < own.cost)
			most = fmin(most, (own.removed - w.removed) / (own.cost - w.cost));
		else if (w.removed > own.removed)
			return false;
	}
	return least <= most + 1e-12;
}

START_TEST(thrift_against_enumeration)
{
	struct ab_policy_plan plan;
	double most = 0, cheapest = INFINITY;

	state = (uint64_t)_i + 1;
	struct shop shop = shop_at_random();
	apply(&shop, &plan);
	unsigned chosen = set_of(&shop, plan.chosen);
	ck_assert(worth_of(&shop, chosen).feasible);
	ck_assert_msg(good_buy(&shop, chosen), "seed %d: set %x is no good buy", _i, chosen);
	for (unsigned set = 0; set < 1U << CHANGES; set++)
		if (worth_of(&shop, set).feasible)
			most = fmax(most, worth_of(&shop, set).removed);
	double floor = most - shop.thrift * plan.before;
	ck_assert_double_ge(worth_of(&shop, chosen).removed, floor - 1e-12);
	for (unsigned set = 0; set < 1U << CHANGES; set++) {
		struct worth w = worth_of(&shop, set);

		if (w.feasible && w.removed >= floor + 1e-12 && good_buy(&shop, set))
			cheapest = fmin(cheapest, w.cost);
	}
	ck_assert_msg(worth_of(&shop, chosen).cost <= cheapest, "seed %d: %g, and %g would do", _i,
	    worth_of(&shop, chosen).cost, cheapest);
	ck_assert_double_eq_tol(plan.given_up[AB_POLICY_THRIFT], most - worth_of(&shop, chosen).removed, 1e-12);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("policy");
	TCase *thrift = tcase_create("thrift");

	tcase_add_checked_fixture(thrift, set_up, tear_down);
	tcase_add_loop_test(thrift, thrift_by_hand, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(thrift, idle_by_hand, 0, sizeof idle / sizeof *idle);
	tcase_add_loop_test(thrift, thrift_against_enumeration, 0, 300);
	suite_add_tcase(suite, thrift);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
