/* check_quantity.c - numbers with units: what is read, what is refused and how the refusal reads
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/quantity.h>

#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/decimal.h"
#include "base/plain.h"
#include "base/str.h"

/* Factors are exact by definition (NIST SP 811); the outside check of each is tests/handbook/units.t. */
static const struct { const char *text; enum ab_dim dim; double value, resolution; const char *unit; } reads[] = {
	{ "12", AB_DIM_NONE, 12, 1, "" },
	{ "-3.50", AB_DIM_NONE, -3.5, 0.01, "" },
	{ "+.5", AB_DIM_NONE, 0.5, 0.1, "" },
	{ "5.", AB_DIM_NONE, 5, 1, "" },
	{ "007", AB_DIM_NONE, 7, 1, "" },
	{ "-0", AB_DIM_NONE, 0, 1, "" },
	{ "20 L", AB_DIM_VOLUME, 20, 1, "L" },
	{ "20L", AB_DIM_VOLUME, 20, 1, "L" },
	{ " 20 L\t", AB_DIM_VOLUME, 20, 1, "L" },
	{ "330 mL", AB_DIM_VOLUME, 0.33, 0.001, "mL" },
	{ "5 gal", AB_DIM_VOLUME, 18.92705892, 3.785411784, "gal" },
	{ "1 impgal", AB_DIM_VOLUME, 4.54609, 4.54609, "impgal" },
	{ "12 floz", AB_DIM_VOLUME, 0.35488235475, 0.0295735295625, "floz" },
	{ "11 g", AB_DIM_MASS, 11, 1, "g" },
	{ "1 lb", AB_DIM_MASS, 453.59237, 453.59237, "lb" },
	{ "2.0 oz", AB_DIM_MASS, 56.69904625, 2.8349523125, "oz" },
	{ "19.5 C", AB_DIM_TEMP, 19.5, 0.1, "C" },
	{ "212 F", AB_DIM_TEMP, 100, 5.0 / 9, "F" },
	{ "32F", AB_DIM_TEMP, 0, 5.0 / 9, "F" },
	{ "-40 F", AB_DIM_TEMP, -40, 5.0 / 9, "F" },
	{ "293.15 K", AB_DIM_TEMP, 20, 0.01, "K" },
	{ "0 K", AB_DIM_TEMP, -273.15, 1, "K" },
	{ "9 F", AB_DIM_TEMP_DIFF, 5, 5.0 / 9, "F" },
	{ "-2 K", AB_DIM_TEMP_DIFF, -2, 1, "K" },
	{ "90 min", AB_DIM_TIME, 5400, 60, "min" },
	{ "3d 4h", AB_DIM_TIME, 273600, 3600, "d" },
	{ "3 d 4 h", AB_DIM_TIME, 273600, 3600, "d" },
	{ "1h30min", AB_DIM_TIME, 5400, 60, "h" },
	{ "1y 1mo 1wk 1d 1h 1min 1s", AB_DIM_TIME, 31557600 + 2629800 + 604800 + 86400 + 3661, 1, "y" },
	{ "-1h 30min", AB_DIM_TIME, -5400, 60, "h" },
	{ "0.5 h", AB_DIM_TIME, 1800, 360, "h" },
	{ "12 psi", AB_DIM_PRESSURE, 6.894757293168361 * 12, 6.8947572931683613, "psi" },
	{ "0.8 bar", AB_DIM_PRESSURE, 80, 10, "bar" },
	{ "-50 mbar", AB_DIM_PRESSURE, -5, 0.1, "mbar" },
	{ "1 atm", AB_DIM_PRESSURE, 101.325, 101.325, "atm" },
	{ "1.048 SG", AB_DIM_GRAVITY, 1.048, 0.001, "SG" },
	{ "48 points", AB_DIM_GRAVITY, 1.048, 0.001, "points" },
	{ "0 P", AB_DIM_GRAVITY, 1, 0.00389, "P" },
	{ "10 mm", AB_DIM_LENGTH, 10, 1, "mm" },
	{ "1 ft", AB_DIM_LENGTH, 304.8, 304.8, "ft" },
	{ "0.19 in", AB_DIM_LENGTH, 4.826, 0.254, "in" },
	{ "75 %", AB_DIM_SHARE, 0.75, 0.01, "%" },
	{ "75%", AB_DIM_SHARE, 0.75, 0.01, "%" },
	{ "2.4 vol", AB_DIM_CO2, 2.4, 0.1, "vol" },
	{ "1.9768 g/L", AB_DIM_CO2, 1, 0.0001 / 1.9768, "g/L" },
	{ "8 ppm", AB_DIM_CONC, 8, 1, "ppm" },
	{ "50 ppb", AB_DIM_CONC, 0.05, 0.001, "ppb" },
	{ "128 floz/gal", AB_DIM_DOSE, 1000, 7.8125, "floz/gal" },
	{ "1 oz/gal", AB_DIM_DOSE, 7.8125, 7.8125, "oz/gal" },
	{ "3.785411784 mL/gal", AB_DIM_DOSE, 1, 1e-9 / 3.785411784, "mL/gal" },
	{ "200 Gcells", AB_DIM_CELLS, 200, 1, "Gcells" },
	{ "5000 Mcells", AB_DIM_CELLS, 5, 0.001, "Mcells" },
	{ "35 IBU", AB_DIM_BITTERNESS, 35, 1, "IBU" },
	{ "4.4", AB_DIM_PH, 4.4, 0.1, "" },
	{ "4.4 pH", AB_DIM_PH, 4.4, 0.1, "pH" },
	{ "2 ft2", AB_DIM_AREA, 0.18580608, 0.09290304, "ft2" },
	{ "50 cm2", AB_DIM_AREA, 0.005, 0.0001, "cm2" },
	{ "1 packet", AB_DIM_PACKS, 1, 1, "packet" },
	{ "1.5 packs", AB_DIM_PACKS, 1.5, 0.1, "packs" },
	{ "12.50", AB_DIM_MONEY, 12.5, 0.01, "" },
	{ "$12.50", AB_DIM_MONEY, 12.5, 0.01, "" },
	{ "12.50 EUR", AB_DIM_MONEY, 12.5, 0.01, "" },
	{ "EUR 12.50", AB_DIM_MONEY, 12.5, 0.01, "" },
	{ "\xe2\x82\xac" "12", AB_DIM_MONEY, 12, 1, "" },
	{ "12 \xe2\x82\xac", AB_DIM_MONEY, 12, 1, "" },
	{ "12kr", AB_DIM_MONEY, 12, 1, "" },
	{ "R$ 5", AB_DIM_MONEY, 5, 1, "" },
	{ "123456789012345 L", AB_DIM_VOLUME, 123456789012345, 1, "L" },
	{ "12345678901234567", AB_DIM_NONE, 12345678901234568.0, 1, "" },
	{ "0.0000000000000000000001", AB_DIM_NONE, 1e-22, 1e-22, "" },
};

