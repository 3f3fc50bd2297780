/* cmd_log.c - afterboil log and afterboil taste: one line of plain words into a journal
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/entry.h>
#include <afterboil/taste_entry.h>
#include "cli/logwords.h"

/* MOST_WORDS: of a beer's name typed without quotes. */
enum { MOST_WORDS = 6 };

/* ---- when ---- */

/* "18:30" is today's. */
static enum ab_status moment(struct cli *cli, const struct ab_batch *batch, struct ab_when *when)
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
	if (!ab_when_read(at, when, why, sizeof why) && !ab_entry_when(at, &now, batch->pitch != NULL ? &batch->pitch->at : NULL, cli->arena, when))
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

static bool is_yeast(const struct ab_entry *entry)
{
	return strcmp(entry->name, "yeast") == 0;
}

/* The journal itself refuses what cannot be: a reading before the brew day, a pitching that was told otherwise. */
static enum ab_status add(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry)
{
	const char *echo;
	enum ab_status st = ab_entry_merge(batch->source, batch->id, entry, cli->arena, &echo, &cli->diag);
	const char *text = st != AB_OK ? NULL : ab_arena_printf(cli->arena, "%s: %s\n", batch->id, echo);

	return st != AB_OK ? st : text != NULL ? out_text(cli, text) : cli_nomem(cli);
}

/* Does the line tell how warm the beer is? */
static bool tells_warmth(const struct ab_entry *entry)
{
	for (; entry != NULL; entry = entry->next)
		for (size_t i = 0; i < entry->n_said; i++)
			if (strcmp(entry->said[i].target, "!reading wort") == 0 || strcmp(entry->said[i].target, "!pitch temp") == 0)
				return true;
	return false;
}

/* Does it tell of the bottling, or of pressure over the fermenter? Then is when to be told that they come near their limit in beer that none knows to be done: once, and not at every line after. */
static bool tells_bottling(const struct ab_entry *entry)
{
	for (; entry != NULL; entry = entry->next)
		if (entry->name != NULL && (strcmp(entry->name, "package") == 0 || strcmp(entry->name, "spund") == 0))
			return true;
	return false;
}

/* A journal is begun days ahead as often as not. Of a boil no hour is kept: told on the next day without its own it may be of
 * the day before, and that is asked where it can be. day: known when the brew day moves. */
static enum ab_status settle_day(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, struct ab_when *day)
{
	struct ab_when found;
	char text[32];
	bool timed = cli->o.at != NULL, yes = true;
	enum ab_status st = AB_OK;

	*day = (struct ab_when){ .known = false };
	for (; entry != NULL; entry = entry->next)
		if (ab_entry_moves_brew(batch, entry, &found)) {
			*day = found;
			timed = timed || strcmp(entry->name, "pitch") == 0 || strcmp(entry->name, "reading") == 0;
		}
	if (day->known && !timed && talk_is_terminal())
		st = aside_yes(cli, ab_arena_printf(cli->arena, "The journal was begun for another day. Was it brewed on %s? yes, or no when it was brewed on "
		    "the day the journal has", ab_when_write(day, text, sizeof text)), &yes);
	day->known = day->known && yes;
	return st;
}

static enum ab_status move_brew(struct cli *cli, const struct ab_batch *batch, const struct ab_when *day)
{
	char text[32];

	if (!day->known)
		return AB_OK;
	enum ab_status st = ab_entry_move_brew(batch->source, batch->id, day, &cli->diag);
	const char *line = ab_arena_printf(cli->arena, "%s: brewed moved to %s, the day this was done\n", batch->id, ab_when_write(day, text, sizeof text));
	return st != AB_OK ? st : line != NULL ? out_text(cli, line) : cli_nomem(cli);
}

/* One after the other; what was written before one that is refused stays, and that is said. */
static enum ab_status add_all(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, const struct ab_when *brewed)
{
	bool yeast = false, warm = tells_warmth(entry), filled = tells_bottling(entry);
	size_t written = 0;
	enum ab_status st = AB_OK;

