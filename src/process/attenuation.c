/* attenuation.c - original and last gravity, attenuation and alcohol, what is left to ferment
 *
 * Attenuation and alcohol by Balling (extract.c, trust A), in deg P and shares; differences in gravity points
 * (0.001 SG). What is expected: expected.c; whether it stood still: standstill.c.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"

#include <stdio.h>

#include <afterboil/quantity.h>
#include "base/rough.h"
#include "process/extract.h"
#include "process/gravities.h"

/* A reading this long after pitching is still the original one. */
static const double OG_H = 6;

/* What the brewer says outright; set first, so that set_stalled only fills the gap where nobody spoke. */
static const struct ab_plain rows[] = {
	AB_ONE(AB_F_FERMENT_STALLED, AB_FIELD_YESNO, lag, stalled, 1),
	AB_ONE(AB_F_FERMENT_RESTARTED, AB_FIELD_YESNO, lag, restarted, 1),
	AB_ONE(AB_F_FERMENT_ROUSED, AB_FIELD_YESNO, lag, roused, 1),
};

/* One gravity with its time and what it rests on. */
struct gravity { bool known, unmixed; double h, sg, u; struct ab_basis basis; };

static void take(const struct ab_work *w, struct gravity *g, double h, const struct ab_reading *r)
{
	*g = (struct gravity){ true, false, h, ab_gravity_true(w, r), ab_gravity_u(r), ab_basis_new() };
	ab_rest_on_gravity(&g->basis, r);
}

/* What a sample of a wort that was not mixed may be off by. Strong runnings lie under thin ones: 5 points
 * (estimate), 10 where water may have been put on top. Where it was, the sample may be the wort alone or mostly
 * water: half of what the water takes away. */
static double unmixed_u(const struct ab_work *w, double sg)
{
	double share = ab_known(w, AB_F_WATER_TOPPED) ? ab_value(w, AB_F_WATER_TOPPED) : ab_value(w, AB_F_WATER_TOPUP);

	return isfinite(share) ? fmax(0.005, share * (sg - 1) / 2) : 0.010;
}

/* The reading nearest to pitching; a mixed sample before an unmixed one; an untimed
 * one, if it is a wort's, last. Above 1.030 an untimed reading can only be a wort's; the strongest of
 * them is the one before yeast. */
static struct gravity find_og(const struct ab_work *w)
{
	struct gravity timed = { .known = false }, unmixed = timed, untimed = timed;

	for (AB_EACH_SAMPLE(r, w)) {
		if (!r->gravity_sg.known)
			continue;
		double h = ab_hours(w, &r->at);
		if (h > OG_H)
			continue;
		struct gravity *g = !isfinite(h) ? &untimed : r->mixed == AB_NO ? &unmixed : &timed;
		bool nearer = isfinite(h) && !(g->known && fabs(h) >= fabs(g->h));
		bool stronger = !isfinite(h) && r->gravity_sg.v > 1.030 &&
		    !(g->known && g->sg >= r->gravity_sg.v);
		if (nearer || stronger)
			take(w, g, h, r);
	}
	unmixed.unmixed = true;
	unmixed.u = hypot(unmixed.u, unmixed_u(w, unmixed.sg));
	return timed.known ? timed : unmixed.known ? unmixed : untimed;
}

/* What was planned, for want of a reading that can be trusted. */
static void set_planned(struct ab_work *w, const struct ab_recipe *recipe, const char *why)
{
	struct ab_basis basis = ab_basis_new();

	ab_rest_on_num(&basis, &recipe->mark, &recipe->og_sg, false);
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_GRAVITY_OG, &basis, recipe->og_sg.v, 0.004, 'C', "%s: the planned %.3f", why, recipe->og_sg.v);
}

/* One beer is stronger than another: about ten points (estimate). */
static const double USUAL_U = 0.010;

/* What is usual, for want of both: read about pitching, else planned. A reading without a time may be any. */
static void set_usual_og(struct ab_work *w)
{
	struct ab_told og = { .known = false };

	if (w->usual == NULL)
		return;
	for (AB_EACH(struct ab_reading, r, w->usual->readings))
		if (!og.known && r->gravity_sg.known && fabs(ab_hours(w, &r->at)) <= OG_H)
			og = ab_told_num(&r->mark, &r->gravity_sg, 1, true);
	if (!og.known)
		og = AB_LOOK_ONE(w, AB_FIELD_NUM, recipe, og_sg, 1);
	if (og.known)
		ab_set(w, AB_F_GRAVITY_OG, &og.basis, og.v, USUAL_U, 'C', "what is usual: %.3f", og.v);
}

