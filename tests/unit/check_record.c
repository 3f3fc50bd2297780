/* check_record.c - XML into structs by table: every kind of attribute, every refusal, streams, and a heap that says no
 *
 * The document is made up for the test, so that no rule of the journal can hide a fault of the engine.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/record.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <libxml/parser.h>
#include <libxml/xmlmemory.h>

#include <afterboil/quantity.h>
#include "base/alloc.h"
#include "base/str.h"

#define NS "urn:test:cellar"

struct tag { struct ab_mark mark; const char *text; };
struct cask { struct ab_mark mark; const char *id; struct ab_num size; int wood; struct ab_list tags; };
struct lamp { struct ab_mark mark; int lit; };
struct cellar {
	struct ab_mark mark;
	const char *id, *name;
	struct ab_list friends;
	struct ab_num temp, shelves;
	int kind, damp;
	struct ab_when dug, opened;
	struct ab_list casks;
	struct lamp *lamp;
	struct tag *note;
};

static const char *const kinds[] = { "earth", "vaulted-brick", "garage", NULL };
static const char *const woods[] = { "oak", "chestnut", NULL };

static const struct ab_attr_spec cask_attrs[] = {
	{ "id", AB_ATTR_ID, offsetof(struct cask, id), 0, NULL, 0, 0, true, sizeof "id" },
	{ "size", AB_ATTR_QUANTITY, offsetof(struct cask, size), AB_DIM_VOLUME, NULL, 0.5, 1000, false, sizeof "size" },
	{ "wood", AB_ATTR_WORD, offsetof(struct cask, wood), 0, woods, 0, 0, false, sizeof "wood" },
	{ 0 }
};
static const struct ab_attr_spec lamp_attrs[] = {
	{ "lit", AB_ATTR_YESNO, offsetof(struct lamp, lit), 0, NULL, 0, 0, false, sizeof "lit" },
	{ 0 }
};
static const struct ab_attr_spec cellar_attrs[] = {
	{ "id", AB_ATTR_ID, offsetof(struct cellar, id), 0, NULL, 0, 0, true, sizeof "id" },
	{ "name", AB_ATTR_TEXT, offsetof(struct cellar, name), 0, NULL, 0, 0, false, sizeof "name" },
	{ "friends", AB_ATTR_IDS, offsetof(struct cellar, friends), 0, NULL, 0, 0, false, sizeof "friends" },
	{ "temp", AB_ATTR_QUANTITY, offsetof(struct cellar, temp), AB_DIM_TEMP, NULL, -5, 30, false, sizeof "temp" },
	{ "shelves", AB_ATTR_NUMBER, offsetof(struct cellar, shelves), 0, NULL, 0, 12, false, sizeof "shelves" },
	{ "kind", AB_ATTR_WORD, offsetof(struct cellar, kind), 0, kinds, 0, 0, false, sizeof "kind" },
	{ "damp", AB_ATTR_YESNO, offsetof(struct cellar, damp), 0, NULL, 0, 0, false, sizeof "damp" },
	{ "dug", AB_ATTR_DATE, offsetof(struct cellar, dug), 0, NULL, 0, 0, false, sizeof "dug" },
	{ "opened", AB_ATTR_WHEN, offsetof(struct cellar, opened), 0, NULL, 0, 0, false, sizeof "opened" },
	{ 0 }
};
static const struct ab_elem_spec cask_children[] = {
	{ .name = "tag", .size = sizeof(struct tag), .at = offsetof(struct cask, tags), .many = true, .has_text = true,
		.text_at = offsetof(struct tag, text) },
	{ 0 }
};
static const struct ab_elem_spec cellar_children[] = {
	{ .name = "cask", .size = sizeof(struct cask), .at = offsetof(struct cellar, casks), .many = true,
	    .required = true,
		.attrs = cask_attrs, .children = cask_children, .may_guess = true },
	{ .name = "lamp", .size = sizeof(struct lamp), .at = offsetof(struct cellar, lamp), .attrs = lamp_attrs },
	{ .name = "note", .size = sizeof(struct tag), .at = offsetof(struct cellar, note), .has_text = true,
		.text_at = offsetof(struct tag, text) },
	{ 0 }
};
static const struct ab_elem_spec root = { .name = "cellar", .size = sizeof(struct cellar), .attrs = cellar_attrs,
	.children = cellar_children };
static const struct ab_record_doc cellars = { NS, &root, "cellars", 3, 40, NULL };
static const struct ab_record_doc stream = { NS, &root, "cellars", 0, 40, NULL };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct cellar *got[8];
static int n_got;

static enum ab_status keep(void *ctx, void *record, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	if (n_got < 8)
		got[n_got] = record;
	n_got++;
	return AB_OK;
}

static enum ab_status read_doc(const struct ab_record_doc *doc, const char *xml)
{
	struct ab_source source = { .name = "c.xml", .data = xml, .len = strlen(xml), .fd = -1 };
	ab_diag_init(&diag);
	n_got = 0;
	return ab_records_read(&source, 0, doc, arena, keep, NULL, &diag);
}

static void set_up(void)
{
	arena = ab_arena_new();
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

static const char full[] =
	"<?xml version='1.0'?>\n"
	"<cellar xmlns='" NS "' id='c1' name='  Under the  stairs ' friends='a,b  c.d' temp='54 F'\n"
	"  shelves='4' kind='Vaulted Brick' damp='yes' dug='2031-03-07' opened='+3d 4h' xml:lang='en'>\n"
	"  <!-- a remark -->\n"
	"  <cask id='one' size='40 L' wood='OAK'><tag> first\n</tag><tag/><tag>a &amp; <![CDATA[b<c]]></tag></cask>\n"
	"  <x:extra xmlns:x='urn:other' any='thing'><x:more/>text <cask/></x:extra>\n"
	"  <cask id='two' guess='yes'\n     size='10.5 gal'/>\n"
	"  <lamp/>\n"
	"  <note>\n  all quiet\n  tonight </note>\n"
	"</cellar>\n";

START_TEST(everything)
{
	ck_assert_msg(read_doc(&cellars, full) == AB_OK, "%ld: %s", diag.line, diag.text);
	ck_assert_int_eq(n_got, 1);
	const struct cellar *c = got[0];
	ck_assert_int_eq(c->mark.line, 2);
	ck_assert_str_eq(c->id, "c1");
	ck_assert_str_eq(c->name, "Under the  stairs");
	ck_assert_uint_eq(c->friends.n, 3);
	const char *const *friends = c->friends.items;
	ck_assert_str_eq(friends[0], "a");
	ck_assert_str_eq(friends[1], "b");
	ck_assert_str_eq(friends[2], "c.d");
	ck_assert(c->temp.known && c->temp.v > 12.22 && c->temp.v < 12.23 && c->temp.resolution > 0.55 &&
	    c->temp.resolution < 0.56);
	ck_assert(c->shelves.known && c->shelves.v == 4);
	ck_assert_int_eq(c->kind, 2);
	ck_assert_int_eq(c->damp, AB_YES);
	ck_assert(c->dug.known && c->dug.date_only && !c->dug.relative);
	ck_assert(c->opened.known && c->opened.relative && c->opened.s == 273600);
	ck_assert_uint_eq(c->casks.n, 2);
	const struct cask *k = c->casks.items;
	ck_assert(k[0].mark.line == 5 && !k[0].mark.guess && k[0].size.v == 40 && k[0].wood == 1 && k[0].tags.n == 3);
	ck_assert(k[1].mark.line == 8 && k[1].mark.guess && k[1].wood == 0 && k[1].tags.n == 0);
	const struct tag *t = k[0].tags.items;
	ck_assert_str_eq(t[0].text, "first");
	ck_assert_str_eq(t[1].text, "");
	ck_assert_str_eq(t[2].text, "a & b<c");
	ck_assert(c->lamp != NULL && c->lamp->lit == AB_UNKNOWN && c->lamp->mark.line == 10);
	ck_assert_str_eq(c->note->text, "all quiet\n  tonight");
}
END_TEST

START_TEST(missing_is_unknown)
{
	ck_assert_int_eq(read_doc(&cellars, "<cellar xmlns='" NS "' id='c'><cask id='k'/></cellar>"), AB_OK);
	const struct cellar *c = got[0];
	ck_assert(c->name == NULL && c->friends.n == 0 && !c->temp.known && !c->shelves.known && c->kind == 0);
	ck_assert(c->damp == AB_UNKNOWN && !c->dug.known && !c->opened.known && c->lamp == NULL && c->note == NULL);
	const struct cask *k = c->casks.items;
	ck_assert(!k->size.known && k->wood == 0 && !k->mark.guess);
}
END_TEST

START_TEST(any_prefix_will_do)
{
	ck_assert_msg(read_doc(&cellars, "<q:cellar xmlns:q='" NS "' id='c'><q:cask id='k'/></q:cellar>") == AB_OK,
	    "%s", diag.text);
	ck_assert_int_eq(n_got, 1);
}
END_TEST

#define DOC(attrs, inside) "<cellar xmlns='" NS "' id='c' " attrs ">\n<cask id='k'/>\n" inside "\n</cellar>"
#define ID64 "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

static const struct { const char *title, *xml; enum ab_status st; long line; const char *says; } refused[] = {
	{ "other root", "<pantry xmlns='" NS "'/>", AB_EINPUT, 1,
	    "starts with <cellar xmlns=\"" NS "\"> or <cellars>" },
	{ "no namespace", "<cellar id='c'/>", AB_EINPUT, 1, "no namespace" },
	{ "other namespace", "<cellar xmlns='urn:x' id='c'/>", AB_EINPUT, 1, "\"urn:x\"" },
	{ "empty namespace inside", DOC("", "<lamp xmlns=''/>"), AB_EINPUT, 3, "\"lamp\" is not known" },
	{ "unknown element", DOC("", "<barrel/>"), AB_EINPUT, 3,
	    "in <cellar> the element \"barrel\" is not known here (allowed: cask, lamp, note)" },
	{ "a slip", DOC("", "<csk id='x'/>"), AB_EINPUT, 3, "did you mean \"cask\"?" },
	{ "element in an empty one", DOC("", "<lamp><note/></lamp>"), AB_EINPUT, 3, "allowed: none" },
	{ "unknown attribute", DOC("colour='red'", ""), AB_EINPUT, 1,
	    "in <cellar> the attribute \"colour\" is not known here (allowed: id, name, friends" },
	{ "attribute slip", DOC("shelve='3'", ""), AB_EINPUT, 1, "did you mean \"shelves\"?" },
	{ "attribute of none", DOC("", "<note at='1'/>"), AB_EINPUT, 3, "allowed: none" },
	{ "guess where none may be", DOC("guess='yes'", ""), AB_EINPUT, 1, "\"guess\" is not known" },
	{ "guess is offered", DOC("", "<cask id='x' gess='yes'/>"), AB_EINPUT, 3, "did you mean \"guess\"?" },
	{ "guess of what", DOC("", "<cask id='x' guess='maybe'/>"), AB_EINPUT, 3,
	    "guess of <cask>: \"maybe\" is not known here (allowed: no, yes)" },
	{ "required attribute", DOC("", "<cask/>"), AB_EINPUT, 3, "<cask> has no id" },
	{ "required child", "<cellar xmlns='" NS "' id='c'>\n</cellar>", AB_EINPUT, 1, "<cellar> has no <cask>" },
	{ "a second lamp", DOC("", "<lamp/>\n<lamp/>"), AB_EINPUT, 4,
	    "a second <lamp> in <cellar>; one is allowed (the first is in line 3)" },
	{ "text", DOC("", "\n\n free beer"), AB_EINPUT, 5, "the text \"free beer" },
	{ "text in a lamp", DOC("", "<lamp>x</lamp>"), AB_EINPUT, 3, "in <lamp>, which holds no text" },
	{ "text in CDATA", DOC("", "<![CDATA[x]]>"), AB_EINPUT, 3, "holds no text" },
	{ "no unit", DOC("temp='12'", ""), AB_EINPUT, 1,
	    "temp of <cellar>: \"12\" has no unit; write a temperature such as \"19.5 C\" (units: C, F, K)" },
	{ "wrong unit", DOC("temp='12 L'", ""), AB_EINPUT, 1, "units: C, F, K" },
	{ "too cold", DOC("temp='-6 C'", ""), AB_EINPUT, 1,
	    "temp of <cellar>: \"-6 C\" (-6 C) is out of range; allowed is -5 to 30 C" },
	{ "too hot in F", DOC("temp='87 F'", ""), AB_EINPUT, 1, "\"87 F\" (30.555556 C) is out of range" },
	{ "too small", DOC("", "<cask id='x' size='1 mL'/>"), AB_EINPUT, 3, "allowed is 0.5 to 1000 L" },
	{ "too many shelves", DOC("shelves='13'", ""), AB_EINPUT, 1, "allowed is 0 to 12" },
	{ "a unit on a bare number", DOC("shelves='3 L'", ""), AB_EINPUT, 1, "shelves of <cellar>" },
	{ "word", DOC("kind='attic'", ""), AB_EINPUT, 1,
	    "kind of <cellar>: \"attic\" is not known here (allowed: earth, vaulted-brick, garage)" },
	{ "word slip", DOC("kind='erth'", ""), AB_EINPUT, 1, "did you mean \"earth\"?" },
	{ "empty word", DOC("kind=''", ""), AB_EINPUT, 1, "kind of <cellar>: \"\"" },
	{ "long word", DOC("kind='earthearthearthearthearthearthearthearthearthearthearthearthearth'", ""),
	    AB_EINPUT, 1, "not known" },
	{ "yes or no", DOC("damp='1'", ""), AB_EINPUT, 1, "(allowed: no, yes)" },
	{ "date", DOC("dug='March'", ""), AB_EINPUT, 1, "dug of <cellar>: \"March\" is no date" },
	{ "date with a time", DOC("dug='2031-03-07T10:00'", ""), AB_EINPUT, 1, "write only the date" },
	{ "date since pitching", DOC("dug='+3d'", ""), AB_EINPUT, 1, "write only the date" },
	{ "time", DOC("opened='2031-02-30'", ""), AB_EINPUT, 1, "a day that its month does not have" },
	{ "empty id", "<cellar xmlns='" NS "' id=' '/>", AB_EINPUT, 1, "id of <cellar>: \"\" is no id" },
	{ "id with a blank", "<cellar xmlns='" NS "' id='a b'/>", AB_EINPUT, 1, "\"a b\" is no id" },
	{ "id with a path", "<cellar xmlns='" NS "' id='../x'/>", AB_EINPUT, 1, "is no id" },
	{ "id outside ASCII", "<cellar xmlns='" NS "' id='K\xc3\xb6ln'/>", AB_EINPUT, 1, "is no id" },
	{ "id of 65", "<cellar xmlns='" NS "' id='" ID64 "x'/>", AB_EINPUT, 1, "1 to 64" },
	{ "one bad id of many", DOC("friends='a b/c d'", ""), AB_EINPUT, 1, "friends of <cellar>: \"b/c\" is no id" },
	{ "attribute on the wrapper", "<cellars xmlns='" NS "' id='1'/>", AB_EINPUT, 1, "in <cellars> the attribute" },
	{ "wrong thing in the wrapper", "<cellars xmlns='" NS "'>\n<cask/></cellars>", AB_EINPUT, 2,
	    "in <cellars> the element \"cask\"" },
	{ "wrapper in the wrapper", "<cellars xmlns='" NS "'>\n<cellars/></cellars>", AB_EINPUT, 2, "\"cellars\"" },
	{ "text in the wrapper", "<cellars xmlns='" NS "'>\nx</cellars>", AB_EINPUT, 2,
	    "in <cellars>, which holds no text" },
	{ "cellar in a cellar", DOC("", "<cellar id='d'/>"), AB_EINPUT, 3, "\"cellar\" is not known" },
	{ "not well formed", DOC("", "<lamp>"), AB_EINPUT, 4, "not well-formed" },
	{ "the terminal is safe", DOC("kind='\xc2\x9b" "2J'", ""), AB_EINPUT, 1, "\"?2J\"" },
};

START_TEST(refused_rows)
{
	enum ab_status st = read_doc(&cellars, refused[_i].xml);
	ck_assert_msg(st == refused[_i].st, "%s: %s %s", refused[_i].title, ab_status_name(st), diag.text);
	ck_assert_msg(diag.line == refused[_i].line, "%s: line %ld: %s", refused[_i].title, diag.line, diag.text);
	ck_assert_msg(strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].title, diag.text);
	ck_assert_msg(strcmp(diag.source, "c.xml") == 0, "%s", refused[_i].title);
	ck_assert_msg(n_got == 0, "%s: half-read", refused[_i].title);
}
END_TEST

START_TEST(edges_are_let_in)
{
	ck_assert_int_eq(read_doc(&cellars,
			     "<cellar xmlns='" NS "' id='" ID64
			     "' temp='-5 C' shelves='0'><cask id='k' size='1000 L'/></cellar>"),
	    AB_OK);
	ck_assert_int_eq(read_doc(&cellars, DOC("temp='30 C' shelves='12' friends='' name=''", "")), AB_OK);
	ck_assert_str_eq(got[0]->name, "");
	ck_assert_uint_eq(got[0]->friends.n, 0);
}
END_TEST

START_TEST(wrapper)
{
	ck_assert_int_eq(read_doc(&cellars, "<cellars xmlns='" NS "'/>"), AB_OK);
	ck_assert_int_eq(n_got, 0);
	ck_assert_int_eq(read_doc(&cellars, "<cellars xmlns='" NS "'>\n<cellar id='1'><cask id='k'/></cellar>\n"
	    "<cellar id='2'><cask id='k'/></cellar></cellars>"), AB_OK);
	ck_assert_int_eq(n_got, 2);
	ck_assert_str_eq(got[1]->id, "2");
	ck_assert_int_eq(got[1]->mark.line, 3);
	/* the good one before the bad one was whole; the bad one never arrives */
	ck_assert_int_eq(read_doc(&cellars, "<cellars xmlns='" NS "'>\n<cellar id='1'><cask id='k'/></cellar>\n"
	    "<cellar id='2'/></cellars>"), AB_EINPUT);
	ck_assert_int_eq(n_got, 1);
	ck_assert_int_eq(diag.line, 3);
}
END_TEST

