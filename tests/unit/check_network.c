/* check_network.c - the exact solver against enumeration in 128-bit floats, and its properties
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <afterboil/network.h>

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/alloc.h"
#include "brute.h"

static struct ab_net_scratch *scratch;
static struct brute_net b;
static struct brute_answer truth;
static double present[BRUTE_CAUSES], blame[BRUTE_CAUSES], alone[BRUTE_CAUSES];
static unsigned char story[BRUTE_CAUSES];
static struct ab_beliefs all = { .present = present, .blame = blame, .alone = alone, .story = story };
static struct ab_diag diag;

static void setup(void)
{
	scratch = ab_net_scratch_new();
	ck_assert_ptr_nonnull(scratch);
	ab_diag_init(&diag);
}

static void teardown(void)
{
	ab_net_scratch_free(scratch);
}

static double relative(double got, double want)
{
	if (want == 0)   /* exactly none must be exactly none */
		return got == 0 ? 0 : 1;
	return fabs(got - want) / want;
}

static unsigned pattern_of(size_t n)
{
	unsigned x = 0;

	for (size_t i = 0; i < n; i++)
		x |= (unsigned)story[i] << i;
	return x;
}

/* Solves b.net and compares all there is with the truth. */
static void compare_with_truth(const char *title, unsigned seed)
{
	enum ab_status st = ab_net_solve_in(scratch, &b.net, &all, &diag);

	if (isinf(truth.log_evidence)) {
		ck_assert_msg(st == AB_EIMPOSSIBLE, "%s %u: status %d for impossible evidence", title, seed, st);
		ab_diag_init(&diag);
		return;
	}
	ck_assert_msg(st == AB_OK, "%s %u: %s", title, seed, diag.text);
	ck_assert_msg(fabs(expm1(all.log_evidence - truth.log_evidence)) < 1e-12,
	    "%s %u: log evidence %.17g, want %.17g", title, seed, all.log_evidence, truth.log_evidence);
	for (size_t i = 0; i < b.net.n_causes; i++) {
		ck_assert_msg(relative(present[i], truth.present[i]) < 1e-12,
		    "%s %u: present %zu is %.17g, want %.17g", title, seed, i, present[i], truth.present[i]);
		ck_assert_msg(relative(blame[i], truth.blame[i]) < 1e-12, "%s %u: blame %zu is %.17g, want %.17g",
		    title, seed, i, blame[i], truth.blame[i]);
	}
	ck_assert_msg(all.story_proven == 1, "%s %u: the story is not proven", title, seed);
	ck_assert_msg(relative(truth.pattern[pattern_of(b.net.n_causes)], truth.best) < 1e-9,
	    "%s %u: story has %.17g, best %.17g", title, seed, truth.pattern[pattern_of(b.net.n_causes)],
	    truth.best);
	ck_assert_msg(relative(all.story_share, truth.best) < 1e-9, "%s %u: story share %.17g, want %.17g", title, seed,
	    all.story_share, truth.best);
}

static void compare(const char *title, unsigned seed)
{
	brute_solve(&b.net, &truth);
	compare_with_truth(title, seed);
}

static const struct {
	const char *title;
	enum brute_kind kind;
	unsigned n, min_causes, max_causes, min_faults, max_faults;
	double density;
} sets[] = {
	{ "mild", BRUTE_MILD, 100, 1, 8, 1, 6, 0.5 },
	{ "strong", BRUTE_STRONG, 120, 2, 8, 2, 6, 0.6 },
	{ "mixed", BRUTE_MIXED, 200, 1, 8, 1, 6, 0.5 },
	{ "sparse", BRUTE_MIXED, 60, 5, 9, 4, 9, 0.25 },
	{ "strong, dense", BRUTE_STRONG, 20, 6, 8, 6, 8, 1.0 },
};

START_TEST(agrees_with_enumeration)
{
	for (unsigned seed = 0; seed < sets[_i].n; seed++) {
		unsigned causes = sets[_i].min_causes + seed % (sets[_i].max_causes - sets[_i].min_causes + 1);
		unsigned faults = sets[_i].min_faults + seed / 3 % (sets[_i].max_faults - sets[_i].min_faults + 1);

		brute_make(&b, seed + 1, sets[_i].kind, causes, faults, sets[_i].density);
		compare(sets[_i].title, seed);
	}
}
END_TEST

/* What is absent, put into the causes' weights instead of links, changes nothing. */
START_TEST(absent_faults_as_weights)
{
	double weight[BRUTE_CAUSES];
	size_t moved = 0;

	for (unsigned seed = 0; seed < 120; seed++) {
		size_t n = 0;

		brute_make(&b, seed + 900, BRUTE_MIXED, 2 + seed % 7, 2 + seed % 5, 0.6);
		brute_solve(&b.net, &truth);
		for (size_t i = 0; i < b.net.n_causes; i++)
			weight[i] = 1;
		for (size_t l = 0; l < b.net.n_links; l++) {
			const struct ab_finding *f = &b.finding[b.links[l].fault];

			if (f->seen == AB_SEEN_ABSENT)
				weight[b.links[l].cause] *= 1 - f->sensitivity * b.links[l].tail.at[1];
			else
				b.links[n++] = b.links[l];
		}
		moved += b.net.n_links - n;
		b.net.n_links = n;
		b.net.weight = weight;
		compare_with_truth("weights", seed);
	}
	ck_assert_uint_gt(moved, 200);
}
END_TEST

