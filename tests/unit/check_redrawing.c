/* check_redrawing.c - worlds drawn again: with nothing moved they are the problem as it was reckoned; one that was
 * moved is what comes of reckoning all from the start on its rules; and what sets of changes take is what their
 * definition says
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <gsl/gsl_randist.h>

#include <afterboil/redraw.h>
#include "advice/redrawing.h"
#include "base/alloc.h"
#include "insidecase.h"
#include "plan_cases.h"

static struct brewery b;
static struct advising a;
static struct redrawing r;
static bool opened;

static void set_up(void)
{
	opened = false;
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	if (opened)
		redrawing_close(&r);
	inside_close(&a);
	brewery_close(&b);
}

#define X50(body) BUY("x", "50", body)
#define Y50(body) BUY("y", "50", body)
#define MANY HABIT("h", COOLS PREVENTS("warm", "0.4")) X50(PREVENTS("warm", "0.5") PREVENTS("husky", "0.3")) \
	Y50(FRESHENS PREVENTS("stale", "0.7")) \
	BUY("z", "20", PREVENTS("husky", "0.6") "<needs change='h'/>") \
	CHANGE("g", "upgrade", "cold", "stage='ferment' cost='30' minutes='5' running='1' running-per-year='4' " \
	"group='boxes'", \
	"<sets fact='t.over' at-most='2 K' source='estimate'/>" PREVENTS("warm", "0.6")) \
	CHANGE("i", "habit", "cold", "stage='ferment' cost='0' minutes='-10' group='boxes'", PREVENTS("warm", \
	"0.2") PREVENTS("stale", "0.3")) \
	CHANGE("w", "habit", "cold", "stage='ferment' cost='0'", \
	"<prevents cause='stale' share='0.1' source='estimate'/>" \
	"<prevents cause='stale' share='0.35' source='estimate'><when fact='t.control' is='fridge'/></prevents>")

enum { UNKNOWN = -99, ODD_CONTROL = 2 };

/* Of every sort: warm or not, fresh or not, in a fridge, nothing known; every second tasted where told. */
static void add_batches(size_t n, bool tasted)
{
	static const double over[] = { 4, 0, UNKNOWN, 2.5, 4, 1 }, share[] = { 0, 0.5, UNKNOWN, 0, UNKNOWN };

	for (size_t i = 0; i < n; i++) {
		struct ab_case *c = brewery_batch(&b);

		if (over[i % 6] > UNKNOWN)
			c->facts[T_OVER] = tiny_fact(over[i % 6]);
		if (share[i % 5] > UNKNOWN)
			c->facts[T_SHARE] = tiny_fact(share[i % 5]);
		if (i % 3 == 1)
			c->facts[T_CONTROL] = tiny_fact(ODD_CONTROL);
		ab_alone(b.k, c->facts, c->diagnosis->present);
		if (tasted && i % 2 == 0)
			inside_found(&b, c, i % 4 == 0, 3 + (double)i / 8);
	}
}

static void price(const char *change, double cost)
{
	struct ab_list prices = b.profile->prices;
	struct ab_price *p = brewery_push(&b, &prices, sizeof *p);

	*p = (struct ab_price){ .change = change, .cost = { .known = true, .v = cost } };
	b.profile->prices = prices;
}

static void own(const char *change)
{
	struct ab_list owns = b.profile->owns;
	struct ab_owns *o = brewery_push(&b, &owns, sizeof *o);

	o->change = change;
	b.profile->owns = owns;
}

/* ---- the helper itself ---- */

static const struct {
	const char *title;
	size_t batches;
	bool tasted;
	double budget, minutes;
	const char *noted, *priced, *owned;
	int adopted;
	size_t at;
	const char *trouble;
} worlds[] = {
	{ "no batches", 0, false, 70, NAN, NULL, NULL, NULL, 0, 0, NULL },
	{ "no limit of money", 0, false, NAN, NAN, NULL, "x", NULL, 0, 0, NULL },
	{ "one tasted", 1, true, 70, NAN, NULL, NULL, NULL, 0, 0, NULL },
	{ "six tasted", 6, true, 90, 0, NULL, "y", NULL, 0, 0, NULL },
	{ "six, with a trial", 6, true, 70, NAN, "h", NULL, NULL, AB_NO, 3, NULL },
	{ "twelve, with a change that is kept", 12, true, NAN, NAN, "x", NULL, NULL, AB_YES, 5, NULL },
	{ "ten, one thing owned", 10, true, 50, NAN, NULL, NULL, "g", 0, 0, NULL },
	{ "more than are diagnosed again", 40, true, 120, NAN, "w", "z", NULL, AB_NO, 30, NULL },
	{ "none of them tasted", 9, false, 70, NAN, NULL, NULL, NULL, 0, 0, NULL },
	{ "six tasted, and a trouble told", 6, true, 90, NAN, NULL, "y", NULL, 0, 0, "butter" },
};

