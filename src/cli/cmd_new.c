/* cmd_new.c - afterboil new: the journal of the next batch
 *
 * Asks nothing but the kind of a beer that is new, at a terminal: what it cannot know is left out, and what the
 * last brew of the beer says is taken from there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/making.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/quantity.h>
#include "base/alloc.h"
#include "base/savefile.h"
#include "base/str.h"
#include "cli/logwords.h"

enum { SAID = 400 };

static enum ab_status usage(struct cli *cli, const char *text)
{
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "%s", text);
}

/* ---- when, how much, under which name ---- */

static enum ab_status choose_day(struct making *m)
{
	struct cli *cli = m->cli;
	char today[24], why[512];
	const char *text = cli->o.on;

	if (text == NULL) {
		talk_today(today, sizeof today);
		text = today;
	}
	if (!ab_when_read(text, &m->b.brewed, why, sizeof why))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--on %.40s: %s", text, why);
	if (m->b.brewed.relative || !m->b.brewed.date_only)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--on %.40s: a day, as in 2031-03-07", text);
	return AB_OK;
}

static enum ab_status choose_volume(struct making *m)
{
	struct ab_quantity q;
	char why[300];

	if (m->cli->o.volume == NULL)
		return AB_OK;
	if (!ab_quantity_read(m->cli->o.volume, AB_DIM_VOLUME, &q, why, sizeof why))
		return ab_fail(&m->cli->diag, AB_EUSAGE, NULL, 0, "--volume: %s", why);
	if (!(q.value >= 0.5 && q.value <= 1000))
		return ab_fail(
		    &m->cli->diag, AB_EUSAGE, NULL, 0, "--volume %.40s: half a litre to 1000 L", m->cli->o.volume);
	m->volume = (struct ab_num){ .known = true, .v = q.value };
	m->b.volume = &m->volume;
	m->b.volume_text = m->cli->o.volume;
	return AB_OK;
}

static enum ab_status choose_id(struct making *m)
{
	struct cli *cli = m->cli;
	const char *id =
	    cli->o.id != NULL ? cli->o.id : ab_newbatch_id(cli->batches, cli->n_batches, m->stem, cli->arena);

