/* greet.c - afterboil alone: a greeting, and the next sensible step for the folder it stands in
 *
 * Journals and profile are read, no rules: it must answer at once. Nobody is met by a wall of options.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <string.h>
#include <unistd.h>

#include "base/str.h"

struct step { const char *type, *why; };

static bool has_begun(const struct ab_batch *b)
{
	return b->pitch != NULL || b->package != NULL || b->readings.n > 0 || b->logs.n > 0;
}

static bool has_fault(const struct ab_batch *b)
{
	for (AB_EACH(const struct ab_tasting, t, b->tastings))
		if (t->found.n > 0)
			return true;
	return false;
}

/* The newest batch says what is next: it is the one the brewer has in mind. */
static struct step of_batch(struct cli *cli, const struct ab_batch *b)
{
	const char *id = b->id;

	if (b->tastings.n == 0 && !has_begun(b))
		return (struct step){ ab_arena_printf(cli->arena, "afterboil sheet %s -o sheet.html", id), "a page for the brew day" };
	if (b->tastings.n == 0)
		return (struct step){ ab_arena_printf(cli->arena, "afterboil taste %s buttery 2", id), "when it is ready: what does it taste of?" };
	if (has_fault(b))
		return (struct step){ ab_arena_printf(cli->arena, "afterboil diagnose . --batch %s", id), "what most likely went wrong" };
	return (struct step){ "afterboil trend .", "is it getting better?" };
}

/* What cannot be read is no reason to be silent here: "check" says what is wrong and where. */
static struct step next_step(struct cli *cli)
{
	enum ab_status st = which_folder(cli, false);

	ab_diag_init(&cli->diag);
	if (st != AB_OK)
		return (struct step){ "afterboil check .", "something here does not read; this tells what and where" };
	if (cli->o.profile == NULL && cli->n_batches == 0)
		return (struct step){ "afterboil init", "a few questions, and you can begin" };
	if (cli->n_batches == 0)
		return (struct step){ "afterboil new \"House pale\"", "the journal of your next batch" };
	return of_batch(cli, cli->batches[cli->n_batches - 1]);
}

enum ab_status help_greet(struct cli *cli)
{
	struct step step = next_step(cli);
	char *text = step.type == NULL ? NULL : ab_arena_printf(cli->arena, "    %s    %s", step.type, step.why);

	if (text == NULL)
		return cli_nomem(cli);
	ab_text_scrub(text);
	enum ab_status st = out_text(cli, "afterboil helps you find out what went wrong with a beer and what to do next.\nHere, next:\n\n");
	if (st == AB_OK)
		st = out_text(cli, text);
	if (st == AB_OK && cli->n_batches == 0)
		st = out_text(cli, "\n    afterboil diagnose --fault buttery    something off? Say what you taste");
	return st == AB_OK ? out_text(cli, "\n\n\"afterboil --help\" lists everything.\n") : st;
}
