/* lock.c - one writer of a folder's files at a time
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#define _DEFAULT_SOURCE   /* realpath, flock, strict C otherwise */
#include "base/lock.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/alloc.h"

/* The folder of what a link leads to: two names of one file must meet at one lock. */
static char *folder_of(const char *path)
{
	char *real = realpath(path, NULL), *folder = ab_strdup(real != NULL ? real : path);
	char *slash = folder != NULL ? strrchr(folder, '/') : NULL;

	free(real);
	if (slash != NULL)
		slash[slash == folder] = '\0';
	else if (folder != NULL)
		strcpy(folder, ".");
	return folder;
}

enum ab_status ab_lock_beside(const char *path, int *lock, struct ab_diag *diag)
{
	char *folder = folder_of(path);
	int done;

	*lock = -1;
	if (folder == NULL)
		return ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
	*lock = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (*lock < 0) {
		enum ab_status st =
		    ab_fail(diag, AB_ESYSTEM, path, 0, "its folder cannot be opened: %s", strerror(errno));
		ab_free(folder);
		return st;
	}
	ab_free(folder);
	do
		done = flock(*lock, LOCK_EX);
	while (done != 0 && errno == EINTR);
	if (done != 0) {
		close(*lock);
		*lock = -1;
	}
	return AB_OK;
}

void ab_unlock(int lock)
{
	if (lock >= 0)
		close(lock);
}
