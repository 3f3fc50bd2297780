/* check_inputs.c - which files are read, in which order, with which profile, and which batches are kept
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#define NS "xmlns=\"urn:afterboil:journal:1\""
#define BATCH(id, date, more) "<batch " NS " id=\"" id "\" brewed=\"" date "\" " more "/>"
#define PROFILE(name) "<brewery xmlns=\"urn:afterboil:profile:1\" name=\"" name "\" currency=\"$\"/>"

enum { MOST = 6 };
static struct cli cli;
static const char *folder;
static char *args[MOST];

static void begin(void)
{
	cc_begin(&cli, command_find("facts"));
	folder = cc_folder(&cli);
	cli.args = args;
}

/* Names an argument: name within the folder. */
static void give(const char *name)
{
	args[cli.n_args++] = ab_arena_printf(cli.arena, "%s%s", folder, name);
}

static const char *ids(void)
{
	const char *text = "";
	for (size_t i = 0; i < cli.n_batches; i++)
		text = ab_arena_printf(cli.arena, "%s%s%s", text, i > 0 ? " " : "", cli.batches[i]->id);
	return text;
}

static void is_read(const char *title, const char *want)
{
	enum ab_status st = inputs_read(&cli, true);
	ck_assert_msg(st == AB_OK, "%s: %s", title, cli.diag.text);
	ck_assert_msg(strcmp(ids(), want) == 0, "%s: \"%s\"", title, ids());
	cc_end(&cli);
}

/* ---- is it a journal? told by the root element, in the folder only ---- */

static const struct { const char *title, *name, *text, *want; } files[] = {
	{ "a journal", "b.xml", BATCH("b", "2031-01-02", ""), "a b" },
	{ "many in one", "b.xml",
	    "<batches " NS ">" BATCH("b", "2031-01-02", "") BATCH("c", "2031-01-03", "") "</batches>", "a b c" },
	{ "a prefix", "b.xml", "<j:batch xmlns:j=\"urn:afterboil:journal:1\" id=\"b\" brewed=\"2031-01-02\"/>", "a b" },
	{ "after a declaration and a remark with signs in it", "b.xml",
	    "<?xml version=\"1.0\"?>\n<!-- <other> -->\n" BATCH("b", "2031-01-02", ""), "a b" },
	{ "after a byte order mark", "b.xml", "\xEF\xBB\xBF" BATCH("b", "2031-01-02", ""), "a b" },
	{ "something else", "b.xml", "<rules/>", "a" },
	{ "something else after a remark that names a batch", "b.xml", "<!-- <batch> --><rules/>", "a" },
	{ "an element whose name begins alike", "b.xml", "<batchlist/>", "a" },
	{ "another ending", "b.txt", BATCH("b", "2031-01-02", ""), "a" },
	{ "the ending in capitals", "b.XML", BATCH("b", "2031-01-02", ""), "a" },
	{ "hidden", ".b.xml", BATCH("b", "2031-01-02", ""), "a" },
	{ "no name but the ending", ".xml", BATCH("b", "2031-01-02", ""), "a" },
	{ "in a folder below", "sub/b.xml", BATCH("b", "2031-01-02", ""), "a" },
	{ "a profile", "profile.xml", PROFILE("Barn"), "a" },
};

START_TEST(a_folder_stands_for_its_journals)
{
	begin();
	cc_put(&cli, folder, "a.xml", BATCH("a", "2031-01-01", ""));
	cc_put(&cli, folder, files[_i].name, files[_i].text);
	give("");
	is_read(files[_i].title, files[_i].want);
}
END_TEST

static const struct { const char *title, *text; } broken[] = {
	{ "no XML", "garbage" }, { "empty", "" }, { "a remark without end", "<!-- <batch" },
	{ "only a declaration", "<?xml version=\"1.0\"?>" }, { "cut off", "<batch " NS },
	{ "a doctype", "<!DOCTYPE batch>" BATCH("b", "2031-01-02", "") },
};

START_TEST(what_cannot_be_told_is_read_and_refused)
{
	begin();
	cc_put(&cli, folder, "a.xml", BATCH("a", "2031-01-01", ""));
	const char *path = cc_put(&cli, folder, "b.xml", broken[_i].text);
	give("");
	ck_assert_msg(inputs_read(&cli, true) == AB_EINPUT, "%s", broken[_i].title);
	ck_assert_msg(
	    strstr(cli.diag.source, path + strlen(folder)) != NULL, "%s: %s", broken[_i].title, cli.diag.source);
	cc_end(&cli);
}
END_TEST

/* ---- order, filters ---- */

static void five(void)
{
	begin();
	cc_put(&cli, folder, "1.xml", BATCH("e", "2031-05-01", "line=\"pale\""));
	cc_put(&cli, folder, "2.xml", BATCH("d", "2031-01-01", "line=\"pale\""));
	cc_put(&cli, folder, "3.xml", BATCH("b", "2031-03-01", "line=\"ale\""));
	cc_put(&cli, folder, "4.xml", BATCH("c", "2031-03-01", ""));
	cc_put(&cli, folder, "5.xml", BATCH("a", "2031-04-01", "line=\"pale\""));
	give("");
}

