/* svg.c - figures for the report page
 *
 * Everything that came from a journal goes through page_escaped; numbers are written by ab_num_text, which
 * knows no locale.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/svg.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include <afterboil/quantity.h>
#include "report/saying.h"

enum { BAR_STEP = 38, BAR_UNDER = 7, BAR_HIGH = 12, LETTER = 13, NAME_LONG = 44, COLUMNS_A_PHONE_HOLDS = 5 };
static const double LETTER_WIDE = 8.6;   /* of 15 units high, on average, in the widest of the usual typefaces */

/* A pixel to a tenth: finer is only more bytes. */
static void put_px(struct page *p, double px)
{
	char buf[32];

	ab_num_text(round(px * 10) / 10, buf, sizeof buf);
	ab_str_add(&p->out, buf);
}

static void put_attr(struct page *p, const char *name, double px)
{
	ab_str_addf(&p->out, " %s=\"", name);
	put_px(p, px);
	ab_str_add(&p->out, "\"");
}

static double plot_bottom(const struct figure *f)
{
	return f->height - FIGURE_FOOT;
}

static double px_x(const struct figure *f, double x)
{
	return FIGURE_LEFT + (x - f->x0) / (f->x1 - f->x0) * (FIGURE_WIDTH - FIGURE_LEFT - FIGURE_RIGHT);
}

static double px_y(const struct figure *f, double y)
{
	return plot_bottom(f) - (y - f->y0) / (f->y1 - f->y0) * (plot_bottom(f) - FIGURE_TOP);
}

static double within(double x, double low, double high)
{
	return x < low ? low : x > high ? high : x;
}

/* ---- the frame ---- */

void figure_begin(struct figure *f, struct page *p, const char *id, const char *title, const char *says,
    int height)
{
	page_end(p);
	*f = (struct figure){ .p = p, .height = height, .x1 = 1, .y1 = 1 };
	ab_str_add(&p->out, "<figure><h3>");
	page_escaped(p, title);
	ab_str_addf(&p->out,
	    "</h3>\n<svg viewBox=\"0 0 %d %d\" role=\"img\" aria-labelledby=\"%s-t %s-d\"><title "
	    "id=\"%s-t\">",
	    FIGURE_WIDTH, height, id, id, id);
	page_escaped(p, title);
	ab_str_addf(&p->out, "</title><desc id=\"%s-d\">", id);
	page_escaped(p, says);
	ab_str_add(&p->out, "</desc>\n");
}

/* A single value still needs a scale: half a unit on either side. */
void figure_range(struct figure *f, double x0, double x1, double y0, double y1)
{
	f->x0 = x0;
	f->x1 = x1 > x0 ? x1 : x0 + 1;
	f->y0 = y1 > y0 ? y0 : y0 - 0.5;
	f->y1 = y1 > y0 ? y1 : y0 + 0.5;
}

/* 1, 2 or 5 times a power of ten, so that about `steps` of them fill the range. */
static double round_step(double range, int steps)
{
	double raw = range / steps, power = pow(10, floor(log10(raw))), lead = raw / power;

	return (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10) * power;
}

static void put_rule(struct page *p, const char *kind, double x0, double y0, double x1, double y1)
{
	ab_str_addf(&p->out, "<line class=\"%s\"", kind);
	put_attr(p, "x1", x0);
	put_attr(p, "y1", y0);
	put_attr(p, "x2", x1);
	put_attr(p, "y2", y1);
	ab_str_add(&p->out, "/>");
}

static void put_text(struct page *p, const char *kind, double x, double y, const char *anchor, const char *text)
{
	ab_str_addf(&p->out, "<text class=\"%s\" text-anchor=\"%s\"", kind, anchor);
	put_attr(p, "x", x);
	put_attr(p, "y", y);
	ab_str_add(&p->out, ">");
	page_escaped(p, text);
	ab_str_add(&p->out, "</text>\n");
}

