/* check_saturation.c - oxygen in the wort: what was given, what was wanted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/quantity.h>
#include "process/saturation.h"
#include "process/words.h"

#define OG(sg) "<reading at='+0d' gravity='" sg " SG' instrument='hydrometer' sample='20 C'/>"
#define AIR(method, more) "<aerate method='" method "' " more "/>"
/* at 20 C and 1.048 (11.91 P) wort holds 9.092 x exp(-0.0202 x 11.91) = 7.148 mg/L */
#define HELD 7.148

static const struct fact_row rows[] = {
	{ .title = "nothing told", OG("1.048"), "aerate.oxygen", AB_SILENT },
	{ .title = "nothing done", OG("1.048") AIR("none", ""), "aerate.oxygen", 2, 1e-9, .u = 0.54 },
	{ .title = "poured", OG("1.048") AIR("pour", ""), "aerate.oxygen", 4, 1e-9 },
	{ .title = "shaken: 8, but no more than wort holds", OG("1.048") AIR("shake", "time='3 min'"),
	  "aerate.oxygen", HELD, 0.005, .u = 1.92 },
	{ .title = "shaken for 10 s", OG("1.048") AIR("shake", "time='10 s'"), "aerate.oxygen", 2 +
	  (HELD - 2) * 0.55529, 0.005 },
	{ .title = "whisked", OG("1.048") AIR("whisk", ""), "aerate.oxygen", HELD, 0.005 },
	{ .title = "colder wort holds more", OG("1.048") "<pitch temp='10 C' at='2031-03-01T18:00'/>" AIR("pump",
	  "time='20 min'"), "aerate.oxygen", 8, 1e-9 },
	/* 1350 m are 0.85 atm (standard atmosphere), 7.697 mg/L in water at 20 C; 11.91 P leave 0.7861 of it */
	{ .title = "high up there is less", OG("1.048") "<pitch temp='20 C'/>" AIR("pump", "time='20 min'"),
	    "aerate.oxygen",
	  6.051, 0.005, "altitude='1350 m'" },
	{ .title = "so in feet", OG("1.048") "<pitch temp='20 C'/>" AIR("pump", "time='20 min'"), "aerate.oxygen",
	  6.051, 0.005, "altitude='4429 ft'" },
	{ .title = "stronger wort holds less", OG("1.090") AIR("pump", "time='20 min'"), "aerate.oxygen",
	  9.092 * 0.64687, 0.01 },
	{ .title = "the chiller's end for a pitching temperature",
	  OG("1.048") "<chill end-temp='10 C'/>" AIR("shake", ""), "aerate.oxygen", 8, 1e-9 },
	{ .title = "pure oxygen is not held back by air's saturation", OG("1.048") AIR("oxygen", "time='60 s'"),
	  "aerate.oxygen", 12, 1e-9 },
	{ .title = "half a minute of oxygen", OG("1.048") AIR("oxygen", "time='30 s'"), "aerate.oxygen", 7, 1e-9 },
	{ .title = "ten minutes of oxygen", OG("1.048") AIR("oxygen", "time='10 min'"), "aerate.oxygen", 25, 1e-9 },
	{ .title = "the best of two", OG("1.048") AIR("pour", "") AIR("oxygen", "") AIR("none", ""),
	  "aerate.oxygen", 12, 1e-9 },
	{ .title = "strength untold", AIR("shake", ""), "aerate.oxygen", 9.092 * 0.78475, 0.005 },
	{ .title = "the habit", OG("1.048"), "aerate.oxygen", 4, 1e-9, "<usual><aerate method='pour'/></usual>",
	  AB_ORIGIN_USUAL },
	{ .title = "method untold", OG("1.048") "<aerate time='2 min'/>", "aerate.oxygen", 6, 1e-9, NULL,
	    AB_ORIGIN_ASSUMED, NULL, 2.06 },
	{ .title = "nothing more told than that", OG("1.048") "<aerate/>", "aerate.oxygen", 6, 1e-9 },
	{ .title = "short of 8", OG("1.048") AIR("pour", ""), "aerate.oxygen-short", 4, 1e-9, .u = 1.47 },
	{ .title = "enough", OG("1.048") AIR("oxygen", ""), "aerate.oxygen-short", -4, 1e-9 },
	{ .title = "strong wort wants more", OG("1.083") AIR("oxygen", ""), "aerate.oxygen-short", 12.503 - 12,
	  0.02 },
	{ .title = "a lager wants more", OG("1.048") "<yeast class='lager' form='liquid'/>" AIR("pour", ""),
	  "aerate.oxygen-short", 9.6 - 4, 1e-9 },
	{ .title = "dry yeast brings its own", OG("1.048") "<yeast class='clean-ale' form='dry'/>" AIR("none",
	  ""), "aerate.oxygen-short", 0, 1e-9 },
	{ .title = "dry yeast the second time does not",
	  OG("1.048") "<yeast class='clean-ale' form='dry' generation='1'/>" AIR("none", ""),
	  "aerate.oxygen-short", 6, 1e-9 },
	{ .title = "strength untold: need unknown", AIR("shake", ""), "aerate.oxygen-short", AB_SILENT },
};

START_TEST(properties)
{
	for (int t = 0; t < 40; t++) {
		ck_assert_double_gt(ab_oxygen_in_water(t, 1), ab_oxygen_in_water(t + 1, 1));
		ck_assert_double_gt(ab_oxygen_in_water(t, 1), ab_oxygen_in_water(t, 0.9));
	}
	ck_assert_double_eq(ab_oxygen_in_water(-3, 1), ab_oxygen_in_water(0, 1));
	ck_assert_double_eq(ab_oxygen_in_water(60, 1), ab_oxygen_in_water(40, 1));
	for (int m = AB_AERATE_NONE; m <= AB_AERATE_OXYGEN; m++)
		for (double min = 0; min < 30; min += 0.1) {
			double now = ab_oxygen_aerated(m, min, 7), later = ab_oxygen_aerated(m, min + 0.1, 7);
			ck_assert_double_ge(later, now);
			ck_assert_double_le(later, m == AB_AERATE_OXYGEN ? 25 : 7);
			ck_assert_double_ge(now, 2);
		}
	/* air never lifts wort over what it can hold, even very little */
	ck_assert_double_le(ab_oxygen_aerated(AB_AERATE_SHAKE, 10, 1.5), 1.5);
	for (double p = 5; p < 30; p++) {
		ck_assert_double_ge(ab_oxygen_wanted(p + 1, false, false), ab_oxygen_wanted(p, false, false));
		ck_assert_double_gt(ab_oxygen_wanted(p, true, false), ab_oxygen_wanted(p, false, false));
		ck_assert_double_lt(ab_oxygen_wanted(p, false, true), ab_oxygen_wanted(p, false, false));
	}
	ck_assert_double_eq_tol(ab_oxygen_wanted(16, false, false), 10, 1e-12);
	ck_assert_double_eq_tol(ab_oxygen_wanted(24, false, false), 15, 1e-12);
	ck_assert_double_eq_tol(ab_oxygen_wanted(30, false, false), 15, 1e-12);
	ck_assert_double_eq(ab_pressure_at(0), 1);
}
END_TEST

int main(void)
{
	TCase *tc = tcase_create("properties");

	tcase_add_test(tc, properties);
	return fact_rows_run("saturation", rows, sizeof rows / sizeof *rows, tc);
}
