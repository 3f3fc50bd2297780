/* figures_trend.c - the flaw load and the faults it is made of, batch after batch
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
		text = page_text(p, "%s%s%s", text, i > 0 ? "; " : "", ab_change_title(o->k, b->changes[i]));
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

/* A change of the brewer's own has no title, and its words may be many. */
static const char *legend_of(struct page *p, const struct ab_overview *o, size_t from)
{
	const char *text = "";

	for (size_t i = 0; i < o->trend->n_changes; i++) {
		const struct ab_trend_change *c = &o->trend->changes[i];
		int u = ab_change_find(o->k, c->id);
		if (c->at >= from)
			text = page_text(p, "%s%s%zu %s", text, *text != '\0' ? "; " : "", i + 1,
			    u >= 0 ? o->k->changes[u].title : figure_short(p, c->id));
	}
	return *text == '\0' ? "" : page_text(p, " Upright lines mark what began: %s.", text);
}

/* A bar a batch; a clean one a ring on the ground, an untasted one nothing but its place. */
static void draw_batch(struct figure *f, const struct ab_trend_batch *b, double x)
{
	const char *says = page_text(f->p, "%s, %s: %s", b->id, say_date(f->p, b->brewed_s),
	    !(b->load > 0) ? "no flaw" : page_text(f->p, "flaw load %s (%s to %s)", say_fixed(f->p, b->load, 1),
	    say_fixed(f->p, b->load_low, 1), say_fixed(f->p, b->load_high, 1)));

	if (b->load > 0) {   /* the whisker beside its bar: a bar of many is too narrow to bear one */
		figure_column(f, "fill bad", (struct spot){ x - 0.36, 0 }, (struct spot){ x + 0.2, b->load }, says);
		figure_line(f, "whisker", (struct spot[]){ { x + 0.34, b->load_low }, { x + 0.34, b->load_high } }, 2);
	} else {
		figure_dot(f, "good", x, 0, true, says);
	}
}

/* What began, before the first batch that was brewed with it. */
static void mark_changes(struct figure *f, const struct ab_overview *o, size_t from)
{
	for (size_t i = from; i < o->n_batches; i++) {
		const char *began = numbers_of(f->p, o->trend, i);
		if (*began != '\0')
			figure_mark(f, "mark", (double)(i - from) + 0.5, began);
	}
}

static size_t first_shown(const struct ab_overview *o)
{
	return o->n_batches > MOST_BATCHES ? o->n_batches - MOST_BATCHES : 0;
}

static void count_batches(struct figure *f, size_t rows)
{
	figure_grid_x(f, rows < 12 ? (int)rows : 8, FIGURE_WHOLE, "batch");
}

bool figure_loads(struct page *p, const struct ab_overview *o)
{
	struct figure f;
	size_t from = first_shown(o), rows = o->n_batches - from, tasted = 0;
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
		cells[4 * i + 6] = !b[i].tasted ? "not tasted" : b[i].load > 0 ? say_fixed(p, b[i].load, 1) : "none";
		cells[4 * i + 7] = marks_of(p, o, &b[i]);
	}
	const char *says = page_text(p,
	    "Flaw load of %zu tasted batches, oldest left; lower is better. Rings are beers without a flaw; "
	    "whiskers are what "
	    "milder or stricter tasters would have said.%s",
	    tasted, legend_of(p, o, from));
	figure_begin(&f, p, "loads", "Flaw load, batch after batch", says, 230);
	figure_range(&f, 0.4, (double)rows + 0.6, 0, top_of(b, rows) * 1.12);
	figure_grid_y(&f, 5, 0, "flaw load");
	count_batches(&f, rows);
	mark_changes(&f, o, from);
	for (size_t i = 0; i < rows; i++)
		if (b[i].tasted)
			draw_batch(&f, &b[i], (double)i + 1);
	figure_end(&f, says, "llrx", cells, rows + 1);
	return true;
}

/* ---- the faults ---- */

enum { MOST_FAULTS = 8, FAULT_HIGH = 46, MARKS_HIGH = 18 };

