/* check_cleanup.c - the diacetyl precursor: half-lives, shares, and the fact
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/cleanup.h>
#include <string.h>
#include "process/slots.h"

static const double at_h[] = { 0, 24, 48, 96 }, at_c[] = { 10, 10, 20, 20 };

START_TEST(level_is_plain_decay)
{
	static const double one_h[] = { 0 }, one_c[] = { 20 };

	ck_assert_double_eq_tol(ab_cleanup_half_life_h(20), 50, 1e-9);
	ck_assert_double_eq_tol(ab_cleanup_share(one_h, one_c, 1, 0, 50, 1), 0.5, 1e-12);
	ck_assert_double_eq_tol(ab_cleanup_share(one_h, one_c, 1, 100, 200, 1), 0.75, 1e-12);
	ck_assert_double_eq_tol(ab_cleanup_share(one_h, one_c, 1, 100, 200, 0.5), 0.5, 1e-12);
	ck_assert_double_eq_tol(ab_cleanup_share(one_h, one_c, 1, 50, 50, 1), 0, 1e-12);
	ck_assert_double_eq_tol(ab_cleanup_share(one_h, one_c, 1, 50, 20, 1), 0, 1e-12);
	ck_assert(isnan(ab_cleanup_share(one_h, one_c, 0, 0, 50, 1)));
}
END_TEST

/* The whole is what its parts leave, wherever it is cut: in a level, in a ramp, before the first point, after the
 * last. */
static const double cuts[] = { -10, 0, 5, 24, 30, 41, 48, 70, 96, 120 };

START_TEST(parts_make_the_whole)
{
	double whole = ab_cleanup_share(at_h, at_c, 4, -20, 150, 1);
	double first = ab_cleanup_share(at_h, at_c, 4, -20, cuts[_i], 1),
	       second = ab_cleanup_share(at_h, at_c, 4, cuts[_i], 150, 1);
	ck_assert_double_eq_tol((1 - first) * (1 - second), 1 - whole, 1e-6);
}
END_TEST

/* A ramp against a fine sum. */
START_TEST(ramp_is_the_sum_of_its_hours)
{
	double spent = 0;

	for (int i = 0; i < 24000; i++)
		spent += 0.001 / ab_cleanup_half_life_h(10 + 10 * (i + 0.5) / 24000);
	ck_assert_double_eq_tol(ab_cleanup_share(at_h, at_c, 4, 24, 48, 1), 1 - exp2(-spent), 1e-6);
}
END_TEST

START_TEST(warmer_or_longer_never_less)
{
	double c[4], before = 0;

	for (int to = 0; to < 200; to += 7) {
		double share = ab_cleanup_share(at_h, at_c, 4, 0, to, 1);
		for (int i = 0; i < 4; i++)
			c[i] = at_c[i] + i;
		ck_assert(share >= before && share <= 1);
		ck_assert(ab_cleanup_share(at_h, c, 4, 0, to, 1) >= share);
		before = share;
	}
}
END_TEST

