/* check_layout.c - pages: wrapping, tables, bars, the gate for control characters and HTML
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"

static struct ab_look look_of(int width)
{
	return (struct ab_look){ .format = AB_TEXT, .width = width, .currency = "$" };
}

static char *finished(struct page *p)
{
	char *out;
	struct ab_diag diag;
	ab_diag_init(&diag);
	ck_assert_int_eq(page_finish(p, &out, &diag), AB_OK);
	return out;
}

/* ---- widths ---- */

static const struct { const char *title, *text; int width; } widths[] = {
	{ "plain", "beer", 4 }, { "empty", "", 0 }, { "umlaut", "K\u00F6lsch", 6 }, { "combining mark", "o\u0308", 1 },
	{ "wide signs", "\u30D3\u30FC\u30EB", 6 }, { "a picture", "\U0001F37A", 2 }, { "a bar", "\u2588\u258C", 2 },
	{ "a mark for the direction", "a\u202Eb", 2 },
};

START_TEST(width_rows)
{
	ck_assert_msg(text_width(widths[_i].text, strlen(widths[_i].text)) == widths[_i].width, "%s: %d",
	    widths[_i].title, text_width(widths[_i].text, strlen(widths[_i].text)));
}
END_TEST

/* ---- paragraphs ---- */

static const struct { const char *title; int width, indent; const char *text, *want;
} paras[] = {
	{ "one line", 40, 0, "short", "short\n" },
	{ "indented", 40, 2, "short", "  short\n" },
	{ "broken at a blank", 40, 0, "one two three four five six seven eight nine",
	    "one two three four five six seven eight\nnine\n" },
	{ "filled to the last column", 40, 0, "1234567890 1234567890 1234567890 1234567 x",
	    "1234567890 1234567890 1234567890 1234567\nx\n" },
	{ "a word too long is cut", 40, 0, "12345678901234567890123456789012345678901234567890",
	    "1234567890123456789012345678901234567890\n1234567890\n" },
	{ "wide signs are two columns", 40, 30,
	    "\u30D3\u30FC\u30EB\u30D3\u30FC\u30EB\u30D3\u30FC\u30EB\u30D3\u30FC\u30EB",
	    "                              \u30D3\u30FC\u30EB\u30D3\u30FC\u30EB\u30D3\u30FC\u30EB\u30D3\n        "
	    "                      \u30FC\u30EB\n" },
	{ "controls become ?", 40, 0, "a\033[31mb\ac", "a?[31mb?c\n" },
	{ "a second line cannot be smuggled in", 40, 0, "a\nb", "a?b\n" },
	{ "C1 in UTF-8", 40, 0,
	    "a\xC2\x9B"
	    "31m",
	    "a?31m\n" },
	{ "no UTF-8 at all", 40, 0, "a\xFFz", "a?z\n" },
	{ "empty", 40, 0, "", "" },
};

START_TEST(para_rows)
{
	struct ab_look look = look_of(paras[_i].width);
	struct page p;
	page_start(&p, &look, "t");
	page_para(&p, paras[_i].indent, PLAIN, paras[_i].text);
	char *out = finished(&p);
	ck_assert_msg(strcmp(out, paras[_i].want) == 0, "%s: \"%s\"", paras[_i].title, out);
	ab_report_free(out);
}
END_TEST

START_TEST(items_hang)
{
	struct ab_look look = look_of(40);
	struct page p;
	page_start(&p, &look, "t");
	page_item(&p, 2, "10.", PLAIN);
	page_say(&p, PLAIN, "a text long enough to go on to ");
	page_say(&p, LOUD, "a second line");
	page_end(&p);
	char *out = finished(&p);
	ck_assert_str_eq(out, "  10. a text long enough to go on to a\n      second line\n");
	ab_report_free(out);
}
END_TEST

START_TEST(colours_stand_around_their_words)
{
	struct ab_look look = look_of(40);
	struct page p;
	look.color = true;
	page_start(&p, &look, "t");
	page_begin(&p, 0);
	page_say(&p, PLAIN, "all ");
	page_say(&p, GOOD, "is well");
	page_end(&p);
	char *out = finished(&p);
	ck_assert_str_eq(out, "all \033[36mis well\033[0m\n");
	ab_report_free(out);
}
END_TEST

START_TEST(html_is_escaped_by_construction)
{
	struct ab_look look = look_of(80);
	struct page p;
	const char *cells[] = { "<b>", "x & \"y\"" };
	look.format = AB_HTML;
	page_start(&p, &look, "<title>");
	page_title(&p, "</h1><script>");
	page_para(&p, 0, CAREFUL, "<img src=x>'");
	page_table(&p, 0, "lx", false, cells, 1);
	char *out = finished(&p);
	ck_assert_ptr_null(strstr(out, "<script>"));
	ck_assert_ptr_null(strstr(out, "<img"));
	ck_assert_ptr_null(strstr(out, "<b>"));
	ck_assert_ptr_nonnull(strstr(out, "&lt;title&gt;"));
	ck_assert_ptr_nonnull(strstr(out, "<h1>&lt;/h1&gt;&lt;script&gt;</h1>"));
	ck_assert_ptr_nonnull(strstr(out, "<span class=\"careful\">&lt;img src=x&gt;&#39;</span>"));
	ck_assert_ptr_nonnull(strstr(out, "<td class=\"x\">x &amp; &quot;y&quot;</td>"));
	ck_assert_ptr_nonnull(strstr(out, "</html>\n"));
	ab_report_free(out);
}
END_TEST

