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
		if (c->caution == NULL)
			continue;
		if (told++ == 0)
			page_section(p, "Take care");
		page_begin(p, 0);
		page_say(p, CAREFUL, page_text(p, "%zu. %s: ", i + 1, c->title));
		page_say(p, PLAIN, say_words(p, c->caution));
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
			page_text(p, "%s, %s%s", say_fixed(p, item->joint_gain, 2), report_price(p, item), stays_of(p, item)),
			item->cost > 0 ? "fill calm" : "fill good", fmax(0, item->joint_gain), 0, 0 };
		cells[n++] = c->title;
		cells[n++] = say_fixed(p, item->joint_gain, 2);
		cells[n++] = report_price(p, item);
		cells[n++] = say_fixed(p, item->minutes, 0);
		cells[n++] = isfinite(item->stays) ? say_percent(p, item->stays) : "";
	}
	const char *says = page_text(p,
	    "What each change takes off the flaw load, after those above it (estimates); in all from %s to %s. Hollow: "
	    "free. Stays: in how many of 100 plans it still stands when every estimate is redrawn.",
	    say_fixed(p, a->load_before, 2), say_fixed(p, a->load_after, 2));
	figure_bars(p, "plan", "The plan, change by change", says, bars, a->n_plan, says, "xrrrr",
	    (const char *const *)cells, a->n_plan + 1);
	return true;
}

/* ---- what each budget buys ---- */

/* Costs in whole money: the slider moves over the points, and the page's script reads these attributes.
 * Without the script the slider is hidden and the table tells the same. */
static void put_slider(struct page *p, const struct ab_advice *a)
{
	ab_str_addf(&p->out,
	    "<div class=\"slider\" hidden><label for=\"budget\">Money to spend</label> <input id=\"budget\" "
	    "type=\"range\" min=\"0\" "
	    "max=\"%zu\" value=\"0\" data-steps=\"",
	    a->n_frontier - 1);
	for (size_t i = 0; i < a->n_frontier; i++)
		page_escaped(p,
		    page_text(p, "%s%s|%s", i > 0 ? ";" : "", say_money(p, a->frontier[i].cost),
			say_fixed(p, a->frontier[i].load, 2)));
	ab_str_add(&p->out, "\"> <output for=\"budget\" id=\"budget-says\"></output></div>\n");
}

static void draw_steps(struct figure *f, const struct ab_advice *a, double most)
{
	for (size_t i = 0; i < a->n_frontier; i++) {
		double x0 = a->frontier[i].cost, x1 = i + 1 < a->n_frontier ? a->frontier[i + 1].cost : most;
		if (x0 > most)
			break;
		figure_line(f, "line fitted",
		    (struct spot[]){ { x0, a->frontier[i].load }, { fmin(x1, most), a->frontier[i].load } },
		    2);
		if (i + 1 < a->n_frontier && x1 <= most)
			figure_line(f, "line thin",
			    (struct spot[]){ { x1, a->frontier[i].load }, { x1, a->frontier[i + 1].load } },
			    2);
		figure_dot(f, "beer", x0, a->frontier[i].load, false,
		    page_text(
			f->p, "%s: %s left", say_money(f->p, x0), say_fixed(f->p, a->frontier[i].load, 2)));
	}
}

bool figure_frontier(struct page *p, const struct ab_knowledge *k, const struct ab_advice *a)
{
	struct figure f;
	(void)k;

	if (a->n_frontier < 2 || p->bad)
		return false;
	const char **cells = ab_arena_alloc(p->arena, 2 * (a->n_frontier + 1), sizeof *cells);
	if (cells == NULL)
		return false;
	cells[0] = "money";
	cells[1] = "flaw load left";
	for (size_t i = 0; i < a->n_frontier; i++) {
		cells[2 * i + 2] = say_money(p, a->frontier[i].cost);
		cells[2 * i + 3] = say_fixed(p, a->frontier[i].load, 2);
	}
	double most = a->frontier[a->n_frontier - 1].cost * 1.05 + 1;
	const char *says = page_text(p,
	    "Flaw load left by the best use of each amount: without money %s, with the most money %s. %s",
	    say_fixed(p, a->frontier[0].load, 2), say_fixed(p, a->frontier[a->n_frontier - 1].load, 2),
	    a->enough > 0 ? page_text(p, "%s is enough for four fifths of what any money would bring.",
	    say_money(p, a->enough)) : "No money is needed for four fifths of what any money would bring.");
	figure_begin(&f, p, "frontier", "What each budget buys", says, 220);
	figure_range(&f, 0, most, 0, a->load_before * 1.15);
	figure_grid_y(&f, 5, 0, "load left");
	figure_grid_x(&f, 5, 0, "money");
	figure_line(&f, "line now", (struct spot[]){ { 0, a->load_before }, { most, a->load_before } }, 2);
	figure_label(&f, "note", most, a->load_before * 1.035, "end", "as it is now");
	draw_steps(&f, a, most);
	figure_end(&f, says, "rr", (const char *const *)cells, a->n_frontier + 1);
	put_slider(p, a);
	return true;
}