/* So many that two grid lines never bear one number. */
static int digits_for(double step, int digits)
{
	int needed = step < 1 ? (int)ceil(-log10(step) - 1e-9) : 0;

	return digits > needed ? digits : needed;
}

void figure_grid_y(struct figure *f, int steps, int digits, const char *unit)
{
	double step = round_step(f->y1 - f->y0, steps);

	digits = digits_for(step, digits);
	for (double y = ceil(f->y0 / step - 1e-9) * step; y <= f->y1 + step * 1e-6; y += step) {
		put_rule(f->p, "grid", FIGURE_LEFT, px_y(f, y), FIGURE_WIDTH - FIGURE_RIGHT, px_y(f, y));
		put_text(f->p, "tick", FIGURE_LEFT - 5, px_y(f, y) + 4, "end",
		    say_fixed(f->p, fabs(y) < step * 1e-6 ? 0 : y, digits));
	}
	put_text(f->p, "unit", 4, 14, "start", unit);
}

void figure_grid_x(struct figure *f, int steps, int digits, const char *unit)
{
	double step = round_step(f->x1 - f->x0, steps), foot = plot_bottom(f);

	if (digits == FIGURE_WHOLE)
		step = fmax(1, step);
	digits = digits_for(step, digits == FIGURE_WHOLE ? 0 : digits);
	put_rule(f->p, "axis", FIGURE_LEFT, foot, FIGURE_WIDTH - FIGURE_RIGHT, foot);
	for (double x = ceil(f->x0 / step - 1e-9) * step; x <= f->x1 + step * 1e-6; x += step) {
		put_rule(f->p, "axis", px_x(f, x), foot, px_x(f, x), foot + 4);
		bool zero = fabs(x) < step * 1e-6;   /* short, for it stands in the corner beside a number of the other axis */
		put_text(f->p, "tick", px_x(f, x), foot + 16, "middle", zero ? "0" : say_fixed(f->p, x, digits));
	}
	put_text(f->p, "unit", FIGURE_WIDTH - FIGURE_RIGHT, foot + 34, "end", unit);
}

/* ---- what is drawn in it ---- */

static void put_spot(struct figure *f, struct spot s)
{
	put_px(f->p, px_x(f, within(s.x, f->x0, f->x1)));
	ab_str_add(&f->p->out, ",");
	put_px(f->p, px_y(f, within(s.y, f->y0, f->y1)));
	ab_str_add(&f->p->out, " ");
}

/* A gap in the data is a gap in the line. */
void figure_line(struct figure *f, const char *kind, const struct spot *at, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		if (!isfinite(at[i].y) || !isfinite(at[i].x))
			continue;
		ab_str_addf(&f->p->out, "<polyline class=\"%s\" points=\"", kind);
		for (; i < n && isfinite(at[i].y) && isfinite(at[i].x); i++)
			put_spot(f, at[i]);
		ab_str_add(&f->p->out, "\"/>\n");
	}
}

void figure_band(struct figure *f, const char *kind, const struct spot *low, const struct spot *high, size_t n)
{
	if (n == 0)
		return;
	ab_str_addf(&f->p->out, "<polygon class=\"%s\" points=\"", kind);
	for (size_t i = 0; i < n; i++)
		put_spot(f, low[i]);
	for (size_t i = n; i-- > 0;)
		put_spot(f, high[i]);
	ab_str_add(&f->p->out, "\"/>\n");
}

static void put_said(struct page *p, const char *says)
{
	ab_str_add(&p->out, "><title>");
	page_escaped(p, says);
	ab_str_add(&p->out, "</title>");
}

void figure_column(struct figure *f, const char *kind, double x, double half, double y, const char *says)
{
	double left = px_x(f, within(x - half, f->x0, f->x1)), right = px_x(f, within(x + half, f->x0, f->x1));
	double top = px_y(f, within(y, f->y0, f->y1)), foot = px_y(f, within(0, f->y0, f->y1));

	if (!(right > left && foot > top))
		return;
	ab_str_addf(&f->p->out, "<rect class=\"%s\"", kind);
	put_attr(f->p, "x", left);
	put_attr(f->p, "y", top);
	put_attr(f->p, "width", right - left);
	put_attr(f->p, "height", foot - top);
	put_said(f->p, says);
	ab_str_add(&f->p->out, "</rect>\n");
}

