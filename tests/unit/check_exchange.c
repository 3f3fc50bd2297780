/* check_exchange.c - a set made better by going without one of it: worked by hand, and against enumeration of every
 * set
 *
 * What is allowed, what a set removes and what is too small are written here and in plan_cases.c from their
 * definitions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "advice/stepping.h"
#include "plan_cases.h"

static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	ab_diag_init(&diag);
	arena = ab_arena_new();
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

/* All a step works on, on a problem and a share that each must add. */
struct table {
	struct stepping s;
	struct ab_policy policy;
	struct ab_policy_case c;
	struct ab_policy_plan out;
	unsigned char bought[AB_PLAN_CHANGES], set[AB_PLAN_CHANGES], trial[AB_PLAN_CHANGES];
	enum ab_change_state state[AB_PLAN_CHANGES];
};

static void lay(struct table *t, const struct ab_problem *p, double beside)
{
	memset(t, 0, sizeof *t);
	t->policy = (struct ab_policy){ .beside = beside, .paying = 0.03, .spared = 1 };
	t->c = (struct ab_policy_case){ .problem = p, .bought = t->bought };
	t->s = (struct stepping){ .c = &t->c,
		.policy = &t->policy,
		.arena = arena,
		.out = &t->out,
		.diag = &diag,
		.problem = *p,
		.state = t->state,
		.set = t->set,
		.trial = t->trial };
	memcpy(t->state, p->state, p->n_changes * sizeof *t->state);
	t->s.problem.state = t->state;
	for (size_t i = 0; i < p->n_causes; i++)   /* what is owned is no part of what is left to take */
		t->out.before += p->load[i];
	for (size_t u = 0; u < p->n_changes; u++)
		t->bought[u] = p->cost[u * p->n_budgets] > 0;
}

/* ---- by hand ---- */

enum { ROW_CHANGES = 5 };

/* Each takes away its own cause; what is left over makes 1 of all. Sets as bits. */
static const struct {
	const char *title;
	double gain[ROW_CHANGES], cost[ROW_CHANGES];
	int group[ROW_CHANGES];
	enum ab_change_state state[ROW_CHANGES];
	struct ab_need needs;          /* the same twice: none */
	unsigned from, to;
} rows[] = {
	{ "two for one", { 0.40, 0.30, 0.25 }, { 100, 50, 50 }, { -1, -1, -1, -1, -1 }, { 0 }, { 0, 0 }, 1, 6 },
	{ "nothing better: it stays", { 0.60, 0.30, 0.25 }, { 100, 50, 50 }, { -1, -1, -1, -1, -1 }, { 0 },
	    { 0, 0 }, 1, 1 },
	{ "just as good is not better", { 0.55, 0.30, 0.25 }, { 100, 50, 50 }, { -1, -1, -1, -1, -1 }, { 0 },
	    { 0, 0 }, 1, 1 },
	{ "two that exclude each other are not both taken", { 0.40, 0.30, 0.25 }, { 100, 50, 50 },
	    { -1, 2, 2, -1, -1 }, { 0 }, { 0, 0 }, 1, 1 },
	{ "one owned keeps its group out", { 0.40, 0.50, 0.01 }, { 100, 50, 50 }, { -1, 2, 2, -1, -1 },
	    { 0, 0, AB_CHANGE_OWNED }, { 0, 0 }, 1, 1 },
	{ "the dearer of two that fits", { 0.40, 0.45, 0.30 }, { 100, 70, 60 }, { -1, -1, -1, -1, -1 }, { 0 },
	    { 0, 0 }, 1, 2 },
	{ "what does not fit is not taken", { 0.40, 0.90 }, { 100, 101 }, { -1, -1, -1, -1, -1 }, { 0 }, { 0, 0 },
	    1, 1 },
	{ "with what it needs", { 0.40, 0.45, 0 }, { 100, 90, 10 }, { -1, -1, -1, -1, -1 }, { 0 }, { 1, 2 }, 1, 6 },
	{ "what it needs does not fit", { 0.40, 0.45, 0 }, { 100, 91, 10 }, { -1, -1, -1, -1, -1 }, { 0 }, { 1, 2 },
	    1, 1 },
	{ "what it needs is owned", { 0.40, 0.45, 0 }, { 100, 91, 10 }, { -1, -1, -1, -1, -1 },
	    { 0, 0, AB_CHANGE_OWNED }, { 1, 2 }, 1, 2 },
	{ "what it needs is ruled out", { 0.40, 0.45, 0 }, { 100, 90, 10 }, { -1, -1, -1, -1, -1 },
	    { 0, 0, AB_CHANGE_OUT }, { 1, 2 }, 1, 1 },
	{ "what is ruled out is not taken", { 0.40, 0.45, 0 }, { 100, 90, 10 }, { -1, -1, -1, -1, -1 },
	    { 0, AB_CHANGE_OUT }, { 0, 0 }, 1, 1 },
	{ "what adds too little is not taken along", { 0.40, 0.41, 0.005 }, { 100, 90, 10 }, { -1, -1, -1, -1, -1 },
	    { 0 }, { 0, 0 }, 1, 2 },
	{ "with it goes what needs it", { 0.20, 0.30, 0.29, 0.25 }, { 50, 50, 50, 50 }, { -1, -1, -1, -1, -1 },
	    { 0 }, { 1, 0 }, 3, 12 },
	{ "the room of both is not enough", { 0.30, 0.20, 0.29, 0.15 }, { 50, 50, 50, 50 }, { -1, -1, -1, -1, -1 },
	    { 0 }, { 1, 0 }, 3, 5 },
	{ "one after the other, as long as it gets better", { 0.10, 0.11, 0.20, 0.21 }, { 50, 50, 50, 50 },
	    { -1, -1, -1, -1, -1 }, { 0 }, { 0, 0 },
	    3, 12 },
};

