/* sugar.c - the sugar a beer wants in the bottle, and what stands against telling it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/priming.h>
#include <afterboil/curve.h>

#include <string.h>

#include "process/co2.h"
#include "process/gravities.h"
#include "process/words.h"
#include "process/working.h"

/* G_PER_VOL: co2.h. RESIDUAL_U: of the gas the beer still holds; SUGAR_U: of what sugar makes, as a share (priming.c).
 * ASSUMED_C: priming.c, where nobody tells. RUSH_H: the first three days, as there. */
static const double G_PER_VOL = 4, RESIDUAL_U = 0.08, SUGAR_U = 0.05, DAY_H = 24, ASSUMED_C = 20, RUSH_H = 72;

enum ab_priming_why ab_priming_rate(const struct ab_priming_of *of, struct ab_priming_rate *out)
{
	double atm = of->atm > 0 ? of->atm : 1, held = ab_co2_held(of->over_kpa, of->warmest_c, atm),
	    wanted = of->volumes - held;
	double held_u = hypot(RESIDUAL_U, held - ab_co2_held(of->over_kpa, of->warmest_c + of->warmest_u, atm));

	held_u = hypot(held_u, ab_co2_held(of->over_kpa + of->over_u, of->warmest_c, atm) - held);

	*out = (struct ab_priming_rate){ .g_per_l = 0 };
	if (!(wanted > 0))
		return AB_PRIMING_HOLDS_ENOUGH;
	out->vol_u = hypot(held_u, SUGAR_U * wanted);
	out->g_per_l = G_PER_VOL * wanted;
	out->low = G_PER_VOL * fmax(0, wanted - out->vol_u);
	out->high = G_PER_VOL * (wanted + out->vol_u);
	out->kpa = ab_co2_bottle_kpa(of->volumes + 2 * out->vol_u, of->hottest_c) + ab_co2_gauge_up(atm);
	return of->limit_kpa > 0 && out->kpa > of->limit_kpa ? AB_PRIMING_BOTTLE : AB_PRIMING_READY;
}

/* ---- is it done? ---- */

/* In the days that the gravity stood, or behind them: what it does to the yeast shows only later. */
static bool hopped_since(const struct ab_work *w)
{
	for (AB_EACH(struct ab_dryhop, h, w->batch->dryhops)) {
		double at_h = ab_hours(w, &h->at);
		if ((!h->amount_g.known || h->amount_g.v > 0) &&
		    !(at_h < w->last_gravity_h - w->norms->numbers[AB_NUM_STILL_D] * DAY_H))
			return true;
	}
	return false;
}

static void newest_readings(const struct ab_work *w, struct ab_priming *out)
{
	const size_t most = sizeof out->read_sg / sizeof *out->read_sg;
	size_t from = w->gravity.n > most ? w->gravity.n - most : 0;

	for (size_t i = from; i < w->gravity.n; i++)
		if (w->gravity.at[i].h > DAY_H)
			out->read_sg[out->n_read++] = w->gravity.at[i].v;
}

static enum ab_priming_why is_done(const struct ab_work *w, struct ab_priming *out)
{
	const double *number = w->norms->numbers;
	double over = ab_value(w, AB_F_GRAVITY_OVER_EXPECTED), still_d = number[AB_NUM_STILL_D];
	bool lower = ab_forced_lower(w);

