/* batchplan.c - what the plan of a batch rests on, and the batches of a folder one after the other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/batchplanning.h"

#include <math.h>
#include <string.h>

#include <afterboil/newbatch.h>
#include "advice/advising.h"

/* Minutes of a day that is free and of any other, where nobody tells: the second is a working estimate. */
enum { DAY = 86400, FREE = 12 * 60, HOME = 30 };

/* ---- the days ---- */

enum ab_status ab_days_of_profile(const struct ab_profile *profile, double first_s, bool free, struct ab_days *days,
    bool *told, struct ab_diag *diag)
{
	char why[400];
	const struct ab_week *week = profile == NULL ? NULL : profile->week;
	*told = false;
	ab_days_start(days, floor(first_s / DAY) * DAY, FREE, HOME);
	if (week != NULL && week->time_s.known) {
		days->free_minutes = (int)(week->time_s.v / 60);
		days->evenings = days->free_minutes < FREE;
	}
	if (week != NULL && week->other_s.known)
		days->home_minutes = (int)(week->other_s.v / 60);
	const struct { const char *text, *name; double *hour; } hours[] = {
		{ week == NULL ? NULL : week->begins, "begins", &days->free_hour },
		{ week == NULL ? NULL : week->other_begins, "other-begins", &days->home_hour } };
	for (size_t i = 0; i < 2; i++) {
		*hours[i].hour = hours[i].text == NULL ? (double)NAN : ab_days_hour(hours[i].text);
		if (hours[i].text != NULL && isnan(*hours[i].hour))
			return ab_fail(diag, AB_EINPUT, profile->source, week->mark.line,
			    "%s of <week>: \"%.20s\" is no hour of the "
			    "day; allowed: 00:00 to 23:59",
			    hours[i].name, hours[i].text);
	}
	if (free && week != NULL && week->free != NULL) {
		if (!ab_days_free(days, week->free, false, why, sizeof why))
			return ab_fail(diag, AB_EINPUT, profile->source, week->mark.line, "free of <week>: %s", why);
		*told = true;
	}
	for (size_t i = 0; profile != NULL && i < profile->away.n; i++) {
		const struct ab_away *a = &((const struct ab_away *)profile->away.items)[i];
		if (!ab_days_away(days, a->days, why, sizeof why))
			return ab_fail(diag, AB_EINPUT, profile->source, a->mark.line, "days of <away>: %s", why);
	}
	return AB_OK;
}

/* ---- the batch as planned, and its pace ---- */

const struct ab_touch *ab_batchplan_too_warm(
    const struct ab_batchplan_asked *asked, const struct ab_batch *batch, double today_s)
{
	struct ab_batchplan plan = { .batch = batch, .last = ab_batchplan_last(asked->batches, asked->n, batch) };
	if (batchplan_choose_yeast(asked, &plan, NULL) != AB_OK ||
	    !ab_shown_too_warm(batch, &asked->k->norms, today_s, plan.yeast->tolerated_high_c))
		return NULL;
	for (size_t i = 0; i < asked->k->n_touches; i++)
		if (asked->k->touches[i].shown == AB_SHOWN_COOL)
			return &asked->k->touches[i];
	return NULL;
}

/* The batch as it will be: with the yeast that was chosen, since facts follow from it. */
static enum ab_status as_planned(const struct ab_batchplan *plan, struct ab_arena *arena, struct ab_batch **out,
    struct ab_diag *diag)
{
	const char *own = batchplan_yeast_class(plan->batch);
	struct ab_yeast *yeast = ab_arena_alloc(arena, 1, sizeof *yeast);
	*out = ab_arena_alloc(arena, 1, sizeof **out);
	if (*out == NULL || yeast == NULL)
		return advising_nomem(diag);
	if (plan->batch != NULL)
		**out = *plan->batch;
	else if (plan->last != NULL)
		**out = (struct ab_batch){ .line = plan->last->line,
			.family = plan->last->family,
			.recipe = plan->last->recipe,
			.brewed = plan->last->brewed,
			.id = plan->last->id };
	if (own != NULL && strcmp(own, plan->yeast->id) == 0)
		return AB_OK;
	yeast->klass = plan->yeast->id;
	(*out)->yeasts = (struct ab_list){ yeast, 1, 1 };
	return AB_OK;
}

/* Earlier brews of the line, by the yeast of the plan or by another. */
static size_t earlier(const struct ab_batchplan_asked *asked, const struct ab_batchplan *plan, bool by_another,
    const struct ab_batch **brews)
{
	const struct ab_batch *like = plan->batch != NULL ? plan->batch : plan->last;
	size_t n = 0;
	for (size_t i = 0; like != NULL && i < asked->n; i++) {
		const struct ab_batch *b = asked->batches[i];
		const char *klass = batchplan_yeast_class(b);
		bool same = b == like || ab_line_same(b, like),
		     another = klass != NULL && strcmp(klass, plan->yeast->id) != 0;
		if (same && b != plan->batch && another == by_another)
			brews[n++] = b;
	}
	return n;
}

