/* check_plainwords.c - families, yeast classes and malts as brewers call them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/plainwords.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/arena.h>
#include <afterboil/casework.h>
#include <afterboil/facts.h>
#include <afterboil/journal.h>

static struct ab_arena *arena;
static struct ab_knowledge *k;

static void setup(void)
{
	const char *dirs[] = { getenv("AFTERBOIL_RULES") };
	struct ab_diag diag;

	ab_diag_init(&diag);
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
	ck_assert_msg(
	    ab_knowledge_read(dirs, 1, ab_fact_defs(), ab_casework_vocabulary(), arena, &k, &diag) == AB_OK, "%s",
	    diag.text);
}

static void teardown(void)
{
	ab_arena_free(arena);
}

/* Every family of the journal is in the list, once, and its words in the list mean it. */
START_TEST(the_list)
{
	size_t n = 0;
	bool unknown;

	for (; ab_family_choice(n) != NULL; n++) {
		const char *said = ab_family_said(ab_family_choice(n), &unknown);
		ck_assert_ptr_nonnull(said);
		ck_assert_str_eq(said, ab_words_family[n]);
		ck_assert_str_eq(ab_plain_word(k, "family", ab_family_choice(n)), ab_words_family[n]);
	}
	ck_assert_ptr_null(ab_words_family[n]);
}
END_TEST

static const struct { const char *said, *family; bool unknown; } families[] = {
	{ "5", "wheat", false }, { "wheat", "wheat", false }, { "Wheat beer", "wheat", false },
	{ "hefeweizen", "wheat", false }, { "IPA", "pale-hoppy", false },
	{ "stout", "dark-roast", false }, { "dark-roast", "dark-roast", false },
	{ "saison", "belgian-farmhouse", false }, { "", NULL, true },
	{ "don't know", NULL, true }, { "10", NULL, false }, { "unicorn", NULL, false },
};
START_TEST(a_family)
{
	bool unknown;
	const char *family = ab_family_said(families[_i].said, &unknown);

	ck_assert_msg((family == NULL) == (families[_i].family == NULL), "%s", families[_i].said);
	if (family != NULL)
		ck_assert_str_eq(family, families[_i].family);
	ck_assert_msg(unknown == families[_i].unknown, "%s", families[_i].said);
}
END_TEST

static const struct { const char *attr, *said, *word; } words[] = {
	{ "class", "clean-ale", "clean-ale" }, { "class", "clean ale", "clean-ale" },
	{ "class", "English", "english-ale" },
	{ "class", "english ale yeast", "english-ale" }, { "class", "saison", "farmhouse" },
	{ "class", "lager yeast", "lager" },
	{ "class", "English or Irish ale", "english-ale" }, { "class", "english and lager", NULL },
	{ "class", "yeast", NULL },
	{ "family", "stout", "dark-roast" }, { "family", "wheat beers", "wheat" }, { "family", "no stout", NULL },
	{ "light", "dark", NULL },
};
START_TEST(a_word)
{
	const char *word = ab_plain_word(k, words[_i].attr, words[_i].said);

	ck_assert_msg(
	    (word == NULL) == (words[_i].word == NULL), "%s: %s", words[_i].said, word != NULL ? word : "none");
	if (word != NULL)
		ck_assert_str_eq(word, words[_i].word);
}
END_TEST

/* Every class that can be chosen means itself; of other attributes there is no list. */
START_TEST(choices)
{
	size_t n = 0;

	for (; ab_plain_choice(k, "class", n) != NULL; n++)
		ck_assert_str_eq(
		    ab_plain_word(k, "class", ab_plain_choice(k, "class", n)), ab_plain_choice(k, "class", n));
	ck_assert_uint_gt(n, 1);
	ck_assert_ptr_null(ab_plain_choice(k, "family", 0));
}
END_TEST

/* The journal's word for what the rules call a malt; NULL when they call none so. */
static const char *malt_word(const char *said)
{
	size_t n;
	const struct ab_alias *w = ab_plain_malts(k, arena, &n);

	ck_assert_ptr_nonnull(w);
	for (size_t i = 0; i < n; i++)
		if (strcmp(w[i].said, said) == 0)
			return w[i].word;
	return NULL;
}

