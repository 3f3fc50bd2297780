/* check_arena.c - memory of one piece of work: zeroed, aligned, all gone at once, and sound when the heap says no
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/arena.h>

#include <check.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/alloc.h"

static struct ab_arena *arena;

static void set_up(void)
{
	arena = ab_arena_new();
	ck_assert_ptr_nonnull(arena);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* Sizes around blocks, alignment and zero. */
static const struct { const char *title; size_t n, size; } sizes[] = {
	{ "one byte", 1, 1 },
	{ "three bytes", 3, 1 },
	{ "nothing of something", 0, 8 },
	{ "something of nothing", 8, 0 },
	{ "a pointer", 1, sizeof(void *) },
	{ "just under the first block", 8191, 1 },
	{ "the first block", 8192, 1 },
	{ "over the first block", 8193, 1 },
	{ "over the largest block", 3, 1024 * 1024 },
};

START_TEST(size_rows)
{
	unsigned char *last = NULL;
	for (int round = 0; round < 8; round++) {
		unsigned char *p = ab_arena_alloc(arena, sizes[_i].n, sizes[_i].size);
		ck_assert_msg(p != NULL && p != last, "%s", sizes[_i].title);
		ck_assert_msg((uintptr_t)p % _Alignof(long double) == 0, "%s", sizes[_i].title);
		size_t dirty = 0;
		for (size_t b = 0; b < sizes[_i].n * sizes[_i].size; b++)
			dirty += p[b] != 0;
		ck_assert_msg(dirty == 0, "%s: %zu bytes not zero", sizes[_i].title, dirty);
		memset(p, 0xEE, sizes[_i].n * sizes[_i].size);
		last = p;
	}
}
END_TEST

/* Not zeroed, and apart from what came before and after. */
START_TEST(raw_rows)
{
	for (int round = 0; round < 8; round++) {
		size_t bytes = sizes[_i].n * sizes[_i].size;
		unsigned char *before = ab_arena_alloc(arena, 1, 1),
			      *p = ab_arena_raw(arena, sizes[_i].n, sizes[_i].size);
		unsigned char *after = ab_arena_alloc(arena, 1, 1);
		ck_assert_msg(p != NULL && before != NULL && after != NULL, "%s", sizes[_i].title);
		ck_assert_msg((uintptr_t)p % _Alignof(long double) == 0, "%s", sizes[_i].title);
		memset(p, 0xEE, bytes);
		ck_assert_msg(*before == 0 && *after == 0, "%s", sizes[_i].title);
	}
}
END_TEST

START_TEST(overflow)
{
	ck_assert_ptr_null(ab_arena_raw(arena, SIZE_MAX, 2));
	ck_assert_ptr_null(ab_arena_raw(arena, SIZE_MAX, 1));
	ck_assert_ptr_null(ab_arena_alloc(arena, SIZE_MAX, 2));
	ck_assert_ptr_null(ab_arena_alloc(arena, SIZE_MAX / 2 + 1, 2));
	ck_assert_ptr_null(ab_arena_alloc(arena, SIZE_MAX, 1));
	ck_assert_ptr_null(ab_arena_alloc(arena, SIZE_MAX - 16, 1));
	ck_assert_ptr_nonnull(ab_arena_alloc(arena, 1, 1));
}
END_TEST

/* Writing one to its full length must leave every other alone. */
START_TEST(apart)
{
	enum { N = 500 };
	unsigned char *p[N];
	for (size_t i = 0; i < N; i++) {
		p[i] = ab_arena_alloc(arena, i, 1);
		ck_assert_ptr_nonnull(p[i]);
		memset(p[i], (int)(i % 251), i);
	}
	for (size_t i = 0; i < N; i++)
		for (size_t b = 0; b < i; b++)
			ck_assert_uint_eq(p[i][b], i % 251);
}
END_TEST

START_TEST(text)
{
	char *a = ab_arena_strdup(arena, "Weizen");
	char *b = ab_arena_strndup(arena, "Weizenbock", 6);
	char *c = ab_arena_printf(arena, "%s of %d L", "cask", 40);
	ck_assert_str_eq(a, "Weizen");
	ck_assert_str_eq(b, "Weizen");
	ck_assert_str_eq(c, "cask of 40 L");
	ck_assert_str_eq(ab_arena_strdup(arena, ""), "");
	ck_assert_str_eq(ab_arena_printf(arena, "%*d", 20000, 7) + 19998, " 7");
}
END_TEST

START_TEST(reset_zeroes_again)
{
	ab_arena_reset(arena);
	for (int round = 0; round < 3; round++) {
		unsigned char *p = ab_arena_alloc(arena, 4000, 1);
		for (size_t b = 0; b < 4000; b++)
			ck_assert_uint_eq(p[b], 0);
		memset(p, 0xEE, 4000);
		ab_arena_reset(arena);
	}
}
END_TEST

