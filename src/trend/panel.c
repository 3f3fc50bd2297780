/* panel.c - blind difference tests: how many right answers are more than luck
 *
 * Sources: ISO 4120 (triangle), ISO 10399 (duo-trio), ISO 5495 (pair), all one-sided binomial tests; tables
 * of the first two are put to this file in tests/handbook. Binomial and beta tails are GSL's.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/panel.h>

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>

const char *const ab_panel_words[] = { "triangle", "duo-trio", "pair", "preference", NULL };
const double ab_panel_shares[AB_PANEL_SHARES] = { 0.25, 0.35, 0.5 };
const double ab_panel_levels[AB_PANEL_LEVELS] = { 0.1, 0.05, 0.01 };

double ab_panel_guess(enum ab_panel_test test)
{
	return test == AB_PANEL_TRIANGLE ? 1.0 / 3 : 0.5;
}

/* At least k of n, each with chance p. */
static double at_least(size_t k, size_t n, double p)
{
	return k == 0 ? 1 : gsl_cdf_binomial_Q((unsigned)k - 1, p, (unsigned)n);
}

double ab_panel_p(enum ab_panel_test test, size_t right, size_t n)
{
	assert(right <= n && n <= AB_PANEL_MOST);
	if (test != AB_PANEL_PREFERENCE)
		return at_least(right, n, ab_panel_guess(test));
	return fmin(1, 2 * at_least(right > n - right ? right : n - right, n, 0.5));
}

/* From the top down: p falls as more are right. A preference starts at the even split, below which the other
 * beer is the preferred one. */
size_t ab_panel_least(enum ab_panel_test test, size_t n, double level)
{
	size_t least = SIZE_MAX;

	for (size_t k = n; k > 0 && (test != AB_PANEL_PREFERENCE || 2 * k > n) &&
	    ab_panel_p(test, k, n) <= level; k--)
		least = k;
	return least;
}

/* Of a preference the wrong side may reach it too; that alarm is not what was looked for. */
double ab_panel_power(enum ab_panel_test test, size_t n, double level, double share)
{
	size_t least = ab_panel_least(test, n, level);
	double guess = ab_panel_guess(test);

	return least == SIZE_MAX ? 0 : at_least(least, n, guess + (1 - guess) * share);
}

size_t ab_panel_tasters(enum ab_panel_test test, double level, double share, double power)
{
	for (size_t n = 1; n <= AB_PANEL_MOST; n++)
		if (ab_panel_power(test, n, level, share) >= power)
			return n;
	return 0;
}

/* ---- what to believe ---- */

/* The posterior of the chance to be right: Beta(a, b) between from and 1. */
struct chance { double a, b, from; };

static double above(const struct chance *c, double x)
{
	return gsl_cdf_beta_Q(x, c->a, c->b);
}

/* Where a share q of the posterior lies above. */
static double upper_point(const struct chance *c, double q)
{
	return gsl_cdf_beta_Qinv(q * above(c, c->from), c->a, c->b);
}

/* The mean of a beta cut off below: E = a/(a+b) times the tail of Beta(a + 1, b) over its own. */
static double mean_of(const struct chance *c)
{
	return c->a / (c->a + c->b) * gsl_cdf_beta_Q(c->from, c->a + 1, c->b) / above(c, c->from);
}

void ab_panel_believe(enum ab_panel_test test, size_t right, size_t n, struct ab_panel_belief *out)
{
	bool either = test == AB_PANEL_PREFERENCE;
	double guess = ab_panel_guess(test), odds;
	size_t k = either && right < n - right ? n - right : right;
	const struct chance c = { (double)k + 1, (double)(n - k) + 1, either ? 0 : guess };

	assert(n >= 1 && right <= n);
	/* the data's chance with every share alike over that with none: an integral over a beta density */
	odds = exp(gsl_sf_lnbeta(c.a, c.b) - (double)k * log(guess) - (double)(n - k) * log(1 - guess)) *
	    above(&c, c.from) / (1 - c.from);
	out->difference = odds / (1 + odds);
	out->share = (mean_of(&c) - guess) / (1 - guess);
	out->low = (upper_point(&c, 0.9) - guess) / (1 - guess);
	out->high = (upper_point(&c, 0.1) - guess) / (1 - guess);
}

/* ---- the serving order ---- */

struct orders { const char *beers[6]; size_t n; int cups; };

/* Of a duo-trio the reference stands first and either beer is it equally often ("balanced reference"). */
static const struct orders orders_of[AB_PANEL_TESTS] = {
	[AB_PANEL_TRIANGLE] = { { "ABB", "BAB", "BBA", "BAA", "ABA", "AAB" }, 6, 3 },
	[AB_PANEL_DUO_TRIO] = { { "AAB", "ABA", "BAB", "BBA" }, 4, 3 },
	[AB_PANEL_PAIR] = { { "AB", "BA" }, 2, 2 },
	[AB_PANEL_PREFERENCE] = { { "AB", "BA" }, 2, 2 },
};

