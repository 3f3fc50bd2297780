/* advice_plan.c - the plan of an advice: a line each, what it costs together, what a cheaper one would do, and why
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/advice_telling.h"

#include <math.h>
#include <string.h>

#include "report/saying.h"

/* LIST_NUMBERS: columns of the plan's list that are not the change. */
enum { LIST_NUMBERS = 20 };

const struct ab_change *tell_change(const struct telling *t, const struct ab_item *item)
{
	return &t->k->changes[item->change];
}

/* Why, and within what: it explains the plan, so it follows what is to be done. */
static void say_limits(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	if (a->n_batches > 0 && a->reason != NULL)
		page_para(t->p, 1, PLAIN, a->reason);
	page_begin(t->p, 1);
	page_say(t->p, PLAIN, "Kept to: ");
	if (a->running_told && isfinite(a->running))
		page_say(t->p, PLAIN, page_text(t->p, "running cost, at most %s in %s; ", say_money(t->p, a->running),
		    say_years(t->p, a->horizon_years)));
	if (isfinite(a->minutes))
		page_say(t->p, PLAIN,
		    page_text(t->p, "extra time a batch, at most %s; ", say_minutes(t->p, a->minutes)));
	if (a->away_hours > 0)
		page_say(t->p, PLAIN,
		    page_text(t->p, "nobody at home, up to %s; ", say_minutes(t->p, 60 * a->away_hours)));
	if (isfinite(a->brews))
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s to come, one change with each; ",
			say_count(t->p, (size_t)a->brews, "brew", "brews")));
	page_say(t->p, PLAIN, page_text(t->p, "new habits at once, at most %zu.", a->changes));
	page_end(t->p);
}

/* As much of a title as stands on one line of a terminal; the whole of it is among the reasons below. Cut at
 * a word. A page of HTML wraps as it likes. */
static const char *one_line(const struct telling *t, const char *title, int room)
{
	size_t len = strlen(title), fit = page_fit(title, len, room);
	if (t->p->html || fit >= len)
		return title;
	fit = page_fit(title, len, room - 3);
	while (fit > 0 && title[fit] != ' ')
		fit--;
	while (fit > 0 && (title[fit - 1] == ' ' || title[fit - 1] == ','))
		fit--;
	return page_text(t->p, "%.*s...", (int)fit, title);
}

/* A line each: whoever skims sees all of the plan at once. */
static void say_list(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	const char **cells = t->p->bad ? NULL : ab_arena_alloc(t->p->arena, 4 * (a->n_plan + 1), sizeof *cells);
	if (cells == NULL)
		return;
	cells[0] = "";
	cells[1] = "off";
	cells[2] = "cost";
	cells[3] = "change";
	for (size_t i = 0; i < a->n_plan; i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		cells[4 * i + 4] = page_text(t->p, "%zu.", i + 1);
		cells[4 * i + 5] = say_fixed(t->p, item->joint_gain, 2);
		cells[4 * i + 6] = report_price(t->p, item, REPORT_SHORT);
		cells[4 * i + 7] =
		    one_line(t, say_words(t->p, tell_change(t, item)->title), t->p->look->width - LIST_NUMBERS);
	}
	page_table(t->p, 1, "rrrx", true, cells, a->n_plan + 1);
}

/* Begun is with what eases a burden that was named, and the plan is for the beer only. */
static bool is_beside(const struct ab_advice *a)
{
	return a->next_eases != NULL && a->next >= 0 && !a->items[a->next].chosen;
}

/* What is left over is said to be left over: from which sum on would it buy something? Half a cent:
 * below that it is rounding, not money. */
static void say_left_over(const struct telling *t, double spent)
{
	const struct ab_advice *a = t->a;
	/* what is left is for what was named */
	if (!isfinite(a->budget) || !(a->budget - spent > 0.005) || is_beside(a))
		return;
	const char *lead = page_text(t->p, "The other %s would buy almost nothing more",
	    say_money(t->p, a->budget - spent));
	const struct ab_step *s = report_worth_more(a) < 0 ? NULL : &a->frontier[report_worth_more(a)];
	page_para(t->p, 1, PLAIN, s == NULL ? page_text(t->p, "%s, nor would any greater sum.", lead)
	    : page_text(t->p, "%s; %s to buy and to run for %s would (load left: %s).", lead, say_money(t->p, s->cost),
	    say_years(t->p, a->horizon_years), say_fixed(t->p, s->load, 2)));
}

/* A newest beer without a flaw asks for nothing: what then stands in the plan is foresight, and no duty. */
static bool all_is_well(const struct ab_advice *a)
{
	for (size_t i = 0; i < a->n_steps; i++)
		if (a->steps[i].kind == AB_NEXT_SAME && a->steps[i].well)
			return true;
	return false;
}

