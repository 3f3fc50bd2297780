/* priming.c - carbonation to come, and the pressure it makes
 *
 * Volumes = what the beer still held (co2.h, fit E at the highest temperature after fermentation; +-0.08) +
 * priming (4.0 g/L of sucrose a volume) + half a volume for each gravity point that ferments in the package
 * (trust A for the arithmetic), hop creep with them (dryhop.c, trust C). Pressure: the larger of two fits at
 * the hottest storage (trust B, +-0.02 bar between them), with what a guess of the heat adds. A keg: the
 * equilibrium of its pressure and temperature. Wanted is the recipe's, else 2.4 volumes (common practice).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/priming.h>
#include <afterboil/curve.h>
#include "process/co2.h"
#include "process/words.h"
#include "process/working.h"

static const double WANTED_VOL = AB_PRIMING_USUAL_VOL, ASSUMED_C = 20, ASSUMED_HOTTEST_C = 25;

/* The beer that was primed: what was packaged, else what the batch was meant to be. A basis without
 * lines: the package's own record is cited by the caller. */
static struct ab_told primed_volume(const struct ab_work *w)
{
	const struct ab_num *packaged = &w->batch->package->volume_l;
	struct ab_told told = w->volume;

	if (packaged->known && packaged->v > 0)
		told = (struct ab_told){ true, packaged->v, packaged->resolution, ab_basis_new() };
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
	ab_rest_on(&basis, &p->mark, false);
	if (p->priming_g.v <= 0) {
		ab_set(w, AB_F_PACK_PRIMING, &basis, 0, 0, 'A', "none");
		return;
	}
	struct ab_told volume = primed_volume(w);
	if (!volume.known)
		return;
	ab_rest_on_basis(&basis, &volume.basis);
	double equal = ab_sucrose_equivalent(p->sugar), rate = equal * p->priming_g.v / volume.v;
	double u = hypot(0.05 * rate, ab_reading_u(p->priming_g.resolution, basis.guess,
	    0.2 * p->priming_g.v) / volume.v);
	bool loose = p->sugar == 0 || p->sugar == AB_SUGAR_HONEY || p->sugar >= AB_SUGAR_DRY_EXTRACT;
	ab_set(w, AB_F_PACK_PRIMING, &basis, rate, loose ? hypot(u, 0.1 * rate) : u, loose ? 'C' : 'A',
	    "%.0f g x %.2f (as sucrose) in %.1f L", p->priming_g.v, equal, volume.v);
}

/* The highest temperature between the end of fermentation and packaging. CO2 that left while warm does
 * not come back when it is chilled: hence the highest, not the last temperature. u grows where the
 * warmth is not measured. */
static double warmest_after(struct ab_work *w, double *u)
{
	double from = w->final_h, to = w->packaged_h;

	*u = 0.08;
	if (isfinite(to) && !(from < to))
		from = to - 24;
	if (isfinite(to) && ab_series_count(&w->beer, from - 24, to) > 0)
		return ab_series_max(&w->beer, from, to);
	*u = 0.12;
	return w->level.known ? ab_level(w)->mean : ASSUMED_C;
}

/* Points lost after packaging, AB_NAN when nobody measured. What the real beer lost says nothing of one that
 * is imagined as finished when it was packaged. */
static double lost_in_package(const struct ab_work *w)
{
	return ab_is_as_if(w, AB_F_GRAVITY_POINTS_LEFT) || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) ? AB_NAN
	    : ab_value(w, AB_F_GRAVITY_DROP_PACKAGED);
}

/* Is the beer that was read at its end? About where its class ends and not falling; or still for three days and no more
 * over its expected end than any reading's reach (AB_HUNG_POINTS), or for AB_HUNG_DAYS: as for telling the sugar, sugar.c. One that stopped
 * high has its sugar yet, and priming wakes it. Without this, every batch with a slightly high reading would be called
 * a bottle bomb. */
static bool is_at_end(const struct ab_work *w)
{
	double att = ab_value(w, AB_F_GRAVITY_ATTENUATION);
	bool inside = w->expected_by_class && att >= w->yeast->att_low && ab_word(w, AB_F_GRAVITY_STATE) != AB_GRAVITY_FALLING;
	bool still = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= 3;
	bool hung = ab_value(w, AB_F_GRAVITY_STABLE_DAYS) >= AB_HUNG_DAYS && !(ab_value(w, AB_F_FERMENT_STALLED) > 0);
	bool usual = w->yeast != NULL && att >= w->yeast->att_low;

	return inside || ab_value(w, AB_F_GRAVITY_POINTS_LEFT) <= 0 || (still && (usual || hung ||
	    !ab_known(w, AB_F_GRAVITY_OVER_EXPECTED) || ab_is_as_if(w, AB_F_GRAVITY_STABLE_DAYS) ||
	    ab_value(w, AB_F_GRAVITY_OVER_EXPECTED) <= AB_HUNG_POINTS));
}

