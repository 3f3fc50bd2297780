/* svg_bars.c - bars, one under the other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/svg.h"

#include <math.h>
#include <string.h>

enum { BAR_STEP = 42, BAR_UNDER = 9, BAR_HIGH = 12, LINE_HIGH = 20, NAME_TOP = 15 };

/* The bars' own scale: the least value stands where the labels begin, and the words have their room at the
 * right. */
enum { BARS_LEFT = 4, WORDS_LEAST = 60, WORDS_MOST = 310 };
struct bar_scale { double least, per_px; };
static const char HOLLOW[] = "fill good";

/* Of the words at the ends of the bars, in the larger letters of a phone. */
static double words_room(const struct bar *bars, size_t n)
{
	double room = WORDS_LEAST;

	for (size_t i = 0; i < n; i++)
		room = fmax(room, svg_letters_wide(bars[i].says) + 12);
	return fmin(room, WORDS_MOST);
}

static double bar_px(const struct bar_scale *s, double value)
{
	return BARS_LEFT + (value - s->least) / s->per_px;
}

static void put_stretch(struct page *p, const char *kind, double from, double to, double y)
{
	if (to > from)
		svg_rule(p, kind, from, y, to, y);
}

/* In the colour of the paper on a full bar, in ink where there is paper. */
static void put_whisker(struct page *p, const struct bar_scale *scale, const struct bar *bar, double y)
{
	double low = bar_px(scale, bar->low), high = bar_px(scale, bar->high);
	double zero = bar_px(scale, 0), at = bar_px(scale, bar->value);
	bool full = strcmp(bar->kind, HOLLOW) != 0;
	double from = full ? svg_within(fmin(zero, at), low, high) : low,
	       to = full ? svg_within(fmax(zero, at), low, high) : low;

	put_stretch(p, "whisker", low, from, y);
	put_stretch(p, "inlaid", from, to, y);
	put_stretch(p, "whisker", to, high, y);
	svg_rule(p, to > from && from <= low ? "inlaid" : "whisker", low, y - 4, low, y + 4);
	svg_rule(p, to > from && to >= high ? "inlaid" : "whisker", high, y - 4, high, y + 4);
}

/* Returns how high it stands: a long name takes two lines. */
static int put_bar(struct page *p, const struct bar_scale *scale, const struct bar *bar, double top)
{
	size_t first = svg_line_of_name(bar->label, SVG_NAME_LONG);
	int more = bar->label[first] != '\0' ? LINE_HIGH : 0;
	double under = top + NAME_TOP + more + BAR_UNDER, middle = under + BAR_HIGH / 2.0;
	double zero = bar_px(scale, 0), at = bar_px(scale, bar->value), far = fmax(at, zero);

	svg_text(p, "name", BARS_LEFT, top + NAME_TOP, "start", page_text(p, "%.*s", (int)first, bar->label));
	if (more > 0)
		svg_text(p, "name", BARS_LEFT, top + NAME_TOP + more, "start",
		    figure_short(p, bar->label + first + (bar->label[first] == ' ')));
	ab_str_addf(&p->out, "<rect class=\"%s\"", bar->kind);
	svg_attr(p, "x", fmin(zero, at));
	svg_attr(p, "y", under);
	svg_attr(p, "width", fmax(1, fabs(at - zero)));
	svg_attr(p, "height", BAR_HIGH);
	ab_str_add(&p->out, "/>");
	if (bar->high > bar->low) {
		put_whisker(p, scale, bar, middle);
		far = fmax(far, bar_px(scale, bar->high));
	}
	svg_text(p, "value", far + 6, middle + 5, "start", bar->says);
	return BAR_STEP + more;
}

static int bars_high(const struct bar *bars, size_t n)
{
	int high = 0;

	for (size_t i = 0; i < n; i++)
		high += BAR_STEP +
		    (bars[i].label[svg_line_of_name(bars[i].label, SVG_NAME_LONG)] != '\0' ? LINE_HIGH : 0);
	return high;
}

void figure_bars(struct page *p, const char *id, const char *title, const char *says, const struct bar *bars,
    size_t n, const char *caption, const char *align, const char *const *cells, size_t rows)
{
	struct figure f;
	double most = 0, least = 0;
	int top = 0;

	for (size_t i = 0; i < n; i++) {
		bool ranged = bars[i].high > bars[i].low;
		most = fmax(most, fmax(bars[i].value, ranged ? bars[i].high : 0));
		least = fmin(least, fmin(bars[i].value, ranged ? bars[i].low : 0));
	}
	struct bar_scale scale = { least,
		(most > least ? most - least : 1) / (FIGURE_WIDTH - BARS_LEFT - words_room(bars, n)) };
	figure_begin(&f, p, id, title, says, bars_high(bars, n) + 2);
	for (size_t i = 0; i < n; i++)
		top += put_bar(p, &scale, &bars[i], top);
	figure_end(&f, caption, align, cells, rows);
}
