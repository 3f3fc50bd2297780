/* check_columns.c - tables that give way step by step, bars, sparks, and how many columns a sign takes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <check.h>
#include <math.h>
#include <string.h>


static struct ab_look look_of(enum ab_format format, int width)
{
	return (struct ab_look){ .format = format, .width = width, .currency = "$" };
}

static char *table(
    const struct ab_look *look, int indent, const char *align, bool heads, const char *const *cells, size_t rows)
{
	struct page p;
	struct ab_diag diag;
	char *out = NULL;
	ab_diag_init(&diag);
	page_start(&p, look, "t");
	page_table(&p, indent, align, heads, cells, rows);
	ck_assert_int_eq(page_finish(&p, &out, &diag), AB_OK);
	return out;
}

/* ---- signs: Unicode Standard Annex 11; first and last of the ranges, and their neighbours ---- */

static const struct { const char *title, *sign; int width; } signs[] = {
	{ "the last before combining marks", "\u02FF", 1 }, { "the first combining mark", "\u0300", 0 },
	{ "the last of them", "\u036F", 0 }, { "the next", "\u0370", 1 },
	{ "the first of Hangul", "\u1100", 2 }, { "after its leading ones", "\u1160", 1 },
	{ "a zero width space", "\u200B", 0 }, { "a thin space", "\u2009", 1 },
	{ "a dash", "\u2013", 1 }, { "kanji", "\u4E00", 2 }, { "the first sign of three bytes", "\u0800", 1 },
	{ "the last of two", "\u07FF", 1 }, { "two such", "\u0800\u0800", 2 }, { "a syllable", "\uAC00", 2 },
	{ "after the last syllable", "\uD7A4", 1 }, { "a full-width A", "\uFF21", 2 },
	{ "a half-width one", "\uFF61", 1 }, { "an emoji", "\U0001F600", 2 },
	{ "after the faces", "\U0001F650", 1 }, { "a sign of plane two", "\U00020000", 2 },
	{ "a byte order mark", "\uFEFF", 0 }, { "a selector of form", "\uFE0F", 0 },
};

START_TEST(sign_widths)
{
	int found = text_width(signs[_i].sign, strlen(signs[_i].sign));
	ck_assert_msg(found == signs[_i].width, "%s: %d", signs[_i].title, found);
}
END_TEST

static const struct { const char *title, *text; int room; size_t bytes; } fits[] = {
	{ "all of it", "beer", 4, 4 }, { "as much as there is room", "beer", 3, 3 },
	{ "one sign at least", "beer", 0, 1 }, { "one wide sign at least", "\u4E00b", 1, 3 },
	{ "no half of a wide sign", "a\u4E00", 2, 1 }, { "a mark stays with its letter", "o\u0308x", 1, 3 },
	{ "nothing", "", 5, 0 }, { "two wide ones", "\u4E00\u4E00\u4E00", 5, 6 },
};

START_TEST(fit_rows)
{
	size_t found = page_fit(fits[_i].text, strlen(fits[_i].text), fits[_i].room);
	ck_assert_msg(found == fits[_i].bytes, "%s: %zu", fits[_i].title, found);
}
END_TEST

START_TEST(width_stops_at_the_length_told)
{
	ck_assert_int_eq(text_width("beer", 2), 2);
	ck_assert_int_eq(text_width("be\0er", 5), 2);
	ck_assert_int_eq(text_width("\u4E00", 1), 1);   /* cut off within a sign: no byte beyond is read */
}
END_TEST

/* ---- tables in ever less room ---- */

static const char *const cells[] = { "1", "optional", "sixteen columns!", "22", "x", "some more words to wrap", "3",
	"", "z" };
static const struct { const char *title; int width, indent; const char *align, *want; } tables[] = {
	{ "all of it fits", 60, 0, "rox",
	    " 1  optional  sixteen columns!\n22  x         some more words to wrap\n 3            z\n" },
	{ "to the very column", 40, 3, "rox",
	    "    1  optional  sixteen columns!\n   22  x         some more words to wrap\n    3            z\n" },
	{ "one less: the last gives way", 40, 6, "rox",
	    "       1  optional  sixteen columns!\n      22  x         some more words to\n                    "
	    "wrap\n       3            z\n" },
	{ "down to sixteen", 40, 10, "rox",
	    "           1  optional  sixteen columns!\n          22  x         some more words\n                "
	    "        to wrap\n"
	    "           3            z\n" },
	{ "then the optional one goes", 40, 16, "rox",
	    "                 1  sixteen columns!\n                22  some more words to\n                    "
	    "wrap\n                 3  z\n" },
	{ "no column gives way: a paragraph a row", 48, 24, "lll",
	    "                        1  optional  sixteen\n                          columns!\n                 "
	    "       22  x  some more words\n"
	    "                          to wrap\n                        3  z\n" },
};

START_TEST(less_and_less_room)
{
	struct ab_look look = look_of(AB_TEXT, tables[_i].width);
	char *out = table(&look, tables[_i].indent, tables[_i].align, false, cells, 3);
	ck_assert_msg(strcmp(out, tables[_i].want) == 0, "%s:\n%s", tables[_i].title, out);
	ab_report_free(out);
}
END_TEST