static void open_brewery(int row)
{
	brewery_open(&b, MANY);
	add_batches(worlds[row].batches, worlds[row].tasted);
	if (worlds[row].noted != NULL)
		brewery_note(&b, b.cases[worlds[row].at], worlds[row].noted, worlds[row].adopted);
	if (worlds[row].priced != NULL)
		price(worlds[row].priced, 40);
	if (worlds[row].owned != NULL)
		own(worlds[row].owned);
	if (worlds[row].trouble != NULL) {
		struct ab_trouble *t = brewery_push(&b, &b.profile->troubles, sizeof *t);

		t->fault = worlds[row].trouble;
	}
	b.options.budget = worlds[row].budget;
	b.options.minutes = worlds[row].minutes;
}

static void open_world(int row)
{
	open_brewery(row);
	inside_open(&a, &b, b.k);
	ck_assert_msg(redrawing_open(&r, &a, &b.diag) == AB_OK, "%s", b.diag.text);
	opened = true;
}

/* The steps as the tests take them give what advice gives. */
START_TEST(inside_is_advice)
{
	open_brewery(_i);
	inside_open(&a, &b, b.k);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq(a.out->load_before, advice->load_before);
	ck_assert_double_eq(a.out->load_after, advice->load_after);
	ck_assert_uint_eq(a.out->n_plan, advice->n_plan);
	for (size_t i = 0; i < advice->n_items; i++) {
		const struct ab_item *item = &advice->items[i];

		ck_assert_double_eq(item->gain, a.out->items[item->change].gain);
		ck_assert_int_eq(item->chosen, a.out->items[item->change].chosen);
	}
}
END_TEST

/* ---- two problems held against each other ---- */

static const struct ab_joint *joint_of(const struct ab_problem *p, int cause)
{
	for (size_t j = 0; j < p->n_joints; j++)
		if (p->joints[j].cause == cause)
			return &p->joints[j];
	return NULL;
}

/* The same set in another table; *all: every one of it stands there. */
static unsigned translated(const struct ab_joint *from, const struct ab_joint *to, unsigned mask, bool *all)
{
	unsigned out = 0;

	*all = true;
	for (size_t i = 0; i < from->n; i++) {
		size_t k = 0;

		while (k < to->n && to->changes[k] != from->changes[i])
			k++;
		if (mask >> i & 1)
			*all = *all && k < to->n;
		out |= mask >> i & 1 && k < to->n ? 1U << k : 0;
	}
	return out;
}

/* Two of one group are never in a plan together: their sets stand for nothing. */
static bool may_be(const struct ab_problem *p, const struct ab_joint *j, unsigned mask)
{
	for (size_t i = 0; i < j->n; i++)
		for (size_t k = 0; k < i; k++)
			if (mask >> i & 1 && mask >> k & 1 && p->group[j->changes[i]] >= 0 &&
			    p->group[j->changes[i]] == p->group[j->changes[k]])
				return false;
	return true;
}

static size_t same_tables(const char *title, const struct ab_problem *x, const struct ab_problem *y, double tol)
{
	size_t compared = 0;

	for (size_t j = 0; j < x->n_joints; j++) {
		const struct ab_joint *one = &x->joints[j], *other = joint_of(y, one->cause);

		ck_assert_ptr_nonnull(other);
		for (unsigned mask = 0; mask < 1U << one->n; mask++) {
			bool all;
			unsigned there = translated(one, other, mask, &all);

			if (!may_be(x, one, mask))
				continue;
			ck_assert_msg(all, "%s: cause %d, set %x is not in both", title, one->cause, mask);
			ck_assert_msg(fabs(one->share[mask] - other->share[there]) <= tol,
			    "%s: cause %d, set %x: %.12g and %.12g", title, one->cause, mask, one->share[mask],
			    other->share[there]);
			compared += one->share[mask] > 0 && one->share[mask] < 1;
		}
	}
	return compared;
}

