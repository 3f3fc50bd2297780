/* savefile.c - replace a file so that a kill at any moment leaves the old or the new, never a mixture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/savefile.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/alloc.h"

enum { MAX_PATH = 4096, MAX_LINKS = 32, MAX_TRIES = 1000, FIRST_READ = 16 * 1024 };

static enum ab_status trouble(struct ab_diag *diag, const char *path, const char *doing)
{
	return ab_fail(diag, AB_ESYSTEM, path, 0, "cannot %s: %s", doing, strerror(errno));
}

/* Length of the folder part of path, with its last slash; 0 when there is none. With its slash, so that
 * "file", "/file" and "dir/file" need no cases of their own. */
static size_t folder_len(const char *path)
{
	const char *slash = strrchr(path, '/');
	return slash == NULL ? 0 : (size_t)(slash - path) + 1;
}

/* The file at the end of a chain of symbolic links, whether it is there yet or not; links in the folders
 * above are the system's business. Writes to target (MAX_PATH bytes). */
static bool follow_links(const char *path, char *target)
{
	char link[MAX_PATH], next[MAX_PATH];
	if (snprintf(target, MAX_PATH, "%s", path) >= MAX_PATH) {
		errno = ENAMETOOLONG;
		return false;
	}
	/* Followed by hand and not by realpath, which fails on a link whose target is not there yet: saving
	 * through it must create the target, as writing would. */
	for (int hops = 0; hops < MAX_LINKS; hops++) {
		ssize_t n = readlink(target, link, sizeof link - 1);
		if (n < 0)
			return errno == EINVAL || errno == ENOENT;  /* no link, or nothing there */
		link[n] = '\0';
		/* A relative link starts from the folder the link lies in, not from where the process
		 * stands. */
		size_t folder = link[0] == '/' ? 0 : folder_len(target);
		if (snprintf(next, sizeof next, "%.*s%s", (int)folder, target, link) >= MAX_PATH) {
			errno = ENAMETOOLONG;
			return false;
		}
		memcpy(target, next, strlen(next) + 1);
	}
	errno = ELOOP;
	return false;
}

static bool write_all(int fd, const char *data, size_t len)
{
	while (len > 0) {
		ssize_t n = write(fd, data, len);
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			return false;
		data += n;
		len -= (size_t)n;
	}
	return true;
}

/* A device or pipe: it has no content to protect, and replacing /dev/null would be a disaster. */
static enum ab_status write_in_place(const char *path, const char *target, const void *data, size_t len,
    struct ab_diag *diag)
{
	int fd = open(target, O_WRONLY | O_CLOEXEC | O_NOCTTY);
	if (fd < 0)
		return trouble(diag, path, "open for writing");
	enum ab_status st = write_all(fd, data, len) ? AB_OK : trouble(diag, path, "write");
	if (close(fd) != 0 && st == AB_OK)
		st = trouble(diag, path, "write");
	return st;
}

/* A new file beside target; its mode is what the process's umask makes of 0666. Its name goes to temp
 * (MAX_PATH bytes). */
