/* check_edit.c - one answer into the text of a journal, every other byte as it was
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/journal.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "journal/edit.h"

#define NS "xmlns='urn:afterboil:journal:1'"
#define B "<batch " NS " id='a' brewed='2031-03-07'"

static struct ab_diag diag;

static struct ab_edit_place place_of(const char *text, const char *id)
{
	long line = 1;
	const char *at = strstr(text, "batch ");
	for (const char *p = text; p < at; p++)
		line += *p == '\n';
	return (struct ab_edit_place){ text, strlen(text), id, line };
}

static const struct { const char *title, *before, *target, *value; bool guess; const char *after; } rows[] = {
	{ "a new element", B "/>", "water source", "tap", false, B ">\n\t<water source=\"tap\"/>\n</batch>" },
	{ "as a guess", B "/>", "boil time", "60 min", true, B ">\n\t<boil time=\"about 60 min\"/>\n</batch>" },
	{ "on the element that is there", B "><water source='tap'/></batch>", "water treatment", "none", false,
	    B "><water source='tap' treatment=\"none\"/></batch>" },
	{ "with blanks before the end", B "><water source='tap' /></batch>", "water treatment", "none", false,
	    B "><water source='tap' treatment=\"none\" /></batch>" },
	{ "an element that holds others", B "><recipe><hop/></recipe></batch>", "recipe volume", "20 L", false,
	    B "><recipe volume=\"20 L\"><hop/></recipe></batch>" },
	{ "a guess marks the element once", B "><boil lid='on' guess='yes'/></batch>", "boil time", "60 min", true,
	    B "><boil lid='on' guess='yes' time=\"about 60 min\"/></batch>" },
	{ "a word that is a guess makes all one", B "><boil time='60 min'/></batch>", "boil lid", "on", true,
	    B "><boil time='60 min' lid=\"on\" guess=\"yes\"/></batch>" },
	{ "beside an exact figure", B "><reading gravity='1.012 SG'/></batch>", "reading wort", "20 C", true,
	    B "><reading gravity='1.012 SG' wort=\"about 20 C\"/></batch>" },
	{ "the first that lacks it", B "><vessel kind='bucket'/><vessel/></batch>", "vessel kind", "glass", false,
	    B "><vessel kind='bucket'/><vessel kind=\"glass\"/></batch>" },
	{ "always a new one", B "><vessel kind='bucket'/></batch>", "+vessel second", "yes", false,
	    B "><vessel kind='bucket'/><vessel second=\"yes\"/></batch>" },
	{ "the one that matches", B "><gear item='lid'/><gear item='hose'/></batch>", "gear{item=hose} age", "2 y",
	    false,
	    B "><gear item='lid'/><gear item='hose' age=\"2 y\"/></batch>" },
	{ "none matches", B "><gear item='lid'/></batch>", "gear{item=hose} age", "2 y", false,
	    B "><gear item='lid'/><gear item=\"hose\" age=\"2 y\"/></batch>" },
	{ "braces before, parentheses behind", B "/>", "+reading{at=+1d 12h}(room=20 C) wort", "22 C", false,
	    B ">\n\t<reading at=\"+1d 12h\" wort=\"22 C\" room=\"20 C\"/>\n</batch>" },
	{ "parentheses do not choose", B "><store for='9 d'/></batch>", "store(for=14 d) temp", "20 C", false,
	    B "><store for='9 d' temp=\"20 C\"/></batch>" },
	{ "in an element that is there", B "><recipe volume='9 L'/></batch>", "recipe/hop age", "1 y", false,
	    B "><recipe volume='9 L'>\n\t<hop age=\"1 y\"/>\n</recipe></batch>" },
	{ "with its parent", B "/>", "+tasting/found(intensity=3) fault", "buttery", false,
	    B ">\n\t<tasting>\n\t\t<found fault=\"buttery\" intensity=\"3\"/>\n\t</tasting>\n</batch>" },
	{ "of the batch", B "/>", "batch family", "wheat", false, B " family=\"wheat\"/>" },
	{ "in place of another", B "/>", "!batch brewed", "2031-01-01", false,
	    "<batch " NS " id='a' brewed='2031-01-01'/>" },
	{ "escaped", B "/>", "+tasting/found fault", "a<b>&\"c\"", false,
	    B ">\n\t<tasting>\n\t\t<found fault=\"a&lt;b&gt;&amp;&quot;c&quot;\"/>\n\t</tasting>\n</batch>" },
	{ "comments, foreign parts and CDATA are none",
	    B "><!-- <water/> --><x:water xmlns:x='urn:x'/><note><![CDATA[<water/>]]>"
	    "</note><water/></batch>", "water source", "tap", false, B
	    "><!-- <water/> --><x:water xmlns:x='urn:x'/><note>"
	    "<![CDATA[<water/>]]></note><water source=\"tap\"/></batch>" },
	{ "deeper ones are none", B "><x:y xmlns:x='urn:x'><water/></x:y></batch>", "water source", "tap", false,
	    B "><x:y xmlns:x='urn:x'><water/></x:y><water source=\"tap\"/></batch>" },
	{ "a prefix", "<j:batch xmlns:j='urn:afterboil:journal:1' id='a' brewed='2031-03-07'><j:water/></j:batch>",
	    "water source",
	    "tap", false, "<j:batch xmlns:j='urn:afterboil:journal:1' id='a' brewed='2031-03-07'>"
	    "<j:water source=\"tap\"/></j:batch>" },
	{ "a '>' in a value", B "><note>x</note><yeast strain='a > b'/></batch>", "yeast form", "dry", false,
	    B "><note>x</note><yeast strain='a > b' form=\"dry\"/></batch>" },
	{ "beside the last, indented alike", B ">\n  <note>n</note>\n</batch>\n", "lag stalled", "yes", false,
	    B ">\n  <note>n</note>\n  <lag stalled=\"yes\"/>\n</batch>\n" },
};

START_TEST(edited)
{
	struct ab_edit_place place = place_of(rows[_i].before, "a");
	struct ab_str out;
	ab_str_init(&out, 0);
	ab_diag_init(&diag);
	enum ab_status st = ab_edit(&place, rows[_i].target, rows[_i].value, rows[_i].guess, &out, &diag);
	ck_assert_msg(st == AB_OK, "%s: %s", rows[_i].title, diag.text);
	ck_assert_msg(strcmp(ab_str_text(&out), rows[_i].after) == 0, "%s:\n%s\nwanted:\n%s", rows[_i].title,
	    ab_str_text(&out), rows[_i].after);
	ab_str_clear(&out);
}
END_TEST

static enum ab_status count_one(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)batch;
	(void)d;
	++*(int *)ctx;
	return AB_OK;
}

/* What comes out is a journal. */
START_TEST(readable)
{
	struct ab_edit_place place = place_of(rows[_i].before, "a");
	struct ab_arena *arena = ab_arena_new();
	struct ab_str out;
	int n = 0;
	ab_str_init(&out, 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_edit(&place, rows[_i].target, rows[_i].value, rows[_i].guess, &out, &diag), AB_OK);
	enum ab_status st = ab_journal_read_memory(ab_str_text(&out), out.len, "j", NULL, arena, count_one, &n, &diag);
	ck_assert_msg(st == AB_OK && n == 1, "%s: %s\n%s", rows[_i].title, diag.text, ab_str_text(&out));
	ab_str_clear(&out);
	ab_arena_free(arena);
}
END_TEST

