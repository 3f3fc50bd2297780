/* lag.c - from pitching to the first signs of life
 *
 * Hours, as told. The longest usual lag is the yeast class's (practice: 4 to 12 h for a good pitch at ale
 * temperature, over 24 h a flag; grade C).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"

/* At least 3 h of doubt: nobody sits by the airlock at night (estimate). */
void ab_facts_lag(struct ab_work *w)
{
	static const struct ab_plain time = AB_ONE(AB_F_LAG_TIME, AB_FIELD_NUM, lag, first_s, 1 / 3600.0);
	struct ab_basis basis = ab_basis_new();

	ab_set_plain(w, &time, 1);
	if (w->yeast == NULL || !ab_known(w, AB_F_LAG_TIME))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_LAG_TIME]);
	ab_rest_on_basis(&basis, &w->yeast_basis);
	double h = ab_value(w, AB_F_LAG_TIME);
	ab_set(w, AB_F_LAG_OVER, &basis, h - w->yeast->lag_h, fmax(3, w->facts[AB_F_LAG_TIME].u), 'C',
	    "(%.0f h to the first signs) - (%.0f h, the longest usual for %s)", h, w->yeast->lag_h,
	    w->yeast->title);
}
