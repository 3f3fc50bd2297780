/* figures_glass.c - where the oxygen of a batch came from, the pressure in its bottles, and what is to blame
 * for what was tasted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>
#include <string.h>

#include <afterboil/oxygen.h>
#include "report/saying.h"

/* ---- oxygen ---- */

static const char *const *oxygen_cells(const struct batch_figures *b, const struct ab_oxygen *o)
{
	const char **cells = ab_arena_alloc(b->p->arena, 4 * (o->n + 2), sizeof *cells);
	size_t n = 4;

	if (cells == NULL)
		return NULL;
	cells[0] = "way in";
	cells[1] = "mg/L";
	cells[2] = "nine times in ten";
	cells[3] = "reckoned from";
	for (size_t i = 0; i < o->n; i++) {
		const struct ab_oxygen_item *item = &o->items[i];
		cells[n++] = item->name;
		cells[n++] = say_fixed(b->p, item->mgl, 2);
		cells[n++] = page_text(
		    b->p, "%s to %s", say_fixed(b->p, item->low, 2), say_fixed(b->p, item->high, 2));
		cells[n++] = page_text(b->p, "%s%s", say_working(b->p, item->how),
		    item->assumed ? " (not told: the usual stands in)" : "");
	}
	cells[n++] = "together";
	cells[n++] = say_fixed(b->p, o->total, 2);
	cells[n++] = page_text(b->p, "%s to %s", say_fixed(b->p, o->low, 2), say_fixed(b->p, o->high, 2));
	cells[n++] = o->complete ? "" : "as far as it is known";
	return cells;
}

static const struct ab_oxygen_item *largest(const struct ab_oxygen *o)
{
	const struct ab_oxygen_item *most = &o->items[0];

	for (size_t i = 1; i < o->n; i++)
		if (o->items[i].mgl > most->mgl)
			most = &o->items[i];
	return most;
}

bool figure_oxygen(const struct batch_figures *b)
{
	struct ab_oxygen o = { 0 };
	struct ab_diag diag;

	ab_diag_init(&diag);
	if (b->p->bad ||
	    ab_oxygen_budget(b->c->batch, b->profile, &b->k->norms, NULL, 0, b->p->arena, &o, &diag) != AB_OK)
		b->p->bad = true;
	struct bar *bars = b->p->bad || o.n == 0 ? NULL : ab_arena_alloc(b->p->arena, o.n, sizeof *bars);
	if (bars == NULL)
		return false;
	for (size_t i = 0; i < o.n; i++) {
		const struct ab_oxygen_item *item = &o.items[i];
		bars[i] = (struct bar){ item->name, page_text(b->p, "%s mg/L", say_fixed(b->p, item->mgl, 2)),
			item->mgl < 0 ? "fill good" : "fill bad", item->mgl, item->low, item->high };
	}
	const char *says = page_text(b->p,
	    "From the end of fermentation on about %s mg/L of oxygen was left to act%s (%s to %s nine times "
	    "in ten). Most of it: %s. Rules of thumb: "
	    "trust the order more than the figures.",
	    say_fixed(b->p, o.total, 1), o.complete ? "" : ", as far as the journal tells",
	    say_fixed(b->p, o.low, 1), say_fixed(b->p, o.high, 1), largest(&o)->name);
	const char *const *cells = oxygen_cells(b, &o);
	figure_bars(b->p, figure_id(b, "oxygen"), "Where the oxygen came from", says, bars, o.n, says, "lrrx",
	    cells, cells != NULL ? o.n + 2 : 0);
	return true;
}

/* ---- pressure ---- */

static const char *pressure(const struct batch_figures *b, double kpa)
{
	return b->p->look->us_units ? page_text(b->p, "%s psi", say_fixed(b->p, kpa / 6.894757, 0))
				    : page_text(b->p, "%s bar", say_fixed(b->p, kpa / 100, 1));
}

