/* check_progress.c - the line of a long work: its words, its width, and when it is drawn
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

/* ---- the text ---- */

static const struct { const char *title; size_t done, of; double passed_s; int width; const char *want; } lines[] = {
	{ "half done: as long again", 100, 200, 5, 80, "100 of 200 journals read, about 5 s left" },
	{ "a quarter done: three times as long", 50, 200, 2, 80, "50 of 200 journals read, about 6 s left" },
	{ "rounded up", 99, 100, 2, 80, "99 of 100 journals read, about 1 s left" },
	{ "seconds up to a minute and a half", 10, 100, 10, 80, "10 of 100 journals read, about 90 s left" },
	{ "then minutes, rounded up", 10, 101, 10, 80, "10 of 101 journals read, about 2 min left" },
	{ "hours are minutes too", 1, 7201, 1, 80, "1 of 7201 journals read, about 120 min left" },
	{ "nothing done: nothing known", 0, 200, 5, 80, "" },
	{ "of nothing", 0, 0, 5, 80, "" },
	{ "all done", 200, 200, 5, 80, "" },
	{ "more than all", 201, 200, 5, 80, "" },
	{ "one column is left free", 100, 200, 5, 41, "100 of 200 journals read, about 5 s left" },
	{ "no room: the time alone", 100, 200, 5, 40, "about 5 s left" },
	{ "just room for that", 100, 200, 5, 15, "about 5 s left" },
	{ "not even for that", 100, 200, 5, 14, "" },
	{ "no width at all", 100, 200, 5, 0, "" },
	{ "wider than any line", 100, 200, 5, 1000, "100 of 200 journals read, about 5 s left" },
};

START_TEST(its_words)
{
	char text[PROGRESS_LONGEST + 1];
	progress_line(text, "journals read", lines[_i].done, lines[_i].of, lines[_i].passed_s, lines[_i].width);
	ck_assert_msg(strcmp(text, lines[_i].want) == 0, "%s: found \"%s\"", lines[_i].title, text);
}
END_TEST

/* A name that is too long for any line is left out, never cut. */
START_TEST(a_long_name_is_left_out)
{
	char text[PROGRESS_LONGEST + 1], name[2 * PROGRESS_LONGEST];
	memset(name, 'x', sizeof name - 1);
	name[sizeof name - 1] = '\0';
	progress_line(text, name, 1, 2, 3, 1000);
	ck_assert_str_eq(text, "about 3 s left");
}
END_TEST

START_TEST(narrower_than_the_terminal)
{
	char text[PROGRESS_LONGEST + 1];
	for (int width = 0; width < 130; width++)
		for (size_t done = 0; done <= 1000; done += 37) {
			progress_line(text, "batches worked out", done, 1000, 0.5 * (double)done + 1, width);
			ck_assert(text[0] == '\0' || (int)strlen(text) < width);
		}
}
END_TEST

/* ---- when ---- */

static double clock_s;

static double told_clock(void)
{
	return clock_s;
}

static struct progress p;
static char *written;
static size_t n_written, n_seen;

static void begin(void)
{
	clock_s = 100;
	n_seen = 0;
	p = (struct progress){ .now_s = told_clock, .width = 80, .on = true };
	p.to = open_memstream(&written, &n_written);
	ck_assert_ptr_nonnull(p.to);
}

static void end(void)
{
	fclose(p.to);
	free(written);
}

/* What came since the last call. */
static const char *came(void)
{
	fflush(p.to);
	const char *text = written + n_seen;
	n_seen = n_written;
	return text;
}

#define LINE(text) "\r\033[K" text
/* One work of ten steps, in order; at_s since its start. */
static const struct { const char *title; double at_s; size_t done; const char *want; } moments[] = {
	{ "at once", 0, 1, "" },
	{ "before a second", 0.9, 2, "" },
	{ "at the second", 1, 2, "" },
	{ "after it", 1.5, 3, LINE("3 of 10 steps, about 4 s left") },
	{ "too soon after", 1.59375, 4, "" },
	{ "a tenth later", 1.609375, 4, LINE("4 of 10 steps, about 3 s left") },
	{ "too soon again", 1.6875, 5, "" },
	{ "later", 3, 5, LINE("5 of 10 steps, about 3 s left") },
	{ "the last step draws nothing", 5, 10, "" },
};

START_TEST(its_moments)
{
	progress_start(&p, "steps");
	for (size_t i = 0; i < sizeof moments / sizeof *moments; i++) {
		clock_s = 100 + moments[i].at_s;
		progress_draw(&p, moments[i].done, 10);
		const char *text = came();
		ck_assert_msg(strcmp(text, moments[i].want) == 0, "%s: found \"%s\"", moments[i].title, text);
	}
	progress_erase(&p);
	ck_assert_str_eq(came(), LINE(""));
	progress_erase(&p);
	ck_assert_str_eq(came(), "");
}
END_TEST

/* A word came between: the next line need not wait, for there is nothing to read. */
START_TEST(after_an_erasure)
{
	progress_start(&p, "steps");
	clock_s += 2;
	progress_draw(&p, 1, 10);
	progress_erase(&p);
	came();
	progress_draw(&p, 2, 10);
	ck_assert_str_eq(came(), LINE("2 of 10 steps, about 8 s left"));
	/* The next work erases the line of the last, and has a second of its own. */
	progress_start(&p, "others");
	ck_assert_str_eq(came(), LINE(""));
	clock_s += 0.5;
	progress_draw(&p, 1, 10);
	ck_assert_str_eq(came(), "");
}
END_TEST

/* However often it is told: ten lines a second at most. */
START_TEST(not_too_often)
{
	size_t drawn = 0;
	progress_start(&p, "steps");
	for (size_t i = 1; i < 4096; i++) {
		clock_s = 100 + (double)i / 1024;
		progress_draw(&p, i, 4096);
		drawn += came()[0] != '\0';
	}
	ck_assert_uint_ge(drawn, 25);
	ck_assert_uint_le(drawn, 30);
	progress_erase(&p);
}
END_TEST

START_TEST(off_is_off)
{
	p.on = false;
	p.now_s = NULL;
	progress_start(&p, "steps");
	progress_draw(&p, 5, 10);
	progress_erase(&p);
	ck_assert_str_eq(came(), "");
}
END_TEST

int main(void)
{
	Suite *s = suite_create("progress");
	TCase *text = tcase_create("text"), *when = tcase_create("when");
	tcase_add_loop_test(text, its_words, 0, sizeof lines / sizeof *lines);
	tcase_add_test(text, a_long_name_is_left_out);
	tcase_add_test(text, narrower_than_the_terminal);
	tcase_add_checked_fixture(when, begin, end);
	tcase_add_test(when, its_moments);
	tcase_add_test(when, after_an_erasure);
	tcase_add_test(when, not_too_often);
	tcase_add_test(when, off_is_off);
	suite_add_tcase(s, text);
	suite_add_tcase(s, when);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