static int close_to(double a, double b)
{
	double size = fabs(b) > 1 ? fabs(b) : 1;
	return fabs(a - b) <= 1e-14 * size;
}

START_TEST(read_rows)
{
	struct ab_quantity q;
	char why[300] = "";
	const char *t = reads[_i].text;
	ck_assert_msg(ab_quantity_read(t, reads[_i].dim, &q, why, sizeof why), "%s: %s", t, why);
	ck_assert_msg(close_to(q.value, reads[_i].value), "%s: %.17g, not %.17g", t, q.value, reads[_i].value);
	/* the resolution bounds the rounding: a percent is enough (of Plato it is a slope) */
	ck_assert_msg(fabs(q.resolution / reads[_i].resolution - 1) < 0.01, "%s: resolution %.17g", t, q.resolution);
	ck_assert_msg(strcmp(q.unit, reads[_i].unit) == 0, "%s: unit %s", t, q.unit);
}
END_TEST

#define LONG_ZEROS "0000000000000000000000000000000000000000000000000000000000000000000000020"
#define LONG_TEXT "12345678901234567890123456789012345678901234567890123456789012345"

/* says: a part of the reason a reader must see. */
static const struct { const char *text; enum ab_dim dim; const char *says; } refused[] = {
	{ "", AB_DIM_VOLUME, "number" },
	{ " ", AB_DIM_VOLUME, "number" },
	{ "", AB_DIM_TIME, "empty" },
	{ "", AB_DIM_NONE, "number" },
	{ "", AB_DIM_MONEY, "no number" },
	{ "20", AB_DIM_VOLUME, "has no unit; write a volume such as \"20 L\" (units: L, mL, hL, gal" },
	{ "L", AB_DIM_VOLUME, "number" },
	{ "20 l", AB_DIM_VOLUME, "written \"L\"" },
	{ "20 ML", AB_DIM_VOLUME, "written \"mL\"" },
	{ "20 litres", AB_DIM_VOLUME, "has an unknown unit; write a volume" },
	{ "20 C", AB_DIM_VOLUME, "units: L" },
	{ "20  L", AB_DIM_VOLUME, "has an unknown unit" },
	{ "20 L L", AB_DIM_VOLUME, "has an unknown unit" },
	{ "2 0 L", AB_DIM_VOLUME, "has an unknown unit" },
	{ "19,5 C", AB_DIM_TEMP, "'.' is the decimal point" },
	{ "1,000 L", AB_DIM_VOLUME, "comma" },
	{ "1.2.3 L", AB_DIM_VOLUME, "has an unknown unit" },
	{ "1e3 L", AB_DIM_VOLUME, "exponent" },
	{ "1E-3 L", AB_DIM_VOLUME, "exponent" },
	{ "0x10 L", AB_DIM_VOLUME, "has an unknown unit" },
	{ "inf L", AB_DIM_VOLUME, "number" },
	{ "nan", AB_DIM_NONE, "number" },
	{ "-inf", AB_DIM_NONE, "number" },
	{ "--5 L", AB_DIM_VOLUME, "number" },
	{ "+-5 L", AB_DIM_VOLUME, "number" },
	{ "- 5 L", AB_DIM_VOLUME, "number" },
	{ ". L", AB_DIM_VOLUME, "number" },
	{ "123456789012345678", AB_DIM_NONE, "too many digits" },
	{ "0.00000000000000000000001", AB_DIM_NONE, "too many digits" },
	{ LONG_TEXT, AB_DIM_NONE, "too long" },
	{ LONG_ZEROS " L", AB_DIM_VOLUME, "too long" },
	{ "-300 C", AB_DIM_TEMP, "absolute zero" },
	{ "-1 K", AB_DIM_TEMP, "absolute zero" },
	{ "-460 F", AB_DIM_TEMP, "absolute zero" },
	{ "5 R", AB_DIM_TEMP, "C, F, K" },
	{ "5 \xc2\xb0" "C", AB_DIM_TEMP, "C, F, K" },
	{ "45 P", AB_DIM_GRAVITY, "no gravity" },
	{ "-6 P", AB_DIM_GRAVITY, "no gravity" },
	{ "1.048", AB_DIM_GRAVITY, "SG, P, points" },
	{ "75", AB_DIM_SHARE, "no unit" },
	{ "3 packages", AB_DIM_PACKS, "packs" },
	{ "4.4 ph", AB_DIM_PH, "written \"pH\"" },
	{ "12 L", AB_DIM_NONE, "after the number" },
	{ "3d 4", AB_DIM_TIME, "no unit" },
	{ "3d -4h", AB_DIM_TIME, "not a number and a unit" },
	{ "4h 3d", AB_DIM_TIME, "larger unit" },
	{ "3d 4d", AB_DIM_TIME, "larger unit" },
	{ "3d 4x", AB_DIM_TIME, "has an unknown unit; write a length of time" },
	{ "3d and 4h", AB_DIM_TIME, "not a number and a unit" },
	{ "d", AB_DIM_TIME, "number" },
	{ "90 m", AB_DIM_TIME, "has an unknown unit" },
	{ "$", AB_DIM_MONEY, "no number" },
	{ "$5 EUR", AB_DIM_MONEY, "after the number" },
	{ "5 euro", AB_DIM_MONEY, "after the number" },
	{ "5 ABCD", AB_DIM_MONEY, "after the number" },
	{ "5 EU", AB_DIM_MONEY, "after the number" },
	{ "1\x1b[2J L", AB_DIM_VOLUME, "1?[2J L" },
};