/* An answer is evidence like a found fault, but no blame. */
START_TEST(answers_are_no_blame)
{
	for (unsigned seed = 0; seed < 60; seed++) {
		brute_make(&b, 7000 + seed, BRUTE_MIXED, 3 + seed % 5, 2 + seed % 4, 0.6);
		for (size_t f = 0; f < b.net.n_faults; f++)
			if (b.finding[f].seen == AB_SEEN_FOUND && (f + seed) % 2 == 0)
				b.finding[f].seen = AB_SEEN_ANSWER;
		compare("answers", seed);
	}
}
END_TEST

/* Sets of causes: against enumeration, at least the most blamed member, at most the sum; a set of one is that
 * cause; of all, what the leaks did not do. */
static void compare_set(unsigned set, unsigned seed)
{
	unsigned char member[BRUTE_CAUSES] = { 0 };
	double got = -1, most = 0, sum = 0;

	for (size_t i = 0; i < b.net.n_causes; i++) {
		member[i] = set >> i & 1;
		most = fmax(most, member[i] ? blame[i] : 0);
		sum += member[i] ? blame[i] : 0;
	}
	ck_assert_int_eq(ab_net_blame_any(scratch, &b.net, member, all.log_evidence, &got, &diag), AB_OK);
	ck_assert_msg(fabs(got - brute_blame_any(&b.net, set)) < 1e-12, "%u, set %x: %.17g, want %.17g", seed, set, got,
	    brute_blame_any(&b.net, set));
	ck_assert_msg(got > most - 1e-12 && got < sum + 1e-12, "%u, set %x: %g, the most %g, the sum %g", seed, set,
	    got, most, sum);
	if ((set & (set - 1)) == 0)
		ck_assert_double_eq_tol(got, sum, 1e-12);
}

START_TEST(sets_of_causes)
{
	for (unsigned seed = 0; seed < sets[_i].n; seed++) {
		unsigned causes = sets[_i].min_causes + seed % (sets[_i].max_causes - sets[_i].min_causes + 1);
		unsigned faults = sets[_i].min_faults + seed / 3 % (sets[_i].max_faults - sets[_i].min_faults + 1);

		brute_make(&b, seed + 1, sets[_i].kind, causes, faults, sets[_i].density);
		for (size_t f = 0; f < faults && seed % 4 == 3; f++)
			if (b.finding[f].seen == AB_SEEN_FOUND && f % 2 == 0)
				b.finding[f].seen = AB_SEEN_ANSWER;
		if (ab_net_solve_in(scratch, &b.net, &all, &diag) != AB_OK) {
			ab_diag_init(&diag);
			continue;
		}
		compare_set(0, seed);
		compare_set(1u << seed % causes, seed);
		compare_set((0x2545u * (seed + 1)) & ((1u << causes) - 1), seed);
		compare_set((1u << causes) - 1, seed);
	}
}
END_TEST

/* Nothing else gives it: then they are to blame for certain. */
START_TEST(set_without_which_nothing)
{
	const unsigned char first[] = { 1, 0 }, second[] = { 0, 1 };
	double got;

	b.log_odds[0] = b.log_odds[1] = -2;
	b.leak[0] = b.leak[1] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = b.finding[1] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.5, 0.4, 0.1 } } };
	b.links[1] = (struct ab_link_to){ 0, 1, { { 1, 0.5, 0.4, 0.1 } } };
	b.links[2] = (struct ab_link_to){ 1, 1, { { 1, 0.5, 0.4, 0.1 } } };
	brute_bind(&b, 2, 2, 3);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_int_eq(ab_net_blame_any(scratch, &b.net, first, all.log_evidence, &got, &diag), AB_OK);
	ck_assert_double_eq(got, 1);
	ck_assert_int_eq(ab_net_blame_any(scratch, &b.net, second, all.log_evidence, &got, &diag), AB_OK);
	ck_assert_double_eq_tol(got, blame[1], 1e-12);
	ck_assert_double_lt(got, 0.5);
}
END_TEST

/* The enumeration itself against a plainer one: every level of every contributor. */
START_TEST(enumeration_agrees_with_levels)
{
	for (unsigned seed = 0; seed < 12; seed++) {
		double want;

		brute_make(&b, 9000 + seed, BRUTE_MIXED, 3, 2, 0.9);
		want = brute_levels(&b.net);
		brute_solve(&b.net, &truth);
		ck_assert_msg(relative(exp(truth.log_evidence), want) < 1e-13, "%u: %.17g, want %.17g", seed,
		    exp(truth.log_evidence), want);
	}
}
END_TEST

/* By hand: one cause of prior 1/2, link .8, leak 0: found means certain, and blamed. */
START_TEST(one_cause_by_hand)
{
	b.log_odds[0] = 0;
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.8, 0.5, 0.1 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	brute_bind(&b, 1, 1, 1);
	ck_assert_int_eq(ab_net_solve(&b.net, &all, &diag), AB_OK);
	ck_assert_double_eq(present[0], 1);
	ck_assert_double_eq(blame[0], 1);
	ck_assert_double_eq_tol(all.log_evidence, log(0.5 * 0.4), 1e-15);
	b.leak[0] = (struct ab_tail){ { 1, 0.5, 0.5, 0 } };   /* leak: none .5, moderate .5 */
	ck_assert_int_eq(ab_net_solve(&b.net, &all, &diag), AB_OK);
	/* active: up to 2 is .9 x 1, below 2 is .5 x .5: .65; inactive: .5. Pushed: .4 x 1 */
	ck_assert_double_eq_tol(present[0], 0.65 / 1.15, 1e-15);
	ck_assert_double_eq_tol(blame[0], 0.40 / 1.15, 1e-15);
}
END_TEST

