/* serving.c - tap, line and glass
 *
 * As told; the balance of the line by its resistance (serving.h; grade C: tune by pouring). No rise from keg
 * to tap is told, so none is counted.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/serving.h"
#include <assert.h>
#include "process/co2.h"
#include "process/words.h"
#include "process/working.h"

static const double M_IN_FT = 0.3048;

/* Told as they stand; balance and gas need several fields and follow. */
static const struct ab_plain rows[] = {
	AB_ONE(AB_F_SERVE_FROM, AB_FIELD_WORD, serve, from, 1),
	AB_ONE(AB_F_SERVE_LINE_CLEANED, AB_FIELD_NUM, serve, line_cleaned_s, 1 / 86400.0),
	AB_ONE(AB_F_SERVE_TOWER_WARM, AB_FIELD_YESNO, serve, tower_warm, 1),
	AB_ONE(AB_F_SERVE_GLASS, AB_FIELD_WORD, serve, glass, 1),
	AB_ONE(AB_F_SERVE_SEDIMENT, AB_FIELD_YESNO, serve, sediment_poured, 1),
};

/* Between the four common bores of vinyl line a power law, the form resistance to flow has; the outer
 * ones are carried on. */
double ab_line_resistance(double bore_mm)
{
	static const struct { double mm, psi_per_ft; } known[] = { { 4.7625, 3.0 }, { 6.35, 0.85 }, { 7.9375,
	    0.40 }, { 9.525, 0.165 } };
	size_t i = 1;

	while (i < 3 && bore_mm > known[i].mm)
		i++;
	double slope = log(known[i].psi_per_ft / known[i - 1].psi_per_ft) /
	    log(known[i].mm / known[i - 1].mm);
	return known[i - 1].psi_per_ft * pow(bore_mm / known[i - 1].mm, slope);
}

/* Half a psi a foot of rise: weight of the beer. */
double ab_line_balance_ft(double psi, double rise_ft, double psi_per_ft)
{
	return (psi - 0.5 * rise_ft) / psi_per_ft;
}

/* So much too long tells no more: hardly anything comes out of it (an estimate, the list's own end). */
static const double LINE_SHARE_MOST = 50;

/* Pressure at the tap is that of carbonation where nobody tells another: most leave it there. */
static void set_line_share(struct ab_work *w)
{
	struct ab_told length = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, line_mm, 1 / 304.8);
	struct ab_told bore = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, bore_mm, 1);
	struct ab_told kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, pressure_kpa, 1);

	if (!kpa.known)
		kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, pressure_kpa, 1);
	if (!length.known || !bore.known || !kpa.known || bore.v <= 0 || kpa.v <= 0)
		return;
	struct ab_basis basis = length.basis;
	ab_rest_on_basis(&basis, &bore.basis);
	ab_rest_on_basis(&basis, &kpa.basis);
	double feet = ab_line_balance_ft(kpa.v / 6.894757, 0, ab_line_resistance(bore.v)),
	    share = fmin(length.v / feet, LINE_SHARE_MOST);
	ab_set(w, AB_F_SERVE_LINE_SHARE, &basis, share, 0.4 * share, 'C',
	    "%.1f m of line; %.1f m of %.1f mm bore take up %.0f kPa", M_IN_FT * length.v, M_IN_FT * feet,
	    bore.v, kpa.v);
}

/* Gas the beer took up (at its pressure and temperature, or by priming) less what it holds as it is served:
 * over 0 it breaks out in line and glass, under 0 the keg goes flat by and by. What ferments in it yet is no fault of
 * the settings, and is left out. The same ASBC fit on both sides: grade A to 20 C. */
static void set_gas_over(struct ab_work *w)
{
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, temp_c, 1);
	struct ab_told kpa = AB_LOOK_ONE(w, AB_FIELD_NUM, serve, pressure_kpa, 1);
	struct ab_told taken = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, pressure_kpa, 1);
	struct ab_told taken_at = AB_LOOK_ONE(w, AB_FIELD_NUM, carbonate, temp_c, 1);
	const struct ab_fact *gas = &w->facts[AB_F_PACK_CO2];
	bool primed = ab_value(w, AB_F_PACK_PRIMING) > 0, own = (taken.known && taken_at.known) || primed;
	int into = ab_word(w, AB_F_PACK_INTO);

	if (!kpa.known)
		kpa = taken;
	/* of mixed gas the pressure tells nothing of what the beer holds */
	if (into != AB_PACK_KEG || !AB_FACT_KNOWN(gas) || !own || !temp.known || !kpa.known ||
	    ab_word(w, AB_F_KEG_GAS) > AB_KEG_GAS_CO2)
		return;
	struct ab_basis basis = temp.basis;
	ab_rest_on_basis(&basis, &kpa.basis);
	ab_rest_on_fact(&basis, gas);
	double holds = ab_co2_asbc(kpa.v - ab_co2_gauge_up(ab_air_atm(w)), temp.v), in = gas->value - w->keg.made;
	double u = hypot(w->keg.made > 0 ? 0.1 : gas->u, basis.guess ? 0.3 : 0.1);
	ab_set(w, AB_F_SERVE_GAS_OVER, &basis, in - holds, u, gas->grade > 'A' ? gas->grade : temp.v <= 20 ? 'A' : 'B',
	    "%.2f volumes in the beer - %.2f that %.0f kPa hold at %.1f C", in, holds, kpa.v, temp.v);
}

/* What is packaged in bottles is poured from bottles, and so on. Indexed by where it was packaged:
 * bottles, keg, cask, cans. */
static void set_from(struct ab_work *w)
{
	static const int pour[] = { 0, AB_POUR_BOTTLE, AB_POUR_TAP, AB_POUR_CASK, AB_POUR_CAN };
	assert((size_t)ab_word(w, AB_F_PACK_INTO) < sizeof pour / sizeof *pour);
	int into = ab_word(w, AB_F_PACK_INTO);
	struct ab_basis basis = ab_basis_new();

	if (ab_known(w, AB_F_SERVE_FROM) || into == 0)
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_PACK_INTO]);
	ab_set(w, AB_F_SERVE_FROM, &basis, pour[into] - 1, 0, 'A', "as it was packaged");
}

void ab_facts_serving(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_line_share(w);
	set_gas_over(w);
	set_from(w);
}
