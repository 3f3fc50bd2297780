/* check_joint.c - the figures of a plan: gains that add up, budgets, the frontier, and joint replay against a
 * direct computation
 *
 * Small rule sets drawn at random (a fixed generator of the test's own): their changes act through facts and
 * through ratings, overlap, exclude and need each other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stddef.h>
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
	len += (size_t)snprintf(out, size,
	    "<change id='c%d' kind='%s' side='cold' stage='ferment' cost='%g' %s source='estimate'>"
	    "<title>c%d</title><how>so</how>",
	    u, price[u] > 0 ? "upgrade" : "habit", price[u], grouped[u] ? "group='g'" : "", u);
	if (kind != 0)
		len += (size_t)snprintf(
		    out + len, size - len, "<sets fact='t.over' at-most='%u K' source='estimate'/>", draw(4));
	if (kind == 2)
		len += (size_t)snprintf(
		    out + len, size - len, "<sets fact='t.share' at-least='0.%u' source='estimate'/>", 1 + draw(9));
	for (unsigned i = 0; i < 1 + draw(2); i++)
		len += (size_t)snprintf(
		    out + len, size - len, PREVENTS("%s", "0.%u"), causes[(first + i) % 3], 1 + draw(9));
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

/* Which known fact that this cause looks at does the change set? Warm looks at t.over (and t.control), stale at
 * t.share. */
static bool replays(const struct ab_change *c, int cause, const struct ab_fact *facts)
{
	for (size_t s = 0; s < c->n_sets; s++)
		if (((cause == C_WARM && c->sets[s].slot == T_OVER) ||
			(cause == C_STALE && c->sets[s].slot == T_SHARE)) &&
		    AB_FACT_KNOWN(&facts[c->sets[s].slot]))
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
				f->value = change->sets[s].slot == T_OVER ? fmin(f->value, change->sets[s].value)
									  : fmax(f->value, change->sets[s].value);
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

/* A habit makes use of what is there: one that would have something bought for it is not for this brewer. */
static bool bought_for_a_habit(int u)
{
	const struct ab_change *c = &b.k->changes[u];

	for (size_t i = 0; c->habit && i < c->n_needs; i++)
		if (!b.k->changes[c->needs[i]].habit)
			return true;
	return false;
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
		if (bought_for_a_habit(u))
			return false;
		for (size_t i = 0; i < c->n_needs; i++)
			if (!(set >> c->needs[i] & 1))
				return false;
	}
	return sum <= budget && group <= 1;
}

enum { SEEDS = 120 };

/* Nothing left out on purpose: the plan must be the best there is. */
static const struct ab_policy none;

START_TEST(joint_replay)
{
	open_at_random(_i);
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	double direct = removed_by(advice, planned(advice));
	ck_assert_msg(fabs(advice->load_before - advice->load_after - direct) < 1e-10,
	    "seed %d: %.12g, directly %.12g", _i, advice->load_before - advice->load_after, direct);
	for (size_t i = 0; i < advice->n_items; i++)   /* and each change alone */
		ck_assert_msg(
		    fabs(advice->items[i].gain - removed_by(advice, 1U << advice->items[i].change)) < 1e-10,
		    "seed %d: change %d", _i, advice->items[i].change);
}
END_TEST

/* The best value of all 64 sets by joint replay that keep the limits and what `may` asks besides. */
static double enumerated(const struct ab_advice *advice, double budget, bool (*may)(const struct ab_advice *, unsigned))
{
	double best = 0;

	for (unsigned s = 0; s < 1U << CHANGES; s++)
		if (allowed(s, budget) && (may == NULL || may(advice, s)))
			best = fmax(best, removed_by(advice, s));
	return best;
}

