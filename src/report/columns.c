/* columns.c - tables, bars and sparks
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/layout.h"

#include <math.h>
#include <string.h>

enum { COLUMNS = 12, GAP = 2, COMFORT = 16, TIGHT = 12 };

/* width[c] starts as what the widest cell wants and ends as what it gets. align, a letter a column: l
 * and r, x = gives way first, o = may be left out. */
struct table {
	const char *align;
	const char **cells;     /* made safe, in the page's arena */
	size_t columns, rows;
	int width[COLUMNS];
};

/* Titles come from rules anybody may write: control characters must not reach a terminal. */
static const char *safe_cell(struct page *p, const char *text)
{
	struct ab_str safe;
	ab_str_init(&safe, 0);
	ab_str_add_safe(&safe, text == NULL ? "" : text, false);
	const char *copy = page_text(p, "%s", ab_str_text(&safe));
	p->bad = p->bad || !ab_str_ok(&safe);
	ab_str_clear(&safe);
	return copy;
}

static bool take_cells(struct page *p, struct table *t, const char *const *cells)
{
	size_t n = t->rows * t->columns;
	t->cells = p->bad ? NULL : ab_arena_alloc(p->arena, n, sizeof *t->cells);
	if (t->cells == NULL || t->columns > COLUMNS) {
		p->bad = true;
		return false;
	}
	for (size_t i = 0; i < n; i++) {
		t->cells[i] = safe_cell(p, cells[i]);
		int w = text_width(t->cells[i], strlen(t->cells[i]));
		if (w > t->width[i % t->columns])
			t->width[i % t->columns] = w;
	}
	return !p->bad;
}

/* A column of width 0 is left out. Starts at -GAP, for the last column has no gap after it. */
static int total_width(const struct table *t)
{
	int total = -GAP;
	for (size_t c = 0; c < t->columns; c++)
		total += t->width[c] > 0 ? t->width[c] + GAP : 0;
	return total;
}

/* The column marked x gives way from its full width down to least. Never wider than it wants, and never
 * narrower than `least` unless it wanted less. */
static void give_way(struct table *t, int room, int full, int least)
{
	for (size_t c = 0; c < t->columns; c++) {
		if (t->align[c] != 'x')
			continue;
		t->width[c] = full;
		int spare = full - (total_width(t) - room);
		if (spare < full)
			t->width[c] = spare > least ? spare : full < least ? full : least;
	}
}

/* Makes the table fit: false when it cannot be. In steps, the least harm first: the text column shrinks
 * to a comfortable width, then bars and ranges go from the right, then the text is squeezed as far as
 * words allow. false lets page_table stack the cells instead of cutting them: no content is lost to a
 * narrow screen. */
static bool squeeze(struct table *t, int room)
{
	int full = 0;
	for (size_t c = 0; c < t->columns; c++)
		full = t->align[c] == 'x' ? t->width[c] : full;
	give_way(t, room, full, COMFORT);
	for (size_t c = t->columns; c-- > 0;)
		if (t->align[c] == 'o' && total_width(t) > room)
			t->width[c] = 0;
	give_way(t, room, full, total_width(t) > room ? TIGHT : COMFORT);
	return total_width(t) <= room;
}

/* The part of a cell on this line of its row; returns the bytes taken so far. At a blank where there is
 * one; a word longer than the column is cut, or the loop in text_row would never end. */
static size_t cell_part(const char *text, size_t at, int width, size_t *len)
{
	size_t left = strlen(text + at), cut = page_fit(text + at, left, width);
	*len = cut;
	if (cut < left && text[at + cut] != ' ') {
		size_t blank = cut;
		while (blank > 0 && text[at + blank] != ' ')
			blank--;
		if (blank > 0)
			*len = blank;
	}
	at += *len;
	while (text[at] == ' ')
		at++;
	return at;
}

/* `owed` blanks are only printed before the next text, so no line ends in blanks. */
static void text_row(struct page *p, const struct table *t, size_t row, int indent, enum tone tone)
{
	size_t at[COLUMNS] = { 0 };
	bool more = true;
	while (more) {
		int owed = indent;
		more = false;
		for (size_t c = 0; c < t->columns; c++) {
			const char *cell = t->cells[row * t->columns + c], *part = cell + at[c];
			size_t len;
			if (t->width[c] == 0)
				continue;
			at[c] = cell_part(cell, at[c], t->width[c], &len);
			more = more || cell[at[c]] != '\0';
			int spare = t->width[c] - text_width(part, len);
			if (t->align[c] == 'r')
				owed += spare;
			while (c + 1 == t->columns && len > 0 && part[len - 1] == ' ')
				len--;
			if (len > 0) {
				page_pad(p, owed);
				page_put(p, tone, part, len);
				owed = 0;
			}
			owed += (t->align[c] == 'r' ? 0 : spare) + GAP;
		}
		ab_str_add(&p->out, "\n");
	}
}

