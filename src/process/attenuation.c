/* attenuation.c - original, last and expected gravity; what is left to ferment; whether it stood still
 *
 * Attenuation and alcohol by Balling (extract.c, trust A), in deg P and shares; differences in gravity points
 * (0.001 SG). The expected final gravity is the recipe's, else the middle of the yeast class's apparent
 * attenuation (trust B, +- a quarter of the range), 1.5 in the hundred less for each kelvin of mash over 66 C
 * and more below, 5 K at most (estimate, common practice; +- half of it), where simple sugar ferments out and
 * lactose or maltodextrin stays (0.38 points for a g/L).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/working.h"
#include <afterboil/quantity.h>
#include "process/extract.h"
#include "process/gravities.h"
#include "process/words.h"

/* STILL: two readings that differ by no more are one gravity. OG_H: a reading this long after pitching is
 * still the original one. */
/* MARK_SG: nearly a mark of a hydrometer (0.001 SG): a reading that lies so far under the one it is held against has sunk
 * (estimate; its rounding and the sample's temperature make less). */
static const double STILL_SG = 0.0015, MARK_SG = 0.0008, OG_H = 6, UNDERWAY_H = 12;

/* What the brewer says outright; set first, so that set_stalled only fills the gap where nobody spoke. */
static const struct ab_plain rows[] = {
	AB_ONE(AB_F_FERMENT_STALLED, AB_FIELD_YESNO, lag, stalled, 1),
	AB_ONE(AB_F_FERMENT_RESTARTED, AB_FIELD_YESNO, lag, restarted, 1),
};

/* One gravity with its time and what it rests on. */
struct gravity { bool known; double h, sg, u; struct ab_basis basis; };

static void take(const struct ab_work *w, struct gravity *g, double h, const struct ab_reading *r)
{
	*g = (struct gravity){ true, h, ab_gravity_true(w, r), ab_gravity_u(r), ab_basis_new() };
	ab_rest_on(&g->basis, &r->mark, false);
}

/* The reading nearest to pitching; a mixed sample before an unmixed one (5 points wide); an untimed
 * one, if it is a wort's, last. The 5 points for an unmixed wort are an estimate: strong runnings and
 * top-up water lie in layers. Above 1.030 an untimed reading can only be a wort's; the strongest of
 * them is the one before yeast. */
static struct gravity find_og(const struct ab_work *w)
{
	struct gravity timed = { .known = false }, unmixed = timed, untimed = timed;

