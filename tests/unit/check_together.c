/* check_together.c - batches diagnosed together, against every way the causes can have struck, with rates and shares
 * integrated exactly (moments of beta distributions, 64-bit mantissa), and against GSL's quadrature
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <afterboil/together.h>
#include "base/alloc.h"
#include "brute.h"

enum { CAUSES = 3, BATCHES = 7, PATTERNS = 1 << CAUSES, ROWS = 1 << BATCHES };

static struct ab_arena *arena;

static void set_up(void)
{
	arena = ab_arena_new();
}

static void tear_down(void)
{
	ab_alloc_fail_at(-1);
	ab_arena_free(arena);
}

/* ---- quadrature ---- */

static const struct { double a, b; size_t n; } rules[] = {
	{ 1, 1, 1 }, { 1, 1, 2 }, { 1, 1, 16 }, { 0.5, 0.5, 8 }, { 0.1, 1.9, 16 }, { 1.9, 0.1, 16 },
	{ 2e-3, 1.998, 12 }, { 3.2, 0.8, 8 },
	{ 0.04, 3.96, 8 }, { 20, 30, 16 }, { 2e-6, 2 - 2e-6, 16 }, { 1 - 1e-12, 1 + 1e-12, 7 },
	{ 70, 30, 16 }, { 99.9, 0.1, 16 }, { 2e-6, 100 - 2e-6, 8 },
};

START_TEST(nodes_are_whole)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES], sum = 0;

	ck_assert(ab_beta_rule(rules[_i].a, rules[_i].b, rules[_i].n, at, weight));
	for (size_t i = 0; i < rules[_i].n; i++) {
		ck_assert(at[i] >= 0 && at[i] <= 1 && (i == 0 || at[i] > at[i - 1]) && weight[i] > 0);
		sum += weight[i];
	}
	ck_assert_double_eq_tol(sum, 1, 1e-13);
}
END_TEST

/* Beta(1, 1): Gauss-Legendre, Abramowitz and Stegun table 25.4, moved to 0..1. */
static const struct { size_t n; double at[3], weight[3]; } legendre[] = {
	{ 2, { (1 - 0.577350269189626) / 2 }, { 1.0 / 2 } },
	{ 3, { (1 - 0.774596669241483) / 2, 0.5 }, { 0.555555555555556 / 2, 0.888888888888889 / 2 } },
	{ 5, { (1 - 0.906179845938664) / 2, (1 - 0.538469310105683) / 2, 0.5 },
	  { 0.236926885056189 / 2, 0.478628670499366 / 2, 0.568888888888889 / 2 } },
};

START_TEST(legendre_by_the_table)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES];
	size_t n = legendre[_i].n;

	ck_assert(ab_beta_rule(1, 1, n, at, weight));
	for (size_t i = 0; i < (n + 1) / 2; i++) {
		ck_assert_double_eq_tol(at[i], legendre[_i].at[i], 1e-14);
		ck_assert_double_eq_tol(at[n - 1 - i], 1 - legendre[_i].at[i], 1e-14);
		ck_assert_double_eq_tol(weight[i], legendre[_i].weight[i], 1e-14);
	}
}
END_TEST

/* Beta(1/2, 1/2): Gauss-Chebyshev, Abramowitz and Stegun 25.4.38: nodes by a cosine, weights all alike. */
START_TEST(chebyshev_by_its_formula)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES];
	size_t n = (size_t)_i;

	ck_assert(ab_beta_rule(0.5, 0.5, n, at, weight));
	for (size_t i = 0; i < n; i++) {
		ck_assert_double_eq_tol(at[i], (1 - cos((2 * (double)i + 1) * acos(-1) / (2 * (double)n))) / 2, 1e-14);
		ck_assert_double_eq_tol(weight[i], 1 / (double)n, 1e-13);
	}
}
END_TEST

/* E[x^j] = product of (a + r) / (a + b + r): to the degree 2n - 1, and no further. */
START_TEST(moments)
{
	double at[AB_TOGETHER_RATES], weight[AB_TOGETHER_RATES], want = 1, got = 0, a = rules[_i].a, b = rules[_i].b;
	size_t n = rules[_i].n;

	ck_assert(ab_beta_rule(a, b, n, at, weight));
	for (size_t j = 0; j <= 2 * n; j++) {
		got = 0;
		for (size_t i = 0; i < n; i++)
			got += weight[i] * pow(at[i], (double)j);
		if (j < 2 * n)
			ck_assert_msg(
			    fabs(got - want) < 1e-13, "%g %g: moment %zu is %.17g, not %.17g", a, b, j, got, want);
		want *= j < 2 * n ? (a + (double)j) / (a + b + (double)j) : 1;
	}
	if (n <= 2)
		ck_assert(got < want - 1e-4);
}
END_TEST

/* ---- the exact answer ---- */

