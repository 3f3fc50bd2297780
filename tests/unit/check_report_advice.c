/* check_report_advice.c - advice on the screen: prices, sums, limits, what is left over, which steps of the
 * frontier; and the same as data
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

/* ---- limits ---- */

/* Running: below 0 = not told, as much a year as the budget. */
static const struct { const char *title; double budget, running, years, minutes; const char *want, *not_there;
    } limits[] = {
	{ "money", 35, INFINITY, 1, INFINITY, "To spend now: $35.", "running cost," },
	{ "no money", 0, INFINITY, 1, INFINITY, "To spend now: nothing.", "No limit" },
	{ "no limit", INFINITY, INFINITY, 1, INFINITY, "No limit of money", "To spend now" },
	{ "running cost not told", 35, -1, 1, INFINITY,
	    "To spend now: $35, and no more than that a year on running costs", "running cost," },
	{ "no money, running cost not told", 0, -1, 1, INFINITY, "To spend: nothing, now or on running costs.",
	    "running cost," },
	{ "no limit at all", INFINITY, -1, 1, INFINITY, "No limit of money", "running cost," },
	{ "running cost of a year", 35, 30, 1, INFINITY, "running cost, at most $30 in a year", "years" },
	{ "running cost of more years", 35, 30, 2.5, INFINITY, "at most $30 in 2.5 years", "in a year." },
	{ "time", 35, INFINITY, 1, 15, "extra time a batch, at most 15 minutes", "running cost," },
	{ "no time", 35, INFINITY, 1, 0, "extra time a batch, at most no time", "running cost," },
	{ "no limit of time", 35, 30, 1, INFINITY, "new habits at once, at most 6.", "extra time" },
};

START_TEST(says_limits)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.budget = limits[_i].budget;
	a.running_told = limits[_i].running >= 0;
	a.running = a.running_told ? limits[_i].running : a.budget * limits[_i].years;
	a.horizon_years = limits[_i].years;
	a.minutes = limits[_i].minutes;
	char *text = rc_advised(&a, &look);
	rc_has(limits[_i].title, text, limits[_i].want);
	rc_lacks(limits[_i].title, text, limits[_i].not_there);
	ab_report_free(text);
}
END_TEST

/* Said between the list and its sum, with what the cheaper plan holds instead; nothing where every purchase is firm. */
START_TEST(says_the_cheaper_plan)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	unsigned char cheap[RC_CHANGES] = { [RC_CELLAR] = 1, [RC_TUBE] = 1 };
	struct ab_step steps[] = { { 4.5, 2, 3, cheap }, { 90, 2.25, 2.75, NULL } };
	const char *not_there = "Do not pay yet for";

	char *text = rc_advised(&a, &look);
	rc_lacks("nothing to tell", text, not_there);
	ab_report_free(text);
	a.frontier = steps;
	a.cheaper = (struct ab_cheaper){ true, 1, 0, 98, 0.31 };
	look.width = 400;
	text = rc_advised(&a, &look);
	rc_has("cheaper", text,
	    "($90). A plan without it costs $98 less, to buy and to run for a year, and takes 2.00 off where "
	    "this one takes "
	    "2.25; when the estimates are moved it does noticeably less only 31 % of the time. In its place "
	    "that plan has ");
	rc_lacks("nothing else is left out", text, "goes without");
	rc_lacks("what both hold", text, "that plan has \"Use the cellar\"");
	ck_assert(strstr(text, not_there) != NULL && strstr(text, not_there) > strstr(text, "change\n") &&
	    strstr(text, not_there) < strstr(text, "Together:"));
	ab_report_free(text);
	items[0].cost = 7;
	cheap[RC_CELLAR] = 0;
	text = rc_advised(&a, &look);
	rc_has("what else costs money", text, " It goes without \"Use the cellar\" ($7) as well. Begin with that");
	ab_report_free(text);
	steps[0].removed = 2.5;
	text = rc_advised(&a, &look);
	rc_has("it takes off more", text,
	    "2.50 off where this one takes 2.25 (it has what this one leaves out on purpose);");
	ab_report_free(text);
	look = rc_look(AB_JSON);
	text = rc_advised(&a, &look);
	rc_has("as data", text, "\"saves\": 98");
	rc_has("as data", text, "\"better\": 0.31");
	ab_report_free(text);
}
END_TEST

