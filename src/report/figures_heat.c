/* figures_heat.c - the temperature of one batch while it fermented
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>

#include <afterboil/heat.h>
#include <afterboil/sensor.h>
#include "report/saying.h"

/* Points of a line: more than pixels would be bytes nobody sees. */
enum { MOST_SPOTS = 240, HIGH = 230, EARLY_H = 72, MOST_ROWS = 40 };

struct course { struct spot *at; size_t n; };

static struct course course_room(const struct batch_figures *b, size_t n)
{
	return (struct course){ b->p->bad ? NULL : ab_arena_alloc(b->p->arena, n, sizeof(struct spot)), 0 };
}

static void add_spot(struct course *c, double x, double y)
{
	if (c->at != NULL && isfinite(x) && isfinite(y))
		c->at[c->n++] = (struct spot){ x, y };
}

/* Every so many samples of a log one: its mean would hide the swings that matter. */
static void add_log(const struct batch_figures *b, const struct ab_log *log, struct course *beer,
    struct course *room)
{
	size_t n = log->sensor != NULL ? log->sensor->n : 0, step = 1 + n / MOST_SPOTS;

	for (size_t i = 0; i < n; i += step) {
		const struct ab_sample *s = &log->sensor->samples[i];
		struct ab_when when = { .known = true, .s = s->s };
		add_spot(beer, figure_hours(b->c->batch, &when) / 24, figure_temp(b->p, s->wort_c));
		add_spot(room, figure_hours(b->c->batch, &when) / 24, figure_temp(b->p, s->room_c));
	}
}

static void in_order(struct course *c)
{
	for (size_t i = 1; i < c->n; i++) {
		struct spot x = c->at[i];
		size_t j = i;
		for (; j > 0 && c->at[j - 1].x > x.x; j--)
			c->at[j] = c->at[j - 1];
		c->at[j] = x;
	}
}

static void measured(const struct batch_figures *b, struct course *beer, struct course *room)
{
	const struct ab_batch *batch = b->c->batch;
	size_t n = batch->readings.n + 1 + batch->logs.n * (MOST_SPOTS + 2);

	*beer = course_room(b, n);
	*room = course_room(b, n);
	if (batch->pitch != NULL && batch->pitch->temp_c.known)
		add_spot(beer, 0, figure_temp(b->p, batch->pitch->temp_c.v));
	for (AB_EACH(const struct ab_reading, r, batch->readings)) {
		double day = figure_hours(batch, &r->at) / 24;
		if (r->wort_c.known)
			add_spot(beer, day, figure_temp(b->p, r->wort_c.v));
		if (r->room_c.known)
			add_spot(room, day, figure_temp(b->p, r->room_c.v));
	}
	for (AB_EACH(const struct ab_log, log, batch->logs))
		add_log(b, log, beer, room);
	in_order(beer);
	in_order(room);
}

static const struct ab_yeast_norm *yeast_of(const struct batch_figures *b)
{
	for (AB_EACH(const struct ab_yeast, yeast, b->c->batch->yeasts)) {
		int i = yeast->klass != NULL ? ab_yeast_find(b->k, yeast->klass) : -1;
		if (i >= 0)
			return &b->k->norms.yeasts[i];
	}
	return NULL;
}

/* What a control held the beer at where nothing was measured: NAN when no target is told. */
static double target_of(const struct batch_figures *b)
{
	for (AB_EACH(const struct ab_vessel, v, b->c->batch->vessels))
		if (v->target_c.known)
			return figure_temp(b->p, v->target_c.v);
	return NAN;
}

static double packaged_day(const struct batch_figures *b)
{
	const struct ab_package *package = b->c->batch->package;

	return package != NULL ? figure_hours(b->c->batch, &package->at) / 24 : NAN;
}

struct thermal {
	struct course beer, room;
	struct ab_heat_of heat;
	const struct ab_yeast_norm *yeast;
	double target, end, low, high;
};

