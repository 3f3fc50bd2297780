/* check_svg.c - figures: what is drawn where, what is not drawn, and that nothing of a stranger becomes markup
 *
 * Coordinates are reckoned by hand from the sizes in svg.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/svg.h"

#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"

static struct ab_look look = { .format = AB_HTML, .width = 80, .unicode = true, .currency = "$" };
static struct page page;
static struct figure figure;
static char *text;

static void begin(double x0, double x1, double y0, double y1)
{
	page_start(&page, &look, "t");
	figure_begin(&figure, &page, "f", "A title", "What it says", 172);
	figure_range(&figure, x0, x1, y0, y1);
}

static const char *finish(void)
{
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(page_finish(&page, &text, &diag), AB_OK);
	return text;
}

static void done(void)
{
	ab_report_free(text);
	text = NULL;
}

static size_t count(const char *in, const char *what)
{
	size_t n = 0;

	for (const char *at = strstr(in, what); at != NULL; at = strstr(at + 1, what))
		n++;
	return n;
}

static void holds(const char *what)
{
	ck_assert_msg(strstr(text, what) != NULL, "no %s in %s", what, strstr(text, "<figure"));
}

/* The plot is 460 - 52 - 10 = 398 wide from 52, and 172 - 30 - 42 = 100 high down to 130. */
START_TEST(corners)
{
	begin(0, 398, 0, 100);
	figure_line(&figure, "line", (struct spot[]){ { 0, 0 }, { 398, 100 }, { 199, 50 } }, 3);
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	holds("points=\"52,130 450,30 251,80 \"");
	done();
}
END_TEST

START_TEST(outside_is_drawn_at_the_edge)
{
	begin(0, 398, 0, 100);
	figure_line(&figure, "line", (struct spot[]){ { -5, 200 }, { 500, -1 } }, 2);
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	holds("points=\"52,30 450,130 \"");
	done();
}
END_TEST

START_TEST(gaps)
{
	begin(0, 398, 0, 100);
	figure_line(&figure, "line", (struct spot[]){ { 0, 0 }, { 1, NAN }, { 2, 2 }, { 3, 3 }, { 4, INFINITY } }, 5);
	figure_dot(&figure, "beer", NAN, 1, false, "no");
	figure_dot(&figure, "beer", 1, INFINITY, false, "no");
	figure_band(&figure, "guess", NULL, NULL, 0);
	figure_box(&figure, "range", 5, 5, 0, 1);
	figure_mark(&figure, "mark", 500, "late");
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	ck_assert_uint_eq(count(text, "<polyline"), 2);
	ck_assert_uint_eq(
	    count(text, "<circle") + count(text, "<polygon") + count(text, "<rect") + count(text, "late"), 0);
	done();
}
END_TEST

/* Round steps: 1, 2 or 5 times a power of ten, about as many as asked. */
static const struct { double low, high; int steps, digits; size_t lines; const char *first, *last; } grids[] = {
	{ 0, 10, 5, 0, 6, ">0<", ">10<" }, { 0, 100, 5, 0, 6, ">0<", ">100<" },
	{ 1, 1.05, 5, 3, 6, ">1.000<", ">1.050<" },
	{ 16.3, 21.2, 5, 0, 5, ">17<", ">21<" }, { -3, 3, 6, 0, 7, ">-3<", ">3<" }, { 0, 35, 7, 0, 8, ">0<", ">35<" },
};
START_TEST(grid)
{
	begin(0, 1, grids[_i].low, grids[_i].high);
	figure_grid_y(&figure, grids[_i].steps, grids[_i].digits, "u");
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	ck_assert_uint_eq(count(text, "class=\"grid\""), grids[_i].lines);
	holds(grids[_i].first);
	holds(grids[_i].last);
	ck_assert_ptr_null(strstr(text, ">-0<"));
	done();
}
END_TEST

START_TEST(no_width)
{
	begin(3, 3, 7, 7);
	figure_grid_y(&figure, 4, 1, "u");
	figure_grid_x(&figure, 4, 1, "u");
	figure_dot(&figure, "beer", 3, 7, true, "here");
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	holds("cy=\"80\"");
	ck_assert_ptr_null(strstr(text, "nan"));
	done();
}
END_TEST

/* Without numbers at the left the plot is 460 - 8 - 10 = 442 wide from 8, and 172 - 6 - 42 = 124 high down to 130. */
START_TEST(lanes)
{
	page_start(&page, &look, "t");
	figure_begin(&figure, &page, "f", "A title", "What it says", 172);
	figure_of_lanes(&figure);
	figure_range(&figure, 0, 442, 0, 124);
	figure_line(&figure, "line", (struct spot[]){ { 0, 0 }, { 442, 124 } }, 2);
	figure_column(&figure, "fill bad", (struct spot){ 10, 20 }, (struct spot){ 12, 30 }, "here");
	figure_column(&figure, "fill bad", (struct spot){ 12, 20 }, (struct spot){ 12, 30 }, "no width");
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	holds("points=\"8,130 450,6 \"");
	holds("<rect class=\"fill bad\" x=\"18\" y=\"100\" width=\"2\" height=\"10\"><title>here</title></rect>");
	ck_assert_ptr_null(strstr(text, "no width"));
	done();
}
END_TEST

