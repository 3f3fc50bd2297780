/* check_casework.c - tastings into evidence, flaw load, the whole pipe; on the rules of the project
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"
#include "rulecase.h"
#include "workcase.h"

/* ---- evidence ---- */

static const struct {
	const char *title;
	struct wc_sheet sheets[3];
	struct ab_finding want;   /* about diacetyl */
} combined[] = {
	{ "found", { { "A", 1, 0, 0, { { "buttery", 3 } } } }, { AB_SEEN_FOUND, 2, 0 } },
	{ "found strongly", { { "A", 1, 0, 0, { { "butter", 5 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "not mentioned, not complete", { { "A", 1, 0, 0, { { "papery", 2 } } } }, { AB_SEEN_NOTHING, 0, 0 } },
	{ "not mentioned, complete", { { "A", 1, 0, AB_YES, { { "papery", 2 } } } }, { AB_SEEN_ABSENT, 0, 0.4 } },
	{ "a panel of three is silent", { { "A", 1, 3, AB_YES, { { NULL, 0 } } } },
	    { AB_SEEN_ABSENT, 0, 1 - 0.6 * 0.6 * 0.6 } },
	{ "two tasters are silent",
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, { "B", 1, 0, AB_YES, { { NULL, 0 } } } },
	{ AB_SEEN_ABSENT, 0, 0.64 } },
	{ "one taster is silent twice",
	    { { "A", 1, 0, AB_YES, { { NULL, 0 } } }, { "a", 9, 0, AB_YES, { { NULL, 0 } } } },
	{ AB_SEEN_ABSENT, 0, 0.4 } },
	{ "judged absent", { { "A", 1, 0, 0, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "judged absent and silent", { { "A", 1, 0, AB_YES, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.8 } },
	{ "judged absent by one, silent the other",
	    { { "A", 1, 0, 0, { { "diacetyl", 0 } } }, { "B", 1, 0, AB_YES, { { NULL, 0 } } } },
	  { AB_SEEN_ABSENT, 0, 1 - 0.2 * 0.6 } },
	{ "found beats not mentioned",
	    { { "A", 1, 0, 0, { { "buttery", 2 } } }, { "B", 1, 0, AB_YES, { { NULL, 0 } } } },
	{ AB_SEEN_FOUND, 1, 0 } },
	{ "found by one, absent by the other: a lower grade",
	    { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } },
	  { AB_SEEN_FOUND, 1, 0 } },
	{ "never below slight", { { "A", 1, 0, 0, { { "buttery", 1 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } },
	    { AB_SEEN_FOUND, 1, 0 } },
	{ "the same taster later: gone, but it was there",
	    { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "A", 20, 0, 0, { { "buttery", 0 } } } },
	  { AB_SEEN_FOUND, 3, 0 } },
	{ "gone; sheets out of order",
	    { { "A", 20, 0, 0, { { "buttery", 0 } } }, { "A", 1, 0, 0, { { "buttery", 2 } } } },
	{ AB_SEEN_FOUND, 1, 0 } },
	{ "gone by and by: the most that was found",
	    { { "A", 1, 0, 0, { { "buttery", 5 } } }, { "A", 9, 0, 0, { { "buttery", 2 } } },
	  { "A", 20, 0, 0, { { "buttery", 0 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "faded, and there still: the latest",
	    { { "A", 1, 0, 0, { { "buttery", 5 } } }, { "A", 9, 0, 0, { { "buttery", 2 } } } },
	{ AB_SEEN_FOUND, 1, 0 } },
	{ "judged anew within the week",
	    { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "A", 7, 0, 0, { { "buttery", 0 } } } },
	{ AB_SEEN_ABSENT, 0, 0.8 } },
	{ "a week later", { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "A", 8, 0, 0, { { "buttery", 0 } } } },
	    { AB_SEEN_FOUND, 3, 0 } },
	{ "judged anew on the same day",
	    { { "A", 1, 0, 0, { { "buttery", 4 } } }, { "A", 1, 0, 0, { { "buttery", 0 } } } },
	{ AB_SEEN_ABSENT, 0, 0.8 } },
	{ "gone for one, there for the other",
	    { { "A", 1, 0, 0, { { "buttery", 5 } } }, { "A", 20, 0, 0, { { "buttery", 0 } } },
	  { "B", 20, 0, 0, { { "buttery", 2 } } } }, { AB_SEEN_FOUND, 1, 0 } },
	{ "the same taster later: grown; sheets out of order",
	    { { "A", 20, 0, 0, { { "buttery", 5 } } }, { "A", 1, 0, 0, { { "buttery", 1 } } } },
	  { AB_SEEN_FOUND, 3, 0 } },
	{ "two words for one fault: the stronger",
	    { { "A", 1, 0, 0, { { "buttery", 1 }, { "butterscotch", 4 } } } }, { AB_SEEN_FOUND, 3, 0 } },
	{ "a panel outweighs one",
	    { { "A", 1, 4, 0, { { "buttery", 5 } } }, { "B", 1, 0, 0, { { "buttery", 0 } } } },
	{ AB_SEEN_FOUND, 3, 0 } },
	{ "nothing is surer than 0.98", { { "A", 1, 12, 0, { { "diacetyl", 0 } } } }, { AB_SEEN_ABSENT, 0, 0.98 } },
};

START_TEST(combine)
{
	for (size_t i = 0; i < 3 && (combined[_i].sheets[i].by != NULL); i++)
		wc_taste(&combined[_i].sheets[i]);
	struct ab_finding got = wc_evidence_of("diacetyl", NULL), want = combined[_i].want;
	ck_assert_msg(got.seen == want.seen && got.grade == want.grade, "%s: seen %d grade %d", combined[_i].title,
	    got.seen, got.grade);
	ck_assert_msg(fabs(got.sensitivity - want.sensitivity) < 1e-12, "%s: %g", combined[_i].title, got.sensitivity);
}
END_TEST

START_TEST(one_malt_one_hop_hides_less)
{
	static const struct wc_sheet sheet = { "A", 1, 0, AB_YES, { { "papery", 0 } } };
	int slot = ab_fact_slot(wc.k->facts, "recipe.one-malt-one-hop");
	wc.facts[slot] = (struct ab_fact){ .origin = AB_ORIGIN_DERIVED, .value = 1 };
	wc_taste(&sheet);
	ck_assert_double_eq_tol(wc_evidence_of("diacetyl", NULL).sensitivity, 0.55, 1e-12);
	ck_assert_double_eq_tol(wc_evidence_of("papery", NULL).sensitivity, 0.85, 1e-12);
}
END_TEST

static struct ab_profile *blind_taster(const char *name, const char *fault)
{
	struct ab_profile *p = ab_arena_alloc(wc.arena, 1, sizeof *p);
	struct ab_taster *t = wc_push(&p->tasters, sizeof *t);
	p->source = "brewery.xml";
	t->mark.line = 7;
	t->name = name;
	*(const char **)wc_push(&t->blind_to, sizeof(const char *)) = fault;
	return p;
}

START_TEST(blind_spots)
{
	static const struct wc_sheet alone = { "Ann", 1, 0, AB_YES, { { "papery", 0 } } },
				     panel = { "ANN", 1, 3, AB_YES, { { NULL, 0 } } };
	wc_taste(&alone);
	ck_assert_int_eq(wc_evidence_of("diacetyl", blind_taster("ann", "buttery")).seen, AB_SEEN_NOTHING);
	ck_assert_int_eq(wc_evidence_of("papery", blind_taster("ann", "papery")).seen, AB_SEEN_NOTHING);
	ck_assert_int_eq(wc_evidence_of("diacetyl", blind_taster("ann", "papery")).seen, AB_SEEN_ABSENT);
	wc.batch->tastings = (struct ab_list){ 0 };
	wc_taste(&panel);
	ck_assert_double_eq_tol(wc_evidence_of("diacetyl", blind_taster("ann", "buttery")).sensitivity, 0.64, 1e-12);
}
END_TEST

START_TEST(feared_only)
{
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	struct ab_found *f = wc_push(&t->found, sizeof *f);
	*f = (struct ab_found){ .fault = "pellicle", .intensity = { 5, 1, true, false, 0 }, .feared = AB_YES };
	ck_assert_int_eq(wc_evidence_of("pellicle", NULL).grade, 1);
}
END_TEST

/* A worry beside what was tasted is no finding, and weighs nothing. */
START_TEST(feared_beside_tasted)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "diacetyl", 2 } } };
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	struct ab_found *f = wc_push(&t->found, sizeof *f);
	*f = (struct ab_found){ .fault = "pellicle", .intensity = { 5, 1, true, false, 0 }, .feared = AB_YES };
	ck_assert_int_eq(wc_evidence_of("pellicle", NULL).seen, AB_SEEN_FOUND);
	ck_assert(wc_plainly()->evidence.feared);
	wc_taste(&sheet);
	ck_assert(!wc_plainly()->evidence.feared);
	ck_assert_int_eq(wc_evidence_of("pellicle", NULL).seen, AB_SEEN_NOTHING);
	ck_assert_int_eq(wc_evidence_of("diacetyl", NULL).seen, AB_SEEN_FOUND);
	ck_assert_double_eq(wc_plainly()->fault_intensity[ab_fault_find(wc.k, "pellicle")], 0);
}
END_TEST

/* A fear that proves empty was no taste. */
START_TEST(feared_and_not_there)
{
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	struct ab_found *f = wc_push(&t->found, sizeof *f);
	*f = (struct ab_found){ .fault = "pellicle", .intensity = { 5, 1, true, false, 0 }, .feared = AB_YES };
	t = wc_push(&wc.batch->tastings, sizeof *t);
	((struct ab_absent *)wc_push(&t->absent, sizeof(struct ab_absent)))->fault = "pellicle";
	ck_assert_int_eq(wc_evidence_of("pellicle", NULL).seen, AB_SEEN_ABSENT);
}
END_TEST

START_TEST(intensity_not_told)
{
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	((struct ab_found *)wc_push(&t->found, sizeof(struct ab_found)))->fault = "pellicle";
	ck_assert_int_eq(wc_evidence_of("pellicle", NULL).grade, 2);
}
END_TEST

/* What was typed, what it was taken for, and how strong: a word that is misread must be seen before it misleads. */
START_TEST(told_back)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "buttery", 2 }, { "sour", 0 } } };
	static const char *const said[] = { "found: buttery (diacetyl), intensity 2",
		"judged absent: sour (sour-lactic)" };

	wc_taste(&sheet);
	const struct ab_case *c = wc_plainly();
	ck_assert_uint_eq(c->n_counted, sizeof said / sizeof *said);
	for (size_t i = 0; i < c->n_counted; i++)
		ck_assert_str_eq(c->counted[i].text, said[i]);
	struct ab_found *f = ((struct ab_tasting *)wc.batch->tastings.items)->found.items;
	f->intensity.known = false;
	ck_assert_str_eq(wc_plainly()->counted[0].text,
	    "found: buttery (diacetyl), intensity 3 (not told: taken for moderate)");
	f->fault = "diacetyl";
	f->feared = AB_YES;
	ck_assert_str_eq(wc_plainly()->counted[0].text, "feared, not found: diacetyl");
}
END_TEST

