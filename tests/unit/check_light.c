/* check_light.c - the light a beer got
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "factcase.h"
#include <afterboil/light.h>
#include "process/slots.h"

START_TEST(classes_in_their_order)
{
	for (enum ab_light_class l = AB_LIGHT_DARK; l <= AB_LIGHT_SUN; l++)
		for (enum ab_glass_class g = AB_GLASS_CLEAR; g <= AB_GLASS_OPAQUE; g++) {
			double dose = ab_light_dose(100, l, g);
			ck_assert(l == AB_LIGHT_DARK || g == AB_GLASS_OPAQUE ? !(dose > 0) : dose > 0);
			if (l < AB_LIGHT_SUN && dose > 0)
				ck_assert(ab_light_dose(100, l + 1, g) > dose);
			if (g < AB_GLASS_OPAQUE && dose > 0)
				ck_assert(ab_light_dose(100, l, g + 1) < dose);
			ck_assert_double_eq_tol(ab_light_dose(200, l, g), 2 * dose, 1e-12);
		}
	/* five minutes of sun on clear glass is the mark; brown glass takes a hundred */
	ck_assert_double_eq_tol(ab_light_dose(5, AB_LIGHT_SUN, AB_GLASS_CLEAR), 5, 1e-12);
	ck_assert_double_eq_tol(ab_light_dose(100, AB_LIGHT_SUN, AB_GLASS_BROWN), 5, 1e-12);
}
END_TEST

#define BOTTLES(colour) "<vessel kind='bucket'/><package at='+10d' into='bottles' colour='" colour "'/>"
#define LATER "<tasting at='2031-03-31T18:00'/>"   /* 30 d after pitching, 20 d after packaging */
static const struct fact_row rows[] = {
	{ .title = "clear bottles indoors", BOTTLES("clear") "<store light='indoor'/>" LATER, "light.dose",
	    20 * 480 * 0.01, 0.5, NULL,
	  AB_ORIGIN_DERIVED, .u = 96 },
	{ .title = "green", BOTTLES("green") "<store light='indoor'/>" LATER, "light.dose", 20 * 480 * 0.007, 0.5 },
	{ .title = "brown", BOTTLES("brown") "<store light='indoor'/>" LATER, "light.dose", 20 * 480 * 0.0005, 0.05 },
	{ .title = "brown at a window", BOTTLES("brown") "<store light='window'/>" LATER, "light.dose",
	    20 * 480 * 0.005, 0.5 },
	{ .title = "an hour of sun a day", BOTTLES("clear") "<store light='sun'/>" LATER, "light.dose", 20 * 60, 5 },
	{ .title = "two hours of sun, all of them", BOTTLES("clear") "<store light='sun' for='2 h'/>" LATER,
	    "light.dose", 120, 1e-6, .u = 120 },
	{ .title = "two hours of sun, else dark",
	    BOTTLES("green") "<store light='dark' for='12 d'/><store light='sun' for='2 h'/>" LATER, "light.dose", 84,
	  1e-6 },
	{ .title = "two hours of sun, else indoors",
	    BOTTLES("clear") "<store light='indoor' for='19 d'/><store light='sun' for='2 h'/>" LATER, "light.dose",
	  120 + 20 * 480 * 0.01, 0.5 },
	{ .title = "of untold age", "<vessel kind='bucket'/><package into='bottles' colour='clear'/>"
	    "<store light='sun' for='a few hours'/><tasting from='bottle'/>", "light.dose", 180, 1e-6 },
	{ .title = "dark", BOTTLES("clear") "<store light='dark'/>" LATER, "light.dose", 0, 1e-9 },
	{ .title = "a keg", "<vessel kind='steel'/><package at='+10d' into='keg'/><store light='sun'/>" LATER,
	    "light.dose", 0, 1e-9 },
	{ .title = "opaque", BOTTLES("opaque") "<store light='sun'/>" LATER, "light.dose", 0, 1e-9 },
	{ .title = "a glass fermenter at the window",
	    "<vessel kind='glass' light='window'/><package at='+10d' into='keg'/>", "light.dose",
	  10 * 480 * 0.1, 1e-6 },
	{ .title = "a bucket at the window",
	    "<vessel kind='bucket' light='window'/><package at='+10d' into='keg'/>", "light.dose", 0, 1e-9 },
	{ .title = "light not told", BOTTLES("clear") LATER, "light.dose", AB_SILENT },
	{ .title = "colour not told",
	    "<vessel kind='bucket'/><package at='+10d' into='bottles'/><store light='indoor'/>" LATER, "light.dose",
	  AB_SILENT },
	{ .title = "half told cannot say none",
	    "<package at='+10d' into='bottles' colour='clear'/><store light='dark'/>" LATER, "light.dose",
	  AB_SILENT },
	{ .title = "half told can say much",
	    "<vessel kind='glass' light='sun'/><package at='+10d' into='bottles'/>", "light.dose", 600, 1e-6 },
};

int main(void)
{
	TCase *tc = tcase_create("light");
	tcase_add_test(tc, classes_in_their_order);
	return fact_rows_run("light", rows, sizeof rows / sizeof *rows, tc);
}
