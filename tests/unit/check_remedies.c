/* check_remedies.c - what was tried against a fault, and whether it helped; on the rules of the project
 *
 * The odds are held against Bayes' rule by hand: "it did not help" leaves a cause 1 - p of its odds, whatever else is
 * so; "it helped" multiplies them by (1 - (1 - base)(1 - p)) / base where no other of its causes can be there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rulecase.h"
#include "workcase.h"

static double number(enum ab_number n)
{
	return wc.k->norms.numbers[n];
}

static const struct ab_change *change(const char *id)
{
	int place = ab_change_find(wc.k, id);

	ck_assert_msg(place >= 0, "no change \"%s\"", id);
	return &wc.k->changes[place];
}

static void try_it(const char *what, const char *text, int helped)
{
	*(struct ab_remedy *)wc_push(&wc.batch->remedies, sizeof(struct ab_remedy)) =
	    (struct ab_remedy){ .what = what, .text = text, .helped = helped };
}

static int answer(const char *id)
{
	struct ab_evidence e;
	enum ab_status st = ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag);

	ck_assert_msg(st == AB_OK, "%s", wc.diag.text);
	return e.check[change(id)->remedy];
}

/* ---- what the rules make of it ---- */

/* The highest share of any entry, conditions or not. */
static double best_share(const struct ab_change *c, int cause)
{
	double best = 0;

	for (size_t i = 0; i < c->n_prevents; i++)
		if (c->prevents[i].cause == cause)
			best = fmax(best, c->prevents[i].share);
	return best;
}

START_TEST(one_of_every_change)
{
	size_t asked = ab_asked_checks(wc.k);

	ck_assert_uint_gt(asked, 0);
	ck_assert_uint_eq(wc.k->n_checks, asked + wc.k->n_changes);
	for (size_t i = 0; i < asked; i++)
		ck_assert(!wc.k->checks[i].told_only);
	for (size_t i = 0; i < wc.k->n_changes; i++) {
		const struct ab_change *c = &wc.k->changes[i];
		const struct ab_check *r = &wc.k->checks[c->remedy];
		ck_assert_int_eq(c->remedy, (int)(asked + i));
		ck_assert(r->told_only && strcmp(r->id + strlen("tried "), c->id) == 0);
		ck_assert_double_eq(r->base, number(AB_NUM_GONE_ANYWAY));
		ck_assert(c->n_prevents == 0 || r->n_yes > 0);
		for (size_t j = 0; j < r->n_yes; j++)
			ck_assert_double_eq_tol(
			    r->yes[j].p, number(AB_NUM_DONE_RIGHT) * best_share(c, r->yes[j].cause), 1e-12);
	}
}
END_TEST

/* ---- what a journal tells ---- */

static const struct {
	const char *title;
	struct { const char *what, *text; int helped; } said[2];
	int want;   /* of treat-all-water */
} told[] = {
	{ "nothing", { { NULL, NULL, 0 } }, 0 },
	{ "it helped", { { "treat-all-water", NULL, AB_YES } }, 1 },
	{ "it did not", { { "treat-all-water", NULL, AB_NO } }, -1 },
	{ "both: it did not", { { "treat-all-water", NULL, AB_NO }, { "treat-all-water", NULL, AB_YES } }, -1 },
	{ "both, the other way round", { { "treat-all-water", NULL, AB_YES }, { "treat-all-water", NULL, AB_NO } },
	    -1 },
	{ "in words", { { NULL, "treat all water", AB_YES } }, 1 },
	{ "in words that mean no change", { { NULL, "a new shed", AB_YES } }, 0 },
	{ "an id that is none", { { "treat-all-beer", "treat all water", AB_YES } }, 0 },
	{ "another change", { { "carbon-filter", NULL, AB_YES } }, 0 },
};

START_TEST(is_told)
{
	for (size_t i = 0; i < 2 && told[_i].said[i].helped != 0; i++)
		try_it(told[_i].said[i].what, told[_i].said[i].text, told[_i].said[i].helped);
	ck_assert_msg(answer("treat-all-water") == told[_i].want, "%s", told[_i].title);
}
END_TEST

/* ---- what it tells of the causes ---- */

static double odds(const char *cause)
{
	double p = wc_plainly()->diagnosis->present[ab_cause_find(wc.k, cause)];

	return p / (1 - p);
}

static double p_of(const char *id, const char *cause)
{
	const struct ab_check *r = &wc.k->checks[change(id)->remedy];

	for (size_t i = 0; i < r->n_yes; i++)
		if (r->yes[i].cause == ab_cause_find(wc.k, cause))
			return r->yes[i].p;
	ck_abort_msg("%s does nothing against %s", id, cause);
	return 0;
}

