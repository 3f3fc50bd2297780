/* priming.c - carbonation to come, by sugar or from a keg
 *
 * Volumes = what the beer still held (heldgas.c, at the highest temperature after fermentation; +-0.08) +
 * priming (4.0 g/L of sucrose a volume) + half a volume for each gravity point that ferments in the package
 * (trust A for the arithmetic), hop creep with them (dryhop.c, trust C). Kegs, and bottles filled from one: kegs.c.
 * Wanted is the recipe's, else 2.4 volumes (common practice). What it comes to in a bottle or keg: pressure.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/priming.h>
#include <afterboil/curve.h>
#include "base/rough.h"
#include "process/carbonation.h"
#include "process/co2.h"
#include "process/gravities.h"
#include "process/words.h"
#include "process/working.h"

static const double WANTED_VOL = AB_PRIMING_USUAL_VOL, ASSUMED_C = 20, RUSH_H = 72, WEEK_H = 7 * 24;

/* The beer that was primed: what was packaged, else what the batch was meant to be. A basis without
 * lines: the package's own record is cited by the caller. */
static struct ab_told primed_volume(const struct ab_work *w)
{
	const struct ab_num *packaged = &w->batch->package->volume_l;
	struct ab_told told = w->volume;

	if (packaged->known && packaged->v > 0)
		told = ab_told_num(&w->batch->package->mark, packaged, 1, false);
	return told;
}

/* Priming weighed to 5 %; honey, dry extract and "other" ferment to anybody's guess, a tenth more
 * (estimate). */
static void set_rate(struct ab_work *w)
{
	const struct ab_package *p = w->batch->package;
	struct ab_basis basis = ab_basis_new();

	if (p == NULL || !p->priming_g.known)
		return;
	ab_rest_on_num(&basis, &p->mark, &p->priming_g, false);
	if (p->priming_g.v <= 0) {
		ab_set(w, AB_F_PACK_PRIMING, &basis, 0, 0, 'A', "none");
		return;
	}
	struct ab_told volume = primed_volume(w);
	if (!volume.known)
		return;
	ab_rest_on_basis(&basis, &volume.basis);
	/* sugar and volume as they may have been, where only a side is told: bottles burst */
	double equal = ab_sucrose_equivalent(p->sugar), grams = ab_num_at_most(&p->priming_g);
	if (volume.basis.bound == AB_BOUND_OVER)
		volume.v -= volume.resolution / AB_RESOLUTION_OF_U;
	double rate = equal * grams / volume.v;
	double u = hypot(0.05 * rate, ab_num_u(&p->mark, &p->priming_g, 0.2 * p->priming_g.v) / volume.v);
	if (volume.basis.guess || volume.basis.bound != AB_BOUND_NONE)
		u = hypot(u, rate * ab_told_u(&volume, 0.1 * volume.v) / volume.v);
	bool loose = p->sugar == 0 || p->sugar == AB_SUGAR_HONEY || p->sugar >= AB_SUGAR_DRY_EXTRACT;
	ab_set(w, AB_F_PACK_PRIMING, &basis, rate, loose ? hypot(u, 0.1 * rate) : u, loose ? 'C' : 'A',
	    "%.0f g x %.2f (as sucrose) in %.1f L", grams, equal, volume.v);
}

/* From where the warmest counts. A chill only takes the beer down, so the day before one is always looked at; where the
 * end of fermentation is not known, a week back, but not into the rush of the first three days (estimate: what it was
 * warmer then is within a tenth of a volume). */
static double looked_at_from(const struct ab_work *w)
{
	double from = w->final_h, to = w->packaged_h;

	if (isnan(from))
		from = fmin(fmax(RUSH_H, to - WEEK_H), to - 24);
	else if (!(from < to))
		from = to - 24;
	for (AB_EACH(struct ab_crash, c, w->batch->crashes)) {
		double h = ab_hours(w, &c->at);
		from = h <= to ? fmin(from, h - 24) : from;
	}
	/* What gas left before sugar went in, that sugar made again; within a day it hardly did, and counts as still to
	 * ferment. */
	double late = ab_late_sugar(w, AB_INF).last_h;
	return late < to - 24 ? fmax(from, late) : from;
}

