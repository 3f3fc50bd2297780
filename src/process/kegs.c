/* kegs.c - the gas in a keg: from a cylinder, from sugar, from what ferments in it yet, from a valve it fermented under
 *
 * While the cylinder is on, the beer takes up gas to the equilibrium of pressure and temperature (co2.h, the ASBC
 * table). A regulator lets gas in and none out (it has a check valve, or is shut off): what ferments in the keg comes
 * on top, half a volume a gravity point, as in bottles. That is so where the gas went in first, within hours or days,
 * and the last points went over weeks; had they gone first, the cylinder would have given that much less. The safe side
 * is taken.
 *
 * Sugar beside a cylinder: with a told way of gassing, both; else the gas is most likely that of the tap, put on when
 * the sugar had done its work, and the larger of the two counts; half of what both would come to is doubt, as of
 * bottles (priming.c).
 *
 * Too cold for its yeast (storage.c) half of what could ferment counts, and half is doubt (estimate: the last extract
 * of lagers ferments at 0 to 4 C, over weeks; most ale yeast drops out there).
 *
 * A valve set on a filled keg lets off what is over its pressure, and no more stays in the beer than is at one with it,
 * at the warmth the beer stands at; what the cylinder gave stays. Of a keg of which nobody tells any gas, what it held
 * and what ferments yet are the least it will hold; told where it fermented under pressure, has a valve, or that least
 * is much. Most such kegs get gas from a cylinder: where points are left, what they will bear is reckoned as if it had
 * given the usual 2.4 volumes besides (common practice; an assumption).
 *
 * In the cold half of what is left counts; what it would come to if it stood warm (in the room with summer in it) is
 * told besides.
 *
 * Mixed gas and nitrogen press on the beer and hardly go into it: what their regulator's pressure makes is not reckoned
 * here.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/carbonation.h"
#include "process/co2.h"
#include "process/storage.h"
#include "process/words.h"

static const double COLD_SHARE = 0.5, BOTTLING_U_VOL = 0.2;

/* How long the gas of the cylinder has been on, d; NAN untold. A keg that is set and left stays on it until it is
 * drunk. */
static double days_on_gas(const struct ab_work *w, int method, bool bottled)
{
	struct ab_told days = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, for_s, 1 / 86400.0);
	double since = w->tasted_after_h / 24;

	if (!days.known)
		return AB_NAN;
	if (method > AB_GAS_SET || bottled)
		return days.v;
	/* Not tasted yet: by then it will have had its time. */
	return isfinite(since) ? fmax(days.v, since) : AB_NAN;
}

/* What gas from the cylinder makes of a beer. Left alone at its pressure it is at equilibrium by and by, shaken
 * within minutes; but nobody shakes to the end, and a burst of high pressure is meant to be broken off: of the
 * way there it goes 1 - exp(-d/4.5), with 10 to 14 days for a still keg (common practice; trust C). From DONE_D on,
 * four fifths of the way, all of it is reckoned with: rather too much gas than too little (estimate). */
static struct ab_taken taken_at(struct ab_work *w, double kpa, double temp_c, bool guess, bool bottled)
{
	static const double TAU_D = 4.5, DONE_D = 7;
	int method = ab_word(w, AB_F_KEG_METHOD);
	double days = days_on_gas(w, method, bottled), u = guess ? 0.3 : 0.1;
	double vol = ab_co2_asbc(kpa - ab_co2_gauge_up(ab_air_atm(w)), temp_c);
	struct ab_taken keg = { .known = true, .vol = vol, .u = u, .kpa = kpa, .temp_c = temp_c, .full = vol,
	    .share = 1, .days = days };

	if (!(days < DONE_D))
		return keg;
	struct ab_basis unused = ab_basis_new();
	keg.held = ab_find_held(w, &unused).vol;
	double gain = fmax(0, vol - keg.held);
	keg.hurried = true;
	keg.share = method == AB_GAS_SHAKEN ? 1 : 1 - exp(-days / TAU_D);
	keg.vol = vol - (1 - keg.share) * gain;
	keg.u = hypot(u, 0.15 * gain);
	return keg;
}

/* Carbonation settings before serving ones: long at the one, short at the other. Of bottles only this batch's own
 * record of gas tells anything, not what is usual for kegs. */
