/* check_report_advice.c - advice on the screen: prices, sums, limits, what is left over, which steps of the
 * frontier; and the same as data
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <afterboil/checks.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/alloc.h"

static struct ab_because because[] = { { RC_BUTTER, RC_WARM, 1.25, true, false }, { RC_SOUR, RC_DIRT, 0.5,
    false, false }, { RC_DMS, RC_AIR, 0.25, false, false } };
static const struct ab_item all_items[RC_CHANGES] = {
	{ .change = RC_CELLAR, .minutes = 5, .gain = 2, .joint_gain = 1.75, .basis = AB_BASIS_REPLAY, .stays = 0.9,
	    .chosen = true, .because = because, .n_because = 3 },
	{ .change = RC_BOX, .cost = 90, .running_cost = 12.5, .minutes = -10, .gain = 1, .joint_gain = 0.5,
	    .basis = AB_BASIS_RATED, .stays = NAN, .chosen = true },
	{ .change = RC_TUBE, .cost = 4.5, .gain = 0.125, .joint_gain = 9, .basis = AB_BASIS_MIXED, .stays = 0,
	    .barred = "no room" },
	{ .change = RC_FRIDGE, .gain = 0.3, .stays = NAN, .owned = true },
};
static int plan[] = { 0, 1 };
static struct ab_next_step begin_first[] = { { .kind = AB_NEXT_BEGIN, .cause = -1 } };
static struct ab_step two_steps[] = { { 0, 1.75, 3.25, NULL }, { 90, 2.25, 2.75, NULL } };

/* Everything of a plan of two; the items are the caller's copy. */
static struct ab_advice full(struct ab_item items[RC_CHANGES])
{
	memcpy(items, all_items, sizeof all_items);
	return (struct ab_advice){ .budget = 90,
		.minutes = INFINITY,
		.horizon_years = 1,
		.running = INFINITY,
		.changes = 6,
		.currency = "EUR",
		.n_batches = 4,
		.load_before = 5,
		.load_after = 2.75,
		.flawless_before = 0.2,
		.flawless_after = 0.5,
		.items = items,
		.n_items = RC_CHANGES,
		.plan = plan,
		.n_plan = 2,
		.frontier = two_steps,
		.n_frontier = 2,
		.minutes_added = -5,
		.running_added = 12.5,
		.enough = 90,
		.steps = begin_first,
		.n_steps = 1 };
}

static char *report(const struct ab_advice *a, const struct ab_look *look)
{
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_advice(&rc_rules, a, look, &text, &diag), AB_OK);
	return text;
}

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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.budget = limits[_i].budget;
	a.running_told = limits[_i].running >= 0;
	a.running = a.running_told ? limits[_i].running : a.budget * limits[_i].years;
	a.horizon_years = limits[_i].years;
	a.minutes = limits[_i].minutes;
	char *text = report(&a, &look);
	rc_has(limits[_i].title, text, limits[_i].want);
	rc_lacks(limits[_i].title, text, limits[_i].not_there);
	ab_report_free(text);
}
END_TEST

/* Said between the list and its sum, with what the cheaper plan holds instead; nothing where every purchase is firm. */
START_TEST(says_the_cheaper_plan)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	unsigned char cheap[RC_CHANGES] = { [RC_CELLAR] = 1, [RC_TUBE] = 1 };
	struct ab_step steps[] = { { 4.5, 2, 3, cheap }, { 90, 2.25, 2.75, NULL } };
	const char *not_there = "Do not pay yet for";

	char *text = report(&a, &look);
	rc_lacks("nothing to tell", text, not_there);
	ab_report_free(text);
	a.frontier = steps;
	a.cheaper = (struct ab_cheaper){ true, 1, 0, 98, 0.31 };
	look.width = 400;
	text = report(&a, &look);
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
	text = report(&a, &look);
	rc_has("what else costs money", text, " It goes without \"Use the cellar\" ($7) as well. Begin with that");
	ab_report_free(text);
	look = rc_look(AB_JSON);
	text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.left_out[costs[_i].limit] = (struct ab_left_out){ costs[_i].more, 0 };
	char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	items[0].cost = prices[_i].cost;
	items[0].running_cost = prices[_i].running;
	items[0].minutes = prices[_i].minutes;
	items[0].unused = prices[_i].unused;
	char *text = report(&a, &look);
	rc_has(prices[_i].title, text, prices[_i].want);
	ab_report_free(text);
}
END_TEST

