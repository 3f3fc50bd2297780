/* check_case_questions.c - bottles with a mark answer checks, and what makes no sense is not asked; on the rules of
 * the project
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "rulecase.h"
#include "workcase.h"

/* ---- marked bottles ---- */

/* A sheet about bottles with a mark; NULL: without one. */
struct glass { struct wc_sheet sheet; const char *mark; };

static void pour(const struct glass *glass)
{
	wc_taste(&glass->sheet);
	((struct ab_tasting *)wc.batch->tastings.items)[wc.batch->tastings.n - 1].mark_on = glass->mark;
}

static const struct { const char *title; struct glass glasses[3]; struct ab_finding want; } apart[] = {
	{ "other bottles are not a later glass",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "warm" },
	    { { "A", 1, 0, AB_YES, { { "buttery", 0 } } }, "cold" } },
	  { AB_SEEN_FOUND, 2, 0 } },
	{ "the same bottles: the later word",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "warm" }, { { "A", 2, 0, 0, { { "buttery", 0 } } }, "Warm" } },
	  { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "the bottles that have most of it",
	    { { { "A", 1, 0, 0, { { "buttery", 5 } } }, "warm" },
	    { { "A", 1, 0, 0, { { "buttery", 1 } } }, NULL } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "in no bottle of three kinds",
	    { { { "A", 1, 0, 0, { { "buttery", 0 } } }, "warm" },
	    { { "A", 1, 0, 0, { { "buttery", 0 } } }, "cold" }, { { "A", 1, 0, 0, { { "buttery", 0 } } }, NULL } },
	  { AB_SEEN_ABSENT, 0, 0.8 } },
};

START_TEST(marks_are_kept_apart)
{
	for (size_t i = 0; i < 3 && apart[_i].glasses[i].sheet.by != NULL; i++)
		pour(&apart[_i].glasses[i]);
	struct ab_finding got = wc_evidence_of("diacetyl", NULL), want = apart[_i].want;
	ck_assert_msg(got.seen == want.seen && got.grade == want.grade, "%s: seen %d grade %d", apart[_i].title,
	    got.seen, got.grade);
	ck_assert_msg(fabs(got.sensitivity - want.sensitivity) < 1e-12, "%s: %g", apart[_i].title, got.sensitivity);
}
END_TEST

/* A keg and bottles of one beer are no later glass of each other either. */
static const struct { const char *title; int from[2]; struct ab_finding want; } packages[] = {
	{ "a clean keg does not take it from the bottles", { AB_PLACE_BOTTLE, AB_PLACE_TAP_KEG },
	    { AB_SEEN_FOUND, 2, 0 } },
	{ "a clean bottle does not take it from the keg", { AB_PLACE_TAP_KEG, AB_PLACE_BOTTLE },
	    { AB_SEEN_FOUND, 2, 0 } },
	{ "a bottle tasted again, and clean", { AB_PLACE_BOTTLE, AB_PLACE_BOTTLE }, { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "from somewhere, then from a clean keg", { 0, AB_PLACE_TAP_KEG }, { AB_SEEN_ABSENT, 0, 0.8 } },
};

START_TEST(packages_are_kept_apart)
{
	static const struct glass glasses[] = { { { "A", 1, 0, 0, { { "buttery", 3 } } }, NULL },
		{ { "A", 2, 0, 0, { { "buttery", 0 } } }, NULL } };
	for (size_t i = 0; i < 2; i++) {
		pour(&glasses[i]);
		((struct ab_tasting *)wc.batch->tastings.items)[i].from = packages[_i].from[i];
	}
	struct ab_finding got = wc_evidence_of("diacetyl", NULL), want = packages[_i].want;
	ck_assert_msg(got.seen == want.seen && got.grade == want.grade, "%s: seen %d grade %d", packages[_i].title,
	    got.seen, got.grade);
}
END_TEST

static const struct { const char *title, *check; int want; struct glass glasses[3]; } marks[] = {
	{ "lit, and shielded", "cover-half", 1,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" },
	    { { "A", 1, 0, 0, { { "skunky", 0 } } }, "shielded" } } },
	{ "shielded, and not marked", "cover-half", 1,
	    { { { "A", 1, 0, 0, { { "skunky", 2 } } }, NULL },
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, "in foil" } } },
	{ "not shielded, and shielded", "cover-half", 1,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "not shielded" },
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, "Shielded" } } },
	{ "both have it", "cover-half", -1,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" }, { { "B", 1, 0, 0, { { "skunky", 3 } } }, "dark" } } },
	{ "the shielded have more of it", "cover-half", -1,
	    { { { "A", 1, 0, 0, { { "skunky", 1 } } }, "light" }, { { "B", 1, 0, 0, { { "skunky", 4 } } }, "dark" } } },
	{ "neither has it", "cover-half", 0,
	    { { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, "light" },
	    { { "B", 1, 0, AB_YES, { { NULL, 0 } } }, "dark" } } },
	{ "of the others nobody spoke", "cover-half", 0,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" }, { { "B", 1, 0, 0, { { "papery", 3 } } }, NULL } } },
	{ "only one kind was tasted", "cover-half", 0, { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "light" } } },
	{ "a fault that light does not make", "cover-half", 0,
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "light" }, { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, NULL } } },
	{ "three weeks later", "cover-half", 0,
	    { { { "A", 22, 0, 0, { { "skunky", 3 } } }, "light" }, { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, NULL } } },
	{ "less than a step", "cover-half", -1,
	    { { { "A", 1, 0, 0, { { "skunky", 2 } } }, "light" }, { { "A", 1, 0, 0, { { "skunky", 1.5 } } }, NULL } } },
	{ "lightly shaken is not lit", "cover-half", 0,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, "lightly shaken" },
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, NULL } } },
	{ "splashed", "splashed-bottles", 1,
	    { { { "A", 1, 0, 0, { { "papery", 2 } } }, "splashed" },
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, NULL } } },
	{ "warm, and cold", "fresh-bottle-side-by-side", 1,
	    { { { "A", 1, 0, 0, { { "papery", 3 } } }, "attic, warm" },
	    { { "A", 1, 0, 0, { { "papery", 1 } } }, "fridge" } } },
	{ "another check", "splashed-bottles", 0,
	    { { { "A", 1, 0, 0, { { "papery", 3 } } }, "warm" }, { { "A", 1, 0, 0, { { "papery", 1 } } }, "cold" } } },
	{ "no mark", "cover-half", 0,
	    { { { "A", 1, 0, 0, { { "skunky", 3 } } }, NULL }, { { "B", 1, 0, AB_YES, { { NULL, 0 } } }, NULL } } },
};

