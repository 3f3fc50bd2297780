/* check_beliefs.c - what must hold of every diagnosis on the project's rules, whatever was told and tasted
 *
 * Journals are random (randjournal.h), and so is what was found, looked for in vain and checked. The properties are
 * those of probability itself, so they need no second reckoning. Needs AFTERBOIL_RULES, as make check sets it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "randjournal.h"
#include "rulecase.h"

enum { CASES = 16 };

static const struct ab_knowledge *k;
static struct ab_arena *arena;
static struct ab_diag diag;

static struct ab_fact *facts;
static struct ab_finding *finding;
static signed char *checks;
static struct ab_evidence evidence;
static struct rj_dice dice;

static void set_up(void)
{
	k = rules;
	arena = ab_arena_new();
	ab_diag_init(&diag);
	facts = ab_arena_alloc(arena, ab_fact_defs()->n, sizeof *facts);
	finding = ab_arena_alloc(arena, k->n_faults, sizeof *finding);
	checks = ab_arena_alloc(arena, k->n_checks, 1);
	evidence = (struct ab_evidence){ finding, checks, -1, false };
}

static void tear_down(void)
{
	ab_arena_free(arena);
}

/* ---- random cases ---- */

static enum ab_status keep(void *ctx, struct ab_batch *batch, struct ab_diag *d)
{
	(void)d;
	*(struct ab_batch **)ctx = batch;
	return AB_OK;
}

static void draw_facts(void)
{
	for (int tries = 0; tries < 100; tries++) {
		static const struct rj_style plain;
		struct ab_batch *batch = NULL;
		struct ab_diag refused;
		const char *text = rj_write(rj_draw(&dice, false, arena), &plain, arena);
		ab_diag_init(&refused);
		if (ab_journal_read_memory(text, strlen(text), "random", NULL, arena, keep, &batch, &refused) != AB_OK)
			continue;
		ck_assert_int_eq(ab_facts_compute(batch, NULL, &k->norms, arena, facts, &diag), AB_OK);
		return;
	}
	ck_abort_msg("no journal passes");
}

static void draw_findings(size_t n_found)
{
	for (size_t i = 0; i < k->n_faults; i++)
		if (rj_chance(&dice, 0.3))
			finding[i] = (struct ab_finding){ AB_SEEN_ABSENT, 0, rj_chance(&dice, 0.5) ? 0.4 : 0.8 };
	for (size_t i = 0; i < n_found; i++)
		finding[rj_below(&dice, k->n_faults)] =
		    (struct ab_finding){ AB_SEEN_FOUND, 1 + (int)rj_below(&dice, 3), 0 };
}

/* Case 0 tells nothing of the batch; the others a random journal. */
static void draw_case(int i, size_t n_found)
{
	rj_seed(&dice, (uint64_t)i * 31 + n_found);
	if (i > 0)
		draw_facts();
	draw_findings(n_found);
	for (size_t c = 0; c < k->n_checks; c++)
		checks[c] = (signed char)(rj_chance(&dice, 0.9) ? 0 : rj_chance(&dice, 0.5) ? 1 : -1);
	evidence.family = (int)rj_below(&dice, k->n_families + 1) - 1;
}

/* NULL when the evidence cannot be. */
static struct ab_diagnosis *diagnose(const struct ab_diagnose_options *options)
{
	struct ab_diagnosis *d = NULL;
	enum ab_status st = ab_diagnose(k, facts, &evidence, options, arena, &d, &diag);

	ck_assert_msg(st == AB_OK || st == AB_EIMPOSSIBLE, "status %d: %s", (int)st, diag.text);
	return st == AB_OK ? d : NULL;
}

static const struct ab_diagnose_options quick, with_reasons = { .reasons = true };

static bool near(double a, double b, double within)
{
	return fabs(a - b) <= within;
}

/* ---- probabilities ---- */

