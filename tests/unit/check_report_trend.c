/* check_report_trend.c - the trend on the screen: lines, odds, counts, what the bad batches share; and the same as data
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/elimination.h>
#include <afterboil/revise.h>
#include "base/alloc.h"

#define DAY 86400.0
enum { MANY = 35 };

static const double clean[RC_FAULTS] = { 0 }, mixed[RC_FAULTS] = { 1, 4, 3, 2, 0.5 },
		    equal[RC_FAULTS] = { 2, 0, 2, 0, 0 };
static const char *const one_change[] = { "cellar" }, *const three_changes[] = { "cellar", "box", "something of mine" };
static const struct ab_trend_batch three[] = {
	{ .id = "a", .line = "pale", .brewed_s = 0, .tasted = true, .load = 10.5, .load_low = 9, .load_high = 12,
	    .fault_load = mixed },
	{ .id = "b", .line = "pale", .brewed_s = DAY, .tasted = true, .load = 0, .load_low = 0, .load_high = 1,
	    .fault_load = clean, .changes = one_change, .n_changes = 1 },
	{ .id = "c", .brewed_s = 2 * DAY, .load = NAN, .load_low = NAN, .load_high = NAN, .fault_load = clean,
	    .changes = three_changes, .n_changes = 3 },
};
static const struct ab_trend nothing = { .n_batches = 3, .slope_per_batch = NAN, .slope_low = NAN, .slope_high = NAN };

static char *report(
    const struct ab_trend_batch *batches, size_t n, const struct ab_trend *t, const struct ab_look *look)
{
	static const struct ab_promise promises[] = { { "box", 9, 8, true }, { "cellar", 5, 2.25, true },
	    { "plan", 7, 1, false } };
	struct ab_diag diag;
	char *text = NULL;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_trend(&rc_rules, batches, n, t, promises, 3, look, &text, &diag), AB_OK);
	return text;
}

/* ---- the batches ---- */

static const struct { const char *title, *want; } rows[] = {
	{ "the heaviest three faults, heaviest first",
	    "a      1970-01-01  10.5  ############     DMS; sour milk; wet paper\n" },
	{ "one without a flaw", "b      1970-01-02   0.0  ............  *  none\n" },
	{ "one with no more than it is meant to have",
	    "d      1970-01-01   0.0  ............  none (DMS, as such a beer may be)\n" },
	{ "one not tasted has no load and no bar", "c      1970-01-03     -  *3  not tasted yet\n" },
	{ "a batch of no line", "One-off batches" },
	{ "a line", "Line: pale" },
	{ "all together, as a spark: full, none, blank", "over 3 batches  #_\n" },
	{ "how many were tasted", "2 batches tasted so far" },
};

START_TEST(says_batches)
{
	struct ab_look look = rc_look(AB_TEXT);
	static const double sweetcorn[RC_FAULTS] = { [RC_DMS] = 1 };
	struct ab_trend_batch four[] = { three[0], three[1], three[2],
		{ .id = "d", .tasted = true, .line = "pils", .fault_load = clean, .fault_intensity = sweetcorn } };
	char *text = report(strncmp(rows[_i].want, "d ", 2) == 0 ? four : three,
	    strncmp(rows[_i].want, "d ", 2) == 0 ? 4 : 3, &nothing, &look);
	rc_has(rows[_i].title, text, rows[_i].want);
	rc_lacks("no change, no heading", text, "Did the changes help?");
	rc_lacks("nothing in common, no heading", text, "share");
	ab_report_free(text);
}
END_TEST

START_TEST(equal_faults_come_in_order_of_the_rules)
{
	struct ab_trend_batch one[] = { { .id = "a", .tasted = true, .load = 4, .fault_load = equal } };
	struct ab_look look = rc_look(AB_TEXT);
	char *text = report(one, 1, &nothing, &look);
	rc_has("equal", text, "butter; sour milk\n");
	rc_has("one", text, "Flaw load over 1 batch ");
	ab_report_free(text);
}
END_TEST

