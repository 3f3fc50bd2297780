/* trend_charts.c - measured habits in the trend: steady, or moved since when
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/reports.h"

#include <ctype.h>
#include <math.h>

#include "report/saying.h"

/* In the brewer's units, as facts are said elsewhere. */
static const char *value(struct page *p, const struct ab_fact_def *def, double x)
{
	const struct ab_fact fact = { .origin = AB_ORIGIN_MEASURED, .value = x };

	return page_text(p, "%s%s%s", say_value(p, def, &fact), *say_unit(p, def) != '\0' ? " " : "",
	    say_unit(p, def));
}

static const char *title_of(struct page *p, const struct ab_fact_def *def)
{
	return page_text(p, "%c%s", toupper((unsigned char)def->title[0]), def->title + 1);
}

/* A steady habit may still be a bad one: the diagnosis speaks of that, the chart only of change. */
static void say_steady(struct page *p, const struct ab_fact_def *def, const struct ab_chart *c)
{
	page_say(p, PLAIN, page_text(p, ": steady, %s over %s.", value(p, def, c->mean),
	    say_count(p, c->n, "batch", "batches")));
}

static void say_shift(struct page *p, const struct ab_fact_def *def, const struct ab_chart *c,
    const struct ab_trend_batch *batches)
{
	const struct ab_chart_shift *s = &c->shifts[c->n_shifts - 1];

	page_say(p, CAREFUL, s->after > s->before ? ": went up" : ": went down");
	page_say(p, PLAIN, page_text(p, " with batch %s: %s since then (%s), %s before.",
	    batches[c->batch[s->from]].id, value(p, def, s->after),
	    say_count(p, c->n - s->from, "batch", "batches"), value(p, def, s->before)));
}

/* Of the level now, and the newest only: an old one was met when it was new. */
static void say_odd(struct page *p, const struct ab_fact_def *def, const struct ab_chart *c,
    const struct ab_trend_batch *batches)
{
	size_t i = c->n, from = c->n_shifts > 0 ? c->shifts[c->n_shifts - 1].from : 0;

	while (i > from && !c->odd[i - 1])
		i--;
	if (i > from)
		page_say(p, PLAIN, page_text(p, " Batch %s stands out: %s.", batches[c->batch[i - 1]].id,
		    value(p, def, c->x[i - 1])));
}

void report_trend_charts(struct page *p, const struct ab_knowledge *k, const struct ab_trend_batch *batches,
    const struct ab_trend *trend)
{
	if (trend->n_charts == 0)
		return;
	page_section(p, "Your habits, measured");
	for (size_t i = 0; i < trend->n_charts; i++) {
		const struct ab_chart *c = &trend->charts[i];
		const struct ab_fact_def *def = &k->facts->defs[c->slot];

		page_item(p, 2, "*", PLAIN);
		page_say(p, LOUD, title_of(p, def));
		if (c->n_shifts > 0)
			say_shift(p, def, c, batches);
		else
			say_steady(p, def, c);
		if (!isnan(c->low))
			page_say(p, QUIET, page_text(p, " The next is likely between %s and %s.",
			    value(p, def, c->low), value(p, def, c->high)));
		say_odd(p, def, c, batches);
		page_end(p);
	}
}
