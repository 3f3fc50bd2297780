/* check_easing.c - what eases a burden that the profile names: which of it, in which order, and when it is what to
 * begin with
 *
 * Shares here are invented; the order is held against one written out by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include "insidecase.h"

static struct brewery b;

static void tear_down(void)
{
	brewery_close(&b);
}

#define FREE(id) HABIT(id, "")
#define COSTS(id, price) BUY(id, price, "")
#define CHORE(id, eases) "<chore id='" id "' source='estimate'><title>Too " id "</title><word>" id \
	"ness</word>" eases "</chore>\n"
#define EASE(change, share) "<ease change='" change "' share='" share "' source='estimate'/>"
#define CHANGES FREE("a") FREE("b") COSTS("c", "50") COSTS("d", "10") CHANGE("e", "upgrade", "cold", \
	"stage='ferment' cost='0' running='2'", "") \
	CHANGE("f", "upgrade", "cold", "stage='ferment' cost='5'", "<needs change='d'/>") \
	CHANGE("g", "habit", "cold", "stage='ferment' cost='0' minutes='60'", "") BUY("w", "20", \
	PREVENTS("warm", "0.6"))
#define SLOW CHORE("slow", EASE("c", "0.8") EASE("a", "0.1") EASE("d", "0.2") EASE("b", "0.3") EASE("e", "0.4") \
	EASE("f", "0.9") EASE("g", "0.05"))
#define HEAVY CHORE("heavy", EASE("c", "0.5"))
#define RULES CHANGES SLOW HEAVY

static void name(const char *chore)
{
	struct ab_trouble *t = brewery_push(&b, &b.profile->troubles, sizeof *t);

	*t = (struct ab_trouble){ .chore = chore, .mark.line = 7 };
}

static void own(const char *change, int unused)
{
	struct ab_owns *o = brewery_push(&b, &b.profile->owns, sizeof *o);

	*o = (struct ab_owns){ .change = change, .unused = unused };
}

static const char *ids(const struct ab_advice *advice, const struct ab_easing *easing)
{
	const char *all = "";

	for (size_t i = 0; i < easing->n; i++)
		all = ab_arena_printf(b.arena, "%s%s%s", all, i > 0 ? " " : "",
		    b.k->changes[advice->items[easing->by[i].item].change].id);
	return all;
}

/* Free ones by share; then share per money: d 0.2 for 10, e 0.4 for 20 a year (ten batches of 2), c 0.8 for 50. f
 * needs d, which is not there. */
static const struct { const char *title, *owns; double budget, running, minutes; const char *want; int unused;
    } rows[] = {
	{ "all that may be had", NULL, NAN, NAN, NAN, "b a g d e c", 0 },
	{ "no money", NULL, 0, NAN, NAN, "b a g", 0 },
	{ "money for one", NULL, 20, NAN, NAN, "b a g d e", 0 },
	{ "no running cost", NULL, NAN, 0, NAN, "b a g d c", 0 },
	{ "no time", NULL, NAN, NAN, 30, "b a d e c", 0 },
	{ "what is in use is no news, and what needs it is open", "d", NAN, NAN, NAN, "b a g f e c", AB_NO },
	{ "what is owned may be used already: free, and half of it counts", "c", NAN, NAN, NAN, "c b a g d e", 0 },
	{ "what is owned and little by half", "d", NAN, NAN, NAN, "b a d g e c", 0 },
	{ "not used by the brewer's own word: all of it counts", "d", NAN, NAN, NAN, "b d a g e c", AB_YES },
	{ "a habit that is kept", "b", NAN, NAN, NAN, "a g d e c", AB_NO },
};

START_TEST(lists)
{
	brewery_open(&b, RULES);
	b.options.budget = rows[_i].budget;
	b.options.running = rows[_i].running;
	b.options.minutes = rows[_i].minutes;
	if (rows[_i].owns != NULL)
		own(rows[_i].owns, rows[_i].unused);
	name("slow");
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_easings, 1);
	ck_assert_str_eq(b.k->chores[advice->easings[0].chore].id, "slow");
	ck_assert_msg(strcmp(ids(advice, &advice->easings[0]), rows[_i].want) == 0, "%s: %s", rows[_i].title,
	    ids(advice, &advice->easings[0]));
}
END_TEST

/* Id, title or word; twice the same is once; in the profile's order. */
START_TEST(found_by_their_words)
{
	brewery_open(&b, RULES);
	name("HEAVYness");
	name("too-Slow");
	name("slow");
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_easings, 2);
	ck_assert_str_eq(b.k->chores[advice->easings[0].chore].id, "heavy");
	ck_assert_str_eq(b.k->chores[advice->easings[1].chore].id, "slow");
	ck_assert_int_eq(ab_chore_word(b.k, "slo"), -1);
}
END_TEST

/* With the beer well the burden comes first; with a fault tasted the beer does; where time is wanted the burden
 * again. */
static const struct { const char *title; int goal; bool faulty, first; } firsts[] = {
	{ "nothing else is wrong", 0, false, true },
	{ "the beer has a fault", 0, true, false },
	{ "the beer has a fault, and time is wanted", AB_GOAL_TIME, true, true },
};

static void butter(void)
{
	struct ab_case *c = brewery_batch(&b);

	c->facts[T_OVER] = tiny_fact(4);
	inside_found(&b, c, 0, 4);
}

