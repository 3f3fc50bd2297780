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
	ENTRY_BREATH,     /* all up to the next comma, if neither temperature nor gravity is in it; a row may lack it */
	ENTRY_PIECES,     /* how many bottles or the like there were, and how large: kept as a note */
	ENTRY_COLOUR,     /* the colour a malt is sold by, behind its kind ("crystal 40"): a name of both */
};

/* One thing a sentence may hold. */
struct entry_slot {
	enum entry_kind kind;
	const char *keys;               /* one of the little words before it, with '|' between; "": none is needed */
	const char *attr;               /* "~": the journal has none, and it is a note, behind the words after "~" */
	enum ab_dim dim;
	const char *const *words;
	const char *fixed;
	/* Of a temperature, what it usually is (degrees C): in there a number without its unit is one of the units
	 * the brewer likes, where it can be nothing else; 0 and 0: never. */
	double lo, hi;
	/* Words of which one may stand behind the value in place of a little word before it, with '|' between
	 * ("old"); or NULL. Of pieces what they are. */
	const char *behind;
};

enum { ENTRY_SLOTS = 16 };

/* When a sentence means what it does: "put it in the closet" is one thing while the beer ferments and another
 * afterwards. */
enum entry_stage {
	ENTRY_ANY_TIME,
	ENTRY_FERMENTING, /* only where it is known not to be packaged */
	ENTRY_PACKAGED,   /* not there */
	ENTRY_YEAST_IN    /* the yeast is known to be in, and nothing to be packaged */
};

struct entry_row {
	const char *leads;      /* how it may begin, with '|' between; longest first where one begins another */
	const char *element;
	const char *fixed;      /* attributes that are always written */
	const char *at;         /* the attribute of the time, or NULL */
	const char *title, *example;
	const char *fillers;    /* words to pass over here */
	bool once;
	bool need;              /* the sentence must hold at least one slot */
	bool text;              /* the rest is the element's content, not attributes */
	const char *inside;     /* "recipe" for a part of it */
	bool sets;              /* attributes of what is there (the recipe, the batch) */
	const char *with;       /* the element that such a sentence may tell of as well */
	unsigned bare;          /* the dimensions (1 << dim) of which a quantity may stand there without a lead */
	const char *nouns;      /* show that it is of this row where there is no lead; of several the longest do */
	const char *only;       /* words of which one must stand behind the lead in one breath; NULL: none must */
	const char *never;      /* and of which none may stand there then */
	enum entry_stage stage;
	/* The lead of what a quantity of then_dim begins behind it, if none of never was said before ("kegged at 12
	 * psi"); or NULL. */
	const char *then;
	enum ab_dim then_dim;
	double below_c;         /* the temperature of the first slot must be said and lie below that; 0: it need not */
	struct entry_slot slots[ENTRY_SLOTS];
};

/* The title of the row of a forced sample that may be on its way still. */
#define ENTRY_FORCED_READ "a forced sample"

/* The rows by what they tell of, one table a file; short names for what stands in them are in entry_slots.h. */
struct entry_table { const struct entry_row *rows; size_t n; };
extern const struct entry_table entry_rows_brewday, entry_rows_ferment, entry_rows_package, entry_rows_mash,
    entry_rows_recipe;

/* The i-th of all, in the order in which they are tried and shown; NULL beyond the last. */
const struct entry_row *entry_row(size_t i);

/* ---- entry_aliases.c ---- */

/* Words brewers use for those of the lists; more of them, as names of malts, come with what the caller knows
 * (ab_entry_help). */
extern const struct ab_alias entry_aliases[];
extern const size_t n_entry_aliases;

/* Words in a line about element that may mean two things: which, and how each would be said. */
struct entry_ask { const char *element, *said, *which, *ways[2]; };
extern const struct entry_ask entry_asks[];
extern const size_t n_entry_asks;

#endif
