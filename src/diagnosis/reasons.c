/* reasons.c - why: what each suspect's blame would be without one finding, without one sign
 *
 * A finding is left out by solving again. A sign changes only its own cause's odds, and the blame of a cause
 * that is there does not depend on its odds: so blame without the sign = (blame / present) x present without
 * the sign, where the odds of present move by the sign's weight. No solving is needed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagnosis/build.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/str.h"

enum { EXPLAINED = 12 };               /* suspects that get reasons */
static const double LEAST_STEP = 0.1;  /* in logit of blame: less is no reason */
/* Unmentioned faults are many and weak; only what somebody judged absent is worth a solve each. */
static const double JUDGED = 0.6;

/* EDGE keeps a certainty from an infinite distance to everything else. */
static double logit(double p)
{
	static const double EDGE = 1e-12;
	p = fmin(fmax(p, EDGE), 1 - EDGE);
	return log(p) - log1p(-p);
}

struct reasons { struct ab_reason *items; size_t n; double blame; };

/* In logit, since from 0.98 to 0.90 is as much of a change as from 0.10 to 0.02; a difference would see
 * neither of them next to 0.5. */
static void add(struct reasons *r, struct ab_reason reason)
{
	if (fabs(logit(r->blame) - logit(reason.blame_without)) >= LEAST_STEP)
		r->items[r->n++] = reason;
}

/* ---- texts ---- */

static const char *number_text(struct ab_arena *arena, const struct ab_fact_def *def, double value)
{
	char buf[32];
	/* Three digits that count, never more: the rest is not known anyway. A gravity needs its
	 * thousandths whatever that makes. */
	double scale = pow(10, fmax(0, 2 - floor(log10(fmax(fabs(value), 1e-3)))));
	if (value > 0.9 && value < 1.2 && def->hi < 2 && def->lo > 0.5)
		scale = 1000;   /* a gravity */
	ab_num_text(round(value * scale) / scale, buf, sizeof buf);
	return ab_arena_printf(arena, "%s: %s %s", def->title, buf, def->unit);
}

static const char *fact_text(struct ab_arena *arena, const struct ab_fact_def *def, double value)
{
	if (def->kind == AB_FACT_NUMBER)
		return number_text(arena, def, value);
	if (def->kind == AB_FACT_FLAG)
		return ab_arena_printf(arena, "%s: %s", def->title, value > 0 ? "yes" : "no");
	return ab_arena_printf(arena, "%s: %s", def->title, def->words[(int)value]);
}

/* What the rules say of a sign that weighs so; NULL when nothing. */
static const char *words_of(const struct ab_sign *sign, double weight)
{
	const char *says = weight > 0 ? sign->says_for : sign->says_against;
	return says != NULL && says[0] != '\0' ? says : NULL;
}

/* A number stands beside the rules' own words; yes, no and words they say themselves. */
static const char *sign_text(const struct job *job, const struct ab_sign *sign, double weight)
{
	const char *says = words_of(sign, weight);
	const struct ab_fact_def *def = &job->k->facts->defs[sign->slot];
	bool told = says != NULL;
	if (told && def->kind != AB_FACT_NUMBER)
		return says;
	const char *fact = fact_text(job->arena, def, job->facts[sign->slot].value);
	return told && fact != NULL ? ab_arena_printf(job->arena, "%s (%s)", says, fact) : fact;
}

static const char *finding_text(const struct job *job, size_t node)
{
	const struct node *n = &job->b.nodes[node];
	const struct ab_finding *f = &job->b.finding[node];
	if (n->check >= 0)
		return ab_arena_printf(job->arena, "%s %s", job->k->checks[n->check].title,
		    f->seen == AB_SEEN_ANSWER ? "Yes." : "No.");
	const char *title = job->k->faults[n->fault].title;
	/* "DMS" keeps its capitals. */
	bool name = isupper((unsigned char)title[0]) && isupper((unsigned char)title[1]);
	int first = name ? title[0] : tolower((unsigned char)title[0]);
	if (f->seen == AB_SEEN_FOUND && job->evidence->feared)
		return ab_arena_printf(job->arena, "feared, not tasted: %c%s", first, title + 1);
	return f->seen != AB_SEEN_ABSENT ? ab_arena_printf(job->arena, "found in the glass: %c%s (%s)", first,
	    title + 1, ab_grade_name(f->grade))
	    : ab_arena_printf(job->arena, "not found in the glass: %c%s", first, title + 1);
}

/* ---- leaving out ---- */

static bool is_worth_leaving_out(const struct job *job, size_t node)
{
	const struct ab_finding *f = &job->b.finding[node];
	return f->seen != AB_SEEN_ABSENT || f->sensitivity >= JUDGED;
}