/* Earlier brews of the line on the same yeast; the batch's own gravities go before them, where they tell the end. */
static enum ab_status pace_of(const struct ab_batchplan_asked *asked, const struct ab_batchplan *plan,
    struct ab_arena *arena, struct ab_calendar_pace *out, struct ab_diag *diag)
{
	const struct ab_batch **brews = ab_arena_alloc(arena, asked->n + 1, sizeof *brews);
	struct ab_calendar_pace own = { .brews = 0 }, others;
	enum ab_status st = AB_OK;
	if (brews == NULL)
		return advising_nomem(diag);
	if (plan->batch != NULL && plan->batch->readings.n + plan->batch->logs.n > 0)
		st = ab_calendar_pace_of(
		    plan->yeast, &plan->batch, 1, asked->profile, &asked->k->norms, arena, &own, diag);
	*out = own;
	out->own = own.brews > 0;
	if (st != AB_OK || out->own)
		return st;
	st = ab_calendar_pace_of(plan->yeast, brews, earlier(asked, plan, false, brews), asked->profile,
	    &asked->k->norms, arena, out, diag);
	if (own.tried > 0) {
		out->tried += own.tried;
		out->refusal = own.refusal;
	}
	if (st != AB_OK || out->brews + out->tried > 0)
		return st;
	st = ab_calendar_pace_of(plan->yeast, brews, earlier(asked, plan, true, brews), asked->profile,
	    &asked->k->norms, arena, &others, diag);
	out->others = st == AB_OK ? others.brews : 0;
	return st;
}

/* ---- what other batches tell ---- */

/* The first day on which a later beer went into its fermenter; by the name that both journals give it. */
static const char *fermenter_of(const struct ab_batch *b)
{
	const struct ab_vessel *vessels = b->vessels.items;
	return b->vessels.n == 0 ? NULL : vessels[0].id;
}

static double reused(const struct ab_batchplan_asked *asked, const struct ab_batch *batch)
{
	const char *id = fermenter_of(batch);
	for (size_t i = 0; id != NULL && i < asked->n; i++) {
		const struct ab_batch *b = asked->batches[i];
		const char *other = fermenter_of(b);
		if (b != batch && other != NULL && strcmp(other, id) == 0 && b->brewed.s > batch->brewed.s &&
		    ab_batchplan_begun(b))
			return floor(b->brewed.s / DAY) * DAY;
	}
	return (double)NAN;
}

/* Shared touches that another batch has within their own span: whoever cleans a line cleans it for all kegs on it. */
static bool had_elsewhere(const struct ab_batchplan_asked *asked, const struct ab_calendar *c, double *days)
{
	bool any = false;
	for (size_t i = 0; i < asked->k->n_touches; i++)
		days[i] = (double)NAN;
	for (size_t i = 0; i < c->n; i++) {
		const struct ab_calendar_touch *t = &c->touches[i];
		size_t at = (size_t)(t->touch - asked->k->touches);
		if (!t->touch->shared || !(fabs(t->day_s - asked->elsewhere[at]) < t->due->from_days * DAY))
			continue;
		days[at] = asked->elsewhere[at];
		any = true;
	}
	return any;
}

static void keep_shared(const struct ab_batchplan_asked *asked, const struct ab_calendar *c, double *elsewhere)
{
	for (size_t i = 0; i < c->n; i++)
		if (c->touches[i].touch->shared)
			elsewhere[c->touches[i].touch - asked->k->touches] = c->touches[i].day_s;
}

/* What the journals tell as done not long ago, before any plan is made. */
static double *shared_done(const struct ab_batchplan_asked *asked, struct ab_arena *arena)
{
	double *days = ab_arena_alloc(arena, asked->k->n_touches, sizeof *days), today_s = asked->days->first_s;
	for (size_t t = 0; days != NULL && t < asked->k->n_touches; t++) {
		const struct ab_touch *touch = &asked->k->touches[t];
		days[t] = (double)NAN;
		for (size_t i = 0; touch->shared && touch->n_dues > 0 && i < asked->n; i++) {
			struct ab_shown_of shown;
			ab_shown_read(asked->batches[i], &asked->k->norms, NULL, today_s, &shown);
			double day = ab_shown_noted(&shown, touch, today_s - touch->dues[0].from_days * DAY, -INFINITY);
			if (isfinite(day))
				days[t] = fmax(days[t], day);
		}
	}
	return days;
}

/* ---- one plan ---- */

static enum ab_status prime(const struct ab_batchplan_asked *asked, struct ab_batchplan *plan, struct ab_arena *arena,
    struct ab_diag *diag)
{
	plan->priming.why = AB_PRIMING_NOT_ASKED;
	return plan->batch == NULL || !plan->calendar->begun ? AB_OK
	    : ab_priming_of_batch(plan->batch, asked->profile, &asked->k->norms, arena, &plan->priming, diag);
}