struct story {
	size_t n, n_causes, known;            /* batches; those that the priors are made of */
	double alone[BATCHES][CAUSES], held[BATCHES][CAUSES], keeps;
	struct brute_net net[BATCHES];
	double likely[BATCHES][PATTERNS];     /* P(tasting | pattern), up to a factor */
	struct ab_together_batch batch[BATCHES];
};

static long double moment(long double a, long double b, size_t j)
{
	long double m = 1;

	for (size_t r = 0; r < j; r++)
		m *= (a + r) / (a + b + r);
	return m;
}

struct poly { int degree; long double c[BATCHES + 1][BATCHES + 1]; };   /* of the rate, of the share */

/* times u + v (x + y rate)(1 - z share) */
static void multiply(struct poly *p, long double u, long double v, long double x, long double y, long double z)
{
	struct poly q = { .degree = p->degree + 1 };
	long double by[2][2] = { { u + v * x, -v * x * z }, { v * y, -v * y * z } };

	for (int i = 0; i <= p->degree; i++)
		for (int j = 0; j <= p->degree; j++)
			for (int k = 0; k < 4; k++)
				q.c[i + k / 2][j + k % 2] += p->c[i][j] * by[k / 2][k % 2];
	*p = q;
}

struct prior { long double mean, most, batches, strikes; };

/* P(this row of strikes in batches from..to), on one draw of rate and share. */
static long double segment(
    const struct story *s, const struct prior *prior, size_t cause, unsigned struck, size_t from, size_t to)
{
	struct poly p = { 0, { { 1 } } };
	long double sum = 0, share = prior->most > 0 ? prior->most : 0.5L;

	for (size_t b = from; b < to; b++) {
		long double alone = s->alone[b][cause], x = 0, y = alone / prior->mean,
			    z = prior->most > 0 ? s->held[b][cause] / prior->most : 0;
		if (alone > prior->mean) {
			y = (1 - alone) / (1 - prior->mean);
			x = 1 - y;
		}
		bool yes = struck >> b & 1;
		if (alone > 0 && alone < 1)
			multiply(&p, yes ? 0 : 1, yes ? 1 : -1, x, y, z);
		else if (yes != (alone >= 1))
			return 0;
	}
	for (size_t i = 0; i <= (size_t)p.degree; i++)
		for (size_t j = 0; j <= (size_t)p.degree; j++)
			sum += p.c[i][j] * moment(prior->batches * prior->mean, prior->batches * (1 - prior->mean), i) *
			    moment(prior->strikes * share, prior->strikes * (1 - share), j);
	return sum;
}

/* Over every way of being drawn anew between batches. */
static long double row_chance(const struct story *s, size_t cause, unsigned struck)
{
	struct prior prior = { 0, 0, 2, 4 };
	long double sum = 0;
	int possible = 0;

	for (size_t b = 0; b < s->known; b++)
		if (s->alone[b][cause] > 0 && s->alone[b][cause] < 1) {
			prior.mean += s->alone[b][cause];
			prior.most = fmaxl(prior.most, s->held[b][cause]);
			possible++;
		}
	prior.mean /= possible > 0 ? possible : 1;
	for (unsigned anew = 0; anew < 1U << (s->n - 1); anew++) {
		long double way = 1;
		size_t from = 0;
		for (size_t b = 1; b <= s->n; b++) {
			bool cut = b == s->n || (anew >> (b - 1) & 1);
			if (b < s->n)
				way *= cut ? 1 - s->keeps : s->keeps;
			if (cut && way > 0) {
				way *= segment(s, &prior, cause, struck, from, b);
				from = b;
			}
		}
		sum += way;
	}
	return sum;
}

/* present[b][i] of all vectors of causes. */
static void enumerate(const struct story *s, double present[BATCHES][CAUSES])
{
	static long double row[CAUSES][ROWS];
	long double all = 0, hit[BATCHES][CAUSES] = { { 0 } };

	for (size_t i = 0; i < s->n_causes; i++)
		for (unsigned z = 0; z < 1U << s->n; z++)
			row[i][z] = row_chance(s, i, z);
	for (unsigned long z = 0; z < 1UL << (s->n * s->n_causes); z++) {
		long double p = 1;
		for (size_t i = 0; i < s->n_causes; i++) {
			unsigned struck = 0;
			for (size_t b = 0; b < s->n; b++)
				struck |= (unsigned)(z >> (b * s->n_causes + i) & 1) << b;
			p *= row[i][struck];
		}
		for (size_t b = 0; b < s->n; b++)
			p *= s->likely[b][z >> (b * s->n_causes) & ((1U << s->n_causes) - 1)];
		all += p;
		for (size_t b = 0; b < s->n; b++)
			for (size_t i = 0; i < s->n_causes; i++)
				hit[b][i] += z >> (b * s->n_causes + i) & 1 ? p : 0;
	}
	for (size_t b = 0; b < s->n; b++)
		for (size_t i = 0; i < s->n_causes; i++)
			present[b][i] = (double)(hit[b][i] / all);
}

