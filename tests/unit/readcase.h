/* readcase.h - one journal read from text; for tests of what a journal may say
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_TESTS_READCASE_H
#define AB_TESTS_READCASE_H

#include <afterboil/journal.h>

/* Where the last journal read lives, what was wrong with it, and the batch (NULL: none was read). */
struct read_case { struct ab_arena *arena; struct ab_diag diag; struct ab_batch *got; };
extern struct read_case rd;

/* Fixtures of each test. */
void rd_set_up(void);
void rd_tear_down(void);

/* A whole file, and what stands in a batch brewed on 2031-03-07, from its second line on. The source is "j.xml". */
enum ab_status rd_text(const char *text);
enum ab_status rd_inner(const char *inner);

#endif
