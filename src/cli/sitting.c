/* sitting.c - the files of an interview: which journal, under which name, saved without losing anybody's work
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sitting.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/alloc.h"
#include "base/savefile.h"
#include "base/str.h"
#include "cli/logwords.h"

enum { QUESTIONS = 10 };

/* ---- files ---- */

bool sitting_exists(const char *path)
{
	return access(path, F_OK) == 0;
}

/* "batch-2031-03-07.xml", with "-2" and so on until it is free. */
static enum ab_status free_name(struct sitting *s)
{
	for (int i = 1; i < 1000; i++) {
		const char *path = i == 1 ? ab_arena_printf(s->cli->arena, "batch-%s.xml", s->today)
		    : ab_arena_printf(s->cli->arena, "batch-%s-%d.xml", s->today, i);
		if (path == NULL)
			return cli_nomem(s->cli);
		if (!sitting_exists(path)) {
			s->path = path;
			return AB_OK;
		}
	}
	return ab_fail(&s->cli->diag, AB_EUSAGE, NULL, 0, "no free name is left here; give one with --output");
}

/* The id is the file's name without its ending, as far as an id may hold it. */
static enum ab_status name_batch(struct sitting *s)
{
	const char *slash = strrchr(s->path, '/'), *base = slash == NULL ? s->path : slash + 1;
	char id[65] = "";
	size_t len = strlen(base), n = 0;
	if (len > 4 && strcmp(base + len - 4, ".xml") == 0)
		len -= 4;
	for (size_t i = 0; i < len && n + 1 < sizeof id; i++)
		id[n++] = isalnum((unsigned char)base[i]) || base[i] == '.' || base[i] == '_' ? base[i] : '-';
	id[n] = '\0';
	s->batch = n == 0 ? "batch" : ab_arena_strdup(s->cli->arena, id);
	return s->batch == NULL ? cli_nomem(s->cli) : AB_OK;
}

static void folder_of(const char *path, char *folder, size_t size)
{
	const char *slash = strrchr(path, '/');
	snprintf(folder, size, "%.*s", slash == NULL ? 1 : slash == path ? 1 : (int)(slash - path),
	    slash == NULL ? "." : path);
}

/* Another program may have written meanwhile; its work is not ours to lose. What went into a device is not there to
 * be read again. */
static enum ab_status is_unchanged(struct sitting *s)
{
	char *text;
	size_t len;
	struct stat is;
	if (s->fresh || (stat(s->path, &is) == 0 && !S_ISREG(is.st_mode)))
		return AB_OK;
	enum ab_status st = ab_loadfile(s->path, AB_JOURNAL_LIMIT, &text, &len, &s->cli->diag);
	if (st != AB_OK)
		return st;
	bool same = len == s->len && memcmp(text, s->saved, len) == 0;
	ab_free(text);
	return same ? AB_OK : ab_fail(&s->cli->diag, AB_ESYSTEM, s->path, 0,
	    "another program changed this file during the interview; nothing more was written to it");
}

static enum ab_status replace(struct sitting *s, const char *text, size_t len)
{
	struct undoing undo;
	undo_watch(s->path, &undo);
	enum ab_status st = ab_savefile(s->path, text, len, &s->cli->diag);
	undo_keep(&undo, st,
	    &(struct ab_undo_entry){
		.kind = "interview", .batch = s->batch, .words = "interview", .goes_on = s->saves > 0 });
	s->saves += st == AB_OK;
	return st;
}

enum ab_status sitting_save(struct sitting *s)
{
	size_t len;
	const char *text = ab_interview_text(s->iv, &len);
	enum ab_status st = is_unchanged(s);
	if (st == AB_OK && s->fresh && !s->named && sitting_exists(s->path))
		st = free_name(s);
	if (st == AB_OK)
		st = replace(s, text, len);
	if (st != AB_OK)
		return st;
	char *copy = ab_malloc(len + 1);
	if (copy == NULL)
		return cli_nomem(s->cli);
	memcpy(copy, text, len);
	ab_free(s->saved);
	s->saved = copy;
	s->len = len;
	s->fresh = false;
	return AB_OK;
}