/* One batch more, brewed as batch b was, of which nothing is known. */
static void enumerate_next(const struct story *s, size_t b, double next[CAUSES])
{
	static struct story more;
	double present[BATCHES][CAUSES];

	more = *s;
	memcpy(more.alone[s->n], s->alone[b], sizeof s->alone[b]);
	memcpy(more.held[s->n], s->held[b], sizeof s->held[b]);
	for (size_t z = 0; z < PATTERNS; z++)
		more.likely[s->n][z] = 1;
	more.n++;
	enumerate(&more, present);
	memcpy(next, present[s->n], sizeof present[s->n]);
}

/* The network's own say: on even odds every pattern is as likely as its tasting is with it. */
static void make_likely(struct story *s, size_t b)
{
	double even[CAUSES] = { 0 };
	struct ab_net net = s->net[b].net;
	struct brute_answer answer;

	net.log_odds = even;
	brute_solve(&net, &answer);
	memcpy(s->likely[b], answer.pattern, sizeof s->likely[b]);
}

static void bind(struct story *s)
{
	for (size_t b = 0; b < s->n; b++) {
		for (size_t i = 0; i < s->n_causes; i++)
			s->net[b].log_odds[i] =
			    s->alone[b][i] > 0 ? fmin(log(s->alone[b][i] / (1 - s->alone[b][i])), 500) : -INFINITY;
		make_likely(s, b);
		s->batch[b] =
		    (struct ab_together_batch){ .alone = s->alone[b], .net = &s->net[b].net, .held = s->held[b] };
	}
}

static struct ab_together solve(const struct story *s, int rounds)
{
	struct ab_together_of of = { .batches = s->batch,
		.n_batches = s->n,
		.n_causes = s->n_causes,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = s->keeps,
		.rounds = rounds,
		.settled = 1e-9 };
	struct ab_together out;
	struct ab_diag diag;

	ab_diag_init(&diag);
	enum ab_status st = ab_together_solve(&of, arena, &out, &diag);
	ck_assert_msg(st == AB_OK, "%s", diag.text);
	return out;
}

/* ---- stories ---- */

enum { A, B, C };

/* Two faults: the first comes of A and of B, the second of B and of C; a little of each from nowhere. found: grade,
 * 0 = looked for and absent, -1 = not looked for. */
static void taste(struct story *s, size_t b, int first, int second)
{
	static const struct ab_link_to links[] = { { A, 0, { { 1, 0.7, 0.3, 0.1 } } },
	    { B, 0, { { 1, 0.6, 0.25, 0.05 } } },
		{ B, 1, { { 1, 0.5, 0.2, 0.1 } } }, { C, 1, { { 1, 0.8, 0.4, 0.1 } } } };
	int found[2] = { first, second };
	size_t n = s->n_causes == CAUSES ? 4 : 3;

	memcpy(s->net[b].links, links, n * sizeof *links);
	for (size_t f = 0; f < 2; f++) {
		s->net[b].leak[f] = (struct ab_tail){ { 1, 0.05, 0.02, 0.01 } };
		s->net[b].finding[f] = (struct ab_finding){ found[f] > 0 ? AB_SEEN_FOUND
			    : found[f] == 0                              ? AB_SEEN_ABSENT
									 : AB_SEEN_NOTHING,
			found[f] > 0 ? found[f] : 0, 0.6 };
	}
	brute_bind(&s->net[b], s->n_causes, 2, n);
}

static struct story *begin(size_t n, size_t n_causes, double keeps)
{
	struct story *s = ab_arena_alloc(arena, 1, sizeof *s);

	*s = (struct story){ .n = n, .n_causes = n_causes, .known = n, .keeps = keeps };
	return s;
}

static void random_story(struct story *s, uint64_t seed)
{
	uint64_t state = seed;

	for (size_t b = 0; b < s->n; b++) {
		for (size_t i = 0; i < s->n_causes; i++) {
			bool changed = b >= s->n / 2 && i == seed % s->n_causes;
			s->alone[b][i] = brute_random(&state) < 0.1
			    ? 0
			    : 0.02 + 0.5 * brute_random(&state) * brute_random(&state);
			s->held[b][i] = changed ? 0.3 + 0.6 * brute_random(&state) : 0;
		}
		taste(s, b, (int)(5 * brute_random(&state)) - 1, (int)(5 * brute_random(&state)) - 1);
	}
	bind(s);
}

static const struct { const char *title; size_t n, n_causes; double keeps; } shapes[] = {
	{ "three batches, three causes", 3, 3, 1 }, { "five batches, three causes", 5, 3, 1 },
	{ "six batches, two causes", 6, 2, 1 },
	{ "five, with what is long ago fading", 5, 3, 0.85 }, { "six, fading", 6, 2, 0.85 },
};