/* Twelve rows a line; the older ones are counted, and shown when all is asked for. */
START_TEST(long_lines_are_cut)
{
	struct ab_trend_batch batches[MANY];
	char ids[MANY][8];
	struct ab_look look = rc_look(AB_TEXT);
	for (int i = 0; i < MANY; i++) {
		snprintf(ids[i], sizeof ids[i], "n%02d", i);
		batches[i] = (struct ab_trend_batch){ .id = ids[i],
			.line = i % 5 == 4 ? "ale" : "pale",
			.brewed_s = i * DAY,
			.tasted = true,
			.load = i == 4 ? 0 : 7,
			.fault_load = clean };
	}
	char *text = report(batches, MANY, &nothing, &look);
	rc_lacks("the 17th from the end", text, "n18 ");
	rc_has("twelve of 28 pale", text, "n21 ");
	rc_has("28 less 12", text, "(16 older; --all shows them)");
	rc_has("seven of the other line are no more than twelve", text, "n04 ");
	ck_assert_uint_eq(rc_times(text, "older; --all"), 1);
	rc_before("lines come as they first occur", text, "Line: pale", "Line: ale");
	rc_has("the spark holds the newest 30", text, "over 35 batches  ##############################\n");
	ab_report_free(text);
	look.verbose = true;
	text = report(batches, MANY, &nothing, &look);
	rc_has("all", text, "n00 ");
	rc_lacks("all", text, "older");
	ab_report_free(text);
}
END_TEST

/* ---- the slope ---- */

static const struct { const char *title; double slope, low, high; const char *want; } slopes[] = {
	{ "better", -0.5, -0.8, -0.125, "Your beer is getting better: each batch 0.50 lighter than the one "
	    "before (likely between 0.13 lighter and 0.80 lighter)" },
	{ "worse", 0.5, 0.1, 0.8, "Your beer is getting worse: each batch 0.50 heavier than the one before "
	    "(likely between 0.80 heavier and 0.10 heavier)" },
	{ "not clear", -0.5, -0.8, 0.1, "No clear trend yet: each batch 0.5" },
	{ "up to none is not clear", -0.5, -0.8, 0, "No clear trend yet" },
	{ "from none on is not clear", 0.5, 0, 0.8, "No clear trend yet" },
	{ "not to be told", NAN, NAN, NAN, "from four on" },
};

START_TEST(says_slope)
{
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);
	t.slope_per_batch = slopes[_i].slope;
	t.slope_low = slopes[_i].low;
	t.slope_high = slopes[_i].high;
	char *text = report(three, 3, &t, &look);
	rc_has(slopes[_i].title, text, slopes[_i].want);
	ab_report_free(text);
}
END_TEST

/* ---- a change ---- */

static struct ab_fault_shift shifts[] = { { RC_BUTTER, 3, 1, 0.8, -2, 0, 0 }, { RC_SOUR, 1, 2, 0.3, 1, 0, 0 },
	{ RC_DMS, 1, 1, 0.5, 0, 1, 2 }, { RC_HAZE, 0, 1, 0.2, 0.1, 0, 0 } };
static const struct ab_trend_change moved = { .id = "cellar",
	.line = "pale",
	.date_s = DAY,
	.n_before = 3,
	.n_after = 2,
	.before = 8,
	.after = 2.25,
	.p_better = 0.95,
	.low = -1,
	.high = 9.5,
	.more_needed = 0,
	.faults = shifts,
	.n_faults = 4 };