static const struct { const char *title; enum ab_basis basis; double stays; const char *want; } bases[] = {
	{ "replayed", AB_BASIS_REPLAY, 0.9, "Against Butter, which you tasted, from: Too warm. Takes 2.00 off a "
	    "flaw load of 5.00 (0: no flaw), replayed on your batches; firm 90 %." },
	{ "rated, not redrawn", AB_BASIS_RATED, NAN,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), rated by the rules.\n" },
	{ "without the batches", AB_BASIS_FACTS, NAN,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), replayed on your facts alone.\n" },
	{ "some of each, never firm", AB_BASIS_MIXED, 0,
	    "Takes 2.00 off a flaw load of 5.00 (0: no flaw), in part replayed on your batches;\n    firm 0 %." },
};

START_TEST(says_gain_and_basis)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	look.width = 200;
	items[0].basis = bases[_i].basis;
	items[0].stays = bases[_i].stays;
	char *text = report(&a, &look);
	rc_has(bases[_i].title, text, bases[_i].want);
	rc_lacks("the strongest reason only", text, "Sour milk");
	ab_report_free(text);
	look.verbose = true;
	text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	items[0].cost = sums[_i].cost0;
	items[0].unused = sums[_i].unused0;
	a.minutes_added = sums[_i].minutes;
	char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.next = begun_with[_i].next;
	items[0].answers = items[1].answers = begun_with[_i].answers;
	char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.budget = left[_i].budget;
	a.frontier = steps;
	a.n_frontier = 3;
	char *text = report(&a, &look);
	(left[_i].told ? rc_has : rc_lacks)(left[_i].title, text, left[_i].want);
	ab_report_free(text);
}
END_TEST