/* A stream of pieces of work must not ask the heap for each. */
START_TEST(reset_is_flat)
{
	for (int i = 0; i < 3; i++) {
		ab_arena_alloc(arena, 100, 1000);
		ab_arena_reset(arena);
	}
	ab_alloc_fail_at(-1);
	for (int i = 0; i < 1000; i++) {
		ck_assert_ptr_nonnull(ab_arena_alloc(arena, 50, 1000));
		ab_arena_reset(arena);
	}
	ck_assert_int_le(ab_alloc_count(), 1);
	/* but one giant is not kept for ever */
	ck_assert_ptr_nonnull(ab_arena_alloc(arena, 8, 1024 * 1024));
	ab_arena_reset(arena);
	ab_alloc_fail_at(-1);
	ck_assert_ptr_nonnull(ab_arena_alloc(arena, 1, 1));
	ck_assert_int_eq(ab_alloc_count(), 1);
}
END_TEST

START_TEST(used)
{
	ck_assert_uint_eq(ab_arena_used(arena), 0);
	ck_assert_ptr_nonnull(ab_arena_alloc(arena, 10, 100));
	size_t one = ab_arena_used(arena);
	ck_assert_uint_ge(one, 1000);
	ck_assert_uint_lt(one, 1000 + 32);
	/* over many blocks, too */
	for (int i = 1; i < 1000; i++)
		ck_assert_ptr_nonnull(ab_arena_alloc(arena, 10, 100));
	ck_assert_uint_eq(ab_arena_used(arena), 1000 * one);
	ab_arena_reset(arena);
	ck_assert_uint_eq(ab_arena_used(arena), 0);
}
END_TEST

struct item { int n; double x; };

START_TEST(push)
{
	struct item *items = NULL;
	size_t n = 0, cap = 0;
	for (int i = 0; i < 1000; i++) {
		struct item *it = ab_arena_push(arena, &items, &n, &cap, sizeof *it);
		ck_assert_ptr_nonnull(it);
		ck_assert_int_eq(it->n, 0);
		it->n = i;
		it->x = i * 0.5;
	}
	ck_assert_uint_eq(n, 1000);
	ck_assert_uint_ge(cap, n);
	for (int i = 0; i < 1000; i++)
		ck_assert(items[i].n == i && items[i].x == i * 0.5);
}
END_TEST

START_TEST(push_without_memory)
{
	struct item *items = NULL;
	size_t n = 0, cap = 0;
	for (int i = 0; i < 4; i++)
		((struct item *)ab_arena_push(arena, &items, &n, &cap, 5000))->n = i;
	struct item *before = items;
	ab_alloc_fail_at(0);
	ck_assert_ptr_null(ab_arena_push(arena, &items, &n, &cap, 5000));
	ck_assert(items == before && n == 4 && cap == 4);
	ab_alloc_fail_at(-1);
	ck_assert_ptr_nonnull(ab_arena_push(arena, &items, &n, &cap, 5000));
	ck_assert_uint_eq(n, 5);
}
END_TEST

START_TEST(no_memory)
{
	ab_alloc_fail_at(0);
	ck_assert_ptr_null(ab_arena_new());
	ck_assert_ptr_null(ab_arena_alloc(arena, 1, 1));
	ck_assert_ptr_null(ab_arena_strdup(arena, "x"));
	ck_assert_ptr_null(ab_arena_strndup(arena, "x", 1));
	ck_assert_ptr_null(ab_arena_printf(arena, "x"));
	ck_assert_ptr_null(ab_malloc(1));
	ck_assert_ptr_null(ab_calloc(1, 1));
	ck_assert_ptr_null(ab_realloc(NULL, 1));
	ck_assert_ptr_null(ab_strdup("x"));
	ab_arena_free(NULL);
}
END_TEST

START_TEST(the_gate)
{
	ck_assert_ptr_null(ab_calloc(SIZE_MAX, 2));
	char *p = ab_strdup("hop");
	ck_assert_str_eq(p, "hop");
	ab_alloc_fail_at(0);
	ck_assert_ptr_null(ab_realloc(p, 100));
	ab_alloc_fail_at(-1);
	ck_assert_str_eq(p, "hop");
	p = ab_realloc(p, 100);
	ck_assert_str_eq(p, "hop");
	ab_free(p);
	ab_free(NULL);
	void *empty = ab_malloc(0);
	ck_assert_ptr_nonnull(empty);
	ab_free(empty);
	/* the k-th and every later one */
	ab_alloc_fail_at(2);
	void *a = ab_malloc(1), *b = ab_malloc(1);
	ck_assert(a != NULL && b != NULL);
	ck_assert_ptr_null(ab_malloc(1));
	ck_assert_ptr_null(ab_malloc(1));
	ck_assert_int_eq(ab_alloc_count(), 4);
	ab_free(a);
	ab_free(b);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("arena");
	TCase *tc = tcase_create("arena");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, size_rows, 0, sizeof sizes / sizeof *sizes);
	tcase_add_loop_test(tc, raw_rows, 0, sizeof sizes / sizeof *sizes);
	tcase_add_test(tc, overflow);
	tcase_add_test(tc, apart);
	tcase_add_test(tc, text);
	tcase_add_test(tc, reset_zeroes_again);
	tcase_add_test(tc, reset_is_flat);
	tcase_add_test(tc, used);
	tcase_add_test(tc, push);
	tcase_add_test(tc, push_without_memory);
	tcase_add_test(tc, no_memory);
	tcase_add_test(tc, the_gate);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
