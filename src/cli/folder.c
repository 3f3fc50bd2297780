/* folder.c - which files of a folder are journals: its *.xml whose root element is none of another kind
 *
 * Those of another kind (the profile, a rules file) are passed over.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* HEAD: comments before the root element longer than this are not met in the wild (estimate); such a
 * file is read as a journal. MOST_FILES keeps a mistyped "/" from listing a disk. */
enum { HEAD = 65536, MOST_FILES = 100000 };

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

/* The name of a file's root element; false when it cannot be told. malloc, not the arena: the head of every file of
 * a folder would pile up there. */
static bool root_of(const char *path, char *name, size_t size)
{
	char *head = malloc(HEAD + 1);
	FILE *f = head == NULL ? NULL : fopen(path, "rb");
	bool told = false;
	if (f != NULL) {
		size_t n = fread(head, 1, HEAD, f);
		head[n] = '\0';
		told = root_in(head, name, size);
		fclose(f);
	}
	free(head);
	return told;
}

/* Is the file plainly something else than a journal? What cannot be told is read as one, so that its
 * error is seen. */
static bool other_kind(const char *path)
{
	char name[32];
	return root_of(path, name, sizeof name) && strcmp(name, "batch") != 0 && strcmp(name, "batches") != 0;
}

/* A folder or a pipe whose name ends like a journal's: reading it would fail, or wait without end. */
static bool no_file(const char *path)
{
	struct stat info;
	return stat(path, &info) == 0 && !S_ISREG(info.st_mode);
}

bool folder_journal(const char *path)
{
	return !no_file(path) && !other_kind(path);
}

bool folder_profile(const char *path)
{
	char name[32];
	return !no_file(path) && root_of(path, name, sizeof name) && strcmp(name, "brewery") == 0;
}

/* ---- listing ---- */

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

enum ab_status folder_files(struct cli *cli, const char *folder, struct texts *files)
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

enum ab_status folder_holds_journals(struct cli *cli, const char *folder, bool *any)
{
	struct texts files = { NULL, 0, 0 };
	enum ab_status st = folder_files(cli, folder, &files);
	*any = false;
	for (size_t i = 0; st == AB_OK && !*any && i < files.n; i++)
		*any = folder_journal(files.items[i]);
	return st;
}
