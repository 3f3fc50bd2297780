/* series.c - the history as a trend, for whoever shows one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include <afterboil/elimination.h>
#include <afterboil/revise.h>

static bool is_first(const struct series *s, size_t i)
{
	for (size_t j = 0; j < i; j++)
		if (s->batches[j].line != NULL && strcmp(s->batches[j].line, s->batches[i].line) == 0)
			return false;
	return true;
}

static size_t size_of_line(const struct series *s, const char *line)
{
	size_t n = 0;

	for (size_t i = 0; i < s->n; i++)
		n += s->batches[i].line != NULL && strcmp(s->batches[i].line, line) == 0;
	return n;
}

/* Those before the series are not looked at. */
static size_t older(const struct series *s, const struct ab_past *past, size_t n)
{
	size_t before = 0;

	while (before < n && past[before].brewed_s < s->batches[0].brewed_s)
		before++;
	return before;
}

/* Of what is found only names outlive the work: they become the series' own. False when the batch is not in it, as one
 * of several of one day may be when only the newest are read. */
static bool own_names(const struct series *s, struct ab_revision *r)
{
	for (size_t b = 0; b < s->n; b++)
		if (strcmp(s->batches[b].id, r->batch) == 0) {
			r->batch = s->batches[b].id;
			r->line = s->batches[b].line;
			return true;
		}
	return false;
}

static bool is_ahead(const struct series *s, const char *id)
{
	for (size_t i = 0; i < s->n_ahead; i++)
		if (strcmp(s->ahead[i].id, id) == 0)
			return true;
	return false;
}

/* Those left out of the series are left out here. */
static size_t not_ahead(const struct series *s, struct ab_past *past, size_t n)
{
	size_t kept = 0;

	for (size_t i = 0; i < n; i++)
		if (!is_ahead(s, past[i].id))
			past[kept++] = past[i];
	return kept;
}

/* A line at a time, with all its facts, which the trend has no other use for. */
static enum ab_status revise_line(struct cli *cli, struct ab_history *store, struct series *s, const char *line,
    struct ab_arena *work, struct ab_revision *list, size_t *n_list)
{
	const struct ab_past_wish wish = { .facts = true, .beliefs = true, .last = AB_REVISE_MOST };
	struct ab_past *past;
	struct ab_revision *found;
	size_t n, n_found, before;
	enum ab_status st = ab_history_batches(store, cli->k, line, &wish, work, &past, &n, &cli->diag);

	n = st == AB_OK ? not_ahead(s, past, n) : 0;
	before = st == AB_OK ? older(s, past, n) : 0;
	if (st == AB_OK)
		st = ab_revise_line(cli->k, past + before, n - before, work, &found, &n_found, &cli->diag);
	for (size_t i = 0; st == AB_OK && i < n_found && *n_list < s->n; i++)
		if (own_names(s, &found[i]))
			list[(*n_list)++] = found[i];
	return st;
}

/* At most as many as there are batches: more would be read by nobody. */
static enum ab_status revise(struct cli *cli, struct ab_history *store, struct series *s)
{
	struct ab_revision *list = ab_arena_alloc(cli->arena, s->n, sizeof *list);
	struct ab_arena *work = ab_arena_new();
	size_t n = 0;
	enum ab_status st = list == NULL || work == NULL ? cli_nomem(cli) : AB_OK;

	for (size_t i = 0; st == AB_OK && i < s->n; i++) {
		const char *line = s->batches[i].line;
		size_t of_line = line != NULL && is_first(s, i) ? size_of_line(s, line) : 0;

		if (of_line < 2)
			continue;
		st = revise_line(cli, store, s, line, work, list, &n);
		ab_arena_reset(work);
	}
	ab_arena_free(work);
	s->trend->revisions = list;
	s->trend->n_revisions = n;
	return st;
}

static enum ab_status read_past(struct cli *cli, struct ab_history *store, struct series *s, size_t last)
{
	int slots[AB_TREND_HABITS + AB_VERDICT_FACTS];
	const struct ab_past_wish wish = { .facts = true, .blame = true, .slots = slots,
		.n_slots = AB_TREND_HABITS + AB_VERDICT_FACTS, .last = last };
	struct ab_past *past;

	ab_trend_habit_slots(cli->k->facts, slots);
	ab_verdict_slots(cli->k->facts, slots + AB_TREND_HABITS);
	enum ab_status st = ab_history_batches(store, cli->k, s->line, &wish, cli->arena, &past, &s->n, &cli->diag);
	return st == AB_OK && s->n > 0 ? ab_trend_series(past, s->n, cli->arena, &s->batches, &cli->diag) : st;
}

/* Looked over by their days alone, so that no more is read than is shown: how far ahead a batch may be dated hangs
 * on all of the history, and the newest few may all lie beyond it. *last becomes how many of the newest to read. */
static enum ab_status look_over(struct cli *cli, struct ab_history *store, const struct series *s,
    struct ab_arena *work, size_t *last, struct ab_dated *limits)
{
	struct ab_past_day *days;
	size_t n, kept = 0, at;
	enum ab_status st = ab_history_days(store, s->line, work, &days, &n, &cli->diag);
	double *days_s = st == AB_OK ? ab_arena_alloc(work, n, sizeof *days_s) : NULL;

	if (st != AB_OK || days_s == NULL)
		return st != AB_OK ? st : cli_nomem(cli);
	for (size_t i = 0; i < n; i++)
		days_s[i] = days[i].brewed_s;
	*limits = ab_dated_limits(days_s, n, work_today_s());
	for (at = n; at > 0 && kept < *last; at--)
		kept += !(days[at - 1].brewed_s > (days[at - 1].tasted ? limits->brewed_s : limits->planned_s));
	*last = *last > 0 ? n - at : 0;
	return AB_OK;
}

static enum ab_status read_batches(struct cli *cli, struct ab_history *store, struct series *s)
{
	size_t last = isnan(s->last) ? 0 : (size_t)s->last;
	struct ab_arena *work = ab_arena_new();
	struct ab_dated limits;
	enum ab_status st = work == NULL ? cli_nomem(cli) : look_over(cli, store, s, work, &last, &limits);

	ab_arena_free(work);
	if (st == AB_OK)
		st = read_past(cli, store, s, last);
	if (st == AB_OK && s->n > 0)
		st = ab_trend_set_apart(s->batches, &s->n, &limits, cli->arena, &s->ahead, &s->n_ahead, &cli->diag);
	return st;
}

enum ab_status series_read(struct cli *cli, struct ab_history *store, struct series *out)
{
	enum ab_status st = read_batches(cli, store, out);

	if (st != AB_OK || out->n == 0)
		return st;
	st = ab_trend_work(out->batches, out->n, cli->k->n_faults, cli->arena, &out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_causes(out->batches, cli->k->n_causes, cli->arena, out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_charts(out->batches, out->n, cli->k->facts, cli->arena, out->trend, &cli->diag);
	if (st == AB_OK)
		st = ab_trend_verdicts(out->batches, out->n, cli->k->facts, cli->arena, out->trend, &cli->diag);
	if (st != AB_OK)
		return st;
	struct ab_elimination *left;
	st = ab_eliminate(cli->k, out->batches, out->n, cli->arena, &left, &cli->diag);
	if (st != AB_OK)
		return st;
	out->trend->elimination = left;
	out->trend->ahead = out->ahead;
	out->trend->n_ahead = out->n_ahead;
	return revise(cli, store, out);
}
