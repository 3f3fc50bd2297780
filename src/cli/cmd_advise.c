/* cmd_advise.c - afterboil advise
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

#include <afterboil/advice.h>
#include <afterboil/trend.h>
#include <afterboil/when.h>

/* The figures that the help of --redraws and --seed names. A fixed seed, so that the same question gets
 * the same answer. */
enum { REDRAWS = 200, SEED = 1, HOUR = 3600, DAY = 86400 };

/* NAN goes through as "not given": the library then asks the profile. */
static void limits(const struct cli *cli, struct ab_advice_options *a)
{
	const struct options *o = &cli->o;
	*a = (struct ab_advice_options){ .budget = o->budget,
		.minutes = o->minutes,
		.away_hours = o->away,
		.horizon_years = o->horizon,
		.running = o->running,
		.changes = isnan(o->changes) ? 0 : (size_t)o->changes,
		.brews = isnan(o->brews) ? 0 : (size_t)o->brews,
		.family = o->family,
		.redraws = isnan(o->redraws) ? REDRAWS : (size_t)o->redraws,
		.seed = isnan(o->seed) ? SEED : (unsigned long)o->seed,
		.threads = work_threads(),
		.progress = &progress_redraws };
}

/* What each change promises by itself (they are brewed with one at a time) is filed beside the batches, so that
 * the trend can hold it against what came. A
 * transaction of their own, after that of the batches: a promise that cannot be filed must not cost the
 * journals. Dated by the newest batch, as the library and the store read no clock. */
static enum ab_status file_promises(struct cli *cli, struct ab_history *store, const struct ab_advice *a)
{
	enum ab_status st = ab_history_begin(store, &cli->diag);
	for (size_t i = 0; st == AB_OK && i < a->n_plan && !isnan(a->newest_s); i++) {
		const struct ab_item *item = &a->items[a->plan[i]];
		struct ab_promised promised = { a->load_before, a->load_before - item->gain, true };
		st = ab_history_put_promise(store, cli->k->changes[item->change].id, a->newest_s, &promised,
		    item->begun != NULL, &cli->diag);
	}
	if (st == AB_OK)
		return ab_history_commit(store, &cli->diag);
	ab_history_rollback(store);
	return st;
}

/* Advice from a profile alone has nothing to file. */
enum ab_status advise_file(struct cli *cli, struct ab_case *const *cases, const struct ab_advice *a)
{
	struct ab_history *store;
	if (cli->o.no_store || cli->n_batches == 0)
		return AB_OK;
	enum ab_status st = store_open(cli, &store);
	if (st == AB_OK)
		st = store_cases(cli, store, cases, cli->n_batches);
	if (st == AB_OK)
		st = file_promises(cli, store, a);
	ab_history_close(store);
	return st;
}

/* What the beers that exist need, and when. A profile whose days cannot be read is told of by "calendar", whose
 * business they are; advice goes on without them, and says so. */
static enum ab_status touches(struct cli *cli, struct ab_advice_options *a)
{
	struct ab_touch_next *next = ab_arena_alloc(cli->arena, 1, sizeof *next);
	struct ab_diag own;
	double now_s = floor(a->today.s / DAY) * DAY + talk_hour() * HOUR;

	if (next == NULL)
		return cli_nomem(cli);
	ab_diag_init(&own);
	enum ab_status st = cli->n_batches == 0 || !a->today.known ? AB_OK
	    : ab_touch_next(cli->k, cli->profile, cli->batches, cli->n_batches, now_s, cli->arena, next, &own);
	a->touches = st == AB_OK && cli->n_batches > 0 ? next : NULL;
	if (st == AB_EINPUT && own.line > 0)
		err_note("%s:%ld: %s; without it, what your batches ask for next is left out", own.source, own.line,
		    own.text);
	return st == AB_ENOMEM ? cli_nomem(cli) : AB_OK;
}

/* The batches as a trend of one change has them: those of its beer, marked where it came in. */
static struct ab_trend_batch *series_of(struct cli *cli, struct ab_case *const *cases, const struct ab_changed *c,
    const struct ab_dated *limits, size_t *n)
{
	struct ab_trend_batch *series = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *series);
	const char **what = ab_arena_alloc(cli->arena, 1, sizeof *what);
	bool came = false;
	*n = 0;
	if (series == NULL || what == NULL)
		return NULL;
	*what = c->what != NULL ? c->what : c->text;
	for (size_t i = 0; i < cli->n_batches; i++) {
		const struct ab_batch *b = cases[i]->batch;
		if (ab_next_dated_ahead(b, limits))
			continue;   /* a slip moves nothing */
		if (c->line != NULL && (b->line == NULL || strcmp(b->line, c->line) != 0))
			continue;
		bool comes = !came && floor(b->brewed.s / DAY) >= floor(c->on.s / DAY);
		came = came || comes;
		series[(*n)++] = (struct ab_trend_batch){ .id = b->id,
			.line = b->line,
			.brewed_s = b->brewed.s,
			.tasted = cases[i]->tasted,
			.load = cases[i]->load,
			.load_low = cases[i]->load_low,
			.load_high = cases[i]->load_high,
			.fault_load = cases[i]->fault_load,
			.fault_intensity = cases[i]->fault_intensity,
			.changes = what,
			.n_changes = comes };
	}
	return series;
}