/* The bounds are what was measured, rounded up to the next step; in the header, too. */
START_TEST(near_the_exact)
{
	enum { SEEDS = 60 };
	double worst = 0, worst_alone = 0, sum = 0, sum_alone = 0, count = 0;

	for (uint64_t seed = 1; seed <= SEEDS; seed++) {
		double exact[BATCHES][CAUSES];
		struct story *s = begin(shapes[_i].n, shapes[_i].n_causes, shapes[_i].keeps);
		random_story(s, seed * 7919 + (uint64_t)_i);
		enumerate(s, exact);
		struct ab_together t = solve(s, 200);
		ck_assert_msg(t.settled, "%s, seed %d: not settled, moved %g", shapes[_i].title, (int)seed, t.moved);
		for (size_t b = 0; b < s->n; b++) {
			double alone[CAUSES];
			struct ab_diag diag;
			ab_diag_init(&diag);
			ck_assert_int_eq(
			    ab_net_solve(&s->net[b].net, &(struct ab_beliefs){ .present = alone }, &diag), AB_OK);
			for (size_t i = 0; i < s->n_causes; i++) {
				double off = fabs(t.present[b * s->n_causes + i] - exact[b][i]),
				       by_itself = fabs(alone[i] - exact[b][i]);
				worst = fmax(worst, off);
				worst_alone = fmax(worst_alone, by_itself);
				sum += off;
				sum_alone += by_itself;
				count++;
			}
		}
	}
	printf("# %s: off by %.4f at worst, %.5f on average; each batch alone %.4f and %.5f\n", shapes[_i].title,
	    worst, sum / count, worst_alone, sum_alone / count);
	ck_assert_msg(worst < 0.1, "%s: off by %g", shapes[_i].title, worst);
	ck_assert_msg(sum < 0.2 * sum_alone, "%s: on average off by %g", shapes[_i].title, sum / count);
}
END_TEST

/* The bounds as above. */
START_TEST(next_near_the_exact)
{
	enum { SEEDS = 40 };
	double worst = 0, sum = 0, count = 0;

	for (uint64_t seed = 1; seed <= SEEDS; seed++) {
		double exact[CAUSES];
		struct story *s = begin(shapes[_i].n, shapes[_i].n_causes, shapes[_i].keeps);
		size_t b = seed % s->n;
		random_story(s, seed * 7919 + (uint64_t)_i);
		enumerate_next(s, b, exact);
		struct ab_together t = solve(s, 200);
		for (size_t i = 0; i < s->n_causes; i++) {
			double off = fabs(t.next[b * s->n_causes + i] - exact[i]);
			worst = fmax(worst, off);
			sum += off;
			count++;
		}
	}
	printf("# %s: next off by %.4f at worst, %.5f on average\n", shapes[_i].title, worst, sum / count);
	ck_assert_msg(worst < 0.03 && sum / count < 0.002, "%s: next off by %g, on average %g", shapes[_i].title,
	    worst, sum / count);
}
END_TEST

/* One cause alone hangs on nothing else: then all is exact, with held shares and fading too. */
START_TEST(one_cause_is_exact)
{
	double exact[BATCHES][CAUSES], ratio[BATCHES][1];
	struct story *s = begin(BATCHES - 1, 1, _i % 2 == 0 ? 1 : 0.85);
	uint64_t state = (uint64_t)_i + 5;

	for (size_t b = 0; b < s->n; b++) {
		s->alone[b][0] = 0.01 + 0.9 * brute_random(&state);
		s->held[b][0] = b % 2 == 1 ? brute_random(&state) : 0;
		ratio[b][0] = exp(6 * brute_random(&state) - 3);
		s->likely[b][0] = 1;
		s->likely[b][1] = ratio[b][0];
		s->batch[b] = (struct ab_together_batch){ .alone = s->alone[b], .ratio = ratio[b], .held = s->held[b] };
	}
	enumerate(s, exact);
	struct ab_together t = solve(s, 1);
	for (size_t b = 0; b < s->n; b++)
		ck_assert_msg(fabs(t.present[b] - exact[b][0]) < 1e-12, "batch %zu: %.15g, not %.15g", b,
		    t.present[b], exact[b][0]);
	for (size_t b = 0; b < s->n; b++) {
		double next[CAUSES];
		enumerate_next(s, b, next);
		ck_assert_msg(fabs(t.next[b] - next[0]) < 1e-12, "next as batch %zu: %.15g, not %.15g", b,
		    t.next[b], next[0]);
	}
}
END_TEST

/* Of rows of every length, odd and even: the quadrature has nodes enough for the next batch too. */
START_TEST(next_of_every_length)
{
	double ratio[BATCHES][1], next[CAUSES];
	size_t n = (size_t)_i;
	struct story *s = begin(n, 1, 1);

	for (size_t b = 0; b < n; b++) {
		s->alone[b][0] = 0.2;
		s->held[b][0] = 0.5;
		ratio[b][0] = s->likely[b][1] = 8;
		s->likely[b][0] = 1;
		s->batch[b] = (struct ab_together_batch){ .alone = s->alone[b], .ratio = ratio[b], .held = s->held[b] };
	}
	enumerate_next(s, 0, next);
	struct ab_together t = solve(s, 1);
	ck_assert_msg(fabs(t.next[0] - next[0]) < 1e-12, "%.15g, not %.15g", t.next[0], next[0]);
}
END_TEST