#define LAGER "<yeast class='lager'/>"
#define ALE "<yeast class='clean-ale'/>"
#define HELD(t) "<vessel control='fridge' target='" t " C'/>"
/* no gravities: half attenuation on day 4 of a lager (14 d), on day 2 of an ale (7 d) */
static const struct fact_row rows[] = {
	{ .title = "held at 20", ALE HELD("20") "<package at='+7d'/>", "ferment.cleanup-share", 1 - 0.189465, 1e-5,
	    NULL, AB_ORIGIN_DERIVED },
	{ .title = "held at 10", LAGER HELD("10") "<package at='+14d'/>", "ferment.cleanup-share", 0.55775, 1e-4 },
	{ .title = "a rest helps", LAGER HELD("10") "<rest at='+10d' temp='18 C' for='3 d'/><package at='+14d'/>",
	    "ferment.cleanup-share",
	  0.736, 0.001 },
	{ .title = "a rest without its warmth is left to rest-days",
	    LAGER HELD("10") "<rest at='+10d' for='3 d'/><package at='+14d'/>",
	  "ferment.cleanup-share", AB_SILENT },
	{ .title = "the chill ends it", ALE HELD("20") "<crash at='+4d' temp='2 C'/><package at='+7d'/>",
	    "ferment.cleanup-share",
	  1 - 0.514057, 1e-5 },
	{ .title = "measured",
	    ALE HELD("5") "<reading at='+1d' wort='20 C'/><reading at='+6d' wort='20 C'/><package at='+7d'/>",
	  "ferment.cleanup-share", 1 - 0.189465, 1e-5 },
	/* one warm day long before half attenuation says nothing of the weeks after */
	{ .title = "measured too early", LAGER HELD("10") "<reading at='+1d' wort='20 C'/><package at='+14d'/>",
	    "ferment.cleanup-share", 0.55775,
	  1e-4 },
	/* the room it falls back to, not its peak */
	{ .title = "room", ALE "<vessel room='20 C'/><package at='+7d'/>", "ferment.cleanup-share", 1 - 0.189465,
	    1e-5 },
	{ .title = "packaged before half", ALE HELD("20") "<package at='+1d'/>", "ferment.cleanup-share", 0, 1e-9 },
	{ .title = "not packaged", ALE HELD("20"), "ferment.cleanup-share", AB_SILENT },
	{ .title = "no warmth known", ALE "<package at='+7d'/>", "ferment.cleanup-share", AB_SILENT },
	/* the curve's half, 36 h: 132 h at 20 */
	{ .title = "from the curve's half",
	    ALE HELD("20") "<reading at='+0h' gravity='1.049 SG'/><reading at='+24h' gravity='1.0405 SG'/>"
	  "<reading at='+36h' gravity='1.0295 SG'/><reading at='+48h' gravity='1.019 SG'/>"
	  "<reading at='+72h' gravity='1.011 SG'/>"
	  "<reading at='+120h' gravity='1.010 SG'/><package at='+7d'/>", "ferment.cleanup-share", 1 - 0.1604, 0.004 },
};

/* u is what a rate twice or half as fast does: wide in the middle, narrow at the ends. */
START_TEST(u_is_wide)
{
	struct ab_arena *arena = ab_arena_new();
	static struct ab_fact facts[AB_F_MAX_];
	const struct ab_fact *f = &facts[AB_F_FERMENT_CLEANUP];

	fact_compute(LAGER HELD("10") "<package at='+14d'/>", NULL, arena, facts);
	double left = 1 - f->value;
	ck_assert_double_eq_tol(f->u, (sqrt(left) - left * left) / 2, 1e-9);
	ck_assert(f->u > 0.15 && f->grade == 'C');
	ck_assert_ptr_nonnull(strstr(f->working, "placeholder"));
	ab_arena_free(arena);
}
END_TEST

/* A rest given by hand is the better word: the reckoned share stands back. */
START_TEST(as_if_rested)
{
	static struct ab_fact facts[AB_F_MAX_];
	struct ab_arena *arena = ab_arena_new();
	struct ab_as_if rested = { AB_F_FERMENT_REST_DAYS, 3 };
	struct ab_batch *batch = fact_read(LAGER HELD("10") "<package at='+14d'/>", arena);
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_int_eq(ab_facts_recompute(batch, NULL, &fact_norms, NULL, 0, arena, facts, &diag), AB_OK);
	ck_assert(AB_FACT_KNOWN(&facts[AB_F_FERMENT_CLEANUP]));
	ck_assert_int_eq(ab_facts_recompute(batch, NULL, &fact_norms, &rested, 1, arena, facts, &diag), AB_OK);
	ck_assert(!AB_FACT_KNOWN(&facts[AB_F_FERMENT_CLEANUP]));
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("cleanup");
	tcase_add_test(tc, level_is_plain_decay);
	tcase_add_loop_test(tc, parts_make_the_whole, 0, sizeof cuts / sizeof *cuts);
	tcase_add_test(tc, ramp_is_the_sum_of_its_hours);
	tcase_add_test(tc, warmer_or_longer_never_less);
	tcase_add_test(tc, u_is_wide);
	tcase_add_test(tc, as_if_rested);
	return fact_rows_run("cleanup", rows, sizeof rows / sizeof *rows, tc);
}