/* Too narrow for a table: the cells of a row one after the other. A narrow terminal or a reader aloud:
 * order and words carry the meaning, not the columns. */
static void stacked_row(struct page *p, const struct table *t, size_t row, int indent, enum tone tone)
{
	bool first = true;
	page_begin(p, indent);
	p->hang = indent + GAP;
	for (size_t c = 0; c < t->columns; c++) {
		const char *cell = t->cells[row * t->columns + c];
		if (t->width[c] == 0 || *cell == '\0')
			continue;
		page_say(p, tone, first ? "" : "  ");
		page_say(p, tone, cell);
		first = false;
	}
	page_end(p);
}

/* A browser wraps by itself, so widths are not looked at; cells are escaped in page_put. A head without words
 * is no head to who has the page read aloud. */
static void html_row(struct page *p, const struct table *t, size_t row, bool head)
{
	ab_str_add(&p->out, "<tr>");
	for (size_t c = 0; c < t->columns; c++) {
		const char *cell = t->cells[row * t->columns + c];
		bool named = head && *cell != '\0';
		ab_str_addf(&p->out, "<%s", named ? "th scope=\"col\"" : "td");
		if (t->align[c] == 'l')
			ab_str_add(&p->out, ">");
		else
			ab_str_addf(&p->out, " class=\"%c\">", t->align[c]);
		page_put(p, PLAIN, cell, strlen(cell));
		ab_str_add(&p->out, named ? "</th>" : "</td>");
	}
	ab_str_add(&p->out, "</tr>\n");
}

static void html_table(struct page *p, const struct table *t, bool heads)
{
	ab_str_add(&p->out, "<table>\n");
	if (heads && t->rows > 0) {
		ab_str_add(&p->out, "<thead>");
		html_row(p, t, 0, true);
		ab_str_add(&p->out, "</thead>\n");
	}
	ab_str_add(&p->out, "<tbody>\n");
	for (size_t r = heads ? 1 : 0; r < t->rows; r++)
		html_row(p, t, r, false);
	ab_str_add(&p->out, "</tbody></table>\n");
}

void page_table(struct page *p, int indent, const char *align, bool heads, const char *const *cells,
    size_t rows)
{
	struct table t = { .align = align, .columns = strlen(align), .rows = rows };
	page_end(p);
	if (!take_cells(p, &t, cells))
		return;
	bool fits = squeeze(&t, p->look->width - indent);
	if (p->html) {
		html_table(p, &t, heads);
		return;
	}
	for (size_t r = 0; r < rows; r++) {
		bool head = heads && r == 0;
		if (!fits)
			stacked_row(p, &t, r, indent, head ? QUIET : PLAIN);
		else
			text_row(p, &t, r, indent, head ? QUIET : PLAIN);
	}
}

/* ---- bars and sparks ---- */

static const char *const eighths[] = { " ", "\u258F", "\u258E", "\u258D", "\u258C", "\u258B",
    "\u258A", "\u2589", "\u2588" };
static const char *const steps[] = { "\u2581", "\u2582", "\u2583", "\u2584", "\u2585", "\u2586", "\u2587",
	"\u2588" };
/* For terminals that only have ASCII: from light to heavy ink. */
static const char *const plain_steps[] = { "_", ".", ",", "-", "=", "+", "*", "#" };
enum { STEPS = 8 };

/* A share outside 0 to 1 is drawn at the end: a bar never breaks the column. */
const char *page_bar(struct page *p, double share, int width)
{
	struct ab_str s;
	double left = (share > 0 ? share < 1 ? share : 1 : 0) * width;
	ab_str_init(&s, 0);
	for (int i = 0; i < width; i++, left -= 1) {
		int part = left >= 1 ? STEPS : left > 0 ? (int)floor(left * STEPS + 0.5) : 0;
		if (p->look->unicode)
			ab_str_add(&s, eighths[part]);
		else
			ab_str_add(&s, part >= STEPS / 2 ? "#" : ".");
	}
	const char *copy = page_text(p, "%s", ab_str_text(&s));
	p->bad = p->bad || !ab_str_ok(&s);
	ab_str_clear(&s);
	return copy;
}

/* On the scale of the worst batch; an untasted one is a gap, not a zero. */
const char *page_spark(struct page *p, const double *values, size_t n)
{
	struct ab_str s;
	double most = 0;
	ab_str_init(&s, 0);
	for (size_t i = 0; i < n; i++)
		if (values[i] > most)
			most = values[i];
	for (size_t i = 0; i < n; i++) {
		int at = most > 0 && !isnan(values[i]) ? (int)(values[i] / most * (STEPS - 1) + 0.5) : 0;
		ab_str_add(&s, isnan(values[i])
		    ? " " : (p->look->unicode ? steps : plain_steps)[at < 0 ? 0 : at]);
	}
	const char *copy = page_text(p, "%s", ab_str_text(&s));
	p->bad = p->bad || !ab_str_ok(&s);
	ab_str_clear(&s);
	return copy;
}
