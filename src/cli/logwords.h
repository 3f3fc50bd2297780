/* logwords.h - what the files of afterboil log hand to each other: a line is read, what it means beyond its words,
 * how it is written
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CLI_LOGWORDS_H
#define AB_CLI_LOGWORDS_H

#include "cli/cli.h"

#include <afterboil/entry.h>
#include <afterboil/undo.h>

/* ---- logread.c ---- */
/* --at, else now; "18:30" is today's. AB_EUSAGE. */
enum ab_status log_moment(struct cli *cli, const struct ab_batch *batch, struct ab_when *when);
/* What may be meant in two ways is asked at a terminal. As ab_entry_read. */
enum ab_status log_understand(struct cli *cli, const struct ab_batch *batch, const char *words,
    const struct ab_when *when, struct ab_entry **entry);
/* What can hardly be is asked at a terminal; elsewhere what cannot be is refused, and the rest is noted. */
enum ab_status log_doubt(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry);

/* ---- logwrite.c ---- */
/* All of it, and said; then what bottles may do now. kind: the command; words: as typed. Kept, so that it can be
 * taken back, even where only its beginning was taken. */
enum ab_status log_write(struct cli *cli, const struct ab_batch *batch, const struct ab_entry *entry, const char *kind,
    const char *words);

/* ---- logwords.c ---- */
/* "volume 19 L" of a beer that is packaged is how much of that there was, and the recipe stays as it was planned; of
 * one that is fermenting it may be either: AB_EUSAGE. "recipe 19 L" always changes the recipe. */
enum ab_status log_which_volume(struct cli *cli, const struct ab_batch *batch, const char *words,
    struct ab_entry *entry);

/* "done wash bottles": in the calendar's own words from here on. What must be told with its figures is not taken
 * without: AB_EUSAGE, as of a name the calendar does not have. */
enum ab_status log_which_touch(struct cli *cli, const struct ab_batch *batch, const char **words);

/* "changed tub of water": by the id of the rules where they know it, and taken out of what is written where the batch's
 * journal or the profile notes it already, which is said: noted twice it would be two changes. */
enum ab_status log_which_change(struct cli *cli, const struct ab_batch *batch, struct ab_entry **entry);

/* ---- undoing.c ---- */
/* undo_watch before something is written into the file, undo_keep after it, well (st) or not: of what, kind (the
 * command), batch (its id) and words are told, and whether it goes on. What cannot be kept is said once it is
 * written, and is no error. */
struct undoing { struct ab_undo *undo; struct ab_diag why; };
void undo_watch(const char *path, struct undoing *u);
void undo_keep(struct undoing *u, enum ab_status st, const struct ab_undo_entry *what);
/* log and taste --undo: the last entry of the batch, or words: the last line of that part of the recipe. */
enum ab_status undo_entry(struct cli *cli, const struct ab_batch *batch, const char *words, bool tasting);
/* Which batch had the newest entry in the folder: where none is named. */
enum ab_status undo_which(struct cli *cli, const struct ab_batch **batch);

#endif