static const struct { const char *title; struct ab_trend_change c; const char *want, *not_there; } changes[] = {
	{ "its title, date and line", { .id = "cellar", .line = "pale", .date_s = DAY },
	    "Use the cellar, from 1970-01-02, line pale.", "all lines" },
	{ "over all lines", { .id = "cellar", .date_s = DAY }, "Use the cellar, from 1970-01-02, all lines.",
	    "line ." },
	{ "one the rules do not know", { .id = "a new kettle" }, "a new kettle, from", "Promised" },
	{ "nothing known", { .id = "x", .p_better = NAN },
	    "Mean load unknown before (0 batches), unknown after (0 batches).", "nan" },
	{ "nothing since", { .id = "x", .n_before = 3, .p_better = NAN }, "stays open", "Too few" },
	{ "too few", { .id = "x", .n_before = 1, .n_after = 1, .p_better = NAN }, "Too few", "stays open" },
	{ "means and counts", { .id = "x", .n_before = 3, .n_after = 1, .before = 8, .after = 2.25 },
	    "Mean load 8.0 before (3 batches), 2.3 after (1 batch).", "unknown" },
	{ "better, and its range", { .id = "x", .p_better = 0.95, .low = -1, .high = 9.5 },
	    "chance of 95 %; likely between 1.0 heavier and 9.5 lighter.", "cannot be told" },
	{ "a range on one side", { .id = "x", .p_better = 0.99, .low = 1, .high = 9.5 },
	    "between 1.0 lighter and 9.5 lighter", "heavier" },
	{ "with another one", { .id = "x", .together = true, .p_better = 0.5 }, "cannot be told apart",
	    "To settle it" },
	{ "one more batch", { .id = "x", .p_better = 0.7, .more_needed = 1 }, "1 tasted batch more",
	    "1 tasted batches" },
	{ "more batches", { .id = "x", .p_better = 0.7, .more_needed = 9 }, "9 tasted batches more", "cannot be told" },
	{ "enough", { .id = "x", .p_better = 0.7, .more_needed = 0 }, "70 %", "To settle it" },
	{ "how many cannot be told", { .id = "x", .p_better = 0.7, .more_needed = SIZE_MAX }, "cannot be told yet",
	    "To settle it" },
	{ "no odds, no count", { .id = "x", .p_better = NAN, .more_needed = 4 }, "stays open", "4 tasted" },
	{ "what was promised for it", { .id = "cellar" }, "from 5.0 to 2.3.", "from 9.0" },
	{ "by itself", { .id = "cellar" }, "by itself: from 5.0", "whole plan" },
	{ "of an older store: with the whole plan", { .id = "plan" }, "with the whole plan: from 7.0 to 1.0.",
	    "by itself" },
	{ "not what was promised for another", { .id = "tube" }, "A new tube", "Promised" },
};

START_TEST(says_change)
{
	struct ab_trend t = nothing;
	struct ab_trend_change c = changes[_i].c;
	struct ab_look look = rc_look(AB_TEXT);
	t.changes = &c;
	t.n_changes = 1;
	char *text = report(three, 3, &t, &look);
	rc_has(changes[_i].title, text, changes[_i].want);
	rc_lacks(changes[_i].title, text, changes[_i].not_there);
	ab_report_free(text);
}
END_TEST

/* p with the drift taken out, and how many batches before and after: of fewer than eight no colour says it helped */
static const struct { const char *title; double p; size_t sides; const char *on; } tones[] = {
	{ "from 90 % on it is good", 0.9, 4, "\033[36mBetter" }, { "below it is plain", 0.89, 4, ". Better" },
	{ "down to 10 % it is bad", 0.1, 4, "\033[35mBetter" }, { "above it is plain", 0.11, 4, ". Better" },
	{ "too few for a colour", 0.99, 3, ". Better" },
};

START_TEST(colours_follow_the_odds)
{
	struct ab_trend t = nothing;
	struct ab_trend_change c = moved;
	struct ab_look look = rc_look(AB_TEXT);
	c.p_better = tones[_i].sides < 4 ? 0.99 : 0.5;   /* as it stands: no matter */
	c.n_before = c.n_after = tones[_i].sides;
	c.allowed = (struct ab_trend_allowed){ 1, tones[_i].p, -1, 3 };
	t.changes = &c;
	t.n_changes = 1;
	look.color = true;
	char *text = report(three, 3, &t, &look);
	rc_has(tones[_i].title, text, tones[_i].on);
	ab_report_free(text);
}
END_TEST