/* The highest temperature between the end of fermentation and packaging. CO2 that left while warm does
 * not come back when it is chilled: hence the highest, not the last temperature. u grows where the
 * warmth is not measured. */
static double warmest_after(struct ab_work *w, double *u)
{
	double to = w->packaged_h, from = isfinite(to) ? looked_at_from(w) : to;

	*u = 0.08;
	if (isfinite(to) && ab_series_count(&w->beer, from - 24, to) > 0)
		return ab_series_max(&w->beer, from, to);
	*u = 0.12;
	return w->level.known ? ab_level(w)->mean : ASSUMED_C;
}

struct ab_held_gas ab_find_held(struct ab_work *w, struct ab_basis *basis)
{
	struct ab_held_gas held;
	double warm_u, pressure_u;

	held.warmest_c = warmest_after(w, &warm_u);
	held.vol = ab_held_vol(w, held.warmest_c, &pressure_u);
	held.u = hypot(warm_u, pressure_u);
	if (ab_known(w, AB_F_FERMENT_PRESSURE))
		ab_rest_on_fact(basis, &w->facts[AB_F_FERMENT_PRESSURE]);
	return held;
}

/* Points lost after packaging, AB_NAN when nobody measured. What the real beer lost says nothing of one that
 * is imagined as finished when it was packaged. */
static double lost_in_package(const struct ab_work *w)
{
	return ab_is_as_if(w, AB_F_GRAVITY_POINTS_LEFT) || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) ? AB_NAN
	    : ab_value(w, AB_F_GRAVITY_DROP_PACKAGED);
}

/* As ferment.stalled tells, which is silent on a yeast of no told class. */
static bool stopped_short(const struct ab_work *w, const struct ab_yeast_norm *yeast, double att)
{
	if (ab_known(w, AB_F_FERMENT_STALLED) || !isfinite(w->safe_fg))
		return ab_value(w, AB_F_FERMENT_STALLED) > 0;
	return att < yeast->att_low - 0.03 && ab_value(w, AB_F_GRAVITY_POINTS_LEFT) >= 5;
}

/* Is the beer that was read at its end? About where its class ends and not falling; or still for three days and no more
 * over its expected end than any reading's reach (hangs-over of rules/numbers.xml), or for its hung-still. One that
 * stopped high has its sugar yet, and priming wakes it. Without this, every batch with a slightly high reading would be
 * called a bottle bomb. What goes on for all its days at rest is no different here and where sugar is told (sugar.c):
 * ab_slow_goes_on, and a forced sample that fell. That one asks more, for there waiting is possible yet: never without
 * three days at rest. */
static bool is_at_end(const struct ab_work *w)
{
	const struct ab_yeast_norm *yeast = w->yeast != NULL ? w->yeast : w->stand_in;
	double att = ab_value(w, AB_F_GRAVITY_ATTENUATION);
	bool inside = (w->expected_by_class || isfinite(w->safe_fg)) && att >= yeast->att_low &&
	    ab_word(w, AB_F_GRAVITY_STATE) != AB_GRAVITY_FALLING;
	bool still = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= 3;
	double over = ab_value(w, isfinite(w->safe_fg) ? AB_F_GRAVITY_POINTS_LEFT : AB_F_GRAVITY_OVER_EXPECTED);
	bool hung = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= w->norms->numbers[AB_NUM_HUNG_STILL_D] &&
	    !stopped_short(w, yeast, att);
	bool usual = (w->yeast != NULL || isfinite(w->safe_fg)) && att >= yeast->att_low;

	if (ab_slow_goes_on(w) || ab_forced_lower(w) || ab_late_sugar(w, w->last_gravity_h).points >= AB_LATE_LEAST)
		return false;
	return inside || ab_value(w, AB_F_GRAVITY_POINTS_LEFT) <= 0 || (still && (usual || hung ||
	    !isfinite(over) || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) ||
	    over <= w->norms->numbers[AB_NUM_HANGS_POINTS]));
}

