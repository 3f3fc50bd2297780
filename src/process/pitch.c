/* pitch.c - the yeast, how much of it was alive, and how it was pitched
 *
 * Cells by form: dry 8e9 per g (counts of six products 8 to 18; makers warrant 5 to 6; grade C), 11 g a
 * packet when only packets are told; liquid pack 100e9 when made; slurry 1e9 per mL (estimate); dregs of a
 * bottle 0.5e9 (estimate). Losses and starters: pitch.h. As a share of the class's norm; without a known
 * class, of the ale norm 0.75.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "process/pitch.h"
#include <assert.h>
#include <afterboil/quantity.h>
#include "process/words.h"
#include "process/working.h"

static const double DRY_PER_G = 8, DRY_PACK_G = 11, LIQUID_PACK = 100, SLURRY_PER_L = 1000, DREGS = 0.5,
    ALE_RATE = 0.75, USUAL_STARTER_L = 1.5;
/* Makers date liquid packs about half a year ahead (common practice). */
static const double LIQUID_SHELF_D = 180;

static const struct ab_plain rows[] = {
	AB_MANY(AB_F_YEAST_FORM, AB_FIELD_WORD, yeasts, ab_yeast, form, 1, AB_TAKE_FIRST),
	AB_MANY(AB_F_YEAST_KEPT, AB_FIELD_WORD, yeasts, ab_yeast, kept, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_YEAST_PACKS, AB_FIELD_NUM, yeasts, ab_yeast, packs, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_YEAST_GENERATION, AB_FIELD_NUM, yeasts, ab_yeast, generation, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_YEAST_LAST_SPOILT, AB_FIELD_YESNO, yeasts, ab_yeast, last_spoilt, 1, AB_TAKE_LARGEST),
	/* of several yeasts the most: they add up */
	AB_MANY(AB_F_PITCH_JUDGED, AB_FIELD_WORD, yeasts, ab_yeast, judged, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_YEAST_NUTRIENT, AB_FIELD_YESNO, yeasts, ab_yeast, nutrient, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_AERATE_METHOD, AB_FIELD_WORD, aerations, ab_aerate, method, 1, AB_TAKE_LARGEST),
	AB_MANY(AB_F_AERATE_TIME, AB_FIELD_NUM, aerations, ab_aerate, time_s, 1 / 60.0, AB_TAKE_LARGEST),
	AB_ONE(AB_F_PITCH_CLEAN, AB_FIELD_YESNO, pitch, clean, 1),
};

/* The quarter above 16 P is of grade C (pitch.h): strong wort is hard on yeast. */
double ab_pitch_norm(double rate, double volume_l, double plato)
{
	return rate * volume_l * plato * (plato > 16 ? 1.25 : 1);
}

/* Never under 5 %: old packs still start, late; a straight line would say they are dead. */
static double alive(double lost)
{
	return fmax(0.05, 1 - lost);
}

/* 0.45 % of the first count a day in the cold, three and six times that at room warmth and in the heat
 * (pitch.h); by the word of how it was kept. */
double ab_yeast_alive_liquid(double days, int keep)
{
	static const double faster[] = { 1, 1, 3, 6 };
	assert(keep >= 0 && (size_t)keep < sizeof faster / sizeof *faster);
	return alive(0.0045 * faster[keep] * days);
}

double ab_yeast_alive_dry(double days, int keep)
{
	static const double a_year[] = { 0.04, 0.04, 0.20, 0.50 };
	assert(keep >= 0 && (size_t)keep < sizeof a_year / sizeof *a_year);
	return alive(a_year[keep] * days / 365.25);
}

/* A litre feeds only so many: growth stops at 200e9 a litre, yet a starter never ends with fewer than
 * went in. */
double ab_starter_end(double start, double volume_l, int stirred)
{
	double growth = (stirred == AB_NO ? 70 : 140) * volume_l;
	return fmax(start, fmin(200 * volume_l, start + growth));
}

/* Days since the yeast was made; AB_NAN unknown. best-before in hours from pitching: what is left of
 * the shelf life tells the age. Dry packs are dated years ahead by each maker's own rule, so nothing is
 * inferred there. */