/* What would leave the figure at the right ends there: a number of 4 letters is up to 39 wide, 20 to either side; a
 * label of 14 letters 137. */
static const struct { double x1; const char *holds; } edges[] = {
	{ 1600, "text-anchor=\"end\" x=\"459\" y=\"147\">1600<" },
	{ 1700, "text-anchor=\"middle\" x=\"426.6\" y=\"147\">1600<" },
	{ 1600, "text-anchor=\"end\" x=\"321.6\" y=\"42\">fourteen signs<" },
	{ 1700, "text-anchor=\"start\" x=\"313.5\" y=\"42\">fourteen signs<" },
};
START_TEST(right_edge)
{
	begin(0, edges[_i].x1, 0, 1);
	figure_grid_x(&figure, 8, 0, "u");
	figure_mark(&figure, "mark", 1100, "fourteen signs");
	figure_mark(&figure, "mark", 300, "");
	figure_end(&figure, "c", "", NULL, 0);
	finish();
	holds(edges[_i].holds);
	ck_assert_uint_eq(count(text, "class=\"mark\""), 2);
	ck_assert_uint_eq(count(text, "class=\"note\""), 1);
	done();
}
END_TEST

/* One line of 44 letters, or two; what does not fit on the second is cut at a word. */
static const struct { const char *name, *lines[2], *lacks; } names[] = {
	{ "1. Hydrometer and jar", { ">1. Hydrometer and jar<", NULL }, "\xE2\x80\xA6" },
	{ "Package only after two equal gravities three days apart",
	    { ">Package only after two equal gravities three<", ">days apart<" }, "\xE2\x80\xA6" },
	{ "aaaaaaaaa bbbbbbbbb ccccccccc ddddddddd eeeeeeeee fffffffff ggggggggg hhhhhhhhh iiiiiiiii jjjjjjjjj",
	    { ">aaaaaaaaa bbbbbbbbb ccccccccc ddddddddd<",
	        ">eeeeeeeee fffffffff ggggggggg hhhhhhhhh\xE2\x80\xA6<" }, "iii" },
	{ "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
	    { ">xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx<", ">xxxxxx<" }, "> " },
};
START_TEST(long_names)
{
	const struct bar b[] = { { names[_i].name, "3", "fill bad", 3, 0, 0 }, { "next", "3", "fill bad", 3, 0, 0 } };
	int two = names[_i].lines[1] != NULL;

	page_start(&page, &look, "t");
	figure_bars(&page, "f", "T", "says", b, 2, "caption", "", NULL, 0);
	finish();
	holds(names[_i].lines[0]);
	if (two)
		holds(names[_i].lines[1]);
	holds(two ? "y=\"77\">next<" : "y=\"57\">next<");
	holds(two ? "viewBox=\"0 0 460 106\"" : "viewBox=\"0 0 460 86\"");
	ck_assert_ptr_null(strstr(text, names[_i].lacks));
	done();
}
END_TEST

/* Bars: 4 px is the least value; the words want 8 letters of 9.75 and 12, so the range gets 460 - 4 - 90 = 366. */
START_TEST(bars)
{
	static const struct bar b[] = { { "one", "3 mg", "fill bad", 3, 1, 5 }, { "two", "-1.52 mg",
	    "fill good", -1.52, 0, 0 } };
	page_start(&page, &look, "t");
	figure_bars(&page, "f", "T", "says", b, 2, "caption", "", NULL, 0);
	finish();
	holds("<rect class=\"fill bad\" x=\"89.3\" y=\"24\" width=\"168.4\""); /* zero at 4 + 1.52 * 366 / 6.52; 3
										  * 56.135 wide */
	holds("<rect class=\"fill good\" x=\"4\" y=\"66\" width=\"85.3\"");
	holds("<line class=\"inlaid\" x1=\"145.5\" y1=\"30\" x2=\"257.7\""); /* from 1 to the end of the bar at 3;
										in ink to 5 */
	holds("<line class=\"whisker\" x1=\"257.7\" y1=\"30\" x2=\"370\"");
	ck_assert_uint_eq(count(text, "class=\"inlaid\""), 2);
	ck_assert_uint_eq(count(text, "class=\"whisker\""), 2);
	holds(">3 mg<");
	done();
}
END_TEST

