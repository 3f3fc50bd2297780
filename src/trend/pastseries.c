/* pastseries.c - the history as series
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/trend.h>

#include <math.h>

#include <afterboil/dated.h>

/* Copied field by field: the trend knows no store, so it can be tested with batches made up on the
 * spot. */
enum ab_status ab_trend_series(const struct ab_past *past, size_t n, struct ab_arena *arena,
    struct ab_trend_batch **out, struct ab_diag *diag)
{
	struct ab_trend_batch *b = ab_arena_alloc(arena, n, sizeof *b);

	*out = b;
	if (b == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out the trend");
	for (size_t i = 0; i < n; i++)
		b[i] = (struct ab_trend_batch){ .id = past[i].id, .line = past[i].line,
			.family = past[i].family, .brewed_s = past[i].brewed_s,
			.tasted = past[i].tasted, .load = past[i].load, .load_low = past[i].load_low,
			.load_high = past[i].load_high,
			.fault_load = past[i].fault_load, .fault_intensity = past[i].fault_intensity,
			.changes = past[i].changes,
			.n_changes = past[i].n_changes,
			.factors = past[i].factors, .n_factors = past[i].n_factors,
			.n_facts = past[i].n_facts, .slots = past[i].slots, .values = past[i].values,
			.us = past[i].us, .blame = past[i].blame,
			.rules = past[i].rules, .profile = past[i].profile,
			.program = past[i].program };
	return AB_OK;
}

static bool is_ahead(const struct ab_trend_batch *b, const struct ab_dated *limits)
{
	return b->brewed_s > (b->tasted ? limits->brewed_s : limits->planned_s);
}

/* Counted first: they are few, and a history is long. */
enum ab_status ab_trend_set_apart(struct ab_trend_batch *batches, size_t *n, const struct ab_dated *limits,
    struct ab_arena *arena, struct ab_trend_batch **ahead, size_t *n_ahead, struct ab_diag *diag)
{
	size_t kept = 0, most = 0;

	for (size_t i = 0; i < *n; i++)
		most += is_ahead(&batches[i], limits);
	*ahead = ab_arena_alloc(arena, most, sizeof **ahead);
	*n_ahead = 0;
	if (*ahead == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out the trend");
	for (size_t i = 0; i < *n; i++)
		if (is_ahead(&batches[i], limits))
			(*ahead)[(*n_ahead)++] = batches[i];
		else
			batches[kept++] = batches[i];
	*n = kept;
	return AB_OK;
}
