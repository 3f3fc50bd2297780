/* figures_plan.c - the plan and what each budget buys
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/figures.h"

#include <math.h>

#include "report/saying.h"

static const char *stays_of(struct page *p, const struct ab_item *item)
{
	return isfinite(item->stays) ? page_text(p, ", stays %s", say_percent(p, item->stays)) : "";
}

bool figure_cautions(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	size_t told = 0;

	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_change *c = &k->changes[a->items[a->plan[i]].change];
		const char *caution = ab_item_caution(k, &a->items[a->plan[i]]);
		if (caution == NULL)
			continue;
		if (told++ == 0)
			page_section(p, "Take care");
		page_begin(p, 0);
		page_say(p, CAREFUL, page_text(p, "%zu. %s: ", i + 1, c->title));
		page_say(p, PLAIN, say_words(p, caution));
	}
	page_end(p);
	return told > 0;
}

bool figure_plan(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct bar *bars = a->n_plan == 0 || p->bad ? NULL : ab_arena_alloc(p->arena, a->n_plan, sizeof *bars);
	const char **cells = bars == NULL ? NULL : ab_arena_alloc(p->arena, 5 * (a->n_plan + 1), sizeof *cells);
	size_t n = 5;

	if (cells == NULL)
		return false;
	cells[0] = "change";
	cells[1] = "takes off";
	cells[2] = "money";
	cells[3] = "minutes a batch";
	cells[4] = "stays in the plan";
	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		const struct ab_change *c = &k->changes[item->change];
		bars[i] = (struct bar){ page_text(p, "%zu. %s", i + 1, c->title),
			page_text(p, "%s, %s%s", say_fixed(p, item->joint_gain, 2), report_price(p, item,
			REPORT_SHORT), stays_of(p, item)),
			item->cost > 0 || item->running_cost > 0 ? "fill calm" : "fill good",
			fmax(0, item->joint_gain), 0, 0 };
		cells[n++] = c->title;
		cells[n++] = say_fixed(p, item->joint_gain, 2);
		cells[n++] = report_price(p, item, REPORT_SHORT);
		cells[n++] = say_fixed(p, item->minutes, 0);
		cells[n++] = isfinite(item->stays) ? say_percent(p, item->stays) : "";
	}
	const char *says = page_text(p,
	    "What each change takes off the flaw load, after those above it (estimates); in all from %s to %s. Hollow: "
	    "free. Stays: in how many of 100 plans it still stands when all estimates are shifted at random.",
	    say_fixed(p, a->load_before, 2), say_fixed(p, a->load_after, 2));
	figure_bars(p, "plan", "The plan, change by change", says, bars, a->n_plan, says, "xrrrr",
	    (const char *const *)cells, a->n_plan + 1);
	return true;
}

/* ---- what the money brings ---- */

/* Over the years that advice counts running cost. */
static double spent_on(const struct ab_advice *a, const struct ab_item *item)
{
	return item->cost + item->running_cost * a->horizon_years;
}

/* The sum of money gains are told for: a power of ten, from a third to a thirtieth of the dearest. */
static double unit_of(const struct ab_advice *a)
{
	double most = 0;

	for (size_t i = 0; i < a->n_plan; i++)
		most = fmax(most, spent_on(a, &a->items[a->plan[i]]));
	return most > 0 ? pow(10, fmax(0, floor(log10(most) - 0.5))) : 0;
}

/* The plan's place, and what the sum brings there; what brings most first. */
struct worth { size_t place; double per_unit, spent; };

static size_t worths_of(const struct ab_advice *a, double unit, struct worth *w)
{
	size_t n = 0, at;

	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		double spent = spent_on(a, item);
		if (!(spent > 0))
			continue;
		double per_unit = fmax(0, item->joint_gain) / spent * unit;
		for (at = n++; at > 0 && w[at - 1].per_unit < per_unit; at--)
			w[at] = w[at - 1];
		w[at] = (struct worth){ i, per_unit, spent };
	}
	return n;
}

static const char *worth_says(struct page *p, const struct ab_advice *a, double unit)
{

	return page_text(p,
	    "What each paid change takes off the flaw load for each %s it costs, what it costs to run for %s "
	    "included (estimates). The longest bar gives most for the money.",
	    say_money(p, unit), say_years(p, a->horizon_years));
}

