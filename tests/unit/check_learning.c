/* check_learning.c - what came of changes that were made, and what advice makes of it: against the sums of held.h
 * on batches set up by hand (tests/handbook/urn.t holds those sums against R), and by what must be so whatever the
 * numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/held.h>
#include "advicecase.h"
#include "base/alloc.h"

static struct brewery b;

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	brewery_close(&b);
}

static void batch_with(double present_warm)
{
	struct ab_case *c = brewery_batch(&b);

	ab_alone(b.k, c->facts, c->diagnosis->present);
	c->diagnosis->present[C_WARM] = present_warm;
}

static const struct ab_tried *of(const struct ab_advice *advice, const char *change, int cause)
{
	for (size_t i = 0; i < advice->n_tried; i++)
		if (strcmp(b.k->changes[advice->tried[i].change].id, change) == 0 && advice->tried[i].cause == cause)
			return &advice->tried[i];
	ck_abort_msg("nothing of %s against %d", change, cause);
	return NULL;
}

#define X HABIT("x", PREVENTS("warm", "0.6"))
#define Y HABIT("y", PREVENTS("warm", "0.5"))

/* ---- one change ---- */

/* tells: the chance that what the batch tells still holds, written out. */
static const struct {
	const char *title;
	size_t n;
	int adopted;                             /* of the notes; AB_NO: a trial of each batch that is `with` */
	struct { double present, tells; bool with; } batches[6];
	enum ab_proved proved;
} ones[] = {
	{ "it came as before: did not hold", 6, AB_YES,
	    { { 0.99, 0.7225, false }, { 0.99, 0.85, false }, { 0.99, 1, false }, { 0.99, 0.7225, true },
	  { 0.99, 0.85, true }, { 0.99, 1, true } }, AB_PROVED_FAILED },
	{ "it came once of three: less", 6, AB_YES,
	    { { 0.99, 0.7225, false }, { 0.99, 0.85, false }, { 0.99, 1, false }, { 0.99, 0.7225, true },
	  { 0.99, 0.85, true }, { 0.4, 1, true } }, AB_PROVED_LESS },
	{ "it stayed away", 6, AB_YES,
	    { { 0.99, 0.7225, false }, { 0.99, 0.85, false }, { 0.99, 1, false }, { 0.01, 0.7225, true },
	  { 0.01, 0.85, true }, { 0.01, 1, true } }, AB_PROVED_GOOD },
	{ "nothing is known since", 4, AB_YES,
	    { { 0.99, 0.85, false }, { 0.99, 1, false }, { 0.3, 0.85, true }, { 0.3, 1, true } },
	  AB_PROVED_NOTHING },
	{ "one batch since", 3, AB_YES, { { 0.99, 0.85, false }, { 0.99, 1, false }, { 0.01, 1, true } },
	    AB_PROVED_NOTHING },
	{ "it was never there", 4, AB_YES,
	    { { 0.01, 0.85, false }, { 0.01, 1, false }, { 0.01, 0.85, true }, { 0.01, 1, true } },
	  AB_PROVED_NOTHING },
	{ "there from the first on", 3, AB_YES, { { 0.99, 0.7225, true }, { 0.99, 0.85, true }, { 0.99, 1, true } },
	    AB_PROVED_FAILED },
	/* the nearest batch with it counts, on either side */
	{ "two trials, three batches apart", 6, AB_NO,
	    { { 0.9, 1, false }, { 0.9, 0.52200625, true }, { 0.9, 1, false }, { 0.9, 1, false },
	  { 0.9, 0.85, true }, { 0.9, 1, false } }, AB_PROVED_LESS },
};

static void set_up(int row)
{
	bool noted = false;

	brewery_open(&b, X);
	for (size_t i = 0; i < ones[row].n; i++) {
		batch_with(ones[row].batches[i].present);
		if (ones[row].batches[i].with && (!noted || ones[row].adopted == AB_NO)) {
			brewery_note(&b, b.cases[i], "x", ones[row].adopted);
			noted = true;
		}
	}
}

