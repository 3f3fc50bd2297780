/* check_vocabulary.c - plain tasting words mean faults
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "tiny.h"

#define PEAR "<fault id='sulphur-egg' severity='1' source='e'><title>Rotten eggs</title><word>sulphury</word>" \
	"<word>wet cardboard</word>" \
	"<word>mould</word><word>plums</word><leak noticeable='0.02' strong='0.01' source='e'/></fault>" \
	"<fault id='plum' severity='1' source='e'><title>Stone fruit</title><word>plummy</word>" \
	"<leak noticeable='0.02' strong='0.01' " \
	"source='e'/></fault>" \
	"<cause id='fruit' side='cold' stage='pitch'><title>Fruit</title><why>so</why><prior p='0.1' source='e'/>" \
	"<gives fault='sulphur-egg' noticeable='0.5' strong='0.1' source='e'/>" \
	"<gives fault='plum' noticeable='0.5' strong='0.1' source='e'/></cause>"

static const struct { const char *word, *fault; } known[] = {
	{ "butter", "butter" }, { "BUTTER", "butter" }, { "Buttery", "butter" }, { "too buttery", "butter" },
	{ "a bit  too buttery", "butter" },
	{ "slightly-buttery", "butter" }, { "butteriness", "butter" }, { "popcorns", "butter" },
	{ "Green apple", "apple" },
	{ "green-apples", "apple" }, { "green_apple", "apple" }, { "cider", "apple" }, { "very cidery", "apple" },
	{ "sulfur", "sulphur-egg" }, { "Sulfury", "sulphur-egg" }, { "sulphur egg", "sulphur-egg" },
	{ "rotten egg", "sulphur-egg" },
	{ "mold", "sulphur-egg" }, { "mouldy", "sulphur-egg" }, { "a wet cardboard", "sulphur-egg" },
	{ "wet cardboard-like", "sulphur-egg" },
	{ "plums", "sulphur-egg" },   /* exact beats the bare form */
	{ "plummy", "plum" },
	{ "a hint of butter", "butter" }, { "strong butter", "butter" }, { "smells like butter", "butter" },
	{ "tastes of butter", "butter" },
	{ "way too buttery", "butter" }, { "butter flavour", "butter" }, { "butter notes", "butter" },
	{ "went mouldy", "sulphur-egg" },
	{ "rotten eggs smell", "sulphur-egg" }, { "cider-like edge", "apple" },
};

static const struct { const char *word, *near; } unknown[] = {
	/* parted, and a slip in it */
	{ "ci-d-r-ey", "cidery" }, { "ci d r ey", "cidery" }, { "xylo-phone", NULL },
	{ "buttre", "butter" }, { "cidrey", "cidery" }, { "old wet cardboard taste", "sulphur-egg" },
	{ "xylophone", NULL }, { "", NULL },
	{ "a", NULL }, { "too", NULL }, { "taste", NULL }, { "a hint of", NULL }, { "no butter", "butter" },
	{ "not buttery", "butter" }, { "little butter", "butter" },
	/* what is said to be less, or gone, is nothing to offer; a gonfalon is not gone */
	{ "hardly any butter", NULL }, { "less butter than before", NULL }, { "Without butter", NULL },
	{ "butter has gone", NULL }, { "has gone all buttery now", "butter" }, { "gonfalon of butter", "butter" },
	{ "butterscotchlike nonsense that goes on for a very long time and on and on and on and on and on and on",
	    "butter" },
};

static void tear_down(void)
{
	tiny_clean();
}

START_TEST(known_words)
{
	const struct ab_knowledge *k = tiny_rules(PEAR);
	const char *near[3];
	size_t n = 9;
	int at = ab_fault_word(k, known[_i].word, near, 3, &n);
	ck_assert_msg(at >= 0, "%s is not known", known[_i].word);
	ck_assert_msg(strcmp(k->faults[at].id, known[_i].fault) == 0, "%s means %s", known[_i].word, k->faults[at].id);
	ck_assert_uint_eq(n, 0);
	ck_assert_int_eq(ab_fault_word(k, known[_i].word, NULL, 0, NULL), at);
}
END_TEST

START_TEST(unknown_words)
{
	const struct ab_knowledge *k = tiny_rules(PEAR);
	const char *near[3];
	size_t n = 9;
	ck_assert_int_eq(ab_fault_word(k, unknown[_i].word, near, 3, &n), -1);
	ck_assert_msg((n > 0) == (unknown[_i].near != NULL), "%s: %zu near", unknown[_i].word, n);
	if (n > 0)
		ck_assert_str_eq(near[0], unknown[_i].near);
}
END_TEST

/* "plumy" is "plum" in bare form, as are two faults' words: neither is taken. */
START_TEST(two_meanings)
{
	const char *near[3];
	size_t n;
	ck_assert_int_eq(ab_fault_word(tiny_rules(PEAR), "plumy", near, 3, &n), -1);
	ck_assert_uint_eq(n, 2);
	ck_assert_str_eq(near[0], "sulphur-egg");
	ck_assert_str_eq(near[1], "plum");
}
END_TEST

START_TEST(no_more_than_max)
{
	const char *near[3] = { "x", "y", "z" };
	size_t n;
	ck_assert_int_eq(ab_fault_word(tiny_rules(PEAR), "plumy", near, 1, &n), -1);
	ck_assert_uint_eq(n, 1);
	ck_assert_str_eq(near[1], "y");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("vocabulary");
	TCase *tc = tcase_create("words");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, known_words, 0, sizeof known / sizeof *known);
	tcase_add_loop_test(tc, unknown_words, 0, sizeof unknown / sizeof *unknown);
	tcase_add_test(tc, two_meanings);
	tcase_add_test(tc, no_more_than_max);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
