/* check_xmlin.c - XML from strangers: what is let in, what is refused and on which line
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/xmlin.h"

#include <check.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>
#include <libxml/globals.h>
#include <libxml/parser.h>
#include <libxml/xmlerror.h>

#include "base/alloc.h"
#include "base/str.h"

/* Writes down every event: "<name@line a=v ...>", text as it is, "</name@line>". */
struct log { struct ab_str s; long text_line; int stop_at; };

static enum ab_status log_start(void *ctx, const char *ns, const char *name, const struct ab_xml_attr *attrs, size_t n,
    long line, struct ab_diag *diag)
{
	struct log *l = ctx;
	if (l->stop_at > 0 && --l->stop_at == 0)
		return ab_fail(diag, AB_EUSAGE, "callback", line, "enough");
	ab_str_addf(&l->s, "<%s%s%s@%ld", ns == NULL ? "" : ns, ns == NULL ? "" : ":", name, line);
	for (size_t i = 0; i < n; i++)
		ab_str_addf(&l->s, " %s%s%s=%s", attrs[i].ns == NULL ? "" : attrs[i].ns,
		    attrs[i].ns == NULL ? "" : ":", attrs[i].name, attrs[i].value);
	ab_str_add(&l->s, ">");
	return AB_OK;
}

static enum ab_status log_text(void *ctx, const char *text, size_t len, long line, struct ab_diag *diag)
{
	struct log *l = ctx;
	(void)diag;
	ab_str_addn(&l->s, text, len);
	l->text_line = line;
	return AB_OK;
}

static enum ab_status log_end(void *ctx, const char *ns, const char *name, long line, struct ab_diag *diag)
{
	struct log *l = ctx;
	(void)ns;
	(void)diag;
	ab_str_addf(&l->s, "</%s@%ld>", name, line);
	return AB_OK;
}

static const struct ab_xml_handler logger = { log_start, log_text, log_end };
static struct log events;
static struct ab_diag diag;

static enum ab_status read_text(const char *data, size_t len, size_t limit)
{
	struct ab_source source = { .name = "t.xml", .data = data, .len = len, .fd = -1 };
	ab_str_clear(&events.s);
	ab_diag_init(&diag);
	return ab_xml_read(&source, limit, &logger, &events, &diag);
}

static void set_up(void)
{
	ab_str_init(&events.s, 0);
	events.stop_at = 0;
}

static void tear_down(void)
{
	ab_str_clear(&events.s);
}

static const struct { const char *title, *xml, *events; } reads[] = {
	{ "empty element", "<a/>", "<a@1></a@1>" },
	{ "declaration", "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<a/>", "<a@2></a@2>" },
	{ "ASCII declared", "<?xml version=\"1.0\" encoding=\"us-ascii\"?><a/>", "<a@1></a@1>" },
	{ "byte order mark", "\xef\xbb\xbf<a/>", "<a@1></a@1>" },
	{ "attributes", "<a b='1' c=\"x y\"/>", "<a@1 b=1 c=x y></a@1>" },
	{ "predefined entities", "<a b='&lt;&amp;&quot;'>&gt;&apos;</a>", "<a@1 b=<&\">>'</a@1>" },
	{ "character references", "<a b='&#65;&#x42;'>&#xe9;</a>", "<a@1 b=AB>\xc3\xa9</a@1>" },
	{ "newline in a value is a blank", "<a b='1\n2'/>", "<a@1 b=1 2></a@2>" },
	{ "namespaces", "<a xmlns='u:1' xmlns:p='u:2' p:c='v' d='w'><p:b/></a>",
		"<u:1:a@1 u:2:c=v d=w><u:2:b@1></b@1></a@1>" },
	{ "xml:lang", "<a xml:lang='en'/>", "<a@1 http://www.w3.org/XML/1998/namespace:lang=en></a@1>" },
	{ "CDATA", "<a><![CDATA[<b>&amp;]]></a>", "<a@1><b>&amp;</a@1>" },
	{ "comments and instructions", "<!-- x\n\n --><a><!-- -- --><?php echo\n?><b/></a>", NULL },
	{ "lines of comments", "<!-- x\n\n --><a><!-- y\n --><?do it\n?><b/></a>", "<a@3><b@5></b@5></a@5>" },
	{ "a tag over lines", "<a>\n\n<b\n  c='1'\n  d='2'\n/>\n<e/></a>",
	    "<a@1>\n\n<b@3 c=1 d=2></b@6>\n<e@7></e@7></a@7>" },
	{ "two tags on a line, the second long", "<a><b/><c\nd='1'/></a>", "<a@1><b@1></b@1><c@1 d=1></c@2></a@2>" },
	{ "greater-than in a value", "<a>\n<b c='>'\n d='/>'/></a>", "<a@1>\n<b@2 c=> d=/>></b@3></a@3>" },
	{ "CRLF", "<a>\r\n<b/>\r\n</a>\r\n", "<a@1>\n<b@2></b@2>\n</a@3>" },
	{ "blank lines at the end", "<a/>\n\n\n", "<a@1></a@1>" },
	{ "depth 24", "<a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a>"
		"</a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a></a>"
		"</a>", "" },
};

