/* check_trend_story.c - the history in a few sentences: counts, what each change was made against, what is open
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <string.h>

#include <afterboil/elimination.h>
#include "base/alloc.h"

#define DAY 86400.0

static const double clean[RC_FAULTS] = { 0 }, butter[RC_FAULTS] = { [RC_BUTTER] = 6 },
		    both[RC_FAULTS] = { [RC_BUTTER] = 3, [RC_SOUR] = 9 };
static const struct ab_trend_batch five[] = {
	{ .id = "a", .tasted = true, .load = 6, .fault_load = butter },
	{ .id = "b", .tasted = true, .load = 12, .fault_load = both },
	{ .id = "c", .tasted = false, .load = NAN, .fault_load = clean },
	{ .id = "d", .tasted = true, .load = 0, .fault_load = clean },
	{ .id = "e", .tasted = true, .load = 6, .fault_load = butter },
};
static int heaviest[] = { RC_BUTTER, RC_SOUR };
static const struct ab_trend plain = { .n_batches = 5, .slope_per_batch = NAN, .slope_low = NAN, .slope_high = NAN,
	.main_faults = heaviest, .n_main_faults = 2 };

static char *report(const struct ab_trend_batch *batches, size_t n, const struct ab_trend *t)
{
	struct ab_look look = rc_look(AB_TEXT);
	struct ab_diag diag;
	char *text = NULL;

	ab_diag_init(&diag);
	look.width = 300;
	ck_assert_int_eq(ab_report_trend(&rc_rules, batches, n, t, NULL, 0, &look, &text, &diag), AB_OK);
	return text;
}

/* ---- the beers ---- */

START_TEST(counts_the_beers)
{
	char *text = report(five, 5, &plain);

	rc_has("all", text, "4 beers tasted, 1 without a flaw. The heaviest was b (load 12.0). "
	    "What cost most: butter (in 3), sour milk (in 1).\n");
	rc_before("before the batches", text, "In short", "One-off batches");
	ab_report_free(text);
}
END_TEST

START_TEST(three_beers_are_no_story)
{
	char *text = report(five, 4, &plain);

	rc_lacks("three tasted", text, "In short");
	ab_report_free(text);
}
END_TEST

START_TEST(clean_beers)
{
	struct ab_trend t = plain;
	const struct ab_trend_batch four[] = { five[3], five[3], five[3], five[3] };

	t.n_main_faults = 0;
	char *text = report(four, 4, &t);
	rc_has("all clean", text, "4 beers tasted, 4 without a flaw.\n");
	rc_lacks("none the heaviest", text, "heaviest was");
	ab_report_free(text);
}
END_TEST

/* ---- the changes ---- */

/* Eight batches from which on the drift is taken out, on both sides together. */
#define MANY .n_before = 4, .n_after = 4
static struct ab_cause_shift shifts[] = { { RC_DIRT, 2, 0, 0.9 }, { RC_WARM, 1.46, 0.1, 0.8 } };
static const struct { const char *title; struct ab_trend_change c; const char *want, *not_there; } changes[] = {
	{ "its own cause, not what moved most", { .id = "box", MANY, .causes = shifts, .n_causes = 2 },
	    "to blame in 1.5 of 4 before, 0.1 of 4 since", "2.0 of 4" },
	{ "a cause it is not made against", { .id = "box", MANY, .causes = shifts, .n_causes = 1 },
	    "was to blame neither before nor since", "2.0 of 4" },
	{ "one the rules do not know has none", { .id = "new kettle", MANY, .causes = shifts, .n_causes = 2 },
	    "1970-01-01, new kettle.", "made against" },
	{ "its line", { .id = "box", .line = "pale", .date_s = DAY }, "1970-01-02, a cold box, for pale.",
	    "made against" },
	{ "nothing since", { .id = "box", .n_before = 3, .p_better = NAN }, "Nothing tasted since.", "made against" },
	{ "with another", { .id = "box", MANY, .together = true, .p_better = 0.99, .allowed = { 1, 0.99, 1, 2 } },
	    "cannot be told apart", "helped" },
	{ "helped", { .id = "box", MANY, .p_better = 0.6, .allowed = { 1, 0.9, 1, 2 } }, "Very likely it helped.",
	    "Open still" },
	{ "not quite", { .id = "box", MANY, .p_better = 0.99, .allowed = { 1, 0.89, -1, 2 } },
	    "Open still: better with a chance of 89 %.", "helped" },
	{ "worse", { .id = "box", MANY, .p_better = 0.6, .allowed = { -1, 0.1, -2, 1 } },
	    "Most likely it got worse.", "helped" },
	{ "not quite worse", { .id = "box", MANY, .p_better = 0.6, .allowed = { -1, 0.11, -2, 1 } },
	    "chance of 11 %", "got worse" },
	{ "so few that a drift would look alike",
	    { .id = "box", .n_before = 4, .n_after = 3, .p_better = 0.99, .allowed = { 1, 0.99, 1, 2 } },
	    "Too few batches to tell it from luck.", "helped" },
	{ "no odds", { .id = "box", .n_before = 1, .n_after = 1, .p_better = NAN }, "Too few batches", "nan" },
};

START_TEST(tells_a_change)
{
	struct ab_trend t = plain;
	struct ab_trend_change c = changes[_i].c;

	t.changes = &c;
	t.n_changes = 1;
	char *text = report(five, 5, &t), *end = strstr(text, "One-off batches");
	ck_assert_ptr_nonnull(end);
	*end = '\0';
	rc_has(changes[_i].title, text, changes[_i].want);
	rc_lacks(changes[_i].title, text, changes[_i].not_there);
	ab_report_free(text);
}
END_TEST

START_TEST(the_newest_four)
{
	struct ab_trend t = plain;
	struct ab_trend_change c[5];

	for (int i = 0; i < 5; i++)
		c[i] = (struct ab_trend_change){ .id = "box", .date_s = i * DAY, .p_better = NAN };
	t.changes = c;
	t.n_changes = 5;
	char *text = report(five, 5, &t);
	rc_lacks("the oldest", text, "1970-01-01, a cold box");
	rc_has("the second, by its number in the figures", text, " 2. 1970-01-02, a cold box");
	rc_has("the newest", text, "1970-01-05, a cold box");
	ab_report_free(text);
}
END_TEST

START_TEST(what_is_open)
{
	struct ab_trend t = plain;
	const struct ab_elimination e = { .fault = RC_BUTTER, .since = "a", .with = 3, .tasted = 4 };

	t.elimination = &e;
	char *text = report(five, 5, &t);
	rc_has("open", text, "Still coming: butter, in 3 of 4 since a.");
	ab_report_free(text);
	t.elimination = NULL;
	text = report(five, 5, &t);
	rc_lacks("nothing open", text, "Still coming");
	ab_report_free(text);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("trend_story");
	TCase *tc = tcase_create("trend_story");
	tcase_add_test(tc, counts_the_beers);
	tcase_add_test(tc, three_beers_are_no_story);
	tcase_add_test(tc, clean_beers);
	tcase_add_loop_test(tc, tells_a_change, 0, sizeof changes / sizeof *changes);
	tcase_add_test(tc, the_newest_four);
	tcase_add_test(tc, what_is_open);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