static const struct { const char *title, *batch, *batch2, *line; double last; const char *want; } filters[] = {
	{ "by date, then by id", NULL, NULL, NULL, NAN, "d b c a e" },
	{ "the newest two", NULL, NULL, NULL, 2, "a e" },
	{ "one", NULL, NULL, NULL, 1, "e" },
	{ "as many as there are", NULL, NULL, NULL, 5, "d b c a e" },
	{ "more than there are", NULL, NULL, NULL, 6, "d b c a e" },
	{ "one by its id", "c", NULL, NULL, NAN, "c" },
	{ "two by their ids, in order of date", "e", "d", NULL, NAN, "d e" },
	{ "a line", NULL, NULL, "pale", NAN, "d a e" },
	{ "a line is no part of a line", NULL, NULL, "ale", NAN, "b" },
	{ "the newest two of a line", NULL, NULL, "pale", 2, "a e" },
	{ "an id of a line", "a", NULL, "pale", NAN, "a" },
	{ "the newest of two ids", "d", "c", NULL, 1, "c" },
};

START_TEST(keeps)
{
	five();
	if (filters[_i].batch != NULL)
		ck_assert_int_eq(text_push(&cli, &cli.o.batch, filters[_i].batch), AB_OK);
	if (filters[_i].batch2 != NULL)
		ck_assert_int_eq(text_push(&cli, &cli.o.batch, filters[_i].batch2), AB_OK);
	cli.o.line = filters[_i].line;
	cli.o.last = filters[_i].last;
	is_read(filters[_i].title, filters[_i].want);
}
END_TEST

static const struct { const char *title, *batch, *batch2, *line; const char *said; } nones[] = {
	{ "no such id", "x", NULL, NULL, "no batch here is called \"x\"" },
	{ "no such line", NULL, NULL, "stout", "no beer here is called \"stout\"" },
	{ "an id of another line", "b", NULL, "pale", "\"b\"" },
	{ "an id is no part of an id", "", NULL, NULL, "no batch here is called \"\"" },
	{ "one that is not there beside one that is", "x", "d", NULL, "no batch here is called \"x\"" },
};

START_TEST(keeps_none)
{
	for (int needed = 0; needed < 2; needed++) {
		five();
		if (nones[_i].batch != NULL)
			ck_assert_int_eq(text_push(&cli, &cli.o.batch, nones[_i].batch), AB_OK);
		if (nones[_i].batch2 != NULL)
			ck_assert_int_eq(text_push(&cli, &cli.o.batch, nones[_i].batch2), AB_OK);
		cli.o.line = nones[_i].line;
		ck_assert_msg(inputs_read(&cli, needed) == AB_EUSAGE, "%s", nones[_i].title);
		ck_assert_msg(strstr(cli.diag.text, nones[_i].said) != NULL, "%s: %s", nones[_i].title, cli.diag.text);
		cc_end(&cli);
	}
}
END_TEST

START_TEST(nothing_named)
{
	begin();
	ck_assert_int_eq(inputs_read(&cli, false), AB_OK);
	ck_assert_uint_eq(cli.n_batches, 0);
	ck_assert_int_eq(inputs_read(&cli, true), AB_EUSAGE);
	cc_end(&cli);
}
END_TEST

START_TEST(no_batch_in_what_was_given)
{
	begin();
	cc_put(&cli, folder, "a.xml", "<batches " NS "/>");
	give("a.xml");
	ck_assert_int_eq(inputs_read(&cli, true), AB_EINPUT);
	cc_end(&cli);
	begin();
	cc_put(&cli, folder, "a.xml", "<rules/>");
	give("");
	ck_assert_int_eq(inputs_read(&cli, false), AB_EINPUT);
	ck_assert_msg(strstr(cli.diag.text, "<batch>") != NULL && strcmp(cli.diag.source, folder) == 0, "%s: %s",
	    cli.diag.source, cli.diag.text);
	cc_end(&cli);
}
END_TEST

/* ---- twins ---- */

START_TEST(two_of_one_id)
{
	begin();
	cc_put(&cli, folder, "a.xml", BATCH("x", "2031-01-01", ""));
	cc_put(&cli, folder, "b.xml", "\n\n" BATCH("x", "2031-02-01", ""));
	give("");
	ck_assert_int_eq(inputs_read(&cli, true), AB_EINPUT);
	ck_assert_msg(strstr(cli.diag.source, "b.xml") != NULL && cli.diag.line == 3, "%s:%ld", cli.diag.source,
	    cli.diag.line);
	ck_assert_msg(strstr(cli.diag.text, "\"x\"") != NULL && strstr(cli.diag.text, "a.xml:1;") != NULL, "%s",
	    cli.diag.text);
	cc_end(&cli);
}
END_TEST

START_TEST(one_file_named_twice)
{
	begin();
	cc_put(&cli, folder, "a.xml", BATCH("x", "2031-01-01", ""));
	give("a.xml");
	give("");
	ck_assert_int_eq(inputs_read(&cli, true), AB_EINPUT);
	cc_end(&cli);
}
END_TEST

