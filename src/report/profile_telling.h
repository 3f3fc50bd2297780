/* profile_telling.h - what the files that say a profile back share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_PROFILE_TELLING_H
#define AB_REPORT_PROFILE_TELLING_H

#include "report/reports.h"
#include "report/saying.h"

/* "line 4, owns: text (a guess)"; line 0: none. */
void told_line(struct page *p, long line, const char *element, bool guess, const char *text);
/* The days of <week> and <away>. */
void told_days(struct page *p, const struct ab_understood *u);

#endif