bool figure_worth(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct worth *w = p->bad ? NULL : ab_arena_alloc(p->arena, a->n_plan, sizeof *w);
	double unit = unit_of(a);
	size_t n = w == NULL ? 0 : worths_of(a, unit, w);
	struct bar *bars = n == 0 ? NULL : ab_arena_alloc(p->arena, n, sizeof *bars);
	const char **cells = bars == NULL ? NULL : ab_arena_alloc(p->arena, 4 * (n + 1), sizeof *cells);

	if (cells == NULL)
		return false;
	cells[0] = "change";
	cells[1] = "takes off";
	cells[2] = "money in all";
	cells[3] = page_text(p, "for each %s", say_money(p, unit));
	for (size_t i = 0; i < n; i++) {
		const struct ab_item *item = &a->items[a->plan[w[i].place]];
		const char **row = cells + 4 * (i + 1);
		row[0] = k->changes[item->change].title;
		row[1] = say_fixed(p, item->joint_gain, 2);
		row[2] = say_money(p, w[i].spent);
		row[3] = say_fixed(p, w[i].per_unit, 3);
		bars[i] = (struct bar){ page_text(p, "%zu. %s", w[i].place + 1, row[0]),
			page_text(p, "%s, %s in all", row[3], row[2]), "fill calm", w[i].per_unit, 0, 0 };
	}
	const char *says = worth_says(p, a, unit);
	figure_bars(p, "worth", page_text(p, "What each %s brings", say_money(p, unit)), says, bars, n, says, "xrrr",
	    (const char *const *)cells, n + 1);
	return true;
}

/* ---- what each budget buys ---- */

static const char *currency(const struct page *p)
{
	return p->look->currency != NULL ? p->look->currency : "$";
}

/* It moves over the points; the page's script reads the rows of the figure's table. Without the script the slider is
 * hidden and the table tells the same. */
static void put_slider(struct page *p, const struct ab_advice *a)
{
	ab_str_add(&p->out, "<div class=\"slider\" hidden><label for=\"budget\">");
	page_escaped(p, page_text(p, "Money to spend, in %s", currency(p)));
	ab_str_addf(&p->out, "</label> <input id=\"budget\" type=\"range\" min=\"0\" max=\"%zu\" value=\"0\"> "
	    "<output for=\"budget\" id=\"budget-says\"></output></div>\n", a->n_frontier - 1);
}

/* Titles of what costs money in it, to buy or to run. */
static const char *bought_with(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a,
    const struct ab_step *step)
{
	const char *text = "";

	for (size_t i = 0; step->chosen != NULL && i < a->n_items; i++)
		if (step->chosen[a->items[i].change] && (a->items[i].cost > 0 || a->items[i].running_cost > 0))
			text = page_text(
			    p, "%s%s%s", text, *text != '\0' ? "; " : "", k->changes[a->items[i].change].title);
	return text;
}

static void draw_steps(struct figure *f, const struct ab_advice *a, double most)
{
	for (size_t i = 0; i < a->n_frontier; i++) {
		double x0 = a->frontier[i].cost, x1 = i + 1 < a->n_frontier ? a->frontier[i + 1].cost : most;
		double load = a->frontier[i].load;
		figure_line(f, "line fitted", (struct spot[]){ { x0, load }, { x1, load } }, 2);
		if (i + 1 < a->n_frontier)
			figure_line(f, "line thin", (struct spot[]){ { x1, load },
			    { x1, a->frontier[i + 1].load } }, 2);
		figure_dot(f, "beer", x0, load, false,
		    page_text(f->p, "%s: %s left", say_money(f->p, x0), say_fixed(f->p, load, 2)));
	}
}

bool figure_frontier(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct figure f;

	if (a->n_frontier < 2 || p->bad)
		return false;
	const char **cells = ab_arena_alloc(p->arena, 3 * (a->n_frontier + 1), sizeof *cells);
	if (cells == NULL)
		return false;
	cells[0] = "money";
	cells[1] = "flaw load left";
	cells[2] = "what is bought for it";
	for (size_t i = 0; i < a->n_frontier; i++) {
		cells[3 * i + 3] = say_money(p, a->frontier[i].cost);
		cells[3 * i + 4] = say_fixed(p, a->frontier[i].load, 2);
		cells[3 * i + 5] = bought_with(p, k, a, &a->frontier[i]);
	}
	double most = a->frontier[a->n_frontier - 1].cost * 1.05 + 1;
	const char *says = page_text(p,
	    "Flaw load left by the best use of each amount, to buy and to run for %s: without money %s, with "
	    "the most money %s. %s",
	    say_years(p, a->horizon_years), say_fixed(p, a->frontier[0].load, 2),
	    say_fixed(p, a->frontier[a->n_frontier - 1].load, 2),
	    a->enough > 0 ? page_text(p, "%s is enough for four fifths of what any money would bring.",
				say_money(p, a->enough))
			  : "No money is needed for four fifths of what any money would bring.");
	figure_begin(&f, p, "frontier", "What each budget buys", says, 220);
	figure_range(&f, 0, most, 0, a->load_before * 1.15);
	figure_grid_y(&f, 5, 0, "load left");
	figure_grid_x(&f, 4, 0, page_text(p, "money, %s", currency(p)));
	figure_line(&f, "line now", (struct spot[]){ { 0, a->load_before }, { most, a->load_before } }, 2);
	figure_label(&f, "note", most, a->load_before * 1.035, "end", "as it is now");
	draw_steps(&f, a, most);
	figure_end(&f, says, "rrx", (const char *const *)cells, a->n_frontier + 1);
	put_slider(p, a);
	return true;
}
