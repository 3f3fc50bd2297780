/* faultvfs.h - a disk that fails when told: SQLite's own file layer with a fault at the k-th call, and power cuts
 *
 * Sits between SQLite and the real file layer. While armed it counts the calls of the kinds asked for and lets the
 * k-th fail, or that one and all after it. What was written and not yet synced is remembered, so that a power cut can
 * take it back; so is a file deleted without its folder being synced.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_FAULTVFS_H
#define AB_TEST_FAULTVFS_H

#include <stdbool.h>

enum fault_kind { FAULT_OPEN = 1, FAULT_READ = 2, FAULT_WRITE = 4, FAULT_SYNC = 8, FAULT_TRUNCATE = 16,
	FAULT_DELETE = 32, FAULT_LOCK = 64, FAULT_ANY = 127 };

/* Makes it SQLite's usual layer from now on; once a process. fault_real names the layer below, for sqlite3_open_v2. */
void fault_install(void);
const char *fault_real(void);

/* From now on the at-th call (from 0) of these kinds fails with this SQLite code; a failing write writes its first
 * half. onward: and all of them after it. */
void fault_arm(unsigned kinds, long at, int code, bool onward);
/* Nothing fails any more; tells whether something did. */
bool fault_disarm(void);

/* Forgets what was written before: it is on the disk. */
void fault_settle(void);
/* Takes back what was not synced, of every `every` things written all but one (1 = everything), newest first. Files
 * must be closed. Tells how many things it took back. */
int fault_power_cut(int every);

#endif