static void widen(struct thermal *t, double y)
{
	if (!isfinite(y))
		return;
	t->low = fmin(t->low, y);
	t->high = fmax(t->high, y);
}

static void take_bounds(const struct batch_figures *b, struct thermal *t)
{
	double packaged = packaged_day(b);

	t->low = INFINITY;
	t->high = -INFINITY;
	t->end = isfinite(packaged) && packaged > 1 ? packaged : 14;
	for (size_t i = 0; i < t->beer.n; i++) {
		widen(t, t->beer.at[i].y);
		t->end = fmax(t->end, fmin(t->beer.at[i].x, 60));
	}
	for (size_t i = 0; i < t->room.n; i++)
		widen(t, t->room.at[i].y);
	for (size_t i = 0; i < t->heat.n; i++) {
		widen(t, figure_temp(b->p, t->heat.low[i]));
		widen(t, figure_temp(b->p, t->heat.high[i]));
	}
	widen(t, t->target);
	if (t->yeast != NULL) {
		widen(t, figure_temp(b->p, t->yeast->low_c));
		widen(t, figure_temp(b->p, t->yeast->high_c));
	}
	t->low -= 1;
	t->high += 1;
}

/* Hour by hour is finer than the page: every third. */
static void draw_heat(const struct batch_figures *b, struct figure *f, const struct thermal *t)
{
	size_t step = 1 + t->heat.n / MOST_SPOTS, n = 0, most = t->heat.n / step + 1;
	struct course low = course_room(b, most), high = course_room(b, most), mid = course_room(b, most);

	if (low.at == NULL || high.at == NULL || mid.at == NULL)
		return;
	for (size_t i = 0; i < t->heat.n && (double)i * t->heat.step_h / 24 <= t->end; i += step, n++) {
		double day = (double)i * t->heat.step_h / 24;
		low.at[n] = (struct spot){ day, figure_temp(b->p, t->heat.low[i]) };
		high.at[n] = (struct spot){ day, figure_temp(b->p, t->heat.high[i]) };
		mid.at[n] = (struct spot){ day, figure_temp(b->p, t->heat.mid[i]) };
	}
	figure_band(f, "guess", low.at, high.at, n);
	figure_line(f, "line guessed", mid.at, n);
}

static void draw_course(const struct batch_figures *b, struct figure *f, const struct course *c,
    const char *kind, bool ring, const char *what)
{
	figure_line(f, page_text(b->p, "line %s", kind), c->at, c->n);
	for (size_t i = 0; c->n <= 40 && i < c->n; i++)
		figure_dot(f, kind, c->at[i].x, c->at[i].y, ring,
		    page_text(b->p, "%s: %s %s on day %s", what, say_fixed(b->p, c->at[i].y, 1),
			figure_temp_unit(b->p), say_fixed(b->p, c->at[i].x, 1)));
}

/* Beside the beer stands what the yeast wants. */
static const char *thermal_says(const struct batch_figures *b, const struct thermal *t)
{
	const char *range = t->yeast == NULL
	    ? ""
	    : page_text(b->p, " The shaded range, %s to %s %s, is what %s yeast likes.",
		  say_fixed(b->p, figure_temp(b->p, t->yeast->low_c), 0),
		  say_fixed(b->p, figure_temp(b->p, t->yeast->high_c), 0), figure_temp_unit(b->p),
		  t->yeast->title != NULL ? t->yeast->title : t->yeast->id);
	const char *what = t->beer.n > 1 ? "Measured in the beer (filled dots)."
	    : t->heat.n > 0       ? "Nobody measured the beer: it is reckoned from the room and the heat of "
				    "fermentation (dashed, with its band; rule of thumb)."
	    : isfinite(t->target) ? "Nobody measured the beer: drawn is what the control was set to (dashed)."
				  : "One temperature only.";

	return page_text(b->p, "%s%s%s The first three days, marked, matter most.", what,
	    t->room.n > 0 ? " Rings: the room." : "", range);
}