/* What a limit keeps out is told where one could taste it, and of money by the table of budgets. Load now: 4. */
static const struct { const char *title; enum ab_limit limit; double more; const char *want, *not_there; } costs[] = {
	{ "hours", AB_LIMIT_AWAY, 0.5, "by hours away from home: \"Use the cellar\" (0.50 more).", "by room" },
	{ "room", AB_LIMIT_ROOM, 0.5, "by room: \"Use the cellar\" (0.50 more).", "hours away" },
	{ "too little to taste", AB_LIMIT_ROOM, 0.001, "How sure", "Kept out" },
	{ "money", AB_LIMIT_MONEY, 0.5, "How sure", "Kept out" },
};

START_TEST(says_what_limits_keep_out)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.left_out[costs[_i].limit] = (struct ab_left_out){ costs[_i].more, 0 };
	char *text = rc_advised(&a, &look);
	for (char *c = text; *c != '\0'; c++)
		*c = *c == '\n' ? ' ' : *c;
	for (char *c; (c = strstr(text, "  ")) != NULL;)
		memmove(c, c + 1, strlen(c));
	rc_has(costs[_i].title, text, costs[_i].want);
	rc_lacks(costs[_i].title, text, costs[_i].not_there);
	ab_report_free(text);
}
END_TEST

/* ---- the price of a thing ---- */

static const struct { const char *title; double cost, running, minutes; bool unused; const char *want; } prices[] = {
	{ "free", 0, 0, 0, false, "Use the cellar (free)" },
	{ "money", 12.5, 0, 0, false, "Use the cellar ($12.50)" },
	{ "running only", 0, 8, 0, false, "Use the cellar (nothing now, $8 a year)" },
	{ "owned and idle", 40, 0, 0, true, "Use the cellar (you own it already: use it)" },
	{ "time", 0, 0, 5, false, "Use the cellar (free, 5 minutes)" },
	{ "time saved", 3, 0, -5, false, "Use the cellar ($3, saves 5 minutes)" },
	{ "half a minute counts", 0, 0, 0.5, false, "Use the cellar (free, 1 minute)" },
	{ "less does not", 0, 0, 0.49, false, "Use the cellar (free)" },
	{ "all of it", 9, 8, 150, false, "Use the cellar ($9, $8 a year, 2.5 hours)" },
};

START_TEST(says_prices)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	items[0].cost = prices[_i].cost;
	items[0].running_cost = prices[_i].running;
	items[0].minutes = prices[_i].minutes;
	items[0].unused = prices[_i].unused;
	char *text = rc_advised(&a, &look);
	rc_has(prices[_i].title, text, prices[_i].want);
	ab_report_free(text);
}
END_TEST

static const struct { const char *title; enum ab_basis basis; double stays; const char *want; bool no_batches;
	} bases[] = {
	{ "replayed", AB_BASIS_REPLAY, 0.9, "Against Butter, which you found, from: Too warm. Takes 2.00 off a "
	    "flaw load of 5.00 (0: no flaw), replayed on your batches; firm 90 %.", false },
	{ "rated, not redrawn", AB_BASIS_RATED, NAN,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), rated by the rules.\n", false },
	{ "without the batches", AB_BASIS_FACTS, NAN,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), replayed on your facts alone.\n", false },
	{ "some of each, never firm", AB_BASIS_MIXED, 0,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), in part replayed on your batches; firm\n    0 %.",
	  false },
	{ "some of each, and no batch was read", AB_BASIS_MIXED, NAN,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), in part replayed on your facts alone.\n", true },
};

