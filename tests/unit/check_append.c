/* check_append.c - one element more, every other byte as it was
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* mkdtemp, symlink, lstat */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/savefile.h"

#define NS "xmlns='urn:afterboil:journal:1'"
#define B "<batch " NS " id='a' brewed='2031-03-07'"

static char top[64], path[96];
static struct ab_diag diag;

static void setup(void)
{
	strcpy(top, "/tmp/ab-append-XXXXXX");
	ck_assert(mkdtemp(top) != NULL);
	snprintf(path, sizeof path, "%s/j.xml", top);
	ab_diag_init(&diag);
}

static void teardown(void)
{
	char command[128];
	snprintf(command, sizeof command, "rm -rf %s", top);
	ck_assert(system(command) == 0);
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
	struct ab_diag d;
	ab_diag_init(&d);
	ck_assert(ab_loadfile(path, 1 << 20, &text, &len, &d) == AB_OK);
	ck_assert_msg(strcmp(text, wanted) == 0, "%s:\n%s\nwanted:\n%s", title, text, wanted);
	ab_free(text);
}

static const struct { const char *title, *before, *id, *element, *after; } adds[] = {
	{ "its own line, indented like the last", B ">\n  <pitch/>\n</batch>\n", "a", "<tasting/>",
	    B ">\n  <pitch/>\n  <tasting/>\n</batch>\n" },
	{ "no child yet", B ">\n</batch>\n", "a", "<note>x</note>", B ">\n\t<note>x</note>\n</batch>\n" },
	{ "no layout", B "><pitch/></batch>", "a", "<note/>", B "><pitch/><note/></batch>" },
	{ "an empty tag is opened", B " />\n<!-- end -->", "a", "<note/>", B " >\n\t<note/>\n</batch>\n<!-- end -->" },
	{ "CRLF", B ">\r\n\t<pitch/>\r\n</batch>\r\n", "a", "<note/>",
	    B ">\r\n\t<pitch/>\r\n\t<note/>\r\n</batch>\r\n" },
	{ "comments, foreign elements, CDATA stay",
	    "<?xml version='1.0'?>\n<!-- <batch id='a'></batch> -->\n" B ">\n\t<x:y xmlns:x='urn:x'>\n\t\t<x:batch "
	    "id='a'/> </x:y>\n\t<note><![CDATA[</batch>]]></note> <!-- </batch> -->\n</batch >\n<!-- after -->"
	    "\n", "a", " <note/>\n",
	    "<?xml version='1.0'?>\n<!-- <batch id='a'></batch> -->\n" B ">\n\t<x:y xmlns:x='urn:x'>\n\t\t<x:batch "
	    "id='a'/> </x:y>\n\t<note><![CDATA[</batch>]]></note> <!-- </batch> -->\n\t<note/>\n</batch >"
	    "\n<!-- after -->\n" },
	{ "a '>' in a value", "<batch title='a > b' id=\"a\" brewed='2031-03-07' " NS "><note/></batch>", "a",
	    "<note/>",
	    "<batch title='a > b' id=\"a\" brewed='2031-03-07' " NS "><note/><note/></batch>" },
	{ "the second of two", "<batches " NS ">\n <batch id='a' brewed='2031-01-01'>\n  <note/>\n </batch>"
	    "\n <batch id='b' brewed='2031-02-01'>\n  <note/>\n"
	    " </batch>\n</batches>\n", "b", "<tasting/>", "<batches " NS
	    ">\n <batch id='a' brewed='2031-01-01'>\n  <note/>\n </batch>\n <batch id='b' "
	    "brewed='2031-02-01'>\n  <note/>\n  <tasting/>\n </batch>\n</batches>\n" },
	{ "the first of two on one line",
	    "<batches " NS "><batch id='a' brewed='2031-01-01'/><batch id='b' brewed='2031-02-01'/></batches>", "a",
	"<note/>",
	    "<batches " NS "><batch id='a' brewed='2031-01-01'>\n\t<note/>\n</batch>"
	    "<batch id='b' brewed='2031-02-01'/></batches>" },
	{ "a prefix", "<j:batch xmlns:j='urn:afterboil:journal:1' id='a' brewed='2031-03-07'><j:pitch/></j:batch>",
	    "a", "<note>n</note>",
	    "<j:batch xmlns:j='urn:afterboil:journal:1' id='a' brewed='2031-03-07'><j:pitch/>"
	    "<note xmlns=\"urn:afterboil:journal:1\">n</note></j:batch>" },
	{ "several lines", B ">\n\t<pitch/>\n</batch>\n", "a", "<tasting>\n\t\t<found fault='sour'/>\n\t</tasting>",
	    B ">\n\t<pitch/>\n\t<tasting>\n\t\t<found fault='sour'/>\n\t</tasting>\n</batch>\n" },
};

