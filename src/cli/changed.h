/* changed.h - what the files of afterboil changed hand to each other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_CHANGED_H
#define AB_CLI_CHANGED_H

#include "cli/cli.h"

#include <afterboil/when.h>

/* ---- cmd_changed.c ---- */
/* --profile, else the one of this folder or of the one above. AB_EUSAGE where there is none. */
enum ab_status changed_find(struct cli *cli);

/* ---- changed_note.c ---- */
/* One line a change. Texts come from a file that may be a stranger's: nothing of it may drive a terminal. NULL when
 * memory is short. */
const char *changed_told(struct cli *cli, const struct ab_changed *c);
/* By which a change is known again: all it says, on one line. NULL when memory is short. */
const char *changed_key(struct cli *cli, const struct ab_changed *c);
/* --on, else today. */
enum ab_status changed_day(struct cli *cli, struct ab_when *on);
/* Into the profile, and kept so that it can be taken back. */
enum ab_status changed_write(struct cli *cli, const struct ab_changed *c);
/* The change that the words mean, or one in the brewer's own words, and a line that says so; what is noted already
 * is said. */
enum ab_status changed_note(struct cli *cli, const char *words);

/* ---- changed_undo.c ---- */
enum ab_status changed_undo(struct cli *cli);

/* ---- changed_begin.c ---- */
/* --plan: the promise is filed first: filed twice it does no harm, and a note without it would be held against
 * nothing. */
enum ab_status changed_begin(struct cli *cli);

#endif
