/* cmd_calendar.c - afterboil calendar: a batch laid out over the brewer's days
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <math.h>
#include <string.h>
#include <time.h>

#include <afterboil/batchplan.h>
#include <afterboil/dated.h>
#include <afterboil/newbatch.h>
#include <afterboil/nextstep.h>
#include <afterboil/when.h>

enum { DAY = 86400, WHY = 512 };

/* The run: which batches, and their plans. */
struct calendar_run {
	struct cli *cli;
	struct ab_days *days;
	struct ab_batchplan_asked asked;
	struct ab_batchplan *plans; size_t n_plans;
	struct ab_batch **batches; size_t n_batches;           /* of the folder, without those dated ahead */
	struct ab_batch **ahead; size_t n_ahead;
	const struct ab_batch **chosen, **asleep; size_t n_chosen, n_asleep;
	struct ab_calendar_of *of;
	struct ab_calendar_words words;
};

/* A day of an option as its midnight. */
static enum ab_status day_of(struct cli *cli, const char *option, const char *text, double *out)
{
	struct ab_when when;
	char why[WHY];
	if (!ab_when_read(text, &when, why, sizeof why))
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s %.40s: %s", option, text, why);
	if (when.relative || !when.date_only)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--%s %.40s: a day, as in 2031-03-07", option, text);
	*out = floor(when.s / DAY) * DAY;
	return AB_OK;
}

/* ---- the days ---- */

/* What is typed goes before the profile; days away add up. */
static enum ab_status read_days(struct calendar_run *run, double first_s)
{
	struct cli *cli = run->cli;
	char why[WHY];
	bool *told = &run->words.days_told;
	enum ab_status st = ab_days_of_profile(cli->profile, first_s, cli->o.free.n == 0, run->days, told, &cli->diag);
	if (st == AB_OK && !isnan(cli->o.minutes))
		run->days->home_minutes = (int)cli->o.minutes;
	for (size_t i = 0; st == AB_OK && i < cli->o.free.n; i++) {
		if (!ab_days_free(run->days, cli->o.free.items[i], *told, why, sizeof why))
			st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--free: %s", why);
		*told = true;
	}
	for (size_t i = 0; st == AB_OK && i < cli->o.gone.n; i++)
		if (!ab_days_away(run->days, cli->o.gone.items[i], why, sizeof why))
			st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--gone: %s", why);
	if (st == AB_OK && cli->o.from == NULL)
		ab_days_now(run->days, talk_hour());
	return st;
}

/* ---- dated ahead ---- */

static double last_written(const struct cli *cli)
{
	double last = -INFINITY;
	for (size_t i = 0; i < cli->n_batches; i++) {
		if (ab_next_begun(cli->batches[i]))
			last = fmax(last, floor(ab_shown_newest(cli->batches[i]) / DAY) * DAY);
	}
	return last;
}

/* A journal dated ahead by a slip is left out. Where they lie ahead of the clock as a whole (dated.h) it is the
 * clock that is off, or they are an example: then it is planned as of the last day written. */
static enum ab_status leave_ahead(struct calendar_run *run, double *from_s)
{
	struct cli *cli = run->cli;
	struct ab_dated limits;
	enum ab_status st = work_dated(cli, &limits);
	run->batches = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof(struct ab_batch *));
	run->ahead = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *run->ahead);
	if (st == AB_OK && (run->batches == NULL || run->ahead == NULL))
		return cli_nomem(cli);
	for (size_t i = 0; st == AB_OK && i < cli->n_batches; i++) {
		if (ab_next_dated_ahead(cli->batches[i], &limits))
			run->ahead[run->n_ahead++] = cli->batches[i];
		else
			run->batches[run->n_batches++] = cli->batches[i];
	}
	if (st == AB_OK && cli->o.from == NULL && cli->o.drink_on == NULL &&
	    limits.brewed_s > *from_s + (AB_DATED_DAYS + 1.0) * DAY) {
		double last = last_written(cli);
		run->words.as_of = last > *from_s;
		*from_s = run->words.as_of ? floor(last / DAY) * DAY : *from_s;
	}
	return st;
}

