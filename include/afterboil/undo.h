/* undo.h - the last entries into the journals of a folder, and how they are taken back
 *
 * Each entry is kept as what stood where it changed the file, with the digests (SHA-256) of the file before and
 * after, in the file AB_UNDO_NAME beside the journals. An entry is taken back byte for byte, and only from a file
 * that is as the entry left it: what somebody else wrote since is never lost. Entries of one journal go back one by
 * one, newest first, as far as nobody else wrote between them; what was typed in one sitting goes back as one. A
 * journal that was begun goes as a whole file. About AB_UNDO_LIMIT bytes are kept.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_UNDO_H
#define AFTERBOIL_UNDO_H

#include <stdbool.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>

#define AB_UNDO_NAME ".afterboil-undo"
/* The kind of what is noted in a profile: that is no entry into a journal. */
#define AB_UNDO_CHANGED "changed"
enum { AB_UNDO_LIMIT = 256 * 1024 };

/* kind: the command, a word of at most 15 letters. file: the journal's name in its folder. words: as they were
 * typed. at: when, without blanks, at most 31 letters. goes_on: of the same sitting as the entry before of this
 * kind: both are one, unless somebody else wrote between. begun: the journal was begun with it. What is read from
 * the file may be a stranger's: words and names are scrubbed of control characters. */
struct ab_undo_entry { const char *kind, *file, *batch, *words, *at; bool goes_on, begun; };

/* Before an entry: remembers the journal as it is (or that there is none), and holds the trail, so that of two who
 * write at once each is kept as its own entry. AB_ESYSTEM, AB_EINPUT (the trail is none), AB_ELIMIT, AB_ENOMEM:
 * *out is NULL then, and the entry can be made without. */
struct ab_undo;
enum ab_status ab_undo_begin(const char *path, struct ab_undo **out, struct ab_diag *diag);
/* After it: keeps what was changed since, if anything was. Frees it, whatever happens (NULL: nothing is done).
 * Errors as above. */
enum ab_status ab_undo_end(struct ab_undo *undo, const struct ab_undo_entry *entry, struct ab_diag *diag);

/* The newest entry into any journal of the folder that `beside` lies in. AB_EUSAGE when there is none. */
enum ab_status ab_undo_newest(
    const char *beside, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag);
/* The same of this journal alone. */
enum ab_status ab_undo_last(const char *path, struct ab_arena *arena, struct ab_undo_entry *out, struct ab_diag *diag);
/* Takes the newest entry of this journal back and says which it was, in the arena. batch, kind: AB_EUSAGE when it
 * is of another batch in the file or not of that kind (NULL: any kind). AB_EUSAGE too when there is none, or the
 * file is not as the entry left it; else errors as of ab_journal_append. Nothing is changed then. */
enum ab_status ab_undo_take(const char *path, const char *batch, const char *kind, struct ab_arena *arena,
    struct ab_undo_entry *out, struct ab_diag *diag);

/* Is an entry of that kind with these words kept of the file? forget: the newest such is, from now on, not. Errors
 * as ab_undo_begin. */
enum ab_status ab_undo_kept(
    const char *path, const char *kind, const char *words, bool forget, bool *kept, struct ab_diag *diag);

#endif
