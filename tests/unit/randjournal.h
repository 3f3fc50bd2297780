/* randjournal.h - random but valid journals, made from the reader's own tables
 *
 * Every element and attribute of journal/tables.c is drawn, so that one added there is covered without a word here.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_RANDJOURNAL_H
#define AB_TESTS_RANDJOURNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <afterboil/arena.h>

/* xorshift64*: the same numbers on every machine. */
struct rj_dice { uint64_t state; };
void rj_seed(struct rj_dice *dice, uint64_t seed);
uint64_t rj_next(struct rj_dice *dice);
double rj_unit(struct rj_dice *dice);                       /* 0 <= x < 1 */
size_t rj_below(struct rj_dice *dice, size_t n);
bool rj_chance(struct rj_dice *dice, double p);

struct rj_element;

/* Draws a batch. wild: numbers from all over the allowed ranges; else such as home brewers have. */
struct rj_element *rj_draw(struct rj_dice *dice, bool wild, struct ab_arena *arena);

/* How the same content is written. */
struct rj_style {
	bool other_units;        /* US units, dates in place of times after pitching */
	uint64_t shuffle;        /* other than 0: elements of different names and attributes change places */
	bool foreign;            /* elements and attributes of another namespace stand among ours */
	bool spread;             /* every attribute on its own line, comments between */
	long guess;              /* the element of this number (from 1, in the order drawn) is marked as a guess */
};
char *rj_write(const struct rj_element *batch, const struct rj_style *style, struct ab_arena *arena);

/* Number of elements below <batch>; name of the i-th in the order drawn, from 1. */
long rj_count(const struct rj_element *batch);
const char *rj_name(const struct rj_element *batch, long i);
/* True when an attribute of this element was drawn: to see that all of them are met. */
bool rj_has(const struct rj_element *batch, const char *element, const char *attribute);

#endif