/* How far the shares of a set are from each other at most. */
static double most_apart(const struct ab_problem *x, const struct ab_problem *y)
{
	double most = 0;

	for (size_t j = 0; j < x->n_joints; j++) {
		const struct ab_joint *one = &x->joints[j], *other = joint_of(y, one->cause);

		for (unsigned mask = 0; mask < 1U << one->n; mask++) {
			bool all;
			unsigned there = translated(one, other, mask, &all);

			if (may_be(x, one, mask))
				most = fmax(most, fabs(one->share[mask] - other->share[there]));
		}
	}
	return most;
}

static void same_loads(const char *title, const double *x, const double *y, double tol)
{
	for (size_t i = 0; i < b.k->n_causes; i++)
		ck_assert_msg(fabs(x[i] - y[i]) <= tol * fmax(x[i], 1e-3), "%s: load of cause %zu: %.12g and %.12g",
		    title, i, x[i], y[i]);
}

static double best_of(const struct ab_problem *p, unsigned char *chosen)
{
	struct ab_choice choice = { .chosen = chosen };

	ck_assert_msg(ab_plan_solve(p, &choice, &b.diag) == AB_OK, "%s", b.diag.text);
	return choice.removed;
}

/* ---- nothing moved ---- */

static void rules_as_written(const char *title)
{
	const struct ab_knowledge *drawn = &r.e.drawn;

	for (size_t i = 0; i < b.k->n_causes; i++) {
		for (size_t j = 0; j < b.k->causes[i].n_priors; j++)
			ck_assert_msg(drawn->causes[i].priors[j].p == b.k->causes[i].priors[j].p, "%s", title);
		for (size_t j = 0; j < b.k->causes[i].n_signs; j++)
			ck_assert_msg(r.e.sign[i][j] == 1, "%s", title);
		for (size_t j = 0; j < b.k->causes[i].n_links; j++)
			ck_assert_mem_eq(drawn->causes[i].links[j].tail, b.k->causes[i].links[j].tail,
			    sizeof b.k->causes[i].links[j].tail);
	}
	for (size_t u = 0; u < b.k->n_changes; u++)
		ck_assert_msg(r.e.change[u].price == 1 && r.e.change[u].minutes == 1 && r.e.change[u].reach == 0,
		    "%s", title);
}

static void as_reckoned(const char *title)
{
	struct ab_problem as_it_was = advising_same_money(&a);
	unsigned char ours[AB_PLAN_CHANGES] = { 0 }, again[AB_PLAN_CHANGES] = { 0 }, plan[AB_PLAN_CHANGES] = { 0 };
	double best = best_of(&as_it_was, ours), redrawn = best_of(&r.problem, again);

	same_loads(title, r.load, a.load, 1e-11);
	ck_assert_mem_eq(r.cost, a.problem.cost, b.k->n_changes * AXIS_N * sizeof *r.cost);
	ck_assert_uint_gt(same_tables(title, &r.problem, &a.problem, 1e-11), 10);
	for (size_t k = 0; k < AXIS_N; k++)
		ck_assert_msg(r.problem.budget[k] == as_it_was.budget[k], "%s: budget %zu", title, k);
	ck_assert_mem_eq(ours, again, b.k->n_changes);
	ck_assert_msg(fabs(best - redrawn) <= 1e-11 * best, "%s: the best removes %g and %g", title, best, redrawn);
	for (size_t u = 0; u < b.k->n_changes; u++)
		plan[u] = a.out->items[u].chosen;
	ck_assert_msg(fabs(ab_plan_removed(&r.problem, plan) - ab_plan_removed(&as_it_was, plan)) <= 1e-11 * best,
	    "%s: ours", title);
}

/* As it is opened, after a draw of which nothing was moved, and after one that comes behind others: they leave
 * nothing. */
START_TEST(nothing_moved)
{
	const char *title = worlds[_i].title;
	gsl_rng *still = inside_rng(1, 0), *wild = inside_rng(3, ULONG_MAX);
	double before;

	open_world(_i);
	as_reckoned(title);
	for (int times = 0; times < 2; times++) {
		ck_assert_msg(redrawing_draw(&r, still, &b.diag) == AB_OK, "%s: %s", title, b.diag.text);
		rules_as_written(title);
		as_reckoned(title);
		before = r.load[C_WARM];
		for (int i = 0; i < 3; i++)
			ck_assert_msg(redrawing_draw(&r, wild, &b.diag) == AB_OK, "%s: %s", title, b.diag.text);
		ck_assert_msg(fabs(r.load[C_WARM] - before) > 1e-6, "%s: a draw must move something", title);
	}
	inside_rng_free(still);
	inside_rng_free(wild);
}
END_TEST