START_TEST(refused_rows)
{
	struct ab_quantity q = { -7, -7, "untouched" };
	char why[300] = "";
	const char *t = refused[_i].text;
	ck_assert_msg(!ab_quantity_read(t, refused[_i].dim, &q, why, sizeof why), "\"%s\" was read as %g", t, q.value);
	ck_assert_msg(strstr(why, refused[_i].says) != NULL, "\"%s\": %s", t, why);
	ck_assert_msg(q.value == -7 && q.resolution == -7 && strcmp(q.unit, "untouched") == 0, "%s", t);
}
END_TEST

/* A small buffer is filled no further than it goes. */
START_TEST(small_why)
{
	struct ab_quantity q;
	char why[12];
	memset(why, 'x', sizeof why);
	ck_assert(!ab_quantity_read("20", AB_DIM_VOLUME, &q, why, 8));
	ck_assert_uint_eq(strlen(why), 7);
	ck_assert_int_eq(why[8], 'x');
}
END_TEST

/* strtod of the C locale is the judge of the nearest double, up to 15 digits. */
START_TEST(nearest_double)
{
	unsigned long long seed = 12345;
	for (int i = 0; i < 20000; i++) {
		char text[40];
		seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
		unsigned long long digits = (seed >> 14) % 1000000000000000ULL;
		int decimals = (int)(seed % 16);
		snprintf(text, sizeof text, "%016llu", digits);
		memmove(text + 16 - decimals + 1, text + 16 - decimals, (size_t)decimals + 1);
		text[16 - decimals] = '.';
		const char *s = text;
		double value, step;
		ck_assert_int_eq(ab_decimal_read(&s, &value, &step), AB_DECIMAL_OK);
		ck_assert_msg(value == strtod(text, NULL), "%s: %.17g", text, value);
		ck_assert_msg(*s == '\0', "%s", text);
	}
}
END_TEST