START_TEST(one_change)
{
	struct ab_exposed seen[6];
	double place[6];
	size_t with = 0;

	set_up(_i);
	for (size_t i = 0; i < ones[_i].n; i++) {
		double tells = ones[_i].batches[i].tells;
		seen[i] = (struct ab_exposed){ ab_exposed_faded(0.3, ones[_i].batches[i].present, tells),
			ones[_i].batches[i].with };
		place[i] = (double)i;
		with += seen[i].with;
	}
	struct ab_share_learned want = ab_held_share_drifting(0.6, 0.3, seen, place, ones[_i].n);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_tried *t = of(advice, "x", C_WARM);
	ck_assert_msg(fabs(t->share - want.share) < 1e-12, "%s: %.9g, not %.9g", ones[_i].title, t->share, want.share);
	ck_assert_double_eq_tol(t->sd, want.sd, 1e-12);
	ck_assert_double_eq_tol(t->prior, 0.6, 1e-12);
	ck_assert_msg(t->proved == ones[_i].proved, "%s: %d, from 0.6 to %g", ones[_i].title, (int)t->proved, t->share);
	ck_assert_uint_eq(t->with, with);
	ck_assert_uint_eq(t->with + t->without, ones[_i].n);
	ck_assert(t->struck >= 0 && t->struck <= (double)t->without && t->came >= 0 && t->came <= (double)t->with);
	ck_assert_int_eq(t->kept, ones[_i].adopted == AB_YES);
	ck_assert_int_eq(t->together, -1);
	ck_assert(t->few);
	ck_assert_uint_eq(advice->n_tried, 1);
	/* the ranking goes with it: what is left of the cause, times the share now believed */
	const struct ab_item *x = brewery_item(&b, advice, "x");
	double load = 0;
	for (size_t i = 0; i < advice->n_recurrences; i++)
		if (advice->recurrences[i].cause == C_WARM)
			load = advice->recurrences[i].load;
	ck_assert_double_eq_tol(x->gain, load * t->share, 1e-12);
	ck_assert_int_eq(x->owned, ones[_i].adopted == AB_YES);
	ck_assert_int_eq(x->learned, fabs(t->share - 0.6) > 0);
}
END_TEST

/* ---- a change of one beer ---- */

static void of_line(size_t batch, const char *line)
{
	struct ab_batch *own = brewery_brewed(&b);

	*own = *b.cases[batch]->batch;
	own->line = line;
	own->brewed = (struct ab_when){ .known = true, .s = 86400.0 * (double)(10 * batch) };
	b.cases[batch]->batch = own;
}

static void changed(const char *line, double day)
{
	struct ab_list list = b.profile->changed;
	struct ab_changed *c = brewery_push(&b, &list, sizeof *c);

	*c = (struct ab_changed){ .what = "x", .line = line, .on = { .known = true, .s = 86400 * day } };
	b.profile->changed = list;
}

/* pale and stout in turn; from the fifth batch on x, for pale only, where it helps. Whatever stout does, what is
 * learned of x is the same as with the pale ones alone, but for their places; noted for all, stout tells too. */
static const struct { const char *title; double stout; const char *line; bool same; } beers[] = {
	{ "stout as before", 0.99, "pale", true }, { "stout well all the time", 0.01, "pale", true },
	{ "noted for all beers", 0.99, NULL, false },
};

START_TEST(judged_on_its_own_beer)
{
	struct ab_exposed seen[5];
	double place[5];
	size_t n = 0;

	brewery_open(&b, X);
	for (size_t i = 0; i < 10; i++) {
		batch_with(i % 2 > 0 ? beers[_i].stout : i < 5 ? 0.95 : 0.05);
		of_line(i, i % 2 > 0 ? "stout" : "pale");
	}
	changed(beers[_i].line, 41);
	const struct ab_tried *t = of(brewery_advise(&b), "x", C_WARM);
	for (size_t i = 0; i < 10; i += 2, n++) {
		bool with = i > 4;
		/* as they fade: with it by age, without it by how far it is to the next with it, the day of any beer */
		double tells = pow(0.85, with ? (double)(9 - i) : (double)(5 - i));

		seen[n] = (struct ab_exposed){ ab_exposed_faded(0.3, with ? 0.05 : 0.95, tells), with };
		place[n] = (double)i;
	}
	double want = ab_held_share_drifting(0.6, 0.3, seen, place, n).share;
	ck_assert_msg((fabs(t->share - want) < 1e-12) == beers[_i].same, "%s: %.9g, of its own beer %.9g",
	    beers[_i].title, t->share, want);
	ck_assert_uint_eq(t->with + t->without, beers[_i].same ? 5 : 10);
	ck_assert_int_eq(t->few, beers[_i].same);
}
END_TEST