START_TEST(an_empty_plan)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_plan = a.n_steps = 0;
	a.load_after = a.load_before;
	char *text = report(&a, &look);
	rc_has("said", text, "change nothing");
	rc_has("all of the money is left", text, "The other $90");
	rc_lacks("no sum", text, "Together:");
	rc_lacks("no after", text, "with it");
	rc_lacks("no cautions of what is not in the plan", text, "Mind the stairs");
	ab_report_free(text);
	a.load_before = a.load_after = 0;
	text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	for (int i = 0; i < 11; i++)
		steps[i] = (struct ab_step){ 1000 + 7 * i, 0, 20 - i + off[i], NULL };
	a.frontier = steps;
	a.n_frontier = 11;
	for (int all = 0; all < 2; all++) {
		look.verbose = all;
		char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	for (int i = 0; i < 11; i++)
		steps[i] = (struct ab_step){ 1000 + 7 * i, 0,
			i < 4 ? 4.9 : 4.8 - 0.4 * (i - 4) - (i == 6 ? 0.2 : 0), NULL };
	a.frontier = steps;
	a.n_frontier = 11;
	a.budget = 1012;
	a.load_after = 4.75;
	char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_frontier = frontiers[_i].n;
	a.enough = frontiers[_i].enough;
	char *text = report(&a, &look);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.recurrences = likely;
	a.n_recurrences = 1;
	char *text = report(&a, &look);
	(rest[_i].always ? rc_has : rc_lacks)(rest[_i].title, text, rest[_i].want);
	rc_lacks("no caution of what is not in the plan", text, "Two carry.");
	ab_report_free(text);
	look.verbose = true;
	text = report(&a, &look);
	rc_has(rest[_i].title, text, rest[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- how sure it is ---- */

static const struct { const char *title; double given_up[AB_POLICY_STEPS], regret; struct ab_pivot pivot;
    const char *want; bool there; } sure[] = {
	{ "nothing left out", { 0 }, NAN, { 0 }, "Left out on purpose", false },
	{ "too little for a word", { 0.002, 0, 0.002, 0 }, NAN, { 0 }, "Left out on purpose", false },
	{ "one step", { 0, 0.5, 0, 0 }, NAN, { 0 },
	    "Left out on purpose: 0.50 load (0.50 too many new habits at once).", true },
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	look.width = 200;
	memcpy(a.given_up, sure[_i].given_up, sizeof a.given_up);
	a.regret = a.regret_high = sure[_i].regret;
	a.pivot = sure[_i].pivot;
	char *text = report(&a, &look);
	(sure[_i].there ? rc_has : rc_lacks)(sure[_i].title, text, sure[_i].want);
	ab_report_free(text);
}
END_TEST

/* What troubles most, what to do next and the whole plan come before anything else: on a first screen of 24 lines
 * with a plan of two. */
/* ---- what to do now, next and then ---- */

static struct ab_batch brewed = { .id = "pale-7", .line = "pale" }, titled = { .id = "s-1", .title = "Shed stout" },
		       coming = { .id = "pale-8", .line = "pale" };
static struct ab_pitch pitched;
static struct ab_package packaged;
static struct ab_batch no_pitch = { .id = "pale-9", .line = "pale", .package = &packaged };
static const struct ab_changed other_line = { .what = "box", .line = "stout", .on = { .known = true, .s = 86400 } };
static const struct ab_changed known = { .what = "box", .on = { .known = true, .s = 86400 } },
			       own = { .text = "a new hose", .on = { .known = true, .s = 86400 } };
static const struct ab_touch sample = { .id = "sample", .title = "Gravity reading" };
#define ON_DAY_5 .touch = &sample, .day_s = 5 * 86400
static const struct ab_touch_due at_once = { ON_DAY_5, .supposed_s = (double)NAN, .latest_s = 2 * 86400,
	.overdue = true },
				 fixed = { ON_DAY_5, .supposed_s = (double)NAN, .latest_s = 5 * 86400 },
				 may_wait = { ON_DAY_5, .supposed_s = (double)NAN, .latest_s = 9 * 86400 },
				 supposed = { ON_DAY_5, .supposed_s = 86400, .latest_s = 5 * 86400 },
				 waited = { ON_DAY_5, .supposed_s = (double)NAN, .latest_s = 9 * 86400,
					 .since_s = 2 * 86400 };
static const struct ab_touch fill = { .id = "fill", .title = "Fill", .tell = "log BATCH bottled 19 L" },
			     wash = { .id = "wash", .title = "Wash jars" };
static const struct ab_priming sweet = { .why = AB_PRIMING_READY,
	.of = { .volumes = 2.4, .warmest_c = 20, .warmest_u = 0.5, .hottest_c = 25, .limit_kpa = 300 },
	.rate = { 6.2, 5.7, 6.7, 0.1, 200 },
	.volume_l = 19,
	.usual = true,
	.told_bottle = true,
	.read_then = true },
			       moving = { .why = AB_PRIMING_NOT_STILL };
#define DUE(of, day, last) { .touch = &(of), .day_s = (day) * 86400, .latest_s = (last) * 86400, \
	.supposed_s = (double)NAN }
static const struct ab_touch_due
    untold = { .touch = &sample, .day_s = 5 * 86400, .latest_s = 2 * 86400, .overdue = true, .supposed_s = 86400 },
    filling = { .touch = &fill,
	    .tell = "log BATCH bottled 19 L",
	    .day_s = 5 * 86400,
	    .latest_s = 9 * 86400,
	    .supposed_s = (double)NAN,
	    .chore = &wash,
	    .priming = &sweet },
    not_yet = {
	    .touch = &fill, .day_s = 5 * 86400, .latest_s = 9 * 86400, .supposed_s = (double)NAN, .priming = &moving
    };
static const struct ab_next_kept sure_kept = { &known, 3, 1, 4, 0.87, false },
				 together = { &known, 3, 1, 0, 0.6, true }, alone = { &known, 0, 1, 0, NAN, false },
				 too_few = { &known, 2, 1, 0, NAN, false };
static struct ab_ask smell = { .is_check = true, .check = RC_SNIFF, .minutes = 150, .cost = 2 };
static const struct { const char *title; struct ab_next_step step; const char *want, *lacks; } todo[] = {
	{ "danger", { .kind = AB_NEXT_SAFE, .batch = &brewed },
	    "Take care: bottles of pale-7 may burst. Read \"afterboil diagnose --batch pale-7\"", "calendar" },
	{ "danger of several", { .kind = AB_NEXT_SAFE, .batch = &brewed, .also = { &brewed, &brewed }, .n_also = 2 },
	    "bottles of pale-7, pale-7 and pale-7 may burst.", "more" },
	{ "danger of more than can be named",
	    { .kind = AB_NEXT_SAFE, .batch = &brewed, .also = { &brewed }, .n_also = 1, .n_more = 4 },
	    "bottles of pale-7, pale-7 and 4 more may burst.", "calendar" },
	{ "and how it ends", { .kind = AB_NEXT_SAFE, .batch = &brewed }, "eyes and hands protected", "wait until" },
	{ "pressure where there is no glass",
	    { .kind = AB_NEXT_VENT, .batch = &brewed, .also = { &brewed }, .n_also = 1 },
	    "Take care: the beer of pale-7 and pale-7 may stand under a high pressure in its keg, cask or can. "
	    "Read \"afterboil diagnose --batch pale-7\" "
	    "before you open, loosen or warm it.", "bottles" },
	{ "a batch to tend", { .kind = AB_NEXT_TEND, .batch = &brewed },
	    "Now: pale-7 is on its way: \"afterboil calendar\" tells", "overdue" },
	{ "what is overdue", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &at_once },
	    "\"Gravity reading\" is overdue since 1970-01-03: do it today.", "wait until" },
	{ "what is due if it was pitched as is supposed", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &supposed },
	    "on 1970-01-06, if it was pitched on the evening of 1970-01-02. ", "wait until" },
	{ "what is due on a day", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &fixed },
	    "pale-7 is on its way: \"Gravity reading\" on 1970-01-06. ", "wait until" },
	{ "what could have been done before", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &waited },
	  "\"Gravity reading\" is due since 1970-01-03: your next day for it is 1970-01-06 (it can wait until "
	  "1970-01-10). ", "overdue" },
	{ "a tasting that was put off", { .kind = AB_NEXT_TASTE, .batch = &brewed, .due = &waited },
	    "(due since 1970-01-03) on 1970-01-06, and write", "when it is ready" },
	{ "what may wait", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &may_wait },
	    "on 1970-01-06 (it can wait until 1970-01-10). ", "overdue" },
	{ "pitched nobody wrote when", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &untold },
	  "is overdue since 1970-01-03, if it was pitched on the evening of 1970-01-02: do it today.", "can wait" },
	{ "a chore goes along, and the sugar is told", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &filling },
	  "\"Fill\" on 1970-01-06 (it can wait until 1970-01-10); before it, \"Wash jars\". Prime with 118 g "
	  "table sugar for 19 L (108 to 127 g is the same "
	  "within what is known; 6.2 g for each litre, if it is another amount): that makes 2.4 volumes, usual "
	  "for its kind; since it stood still the beer was at most 20 C.", "not said" },
	{ "with its caution", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &filling },
	    "Too much, or sugar in beer that still works, bursts bottles.", "ordinary sound" },
	{ "what to type", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &filling },
	    "like \"afterboil log pale-7 bottled 19 L\".", "BATCH" },
	{ "no sugar for a beer that may not be done", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &not_yet },
	  "How much priming sugar is not said yet: two readings at least three days apart must agree first.",
	  "Prime with" },
	{ "the days do not do", { .kind = AB_NEXT_TEND, .batch = &brewed, .due = &may_wait, .fit = AB_FIT_PRESSED },
	    "No schedule fits the days you have: some steps stand on days that are not free.", "away" },
	{ "nor at all", { .kind = AB_NEXT_TEND, .batch = &brewed, .fit = AB_FIT_NONE }, "No schedule fits at all",
	    "free" },
	{ "of what stays away from a plan nothing is said",
	    { .kind = AB_NEXT_TASTE, .batch = &brewed, .fit = AB_FIT_PRESSED }, "Taste: pale-7", "schedule" },
	{ "a change that stays",
	    { .kind = AB_NEXT_KEEP, .batch = &brewed, .trial = &known, .kept = &sure_kept, .well = true },
	  "Go on so: A cold box (noted 1970-01-02) stays: pale-7 was brewed with it and tasted well; by 3 "
	  "tasted brews before and 1 with it, "
	  "beers are better with it with a chance of 87 %; 4 tasted brews more would tell.", "nobody can tell" },
	{ "two at once", { .kind = AB_NEXT_KEEP, .batch = &brewed, .trial = &known, .kept = &together },
	    "a chance of 60 %; another change came with the same brew", "would tell" },
	{ "not well, and better", { .kind = AB_NEXT_KEEP, .batch = &brewed, .trial = &known, .kept = &sure_kept },
	    "and tasted better than those before; by", "well" },
	{ "too few to compare", { .kind = AB_NEXT_KEEP, .batch = &brewed, .trial = &known, .kept = &too_few },
	    "nobody can tell yet, by 2 tasted brews before it and 1 with it.", "for nothing" },
	{ "nothing to compare with", { .kind = AB_NEXT_KEEP, .batch = &brewed, .trial = &known, .kept = &alone },
	    "nobody can tell yet, for nothing was tasted of before it", "chance" },
	{ "a change to begin, with its reason", { .kind = AB_NEXT_BEGIN, .item = 0 }, "Next brew", "schedule" },
	{ "nothing wrong",
	    { .kind = AB_NEXT_WAIT, .batch = &brewed, .cause = RC_YOUNG, .p = 0.95, .low = 0.9, .high = 0.97 },
	  "Wait: leave pale-7 as it is: almost certainly nothing is wrong with it (only young). Wait.", "again" },
	{ "perhaps nothing",
	    { .kind = AB_NEXT_WAIT, .batch = &brewed, .cause = RC_YOUNG, .p = 0.54, .low = 0.3, .high = 0.7 },
	"as it is: perhaps nothing is wrong", "likely" },
	{ "just so again",
	    { .kind = AB_NEXT_SAME, .batch = &brewed, .item = 1, .cause = -1, .well = true, .brew_s = 5 * 86400 },
	  "Next brew: brew pale again just so from 1970-01-06 on, your first free day for it: your newest beer "
	  "was without a flaw, and nothing you tasted before is left. "
	  "Nothing has to be changed or bought now; what may yet", "keep notes" },
	{ "just so again after a false alarm",
	    { .kind = AB_NEXT_SAME, .batch = &brewed, .item = 1, .cause = RC_YOUNG, .p = 0.95, .low = 0.9,
	    .high = 0.97, .well = true },
	  "brew pale again just so: almost certainly nothing is wrong with your newest beer (only young). Wait. "
	  "Nothing has to be", "without a flaw" },
	{ "a beer about to be brewed, just so",
	    { .kind = AB_NEXT_SAME, .batch = &coming, .item = 1, .cause = -1, .well = true, .due = &fixed },
	  "Next brew: brew pale-8 on 1970-01-06 just so: your newest", "free day" },
	{ "a first free day", { .kind = AB_NEXT_BEGIN, .item = 0, .brew_s = 5 * 86400 },
	    "Next brew, from 1970-01-06 on, your first free day for it: ", "pale-8" },
	{ "to taste", { .kind = AB_NEXT_TASTE, .batch = &brewed },
	    "Taste: pale-7 when it is ready, and write it down: \"afterboil taste pale-7 ", "on trial" },
	{ "to taste on a day", { .kind = AB_NEXT_TASTE, .batch = &brewed, .due = &fixed },
	    "Taste: pale-7 on 1970-01-06, and write it down", "ready" },
	{ "late to taste", { .kind = AB_NEXT_TASTE, .batch = &brewed, .due = &at_once },
	    "Taste: pale-7 now, and write it down", "ready" },
	{ "to taste, of a trial", { .kind = AB_NEXT_TASTE, .batch = &brewed, .trial = &own },
	    "It was brewed with a change on trial (a new hose): only its taste", "box" },
	{ "a check before buying", { .kind = AB_NEXT_CHECK, .check = &smell },
	    "Check first: Does it smell? (about 2.5 hours, $2), before anything is bought.", "free" },
	{ "the same beer with a trial", { .kind = AB_NEXT_BREW, .batch = &brewed, .trial = &known },
	    "Next brew: brew pale again with: A cold box (noted 1970-01-02). Change nothing else: then its "
	    "taste tells what this did. \"afterboil new pale\" makes its journal.", "sheet" },
	{ "a beer without a line", { .kind = AB_NEXT_BREW, .batch = &titled, .trial = &own },
	    "brew Shed stout again with: a new hose (noted 1970-01-02).", "pale" },
	{ "a beer about to be brewed", { .kind = AB_NEXT_BREW, .batch = &coming, .trial = &known },
	    "Next brew: brew pale-8 with: A cold box (noted 1970-01-02). Change nothing else: then its taste "
	    "tells what this did. \"afterboil sheet pale-8 -o sheet.html\"", "again" },
	{ "no beer yet", { .kind = AB_NEXT_BREW, .trial = &known },
	    "Next brew: brew with: A cold box (noted 1970-01-02).", "again" },
	{ "a trial of a beer that nobody brewed", { .kind = AB_NEXT_BREW, .trial = &other_line },
	    "Next brew: brew stout with: A cold box (noted 1970-01-02). Change nothing else: then its taste "
	    "tells what this did. \"afterboil new stout\" makes its journal.", "again" },
	{ "packaged, and no word of the yeast", { .kind = AB_NEXT_BREW, .batch = &no_pitch, .trial = &known },
	    "Next brew: brew pale again with: A cold box", "sheet" },
	{ "nothing to change", { .kind = AB_NEXT_SAME, .batch = &brewed, .item = -1 },
	    "Next brew: brew pale again and keep notes; there is nothing to change.", "noted" },
	{ "nothing tasted yet", { .kind = AB_NEXT_SAME, .batch = &brewed, .item = 1 },
	    "brew pale again and keep notes; before a beer of yours was tasted nobody can tell what to change, "
	    "only what is usual.", "nothing to change" },
	{ "a day to brew", { .kind = AB_NEXT_SAME, .batch = &coming, .due = &fixed, .item = -1 },
	    "Next brew: brew pale-8 on 1970-01-06 and keep notes; there is nothing to change.", "again" },
	{ "a free day to brew", { .kind = AB_NEXT_SAME, .batch = &brewed, .brew_s = 5 * 86400., .item = -1 },
	  "Next brew: brew pale again from 1970-01-06 on, your first free day for it, and keep notes; there is "
	  "nothing to change.", "it and" },
	{ "a day to brew that is over", { .kind = AB_NEXT_SAME, .batch = &coming, .due = &at_once, .item = -1 },
	    "Next brew: brew pale-8 now and keep notes", "again" },
	{ "after a trial", { .kind = AB_NEXT_AFTER, .item = 1 }, "After that: A cold box ($90).", "on trial" },
	{ "after a trial of what it is against", { .kind = AB_NEXT_AFTER, .item = 1, .under = &own },
	    "What it is against is on trial already (a new hose, noted 1970-01-02): "
	  "wait until the brews with that were tasted, it may be done then.", "changed --plan" },
};

