/* check_limits.c - a brewer's limits together: the plan is the best that counting every set finds, and each limit
 * costs what it says
 *
 * Changes, prices and limits are drawn at random; only rated shares, so that what a set takes away is told by the
 * rules in one line: load x (1 - product of what each leaves). Counted here is nothing the planner reckoned but the
 * loads.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <gsl/gsl_rng.h>

#include "advicecase.h"

enum { N = 9, CASES = 60 };

static struct brewery b;
static gsl_rng *rng;

static void tear_down(void)
{
	brewery_close(&b);
	gsl_rng_free(rng);
}

struct drawn {
	double cost, running, minutes, attend, share[3];
	int space, noisy, smoky, group, needs;
};
static struct drawn drawn[N];

static double pick(double least, int steps, double step)
{
	return least + step * (double)gsl_rng_uniform_int(rng, (unsigned long)steps);
}

/* Half of the changes have each trait that a limit may speak against. */
static void draw(void)
{
	for (int u = 0; u < N; u++) {
		struct drawn *d = &drawn[u];

		*d = (struct drawn){ .cost = pick(0, 10, 7), .running = pick(0, 4, 1.5), .minutes = pick(-10, 8, 5),
			.attend = gsl_rng_uniform(rng) < 0.5 ? pick(6, 4, 6) : INFINITY,
			.space = (int)gsl_rng_uniform_int(rng, 4), .noisy = gsl_rng_uniform(rng) < 0.5,
			.smoky = gsl_rng_uniform(rng) < 0.3,
			.group = gsl_rng_uniform(rng) < 0.3, .needs = u > 0 && gsl_rng_uniform(rng) < 0.25
			? (int)gsl_rng_uniform_int(rng, (unsigned long)u) : -1 };
		for (int i = 0; i < 3; i++)
			d->share[i] = gsl_rng_uniform(rng) < 0.5 ? pick(0.1, 9, 0.1) : 0;
		if (d->group)   /* or it might need what excludes it, which the rules refuse */
			d->needs = -1;
	}
}

static void write_change(char *at, size_t size, int u)
{
	static const char *const spaces[] = { "none", "drawer", "cupboard", "floor" },
				 *const causes[] = { "warm", "stale", "husky" };
	const struct drawn *d = &drawn[u];
	size_t n = (size_t)snprintf(at, size,
	    "<change id='c%d' kind='upgrade' side='cold' stage='ferment' cost='%g' running='%g' minutes='%g' "
	    "space='%s'",
	    u, d->cost, d->running, d->minutes, spaces[d->space]);

	if (isfinite(d->attend))
		n += (size_t)snprintf(at + n, size - n, " attend='%g h'", d->attend);
	n += (size_t)snprintf(at + n, size - n, "%s%s%s source='estimate'><title>c%d</title><how>so</how>",
	    d->noisy ? " noisy='yes'" : "", d->smoky ? " smoky='yes'" : "", d->group ? " group='g'" : "", u);
	for (int i = 0; i < 3; i++)
		if (d->share[i] > 0)
			n += (size_t)snprintf(at + n, size - n,
			    "<prevents cause='%s' share='%g' source='estimate'/>", causes[i], d->share[i]);
	if (d->needs >= 0)
		n += (size_t)snprintf(at + n, size - n, "<needs change='c%d'/>", d->needs);
	snprintf(at + n, size - n, "</change>\n");
}

/* 0 = not told. space: place in the words, from 1. */
struct limits { double money, running, minutes, away, years; int space, noise, smoke, brews; };

static struct limits draw_limits(void)
{
	return (struct limits){ .money = pick(10, 6, 20), .running = pick(10, 5, 20), .minutes = pick(5, 4, 10),
		.away = gsl_rng_uniform(rng) < 0.7 ? pick(5, 6, 5) : 0, .years = pick(1, 2, 1),
		.space = (int)gsl_rng_uniform_int(rng, 5),
		.noise = gsl_rng_uniform(rng) < 0.5, .smoke = gsl_rng_uniform(rng) < 0.5,
		.brews = (int)gsl_rng_uniform_int(rng, 3) };
}

/* ---- by counting ---- */

static bool may(const struct limits *l, int u)
{
	const struct drawn *d = &drawn[u];

	return !(d->attend < l->away) && !(l->space > 0 && d->space > l->space - 1) && !(l->noise && d->noisy) &&
	    !(l->smoke && d->smoky);
}

/* 10 batches a year, as nobody said. */
static bool feasible(const struct limits *l, unsigned set)
{
	double money = 0, running = 0, minutes = 0;
	int group = 0, n = 0;

	for (int u = 0; u < N; u++) {
		if (!(set >> u & 1))
			continue;
		if (!may(l, u) || (drawn[u].needs >= 0 && !(set >> drawn[u].needs & 1)))
			return false;
		money += drawn[u].cost;
		running += 10 * l->years * drawn[u].running;
		minutes += drawn[u].minutes;
		group += drawn[u].group;
		n++;
	}
	return group <= 1 && (l->brews == 0 || n <= l->brews) && money <= l->money + 1e-9 &&
	    running <= l->running + 1e-9 && minutes <= l->minutes + 1e-9;
}