enum ab_status ab_batchplan_make(const struct ab_batchplan_asked *asked, const struct ab_batch *batch,
    const struct ab_batch *last, struct ab_arena *arena, struct ab_batchplan *out, struct ab_diag *diag)
{
	struct ab_calendar_asked of = { .days = asked->days, .drink_s = asked->drink_s, .brew_s = (double)NAN };
	struct ab_shown_of shown;
	struct ab_batch *planned;
	struct ab_fact *facts = NULL;
	*out = (struct ab_batchplan){ .batch = batch, .last = last, .newest_s = (double)NAN };
	enum ab_status st = batchplan_choose_yeast(asked, out, diag);
	if (st == AB_OK)
		st = as_planned(out, arena, &planned, diag);
	if (st == AB_OK)
		st = batchplan_take_facts(asked, planned, arena, out, &facts, diag);
	if (st == AB_OK)
		st = pace_of(asked, out, arena, &of.pace, diag);
	if (st != AB_OK)
		return st;
	of.facts = facts;
	if (batch != NULL) {
		ab_shown_read(batch, &asked->k->norms, facts, asked->days->first_s, &shown);
		shown.reused_s = reused(asked, batch);
		shown.too_warm =
		    ab_shown_too_warm(batch, &asked->k->norms, asked->days->first_s, out->yeast->tolerated_high_c);
		of.shown = &shown;
		of.brew_s = floor(batch->brewed.s / DAY) * DAY;
		out->newest_s = shown.newest_s;
	}
	st = ab_calendar_make(asked->k, &of, arena, &out->calendar, diag);
	if (st == AB_OK)
		st = prime(asked, out, arena, diag);
	if (st != AB_OK || asked->elsewhere == NULL)
		return st;
	double *days = ab_arena_alloc(arena, asked->k->n_touches, sizeof *days);
	if (days == NULL)
		return advising_nomem(diag);
	of.elsewhere = days;
	return had_elsewhere(asked, out->calendar, days)
	    ? ab_calendar_make(asked->k, &of, arena, &out->calendar, diag)
	    : AB_OK;
}

/* ---- the batches of a folder ---- */

const struct ab_batch *ab_batchplan_last(struct ab_batch *const *batches, size_t n, const struct ab_batch *batch)
{
	const struct ab_batch *last = NULL;
	for (size_t i = 0; i < n && batches[i] != batch; i++)
		if (ab_line_same(batches[i], batch) &&
		    (batch->wort == NULL || batches[i]->wort == NULL || strcmp(batch->wort, batches[i]->wort) != 0))
			last = batches[i];
	return last;
}

bool ab_batchplan_begun(const struct ab_batch *batch)
{
	return ab_shown_begun(batch);
}

/* Known without its facts, so that a folder of thousands is no trouble. */
bool ab_batchplan_asleep(const struct ab_batch *b, double today_s)
{
	if (!isfinite(today_s))
		return false;
	return today_s - floor(ab_shown_newest(b) / DAY) * DAY >
	    (double)(ab_batchplan_begun(b) ? AB_PLAN_ASLEEP_DAYS : AB_PLAN_NOT_BREWED_DAYS) * DAY;
}

static bool is_chosen(const struct ab_batch *b, const struct ab_batch *const *chosen, size_t n)
{
	for (size_t i = 0; chosen != NULL && i < n; i++)
		if (chosen[i] == b)
			return true;
	return chosen == NULL;
}

/* One that was packaged or tasted is done with, however long it sleeps. */
static bool left_off(const struct ab_batch *b)
{
	return b->tastings.n == 0 && b->package == NULL;
}

enum ab_status ab_batchplan_unfinished(const struct ab_batchplan_asked *asked, const struct ab_batch *const *chosen,
    size_t n_chosen, struct ab_arena *arena, struct ab_batchplan **plans, size_t *n_plans,
    const struct ab_batch **sleepers, size_t *n_asleep, struct ab_diag *diag)
{
	enum ab_status st = AB_OK;
	size_t n_sleepers = 0;
	double *elsewhere = shared_done(asked, arena);
	*plans = ab_arena_alloc(arena, asked->n + 1, sizeof **plans);
	*n_plans = 0;
	if (*plans == NULL || elsewhere == NULL)
		return advising_nomem(diag);
	for (size_t i = 0; st == AB_OK && i < asked->n; i++) {
		const struct ab_batch *b = asked->batches[i];
		struct ab_batchplan *plan = &(*plans)[*n_plans];
		if (!is_chosen(b, chosen, n_chosen))
			continue;
		if (ab_batchplan_asleep(b, asked->days->first_s)) {
			if (left_off(b) && sleepers != NULL)
				sleepers[n_sleepers++] = b;
			continue;
		}
		struct ab_batchplan_asked one = *asked;
		one.elsewhere = elsewhere;
		if (n_chosen != 1 && ab_batchplan_begun(b))
			one.drink_s = (double)NAN;
		st = ab_batchplan_make(&one, b, ab_batchplan_last(asked->batches, asked->n, b), arena, plan, diag);
		if (st != AB_OK || (plan->calendar->n == 0 && plan->calendar->fit != AB_FIT_NONE))
			continue;
		keep_shared(asked, plan->calendar, elsewhere);
		ab_days_take(asked->days, plan->calendar);
		(*n_plans)++;
	}
	if (n_asleep != NULL)
		*n_asleep = n_sleepers;
	return st;
}
