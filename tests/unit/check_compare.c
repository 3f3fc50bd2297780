/* check_compare.c - two brews side by side: what differs, what only seems to, and what matters first
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/compare.h>
#include "base/alloc.h"
#include "rulecase.h"

static struct ab_arena *arena;
static struct ab_diag diag;

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	rules_read();
}

static void end(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static const struct ab_case *work(const char *id, const char *inside)
{
	char text[2048];
	struct ab_batch *batch = NULL;
	struct ab_case *c = NULL;
	const struct ab_diagnose_options options = { 0 };
	int len = snprintf(text, sizeof text,
	    "<batch xmlns='urn:afterboil:journal:1' id='%s' brewed='2031-03-07' line='pale'>"
	    "<yeast class='clean-ale'/><pitch at='2031-03-07T18:00'/>%s</batch>",
	    id, inside);
	enum ab_status st = ab_journal_read_memory(text, (size_t)len, "b.xml", NULL, arena, keep, &batch, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", inside, diag.text);
	ck_assert_int_eq(ab_case_work(rules, batch, NULL, &options, arena, &c, &diag), AB_OK);
	return c;
}

static struct ab_comparison *compare(const char *a, const char *b)
{
	struct ab_comparison *c = NULL;
	ck_assert_int_eq(ab_compare(rules, work("a", a), work("b", b), arena, &c, &diag), AB_OK);
	return c;
}

static const struct ab_compare_fact *find(const struct ab_comparison *c, const char *name)
{
	for (size_t i = 0; i < c->n_facts; i++)
		if (strcmp(rules->facts->defs[c->facts[i].slot].name, name) == 0)
			return &c->facts[i];
	return NULL;
}

#define WARM "<reading at='+1d' wort='27 C'/><reading at='+2d' wort='27 C'/>"
#define COOL "<reading at='+1d' wort='19 C'/><reading at='+2d' wort='19 C'/>"
#define HOT "<tasting at='2031-04-07' complete='yes'><found fault='hot alcohol' intensity='4'/></tasting>"
#define CLEAN "<tasting at='2031-04-07' complete='yes'/>"

static const struct { const char *title, *a, *b, *fact; bool differs; } rows[] = {
	{ "much warmer", COOL, WARM, "ferment.early-mean", true },
	{ "warmer by less than a thermometer tells", COOL,
	    "<reading at='+1d' wort='19.2 C'/><reading at='+2d' wort='19.2 C'/>", "ferment.early-mean", false },
	{ "the same", COOL, COOL, "ferment.early-mean", false },
	{ "a flag", "<transfer splashed='yes'/>", "<transfer splashed='no'/>", "transfer.splashed", true },
	{ "a word", "<vessel kind='bucket'/>", "<vessel kind='glass'/>", "vessel.kind", true },
	{ "told of one only", "<transfer splashed='yes'/>", "", "transfer.splashed", false },
	{ "a count", "<yeast generation='1'/>", "<yeast generation='2'/>", "yeast.generation", true },
};

START_TEST(what_differs)
{
	const struct ab_comparison *c = compare(rows[_i].a, rows[_i].b);
	ck_assert_msg((find(c, rows[_i].fact) != NULL) == rows[_i].differs, "%s", rows[_i].title);
}
END_TEST

/* Heat speaks for fusel alcohol; a vessel's material hardly: the blamed cause's fact comes first. */
START_TEST(what_matters_comes_first)
{
	const struct ab_comparison *c =
	    compare(COOL "<vessel kind='bucket'/>" CLEAN, WARM "<vessel kind='glass'/>" HOT);
	const struct ab_compare_fact *heat = find(c, "ferment.early-mean-over"), *vessel = find(c, "vessel.kind");
	ck_assert(heat != NULL && vessel != NULL && heat < vessel);
	ck_assert(c->facts[0].blamed >= heat->blamed && heat->blamed > vessel->blamed);
	ck_assert_int_eq(heat->cause, ab_cause_find(rules, "ferment-too-warm"));
	ck_assert(heat->p_b > heat->p_a);
	ck_assert_uint_eq(c->n_faults, 1);
	ck_assert(c->faults[0].a == 0 && c->faults[0].b == 4);
	ck_assert(c->n_causes > 0 && c->causes[0].b > c->causes[0].a);
	for (size_t i = 1; i < c->n_facts; i++)
		ck_assert(c->facts[i - 1].blamed >= c->facts[i].blamed);
}
END_TEST