/* ---- one world, reckoned from the start ---- */

/* Drawn by the same numbers on their own: how many the rules take. */
static unsigned long taken_by_rules(unsigned long seed)
{
	gsl_rng *rng = inside_rng(seed, ULONG_MAX);
	unsigned long given;

	ck_assert_int_eq(estimates_draw(&r.e, rng, &b.diag), AB_OK);
	given = inside_rng_given(rng);
	inside_rng_free(rng);
	return given;
}

/* The brewery's batches as the drawn rules would have diagnosed them. */
static struct brewery *diagnosed_again(void)
{
	static struct brewery other;
	const struct ab_diagnose_options options = { .redraws = 0 };

	other = b;
	for (size_t i = 0; i < b.n; i++) {
		struct ab_case *c = other.cases[i] = ab_arena_alloc(b.arena, 1, sizeof *c);

		*c = *b.cases[i];
		if (c->evidence.finding != NULL)
			ck_assert_int_eq(ab_diagnose(&r.e.drawn, c->facts, &c->evidence, &options, b.arena,
					     &c->diagnosis, &b.diag),
			    AB_OK);
	}
	return &other;
}

static void same_costs(const char *title)
{
	for (size_t u = 0; u < b.k->n_changes; u++) {
		const double *x = r.cost + u * AXIS_N, *y = a.problem.cost + u * AXIS_N;
		bool told = advising_own_price(&a, b.k->changes[u].id) != NULL;
		double p = r.e.change[u].price, buy = told ? 1 : p;

		ck_assert_double_eq_tol(x[AXIS_MONEY], y[AXIS_MONEY] * buy, 1e-9);
		ck_assert_double_eq_tol(x[AXIS_RUNNING], y[AXIS_RUNNING] * p, 1e-9);
		ck_assert_double_eq_tol(x[AXIS_MINUTES], y[AXIS_MINUTES] * r.e.change[u].minutes, 1e-9);
		ck_assert_msg(fabs(x[AXIS_WHOLE] - (x[AXIS_MONEY] + x[AXIS_RUNNING])) < 1e-9 &&
			x[AXIS_HABITS] == y[AXIS_HABITS],
		    "%s: %zu", title, u);
	}
}

/* What a setting comes short of its mark is no rule's number: it is left out here and stands in the next test. */
static void marks_are_reached(void)
{
	for (size_t u = 0; u < b.k->n_changes; u++)
		for (size_t s = 0; s < b.k->changes[u].n_sets; s++)
			((struct ab_change *)(uintptr_t)b.k->changes)[u].sets[s].source.estimate = false;
}

/* Up to one batch, nothing is carried from one way of reckoning to another: the figures must be the same. */
START_TEST(from_the_start)
{
	double moved = 0, as_written;

	open_brewery(_i);
	marks_are_reached();
	inside_open(&a, &b, b.k);
	ck_assert_int_eq(redrawing_open(&r, &a, &b.diag), AB_OK);
	opened = true;
	as_written = a.load[C_WARM];
	for (unsigned long seed = 1; seed <= 25; seed++) {
		gsl_rng *rng = inside_rng(seed, taken_by_rules(seed));
		struct advising again;

		ck_assert_msg(redrawing_draw(&r, rng, &b.diag) == AB_OK, "%s", b.diag.text);
		inside_rng_free(rng);
		inside_open(&again, diagnosed_again(), &r.e.drawn);
		same_loads(worlds[_i].title, r.load, again.load, 1e-7);
		ck_assert_uint_gt(same_tables(worlds[_i].title, &r.problem, &again.problem, 1e-7), 10);
		same_costs(worlds[_i].title);
		moved = fmax(moved, fabs(r.load[C_WARM] / as_written - 1));
		inside_close(&again);
	}
	ck_assert_double_gt(moved, 0.3);   /* or the worlds would hardly differ from the one as written */
}
END_TEST

/* Of several batches, taken together in rounds, one round carried to where twelve came is a shortcut: how far off
 * it is printed, beside how far the worlds move at all. */