static struct ab_str xml;

/* n cellars with m empty tags each. */
static const char *make(int n, int m, const char *piece)
{
	ab_str_clear(&xml);
	ab_str_add(&xml, "<cellars xmlns='" NS "'>");
	for (int i = 0; i < n; i++) {
		ab_str_add(&xml, "<cellar id='x'><cask id='k'>");
		for (int k = 0; k < m; k++)
			ab_str_add(&xml, piece);
		ab_str_add(&xml, "</cask></cellar>\n");
	}
	ab_str_add(&xml, "</cellars>");
	return xml.text;
}

static const struct { const char *title; int n, m; const char *piece; int stream; enum ab_status st;
    const char *says; } limits[] = {
	{ "three records", 3, 0, "", 0, AB_OK, "" },
	{ "four records", 4, 0, "", 0, AB_ELIMIT, "more than 3 <cellar>" },
	{ "stream of many", 2000, 1, "<tag/>", 1, AB_OK, "" },
	{ "forty elements", 2, 38, "<tag/>", 1, AB_OK, "" },
	{ "forty-one elements", 2, 39, "<tag/>", 1, AB_ELIMIT, "more than 40 elements" },
	{ "foreign elements count too", 2, 39, "<x xmlns='u'/>", 1, AB_ELIMIT, "more than 40 elements" },
};

