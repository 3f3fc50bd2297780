/* check_taste_words.c - every tasting word of the project's rules means its own fault, however it is written
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rulecase.h"

static const struct ab_knowledge *k;

static void set_up(void)
{
	k = rules;
}

static void tear_down(void)
{
	k = NULL;
}

/* ---- ways of writing a word ---- */

static void same(const char *word, char *out, size_t size)
{
	snprintf(out, size, "%s", word);
}

static void upper(const char *word, char *out, size_t size)
{
	same(word, out, size);
	for (char *c = out; *c != '\0'; c++)
		*c = (char)toupper((unsigned char)*c);
}

static void first_upper(const char *word, char *out, size_t size)
{
	same(word, out, size);
	out[0] = (char)toupper((unsigned char)out[0]);
}

static void joined_by(const char *word, char by, char *out, size_t size)
{
	same(word, out, size);
	for (char *c = out; *c != '\0'; c++)
		if (*c == ' ' || *c == '-')
			*c = by;
}

static void hyphens(const char *word, char *out, size_t size)
{
	joined_by(word, '-', out, size);
}

static void underscores(const char *word, char *out, size_t size)
{
	joined_by(word, '_', out, size);
}

static void blanks(const char *word, char *out, size_t size)
{
	joined_by(word, ' ', out, size);
}

static void wide(const char *word, char *out, size_t size)
{
	size_t n = 0;

	for (; *word != '\0' && n + 4 < size; word++) {
		out[n++] = *word;
		if (*word == ' ')
			out[n++] = ' ';
	}
	out[n] = '\0';
}

/* Written so, and put between those words. */
#define PLURAL "plural"
static const struct { const char *title; void (*write)(const char *word, char *out, size_t size);
    const char *before, *after; } ways[] = {
	{ "as it stands", same, "", "" }, { "upper case", upper, "", "" },
	{ "upper first letter", first_upper, "", "" },
	{ "hyphens", hyphens, "", "" }, { "underscores", underscores, "", "" }, { "blanks", blanks, "", "" },
	{ "two blanks", wide, "", "" },
	{ "blanks around", same, "  ", " " }, { PLURAL, same, "", "s" }, { "an article", same, "a ", "" },
	{ "slightly", same, "slightly ", "" },
	{ "very", same, "very ", "" }, { "a hint", same, "a hint of ", "" }, { "smells", same, "smells like ", "" },
	{ "went", same, "went ", "" },
	{ "taste", same, "", " taste" }, { "flavours", same, "", " flavours" },
};
enum { WAYS = sizeof ways / sizeof *ways };

/* Words of which the plural is another word or no word at all. */
static bool has_plural(const char *word)
{
	size_t len = strlen(word);
	return len > 3 && strchr("abcdefghijklmnopqrtuvwxz", word[len - 1]) != NULL && strchr(word, ' ') == NULL;
}

static int one_way(int fault, const char *word, int way)
{
	char written[160], text[200];
	const char *near[3];
	size_t n_near = 9;

	if (strcmp(ways[way].title, PLURAL) == 0 && !has_plural(word))
		return 0;
	ways[way].write(word, written, sizeof written);
	snprintf(text, sizeof text, "%s%s%s", ways[way].before, written, ways[way].after);
	int at = ab_fault_word(k, text, near, 3, &n_near);
	ck_assert_msg(at == fault, "%s: \"%s\" of %s means %s", ways[way].title, text, k->faults[fault].id,
	    at < 0 ? "nothing" : k->faults[at].id);
	ck_assert_msg(n_near == 0, "%s: \"%s\" is known and has %zu near words", ways[way].title, text, n_near);
	return 1;
}

START_TEST(every_word_means_its_fault)
{
	int tried = 0;

	for (size_t f = 0; f < k->n_faults; f++) {
		tried += one_way((int)f, k->faults[f].id, _i);
		for (size_t w = 0; w < k->faults[f].n_words; w++)
			tried += one_way((int)f, k->faults[f].words[w], _i);
	}
	ck_assert_msg(tried > 200, "only %d words", tried);
}
END_TEST

/* No two faults share a word, also when case and joints are looked away from. */
static bool alike(const char *a, const char *b)
{
	while (*a != '\0' && *b != '\0') {
		bool joint_a = *a == ' ' || *a == '-' || *a == '_', joint_b = *b == ' ' || *b == '-' || *b == '_';
		if (joint_a != joint_b || (!joint_a && tolower((unsigned char)*a) != tolower((unsigned char)*b)))
			return false;
		a++;
		b++;
	}
	return *a == *b;
}

START_TEST(no_word_means_two)
{
	for (size_t f = 0; f < k->n_faults; f++)
		for (size_t g = f + 1; g < k->n_faults; g++)
			for (size_t w = 0; w < k->faults[f].n_words; w++) {
				const char *word = k->faults[f].words[w];
				ck_assert_msg(!alike(word, k->faults[g].id), "\"%s\" of %s is the id of another",
				    word, k->faults[f].id);
				for (size_t v = 0; v < k->faults[g].n_words; v++)
					ck_assert_msg(!alike(word, k->faults[g].words[v]), "\"%s\" means %s and %s",
					    word, k->faults[f].id, k->faults[g].id);
			}
}
END_TEST