	out->last_sg = ab_value(w, AB_F_GRAVITY_LAST);
	out->end_sg = w->expected_fg;
	/* There, not lower; nor higher, where the beer itself has gone on since. */
	out->forced = w->expected_by_test && !lower && over > -1000 * AB_ALIKE_SG;
	out->stood_days = ab_value(w, AB_F_GRAVITY_STABLE_DAYS);
	out->hung_days = number[AB_NUM_HUNG_STILL_D];
	out->slow_days = number[AB_NUM_SLOW_STILL_D];
	newest_readings(w, out);
	out->misled = !ab_known(w, AB_F_GRAVITY_LAST) && ab_known(w, AB_F_GRAVITY_UNCORRECTED) &&
	    ab_value(w, AB_F_GRAVITY_UNCORRECTED) > 0;
	if (!ab_known(w, AB_F_GRAVITY_LAST))
		return AB_PRIMING_NO_GRAVITY;
	double late_h = ab_late_sugar(w, AB_INF).last_h;
	if (!(out->stood_days >= still_d) && late_h > w->last_gravity_h - still_d * DAY_H)
		return AB_PRIMING_SUGAR_SINCE;
	if (!(out->stood_days >= still_d))
		return AB_PRIMING_NOT_STILL;
	if (!isfinite(out->end_sg) || !isfinite(over))
		return AB_PRIMING_NO_END;
	int state = ab_word(w, AB_F_GRAVITY_STATE);
	/* What a sample lost when it was warmed and shaken the bottles may lose as well: no days at rest tell against
	 * that. */
	out->stalled = lower || ab_value(w, AB_F_FERMENT_STALLED) > 0 || state == AB_GRAVITY_STALLED;
	if (out->stalled || state == AB_GRAVITY_FALLING)
		return AB_PRIMING_POINTS_LEFT;
	if (ab_slow_goes_on(w))
		return AB_PRIMING_SLOW_YEAST;
	if (over > number[AB_NUM_HANGS_POINTS] && !(out->stood_days >= out->hung_days))
		return AB_PRIMING_POINTS_LEFT;
	return hopped_since(w) ? AB_PRIMING_HOPS_SINCE : AB_PRIMING_READY;
}

/* ---- how warm, how much gas, which bottle ---- */

/* Read only before: warmth of the rush drove out gas that was made again since, and is no sign of how warm it was
 * after. Of what is read later the coolest, and of nothing but the rush no more than what is assumed where nobody
 * tells: beer taken for cooler than it was holds less gas than reckoned, gets too little sugar and bursts no bottle. */
static double safe_guess(const struct ab_work *w)
{
	bool late = ab_series_count(&w->beer, RUSH_H, AB_INF) > 0;
	double coolest = AB_INF;

	for (size_t i = 0; i < w->beer.n; i++)
		if (!late || w->beer.at[i].h >= RUSH_H)
			coolest = fmin(coolest, w->beer.at[i].v);
	return !isfinite(coolest) ? AB_NAN : late ? coolest : fmin(ASSUMED_C, coolest);
}

/* Gas that left while it was warm does not come back: the warmest since the gravity stands, else how the fermenter is
 * held, else a guess on the safe side. */
static bool find_warmest(struct ab_work *w, struct ab_priming *out)
{
	double from = w->last_gravity_h - out->stood_days * DAY_H - DAY_H;
	bool measured = isfinite(from) && ab_series_count(&w->beer, from, AB_INF) > 0;

	out->read_then = measured;
	out->of.warmest_u = measured ? 0.5 : 3;
	out->of.warmest_c = measured ? ab_series_max(&w->beer, from, AB_INF)
	    : w->level.known ? ab_level(w)->mean : safe_guess(w);
	out->cool_guess = !measured && !w->level.known && isfinite(out->of.warmest_c);
	return isfinite(out->of.warmest_c);
}

static void find_bottle(const struct ab_work *w, struct ab_priming *out)
{
	struct ab_told told = AB_LOOK_ONE(w, AB_FIELD_WORD, package, bottle, 0);
	struct ab_basis basis = ab_basis_new();
	double u = 0;

	out->told_bottle = told.known;
	out->of.atm = ab_air_atm(w);
	if (ab_known(w, AB_F_FERMENT_PRESSURE)) {
		out->of.over_kpa = ab_value(w, AB_F_FERMENT_PRESSURE);
		out->of.over_u = w->facts[AB_F_FERMENT_PRESSURE].u;
	}
	out->of.hottest_c = ab_hottest_storage(w, &u, &basis);
	int bottle = told.known ? (int)told.v + 1 : 0;
	const struct ab_bottle_norm *norm = ab_bottle_norm_of(w->norms, AB_PACK_BOTTLES, bottle);
	out->of.limit_kpa = ab_bottle_limit_kpa(norm);
	/* of what nobody knows the limit of no more sugar is told than makes what goes without a word */
	if (!(out->of.limit_kpa > 0) && norm != NULL)
		out->of.limit_kpa = norm->tell_kpa;
}