static void check_suspect(int row, const struct ab_diagnosis *d, size_t i)
{
	const struct ab_suspect *s = &d->suspects[i];
	const char *id = k->causes[s->cause].id;

	ck_assert_msg(near(s->blame, d->blame[s->cause], 0) && near(s->present, d->present[s->cause], 0) &&
		near(s->alone, d->alone[s->cause], 0),
	    "%d: %s: suspect and list differ", row, id);
	ck_assert_msg(s->blame >= 0.005, "%d: %s: blame %g", row, id, s->blame);
	ck_assert_msg(i == 0 || d->suspects[i - 1].blame >= s->blame, "%d: %s is out of order", row, id);
	ck_assert_msg(s->blame_low <= s->blame && s->blame <= s->blame_high, "%d: %s: %g..%g round %g", row, id,
	    s->blame_low, s->blame_high, s->blame);
}

/* A kin is at least its most blamed member and at most the sum; the one that leads yields to no cause outside it,
 * and none of its members holds most of it. */
static void check_kin(int row, const struct ab_diagnosis *d, const struct ab_kin_blame *kin)
{
	const char *id = k->kins[kin->kin].id;
	double most = 0, sum = 0, outside = 0;
	size_t n = 0;

	for (size_t i = d->n_suspects; i-- > 0;) {
		const struct ab_suspect *s = &d->suspects[i];
		if (k->causes[s->cause].kin != kin->kin) {
			outside = s->blame;
			continue;
		}
		n++;
		most = s->blame;
		sum += s->blame;
	}
	for (size_t c = 0; c < k->n_causes; c++)
		sum += k->causes[c].kin == kin->kin && d->blame[c] < 0.005 ? d->blame[c] : 0;
	ck_assert_msg(kin->n == n && n > 1 && near(d->suspects[kin->leader].blame, most, 0),
	    "%d: %s has %zu members", row, id, n);
	ck_assert_msg(kin->blame > most - 1e-12 && kin->blame < sum + 1e-12,
	    "%d: %s has %g, the most blamed %g, the sum %g", row, id, kin->blame, most, sum);
	if (kin == d->lead)
		ck_assert_msg(kin->blame >= outside && most <= 0.75 * kin->blame,
		    "%d: %s leads with %g before %g, a member with %g", row, id, kin->blame, outside, most);
}

static int led;   /* how many of the drawn cases a kin leads */

START_TEST(kins)
{
	led = 0;
	for (int i = 0; i < 60; i++) {
		draw_case(i, 1 + (size_t)i % 5);
		const struct ab_diagnosis *d = diagnose(&quick), *why = diagnose(&with_reasons);
		ck_assert(d != NULL && why != NULL);
		for (size_t j = 0; j < d->n_kins; j++)
			check_kin(i, d, &d->kins[j]);
		for (size_t j = 0; j < why->n_kins; j++)
			check_kin(i, why, &why->kins[j]);
		ck_assert_msg((d->lead == NULL) == (why->lead == NULL) && d->verdict_benign == why->verdict_benign,
		    "%d: another answer with reasons", i);
		ck_assert(d->lead == NULL ||
		    (d->lead->kin == why->lead->kin && near(d->lead->blame, why->lead->blame, 1e-12)));
		led += d->lead != NULL;
	}
	ck_assert_int_gt(led, 5);
}
END_TEST

