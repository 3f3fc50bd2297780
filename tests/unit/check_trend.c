/* check_trend.c - before and after each change, the slope, the main faults, the common thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include <afterboil/trend.h>
#include "trend/stats.h"
#include "base/alloc.h"

enum { MOST = 16, FAULTS = 3 };

static struct ab_arena *arena;
static struct ab_diag diag;
static struct ab_trend_batch batches[MOST];
static double fault_load[MOST][FAULTS];
static struct ab_factor factors[MOST][2];
static size_t n;

static void set_up(void)
{
	arena = ab_arena_new();
	ab_diag_init(&diag);
	n = 0;
	memset(fault_load, 0, sizeof fault_load);
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* A tasted batch; load NAN = not tasted. */
static struct ab_trend_batch *brew(double load)
{
	struct ab_trend_batch *b = &batches[n];

	*b = (struct ab_trend_batch){ .id = "b",
		.brewed_s = 86400.0 * (double)n,
		.tasted = !isnan(load),
		.load = load,
		.load_low = NAN,
		.load_high = NAN,
		.fault_load = fault_load[n] };
	n++;
	return b;
}

static void change(struct ab_trend_batch *b, const char *const *what, size_t count)
{
	b->changes = what;
	b->n_changes = count;
}

static struct ab_trend *work(void)
{
	struct ab_trend *t = NULL;
	enum ab_status st = ab_trend_work(batches, n, FAULTS, arena, &t, &diag);

	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return t;
}

/* ---- before and after ---- */

/* Batches in a row, up to a load of 0: the load, the change noted, the line. */
struct step { double load; const char *change, *line; };
#define NOT_TASTED (-1)
static const struct {
	const char *title;
	struct step steps[9];
	const char *about, *line;        /* the change looked at, and the line it is judged over */
	size_t before_n, after_n;
	double before, after;
} reigns[] = {
	{ "one change",
	    { { 4, NULL, NULL }, { 6, NULL, NULL }, { 1.5, "A", NULL }, { 1, NULL, NULL }, { 0.5, NULL, NULL } },
	"A", NULL, 2, 3, 5, 1 },
	{ "up to the next change",
	    { { 4, NULL, NULL }, { 6, NULL, NULL }, { 2, "A", NULL }, { 1, NULL, NULL }, { 9, "B", NULL } }, "A",
	NULL, 2, 2, 5, 1.5 },
	{ "and from the one before",
	    { { 4, NULL, NULL }, { 6, "A", NULL }, { 2, NULL, NULL }, { 1, "B", NULL }, { 9, NULL, NULL } }, "B",
	NULL, 2, 2, 4, 5 },
	{ "the nearest of the next ones",
	    { { 4, NULL, NULL }, { 2, "A", NULL }, { 6, "B", NULL }, { 8, "C", NULL }, { 9, NULL, NULL } }, "A",
	NULL, 1, 1, 4, 2 },
	{ "not tasted does not count",
	    { { 4, NULL, NULL }, { NOT_TASTED, NULL, NULL }, { 2, "A", NULL }, { NOT_TASTED, NULL, NULL } }, "A",
	NULL, 1, 1, 4, 2 },
	{ "the batch itself not tasted", { { 4, NULL, NULL }, { NOT_TASTED, "A", NULL }, { 1, NULL, NULL } }, "A",
	    NULL, 1, 1, 4, 1 },
	{ "nothing before", { { 4, "A", NULL }, { 2, NULL, NULL } }, "A", NULL, 0, 2, NAN, 3 },
	{ "nothing after", { { 4, NULL, NULL }, { NOT_TASTED, "A", NULL } }, "A", NULL, 1, 0, 4, NAN },
	{ "within the line",
	    { { 4, NULL, "x" }, { 9, NULL, "y" }, { 2, "A", "x" }, { 9, NULL, "y" }, { 1, NULL, "x" } }, "A", "x",
	1, 2, 4, 1.5 },
	{ "a change of another line is no neighbour",
	    { { 4, NULL, "x" }, { 9, "B", "y" }, { 2, "A", "x" }, { 9, "C", "y" }, { 1, NULL, "x" } },
	  "A", "x", 1, 2, 4, 1.5 },
	{ "the first of its line: over all",
	    { { 4, NULL, "x" }, { 6, NULL, "x" }, { 2, "A", "y" }, { 1, NULL, "x" } }, "A", NULL, 2, 2, 5, 1.5 },
	{ "the first tasted of its line: over all",
	    { { 4, NULL, "x" }, { NOT_TASTED, NULL, "y" }, { 2, "A", "y" }, { 1, NULL, "x" } }, "A", NULL, 1, 2, 4,
	1.5 },
	{ "over all the neighbours of all lines bound it",
	    { { 4, NULL, "x" }, { 6, "B", "x" }, { 2, "A", "y" }, { 1, "C", "x" } }, "A", NULL, 1, 1, 6, 2 },
	{ "a batch without a line belongs to none",
	    { { 8, NULL, NULL }, { 4, NULL, "x" }, { 2, "A", "x" }, { 8, NULL, NULL } }, "A", "x", 1, 1, 4, 2 },
};

