/* check_joint.c - the figures of a plan: gains that add up, budgets, the frontier, and joint replay against a direct computation
 *
 * Small rule sets drawn at random (a fixed generator of the test's own): their changes act through facts and through ratings, overlap,
 * exclude and need each other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "advicecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

/* ---- rule sets at random ---- */

static uint64_t state;

static unsigned draw(unsigned below)
{
	state = state * 6364136223846793005ULL + 1442695040888963407ULL;   /* Knuth, MMIX */
	return (unsigned)(state >> 33) % below;
}

enum { CHANGES = 6 };
static double price[CHANGES];
static bool grouped[CHANGES];

static size_t add_change(char *out, size_t size, int u)
{
	static const char *const causes[] = { "warm", "stale", "husky" };
	unsigned first = draw(3), kind = draw(4), needs = draw(4) == 0 && u > 0 ? draw((unsigned)u) : CHANGES;
	size_t len = 0;

	price[u] = draw(3) == 0 ? 0 : 10 * (1 + draw(9));
	grouped[u] = needs == CHANGES && draw(3) == 0;
	len += (size_t)snprintf(out, size, "<change id='c%d' kind='%s' side='cold' stage='ferment' cost='%g' %s source='estimate'><title>c%d</title><how>so</how>",
	    u, price[u] > 0 ? "upgrade" : "habit", price[u], grouped[u] ? "group='g'" : "", u);
	if (kind != 0)
		len += (size_t)snprintf(out + len, size - len, "<sets fact='t.over' at-most='%u K' source='estimate'/>", draw(4));
	if (kind == 2)
		len += (size_t)snprintf(out + len, size - len, "<sets fact='t.share' at-least='0.%u' source='estimate'/>", 1 + draw(9));
	for (unsigned i = 0; i < 1 + draw(2); i++)
		len += (size_t)snprintf(out + len, size - len, PREVENTS("%s", "0.%u"), causes[(first + i) % 3], 1 + draw(9));
	if (needs < CHANGES && !grouped[needs])   /* the lint refuses a need that the group may rule out */
		len += (size_t)snprintf(out + len, size - len, "<needs change='c%u'/>", needs);
	return len + (size_t)snprintf(out + len, size - len, "</change>\n");
}

static void open_at_random(int seed)
{
	char changes[8192];
	size_t len = 0;

	state = (uint64_t)seed * 0x9E3779B97F4A7C15ULL;
	for (int u = 0; u < CHANGES; u++)
		len += add_change(changes + len, sizeof changes - len, u);
	brewery_open(&b, changes);
	for (unsigned n = 1 + draw(4); n > 0; n--) {
		struct ab_case *c = brewery_batch(&b);

		if (draw(3) != 0)
			c->facts[T_OVER] = tiny_fact(draw(5));
		if (draw(3) != 0)
			c->facts[T_SHARE] = tiny_fact(0.1 * draw(11));
		c->evidence.family = (int)draw(3) - 1;
	}
	brewery_ready(&b);
}

/* ---- the direct computation ---- */

static double rating(const struct ab_change *c, int cause)
{
	double share = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if (c->prevents[i].cause == cause)
			share = c->prevents[i].share;
	return share;
}

/* Which known fact that this cause looks at does the change set? Warm looks at t.over (and t.control), stale at t.share. */
static bool replays(const struct ab_change *c, int cause, const struct ab_fact *facts)
{
	for (size_t s = 0; s < c->n_sets; s++)
		if (((cause == C_WARM && c->sets[s].slot == T_OVER) || (cause == C_STALE && c->sets[s].slot == T_SHARE)) && AB_FACT_KNOWN(&facts[c->sets[s].slot]))
			return true;
	return false;
}