START_TEST(probabilities)
{
	draw_case(_i, 1 + (size_t)_i % 5);
	const struct ab_diagnosis *d = diagnose(&quick);
	double benign = 0;

	ck_assert_ptr_nonnull(d);
	ck_assert_msg(d->log_evidence <= 1e-12, "%d: ln P(evidence) = %g", _i, d->log_evidence);
	ck_assert_msg(
	    d->story_share >= 0 && d->story_share <= 1 + 1e-12, "%d: share of the story %g", _i, d->story_share);
	for (size_t c = 0; c < k->n_causes; c++) {
		const char *id = k->causes[c].id;
		ck_assert_msg(d->alone[c] >= 0 && d->alone[c] < 1, "%d: %s alone %g", _i, id, d->alone[c]);
		ck_assert_msg(
		    d->present[c] >= 0 && d->present[c] <= 1 + 1e-12, "%d: %s present %g", _i, id, d->present[c]);
		ck_assert_msg(d->blame[c] >= 0 && d->blame[c] <= d->present[c] + 1e-12,
		    "%d: %s blame %g of present %g", _i, id, d->blame[c], d->present[c]);
		ck_assert_msg(d->alone[c] > 0 || d->present[c] <= 0, "%d: %s cannot be, and is with %g", _i, id,
		    d->present[c]);
		if (k->causes[c].benign)
			benign = fmax(benign, d->blame[c]);
	}
	for (size_t i = 0; i < d->n_suspects; i++)
		check_suspect(_i, d, i);
	ck_assert_msg(near(d->benign, benign, 1e-15), "%d: benign %g, not %g", _i, d->benign, benign);
	size_t leader = d->lead != NULL ? d->lead->leader : 0;
	ck_assert_msg(d->verdict_benign == (d->n_suspects > 0 && k->causes[d->suspects[leader].cause].benign),
	    "%d: the verdict is not the first's", _i);
	for (size_t i = 0; i < d->n_risks; i++) {
		int c = d->risks[i];
		ck_assert_msg(d->present[c] >= 0.3 && d->blame[c] < 0.1 * d->present[c] && !k->causes[c].benign,
		    "%d: %s is no risk", _i, k->causes[c].id);
	}
}
END_TEST

/* One fault found: somebody is to blame, a cause or the leak; if it is not called unexplained, the causes bear half
 * of it. */
START_TEST(somebody_is_to_blame)
{
	rj_seed(&dice, 7);
	if (_i % 2 == 1)
		draw_facts();
	for (int grade = 1; grade <= 3; grade++) {
		memset(finding, 0, k->n_faults * sizeof *finding);
		finding[_i] = (struct ab_finding){ AB_SEEN_FOUND, grade, 0 };
		const struct ab_diagnosis *d = diagnose(&quick);
		double sum = 0;
		ck_assert_msg(d != NULL, "%s: cannot be", k->faults[_i].id);
		for (size_t c = 0; c < k->n_causes; c++)
			sum += d->blame[c];
		if (d->n_unexplained == 0)
			ck_assert_msg(sum >= 0.5 - 1e-9, "%s at grade %d: blame sums to %g, and it is explained",
			    k->faults[_i].id, grade, sum);
		else
			ck_assert_msg(d->n_unexplained == 1 && d->unexplained[0] == _i,
			    "%s: something else is unexplained", k->faults[_i].id);
		ck_assert_msg(!d->nothing_found, "%s was found", k->faults[_i].id);
		/* Only what gives the fault can be to blame for it. */
		for (size_t i = 0; i < d->n_suspects; i++) {
			const struct ab_cause *c = &k->causes[d->suspects[i].cause];
			bool gives = c->expects;
			for (size_t l = 0; l < c->n_links; l++)
				gives = gives || c->links[l].fault == _i;
			for (size_t f = 0; f < k->n_faults; f++)
				for (size_t m = 0; m < k->faults[f].n_confusions; m++)
					gives = gives || k->faults[f].confusions[m].with == _i || (int)f == _i;
			ck_assert_msg(gives, "%s is blamed for %s and does not give it", c->id, k->faults[_i].id);
		}
	}
}
END_TEST

/* The chance that a cause that is there is not noticed as this fault, nor mistaken for it. */
static double missed(const struct ab_cause *c, int fault)
{
	double tail = 0, miss = 1;

	for (size_t l = 0; l < c->n_links; l++)
		if (c->links[l].fault == fault && ab_conds_hold(&c->links[l].when, facts))
			tail = c->links[l].tail[1];
	miss = 1 - tail;
	for (size_t i = 0; i < k->faults[fault].n_confusions; i++) {
		const struct ab_confusion *other = &k->faults[fault].confusions[i];
		double theirs = 0;
		for (size_t l = 0; l < c->n_links; l++)
			if (c->links[l].fault == other->with && ab_conds_hold(&c->links[l].when, facts))
				theirs = c->links[l].tail[1];
		miss *= 1 - other->share * theirs;
	}
	return miss;
}

/* One fault surely absent: neither the leak nor any cause gave it, each for itself; of links and leaks the last
 * that holds counts. */
