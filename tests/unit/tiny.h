/* tiny.h - a small world of facts and rules for tests: three causes, two faults, folders made for the moment
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_TINY_H
#define AB_TEST_TINY_H

#include <afterboil/knowledge.h>

enum { T_OVER, T_OVER_MEAN, T_PEAK, T_CONTROL, T_SEALED, T_ODD, T_SHARE, T_FACTS };

extern const struct ab_fact_table tiny_facts;
extern const struct ab_vocabulary tiny_vocabulary;   /* families plain odd */

/* Its elements without the <rules> around them, and with. */
extern const char tiny_body[];
#define TINY_OPEN "<rules xmlns=\"urn:afterboil:rules:1\">\n"
#define TINY_CLOSE "</rules>\n"

/* A new folder with one file rules.xml: TINY_OPEN, the texts, TINY_CLOSE; fails the test when it cannot. */
const char *tiny_folder(const char *text, const char *more);
void tiny_file(const char *folder, const char *name, const char *text);
/* Removes every folder made. */
void tiny_clean(void);

/* Rules made of these two texts, read; the arena is dropped by tiny_clean. */
struct ab_knowledge *tiny_read(const char *text, const char *more);
/* The tiny rules, read in the same way. */
struct ab_knowledge *tiny_rules(const char *more);

/* A known fact. */
struct ab_fact tiny_fact(double value);

#endif