START_TEST(several_from_the_start)
{
	double off = 0, moves = 0, worst = 0, apart = 0;
	size_t n = 0;

	open_brewery(_i);
	marks_are_reached();
	inside_open(&a, &b, b.k);
	ck_assert_int_eq(redrawing_open(&r, &a, &b.diag), AB_OK);
	opened = true;
	for (unsigned long seed = 1; seed <= 25; seed++) {
		gsl_rng *rng = inside_rng(seed, taken_by_rules(seed));
		struct advising again;

		ck_assert_msg(redrawing_draw(&r, rng, &b.diag) == AB_OK, "%s", b.diag.text);
		inside_rng_free(rng);
		inside_open(&again, diagnosed_again(), &r.e.drawn);
		for (size_t i = 0; i < 3; i++, n++) {
			double was = fabs(r.load[i] - again.load[i]) / a.out->load_before;

			off += was;
			worst = fmax(worst, was);
			moves += fabs(again.load[i] - a.load[i]) / a.out->load_before;
		}
		apart = fmax(apart, most_apart(&r.problem, &again.problem));
		inside_close(&again);
	}
	printf("# %s: a load moves by %.3f of all on average; carried it is off by %.4f, at worst %.3f\n",
	    worlds[_i].title, moves / (double)n, off / (double)n, worst);
	ck_assert_double_lt(off, moves / 4);
	ck_assert(worlds[_i].tasted || (worst < 1e-9 && apart < 1e-9));   /* nothing tasted, nothing to carry */
}
END_TEST

/* ---- loads: how far own glasses are believed, and what is reported ---- */

/* load = (batches x rules x reported + seen) / (batches + weight): of the same rules drawn twice, once with all
 * that follows them drawn too and once with that left alone, in the order they are said to come; `weight` and what
 * is seen of it are as reckoned from the start. The steps are those that redrawing.c and estimates.c tell. */
static void loads_of_one(const struct brewery *drawn_again, unsigned long seed)
{
	const double step = 0.5, chance = 0.8;
	gsl_rng *twin = inside_rng(seed, ULONG_MAX), *rng = inside_rng(seed, ULONG_MAX);
	struct advising again;
	double batches, reported;

	ck_assert_int_eq(redrawing_draw(&r, rng, &b.diag), AB_OK);
	ck_assert_int_eq(estimates_draw(&r.e, twin, &b.diag), AB_OK);
	inside_open(&again, (struct brewery *)(uintptr_t)drawn_again, &r.e.drawn);
	batches = 4 * exp(step * gsl_ran_gaussian_ziggurat(twin, 1));
	reported = 1 / (1 + 2 * exp(-chance * gsl_ran_gaussian_ziggurat(twin, 1)));
	for (size_t i = 0; i < b.k->n_causes; i++) {
		double f = exp(step * gsl_ran_gaussian_ziggurat(twin, 1)), weight = again.loads[i].weight,
		    want = (batches * again.loads[i].rules * reported + f * again.loads[i].seen) / (batches + weight);

		ck_assert_msg(fabs(r.load[i] - want) < 1e-7 * fmax(want, 1e-3),
		    "seed %lu, cause %zu: %.12g, not %.12g", seed, i, r.load[i], want);
	}
	ck_assert_uint_eq(inside_rng_given(twin), inside_rng_given(rng));
	inside_close(&again);
	inside_rng_free(twin);
	inside_rng_free(rng);
}

START_TEST(loads_by_their_draws)
{
	open_brewery(_i);
	marks_are_reached();
	inside_open(&a, &b, b.k);
	ck_assert_int_eq(redrawing_open(&r, &a, &b.diag), AB_OK);
	opened = true;
	for (unsigned long seed = 1; seed <= 20; seed++) {
		taken_by_rules(seed);   /* leaves the rules so drawn */
		loads_of_one(diagnosed_again(), seed);
	}
	ck_assert_int_eq(a.loads[C_STALE].seen > 0, worlds[_i].tasted);
}
END_TEST

/* ---- what sets take, by the definition ---- */

static double chance(const struct ab_knowledge *k, size_t cause, const struct ab_fact *facts)
{
	return 1 / (1 + exp(-ab_cause_log_odds(&k->causes[cause], facts, NULL)));
}

/* Settings of known facts, in the order of the set; a change makes nothing worse. */
static void moved_facts(const struct ab_fact *facts, const int *changes, size_t n, unsigned mask, struct ab_fact *after)
{
	memcpy(after, facts, T_FACTS * sizeof *after);
	for (size_t i = 0; i < n; i++)
		for (size_t s = 0; mask >> i & 1 && s < b.k->changes[changes[i]].n_sets; s++) {
			const struct ab_sets *set = &b.k->changes[changes[i]].sets[s];
			struct ab_fact *f = &after[set->slot];

			if (AB_FACT_KNOWN(f))
				f->value = set->mode == AB_SET_AT_MOST ? fmin(f->value, set->value)
								       : fmax(f->value, set->value);
		}
}

