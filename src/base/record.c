/* record.c - XML elements into C structs, driven by tables
 *
 * A stack of open elements, each with its table row and its struct. A struct is pushed into its parent's list
 * or pointer when its tag opens; while it is open no brother can push after it, so its address stays.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/record_attrs.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/attr.h"
#include "base/str.h"

/* The stack of open elements is bounded by AB_XML_DEPTH, which the parser below enforces, so it needs no
 * growth. */
struct frame {
	const struct ab_elem_spec *spec;   /* NULL for the wrapper */
	void *record;
	size_t text_from;                  /* where its text begins in the engine's buffer */
	const struct ab_elem_spec *last;   /* the child before, which most often is of the next one's kind */
	const char *last_name;             /* as the parser holds it */
};

struct engine {
	const struct ab_record_doc *doc;
	const char *source;
	struct ab_arena *arena;
	ab_record_done *done;
	void *done_ctx;
	struct frame open[AB_XML_DEPTH];
	size_t depth;
	size_t skipped;                    /* open elements of foreign namespaces and what is in them */
	size_t records, elements, bytes;   /* the last two of the record now read */
	struct ab_str text;
	struct record_memory memory;
	const char *ns;                    /* our namespace as the parser's dictionary holds it: one pointer
	                                    * to compare */
};

/* ---- limits ---- */

/* A stream has no end, so its bytes cannot be bounded; what one record holds in memory can. */
static enum ab_status count_bytes(struct engine *e, size_t n, long line, struct ab_diag *diag)
{
	e->bytes += n;
	if (e->bytes <= AB_XML_RUN)
		return AB_OK;
	return ab_fail(diag, AB_ELIMIT, e->source, line,
	    "one <%s> holds more than %d bytes, the most that is read", e->doc->root->name, AB_XML_RUN);
}

/* Counted before anything is stored, foreign elements too: skipping costs time even if it costs no memory. */
static enum ab_status count_element(struct engine *e, const struct ab_xml_attr *attrs, size_t n, long line,
    struct ab_diag *diag)
{
	size_t bytes = 0;
	for (size_t i = 0; i < n; i++)
		bytes += attrs[i].len;
	if (e->doc->max_elements > 0 && ++e->elements > e->doc->max_elements)
		return ab_fail(diag, AB_ELIMIT, e->source, line,
		    "one <%s> holds more than %zu elements, the most that is read",
		    e->doc->root->name, e->doc->max_elements);
	return count_bytes(e, bytes, line, diag);
}

/* ---- which element this is ---- */

static const struct ab_elem_spec *find_child(struct engine *e, struct frame *parent, const char *name)
{
	if (name != parent->last_name)
		parent->last = record_child(&e->memory, parent->spec, name);
	parent->last_name = name;
	return parent->last;
}

static enum ab_status unknown_elem(struct engine *e, const char *name, const struct frame *parent, long line,
    struct ab_diag *diag)
{
	const char *names[RECORD_SPECS + 1];
	size_t n = 0;
	if (parent->spec == NULL)
		names[n++] = e->doc->root->name;
	else if (parent->spec->children != NULL)
		for (const struct ab_elem_spec *s = parent->spec->children; s->name != NULL &&
		    n < RECORD_SPECS; s++)
			names[n++] = s->name;
	names[n] = NULL;
	const char *in = parent->spec == NULL ? e->doc->wrapper : parent->spec->name;
	struct ab_attr_place place = { e->source, in, line, NULL };
	char what[96];
	snprintf(what, sizeof what, "in <%.64s> the element", in);
	return ab_attr_unknown(what, name, names, &place, diag);
}

/* The parser interns names, so after the first element one comparison of pointers replaces a strcmp for
 * each of millions. An equal string at another address is still ours: the dictionary is an optimisation of
 * libxml2's, no promise. */
static bool is_ours(struct engine *e, const char *ns)
{
	if (ns == e->ns && ns != NULL)
		return true;
	if (ns == NULL || strcmp(ns, e->doc->ns) != 0)
		return false;
	e->ns = ns;
	return true;
}

/* The first element decides whether this is our kind of file at all. */
static enum ab_status wrong_document(struct engine *e, const char *ns, const char *name, long line,
    struct ab_diag *diag)
{
	const char *wrapper = e->doc->wrapper;
	return ab_fail(diag, AB_EINPUT, e->source, line,
	    "the file starts with <%.60s> of %s%.80s%s; a file of this kind starts with <%s "
	    "xmlns=\"%s\">%s%s%s", name, ns == NULL ? "no namespace" : "the namespace \"",
	    ns == NULL ? "" : ns, ns == NULL ? "" : "\"", e->doc->root->name,
	    e->doc->ns, wrapper == NULL ? "" : " or <", wrapper == NULL ? "" : wrapper,
	    wrapper == NULL ? "" : ">");
}