START_TEST(unknown_words)
{
	struct ab_evidence e;
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	struct ab_found *f = wc_push(&t->found, sizeof *f);
	f->fault = "diacetil";
	f->mark.line = 12;
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_EINPUT);
	ck_assert_str_eq(wc.diag.source, "b.xml");
	ck_assert_int_eq(wc.diag.line, 12);
	ck_assert_str_eq(wc.diag.text, "no fault is called \"diacetil\"; do you mean \"diacetyl\"?");
	wc.batch->tastings = (struct ab_list){ 0 };
	ab_diag_init(&wc.diag);
	ck_assert_int_eq(
	    ab_case_evidence(wc.k, wc.batch, blind_taster("x", "blah"), wc.facts, wc.arena, &e, &wc.diag),
	    AB_EINPUT);
	ck_assert_str_eq(wc.diag.source, "brewery.xml");
	ck_assert_int_eq(wc.diag.line, 7);
}
END_TEST

/* says NULL: nothing odd. The sheet's numbers are its lines. */
static const struct { const char *title, *found, *absent, *says; } contradicted[] = {
	{ "two words for one fault", "gravity too high", "sweet",
	  "\"sweet\" is absent and \"gravity too high\" found (line 4) in one tasting, and both are "
	  "\"Too sweet, gravity too high\" here" },
	{ "a word and the fault's own name", "buttery", "diacetyl", "both are \"Butter (diacetyl)\"" },
	{ "two faults", "gravity too high", "sour", NULL },
	{ "no word of the rules", "goblins", "sweet", NULL },
	{ "a word that is none looked for", "sweet", "goblins", NULL },
	{ "two words that are none", "goblins", "gremlins", NULL },
};

