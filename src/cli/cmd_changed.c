/* cmd_changed.c - afterboil changed: what is done differently from now on, noted in the profile
 *
 * In the profile and not in the history alone: the history can be made anew from journals and profile at any
 * time, and must then know of it. Not in a journal: the batch it belongs to may not be begun yet.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/advice.h>
#include <afterboil/newbatch.h>
#include <afterboil/when.h>
#include "base/str.h"
#include "cli/logwords.h"
#include "journal/edit.h"

enum { MOST_NEAR = 4, LONGEST = 400, MOST_TRIALS = 1 };

/* --profile, else the one of this folder or of the one above. */
static enum ab_status find(struct cli *cli)
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

static const char *title_of(const struct cli *cli, const struct ab_changed *c)
{
	int place = c->what != NULL ? ab_change_find(cli->k, c->what) : -1;

	return place >= 0 ? cli->k->changes[place].title : c->text != NULL && c->text[0] != '\0' ? c->text : c->what;
}

/* One line a change. Texts come from a file that may be a stranger's: nothing of it may drive a terminal. */
static const char *told(struct cli *cli, const struct ab_changed *c)
{
	char date[24];
	char *line = ab_arena_printf(cli->arena, "%s  %s%s%s", ab_when_write(&c->on, date, sizeof date),
	    title_of(cli, c), c->line != NULL ? ", line " : "", c->line != NULL ? c->line : "");

	if (line != NULL)
		ab_text_scrub(line);
	return line;
}

static enum ab_status list(struct cli *cli)
{
	enum ab_status st = AB_OK;

	for (AB_EACH(const struct ab_changed, c, cli->profile->changed)) {
		const char *line = told(cli, c);

		if (st == AB_OK)
			st = line == NULL ? cli_nomem(cli)
					  : out_text(cli, ab_arena_printf(cli->arena, "%s\n", line));
	}
	if (cli->profile->changed.n == 0)
		return out_text(cli, "No change is noted in the profile.\n");
	return st;
}

