/* faultvfs.c - a disk that fails when told
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "faultvfs.h"

#include <check.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* What was there before a write, a truncation or a deletion that may not have reached the disk. */
struct unsynced {
	char *path;
	void *old;
	sqlite3_int64 offset, old_size;
	size_t n;
	bool deleted;
	struct unsynced *next;
};

struct file { sqlite3_file base; char *path; sqlite3_file *real; };

static sqlite3_vfs *below, layer;
static struct unsynced *pending;
static struct { unsigned kinds; long at; int code; bool onward, struck; long seen; } plan;

/* True when this call is to fail. */
static bool strikes(unsigned kind)
{
	if ((plan.kinds & kind) == 0)
		return false;
	bool now = plan.onward ? plan.seen >= plan.at : plan.seen == plan.at;
	plan.seen++;
	plan.struck = plan.struck || now;
	return now;
}

void fault_arm(unsigned kinds, long at, int code, bool onward)
{
	plan.kinds = kinds;
	plan.at = at;
	plan.code = code;
	plan.onward = onward;
	plan.struck = false;
	plan.seen = 0;
}

bool fault_disarm(void)
{
	plan.kinds = 0;
	return plan.struck;
}

/* ---- what is not on the disk yet ---- */

static void drop(struct unsynced *u)
{
	free(u->path);
	free(u->old);
	free(u);
}

/* path NULL: of all files. */
static void settle(const char *path)
{
	for (struct unsynced **at = &pending; *at != NULL;) {
		struct unsynced *u = *at;

		if (path != NULL && strcmp(u->path, path) != 0) {
			at = &u->next;
			continue;
		}
		*at = u->next;
		drop(u);
	}
}

void fault_settle(void)
{
	settle(NULL);
}

/* Remembers n bytes from offset on as they are now, and how long the file is. */
static void remember(const char *path, sqlite3_int64 offset, size_t n, bool deleted)
{
	struct unsynced *u = calloc(1, sizeof *u);
	struct stat is = { 0 };
	int fd = open(path, O_RDONLY);

	ck_assert(u != NULL && fd >= 0 && fstat(fd, &is) == 0);
	if (deleted)
		n = (size_t)is.st_size;
	*u = (struct unsynced){ strdup(path), calloc(n + 1, 1), offset, is.st_size, n, deleted, pending };
	ck_assert(u->path != NULL && u->old != NULL && pread(fd, u->old, n, offset) >= 0);
	close(fd);
	pending = u;
}

static void take_back(const struct unsynced *u)
{
	int fd = open(u->path, O_RDWR | (u->deleted ? O_CREAT : 0), 0600);
	size_t n = u->offset >= u->old_size ? 0 : (size_t)(u->old_size - u->offset);

	if (fd < 0)
		return;   /* the file itself is gone */
	n = n < u->n ? n : u->n;
	ck_assert(pwrite(fd, u->old, n, u->offset) == (ssize_t)n);
	ck_assert(ftruncate(fd, u->old_size) == 0);
	close(fd);
}

int fault_power_cut(int every)
{
	int i = 0, n = 0;

	for (const struct unsynced *u = pending; u != NULL; u = u->next, i++)
		if (every == 1 || i % every != 0) {
			take_back(u);
			n++;
		}
	settle(NULL);
	return n;
}

/* ---- the calls on a file ---- */

static struct file *of(sqlite3_file *f)
{
	return (struct file *)f;
}

static int on_close(sqlite3_file *f)
{
	int rc = of(f)->real->pMethods->xClose(of(f)->real);

	free(of(f)->path);
	return rc;
}

static int on_read(sqlite3_file *f, void *to, int n, sqlite3_int64 offset)
{
	return strikes(FAULT_READ) ? plan.code : of(f)->real->pMethods->xRead(of(f)->real, to, n, offset);
}

