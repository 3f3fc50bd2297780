/* odd.h - where a figure is hardly so: shared by what looks over a journal and what looks over a line before it is
 * written
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef AB_JOURNAL_ODD_H
#define AB_JOURNAL_ODD_H

#include <stdbool.h>
#include <afterboil/journal.h>

/* One g/L of sucrose gives 0.26 volumes (four CO2 of 44 g from 342 g, 1.9768 g/L of gas), so 12 adds 3 to what the beer
 * holds already: beyond ordinary bottles; and less than 2 hardly carbonates (common practice). */
#define AB_ODD_PRIMING_MOST_G_L 12.0
#define AB_ODD_PRIMING_LEAST_G_L 2.0
/* Two readings of a good hydrometer at unlike temperatures differ by no more (estimate). */
#define AB_ODD_GRAVITY_SG 0.004

/* Has it no day, and would it tell with one whether a fault grows or fades from or to another glass of the same? */
bool ab_tasting_wants_day(const struct ab_batch *b, const struct ab_tasting *t);

#endif