START_TEST(marked_bottles)
{
	int check = ab_check_find(wc.k, marks[_i].check);
	struct ab_evidence e;
	ck_assert_int_ge(check, 0);
	for (size_t i = 0; i < 3 && marks[_i].glasses[i].sheet.by != NULL; i++)
		pour(&marks[_i].glasses[i]);
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_OK);
	ck_assert_msg(e.check[check] == marks[_i].want, "%s: %d", marks[_i].title, e.check[check]);
}
END_TEST

/* What marked bottles are held against is said, as it is. */
static const struct { const char *title, *says; struct glass glasses[3]; } others[] = {
	{ "two marks", "bottles marked \"left keg\", held against those with another mark",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "left keg" },
	    { { "A", 1, 0, 0, { { "buttery", 0 } } }, "right keg" } } },
	{ "the rest without", "bottles marked \"left keg\", held against those without a mark",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "left keg" },
	    { { "A", 1, 0, 0, { { "buttery", 0 } } }, NULL } } },
	{ "all kinds", "bottles marked \"left keg\", held against all others",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "left keg" },
	    { { "A", 1, 0, 0, { { "buttery", 0 } } }, "right keg" },
	    { { "A", 1, 0, 0, { { "buttery", 0 } } }, NULL } } },
	{ "one keg, twice", "bottles marked \"left keg\", and no others were tasted to hold them against",
	    { { { "A", 1, 0, 0, { { "buttery", 3 } } }, "left keg" },
	    { { "B", 1, 0, 0, { { "buttery", 0 } } }, "Left keg" } } },
};

START_TEST(says_what_marks_are_held_against)
{
	for (size_t i = 0; i < 3 && others[_i].glasses[i].sheet.by != NULL; i++)
		pour(&others[_i].glasses[i]);
	const struct ab_case *c = wc_plainly();
	ck_assert_uint_gt(c->n_counted, 0);
	ck_assert_str_eq(c->counted[0].text, others[_i].says);
}
END_TEST

/* Who tells the answer in words knows more than the glasses. */
START_TEST(told_goes_before_marks)
{
	struct ab_evidence e;
	pour(&marks[0].glasses[0]);
	pour(&marks[0].glasses[1]);
	struct ab_test *test = wc_push(&wc.batch->tests, sizeof *test);
	test->kind = "cover-half";
	test->result = AB_NO;
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_OK);
	ck_assert_int_eq(e.check[ab_check_find(wc.k, "cover-half")], -1);
}
END_TEST

/* ---- questions that make no sense ---- */