static void make_row(struct plan_case *c, int row)
{
	struct ab_problem *p = &c->problem;
	double rest = 1;

	memset(c, 0, sizeof *c);
	*p = (struct ab_problem){ .n_causes = ROW_CHANGES + 1,
		.n_changes = ROW_CHANGES,
		.n_effects = ROW_CHANGES,
		.n_budgets = 1,
		.n_needs = rows[row].needs.change != rows[row].needs.needs,
		.load = c->load,
		.effects = c->effects,
		.needs = c->needs,
		.group = c->group,
		.state = c->state,
		.cost = c->cost,
		.budget = { 100 } };
	for (int u = 0; u < ROW_CHANGES; u++) {
		c->load[u] = rows[row].gain[u];
		rest -= c->load[u];
		c->effects[u] = (struct ab_effect){ .cause = u, .change = u, .share = 1 };
		c->cost[u] = rows[row].cost[u];
		c->group[u] = rows[row].group[u];
		c->state[u] = rows[row].gain[u] > 0 || rows[row].cost[u] > 0 ? rows[row].state[u] : AB_CHANGE_OUT;
	}
	c->needs[0] = rows[row].needs;
	c->load[ROW_CHANGES] = fmax(rest, 0);
}

START_TEST(by_hand)
{
	static struct plan_case c;
	static struct table t;
	unsigned char chosen[ROW_CHANGES];
	unsigned got = 0;
	double removed = 0;

	make_row(&c, _i);
	lay(&t, &c.problem, 0.01);
	for (int u = 0; u < ROW_CHANGES; u++) {
		chosen[u] = rows[_i].from >> u & 1;
		removed += chosen[u] ? rows[_i].gain[u] : 0;
	}
	stepping_exchange(&t.s, chosen, &removed);
	for (int u = 0; u < ROW_CHANGES; u++) {
		got |= (unsigned)chosen[u] << u;
		removed -= chosen[u] ? rows[_i].gain[u] : 0;
	}
	ck_assert_msg(got == rows[_i].to, "%s: %x, not %x", rows[_i].title, got, rows[_i].to);
	ck_assert_msg(fabs(removed) < 1e-12, "%s: what it removes is off by %g", rows[_i].title, removed);
}
END_TEST