/* In use for that beer from its first batch on: it has no before, though other beers were brewed first. */
START_TEST(no_before_of_its_own)
{
	double strikes[2];

	for (int round = 0; round < 2; round++) {
		if (round > 0)
			brewery_close(&b);
		brewery_open(&b, X);
		for (size_t i = 0; i < 6; i++) {
			batch_with(0.5);
			of_line(i, i < 2 ? "stout" : "pale");
		}
		if (round > 0)
			changed("pale", 20);
		const struct ab_advice *advice = brewery_advise(&b);
		for (size_t i = 0; i < advice->n_recurrences; i++)
			if (advice->recurrences[i].cause == C_WARM)
				strikes[round] = advice->recurrences[i].p;
	}
	ck_assert_double_eq_tol(strikes[0], strikes[1], 1e-12);
}
END_TEST

/* Paper in every batch: of each by itself stale (0.2) is likelier than husky (0.15). From the third on x is in use. */
static const struct { const char *title, *changes; bool made, told; } turns[] = {
	{ "stays after a change against the first suspect", HABIT("x", PREVENTS("stale", "0.9")), true, true },
	{ "the change was never made", HABIT("x", PREVENTS("stale", "0.9")), false, false },
	{ "the change was against another cause", HABIT("x", PREVENTS("warm", "0.9")), true, false },
};

static void tasted_batch(void)
{
	struct ab_case *c = brewery_batch(&b);
	struct ab_finding *finding = ab_arena_alloc(b.arena, b.k->n_faults, sizeof *finding);
	const struct ab_diagnose_options options = { .redraws = 0 };

	ck_assert_ptr_nonnull(finding);
	finding[1] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	c->evidence.finding = finding;
	c->tasted = true;
	ck_assert_int_eq(ab_diagnose(b.k, c->facts, &c->evidence, &options, b.arena, &c->diagnosis, &b.diag), AB_OK);
}

START_TEST(the_first_suspect_is_acquitted)
{
	brewery_open(&b, turns[_i].changes);
	for (size_t i = 0; i < 7; i++)
		tasted_batch();
	const double *alone = b.cases[6]->diagnosis->blame;
	if (turns[_i].made)
		brewery_note(&b, b.cases[2], "x", AB_YES);
	const struct ab_turned *t = &brewery_advise(&b)->turned;
	ck_assert_msg(t->told == turns[_i].told, "%s: %d", turns[_i].title, t->told);
	ck_assert(alone[C_STALE] > alone[C_HUSKY]);
	if (!t->told)
		return;
	ck_assert_int_eq(t->first, C_STALE);
	ck_assert_int_eq(t->now, C_HUSKY);
	ck_assert_int_eq(t->change, 0);
	ck_assert_double_eq(t->first_alone, alone[C_STALE]);
	ck_assert_double_eq(t->now_alone, alone[C_HUSKY]);
	ck_assert(t->first_now <= t->first_alone * 2 / 3 && t->now_now > t->first_now && t->now_now > t->now_alone);
}
END_TEST

START_TEST(nothing_was_made)
{
	brewery_open(&b, X Y);
	batch_with(0.9);
	batch_with(0.9);
	brewery_note(&b, b.cases[1], "something else", AB_YES);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_tried, 0);
	ck_assert(!brewery_item(&b, advice, "x")->learned);
}
END_TEST

/* What was tried in vain falls behind what was not; what helped is ahead; and one that is in force is not told
 * again. */
static const struct { const char *title; double since; int adopted; const char *plan; } ranks[] = {
	{ "not tried: the stronger one", -1, AB_NO, "x" }, { "tried in vain: the other one", 0.99, AB_NO, "y" },
	{ "tried and good: it is kept", 0.01, AB_NO, "x" }, { "in force in vain: the other one", 0.99, AB_YES, "y" },
	{ "in force and good: not told again", 0.01, AB_YES, "y" },
};