START_TEST(says_gain_and_basis)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	look.width = 200;
	items[0].basis = bases[_i].basis;
	items[0].stays = bases[_i].stays;
	a.n_batches = bases[_i].no_batches ? 0 : a.n_batches;
	if (a.n_batches == 0)
		a.reason = "Only what is usual.";
	char *text = rc_advised(&a, &look);
	rc_has(bases[_i].title, text, bases[_i].want);
	rc_lacks("the strongest reason only", text, "Sour milk");
	ab_report_free(text);
	look.verbose = true;
	text = rc_advised(&a, &look);
	rc_has("all reasons when asked for", text, "; Sour milk, from: Dirt; DMS, from: Air.");
	ab_report_free(text);
}
END_TEST

/* ---- sums ---- */

static const struct { const char *title; double cost0; bool unused0; double minutes; const char *want; } sums[] = {
	{ "one costs", 0, false, 5, "Together: $90 now, $12.50 a year to run, 5 minutes more a batch." },
	{ "both cost", 10, false, 5, "Together: $100 now" },
	{ "what is owned already costs nothing more", 10, true, 5, "Together: $90 now" },
	{ "time saved", 0, false, -90, "90 minutes saved a batch." },
	{ "no time", 0, false, 0, "no time more a batch." },
};

START_TEST(says_sums)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	items[0].cost = sums[_i].cost0;
	items[0].unused = sums[_i].unused0;
	a.minutes_added = sums[_i].minutes;
	char *text = rc_advised(&a, &look);
	rc_has(sums[_i].title, text, sums[_i].want);
	ab_report_free(text);
}
END_TEST

static const struct { const char *title; int next; bool answers, told; } begun_with[] = {
	{ "the second, against what is wrong", 1, true, true }, { "the second, as foresight", 1, false, false },
	{ "the first", 0, true, false },
};

START_TEST(says_which_is_begun_with)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.next = begun_with[_i].next;
	items[0].answers = items[1].answers = begun_with[_i].answers;
	char *text = rc_advised(&a, &look);
	if (begun_with[_i].told)
		rc_has(begun_with[_i].title, text,
		    "Number 2 is begun with: by itself it does most against what is wrong.");
	else
		rc_lacks(begun_with[_i].title, text, "is begun with");
	ab_report_free(text);
}
END_TEST

/* ---- money left over: load after the plan is 2.75, a fiftieth of the load now is 0.1 ---- */

static const struct { const char *title; double budget, cost, load; const char *want; bool told; } left[] = {
	{ "nothing left", 90, 300, 1, "The other", false },
	{ "half a cent is nothing", 90.004, 300, 1, "The other", false },
	{ "no limit", INFINITY, 300, 1, "The other", false },
	{ "some left, more would help", 120, 300, 2.4, "The other $30", true },
	{ "from which sum on is told", 120, 300, 2.4, "$300 to buy and to run for a year would (load left: 2.40)",
	    true },
	{ "a step within the budget buys nothing more", 120, 110, 2.4, "to run for a year would", false },
	{ "almost nothing is no reason to spend", 120, 300, 2.66, "to run for a year would", false },
	{ "a fiftieth is", 120, 300, 2.65, "$300 to buy and to run for a year would", true },
	{ "nor would any greater sum", 120, 300, 2.7, "nor would any greater sum", true },
};

START_TEST(says_left_over)
{
	struct ab_step steps[] = { { 0, 1.75, 3.25, NULL }, { 90, 2.25, 2.75, NULL }, { left[_i].cost,
	    5 - left[_i].load, left[_i].load, NULL } };
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.budget = left[_i].budget;
	a.frontier = steps;
	a.n_frontier = 3;
	char *text = rc_advised(&a, &look);
	(left[_i].told ? rc_has : rc_lacks)(left[_i].title, text, left[_i].want);
	ab_report_free(text);
}
END_TEST