void figure_box(struct figure *f, const char *kind, double x0, double x1, double y0, double y1)
{
	double left = px_x(f, within(x0, f->x0, f->x1)), right = px_x(f, within(x1, f->x0, f->x1));
	double top = px_y(f, within(y1, f->y0, f->y1)), foot = px_y(f, within(y0, f->y0, f->y1));

	if (!(right > left && foot > top))
		return;
	ab_str_addf(&f->p->out, "<rect class=\"%s\"", kind);
	put_attr(f->p, "x", left);
	put_attr(f->p, "y", top);
	put_attr(f->p, "width", right - left);
	put_attr(f->p, "height", foot - top);
	ab_str_add(&f->p->out, "/>\n");
}

void figure_dot(struct figure *f, const char *kind, double x, double y, bool ring, const char *says)
{
	if (!isfinite(x) || !isfinite(y))
		return;
	ab_str_addf(&f->p->out, "<circle class=\"%s%s\" r=\"%s\"", kind, ring ? " ring" : "", ring ? "4" : "3.5");
	put_attr(f->p, "cx", px_x(f, within(x, f->x0, f->x1)));
	put_attr(f->p, "cy", px_y(f, within(y, f->y0, f->y1)));
	put_said(f->p, says);
	ab_str_add(&f->p->out, "</circle>\n");
}

/* Near the right edge the label stands on the left of its line, or it would leave the figure. */
void figure_mark(struct figure *f, const char *kind, double x, const char *label, int row)
{
	double at = px_x(f, x);
	bool late = at > FIGURE_WIDTH - 130;

	if (!(x >= f->x0 && x <= f->x1))
		return;
	put_rule(f->p, kind, at, FIGURE_TOP, at, plot_bottom(f));
	put_text(f->p, "note", late ? at - 4 : at + 4, FIGURE_TOP + 10 + LETTER * row, late ? "end" : "start",
	    label);
}

void figure_label(struct figure *f, const char *kind, double x, double y, const char *anchor, const char *text)
{
	put_text(f->p, kind, px_x(f, x), px_y(f, y), anchor, text);
}

/* Cut at a word; the whole of it stands in the table. */
const char *figure_short(struct page *p, const char *name)
{
	size_t len = strlen(name), fit = page_fit(name, len, NAME_LONG);

	if (fit >= len)
		return name;
	fit = page_fit(name, len, NAME_LONG - 1);
	while (fit > 0 && name[fit] != ' ')
		fit--;
	while (fit > 0 && (name[fit - 1] == ' ' || name[fit - 1] == ','))
		fit--;
	return fit == 0 ? page_text(p, "%.*s\u2026", (int)page_fit(name, len, NAME_LONG - 1), name)
			: page_text(p, "%.*s\u2026", (int)fit, name);
}

/* ---- the end ---- */

void page_folded(struct page *p, const char *id, const char *summary, const char *align, const char *const *cells,
    size_t rows)
{
	page_end(p);
	ab_str_addf(&p->out, "<details%s%s%s><summary>", id != NULL ? " id=\"" : "", id != NULL ? id : "",
	    id != NULL ? "\"" : "");
	page_escaped(p, summary);
	ab_str_add(&p->out, "</summary>\n");
	/* What no phone can hold moves under the finger, or by the keys. */
	bool wide = strlen(align) > COLUMNS_A_PHONE_HOLDS;
	if (wide) {
		ab_str_add(&p->out, "<section class=\"wide\" tabindex=\"0\" aria-label=\"");
		page_escaped(p, page_text(p, "%s: %s", summary, cells[0]));
		ab_str_add(&p->out, "\">\n");
	}
	page_table(p, 0, align, true, cells, rows);
	ab_str_add(&p->out, wide ? "</section></details>\n" : "</details>\n");
}

