/* clicase.c - one run of the program without its main, for the tests of its parts
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "clicase.h"

#include <check.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void cc_begin(struct cli *cli, const struct command *command)
{
	*cli = (struct cli){ .command = command, .arena = ab_arena_new() };
	struct options *o = &cli->o;
	o->last = o->budget = o->minutes = o->away = o->horizon = o->running = o->changes = o->redraws = o->seed =
	    o->width = (double)NAN;
	ab_diag_init(&cli->diag);
	ck_assert_ptr_nonnull(cli->arena);
}

static char made[64];   /* the folder of this test */

static void remove_all(const char *path)
{
	struct dirent *entry;
	DIR *dir = opendir(path);
	while (dir != NULL && (entry = readdir(dir)) != NULL) {
		char below[512];
		if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
			continue;
		snprintf(below, sizeof below, "%s/%s", path, entry->d_name);
		if (unlink(below) != 0)
			remove_all(below);
	}
	if (dir != NULL)
		closedir(dir);
	rmdir(path);
}

void cc_end(struct cli *cli)
{
	if (made[0] != '\0')
		remove_all(made);
	made[0] = '\0';
	ab_arena_free(cli->arena);
}

char *cc_written(enum ab_status (*f)(struct cli *cli), struct cli *cli)
{
	FILE *into = tmpfile();
	ck_assert_ptr_nonnull(into);
	fflush(stdout);
	int kept = dup(STDOUT_FILENO);
	ck_assert_int_ge(kept, 0);
	ck_assert_int_ge(dup2(fileno(into), STDOUT_FILENO), 0);
	enum ab_status st = f(cli);
	fflush(stdout);
	ck_assert_int_ge(dup2(kept, STDOUT_FILENO), 0);
	close(kept);
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_eq(fseek(into, 0, SEEK_END), 0);
	size_t n = (size_t)ftell(into);
	char *text = malloc(n + 1);
	ck_assert_ptr_nonnull(text);
	rewind(into);
	ck_assert_uint_eq(fread(text, 1, n, into), n);
	text[n] = '\0';
	fclose(into);
	return text;
}

const char *cc_folder(struct cli *cli)
{
	char name[] = "/tmp/afterboil-check-XXXXXX";
	ck_assert_ptr_nonnull(mkdtemp(name));
	snprintf(made, sizeof made, "%s", name);
	return ab_arena_printf(cli->arena, "%s/", name);
}

/* Folders in name are made. */
const char *cc_put(struct cli *cli, const char *folder, const char *name, const char *text)
{
	const char *path = ab_arena_printf(cli->arena, "%s%s", folder, name);
	for (const char *slash = strchr(name, '/'); slash != NULL; slash = strchr(slash + 1, '/'))
		mkdir(ab_arena_printf(cli->arena, "%s%.*s", folder, (int)(slash - name), name), 0700);
	FILE *f = fopen(path, "wb");
	ck_assert_msg(f != NULL, "%s", path);
	fputs(text, f);
	ck_assert_int_eq(fclose(f), 0);
	return path;
}