/* ---- tables ---- */

static const char *const cells[] = { "a", "one", "word", "22", "two", "longer words here", "3", NULL, "" };

static const struct { const char *title; int width; const char *align; bool heads; const char *want; } tables[] = {
	{ "roomy", 80, "rlx", false, " a  one  word\n22  two  longer words here\n 3\n" },
	{ "the last column wraps", 40, "rlx", false, " a  one  word\n22  two  longer words here\n 3\n" },
};

START_TEST(table_rows)
{
	struct ab_look look = look_of(tables[_i].width);
	struct page p;
	page_start(&p, &look, "t");
	page_table(&p, 0, tables[_i].align, tables[_i].heads, cells, 3);
	char *out = finished(&p);
	ck_assert_msg(strcmp(out, tables[_i].want) == 0, "%s:\n%s", tables[_i].title, out);
	ab_report_free(out);
}
END_TEST

static const char *const wide[] = { "first column is wide", "optional column", "and here is some text to wrap" };

START_TEST(narrow_tables_give_way)
{
	struct ab_look look = look_of(44);
	struct page p;
	page_start(&p, &look, "t");
	page_table(&p, 0, "lox", false, wide, 1);
	page_gap(&p);
	page_table(&p, 20, "llx", false, wide, 1);
	char *out = finished(&p);
	/* without the optional column it fits; where nothing helps the row is a paragraph */
	ck_assert_str_eq(out,
	    "first column is wide  and here is some text\n                      to wrap\n"
	    "\n                    first column is wide\n                      optional column  and\n            "
	    "          here is some text to\n"
	    "                      wrap\n");
	ab_report_free(out);
}
END_TEST

START_TEST(bad_cells_are_made_safe)
{
	static const char *const bad[] = { "a\tb\033c", "d" };
	struct ab_look look = look_of(80);
	struct page p;
	page_start(&p, &look, "t");
	page_table(&p, 0, "ll", false, bad, 1);
	char *out = finished(&p);
	ck_assert_str_eq(out, "a?b?c  d\n");
	ab_report_free(out);
}
END_TEST

/* ---- bars and sparks ---- */

static const struct { const char *title; double share; bool unicode; const char *want; } bars[] = {
	{ "none", 0, false, "...." }, { "half", 0.5, false, "##.." }, { "whole", 1, false, "####" },
	{ "beyond", 7, false, "####" },
	{ "below", -1, false, "...." }, { "nothing known", NAN, false, "...." }, { "rounded up", 0.38, false, "##.." },
	{ "a quarter", 0.25, true, "\u2588   " }, { "an eighth of a cell", 1 / 32.0, true, "\u258F   " },
	{ "whole, in blocks", 1, true, "\u2588\u2588\u2588\u2588" },
};

START_TEST(bar_rows)
{
	struct ab_look look = look_of(80);
	struct page p;
	look.unicode = bars[_i].unicode;
	page_start(&p, &look, "t");
	const char *bar = page_bar(&p, bars[_i].share, 4);
	ck_assert_msg(strcmp(bar, bars[_i].want) == 0, "%s: \"%s\"", bars[_i].title, bar);
	ab_report_free(finished(&p));
}
END_TEST

START_TEST(sparks)
{
	static const double values[] = { 0, 7, NAN, 3.5 };
	static const double zeros[] = { 0, 0 };
	struct ab_look look = look_of(80);
	struct page p;
	page_start(&p, &look, "t");
	ck_assert_str_eq(page_spark(&p, values, 4), "_# =");
	ck_assert_str_eq(page_spark(&p, zeros, 2), "__");
	ck_assert_str_eq(page_spark(&p, NULL, 0), "");
	look.unicode = true;
	ck_assert_str_eq(page_spark(&p, values, 2), "\u2581\u2588");
	ab_report_free(finished(&p));
}
END_TEST

/* Whichever allocation fails: a clean error, and nothing leaked (ASan tells). */
START_TEST(short_of_memory)
{
	struct ab_look look = look_of(40);
	bool done = false;
	for (long k = 0; !done && k < 200; k++) {
		struct page p;
		struct ab_diag diag;
		char *out = NULL;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		page_start(&p, &look, "t");
		page_title(&p, "a title");
		page_para(&p, 2, LOUD, page_text(&p, "%d and a text that goes on to the next line", 7));
		page_table(&p, 2, "rlx", true, cells, 3);
		page_para(&p, 0, PLAIN, page_bar(&p, 0.5, 10));
		enum ab_status st = page_finish(&p, &out, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_int_eq(st == AB_OK, out != NULL);
		if (st != AB_OK)
			ck_assert_int_eq(diag.status, AB_ENOMEM);
		done = st == AB_OK;
		ab_report_free(out);
	}
	ck_assert(done);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("layout");
	TCase *tc = tcase_create("layout");
	tcase_add_loop_test(tc, width_rows, 0, sizeof widths / sizeof *widths);
	tcase_add_loop_test(tc, para_rows, 0, sizeof paras / sizeof *paras);
	tcase_add_test(tc, items_hang);
	tcase_add_test(tc, colours_stand_around_their_words);
	tcase_add_test(tc, html_is_escaped_by_construction);
	tcase_add_loop_test(tc, table_rows, 0, sizeof tables / sizeof *tables);
	tcase_add_test(tc, narrow_tables_give_way);
	tcase_add_test(tc, bad_cells_are_made_safe);
	tcase_add_loop_test(tc, bar_rows, 0, sizeof bars / sizeof *bars);
	tcase_add_test(tc, sparks);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
