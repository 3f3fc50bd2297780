/* layout.c - paragraphs broken to the width, and their HTML twin
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

/* All inside the page: a report is one file that can be mailed, and fetches nothing. */
static const char HTML_HEAD[] =
    "<style>body{font:16px/1.45 sans-serif;max-width:52em;margin:2em auto;padding:0 1em;"
    "color:#222;background:#fdfcf8}"
    "h1{font-size:1.4em}h2{font-size:1.1em;margin:1.4em 0 .3em}p{margin:.3em 0}"
    "table{border-collapse:collapse}.d{white-space:nowrap}.in1{margin-left:1em}.in2{margin-left:2em}"
    ".in3{margin-left:3em}"
    "p.it{padding-left:1.1em;text-indent:-1.1em}"
    "td,th{padding:.1em .8em .1em 0;text-align:left;vertical-align:top}td.r,th.r{text-align:right}"
    "td.r{white-space:nowrap}"
    "td.x{overflow-wrap:anywhere}@media(max-width:34em){td.o,th.o{display:none}}"
    ".loud{font-weight:bold}.quiet{color:#666}.good{color:#06606c}.bad{color:#8a1f6b}"
    ".careful{font-weight:bold;color:#8a5a00}</style>\n";

/* The arena holds only what one page's text needs while it is written. */
void page_start_with(struct page *p, const struct ab_look *look, const char *title, const char *const *markup)
{
	memset(p, 0, sizeof *p);
	p->look = look;
	p->html = look->format == AB_HTML;
	p->arena = ab_arena_new();
	p->bad = p->arena == NULL;
	ab_str_init(&p->out, 0);
	ab_str_init(&p->text, 0);
	ab_str_init(&p->tones, 0);
	if (!p->html)
		return;
	ab_str_add(&p->out, "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n<title>");
	page_escaped(p, title);
	ab_str_add(&p->out, "</title>\n");
	ab_str_add(&p->out, HTML_HEAD);
	for (; *markup != NULL; markup++)
		ab_str_add(&p->out, *markup);
	ab_str_add(&p->out, "</head><body>\n");
}

void page_start(struct page *p, const struct ab_look *look, const char *title)
{
	static const char *const none[] = { NULL };
	page_start_with(p, look, title, none);
}

/* The one place where a page's failures are asked about; until then everything writes on, harmlessly.
 * An empty page is still a string. */
enum ab_status page_finish(struct page *p, char **out, struct ab_diag *diag)
{
	bool ok;
	page_end(p);
	if (p->html)
		ab_str_add(&p->out, "</body></html>\n");
	ab_str_add(&p->out, "");
	ok = !p->bad && ab_str_ok(&p->out) && ab_str_ok(&p->text) && ab_str_ok(&p->tones);
	ab_arena_free(p->arena);
	ab_str_clear(&p->text);
	ab_str_clear(&p->tones);
	*out = NULL;
	if (ok && p->out.text != NULL) {
		*out = p->out.text;
		ab_str_init(&p->out, 0);
		return AB_OK;
	}
	ab_str_clear(&p->out);
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
}

/* The library's allocator, not the caller's free: the two need not be one. */
void ab_report_free(char *text)
{
	ab_free(text);
}

/* Never NULL: on failure "" and p->bad, so that sayings can be nested without a check each. Measured
 * first, since most are short and the arena cannot shrink. */
const char *page_text(struct page *p, const char *fmt, ...)
{
	char small[256];
	va_list ap;
	va_start(ap, fmt);
	int n = vsnprintf(small, sizeof small, fmt, ap);
	va_end(ap);
	char *text = n < 0 || p->bad ? NULL : ab_arena_alloc(p->arena, (size_t)n + 1, 1);
	if (text == NULL) {
		p->bad = true;
		return "";
	}
	va_start(ap, fmt);
	vsnprintf(text, (size_t)n + 1, fmt, ap);
	va_end(ap);
	return text;
}

/* ---- paragraphs ---- */

/* One change of tone, one escape sequence: the letters in tones run beside text, byte by byte. That
 * keeps sequences out of the text itself: widths are then counted on what is seen. */
static void flush_run(struct page *p, size_t from, size_t to)
{
	const char *text = ab_str_text(&p->text), *tones = ab_str_text(&p->tones);
	while (from < to) {
		size_t end = from + 1;
		while (end < to && tones[end] == tones[from])
			end++;
		page_put(p, (enum tone)(tones[from] - 'a'), text + from, end - from);
		from = end;
	}
}

/* The end of the line that begins at from: the last blank that fits, or as much as fits of a word too
 * long. Greedy, one line at a time; widths are columns, not bytes, so umlauts and wide signs stay in
 * line. */