struct ab_taken ab_find_taken(struct ab_work *w, bool bottled, struct ab_basis *basis)
{
	if (ab_word(w, AB_F_KEG_GAS) > AB_KEG_GAS_CO2)
		return (struct ab_taken){ .known = false };
	struct ab_told kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, pressure_kpa, 1);
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, temp_c, 1);

	if (!kpa.known && !bottled)
		kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, pressure_kpa, 1);
	if (!temp.known && !bottled)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, temp_c, 1);
	if (!kpa.known || !temp.known || (bottled && w->batch->carbonate == NULL))
		return (struct ab_taken){ .known = false };
	ab_rest_on_basis(basis, &kpa.basis);
	ab_rest_on_basis(basis, &temp.basis);
	return taken_at(w, kpa.v, temp.v, basis->guess, bottled);
}

/* Filled from a keg. What foams off on the way is not known (0.2 volumes, estimate), and not counted on: the safe
 * side. */
void ab_set_bottled_from_keg(struct ab_work *w, const struct ab_taken *keg, struct ab_basis *basis)
{
	struct ab_held_gas held = ab_find_held(w, basis);
	struct ab_to_come more = ab_find_to_come(w, basis);

	ab_set(w, AB_F_PACK_CO2, basis, fmax(keg->vol, held.vol) + more.vol,
	    hypot(hypot(keg->u, BOTTLING_U_VOL), more.u), 'C',
	    "%.2f taken up in the keg it was filled from + %.2f from %.1f points still to ferment%s",
	    fmax(keg->vol, held.vol), more.vol, more.points, ab_by_creep(&more));
}

/* ---- what ferments in the keg ---- */

static struct ab_to_come find_to_come(struct ab_work *w, struct ab_basis *basis)
{
	struct ab_basis unused = ab_basis_new();
	struct ab_to_come more = ab_find_to_come(w, basis);
	double warmth_u;

	more.cold = !more.lost && more.vol > 0 && ab_keg_warmth(w, &warmth_u, &unused) < ab_conditions_from(w);
	w->keg.asleep = more.cold ? (1 - COLD_SHARE) * more.vol : 0;
	if (more.cold) {
		more.u = hypot(COLD_SHARE * more.u, (1 - COLD_SHARE) * more.vol);
		more.vol *= COLD_SHARE;
	}
	return more;
}

static const char *by_cold(const struct ab_to_come *more)
{
	return more->cold ? "; too cold for its yeast, half of it counts" : "";
}

static void set_to_come(struct ab_work *w, const struct ab_to_come *more)
{
	static const int known[] = { AB_F_GRAVITY_POINTS_LEFT, AB_F_GRAVITY_DROP_PACKAGED, AB_F_HOPS_CREEP };
	struct ab_basis basis = ab_basis_new();
	bool any = false;

	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (ab_known(w, known[i])) {
			ab_rest_on_fact(&basis, &w->facts[known[i]]);
			any = true;
		}
	if (any)
		ab_set(w, AB_F_KEG_TO_COME, &basis, more->vol, more->u, more->creep || more->cold ? 'C' : 'B',
		    "%.2f from %.1f points%s%s",
		    more->vol, more->points, ab_by_creep(more), by_cold(more));
}

/* ---- each way of getting its gas ---- */

static void set_forced(struct ab_work *w, const struct ab_basis *basis, const struct ab_taken *keg,
    const struct ab_to_come *more)
{
	if (more->vol > 0)
		ab_set(w, AB_F_PACK_CO2, basis, keg->vol + more->vol, hypot(keg->u, more->u),
		    more->creep || more->cold || keg->hurried ? 'C' : 'B',
		    "%.2f taken up at %.0f kPa and %.1f C + %.2f from %.1f points still to ferment%s%s",
		    keg->vol, keg->kpa, keg->temp_c, more->vol, more->points, ab_by_creep(more), by_cold(more));
	else if (!keg->hurried)
		ab_set(w, AB_F_PACK_CO2, basis, keg->vol, keg->u, 'A', "%.0f kPa at %.1f C, at equilibrium",
		    keg->kpa, keg->temp_c);
	else if (keg->share < 1)
		ab_set(w, AB_F_PACK_CO2, basis, keg->vol, keg->u, 'C',
		    "in %.1f d about %.0f %% of the way from %.2f to the %.2f of %.0f kPa at %.1f C", keg->days,
		    100 * keg->share, keg->held, keg->full, keg->kpa, keg->temp_c);
	else
		ab_set(w, AB_F_PACK_CO2, basis, keg->vol, keg->u, 'C',
		    "%.0f kPa at %.1f C, at equilibrium if it was shaken to the end", keg->kpa, keg->temp_c);
}