/* What the trend tells of it: in the beer that was first brewed with it where that was brewed before, else over all. */
static enum ab_status keep_of(struct cli *cli, struct ab_case *const *cases, const struct ab_changed *c,
    const struct ab_dated *limits, struct ab_next_kept *out)
{
	struct ab_trend *trend;
	size_t n;
	struct ab_trend_batch *series = series_of(cli, cases, c, limits, &n);
	enum ab_status st = series == NULL ? cli_nomem(cli)
	    : ab_trend_work(series, n, cli->k->n_faults, cli->arena, &trend, &cli->diag);
	*out = (struct ab_next_kept){ .change = c, .p_better = (double)NAN };
	for (size_t i = 0; st == AB_OK && i < trend->n_changes; i++) {
		const struct ab_trend_change *t = &trend->changes[i];
		out->n_before = t->n_before;
		out->n_after = t->n_after;
		out->more_needed = t->more_needed;
		out->p_better = ab_trend_say(t).p_better;   /* as the trend says it */
	}
	for (AB_EACH(const struct ab_changed, other, cli->profile->changed))
		out->together = out->together ||
		    (other != c && other->on.known && floor(other->on.s / DAY) == floor(c->on.s / DAY));
	return st;
}

static enum ab_status keep_all(struct cli *cli, struct ab_case *const *cases, struct ab_advice_options *a)
{
	size_t n = cli->profile == NULL ? 0 : cli->profile->changed.n;
	struct ab_next_kept *kept = ab_arena_alloc(cli->arena, n + 1, sizeof *kept);
	struct ab_dated limits;
	enum ab_status st = kept == NULL ? cli_nomem(cli) : work_dated(cli, &limits);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		const struct ab_changed *c = &((const struct ab_changed *)cli->profile->changed.items)[i];
		if (c->on.known && (c->what != NULL || c->text != NULL))
			st = keep_of(cli, cases, c, &limits, &kept[a->n_kept++]);
	}
	a->kept = kept;
	return st;
}

enum ab_status advise_options(struct cli *cli, struct ab_case *const *cases, struct ab_advice_options *a)
{
	char today[24], why[512];

	limits(cli, a);
	talk_today(today, sizeof today);
	(void)ab_when_read(today, &a->today, why, sizeof why);
	enum ab_status st = keep_all(cli, cases, a);
	return st == AB_OK ? touches(cli, a) : st;
}

enum ab_status advise_work(struct cli *cli, struct ab_case ***cases, struct ab_advice **out)
{
	struct ab_advice_options options;
	enum ab_status st = work_cases(cli, cli->batches, cli->n_batches, REASONS_LAST, cases);
	if (st == AB_OK)
		st = advise_options(cli, *cases, &options);
	if (st != AB_OK)
		return st;
	progress_begin("trials of the plan");
	st = ab_advise(cli->k, *cases, cli->n_batches, cli->profile, &options, cli->arena, out, &cli->diag);
	progress_hide();
	return st;
}

static enum ab_status find_inputs(struct cli *cli)
{
	enum ab_status st = which_named(cli);

	if (st == AB_OK)
		st = inputs_or_profile(cli, false);
	if (st == AB_OK && cli->n_args == 0 && cli->o.profile == NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "which journals? There are none in this folder: name files or a "
		    "folder, or a profile alone with --profile");
	return st;
}

enum ab_status cmd_advise(struct cli *cli)
{
	struct ab_case **cases;
	struct ab_advice *advice;
	char *text = NULL;
	enum ab_status st = find_inputs(cli);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = inputs_read(cli, !cli->empty_is_fine);
	if (st == AB_OK)
		st = advise_work(cli, &cases, &advice);
	if (st == AB_OK)
		st = advise_file(cli, cases, advice);
	if (st != AB_OK)
		return st;
	work_warn_of(cli, cases, cli->n_batches);
	for (size_t i = 0; i < advice->n_steps; i++)
		cli->attention = cli->attention || advice->steps[i].kind == AB_NEXT_VENT;
	terminal_look(cli);
	st = ab_report_advice(cli->k, advice, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