/* Without a reading, or beside one of wort that was not mixed, the plan stands in, wide (4 points) and "assumed":
 * attenuation and priming can then still be told, and say what they rest on. */
static void set_og(struct ab_work *w)
{
	const struct ab_recipe *recipe = w->batch->recipe;
	struct gravity og = find_og(w);

	bool planned = recipe != NULL && recipe->og_sg.known;

	if (og.known && !(og.unmixed && planned)) {
		og.basis.origin = AB_ORIGIN_MEASURED;
		ab_set(w, AB_F_GRAVITY_OG, &og.basis, og.sg, og.u, og.unmixed ? 'C' : 0,
		    og.unmixed ? "of a sample that was not mixed" : NULL);
	}
	if (!og.known && !planned)
		set_usual_og(w);
	if (!planned)
		return;
	double plan = recipe->og_sg.v;
	if (!og.known || og.unmixed)
		set_planned(w, recipe, og.known ? "the sample was not mixed" : "not measured");
	if (og.known) {
		ab_rest_on_num(&og.basis, &recipe->mark, &recipe->og_sg, false);
		og.basis.origin = AB_ORIGIN_DERIVED;
		ab_set(w, AB_F_GRAVITY_OG_OVER_PLAN, &og.basis, 1000 * (og.sg - plan), 1000 * og.u, 'A',
		    "%.4f measured - %.4f planned", og.sg,
		    plan);
	}
}

/* A log's last sample before the end is enough: walked from behind, because a floating sensor has
 * thousands. One from the first hours is the original gravity, not the last. */
static void consider_logs(const struct ab_work *w, double until_h, struct gravity *last)
{
	for (AB_EACH(struct ab_log, log, w->batch->logs)) {
		for (size_t i = log->sensor != NULL ? log->sensor->n : 0; i-- > 0;) {
			struct ab_when at = { .known = true, .s = log->sensor->samples[i].s };
			double h = ab_hours(w, &at), sg = log->sensor->samples[i].gravity_sg;
			if (!isfinite(sg) || h > until_h)
				continue;
			if (h > AB_UNDERWAY_H && !(last->known && last->h >= h)) {
				*last = (struct gravity){ true, false, h, sg, 0.002, ab_basis_new() };
				ab_rest_on(&last->basis, &log->mark, false);
			}
			break;
		}
	}
}

/* The last trusted gravity of the fermentation, not after until_h. What is told at packaging comes
 * after all of them by definition, so it wins even where no hour is known. */
static struct gravity find_last(const struct ab_work *w, double until_h)
{
	const struct ab_package *p = w->batch->package;
	struct gravity last = { .known = false };

	consider_logs(w, until_h, &last);
	for (AB_EACH_SAMPLE(r, w)) {
		if (!r->gravity_sg.known || ab_gravity_misleads(w, r))
			continue;
		double h = ab_hours(w, &r->at);
		if (h <= AB_UNDERWAY_H || h > until_h || (!isfinite(h) && ab_packaged_hours(w, &r->at) > 0))
			continue;
		/* Untimed ones come in the order they were written, but a high one is the original
		 * gravity's. */
		if (isfinite(h) ? !last.known || !(last.h > h) : r->gravity_sg.v <= 1.030 && !last.known)
			take(w, &last, h, r);
	}
	if (p != NULL && p->gravity_sg.known) {
		double u = hypot(0.0005, ab_num_u(&p->mark, &p->gravity_sg, 0.003));
		last = (struct gravity){ true, false, w->packaged_h, p->gravity_sg.v, u, ab_basis_new() };
		ab_rest_on_num(&last.basis, &p->mark, &p->gravity_sg, false);
	}
	return last;
}

/* Below 1.005 a quotient of two nearly equal numbers would be noise. 131 is the usual slope of % by
 * volume on SG, good enough for carrying the uncertainty. */
static void set_attenuation(struct ab_work *w, const struct gravity *last)
{
	double og = ab_value(w, AB_F_GRAVITY_OG), og_u = w->facts[AB_F_GRAVITY_OG].u;
	struct ab_basis basis = last->basis;

	char grade = w->facts[AB_F_GRAVITY_OG].grade > 'A' ? w->facts[AB_F_GRAVITY_OG].grade : 'A';

	if (!ab_known(w, AB_F_GRAVITY_OG) || og < 1.005)
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_set(w, AB_F_GRAVITY_ATTENUATION, &basis, ab_attenuation(og, last->sg), hypot(last->u, og_u) /
	    (og - 1), grade, "from %.3f to %.3f, by way of degrees Plato", og, last->sg);
	ab_set(w, AB_F_GRAVITY_ABV, &basis, ab_alcohol_by_volume(og, last->sg), 131 * hypot(last->u, og_u),
	    grade, "from %.3f to %.3f, by Balling's relations", og, last->sg);
}

