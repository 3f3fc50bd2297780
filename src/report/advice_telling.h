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

#endif
