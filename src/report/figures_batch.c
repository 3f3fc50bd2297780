/* figures_batch.c - the gravity of one batch over time, and when it was touched
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>
#include <string.h>

#include <afterboil/curve.h>
#include <afterboil/quantity.h>
#include "report/saying.h"

enum { HIGH = 230, MOST_READINGS = 120 };

/* The same hour the facts count from. */
double figure_hours(const struct ab_batch *batch, const struct ab_when *when)
{
	double from = batch->pitch != NULL && batch->pitch->at.known
	    ? batch->pitch->at.s
	    : floor(batch->brewed.s / 86400) * 86400 + 18 * 3600;

	return when->known ? (when->s - from) / 3600 : NAN;
}

const char *figure_id(const struct batch_figures *b, const char *what)
{
	return page_text(b->p, "b%d-%s", b->n, what);
}

const struct ab_fact *figure_fact(const struct batch_figures *b, const char *name)
{
	int slot = ab_fact_slot(b->k->facts, name);

	return slot >= 0 && AB_FACT_KNOWN(&b->c->facts[slot]) ? &b->c->facts[slot] : NULL;
}

double figure_temp(const struct page *p, double c)
{
	return p->look->us_units ? c * 1.8 + 32 : c;
}

const char *figure_temp_unit(const struct page *p)
{
	return p->look->us_units ? "F" : "C";
}

/* ---- gravity ---- */

static void draw_curve(struct figure *f, const struct ab_curve *curve, double end)
{
	struct spot mid[81], low[81], high[81];

	for (size_t i = 0; i < 81; i++) {
		double day = end * (double)i / 80, p = ab_curve_at(curve, day * 24),
		       u = 2 * ab_curve_u(curve, day * 24);
		mid[i] = (struct spot){ day, ab_sg_from_plato(p) };
		low[i] = (struct spot){ day, ab_sg_from_plato(p - u) };
		high[i] = (struct spot){ day, ab_sg_from_plato(p + u) };
	}
	figure_band(f, "guess", low, high, 81);
	figure_line(f, "line fitted", mid, 81);
}

/* When the curve is within half a point of where it leads: day NAN when it is not told. */
struct finish { double day, u; };

static struct finish finish_of(const struct ab_curve_of *of)
{
	double h, u;

	if (of->refusal != AB_CURVE_FITTED || !ab_curve_finish(&of->curve, 0.125, &h, &u))
		return (struct finish){ NAN, NAN };
	return (struct finish){ h / 24, u / 24 };
}

static const char *gravity_says(const struct batch_figures *b, const struct ab_curve_of *of, struct finish finish)
{
	const struct ab_fact *state = figure_fact(b, "gravity.state");
	static const char *const states[] = { "still falling", "finished", "stalled" };
	const char *was = state != NULL && state->value >= 0 && state->value < 3
	    ? page_text(b->p, " At the last reading it was %s.", states[(int)state->value])
	    : "";

	if (of->refusal != AB_CURVE_FITTED)
		return page_text(b->p, "The readings; no curve goes through them (%s).%s",
		    ab_curve_refusal_text[of->refusal], was);
	double final = ab_sg_from_plato(of->curve.param[AB_CURVE_PE]);
	if (!isfinite(finish.day))
		return page_text(b->p, "The readings and the curve through them; it leads to %s.%s",
		    say_fixed(b->p, final, 3), was);
	return page_text(b->p,
	    "The readings and the curve through them, with the band that holds it 19 times in 20. It leads "
	    "to %s, and is within half a "
	    "point of that on day %s (give or take %s).%s",
	    say_fixed(b->p, final, 3), say_fixed(b->p, finish.day, 1), say_fixed(b->p, 2 * finish.u, 1), was);
}

/* A float tells hundreds: every so many, and the newest always. */
static size_t first_drawn(size_t n, size_t *step)
{
	*step = 1 + n / MOST_READINGS;
	return (n - 1) % *step;
}