/* ---- the profile ---- */

static const struct { const char *title, *put[3], *give, *named, *want; } profiles[] = {
	{ "none", { NULL }, "j", NULL, NULL },
	{ "beside the journals", { "j/profile.xml" }, "j", NULL, "j/profile.xml" },
	{ "beside the one journal named", { "j/profile.xml" }, "j/a.xml", NULL, "j/profile.xml" },
	{ "one folder up", { "profile.xml" }, "j", NULL, "profile.xml" },
	{ "one folder up from the journal named", { "profile.xml" }, "j/a.xml", NULL, "profile.xml" },
	{ "the nearer one", { "profile.xml", "j/profile.xml" }, "j", NULL, "j/profile.xml" },
	{ "not one folder down", { "j/sub/profile.xml" }, "j", NULL, NULL },
	{ "the one that is named", { "j/profile.xml", "mine.xml" }, "j", "mine.xml", "mine.xml" },
};

START_TEST(finds_the_profile)
{
	begin();
	cc_put(&cli, folder, "j/a.xml", BATCH("a", "2031-01-01", ""));
	for (int i = 0; i < 3 && profiles[_i].put[i] != NULL; i++)
		cc_put(&cli, folder, profiles[_i].put[i], "");
	for (int i = 0; i < 3 && profiles[_i].put[i] != NULL; i++) {
		const char *text = ab_arena_printf(cli.arena,
		    "<brewery xmlns=\"urn:afterboil:profile:1\" name=\"%s\" currency=\"$\"/>", profiles[_i].put[i]);
		cc_put(&cli, folder, profiles[_i].put[i], text);
	}
	give(profiles[_i].give);
	if (profiles[_i].named != NULL)
		cli.o.profile = ab_arena_printf(cli.arena, "%s%s", folder, profiles[_i].named);
	ck_assert_msg(inputs_read(&cli, true) == AB_OK, "%s: %s", profiles[_i].title, cli.diag.text);
	if (profiles[_i].want == NULL)
		ck_assert_msg(cli.profile == NULL, "%s: %s", profiles[_i].title, cli.o.profile);
	else
		ck_assert_msg(cli.profile != NULL && strcmp(cli.profile->name, profiles[_i].want) == 0, "%s",
		    profiles[_i].title);
	cc_end(&cli);
}
END_TEST

START_TEST(a_profile_that_is_not_there)
{
	begin();
	cc_put(&cli, folder, "a.xml", BATCH("a", "2031-01-01", ""));
	give("a.xml");
	cli.o.profile = "/nonexistent/profile.xml";
	ck_assert_int_ne(inputs_read(&cli, true), AB_OK);
	ck_assert_str_eq(cli.diag.source, "/nonexistent/profile.xml");
	ck_assert_uint_eq(cli.n_batches, 0);
	cc_end(&cli);
}
END_TEST

/* ---- one at a time ---- */

struct kept { size_t n; const char *ids; };

static enum ab_status count(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct kept *k = ctx;
	k->ids = ab_arena_printf(cli.arena, "%s%s", k->ids, batch->id);
	return ++k->n == 2 && cli.o.all ? ab_fail(diag, AB_ESYSTEM, NULL, 0, "enough") : AB_OK;
}

START_TEST(each_in_order_of_name)
{
	struct kept k = { 0, "" };
	five();
	text_push(&cli, &cli.o.batch, "a");   /* no filter here */
	ck_assert_int_eq(inputs_each(&cli, cli.arena, count, &k), AB_OK);
	ck_assert_str_eq(k.ids, "edbca");
	ck_assert_uint_eq(cli.n_files, 5);
	cc_end(&cli);
}
END_TEST

START_TEST(who_takes_them_may_end_it)
{
	struct kept k = { 0, "" };
	five();
	cli.o.all = true;
	ck_assert_int_eq(inputs_each(&cli, cli.arena, count, &k), AB_ESYSTEM);
	ck_assert_str_eq(k.ids, "ed");
	cc_end(&cli);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("inputs");
	TCase *tc = tcase_create("inputs");
	tcase_add_loop_test(tc, a_folder_stands_for_its_journals, 0, sizeof files / sizeof *files);
	tcase_add_loop_test(tc, what_cannot_be_told_is_read_and_refused, 0, sizeof broken / sizeof *broken);
	tcase_add_loop_test(tc, keeps, 0, sizeof filters / sizeof *filters);
	tcase_add_loop_test(tc, keeps_none, 0, sizeof nones / sizeof *nones);
	tcase_add_test(tc, nothing_named);
	tcase_add_test(tc, no_batch_in_what_was_given);
	tcase_add_test(tc, two_of_one_id);
	tcase_add_test(tc, one_file_named_twice);
	tcase_add_loop_test(tc, finds_the_profile, 0, sizeof profiles / sizeof *profiles);
	tcase_add_test(tc, a_profile_that_is_not_there);
	tcase_add_test(tc, each_in_order_of_name);
	tcase_add_test(tc, who_takes_them_may_end_it);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
