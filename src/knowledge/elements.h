/* elements.h - short names in which the tables of rules files are written, and the tables they are made of
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_KNOWLEDGE_ELEMENTS_H
#define AB_KNOWLEDGE_ELEMENTS_H

#include "knowledge/raw.h"

/* Short names, since the tables below are read as tables: one row an attribute. The macros without MAY_
 * need the attribute. */
#define ROW(T, name, kind, member, dim, words, lo, hi, must) { name, kind, offsetof(struct T, member), dim, \
    words, lo, hi, must, sizeof name }
#define TEXT(T, name, member) ROW(T, name, AB_ATTR_TEXT, member, 0, NULL, 0, 0, false)
#define SAYS(T, name, member) ROW(T, name, AB_ATTR_TEXT, member, 0, NULL, 0, 0, true)
#define ID(T, name, member) ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, true)
#define MAY_ID(T, name, member) ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, false)
#define NUM(T, name, member, lo, hi) ROW(T, name, AB_ATTR_NUMBER, member, AB_DIM_NONE, NULL, lo, hi, true)
#define MAY_NUM(T, name, member, lo, hi) ROW(T, name, AB_ATTR_NUMBER, member, AB_DIM_NONE, NULL, \
    lo, hi, false)
#define QTY(T, name, member, dim, lo, hi) ROW(T, name, AB_ATTR_QUANTITY, member, dim, NULL, lo, hi, true)
#define WORD(T, name, member, words) ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, true)
#define MAY_WORD(T, name, member, words) ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, false)
#define YESNO(T, name, member) ROW(T, name, AB_ATTR_YESNO, member, 0, NULL, 0, 0, false)
#define HEAD(T) ID(T, "id", head.id), YESNO(T, "replace", head.replace)
#define SOURCE(T) SAYS(T, "source", source)
#define END { NULL, AB_ATTR_TEXT, 0, 0, NULL, 0, 0, false, 0 }

/* Rows of elements: MANY may come any number of times, NEEDS at least once, SENTENCE at most once. None
 * takes guess="yes": rules do not guess, they name a source. */
#define MANY(P, member, T, name, attrs, children, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), true, false, attrs, children, false, \
	    false, 0, says }
#define NEEDS(P, member, T, name, attrs, children, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), true, true, attrs, children, false, \
	    false, 0, says }
#define WORDS(P, member, name, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), true, false, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define NEEDS_WORDS(P, member, name, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), true, true, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define SENTENCE(P, member, name, must, says) \
	{ name, sizeof(struct raw_text), offsetof(struct P, member), false, must, NULL, NULL, false, true, \
	  offsetof(struct raw_text, text), says }
#define NO_MORE { NULL, 0, 0, false, false, NULL, NULL, false, false, 0, NULL }

/* Conditions, which many elements hold; of shares, in <only-for> and <not-for>, and of what is told instead. */
extern const struct ab_attr_spec rules_when_attrs[], rules_tell_attrs[];
extern const struct ab_elem_spec rules_whens_children[], rules_share_children[], rules_tell_children[];
#define WHEN_SAYS "a condition on a fact; all must hold"
#define WHENS(T) MANY(T, whens, raw_when, "when", rules_when_attrs, NULL, WHEN_SAYS)
#define NEEDS_WHENS(T) NEEDS(T, whens, raw_when, "when", rules_when_attrs, NULL, WHEN_SAYS)

/* ---- elements_doing.c ---- */
extern const struct ab_attr_spec rules_box_attrs[], rules_change_attrs[], rules_check_attrs[],
    rules_touch_attrs[], rules_chore_attrs[], rules_thing_attrs[];
extern const struct ab_elem_spec rules_box_children[], rules_change_children[], rules_check_children[],
    rules_touch_children[], rules_chore_children[], rules_thing_children[];

/* ---- elements_norms.c ---- */
extern const struct ab_attr_spec rules_family_attrs[], rules_yeast_attrs[], rules_sanitiser_attrs[],
    rules_bottle_attrs[], rules_malt_attrs[], rules_number_attrs[];
extern const struct ab_elem_spec rules_family_children[], rules_malt_children[];

#endif