/* A locale with a comma for the point: one that is installed, or one made for the occasion. */
static bool set_comma_locale(void)
{
	static const char *const commas[] = { "de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "fr_FR.utf8", "de_DE", NULL };
	char folder[] = "/tmp/check_quantity.XXXXXX", command[300];
	for (int i = 0; commas[i] != NULL; i++)
		if (setlocale(LC_ALL, commas[i]) != NULL)
			return true;
	if (mkdtemp(folder) == NULL)
		return false;
	snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1", folder);
	bool made =
	    system(command) == 0 && setenv("LOCPATH", folder, 1) == 0 && setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
	snprintf(command, sizeof command, "rm -rf %s", folder);
	return system(command) == 0 && made;
}

/* Hosts that call setlocale may have a comma for the point. */
START_TEST(locale_blind)
{
	struct ab_quantity q;
	char why[300], text[32];
	const char *ci = getenv("CI");
	if (!set_comma_locale()) {
		ck_assert_msg(ci == NULL || strcmp(ci, "true") != 0,
		    "no locale with a comma (Debian: apt-get install locales)");
		return;
	}
	snprintf(text, sizeof text, "%.1f", 19.5);
	ck_assert_str_eq(text, "19,5");  /* the locale is what this test is about */
	ck_assert(ab_quantity_read("19.5 C", AB_DIM_TEMP, &q, why, sizeof why));
	ck_assert(q.value == 19.5);
	ck_assert(!ab_quantity_read("19,5 C", AB_DIM_TEMP, &q, why, sizeof why));
	ck_assert_str_eq(ab_num_text(19.5, text, sizeof text), "19.5");
	setlocale(LC_ALL, "C");
}
END_TEST

START_TEST(words_of_each_dimension)
{
	for (int dim = 0; dim < AB_DIM_MAX_; dim++) {
		ck_assert_ptr_nonnull(ab_dim_name((enum ab_dim)dim));
		ck_assert_ptr_nonnull(ab_dim_units((enum ab_dim)dim));
		ck_assert_ptr_nonnull(ab_dim_kept((enum ab_dim)dim));
		/* the unit it is kept in has the factor one */
		struct ab_quantity q;
		char text[40], why[300];
		snprintf(text, sizeof text, "1 %s", ab_dim_kept((enum ab_dim)dim));
		if (dim == AB_DIM_SHARE)
			continue;
		ck_assert_msg(ab_quantity_read(text, (enum ab_dim)dim, &q, why, sizeof why) && q.value == 1,
		    "%s: %s", text, why);
	}
	ck_assert_str_eq(ab_dim_units(AB_DIM_TEMP), "C, F, K");
	ck_assert_str_eq(ab_dim_name(AB_DIM_VOLUME), "a volume");
}
END_TEST

START_TEST(gravity_goes_round)
{
	for (double p = -5; p <= 40; p += 0.25) {
		double sg = ab_sg_from_plato(p);
		ck_assert_msg(fabs(ab_plato_from_sg(sg) - p) < 1e-8, "%g P -> %.12g", p, sg);
	}
	double before = 0;
	for (double sg = 0.98; sg < 1.2; sg += 0.001) {
		double p = ab_plato_from_sg(sg);
		ck_assert_msg(sg == 0.98 || p >= before, "not rising at %g", sg);
		before = p;
	}
	ck_assert(ab_plato_from_sg(1) == 0);
	ck_assert(ab_sg_from_plato(0) == 1);
	ck_assert(ab_plato_from_sg(0.996) < -0.9);
}
END_TEST

/* The shorter way leaves to the longer what is more than a number and a straight unit, and touches nothing. */
START_TEST(not_plain)
{
	static const struct { const char *text; enum ab_dim dim; } others[] = { { "", AB_DIM_TEMP },
		{ "C", AB_DIM_TEMP }, { "18", AB_DIM_TEMP }, { "18 ", AB_DIM_TEMP }, { "18  C", AB_DIM_TEMP },
		{ "18 C ", AB_DIM_TEMP },
		{ " 18 C", AB_DIM_TEMP }, { "-1 C", AB_DIM_TEMP }, { "+1 C", AB_DIM_TEMP }, { "18 c", AB_DIM_TEMP },
		{ "18 CC", AB_DIM_TEMP }, { "67 F", AB_DIM_TEMP }, { "12 P", AB_DIM_GRAVITY }, { "3d 4h", AB_DIM_TIME },
		{ ". C", AB_DIM_TEMP }, { "1.2.3 C", AB_DIM_TEMP }, { "4.4", AB_DIM_PH }, { "4", AB_DIM_NONE },
		{ "4 EUR", AB_DIM_MONEY }, { "1-2 L", AB_DIM_VOLUME }, { "123456789012345678 L", AB_DIM_VOLUME } };
	for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
		struct ab_quantity q = { .value = -7 };
		ck_assert_msg(!ab_quantity_plain(others[i].text, others[i].dim, &q), "\"%s\"", others[i].text);
		ck_assert_msg(q.value == -7, "\"%s\": touched", others[i].text);
	}
	struct ab_quantity q;
	ck_assert(ab_quantity_plain("18.7 C", AB_DIM_TEMP, &q) && q.value == 18.7 && strcmp(q.unit, "C") == 0);
}
END_TEST