START_TEST(faults_before_and_after)
{
	struct ab_trend t = nothing;
	struct ab_trend_change c = moved;
	struct ab_look look = rc_look(AB_TEXT);
	t.changes = &c;
	t.n_changes = 1;
	char *text = report(three, 3, &t, &look);
	rc_has("counts", text, "    Butter: a flaw in 3 of 3 before, 1 of 2 after\n");
	rc_before("in the order given", text, "Butter: a flaw", "Sour milk: a flaw in 1 of 3 before, 2 of 2 after");
	rc_has("three of them", text,
	    "DMS: a flaw in 1 of 3 before, 1 of 2 after; there, but no more than such a beer may have, in 1 "
	    "before, 2 after\n");
	rc_lacks("not the fourth", text, "Haze: a flaw");
	ab_report_free(text);
	look.verbose = true;
	text = report(three, 3, &t, &look);
	rc_has("all when asked for", text, "Haze: a flaw in 0 of 3 before, 1 of 2 after");
	ab_report_free(text);
	c.n_before = 0;
	text = report(three, 3, &t, &look);
	rc_lacks("one side says nothing", text, "Butter: a flaw");
	ab_report_free(text);
}
END_TEST

/* ---- what is left ---- */

static struct ab_elim_thing open_things[] = { { "hose", "H1", 3, 0, 2 }, { "vessel", "red", 3, 1, 2 },
    { "water", "tap", 3, 2, 2 } },
	out_things[] = { { "yeast lot", "A, B", 3, 0, 0 } };
static struct ab_elim_cause may[] = { { RC_WARM, 0.4, NULL } }, may_not[] = { { RC_DIRT, 0.02, "b" } };
static const struct { const char *title; size_t n_left, n_out, n_causes, n_out_causes; const char *has, *lacks;
    } lefts[] = {
	{ "how often", 3, 1, 1, 1, "DMS came in 3 of 5 tasted batches since a.", "No piece of kit" },
	{ "what is out", 3, 1, 1, 1, "Not one of these alone, for it came with each: yeast lot (A, B).", NULL },
	{ "what every clean one had", 3, 1, 1, 1, "Not this by itself, for clean ones had it, too: water tap.", NULL },
	{ "what is left", 3, 1, 1, 1, "The same every time, so still open: hose H1 (in none of 2 clean ones); "
	    "vessel red (in 1 of 2 clean ones, too).", "No piece" },
	{ "causes", 3, 1, 1, 1, "May have done it every time: too warm (40 % or more to blame in each).", NULL },
	{ "causes that are out", 3, 1, 1, 1, "Not this every time: dirt (2 % to blame in b).", NULL },
	{ "what to do", 3, 1, 1, 1, "Next brew: change one thing that is still open", NULL },
	{ "nothing with a name", 0, 0, 1, 0, "No piece of kit that has a name", "Next brew: change" },
	{ "nothing", 0, 0, 0, 0, "", "What is left of the suspects" },
};

START_TEST(says_what_is_left)
{
	struct ab_elimination e = { .fault = RC_DMS,
		.since = "a",
		.with = 3,
		.tasted = 5,
		.left = open_things,
		.out = out_things,
		.causes = may,
		.out_causes = may_not,
		.n_left = lefts[_i].n_left,
		.n_out = lefts[_i].n_out,
		.n_causes = lefts[_i].n_causes,
		.n_out_causes = lefts[_i].n_out_causes };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);
	look.width = 200;
	t.elimination = &e;
	char *text = report(three, 3, &t, &look);
	rc_has(lefts[_i].title, text, lefts[_i].has);
	if (lefts[_i].lacks != NULL)
		rc_lacks(lefts[_i].title, text, lefts[_i].lacks);
	ab_report_free(text);
}
END_TEST

/* ---- what the bad batches share ---- */

static const struct { const char *title; double p, adjusted; bool all, told, chance; } commons[] = {
	{ "telling", 0.01, 0.05, false, true, false },
	{ "just telling", 0.1, 0.1, false, true, false },
	{ "not telling", 0.11, 0.2, false, false, false },
	{ "not telling, but asked for", 0.11, 0.2, true, true, true },
	{ "telling, were it the only one", 0.05, 0.101, false, true, true },
};