	if (id == NULL)
		return cli_nomem(cli);
	if (id[0] == '\0' || id[0] == '.' || strlen(id) > 60 ||
	    strspn(id, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-") != strlen(id))
		return ab_fail(
		    &cli->diag, AB_EUSAGE, NULL, 0, "--id %.80s: letters, digits, '.', '_' and '-' only", id);
	for (size_t i = 0; i < cli->n_batches; i++)
		if (strcmp(cli->batches[i]->id, id) == 0)
			return ab_fail(&cli->diag, AB_EUSAGE, cli->batches[i]->source, 0,
			    "holds a batch called %s already", id);
	m->b.id = id;
	return AB_OK;
}

/* "new" typed twice is a slip more often than two brews of one beer on one day: asked at a terminal, and to be said
 * elsewhere. */
static enum ab_status settle_twice(struct making *m)
{
	struct cli *cli = m->cli;
	const struct ab_batch *twin = NULL;
	char date[24];
	bool yes = false;

	for (size_t i = 0; i < cli->n_batches; i++) {
		const struct ab_batch *b = cli->batches[i];
		if (b->line != NULL && m->b.line != NULL && strcmp(b->line, m->b.line) == 0 && b->brewed.known &&
		    fabs(b->brewed.s - m->b.brewed.s) < 1)
			twin = b;
	}
	/* Who gives it a name of its own means it. */
	if (twin == NULL || cli->o.force || cli->o.id != NULL)
		return AB_OK;
	ab_when_write(&m->b.brewed, date, sizeof date);
	if (talk_is_terminal()) {
		enum ab_status st = aside_yes(cli,
		    ab_arena_printf(cli->arena,
			"\"%.60s\" of the same beer is begun already for %s. Begin one more of "
			"that day? yes or no",
			twin->id, date),
		    &yes);
		if (st != AB_OK || yes)
			return st;
	}
	return ab_fail(&cli->diag, AB_EUSAGE, twin->source, 0,
	    "\"%.60s\" of the same beer is begun already for %s; write into that one (afterboil log %.60s "
	    "...), or add --force when it is brewed twice that day",
	    twin->id, date, twin->id);
}

/* ---- what the line says ---- */

static enum ab_status listen(struct making *m)
{
	struct cli *cli = m->cli;
	char date[24];
	size_t n = 0;

	if (m->b.like != NULL)
		m->next_time = ab_line_next_time(cli->batches, cli->n_batches, m->b.like, &m->next_of);
	m->n_trials = ab_line_on_trial(cli->profile, cli->batches, cli->n_batches, m->b.line, &m->b.brewed, m->trials,
	    MOST_TRIALS);
	if (m->next_time != NULL)
		m->notes[n++] =
		    ab_arena_printf(cli->arena, "Next time (written after %s): %s", m->next_of->id, m->next_time);
	for (size_t i = 0; i < m->n_trials; i++)
		m->notes[n++] = ab_arena_printf(cli->arena, "On trial since %s: %s",
		    ab_when_write(&m->trials[i]->on, date, sizeof date), ab_changed_title(cli->k, m->trials[i]));
	for (size_t i = 0; i < n; i++)
		if (m->notes[i] == NULL)
			return cli_nomem(cli);
	m->b.notes = m->notes;
	m->b.n_notes = n;
	return AB_OK;
}

/* ---- writing and saying ---- */

static enum ab_status say(struct cli *cli, char *line)
{
	if (line == NULL)
		return cli_nomem(cli);
	/* Notes may be a stranger's: nothing of them may drive a terminal. */
	ab_text_scrub(line);
	enum ab_status st = out_text(cli, line);
	return st == AB_OK ? out_text(cli, "\n") : st;
}

static const char *file_of(struct making *m, const char *id)
{
	const char *in = m->cli->o.in;
	size_t n = in != NULL ? strlen(in) : 0;

	if (in == NULL)
		return ab_arena_printf(m->cli->arena, "%s.xml", id);
	while (n > 1 && in[n - 1] == '/')
		n--;
	return ab_arena_printf(m->cli->arena, "%.*s/%s.xml", (int)n, in, id);
}

static const char *part_of(struct making *m, int part)
{
	return ab_arena_printf(m->cli->arena, "%s%c", m->b.id, 'a' + part);
}

static enum ab_status none_there(struct making *m, int parts)
{
	for (int i = 0; i < parts; i++) {
		const char *id = part_of(m, i), *path = id != NULL ? file_of(m, id) : NULL;
		if (path == NULL)
			return cli_nomem(m->cli);
		if (access(path, F_OK) == 0)
			return ab_fail(&m->cli->diag, AB_EUSAGE, path, 0, "is there already, and is not overwritten");
	}
	return AB_OK;
}

static enum ab_status write_one(struct making *m, const char *id)
{
	struct ab_newbatch b = m->b;
	const char *path = file_of(m, id), *text;
	enum ab_status st = path == NULL ? cli_nomem(m->cli) : AB_OK;

	b.id = id;
	if (st == AB_OK)
		st = ab_newbatch_text(&b, m->cli->arena, &text, &m->cli->diag);
	const char *words = ab_arena_printf(m->cli->arena, "new %s", m->beer);
	if (st == AB_OK && words == NULL)
		st = cli_nomem(m->cli);
	if (st != AB_OK)
		return st;
	struct undoing undo;
	undo_watch(path, &undo);
	st = ab_savefile_new(path, text, strlen(text), &m->cli->diag);
	undo_keep(&undo, st, &(struct ab_undo_entry){ .kind = "new", .batch = id, .words = words });
	return st == AB_OK ? say(m->cli, ab_arena_printf(m->cli->arena, "%s: begun, in %s", id, path)) : st;
}

/* Parts of one wort are a, b and so on; none is written when one of them is there already. */
static enum ab_status write_all(struct making *m)
{
	int parts = isnan(m->cli->o.split) ? 0 : (int)m->cli->o.split;
	enum ab_status st = AB_OK;

	if (parts == 0)
		return write_one(m, m->b.id);
	m->b.wort = m->b.id;
	st = none_there(m, parts);
	for (int i = 0; st == AB_OK && i < parts; i++) {
		const char *id = part_of(m, i);
		st = id != NULL ? write_one(m, id) : cli_nomem(m->cli);
	}
	return st;
}

static enum ab_status say_origin(struct making *m)
{
	struct cli *cli = m->cli;
	const struct ab_batch *like = m->b.like;

	if (like == NULL)
		return say(cli,
		    ab_arena_printf(cli->arena,
			"  A new beer: say its recipe like this: afterboil log %s malt %s pale",
			m->b.wort != NULL ? "BATCH" : m->b.id,
			cli->profile != NULL && cli->profile->units == 2 ? "10 lb" : "4.5 kg"));
	return say(cli,
	    ab_arena_printf(cli->arena,
		"  The recipe is that of %s%s. How that was done is in a comment; none of it "
		"counts yet.",
		like->id,
		m->b.volume != NULL && like->recipe != NULL && like->recipe->volume_l.known ? ", for the new volume"
											    : ""));
}

static enum ab_status say_all(struct making *m)
{
	struct cli *cli = m->cli;
	enum ab_status st = say_origin(m);
	char date[24];

	if (st == AB_OK && m->b.family == NULL)
		st = say(cli,
		    ab_arena_printf(cli->arena,
			"  Its kind is not told, and what is normal in it hangs on that; say it like this: afterboil "
			"log %s family wheat",
			m->b.wort != NULL ? "BATCH" : m->b.id));
	/* A script's own input is not to be eaten, but who meant it for an answer must hear of it. */
	if (st == AB_OK && m->b.family == NULL && talk_is_piped())
		err_note("what is piped in is not read; the kind of the beer is told with --family");
	if (st == AB_OK && m->next_time != NULL)
		st = say(cli,
		    ab_arena_printf(
			cli->arena, "  Next time, you wrote after %s: %.*s", m->next_of->id, SAID, m->next_time));
	for (size_t i = 0; st == AB_OK && i < m->n_trials; i++)
		st = say(cli,
		    ab_arena_printf(cli->arena, "  On trial: %s (since %s; no beer made with it was tasted yet)",
			ab_changed_title(cli->k, m->trials[i]),
			ab_when_write(&m->trials[i]->on, date, sizeof date)));
	if (st == AB_OK && m->n_trials > 1)
		st = say(cli,
		    ab_arena_printf(cli->arena,
			"  More than one change at once: whichever helped, you will not be able to tell."));
	if (st == AB_OK && !isnan(cli->o.split))
		st = say(cli,
		    ab_arena_printf(
			cli->arena, "  One wort: do one thing otherwise in one of them, and all else alike."));
	return st;
}

static const char *joined(struct cli *cli)
{
	const char *all = cli->args[0];

	for (size_t i = 1; i < cli->n_args && all != NULL; i++)
		all = ab_arena_printf(cli->arena, "%s %s", all, cli->args[i]);
	return all;
}

/* Letters only: a control sign would make the journal unreadable, and with it the folder. */
static bool is_plain(const char *name)
{
	for (const unsigned char *c = (const unsigned char *)name; *c != '\0'; c++)
		if (*c < ' ' || *c == 0x7f)
			return false;
	return true;
}

enum ab_status cmd_new(struct cli *cli)
{
	struct making m = { .cli = cli };
	enum ab_status st = rules_load(cli);

	if (st == AB_OK)
		st = which_folder(cli, false);
	if (st == AB_OK && cli->n_args == 0)
		return new_which_beer(cli);
	m.b.profile = cli->profile;
	m.beer = st == AB_OK ? joined(cli) : NULL;
	if (st == AB_OK && m.beer == NULL)
		return cli_nomem(cli);
	if (st == AB_OK && strspn(m.beer, " \t\n") == strlen(m.beer))
		return usage(cli, "which beer? Say its name");
	if (st == AB_OK && !is_plain(m.beer))
		return usage(cli, "a beer's name is plain text on one line, without control signs");
	if (st == AB_OK)
		st = choose_day(&m);
	if (st == AB_OK)
		st = choose_volume(&m);
	if (st == AB_OK)
		st = new_choose_beer(&m);
	if (st == AB_OK)
		st = settle_twice(&m);
	if (st == AB_OK)
		st = choose_id(&m);
	if (st == AB_OK)
		st = listen(&m);
	if (st == AB_OK)
		st = write_all(&m);
	if (st == AB_OK)
		st = say_all(&m);
	ab_free(m.like_text);
	return st;
}