START_TEST(an_empty_plan)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_plan = a.n_steps = 0;
	a.load_after = a.load_before;
	char *text = rc_advised(&a, &look);
	rc_has("said", text, "change nothing");
	rc_has("all of the money is left", text, "The other $90");
	rc_lacks("no sum", text, "Together:");
	rc_lacks("no after", text, "with it");
	rc_lacks("no cautions of what is not in the plan", text, "Mind the stairs");
	ab_report_free(text);
	a.load_before = a.load_after = 0;
	text = rc_advised(&a, &look);
	rc_has("no load: no division by it", text, "flaw load 0.00");
	rc_lacks("no load: no division by it", text, "nan");
	ab_report_free(text);
}
END_TEST

/* ---- the frontier: first, last, and where the line bends most ---- */

START_TEST(picks_the_bends)
{
	/* a line down from 20 to 10 with kinks; 6 of 11 are shown. By hand: 9 lies 1.5 off the line from 0 to 10,
	 * then 7 lies 2.37 off that from 0 to 9, 5 lies 1.76 off that from 0 to 7, and 4 lies 0.72 off that from 0
	 * to 5. */
	static const double off[11] = { 0, 0, -0.4, 0, 0, -0.9, 0, 1.2, 0, -1.5, 0 };
	static const bool wanted[11] = { true, false, false, false, true, true, false, true, false, true, true };
	struct ab_step steps[11];
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	for (int i = 0; i < 11; i++)
		steps[i] = (struct ab_step){ 1000 + 7 * i, 0, 20 - i + off[i], NULL };
	a.frontier = steps;
	a.n_frontier = 11;
	for (int all = 0; all < 2; all++) {
		look.verbose = all;
		char *text = rc_advised(&a, &look);
		for (int i = 0; i < 11; i++) {
			char money[32];
			snprintf(money, sizeof money, "$%d ", 1000 + 7 * i);
			(all || wanted[i] ? rc_has : rc_lacks)("a step", text, money);
		}
		ab_report_free(text);
	}
}
END_TEST

/* The sum that the words above name stands in the table, however straight the line is there. */
START_TEST(shows_the_sum_that_is_named)
{
	struct ab_step steps[11];
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	for (int i = 0; i < 11; i++)
		steps[i] = (struct ab_step){ 1000 + 7 * i, 0,
			i < 4 ? 4.9 : 4.8 - 0.4 * (i - 4) - (i == 6 ? 0.2 : 0), NULL };
	a.frontier = steps;
	a.n_frontier = 11;
	a.budget = 1012;
	a.load_after = 4.75;
	char *text = rc_advised(&a, &look);
	rc_has("named", text, "$1035 to buy and to run for a year would (load left: 4.40)");
	rc_has("and a line of the table", text, "$1035       4.40");
	ab_report_free(text);
}
END_TEST

static const struct { const char *title; size_t n; double enough; const char *part; bool there; } frontiers[] = {
	{ "no step", 0, 90, "load left", false },
	{ "one step is no choice", 1, 90, "load left", false },
	{ "two are", 2, 90, "load left", true },
	{ "enough", 2, 90, "$90 is enough", true },
	{ "free is enough", 2, 0, "No money is needed", true },
	{ "not told", 2, INFINITY, "four fifths", false },
	{ "a step's load", 2, 90, "$90       2.75  ", true },
	{ "a free step's load", 2, 90, "nothing       3.25  ", true },
	{ "its bar: 2.75 of 5 of 16 cells", 2, 90, "2.75  #########.......", true },
};

START_TEST(says_frontier)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_frontier = frontiers[_i].n;
	a.enough = frontiers[_i].enough;
	char *text = rc_advised(&a, &look);
	(frontiers[_i].there ? rc_has : rc_lacks)(frontiers[_i].title, text, frontiers[_i].part);
	ab_report_free(text);
}
END_TEST

/* ---- what stands only where everything is asked for ---- */