START_TEST(says_common)
{
	struct ab_common c[] = { { "fermenter", "F2", 3, 4, 1, 5, commons[_i].p, commons[_i].adjusted, 0.001,
	    NULL, NULL } };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);
	t.common = c;
	t.n_common = 1;
	look.verbose = commons[_i].all;
	char *text = report(three, 3, &t, &look);
	(commons[_i].told ? rc_has : rc_lacks)(
	    commons[_i].title, text, "fermenter F2: in 3 of 4 bad batches, 1 of 5 good ones.");
	(commons[_i].told ? rc_lacks : rc_has)(commons[_i].title, text, "Nothing stands out");
	(commons[_i].chance ? rc_has : rc_lacks)(commons[_i].title, text, "may well be chance");
	ab_report_free(text);
}
END_TEST

/* What always comes together is named together; and where nothing could stand out, that is said instead. */
START_TEST(says_what_cannot_be_told_apart)
{
	struct ab_common c[] = { { "fermenter", "F2", 3, 4, 1, 5, 0.01, 0.02, 0.001, "yeast lot 7", NULL } };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);
	t.common = c;
	t.n_common = 1;
	char *text = report(three, 3, &t, &look);
	rc_has("both", text, "fermenter F2 (with it always: yeast lot 7): in 3 of 4 bad batches");
	ab_report_free(text);
	c[0].p = c[0].p_adjusted = 0.4;
	c[0].p_least = 0.06;
	text = report(three, 3, &t, &look);
	rc_has("too few", text, "With so few batches nothing could stand out from chance yet.");
	rc_lacks("too few", text, "Nothing stands out");
	ab_report_free(text);
}
END_TEST

/* Two names of one vessel are told as one find; the page has its names in words. */
START_TEST(what_goes_with_a_clearer_one)
{
	struct ab_common c[] = { { "vessel", "F1", 4, 4, 0, 5, 0.008, 0.01, 0.001, NULL, NULL },
	    { "vessel", "shared", 4, 4, 1, 5, 0.05, 0.06, 0.001, NULL, NULL } };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);

	look.width = 200;
	c[1].beside = &c[0];
	t.common = c;
	t.n_common = 2;
	char *text = report(three, 3, &t, &look);
	rc_has("told", text, "vessel shared (in 4 of 4 bad, 1 of 5 good) goes with nearly the same");
	rc_has("told", text, "one find, not");
	rc_lacks("but not as a find", text, "vessel shared: in");
	rc_has("the clearer one", text, "vessel F1: in 4 of 4 bad batches");
	ab_report_free(text);
}
END_TEST

START_TEST(three_in_common_are_enough)
{
	struct ab_common c[] = { { "a", "1", 3, 3, 0, 4, 0.01, 0.02, 0.01, NULL, NULL }, { "b", "2", 3, 3, 0,
	    4, 0.01, 0.02, 0.01, NULL, NULL }, { "c", "3", 3, 3, 0, 4, 0.01, 0.02, 0.01, NULL, NULL },
		{ "d", "4", 3, 3, 0, 4, 0.01, 0.02, 0.01, NULL, NULL } };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_TEXT);
	t.common = c;
	t.n_common = 4;
	char *text = report(three, 3, &t, &look);
	ck_assert_uint_eq(rc_times(text, "By chance alone this often: 2 %"), 3);
	rc_lacks("the least", text, "d 4");
	ab_report_free(text);
}
END_TEST

/* ---- as data ---- */