START_TEST(says_what_to_do)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step step = todo[_i].step;
	bool tasted = step.batch != &coming;
	struct ab_diag diag;
	char *text = NULL;
	look.width = 400;
	brewed.pitch = titled.pitch = tasted ? &pitched : NULL;
	a.steps = &step;
	a.n_steps = 1;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_steps(&rc_rules, &a, 3, &look, &text, &diag), AB_OK);
	rc_has(todo[_i].title, text, todo[_i].want);
	rc_lacks(todo[_i].title, text, todo[_i].lacks);
	ab_report_free(text);
	text = report(&a, &look);
	rc_has(todo[_i].title, text, todo[_i].want);
	ab_report_free(text);
}
END_TEST

START_TEST(two_on_trial)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step two[] = { { .kind = AB_NEXT_BREW, .batch = &coming, .trial = &known },
	    { .kind = AB_NEXT_BREW, .batch = &coming, .trial = &own } };
	look.width = 400;
	a.steps = two;
	a.n_steps = 2;
	char *text = report(&a, &look);
	ck_assert_uint_eq(rc_times(text, "Change nothing else"), 1);
	rc_has("one after the other", text,
	    "2. Next brew: a new hose (noted 1970-01-02), in the brew after that: of two changes at once none "
	    "can be told");
	ab_report_free(text);
}
END_TEST