static void shuffle(size_t *at, size_t n, uint64_t *r)
{
	for (size_t i = 0; i < n; i++)
		at[i] = i;
	for (size_t i = n; i > 1; i--) {
		size_t j = (size_t)(brute_random(r) * (double)i), t = at[i - 1];

		at[i - 1] = at[j];
		at[j] = t;
	}
}

/* The same network with causes, faults and links renumbered. */
static void permute(struct brute_net *to, const struct brute_net *from, const size_t *cause, const size_t *fault,
    const size_t *link)
{
	for (size_t i = 0; i < from->net.n_causes; i++)
		to->log_odds[cause[i]] = from->log_odds[i];
	for (size_t f = 0; f < from->net.n_faults; f++) {
		to->leak[fault[f]] = from->leak[f];
		to->finding[fault[f]] = from->finding[f];
	}
	for (size_t l = 0; l < from->net.n_links; l++)
		to->links[link[l]] = (struct ab_link_to){ (int)cause[from->links[l].cause],
			(int)fault[from->links[l].fault], from->links[l].tail };
	brute_bind(to, from->net.n_causes, from->net.n_faults, from->net.n_links);
}

/* Realistic size: 65 causes, 48 faults; order is irrelevant. */
START_TEST(order_is_irrelevant)
{
	static struct brute_net other;
	static double present2[BRUTE_CAUSES], blame2[BRUTE_CAUSES];
	static size_t cause[BRUTE_CAUSES], fault[BRUTE_FAULTS], link[BRUTE_LINKS];
	struct ab_beliefs again = { .present = present2, .blame = blame2 };

	for (uint64_t seed = 1; seed < 16; seed++) {
		uint64_t r = seed;

		brute_make(&b, seed, seed % 2 ? BRUTE_STRONG : BRUTE_MILD, 65, 48, 0.05);
		for (size_t f = 0; f < 48; f++)
			if (f % 4)
				b.finding[f].seen = f % 3 ? AB_SEEN_ABSENT : AB_SEEN_NOTHING,
				b.finding[f].sensitivity = 0.4;
		shuffle(cause, 65, &r);
		shuffle(fault, 48, &r);
		shuffle(link, b.net.n_links, &r);
		permute(&other, &b, cause, fault, link);
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		ck_assert_int_eq(ab_net_solve_in(scratch, &other.net, &again, &diag), AB_OK);
		ck_assert_double_eq_tol(all.log_evidence, again.log_evidence, 1e-12);
		for (size_t i = 0; i < 65; i++) {
			ck_assert_double_le(relative(present2[cause[i]], present[i]), 1e-12);
			ck_assert_double_le(relative(blame2[cause[i]], blame[i]), 1e-12);
		}
	}
}
END_TEST

/* P(e, fault f found at 1) + at 2 + at 3 + (absent, noticed for certain) = P(e). */
START_TEST(grades_sum_to_one)
{
	for (unsigned seed = 0; seed < 40; seed++) {
		double rest, sum = 0;

		brute_make(&b, 300 + seed, BRUTE_MIXED, 20, 10, 0.2);
		b.finding[3] = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
		if (ab_net_solve_in(scratch, &b.net, &all, &diag) != AB_OK) {
			ab_diag_init(&diag);
			continue;
		}
		rest = all.log_evidence;
		for (int g = 0; g < AB_GRADES; g++) {
			b.finding[3] = (struct ab_finding){ g == 0 ? AB_SEEN_ABSENT : AB_SEEN_FOUND, g, 1 };
			if (ab_net_solve_in(scratch, &b.net, &all, &diag) == AB_OK)
				sum += exp(all.log_evidence - rest);
			ab_diag_init(&diag);
		}
		ck_assert_msg(fabs(sum - 1) < 1e-12, "%u: sum %.17g", seed, sum);
	}
}
END_TEST

START_TEST(blame_within_present_and_monotone)
{
	for (unsigned seed = 0; seed < 60; seed++) {
		double before, odds;

		brute_make(&b, 500 + seed, seed % 2 ? BRUTE_STRONG : BRUTE_MILD, 25, 12, 0.15);
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		for (size_t i = 0; i < 25; i++) {
			ck_assert_double_ge(blame[i], 0);
			ck_assert_double_le(blame[i], present[i]);
			ck_assert_double_le(present[i], 1);
			odds = exp(b.log_odds[i]);
			ck_assert_double_le(relative(alone[i], odds / (1 + odds)), 1e-14);
		}
		/* A sign for a cause raises it, by exactly its ratio on the odds. */
		before = present[7];
		b.log_odds[7] += log(3);
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		if (before < 0.999)
			ck_assert_msg(relative(present[7] / (1 - present[7]), 3 * before / (1 - before)) < 1e-9,
			    "%u: %g from %g", seed, present[7], before);
		/* Judged absent with more certainty, a fault speaks more against its causes. */
		b.finding[2] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 0.3 };
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		odds = all.log_evidence;
		b.finding[2].sensitivity = 0.8;
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		ck_assert_double_lt(all.log_evidence, odds);
	}
}
END_TEST

