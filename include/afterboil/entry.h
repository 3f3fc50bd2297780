/* entry.h - a line of plain words becomes one element of a journal
 *
 * "wort 19.5 C", "gravity 1.020 SG at 22 C", "dry hop 60 g opened lid", "racked into purged keg", "note it smells of
 * apples". A sentence begins with what happened; then come quantities with their units, and words of the journal's
 * own lists, each with the little word it follows ("at", "with", "into", "for", "by") or, where nothing else could
 * be meant, bare.
 *
 * Quantities as people type them ("19,5 degrees", "60g", "1048", "two weeks") are written as a journal has them.
 * "about" marks its figure, "I think" the whole, as a guess. Nothing is guessed at: a word that has no place is an
 * error that says what would have one, and a number that may be two things ("12": Plato or points?) gives both. A
 * temperature without a unit is one of the brewer's own units where these are known, it is usual there, and the number
 * can be nothing
 * else; where they are not known, of the only scale in which it is usual. A slip of one letter that leaves a whole
 * line understood is put right, and the echo says so. A line without a lead ("30 g cascade at 60 min") is taken when
 * only one would make sense of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AFTERBOIL_ENTRY_H
#define AFTERBOIL_ENTRY_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/arena.h>
#include <afterboil/diag.h>
#include <afterboil/field.h>
#include <afterboil/journal.h>
#include <afterboil/when.h>

enum { AB_ENTRY_LIMIT = 1000,   /* bytes of a sentence */
	AB_ENTRY_WAYS = 16 };

/* ---- what was understood ---- */

/* An attribute to set: target as in journal/edit.h, value as text. rough: said with "about" or the like. */
struct ab_entry_set { const char *target, *value; bool rough; };

/* All in the arena. */
struct ab_entry {
	const char *element;            /* XML of what was said */
	const char *echo;               /* what was understood, also of `also`, in words, for the brewer to check */
	const char *name, *title;       /* of the element, and what it is to a reader */
	const char *inside;             /* "recipe" when it belongs in there; NULL: in the batch */
	const char *text;               /* of an element that holds words (a note), as said; or NULL */
	bool once;                      /* a journal has at most one of it */
	bool guess;                     /* all of it, not only a figure */
	/* When there are some, they are set on what the batch has (its family, its recipe), and element only shows
	 * them. */
	const struct ab_entry_set *sets; size_t n_sets;
	/* Every attribute of element, its time, too. */
	const struct ab_entry_set *said; size_t n_said;
	struct ab_when at;              /* when it happened, from the words or as given */
	struct ab_entry *also;          /* a second thing the sentence told ("pitched 1 packet at 18 C"), or NULL */
	/* What was said behind a comma or "and" ("malt 4.2 kg pale, 0.3 kg crystal", "boiled 60 min, cooled to 20
	 * C"), each with its own echo, or NULL. */
	struct ab_entry *next;
};

/* Whole sentences that may have been meant, when it was not plain which: each is understood. */
struct ab_entry_doubt { const char *ways[AB_ENTRY_WAYS]; size_t n; };

/* ---- what only the caller knows ---- */

struct ab_entry_help {
	int units;                          /* whose "degrees" are: 1 metric, 2 US, 0 not known */
	/* The wall clock, for "yesterday 18:00" and "6pm" before or behind what happened; NULL: no such words are
	 * known. */
	const struct ab_when *now;
	/* When it happened, as told beside the line (--at): words of the line that say another time are refused; or
	 * NULL. */
	const struct ab_when *given;
	/* When the yeast went in, for "first signs" seen now and a gravity that can be no original one; or NULL. */
	const struct ab_when *pitched;
	/* The value of the attribute (family, class) that a phrase means, or NULL; of "strain" the name of a yeast that
	 * earlier brews were made with, whose class they tell. May be NULL itself. */
	const char *(*word)(void *ctx, const char *attr, const char *said);
	/* The i-th value that the attribute (class; kind, of a check) may have, NULL beyond the last. With it a
	 * class of yeast that `word` does not know is refused and the choices are named; without it (NULL) any
	 * single word is taken. */
	const char *(*choice)(void *ctx, const char *attr, size_t i);
	void *ctx;
	struct ab_entry_doubt *doubt;       /* filled on AB_EUSAGE; or NULL */
	/* What else is said for words of lists, beside what any line may say: of malts all, for their names are of
	 * the trade and not of a journal. */
	const struct ab_alias *words; size_t n_words;
	/* What "it" is that was put somewhere: 1 the beer is in its fermenter, 2 in bottles or kegs, 0 not known. */
	int packaged;
	double last_sg;                     /* the newest gravity: a forced sample is held against it; 0: not known */
	/* Of the beer packaged, of one bottle: what sugar "a litre" and "a bottle" is turned into the sugar of the
	 * whole beer with, where the words do not tell it, for a journal's priming is always that. And the original
	 * gravity. 0: not known. */
	double volume_l, size_l, og_sg;
};

