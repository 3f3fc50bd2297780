/* which.c - which batch or beer is meant, by enough of its name; and where to look when nothing was named
 *
 * One way for every command: case and the signs between words do not count. "14" is "pale-14", not "pale-140".
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/newbatch.h>
#include "base/str.h"

/* How well a name fits, worst first: any of it, its beginning, a whole part at its beginning, its beer or title, a
 * whole part at its end, all of it. */
enum fit { NO_FIT, WITHIN, BEGINS, FIRST_PART, NAMED, LAST_PART, WHOLE, EXACT };

enum { LONGEST_NAME = 200, MOST_SAID = 6 };

/* What may be meant: id is what is asked for, title and line are other names of it, or NULL. */
struct name { const char *id, *title, *line; };

/* Small letters, and one '-' for whatever stands between two words. */
static const char *plain(const char *text, size_t len, char *to)
{
	size_t n = 0;

	for (size_t i = 0; i < len && n + 1 < LONGEST_NAME; i++) {
		bool gap = strchr(" \t-_.,", text[i]) != NULL;
		if (gap && (n == 0 || to[n - 1] == '-'))
			continue;
		to[n++] = gap ? '-' : text[i] >= 'A' && text[i] <= 'Z' ? (char)(text[i] - 'A' + 'a') : text[i];
	}
	while (n > 0 && to[n - 1] == '-')
		n--;
	to[n] = '\0';
	return to;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* "4" is nothing of "pale-14". */
static bool within(const char *text, const char *said, size_t n)
{
	for (const char *at = strstr(text, said); at != NULL; at = strstr(at + 1, said))
		if (!(is_digit(said[0]) && at > text && is_digit(at[-1])) &&
		    !(is_digit(said[n - 1]) && is_digit(at[n])))
			return true;
	return false;
}

/* Both plain. */
static enum fit fit_text(const char *text, const char *said)
{
	size_t len = strlen(text), n = strlen(said);

	if (strcmp(text, said) == 0)
		return WHOLE;
	if (n == 0 || n >= len)
		return NO_FIT;
	if (strcmp(text + len - n, said) == 0 && text[len - n - 1] == '-')
		return LAST_PART;
	if (strncmp(text, said, n) == 0 && !(is_digit(said[n - 1]) && is_digit(text[n])))
		return text[n] == '-' ? FIRST_PART : BEGINS;
	return within(text, said, n) ? WITHIN : NO_FIT;
}

/* A beer's name counts as such only in full: "House pale" may be any of its brews, so none of them wins by title. */
static enum fit fit_other(const char *name, size_t len, const char *said)
{
	char text[LONGEST_NAME];
	enum fit f = fit_text(plain(name, len, text), said);

	return f == WHOLE ? NAMED : f == LAST_PART ? WITHIN : f;
}

static enum fit better(enum fit a, enum fit b)
{
	return a > b ? a : b;
}

static enum fit fit(const struct name *name, const char *as_typed, const char *said)
{
	char text[LONGEST_NAME];
	enum fit best =
	    strcmp(name->id, as_typed) == 0 ? EXACT : fit_text(plain(name->id, strlen(name->id), text), said);

	if (name->title != NULL) {
		best = better(best, fit_other(name->title, strlen(name->title), said));
		best = better(best, fit_other(name->title, strcspn(name->title, ","), said));
	}
	return name->line != NULL ? better(best, fit_other(name->line, strlen(name->line), said)) : best;
}

/* Of the names that fit best, those that differ: several brews are of one line. */
struct found { enum fit best; const char *ids[MOST_SAID + 1]; size_t n; };

static void look(const struct name *names, size_t n, const char *as_typed, struct found *out)
{
	char said[LONGEST_NAME];

	*out = (struct found){ .best = NO_FIT };
	plain(as_typed, strlen(as_typed), said);
	for (size_t i = 0; i < n; i++) {
		enum fit f = fit(&names[i], as_typed, said);
		bool again = false;
		if (f == NO_FIT || f < out->best)
			continue;
		if (f > out->best)
			*out = (struct found){ .best = f };
		for (size_t k = 0; k < out->n; k++)
			again = again || strcmp(out->ids[k], names[i].id) == 0;
		if (!again && out->n <= MOST_SAID)
			out->ids[out->n++] = names[i].id;
	}
}

static void add_to(char *list, size_t size, const char *between, const char *id)
{
	size_t used = strlen(list);

	snprintf(list + used, size - used, "%s%.60s", used > 0 ? between : "", id);
}

static enum ab_status not_one(struct cli *cli, const char *what, const struct name *names, size_t n, const char *said,
    const struct found *found)
{
	char list[500] = "";

	for (size_t i = 0; i < found->n && i < MOST_SAID; i++)
		add_to(list, sizeof list, ", ", found->ids[i]);
	if (found->n > MOST_SAID)
		add_to(list, sizeof list, " ", "and others");
	if (found->n > 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "\"%.40s\" may be any of %s; write more of the name",
		    said, list);
	for (size_t i = n, k = 0; i-- > 0 && k < 4;) {
		bool again = false;
		for (size_t j = i + 1; j < n; j++)
			again = again || strcmp(names[j].id, names[i].id) == 0;
		if (again)
			continue;
		add_to(list, sizeof list, ", ", names[i].id);
		k++;
	}
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "no %s here is called \"%.40s\"%s%s", what, said,
	    list[0] != '\0' ? "; the newest are " : "", list);
}

/* ---- batches ---- */

static struct name *batch_names(struct cli *cli)
{
	struct name *names = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *names);

	for (size_t i = 0; names != NULL && i < cli->n_batches; i++)
		names[i] = (struct name){ cli->batches[i]->id, cli->batches[i]->title, cli->batches[i]->line };
	return names;
}