/* Share of one cause left in one batch by the changes whose bits are set. */
static double left_in(const struct ab_case *c, int cause, unsigned set)
{
	struct ab_fact after[T_FACTS];
	double p[C_CAUSES], left = 1, before = c->diagnosis->present[cause];
	bool replay = false;

	memcpy(after, c->facts, sizeof after);
	for (int u = 0; u < CHANGES; u++) {
		const struct ab_change *change = &b.k->changes[u];

		if (!(set >> u & 1))
			continue;
		for (size_t s = 0; s < change->n_sets; s++) {
			struct ab_fact *f = &after[change->sets[s].slot];

			if (AB_FACT_KNOWN(f))
				f->value = change->sets[s].slot == T_OVER ? fmin(f->value, change->sets[s].value) : fmax(f->value, change->sets[s].value);
		}
		if (replays(change, cause, c->facts))
			replay = true;
		else
			left *= 1 - rating(change, cause);
	}
	ab_alone(b.k, after, p);
	return replay ? left * fmax(0.05, fmin(1, p[cause] / before)) : left;   /* 0.95 at most */
}

static double removed_by(const struct ab_advice *advice, unsigned set)
{
	double sum = 0;

	for (size_t i = 0; i < advice->n_recurrences; i++) {
		const struct ab_recurrence *r = &advice->recurrences[i];
		double share = 0, weights = 0;

		for (size_t j = 0; j < b.n; j++) {
			double w = pow(0.85, (double)(b.n - 1 - j)) * b.cases[j]->diagnosis->present[r->cause];

			share += w * (1 - left_in(b.cases[j], r->cause, set));
			weights += w;
		}
		sum += r->load * share / weights;
	}
	return sum;
}

static unsigned planned(const struct ab_advice *advice)
{
	unsigned set = 0;

	for (size_t i = 0; i < advice->n_plan; i++)
		set |= 1U << advice->items[advice->plan[i]].change;
	return set;
}

static bool allowed(unsigned set, double budget)
{
	double sum = 0;
	int group = 0;

	for (int u = 0; u < CHANGES; u++) {
		const struct ab_change *c = &b.k->changes[u];

		if (!(set >> u & 1))
			continue;
		sum += price[u];
		group += c->group != NULL;
		for (size_t i = 0; i < c->n_needs; i++)
			if (!(set >> c->needs[i] & 1))
				return false;
	}
	return sum <= budget && group <= 1;
}

enum { SEEDS = 120 };

START_TEST(joint_replay)
{
	open_at_random(_i);
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	double direct = removed_by(advice, planned(advice));
	ck_assert_msg(fabs(advice->load_before - advice->load_after - direct) < 1e-10, "seed %d: %.12g, directly %.12g", _i,
	    advice->load_before - advice->load_after, direct);
	for (size_t i = 0; i < advice->n_items; i++)   /* and each change alone */
		ck_assert_msg(fabs(advice->items[i].gain - removed_by(advice, 1U << advice->items[i].change)) < 1e-10, "seed %d: change %d", _i,
		    advice->items[i].change);
}
END_TEST

/* The plan is searched with effects that multiply, then bettered by single additions and exchanges under joint replay. Held against all 64 sets by joint
 * replay with a budget of 100, it loses at worst 0.0383 of the load over these 120 rule sets: on purpose, since bought things that bring less than 0.03
 * by themselves are not thought of (with 0.01 for them as for habits it was 0.0198, and the multiplying search alone lost 0.125). */
#define WORST 0.04
START_TEST(loss_of_the_additive_search)
{
	open_at_random(_i);
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	unsigned set = planned(advice), best_set = 0;
	double best = 0, got = removed_by(advice, set);
	ck_assert_msg(allowed(set, 100), "seed %d: the plan %x breaks a rule", _i, set);
	for (unsigned s = 0; s < 1U << CHANGES; s++)
		if (allowed(s, 100) && removed_by(advice, s) > best) {
			best = removed_by(advice, s);
			best_set = s;
		}
	ck_assert_msg(best - got <= WORST * advice->load_before, "seed %d: %x removes %g, %x %g, of %g", _i, set, got, best_set, best, advice->load_before);
}
END_TEST