/* all: of the n suspects, then of the kin that leads, if any. */
static enum ab_status without_finding(struct job *job, size_t node, double *blame,
    struct reasons *all, size_t n)
{
	struct ab_finding *f = &job->b.finding[node], kept = *f;
	struct ab_beliefs beliefs = { .blame = blame };
	double of_kin = 0;
	f->seen = AB_SEEN_NOTHING;
	net_excuse_meant(job->k, job->facts, job->evidence->family, &job->b);
	enum ab_status st = ab_net_solve_in(job->scratch, &job->b.net, &beliefs, job->diag);
	if (st == AB_OK && job->d->lead != NULL)
		st = diagnose_kin_without(job, NULL, &of_kin);
	/* Put back before anything can return: the next finding needs the whole evidence. */
	*f = kept;
	net_excuse_meant(job->k, job->facts, job->evidence->family, &job->b);
	const char *text = finding_text(job, node);
	if (st != AB_OK)
		return st;
	if (text == NULL)
		return job_no_memory(job);
	for (size_t i = 0; i < n + (job->d->lead != NULL); i++)
		add(&all[i], (struct ab_reason){ .is_fault = job->b.nodes[node].fault >= 0,
		    .fault = job->b.nodes[node].fault, .slot = -1, .is_check = job->b.nodes[node].check >= 0,
		    .check = job->b.nodes[node].check,
		    .blame_without = i < n ? blame[job->d->suspects[i].cause] : of_kin, .text = text });
	return AB_OK;
}

/* Log-odds without one sign, or (sign past the last) without all signs on one fact: the next strongest of
 * its group takes its place. The cause is copied without the sign and weighed again; taking the sign's
 * weight off the sum would forget the weaker sign of its group, which then speaks. */
static double odds_without(const struct ab_cause *cause, size_t sign, int slot, const struct ab_fact *facts)
{
	struct ab_sign rest[AB_CAUSE_SIGNS];
	struct ab_cause copy = *cause;
	assert((sign < cause->n_signs) == (slot < 0) && cause->n_signs <= AB_CAUSE_SIGNS);
	copy.n_signs = 0;
	for (size_t i = 0; i < cause->n_signs; i++)
		if (i != sign && (sign < cause->n_signs || cause->signs[i].slot != slot))
			rest[copy.n_signs++] = cause->signs[i];
	copy.signs = rest;
	copy.sign_slots = NULL;
	return ab_cause_log_odds(&copy, facts, NULL);
}

static bool without_signs(const struct job *job, const struct ab_suspect *s, struct reasons *r)
{
	const struct ab_cause *cause = &job->k->causes[s->cause];
	double used[AB_CAUSE_SIGNS];
	double odds = ab_cause_log_odds(cause, job->facts, used);
	for (size_t i = 0; i < cause->n_signs; i++) {
		if (used[i] == 0)
			continue;
		/* Exact: the tasting gives a fixed likelihood ratio for the cause, so a step in its prior
		 * log-odds is the same step in its posterior ones. */
		double moved = logit(s->present) + odds_without(cause, i, -1, job->facts) - odds;
		double present = 1 / (1 + exp(-moved));
		const char *text = sign_text(job, &cause->signs[i], used[i]);
		if (text == NULL)
			return false;
		add(r, (struct ab_reason){ .fault = -1, .slot = cause->signs[i].slot, .check = -1,
		    .weight = used[i], .blame_without = s->blame / s->present * present, .text = text,
		    .says = words_of(&cause->signs[i], used[i]) });
	}
	return true;
}

/* ---- the kin that leads ---- */

/* The member on which a fact weighs most, and how. */
static const struct ab_sign *heaviest(const struct job *job, int slot, double *weight)
{
	const struct ab_sign *best = NULL;
	*weight = 0;
	for (size_t i = 0; i < job->k->n_causes; i++) {
		const struct ab_cause *cause = &job->k->causes[i];
		double used[AB_CAUSE_SIGNS];
		if (cause->kin != job->d->lead->kin)
			continue;
		ab_cause_log_odds(cause, job->facts, used);
		for (size_t j = 0; j < cause->n_signs; j++)
			if (cause->signs[j].slot == slot && fabs(used[j]) > fabs(*weight)) {
				*weight = used[j];
				best = &cause->signs[j];
			}
	}
	return best;
}

/* A fact speaks to several members at once: it is taken from all of them together, and the network solved
 * again. odds is scratch. The text is that of the member it weighs most on, unless it pulls the whole the
 * other way. */
