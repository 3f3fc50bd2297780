/* logwrite.c - what a line told goes into the journal, is said back, and can be taken back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/logwords.h"

#include <string.h>

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
			if (strcmp(entry->said[i].target, "!reading wort") == 0 ||
			    strcmp(entry->said[i].target, "!pitch temp") == 0)
				return true;
	return false;
}

/* Does it tell of the bottling, or of pressure over the fermenter? Then is when to be told that they come near
 * their limit in beer that none knows to be done: once, and not at every line after. */
static bool tells_bottling(const struct ab_entry *entry)
{
	for (; entry != NULL; entry = entry->next)
		if (entry->name != NULL && (strcmp(entry->name, "package") == 0 || strcmp(entry->name, "spund") == 0))
			return true;
	return false;
}

/* A journal is begun days ahead as often as not. Of a boil no hour is kept: told on the next day without its own it
 * may be of the day before, and that is asked where it can be. day: known when the brew day moves. */
static enum ab_status settle_day(
    struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, struct ab_when *day)
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
		st = aside_yes(cli,
		    ab_arena_printf(cli->arena,
			"The journal was begun for another day. Was it brewed on %s? yes, or no when it was brewed on "
			"the day the journal has",
			ab_when_write(day, text, sizeof text)),
		    &yes);
	day->known = day->known && yes;
	return st;
}

static enum ab_status move_brew(struct cli *cli, const struct ab_batch *batch, const struct ab_when *day)
{
	char text[32];

	if (!day->known)
		return AB_OK;
	enum ab_status st = ab_entry_move_brew(batch->source, batch->id, day, &cli->diag);
	const char *line = ab_arena_printf(cli->arena, "%s: brewed moved to %s, the day this was done\n", batch->id,
	    ab_when_write(day, text, sizeof text));
	return st != AB_OK ? st : line != NULL ? out_text(cli, line) : cli_nomem(cli);
}

/* One after the other; what was written before one that is refused stays, and that is said. */
static enum ab_status add_all(
    struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, const struct ab_when *brewed)
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
	/* Sugar, gravity, warmth or a gushing bottle: any line may tell of bottles that burst, and now is when it
	 * helps. */
	if (st == AB_OK)
		st = move_brew(cli, batch, brewed);
	if (st == AB_OK)
		st = work_alarm(cli, batch->source, batch->id, yeast, filled);
	return st == AB_OK && warm ? work_cool(cli, batch->source, batch->id) : st;
}

enum ab_status log_write(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry,
    const char *kind, const char *words)
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
