/* trend.c - before and after each change, the slope, the main faults
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/trend.h>
#include <assert.h>

#include <math.h>
#include <string.h>

#include "trend/common.h"
#include "trend/stats.h"

/* Scatter of a load that tasting alone brings, when the batches tell nothing better (estimate: one grade of
 * one fault of middling weight). */
#define TASTING_SD 1.0
/* The likely range of a batch's load is read as 80 %: half of it is this many standard deviations. */
#define HALF_RANGE_SD 1.2816

/* a and b are scratch for the loads before and after a change, each long enough for all batches. */
struct work {
	const struct ab_trend_batch *batches;
	size_t n, n_faults;
	struct ab_arena *arena;
	struct ab_trend *out;
	double floor_sd, *a, *b;
	struct stats_asked shares;
};

static enum ab_status nomem(struct ab_diag *diag)
{
	return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory while working out the trend");
}

/* The mean of what the likely ranges say; tasters who give no range are taken at TASTING_SD. */
static double tasting_sd(const struct work *w)
{
	double sum = 0;
	size_t n = 0;

	for (size_t i = 0; i < w->n; i++) {
		double half = (w->batches[i].load_high - w->batches[i].load_low) / 2;

		if (!w->batches[i].tasted || isnan(half))
			continue;
		sum += half / HALF_RANGE_SD;
		n++;
	}
	return n > 0 && sum > 0 ? sum / (double)n : TASTING_SD;
}

/* A change noted on a batch of a line is compared within that line, where nothing else should differ; when
 * the line has no batch before it, over all. */
static bool counts(const struct ab_trend_batch *b, const char *line)
{
	return b->tasted && !isnan(b->load) &&
	    (line == NULL || (b->line != NULL && strcmp(b->line, line) == 0));
}

static size_t gather(const struct work *w, size_t from, size_t to, const char *line, double *out)
{
	size_t n = 0;

	for (size_t i = from; i < to; i++)
		if (counts(&w->batches[i], line))
			out[n++] = w->batches[i].load;
	assert(from <= to && to <= w->n);
	return n;
}

/* Counted over the same batches as gather(), or the shares would not belong to the means. */
static size_t with_fault(const struct work *w, size_t from, size_t to, const char *line, size_t fault)
{
	size_t n = 0;

	for (size_t i = from; i < to; i++)
		n += counts(&w->batches[i], line) && w->batches[i].fault_load[fault] > 0;
	return n;
}

/* Found, and weighing nothing. */
static size_t with_trait(const struct work *w, size_t from, size_t to, const char *line, size_t fault)
{
	size_t n = 0;

	for (size_t i = from; i < to; i++)
		n += counts(&w->batches[i], line) && w->batches[i].fault_intensity != NULL &&
		    w->batches[i].fault_intensity[fault] > 0 && !(w->batches[i].fault_load[fault] > 0);
	return n;
}

/* Mean load of one fault over the batches from..to that count. */
static double fault_mean(const struct work *w, size_t from, size_t to, const char *line, size_t fault)
{
	double sum = 0;
	size_t n = 0;

	for (size_t i = from; i < to; i++)
		if (counts(&w->batches[i], line)) {
			sum += w->batches[i].fault_load[fault];
			n++;
		}
	return n > 0 ? sum / (double)n : 0;
}

/* Keeps the list in order: what changed most by load stands first. */
static void add_shift(struct ab_trend_change *c, struct ab_fault_shift shift)
{
	size_t j = c->n_faults++;

	for (; j > 0 && fabs(c->faults[j - 1].moved) < fabs(shift.moved); j--)
		c->faults[j] = c->faults[j - 1];
	c->faults[j] = shift;
}

/* Faults are only told beside the loads, to show where a difference comes from; p_better of each is not
 * corrected for their number. */
