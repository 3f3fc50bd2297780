/* check_options.c - the command line: each kind of value, abbreviations, places, and what is said of what was not
 * understood
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { MOST = 24 };

/* words: what stands after the command, blank between; '_' stands for a blank within a word. */
static enum ab_status parsed(struct cli *cli, const char *command, const char *words)
{
	static char room[512], *argv[MOST + 2];
	int argc = 1;
	char first[] = "afterboil", *at = room, *word;
	argv[0] = first;
	cc_begin(cli, command == NULL ? NULL : command_find(command));
	strncpy(room, words, sizeof room - 1);
	while ((word = strtok(at, " ")) != NULL && argc < MOST) {
		at = NULL;
		for (char *c = word; (c = strchr(c, '_')) != NULL;)
			*c = ' ';
		argv[argc++] = word;
	}
	argv[argc] = NULL;
	optind = 0;   /* so that nothing of an earlier parse is left (getopt of GNU and BSD) */
	return options_parse(cli, argc, argv);
}

/* ---- numbers ---- */

#define N(member) offsetof(struct options, member)
static const struct { const char *title, *command, *words; size_t at; double want; } numbers[] = {
	{ "a whole number", "facts", "--last 3", N(last), 3 },
	{ "with a sign of equality", "facts", "--last=3", N(last), 3 },
	{ "by its letter", "facts", "-n 3", N(last), 3 },
	{ "the letter's value at once", "facts", "-n3", N(last), 3 },
	{ "the last one told holds", "facts", "--last 3 --last 4", N(last), 4 },
	{ "the least", "facts", "--last 1", N(last), 1 },
	{ "the most", "facts", "--last 1000000", N(last), 1e6 },
	{ "a name cut short", "advise", "--budg 20", N(budget), 20 },
	{ "money with its sign", "advise", "--budget $20", N(budget), 20 },
	{ "money with its code", "advise", "--budget 20_EUR", N(budget), 20 },
	{ "no money is an amount", "advise", "--budget 0", N(budget), 0 },
	{ "cents", "advise", "--running 12.50", N(running), 12.5 },
	{ "minutes", "advise", "--minutes 7.5", N(minutes), 7.5 },
	{ "hours away", "advise", "--away 9.5", N(away), 9.5 },
	{ "a part of a year", "advise", "--horizon 0.5", N(horizon), 0.5 },
	{ "habits", "advise", "--changes 2", N(changes), 2 },
	{ "no redraws", "diagnose", "--redraws 0", N(redraws), 0 },
	{ "the largest seed", "diagnose", "--seed 4294967295", N(seed), 4294967295.0 },
	{ "a width", "trend", "--width 132", N(width), 132 },
	{ "not told", "trend", "", N(width), NAN },
	{ "none of another told", "facts", "--last 3", N(width), NAN },
};

START_TEST(reads_numbers)
{
	struct cli cli;
	ck_assert_msg(parsed(&cli, numbers[_i].command, numbers[_i].words) == AB_OK, "%s: %s", numbers[_i].title,
	    cli.diag.text);
	double found = *(double *)((char *)&cli.o + numbers[_i].at), want = numbers[_i].want;
	ck_assert_msg(isnan(want) ? isnan(found) : found == want, "%s: %g", numbers[_i].title, found);
	cc_end(&cli);
}
END_TEST

/* ---- words, texts, flags, lists ---- */

START_TEST(reads_words_and_texts)
{
	struct cli cli;
	ck_assert_int_eq(
	    parsed(&cli, "advise",
		"--format html --color never --store a.db --line shed_pale --family wheat --no-store -a"),
	    AB_OK);
	ck_assert_int_eq(cli.o.format, AB_HTML);
	ck_assert_int_eq(cli.o.color, 2);
	ck_assert_str_eq(cli.o.store, "a.db");
	ck_assert_str_eq(cli.o.line, "shed pale");
	ck_assert_str_eq(cli.o.family, "wheat");
	ck_assert(cli.o.no_store && cli.o.all && !cli.o.stream && !cli.o.help && !cli.o.lint);
	cc_end(&cli);
	ck_assert_int_eq(parsed(&cli, "trend", "-F json -F text -s b -p c -l d -w 50"), AB_OK);
	ck_assert_int_eq(cli.o.format, AB_TEXT);
	ck_assert_str_eq(cli.o.store, "b");
	ck_assert_str_eq(cli.o.profile, "c");
	ck_assert_str_eq(cli.o.line, "d");
	cc_end(&cli);
}
END_TEST