START_TEST(absent_in_closed_form)
{
	rj_seed(&dice, (uint64_t)_i + 500);
	if (_i > 0)
		draw_facts();
	double *alone = ab_arena_alloc(arena, k->n_causes, sizeof *alone);
	ab_alone(k, facts, alone);
	for (size_t f = 0; f < k->n_faults; f++) {
		const struct ab_fault *fault = &k->faults[f];
		double p = 1;
		for (size_t i = fault->n_leaks; i-- > 0;)
			if (ab_conds_hold(&fault->leaks[i].when, facts)) {
				p = 1 - fault->leaks[i].tail[1];
				break;
			}
		for (size_t c = 0; c < k->n_causes; c++)
			p *= 1 - alone[c] * (1 - missed(&k->causes[c], (int)f));
		memset(finding, 0, k->n_faults * sizeof *finding);
		finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
		const struct ab_diagnosis *d = diagnose(&quick);
		ck_assert_ptr_nonnull(d);
		ck_assert_msg(near(exp(d->log_evidence), p, 1e-12), "%s: absent with %.15g, not %.15g", fault->id,
		    exp(d->log_evidence), p);
		/* and each cause by Bayes' rule */
		for (size_t c = 0; c < k->n_causes; c++) {
			double miss = missed(&k->causes[c], (int)f),
			       present = alone[c] * miss / (1 - alone[c] * (1 - miss));
			ck_assert_msg(near(d->present[c], present, 1e-10), "%s without %s: %.12g, not %.12g",
			    k->causes[c].id, fault->id, d->present[c], present);
		}
	}
}
END_TEST

/* Nothing found, looked for or checked: what is believed is what was believed before. */
START_TEST(no_evidence_no_change)
{
	rj_seed(&dice, (uint64_t)_i);
	if (_i > 0)
		draw_facts();
	const struct ab_diagnosis *d = diagnose(&quick);
	double *alone = ab_arena_alloc(arena, k->n_causes, sizeof *alone);

	ab_alone(k, facts, alone);
	ck_assert(d->nothing_found && d->n_suspects == 0 && !d->verdict_benign);
	ck_assert_msg(near(d->log_evidence, 0, 1e-12), "ln P(nothing) = %g", d->log_evidence);
	for (size_t c = 0; c < k->n_causes; c++) {
		ck_assert_msg(near(d->present[c], d->alone[c], 1e-12), "%s: %g, %g before", k->causes[c].id,
		    d->present[c], d->alone[c]);
		ck_assert_msg(near(alone[c], d->alone[c], 1e-12), "%s: ab_alone %g, %g", k->causes[c].id, alone[c],
		    d->alone[c]);
	}
}
END_TEST

/* ---- the law of total probability ---- */

/* Weights and beliefs of several outcomes, of which one must be so, add up to what is believed without knowing
 * which. */
struct mix { double p; double *present; };

static void mix_add(struct mix *mix, double log_without)
{
	const struct ab_diagnosis *d = diagnose(&quick);

	if (d == NULL)
		return;
	double p = exp(d->log_evidence - log_without);
	mix->p += p;
	for (size_t c = 0; c < k->n_causes; c++)
		mix->present[c] += p * d->present[c];
}

static void mix_compare(const char *title, const struct mix *mix, const struct ab_diagnosis *without)
{
	ck_assert_msg(near(mix->p, 1, 1e-9), "%s: chances sum to %.12g", title, mix->p);
	for (size_t c = 0; c < k->n_causes; c++)
		ck_assert_msg(near(mix->present[c], without->present[c], 1e-9),
		    "%s: %s is %.12g over all outcomes, %.12g without", title, k->causes[c].id, mix->present[c],
		    without->present[c]);
}

START_TEST(yes_and_no_are_all_answers)
{
	draw_case(_i % 4, 2);
	struct mix mix = { 0, ab_arena_alloc(arena, k->n_causes, sizeof(double)) };

	for (size_t at = (size_t)_i; at < k->n_checks; at += 6) {
		memset(mix.present, 0, k->n_causes * sizeof(double));
		mix.p = 0;
		checks[at] = 0;
		const struct ab_diagnosis *without = diagnose(&quick);
		ck_assert_ptr_nonnull(without);
		checks[at] = 1;
		mix_add(&mix, without->log_evidence);
		checks[at] = -1;
		mix_add(&mix, without->log_evidence);
		checks[at] = 0;
		mix_compare(k->checks[at].id, &mix, without);
	}
}
END_TEST