static double age_days(const struct ab_work *w, const struct ab_yeast *y)
{
	if (ab_is_as_if(w, AB_F_YEAST_AGE))
		return ab_value(w, AB_F_YEAST_AGE);
	if (y->age_s.known)
		return y->age_s.v / 86400;
	/* Asked for before fmax, which passes over what is no number: an untold date is no fresh pack. */
	double left = ab_hours(w, &y->best_before) / 24;
	return y->form == AB_YEAST_LIQUID && isfinite(left) ? fmax(0, LIQUID_SHELF_D - left) : AB_NAN;
}

/* What the sources' disagreement on losses, 0.2 to 0.7 % a day about the 0.45 taken, makes of a count, as a
 * relative u: it grows with age. The two ends are taken as nine in ten. */
static double sources_apart(double days, int keep)
{
	static const double FEWER = 0.2 / 0.45, MORE = 0.7 / 0.45, WIDTH_IN_U = 3.29;
	double best = ab_yeast_alive_liquid(FEWER * days, keep);
	double worst = ab_yeast_alive_liquid(MORE * days, keep);

	return (best - worst) / WIDTH_IN_U / ab_yeast_alive_liquid(days, keep);
}

/* How it was kept, as told or as if. */
static int keeping(const struct ab_work *w, const struct ab_yeast *y)
{
	return ab_is_as_if(w, AB_F_YEAST_KEPT) ? ab_word(w, AB_F_YEAST_KEPT) : y->kept;
}

/* Cells of one yeast before any starter, with the relative u; AB_NAN when the amount is not told. A
 * month is taken where the age is not told. A count by the brewer beats every rule, and needs no age. */
static double cells_in(const struct ab_work *w, const struct ab_yeast *y, double *rel)
{
	double days = age_days(w, y), age = isfinite(days) ? days : 30;
	int kept = keeping(w, y);

	*rel = isfinite(days) ? 0.35 : 0.45;
	if (y->cells_g.known) {
		*rel = 0.2;
		return y->cells_g.v;
	}
	switch (y->form) {
	case AB_YEAST_DRY:
		return DRY_PER_G * ab_yeast_alive_dry(age,
		    kept) * (y->amount_g.known ? y->amount_g.v : y->packs.known ? DRY_PACK_G *
		    y->packs.v : AB_NAN);
	case AB_YEAST_LIQUID:
		*rel = hypot(*rel, sources_apart(age, kept));
		return LIQUID_PACK * ab_yeast_alive_liquid(age, kept) *
		    (y->packs.known ? y->packs.v : AB_NAN);
	case AB_YEAST_SLURRY:
		*rel = hypot(0.5, sources_apart(age, kept));
		return y->volume_l.known ? SLURRY_PER_L * y->volume_l.v * ab_yeast_alive_liquid(age, kept)
		    : AB_NAN;
	case AB_YEAST_DREGS:
		*rel = 0.8;
		return DREGS * (y->packs.known ? y->packs.v : 1);
	default:
		return AB_NAN;
	}
}

/* The size of a starter; one that was made but not measured counts as the usual litre and a half. */
static double starter_litres(const struct ab_work *w, const struct ab_yeast *y)
{
	if (ab_is_as_if(w, AB_F_YEAST_STARTER) && !(ab_value(w, AB_F_YEAST_STARTER) > 0))
		return 0;
	if (ab_is_as_if(w, AB_F_YEAST_STARTER) && !(y->starter_l.v > 0))
		return USUAL_STARTER_L;
	if (y->starter_l.known)
		return y->starter_l.v;
	return y->made_starter == AB_YES ? USUAL_STARTER_L : 0;
}

/* On all that cells_in and starter_litres may have asked. */
static void rest_on_cells(struct ab_basis *basis, const struct ab_yeast *y, bool usual)
{
	const struct ab_num *asked[] = { &y->cells_g, &y->age_s, &y->amount_g, &y->packs, &y->volume_l, &y->starter_l };

	/* a count needs no more than the starter's size */
	for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
		if (!y->cells_g.known || asked[i] == &y->cells_g || asked[i] == &y->starter_l)
			ab_rest_on_num(basis, &y->mark, asked[i], usual);
}

/* ---- several lines ---- */

/* What one line at most tells of one yeast: what it is called, its form, how much it was, and the rest. */
enum { TELLS_NAME = 1, TELLS_FORM = 2, TELLS_AMOUNT = 4, TELLS_KEPT = 8, TELLS_AGE = 16, TELLS_STARTER = 32,
    TELLS_STIRRED = 64 };

