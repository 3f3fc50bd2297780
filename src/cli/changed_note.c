/* changed_note.c - one change more is noted in the profile, once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/changed.h"

#include <string.h>

#include "base/str.h"
#include "cli/logwords.h"
#include "journal/edit.h"

enum { MOST_NEAR = 4, LONGEST = 400 };

const char *changed_told(struct cli *cli, const struct ab_changed *c)
{
	char date[24];
	char *line = ab_arena_printf(cli->arena, "%s  %s%s%s", ab_when_write(&c->on, date, sizeof date),
	    ab_changed_title(cli->k, c), c->line != NULL ? ", line " : "", c->line != NULL ? c->line : "");

	if (line != NULL)
		ab_text_scrub(line);
	return line;
}

const char *changed_key(struct cli *cli, const struct ab_changed *c)
{
	char date[24];
	const char *text = c->text != NULL ? c->text : "";
	char *key = ab_arena_printf(cli->arena, "%s %s \"%s\" ", c->what != NULL ? c->what : "-",
	    ab_when_write(&c->on, date, sizeof date), c->line != NULL ? c->line : "");
	const char *said = "";

	while (key != NULL && said != NULL && *(text += strspn(text, " \t\r\n")) != '\0') {
		size_t n = strcspn(text, " \t\r\n");
		said = ab_arena_printf(cli->arena, "%s%s%.*s", said, *said != '\0' ? " " : "", (int)n, text);
		text += n;
	}
	key = key != NULL && said != NULL ? ab_arena_printf(cli->arena, "%s%s", key, said) : NULL;
	if (key != NULL)
		ab_text_scrub(key);
	return key;
}

enum ab_status changed_day(struct cli *cli, struct ab_when *on)
{
	char today[24], why[512];
	const char *text = cli->o.on;

	if (text == NULL) {
		talk_today(today, sizeof today);
		text = today;
	}
	if (!ab_when_read(text, on, why, sizeof why))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--on %.40s: %s", text, why);
	if (on->relative || !on->date_only)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--on %.40s: a day, as in 2031-03-07", text);
	return AB_OK;
}

/* Several fit: better asked than guessed, for a wrong id would change what is advised next. One nearly fits:
 * most likely a slip. */
static enum ab_status unsure(struct cli *cli, const char *words, const char *const *near, size_t n)
{
	const char *list = near[0];

	for (size_t i = 1; i < n && list != NULL; i++)
		list = ab_arena_printf(cli->arena, "%s, %s", list, near[i]);
	if (list == NULL)
		return cli_nomem(cli);
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%.80s\": %s %s%s; write one of these, or add --own to "
	    "keep your own words", words, n > 1 ? "several changes fit:" : "do you mean", list,
	    n > 1 ? "" : "?");
}

/* place: in the rules, -1 for a change of the brewer's own. */
static enum ab_status meaning(struct cli *cli, const char *words, int *place)
{
	const char *near[MOST_NEAR] = { NULL };
	size_t n = 0;

	*place = ab_change_word(cli->k, words, near, MOST_NEAR, &n);
	if (cli->o.own)
		*place = -1;
	return *place < 0 && n > 0 && !cli->o.own ? unsure(cli, words, near, n) : AB_OK;
}

enum ab_status changed_write(struct cli *cli, const struct ab_changed *c)
{
	struct ab_str s;
	char date[24];

	ab_str_init(&s, 0);
	ab_str_add(&s, "<changed ");
	if (c->what != NULL)
		ab_str_addf(&s, "what=\"%s\" ", c->what);
	ab_str_addf(&s, "on=\"%s\"", ab_when_write(&c->on, date, sizeof date));
	if (c->line != NULL) {
		ab_str_add(&s, " line=\"");
		ab_edit_escape(&s, c->line);
		ab_str_add(&s, "\"");
	}
	ab_str_add(&s, ">");
	ab_edit_escape(&s, c->text);
	ab_str_add(&s, "</changed>");
	const char *key = changed_key(cli, c);
	struct undoing keep;
	undo_watch(cli->o.profile, &keep);
	enum ab_status st = ab_str_ok(&s) && key != NULL
	    ? ab_profile_append(cli->o.profile, ab_str_text(&s), &cli->diag)
	    : cli_nomem(cli);
	undo_keep(&keep, st,
	    &(struct ab_undo_entry){ .kind = AB_UNDO_CHANGED, .batch = "", .words = key != NULL ? key : "" });
	ab_str_clear(&s);
	return st;
}

