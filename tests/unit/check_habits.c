/* check_habits.c - which habits are charted from a history, and how the charts are told
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "reportcase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/facts.h>
#include "base/alloc.h"

enum { N = 12 };
static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_trend_batch batches[N];
static char ids[N][8];
static int slots[N][AB_TREND_HABITS];
static double values[N][AB_TREND_HABITS], us[N][AB_TREND_HABITS];
static const double no_faults[RC_FAULTS] = { 0 };

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	for (int i = 0; i < N; i++) {
		snprintf(ids[i], sizeof ids[i], "b%d", i + 1);
		batches[i] = (struct ab_trend_batch){ .id = ids[i],
			.brewed_s = i * 86400.0,
			.load = NAN,
			.load_low = NAN,
			.load_high = NAN,
			.fault_load = no_faults,
			.slots = slots[i],
			.values = values[i],
			.us = us[i] };
	}
}

static void end(void)
{
	ab_arena_free(arena);
}

/* One more thing told by a batch. */
static void tell(int i, int slot, double value, double u)
{
	size_t n = batches[i].n_facts++;
	slots[i][n] = slot;
	values[i][n] = value;
	us[i][n] = u;
}

static struct ab_trend chart(size_t n, const struct ab_fact_table *facts)
{
	struct ab_trend t = { .n_batches = n, .slope_per_batch = NAN, .slope_low = NAN, .slope_high = NAN };
	ck_assert_int_eq(ab_trend_charts(batches, n, facts, arena, &t, &diag), AB_OK);
	return t;
}

START_TEST(every_habit_is_a_fact)
{
	int found[AB_TREND_HABITS];
	ab_trend_habit_slots(ab_fact_defs(), found);
	for (int i = 0; i < AB_TREND_HABITS; i++) {
		ck_assert_msg(found[i] >= 0, "%s", ab_trend_habits[i]);
		ck_assert(ab_fact_defs()->defs[found[i]].kind == AB_FACT_NUMBER);
	}
	ck_assert_ptr_null(ab_trend_habits[AB_TREND_HABITS]);
}
END_TEST

/* Four are silent, five speak; a batch that does not tell is passed over and keeps its place. */
START_TEST(from_five_on)
{
	const struct ab_fact_table *facts = ab_fact_defs();
	int slot = ab_fact_slot(facts, "pitch.temp-over"), other = ab_fact_slot(facts, "chill.to-pitch");
	for (int i = 0; i < 8; i++)
		if (i % 2 == 0 || i == 7)
			tell(i, slot, i, 0.5);
	for (int i = 0; i < 4; i++)
		tell(i, other, 1, 0.1);
	ck_assert_uint_eq(chart(7, facts).n_charts, 0);
	struct ab_trend t = chart(8, facts);
	ck_assert_uint_eq(t.n_charts, 1);
	ck_assert_int_eq(t.charts[0].slot, slot);
	ck_assert_uint_eq(t.charts[0].n, 5);
	ck_assert(t.charts[0].batch[1] == 2 && t.charts[0].batch[4] == 7 && t.charts[0].x[4] == 7);
}
END_TEST

/* A thermometer good to half a degree: a series of equal readings is no proof of half a degree more. */
START_TEST(what_readings_are_off_by_counts)
{
	const struct ab_fact_table *facts = ab_fact_defs();
	int slot = ab_fact_slot(facts, "pitch.temp-over");
	for (int i = 0; i < 8; i++)
		tell(i, slot, i < 6 ? 2 : 2.4, 0.5);
	struct ab_trend t = chart(8, facts);
	ck_assert_uint_eq(t.charts[0].n_shifts, 0);
	for (int i = 0; i < 8; i++)
		us[i][0] = 0.01;
	t = chart(8, facts);
	ck_assert_uint_eq(t.charts[0].n_shifts, 1);
}
END_TEST

/* ---- on the screen ---- */

static struct ab_fact_def defs[AB_TREND_HABITS];
static struct ab_fact_table table = { defs, AB_TREND_HABITS };