/* In the small rules a change is replayed where it sets a known fact of a sign of the cause. */
static bool replays(int change, size_t cause, const struct ab_fact *facts)
{
	for (size_t s = 0; s < b.k->changes[change].n_sets; s++)
		for (size_t j = 0; j < b.k->causes[cause].n_signs; j++)
			if (b.k->causes[cause].signs[j].slot == b.k->changes[change].sets[s].slot &&
			    AB_FACT_KNOWN(&facts[b.k->changes[change].sets[s].slot]))
				return true;
	return false;
}

static double rated(const struct ab_knowledge *k, int change, size_t cause, const struct ab_fact *facts)
{
	double share = 0;

	for (size_t i = 0; i < k->changes[change].n_prevents; i++)
		if ((size_t)k->changes[change].prevents[i].cause == cause &&
		    ab_conds_hold(&k->changes[change].prevents[i].when, facts))
			share = k->changes[change].prevents[i].share;
	return share;
}

static double fell_to(size_t cause, const struct ab_fact *facts, const struct ab_joint *j, unsigned mask)
{
	struct ab_fact after[T_FACTS];

	moved_facts(facts, j->changes, j->n, mask, after);
	return fmin(fmax(1 - chance(&r.e.drawn, cause, after) / chance(&r.e.drawn, cause, facts), 0), 0.95);
}

/* Short of its marks by the mean of its parts, each by what it takes alone. */
static double replayed(size_t cause, const struct ab_fact *facts, const struct ab_joint *j, unsigned mask)
{
	double sum = 0, by = 0, fell;

	for (size_t i = 0; i < j->n; i++)
		if (mask >> i & 1) {
			double alone = fell_to(cause, facts, j, 1U << i);

			sum += alone;
			by += alone * r.e.change[j->changes[i]].reach;
		}
	fell = fell_to(cause, facts, j, mask);
	return sum > 0 && fell > 0 ? 1 / (1 + (1 / fell - 1) * exp(-by / sum)) : fell;
}

static double taken(size_t cause, const struct ab_fact *facts, const struct ab_joint *j, unsigned mask)
{
	double left = 1, fell = 0;
	unsigned again = 0;

	for (size_t i = 0; i < j->n; i++) {
		bool replay = replays(j->changes[i], cause, facts);

		again |= mask >> i & 1 && replay ? 1U << i : 0;
		left *= mask >> i & 1 && !replay ? 1 - rated(&r.e.drawn, j->changes[i], cause, facts) : 1;
	}
	for (unsigned part = again; part > 0; part = (part - 1) & again)   /* a set takes no less than a part of it */
		fell = fmax(fell, replayed(cause, facts, j, part));
	return 1 - left * (1 - fell);
}

/* Before anything was learned: by how likely the cause was in each batch. */
static void expected(const struct advising *of, const struct ab_joint *j, double *share)
{
	double sum = 0;

	memset(share, 0, sizeof *share << j->n);
	for (size_t s = 0; s < of->n_sets; s++) {
		double w = of->weight[s] * (of->n_cases > 0 ? of->present[s][j->cause] : of->recur[j->cause]);

		sum += w;
		for (unsigned mask = 1; mask < 1U << j->n; mask++)
			share[mask] += w * taken((size_t)j->cause, of->facts[s], j, mask);
	}
	for (unsigned mask = 1; mask < 1U << j->n; mask++)
		share[mask] /= sum;
}

static const struct ab_tried *tried(int change, int cause)
{
	for (size_t i = 0; i < a.out->n_tried; i++)
		if (a.out->tried[i].change == change && a.out->tried[i].cause == cause)
			return &a.out->tried[i];
	return NULL;
}

/* What own batches found of it alone, moved by z of its own spread, but no further than two steps of a chance: held
 * to that. */
static double held_to(const struct ab_tried *t, double z, double as_written, double now)
{
	double s = t->share, step = fmin(t->sd / (s * (1 - s)), 1.6), found = 1 / (1 + (1 / s - 1) * exp(-z * step));

	return found / t->prior * as_written / now;
}

