/* entry.h - a line of plain words becomes one element of a journal
 *
 * "wort 19.5 C", "gravity 1.020 SG at 22 C", "dry hop 60 g opened lid", "racked into purged keg", "note it
 * smells of apples". A sentence begins with what happened; then come quantities with their units, and words
 * of the journal's own lists, each with the little word it follows ("at", "with", "into", "for", "by") or,
 * where nothing else could be meant, bare. "about" marks the whole as a guess. Nothing is guessed at: a word
 * that has no place is an error that says what would have one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_ENTRY_H
#define AFTERBOIL_ENTRY_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/when.h>

enum { AB_ENTRY_LIMIT = 1000 };   /* bytes of a sentence */

/* All in the arena. element: XML for ab_journal_append. echo: what was understood, in words, for the brewer
 * to check. name: of the element. once: a journal has at most one of it. */
struct ab_entry { const char *element, *echo, *name; bool once; };

/* words: the sentence. at: when it happened, for elements that have a time (known = false: none is written).
 * AB_EUSAGE: not understood, with what would be; AB_ELIMIT: longer than AB_ENTRY_LIMIT; AB_ENOMEM. */
enum ab_status ab_entry_read(const char *words, const struct ab_when *at, struct ab_arena *arena,
    struct ab_entry **out, struct ab_diag *diag);

/* The i-th thing that can be said, by its example ("gravity 1.020 SG at 22 C by hydrometer"); NULL beyond the
 * last. */
const char *ab_entry_example(size_t i);

/* Text with & < > " as entities and control characters as '?', for attributes and contents of elements; NULL
 * when memory is short. */
const char *ab_entry_escaped(struct ab_arena *arena, const char *text);

#endif