/* ---- the batches ---- */

/* All are read, since what was done last time counts; then --batch and --line say which are meant. */
static enum ab_status read_batches(struct calendar_run *run)
{
	struct cli *cli = run->cli;
	struct texts batch = cli->o.batch;
	const char *line = cli->o.line;
	enum ab_status st = which_here(cli);
	cli->o.batch.n = 0;
	cli->o.line = NULL;
	/* a folder without a journal still has its profile */
	if (st == AB_OK)
		st = cli->n_args > 0 ? inputs_read(cli, true) : which_folder(cli, false);
	cli->o.batch = batch;
	cli->o.line = line;
	return st == AB_OK && cli->n_batches > 0 ? which_wanted(cli) : st;
}

static bool wanted(const struct options *o, const struct ab_batch *b)
{
	bool named = o->batch.n == 0;
	for (size_t i = 0; i < o->batch.n; i++)
		named = named || strcmp(o->batch.items[i], b->id) == 0;
	return named && (o->line == NULL || (b->line != NULL && strcmp(o->line, b->line) == 0));
}

static enum ab_status choose(struct calendar_run *run)
{
	struct cli *cli = run->cli;
	run->chosen = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *run->chosen);
	run->asleep = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *run->asleep);
	if (run->chosen == NULL || run->asleep == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < run->n_batches; i++)
		if (wanted(&cli->o, run->batches[i]))
			run->chosen[run->n_chosen++] = run->batches[i];
	for (size_t i = 0; run->n_chosen == 0 && i < run->n_ahead; i++)
		if (wanted(&cli->o, run->ahead[i]))
			return ab_fail(&cli->diag, AB_EINPUT, run->ahead[i]->source, run->ahead[i]->mark.line,
			    "%.60s is dated ahead of today, or a tasting of it is: put its day right, then it "
			    "can be planned",
			    run->ahead[i]->id);
	if (run->n_chosen == 0 && run->n_batches > 0)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0,
		    "no batch is both what --batch names and of the line \"%.60s\"",
		    cli->o.line == NULL ? "" : cli->o.line);
	return AB_OK;
}

/* Is there a brew to plan that has no journal? When no batch is on its way to a first tasting; when a yeast is told
 * for it; when a day is wanted and every batch is under way already. */
static bool wants_next(const struct calendar_run *run)
{
	const struct options *o = &run->cli->o;
	bool waiting = o->batch.n > 0, on_its_way = o->batch.n > 0 && run->n_plans > 0;
	for (size_t i = 0; i < run->n_plans; i++) {
		waiting = waiting || !run->plans[i].calendar->begun;
		on_its_way = on_its_way || !isnan(run->plans[i].calendar->ready_s);
	}
	return !on_its_way || o->yeast != NULL || (o->drink_on != NULL && !waiting);
}

static enum ab_status plan_all(struct calendar_run *run)
{
	struct cli *cli = run->cli;
	const char *yeast = run->asked.yeast;
	run->asked.yeast = NULL;
	enum ab_status st = ab_batchplan_unfinished(&run->asked, run->chosen, run->n_chosen, cli->arena, &run->plans,
	    &run->n_plans, run->asleep, &run->n_asleep, &cli->diag);
	run->asked.yeast = yeast;
	if (st != AB_OK || !wants_next(run))
		return st;
	const struct ab_batch *last = run->n_chosen > 0 ? run->chosen[run->n_chosen - 1] : NULL;
	return ab_batchplan_make(&run->asked, NULL, last, cli->arena, &run->plans[run->n_plans++], &cli->diag);
}

/* ---- names ---- */

