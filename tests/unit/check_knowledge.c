/* check_knowledge.c - rules files become structs, folders are merged, bad ones refused with their place
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/casework.h>
#include <afterboil/facts.h>
#include "base/alloc.h"
#include "tiny.h"

static struct ab_arena *arena;
static struct ab_diag diag;

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void tear_down(void)
{
	ab_arena_free(arena);
	tiny_clean();
}

static enum ab_status read_two(const char *first, const char *second, struct ab_knowledge **k)
{
	const char *dirs[] = { first, second };
	return ab_knowledge_read(dirs, second == NULL ? 1 : 2, &tiny_facts, &tiny_vocabulary, arena, k, &diag);
}

START_TEST(counts_and_places)
{
	const struct ab_knowledge *k = tiny_rules("");
	ck_assert_uint_eq(k->n_faults, 2);
	ck_assert_uint_eq(k->n_causes, 3);
	ck_assert_uint_eq(k->n_changes, 2);
	ck_assert_uint_eq(ab_asked_checks(k), 1);
	ck_assert_uint_eq(k->n_checks, 1 + k->n_changes);
	ck_assert_uint_eq(k->n_families, 2);
	ck_assert_int_eq(ab_fault_find(k, "apple"), 1);
	ck_assert_int_eq(ab_cause_find(k, "cold"), 1);
	ck_assert_int_eq(ab_change_find(k, "fridge"), 1);
	ck_assert_int_eq(ab_check_find(k, "smell"), 0);
	ck_assert_int_eq(ab_yeast_find(k, "ale"), 0);
	ck_assert_int_eq(ab_family_find(k, "odd"), 1);   /* the order of the vocabulary, not of the file */
	ck_assert_int_eq(ab_fault_find(k, "pear"), -1);
}
END_TEST

START_TEST(a_cause)
{
	const struct ab_cause *c = &tiny_rules("")->causes[0];
	ck_assert_str_eq(c->title, "Too warm");
	ck_assert_str_eq(c->caution, "mind the heat");
	ck_assert_ptr_null(c->next);
	ck_assert_str_eq(ab_words_stage[c->stage], "ferment");
	ck_assert_int_eq(c->side, AB_SIDE_COLD);
	ck_assert(!c->benign && !c->expects);
	ck_assert_int_eq(c->line, 8);
	ck_assert_uint_eq(c->n_priors, 2);
	ck_assert(c->priors[0].source.estimate && !c->priors[1].source.estimate);
	ck_assert_int_eq(c->priors[1].when.items[0].slot, T_CONTROL);
	ck_assert(c->priors[1].when.items[0].words == 1ULL << 2);
	ck_assert_uint_eq(c->gates[0].when.n, 2);
	ck_assert_str_eq(c->gates[0].says, "it cannot");
	ck_assert_uint_eq(c->n_signs, 3);
	ck_assert_int_eq(c->signs[0].group, c->signs[1].group);
	ck_assert_int_eq(c->signs[2].group, -1);
	ck_assert_double_eq_tol(c->signs[0].log_ratio[3], log(15), 1e-12);
	ck_assert_double_eq_tol(c->signs[2].word_log_ratio[0], log(2), 1e-12);
	ck_assert_double_eq(c->signs[2].word_log_ratio[2], 0);
}
END_TEST

START_TEST(strengths)
{
	const struct ab_cause *c = &tiny_rules("")->causes[0];
	ck_assert_double_eq_tol(c->links[0].tail[2], sqrt(0.6 * 0.2), 1e-12);   /* not told: geometric mean */
	ck_assert_double_eq(c->links[1].tail[2], 0.3);                          /* told */
	ck_assert_double_eq(c->links[1].tail[0], 1);
	ck_assert_uint_eq(c->links[2].when.n, 1);
}
END_TEST

START_TEST(a_change_and_a_check)
{
	const struct ab_knowledge *k = tiny_rules("");
	const struct ab_change *c = &k->changes[1];
	ck_assert(!c->habit && c->noisy && !c->smoky && k->changes[0].habit);
	ck_assert_double_eq(c->cost, 120);
	ck_assert_double_eq(c->running_per_batch, 1);
	ck_assert_double_eq(c->running_per_year, 10);
	ck_assert_double_eq(c->minutes, 5);
	ck_assert_double_eq(c->once_minutes, 60);
	ck_assert_double_eq(c->attend_h, 12);
	ck_assert(isinf(k->changes[0].attend_h));   /* not told: it may be left alone */
	ck_assert_int_eq(c->space, 1);
	ck_assert_str_eq(c->group, "boxes");
	ck_assert_int_eq(c->needs[0], 0);
	ck_assert_uint_eq(c->n_only_for, 1);
	ck_assert_double_eq(c->not_for[0].items[0].value, 0.5);
	ck_assert_int_eq(k->changes[0].sets[0].mode, AB_SET_AT_MOST);
	ck_assert_double_eq(k->changes[0].sets[0].value, 1);
	ck_assert_int_eq(k->changes[0].sets[1].mode, AB_SET_TO);
	ck_assert_double_eq(k->changes[0].sets[1].value, 1);   /* "room" */
	ck_assert_double_eq(k->checks[0].wait_days, 2);
	ck_assert_double_eq(k->checks[0].yes[0].p, 0.7);
}
END_TEST

