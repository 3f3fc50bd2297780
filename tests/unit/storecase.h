/* storecase.h - for tests of the store: cases worked from a few words of journal, filed, and a store as one number
 *
 * Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TEST_STORECASE_H
#define AB_TEST_STORECASE_H

#include <stdint.h>
#include <afterboil/history.h>

#define STORE_TASTED "<tasting at='2031-04-01' by='A'><found fault='buttery' intensity='4'/></tasting>"

/* A case of "<batch INSIDE</batch>", in rules_arena; rules_read comes first. */
const struct ab_case *store_work(const char *inside);
/* Puts it; *added as in ab_history_put. */
enum ab_status store_put(struct ab_history *into, const struct ab_case *c, int *added, struct ab_diag *diag);

/* Asks SQLite itself, through the layer named (NULL = its usual one) and so past what is armed: the file is whole
 * (integrity_check), and all rows of all its tables as one number. A file that is none yet counts as empty. */
uint64_t store_content(const char *path, const char *layer);

/* The first number a question in SQL is answered with, by a connection of its own; -1 where there is none. */
int store_number(const char *path, const char *sql);

#endif
