/* entry_slots.h - short names in which the tables of sentences are written, and words that several of them share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_SLOTS_H
#define AB_JOURNAL_ENTRY_SLOTS_H

#include "journal/entry_rows.h"

#define Q(keys, attr, dim) { ENTRY_QUANTITY, keys, attr, dim, NULL, NULL, 0, 0, NULL }

/* A temperature, and what it usually is: working estimates. */
#define T(keys, attr, lo, hi) { ENTRY_QUANTITY, keys, attr, AB_DIM_TEMP, NULL, NULL, lo, hi, NULL }
#define BEER(keys, attr) T(keys, attr, -3, 45)
#define ROOM(keys, attr) T(keys, attr, -6, 45)
#define N(keys, attr) { ENTRY_NUMBER, keys, attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define AGE(attr) { ENTRY_QUANTITY, "aged|age", attr, AB_DIM_TIME, NULL, NULL, 0, 0, "old|of age" }

/* "a 1 quart starter", "2.5 cm headspace" */
#define BEHIND(keys, attr, dim, behind) { ENTRY_QUANTITY, keys, attr, dim, NULL, NULL, 0, 0, behind }
#define W(keys, attr, words) { ENTRY_WORD, keys, attr, AB_DIM_NONE, words, NULL, 0, 0, NULL }
#define F(keys, attr, fixed) { ENTRY_FIXED, keys, attr, AB_DIM_NONE, NULL, fixed, 0, 0, NULL }
#define ID(keys, attr) { ENTRY_ID, keys, attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }

/* Kit with a name of its own, so that a bad piece shows up in the records: "the fermenter named red". */
#define NAMED ID("named|called|number|nr|id", "id")
#define NAME(attr) { ENTRY_NAME, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define B(keys, attr, words) { ENTRY_BOILED, keys, attr, AB_DIM_NONE, words, NULL, 0, 0, NULL }
#define REST(attr) { ENTRY_REST, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }

/* The journal has no place for it, and it stands in a note: "~" and by which words. */
#define NOTED(keys, words, dim) Q(keys, "~" words, dim)

/* How many there were, and how large: "38 bottles, 2 short", "40 x 500 mL". */
#define PIECES(of) { ENTRY_PIECES, "", "~", AB_DIM_NONE, NULL, NULL, 0, 0, of }

/* As BREATH, with its temperatures and gravities: the journal has no place for these either. */
#define BREATH_ALL { ENTRY_BREATH, "", NULL, AB_DIM_NONE, NULL, "all", 0, 0, NULL }
#define BREATH { ENTRY_BREATH, "", NULL, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define COLOUR(attr) { ENTRY_COLOUR, "", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }
#define CALLED(attr) \
	{ ENTRY_NAME, "called|named|strain", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }, { ENTRY_ID, \
	"called|named|strain", attr, AB_DIM_NONE, NULL, NULL, 0, 0, NULL }

/* inside, sets, with, bare, nouns, only, never, stage, then, then_dim, below_c */
#define ROW_PLAIN NULL, false, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_RECIPE "recipe", false, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_SETS NULL, true, NULL, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_WITH(element) NULL, false, element, 0, "", NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_THEN(then, dim, never) NULL, false, NULL, 0, "", NULL, never, ENTRY_ANY_TIME, then, dim, 0
#define ROW_BARE(dim, nouns) NULL, false, NULL, 1u << (dim), nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_NAMED(nouns) NULL, false, NULL, 0, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_ONLY(words, never) NULL, false, NULL, 0, "", words, never, ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_WHILE(stage, words, never) NULL, false, NULL, 0, "", words, never, stage, NULL, AB_DIM_NONE, 0
#define ROW_COLD(stage, words, never, below) NULL, false, NULL, 0, "", words, never, stage, NULL, AB_DIM_NONE, below
#define ROW_WHILE_NAMED(stage, nouns, words, never) \
	NULL, false, NULL, 0, nouns, words, never, stage, NULL, AB_DIM_NONE, 0
#define ROW_IN_RECIPE(nouns) \
	"recipe", false, NULL, 1u << AB_DIM_MASS, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0
#define ROW_SETS_NAMED(nouns) NULL, true, NULL, 1u, nouns, NULL, "", ENTRY_ANY_TIME, NULL, AB_DIM_NONE, 0

/* Words between the things said that add nothing. */
#define SMALL \
	"of the a an in into to with at and was is it its on from for some took lasted now up we i my after then " \
	"this still again yet already just only really actually exactly there here it's had has have been be were " \
	"are so today"

/* Where a fermenter stands or bottles do, between words of a line and as what may be found there. */
#define PLACES \
	"cellar basement garage kitchen closet shed bathroom bedroom pantry hallway attic loft laundry utility " \
	"spare upstairs downstairs corner cupboard wardrobe "
#define A_PLACE \
	"cellar|basement|garage|kitchen|closet|shed|bathroom|bedroom|pantry|hallway|attic|loft|laundry room|" \
	"utility room|spare room|upstairs|downstairs|corner|cupboard|wardrobe"
/* What a temperature or a pressure is set by, and to. */
#define TURNED_TO "to|up to|down to|back to|back up to|back down to|slowly to"
#define SET "set|turned|turned up|turned down|lowered|raised|bumped|dropped|cranked|reduced"

#endif
