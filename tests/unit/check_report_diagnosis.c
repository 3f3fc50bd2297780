/* check_report_diagnosis.c - how much of a diagnosis one screen holds, where its thresholds lie, and that its
 * figures are those of the data
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <string.h>

#include "base/alloc.h"

/* ---- as much as fits: each list has its limit, and none when everything is asked for ---- */

static struct ab_reason pro[] = { { .slot = 0, .text = "pro one" }, { .slot = 0, .text = "pro two",
    .blame_without = 0.1 },
	{ .slot = 0, .text = "pro three" }, { .slot = 0, .text = "pro four" }, { .slot = 0, .text = "pro five" } };
static struct ab_reason con[] = { { .slot = 0, .text = "con one", .blame_without = 0.95 },
    { .slot = 0, .text = "con two", .blame_without = 0.9 },
	{ .slot = 0, .text = "con three", .blame_without = 0.9 },
	{ .slot = 0, .text = "con four", .blame_without = 0.9 } };
static const struct ab_suspect many[] = {
	{ .cause = RC_WARM, .blame = 0.62, .blame_low = 0.48, .blame_high = 0.74, .pro = pro, .n_pro = 5,
	    .con = con, .n_con = 4 },
	{ .cause = RC_COLD, .blame = 0.31, .blame_low = 0.2, .blame_high = 0.4 },
	{ .cause = RC_YOUNG, .blame = 0.2, .blame_low = 0.2, .blame_high = 0.2 },
	{ .cause = RC_DIRT, .blame = 0.1, .blame_low = 0.1, .blame_high = 0.1 },
	{ .cause = RC_AIR, .blame = 0.004, .blame_low = 0.004, .blame_high = 0.004 },
};
static int risks[] = { RC_COLD, RC_DIRT, RC_AIR, RC_YOUNG },
	   unknown[] = { RC_TEMP, RC_OVER, RC_VOLUME, RC_HEIGHT, RC_PRESSURE, RC_SG };
static struct ab_ask asks[] = { { .slot = RC_TEMP, .bits = 0.4 }, { .is_check = true, .check = RC_SNIFF,
    .bits = 0.3, .minutes = 150, .cost = 2, .wait_days = 1 },
	{ .slot = RC_FLAG, .bits = 0.2, .minutes = 1, .wait_days = 2.6 } };

static void crowded(struct ab_case *c, struct ab_diagnosis *d, struct ab_suspect suspects[5])
{
	rc_case(c, d);
	memcpy(suspects, many, sizeof many);
	d->suspects = suspects;
	d->n_suspects = 5;
	d->risks = risks;
	d->n_risks = 4;
	d->unknown = unknown;
	d->n_unknown = 6;
	d->asks = asks;
	d->n_asks = 3;
}

static const struct { const char *title, *last, *left_out; } limits[] = {
	{ "reasons for it", "+ pro four (without", "pro five" },
	{ "reasons against it", "- con three (without", "con four" },
	{ "other suspects", "Dirt", "under 1 %" },
	{ "risks", "~ Air (perhaps: 31 %)", "~ Only young" },
	{ "questions", "2. Does it smell?", "3. Was it so?" },
	{ "what is unknown", "A height? A pressure? And 1 more.", "A gravity?" },
};

START_TEST(lists_end)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	char *text = rc_diagnosis(&c, &look);
	rc_has(limits[_i].title, text, limits[_i].last);
	rc_lacks(limits[_i].title, text, limits[_i].left_out);
	ab_report_free(text);
	look.verbose = true;
	text = rc_diagnosis(&c, &look);
	rc_has("everything is shown when asked for", text, limits[_i].left_out);
	ab_report_free(text);
}
END_TEST

/* ---- what is said about one thing ---- */

static const struct { const char *title, *want; } said[] = {
	{ "blame, counted in batches, and its range",
	    "62 %: of 100 batches like this one, about 62 owe what was found to it (likely 48 to 74)" },
	{ "grades of what was found", "butter: strong; DMS: slight." },
	{ "a suspect's range", "likely 20 to 40 %" },
	{ "a harmless suspect is marked", "Only young (harmless)" },
	{ "a question that costs nothing", "1. How warm was it? (only remembering, free)" },
	{ "a check with time, money and a day to wait",
	    "2. Does it smell? (about 2.5 hours, $2, answer after 1 day) Sniff." },
	{ "the second cause is worth a word from 30 % on", "* Warm it." },
	{ "the heading: id, line, date", "batch b7, pale, brewed 1970-01-02, no style family given" },
};