START_TEST(read_rows)
{
	const char *xml = reads[_i].xml;
	enum ab_status st = read_text(xml, strlen(xml), 0);
	if (reads[_i].events == NULL) {
		ck_assert_msg(st == AB_EINPUT, "%s was let in", reads[_i].title);
		return;
	}
	ck_assert_msg(st == AB_OK, "%s: line %ld: %s", reads[_i].title, diag.line, diag.text);
	if (reads[_i].events[0] != '\0')
		ck_assert_msg(strcmp(ab_str_text(&events.s), reads[_i].events) == 0, "%s: %s", reads[_i].title,
		    ab_str_text(&events.s));
}
END_TEST

#define S(text) text, sizeof text - 1

static const struct { const char *title, *xml; size_t len; enum ab_status st; long line; const char *says;
    } refused[] = {
	{ "nothing", S(""), AB_EINPUT, 1, "holds no element" },
	{ "blanks", S("\n\n  "), AB_EINPUT, 0, "not well-formed" },
	{ "one byte", S("<"), AB_EINPUT, 1, "not well-formed" },
	{ "three bytes", S("<a>"), AB_EINPUT, 1, "not well-formed" },
	{ "no XML", S("water, malt, hops\n"), AB_EINPUT, 1, "not well-formed" },
	{ "DOCTYPE", S("<!DOCTYPE a>\n<a/>"), AB_EINPUT, 1, "DOCTYPE" },
	{ "DOCTYPE after a comment", S("<!-- x -->\n<!DOCTYPE a SYSTEM 'file:///etc/passwd'><a/>"), AB_EINPUT, 2,
	    "DOCTYPE" },
	{ "external entity", S("<!DOCTYPE a [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><a>&x;</a>"), AB_EINPUT, 1,
	    "DOCTYPE" },
	{ "billion laughs",
	    S("<!DOCTYPE a [<!ENTITY x 'ha'><!ENTITY y '&x;&x;&x;&x;'><!ENTITY z '&y;&y;&y;'>]><a>&z;</a>"),
		AB_EINPUT, 1, "DOCTYPE" },
	{ "parameter entity", S("<!DOCTYPE a [<!ENTITY % p SYSTEM 'http://localhost/x'> %p;]><a/>"), AB_EINPUT, 1,
	    "DOCTYPE" },
	{ "DOCTYPE without end", S("<!DOCTYPE a ["), AB_EINPUT, 1, "" },
	{ "undefined entity", S("<a>\n&x;</a>"), AB_EINPUT, 2, "Entity 'x'" },
	{ "undefined entity in a value", S("<a b='&x;'/>"), AB_EINPUT, 1, "Entity 'x'" },
	{ "tags crossed", S("<a>\n<b>\n</a>\n</b>"), AB_EINPUT, 3, "not well-formed" },
	{ "never closed", S("<a>\n<b/>\n"), AB_EINPUT, 2, "before its elements are closed" },
	{ "two roots", S("<a/>\n<b/>"), AB_EINPUT, 2, "not well-formed" },
	{ "text after the root", S("<a/>\nx"), AB_EINPUT, 2, "not well-formed" },
	{ "an attribute twice", S("<a b='1' b='2'/>"), AB_EINPUT, 1, "redefined" },
	{ "an attribute twice by namespace", S("<a xmlns:p='u' xmlns:q='u' p:b='1' q:b='2'/>"), AB_EINPUT, 1,
	    "redefined" },
	{ "prefix without namespace", S("<p:a/>"), AB_EINPUT, 1, "not defined" },
	{ "raw < in a value", S("<a b='<'/>"), AB_EINPUT, 1, "not well-formed" },
	{ "no quotes", S("<a b=1/>"), AB_EINPUT, 1, "not well-formed" },
	{ "NUL in text", S("<a>x\0y</a>"), AB_EINPUT, 1, "not well-formed" },
	{ "NUL in a value", S("<a b='x\0y'/>"), AB_EINPUT, 1, "not well-formed" },
	{ "NUL in a name", S("<a\0b/>"), AB_EINPUT, 1, "not well-formed" },
	{ "NUL first", S("\0<a/>"), AB_EINPUT, 1, "" },
	{ "only NULs", S("\0\0\0\0\0\0\0\0"), AB_EINPUT, 1, "" },
	{ "reference to NUL", S("<a>&#0;</a>"), AB_EINPUT, 1, "not well-formed" },
	{ "escape character", S("<a>\x1b[2J</a>"), AB_EINPUT, 1, "not well-formed" },
	{ "bad UTF-8", S("<a>\xff</a>"), AB_EINPUT, 1, "not well-formed" },
	{ "UTF-8 cut", S("<a b='\xe2\x82'/>"), AB_EINPUT, 1, "not well-formed" },
	{ "Latin-1", S("<?xml version='1.0' encoding='ISO-8859-1'?><a>\xe9</a>"), AB_EINPUT, 1, "\"ISO-8859-1\"" },
	{ "Windows", S("<?xml version='1.0' encoding='windows-1252'?><a/>"), AB_EINPUT, 1, "UTF-8" },
	{ "UTF-7", S("<?xml version='1.0' encoding='UTF-7'?><a/>"), AB_EINPUT, 1, "UTF-8" },
	{ "unknown encoding", S("<?xml version='1.0' encoding='klingon'?><a/>"), AB_EINPUT, 1,
	    "unknown character encoding" },
	{ "UTF-16 declared, UTF-8 given", S("<?xml version='1.0' encoding='UTF-16'?><a/>"), AB_EINPUT, 1,
	    "not well-formed" },
	{ "8-bit byte in ASCII", S("<?xml version='1.0' encoding='US-ASCII'?><a>\xe9</a>"), AB_EINPUT, 1, "" },
	{ "UTF-32", S("\0\0\0<\0\0\0a\0\0\0/\0\0\0>"), AB_EINPUT, 1, "neither UTF-8" },
	{ "EBCDIC", S("\x4c\x6f\xa7\x94\x93\x40"), AB_EINPUT, 1, "neither UTF-8" },
	{ "XML 9", S("<?xml version='9'?><a/>"), AB_EINPUT, 1, "not well-formed" },
	{ "depth 25", S("<a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a><a>\n<a>"), AB_ELIMIT,
	    2, "24 deep" },
	{ "escape in a message", S("<a b='1'><\xc2\x9b/></a>"), AB_EINPUT, 1, "not well-formed" },
};