/* ---- before it begins ---- */

/* Looked up at once, while the option that was mistyped can still be named. */
enum ab_status sitting_check_options(struct cli *cli)
{
	struct ab_when when;
	char why[512];
	if (cli->n_args > 1)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "an interview is about one batch: give one journal, or none");
	if (cli->o.absent.n > 0 && cli->o.faults.n == 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--absent goes with --fault: what did you find?");
	if (cli->o.batch.n > 1 || (cli->o.batch.n > 0 && cli->n_args == 0))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "--batch names one batch of the journal that is continued");
	if (cli->o.date != NULL && (!ab_when_read(cli->o.date, &when, why, sizeof why) || !when.date_only))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--date %.40s: write a date, such as 2031-03-07",
		    cli->o.date);
	for (int i = 0; cli->o.family != NULL; i++) {
		if (ab_words_family[i] == NULL)
			return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "there is no style family \"%.40s\"",
			    cli->o.family);
		if (ab_word_cmp(ab_words_family[i], cli->o.family) == 0)
			break;
	}
	return AB_OK;
}

/* Which batch of the journal: the only one, or the one named. */
static enum ab_status read_journal(struct sitting *s, const char *path)
{
	struct cli *cli = s->cli;
	enum ab_status st = ab_loadfile(path, AB_JOURNAL_LIMIT, &s->saved, &s->len, &cli->diag);
	const struct ab_batch *b = NULL;
	if (st == AB_OK)
		st = ab_journal_read_memory(
		    s->saved, s->len, path, s->folder, cli->arena, inputs_keep, cli, &cli->diag);
	if (st == AB_OK && cli->o.batch.n > 0)
		st = which_batch(cli, cli->o.batch.items[0], &b);
	else if (st == AB_OK && cli->n_batches != 1)
		st = ab_fail(&cli->diag, AB_EUSAGE, path, 0,
		    "there are %zu batches in this file; name one with --batch", cli->n_batches);
	if (st == AB_OK)
		s->batch = b != NULL ? b->id : cli->batches[0]->id;
	return st;
}

/* The profile lies beside the journal, whether that is there yet or not. */
static enum ab_status find_profile(struct sitting *s)
{
	struct cli *cli = s->cli;
	char **args = cli->args, *place[] = { s->folder, NULL };
	size_t n = cli->n_args;
	cli->args = n > 0 ? args : place;
	cli->n_args = 1;
	enum ab_status st = inputs_profile(cli);
	cli->args = args;
	cli->n_args = n;
	return st;
}

/* Who reads from a pipe has all of it with the first answer, and the second would wait for a reader for ever. */
static enum ab_status not_into_a_pipe(const struct sitting *s)
{
	struct stat is;
	return s->named && stat(s->path, &is) == 0 && S_ISFIFO(is.st_mode)
	    ? ab_fail(&s->cli->diag, AB_EUSAGE, s->path, 0,
		  "an interview writes its journal after every answer, and a pipe takes it only once; give "
		  "--output the name of a file")
	    : AB_OK;
}

enum ab_status sitting_prepare(struct sitting *s)
{
	struct cli *cli = s->cli;
	const char *journal = cli->n_args > 0 ? cli->args[0] : NULL;
	enum ab_status st = AB_OK;
	s->questions = isnan(cli->o.questions) ? QUESTIONS : (size_t)cli->o.questions;
	if (cli->o.date != NULL)
		snprintf(s->today, sizeof s->today, "%s", cli->o.date);
	else
		talk_today(s->today, sizeof s->today);
	s->named = cli->o.output != NULL;
	s->path = s->named ? cli->o.output : journal;
	s->fresh = s->named || journal == NULL;
	st = s->path == NULL ? free_name(s) : not_into_a_pipe(s);
	if (st == AB_OK) {
		folder_of(journal != NULL ? journal : s->path, s->folder, sizeof s->folder);
		st = journal != NULL ? read_journal(s, journal) : name_batch(s);
	}
	return st == AB_OK ? find_profile(s) : st;
}
