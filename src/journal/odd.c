/* odd.c - what may have happened but is more likely a slip, for `afterboil check`
 *
 * Each function looks at one thing. Bounds are estimates of what home brewers do, said in the sentence where
 * they matter.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/check.h>

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "journal/moments.h"
#include "journal/odd.h"
#include "journal/tables.h"

enum { DAY = 86400, YEAR = 365 * DAY };
enum { INTO_BOTTLES = 1, INTO_KEG = 2 };   /* places in ab_words_package */
/* Above it most brewer's yeast dies quickly (estimate; kveik is pitched up to about there). */
#define WARM_PITCH_C 40.0
/* A crash is meant for a few degrees; at 15 C a unit or a digit is wrong (estimate). */
#define WARM_CRASH_C 15.0
/* Only oddly hot, where check.c refuses the impossible (60 C): in between lie kveik and a heating mat left
 * on. */
#define HOT_BEER_C 40.0
/* Four bar: about twice what 2.5 volumes need at room temperature (estimate). */
#define KEG_PRESSURE_KPA 400.0

/* Findings go to a list of the caller; out of memory is noted and told once at the end, so that the looks
 * need no status of their own. */
struct odds {
	const struct ab_batch *batch;
	struct ab_arena *arena;
	struct ab_list *out;
	bool no_memory;
};

static void odd(struct odds *o, long line, const char *fmt, ...) __attribute__((format(printf, 3, 4)));
static void untold(struct odds *o, long line, const char *fmt, ...) __attribute__((format(printf, 3, 4)));

static void add(struct odds *o, long line, bool is_untold, const char *fmt, va_list args)
    __attribute__((format(printf, 4, 0)));

static void add(struct odds *o, long line, bool is_untold, const char *fmt, va_list args)
{
	char text[300];
	vsnprintf(text, sizeof text, fmt, args);
	ab_text_scrub(text);
	char *copy = ab_arena_strdup(o->arena, text);
	struct ab_odd *slot = copy == NULL ? NULL : ab_arena_push(o->arena, &o->out->items, &o->out->n,
	    &o->out->cap, sizeof *slot);
	if (slot == NULL)
		o->no_memory = true;
	else
		*slot = (struct ab_odd){ line, copy, is_untold };
}

static void odd(struct odds *o, long line, const char *fmt, ...)
{
	va_list args;
	va_start(args, fmt);
	add(o, line, false, fmt, args);
	va_end(args);
}

static void untold(struct odds *o, long line, const char *fmt, ...)
{
	va_list args;
	va_start(args, fmt);
	add(o, line, true, fmt, args);
	va_end(args);
}

/* A wrong year ahead looks like long storage, which no refusal can tell from the truth. */
static enum ab_status far_moment(void *ctx, const struct ab_batch *b, const struct ab_moment *m,
    struct ab_diag *diag)
{
	char when[32];
	(void)diag;
	if (b->brewed.known && m->when->s - b->brewed.s > 5.0 * YEAR)
		odd(ctx, m->line, "%s of <%s> is %s, more than five years after the brew date",
		    m->attribute, m->element, ab_when_write(m->when, when, sizeof when));
	return AB_OK;
}

/* Dry hops into a keg are fine: a keg is dry hopped after filling by many. */
static void times(struct odds *o)
{
	const struct ab_batch *b = o->batch;
	ab_batch_each_moment(b, far_moment, o, NULL);
	if (b->pitch != NULL && b->pitch->at.known && b->brewed.known &&
	    b->pitch->at.s - b->brewed.s > 7.0 * DAY)
		odd(o, b->pitch->mark.line, "<pitch> is more than a week after the brew date");
	if (b->package != NULL && b->package->into == INTO_BOTTLES)
		for (AB_EACH(struct ab_dryhop, h, b->dryhops))
			if (ab_when_before(&b->package->at, &h->at))
				odd(o, h->mark.line, "<dry-hop> is after <package> into bottles");
	if (b->package != NULL)
		for (AB_EACH(struct ab_store, s, b->stores))
			if (ab_when_before(&s->from, &b->package->at))
				odd(o, s->mark.line,
				    "<store> starts before <package>; the fermenter's time belongs "
				    "to <vessel>");
}