/* No fault, or one of three grades; surely absent is what tasters who miss nothing did not find. */
START_TEST(four_grades_are_all_there_are)
{
	draw_case(_i % 4, 2);
	struct mix mix = { 0, ab_arena_alloc(arena, k->n_causes, sizeof(double)) };

	for (size_t f = (size_t)_i; f < k->n_faults; f += 12) {
		memset(mix.present, 0, k->n_causes * sizeof(double));
		mix.p = 0;
		finding[f] = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
		const struct ab_diagnosis *without = diagnose(&quick);
		ck_assert_ptr_nonnull(without);
		finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 1 };
		mix_add(&mix, without->log_evidence);
		for (int grade = 1; grade <= 3; grade++) {
			finding[f] = (struct ab_finding){ AB_SEEN_FOUND, grade, 0 };
			mix_add(&mix, without->log_evidence);
		}
		finding[f] = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
		/* What the family is meant to have is a cause only of a grade it may reach: there the four stand in
		 * networks of their own. */
		if (!ab_fault_expected(k, facts, evidence.family, (int)f, 1))
			mix_compare(k->faults[f].id, &mix, without);
	}
}
END_TEST

/* Tasters who would notice nothing told nothing. */
START_TEST(blind_tasters_tell_nothing)
{
	draw_case(_i, 2);
	const struct ab_diagnosis *before = diagnose(&quick);

	for (size_t f = 0; f < k->n_faults; f++)
		if (finding[f].seen == AB_SEEN_NOTHING)
			finding[f] = (struct ab_finding){ AB_SEEN_ABSENT, 0, 0 };
	const struct ab_diagnosis *after = diagnose(&quick);
	ck_assert(before != NULL && after != NULL);
	ck_assert_msg(near(before->log_evidence, after->log_evidence, 1e-9), "%g, then %g", before->log_evidence,
	    after->log_evidence);
	for (size_t c = 0; c < k->n_causes; c++)
		ck_assert_msg(near(before->present[c], after->present[c], 1e-9) &&
			near(before->blame[c], after->blame[c], 1e-9),
		    "%s: %g, then %g", k->causes[c].id, before->blame[c], after->blame[c]);
}
END_TEST

/* ---- why ---- */

/* A finding given as a reason is left out for real. */
static void check_reason(int row, const struct ab_suspect *s, const struct ab_reason *r, bool pro)
{
	const char *id = k->causes[s->cause].id;

	ck_assert_msg(r->text != NULL && r->text[0] != '\0', "%d: a reason of %s has no words", row, id);
	ck_assert_msg(r->blame_without >= 0 && r->blame_without <= 1, "%d: %s without \"%s\": %g", row, id, r->text,
	    r->blame_without);
	ck_assert_msg(pro ? r->blame_without <= s->blame : r->blame_without >= s->blame,
	    "%d: %s: \"%s\" on the wrong side: %g with, %g without", row, id, r->text, s->blame, r->blame_without);
	if (!r->is_fault || r->fault < 0)
		return;
	struct ab_finding was = finding[r->fault];
	finding[r->fault] = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
	const struct ab_diagnosis *without = diagnose(&quick);
	finding[r->fault] = was;
	ck_assert_ptr_nonnull(without);
	ck_assert_msg(near(without->blame[s->cause], r->blame_without, 1e-9),
	    "%d: %s without %s has blame %.12g, not %.12g", row, id, k->faults[r->fault].id,
	    without->blame[s->cause], r->blame_without);
}

