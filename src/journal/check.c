/* check.c - what cannot have happened
 *
 * One small function a statement; each refuses by file and line. The limits are estimates, wide on purpose:
 * they must never refuse a true journal.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/check.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "journal/moments.h"
#include "journal/tables.h"

#define SHARES_MOST 1.05       /* rounding of many shares to whole percents */
#define GRAVITY_RISE 0.020     /* final over original: more than fruit or late sugar could hide */
#define BEER_HOTTEST_C 60.0    /* half a day after pitching: no yeast lives, no fermenter gets there */
enum { SETTLED = 12 * 3600 };  /* after pitching, when wort has cooled and a reading is of beer */

static enum ab_status wrong(const struct ab_batch *b, long line, struct ab_diag *diag, const char *text)
{
	return ab_fail(diag, AB_EINPUT, b->source, line, "%s", text);
}

/* Nothing happens to a batch before the day it is brewed. */
static enum ab_status moment_before_brewing(void *ctx, const struct ab_batch *b, const struct ab_moment *m,
    struct ab_diag *diag)
{
	char when[32], brewed[32];
	(void)ctx;
	if (!ab_when_before(m->when, &b->brewed))
		return AB_OK;
	return ab_fail(diag, AB_EINPUT, b->source, m->line,
	    "%s of <%s> is %s, before the brew date %s; one of the two is a slip",
	    m->attribute, m->element, ab_when_write(m->when, when, sizeof when),
	    ab_when_write(&b->brewed, brewed, sizeof brewed));
}

static enum ab_status before_brewing(const struct ab_batch *b, struct ab_diag *diag)
{
	return b->brewed.known ? ab_batch_each_moment(b, moment_before_brewing, NULL, diag) : AB_OK;
}

/* Equal moments pass: two dates of one day cannot be told apart. */
static enum ab_status packaged_first(const struct ab_batch *b, struct ab_diag *diag)
{
	if (b->package == NULL || b->pitch == NULL || !ab_when_before(&b->package->at, &b->pitch->at))
		return AB_OK;
	return wrong(b, b->package->mark.line, diag,
	    "<package> is at a time before <pitch>; beer is packaged after pitching");
}

static enum ab_status ends_before_it_starts(const struct ab_batch *b, struct ab_diag *diag)
{
	for (AB_EACH(struct ab_vessel, v, b->vessels))
		if (ab_when_before(&v->until, &v->from))
			return wrong(b, v->mark.line, diag, "until of <vessel> is before its from");
	for (AB_EACH(struct ab_store, s, b->stores))
		if (ab_when_before(&s->until, &s->from))
			return wrong(b, s->mark.line, diag, "until of <store> is before its from");
	return AB_OK;
}

/* An impossible gravity is nearly always SG and Plato, or og and fg, exchanged; both would make attenuation
 * negative and every fact after it nonsense. */
static enum ab_status gravities(const struct ab_batch *b, struct ab_diag *diag)
{
	const struct ab_recipe *r = b->recipe;
	/* A plan is not touched by instruments, so the bound is strict here, where a measured one needs
	 * slack. */
	if (r != NULL && r->og_sg.known && r->fg_sg.known && r->fg_sg.v > r->og_sg.v)
		return wrong(b, r->mark.line, diag,
		    "fg of <recipe> is above its og; were the two exchanged?");
	double original = ab_batch_original_gravity(b);
	if (b->package != NULL && b->package->gravity_sg.known && b->package->gravity_sg.v > original +
	    GRAVITY_RISE)
		return ab_fail(diag, AB_EINPUT, b->source, b->package->mark.line,
		    "gravity of <package> is %.3f SG, far above the original gravity of %.3f SG",
		    b->package->gravity_sg.v, original);
	return AB_OK;
}

/* Too little is not refused, for not every malt need be listed; odd.c speaks of it when all shares are
 * told. */
static enum ab_status shares(const struct ab_batch *b, struct ab_diag *diag)
{
	double sum = 0;
	if (b->recipe == NULL)
		return AB_OK;
	for (AB_EACH(struct ab_malt, m, b->recipe->malts))
		sum += m->share.known ? m->share.v : 0;
	for (AB_EACH(struct ab_sugar, s, b->recipe->sugars))
		sum += s->share.known ? s->share.v : 0;
	for (AB_EACH(struct ab_extract, x, b->recipe->extracts))
		sum += x->share.known ? x->share.v : 0;
	if (sum <= SHARES_MOST)
		return AB_OK;
	return ab_fail(diag, AB_EINPUT, b->source, b->recipe->mark.line,
	    "the shares of malt, sugar and extract in <recipe> add up to %.0f %%; they are shares of one "
	    "whole, at most 100 %%", sum * 100);
}