static bool same(double got, double want)
{
	return isnan(want) ? isnan(got) : fabs(got - want) < 1e-12;
}

START_TEST(reign)
{
	const struct ab_trend_change *c = NULL;
	const struct step *s = reigns[_i].steps;

	for (size_t i = 0; i < 9 && s[i].load != 0; i++) {
		struct ab_trend_batch *b = brew(s[i].load == NOT_TASTED ? NAN : s[i].load);

		b->line = s[i].line;
		if (s[i].change != NULL)
			change(b, &s[i].change, 1);
	}
	const struct ab_trend *t = work();
	for (size_t i = 0; i < t->n_changes; i++)
		if (strcmp(t->changes[i].id, reigns[_i].about) == 0)
			c = &t->changes[i];
	ck_assert_ptr_nonnull(c);
	ck_assert_msg(c->n_before == reigns[_i].before_n && c->n_after == reigns[_i].after_n, "%s: %zu, %zu",
	    reigns[_i].title, c->n_before, c->n_after);
	ck_assert_msg(same(c->before, reigns[_i].before) && same(c->after, reigns[_i].after), "%s: %g, %g",
	    reigns[_i].title, c->before, c->after);
	ck_assert_msg((c->line == NULL) == (reigns[_i].line == NULL) &&
		(c->line == NULL || strcmp(c->line, reigns[_i].line) == 0),
	    "%s: line", reigns[_i].title);
	ck_assert_msg(isnan(c->p_better) == (c->n_before == 0 || c->n_after == 0 || c->n_before + c->n_after < 3),
	    "%s: %g", reigns[_i].title, c->p_better);
	ck_assert(!c->together);
}
END_TEST

static const char *const one[] = { "cooler" }, *const two[] = { "cooler", "cleaner" };

/* Loads 3, 4, 5, then 1, 2, 3: a scatter of 1, as tasting alone brings it: P = 0.964758 with 4 degrees
 * (check_stats.c, R). */
START_TEST(known_numbers)
{
	static const double loads[] = { 3, 4, 5, 1, 2, 3 };

	for (size_t i = 0; i < 6; i++)
		brew(loads[i]);
	change(&batches[3], one, 1);
	const struct ab_trend_change *c = work()->changes;
	ck_assert_double_eq_tol(c->p_better, 0.964758, 1e-6);
	ck_assert_double_eq_tol(c->low, 2 - 1.533206 * 0.8164966, 1e-5);
	ck_assert_double_eq_tol(c->high, 2 + 1.533206 * 0.8164966, 1e-5);
	/* 4 / 4.507858 - 1/3 = 0.554: 2 after are enough, and there are 3 */
	ck_assert_uint_eq(c->more_needed, 0);
	ck_assert_double_eq(c->date_s, 3 * 86400.0);
}
END_TEST

/* The scatter is never less than what tasters bring, and what is still needed follows the scatter seen. */
static const struct { const char *title; double loads[6], half_range; double p; size_t more; } scatters[] = {
	{ "no scatter seen: 1 of tasting", { 3, 3, 3, 2, 2, 2 }, NAN, 0.856068, SIZE_MAX },
	/* endlessly many after 3: power 0.65 */
	{ "ranges say 0.5", { 3, 3, 3, 2, 2, 2 }, 0.6408, 0.964758, 0 },
	/* 3 by R's noncentral t */
	{ "seen is more than the ranges say", { 3, 4, 5, 1, 2, 3 }, 0.6408, 0.964758, 0 },
	{ "seen is much: endless", { 3, 6, 9, 1, 4, 7 }, 0.6408, 0.769975, SIZE_MAX },
};

