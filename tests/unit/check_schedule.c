/* check_schedule.c - touches over days: against every layout there is
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <stdint.h>
#include <string.h>

#include <afterboil/schedule.h>
#include "base/alloc.h"

enum { DAYS = 9, MOST = 5, TRIALS = 4000 };

static struct ab_arena *arena;
static struct ab_diag diag;

static void begin(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
}

static void end(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* What one layout costs, told from the header alone; -1 when it breaks a window or a day. */
static long long price(const struct ab_schedule_task *task, const int *day)
{
	long long sum = 0;
	int used[DAYS] = { 0 }, apart[DAYS] = { 0 };
	for (size_t t = 0; t < task->n; t++) {
		const struct ab_schedule_touch *touch = &task->touches[t];
		int from = touch->after < 0 ? 0 : day[touch->after], d = day[t];
		const struct ab_schedule_day *at = &task->days[d];
		if (d < from + touch->lo || d > from + touch->hi || d < touch->first || d > touch->last)
			return -1;
		for (size_t i = 0; i < t; i++)
			if (task->touches[i].before == (int)t && day[i] > d)
				return -1;
		bool over = false;
		if (used[d] + touch->minutes > at->minutes && apart[d] + touch->minutes <= at->apart)
			apart[d] += touch->minutes;
		else {
			used[d] += touch->minutes;
			over = used[d] > at->minutes;
		}
		if (over && used[d] + apart[d] > at->most)
			return -1;
		sum += over ? task->over_cost : 0;
		sum += (long long)touch->late_cost * (d > from + touch->lo ? d - from - touch->lo : 0);
		sum += (long long)touch->day_cost * d;
	}
	return sum + 1000000;
}

/* All layouts; the least price, -1 when none holds. */
static long long brute(const struct ab_schedule_task *task)
{
	int day[MOST] = { 0 };
	long long least = -1;
	for (;;) {
		long long p = price(task, day);
		size_t t = 0;
		if (p >= 0 && (least < 0 || p < least))
			least = p;
		while (t < task->n && ++day[t] == DAYS)
			day[t++] = 0;
		if (t == task->n)
			return least;
	}
}

static uint32_t state;
static int draw(int n)
{
	state = state * 1664525u + 1013904223u;
	return (int)((state >> 8) % (uint32_t)n);
}

static void draw_task(struct ab_schedule_task *task, struct ab_schedule_touch *touches, struct ab_schedule_day *days)
{
	task->n = 1 + (size_t)draw(MOST);
	for (size_t t = 0; t < task->n; t++) {
		int lo = draw(4);
		touches[t] = (struct ab_schedule_touch){ .after = draw((int)t + 1) - 1, .lo = lo, .hi = lo + draw(5),
			.first = draw(2), .last = DAYS - 1 - draw(2), .minutes = 10 * draw(7), .late_cost = draw(4),
			.day_cost = draw(7) - 3, .before = draw(3) == 0 ? (int)t + 1 + draw(2) : 0 };
	}
	for (int d = 0; d < DAYS; d++)
		days[d] = (struct ab_schedule_day){ 10 * draw(10) - 10, 10 * draw(14) - 10,
			draw(3) == 0 ? 10 * draw(6) : 0 };
	task->over_cost = 1 + draw(20);
}

START_TEST(as_every_layout)
{
	size_t found = 0, none = 0, shared = 0, prepares = 0;
	state = 1;
	for (int i = 0; i < TRIALS; i++) {
		struct ab_schedule_touch touches[MOST];
		struct ab_schedule_day days[DAYS];
		struct ab_schedule_task task = { .touches = touches, .days = days, .n_days = DAYS };
		struct ab_schedule s;
		draw_task(&task, touches, days);
		ck_assert_int_eq(ab_schedule_solve(&task, arena, &s, &diag), AB_OK);
		long long least = brute(&task);
		ck_assert_msg(s.found == (least >= 0), "trial %d", i);
		none += !s.found;
		if (!s.found)
			continue;
		found++;
		ck_assert_msg(s.cost + 1000000 == least, "trial %d: %lld for %lld", i, s.cost + 1000000, least);
		ck_assert_msg(price(&task, s.day) == least, "trial %d: its days cost otherwise", i);
		for (size_t t = 1; t < task.n; t++)
			shared += s.day[t] == s.day[t - 1], prepares += task.touches[t - 1].before == (int)t;
		ab_arena_reset(arena);
	}
	/* otherwise the trials would show nothing */
	ck_assert_msg(found > TRIALS / 10 && none > TRIALS / 10 && shared > TRIALS / 10 && prepares > TRIALS / 10,
	    "%zu %zu %zu %zu", found, none, shared, prepares);
}
END_TEST

