/* check_surroundings.c - what the program takes from its surroundings: where the rules are, where the history goes,
 * how wide and how colourful
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <fcntl.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct cli cli;

static void set(const char *name, const char *value)
{
	ck_assert_int_eq(value != NULL ? setenv(name, value, 1) : unsetenv(name), 0);
}

/* ---- where the rules are ---- */

static const struct { const char *title, *option, *variable, *want; } bases[] = {
	{ "as told", "/a/rules", "/b/rules", "/a/rules" },
	{ "as told, without the variable", "/a/rules", NULL, "/a/rules" },
	{ "the variable", NULL, "/b/rules", "/b/rules" },
};

START_TEST(the_base_of_the_rules)
{
	struct texts dirs = { NULL, 0, 0 };
	cc_begin(&cli, NULL);
	set("AFTERBOIL_RULES", bases[_i].variable);
	cli.o.rules_base = bases[_i].option;
	text_push(&cli, &cli.o.rules, "own");
	text_push(&cli, &cli.o.rules, "more");
	ck_assert_int_eq(rules_folders(&cli, &dirs), AB_OK);
	ck_assert_msg(strcmp(dirs.items[0], bases[_i].want) == 0, "%s: %s", bases[_i].title, dirs.items[0]);
	ck_assert_str_eq(cli.rules_base, bases[_i].want);
	ck_assert_uint_eq(dirs.n, 3);
	ck_assert_str_eq(dirs.items[1], "own");
	ck_assert_str_eq(dirs.items[2], "more");
	cc_end(&cli);
}
END_TEST

/* An empty variable is as none: what is installed, or beside the program, or an error that names the ways out;
 * never "". */
START_TEST(an_empty_variable_is_none)
{
	struct texts dirs = { NULL, 0, 0 };
	cc_begin(&cli, NULL);
	set("AFTERBOIL_RULES", "");
	enum ab_status st = rules_folders(&cli, &dirs);
	if (st == AB_OK)
		ck_assert_msg(access(ab_arena_printf(cli.arena, "%s/faults.xml", dirs.items[0]), R_OK) == 0, "%s",
		    dirs.items[0]);
	else
		ck_assert_msg(st == AB_ESYSTEM && strstr(cli.diag.text, "--rules-base") != NULL &&
			strstr(cli.diag.text, "AFTERBOIL_RULES") != NULL,
		    "%s", cli.diag.text);
	cc_end(&cli);
}
END_TEST

START_TEST(rules_that_are_not_there)
{
	cc_begin(&cli, NULL);
	cli.o.rules_base = "/nonexistent/rules";
	ck_assert_int_eq(rules_load(&cli), AB_ESYSTEM);
	ck_assert_ptr_null(cli.k);
	cc_end(&cli);
}
END_TEST

/* ---- where the history goes ---- */

static const struct { const char *title, *data, *home; const char *at; } places[] = {
	{ "the data folder", "data", "home", "data/afterboil/history.db" },
	{ "no data folder: at home", NULL, "home", "home/.local/share/afterboil/history.db" },
	{ "a relative one is passed over, as the specification says", "relative", "home",
	    "home/.local/share/afterboil/history.db" },
	{ "an empty one is as none", "", "home", "home/.local/share/afterboil/history.db" },
};

START_TEST(the_usual_place)
{
	struct ab_history *store;
	cc_begin(&cli, NULL);
	const char *folder = cc_folder(&cli);
	bool relative = places[_i].data == NULL || *places[_i].data == '\0' || strcmp(places[_i].data, "relative") == 0;
	set("XDG_DATA_HOME", relative ? places[_i].data : ab_arena_printf(cli.arena, "%s%s", folder, places[_i].data));
	set("HOME", ab_arena_printf(cli.arena, "%s%s", folder, places[_i].home));
	ck_assert_msg(store_open(&cli, &store) == AB_OK, "%s: %s", places[_i].title, cli.diag.text);
	ab_history_close(store);
	ck_assert_msg(
	    access(ab_arena_printf(cli.arena, "%s%s", folder, places[_i].at), R_OK) == 0, "%s", places[_i].title);
	cc_end(&cli);
}
END_TEST

START_TEST(the_place_that_is_told)
{
	struct ab_history *store;
	cc_begin(&cli, NULL);
	const char *folder = cc_folder(&cli);
	set("XDG_DATA_HOME", ab_arena_printf(cli.arena, "%sdata", folder));
	cli.o.store = ab_arena_printf(cli.arena, "%smine.db", folder);
	ck_assert_int_eq(store_open(&cli, &store), AB_OK);
	ab_history_close(store);
	ck_assert_int_eq(access(cli.o.store, R_OK), 0);
	cli.o.no_store = true;
	cli.o.store = ab_arena_printf(cli.arena, "%sother.db", folder);
	ck_assert_int_eq(store_open(&cli, &store), AB_OK);
	ab_history_close(store);
	ck_assert_int_ne(access(cli.o.store, F_OK), 0);
	ck_assert_int_ne(access(ab_arena_printf(cli.arena, "%sdata", folder), F_OK), 0);
	cc_end(&cli);
}
END_TEST

static const struct { const char *title, *data, *home; } nowhere[] = { { "neither is set", NULL, NULL },
    { "both are relative", "data", "home" }, { "both are empty", "", "" } };

START_TEST(no_place_at_all)
{
	struct ab_history *store = (struct ab_history *)&cli;
	cc_begin(&cli, NULL);
	set("XDG_DATA_HOME", nowhere[_i].data);
	set("HOME", nowhere[_i].home);
	ck_assert_msg(store_open(&cli, &store) == AB_ESYSTEM, "%s", nowhere[_i].title);
	ck_assert_ptr_null(store);
	ck_assert_ptr_nonnull(strstr(cli.diag.text, "--no-store"));
	cc_end(&cli);
}
END_TEST

