/* price.c - what a change costs, in few letters or in full
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <math.h>

#include "report/saying.h"

/* Unused comes first: what stands in the cellar already must not look like a purchase. */
static const char *now(struct page *p, const struct ab_item *item, enum report_price how)
{
	if (item->have != NULL && how == REPORT_IN_FULL)
		return item->cost > 0 ? page_text(p, "%s; %s (estimate)", say_money(p, item->cost), item->have)
				      : item->have;
	if (item->unused)
		return how == REPORT_SHORT ? "owned" : "you own it already: use it";
	if (item->begun != NULL)
		return "begun";
	if (item->cost > 0)
		return say_money(p, item->cost);
	if (!(item->running_cost > 0))
		return "free";
	return how == REPORT_SHORT ? page_text(p, "%s/y", say_money(p, item->running_cost)) : "nothing now";
}

const char *report_price(struct page *p, const struct ab_item *item, enum report_price how)
{
	if (how == REPORT_SHORT)
		return now(p, item, how);
	const char *running =
	    item->running_cost > 0 ? page_text(p, ", %s a year", say_money(p, item->running_cost)) : "";
	const char *time = fabs(item->minutes) < 0.5 ? ""
	    : page_text(p, ", %s%s", item->minutes > 0 ? "" : "saves ", say_minutes(p, fabs(item->minutes)));
	return page_text(p, "%s%s%s", now(p, item, how), running, time);
}
