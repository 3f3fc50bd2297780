/* check_elimination.c - what is left of the suspects when one fault comes again and again
 *
 * The rows are worked by hand: of each factor the values that batches with the fault had, and clean ones.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <string.h>

#include <afterboil/elimination.h>
#include "base/alloc.h"

enum { MOST = 40, FAULTS = 2, CAUSES = 3 };
enum { WATER, VESSEL, WIND };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_trend_batch batches[MOST];
static double loads[MOST][FAULTS], blames[MOST][CAUSES];
static struct ab_factor factors[MOST][3];
static char ids[MOST][4];
/* Water and vessel give the first fault, wind the other. */
static struct ab_link of_first[] = { { .fault = 0 } }, of_second[] = { { .fault = 1 } };
static struct ab_cause causes[CAUSES] = { { .id = "water", .links = of_first, .n_links = 1 },
	{ .id = "vessel", .links = of_first, .n_links = 1 }, { .id = "wind", .links = of_second, .n_links = 1 } };
static const struct ab_knowledge k = { .causes = causes, .n_causes = CAUSES, .n_faults = FAULTS };

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	memset(batches, 0, sizeof batches);
	memset(loads, 0, sizeof loads);
	memset(blames, 0, sizeof blames);
	memset(factors, 0, sizeof factors);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* One letter a batch: x the first fault, y the other, o clean, '-' not tasted; its vessel, and its water ('.' not
 * told). */
static size_t brew(const char *glass, const char *vessel, const char *water)
{
	static const char *const names[] = { "A", "B", "C", "D" };
	size_t n = strlen(glass);

	for (size_t i = 0; i < n; i++) {
		struct ab_trend_batch *b = &batches[i];

		ids[i][0] = (char)('a' + (int)(i % 26));
		*b = (struct ab_trend_batch){ .id = ids[i],
			.brewed_s = 86400.0 * (double)i,
			.tasted = glass[i] != '-',
			.load = NAN,
			.fault_load = loads[i],
			.blame = blames[i],
			.factors = factors[i] };
		loads[i][0] = glass[i] == 'x' ? 6 : 0;
		loads[i][1] = glass[i] == 'y' ? 3 : 0;
		if (vessel[i] != '.')
			factors[i][b->n_factors++] = (struct ab_factor){ "vessel", names[vessel[i] - 'A'] };
		if (water[i] != '.')
			factors[i][b->n_factors++] = (struct ab_factor){ "water", names[water[i] - 'A'] };
	}
	return n;
}

static struct ab_elimination *eliminate(size_t n)
{
	struct ab_elimination *e = NULL;
	enum ab_status st = ab_eliminate(&k, batches, n, arena, &e, &diag);

	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return e;
}

/* "vessel A 0/2, water A 2/2" */
static const char *told(const struct ab_elim_thing *things, size_t n)
{
	const char *all = "";

	for (size_t i = 0; i < n; i++)
		all = ab_arena_printf(arena, "%s%s%s %s %zu/%zu", all, i > 0 ? "; " : "", things[i].factor,
		    things[i].values, things[i].clean_with, things[i].clean);
	return all;
}

static const struct { const char *title, *glass, *vessel, *water; int fault; const char *since; size_t with,
    tasted; const char *left, *out; } rows[] = {
	{ "every batch, another vessel each time", "xxx", "ABC", "AAA", 0, "a", 3, 3, "water A 0/0",
	    "vessel A, B, C 0/0" },
	{ "every batch, nothing changed", "xxx", "AAA", "AAA", 0, "a", 3, 3, "vessel A 0/0; water A 0/0", "" },
	{ "clean ones in the other vessel", "xoxox", "ABABA", "AAAAA", 0, "a", 3, 5, "vessel A 0/2; water A 2/2", "" },
	{ "one clean one in the bad vessel", "oxoxox", "AABABA", "AAAAAA", 0, "b", 3, 5,
	    "vessel A 1/3; water A 3/3", "" },
	{ "what was before the first is not counted among the tasted", "oooxxx", "AAABBB", "AAAAAA", 0, "d", 3, 3,
	    "vessel B 0/3; water A 3/3", "" },
	{ "untasted batches tell nothing", "x-x-x", "AABBA", "AAAAA", 0, "a", 3, 3, "water A 0/0", "vessel A, B 0/0" },
	{ "told of two only", "xxx", "AA.", "AAA", 0, "a", 3, 3, "water A 0/0", "" },
	{ "told of three of four", "xxxx", "AA.A", "ABAA", 0, "a", 4, 4, "vessel A 0/0", "water A, B 0/0" },
	{ "the fault that comes most often", "xyyyx", "AAAAA", "ABBBA", 1, "b", 3, 4, "water B 0/2; vessel A 2/2", "" },
	{ "of equals the heavier", "xyxyxy", "ABABAB", "......", 0, "a", 3, 6, "vessel A 0/3", "" },
};

START_TEST(sorts_things)
{
	struct ab_elimination *e = eliminate(brew(rows[_i].glass, rows[_i].vessel, rows[_i].water));

	ck_assert_msg(e != NULL, "%s: nothing", rows[_i].title);
	ck_assert_msg(e->fault == rows[_i].fault, "%s: fault %d", rows[_i].title, e->fault);
	ck_assert_msg(strcmp(e->since, rows[_i].since) == 0, "%s: since %s", rows[_i].title, e->since);
	ck_assert_msg(e->with == rows[_i].with && e->tasted == rows[_i].tasted, "%s: %zu of %zu", rows[_i].title,
	    e->with, e->tasted);
	ck_assert_msg(strcmp(told(e->left, e->n_left), rows[_i].left) == 0, "%s: left %s", rows[_i].title,
	    told(e->left, e->n_left));
	ck_assert_msg(strcmp(told(e->out, e->n_out), rows[_i].out) == 0, "%s: out %s", rows[_i].title,
	    told(e->out, e->n_out));
}
END_TEST

