/* check_amend.c - a change noted in a profile and taken back, every other byte as it was
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* mkdtemp */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <afterboil/profile.h>
#include "base/alloc.h"
#include "base/savefile.h"

#define B "<brewery xmlns='urn:afterboil:profile:1'"
#define C "<changed on='2031-01-01'>x</changed>"

static char top[64], path[96];
static struct ab_diag diag;
static struct ab_arena *arena;

static void setup(void)
{
	strcpy(top, "/tmp/ab-amend-XXXXXX");
	ck_assert(mkdtemp(top) != NULL);
	snprintf(path, sizeof path, "%s/p.xml", top);
	ab_diag_init(&diag);
	arena = ab_arena_new();
}

static void teardown(void)
{
	char command[128];
	snprintf(command, sizeof command, "rm -rf %s", top);
	ck_assert(system(command) == 0);
	ab_arena_free(arena);
}

static void put(const char *text)
{
	FILE *f = fopen(path, "w");
	ck_assert(f != NULL && fputs(text, f) >= 0 && fclose(f) == 0);
}

static void holds(const char *wanted, const char *title)
{
	char *text;
	size_t len;
	ck_assert(ab_loadfile(path, 1 << 20, &text, &len, &diag) == AB_OK);
	ck_assert_msg(strcmp(text, wanted) == 0, "%s:\n%s\nwanted:\n%s", title, text, wanted);
	ab_free(text);
}

/* what is before, and with C more */
static const struct { const char *title, *before, *after; } adds[] = {
	{ "a line of its own", B ">\n  <note>a</note>\n</brewery>\n", B ">\n  <note>a</note>\n  " C "\n</brewery>\n" },
	{ "an empty one", B ">\n</brewery>", B ">\n  " C "\n</brewery>" },
	{ "no layout", B "><note>a</note></brewery>", B "><note>a</note>\n  " C "\n</brewery>" },
	{ "an empty tag is opened", B "/>\n", B ">\n  " C "\n</brewery>\n" },
	{ "comments and what looks like an end", "<!-- </brewery> -->" B
	    ">\n<!-- <changed/> -->\n <note><![CDATA[</brewery>]]></note>\n</brewery>\n<!-- end -->",
		"<!-- </brewery> -->" B ">\n<!-- <changed/> -->\n <note><![CDATA[</brewery>]]></note>\n  " C
		"\n</brewery>\n<!-- end -->" },
	{ "foreign elements", B " xmlns:f='urn:f'>\n  <f:changed on='?'><f:b/></f:changed>\n</brewery>\n",
		B " xmlns:f='urn:f'>\n  <f:changed on='?'><f:b/></f:changed>\n  " C "\n</brewery>\n" },
	{ "an earlier change", B ">\n  <changed what='a' on='2030-01-01'/>\n</brewery>\n",
	    B ">\n  <changed what='a' on='2030-01-01'/>\n  " C "\n</brewery>\n" },
	{ "with a prefix", "<b:brewery xmlns:b='urn:afterboil:profile:1'>\n</b:brewery>\n",
		"<b:brewery xmlns:b='urn:afterboil:profile:1'>"
		"\n  <changed xmlns=\"urn:afterboil:profile:1\" on='2031-01-01'>x</changed>\n</b:brewery>\n" },
};

START_TEST(adds_and_takes_back)
{
	struct ab_changed *gone;
	bool opened = strstr(adds[_i].before, "/>\n") == adds[_i].before + strlen(adds[_i].before) - 3 &&
	    strstr(adds[_i].before, "</") == NULL;
	put(adds[_i].before);
	ck_assert_msg(ab_profile_append(path, C, &diag) == AB_OK, "%s: %s", adds[_i].title, diag.text);
	holds(adds[_i].after, adds[_i].title);
	ck_assert_msg(ab_profile_undo_changed(path, NULL, NULL, arena, &gone, &diag) == AB_OK, "%s: %s",
	    adds[_i].title, diag.text);
	ck_assert_str_eq(gone->text, "x");
	if (!opened && strstr(adds[_i].title, "no layout") == NULL)
		holds(adds[_i].before, adds[_i].title);
}
END_TEST

