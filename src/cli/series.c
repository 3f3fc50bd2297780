/* series.c - the history as a trend, for whoever shows one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>

enum ab_status series_read(struct cli *cli, struct ab_history *store, struct series *out)
{
	int slots[AB_TREND_HABITS + AB_VERDICT_FACTS];
	const struct ab_past_wish wish = { .facts = true, .beliefs = true, .slots = slots,
		.n_slots = AB_TREND_HABITS + AB_VERDICT_FACTS,
		.last = isnan(out->last) ? 0 : (size_t)out->last };
	struct ab_past *past;
	enum ab_status st;

	ab_trend_habit_slots(cli->k->facts, slots);
	ab_verdict_slots(cli->k->facts, slots + AB_TREND_HABITS);
	st = ab_history_batches(store, cli->k, out->line, &wish, cli->arena, &past, &out->n, &cli->diag);
	if (st != AB_OK || out->n == 0)
		return st;
	st = ab_trend_series(past, out->n, cli->arena, &out->batches, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_work(out->batches, out->n, cli->k->n_faults, cli->arena, &out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_causes(out->batches, cli->k->n_causes, cli->arena, out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_charts(out->batches, out->n, cli->k->facts, cli->arena, out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_verdicts(out->batches, out->n, cli->k->facts, cli->arena, out->trend, &cli->diag);
	return st;
}