START_TEST(says)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	char *text = rc_diagnosis(&c, &look);
	rc_has(said[_i].title, text, said[_i].want);
	ck_assert_msg(rc_times(text, said[_i].want) == 1, "%s: more than once in\n%s", said[_i].title, text);
	ab_report_free(text);
}
END_TEST

/* ---- thresholds, a row for either side ---- */

static const struct { const char *title; double first, second; const char *part; bool there; } advised[] = {
	{ "below 30 % the second cause gives no advice", 0.6, 0.299, "* Warm it.", false },
	{ "from 30 % on it does", 0.6, 0.3, "* Warm it.", true },
	{ "the first one does however low", 0.1, 0.05, "* Keep it cool.", true },
	{ "below 30 % nothing stands out", 0.299, 0.1, "No single cause stands out", true },
	{ "from 30 % on something does", 0.3, 0.1, "No single cause stands out", false },
	{ "two blamed make a story", 0.6, 0.2, "single story", true },
	{ "below 20 % it is no part of it", 0.6, 0.199, "single story", false },
};

START_TEST(thresholds)
{
	static int story[] = { RC_WARM, RC_COLD };
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	suspects[0].blame = advised[_i].first;
	suspects[1].blame = advised[_i].second;
	d.n_suspects = 2;
	d.story = story;
	d.n_story = 2;
	char *text = rc_diagnosis(&c, &look);
	(advised[_i].there ? rc_has : rc_lacks)(advised[_i].title, text, advised[_i].part);
	ab_report_free(text);
}
END_TEST

/* ---- reasons that are no news ---- */

static const struct { const char *title; struct ab_reason reasons[2]; size_t n; bool dms_too, told; } news[] = {
	{ "what changes nothing", { { .slot = 0, .text = "the reason", .blame_without = 0.616 } }, 1, true, false },
	{ "what changes half a percent", { { .slot = 0, .text = "the reason", .blame_without = 0.614 } }, 1, true,
	    true },
	{ "the only fault, with another reason",
	    { { .is_fault = true, .text = "the reason" }, { .slot = 0, .text = "other" } }, 2, false, false },
	{ "the only fault, the only reason", { { .is_fault = true, .text = "the reason" } }, 1, false, true },
	{ "one fault of two", { { .is_fault = true, .text = "the reason" }, { .slot = 0, .text = "other" } }, 2,
	    true, true },
	{ "a fault that was not found",
	    { { .is_fault = true, .fault = RC_SOUR, .text = "the reason" }, { .slot = 0, .text = "other" } }, 2,
	false, true },
};

START_TEST(reasons_are_news)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_reason reasons[2];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	memcpy(reasons, news[_i].reasons, sizeof reasons);
	suspects[0].pro = reasons;
	suspects[0].n_pro = news[_i].n;
	if (!news[_i].dms_too)
		rc_finding[RC_DMS].seen = AB_SEEN_NOTHING;
	char *text = rc_diagnosis(&c, &look);
	(news[_i].told ? rc_has : rc_lacks)(news[_i].title, text, "+ the reason");
	ab_report_free(text);
}
END_TEST

START_TEST(a_reason_without_words_has_its_title)
{
	struct ab_reason bare[] = { { .is_fault = true, .fault = RC_BUTTER, .blame_without = 0.2 },
	    { .slot = RC_OVER, .blame_without = 0.3 } };
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	suspects[0].pro = bare;
	suspects[0].n_pro = 2;
	char *text = rc_diagnosis(&c, &look);
	rc_has("a fault", text, "+ Butter (without this: 20 %)");
	rc_has("a fact", text, "+ warmth over the range (without this: 30 %)");
	ab_report_free(text);
}
END_TEST

/* ---- how it begins ---- */

