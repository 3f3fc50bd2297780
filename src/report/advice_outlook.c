/* advice_outlook.c - what the plan would bring, what each budget would, and how sure all of it is
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "report/advice_telling.h"
#include "report/saying.h"

enum { MOST_STEPS = 6, BAR = 16 };

/* ---- what it would bring ---- */

/* Both bars on the scale of the load now, so that their lengths compare. The terms are explained where
 * they first appear, in two lines, because nobody looks up a legend. */
static void say_effect(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	double most = a->load_before > 0 ? a->load_before : 1;
	page_section(t->p, "What to expect (estimates)");
	page_para(t->p, 2, PLAIN,
	    page_text(t->p, "now      %s  flaw load %s, a flawless batch %s of the time",
		page_bar(t->p, a->load_before / most, BAR), say_fixed(t->p, a->load_before, 2),
		say_percent(t->p, a->flawless_before)));
	if (a->n_plan > 0)
		page_para(t->p, 2, PLAIN,
		    page_text(t->p, "with it  %s  flaw load %s, a flawless batch %s of the time",
			page_bar(t->p, a->load_after / most, BAR), say_fixed(t->p, a->load_after, 2),
			say_percent(t->p, a->flawless_after)));
	page_para(t->p, 2, QUIET,
	    "Flaw load: each fault's weight times its strength, in a batch. Off: what a change takes away of "
	    "it, after those above. Firm: how many plans keep it when the estimates are moved.");
}

/* Eight, on demand: prior and own batches side by side show how much is learned and how much assumed. */
static void say_recurrences(const struct telling *t)
{
	size_t n = t->a->n_recurrences < 8 ? t->a->n_recurrences : 8;
	if (n == 0 || !t->p->look->verbose)
		return;
	page_section(t->p, "What is likely to strike the next batch");
	for (size_t i = 0; i < n; i++) {
		const struct ab_recurrence *r = &t->a->recurrences[i];
		page_point(t->p, 2, "*", PLAIN,
		    page_text(t->p,
		    "%s: %s (usual for brewers: %s; seen over %s of your batches: %s), load %s",
			t->k->causes[r->cause].title, say_percent(t->p, r->p), say_percent(t->p, r->prior),
			say_short(t->p, r->data_weight, 1), say_percent(t->p, r->observed),
			say_short(t->p, r->load, 2)));
	}
}

/* How far step i lies from the straight line between its shown neighbours. Shown neighbours on both
 * sides exist: the first and last step are always shown. */
static double bend(const struct ab_step *s, const bool *shown, size_t i, size_t n)
{
	size_t left = i, right = i;
	assert(i < n);
	while (left > 0 && !shown[left])
		left--;
	while (right + 1 < n && !shown[right])
		right++;
	double run = s[right].cost - s[left].cost;
	return fabs(s[left].load +
	    (run > 0 ? (s[i].cost - s[left].cost) / run : 0) * (s[right].load - s[left].load) - s[i].load);
}

/* What a greater sum is worth: the first step beyond the budget that brings more than almost nothing. Between two
 * such steps more money is only more money. */
int report_worth_more(const struct ab_advice *a)
{
	for (size_t i = 0; isfinite(a->budget) && i < a->n_frontier; i++)
		if (a->frontier[i].cost > a->budget &&
		    !(a->frontier[i].load > a->load_after - REPORT_ALMOST_NOTHING * a->load_before))
			return (int)i;
	return -1;
}

/* The steps worth showing: the first, the last, what the words above name, and those between where the line of
 * loads bends most. Greedy, after Douglas and Peucker's idea: the point farthest from the line drawn so far comes
 * next. Six rows then tell the curve that thirty would. */
static size_t pick_steps(const struct ab_advice *a, bool *shown, size_t most)
{
	size_t n = a->n_frontier, picked = n < 2 ? n : 2;
	int named = report_worth_more(a);
	if (n > 0)
		shown[0] = shown[n - 1] = true;
	if (named >= 0 && !shown[named]) {   /* a row more, not instead of one */
		shown[named] = true;
		picked++;
		most++;
	}
	for (; picked < most && picked < n; picked++) {
		size_t best = 0;
		for (size_t i = 1; i + 1 < n; i++)
			if (!shown[i] &&
			    (shown[best] || bend(a->frontier, shown, i, n) > bend(a->frontier,
			    shown, best, n)))
				best = i;
		shown[best] = true;
	}
	return picked;
}

/* What the policy left out of the best plan. */
static double given_up(const struct ab_advice *a)
{
	double sum = 0;
	for (size_t i = 0; i < AB_POLICY_STEPS; i++)
		sum += a->given_up[i];
	return sum;
}

/* Shares of the load too small for two digits are not worth a word. */
static bool gives_up(const struct ab_advice *a)
{
	return given_up(a) >= 0.005;
}