START_TEST(norms)
{
	const struct ab_norms *n = &tiny_rules("")->norms;
	ck_assert_double_eq_tol(n->yeasts[0].tolerated_low_c, (60 - 32) / 1.8, 1e-9);
	ck_assert_double_eq_tol(n->yeasts[0].att_low, 0.73, 1e-12);
	ck_assert_double_eq(n->yeasts[0].primary_days, 7);
	ck_assert_double_eq(n->yeasts[0].lag_h, 24);
	ck_assert(n->yeasts[0].fruity && !n->yeasts[0].lager);
	ck_assert_int_eq(n->sanitisers[0].word, 1);
	ck_assert_double_eq(n->sanitisers[0].contact_s, 60);
	ck_assert_double_eq(n->sanitisers[0].max_mix_age_d, 28);
	ck_assert_int_eq(n->bottles[0].word, 1);
	ck_assert_double_eq(n->bottles[0].limit_kpa, 300);
}
END_TEST

/* The kind as the journal's list writes it, the words as they stand there. */
START_TEST(malts)
{
	const struct ab_knowledge *k = tiny_rules(
	    "<malt id='black' kind='Dark' source='a book'><word>black malt</word><word>roast</word></malt>"
	    "<malt id='mine' kind='other' source='estimate'><word>grandmother's</word></malt>");
	ck_assert_uint_eq(k->n_malts, 2);
	ck_assert_str_eq(k->malts[0].kind, "dark");
	ck_assert_uint_eq(k->malts[0].n_words, 2);
	ck_assert_str_eq(k->malts[0].words[1], "roast");
	ck_assert(!k->malts[0].source.estimate && k->malts[1].source.estimate);
	ck_assert_str_eq(k->malts[1].words[0], "grandmother's");
}
END_TEST

/* As told, in days, kelvin, points and chances. The real rules tell every number, else they were refused. */
START_TEST(numbers)
{
	const struct ab_norms *n = &tiny_rules(
	    "<number id='gravity-still' is='2.6 d' source='e'/><number id='hung-still' is='2wk' source='e'/>"
	    "<number id='hangs-over' is='3' source='e'/><number id='too-warm-over' is='1.8 F' source='e'/>"
	    "<number id='missed-judged' is='0.3' source='e'/>")
					->norms;
	const char *dirs[] = { getenv("AFTERBOIL_RULES") },
		   *no_numbers = tiny_folder(tiny_body, "<number id='gravity-still' is='3 d' source='e'/>");
	struct ab_vocabulary all = tiny_vocabulary;
	struct ab_knowledge *k;

	ck_assert(n->numbers[AB_NUM_STILL_D] == 2.6 && n->numbers[AB_NUM_HUNG_STILL_D] == 14 &&
	    n->numbers[AB_NUM_HANGS_POINTS] == 3);
	ck_assert_double_eq_tol(n->numbers[AB_NUM_TOO_WARM_K], 1, 1e-12);
	ck_assert(n->numbers[AB_NUM_MISSED_JUDGED] == 0.3);
	ck_assert_int_eq(ab_knowledge_read(dirs, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag), AB_OK);
	for (size_t i = 0; i < AB_NUMBERS; i++)
		ck_assert_msg(k->norms.numbers[i] > 0, "%s", ab_words_number[i]);
	/* Told as 2.6 d, asked as 2.6: no rounding on the way may let a beer of 2.6 days wait. */
	ck_assert(k->norms.numbers[AB_NUM_STILL_D] == 2.6);
	all.numbers = ab_words_number;
	ck_assert_int_eq(ab_knowledge_read(&no_numbers, 1, &tiny_facts, &all, arena, &k, &diag), AB_EINPUT);
	ck_assert_ptr_nonnull(strstr(diag.text, "there is no <number id=\"slow-yeast-still\">"));
	ck_assert_ptr_nonnull(strstr(diag.text, "(and 28 more errors in the rules)"));
}
END_TEST

/* What a touch or a sign asks of days at one gravity and of points over the end repeats the numbers; "over 13.9" is
 * the fourteenth day. */