/* The middle of the family; its low end where the bottle bears no more. */
static enum ab_priming_why reckon(const struct ab_work *w, struct ab_priming *out)
{
	const struct ab_recipe *r = w->batch->recipe;
	size_t family = w->batch->family > 0 ? (size_t)w->batch->family : AB_FAMILY_OTHER;
	bool has_usual = family - 1 < w->norms->n_carbonation;
	const struct ab_co2_norm *usual = has_usual ? &w->norms->carbonation[family - 1] : NULL;

	out->usual = !(r != NULL && r->co2_vol.known);
	if (!out->usual || usual == NULL) {
		out->of.volumes = out->usual ? AB_PRIMING_USUAL_VOL : r->co2_vol.v;
		return ab_priming_rate(&out->of, &out->rate);
	}
	out->of.volumes = (usual->low + usual->high) / 2;
	enum ab_priming_why why = ab_priming_rate(&out->of, &out->rate);
	if (why != AB_PRIMING_BOTTLE)
		return why;
	out->of.volumes = usual->low;
	return ab_priming_rate(&out->of, &out->rate);
}

/* Before any fact is reckoned: most batches of a history are in their bottles. */
static bool is_to_come(const struct ab_batch *b)
{
	return !(b->package != NULL && (b->package->at.known || b->package->priming_g.known)) && b->tastings.n == 0;
}

static bool is_asked(const struct ab_work *w)
{
	int into = ab_word(w, AB_F_PACK_INTO);

	return into == 0 || into == AB_PACK_BOTTLES;
}

static enum ab_priming_why find(struct ab_work *w, struct ab_priming *out, bool once_done)
{
	if (!is_asked(w))
		return AB_PRIMING_NOT_ASKED;
	out->volume_l = w->volume.known ? w->volume.v : AB_NAN;
	enum ab_priming_why why = is_done(w, out);
	if (why != AB_PRIMING_READY && !once_done)
		return why;
	out->assumed = !find_warmest(w, out);
	if (out->assumed && !once_done)
		return AB_PRIMING_NO_TEMPERATURE;
	if (out->assumed)   /* the cool end of its yeast: what it holds already is not counted too low */
		out->of.warmest_c = w->yeast != NULL ? fmin(ASSUMED_C, w->yeast->low_c) : ASSUMED_C;
	find_bottle(w, out);
	return reckon(w, out);
}

static enum ab_status reckon_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_priming *out, bool once_done, struct ab_diag *diag)
{
	struct ab_work w = { .batch = batch, .profile = profile, .norms = norms, .arena = arena, .bare = true };

	*out = (struct ab_priming){ .why = AB_PRIMING_NOT_ASKED, .volume_l = AB_NAN, .stood_days = AB_NAN,
		.last_sg = AB_NAN, .end_sg = AB_NAN };
	if (!is_to_come(batch))
		return AB_OK;
	w.facts = ab_arena_alloc(arena, AB_F_MAX_, sizeof *w.facts);
	if (w.facts != NULL)
		ab_facts_walk(&w);
	if (w.facts != NULL)
		out->why = find(&w, out, once_done);
	return w.facts == NULL || w.short_of_memory ? ab_fail(diag, AB_ENOMEM, batch->source, batch->mark.line,
	    "out of memory while reckoning the priming sugar") : AB_OK;
}

enum ab_status ab_priming_of_batch(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_priming *out, struct ab_diag *diag)
{
	return reckon_batch(batch, profile, norms, arena, out, false, diag);
}

enum ab_status ab_priming_once_done(const struct ab_batch *batch, const struct ab_profile *profile,
    const struct ab_norms *norms,
    struct ab_arena *arena, struct ab_priming *out, struct ab_diag *diag)
{
	return reckon_batch(batch, profile, norms, arena, out, true, diag);
}
