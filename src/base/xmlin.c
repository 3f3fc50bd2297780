/* xmlin.c - XML from strangers, as events
 *
 * libxml2's push parser with our own SAX2 callbacks: input goes in by 8 KiB (input.c), nothing is kept but the open
 * tags. Entities cannot exist: a DOCTYPE ends the reading before its subset is looked at, and no callback
 * declares any.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/xmlin.h"

#include <assert.h>
#include <string.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/xmlerror.h>

#include "base/alloc.h"
#include "base/copy.h"
#include "base/input.h"
#include "base/str.h"

enum {
	PENDING = 256 * 1024,       /* one tag, comment or instruction; libxml2 compares attributes pairwise,
	                             * so it must not be long */
};

/* One reading of one source. Of the text only the attributes of the tag at hand are kept, in one buffer
 * that grows to the largest tag and is used again: memory does not depend on the length of the file. */
struct reading {
	const struct ab_source *source;
	const struct ab_xml_handler *handler;
	void *ctx;
	struct ab_diag *diag;
	enum ab_status st;
	xmlParserCtxtPtr parser;
	int depth;
	bool begun;                 /* some element was seen */
	long line;                  /* where the last event ended: the next one starts here */
	char *values;               /* the attribute values of one tag, each NUL terminated */
	size_t cap;
	struct ab_xml_attr attrs[AB_XML_ATTRS];
};

/* ---- how it ends ---- */

/* Takes note of a failure and makes libxml2 give up. After xmlStopParser libxml2 may still call back;
 * every callback looks at x->st first. */
static void stop(struct reading *x, enum ab_status st)
{
	if (x->st == AB_OK)
		x->st = st;
	if (x->parser != NULL)
		xmlStopParser(x->parser);
}

static void stop_memory(struct reading *x)
{
	stop(x, ab_fail(x->diag, AB_ENOMEM, x->source->name, 0, "out of memory while reading"));
}

#if LIBXML_VERSION >= 21200
typedef const xmlError *error_ptr;
#else
typedef xmlErrorPtr error_ptr;
#endif

/* libxml2's own words, kept for the first error only; warnings are no errors. Must not stop the parser:
 * libxml2 is in the middle of something. It calls nothing of ours any more, for x->st is looked at
 * everywhere. */
static void on_error(void *user, error_ptr error)
{
	struct reading *x = user;
	if (x->st != AB_OK || error->level < XML_ERR_ERROR)
		return;
	if (error->code == XML_ERR_NO_MEMORY)
		x->st = ab_fail(x->diag, AB_ENOMEM, x->source->name, 0, "out of memory while reading");
	else if (error->code == XML_ERR_UNSUPPORTED_ENCODING || error->code == XML_ERR_UNKNOWN_ENCODING)
		x->st = ab_fail(x->diag, AB_EINPUT, x->source->name, error->line,
		    "an unknown character encoding is declared; save the file as UTF-8");
	else if (error->code == XML_ERR_DOCUMENT_END && (x->depth > 0 || !x->begun))
		x->st = ab_fail(x->diag, AB_EINPUT, x->source->name, error->line, "not well-formed XML: %s",
		    x->begun ? "the file ends before its elements are closed" : "the file holds no element");
	else
		x->st = ab_fail(x->diag, AB_EINPUT, x->source->name, error->line, "not well-formed XML: %s",
		    error->message == NULL ? "(no reason given)" : error->message);
}

/* ---- events ---- */

static long now(const struct reading *x)
{
	return x->parser->input == NULL ? x->line : x->parser->input->line;
}

/* The line on which the tag just read began. libxml2 stands at its end; within a tag no raw '<' can stand but
 * the first. */
static long tag_line(const struct reading *x)
{
	long line = now(x);
	if (line == x->line)
		return line;
	const xmlChar *base = x->parser->input->base;
	for (const xmlChar *p = x->parser->input->cur; p > base && p[-1] != '<'; p--)
		line -= p[-1] == '\n';
	return line;
}

/* libxml2 gives five pointers an attribute: name, prefix, namespace, first and last byte of the value. */
enum { A_NAME, A_PREFIX, A_NS, A_FROM, A_TO, A_STEP };

