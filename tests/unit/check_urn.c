/* check_urn.c - what is learned of a change's share and of a verdict: hand computations, and every way things can have
 * been counted one by one (tests/handbook/urn.t has R do the integrals)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <afterboil/held.h>
#include <afterboil/revise.h>

static double drawn(double lo, double hi)
{
	return lo + (hi - lo) * rand() / (double)RAND_MAX;
}

/* ---- the ratio of a batch ---- */

static const struct { double before, after, ratio; } ratios[] = {
	{ 0.3, 0.3, 1 }, { 0.5, 0.75, 3 }, { 0.2, 0.5, 4 }, { 0.2, 0, 0 }, { 0.2, 1, INFINITY }, { 0.75, 0.5, 1 / 3.0 },
	{ 0, 0, 1 }, { 1, 1, 1 }, { 0, 0.5, 1 }, { NAN, 0.5, 1 }, { 0.5, NAN, 1 },
};

START_TEST(ratio)
{
	double got = ab_exposed_ratio(ratios[_i].before, ratios[_i].after), want = ratios[_i].ratio;

	ck_assert_msg(isinf(want) ? isinf(got) : fabs(got - want) < 1e-12, "%g to %g: %g", ratios[_i].before,
	    ratios[_i].after, got);
}
END_TEST

/* What tells of today half the time draws the chance half the way back; an old batch tells nothing; a sure one
 * stays finite. */
static const struct { double before, after, tells, left, ratio; } fades[] = {
	{ 0.3, 0.7, 1, 1, (0.7 / 0.3) * (0.7 / 0.3) }, { 0.3, 0.7, 0.5, 1, 1 / (0.3 / 0.7) }, { 0.3, 0.7, 0, 1, 1 },
	{ 0.2, 1, 0.5, 1, 6 },
	{ 0.2, 0, 0.5, 1, 4 / 9.0 }, { 0, 0, 0.5, 1, 1 }, { 0.5, 0.75, 1, 0.5, 2 }, { 0.5, 0.75, 1, 0, 1 },
	{ 0.2, 0, 1, 0.25, 0.75 },
	{ 0.2, 1, 1, 0.5, INFINITY }, { 0.2, 1, 1, 0, 1 },
};

START_TEST(fading)
{
	double got = ab_exposed_beside(
		   ab_exposed_faded(fades[_i].before, fades[_i].after, fades[_i].tells), fades[_i].left),
	       want = fades[_i].ratio;

	ck_assert_msg(isinf(want) ? isinf(got) : fabs(got - want) < 1e-12, "row %d: %g, not %g", _i, got, want);
}
END_TEST

/* ---- a change's share ---- */

#define SURE INFINITY
/* Where every batch is sure and the cause always struck before, the rate is nearly 1, and the share goes as the
 * textbook's beta-binomial: (4 s + held) / (4 + batches with). To 0.06: the rate's prior leaves a little doubt. */