START_TEST(limit_rows)
{
	ab_str_init(&xml, 0);
	enum ab_status st =
	    read_doc(limits[_i].stream ? &stream : &cellars, make(limits[_i].n, limits[_i].m, limits[_i].piece));
	ck_assert_msg(st == limits[_i].st, "%s: %s", limits[_i].title, diag.text);
	ck_assert_msg(strstr(diag.text, limits[_i].says) != NULL, "%s: %s", limits[_i].title, diag.text);
	if (st == AB_OK)
		ck_assert_int_eq(n_got, limits[_i].n);
	ab_str_clear(&xml);
}
END_TEST

/* One record of a stream may not be endless text, told in a note or hidden in a foreign element. */
START_TEST(byte_limit)
{
	static const char *const opens[] = { "<tag>", "<x xmlns='u'>" };
	static const char *const closes[] = { "</tag>", "</x>" };
	ab_str_init(&xml, 0);
	ab_str_addf(&xml, "<cellar xmlns='" NS "' id='c'><cask id='k'>%s", opens[_i]);
	for (int i = 0; i < AB_XML_RUN / 16 + 2; i++)
		ab_str_add(&xml, "sixteen letters ");
	ab_str_addf(&xml, "%s</cask></cellar>", closes[_i]);
	ck_assert_int_eq(read_doc(&stream, xml.text), AB_ELIMIT);
	ck_assert_msg(strstr(diag.text, "more than 4194304 bytes") != NULL, "%s", diag.text);
	ab_str_clear(&xml);
}
END_TEST

