/* advice_telling.h - what the files that tell advice hand to each other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_ADVICE_TELLING_H
#define AB_REPORT_ADVICE_TELLING_H

#include "report/reports.h"

/* What every paragraph needs, so that its functions take one argument and read like the page. */
struct telling {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_advice *a;
};

/* Items carry numbers only; words are the rules'. */
const struct ab_change *tell_change(const struct telling *t, const struct ab_item *item);

/* ---- advice_plan.c ---- */
/* The list, its sum, what is left over, and why and within what it was made. */
void tell_advised_plan(const struct telling *t);

#endif
