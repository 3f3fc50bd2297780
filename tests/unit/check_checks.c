/* check_checks.c - expected information of checks and questions, against enumeration and against what must hold
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/checks.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/alloc.h"
#include "brute.h"

static struct brute_net b;
static struct brute_answer now, after;
static struct ab_worth worth[8];
static struct ab_diag diag;

static double entropy(double p)
{
	return p <= 0 || p >= 1 ? 0 : -p * log2(p) - (1 - p) * log2(1 - p);
}

static double sum_entropy(const double *p, size_t n)
{
	double h = 0;

	for (size_t i = 0; i < n; i++)
		h += entropy(p[i]);
	return h;
}

/* The network with the check as one more fault, by enumeration. */
static struct ab_worth by_enumeration(const struct ab_net_check *c)
{
	static struct brute_net more;
	size_t n = b.net.n_causes, f = b.net.n_faults, l = b.net.n_links;
	struct ab_worth w = { 0 };

	brute_solve(&b.net, &now);
	more = b;
	for (size_t i = 0; i < c->n; i++)
		more.links[l + i] = (struct ab_link_to){ c->cause[i], (int)f, { { 1, c->yes[i], 0, 0 } } };
	more.leak[f] = (struct ab_tail){ { 1, c->base, 0, 0 } };
	brute_bind(&more, n, f + 1, l + c->n);
	w.bits = sum_entropy(now.present, n);
	w.blame_bits = sum_entropy(now.blame, n);
	for (int yes = 0; yes < 2; yes++) {
		double p;

		more.finding[f] =
		    yes ? (struct ab_finding){ AB_SEEN_ANSWER, 1, 0 } : (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
		brute_solve(&more.net, &after);
		p = exp(after.log_evidence - now.log_evidence);
		w.bits -= p * sum_entropy(after.present, n);
		w.blame_bits -= p * sum_entropy(after.blame, n);
		w.p = yes ? p : w.p;
	}
	return w;
}

START_TEST(checks_agree_with_enumeration)
{
	uint64_t r = 8;

	for (unsigned seed = 0; seed < 40; seed++) {
		int cause[3];
		double yes[3];
		struct ab_net_check c = { brute_random(&r) * 0.2, 1 + seed % 3, cause, yes };
		struct ab_worth want;

		brute_make(&b, 60 + seed, seed % 2 ? BRUTE_MIXED : BRUTE_STRONG, 4 + seed % 4, 2 + seed % 4, 0.6);
		if (ab_net_solve(&b.net, &(struct ab_beliefs){ 0 }, NULL) != AB_OK)
			continue;
		for (int i = 0; i < 3; i++) {
			cause[i] = i;
			yes[i] = 0.3 + 0.7 * brute_random(&r);
		}
		ck_assert_int_eq(ab_check_worths(&b.net, &c, 1, worth, &diag), AB_OK);
		want = by_enumeration(&c);
		ck_assert(worth[0].weighed);
		ck_assert_msg(fabs(worth[0].bits - want.bits) < 1e-12, "%u: %.17g bits, want %.17g", seed,
		    worth[0].bits, want.bits);
		ck_assert_msg(fabs(worth[0].blame_bits - want.blame_bits) < 1e-12,
		    "%u: %.17g bits of blame, want %.17g", seed, worth[0].blame_bits, want.blame_bits);
		ck_assert_msg(
		    fabs(worth[0].p - want.p) < 1e-12, "%u: P(yes) %.17g, want %.17g", seed, worth[0].p, want.p);
	}
}
END_TEST

/* One cause, prior 1/4, nothing tasted. */
static void one_cause(double p)
{
	brute_make(&b, 1, BRUTE_MILD, 2, 1, 0);
	b.finding[0].seen = AB_SEEN_NOTHING;
	b.log_odds[0] = log(p / (1 - p));
	b.log_odds[1] = (double)-INFINITY;
}

static const struct { const char *title; double prior, base, yes, p, bits; } plain[] = {
	/* A perfect check tells all there is; a coin tells nothing. */
	{ "perfect", 0.25, 0, 1, 0.25, 0.8112781244591328 },
	{ "coin",    0.25, 0.5, 0, 0.5, 0 },
	{ "never",   0.25, 0, 0, 0, 0 },
	{ "always",  0.25, 1, 0, 1, 0 },
	/* By hand, H(outcome) - H(outcome given the cause): H(1/4) - 1/2 x 1. */
	{ "Z channel", 0.5, 0, 0.5, 0.25, 0.8112781244591328 - 0.5 },
};

START_TEST(plain_checks)
{
	int cause = 0;
	struct ab_net_check c = { plain[_i].base, 1, &cause, &plain[_i].yes };

	one_cause(plain[_i].prior);
	ck_assert_int_eq(ab_check_worths(&b.net, &c, 1, worth, &diag), AB_OK);
	ck_assert_msg(fabs(worth[0].bits - plain[_i].bits) < 1e-12, "%s: %.17g bits", plain[_i].title, worth[0].bits);
	ck_assert_msg(fabs(worth[0].p - plain[_i].p) < 1e-12, "%s: P %.17g", plain[_i].title, worth[0].p);
	ck_assert_double_eq(worth[0].blame_bits, 0);
}
END_TEST

/* Never negative, never more than there is to know, and more for a sharper check. */
START_TEST(bits_are_bounded_and_monotone)
{
	for (unsigned seed = 0; seed < 30; seed++) {
		int cause = (int)(seed % 6);
		double yes[4] = { 0.2, 0.5, 0.8, 1 };
		struct ab_net_check c[4];

		brute_make(&b, 90 + seed, BRUTE_MILD, 6, 4, 0.6);
		brute_solve(&b.net, &now);
		for (int k = 0; k < 4; k++)
			c[k] = (struct ab_net_check){ 0, 1, &cause, &yes[k] };
		ck_assert_int_eq(ab_check_worths(&b.net, c, 4, worth, &diag), AB_OK);
		for (int k = 0; k < 4; k++) {
			ck_assert_double_ge(worth[k].bits, 0);
			ck_assert_double_ge(worth[k].blame_bits, 0);
			ck_assert_double_le(worth[k].bits, sum_entropy(now.present, 6));
			ck_assert_double_le(worth[k].blame_bits, sum_entropy(now.blame, 6));
			ck_assert(k == 0 || worth[k].bits >= worth[k - 1].bits);
		}
		/* A sure check on one cause tells at least that cause. */
		ck_assert_double_ge(worth[3].bits, entropy(now.present[cause]) - 1e-12);
	}
}
END_TEST

/* One cause, closed form: mutual information of the cause and the answer. */
START_TEST(question_by_hand)
{
	int cause = 0;
	double h = 4, l = 0.25, p = 0.3, a = log(h), bb = log(l);
	double q = (1 - l) / (h - l), pa = p * h * q + (1 - p) * q;
	struct ab_net_question ask[2] = { { 1, &cause, &a, &bb }, { 1, &cause, &bb, &a } };

	one_cause(p);
	ck_assert_int_eq(ab_question_worths(&b.net, ask, 2, worth, &diag), AB_OK);
	ck_assert_double_eq_tol(worth[0].p, pa, 1e-14);
	ck_assert_double_eq_tol(worth[0].bits,
	    entropy(p) - pa * entropy(p * h * q / pa) - (1 - pa) * entropy(p * l * (1 - q) / (1 - pa)), 1e-13);
	/* The names of the answers do not matter. */
	ck_assert_double_eq_tol(worth[1].p, 1 - pa, 1e-14);
	ck_assert_double_eq_tol(worth[1].bits, worth[0].bits, 1e-13);
}
END_TEST

/* A check of one cause and the question with the same two ratios are the same thing, whatever else was tasted. */
START_TEST(question_equals_check)
{
	for (unsigned seed = 0; seed < 30; seed++) {
		int cause = (int)(seed % 5);
		double base = 0.1, yes = 0.7, given = 1 - (1 - base) * (1 - yes), a = log(given / base),
		       bb = log((1 - given) / (1 - base));
		struct ab_net_check c = { base, 1, &cause, &yes };
		struct ab_net_question q = { 1, &cause, &a, &bb };

		brute_make(&b, 400 + seed, seed % 2 ? BRUTE_MILD : BRUTE_STRONG, 7, 5, 0.5);
		ck_assert_int_eq(ab_check_worths(&b.net, &c, 1, worth, &diag), AB_OK);
		ck_assert_int_eq(ab_question_worths(&b.net, &q, 1, worth + 1, &diag), AB_OK);
		ck_assert_double_eq_tol(worth[0].p, worth[1].p, 1e-12);
		ck_assert_double_eq_tol(worth[0].bits, worth[1].bits, 1e-11);
		ck_assert_double_eq_tol(worth[0].blame_bits, worth[1].blame_bits, 1e-11);
	}
}
END_TEST

/* An answer may rule a cause out; a question that tells no cause apart cannot be weighed. */
START_TEST(question_edges)
{
	int cause[2] = { 0, 1 };
	double up[2] = { log(3), 0.5 }, out[2] = { (double)-INFINITY, 0.5 }, none[2] = { 0, 0 };
	struct ab_net_question ask[3] = { { 1, cause, up, out }, { 2, cause, none, none }, { 0, NULL, NULL, NULL } };

	one_cause(0.2);
	ck_assert_int_eq(ab_question_worths(&b.net, ask, 3, worth, &diag), AB_OK);
	/* l = 0: q = 1/3, P(a) = .2 + .8 / 3; after b the cause is out; after a its odds are 3/4. */
	ck_assert_double_eq_tol(worth[0].p, 0.2 + 0.8 / 3, 1e-14);
	ck_assert_double_eq_tol(worth[0].bits, entropy(0.2) - (0.2 + 0.8 / 3) * entropy(3.0 / 7), 1e-13);
	ck_assert(!worth[1].weighed);
	ck_assert_double_eq(worth[1].bits, 0);
	ck_assert(!worth[2].weighed);
}
END_TEST

/* Rules that state one answer and are silent about the other: silence counts as 0.7 or 1/0.7, here by hand. */
START_TEST(silence_is_weighed)
{
	static const struct { double a, b, high, low; } row[] = {
		{ 5, 1, 5, 0.7 }, { 1, 5, 5, 0.7 }, { 1, 0.2, 1 / 0.7, 0.2 }, { 1, 0, 1 / 0.7, 0 },
		/* the last: a gate */
		{ 6, 2, 6, 0.7 }, { 0.5, 0.1, 1 / 0.7, 0.1 },   /* both on one side cannot be two answers' ratios */
	};
	int cause = 0;
	double p = 0.3;

	one_cause(p);
	for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
		double a = log(row[i].a), bb = log(row[i].b), h = row[i].high, l = row[i].low,
		       q = (1 - l) / (h - l), high = p * h * q + (1 - p) * q;
		struct ab_net_question ask = { 1, &cause, &a, &bb };
		ck_assert_int_eq(ab_question_worths(&b.net, &ask, 1, worth, &diag), AB_OK);
		ck_assert(worth[0].weighed);
		ck_assert_double_eq_tol(worth[0].p, row[i].a > row[i].b ? high : 1 - high, 1e-13);
		ck_assert_double_eq_tol(worth[0].bits,
		    entropy(p) - high * entropy(p * h * q / high) -
			(1 - high) * entropy(p * l * (1 - q) / (1 - high)),
		    1e-13);
	}
}
END_TEST