START_TEST(lists_grow_in_order)
{
	struct cli cli;
	ck_assert_int_eq(parsed(&cli, "diagnose",
			     "-f buttery=3 --fault green_apple --absent x -b p1 --batch p2 -r d1 --rules d2"),
	    AB_OK);
	ck_assert_uint_eq(cli.o.faults.n, 2);
	ck_assert_str_eq(cli.o.faults.items[0], "buttery=3");
	ck_assert_str_eq(cli.o.faults.items[1], "green apple");
	ck_assert_uint_eq(cli.o.absent.n, 1);
	ck_assert_uint_eq(cli.o.batch.n, 2);
	ck_assert_str_eq(cli.o.batch.items[1], "p2");
	ck_assert_uint_eq(cli.o.rules.n, 2);
	ck_assert_str_eq(cli.o.rules.items[0], "d1");
	ck_assert_uint_eq(cli.n_args, 0);
	cc_end(&cli);
}
END_TEST

static const struct { const char *title, *words; size_t n; const char *first; } rests[] = {
	{ "nothing", "", 0, NULL }, { "a file", "a.xml", 1, "a.xml" },
	{ "options after files", "a.xml --all b.xml -n 3", 2, "a.xml" },
	{ "standard input is no option", "-", 1, "-" }, { "after -- all are files", "-a -- --last b", 2, "--last" },
};

START_TEST(what_is_left_are_files)
{
	struct cli cli;
	ck_assert_int_eq(parsed(&cli, "facts", rests[_i].words), AB_OK);
	ck_assert_msg(cli.n_args == rests[_i].n, "%s: %zu", rests[_i].title, cli.n_args);
	if (rests[_i].n > 0)
		ck_assert_str_eq(cli.args[0], rests[_i].first);
	cc_end(&cli);
}
END_TEST

/* ---- what is refused, and with which words ---- */

static const struct { const char *title, *command, *words, *said; } refused[] = {
	{ "too small", "facts", "--last 0", "--last 0: allowed is a whole number from 1 to 1000000" },
	{ "too large", "facts", "--last 1000001", "from 1 to 1000000" },
	{ "not whole", "facts", "--last 2.5", "whole number" },
	{ "no number", "facts", "--last two", "--last two: " },
	{ "empty", "facts", "--last=", "--last : " },
	{ "less than nothing", "advise", "--budget -5", "from 0 to" },
	{ "a weight for money", "advise", "--budget 20_kg", "--budget 20 kg: " },
	{ "away for more than a year", "advise", "--away 10001", "a number from 0 to 10000" },
	{ "a year too short", "advise", "--horizon 0.009", "a number from 0.01 to 50" },
	{ "a year too long", "advise", "--horizon 50.1", "from 0.01 to 50" },
	{ "too many redraws", "diagnose", "--redraws 10001", "from 0 to 10000" },
	{ "a seed beyond 32 bits", "diagnose", "--seed 4294967296", "from 0 to 4294967295" },
	{ "narrow", "facts", "--width 39", "from 40 to 200" },
	{ "wide", "facts", "--width 201", "from 40 to 200" },
	{ "a word that is none", "facts", "--format yaml", "--format yaml: allowed are text, json, html" },
	{ "words are not cut short", "facts", "--format js", "text, json, html" },
	{ "when to colour", "facts", "--color yes", "auto, always, never" },
	{ "of another command", "facts", "--budget 3",
	    "\"facts\" takes no --budget (it is for: advise, report, changed)" },
	{ "of several others", "check", "--last 3", "diagnose, advise, trend, facts, report" },
	{ "of a command, without one", NULL, "--budget 3", "needs a command before it, one of: advise" },
	{ "without a command only", "facts", "--version", "--version goes without a command: afterboil --version" },
	{ "a slip of the pen", "advise", "--bugdet 3", "there is no option \"--bugdet\"; do you mean --budget?" },
	{ "a slip with its value", "advise", "--bugdet=3", "do you mean --budget?" },
	{ "nothing like it", "advise", "--zzzzzzzz", "there is no option \"--zzzzzzzz\"" },
	{ "short for several", "diagnose", "--r 3", "there is no option \"--r\"" },
	{ "a letter that is none", "facts", "-z", "there is no option \"-z\"" },
	{ "a letter that is none among others", "facts", "-az", "there is no option \"-z\"" },
	{ "no value", "facts", "--last", "--last needs a value: --last N" },
	{ "no value after a letter", "facts", "-n", "--last needs a value" },
	{ "a value where none goes", "facts", "--all=yes", "--all takes no value" },
	{ "help of a command is named", "facts", "--zzzzzzzz", "afterboil COMMAND --help" },
	{ "help without one", NULL, "--zzzzzzzz", "\"afterboil --help\"" },
	{ "the first error is told", "facts", "--last 0 --format yaml", "--last 0" },
};

