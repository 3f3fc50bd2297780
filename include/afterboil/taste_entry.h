/* taste_entry.h - what was tasted, in plain words, becomes one element of a journal
 *
 * "buttery 3, green apple 1, no sour": a fault in the rules' tasting words with its intensity 1 to 5 (3 when not
 * told; "slight" is 1, "strong" 4), or "no", "not" or "without" before one that was looked for and not found;
 * commas, semicolons or "and" between. "nothing" or "clean" alone: no fault at all; "nothing else" beside some: all
 * else was looked for too. "one bottle only", "not in all bottles", "only from the tap", "first glass only": who
 * has it, of the fault it stands with or, between commas, of all.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_TASTE_ENTRY_H
#define AFTERBOIL_TASTE_ENTRY_H

#include <afterboil/entry.h>
#include <afterboil/knowledge.h>

/* complete: all faults were considered. by: the taster, or NULL. score: "32/50", or NULL. note: free text, or
 * NULL. mark: what the bottle was marked for, or NULL.
 * next_time: what to do differently, or NULL. */
struct ab_tasting_more {
	bool complete;
	const char *by, *score, *note, *mark, *next_time;
};

/* Errors as ab_entry_read; AB_EUSAGE names words near one that is none of the vocabulary. */
enum ab_status ab_tasting_read(const struct ab_knowledge *k, const char *words,
    const struct ab_tasting_more *more, const struct ab_when *at, struct ab_arena *arena,
    struct ab_entry **out, struct ab_diag *diag);

#endif