START_TEST(numbers_in_conditions)
{
	const char *dirs[] = { getenv("AFTERBOIL_RULES") };
	struct ab_knowledge *k;
	size_t seen = 0;

	ck_assert_int_eq(ab_knowledge_read(dirs, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag), AB_OK);
	int still = ab_fact_slot(k->facts, "gravity.stable-days"),
	    over = ab_fact_slot(k->facts, "gravity.over-expected");
	const double *number = k->norms.numbers;
	for (size_t i = 0; i < k->n_touches; i++) {
		const struct ab_touch *t = &k->touches[i];
		for (size_t j = 0; j < t->n_only_for + t->n_not_for; j++) {
			const struct ab_conds *all =
			    j < t->n_only_for ? &t->only_for[j] : &t->not_for[j - t->n_only_for];
			for (size_t c = 0; c < all->n; c++) {
				const struct ab_cond *cond = &all->items[c];
				bool bounds = cond->cmp == AB_CMP_OVER || cond->cmp == AB_CMP_UNDER;
				seen += bounds && (cond->slot == still || cond->slot == over);
				ck_assert_msg(!bounds || cond->slot != still ||
					cond->value == number[AB_NUM_STILL_D] ||
					fabs(cond->value - (number[AB_NUM_HUNG_STILL_D] - 0.1)) < 1e-9,
				    "touch %s: %g days", t->id, cond->value);
				ck_assert_msg(!bounds || cond->slot != over ||
					cond->value == number[AB_NUM_HANGS_POINTS] ||
					fabs(cond->value - 5) <= 0.011,
				    "touch %s: %g points", t->id, cond->value);
			}
		}
	}
	ck_assert_uint_ge(seen, 10);
}
END_TEST

START_TEST(families)
{
	const struct ab_knowledge *k = tiny_rules("");
	ck_assert_str_eq(k->families[0].id, "plain");
	ck_assert_int_eq(k->families[1].expects[0].grade, 2);
	ck_assert_double_eq(k->families[1].hurts[0].factor, 1.5);
	ck_assert_double_eq(k->families[1].co2_high, 3);
}
END_TEST

/* ---- several files ---- */

#define PEAR "<fault id='pear' severity='1' source='estimate'><title>Pear</title><word>pears</word>" \
	"<leak noticeable='0.02' strong='0.01' source='estimate'/></fault>" \
	"<cause id='fruit' side='cold' stage='pitch'><title>Fruit</title><why>so</why>" \
	"<prior p='0.1' source='estimate'/>" \
	"<gives fault='pear' noticeable='0.5' strong='0.1' source='estimate'/></cause>"

START_TEST(second_folder_adds)
{
	struct ab_knowledge *k;
	ck_assert_int_eq(read_two(tiny_folder(tiny_body, ""), tiny_folder(PEAR, ""), &k), AB_OK);
	ck_assert_uint_eq(k->n_faults, 3);
	ck_assert_int_eq(ab_fault_find(k, "pear"), 2);
}
END_TEST

START_TEST(replacing_keeps_the_place)
{
	struct ab_knowledge *k;
	const char *cold =
	    "<cause id='cold' replace='yes' side='cold' stage='ferment'><title>Much too cold</title><why>so</why>"
	    "<prior p='0.4' source='my own batches'/><gives fault='butter' noticeable='0.5' strong='0.1' "
	    "source='estimate'/></cause>";
	ck_assert_int_eq(read_two(tiny_folder(tiny_body, ""), tiny_folder(cold, ""), &k), AB_OK);
	ck_assert_uint_eq(k->n_causes, 3);
	ck_assert_str_eq(k->causes[1].title, "Much too cold");
	ck_assert_double_eq(k->causes[1].priors[0].p, 0.4);
}
END_TEST

START_TEST(files_in_order_of_name)
{
	const char *folder = tiny_folder(tiny_body, "");
	struct ab_knowledge *k;
	tiny_file(folder, "a.xml", TINY_OPEN PEAR TINY_CLOSE);
	tiny_file(folder, ".hidden.xml", "no rules");
	tiny_file(folder, "notes.txt", "no rules");
	ck_assert_int_eq(read_two(folder, NULL, &k), AB_OK);
	ck_assert_int_eq(ab_fault_find(k, "pear"), 0);
}
END_TEST

START_TEST(version_follows_the_bytes)
{
	char one[65], same[65], other[65];
	strcpy(one, tiny_rules("")->version);
	strcpy(same, tiny_rules("")->version);
	strcpy(other, tiny_rules("<!-- -->")->version);
	ck_assert_str_eq(one, same);
	ck_assert_str_ne(one, other);
	ck_assert_uint_eq(strspn(one, "0123456789abcdef"), 16);
}
END_TEST

/* ---- refusals ---- */