/* A quantity without anything around it takes a shorter way than one with blanks, and a number of few digits than
 * one with many zeros before it: both ways must end on the same bits. */
START_TEST(both_ways_agree)
{
	static const char *const numbers[] = { "0", "1", "12", "18.5", "1.048", "0.05", "67", "100.25", ".5", "3.",
		"+4", "-1", "-0", "0.000123", "12345678901234567", "1.2345678901234567" };
	for (int dim = 0; dim < AB_DIM_MAX_; dim++) {
		char units[128], plain[64], blank[80], zeros[96], why[400];
		snprintf(units, sizeof units, "%s", ab_dim_units((enum ab_dim)dim));
		for (char *unit = strtok(units, ", "); unit != NULL; unit = strtok(NULL, ", "))
			for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
				const char *digits = numbers[i] + (numbers[i][0] == '-' || numbers[i][0] == '+');
				struct ab_quantity a = { 0 }, b = { 0 }, c = { 0 };
				snprintf(plain, sizeof plain, "%s %s", numbers[i], unit);
				snprintf(blank, sizeof blank, " %s %s ", numbers[i], unit);
				snprintf(zeros, sizeof zeros, "%.*s000000000000000000%s%s",
				    (int)(digits - numbers[i]), numbers[i], digits, unit);
				bool one = ab_quantity_read(plain, (enum ab_dim)dim, &a, why, sizeof why);
				ck_assert_msg(one == ab_quantity_read(blank, (enum ab_dim)dim, &b, why, sizeof why),
				    "\"%s\"", blank);
				ck_assert_msg(one == ab_quantity_read(zeros, (enum ab_dim)dim, &c, why, sizeof why),
				    "\"%s\"", zeros);
				ck_assert_msg(memcmp(&a.value, &b.value, sizeof a.value) == 0 &&
					memcmp(&a.resolution, &b.resolution, sizeof a.resolution) == 0 &&
					a.unit == b.unit,
				    "\"%s\": %.17g and %.17g", plain, a.value, b.value);
				ck_assert_msg(memcmp(&a.value, &c.value, sizeof a.value) == 0 &&
					memcmp(&a.resolution, &c.resolution, sizeof a.resolution) == 0 &&
					a.unit == c.unit,
				    "\"%s\": %.17g and %.17g", zeros, a.value, c.value);
			}
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("quantity");
	TCase *tc = tcase_create("quantity");
	tcase_add_loop_test(tc, read_rows, 0, sizeof reads / sizeof *reads);
	tcase_add_loop_test(tc, refused_rows, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, small_why);
	tcase_add_test(tc, both_ways_agree);
	tcase_add_test(tc, not_plain);
	tcase_add_test(tc, nearest_double);
	tcase_set_timeout(tc, 60);   /* making a locale takes its time on a busy machine */
	tcase_add_test(tc, locale_blind);
	tcase_add_test(tc, words_of_each_dimension);
	tcase_add_test(tc, gravity_goes_round);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
