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

static const char *marks_of(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *b)
{
	const char *text = "";

	for (size_t i = 0; i < b->n_changes; i++) {
		int u = ab_change_find(k, b->changes[i]);
		text = page_text(
		    p, "%s%s%s", text, i > 0 ? "; " : "", u >= 0 ? k->changes[u].title : b->changes[i]);
	}
	return text;
}

/* A bar a batch; a clean one a ring on the ground, an untasted one nothing but its place. */
static void draw_batches(struct figure *f, const struct ab_knowledge *k, const struct ab_trend_batch *b, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		double x = (double)i + 1;
		if (b[i].n_changes > 0)
			figure_mark(f, "mark", x - 0.5, marks_of(f->p, k, &b[i])[0] != '\0' ? "new" : "",
			    (int)(i % 2));
		if (!b[i].tasted)
			continue;
		if (b[i].load > 0) {
			figure_box(f, "fill bad", x - 0.32, x + 0.32, 0, b[i].load);
			figure_line(
			    f, "whisker", (struct spot[]){ { x, b[i].load_low }, { x, b[i].load_high } }, 2);
		} else {
			figure_dot(f, "good", x, 0, true, page_text(f->p, "%s: clean", b[i].id));
		}
	}
}

bool figure_loads(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *b, size_t n)
{
	struct figure f;
	size_t from = n > MOST_BATCHES ? n - MOST_BATCHES : 0, rows = n - from, tasted = 0;

	for (size_t i = from; i < n; i++)
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
		const struct ab_trend_batch *t = &b[from + i];
		cells[4 * i + 4] = t->id;
		cells[4 * i + 5] = say_date(p, t->brewed_s);
		cells[4 * i + 6] = !t->tasted ? "not tasted" : t->load > 0 ? say_fixed(p, t->load, 1) : "clean";
		cells[4 * i + 7] = marks_of(p, k, t);
	}
	const char *says = page_text(p,
	    "Flaw load of %zu tasted batches, oldest left; rings are clean beers, whiskers what milder or "
	    "stricter tasters would have said, "
	    "upright lines where something new began.",
	    tasted);
	figure_begin(&f, p, "loads", "Flaw load, batch after batch", says, 230);
	figure_range(&f, 0.4, (double)rows + 0.6, 0, top_of(b + from, rows) * 1.08);
	figure_grid_y(&f, 5, 0, "flaw load");
	figure_grid_x(&f, rows < 12 ? (int)rows : 8, 0, "batch");
	draw_batches(&f, k, b + from, rows);
	figure_end(&f, says, "llrx", (const char *const *)cells, rows + 1);
	return true;
}