/* The line as the journals here write it; one they do not know is kept as it was typed, for it may be brewed yet. */
static enum ab_status find_line(struct cli *cli)
{
	const char *typed = cli->o.line;
	bool none = true;

	if (typed == NULL)
		return AB_OK;
	cli->o.line = NULL;
	enum ab_status st = which_folder(cli, false);
	cli->o.line = typed;
	if (st == AB_OK)
		st = which_line(cli, &cli->o.line, &none);
	if (st == AB_OK || st == AB_ENOMEM || !none)
		return st;
	ab_diag_init(&cli->diag);
	err_note("no beer in this folder is called \"%.60s\" yet: noted for one of that name", typed);
	return AB_OK;
}

/* The same change on the same day is one, and so is one told again without a day of its own; noted in a journal it
 * is in force from that batch on. *known: then it was said, and nothing is written. A journal that cannot be read
 * is no reason to refuse a note. */
static enum ab_status known_already(struct cli *cli, const struct ab_changed *c, bool *known)
{
	const struct ab_changed *was =
	    noted_in_profile(cli, c->what, c->text, c->line, cli->o.on != NULL ? &c->on : NULL);
	const struct ab_batch *batch = NULL;
	const char *typed = cli->o.line;

	if (was == NULL) {
		cli->o.line = NULL;
		enum ab_status st = which_folder(cli, false);
		cli->o.line = typed;
		if (st == AB_ENOMEM)
			return st;
		ab_diag_init(&cli->diag);
		batch = st == AB_OK ? noted_in_journals(cli, c->what, c->text, &c->on, c->line) : NULL;
	}
	*known = was != NULL || batch != NULL;
	if (!*known)
		return AB_OK;
	struct ab_changed since = was != NULL ? *was : *c;
	since.on = was != NULL ? was->on : batch->brewed;
	const char *line = changed_told(cli, &since);
	const char *where = was != NULL ? cli->o.profile : ab_arena_printf(cli->arena, "the journal of %s", batch->id);
	line = line == NULL || where == NULL
	    ? NULL
	    : ab_arena_printf(cli->arena, "Already noted in %s: %s; it counts once%s\n", where, line,
		  was == NULL || cli->o.on != NULL ? "" : " (begun anew: name its day with --on)");
	return line == NULL ? cli_nomem(cli) : out_text(cli, line);
}

enum ab_status changed_note(struct cli *cli, const char *words)
{
	struct ab_changed c = { .text = words };
	int place = -1;
	const char *line;
	bool known = false;
	enum ab_status st = strlen(words) <= LONGEST ? changed_day(cli, &c.on)
	    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "say it in at most %d letters", LONGEST);

	if (st == AB_OK)
		st = meaning(cli, words, &place);
	if (st == AB_OK)
		st = aside_future(cli, &c.on);
	if (st == AB_OK)
		st = find_line(cli);
	c.line = cli->o.line;
	if (place >= 0)
		c.what = cli->k->changes[place].id;
	if (st == AB_OK)
		st = known_already(cli, &c, &known);
	if (st != AB_OK || known)
		return st;
	st = changed_write(cli, &c);
	if (st != AB_OK)
		return st;
	line = changed_told(cli, &c);
	line = line == NULL ? NULL : ab_arena_printf(cli->arena, "Noted in %s: %s%s\n", cli->o.profile, line,
	    place >= 0 ? "" : " (your own words: the rules know no such change)");
	st = line == NULL ? cli_nomem(cli) : out_text(cli, line);
	if (st == AB_OK)
		aside_future_said(&c.on, "the change");
	return st;
}