static enum ab_status shift_faults(struct work *w, struct ab_trend_change *c, size_t at, size_t end,
    size_t begin, struct ab_diag *diag)
{
	for (size_t f = 0; f < w->n_faults; f++) {
		size_t before = with_fault(w, begin, at, c->line, f),
		    after = with_fault(w, at, end, c->line, f);
		struct ab_fault_shift shift = { .fault = (int)f, .before_with = before, .after_with = after,
			.before_meant = with_trait(w, begin, at, c->line, f), .after_meant = with_trait(w, at,
			end, c->line, f) };

		if (before + after == 0)
			continue;
		if (c->faults == NULL)
			c->faults = ab_arena_alloc(w->arena, w->n_faults, sizeof *c->faults);
		if (c->faults == NULL)
			return nomem(diag);
		shift.moved = fault_mean(w, at, end, c->line, f) - fault_mean(w, begin, at, c->line, f);
		shift.p_better = c->n_before > 0 && c->n_after > 0 ? stats_two_shares_again(&w->shares, before,
		    c->n_before, after, c->n_after) : NAN;
		add_shift(c, shift);
	}
	return AB_OK;
}

/* line NULL: a change on any line ends the reign when all lines are compared. */
static bool changes_on(const struct ab_trend_batch *b, const char *line)
{
	return b->n_changes > 0 && (line == NULL || (b->line != NULL && strcmp(b->line, line) == 0));
}

/* Where the reign of the change before this one on the same line began, and where that of the next begins: a
 * change is held against its neighbours only. */
static void reign(const struct work *w, size_t at, const char *line, size_t *begin, size_t *end)
{
	*begin = at;
	*end = at + 1;
	while (*begin > 0 && !changes_on(&w->batches[*begin - 1], line))
		--*begin;
	if (*begin > 0)
		--*begin;   /* the batch of that change is the first under it */
	while (*end < w->n && !changes_on(&w->batches[*end], line))
		++*end;
}

/* The same batches once more, with what else may have moved them. */
static enum ab_status allow(struct work *w, struct ab_trend_change *c, struct ab_diag *diag)
{
	enum { SIDE = 200 };
	size_t from = c->at - c->begin > SIDE ? c->at - SIDE : c->begin, n = 0;
	size_t to = c->end - c->at > SIDE ? c->at + SIDE : c->end;
	struct stats_row *rows = ab_arena_alloc(w->arena, to - from, sizeof *rows);

	if (rows == NULL)
		return nomem(diag);
	for (size_t i = from; i < to; i++)
		if (counts(&w->batches[i], c->line))
			rows[n++] = (struct stats_row){ w->batches[i].line != NULL ? w->batches[i].line : "",
				w->batches[i].load, (double)i, i >= c->at, false };
	stats_allowing(rows, n, w->floor_sd, &c->allowed);
	return AB_OK;
}

/* Several changes with one batch get the same numbers and are marked: no arithmetic can tell them
 * apart. */
static enum ab_status judge(struct work *w, size_t at, size_t which, struct ab_diag *diag)
{
	const struct ab_trend_batch *b = &w->batches[at];
	struct ab_trend_change *c = &w->out->changes[w->out->n_changes++];
	assert(which < b->n_changes);
	size_t begin, end;
	double sd;

	*c = (struct ab_trend_change){ .id = b->changes[which], .line = b->line, .date_s = b->brewed_s,
	    .together = b->n_changes > 1 };
	reign(w, at, c->line, &begin, &end);
	if (c->line != NULL && gather(w, begin, at, c->line, w->a) == 0) {
		c->line = NULL;
		reign(w, at, NULL, &begin, &end);
	}
	c->begin = begin;
	c->at = at;
	c->end = end;
	c->n_before = gather(w, begin, at, c->line, w->a);
	c->n_after = gather(w, at, end, c->line, w->b);
	c->before = stats_mean(w->a, c->n_before);
	c->after = stats_mean(w->b, c->n_after);
	ab_trend_two_means(w->a, c->n_before, w->b, c->n_after, w->floor_sd, &c->p_better, &c->low, &c->high);
	sd = isnan(c->p_better) ? w->floor_sd : stats_scatter(w->a, c->n_before, w->b, c->n_after,
	    w->floor_sd);
	c->more_needed = stats_more_needed(c->before - c->after, sd, c->n_before, c->n_after);
	return allow(w, c, diag) == AB_OK ? shift_faults(w, c, at, end, begin, diag) : AB_ENOMEM;
}