/* A yeast years past its date, a lag of days: all of it happens, and each is as often a slip of year or
 * unit. */
static void pitching(struct odds *o)
{
	const struct ab_batch *b = o->batch;
	if (b->pitch != NULL && b->pitch->temp_c.known && b->pitch->temp_c.v > WARM_PITCH_C)
		odd(o, b->pitch->mark.line, "pitched at %.0f C: above %.0f C yeast dies; is the unit F?",
		    b->pitch->temp_c.v, WARM_PITCH_C);
	for (AB_EACH(struct ab_yeast, y, b->yeasts)) {
		if (y->best_before.known && b->brewed.known && b->brewed.s - y->best_before.s > 2.0 * YEAR)
			odd(o, y->mark.line,
			    "best-before of <yeast> is more than two years before the brew date");
		if (y->made_starter == AB_NO && y->stirred == AB_YES)
			odd(o, y->mark.line, "<yeast> says that no starter was made and that it was stirred");
	}
	if (b->lag != NULL && b->lag->first_s.known && b->lag->first_s.v > 5.0 * DAY)
		odd(o, b->lag->mark.line, "first-signs of <lag> is more than five days");
}

static void beer_temperatures(struct odds *o)
{
	const struct ab_batch *b = o->batch;
	for (AB_EACH(struct ab_reading, r, b->readings))
		if (r->wort_c.known && r->wort_c.v > HOT_BEER_C &&
		    ab_batch_since_pitch(b, &r->at) > 0.5 * DAY)
			odd(o, r->mark.line,
			    "wort of <reading> is %.0f C after pitching: hotter than beer gets but by kveik "
			    "and accident", r->wort_c.v);
	for (AB_EACH(struct ab_crash, c, b->crashes))
		if (c->temp_c.known && c->temp_c.v > WARM_CRASH_C)
			odd(o, c->mark.line, "<crash> to %.0f C is no cold crash", c->temp_c.v);
	for (AB_EACH(struct ab_store, s, b->stores))
		if (s->temp_c.known && s->hottest_c.known && s->hottest_c.v < s->temp_c.v)
			odd(o, s->mark.line, "hottest of <store> is below its temp");
}

/* Two days after pitching, for sugar or fruit added on the first days may lift the gravity rightly. */
static void readings(struct odds *o)
{
	const struct ab_batch *b = o->batch;
	/* The planned gravity only: against the highest reading no reading could ever be too high. */
	double original = b->recipe != NULL && b->recipe->og_sg.known ? b->recipe->og_sg.v : INFINITY;
	for (AB_EACH(struct ab_reading, r, b->readings)) {
		bool says = r->wort_c.known || r->room_c.known || r->gravity_sg.known || r->ph.known;
		/* A reading without any value is a line that was meant to be filled in later. */
		if (!says)
			odd(o, r->mark.line, "<reading> says nothing: it has no wort, room, gravity or ph");
		else if (!r->at.known && r->at.packaged)
			untold(o, r->mark.line, "<reading> counts from packaging, and no <package> tells its day (at)");
		else if (!r->at.known)
			untold(o, r->mark.line, "<reading> has no at, so nobody knows when it was");
		if (r->gravity_sg.known && ab_batch_since_pitch(b, &r->at) > 2.0 * DAY &&
		    r->gravity_sg.v > original + AB_ODD_GRAVITY_SG)
			odd(o, r->mark.line,
			    "gravity of <reading> is above the planned original gravity days after pitching");
	}
	for (AB_EACH(struct ab_instrument, i, b->instruments))
		if (i->off_c.known && fabs(i->off_c.v) > 5)
			odd(o, i->mark.line,
			    "off-temp of <instrument> is %.0f K: such an instrument is broken", i->off_c.v);
}

/* Each looks at two statements that are likely each by itself and odd together; which of the two is wrong
 * only the brewer knows. */