START_TEST(no_more_than_asked)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step three[] = { todo[0].step, todo[1].step,
		{ .kind = AB_NEXT_BEGIN, .item = 0, .batch = &coming } };
	struct ab_diag diag;
	char *text = NULL;
	a.steps = three;
	a.n_steps = 3;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_steps(&rc_rules, &a, 2, &look, &text, &diag), AB_OK);
	rc_has("the second", text, " 2. ");
	rc_lacks("the third", text, " 3. ");
	ab_report_free(text);
	text = report(&a, &look);
	rc_has("the third", text, " 3. Next brew, pale-8: Use the cellar");
	ab_report_free(text);
}
END_TEST

START_TEST(the_first_screen)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.reason = "It ferments too warm.";
	a.recurrences = NULL;
	char *text = report(&a, &look), *at = text;
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.n_batches = 0;
	a.reason = "Only what is usual.";
	char *text = report(&a, &look);
	ck_assert_uint_eq(rc_times(text, a.reason), 1);
	ck_assert(strstr(text, a.reason) < strstr(text, "Do this next"));
	ab_report_free(text);
}
END_TEST

/* What is begun with is begun alone, so it is told by what it does alone; that it outdoes what is free is said only
 * where the figures shown say so. The free one: 2 alone, 1.75 of the plan. */