static struct ab_recurrence likely[] = { { RC_WARM, 0.26, 3.2, 0.4, 0.34, 0, 1.625 } };
static const struct { const char *title, *want; bool always; } rest[] = {
	{ "how it is done", "Carry it down.", true },
	{ "what is likely to strike",
	    "Too warm: 34 % (usual for brewers: 26 %; seen over 3.2 of your batches: 40 %), load 1.63", false },
	{ "what is barred, and why", "0.13  $4.50  A new tube  no room", false },
	{ "what is done already", "0.30   free  A fridge    you do it", false },
	{ "load now", "flaw load 5.00, a flawless batch 20 % of the time", true },
	{ "load with it", "flaw load 2.75, a flawless batch 50 % of the time", true },
	{ "how many batches were read", "4 batches", true },
	{ "a caution of the plan", "Mind the stairs.", true },
};

START_TEST(says_the_rest_when_asked)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.recurrences = likely;
	a.n_recurrences = 1;
	char *text = rc_advised(&a, &look);
	(rest[_i].always ? rc_has : rc_lacks)(rest[_i].title, text, rest[_i].want);
	rc_lacks("no caution of what is not in the plan", text, "Two carry.");
	ab_report_free(text);
	look.verbose = true;
	text = rc_advised(&a, &look);
	rc_has(rest[_i].title, text, rest[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- how sure it is ---- */

static const struct { const char *title; double given_up[AB_POLICY_STEPS], regret; struct ab_pivot pivot;
    const char *want; bool there; } sure[] = {
	{ "nothing left out", { 0 }, NAN, { 0 }, "Left out of that on purpose", false },
	{ "too little for a word", { 0.002, 0, 0.002, 0 }, NAN, { 0 }, "Left out of that on purpose", false },
	{ "one step", { 0, 0.5, 0, 0 }, NAN, { 0 },
	    "Left out of that on purpose: 0.50 load (0.50 too many new habits at once).", true },
	{ "the budgets hold it", { 0, 0.5, 0, 0 }, NAN, { 0 },
	    "What the plan leaves out on purpose (below) is in these", true },
	{ "nothing that they could hold", { 0 }, NAN, { 0 }, "is in these", false },
	{ "two steps", { 0.25, 0, 0, 0.05 }, NAN, { 0 },
	    "0.30 load (0.25 too little by itself; 0.05 hardly better for", true },
	{ "not redrawn", { 0 }, NAN, { 0 }, "at random", false },
	{ "regret", { 0 }, 0.125, { 0 }, "fall short", true },
	{ "hardly any regret", { 0 }, 0.002, { 0 }, "leave this plan the best or as good", true },
	{ "no estimate decides", { 0 }, 0.125, { 0 }, "matters most", false },
	{ "a cause's load", { 0 }, 0.125, { true, true, RC_WARM, -1, RC_TUBE, RC_BOX, 0.5 },
	    "if \"Too warm\" cost you much more than", true },
	{ "a change's share", { 0 }, 0.125, { true, false, RC_WARM, RC_CELLAR, RC_TUBE, -1, 0.5 },
	    "if \"Use the cellar\" did much less", true },
	{ "what would then be taken", { 0 }, 0.125, { true, true, RC_WARM, -1, RC_TUBE, -1, 0.5 },
	    "would belong in the plan (0.50 a batch)", true },
	{ "what would be dropped", { 0 }, 0.125, { true, true, RC_WARM, -1, -1, RC_CELLAR, 0.5 },
	    "would not be worth it (0.50 a batch)", true },
};

START_TEST(says_how_sure)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	look.width = 200;
	memcpy(a.given_up, sure[_i].given_up, sizeof a.given_up);
	a.regret = a.regret_high = sure[_i].regret;
	a.pivot = sure[_i].pivot;
	char *text = rc_advised(&a, &look);
	(sure[_i].there ? rc_has : rc_lacks)(sure[_i].title, text, sure[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- what stands first ---- */

/* What troubles most, what to do next and the whole plan come before anything else: on a first screen of 24 lines
 * with a plan of two. */
START_TEST(the_first_screen)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.reason = "It ferments too warm.";
	a.recurrences = NULL;
	char *text = rc_advised(&a, &look), *at = text;
	const char *const order[] = { "Read: 4 batches. To spend now: ", "Do this next", "Use the cellar",
		"The plan, in this order", " 1. ", " 2. ", "Together:", "Why this plan", "It ferments too warm.",
		"Kept to: ", "What to expect" };
	size_t lines = 0;
	for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
		char *found = strstr(at, order[i]);
		ck_assert_msg(found != NULL, "no \"%s\" after the one before in\n%s", order[i], text);
		at = found;
	}
	for (at = text; at != strstr(text, "Together:"); at++)
		lines += *at == '\n';
	ck_assert_uint_le(lines, 18);
	ab_report_free(text);
}
END_TEST

/* No beer of theirs was read: that is said before anything is to be done. */
START_TEST(no_beer_of_theirs)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_batches = 0;
	a.reason = "Only what is usual.";
	char *text = rc_advised(&a, &look);
	ck_assert_uint_eq(rc_times(text, a.reason), 1);
	ck_assert(strstr(text, a.reason) < strstr(text, "Do this next"));
	ab_report_free(text);
}
END_TEST

/* Four of a list, in its order, and what takes most wherever it stands; all for who asks. Numbered as
 * told, without a gap. */
static const struct { const char *title; double share[6]; size_t n; bool verbose; const char *want, *not_there;
	} eased[] = {
	{ "most comes last", { 0.4, 0.25, 0.2, 0.22, 0.1, 0.8 }, 6, false, " 5. A new tube ($4.50). About 80 % of it.",
	  "About 10 %" },
	{ "and the rest is counted", { 0.4, 0.25, 0.2, 0.22, 0.1, 0.8 }, 6, false, " 1 more with --all.", " 6." },
	{ "most comes fifth", { 0.4, 0.25, 0.2, 0.22, 0.8, 0.1 }, 6, false, " 5. A new tube ($4.50). About 80 % of it.",
	  "About 10 %" },
	{ "most comes first", { 0.8, 0.25, 0.2, 0.22, 0.4, 0.1 }, 6, false, " 2 more with --all.", " 5." },
	{ "as much as the first is no more", { 0.4, 0.25, 0.2, 0.22, 0.4 }, 5, false, " 1 more with --all.", " 5." },
	{ "asked for", { 0.4, 0.25, 0.2, 0.22, 0.1, 0.8 }, 6, true, " 6. A new tube", "more with" },
	{ "four are all told", { 0.4, 0.25, 0.2, 0.22 }, 4, false, " 4. A new tube", "more with" },
	{ "nothing eases it", { 0 }, 0, false, "Nothing that eases it is left", "more with" },
};

START_TEST(says_what_eases)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_chore chore = { .id = "lifting", .title = "Too heavy" };
	struct ab_knowledge k = rc_rules;
	struct ab_eased_by by[6];
	struct ab_easing easing = { .by = by, .n = eased[_i].n };
	struct ab_diag diag;
	char *text = NULL;

	k.chores = &chore;
	k.n_chores = 1;
	for (size_t i = 0; i < eased[_i].n; i++)
		by[i] = (struct ab_eased_by){ .item = RC_TUBE, .share = eased[_i].share[i] };
	a.easings = &easing;
	a.n_easings = 1;
	look.verbose = eased[_i].verbose;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_advice(&k, &a, &look, &text, &diag), AB_OK);
	char *list = strstr(text, "What you named"), *end = strstr(list, "\n\n");
	ck_assert_ptr_nonnull(end);
	*end = '\0';
	rc_has(eased[_i].title, list, eased[_i].want);
	rc_lacks(eased[_i].title, list, eased[_i].not_there);
	ab_report_free(text);
}
END_TEST

