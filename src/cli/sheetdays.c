/* sheetdays.c - the days of a sheet, from the calendar: when it is brewed, when the two gravities are read, and its
 * sugar
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/sheetrun.h"

#include <math.h>
#include <string.h>

#include <afterboil/batchplan.h>

enum { DAY = 86400 };

static double midnight(double s)
{
	return floor(s / DAY) * DAY;
}

/* The day of a touch, to do or done; NAN. */
static double day_of(const struct ab_calendar *c, enum ab_shown shown)
{
	for (size_t i = 0; i < c->n_past; i++)
		if (c->past[i].touch->shown == shown && c->past[i].state == AB_TOUCH_DONE)
			return c->past[i].day_s;
	for (size_t i = 0; i < c->n && c->fit != AB_FIT_NONE; i++)
		if (c->touches[i].touch->shown == shown)
			return c->touches[i].day_s;
	return (double)NAN;
}

/* What a page needs of the plan. */
static void take(struct sheet_run *r, const struct ab_batchplan *plan)
{
	double brewed = day_of(plan->calendar, AB_SHOWN_PITCH), first = day_of(plan->calendar, AB_SHOWN_GRAVITY),
	       second = day_of(plan->calendar, AB_SHOWN_SAME_GRAVITY);

	if (isnan(brewed))
		return;
	/* A brew that has no journal yet has no day either: its page is for any. */
	if (r->setup.batch != NULL)
		r->on = (struct ab_when){ .known = true, .date_only = true, .s = brewed };
	r->setup.first_d = first > brewed ? (first - brewed) / DAY : 0;
	r->setup.second_d = second > first && first > brewed ? (second - brewed) / DAY : 0;
}

/* As all of the folder are planned from that day on. found: the batch is among those that still ask for something. */
static enum ab_status plan_all(struct sheet_run *r, struct ab_batchplan_asked *asked, bool *found)
{
	struct cli *cli = r->cli;
	struct ab_batchplan *plans, next;
	size_t n = 0;
	enum ab_status st = ab_batchplan_unfinished(asked, NULL, 0, cli->arena, &plans, &n, NULL, NULL, &cli->diag);

	*found = r->setup.batch == NULL;
	for (size_t i = 0; st == AB_OK && r->setup.batch != NULL && i < n; i++)
		if (plans[i].batch == r->setup.batch) {
			*found = true;
			take(r, &plans[i]);
		}
	if (st != AB_OK || r->setup.batch != NULL)
		return st;
	st = ab_batchplan_make(asked, NULL, r->setup.like, cli->arena, &next, &cli->diag);
	if (st == AB_OK)
		take(r, &next);
	return st;
}

static enum ab_status plan_alone(struct sheet_run *r, struct ab_batchplan_asked *asked)
{
	struct ab_batchplan plan;
	enum ab_status st =
	    ab_batchplan_make(asked, r->setup.batch, r->setup.like, r->cli->arena, &plan, &r->cli->diag);

	if (st == AB_OK)
		take(r, &plan);
	return st;
}

/* Of a brew without a journal: as the last one is told of. */
static enum ab_status find_sugar(struct sheet_run *r)
{
	struct cli *cli = r->cli;
	const struct ab_batch *like = r->setup.like;
	struct ab_batch next = { .id = "next", .brewed = r->on };
	struct ab_priming *priming = ab_arena_alloc(cli->arena, 2, sizeof *priming);

	if (priming == NULL)
		return cli_nomem(cli);
	if (like != NULL) {
		next.family = like->family;
		next.recipe = like->recipe;
		next.yeasts = like->yeasts;
		next.vessels = like->vessels;
	}
	if (r->setup.batch != NULL)
		next = *r->setup.batch;
	r->setup.priming = &priming[0];
	r->setup.once_done = &priming[1];
	enum ab_status st =
	    ab_priming_of_batch(&next, cli->profile, &cli->k->norms, cli->arena, &priming[0], &cli->diag);
	return st == AB_OK
	    ? ab_priming_once_done(&next, cli->profile, &cli->k->norms, cli->arena, &priming[1], &cli->diag)
	    : st;
}

/* A page to print is laid from today on, as the calendar does. What is typed in afterwards was written on a page of
 * before: it is laid from the day the journal names, and so is what nobody plans any more. */
enum ab_status sheet_days(struct sheet_run *r, double today_s, bool next)
{
	struct cli *cli = r->cli;
	const struct ab_batch *b = r->setup.batch;
	struct ab_days *days = ab_arena_alloc(cli->arena, 1, sizeof *days);
	double from = midnight(b == NULL ? today_s : next ? fmax(today_s, b->brewed.s) : b->brewed.s);
	bool told, found = b == NULL;
	struct ab_batchplan_asked asked = { .k = cli->k,
		.profile = cli->profile,
		.batches = cli->batches,
		.n = cli->n_batches,
		.days = days,
		.drink_s = (double)NAN };
	enum ab_status st = days == NULL ? cli_nomem(cli) : AB_OK;

	if (st == AB_OK && cli->k->n_touches == 0)
		return find_sugar(r);
	if (st == AB_OK)
		st = ab_days_of_profile(cli->profile, from, true, days, &told, &cli->diag);
	if (st == AB_OK && from <= midnight(today_s) && next)
		ab_days_now(days, talk_hour());
	if (st == AB_OK && next)
		st = plan_all(r, &asked, &found);
	if (st == AB_OK && !found)
		st = ab_days_of_profile(cli->profile, midnight(b->brewed.s), true, days, &told, &cli->diag);
	if (st == AB_OK && !found)
		st = plan_alone(r, &asked);
	return st == AB_OK ? find_sugar(r) : st;
}