static const struct { const char *said, *kind; } malts[] = {
	{ "pale malt", "pale" }, { "2-row", "pale" }, { "lager malt", "pilsner" }, { "dark munich", "munich" },
	{ "torrefied wheat", "wheat" },
	{ "flaked rye", "rye" }, { "oatmeal", "oats" }, { "caramel malt", "crystal" },
	{ "chocolate malt", "roasted" }, { "roast barley", "roasted" },
	{ "peated malt", "smoked" }, { "sour malt", "acidulated" }, { "flaked maize", "adjunct" },
	{ "rice hulls", "other" }, { "plutonium", NULL },
};
START_TEST(a_malt)
{
	const char *word = malt_word(malts[_i].said);

	ck_assert_msg(
	    (word == NULL) == (malts[_i].kind == NULL), "%s: %s", malts[_i].said, word != NULL ? word : "none");
	if (word != NULL)
		ck_assert_str_eq(word, malts[_i].kind);
}
END_TEST

/* Each means a kind of the journal, by all words of its own. */
START_TEST(all_malts)
{
	size_t n, told = 0;
	const struct ab_alias *w = ab_plain_malts(k, arena, &n);

	for (size_t i = 0; i < n; i++) {
		size_t kind = 0;
		while (ab_words_malt[kind] != NULL && strcmp(ab_words_malt[kind], w[i].word) != 0)
			kind++;
		ck_assert_ptr_nonnull(ab_words_malt[kind]);
		ck_assert_ptr_eq(w[i].list, ab_words_malt);
	}
	for (size_t i = 0; i < k->n_malts; i++)
		told += k->malts[i].n_words;
	ck_assert_uint_eq(n, told);
	ck_assert_uint_gt(n, k->n_malts);
}
END_TEST

/* Rules without a malt are an empty table, and no failure. */
START_TEST(no_malts)
{
	struct ab_knowledge none = *k;
	size_t n = 1;

	none.n_malts = 0;
	ck_assert_ptr_nonnull(ab_plain_malts(&none, arena, &n));
	ck_assert_uint_eq(n, 0);
}
END_TEST

/* What stands in a fault's title and means another fault: both titles say it, and one of them has the word. */
static const struct { const char *part, *fault; } shared_parts[] = { { "oxidised", "papery" } };

/* What the program itself calls a fault is typed back by whoever read it there: each part of a title, as parted by
 * brackets, commas and "and" or "or", means that fault. */
static void part_means(const char *part, size_t len, size_t fault)
{
	char word[80];
	size_t near = 0;
	const char *want = k->faults[fault].id;

	ck_assert_uint_lt(len, sizeof word);
	memcpy(word, part, len);
	word[len] = '\0';
	for (size_t i = 0; i < sizeof shared_parts / sizeof *shared_parts; i++)
		if (strcmp(word, shared_parts[i].part) == 0)
			want = shared_parts[i].fault;
	int got = ab_fault_word(k, word, NULL, 0, &near);
	ck_assert_msg(got >= 0 && strcmp(k->faults[got].id, want) == 0, "\"%s\" of \"%s\" means %s", word,
	    k->faults[fault].title, got < 0 ? "nothing" : k->faults[got].id);
}

START_TEST(parts_of_titles)
{
	static const char *const parting[] = { ", ", " (", ")", " and ", " or " };
	size_t parts = 0;

	for (size_t i = 0; i < k->n_faults; i++) {
		const char *s = k->faults[i].title;
		part_means(s, strlen(s), i);
		while (*s != '\0') {
			const char *end = s + strlen(s);
			size_t gap = 0;
			for (size_t j = 0; j < sizeof parting / sizeof *parting; j++) {
				const char *at = strstr(s, parting[j]);
				if (at != NULL && at < end)
					end = at, gap = strlen(parting[j]);
			}
			if (end > s)
				part_means(s, (size_t)(end - s), i), parts++;
			s = end + gap;
		}
	}
	ck_assert_uint_gt(parts, k->n_faults);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("plainwords");
	TCase *t = tcase_create("plainwords");
	SRunner *sr = srunner_create(s);

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, the_list);
	tcase_add_loop_test(t, a_family, 0, sizeof families / sizeof *families);
	tcase_add_loop_test(t, a_word, 0, sizeof words / sizeof *words);
	tcase_add_test(t, choices);
	tcase_add_loop_test(t, a_malt, 0, sizeof malts / sizeof *malts);
	tcase_add_test(t, all_malts);
	tcase_add_test(t, no_malts);
	tcase_add_test(t, parts_of_titles);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