	for (AB_EACH(struct ab_reading, r, w->batch->readings)) {
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
	unmixed.u = hypot(unmixed.u, 0.005);
	return timed.known ? timed : unmixed.known ? unmixed : untimed;
}

/* Without a reading the plan stands in, wide (4 points) and "assumed": attenuation and priming can then
 * still be told, and say what they rest on. */
static void set_og(struct ab_work *w)
{
	const struct ab_recipe *recipe = w->batch->recipe;
	struct gravity og = find_og(w);

	if (og.known) {
		og.basis.origin = AB_ORIGIN_MEASURED;
		ab_set(w, AB_F_GRAVITY_OG, &og.basis, og.sg, og.u, 0, NULL);
	}
	if (recipe == NULL || !recipe->og_sg.known)
		return;
	double plan = recipe->og_sg.v;
	if (og.known) {
		ab_rest_on(&og.basis, &recipe->mark, false);
		og.basis.origin = AB_ORIGIN_DERIVED;
		ab_set(w, AB_F_GRAVITY_OG_OVER_PLAN, &og.basis, 1000 * (og.sg - plan), 1000 * og.u, 'A',
		    "%.4f measured - %.4f planned", og.sg,
		    plan);
		return;
	}
	ab_rest_on(&og.basis, &recipe->mark, false);
	og.basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_GRAVITY_OG, &og.basis, plan, 0.004, 'C', "not measured: the planned %.3f", plan);
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
			if (h > UNDERWAY_H && !(last->known && last->h >= h)) {
				*last = (struct gravity){ true, h, sg, 0.002, ab_basis_new() };
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
	for (AB_EACH(struct ab_reading, r, w->batch->readings)) {
		if (!r->gravity_sg.known || ab_gravity_misleads(w, r))
			continue;
		double h = ab_hours(w, &r->at);
		if (h <= UNDERWAY_H || h > until_h)
			continue;
		/* Untimed ones come in the order they were written, but a high one is the original
		 * gravity's. */
		if (isfinite(h) ? !last.known || !(last.h > h) : r->gravity_sg.v <= 1.030 && !last.known)
			take(w, &last, h, r);
	}
	if (p != NULL && p->gravity_sg.known) {
		double u = hypot(0.0005, ab_reading_u(p->gravity_sg.resolution, p->mark.guess, 0.003));
		last = (struct gravity){ true, w->packaged_h, p->gravity_sg.v, u, ab_basis_new() };
		ab_rest_on(&last.basis, &p->mark, false);
	}
	return last;
}

/* Points that lactose and maltodextrin leave. 0.38 points for 1 g/L: a gram of sugar in a litre raises
 * SG by that (banner); neither sort is eaten by brewer's yeast. */
static double unfermentable_points(const struct ab_work *w)
{
	double grams = 0;
	if (w->batch->recipe == NULL || !w->volume.known)
		return 0;
	for (AB_EACH(struct ab_sugar, s, w->batch->recipe->sugars))
		if ((s->kind == AB_SUGAR_LACTOSE || s->kind == AB_SUGAR_MALTODEXTRIN) && s->amount_g.known)
			grams += s->amount_g.v;
	return 0.38 * grams / w->volume.v;
}

/* What the mash adds to the class's attenuation, a share; 0 when it is not told. */
static double mash_shift(struct ab_work *w)
{
	static const double USUAL_MASH_C = 66, MOST_K = 5, BY_K = 0.015;
	const struct ab_fact *mash = &w->facts[AB_F_MASH_TEMP];

	if (!AB_FACT_KNOWN(mash))
		return 0;
	ab_rest_on_fact(&w->expected_basis, mash);
	return -BY_K * fmin(MOST_K, fmax(-MOST_K, mash->value - USUAL_MASH_C));
}

/* The plan first: a recipe's author knew grist and mash. oe * x * 0.004 turns a share of the extract
 * into SG, one degree Plato being about 4 points. 0.99: no shift may promise more than all the sugar. */
static void expect_final(struct ab_work *w)
{
	const struct ab_recipe *recipe = w->batch->recipe;

	w->expected_basis = ab_basis_new();
	if (recipe != NULL && recipe->fg_sg.known) {
		ab_rest_on(&w->expected_basis, &recipe->mark, false);
		w->expected_fg = recipe->fg_sg.v;
		w->expected_fg_u = 0.002;
		w->expected_how = "planned";
		return;
	}
	if (w->yeast == NULL || !ab_known(w, AB_F_GRAVITY_OG))
		return;
	double sugar = ab_known(w, AB_F_RECIPE_SUGAR_SHARE) ? ab_value(w, AB_F_RECIPE_SUGAR_SHARE) : 0;
	double width = w->yeast->att_high - w->yeast->att_low, shift = mash_shift(w);
	double mid = fmin(0.99, (w->yeast->att_low + w->yeast->att_high) / 2 + shift);
	double oe = ab_plato_from_sg(ab_value(w, AB_F_GRAVITY_OG)), ae = oe * (1 - mid) * (1 - sugar);
	ab_rest_on_fact(&w->expected_basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_rest_on_basis(&w->expected_basis, &w->yeast_basis);
	w->expected_fg = ab_sg_from_plato(ae) + unfermentable_points(w) / 1000;
	w->expected_fg_u = hypot(hypot(0.001, oe * width / 4 * 0.004), oe * shift / 2 * 0.004);
	w->expected_how = shift < 0 ? "usual for the yeast class after so warm a mash" :
	    shift > 0 ? "usual for the yeast class after so cool a mash" : "usual for the yeast class";
	w->expected_by_class = true;
}

/* Below 1.005 a quotient of two nearly equal numbers would be noise. 131 is the usual slope of % by
 * volume on SG, good enough for carrying the uncertainty. */
static void set_attenuation(struct ab_work *w, const struct gravity *last)
{
	double og = ab_value(w, AB_F_GRAVITY_OG), og_u = w->facts[AB_F_GRAVITY_OG].u;
	struct ab_basis basis = last->basis;

	if (!ab_known(w, AB_F_GRAVITY_OG) || og < 1.005)
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_set(w, AB_F_GRAVITY_ATTENUATION, &basis, ab_attenuation(og, last->sg), hypot(last->u, og_u) /
	    (og - 1), 'A', "from %.3f to %.3f, by way of degrees Plato", og, last->sg);
	ab_set(w, AB_F_GRAVITY_ABV, &basis, ab_alcohol_by_volume(og, last->sg), 131 * hypot(last->u, og_u),
	    'A', "from %.3f to %.3f, by Balling's relations", og, last->sg);
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
	/* Long after the last reading, what was left may be gone already. */
	if (w->packaged_h - last->h > 72)
		u = hypot(u, over / 2);
	ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &basis, over, u, 'B',
	    "%.4f before packaging - %.4f, %s", last->sg, w->expected_fg,
	    w->expected_how);
}

/* The share of the sugar left after days in the fermenter, on the logistic of curve.h: half is gone at four tenths of the
 * class's usual days to final gravity, all but a twentieth at its end (estimate, common practice). */
static double share_left(double days, double primary_days)
{
	return 1 / (1 + pow(19, (days / primary_days - 0.4) / 0.6));
}

/* Packaged and never read: unknown is not finished. What the class's usual days leave, slow and fast ones beside it
 * (0.6 and 1.7 of them: working estimate for warmth, lag and pitch), and never surer than by the one beer in twenty that
 * stops five points high (estimate). A guess, so that it weighs less as a sign. */
static void set_unread_left(struct ab_work *w)
{
	static const double SPEED[] = { 0.6, 1, 1.7 }, STUCK_U = 1.1;
	double og = ab_value(w, AB_F_GRAVITY_OG), days = w->packaged_h / 24, mean = 0, square = 0;
	struct ab_basis basis = w->expected_basis;

	if (w->batch->package == NULL || w->yeast == NULL || !(w->yeast->primary_days > 0) || !isfinite(w->expected_fg) ||
	    !ab_known(w, AB_F_GRAVITY_OG) || !isfinite(days) || days < 0)
		return;
	for (size_t i = 0; i < 3; i++) {
		double left = share_left(days, SPEED[i] * w->yeast->primary_days);
		mean += left / 3;
		square += left * left / 3;
	}
	double points = fmax(0, 1000 * (og - w->expected_fg));
	ab_rest_on(&basis, &w->batch->package->mark, false);
	basis.guess = true;
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_GRAVITY_POINTS_LEFT, &basis, mean * points,
	    hypot(STUCK_U, points * sqrt(fmax(0, square - mean * mean))), 'C',
	    "gravity never read; packaged %.1f d after pitching, and such a yeast takes about %.0f d", days,
	    w->yeast->primary_days);
}

