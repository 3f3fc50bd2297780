/* check_str.c - growing text, harmless text, words and numbers as text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/str.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"

START_TEST(grows)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ck_assert_str_eq(ab_str_text(&s), "");
	for (int i = 0; i < 3000; i++)
		ab_str_addf(&s, "%d,", i % 10);
	ab_str_add(&s, "end");
	ab_str_addn(&s, "ing!", 3);
	ck_assert(ab_str_ok(&s));
	ck_assert_uint_eq(s.len, 6006);
	ck_assert_uint_eq(strlen(ab_str_text(&s)), 6006);
	ck_assert_str_eq(ab_str_text(&s) + 5996, "8,9,ending");
	ab_str_clear(&s);
	ck_assert_str_eq(ab_str_text(&s), "");
	ab_str_add(&s, "again");
	ck_assert_str_eq(ab_str_text(&s), "again");
	ab_str_clear(&s);
}
END_TEST

START_TEST(cap_is_sticky)
{
	struct ab_str s;
	ab_str_init(&s, 8);
	ab_str_add(&s, "12345678");
	ck_assert(ab_str_ok(&s));
	ab_str_add(&s, "9");
	ck_assert(!ab_str_ok(&s));
	ab_str_add(&s, "");
	ab_str_addf(&s, "%d", 1);
	ck_assert(!ab_str_ok(&s));
	ck_assert_str_eq(ab_str_text(&s), "12345678");
	ab_str_clear(&s);
	ck_assert(ab_str_ok(&s));
	ck_assert_uint_eq(s.limit, 8);
}
END_TEST

START_TEST(no_memory)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_alloc_fail_at(0);
	ab_str_add(&s, "x");
	ab_alloc_fail_at(-1);
	ck_assert(!ab_str_ok(&s));
	ab_str_add(&s, "y");
	ck_assert_str_eq(ab_str_text(&s), "");
	ab_str_clear(&s);
}
END_TEST

static const struct { const char *title, *given, *one_line, *lines; } safe[] = {
	{ "plain", "two hops", "two hops", "two hops" },
	{ "empty", "", "", "" },
	{ "newline", "a\nb", "a?b", "a\nb" },
	{ "carriage return", "a\rb", "a?b", "a?b" },
	{ "tab", "a\tb", "a?b", "a?b" },
	{ "clear the screen", "\x1b[2J", "?[2J", "?[2J" },
	{ "bell and backspace", "\a\b", "??", "??" },
	{ "8-bit CSI alone is invalid UTF-8", "\x9b" "31m", "?31m", "?31m" },
	{ "8-bit CSI in UTF-8", "\xc2\x9b" "31m", "?31m", "?31m" },
	{ "last C1", "\xc2\x9f", "?", "?" },
	{ "first after C1", "\xc2\xa0", "\xc2\xa0", "\xc2\xa0" },
	{ "four bytes", "\xf0\x9f\x8d\xba", "\xf0\x9f\x8d\xba", "\xf0\x9f\x8d\xba" },
	{ "four bytes cut", "\xf0\x9f\x8d", "???", "???" },
	{ "overlong NUL", "\xc0\x80", "??", "??" },
	{ "overlong three", "\xe0\x80\x80", "???", "???" },
	{ "overlong four", "\xf0\x80\x80\x80", "????", "????" },
	{ "never a lead byte", "\xff\xfe", "??", "??" },
	{ "override", "a\xe2\x80\xae" "b", "a?b", "a?b" },
	{ "marks and isolates", "\xe2\x80\x8e\xe2\x80\x8f\xe2\x80\xaa\xe2\x81\xa6\xe2\x81\xa9\xd8\x9c", "??????",
	    "??????" },
	{ "neighbours of these", "\xe2\x80\x8d\xe2\x80\x90\xe2\x80\xa9\xe2\x80\xaf",
	    "\xe2\x80\x8d\xe2\x80\x90\xe2\x80\xa9\xe2\x80\xaf", "\xe2\x80\x8d\xe2\x80\x90\xe2\x80\xa9\xe2\x80\xaf" },
	{ "neighbours of isolates", "\xe2\x81\xa5\xe2\x81\xaa\xd8\x9b", "\xe2\x81\xa5\xe2\x81\xaa\xd8\x9b",
	    "\xe2\x81\xa5\xe2\x81\xaa\xd8\x9b" },
	{ "good after bad", "\xe2\x82" "abc", "??abc", "??abc" },
};

START_TEST(safe_rows)
{
	struct ab_str s;
	char copy[64];
	ab_str_init(&s, 0);
	ab_str_add_safe(&s, safe[_i].given, false);
	ck_assert_msg(strcmp(ab_str_text(&s), safe[_i].one_line) == 0, "%s", safe[_i].title);
	ab_str_clear(&s);
	ab_str_add_safe(&s, safe[_i].given, true);
	ck_assert_msg(strcmp(ab_str_text(&s), safe[_i].lines) == 0, "%s, lines kept", safe[_i].title);
	ab_str_clear(&s);
	memcpy(copy, safe[_i].given, strlen(safe[_i].given) + 1);
	ab_text_scrub(copy);
	ck_assert_msg(strcmp(copy, safe[_i].one_line) == 0, "%s, in place", safe[_i].title);
}
END_TEST

static const struct { const char *a, *b; int order; } words[] = {
	{ "dry-hop", "dry_hop", 0 },
	{ "dry-hop", "dry hop", 0 },
	{ "dry-hop", "Dry  -_ Hop", 0 },
	{ "dry-hop", "dryhop", -1 },
	{ "pail", "PAIL", 0 },
	{ "pail", "pails", -1 },
	{ "pails", "pail", 1 },
	{ "", "", 0 },
	{ "", "a", -1 },
	{ "-", " ", 0 },
	{ "apple", "Banana", -1 },
	{ "\xc3\x84", "\xc3\xa4", -1 },  /* only ASCII letters are case-blind */
};

