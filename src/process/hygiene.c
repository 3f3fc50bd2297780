/* hygiene.c - cleaning and sanitising of what touched cold wort and beer
 *
 * Each question is asked of every piece of gear in the journal, and of the profile's usual gear when the
 * journal lists none. Contact and age are measured against the sanitiser's label (norms); trust B. Soil keeps
 * any sanitiser from working, so it counts apart.
 * Heat is counted in pasteurisation units (growth.h: the sum is trust A, that every germ keeps to it B). They
 * are reckoned for gear only: boiled wort is past any of them, and beer is not pasteurised at home.
 * A coil that went into the boil needs no sanitiser; every other chiller does.
 * One piece is enough for "yes, something was". "Nothing was" is said of everything (item "everything"), or taken,
 * as a guess, from three pieces or more (estimate: who tells of so many tells of the cleaning as a whole); one
 * piece tells of itself.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <afterboil/growth.h>
#include "process/working.h"
#include "process/words.h"

static const struct ab_plain rows[] = {
	AB_MANY(AB_F_SANITISE_DOSE, AB_FIELD_NUM, gear, ab_gear, label_share, 1, AB_TAKE_SMALLEST),
};

/* Above 80 C the law is not known to hold, and steam does not reach everywhere: no more is counted. A
 * thermometer is off by a kelvin, which is a third of the dose. */
static const double BOILING_C = 100, MOST_C = 80, HEAT_U = 0.35, MOST_SHARE = 100;

/* The gear to ask, and whether it is the usual one. */
struct kit { struct ab_list gear; bool usual; };

/* All or nothing: a journal that lists some gear was written by someone who looked, and mixing in the
 * usual would blame pieces that were not used. */
static struct kit find_kit(const struct ab_work *w)
{
	struct kit kit = { w->batch->gear, false };
	if (kit.gear.n == 0 && w->usual != NULL)
		kit = (struct kit){ w->usual->gear, true };
	return kit;
}

/* word 0 is "not told", and norms count places from 0. */
static const struct ab_sanitiser_norm *norm_of(const struct ab_norms *norms, int word)
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
		const struct ab_sanitiser_norm *norm = norm_of(w->norms, g->sanitiser);
		if (!tells_contact(g, norm) ||
		    (least != NULL && share_of_label(g, norm) >= share_of_label(least, of)))
			continue;
		least = g;
		of = norm;
	}
	if (least == NULL)
		return;
	ab_rest_on(&basis, &least->mark, kit->usual);
	say_contact(w, &basis, least, of);
}

/* What got least heat of all that was heated. */
static void set_heat(struct ab_work *w, const struct kit *kit)
{
	struct ab_basis basis = ab_basis_new();
	double least = AB_INF, hot = 0, minutes = 0;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		const struct ab_sanitiser_norm *norm = norm_of(w->norms, g->sanitiser);
		double t = tells_contact(g, norm) ? heat_of(g, norm) : AB_NAN;
		if (!isfinite(t) || units_of(t, g->contact_s.v) >= least)
			continue;
		least = units_of(t, g->contact_s.v);
		hot = t;
		minutes = g->contact_s.v / 60;
		basis = ab_basis_new();
		ab_rest_on(&basis, &g->mark, kit->usual);
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
		const struct ab_sanitiser_norm *norm = norm_of(w->norms, g->sanitiser);
		if (norm == NULL || norm->max_mix_age_d <= 0 || !g->mixed_age_s.known ||
		    g->mixed_age_s.v / 86400 - norm->max_mix_age_d <= over)
			continue;
		age = g->mixed_age_s.v / 86400;
		keeps = norm->max_mix_age_d;
		over = age - keeps;
		basis = ab_basis_new();
		ab_rest_on(&basis, &g->mark, kit->usual);
	}
	if (isfinite(over))
		ab_set(w, AB_F_SANITISE_MIX_AGE, &basis, fmax(0, over), 0.5, 'B',
		    "%.1f d old; mixed it keeps %.1f d", age, keeps);
}

/* A chiller of unknown kind is not held against anybody. */
static bool touches_cold(const struct ab_work *w, const struct ab_gear *g)
{
	if (g->item == AB_GEAR_CHILLER)
		return ab_word(w, AB_F_CHILL_METHOD) != AB_CHILL_COIL && ab_known(w, AB_F_CHILL_METHOD);
	return g->item != 0 && g->item != AB_GEAR_OTHER;
}

/* What a question of yes and no over all gear found: of whom it was said that it was not so. */
struct verdict { struct ab_basis yes, no; bool any_yes, all_no, piece[AB_GEAR_MAX_]; };

enum { MANY_PIECES = 3 };

static struct verdict verdict_new(void)
{
	return (struct verdict){ .yes = ab_basis_new(), .no = ab_basis_new() };
}

static void judge_yes(struct verdict *v, const struct ab_mark *mark, bool usual)
{
	v->any_yes = true;
	ab_rest_on(&v->yes, mark, usual);
}