/* A refractometer that is wrong about the gravity is still right about its standing still. */
static bool still_series(const struct ab_work *w, struct ab_series *out, bool misleading)
{
	if (!misleading) {
		*out = w->gravity;
		return true;
	}
	if (!ab_series_new(out, w->arena, w->batch->readings.n))
		return false;
	for (AB_EACH(struct ab_reading, r, w->batch->readings))
		if (ab_gravity_misleads(w, r))
			ab_series_add(out, ab_hours(w, &r->at), r->gravity_sg.v);
	ab_series_settle(out);
	return true;
}

/* How far two readings of one gravity may lie apart: three times what close ones scatter by, as a floating
 * sensor's do, but no more than 4 points: then it has sunk. */
static double still_within(const struct ab_series *s)
{
	double scatter = ab_series_scatter(s, 12);
	return isfinite(scatter) ? fmin(0.004, fmax(STILL_SG, 3 * scatter)) : STILL_SG;
}

/* Walked from the end backwards: what counts is how long the LAST gravity has stood, not the longest
 * rest anywhere: since the first reading that was no mark higher, or a beer that sinks a mark from reading to reading
 * would stand. A floating sensor has its own scatter for a mark. The first day is left out, where nothing moves
 * because nothing has begun. */
static bool set_stable(struct ab_work *w, bool misleading)
{
	struct ab_series s = { .n = 0 };
	double until = isfinite(w->packaged_h) ? w->packaged_h + 1 : AB_INF, last = AB_NAN, since = AB_NAN,
	    end = AB_NAN;
	struct ab_basis basis = w->gravity_basis;
	size_t n = 0, astray = 0;

	w->short_of_memory |= !still_series(w, &s, misleading);
	/* one reading astray among many close ones is noise, two together are a change */
	double within = still_within(&s);
	size_t allowed = within > STILL_SG ? 1 : 0;
	double mark = within > STILL_SG ? within : MARK_SG;
	for (size_t i = s.n; i-- > 0 && s.at[i].h > 24;) {
		if (s.at[i].h > until)
			continue;
		n++;
		if (n == 1)
			end = since = s.at[i].h, last = s.at[i].v;
		else if (fabs(s.at[i].v - last) <= within) {
			since = s.at[i].v - last < mark ? s.at[i].h : since;
			astray = 0;
		} else if (++astray > allowed)
			break;
	}
	if (n < 2)
		return false;
	ab_set(w, AB_F_GRAVITY_STABLE_DAYS, &basis, (end - since) / 24, 0.3, 'A',
	    "%.3f from day %.1f to day %.1f", last, since / 24, end / 24);
	return true;
}

