/* entry_values.h - a sentence in words, and what stands at one of them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ENTRY_VALUES_H
#define AB_JOURNAL_ENTRY_VALUES_H

#include <afterboil/entry.h>
#include "base/str.h"
#include "journal/entry_rows.h"

/* JOINED: words of one value ("in the freezer"). CASE: the bit in which a small letter differs from its capital. */
enum { ENTRY_WORDS = 64, ENTRY_PARTS = 2, ENTRY_ITEMS = 8, ENTRY_JOINED = 3, ENTRY_CASE = 'a' ^ 'A' };

/* What is said of one element. A sentence may tell of two: the yeast, and that it went in. */
struct entry_part {
	const struct entry_row *row;
	bool used[ENTRY_SLOTS], any;
	struct ab_str xml;
	struct ab_entry_set sets[ENTRY_SLOTS]; size_t n_sets;
};

struct sentence {
	const char *said;                   /* the whole, as written */
	const char *word[ENTRY_WORDS];      /* in the arena, as written */
	const char *raw[ENTRY_WORDS];       /* where each begins in what was said */
	size_t n, at, lead, taken;          /* behind the lead, and behind the last that a slot took */
	bool breath[ENTRY_WORDS];           /* a comma or the like stands before it */
	int mends;                          /* slips of the hand put right so far */
	int trying;                         /* is it understood? Nothing else is asked, by so many, one in the other */
	bool more, guess;                   /* more: it goes on beyond the last of these words; guess: all of it is */
	bool about, any_rough;              /* the next figure is rough; one was */
	struct ab_when when;                /* said in it; known = false: it was not */
	struct entry_part part[ENTRY_PARTS]; size_t n_parts;
	struct ab_str echo;
	const char *aside;                  /* what the journal has no attribute for: a note, or NULL */
	const char *more_items[ENTRY_ITEMS]; size_t n_items;   /* of gear, behind the first: all was done with each */
	const struct ab_entry_help *help;   /* or NULL */
	struct ab_arena *arena;
};

/* The line into words. A comma between two things said is only breath, and so are a colon, a full stop at the end
 * and the "=" of "OG=1.048"; one inside a number is not ours to mend. False when memory is short. */
bool entry_cut(struct sentence *s, const char *words);

/* How many words from `at` on spell one of the phrases ("a|b c"), the longest; 0 when none does. empty: one of them is
 * the empty one. */
size_t entry_one_of(const struct sentence *s, size_t at, const char *phrases, bool *empty);

/* The i-th word that brewers use for one of a list: the house's own first, then those of help; NULL beyond the last. */
const struct ab_alias *entry_alias_at(const struct sentence *s, size_t i);
/* Do the words say it? Names of malts ("Maris-Otter", "pale-ale") go with a hyphen or without. */
bool entry_is_alias(const char *text, const struct ab_alias *a);

/* How many words the value of the slot takes from `at` on, and what is written; 0: no such value stands there. */
size_t entry_value(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value);

/* The word of the list that the text is, whatever its capitals; NULL. */
const char *entry_of_list(const char *text, const char *const *words);
/* A name: with capitals, or in plain small letters where nothing else could be meant. */
size_t entry_name(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value);

/* "38 bottles, 2 short", "40 x 500 mL": how many words; size: how large, or NULL. */
size_t entry_pieces(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value,
    const char **size);

/* The same of a quantity; of one whose journal has no unit ("2 packs"); and of a hop by how long it was boiled: what
 * it is for. */
size_t entry_quantity(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value);
size_t entry_count_of(const struct sentence *s, const struct entry_slot *slot, size_t at, const char **value);
size_t entry_hop_use(const struct sentence *s, size_t at, const struct entry_slot *slot, const char **value);

/* Is the word one of those ("of the a")? */
bool entry_is_filler(const char *fillers, const char *word);

/* "about" and the like: what is said is a guess. */
bool entry_is_guess(const char *word);

/* The words [at, at + n) with one blank between; NULL when there are not so many, or memory is short. */
const char *entry_joined(const struct sentence *s, size_t at, size_t n);

/* The words from `at` on that say when it happened ("yesterday at 18:30"), and that; 0 when they say none, or help
 * knows no now. *why: which moment is not plain, with what would be; "" when memory is short. */
