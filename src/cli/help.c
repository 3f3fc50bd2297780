/* help.c - what the program says about itself, made from the tables
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/record.h"
#include "base/str.h"

/* Help fits any terminal of 80 columns without being asked how wide it is. */
enum { NAME_COLUMN = 26, TEXT_WIDTH = 79 };

/* Words of text broken at TEXT_WIDTH, lines after the first indented; at = the column we are at. 79,
 * not the terminal's width: help is also piped, pasted and compared by tests. */
static void add_wrapped(struct ab_str *s, const char *text, int indent, int at)
{
	while (*text != '\0') {
		int n = (int)strcspn(text, " ");
		if (at > indent && at + n + 1 > TEXT_WIDTH) {
			ab_str_addf(s, "\n%*s", indent, "");
			at = indent;
		} else if (at > indent) {
			ab_str_add(s, " ");
			at++;
		}
		ab_str_addn(s, text, (size_t)n);
		at += n;
		text += n + (text[n] == ' ');
	}
	ab_str_add(s, "\n");
}

/* A name too long for its column gets a line of its own; the texts stay in line below each other. */
static void add_option(struct ab_str *s, const struct option_row *row)
{
	char name[80];
	char letter[8] = "    ";
	if (row->letter != 0)
		snprintf(letter, sizeof letter, "-%c, ", row->letter);
	int n = snprintf(name, sizeof name, "  %s--%s%s%s", letter, row->name,
	    row->argument == NULL ? "" : " ", row->argument == NULL ? "" : row->argument);
	ab_str_add(s, name);
	if (n >= NAME_COLUMN - 1)
		ab_str_addf(s, "\n%*s", NAME_COLUMN, "");
	else
		ab_str_addf(s, "%*s", NAME_COLUMN - n, "");
	add_wrapped(s, row->help, NAME_COLUMN, NAME_COLUMN);
}

/* All or nothing: a help text cut short by lack of memory would look complete. */
static enum ab_status finish(struct cli *cli, struct ab_str *s)
{
	enum ab_status st = ab_str_ok(s) ? out_text(cli, ab_str_text(s)) : cli_nomem(cli);
	ab_str_clear(s);
	return st;
}

/* In the order of the table: the order in which a brewer meets them. */
static void add_commands(struct ab_str *s)
{
	ab_str_add(s, "Commands:\n");
	for (size_t i = 0; i < n_commands; i++)
		ab_str_addf(s, "  %-10s %s\n", commands[i].name, commands[i].summary);
}

/* Options of the commands are left out: forty lines nobody asked for. */
enum ab_status help_program(struct cli *cli)
{
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_add(&s, "Usage: afterboil COMMAND [options] [files]\n\n");
	add_wrapped(&s,
	    "afterboil reads your batch journals and what you taste, works out which step most likely spoiled a "
	    "batch, ranks what to change or buy next for your money, and shows whether the changes worked.",
	    0, 0);
	ab_str_add(&s, "\n");
	add_commands(&s);
	ab_str_add(&s, "\nWithout a command:\n");
	for (size_t i = 0; i < n_options; i++)
		if (options[i].commands == 0 || strcmp(options[i].name, "help") == 0)
			add_option(&s, &options[i]);
	ab_str_add(&s,
	    "\n\"afterboil COMMAND --help\" tells the options of a command.\nExit status: 0 done; 1 done, and "
	    "something needs attention; 2 wrong usage;\n3 bad input; 4 system trouble.\n");
	return finish(cli, &s);
}

enum ab_status help_command(struct cli *cli)
{
	const struct command *c = cli->command;
	assert(c != NULL);
	struct ab_str s;
	ab_str_init(&s, 0);
	ab_str_addf(&s, "Usage: afterboil %s [options] %s\n\n", c->name, c->arguments);
	add_wrapped(&s, c->about, 0, 0);
	ab_str_add(&s, "\nOptions:\n");
	for (size_t i = 0; i < n_options; i++)
		if (options[i].commands & command_bit(c))
			add_option(&s, &options[i]);
	ab_str_add(&s, "\nExamples:\n");
	for (size_t i = 0; c->examples[i] != NULL; i += 2)
		ab_str_addf(&s, "  %s\n      %s\n", c->examples[i], c->examples[i + 1]);
	return finish(cli, &s);
}

enum ab_status help_no_command(struct cli *cli, const char *name)
{
	const char *names[32] = { NULL }, *near;
	assert(n_commands < sizeof names / sizeof *names);
	for (size_t i = 0; i < n_commands; i++)
		names[i] = commands[i].name;
	near = ab_nearest(name, names);
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "there is no command \"%.40s\"%s%s%s \"afterboil --help\" lists them", name,
	    near == NULL ? ";" : "; do you mean \"", near == NULL ? "" : near, near == NULL ? "" : "\"?");
}

enum ab_status cmd_help(struct cli *cli)
{
	if (cli->n_args == 0)
		return help_program(cli);
	if (cli->n_args > 1)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "\"help\" takes one command at most; \"afterboil help\" lists them");
	cli->command = command_find(cli->args[0]);
	return cli->command != NULL ? help_command(cli) : help_no_command(cli, cli->args[0]);
}