static const struct { const char *title; double blame; bool benign, clean, tasted; size_t n; const char *first,
    *not_there; } openings[] = {
	{ "surely nothing", 0.6, true, false, true, 1, "Nothing seems to be wrong", "Perhaps nothing" },
	{ "perhaps nothing", 0.59, true, false, true, 1, "Perhaps nothing is wrong", "Nothing seems" },
	{ "clean", 0, false, true, true, 0, "No fault was found", "Not tasted" },
	{ "clean, whatever is suspected", 0.4, false, true, true, 1, "No fault was found", "Blame" },
	{ "not tasted", 0, false, true, false, 0, "Not tasted yet", "No fault was found" },
	{ "no cause fits", 0, false, false, true, 0, "None of the causes", "Why" },
	{ "something is wrong", 0.7, false, false, true, 1, "What most likely happened", "None of the causes" },
};

START_TEST(begins)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect one[] = { { .cause = openings[_i].benign ? RC_YOUNG : RC_WARM,
	    .blame = openings[_i].blame } };
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	d.suspects = one;
	d.n_suspects = openings[_i].n;
	d.verdict_benign = openings[_i].benign;
	d.nothing_found = openings[_i].clean;
	c.tasted = openings[_i].tasted;
	char *text = rc_diagnosis(&c, &look);
	rc_has(openings[_i].title, text, openings[_i].first);
	rc_lacks(openings[_i].title, text, openings[_i].not_there);
	/* the verdict is said to be an estimate wherever there is one, and only there */
	(openings[_i].clean ? rc_lacks : rc_has)(openings[_i].title, text, "estimates");
	ab_report_free(text);
}
END_TEST

/* Half a percent rounds the same way in both places. */
START_TEST(one_figure_twice)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect one[] = { { .cause = RC_WARM, .blame = 0.625, .blame_low = 0.125, .blame_high = 0.705 } };
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	d.suspects = one;
	d.n_suspects = 1;
	char *text = rc_diagnosis(&c, &look);
	rc_has("blame", text, "Blame 63 %: of 100 batches like this one, about 63 owe");
	rc_has("range", text, "(likely 13 to 71)");
	ab_report_free(text);
}
END_TEST

START_TEST(what_is_expected_or_unexplained)
{
	int butter[] = { RC_BUTTER }, dms[] = { RC_DMS };
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_look look = rc_look(AB_TEXT);
	rc_case(&c, &d);
	d.expected = butter;
	d.n_expected = 1;
	d.unexplained = dms;
	d.n_unexplained = 1;
	char *text = rc_diagnosis(&c, &look);
	rc_has("only the expected one is", text, "butter: strong (");
	rc_has("not the other", text, "DMS: slight.");
	rc_has("unexplained", text, "explains it well: DMS.");
	ab_report_free(text);
}
END_TEST

START_TEST(two_pieces_of_advice_and_a_story_of_the_blamed)
{
	int story[] = { RC_WARM, RC_COLD, RC_YOUNG };
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	crowded(&c, &d, suspects);
	suspects[2].blame = 0.3;
	char *text = rc_diagnosis(&c, &look);
	rc_has("the second", text, "* Warm it.");
	rc_lacks("the third is one too many", text, "* Wait.");
	ab_report_free(text);
	suspects[2].blame = 0.1;
	d.story = story;
	d.n_story = 3;
	text = rc_diagnosis(&c, &look);
	rc_has("each by its own blame", text, "too warm and too cold.");
	ab_report_free(text);
}
END_TEST

START_TEST(several_batches_end_once)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_diag diag;
	char *text;
	crowded(&c, &d, suspects);
	struct ab_case *both[] = { &c, &c };
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_diagnoses(&rc_rules, both, 2, NULL, &look, &text, &diag), AB_OK);
	ck_assert_uint_eq(rc_times(text, "batch b7"), 2);
	ck_assert_uint_eq(rc_times(text, "Percentages are estimates"), 1);
	ab_report_free(text);
}
END_TEST

/* ---- one cure, the plan's ---- */