size_t entry_when_at(const struct sentence *s, size_t at, struct ab_when *out, const char **why);

/* Did the words [at, at + n) give a range, of which the value is the middle, or a number that says it is none
 * exactly? */
bool entry_is_rough(const struct sentence *s, size_t at, size_t n);

/* Is the word there a gravity and nothing else, with a unit or without? */
bool entry_is_gravity(const struct sentence *s, size_t at);

/* Is a length of time said anywhere in it? */
bool entry_has_time(const struct sentence *s);

/* The row whose lead stands at `at`, the longest, and how many words it has; NULL when none does. */
const struct entry_row *entry_row_at(const struct sentence *s, size_t at, size_t *n);

/* Is the line understood? AB_ENOMEM, or what ab_entry_read says; nothing is offered, and no way without a lead is
 * tried. */
enum ab_status entry_understood(const struct sentence *s, const char *line);

/* How the sentence could begin, of those that do not: whole lines ("hops 60 g cascade"), into ways. ENTRY_NOMEM when
 * memory is short. */
#define ENTRY_NOMEM ((size_t)-1)
size_t entry_ways(const struct sentence *s, const char *ways[AB_ENTRY_WAYS]);

/* Adds the line to those that are understood. AB_ENOMEM, also of a line that is NULL. */
enum ab_status entry_try_line(const struct sentence *s, const char *line, const char **lines, size_t *n);

/* Does one of the words [from, to) tell of what is meant to be, of others or of a purchase ("will", "bought", "next
 * time", "he")? That is no record. */
bool entry_is_elsewise(const struct sentence *s, size_t from, size_t to);

/* Is the line a question? */
bool entry_asks_back(const struct sentence *s);

/* Why a sentence with a word that denies is no record; it is offered as a note, and as nothing else. */
const char *entry_denied(const struct sentence *s);

/* Why the sentence begins nothing, as entry_doubt. */
const char *entry_no_lead(const struct sentence *s);

/* A word of the row that the one at `at` may be a slip of; NULL when there is none. */
const char *entry_near(const struct sentence *s, size_t at);

/* The line with the word at s->at, where it stopped being understood, put right: a slip for one word that could
 * stand there and for no other (*as). NULL when it is none. AB_ENOMEM. */
enum ab_status entry_mended(const struct sentence *s, const char **as, const char **line);

/* The leads that the first word may be a slip for: those with which all of the line is understood, or ENTRY_NOMEM.
 * nearest: understood or not; NULL when it is near none. */
size_t entry_near_leads(const struct sentence *s, const char *lines[AB_ENTRY_WAYS], const char **nearest);

/* ---- entry_example.c ---- */

/* An example in round figures of the system (1 metric, 2 US, 0 not known) the brewer thinks in; NULL when memory is
 * short. And that of the row the sentence is about. */
const char *entry_example_in(const char *example, int system, struct ab_arena *arena);
const char *entry_example_of(const struct sentence *s);

/* ---- entry_offer.c ---- */

/* A whole line that may have been meant, into help->doubt; NULL adds none. */
void entry_offer(const struct sentence *s, const char *line);

/* Where the breath that the word at `at` is drawn in ends: the next comma, or the line. */
size_t entry_breath_end(const struct sentence *s, size_t at);

/* The line with what stands at s->at, up to the next breath or to its end, as a note behind all else: where only
 * that is understood. NULL in *line when it is not, or would hide sugar in a note. AB_ENOMEM. */
enum ab_status entry_without(const struct sentence *s, const char **line);

/* Lines into ways, whole ones, in which the beginning of a sentence without a lead is meant, and the rest of it is a
 * note. How many, or ENTRY_NOMEM. */
size_t entry_shorter(const struct sentence *s, const char *ways[AB_ENTRY_WAYS]);

/* The end of a message on what has no place in the line: that line, offered, or an example. NULL when memory is
 * short. */
const char *entry_tail(const struct sentence *s);

/* Why nothing takes the word at s->at, with what would: a sentence ready for ab_fail, in the arena, and into
 * help->doubt the ways it can be meant. NULL when memory is short. */
const char *entry_doubt(const struct sentence *s);

#endif