/* ---- reading ---- */

/* words: the sentence. at: when it happened, for elements that have a time (known = false: none is written). help: or
 * NULL. AB_EUSAGE: not understood, with what would be; AB_ELIMIT: longer than AB_ENTRY_LIMIT; AB_ENOMEM. */
enum ab_status ab_entry_read(const char *words, const struct ab_when *at, const struct ab_entry_help *help,
    struct ab_arena *arena, struct ab_entry **out, struct ab_diag *diag);

/* Why what was understood is hardly so, a sentence, or NULL: priming below 2 or above 12 g/L (common practice), the
 * beer below 0 or above 45 C once the yeast is in, a gravity below 0.990 or above the original one. grave: it cannot
 * be (all but the priming). *nomem: memory was short. */
const char *ab_entry_unlikely(const struct ab_entry *entry, const struct ab_entry_help *help, struct ab_arena *arena,
    bool *grave, bool *nomem);

/* "yesterday 18:00", "6pm", "2 days ago", "day 5": when that was, of one who says it now; pitched: when the yeast went
 * in, or NULL. False, and out untouched, when the words say something else, or no one moment. */
bool ab_entry_when(const char *words, const struct ab_when *now, const struct ab_when *pitched, struct ab_arena *arena,
    struct ab_when *out);

/* The i-th thing that can be said, by its example ("gravity 1.020 SG at 22 C by hydrometer"), in round figures of the
 * units asked for as in ab_entry_help; NULL beyond the last, and when memory is short. */
const char *ab_entry_example(size_t i, int units, struct ab_arena *arena);

/* Text with & < > " as entities and control characters as '?', for attributes and contents of elements; NULL when
 * memory is short. */
const char *ab_entry_escaped(struct ab_arena *arena, const char *text);

/* ---- writing ---- */

/* Writes what was understood into the journal, as ab_journal_append does, with its errors; attributes take the place of
 * those that are there. Of two things told the first is written first, and stays when the second is refused. */
enum ab_status ab_entry_write(const char *path, const char *batch_id, const struct ab_entry *entry,
    struct ab_diag *diag);

/* The same, but of a yeast and of what a batch has once (a pitching, a mash, a boil, a packaging) only what is new is
 * added to what the journal holds already: there is one pitching, which keeps the time it has, and a yeast of another
 * class, or told in a line of its own, stands beside the first (a class told later is that of the one yeast there is).
 * echo: what was written, in words, in the arena. AB_EINPUT also when what is told differs from what was, or adds
 * nothing; then nothing at all is written. */
enum ab_status ab_entry_merge(const char *path, const char *batch_id, const struct ab_entry *entry,
    struct ab_arena *arena, const char **echo, struct ab_diag *diag);

/* Was the batch brewed on a later day than its journal was begun on: is it the first that is told of its brewing
 * (mash, boil, hot stand, chilling, aeration, the yeast that went in, the original gravity), and on a later day?
 * day: that day. A mash or a boil told before holds the day: yeast may go in a day later. */
bool ab_entry_moves_brew(const struct ab_batch *batch, const struct ab_entry *entry, struct ab_when *day);

/* brewed= of the batch becomes that day. Errors as ab_edit_file. */
enum ab_status ab_entry_move_brew(const char *path, const char *batch_id, const struct ab_when *day,
    struct ab_diag *diag);

/* "hops": the element of the recipe that these words alone name, static; NULL when they name none. */
const char *ab_entry_recipe_part(const char *words, struct ab_arena *arena);

/* The last such element is taken out of the recipe again, its XML text in *removed for ab_journal_free. AB_EUSAGE when
 * there is none. */
enum ab_status ab_entry_take_back(const char *path, const char *batch_id, const char *part, char **removed,
    struct ab_diag *diag);

#endif