START_TEST(scatter)
{
	for (size_t i = 0; i < 6; i++) {
		struct ab_trend_batch *b = brew(scatters[_i].loads[i]);

		b->load_low = b->load - scatters[_i].half_range;
		b->load_high = b->load + scatters[_i].half_range;
	}
	change(&batches[3], one, 1);
	const struct ab_trend_change *c = work()->changes;
	ck_assert_msg(fabs(c->p_better - scatters[_i].p) < 2e-5, "%s: %.7g", scatters[_i].title, c->p_better);
	ck_assert_msg(c->more_needed == scatters[_i].more, "%s: %zu", scatters[_i].title, c->more_needed);
}
END_TEST

/* Loads that fall by one a batch all along: before against after it looks like the change's doing; with the drift taken
 * out nothing is left. A real step on level ground stays. */
static const struct { const char *title; double loads[10]; bool looks, is; } drifts[] = {
	{ "better all along", { 10, 9.2, 7.8, 7.1, 6, 5, 4.1, 2.9, 2, 1.1 }, true, false },
	{ "a step", { 9, 9.3, 8.8, 9.1, 9, 3, 3.2, 2.9, 3.1, 3 }, true, true },
};

START_TEST(what_was_getting_better_anyway)
{
	for (size_t i = 0; i < 10; i++)
		brew(drifts[_i].loads[i]);
	change(&batches[5], one, 1);
	const struct ab_trend_change *c = work()->changes;
	ck_assert_msg((c->p_better > 0.9) == drifts[_i].looks, "%s: %g", drifts[_i].title, c->p_better);
	ck_assert_msg((c->allowed.p_better > 0.9) == drifts[_i].is, "%s: %g", drifts[_i].title, c->allowed.p_better);
	ck_assert(c->allowed.high - c->allowed.low > c->high - c->low || drifts[_i].is == false);   /* wider for it */
	ck_assert((c->allowed.low <= 0 && c->allowed.high >= 0) == !drifts[_i].is);
}
END_TEST

START_TEST(two_at_once)
{
	for (size_t i = 0; i < 6; i++)
		brew(i < 3 ? 4 : 1);
	change(&batches[3], two, 2);
	const struct ab_trend *t = work();
	ck_assert_uint_eq(t->n_changes, 2);
	for (size_t i = 0; i < 2; i++) {
		ck_assert_str_eq(t->changes[i].id, two[i]);
		ck_assert(t->changes[i].together);
		ck_assert_uint_eq(t->changes[i].n_before, 3);
		ck_assert_uint_eq(t->changes[i].n_after, 3);
	}
}
END_TEST

/* What moved most by load stands first, whichever way and whatever its place among the faults. */
START_TEST(most_moved_first)
{
	for (size_t i = 0; i < 4; i++)
		brew(3);
	fault_load[0][0] = fault_load[1][0] = 1;
	fault_load[0][1] = fault_load[1][1] = fault_load[2][1] = fault_load[3][1] = 4;
	fault_load[2][2] = fault_load[3][2] = 6;
	change(&batches[2], one, 1);
	const struct ab_trend_change *c = work()->changes;
	static const struct { int fault; double moved; } wanted[] = { { 2, 6 }, { 0, -1 }, { 1, 0 } };
	ck_assert_uint_eq(c->n_faults, 3);
	for (size_t i = 0; i < 3; i++) {
		ck_assert_int_eq(c->faults[i].fault, wanted[i].fault);
		ck_assert_double_eq(c->faults[i].moved, wanted[i].moved);
	}
}
END_TEST

