/* scan.c - where in the bytes of a journal a batch starts and ends
 *
 * Walks from tag to tag and counts depth. No parser: it relies on one having passed the text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal/scan.h"

#include <assert.h>
#include <string.h>

/* Lines are counted only as far as somebody asks, from where the last count ended: a count for each tag
 * would read the file again and again. */
struct scan {
	const char *at, *end;
	const char *counted;   /* line is the line of this place */
	long line;
};

/* Places in the text, never copies: what is inserted later needs the byte. */
struct tag {
	const char *start, *name;
	size_t name_len;
	const char *attrs, *close;   /* from after the name to the '>' */
	bool ends, empty;
};

static bool starts(const struct scan *s, const char *with)
{
	size_t len = strlen(with);
	return (size_t)(s->end - s->at) >= len && memcmp(s->at, with, len) == 0;
}

/* Past the next `what`, or to the end. What stands inside comments and CDATA may look like tags and is
 * none: a journal that quotes one in a note must not be cut there. */
static void skip_past(struct scan *s, const char *what)
{
	size_t len = strlen(what);
	while (s->at < s->end && !starts(s, what))
		s->at++;
	s->at = (size_t)(s->end - s->at) >= len ? s->at + len : s->end;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* A '>' inside quotes ends no tag. */
static void read_tag(struct scan *s, struct tag *t)
{
	char quote = '\0';
	*t = (struct tag){ .start = s->at++ };
	t->ends = s->at < s->end && *s->at == '/';
	s->at += t->ends;
	t->name = s->at;
	while (s->at < s->end && !is_blank(*s->at) && *s->at != '>' && *s->at != '/')
		s->at++;
	t->name_len = (size_t)(s->at - t->name);
	t->attrs = s->at;
	for (; s->at < s->end && (quote != '\0' || *s->at != '>'); s->at++) {
		if (quote == '\0' && (*s->at == '"' || *s->at == '\''))
			quote = *s->at;
		else if (*s->at == quote)
			quote = '\0';
	}
	assert(s->at <= s->end);
	t->close = s->at;
	/* The byte before '>' exists: at least the '<' of this tag stands there. */
	t->empty = !t->ends && t->close[-1] == '/';
	s->at += s->at < s->end;
}

/* DOCTYPE cannot come: the parser has refused it. */
static bool next_tag(struct scan *s, struct tag *t)
{
	while (s->at < s->end) {
		if (*s->at != '<')
			s->at++;
		else if (starts(s, "<!--"))
			skip_past(s, "-->");
		else if (starts(s, "<![CDATA["))
			skip_past(s, "]]>");
		else if (starts(s, "<?"))
			skip_past(s, "?>");
		else {
			read_tag(s, t);
			return true;
		}
	}
	return false;
}

static long line_of(struct scan *s, const char *place)
{
	assert(place >= s->counted);
	for (; s->counted < place; s->counted++)
		s->line += *s->counted == '\n';
	return s->line;
}

/* The value of the attribute, plainly written; NULL when there is none. */
static const char *attribute(const char *attrs, const char *close, const char *wanted, size_t *len)
{
	size_t length = strlen(wanted);
	for (const char *p = attrs; p < close;) {
		while (p < close && is_blank(*p))
			p++;
		const char *name = p;
		while (p < close && *p != '=' && !is_blank(*p))
			p++;
		/* The whole name: "grid" ends in id, too. */
		bool is_it = (size_t)(p - name) == length && memcmp(name, wanted, length) == 0;
		while (p < close && *p != '"' && *p != '\'')
			p++;
		if (p == close)
			return NULL;
		const char *value = p + 1, *stop = memchr(value, *p, (size_t)(close - value));
		if (stop == NULL)
			return NULL;
		p = stop + 1;
		while (value < stop && is_blank(*value))
			value++;
		while (value < stop && is_blank(stop[-1]))
			stop--;
		*len = (size_t)(stop - value);
		if (is_it)
			return value;
	}
	return NULL;
}

const char *ab_scan_attribute(const struct ab_scan_batch *element, const char *name, size_t *len)
{
	return attribute(element->attrs, element->attrs_end, name, len);
}

static bool has_id(const struct tag *t, const char *id)
{
	size_t len = 0;
	const char *value = attribute(t->attrs, t->close, "id", &len);
	return value != NULL && len == strlen(id) && memcmp(value, id, len) == 0;
}

/* By its local name: a journal may be written with any prefix, and the reader has checked the namespace. */
static bool is_named(const struct tag *t, const char *name)
{
	const char *colon = memchr(t->name, ':', t->name_len);
	const char *local = colon != NULL ? colon + 1 : t->name;
	return (size_t)(t->name + t->name_len - local) == strlen(name) &&
	    memcmp(local, name, strlen(name)) == 0;
}

static struct ab_scan_batch element_of(const struct tag *t)
{
	return (struct ab_scan_batch){ .start = t->start, .name = t->name, .name_len = t->name_len,
		.prefixed = memchr(t->name, ':', t->name_len) != NULL,
		.slash = t->empty ? t->close - 1 : NULL, .attrs = t->attrs,
		.attrs_end = t->empty ? t->close - 1 : t->close };
}

/* Depth is all that is counted: the parser has seen that every end tag fits its start, so the first end tag
 * at the depth of the batch is its own. */
bool ab_scan_find_batch(const char *text, size_t len, const char *id, long line, struct ab_scan_batch *out)
{
	struct scan s = { .at = text, .end = text + len, .counted = text, .line = 1 };
	struct tag t;
	int depth = 0, found = -1;
	while (next_tag(&s, &t)) {
		/* Before the comparison, so that an end tag has the depth of its start tag. */
		depth -= t.ends;
		if (t.ends && depth == found) {
			out->end_tag = t.start;
			return true;
		}
		/* Depth 0 or 1: a lone batch or one in <batches>. The line as the reader saw it must agree,
		 * too, so that an element of the same name deeper in a foreign part is never taken for it. */
		if (!t.ends && found < 0 && depth <= 1 && is_named(&t, "batch") && has_id(&t, id) &&
		    line_of(&s, t.start) == line) {
			*out = element_of(&t);
			if (t.empty)
				return true;
			found = depth;
		}
		depth += !t.ends && !t.empty;
	}
	return false;
}

/* Same prefix only: <x:water> beside a plain <batch> is somebody else's water. A batch with a prefix may
 * hold children without one, each then naming the namespace itself. */
static bool same_prefix(const struct tag *t, const struct ab_scan_batch *parent)
{
	const char *colon = memchr(t->name, ':', t->name_len);
	if (colon == NULL)
		return true;
	size_t n = (size_t)(colon - t->name) + 1;
	return parent->prefixed && n < parent->name_len && memcmp(t->name, parent->name, n) == 0;
}

bool ab_scan_find_child(const struct ab_scan_batch *parent, const char *name, size_t nth,
    struct ab_scan_batch *out)
{
	int depth = 0;
	bool found = false;
	struct tag t;
	if (parent->end_tag == NULL)
		return false;
	struct scan s = { .at = parent->attrs_end + 1, .end = parent->end_tag };
	while (next_tag(&s, &t)) {
		depth -= t.ends;
		if (found && t.ends && depth == 0) {
			out->end_tag = t.start;
			return true;
		}
		if (!found && !t.ends && depth == 0 && is_named(&t, name) && same_prefix(&t, parent) &&
		    nth-- == 0) {
			*out = element_of(&t);
			if (t.empty)
				return true;
			found = true;
		}
		depth += !t.ends && !t.empty;
	}
	return false;
}

bool ab_scan_find_root(const char *text, size_t len, struct ab_scan_batch *out)
{
	struct scan s = { .at = text, .end = text + len, .counted = text, .line = 1 };
	struct tag t;
	int depth = 0;
	if (!next_tag(&s, &t))
		return false;
	*out = element_of(&t);
	if (t.empty)
		return true;
	while (next_tag(&s, &t)) {
		if (t.ends && depth == 0) {
			out->end_tag = t.start;
			return true;
		}
		depth += t.ends ? -1 : !t.empty;
	}
	return false;
}
