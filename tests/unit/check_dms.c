/* check_dms.c - DMS: half-lives, ramps, cooling, and the fact
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/dms.h>
#include "process/slots.h"

/* Any ramp is the sum of short stands. */
static const struct { double from, to, min; } ramps[] = { { 100, 25, 20 }, { 100, 80, 5 }, { 95, 94.999999,
    30 }, { 90, 90, 30 }, { 85, 60, 45 } };

START_TEST(ramps_are_sums_of_stands)
{
	enum { PARTS = 20000 };
	double sum = 0;

	for (int i = 0; i < PARTS; i++)
		sum += ramps[_i].min / PARTS /
		    ab_dms_half_life_min(
			ramps[_i].from + (ramps[_i].to - ramps[_i].from) * (i + 0.5) / PARTS, AB_DMS_PH);
	ck_assert_double_eq_tol(ab_dms_ramp(ramps[_i].from, ramps[_i].to, ramps[_i].min), sum, 1e-6 * sum);
}
END_TEST

START_TEST(cooling_is_a_sum_too)
{
	double sum = 0, t = 100, dt = 0.0005;

	for (; t > 25; t -= (t - 20) / 6 * dt)
		sum += 60 * dt / ab_dms_half_life_min(t, AB_DMS_PH);
	ck_assert_double_eq_tol(ab_dms_cooling(100, 25, 20, 6), sum, 2e-3 * sum);
}
END_TEST

START_TEST(acid_is_slower)
{
	ck_assert(ab_dms_half_life_min(100, 5.2) > ab_dms_half_life_min(100, 5.5));
	ck_assert_double_eq_tol(ab_dms_half_life_min(94, 5.36), 70, 1e-9);
	ck_assert_double_eq_tol(ab_dms_left(0), 1, 1e-15);
	ck_assert_double_eq_tol(ab_dms_left(2), 0.25, 1e-12);
}
END_TEST

#define PILS "<recipe og='1.048 SG'><malt kind='pilsner' amount='4 kg'/></recipe>"
/* all Pilsner malt: 200 g/L x 5 ug/g = 1000; 60 min leave 0.3048 */
static const struct fact_row rows[] = {
	/* 5 min from 100 to 80 C: on to 25 C at that speed 0.0618 half-lives */
	{ .title = "coil", PILS "<boil time='60 min'/><chill method='coil' above-80='5 min'/>", "chill.dms-potential",
	  304.8 * (1 - 0.95807), 0.05, NULL, AB_ORIGIN_ASSUMED, .u = 6.39 },
	{ .title = "a longer boil leaves less", PILS "<boil time='90 min'/><chill method='coil' above-80='5 min'/>",
	    "chill.dms-potential",
	  168.2 * (1 - 0.95807), 0.05 },
	{ .title = "an hour is assumed", PILS "<chill method='coil' above-80='5 min'/>", "chill.dms-potential",
	    304.8 * (1 - 0.95807), 0.05 },
	/* 30 min at 95 C: 0.4808 half-lives more */
	{ .title = "a hot stand",
	    PILS "<stand time='30 min' temp='95 C'/><boil time='60 min'/><chill method='coil' above-80='35 min'/>",
	  "chill.dms-potential", 304.8 * (1 - 0.95807 * 0.71657), 0.3 },
	/* 90 C is assumed: 0.2700 half-lives */
	{ .title = "a stand of untold warmth",
	    PILS "<stand time='30 min'/><boil time='60 min'/><chill method='coil' above-80='35 min'/>",
	  "chill.dms-potential", 304.8 * (1 - 0.95807 * 0.82932), 0.1 },
	{ .title = "a stand below 80",
	    PILS "<stand time='30 min' temp='75 C'/><boil time='60 min'/><chill method='coil' above-80='5 min'/>",
	  "chill.dms-potential", 304.8 * (1 - 0.95807 * 0.96742), 0.3 },
	/* tau 6 h: 1.278 half-lives to 20 C, all but the last thousandth of it before 25 */
	{ .title = "left overnight", PILS "<boil time='60 min'/><chill method='overnight-closed'/>",
	    "chill.dms-potential", 304.8 * 0.588, 2 },
	{ .title = "pale malt has less",
	    "<recipe og='1.048 SG'><malt kind='pale' amount='4 kg'/></recipe><boil time='60 min'/>"
	  "<chill method='coil' above-80='5 min'/>", "chill.dms-potential", 0.3 * 304.8 * (1 - 0.95807), 0.05 },
	{ .title = "stronger has more",
	    "<recipe og='1.072 SG'><malt kind='pilsner' amount='6 kg'/></recipe><boil time='60 min'/>"
	  "<chill method='coil' above-80='5 min'/>", "chill.dms-potential", 1.5 * 304.8 * (1 - 0.95807), 0.05 },
	{ .title = "extract has a third",
	    "<recipe og='1.048 SG'><extract kind='liquid' amount='3 kg'/></recipe><boil time='60 min'/>"
	  "<chill method='coil' above-80='5 min'/>", "chill.dms-potential", 0.1 * 304.8 * (1 - 0.95807), 0.05 },
	{ .title = "nothing told of the chilling", PILS "<boil time='60 min'/>", "chill.dms-potential", AB_SILENT },
};

/* What a change of the chilling does is seen without the journal's time. */
START_TEST(as_if_chilled_faster)
{
	static struct ab_fact facts[AB_F_MAX_];
	struct ab_arena *arena = ab_arena_new();

	fact_compute(PILS "<boil time='60 min'/><chill method='coil' above-80='40 min'/>", NULL, arena, facts);
	ck_assert(AB_FACT_KNOWN(&facts[AB_F_CHILL_DMS]) && facts[AB_F_CHILL_DMS].value > 80);
	ab_facts_outdate(facts, AB_F_CHILL_ABOVE_80);
	ck_assert(!AB_FACT_KNOWN(&facts[AB_F_CHILL_DMS]));
	/* as if it had been three minutes in all: of a stand of half an hour no more than those are left */
	struct ab_as_if quick = { AB_F_CHILL_ABOVE_80, 3 };
	struct ab_diag diag;
	ab_diag_init(&diag);
	ck_assert_int_eq(
	    ab_facts_recompute(
		fact_read(
		    PILS "<boil time='60 min'/><stand time='30 min' temp='90 C'/><chill method='coil'/>", arena),
		NULL, &fact_norms, &quick, 1, arena, facts, &diag),
	    AB_OK);
	ck_assert_double_eq_tol(facts[AB_F_CHILL_DMS].value, 304.8 * (1 - exp2(-3 / 111.12)), 0.01);
	ab_arena_free(arena);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("dms");
	tcase_add_loop_test(tc, ramps_are_sums_of_stands, 0, sizeof ramps / sizeof *ramps);
	tcase_add_test(tc, cooling_is_a_sum_too);
	tcase_add_test(tc, acid_is_slower);
	tcase_add_test(tc, as_if_chilled_faster);
	return fact_rows_run("dms", rows, sizeof rows / sizeof *rows, tc);
}