/* By which a change is known again: all it says, on one line. NULL when memory is short. */
static const char *key_of(struct cli *cli, const struct ab_changed *c)
{
	char date[24];
	const char *text = c->text != NULL ? c->text : "";
	char *key = ab_arena_printf(cli->arena, "%s %s \"%s\" ", c->what != NULL ? c->what : "-", ab_when_write(&c->on, date, sizeof date), c->line != NULL ? c->line : "");
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

/* What stands last, if "changed" did not write it: asked about at a terminal, and left alone elsewhere. */
static enum ab_status settle_strange(struct cli *cli, const struct ab_changed *last, bool *kept)
{
	const char *key = key_of(cli, last), *line = told(cli, last);
	bool yes = false;

	if (key == NULL || line == NULL)
		return cli_nomem(cli);
	enum ab_status st = ab_undo_kept(cli->o.profile, AB_UNDO_CHANGED, key, false, kept, &cli->diag);
	if (st != AB_OK || *kept)
		return st;
	if (talk_is_terminal()) {
		st = aside_yes(cli, ab_arena_printf(cli->arena, "The last change there, %s, was not kept when it was noted, as when it is written by hand. Take it out all the same? "
		    "yes or no", line), &yes);
		if (st != AB_OK || yes)
			return st;
	}
	return ab_fail(&cli->diag, AB_EUSAGE, cli->o.profile, 0, "nothing was taken back: the last change there, %.200s, was not kept when it was noted, as when it is "
	    "written by hand, and that is not lost; take it out with an editor", line);
}

/* The profile was read without its lock: what is last now must be what was looked at. */
struct looked_at { struct cli *cli; const char *key; };
static enum ab_status is_that(void *ctx, const struct ab_changed *last, struct ab_diag *diag)
{
	const struct looked_at *at = ctx;
	const char *key = key_of(at->cli, last);

	return key == NULL ? ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory") : strcmp(key, at->key) == 0 ? AB_OK
	    : ab_fail(diag, AB_EUSAGE, at->cli->o.profile, 0, "nothing was taken back: another change was noted there meanwhile");
}

static enum ab_status undo(struct cli *cli)
{
	const struct ab_list *all = &cli->profile->changed;
	const struct ab_changed *last = all->n > 0 ? &((const struct ab_changed *)all->items)[all->n - 1] : NULL;
	struct looked_at at = { cli, last != NULL ? key_of(cli, last) : "" };
	struct ab_changed *gone;
	struct ab_diag ignored;
	bool kept = false;
	enum ab_status st = at.key == NULL ? cli_nomem(cli) : last != NULL ? settle_strange(cli, last, &kept) : AB_OK;

	if (st == AB_OK)
		st = ab_profile_undo_changed(cli->o.profile, is_that, &at, cli->arena, &gone, &cli->diag);
	const char *line = st == AB_OK ? told(cli, gone) : NULL;
	if (st == AB_OK && line == NULL)
		return cli_nomem(cli);
	ab_diag_init(&ignored);
	if (st == AB_OK && kept)
		(void)ab_undo_kept(cli->o.profile, AB_UNDO_CHANGED, at.key, true, &kept, &ignored);
	return st == AB_OK ? out_text(cli, ab_arena_printf(cli->arena, "Taken back: %s\n", line)) : st;
}

/* ---- a new one ---- */

static enum ab_status day(struct cli *cli, struct ab_when *on)
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

static enum ab_status write(struct cli *cli, const struct ab_changed *c)
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
	const char *key = key_of(cli, c);
	struct undoing undo;
	undo_watch(cli->o.profile, &undo);
	enum ab_status st = ab_str_ok(&s) && key != NULL ? ab_profile_append(cli->o.profile, ab_str_text(&s), &cli->diag)
					  : cli_nomem(cli);
	undo_keep(&undo, st, &(struct ab_undo_entry){ .kind = AB_UNDO_CHANGED, .batch = "", .words = key != NULL ? key : "" });
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

/* The same change on the same day is one, and so is one told again without a day of its own; noted in a journal it is in
 * force from that batch on. *known: then it was said, and nothing is written. A journal that cannot be read is no reason to
 * refuse a note. */
static enum ab_status known_already(struct cli *cli, const struct ab_changed *c, bool *known)
{
	const struct ab_changed *was = noted_in_profile(cli, c->what, c->text, c->line, cli->o.on != NULL ? &c->on : NULL);
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
	const char *line = told(cli, &since);
	const char *where = was != NULL ? cli->o.profile : ab_arena_printf(cli->arena, "the journal of %s", batch->id);
	line = line == NULL || where == NULL ? NULL : ab_arena_printf(cli->arena, "Already noted in %s: %s; it counts once%s\n", where, line,
	    was == NULL || cli->o.on != NULL ? "" : " (begun anew: name its day with --on)");
	return line == NULL ? cli_nomem(cli) : out_text(cli, line);
}

static enum ab_status note(struct cli *cli, const char *words)
{
	struct ab_changed c = { .text = words };
	int place = -1;
	const char *line;
	bool known = false;
	enum ab_status st = strlen(words) <= LONGEST ? day(cli, &c.on)
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
	st = write(cli, &c);
	if (st != AB_OK)
		return st;
	line = told(cli, &c);
	line = line == NULL ? NULL : ab_arena_printf(cli->arena, "Noted in %s: %s%s\n", cli->o.profile, line,
	    place >= 0 ? "" : " (your own words: the rules know no such change)");
	st = line == NULL ? cli_nomem(cli) : out_text(cli, line);
	if (st == AB_OK)
		aside_future_said(&c.on, "the change");
	return st;
}

/* ---- what was advised ---- */

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
		{ "away", !isnan(o->away) }, { "horizon", !isnan(o->horizon) }, { "changes", !isnan(o->changes) }, { "brews", !isnan(o->brews) },
		{ "store", o->store != NULL }, { "no-store", o->no_store } };

	for (size_t i = 0; !o->plan && i < sizeof rest / sizeof *rest; i++)
		if (rest[i].given)
			return no_sense(cli, rest[i].name);
	if (o->plan && (n_words > 0 || o->undo || o->own))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--plan takes the change from the plan; it goes without %s",
		    n_words > 0 ? "words (journals elsewhere: --in FOLDER)" : o->undo ? "--undo" : "--own");
	return AB_OK;
}

static enum ab_status pick(struct cli *cli, const struct ab_advice *a, const struct ab_item **out)
{
	double step = cli->o.step;
	int place = isnan(step) ? a->next : step <= (double)a->n_plan ? a->plan[(size_t)step - 1] : -1;

	if (place < 0 && (isnan(step) || a->n_plan == 0))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "the plan holds no change to begin; \"afterboil advise\" tells why");
	if (place < 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--step %.0f: the plan has %zu; \"afterboil advise\" lists them", step, a->n_plan);
	*out = &a->items[place];
	return AB_OK;
}