/* ---- the next batch: what must be so ---- */

/* One cause in rows of batches that tell of it by themselves. */
struct plain { size_t n; double alone, ratio[BATCHES], held, keeps; };

static double next_of(const struct plain *p)
{
	struct ab_together_batch batches[BATCHES];
	struct ab_together_of of = { .batches = batches,
		.n_batches = p->n,
		.n_causes = 1,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = p->keeps,
		.rounds = 1 };
	struct ab_together t;
	struct ab_diag diag;

	ab_diag_init(&diag);
	for (size_t b = 0; b < p->n; b++)
		batches[b] = (struct ab_together_batch){ .alone = &p->alone, .ratio = &p->ratio[b], .held = &p->held };
	ck_assert_int_eq(ab_together_solve(&of, arena, &t, &diag), AB_OK);
	for (size_t b = 1; b < p->n; b++)
		ck_assert_double_eq_tol(t.next[b], t.next[0], 1e-15);   /* all were brewed alike */
	return t.next[0];
}

/* The textbook's beta-binomial: (prior + hits) / (prior + batches). */
START_TEST(next_by_the_textbook)
{
	for (size_t n = 1; n < BATCHES; n++)
		for (unsigned struck = 0; struck < 1U << n; struck++) {
			struct plain p = { .n = n, .alone = 0.3, .keeps = 1 };
			int hits = 0;
			for (size_t b = 0; b < n; b++) {
				p.ratio[b] = struck >> b & 1 ? INFINITY : 0;
				hits += struck >> b & 1;
			}
			ck_assert_double_eq_tol(next_of(&p), (0.6 + hits) / (2 + (double)n), 1e-12);
		}
}
END_TEST

/* One batch: rate as it leaves it, or drawn anew. Also where it is as good as impossible. */
START_TEST(next_of_one)
{
	static const double alone[] = { 2e-9, 1e-4, 0.3, 0.9, 1 - 2e-9 }, ratio[] = { 0, 0.2, 1, 7, INFINITY };

	for (size_t i = 0; i < 5; i++)
		for (size_t j = 0; j < 5; j++) {
			struct plain p = { .n = 1, .alone = alone[i], .ratio = { ratio[j] }, .keeps = 0.85 };
			double a = alone[i], present = isinf(ratio[j]) ? 1 : a * ratio[j] / (a * ratio[j] + 1 - a);
			ck_assert_double_eq_tol(next_of(&p), 0.85 * (2 * a + present) / 3 + 0.15 * a, 1e-8);
		}
}
END_TEST

/* A batch more in which it was found never makes it less likely in the next; one in which it was not, never more. */
START_TEST(found_again_never_lowers)
{
	uint64_t state = (uint64_t)_i + 1;
	struct plain p = { .alone = 0.02 + 0.9 * brute_random(&state),
		.held = _i % 3 == 0 ? 0.6 * brute_random(&state) : 0,
		.keeps = 1 };

	for (p.n = 1; p.n < BATCHES - 1; p.n++) {
		p.ratio[p.n - 1] = exp(6 * brute_random(&state) - 3);
		double before = next_of(&p);
		struct plain more = p;
		more.n++;
		more.ratio[p.n] = 1;
		ck_assert_double_eq_tol(next_of(&more), before, 1e-12);
		more.ratio[p.n] = 1 + 9 * brute_random(&state);
		ck_assert(next_of(&more) > before);
		more.ratio[p.n] = brute_random(&state);
		ck_assert(next_of(&more) < before);
	}
}
END_TEST

/* With rates that drift too: the more often in a row, the likelier next; and never by more than the textbook says. */
START_TEST(again_and_again)
{
	double last = 0.2;

	for (size_t n = 1; n < BATCHES; n++) {
		struct plain p = { .n = n, .alone = 0.2, .keeps = 0.85 };
		for (size_t b = 0; b < n; b++)
			p.ratio[b] = INFINITY;
		double next = next_of(&p);
		ck_assert_msg(
		    next > last && next < (0.4 + (double)n) / (2 + (double)n), "%zu: %g after %g", n, next, last);
		last = next;
	}
}
END_TEST

/* In which order it was found tells only as far as rates drift: then the newest most. */
START_TEST(next_by_the_newest)
{
	struct plain one = { .n = 4, .alone = 0.3, .ratio = { 9, 0.2, 1, 0.2 }, .keeps = 1 },
	    two = { .n = 4, .alone = 0.3, .ratio = { 0.2, 0.2, 1, 9 }, .keeps = 1 };

	ck_assert_double_eq_tol(next_of(&one), next_of(&two), 1e-12);
	one.keeps = two.keeps = 0.85;
	ck_assert(next_of(&two) > next_of(&one) + 0.01);
	one.keeps = two.keeps = 0;
	ck_assert_double_eq_tol(next_of(&one), 0.3, 1e-12);
}
END_TEST