START_TEST(found_and_absent)
{
	struct ab_list odd = { NULL, 0, 0 };
	struct ab_tasting *t = wc_push(&wc.batch->tastings, sizeof *t);
	*(struct ab_found *)wc_push(&t->found, sizeof(struct ab_found)) =
	    (struct ab_found){ .mark.line = 4, .fault = contradicted[_i].found };
	*(struct ab_absent *)wc_push(&t->absent, sizeof(struct ab_absent)) =
	    (struct ab_absent){ .mark.line = 5, .fault = contradicted[_i].absent };
	/* found by one and missed by the other is no contradiction */
	t = wc_push(&wc.batch->tastings, sizeof *t);
	*(struct ab_absent *)wc_push(&t->absent, sizeof(struct ab_absent)) =
	    (struct ab_absent){ .mark.line = 8, .fault = "too sweet" };
	ck_assert_int_eq(ab_case_odd(wc.k, wc.batch, wc.arena, &odd, &wc.diag), AB_OK);
	ck_assert_uint_eq(odd.n, contradicted[_i].says != NULL);
	const struct ab_odd *first = odd.items;
	if (first != NULL)
		ck_assert_msg(first->line == 5 && !first->untold && strstr(first->text, contradicted[_i].says) != NULL,
		    "%s: %ld: %s", contradicted[_i].title, first->line, first->text);
}
END_TEST

