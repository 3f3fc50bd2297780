/* pressure.c - what the gas comes to in a bottle or keg, against what it bears
 *
 * The larger of two fits at the hottest storage (trust B, +-0.02 bar between them), with what a guess of the heat adds.
 *
 * Glass bears the difference to the air outside, so the same gas strains it more where the air is thin: 17 kPa at 1500
 * m. The bottle is taken to stay where it was brewed.
 *
 * A keg is shut in with its headspace (co2.h), and told whether it is much or little; the regulator that is on holds it
 * up, a valve on it down; kegs.c tells what it began from. Its relief valve is not counted on.
 *
 * Where the rules know no limit (casks, cans of plastic) the pressure is a fact only from where they say that it is to
 * be told; the share is silent, and the warning says that nobody can judge it.
 *
 * The fits know of no neck. Air shut in with the beer keeps its nitrogen (79 kPa, of which a fifth goes into the beer);
 * gas that leaves the beer for the neck lowers its own pressure by 6 to 8 %. For a neck of a sixteenth of the beer at
 * 20 C that is +43 kPa at 2.5 volumes, +35 at 3.5 and +11 at 4 volumes and 30 C (mass balance; Henry's law of CO2 as in
 * co2.h, of N2 0.0165 L/L). The limits are those of practice for bottles filled so; half of it is in u. In a keg that
 * was shut with air over primed beer it is 45 to 60 kPa, which is not counted here: from where that is told (kit.xml)
 * lies far below what kegs are stamped for. On a cylinder the air is part of what its regulator holds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/co2.h"
#include "process/oxygen_gather.h"
#include "process/storage.h"
#include "process/words.h"
#include "process/working.h"

/* GAUGE_U_KPA: the small gauges of regulators and valves are read to a tenth of a bar (estimate). UNTOLD_H: a stay told
 * from the day after packaging tells of the first night, too (estimate). */
static const double ASSUMED_HOTTEST_C = 25, NECK_U_KPA = 20, UNTOLD_H = 24, GAUGE_U_KPA = 10;

/* Where nobody tells: the room with summer in it. Summer adds 2 K to the room (estimate). */
static double untold_heat(const struct ab_work *w)
{
	return ab_known(w, AB_F_FERMENT_ROOM) ? fmax(ab_value(w, AB_F_FERMENT_ROOM) + 2, ASSUMED_HOTTEST_C)
	    : ASSUMED_HOTTEST_C;
}

/* What the bottles met besides what is told, C. A stay that began days after packaging tells nothing of the days
 * before. Primed bottles made their gas where yeast works, or will, if they are told to have stood in the cold alone. A
 * told peak counts as it is: who tells it has thought of them. */
static double met_at_least(const struct ab_work *w)
{
	double least = ab_value(w, AB_F_PACK_PRIMING) > 0 ? ab_conditions_from(w) : -AB_INF;
	bool late = true;

	for (AB_EACH(struct ab_store, s, w->batch->stores)) {
		if (s->hottest_c.known)
			return -AB_INF;
		late &= ab_packaged_hours(w, &s->from) > UNTOLD_H;
	}
	return late ? untold_heat(w) : least;
}

/* Met or told; -infinity where nobody tells. */
static double told_heat(const struct ab_work *w, double *u, struct ab_basis *basis)
{
	double most = -AB_INF;

	for (AB_EACH(struct ab_store, s, w->batch->stores)) {
		double peak = s->hottest_c.known ? ab_num_at_most(&s->hottest_c) : -AB_INF;
		double t = fmax(peak, s->temp_c.known ? ab_num_at_most(&s->temp_c) : -AB_INF);
		if (!(t > most))
			continue;
		const struct ab_num *told = s->hottest_c.known && peak >= t ? &s->hottest_c : &s->temp_c;
		most = t;
		*u = fmax(s->hottest_c.known ? 1 : 2, ab_num_u(&s->mark, told, 0));
		ab_rest_on_num(basis, &s->mark, told, false);
	}
	return most;
}

/* The hottest storage met or told, else assumed; an assumed one rests on no line. Bottles burst on the hottest day, so
 * a told peak counts over a told mean. */
double ab_hottest_storage(const struct ab_work *w, double *u, struct ab_basis *basis)
{
	struct ab_basis told = ab_basis_new();
	double most = told_heat(w, u, &told), least = met_at_least(w);

	if (!isfinite(most))
		least = untold_heat(w);
	if (!(least > most)) {
		ab_rest_on_basis(basis, &told);
		return most;
	}
	*u = 3;
	basis->origin = AB_ORIGIN_ASSUMED;
	return least;
}

