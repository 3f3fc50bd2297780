/* cleanup.c - whether the beer had the warmth and time to lose its diacetyl precursor, from half attenuation
 * to the chill or the package
 *
 * Trust C throughout (cleanup.h): the fact is good for an order of batches; u is what a rate twice or half as
 * fast makes of it. How time and warmth on the yeast add up to autolysis is in no source as a law, so there
 * is no fact for that.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/cleanup.h>
#include "process/working.h"

/* An Arrhenius law through one point: 50 h at 20 C and 97 kJ/mol. The half-life is a placeholder
 * (cleanup.h): none is published for home conditions. */
static const double HALF_LIFE_H = 50, AT_K = 293.15, ACTIVATION_J = 97000, GAS_J = 8.314, LONGEST_STEP_H = 6;

double ab_cleanup_half_life_h(double t_c)
{
	return HALF_LIFE_H * exp(ACTIVATION_J / GAS_J * (1 / (t_c + 273.15) - 1 / AT_K));
}

/* Half-lives spent from a to b, where the temperature runs straight: Simpson's rule on steps of hours.
 * The rate bends with warmth, so steps are kept short enough that three points a step do. */
static double half_lives(double a, double ta, double b, double tb)
{
	double n = ceil((b - a) / LONGEST_STEP_H), sum = 0;

	/* Nothing changes along a level stretch. */
	if (fabs(tb - ta) < 1e-9)
		return (b - a) / ab_cleanup_half_life_h(ta);
	double t0 = ta, rate0 = 1 / ab_cleanup_half_life_h(t0);
	for (double i = 0; i < n; i++) {
		double t1 = ta + (tb - ta) * (i + 1) / n, rate1 = 1 / ab_cleanup_half_life_h(t1);
		sum += rate0 + 4 / ab_cleanup_half_life_h((t0 + t1) / 2) + rate1;
		t0 = t1;
		rate0 = rate1;
	}
	return (b - a) / n * sum / 6;
}

/* The profile is held before its first point and after its last. Counted in half-lives, since those add
 * up over time whatever the temperature did. */
static double half_lives_spent(const double *h, const double *c, size_t n, double from_h, double to_h)
{
	double spent = 0;

	if (from_h < h[0])
		spent += half_lives(from_h, c[0], fmin(to_h, h[0]), c[0]);
	for (size_t i = 1; i < n; i++) {
		double a = fmax(from_h, h[i - 1]), b = fmin(to_h, h[i]), slope = (c[i] - c[i - 1]) /
		    (h[i] - h[i - 1]);
		if (b > a)
			spent += half_lives(a, c[i - 1] + slope * (a - h[i - 1]), b,
			    c[i - 1] + slope * (b - h[i - 1]));
	}
	if (to_h > h[n - 1])
		spent += half_lives(fmax(from_h, h[n - 1]), c[n - 1], to_h, c[n - 1]);
	return spent;
}

static double share_of(double spent, double faster)
{
	return 1 - exp2(-faster * spent);
}

/* Only the sum is turned into a share. */
double ab_cleanup_share(const double *h, const double *c, size_t n, double from_h, double to_h, double faster)
{
	if (n == 0)
		return AB_NAN;
	return to_h > from_h ? share_of(half_lives_spent(h, c, n, from_h, to_h), faster) : 0;
}

/* The beer's warmth over time: measured, or where it settled, with told rests laid over the latter. */
struct warmth { double *h, *c; size_t n; struct ab_basis basis; };

/* Out of order means overlapping rests: refused, because the pieces above divide by h[i] - h[i-1]. */
static bool add(struct warmth *w, double h, double c)
{
	if (w->n > 0 && !(h > w->h[w->n - 1]))
		return false;
	w->h[w->n] = h;
	w->c[w->n++] = c;
	return true;
}

/* Readings that stop within a day before the window are held into it; older ones would be stretched
 * over the very days that matter. */
static bool measured(const struct ab_work *w, double from, double to)
{
	return w->beer.n > 0 && w->beer.at[0].h <= to && w->beer.at[w->beer.n - 1].h >= from - 24;
}

/* A rest is a step up and a step down; those with their hour, temperature and length are laid in. */
static void lay_rests(const struct ab_work *w, struct warmth *out, double usual)
{
	for (AB_EACH(struct ab_rest, r, w->batch->rests)) {
		double h = ab_hours(w, &r->at);
		if (!isfinite(h) || !r->temp_c.known || !r->for_s.known)
			continue;
		if (add(out, h, usual) && add(out, h + 0.5, r->temp_c.v) &&
		    add(out, h + r->for_s.v / 3600, r->temp_c.v))
			add(out, h + r->for_s.v / 3600 + 0.5, usual);
		ab_rest_on_num(&out->basis, &r->mark, &r->temp_c, false);
		ab_rest_on_num(&out->basis, &r->mark, &r->for_s, false);
	}
}

/* Room for the beer's points or for four corners a rest and the start, whichever is used: one block, c
 * after h. */
static bool find_warmth(struct ab_work *w, struct warmth *out, double from, double to)
{
	size_t room = w->beer.n + 4 * w->batch->rests.n + 1;

	*out = (struct warmth){ .basis = w->level.basis };
	if (!measured(w, from, to) && !w->level.known)
		return false;
	out->h = ab_arena_alloc(w->arena, 2 * room, sizeof *out->h);
	if (out->h == NULL) {
		w->short_of_memory = true;
		return false;
	}
	out->c = out->h + room;
	if (measured(w, from, to)) {
		out->basis = w->beer_basis;
		for (size_t i = 0; i < w->beer.n; i++)
			add(out, w->beer.at[i].h, w->beer.at[i].v);
		return true;
	}
	add(out, 0, w->level.after);
	lay_rests(w, out, w->level.after);
	return true;
}

/* Where nothing tells half attenuation, two days for a class that is done in seven (estimate). */
static double half_way(const struct ab_work *w)
{
	double days = w->yeast != NULL && w->yeast->primary_days > 0 ? w->yeast->primary_days : 7;
	return isfinite(w->half_h) ? w->half_h : days * 24 * 2 / 7;
}

void ab_facts_cleanup(struct ab_work *w)
{
	double from = half_way(w), to = w->packaged_h;
	struct warmth warm;

	for (AB_EACH(struct ab_crash, c, w->batch->crashes))
		to = fmin(to, isfinite(ab_hours(w, &c->at)) ? ab_hours(w, &c->at) : AB_INF);
	/* A rest given by hand, or told without its hour or warmth, is the better word. */
	bool bare = false;
	for (AB_EACH(struct ab_rest, r, w->batch->rests))
		bare |= !r->temp_c.known || !r->for_s.known || !isfinite(ab_hours(w, &r->at));
	if (!isfinite(to) || bare || ab_is_as_if(w, AB_F_FERMENT_REST_DAYS) ||
	    !find_warmth(w, &warm, from, to))
		return;
	/* Half and double speed span what the activation energy and strain leave open; half their
	 * distance is u. */
	double spent = to > from ? half_lives_spent(warm.h, warm.c, warm.n, from, to) : 0;
	double share = share_of(spent, 1), slow = share_of(spent, 0.5), fast = share_of(spent, 2);
	ab_set(w, AB_F_FERMENT_CLEANUP, &warm.basis, share, (fast - slow) / 2, 'C',
	    "%.1f d from half attenuation on, at half-lives of %.0f h at 20 C (a placeholder: none is "
	    "published)", fmax(0, to - from) / 24, HALF_LIFE_H);
}