/* A gravity is found and not tasted; what stands in the profile alone is only named. */
static const struct { const char *title; bool tasted, gone, named; const char *want; } founds[] = {
	{ "in a batch", true, false, false, "gainst Butter, which you found, from: Too warm." },
	{ "in the profile alone", true, false, true, "gainst Butter, which you named, from: Too warm." },
	{ "gone", true, true, false, "gainst Butter, which is gone from your newest beers, from: Too warm." },
	{ "feared", false, false, false, "gainst Butter, from: Too warm." },
};

START_TEST(says_how_it_is_known)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_because because = items[0].because[0];

	because.tasted = founds[_i].tasted;
	because.gone = founds[_i].gone;
	because.named = founds[_i].named;
	items[0].because = &because;
	items[0].n_because = 1;
	char *text = rc_advised(&a, &look);
	rc_has(founds[_i].title, text, founds[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- as data ---- */

static const struct { const char *title, *key; double want; } figures[] = {
	{ "budget", "budget", 90 }, { "load now", "load_before", 5 }, { "load then", "load_after", 2.75 },
	{ "flawless now", "flawless_before", 0.2 },
	{ "flawless then", "flawless_after", 0.5 }, { "gap", "gap", 0.25 }, { "minutes", "minutes_added", -5 },
	{ "running", "running_added", 12.5 },
	{ "enough", "enough", 90 }, { "years", "horizon_years", 1 },
};

START_TEST(figures_as_data)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_JSON);
	a.gap = 0.25;
	json_t *root = rc_json(rc_advised(&a, &look)), *at = json_object_get(root, figures[_i].key);
	ck_assert_msg(json_is_real(at) && json_real_value(at) == figures[_i].want, "%s", figures[_i].title);
	json_decref(root);
}
END_TEST