/* Of a long course every so many: whoever wants each has the log. Returns the cells filled. */
static size_t course_cells(const struct batch_figures *b, const struct course *c, const char *of, const char **cells)
{
	size_t step = 1 + c->n / MOST_ROWS, n = 0;

	for (size_t i = 0; i < c->n; i += step, n += 3) {
		cells[n] = say_fixed(b->p, c->at[i].x, 1);
		cells[n + 1] = say_fixed(b->p, c->at[i].y, 1);
		cells[n + 2] = of;
	}
	return n;
}

static const char *const *thermal_cells(const struct batch_figures *b, const struct thermal *t, size_t *rows)
{
	size_t n = 0, every = t->heat.step_h > 0 ? (size_t)ceil(24 / t->heat.step_h) : 1;
	size_t most = 1 + t->beer.n + t->room.n + t->heat.n / every + 1;
	const char **cells = b->p->bad ? NULL : ab_arena_alloc(b->p->arena, 3 * most, sizeof *cells);

	*rows = 0;
	if (cells == NULL)
		return NULL;
	cells[n++] = "day";
	cells[n++] = figure_temp_unit(b->p);
	cells[n++] = "of";
	n += course_cells(b, &t->beer, "the beer, measured", cells + n);
	for (size_t i = 0; t->beer.n < 2 && i < t->heat.n && (double)i * t->heat.step_h / 24 <= t->end;
	     i += every, n += 3) {
		cells[n] = say_fixed(b->p, (double)i * t->heat.step_h / 24, 1);
		cells[n + 1] = say_fixed(b->p, figure_temp(b->p, t->heat.mid[i]), 1);
		cells[n + 2] = page_text(b->p, "the beer, reckoned (%s to %s)",
		    say_fixed(b->p, figure_temp(b->p, t->heat.low[i]), 1),
		    say_fixed(b->p, figure_temp(b->p, t->heat.high[i]), 1));
	}
	n += course_cells(b, &t->room, "the room, measured", cells + n);
	*rows = n / 3;
	return cells;
}

bool figure_temperature(const struct batch_figures *b)
{
	struct thermal t = { .yeast = yeast_of(b), .target = target_of(b) };
	struct figure f;
	struct ab_diag diag;
	size_t rows;

	ab_diag_init(&diag);
	measured(b, &t.beer, &t.room);
	if (b->p->bad || ab_heat_of_batch(b->c->batch, b->profile, &b->k->norms, b->p->arena, &t.heat, &diag) != AB_OK)
		b->p->bad = true;
	if (b->p->bad || (t.beer.n + t.room.n + t.heat.n == 0 && !isfinite(t.target)))
		return false;
	take_bounds(b, &t);
	const char *says = thermal_says(b, &t);
	figure_begin(&f, b->p, figure_id(b, "temperature"), "Temperature while it fermented", says, HIGH);
	figure_range(&f, 0, t.end, t.low, t.high);
	if (t.yeast != NULL)
		figure_box(&f, "range", 0, t.end, figure_temp(b->p, t.yeast->low_c),
		    figure_temp(b->p, t.yeast->high_c));
	figure_grid_y(&f, 5, 0, figure_temp_unit(b->p));
	figure_grid_x(&f, 6, 0, "days after pitching");
	figure_mark(&f, "mark soft", EARLY_H / 24.0, "first three days");
	if (t.heat.n > 0)
		draw_heat(b, &f, &t);
	else if (t.beer.n < 2 && isfinite(t.target))
		figure_line(&f, "line guessed", (struct spot[]){ { 0, t.target }, { t.end, t.target } }, 2);
	draw_course(b, &f, &t.room, "room", true, "room");
	draw_course(b, &f, &t.beer, "beer", false, "beer");
	const char *const *cells = thermal_cells(b, &t, &rows);
	figure_end(&f, says, "rrl", cells, rows);
	return true;
}
