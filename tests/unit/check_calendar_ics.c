/* check_calendar_ics.c - the calendar file where memory is short: all of it or a clean failure, whoever asks for
 * the memory
 *
 * libical takes its memory from malloc itself, so malloc and its kin stand here in front of the C library's, to
 * measure. Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <afterboil/report.h>
#include <afterboil/when.h>
#include "base/alloc.h"
#include "rulecase.h"

#if defined(__GLIBC__) && !defined(__SANITIZE_ADDRESS__) && !defined(AB_SANITIZED)
#if defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(memory_sanitizer)
#define OURS 0
#endif
#endif
#ifndef OURS
#define OURS 1
#endif
#else
#define OURS 0
#endif

/* What is asked for while measuring: the sum, and the largest request. */
static bool measuring;
static size_t sum, largest;

#if OURS
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *p, size_t size);

static void measure(size_t size)
{
	if (!measuring)
		return;
	sum += size;
	largest = size > largest ? size : largest;
}

void *malloc(size_t size) { measure(size); return __libc_malloc(size); }
void *calloc(size_t n, size_t size) { measure(n * size); return __libc_calloc(n, size); }
void *realloc(void *p, size_t size) { measure(size); return __libc_realloc(p, size); }
#endif

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_batch *batch;

static enum ab_status keep(void *ctx, struct ab_batch *b, struct ab_diag *d)
{
	(void)ctx;
	(void)d;
	batch = b;
	return AB_OK;
}

/* One batch on its fifth day: done, over, overdue and to come. */
static struct ab_batchplan plan(void)
{
	static const char text[] = "<batch xmlns='urn:afterboil:journal:1' id='own-1' brewed='2031-03-01'>"
	    "<pitch at='2031-03-01T18:00' temp='19 C'/><dry-hop at='2031-03-04' amount='60 g'/></batch>";
	struct ab_days *days = ab_arena_alloc(arena, 1, sizeof *days);
	struct ab_batchplan out;
	ck_assert_int_eq(ab_journal_read_memory(text, strlen(text), "own.xml", NULL, arena, keep, NULL, &diag), AB_OK);
	ab_days_start(days, ab_when_from_civil(2031, 3, 5), 720, 30);
	struct ab_batchplan_asked asked = {
		.k = rules, .batches = &batch, .n = 1, .days = days, .drink_s = (double)NAN
	};
	ck_assert_msg(ab_batchplan_make(&asked, batch, NULL, arena, &out, &diag) == AB_OK, "%s", diag.text);
	return out;
}

static size_t count(const char *text, const char *what)
{
	size_t n = 0;
	for (const char *at = strstr(text, what); at != NULL; at = strstr(at + 1, what))
		n++;
	return n;
}

/* libical falls when a request of its own fails, so its memory is asked for beforehand, in one piece: all that is asked
 * for afterwards, even if none of it were ever given back, is less. */
START_TEST(asked_for_beforehand)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	struct ab_batchplan p = plan();
	struct ab_calendar_of of[20];
	const struct ab_calendar_words words = { .stamp_s = 0, .today_s = ab_when_from_civil(2031, 3, 5) };
	const struct ab_look look = { .format = AB_ICS };
	char *text = NULL;
	for (size_t i = 0; i < 20; i++)
		of[i] = (struct ab_calendar_of){ &p, "own-1", "own", "own-1" };
	for (size_t n = 1; n <= 20; n += 19) {
		sum = largest = 0;
		measuring = true;
		enum ab_status st = ab_report_calendar(of, n, &words, &look, &text, &diag);
		measuring = false;
		ck_assert_int_eq(st, AB_OK);
		ck_assert_uint_eq(count(text, "BEGIN:VEVENT"), n * (p.calendar->n + p.calendar->n_past));
		ck_assert_uint_eq(count(text, "END:VCALENDAR"), 1);
		ck_assert_msg(OURS == 0 || sum - largest < largest, "%zu batches: %zu asked for, %zu beforehand", n,
		    sum - largest, largest);
		ab_report_free(text);
	}
	ab_arena_free(arena);
}
END_TEST

/* Every request of our own, that one among them. */
START_TEST(short_of_own_memory)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	struct ab_batchplan p = plan();
	const struct ab_calendar_of of = { &p, "own-1", "own", "own-1" };
	const struct ab_calendar_words words = { .stamp_s = 0 };
	const struct ab_look look = { .format = AB_ICS };
	enum ab_status st = AB_ENOMEM;
	long at = 0;
	for (; st != AB_OK && at < 5000; at++) {
		struct ab_diag d;
		char *text = NULL;
		ab_diag_init(&d);
		ab_alloc_fail_at(at);
		st = ab_report_calendar(&of, 1, &words, &look, &text, &d);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ab_report_free(text);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 5);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("calendar_ics");
	TCase *tc = tcase_create("calendar_ics");
	tcase_set_timeout(tc, 120);
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_test(tc, asked_for_beforehand);
	tcase_add_test(tc, short_of_own_memory);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
