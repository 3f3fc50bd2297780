/* trade.h - what the parts of run_trade share: sums with their errors, worlds, brewers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_TRADE_H
#define AB_TESTS_TRADE_H

#include "loop.h"

/* Begins as { 0, 0, 0 }. The error is one standard error of the mean. */
struct trade_sum { double n, total, squares; };
void trade_add(struct trade_sum *s, double x);
double trade_mean(const struct trade_sum *s);
double trade_error(const struct trade_sum *s);
/* A line to read and one for programs: "trade NAME N FIGURE ERROR", the name with the number behind it where that
 * is above 0. */
void trade_print(const char *name, int number, const char *title, const struct trade_sum *s);

/* The rules are the truth, a usual purse, one change a batch. */
struct loop_world trade_world(const struct loop_read *read, enum tasting tasting, size_t batches);

/* A brewer's own arena, and the end of both. */
struct ab_arena *trade_arena(void);
void trade_drop(struct loop_brewer *b);

/* The parts: so many brewers each. */
void trade_rebrew(const struct loop_read *read, size_t brewers);
void trade_beginner(const struct loop_read *read, size_t brewers);
void trade_sides(const struct loop_read *read, size_t brewers);
void trade_why(const struct loop_read *read, size_t brewers);

#endif
