/* check_undo.c - the last entries of a journal, taken back byte for byte or not at all
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* mkdtemp */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include <afterboil/undo.h>
#include "base/alloc.h"
#include "base/savefile.h"

#define B "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>\n</batch>\n"

static char top[64], path[96], trail[128];
static struct ab_diag diag;
static struct ab_arena *arena;

static void setup(void)
{
	strcpy(top, "/tmp/ab-undo-XXXXXX");
	ck_assert(mkdtemp(top) != NULL);
	snprintf(path, sizeof path, "%s/j.xml", top);
	snprintf(trail, sizeof trail, "%s/" AB_UNDO_NAME, top);
	ab_diag_init(&diag);
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void teardown(void)
{
	char command[128];

	ab_arena_free(arena);
	snprintf(command, sizeof command, "rm -rf %s", top);
	ck_assert(system(command) == 0);
}

static void put(const char *to, const char *text, size_t len)
{
	FILE *f = fopen(to, "w");
	ck_assert(f != NULL && fwrite(text, 1, len, f) == len && fclose(f) == 0);
}

static char *got(const char *from, size_t *len)
{
	char *text;
	struct ab_diag d;

	ab_diag_init(&d);
	ck_assert_msg(ab_loadfile(from, 1 << 22, &text, len, &d) == AB_OK, "%s", d.text);
	return text;
}

static void holds(const char *wanted, const char *title)
{
	size_t len;
	char *text = got(path, &len);

	ck_assert_msg(strcmp(text, wanted) == 0, "%s:\n%s\nwanted:\n%s", title, text, wanted);
	ab_free(text);
}

/* One entry, as a command makes it. */
static void enter(const char *text, const char *words)
{
	const struct ab_undo_entry e = { "log", NULL, "a", words, "2031-03-07T18:00" };
	struct ab_undo *undo;
	char element[200];

	snprintf(element, sizeof element, "<note>%s</note>", text);
	ck_assert_msg(ab_undo_begin(path, &undo, &diag) == AB_OK, "%s", diag.text);
	ck_assert_msg(ab_journal_append(path, "a", element, &diag) == AB_OK, "%s", diag.text);
	ck_assert_msg(ab_undo_end(undo, &e, &diag) == AB_OK, "%s", diag.text);
}

static enum ab_status take(const char **words)
{
	struct ab_undo_entry e = { .words = NULL };

	ab_diag_init(&diag);
	enum ab_status st = ab_undo_take(path, "a", NULL, arena, &e, &diag);
	*words = e.words;
	return st;
}

START_TEST(one_by_one)
{
	enum { N = 40 };
	static char *was[N];
	char words[32];
	const char *said;
	size_t len;

	put(path, B, strlen(B));
	for (int i = 0; i < N; i++) {
		was[i] = got(path, &len);
		snprintf(words, sizeof words, "note %d", i);
		enter(words, words);
	}
	for (int i = N - 1; i >= 0; i--) {
		ck_assert_msg(take(&said) == AB_OK, "%d: %s", i, diag.text);
		snprintf(words, sizeof words, "note %d", i);
		ck_assert_str_eq(said, words);
		holds(was[i], words);
		ab_free(was[i]);
	}
	ck_assert_int_eq(take(&said), AB_EUSAGE);
}
END_TEST

/* Any change of the text, at any place, by whatever wrote it: back again. */
START_TEST(any_change)
{
	static const char *const texts[] = { B, "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-08'>\n<note>x</note></batch>\n",
		"<!-- c -->" B, "<batch xmlns='urn:afterboil:journal:1' id='a' brewed='2031-03-07'/>", B "<!-- behind -->" };
	enum { N = sizeof texts / sizeof *texts };
	const struct ab_undo_entry e = { "taste", NULL, "a", "x\x1b[2Jy", "2031" };
	const char *said;
	struct ab_undo *undo;

	for (int i = 0; i < N * N; i++) {
		put(path, texts[i / N], strlen(texts[i / N]));
		ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_OK);
		put(path, texts[i % N], strlen(texts[i % N]));
		ck_assert_int_eq(ab_undo_end(undo, &e, &diag), AB_OK);
		if (i / N == i % N)
			continue;   /* nothing changed, and nothing is kept */
		ck_assert_msg(take(&said) == AB_OK, "%d: %s", i, diag.text);
		ck_assert_str_eq(said, "x?[2Jy");
		holds(texts[i / N], "any change");
	}
	ck_assert_int_eq(take(&said), AB_EUSAGE);
}
END_TEST

/* Killed at any byte of the trail, or a bit of it turned: the journal is what it was before the entry, or after it, never else. */
START_TEST(broken_trail)
{
	const char *said;
	size_t len, n, back = 0;

	put(path, B, strlen(B));
	enter("one", "note one");
	char *one = got(path, &n);
	enter("two", "note two");
	char *two = got(path, &n), *whole = got(trail, &len), *turned = got(trail, &len);
	for (size_t i = 0; i < 2 * len; i += 3) {
		memcpy(turned, whole, len);
		turned[i % len] ^= 1;
		put(path, two, n);
		put(trail, i < len ? whole : turned, i < len ? i : len);
		enum ab_status st = take(&said);
		ck_assert_msg(st == AB_OK || st == AB_EUSAGE || st == AB_EINPUT, "%zu: %s", i, diag.text);
		holds(st == AB_OK ? one : two, "broken trail");
		back += st == AB_OK;
	}
	/* Of the older record, and of the words and the time of this one, a bit may be turned; of those cut short none is whole. */
	ck_assert_msg(back > 0 && back < len / 3, "%zu of %zu", back, len);
	ab_free(one);
	ab_free(two);
	ab_free(whole);
	ab_free(turned);
}
END_TEST