/* Yes and no keep a basis each, so that the answer cites only the records that say so. */
static void judge(struct verdict *v, const struct ab_gear *g, bool usual, bool is)
{
	assert(g->item >= 0 && g->item < AB_GEAR_MAX_);
	if (is) {
		judge_yes(v, &g->mark, usual);
		return;
	}
	v->all_no |= g->item == AB_GEAR_ALL;
	v->piece[g->item] = true;
	ab_rest_on(&v->no, &g->mark, usual);
}

/* in_a_yes: the fact's value where it is so of one piece. */
static void set_verdict_as(struct ab_work *w, int slot, const struct verdict *v, double in_a_yes)
{
	struct ab_basis basis = v->yes;
	int pieces = 0;

	for (size_t i = 0; i < AB_GEAR_MAX_; i++)
		pieces += v->piece[i];
	if (v->any_yes)
		ab_set(w, slot, &basis, in_a_yes, 0, 'A', NULL);
	basis = v->no;
	if (v->any_yes || (!v->all_no && pieces < MANY_PIECES))
		return;
	if (!v->all_no) {
		basis.guess = true;
		basis.origin = AB_ORIGIN_ASSUMED;
	}
	ab_set(w, slot, &basis, 1 - in_a_yes, 0, v->all_no ? 'A' : 'C', v->all_no ? "said of everything"
	    : "so of %d kinds of kit that are told of; that it was of all is taken from them", pieces);
}

static void set_verdict(struct ab_work *w, int slot, const struct verdict *v)
{
	set_verdict_as(w, slot, v, 1);
}

/* Yes for one thing missed. An answer about pitching alone cannot say no. */
static void set_missed(struct ab_work *w, const struct kit *kit)
{
	const struct ab_batch *b = w->batch;
	struct verdict v = verdict_new();

	for (AB_EACH(struct ab_gear, g, kit->gear))
		if (g->sanitiser != 0 && touches_cold(w, g))
			judge(&v, g, kit->usual, g->sanitiser == AB_SANI_NONE);
	if (b->pitch != NULL && b->pitch->clean == AB_NO)
		judge_yes(&v, &b->pitch->mark, false);
	for (AB_EACH(struct ab_extra, e, b->recipe != NULL ? b->recipe->extras : (struct ab_list){ 0 }))
		if (e->sanitised == AB_NO)
			judge_yes(&v, &e->mark, false);
	set_verdict(w, AB_F_SANITISE_MISSED, &v);
}

/* Bleach counts as cleaner and as sanitiser: either way it may leave chlorine. Percarbonate and caustic
 * are the strongly alkaline ones. */
static void set_agents(struct ab_work *w, const struct kit *kit)
{
	struct verdict rinsed = verdict_new(), bleach = rinsed, scented = rinsed, alkaline = rinsed,
	    left = rinsed;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		/* Rinsing what was never sanitised is only cleaning. */
		if (g->rinse != 0 && g->sanitiser != AB_SANI_NONE)
			judge(&rinsed, g, kit->usual, g->rinse == AB_RINSE_TAP);
		bool bleached = g->cleaned == AB_AGENT_BLEACH || g->sanitiser == AB_SANI_BLEACH;
		bool strong = g->cleaned == AB_AGENT_PERCARBONATE || g->cleaned == AB_AGENT_CAUSTIC;
		/* What only its cleaner is told of may have been sanitised with it. */
		if (bleached || g->sanitiser != 0)
			judge(&bleach, g, kit->usual, bleached);
		if (g->cleaned == 0)
			continue;
		/* Where a sanitiser came after, the rinse told may be that of the sanitiser. */
		bool after = g->sanitiser != 0 && g->sanitiser != AB_SANI_NONE;
		if (g->cleaned > AB_AGENT_WATER &&
		    (g->rinse > AB_RINSE_NONE || (g->rinse == AB_RINSE_NONE && !after)))
			judge(&left, g, kit->usual, g->rinse == AB_RINSE_NONE);
		judge(&scented, g, kit->usual, g->cleaned == AB_AGENT_SCENTED);
		judge(&alkaline, g, kit->usual, strong);
	}
	set_verdict(w, AB_F_SANITISE_RINSED_TAP, &rinsed);
	set_verdict(w, AB_F_SANITISE_BLEACH, &bleach);
	set_verdict(w, AB_F_CLEAN_SCENTED, &scented);
	set_verdict(w, AB_F_CLEAN_ALKALINE, &alkaline);
	set_verdict(w, AB_F_CLEAN_UNRINSED, &left);
}

/* Taps, wands and faucets hide soil inside: one that is never opened makes it no. Few pieces come apart, so one that is
 * taken apart speaks for the habit. */