/* Of what was learned with a spread so wide that its step in logit is held to the most it may be. */
static void doubt_all(void)
{
	for (size_t i = 0; i < a.out->n_tried; i++) {
		struct ab_tried *t = (struct ab_tried *)(uintptr_t)&a.out->tried[i];

		t->sd = 3 * t->share * (1 - t->share);
	}
}

static size_t learned(const struct ab_joint *j, const double *as_written, const double *z, double *share)
{
	size_t n = 0;

	for (size_t i = 0; i < j->n; i++) {
		const struct ab_tried *t = tried(j->changes[i], j->cause);
		double held;

		if (t == NULL)
			continue;
		held = held_to(t, z[(size_t)j->changes[i] * b.k->n_causes + (size_t)j->cause], as_written[1U << i],
		    share[1U << i]);
		n++;
		for (unsigned mask = 1; mask < 1U << j->n; mask++)
			if (mask >> i & 1)
				share[mask] = fmin(
				    fmax(share[mask & ~(1U << i)] + held * (share[mask] - share[mask & ~(1U << i)]),
					0),
				    1);
	}
	return n;
}

/* A chance of each cause in each batch that is no diagnosis of anything. */
static void believe_anything(struct advising *other, unsigned long long seed)
{
	other->present = ab_arena_alloc(b.arena, b.n, sizeof *other->present);
	other->seen = ab_arena_alloc(b.arena, b.k->n_causes, sizeof *other->seen);
	for (size_t s = 0; s < other->n_sets; s++) {
		double *row = ab_arena_alloc(b.arena, b.k->n_causes, sizeof *row);

		for (size_t i = 0; i < b.k->n_causes; i++) {
			row[i] = b.n > 0 ? 0.05 + 0.9 * plan_case_random(&seed) : a.recur[i];
			other->seen[i] += a.weight[s] * row[i];
		}
		if (b.n > 0)
			other->present[s] = row;
	}
}

static size_t fill_by_definition(const char *title, unsigned long long seed)
{
	static double want[1 << AB_PLAN_JOINT], written[1 << AB_PLAN_JOINT];
	struct advising other = a;
	size_t n = 0;

	believe_anything(&other, seed);
	for (size_t e = 0; e < b.k->n_changes * b.k->n_causes; e++)
		r.z[e] = 4 * plan_case_random(&seed) - 2;
	retables_fill(&r.tables, &other, r.z);
	for (size_t j = 0; j < r.tables.n; j++) {
		const struct ab_joint *joint = &r.tables.joints[j];
		struct estimates drawn = r.e;

		expected(&other, joint, want);
		/* as written: by what was believed when it was learned */
		r.e.drawn = *b.k;
		struct estimates_change *moved = r.e.change, none[AB_PLAN_CHANGES] = { { 0 } };
		r.e.change = none;
		expected(&a, joint, written);
		r.e = drawn;
		r.e.change = moved;
		n += learned(joint, written, r.z, want);
		for (unsigned mask = 0; mask < 1U << joint->n; mask++)
			ck_assert_msg(fabs(joint->share[mask] - want[mask]) < 1e-9,
			    "%s %llu: cause %d, set %x: %.12g, by the definition %.12g", title, seed, joint->cause,
			    mask, joint->share[mask], want[mask]);
	}
	return n;
}

START_TEST(sets_by_their_definition)
{
	gsl_rng *rng = inside_rng(8, ULONG_MAX);
	bool learned_of = false;
	size_t n = 0;

	open_world(_i);
	for (unsigned long long seed = 1; seed <= 15; seed++) {
		ck_assert_int_eq(estimates_draw(&r.e, rng, &b.diag), AB_OK);
		n += fill_by_definition(worlds[_i].title, seed);
	}
	for (size_t i = 0; i < a.out->n_tried; i++)
		learned_of = learned_of || a.state[a.out->tried[i].change] == AB_CHANGE_OPEN;
	ck_assert_msg((n > 0) == learned_of, "%s: what was learned was not looked at", worlds[_i].title);
	ck_assert_msg(learned_of == (worlds[_i].adopted == AB_NO && worlds[_i].noted != NULL), "%s", worlds[_i].title);
	inside_rng_free(rng);
}
END_TEST

/* A world of sure rules: what own batches taught is drawn within its own spread, and nothing else of what sets take
 * moves. */