/* p with one fact exchanged is what the cause's own odds say of such facts. */
START_TEST(chances_are_the_rules_own)
{
	const struct ab_comparison *c = compare(COOL CLEAN, WARM HOT);
	const struct ab_compare_fact *heat = find(c, "ferment.early-mean-over");
	struct ab_fact *facts = ab_arena_alloc(arena, rules->facts->n, sizeof *facts);
	const struct ab_cause *cause = &rules->causes[heat->cause];
	double p[2][2];   /* everything else as in a, as in b; this fact of a, of b */
	for (int rest = 0; rest < 2; rest++)
		for (int own = 0; own < 2; own++) {
			memcpy(facts, (rest == 0 ? c->a : c->b)->facts, rules->facts->n * sizeof *facts);
			facts[heat->slot] = (own == 0 ? c->a : c->b)->facts[heat->slot];
			p[rest][own] = 1 / (1 + exp(-ab_cause_log_odds(cause, facts, NULL)));
		}
	bool back = fabs(heat->p_a - p[0][0]) >= 1e-12;
	ck_assert(fabs(heat->p_a - p[back][0]) < 1e-12 && fabs(heat->p_b - p[back][1]) < 1e-12);
	ck_assert_double_ge(fabs(p[back][1] - p[back][0]) + 1e-12, fabs(p[!back][1] - p[!back][0]));
}
END_TEST

/* Which of the two is named first makes no difference to what matters: beside a second sign of the heat an exchange
 * of one alone moves little one way, and much the other. */
START_TEST(either_way_round)
{
	const struct ab_comparison *c = compare(COOL CLEAN, WARM HOT), *r = compare(WARM HOT, COOL CLEAN);
	ck_assert_uint_eq(c->n_facts, r->n_facts);
	for (size_t i = 0; i < c->n_facts; i++) {
		const struct ab_compare_fact *x = &c->facts[i], *y = find(r, rules->facts->defs[x->slot].name);
		ck_assert(y != NULL && fabs(x->blamed - y->blamed) < 1e-12 && fabs(x->any - y->any) < 1e-12);
		ck_assert(fabs(x->p_a - y->p_b) < 1e-12 && fabs(x->p_b - y->p_a) < 1e-12);
	}
	ck_assert(find(c, "ferment.early-mean-over")->blamed > 0.1);
}
END_TEST

/* Told of one only: it may be the difference that matters most, and is named with what it bears on. */
START_TEST(told_of_one)
{
	const struct ab_comparison *c = compare("<vessel kind='bucket'/>" CLEAN, WARM HOT);
	int heat = ab_fact_slot(rules->facts, "ferment.early-mean-over");
	size_t at = 0;
	while (at < c->n_untold && c->untold[at].slot != heat)
		at++;
	ck_assert_uint_lt(at, c->n_untold);
	ck_assert_int_eq(c->untold[at].cause, ab_cause_find(rules, "ferment-too-warm"));
	ck_assert_double_gt(c->untold[at].p_b, c->untold[at].p_a + 0.1);
	ck_assert_uint_le(c->n_untold, c->one_sided);
	for (size_t i = 0; i < c->n_untold; i++) {
		bool of_a = AB_FACT_KNOWN(&c->a->facts[c->untold[i].slot]),
		     of_b = AB_FACT_KNOWN(&c->b->facts[c->untold[i].slot]);
		ck_assert(of_a != of_b && c->untold[i].blamed > 0 &&
		    (i == 0 || c->untold[i - 1].blamed >= c->untold[i].blamed));
	}
}
END_TEST

START_TEST(like_itself)
{
	const struct ab_comparison *c = compare(WARM HOT, WARM HOT);
	ck_assert(c->n_facts == 0 && c->n_causes == 0 && c->one_sided == 0 && c->n_untold == 0 && c->same > 5);
	ck_assert_uint_eq(c->n_faults, 1);
}
END_TEST