static enum ab_status kin_without_fact(struct job *job, int slot, double *odds, struct reasons *r)
{
	double weight, blame;
	const struct ab_sign *sign = heaviest(job, slot, &weight);
	if (sign == NULL)
		return AB_OK;
	for (size_t i = 0; i < job->b.net.n_causes; i++)
		odds[i] = job->b.log_odds[i];
	for (size_t i = 0; i < job->k->n_causes; i++)
		if (job->k->causes[i].kin == job->d->lead->kin && !isinf(odds[i]))
			odds[i] = odds_without(&job->k->causes[i], SIZE_MAX, slot, job->facts);
	enum ab_status st = diagnose_kin_without(job, odds, &blame);
	const char *text = sign_text(job, sign, weight);
	if (st == AB_OK && text == NULL)
		st = job_no_memory(job);
	if (st == AB_OK && (blame < r->blame) == (weight > 0))
		add(r, (struct ab_reason){ .fault = -1, .slot = slot, .check = -1, .weight = weight,
		    .blame_without = blame, .text = text, .says = words_of(sign, weight) });
	return st;
}

static enum ab_status kin_without_facts(struct job *job, struct reasons *r)
{
	double *odds = ab_arena_alloc(job->arena, job->b.net.n_causes + 1, sizeof *odds);
	enum ab_status st = odds == NULL ? job_no_memory(job) : AB_OK;
	for (size_t slot = 0; st == AB_OK && slot < job->k->facts->n; slot++)
		if (AB_FACT_KNOWN(&job->facts[slot]))
			st = kin_without_fact(job, (int)slot, odds, r);
	return st;
}

/* ---- the two sides ---- */

/* Without the strongest reason for, blame is lowest; against, highest. */
static int rising(const void *a, const void *b)
{
	double x = ((const struct ab_reason *)a)->blame_without,
	    y = ((const struct ab_reason *)b)->blame_without;
	return (x > y) - (x < y);
}

static int falling(const void *a, const void *b)
{
	return rising(b, a);
}

/* One array: pro from the front, con behind it. Returns how many are pro. */
static size_t split(const struct reasons *r)
{
	size_t n_pro = 0;
	if (r->n == 0)
		return 0;
	qsort(r->items, r->n, sizeof *r->items, rising);
	while (n_pro < r->n && r->items[n_pro].blame_without < r->blame)
		n_pro++;
	qsort(r->items + n_pro, r->n - n_pro, sizeof *r->items, falling);
	return n_pro;
}

/* Each finding and each sign can be a reason once; of the kin, which stands behind the suspects, each fact. */
static struct reasons *make_room(struct job *job, size_t n)
{
	struct reasons *all = ab_arena_alloc(job->arena, n + 1, sizeof *all);
	if (all != NULL && job->d->lead != NULL) {
		size_t most = job->b.net.n_faults + job->k->facts->n;
		all[n] = (struct reasons){ ab_arena_alloc(job->arena, most, sizeof *all[n].items), 0,
		    job->d->lead->blame };
		if (all[n].items == NULL)
			return NULL;
	}
	for (size_t i = 0; all != NULL && i < n; i++) {
		size_t most = job->b.net.n_faults + job->k->causes[job->d->suspects[i].cause].n_signs;
		all[i] = (struct reasons){ ab_arena_alloc(job->arena, most, sizeof *all[i].items), 0,
		    job->d->suspects[i].blame };
		if (all[i].items == NULL)
			return NULL;
	}
	return all;
}

enum ab_status diagnose_reasons(struct job *job)
{
	struct ab_diagnosis *d = job->d;
	size_t n = d->n_suspects < EXPLAINED ? d->n_suspects : EXPLAINED;
	struct reasons *all = make_room(job, n);
	double *blame = ab_arena_alloc(job->arena, job->b.net.n_causes, sizeof *blame);
	enum ab_status st = AB_OK;
	if (all == NULL || blame == NULL)
		return job_no_memory(job);
	for (size_t i = 0; st == AB_OK && n > 0 && i < job->b.net.n_faults; i++)
		if (is_worth_leaving_out(job, i))
			st = without_finding(job, i, blame, all, n);
	for (size_t i = 0; st == AB_OK && i < n; i++) {
		if (!without_signs(job, &d->suspects[i], &all[i]))
			return job_no_memory(job);
		struct ab_suspect *s = &d->suspects[i];
		s->n_pro = split(&all[i]);
		s->pro = all[i].items;
		s->con = all[i].items + s->n_pro;
		s->n_con = all[i].n - s->n_pro;
	}
	if (st == AB_OK && d->lead != NULL)
		st = kin_without_facts(job, &all[n]);
	if (st == AB_OK && d->lead != NULL) {
		struct ab_kin_blame *kin = &d->kins[0];
		kin->n_pro = split(&all[n]);
		kin->pro = all[n].items;
		kin->con = all[n].items + kin->n_pro;
		kin->n_con = all[n].n - kin->n_pro;
	}
	return st;
}
