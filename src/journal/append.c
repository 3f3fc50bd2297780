/* append.c - one element more in a journal, every other byte as it was
 *
 * The file is read twice by the real reader, before and after; between them a small scanner finds the byte
 * where the batch ends. The scanner may trust that the text is well formed; what it finds is believed only if
 * the second reading shows the same batches, with one element more in the right one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/journal.h>

#include <assert.h>
#include <string.h>

#include "base/alloc.h"
#include "base/lock.h"
#include "base/savefile.h"
#include "base/str.h"
#include "journal/edit.h"
#include "journal/scan.h"
#include "journal/tables.h"

/* What a reading of the whole file found. */
struct count {
	const char *id;
	size_t batches, elements, inside;   /* elements of all batches; of those with the id */
	size_t found;
	long line;                          /* where the batch with the id starts */
	struct ab_arena *arena;
};

/* By the table and not by naming each member: an element added to the journal is counted without a line
 * here, and a miscount would let a wrong insertion pass. */
static size_t count_children(const struct ab_elem_spec *specs, const char *parent)
{
	size_t n = 0;
	for (; specs->name != NULL; specs++) {
		struct ab_list list = { 0 };
		if (specs->many)
			memcpy(&list, parent + specs->at, sizeof list);
		else
			memcpy(&list.items, parent + specs->at, sizeof list.items);
		n += specs->many ? list.n : list.items != NULL;
	}
	return n;
}

/* Inside and altogether are counted apart: an element put into the wrong batch leaves the sum right. */
static void count_batch(struct count *c, const struct ab_batch *b)
{
	size_t n = count_children(ab_batch_children, (const char *)b);
	c->batches++;
	c->elements += n;
	if (strcmp(b->id, c->id) != 0)
		return;
	c->found++;
	c->inside += n;
	c->line = b->mark.line;
}

static enum ab_status on_record(void *ctx, void *record, struct ab_diag *diag)
{
	struct count *c = ctx;
	(void)diag;
	count_batch(c, record);
	/* Only counts are kept, so a file of many batches needs the memory of one. */
	ab_arena_reset(c->arena);
	return AB_OK;
}

static enum ab_status on_batch(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	return on_record(ctx, batch, diag);
}

/* ---- where it goes ---- */

/* The line that [text, at) ends with. */
static const char *line_start(const char *text, const char *at)
{
	while (at > text && at[-1] != '\n')
		at--;
	return at;
}

static const char *past_blanks(const char *p, const char *end)
{
	while (p < end && (*p == ' ' || *p == '\t'))
		p++;
	return p;
}

/* The element, with a namespace when its batch is written with a prefix. */
static void add_element(struct ab_str *out, const struct ab_scan_batch *batch, const char *element)
{
	size_t name = 0;
	while (*element == ' ' || *element == '\t' || *element == '\n' || *element == '\r')
		element++;
	/* What the caller wrote may carry newlines round it; the layout of the file wins. */
	size_t len = strlen(element);
	while (len > 0 && strchr(" \t\r\n", element[len - 1]) != NULL)
		len--;
	while (name < len && strchr(" \t\r\n/>", element[name]) == NULL)
		name++;
	const char *tag_end = memchr(element, '>', len);
	/* In <j:batch> an element without prefix would be in no namespace and be refused; it gets ours by
	 * name. An element with a prefix is taken as it is: the second reading will tell if it is unknown. */
	bool bare = batch->prefixed && memchr(element, ':', name) == NULL && tag_end != NULL;
	ab_str_addn(out, element, name);
	if (bare)
		ab_str_add(out, " xmlns=\"" AB_JOURNAL_NS "\"");
	ab_str_addn(out, element + name, len - name);
}

/* As a line of its own, indented like the last one, when the end tag stands alone on its line; else right
 * before it. */
static void add_before_end(struct ab_str *out, const char *text, const struct ab_scan_batch *batch,
    const char *element)
{
	const char *end = batch->end_tag, *start = line_start(text, end);
	if (past_blanks(start, end) != end || start == text) {
		ab_str_addn(out, text, (size_t)(end - text));
		add_element(out, batch, element);
		return;
	}
	const char *above = line_start(text, start - 1), *first = past_blanks(above, start);
	/* A file from an editor with CRLF keeps its line ends: one line of another kind shows up in every
	 * diff. */
	bool crlf = start - text >= 2 && start[-2] == '\r';
	ab_str_addn(out, text, (size_t)(start - text));
	/* The line above is a brother only if it starts with a tag and lies inside this batch; else the
	 * indent of the end tag and one tab more are the best guess. */
	if (*first == '<' && above > batch->start) {
		ab_str_addn(out, above, (size_t)(first - above));
	} else {
		ab_str_addn(out, start, (size_t)(end - start));
		ab_str_add(out, "\t");
	}
	add_element(out, batch, element);
	ab_str_add(out, crlf ? "\r\n" : "\n");
	ab_str_addn(out, start, (size_t)(end - start));
}

/* Everything before and after the place is copied byte by byte: what this program does not understand is
 * not its to change. */