/* The warning of the diagnosis (casework.h), which alone says what is too much; NULL when it says nothing of it. */
static const char *pressure_warning(const struct batch_figures *b)
{
	const struct ab_diagnosis *d = b->c->diagnosis;

	for (size_t i = 0; d != NULL && i < d->n_warnings; i++)
		if (strncmp(d->warnings[i].id, "bottle-pressure", strlen("bottle-pressure")) == 0)
			return say_working(b->p, d->warnings[i].text);
	return NULL;
}

bool figure_pressure(const struct batch_figures *b)
{
	const struct ab_fact *worst = figure_fact(b, "pack.pressure-worst");
	const struct ab_fact *share = figure_fact(b, "pack.pressure-share");
	const char *cells[6] = { "what", "gauge pressure", "at the hottest storage" };

	if (worst == NULL || share == NULL || !(share->value > 0) || b->p->bad)
		return false;
	double limit = worst->value / share->value;
	const struct ab_fact *into = figure_fact(b, "pack.into");
	bool cans = into != NULL && strcmp(ab_words_package[(int)into->value], "cans") == 0;
	const char *such = cans ? "can" : "bottle";
	const char *warning = pressure_warning(b);
	struct bar bars[2] = { { "reckoned at the hottest storage", pressure(b, worst->value),
				   warning != NULL ? "fill bad" : "fill calm", worst->value,
				   worst->value - 2 * worst->u,
				   worst->value + 2 * worst->u },
		{ cans ? "what such a can is made for" : "what such a bottle is made for", pressure(b, limit),
		    "fill limit", limit, 0, 0 } };
	const char *says = page_text(b->p,
	    "Reckoned pressure in the %ss where they stand warmest: %s, give or take %s; such a %s "
	    "is made for %s. %s",
	    such, pressure(b, worst->value), pressure(b, 2 * worst->u), such, pressure(b, limit),
	    warning != NULL ? warning
		: cans      ? "A seam made at home may bear less."
			    : "A scratched or old bottle bears less.");
	cells[3] = page_text(b->p, "limit of the %s", such);
	cells[4] = pressure(b, limit);
	cells[2] = page_text(b->p, "reckoned, give or take %s", pressure(b, 2 * worst->u));
	const char *table[6] = { cells[0], cells[1], cells[2], pressure(b, worst->value), cells[3], cells[4] };
	figure_bars(b->p, figure_id(b, "pressure"), cans ? "Pressure in the cans" : "Pressure in the bottles", says,
	    bars, 2, says, "lr", table, 3);
	return true;
}

/* ---- causes ---- */

enum { MOST_CAUSES = 6 };

bool figure_causes(const struct batch_figures *b)
{
	const struct ab_diagnosis *d = b->c->diagnosis;
	size_t n = d->n_suspects < MOST_CAUSES ? d->n_suspects : MOST_CAUSES;
	struct bar *bars = n == 0 || b->p->bad ? NULL : ab_arena_alloc(b->p->arena, n, sizeof *bars);
	const char **cells = bars == NULL ? NULL : ab_arena_alloc(b->p->arena, 4 * (n + 1), sizeof *cells);

	if (cells == NULL)
		return false;
	cells[0] = "cause";
	cells[1] = "to blame";
	cells[2] = "likely range";
	cells[3] = "there at all";
	for (size_t i = 0; i < n; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		const struct ab_cause *cause = &b->k->causes[s->cause];
		bars[i] = (struct bar){ cause->title, say_percent(b->p, s->blame),
			cause->benign ? "fill good" : "fill calm", s->blame, s->blame_low, s->blame_high };
		cells[4 * i + 4] = cause->title;
		cells[4 * i + 5] = say_percent(b->p, s->blame);
		cells[4 * i + 6] = page_text(
		    b->p, "%s to %s", say_percent(b->p, s->blame_low), say_percent(b->p, s->blame_high));
		cells[4 * i + 7] = say_percent(b->p, s->present);
	}
	const char *says = page_text(b->p,
	    "How likely each cause is to blame for what was tasted, with its likely range (estimates). "
	    "First: %s, %s.",
	    bars[0].label, bars[0].says);
	figure_bars(b->p, figure_id(b, "causes"), "What is to blame", says, bars, n, says, "xrrr",
	    (const char *const *)cells, n + 1);
	return true;
}