static void only_learned(int row, bool in_doubt)
{
	static double want[1 << AB_PLAN_JOINT], written[1 << AB_PLAN_JOINT];
	gsl_rng *rng = inside_rng(8, ULONG_MAX);
	size_t n = 0;

	open_brewery(row);
	inside_measured(b.k);
	inside_open(&a, &b, b.k);
	if (in_doubt)
		doubt_all();
	ck_assert_int_eq(redrawing_open(&r, &a, &b.diag), AB_OK);
	opened = true;
	for (int times = 0; times < 10; times++) {
		ck_assert_int_eq(redrawing_draw(&r, rng, &b.diag), AB_OK);
		for (size_t j = 0; j < r.problem.n_joints; j++) {
			const struct ab_joint *joint = &r.problem.joints[j];

			expected(&a, joint, written);
			memcpy(want, written, sizeof want);
			n += learned(joint, written, r.z, want);
			for (unsigned mask = 0; mask < 1U << joint->n; mask++)
				ck_assert_msg(fabs(joint->share[mask] - want[mask]) < 1e-9,
				    "%s: cause %d, set %x: %.12g, not %.12g", worlds[row].title, joint->cause, mask,
				    joint->share[mask], want[mask]);
		}
	}
	ck_assert_uint_gt(n, 0);
	inside_rng_free(rng);
}

START_TEST(only_what_was_learned)
{
	only_learned(_i, false);
}
END_TEST

/* However little own batches tell of a change, no world moves its share by more than two steps of a chance at one
 * error. */
START_TEST(learned_in_doubt)
{
	only_learned(_i, true);
}
END_TEST

/* ---- one round ---- */

/* What each world is held against is what one round of messages makes of the rules as written, not where all rounds
 * end: with more than one, redraws would take as many times as long. */
START_TEST(one_round_as_written)
{
	struct ab_together_of of;
	struct ab_together once, settled;
	double apart = 0;

	open_world(_i);
	of = a.light;
	ck_assert_uint_eq(of.n_batches, a.n_cases - r.from);
	ck_assert_int_eq(ab_together_solve(&of, b.arena, &settled, &b.diag), AB_OK);
	of.rounds = 1;
	of.settled = 0;
	ck_assert_int_eq(ab_together_solve(&of, b.arena, &once, &b.diag), AB_OK);
	ck_assert_int_gt(settled.rounds, 1);
	for (size_t i = 0; i < of.n_batches * b.k->n_causes; i++) {
		double p = once.present[i];

		ck_assert(isnan(r.first.present[i]) ? p <= 0 || p >= 1
						    : fabs(r.first.present[i] - log(p / (1 - p))) < 1e-9);
		apart = fmax(apart, fabs(p - settled.present[i]));
	}
	ck_assert_double_gt(apart, 1e-3);   /* or one round were as good as all */
}
END_TEST

/* ---- memory ---- */

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	gsl_rng *rng = inside_rng(1, ULONG_MAX);
	long at = 0;

	open_brewery(4);
	inside_open(&a, &b, b.k);
	for (; st != AB_OK && at < 2000; at++) {
		struct advising fresh = a;
		struct redrawing again;

		fresh.arena = ab_arena_new();
		ab_diag_init(&b.diag);
		ab_alloc_fail_at(at);
		st = redrawing_open(&again, &fresh, &b.diag);
		if (st == AB_OK)
			st = redrawing_draw(&again, rng, &b.diag);
		ab_alloc_fail_at(-1);
		redrawing_close(&again);
		ab_arena_free(fresh.arena);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && b.diag.text[0] != '\0'),
		    "allocation %ld: status %d", at, (int)st);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 8);
	inside_rng_free(rng);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("redrawing");
	TCase *tc = tcase_create("redrawing");
	int all = (int)(sizeof worlds / sizeof *worlds);

	tcase_set_timeout(tc, 120);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, inside_is_advice, 0, all);
	tcase_add_loop_test(tc, nothing_moved, 0, all);
	tcase_add_loop_test(tc, from_the_start, 0, 3);
	tcase_add_loop_test(tc, several_from_the_start, 3, all);
	tcase_add_loop_test(tc, loads_by_their_draws, 0, 3);
	tcase_add_loop_test(tc, sets_by_their_definition, 0, all);
	tcase_add_loop_test(tc, only_what_was_learned, 4, 5);
	tcase_add_loop_test(tc, only_what_was_learned, 7, 8);
	tcase_add_loop_test(tc, learned_in_doubt, 4, 5);
	tcase_add_loop_test(tc, learned_in_doubt, 7, 8);
	tcase_add_loop_test(tc, one_round_as_written, 3, 6);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