/* 1/4: volumes a g/L of sucrose. */
static void set_sugar_and_gas(struct ab_work *w, const struct ab_taken *keg, const struct ab_to_come *more,
    struct ab_basis *basis)
{
	struct ab_held_gas held = ab_find_held(w, basis);
	const struct ab_fact *rate = &w->facts[AB_F_PACK_PRIMING];
	double made = ab_co2_from_sucrose(rate->value) + more->vol, both = keg->vol + made;
	double most = fmax(held.vol + made, keg->vol);
	double u = hypot(hypot(fmax(held.u, keg->u), rate->u / 4), more->u);

	ab_rest_on_fact(basis, rate);
	if (ab_known(w, AB_F_KEG_METHOD))
		ab_set(w, AB_F_PACK_CO2, basis, both, u, 'C', "%.2f taken up at %.0f kPa and %.1f C + %.2f from %.1f "
		    "g/L priming + %.2f from %.1f points still to ferment%s",
		    keg->vol, keg->kpa, keg->temp_c, made - more->vol, rate->value, more->vol, more->points,
		    ab_by_creep(more));
	else
		ab_set(w, AB_F_PACK_CO2, basis, most, w->batch->carbonate != NULL ? hypot(u, (both - most) / 2) : u,
		    'C',
		    "the larger of %.2f held + %.2f from %.1f g/L priming + %.2f from %.1f points still to ferment%s, "
		    "and %.2f by %.0f kPa at %.1f C",
		    held.vol, made - more->vol, rate->value, more->vol, more->points, ab_by_creep(more), keg->vol,
		    keg->kpa, keg->temp_c);
}

/* The pressure a valve on the filled keg stands at, kPa; NAN none. One that was taken off later keeps nothing down. */
static double valve_kpa(const struct ab_work *w)
{
	double kpa = AB_NAN;

	for (AB_EACH(struct ab_spund, s, w->batch->spunds))
		if (s->pressure_kpa.known && s->pressure_kpa.v > 0 && ab_packaged_hours(w, &s->at) >= 0 &&
		    !isfinite(ab_spund_ended_s(w->batch, s)))
			kpa = s->pressure_kpa.v;
	return kpa;
}

/* The cylinder's usual gas is thought of where it may be on: under carbon dioxide, with no valve, and something left to
 * ferment. */
static void set_own(struct ab_work *w, const struct ab_to_come *more, struct ab_basis *basis)
{
	struct ab_held_gas held = ab_find_held(w, basis);
	double vol = held.vol + more->vol;
	bool valve = isfinite(w->keg.valve_kpa);

	w->keg.own = true;
	if (!valve && more->vol > 0 && ab_word(w, AB_F_KEG_GAS) <= AB_KEG_GAS_CO2)
		w->keg.gassed_vol = fmax(held.vol, AB_PRIMING_USUAL_VOL) + more->vol;
	if (vol < AB_TELLING_VOL && !valve && !(ab_value(w, AB_F_FERMENT_PRESSURE) > 0))
		return;
	ab_set(w, AB_F_PACK_CO2, basis, vol, hypot(held.u, more->u), 'C',
	    "at least: %.2f held at %.1f C%s + %.2f from %.1f points still to ferment%s%s%s", held.vol, held.warmest_c,
	    ab_by_pressure(w), more->vol, more->points, ab_by_creep(more), by_cold(more),
	    valve ? "" : "; gas from a cylinder comes on top");
}

/* How warm the beer stands under its valve: as told, else as its gas was set for, else as it was since it fermented. A
 * guess of the heat of summer would leave less gas in it than there may be. */
static double under_valve_c(struct ab_work *w, const struct ab_taken *keg)
{
	struct ab_basis at = ab_basis_new(), unused = ab_basis_new();
	double u, warmth = ab_keg_warmth(w, &u, &at);

	return at.origin != AB_ORIGIN_ASSUMED ? warmth : keg->known ? keg->temp_c : ab_find_held(w, &unused).warmest_c;
}