enum ab_status which_batch(struct cli *cli, const char *name, const struct ab_batch **out)
{
	struct name *names = batch_names(cli);
	struct found found;

	*out = NULL;
	if (names == NULL)
		return cli_nomem(cli);
	if (ab_word_cmp(name, "last") == 0 && cli->n_batches > 0) {
		*out = cli->batches[cli->n_batches - 1];
		return AB_OK;
	}
	look(names, cli->n_batches, name, &found);
	if (found.n != 1)
		return not_one(cli, "batch", names, cli->n_batches, name, &found);
	for (size_t i = 0; i < cli->n_batches; i++)
		if (strcmp(cli->batches[i]->id, found.ids[0]) == 0)
			*out = cli->batches[i];
	return AB_OK;
}

enum ab_status which_words(struct cli *cli, size_t most, size_t *used)
{
	struct name *names = batch_names(cli);
	const char *text = cli->args[0];
	struct found found;

	*used = 1;
	if (names == NULL)
		return cli_nomem(cli);
	for (size_t n = 2; n <= most && n <= cli->n_args; n++) {
		text = ab_arena_printf(cli->arena, "%s %s", text, cli->args[n - 1]);
		if (text == NULL)
			return cli_nomem(cli);
		look(names, cli->n_batches, text, &found);
		if (found.best < NAMED)
			continue;
		cli->args[n - 1] = ab_arena_strdup(cli->arena, text);
		*used = n;
		if (cli->args[n - 1] == NULL)
			return cli_nomem(cli);
	}
	return AB_OK;
}

/* ---- beers ---- */

static enum ab_status which_of_lines(struct cli *cli, const struct name *names, size_t n, const char **line, bool *none)
{
	struct found found;

	look(names, n, *line, &found);
	if (none != NULL)
		*none = found.n == 0;
	if (found.n != 1)
		return not_one(cli, "beer", names, n, *line, &found);
	*line = found.ids[0];
	return AB_OK;
}

enum ab_status which_line(struct cli *cli, const char **line, bool *none)
{
	struct name *names = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *names);
	size_t n = 0;

	if (names == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < cli->n_batches; i++) {
		const struct ab_batch *b = cli->batches[i];
		const char *stem = ab_newbatch_stem(cli->arena, b->id);
		if (stem == NULL)
			return cli_nomem(cli);
		if (b->line != NULL)
			names[n++] = (struct name){ b->line, b->title, stem };
	}
	return which_of_lines(cli, names, n, line, none);
}

enum ab_status which_past_line(struct cli *cli, const struct ab_past *past, size_t n_past, const char **line)
{
	struct name *names = ab_arena_alloc(cli->arena, n_past + 1, sizeof *names);
	size_t n = 0;

	if (names == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < n_past; i++)
		if (past[i].line != NULL)
			names[n++] = (struct name){ past[i].line, NULL, NULL };
	return which_of_lines(cli, names, n, line, NULL);
}

enum ab_status which_wanted(struct cli *cli)
{
	enum ab_status st = AB_OK;

	for (size_t i = 0; st == AB_OK && i < cli->o.batch.n; i++) {
		const struct ab_batch *b;
		st = which_batch(cli, cli->o.batch.items[i], &b);
		if (st == AB_OK)
			cli->o.batch.items[i] = b->id;
	}
	return st == AB_OK && cli->o.line != NULL ? which_line(cli, &cli->o.line, NULL) : st;
}

/* ---- where ---- */

enum ab_status which_folder(struct cli *cli, bool needed)
{
	char **args = cli->args, *here = ab_arena_strdup(cli->arena, cli->o.in != NULL ? cli->o.in : ".");
	size_t n = cli->n_args;

	if (here == NULL)
		return cli_nomem(cli);
	cli->empty_is_fine = !needed;
	cli->args = &here;
	cli->n_args = 1;
	enum ab_status st = inputs_read(cli, needed);
	cli->args = args;
	cli->n_args = n;
	return st;
}

/* A file or a folder, be it there or be it mistyped. */
static bool is_place(const char *name)
{
	size_t n = strlen(name);

	return access(name, F_OK) == 0 || strcmp(name, "-") == 0 || strchr(name, '/') != NULL ||
	    (n > 4 && strcmp(name + n - 4, ".xml") == 0);
}

enum ab_status which_named(struct cli *cli)
{
	static char here[] = ".";
	static char *places[] = { here };
	const char *name = cli->n_args > 0 ? cli->args[0] : NULL;
	bool any = false;
	enum ab_status st = AB_OK;

	for (size_t i = 0; i < cli->n_args; i++)
		if (is_place(cli->args[i]))
			return AB_OK;
	for (size_t i = 1; i < cli->n_args && name != NULL; i++)
		name = ab_arena_printf(cli->arena, "%s %s", name, cli->args[i]);
	if (cli->n_args > 0)
		st = name == NULL ? cli_nomem(cli) : folder_holds_journals(cli, here, &any);
	if (st == AB_OK && any)
		st = text_push(cli, &cli->o.batch, name);
	if (st != AB_OK || !any)
		return st;
	cli->args = places;
	cli->n_args = 1;
	return AB_OK;
}

enum ab_status which_here(struct cli *cli)
{
	static char here[] = ".";
	static char *places[] = { here };
	bool any = false;
	enum ab_status st = cli->n_args > 0 ? AB_OK : folder_holds_journals(cli, here, &any);

	if (st != AB_OK || !any)
		return st;
	err_note("no journal or folder was named: those of this folder are taken");
	cli->args = places;
	cli->n_args = 1;
	return AB_OK;
}