START_TEST(faults_before_and_after)
{
	for (size_t i = 0; i < 6; i++)
		brew(3);
	fault_load[0][1] = fault_load[1][1] = fault_load[2][1] = 2;   /* gone after */
	fault_load[4][2] = 5;                                         /* came after */
	static const double slight[FAULTS] = { [1] = 1 }, strong[FAULTS] = { [1] = 3 };
	batches[4].fault_intensity = batches[5].fault_intensity = slight;   /* and no more than it is meant to have */
	batches[0].fault_intensity = strong;
	batches[1].tasted = false;
	change(&batches[3], one, 1);
	const struct ab_trend *t = work();
	const struct ab_trend_change *c = t->changes;
	ck_assert_uint_eq(c->n_faults, 2);   /* the first was never seen */
	ck_assert_int_eq(c->faults[0].fault, 1);
	ck_assert_uint_eq(c->faults[0].before_with, 2);
	ck_assert_uint_eq(c->faults[0].after_with, 0);
	ck_assert_uint_eq(c->faults[0].before_meant, 0);   /* what weighs is a flaw */
	ck_assert_uint_eq(c->faults[0].after_meant, 2);
	ck_assert_uint_eq(c->faults[1].after_meant, 0);
	ck_assert_double_eq(c->faults[0].p_better, ab_trend_two_shares(2, 2, 0, 3));
	ck_assert_int_eq(c->faults[1].fault, 2);
	ck_assert_double_eq(c->faults[1].p_better, ab_trend_two_shares(0, 2, 1, 3));
	ck_assert(c->faults[0].p_better > 0.9 && c->faults[1].p_better < 0.5);
	ck_assert_uint_eq(t->n_main_faults, 2);   /* by total load */
	ck_assert_int_eq(t->main_faults[0], 1);
	ck_assert_int_eq(t->main_faults[1], 2);
}
END_TEST

/* ---- slope ---- */

START_TEST(slope)
{
	for (int i = 0; i < 7; i++)
		brew(i % 3 == 2 ? NAN : 10.0 - i);
	const struct ab_trend *t = work();
	/* 10 9 7 6 4 over places 0 1 2 3 4: slopes -1 -1.5 -4/3 -1.5 -2 -1.5 -5/3 -1 -1.5 -2 */
	ck_assert_double_eq_tol(t->slope_per_batch, -1.5, 1e-12);
	ck_assert(t->slope_low <= -1.5 && t->slope_high >= -1.5);
	n = 5;   /* of which four are tasted; then three */
	ck_assert(!isnan(work()->slope_per_batch));
	n = 4;
	ck_assert(isnan(work()->slope_per_batch) && isnan(work()->slope_low));
}
END_TEST

/* ---- cause by cause ---- */

/* Blame of two causes in six batches, the change with the fourth; a batch not tasted or of another line does not
 * count. */
START_TEST(causes_before_and_after)
{
	static const double blame[6][2] = { { 0.9, 0.1 }, { 0.8, 0 }, { 0.7, 0.05 }, { 0.1, 0.6 }, { 0.05, 0 },
	    { 0.9, 0.9 } };
	static const char *const change[] = { "fridge" };

	for (int i = 0; i < 6; i++) {
		struct ab_trend_batch *b = brew(i == 5 ? (double)NAN : 9.0 - i);

		b->line = "pale";
		b->blame = blame[i];
		if (i == 3) {
			b->changes = change;
			b->n_changes = 1;
		}
	}
	struct ab_trend *t = work();
	ck_assert_int_eq(ab_trend_causes(batches, 2, arena, t, &diag), AB_OK);
	const struct ab_trend_change *c = &t->changes[0];
	ck_assert(c->n_before == 3 && c->n_after == 2 && c->n_causes == 2);
	ck_assert(c->causes[0].cause == 0 && c->causes[1].cause == 1);
	ck_assert_double_eq_tol(c->causes[0].before, 2.4, 1e-12);
	ck_assert_double_eq_tol(c->causes[0].after, 0.15, 1e-12);
	/* counts of 2.4 of 3 are 3 with 0.504, 2 with 0.398 ... : all of them, each with its Beta, by R; the Beta
	 * of their mean and variance is near */
	ck_assert_double_eq_tol(c->causes[0].p_better, 0.914272, 0.005);
	ck_assert(c->causes[0].p_better > 0.9 && c->causes[1].p_better < 0.5);
}
END_TEST

/* Blame of certainty is a count: then it is what is said of a fault in so many. */
START_TEST(certain_blame_is_a_count)
{
	static const double sure[1] = { 1 }, innocent[1] = { 0 };
	static const char *const change[] = { "fridge" };

	for (int i = 0; i < 5; i++) {
		struct ab_trend_batch *b = brew(9 - i);

		b->line = "pale";
		b->blame = i < 2 ? sure : innocent;
		b->n_changes = i == 3;
		b->changes = change;
	}
	struct ab_trend *t = work();
	ck_assert_int_eq(ab_trend_causes(batches, 1, arena, t, &diag), AB_OK);
	ck_assert_double_eq_tol(t->changes[0].causes[0].p_better, ab_trend_two_shares(2, 3, 0, 2), 1e-9);
}
END_TEST

