/* check_things.c - what stands there and is no change by itself: what it takes off a price, and what it opens
 *
 * Prices here are invented; each want is written out by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include "advicecase.h"
#include "base/alloc.h"
#include "tiny.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

#define SPARES(thing, attrs) "<spares thing='" thing "' " attrs " source='estimate'/>"
/* A chamber of box and switch; a tub; a box for beer, and a habit that makes use of one. */
#define RULES CHANGE("chamber", "upgrade", "cold", "stage='ferment' cost='90' running='2' space='floor'", \
	PREVENTS("warm", "0.9") SPARES("box", "cost='50' room='yes' leaves='the switch'") \
	SPARES("switch", "cost='40' leaves='the box'") SPARES("wind", "running='1.5'")) \
	CHANGE("bath", "habit", "cold", "stage='ferment' cost='0' space='cupboard'", \
	PREVENTS("warm", "0.2") SPARES("tub", "room='yes'")) \
	BUY("store", "60", PREVENTS("stale", "0.6")) \
	HABIT("by-hand", PREVENTS("warm", "0.6") "<needs change='store' or-thing='box'/>") \
	"<thing id='box'><title>a cold box</title><word>spare box</word><word>chest</word>" \
	"<from change='store'/></thing>" \
	"<thing id='switch'><title>a switch</title></thing><thing id='wind'><title>a windmill</title></thing>" \
	"<thing id='tub'><title>a tub</title></thing>"

static void has(const char *thing, int unused)
{
	struct ab_owns *o = brewery_push(&b, &b.profile->things, sizeof *o);

	*o = (struct ab_owns){ .thing = thing, .unused = unused, .mark.line = 7 };
}

static void owns(const char *change, int unused)
{
	struct ab_owns *o = brewery_push(&b, &b.profile->owns, sizeof *o);

	*o = (struct ab_owns){ .change = change, .unused = unused };
}

/* ---- prices ---- */

/* Ten batches a year; running: what is left of 2 a batch. have NULL: nothing is told. */
static const struct { const char *title, *things[2]; int unused; double cost, running; bool free; const char *have; }
    prices[] = {
	{ "nothing there", { NULL }, 0, 90, 20, false, NULL },
	{ "the box", { "box" }, 0, 40, 20, false, "you have a cold box; left to buy: the switch" },
	{ "in other words", { "The Chest" }, 0, 40, 20, false, "you have a cold box; left to buy: the switch" },
	{ "by its title", { "cold-box" }, 0, 40, 20, false, "you have a cold box; left to buy: the switch" },
	{ "said to be to spare", { "box" }, AB_YES, 40, 20, false, "you have a cold box; left to buy: the switch" },
	{ "not to be had", { "box" }, AB_NO, 90, 20, false, NULL },
	{ "the switch", { "a switch" }, 0, 50, 20, false, "you have a switch; left to buy: the box" },
	{ "both: nothing is bought", { "box", "switch" }, 0, 0, 20, true, "you have a cold box and a switch" },
	{ "current of one's own", { "windmill" }, 0, 90, 5, false, "you have a windmill; left to buy: the rest" },
	{ "said twice is once", { "box", "my chest" }, 0, 40, 20, false,
	    "you have a cold box; left to buy: the switch" },
	{ "of no use for it", { "tub" }, 0, 90, 20, false, NULL },
};

START_TEST(price)
{
	brewery_open(&b, RULES);
	for (size_t i = 0; i < 2 && prices[_i].things[i] != NULL; i++)
		has(prices[_i].things[i], prices[_i].unused);
	brewery_bad_batches(&b, 3);
	const struct ab_item *item = brewery_item(&b, brewery_advise(&b), "chamber");
	ck_assert_msg(fabs(item->cost - prices[_i].cost) < 1e-9, "%s: %g", prices[_i].title, item->cost);
	ck_assert_msg(fabs(item->running_cost - prices[_i].running) < 1e-9, "%s: %g", prices[_i].title,
	    item->running_cost);
	ck_assert_msg(item->unused == prices[_i].free, "%s", prices[_i].title);
	ck_assert_msg((item->have == NULL) == (prices[_i].have == NULL), "%s: %s", prices[_i].title, item->have);
	if (item->have != NULL)
		ck_assert_str_eq(item->have, prices[_i].have);
}
END_TEST

/* What the brewer priced is known to be priced as it will be bought. */
START_TEST(own_price)
{
	brewery_open(&b, RULES);
	has("box", 0);
	struct ab_price *own = brewery_push(&b, &b.profile->prices, sizeof *own);
	*own = (struct ab_price){ .change = "chamber", .cost = { .known = true, .v = 33 } };
	brewery_bad_batches(&b, 3);
	const struct ab_item *item = brewery_item(&b, brewery_advise(&b), "chamber");
	ck_assert_double_eq_tol(item->cost, 33, 1e-9);
	ck_assert_str_eq(item->have, "you have a cold box");
}
END_TEST

/* Idle it is the thing it is; in use, or where nobody says, it is not. */
static const struct { const char *title; int unused; double cost; } idle[] = {
	{ "not in use", AB_YES, 40 }, { "in use", AB_NO, 90 }, { "nobody says", 0, 90 },
};

