/* check_manual.c - help, manual page and completion, all made from the two tables: whole, within their width, and
 * safe in roff and bash
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct cli cli;

static void has(const char *text, const char *want)
{
	ck_assert_msg(strstr(text, want) != NULL, "no \"%s\" in\n%s", want, text);
}

static char *written(enum ab_status (*f)(struct cli *cli), const struct command *command)
{
	cc_begin(&cli, command);
	char *text = cc_written(f, &cli);
	cc_end(&cli);
	return text;
}

/* The words of text one blank apart: how lines were broken does not matter. Freed by the caller. */
static char *flat(const char *text)
{
	char *out = malloc(strlen(text) + 1), *to = out;
	for (; *text != '\0'; text++)
		if (!isspace((unsigned char)*text))
			*to++ = *text;
		else if (to > out && to[-1] != ' ')
			*to++ = ' ';
	*to = '\0';
	return out;
}

static void within(const char *title, const char *text, size_t width)
{
	for (const char *line = text; *line != '\0';) {
		size_t n = strcspn(line, "\n");
		ck_assert_msg(n <= width, "%s: %.*s", title, (int)n, line);
		ck_assert_msg(n == 0 || line[n - 1] != ' ', "%s: a blank at the end of %.*s", title, (int)n, line);
		line += n + (line[n] == '\n');
	}
	ck_assert_msg(text[strlen(text) - 1] == '\n', "%s: no end of the last line", title);
}

/* ---- help ---- */

START_TEST(help_of_a_command)
{
	const struct command *c = &commands[_i];
	char *text = written(help_command, c), *words = flat(text), *options_at = strstr(text, "\nOptions:\n"),
	     *examples = strstr(text, "\nExamples:\n");
	char name[64];
	within(c->name, text, 80);
	has(words, c->about);
	has(text, c->arguments);
	ck_assert_msg(options_at != NULL && examples != NULL && options_at < examples, "%s", text);
	for (size_t i = 0; i < n_options; i++) {
		bool takes = (options[i].commands >> _i & 1) != 0;
		snprintf(name, sizeof name, "--%s%s%s ", options[i].name, options[i].argument != NULL ? " " : "",
		    options[i].argument != NULL ? options[i].argument : "");
		char *option_words = flat(options_at);
		ck_assert_msg((strstr(option_words, name) != NULL) == takes, "%s: %s", c->name, name);
		if (takes)
			has(words, options[i].help);
		free(option_words);
	}
	for (size_t i = 0; c->examples[i] != NULL; i++)
		has(examples, c->examples[i]);
	free(words);
	free(text);
}
END_TEST

/* Each option begins its own line, and its text stands in one column. */
START_TEST(options_stand_in_columns)
{
	char *text = written(help_command, &commands[_i]), *at = strstr(text, "\nOptions:\n") + strlen("\nOptions:\n");
	while (*at != '\n') {
		bool named = strncmp(at, "  -", 3) == 0 || strncmp(at, "      --", 8) == 0;
		ck_assert_msg(named || strncmp(at, "                          ", 26) == 0, "%.60s", at);
		ck_assert_msg(strcspn(at, "\n") < 26 || (at[25] == ' ' && at[26] != ' '), "%.60s", at);
		at += strcspn(at, "\n") + 1;
	}
	free(text);
}
END_TEST

START_TEST(help_without_a_command)
{
	char *text = written(help_program, NULL);
	within("help", text, 80);
	for (size_t i = 0; i < n_commands; i++) {
		char row[128];
		snprintf(row, sizeof row, "  %-10s %s\n", commands[i].name, commands[i].summary);
		has(text, row);
	}
	for (size_t i = 0; i < n_options; i++) {
		char name[64];
		snprintf(name, sizeof name, "--%s", options[i].name);
		if (options[i].commands == 0)
			has(text, name);
	}
	has(text, "0 done; 1 done");
	free(text);
	text = written(help_greet, NULL);
	within("greeting", text, 80);
	ck_assert_msg(strlen(text) < 24 * 80, "a greeting fits on a screen");
	free(text);
}
END_TEST

/* ---- the manual page ---- */