/* Gated causes are impossible: present, blame and story are exactly none. */
START_TEST(gates_close)
{
	brute_make(&b, 11, BRUTE_MILD, 6, 4, 0.7);
	b.log_odds[2] = (double)-INFINITY;
	compare("gate", 0);
	ck_assert_double_eq(present[2], 0);
	ck_assert_double_eq(blame[2], 0);
	ck_assert_double_eq(alone[2], 0);
	ck_assert_uint_eq(story[2], 0);
}
END_TEST

START_TEST(impossible_evidence_names_the_fault)
{
	brute_make(&b, 12, BRUTE_MILD, 3, 3, 1);
	for (int f = 0; f < 3; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	b.leak[1] = (struct ab_tail){ { 1, 0, 0, 0 } };
	for (size_t l = 0; l < b.net.n_links; l++)
		if (b.links[l].fault == 1)
			b.links[l].tail = (struct ab_tail){ { 1, 0, 0, 0 } };
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_EIMPOSSIBLE);
	ck_assert_int_eq(diag.line, 1);
	ck_assert_ptr_nonnull(strstr(diag.text, "fault 1"));
}
END_TEST

/* Each fault can be given, both together cannot: the only cause always gives the second one strongly. */
START_TEST(impossible_together)
{
	b.log_odds[0] = 0;
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.5, 0.5, 0.5 } } };
	b.links[1] = (struct ab_link_to){ 0, 1, { { 1, 1, 1, 1 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.leak[1] = (struct ab_tail){ { 1, 0.1, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 3, 0 };
	b.finding[1] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	brute_bind(&b, 1, 2, 2);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_EIMPOSSIBLE);
}
END_TEST

/* Certain not to be there, says the taster; always there by itself, say the rules. */
START_TEST(always_there_and_absent)
{
	brute_make(&b, 12, BRUTE_MILD, 2, 2, 1);
	b.leak[1] = (struct ab_tail){ { 1, 1, 0.5, 0 } };
	b.finding[1] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_EIMPOSSIBLE);
	ck_assert_int_eq(diag.line, 1);
	ck_assert_ptr_nonnull(strstr(diag.text, "absent for certain"));
	/* A taster who may miss it leaves room. */
	b.finding[1].sensitivity = 0.999;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
}
END_TEST

/* The cause is possible and gives the fault, but never at the grade found: said of that fault, as when no cause
 * were left. */
START_TEST(never_at_that_grade)
{
	brute_make(&b, 12, BRUTE_MILD, 1, 1, 1);
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.5, 0.5, 0.1 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_EIMPOSSIBLE);
	ck_assert_ptr_nonnull(strstr(diag.text, "fault 0 was found at grade 1"));
	b.finding[0].grade = 2;
	ab_diag_init(&diag);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
}
END_TEST

static void dense(size_t causes, size_t faults)
{
	brute_make(&b, 77, BRUTE_STRONG, causes, faults, 1);
	for (size_t f = 0; f < faults; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
}

START_TEST(width_has_a_limit)
{
	dense(3, AB_NET_WIDTH + 2);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_ELIMIT);
	ck_assert_ptr_nonnull(strstr(diag.text, "leave out at least 2"));
}
END_TEST

/* At the limit, with so many causes that tables are kept by segments; three causes checked by enumeration of the
 * rest. */
START_TEST(width_at_the_limit)
{
	dense(3, AB_NET_WIDTH);
	compare("limit", 0);
	ck_assert_int_eq(all.width, AB_NET_WIDTH);
	dense(12, 19);
	compare("segments", 0);
	ck_assert_int_eq(all.width, 19);
}
END_TEST