/* The readings, and as cells behind the heads; returns the rows of the table. */
static size_t draw_readings(
    const struct batch_figures *b, struct figure *f, const struct ab_curve_of *of, const char **cells)
{
	size_t step, rows = 1;

	for (size_t i = first_drawn(of->n, &step); i < of->n; i += step, rows++) {
		double day = of->at[i].h / 24, sg = ab_sg_from_plato(of->at[i].p);
		cells[2 * rows] = say_fixed(b->p, day, 1);
		cells[2 * rows + 1] = say_fixed(b->p, sg, 4);
		figure_dot(f, "beer", day, sg, false,
		    page_text(b->p, "%s on day %s", cells[2 * rows + 1], cells[2 * rows]));
	}
	return rows;
}

/* A still falling one gets room for where it goes, as far as that can be believed. */
static void gravity_range(struct figure *f, const struct ab_curve_of *of, double finish)
{
	double end = 1, top = 1, least = 1;

	for (size_t i = 0; i < of->n; i++) {
		double sg = ab_sg_from_plato(of->at[i].p);
		end = fmax(end, of->at[i].h / 24 * 1.08);
		top = fmax(top, sg);
		least = fmin(least, sg - 0.002);
	}
	figure_range(f, 0, finish > end ? fmin(finish * 1.1, 3 * end) : end, least, top + 0.004);
}

bool figure_gravity(const struct batch_figures *b)
{
	struct ab_curve_of of = { 0 };
	struct figure f;
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (b->p->bad ||
	    ab_curve_of_batch(b->c->batch, b->profile, &b->k->norms, b->p->arena, &of, &diag) != AB_OK)
		b->p->bad = true;
	const char **cells = b->p->bad || of.n < 2 ? NULL : ab_arena_alloc(b->p->arena, 2 * (of.n + 1), sizeof *cells);
	if (cells == NULL)
		return false;
	struct finish finish = finish_of(&of);
	const char *says = gravity_says(b, &of, finish);
	figure_begin(&f, b->p, figure_id(b, "gravity"), "Gravity", says, HIGH);
	gravity_range(&f, &of, finish.day);
	figure_grid_y(&f, 5, 3, "SG");
	figure_grid_x(&f, 6, 0, "days after pitching");
	if (of.refusal == AB_CURVE_FITTED)
		draw_curve(&f, &of.curve, f.x1);
	if (finish.day <= f.x1)
		figure_mark(&f, "mark soft", finish.day, "finished, by the curve");
	cells[0] = "day";
	cells[1] = "gravity, SG";
	size_t rows = draw_readings(b, &f, &of, cells);
	figure_end(&f, says, "rr", cells, rows);
	return true;
}

/* ---- touches ---- */

/* In the order of a brew; each has a lane of its own. */
enum lane { PITCHED, SAMPLE, REST, HOPS, OPENED, CHILLED, RACKED, PACKAGED, LANES };
static const char *const lane_names[LANES] = { "pitched", "sample drawn", "warm rest", "dry hops", "opened", "chilled",
	"racked", "packaged" };
struct touch { double day; enum lane lane; };
enum { LANE_HIGH = 34 };
struct touches { struct touch *at; size_t n, in[LANES]; };

static void touch(struct touches *t, const struct ab_batch *batch, const struct ab_when *when, enum lane lane)
{
	double day = figure_hours(batch, when) / 24;
	size_t i = t->n;

	if (!isfinite(day))
		return;
	for (; i > 0 && t->at[i - 1].day > day; i--)
		t->at[i] = t->at[i - 1];
	t->at[i] = (struct touch){ day, lane };
	t->n++;
	t->in[lane]++;
}

static size_t most_touches(const struct ab_batch *b)
{
	return 2 + b->readings.n + b->rests.n + b->dryhops.n + b->openings.n + b->crashes.n + b->transfers.n;
}

/* What floats in the beer takes no sample. */
static bool sampled(const struct ab_reading *r)
{
	return r->gravity_sg.known &&
	    (r->instrument == 0 || strcmp(ab_words_instrument[r->instrument - 1], "float") != 0);
}

