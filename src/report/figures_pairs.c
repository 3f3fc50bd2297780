/* figures_pairs.c - from here to there: two values on one scale, a row each; and what is told that way: the
 * brews before and after a change, two brews of a line, what bad batches share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

enum { ROW_HIGH = 38, MOST_PAIRS = 8, MOST_COMMON = 12 };

/* from is a ring, to a dot; aside an upright stroke; NAN: none. */
struct pair { const char *label, *says; double from, to, aside; };
struct pairs { const char *id, *title, *says, *unit; double most; const struct pair *at; size_t n; };

static void draw_pair(struct figure *f, const struct pair *pair, double y)
{
	figure_line(f, "grid", (struct spot[]){ { f->x0, y }, { f->x1, y } }, 2);
	figure_label(f, "name", f->x0, y + 0.3, "start", figure_short(f->p, pair->label));
	if (isfinite(pair->from) && isfinite(pair->to))
		figure_line(f, "line", (struct spot[]){ { pair->from, y }, { pair->to, y } }, 2);
	if (isfinite(pair->aside))
		figure_line(f, "promise", (struct spot[]){ { pair->aside, y - 0.2 }, { pair->aside, y + 0.2 } }, 2);
	figure_dot(f, "from", pair->from, y, true, pair->says);
	figure_dot(f, "to", pair->to, y, false, pair->says);
}

static void figure_pairs(struct page *p, const struct pairs *of, const char *align, const char *const *cells,
    size_t rows)
{
	struct figure f;

	figure_begin(&f, p, of->id, of->title, of->says, LANES_TOP + FIGURE_FOOT + (int)of->n * ROW_HIGH);
	figure_of_lanes(&f);
	figure_range(&f, 0, of->most, 0, (double)of->n);
	figure_grid_x(&f, 6, 0, of->unit);
	for (size_t i = 0; i < of->n; i++)
		draw_pair(&f, &of->at[i], (double)(of->n - 1 - i) + 0.35);
	figure_end(&f, of->says, align, cells, rows);
}

/* Room for rows pairs and their table with its head. */
static struct pair *pairs_room(struct page *p, size_t n, size_t columns, const char *const *heads, const char ***cells)
{
	struct pair *at = n == 0 || p->bad ? NULL : ab_arena_alloc(p->arena, n, sizeof *at);

	*cells = at == NULL ? NULL : ab_arena_alloc(p->arena, columns * (n + 1), sizeof **cells);
	if (*cells == NULL)
		return NULL;
	memcpy(*cells, heads, columns * sizeof *heads);
	return at;
}

/* ---- before and after each change, and what was promised ---- */

enum { CHANGE_COLUMNS = 7 };

static const char *load_of(struct page *p, double load, size_t n)
{
	return n == 0 ? "not tasted" : page_text(p, "%s (%zu)", say_fixed(p, load, 1), n);
}

static void change_row(struct page *p, const struct ab_trend_change *c, const struct ab_promise *promise,
    const char *title, const char **cells)
{
	const struct ab_trend_said said = ab_trend_say(c);

	cells[0] = title;
	cells[1] = say_date(p, c->date_s);
	cells[2] = load_of(p, c->before, c->n_before);
	cells[3] = load_of(p, c->after, c->n_after);
	cells[4] = isfinite(said.p_better) ? say_percent(p, said.p_better) : "cannot tell";
	cells[5] = isfinite(said.p_better)
	    ? page_text(p, "%s to %s", say_fixed(p, said.low, 1), say_fixed(p, said.high, 1)) : "";
	cells[6] = promise == NULL ? "" : page_text(p, "%s to %s%s", say_fixed(p, promise->load_before, 1),
	    say_fixed(p, promise->load_after, 1), promise->alone ? "" : " (whole plan)");
}

bool figure_changes(struct page *p, const struct ab_overview *o)
{
	static const char *const heads[CHANGE_COLUMNS] = { "change", "from", "load before (batches)", "after (batches)",
		"better with a chance of", "likely lighter by", "promised" };
	const struct ab_trend *trend = o->trend;
	const char **cells;
	struct pair *at = pairs_room(p, trend->n_changes, CHANGE_COLUMNS, heads, &cells);
	struct pairs of = { "changes", "Before and after each change", NULL, "mean flaw load", 1, at,
		trend->n_changes };
	bool promised = false;

	if (at == NULL)
		return false;
	for (size_t i = 0; i < trend->n_changes; i++) {
		const struct ab_trend_change *c = &trend->changes[i];
		const struct ab_promise *promise = report_promise(o->promises, o->n_promises, c->id);
		const char *title = page_text(p, "%zu. %s", i + 1, ab_change_title(o->k, c->id));
		change_row(p, c, promise, title, cells + CHANGE_COLUMNS * (i + 1));
		at[i] = (struct pair){ title, page_text(p, "before %s, after %s", cells[CHANGE_COLUMNS * (i + 1) + 2],
		    cells[CHANGE_COLUMNS * (i + 1) + 3]), c->before, c->after,
			promise != NULL ? promise->load_after : NAN };
		of.most = fmax(of.most, fmax(isfinite(c->before) ? c->before : 0, isfinite(c->after) ? c->after : 0));
		promised = promised || promise != NULL;
	}
	of.most *= 1.05;
	of.says = page_text(p, "Ring: mean flaw load before the change; dot: after it. Left is better.%s Few batches "
	    "prove little: the table tells how sure it is.",
	    promised ? " Upright stroke: what had been promised." : "");
	figure_pairs(p, &of, "xlrrrrr", cells, trend->n_changes + 1);
	return true;
}