/* A change that holds: what comes with it next is less than was expected of it, and without it no less than before. */
START_TEST(next_knows_what_held)
{
	struct story *s = begin(6, 1, 1);
	double ratio[BATCHES], expected;

	for (size_t b = 0; b < 6; b++) {
		s->alone[b][0] = 0.5;
		s->held[b][0] = b >= 3 ? 0.5 : 0;
		ratio[b] = b >= 3 ? 0.02 : 50;
		s->batch[b] =
		    (struct ab_together_batch){ .alone = s->alone[b], .ratio = &ratio[b], .held = s->held[b] };
	}
	struct ab_together t = solve(s, 1);
	expected = t.next[0] * 0.5;
	ck_assert(t.next[0] > 0.6 && t.next[5] < expected - 0.1);
	for (size_t b = 3; b < 6; b++)
		ratio[b] = 50;
	t = solve(s, 1);
	ck_assert(t.next[5] > t.next[0] * 0.5 + 0.1);
}
END_TEST

/* Each by its own facts: impossible or sure in such a batch is so in the next like it; nothing tasted leaves what
 * facts say. */
START_TEST(next_by_its_facts)
{
	struct story *s = begin(4, 1, 0.85);
	double ratio[4] = { 20, 20, 20, 20 };
	static const double alone[] = { 0.1, 0, 0.6, 1 };

	for (size_t b = 0; b < 4; b++) {
		s->alone[b][0] = alone[b];
		s->held[b][0] = b == 2 ? 0.25 : 0;
		s->batch[b] =
		    (struct ab_together_batch){ .alone = s->alone[b], .ratio = &ratio[b], .held = s->held[b] };
	}
	struct ab_together t = solve(s, 1);
	ck_assert(t.next[0] > 0.1 && t.next[2] > 0.6 * 0.75 && t.next[2] > t.next[0]);
	ck_assert_double_eq(t.next[1], 0);
	ck_assert_double_eq(t.next[3], 1);
	for (size_t b = 0; b < 4; b++)
		ratio[b] = 1;
	t = solve(s, 1);
	for (size_t b = 0; b < 4; b++)
		ck_assert_double_eq_tol(t.next[b], alone[b] * (b == 2 ? 0.75 : 1), 1e-15);
}
END_TEST