/* ---- how wide: standard output is no terminal here ---- */

/* The tests' own results go to standard output: it is set aside while a look is taken. */
static void look_aside(void)
{
	int kept = dup(STDOUT_FILENO), null = open("/dev/null", O_WRONLY);
	ck_assert(kept >= 0 && null >= 0 && dup2(null, STDOUT_FILENO) >= 0);
	terminal_look(&cli);
	ck_assert_int_ge(dup2(kept, STDOUT_FILENO), 0);
	close(kept);
	close(null);
}

static const struct { const char *title, *columns; double option; int want; } widths[] = {
	{ "nothing told", NULL, NAN, 80 },
	{ "the variable", "72", NAN, 72 },
	{ "the variable, as wide as can be read", "100", NAN, 100 },
	{ "wider than can be read", "101", NAN, 100 },
	{ "far too wide", "99999999999999999999", NAN, 100 },
	{ "as narrow as can be filled", "40", NAN, 40 },
	{ "narrower", "39", NAN, 40 },
	{ "one", "1", NAN, 40 },
	{ "none", "0", NAN, 80 },
	{ "less than none", "-5", NAN, 80 },
	{ "no number", "wide", NAN, 80 },
	{ "empty", "", NAN, 80 },
	{ "the option beats the variable", "72", 60, 60 },
	{ "the option may ask for more than is good", NULL, 200, 200 },
};

START_TEST(takes_the_width)
{
	cc_begin(&cli, NULL);
	set("COLUMNS", widths[_i].columns);
	cli.o.width = widths[_i].option;
	look_aside();
	ck_assert_msg(cli.look.width == widths[_i].want, "%s: %d", widths[_i].title, cli.look.width);
	cc_end(&cli);
}
END_TEST

static const struct { const char *title, *no_color; int option; bool want; } colours[] = {
	{ "no terminal", NULL, 0, false }, { "asked for", NULL, 1, true },
	{ "asked for beats the variable", "1", 1, true }, { "never", NULL, 2, false },
};

START_TEST(takes_the_colours)
{
	cc_begin(&cli, NULL);
	set("NO_COLOR", colours[_i].no_color);
	cli.o.color = colours[_i].option;
	look_aside();
	ck_assert_msg(cli.look.color == colours[_i].want, "%s", colours[_i].title);
	cc_end(&cli);
}
END_TEST

static const struct { const char *title, *locale; int format; bool want; } signs[] = {
	{ "plain", "C", AB_TEXT, false }, { "UTF-8", "C.UTF-8", AB_TEXT, true },
	{ "a page knows its own", "C", AB_HTML, true },
};

START_TEST(takes_the_signs)
{
	cc_begin(&cli, NULL);
	if (setlocale(LC_CTYPE, signs[_i].locale) != NULL) {
		cli.o.format = signs[_i].format;
		look_aside();
		ck_assert_msg(cli.look.unicode == signs[_i].want, "%s", signs[_i].title);
		ck_assert_int_eq(cli.look.format, signs[_i].format);
	}
	cc_end(&cli);
}
END_TEST

static const struct { const char *title; int units; const char *currency; bool us; const char *sign; } profiles[] = {
	{ "not told", 0, NULL, false, "$" }, { "metric", 1, "EUR", false, "EUR" }, { "US", 2, NULL, true, "$" },
};

START_TEST(takes_the_profile)
{
	struct ab_profile profile = { .units = profiles[_i].units, .currency = profiles[_i].currency };
	cc_begin(&cli, NULL);
	cli.profile = &profile;
	cli.o.all = true;
	look_aside();
	ck_assert_msg(cli.look.us_units == profiles[_i].us, "%s", profiles[_i].title);
	ck_assert_str_eq(cli.look.currency, profiles[_i].sign);
	ck_assert(cli.look.verbose);
	cc_end(&cli);
}
END_TEST

/* ---- options ---- */

START_TEST(defaults_of_the_work)
{
	struct ab_diagnose_options o;
	cc_begin(&cli, NULL);
	work_options(&cli, true, &o);
	ck_assert(o.reasons && o.redraws == 200 && o.seed == 1 && !o.beliefs_only);
	work_options(&cli, false, &o);
	ck_assert(!o.reasons && o.redraws == 0);
	cli.o.redraws = 7;
	cli.o.seed = 9;
	work_options(&cli, true, &o);
	ck_assert(o.redraws == 7 && o.seed == 9);
	cc_end(&cli);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("surroundings");
	TCase *tc = tcase_create("surroundings");
	tcase_add_loop_test(tc, the_base_of_the_rules, 0, sizeof bases / sizeof *bases);
	tcase_add_test(tc, an_empty_variable_is_none);
	tcase_add_test(tc, rules_that_are_not_there);
	tcase_add_loop_test(tc, the_usual_place, 0, sizeof places / sizeof *places);
	tcase_add_test(tc, the_place_that_is_told);
	tcase_add_loop_test(tc, no_place_at_all, 0, sizeof nowhere / sizeof *nowhere);
	tcase_add_loop_test(tc, takes_the_width, 0, sizeof widths / sizeof *widths);
	tcase_add_loop_test(tc, takes_the_colours, 0, sizeof colours / sizeof *colours);
	tcase_add_loop_test(tc, takes_the_signs, 0, sizeof signs / sizeof *signs);
	tcase_add_loop_test(tc, takes_the_profile, 0, sizeof profiles / sizeof *profiles);
	tcase_add_test(tc, defaults_of_the_work);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