START_TEST(ranked_by_what_came)
{
	char plan[64];

	brewery_open(&b, BUY("x", "20", PREVENTS("warm", "0.6")) BUY("y", "20", PREVENTS("warm", "0.5")));
	for (size_t i = 0; i < 6; i++) {
		batch_with(i < 3 || ranks[_i].since < 0 ? 0.99 : ranks[_i].since);
		if (i >= 3 && ranks[_i].since >= 0 && (ranks[_i].adopted == AB_NO || i == 3))
			brewery_note(&b, b.cases[i], "x", ranks[_i].adopted);
	}
	b.options.budget = 20;
	const char *got = brewery_plan(&b, brewery_advise(&b), plan, sizeof plan);
	ck_assert_msg(strcmp(got, ranks[_i].plan) == 0, "%s: %s", ranks[_i].title, got);
}
END_TEST

/* The more of a cause a change left, the more its alternatives bring. */
START_TEST(alternatives_gain)
{
	double gain[2];

	for (int failed = 0; failed < 2; failed++) {
		brewery_open(&b, X Y);
		for (size_t i = 0; i < 6; i++)
			batch_with(i < 3 || failed ? 0.99 : 0.01);
		brewery_note(&b, b.cases[3], "x", AB_YES);
		gain[failed] = brewery_item(&b, brewery_advise(&b), "y")->gain;
		if (failed == 0)
			brewery_close(&b);
	}
	ck_assert_double_gt(gain[1], 3 * gain[0]);
}
END_TEST

/* ---- several ---- */

START_TEST(two_at_once)
{
	brewery_open(&b, X Y);
	for (size_t i = 0; i < 6; i++)
		batch_with(0.99);
	brewery_note(&b, b.cases[3], "x", AB_YES);
	brewery_note(&b, b.cases[3], "y", AB_YES);
	const struct ab_advice *advice = brewery_advise(&b);
	const struct ab_tried *x = of(advice, "x", C_WARM), *y = of(advice, "y", C_WARM);
	ck_assert_int_eq(x->together, y->change);
	ck_assert_int_eq(y->together, x->change);
	ck_assert(x->share < 0.6 && y->share < 0.5); /* it came though both were there: neither did what was
							promised */
}
END_TEST

/* What stayed away with both is not credited to each in full; what came with both speaks against both. */
START_TEST(one_after_the_other)
{
	static const double since[] = { 0.01, 0.99 };
	double alone = 0, both = 0;

	for (int second = 0; second < 2; second++) {
		brewery_open(&b, X Y);
		for (size_t i = 0; i < 6; i++)
			batch_with(i < 2 ? 0.99 : since[_i]);
		brewery_note(&b, b.cases[2], "x", AB_YES);
		if (second)
			brewery_note(&b, b.cases[4], "y", AB_YES);
		const struct ab_advice *advice = brewery_advise(&b);
		*(second ? &both : &alone) = of(advice, "x", C_WARM)->share;
		if (second) {
			ck_assert_int_eq(of(advice, "y", C_WARM)->together, -1);
			ck_assert(
			    _i == 0 ? of(advice, "y", C_WARM)->share > 0.5 : of(advice, "y", C_WARM)->share < 0.5);
		} else
			brewery_close(&b);
	}
	if (_i == 0)
		ck_assert(both > 0.6 && both < alone);
	else
		ck_assert(both < 0.6 && both < alone + 0.1);
}
END_TEST

/* Several causes of one change are told together, the weightiest first; what takes next to nothing of a cause is
 * not claimed. */
START_TEST(of_several_causes)
{
	brewery_open(&b,
	    HABIT("x", PREVENTS("husky", "0.6") PREVENTS("warm", "0.6") PREVENTS("stale", "0.04"))
		HABIT("y", PREVENTS("stale", "0.5")));
	for (size_t i = 0; i < 4; i++)
		batch_with(0.9);
	brewery_note(&b, b.cases[2], "x", AB_YES);
	brewery_note(&b, b.cases[3], "y", AB_YES);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_tried, 3);
	ck_assert_int_eq(advice->tried[0].cause, C_WARM);
	ck_assert_int_eq(advice->tried[1].cause, C_HUSKY);
	ck_assert_int_eq(advice->tried[1].change, advice->tried[0].change);
	ck_assert_int_eq(advice->tried[2].cause, C_STALE);
}
END_TEST