/* What a plan may leave undone on purpose, as a share of the load: an item below 0.01, and 0.02 that nobody would taste for money saved. */
#define SPARED 0.03

START_TEST(gains_add_up)
{
	open_at_random(_i);
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	double sum = 0, alone = 0, minutes = 0, money = 0;
	for (size_t i = 0; i < advice->n_plan; i++) {
		const struct ab_item *item = &advice->items[advice->plan[i]];

		ck_assert(item->joint_gain >= 0 && item->joint_gain <= item->gain + 1e-12);   /* diminishing within a cause: no rule here makes one help another */
		sum += item->joint_gain;
		alone += item->gain;
		minutes += item->minutes;
		money += item->cost;
	}
	ck_assert(sum <= alone + 1e-12);
	ck_assert_double_eq_tol(minutes, advice->minutes_added, 1e-12);
	ck_assert_double_eq(advice->gap, 0);
	ck_assert(money <= 100);
	ck_assert(advice->load_after <= advice->load_before && advice->load_after >= 0);
	ck_assert(advice->flawless_after >= advice->flawless_before && advice->flawless_after <= 1);
	ck_assert_double_eq_tol(sum, advice->load_before - advice->load_after, 1e-10);
	for (size_t i = 1; i < advice->n_frontier; i++)
		ck_assert(advice->frontier[i].cost > advice->frontier[i - 1].cost && advice->frontier[i].removed > advice->frontier[i - 1].removed);
	for (size_t i = 0; i < advice->n_frontier; i++)   /* no cheaper set known removes more */
		ck_assert_msg(advice->frontier[i].cost > 100 || advice->frontier[i].removed <= sum + SPARED * advice->load_before, "seed %d", _i);
}
END_TEST

static double gains(const struct ab_advice *advice)
{
	double sum = 0;

	for (size_t i = 0; i < advice->n_plan; i++)
		sum += advice->items[advice->plan[i]].joint_gain;
	return sum;
}

START_TEST(more_money_removes_no_less)
{
	double last = 0;

	open_at_random(_i);
	for (double budget = 0; budget <= 240; budget += 30) {
		b.options.budget = budget;
		const struct ab_advice *advice = brewery_advise(&b);
		ck_assert_msg(gains(advice) >= last - SPARED * advice->load_before, "seed %d, budget %g: %g after %g", _i, budget, gains(advice), last);
		last = fmax(last, gains(advice));
	}
}
END_TEST

START_TEST(frontier)
{
	open_at_random(_i);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_step *f = advice->frontier;
	size_t n = advice->n_frontier;
	double most = n > 0 ? f[n - 1].removed : 0;
	ck_assert_uint_gt(n, 0);
	for (size_t i = 0; i < n; i++) {
		ck_assert_msg(i == 0 || (f[i].cost > f[i - 1].cost && f[i].removed > f[i - 1].removed), "seed %d: point %zu", _i, i);
		ck_assert_double_eq_tol(f[i].load, advice->load_before - f[i].removed, 1e-12);
	}
	ck_assert(gains(advice) >= most - SPARED * advice->load_before);   /* without a limit the plan is close to its last point */
	for (size_t i = 0; i < n; i++)
		if (f[i].removed >= 0.8 * most) {
			ck_assert_double_eq(advice->enough, f[i].cost);
			break;
		}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("joint");
	TCase *tc = tcase_create("joint");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, joint_replay, 0, SEEDS);
	tcase_add_loop_test(tc, loss_of_the_additive_search, 0, SEEDS);
	tcase_add_loop_test(tc, gains_add_up, 0, SEEDS);
	tcase_add_loop_test(tc, more_money_removes_no_less, 0, SEEDS);
	tcase_add_loop_test(tc, frontier, 0, SEEDS);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