START_TEST(refused_rows)
{
	enum ab_status st = read_text(refused[_i].xml, refused[_i].len, 0);
	ck_assert_msg(st == refused[_i].st, "%s: %s: %s", refused[_i].title, ab_status_name(st), diag.text);
	ck_assert_msg(diag.status == st, "%s", refused[_i].title);
	ck_assert_msg(refused[_i].line == 0 || diag.line == refused[_i].line, "%s: line %ld: %s", refused[_i].title,
	    diag.line, diag.text);
	ck_assert_msg(strcmp(diag.source, "t.xml") == 0, "%s", refused[_i].title);
	ck_assert_msg(strstr(diag.text, refused[_i].says) != NULL, "%s: %s", refused[_i].title, diag.text);
	ck_assert_msg(strchr(diag.text, '\n') == NULL && diag.text[0] != '\0', "%s: %s", refused[_i].title, diag.text);
	/* the same in silence */
	struct ab_source source = { .name = "t.xml", .data = refused[_i].xml, .len = refused[_i].len, .fd = -1 };
	ck_assert(ab_xml_read(&source, 0, &logger, &events, NULL) == st);
}
END_TEST

static const struct { const char *title; int bom, little; } wide[] = {
	{ "UTF-16BE with mark", 1, 0 }, { "UTF-16LE with mark", 1, 1 }, { "UTF-16LE, declared", 0, 1 },
	{ "UTF-16BE, declared", 0, 0 },
};