/* A batch that cannot have the cause tells nothing of what held it off. */
START_TEST(where_it_cannot_be)
{
	brewery_open(&b,
	    "<cause id='creep' side='cold' stage='package'><title>Creep</title><why>so</why>"
	    "<prior p='0.3' source='estimate'/>"
	    "<gate says='no'><when fact='t.control' is='fridge'/></gate>"
	    "<gives fault='butter' noticeable='0.5' moderate='0.2' strong='0.1' source='estimate'/></cause>" HABIT(
		"x", PREVENTS("creep", "0.6")));
	for (size_t i = 0; i < 5; i++) {
		struct ab_case *c = brewery_batch(&b);
		if (i == 3 || i == 1)
			c->facts[T_CONTROL] = tiny_fact(2);
		ab_alone(b.k, c->facts, c->diagnosis->present);
		ck_assert((c->diagnosis->present[C_CAUSES] > 0) == (i != 3 && i != 1));
		if (c->diagnosis->present[C_CAUSES] > 0)
			c->diagnosis->present[C_CAUSES] = i == 4 ? 0.3 : 0.9;
	}
	brewery_note(&b, b.cases[3], "x", AB_YES);
	const struct ab_tried *t = of(brewery_advise(&b), "x", C_CAUSES);
	ck_assert_uint_eq(t->with, 1);
	ck_assert_uint_eq(t->without, 2);
	ck_assert_double_eq_tol(t->share, t->prior, 1e-12);   /* and of the one left nothing is known */
}
END_TEST

/* ---- replay as what was expected ---- */

/* The share expected is that of the batches before, by replay; those since have the fact already where the change
 * would put it. */
START_TEST(expected_by_replay)
{
	brewery_open(&b, HABIT("x", COOLS PREVENTS("warm", "0.1")));
	for (size_t i = 0; i < 4; i++) {
		struct ab_case *c = brewery_batch(&b);
		c->facts[T_OVER] = tiny_fact(i < 2 ? 4 : 0);
	}
	brewery_ready(&b);
	brewery_note(&b, b.cases[2], "x", AB_YES);
	const struct ab_tried *t = of(brewery_advise(&b), "x", C_WARM);
	ck_assert_double_eq_tol(t->prior, 1 - (3 / 17.0) / (24 / 31.0), 1e-12);
	ck_assert(t->share > t->prior);
	ck_assert_double_lt(t->came, t->struck);
}
END_TEST

/* ---- plans with what was tried in them ---- */

static const char *const five[] = { X Y, HABIT("x", COOLS PREVENTS("warm", "0.6")) Y,
	X HABIT("y", COOLS PREVENTS("warm", "0.5") PREVENTS("stale", "0.3")),
	HABIT("x", COOLS) HABIT("y", COOLS PREVENTS("stale", "0.3")),
	X HABIT("y", FRESHENS PREVENTS("warm", "0.5")) };

/* The plan is proved on tables of sets, its figures are reckoned set by set: both must know the same of what was
 * tried. By chance batches, trials of either or both. */
START_TEST(tables_agree_with_joint_figures)
{
	srand((unsigned)_i + 1);
	brewery_open(&b, five[_i % 5]);
	b.options.policy = &(struct ab_policy){ .habits = 9 };
	for (size_t i = 0; i < 6; i++) {
		struct ab_case *c = brewery_batch(&b);
		if (rand() % 2)
			c->facts[T_OVER] = tiny_fact(rand() % 5);
		if (rand() % 2)
			c->facts[T_SHARE] = tiny_fact((rand() % 5) / 4.0);
		ab_alone(b.k, c->facts, c->diagnosis->present);
		c->diagnosis->present[C_WARM] = (1 + rand() % 98) / 100.0;
		if (rand() % 3 == 0)
			brewery_note(&b, c, "x", AB_NO);
		if (rand() % 3 == 0)
			brewery_note(&b, c, "y", AB_NO);
	}
	const struct ab_advice *advice = brewery_advise(&b);
	double given_up = 0;
	for (size_t i = 0; i < AB_POLICY_STEPS; i++)
		given_up += advice->given_up[i];
	ck_assert_double_eq_tol(advice->best, given_up + advice->load_before - advice->load_after, 1e-9);
	for (size_t i = 0; i < advice->n_tried; i++)
		ck_assert(advice->tried[i].share > 0 && advice->tried[i].share < 1);
}
END_TEST

