/* lock.h - one writer of a folder's files at a time
 *
 * Reading a file, changing it and replacing it (savefile.h) loses what another program wrote between; who takes the
 * lock first does not. The lock is the folder's, since the file itself is replaced. It ends with the process,
 * however that ends.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_LOCK_H
#define AB_BASE_LOCK_H

#include <afterboil/diag.h>

/* Waits for the lock on the folder that holds path (links followed) and gives a descriptor for ab_unlock; -1 where
 * the file system knows no locks: then there is none, and that is no error. AB_ESYSTEM when the folder cannot be
 * opened, AB_ENOMEM. */
enum ab_status ab_lock_beside(const char *path, int *lock, struct ab_diag *diag);
void ab_unlock(int lock);

#endif