static struct ab_because box_against[] = { { RC_BUTTER, RC_WARM, 1, true, false, false } }, cellar_against[] = {
    { RC_SOUR, RC_AIR, 2, false, false, false } },
	both_against[] = { { RC_BUTTER, RC_WARM, 1, true, false, false },
	    { RC_BUTTER, RC_COLD, 0.5, true, false, false } };
static const struct ab_tried since_day_5[] = { { .change = RC_TUBE, .cause = RC_WARM, .kept = true,
    .since_s = 5 * 86400.0 } };

/* Of two items, box and cellar: what is in the plan, what the next brew begins (-1 none). */
static const struct { const char *title; int n_plan, begin; struct ab_because *cellar; size_t n_cellar;
    bool tried, at_hand; const char *want, *lacks; } cures[] = {
	{ "no plan: the rules' words", 0, -1, NULL, 0, false, false, "  * Keep it cool.\n  * Warm it.\n", "Over all" },
	{ "the plan's change in their place", 1, 0, NULL, 0, false, false,
	    "  * In the next brew: A cold box ($90).\n", "Keep it cool" },
	{ "and that is said", 1, 0, NULL, 0, false, false,
	    "Over all your beers the plan begins with that, too (\"afterboil advise\").\nPercentages", "Keep it cool" },
	{ "what it has nothing against keeps the rules' words", 1, 0, NULL, 0, false, false, "  * Warm it.\n",
	    "Keep it cool" },
	{ "it begins elsewhere, and that is said", 2, 1, cellar_against, 1, false, false, "  * A cold box ($90).\n",
	    "In the next brew" },
	{ "with what it begins", 2, 1, cellar_against, 1, false, false,
	    "Over all your beers, next brew: Use the cellar (free); \"afterboil advise\" tells why.", "Keep it cool" },
	{ "one change against both is told once", 2, 1, both_against, 2, false, false,
	    "  * In the next brew: Use the cellar (free). Carry it down.\n    ! Mind the stairs.\n", "Warm it" },
	{ "and what is against one of them is for later", 2, 1,
	    (struct ab_because[]){ { RC_BUTTER, RC_COLD, 1, true, false, false } }, 1, false, false,
	  "  * In the next brew: Use the cellar (free). Carry it down.\n    ! Mind the stairs.\n  * Later: A "
	  "cold box ($90).\n", "Keep it cool" },
	{ "what helps this very beer is told as well", 1, 0, NULL, 0, false, true,
	    "  * In the next brew: A cold box ($90).\n  * Keep it cool.\n", "Over all your beers, next" },
	{ "what was done since", 0, -1, NULL, 0, true, false, "  * Done since 1970-01-06: a new tube.\n",
	    "Keep it cool" },
};

START_TEST(the_plans_cure)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_cause causes[RC_CAUSES];
	struct ab_knowledge k = rc_rules;
	struct ab_item items[2] = { { .change = RC_BOX, .cost = 90, .because = box_against, .n_because = 1 },
		{ .change = RC_CELLAR, .because = cures[_i].cellar, .n_because = cures[_i].n_cellar } };
	struct ab_next_step step = { .kind = AB_NEXT_BEGIN, .item = cures[_i].begin };
	struct ab_tried tried = since_day_5[0];
	int plan[] = { 0, 1 };
	struct ab_advice a = { .items = items,
		.n_items = 2,
		.plan = plan,
		.n_plan = (size_t)cures[_i].n_plan,
		.steps = &step,
		.n_steps = cures[_i].begin >= 0,
		.tried = &tried,
		.n_tried = cures[_i].tried,
		.room_c = NAN };
	struct ab_diag diag;
	char *text = NULL;
	crowded(&c, &d, suspects);
	suspects[4].blame = suspects[4].blame_low = suspects[4].blame_high = 0.004;
	memcpy(causes, rc_rules.causes, sizeof causes);
	causes[RC_WARM].at_hand = cures[_i].at_hand;
	k.causes = causes;
	ab_diag_init(&diag);
	struct ab_case *one[] = { &c };
	ck_assert_int_eq(ab_report_diagnoses(
			     &k, one, 1, cures[_i].n_plan > 0 || cures[_i].tried ? &a : NULL, &look, &text, &diag),
	    AB_OK);
	rc_has(cures[_i].title, text, cures[_i].want);
	rc_lacks(cures[_i].title, text, cures[_i].lacks);
	ab_report_free(text);
}
END_TEST