/* Points that will still ferment in the package; what was lost in it is known better than any expectation. A beer nobody
 * read is as uncertain as its fact says. */
static double points_to_come(const struct ab_work *w, double *u)
{
	double left = ab_value(w, AB_F_GRAVITY_POINTS_LEFT), lost = lost_in_package(w);

	*u = 0.5;
	if (isfinite(lost))
		return fmax(0, lost);
	if (!isfinite(left) || (ab_known(w, AB_F_GRAVITY_LAST) && is_at_end(w)))
		return 0;
	*u = w->facts[AB_F_GRAVITY_POINTS_LEFT].u;
	return fmax(0, left);
}

/* Creep counts only while no loss in the package is measured: that loss already contains it. 1/4 and
 * 1/2: volumes a g/L of sucrose and a point. */
static void set_bottle_co2(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new();
	double warm_u, points_u, warm = warmest_after(w, &warm_u), points = points_to_come(w, &points_u);
	double rate = ab_value(w, AB_F_PACK_PRIMING), residual = ab_co2_residual(warm),
	    extra = ab_co2_from_points(points);

	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_PRIMING]);
	if (points > 0)
		ab_rest_on_fact(&basis, &w->facts[isfinite(lost_in_package(w)) ?
		    AB_F_GRAVITY_DROP_PACKAGED : AB_F_GRAVITY_POINTS_LEFT]);
	double creep = isfinite(lost_in_package(w)) ||
	    !ab_known(w, AB_F_HOPS_CREEP) ? 0 :
	    ab_value(w, AB_F_HOPS_CREEP), hops = ab_co2_from_points(creep);
	if (creep > 0)
		ab_rest_on_fact(&basis, &w->facts[AB_F_HOPS_CREEP]);
	double u = hypot(hypot(warm_u, w->facts[AB_F_PACK_PRIMING].u / 4), hypot(0.5 * points_u, hops));
	ab_set(w, AB_F_PACK_CO2, &basis, residual + ab_co2_from_sucrose(rate) + extra + hops, u, creep > 0
	    ? 'C' : 'B', "%.2f held at %.1f C + %.2f from %.1f g/L priming + %.2f from %.1f points still to "
	    "ferment%s", residual, warm,
	    ab_co2_from_sucrose(rate), rate, extra + hops, points + creep,
	    creep > 0 ? ", by what the hops' enzymes free too" : "");
}

/* What gas from the cylinder made of the beer. Left alone at its pressure it is at equilibrium by and by, shaken
 * within minutes; but nobody shakes to the end, and a burst of high pressure is meant to be broken off: of the
 * way there it goes 1 - exp(-d/4.5), with 10 to 14 days for a still keg (common practice; trust C). */
static void set_forced(struct ab_work *w, const struct ab_basis *basis, double vol, double u, double kpa,
    double temp_c)
{
	static const double TAU_D = 4.5, DONE_D = 7;
	struct ab_told days = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, for_s, 1 / 86400.0);
	int method = ab_word(w, AB_F_KEG_METHOD);
	bool hurried = method > AB_GAS_SET && days.known && days.v < DONE_D;
	double warm_u, held = ab_co2_residual(warmest_after(w, &warm_u)), gain = fmax(0, vol - held);
	double share = method == AB_GAS_BURST ? 1 - exp(-days.v / TAU_D) : 1;

	if (!hurried)
		ab_set(w, AB_F_PACK_CO2, basis, vol, u, 'A', "%.0f kPa at %.1f C, at equilibrium", kpa, temp_c);
	else if (share < 1)
		ab_set(w, AB_F_PACK_CO2, basis, vol - (1 - share) * gain, hypot(u, 0.15 * gain), 'C',
		    "in %.1f d about %.0f %% of the way from %.2f to the %.2f of %.0f kPa at %.1f C", days.v,
		    100 * share, held, vol, kpa, temp_c);
	else
		ab_set(w, AB_F_PACK_CO2, basis, vol, hypot(u, 0.15 * gain), 'C',
		    "%.0f kPa at %.1f C, at equilibrium if it was shaken to the end", kpa, temp_c);
}

/* Carbonation settings before serving ones: long at the one, short at the other. A keg that was primed
 * has its value by then, and keeps it. */
static void set_keg_co2(struct ab_work *w)
{
	struct ab_told kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, pressure_kpa, 1);
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, temp_c, 1);

	if (!kpa.known)
		kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, pressure_kpa, 1);
	if (!temp.known)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, temp_c, 1);
	if (!kpa.known || !temp.known || ab_word(w, AB_F_PACK_INTO) == AB_PACK_BOTTLES)
		return;
	struct ab_basis basis = ab_basis_new();
	ab_rest_on_basis(&basis, &kpa.basis);
	ab_rest_on_basis(&basis, &temp.basis);
	double vol = ab_co2_asbc(kpa.v, temp.v), u = basis.guess ? 0.3 : 0.1;
	ab_set(w, AB_F_KEG_CO2, &basis, vol, u, temp.v <= 20 ? 'A' : 'B',
	    "%.0f kPa at %.1f C, at equilibrium", kpa.v, temp.v);
	if (!ab_known(w, AB_F_PACK_CO2))
		set_forced(w, &basis, vol, u, kpa.v, temp.v);
}