static const struct { const char *title; double cost, gain, joint; bool outdoes; const char *want; } beginnings[] = {
	{ "less of the plan than alone", 90, 4.5, 1.25, true, "Takes 4.50 off a flaw load of 5.00 (0: no flaw)" },
	{ "twice is not more than twice", 90, 4, 3, false, "Takes 4.00 off a flaw load of 5.00" },
	{ "hardly more", 90, 2.5, 2.5, false, "Takes 2.50 off a flaw load of 5.00" },
	{ "no money", 0, 4.5, 1.25, false, "Takes 4.50 off a flaw load of 5.00" },
};

START_TEST(begun_alone)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step box[] = { { .kind = AB_NEXT_BEGIN, .item = 1, .cause = -1 } };
	items[1].cost = beginnings[_i].cost;
	items[1].gain = beginnings[_i].gain;
	items[1].joint_gain = beginnings[_i].joint;
	a.steps = box;
	a.next = 1;
	look.width = 200;
	char *text = report(&a, &look);
	rc_has(beginnings[_i].title, text, beginnings[_i].want);
	ck_assert_msg((strstr(text, "more than twice") != NULL) == beginnings[_i].outdoes, "%s:\n%s",
	    beginnings[_i].title, text);
	ab_report_free(text);
}
END_TEST