START_TEST(second_batch)
{
	const char *two =
	    "<batches " NS
	    ">\n<batch id='a' brewed='2031-01-01'><water/></batch>\n<batch id='b' brewed='2031-02-01'><water/>"
	    "</batch>\n"
	    "</batches>";
	struct ab_edit_place place = { two, strlen(two), "b", 3 };
	struct ab_str out;
	ab_str_init(&out, 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_edit(&place, "water source", "tap", false, &out, &diag), AB_OK);
	ck_assert_ptr_nonnull(strstr(ab_str_text(&out), "'2031-01-01'><water/>"));
	ck_assert_ptr_nonnull(strstr(ab_str_text(&out), "'2031-02-01'><water source=\"tap\"/>"));
	ab_str_clear(&out);
}
END_TEST

static const struct { const char *title, *text, *id, *target; enum ab_status st; } refused[] = {
	{ "told already, and it stands once", B "><water source='tap'/></batch>", "a", "water source", AB_EINPUT },
	{ "no such batch", B "/>", "b", "water source", AB_EINPUT },
	{ "no such element", B "/>", "a", "watre source", AB_EUSAGE },
	{ "no such parent", B "/>", "a", "water/hop age", AB_EUSAGE },
	{ "no attribute", B "/>", "a", "water", AB_EUSAGE },
	{ "an open brace", B "/>", "a", "gear{item=hose age", AB_EUSAGE },
	{ "nothing", B "/>", "a", "", AB_EUSAGE },
	{ "an endless name", B "/>", "a",
	    "wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww x",
	    AB_EUSAGE },
};

