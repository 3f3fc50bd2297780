/* habits.c - what of a brewer's ways is measured batch after batch
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/trend.h>

#include <math.h>

const char *const ab_trend_habits[] = {
	"pitch.temp-over", "ferment.early-mean-over", "chill.to-pitch", "gravity.og-over-plan",
	"gravity.over-expected", NULL
};
_Static_assert(sizeof ab_trend_habits / sizeof *ab_trend_habits == AB_TREND_HABITS + 1, "as the header says");

void ab_trend_habit_slots(const struct ab_fact_table *facts, int *slots)
{
	for (int i = 0; i < AB_TREND_HABITS; i++)
		slots[i] = ab_fact_slot(facts, ab_trend_habits[i]);
}

/* NAN when the batch does not tell. */
static double value_of(const struct ab_trend_batch *b, int slot, double *u)
{
	for (size_t i = 0; i < b->n_facts; i++)
		if (b->slots[i] == slot) {
			*u = b->us[i];
			return b->values[i];
		}
	return (double)NAN;
}

/* Batches that do not tell are passed over: the chart is over those that do. */
static enum ab_status chart(const struct ab_trend_batch *batches, size_t n, int slot, struct ab_arena *arena,
    struct ab_trend *trend, struct ab_diag *diag)
{
	double *x = ab_arena_alloc(arena, n, sizeof *x), floor_sd = 0, u = 0;
	size_t *places = ab_arena_alloc(arena, n, sizeof *places), m = 0;
	struct ab_chart *c = &trend->charts[trend->n_charts];
	enum ab_status st;

	if (x == NULL || places == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for a control chart");
	for (size_t i = 0; i < n; i++) {
		double v = value_of(&batches[i], slot, &u);

		if (isnan(v))
			continue;
		x[m] = v;
		places[m++] = i;
		floor_sd += u;
	}
	if (m < AB_CHART_LEAST)
		return AB_OK;
	st = ab_chart_work(x, m, floor_sd / (double)m, arena, c, diag);
	c->slot = slot;
	c->batch = places;
	trend->n_charts += st == AB_OK;
	return st;
}

enum ab_status ab_trend_charts(const struct ab_trend_batch *batches, size_t n,
    const struct ab_fact_table *facts, struct ab_arena *arena, struct ab_trend *trend, struct ab_diag *diag)
{
	int slots[AB_TREND_HABITS];
	enum ab_status st = AB_OK;

	trend->n_charts = 0;
	trend->charts = ab_arena_alloc(arena, AB_TREND_HABITS, sizeof *trend->charts);
	if (trend->charts == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for a control chart");
	ab_trend_habit_slots(facts, slots);
	for (int i = 0; st == AB_OK && i < AB_TREND_HABITS; i++)
		if (slots[i] >= 0)
			st = chart(batches, n, slots[i], arena, trend, diag);
	return st;
}