START_TEST(the_manual_holds_every_command)
{
	const struct command *c = &commands[_i];
	char *text = written(man_page, NULL), *words = flat(text), head[96];
	snprintf(head, sizeof head, "\n.It Ic %s Ar ", c->name);
	has(text, head);
	has(words, c->about);
	free(words);
	free(text);
}
END_TEST

START_TEST(the_manual_holds_every_option)
{
	const struct option_row *r = &options[_i];
	char *text = written(man_page, NULL), *words = flat(text), head[96], letter[16] = "";
	if (r->letter != 0)
		snprintf(letter, sizeof letter, "Fl %c , ", r->letter);
	snprintf(head, sizeof head, "\n.It %sFl Fl %s%s%s\n%c", letter, r->name, r->argument != NULL ? " Ar " : "",
	    r->argument != NULL ? r->argument : "", toupper((unsigned char)r->help[0]));
	has(text, head);
	has(words, r->help + 1);
	/* and for whom it is */
	const char *at = strstr(strstr(text, head) + 1, "\n.It"), *whose = strstr(strstr(text, head), "\nFor "),
		   *alone = strstr(strstr(text, head), "\nGoes without");
	if (r->commands == 0)
		ck_assert_msg(alone != NULL && (at == NULL || alone < at), "--%s", r->name);
	else
		ck_assert_msg(whose != NULL && (at == NULL || whose < at), "--%s", r->name);
	for (size_t i = 0; r->commands != 0 && r->commands != FOR_ALL && i < n_commands; i++) {
		/* up to the next request: a long list goes over more than one line */
		size_t n = (size_t)(strstr(whose + 1, "\n.") - whose) - 1;
		char line[320];
		snprintf(line, sizeof line, "%.*s", (int)n, whose + 1);
		ck_assert_msg((strstr(line, commands[i].name) != NULL) == ((r->commands >> i & 1) != 0), "--%s: %s",
		    r->name, line);
	}
	free(words);
	free(text);
}
END_TEST

/* What begins with a point is a request, and each is one that mdoc knows; text lines are short. */
START_TEST(the_manual_is_roff)
{
	static const char *const known[] = { ".Dd", ".Dt", ".Os", ".Sh", ".Nm", ".Nd", ".Ar", ".Op", ".Fl", ".Bl",
		".It", ".El", ".Pp", ".Dl", ".Xr" };
	char *text = written(man_page, NULL);
	int open = 0;
	for (const char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1) {
		size_t n = strcspn(line, "\n"), k = 0;
		ck_assert_msg(n > 0, "an empty line");
		ck_assert_msg(line[0] != '\'', "%.40s", line);
		if (line[0] != '.') {
			ck_assert_msg(n <= 80, "%.*s", (int)n, line);
			continue;
		}
		while (k < sizeof known / sizeof *known && strncmp(line, known[k], 3) != 0)
			k++;
		ck_assert_msg(k < sizeof known / sizeof *known, "%.40s", line);
		open += strncmp(line, ".Bl", 3) == 0;
		open -= strncmp(line, ".El", 3) == 0;
		ck_assert_msg(open == 0 || open == 1, "lists crossed at %.40s", line);
		ck_assert_msg(
		    strncmp(line, ".Dl", 3) != 0 || memchr(line, '"', n) == NULL, "a bare quote in %.60s", line);
	}
	ck_assert_int_eq(open, 0);
	free(text);
}
END_TEST

/* ---- completion ---- */

START_TEST(completion_offers_what_a_command_takes)
{
	char *text = written(completion, NULL), head[64], list[2048];
	snprintf(head, sizeof head, "\t%s) words='", commands[_i].name);
	has(text, head);
	const char *at = strstr(text, head) + strlen(head);
	snprintf(list, sizeof list, "%.*s ", (int)strcspn(at, "'"), at);
	for (size_t i = 0; i < n_options; i++) {
		char name[64];
		snprintf(name, sizeof name, " --%s ", options[i].name);
		ck_assert_msg((strstr(list, name) != NULL) == ((options[i].commands >> _i & 1) != 0), "%s%s",
		    commands[_i].name, name);
	}
	free(text);
}
END_TEST