/* A finding or a fact given as a reason of the leading kin: the kin's blame without it is what the rest gives. */
static void check_kin_reason(int row, const struct ab_kin_blame *kin, const struct ab_reason *r, bool pro)
{
	struct ab_finding was = { AB_SEEN_NOTHING, 0, 0 };
	double blame = 0;

	ck_assert_msg(r->text != NULL && r->blame_without >= 0 && r->blame_without <= 1, "%d: \"%s\" %g", row,
	    r->text, r->blame_without);
	ck_assert_msg(pro ? r->blame_without <= kin->blame : r->blame_without >= kin->blame,
	    "%d: \"%s\" on the wrong side", row, r->text);
	if (!r->is_fault)
		return;
	was = finding[r->fault];
	finding[r->fault] = (struct ab_finding){ AB_SEEN_NOTHING, 0, 0 };
	const struct ab_diagnosis *without = diagnose(&with_reasons);
	finding[r->fault] = was;
	ck_assert_ptr_nonnull(without);
	for (size_t i = 0; i < without->n_kins; i++)
		blame += without->kins[i].kin == kin->kin ? without->kins[i].blame : 0;
	if (blame > 0)
		ck_assert_msg(near(blame, r->blame_without, 1e-9), "%d: without %s the kin has %.12g, not %.12g",
		    row, k->faults[r->fault].id, blame, r->blame_without);
}

START_TEST(reasons_of_a_kin)
{
	size_t seen = 0, facts_seen = 0;

	for (int i = 0; i < 30; i++) {
		draw_case(i, 1 + (size_t)i % 3);
		memset(checks, 0, k->n_checks);
		const struct ab_diagnosis *d = diagnose(&with_reasons);
		ck_assert_ptr_nonnull(d);
		const struct ab_kin_blame *kin = d->lead;
		for (size_t j = 0; kin != NULL && j < kin->n_pro; j++, seen++) {
			check_kin_reason(i, kin, &kin->pro[j], true);
			facts_seen += kin->pro[j].slot >= 0;
		}
		for (size_t j = 0; kin != NULL && j < kin->n_con; j++, seen++)
			check_kin_reason(i, kin, &kin->con[j], false);
	}
	ck_assert(seen > 20 && facts_seen > 5);
}
END_TEST

START_TEST(reasons_left_out_for_real)
{
	draw_case(_i, 1 + (size_t)_i % 3);
	memset(checks, 0, k->n_checks);
	const struct ab_diagnosis *d = diagnose(&with_reasons);

	ck_assert_ptr_nonnull(d);
	for (size_t i = 0; i < d->n_suspects && i < 4; i++) {
		const struct ab_suspect *s = &d->suspects[i];
		for (size_t j = 0; j < s->n_pro; j++)
			check_reason(_i, s, &s->pro[j], true);
		for (size_t j = 0; j < s->n_con; j++)
			check_reason(_i, s, &s->con[j], false);
	}
}
END_TEST

/* Questions: only about what is not known or done; the most worth first; none costs less than nothing. */
START_TEST(questions_are_open)
{
	draw_case(_i, 2);
	const struct ab_diagnosis *d = diagnose(&with_reasons);

	ck_assert_ptr_nonnull(d);
	for (size_t i = 0; i < d->n_asks; i++) {
		const struct ab_ask *a = &d->asks[i];
		ck_assert_msg(
		    a->bits >= 0 && a->minutes >= 0 && a->cost >= 0 && a->wait_days >= 0 && isfinite(a->worth),
		    "%d: ask %zu", _i, i);
		ck_assert_msg(i == 0 || d->asks[i - 1].worth >= a->worth,
		    "%d: ask %zu is worth more than the one before", _i, i);
		if (a->is_check)
			ck_assert_msg(
			    checks[a->check] == 0, "%d: %s was done and is asked", _i, k->checks[a->check].id);
		else
			ck_assert_msg(!AB_FACT_KNOWN(&facts[a->slot]), "%d: %s is known and is asked", _i,
			    k->facts->defs[a->slot].name);
	}
	for (size_t i = 0; i < d->n_unknown; i++)
		ck_assert_msg(!AB_FACT_KNOWN(&facts[d->unknown[i]]), "%d: %s is called unknown", _i,
		    k->facts->defs[d->unknown[i]].name);
}
END_TEST

/* ---- the same again ---- */