static const struct { const char *title; double share, rate; size_t n; struct ab_exposed seen[10]; double want,
    tolerance; } shares[] = {
	{ "no batch at all", 0.6, 0.3, 0, { { 0, 0 } }, 0.6, 0 },
	{ "none with the change", 0.6, 0.3, 3, { { SURE, 0 }, { 0, 0 }, { 4, 0 } }, 0.6, 0 },
	{ "held off every time", 0.5, 0.98, 8,
	    { { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { 0, 1 }, { 0, 1 }, { 0, 1 }, { 0, 1 } }, 6 / 8.0,
	0.06 },
	{ "held off never", 0.5, 0.98, 8,
	    { { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { SURE, 1 }, { SURE, 1 }, { SURE, 1 },
	    { SURE, 1 } }, 2 / 8.0, 1e-6 },
	{ "three of four", 0.5, 0.98, 8,
	    { { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { SURE, 0 }, { 0, 1 }, { 0, 1 }, { 0, 1 }, { SURE, 1 } },
	5 / 8.0, 0.05 },
	{ "it never struck: nothing to hold off", 0.5, 0.02, 6,
	    { { 0, 0 }, { 0, 0 }, { 0, 0 }, { 0, 0 }, { 0, 1 }, { 0, 1 } }, 0.5, 0.01 },
	{ "a doubtful batch tells little", 0.5, 0.3, 2, { { SURE, 0 }, { 1, 1 } }, 0.5, 1e-6 },
};

START_TEST(share)
{
	struct ab_share_learned l = ab_held_share(shares[_i].share, shares[_i].rate, shares[_i].seen, shares[_i].n);

	ck_assert_msg(fabs(l.share - shares[_i].want) <= shares[_i].tolerance, "%s: %.9g", shares[_i].title, l.share);
	ck_assert_double_eq(l.prior, shares[_i].share);
	ck_assert(l.held >= 0 && l.held <= l.would + 1e-12);
}
END_TEST

/* Every way, one by one: state 0 would not have struck, 1 struck, 2 held off. */
struct way { double weight, struck, strikes, held, open; };
static void count_ways(double s, double p, const struct ab_exposed *b, size_t n, size_t at, struct way w,
    double *all, double *mean, double *would, double *held, double *struck)
{
	if (at == n) {
		*struck += w.weight * w.struck;
		*all += w.weight;
		*mean += w.weight * (4 * s + w.held) / (4 + w.open);
		*would += w.weight * w.open;
		*held += w.weight * w.held;
		return;
	}
	double rate = (2 * p + w.strikes) / (2 + (double)at), off = (4 * s + w.held) / (4 + w.open);
	struct way no = w, hit = w, away = w;

	no.weight *= 1 - rate;
	count_ways(s, p, b, n, at + 1, no, all, mean, would, held, struck);
	hit.strikes = away.strikes = w.strikes + 1;
	hit.weight *= rate * (b[at].with ? 1 - off : 1) * b[at].ratio;
	hit.struck = w.struck + !b[at].with;
	hit.open = away.open = w.open + b[at].with;
	count_ways(s, p, b, n, at + 1, hit, all, mean, would, held, struck);
	if (!b[at].with)
		return;
	away.weight *= rate * off;
	away.held++;
	count_ways(s, p, b, n, at + 1, away, all, mean, would, held, struck);
}

START_TEST(share_by_every_way)
{
	srand((unsigned)_i + 1);
	struct ab_exposed b[8];
	double s = drawn(0.02, 0.98), p = drawn(0.02, 0.98), all = 0, mean = 0, would = 0, held = 0, struck = 0;
	size_t n = 1 + (size_t)_i % 8;

	for (size_t i = 0; i < n; i++)
		b[i] = (struct ab_exposed){ exp(drawn(-4, 4)), rand() % 2 == 0 };
	count_ways(s, p, b, n, 0, (struct way){ 1, 0, 0, 0, 0 }, &all, &mean, &would, &held, &struck);
	struct ab_share_learned l = ab_held_share(s, p, b, n);
	ck_assert_double_eq_tol(l.share, mean / all, 1e-12);
	ck_assert_double_eq_tol(l.would, would / all, 1e-11);
	ck_assert_double_eq_tol(l.held, held / all, 1e-11);
	ck_assert_double_eq_tol(l.struck, struck / all, 1e-11);
}
END_TEST

/* A batch with the change in which the cause is likelier never speaks for the change; order and company do not
 * matter. */
START_TEST(share_properties)
{
	srand((unsigned)_i + 1);
	struct ab_exposed b[8], c[8];
	double s = drawn(0.05, 0.95), p = drawn(0.05, 0.95);
	size_t at = (size_t)rand() % 8;

	for (size_t i = 0; i < 8; i++)
		c[7 - i] = b[i] = (struct ab_exposed){ exp(drawn(-4, 4)), i >= 4 };
	struct ab_share_learned l = ab_held_share(s, p, b, 8), r = ab_held_share(s, p, c, 8);
	ck_assert_double_eq_tol(l.share, r.share, 1e-12);
	ck_assert(l.share > 0 && l.share < 1 && l.sd > 0 && l.sd < 0.5);
	b[at].ratio *= 3;
	if (b[at].with)
		ck_assert(ab_held_share(s, p, b, 8).share < l.share);
}
END_TEST

/* Long rows of the surest batches stay numbers; of more than 60 the newest count. */
START_TEST(share_of_long_rows)
{
	static struct ab_exposed b[200];

	for (size_t i = 0; i < 200; i++)
		b[i] = (struct ab_exposed){ i < 170 ? INFINITY : 0, i >= 170 };
	struct ab_share_learned l = ab_held_share(0.5, 0.3, b, 200), m = ab_held_share(0.5, 0.3, b + 140, 60);
	ck_assert(l.share > 0.85 && l.share < 1 && l.would > 25 && l.would <= 30);
	ck_assert_double_eq(l.share, m.share);
	l = ab_held_share(0, 1, b, 200);   /* moved inside */
	ck_assert(isfinite(l.share) && l.share >= 0 && l.share <= 1);
}
END_TEST

/* ---- a verdict looked at again ---- */

static double tell(const struct ab_later *b, bool there)
{
	double p = there ? 1 - (1 - b->strength) * (1 - b->leak) : b->leak;

	return b->found ? 0.4 * p : 1 - 0.4 * p;
}

/* By hand, one batch and a rate of 0.5: after the verdict's batch a culprit is there 2 times in 3, else it is 1
 * in 2. A sure sign is then 4 in 3 times likelier, and so on. */
#define LAST(found, sign, strength, taken, leak) { found, sign, strength, taken, leak }
static const struct { const char *title; struct ab_later b; double chance; } one[] = {
	{ "found, nothing known", LAST(true, 1, 0.8, 0, 0), 2 / 3.0 * 0.8 * 0.4 },
	{ "not found, nothing known", LAST(false, 1, 0.8, 0, 0), 1 - 2 / 3.0 * 0.8 * 0.4 },
	{ "found though impossible: the leak", LAST(true, 0, 0.8, 0, 0.05), 0.4 * 0.05 * 2 / 3.0 },
	{ "found, surely there", LAST(true, INFINITY, 0.8, 0, 0), 0.8 * 0.4 * 4 / 3.0 },
	{ "not found, surely there", LAST(false, INFINITY, 0.8, 0, 0), (1 - 0.8 * 0.4) * 4 / 3.0 },
	{ "a sign of 3 against 1", LAST(true, 3, 0.8, 0, 0), 6 / 3.0 * 0.8 * 0.4 / 2 },
	{ "half of it taken away", LAST(true, 1, 0.8, 0.5, 0), 1 / 3.0 * 0.8 * 0.4 },
	{ "all of it taken away", LAST(true, 1, 0.8, 1, 0.05), 0.4 * 0.05 },
	{ "a cause that makes nothing", LAST(true, 1, 0, 0, 0.1), 0.4 * 0.1 },
};

START_TEST(one_later_batch)
{
	double got = ab_revise_chance(0.5, &one[_i].b, 1);

	ck_assert_msg(fabs(got - one[_i].chance) < 1e-8, "%s: %.9g, not %.9g", one[_i].title, got, one[_i].chance);
}
END_TEST

/* Every way the habit can have been in force, by the urn's own steps; a habit a change took away is not there.
 * more: 1 where the verdict's batch counts, as for a culprit. */
static double count_ways_of(
    double p, double more, bool tasted, const struct ab_later *b, size_t n, size_t at, double hits)
{
	double rate = (2 * p + more + hits) / (2 + more + (double)at);

	if (at == n)
		return 1;
	double with = tasted ? tell(&b[at], true) : 1, without = tasted ? tell(&b[at], false) : 1;
	return (1 - rate) * without * count_ways_of(p, more, tasted, b, n, at + 1, hits) +
	    rate * (b[at].taken * without + (1 - b[at].taken) * b[at].sign * with) *
	    count_ways_of(p, more, tasted, b, n, at + 1, hits + 1);
}

static struct ab_later drawn_later(void)
{
	return (struct ab_later){ rand() % 2 == 0, exp(drawn(-3, 3)), drawn(0, 1), rand() % 2 ? 0 : drawn(0, 1),
		drawn(0, 0.1) };
}

START_TEST(verdict_by_every_way)
{
	srand((unsigned)_i + 1);
	struct ab_later b[9];
	double p = drawn(0.01, 0.99);
	size_t n = 1 + (size_t)_i % 9;

	for (size_t i = 0; i < n; i++)
		b[i] = drawn_later();
	double want = count_ways_of(p, 1, true, b, n, 0, 0) / count_ways_of(p, 0, false, b, n, 0, 0);
	ck_assert_double_eq_tol(ab_revise_chance(p, b, n), want, 1e-12 * fmax(1, want));
}
END_TEST

/* Summed over all that the later tastings can say, the signs are left; the longest rows stay numbers. */
START_TEST(verdict_properties)
{
	srand((unsigned)_i + 1);
	struct ab_later b[6];
	static struct ab_later rows[200];
	double p = drawn(0.01, 0.99), sum = 0;

	for (size_t i = 0; i < 6; i++)
		b[i] = drawn_later();
	for (unsigned tasted = 0; tasted < 64; tasted++) {
		for (size_t i = 0; i < 6; i++)
			b[i].found = tasted >> i & 1;
		sum += ab_revise_chance(p, b, 6);
	}
	double signs = count_ways_of(p, 1, false, b, 6, 0, 0) / count_ways_of(p, 0, false, b, 6, 0, 0);
	ck_assert_double_eq_tol(sum, signs, 1e-12 * fmax(1, signs));
	ck_assert_double_eq(ab_revise_chance(p, b, 0), 1);
	for (size_t i = 0; i < 200; i++) {
		rows[i] = drawn_later();
		rows[i].sign = rand() % 3 == 0 ? 0 : rand() % 2 ? INFINITY : rows[i].sign;
	}
	double c = ab_revise_chance(0, rows, 200);
	ck_assert(isfinite(c) && c >= 0);
	ck_assert_double_eq(c, ab_revise_chance(0, rows + 140, 60));
}
END_TEST

/* ---- a brewer who gets better all the while ---- */

START_TEST(no_drift_to_see)
{
	struct ab_exposed seen[8];
	double alike[8], one_by_one[8];

	srand(7);
	for (int round = 0; round < 20; round++) {
		for (size_t i = 0; i < 8; i++) {
			seen[i] = (struct ab_exposed){ exp(drawn(-4, 4)), i % 3 == 1 };
			alike[i] = 5;
			one_by_one[i] = (double)i;
		}
		struct ab_share_learned plain = ab_held_share(0.6, 0.4, seen, 8),
					same = ab_held_share_drifting(0.6, 0.4, seen, alike, 8);
		ck_assert_double_eq_tol(same.share, plain.share, 1e-12);
		ck_assert_double_eq_tol(same.sd, plain.sd, 1e-9);
		ck_assert_double_eq_tol(same.struck, plain.struck, 1e-12);
		/* where it was never made, nothing is learned of it */
		for (size_t i = 0; i < 8; i++)
			seen[i].with = false;
		ck_assert_double_eq(ab_held_share_drifting(0.6, 0.4, seen, one_by_one, 8).share, 0.6);
	}
}
END_TEST

/* First without and then with it, a drift explains part; in turns, hardly any. */
START_TEST(order_tells)
{
	struct ab_exposed after[12], in_turns[12];
	double place[12];

	for (size_t i = 0; i < 12; i++) {
		after[i] = (struct ab_exposed){ i < 6 ? 1e3 : 1e-3, i >= 6 };
		in_turns[i] = (struct ab_exposed){ i % 2 == 0 ? 1e3 : 1e-3, i % 2 == 1 };
		place[i] = (double)i;
	}
	double plain = ab_held_share(0.5, 0.5, after, 12).share,
	       then = ab_held_share_drifting(0.5, 0.5, after, place, 12).share,
	       turns = ab_held_share_drifting(0.5, 0.5, in_turns, place, 12).share;
	ck_assert_double_gt(then, 0.5);
	ck_assert_double_lt(then, plain);
	ck_assert_double_gt(turns, then);
	ck_assert_double_lt(plain - turns, (plain - then) / 2);
}
END_TEST

/* Brewers whose cause strikes ever less by itself, and whose change does nothing (or does what is said), made in
 * the middle: the mean share believed, and in how many it is believed more than was promised by 0.05. Sure batches;
 * fixed seed. */
struct taught { double plain, allowed, more_plain, more; };

static struct taught teach(size_t n, double rate, double drift, double promised, double does)
{
	enum { ROUNDS = 150 };
	struct taught t = { 0 };
	struct ab_exposed seen[AB_HELD_MOST];
	double place[AB_HELD_MOST];

	srand(11);
	for (int round = 0; round < ROUNDS; round++) {
		for (size_t i = 0; i < n; i++) {
			bool with = i >= n / 2;
			double p = rate * exp(-drift * (double)i) * (with ? 1 - does : 1);

			seen[i] = (struct ab_exposed){ drawn(0, 1) < p ? 1e6 : 1e-6, with };
			place[i] = (double)i;
		}
		double plain = ab_held_share(promised, rate, seen, n).share,
		       allowed = ab_held_share_drifting(promised, rate, seen, place, n).share;

		t.plain += plain / ROUNDS;
		t.allowed += allowed / ROUNDS;
		t.more_plain += (plain > promised + 0.05) / (double)ROUNDS;
		t.more += (allowed > promised + 0.05) / (double)ROUNDS;
	}
	return t;
}

static const struct { size_t n; double rate, drift; } drifts[] = {
	{ 8, 0.8, 0.1 }, { 12, 0.8, 0.1 }, { 16, 0.8, 0.1 }, { 16, 0.8, 0.2 }, { 30, 0.9, 0.05 }, { 30, 0.9, 0.1 },
};

START_TEST(a_drift_teaches_little)
{
	struct taught t = teach(drifts[_i].n, drifts[_i].rate, drifts[_i].drift, 0.5, 0);

	printf(
	    "# %zu batches, drift %.2f, a change that does nothing and promised half: believed %.3f as it "
	    "stands, %.3f allowed for; more than "
	    "promised in %.3f and %.3f\n",
	    drifts[_i].n, drifts[_i].drift, t.plain, t.allowed, t.more_plain, t.more);
	ck_assert_double_lt(t.allowed, t.plain);
	/* not on average taught that it helps, where the drift is one that is thought of; a prior is no proof
	 * against more */
	if (drifts[_i].drift <= AB_HELD_DRIFT)
		ck_assert_double_le(t.allowed, 0.5);
	ck_assert_double_le(t.more, t.more_plain * 2 / 3);
	ck_assert_double_gt(t.more_plain, 0.2);   /* or there was nothing to guard against */
}
END_TEST

/* Given the batches, what a change does is still learned. */
START_TEST(what_it_does_is_learned)
{
	struct taught none = teach(30, 0.8, 0, 0.5, 0), all = teach(30, 0.8, 0, 0.5, 0.95),
		      beside = teach(30, 0.9, 0.05, 0.5, 0.95);

	printf(
	    "# 30 batches, promised half: a change that does nothing is believed %.3f, one that does nearly all "
	    "%.3f, beside a drift %.3f\n",
	    none.allowed, all.allowed, beside.allowed);
	ck_assert_double_lt(none.allowed, 0.35);
	ck_assert_double_gt(all.allowed, 0.65);
	ck_assert_double_gt(beside.allowed, 0.6);
}
END_TEST

static const struct { double belief[3], chance[3], want[3]; } turned[] = {
	{ { 0.5, 0.3, 0.2 }, { 1, 1, 1 }, { 0.5, 0.3, 0.2 } },
	{ { 0.6, 0.4, 0 }, { 0.1, 0.3, 1 }, { 1 / 3.0, 2 / 3.0, 0 } },
	{ { 2, 1, 1 }, { 0, 0, 0 }, { 0.5, 0.25, 0.25 } },
	{ { 0, 0, 0 }, { 1, 1, 1 }, { 0, 0, 0 } },
};

START_TEST(bayes)
{
	double b[3] = { turned[_i].belief[0], turned[_i].belief[1], turned[_i].belief[2] };

	ab_revise(b, turned[_i].chance, 3);
	for (size_t i = 0; i < 3; i++)
		ck_assert_double_eq_tol(b[i], turned[_i].want[i], 1e-12);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("urn");
	TCase *tc = tcase_create("urn");
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, ratio, 0, sizeof ratios / sizeof *ratios);
	tcase_add_loop_test(tc, fading, 0, sizeof fades / sizeof *fades);
	tcase_add_loop_test(tc, share, 0, sizeof shares / sizeof *shares);
	tcase_add_loop_test(tc, share_by_every_way, 0, 80);
	tcase_add_loop_test(tc, share_properties, 0, 80);
	tcase_add_test(tc, share_of_long_rows);
	tcase_add_test(tc, no_drift_to_see);
	tcase_add_test(tc, order_tells);
	tcase_add_loop_test(tc, a_drift_teaches_little, 0, (int)(sizeof drifts / sizeof *drifts));
	tcase_add_test(tc, what_it_does_is_learned);
	tcase_add_loop_test(tc, one_later_batch, 0, sizeof one / sizeof *one);
	tcase_add_loop_test(tc, verdict_by_every_way, 0, 90);
	tcase_add_loop_test(tc, verdict_properties, 0, 20);
	tcase_add_loop_test(tc, bayes, 0, sizeof turned / sizeof *turned);
	suite_add_tcase(s, tc);
	SRunner *sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return 0;
}