/* In every room from 24 columns on nothing is lost, and no line is wider than it. */
START_TEST(no_cell_is_lost)
{
	static const char *const words[] = { "optional", "sixteen", "columns!", "22", "some", "more", "words", "wrap" };
	for (int indent = 0; indent <= 24; indent++) {
		struct ab_look look = look_of(AB_TEXT, 48);
		char *out = table(&look, indent, "rlx", false, cells, 3);
		for (size_t i = 0; i < sizeof words / sizeof *words; i++)
			ck_assert_msg(strstr(out, words[i]) != NULL, "indent %d: no %s in\n%s", indent, words[i], out);
		for (const char *line = out; *line != '\0'; line += strcspn(line, "\n") + 1)
			ck_assert_msg(strcspn(line, "\n") <= 48, "indent %d:\n%s", indent, out);
		ab_report_free(out);
	}
}
END_TEST

START_TEST(heads)
{
	struct ab_look look = look_of(AB_TEXT, 60);
	look.color = true;
	char *out = table(&look, 0, "rox", true, cells, 2);
	ck_assert_msg(strstr(out, "\033[2moptional\033[0m") != NULL, "the first row is a heading:\n%s", out);
	ck_assert_msg(strstr(out, "\033[2mx") == NULL, "the second is none:\n%s", out);
	ab_report_free(out);
	look.format = AB_HTML;
	out = table(&look, 0, "rox", true, cells, 2);
	ck_assert_ptr_nonnull(strstr(out,
	    "<thead><tr><th scope=\"col\" class=\"r\">1</th><th scope=\"col\" class=\"o\">optional</th>"
	    "<th scope=\"col\" class=\"x\">sixteen columns!</th></tr>\n</thead>"));
	ck_assert_ptr_nonnull(strstr(out, "<tr><td class=\"r\">22</td><td class=\"o\">x</td>"));
	ab_report_free(out);
}
END_TEST

START_TEST(a_browser_breaks_lines_itself)
{
	struct ab_look look = look_of(AB_HTML, 40);
	char *out = table(&look, 30, "rox", false, cells, 3);
	ck_assert_ptr_nonnull(strstr(out, "<td class=\"o\">optional</td><td class=\"x\">sixteen columns!</td>"));
	ck_assert_ptr_nonnull(strstr(out, "<td class=\"x\">some more words to wrap</td>"));
	ab_report_free(out);
}
END_TEST

START_TEST(more_columns_than_there_may_be)
{
	static const char *const many[13] = { "a" };
	struct ab_look look = look_of(AB_TEXT, 80);
	struct page p;
	struct ab_diag diag;
	char *out = NULL;
	ab_diag_init(&diag);
	page_start(&p, &look, "t");
	page_table(&p, 0, "lllllllllllll", false, many, 1);
	ck_assert_int_eq(page_finish(&p, &out, &diag), AB_ENOMEM);
	ck_assert_ptr_null(out);
}
END_TEST

/* ---- bars and sparks ---- */

static const struct { const char *title; double share; const char *plain, *blocks; } bars[] = {
	{ "none", 0, "...", "   " }, { "less than half an eighth of a cell", 0.02, "...", "   " },
	{ "an eighth", 0.0417, "...", "\u258F  " },
	{ "just below half a cell", 0.14, "...", "\u258D  " }, { "half a cell", 0.1667, "#..", "\u258C  " },
	{ "a third", 1 / 3.0, "#..", "\u2588  " },
	{ "all but a bit", 0.99, "###", "\u2588\u2588\u2588" }, { "all", 1, "###", "\u2588\u2588\u2588" },
};

START_TEST(bar_rows)
{
	struct ab_look look = look_of(AB_TEXT, 80);
	for (int unicode = 0; unicode < 2; unicode++) {
		struct page p;
		struct ab_diag diag;
		char *out;
		ab_diag_init(&diag);
		look.unicode = unicode;
		page_start(&p, &look, "t");
		const char *bar = page_bar(&p, bars[_i].share, 3), *want = unicode ? bars[_i].blocks : bars[_i].plain;
		ck_assert_msg(strcmp(bar, want) == 0, "%s: \"%s\"", bars[_i].title, bar);
		ck_assert_int_eq(text_width(bar, strlen(bar)), 3);
		ck_assert_int_eq(page_finish(&p, &out, &diag), AB_OK);
		ab_report_free(out);
	}
}
END_TEST

START_TEST(a_spark_has_every_step)
{
	static const double rising[] = { 0, 1, 2, 3, 4, 5, 6, 7 }, below[] = { -3, 7 };
	struct ab_look look = look_of(AB_TEXT, 80);
	struct page p;
	struct ab_diag diag;
	char *out;
	ab_diag_init(&diag);
	page_start(&p, &look, "t");
	ck_assert_str_eq(page_spark(&p, rising, 8), "_.,-=+*#");
	ck_assert_str_eq(page_spark(&p, below, 2), "_#");
	look.unicode = true;
	ck_assert_str_eq(page_spark(&p, rising, 8), "\u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588");
	ck_assert_int_eq(page_finish(&p, &out, &diag), AB_OK);
	ab_report_free(out);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("columns");
	TCase *tc = tcase_create("columns");
	tcase_add_loop_test(tc, sign_widths, 0, sizeof signs / sizeof *signs);
	tcase_add_loop_test(tc, fit_rows, 0, sizeof fits / sizeof *fits);
	tcase_add_test(tc, width_stops_at_the_length_told);
	tcase_add_loop_test(tc, less_and_less_room, 0, sizeof tables / sizeof *tables);
	tcase_add_test(tc, no_cell_is_lost);
	tcase_add_test(tc, heads);
	tcase_add_test(tc, a_browser_breaks_lines_itself);
	tcase_add_test(tc, more_columns_than_there_may_be);
	tcase_add_loop_test(tc, bar_rows, 0, sizeof bars / sizeof *bars);
	tcase_add_test(tc, a_spark_has_every_step);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
