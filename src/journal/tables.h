/* tables.h - which elements and attributes a journal and a profile may hold
 *
 * The reader (base/record.h), the resolving of times, the checks and the schemas in rules/ all follow these
 * tables. To add an attribute: a member in afterboil/journal.h with its comment, a row in tables*.c, `make
 * schemas`, a row in check_journal.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_TABLES_H
#define AB_JOURNAL_TABLES_H

#include "base/record.h"

#define AB_JOURNAL_NS "urn:afterboil:journal:1"
#define AB_PROFILE_NS "urn:afterboil:profile:1"

/* Rows of an attribute table; T is the struct without its "struct ". */
#define AB_ROW(T, name, kind, member, dim, words, lo, hi, required) \
	{ name, kind, offsetof(struct T, member), dim, words, lo, hi, required, sizeof name }
#define AB_A_TEXT(T, name, member) AB_ROW(T, name, AB_ATTR_TEXT, member, 0, NULL, 0, 0, false)
#define AB_A_ID(T, name, member) AB_ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, false)
#define AB_A_NEED_ID(T, name, member) AB_ROW(T, name, AB_ATTR_ID, member, 0, NULL, 0, 0, true)
/* the bounds last, as two numbers or one macro of two */
#define AB_A_Q(T, name, member, dim, ...) AB_ROW(T, name, AB_ATTR_QUANTITY, member, dim, NULL, \
    __VA_ARGS__, false)
#define AB_A_N(T, name, member, lo, hi) AB_ROW(T, name, AB_ATTR_NUMBER, member, AB_DIM_NONE, NULL, \
    lo, hi, false)
#define AB_A_WORD(T, name, member, words) AB_ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, false)
#define AB_A_NEED_WORD(T, name, member, words) AB_ROW(T, name, AB_ATTR_WORD, member, 0, words, 0, 0, true)
#define AB_A_YESNO(T, name, member) AB_ROW(T, name, AB_ATTR_YESNO, member, 0, NULL, 0, 0, false)
#define AB_A_WHEN(T, name, member) AB_ROW(T, name, AB_ATTR_WHEN, member, 0, NULL, 0, 0, false)
#define AB_A_DATE(T, name, member) AB_ROW(T, name, AB_ATTR_DATE, member, 0, NULL, 0, 0, false)
#define AB_A_END { NULL, AB_ATTR_TEXT, 0, 0, NULL, 0, 0, false, 0 }

/* Rows of an element table: T its own struct, P its parent's. */
#define AB_E_MANY(P, member, T, name, attrs, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), true, false, attrs, NULL, true, false, 0, says }
#define AB_E_ONE(P, member, T, name, attrs, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), false, false, attrs, NULL, true, \
	    false, 0, says }
#define AB_E_TEXT(P, member, T, name, attrs, many, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), many, false, attrs, NULL, true, true, \
	    offsetof(struct T, text), says }
#define AB_E_HOLDS(P, member, T, name, attrs, children, many, says) \
	{ name, sizeof(struct T), offsetof(struct P, member), many, false, attrs, children, true, \
	    false, 0, says }
#define AB_E_END { NULL, 0, 0, false, false, NULL, NULL, false, false, 0, NULL }

/* What <batch> and <usual> hold, and the documents. */
extern const struct ab_elem_spec ab_batch_children[];
/* What people also say for words of the lists (entry_aliases.c): the second only where an attribute tells what it
 * is about, and never in a line of plain words. */
extern const struct ab_alias ab_written_aliases[];
extern const struct ab_by_hand ab_by_hand;
extern const struct ab_record_doc ab_journal_doc;
extern const struct ab_record_doc ab_profile_doc;

/* Every word list with its name ("family" for ab_words_family), ends with name == NULL. */
struct ab_word_list { const char *name; const char *const *words; };
extern const struct ab_word_list ab_word_lists[];

#endif