START_TEST(checks_done)
{
	struct ab_evidence e;
	int at = ab_check_find(wc.k, "forced-diacetyl");
	ck_assert_int_ge(at, 0);
	*(struct ab_test *)wc_push(&wc.batch->tests, sizeof(struct ab_test)) =
	    (struct ab_test){ .kind = "forced-diacetyl", .result = AB_NO };
	*(struct ab_test *)wc_push(&wc.batch->tests, sizeof(struct ab_test)) =
	    (struct ab_test){ .kind = "forced-diacetyl", .result = AB_YES };
	*(struct ab_test *)wc_push(&wc.batch->tests, sizeof(struct ab_test)) =
	    (struct ab_test){ .kind = "forced-diacetyl" };
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_OK);
	ck_assert_int_eq(e.check[at], 1);
	ck_assert_int_eq(e.family, -1);
	*(struct ab_test *)wc_push(&wc.batch->tests, sizeof(struct ab_test)) =
	    (struct ab_test){ .mark = { 9, false }, .kind = "forced-diacetil" };
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_EINPUT);
	ck_assert_int_eq(wc.diag.line, 9);
	ck_assert_ptr_nonnull(strstr(wc.diag.text, "do you mean \"forced-diacetyl\"?"));
	((struct ab_test *)wc.batch->tests.items)[3].kind = "weigh-cylinder";
	ab_diag_init(&wc.diag);
	ck_assert_int_eq(ab_case_evidence(wc.k, wc.batch, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_EINPUT);
	ck_assert_ptr_nonnull(strstr(wc.diag.text, "goes into a <note>"));
}
END_TEST