static void end(struct page *p, const char *caption, const char *align, const char *const *cells, size_t rows)
{
	ab_str_add(&p->out, "</svg>\n<figcaption>");
	page_para(p, 0, PLAIN, caption);
	if (rows > 0)   /* folded away: a figure that all can read need not be read twice */
		page_folded(p, NULL, "The numbers behind it", align, cells, rows);
	ab_str_add(&p->out, "</figcaption></figure>\n");
}

void figure_end(struct figure *f, const char *caption, const char *align, const char *const *cells, size_t rows)
{
	end(f->p, caption, align, cells, rows);
}

/* The bars' own scale: the least value stands where the labels begin, and the words have their room at the
 * right. */
enum { BARS_LEFT = 4, WORDS_LEAST = 60, WORDS_MOST = 270 };
struct bar_scale { double least, per_px; };

/* Of the words at the ends of the bars, in the larger letters of a phone. */
static double words_room(const struct bar *bars, size_t n)
{
	double room = WORDS_LEAST;

	for (size_t i = 0; i < n; i++)
		room = fmax(room, LETTER_WIDE * text_width(bars[i].says, strlen(bars[i].says)) + 12);
	return fmin(room, WORDS_MOST);
}

static double bar_px(const struct bar_scale *s, double value)
{
	return BARS_LEFT + (value - s->least) / s->per_px;
}

/* On a rim of paper, so that it is seen on its bar, too. */
static void put_whisker(struct page *p, double low, double high, double y)
{
	put_rule(p, "halo", low, y, high, y);
	put_rule(p, "whisker", low, y, high, y);
	put_rule(p, "whisker", low, y - 4, low, y + 4);
	put_rule(p, "whisker", high, y - 4, high, y + 4);
}

static void put_bar(struct page *p, const struct bar_scale *scale, const struct bar *bar, size_t i)
{
	double top = LETTER + (double)i * BAR_STEP, middle = top + BAR_UNDER + BAR_HIGH / 2.0;
	double zero = bar_px(scale, 0), at = bar_px(scale, bar->value), far = fmax(at, zero);

	put_text(p, "name", BARS_LEFT, top, "start", figure_short(p, bar->label));
	ab_str_addf(&p->out, "<rect class=\"%s\"", bar->kind);
	put_attr(p, "x", fmin(zero, at));
	put_attr(p, "y", top + BAR_UNDER);
	put_attr(p, "width", fmax(1, fabs(at - zero)));
	put_attr(p, "height", BAR_HIGH);
	ab_str_add(&p->out, "/>");
	if (bar->high > bar->low) {
		put_whisker(p, bar_px(scale, bar->low), bar_px(scale, bar->high), middle);
		far = fmax(far, bar_px(scale, bar->high));
	}
	put_text(p, "value", far + 6, middle + 4, "start", bar->says);
}

void figure_bars(struct page *p, const char *id, const char *title, const char *says, const struct bar *bars,
    size_t n, const char *caption, const char *align, const char *const *cells, size_t rows)
{
	struct figure f;
	double most = 0, least = 0;

	for (size_t i = 0; i < n; i++) {
		bool ranged = bars[i].high > bars[i].low;
		most = fmax(most, fmax(bars[i].value, ranged ? bars[i].high : 0));
		least = fmin(least, fmin(bars[i].value, ranged ? bars[i].low : 0));
	}
	struct bar_scale scale = { least,
		(most > least ? most - least : 1) / (FIGURE_WIDTH - BARS_LEFT - words_room(bars, n)) };
	figure_begin(&f, p, id, title, says, (int)n * BAR_STEP + 8);
	for (size_t i = 0; i < n; i++)
		put_bar(p, &scale, &bars[i], i);
	end(p, caption, align, cells, rows);
}