START_TEST(ways_of_asking_agree)
{
	const struct ab_diagnose_options beliefs_only = { .beliefs_only = true }, ranges = { .redraws = 16, .seed = 5 };
	struct ab_net_scratch *scratch = ab_net_scratch_new();
	const struct ab_diagnose_options kept = { .scratch = scratch };

	for (int i = 0; i < 3; i++) {
		draw_case(_i * 3 + i, 3);
		const struct ab_diagnosis *d = diagnose(&quick), *p = diagnose(&beliefs_only), *s = diagnose(&kept),
					  *r = diagnose(&ranges), *again = diagnose(&ranges),
					  *why = diagnose(&with_reasons);
		ck_assert(d != NULL && p != NULL && s != NULL && r != NULL && again != NULL && why != NULL);
		for (size_t c = 0; c < k->n_causes; c++)
			ck_assert_msg(near(d->present[c], p->present[c], 1e-12) &&
				near(d->blame[c], p->blame[c], 1e-12) && near(d->present[c], s->present[c], 0) &&
				near(d->blame[c], s->blame[c], 0) && near(d->blame[c], r->blame[c], 0) &&
				near(d->blame[c], why->blame[c], 0),
			    "%s", k->causes[c].id);
		ck_assert_uint_eq(r->n_suspects, again->n_suspects);
		for (size_t j = 0; j < r->n_suspects; j++) {
			const struct ab_suspect *a = &r->suspects[j], *b = &again->suspects[j];
			ck_assert_msg(near(a->blame_low, b->blame_low, 0) && near(a->blame_high, b->blame_high, 0),
			    "%s: other ranges from one seed", k->causes[a->cause].id);
			ck_assert_msg(
			    a->blame_low >= 0 && a->blame_high <= 1 + 1e-12 && a->blame_low <= a->blame_high,
			    "%s: %g..%g", k->causes[a->cause].id, a->blame_low, a->blame_high);
		}
	}
	ab_net_scratch_free(scratch);
}
END_TEST

/* Each cause's prior odds move as its signs say and no further. */
START_TEST(signs_add_up)
{
	rj_seed(&dice, (uint64_t)_i + 100);
	if (_i > 0)
		draw_facts();
	for (size_t c = 0; c < k->n_causes; c++) {
		const struct ab_cause *cause = &k->causes[c];
		double used[AB_CAUSE_SIGNS], sum = 0, odds = ab_cause_log_odds(cause, facts, used);
		const struct ab_prior *prior = &cause->priors[0];
		bool gated = false;
		for (size_t i = 1; i < cause->n_priors; i++)
			if (ab_conds_hold(&cause->priors[i].when, facts))
				prior = &cause->priors[i];
		for (size_t i = 0; i < cause->n_gates; i++)
			gated = gated || ab_conds_hold(&cause->gates[i].when, facts);
		for (size_t i = 0; i < cause->n_signs; i++) {
			double weight = ab_sign_weight(&cause->signs[i], facts);
			ck_assert_msg(near(used[i], 0, 0) || near(used[i], weight, 0),
			    "%s: sign %zu counts %g, weighs %g", cause->id, i, used[i], weight);
			ck_assert_msg(AB_FACT_KNOWN(&facts[cause->signs[i].slot]) || near(used[i], 0, 0),
			    "%s: a sign on what is unknown", cause->id);
			sum += used[i];
		}
		if (gated)
			ck_assert_msg(isinf(odds) && odds < 0, "%s is gated and has odds %g", cause->id, odds);
		else
			ck_assert_msg(near(odds, log(prior->p / (1 - prior->p)) + sum, 1e-9),
			    "%s: odds %g, prior and signs %g", cause->id, odds,
			    log(prior->p / (1 - prior->p)) + sum);
	}
}
END_TEST

/* All at once and one at a time: the same to the last bit, with guesses and wide readings as well. */
START_TEST(all_odds_are_each_ones)
{
	double *all = ab_arena_alloc(arena, k->n_causes, sizeof *all);
	struct ab_held held;
	rj_seed(&dice, (uint64_t)_i + 700);
	if (_i > 0)
		draw_facts();
	for (size_t f = 0; f < ab_fact_defs()->n; f++) {
		facts[f].guess = facts[f].guess || (_i + (int)f) % 5 == 0;
		if (ab_fact_defs()->defs[f].kind == AB_FACT_NUMBER)
			facts[f].u *= (double)(_i % 4);
	}
	ck_assert_ptr_nonnull(k->hearing);
	ab_held_begin(&held, facts);
	ab_all_log_odds(k, &held, all);
	for (size_t c = 0; c < k->n_causes; c++) {
		double one = ab_cause_log_odds(&k->causes[c], facts, NULL);
		ck_assert_msg(memcmp(&one, &all[c], sizeof one) == 0, "%s: %.17g alone, %.17g with all",
		    k->causes[c].id, one, all[c]);
	}
}
END_TEST