START_TEST(refuses)
{
	struct ab_edit_place place = place_of(refused[_i].text, refused[_i].id);
	struct ab_str out;
	ab_str_init(&out, 0);
	ab_diag_init(&diag);
	enum ab_status st = ab_edit(&place, refused[_i].target, "x", false, &out, &diag);
	ck_assert_msg(st == refused[_i].st && diag.text[0] != '\0', "%s: %d", refused[_i].title, (int)st);
	ck_assert_msg(ab_str_text(&out)[0] == '\0', "%s wrote", refused[_i].title);
	ab_str_clear(&out);
}
END_TEST

static const struct { const char *text, *target; bool told; } tells[] = {
	{ B "><water source='tap'/></batch>", "water source", true },
	{ B "><water source='tap'/></batch>", "water treatment", false },
	{ B "><water/></batch>", "water source", false },
	{ B "><gear item='lid' age='1 y'/></batch>", "gear{item=hose} age", false },
	{ B "><gear item='lid' age='1 y'/><gear item='hose' age='1 y'/></batch>", "gear{item=hose} age", true },
	{ B "><reading at='+0h' gravity='1.050 SG'/></batch>", "+reading{at=+0h} gravity", true },
	{ B "><reading at='+9d' gravity='1.010 SG'/></batch>", "+reading{at=+0h} gravity", false },
	{ B "><recipe><hop age='1 y'/></recipe></batch>", "recipe/hop age", true },
	{ B "/>", "recipe/hop age", false },
	{ B "/>", "batch family", false },
	{ B " family='wheat'/>", "batch family", true },
	{ B "><note>&lt;water source='tap'/></note></batch>", "water source", false },
};

START_TEST(told)
{
	struct ab_edit_place place = place_of(tells[_i].text, "a");
	ck_assert_msg(
	    ab_edit_told(&place, tells[_i].target) == tells[_i].told, "%s in %s", tells[_i].target, tells[_i].text);
}
END_TEST

START_TEST(specs)
{
	ck_assert_int_eq(ab_edit_spec("water source")->kind, AB_ATTR_WORD);
	ck_assert_int_eq(ab_edit_spec("+vessel second")->kind, AB_ATTR_YESNO);
	ck_assert_int_eq(ab_edit_spec("tasting/found intensity")->kind, AB_ATTR_NUMBER);
	ck_assert_int_eq(ab_edit_spec("!batch brewed")->kind, AB_ATTR_DATE);
	ck_assert_ptr_null(ab_edit_spec("water sauce"));
	ck_assert_ptr_null(ab_edit_spec("waater source"));
	ck_assert_ptr_null(ab_edit_spec("water"));
}
END_TEST

START_TEST(notes)
{
	struct ab_edit_place place = place_of(B "/>", "a");
	struct ab_str out;
	ab_str_init(&out, 0);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_edit_note(&place, "1 < 2 & 3", &out, &diag), AB_OK);
	ck_assert_str_eq(ab_str_text(&out), B ">\n\t<note>1 &lt; 2 &amp; 3</note>\n</batch>");
	ab_str_clear(&out);
	place.batch_id = "b";
	ck_assert_int_eq(ab_edit_note(&place, "x", &out, &diag), AB_EINPUT);
}
END_TEST

START_TEST(short_memory)
{
	struct ab_edit_place place = place_of(rows[_i].before, "a");
	enum ab_status st = AB_ENOMEM;
	long k;
	for (k = 0; st != AB_OK && k < 100; k++) {
		struct ab_str out;
		ab_str_init(&out, 0);
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_edit(&place, rows[_i].target, rows[_i].value, rows[_i].guess, &out, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "allocation %ld: %s", k, diag.text);
		ab_str_clear(&out);
	}
	ck_assert_msg(st == AB_OK && k > 1, "%ld", k);
}
END_TEST