static void packaging(struct odds *o)
{
	assert(o->batch != NULL);
	const struct ab_package *p = o->batch->package;
	const struct ab_carbonate *c = o->batch->carbonate;
	if (p != NULL && p->into == INTO_KEG && p->priming_g.known && p->priming_g.v > 0 && c != NULL &&
	    c->pressure_kpa.known)
		odd(o, p->mark.line,
		    "the keg has priming sugar and was put under gas as well: it may end over-carbonated");
	/* told to have no sugar, they were filled from the keg */
	if (p != NULL && p->into == INTO_BOTTLES && c != NULL && p->priming_g.known && p->priming_g.v > 0)
		odd(o, c->mark.line,
		    "<carbonate> is for kegs, and <package> says bottles with priming sugar: if both went into "
		    "the same beer, the bottles may burst");
	else if (p != NULL && p->into == INTO_BOTTLES && c != NULL && !p->priming_g.known)
		odd(o, c->mark.line, "<carbonate> is for kegs, and <package> says bottles");
	if (c != NULL && c->pressure_kpa.known && c->pressure_kpa.v > KEG_PRESSURE_KPA)
		odd(o, c->mark.line, "pressure of <carbonate> is %.0f kPa: is it gauge pressure, and the "
		    "unit right?", c->pressure_kpa.v);
	if (p != NULL && p->priming_g.known && p->volume_l.known &&
	    p->priming_g.v / p->volume_l.v > AB_ODD_PRIMING_MOST_G_L)
		odd(o, p->mark.line, "%.0f g of priming in %.1f L is more than %.0f g/L", p->priming_g.v,
		    p->volume_l.v, AB_ODD_PRIMING_MOST_G_L);
	if (p != NULL && p->priming_g.known && p->priming_g.v > 0 && p->volume_l.known &&
	    p->priming_g.v / p->volume_l.v < AB_ODD_PRIMING_LEAST_G_L)
		odd(o, p->mark.line,
		    "%.0f g of priming in %.1f L is less than %.0f g/L; priming is the sugar of the whole "
		    "beer, not that of a litre or of a bottle",
		    p->priming_g.v, p->volume_l.v, AB_ODD_PRIMING_LEAST_G_L);
	const struct ab_recipe *r = o->batch->recipe;
	if (p != NULL && r != NULL && p->volume_l.known && r->volume_l.known &&
	    p->volume_l.v > 1.5 * r->volume_l.v)
		odd(o, p->mark.line, "volume of <package> is half as much again as the recipe's");
	/* INFINITY when no gravity was told, and then nothing is above it. */
	double original = ab_batch_original_gravity(o->batch);
	if (p != NULL && p->gravity_sg.known && p->gravity_sg.v > original + AB_ODD_GRAVITY_SG)
		odd(o, p->mark.line, "gravity of <package> is above every gravity before it");
}

static void recipe(struct odds *o)
{
	const struct ab_recipe *r = o->batch->recipe;
	double sum = 0;
	size_t told = 0;
	if (r == NULL || r->malts.n + r->sugars.n + r->extracts.n == 0)
		return;
	for (AB_EACH(struct ab_malt, m, r->malts)) {
		told += m->share.known;
		sum += m->share.known ? m->share.v : 0;
	}
	for (AB_EACH(struct ab_sugar, s, r->sugars)) {
		told += s->share.known;
		sum += s->share.known ? s->share.v : 0;
	}
	for (AB_EACH(struct ab_extract, x, r->extracts)) {
		told += x->share.known;
		sum += x->share.known ? x->share.v : 0;
	}
	/* Only when every share is told: one left out explains the gap by itself. */
	if (told < r->malts.n + r->sugars.n + r->extracts.n || !(sum < 0.95))
		return;
	if (r->complete == AB_YES)
		odd(o, r->mark.line, "the shares in <recipe>, which is said to be complete, add up to %.0f %% only",
		    sum * 100);
	else
		untold(o, r->mark.line,
		    "the shares in <recipe> add up to %.0f %% only: what the rest was is not known", sum * 100);
}

/* A package may be the goal of a transfer as well: beer goes into bottles by one. */
static bool has_vessel(const struct ab_batch *b, const char *id)
{
	for (AB_EACH(struct ab_vessel, v, b->vessels))
		if (v->id != NULL && strcmp(v->id, id) == 0)
			return true;
	return b->package != NULL && b->package->id != NULL && strcmp(b->package->id, id) == 0;
}

/* A mistyped id would leave the beer in the vessel it came from, and all that follows would be reckoned
 * there. */