static struct ab_ask sniff = { .is_check = true, .check = RC_SNIFF, .minutes = 150, .cost = 2 },
		     shake = { .is_check = true, .check = RC_SHAKE, .minutes = 1 },
		     ask = { .slot = RC_PLACE, .minutes = 2 }, warmth = { .slot = RC_TEMP };
static const struct { const char *title; struct ab_ask *ask; const char *want; } firsts[] = {
	{ "a check that costs", &sniff,
	    "Does it smell? (about 2.5 hours, $2) Sniff. Then log \"check sniff yes\" (or no)." },
	{ "a free one without words", &shake,
	    "Shake it (about 1 minute, free) Then log \"check shake yes\" (or no).\n" },
	{ "a fact", &ask, "a place (about 2 minutes, free)\n" },
	{ "a fact, as its question", &warmth, "How warm was it? (only remembering, free)\n" },
};

START_TEST(says_what_to_check_first)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.first_check = firsts[_i].ask;
	char *text = report(&a, &look);
	rc_has(firsts[_i].title, text, firsts[_i].want);
	ab_report_free(text);
}
END_TEST

/* Who begins with a purchase for which there is money enough is told what helps out meanwhile. */
START_TEST(says_what_helps_out)
{
	static const struct ab_changed bought;
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	const char *want = "Until you have it: \"A cold box\", which costs nothing and brings about 50 % of it.";
	look.width = 400;
	items[1].gain = items[0].gain / 2;
	a.until = 1;
	char *text = report(&a, &look);
	rc_has("told", text, want);
	ab_report_free(text);
	items[0].begun = &bought;
	text = report(&a, &look);
	rc_lacks("it is there already", text, want);
	ab_report_free(text);
	a.until = -1;
	items[0].begun = NULL;
	text = report(&a, &look);
	rc_lacks("nothing helps out", text, want);
	ab_report_free(text);
}
END_TEST

/* Numbers in take and drop: 0 and 1 are changes, -1 nothing. */
static const struct { const char *title; int take[2], drop[2]; const char *want; } aheads[] = {
	{ "one for the other", { 1, -1 }, { 0, -1 },
	    "rather than \"Use the cellar\"; if no: buy as planned. Waiting for the answer takes 0.25 more off." },
	{ "something less", { -1, -1 }, { -1, 0 },
	    "If yes (likely 20 %): buy as planned; if no: leave out \"Use the cellar\"." },
	{ "something more", { 0, -1 }, { -1, -1 },
	    "If yes (likely 20 %): buy \"Use the cellar\" as well; if no: buy as planned." },
};

START_TEST(says_spend_nothing_yet)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.first_check = &shake;
	a.ahead = (struct ab_ahead){ &shake, NULL, 0.2, 0.25, 1, { aheads[_i].take[0], aheads[_i].take[1] },
	    { aheads[_i].drop[0], aheads[_i].drop[1] }, true };
	look.width = 200;
	char *text = report(&a, &look);
	rc_has(aheads[_i].title, text, "Spend nothing yet: do this first\n");
	rc_has(aheads[_i].title, text, aheads[_i].want);
	rc_lacks(aheads[_i].title, text, "Check first, before you spend");
	ab_report_free(text);
	look.format = AB_JSON;
	text = report(&a, &look);
	rc_has(aheads[_i].title, text, "\"worth\": 0.25");
	rc_has(aheads[_i].title, text, "\"first\": true");
	ab_report_free(text);
}
END_TEST

