/* greet.c - afterboil alone: a greeting, and the next sensible steps for the folder it stands in
 *
 * Nobody is met by a wall of options.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>

#include <afterboil/report.h>

#include "base/str.h"

enum { MOST_STEPS = 5 };

struct step { const char *type, *why; };

/* What cannot be read is no reason to be silent here: "check" says what is wrong and where. */
static struct step before_any_batch(struct cli *cli, enum ab_status st)
{
	if (st != AB_OK)
		return (struct step){ "afterboil check .", "something here does not read; this tells what and where" };
	if (cli->o.profile == NULL)
		return (struct step){ "afterboil init", "a few questions, and you can begin" };
	return (struct step){ "afterboil new \"House pale\"", "the journal of your next batch" };
}

/* Without redraws: they steady figures that are not shown here. */
enum ab_status help_steps(struct cli *cli, size_t most, char **text)
{
	struct ab_case **cases;
	struct ab_advice *advice;
	cli->o.redraws = 0;
	enum ab_status st = advise_work(cli, &cases, &advice);
	terminal_look(cli);
	for (size_t i = 0; st == AB_OK && i < advice->n_steps; i++)
		cli->attention = cli->attention || advice->steps[i].kind == AB_NEXT_SAFE ||
		    advice->steps[i].kind == AB_NEXT_VENT;
	return st == AB_OK ? ab_report_steps(cli->k, advice, most, &cli->look, text, &cli->diag) : st;
}

static enum ab_status say_step(struct cli *cli, struct step step)
{
	char *text = ab_arena_printf(cli->arena, "    %s    %s", step.type, step.why);

	if (text == NULL)
		return cli_nomem(cli);
	ab_text_scrub(text);
	enum ab_status st = out_text(cli, text);
	if (st == AB_OK && cli->n_batches == 0)
		st = out_text(cli, "\n    afterboil diagnose --fault buttery    something off? Say what you taste");
	return st == AB_OK ? out_text(cli, "\n\n") : st;
}

enum ab_status help_greet(struct cli *cli)
{
	enum ab_status read, st = rules_load(cli);
	char *text = NULL;

	/* Without rules there is nothing to say of a beer, whatever is in the folder: that comes first. */
	if (st != AB_OK) {
		out_text(cli,
		    "afterboil helps you find out what went wrong with a beer and what to do next, and needs "
		    "its rules for that.\n");
		return st;
	}
	read = which_folder(cli, false);

	if (read == AB_OK && cli->n_batches > 0)
		read = help_steps(cli, MOST_STEPS, &text);
	if (read == AB_ENOMEM)
		return read;
	ab_diag_init(&cli->diag);
	st = out_text(
	    cli, "afterboil helps you find out what went wrong with a beer and what to do next.\nHere, next:\n\n");
	if (st == AB_OK)
		st = text == NULL ? say_step(cli, before_any_batch(cli, read)) : out_text(cli, text);
	if (st == AB_OK && text != NULL)
		st = out_text(cli, "\n");
	ab_report_free(text);
	return st == AB_OK ? out_text(cli, "\"afterboil --help\" lists everything.\n") : st;
}