START_TEST(the_best_is_the_best)
{
	open_at_random(_i);
	b.options.budget = 100;
	b.options.policy = &none;
	const struct ab_advice *advice = brewery_advise(&b);
	unsigned set = planned(advice);
	double best = enumerated(advice, 100, NULL), got = removed_by(advice, set);
	ck_assert_msg(allowed(set, 100), "seed %d: the plan %x breaks a rule", _i, set);
	ck_assert_msg(fabs(best - got) <= 1e-11 * advice->load_before, "seed %d: %x removes %.12g of %.12g", _i,
	    set, got, best);
	ck_assert_double_eq_tol(advice->best, best, 1e-11 * advice->load_before);
	ck_assert_double_eq(advice->gap, 0);
	for (int i = 0; i < AB_POLICY_STEPS; i++)
		ck_assert_double_eq(advice->given_up[i], 0);
}
END_TEST

/* ---- what the policy gives up ---- */

static bool free_of(int u)
{
	return price[u] <= 0;
}

/* An item too small alone may come along when another one needs it. */
static bool needed(unsigned set, int u)
{
	for (int v = 0; v < CHANGES; v++)
		for (size_t i = 0; set >> v & 1 && i < b.k->changes[v].n_needs; i++)
			if (b.k->changes[v].needs[i] == u)
				return true;
	return false;
}

/* Enough by itself, or needed by one that may be thought of (a change only needs such as stand before it). */
static bool may_be_thought_of(const struct ab_advice *advice, int u)
{
	if (bought_for_a_habit(u))
		return false;
	double share = fmax(free_of(u) ? b.options.policy->alone : b.options.policy->paying,
	    b.options.policy->hour * fmax(0, b.k->changes[u].minutes) / 60);
	if (removed_by(advice, 1U << u) >= share * advice->load_before)
		return true;
	for (int v = u + 1; v < CHANGES; v++)
		for (size_t i = 0; i < b.k->changes[v].n_needs; i++)
			if (b.k->changes[v].needs[i] == u && may_be_thought_of(advice, v))
				return true;
	return false;
}

static bool none_small_alone(const struct ab_advice *advice, unsigned set)
{
	for (int u = 0; u < CHANGES; u++)
		if (set >> u & 1 && !may_be_thought_of(advice, u))
			return false;
	return true;
}

static bool few_habits(const struct ab_advice *advice, unsigned set)
{
	size_t habits = 0;

	for (int u = 0; u < CHANGES; u++)
		habits += set >> u & 1 && free_of(u);
	return habits <= b.options.policy->habits && none_small_alone(advice, set);
}

static bool none_small_beside(const struct ab_advice *advice, unsigned set)
{
	double whole = removed_by(advice, set);

	for (int u = 0; u < CHANGES; u++)
		if (set >> u & 1 && !needed(set, u) &&
		    whole - removed_by(advice, set & ~(1U << u)) < b.options.policy->beside * advice->load_before)
			return false;
	return few_habits(advice, set);
}

/* Each adds what its minutes ask for, and its share of what the one adds that adds most. */
static bool no_filler(const struct ab_advice *advice, unsigned set)
{
	double whole = removed_by(advice, set), most = 0, eps = 1e-11 * advice->load_before;

	for (int u = 0; u < CHANGES; u++)
		if (set >> u & 1 && !needed(set, u))
			most = fmax(most, whole - removed_by(advice, set & ~(1U << u)));
	for (int u = 0; u < CHANGES; u++) {
		double least = fmax(b.options.policy->filler * most,
		    b.options.policy->hour * fmax(0, b.k->changes[u].minutes) / 60 * advice->load_before);

		if (set >> u & 1 && !needed(set, u) && whole - removed_by(advice, set & ~(1U << u)) < least - eps)
			return false;
	}
	return true;
}

static struct ab_policy policy_at_random(void)
{
	return (struct ab_policy){ .alone = 0.01 * draw(5),
		.paying = 0.01 * draw(9),
		.habits = 1 + draw(3),
		.beside = 0.01 * draw(6),
		.hour = 0.05 * draw(6),
		.filler = 0.05 * draw(6),
		.thrift = 0.01 * draw(8),
		.equal = 0.01 * draw(10) };
}

/* The first two steps are exact, and so is the sum. The third picks among the plans of all budgets and of the
 * search that rules out the smallest again and again, which is not proven: with the usual policy it misses at worst
 * 0.0016 of the load over these rule sets; with odd ones, which ask up to 0.05 of each item, 0.022, less than one
 * such item. */
