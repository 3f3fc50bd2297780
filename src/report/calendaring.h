/* calendaring.h - what calendar_text.c and calendar_touches.c share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_CALENDARING_H
#define AB_REPORT_CALENDARING_H

#include "report/reports.h"
#include "report/saying.h"

/* "Sat 2031-03-08". */
const char *calendar_day(struct page *p, double s);
void calendar_table(struct page *p, const struct calendar_row *rows, size_t n_rows, bool several);
void calendar_clashes(struct page *p, const struct calendar_row *rows, size_t n_rows);
void calendar_time(struct page *p, const struct ab_calendar_of *of, size_t n);
void calendar_how(struct page *p, const struct calendar_row *rows, size_t n_rows);

#endif