/* Conditions asked again, and those of other places, hold as they do on their own. */
START_TEST(held_is_what_holds)
{
	struct ab_held held;
	rj_seed(&dice, (uint64_t)_i + 900);
	draw_facts();
	ab_held_begin(&held, facts);
	for (int again = 0; again < 2; again++)
		for (size_t c = 0; c < k->n_causes; c++)
			for (size_t l = 0; l < k->causes[c].n_links; l++) {
				const struct ab_conds *when = &k->causes[c].links[l].when;
				ck_assert_msg(ab_held_all(&held, when) == ab_conds_hold(when, facts),
				    "%s: link %zu", k->causes[c].id, l);
			}
}
END_TEST

/* The strongest of a group only; the others of it are silent. */
START_TEST(one_sign_a_group)
{
	rj_seed(&dice, (uint64_t)_i + 300);
	draw_facts();
	for (size_t c = 0; c < k->n_causes; c++) {
		const struct ab_cause *cause = &k->causes[c];
		double used[AB_CAUSE_SIGNS];
		ab_cause_log_odds(cause, facts, used);
		for (size_t i = 0; i < cause->n_signs; i++)
			for (size_t j = 0; j < cause->n_signs; j++) {
				if (i == j || cause->signs[i].group < 0 ||
				    cause->signs[i].group != cause->signs[j].group || near(used[i], 0, 0))
					continue;
				ck_assert_msg(near(used[j], 0, 0), "%s: signs %zu and %zu of one group both count",
				    cause->id, i, j);
				ck_assert_msg(
				    fabs(ab_sign_weight(&cause->signs[j], facts)) <= fabs(used[i]) + 1e-12,
				    "%s: sign %zu is stronger than %zu", cause->id, j, i);
			}
	}
}
END_TEST

int main(void)
{
	Suite *suite = suite_create("beliefs");
	TCase *tc = tcase_create("properties");

	rules_read();
	int faults = (int)rules->n_faults;
	rules_drop();
	tcase_add_unchecked_fixture(tc, rules_read, rules_drop);
	tcase_add_checked_fixture(tc, set_up, tear_down);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, probabilities, 0, CASES);
	tcase_add_loop_test(tc, somebody_is_to_blame, 0, faults);
	tcase_add_loop_test(tc, absent_in_closed_form, 0, 8);
	tcase_add_loop_test(tc, no_evidence_no_change, 0, 6);
	tcase_add_loop_test(tc, all_odds_are_each_ones, 0, CASES);
	tcase_add_loop_test(tc, held_is_what_holds, 0, 4);
	tcase_add_loop_test(tc, yes_and_no_are_all_answers, 0, 6);
	tcase_add_loop_test(tc, four_grades_are_all_there_are, 0, 12);
	tcase_add_loop_test(tc, blind_tasters_tell_nothing, 0, 6);
	tcase_add_test(tc, kins);
	tcase_add_test(tc, reasons_of_a_kin);
	tcase_add_loop_test(tc, reasons_left_out_for_real, 0, 8);
	tcase_add_loop_test(tc, questions_are_open, 0, 6);
	tcase_add_loop_test(tc, ways_of_asking_agree, 0, 2);
	tcase_add_loop_test(tc, signs_add_up, 0, 10);
	tcase_add_loop_test(tc, one_sign_a_group, 0, 10);
	suite_add_tcase(suite, tc);
	SRunner *sr = srunner_create(suite);
	srunner_set_tap(sr, "-");
	srunner_run_all(sr, CK_SILENT);
	srunner_free(sr);
	return EXIT_SUCCESS;
}
