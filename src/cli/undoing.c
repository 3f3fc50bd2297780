/* undoing.c - what was written into a journal, kept and taken back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <string.h>
#include <sys/stat.h>

#include "base/str.h"

void undo_watch(const char *path, struct undoing *u)
{
	ab_diag_init(&u->why);
	(void)ab_undo_begin(path, &u->undo, &u->why);
}

void undo_keep(struct undoing *u, enum ab_status st, const struct ab_undo_entry *what)
{
	struct ab_when now;
	char at[32];
	struct ab_undo_entry entry = *what;

	aside_now(&now);
	entry.at = ab_when_write(&now, at, sizeof at);
	(void)ab_undo_end(u->undo, &entry, &u->why);
	/* Said once in a sitting. */
	if (st == AB_OK && u->why.status != AB_OK && !what->goes_on)
		err_note("this cannot be taken back with --undo: %.400s", u->why.text);
}

/* "hops": the last line of that part of the recipe, whoever wrote it; it can be put back as any other entry. */
static enum ab_status take_part(struct cli *cli, const struct ab_batch *batch, const char *words, const char *part)
{
	char *removed;
	struct undoing undo;
	undo_watch(batch->source, &undo);
	enum ab_status st = ab_entry_take_back(batch->source, batch->id, part, &removed, &cli->diag);
	const char *text = st != AB_OK ? NULL : ab_arena_printf(cli->arena, "%s: taken back: %s\n", batch->id, removed);
	const char *said = ab_arena_printf(cli->arena, "--undo %s", words);

	ab_journal_free(removed);
	undo_keep(&undo, st,
	    &(struct ab_undo_entry){ .kind = "log", .batch = batch->id, .words = said != NULL ? said : "--undo" });
	return st != AB_OK ? st : text != NULL ? out_text(cli, text) : cli_nomem(cli);
}

/* A whole sitting, or a whole journal: at a terminal it is asked first. */
static enum ab_status settle_much(struct cli *cli, const struct ab_batch *batch)
{
	struct ab_undo_entry last;
	struct ab_diag ignored;
	bool yes = true;

	ab_diag_init(&ignored);
	if (!talk_is_terminal() || ab_undo_last(batch->source, cli->arena, &last, &ignored) != AB_OK)
		return AB_OK;
	if (last.begun || strcmp(last.kind, "enter") == 0 || strcmp(last.kind, "interview") == 0) {
		const char *asks = ab_arena_printf(cli->arena,
		    "The last entry is \"%.100s\" of %s, and all of it goes%s. Take it back? yes or no", last.words,
		    last.at, last.begun ? ", with the journal that was begun then" : "");
		enum ab_status st = aside_yes(cli, asks, &yes);
		if (st != AB_OK)
			return st;
	}
	return yes ? AB_OK : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was taken back");
}

enum ab_status undo_entry(struct cli *cli, const struct ab_batch *batch, const char *words, bool tasting)
{
	struct ab_undo_entry gone;
	const char *part = words != NULL && !tasting ? ab_entry_recipe_part(words, cli->arena) : NULL;

	if (part != NULL)
		return take_part(cli, batch, words, part);
	if (words != NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    tasting
			? "--undo takes back the last tasting; it goes without words"
			: "--undo takes back the last entry; it goes without words, or with one part of the "
			    "recipe: malt, sugar, extract, hops "
			  "or extra");
	enum ab_status st = tasting ? AB_OK : settle_much(cli, batch);
	if (st == AB_OK)
		st = ab_undo_take(batch->source, batch->id, tasting ? "taste" : NULL, cli->arena, &gone, &cli->diag);
	if (st != AB_OK)
		return st;
	bool back = strncmp(gone.words, "--undo", 6) == 0;
	const char *text = ab_arena_printf(cli->arena,
	    back ? "%s: put back: what \"%s\" took out (written %s)\n" : "%s: taken back: %s (written %s)\n",
	    batch->id, gone.words, gone.at);
	st = text != NULL ? out_text(cli, text) : cli_nomem(cli);
	if (gone.begun)
		return st != AB_OK
		    ? st
		    : out_text(cli,
			  ab_arena_printf(cli->arena, "%s: the journal was begun with that, and is gone: %s\n",
			      batch->id, batch->source));
	/* "all drunk" may be what went. */
	return st == AB_OK ? work_alarm(cli, batch->source, batch->id, false, false) : st;
}

/* A path in the folder the journals were read from. */
static const char *beside(struct cli *cli)
{
	struct stat is;
	const char *in = cli->o.in;

	if (in == NULL)
		return "";
	return stat(in, &is) == 0 && S_ISDIR(is.st_mode) ? ab_arena_printf(cli->arena, "%s/", in) : in;
}

enum ab_status undo_which(struct cli *cli, const struct ab_batch **batch)
{
	struct ab_undo_entry newest;
	const char *in = beside(cli);
	enum ab_status st = in != NULL ? ab_undo_newest(in, cli->arena, &newest, &cli->diag) : cli_nomem(cli);

	for (size_t i = 0; st == AB_OK && i < cli->n_batches; i++) {
		const char *source = cli->batches[i]->source, *slash = strrchr(source, '/');
		if (strcmp(cli->batches[i]->id, newest.batch) != 0 ||
		    strcmp(slash != NULL ? slash + 1 : source, newest.file) != 0)
			continue;
		*batch = cli->batches[i];
		return AB_OK;
	}
	return st != AB_OK ? st
			   : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
				 "the last entry was of the batch \"%.64s\" in %.100s, which is not here any more; "
				 "name the batch",
				 newest.batch, newest.file);
}
