/* main.c - from the command line to an exit status
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

/* A table instead of the enum's values: the statuses are a contract with scripts, the enum is ours to
 * change. */
static int exit_of(enum ab_status st, bool attention)
{
	static const int statuses[AB_STATUS_MAX_] = { [AB_OK] = EXIT_DONE,
		[AB_EUSAGE] = EXIT_USAGE,
		[AB_EINPUT] = EXIT_INPUT,
		[AB_ELIMIT] = EXIT_INPUT,
		[AB_EIMPOSSIBLE] = EXIT_INPUT,
		[AB_ENOMEM] = EXIT_SYSTEM,
		[AB_ESYSTEM] = EXIT_SYSTEM };
	return st == AB_OK && attention ? EXIT_ATTENTION : statuses[st];
}

/* A bare "afterboil" is somebody new, not an error: status 0 and a greeting. */
static enum ab_status without_command(struct cli *cli)
{
	if (cli->o.version)
		return out_text(cli, "afterboil " PACKAGE_VERSION "\n");
	if (cli->o.man_page)
		return man_page(cli);
	if (cli->o.journal_page)
		return journal_page(cli);
	if (cli->o.rules_page)
		return rules_page(cli);
	if (cli->o.completion_zsh)
		return completion_zsh(cli);
	if (cli->o.completion_fish)
		return completion_fish(cli);
	if (cli->o.completion)
		return completion(cli);
	return cli->o.help ? help_program(cli) : help_greet(cli);
}

/* The command must come first, so that every later word is known to be its own. Looks are set before
 * help is, for --color and --width work there too. */
static enum ab_status run(struct cli *cli, int argc, char **argv)
{
	/* For the completion scripts only, and in no list. */
	if (argc > 1 && strcmp(argv[1], "__offer") == 0)
		return offers(cli, argv + 2, (size_t)argc - 2);
	bool named = argc > 1 && argv[1][0] != '-';
	if (named && (cli->command = command_find(argv[1])) == NULL)
		return help_no_command(cli, argv[1]);
	enum ab_status st = options_parse(cli, argc - named, argv + named);
	if (st != AB_OK)
		return st;
	terminal_look(cli);
	progress_look(cli);
	if (cli->command == NULL)
		return without_command(cli);
	return cli->o.help ? help_command(cli) : cli->command->run(cli);
}

/* Descriptors first: a store opened as descriptor 1 would be overwritten by the report. SIGPIPE back to
 * its default, as some parents ignore it, and "| head" should end us quietly. Only the character set is
 * taken from the locale: numbers and dates stay the same everywhere. Closing can fail (a full disk)
 * after all went well, and must then turn the status. */
int main(int argc, char **argv)
{
	struct cli cli = { .arena = ab_arena_new() };
	enum ab_status st, closed;
	out_prepare();
	signal(SIGPIPE, SIG_DFL);
	signal(SIGXFSZ, SIG_IGN);   /* a file that may not grow is an error to tell, not a reason to die */
	setlocale(LC_CTYPE, "");
	ab_diag_init(&cli.diag);
	st = cli.arena == NULL ? cli_nomem(&cli) : run(&cli, argc, argv);
	closed = out_close(&cli);
	if (st == AB_OK)
		st = closed;
	if (st != AB_OK)
		err_diag(&cli.diag);
	ab_arena_free(cli.arena);
	return exit_of(st, cli.attention);
}