static void gather_touches(const struct ab_batch *batch, struct touches *t)
{
	if (batch->pitch != NULL)
		touch(t, batch, &batch->pitch->at, PITCHED);
	for (AB_EACH(const struct ab_reading, r, batch->readings))
		if (sampled(r))
			touch(t, batch, &r->at, SAMPLE);
	for (AB_EACH(const struct ab_rest, r, batch->rests))
		touch(t, batch, &r->at, REST);
	for (AB_EACH(const struct ab_dryhop, r, batch->dryhops))
		touch(t, batch, &r->at, HOPS);
	for (AB_EACH(const struct ab_opened, r, batch->openings))
		touch(t, batch, &r->at, OPENED);
	for (AB_EACH(const struct ab_crash, r, batch->crashes))
		touch(t, batch, &r->at, CHILLED);
	for (AB_EACH(const struct ab_transfer, r, batch->transfers))
		touch(t, batch, &r->at, RACKED);
	if (batch->package != NULL)
		touch(t, batch, &batch->package->at, PACKAGED);
}

/* A lane's height on the figure, counted from the foot; the first kind stands highest. */
static size_t lanes_of(const struct touches *t, size_t height[LANES])
{
	size_t n = 0;

	for (size_t lane = LANES; lane-- > 0;)
		height[lane] = t->in[lane] > 0 ? n++ : 0;
	return n;
}

static void draw_lanes(const struct batch_figures *b, struct figure *f, const struct touches *t, const size_t *height)
{
	for (size_t lane = 0; lane < LANES; lane++) {
		double y = (double)height[lane] + 0.35;
		if (t->in[lane] == 0)
			continue;
		figure_line(f, "grid", (struct spot[]){ { f->x0, y }, { f->x1, y } }, 2);
		figure_label(f, "note", f->x0, y + 0.28, "start", t->in[lane] < 2 ? lane_names[lane]
		    : page_text(b->p, "%s, %zu times", lane_names[lane], t->in[lane]));
	}
	for (size_t i = 0; i < t->n; i++)
		figure_dot(f, "touch", t->at[i].day, (double)height[t->at[i].lane] + 0.35, false,
		    page_text(b->p, "%s on day %s", lane_names[t->at[i].lane], say_fixed(b->p, t->at[i].day, 1)));
}

bool figure_touches(const struct batch_figures *b)
{
	struct touches t = {
		b->p->bad ? NULL : ab_arena_alloc(b->p->arena, most_touches(b->c->batch), sizeof *t.at), 0, { 0 }
	};
	struct figure f;
	size_t height[LANES], lanes;

	if (t.at == NULL)
		return false;
	gather_touches(b->c->batch, &t);
	const char **cells = t.n < 2 || b->p->bad ? NULL : ab_arena_alloc(b->p->arena, 2 * (t.n + 1), sizeof *cells);
	if (cells == NULL)
		return false;
	lanes = lanes_of(&t, height);
	const char *says =
	    page_text(b->p, "What was done to the beer and when, %s in all. Each time it is opened or moved some "
		"air gets in.", say_count(b->p, t.n, "time", "times"));
	cells[0] = "day";
	cells[1] = "what";
	for (size_t i = 0; i < t.n; i++) {
		cells[2 * i + 2] = say_fixed(b->p, t.at[i].day, 1);
		cells[2 * i + 3] = lane_names[t.at[i].lane];
	}
	figure_begin(&f, b->p, figure_id(b, "touches"), "What was done when", says,
	    LANES_TOP + FIGURE_FOOT + (int)lanes * LANE_HIGH);
	figure_of_lanes(&f);
	figure_range(&f, fmin(0, t.at[0].day), t.at[t.n - 1].day * 1.02 + 0.2, 0, (double)lanes);
	figure_grid_x(&f, 6, 0, "days after pitching");
	draw_lanes(b, &f, &t, height);
	figure_end(&f, says, "rl", cells, t.n + 1);
	return true;
}