/* ---- two brews of a line ---- */

bool figure_brews(struct page *p, const struct ab_knowledge *k, const struct ab_comparison *c)
{
	const char *const heads[3] = { "found", c->a->batch->id, c->b->batch->id };
	size_t n = c->n_faults < MOST_PAIRS ? c->n_faults : MOST_PAIRS;
	const char **cells;
	struct pair *at = pairs_room(p, n, 3, heads, &cells);
	struct pairs of = { "brews", "What was tasted, then and now", NULL, "strength, of 5", 5, at, n };

	if (at == NULL)
		return false;
	for (size_t i = 0; i < n; i++) {
		const struct ab_compare_fault *f = &c->faults[i];
		cells[3 * i + 3] = k->faults[f->fault].title;
		cells[3 * i + 4] = f->a > 0 ? say_short(p, f->a, 1) : "not found";
		cells[3 * i + 5] = f->b > 0 ? say_short(p, f->b, 1) : "not found";
		at[i] = (struct pair){ cells[3 * i + 3],
			page_text(p, "%s, then %s", cells[3 * i + 4], cells[3 * i + 5]), f->a, f->b, NAN };
	}
	of.says = page_text(p, "Ring: %s, flaw load %s. Dot: %s, flaw load %s. Left is better.", c->a->batch->id,
	    say_fixed(p, c->a->load, 1), c->b->batch->id, say_fixed(p, c->b->load, 1));
	figure_pairs(p, &of, "xrr", cells, n + 1);
	return true;
}

/* ---- what bad batches share ---- */

enum { COMMON_COLUMNS = 4 };

static size_t standing_out(const struct ab_trend *trend)
{
	size_t n = 0;

	while (n < trend->n_common && n < MOST_PAIRS && trend->common[n].p <= AB_COMMON_WORTH)
		n++;
	return n;
}

/* Could the most uneven split that these counts allow be told from chance? */
static bool can_tell(const struct ab_trend *trend)
{
	for (size_t i = 0; i < trend->n_common; i++)
		if (trend->common[i].p_least <= 0.05)
			return true;
	return false;
}

static void common_row(struct page *p, const struct ab_common *c, const char **cells)
{
	cells[0] = page_text(p, "%s %s%s%s%s", c->factor, c->value, c->also != NULL ? " (with it always: " : "",
	    c->also != NULL ? c->also : "", c->also != NULL ? ")" : "");
	if (c->beside != NULL)
		cells[0] = page_text(p, "%s (one find with %s %s)", cells[0], c->beside->factor, c->beside->value);
	cells[1] = page_text(p, "%zu of %zu", c->bad_with, c->bad);
	cells[2] = page_text(p, "%zu of %zu", c->good_with, c->good);
	cells[3] = say_percent(p, c->p_adjusted);
}

/* Drawn only where something stands out: a picture of chance would be believed. The table is there all the
 * same. */
bool figure_common(struct page *p, const struct ab_trend *trend)
{
	static const char *const heads[COMMON_COLUMNS] = { "shared", "of bad batches", "of good ones",
		"by chance this often" };
	size_t rows = trend->n_common < MOST_COMMON ? trend->n_common : MOST_COMMON, n = standing_out(trend);
	const char **cells;
	struct pair *at = pairs_room(p, rows, COMMON_COLUMNS, heads, &cells);
	struct pairs of = { "common", "In how many of them", "Ring: how many in 100 good batches had it; dot: how "
	    "many in 100 bad ones. Many things were compared, and some will stand out by chance: the table tells how "
	    "often.", "of 100 batches", 100, at, n };

	if (at == NULL)
		return false;
	for (size_t i = 0; i < rows; i++) {
		const struct ab_common *c = &trend->common[i];
		const char **row = cells + COMMON_COLUMNS * (i + 1);
		common_row(p, c, row);
		at[i] = (struct pair){ row[0], page_text(p, "%s bad, %s good", row[1], row[2]),
			c->good > 0 ? 100 * (double)c->good_with / (double)c->good : NAN,
			c->bad > 0 ? 100 * (double)c->bad_with / (double)c->bad : NAN, NAN };
	}
	if (n > 0) {
		figure_pairs(p, &of, "xrrr", cells, rows + 1);
		return true;
	}
	page_para(p, 0, PLAIN, can_tell(trend) ? "Nothing stands out so far in vessels, yeast, water or kit."
	    : "With so few batches nothing could stand out from chance yet.");
	page_folded(p, "common", "What was compared", "xrrr", cells, rows + 1);
	return false;
}