START_TEST(wide_rows)
{
	static const char text[] = "<?xml version='1.0' encoding='UTF-16'?>\n<a\n b='19.5 C'>ale</a>";
	char data[400];
	size_t n = 0;
	for (size_t i = wide[_i].bom ? 0 : 1; i < sizeof text; i++) {
		unsigned c = i == 0 ? 0xFEFF : (unsigned char)text[i - 1];
		data[n++] = (char)(wide[_i].little ? c & 0xFF : c >> 8);
		data[n++] = (char)(wide[_i].little ? c >> 8 : c & 0xFF);
	}
	ck_assert_msg(read_text(data, n, 0) == AB_OK, "%s: %s", wide[_i].title, diag.text);
	ck_assert_msg(strcmp(ab_str_text(&events.s), "<a@2 b=19.5 C>ale</a@3>") == 0, "%s: %s", wide[_i].title,
	    ab_str_text(&events.s));
}
END_TEST

/* n copies of piece between head and tail; the caller frees. */
static char *many(const char *head, const char *piece, size_t n, const char *tail, size_t *len)
{
	size_t h = strlen(head), p = strlen(piece), t = strlen(tail);
	char *text = malloc(h + n * p + t + 1), *to = text;
	memcpy(to, head, h);
	to += h;
	for (size_t i = 0; i < n; i++, to += p)
		memcpy(to, piece, p);
	memcpy(to, tail, t + 1);
	*len = h + n * p + t;
	return text;
}

static const struct { const char *title, *head, *piece, *tail; size_t n; enum ab_status st; const char *says;
    } sizes[] = {
	{ "value at its limit", "<a b='", "x", "'/>", AB_XML_VALUE, AB_OK, "" },
	{ "value beyond", "<a b='", "x", "'/>", AB_XML_VALUE + 1, AB_ELIMIT, "b of <a> holds 8193 bytes" },
	{ "huge value", "<a b='", "x", "'/>", 20000000, AB_ELIMIT, "longer than" },
	{ "endless value", "<a b='", "x", "", 20000000, AB_ELIMIT, "longer than" },
	{ "huge comment", "<a><!--", "x", "--></a>", 20000000, AB_ELIMIT, "longer than" },
	{ "huge name", "<a", "x", "/>", 200000, AB_EINPUT, "" },
	{ "many namespaces", "<a", " xmlns:p='u'", "/>", 100, AB_EINPUT, "" },
	{ "text of a stream", "<a>", "all quiet\n", "</a>", 2000000, AB_OK, "" },
	{ "elements of a stream", "<a>", "<b c='1'/>\n", "</a>", 300000, AB_OK, "" },
	{ "deep beyond anything", "", "<a>", "", 1000000, AB_ELIMIT, "24 deep" },
};

static enum ab_status no_start(void *ctx, const char *ns, const char *name, const struct ab_xml_attr *attrs, size_t n,
    long line, struct ab_diag *d)
{
	(void)ctx, (void)ns, (void)name, (void)attrs, (void)n, (void)line, (void)d;
	return AB_OK;
}

static enum ab_status no_text(void *ctx, const char *text, size_t len, long line, struct ab_diag *d)
{
	(void)ctx, (void)text, (void)len, (void)line, (void)d;
	return AB_OK;
}