START_TEST(steps_of_the_policy)
{
	struct ab_policy policy;
	double left, sum = 0;

	open_at_random(_i);
	policy = _i < SEEDS ? ab_policy_usual : policy_at_random();
	b.options.policy = &policy;
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	double eps = 1e-11 * advice->load_before;
	for (int i = 0; i < AB_POLICY_STEPS; i++) {
		ck_assert_double_ge(advice->given_up[i], 0);
		sum += advice->given_up[i];
	}
	ck_assert_double_eq_tol(advice->best, enumerated(advice, 100, NULL), eps);
	ck_assert_double_eq_tol(advice->best - sum, advice->load_before - advice->load_after, eps);
	left = advice->best - advice->given_up[AB_POLICY_ALONE];
	ck_assert_double_eq_tol(left, enumerated(advice, 100, none_small_alone), eps);
	left -= advice->given_up[AB_POLICY_HABITS];
	ck_assert_double_eq_tol(left, enumerated(advice, 100, few_habits), eps);
	left -= advice->given_up[AB_POLICY_BESIDE];
	double missed = enumerated(advice, 100, none_small_beside) - left;
	ck_assert_msg(missed >= -eps && missed <= (_i < SEEDS ? 0.002 : policy.beside) * advice->load_before + eps,
	    "seed %d: missed %g of %g", _i, missed, advice->load_before);
	ck_assert_double_le(advice->given_up[AB_POLICY_THRIFT], policy.thrift * advice->load_before + eps);
	ck_assert(none_small_beside(advice, planned(advice)) || advice->given_up[AB_POLICY_FILLER] > 0);
	ck_assert(no_filler(advice, planned(advice)));
	ck_assert(few_habits(advice, planned(advice)));
}
END_TEST

static bool same_group(const struct ab_item *x, const struct ab_item *y)
{
	const char *a = b.k->changes[x->change].group, *c = b.k->changes[y->change].group;

	return a != NULL && c != NULL && strcmp(a, c) == 0;
}

/* A purchase that leads gives way to a free change of its group outside the plan if and only if one brings enough
 * by itself; then to the best of them. With ten times its price to spend it leads all the same, and that one helps
 * out. */
static void stood_for(const struct ab_advice *advice, const struct ab_policy *policy, const struct ab_item *bought)
{
	double most = -1;

	for (size_t i = 0; bought->cost > 0 && i < advice->n_items; i++) {
		const struct ab_item *item = &advice->items[i];

		if (!item->chosen && item->cost <= 0 && item->barred == NULL && same_group(item, bought) &&
		    b.k->changes[item->change].n_needs == 0 && item->gain >= policy->bought * bought->gain)
			most = fmax(most, item->gain);
	}
	bool ample = 10 * bought->cost <= b.options.budget;
	ck_assert_int_eq(advice->stands_for >= 0, most >= 0 && !ample);
	ck_assert_int_eq(advice->until >= 0, most >= 0 && ample);
	if (most >= 0)
		ck_assert_double_eq(advice->items[ample ? advice->until : advice->next].gain, most);
}

/* What to begin with is of the plan, or stands for one of it, and nothing of the plan that may begin outweighs it:
 * purchases at the policy's share. With bought = 0 the first free one of a plan that has any; with 1 what adds
 * most. */
START_TEST(what_to_begin_with)
{
	static const double shares[] = { 0, 0.5, 1 };
	struct ab_policy policy = ab_policy_usual;

	open_at_random(_i);
	policy.bought = shares[_i % 3];
	b.options.policy = &policy;
	b.options.budget = 100;
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert(advice->n_plan > 0 || advice->next == -1);
	if (advice->n_plan == 0)
		return;
	ck_assert_int_ge(advice->next, 0);
	int lead = advice->stands_for >= 0 ? advice->stands_for : advice->next;
	const struct ab_item *next = &advice->items[lead];
	double weight = next->joint_gain * (next->cost > 0 ? policy.bought : 1);
	bool in_plan = false;
	for (size_t i = 0; i < advice->n_plan; i++) {
		const struct ab_item *item = &advice->items[advice->plan[i]];
		in_plan |= advice->plan[i] == lead;
		if (b.k->changes[item->change].n_needs == 0 && item->running_cost <= 0)
			ck_assert_double_ge(weight, item->joint_gain * (item->cost > 0 ? policy.bought : 1) - 1e-12);
	}
	stood_for(advice, &policy, next);
	ck_assert(in_plan);
}
END_TEST