/* ---- filling it ---- */

/* The struct of a new child, hung into its parent. */
static enum ab_status hang(struct engine *e, const struct frame *parent, const struct ab_elem_spec *spec,
    long line, void **record, struct ab_diag *diag)
{
	/* The table's offset is trusted: the macros that make the rows take it with offsetof of a named
	 * member. */
	void *field = (char *)parent->record + spec->at;
	if (spec->many) {
		struct ab_list *list = field;
		*record = ab_arena_push(e->arena, &list->items, &list->n, &list->cap, spec->size);
	} else {
		void *earlier;
		/* As bytes: the member has its own pointer type, and reading it as void * would break
		 * strict aliasing. */
		memcpy(&earlier, field, sizeof earlier);
		if (earlier != NULL)
			return ab_fail(diag, AB_EINPUT, e->source, line,
			    "a second <%s> in <%s>; one is allowed (the first is in line %ld)",
			    spec->name, parent->spec->name, ((struct ab_mark *)earlier)->line);
		*record = ab_arena_alloc(e->arena, 1, spec->size);
		memcpy(field, record, sizeof *record);
	}
	return *record != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, e->source, line, "out of memory");
}

static enum ab_status new_root(struct engine *e, long line, void **record, struct ab_diag *diag)
{
	if (e->doc->max_records > 0 && e->records >= e->doc->max_records)
		return ab_fail(diag, AB_ELIMIT, e->source, line,
		    "more than %zu <%s>, the most that are read of one file",
		    e->doc->max_records, e->doc->root->name);
	e->records++;
	*record = ab_arena_alloc(e->arena, 1, e->doc->root->size);
	return *record != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, e->source, line, "out of memory");
}

/* The wrapper belongs to no record, so an attribute on it would be lost silently; it is refused. */
static enum ab_status open_wrapper(struct engine *e, const struct ab_xml_attr *attrs, size_t n, long line,
    struct ab_diag *diag)
{
	struct ab_attr_place place = { e->source, e->doc->wrapper, line, NULL };
	for (size_t i = 0; i < n; i++)
		if (attrs[i].ns == NULL)
			return record_unknown_attr(NULL, attrs[i].name, &place, diag);
	e->open[e->depth++] = (struct frame){ 0 };
	e->elements = 0;  /* it belongs to no record */
	return AB_OK;
}

/* ---- events ---- */

