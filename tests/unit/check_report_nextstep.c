/* check_report_nextstep.c - what to do now, next and then: danger, batches to tend and taste, the next brew, what is
 * checked or answered before money is spent
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <afterboil/checks.h>
#include <math.h>
#include <string.h>

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
	{ "just so again, by the brewer's word",
	  { .kind = AB_NEXT_SAME, .item = 1, .cause = -1, .well = true, .by_word = true },
	  "Next brew: brew as you do: by what you say nothing is wrong with your beer. Nothing has to be changed or "
	  "bought now", "newest" },
	{ "just so again after a false alarm",
	    { .kind = AB_NEXT_SAME, .batch = &brewed, .item = 1, .cause = RC_YOUNG, .p = 0.95, .low = 0.9,
	    .high = 0.97, .well = true },
	  "brew pale again just so: almost certainly nothing is wrong with your newest beer (only young). Wait. "
	  "Nothing has to be", "without a flaw" },
	{ "a beer about to be brewed, just so",
	    { .kind = AB_NEXT_SAME,
	      .batch = &coming,
	      .coming = true,
	      .item = 1,
	      .cause = -1,
	      .well = true,
	      .due = &fixed },
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
	{ "a beer about to be brewed", { .kind = AB_NEXT_BREW, .batch = &coming, .coming = true, .trial = &known },
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
	{ "a day to brew", { .kind = AB_NEXT_SAME, .batch = &coming, .coming = true, .due = &fixed, .item = -1 },
	    "Next brew: brew pale-8 on 1970-01-06 and keep notes; there is nothing to change.", "again" },
	{ "a free day to brew", { .kind = AB_NEXT_SAME, .batch = &brewed, .brew_s = 5 * 86400., .item = -1 },
	  "Next brew: brew pale again from 1970-01-06 on, your first free day for it, and keep notes; there is "
	  "nothing to change.", "it and" },
	{ "a day to brew that is over",
	    { .kind = AB_NEXT_SAME, .batch = &coming, .coming = true, .due = &at_once, .item = -1 },
	    "Next brew: brew pale-8 now and keep notes", "again" },
	{ "after a trial", { .kind = AB_NEXT_AFTER, .item = 1 }, "After that: A cold box ($90).", "on trial" },
	{ "after a trial of what it is against", { .kind = AB_NEXT_AFTER, .item = 1, .under = &own },
	    "What it is against is on trial already (a new hose, noted 1970-01-02): "
	  "wait until the brews with that were tasted, it may be done then.", "changed --plan" },
};

START_TEST(says_what_to_do)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
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
	text = rc_advised(&a, &look);
	rc_has(todo[_i].title, text, todo[_i].want);
	ab_report_free(text);
}
END_TEST

START_TEST(two_on_trial)
{
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step two[] = { { .kind = AB_NEXT_BREW, .batch = &coming, .coming = true, .trial = &known },
	    { .kind = AB_NEXT_BREW, .batch = &coming, .coming = true, .trial = &own } };
	look.width = 400;
	a.steps = two;
	a.n_steps = 2;
	char *text = rc_advised(&a, &look);
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
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step three[] = { todo[0].step, todo[1].step,
		{ .kind = AB_NEXT_BEGIN, .item = 0, .batch = &coming, .coming = true } };
	struct ab_diag diag;
	char *text = NULL;
	a.steps = three;
	a.n_steps = 3;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_report_steps(&rc_rules, &a, 2, &look, &text, &diag), AB_OK);
	rc_has("the second", text, " 2. ");
	rc_lacks("the third", text, " 3. ");
	ab_report_free(text);
	text = rc_advised(&a, &look);
	rc_has("the third", text, " 3. Next brew (pale-8): Use the cellar");
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
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_next_step box[] = { { .kind = AB_NEXT_BEGIN, .item = 1, .cause = -1 } };
	items[1].cost = beginnings[_i].cost;
	items[1].gain = beginnings[_i].gain;
	items[1].joint_gain = beginnings[_i].joint;
	a.steps = box;
	a.next = 1;
	look.width = 200;
	char *text = rc_advised(&a, &look);
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
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.first_check = firsts[_i].ask;
	char *text = rc_advised(&a, &look);
	rc_has(firsts[_i].title, text, firsts[_i].want);
	ab_report_free(text);
}
END_TEST

/* Who begins with a purchase for which there is money enough is told what helps out meanwhile. */
START_TEST(says_what_helps_out)
{
	static const struct ab_changed bought;
	struct ab_item items[RC_CHANGES];
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	const char *want = "Until you have it: \"A cold box\", which costs nothing and brings about 50 % of it.";
	look.width = 400;
	items[1].gain = items[0].gain / 2;
	a.until = 1;
	char *text = rc_advised(&a, &look);
	rc_has("told", text, want);
	ab_report_free(text);
	items[0].begun = &bought;
	text = rc_advised(&a, &look);
	rc_lacks("it is there already", text, want);
	ab_report_free(text);
	a.until = -1;
	items[0].begun = NULL;
	text = rc_advised(&a, &look);
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
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	a.first_check = &shake;
	a.ahead = (struct ab_ahead){ &shake, NULL, 0.2, 0.25, 1, { aheads[_i].take[0], aheads[_i].take[1] },
	    { aheads[_i].drop[0], aheads[_i].drop[1] }, true };
	look.width = 200;
	char *text = rc_advised(&a, &look);
	rc_has(aheads[_i].title, text, "Spend nothing yet: do this first\n");
	rc_has(aheads[_i].title, text, aheads[_i].want);
	rc_lacks(aheads[_i].title, text, "Check first, before you spend");
	ab_report_free(text);
	look.format = AB_JSON;
	text = rc_advised(&a, &look);
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
	struct ab_advice a = rc_advice(items);
	struct ab_look look = rc_look(AB_TEXT);
	const struct ab_batch asked = { .id = "pale-7", .source = "pale-7.xml" };
	a.first_check = answers[_i].ask;
	a.ahead = (struct ab_ahead){ answers[_i].ask, &asked, 0.2, 0.25, 1, { -1, -1 }, { -1, 0 }, true };
	look.width = 500;
	char *text = rc_advised(&a, &look);
	rc_has(answers[_i].title, text, "Spend nothing yet: answer this first\n");
	rc_has(answers[_i].title, text, answers[_i].want);
	rc_has(answers[_i].title, text, "\"afterboil interview pale-7.xml\" asks it and writes the answer down.");
	ab_report_free(text);
	look.format = AB_JSON;
	text = rc_advised(&a, &look);
	rc_has(answers[_i].title, text, "\"check\": null");
	rc_has(answers[_i].title, text, answers[_i].json);
	ab_report_free(text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("report_nextstep");
	TCase *tc = tcase_create("report_nextstep");
	tcase_add_loop_test(tc, says_what_to_do, 0, sizeof todo / sizeof *todo);
	tcase_add_test(tc, two_on_trial);
	tcase_add_test(tc, no_more_than_asked);
	tcase_add_loop_test(tc, begun_alone, 0, sizeof beginnings / sizeof *beginnings);
	tcase_add_loop_test(tc, says_what_to_check_first, 0, sizeof firsts / sizeof *firsts);
	tcase_add_test(tc, says_what_helps_out);
	tcase_add_loop_test(tc, says_spend_nothing_yet, 0, sizeof aheads / sizeof *aheads);
	tcase_add_loop_test(tc, says_what_to_answer, 0, sizeof answers / sizeof *answers);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
