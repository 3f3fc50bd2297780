/* tables.h - rows of the published tables, as tests of the rules
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TESTS_CASES_TABLES_H
#define TESTS_CASES_TABLES_H

#include <stddef.h>

enum { COLUMNS = 4, OTHERS = 3 };

/* What independent lists give as causes of one fault: ids, with a blank between; NULL = no list of that column was
 * seen. Columns: a = BJCP and AHA fault list 2012; b = Palmer, How to Brew, ch. 21; c = the chart of Brew Your Own
 * magazine; d = others, named in says. */
struct listed { const char *fault, *column[COLUMNS], *says, *known; };

/* A fact as "name value": a number in the fact's unit, a word, yes or no. A check done as "check:id yes"; more with
 * commas between. */
/* Found this fault, this fact for the cause must raise its blame, that one against it must lower it. Either may be
 * NULL. */
struct sided { const char *cause, *fault, *for_it, *against_it, *known; };

/* With the faults `before` found and nothing known, then `after` found and `told` known: the cause's blame must
 * rise (up) or fall. */
struct pushed { const char *what, *before, *after, *told[OTHERS], *cause; int up; const char *known; };

extern const struct listed listed_rows[];
extern const size_t n_listed_rows;
extern const struct sided sided_rows[];
extern const size_t n_sided_rows;
extern const struct pushed pushed_rows[];
extern const size_t n_pushed_rows;

#endif
