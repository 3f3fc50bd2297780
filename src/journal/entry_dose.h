/* entry_dose.h - priming sugar told by the litre, by the bottle or by the piece
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_DOSE_H
#define AB_JOURNAL_ENTRY_DOSE_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/entry.h>

/* The line with "7 g/L" or "3 g per bottle of 500 ml" as the sugar of the whole beer; others as they are. AB_EUSAGE:
 * the bottle's size or the beer's volume is not known, with what to write, and into help->doubt the usual sizes.
 * pieces: sugar by the cube or spoon, which stands in the line as a note now, the line's last sentence. */
enum ab_status entry_dose(const char *words, const struct ab_entry_help *help, struct ab_arena *arena, const char **out,
    bool *pieces, struct ab_diag *diag);

/* ---- what entry_dose.c and entry_pieces.c share ---- */

enum { ENTRY_DOSE_WORDS = 64, ENTRY_DOSE_LONG = 40 };

struct entry_dosing {
	const char *from[ENTRY_DOSE_WORDS]; size_t len[ENTRY_DOSE_WORDS];   /* in the line */
	char word[ENTRY_DOSE_WORDS][ENTRY_DOSE_LONG];                       /* small, without the comma behind */
	size_t n;
	double amount_g, volume_l, size_l;
	size_t amount, amount_n, by, by_n;            /* by: "per bottle", "/ L"; by_n = 0: none */
	bool litre;
};

/* Is the word one of the list? */
bool entry_dose_is(const char *word, const char *const *list);

/* "2 carbonation drops per bottle", "48 bottles, 5 oz": the line as it is to be read, what was counted as a note;
 * *out stays NULL where nothing is. lead: the line says that it is of priming. pieces as above. AB_ENOMEM. */
enum ab_status entry_dose_counted(const struct entry_dosing *d, bool lead, struct ab_arena *arena, const char **out,
    bool *pieces, struct ab_diag *diag);

#endif