/* Faults that share no cause are not open together: 60 found faults, width 2. */
START_TEST(width_is_not_the_number_of_faults)
{
	brute_make(&b, 5, BRUTE_MILD, 59, 60, 0);
	for (int i = 0; i < 59; i++)
		for (int k = 0; k < 2; k++)
			b.links[2 * i + k] = (struct ab_link_to){ i, (i * 7 + 3 * k) % 60, { { 1, 0.6, 0.3, 0.1 } } };
	for (size_t f = 0; f < 60; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	brute_bind(&b, 59, 60, 118);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_int_le(all.width, 3);   /* a ring */
	ck_assert(isfinite(all.log_evidence));
}
END_TEST

/* The least width of any order, by going through all sets of closed faults: to close one more, all faults must be
 * open that share a cause with the closed ones. */
static int least_width(const struct ab_net *net, size_t n_found)
{
	static unsigned reach[BRUTE_CAUSES];
	static signed char least[1 << 14];
	size_t n_sets = (size_t)1 << n_found;

	memset(reach, 0, sizeof reach);
	for (size_t l = 0; l < net->n_links; l++)
		reach[net->links[l].cause] |= 1u << net->links[l].fault;
	for (size_t set = 1; set < n_sets; set++) {
		least[set] = 127;
		for (size_t f = 0; f < n_found; f++) {
			unsigned before = (unsigned)set & ~(1u << f), open = 1u << f;
			int width = least[before];

			if (before == set)
				continue;
			for (size_t i = 0; i < net->n_causes; i++)
				open |= reach[i] & set ? reach[i] & ~before : 0;
			width = __builtin_popcount(open) > width ? __builtin_popcount(open) : width;
			least[set] = (signed char)(width < least[set] ? width : least[set]);
		}
	}
	return least[n_sets - 1];
}

static const struct { size_t causes, found; double density; } orders[] = {
	{ 60, 14, 0.1 }, { 60, 12, 0.06 }, { 30, 12, 0.15 }, { 20, 12, 0.2 }, { 60, 8, 0.2 },
};

/* The greedy order is no wider than the best there is in nearly all networks, and never by more than one. */
START_TEST(width_is_near_the_least)
{
	int wider = 0;

	for (uint64_t seed = 1; seed <= 20; seed++) {
		int least;

		brute_make(&b, seed, BRUTE_MILD, orders[_i].causes, orders[_i].found, orders[_i].density);
		for (size_t f = 0; f < orders[_i].found; f++)
			b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
		least = least_width(&b.net, orders[_i].found);
		ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
		ck_assert_int_ge(all.width, least);
		ck_assert_int_le(all.width, least + 1);
		wider += all.width > least;
	}
	ck_assert_int_le(wider, 4);
}
END_TEST

/* Beyond 64 found faults, bits of one word: copies of one network side by side, each answering as it does alone. */
START_TEST(many_found_faults)
{
	enum { CAUSES = 5, FAULTS = 4, COPIES = 40 };
	static struct { double log_odds[COPIES * CAUSES]; struct ab_link_to links[COPIES * CAUSES * FAULTS];
		struct ab_tail leak[COPIES * FAULTS]; struct ab_finding finding[COPIES * FAULTS]; } many;
	static double present2[COPIES * CAUSES], blame2[COPIES * CAUSES];
	struct ab_beliefs again = { .present = present2, .blame = blame2 };
	struct ab_net net = { .n_causes = COPIES * CAUSES,
		.n_faults = COPIES * FAULTS,
		.log_odds = many.log_odds,
		.links = many.links,
		.leak = many.leak,
		.finding = many.finding };

	brute_make(&b, 3, BRUTE_MILD, CAUSES, FAULTS, 0.6);
	for (size_t f = 0; f < FAULTS; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	compare("alone", 3);
	for (size_t k = 0; k < COPIES; k++) {
		memcpy(many.log_odds + k * CAUSES, b.log_odds, CAUSES * sizeof *b.log_odds);
		for (size_t l = 0; l < b.net.n_links; l++) /* copies lie a stride apart, so that each needs bits of
							      several words */
			many.links[net.n_links++] = (struct ab_link_to){ (int)(k * CAUSES) + b.links[l].cause,
				b.links[l].fault * COPIES + (int)k, b.links[l].tail };
	}
	for (size_t k = 0; k < COPIES; k++)
		for (size_t f = 0; f < FAULTS; f++) {
			many.leak[f * COPIES + k] = b.leak[f];
			many.finding[f * COPIES + k] = b.finding[f];
		}
	ck_assert_int_eq(ab_net_solve_in(scratch, &net, &again, &diag), AB_OK);
	ck_assert_int_eq(again.width, all.width);
	ck_assert_double_eq_tol(again.log_evidence, COPIES * truth.log_evidence, 1e-10);
	for (size_t i = 0; i < COPIES * CAUSES; i++) {
		ck_assert_double_le(relative(present2[i], truth.present[i % CAUSES]), 1e-12);
		ck_assert_double_le(relative(blame2[i], truth.blame[i % CAUSES]), 1e-12);
	}
}
END_TEST

/* ln P far below the range of a double: 60 faults from leaks of 1e-9 alone. */
START_TEST(no_underflow)
{
	brute_make(&b, 5, BRUTE_MILD, 1, 60, 0);
	for (size_t f = 0; f < 60; f++) {
		b.leak[f] = (struct ab_tail){ { 1, 1e-9, 0, 0 } };
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	}
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_double_eq_tol(all.log_evidence, 60 * log(1e-9), 1e-10);
}
END_TEST

/* 120 causes that are there for certain and nearly always exceed the grade seen: every entry of the table shrinks,
 * step by step. */
START_TEST(no_underflow_while_open)
{
	brute_make(&b, 5, BRUTE_MILD, 120, 3, 0);
	for (int i = 0; i < 120; i++) {
		b.log_odds[i] = 60;
		for (int f = 0; f < 3; f++)
			b.links[3 * i + f] = (struct ab_link_to){ i, f, { { 1, 0.995, 0.99, 0 } } };
	}
	for (int f = 0; f < 3; f++) {
		b.leak[f] = (struct ab_tail){ { 1, 0.2, 0.1, 0 } };
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	}
	brute_bind(&b, 120, 3, 360);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	/* P(maximum <= 1) to the power of three; P(maximum = 0) is 2^-120 of it. */
	ck_assert_double_eq_tol(all.log_evidence, 3 * (120 * log(1 - 0.99) + log(0.9)), 1e-10);
	/* Each pushes with (hi - lo) / hi = 1/2 at each fault: innocent of all with 1/8. */
	ck_assert_double_eq_tol(present[60], 1, 1e-12);
	ck_assert_double_eq_tol(blame[60], 0.875, 1e-12);
	/* The story's tables shrink alike: off costs e^-60, on 10^-6, so all are on; any one off would be 10^-20 of
	 * it. */
	for (int i = 0; i < 120; i++)
		ck_assert_uint_eq(story[i], 1);
	ck_assert_int_eq(all.story_proven, 1);
	ck_assert_double_eq_tol(all.story_share, 1, 1e-9);
}
END_TEST

/* Private causes of one fault, there for certain, that nearly always exceed the grade seen: P(none above) is 10^-10
 * a cause, 10^-1000 in all, and the pair of numbers that stands for the fault has to be scaled on the way forward
 * and on the way back. */
START_TEST(no_underflow_of_private_causes)
{
	enum { MANY = 100 };

	brute_make(&b, 5, BRUTE_MILD, MANY, 1, 0);
	for (int i = 0; i < MANY; i++) {
		b.log_odds[i] = 60;
		b.links[i] = (struct ab_link_to){ i, 0, { { 1, 1 - 0.5e-10, 1 - 1e-10, 0 } } };
	}
	b.leak[0] = (struct ab_tail){ { 1, 0.2, 0.1, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
	brute_bind(&b, MANY, 1, MANY);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_double_eq_tol(all.log_evidence, MANY * log(1 - b.links[0].tail.at[2]) + log(0.9), 1e-9);
	/* Each is at the grade with (at[1] - at[2]) / (1 - at[2]): a half, but for the rounding of 1 - 10^-10. */
	for (int i = 0; i < MANY; i += 33) {
		ck_assert_double_eq_tol(present[i], 1, 1e-12);
		ck_assert_double_eq_tol(
		    blame[i], (b.links[i].tail.at[1] - b.links[i].tail.at[2]) / (1 - b.links[i].tail.at[2]), 1e-12);
	}
}
END_TEST

/* Both its causes are gated and it has no leak: the finding is named before anything is summed. */
START_TEST(what_only_gated_causes_give)
{
	brute_make(&b, 5, BRUTE_MILD, 2, 1, 0);
	b.log_odds[0] = b.log_odds[1] = (double)-INFINITY;
	b.links[0] = (struct ab_link_to){ 0, 0, { { 1, 0.5, 0.3, 0.1 } } };
	b.links[1] = (struct ab_link_to){ 1, 0, { { 1, 0.5, 0.3, 0.1 } } };
	b.leak[0] = (struct ab_tail){ { 1, 0, 0, 0 } };
	b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	brute_bind(&b, 2, 1, 2);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_EIMPOSSIBLE);
	ck_assert_int_eq(diag.line, 0);
	ck_assert_ptr_nonnull(strstr(diag.text, "grade 2"));
}
END_TEST

/* Priors at the ends of their range, far beyond what a plain p = 1 - q could hold. */
START_TEST(extreme_odds)
{
	brute_make(&b, 21, BRUTE_MILD, 5, 3, 1);
	b.log_odds[0] = 400;
	b.log_odds[1] = -400;
	b.log_odds[2] = -90;
	compare("odds", 0);
	ck_assert_double_lt(present[1], 1e-100);
	ck_assert_double_gt(present[1], 0);
}
END_TEST

/* The textbook method in plain doubles: P(found set | absent) by inclusion-exclusion over subsets of found faults,
 * binary. */
static double textbook(const struct ab_net *net, size_t with)
{
	double sum = 0;

	for (unsigned sub = 0; sub < 1u << net->n_faults; sub++) {
		double p = __builtin_popcount(sub) % 2 ? -1 : 1;

		for (size_t f = 0; f < net->n_faults; f++)
			p *= sub >> f & 1 ? 1 - net->leak[f].at[1] : 1;
		for (size_t i = 0; i < net->n_causes; i++) {
			double q = 1 / (1 + exp(-net->log_odds[i])), off = 1;

			for (size_t l = 0; l < net->n_links; l++)
				if (net->links[l].cause == (int)i && sub >> net->links[l].fault & 1)
					off *= 1 - net->links[l].tail.at[1];
			p *= i == with ? q * off : 1 - q + q * off;
		}
		sum += p;
	}
	return sum;
}

/* Why the solver is what it is: strong links, leaks of 1e-6, eight found faults. */
START_TEST(textbook_method_fails_here)
{
	double worst = 0;

	for (uint64_t seed = 1; seed <= 6; seed++) {
		brute_make(&b, seed, BRUTE_STRONG, 9, 8, 0.3);
		for (size_t f = 0; f < 8; f++) {
			b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 1, 0 };
			b.leak[f] = (struct ab_tail){ { 1, 1e-6, 0, 0 } };
		}
		for (size_t l = 0; l < b.net.n_links; l++)
			b.links[l].tail.at[2] = b.links[l].tail.at[3] = 0;
		compare("textbook", (unsigned)seed);
		for (size_t i = 0; i < 9; i++)
			worst = fmax(worst, relative(textbook(&b.net, i) / textbook(&b.net, 9), truth.present[i]));
	}
	ck_assert_msg(worst > 1e-3, "inclusion-exclusion is off by only %g", worst);
}
END_TEST

/* ln P(pattern and evidence) by the solver itself: the pattern is forced by extreme odds, and their own weight left
 * out. */
static double log_joint(const unsigned char *on)
{
	static struct brute_net fixed;
	struct ab_beliefs one = { 0 };
	double prior = 0;

	fixed = b;
	brute_bind(&fixed, b.net.n_causes, b.net.n_faults, b.net.n_links);
	for (size_t i = 0; i < b.net.n_causes; i++) {
		if (isinf(b.log_odds[i])) {
			if (on[i])
				return (double)-INFINITY;
			continue;
		}
		fixed.log_odds[i] = on[i] ? 300 : -300;
		prior += (on[i] ? b.log_odds[i] : 0) - log1p(exp(b.log_odds[i]));
	}
	return ab_net_solve_in(scratch, &fixed.net, &one, NULL) == AB_OK ? one.log_evidence + prior : (double)-INFINITY;
}

/* The story's share is what its pattern has, and no single change of it is more probable. */
static void check_story(const char *title, unsigned seed)
{
	double best = all.log_evidence + log(all.story_share);
	unsigned char *on = story;

	ck_assert_msg(fabs(log_joint(on) - best) < 1e-9, "%s %u: share %g", title, seed, all.story_share);
	for (size_t i = 0; i < b.net.n_causes; i++) {
		on[i] = !on[i];
		ck_assert_msg(
		    log_joint(on) <= best + 1e-9, "%s %u: changing cause %zu betters the story", title, seed, i);
		on[i] = !on[i];
	}
}

/* Where every pattern cannot be looked at: 40 causes. */
START_TEST(story_at_size)
{
	unsigned solved = 0;

	for (unsigned seed = 1; seed <= 15; seed++) {
		brute_make(&b, seed, BRUTE_MIXED, 40, 12, 0.15);
		if (ab_net_solve_in(scratch, &b.net, &all, NULL) != AB_OK)
			continue;
		solved++;
		ck_assert(all.story_proven == 1);
		check_story("size", seed);
	}
	ck_assert_uint_gt(solved, 5);
}
END_TEST

/* Forty equal causes, dense, likely: more equally good patterns than can be searched. It says so. */
START_TEST(story_search_has_a_limit)
{
	brute_make(&b, 1, BRUTE_MILD, 40, 7, 1);
	for (size_t i = 0; i < 40; i++)
		b.log_odds[i] = -0.4;
	for (size_t f = 0; f < 7; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	for (size_t l = 0; l < b.net.n_links; l++)
		b.links[l].tail = (struct ab_tail){ { 1, 0.5, 0.3, 0.05 } };
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_int_eq(all.story_proven, 0);
	check_story("limit", 0);
}
END_TEST

/* Cut short, a search may stop beside the best: then no single change may better what is told. */
START_TEST(story_cut_short_is_polished)
{
	enum { MANY = 30, WIDE = 15 };
	uint64_t state = 5;

	brute_make(&b, 5, BRUTE_MILD, MANY, WIDE, 1);
	for (size_t i = 0; i < MANY; i++)
		b.log_odds[i] = -0.4 + (brute_random(&state) - 0.5);
	for (size_t f = 0; f < WIDE; f++)
		b.finding[f] = (struct ab_finding){ AB_SEEN_FOUND, 2, 0 };
	for (size_t l = 0; l < b.net.n_links; l++) {
		double p = 0.2 + 0.6 * brute_random(&state);
		b.links[l].tail = (struct ab_tail){ { 1, p, 0.6 * p, 0.1 * p } };
	}
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ck_assert_int_eq(all.story_proven, 0);
	check_story("polished", 5);
}
END_TEST

/* At the full width with dozens of causes the story's tables would not fit: the evidence, but no story. */
START_TEST(story_too_large)
{
	struct ab_beliefs only = { .story = story };

	dense(36, AB_NET_WIDTH);
	memset(story, 1, sizeof story);
	ck_assert_msg(ab_net_solve_in(scratch, &b.net, &only, &diag) == AB_OK, "%s", diag.text);
	ck_assert_int_eq(only.width, AB_NET_WIDTH);
	ck_assert_int_eq(only.story_proven, -1);
	ck_assert_double_eq(only.story_share, 0);
	for (size_t i = 0; i < 36; i++)
		ck_assert_uint_eq(story[i], 0);
	ck_assert(isfinite(only.log_evidence));
}
END_TEST

static const struct { const char *title; int what; enum ab_status want; const char *says; } wrong[] = {
	{ "odds not a number",      0, AB_EUSAGE, "log-odds" },
	{ "odds beyond the range",  1, AB_EUSAGE, "log-odds" },
	{ "no such cause",          2, AB_EUSAGE, "not there" },
	{ "no such fault",          3, AB_EUSAGE, "not there" },
	{ "rising tail",            4, AB_EUSAGE, "tail" },
	{ "tail not from 1",        5, AB_EUSAGE, "tail" },
	{ "rising leak",            6, AB_EUSAGE, "leak" },
	{ "grade 4",                7, AB_EUSAGE, "grade" },
	{ "sensitivity 1.1",        8, AB_EUSAGE, "sensitivity" },
	{ "twice the same link",    9, AB_EUSAGE, "two links" },
	{ "too many causes",       10, AB_ELIMIT, "at most" },
	{ "weight above 1",        11, AB_EUSAGE, "weight" },
	{ "weight not a number",   12, AB_EUSAGE, "weight" },
};

START_TEST(wrong_numbers_are_refused)
{
	double weight[BRUTE_CAUSES] = { 1, 1, 1 };

	brute_make(&b, 3, BRUTE_MILD, 3, 3, 1);
	switch (wrong[_i].what) {
	case 0: b.log_odds[1] = (double)NAN; break;
	case 1: b.log_odds[1] = 501; break;
	case 2: b.links[1].cause = 3; break;
	case 3: b.links[1].fault = -1; break;
	case 4: b.links[1].tail.at[2] = 0.9999; break;
	case 5: b.links[1].tail.at[0] = 0.9; break;
	case 6: b.leak[0].at[3] = 0.5; break;
	case 7: b.finding[0] = (struct ab_finding){ AB_SEEN_FOUND, 4, 0 }; break;
	case 8: b.finding[0] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1.1 }; break;
	case 9: b.links[1] = b.links[0]; break;
	case 10: b.net.n_causes = AB_NET_CAUSES + 1; break;
	case 11: weight[1] = 1.1; b.net.weight = weight; break;
	default: weight[1] = (double)NAN; b.net.weight = weight; break;
	}
	ck_assert_msg(ab_net_solve_in(scratch, &b.net, &all, &diag) == wrong[_i].want, "%s", wrong[_i].title);
	ck_assert_msg(strstr(diag.text, wrong[_i].says) != NULL, "%s: %s", wrong[_i].title, diag.text);
}
END_TEST

/* Every allocation may fail; a second solve of like size makes none. */
START_TEST(memory_may_run_out)
{
	enum ab_status st = AB_ENOMEM;
	long k;

	brute_make(&b, 4, BRUTE_MILD, 8, 5, 0.5);
	for (k = 0; st != AB_OK && k < 100; k++) {
		ab_alloc_fail_at(k);
		st = ab_net_solve(&b.net, &all, &diag);
		ab_alloc_fail_at(-1);
		ck_assert(st == AB_OK || (st == AB_ENOMEM && diag.status == AB_ENOMEM));
		ab_diag_init(&diag);
	}
	ck_assert_int_eq(st, AB_OK);
	ck_assert_int_gt(k, 5);
	ck_assert_int_eq(ab_net_solve_in(scratch, &b.net, &all, &diag), AB_OK);
	ab_alloc_fail_at(0);
	st = ab_net_solve_in(scratch, &b.net, &all, &diag);
	ab_alloc_fail_at(-1);
	ck_assert_int_eq(st, AB_OK);
}
END_TEST

START_TEST(nothing_at_all)
{
	ab_net_scratch_free(NULL);
	brute_bind(&b, 0, 0, 0);
	ck_assert_int_eq(ab_net_solve(&b.net, &all, &diag), AB_OK);
	ck_assert_double_eq(all.log_evidence, 0);
	ck_assert_double_eq(all.story_share, 1);
}
END_TEST

int main(void)
{
	Suite *s = suite_create("network");
	TCase *tc = tcase_create("network");
	SRunner *sr;

	tcase_set_timeout(tc, 300);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, absent_faults_as_weights);
	tcase_add_loop_test(tc, agrees_with_enumeration, 0, sizeof sets / sizeof *sets);
	tcase_add_test(tc, answers_are_no_blame);
	tcase_add_loop_test(tc, sets_of_causes, 0, sizeof sets / sizeof *sets);
	tcase_add_test(tc, set_without_which_nothing);
	tcase_add_test(tc, enumeration_agrees_with_levels);
	tcase_add_test(tc, one_cause_by_hand);
	tcase_add_test(tc, order_is_irrelevant);
	tcase_add_test(tc, grades_sum_to_one);
	tcase_add_test(tc, blame_within_present_and_monotone);
	tcase_add_test(tc, gates_close);
	tcase_add_test(tc, impossible_evidence_names_the_fault);
	tcase_add_test(tc, impossible_together);
	tcase_add_test(tc, always_there_and_absent);
	tcase_add_test(tc, never_at_that_grade);
	tcase_add_test(tc, width_has_a_limit);
	tcase_add_test(tc, width_at_the_limit);
	tcase_add_test(tc, width_is_not_the_number_of_faults);
	tcase_add_loop_test(tc, width_is_near_the_least, 0, sizeof orders / sizeof *orders);
	tcase_add_test(tc, many_found_faults);
	tcase_add_test(tc, no_underflow);
	tcase_add_test(tc, no_underflow_while_open);
	tcase_add_test(tc, no_underflow_of_private_causes);
	tcase_add_test(tc, what_only_gated_causes_give);
	tcase_add_test(tc, extreme_odds);
	tcase_add_test(tc, textbook_method_fails_here);
	tcase_add_test(tc, story_at_size);
	tcase_add_test(tc, story_search_has_a_limit);
	tcase_add_test(tc, story_cut_short_is_polished);
	tcase_add_test(tc, story_too_large);
	tcase_add_loop_test(tc, wrong_numbers_are_refused, 0, sizeof wrong / sizeof *wrong);
	tcase_add_test(tc, memory_may_run_out);
	tcase_add_test(tc, nothing_at_all);
	suite_add_tcase(s, tc);
	sr = srunner_create(s);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