/* Where it lies on paper it is ink: beside a bar, and all of it over a hollow one; a full bar bears it in the
 * colour of paper. */
static const struct { const char *kind; double value, low, high; size_t inlaid, ink; } spans[] = {
	{ "fill bad", 3, 1, 2, 3, 0 }, { "fill bad", 3, 3.5, 5, 0, 3 }, { "fill bad", 3, -1, 4, 1, 4 },
	{ "fill bad", -3, -4, -2, 2, 2 },
	{ "fill good", 3, 1, 5, 0, 3 }, { "fill good", -3, -4, -2, 0, 3 }, { "fill bad", 3, 2, 2, 0, 0 },
};
START_TEST(whiskers)
{
	const struct bar b[] = { { "one", "3", spans[_i].kind, spans[_i].value, spans[_i].low, spans[_i].high } };

	page_start(&page, &look, "t");
	figure_bars(&page, "f", "T", "says", b, 1, "caption", "", NULL, 0);
	finish();
	ck_assert_uint_eq(count(text, "class=\"inlaid\""), spans[_i].inlaid);
	ck_assert_uint_eq(count(text, "class=\"whisker\""), spans[_i].ink);
	done();
}
END_TEST

START_TEST(strangers)
{
	static const char *const cells[] = { "a<b", "c", "\033[31m", "\"x\"" };
	static const struct bar b[] = { { "<script>", "'&'", "fill calm", 1, 0, 0 } };
	begin(0, 1, 0, 1);
	figure_dot(&figure, "beer", 0.5, 0.5, false, "<script>alert(1)</script>");
	figure_label(&figure, "note", 0.5, 0.5, "start", "</text><script>");
	figure_mark(&figure, "mark", 0.5, "\"><script>");
	figure_end(&figure, "<b>", "ll", cells, 2);
	figure_bars(&page, "g", "<h1>", "</desc>", b, 1, "</figure>", "", NULL, 0);
	finish();
	ck_assert_uint_eq(count(text, "<script") + count(text, "<b>") + count(text, "<h1>") + count(text, "\033"), 0);
	ck_assert_uint_eq(count(text, "</desc>"), 2);
	ck_assert_uint_eq(count(text, "</figure>"), 2);
	done();
}
END_TEST

START_TEST(table_behind)
{
	static const char *const cells[] = { "day", "SG", "0", "1.050", "3", "1.020" };
	begin(0, 1, 0, 1);
	figure_end(&figure, "c", "rr", cells, 3);
	finish();
	ck_assert_uint_eq(count(text, "<details>"), 1);
	ck_assert_uint_eq(count(text, "<tr>"), 3);
	holds("1.020");
	done();
}
END_TEST

/* Whatever allocation fails: a status, no leak, no half page. */
static char *draw(enum ab_status *st)
{
	static const char *const cells[] = { "day", "SG", "0", "1.050" };
	static const struct bar b[] = { { "one", "3", "fill bad", 3, 1, 5 } };
	struct ab_diag diag;
	char *out = NULL;

	ab_diag_init(&diag);
	begin(0, 1, 0, 1);
	figure_grid_y(&figure, 4, 1, "u");
	figure_dot(&figure, "beer", 0.5, 0.5, false, "x");
	figure_end(&figure, "c", "rr", cells, 2);
	figure_bars(&page, "g", "T", "says", b, 1, "c", "", NULL, 0);
	*st = page_finish(&page, &out, &diag);
	return out;
}

START_TEST(short_of_memory)
{
	enum ab_status st;
	size_t failed = 0;

	for (long i = 0; i < 1000; i++) {
		ab_alloc_fail_at(i);
		char *out = draw(&st);
		ab_alloc_fail_at(-1);
		if (st == AB_OK) {
			ab_report_free(out);
			break;
		}
		ck_assert_int_eq(st, AB_ENOMEM);
		ck_assert_ptr_null(out);
		failed++;
	}
	ck_assert_uint_gt(failed, 3);
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("svg");
	TCase *t = tcase_create("figures");
	SRunner *sr = srunner_create(s);

	tcase_add_test(t, corners);
	tcase_add_test(t, outside_is_drawn_at_the_edge);
	tcase_add_test(t, gaps);
	tcase_add_loop_test(t, grid, 0, sizeof grids / sizeof *grids);
	tcase_add_test(t, no_width);
	tcase_add_test(t, lanes);
	tcase_add_loop_test(t, right_edge, 0, sizeof edges / sizeof *edges);
	tcase_add_loop_test(t, long_names, 0, sizeof names / sizeof *names);
	tcase_add_loop_test(t, whiskers, 0, sizeof spans / sizeof *spans);
	tcase_add_test(t, bars);
	tcase_add_test(t, strangers);
	tcase_add_test(t, table_behind);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