START_TEST(from_a_change)
{
	brewery_open(&b, RULES);
	owns("store", idle[_i].unused);
	brewery_bad_batches(&b, 3);
	ck_assert_double_eq_tol(brewery_item(&b, brewery_advise(&b), "chamber")->cost, idle[_i].cost, 1e-9);
}
END_TEST

/* Owned and in use already: there is nothing to spare, and nothing to tell. */
START_TEST(what_is_owned_stays)
{
	brewery_open(&b, RULES);
	owns("chamber", AB_NO);
	has("box", 0);
	has("switch", 0);
	brewery_bad_batches(&b, 3);
	const struct ab_item *item = brewery_item(&b, brewery_advise(&b), "chamber");
	ck_assert(item->owned && !item->unused);
	ck_assert_ptr_null(item->have);
}
END_TEST

/* ---- what it opens ---- */

static const struct { const char *title, *thing, *change; double money; int space; bool open; } opened[] = {
	{ "too dear", NULL, "chamber", 50, 0, false }, { "the rest of it is not", "box", "chamber", 50, 0, true },
	{ "no room", NULL, "chamber", 200, 1, false }, { "it stands there", "box", "chamber", 200, 1, true },
	{ "a switch makes no room", "switch", "chamber", 200, 1, false },
	{ "a bath wants room", NULL, "bath", 0, 1, false }, { "but not with a tub", "tub", "bath", 0, 1, true },
	{ "no box to use by hand", NULL, "by-hand", 0, 0, false }, { "a box", "box", "by-hand", 0, 0, true },
	{ "a tub is no box", "tub", "by-hand", 0, 0, false },
};

START_TEST(opens)
{
	char plan[200];

	brewery_open(&b, RULES);
	b.options.budget = opened[_i].money;
	b.options.running = 100;
	b.profile->space = opened[_i].space;
	if (opened[_i].thing != NULL)
		has(opened[_i].thing, 0);
	/* of several that cool the others are not wanted */
	static const char *const cool[] = { "chamber", "bath", "by-hand" };
	for (size_t i = 0; i < 3; i++)
		if (strcmp(cool[i], opened[_i].change) != 0) {
			struct ab_refuses *r = brewery_push(&b, &b.profile->refuses, sizeof *r);
			*r = (struct ab_refuses){ .change = cool[i] };
		}
	brewery_bad_batches(&b, 3);
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_msg(brewery_item(&b, advice, opened[_i].change)->chosen == opened[_i].open, "%s: %s",
	    opened[_i].title, brewery_plan(&b, advice, plan, sizeof plan));
}
END_TEST

/* ---- words ---- */

START_TEST(no_such_thing)
{
	struct ab_advice *out;

	brewery_open(&b, RULES);
	has("boxes", 0);
	brewery_bad_batches(&b, 1);
	ck_assert_int_eq(ab_advise(b.k, b.cases, b.n, b.profile, &b.options, b.arena, &out, &b.diag), AB_EINPUT);
	ck_assert_int_eq(b.diag.line, 7);
	ck_assert_str_eq(b.diag.text,
	    "no thing is called \"boxes\"; \"afterboil rules list things\" shows them; near it: \"box\"");
}
END_TEST

START_TEST(words)
{
	const char *near[4];
	size_t n;

	brewery_open(&b, RULES);
	ck_assert_int_eq(ab_thing_word(b.k, "an old BOX", NULL, 0, NULL), 0);
	ck_assert_int_eq(ab_thing_word(b.k, "tub", NULL, 0, NULL), 3);
	ck_assert_int_eq(ab_thing_word(b.k, "the", near, 4, &n), -1);
	ck_assert_uint_eq(n, 0);
	ck_assert_int_eq(ab_thing_word(b.k, "", near, 4, &n), -1);
	ck_assert_uint_eq(n, 0);
	ck_assert_int_eq(ab_thing_word(b.k, "cold boxes", near, 4, &n), -1);
	ck_assert(n == 1 && strcmp(near[0], "box") == 0);
}
END_TEST

/* Whichever allocation fails: said so, and nothing else. */
START_TEST(short_of_memory)
{
	struct ab_advice *out;
	enum ab_status st = AB_ENOMEM;
	long at = 1;

	brewery_open(&b, RULES);
	has("box", 0);
	has("switch", 0);
	brewery_bad_batches(&b, 1);
	for (; st == AB_ENOMEM && at < 20000; at++) {
		struct ab_arena *arena = ab_arena_new();
		ab_diag_init(&b.diag);
		ab_alloc_fail_at(at);
		st = ab_advise(b.k, b.cases, b.n, b.profile, &b.options, arena, &out, &b.diag);
		ab_alloc_fail_at(-1);
		ab_arena_free(arena);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 1);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("things");
	TCase *tc = tcase_create("things");

	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, price, 0, (int)(sizeof prices / sizeof *prices));
	tcase_add_test(tc, own_price);
	tcase_add_loop_test(tc, from_a_change, 0, (int)(sizeof idle / sizeof *idle));
	tcase_add_test(tc, what_is_owned_stays);
	tcase_add_loop_test(tc, opens, 0, (int)(sizeof opened / sizeof *opened));
	tcase_add_test(tc, no_such_thing);
	tcase_add_test(tc, words);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