static unsigned tells(const struct ab_yeast *y)
{
	bool amount = y->amount_g.known || y->volume_l.known || y->packs.known || y->cells_g.known;

	return (y->klass != NULL || y->strain != NULL ? TELLS_NAME : 0) | (y->form != 0 ? TELLS_FORM : 0) |
	    (amount ? TELLS_AMOUNT : 0) | (y->kept != 0 ? TELLS_KEPT : 0) |
	    (y->age_s.known || y->best_before.known ? TELLS_AGE : 0) |
	    (y->starter_l.known || y->made_starter != 0 ? TELLS_STARTER : 0) | (y->stirred != 0 ? TELLS_STIRRED : 0);
}

static void take_over(struct ab_yeast *to, const struct ab_yeast *from, unsigned told)
{
	if (told & TELLS_FORM)
		to->form = from->form;
	if (told & TELLS_AMOUNT)
		to->amount_g = from->amount_g, to->volume_l = from->volume_l, to->packs = from->packs,
		to->cells_g = from->cells_g;
	if (told & TELLS_KEPT)
		to->kept = from->kept;
	if (told & TELLS_AGE)
		to->age_s = from->age_s, to->best_before = from->best_before;
	if (told & TELLS_STARTER)
		to->starter_l = from->starter_l, to->made_starter = from->made_starter;
	if (told & TELLS_STIRRED)
		to->stirred = from->stirred;
}

/* Lines of which none tells what another does are one yeast, written on several because one of them is a guess; one of
 * them tells how much. Else they are several yeasts. */
static bool are_one(const struct ab_list *yeasts, struct ab_yeast *one)
{
	unsigned told = 0;

	*one = (struct ab_yeast){ .form = 0 };
	for (AB_EACH(struct ab_yeast, y, *yeasts)) {
		unsigned more = tells(y);
		if (told & more)
			return false;
		take_over(one, y, more);
		told |= more;
	}
	return (told & TELLS_AMOUNT) != 0;
}

/* The living cells of one yeast, as it was pitched. */
static void add_cells(const struct ab_work *w, const struct ab_yeast *y, double *cells, double *var)
{
	double rel, start = cells_in(w, y, &rel), litres = starter_litres(w, y);
	double end = litres > 0 ? ab_starter_end(start, litres, y->stirred) : start;

	*cells += end;
	*var += pow(rel * end, 2);
}

/* Several yeasts add up, their doubts as independent. A class that is known keeps an assumed volume
 * from calling the whole fact assumed. */
static void set_rate_share(struct ab_work *w)
{
	bool usual = w->batch->yeasts.n == 0;
	struct ab_basis basis = ab_basis_new();
	double cells = 0, var = 0, rate = w->yeast != NULL ? w->yeast->pitch_rate : ALE_RATE;
	struct ab_yeast one;

	if ((usual && w->usual == NULL) || !w->volume.known || !ab_known(w, AB_F_GRAVITY_OG))
		return;
	const struct ab_list *yeasts = usual ? &w->usual->yeasts : &w->batch->yeasts;
	bool together = are_one(yeasts, &one);
	for (AB_EACH(struct ab_yeast, y, *yeasts)) {
		if (!together)
			add_cells(w, y, &cells, &var);
		rest_on_cells(&basis, y, usual);
	}
	if (together)
		add_cells(w, &one, &cells, &var);
	double plato = ab_plato_from_sg(ab_value(w, AB_F_GRAVITY_OG)),
	    norm = ab_pitch_norm(rate, w->volume.v, plato);
	if (!(cells > 0) || norm <= 0)
		return;
	ab_rest_on_fact(&basis, &w->facts[AB_F_GRAVITY_OG]);
	ab_rest_on_basis(&basis, &w->volume.basis);
	if (basis.origin == AB_ORIGIN_ASSUMED && w->yeast != NULL)
		basis.origin = AB_ORIGIN_DERIVED;
	/* The norm is as sure as the gravity it is of. */
	var += pow(cells * w->facts[AB_F_GRAVITY_OG].u / fmax(0.001, ab_value(w, AB_F_GRAVITY_OG) - 1), 2);
	ab_set(w, AB_F_PITCH_RATE_SHARE, &basis, cells / norm, sqrt(var) / norm, 'C',
	    "about %.0f thousand million living cells; %.0f are the norm for %.1f L at %.1f P", cells, norm,
	    w->volume.v, plato);
}

