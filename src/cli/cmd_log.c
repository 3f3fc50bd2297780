/* cmd_log.c - afterboil log and afterboil taste: one line of plain words into a journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <string.h>

#include <afterboil/taste_entry.h>

/* MOST_WORDS: of a beer's name typed without quotes. */
enum { MOST_WORDS = 6 };

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

static enum ab_status say_examples(struct cli *cli)
{
	static char here[] = ".";
	char *places[] = { cli->o.in != NULL ? ab_arena_strdup(cli->arena, cli->o.in) : here };
	const char *shown = "\n", *example;

	if (places[0] == NULL)
		return cli_nomem(cli);
	/* Whose units: a profile that cannot be read is no reason to show none. */
	cli->args = places;
	cli->n_args = 1;
	if (inputs_profile(cli) == AB_ENOMEM)
		return AB_ENOMEM;
	ab_diag_init(&cli->diag);
	int units = cli->profile != NULL ? cli->profile->units : 0;
	enum ab_status st = out_text(cli, "What can be logged, by example:\n");
	for (size_t i = 0; st == AB_OK && (example = ab_entry_example(i, units, cli->arena)) != NULL; i++) {
		const char *line = ab_arena_printf(cli->arena, "\n  %s\n", example);
		/* Two ways to say a thing may have one example. */
		if (line != NULL && strstr(shown, line) != NULL)
			continue;
		shown = line != NULL ? ab_arena_printf(cli->arena, "%s%s", shown, line + 1) : NULL;
		st = shown != NULL ? out_text(cli, line + 1) : cli_nomem(cli);
	}
	return st;
}

/* "afterboil log wort 19 C": no batch is named, and the whole line is what happened. Where there is one batch it is
 * that. */
static enum ab_status without_name(struct cli *cli, const struct ab_batch **batch, size_t *used)
{
	const struct ab_entry_help help = aside_help(cli, NULL);
	const struct ab_when never = { 0 };
	struct ab_diag why = cli->diag, ignored;
	struct ab_entry *entry;
	const char *line;

	ab_diag_init(&cli->diag);
	ab_diag_init(&ignored);
	enum ab_status st = joined(cli, 0, &line);
	if (st == AB_OK && ab_entry_read(line, &never, &help, cli->arena, &entry, &ignored) == AB_OK &&
	    cli->n_batches == 1) {
		*batch = cli->batches[0];
		*used = 0;
		return AB_OK;
	}
	if (st == AB_OK && ignored.status == AB_OK)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "of which batch? Write it like \"afterboil log last %.200s\", \"last\" being %.60s", line,
		    cli->batches[cli->n_batches - 1]->id);
	cli->diag = why;
	return st != AB_OK ? st : why.status;
}

static enum ab_status begin(struct cli *cli, bool log, const struct ab_batch **batch, const char **words,
    struct ab_when *when)
{
	size_t used = 1;
	bool newest = cli->n_args == 0 && cli->o.undo;
	enum ab_status st = cli->n_args == 0 && !newest ? ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "which batch? Name it, or write \"last\" for the newest") : rules_load(cli);

	if (st == AB_OK)
		st = which_folder(cli, true);
	if (st == AB_OK && newest) {
		*words = NULL;
		return undo_which(cli, batch);
	}
	if (st == AB_OK)
		st = which_words(cli, MOST_WORDS, &used);
	if (st == AB_OK)
		st = which_batch(cli, cli->args[used - 1], batch);
	if (st == AB_EUSAGE && log && used == 1 && cli->n_batches > 0 && !cli->o.undo)
		st = without_name(cli, batch, &used);
	if (st == AB_OK)
		st = joined(cli, used, words);
	if (st == AB_OK)
		st = log_moment(cli, *batch, when);
	return st;
}

enum ab_status cmd_log(struct cli *cli)
{
	const struct ab_batch *batch;
	const char *words, *typed;
	struct ab_when when;
	struct ab_entry *entry;

	if (cli->n_args == 0 && !cli->o.undo)
		return say_examples(cli);
	enum ab_status st = begin(cli, true, &batch, &words, &when);
	if (st == AB_OK && cli->o.undo)
		return undo_entry(cli, batch, words, false);
	if (st == AB_OK && words == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "what happened? Write it like \"afterboil log %.40s wort %s\"", cli->args[0],
		    cli->profile != NULL && cli->profile->units == 2 ? "67 F" : "19.5 C");
	typed = words;
	if (st == AB_OK)
		st = log_which_touch(cli, batch, &words);
	if (st == AB_OK)
		st = log_understand(cli, batch, words, &when, &entry);
	if (st == AB_OK)
		st = log_which_volume(cli, batch, words, entry);
	if (st == AB_OK)
		st = log_which_change(cli, batch, &entry);
	if (st == AB_OK && entry == NULL)   /* noted already, all of it */
		return AB_OK;
	if (st == AB_OK)
		st = log_doubt(cli, batch, entry);
	if (st == AB_OK)
		st = aside_future(cli, &entry->at);
	if (st == AB_OK)
		st = log_write(cli, batch, entry, "log", typed);
	if (st == AB_OK)
		aside_future_said(&entry->at, "this");
	return st;
}

enum ab_status cmd_taste(struct cli *cli)
{
	const struct ab_batch *batch;
	const char *words;
	struct ab_when when;
	struct ab_entry *entry;
	struct ab_tasting_more more = { cli->o.complete, cli->o.by, cli->o.score, cli->o.note, cli->o.mark,
		cli->o.next_time };
	enum ab_status st = begin(cli, false, &batch, &words, &when);

	if (st == AB_OK && cli->o.undo)
		return undo_entry(cli, batch, words, true);
	if (st == AB_OK && words == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "what did it taste of? Write it like \"afterboil taste %.40s buttery 3, no sour\"",
		    cli->args[0]);
	if (st == AB_OK)
		st = ab_tasting_read(cli->k, words, &more, &when, cli->arena, &entry, &cli->diag);
	if (st == AB_OK)
		st = aside_future(cli, &when);
	if (st == AB_OK)
		st = log_write(cli, batch, entry, "taste", words);
	if (st == AB_OK)
		aside_future_said(&when, "this tasting");
	return st;
}