/* One step is no curve: then the plan has said it all. */
static void say_frontier(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	bool *chosen = t->p->bad ? NULL : ab_arena_alloc(t->p->arena, a->n_frontier, sizeof *chosen);
	size_t shown =
		   chosen == NULL ? 0 : pick_steps(a, chosen, t->p->look->verbose
		   ? a->n_frontier : MOST_STEPS),
	       row = 1;
	const char **cells = shown < 2 ? NULL : ab_arena_alloc(t->p->arena, 3 * (shown + 1), sizeof *cells);
	double most = a->load_before > 0 ? a->load_before : 1;
	if (cells == NULL)
		return;
	cells[0] = "money";
	cells[1] = "load left";
	cells[2] = "";
	for (size_t i = 0; i < a->n_frontier; i++) {
		const struct ab_step *s = &a->frontier[i];
		if (!chosen[i])
			continue;
		cells[3 * row] = say_money(t->p, s->cost);
		cells[3 * row + 1] = say_fixed(t->p, s->load, 2);
		cells[3 * row + 2] = page_bar(t->p, s->load / most, BAR);
		row++;
	}
	page_section(t->p, "What each budget would leave of it");
	page_table(t->p, 2, "rro", true, cells, shown + 1);
	page_para(t->p, 2, QUIET,
	    page_text(t->p, "Money: to buy, and to run for %s.%s", say_years(t->p, a->horizon_years),
		gives_up(a) ? " What the plan leaves out on purpose (below) is in these: so they may leave less "
			      "than it." : ""));
	if (isfinite(a->enough))
		page_para(t->p, 2, PLAIN,
		    a->enough > 0 ? page_text(t->p,
		    "%s is enough for four fifths of what any money would bring.", say_money(t->p, a->enough))
				  : "No money is needed for four fifths of what any money would bring.");
}

/* ---- how sure it is ---- */

static void say_given_up(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	bool first = true;
	if (!gives_up(a))
		return;
	page_begin(t->p, 2);
	page_say(t->p, PLAIN,
	    page_text(t->p, "Left out of that on purpose: %s load (", say_fixed(t->p, given_up(a), 2)));
	for (size_t i = 0; i < AB_POLICY_STEPS; i++) {
		if (!(a->given_up[i] >= 0.005))
			continue;
		page_say(t->p, PLAIN, page_text(t->p, "%s%s %s", first ? "" : "; ",
		    say_fixed(t->p, a->given_up[i], 2), ab_policy_words[i]));
		first = false;
	}
	page_say(t->p, PLAIN, ").");
	page_end(t->p);
}

/* Where one could taste it. Of money the table of budgets tells; and where the plan does not take all the brews
 * there are, they keep nothing out that anybody would be told to do. */
static bool is_worth_telling(const struct ab_advice *a, int limit)
{
	const struct ab_left_out *x = &a->left_out[limit];
	return x->more > 0 && x->more >= REPORT_ALMOST_NOTHING * a->load_before &&
	    (limit != AB_LIMIT_BREWS || (double)a->n_plan >= a->brews);
}

/* What a limit costs. */
static void say_left_out(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	bool first = true;
	for (int l = AB_LIMIT_RUNNING; l < AB_LIMITS; l++) {
		const struct ab_left_out *x = &a->left_out[l];
		if (!is_worth_telling(a, l))
			continue;
		if (first)
			page_begin(t->p, 2);
		page_say(t->p, PLAIN,
		    page_text(t->p, "%s %s: \"%s\" (%s more)", first ? "Kept out by your limits, by" : "; by",
			ab_limit_words[l], say_words(t->p, t->k->changes[x->change].title),
			say_fixed(t->p, x->more, 2)));
		first = false;
	}
	if (first)
		return;
	page_say(t->p, PLAIN, ".");
	page_end(t->p);
}

/* Which estimate, which way, and what would then be done otherwise. */
static void say_pivot(const struct telling *t)
{
	const struct ab_pivot *v = &t->a->pivot;
	const char *what, *then;
	if (!v->known)
		return;
	what = v->change < 0 ? page_text(t->p, "if \"%s\" cost you %s than reckoned", t->k->causes[v->cause].title,
				   v->higher ? "much more" : "much less")
			     : page_text(t->p, "if \"%s\" did %s against \"%s\" than reckoned",
				   say_words(t->p, t->k->changes[v->change].title),
				   v->higher ? "much more" : "much less", t->k->causes[v->cause].title);
	then = v->take < 0
	    ? page_text(t->p, "\"%s\" would not be worth it", say_words(t->p, t->k->changes[v->drop].title))
	    : v->drop < 0
	    ? page_text(t->p, "\"%s\" would belong in the plan", say_words(t->p, t->k->changes[v->take].title))
	    : page_text(t->p, "\"%s\" would belong in the plan rather than \"%s\"",
		  say_words(t->p, t->k->changes[v->take].title), say_words(t->p, t->k->changes[v->drop].title));
	page_para(t->p, 2, PLAIN,
	    page_text(t->p, "The estimate that matters most: %s, %s (%s a batch).", what, then,
		say_fixed(t->p, v->regret, 2)));
}

/* A plan is called proved only where the search closed its gap, and with what the proof is of. */
static void say_sureness(const struct telling *t)
{
	const struct ab_advice *a = t->a;
	page_section(t->p, "How sure this is");
	page_para(t->p, 2, PLAIN,
	    a->gap > 0
		? page_text(t->p, "With these figures no plan within the limits takes off more than %s beyond the "
				  "best found.", say_short(t->p, a->gap, 4))
		: "With these figures no plan within the limits takes off more than the best found: that was "
		  "proved.");
	say_given_up(t);
	say_left_out(t);
	if (a->regret_high < 0.005)
		page_para(t->p, 2, PLAIN,
		    "All figures are estimates. Moved about at random, they leave this plan the best or as good.");
	else if (!isnan(a->regret))
		page_para(t->p, 2, PLAIN,
		    page_text(t->p, "All figures are estimates. Moved about at random, they make this plan fall short "
				    "of the best by %s of %s on average, by less than %s nine times in ten.",
			say_fixed(t->p, a->regret, 2), say_fixed(t->p, a->load_before, 2),
			say_fixed(t->p, a->regret_high, 2)));
	say_pivot(t);
}

void report_advice_outlook(struct page *p, const struct ab_knowledge *k, const struct ab_advice *advice)
{
	struct telling t = { p, k, advice };
	say_effect(&t);
	say_frontier(&t);
	say_sureness(&t);
	say_recurrences(&t);
}