/* To the points left of a beer that was read before its last sugar. A beer that had sunk further than expected eats
 * none the less of it. */
static struct ab_late add_late(const struct ab_work *w, const struct gravity *last, double *over, double *u,
    struct ab_basis *basis)
{
	struct ab_late late = ab_late_sugar(w, last->h);

	*over = (late.points >= AB_LATE_LEAST ? fmax(0, *over) : *over) + late.points;
	*u = hypot(*u, late.u);
	ab_rest_on_basis(basis, &late.basis);
	return late;
}

/* "Under 1.014" may have been as much: bottles are reckoned with that. */
static double safe_sg(const struct gravity *last)
{
	return last->basis.bound == AB_BOUND_UNDER ? last->sg + AB_BEYOND_SG : last->sg;
}

/* Two facts of one number: over-expected judges the fermentation, points-left what may still ferment in
 * the bottle. The second exists for packaged beer only, and only it doubts an old reading. */
static void set_over_expected(struct ab_work *w, const struct gravity *last)
{
	struct ab_basis basis = last->basis;
	double over = 1000 * (last->sg - w->expected_fg), u = 1000 * hypot(last->u, w->expected_fg_u);

	if (!isfinite(w->expected_fg))
		return;
	/* Imagined as nearer its end, the beer is that much less over what was expected. */
	if (ab_is_as_if(w, AB_F_GRAVITY_POINTS_LEFT))
		over = fmin(over, ab_value(w, AB_F_GRAVITY_POINTS_LEFT));
	ab_rest_on_basis(&basis, &w->expected_basis);
	ab_set(w, AB_F_GRAVITY_OVER_EXPECTED, &basis, over, u, 'B', "%.4f last - %.4f, %s", last->sg,
	    w->expected_fg, w->expected_how);
	if (w->batch->package == NULL)
		return;
	over += 1000 * (safe_sg(last) - last->sg);
	struct ab_late late = add_late(w, last, &over, &u, &basis);
	/* Long after the last reading, what was left may be gone already. */
	if (w->packaged_h - last->h > 72)
		u = hypot(u, over / 2);
	ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &basis, over, u, late.points > 0 ? 'C' : 'B',
	    "%.4f before packaging - %.4f, %s%s", safe_sg(last), w->expected_fg,
	    w->expected_how, ab_late_says(&late));
}

/* Of a yeast of no told class, for safety only: a guess, and no word on how well it fermented. */
static void set_safe_left(struct ab_work *w, const struct gravity *last)
{
	struct ab_basis basis = last->basis;
	double over = 1000 * (safe_sg(last) - w->safe_fg), u = 1000 * hypot(last->u, w->safe_fg_u);

	if (!isfinite(w->safe_fg) || w->batch->package == NULL)
		return;
	struct ab_late late = add_late(w, last, &over, &u, &basis);
	ab_rest_on_basis(&basis, &w->expected_basis);
	basis.guess = true;
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &basis, over, w->packaged_h - last->h > 72 ? hypot(u, over / 2) : u, 'C',
	    "%.4f before packaging - %.4f, usual for %s; the yeast's class is not told%s", safe_sg(last), w->safe_fg,
	    w->stand_in->title,
	    ab_late_says(&late));
}

/* The share of the sugar left after days in the fermenter, on the logistic of curve.h: half is gone at four tenths of
 * the class's usual days to final gravity, all but a twentieth at its end (estimate, common practice). */
double ab_share_left(double days, double primary_days)
{
	return 1 / (1 + pow(19, (days / primary_days - 0.4) / 0.6));
}

/* Mean and spread over slow, usual and fast fermentations. */
struct band { double mean, u; };

/* What is left of these points of wort and of late sugar at packaging: at the class's usual days, slow and fast ones
 * beside it (0.6 and 1.7 of them: working estimate for warmth, lag and pitch). One beer ferments both at one pace. */
static struct band left_by_pace(const struct ab_work *w, double points, double primary_days)
{
	static const double SPEED[] = { AB_FAST_SHARE, 1, 1.7 };
	double mean = 0, square = 0;