/* A slip of one letter in a long word is no other fault's word, and the right one is among those offered. */
START_TEST(a_slip_is_offered_the_right_word)
{
	size_t offered = 0, slips = 0;

	for (size_t f = 0; f < k->n_faults; f++)
		for (size_t w = 0; w < k->faults[f].n_words; w++) {
			char text[200];
			const char *near[5];
			size_t n = 0, len = strlen(k->faults[f].words[w]);
			if (len < 8)
				continue;
			same(k->faults[f].words[w], text, sizeof text);
			text[len / 2] = text[len / 2] == 'q' ? 'x' : 'q';
			int at = ab_fault_word(k, text, near, 5, &n);
			ck_assert_msg(at < 0 || at == (int)f, "the slip \"%s\" of %s means %s", text,
			    k->faults[f].id, at < 0 ? "" : k->faults[at].id);
			ck_assert_uint_le(n, 5);
			slips++;
			bool right = at == (int)f;
			for (size_t i = 0; i < n; i++)
				right = right || ab_fault_word(k, near[i], NULL, 0, NULL) == (int)f;
			offered += right;
			for (size_t i = 0; i < n; i++)
				ck_assert_msg(ab_fault_word(k, near[i], NULL, 0, NULL) >= 0,
				    "\"%s\" is offered and known to nobody", near[i]);
		}
	ck_assert_uint_gt(slips, 50);
	ck_assert_msg(offered * 20 >= slips * 19, "the right word is offered for %zu of %zu slips", offered, slips);
}
END_TEST

/* Words of the trade that name no fault. */
static const char *const innocent[] = { "refreshing", "beer", "xyzzy", "Tuesday", "", " ", "-", "the", "very",
	"slightly" };

START_TEST(no_fault_in_a_plain_word)
{
	int at = ab_fault_word(k, innocent[_i], NULL, 0, NULL);
	ck_assert_msg(at < 0, "\"%s\" means %s", innocent[_i], at < 0 ? "" : k->faults[at].id);
}
END_TEST

START_TEST(as_people_say_it)
{
	static const struct { const char *phrase, *fault; } said[] = {
		{ "strong banana", "estery" }, { "bit of clove", "clove-phenolic" },
		{ "bit sweet", "sweet-underattenuated" },
		{ "faint perfume", "foreign-flavour" }, { "went sour", "sour-lactic" },
		{ "slightly sour edge", "sour-lactic" },
		{ "way too bitter", "too-bitter" }, { "like a tea bag", "astringent" },
		{ "smells like vinegar", "acetic" },
		{ "wet cardboard taste", "papery" }, { "grass flavour", "grassy" },
		{ "caps blown off", "over-carbonated" }, { "foaming over", "over-carbonated" },
		{ "burns going down", "fusel" }, { "bone dry", "thin-body" },
		{ "not a bubble", "under-carbonated" }, { "nothing but foam", "foamy-pour" },
		{ "finished too high", "sweet-underattenuated" },
		{ "nose gone", "hop-fade" }, { "a white skin", "pellicle" }, { "mould on the beer", "pellicle" },
		{ "mould", "musty" },
		{ "yoghurt tang", "sour-lactic" }, { "tea-like", "astringent" }, { "pineapple", "estery" },
		{ "perfumed", "foreign-flavour" }, { "like a swimming bag", "medicinal" },
		{ "slippery", "diacetyl" }, { "teabag", "astringent" },
		{ "over the top when opened", "over-carbonated" },
		{ "goes flat in the glass", "poor-head" }, { "goes flat", "under-carbonated" },
		{ "finishes high", "sweet-underattenuated" }, { "over attenuated", "thin-body" },
		{ "under-attenuated", "sweet-underattenuated" },
	};
	for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
		int at = ab_fault_word(k, said[i].phrase, NULL, 0, NULL);
		ck_assert_msg(at >= 0, "%s is not understood", said[i].phrase);
		ck_assert_str_eq(k->faults[at].id, said[i].fault);
	}
}
END_TEST

/* What is the opposite of a fault is none, and nothing near it is offered. */
START_TEST(opposites)
{
	static const char *const full[] = { "thick body", "full-bodied", "Full bodied", "very full-bodied",
		"full body" };
	const char *near[3];
	size_t n = 9;

	for (size_t i = 0; i < sizeof full / sizeof *full; i++) {
		int at = ab_opposite_word(k, full[i]);
		ck_assert_msg(at >= 0 && strcmp(k->faults[at].id, "thin-body") == 0, "%s", full[i]);
		ck_assert_int_eq(ab_fault_word(k, full[i], near, 3, &n), -1);
		ck_assert_uint_eq(n, 0);
	}
	ck_assert_int_eq(ab_opposite_word(k, "thin"), -1);
	for (size_t i = 0; i < k->n_faults; i++)
		for (size_t j = 0; j < k->faults[i].n_opposites; j++)
			ck_assert_int_eq(ab_fault_word(k, k->faults[i].opposites[j], NULL, 0, NULL), -1);
}
END_TEST

/* What turns the meaning round is never passed over. */
START_TEST(turned_round)
{
	static const char *const phrases[] = { "not sour", "no butter", "little bitter", "less fruity",
		"hardly sweet", "isn't flat" };

	for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++)
		ck_assert_msg(ab_fault_word(k, phrases[i], NULL, 0, NULL) < 0, "%s", phrases[i]);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("taste-words");
	TCase *tc = tcase_create("words");

	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, every_word_means_its_fault, 0, WAYS);
	tcase_add_test(tc, no_word_means_two);
	tcase_add_test(tc, as_people_say_it);
	tcase_add_test(tc, opposites);
	tcase_add_test(tc, turned_round);
	tcase_add_test(tc, a_slip_is_offered_the_right_word);
	tcase_add_loop_test(tc, no_fault_in_a_plain_word, 0, sizeof innocent / sizeof *innocent);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