START_TEST(short_of_memory)
{
	const struct ab_case *a = work("a", COOL CLEAN), *b = work("b", WARM HOT);
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 100; at++) {
		struct ab_comparison *c;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		struct ab_arena *own = ab_arena_new();
		st = own == NULL ? AB_ENOMEM : ab_compare(rules, a, b, own, &c, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(own);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

/* ---- what words of a brewer mean a change ---- */

static const struct { const char *words, *id; size_t near; } said[] = {
	{ "water-bath-ice", "water-bath-ice", 0 }, { "Tub of water", "water-bath-ice", 0 },
	{ "cap on foam", "cap-on-foam", 0 },
	{ "capped on the foam", "cap-on-foam", 0 }, { "fridge", NULL, 4 }, { "cap-on-foom", NULL, 1 },
	{ "moved the shed", NULL, 0 }, { "the", NULL, 0 }, { "", NULL, 0 },
	/* by what who does it says: in any order, with any ending, small words left out or not */
	{ "two packs of the yeast", "two-packs", 0 }, { "a second pack", NULL, 1 },
	{ "Starter", "starter-jar", 0 }, { "we made a starter", "starter-jar", 0 },
	{ "fermenting cooler", "coolest-room", 0 }, { "cooler fermentation", "coolest-room", 0 },
	{ "replacing hoses", "replace-soft-plastics", 0 }, { "a new hose", "replace-soft-plastics", 0 },
	{ "changed yeast", "match-yeast-to-style", 0 }, { "yeast changed by my cousin", NULL, 0 },
	/* none says all of it and no more: what comes near */
	{ "a bath", NULL, 2 }, { "heavier lid", NULL, 0 },
};

START_TEST(words_mean_changes)
{
	const char *near[4];
	size_t n = 9;
	int place = ab_change_word(rules, said[_i].words, near, 4, &n);
	if (said[_i].id != NULL)
		ck_assert_msg(place >= 0 && strcmp(rules->changes[place].id, said[_i].id) == 0 && n == 0, "%s: %d",
		    said[_i].words, place);
	else
		ck_assert_msg(place < 0 && n == said[_i].near, "%s: %d, %zu near", said[_i].words, place, n);
}
END_TEST

/* ---- what a word for a trouble is in the wrong attribute ---- */

static const struct { enum ab_trouble_kind kind; const char *word, *says; } troubles[] = {
	{ AB_TROUBLE_FAULT, "old-or-weak-yeast",
	    "it is a cause: write cause=\"old-or-weak-yeast\" in place of fault=" },
	{ AB_TROUBLE_FAULT, "Old or weak yeast",
	    "it is a cause: write cause=\"old-or-weak-yeast\" in place of fault=" },
	{ AB_TROUBLE_FAULT, "slow chilling", "it is a chore: write chore=\"slow chilling\", and a cause: write "
	    "cause=\"slow-chill\" in place of fault=" },
	{ AB_TROUBLE_CAUSE, "buttery", "it is a fault: write fault=\"buttery\" in place of cause=" },
	{ AB_TROUBLE_CHORE, "buttery", "it is a fault: write fault=\"buttery\" in place of chore=" },
	{ AB_TROUBLE_CAUSE, "old-or-weak-yeats", "near it: \"old-or-weak-yeast\"" },
	{ AB_TROUBLE_CAUSE, "old yeast", "write cause=\"old-or-weak-yeast\"" },
	{ AB_TROUBLE_FAULT, "goblins", "" },
};

START_TEST(troubles_are_told_apart)
{
	char buf[300], small[12];
	ck_assert_str_eq(
	    ab_trouble_instead(rules, troubles[_i].kind, troubles[_i].word, buf, sizeof buf), troubles[_i].says);
	ab_trouble_instead(rules, troubles[_i].kind, troubles[_i].word, small, sizeof small);
	ck_assert_uint_lt(strlen(small), sizeof small);
}
END_TEST

/* What is near a check that is called otherwise: by how it is done, too; want NULL: nothing is. */
static const struct { const char *words, *want; size_t n; } near_checks[] = {
	{ "soapy-water", "cap-under-water", 1 }, { "leak", "cap-under-water", 1 }, { "rub-hand", "smell-the-hops", 1 },
	{ "forced-diacetil", "forced-diacetyl", 1 }, { "weigh-cylinder", NULL, 0 }, { "the", NULL, 0 },
	{ "minimum-maximum", "two-thermometers-overnight", 1 }, { "blind-glasses", "second-taster", 1 },
	{ "suspected", "smell-the-hoses", 2 },
};

START_TEST(check_is_near)
{
	enum { MOST = 3 };
	const char *near[MOST] = { NULL };
	size_t n = 0;
	ck_assert_int_eq(ab_check_word(rules, near_checks[_i].words, near, MOST, &n), -1);
	ck_assert_msg(n == near_checks[_i].n, "%s: %zu, %s, %s", near_checks[_i].words, n, near[0], near[1]);
	if (n > 0)
		ck_assert_str_eq(near[0], near_checks[_i].want);
}
END_TEST

/* Every change is known by its id and its title. */
START_TEST(ids_and_titles)
{
	size_t n;
	for (size_t i = 0; i < rules->n_causes; i++) {
		ck_assert_int_eq(ab_cause_word(rules, rules->causes[i].id, NULL, 0, &n), (int)i);
		ck_assert_int_eq(ab_cause_word(rules, rules->causes[i].title, NULL, 0, &n), (int)i);
	}
	for (size_t i = 0; i < ab_asked_checks(rules); i++)
		ck_assert_int_eq(ab_check_word(rules, rules->checks[i].id, NULL, 0, &n), (int)i);
	for (size_t i = 0; i < rules->n_changes; i++) {
		ck_assert_int_eq(ab_change_word(rules, rules->changes[i].id, NULL, 0, &n), (int)i);
		ck_assert_int_eq(ab_change_word(rules, rules->changes[i].title, NULL, 0, &n), (int)i);
	}
}
END_TEST

#define N(list) ((int)(sizeof list / sizeof *list))

int main(void)
{
	Suite *s = suite_create("compare");
	TCase *t = tcase_create("compare");
	tcase_add_checked_fixture(t, begin, end);
	tcase_set_timeout(t, 60);
	tcase_add_loop_test(t, what_differs, 0, N(rows));
	tcase_add_test(t, what_matters_comes_first);
	tcase_add_test(t, chances_are_the_rules_own);
	tcase_add_test(t, either_way_round);
	tcase_add_test(t, told_of_one);
	tcase_add_test(t, like_itself);
	tcase_add_test(t, short_of_memory);
	tcase_add_loop_test(t, words_mean_changes, 0, N(said));
	tcase_add_loop_test(t, troubles_are_told_apart, 0, N(troubles));
	tcase_add_loop_test(t, check_is_near, 0, sizeof near_checks / sizeof *near_checks);
	tcase_add_test(t, ids_and_titles);
	suite_add_tcase(s, t);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed != 0;
}