/* Fahrenheit written as Celsius shows here: 68 F of room is no beer at 68 C. */
static enum ab_status hot_beer(const struct ab_batch *b, struct ab_diag *diag)
{
	for (AB_EACH(struct ab_reading, r, b->readings)) {
		/* Written so that an unknown time (NAN) passes: a comparison with NAN is false. */
		if (!r->wort_c.known || r->wort_c.v <= BEER_HOTTEST_C ||
		    !(ab_batch_since_pitch(b, &r->at) > SETTLED))
			continue;
		return ab_fail(diag, AB_EINPUT, b->source, r->mark.line,
		    "wort of <reading> is %.1f C long after pitching; no beer is that hot: check the unit "
		    "(F?) and the time", r->wort_c.v);
	}
	return AB_OK;
}

/* Headspace goes into the oxygen a beer takes up; more air than vessel would make any batch oxidised. */
static enum ab_status full_of_air(const struct ab_batch *b, struct ab_diag *diag)
{
	for (AB_EACH(struct ab_vessel, v, b->vessels))
		if (v->volume_l.known && v->headspace_l.known && v->headspace_l.v > v->volume_l.v)
			return wrong(b, v->mark.line, diag,
			    "headspace of <vessel> is larger than its volume; volume is what the "
			    "vessel can hold");
	return AB_OK;
}

static enum ab_status both_found_and_absent(const struct ab_batch *b, const struct ab_tasting *t,
    struct ab_diag *diag)
{
	for (AB_EACH(struct ab_absent, a, t->absent))
		for (AB_EACH(struct ab_found, f, t->found))
			/* Only equal words are seen here: that "buttery" and "diacetyl" are one fault the
			 * rules know, which this room does not. */
			if (ab_word_cmp(a->fault, f->fault) == 0)
				return ab_fail(diag, AB_EINPUT, b->source, a->mark.line,
				    "\"%.60s\" is both found (line %ld) and absent in one tasting; keep one",
				    a->fault, f->mark.line);
	return AB_OK;
}

static enum ab_status one_tasting(const struct ab_batch *b, const struct ab_tasting *t, struct ab_diag *diag)
{
	/* Places in ab_words_place; the order of that list is part of the contract (words.c). */
	enum { PLACE_BOTTLE = 3, PLACE_TAP_KEG = 4, PLACE_PACKAGED = 6 };
	if (t->score.known && t->score_of.known && t->score.v > t->score_of.v)
		return wrong(b, t->mark.line, diag,
		    "score of <tasting> is above its score-of, the highest score there is");
	if (t->panel.known && t->panel.v != floor(t->panel.v))
		return wrong(b, t->mark.line, diag,
		    "panel of <tasting> is a number of people; write a whole number");
	for (AB_EACH(struct ab_found, f, t->found))
		if (f->intensity.known && f->intensity.v != floor(f->intensity.v))
			return wrong(b, f->mark.line, diag,
			    "intensity of <found> is one of 1, 2, 3, 4, 5: 1 barely there, 5 undrinkable");
	if ((t->from == PLACE_BOTTLE || t->from == PLACE_TAP_KEG || t->from == PLACE_PACKAGED) && b->package != NULL &&
	    ab_when_before(&t->at, &b->package->at))
		return wrong(b, t->mark.line, diag,
		    "<tasting> from a bottle or keg is at a time before <package>; was it from the "
		    "fermenter?");
	return both_found_and_absent(b, t, diag);
}

static enum ab_status tastings(const struct ab_batch *b, struct ab_diag *diag)
{
	for (AB_EACH(struct ab_tasting, t, b->tastings)) {
		enum ab_status st = one_tasting(b, t, diag);
		if (st != AB_OK)
			return st;
	}
	return AB_OK;
}

/* Times first: a wrong date makes true statements look false (a reading long after pitching, a tasting
 * before packaging), and of several slips the root should be named. */
static enum ab_status (*const refusals[])(const struct ab_batch *, struct ab_diag *) = {
	before_brewing, packaged_first, ends_before_it_starts, gravities, shares, hot_beer,
	full_of_air, tastings,
};

enum ab_status ab_batch_check(const struct ab_batch *batch, struct ab_diag *diag)
{
	for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
		enum ab_status st = refusals[i](batch, diag);
		if (st != AB_OK)
			return st;
	}
	return AB_OK;
}