	for (; st == AB_OK && entry != NULL; entry = entry->next) {
		yeast = yeast || is_yeast(entry) || (entry->also != NULL && is_yeast(entry->also));
		st = add(cli, batch, entry);
		written += st == AB_OK;
		if (st != AB_OK && written > 0)
			err_note("what was said before %s is written, and this and what follows is not", entry->title);
	}
	/* Sugar, gravity, warmth or a gushing bottle: any line may tell of bottles that burst, and now is when it helps. */
	if (st == AB_OK)
		st = move_brew(cli, batch, brewed);
	if (st == AB_OK)
		st = work_alarm(cli, batch->source, batch->id, yeast, filled);
	return st == AB_OK && warm ? work_cool(cli, batch->source, batch->id) : st;
}

/* Kept, so that it can be taken back, even where only its beginning was taken. */
static enum ab_status write(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, const char *kind, const char *words)
{
	struct undoing undo;
	struct ab_when brewed;
	enum ab_status st = settle_day(cli, batch, entry, &brewed);

	if (st != AB_OK)
		return st;
	undo_watch(batch->source, &undo);
	st = add_all(cli, batch, entry, &brewed);
	undo_keep(&undo, st, &(struct ab_undo_entry){ .kind = kind, .batch = batch->id, .words = words });
	return st;
}

/* What a journal or the profile tells of the beer and its bottles. */
static void known_sizes(const struct cli *cli, const struct ab_batch *batch, struct ab_entry_help *help)
{
	const struct ab_package *told = batch->package;
	const struct ab_package *usual = cli->profile != NULL && cli->profile->usual != NULL ? cli->profile->usual->package : NULL;
	struct ab_when newest = { .known = false };
	double og = batch->recipe != NULL && batch->recipe->og_sg.known ? batch->recipe->og_sg.v : 0;

	help->volume_l = told != NULL && told->volume_l.known ? told->volume_l.v : 0;
	help->size_l = told != NULL && told->size_l.known ? told->size_l.v : usual != NULL && usual->size_l.known ? usual->size_l.v : 0;
	for (AB_EACH(struct ab_reading, r, batch->readings))
		if (r->gravity_sg.known) {
			og = fmax(og, r->gravity_sg.v);
			bool newer = r->at.known && !r->at.relative && (!newest.known || r->at.s >= newest.s);
			help->last_sg = newer ? r->gravity_sg.v : help->last_sg;
			newest = newer ? r->at : newest;
		}
	help->og_sg = og;
}

/* What can hardly be is asked at a terminal; elsewhere what cannot be is refused, and the rest is noted. */
static enum ab_status doubt_it(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry)
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
			enum ab_status st = aside_yes(cli, ab_arena_printf(cli->arena, "%s Write it down all the same? yes or no", why), &yes);
			if (st != AB_OK || yes)
				return st;
		}
		if (talk_is_terminal() || grave)
			return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was written: %s", why);
		err_note("%s", why);
	}
	return AB_OK;
}

/* What may be meant in two ways is asked at a terminal. */
static enum ab_status understand(struct cli *cli, const struct ab_batch *batch, const char *words, const struct ab_when *when,
    struct ab_entry **entry)
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

/* "afterboil log wort 19 C": no batch is named, and the whole line is what happened. Where there is one batch it is that. */
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
	if (st == AB_OK && ab_entry_read(line, &never, &help, cli->arena, &entry, &ignored) == AB_OK && cli->n_batches == 1) {
		*batch = cli->batches[0];
		*used = 0;
		return AB_OK;
	}
	if (st == AB_OK && ignored.status == AB_OK)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "of which batch? Write it like \"afterboil log last %.200s\", \"last\" being %.60s", line,
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
		st = moment(cli, *batch, when);
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
		    "what happened? Write it like \"afterboil log %.40s wort %s\"", cli->args[0], cli->profile != NULL && cli->profile->units == 2 ? "67 F" : "19.5 C");
	typed = words;
	if (st == AB_OK)
		st = log_which_touch(cli, batch, &words);
	if (st == AB_OK)
		st = understand(cli, batch, words, &when, &entry);
	if (st == AB_OK)
		st = log_which_volume(cli, batch, words, entry);
	if (st == AB_OK)
		st = log_which_change(cli, batch, &entry);
	if (st == AB_OK && entry == NULL)   /* noted already, all of it */
		return AB_OK;
	if (st == AB_OK)
		st = doubt_it(cli, batch, entry);
	if (st == AB_OK)
		st = aside_future(cli, &entry->at);
	if (st == AB_OK)
		st = write(cli, batch, entry, "log", typed);
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
		st = write(cli, batch, entry, "taste", words);
	if (st == AB_OK)
		aside_future_said(&when, "this tasting");
	return st;
}
