/* check_replay.c - what a change would have done to a batch: only known facts move, and the figure says what it
 * rests on
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "advicecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

/* ---- one batch ---- */

#define SETS(fact, how) "<sets fact='" fact "' " how " source='estimate'/>"
#define UNKNOWN (-99)
static const struct {
	const char *title, *sets;
	double over, share;      /* before; UNKNOWN */
	size_t moved;
	double over_after, share_after;
	double warm, stale;      /* by hand: odds 3/7 x ratio, 1/4 x ratio */
} moves[] = {
	{ "down to the most", SETS("t.over", "at-most='0 K'"), 4, UNKNOWN, 1, 0, UNKNOWN, 3.0 / 17, 0.2 },
	{ "already below the most", SETS("t.over", "at-most='2 K'"), 0, UNKNOWN, 0, 0, UNKNOWN, 3.0 / 17, 0.2 },
	{ "just at it", SETS("t.over", "at-most='4 K'"), 4, UNKNOWN, 0, 4, UNKNOWN, 24.0 / 31, 0.2 },
	{ "up to the least", SETS("t.share", "at-least='1'"), UNKNOWN, 0, 1, UNKNOWN, 1, 0.3, 1.0 / 17 },
	{ "already above the least", SETS("t.share", "at-least='0.5'"), UNKNOWN, 1, 0, UNKNOWN, 1, 0.3, 1.0 / 17 },
	{ "set, downwards", SETS("t.over", "to='0 K'"), 4, UNKNOWN, 1, 0, UNKNOWN, 3.0 / 17, 0.2 },
	{ "set, upwards", SETS("t.over", "to='4 K'"), 0, UNKNOWN, 1, 4, UNKNOWN, 24.0 / 31, 0.2 },
	{ "an unknown fact stays unknown", SETS("t.over", "at-most='0 K'"), UNKNOWN, 0, 0, UNKNOWN, 0, 0.3, 0.5 },
	{ "two facts", SETS("t.over", "at-most='0 K'") SETS("t.share", "to='1'"), 4, 0, 2, 0, 1, 3.0 / 17, 1.0 / 17 },
	{ "one of two is known", SETS("t.over", "at-most='0 K'") SETS("t.share", "to='1'"), UNKNOWN, 0, 1, UNKNOWN,
	    1, 0.3, 1.0 / 17 },
};

static struct ab_fact fact_of(double v)
{
	return v == UNKNOWN ? (struct ab_fact){ 0 } : tiny_fact(v);
}

static void same_fact(const struct ab_fact *f, double want, const char *title)
{
	ck_assert_msg(AB_FACT_KNOWN(f) == (want != UNKNOWN), "%s: known", title);
	ck_assert_msg(!AB_FACT_KNOWN(f) || f->value == want, "%s: %g, not %g", title, f->value, want);
}

START_TEST(one_batch)
{
	char change[512];
	const int first = 0;
	double p[C_CAUSES];
	struct ab_fact scratch[T_FACTS];

	snprintf(change, sizeof change, HABIT("x", "%s" PREVENTS("warm", "0.1")), moves[_i].sets);
	brewery_open(&b, change);
	struct ab_case *c = brewery_batch(&b);
	c->facts[T_OVER] = fact_of(moves[_i].over);
	c->facts[T_SHARE] = fact_of(moves[_i].share);
	ck_assert_msg(ab_replay(b.k, c->facts, &first, 1, scratch, p) == moves[_i].moved, "%s", moves[_i].title);
	same_fact(&scratch[T_OVER], moves[_i].over_after, moves[_i].title);
	same_fact(&scratch[T_SHARE], moves[_i].share_after, moves[_i].title);
	same_fact(&c->facts[T_OVER], moves[_i].over, moves[_i].title);   /* the batch itself is left alone */
	ck_assert_msg(fabs(p[C_WARM] - moves[_i].warm) < 1e-12, "%s: warm %g", moves[_i].title, p[C_WARM]);
	ck_assert_msg(fabs(p[C_STALE] - moves[_i].stale) < 1e-12, "%s: stale %g", moves[_i].title, p[C_STALE]);
}
END_TEST

START_TEST(a_guess_becomes_sure)
{
	const int first = 0;
	double p[C_CAUSES];
	struct ab_fact scratch[T_FACTS];

	brewery_open(&b, HABIT("x", COOLS PREVENTS("warm", "0.1")));
	struct ab_case *c = brewery_batch(&b);
	c->facts[T_OVER] = tiny_fact(4);
	c->facts[T_OVER].guess = true;
	ck_assert_uint_eq(ab_replay(b.k, c->facts, &first, 1, scratch, p), 1);
	ck_assert_double_eq_tol(p[C_WARM], 3.0 / 17, 1e-12);   /* not with the guess's half power */
	ck_assert_uint_eq(ab_replay(b.k, c->facts, &first, 1, scratch, NULL), 1); /* the chances are not always
										     wanted */
	c->facts[T_OVER].u = 3;
	ab_replay(b.k, c->facts, &first, 1, scratch, NULL);
	ck_assert_double_eq(scratch[T_OVER].u, 1);   /* as wide as if it had been read */
}
END_TEST