/* A batch since in which the cause is less likely never lowers the share, whatever else was made; nothing known
 * moves nothing. */
START_TEST(good_outcomes_never_lower_it)
{
	srand((unsigned)_i + 1);
	brewery_open(&b, X Y);
	for (size_t i = 0; i < 7; i++)
		batch_with((1 + rand() % 98) / 100.0);
	brewery_note(&b, b.cases[1 + rand() % 4], "x", AB_YES);
	if (_i % 2)
		brewery_note(&b, b.cases[1 + rand() % 4], "y", AB_YES);
	double before = of(brewery_advise(&b), "x", C_WARM)->share;
	size_t at = 5 + (size_t)rand() % 2;
	double *present = &b.cases[at]->diagnosis->present[C_WARM], was = *present;
	*present *= 0.5;
	double after = of(brewery_advise(&b), "x", C_WARM)->share;
	ck_assert_msg(after >= before - 1e-12, "%g at %zu: %g, then %g", was, at, before, after);
	for (size_t i = 0; i < b.n; i++)
		b.cases[i]->diagnosis->present[C_WARM] = 0.3;
	ck_assert_double_eq_tol(of(brewery_advise(&b), "x", C_WARM)->share, 0.6, 1e-12);
}
END_TEST

/* Of a long history the newest 60 count; the first batch with it is told all the same. */
START_TEST(long_histories)
{
	brewery_open(&b, X);
	for (size_t i = 0; i < 70; i++) {
		batch_with(i < 5 ? 0.99 : 0.01);
		if (i == 5)
			brewery_note(&b, b.cases[i], "x", AB_YES);
		struct ab_batch *batch = brewery_brewed(&b);
		ck_assert_ptr_nonnull(batch);
		*batch = *b.cases[i]->batch;
		batch->brewed = (struct ab_when){ .known = true, .s = 86400. * (double)i };
		b.cases[i]->batch = batch;
	}
	const struct ab_tried *t = of(brewery_advise(&b), "x", C_WARM);
	ck_assert_uint_eq(t->with, AB_HELD_MOST);
	ck_assert_uint_eq(t->without, 0);
	ck_assert_double_eq_tol(t->since_s, 86400 * 5, 1e-6);
	ck_assert(t->share > 0.6 && t->share < 1);
}
END_TEST

/* ---- memory ---- */

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	brewery_open(&b, X Y);
	for (size_t i = 0; i < 4; i++)
		batch_with(0.9);
	brewery_note(&b, b.cases[2], "x", AB_YES);
	brewery_note(&b, b.cases[3], "y", AB_NO);
	b.options.redraws = 2;
	for (; st != AB_OK && at < 5000; at++) {
		struct ab_arena *arena = ab_arena_new();
		struct ab_advice *advice = NULL;
		ab_diag_init(&b.diag);
		ab_alloc_fail_at(at);
		st = ab_advise(b.k, b.cases, b.n, b.profile, &b.options, arena, &advice, &b.diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: status %d", at, (int)st);
		ck_assert((advice != NULL) == (st == AB_OK));
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 5);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("learning");
	TCase *tc = tcase_create("learning");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, judged_on_its_own_beer, 0, (int)(sizeof beers / sizeof *beers));
	tcase_add_test(tc, no_before_of_its_own);
	tcase_add_loop_test(tc, one_change, 0, sizeof ones / sizeof *ones);
	tcase_add_loop_test(tc, the_first_suspect_is_acquitted, 0, sizeof turns / sizeof *turns);
	tcase_add_test(tc, nothing_was_made);
	tcase_add_loop_test(tc, ranked_by_what_came, 0, sizeof ranks / sizeof *ranks);
	tcase_add_test(tc, alternatives_gain);
	tcase_add_test(tc, two_at_once);
	tcase_add_loop_test(tc, one_after_the_other, 0, 2);
	tcase_add_test(tc, of_several_causes);
	tcase_add_test(tc, where_it_cannot_be);
	tcase_add_test(tc, expected_by_replay);
	tcase_add_loop_test(tc, tables_agree_with_joint_figures, 0, 40);
	tcase_add_loop_test(tc, good_outcomes_never_lower_it, 0, 40);
	tcase_add_test(tc, long_histories);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