/* A yeast that eats starch may sink below any end that is expected: only a forced sample, or the thought of one at
 * rest, is sure of it. */
static bool is_surely_at_end(const struct ab_work *w)
{
	bool slow = w->yeast != NULL && w->yeast->diastatic;
	return ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= 2 &&
	    (!slow || w->expected_by_test || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS));
}

static const double LEAST_POINTS_U = 0.5;   /* a hydrometer's reading, estimate */

/* Points that will still ferment in the package; what was lost in it is known better than any expectation. A beer
 * nobody read, or read but once, is as uncertain as its fact says. */
static double points_to_come(const struct ab_work *w, double *u)
{
	double left = ab_value(w, AB_F_GRAVITY_POINTS_LEFT), lost = lost_in_package(w);

	*u = LEAST_POINTS_U;
	if (isfinite(lost))
		return fmax(0, lost);
	if (!isfinite(left))
		return 0;
	bool at_end = ab_known(w, AB_F_GRAVITY_LAST) && is_at_end(w);
	if (at_end && is_surely_at_end(w))
		return 0;
	*u = fmax(*u, w->facts[AB_F_GRAVITY_POINTS_LEFT].u);
	if (at_end)
		return 0;
	return fmax(0, left);
}

/* Creep counts only while no loss in the package is measured: that loss already contains it. 1/2: volumes a point. */
struct ab_to_come ab_find_to_come(const struct ab_work *w, struct ab_basis *basis)
{
	double points_u, points = points_to_come(w, &points_u), extra = ab_co2_from_points(points);
	bool lost = isfinite(lost_in_package(w));
	double creep = lost || !ab_known(w, AB_F_HOPS_CREEP) ? 0 : ab_value(w, AB_F_HOPS_CREEP),
	    hops = ab_co2_from_points(creep);

	/* what it adds to the doubt it is answerable for, too: a guess is passed on though no point is left */
	if (points > 0 || (!lost && points_u > LEAST_POINTS_U))
		ab_rest_on_fact(basis, &w->facts[lost ? AB_F_GRAVITY_DROP_PACKAGED : AB_F_GRAVITY_POINTS_LEFT]);
	if (creep > 0)
		ab_rest_on_fact(basis, &w->facts[AB_F_HOPS_CREEP]);
	return (struct ab_to_come){ points + creep, extra + hops, hypot(0.5 * points_u, hops), lost, creep > 0, false };
}

const char *ab_by_creep(const struct ab_to_come *more)
{
	return more->creep ? ", by what the hops' enzymes free too" : "";
}

const char *ab_by_pressure(const struct ab_work *w)
{
	return ab_value(w, AB_F_FERMENT_PRESSURE) > 0 ? " under the pressure it fermented at" : "";
}

/* 1/4: volumes a g/L of sucrose. Primed bottles beside a record of a keg: most likely a part of the batch went either
 * way, but gas and sugar both is what bursts bottles. The value stays, half of what the keg would add is doubt. */
void ab_set_primed(struct ab_work *w, const struct ab_taken *keg)
{
	struct ab_basis basis = ab_basis_new();
	struct ab_held_gas held = ab_find_held(w, &basis);
	double rate = ab_value(w, AB_F_PACK_PRIMING);

	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_PRIMING]);
	struct ab_to_come more = ab_find_to_come(w, &basis);
	double u = hypot(hypot(held.u, w->facts[AB_F_PACK_PRIMING].u / 4), more.u);
	bool both = keg != NULL && keg->known;
	if (both)
		u = hypot(u, fmax(0, keg->vol - held.vol) / 2);
	ab_set(w, AB_F_PACK_CO2, &basis, held.vol + ab_co2_from_sucrose(rate) + more.vol, u,
	    more.creep || both ? 'C' : 'B',
	    "%.2f held at %.1f C%s + %.2f from %.1f g/L priming + %.2f from %.1f points still to ferment%s%s",
	    held.vol, held.warmest_c, ab_by_pressure(w),
	    ab_co2_from_sucrose(rate), rate, more.vol, more.points, ab_by_creep(&more), both
	    ? "; if it had been gassed in a keg before, far more" : "");
}