START_TEST(added)
{
	put(adds[_i].before);
	enum ab_status st = ab_journal_append(path, adds[_i].id, adds[_i].element, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", adds[_i].title, diag.text);
	holds(adds[_i].after, adds[_i].title);
}
END_TEST

static const struct { const char *title, *before, *id, *element, *says; } refused[] = {
	{ "no such batch", B "/>", "b", "<note/>", "\"b\"" },
	{ "an unknown element", B "/>", "a", "<nte/>", "nte" },
	{ "a bad value", B "/>", "a", "<pitch temp='18'/>", "no unit" },
	{ "a second pitch", B "><pitch/></batch>", "a", "<pitch/>", "second <pitch>" },
	{ "two elements", B "/>", "a", "<note/><note/>", "exactly one" },
	{ "no element", B "/>", "a", "", "exactly one" },
	{ "only a comment", B "/>", "a", "<!-- x -->", "exactly one" },
	{ "text", B "/>", "a", "hello", "holds no text" },
	{ "not closed", B "/>", "a", "<note>", "would not read" },
	{ "one that closes the batch", "<batches " NS "><batch id='a' brewed='2031-01-01'></batch></batches>", "a",
	    "<note/></batch><batch id='c' brewed='2031-01-01'>", "exactly one" },
	{ "impossible", B "/>", "a", "<tasting at='2030-01-01'/>", "before the brew date" },
	{ "a journal that does not read", B "><pich/></batch>", "a", "<note/>", "pich" },
	{ "an id in disguise", "<batch " NS " id='&#97;' brewed='2031-03-07'/>", "a", "<note/>",
	    "write its id plainly" },
	{ "not UTF-8", "\xFF\xFE<", "a", "<note/>", "UTF-8" },
};

START_TEST(untouched)
{
	put(refused[_i].before);
	enum ab_status st = ab_journal_append(path, refused[_i].id, refused[_i].element, &diag);
	ck_assert_msg(
	    st == AB_EINPUT && strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].title, diag.text);
	ck_assert_str_eq(diag.source, path);
	holds(refused[_i].before, refused[_i].title);
}
END_TEST

START_TEST(through_a_link)
{
	char link[96];
	struct stat sb;
	put(B "/>");
	ck_assert(chmod(path, 0640) == 0);
	snprintf(link, sizeof link, "%s/link.xml", top);
	ck_assert(symlink("j.xml", link) == 0);
	ck_assert_msg(ab_journal_append(link, "a", "<note/>", &diag) == AB_OK, "%s", diag.text);
	holds(B ">\n\t<note/>\n</batch>", "through a link");
	ck_assert(lstat(link, &sb) == 0 && S_ISLNK(sb.st_mode));
	ck_assert(stat(path, &sb) == 0 && (sb.st_mode & 07777) == 0640);
}
END_TEST

START_TEST(no_file)
{
	ck_assert_int_eq(ab_journal_append("/nowhere/j.xml", "a", "<note/>", &diag), AB_ESYSTEM);
}
END_TEST

START_TEST(short_memory)
{
	enum ab_status st = AB_ENOMEM;
	long k;
	for (k = 0; st != AB_OK && k < 500; k++) {
		put(B "/>");
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_journal_append(path, "a", "<note/>", &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", k, diag.text);
		holds(st == AB_OK ? B ">\n\t<note/>\n</batch>" : B "/>", "short memory");
	}
	ck_assert_msg(st == AB_OK && k > 5, "%ld", k);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("append");
	TCase *tc = tcase_create("append");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, added, 0, sizeof adds / sizeof *adds);
	tcase_add_loop_test(tc, untouched, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, through_a_link);
	tcase_add_test(tc, no_file);
	tcase_add_test(tc, short_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