START_TEST(batches_as_data)
{
	struct ab_look look = rc_look(AB_JSON);
	json_t *root = rc_json(report(three, 3, &nothing, &look)), *batches = json_object_get(root, "batches"),
	       *a = json_array_get(batches, 0), *b = json_array_get(batches, 1), *c = json_array_get(batches, 2);
	const char *brewed, *change;
	int tasted;
	ck_assert_uint_eq(json_array_size(batches), 3);
	ck_assert_str_eq(rc_keys(json_object_get(a, "faults")), "butter dms sour paper haze");
	ck_assert_double_eq(json_real_value(json_object_get(json_object_get(a, "faults"), "haze")), 0.5);
	ck_assert_uint_eq(json_object_size(json_object_get(b, "faults")), 0);
	ck_assert_int_eq(
	    json_unpack(b, "{s:s,s:b,s:[s!]}", "brewed", &brewed, "tasted", &tasted, "changes", &change), 0);
	ck_assert(tasted && strcmp(brewed, "1970-01-02") == 0 && strcmp(change, "cellar") == 0);
	ck_assert_int_eq(
	    json_unpack(c, "{s:b,s:n,s:n,s:n,s:n}", "tasted", &tasted, "load", "load_low", "load_high", "line"), 0);
	ck_assert(!tasted);
	ck_assert_double_eq(json_real_value(json_object_get(a, "load_low")), 9);
	ck_assert_double_eq(json_real_value(json_object_get(a, "load_high")), 12);
	ck_assert(json_is_null(json_object_get(root, "slope_per_batch")) &&
	    json_is_null(json_object_get(root, "slope_low")));
	json_decref(root);
}
END_TEST

START_TEST(changes_as_data)
{
	struct ab_trend t = nothing;
	struct ab_trend_change c[] = { moved,
		{ .id = "x", .p_better = NAN, .more_needed = SIZE_MAX, .together = true } };
	struct ab_look look = rc_look(AB_JSON);
	t.changes = c;
	t.n_changes = 2;
	t.slope_per_batch = -0.25;
	json_t *root = rc_json(report(three, 3, &t, &look)),
	       *first = json_array_get(json_object_get(root, "changes"), 0);
	double before, after, low, high, from, to;
	int n_before, n_after, needed, with, without, together;
	ck_assert_int_eq(
	    json_unpack(first, "{s:F,s:F,s:F,s:F,s:i,s:i,s:i,s:b,s:{s:F,s:F}}", "before", &before, "after", &after,
		"low", &low, "high", &high, "n_before", &n_before, "n_after", &n_after, "more_needed", &needed,
		"together", &together, "promised", "before", &from, "after", &to),
	    0);
	ck_assert(before == 8 && after == 2.25 && low == -1 && high == 9.5 && from == 5 && to == 2.25);
	ck_assert(n_before == 3 && n_after == 2 && needed == 0 && !together);
	ck_assert_uint_eq(json_array_size(json_object_get(first, "faults")), 4);
	ck_assert_int_eq(json_unpack(json_array_get(json_object_get(first, "faults"), 1), "{s:i,s:i}",
			     "before_with", &with, "after_with", &without),
	    0);
	ck_assert(with == 1 && without == 2);
	ck_assert_int_eq(json_unpack(json_array_get(json_object_get(root, "changes"), 1), "{s:n,s:n,s:n,s:b,s:n}",
			     "p_better", "more_needed", "promised", "together", &together, "line"),
	    0);
	ck_assert(together);
	ck_assert_double_eq(json_real_value(json_object_get(root, "slope_per_batch")), -0.25);
	json_decref(root);
}
END_TEST

START_TEST(common_as_data)
{
	struct ab_common c[] = { { "fermenter", "F2", 3, 4, 1, 5, 0.5, 0.75, 0.125, NULL, NULL } };
	struct ab_trend t = nothing;
	struct ab_look look = rc_look(AB_JSON);
	int bad, bad_all, good, good_all;
	double p, adjusted, least;
	t.common = c;
	t.n_common = 1;
	json_t *root = rc_json(report(three, 3, &t, &look));
	ck_assert_int_eq(
	    json_unpack(root, "{s:[{s:i,s:i,s:i,s:i,s:F,s:F,s:F}!]}", "common", "bad", &bad, "bad_all", &bad_all,
		"good", &good, "good_all", &good_all, "p", &p, "p_adjusted", &adjusted, "p_least", &least),
	    0);
	ck_assert(bad == 3 && bad_all == 4 && good == 1 && good_all == 5 && p == 0.5 && adjusted == 0.75 &&
	    least == 0.125);
	json_decref(root);
}
END_TEST