/* Still for three days and well short of the class: stalled, whatever nobody wrote. */
static void set_stalled(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double att = ab_value(w, AB_F_GRAVITY_ATTENUATION), still = ab_value(w, AB_F_GRAVITY_STABLE_DAYS);

	if (ab_known(w, AB_F_FERMENT_STALLED) || w->yeast == NULL || !isfinite(att))
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_ATTENUATION]);
	if (att >= w->yeast->att_low - 0.03)
		ab_set(w, AB_F_FERMENT_STALLED, &basis, 0, 0, 'B',
		    "%.0f %% attenuation is usual for the yeast", 100 * att);
	else if (still >= 3 && ab_value(w, AB_F_GRAVITY_OVER_EXPECTED) >= 5)
		ab_set(w, AB_F_FERMENT_STALLED, &basis, 1, 0, 'B',
		    "%.0f %% attenuation, and still for %.1f d", 100 * att, still);
}

/* When the final gravity was reached: between two readings, and where they lie far apart as near as can be to
 * the class's usual day. */
static double final_reached(const struct ab_work *w, double sg)
{
	const struct ab_series *s = &w->gravity;
	double usual = w->yeast != NULL ? 24 * w->yeast->primary_days : AB_NAN;
	size_t i = 0;

	while (i < s->n && s->at[i].v > sg)
		i++;
	if (i == s->n)
		return usual;
	double from = i > 0 ? s->at[i - 1].h : 0, to = s->at[i].h;
	return isfinite(usual) ? fmin(fmax(usual, from), to) : to;
}

/* Without a known end (-1 is never reached) final_reached falls back on the class's usual day. */
static void find_phases(struct ab_work *w, const struct gravity *last)
{
	double og = ab_value(w, AB_F_GRAVITY_OG);
	bool done = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= 2 || last->sg <= w->expected_fg + 0.003;

	if (isfinite(w->expected_fg))
		w->half_h = ab_series_first_below(&w->gravity, (og + w->expected_fg) / 2);
	w->final_h = final_reached(w, last->known && done ? last->sg + 0.001 : -1);
}

/* Yes or no over all readings; tell says which it is for one of them, or AB_UNKNOWN. */
static void set_any_reading(struct ab_work *w, int slot,
    int (*tell)(const struct ab_work *, const struct ab_reading *))
{
	struct ab_basis yes = ab_basis_new(), no = yes;
	bool any_yes = false, any_no = false;

	for (AB_EACH(struct ab_reading, r, w->batch->readings)) {
		int said = r->gravity_sg.known ? tell(w, r) : AB_UNKNOWN;
		any_yes |= said == AB_YES;
		any_no |= said == AB_NO;
		if (said != AB_UNKNOWN)
			ab_rest_on(said == AB_YES ? &yes : &no, &r->mark, false);
	}
	if (any_yes || any_no)
		ab_set(w, slot, any_yes ? &yes : &no, any_yes, 0, 'A', NULL);
}