/* SplitMix64 (Steele, Lea & Flood 2014): well mixed from any seed at the first number, which a generator
 * with a large state is not, and nothing to allocate. */
static unsigned draw(uint64_t *state, unsigned below)
{
	uint64_t z = *state += 0x9E3779B97F4A7C15U;

	z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9U;
	z = (z ^ z >> 27) * 0x94D049BB133111EBU;
	return (unsigned)((z ^ z >> 31) >> 32) % below;
}

/* Fisher and Yates. */
static void shuffle(uint64_t *state, size_t *places, size_t n)
{
	for (size_t i = n; i > 1; i--) {
		size_t j = draw(state, (unsigned)i), kept = places[i - 1];

		places[i - 1] = places[j];
		places[j] = kept;
	}
}

/* Without a leading zero, and no two alike on one tray: a code must hint at nothing. */
static void label(uint64_t *state, struct ab_serving *s, bool reference)
{
	for (int i = reference ? 1 : 0; i < s->cups; i++) {
		bool again = true;

		while (again) {
			s->code[i] = 100 + (int)draw(state, 900);
			again = false;
			for (int j = 0; j < i; j++)
				again = again || s->code[j] == s->code[i];
		}
	}
}

/* Triangle: the cup whose beer stands alone. Duo-trio: the one that is as the reference. */
static int right_place(enum ab_panel_test test, const char *beer)
{
	if (test == AB_PANEL_TRIANGLE)
		return beer[1] == beer[2] ? 0 : beer[0] == beer[2] ? 1 : 2;
	return test == AB_PANEL_DUO_TRIO ? (beer[1] == beer[0] ? 1 : 2) : -1;
}

enum ab_status ab_panel_serve(enum ab_panel_test test, size_t n, unsigned long seed, struct ab_arena *arena,
    struct ab_serving **out, struct ab_diag *diag)
{
	const struct orders *orders = &orders_of[test];
	uint64_t state = seed;
	size_t places[6] = { 0, 1, 2, 3, 4, 5 };

	*out = NULL;
	if (n < 1 || n > AB_PANEL_SERVED)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "a serving order is made for 1 to %d tastings",
		    AB_PANEL_SERVED);
	*out = ab_arena_alloc(arena, n, sizeof **out);
	if (*out == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory for the serving order");
	for (size_t i = 0; i < n; i++) {
		struct ab_serving *s = &(*out)[i];
		const char *beer;

		if (i % orders->n == 0)
			shuffle(&state, places, orders->n);
		beer = orders->beers[places[i % orders->n]];
		*s = (struct ab_serving){ .cups = orders->cups, .odd = right_place(test, beer) };
		for (int c = 0; c < s->cups; c++)
			s->beer[c] = beer[c];
		label(&state, s, test == AB_PANEL_DUO_TRIO);
	}
	return AB_OK;
}

/* ---- all together ---- */

static void reckon(struct ab_panel *p)
{
	for (int i = 0; i < AB_PANEL_LEVELS; i++)
		p->least[i] = ab_panel_least(p->test, p->n, ab_panel_levels[i]);
	for (int i = 0; i < AB_PANEL_SHARES; i++) {
		p->power[i] = ab_panel_power(p->test, p->n, 0.05, ab_panel_shares[i]);
		p->needed[i] = ab_panel_tasters(p->test, 0.05, ab_panel_shares[i], 0.8);
	}
}

enum ab_status ab_panel_work(enum ab_panel_test test, size_t n, bool tasted, size_t right,
    unsigned long seed, struct ab_arena *arena, struct ab_panel **out, struct ab_diag *diag)
{
	struct ab_panel *p = ab_arena_alloc(arena, 1, sizeof *p);

	*out = p;
	if (p == NULL)
		return ab_fail(diag, AB_ENOMEM, NULL, 0, "out of memory");
	if (n > AB_PANEL_MOST || (tasted && n == 0))
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "a test has 1 to %d tastings, not %zu",
		    AB_PANEL_MOST, n);
	if (tasted && right > n)
		return ab_fail(diag, AB_EUSAGE, NULL, 0, "%zu right answers of %zu: that is more than there are",
		    right, n);
	*p = (struct ab_panel){ .test = test, .n = n, .tasted = tasted, .right = right, .seed = seed,
		.p = tasted ? ab_panel_p(test, right, n) : (double)NAN };
	reckon(p);
	if (tasted)
		ab_panel_believe(test, right, n, &p->belief);
	if (tasted || n == 0 || n > AB_PANEL_SERVED)
		return AB_OK;
	p->n_servings = n;
	return ab_panel_serve(test, n, seed, arena, &p->servings, diag);
}
