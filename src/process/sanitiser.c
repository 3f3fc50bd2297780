/* sanitiser.c - what the gear got of what its sanitiser asks for: contact, heat, a fresh mix
 *
 * Contact and age are measured against the sanitiser's label (norms); trust B.
 * Heat is counted in pasteurisation units (growth.h: the sum is trust A, that every germ keeps to it B). They
 * are reckoned for gear only: boiled wort is past any of them, and beer is not pasteurised at home.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/growth.h>
#include "process/hygiene.h"
#include "process/words.h"

/* Above 80 C the law is not known to hold, and steam does not reach everywhere: no more is counted. A
 * thermometer is off by a kelvin, which is a third of the dose. */
static const double BOILING_C = 100, MOST_C = 80, HEAT_U = 0.35, MOST_SHARE = 100;

/* word 0 is "not told", and norms count places from 0. */
const struct ab_sanitiser_norm *ab_sanitiser_norm_of(const struct ab_norms *norms, int word)
{
	for (size_t i = 0; word != 0 && i < norms->n_sanitisers; i++)
		if (norms->sanitisers[i].word == word - 1)
			return &norms->sanitisers[i];
	return NULL;
}

/* How hot the piece was: as told; water that boils needs no thermometer. NAN where heat was not the
 * sanitiser, or nobody says how hot. */
static double heat_of(const struct ab_gear *g, const struct ab_sanitiser_norm *norm)
{
	if (!(norm->heat_c > 0))
		return AB_NAN;
	return g->heat_c.known ? g->heat_c.v : norm->heat_c >= BOILING_C ? norm->heat_c : AB_NAN;
}

static double units_of(double t_c, double seconds)
{
	return ab_pasteur_units(fmin(t_c, MOST_C), seconds / 60);
}

/* Of the time the label asks for; where the piece was heated and it is told how hot, of its heat dose: ten
 * minutes at 80 C do what twenty-seven do at 77 C. */
static double share_of_label(const struct ab_gear *g, const struct ab_sanitiser_norm *norm)
{
	double hot = heat_of(g, norm);

	return isfinite(hot) ? units_of(hot, g->contact_s.v) / units_of(norm->heat_c, norm->contact_s)
	    : g->contact_s.v / norm->contact_s;
}

static bool tells_contact(const struct ab_gear *g, const struct ab_sanitiser_norm *norm)
{
	return norm != NULL && g->contact_s.known && norm->contact_s > 0;
}

static void rest_on_contact(struct ab_basis *basis, const struct ab_gear *g, const struct ab_sanitiser_norm *norm,
    bool usual)
{
	ab_rest_on_num(basis, &g->mark, &g->contact_s, usual);
	if (isfinite(heat_of(g, norm)))
		ab_rest_on_num(basis, &g->mark, &g->heat_c, usual);
}

static void say_contact(struct ab_work *w, const struct ab_basis *basis, const struct ab_gear *g,
    const struct ab_sanitiser_norm *norm)
{
	double share = fmin(share_of_label(g, norm), MOST_SHARE), hot = heat_of(g, norm);

	if (isfinite(hot))
		ab_set(w, AB_F_SANITISE_CONTACT, basis, share, HEAT_U * share, 'B',
		    "%.0f pasteurisation units of the %.0f of %.0f min at %.1f C", units_of(hot,
		    g->contact_s.v), units_of(norm->heat_c, norm->contact_s), norm->contact_s / 60,
		    fmin(norm->heat_c, MOST_C));
	else
		ab_set(w, AB_F_SANITISE_CONTACT, basis, share, 0.2 * share, 'B',
		    "%.0f s of the %.0f s the label asks for", g->contact_s.v, norm->contact_s);
}

/* The piece that got least of what its label asks for decides, and is the one cited. */
static void set_contact(struct ab_work *w, const struct kit *kit)
{
	const struct ab_gear *least = NULL;
	const struct ab_sanitiser_norm *of = NULL;
	struct ab_basis basis = ab_basis_new();

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		const struct ab_sanitiser_norm *norm = ab_sanitiser_norm_of(w->norms, g->sanitiser);
		if (!tells_contact(g, norm) ||
		    (least != NULL && share_of_label(g, norm) >= share_of_label(least, of)))
			continue;
		least = g;
		of = norm;
	}
	if (least == NULL)
		return;
	rest_on_contact(&basis, least, of, kit->usual);
	say_contact(w, &basis, least, of);
}

/* What got least heat of all that was heated. */
static void set_heat(struct ab_work *w, const struct kit *kit)
{
	struct ab_basis basis = ab_basis_new();
	double least = AB_INF, hot = 0, minutes = 0;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		const struct ab_sanitiser_norm *norm = ab_sanitiser_norm_of(w->norms, g->sanitiser);
		double t = tells_contact(g, norm) ? heat_of(g, norm) : AB_NAN;
		if (!isfinite(t) || units_of(t, g->contact_s.v) >= least)
			continue;
		least = units_of(t, g->contact_s.v);
		hot = t;
		minutes = g->contact_s.v / 60;
		basis = ab_basis_new();
		rest_on_contact(&basis, g, norm, kit->usual);
	}
	ab_set(w, AB_F_SANITISE_HEAT, &basis, least, HEAT_U * least, 'B',
	    "%.0f min at %.1f C%s, each minute counting 1.393^(T - 60), T in Celsius", minutes, hot,
	    hot > MOST_C ? ", counted as 80 C" : "");
}

/* Days over what the mix keeps, not the age: different agents keep for an hour or for weeks. */
static void set_mix_age(struct ab_work *w, const struct kit *kit)
{
	struct ab_basis basis = ab_basis_new();
	double over = -AB_INF, age = 0, keeps = 0;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		const struct ab_sanitiser_norm *norm = ab_sanitiser_norm_of(w->norms, g->sanitiser);
		if (norm == NULL || norm->max_mix_age_d <= 0 || !g->mixed_age_s.known ||
		    g->mixed_age_s.v / 86400 - norm->max_mix_age_d <= over)
			continue;
		age = g->mixed_age_s.v / 86400;
		keeps = norm->max_mix_age_d;
		over = age - keeps;
		basis = ab_basis_new();
		ab_rest_on_num(&basis, &g->mark, &g->mixed_age_s, kit->usual);
	}
	if (isfinite(over))
		ab_set(w, AB_F_SANITISE_MIX_AGE, &basis, fmax(0, over), 0.5, 'B',
		    "%.1f d old; mixed it keeps %.1f d", age, keeps);
}

void ab_facts_sanitiser(struct ab_work *w, const struct kit *kit)
{
	set_contact(w, kit);
	set_heat(w, kit);
	set_mix_age(w, kit);
}