static const struct { const char *title, *known; double value; const char *fault, *asked; bool kept; } moots[] = {
	{ "a taste at packaging", NULL, 0, "sour-lactic", "taste.at-packaging", true },
	{ "gas at packaging", NULL, 0, "over-carbonated", "taste.at-packaging", false },
	{ "foam at packaging", NULL, 0, "foamy-pour", "taste.at-packaging", false },
	{ "gas: another question", NULL, 0, "under-carbonated", "pack.mixing", true },
	{ "a keg nobody spoke of", NULL, 0, "sour-lactic", "taste.tap-only", false },
	{ "bottles", "pack.into", 0, "sour-lactic", "taste.tap-only", false },
	{ "a keg", "pack.into", 1, "sour-lactic", "taste.tap-only", true },
	{ "bottles: a keg's purging", "pack.into", 0, "papery", "pack.filled", false },
	{ "bottles: a keg's pressure", "pack.into", 0, "papery", "keg.equilibrium-co2", false },
	{ "a keg: its purging", "pack.into", 1, "papery", "pack.filled", true },
	{ "a keg: some bottles of it", "pack.into", 1, "under-carbonated", "taste.some-bottles", false },
	{ "bottles: some of them", "pack.into", 0, "under-carbonated", "taste.some-bottles", true },
	{ "no word of the package: some bottles", NULL, 0, "under-carbonated", "taste.some-bottles", true },
	{ "a keg: its necks", "pack.into", 1, "papery", "pack.neck", false },
	{ "no word of the package: a keg's purging", NULL, 0, "papery", "pack.filled", true },
	{ "a tap", "serve.from", 1, "sour-lactic", "taste.tap-only", true },
	{ "in the fermenter: packaging", "taste.before-packaging-only", 1, "sour-lactic", "pack.neck", false },
	{ "in the fermenter: days to packaging", "taste.before-packaging-only", 1, "sour-lactic", "ferment.days",
	    false },
	{ "in the fermenter: warmth", "taste.before-packaging-only", 1, "sour-lactic", "ferment.early-mean", true },
	{ "steeped grain: the sparge", "recipe.extract-share", 0.85, "astringent", "mash.sparge-temp", false },
	{ "mostly mashed: the sparge", "recipe.extract-share", 0.2, "astringent", "mash.sparge-temp", true },
	{ "packaged: days to packaging", "taste.before-packaging-only", 0, "sour-lactic", "ferment.days", true },
};

START_TEST(moot_questions)
{
	/* a month old: in its first week nobody would ask of a package */
	struct wc_sheet sheet = { "A", 30, 0, 0, { { moots[_i].fault, 3 } } };
	int slot = ab_fact_slot(wc.k->facts, moots[_i].asked);
	struct ab_ask asks[] = { { .is_check = true, .check = 0, .slot = -1 }, { .slot = slot, .check = -1 } };
	struct ab_diagnosis d = { .asks = asks, .n_asks = 2, .unknown = &slot, .n_unknown = 1 };
	wc_taste(&sheet);
	struct ab_case *c = wc_plainly();
	ck_assert_int_ge(slot, 0);
	if (moots[_i].known != NULL)
		wc_know(c, moots[_i].known, moots[_i].value);
	c->diagnosis = &d;
	case_drop_moot(wc.k, c);
	ck_assert_msg(d.n_asks == (moots[_i].kept ? 2 : 1), "%s: asked", moots[_i].title);
	ck_assert_msg(d.n_unknown == moots[_i].kept, "%s: unknown", moots[_i].title);
	ck_assert(asks[0].is_check);
}
END_TEST

/* The pipe does it, too. */
START_TEST(nothing_moot_is_asked)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "over-carbonated", 4 } } };
	const struct ab_diagnose_options options = { .reasons = true };
	wc_taste(&sheet);
	const struct ab_diagnosis *d = wc_work(&options)->diagnosis;
	ck_assert_uint_gt(d->n_asks, 3);
	for (size_t i = 0; i < d->n_asks; i++)
		ck_assert_int_ne(d->asks[i].slot, ab_fact_slot(wc.k->facts, "taste.at-packaging"));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("case questions");
	TCase *tc = tcase_create("case questions");
	tcase_set_timeout(tc, 60);
	tcase_add_unchecked_fixture(tc, wc_read_rules, rules_drop);
	tcase_add_checked_fixture(tc, wc_set_up, wc_tear_down);
	tcase_add_loop_test(tc, marks_are_kept_apart, 0, sizeof apart / sizeof *apart);
	tcase_add_loop_test(tc, packages_are_kept_apart, 0, sizeof packages / sizeof *packages);
	tcase_add_loop_test(tc, marked_bottles, 0, sizeof marks / sizeof *marks);
	tcase_add_loop_test(tc, says_what_marks_are_held_against, 0, sizeof others / sizeof *others);
	tcase_add_test(tc, told_goes_before_marks);
	tcase_add_loop_test(tc, moot_questions, 0, sizeof moots / sizeof *moots);
	tcase_add_test(tc, nothing_moot_is_asked);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