/* A change that speaks of the room says which yeasts suit it; a sentence that cannot be told is left out. A beer is
 * reckoned as much over its room as the change says. */
static const struct { const char *title; double room_c; bool us; double slowest_d; const char *want; } rooms[] = {
	{ "room not told", NAN, false, 21, "A cold box ($90). Yeasts differ. Ask.\n" },
	{ "a cool room", 15, false, 21,
	    "A cold box ($90). Yeasts differ. A room of 15 C suits: clean ale. With spice: abbey. Ask.\n" },
	{ "the warmest for the clean one", 18.5, false, 21,
	    "A room of 18.5 C suits: clean ale. With spice: abbey. Ask.\n" },
	{ "too warm for it", 18.6, false, 21, "Yeasts differ. With spice: abbey. Ask.\n" },
	{ "in US units", 15, true, 21, "A room of 59 F suits: clean ale. With spice: abbey. Ask.\n" },
	{ "what suits none says nothing of it", 30, false, 21, "A cold box ($90). Yeasts differ. Ask.\n" },
	{ "too cold for all", 8, false, 21, "A cold box ($90). Yeasts differ. Ask.\n" },
	{ "the change tells no pace", 15, false, NAN, "A cold box ($90). Yeasts differ. Ask.\n" },
	{ "a pace that only one keeps", 15, false, 8, "A room of 15 C suits: clean ale. Ask.\n" },
};

START_TEST(yeasts_of_the_room)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_change changes[RC_CHANGES];
	struct ab_yeast_norm yeasts[] = { { .title = "clean ale", .tolerated_low_c = 15,
	    .tolerated_high_c = 22, .primary_days = 7 },
		{ .title = "abbey", .tolerated_low_c = 16, .tolerated_high_c = 26, .primary_days = 10,
		    .phenolic = true },
		{ .title = "slow mixture", .tolerated_low_c = 0, .tolerated_high_c = 40, .primary_days = 30 } };
	struct ab_knowledge k = rc_rules;
	struct ab_item item = { .change = RC_BOX, .cost = 90, .because = box_against, .n_because = 1 };
	int plan[] = { 0 };
	struct ab_advice a = { .items = &item, .n_items = 1, .plan = plan, .n_plan = 1, .room_c = rooms[_i].room_c };
	struct ab_case *one[] = { &c };
	struct ab_diag diag;
	char *text = NULL;
	crowded(&c, &d, suspects);
	memcpy(changes, rc_rules.changes, sizeof changes);
	changes[RC_BOX].how = "Yeasts differ. A room of {room} suits: {room.yeasts}. With spice: {room.spicy}. Ask.";
	changes[RC_BOX].over_room_k = 3.5;
	changes[RC_BOX].slowest_days = rooms[_i].slowest_d;
	k.changes = changes;
	k.norms.yeasts = yeasts;
	k.norms.n_yeasts = 3;
	look.us_units = rooms[_i].us;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_diagnoses(&k, one, 1, &a, &look, &text, &diag), AB_OK);
	rc_has(rooms[_i].title, text, rooms[_i].want);
	rc_lacks(rooms[_i].title, text, "slow");
	ab_report_free(text);
}
END_TEST

/* ---- as data ---- */

