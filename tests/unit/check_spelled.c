/* check_spelled.c - units and numbers as people type them; every spelling of a journal is among them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/spelled.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct { enum ab_dim dim; const char *said, *unit; } rows[] = {
	{ AB_DIM_TEMP, "C", "C" }, { AB_DIM_TEMP, "\xC2\xB0" "C", "C" }, { AB_DIM_TEMP, "\xC2\xBA" "c", "C" },
	{ AB_DIM_TEMP, "\xC2\xB0 C", "C" },
	{ AB_DIM_TEMP, "degrees Celsius", "C" }, { AB_DIM_TEMP, "deg. F", "F" }, { AB_DIM_TEMP, "degF", "F" },
	{ AB_DIM_TEMP, "degrees", "" },
	{ AB_DIM_TEMP, "\xC2\xB0", "" }, { AB_DIM_TEMP, "g", NULL }, { AB_DIM_TEMP, "", NULL },
	{ AB_DIM_TEMP, "cc", NULL },
	{ AB_DIM_MASS, "grams", "g" }, { AB_DIM_MASS, "Gram", "g" }, { AB_DIM_MASS, "G", "g" },
	{ AB_DIM_MASS, "KG", "kg" }, { AB_DIM_MASS, "kilos", "kg" },
	{ AB_DIM_MASS, "ounces", "oz" }, { AB_DIM_MASS, "oz.", "oz" }, { AB_DIM_MASS, "lbs", "lb" },
	{ AB_DIM_MASS, "pounds", "lb" }, { AB_DIM_MASS, "gs", NULL },
	{ AB_DIM_VOLUME, "litres", "L" }, { AB_DIM_VOLUME, "Liter", "L" }, { AB_DIM_VOLUME, "l", "L" },
	{ AB_DIM_VOLUME, "ml", "mL" }, { AB_DIM_VOLUME, "ML", "mL" },
	{ AB_DIM_VOLUME, "gallons", "gal" }, { AB_DIM_VOLUME, "fl. oz.", "floz" },
	{ AB_DIM_VOLUME, "imperial gallons", "impgal" }, { AB_DIM_VOLUME, "oz", NULL },
	{ AB_DIM_TIME, "days", "d" }, { AB_DIM_TIME, "weeks", "wk" }, { AB_DIM_TIME, "hrs", "h" },
	{ AB_DIM_TIME, "minutes", "min" }, { AB_DIM_TIME, "months", "mo" },
	{ AB_DIM_TIME, "m", NULL }, { AB_DIM_GRAVITY, "plato", "P" }, { AB_DIM_GRAVITY, "\xC2\xB0P", "P" },
	{ AB_DIM_GRAVITY, "Brix", "P" },
	{ AB_DIM_GRAVITY, "degrees", NULL }, { AB_DIM_GRAVITY, "sg", "SG" }, { AB_DIM_PACKS, "packets", "packs" },
	{ AB_DIM_PACKS, "sachet", "packs" },
	{ AB_DIM_PRESSURE, "PSI", "psi" }, { AB_DIM_PRESSURE, "bars", "bar" }, { AB_DIM_SHARE, "percent", "%" },
	{ AB_DIM_LENGTH, "inches", "in" },
	{ AB_DIM_MASS, "a unit that is far longer than any unit is", NULL },
};

START_TEST(units)
{
	const char *unit = ab_unit_spelled(rows[_i].dim, rows[_i].said);

	if (rows[_i].unit == NULL)
		ck_assert_msg(unit == NULL, "%s: %s", rows[_i].said, unit);
	else
		ck_assert_msg(unit != NULL && strcmp(unit, rows[_i].unit) == 0, "%s: %s", rows[_i].said, unit);
}
END_TEST

/* Each unit that a journal may hold is understood as itself, or as one of the same size; and what is written is a unit
 * of a journal: "1 UNIT" reads as the same quantity either way. */
