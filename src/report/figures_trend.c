/* figures_trend.c - the flaw load, batch after batch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>

#include "report/saying.h"

/* More bars than this would be hairs: then the newest. */
enum { MOST_BATCHES = 60 };

static double top_of(const struct ab_trend_batch *b, size_t n)
{
	double top = 1;

	for (size_t i = 0; i < n; i++)
		if (b[i].tasted)
			top = fmax(top, fmax(b[i].load, b[i].load_high));
	return top;
}

/* Titles of what was new with a batch, numbered as in the figure of changes. */
static const char *marks_of(struct page *p, const struct ab_overview *o, const struct ab_trend_batch *b)
{
	const char *text = "";

	for (size_t i = 0; i < b->n_changes; i++) {
		int u = ab_change_find(o->k, b->changes[i]);
		text = page_text(
		    p, "%s%s%s", text, i > 0 ? "; " : "", u >= 0 ? o->k->changes[u].title : b->changes[i]);
	}
	return text;
}

/* "1, 3": the numbers of the changes that began with the batch at this place. */
static const char *numbers_of(struct page *p, const struct ab_trend *trend, size_t place)
{
	const char *text = "";

	for (size_t i = 0; i < trend->n_changes; i++)
		if (trend->changes[i].at == place)
			text = page_text(p, "%s%s%zu", text, *text != '\0' ? ", " : "", i + 1);
	return text;
}

static const char *legend_of(struct page *p, const struct ab_overview *o, size_t from)
{
	const char *text = "";

	for (size_t i = 0; i < o->trend->n_changes; i++) {
		const struct ab_trend_change *c = &o->trend->changes[i];
		int u = ab_change_find(o->k, c->id);
		if (c->at >= from)
			text = page_text(p, "%s%s%zu %s", text, *text != '\0' ? "; " : "", i + 1,
			    u >= 0 ? o->k->changes[u].title : c->id);
	}
	return *text == '\0' ? "" : page_text(p, " Upright lines mark what began: %s.", text);
}

/* A bar a batch; a clean one a ring on the ground, an untasted one nothing but its place. */
static void draw_batch(struct figure *f, const struct ab_trend_batch *b, double x)
{
	const char *says = page_text(f->p, "%s, %s: %s", b->id, say_date(f->p, b->brewed_s),
	    !(b->load > 0) ? "clean" : page_text(f->p, "flaw load %s (%s to %s)", say_fixed(f->p, b->load, 1),
	    say_fixed(f->p, b->load_low, 1), say_fixed(f->p, b->load_high, 1)));

	if (b->load > 0) {
		figure_column(f, "fill bad", x, 0.32, b->load, says);
		figure_line(f, "halo", (struct spot[]){ { x, b->load_low }, { x, b->load_high } }, 2);
		figure_line(f, "whisker", (struct spot[]){ { x, b->load_low }, { x, b->load_high } }, 2);
	} else {
		figure_dot(f, "good", x, 0, true, says);
	}
}

static void draw_batches(struct figure *f, const struct ab_overview *o, size_t from)
{
	for (size_t i = from; i < o->n_batches; i++) {
		double x = (double)(i - from) + 1;
		const char *began = numbers_of(f->p, o->trend, i);
		if (*began != '\0')
			figure_mark(f, "mark", x - 0.5, began, 0);
		if (o->batches[i].tasted)
			draw_batch(f, &o->batches[i], x);
	}
}

bool figure_loads(struct page *p, const struct ab_overview *o)
{
	struct figure f;
	size_t n = o->n_batches, from = n > MOST_BATCHES ? n - MOST_BATCHES : 0, rows = n - from, tasted = 0;
	const struct ab_trend_batch *b = o->batches + from;

	for (size_t i = 0; i < rows; i++)
		tasted += b[i].tasted;
	const char **cells =
	    tasted < 2 || p->bad ? NULL : ab_arena_alloc(p->arena, 4 * (rows + 1), sizeof *cells);
	if (cells == NULL)
		return false;
	cells[0] = "batch";
	cells[1] = "brewed";
	cells[2] = "flaw load";
	cells[3] = "new with it";
	for (size_t i = 0; i < rows; i++) {
		cells[4 * i + 4] = b[i].id;
		cells[4 * i + 5] = say_date(p, b[i].brewed_s);
		cells[4 * i + 6] = !b[i].tasted ? "not tasted" : b[i].load > 0 ? say_fixed(p, b[i].load, 1) : "clean";
		cells[4 * i + 7] = marks_of(p, o, &b[i]);
	}
	const char *says = page_text(p,
	    "Flaw load of %zu tasted batches, oldest left; lower is better. Rings are clean beers; whiskers are what "
	    "milder or stricter tasters would have said.%s", tasted, legend_of(p, o, from));
	figure_begin(&f, p, "loads", "Flaw load, batch after batch", says, 230);
	figure_range(&f, 0.4, (double)rows + 0.6, 0, top_of(b, rows) * 1.12);
	figure_grid_y(&f, 5, 0, "flaw load");
	figure_grid_x(&f, rows < 12 ? (int)rows : 8, FIGURE_WHOLE, "batch");
	draw_batches(&f, o, from);
	figure_end(&f, says, "llrx", cells, rows + 1);
	return true;
}