/* ---- what is learned of a promise ---- */

static const struct { const char *title; double before, after, p, low, high, load_before, load_after;
    bool learns; } promises[] = {
	{ "an outcome", 10, 6, 0.9, 1, 7, 8, 6, true },
	{ "no outcome yet", 10, NAN, NAN, NAN, NAN, 8, 6, false },
	{ "nothing promised", 10, 6, 0.9, 1, 7, 8, 8, false },
	{ "it got worse", 6, 10, 0.1, -7, -1, 8, 6, true },
};

START_TEST(promises_are_learned_from)
{
	struct ab_learned l;
	const struct ab_trend_change c = { .before = promises[_i].before,
		.after = promises[_i].after,
		.p_better = promises[_i].p,
		.low = promises[_i].low,
		.high = promises[_i].high };
	bool learns = ab_trend_learn_change(&c, promises[_i].load_before, promises[_i].load_after, &l);

	ck_assert_msg(learns == promises[_i].learns, "%s", promises[_i].title);
	if (!learns)
		return;
	ck_assert(l.prior == 2 && l.prior_sd == 2 && l.data == c.before - c.after);
	ck_assert_double_eq_tol(l.data_sd, 3 / 1.2815516, 1e-6);
	/* between what was told and what came, and surer than either */
	ck_assert(fmin(l.prior, l.data) < l.mean && l.mean < fmax(l.prior, l.data));
	ck_assert(l.sd < l.prior_sd && l.sd < l.data_sd);
}
END_TEST

START_TEST(without_data_the_prior_stays)
{
	struct ab_learned l = ab_trend_learn(3, 2, NAN, INFINITY);

	ck_assert(l.mean == 3 && l.sd == 2);
}
END_TEST

/* ---- the common thread ---- */

/* Eight batches; each letter is the vessel of one, '.' = not told. */
static const struct {
	const char *title, *vessel;
	double loads[8];
	size_t n_common;
	const char *first;
	size_t bad_with, bad, good_with, good;
	double p, adjusted, least;
} threads[] = {
	{ "the bad share one", "AAAABBBB", { 9, 8, 7, 6, 1, 2, 3, 4 }, 1, "A", 4, 4, 0, 4, 2.0 / 70, 2.0 / 70,
	    2.0 / 70 },
	{ "the accused of two stands for both", "BBBBAAAA", { 9, 8, 7, 6, 1, 2, 3, 4 }, 1, "B", 4, 4, 0, 4,
	    2.0 / 70, 2.0 / 70, 2.0 / 70 },
	{ "also when it comes second", "ABBBBAAA", { 1, 8, 7, 6, 9, 2, 3, 4 }, 1, "B", 4, 4, 0, 4, 2.0 / 70,
	    2.0 / 70, 2.0 / 70 },
	{ "three kinds", "AAAABBCC", { 9, 8, 7, 6, 1, 2, 3, 4 }, 3, "A", 4, 4, 0, 4, 2.0 / 70, 2.0 / 70, 2.0 / 70 },
	{ "no thread", "ABABABAB", { 9, 8, 7, 6, 1, 2, 3, 4 }, 1, "A", 2, 4, 2, 4, 1, 1, 2.0 / 70 },
	{ "all the same: silent", "AAAAAAAA", { 9, 8, 7, 6, 1, 2, 3, 4 }, 0, NULL, 0, 0, 0, 0, 0, 0, 0 },
	{ "missing is not no", "AAAA.BBB", { 9, 8, 7, 6, 1, 2, 3, 4 }, 1, "A", 4, 4, 0, 3, 1.0 / 35, 1.0 / 35,
	    1.0 / 35 },
	{ "told of the bad only: silent", "AAAB....", { 9, 8, 7, 6, 1, 2, 3, 4 }, 0, NULL, 0, 0, 0, 0, 0, 0, 0 },
	{ "not tasted does not count", "AAAABBBB", { 9, 8, 7, 6, 1, 2, 3, NOT_TASTED }, 1, "A", 3, 3, 1, 4, 1.0 / 7,
	    1.0 / 7, 1.0 / 35 },
	{ "all alike are none of them bad: silent", "AAAABBBB", { 5, 5, 5, 5, 5, 5, 5, 5 }, 0, NULL, 0, 0, 0, 0, 0,
	    0, 0 },
};