/* The list is in order of buying, what is free first; what is begun with is what does most alone. */
static void say_begun_with(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	for (size_t i = 1; i < a->n_plan; i++)
		if (a->plan[i] == a->next && a->items[a->next].answers)
			page_para(t->p, 1, PLAIN,
			    page_text(t->p,
				"Number %zu is begun with: by itself it does most against what is wrong.", i + 1));
}

/* Which of the plan is the cure of what was tasted or named, and which is only foresight. */
static void say_whence(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	size_t n = 0;
	while (n < a->n_plan && a->items[a->plan[n]].answers)
		n++;
	if (n == 0 || n == a->n_plan || a->n_batches == 0)
		return;
	page_para(t->p, 1, PLAIN, n == 1 ? "The first does most about what is wrong; the rest can wait."
	    : page_text(t->p, "The first %zu do most about what is wrong; the rest can wait.", n));
}

/* What the cheaper plan holds that the plan does not, and what else that costs money it goes without. */
static const char *differs(
    struct page *p, const struct ab_knowledge *k, const struct ab_advice *a, const struct ab_step *step)
{
	const char *in = "", *out = "";

	for (size_t i = 0; i < a->n_items; i++) {
		const struct ab_item *item = &a->items[i];
		const char *name = page_text(
		    p, "\"%s\" (%s)", k->changes[item->change].title, report_price(p, item, REPORT_SHORT));
		bool there = step->chosen[item->change];
		if (there && !item->chosen && !item->owned)
			in = page_text(p, "%s%s%s", in, in[0] == '\0' ? "" : ", ", name);
		if (!there && item->chosen && (int)i != a->cheaper.without &&
		    (item->cost > 0 || item->running_cost > 0))
			out = page_text(p, "%s%s%s", out, out[0] == '\0' ? "" : ", ", name);
	}
	return page_text(p, "%s%s%s%s%s%s", in[0] == '\0' ? "" : " In its place that plan has ", in,
	    in[0] == '\0' ? "" : ".", out[0] == '\0' ? "" : " It goes without ", out,
	    out[0] == '\0' ? "" : " as well.");
}

void report_cheaper(struct page *p, int indent, const struct ab_knowledge *k, const struct ab_advice *a)
{
	if (!a->cheaper.known)
		return;
	const struct ab_step *step = &a->frontier[a->cheaper.step];
	const struct ab_item *item = &a->items[a->cheaper.without];
	page_begin(p, indent);
	page_say(p, LOUD,
	    page_text(p, "Do not pay yet for \"%s\" (%s).", k->changes[item->change].title,
		report_price(p, item, REPORT_SHORT)));
	page_say(p, PLAIN,
	    page_text(p,
		" A plan without it costs %s less, to buy and to run for %s, and takes %s off where this one takes "
		"%s%s; when the estimates are moved it does noticeably less only %s of the time.%s Begin with "
		"that; buy it when more batches "
		"speak for it.",
		say_money(p, a->cheaper.saves), say_years(p, a->horizon_years), say_fixed(p, step->removed, 2),
		say_fixed(p, a->load_before - a->load_after, 2),
		step->removed > a->load_before - a->load_after ? " (it has what this one leaves out on purpose)" : "",
		say_percent(p, a->cheaper.better),
		differs(p, k, a, step)));
	page_end(p);
}

/* With nothing to do, saying that more money would not help is the answer itself. */
void tell_advised_plan(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	double cost = 0;
	page_section(t->p, a->n_plan == 0 ? "The plan: change nothing"
	    : all_is_well(a) ? "None of it is needed now: what keeps off what may yet come"
	    : is_beside(a) ? "For the beer, after what you named" : "The plan, in this order");
	for (size_t i = 0; i < a->n_plan; i++)
		cost += a->items[a->plan[i]].unused ? 0 : a->items[a->plan[i]].cost;
	if (a->n_plan > 0)
		say_list(t);
	say_begun_with(t);
	say_whence(t);
	report_cheaper(t->p, 1, t->k, a);
	if (a->n_plan == 0) {
		say_left_over(t, 0);
		say_limits(t);
		return;
	}
	const char *time = page_text(t->p, a->minutes_added < 0 ? "%s saved a batch" : "%s more a batch",
	    say_minutes(t->p, fabs(a->minutes_added)));
	page_para(t->p, 1, PLAIN,
	    page_text(t->p, "Together: %s now, %s a year to run, %s.", say_money(t->p, cost),
		say_money(t->p, a->running_added), time));
	say_left_over(t, cost);
	page_section(t->p, "Why this plan");
	say_limits(t);
}