static const struct { const char *title, *more; enum ab_status want; long below; const char *says; } bad[] = {
	{ "twice", "<family id='odd'><title>o</title><carbonation low='1 vol' high='2 vol' source='x'/></family>",
	    AB_EINPUT, 0,
	  "is there already" },
	{ "replaces nothing",
	    "<bottle kind='longneck' replace='yes' limit='3 vol' limit-pressure='3 bar' source='x'/>", AB_EINPUT, 0,
	  "there is none of this name before it" },
	{ "unknown element", "<caus/>", AB_EINPUT, 0, "did you mean \"cause\"" },
	{ "unknown attribute", "\n<fault idd='x'/>", AB_EINPUT, 1, "\"idd\" is not known here" },
	{ "not well formed", "<fault", AB_EINPUT, 0, "" },
	{ "a doctype", "<!DOCTYPE x>", AB_EINPUT, 0, "" },
	{ "dangling", PEAR "<change id='x' kind='habit' side='cold' stage='pitch' source='e'>"
	    "<title>x</title>\n<prevents cause='fruits' share='0.1' "
	  "source='e'/></change>", AB_EINPUT, 1, "there is no cause \"fruits\"; did you mean \"fruit\"?" },
	{ "two errors", "<fault id='a' severity='1' source='x'><title/></fault>", AB_EINPUT, 0,
	    "(and 1 more errors in the rules)" },
};

/* Where the texts after tiny_body begin. */
static long first_line_after(void)
{
	long line = 2;
	for (const char *c = tiny_body; *c != '\0'; c++)
		line += *c == '\n';
	return line;
}

START_TEST(refusals)
{
	struct ab_knowledge *k;
	const char *folder = tiny_folder(tiny_body, bad[_i].more);
	char path[128];
	snprintf(path, sizeof path, "%s/rules.xml", folder);
	ck_assert_msg(read_two(folder, NULL, &k) == bad[_i].want, "%s: %s", bad[_i].title, diag.text);
	ck_assert_msg(strstr(diag.text, bad[_i].says) != NULL, "%s: %s", bad[_i].title, diag.text);
	ck_assert_msg(diag.line == first_line_after() + bad[_i].below, "%s: line %ld", bad[_i].title, diag.line);
	ck_assert_str_eq(diag.source, path);
	ck_assert_ptr_null(k);
}
END_TEST

START_TEST(no_folder)
{
	struct ab_knowledge *k;
	ck_assert_int_eq(read_two("/nowhere/at/all", NULL, &k), AB_ESYSTEM);
	ck_assert_str_eq(diag.source, "/nowhere/at/all");
	const char *none[] = { NULL };
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_knowledge_read(none, 0, &tiny_facts, &tiny_vocabulary, arena, &k, &diag), AB_EUSAGE);
}
END_TEST

START_TEST(no_rules_in_it)
{
	struct ab_knowledge *k;
	const char *folder = tiny_folder("", "");
	char path[128];
	snprintf(path, sizeof path, "%s/rules.xml", folder);
	remove(path);
	ck_assert_int_eq(read_two(folder, NULL, &k), AB_ESYSTEM);
	ck_assert_ptr_nonnull(strstr(diag.text, "no rules in this folder"));
}
END_TEST

/* Any allocation may fail: an error, no crash, nothing leaked (the sanitizers look). */
START_TEST(out_of_memory)
{
	const char *folder = tiny_folder(tiny_body, "");
	enum ab_status st = AB_ENOMEM;
	long at;
	for (at = 0; st != AB_OK && at < 5000; at++) {
		struct ab_knowledge *k;
		struct ab_arena *a = ab_arena_new();
		ck_assert_ptr_nonnull(a);
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_knowledge_read(&folder, 1, &tiny_facts, &tiny_vocabulary, a, &k, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", at, diag.text);
		ab_arena_free(a);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 5);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("knowledge");
	TCase *tc = tcase_create("knowledge");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, counts_and_places);
	tcase_add_test(tc, a_cause);
	tcase_add_test(tc, strengths);
	tcase_add_test(tc, a_change_and_a_check);
	tcase_add_test(tc, norms);
	tcase_add_test(tc, malts);
	tcase_add_test(tc, numbers);
	tcase_add_test(tc, numbers_in_conditions);
	tcase_add_test(tc, families);
	tcase_add_test(tc, second_folder_adds);
	tcase_add_test(tc, replacing_keeps_the_place);
	tcase_add_test(tc, files_in_order_of_name);
	tcase_add_test(tc, version_follows_the_bytes);
	tcase_add_loop_test(tc, refusals, 0, sizeof bad / sizeof *bad);
	tcase_add_test(tc, no_folder);
	tcase_add_test(tc, no_rules_in_it);
	tcase_add_test(tc, out_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