static enum ab_status no_end(void *ctx, const char *ns, const char *name, long line, struct ab_diag *d)
{
	(void)ctx, (void)ns, (void)name, (void)line, (void)d;
	return AB_OK;
}

START_TEST(size_rows)
{
	static const struct ab_xml_handler deaf = { no_start, no_text, no_end };
	size_t len;
	char *xml = many(sizes[_i].head, sizes[_i].piece, sizes[_i].n, sizes[_i].tail, &len);
	struct ab_source source = { .name = "t.xml", .data = xml, .len = len, .fd = -1 };
	ab_diag_init(&diag);
	enum ab_status st = ab_xml_read(&source, 0, &deaf, NULL, &diag);
	free(xml);
	ck_assert_msg(st == sizes[_i].st, "%s: %s: %s", sizes[_i].title, ab_status_name(st), diag.text);
	ck_assert_msg(strstr(diag.text, sizes[_i].says) != NULL, "%s: %s", sizes[_i].title, diag.text);
}
END_TEST

/* 48 attributes go in, 49 do not; nor does a tag made to cost quadratic time. */
START_TEST(attribute_count)
{
	static const int counts[] = { 48, 49, 20000 };
	struct ab_str xml;
	ab_str_init(&xml, 0);
	ab_str_add(&xml, "<a");
	for (int i = 0; i < counts[_i]; i++)
		ab_str_addf(&xml, "\n b%d='1'", i);
	ab_str_add(&xml, "/>");
	enum ab_status st = read_text(xml.text, xml.len, 0);
	ab_str_clear(&xml);
	ck_assert_msg(st == (_i == 0 ? AB_OK : AB_ELIMIT), "%d: %s", counts[_i], diag.text);
	if (_i > 0)
		ck_assert_int_eq(diag.line, 1);
}
END_TEST

START_TEST(byte_limit)
{
	ck_assert_int_eq(read_text(S("<a></a>"), 7), AB_OK);
	ck_assert_int_eq(read_text(S("<a></a>"), 6), AB_ELIMIT);
	ck_assert_msg(strstr(diag.text, "larger than 6 bytes") != NULL, "%s", diag.text);
	ck_assert_str_eq(ab_str_text(&events.s), "");
}
END_TEST

/* Any place may be the seam between two reads: a pipe that gives one byte at a time must look the same. */
START_TEST(byte_by_byte)
{
	for (size_t r = 0; r < sizeof reads / sizeof *reads; r++) {
		const char *xml = reads[r].xml;
		int p[2];
		if (reads[r].events == NULL || reads[r].events[0] == '\0')
			continue;
		ck_assert_int_eq(pipe(p), 0);
		pid_t child = fork();
		if (child == 0) {
			for (const char *s = xml; *s != '\0'; s++) {
				if (write(p[1], s, 1) != 1)
					_exit(1);
				struct timespec pause = { 0, 200000 };
				nanosleep(&pause, NULL);
			}
			_exit(0);
		}
		close(p[1]);
		struct ab_source source = { .name = "pipe", .fd = p[0] };
		ab_str_clear(&events.s);
		ab_diag_init(&diag);
		ck_assert_msg(
		    ab_xml_read(&source, 0, &logger, &events, &diag) == AB_OK, "%s: %s", reads[r].title, diag.text);
		ck_assert_msg(strcmp(ab_str_text(&events.s), reads[r].events) == 0, "%s: %s", reads[r].title,
		    ab_str_text(&events.s));
		close(p[0]);
	}
}
END_TEST

/* Large enough for several chunks, with the seam in every kind of place: names, lines and values must come out
 * whole. */