/* The id that "afterboil new" will give it, so that its entries are then found again; with a day wanted, that too. */
static const char *next_key(struct cli *cli, const struct ab_batch *last)
{
	const char *stem = last == NULL ? ab_newbatch_slug(cli->arena, cli->o.line != NULL ? cli->o.line : "batch")
					: ab_newbatch_stem(cli->arena, last->id);
	const char *id = stem == NULL ? NULL : ab_newbatch_id(cli->batches, cli->n_batches, stem, cli->arena);
	return id == NULL || cli->o.drink_on == NULL
	    ? id
	    : ab_arena_printf(cli->arena, "%s-for-%s", id, cli->o.drink_on);
}

static enum ab_status name_all(struct calendar_run *run)
{
	struct cli *cli = run->cli;
	run->of = ab_arena_alloc(cli->arena, run->n_plans + 1, sizeof *run->of);
	if (run->of == NULL)
		return cli_nomem(cli);
	for (size_t i = 0; i < run->n_plans; i++) {
		const struct ab_batchplan *plan = &run->plans[i];
		const struct ab_batch *b = plan->batch != NULL ? plan->batch : plan->last;
		const char *beer = b == NULL ? cli->o.line : b->line != NULL ? b->line : b->title;
		const char *key = plan->batch != NULL ? plan->batch->id : next_key(cli, plan->last);
		const char *name = plan->batch != NULL ? plan->batch->id : beer == NULL ? "a batch"
		    : ab_arena_printf(cli->arena, "the next %s", beer);
		if (key == NULL || name == NULL)
			return cli_nomem(cli);
		run->of[i] = (struct ab_calendar_of){ plan, name, beer, key };
		cli->attention = cli->attention || plan->calendar->fit != AB_FIT_ALL || plan->calendar->n_overdue > 0;
	}
	return AB_OK;
}

/* ---- the whole ---- */

static enum ab_status dates(struct cli *cli, double *from_s, double *drink_s)
{
	char today[24];
	enum ab_status st;
	talk_today(today, sizeof today);
	*drink_s = (double)NAN;
	st = day_of(cli, "from", cli->o.from != NULL ? cli->o.from : today, from_s);
	if (st == AB_OK && cli->o.drink_on != NULL)
		st = day_of(cli, "drink-on", cli->o.drink_on, drink_s);
	if (st == AB_OK && *drink_s < *from_s)
		st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--drink-on %.40s is before the first day, %.40s",
		    cli->o.drink_on, cli->o.from != NULL ? cli->o.from : today);
	return st;
}

enum ab_status cmd_calendar(struct cli *cli)
{
	struct calendar_run run = { .cli = cli, .days = ab_arena_alloc(cli->arena, 1, sizeof *run.days) };
	double from_s = 0, drink_s;
	char *text = NULL;
	enum ab_status st = run.days == NULL ? cli_nomem(cli) : dates(cli, &from_s, &drink_s);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = read_batches(&run);
	if (st == AB_OK)
		st = leave_ahead(&run, &from_s);
	if (st == AB_OK)
		st = read_days(&run, from_s);
	if (st == AB_OK)
		st = choose(&run);
	if (st != AB_OK)
		return st;
	run.asked = (struct ab_batchplan_asked){ .k = cli->k, .profile = cli->profile, .batches = run.batches,
		.n = run.n_batches, .days = run.days, .yeast = cli->o.yeast, .drink_s = drink_s };
	st = plan_all(&run);
	if (st == AB_OK)
		st = name_all(&run);
	/* Of the whole folder, whatever --batch and --line say: it is glass in somebody's hand. */
	if (st == AB_OK)
		st = work_bursting(cli, cli->read, cli->n_read, &run.words.bursting, &run.words.n_bursting);
	if (st != AB_OK)
		return st;
	run.words.stamp_s = (double)time(NULL);
	run.words.today_s = from_s;
	run.words.asleep = run.asleep;
	run.words.n_asleep = run.n_asleep;
	run.words.ahead = (const struct ab_batch *const *)run.ahead;
	run.words.n_ahead = run.n_ahead;
	cli->attention = cli->attention || run.n_ahead > 0 || run.words.n_bursting > 0;
	terminal_look(cli);
	st = ab_report_calendar(run.of, run.n_plans, &run.words, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