/* Copies the values so that each ends in a NUL. */
static bool copy_attrs(struct reading *x, int n, const xmlChar **a, const char *name, long line)
{
	size_t need = 0;
	for (int i = 0; i < n; i++) {
		size_t len = (size_t)(a[i * A_STEP + A_TO] - a[i * A_STEP + A_FROM]);
		/* Before copying, so that the bound holds for memory and not only for what is passed on. */
		if (len > AB_XML_VALUE) {
			stop(x, ab_fail(x->diag, AB_ELIMIT, x->source->name, line,
			    "the attribute %.64s of <%.64s> holds %zu bytes; at most %d are read",
			    (const char *)a[i * A_STEP], name, len, AB_XML_VALUE));
			return false;
		}
		need += len + 1;
	}
	if (need > x->cap) {
		/* Twice the need: tags grow slowly, and each would otherwise ask again. */
		char *wider = ab_realloc(x->values, need * 2);
		if (wider == NULL) {
			stop_memory(x);
			return false;
		}
		x->values = wider;
		x->cap = need * 2;
	}
	char *to = x->values;
	for (int i = 0; i < n; i++, a += A_STEP) {
		size_t len = (size_t)(a[A_TO] - a[A_FROM]);
		x->attrs[i] = (struct ab_xml_attr){ (const char *)a[A_NAME], (const char *)a[A_NS], to, len };
		ab_copy_short(to, a[A_FROM], len);
		to[len] = '\0';
		to += len + 1;
	}
	return true;
}

static void on_start(void *user, const xmlChar *name, const xmlChar *prefix, const xmlChar *ns, int n_spaces,
    const xmlChar **spaces, int n, int defaulted, const xmlChar **attrs)
{
	struct reading *x = user;
	(void)prefix;
	(void)spaces;
	(void)defaulted;
	if (x->st != AB_OK)
		return;
	long line = tag_line(x);
	x->line = now(x);
	x->begun = true;
	if (++x->depth > AB_XML_DEPTH) {
		stop(x, ab_fail(x->diag, AB_ELIMIT, x->source->name, line,
		    "elements are nested more than %d deep", AB_XML_DEPTH));
		return;
	}
	if (n > AB_XML_ATTRS || n_spaces > AB_XML_ATTRS) {
		stop(x, ab_fail(x->diag, AB_ELIMIT, x->source->name, line,
		    "<%.64s> has %d attributes; at most %d are read", (const char *)name,
		    n > n_spaces ? n : n_spaces, AB_XML_ATTRS));
		return;
	}
	if (!copy_attrs(x, n, attrs, (const char *)name, line))
		return;
	enum ab_status st = x->handler->start(x->ctx, (const char *)ns, (const char *)name, x->attrs,
	    (size_t)n, line, x->diag);
	if (st != AB_OK)
		stop(x, st);
}

static void on_end(void *user, const xmlChar *name, const xmlChar *prefix, const xmlChar *ns)
{
	struct reading *x = user;
	(void)prefix;
	if (x->st != AB_OK)
		return;
	x->line = now(x);
	x->depth--;
	enum ab_status st = x->handler->end(x->ctx, (const char *)ns, (const char *)name, x->line, x->diag);
	if (st != AB_OK)
		stop(x, st);
}

/* The line of a text is where the event before it ended; libxml2 itself stands at the text's end already. */
static void on_text(void *user, const xmlChar *text, int len)
{
	struct reading *x = user;
	if (x->st != AB_OK || len <= 0)
		return;
	long line = x->line;
	x->line = now(x);
	enum ab_status st = x->handler->text(x->ctx, (const char *)text, (size_t)len, line, x->diag);
	if (st != AB_OK)
		stop(x, st);
}

/* Passed over, but they take lines. */
static void on_comment(void *user, const xmlChar *text)
{
	struct reading *x = user;
	(void)text;
	x->line = now(x);
}

static void on_instruction(void *user, const xmlChar *target, const xmlChar *text)
{
	(void)target;
	on_comment(user, text);
}

/* Called before the internal subset is read, so no entity is ever declared: billion laughs and external
 * files cannot even begin. Ended with advice, for some editors add the line by themselves. */
static void on_doctype(void *user, const xmlChar *name, const xmlChar *public_id, const xmlChar *system_id)
{
	struct reading *x = user;
	(void)name;
	(void)public_id;
	(void)system_id;
	if (x->st == AB_OK)
		stop(x, ab_fail(x->diag, AB_EINPUT, x->source->name, now(x),
		    "the file has a DOCTYPE, which is not read from anyone; delete that line"));
}

/* A short list: every further decoder is code that strangers' bytes reach, and several have had holes. */
static bool encoding_allowed(const xmlChar *name)
{
	static const char *const allowed[] = { "UTF-8", "US-ASCII", "ASCII", "UTF-16", "UTF-16LE",
	    "UTF-16BE" };
	if (name == NULL)
		return true;
	for (size_t i = 0; i < sizeof allowed / sizeof *allowed; i++)
		if (ab_word_cmp((const char *)name, allowed[i]) == 0)
			return true;
	return false;
}

/* Comes right after the XML declaration. */
static void on_document(void *user)
{
	struct reading *x = user;
	const xmlChar *declared = x->parser->encoding;
	if (declared == NULL || encoding_allowed(declared))
		declared = x->parser->input == NULL ? NULL : x->parser->input->encoding;
	if (x->st == AB_OK && !encoding_allowed(declared))
		stop(x, ab_fail(x->diag, AB_EINPUT, x->source->name, 1,
		    "the file is declared as \"%.40s\"; UTF-8, US-ASCII and UTF-16 are read: save it as "
		    "UTF-8", (const char *)declared));
}