/* Both ways are among the rule sets: a purchase that gives way, and one that leads. */
START_TEST(some_purchases_give_way)
{
	int gave_way = 0, led = 0;

	for (int seed = 0; seed < 8 * SEEDS && (gave_way < 2 || led < 2); seed++) {
		if (seed > 0)
			brewery_close(&b);
		open_at_random(seed);
		b.options.budget = 100;
		const struct ab_advice *advice = brewery_advise(&b);
		gave_way += advice->stands_for >= 0;
		led += advice->stands_for < 0 && advice->next >= 0 && advice->items[advice->next].cost > 0;
	}
	ck_assert_int_ge(gave_way, 2);
	ck_assert_int_ge(led, 2);
}
END_TEST

/* How much hangs on each constant of the policy: the plans of a dozen rule sets with it halved, doubled and off,
 * for whoever reads the log. Whatever it is set to, the books balance, and a rule that is off gives up nothing. */
static const struct { const char *name; size_t at; enum ab_policy_step step; } constants[] = {
	{ "alone", offsetof(struct ab_policy, alone), AB_POLICY_ALONE },
	{ "paying", offsetof(struct ab_policy, paying), AB_POLICY_ALONE },
	{ "beside", offsetof(struct ab_policy, beside), AB_POLICY_BESIDE },
	{ "thrift", offsetof(struct ab_policy, thrift), AB_POLICY_THRIFT },
	{ "filler", offsetof(struct ab_policy, filler), AB_POLICY_FILLER },
	{ "habits", SIZE_MAX, AB_POLICY_HABITS },
};

static const struct ab_advice *advise_with(size_t constant, double factor)
{
	static struct ab_policy policy;

	policy = ab_policy_usual;
	if (constants[constant].at == SIZE_MAX)
		policy.habits = (size_t)((double)policy.habits * factor / 3); /* of 6 changes, 2 habits are as 6 of
										 a hundred and thirty */
	else
		*(double *)((char *)&policy + constants[constant].at) *= factor;
	b.options.policy = &policy;
	b.options.changes = 0;
	return brewery_advise(&b);
}

START_TEST(how_much_hangs_on_the_policy)
{
	char usual[128], other[128], line[1024];
	static const double factors[] = { 0, 0.5, 2 };
	double left;
	size_t len;

	open_at_random(_i);
	b.options.budget = 100;
	b.options.policy = NULL;
	const struct ab_advice *advice = brewery_advise(&b);
	brewery_plan(&b, advice, usual, sizeof usual);
	left = advice->load_after / advice->load_before;
	len = (size_t)snprintf(line, sizeof line, "# rule set %d: %s leaves %.3f", _i, usual, left);
	for (size_t c = 0; c < sizeof constants / sizeof *constants; c++)
		for (size_t f = 0; f < 3; f++) {
			double sum = 0;

			advice = advise_with(c, factors[f]);
			for (int i = 0; i < AB_POLICY_STEPS; i++)
				sum += advice->given_up[i];
			ck_assert_double_eq_tol(advice->best - sum, advice->load_before - advice->load_after,
			    1e-11 * advice->load_before);
			if (factors[f] <= 0 && c >= 2)
				ck_assert_double_eq(advice->given_up[constants[c].step], 0);
			brewery_plan(&b, advice, other, sizeof other);
			if (strcmp(other, usual) != 0)
				len += (size_t)snprintf(line + len, sizeof line - len, "; %s x %g: %s leaves %.3f",
				    constants[c].name, factors[f], other, advice->load_after / advice->load_before);
			ck_assert_uint_lt(len, sizeof line);
		}
	puts(line);
	fflush(stdout);
}
END_TEST

/* ---- what holds of every plan ---- */