/* Told ages first; else the label's date, to a month. */
static void set_age(struct ab_work *w)
{
	struct ab_told told = AB_LOOK_MANY(w, AB_FIELD_NUM, yeasts, ab_yeast, age_s, 1 / 86400.0,
	    AB_TAKE_LARGEST);

	struct ab_yeast one;
	bool together = are_one(&w->batch->yeasts, &one);

	ab_set_told(w, AB_F_YEAST_AGE, &told);
	for (AB_EACH(struct ab_yeast, y, w->batch->yeasts)) {
		double days = age_days(w, together ? &one : y);
		struct ab_basis basis = ab_basis_new();
		bool dated = !together || isfinite(ab_hours(w, &y->best_before));
		if (told.known || !isfinite(days) || !dated)
			continue;
		ab_rest_on(&basis, &y->mark, false);
		ab_set(w, AB_F_YEAST_AGE, &basis, days, 30, 'C', "packs are dated about %.0f d ahead",
		    LIQUID_SHELF_D);
	}
}

/* A size is the better word: "0 L" says no starter whatever the other field says. */
static void set_starter(struct ab_work *w)
{
	struct ab_told made = AB_LOOK_MANY(w, AB_FIELD_YESNO, yeasts, ab_yeast, made_starter, 1,
	    AB_TAKE_LARGEST);
	struct ab_told litres = AB_LOOK_MANY(w, AB_FIELD_NUM, yeasts, ab_yeast, starter_l, 1,
	    AB_TAKE_LARGEST);

	litres.v = litres.v > 0;
	ab_set_told(w, AB_F_YEAST_STARTER, litres.known ? &litres : &made);
}

static void set_class_traits(struct ab_work *w)
{
	const struct ab_yeast_norm *y = w->yeast;
	const struct { int slot; bool is; } traits[] = {
		{ AB_F_YEAST_PHENOLIC, y->phenolic }, { AB_F_YEAST_DIASTATIC, y->diastatic },
		{ AB_F_YEAST_LAGER, y->lager },
		{ AB_F_YEAST_SULPHURY, y->sulphury }, { AB_F_YEAST_FLOCCULENT, y->flocculent },
		    { AB_F_YEAST_FRUITY, y->fruity },
	};
	for (size_t i = 0; i < sizeof traits / sizeof *traits; i++)
		ab_set(w, traits[i].slot, &w->yeast_basis, traits[i].is, 0, 'B', NULL);
}

/* Read within an hour of pitching, the wort is as warm as it was pitched. */
static struct ab_told read_at_pitching(const struct ab_work *w)
{
	struct ab_told temp = { .known = false };

	if (w->at_pitching == NULL)
		return temp;
	temp = ab_told_num(&w->at_pitching->mark, &w->at_pitching->wort_c, 1, false);
	ab_put_right(w, &temp);
	return temp;
}

/* 0.5 K: a home thermometer, at best. */
static void set_temp_over(struct ab_work *w)
{
	struct ab_told temp = AB_LOOK_ONE(w, AB_FIELD_NUM, pitch, temp_c, 1);

	if (!temp.known)
		temp = read_at_pitching(w);
	if (!temp.known)
		temp = AB_LOOK_ONE(w, AB_FIELD_NUM, chill, end_c, 1);
	if (!temp.known)
		return;
	struct ab_basis basis = temp.basis;
	ab_rest_on_basis(&basis, &w->yeast_basis);
	double u = hypot(0.5, ab_told_u(&temp, 1.5));
	ab_set(w, AB_F_PITCH_TEMP_OVER, &basis, temp.v - w->yeast->high_c, u, 'B',
	    "(%.1f C at pitching) - (%.1f C, top of the range of %s)", temp.v, w->yeast->high_c,
	    w->yeast->title);
}

void ab_facts_pitch(struct ab_work *w)
{
	ab_set_plain(w, rows, sizeof rows / sizeof *rows);
	set_age(w);
	set_starter(w);
	set_rate_share(w);
	if (w->yeast == NULL)
		return;
	set_class_traits(w);
	set_temp_over(w);
}
