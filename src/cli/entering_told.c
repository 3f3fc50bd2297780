/* entering_told.c - what enter asks beside the blanks of the sheet: recipe, notes and tasting
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/entering.h"

#include <stdio.h>

#include <afterboil/entry.h>
#include <afterboil/taste_entry.h>

/* ---- before the sheet: what went into a beer that was never brewed before ---- */

static bool lacks_recipe(const struct entering *e)
{
	const struct ab_recipe *r = e->run.setup.batch->recipe;
	return e->run.setup.like == NULL && (r == NULL || r->malts.n + r->extracts.n + r->sugars.n == 0);
}

/* One line of it: written, or what would be right said. */
static enum ab_status take_recipe(struct entering *e, const char *line)
{
	const struct ab_entry_help help = aside_help(e->cli, NULL);
	const struct ab_when never = { 0 };
	struct ab_entry *entry = NULL;
	struct ab_diag why;
	ab_diag_init(&why);
	enum ab_status st = ab_entry_read(line, &never, &help, e->cli->arena, &entry, &why);
	for (const struct ab_entry *x = entry; st == AB_OK && x != NULL; x = x->next)
		if (x->inside == NULL && x->n_sets == 0)
			return talk_say(e->cli,
			    "  That is no part of a recipe: malt, sugar, extract, hops, extra, recipe, volume "
			    "or family begin a line of it.");
	for (; st == AB_OK && entry != NULL; entry = entry->next) {
		entering_watch(e);
		st = ab_entry_write(e->path, e->id, entry, &why);
		e->written += st == AB_OK;
		entering_keep(e, st);
		if (st == AB_OK)
			st = talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", entry->echo));
	}
	if (st == AB_OK)
		return AB_OK;
	if (st != AB_EUSAGE && st != AB_EINPUT && st != AB_ELIMIT)
		return ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
	return talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
}

enum ab_status entering_recipe(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = AB_OK;
	*heard = HEARD;
	if (!lacks_recipe(e))
		return AB_OK;
	st = talk_say(e->cli,
	    "What went into it? A line each, like \"malt 4.5 kg pale\", \"extract 1.7 kg liquid aged 8 mo\", "
	    "\"hops 30 g at 60 min\", \"recipe 20 L OG 1.048\"; Enter when that is all.");
	while (st == AB_OK) {
		*heard = entering_hear(e, line, &st);
		if (st != AB_OK || *heard == STOPPED || *heard == BROKEN_OFF || (*heard == HEARD && line[0] == '\0'))
			return st;
		if (*heard == HEARD)
			st = take_recipe(e, line);
	}
	return st;
}

/* ---- the end of the sheet: notes and tasting ---- */

enum ab_status entering_note(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = out_text(e->cli, "\n");
	if (st == AB_OK)
		st = talk_say(e->cli, "Any notes? In your own words; Enter for none.");
	if (st != AB_OK)
		return st;
	*heard = entering_hear(e, line, &st);
	if (st != AB_OK || *heard != HEARD || line[0] == '\0')
		return st;
	const char *safe = ab_entry_escaped(e->cli->arena, line);
	const char *note = safe != NULL ? ab_arena_printf(e->cli->arena, "<note>%s</note>", safe) : NULL;
	if (note == NULL)
		return cli_nomem(e->cli);
	entering_watch(e);
	st = ab_journal_append(e->path, e->id, note, &e->cli->diag);
	e->written += st == AB_OK;
	entering_keep(e, st);
	return st;
}

/* After tomorrow, of a beer that is brewed: one that is to be brewed has all its days ahead. */
static bool is_to_come(const struct entering *e, const struct ab_when *at)
{
	struct ab_when today = { 0 };
	char why[200];
	return !at->relative && ab_when_read(e->run.today, &today, why, sizeof why) && e->run.on.s <= today.s &&
	    at->s > today.s + 2 * 86400.0;
}