START_TEST(gains_add_up)
{
	open_at_random(_i);
	b.options.budget = 100;
	b.options.policy = _i % 2 == 0 ? &none : NULL;
	const struct ab_advice *advice = brewery_advise(&b);
	double sum = 0, alone = 0, minutes = 0, money = 0, given_up = 0;
	for (size_t i = 0; i < advice->n_plan; i++) {
		const struct ab_item *item = &advice->items[advice->plan[i]];

		ck_assert(item->joint_gain >= 0 && item->joint_gain <= item->gain + 1e-12); /* diminishing within a
											       cause: no rule here
											       makes one help
											       another */
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
		ck_assert(advice->frontier[i].cost > advice->frontier[i - 1].cost &&
		    advice->frontier[i].removed > advice->frontier[i - 1].removed);
	/* no affordable set known removes more but for what was left out on purpose in its last steps */
	given_up = advice->given_up[AB_POLICY_THRIFT] + advice->given_up[AB_POLICY_FILLER];
	for (size_t i = 0; i < advice->n_frontier; i++)
		ck_assert_msg(advice->frontier[i].cost > 100 ||
			advice->frontier[i].removed <= sum + given_up + 1e-11 * advice->load_before,
		    "seed %d", _i);
}
END_TEST

static double gains(const struct ab_advice *advice)
{
	double sum = 0;

	for (size_t i = 0; i < advice->n_plan; i++)
		sum += advice->items[advice->plan[i]].joint_gain;
	return sum;
}

/* Exactly so for the best plan; the policy may give up of more money what it says it does. */
START_TEST(more_money_removes_no_less)
{
	double last = 0, last_best = 0;

	open_at_random(_i);
	for (double budget = 0; budget <= 240; budget += 30) {
		b.options.budget = budget;
		const struct ab_advice *advice = brewery_advise(&b);
		double given_up = 0, eps = 1e-11 * advice->load_before;
		for (int i = 0; i < AB_POLICY_STEPS; i++)
			given_up += advice->given_up[i];
		ck_assert_msg(advice->best >= last_best - eps, "seed %d, budget %g: %g after %g", _i, budget,
		    advice->best, last_best);
		ck_assert_msg(gains(advice) + given_up >= last - eps, "seed %d, budget %g: %g after %g", _i, budget,
		    gains(advice), last);
		last_best = advice->best;
		last = fmax(last, gains(advice));
	}
}
END_TEST

START_TEST(frontier)
{
	open_at_random(_i);
	b.options.policy = &none;
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_step *f = advice->frontier;
	size_t n = advice->n_frontier;
	double most = n > 0 ? f[n - 1].removed : 0;
	ck_assert_uint_gt(n, 0);
	for (size_t i = 0; i < n; i++) {
		ck_assert_msg(i == 0 || (f[i].cost > f[i - 1].cost && f[i].removed > f[i - 1].removed),
		    "seed %d: point %zu", _i, i);
		ck_assert_double_eq_tol(f[i].load, advice->load_before - f[i].removed, 1e-12);
		ck_assert_double_eq_tol(f[i].removed, enumerated(advice, f[i].cost, NULL), 1e-11 * advice->load_before);
		if (i > 0)   /* and a cent less buys only the step before */
			ck_assert_double_eq_tol(f[i - 1].removed, enumerated(advice, f[i].cost - 0.01, NULL),
			    1e-11 * advice->load_before);
	}
	ck_assert_double_eq_tol(most, gains(advice), 1e-11 * advice->load_before); /* without a limit the plan is
										      its last point */
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
	tcase_set_timeout(tc, 120);   /* under the sanitizers */
	tcase_add_loop_test(tc, joint_replay, 0, SEEDS);
	tcase_add_loop_test(tc, the_best_is_the_best, 0, SEEDS);
	tcase_add_loop_test(tc, steps_of_the_policy, 0, 2 * SEEDS);
	tcase_add_loop_test(tc, what_to_begin_with, 0, SEEDS);
	tcase_add_test(tc, some_purchases_give_way);
	tcase_add_loop_test(tc, how_much_hangs_on_the_policy, 0, 12);
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