static const struct { const char *title, *line; } strange[] = {
	{ "lengths that run over", "entry log 2031 0 18446744073709551615 1 1 1 18446744073709551615 a b\njax\n" },
	{ "longer than there is", "entry log 2031 0 900 1 5 1 1 a b\nj.xmlax\n" },
	{ "no figures", "entry log 2031 zero 0 0 5 1 1 a b\nj.xmlax\n" },
	{ "no line feed behind", "entry log 2031 0 0 0 5 1 1 a b\nj.xmlaxy" },
	{ "digests that fit nothing", "entry log 2031 0 0 0 5 1 1 a b\nj.xmlax\n" },
};
START_TEST(strange_trail)
{
	char text[500];
	const char *said;

	put(path, B, strlen(B));
	snprintf(text, sizeof text, "afterboil undo 1\n%s", strange[_i].line);
	put(trail, text, strlen(text));
	ck_assert_msg(take(&said) == AB_EUSAGE, "%s: %s", strange[_i].title, diag.text);
	holds(B, strange[_i].title);
	/* and what is entered next goes back */
	enter("x", "note x");
	ck_assert_msg(take(&said) == AB_OK, "%s: %s", strange[_i].title, diag.text);
	holds(B, strange[_i].title);
}
END_TEST

/* It does not grow without end, and the newest are those that stay. */
START_TEST(bounded)
{
	static char words[4001];
	const char *said;
	struct stat sb;
	int n = 0;

	memset(words, 'x', sizeof words - 1);
	put(path, B, strlen(B));
	for (int i = 0; i < 100; i++)
		enter("x", words);
	ck_assert(stat(trail, &sb) == 0 && sb.st_size <= AB_UNDO_LIMIT + 64 && sb.st_size > AB_UNDO_LIMIT / 2);
	while (take(&said) == AB_OK)
		n++;
	ck_assert_msg(n > 50 && n < 70, "%d", n);
}
END_TEST

START_TEST(other_files)
{
	struct ab_undo_entry e;
	const char *said;

	put(path, B, strlen(B));
	enter("x", "note x");
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_OK);
	ck_assert_str_eq(e.file, "j.xml");
	ck_assert_str_eq(e.batch, "a");
	ck_assert_int_eq(ab_undo_take(path, "b", NULL, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_undo_take(path, "a", "taste", arena, &e, &diag), AB_EUSAGE);
	snprintf(path, sizeof path, "%s/k.xml", top);
	put(path, B, strlen(B));
	ck_assert_int_eq(take(&said), AB_EUSAGE);
	ck_assert_int_eq(unlink(trail), 0);
	ck_assert_int_eq(ab_undo_newest(path, arena, &e, &diag), AB_EUSAGE);
	ab_diag_init(&diag);
	ck_assert_int_eq(mkdir(trail, 0700), 0);
	struct ab_undo *undo;
	ck_assert_int_eq(ab_undo_begin(path, &undo, &diag), AB_ESYSTEM);
	ck_assert_ptr_null(undo);
	ck_assert_int_eq(ab_undo_end(NULL, &e, &diag), AB_OK);
}
END_TEST

START_TEST(short_memory)
{
	const struct ab_undo_entry e = { "log", NULL, "a", "note y", "2031" };
	enum ab_status st = AB_ENOMEM;
	const char *said;
	size_t n, len;

	put(path, B, strlen(B));
	enter("x", "note x");
	char *one = got(path, &n), *whole = got(trail, &len);
	for (long i = 0; st != AB_OK && i < 2000; i++) {
		put(path, one, n);
		put(trail, whole, len);
		ab_alloc_fail_at(i);
		st = take(&said);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", i, diag.text);
		holds(st == AB_OK ? B : one, "short memory");
	}
	ck_assert_int_eq(st, AB_OK);
	st = AB_ENOMEM;
	for (long i = 0; st != AB_OK && i < 2000; i++) {
		struct ab_undo *undo;
		ab_diag_init(&diag);
		ab_alloc_fail_at(i);
		st = ab_undo_begin(path, &undo, &diag);
		put(path, one, n);
		if (st == AB_OK)
			st = ab_undo_end(undo, &e, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", i, diag.text);
		put(path, B, strlen(B));
	}
	ck_assert_int_eq(st, AB_OK);
	ab_free(one);
	ab_free(whole);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("undo");
	TCase *tc = tcase_create("undo");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);   /* each of hundreds of journals is brought to the disk */
	tcase_add_test(tc, one_by_one);
	tcase_add_test(tc, any_change);
	tcase_add_test(tc, broken_trail);
	tcase_add_loop_test(tc, strange_trail, 0, sizeof strange / sizeof *strange);
	tcase_add_test(tc, bounded);
	tcase_add_test(tc, other_files);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