START_TEST(common_thread)
{
	static const char *const names[] = { "A", "B", "C" };

	for (size_t i = 0; i < 8; i++) {
		struct ab_trend_batch *b = brew(threads[_i].loads[i] == NOT_TASTED ? NAN : threads[_i].loads[i]);

		if (threads[_i].vessel[i] == '.')
			continue;
		factors[i][0] = (struct ab_factor){ "vessel", names[threads[_i].vessel[i] - 'A'] };
		b->factors = factors[i];
		b->n_factors = 1;
	}
	const struct ab_trend *t = work();
	ck_assert_msg(t->n_common == threads[_i].n_common, "%s: %zu", threads[_i].title, t->n_common);
	if (t->n_common == 0)
		return;
	const struct ab_common *c = &t->common[0];
	ck_assert_str_eq(c->factor, "vessel");
	ck_assert_msg(strcmp(c->value, threads[_i].first) == 0, "%s: %s", threads[_i].title, c->value);
	ck_assert_msg(c->bad_with == threads[_i].bad_with && c->bad == threads[_i].bad &&
		c->good_with == threads[_i].good_with && c->good == threads[_i].good,
	    "%s: %zu of %zu, %zu of %zu", threads[_i].title, c->bad_with, c->bad, c->good_with, c->good);
	ck_assert_msg(fabs(c->p - threads[_i].p) < 1e-9 && fabs(c->p_adjusted - threads[_i].adjusted) < 1e-9 &&
		fabs(c->p_least - threads[_i].least) < 1e-9,
	    "%s: %g %g %g", threads[_i].title, c->p, c->p_adjusted, c->p_least);
	for (size_t i = 1; i < t->n_common; i++)
		ck_assert(t->common[i - 1].p <= t->common[i].p &&
		    t->common[i - 1].p_adjusted <= t->common[i].p_adjusted && t->common[i].p_adjusted <= 1);
}
END_TEST

/* A yeast lot that came with one vessel only cannot be told from it: one finding, both named. */
START_TEST(what_comes_together_is_named_together)
{
	for (size_t i = 0; i < 8; i++) {
		struct ab_trend_batch *b = brew(i < 4 ? 9 : (double)i / 8);

		factors[i][0] = (struct ab_factor){ "vessel", i < 4 ? "A" : "B" };
		factors[i][1] = (struct ab_factor){ "yeast lot", i < 4 ? "7" : i < 6 ? "8" : "9" };
		b->factors = factors[i];
		b->n_factors = 2;
	}
	const struct ab_trend *t = work();
	ck_assert_uint_eq(t->n_common, 3);   /* A with 7; 8; 9 */
	ck_assert_str_eq(t->common[0].value, "A");
	ck_assert_str_eq(t->common[0].also, "yeast lot 7");
	ck_assert_ptr_null(t->common[1].also);
}
END_TEST

/* Of the 70 ways to deal out four bad 2 give p as small as A's; B and C can never give it, so they cost nothing. B or C
 * has p 3/7 when both of its batches fall on one side: counted below. */
START_TEST(what_cannot_accuse_costs_nothing)
{
	static const char *const kinds[] = { "A", "A", "A", "A", "B", "B", "C", "C" };
	size_t hits = 0;

	for (size_t i = 0; i < 8; i++) {
		struct ab_trend_batch *b = brew(i < 4 ? 9 : (double)i / 8);

		factors[i][0] = (struct ab_factor){ "vessel", kinds[i] };
		b->factors = factors[i];
		b->n_factors = 1;
	}
	for (unsigned deal = 0; deal < 256; deal++) {   /* all of one kind bad, or all good: B or C */
		unsigned b = deal >> 4 & 3, c = deal >> 6 & 3;

		hits += __builtin_popcount(deal) == 4 && (b == 0 || b == 3 || c == 0 || c == 3);
	}
	const struct ab_trend *t = work();
	ck_assert_uint_eq(t->n_common, 3);
	ck_assert_uint_eq(t->common_draws, 0);
	ck_assert_double_eq_tol(t->common[0].p_adjusted, 2.0 / 70, 1e-9);
	ck_assert_double_eq_tol(t->common[1].p, 3.0 / 7, 1e-9);
	ck_assert_double_eq_tol(t->common[1].p_adjusted, (double)hits / 70, 1e-9);
	ck_assert_double_eq_tol(t->common[2].p_adjusted, (double)hits / 70, 1e-9);
}
END_TEST