static size_t line_end(const char *text, size_t from, size_t len, int room, size_t *next)
{
	size_t at = from, best = from;
	while (at < len) {
		size_t word = at;
		while (word < len && text[word] != ' ')
			word++;
		if (text_width(text + from, word - from) > room)
			break;
		best = word;
		at = word + (word < len);
		if (word == len)
			break;
	}
	if (best == from) {
		*next = best = from + page_fit(text + from, len - from, room);
		return best;
	}
	*next = best;
	while (*next < len && text[*next] == ' ')
		(*next)++;
	return best;
}

/* Twenty columns at least, however deep the indent: one word a line is unreadable. */
static void flush_text(struct page *p)
{
	const char *text = ab_str_text(&p->text);
	size_t len = p->text.len, from = 0, next;
	int indent = p->indent;
	do {
		int room = p->look->width - indent;
		size_t end = line_end(text, from, len, room < 20 ? 20 : room, &next);
		while (end > from && text[end - 1] == ' ')
			end--;
		page_pad(p, indent);
		flush_run(p, from, end);
		ab_str_add(&p->out, "\n");
		from = next;
		indent = p->hang;
	} while (from < len);
}

/* Ends what is open: no caller has to keep count. */
void page_begin(struct page *p, int indent)
{
	page_end(p);
	p->open = true;
	p->indent = p->hang = indent;
}

/* Further lines hang under the text, not under the mark. */
void page_item(struct page *p, int indent, const char *mark, enum tone tone)
{
	page_begin(p, indent);
	page_say(p, tone, p->html && strcmp(mark, "*") == 0 ? "\u2022" : mark);
	page_say(p, PLAIN, " ");
	p->hang = indent + text_width(mark, strlen(mark)) + 1;
}

/* text and tones grow in step because the letter is repeated for what safe-making left of the text. */
void page_say(struct page *p, enum tone tone, const char *text)
{
	char letter = (char)('a' + tone);
	size_t before = p->text.len;
	ab_str_add_safe(&p->text, text, false);
	for (size_t i = before; i < p->text.len; i++)
		ab_str_addn(&p->tones, &letter, 1);
	assert(!ab_str_ok(&p->text) || !ab_str_ok(&p->tones) || p->tones.len == p->text.len);
}

/* Steps of two columns become classes; an item hangs under its text. */
static void open_paragraph(struct page *p)
{
	int step = p->indent < 6 ? p->indent / 2 : 3;
	if (step > 0)
		ab_str_addf(&p->out, "<p class=\"in%d%s\">", step, p->hang > p->indent ? " it" : "");
	else
		ab_str_add(&p->out, p->hang > p->indent ? "<p class=\"it\">" : "<p>");
}

/* Safe to call when nothing is open: everything that begins something ends what was open before. */
void page_end(struct page *p)
{
	if (!p->open)
		return;
	p->open = false;
	if (!ab_str_ok(&p->text) || !ab_str_ok(&p->tones)) {
		p->bad = true;
		return;
	}
	if (p->html) {
		open_paragraph(p);
		flush_run(p, 0, p->text.len);
		ab_str_add(&p->out, "</p>\n");
	} else if (p->text.len > 0) {
		flush_text(p);
	}
	ab_str_clear(&p->text);
	ab_str_clear(&p->tones);
}

void page_para(struct page *p, int indent, enum tone tone, const char *text)
{
	page_begin(p, indent);
	page_say(p, tone, text);
	page_end(p);
}

void page_point(struct page *p, int indent, const char *mark, enum tone tone, const char *text)
{
	page_item(p, indent, mark, tone);
	page_say(p, PLAIN, text);
	page_end(p);
}

static void head(struct page *p, int level, const char *text)
{
	page_end(p);
	if (!p->html) {
		page_para(p, 0, LOUD, text);
		return;
	}
	struct ab_str safe;
	ab_str_init(&safe, 0);
	ab_str_add_safe(&safe, text, false);
	ab_str_addf(&p->out, "<h%d>", level + p->level);
	page_put(p, PLAIN, ab_str_text(&safe), safe.len);
	ab_str_addf(&p->out, "</h%d>\n", level + p->level);
	p->bad = p->bad || !ab_str_ok(&safe);
	ab_str_clear(&safe);
}

void page_title(struct page *p, const char *text)
{
	head(p, 1, text);
}

/* Text gets an empty line, HTML the margin of its h2. */
void page_section(struct page *p, const char *text)
{
	page_gap(p);
	head(p, 2, text);
}

/* Never at the top of a page. */
void page_gap(struct page *p)
{
	page_end(p);
	if (!p->html && p->out.len > 0)
		ab_str_add(&p->out, "\n");
}
