/* figures_habits.c - measured habits, batch after batch: where they lie, where they moved, what stands out
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <ctype.h>
#include <math.h>

#include "report/saying.h"

enum { HIGH = 186 };

struct habit {
	struct page *p;
	const struct ab_fact_def *def;
	const struct ab_chart *c;
	const struct ab_trend_batch *batches;
	int digits;            /* of the axis */
};

static double number(const struct habit *h, double x)
{
	return say_number(h->p, h->def, x);
}

static const char *value(const struct habit *h, double x)
{
	const struct ab_fact fact = { .origin = AB_ORIGIN_MEASURED, .value = x };

	return say_value(h->p, h->def, &fact);
}

/* Where the level of today began. */
static size_t level_from(const struct ab_chart *c)
{
	return c->n_shifts > 0 ? c->shifts[c->n_shifts - 1].from : 0;
}

/* Is this the first value of a new level? */
static bool moved_at(const struct ab_chart *c, size_t i)
{
	for (size_t s = 0; s < c->n_shifts; s++)
		if (c->shifts[s].from == i)
			return true;
	return false;
}

static const char *says_of(const struct habit *h)
{
	const struct ab_chart *c = h->c;
	const char *unit = say_unit(h->p, h->def);
	const char *level = c->n_shifts == 0
	    ? page_text(h->p, "Steady at about %s %s.", value(h, c->mean), unit)
	    : page_text(h->p, "It moved with batch %s, from %s to %s %s.", h->batches[c->batch[level_from(c)]].id,
		  value(h, c->shifts[c->n_shifts - 1].before), value(h, c->shifts[c->n_shifts - 1].after), unit);
	const char *next = isnan(c->low) ? "" : page_text(h->p, " The next is likely between %s and %s (shaded).",
	    value(h, c->low), value(h, c->high));
	bool odd = false;

	for (size_t i = 0; i < c->n; i++)
		odd = odd || c->odd[i];
	return page_text(h->p, "%s%s%s", level, next, odd ? " A thick ring stands out from the others." : "");
}

static const char *const *cells_of(const struct habit *h)
{
	const struct ab_chart *c = h->c;
	const char **cells = ab_arena_alloc(h->p->arena, 3 * (c->n + 1), sizeof *cells);

	if (cells == NULL)
		return NULL;
	cells[0] = "batch";
	cells[1] = page_text(h->p, "value, %s", say_unit(h->p, h->def));
	cells[2] = "";
	for (size_t i = 0; i < c->n; i++) {
		cells[3 * i + 3] = h->batches[c->batch[i]].id;
		cells[3 * i + 4] = value(h, c->x[i]);
		cells[3 * i + 5] = c->odd[i] ? "stands out" : moved_at(c, i) ? "moved" : "";
	}
	return cells;
}

static void take_range(struct habit *h, struct figure *f)
{
	const struct ab_chart *c = h->c;
	double low = number(h, isnan(c->low) ? c->mean : c->low), high = number(h, isnan(c->high) ? c->mean : c->high);

	for (size_t i = 0; i < c->n; i++) {
		low = fmin(low, number(h, c->x[i]));
		high = fmax(high, number(h, c->x[i]));
	}
	double room = high > low ? 0.08 * (high - low) : 0.5;
	figure_range(f, (double)c->batch[0] + 0.4, (double)c->batch[c->n - 1] + 1.6, low - room, high + room);
	h->digits = f->y1 - f->y0 < 0.4 ? 2 : f->y1 - f->y0 < 4 ? 1 : 0;
}

static void draw(const struct habit *h, struct figure *f)
{
	const struct ab_chart *c = h->c;
	double now = (double)c->batch[level_from(c)] + 0.5;

	for (size_t i = 0; i < c->n; i++) {
		double x = (double)c->batch[i] + 1;
		const char *says = page_text(h->p, "%s: %s %s", h->batches[c->batch[i]].id, value(h, c->x[i]),
		    say_unit(h->p, h->def));
		if (moved_at(c, i))   /* the last of several is named: the words below tell of it */
			figure_mark(f, "mark", x - 0.5, i == level_from(c) ? "moved" : "");
		figure_dot(f, c->odd[i] ? "odd" : "beer", x, number(h, c->x[i]), c->odd[i], says);
	}
	figure_line(f, "line now", (struct spot[]){ { now, number(h, c->mean) }, { f->x1, number(h, c->mean) } }, 2);
}

static void figure_habit(const struct habit *of, int n)
{
	struct habit h = *of;
	struct figure f;
	const char *says = says_of(&h);
	const char *const *cells = cells_of(&h);
	const struct ab_chart *c = h.c;

	figure_begin(&f, h.p, page_text(h.p, "habit-%d", n),
	    page_text(h.p, "%c%s", toupper((unsigned char)h.def->title[0]), h.def->title + 1), says, HIGH);
	take_range(&h, &f);
	if (!isnan(c->low))
		figure_box(&f, "range", (double)c->batch[level_from(c)] + 0.5, f.x1, number(&h, c->low),
		    number(&h, c->high));
	figure_grid_y(&f, 4, h.digits, say_unit(h.p, h.def));
	figure_grid_x(&f, 6, FIGURE_WHOLE, "batch");
	draw(&h, &f);
	figure_end(&f, says, "xrl", cells, cells != NULL ? c->n + 1 : 0);
}

bool figure_habits(struct page *p, const struct ab_overview *o)
{
	for (size_t i = 0; !p->bad && i < o->trend->n_charts; i++) {
		const struct ab_chart *c = &o->trend->charts[i];
		const struct habit h = { p, &o->k->facts->defs[c->slot], c, o->batches, 0 };
		figure_habit(&h, (int)i + 1);
	}
	return o->trend->n_charts > 0;
}