	for (size_t i = 0; i < 3; i++) {
		double pace = SPEED[i] * primary_days, left = ab_late_left(w, pace);
		left += points > 0 ? points * ab_share_left(ab_warm_h(w, 0) / 24, pace) : 0;
		mean += left / 3;
		square += left * left / 3;
	}
	return (struct band){ mean, sqrt(fmax(0, square - mean * mean)) };
}

/* How sure the weight of late sugar makes what is left of it. */
static double late_u(const struct ab_late *late, double left)
{
	return late->points > 0 ? late->u * fmin(1, left / late->points) : 0;
}

/* Never surer than by the one beer in twenty that stops five points high (estimate). */
static const double STUCK_U = 1.1;

/* Packaged and never read: unknown is not finished. What the class's usual days leave. A guess, so that it weighs less
 * as a sign. */
static void set_unread_left(struct ab_work *w)
{
	const struct ab_yeast_norm *yeast = w->yeast != NULL ? w->yeast : w->stand_in;
	double og = ab_value(w, AB_F_GRAVITY_OG), days = w->packaged_h / 24, cold = days - ab_warm_h(w, 0) / 24;
	double end = isfinite(w->expected_fg) ? w->expected_fg : w->safe_fg;
	struct ab_basis basis = w->expected_basis;

	if (w->batch->package == NULL || yeast == NULL || !(yeast->primary_days > 0) || !isfinite(end) ||
	    !ab_known(w, AB_F_GRAVITY_OG) || !isfinite(days) || days < 0)
		return;
	struct ab_late late = ab_late_sugar(w, -AB_INF);
	struct band left = left_by_pace(w, fmax(0, 1000 * (og - end)), yeast->primary_days),
	    sweet = left_by_pace(w, 0, yeast->primary_days);
	ab_rest_on_basis(&basis, &late.basis);
	ab_rest_on(&basis, &w->batch->package->mark, false);
	basis.guess = true;
	basis.origin = AB_ORIGIN_ASSUMED;
	char in_cold[40] = "";
	if (cold >= 0.1)
		snprintf(in_cold, sizeof in_cold, ", %.1f d of it in the cold", cold);
	ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &basis, left.mean,
	    hypot(hypot(STUCK_U, late_u(&late, sweet.mean)), left.u), 'C',
	    "gravity never read; packaged %.1f d after pitching%s, and such a yeast takes about %.0f d%s%s", days,
	    in_cold, yeast->primary_days, w->yeast != NULL ? "" : "; its class is not told", ab_late_says(&late));
}

/* Where else nothing is known of what is left, late sugar tells the least of it: after the last gravity, or where none
 * was read what its pace leaves of it. */
static void set_late_left(struct ab_work *w, const struct gravity *last)
{
	const struct ab_yeast_norm *yeast = w->yeast != NULL ? w->yeast : w->stand_in;

	if (w->batch->package == NULL || ab_known(w, AB_F_GRAVITY_POINTS_LEFT))
		return;
	struct ab_late late = ab_late_sugar(w, last->known ? last->h : -AB_INF);
	struct band left = { late.points, 0 };
	if (!last->known && yeast != NULL && yeast->primary_days > 0 && isfinite(w->packaged_h))
		left = left_by_pace(w, 0, yeast->primary_days);
	late.basis.origin = AB_ORIGIN_ASSUMED;
	if (left.mean >= AB_LATE_LEAST)
		ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &late.basis, left.mean,
		    hypot(hypot(STUCK_U, late_u(&late, left.mean)), left.u), 'C',
		    "at least what sugar that was put in late makes; what else is left is not known");
}

/* Order matters: expectation needs the original gravity, "stalled" needs attenuation, the phases all of them. */
void ab_facts_attenuation(struct ab_work *w)
{
	struct gravity last = find_last(w, isfinite(w->packaged_h) ? w->packaged_h + 12 : AB_INF);

	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_og(w);
	w->last_gravity_h = last.known ? last.h : AB_NAN;
	ab_gravity_expect(w);
	if (last.known) {
		last.basis.origin = AB_ORIGIN_MEASURED;
		ab_set(w, AB_F_GRAVITY_LAST, &last.basis, last.sg, last.u, 0, NULL);
		last.basis.origin = AB_ORIGIN_DERIVED;
		set_attenuation(w, &last);
		set_over_expected(w, &last);
		set_safe_left(w, &last);
	} else {
		set_unread_left(w);
	}
	set_late_left(w, &last);
	ab_gravity_stands(w, last.known ? last.sg : AB_NAN);
	ab_gravity_tell_readings(w);
}