/* ---- the whole pipe ---- */

static double severity(const char *fault)
{
	return wc.k->faults[ab_fault_find(wc.k, fault)].severity;
}

START_TEST(flaw_load)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "diacetyl", 3 }, { "metallic", 1 } } };
	wc_taste(&sheet);
	const struct ab_case *c = wc_plainly();
	ck_assert_double_eq_tol(c->load, 2 * severity("diacetyl") + severity("metallic"), 1e-12);
	ck_assert_double_eq_tol(c->load_low, severity("diacetyl"), 1e-12);
	ck_assert_double_eq_tol(c->load_high, 3 * severity("diacetyl") + severity("metallic"), 1e-12);
	ck_assert_double_eq_tol(c->fault_load[ab_fault_find(wc.k, "metallic")], severity("metallic"), 1e-12);
	ck_assert_double_eq(c->fault_intensity[ab_fault_find(wc.k, "diacetyl")], 3);
	ck_assert(c->tasted);
}
END_TEST

START_TEST(load_follows_the_family)
{
	static const struct wc_sheet sheet = { "A", 1, 0, 0, { { "diacetyl", 2 }, { "clove-phenolic", 3 } } };
	wc_taste(&sheet);
	wc.batch->family = 5;   /* wheat: clove belongs there */
	ck_assert_str_eq(wc.k->families[4].id, "wheat");
	ck_assert_double_eq_tol(wc_plainly()->load, severity("diacetyl"), 1e-12);
	wc.batch->family = 2;   /* pale lager: butter weighs more */
	double factor = 0;
	for (size_t i = 0; i < wc.k->families[1].n_hurts; i++)
		if (wc.k->families[1].hurts[i].fault == ab_fault_find(wc.k, "diacetyl"))
			factor = wc.k->families[1].hurts[i].factor;
	ck_assert_double_gt(factor, 1);
	ck_assert_double_eq_tol(
	    wc_plainly()->load, factor * severity("diacetyl") + 2 * severity("clove-phenolic"), 1e-12);
}
END_TEST

START_TEST(gone_weighs_nothing)
{
	static const struct wc_sheet first = { "A", 1, 0, 0, { { "diacetyl", 4 } } },
				     later = { "A", 30, 0, 0, { { "diacetyl", 0 } } };
	size_t diacetyl = (size_t)ab_fault_find(wc.k, "diacetyl");
	wc_taste(&first);
	ck_assert(!ab_case_gone(wc_plainly(), diacetyl));
	wc_taste(&later);
	const struct ab_case *c = wc_plainly();
	ck_assert(ab_case_gone(c, diacetyl) && !ab_case_gone(c, (size_t)ab_fault_find(wc.k, "papery")));
	ck_assert_double_eq(c->load, 0);
	ck_assert_double_eq(c->fault_intensity[diacetyl], 0);
	ck_assert(!c->diagnosis->nothing_found && c->diagnosis->n_suspects > 0);
}
END_TEST

START_TEST(not_tasted)
{
	const struct ab_case *c = wc_plainly();
	ck_assert(!c->tasted && isnan(c->load) && isnan(c->load_low));
	ck_assert(c->diagnosis->nothing_found);
}
END_TEST

START_TEST(tasted_clean)
{
	static const struct wc_sheet sheet = { "A", 1, 0, AB_YES, { { NULL, 0 } } };
	wc_taste(&sheet);
	ck_assert_double_eq(wc_plainly()->load, 0);
}
END_TEST

/* ---- from faults alone ---- */