/* How an answer is told: what the fact is then. */
static const struct ab_net_question told_apart;
static struct ab_ask where = { .slot = RC_PLACE, .question = &told_apart, .weighed = RC_PLACE, .answer = { 1, 0 } },
	how_warm = { .slot = RC_TEMP, .question = &told_apart, .weighed = RC_OVER, .answer = { 6, -1 } };
static const struct { const char *title; struct ab_ask *ask; const char *want, *json; } answers[] = {
	{ "a word", &where, "If \"a place: attic\" (likely 20 %): buy as planned; if \"a place: ",
	    "\"answer\": \"attic\"" },
	{ "a number, by another", &how_warm, "How warm was it? (only remembering, free) If \"warmth over the "
	    "range\" is high, like 6 K (likely 20 %): buy as planned; "
	  "if \"warmth over the range\" is low, like -1 K: leave out \"Use the cellar\".", "\"answer\": 6" },
};

START_TEST(says_what_to_answer)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT);
	const struct ab_batch asked = { .id = "pale-7", .source = "pale-7.xml" };
	a.first_check = answers[_i].ask;
	a.ahead = (struct ab_ahead){ answers[_i].ask, &asked, 0.2, 0.25, 1, { -1, -1 }, { -1, 0 }, true };
	look.width = 500;
	char *text = report(&a, &look);
	rc_has(answers[_i].title, text, "Spend nothing yet: answer this first\n");
	rc_has(answers[_i].title, text, answers[_i].want);
	rc_has(answers[_i].title, text, "\"afterboil interview pale-7.xml\" asks it and writes the answer down.");
	ab_report_free(text);
	look.format = AB_JSON;
	text = report(&a, &look);
	rc_has(answers[_i].title, text, "\"check\": null");
	rc_has(answers[_i].title, text, answers[_i].json);
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_JSON);
	a.gap = 0.25;
	json_t *root = rc_json(report(&a, &look)), *at = json_object_get(root, figures[_i].key);
	ck_assert_msg(json_is_real(at) && json_real_value(at) == figures[_i].want, "%s", figures[_i].title);
	json_decref(root);
}
END_TEST

START_TEST(items_as_data)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_JSON);
	a.hot_side = true;
	json_t *root = rc_json(report(&a, &look)), *ranked = json_object_get(root, "ranked");
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
	struct ab_advice a = full(items);
	struct ab_look look = rc_look(AB_TEXT), data = rc_look(AB_JSON);
	char *text;

	look.width = 300;
	a.turned = togethers[_i].turned;
	a.unsettled = togethers[_i].unsettled;
	text = report(&a, &look);
	rc_has(togethers[_i].title, text, togethers[_i].want);
	rc_lacks(togethers[_i].title, text, togethers[_i].not_there);
	ab_report_free(text);
	json_t *root = rc_json(report(&a, &data)), *turned = json_object_get(root, "turned");
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
	tcase_add_loop_test(tc, says_what_to_check_first, 0, sizeof firsts / sizeof *firsts);
	tcase_add_test(tc, says_what_helps_out);
	tcase_add_loop_test(tc, says_what_to_answer, 0, sizeof answers / sizeof *answers);
	tcase_add_loop_test(tc, says_spend_nothing_yet, 0, sizeof aheads / sizeof *aheads);
	tcase_add_loop_test(tc, says_what_they_say_together, 0, sizeof togethers / sizeof *togethers);
	tcase_add_loop_test(tc, figures_as_data, 0, sizeof figures / sizeof *figures);
}

int main(void)
{
	Suite *s = suite_create("report_advice");
	TCase *tc = tcase_create("report_advice");
	json_set_alloc_funcs(ab_malloc, ab_free);
	add_rows(tc);
	tcase_add_loop_test(tc, says_what_to_do, 0, sizeof todo / sizeof *todo);
	tcase_add_test(tc, two_on_trial);
	tcase_add_test(tc, no_more_than_asked);
	tcase_add_test(tc, the_first_screen);
	tcase_add_test(tc, no_beer_of_theirs);
	tcase_add_loop_test(tc, begun_alone, 0, sizeof beginnings / sizeof *beginnings);
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