static enum ab_status on_start(void *ctx, const char *ns, const char *name, const struct ab_xml_attr *attrs,
    size_t n, long line, struct ab_diag *diag)
{
	struct engine *e = ctx;
	struct frame *parent = e->depth > 0 ? &e->open[e->depth - 1] : NULL;
	const struct ab_elem_spec *spec;
	void *record = NULL;
	enum ab_status st = count_element(e, attrs, n, line, diag);
	if (st != AB_OK)
		return st;
	/* Four ways to go: not our kind of file; another's namespace (passed over with all inside, so
	 * that other programs may keep their own notes in a journal); the wrapper; a record or one of
	 * its parts. */
	bool ours = is_ours(e, ns);
	if (parent == NULL && !ours)
		return wrong_document(e, ns, name, line, diag);
	if (e->skipped > 0 || (!ours && ns != NULL && ns[0] != '\0')) {
		e->skipped++;
		return AB_OK;
	}
	if (parent == NULL && e->doc->wrapper != NULL && strcmp(name, e->doc->wrapper) == 0)
		return open_wrapper(e, attrs, n, line, diag);
	bool at_root = parent == NULL || parent->spec == NULL;
	if (at_root)
		spec = strcmp(name, e->doc->root->name) == 0 ? e->doc->root : NULL;
	else
		spec = find_child(e, parent, name);
	if (parent == NULL && spec == NULL)
		return wrong_document(e, ns, name, line, diag);
	if (spec == NULL || !ours)
		return unknown_elem(e, name, parent, line, diag);
	st = at_root ? new_root(e, line, &record, diag) : hang(e, parent, spec, line, &record, diag);
	if (st == AB_OK)
		st = record_attrs(&e->memory, spec, record,
		    &(struct record_tag){ e->source, attrs, n, line, e->arena, e->doc->by_hand }, diag);
	assert(e->depth < AB_XML_DEPTH);
	if (st == AB_OK)
		e->open[e->depth++] = (struct frame){ spec, record, e->text.len, NULL, NULL };
	return st;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Not all blank, in an element that holds no text; found where the first letter is. */
static enum ab_status stray_text(const struct engine *e, const struct frame *f, const char *text, size_t len,
    long line, struct ab_diag *diag)
{
	for (; len > 0 && is_blank(*text); text++, len--)
		line += *text == '\n';
	return ab_fail(diag, AB_EINPUT, e->source, line, "the text \"%.*s\" stands in <%s>, which holds no text",
	    (int)(len < 40 ? len : 40), text, f->spec == NULL ? e->doc->wrapper : f->spec->name);
}

/* Text comes in pieces of any length, at entities and at the ends of chunks; it is gathered until its
 * element ends. Stray text is an error and not passed over, for it is most often a value that lost its
 * tag. */
static enum ab_status on_text(void *ctx, const char *text, size_t len, long line, struct ab_diag *diag)
{
	struct engine *e = ctx;
	const struct frame *f = e->depth > 0 ? &e->open[e->depth - 1] : NULL;
	enum ab_status st = count_bytes(e, len, line, diag);
	if (st != AB_OK || e->skipped > 0 || f == NULL)
		return st;
	if (f->spec != NULL && f->spec->has_text) {
		ab_str_addn(&e->text, text, len);
		return ab_str_ok(&e->text) ? AB_OK : ab_fail(diag, AB_ENOMEM, e->source, line,
		    "out of memory");
	}
	size_t blank = 0;
	while (blank < len && is_blank(text[blank]))
		blank++;
	return blank == len ? AB_OK : stray_text(e, f, text, len, line, diag);
}

/* The buffer is a stack as well: an inner element with text gives back what it took when it ends. */
static enum ab_status keep_text(struct engine *e, const struct frame *f, long line, struct ab_diag *diag)
{
	size_t from = f->text_from, to = e->text.len;
	const char *text = ab_str_text(&e->text);
	while (from < to && is_blank(text[from]))
		from++;
	while (from < to && is_blank(text[to - 1]))
		to--;
	char *copy = ab_arena_strndup(e->arena, text + from, to - from);
	if (copy == NULL)
		return ab_fail(diag, AB_ENOMEM, e->source, line, "out of memory");
	memcpy((char *)f->record + f->spec->text_at, &copy, sizeof copy);
	e->text.len = f->text_from;
	return AB_OK;
}

/* At the end tag, for only then is it known that a child will not come any more. */
static enum ab_status check_children(struct engine *e, const struct frame *f, struct ab_diag *diag)
{
	for (const struct ab_elem_spec *c = f->spec->children; c != NULL && c->name != NULL; c++) {
		const char *field = (const char *)f->record + c->at;
		struct ab_list list = { 0 };
		void *one = NULL;
		if (!c->required)
			continue;
		if (c->many)
			memcpy(&list, field, sizeof list);
		else
			memcpy(&one, field, sizeof one);
		if (list.n == 0 && one == NULL)
			return ab_fail(diag, AB_EINPUT, e->source, ((struct ab_mark *)f->record)->line,
			    "<%s> has no <%s>; it needs one", f->spec->name, c->name);
	}
	return AB_OK;
}

static enum ab_status on_end(void *ctx, const char *ns, const char *name, long line, struct ab_diag *diag)
{
	struct engine *e = ctx;
	(void)ns;
	/* The parser has checked that tags match. */
	(void)name;
	if (e->skipped > 0) {
		e->skipped--;
		return AB_OK;
	}
	const struct frame *f = &e->open[--e->depth];
	if (f->spec == NULL)
		return AB_OK;
	enum ab_status st = f->spec->has_text ? keep_text(e, f, line, diag) : AB_OK;
	if (st == AB_OK)
		st = check_children(e, f, diag);
	if (st != AB_OK || f->spec != e->doc->root || (e->depth > 0 && e->open[e->depth - 1].spec != NULL))
		return st;
	/* From here the arena is the caller's: nothing of the record may be touched any more. */
	e->elements = 0;
	e->bytes = 0;
	return e->done(e->done_ctx, f->record, diag);
}

enum ab_status ab_records_read(const struct ab_source *source, size_t limit, const struct ab_record_doc *doc,
    struct ab_arena *arena, ab_record_done *done, void *ctx, struct ab_diag *diag)
{
	static const struct ab_xml_handler handler = { on_start, on_text, on_end };
	struct engine e = { .doc = doc, .source = source->name, .arena = arena, .done = done,
	    .done_ctx = ctx };
	ab_str_init(&e.text, AB_XML_RUN);
	enum ab_status st = ab_xml_read(source, limit, &handler, &e, diag);
	ab_str_clear(&e.text);
	return st;
}