static const struct { const char *change, *cause; } pairs[] = {
	{ "treat-all-water", "chlorine-water" }, { "cover-with-towel", "light-exposure" },
	{ "cold-store", "warm-long-storage" },
	{ "dismantle-tap-clean", "poor-cleaning" }, { "replace-soft-plastics", "worn-plastic" },
	{ "weigh-priming", "over-priming" },
};

START_TEST(in_vain_speaks_against)
{
	double before = odds(pairs[_i].cause);

	try_it(pairs[_i].change, NULL, AB_NO);
	ck_assert_double_eq_tol(odds(pairs[_i].cause) / before, 1 - p_of(pairs[_i].change, pairs[_i].cause), 1e-9);
}
END_TEST

START_TEST(success_speaks_for)
{
	double before = odds(pairs[_i].cause), p = p_of(pairs[_i].change, pairs[_i].cause),
	       base = number(AB_NUM_GONE_ANYWAY);

	try_it(pairs[_i].change, NULL, AB_YES);
	double ratio = odds(pairs[_i].cause) / before, most = (1 - (1 - base) * (1 - p)) / base;
	/* Others that it acts on take some of the credit. */
	ck_assert_msg(ratio > 1 && ratio <= most * (1 + 1e-9), "%s: %g, at most %g", pairs[_i].change, ratio, most);
	if (wc.k->checks[change(pairs[_i].change)->remedy].n_yes == 1)
		ck_assert_double_eq_tol(ratio, most, 1e-9);
}
END_TEST

START_TEST(is_never_asked)
{
	static const struct ab_diagnose_options reasons = { .reasons = true };
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "medicinal", 4 }, { "papery", 3 } } };

	wc_taste(&sheet);
	const struct ab_diagnosis *d = wc_work(&reasons)->diagnosis;
	ck_assert_uint_gt(d->n_asks, 0);
	for (size_t i = 0; i < d->n_asks; i++)
		ck_assert(!d->asks[i].is_check || !wc.k->checks[d->asks[i].check].told_only);
}
END_TEST

/* What counted is listed, and what tells nothing too. */
START_TEST(is_counted)
{
	try_it("treat-all-water", NULL, AB_NO);
	try_it(NULL, "a new shed", AB_YES);
	const struct ab_case *c = wc_plainly();
	ck_assert_uint_eq(c->n_counted, 2);
	ck_assert_str_eq(c->counted[0].text, "tried, and it did not help: treat-all-water, taken for "
	    "\"Sulphite tablets for all brewing, top-up and rinse water\"");
	ck_assert_str_eq(
	    c->counted[1].text, "tried, and it helped: a new shed (no change known here: it tells nothing)");
}
END_TEST

/* In a brewer's words as by its id. */
START_TEST(in_own_words)
{
	try_it(NULL, "Campden tablets", AB_NO);
	const struct ab_case *c = wc_plainly();
	ck_assert_str_eq(c->counted[0].text, "tried, and it did not help: Campden tablets, taken for "
	    "\"Sulphite tablets for all brewing, top-up and rinse water\"");
}
END_TEST

START_TEST(is_a_reason)
{
	static const struct ab_diagnose_options reasons = { .reasons = true };
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "medicinal", 4 } } };
	bool told_so = false;

	wc_taste(&sheet);
	try_it("treat-all-water", NULL, AB_YES);
	const struct ab_suspect *first = &wc_work(&reasons)->diagnosis->suspects[0];
	ck_assert_int_eq(first->cause, ab_cause_find(wc.k, "chlorine-water"));
	for (size_t i = 0; i < first->n_pro; i++)
		told_so |= first->pro[i].is_check && first->pro[i].check == change("treat-all-water")->remedy &&
		    first->pro[i].blame_without < first->blame;
	ck_assert(told_so);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("remedies");
	TCase *tc = tcase_create("remedies");

	tcase_add_unchecked_fixture(tc, wc_read_rules, rules_drop);
	tcase_add_checked_fixture(tc, wc_set_up, wc_tear_down);
	tcase_add_test(tc, one_of_every_change);
	tcase_add_loop_test(tc, is_told, 0, sizeof told / sizeof *told);
	tcase_add_loop_test(tc, in_vain_speaks_against, 0, sizeof pairs / sizeof *pairs);
	tcase_add_loop_test(tc, success_speaks_for, 0, sizeof pairs / sizeof *pairs);
	tcase_add_test(tc, is_never_asked);
	tcase_add_test(tc, is_counted);
	tcase_add_test(tc, in_own_words);
	tcase_add_test(tc, is_a_reason);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