/* In order of brewing, and of the notes within a batch. */
static enum ab_status judge_changes(struct work *w, struct ab_diag *diag)
{
	size_t n = 0;
	enum ab_status st = AB_OK;

	for (size_t i = 0; i < w->n; i++)
		n += w->batches[i].n_changes;
	w->out->changes = ab_arena_alloc(w->arena, n, sizeof *w->out->changes);
	if (w->out->changes == NULL)
		return nomem(diag);
	for (size_t i = 0; i < w->n; i++)
		for (size_t j = 0; st == AB_OK && j < w->batches[i].n_changes; j++)
			st = judge(w, i, j, diag);
	return st;
}

static enum ab_status find_main_faults(struct work *w, struct ab_diag *diag)
{
	double *total = ab_arena_alloc(w->arena, w->n_faults, sizeof *total);

	w->out->main_faults = ab_arena_alloc(w->arena, w->n_faults, sizeof *w->out->main_faults);
	if (total == NULL || w->out->main_faults == NULL)
		return nomem(diag);
	for (size_t f = 0; f < w->n_faults; f++) {
		size_t j = w->out->n_main_faults;

		for (size_t i = 0; i < w->n; i++)
			total[f] += w->batches[i].fault_load[f];
		if (total[f] <= 0)
			continue;
		for (; j > 0 && total[w->out->main_faults[j - 1]] < total[f]; j--)
			w->out->main_faults[j] = w->out->main_faults[j - 1];
		w->out->main_faults[j] = (int)f;
		w->out->n_main_faults++;
	}
	return AB_OK;
}

/* Order of batches, not dates: brewing every week or every month should not change the verdict. */
static enum ab_status find_slope(struct work *w, struct ab_diag *diag)
{
	size_t n = gather(w, 0, w->n, NULL, w->a);
	double *slopes;

	/* the last 400 batches are plenty for a slope, and keep its pairs in bounds */
	const double *from = n > 400 ? w->a + (n - 400) : w->a;
	n = n > 400 ? 400 : n;
	slopes = ab_arena_alloc(w->arena, n * (n > 0 ? n - 1 : 0) / 2, sizeof *slopes);
	if (slopes == NULL)
		return nomem(diag);
	stats_theil_sen(from, n, slopes, &w->out->slope_per_batch, &w->out->slope_low, &w->out->slope_high);
	return AB_OK;
}

enum ab_status ab_trend_work(const struct ab_trend_batch *batches, size_t n, size_t n_faults,
    struct ab_arena *arena, struct ab_trend **out, struct ab_diag *diag)
{
	struct work w = { .batches = batches, .n = n, .n_faults = n_faults, .arena = arena };
	enum ab_status st;

	*out = NULL;
	w.out = ab_arena_alloc(arena, 1, sizeof *w.out);
	w.a = ab_arena_alloc(arena, n, sizeof *w.a);
	w.b = ab_arena_alloc(arena, n, sizeof *w.b);
	if (w.out == NULL || w.a == NULL || w.b == NULL)
		return nomem(diag);
	w.out->n_batches = n;
	w.floor_sd = tasting_sd(&w);
	st = judge_changes(&w, diag);
	if (st == AB_OK)
		st = find_main_faults(&w, diag);
	if (st == AB_OK)
		st = find_slope(&w, diag);
	if (st == AB_OK)
		st = common_thread(batches, n, arena, w.out, diag);
	if (st == AB_OK)
		*out = w.out;
	return st;
}