/* The day of the tasting: today, or the one that is typed; not known when it was broken off. */
static enum ab_status ask_day(struct entering *e, struct ab_when *at, enum heard *heard)
{
	char line[TALK_LONGEST + 1], why[300];
	enum ab_status st = talk_say(e->cli, "Tasted on which day? As 2031-03-07; Enter for today.");
	while (st == AB_OK) {
		*at = (struct ab_when){ 0 };
		*heard = entering_hear(e, line, &st);
		if (*heard == STOPPED || *heard == BROKEN_OFF || st != AB_OK)
			return st;
		const char *day = line[0] == '\0' ? e->run.today : line;
		bool good = *heard == HEARD && ab_when_read(day, at, why, sizeof why);
		if (good && is_to_come(e, at))
			st = talk_say(e->cli,
			    "  That day is still to come. Please answer with the day it was tasted, such as "
			    "2031-03-07.");
		else if (good)
			return AB_OK;
		if (good)
			continue;
		if (*heard == HEARD)
			st = talk_say(e->cli, "  Please answer with a day, such as 2031-03-07.");
	}
	return st;
}

/* With its day, which the journal may refuse; without one where it was broken off: what was tasted is kept. */
static enum ab_status add_tasting(struct entering *e, const char *words, const struct ab_tasting_more *more,
    enum heard *heard)
{
	struct ab_when at = { 0 };
	struct ab_entry *entry;
	struct ab_diag why;
	for (;;) {
		enum ab_status st = *heard == HEARD ? ask_day(e, &at, heard) : AB_OK;
		if (st == AB_OK)
			st = ab_tasting_read(e->cli->k, words, more, &at, e->cli->arena, &entry, &e->cli->diag);
		if (st != AB_OK)
			return st;
		ab_diag_init(&why);
		entering_watch(e);
		st = ab_journal_append(e->path, e->id, entry->element, &why);
		e->written += st == AB_OK;
		entering_keep(e, st);
		if (st != AB_EINPUT || !at.known)
			return st == AB_OK ? AB_OK : ab_fail(&e->cli->diag, st, why.source, why.line, "%s", why.text);
		st = talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
		if (st != AB_OK)
			return st;
	}
}

static enum ab_status write_tasting(struct entering *e, const char *words, enum heard *heard)
{
	char next[TALK_LONGEST + 1] = "";
	struct ab_tasting_more more = { 0 };
	struct ab_when at = { 0 };
	struct ab_entry *entry;
	struct ab_diag why;
	ab_diag_init(&why);
	/* Understood before more is asked. */
	enum ab_status st = ab_tasting_read(e->cli->k, words, &more, &at, e->cli->arena, &entry, &why);
	if (st == AB_EUSAGE) {
		*heard = AGAIN;
		return talk_say(e->cli, ab_arena_printf(e->cli->arena, "  %s", why.text));
	}
	if (st != AB_OK)
		return ab_fail(&e->cli->diag, st, NULL, 0, "%s", why.text);
	st = talk_say(e->cli, "What would you do differently the next time? Enter for nothing.");
	do
		*heard = st == AB_OK ? entering_hear(e, next, &st) : STOPPED;
	while (st == AB_OK && *heard == AGAIN);
	more.next_time = *heard == HEARD && next[0] != '\0' ? next : NULL;
	return st == AB_OK ? add_tasting(e, words, &more, heard) : st;
}

enum ab_status entering_tasting(struct entering *e, enum heard *heard)
{
	char line[TALK_LONGEST + 1];
	enum ab_status st = out_text(e->cli, "\n");
	if (st == AB_OK)
		st = talk_say(e->cli,
		    "What does it taste of? Like \"buttery 3, no sour\"; \"nothing\" when nothing is wrong; "
		    "Enter when it was not tasted yet.");
	*heard = AGAIN;
	while (st == AB_OK && *heard == AGAIN) {
		*heard = entering_hear(e, line, &st);
		if (st == AB_OK && *heard == HEARD && line[0] != '\0')
			st = write_tasting(e, line, heard);
	}
	return st;
}