static const struct { const char *title, *path[3]; int at; double number; const char *word; } data[] = {
	{ "the batch", { "batch" }, -1, 0, "b7" },
	{ "its line", { "line" }, -1, 0, "pale" },
	{ "load", { "load" }, -1, 6.5, NULL },
	{ "load of a mild taster", { "load_low" }, -1, 5, NULL },
	{ "load of a strict taster", { "load_high" }, -1, 8, NULL },
	{ "share of the story", { "story_share" }, -1, 0.3, NULL },
	{ "a fault's grade", { "found", "grade" }, 0, 0, "strong" },
	{ "a fault's intensity", { "found", "intensity" }, 0, 4.5, NULL },
	{ "a fault's load", { "found", "load" }, 1, 2, NULL },
	{ "a cause's low", { "causes", "blame_low" }, 0, 0.48, NULL },
	{ "a cause's high", { "causes", "blame_high" }, 0, 0.74, NULL },
	{ "a cause's side", { "causes", "side" }, 4, 0, "hot" },
	{ "a cause's stage", { "causes", "stage" }, 0, 0, "ferment" },
	{ "a cause is of the process", { "causes", "kind" }, 1, 0, "process" },
	{ "or benign", { "causes", "kind" }, 2, 0, "benign" },
	{ "a check's bits", { "next", "bits" }, 1, 0.3, NULL },
	{ "a check's days", { "next", "wait_days" }, 1, 1, NULL },
	{ "a question's words", { "next", "title" }, 2, 0, "Was it so?" },
	{ "a question's fact", { "next", "id" }, 2, 0, "w.flag" },
};

START_TEST(as_data)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_JSON);
	crowded(&c, &d, suspects);
	d.story_share = 0.3;
	json_t *root = rc_json(rc_diagnosis(&c, &look)), *at = json_object_get(root, data[_i].path[0]);
	if (data[_i].path[1] != NULL)
		at = json_object_get(json_array_get(at, (size_t)data[_i].at), data[_i].path[1]);
	if (data[_i].word != NULL)
		ck_assert_msg(
		    json_is_string(at) && strcmp(json_string_value(at), data[_i].word) == 0, "%s", data[_i].title);
	else
		ck_assert_msg(json_is_real(at) && json_real_value(at) == data[_i].number, "%s", data[_i].title);
	json_decref(root);
}
END_TEST

START_TEST(data_hold_what_the_screen_leaves_out)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_JSON);
	crowded(&c, &d, suspects);
	json_t *root = rc_json(rc_diagnosis(&c, &look)), *first = json_array_get(json_object_get(root, "causes"), 0);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "causes")), 5);
	ck_assert_uint_eq(json_array_size(json_object_get(first, "for")), 5);
	ck_assert_uint_eq(json_array_size(json_object_get(first, "against")), 4);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "risks")), 4);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "unknown")), 6);
	ck_assert_uint_eq(json_array_size(json_object_get(root, "next")), 3);
	ck_assert(json_is_null(json_object_get(root, "family")));
	json_decref(root);
	d.family = 0;
	root = rc_json(rc_diagnosis(&c, &look));
	ck_assert_str_eq(json_string_value(json_object_get(root, "family")), "wheat");
	json_decref(root);
}
END_TEST

/* ---- a kin that leads ---- */

static struct ab_reason kin_pro[] = { { .slot = RC_SG, .text = "the gravity was low (a gravity: 1.01 SG)",
    .says = "the gravity was low", .weight = 1,
	.blame_without = 0.2 } };
static struct ab_kin_blame kin[] = { { .kin = 0, .blame = 0.72, .low = 0.6, .high = 0.8, .leader = 0, .n = 2,
    .pro = kin_pro, .n_pro = 1 } };

static void led_by_kin(struct ab_case *c, struct ab_diagnosis *d, struct ab_suspect suspects[5])
{
	crowded(c, d, suspects);
	d->kins = kin;
	d->n_kins = 1;
	d->lead = kin;
	suspects[0].blame = 0.4;
	rc_facts[RC_SG] = (struct ab_fact){ .origin = AB_ORIGIN_MEASURED, .value = 1.01 };
}

static const struct { const char *title, *want; bool there; } of_kin[] = {
	{ "it is the answer", "Probably: the weather got at it. Blame 72 %: of 100 batches like this one, about "
	    "72 owe what was found to it (likely 60 to 80).",
	    true },
	{ "why", "Yeast minds it.", true },
	{ "its ways, with their own blame", "By what most likely: too warm (40 %); then too cold (31 %).", true },
	{ "its own reasons", "+ the gravity was low (a gravity: 1.0100 SG) (without this: 20 %)", true },
	{ "not those of a member", "+ pro one", false },
	{ "what it hangs on", "It hangs most on one thing: the gravity was low (a gravity: 1.0100 SG). If that "
	    "is not so, it falls to 20 %.", true },
	{ "others are those outside it", "Other suspects\n  20 %", true },
	{ "what mends all its ways comes first", "* Move it.\n  * Keep it cool.", true },
	{ "and takes the place of a third piece of advice", "* Warm it.", false },
};