/* ---- against enumeration ---- */

/* Another needs it, or the rest lives on what it gives back: then it has its place. Else it must add its share. */
static bool too_small(const struct table *t, unsigned char *set, size_t u)
{
	const struct ab_problem *p = &t->s.problem;
	double whole = plan_case_value(p, set), rest, of = t->out.before;
	bool fits;

	if (t->bought[u])
		of = fmax(of, t->policy.spared * t->c.flaw / t->policy.paying);
	set[u] = 0;
	rest = plan_case_value(p, set);
	fits = plan_case_allows(p, set);   /* without it a need is open, or a budget that it filled is overdrawn */
	set[u] = 1;
	return fits && whole - rest < t->policy.beside * of;
}

static bool good(const struct table *t, unsigned char *set)
{
	if (!plan_case_allows(&t->s.problem, set))
		return false;
	for (size_t u = 0; u < t->s.problem.n_changes; u++)
		if (set[u] && too_small(t, set, u))
			return false;
	return true;
}

static double best_of_all(const struct table *t)
{
	size_t n = t->s.problem.n_changes;
	unsigned char set[AB_PLAN_CHANGES];
	double best = 0;

	for (unsigned long mask = 0; mask < 1UL << n; mask++) {
		for (size_t u = 0; u < n; u++)
			set[u] = mask >> u & 1;
		if (good(t, set))
			best = fmax(best, plan_case_value(&t->s.problem, set));
	}
	return best;
}

/* As the policy comes to its start: the best set without the smallest, again and again. */
static double best_without_small(struct table *t, unsigned char *chosen)
{
	struct ab_choice choice = { .chosen = chosen };
	int worst = -1;

	do {
		if (worst >= 0)
			t->state[worst] = AB_CHANGE_OUT;
		ck_assert_msg(ab_plan_solve(&t->s.problem, &choice, &diag) == AB_OK, "%s", diag.text);
		worst = stepping_smallest(&t->s, chosen);
	} while (worst >= 0);
	memcpy(t->state, t->c.problem->state, t->s.problem.n_changes * sizeof *t->state);
	return choice.removed;
}

static const struct { const char *title; struct plan_shape shape; double beside, flaw; } sorts[] = {
	{ "one budget",        { .changes = 9, .causes = 6, .touches = 3, .budgets = 1, .tight = 0.4 }, 0.08, 0 },
	{ "needs and groups",
	    { .changes = 9, .causes = 6, .touches = 3, .budgets = 2, .tight = 0.5, .needs = true, .groups = true },
	0.06, 0 },
	{ "shared needs, owned",
	    { .changes = 9, .causes = 6, .touches = 2, .budgets = 2, .tight = 0.5, .shared_needs = true,
	    .owned = true }, 0.05, 0 },
	{ "tables",
	    { .changes = 9, .causes = 6, .touches = 3, .budgets = 2, .tight = 0.5, .tables = true }, 0.06, 0 },
	{ "savings",
	    { .changes = 9, .causes = 6, .touches = 3, .budgets = 2, .tight = 0.3, .savings = true }, 0.06, 0 },
	{ "cost close to benefit",
	    { .changes = 10, .causes = 8, .touches = 3, .budgets = 1, .tight = 0.6, .proportional = true,
	    .groups = true }, 0.07, 0 },
	{ "purchases asked more of",
	    { .changes = 9, .causes = 6, .touches = 3, .budgets = 2, .tight = 0.5, .groups = true }, 0.03, 0.2 },
};

struct found { int bettered, best, before, n; double worst, lost; };

/* Nothing needs itself. */
static void make_problem(struct plan_case *c, const struct plan_shape *shape, unsigned long long seed)
{
	size_t n = 0;

	plan_case_make(c, shape, seed);
	for (size_t i = 0; i < c->problem.n_needs; i++)
		if (c->needs[i].change != c->needs[i].needs)
			c->needs[n++] = c->needs[i];
	c->problem.n_needs = n;
}

/* One problem: never worse, within every limit, nothing too small, no more than the best of all; once more changes
 * nothing. */