/* Where a value is wanted no script offers an option. */
START_TEST(completion_knows_what_takes_a_value)
{
	char *texts[] = { written(completion, NULL), written(completion_zsh, NULL) };
	static const char *const ends[] = { ") words= ;;", ") options=() ;;" };
	for (size_t t = 0; t < 2; t++) {
		const char *end = strstr(texts[t], ends[t]), *from = end;
		ck_assert_ptr_nonnull(end);
		while (*from != '\t')
			from--;
		char *pattern = strndup(from + 1, (size_t)(end - from - 1)), list[4096];
		snprintf(list, sizeof list, "|%s|", pattern);
		for (size_t i = 0; i < n_options; i++) {
			char name[64], letter[8] = "|-?|";
			snprintf(name, sizeof name, "|--%s|", options[i].name);
			letter[2] = (char)options[i].letter;
			ck_assert_msg(
			    (strstr(list, name) != NULL) == (options[i].argument != NULL), "--%s", options[i].name);
			if (options[i].letter != 0)
				ck_assert_msg(
				    (strstr(list, letter) != NULL) == (options[i].argument != NULL), "%s", letter);
		}
		free(pattern);
		free(texts[t]);
	}
}
END_TEST

START_TEST(completion_for_bash_begins_with_the_commands)
{
	char *text = written(completion, NULL);
	has(text, "\t*) words=' diagnose advise trend facts check rules ");
	has(text, "complete -o default -F _afterboil afterboil\n");
	free(text);
}
END_TEST

START_TEST(completion_for_zsh_says_what_each_is)
{
	char *text = written(completion_zsh, NULL), row[128];
	for (size_t i = 0; i < n_options; i++) {
		snprintf(row, sizeof row, "\t\t--%s '%.40s", options[i].name, options[i].help);
		if (strchr(row, '\'') == strrchr(row, '\''))
			has(text, row);
	}
	ck_assert_int_eq(strncmp(text, "#compdef afterboil\n", 19), 0);
	free(text);
}
END_TEST

/* Names are for values that are words of one's own: never beside the words or numbers of the table. */
START_TEST(offers_fit_the_tables)
{
	static const char *const named[] = { "batch", "like", "line", "fault", "absent", "family", "yeast" };
	size_t found = 0;
	for (size_t i = 0; i < n_options; i++) {
		bool names = offers_value(options[i].name) != 0, want = false;
		for (size_t n = 0; n < sizeof named / sizeof *named; n++)
			want = want || strcmp(named[n], options[i].name) == 0;
		ck_assert_msg(names == want, "--%s", options[i].name);
		ck_assert_msg(
		    !names || options[i].kind == OPT_TEXT || options[i].kind == OPT_LIST, "--%s", options[i].name);
		found += names;
	}
	ck_assert_uint_eq(found, sizeof named / sizeof *named);
	/* What a command's line says it takes is what is offered there. */
	for (size_t i = 0; i < n_commands; i++) {
		const char *takes = commands[i].arguments;
		unsigned first = offers_place(commands[i].name, 0);
		ck_assert_msg(
		    ((first & NAMES_BATCHES) != 0) == (strstr(takes, "BATCH") != NULL), "%s", commands[i].name);
		ck_assert_msg(((first & NAMES_BEERS) != 0) == (strstr(takes, "BEER") != NULL), "%s", commands[i].name);
	}
	ck_assert_uint_eq(offers_place("nonsense", 0) + offers_value("nonsense"), 0);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("manual");
	TCase *tc = tcase_create("manual");
	tcase_add_loop_test(tc, help_of_a_command, 0, (int)n_commands);
	tcase_add_loop_test(tc, options_stand_in_columns, 0, (int)n_commands);
	tcase_add_test(tc, help_without_a_command);
	tcase_add_loop_test(tc, the_manual_holds_every_command, 0, (int)n_commands);
	tcase_add_loop_test(tc, the_manual_holds_every_option, 0, (int)n_options);
	tcase_add_test(tc, the_manual_is_roff);
	tcase_add_loop_test(tc, completion_offers_what_a_command_takes, 0, (int)n_commands);
	tcase_add_test(tc, completion_knows_what_takes_a_value);
	tcase_add_test(tc, completion_for_bash_begins_with_the_commands);
	tcase_add_test(tc, completion_for_zsh_says_what_each_is);
	tcase_add_test(tc, offers_fit_the_tables);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