void ab_append_inside(struct ab_str *out, const char *text, size_t len, const struct ab_scan_batch *batch,
    const char *element)
{
	if (batch->end_tag != NULL) {
		add_before_end(out, text, batch, element);
		ab_str_addn(out, batch->end_tag, len - (size_t)(batch->end_tag - text));
		return;
	}
	/* <batch ... /> has to be opened */
	ab_str_addn(out, text, (size_t)(batch->slash - text));
	ab_str_add(out, ">\n\t");
	add_element(out, batch, element);
	ab_str_add(out, "\n</");
	ab_str_addn(out, batch->name, batch->name_len);
	ab_str_addn(out, batch->slash + 1, len - (size_t)(batch->slash + 1 - text));
}

/* ---- the whole ---- */

static enum ab_status read_before(const char *path, const char *text, size_t len, struct count *c,
    struct ab_diag *diag)
{
	const struct ab_source source = { .name = path, .data = text, .len = len, .fd = -1 };
	/* UTF-16 reads well in the parser, but the scanner looks for bytes. */
	if (len >= 2 && (memchr(text, '\0', len) != NULL || (unsigned char)text[0] >= 0xFE))
		return ab_fail(diag, AB_EINPUT, path, 1,
		    "only a UTF-8 journal can be added to; save it as UTF-8 first");
	enum ab_status st = ab_records_read(&source, AB_JOURNAL_LIMIT, &ab_journal_doc, c->arena,
	    on_record, c, diag);
	if (st == AB_OK && c->found == 0)
		return ab_fail(diag, AB_EINPUT, path, 0, "no batch in this file has the id \"%.64s\"", c->id);
	if (st == AB_OK && c->found > 1)
		return ab_fail(diag, AB_EINPUT, path, c->line,
		    "more than one batch in this file has the id \"%.64s\"", c->id);
	return st;
}

/* The proof of the whole file: the scanner may err in any way, and still nothing is written unless the real
 * reader sees one element more in the right batch and the same everywhere else. The full reader and not
 * only the engine, so that a reading of an impossible time is refused before it is on disk. */
static enum ab_status read_after(const char *path, const struct ab_str *s, const struct count *before,
    struct ab_diag *diag)
{
	struct count after = { .id = before->id, .arena = before->arena };
	struct ab_diag why;
	ab_diag_init(&why);
	/* For the logs the journal names; they must still be found, as later readings will want them. */
	char *folder = ab_strdup(path), *slash = folder == NULL ? NULL : strrchr(folder, '/');
	if (folder == NULL)
		return ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	if (slash != NULL)
		slash[slash == folder] = '\0';
	enum ab_status st = ab_journal_read_memory(ab_str_text(s), s->len, path, slash == NULL ? "." : folder,
	    before->arena, on_batch, &after, &why);
	ab_free(folder);
	if (st != AB_OK)
		return ab_fail(diag, st, path, why.line,
		    "not changed, for the journal would not read any more: %.600s", why.text);
	assert(before->found == 1);
	if (after.batches != before->batches || after.elements != before->elements + 1 ||
	    after.inside != before->inside + 1)
		return ab_fail(diag, AB_EINPUT, path, before->line,
		    "not changed: what is added must be exactly one element of a journal");
	return AB_OK;
}

/* The scanner knows only plainly written ids; one written with an entity is found by the parser and not by
 * it. */
static enum ab_status build(const char *path, const char *text, size_t len, const struct count *c,
    const char *element, struct ab_str *out, struct ab_diag *diag)
{
	struct ab_scan_batch batch;
	if (!ab_scan_find_batch(text, len, c->id, c->line, &batch))
		return ab_fail(diag, AB_EINPUT, path, c->line,
		    "the end of the batch \"%.64s\" was not found; write its id plainly", c->id);
	ab_append_inside(out, text, len, &batch, element);
	return ab_str_ok(out) ? AB_OK : ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
}

enum ab_status ab_journal_append(const char *path, const char *batch_id, const char *element,
    struct ab_diag *diag)
{
	char *text = NULL;
	size_t len = 0;
	struct ab_str out;
	ab_str_init(&out, AB_JOURNAL_LIMIT);
	int lock = -1;
	struct count c = { .id = batch_id, .arena = ab_arena_new() };
	enum ab_status st = c.arena != NULL ? ab_lock_beside(path, &lock, diag) :
	    ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	if (st == AB_OK)
		st = ab_loadfile(path, AB_JOURNAL_LIMIT, &text, &len, diag);
	if (st == AB_OK)
		st = read_before(path, text, len, &c, diag);
	if (st == AB_OK)
		st = build(path, text, len, &c, element, &out, diag);
	if (st == AB_OK)
		st = read_after(path, &out, &c, diag);
	if (st == AB_OK)
		st = ab_savefile(path, ab_str_text(&out), out.len, diag);
	ab_unlock(lock);
	ab_str_clear(&out);
	ab_free(text);
	ab_arena_free(c.arena);
	return st;
}

void ab_journal_free(char *text)
{
	ab_free(text);
}