START_TEST(seams)
{
	for (size_t shift = 0; shift < 64; shift++) {
		struct ab_str xml;
		ab_str_init(&xml, 0);
		ab_str_addf(&xml, "<a>%*s", (int)shift, "");
		for (int i = 0; i < 4000; i++)
			ab_str_addf(&xml, "<row\n  n='%d &amp; more'>t\xc3\xa9xt</row>\n", i);
		ab_str_add(&xml, "</a>");
		ck_assert_int_eq(read_text(xml.text, xml.len, 0), AB_OK);
		const char *s = ab_str_text(&events.s);
		ck_assert_int_eq(strncmp(s, "<a@1>", 5), 0);
		s += 5 + shift;
		for (int i = 0; i < 4000; i++) {
			char want[80];
			int n = snprintf(want, sizeof want, "<row@%d n=%d & more>t\xc3\xa9xt</row@%d>\n", 2 * i + 1,
			    i, 2 * i + 2);
			if (strncmp(s, want, (size_t)n) != 0)
				ck_abort_msg("shift %zu, row %d: %.60s", shift, i, s);
			s += n;
		}
		ab_str_clear(&xml);
	}
}
END_TEST

START_TEST(callback_stops)
{
	for (int at = 1; at <= 3; at++) {
		events.stop_at = at;
		ck_assert_int_eq(read_text(S("<a>\n<b/>\n<c/></a>"), 0), AB_EUSAGE);
		ck_assert_str_eq(diag.source, "callback");
		ck_assert_int_eq(diag.line, at);
		ck_assert_ptr_null(strstr(ab_str_text(&events.s), "</a"));
	}
}
END_TEST

START_TEST(files)
{
	char path[] = "/tmp/check_xmlin.XXXXXX";
	int fd = mkstemp(path);
	struct ab_source source = { .name = "name", .path = path, .fd = -1 };
	ck_assert_int_eq(write(fd, "<a/>", 4), 4);
	ck_assert_int_eq(ab_xml_read(&source, 100, &logger, &events, &diag), AB_OK);
	ck_assert_str_eq(ab_str_text(&events.s), "<a@1></a@1>");
	ck_assert_int_eq(ab_xml_read(&source, 3, &logger, &events, NULL), AB_ELIMIT);
	unlink(path);
	close(fd);
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_xml_read(&source, 0, &logger, &events, &diag), AB_ESYSTEM);
	ck_assert_msg(strstr(diag.text, "No such file") != NULL, "%s", diag.text);
	source.path = "/tmp";
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_xml_read(&source, 0, &logger, &events, &diag), AB_ESYSTEM);
	ck_assert_str_eq(diag.source, "name");
	/* no end in sight, but a limit */
	source.path = "/dev/zero";
	ab_diag_init(&diag);
	ck_assert_int_ne(ab_xml_read(&source, 1000000, &logger, &events, &diag), AB_OK);
}
END_TEST

static int host_heard;
static void hosts_own(void *ctx, xmlErrorPtr error)
{
	(void)ctx, (void)error;
	host_heard++;
}

/* libxml2 prints when nobody listens: stderr must stay empty, and the host program's handler must be back in place. */
START_TEST(silence)
{
	char path[] = "/tmp/check_xmlin.XXXXXX", got[16];
	int fd = mkstemp(path), was = dup(2);
	xmlSetStructuredErrorFunc(&events, hosts_own);
	dup2(fd, 2);
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
		read_text(refused[i].xml, refused[i].len, 0);
	dup2(was, 2);
	lseek(fd, 0, SEEK_SET);
	ck_assert_int_eq(read(fd, got, sizeof got), 0);
	ck_assert_int_eq(host_heard, 0);
	ck_assert(xmlStructuredErrorContext == &events);
	close(fd);
	unlink(path);
	xmlSetStructuredErrorFunc(NULL, NULL);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("xmlin");
	TCase *tc = tcase_create("xmlin");
	tcase_set_timeout(tc, 30);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, read_rows, 0, sizeof reads / sizeof *reads);
	tcase_add_loop_test(tc, refused_rows, 0, sizeof refused / sizeof *refused);
	tcase_add_loop_test(tc, wide_rows, 0, sizeof wide / sizeof *wide);
	tcase_add_loop_test(tc, size_rows, 0, sizeof sizes / sizeof *sizes);
	tcase_add_loop_test(tc, attribute_count, 0, 3);
	tcase_add_test(tc, byte_limit);
	tcase_add_test(tc, byte_by_byte);
	tcase_add_test(tc, seams);
	tcase_add_test(tc, callback_stops);
	tcase_add_test(tc, files);
	tcase_add_test(tc, silence);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