static char *told(const struct ab_look *look, int moved)
{
	struct ab_knowledge k = rc_rules;
	char *text = NULL;
	for (int i = 0; i < AB_TREND_HABITS; i++)
		defs[i] = (struct ab_fact_def){ .name = ab_trend_habits[i],
			.kind = AB_FACT_NUMBER,
			.unit = i == 2 ? "h" : "K",
			.title = "something measured" };
	for (int i = 0; i < 10; i++) {
		tell(i, 0, (moved && i >= 6 ? 6 : 1) + 0.25 * ((i + 1) % 3), 0.1);
		tell(i, 2, i == 8 && !moved ? 30 : 1 + 0.1 * (i % 4), 0.01);
	}
	k.facts = &table;
	struct ab_trend t = chart(10, &table);
	ck_assert_int_eq(ab_report_trend(&k, batches, 10, &t, NULL, 0, look, &text, &diag), AB_OK);
	return text;
}

static const struct { int moved; const char *want; } says[] = {
	{ 0, "Something measured: steady, 1.3 K over 10 batches. The next is likely between 1 K and 1.5 K." },
	{ 0, "steady, 1.14 h over 10 batches. The next is likely between 0.98 h and 1.31 h. Batch b9 stands "
	    "out: 30 h." },
	{ 1, "Something measured: went up with batch b7: 6.3 K since then (4 batches), 1.3 K\nbefore." },
};

START_TEST(says_what_moved)
{
	struct ab_look look = rc_look(AB_TEXT);
	char *text = told(&look, says[_i].moved), flat[4096] = "", want[256];
	rc_has("heading", text, "Your habits, measured");
	/* lines may break anywhere */
	for (size_t i = 0, n = 0; text[i] != '\0' && n + 1 < sizeof flat; i++)
		if (text[i] != '\n' && !(text[i] == ' ' && n > 0 && flat[n - 1] == ' '))
			flat[n++] = text[i];
		else if (text[i] == '\n' && n > 0 && flat[n - 1] != ' ')
			flat[n++] = ' ';
	snprintf(want, sizeof want, "%s", says[_i].want);
	for (char *at = want; *at != '\0'; at++)
		*at = *at == '\n' ? ' ' : *at;
	rc_has("what is said", flat, want);
	ab_report_free(text);
}
END_TEST

START_TEST(as_data)
{
	struct ab_look look = rc_look(AB_JSON);
	json_t *data = rc_json(told(&look, 1)), *c = json_array_get(json_object_get(data, "charts"), 0),
	       *shift = json_array_get(json_object_get(c, "shifts"), 0);
	ck_assert_uint_eq(json_array_size(json_object_get(data, "charts")), 2);
	ck_assert_str_eq(json_string_value(json_object_get(c, "fact")), "pitch.temp-over");
	ck_assert_uint_eq(json_array_size(json_object_get(c, "points")), 10);
	ck_assert_str_eq(json_string_value(json_object_get(shift, "from")), "b7");
	ck_assert(fabs(json_number_value(json_object_get(shift, "after")) - 6.25) < 0.1);
	json_decref(data);
}
END_TEST

START_TEST(short_of_memory)
{
	const struct ab_fact_table *facts = ab_fact_defs();
	int slot = ab_fact_slot(facts, "pitch.temp-over");
	for (int i = 0; i < 8; i++)
		tell(i, slot, i % 3, 0.5);
	for (long i = 0;; i++) {
		struct ab_trend t = { .n_batches = 8 };
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(i);
		struct ab_arena *a = ab_arena_new();
		enum ab_status st = a == NULL ? AB_ENOMEM : ab_trend_charts(batches, 8, facts, a, &t, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(a);
		if (st == AB_OK) {
			ck_assert(i > 0);
			return;
		}
		ck_assert_int_eq(st, AB_ENOMEM);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("habits");
	TCase *t = tcase_create("habits");
	SRunner *sr;
	int failed;
	tcase_add_checked_fixture(t, begin, end);
	tcase_add_test(t, every_habit_is_a_fact);
	tcase_add_test(t, from_five_on);
	tcase_add_test(t, what_readings_are_off_by_counts);
	tcase_add_loop_test(t, says_what_moved, 0, (int)(sizeof says / sizeof *says));
	tcase_add_test(t, as_data);
	tcase_add_test(t, short_of_memory);
	suite_add_tcase(s, t);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed != 0;
}
