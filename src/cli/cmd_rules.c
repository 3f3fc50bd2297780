/* cmd_rules.c - afterboil rules: list, explain, lint
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>

#include "base/record.h"

/* Enough for any folder that somebody still means to mend (estimate). */
enum { MOST_FINDINGS = 500 };

/* A wrong KIND is the library's to refuse: it knows the kinds. */
static enum ab_status list(struct cli *cli, char **text)
{
	enum ab_status st = rules_load(cli);
	return st != AB_OK
	    ? st
	    : ab_report_rules_list(cli->k, cli->n_args > 1 ? cli->args[1] : NULL, &cli->look, text,
	    &cli->diag);
}

/* Explained rules are prose for people; as data the XML itself is better than any second form. */
static enum ab_status explain(struct cli *cli, char **text)
{
	if (cli->n_args < 2)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "explain what? Name a fault, cause, change, check, chore or thing: "
		    "afterboil rules explain buttery");
	if (cli->look.format == AB_JSON)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "\"rules explain\" has no json; the rules files are the data");
	enum ab_status st = rules_load(cli);
	return st != AB_OK ? st : ab_report_rules_explain(cli->k, cli->args[1], &cli->look, text, &cli->diag);
}

/* The folders are found but not loaded: loading would stop at the first error, and lint is there to
 * list them all. */
static enum ab_status lint(struct cli *cli, char **text)
{
	struct texts dirs = { NULL, 0, 0 };
	struct ab_lint *findings = ab_arena_alloc(cli->arena, MOST_FINDINGS, sizeof *findings);
	size_t n = 0, errors = 0;
	enum ab_status st = findings == NULL ? cli_nomem(cli) : rules_folders(cli, &dirs);
	*text = NULL;
	if (st == AB_OK)
		st = ab_knowledge_lint(dirs.items, dirs.n, ab_fact_defs(),
		    ab_casework_vocabulary(), cli->arena, findings, MOST_FINDINGS, &n, &cli->diag);
	for (size_t i = 0; st == AB_OK && i < n && i < MOST_FINDINGS; i++) {
		const struct ab_lint *f = &findings[i];
		const char *line = ab_arena_printf(
		    cli->arena, "%s:%ld: %s: %s\n", f->file, f->line, f->error ? "error" : "advice", f->text);
		errors += f->error;
		st = line == NULL ? cli_nomem(cli) : out_text(cli, line);
	}
	if (st != AB_OK)
		return st;
	cli->attention = errors > 0;
	const char *sum = ab_arena_printf(cli->arena, "%s: %zu error%s, %zu piece%s of advice\n",
	    errors == 0 ? "OK" : "not usable", errors, errors == 1 ? "" : "s", n - errors, n - errors == 1 ? "" : "s");
	return sum == NULL ? cli_nomem(cli) : out_text(cli, sum);
}

/* Three columns of one table, by place: name, function, most words after "rules". */
static const char *const names[] = { "list", "explain", "lint", NULL };
static enum ab_status (*const parts[])(struct cli *cli, char **text) = { list, explain, lint };
static const size_t most_args[] = { 2, 2, 1 };

_Static_assert(sizeof parts / sizeof *parts == sizeof names / sizeof *names - 1, "a function a name");
_Static_assert(sizeof most_args / sizeof *most_args == sizeof parts / sizeof *parts, "a limit a function");
/* A part may have written by itself and left no text (lint does). */
enum ab_status cmd_rules(struct cli *cli)
{
	char *text = NULL;
	const char *what = cli->n_args > 0 ? cli->args[0] : cli->o.lint ? "lint" : "list", *near;
	size_t i = 0;
	while (names[i] != NULL && strcmp(names[i], what) != 0)
		i++;
	near = names[i] != NULL ? NULL : ab_nearest(what, names);
	if (names[i] == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "rules does not know \"%.40s\"; %s%s%sit knows list, explain and lint", what,
		    near == NULL ? "" : "do you mean \"", near == NULL ? "" : near,
		    near == NULL ? "" : "\"? ");
	if (cli->n_args > most_args[i])
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "too much after \"rules %s\": \"%.60s\"", names[i], cli->args[most_args[i]]);
	terminal_look(cli);
	enum ab_status st = parts[i](cli, &text);
	return text == NULL ? st : out_report(cli, st, text);
}
