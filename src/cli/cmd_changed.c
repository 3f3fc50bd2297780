/* cmd_changed.c - afterboil changed: what is done differently from now on, noted in the profile
 *
 * In the profile and not in the history alone: the history can be made anew from journals and profile at any
 * time, and must then know of it. Not in a journal: the batch it belongs to may not be begun yet.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/changed.h"

#include <math.h>
#include <string.h>

enum ab_status changed_find(struct cli *cli)
{
	static char here[] = ".";
	char *places[] = { here };

	cli->args = places;
	cli->n_args = 1;
	enum ab_status st = inputs_profile(cli);
	cli->n_args = 0;
	if (st == AB_OK && cli->profile == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "changes are noted in the brewery profile, and there is no profile.xml here; name it "
		    "with --profile");
	return st;
}

static enum ab_status list(struct cli *cli)
{
	enum ab_status st = AB_OK;

	for (AB_EACH(const struct ab_changed, c, cli->profile->changed)) {
		const char *line = changed_told(cli, c);

		if (st == AB_OK)
			st = line == NULL ? cli_nomem(cli)
					  : out_text(cli, ab_arena_printf(cli->arena, "%s\n", line));
	}
	if (cli->profile->changed.n == 0)
		return out_text(cli, "No change is noted in the profile.\n");
	return st;
}

static enum ab_status no_sense(struct cli *cli, const char *option)
{
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s goes with --plan", option);
}

/* Limits and places say nothing about a change in the brewer's own words. */
static enum ab_status goes_together(struct cli *cli, size_t n_words)
{
	const struct options *o = &cli->o;
	const struct { const char *name; bool given; } rest[] = { { "step", !isnan(o->step) }, { "in", o->in != NULL },
		{ "budget", !isnan(o->budget) }, { "running", !isnan(o->running) }, { "minutes", !isnan(o->minutes) },
		{ "away", !isnan(o->away) }, { "horizon", !isnan(o->horizon) }, { "changes", !isnan(o->changes) },
		{ "brews", !isnan(o->brews) },
		{ "store", o->store != NULL }, { "no-store", o->no_store } };

	for (size_t i = 0; !o->plan && i < sizeof rest / sizeof *rest; i++)
		if (rest[i].given)
			return no_sense(cli, rest[i].name);
	if (o->plan && (n_words > 0 || o->undo || o->own))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--plan takes the change from the plan; it goes without %s",
		    n_words > 0   ? "words (journals elsewhere: --in FOLDER)"
			: o->undo ? "--undo"
				  : "--own");
	return AB_OK;
}

/* All words are one saying: quotes are easily forgotten. */
static const char *joined(struct cli *cli, char **args, size_t n)
{
	const char *all = n > 0 ? args[0] : NULL;

	for (size_t i = 1; i < n && all != NULL; i++)
		all = ab_arena_printf(cli->arena, "%s %s", all, args[i]);
	return all;
}

enum ab_status cmd_changed(struct cli *cli)
{
	char **args = cli->args;
	size_t n = cli->n_args;
	const char *words = joined(cli, args, n);

	if (n > 0 && words == NULL)
		return cli_nomem(cli);
	if (cli->o.undo && n > 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--undo takes back the last change; it goes "
		    "without words");
	if (n > 0 && strspn(words, " \t") == strlen(words))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "what changed? Say it in a few words");
	enum ab_status st = goes_together(cli, n);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK && cli->o.plan)
		return changed_begin(cli);
	if (st == AB_OK)
		st = changed_find(cli);
	if (st != AB_OK)
		return st;
	return cli->o.undo ? changed_undo(cli) : n > 0 ? changed_note(cli, words) : list(cli);
}