/* Two hundred days, and the touches of a batch that share evenings: proven in few steps. */
START_TEST(few_steps)
{
	struct ab_schedule_touch touches[16] = { { .after = -1, .hi = 199, .last = 199, .minutes = 300 } };
	struct ab_schedule_day days[200];
	struct ab_schedule_task task = { touches, 16, days, 200, 100000000 };
	struct ab_schedule s;
	for (int d = 0; d < 200; d++)
		days[d] = (struct ab_schedule_day){ d % 7 == 5 ? 400 : 30, d % 7 == 5 ? 400 : 30, 0 };
	for (int t = 1; t < 16; t++)
		touches[t] = (struct ab_schedule_touch){ .after = t / 2, .lo = t % 3, .hi = t % 3 + 12, .last = 199,
			.minutes = t % 5 == 0 ? 100 : 20, .late_cost = 1 };
	for (int t = 1; t < 16; t++)
		touches[t].after = (t - 1) / 2;
	touches[15].day_cost = 10000;
	ck_assert_int_eq(ab_schedule_solve(&task, arena, &s, &diag), AB_OK);
	ck_assert(s.found);
	ck_assert_msg(s.steps < 100000, "%zu steps", s.steps);
}
END_TEST

static const struct { const char *title; struct ab_schedule_touch touch; size_t n_days; } wrong[] = {
	{ "window backwards", { .after = -1, .lo = 2, .hi = 1, .last = 5 }, 5 },
	{ "hangs on itself", { .after = 0, .hi = 1, .last = 5 }, 5 },
	{ "less than no minutes", { .after = -1, .hi = 1, .last = 5, .minutes = -1 }, 5 },
	{ "too many days", { .after = -1, .hi = 1, .last = 5 }, AB_SCHEDULE_DAYS + 1 },
};

START_TEST(refused)
{
	static struct ab_schedule_day days[AB_SCHEDULE_DAYS + 1];
	struct ab_schedule_task task = { &wrong[_i].touch, 1, days, wrong[_i].n_days, 1 };
	struct ab_schedule s;
	ck_assert_msg(ab_schedule_solve(&task, arena, &s, &diag) == AB_EUSAGE, "%s", wrong[_i].title);
}
END_TEST

START_TEST(nothing_to_do)
{
	struct ab_schedule_task task = { NULL, 0, NULL, 0, 1 };
	struct ab_schedule s;
	ck_assert_int_eq(ab_schedule_solve(&task, arena, &s, &diag), AB_OK);
	ck_assert(s.found && s.cost == 0);
}
END_TEST

START_TEST(short_of_memory)
{
	struct ab_schedule_touch touches[2] = { { .after = -1, .hi = 4, .last = 4 }, { .after = 0, .hi = 4,
	    .last = 4 } };
	struct ab_schedule_day days[5] = { { 0, 0, 0 } };
	struct ab_schedule_task task = { touches, 2, days, 5, 1 };
	enum ab_status st = AB_ENOMEM;
	for (long at = 0; st != AB_OK && at < 50; at++) {
		struct ab_schedule s;
		struct ab_diag d;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		struct ab_arena *own = ab_arena_new();
		st = own == NULL ? AB_ENOMEM : ab_schedule_solve(&task, own, &s, &d);
		ab_alloc_fail_at(-1);
		ab_arena_free(own);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("schedule");
	TCase *tc = tcase_create("schedule");
	tcase_set_timeout(tc, 120);
	tcase_add_checked_fixture(tc, begin, end);
	tcase_add_test(tc, as_every_layout);
	tcase_add_test(tc, few_steps);
	tcase_add_loop_test(tc, refused, 0, sizeof wrong / sizeof *wrong);
	tcase_add_test(tc, nothing_to_do);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