/* In bottles, and nobody tells of sugar or how much: what is still to ferment tells the least there will be. It is told
 * where that alone is more than ordinary beers hold; below, the sugar decides, and it is not known. */
static void set_unweighed_co2(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	struct ab_held_gas held = ab_find_held(w, &basis);
	struct ab_to_come more = ab_find_to_come(w, &basis);

	if (held.vol + more.vol < AB_TELLING_VOL)
		return;
	ab_set(w, AB_F_PACK_CO2, &basis, held.vol + more.vol, hypot(held.u, more.u), 'C',
	    "at least: %.2f held at %.1f C%s + %.2f from %.1f points still to ferment%s; sugar, which nobody told of "
	    "or weighed, comes on top",
	    held.vol, held.warmest_c, ab_by_pressure(w), more.vol, more.points, ab_by_creep(&more));
}

/* Shut in for good, with no gas from without. */
static bool is_bottled(const struct ab_work *w)
{
	int into = ab_word(w, AB_F_PACK_INTO);
	return into == AB_PACK_BOTTLES || into == AB_PACK_CANS;
}

/* Of bottles and cans; and of what is not told to be in a keg, as far as it was primed or gassed. */
static void set_others(struct ab_work *w, const struct ab_taken *keg, struct ab_basis *basis)
{
	bool bottled = is_bottled(w), primed = ab_value(w, AB_F_PACK_PRIMING) > 0;

	if (primed || (ab_known(w, AB_F_PACK_PRIMING) && w->batch->carbonate == NULL))
		ab_set_primed(w, bottled ? keg : NULL);
	else if (bottled && keg->known)
		ab_set_bottled_from_keg(w, keg, basis);
	else if (keg->known)
		ab_set_keg_gas(w, keg, basis);
	else if (bottled && w->batch->carbonate == NULL)
		set_unweighed_co2(w);
}

static void set_gas(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	bool bottled = is_bottled(w);
	struct ab_taken keg = ab_find_taken(w, bottled, &basis);

	w->keg = (struct ab_keg_gas){ .valve_kpa = AB_NAN, .regulator_kpa = -AB_INF, .gassed_vol = AB_NAN };
	if (keg.known && !(bottled && ab_known(w, AB_F_PACK_PRIMING) &&
	    (ab_value(w, AB_F_PACK_PRIMING) > 0 || w->batch->carbonate == NULL)))
		ab_set(w, AB_F_KEG_CO2, &basis, keg.full, basis.guess ? 0.3 : 0.1, keg.temp_c <= 20 ? 'A' : 'B',
		    "%.0f kPa at %.1f C, at equilibrium", keg.kpa, keg.temp_c);
	if (ab_word(w, AB_F_PACK_INTO) == AB_PACK_KEG)
		ab_set_keg_gas(w, &keg, &basis);
	else
		set_others(w, &keg, &basis);
}

/* "Usual" is no wish of this brewer's, so it adds 0.3 volumes of doubt. */
static void set_over(struct ab_work *w)
{
	const struct ab_recipe *r = w->batch->recipe;
	const struct ab_fact *co2 = &w->facts[AB_F_PACK_CO2];
	bool told = r != NULL && r->co2_vol.known;
	double wanted = told ? r->co2_vol.v : WANTED_VOL;
	struct ab_basis basis = ab_basis_new();

	/* of a keg nobody told the gas of, only the least is known */
	if (!AB_FACT_KNOWN(co2) || w->keg.own)
		return;
	ab_rest_on_fact(&basis, co2);
	if (told)
		ab_rest_on_num(&basis, &r->mark, &r->co2_vol, false);
	ab_set(w, AB_F_PACK_CO2_OVER, &basis, co2->value - wanted, told ? co2->u : hypot(co2->u, 0.3),
	    told ? co2->grade : 'C',
	    "%.2f expected - %.2f %s", co2->value, wanted, told ? "wanted" : "usual");
}

void ab_facts_priming(struct ab_work *w)
{
	set_rate(w);
	ab_facts_in_package(w);
	set_gas(w);
	set_over(w);
	ab_facts_pressure(w);
}
