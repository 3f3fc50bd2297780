/* check_attribution.c - what each cause costs: dealt out by blame, mixed with the rules, against hand computation
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include "advicecase.h"

/* of the tiny rules: warm makes butter (fault 0) noticeable with 0.5; butter's leak is 0.02 */
#define STRENGTH 0.5
#define LEAK 0.02
#define BUTTER 0
/* attribution.c: the rules' figure counts as four batches, at a third */
#define RULES(p) ((p) * 2.4 / 3)

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

static double load_of(const struct ab_advice *advice, int cause)
{
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == cause)
			return advice->recurrences[i].load;
	ck_abort_msg("no recurrence of cause %d", cause);
	return NAN;
}

static double p_of(const struct ab_advice *advice, int cause)
{
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == cause)
			return advice->recurrences[i].p;
	return NAN;
}

/* A tasted batch in which butter of this load was found, with blame on warm and on young. */
static struct ab_case *buttery(double load, double warm, double young)
{
	struct ab_case *c = brewery_batch(&b);

	ab_alone(b.k, c->facts, c->diagnosis->present);
	c->diagnosis->blame = ab_arena_alloc(b.arena, b.k->n_causes, sizeof *c->diagnosis->blame);
	c->diagnosis->blame[C_WARM] = warm;
	c->diagnosis->blame[C_YOUNG] = young;
	c->fault_load = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *c->fault_load);
	c->fault_load[BUTTER] = load;
	c->load = load;
	c->tasted = true;
	return c;
}

START_TEST(one_cause_and_the_leak)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	buttery(6, 1, 0);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq_tol(load_of(advice, C_WARM),
	    (4 * RULES(p_of(advice, C_WARM)) + 6 * STRENGTH / (STRENGTH + LEAK)) / 5, 1e-12);
	/* a cause without blame keeps only what the rules expect, thinned by a batch in which it did nothing */
	ck_assert_double_eq_tol(load_of(advice, C_HUSKY), 4 * p_of(advice, C_HUSKY) * 1.2 / 3 / 5, 1e-12);
	ck_assert_double_eq(load_of(advice, C_YOUNG), 0);
}
END_TEST

/* What is laid at a benign explanation's door is nobody's fault. */
START_TEST(benign_takes_its_part)
{
	double none, half;

	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	buttery(6, 0.5, 0);
	none = load_of(brewery_advise(&b), C_WARM);
	b.cases[0]->diagnosis->blame[C_YOUNG] = 0.5;
	half = load_of(brewery_advise(&b), C_WARM);
	ck_assert_double_lt(half, none);
	ck_assert_double_gt(half, 0);
}
END_TEST

START_TEST(the_newest_batch_weighs_most)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	buttery(6, 1, 0);
	buttery(0, 0, 0);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq_tol(load_of(advice, C_WARM),
	    (4 * RULES(p_of(advice, C_WARM)) + 0.85 * 6 * STRENGTH / (STRENGTH + LEAK)) / (4 + 1.85), 1e-12);
}
END_TEST

START_TEST(untasted_batches_tell_nothing)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	buttery(6, 1, 0)->tasted = false;
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq_tol(load_of(advice, C_WARM), RULES(p_of(advice, C_WARM)), 1e-12);
}
END_TEST

/* Batches from before a change that was made against the cause are not held against it. */
START_TEST(a_change_starts_anew)
{
	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.5")));
	buttery(6, 1, 0);
	brewery_note(&b, buttery(0, 0, 0), "x", AB_YES);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_double_eq_tol(load_of(advice, C_WARM), 4 * RULES(p_of(advice, C_WARM)) / 5, 1e-12);
}
END_TEST

/* An owned change in use lowers what the rules expect where no fact of the brewer tells; an unused one does not. */
START_TEST(owned_changes_count)
{
	struct ab_owns *owns;
	double used;

	brewery_open(&b, HABIT("x", PREVENTS("warm", "0.5")));
	buttery(0, 0, 0);
	owns = brewery_push(&b, &b.profile->owns, sizeof *owns);
	owns->change = "x";
	used = load_of(brewery_advise(&b), C_WARM);
	owns->unused = AB_YES;
	ck_assert_double_eq_tol(used, load_of(brewery_advise(&b), C_WARM) / 2, 1e-12);
}
END_TEST

/* Nothing is dealt out twice: what all causes get of a batch is at most what was found in it. */
START_TEST(never_more_than_was_found)
{
	double sum = 0;

	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.5")));
	struct ab_case *c = buttery(6, 0.7, 0.2);
	c->diagnosis->blame[C_STALE] = 0.6;
	c->diagnosis->blame[C_HUSKY] = 0.4;
	const struct ab_advice *with = brewery_advise(&b);
	for (int i = 0; i < C_CAUSES; i++)
		sum += load_of(with, i);
	c->fault_load[BUTTER] = 0;
	const struct ab_advice *without = brewery_advise(&b);
	for (int i = 0; i < C_CAUSES; i++)
		sum -= load_of(without, i);
	ck_assert_double_gt(sum, 0);
	ck_assert_double_lt(sum * 5, 6);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("attribution");
	TCase *tc = tcase_create("attribution");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_test(tc, one_cause_and_the_leak);
	tcase_add_test(tc, benign_takes_its_part);
	tcase_add_test(tc, the_newest_batch_weighs_most);
	tcase_add_test(tc, untasted_batches_tell_nothing);
	tcase_add_test(tc, a_change_starts_anew);
	tcase_add_test(tc, owned_changes_count);
	tcase_add_test(tc, never_more_than_was_found);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