/* One vessel under two names, but for a batch each: the second is told beside the first. One that stands on its own is
 * not. */
static const struct { const char *title, *one, *other; double loads[16]; bool beside; } twins[] = {
	{ "two names of one", "AAAAAAABBBBBBBBB", "CCCCCCCCDDDDDDDD",
	    { 9, 9, 9, 9, 9, 9, 9, 8, 1, 1, 1, 1, 1, 1, 1, 1 }, true },
	{ "each on its own", "AAAABBBBBBBBBBBB", "DDDDCCCCDDDDDDDD",
	    { 9, 9, 9, 9, 9, 8, 8, 8, 1, 1, 1, 1, 1, 1, 1, 1 }, false },
};

START_TEST(one_find_not_two)
{
	static const char *const names[] = { "A", "B", "C", "D" };
	size_t beside = 0, worth = 0;

	for (size_t i = 0; i < 16; i++) {
		struct ab_trend_batch *b = brew(twins[_i].loads[i]);

		factors[i][0] = (struct ab_factor){ "vessel", names[twins[_i].one[i] - 'A'] };
		factors[i][1] = (struct ab_factor){ "hose", names[twins[_i].other[i] - 'A'] };
		b->factors = factors[i];
		b->n_factors = 2;
	}
	const struct ab_trend *t = work();
	for (size_t i = 0; i < t->n_common; i++) {
		beside += t->common[i].beside != NULL;
		worth += t->common[i].p <= AB_COMMON_WORTH;
		ck_assert(t->common[i].beside == NULL || t->common[i].beside->p <= t->common[i].p);
	}
	ck_assert_msg(worth == 2, "%s: %zu", twins[_i].title, worth);
	ck_assert_msg(beside == (size_t)twins[_i].beside, "%s: %zu", twins[_i].title, beside);
}
END_TEST

/* Too many ways to go through them all: drawn, the same each time, and never 0. */
START_TEST(drawn_when_there_are_too_many)
{
	static struct ab_trend_batch many[60];
	static struct ab_factor vessel[60];
	struct ab_trend *t = NULL, *again = NULL;

	for (size_t i = 0; i < 60; i++) {
		vessel[i] = (struct ab_factor){ "vessel", i < 30 ? "A" : i < 45 ? "B" : "C" };
		many[i] = (struct ab_trend_batch){ .id = "b",
			.tasted = true,
			.load = i < 30 ? 9 : 1 + (double)i / 100,
			.load_low = NAN,
			.load_high = NAN,
			.fault_load = fault_load[0],
			.factors = &vessel[i],
			.n_factors = 1 };
	}
	ck_assert_int_eq(ab_trend_work(many, 60, FAULTS, arena, &t, &diag), AB_OK);
	ck_assert_int_eq(ab_trend_work(many, 60, FAULTS, arena, &again, &diag), AB_OK);
	ck_assert_uint_eq(t->common_draws, 10000);
	ck_assert_double_eq(t->common[0].p_adjusted, 1.0 / 10001);
	for (size_t i = 0; i < t->n_common; i++)
		ck_assert(t->common[i].p_adjusted == again->common[i].p_adjusted);
}
END_TEST

/* A blend of two strains has both, and each other value is a "no" to what it is not. */
START_TEST(two_values_of_one_factor)
{
	for (size_t i = 0; i < 8; i++) {
		struct ab_trend_batch *b = brew(i < 4 ? 9 : 1);

		factors[i][0] = (struct ab_factor){ "yeast", "ale" };
		factors[i][1] = (struct ab_factor){ "yeast", "wild" };
		b->factors = factors[i];
		b->n_factors = i < 4 ? 2 : 1;
	}
	batches[4].load = 2;
	const struct ab_trend *t = work();
	ck_assert_uint_eq(t->n_common, 1);   /* ale is in all */
	ck_assert_str_eq(t->common[0].value, "wild");
	ck_assert_uint_eq(t->common[0].bad_with, 4);
	ck_assert_uint_eq(t->common[0].good_with, 0);
	ck_assert_double_eq(t->bad_over, 5.5);
}
END_TEST