/* The next step is to brew the same again: then nothing is begun unless it is asked for by its number. */
static enum ab_status not_just_so(struct cli *cli, const struct ab_advice *a)
{
	for (size_t i = 0; isnan(cli->o.step) && i < a->n_steps; i++) {
		const struct ab_next_step *s = &a->steps[i];
		if (s->kind != AB_NEXT_SAME || !(s->well || s->item >= 0))
			continue;
		const char *beer = s->batch == NULL ? "it" : s->batch->line != NULL ? s->batch->line : s->batch->id;
		return s->well ? ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was begun: your newest beer was without a flaw, so the next "
		    "step is to brew %.60s again just so; a change you want all the same is begun with --step N (\"afterboil advise\" "
		    "lists them)", beer)
		    : ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "nothing was begun: no beer of yours was tasted yet, so nobody can tell what to "
		    "change; a change you want all the same is begun with --step N (\"afterboil advise\" lists them)");
	}
	return AB_OK;
}

/* Advice goes on naming a step until a batch was brewed with it: no reason to note it twice. */
static enum ab_status not_noted(struct cli *cli, const char *id)
{
	char date[24];

	for (AB_EACH(const struct ab_changed, c, cli->profile->changed))
		if (c->what != NULL && strcmp(c->what, id) == 0 &&
		    (c->line == NULL || (cli->o.line != NULL && strcmp(c->line, cli->o.line) == 0)))
			return ab_fail(&cli->diag, AB_EUSAGE, cli->o.profile, 0,
			    "%s is noted already, since %s; brew with it and taste, or name another with --step N", id,
			    ab_when_write(&c->on, date, sizeof date));
	return AB_OK;
}

void changed_warn_trial(struct cli *cli, const struct ab_when *on)
{
	const struct ab_changed *trial[MOST_TRIALS] = { NULL };
	const char *line;

	if (cli->profile == NULL)
		return;
	if (ab_line_on_trial(cli->profile, cli->batches, cli->n_batches, cli->o.line, on, trial, MOST_TRIALS) == 0)
		return;
	line = told(cli, trial[0]);
	err_note("on trial already, and no batch with it tasted yet: %s; one change at a time teaches most",
	    line != NULL ? line : "another change");
}

static enum ab_status say_begun(struct cli *cli, const struct ab_advice *a, const struct ab_item *item,
    const struct ab_changed *c)
{
	const struct ab_change *change = &cli->k->changes[item->change];
	const char *line = told(cli, c), *text = line == NULL ? NULL : ab_arena_printf(cli->arena,
	    "Begun, and noted in %s: %s\n%s%s%sPromised (an estimate): by itself it brings the flaw load of a batch from %.2f to %.2f, the "
	    "whole plan to %.2f.\nTo take it back: afterboil changed --undo\n", cli->o.profile, line,
	    change->caution != NULL ? "Take care: " : "", change->caution != NULL ? change->caution : "",
	    change->caution != NULL ? "\n" : "", a->load_before, a->load_before - item->gain, a->load_after);

	return text == NULL ? cli_nomem(cli) : out_text(cli, text);
}

/* The promise is filed first: filed twice it does no harm, and a note without it would be held against nothing. */
static enum ab_status begin(struct cli *cli)
{
	struct ab_changed c = { .line = cli->o.line, .text = "" };
	struct ab_case **cases;
	struct ab_advice *advice = NULL;
	const struct ab_item *item = NULL;
	enum ab_status st = day(cli, &c.on);

	if (st == AB_OK)
		st = which_folder(cli, true);
	if (st == AB_OK && cli->profile == NULL)
		st = find(cli);
	if (st == AB_OK)
		st = advise_work(cli, &cases, &advice);
	if (st == AB_OK)
		st = not_just_so(cli, advice);
	if (st == AB_OK)
		st = pick(cli, advice, &item);
	if (st != AB_OK)
		return st;
	c.what = cli->k->changes[item->change].id;
	st = not_noted(cli, c.what);
	if (st == AB_OK)
		st = advise_file(cli, cases, advice);
	if (st == AB_OK)
		st = write(cli, &c);
	if (st != AB_OK)
		return st;
	work_warn_of(cli, cases, cli->n_batches);
	changed_warn_trial(cli, &c.on);
	return say_begun(cli, advice, item, &c);
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
		return begin(cli);
	if (st == AB_OK)
		st = find(cli);
	if (st != AB_OK)
		return st;
	return cli->o.undo ? undo(cli) : n > 0 ? note(cli, words) : list(cli);
}