static void exchange(struct table *t, const char *title, unsigned long long seed, struct found *f)
{
	unsigned char chosen[AB_PLAN_CHANGES], again[AB_PLAN_CHANGES];
	double start = best_without_small(t, chosen), removed = start, twice, best = best_of_all(t), loss;

	ck_assert_msg(good(t, chosen), "%s %llu: the start", title, seed);
	stepping_exchange(&t->s, chosen, &removed);
	ck_assert_msg(removed >= start, "%s %llu: worse", title, seed);
	ck_assert_msg(good(t, chosen), "%s %llu: not allowed, or something in it is too small", title, seed);
	ck_assert_msg(fabs(removed - plan_case_value(&t->s.problem, chosen)) < 1e-9, "%s %llu: said %g", title,
	    seed, removed);
	ck_assert_msg(removed <= best + 1e-9, "%s %llu: more than there is", title, seed);
	memcpy(again, chosen, sizeof again);
	twice = removed;
	stepping_exchange(&t->s, again, &twice);
	ck_assert_msg(
	    memcmp(again, chosen, t->s.problem.n_changes) == 0, "%s %llu: it had not come to rest", title, seed);
	loss = (best - removed) / t->out.before;
	f->n++;
	f->bettered += removed > start + 1e-9;
	f->before += start >= best - 1e-9;
	f->best += loss <= 1e-9;
	f->lost += loss;
	f->worst = fmax(f->worst, loss);
}

enum { PROBLEMS = 60 };

/* No search by single exchanges is sure of the best; how often it comes there is printed, and more often than its
 * start. */
START_TEST(against_enumeration)
{
	static struct plan_case c;
	static struct table t;
	struct found f = { 0 };

	for (unsigned long long seed = 1; seed <= PROBLEMS; seed++) {
		make_problem(&c, &sorts[_i].shape, seed);
		lay(&t, &c.problem, sorts[_i].beside);
		t.c.flaw = sorts[_i].flaw * t.out.before;
		exchange(&t, sorts[_i].title, seed, &f);
	}
	printf(
	    "# %s: of %d the best in %d, before the exchange in %d; %d bettered; short by %.4f of the load on "
	    "average, %.3f at worst\n",
	    sorts[_i].title, f.n, f.best, f.before, f.bettered, f.lost / f.n, f.worst);
	ck_assert_int_gt(f.bettered, 0);
	ck_assert_int_gt(f.best, f.before);
}
END_TEST

/* From any good set, not only from where the policy comes. */
START_TEST(from_anywhere)
{
	static struct plan_case c;
	static struct table t;
	unsigned char chosen[AB_PLAN_CHANGES];
	int bettered = 0, tried = 0;

	for (unsigned long long seed = 100; seed < 130; seed++) {
		make_problem(&c, &sorts[_i].shape, seed);
		lay(&t, &c.problem, sorts[_i].beside);
		for (unsigned long mask = 1; mask < 1UL << c.problem.n_changes; mask++) {
			double start, removed;

			for (size_t u = 0; u < c.problem.n_changes; u++)
				chosen[u] = mask >> u & 1;
			if (!good(&t, chosen))
				continue;
			start = removed = plan_case_value(&t.s.problem, chosen);
			stepping_exchange(&t.s, chosen, &removed);
			ck_assert_msg(
			    removed >= start && good(&t, chosen), "%s %llu from %lx", sorts[_i].title, seed, mask);
			ck_assert_double_eq_tol(removed, plan_case_value(&t.s.problem, chosen), 1e-9);
			tried++;
			bettered += removed > start + 1e-9;
		}
	}
	ck_assert_int_gt(tried, 100);
	ck_assert_int_gt(bettered, tried / 4);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("exchange");
	TCase *tc = tcase_create("exchange");

	tcase_set_timeout(tc, 120);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, by_hand, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_loop_test(tc, against_enumeration, 0, (int)(sizeof sorts / sizeof *sorts));
	tcase_add_loop_test(tc, from_anywhere, 0, (int)(sizeof sorts / sizeof *sorts));
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
