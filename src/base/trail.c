/* trail.c - a file that only grows at its end, held by one process at a time
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _DEFAULT_SOURCE   /* flock, O_NOFOLLOW, strict C otherwise */
#include "base/trail.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/alloc.h"

enum { MAX_PATH = 4096 };

static enum ab_status trouble(struct ab_diag *diag, const char *path, const char *doing)
{
	return ab_fail(diag, AB_ESYSTEM, path, 0, "cannot %s: %s", doing, strerror(errno));
}

static enum ab_status read_whole(int fd, const char *path, size_t limit, struct ab_trail *t, struct ab_diag *diag)
{
	struct stat is;

	if (fstat(fd, &is) != 0)
		return trouble(diag, path, "read");
	if (!S_ISREG(is.st_mode))
		return ab_fail(diag, AB_EINPUT, path, 0, "is no file of this program; move it away");
	if (is.st_size > (off_t)limit)
		return ab_fail(diag, AB_ELIMIT, path, 0, "is larger than it can have grown by itself; delete it");
	t->text = ab_malloc((size_t)is.st_size + 1);
	if (t->text == NULL)
		return ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	while (t->len < (size_t)is.st_size) {
		ssize_t n = pread(fd, t->text + t->len, (size_t)is.st_size - t->len, (off_t)t->len);
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			return trouble(diag, path, "read");
		if (n == 0)
			break;
		t->len += (size_t)n;
	}
	t->text[t->len] = '\0';
	return AB_OK;
}

/* Whether what was read is one, or an empty one to begin. */
static enum ab_status begin(struct ab_trail *t, const char *path, const char *mark, struct ab_diag *diag)
{
	size_t n = strlen(mark);

	if (t->len >= n && memcmp(t->text, mark, n) == 0)
		return AB_OK;
	/* Broken off while its mark was written. */
	if (t->len >= n || memcmp(t->text, mark, t->len) != 0)
		return ab_fail(diag, AB_EINPUT, path, 0, "is no file of this program; move it away");
	ab_free(t->text);
	t->text = ab_strdup(mark);
	t->len = t->text != NULL ? n : 0;
	return t->text == NULL ? ab_fail(diag, AB_ENOMEM, path, 0, "out of memory")
			       : ab_trail_write(t, 0, mark, n, diag);
}

enum ab_status ab_trail_open(const char *beside, const char *name, const char *mark, bool make, size_t limit,
    struct ab_trail *t, struct ab_diag *diag)
{
	char path[MAX_PATH];
	const char *slash = strrchr(beside, '/');
	int folder = slash == NULL ? 0 : (int)(slash - beside) + 1;

	*t = (struct ab_trail){ .fd = -1 };
	if (snprintf(path, sizeof path, "%.*s%s", folder, beside, name) >= (int)sizeof path)
		return ab_fail(diag, AB_ESYSTEM, beside, 0, "cannot open: %s", strerror(ENAMETOOLONG));
	t->fd = open(path, O_RDWR | (make ? O_CREAT : 0) | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0666);
	if (t->fd < 0 && errno == ENOENT && !make) {
		t->text = ab_strdup("");
		return t->text != NULL ? AB_OK : ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	}
	if (t->fd < 0)
		return trouble(diag, path, "open");
	/* A file system without locks has none to wait for. */
	while (flock(t->fd, LOCK_EX) != 0 && errno == EINTR)
		;
	enum ab_status st = read_whole(t->fd, path, limit, t, diag);
	if (st == AB_OK)
		st = begin(t, path, mark, diag);
	if (st != AB_OK)
		ab_trail_close(t);
	return st;
}

enum ab_status ab_trail_write(const struct ab_trail *t, size_t at, const char *data, size_t len, struct ab_diag *diag)
{
	/* Cut first: a kill in between leaves a shorter trail, and none with two ends in it. */
	if (ftruncate(t->fd, (off_t)at) != 0)
		return trouble(diag, NULL, "shorten what can be taken back");
	while (len > 0) {
		ssize_t n = pwrite(t->fd, data, len, (off_t)at);
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			return trouble(diag, NULL, "write what can be taken back");
		data += n;
		at += (size_t)n;
		len -= (size_t)n;
	}
	return AB_OK;
}

void ab_trail_close(struct ab_trail *t)
{
	if (t->fd >= 0)
		close(t->fd);
	ab_free(t->text);
	*t = (struct ab_trail){ .fd = -1 };
}
