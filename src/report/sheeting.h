/* sheeting.h - what the two forms of the batch sheet and its questions say alike
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_SHEETING_H
#define AB_REPORT_SHEETING_H

#include <afterboil/report.h>
#include "report/layout.h"

/* "Days 1 to 3" */
const char *sheet_day(int day);
/* "Sat 10 May 2031" so many days after the day of brewing; "" when that is not known. */
const char *sheet_date(struct page *p, const struct ab_sheet *sheet, double days);
/* A part's label, with its date where it is told as a day: "day 1, Sun 11 May". */
const char *sheet_label(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_part *part);
/* "aim 17 to 20 C"; "last time 19 C": of the first part; "" when there is none. */
const char *sheet_aim_words(struct page *p, const struct ab_sheet_box *box);
const char *sheet_last_words(struct page *p, const struct ab_sheet_part *part);
/* Choices printed to tick: not more than fit. */
bool sheet_ticks(const struct ab_sheet_part *part);
/* Of the box that asks for priming sugar: how much; "" for others. */
const char *sheet_sugar(struct page *p, const struct ab_sheet *sheet, const struct ab_sheet_box *box);

/* sheet_html.c */
enum ab_status report_sheet_html(const struct ab_sheet *sheet, enum ab_paper paper, const struct ab_look *look,
    char **out, struct ab_diag *diag);

#endif
