/* entry_dose.h - priming sugar told by the litre or by the bottle
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_DOSE_H
#define AB_JOURNAL_ENTRY_DOSE_H

#include <afterboil/entry.h>

/* The line with "7 g/L" or "3 g per bottle of 500 ml" as the sugar of the whole beer; others as they are. AB_EUSAGE: the
 * bottle's size or the beer's volume is not known, with what to write, and into help->doubt the usual sizes. pieces: sugar by the
 * cube or spoon, which stands in the line as a note now, the line's last sentence. */
enum ab_status entry_dose(const char *words, const struct ab_entry_help *help, struct ab_arena *arena, const char **out,
    bool *pieces, struct ab_diag *diag);

#endif
