/* svg.h - figures for the report page, drawn as SVG
 *
 * A figure is one <figure>: the drawing with its text equivalent, a caption, and the numbers behind it as a
 * table that unfolds. Colours come from the page's style sheet by class, so that light, dark and print have
 * their own; shapes differ as well, so that nothing is told by colour alone. Coordinates of the data go in,
 * pixels of the view box come out; a value that is not finite is not drawn.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_SVG_H
#define AB_REPORT_SVG_H

#include "report/layout.h"

/* The view box is FIGURE_WIDTH wide: narrow, so that on a phone its letters stay legible. */
enum { FIGURE_WIDTH = 460, FIGURE_LEFT = 52, FIGURE_RIGHT = 10, FIGURE_TOP = 30, FIGURE_FOOT = 42 };
/* The same at the left and at the top of a figure of lanes. */
enum { LANES_LEFT = 8, LANES_TOP = 6 };

struct figure {
	struct page *p;
	int height;                   /* of the view box */
	int left, top;                /* of the plot in it */
	double x0, x1, y0, y1;        /* data at the plot's left, right, bottom, top */
};

/* Opens the figure. id: a word that no other figure of the page has; title: what a heading would say; says:
 * the text equivalent, what a reader should see in it. */
void figure_begin(struct figure *f, struct page *p, const char *id, const char *title, const char *says,
    int height);
/* No numbers stand at its left: the plot gets their room, and that of their unit. Before anything is drawn. */
void figure_of_lanes(struct figure *f);
/* The range of the data; widened where it has no width. */
void figure_range(struct figure *f, double x0, double x1, double y0, double y1);
/* Grid lines at round values with their numbers, at least `digits` behind the point; unit stands at the end of the
 * axis. About `steps` of them. FIGURE_WHOLE as digits of x: only whole numbers, as batches are counted. */
enum { FIGURE_WHOLE = -1 };
void figure_grid_y(struct figure *f, int steps, int digits, const char *unit);
void figure_grid_x(struct figure *f, int steps, int digits, const char *unit);

struct spot { double x, y; };
void figure_line(struct figure *f, const char *kind, const struct spot *at, size_t n);
/* Between low and high (n each, same x). */
void figure_band(struct figure *f, const char *kind, const struct spot *low, const struct spot *high, size_t n);
void figure_box(struct figure *f, const char *kind, double x0, double x1, double y0, double y1);
/* A box with a text that shows when pointed at. */
void figure_column(struct figure *f, const char *kind, struct spot from, struct spot to, const char *says);
/* A dot with a text that shows when pointed at; ring: hollow. */
void figure_dot(struct figure *f, const char *kind, double x, double y, bool ring, const char *says);
/* An upright line over the whole height, its label (may be "") at the top. */
void figure_mark(struct figure *f, const char *kind, double x, const char *label);
/* anchor: start, middle or end; text is made safe. */
void figure_label(struct figure *f, const char *kind, double x, double y, const char *anchor, const char *text);
/* A name short enough for one line of the figure, also in a phone's larger letters. */
const char *figure_short(struct page *p, const char *name);
/* Closes the drawing, puts the caption under it, and the table behind it: cells as page_table's, the first
 * row being heads; rows 0: none. */
void figure_end(struct figure *f, const char *caption, const char *align, const char *const *cells, size_t rows);

/* A table that unfolds without a figure: its summary, then as page_table. */
void page_folded(struct page *p, const char *id, const char *summary, const char *align, const char *const *cells,
    size_t rows);

/* Bars, one under the other: each with its label above it (on two lines if need be), the figure in words at its
 * end, and a whisker where low < high. A negative value goes to the left. */
struct bar { const char *label, *says, *kind; double value, low, high; };
void figure_bars(struct page *p, const char *id, const char *title, const char *says, const struct bar *bars,
    size_t n, const char *caption, const char *align, const char *const *cells, size_t rows);

/* For svg.c and svg_bars.c: in pixels of the view box. */
void svg_attr(struct page *p, const char *name, double px);
void svg_rule(struct page *p, const char *kind, double x0, double y0, double x1, double y1);
void svg_text(struct page *p, const char *kind, double x, double y, const char *anchor, const char *text);
double svg_letters_wide(const char *text);
double svg_within(double x, double low, double high);
/* How much of a name stands on one line: all of it, or up to the last word that fits into room letters. */
enum { SVG_NAME_LONG = 44 };
size_t svg_line_of_name(const char *name, int room);

#endif