START_TEST(a_kin_leads)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	led_by_kin(&c, &d, suspects);
	char *text = rc_diagnosis(&c, &look);
	(of_kin[_i].there ? rc_has : rc_lacks)(of_kin[_i].title, text, of_kin[_i].want);
	ab_report_free(text);
}
END_TEST

START_TEST(a_kin_in_data)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_JSON);
	led_by_kin(&c, &d, suspects);
	json_t *root = rc_json(rc_diagnosis(&c, &look)), *first = json_array_get(json_object_get(root, "kins"), 0);
	ck_assert_str_eq(json_string_value(json_object_get(first, "id")), "weather");
	ck_assert_double_eq(json_number_value(json_object_get(first, "blame")), 0.72);
	ck_assert(json_is_true(json_object_get(first, "leads")));
	ck_assert_uint_eq(json_array_size(json_object_get(first, "causes")), 2);
	ck_assert_uint_eq(json_array_size(json_object_get(first, "for")), 1);
	json_decref(root);
}
END_TEST

/* What would change the answer: a row for each way of standing. */
static const struct { const char *title; double without; size_t n_pro; bool open; const char *want; } stands[] = {
	{ "on one thing", 0.1, 1, true,
	    "It hangs most on one thing: pro one. If that is not so, it falls to 10 %. The first check below could" },
	{ "on one thing, wholly", 0.001, 1, false, "pro one. If that is not so, it falls to nothing.\n" },
	{ "on several", 0.5, 1, false,
	    "It does not hang on one thing: without the weightiest reason it would still stand at 50 %.\n" },
	{ "on the tasting", 0, 0, false, "It rests on the tasting alone, and on how often such things happen.\n" },
};

START_TEST(what_would_change_it)
{
	struct ab_case c;
	struct ab_diagnosis d;
	struct ab_suspect suspects[5];
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_reason one = { .slot = RC_FLAG, .text = "pro one", .blame_without = stands[_i].without };
	crowded(&c, &d, suspects);
	suspects[0].pro = &one;
	suspects[0].n_pro = stands[_i].n_pro;
	if (!stands[_i].open)
		d.n_asks = 0;
	char *text = rc_diagnosis(&c, &look);
	rc_has(stands[_i].title, text, stands[_i].want);
	ab_report_free(text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_diagnosis");
	TCase *tc = tcase_create("report_diagnosis");
	json_set_alloc_funcs(ab_malloc, ab_free);
	tcase_add_loop_test(tc, lists_end, 0, sizeof limits / sizeof *limits);
	tcase_add_loop_test(tc, says, 0, sizeof said / sizeof *said);
	tcase_add_loop_test(tc, thresholds, 0, sizeof advised / sizeof *advised);
	tcase_add_loop_test(tc, reasons_are_news, 0, sizeof news / sizeof *news);
	tcase_add_test(tc, a_reason_without_words_has_its_title);
	tcase_add_loop_test(tc, begins, 0, sizeof openings / sizeof *openings);
	tcase_add_test(tc, one_figure_twice);
	tcase_add_test(tc, what_is_expected_or_unexplained);
	tcase_add_test(tc, two_pieces_of_advice_and_a_story_of_the_blamed);
	tcase_add_test(tc, several_batches_end_once);
	tcase_add_loop_test(tc, the_plans_cure, 0, (int)(sizeof cures / sizeof *cures));
	tcase_add_loop_test(tc, yeasts_of_the_room, 0, (int)(sizeof rooms / sizeof *rooms));
	tcase_add_loop_test(tc, as_data, 0, sizeof data / sizeof *data);
	tcase_add_test(tc, data_hold_what_the_screen_leaves_out);
	tcase_add_loop_test(tc, a_kin_leads, 0, sizeof of_kin / sizeof *of_kin);
	tcase_add_test(tc, a_kin_in_data);
	tcase_add_loop_test(tc, what_would_change_it, 0, sizeof stands / sizeof *stands);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