START_TEST(what_comes_first)
{
	brewery_open(&b, RULES);
	b.profile->goal = firsts[_i].goal;
	name("slow");
	if (firsts[_i].faulty)
		butter();
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_msg((advice->next_eases != NULL) == firsts[_i].first, "%s", firsts[_i].title);
	ck_assert_uint_eq(advice->n_easings, 1);
	const char *next = advice->next >= 0 ? b.k->changes[advice->items[advice->next].change].id : "";
	ck_assert_msg((strcmp(next, "b") == 0) == firsts[_i].first, "%s: %s", firsts[_i].title, next);
	bool begins = false;
	for (size_t i = 0; i < advice->n_steps; i++)
		begins = begins || (advice->steps[i].kind == AB_NEXT_BEGIN && advice->steps[i].item == advice->next);
	ck_assert_msg(begins, "%s", firsts[_i].title);
}
END_TEST

/* What failed is bought again though it is owned and for others, before what is free; not against the brewer's
 * word, nor beyond the money. What who owns a bag has nothing of is not told to him. */
#define AGAIN CHORE("failed", EASE("a", "0.9") "<ease change='h' share='0.5' anew='yes' source='estimate'/>" \
	"<ease change='b' share='0.2' without='d' source='estimate'/>")
static const struct { const char *title, *owns, *refuses; double budget; const char *want; } agains[] = {
	{ "not owned", NULL, NULL, NAN, "h a b" }, { "owned", "h", NULL, NAN, "h a b" },
	{ "refused", NULL, "h", NAN, "a b" },
	{ "too dear", NULL, NULL, 29, "a b" }, { "just not", NULL, NULL, 30, "h a b" },
	{ "without", "d", NULL, NAN, "h a" },
};

START_TEST(had_again)
{
	brewery_open(&b, RULES BUY("h", "30", "<only-for><when fact='t.control' is='fridge'/></only-for>") AGAIN);
	b.options.budget = agains[_i].budget;
	if (agains[_i].owns != NULL)
		own(agains[_i].owns, AB_NO);
	if (agains[_i].refuses != NULL)
		((struct ab_refuses *)brewery_push(&b, &b.profile->refuses, sizeof(struct ab_refuses)))->change =
		    agains[_i].refuses;
	name("failed");
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_msg(strcmp(ids(advice, &advice->easings[0]), agains[_i].want) == 0, "%s: %s", agains[_i].title,
	    ids(advice, &advice->easings[0]));
}
END_TEST

/* A burden is no trouble of the beer: loads are as without it. But who names nothing else is not told to buy
 * anything against what might come; with a fault in the glass the plan is as without. */
START_TEST(nothing_is_bought_beside)
{
	char with[64], without[64];
	brewery_open(&b, RULES);
	butter();
	const struct ab_advice *advice = brewery_advise(&b);
	brewery_plan(&b, advice, without, sizeof without);
	name("slow");
	ck_assert_str_eq(brewery_plan(&b, brewery_advise(&b), with, sizeof with), without);
	ck_assert_str_eq(with, "w");
}
END_TEST

START_TEST(loads_are_as_without)
{
	char with[64], without[64];
	brewery_open(&b, RULES);
	brewery_bad_batches(&b, 3);
	const struct ab_advice *advice = brewery_advise(&b);
	double load = advice->load_before;
	ck_assert_str_eq(brewery_plan(&b, advice, without, sizeof without), "w");
	ck_assert_ptr_null(advice->next_eases);
	ck_assert_uint_eq(advice->n_easings, 0);
	name("slow");
	advice = brewery_advise(&b);
	ck_assert(advice->load_before == load);
	ck_assert_str_eq(brewery_plan(&b, advice, with, sizeof with), "");
	ck_assert_str_eq(brewery_item(&b, advice, "w")->barred, "not against what you named");
	ck_assert_ptr_null(brewery_item(&b, advice, "c")->barred);
}
END_TEST

START_TEST(nothing_left)
{
	brewery_open(&b, RULES);
	b.options.budget = 0;
	name("heavy");
	const struct ab_advice *advice = brewery_advise(&b);
	ck_assert_uint_eq(advice->n_easings, 1);
	ck_assert_uint_eq(advice->easings[0].n, 0);
	ck_assert_ptr_null(advice->next_eases);
}
END_TEST

START_TEST(unknown_chore)
{
	struct ab_advice *out;
	brewery_open(&b, RULES);
	name("goblins");
	ck_assert_int_eq(ab_advise(b.k, b.cases, b.n, b.profile, &b.options, b.arena, &out, &b.diag), AB_EINPUT);
	ck_assert_int_eq(b.diag.line, 7);
	ck_assert_ptr_nonnull(
	    strstr(b.diag.text, "no chore is called \"goblins\"; \"afterboil rules list chores\" shows them"));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("easing");
	TCase *tc = tcase_create("easing");

	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, lists, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_test(tc, found_by_their_words);
	tcase_add_loop_test(tc, what_comes_first, 0, (int)(sizeof firsts / sizeof *firsts));
	tcase_add_test(tc, nothing_is_bought_beside);
	tcase_add_test(tc, loads_are_as_without);
	tcase_add_loop_test(tc, had_again, 0, (int)(sizeof agains / sizeof *agains));
	tcase_add_test(tc, nothing_left);
	tcase_add_test(tc, unknown_chore);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