static int on_write(sqlite3_file *f, const void *from, int n, sqlite3_int64 offset)
{
	bool fails = strikes(FAULT_WRITE);
	int part = fails ? n / 2 : n, rc = SQLITE_OK;

	/* with every call failing the process is taken for dead: not even a part is written then */
	if (fails && plan.onward && plan.seen > plan.at + 1)
		return plan.code;
	if (of(f)->path != NULL)
		remember(of(f)->path, offset, (size_t)n, false);
	if (part > 0)
		rc = of(f)->real->pMethods->xWrite(of(f)->real, from, part, offset);
	return fails ? plan.code : rc;
}

static int on_truncate(sqlite3_file *f, sqlite3_int64 size)
{
	if (strikes(FAULT_TRUNCATE))
		return plan.code;
	sqlite3_int64 old = 0;
	if (of(f)->path != NULL && of(f)->real->pMethods->xFileSize(of(f)->real, &old) == SQLITE_OK && old > size)
		remember(of(f)->path, size, (size_t)(old - size), false);
	return of(f)->real->pMethods->xTruncate(of(f)->real, size);
}

/* The disk below is left in peace: what counts as synced is kept here. */
static int on_sync(sqlite3_file *f, int flags)
{
	(void)flags;
	if (strikes(FAULT_SYNC))
		return plan.code;
	if (of(f)->path != NULL)
		settle(of(f)->path);
	return SQLITE_OK;
}

static int on_size(sqlite3_file *f, sqlite3_int64 *size)
{
	return of(f)->real->pMethods->xFileSize(of(f)->real, size);
}

static int on_lock(sqlite3_file *f, int level)
{
	return strikes(FAULT_LOCK) ? plan.code : of(f)->real->pMethods->xLock(of(f)->real, level);
}

static int on_unlock(sqlite3_file *f, int level)
{
	return of(f)->real->pMethods->xUnlock(of(f)->real, level);
}

static int on_reserved(sqlite3_file *f, int *out)
{
	return of(f)->real->pMethods->xCheckReservedLock(of(f)->real, out);
}

static int on_control(sqlite3_file *f, int op, void *arg)
{
	return of(f)->real->pMethods->xFileControl(of(f)->real, op, arg);
}

static int on_sector(sqlite3_file *f)
{
	return of(f)->real->pMethods->xSectorSize(of(f)->real);
}

static int on_traits(sqlite3_file *f)
{
	return of(f)->real->pMethods->xDeviceCharacteristics(of(f)->real);
}

/* Version 1: neither shared memory nor mapped files, which the store does not use. */
static const sqlite3_io_methods methods = { 1, on_close, on_read, on_write, on_truncate, on_sync, on_size, on_lock,
	on_unlock, on_reserved, on_control, on_sector, on_traits, NULL, NULL, NULL, NULL, NULL, NULL };

/* ---- the calls on names ---- */

static int on_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *f, int flags, int *out_flags)
{
	int rc;

	(void)vfs;
	f->pMethods = NULL;   /* SQLite then does not close it */
	if (strikes(FAULT_OPEN))
		return plan.code;
	of(f)->real = (sqlite3_file *)(void *)(of(f) + 1);
	rc = below->xOpen(below, name, of(f)->real, flags, out_flags);
	if (rc == SQLITE_OK) {
		of(f)->path = name != NULL ? strdup(name) : NULL;
		f->pMethods = &methods;
	}
	return rc;
}

/* A deletion is on the disk when its folder is; what was pending of the file goes with it. */
static int on_delete(sqlite3_vfs *vfs, const char *name, int sync_folder)
{
	(void)vfs;
	if (strikes(FAULT_DELETE))
		return plan.code;
	if (access(name, F_OK) == 0 && !sync_folder)
		remember(name, 0, 0, true);
	else
		settle(name);
	return below->xDelete(below, name, 0);
}

void fault_install(void)
{
	below = sqlite3_vfs_find(NULL);
	ck_assert(below != NULL && below != &layer);
	layer = *below;
	layer.zName = "fault";
	layer.szOsFile = (int)sizeof(struct file) + below->szOsFile;
	layer.xOpen = on_open;
	layer.xDelete = on_delete;
	ck_assert_int_eq(sqlite3_vfs_register(&layer, 1), SQLITE_OK);
}

const char *fault_real(void)
{
	return below->zName;
}
