/* cmd_calendar.c - afterboil calendar: a batch laid out over the brewer's days
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <ctype.h>
#include <math.h>
#include <string.h>
#include <time.h>

#include <afterboil/calendar.h>
#include <afterboil/when.h>

/* Minutes of a day that is free and of any other, where nobody tells: the second is working estimate. */
enum { DAY = 86400, FREE = 12 * 60, HOME = 30, WHY = 512, KEY = 80 };

/* What a plan is for: the last brew of the beer and how often it was brewed, or nothing known. */
struct plan_for {
	const struct ab_batch **brews; size_t n;
	struct ab_batch *batch;              /* the last, or an empty one */
	struct ab_calendar_words words;
	const struct ab_yeast_norm *yeast;
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

static enum ab_status profile_days(struct cli *cli, struct ab_days *days, bool *told)
{
	char why[WHY];
	const struct ab_profile *p = cli->profile;
	const struct ab_week *week = p == NULL ? NULL : p->week;
	if (week != NULL && week->time_s.known)
		days->free_minutes = (int)(week->time_s.v / 60);
	if (week != NULL && week->other_s.known)
		days->home_minutes = (int)(week->other_s.v / 60);
	if (week != NULL && week->free != NULL && cli->o.free.n == 0) {
		if (!ab_days_free(days, week->free, *told, why, sizeof why))
			return ab_fail(&cli->diag, AB_EINPUT, p->source, week->mark.line, "free of <week>: %s", why);
		*told = true;
	}
	return AB_OK;
}

static enum ab_status profile_away(struct cli *cli, struct ab_days *days)
{
	char why[WHY];
	if (cli->profile == NULL)
		return AB_OK;
	for (AB_EACH(struct ab_away, a, cli->profile->away))
		if (!ab_days_away(days, a->days, why, sizeof why))
			return ab_fail(&cli->diag, AB_EINPUT, cli->profile->source, a->mark.line, "days of <away>: %s", why);
	return AB_OK;
}

static enum ab_status read_days(struct cli *cli, double first_s, struct ab_days *days, bool *told)
{
	char why[WHY];
	*told = false;
	ab_days_start(days, first_s, FREE, HOME);
	enum ab_status st = profile_days(cli, days, told);
	if (!isnan(cli->o.minutes))
		days->home_minutes = (int)cli->o.minutes;
	for (size_t i = 0; st == AB_OK && i < cli->o.free.n; i++) {
		if (!ab_days_free(days, cli->o.free.items[i], *told, why, sizeof why))
			st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--free: %s", why);
		*told = true;
	}
	if (st == AB_OK)
		st = profile_away(cli, days);
	for (size_t i = 0; st == AB_OK && i < cli->o.gone.n; i++)
		if (!ab_days_away(days, cli->o.gone.items[i], why, sizeof why))
			st = ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--gone: %s", why);
	return st;
}

/* ---- the beer ---- */

/* Letters and digits of the beer's name and the number of this brew: the same until that brew has its journal. */
static const char *key_of(struct cli *cli, const char *beer, size_t n)
{
	char slug[KEY];
	size_t k = 0;
	for (const char *at = beer == NULL ? "batch" : beer; *at != '\0' && k + 1 < sizeof slug; at++)
		if (isalnum((unsigned char)*at))
			slug[k++] = (char)tolower((unsigned char)*at);
		else if (k > 0 && slug[k - 1] != '-')
			slug[k++] = '-';
	slug[k] = '\0';
	return ab_arena_printf(cli->arena, "%s-%zu", slug, n + 1);
}

/* The line asked for or that of the newest batch; a batch without a line stands for itself. inputs_read has kept
 * only the line asked for. */
static enum ab_status choose(struct cli *cli, struct plan_for *for_what)
{
	const struct ab_batch *last = cli->n_batches > 0 ? cli->batches[cli->n_batches - 1] : NULL;
	for_what->batch = ab_arena_alloc(cli->arena, 1, sizeof *for_what->batch);
	for_what->brews = ab_arena_alloc(cli->arena, cli->n_batches + 1, sizeof *for_what->brews);
	if (for_what->batch == NULL || for_what->brews == NULL)
		return cli_nomem(cli);
	if (last != NULL)
		*for_what->batch = *last;
	for (size_t i = 0; i < cli->n_batches; i++) {
		const struct ab_batch *b = cli->batches[i];
		if (b == last || (b->line != NULL && last->line != NULL && strcmp(b->line, last->line) == 0))
			for_what->brews[for_what->n++] = b;
	}
	for_what->words.beer = last == NULL ? cli->o.line : last->line != NULL ? last->line : last->title;
	for_what->words.key = key_of(cli, for_what->words.beer, for_what->n);
	return for_what->words.key == NULL ? cli_nomem(cli) : AB_OK;
}

static const char *class_of(struct cli *cli, const struct plan_for *for_what)
{
	const struct ab_list *yeasts = &for_what->batch->yeasts;
	if (cli->o.yeast != NULL)
		return cli->o.yeast;
	return yeasts->n > 0 ? ((const struct ab_yeast *)yeasts->items)[0].klass : NULL;
}

/* Another yeast than last time: the facts follow, and the old gravities tell nothing of its pace. */
static enum ab_status put_yeast(struct cli *cli, struct plan_for *for_what, const char *klass)
{
	struct ab_yeast *yeast = ab_arena_alloc(cli->arena, 1, sizeof *yeast);
	if (yeast == NULL)
		return cli_nomem(cli);
	yeast->klass = klass;
	for_what->batch->yeasts = (struct ab_list){ yeast, 1, 1 };
	return AB_OK;
}

static enum ab_status choose_yeast(struct cli *cli, struct plan_for *for_what)
{
	const char *klass = class_of(cli, for_what);
	int at = klass == NULL ? -1 : ab_yeast_find(cli->k, klass);
	if (cli->k->norms.n_yeasts == 0)
		return ab_fail(&cli->diag, AB_EINPUT, NULL, 0, "the rules have no yeasts");
	if (at < 0 && cli->o.yeast != NULL)
		return ab_fail(&cli->diag, AB_EUSAGE, NULL, 0, "--yeast %.40s: there is no such class; \"afterboil rules "
		    "list yeasts\" shows which there are", cli->o.yeast);
	for_what->words.yeast_assumed = at < 0;
	for_what->yeast = &cli->k->norms.yeasts[at < 0 ? 0 : at];
	for_what->words.yeast = for_what->yeast->title;
	if (cli->o.yeast != NULL) {
		const struct ab_list *was = &for_what->batch->yeasts;
		const char *old = was->n > 0 ? ((const struct ab_yeast *)was->items)[0].klass : NULL;
		if (old != NULL && strcmp(old, for_what->yeast->id) != 0)
			for_what->n = 0;
	}
	return cli->o.yeast != NULL || at < 0 ? put_yeast(cli, for_what, for_what->yeast->id) : AB_OK;
}

/* ---- the whole ---- */

static enum ab_status asked_for(struct cli *cli, struct plan_for *for_what, struct ab_calendar_asked *asked)
{
	struct ab_fact *facts = ab_arena_alloc(cli->arena, ab_fact_defs()->n, sizeof *facts);
	if (facts == NULL)
		return cli_nomem(cli);
	asked->facts = facts;
	enum ab_status st = ab_facts_bare(for_what->batch, cli->profile, &cli->k->norms, cli->arena, facts, &cli->diag);
	if (st == AB_OK)
		st = ab_calendar_pace_of(for_what->yeast, for_what->brews, for_what->n, cli->profile, &cli->k->norms,
		    cli->arena, &asked->pace, &cli->diag);
	return st;
}

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
	struct plan_for for_what = { .n = 0 };
	struct ab_calendar_asked asked = { .days = NULL };
	struct ab_calendar *calendar;
	struct ab_days *days = ab_arena_alloc(cli->arena, 1, sizeof *days);
	char *text = NULL;
	double from_s;
	enum ab_status st = days == NULL ? cli_nomem(cli) : dates(cli, &from_s, &asked.drink_s);
	if (st == AB_OK)
		st = rules_load(cli);
	if (st == AB_OK)
		st = inputs_read(cli, cli->n_args > 0);
	if (st == AB_OK)
		st = read_days(cli, from_s, days, &for_what.words.days_told);
	if (st == AB_OK)
		st = choose(cli, &for_what);
	if (st == AB_OK)
		st = choose_yeast(cli, &for_what);
	asked.days = days;
	if (st == AB_OK)
		st = asked_for(cli, &for_what, &asked);
	if (st == AB_OK)
		st = ab_calendar_make(cli->k, &asked, cli->arena, &calendar, &cli->diag);
	if (st != AB_OK)
		return st;
	cli->attention = cli->attention || calendar->fit != AB_FIT_ALL;
	for_what.words.stamp_s = (double)time(NULL);
	terminal_look(cli);
	st = ab_report_calendar(calendar, &for_what.words, &cli->look, &text, &cli->diag);
	return out_report(cli, st, text);
}