/* "Usual" is no wish of this brewer's, so it adds 0.3 volumes of doubt. */
static void set_over(struct ab_work *w)
{
	const struct ab_recipe *r = w->batch->recipe;
	const struct ab_fact *co2 = &w->facts[AB_F_PACK_CO2];
	bool told = r != NULL && r->co2_vol.known;
	double wanted = told ? r->co2_vol.v : WANTED_VOL;
	struct ab_basis basis = ab_basis_new();

	if (!AB_FACT_KNOWN(co2))
		return;
	ab_rest_on_fact(&basis, co2);
	if (told)
		ab_rest_on(&basis, &r->mark, false);
	ab_set(w, AB_F_PACK_CO2_OVER, &basis, co2->value - wanted, told ? co2->u : hypot(co2->u, 0.3),
	    told ? co2->grade : 'C',
	    "%.2f expected - %.2f %s", co2->value, wanted, told ? "wanted" : "usual");
}

/* The hottest storage met or told, else the room with summer in it (assumed). Bottles burst on the
 * hottest day, so a told peak counts over a told mean. Summer adds 2 K to the room (estimate). */
double ab_hottest_storage(const struct ab_work *w, double *u, struct ab_basis *basis)
{
	double most = -AB_INF;

	for (AB_EACH(struct ab_store, s, w->batch->stores)) {
		double t = fmax(s->hottest_c.known ? s->hottest_c.v : -AB_INF,
		    s->temp_c.known ? s->temp_c.v : -AB_INF);
		if (!(t > most))
			continue;
		most = t;
		*u = s->hottest_c.known ? 1 : 2;
		ab_rest_on(basis, &s->mark, false);
	}
	if (isfinite(most))
		return most;
	*u = 3;
	return ab_known(w, AB_F_FERMENT_ROOM) ? fmax(ab_value(w, AB_F_FERMENT_ROOM) + 2,
	    ASSUMED_HOTTEST_C) : ASSUMED_HOTTEST_C;
}

/* Which bottle is not told: an ordinary longneck, the first word of ab_words_bottle. Silence about the glass must not
 * silence the warning. */
enum { UNTOLD_BOTTLE = 0 };

/* u by differences, since pressure bends upwards with both gas and heat. A limit given in volumes is
 * turned into pressure at 20 C, so that both kinds compare with one number. */
static void set_pressure(struct ab_work *w)
{
	const struct ab_fact *co2 = &w->facts[AB_F_PACK_CO2];
	struct ab_told told = AB_LOOK_ONE(w, AB_FIELD_WORD, package, bottle, 0);
	int bottle = told.known ? (int)told.v : UNTOLD_BOTTLE;
	struct ab_basis basis = ab_basis_new();
	double heat_u = 0, heat = ab_hottest_storage(w, &heat_u, &basis);

	if (!AB_FACT_KNOWN(co2) || ab_word(w, AB_F_PACK_INTO) != AB_PACK_BOTTLES)
		return;
	ab_rest_on_fact(&basis, co2);
	double kpa = ab_co2_bottle_kpa(co2->value, heat);
	double u = hypot(ab_co2_bottle_kpa(co2->value + co2->u, heat) - kpa, ab_co2_bottle_kpa(co2->value,
	    heat + heat_u) - kpa);
	ab_set(w, AB_F_PACK_PRESSURE, &basis, kpa, u, heat <= 30 ? 'B' : 'C',
	    "%.2f volumes at %.1f C, the larger of two fits", co2->value, heat);
	if (!told.known)
		basis.origin = AB_ORIGIN_ASSUMED;
	for (size_t i = 0; i < w->norms->n_bottles; i++) {
		const struct ab_bottle_norm *norm = &w->norms->bottles[i];
		double limit = norm->limit_kpa > 0 ? norm->limit_kpa : ab_co2_bottle_kpa(norm->limit_vol, 20);
		if (norm->word != bottle || limit <= 0)
			continue;
		ab_set(w, AB_F_PACK_PRESSURE_SHARE, &basis, kpa / limit, u / limit, 'C',
		    "%.0f kPa of the %.0f kPa %s", kpa, limit, told.known ? "such a bottle should bear"
		    : "an ordinary longneck should bear; which bottle is not told");
	}
}

/* "Priming 0" on a beer that was carbonated is no bottle's CO2: that comes from the keg. */
void ab_facts_priming(struct ab_work *w)
{
	set_rate(w);
	ab_facts_in_package(w);
	if (ab_known(w, AB_F_PACK_PRIMING) &&
	    !(ab_value(w, AB_F_PACK_PRIMING) <= 0 && w->batch->carbonate != NULL))
		set_bottle_co2(w);
	set_keg_co2(w);
	set_over(w);
	set_pressure(w);
}