/* ---- edges ---- */

START_TEST(nothing)
{
	const struct ab_trend *t = work();
	ck_assert_uint_eq(t->n_batches, 0);
	ck_assert_uint_eq(t->n_changes + t->n_common + t->n_main_faults, 0);
	ck_assert(isnan(t->slope_per_batch) && isnan(t->bad_over));
}
END_TEST

START_TEST(out_of_memory)
{
	enum ab_status st = AB_ENOMEM;
	long at = 0;

	for (size_t i = 0; i < 8; i++) {
		struct ab_trend_batch *b = brew((double)i);

		fault_load[i][1] = 1;
		factors[i][0] = (struct ab_factor){ "vessel", i % 2 ? "A" : "B" };
		b->factors = factors[i];
		b->n_factors = 1;
	}
	change(&batches[4], two, 2);
	for (; st != AB_OK && at < 100; at++) {
		struct ab_arena *own;
		struct ab_trend *t = NULL;

		ab_alloc_fail_at(-1);
		own = ab_arena_new();
		ab_diag_init(&diag);
		ab_alloc_fail_at(at);
		st = ab_trend_work(batches, n, FAULTS, own, &t, &diag);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ck_assert((t != NULL) == (st == AB_OK));
		ab_arena_free(own);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(at, 1);
}
END_TEST

START_TEST(series_of_the_history)
{
	struct ab_past past[2] = {
		{ .id = "a", .line = "x", .family = "strong", .brewed_s = 1, .tasted = true, .load = 3,
		    .load_low = 2, .load_high = 4, .fault_load = fault_load[0], .fault_intensity = fault_load[2] },
		{ .id = "b", .brewed_s = 2, .load = NAN, .fault_load = fault_load[1], .n_changes = 1 },
	};
	const char *what = "cooler";
	struct ab_trend_batch *out;

	past[1].changes = &what;
	ck_assert_int_eq(ab_trend_series(past, 2, arena, &out, &diag), AB_OK);
	ck_assert_str_eq(out[0].id, "a");
	ck_assert_str_eq(out[0].line, "x");
	ck_assert_str_eq(out[0].family, "strong");
	ck_assert(out[0].tasted && out[0].load == 3 && out[0].load_low == 2 && out[0].load_high == 4 &&
	    out[0].brewed_s == 1);
	ck_assert_ptr_eq(out[0].fault_load, fault_load[0]);
	ck_assert_ptr_eq(out[0].fault_intensity, fault_load[2]);
	ck_assert(!out[1].tasted && isnan(out[1].load) && out[1].n_changes == 1 &&
	    strcmp(out[1].changes[0], "cooler") == 0);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("trend");
	TCase *tc = tcase_create("trend");
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, reign, 0, sizeof reigns / sizeof *reigns);
	tcase_add_test(tc, known_numbers);
	tcase_add_loop_test(tc, scatter, 0, sizeof scatters / sizeof *scatters);
	tcase_add_loop_test(tc, what_was_getting_better_anyway, 0, (int)(sizeof drifts / sizeof *drifts));
	tcase_add_test(tc, two_at_once);
	tcase_add_test(tc, most_moved_first);
	tcase_add_test(tc, faults_before_and_after);
	tcase_add_test(tc, slope);
	tcase_add_loop_test(tc, promises_are_learned_from, 0, sizeof promises / sizeof *promises);
	tcase_add_test(tc, without_data_the_prior_stays);
	tcase_add_test(tc, causes_before_and_after);
	tcase_add_test(tc, certain_blame_is_a_count);
	tcase_add_test(tc, what_comes_together_is_named_together);
	tcase_add_loop_test(tc, common_thread, 0, sizeof threads / sizeof *threads);
	tcase_add_test(tc, what_cannot_accuse_costs_nothing);
	tcase_add_loop_test(tc, one_find_not_two, 0, (int)(sizeof twins / sizeof *twins));
	tcase_add_test(tc, drawn_when_there_are_too_many);
	tcase_add_test(tc, two_values_of_one_factor);
	tcase_add_test(tc, nothing);
	tcase_add_test(tc, out_of_memory);
	tcase_add_test(tc, series_of_the_history);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