START_TEST(items_as_data)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_JSON);
	a.hot_side = true;
	json_t *root = rc_json(rc_advised(&a, &look)), *ranked = json_object_get(root, "ranked");
	const char *id, *kind, *side, *basis, *barred, *fault, *currency;
	int chosen, owned, hot, nothing;
	double joint, cost;
	ck_assert_uint_eq(json_array_size(ranked), RC_CHANGES);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "plan")), 2);
	ck_assert_int_eq(json_unpack(json_array_get(ranked, 0), "{s:s,s:s,s:s,s:b,s:b,s:F,s:n,s:[{s:s},*]}", "id",
			     &id, "kind", &kind, "basis", &basis, "chosen", &chosen, "owned", &owned, "joint_gain",
			     &joint, "barred", "because", "fault", &fault),
	    0);
	ck_assert_str_eq(id, "cellar");
	ck_assert_str_eq(kind, "habit");
	ck_assert_str_eq(basis, "replay");
	ck_assert_str_eq(fault, "butter");
	ck_assert(chosen && !owned && joint == 1.75);
	ck_assert_int_eq(json_unpack(json_array_get(ranked, 2), "{s:s,s:s,s:b,s:F,s:F,s:s}", "kind", &kind, "basis",
			     &basis, "chosen", &chosen, "joint_gain", &joint, "cost", &cost, "barred", &barred),
	    0);
	ck_assert_str_eq(kind, "upgrade");
	ck_assert_str_eq(basis, "mixed");
	ck_assert_str_eq(barred, "no room");
	ck_assert(!chosen && joint == 0 && cost == 4.5);   /* what is not chosen adds nothing to a plan */
	ck_assert_int_eq(
	    json_unpack(json_array_get(ranked, 3), "{s:s,s:b,s:n}", "side", &side, "owned", &owned, "stays"), 0);
	ck_assert(owned && strcmp(side, "hot") == 0);
	ck_assert_int_eq(json_unpack(root, "{s:s,s:b,s:b,s:n,s:n}", "currency", &currency, "hot_side", &hot,
			     "buy_nothing", &nothing, "minutes", "reason"),
	    0);
	ck_assert(hot && !nothing && strcmp(currency, "EUR") == 0);
	json_decref(root);
}
END_TEST

/* ---- the batches together ---- */