static const struct { const char *title, *before, *element; enum ab_status want; } refused[] = {
	{ "two elements", B "></brewery>", C C, AB_EINPUT },
	{ "nothing", B "></brewery>", "", AB_EINPUT },
	{ "an element that is none", B "></brewery>", "<chnaged on='2031-01-01'>x</chnaged>", AB_EINPUT },
	{ "without a day", B "></brewery>", "<changed>x</changed>", AB_EINPUT },
	{ "without a word", B "></brewery>", "<changed on='2031-01-01'/>", AB_EINPUT },
	{ "a day that is none", B "></brewery>", "<changed on='2031-02-30'>x</changed>", AB_EINPUT },
	{ "an end in it", B "></brewery>", "<note>x</note></brewery><brewery>", AB_EINPUT },
	{ "a second of what stands once", B "><per-year batches='3'/></brewery>", "<per-year batches='4'/>",
	    AB_EINPUT },
	{ "a broken profile", B "><note></brewery>", C, AB_EINPUT },
};

START_TEST(refuses_and_leaves_it)
{
	put(refused[_i].before);
	ck_assert_msg(ab_profile_append(path, refused[_i].element, &diag) == refused[_i].want, "%s: %s",
	    refused[_i].title, diag.text);
	ck_assert(diag.text[0] != '\0');
	holds(refused[_i].before, refused[_i].title);
}
END_TEST

START_TEST(nothing_to_take_back)
{
	struct ab_changed *gone;
	put(B "><note>a</note></brewery>");
	ck_assert_int_eq(ab_profile_undo_changed(path, NULL, NULL, arena, &gone, &diag), AB_EUSAGE);
	holds(B "><note>a</note></brewery>", "untouched");
}
END_TEST

START_TEST(no_file)
{
	ck_assert_int_eq(ab_profile_append(path, C, &diag), AB_ESYSTEM);
}
END_TEST

/* Eight writers at once, ten changes each: all eighty are there. */
START_TEST(writers_lose_nothing)
{
	enum { WRITERS = 8, EACH = 10 };
	struct ab_profile *p;
	put(B ">\n</brewery>\n");
	for (int w = 0; w < WRITERS; w++)
		if (fork() == 0) {
			int failed = 0;
			for (int i = 0; i < EACH; i++)
				failed += ab_profile_append(path, C, &diag) != AB_OK;
			_exit(failed);
		}
	for (int w = 0; w < WRITERS; w++) {
		int status;
		ck_assert(wait(&status) > 0 && status == 0);
	}
	ck_assert_int_eq(ab_profile_read_file(path, arena, &p, &diag), AB_OK);
	ck_assert_uint_eq(p->changed.n, WRITERS * EACH);
}
END_TEST

/* Whatever allocation fails, the old file or the new. */
START_TEST(short_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 2000; at++) {
		struct ab_diag d;
		ab_diag_init(&d);
		put(B ">\n</brewery>\n");
		ab_alloc_fail_at(at);
		st = ab_profile_append(path, C, &d);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", at, d.text);
		holds(st == AB_OK ? B ">\n  " C "\n</brewery>\n" : B ">\n</brewery>\n", "old or new");
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

#define N(rows) ((int)(sizeof rows / sizeof *rows))

int main(void)
{
	Suite *s = suite_create("amend");
	TCase *t = tcase_create("amend");
	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 60);
	tcase_add_loop_test(t, adds_and_takes_back, 0, N(adds));
	tcase_add_loop_test(t, refuses_and_leaves_it, 0, N(refused));
	tcase_add_test(t, nothing_to_take_back);
	tcase_add_test(t, no_file);
	tcase_add_test(t, writers_lose_nothing);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed != 0;
}