START_TEST(journal_units)
{
	for (int dim = 0; dim < AB_DIM_MAX_; dim++) {
		const char *list = ab_dim_units((enum ab_dim)dim);
		if (dim == AB_DIM_NONE || dim == AB_DIM_MONEY || dim == AB_DIM_PH)
			continue;
		while (*list != '\0') {
			char unit[32], a[64], b[64], why[300];
			struct ab_quantity x, y;
			size_t len = strcspn(list, ",");
			snprintf(unit, sizeof unit, "%.*s", (int)len, list);
			const char *canon = ab_unit_spelled((enum ab_dim)dim, unit);
			ck_assert_msg(canon != NULL, "%s", unit);
			snprintf(a, sizeof a, "1 %s", unit);
			snprintf(b, sizeof b, "1 %s", canon);
			ck_assert_msg(ab_quantity_read(a, (enum ab_dim)dim, &x, why, sizeof why), "%s", why);
			ck_assert_msg(ab_quantity_read(b, (enum ab_dim)dim, &y, why, sizeof why), "%s", why);
			ck_assert_double_eq(x.value, y.value);
			list += len + strspn(list + len, ", ");
		}
		for (const char *usual = ab_dim_usual((enum ab_dim)dim); *usual != '\0';) {
			char unit[32];
			size_t len = strcspn(usual, "|");
			snprintf(unit, sizeof unit, "%.*s", (int)len, usual);
			ck_assert_str_eq(ab_unit_spelled((enum ab_dim)dim, unit), unit);
			usual += len + (usual[len] == '|');
		}
	}
}
END_TEST

static const struct { const char *text, *number, *rest; bool doubt; } typed[] = {
	{ "19,5", "19.5", "", false }, { "19.5C", "19.5", "C", false }, { "1,048", "1.048", "", true },
	{ "0,125", "0.125", "", false }, { "1,50", "1.50", "", false },
	{ "60g", "60", "g", false }, { "-2", "-2", "", false }, { "+3d", "+3", "d", false },
	{ "3,", "3", ",", false }, { ".5", ".5", "", false },
	{ "12,500kg", "12.500", "kg", true }, { "1234,567", "1234.567", "", false },
	{ "1.000,5", NULL, NULL, false }, { "1,2,3", NULL, NULL, false }, { "C", NULL, NULL, false },
	{ "", NULL, NULL, false }, { "-", NULL, NULL, false },
	{ "12345678901234567890123456789012345", NULL, NULL, false },
};
START_TEST(numbers)
{
	char to[32];
	const char *rest;
	bool doubt, good = ab_number_typed(typed[_i].text, to, sizeof to, &rest, &doubt);

	ck_assert_msg(good == (typed[_i].number != NULL), "%s", typed[_i].text);
	if (!good)
		return;
	ck_assert_str_eq(to, typed[_i].number);
	ck_assert_str_eq(rest, typed[_i].rest);
	ck_assert_msg(doubt == typed[_i].doubt, "%s", typed[_i].text);
}
END_TEST

START_TEST(words)
{
	ck_assert_str_eq(ab_number_spelled("two"), "2");
	ck_assert_str_eq(ab_number_spelled("half"), "0.5");
	ck_assert_ptr_null(ab_number_spelled("many"));
	ck_assert(ab_denies("Don't") && ab_denies("washed bottles? NOT yet") && ab_denies("didn\xE2\x80\x99t") &&
	    ab_denies("havent"));
	ck_assert(!ab_denies("") && !ab_denies("done note knot noted") &&
	    !ab_denies("another nonsense-word that is long"));
}
END_TEST

int main(void)
{
	Suite *s = suite_create("spelled");
	TCase *t = tcase_create("spelled");
	SRunner *sr = srunner_create(s);

	tcase_add_loop_test(t, units, 0, sizeof rows / sizeof *rows);
	tcase_add_test(t, journal_units);
	tcase_add_loop_test(t, numbers, 0, sizeof typed / sizeof *typed);
	tcase_add_test(t, words);
	suite_add_tcase(s, t);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_ENV);
	int failed = srunner_ntests_failed(sr);
	srunner_free(sr);
	return failed > 0;
}
