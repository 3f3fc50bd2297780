/* layout.h - a page of text: headings, paragraphs, items and tables, as plain text for a terminal or as one
 * HTML file
 *
 * Whoever fills a page says what a text is (a heading, a caution), never how it looks. All text passes one
 * gate where control characters are neutralised and HTML is escaped, so nothing from a stranger's journal can
 * drive a terminal or a browser. A page goes bad when memory is short; page_finish says so once.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_LAYOUT_H
#define AB_REPORT_LAYOUT_H

#include <afterboil/arena.h>
#include <afterboil/report.h>
#include "base/str.h"

/* What a stretch of text means. */
enum tone { PLAIN, LOUD, QUIET, GOOD, BAD, CAREFUL, TONES };

struct page {
	const struct ab_look *look;
	struct ab_arena *arena;      /* made texts live here until page_finish */
	struct ab_str out;
	struct ab_str text, tones;   /* the paragraph being said: its bytes, and the tone of each */
	int indent, hang;            /* columns: of the first line, of the others */
	int level;                   /* HTML: how much deeper headings stand than by themselves */
	bool html, bad, open, listing;
};

enum { LAYOUT_NARROW = 40, LAYOUT_WIDE = 200 };

void page_start(struct page *p, const struct ab_look *look, const char *title);
/* Hands the finished text over; the page is empty then, whatever is returned. */
enum ab_status page_finish(struct page *p, char **out, struct ab_diag *diag);

/* The same with markup of our own for the head, NULL-terminated. */
void page_start_with(struct page *p, const struct ab_look *look, const char *title, const char *const *markup);

/* Text made safe and escaped, for markup of one's own. */
void page_escaped(struct page *p, const char *text);

/* Text made with printf that lives as long as the page; "" when memory is short. */
const char *page_text(struct page *p, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* A heading of the page, a heading in it, an empty line (none at the top of a page). */
void page_title(struct page *p, const char *text);
void page_section(struct page *p, const char *text);
void page_gap(struct page *p);

/* A paragraph said in pieces; page_item begins one with a mark ("1.", "+") and hangs the rest under its
 * text. */
void page_begin(struct page *p, int indent);
void page_item(struct page *p, int indent, const char *mark, enum tone tone);
void page_say(struct page *p, enum tone tone, const char *text);
void page_end(struct page *p);
/* The three in one. */
void page_para(struct page *p, int indent, enum tone tone, const char *text);
void page_point(struct page *p, int indent, const char *mark, enum tone tone, const char *text);

/* A table. cells: rows x columns, row by row; heads: the first row holds headings; a NULL cell is empty.
 * align: one letter a column, l left, r right, x left and wrapped to the room that is left (at most one
 * column), o left and left out where the page is too narrow. Where even that does not help, each row becomes
 * a paragraph. */
void page_table(struct page *p, int indent, const char *align, bool heads, const char *const *cells,
    size_t rows);

/* A bar of width cells filled to share (0..1, clipped). A spark: one sign a value, NAN a blank, from 0 to the
 * greatest. */
const char *page_bar(struct page *p, double share, int width);
const char *page_spark(struct page *p, const double *values, size_t n);

/* Columns that text takes on a terminal; stops at len bytes. */
int text_width(const char *text, size_t len);

/* For layout.c and columns.c; gate.c. */
void page_put(struct page *p, enum tone tone, const char *text, size_t len);
void page_pad(struct page *p, int columns);
size_t page_fit(const char *text, size_t len, int room);

#endif