static void set_dismantled(struct ab_work *w, const struct kit *kit)
{
	struct ab_basis open = ab_basis_new(), closed = open;
	bool any_open = false, any_closed = false;
	const struct ab_serve *serve = w->batch->serve;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->dismantled == AB_UNKNOWN)
			continue;
		*(g->dismantled == AB_NO ? &any_closed : &any_open) = true;
		ab_rest_on(g->dismantled == AB_NO ? &closed : &open, &g->mark, kit->usual);
	}
	if (serve != NULL && serve->faucet_dismantled != AB_UNKNOWN) {
		*(serve->faucet_dismantled == AB_NO ? &any_closed : &any_open) = true;
		ab_rest_on(serve->faucet_dismantled == AB_NO ? &closed : &open, &serve->mark, false);
	}
	if (any_open || any_closed)
		ab_set(w, AB_F_CLEAN_DISMANTLED, any_closed ? &closed : &open, !any_closed, 0, 'A', NULL);
}

/* How the pieces are: soiled, rusty, smelling of what they held, not made for food. */
static void set_state(struct ab_work *w, const struct kit *kit)
{
	struct verdict soil = verdict_new(), rust = soil, smell = soil, no_food = soil;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->soil != AB_UNKNOWN)
			judge(&soil, g, kit->usual, g->soil == AB_YES);
		if (g->rusty != AB_UNKNOWN)
			judge(&rust, g, kit->usual, g->rusty == AB_YES);
		if (g->smells != AB_UNKNOWN)
			judge(&smell, g, kit->usual, g->smells == AB_YES);
		if (g->for_food != AB_UNKNOWN)
			judge(&no_food, g, kit->usual, g->for_food == AB_NO);
	}
	set_verdict(w, AB_F_CLEAN_SOIL, &soil);
	set_verdict(w, AB_F_GEAR_RUSTY, &rust);
	set_verdict(w, AB_F_GEAR_SMELLS, &smell);
	set_verdict_as(w, AB_F_GEAR_FOOD, &no_food, 0);
}

/* What has rubber or soft plastic in it, where soil hides as it ages; glass and steel do not count. */
static bool is_soft(int item)
{
	return item == AB_GEAR_TAP || item == AB_GEAR_HOSE || item == AB_GEAR_SIPHON ||
	    item == AB_GEAR_AIRLOCK || item == AB_GEAR_WAND || item == AB_GEAR_LINES;
}

static void set_soft_age(struct ab_work *w, const struct kit *kit)
{
	struct ab_told oldest = AB_LOOK_MANY(w, AB_FIELD_NUM, transfers, ab_transfer, hose_age_s, 1 / 86400.0,
	    AB_TAKE_LARGEST);

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (!is_soft(g->item) || !g->age_s.known || (oldest.known && g->age_s.v / 86400 <= oldest.v))
			continue;
		oldest = (struct ab_told){ true, g->age_s.v / 86400, g->age_s.resolution / 86400,
		    ab_basis_new() };
		ab_rest_on(&oldest.basis, &g->mark, kit->usual);
	}
	ab_set_told(w, AB_F_GEAR_SOFT_AGE, &oldest);
}

/* Clean means washed and sanitised and no soil; one missing makes it no; silence about one leaves it
 * open. Several records of bottles may disagree; the last one that says anything stands, as it was
 * written last. */
static void set_bottles(struct ab_work *w, const struct kit *kit)
{
	struct ab_told washed = AB_LOOK_ONE(w, AB_FIELD_YESNO, package, bottles_washed, 1);

	bool bottled =
	    w->batch->package == NULL || w->batch->package->into == 0 || w->batch->package->into == AB_PACK_BOTTLES;

	for (AB_EACH(struct ab_gear, g, kit->gear)) {
		if (g->item != AB_GEAR_BOTTLES && !(bottled && g->item == AB_GEAR_ALL))
			continue;
		bool no = g->sanitiser == AB_SANI_NONE || g->cleaned == AB_AGENT_NONE || g->soil == AB_YES;
		bool yes = g->sanitiser != 0 && (g->cleaned != 0 || (washed.known && washed.v > 0));
		struct ab_basis basis = ab_basis_new();
		ab_rest_on(&basis, &g->mark, kit->usual);
		if (no || (yes && !(washed.known && washed.v <= 0)))
			ab_set(w, AB_F_BOTTLES_CLEAN, &basis, !no, 0, 'A', NULL);
	}
	if (!ab_known(w, AB_F_BOTTLES_CLEAN))
		ab_set_told(w, AB_F_BOTTLES_CLEAN, &washed);
}

void ab_facts_hygiene(struct ab_work *w)
{
	struct kit kit = find_kit(w);

	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_contact(w, &kit);
	set_heat(w, &kit);
	set_mix_age(w, &kit);
	set_missed(w, &kit);
	set_agents(w, &kit);
	set_dismantled(w, &kit);
	set_soft_age(w, &kit);
	set_state(w, &kit);
	set_bottles(w, &kit);
}