static enum ab_status forget(void *ctx, void *record, struct ab_diag *d)
{
	(void)record;
	(void)d;
	ab_arena_reset(ctx);
	return AB_OK;
}

/* However long the stream, the arena must not grow when each record is forgotten. */
START_TEST(flat_stream)
{
	long asked[2];
	ab_str_init(&xml, 0);
	for (int i = 0; i < 2; i++) {
		make(i == 0 ? 300 : 3000, 30, "<tag>all quiet tonight</tag>");
		struct ab_source source = { .name = "s", .data = xml.text, .len = xml.len, .fd = -1 };
		ab_alloc_fail_at(-1);
		ck_assert_int_eq(ab_records_read(&source, 0, &stream, arena, forget, arena, &diag), AB_OK);
		asked[i] = ab_alloc_count();
	}
	ck_assert_int_le(asked[1], asked[0] + 2);
	ab_str_clear(&xml);
}
END_TEST

static enum ab_status refuse_second(void *ctx, void *record, struct ab_diag *d)
{
	int *n = ctx;
	(void)record;
	return ++*n == 2 ? ab_fail(d, AB_ESYSTEM, "store", 0, "full") : AB_OK;
}

START_TEST(caller_stops)
{
	int n = 0;
	ab_str_init(&xml, 0);
	make(3, 0, "");
	struct ab_source source = { .name = "s", .data = xml.text, .len = xml.len, .fd = -1 };
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_records_read(&source, 0, &stream, arena, refuse_second, &n, &diag), AB_ESYSTEM);
	ck_assert_int_eq(n, 2);
	ck_assert_str_eq(diag.text, "full");
	ab_str_clear(&xml);
}
END_TEST