/* One that is moved both ways leads before a more blamed one that is not; answers that move a cause alike tell
 * nothing. */
START_TEST(both_ways_lead)
{
	int cause[2] = { 0, 1 };
	double a[2] = { log(9), log(2) }, bb[2] = { 0, log(0.5) }, same[2] = { 0.4, 0 }, q = 0.5 / 1.5;
	struct ab_net_question ask[2] = { { 2, cause, a, bb }, { 2, cause, same, same } };

	brute_make(&b, 3, BRUTE_MILD, 2, 1, 1);
	b.log_odds[0] = 3;
	b.log_odds[1] = -3;
	brute_solve(&b.net, &now);
	ck_assert_double_gt(now.blame[0], now.blame[1]);
	ck_assert_int_eq(ab_question_worths(&b.net, ask, 2, worth, &diag), AB_OK);
	ck_assert_double_eq_tol(worth[0].p, now.present[1] * 2 * q + (1 - now.present[1]) * q, 1e-13);
	ck_assert(!worth[1].weighed);
}
END_TEST

/* The most blamed cause leads, not the first of the list nor the likeliest. */
START_TEST(the_blamed_cause_leads)
{
	int cause[2] = { 0, 1 };
	double a[2] = { log(9), log(2) }, bb[2] = { log(0.5), log(0.5) }, q = 0.5 / 1.5;
	struct ab_net_question ask = { 2, cause, a, bb };

	brute_make(&b, 3, BRUTE_MILD, 2, 1, 1);
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	b.links[0] = (struct ab_link_to){ 1, 0, b.links[0].tail };
	b.net.n_links = 1;
	b.log_odds[0] = 3;
	b.log_odds[1] = -3;
	brute_solve(&b.net, &now);
	ck_assert_double_gt(now.blame[1], now.blame[0]);
	ck_assert_double_lt(now.present[1], now.present[0]);
	ck_assert_int_eq(ab_question_worths(&b.net, &ask, 1, worth, &diag), AB_OK);
	ck_assert_double_eq_tol(worth[0].p, now.present[1] * 2 * q + (1 - now.present[1]) * q, 1e-13);
}
END_TEST