struct faults {
	const struct ab_overview *o;
	size_t from, rows, n;   /* batches from here on; faults, the heaviest first */
	double most;
};

static const char *fault_title(const struct faults *t, size_t i)
{
	return t->o->k->faults[t->o->trend->main_faults[i]].title;
}

/* NAN: not tasted. */
static double fault_part(const struct faults *t, size_t i, size_t row)
{
	const struct ab_trend_batch *b = &t->o->batches[t->from + row];

	return b->tasted ? b->fault_load[t->o->trend->main_faults[i]] : (double)NAN;
}

static const char *const *fault_cells(struct page *p, const struct faults *t)
{
	const char **cells = p->bad ? NULL : ab_arena_alloc(p->arena, (t->n + 1) * (t->rows + 1), sizeof *cells);
	size_t n = 0;

	if (cells == NULL)
		return NULL;
	cells[n++] = "batch";
	for (size_t i = 0; i < t->n; i++)
		cells[n++] = fault_title(t, i);
	for (size_t row = 0; row < t->rows; row++) {
		cells[n++] = t->o->batches[t->from + row].id;
		for (size_t i = 0; i < t->n; i++) {
			double part = fault_part(t, i, row);
			cells[n++] = isnan(part) ? "not tasted" : part > 0 ? say_fixed(p, part, 1) : "";
		}
	}
	return cells;
}

/* A lane for each, the name above its bars. */
static void draw_fault(struct figure *f, const struct faults *t, size_t i)
{
	double foot = (double)(t->n - 1 - i) + 0.06;

	figure_line(f, "grid", (struct spot[]){ { f->x0, foot }, { f->x1, foot } }, 2);
	figure_label(f, "name", f->x0, foot + 0.6, "start", figure_short(f->p, fault_title(t, i)));
	for (size_t row = 0; row < t->rows; row++) {
		double part = fault_part(t, i, row), x = (double)row + 1;
		if (part > 0)
			figure_column(f, "fill bad", (struct spot){ x - 0.36, foot },
			    (struct spot){ x + 0.36, foot + 0.5 * part / t->most },
			    page_text(f->p, "%s, %s: %s of the flaw load", t->o->batches[t->from + row].id,
				fault_title(t, i), say_fixed(f->p, part, 1)));
	}
}

bool figure_faults(struct page *p, const struct ab_overview *o)
{
	struct faults t = { .o = o, .from = first_shown(o) };
	struct figure f;

	t.rows = o->n_batches - t.from;
	t.n = o->trend->n_main_faults < MOST_FAULTS ? o->trend->n_main_faults : MOST_FAULTS;
	for (size_t i = 0; i < t.n; i++)
		for (size_t row = 0; row < t.rows; row++)
			t.most = fmax(t.most, fault_part(&t, i, row));
	const char *const *cells = t.rows < 2 || !(t.most > 0) ? NULL : fault_cells(p, &t);
	if (cells == NULL)
		return false;
	const char *says = page_text(p,
	    "What the flaw load is made of: a row for each fault%s, the heaviest on top; the higher its "
	    "bar, the more it weighed in that batch (most: %s).%s",
	    o->trend->n_main_faults > t.n ? " of those that weigh most" : "", say_fixed(p, t.most, 1),
	    o->trend->n_changes > 0 ? " Upright lines: the changes, numbered as above." : "");
	figure_begin(
	    &f, p, "faults", "Fault by fault", says, LANES_TOP + MARKS_HIGH + (int)t.n * FAULT_HIGH + FIGURE_FOOT);
	figure_of_lanes(&f);
	figure_range(&f, 0.4, (double)t.rows + 0.6, 0, (double)t.n + (double)MARKS_HIGH / FAULT_HIGH);
	count_batches(&f, t.rows);
	mark_changes(&f, o, t.from);
	for (size_t i = 0; i < t.n; i++)
		draw_fault(&f, &t, i);
	figure_end(&f, says, page_text(p, "l%.*s", (int)t.n, "rrrrrrrr"), cells, t.rows + 1); /* MOST_FAULTS of them
											       */
	return true;
}