/* Every allocation fails in turn, ours and libxml2's: either the record arrives whole or the status says why not. */
START_TEST(no_memory)
{
	ab_arena_free(arena);
	arena = NULL;
	int failures = 0;
	for (long k = 0;; k++) {
		ck_assert_msg(k < 3000, "no end of allocations");
		ab_alloc_fail_at(k);
		struct ab_arena *a = ab_arena_new();
		enum ab_status st = AB_ENOMEM;
		struct ab_source source = { .name = "c.xml", .data = full, .len = sizeof full - 1, .fd = -1 };
		ab_diag_init(&diag);
		n_got = 0;
		if (a != NULL)
			st = ab_records_read(&source, 0, &cellars, a, keep, NULL, &diag);
		long asked = ab_alloc_count();
		ab_alloc_fail_at(-1);
		if (st == AB_OK)
			ck_assert_int_eq(n_got, 1);
		else
			ck_assert_msg(st == AB_ENOMEM, "allocation %ld: %s: %s", k, ab_status_name(st), diag.text);
		failures += st != AB_OK;
		ab_arena_free(a);
		if (asked <= k)
			break;
	}
	ck_assert_int_gt(failures, 20);
}
END_TEST

static const char *const beers[] = { "porter", "stout", "pale-ale", "ale", "wheat", NULL };
static const struct { const char *found, *nearest; } nears[] = {
	{ "porter", "porter" }, { "porte", "porter" }, { "prter", "porter" }, { "potter", "porter" },
	{ "portreb", "porter" },
	{ "PORTER", "porter" }, { "pilsner", NULL }, { "", NULL }, { "a", NULL }, { "al", NULL }, { "ale", "ale" },
	{ "sale", "ale" },
	{ "xyz", NULL }, { "stuot", "stout" }, { "wheats", "wheat" }, { "porterporterporter", NULL },
	{ "pale ale", "pale-ale" },
	{ "0123456789012345678901234567890123456789012345678901234567890123456789", NULL },
};