START_TEST(refuses)
{
	struct cli cli;
	enum ab_status st = parsed(&cli, refused[_i].command, refused[_i].words);
	ck_assert_msg(st == AB_EUSAGE && cli.diag.status == AB_EUSAGE, "%s: status %d", refused[_i].title, (int)st);
	ck_assert_msg(strstr(cli.diag.text, refused[_i].said) != NULL, "%s: %s", refused[_i].title, cli.diag.text);
	cc_end(&cli);
}
END_TEST

/* ---- the tables ---- */

START_TEST(every_option_is_sound)
{
	for (size_t i = 0; i < n_options; i++) {
		const struct option_row *r = &options[i];
		bool number = r->kind == OPT_NUMBER || r->kind == OPT_WHOLE || r->kind == OPT_MONEY;
		ck_assert_msg((r->kind == OPT_FLAG) == (r->argument == NULL), "--%s", r->name);
		ck_assert_msg(!number || r->lo < r->hi, "--%s", r->name);
		ck_assert_msg((r->kind == OPT_WORD) == (r->words != NULL), "--%s", r->name);
		ck_assert_msg(
		    (r->commands & ~(unsigned)FOR_ALL) == 0 && r->at < sizeof(struct options), "--%s", r->name);
		for (size_t j = 0; j < i; j++) {
			ck_assert_msg(strcmp(r->name, options[j].name) != 0, "--%s twice", r->name);
			ck_assert_msg(r->letter == 0 || r->letter != options[j].letter, "-%c twice", r->letter);
			ck_assert_msg(
			    r->at != options[j].at, "--%s and --%s go to one place", r->name, options[j].name);
		}
	}
}
END_TEST

/* Every option with a good value, with every command: taken where the table says so, refused elsewhere. */
START_TEST(every_option_with_every_command)
{
	const struct option_row *r = &options[_i];
	/* 50, or the most that is allowed where that is less. */
	char number[24];
	snprintf(number, sizeof number, "%.0f", r->hi > 0 && r->hi < 50 ? r->hi : 50);
	const char *value = r->words != NULL ? r->words[0] : r->kind == OPT_TEXT || r->kind == OPT_LIST ? "x" : number;
	for (size_t c = 0; c <= n_commands; c++) {
		char words[64];
		struct cli cli;
		const char *name = c < n_commands ? commands[c].name : NULL;
		bool takes = name != NULL ? (r->commands >> c & 1) != 0 : r->commands == 0 || r->commands == FOR_ALL;
		snprintf(words, sizeof words, "--%s%s%s", r->name, r->argument != NULL ? "=" : "",
		    r->argument != NULL ? value : "");
		enum ab_status st = parsed(&cli, name, words);
		ck_assert_msg(st == (takes ? AB_OK : AB_EUSAGE), "%s %s: %s", name != NULL ? name : "afterboil",
		    words, cli.diag.text);
		if (!takes)
			ck_assert_msg(strstr(cli.diag.text, r->name) != NULL, "%s", cli.diag.text);
		cc_end(&cli);
	}
}
END_TEST

START_TEST(commands_are_found_by_their_whole_name)
{
	for (size_t i = 0; i < n_commands; i++) {
		ck_assert_ptr_eq(command_find(commands[i].name), &commands[i]);
		ck_assert_uint_eq(command_bit(&commands[i]), 1U << i);
		ck_assert(commands[i].run != NULL);
	}
	ck_assert_ptr_null(command_find("diag"));
	ck_assert_ptr_null(command_find(""));
	ck_assert_ptr_null(command_find("Facts"));
	ck_assert_uint_eq(command_bit(NULL), 0);
	ck_assert_uint_eq(FOR_ALL, (1U << n_commands) - 1);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("options");
	TCase *tc = tcase_create("options");
	tcase_add_loop_test(tc, reads_numbers, 0, sizeof numbers / sizeof *numbers);
	tcase_add_test(tc, reads_words_and_texts);
	tcase_add_test(tc, lists_grow_in_order);
	tcase_add_loop_test(tc, what_is_left_are_files, 0, sizeof rests / sizeof *rests);
	tcase_add_loop_test(tc, refuses, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tc, every_option_is_sound);
	tcase_add_loop_test(tc, every_option_with_every_command, 0, (int)n_options);
	tcase_add_test(tc, commands_are_found_by_their_whole_name);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