static int tell_misleads(const struct ab_work *w, const struct ab_reading *r)
{
	return ab_gravity_misleads(w, r) ? AB_YES : r->instrument != 0 ? AB_NO : AB_UNKNOWN;
}

/* After half a day the yeast has stirred it, so an old "mixed: no" tells nothing any more. */
static int tell_unmixed(const struct ab_work *w, const struct ab_reading *r)
{
	return ab_hours(w, &r->at) > UNDERWAY_H ||
	    r->mixed == AB_UNKNOWN ? AB_UNKNOWN : r->mixed == AB_NO ? AB_YES : AB_NO;
}

/* The usual gear is asked only when the batch's own list is silent: a check told of this batch is
 * newer. */
static void set_checked(struct ab_work *w, int slot, int item)
{
	const struct ab_batch *from[] = { w->batch, w->usual };

	for (size_t k = 0; k < 2 && !ab_known(w, slot); k++) {
		for (AB_EACH(struct ab_instrument, i, from[k] != NULL ? from[k]->instruments
		    : (struct ab_list){ 0 })) {
			if (i->item != item || i->checked == AB_UNKNOWN)
				continue;
			struct ab_told told = { true, i->checked - 1, 0, ab_basis_new() };
			ab_rest_on(&told.basis, &i->mark, k == 1);
			ab_set_told(w, slot, &told);
		}
	}
}

/* Readings count by hand; a log is many of them, and then the series knows the number. Zero is not set:
 * silence in the journal is no proof that nobody measured. */
static void set_readings(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	size_t n = 0;

	for (AB_EACH(struct ab_reading, r, w->batch->readings)) {
		if (!r->gravity_sg.known)
			continue;
		n++;
		ab_rest_on(&basis, &r->mark, false);
	}
	/* the one written beside the packaging is a reading too */
	const struct ab_package *pack = w->batch->package;
	if (pack != NULL && pack->gravity_sg.known) {
		n++;
		ab_rest_on(&basis, &pack->mark, false);
	}
	if (w->gravity.n > n) {
		n = w->gravity.n;
		ab_rest_on_basis(&basis, &w->gravity_basis);
	}
	if (n > 0)
		ab_set(w, AB_F_GRAVITY_READINGS, &basis, (double)n, 0, 'A', NULL);
}

/* Order matters: expectation needs the original gravity, "stalled" needs attenuation and rest, the
 * phases all of them. set_stable(true) only where no trusted reading tells: a raw refractometer as the
 * last witness. */
void ab_facts_attenuation(struct ab_work *w)
{
	struct gravity last = find_last(w, isfinite(w->packaged_h) ? w->packaged_h + 12 : AB_INF);

	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_og(w);
	expect_final(w);
	if (last.known) {
		last.basis.origin = AB_ORIGIN_MEASURED;
		ab_set(w, AB_F_GRAVITY_LAST, &last.basis, last.sg, last.u, 0, NULL);
		last.basis.origin = AB_ORIGIN_DERIVED;
		set_attenuation(w, &last);
		set_over_expected(w, &last);
		w->last_gravity_h = last.h;
	} else {
		set_unread_left(w);
	}
	if (!set_stable(w, false))
		set_stable(w, true);
	set_stalled(w);
	find_phases(w, &last);
	set_readings(w);
	set_any_reading(w, AB_F_GRAVITY_UNCORRECTED, tell_misleads);
	set_any_reading(w, AB_F_GRAVITY_UNMIXED, tell_unmixed);
	set_checked(w, AB_F_INSTRUMENT_HYDROMETER, AB_INSTR_HYDROMETER);
	set_checked(w, AB_F_INSTRUMENT_THERMOMETER, AB_INSTR_THERMOMETER);
}