static const struct { const char *title; struct ab_turned turned; bool unsettled; const char *want, *not_there,
    *json; } togethers[] = {
	{ "after a change", { true, "brew-7", RC_WARM, RC_AIR, 0.62, 0.2, 0.2, 0.54, RC_BOX }, false,
	  "Over your batches together: by itself brew-7 points to: Too warm (62 %). But it came again with \"A "
	  "cold box\" in use, and likelier is: "
	  "Air (54 %, by itself 20 %).", "no steady picture", "box" },
	{ "without one", { true, "brew-7", RC_WARM, RC_AIR, 0.62, 0.2, 0.2, 0.54, -1 }, false,
	  "points to: Too warm (62 %). But with the others beside it likelier is: Air (54 %", "in use", NULL },
	{ "nothing to tell", { .told = false }, false, "What to change next", "Learned from", NULL },
	{ "no rest", { .told = false }, true, "Your batches together give no steady picture yet", "points to", NULL },
};

START_TEST(says_what_they_say_together)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT), data = rc_look(AB_JSON);
	char *text;

	look.width = 300;
	a.turned = togethers[_i].turned;
	a.unsettled = togethers[_i].unsettled;
	text = rc_advised(&a, &look);
	rc_has(togethers[_i].title, text, togethers[_i].want);
	rc_lacks(togethers[_i].title, text, togethers[_i].not_there);
	ab_report_free(text);
	json_t *root = rc_json(rc_advised(&a, &data)), *turned = json_object_get(root, "turned");
	ck_assert_int_eq(json_is_true(json_object_get(root, "unsettled")), a.unsettled);
	ck_assert_int_eq(json_is_object(turned), a.turned.told);
	if (a.turned.told) {
		const char *change = json_string_value(json_object_get(turned, "change"));
		ck_assert_str_eq(
		    rc_keys(turned), "batch first first_alone first_together now now_alone now_together change");
		ck_assert_pstr_eq(change, togethers[_i].json);
		ck_assert_str_eq(json_string_value(json_object_get(turned, "first")), "warm");
		ck_assert_double_eq(json_real_value(json_object_get(turned, "now_together")), 0.54);
	}
	json_decref(root);
}
END_TEST

static void add_rows(TCase *tc)
{
	tcase_add_loop_test(tc, says_limits, 0, sizeof limits / sizeof *limits);
	tcase_add_loop_test(tc, says_what_limits_keep_out, 0, sizeof costs / sizeof *costs);
	tcase_add_loop_test(tc, says_prices, 0, sizeof prices / sizeof *prices);
	tcase_add_loop_test(tc, says_gain_and_basis, 0, sizeof bases / sizeof *bases);
	tcase_add_loop_test(tc, says_sums, 0, sizeof sums / sizeof *sums);
	tcase_add_test(tc, says_the_cheaper_plan);
	tcase_add_loop_test(tc, says_which_is_begun_with, 0, sizeof begun_with / sizeof *begun_with);
	tcase_add_loop_test(tc, says_left_over, 0, sizeof left / sizeof *left);
	tcase_add_loop_test(tc, says_frontier, 0, sizeof frontiers / sizeof *frontiers);
	tcase_add_loop_test(tc, says_the_rest_when_asked, 0, sizeof rest / sizeof *rest);
	tcase_add_loop_test(tc, says_how_sure, 0, sizeof sure / sizeof *sure);
	tcase_add_loop_test(tc, says_what_they_say_together, 0, sizeof togethers / sizeof *togethers);
	tcase_add_loop_test(tc, says_how_it_is_known, 0, sizeof founds / sizeof *founds);
	tcase_add_loop_test(tc, says_what_eases, 0, sizeof eased / sizeof *eased);
	tcase_add_loop_test(tc, figures_as_data, 0, sizeof figures / sizeof *figures);
}

int main(void)
{
	Suite *s = suite_create("report_advice");
	TCase *tc = tcase_create("report_advice");
	json_set_alloc_funcs(ab_malloc, ab_free);
	add_rows(tc);
	tcase_add_test(tc, the_first_screen);
	tcase_add_test(tc, no_beer_of_theirs);
	tcase_add_test(tc, an_empty_plan);
	tcase_add_test(tc, picks_the_bends);
	tcase_add_test(tc, shows_the_sum_that_is_named);
	tcase_add_test(tc, items_as_data);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
