/* nextstep_telling.h - what the files that tell the next steps hand to each other: nextstep_batch.c to nextstep_text.c
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_NEXTSTEP_TELLING_H
#define AB_REPORT_NEXTSTEP_TELLING_H

#include "report/reports.h"

/* The words of a step of that kind, as report_step_words. */
const char *tell_vent(struct page *p, const struct ab_next_step *s);
const char *tell_tend(struct page *p, const struct ab_next_step *s);
const char *tell_wait(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s);
const char *tell_taste(struct page *p, const struct ab_knowledge *k, const struct ab_next_step *s);
/* The title of a benign cause, less that nothing is wrong: that is said already before it. */
const char *tell_benign(const char *title);

#endif
