/* trend_telling.h - what the parts of the trend as text share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_REPORT_TREND_TELLING_H
#define AB_REPORT_TREND_TELLING_H

#include "report/reports.h"

/* So many faults of a batch, or of a change, are told unless all are asked for. */
enum { TREND_FAULTS = 3 };

/* As in the other reports, plus the scale that all bars share: lines are compared by eye. */
struct telling {
	struct page *p;
	const struct ab_knowledge *k;
	const struct ab_trend_batch *batches;
	size_t n;
	const struct ab_trend *trend;
	const struct ab_promise *promises; size_t n_promises;
	double most;      /* the heaviest load of all, for the bars */
};

/* trend_changes.c: did the changes do it? Each in numbers, the figures before the verdict and counts beside them. */
void trend_say_changes(const struct telling *t);
/* "0.4 lighter": a sign is easily read the wrong way round, the word is not. */
const char *trend_lighter(const struct telling *t, double by, int digits);
/* trend_shared.c: what the bad batches share. */
void trend_say_common(const struct telling *t);

#endif