static double removed(const double *load, unsigned set)
{
	double sum = 0;

	for (int i = 0; i < 3; i++) {
		double left = 1;

		for (int u = 0; u < N; u++)
			left *= set >> u & 1 ? 1 - drawn[u].share[i] : 1;
		sum += load[i] * (1 - left);
	}
	return sum;
}

static double best(const double *load, const struct limits *l)
{
	double most = 0;

	for (unsigned set = 0; set < 1U << N; set++)
		if (feasible(l, set))
			most = fmax(most, removed(load, set));
	return most;
}

static struct limits lifted(const struct limits *l, enum ab_limit which)
{
	struct limits other = *l;

	switch (which) {
	case AB_LIMIT_MONEY: other.money = INFINITY; break;
	case AB_LIMIT_RUNNING: other.running = INFINITY; break;
	case AB_LIMIT_MINUTES: other.minutes = INFINITY; break;
	case AB_LIMIT_BREWS: other.brews = 0; break;
	case AB_LIMIT_AWAY: other.away = 0; break;
	case AB_LIMIT_ROOM: other.space = 0; break;
	case AB_LIMIT_NOISE: other.noise = 0; break;
	default: other.smoke = 0;
	}
	return other;
}

static unsigned plan_of(const struct ab_advice *a, bool best_one)
{
	unsigned set = 0;

	for (size_t i = 0; i < a->n_items; i++)
		if (best_one ? a->items[i].in_best : a->items[i].chosen)
			set |= 1U << a->items[i].change;
	return set;
}

static void set_limits(const struct limits *l)
{
	b.options.budget = l->money;
	b.options.running = l->running;
	b.options.minutes = l->minutes;
	b.options.horizon_years = l->years;
	b.options.brews = (size_t)l->brews;
	b.options.away_hours = l->away;
	b.profile->space = l->space;
	b.profile->noise_matters = l->noise ? AB_YES : AB_NO;
	b.profile->smoke_matters = l->smoke ? AB_YES : AB_NO;
}

static const struct ab_advice *advise(const struct limits *l, double *load)
{
	static const struct ab_policy none = { 0 };
	char xml[8192] = "";

	for (int u = 0; u < N; u++)
		write_change(xml + strlen(xml), sizeof xml - strlen(xml), u);
	brewery_open(&b, xml);
	brewery_batch(&b);   /* knows no facts: nothing is replayed */
	brewery_ready(&b);
	b.options.policy = &none;
	set_limits(l);
	const struct ab_advice *a = brewery_advise(&b);
	for (size_t i = 0; i < a->n_recurrences; i++)
		if (a->recurrences[i].cause < 3)
			load[a->recurrences[i].cause] = a->recurrences[i].load;
	return a;
}

START_TEST(all_limits_together)
{
	double load[3];

	rng = gsl_rng_alloc(gsl_rng_taus2);
	gsl_rng_set(rng, (unsigned long)_i + 1);
	draw();
	struct limits l = draw_limits();
	const struct ab_advice *a = advise(&l, load);
	double most = best(load, &l);
	ck_assert_double_eq_tol(a->best, most, 1e-9);
	ck_assert_msg(feasible(&l, plan_of(a, true)) && feasible(&l, plan_of(a, false)), "both plans keep all limits");
	ck_assert_double_eq_tol(removed(load, plan_of(a, true)), most, 1e-9);
	ck_assert_double_eq(a->gap, 0);
	for (int which = 0; which < AB_LIMITS; which++) {
		struct limits other = lifted(&l, which);
		double more = best(load, &other) - most;
		ck_assert_msg(fabs(a->left_out[which].more - more) < 1e-9, "%s: costs %g, counted %g",
		    ab_limit_words[which], a->left_out[which].more, more);
		ck_assert_msg((a->left_out[which].change >= 0) == (more > 1e-9), "%s: %d", ab_limit_words[which],
		    a->left_out[which].change);
		if (more > 1e-9)
			ck_assert_msg(!(plan_of(a, true) >> a->left_out[which].change & 1),
			    "%s keeps out what is in", ab_limit_words[which]);
	}
}
END_TEST

/* The rows above would prove nothing if some limit never bound. */
START_TEST(every_limit_binds_somewhere)
{
	int bound[AB_LIMITS] = { 0 };

	rng = gsl_rng_alloc(gsl_rng_taus2);
	for (unsigned long i = 0; i < CASES; i++) {
		double load[3];

		gsl_rng_set(rng, i + 1);
		draw();
		struct limits l = draw_limits();
		const struct ab_advice *a = advise(&l, load);
		for (int which = 0; which < AB_LIMITS; which++)
			bound[which] += a->left_out[which].more > 1e-9;
		brewery_close(&b);
	}
	brewery_open(&b, "");
	for (int which = 0; which < AB_LIMITS; which++)
		ck_assert_msg(bound[which] >= 3, "%s binds in %d of %d", ab_limit_words[which], bound[which], CASES);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("limits");
	TCase *tc = tcase_create("limits");
	tcase_add_checked_fixture(tc, NULL, tear_down);
	tcase_add_loop_test(tc, all_limits_together, 0, CASES);
	tcase_add_test(tc, every_limit_binds_somewhere);
	tcase_set_timeout(tc, 60);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