START_TEST(word_rows)
{
	ck_assert_msg(ab_word_cmp(words[_i].a, words[_i].b) == words[_i].order, "%s / %s", words[_i].a, words[_i].b);
	ck_assert_msg(ab_word_cmp(words[_i].b, words[_i].a) == -words[_i].order, "%s / %s", words[_i].b, words[_i].a);
	ck_assert_msg((ab_word_sum(words[_i].a) == ab_word_sum(words[_i].b)) == (words[_i].order == 0), "%s / %s",
	    words[_i].a, words[_i].b);
}
END_TEST

static const struct { double x; const char *text; } numbers[] = {
	{ 0, "0" }, { -0.0, "0" }, { 1, "1" }, { -20, "-20" }, { 1.5, "1.5" }, { 0.1, "0.1" }, { 1.048, "1.048" },
	{ -0.25, "-0.25" }, { 100, "100" }, { 1e14, "100000000000000" }, { 0.0000004, "0" }, { -0.0000004, "0" },
	{ 0.9999999, "1" }, { 1.9999996, "2" }, { 273.15, "273.15" }, { 1e15, "very large" }, { -1e300, "very small" },
	{ INFINITY, "very large" }, { NAN, "not a number" },
};

START_TEST(number_rows)
{
	char buf[32];
	ck_assert_str_eq(ab_num_text(numbers[_i].x, buf, sizeof buf), numbers[_i].text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("str");
	TCase *tc = tcase_create("str");
	tcase_add_test(tc, grows);
	tcase_add_test(tc, cap_is_sticky);
	tcase_add_test(tc, no_memory);
	tcase_add_loop_test(tc, safe_rows, 0, sizeof safe / sizeof *safe);
	tcase_add_loop_test(tc, word_rows, 0, sizeof words / sizeof *words);
	tcase_add_loop_test(tc, number_rows, 0, sizeof numbers / sizeof *numbers);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
