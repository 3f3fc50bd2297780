/* inputs.c - files, folders and standard input become batches in order of brew date
 *
 * The profile is --profile, else profile.xml in the first folder named (or the folder of the first file), else one
 * folder up.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum ab_status cli_nomem(struct cli *cli)
{
	return ab_fail(&cli->diag, AB_ENOMEM, NULL, 0, "out of memory");
}

enum ab_status text_push(struct cli *cli, struct texts *list, const char *text)
{
	const char **slot = ab_arena_push(cli->arena, &list->items, &list->n, &list->cap, sizeof *slot);
	if (slot == NULL)
		return cli_nomem(cli);
	*slot = text;
	return AB_OK;
}

/* ---- reading ---- */

/* Where each id was seen: two batches of one name would overwrite each other in the history. */
struct seen { const char *id, *source; long line; };

/* One reading of all arguments. ids and sources are copied to the run's arena, since the batches' own
 * is emptied by some of the callers. */
struct reader {
	struct cli *cli;
	struct ab_arena *arena;      /* for the batches */
	ab_batch_done *done;
	void *ctx;
	struct seen *seen; size_t n_seen, cap_seen;
};

/* The only door to done(): no batch escapes the search for twins. */
static enum ab_status note(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct reader *r = ctx;
	struct seen *slot = ab_arena_push(r->cli->arena, &r->seen, &r->n_seen, &r->cap_seen, sizeof *slot);
	const char *id = slot == NULL ? NULL : ab_arena_strdup(r->cli->arena, batch->id);
	const char *source = id == NULL
	    ? NULL
	    : ab_arena_strdup(r->cli->arena, batch->source != NULL ? batch->source : "a journal");
	if (source == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*slot = (struct seen){ id, source, batch->mark.line };
	return r->done(r->ctx, batch, diag);
}

/* For commands that need all batches at once; filing takes them one by one. */
enum ab_status inputs_keep(void *ctx, struct ab_batch *batch, struct ab_diag *diag)
{
	struct cli *cli = ctx;
	struct ab_batch **slot =
	    ab_arena_push(cli->arena, &cli->batches, &cli->n_batches, &cli->cap_batches, sizeof *slot);
	if (slot == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	*slot = batch;
	return AB_OK;
}

static enum ab_status read_file(struct reader *r, const char *path)
{
	r->cli->n_files++;
	return ab_journal_read_file(path, r->arena, note, r, &r->cli->diag);
}

/* A folder without a journal is most likely a slip in the name, so it is an error and not an empty
 * answer. */
static enum ab_status read_folder(struct reader *r, const char *folder)
{
	struct cli *cli = r->cli;
	struct texts files = { NULL, 0, 0 };
	enum ab_status st = folder_files(cli, folder, &files);
	size_t before = cli->n_files;
	progress_begin("journals read");
	for (size_t i = 0; st == AB_OK && i < files.n; i++) {
		if (folder_journal(files.items[i]))
			st = read_file(r, files.items[i]);
		progress_step(i + 1, files.n);
	}
	progress_hide();
	if (st == AB_OK && cli->n_files == before && !cli->empty_is_fine)
		return ab_fail(&cli->diag, AB_EINPUT, folder, 0,
		    "no batch journal in this folder: a journal is an .xml file whose root element "
		    "is <batch>");
	return st;
}

/* What was named outright is read whatever it looks like: then its error is the answer. */
static enum ab_status read_argument(struct reader *r, const char *name)
{
	struct cli *cli = r->cli;
	struct stat info;
	if (strcmp(name, "-") == 0) {
		cli->n_files++;
		return ab_journal_read_stream(STDIN_FILENO, "standard input", r->arena, note, r, &cli->diag);
	}
	if (stat(name, &info) != 0)
		return ab_fail(&cli->diag, errno == ENOENT || errno == ENOTDIR ? AB_EINPUT : AB_ESYSTEM, name,
		    0, "%s: give a journal or a folder of journals", strerror(errno));
	return S_ISDIR(info.st_mode) ? read_folder(r, name) : read_file(r, name);
}

/* ---- the profile ---- */

/* "/" stays "/", and a bare file name is in ".". */
static const char *folder_of(struct cli *cli, const char *name)
{
	struct stat info;
	if (stat(name, &info) == 0 && S_ISDIR(info.st_mode))
		return name;
	const char *slash = strrchr(name, '/');
	return slash == NULL ? "."
	    : slash == name  ? "/"
			     : ab_arena_strndup(cli->arena, name, (size_t)(slash - name));
}

/* Beside the first argument that has one: brewers keep it with the journals, or one folder up from the
 * year's. */
static const char *find_profile(struct cli *cli)
{
	static const char *const places[] = { "profile.xml", "../profile.xml" };
	for (size_t a = 0; a < cli->n_args; a++) {
		const char *folder = strcmp(cli->args[a], "-") == 0 ? NULL : folder_of(cli, cli->args[a]);
		for (size_t i = 0; folder != NULL && i < 2; i++) {
			const char *path = ab_arena_printf(cli->arena, "%s/%s", folder, places[i]);
			if (path != NULL && access(path, F_OK) == 0)
				return path;
		}
	}
	return NULL;
}

/* Read once even when several parts of a command ask: o.profile then tells the others which it was. */
enum ab_status inputs_profile(struct cli *cli)
{
	if (cli->o.profile == NULL)
		cli->o.profile = find_profile(cli);
	return cli->o.profile == NULL
	    ? AB_OK
	    : ab_profile_read_file(cli->o.profile, cli->arena, &cli->profile, &cli->diag);
}

/* A profile among the files is one named with --profile. */
static enum ab_status take_profile(struct cli *cli)
{
	char **left = ab_arena_alloc(cli->arena, cli->n_args + 1, sizeof *left);
	size_t n = 0;
	if (left == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < cli->n_args; i++)
		if (cli->o.profile == NULL && strcmp(cli->args[i], "-") != 0 && folder_profile(cli->args[i]))
			cli->o.profile = cli->args[i];
		else
			left[n++] = cli->args[i];
	cli->args = left;
	cli->n_args = n;
	return AB_OK;
}

enum ab_status inputs_or_profile(struct cli *cli, bool here)
{
	static char own[] = "profile.xml";
	here = here && cli->o.profile != NULL;
	enum ab_status st = take_profile(cli);
	if (st == AB_OK && (here || cli->o.profile == NULL))
		st = which_here(cli);
	if (st == AB_OK && cli->n_args == 0 && cli->o.profile == NULL && access(own, R_OK) == 0)
		cli->o.profile = own;
	if (st == AB_OK)
		st = inputs_profile(cli);
	cli->empty_is_fine = cli->profile != NULL;
	return st;
}

/* ---- all together ---- */

/* The id breaks ties, or two brews of one day would change places from run to run. */
static int by_date(const void *a, const void *b)
{
	const struct ab_batch *x = *(struct ab_batch *const *)a, *y = *(struct ab_batch *const *)b;
	if (x->brewed.s < y->brewed.s || x->brewed.s > y->brewed.s)
		return x->brewed.s < y->brewed.s ? -1 : 1;
	return strcmp(x->id, y->id);
}

/* Source and line too, so that the message names the later twin in reading order of names. */
static int by_id(const void *a, const void *b)
{
	const struct seen *x = a, *y = b;
	int order = strcmp(x->id, y->id);
	if (order == 0)
		order = strcmp(x->source, y->source);
	return order != 0 ? order : (x->line > y->line) - (x->line < y->line);
}

/* At the end, not when the second is met: a stream's batches have been handed over by then, which is
 * why writers use a transaction (cli.h). */
static enum ab_status refuse_twins(struct reader *r)
{
	if (r->n_seen > 1)
		qsort(r->seen, r->n_seen, sizeof *r->seen, by_id);
	for (size_t i = 1; i < r->n_seen; i++) {
		const struct seen *a = &r->seen[i - 1], *b = &r->seen[i];
		if (strcmp(a->id, b->id) == 0)
			return ab_fail(&r->cli->diag, AB_EINPUT, b->source, b->line,
			    "batch id \"%.40s\" is also in %.120s:%ld; each batch needs an id of its own",
			    b->id, a->source, a->line);
	}
	return AB_OK;
}

enum ab_status inputs_each(struct cli *cli, struct ab_arena *arena, ab_batch_done *done, void *ctx)
{
	struct reader r = { .cli = cli, .arena = arena, .done = done, .ctx = ctx };
	enum ab_status st = inputs_profile(cli);
	for (size_t i = 0; st == AB_OK && i < cli->n_args; i++)
		st = read_argument(&r, cli->args[i]);
	return st == AB_OK ? refuse_twins(&r) : st;
}

/* which_wanted has made full ids and lines of what was typed. */
static bool named(const struct texts *list, const char *id)
{
	for (size_t i = 0; i < list->n; i++)
		if (strcmp(list->items[i], id) == 0)
			return true;
	return list->n == 0;
}

/* Ids and line both have to fit where both are given. */
static bool wanted(const struct options *o, const struct ab_batch *b)
{
	return named(&o->batch, b->id) &&
	    (o->line == NULL || (b->line != NULL && strcmp(o->line, b->line) == 0));
}

/* --last after the others: the newest N of a line, not those of the newest N that are of the line. */
static void filter(struct cli *cli)
{
	size_t n = 0;
	for (size_t i = 0; i < cli->n_batches; i++)
		if (wanted(&cli->o, cli->batches[i]))
			cli->batches[n++] = cli->batches[i];
	cli->n_batches = n;
	size_t drop = !isnan(cli->o.last) && (double)n > cli->o.last ? n - (size_t)cli->o.last : 0;
	cli->batches += drop;
	assert(drop <= cli->n_batches);
	cli->n_batches -= drop;
}

/* Three ways to have nothing, each with another cure. The last: each name is of a batch, and together of none. */
static enum ab_status say_none(struct cli *cli, size_t read)
{
	const struct options *o = &cli->o;
	if (cli->n_args == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "which journals? There are none in this folder: name files or a "
		    "folder, or begin one with \"afterboil new BEER\"");
	if (read == 0)
		return ab_fail(&cli->diag, AB_EINPUT, NULL, 0, "there is no batch in what was given");
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
	    "no batch is both \"%.60s\" and of the line \"%.60s\"; leave one of the two out",
	    o->batch.n > 0 ? o->batch.items[0] : "", o->line != NULL ? o->line : "");
}

/* A folder that holds batches of which none is wanted is always told, also where none was needed. */
enum ab_status inputs_read(struct cli *cli, bool needed)
{
	enum ab_status st = inputs_each(cli, cli->arena, inputs_keep, cli);
	size_t read = cli->n_batches;
	if (st != AB_OK)
		return st;
	if (read > 0) {
		qsort(cli->batches, read, sizeof *cli->batches, by_date);
		st = which_wanted(cli);
		cli->read = ab_arena_alloc(cli->arena, read, sizeof *cli->read);
		if (st == AB_OK && cli->read == NULL)
			st = cli_nomem(cli);
		if (st != AB_OK)
			return st;
		memcpy(cli->read, cli->batches, read * sizeof *cli->read);
		cli->n_read = read;
		filter(cli);
	}
	return cli->n_batches == 0 && (needed || read > 0) ? say_none(cli, read) : AB_OK;
}
