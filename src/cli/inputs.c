/* inputs.c - files, folders and standard input become batches in order of brew date
 *
 * A folder stands for its *.xml files in order of name; those whose root element is no batch are passed over
 * (the profile, a rules file). The profile is
 * --profile, else profile.xml in the first folder named (or the folder of the first file), else one folder
 * up.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <assert.h>
#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* HEAD: comments before the root element longer than this are not met in the wild (estimate); such a
 * file is read as a journal. MOST_FILES keeps a mistyped "/" from listing a disk. */
enum { HEAD = 65536, MOST_FILES = 100000 };

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

/* ---- the root element of a file, without reading all of it ---- */

/* Past one of <?...?>, <!--...-->, <!...>; NULL when it does not end here. A doctype with an internal
 * subset may hold ">" inside; then the root is not told and the reader says what is wrong. */
static const char *past(const char *at)
{
	const char *closer = strncmp(at, "<?", 2) == 0 ? "?>" : strncmp(at, "<!--", 4) == 0 ? "-->" : ">";
	const char *end = strstr(at + 2, closer);
	return end == NULL ? NULL : end + strlen(closer);
}

/* The local name of the first element in head; false when it cannot be told. Not a parser: it only has
 * to tell a journal from a profile or a sensor's export, cheaply, in a folder of thousands. */
static bool root_in(const char *head, char *name, size_t size)
{
	const char *at = strncmp(head, "\xEF\xBB\xBF", 3) == 0 ? head + 3 : head;
	while (at != NULL) {
		while (isspace((unsigned char)*at))
			at++;
		if (*at != '<')
			return false;
		if (at[1] != '?' && at[1] != '!')
			break;
		at = past(at);
	}
	if (at == NULL)
		return false;
	size_t n = strcspn(++at, " \t\r\n/>");
	const char *colon = memchr(at, ':', n);
	if (colon != NULL) {
		n -= (size_t)(colon + 1 - at);
		at = colon + 1;
	}
	snprintf(name, size, "%.*s", (int)(n < size ? n : size - 1), at);
	return n > 0;
}

/* Is the file plainly something else than a journal? What cannot be told is read as one, so that its
 * error is seen. malloc, not the arena: the head of every file of a folder would pile up there. */
static bool other_kind(const char *path)
{
	char *head = malloc(HEAD + 1), name[32];
	FILE *f = head == NULL ? NULL : fopen(path, "rb");
	bool other = false;
	if (f != NULL) {
		size_t n = fread(head, 1, HEAD, f);
		head[n] = '\0';
		other = root_in(head, name, sizeof name) && strcmp(name, "batch") != 0 &&
		    strcmp(name, "batches") != 0;
		fclose(f);
	}
	free(head);
	return other;
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

/* By bytes, whatever the locale: the same order for everybody. */
static int by_name(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* Names with a dot in front are drafts and backups of editors. */
static bool is_xml(const char *name)
{
	size_t n = strlen(name);
	return n > 4 && name[0] != '.' && strcmp(name + n - 4, ".xml") == 0;
}

/* Sorted, for readdir's order differs from disk to disk and the first error met should not. */
static enum ab_status list_folder(struct cli *cli, const char *folder, struct texts *files)
{
	enum ab_status st = AB_OK;
	struct dirent *entry;
	size_t slash = strlen(folder);
	while (slash > 1 && folder[slash - 1] == '/')
		slash--;
	DIR *dir = opendir(folder);
	if (dir == NULL)
		return ab_fail(&cli->diag, AB_ESYSTEM, folder, 0, "the folder cannot be read: %s",
		    strerror(errno));
	while (st == AB_OK && (entry = readdir(dir)) != NULL) {
		if (!is_xml(entry->d_name))
			continue;
		const char *path = ab_arena_printf(cli->arena, "%.*s/%s", (int)slash, folder, entry->d_name);
		st = path == NULL ? cli_nomem(cli) : text_push(cli, files, path);
		if (files->n > MOST_FILES)
			st = ab_fail(&cli->diag, AB_ELIMIT, folder, 0,
			    "more than %d files in one folder: split it", MOST_FILES);
	}
	closedir(dir);
	if (files->n > 0)
		qsort(files->items, files->n, sizeof *files->items, by_name);
	return st;
}

/* A folder or a pipe whose name ends like a journal's: reading it would fail, or wait without end. */
static bool no_file(const char *path)
{
	struct stat info;
	return stat(path, &info) == 0 && !S_ISREG(info.st_mode);
}

/* A folder without a journal is most likely a slip in the name, so it is an error and not an empty
 * answer. */
static enum ab_status read_folder(struct reader *r, const char *folder)
{
	struct cli *cli = r->cli;
	struct texts files = { NULL, 0, 0 };
	enum ab_status st = list_folder(cli, folder, &files);
	size_t before = cli->n_files;
	progress_begin("journals read");
	for (size_t i = 0; st == AB_OK && i < files.n; i++) {
		if (!no_file(files.items[i]) && !other_kind(files.items[i]))
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

enum ab_status inputs_holds_journals(struct cli *cli, const char *folder, bool *any)
{
	struct texts files = { NULL, 0, 0 };
	enum ab_status st = list_folder(cli, folder, &files);
	*any = false;
	for (size_t i = 0; st == AB_OK && !*any && i < files.n; i++)
		*any = !no_file(files.items[i]) && !other_kind(files.items[i]);
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
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "which journals? There are none in this folder: name files or a "
		    "folder, or begin one with \"afterboil new BEER\"");
	if (read == 0)
		return ab_fail(&cli->diag, AB_EINPUT, NULL, 0, "there is no batch in what was given");
	return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "no batch is both \"%.60s\" and of the line \"%.60s\"; leave one of the two out",
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