START_TEST(from_faults)
{
	static const char *const words[] = { "buttery", "green apple" };
	static const double intensity[] = { 5, (double)NAN };
	struct ab_batch *made;
	struct ab_evidence e;
	ck_assert_int_eq(
	    ab_case_from_faults(wc.k, words, intensity, 2, "Pale Lager", wc.arena, &made, &wc.diag), AB_OK);
	ck_assert_int_eq(made->family, 2);
	ck_assert_int_eq(ab_case_evidence(wc.k, made, NULL, wc.facts, wc.arena, &e, &wc.diag), AB_OK);
	ck_assert_int_eq(e.family, 1);
	ck_assert_int_eq(e.finding[ab_fault_find(wc.k, "diacetyl")].grade, 3);
	ck_assert_int_eq(e.finding[ab_fault_find(wc.k, "acetaldehyde")].grade, 2);
	ck_assert_int_eq(e.finding[ab_fault_find(wc.k, "papery")].seen, AB_SEEN_ABSENT);
}
END_TEST

static const struct { const char *word; double intensity; const char *family, *says; } refused[] = {
	{ "butterry", 3, NULL, "no fault is called \"butterry\"" },
	{ "full-bodied", 3, NULL, "\"full-bodied\" is no fault, but the opposite of \"Thin\" (thin-body); say whether "
	  "that one was found or absent, or write a note" },
	{ "buttery", 6, NULL, "\"buttery\" has intensity 6; allowed is 1 (barely there) to 5 (undrinkable)" },
	{ "buttery", 0, NULL, "\"buttery\" has intensity 0; allowed is 1 (barely there) to 5 (undrinkable)" },
	{ "buttery", 3, "wheaty", "there is no style family \"wheaty\"; do you mean \"wheat\"?" },
	{ "buttery", 3, "zzz", "there is no style family \"zzz\"" },
};

START_TEST(from_faults_refused)
{
	struct ab_batch *made;
	ck_assert_int_eq(ab_case_from_faults(wc.k, &refused[_i].word, &refused[_i].intensity, 1, refused[_i].family,
			     wc.arena, &made, &wc.diag),
	    AB_EUSAGE);
	ck_assert_msg(strncmp(wc.diag.text, refused[_i].says, strlen(refused[_i].says)) == 0, "%s", wc.diag.text);
	ck_assert_ptr_null(made);
}
END_TEST

START_TEST(out_of_memory)
{
	static const char *const words[] = { "buttery", "over-carbonated" };
	const struct ab_diagnose_options options = { .reasons = true, .redraws = 10 };
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 5000; at++) {
		struct ab_arena *own = ab_arena_new();
		struct ab_batch *made = NULL;
		struct ab_case *c;
		ab_diag_init(&wc.diag);
		ab_alloc_fail_at(at);
		st = ab_case_from_faults(wc.k, words, NULL, 2, NULL, own, &made, &wc.diag);
		if (st == AB_OK)
			st = ab_case_work(wc.k, made, NULL, &options, own, &c, &wc.diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", at, wc.diag.text);
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("casework");
	TCase *tc = tcase_create("casework");
	tcase_set_timeout(tc, 60);
	tcase_add_unchecked_fixture(tc, wc_read_rules, rules_drop);
	tcase_add_checked_fixture(tc, wc_set_up, wc_tear_down);
	tcase_add_test(tc, flaw_load);
	tcase_add_test(tc, load_follows_the_family);
	tcase_add_test(tc, gone_weighs_nothing);
	tcase_add_test(tc, not_tasted);
	tcase_add_test(tc, tasted_clean);
	tcase_add_test(tc, from_faults);
	tcase_add_loop_test(tc, from_faults_refused, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, out_of_memory);
	tcase_add_loop_test(tc, combine, 0, sizeof combined / sizeof *combined);
	tcase_add_test(tc, one_malt_one_hop_hides_less);
	tcase_add_test(tc, blind_spots);
	tcase_add_test(tc, feared_only);
	tcase_add_test(tc, feared_and_not_there);
	tcase_add_test(tc, feared_beside_tasted);
	tcase_add_test(tc, intensity_not_told);
	tcase_add_test(tc, told_back);
	tcase_add_test(tc, unknown_words);
	tcase_add_loop_test(tc, found_and_absent, 0, sizeof contradicted / sizeof *contradicted);
	tcase_add_test(tc, checks_done);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