/* ---- the reading ---- */

/* The first four bytes: UTF-32, EBCDIC and the like are refused here, for libxml2 would switch decoders
 * before the declaration could be looked at. */
static bool plain_start(const char *piece, size_t len)
{
	if (len < AB_SNIFF)
		return true;
	xmlCharEncoding e = xmlDetectCharEncoding((const unsigned char *)piece, AB_SNIFF);
	return e == XML_CHAR_ENCODING_NONE || e == XML_CHAR_ENCODING_UTF8 || e == XML_CHAR_ENCODING_UTF16LE ||
	    e == XML_CHAR_ENCODING_UTF16BE;
}

static enum ab_status start_parser(struct reading *x, const char *piece, size_t len)
{
	xmlSAXHandler sax = {
		.initialized = XML_SAX2_MAGIC,
		.startDocument = on_document,
		.internalSubset = on_doctype,
		.startElementNs = on_start,
		.endElementNs = on_end,
		.characters = on_text,
		.ignorableWhitespace = on_text,
		.cdataBlock = on_text,
		.comment = on_comment,
		.processingInstruction = on_instruction,
		.serror = on_error,
	};
	if (!plain_start(piece, len))
		return ab_fail(x->diag, AB_EINPUT, x->source->name, 1,
		    "neither UTF-8 nor UTF-16 text; save the file as UTF-8");
	/* NOENT here only says that "&amp;" in a value is to be "&" and not "&#38;": there are no entities
	 * but the five of XML. */
	x->parser = xmlCreatePushParserCtxt(&sax, x, NULL, 0, NULL);
	if (x->parser == NULL || xmlCtxtUseOptions(x->parser, XML_PARSE_NONET | XML_PARSE_NOENT) != 0)
		return ab_fail(x->diag, AB_ENOMEM, x->source->name, 0, "out of memory");
	return AB_OK;
}

/* One tag or comment may not pile up without end while the parser waits for its '>'. */
static enum ab_status check_pending(struct reading *x)
{
	const xmlParserInput *in = x->parser->input;
	if (in == NULL || in->end - in->cur <= PENDING)
		return AB_OK;
	return ab_fail(x->diag, AB_ELIMIT, x->source->name, now(x),
	    "one tag or comment is longer than %d bytes", PENDING);
}

static enum ab_status feed(struct reading *x, const char *piece, size_t len)
{
	int err = xmlParseChunk(x->parser, piece, (int)len, len == 0);
	if (x->st != AB_OK)
		return x->st;
	/* libxml2 does not always report this one through the error handler. */
	if (err == XML_ERR_NO_MEMORY)
		return ab_fail(x->diag, AB_ENOMEM, x->source->name, 0, "out of memory while reading");
	if ((err != XML_ERR_OK && !x->parser->wellFormed) || (len == 0 && !x->parser->wellFormed))
		return ab_fail(x->diag, AB_EINPUT, x->source->name, now(x), "not well-formed XML");
	return check_pending(x);
}

/* A piece of length 0 tells the parser that the end has come; so an empty file goes through it as well and
 * gets the parser's own complaint. */
static enum ab_status read_all(struct reading *x, struct ab_input *in)
{
	const char *piece;
	size_t len;
	do {
		enum ab_status st = ab_input_next(in, &piece, &len, x->diag);
		if (st == AB_OK && x->parser == NULL)
			st = start_parser(x, piece, len);
		if (st == AB_OK)
			st = feed(x, piece, len);
		if (st != AB_OK)
			return st;
	} while (len > 0);
	return AB_OK;
}

enum ab_status ab_xml_read(const struct ab_source *source, size_t limit, const struct ab_xml_handler *handler,
    void *ctx, struct ab_diag *diag)
{
	struct reading x = { .source = source, .handler = handler, .ctx = ctx, .diag = diag, .line = 1 };
	struct ab_input in;
	assert(source != NULL && handler != NULL && handler->start != NULL && handler->end != NULL);
	/* Some of libxml2's errors belong to no parser and would be printed; the host program's own handler
	 * comes back after. */
	xmlInitParser();
	xmlStructuredErrorFunc hosts = xmlStructuredError;
	void *hosts_ctx = xmlStructuredErrorContext;
	xmlSetStructuredErrorFunc(&x, on_error);

	enum ab_status st = ab_input_open(&in, source, limit, diag);
	if (st == AB_OK)
		st = read_all(&x, &in);
	ab_input_close(&in);
	xmlFreeParserCtxt(x.parser);
	ab_free(x.values);
	xmlSetStructuredErrorFunc(hosts_ctx, hosts);
	return st;
}
