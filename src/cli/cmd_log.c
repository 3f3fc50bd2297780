/* cmd_log.c - afterboil log and afterboil taste: one line of plain words into a journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

#include <afterboil/entry.h>
#include <afterboil/taste_entry.h>

/* MOST_WORDS: of a beer's name typed without quotes. */
enum { MOST_WORDS = 6 };

/* ---- when ---- */

/* What happens now is logged now: the brewer's own clock, to the minute. */
static void now(struct ab_when *when)
{
	time_t t = time(NULL);
	struct tm local;

	*when = (struct ab_when){ 0 };
	if (localtime_r(&t, &local) == NULL)
		return;
	when->known = true;
	when->s = ab_when_from_civil(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday) +
	    local.tm_hour * 3600.0 + local.tm_min * 60.0;
}

/* "18:30" is today's. */
static enum ab_status moment(struct cli *cli, struct ab_when *when)
{
	char why[300], text[40];
	const char *at = cli->o.at;

	now(when);
	if (at == NULL)
		return AB_OK;
	if (strlen(at) == 5 && at[2] == ':') {
		int y, m, d;
		ab_when_to_civil(when->s, &y, &m, &d);
		snprintf(text, sizeof text, "%04d-%02d-%02dT%s", y, m, d, at);
		at = text;
	}
	if (!ab_when_read(at, when, why, sizeof why))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--at %.40s: %s", cli->o.at, why);
	return AB_OK;
}

/* ---- the words ---- */

/* All after the name of the batch, which is `used` words long; NULL when there is nothing. */
static enum ab_status joined(struct cli *cli, size_t used, const char **out)
{
	const char *text = cli->n_args > used ? cli->args[used] : NULL;

	for (size_t i = used + 1; i < cli->n_args && text != NULL; i++)
		text = ab_arena_printf(cli->arena, "%s %s", text, cli->args[i]);
	*out = text;
	if (cli->n_args > used && text == NULL)
		return cli_nomem(cli);
	return AB_OK;
}

/* The journal itself refuses what cannot be: a second pitching, a reading before the brew day. */
static enum ab_status add(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry)
{
	enum ab_status st = ab_journal_append(batch->source, batch->id, entry->element, &cli->diag);
	const char *text = st != AB_OK ? NULL : ab_arena_printf(cli->arena, "%s: %s\n", batch->id, entry->echo);

	if (st == AB_OK)
		st = text != NULL ? out_text(cli, text) : cli_nomem(cli);
	/* Sugar, gravity, warmth or a gushing bottle: any line may tell of bottles that burst, and now is when it helps. */
	return st == AB_OK ? work_alarm(cli, batch->source, batch->id,
	    strncmp(entry->element, "<yeast", strlen("<yeast")) == 0) : st;
}

/* only: the element it must be; NULL: whatever is last. */
static enum ab_status take_back(struct cli *cli, const struct ab_batch *batch, const char *words, const char *only)
{
	char *removed;
	enum ab_status st = words != NULL ? ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--undo takes back the last entry; it goes "
	    "without words") : ab_journal_take_back(batch->source, batch->id, only, &removed, &cli->diag);
	if (words != NULL)
		return st;
	const char *text =
	    st != AB_OK ? NULL : ab_arena_printf(cli->arena, "%s: taken back: %s\n", batch->id, removed);

	ab_journal_free(removed);
	if (st == AB_OK)
		st = text != NULL ? out_text(cli, text) : cli_nomem(cli);
	return st;
}

static enum ab_status say_examples(struct cli *cli)
{
	enum ab_status st = out_text(cli, "What can be logged, by example:\n");

	for (size_t i = 0; st == AB_OK && ab_entry_example(i) != NULL; i++) {
		const char *line = ab_arena_printf(cli->arena, "  %s\n", ab_entry_example(i));
		st = line != NULL ? out_text(cli, line) : cli_nomem(cli);
	}
	return st;
}

static enum ab_status begin(struct cli *cli, const struct ab_batch **batch, const char **words,
    struct ab_when *when)
{
	size_t used = 1;
	enum ab_status st = cli->n_args == 0 ? ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "which batch? Name it, or write \"last\" for the newest") : rules_load(cli);

	if (st == AB_OK)
		st = which_folder(cli, true);
	if (st == AB_OK)
		st = which_words(cli, MOST_WORDS, &used);
	if (st == AB_OK)
		st = which_batch(cli, cli->args[used - 1], batch);
	if (st == AB_OK)
		st = joined(cli, used, words);
	if (st == AB_OK)
		st = moment(cli, when);
	return st;
}

enum ab_status cmd_log(struct cli *cli)
{
	const struct ab_batch *batch;
	const char *words;
	struct ab_when when;
	struct ab_entry *entry;

	if (cli->n_args == 0 && !cli->o.undo)
		return say_examples(cli);
	enum ab_status st = begin(cli, &batch, &words, &when);
	if (st == AB_OK && cli->o.undo)
		return take_back(cli, batch, words, NULL);
	if (st == AB_OK && words == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "what happened? Write it like \"afterboil log %.40s wort 19.5 C\"", cli->args[0]);
	if (st == AB_OK)
		st = ab_entry_read(words, &when, cli->arena, &entry, &cli->diag);
	return st == AB_OK ? add(cli, batch, entry) : st;
}

enum ab_status cmd_taste(struct cli *cli)
{
	const struct ab_batch *batch;
	const char *words;
	struct ab_when when;
	struct ab_entry *entry;
	struct ab_tasting_more more = { cli->o.complete, cli->o.by, cli->o.score, cli->o.note, cli->o.mark,
		cli->o.next_time };
	enum ab_status st = begin(cli, &batch, &words, &when);

	if (st == AB_OK && cli->o.undo)
		return take_back(cli, batch, words, "tasting");
	if (st == AB_OK && words == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "what did it taste of? Write it like \"afterboil taste %.40s buttery 3, no sour\"",
		    cli->args[0]);
	if (st == AB_OK)
		st = ab_tasting_read(cli->k, words, &more, &when, cli->arena, &entry, &cli->diag);
	return st == AB_OK ? add(cli, batch, entry) : st;
}