/* What is asked, or checked, before does not matter. */
START_TEST(worths_are_independent)
{
	int cause[2] = { 0, 1 };
	double a = log(9), bb = log(0.2), yes = 0.9;
	struct ab_net_question ask[2] = { { 1, &cause[0], &a, &bb }, { 1, &cause[1], &a, &bb } };
	struct ab_net_check check[2] = { { 0.1, 1, &cause[0], &yes }, { 0.1, 0, NULL, NULL } };

	brute_make(&b, 31, BRUTE_MILD, 4, 3, 1);
	ck_assert_int_eq(ab_question_worths(&b.net, ask, 2, worth, &diag), AB_OK);
	ck_assert_int_eq(ab_question_worths(&b.net, ask + 1, 1, worth + 2, &diag), AB_OK);
	ck_assert_double_eq(worth[1].bits, worth[2].bits);
	ck_assert_int_eq(ab_check_worths(&b.net, check, 2, worth, &diag), AB_OK);
	ck_assert_double_gt(worth[0].bits, 0.01);
	ck_assert_double_eq_tol(worth[1].bits, 0, 1e-12);   /* a check that no cause moves */
}
END_TEST

/* A check that would make the network too wide is said not to be weighed; the others still are. */
START_TEST(too_wide_is_not_weighed)
{
	int both[2] = { 0, 1 }, one = 3;
	double yes[2] = { 0.8, 0.8 };
	struct ab_net_check c[2] = { { 0.1, 2, both, yes }, { 0.1, 1, &one, yes } };

	brute_make(&b, 4, BRUTE_MILD, 4, AB_NET_WIDTH, 1);
	b.net.n_links = 3 * AB_NET_WIDTH;   /* the fourth cause reaches nothing */
	for (size_t f = 0; f < AB_NET_WIDTH; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	ck_assert_int_eq(ab_check_worths(&b.net, c, 2, worth, &diag), AB_OK);
	ck_assert(!worth[0].weighed);
	ck_assert(worth[1].weighed);
	ck_assert_double_gt(worth[1].bits, 0);
	ck_assert_int_eq(diag.status, AB_OK);
}
END_TEST

static const struct { const char *title; int question, what; } wrong[] = {
	{ "base above 1", 0, 0 }, { "yes below 0", 0, 1 }, { "no such cause", 0, 2 }, { "cause twice", 0, 3 },
	{ "ratio too large", 1, 0 }, { "ratio plus infinity", 1, 1 }, { "no such cause", 1, 2 },
	{ "cause twice", 1, 3 },
};

START_TEST(wrong_is_refused)
{
	int cause[2] = { 0, 1 }, what = wrong[_i].what;
	double yes[2] = { 0.5, 0.5 }, a[2] = { 1, 1 }, bb[2] = { -1, -1 };
	struct ab_net_check c = { what == 0 ? 1.5 : 0.1, 2, cause, yes };
	struct ab_net_question q = { 2, cause, a, bb };
	enum ab_status st;

	brute_make(&b, 5, BRUTE_MILD, 3, 2, 1);
	yes[1] = what == 1 ? -0.1 : 0.5;
	a[0] = what == 0 ? 201 : what == 1 ? (double)INFINITY : 1;
	cause[1] = what == 2 ? 3 : what == 3 ? 0 : 1;
	st = wrong[_i].question ? ab_question_worths(&b.net, &q, 1, worth, &diag)
				: ab_check_worths(&b.net, &c, 1, worth, &diag);
	ck_assert_msg(st == AB_EUSAGE, "%s: status %d", wrong[_i].title, st);
	ck_assert_msg(diag.text[0] != '\0', "%s: no word", wrong[_i].title);
}
END_TEST

START_TEST(memory_may_run_out)
{
	int cause = 0;
	double yes = 0.5, a = 1, bb = -1;
	struct ab_net_check c = { 0.1, 1, &cause, &yes };
	struct ab_net_question q = { 1, &cause, &a, &bb };
	enum ab_status st = AB_ENOMEM;

	brute_make(&b, 5, BRUTE_MILD, 3, 2, 1);
	for (long k = 0; st != AB_OK && k < 200; k++) {
		ab_alloc_fail_at(k);
		st = ab_check_worths(&b.net, &c, 1, worth, &diag);
		if (st == AB_OK)
			st = ab_question_worths(&b.net, &q, 1, worth, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || st == AB_ENOMEM);
		ab_diag_init(&diag);
	}
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("checks");
	TCase *tc = tcase_create("checks");
	SRunner *sr;

	tcase_set_timeout(tc, 120);
	tcase_add_test(tc, checks_agree_with_enumeration);
	tcase_add_loop_test(tc, plain_checks, 0, sizeof plain / sizeof *plain);
	tcase_add_test(tc, bits_are_bounded_and_monotone);
	tcase_add_test(tc, question_by_hand);
	tcase_add_test(tc, question_equals_check);
	tcase_add_test(tc, question_edges);
	tcase_add_test(tc, silence_is_weighed);
	tcase_add_test(tc, both_ways_lead);
	tcase_add_test(tc, the_blamed_cause_leads);
	tcase_add_test(tc, worths_are_independent);
	tcase_add_test(tc, too_wide_is_not_weighed);
	tcase_add_loop_test(tc, wrong_is_refused, 0, sizeof wrong / sizeof *wrong);
	tcase_add_test(tc, memory_may_run_out);
	suite_add_tcase(s, tc);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
