/* casework.h - what the files of this room hand to each other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_CASEWORK_CASEWORK_H
#define AB_CASEWORK_CASEWORK_H

#include <afterboil/casework.h>

/* The intensity of a fault found that nobody gave one: the middle of the scale. */
#define CASE_UNTOLD_INTENSITY 3.0

/* The slot of a fact, or -1; where the table is the program's own it is known beforehand, and else (a table of a
 * test) looked for. */
int case_slot(const struct ab_fact_table *facts, int usual, const char *name);

/* The place of a tasting word, or -1 and an error that names it and its near words. */
int case_word(const struct ab_knowledge *k, const char *word, const char *source, long line,
    enum ab_status st, struct ab_diag *diag);

/* As ab_case_evidence; intensity (n_faults) gets the mean intensity of each fault found, 0 where none was. */
enum ab_status case_evidence(const struct ab_knowledge *k, const struct ab_batch *batch,
    const struct ab_profile *profile, const struct ab_fact *facts, struct ab_arena *arena,
    struct ab_evidence *out, double *intensity, struct ab_diag *diag);

/* Answers (1 yes, -1 no) the checks that bottles with a mark, tasted beside the others, answer; leaves the rest.
 * Words of the tastings are known to be faults. */
void case_marked(const struct ab_knowledge *k, const struct ab_batch *batch, signed char *answers);

/* The answers of the checks that were done, the last of each, over what answers holds already: one finding is not
 * to speak twice, so a check whose fact is known is passed over. AB_EINPUT: a check the rules do not know. */
enum ab_status case_checks(const struct ab_knowledge *k, const struct ab_batch *batch, const struct ab_fact *facts,
    signed char *answers, struct ab_diag *diag);

/* Fills load, load_low, load_high and fault_load from fault_intensity and the evidence's family. */
void case_load(const struct ab_knowledge *k, struct ab_case *c);

/* Takes out of what is asked and unknown what makes no sense for this beer. */
void case_drop_moot(const struct ab_knowledge *k, struct ab_case *c);

/* Do the facts, told and not guessed, say all that cannot be true together? */
bool case_is_contrary(const struct ab_contrary *contrary, const struct ab_fact *facts);

/* What is to be told of pressure in the vessels it fermented in, and the id of that warning; NULL: nothing (id
 * NULL), or memory was short. */
const char *case_fermenter_says(const struct ab_batch *b, struct ab_arena *arena, const char **id);

/* The change that a remedy was, by its id or in words that fit one only; -1: words that are kept and tell nothing. */
int case_remedy(const struct ab_knowledge *k, const struct ab_remedy *remedy);

/* What counts and has no number, into the case. False: no memory. */
bool case_counted(const struct ab_knowledge *k, struct ab_case *out, struct ab_arena *arena);
/* Fills the diagnosis' warnings. False when memory is short. */
bool case_warnings(const struct ab_knowledge *k, const struct ab_case *c, struct ab_arena *arena);

#endif