static const struct { const char *title, *glass; } none[] = {
	{ "no batch", "" }, { "none tasted", "---" }, { "all clean", "ooo" }, { "twice only", "xxo" },
	{ "two of each", "xxyy" },
	{ "it has stayed away since", "xxxoooo" }, { "long ago", "xxxoooooooooooooooooooooooo" },
};

START_TEST(nothing_to_eliminate)
{
	size_t n = brew(none[_i].glass, "AAAAAAAAAAAAAAAAAAAAAAAAAAA", "AAAAAAAAAAAAAAAAAAAAAAAAAAA");

	ck_assert_msg(eliminate(n) == NULL, "%s", none[_i].title);
}
END_TEST

/* Of the last AB_ELIMINATE_RECENT tasted, the eldest still counts as recent. */
START_TEST(just_recent)
{
	ck_assert_ptr_nonnull(eliminate(brew("xxxooo", "AAAAAA", "AAAAAA")));
}
END_TEST

/* A hose and a second hose: a batch may name two pieces of one kind, and what all share is left though they differ
 * else. */
START_TEST(two_of_a_kind)
{
	size_t n = brew("xxx", "ABC", "...");

	for (size_t i = 0; i < n; i++)
		factors[i][batches[i].n_factors++] = (struct ab_factor){ "vessel", "shared" };
	struct ab_elimination *e = eliminate(n);
	ck_assert_str_eq(told(e->left, e->n_left), "vessel shared 0/0");
	ck_assert_str_eq(told(e->out, e->n_out), "");
}
END_TEST

static const struct { const char *title; double water[3], vessel[3]; int left, out; double share;
    const char *batch; } blamed[] = {
	{ "in each", { 0.5, 0.3, 0.4 }, { 0, 0, 0 }, WATER, -1, 0.3, NULL },
	{ "not in one of them", { 0.5, 0.04, 0.4 }, { 0.06, 0.3, 0.1 }, VESSEL, WATER, 0.06, "b" },
	{ "never a suspect", { 0.1, 0.01, 0.1 }, { 0.3, 0.3, 0.3 }, VESSEL, -1, 0.3, NULL },
	{ "neither", { 0.04, 0.04, 0.1 }, { 0, 0, 0 }, -1, -1, 0, NULL },
};

START_TEST(sorts_causes)
{
	size_t n = brew("xxx", "AAA", "AAA");

	for (size_t i = 0; i < n; i++) {
		blames[i][WATER] = blamed[_i].water[i];
		blames[i][VESSEL] = blamed[_i].vessel[i];
		blames[i][WIND] = 0.9;   /* does not give the fault */
	}
	struct ab_elimination *e = eliminate(n);
	ck_assert_msg(e->n_causes == (blamed[_i].left >= 0), "%s: %zu left", blamed[_i].title, e->n_causes);
	ck_assert_msg(e->n_out_causes == (blamed[_i].out >= 0), "%s: %zu out", blamed[_i].title, e->n_out_causes);
	if (blamed[_i].left >= 0)
		ck_assert(e->causes[0].cause == blamed[_i].left &&
		    fabs(e->causes[0].share - blamed[_i].share) < 1e-12 && e->causes[0].batch == NULL);
	if (blamed[_i].out >= 0)
		ck_assert(e->out_causes[0].cause == blamed[_i].out &&
		    strcmp(e->out_causes[0].batch, blamed[_i].batch) == 0);
}
END_TEST

START_TEST(most_share_first)
{
	size_t n = brew("xxx", "AAA", "AAA");

	for (size_t i = 0; i < n; i++) {
		blames[i][WATER] = 0.2;
		blames[i][VESSEL] = 0.6;
	}
	struct ab_elimination *e = eliminate(n);
	ck_assert_uint_eq(e->n_causes, 2);
	ck_assert_int_eq(e->causes[0].cause, VESSEL);
}
END_TEST

/* Series that carry no blame still tell of vessels. */
START_TEST(without_blame)
{
	size_t n = brew("xxx", "AAA", "AAA");

	for (size_t i = 0; i < n; i++)
		batches[i].blame = NULL;
	struct ab_elimination *e = eliminate(n);
	ck_assert(e->n_causes + e->n_out_causes == 0 && e->n_left == 2);
}
END_TEST

START_TEST(short_of_memory)
{
	size_t n = brew("xoxox", "ABACA", "ABABC");
	enum ab_status st = AB_ENOMEM;

	for (long at = 0; st != AB_OK && at < 200; at++) {
		struct ab_elimination *e = NULL;

		ab_arena_free(arena);
		ab_alloc_fail_at(-1);
		arena = ab_arena_new();
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_eliminate(&k, batches, n, arena, &e, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK ? e != NULL : st == AB_ENOMEM && e == NULL && diag.text[0] != '\0');
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("elimination");
	TCase *tc = tcase_create("elimination");

	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, sorts_things, 0, sizeof rows / sizeof *rows);
	tcase_add_loop_test(tc, nothing_to_eliminate, 0, sizeof none / sizeof *none);
	tcase_add_test(tc, just_recent);
	tcase_add_test(tc, two_of_a_kind);
	tcase_add_loop_test(tc, sorts_causes, 0, sizeof blamed / sizeof *blamed);
	tcase_add_test(tc, most_share_first);
	tcase_add_test(tc, without_blame);
	tcase_add_test(tc, short_of_memory);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