/* A keg under gas was as warm as its gas was set for, and stands there where nobody tells otherwise. One that was
 * primed, or of which nobody tells any gas, stands as bottles do. */
double ab_keg_warmth(const struct ab_work *w, double *u, struct ab_basis *basis)
{
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, temp_c, 1);
	struct ab_basis told = ab_basis_new();
	double most = told_heat(w, u, &told);

	if (!temp.known)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, temp_c, 1);
	if (!temp.known || ab_value(w, AB_F_PACK_PRIMING) > 0)
		return ab_hottest_storage(w, u, basis);
	ab_rest_on_basis(basis, most > temp.v ? &told : &temp.basis);
	if (most > temp.v)
		return most;
	*u = 2;
	if (!isfinite(most))
		basis->origin = AB_ORIGIN_ASSUMED;
	return temp.v;
}

/* Which bottle is not told: an ordinary longneck, the first word of ab_words_bottle. Silence about the glass must not
 * silence the warning. */
enum { UNTOLD_BOTTLE = AB_BOTTLE_LONGNECK };

/* 1 + place in ab_words_kit. A bottle told beside a keg, a cask or cans was filled as well: glass is weaker than they
 * are, and is what is judged. A small keg or a can of plastic tells which of its sort it is. */
static int kind_of(int into, int bottle)
{
	if (bottle != 0 && bottle < AB_BOTTLE_PLASTIC_CAN)
		return bottle;
	switch (into) {
	case AB_PACK_CANS: return bottle == AB_BOTTLE_PLASTIC_CAN ? bottle : AB_KIT_CAN;
	case AB_PACK_KEG: return bottle == AB_BOTTLE_MINI_KEG ? bottle : AB_KIT_KEG;
	case AB_PACK_CASK: return AB_KIT_CASK;
	default: return bottle != 0 ? bottle : UNTOLD_BOTTLE;
	}
}

const struct ab_bottle_norm *ab_bottle_norm_of(const struct ab_norms *norms, int into, int bottle)
{
	int kind = kind_of(into, bottle);

	for (size_t i = 0; i < norms->n_bottles; i++)
		if (norms->bottles[i].word == kind - 1)
			return &norms->bottles[i];
	return NULL;
}

double ab_bottle_limit_kpa(const struct ab_bottle_norm *norm)
{
	if (norm == NULL)
		return 0;
	return norm->limit_kpa > 0 ? norm->limit_kpa : norm->limit_vol > 0 ? ab_co2_bottle_kpa(norm->limit_vol, 20) : 0;
}

/* What sugar went into and no keg is told of is in bottles, as the warning takes it. */
static bool in_bottles(const struct ab_work *w)
{
	int into = ab_word(w, AB_F_PACK_INTO);
	return into == AB_PACK_BOTTLES || (into == 0 && ab_value(w, AB_F_PACK_PRIMING) > 0 &&
	    w->batch->carbonate == NULL);
}

static const char *limit_says(int into, bool told)
{
	return into == AB_PACK_KEG ? "such a keg should bear"
	    : into == AB_PACK_CANS ? "such a can should bear if its seam is sound"
	    : told ? "such a bottle should bear"
	    : "an ordinary longneck should bear; which bottle is not told";
}

static void set_share(struct ab_work *w, const struct ab_basis *basis, double kpa, double u, double limit,
    const char *says)
{
	bool guessed = isfinite(w->safe_fg) && ab_value(w, AB_F_GRAVITY_POINTS_LEFT) > 0;

	ab_set(w, AB_F_PACK_PRESSURE_SHARE, basis, kpa / limit, u / limit, 'C', "%.0f kPa of the %.0f kPa %s%s", kpa,
	    limit, says,
	    !guessed ? "" : "; the yeast's class is not told, an ordinary ale yeast is reckoned with");
}

/* ---- kegs ---- */

/* Litres of gas, of beer, and the least there may be of gas over each litre of beer: u of a wrong headspace comes of
 * that. */
struct head { double l, beer_l, least; };

