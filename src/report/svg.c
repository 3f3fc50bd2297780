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

enum { COLUMNS_A_PHONE_HOLDS = 5 };
/* Of 17 units high, as on a phone: on average, in the widest of the usual typefaces. */
static const double LETTER_WIDE = 9.75;

/* A pixel to a tenth: finer is only more bytes. */
static void put_px(struct page *p, double px)
{
	char buf[32];

	ab_num_text(round(px * 10) / 10, buf, sizeof buf);
	ab_str_add(&p->out, buf);
}

void svg_attr(struct page *p, const char *name, double px)
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
	return f->left + (x - f->x0) / (f->x1 - f->x0) * (FIGURE_WIDTH - f->left - FIGURE_RIGHT);
}

static double px_y(const struct figure *f, double y)
{
	return plot_bottom(f) - (y - f->y0) / (f->y1 - f->y0) * (plot_bottom(f) - f->top);
}

double svg_within(double x, double low, double high)
{
	return x < low ? low : x > high ? high : x;
}

/* ---- the frame ---- */

void figure_begin(struct figure *f, struct page *p, const char *id, const char *title, const char *says,
    int height)
{
	page_end(p);
	*f = (struct figure){ .p = p, .height = height, .left = FIGURE_LEFT, .top = FIGURE_TOP, .x1 = 1, .y1 = 1 };
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

void figure_of_lanes(struct figure *f)
{
	f->left = LANES_LEFT;
	f->top = LANES_TOP;
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

void svg_rule(struct page *p, const char *kind, double x0, double y0, double x1, double y1)
{
	ab_str_addf(&p->out, "<line class=\"%s\"", kind);
	svg_attr(p, "x1", x0);
	svg_attr(p, "y1", y0);
	svg_attr(p, "x2", x1);
	svg_attr(p, "y2", y1);
	ab_str_add(&p->out, "/>");
}

void svg_text(struct page *p, const char *kind, double x, double y, const char *anchor, const char *text)
{
	ab_str_addf(&p->out, "<text class=\"%s\" text-anchor=\"%s\"", kind, anchor);
	svg_attr(p, "x", x);
	svg_attr(p, "y", y);
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
		svg_rule(f->p, "grid", f->left, px_y(f, y), FIGURE_WIDTH - FIGURE_RIGHT, px_y(f, y));
		svg_text(f->p, "tick", f->left - 5, px_y(f, y) + 5, "end",
		    say_fixed(f->p, fabs(y) < step * 1e-6 ? 0 : y, digits));
	}
	svg_text(f->p, "unit", 4, 15, "start", unit);
}

double svg_letters_wide(const char *text)
{
	return LETTER_WIDE * text_width(text, strlen(text));
}

/* In the middle under its place, unless half of it would leave the figure. */
static void put_tick(struct figure *f, double x, const char *text)
{
	double at = px_x(f, x), foot = plot_bottom(f);
	bool late = at + svg_letters_wide(text) / 2 > FIGURE_WIDTH;

	svg_rule(f->p, "axis", at, foot, at, foot + 4);
	svg_text(f->p, "tick", late ? FIGURE_WIDTH - 1 : at, foot + 17, late ? "end" : "middle", text);
}

void figure_grid_x(struct figure *f, int steps, int digits, const char *unit)
{
	double step = round_step(f->x1 - f->x0, steps), foot = plot_bottom(f);

	if (digits == FIGURE_WHOLE)
		step = fmax(1, step);
	digits = digits_for(step, digits == FIGURE_WHOLE ? 0 : digits);
	svg_rule(f->p, "axis", f->left, foot, FIGURE_WIDTH - FIGURE_RIGHT, foot);
	for (double x = ceil(f->x0 / step - 1e-9) * step; x <= f->x1 + step * 1e-6; x += step) {
		bool zero = fabs(x) < step * 1e-6; /* short, for it stands in the corner beside a number of the
						      other axis */
		put_tick(f, x, zero ? "0" : say_fixed(f->p, x, digits));
	}
	svg_text(f->p, "unit", FIGURE_WIDTH - FIGURE_RIGHT, foot + 36, "end", unit);
}

/* ---- what is drawn in it ---- */

static void put_spot(struct figure *f, struct spot s)
{
	put_px(f->p, px_x(f, svg_within(s.x, f->x0, f->x1)));
	ab_str_add(&f->p->out, ",");
	put_px(f->p, px_y(f, svg_within(s.y, f->y0, f->y1)));
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

/* A rectangle without its end; false where nothing of it is inside. */
static bool put_rect(struct figure *f, const char *kind, struct spot from, struct spot to)
{
	double left = px_x(f, svg_within(from.x, f->x0, f->x1)), right = px_x(f, svg_within(to.x, f->x0, f->x1));
	double top = px_y(f, svg_within(to.y, f->y0, f->y1)), foot = px_y(f, svg_within(from.y, f->y0, f->y1));

	if (!(right > left && foot > top))
		return false;
	ab_str_addf(&f->p->out, "<rect class=\"%s\"", kind);
	svg_attr(f->p, "x", left);
	svg_attr(f->p, "y", top);
	svg_attr(f->p, "width", right - left);
	svg_attr(f->p, "height", foot - top);
	return true;
}

void figure_column(struct figure *f, const char *kind, struct spot from, struct spot to, const char *says)
{
	if (!put_rect(f, kind, from, to))
		return;
	put_said(f->p, says);
	ab_str_add(&f->p->out, "</rect>\n");
}

void figure_box(struct figure *f, const char *kind, double x0, double x1, double y0, double y1)
{
	if (put_rect(f, kind, (struct spot){ x0, y0 }, (struct spot){ x1, y1 }))
		ab_str_add(&f->p->out, "/>\n");
}

void figure_dot(struct figure *f, const char *kind, double x, double y, bool ring, const char *says)
{
	if (!isfinite(x) || !isfinite(y))
		return;
	ab_str_addf(&f->p->out, "<circle class=\"%s%s\" r=\"%s\"", kind, ring ? " ring" : "", ring ? "4" : "3.5");
	svg_attr(f->p, "cx", px_x(f, svg_within(x, f->x0, f->x1)));
	svg_attr(f->p, "cy", px_y(f, svg_within(y, f->y0, f->y1)));
	put_said(f->p, says);
	ab_str_add(&f->p->out, "</circle>\n");
}

/* Near the right edge the label stands on the left of its line, or it would leave the figure. */
void figure_mark(struct figure *f, const char *kind, double x, const char *label)
{
	double at = px_x(f, x);
	bool late = at + 4 + svg_letters_wide(label) > FIGURE_WIDTH;

	if (!(x >= f->x0 && x <= f->x1))
		return;
	svg_rule(f->p, kind, at, f->top, at, plot_bottom(f));
	if (*label != '\0')
		svg_text(f->p, "note", late ? at - 4 : at + 4, f->top + 12, late ? "end" : "start", label);
}

void figure_label(struct figure *f, const char *kind, double x, double y, const char *anchor, const char *text)
{
	svg_text(f->p, kind, px_x(f, x), px_y(f, y), anchor, text);
}

size_t svg_line_of_name(const char *name, int room)
{
	size_t len = strlen(name), fit = page_fit(name, len, room);

	if (fit >= len)
		return len;
	while (fit > 0 && name[fit] != ' ')
		fit--;
	return fit > 0 ? fit : page_fit(name, len, room);
}

/* Cut at a word; the whole of it stands in the table. */
const char *figure_short(struct page *p, const char *name)
{
	size_t fit = svg_line_of_name(name, SVG_NAME_LONG);

	if (name[fit] == '\0')
		return name;
	fit = svg_line_of_name(name, SVG_NAME_LONG - 1);
	while (fit > 0 && (name[fit - 1] == ' ' || name[fit - 1] == ','))
		fit--;
	return page_text(p, "%.*s\u2026", (int)fit, name);
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

void figure_end(struct figure *f, const char *caption, const char *align, const char *const *cells, size_t rows)
{
	struct page *p = f->p;

	ab_str_add(&p->out, "</svg>\n<figcaption>");
	page_para(p, 0, PLAIN, caption);
	if (rows > 0)   /* folded away: a figure that all can read need not be read twice */
		page_folded(p, NULL, "The numbers behind it", align, cells, rows);
	ab_str_add(&p->out, "</figcaption></figure>\n");
}
