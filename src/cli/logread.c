/* logread.c - a line is read with what the journal and the profile know, and what can hardly be is asked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum ab_status log_moment(struct cli *cli, const struct ab_batch *batch, struct ab_when *when)
{
	char why[300], text[40];
	const char *at = cli->o.at;

	aside_now(when);
	if (at == NULL)
		return AB_OK;
	if (strlen(at) == 5 && at[2] == ':') {
		int y, m, d;
		ab_when_to_civil(when->s, &y, &m, &d);
		snprintf(text, sizeof text, "%04d-%02d-%02dT%s", y, m, d, at);
		at = text;
	}
	const struct ab_when now = *when;
	/* of a yeast that nobody wrote down the hour of: it went in on the day of brewing, as times from pitching
	 * are reckoned everywhere */
	bool told = batch->pitch != NULL && batch->pitch->at.known && !batch->pitch->at.relative;
	const struct ab_when *pitched = told ? &batch->pitch->at : batch->brewed.known ? &batch->brewed : NULL;
	if (!ab_when_read(at, when, why, sizeof why) && !ab_entry_when(at, &now, pitched, cli->arena, when))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--at %.40s: %s; or \"day 5\" from pitching, \"yesterday\", \"2 days ago\"", cli->o.at, why);
	return AB_OK;
}

/* What a journal or the profile tells of the beer and its bottles. */
static void known_sizes(const struct cli *cli, const struct ab_batch *batch, struct ab_entry_help *help)
{
	const struct ab_package *told = batch->package;
	const struct ab_package *usual =
	    cli->profile != NULL && cli->profile->usual != NULL ? cli->profile->usual->package : NULL;
	struct ab_when newest = { .known = false };
	double og = batch->recipe != NULL && batch->recipe->og_sg.known ? batch->recipe->og_sg.v : 0;

	help->volume_l = told != NULL && told->volume_l.known ? told->volume_l.v : 0;
	help->size_l = told != NULL && told->size_l.known ? told->size_l.v
	    : usual != NULL && usual->size_l.known        ? usual->size_l.v
							  : 0;
	for (AB_EACH(struct ab_reading, r, batch->readings))
		if (r->gravity_sg.known) {
			og = fmax(og, r->gravity_sg.v);
			bool newer = r->at.known && !r->at.relative && (!newest.known || r->at.s >= newest.s);
			help->last_sg = newer ? r->gravity_sg.v : help->last_sg;
			newest = newer ? r->at : newest;
		}
	help->og_sg = og;
}

enum ab_status log_doubt(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry)
{
	struct ab_entry_help help = aside_help(cli, NULL);
	bool grave, nomem, yes = false;

	help.pitched = batch->pitch != NULL ? &batch->pitch->at : NULL;
	known_sizes(cli, batch, &help);
	for (; entry != NULL; entry = entry->next) {
		const char *why = ab_entry_unlikely(entry, &help, cli->arena, &grave, &nomem);
		if (nomem)
			return cli_nomem(cli);
		if (why == NULL)
			continue;
		if (talk_is_terminal()) {
			enum ab_status st = aside_yes(cli,
			    ab_arena_printf(cli->arena, "%s Write it down all the same? yes or no", why), &yes);
			if (st != AB_OK || yes)
				return st;
		}
		if (talk_is_terminal() || grave)
			return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was written: %s", why);
		err_note("%s", why);
	}
	return AB_OK;
}

enum ab_status log_understand(struct cli *cli, const struct ab_batch *batch, const char *words,
    const struct ab_when *when, struct ab_entry **entry)
{
	struct ab_entry_doubt doubt = { .n = 0 };
	struct ab_entry_help help = aside_help(cli, &doubt);
	struct ab_when now;
	aside_now(&now);
	help.now = &now;
	/* With --at it is told there, and once. */
	help.given = cli->o.at != NULL ? when : NULL;
	help.pitched = batch->pitch != NULL ? &batch->pitch->at : NULL;
	help.packaged = batch->package != NULL ? 2 : 1;
	known_sizes(cli, batch, &help);
	enum ab_status st = ab_entry_read(words, when, &help, cli->arena, entry, &cli->diag);
	size_t chosen = 0;

	if (st != AB_EUSAGE || doubt.n == 0 || !talk_is_terminal())
		return st;
	struct ab_diag why = cli->diag;
	ab_diag_init(&cli->diag);
	st = out_text(cli, ab_arena_printf(cli->arena, "%s\n", why.text));
	if (st == AB_OK)
		st = aside_which(cli, doubt.ways, doubt.n, &chosen);
	if (st == AB_OK && chosen == doubt.n)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was written");
	return st == AB_OK ? ab_entry_read(doubt.ways[chosen], when, &help, cli->arena, entry, &cli->diag) : st;
}
