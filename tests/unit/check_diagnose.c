/* check_diagnose.c - ranked causes, against sums made by hand and by leaving things out for real
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <afterboil/diagnose.h>

#include "base/alloc.h"
#include "tiny.h"

enum { BUTTER, APPLE, FAULTS };
enum { WARM, COLD, MEANT };

static struct ab_fact facts[T_FACTS];
static struct ab_finding finding[FAULTS];
static signed char answers[8];   /* of the check, and of remedies behind it */
static struct ab_evidence evidence;
static const struct ab_knowledge *k;
static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	memset(facts, 0, sizeof facts);
	memset(finding, 0, sizeof finding);
	memset(answers, 0, sizeof answers);
	evidence = (struct ab_evidence){ finding, answers, -1, false };
	k = tiny_rules("");
	ck_assert_uint_le(k->n_checks, sizeof answers);
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	ab_arena_free(arena);
	tiny_clean();
}

static void find(int fault, int grade)
{
	finding[fault] = (struct ab_finding){ AB_SEEN_FOUND, grade, 0 };
}

static void miss(int fault, double sensitivity)
{
	finding[fault] = (struct ab_finding){ AB_SEEN_ABSENT, 0, sensitivity };
}

static struct ab_diagnosis *diagnose(struct ab_diagnose_options options)
{
	struct ab_diagnosis *d = NULL;
	enum ab_status st = ab_diagnose(k, facts, &evidence, &options, arena, &d, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return d;
}

static struct ab_diagnosis *plainly(void)
{
	return diagnose((struct ab_diagnose_options){ 0 });
}

static const struct ab_suspect *suspect(const struct ab_diagnosis *d, int cause)
{
	for (size_t i = 0; i < d->n_suspects; i++)
		if (d->suspects[i].cause == cause)
			return &d->suspects[i];
	ck_abort_msg("no suspect %d", cause);
	return NULL;
}

/* ---- by hand: two causes, one fault ---- */

/* Butter, slight. warm 0.2 with tails 0.6, sqrt(0.12); cold 0.1 with 0.3, sqrt(0.015); leak 0.02, 0.01.
 * P(no contributor above slight) and P(none at slight) over the four states; all of it is P(found). */
START_TEST(two_causes_by_hand)
{
	double w1 = 0.6, w2 = sqrt(0.6 * 0.2), c1 = 0.3, c2 = sqrt(0.3 * 0.05), l1 = 0.02, l2 = 0.01;
	double joint[2][2], all = 0, warm = 0, cold = 0, warm_blame = 0;
	for (int w = 0; w < 2; w++)
		for (int c = 0; c < 2; c++) {
			double p = (w ? 0.2 : 0.8) * (c ? 0.1 : 0.9);
			double upto = (w ? 1 - w2 : 1) * (c ? 1 - c2 : 1) * (1 - l2);
			double below = (w ? 1 - w1 : 1) * (c ? 1 - c1 : 1) * (1 - l1);
			joint[w][c] = p * (upto - below);
			all += joint[w][c];
			warm += w * joint[w][c];
			cold += c * joint[w][c];
			/* warm pushed: it is at slight, and the others at most there */
			warm_blame += w * p * (w1 - w2) * (c ? 1 - c2 : 1) * (1 - l2);
		}
	find(BUTTER, 1);
	const struct ab_diagnosis *d = plainly();
	ck_assert_double_eq_tol(exp(d->log_evidence), all, 1e-12);
	ck_assert_double_eq_tol(d->present[WARM], warm / all, 1e-12);
	ck_assert_double_eq_tol(d->present[COLD], cold / all, 1e-12);
	ck_assert_double_eq_tol(d->blame[WARM], warm_blame / all, 1e-12);
	ck_assert_double_eq_tol(d->alone[WARM], 0.2, 1e-12);
	ck_assert_int_eq(d->suspects[0].cause, WARM);
	ck_assert_double_eq(d->suspects[0].blame, d->blame[WARM]);
}
END_TEST

START_TEST(absent_by_hand)
{
	double warm = 0.2 * (1 - 0.8 * 0.6), not_warm = 0.8;
	miss(BUTTER, 0.8);
	const struct ab_diagnosis *d = plainly();
	ck_assert_double_eq_tol(d->present[WARM], warm / (warm + not_warm), 1e-12);
	ck_assert(d->nothing_found);
	ck_assert_uint_eq(d->n_suspects, 0);
}
END_TEST

/* Apple is at times butter called so: cold gives apple with tail 0.1 x that of butter. */
START_TEST(confused)
{
	miss(APPLE, 1);
	const struct ab_diagnosis *d = plainly();
	double cold = 0.1 * (1 - 0.1 * 0.3), warm = 0.2 * (1 - 0.4) * (1 - 0.1 * 0.6);
	ck_assert_double_eq_tol(d->present[COLD], cold / (cold + 0.9), 1e-12);
	ck_assert_double_eq_tol(d->present[WARM], warm / (warm + 0.8), 1e-12);
}
END_TEST

START_TEST(last_link_that_holds)
{
	miss(APPLE, 1);
	facts[T_CONTROL] = tiny_fact(0);
	double warm = 0.25 * 2 * (1 - 0.8) * (1 - 0.1 * 0.6);
	ck_assert_double_eq_tol(plainly()->present[WARM], warm / (1 + warm), 1e-12);
}
END_TEST

/* A yes to the check multiplies warm's odds by (1 - (1 - base)(1 - 0.7)) / base; a no by 1 - 0.7. */
START_TEST(answered_checks)
{
	double yes = 0.25 * (1 - 0.9 * 0.3) / 0.1, no = 0.25 * 0.3;
	answers[0] = 1;
	const struct ab_diagnosis *d = plainly();
	ck_assert_double_eq_tol(d->present[WARM], yes / (1 + yes), 1e-12);
	ck_assert_double_eq(d->blame[WARM], 0);   /* an answer is no fault */
	answers[0] = -1;
	ck_assert_double_eq_tol(plainly()->present[WARM], no / (1 + no), 1e-12);
	evidence.check = NULL;
	ck_assert_double_eq_tol(plainly()->present[WARM], 0.2, 1e-12);
}
END_TEST

/* ---- what is meant to be so ---- */

/* A trait that a cause "meant to be so" gives under no condition is of no yeast and no recipe: what is meant is the
 * family's to say. */
START_TEST(a_trait_of_every_beer)
{
	const struct ab_knowledge *of = tiny_rules(
	    "<fault id='pear' severity='1' source='e'><title>Pear</title><word>pears</word>"
	    "<leak noticeable='0.02' strong='0.01' source='e'/></fault>"
	    "<cause id='every' side='cold' stage='pitch' kind='benign' expects='yes'><title>X</title>"
	    "<why>so</why><prior p='0.5' source='e'/>"
	    "<gives fault='pear' noticeable='0.9' strong='0.8' source='e'/>"
	    "<gives fault='butter' noticeable='0.9' strong='0.8' source='e'><when fact='t.odd' is='yes'/>"
	    "</gives></cause>");
	int pear = ab_fault_find(of, "pear"), butter = ab_fault_find(of, "butter");
	struct ab_fact odd[T_FACTS] = { [T_ODD] = tiny_fact(1) };

	for (int grade = 1; grade <= 3; grade++) {
		ck_assert(ab_fault_expected(of, odd, 0, butter, grade));
		ck_assert(!ab_fault_expected(of, odd, 0, pear, grade));
	}
}
END_TEST

static const struct { int family, grade; double odd; bool expected; } traits[] = {
	{ 1, 1, 0, true }, { 1, 2, 0, true }, { 1, 3, 0, false }, { 0, 1, 0, false }, { -1, 1, 0, false },
	{ 0, 1, 1, true }, { 0, 2, 1, true }, { 0, 3, 1, false }, { 7, 1, 0, false },
};

START_TEST(expected_traits)
{
	evidence.family = traits[_i].family;
	facts[T_ODD] = tiny_fact(traits[_i].odd);
	find(APPLE, traits[_i].grade);
	const struct ab_diagnosis *d = plainly();
	ck_assert_msg(d->n_expected == traits[_i].expected, "row %d: %zu", _i, d->n_expected);
	ck_assert_msg(
	    ab_fault_expected(k, facts, traits[_i].family, APPLE, traits[_i].grade) == traits[_i].expected,
	    "row %d", _i);
	/* What the yeast brings now and then, above what is meant, competes all the same. */
	ck_assert_msg((d->blame[MEANT] > 0.1) == (traits[_i].expected || traits[_i].odd > 0), "row %d: %g", _i,
	    d->blame[MEANT]);
	ck_assert_double_eq(d->benign, d->blame[MEANT]);
}
END_TEST

START_TEST(nothing_is_wrong_can_win)
{
	evidence.family = 1;
	find(APPLE, 2);
	miss(BUTTER, 0.8);
	ck_assert(plainly()->verdict_benign);
	find(BUTTER, 3);
	ck_assert(!plainly()->verdict_benign);
}
END_TEST

/* An expected trait that is not there is no evidence against anything. */
START_TEST(absent_trait_is_silent)
{
	evidence.family = 1;
	miss(APPLE, 0.8);
	ck_assert_double_eq_tol(plainly()->present[MEANT], 0.3, 1e-12);
}
END_TEST

/* ---- lists ---- */

START_TEST(risks)
{
	facts[T_OVER] = tiny_fact(6);
	miss(BUTTER, 0.4);
	const struct ab_diagnosis *d = plainly();
	ck_assert_uint_eq(d->n_risks, 1);
	ck_assert_int_eq(d->risks[0], WARM);
	find(BUTTER, 2);
	ck_assert_uint_eq(plainly()->n_risks, 0);
}
END_TEST

START_TEST(unexplained)
{
	find(APPLE, 1);
	facts[T_SEALED] = tiny_fact(1);
	facts[T_CONTROL] = tiny_fact(2);   /* warm is impossible; cold gives apple hardly ever */
	const struct ab_diagnosis *d = plainly();
	ck_assert_uint_eq(d->n_unexplained, 1);
	ck_assert_int_eq(d->unexplained[0], APPLE);
	ck_assert_double_eq(d->blame[WARM], 0);
	facts[T_SEALED] = tiny_fact(0);
	facts[T_CONTROL] = tiny_fact(0);
	facts[T_OVER] = tiny_fact(6);
	ck_assert_uint_eq(plainly()->n_unexplained, 0);
}
END_TEST

START_TEST(story)
{
	facts[T_OVER] = tiny_fact(6);
	find(BUTTER, 2);
	find(APPLE, 1);
	const struct ab_diagnosis *d = plainly();
	ck_assert_uint_eq(d->n_story, 1);
	ck_assert_int_eq(d->story[0], WARM);
	ck_assert(d->story_share > 0 && d->story_share <= 1);
}
END_TEST

START_TEST(beliefs_only)
{
	find(BUTTER, 2);
	const struct ab_diagnosis *all = plainly(),
				  *d = diagnose((struct ab_diagnose_options){
				      .beliefs_only = true, .reasons = true, .redraws = 20 });
	ck_assert_double_eq_tol(d->present[WARM], all->present[WARM], 1e-12);
	ck_assert_double_eq_tol(d->blame[WARM], all->blame[WARM], 1e-12);
	ck_assert_double_eq_tol(d->log_evidence, all->log_evidence, 1e-12);
	ck_assert_uint_eq(d->n_suspects, 0);
}
END_TEST

START_TEST(alone)
{
	double p[3];
	facts[T_OVER] = tiny_fact(3);
	ab_alone(k, facts, p);
	ck_assert_double_eq_tol(p[WARM], 1.25 / 2.25, 1e-12);
	ck_assert_double_eq_tol(p[COLD], 0.1, 1e-12);
	facts[T_SEALED] = tiny_fact(1);
	facts[T_CONTROL] = tiny_fact(2);
	ab_alone(k, facts, p);
	ck_assert_double_eq(p[WARM], 0);
}
END_TEST

/* ---- properties ---- */

START_TEST(a_sign_for_raises_blame)
{
	double before = -1;
	find(BUTTER, 2);
	for (int over = -1; over <= 6; over++) {
		facts[T_OVER] = tiny_fact(over);
		double blame = plainly()->blame[WARM];
		ck_assert_msg(blame > before, "at %d K", over);
		before = blame;
	}
}
END_TEST

START_TEST(blame_within_present)
{
	for (int butter = 0; butter < 4; butter++)
		for (int apple = 0; apple < 4; apple++) {
			finding[BUTTER] = butter > 0 ? (struct ab_finding){ AB_SEEN_FOUND, butter, 0 }
						     : (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
			finding[APPLE] = apple > 0 ? (struct ab_finding){ AB_SEEN_FOUND, apple, 0 }
						   : (struct ab_finding){ AB_SEEN_ABSENT, 0, 0.4 };
			const struct ab_diagnosis *d = plainly();
			for (int i = 0; i < 3; i++)
				ck_assert(d->blame[i] >= 0 && d->blame[i] <= d->present[i] + 1e-12 &&
				    d->present[i] <= 1 + 1e-12);
			for (size_t i = 1; i < d->n_suspects; i++)
				ck_assert(d->suspects[i - 1].blame >= d->suspects[i].blame);
		}
}
END_TEST

START_TEST(kept_scratch)
{
	struct ab_net_scratch *scratch = ab_net_scratch_new();
	find(BUTTER, 2);
	double blame = plainly()->blame[WARM];
	for (int i = 0; i < 3; i++)
		ck_assert_double_eq(diagnose((struct ab_diagnose_options){ .scratch = scratch })->blame[WARM], blame);
	ab_net_scratch_free(scratch);
}
END_TEST

/* ---- reasons ---- */

static const struct ab_reason *reason(const struct ab_suspect *s, bool is_fault, int what)
{
	for (size_t i = 0; i < s->n_pro + s->n_con; i++) {
		const struct ab_reason *r = i < s->n_pro ? &s->pro[i] : &s->con[i - s->n_pro];
		if (r->is_fault == is_fault && (is_fault ? r->fault : r->slot) == what)
			return r;
	}
	ck_abort_msg("no such reason");
	return NULL;
}

/* An answered check is a reason of its own kind: no fault, no fact, and it says which check it was. */
START_TEST(reason_of_a_check)
{
	size_t n = 0;

	find(BUTTER, 2);
	answers[0] = 1;
	const struct ab_suspect *s = suspect(diagnose((struct ab_diagnose_options){ .reasons = true }), WARM);
	for (size_t i = 0; i < s->n_pro; i++) {
		ck_assert_int_eq(s->pro[i].is_check, !s->pro[i].is_fault && s->pro[i].slot < 0);
		if (!s->pro[i].is_check)
			continue;
		n++;
		ck_assert_int_eq(s->pro[i].check, 0);
		ck_assert_str_eq(s->pro[i].text + strlen(s->pro[i].text) - 4, "Yes.");
		ck_assert_double_lt(s->pro[i].blame_without, s->blame);
	}
	ck_assert_uint_eq(n, 1);
}
END_TEST

/* Every reason is held against the diagnosis without it. */
START_TEST(leaving_out_for_real)
{
	facts[T_OVER] = tiny_fact(4);
	facts[T_OVER].u = 0.5;
	facts[T_PEAK] = tiny_fact(5);
	facts[T_CONTROL] = tiny_fact(1);
	find(BUTTER, 3);
	find(APPLE, 1);
	const struct ab_suspect *s = suspect(diagnose((struct ab_diagnose_options){ .reasons = true }), WARM);
	const struct ab_reason *butter = reason(s, true, BUTTER), *over = reason(s, false, T_OVER);
	ck_assert_str_eq(butter->text, "found in the glass: butter (strong)");
	ck_assert_str_eq(over->text, "it was warm (warmth over the range: 4 K)");
	ck_assert(over->weight > 0);
	finding[BUTTER].seen = AB_SEEN_NOTHING;
	ck_assert_double_eq_tol(butter->blame_without, plainly()->blame[WARM], 1e-12);
	find(BUTTER, 3);
	facts[T_OVER].origin = AB_ORIGIN_UNKNOWN;   /* the peak, of the same group, takes its place */
	ck_assert_double_eq_tol(over->blame_without, plainly()->blame[WARM], 1e-10);
}
END_TEST

START_TEST(for_and_against)
{
	facts[T_OVER] = tiny_fact(-1);
	find(BUTTER, 2);
	miss(APPLE, 0.8);
	const struct ab_suspect *s = suspect(diagnose((struct ab_diagnose_options){ .reasons = true }), WARM);
	ck_assert_uint_eq(s->n_pro, 1);
	ck_assert(s->pro[0].is_fault && s->pro[0].blame_without < s->blame);
	ck_assert_uint_eq(s->n_con, 2);
	for (size_t i = 0; i < 2; i++)
		ck_assert(s->con[i].blame_without > s->blame);
	ck_assert(s->con[0].blame_without >= s->con[1].blame_without);
	ck_assert_str_eq(reason(s, true, APPLE)->text, "not found in the glass: green apple");
	ck_assert_str_eq(reason(s, false, T_OVER)->text, "it was cool (warmth over the range: -1 K)");
}
END_TEST

START_TEST(an_answer_is_a_reason)
{
	find(BUTTER, 2);
	answers[0] = 1;
	const struct ab_suspect *s = suspect(diagnose((struct ab_diagnose_options){ .reasons = true }), WARM);
	ck_assert_str_eq(reason(s, false, -1)->text, "Does it smell warm? Yes.");
	double without = reason(s, false, -1)->blame_without;
	answers[0] = 0;
	ck_assert_double_eq_tol(without, plainly()->blame[WARM], 1e-12);
}
END_TEST

/* ---- ranges ---- */

START_TEST(likely_range)
{
	find(BUTTER, 2);
	const struct ab_diagnosis *one = diagnose((struct ab_diagnose_options){ .redraws = 200, .seed = 7 });
	const struct ab_diagnosis *same = diagnose((struct ab_diagnose_options){ .redraws = 200, .seed = 7 });
	const struct ab_suspect *s = suspect(one, WARM);
	ck_assert(s->blame_low < s->blame && s->blame < s->blame_high);
	ck_assert(s->blame_low > 0 && s->blame_high < 1);
	ck_assert_double_eq(s->blame_low, suspect(same, WARM)->blame_low);
	ck_assert_double_eq(suspect(plainly(), WARM)->blame_low, s->blame);
}
END_TEST

/* ---- what to ask ---- */

START_TEST(next_questions)
{
	find(BUTTER, 2);
	const struct ab_diagnosis *d = diagnose((struct ab_diagnose_options){ .reasons = true });
	bool check = false, over = false;
	ck_assert_uint_ge(d->n_asks, 2);
	for (size_t i = 0; i < d->n_asks; i++) {
		const struct ab_ask *a = &d->asks[i];
		ck_assert(a->bits > 0 && a->worth > 0);
		ck_assert(i == 0 || d->asks[i - 1].worth >= a->worth);
		ck_assert(a->is_check || k->facts->defs[a->slot].asks != NULL);
		check |= a->is_check && a->check == 0 && a->wait_days > 0;
		over |= !a->is_check && a->slot == T_OVER;
	}
	ck_assert(check && over);
	ck_assert_uint_ge(d->n_unknown, 2);
}
END_TEST

START_TEST(what_is_known_is_not_asked)
{
	find(BUTTER, 2);
	facts[T_OVER] = tiny_fact(2);
	answers[0] = -1;
	const struct ab_diagnosis *d = diagnose((struct ab_diagnose_options){ .reasons = true });
	for (size_t i = 0; i < d->n_asks; i++)
		ck_assert(!d->asks[i].is_check && d->asks[i].slot != T_OVER);
	for (size_t i = 0; i < d->n_unknown; i++)
		ck_assert_int_ne(d->unknown[i], T_OVER);
}
END_TEST

/* A check of a fault's nature needs the fault: one that is about others is not offered, one about any of its faults
 * is. */
static const struct { const char *about; int found; bool offered; } abouts[] = {
	{ "", BUTTER, true }, { "about='butter'", BUTTER, true }, { "about='apple'", BUTTER, false },
	{ "about='apple butter'", BUTTER, true },
	{ "about='butter'", APPLE, false }, { "about='butter'", -1, false }, { "", -1, true },
};

START_TEST(a_check_about_a_fault_not_found)
{
	char more[300];
	bool offered = false;
	snprintf(more, sizeof more,
	    "<check id='look' base='0.1' minutes='1' %s source='e'><title>look</title><how>look</how>"
	    "<yes cause='warm' p='0.9' source='e'/><yes cause='cold' p='0.9' source='e'/></check>",
	    abouts[_i].about);
	k = tiny_rules(more);
	static signed char two[9];
	ck_assert_uint_le(k->n_checks, sizeof two);
	evidence.check = two;
	for (int f = 0; f < FAULTS; f++)
		if (f == abouts[_i].found)
			find(f, 2);
		else
			miss(f, 0.1);
	const struct ab_diagnosis *d = diagnose((struct ab_diagnose_options){ .reasons = true });
	int look = ab_check_find(k, "look");
	for (size_t i = 0; i < d->n_asks; i++)
		offered |= d->asks[i].is_check && d->asks[i].check == look;
	ck_assert_msg(offered == abouts[_i].offered, "row %d", _i);
}
END_TEST

static bool is_asked(const struct ab_diagnosis *d, int slot)
{
	bool asked = false;
	for (size_t i = 0; i < d->n_asks; i++)
		asked = asked || (!d->asks[i].is_check && d->asks[i].slot == slot);
	return asked;
}

/* No sign looks at it: sealed in a fridge, warm is impossible, so in a fridge it is worth asking; else nothing
 * hangs on it. */
START_TEST(what_only_a_gate_looks_at_is_asked)
{
	find(BUTTER, 2);
	ck_assert(!is_asked(diagnose((struct ab_diagnose_options){ .reasons = true }), T_SEALED));
	facts[T_CONTROL] = tiny_fact(2);
	ck_assert(is_asked(diagnose((struct ab_diagnose_options){ .reasons = true }), T_SEALED));
	facts[T_CONTROL] = tiny_fact(1);
	ck_assert(!is_asked(diagnose((struct ab_diagnose_options){ .reasons = true }), T_SEALED));
}
END_TEST

/* ---- failures ---- */

START_TEST(impossible)
{
	struct ab_diagnosis *d;
	struct ab_diagnose_options options = { 0 };
	struct ab_leak never = { .tail = { 1, 0, 0, 0 } };   /* no rules file may say so: reading refuses it */
	k->faults[BUTTER].leaks[0] = never;
	k->causes[WARM].n_links = k->causes[COLD].n_links = 0;
	for (size_t f = 0; f < k->n_faults; f++)
		k->report_at[f * k->n_causes + WARM] = k->report_at[f * k->n_causes + COLD] = 0;
	find(BUTTER, 2);
	ck_assert_int_eq(ab_diagnose(k, facts, &evidence, &options, arena, &d, &diag), AB_EIMPOSSIBLE);
	ck_assert_ptr_nonnull(strstr(diag.text, "Butter"));
	ck_assert_ptr_null(d);
}
END_TEST

START_TEST(out_of_memory)
{
	struct ab_diagnose_options options = { .reasons = true, .redraws = 10 };
	enum ab_status st = AB_ENOMEM;
	facts[T_OVER] = tiny_fact(3);
	find(BUTTER, 2);
	miss(APPLE, 0.8);
	for (long at = 0; st != AB_OK && at < 5000; at++) {
		struct ab_arena *own = ab_arena_new();
		struct ab_diagnosis *d;
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_diagnose(k, facts, &evidence, &options, own, &d, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || (st == AB_ENOMEM && diag.status == AB_ENOMEM), "allocation %ld: %d %s",
		    at, st, diag.text);
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* ---- words ---- */

static const struct { double p, low, high; const char *word; } likely[] = {
	{ 0.95, 0.9, 0.98, "almost certainly" }, { 0.95, 0.5, 0.99, "probably" }, { 0.95, 0.2, 0.99, "perhaps" },
	{ 0.7, 0.6, 0.8, "probably" },
	{ 0.7, 0.05, 0.9, "possibly" }, { 0.4, 0.3, 0.5, "perhaps" }, { 0.2, 0.1, 0.3, "possibly" },
	{ 0.05, 0.01, 0.1, "hardly" },
	{ 0.05, 0.01, 0.4, "possibly" }, { 0, 0, 0, "hardly" }, { 1, 1, 1, "almost certainly" },
	/* one step surer with the low end on the limit, one step less just below it */
	{ 0.95, 0.7, 0.99, "almost certainly" }, { 0.95, 0.69, 0.99, "probably" }, { 0.8, 0.3, 0.9, "probably" },
	{ 0.8, 0.29, 0.9, "perhaps" }, { 0.5, 0.1, 0.7, "perhaps" }, { 0.5, 0.09, 0.7, "possibly" },
	{ 0.05, 0.01, 0.29, "hardly" },
};

START_TEST(likely_words)
{
	ck_assert_str_eq(ab_likely_word(likely[_i].p, likely[_i].low, likely[_i].high), likely[_i].word);
}
END_TEST

START_TEST(grades)
{
	static const int want[] = { 1, 1, 2, 3, 3 };
	for (int i = 0; i < 5; i++)
		ck_assert_int_eq(ab_grade_of_intensity(i + 1), want[i]);
	ck_assert_str_eq(ab_grade_name(0), "none");
	ck_assert_str_eq(ab_grade_name(2), "moderate");
	ck_assert_str_eq(ab_grade_name(3), "strong");
}
END_TEST

static void add_more(TCase *tc)
{
	tcase_add_test(tc, leaving_out_for_real);
	tcase_add_test(tc, for_and_against);
	tcase_add_test(tc, an_answer_is_a_reason);
	tcase_add_test(tc, likely_range);
	tcase_add_test(tc, next_questions);
	tcase_add_test(tc, what_is_known_is_not_asked);
	tcase_add_loop_test(tc, a_check_about_a_fault_not_found, 0, sizeof abouts / sizeof *abouts);
	tcase_add_test(tc, what_only_a_gate_looks_at_is_asked);
	tcase_add_test(tc, impossible);
	tcase_add_test(tc, out_of_memory);
	tcase_add_loop_test(tc, likely_words, 0, sizeof likely / sizeof *likely);
	tcase_add_test(tc, grades);
}

int main(void)
{
	Suite *s = suite_create("diagnose");
	TCase *tc = tcase_create("diagnose");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, two_causes_by_hand);
	tcase_add_test(tc, absent_by_hand);
	tcase_add_test(tc, confused);
	tcase_add_test(tc, last_link_that_holds);
	tcase_add_test(tc, answered_checks);
	tcase_add_test(tc, reason_of_a_check);
	tcase_add_loop_test(tc, expected_traits, 0, sizeof traits / sizeof *traits);
	tcase_add_test(tc, a_trait_of_every_beer);
	tcase_add_test(tc, nothing_is_wrong_can_win);
	tcase_add_test(tc, absent_trait_is_silent);
	tcase_add_test(tc, risks);
	tcase_add_test(tc, unexplained);
	tcase_add_test(tc, story);
	tcase_add_test(tc, beliefs_only);
	tcase_add_test(tc, alone);
	tcase_add_test(tc, a_sign_for_raises_blame);
	tcase_add_test(tc, blame_within_present);
	tcase_add_test(tc, kept_scratch);
	add_more(tc);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
