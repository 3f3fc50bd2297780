/* logs.c - the sensor logs a journal names, from under its folder and nowhere else
 *
 * A journal may come from a stranger. The path is refused as written (absolute, "..") and again as the system
 * resolves it, so that no symbolic link leads out; only a regular file is opened.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700   /* realpath; glibc hides it from plain POSIX */
#include "journal/finish.h"

#include <assert.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/alloc.h"
#include "base/savefile.h"

/* A part of the path, not a part of a name: "a..b.csv" is fine. */
static bool has_dotdot(const char *path)
{
	const char *slash;

	for (const char *p = path; p != NULL; slash = strchr(p, '/'), p = slash == NULL ? NULL : slash + 1)
		if (p[0] == '.' && p[1] == '.' && (p[2] == '/' || p[2] == '\0'))
			return true;
	return false;
}

/* Whether path lies under folder, both as realpath gives them. */
static bool is_under(const char *path, const char *folder)
{
	size_t len = strlen(folder);
	if (len == 1 && folder[0] == '/')
		return true;
	/* The slash matters: "/home/ab" is not above "/home/abc". */
	return strncmp(path, folder, len) == 0 && path[len] == '/';
}

/* Refused as written before the system is asked: the message of a stranger's journal must not tell which
 * files of this machine exist. */
static enum ab_status find_log(const struct ab_batch *b, const struct ab_log *l,
    const char *folder, char *real, struct ab_diag *diag)
{
	char root[PATH_MAX], joined[PATH_MAX];
	struct stat sb;
	assert(folder != NULL && l->file != NULL);
	if (l->file[0] == '/' || has_dotdot(l->file))
		return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
		    "the log \"%.100s\" lies outside the journal's folder; put it beside the journal and "
		    "write its name only", l->file);
	int n = snprintf(joined, sizeof joined, "%s/%s", folder, l->file);
	if (n < 0 || (size_t)n >= sizeof joined)
		return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
		    "the path of the log \"%.100s\" is too long", l->file);
	/* Both sides are resolved: a folder reached by a link of its own must not make every log look
	 * foreign. */
	if (realpath(folder, root) == NULL || realpath(joined, real) == NULL)
		return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
		    "the log \"%.100s\" cannot be opened: %s", l->file, strerror(errno));
	if (!is_under(real, root))
		return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
		    "the log \"%.100s\" is a link that leads out of the journal's folder; put the file "
		    "itself beside the journal", l->file);
	/* A pipe could block the reading for ever, a device may do anything when opened. */
	if (stat(real, &sb) != 0 || !S_ISREG(sb.st_mode))
		return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
		    "the log \"%.100s\" is no regular file", l->file);
	return AB_OK;
}

/* Opened by the resolved path, and not by the written one a second time: a link changed in between would
 * not be followed. */
static enum ab_status load_log(const struct ab_batch *b, struct ab_log *l, const char *folder,
    struct ab_arena *arena, struct ab_diag *diag)
{
	char real[PATH_MAX], *text = NULL;
	size_t len = 0;
	enum ab_status st = find_log(b, l, folder, real, diag);
	if (st == AB_OK)
		st = ab_loadfile(real, AB_SENSOR_LIMIT, &text, &len, diag);
	if (st == AB_OK)
		st = ab_sensor_read(text, len, l->file, l->utc_offset_s.known ? l->utc_offset_s.v : 0, arena,
		    &l->sensor, diag);
	ab_free(text);
	return st;
}

enum ab_status ab_batch_load_logs(struct ab_batch *b, const char *folder, struct ab_arena *arena,
    struct ab_diag *diag)
{
	for (AB_EACH(struct ab_log, l, b->logs)) {
		if (folder == NULL)
			return ab_fail(diag, AB_EINPUT, b->source, l->mark.line,
			    "the log \"%.100s\" cannot be read here: a journal that comes by a pipe has no "
			    "folder; give its file instead", l->file);
		enum ab_status st = load_log(b, l, folder, arena, diag);
		if (st != AB_OK)
			return st;
	}
	return AB_OK;
}