/* journal, target, value told; "" none */
static const struct { const char *text, *target, *value; } values[] = {
	{ B "><mash temp='66 C'/></batch>", "mash temp", "66 C" }, { B "><mash time='1 h'/></batch>", "mash temp", "" },
	{ B "><reading at='+1d' wort='19 C'/><reading at='+2d' wort='20 C'/></batch>", "reading{at=+2d} wort", "20 C" },
	{ B "><reading at='+2d'/><reading at='+2d' wort='20 C'/></batch>", "reading{at=+2d} wort", "20 C" },
	{ B "><recipe><hop age='1 y'/></recipe></batch>", "recipe/hop age", "1 y" },
	{ B " family='wheat'/>", "batch family", "wheat" },
	{ B "><mash temp='0000000000000066 C'/></batch>", "mash temp", "" },   /* does not fit */
	{ B "/>", "nowhere", "" },
};

START_TEST(value)
{
	char to[16];
	struct ab_edit_place place = place_of(values[_i].text, "a");
	ab_edit_value(&place, values[_i].target, to, sizeof to);
	ck_assert_str_eq(to, values[_i].value);
}
END_TEST

/* What a test makes of the file: its own text, or a failure. */
struct making { const char *text; enum ab_status st; };

static enum ab_status make_text(void *ctx, const struct ab_edit_place *place, const struct ab_batch *batch,
    char **text, size_t *len, struct ab_diag *d)
{
	const struct making *m = ctx;
	ck_assert_str_eq(batch->id, place->batch_id);
	if (m->st != AB_OK)
		return ab_fail(d, m->st, NULL, 0, "no");
	*text = ab_strdup(m->text);
	*len = strlen(m->text);
	return *text != NULL ? AB_OK : ab_fail(d, AB_ENOMEM, NULL, 0, "out of memory");
}

/* Only a text that reads, with the same batches, replaces the file. */
START_TEST(file)
{
	static const char before[] = B "><mash temp='66 C'/></batch>";
	static const struct { const char *id, *text; enum ab_status made, st; } files[] = {
		{ "a", B "><mash temp='67 C'/></batch>", AB_OK, AB_OK }, { "a", "<batch", AB_OK, AB_EINPUT },
		{ "a", B "><mash temp='660 C'/></batch>", AB_OK, AB_EINPUT }, { "b", B "/>", AB_OK, AB_EINPUT },
		{ "a", "<batches " NS "><batch id='a' brewed='2031-03-07'/><batch id='b' brewed='2031-03-07'/>"
		    "</batches>", AB_OK, AB_EINPUT },
		{ "a", B "/>", AB_EUSAGE, AB_EUSAGE },
	};
	char path[] = "/tmp/check_edit_XXXXXX/j.xml", *slash = strrchr(path, '/'), *got;
	size_t len;
	*slash = '\0';
	ck_assert_ptr_nonnull(mkdtemp(path));
	*slash = '/';
	for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
		struct making m = { files[i].text, files[i].made };
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_savefile(path, before, strlen(before), &diag), AB_OK);
		ck_assert_msg(
		    ab_edit_file(path, files[i].id, make_text, &m, &diag) == files[i].st, "%zu: %s", i, diag.text);
		ab_diag_init(&diag);
		ck_assert_int_eq(ab_loadfile(path, 10000, &got, &len, &diag), AB_OK);
		ck_assert_str_eq(got, files[i].st == AB_OK ? files[i].text : before);
		ab_free(got);
	}
	enum ab_status st = AB_ENOMEM;
	for (long k = 0; st == AB_ENOMEM; k++) {
		struct making m = { files[0].text, AB_OK };
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_edit_file(path, "a", make_text, &m, &diag);
		ab_alloc_fail_at(-1);
		ck_assert_msg(st == AB_OK || st == AB_ENOMEM, "%ld: %s", k, diag.text);
		ck_assert(k > 0 || st == AB_ENOMEM);
	}
	unlink(path);
	*slash = '\0';
	ck_assert_int_eq(rmdir(path), 0);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("edit");
	TCase *tc = tcase_create("edit");
	int n = sizeof rows / sizeof *rows;
	tcase_add_loop_test(tc, value, 0, sizeof values / sizeof *values);
	tcase_add_test(tc, file);
	tcase_add_loop_test(tc, edited, 0, n);
	tcase_add_loop_test(tc, readable, 0, n);
	tcase_add_loop_test(tc, short_memory, 0, n);
	tcase_add_loop_test(tc, refuses, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(tc, told, 0, sizeof tells / sizeof *tells);
	tcase_add_test(tc, second_batch);
	tcase_add_test(tc, specs);
	tcase_add_test(tc, notes);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