static struct head keg_head(const struct ab_work *w)
{
	static const struct ab_package untold;
	const struct ab_package *p = w->batch->package != NULL ? w->batch->package : &untold;
	double keg_l = ab_oxygen_keg_l(p);
	double all_l = p->volume_l.known && p->volume_l.v > 0 ? p->volume_l.v : w->volume.known ? w->volume.v : keg_l;
	double beer_l = fmin(keg_l, all_l);
	struct ab_range head = ab_oxygen_keg_head(p, keg_l, beer_l);
	double most = 0.9 * keg_l, mid = fmin(head.mid, most), low = fmin(head.low, most);

	return (struct head){ mid, keg_l - mid, low / (keg_l - low) };
}

/* Gauge kPa where it was brewed: not over the valve that is on, not below the regulator that is on, which counts where
 * the two contradict each other: the safe side. Gas over the beer when it was shut in stays in. */
static double keg_kpa(const struct ab_work *w, double vol, double head, double t_c)
{
	double up = ab_co2_gauge_up(ab_air_atm(w));
	double kpa = up + ab_co2_shut_kpa(w->keg.shut_kpa, w->keg.shut_c, vol - w->keg.shut_vol, head, t_c);

	return fmax(fmin(kpa, isfinite(w->keg.valve_kpa) ? w->keg.valve_kpa : AB_INF), w->keg.regulator_kpa);
}

/* What the package may hold: as reckoned, before a valve lets anything off; of a keg nobody tells the gas of, with the
 * cylinder's usual. */
static double most_vol(const struct ab_work *w)
{
	return isfinite(w->keg.gassed_vol) ? w->keg.gassed_vol : ab_value(w, AB_F_PACK_CO2) + w->keg.let_off;
}

/* The fact that it rests on, and is in doubt as. */
static const struct ab_fact *gas_fact(const struct ab_work *w)
{
	return &w->facts[ab_known(w, AB_F_PACK_CO2) ? AB_F_PACK_CO2 : AB_F_KEG_TO_COME];
}

static const char *if_gassed(struct ab_work *w, double least_kpa)
{
	if (!isfinite(w->keg.gassed_vol) || w->bare)
		return "";
	const char *says = ab_arena_printf(w->arena, ", if it was gassed to the usual %.1f before, which nobody told; "
	    "%.0f kPa without", AB_PRIMING_USUAL_VOL, least_kpa);
	w->short_of_memory |= says == NULL;
	return says != NULL ? says : "";
}

static void set_keg_pressure(struct ab_work *w, struct ab_basis *basis)
{
	const struct ab_fact *gas = gas_fact(w);
	double heat_u = 0, heat = ab_keg_warmth(w, &heat_u, basis), vol = most_vol(w);
	const char *assumed = basis->origin == AB_ORIGIN_ASSUMED ? " (assumed)" : "";
	struct head head = keg_head(w);
	double share = head.l / head.beer_l, kpa = keg_kpa(w, vol, share, heat), untold = 0, least = kpa;

	ab_rest_on_fact(basis, gas);
	if (isfinite(w->keg.gassed_vol)) {
		least = keg_kpa(w, w->keg.shut_vol + ab_value(w, AB_F_KEG_TO_COME), share, heat);
		untold = (kpa - least) / 2;
		basis->origin = AB_ORIGIN_ASSUMED;
	}
	double u = hypot(hypot(hypot(GAUGE_U_KPA, untold), keg_kpa(w, vol, head.least, heat) - kpa),
	    hypot(keg_kpa(w, vol + gas->u, share, heat) - kpa, keg_kpa(w, vol, share, heat + heat_u) - kpa));
	ab_set(w, AB_F_PACK_PRESSURE, basis, kpa, u, heat <= 30 && gas->grade < 'C' && untold <= 0 ? 'B' : 'C',
	    "%.2f volumes at %.1f C%s, shut in with %.1f L over %.1f L of beer, the larger of two fits%s%s", vol, heat,
	    assumed, head.l, head.beer_l, if_gassed(w, least),
	    kpa <= w->keg.regulator_kpa ? "; what the regulator holds is no less"
	    : kpa >= w->keg.valve_kpa ? "; the valve on the keg lets off what is over" : "");
}