static void transfers(struct odds *o)
{
	for (AB_EACH(struct ab_transfer, t, o->batch->transfers))
		if (t->to != NULL && !has_vessel(o->batch, t->to))
			odd(o, t->mark.line,
			    "to of <transfer> is \"%.64s\", and no vessel or package of this batch has that "
			    "id", t->to);
}

static void found_twice(struct odds *o, const struct ab_tasting *t)
{
	for (AB_EACH(struct ab_found, f, t->found)) {
		/* Only against those before, so that a pair is told once. */
		for (struct ab_found *g = t->found.items; g != f; g++)
			if (ab_word_cmp(f->fault, g->fault) == 0)
				odd(o, f->mark.line, "\"%.60s\" is found twice in one tasting", f->fault);
		if (f->feared == AB_YES && f->intensity.known && f->intensity.v > 1)
			odd(o, f->mark.line, "\"%.60s\" is only feared, yet has an intensity above 1",
			    f->fault);
	}
}

static bool same_text(const char *a, const char *b)
{
	return a != NULL && b != NULL && strcmp(a, b) == 0;
}

/* Only neighbours are compared: journals are written in order of time, and a sheet copied twice stands next
 * to itself. */
static void tastings(struct odds *o)
{
	const struct ab_tasting *last = NULL;
	for (AB_EACH(struct ab_tasting, t, o->batch->tastings)) {
		found_twice(o, t);
		if (ab_tasting_wants_day(o->batch, t))
			untold(o, t->mark.line,
			    "<tasting> has no at, and there is another; without their days it cannot be told "
			    "whether a fault "
			    "grows or fades (behaviour of <found> says it too)");
		/* 34 of 50 and 34 of 40 are not one beer: without its maximum a score is in no mean. */
		if (t->score.known && !t->score_of.known)
			untold(o, t->mark.line, "score of <tasting> has no score-of: out of how many?");
		if (last != NULL && ab_when_before(&t->at, &last->at))
			odd(o, t->mark.line, "<tasting> is dated before the one above it (line %ld)",
			    last->mark.line);
		if (last != NULL && t->at.known && last->at.known && t->at.s == last->at.s &&
		    same_text(t->by, last->by) && t->from == last->from)
			odd(o, t->mark.line,
			    "<tasting> has the date and the taster of the one above it (line %ld): written "
			    "twice?", last->mark.line);
		last = t;
	}
}

/* What went into the beer without its weight is in no reckoning of the gas; water, spice and oak do no harm so,
 * fruit and syrup burst bottles. */
static void uncounted(struct odds *o)
{
	const struct ab_recipe *r = o->batch->recipe;
	for (AB_EACH(struct ab_extra, e, r != NULL ? r->extras : (struct ab_list){ 0 }))
		if (!e->amount_g.known && !(e->sugars_share.known && e->sugars_share.v <= 0))
			odd(o, e->mark.line,
			    "<extra>%s%.60s%s tells no amount%s: if it ferments, as fruit does, it cannot be "
			    "counted where the gas in bottles is "
			    "reckoned; if it does not, sugars=\"0 %%\" says so",
			    e->name != NULL ? " \"" : "", e->name != NULL ? e->name : "",
			    e->name != NULL ? "\"" : "", e->at.known ? "" : " and no time");
	for (AB_EACH(struct ab_sugar, s, r != NULL ? r->sugars : (struct ab_list){ 0 }))
		if (s->at.known && !s->amount_g.known)
			odd(o, s->mark.line,
			    "<sugar> that went in later tells no amount: it cannot be counted where the gas in "
			    "bottles is reckoned");
}

/* In the order of a brew, which is the order a journal is mostly written in. */
static void (*const looks_at[])(struct odds *) = {
	times, recipe, uncounted, pitching, beer_temperatures, readings, transfers, packaging, tastings,
};

enum ab_status ab_batch_odd(const struct ab_batch *batch, struct ab_arena *arena, struct ab_list *out,
    struct ab_diag *diag)
{
	struct odds o = { .batch = batch, .arena = arena, .out = out };
	for (size_t i = 0; i < sizeof looks_at / sizeof *looks_at; i++)
		looks_at[i](&o);
	return o.no_memory ? ab_fail(diag, AB_ENOMEM, batch->source, 0, "out of memory") : AB_OK;
}
