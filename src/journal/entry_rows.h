/* entry_rows.h - what can be said in a line of plain words, as a table
 *
 * To add a sentence: a row in one of entry_rows_*.c, and one in tests/unit/check_entry.c that reads it back.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_ROWS_H
#define AB_JOURNAL_ENTRY_ROWS_H

#include <stdbool.h>
#include <stddef.h>
#include <afterboil/entry.h>
#include <afterboil/quantity.h>

enum entry_kind {
	ENTRY_NONE,       /* ends the slots of a row */
	ENTRY_QUANTITY,   /* of dim */
	ENTRY_NUMBER,     /* a bare whole number */
	ENTRY_WORD,       /* of a list of the journal, or of those that aliases add */
	ENTRY_BOILED,     /* how long a hop was boiled: a word of the list of hop uses */
	ENTRY_FIXED,      /* the key alone says it: attr="fixed" */
	ENTRY_ID,         /* a word of letters, digits, '.', '_', '-' */
	ENTRY_NAME,       /* a name of one to three words, each with a capital: "East Hill" */
	ENTRY_REST,       /* everything that is left */
	ENTRY_BREATH,     /* everything up to the next comma, if no temperature and no gravity is in it; the row may go without */
	ENTRY_PIECES,     /* how many bottles or the like there were, and how large: kept as a note */
	ENTRY_COLOUR,     /* the colour a malt is sold by, behind its kind ("crystal 40"): a name of both */
};

/* One thing a sentence may hold. keys: the little words before it, one of them, with '|' between; "" = none
 * needed. lo, hi: of a temperature, what it usually is (degrees C): in there a number without its unit is one of the units
 * the brewer likes, where it can be nothing else; 0 and 0: never. behind: words of which one may stand behind the value in place of a little word
 * before it, with '|' between ("old"); or NULL; of pieces what they are. attr: with "~" the journal has none for it, and the value stands in a note, after the
 * words behind the "~". */
struct entry_slot {
	enum entry_kind kind;
	const char *keys, *attr;
	enum ab_dim dim;
	const char *const *words;
	const char *fixed;
	double lo, hi;
	const char *behind;
};

enum { ENTRY_SLOTS = 16 };

/* leads: how the sentence may begin, longest first where one begins another, with '|' between. fixed:
 * attributes that are always written. at: the attribute of the time, or NULL. need: the sentence must hold at
 * least one slot. text: the rest is the element's content, not attributes. fillers: words to pass over here. inside:
 * "recipe" for a part of it. sets: attributes of what is there (the recipe, the batch). with: the element that such a
 * sentence may tell of as well. bare: the dimensions (1 << dim) of which a quantity may stand there without a lead.
 * nouns: words that show it is of this row where there is no lead; of several rows those with the longest. only: words of
 * which one must stand behind the lead in one breath, or it is none; NULL: none must. never: words of which none may stand there then. stage: where
 * "put it in the closet" means one thing while it ferments and another afterwards. then: the lead of what a quantity of then_dim begins behind
 * it, if none of never was said before ("kegged at 12 psi"); or NULL. below_c: the temperature of the first slot must be said and lie below that; 0: it
 * need not. */
enum entry_stage { ENTRY_ANY_TIME, ENTRY_FERMENTING /* only where it is known not to be packaged */, ENTRY_PACKAGED /* not there */,
	ENTRY_YEAST_IN /* the yeast is known to be in, and nothing to be packaged */ };

struct entry_row {
	const char *leads, *element, *fixed, *at, *title, *example, *fillers;
	bool once, need, text;
	const char *inside;
	bool sets;
	const char *with;
	unsigned bare;
	const char *nouns, *only, *never;
	enum entry_stage stage;
	const char *then;
	enum ab_dim then_dim;
	double below_c;
	struct entry_slot slots[ENTRY_SLOTS];
};

/* The title of the row of a forced sample that may be on its way still. */
#define ENTRY_FORCED_READ "a forced sample"

/* The rows by what they tell of, one table a file; short names for what stands in them are in entry_slots.h. */
struct entry_table { const struct entry_row *rows; size_t n; };
extern const struct entry_table entry_rows_brewday, entry_rows_ferment, entry_rows_package, entry_rows_mash, entry_rows_recipe;

/* The i-th of all, in the order in which they are tried and shown; NULL beyond the last. */
const struct entry_row *entry_row(size_t i);

/* ---- entry_aliases.c ---- */

/* Words brewers use for those of the lists; more of them, as names of malts, come with what the caller knows (ab_entry_help). */
extern const struct ab_entry_word entry_aliases[];
extern const size_t n_entry_aliases;

/* Words in a line about element that may mean two things: which, and how each would be said. */
struct entry_ask { const char *element, *said, *which, *ways[2]; };
extern const struct entry_ask entry_asks[];
extern const size_t n_entry_asks;

#endif