/* ---- verdicts looked at again ---- */

static const struct { struct ab_revision r; const char *want[3]; } revised[] = {
	{ { .line = "pale", .batch = "a", .fault = 0, .cause = 0, .before = 0.62, .after = 0.21, .leader = 1,
	    .leader_before = 0.3, .leader_after = 0.6,
	  .later = 3, .came_without = 3, .found = 3, .acted = true }, {
	  "Since then, with a change made against it,", "the fault came in 3 of 3 batches; in 3 of them that "
	  "cause should hardly have been there",
	  "It is now less likely: 21 %, was 62 %." } },
	{ { .line = "pale", .batch = "a", .fault = 0, .cause = 0, .before = 0.5, .after = 0.1, .leader = -1,
	    .leader_before = 0.1, .leader_after = 0.7,
	  .later = 1, .stayed_away = 1 }, { "Since then, the fault came in 0 of 1 batch; in 1 the cause was "
	  "likely there and the fault was not",
	  "now less likely: 10 %, was 50 %", "Something the rules do not name leads (70 %, was 10 %)" } },
};

START_TEST(revision)
{
	struct ab_trend t = nothing;
	const struct ab_look look = { .format = AB_TEXT, .width = 200 }, json = { .format = AB_JSON, .width = 80 };

	t.revisions = &revised[_i].r;
	t.n_revisions = 1;
	char *text = report(three, 3, &t, &look);
	ck_assert_ptr_nonnull(strstr(text, "What looks different now"));
	char flat[8192];
	size_t n = 0;
	for (const char *c = text; *c != '\0' && n + 1 < sizeof flat; c++)   /* as one line */
		if (*c != ' ' && *c != '\n')
			flat[n++] = *c;
		else if (n > 0 && flat[n - 1] != ' ')
			flat[n++] = ' ';
	flat[n] = '\0';
	for (int i = 0; i < 3; i++)
		ck_assert_msg(strstr(flat, revised[_i].want[i]) != NULL, "%s: not in %s", revised[_i].want[i], flat);
	ab_report_free(text);
	text = report(three, 3, &t, &json);
	ck_assert_ptr_nonnull(strstr(text, "\"revised\""));
	ck_assert((strstr(text, "\"leader\": null") != NULL) == (revised[_i].r.leader < 0));
	ab_report_free(text);
	text = report(three, 3, &nothing, &look);
	ck_assert_ptr_null(strstr(text, "What looks different now"));
	ab_report_free(text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_trend");
	TCase *tc = tcase_create("report_trend");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, says_batches, 0, sizeof rows / sizeof *rows);
	tcase_add_test(tc, equal_faults_come_in_order_of_the_rules);
	tcase_add_test(tc, long_lines_are_cut);
	tcase_add_loop_test(tc, says_slope, 0, sizeof slopes / sizeof *slopes);
	tcase_add_loop_test(tc, says_change, 0, sizeof changes / sizeof *changes);
	tcase_add_loop_test(tc, colours_follow_the_odds, 0, sizeof tones / sizeof *tones);
	tcase_add_test(tc, faults_before_and_after);
	tcase_add_loop_test(tc, says_what_is_left, 0, sizeof lefts / sizeof *lefts);
	tcase_add_loop_test(tc, says_common, 0, sizeof commons / sizeof *commons);
	tcase_add_test(tc, says_what_cannot_be_told_apart);
	tcase_add_test(tc, what_goes_with_a_clearer_one);
	tcase_add_test(tc, three_in_common_are_enough);
	tcase_add_test(tc, batches_as_data);
	tcase_add_test(tc, changes_as_data);
	tcase_add_test(tc, common_as_data);
	tcase_add_loop_test(tc, revision, 0, sizeof revised / sizeof *revised);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
