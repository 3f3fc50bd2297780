/* savefile.h - replace a file so that a kill at any moment leaves the old or the new, never a mixture
 *
 * A regular file is written to a temporary file in its own folder, fsync, renamed over, folder fsync; mode is
 * kept and a symbolic link is followed to its target. A device, pipe or /dev/null is written in place and
 * never replaced.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_BASE_SAVEFILE_H
#define AB_BASE_SAVEFILE_H

#include <stddef.h>
#include <afterboil/diag.h>

/* AB_ESYSTEM with the system's reason and the path on failure (nothing changed then, and no temporary file
 * stays). */
enum ab_status ab_savefile(const char *path, const void *data, size_t len, struct ab_diag *diag);

/* The same for a file that must not be there yet: AB_EUSAGE when it is, and it stays as it was. Of two who write
 * one name at once only one succeeds. */
enum ab_status ab_savefile_new(const char *path, const void *data, size_t len, struct ab_diag *diag);

/* Reads a whole regular file or pipe of at most limit bytes into a NUL terminated buffer the caller frees
 * with ab_free. AB_ESYSTEM when it cannot be opened or read, AB_ELIMIT when larger, AB_ENOMEM. */
enum ab_status ab_loadfile(const char *path, size_t limit, char **text, size_t *len, struct ab_diag *diag);

#endif