/* One batch found otherwise: the same as had it told so at once, where causes do not hang together. */
START_TEST(next_again)
{
	struct story *s = begin(5, 2, 0.85);
	double ratio[5][2], present[2], next[5 * 2];
	uint64_t state = (uint64_t)_i + 77;
	size_t b = (size_t)_i % 5;
	struct ab_diag diag;

	ab_diag_init(&diag);
	for (size_t i = 0; i < 5; i++) {
		for (size_t c = 0; c < 2; c++) {
			s->alone[i][c] = i == 1 && c == 1 ? 0 : 0.05 + 0.9 * brute_random(&state);
			ratio[i][c] = exp(6 * brute_random(&state) - 3);
			s->held[i][c] = i > 2 ? 0.5 : 0;
		}
		s->batch[i] = (struct ab_together_batch){ .alone = s->alone[i], .ratio = ratio[i], .held = s->held[i] };
	}
	struct ab_together_of of = { .batches = s->batch,
		.n_batches = 5,
		.n_causes = 2,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = 0.85,
		.rounds = 1 };
	struct ab_together first = solve(s, 1);
	for (size_t c = 0; c < 2; c++)
		ratio[b][c] = exp(6 * brute_random(&state) - 3);
	struct ab_together other = solve(s, 1);
	memcpy(present, other.present + b * 2, sizeof present);
	ck_assert_int_eq(ab_together_next(&of, &first, b, present, next, &diag), AB_OK);
	for (size_t i = 0; i < 10; i++)
		ck_assert_msg(fabs(next[i] - other.next[i]) < 1e-12, "batch %zu: %.15g, not %.15g", i / 2, next[i],
		    other.next[i]);
	enum ab_status st = AB_ENOMEM;
	for (long k = 0; st != AB_OK; k++) {
		ab_alloc_fail_at(k);
		st = ab_together_next(&of, &first, b, present, next, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ck_assert(k > 0 || st == AB_ENOMEM);
	}
}
END_TEST

/* ---- what must be so ---- */

/* A first fault in each batch; A is likelier than B by the rules. From the third on a change is in force against A. */
static struct story *stays(double held, size_t n, double keeps)
{
	struct story *s = begin(n, 2, keeps);

	for (size_t b = 0; b < n; b++) {
		s->alone[b][A] = 0.3;
		s->alone[b][B] = 0.15;
		s->held[b][A] = b >= 2 ? held : 0;
		taste(s, b, 2, -1);
	}
	bind(s);
	return s;
}

START_TEST(a_fault_that_stays_acquits)
{
	double keeps = _i == 0 ? 1 : 0.85;
	struct ab_together without = solve(stays(0, 6, keeps), 100), with = solve(stays(0.8, 6, keeps), 100);

	for (size_t b = 0; b < 6; b++) {   /* also in the batches before the change */
		ck_assert_msg(with.blame[b * 2 + A] < without.blame[b * 2 + A] - 0.01, "batch %zu: A %g, was %g", b,
		    with.blame[b * 2 + A], without.blame[b * 2 + A]);
		ck_assert_msg(with.blame[b * 2 + B] > without.blame[b * 2 + B] + 0.01, "batch %zu: B %g, was %g", b,
		    with.blame[b * 2 + B], without.blame[b * 2 + B]);
	}
	ck_assert(without.blame[10 + A] > without.blame[10 + B]);
	ck_assert(with.blame[10 + A] < with.blame[10 + B]);
}
END_TEST

START_TEST(one_batch_is_alone)
{
	struct story *s = stays(0, 1, 0.85);
	double present[CAUSES], blame[CAUSES];
	struct ab_diag diag;
	struct ab_together t = solve(s, 12);

	ab_diag_init(&diag);
	ck_assert_int_eq(
	    ab_net_solve(&s->net[0].net, &(struct ab_beliefs){ .present = present, .blame = blame }, &diag), AB_OK);
	ck_assert_mem_eq(t.present, present, 2 * sizeof *present);
	ck_assert_mem_eq(t.blame, blame, 2 * sizeof *blame);
	ck_assert(t.settled);
}
END_TEST

/* Nothing tasted: each keeps what its facts say, less what is held off. */
START_TEST(untasted_stands)
{
	struct story *s = begin(4, 3, 0.85);

	random_story(s, 11);
	for (size_t b = 0; b < s->n; b++)
		s->batch[b].net = NULL;
	struct ab_together t = solve(s, 12);
	for (size_t b = 0; b < s->n; b++)
		for (size_t i = 0; i < 3; i++)
			ck_assert_double_eq_tol(t.present[b * 3 + i], s->alone[b][i] * (1 - s->held[b][i]), 1e-15);
}
END_TEST

START_TEST(order_does_not_matter)
{
	static const size_t order[] = { 3, 0, 4, 1, 2 };
	struct story *s = begin(5, 3, 1), *other = begin(5, 3, 1);

	random_story(s, 23);
	random_story(other, 23);
	for (size_t b = 0; b < 5; b++)
		other->batch[b] = s->batch[order[b]];
	struct ab_together one = solve(s, 200), two = solve(other, 200);
	for (size_t b = 0; b < 5; b++)
		for (size_t i = 0; i < 3; i++)
			ck_assert_double_eq_tol(two.present[b * 3 + i], one.present[order[b] * 3 + i], 1e-8);
}
END_TEST

/* With nothing kept from batch to batch each stands alone. */
START_TEST(nothing_kept)
{
	struct story *s = stays(0, 4, 0);
	struct ab_together t = solve(s, 50), alone = solve(stays(0, 1, 0), 50);

	for (size_t b = 0; b < 4; b++)
		for (size_t i = 0; i < 2; i++)
			ck_assert_double_eq_tol(t.present[b * 2 + i], alone.present[i], 1e-12);
}
END_TEST

START_TEST(impossible_stays_so)
{
	struct story *s = stays(0, 5, 0.85);

	for (size_t b = 0; b < 5; b++)
		s->alone[b][A] = b == 3 ? 0.3 : 0;
	bind(s);
	struct ab_together t = solve(s, 50);
	for (size_t b = 0; b < 5; b++)
		if (b != 3)
			ck_assert(!(t.present[b * 2 + A] > 0) && !(t.blame[b * 2 + A] > 0));
	ck_assert(t.present[3 * 2 + A] > 0);
}
END_TEST

/* Of a long row the sums are near what more nodes would give: a cause that struck in each of 60 sure batches. */
START_TEST(long_rows)
{
	enum { N = 60 };
	static double alone[N], ratio[N];
	struct ab_together_batch batches[N];
	struct ab_together_of of = { .batches = batches,
		.n_batches = N,
		.n_causes = 1,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = 1,
		.rounds = 1 };
	struct ab_together t;
	struct ab_diag diag;
	double hits = 0;

	ab_diag_init(&diag);
	for (size_t b = 0; b < N; b++) {
		alone[b] = 0.1;
		ratio[b] = b % 3 == 0 ? INFINITY : 0;
		hits += b % 3 == 0;
		batches[b] = (struct ab_together_batch){ .alone = &alone[b], .ratio = &ratio[b] };
	}
	ck_assert_int_eq(ab_together_solve(&of, arena, &t, &diag), AB_OK);
	for (size_t b = 0; b < N; b++) {   /* textbook: (a + hits) / (a + b + n), of the others */
		double want = (0.2 + hits - (b % 3 == 0)) / (2 + N - 1);
		ck_assert_msg(fabs(t.before[b] - want) < 0.01, "batch %zu: %g, not %g", b, t.before[b], want);
	}
}
END_TEST

/* ---- refusals ---- */

static const struct { const char *title; double rate, share, keeps, alone, ratio, held, settled; int rounds; } bad[] = {
	{ "no batches behind the prior", 0, 4, 1, 0.5, 1, 0, 0, 1 },
	{ "none behind the shares", 2, 0, 1, 0.5, 1, 0, 0, 1 },
	{ "more batches than the quadrature bears", 101, 4, 1, 0.5, 1, 0, 0, 1 },
	{ "more strikes", 2, INFINITY, 1, 0.5, 1, 0, 0, 1 },
	{ "keeps more than all", 2, 4, 1.1, 0.5, 1, 0, 0, 1 }, { "keeps nothing known", 2, 4, NAN, 0.5, 1, 0, 0, 1 },
	{ "alone beyond 1", 2, 4, 1, 1.5, 1, 0, 0, 1 }, { "alone unknown", 2, 4, 1, NAN, 1, 0, 0, 1 },
	{ "ratio below 0", 2, 4, 1, 0.5, -1, 0, 0, 1 },
	{ "held beyond 1", 2, 4, 1, 0.5, 1, 1.1, 0, 1 }, { "no round", 2, 4, 1, 0.5, 1, 0, 0, 0 },
	{ "settled below 0", 2, 4, 1, 0.5, 1, 0, -1, 1 },
};

START_TEST(refused)
{
	struct ab_together_batch batch = { .alone = &bad[_i].alone, .ratio = &bad[_i].ratio, .held = &bad[_i].held };
	struct ab_together_of of = { .batches = &batch,
		.n_batches = 1,
		.n_causes = 1,
		.rate_batches = bad[_i].rate,
		.share_batches = bad[_i].share,
		.keeps = bad[_i].keeps,
		.rounds = bad[_i].rounds,
		.settled = bad[_i].settled };
	struct ab_together t;
	struct ab_diag diag;

	ab_diag_init(&diag);
	ck_assert_msg(ab_together_solve(&of, arena, &t, &diag) == AB_EUSAGE, "%s", bad[_i].title);
	ck_assert_ptr_nonnull(strstr(diag.text, "outside its range"));
}
END_TEST

START_TEST(not_settled_is_said)
{
	struct ab_together t = solve(stays(0.8, 6, 1), 1);

	ck_assert(!t.settled && t.rounds == 1 && t.moved > 1e-9);
}
END_TEST

START_TEST(memory_runs_out)
{
	struct story *s = stays(0.8, 4, 0.85);
	struct ab_together_of of = { .batches = s->batch,
		.n_batches = s->n,
		.n_causes = s->n_causes,
		.rate_batches = 2,
		.share_batches = 4,
		.keeps = 0.85,
		.rounds = 5 };
	enum ab_status st = AB_ENOMEM;

	for (long k = 0; st != AB_OK; k++) {
		struct ab_arena *own = ab_arena_new();
		struct ab_together t;
		struct ab_diag diag;
		ab_diag_init(&diag);
		ab_alloc_fail_at(k);
		st = ab_together_solve(&of, own, &t, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ck_assert_int_eq(k == 0 && st == AB_OK, 0);
		ab_arena_free(own);
	}
}
END_TEST

int main(void)
{
	Suite *s = suite_create("together");
	TCase *tc = tcase_create("together");
	tcase_set_timeout(tc, 120);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_add_loop_test(tc, nodes_are_whole, 0, sizeof rules / sizeof *rules);
	tcase_add_loop_test(tc, legendre_by_the_table, 0, sizeof legendre / sizeof *legendre);
	tcase_add_loop_test(tc, chebyshev_by_its_formula, 1, AB_TOGETHER_RATES + 1);
	tcase_add_loop_test(tc, moments, 0, sizeof rules / sizeof *rules);
	tcase_add_loop_test(tc, near_the_exact, 0, sizeof shapes / sizeof *shapes);
	tcase_add_loop_test(tc, next_near_the_exact, 0, sizeof shapes / sizeof *shapes);
	tcase_add_loop_test(tc, one_cause_is_exact, 0, 8);
	tcase_add_loop_test(tc, next_of_every_length, 1, BATCHES);
	tcase_add_test(tc, next_by_the_textbook);
	tcase_add_test(tc, next_of_one);
	tcase_add_loop_test(tc, found_again_never_lowers, 0, 30);
	tcase_add_test(tc, again_and_again);
	tcase_add_test(tc, next_by_the_newest);
	tcase_add_test(tc, next_knows_what_held);
	tcase_add_test(tc, next_by_its_facts);
	tcase_add_loop_test(tc, next_again, 0, 5);
	tcase_add_loop_test(tc, a_fault_that_stays_acquits, 0, 2);
	tcase_add_test(tc, one_batch_is_alone);
	tcase_add_test(tc, untasted_stands);
	tcase_add_test(tc, order_does_not_matter);
	tcase_add_test(tc, nothing_kept);
	tcase_add_test(tc, impossible_stays_so);
	tcase_add_test(tc, long_rows);
	tcase_add_loop_test(tc, refused, 0, sizeof bad / sizeof *bad);
	tcase_add_test(tc, not_settled_is_said);
	tcase_add_test(tc, memory_runs_out);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