/* What a warm day would do to a keg that stands cold with gravity left: all of it may ferment then. */
static void set_keg_warm(struct ab_work *w)
{
	struct ab_basis basis = ab_basis_new(), unused = ab_basis_new();
	double u, stands_c = ab_keg_warmth(w, &u, &unused), warm_c = untold_heat(w);

	if (!(ab_value(w, AB_F_KEG_TO_COME) > 0) || !(stands_c < warm_c))
		return;
	struct head head = keg_head(w);
	double share = head.l / head.beer_l, vol = most_vol(w) + w->keg.asleep, kpa = keg_kpa(w, vol, share, warm_c);
	ab_rest_on_fact(&basis, gas_fact(w));
	ab_rest_on_fact(&basis, &w->facts[AB_F_KEG_TO_COME]);
	basis.origin = AB_ORIGIN_ASSUMED;
	ab_set(w, AB_F_KEG_WARM, &basis, kpa, hypot(GAUGE_U_KPA, keg_kpa(w, vol + gas_fact(w)->u, share, warm_c) -
	    kpa), 'C',
	    "%.2f volumes at %.1f C (assumed), all that is left fermented, shut in with %.1f L over %.1f L of "
	    "beer%s", vol, warm_c,
	    head.l, head.beer_l, kpa >= w->keg.valve_kpa ? "; the valve on the keg lets off what is over" : "");
}

/* ---- the facts ---- */

/* u by differences, since pressure bends upwards with both gas and heat. */
static bool set_pressure(struct ab_work *w, const struct ab_bottle_norm *norm, struct ab_basis *basis)
{
	const struct ab_fact *co2 = gas_fact(w);
	double heat_u = 0, heat = ab_hottest_storage(w, &heat_u, basis), up = ab_co2_gauge_up(ab_air_atm(w));
	double vol = isfinite(w->keg.gassed_vol) ? w->keg.gassed_vol : co2->value, kpa = ab_co2_bottle_kpa(vol,
	    heat) + up;

	if (!(ab_bottle_limit_kpa(norm) > 0) && !in_bottles(w) && (norm == NULL || !(kpa > norm->tell_kpa)))
		return false;
	const char *assumed = basis->origin == AB_ORIGIN_ASSUMED ? " (assumed)" : "";
	ab_rest_on_fact(basis, co2);
	double u = hypot(NECK_U_KPA, hypot(ab_co2_bottle_kpa(vol + co2->u, heat) + up - kpa,
	    ab_co2_bottle_kpa(vol, heat + heat_u) + up - kpa));
	ab_set(w, AB_F_PACK_PRESSURE, basis, kpa, u, heat <= 30 ? 'B' : 'C',
	    "%.2f volumes at %.1f C%s, the larger of two fits", vol, heat, assumed);
	return true;
}

/* The bottle told, 0 none: what is usual for bottles tells nothing of a keg, a cask or cans, only this batch's own
 * record does. */
static int told_bottle(const struct ab_work *w, int into)
{
	struct ab_told told = AB_LOOK_ONE(w, AB_FIELD_WORD, package, bottle, 0);
	return !told.known || (into > AB_PACK_BOTTLES && told.basis.origin == AB_ORIGIN_USUAL) ? 0 : (int)told.v + 1;
}

/* A limit given in volumes is turned into pressure at 20 C, so that both kinds compare with one number. */
void ab_facts_pressure(struct ab_work *w)
{
	int into = ab_word(w, AB_F_PACK_INTO), bottle = told_bottle(w, into);
	bool glass = bottle != 0 && bottle < AB_BOTTLE_PLASTIC_CAN;
	struct ab_basis basis = ab_basis_new();
	const struct ab_bottle_norm *norm = ab_bottle_norm_of(w->norms, into, bottle);
	double limit = ab_bottle_limit_kpa(norm);

	if (!(ab_known(w, AB_F_PACK_CO2) || isfinite(w->keg.gassed_vol)) || !(in_bottles(w) || into > AB_PACK_BOTTLES))
		return;
	if (into == AB_PACK_KEG)
		set_keg_warm(w);
	if (into == AB_PACK_KEG && !(glass && limit > 0))
		set_keg_pressure(w, &basis);
	else if (!set_pressure(w, norm, &basis))
		return;
	const struct ab_fact *kpa = &w->facts[AB_F_PACK_PRESSURE];
	if (!ab_known(w, AB_F_PACK_INTO) || (bottle == 0 && into == AB_PACK_BOTTLES))
		basis.origin = AB_ORIGIN_ASSUMED;
	if (limit > 0)
		set_share(w, &basis, kpa->value, kpa->u, limit, limit_says(glass ? AB_PACK_BOTTLES : into,
		    bottle != 0));
}