START_TEST(nearest_rows)
{
	const char *near = ab_nearest(nears[_i].found, beers);
	if (nears[_i].nearest == NULL)
		ck_assert_msg(near == NULL, "%s: %s", nears[_i].found, near);
	else
		ck_assert_msg(near != NULL && strcmp(near, nears[_i].nearest) == 0, "%s: %s", nears[_i].found,
		    near == NULL ? "none" : near);
}
END_TEST

int main(void)
{
	/* Before libxml2 does anything: from here its memory is ours. */
	if (xmlMemSetup(ab_free, ab_malloc, ab_realloc, ab_strdup) != 0)
		return EXIT_FAILURE;
	xmlInitParser();
	Suite *s = suite_create("record");
	TCase *tc = tcase_create("record");
	tcase_set_timeout(tc, 30);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_test(tc, everything);
	tcase_add_test(tc, missing_is_unknown);
	tcase_add_test(tc, any_prefix_will_do);
	tcase_add_loop_test(tc, refused_rows, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, edges_are_let_in);
	tcase_add_test(tc, wrapper);
	tcase_add_loop_test(tc, limit_rows, 0, sizeof limits / sizeof *limits);
	tcase_add_loop_test(tc, byte_limit, 0, 2);
	tcase_add_test(tc, flat_stream);
	tcase_add_test(tc, caller_stops);
	tcase_add_test(tc, no_memory);
	tcase_add_loop_test(tc, nearest_rows, 0, sizeof nears / sizeof *nears);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	xmlCleanupParser();
	return EXIT_SUCCESS;
}