static int open_temp(const char *target, char *temp)
{
	for (int i = 0; i < MAX_TRIES; i++) {
		int n = snprintf(temp, MAX_PATH, "%.*s.saving-%ld-%d", (int)folder_len(target), target,
		    (long)getpid(), i);
		if (n >= MAX_PATH) {
			errno = ENAMETOOLONG;
			return -1;
		}
		/* O_EXCL: in a folder others may write to, a link planted under the guessed name would let
		 * them choose what is overwritten. In the same folder as the target, for rename works only
		 * within one file system. */
		int fd = open(temp, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
		if (fd >= 0 || errno != EEXIST)
			return fd;
	}
	return -1;
}

/* Gives fd the owner and mode of the file it will replace. Who may not give files away keeps the new owner:
 * the content matters more, and then no right is passed on that the mode would give to strangers. */
static bool take_over(int fd, const struct stat *old)
{
	struct stat is;
	mode_t mode = old->st_mode & 07777;
	if (fstat(fd, &is) != 0)
		return false;
	bool same = is.st_uid == old->st_uid && is.st_gid == old->st_gid;
	if (!same && fchown(fd, old->st_uid, old->st_gid) != 0)
		/* Without set-user-id and its like: on a file that now belongs to another owner they would
		 * be a gift. */
		mode &= 0777;
	return fchmod(fd, mode) == 0;
}

/* rename is only on the disk when the folder is: without this a power cut could bring the old name back
 * though the call had said that all is well. */
static bool sync_folder(const char *target)
{
	char folder[MAX_PATH];
	size_t len = folder_len(target);
	snprintf(folder, sizeof folder, "%.*s", len > 0 ? (int)len : 1, len > 0 ? target : ".");
	int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (fd < 0)
		return errno == EACCES;  /* a folder that may be written but not read cannot be synced by
		                          * us */
	/* Some file systems have nothing to sync for a folder. */
	bool ok = fsync(fd) == 0 || errno == EINVAL || errno == EROFS;
	close(fd);
	return ok;
}

static enum ab_status replace(const char *path, const char *target, const struct stat *old,
    const void *data, size_t len, struct ab_diag *diag)
{
	char temp[MAX_PATH];
	assert(path != NULL && target != NULL && (data != NULL || len == 0));
	enum ab_status st = AB_OK;
	int fd = open_temp(target, temp);
	if (fd < 0)
		return trouble(diag, path, "create a file beside it");
	/* Content before name: were the rename first, a crash could leave an empty file under the good
	 * name. The order of write, fsync, close, rename, fsync of the folder is the whole point of this
	 * file. */
	if ((old != NULL && !take_over(fd, old)) || !write_all(fd, data, len) || fsync(fd) != 0)
		st = trouble(diag, path, "write");
	if (close(fd) != 0 && st == AB_OK)
		st = trouble(diag, path, "write");
	if (st == AB_OK && rename(temp, target) != 0)
		st = trouble(diag, path, "replace it");
	if (st != AB_OK) {
		/* The old file is untouched; only the half-made one goes. */
		unlink(temp);
		return st;
	}
	return sync_folder(target) ? AB_OK : trouble(diag, path,
	    "be sure that the new content is on the disk");
}

enum ab_status ab_savefile(const char *path, const void *data, size_t len, struct ab_diag *diag)
{
	char target[MAX_PATH];
	struct stat old;
	if (!follow_links(path, target))
		return trouble(diag, path, "follow the link");
	if (stat(target, &old) != 0)
		return errno == ENOENT ? replace(path, target, NULL, data, len, diag) : trouble(diag, path,
		    "look at it");
	/* What is no regular file is written in place: rename would put a file where a device was. */
	if (S_ISREG(old.st_mode)) {
		/* rename would go round a file that its owner made read-only */
		if (access(target, W_OK) != 0)
			return trouble(diag, path, "write");
		return replace(path, target, &old, data, len, diag);
	}
	return write_in_place(path, target, data, len, diag);
}

/* Gives temp its name without replacing what has it. Where the file system knows no second name for a file, a
 * look before the rename must do. */
static bool name_once(const char *temp, const char *path)
{
	if (link(temp, path) == 0) {
		unlink(temp);
		return true;
	}
	if (errno != EPERM && errno != EOPNOTSUPP && errno != ENOSYS)
		return false;
	if (access(path, F_OK) == 0) {
		errno = EEXIST;
		return false;
	}
	return rename(temp, path) == 0;
}

static enum ab_status not_new(struct ab_diag *diag, const char *path)
{
	return errno == EEXIST
	    ? ab_fail(diag, AB_EUSAGE, path, 0, "is there already, and is not overwritten")
	    : trouble(diag, path, "create it");
}

enum ab_status ab_savefile_new(const char *path, const void *data, size_t len, struct ab_diag *diag)
{
	char temp[MAX_PATH];
	struct stat old;
	if (lstat(path, &old) == 0) {
		errno = EEXIST;
		return not_new(diag, path);
	}
	int fd = open_temp(path, temp);
	if (fd < 0)
		return trouble(diag, path, "create a file beside it");
	enum ab_status st = write_all(fd, data, len) && fsync(fd) == 0 ? AB_OK : trouble(diag, path, "write");
	if (close(fd) != 0 && st == AB_OK)
		st = trouble(diag, path, "write");
	if (st == AB_OK && !name_once(temp, path))
		st = not_new(diag, path);
	if (st != AB_OK) {
		unlink(temp);
		return st;
	}
	return sync_folder(path) ? AB_OK : trouble(diag, path, "be sure that the new content is on the disk");
}

/* Room for one byte more than is there, so that a file of exactly the limit is told from a longer one. */
static bool widen(char **text, size_t *cap, size_t len, size_t limit)
{
	if (len + 1 < *cap)
		return true;
	size_t more = *cap == 0 ? FIRST_READ : *cap * 2;
	if (more > limit + 2)
		more = limit + 2;
	char *wider = ab_realloc(*text, more);
	if (wider == NULL)
		return false;
	*text = wider;
	*cap = more;
	return true;
}

/* By reading and not by the size stat gives: a pipe has none, and a file may grow meanwhile. */
static enum ab_status read_all(int fd, const char *path, size_t limit, char **text, size_t *len,
    struct ab_diag *diag)
{
	size_t cap = 0;
	for (;;) {
		if (!widen(text, &cap, *len, limit))
			return ab_fail(diag, AB_ENOMEM, path, 0, "out of memory");
		assert(cap > *len + 1);
		ssize_t n = read(fd, *text + *len, cap - 1 - *len);
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			return trouble(diag, path, "read");
		*len += (size_t)n;
		if (*len > limit)
			return ab_fail(diag, AB_ELIMIT, path, 0,
			    "larger than %zu bytes, the most that is read", limit);
		if (n == 0)
			break;
	}
	(*text)[*len] = '\0';
	return AB_OK;
}

enum ab_status ab_loadfile(const char *path, size_t limit, char **text, size_t *len, struct ab_diag *diag)
{
	char *got = NULL;
	size_t n = 0;
	*text = NULL;
	*len = 0;
	int fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
	if (fd < 0)
		return trouble(diag, path, "open");
	enum ab_status st = read_all(fd, path, limit, &got, &n, diag);
	close(fd);
	if (st == AB_OK) {
		*text = got;
		*len = n;
	} else {
		ab_free(got);
	}
	return st;
}