START_TEST(several_changes_and_none)
{
	static const int both[] = { 0, 1 };
	double p[C_CAUSES];
	struct ab_fact scratch[T_FACTS];

	brewery_open(&b, HABIT("x", COOLS PREVENTS("warm", "0.1")) HABIT("y", FRESHENS PREVENTS("stale", "0.1")));
	brewery_bad_batches(&b, 1);
	ck_assert_uint_eq(ab_replay(b.k, b.cases[0]->facts, both, 0, scratch, p), 0);
	ck_assert_double_eq_tol(p[C_WARM], 24.0 / 31, 1e-12);
	ck_assert_uint_eq(ab_replay(b.k, b.cases[0]->facts, both, 2, scratch, p), 2);
	ck_assert_double_eq_tol(p[C_WARM], 3.0 / 17, 1e-12);
	ck_assert_double_eq_tol(p[C_STALE], 1.0 / 17, 1e-12);
}
END_TEST

/* ---- the share of a whole history, and its basis ---- */

/* Replay takes 1 - (3/17)/(24/31) of warm away. */
#define REPLAYED (1 - 3.0 / 17 / (24.0 / 31))
static const struct {
	const char *title, *changes;
	double over[2];         /* of two batches, older first */
	enum ab_basis basis;
	double share;           /* of warm */
} bases[] = {
	{ "facts known: replay, whatever the rating", HABIT("x", COOLS PREVENTS("warm", "0.1")), { 4, 4 },
	    AB_BASIS_REPLAY, REPLAYED },
	{ "facts unknown: the rating", HABIT("x", COOLS PREVENTS("warm", "0.1")), { UNKNOWN, UNKNOWN },
	    AB_BASIS_RATED, 0.1 },
	{ "sets nothing: the rating", HABIT("x", PREVENTS("warm", "0.4")), { 4, 4 }, AB_BASIS_RATED, 0.4 },
	{ "sets what this cause does not look at: the rating", HABIT("x", FRESHENS PREVENTS("warm", "0.4")),
	    { 4, 4 }, AB_BASIS_RATED, 0.4 },
	{ "some of each", HABIT("x", COOLS PREVENTS("warm", "0.1")), { UNKNOWN, 4 }, AB_BASIS_MIXED,
	  /* weights 0.85 x 0.3 and 1 x 24/31 */
	  (0.85 * 0.3 * 0.1 + 24.0 / 31 * REPLAYED) / (0.85 * 0.3 + 24.0 / 31) },
	{ "already done: replay says nothing is gained", HABIT("x", COOLS PREVENTS("warm", "0.9")), { 0, 0 },
	    AB_BASIS_REPLAY, 0 },
	{ "it would make things worse: never below nothing",
	    HABIT("x", SETS("t.over", "to='4 K'") PREVENTS("warm", "0.9")), { 0, 0 },
	  AB_BASIS_REPLAY, 0 },
	{ "no rating needed where facts speak", HABIT("x", COOLS PREVENTS("husky", "0")), { 4, 4 }, AB_BASIS_REPLAY,
	    REPLAYED },
};

START_TEST(whose_figure)
{
	brewery_open(&b, bases[_i].changes);
	for (size_t i = 0; i < 2; i++)
		brewery_batch(&b)->facts[T_OVER] = fact_of(bases[_i].over[i]);
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_item *item = brewery_item(&b, advice, "x");
	double load = 0;
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == C_WARM)
			load = advice->recurrences[i].load;
	ck_assert_msg(item->basis == bases[_i].basis, "%s: basis %d", bases[_i].title, (int)item->basis);
	ck_assert_msg(fabs(item->gain - load * bases[_i].share) < 1e-12, "%s: %.12g, not %.12g of the load",
	    bases[_i].title, item->gain / load, bases[_i].share);
}
END_TEST

/* A replay never promises more than 0.95: the rules would give 1 - (1/17)/(24/31) x ... here a gate makes the cause
 * impossible. */
START_TEST(ceiling)
{
	brewery_open(&b,
	    "<cause id='lit' side='cold' stage='store'><title>Lit</title><why>so</why>"
	    "<prior p='0.5' source='estimate'/>"
	    "<gate says='no'><when fact='t.sealed' is='yes'/></gate>"
	    "<gives fault='butter' noticeable='0.9' strong='0.5' source='estimate'/></cause>" HABIT(
		"seal", SETS("t.sealed", "to='yes'") PREVENTS("lit", "0.2")));
	brewery_batch(&b)->facts[T_SEALED] = tiny_fact(0);
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	int lit = ab_cause_find(b.k, "lit");
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == lit)
			ck_assert_double_eq_tol(
			    brewery_item(&b, advice, "seal")->gain, 0.95 * advice->recurrences[i].load, 1e-12);
}
END_TEST

/* Of conditional ratings the last whose conditions hold. */
START_TEST(conditional_rating)
{
	brewery_open(&b, HABIT("x", PREVENTS("husky", "0.2")
	    "<prevents cause='husky' share='0.7' source='estimate'><when fact='t.odd' is='yes'/></prevents>"));
	brewery_batch(&b);
	brewery_batch(&b)->facts[T_ODD] = tiny_fact(1);
	brewery_ready(&b);
	const struct ab_advice *advice = brewery_advise(&b);
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == C_HUSKY)
			ck_assert_double_eq_tol(brewery_item(&b, advice, "x")->gain,
			    advice->recurrences[i].load * (0.85 * 0.2 + 0.7) / 1.85, 1e-12);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("replay");
	TCase *tc = tcase_create("replay");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, one_batch, 0, sizeof moves / sizeof *moves);
	tcase_add_test(tc, a_guess_becomes_sure);
	tcase_add_test(tc, several_changes_and_none);
	tcase_add_loop_test(tc, whose_figure, 0, sizeof bases / sizeof *bases);
	tcase_add_test(tc, ceiling);
	tcase_add_test(tc, conditional_rating);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