/* What the valve lets off is not in the beer; what the cylinder gave, or the beer held, stays. How much is left to
 * ferment is then in doubt only as far as that goes. */
static void hold_down(struct ab_work *w, const struct ab_taken *keg)
{
	struct ab_fact was = w->facts[AB_F_PACK_CO2];
	struct ab_basis basis = ab_basis_new();

	if (!isfinite(w->keg.valve_kpa) || !AB_FACT_KNOWN(&was))
		return;
	struct ab_held_gas held = ab_find_held(w, &basis);
	double least = keg->known ? fmax(keg->vol, held.vol) : held.vol, t_c = under_valve_c(w, keg);
	double most = fmax(least, ab_co2_held(w->keg.valve_kpa, t_c, ab_air_atm(w)));
	if (!(was.value > most))
		return;
	w->keg.let_off = was.value - most;
	ab_rest_on_fact(&basis, &was);
	for (AB_EACH(struct ab_spund, s, w->batch->spunds))
		ab_rest_on_num(&basis, &s->mark, &s->pressure_kpa, false);
	ab_set(w, AB_F_PACK_CO2, &basis, most, hypot(keg->known ? keg->u : held.u, fmin(was.u, most - least)), 'C',
	    "%s; the valve on the keg keeps %.2f at %.1f C", was.working != NULL ? was.working : "", most, t_c);
}

/* Where the pressure begins: what the beer held and what was over it when it was shut in. A burst is broken off and its
 * head let off, so the head is taken to be at one with the beer. */
static void shut_in(struct ab_work *w, const struct ab_taken *keg)
{
	struct ab_basis unused = ab_basis_new();
	bool kept_on = keg->known && (w->batch->carbonate == NULL || ab_word(w, AB_F_KEG_METHOD) <= AB_GAS_SET);
	struct ab_told tap = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, pressure_kpa, 1);
	struct ab_told mixed = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, pressure_kpa, 1);
	bool gassed = keg->known && ab_known(w, AB_F_PACK_CO2) &&
	    !(ab_value(w, AB_F_PACK_PRIMING) > 0 && !ab_known(w, AB_F_KEG_METHOD));

	struct ab_held_gas own = gassed ? (struct ab_held_gas){ 0 } : ab_find_held(w, &unused);

	w->keg.shut_c = gassed ? keg->temp_c : own.warmest_c;
	w->keg.shut_vol = gassed ? keg->vol : own.vol;
	w->keg.shut_kpa = gassed ? ab_co2_asbc_kpa(keg->vol, keg->temp_c)
	    : fmax(0, ab_value(w, AB_F_FERMENT_PRESSURE)) - ab_co2_gauge_up(ab_air_atm(w));
	w->keg.regulator_kpa = fmax(kept_on ? keg->kpa : -AB_INF, tap.known ? tap.v : -AB_INF);
	if (ab_word(w, AB_F_KEG_GAS) > AB_KEG_GAS_CO2 && mixed.known)
		w->keg.regulator_kpa = fmax(w->keg.regulator_kpa, mixed.v);
}

/* Sugar is given warmth to ferment in: nothing of it is thought to sleep. */
static void set_primed_keg(struct ab_work *w)
{
	w->keg.asleep = 0;
	ab_set_primed(w, NULL);
}

void ab_set_keg_gas(struct ab_work *w, const struct ab_taken *keg, const struct ab_basis *gas)
{
	struct ab_basis basis = *gas;
	bool primed = ab_value(w, AB_F_PACK_PRIMING) > 0;

	w->keg.valve_kpa = valve_kpa(w);
	w->keg.gassed_vol = AB_NAN;
	struct ab_to_come more = find_to_come(w, &basis);
	set_to_come(w, &more);
	if (primed && keg->known)
		set_sugar_and_gas(w, keg, &more, &basis);
	else if (primed || (ab_known(w, AB_F_PACK_PRIMING) && w->batch->carbonate == NULL && !keg->known))
		set_primed_keg(w);
	else if (keg->known)
		set_forced(w, &basis, keg, &more);
	else
		set_own(w, &more, &basis);
	hold_down(w, keg);
	w->keg.made = ab_known(w, AB_F_PACK_CO2) && keg->known && !primed ? fmax(0, more.vol - w->keg.let_off) : 0;
	shut_in(w, keg);
}
