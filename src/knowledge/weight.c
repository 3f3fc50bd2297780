/* weight.c - what facts say: conditions, signs, and the odds of a cause before tasting
 *
 * The mean over a fact's uncertainty uses the five-point Gauss-Hermite rule for a normal weight: nodes 0,
 * +-sqrt(5 - sqrt 10), +-sqrt(5 + sqrt 10); weights 8/15, (7 + 2 sqrt 10)/60, (7 - 2 sqrt 10)/60 (Abramowitz
 * and Stegun 1964, table 25.10, rescaled).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "knowledge/hearing.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

/* A guess counts with the square root of its ratio (estimate): half the log, so twice as many guesses are
 * needed for the same odds. */
static const double GUESS_POWER = 0.5;

/* An unknown fact meets no condition but "unknown" and "unless", which asks what is known: neither "is" nor "not",
 * for missing is never "no". */
static bool cond_holds(const struct ab_cond *cond, const struct ab_fact *fact)
{
	if (!AB_FACT_KNOWN(fact))
		return cond->cmp == AB_CMP_UNKNOWN || cond->cmp == AB_CMP_UNLESS;
	assert(cond->cmp > AB_CMP_UNLESS || (fact->value >= 0 && fact->value < 64));
	switch (cond->cmp) {
	case AB_CMP_IS: return cond->words >> (int)fact->value & 1;
	case AB_CMP_NOT:
	case AB_CMP_UNLESS: return !(cond->words >> (int)fact->value & 1);
	case AB_CMP_OVER: return fact->value > cond->value;
	case AB_CMP_UNDER: return fact->value < cond->value;
	case AB_CMP_KNOWN: return true;
	case AB_CMP_UNKNOWN: return false;
	}
	return false;
}

static inline bool all_hold(const struct ab_conds *conds, const struct ab_fact *facts)
{
	for (unsigned i = 0; i < conds->n; i++)
		if (!cond_holds(&conds->items[i], &facts[conds->items[i].slot]))
			return false;
	return true;
}

bool ab_conds_hold(const struct ab_conds *conds, const struct ab_fact *facts)
{
	return all_hold(conds, facts);
}

const char *ab_tell_of(const char *words, const struct ab_tell *tells, size_t n, const struct ab_fact *facts)
{
	for (size_t i = n; i > 0; i--)
		if (all_hold(&tells[i - 1].when, facts))
			return tells[i - 1].says;
	return words;
}

const char *ab_cause_next(const struct ab_cause *cause, const struct ab_fact *facts)
{
	return facts == NULL ? cause->next : ab_tell_of(cause->next, cause->nexts, cause->n_nexts, facts);
}

void ab_held_begin(struct ab_held *held, const struct ab_fact *facts)
{
	held->facts = facts;
	memset(held->seen, 0, sizeof held->seen);
}

static inline bool held_all(struct ab_held *held, const struct ab_conds *conds)
{
	if (conds->n == 0)
		return true;
	/* Rules made without reading have no places, and very many conditions have some beyond the room. */
	if (conds->place == 0 || conds->place >= AB_HELD)
		return all_hold(conds, held->facts);
	unsigned char *seen = &held->seen[conds->place];
	if (*seen == 0)
		*seen = all_hold(conds, held->facts) ? 2 : 1;
	return *seen == 2;
}

bool ab_held_all(struct ab_held *held, const struct ab_conds *conds)
{
	return held_all(held, conds);
}

/* Log ratio over a fact: n points, x rising. */
struct curve { size_t n; const double *x, *log_ratio; bool nominal; };

/* The curve at x: linear in log ratio between points, flat beyond. Flat beyond its ends: no rule may
 * grow beyond what its author looked at. */
static double curve_at(const struct curve *c, double x)
{
	assert(c->n >= 2 && c->n <= AB_CURVE_POINTS);
	size_t n = c->n, i = 1;
	if (x <= c->x[0])
		return c->log_ratio[0];
	if (x >= c->x[n - 1])
		return c->log_ratio[n - 1];
	while (x > c->x[i])
		i++;
	double t = (x - c->x[i - 1]) / (c->x[i] - c->x[i - 1]);
	return c->log_ratio[i - 1] + t * (c->log_ratio[i] - c->log_ratio[i - 1]);
}

/* Nodes and weights of the rule. */
static const double NEAR = 1.3556261799742659, FAR = 2.8569700138728056;
static const double MIDDLE = 0.53333333333333333, BESIDE = 0.22207592200561264, OUTER = 0.011257411327720689;

/* Ratios at five rising places. Beyond an end of the curve they are all the same, and one exp does for them. */
static void ratios_at(const struct curve *c, const double x[5], double ratio[5])
{
	double before = 0;
	size_t i = 1;
	for (int k = 0; k < 5; k++) {
		double log_ratio;
		if (x[k] <= c->x[0]) {
			log_ratio = c->log_ratio[0];
		} else if (x[k] >= c->x[c->n - 1]) {
			log_ratio = c->log_ratio[c->n - 1];
		} else {
			while (x[k] > c->x[i])
				i++;
			double t = (x[k] - c->x[i - 1]) / (c->x[i] - c->x[i - 1]);
			log_ratio = c->log_ratio[i - 1] + t * (c->log_ratio[i] - c->log_ratio[i - 1]);
		}
		ratio[k] = k > 0 && log_ratio >= before && log_ratio <= before ? ratio[k - 1] : exp(log_ratio);
		before = log_ratio;
	}
}

/* The mean of the ratio and not of its log: P(reading | cause) is what is averaged over the true value, and
 * the log comes after. A steep curve is so blunted by a poor thermometer. */
static double log_mean_ratio(const struct curve *c, double x, double u)
{
	const double far = FAR * u, near = NEAR * u;
	size_t i = 1;
	while (i < c->n && x - far >= c->x[i])
		i++;
	/* Where all five lie on one straight piece, their ratios are powers of two numbers. */
	if (x - far >= c->x[0] && i < c->n && x + far <= c->x[i]) {
		double slope = (c->log_ratio[i] - c->log_ratio[i - 1]) / (c->x[i] - c->x[i - 1]);
		double a = exp(slope * near), b = exp(slope * far);
		return curve_at(c, x) + log(MIDDLE + BESIDE * (a + 1 / a) + OUTER * (b + 1 / b));
	}
	const double at[5] = { x - far, x - near, x, x + near, x + far };
	double r[5];
	ratios_at(c, at, r);
	return log(OUTER * (r[0] + r[4]) + BESIDE * (r[1] + r[3]) + MIDDLE * r[2]);
}

/* Between the two ends of the curve on both sides of x, nothing is to be averaged where it is flat that
 * far. */
static bool is_flat(const struct curve *c, double x, double u)
{
	return x + 3 * u <= c->x[0] || x - 3 * u >= c->x[c->n - 1];
}

static double curve_weight(const struct curve *c, const struct ab_fact *fact)
{
	return fact->u > 0 && !c->nominal && !is_flat(c, fact->value, fact->u) ? log_mean_ratio(c, fact->value, fact->u)
	    : curve_at(c, fact->value);
}

static double guessed(double weight, const struct ab_fact *fact)
{
	return fact->guess ? GUESS_POWER * weight : weight;
}

double ab_sign_weight(const struct ab_sign *sign, const struct ab_fact *facts)
{
	const struct ab_fact *fact = &facts[sign->slot];
	if (!AB_FACT_KNOWN(fact) || !all_hold(&sign->when, facts))
		return 0;
	if (sign->n > 0)
		return guessed(
		    curve_weight(&(struct curve){ sign->n, sign->x, sign->log_ratio, sign->nominal }, fact), fact);
	int word = (int)fact->value;
	return word >= 0 && word < AB_WORDS ? guessed(sign->word_log_ratio[word], fact) : 0;
}
/* The first prior has no condition (compile.c), so the walk
 * always ends at one that holds. */
static double prior_log_odds(const struct ab_cause *cause, const struct ab_fact *facts)
{
	assert(cause->n_priors > 0);
	size_t i = cause->n_priors - 1;
	while (i > 0 && !all_hold(&cause->priors[i].when, facts))
		i--;
	return cause->priors[i].log_odds;
}

static bool is_gated(const struct ab_cause *cause, const struct ab_fact *facts)
{
	for (size_t i = 0; i < cause->n_gates; i++)
		if (all_hold(&cause->gates[i].when, facts))
			return true;
	return false;
}

/* The signs of one cause that speak on these facts: places, groups and weights. Most are silent, and are not walked
 * again. */
struct spoken { size_t n; short at[AB_CAUSE_SIGNS], group[AB_CAUSE_SIGNS]; double w[AB_CAUSE_SIGNS]; };

static void hear(const struct ab_cause *cause, const struct ab_fact *facts, struct spoken *s)
{
	s->n = 0;
	for (size_t i = 0; i < cause->n_signs; i++) {
		int slot = cause->sign_slots != NULL ? cause->sign_slots[i] : cause->signs[i].slot;
		if (!AB_FACT_KNOWN(&facts[slot]))
			continue;
		s->w[s->n] = ab_sign_weight(&cause->signs[i], facts);
		s->at[s->n] = (short)i;
		s->group[s->n] = (short)cause->signs[i].group;
		s->n += s->w[s->n] != 0;
	}
}

/* Leaves only the strongest of each group (the first of equals): the others weigh 0. Signs of one group are
 * views of one measurement: counted together they would weigh the same thermometer twice. */
static void keep_strongest(struct spoken *s)
{
	for (size_t i = 0; i < s->n; i++)
		for (size_t j = 0; s->group[i] >= 0 && j < i; j++) {
			if (s->group[j] != s->group[i] || s->w[j] == 0)
				continue;
			if (fabs(s->w[i]) > fabs(s->w[j]))
				s->w[j] = 0;
			else
				s->w[i] = 0;
		}
}

/* The prior and all that still speaks; within what network.h takes. */
static double sum_up(double prior, const struct spoken *s)
{
	static const double LIMIT = 500;
	double sum = prior;
	for (size_t i = 0; i < s->n; i++)
		sum += s->w[i];
	return fmin(fmax(sum, -LIMIT), LIMIT);
}

double ab_cause_log_odds(const struct ab_cause *cause, const struct ab_fact *facts, double *used)
{
	struct spoken s;
	assert(cause->n_signs <= AB_CAUSE_SIGNS);
	if (used != NULL)
		memset(used, 0, cause->n_signs * sizeof *used);
	/* The signs are silent too, so that nobody is told of a sign for what is impossible. */
	if (is_gated(cause, facts))
		return -HUGE_VAL;
	hear(cause, facts, &s);
	keep_strongest(&s);
	for (size_t i = 0; used != NULL && i < s.n; i++)
		used[s.at[i]] = s.w[i];
	return sum_up(prior_log_odds(cause, facts), &s);
}

/* ---- all causes at once ---- */

/* What was heard: by cause a bit for each of its signs that speaks, and the weights by place among all signs. */
struct heard { uint64_t speaks[HEARING_CAUSES]; double w[HEARING_SIGNS]; };
_Static_assert(AB_CAUSE_SIGNS <= 64, "a sign of a cause is a bit");

static inline void note(struct heard *heard, const struct hearing_who *who, double weight)
{
	heard->w[who->at] = weight;
	heard->speaks[who->cause] |= (uint64_t)(weight != 0) << who->sign;
}

static void hear_fact(const struct ab_hearing *h, size_t slot, struct ab_held *held, struct heard *heard)
{
	const struct ab_fact *fact = &held->facts[slot];
	for (unsigned i = h->curve_from[slot]; i < h->curve_from[slot + 1]; i++) {
		const struct hearing_curve *c = &h->curves[i];
		if (held_all(held, &h->when[c->who.when]))
			note(heard, &c->who,
			    guessed(
				curve_weight(&(struct curve){ c->n, c->x, c->log_ratio, c->nominal }, fact), fact));
	}
	if (!(fact->value >= 0 && fact->value < AB_WORDS))
		return;
	const unsigned *from = &h->word_from[slot * AB_WORDS + (size_t)fact->value];
	for (unsigned i = from[0]; i < from[1]; i++)
		if (held_all(held, &h->when[h->words[i].who.when]))
			note(heard, &h->words[i].who, guessed(h->words[i].weight, fact));
}

/* In order of its signs, so that sums round as they do one cause at a time. */
static void gather(const struct ab_hearing *h, size_t cause, const struct heard *heard, struct spoken *s)
{
	s->n = 0;
	for (uint64_t bits = heard->speaks[cause]; bits != 0; bits &= bits - 1) {
		unsigned at = h->first[cause] + (unsigned)__builtin_ctzll(bits);
		s->w[s->n] = heard->w[at];
		s->group[s->n++] = h->group[at];
	}
}

static bool is_gated_held(const struct ab_cause *cause, struct ab_held *held)
{
	for (size_t i = 0; i < cause->n_gates; i++)
		if (held_all(held, &cause->gates[i].when))
			return true;
	return false;
}

static double weigh_heard(const struct ab_knowledge *k, size_t at, struct ab_held *held, const struct heard *heard)
{
	const struct ab_cause *cause = &k->causes[at];
	struct spoken s;
	if (k->hearing->made_of[at] != cause->signs)
		return ab_cause_log_odds(cause, held->facts, NULL);
	if (is_gated_held(cause, held))
		return -HUGE_VAL;
	size_t i = cause->n_priors - 1;
	while (i > 0 && !held_all(held, &cause->priors[i].when))
		i--;
	gather(k->hearing, at, heard, &s);
	keep_strongest(&s);
	return sum_up(cause->priors[i].log_odds, &s);
}

void ab_all_log_odds(const struct ab_knowledge *k, struct ab_held *held, double *log_odds)
{
	const struct ab_hearing *h = k->hearing;
	struct heard heard;
	for (size_t i = 0; h == NULL && i < k->n_causes; i++)
		log_odds[i] = ab_cause_log_odds(&k->causes[i], held->facts, NULL);
	if (h == NULL)
		return;
	assert(h->n_causes == k->n_causes && k->n_causes <= HEARING_CAUSES);
	memset(heard.speaks, 0, k->n_causes * sizeof *heard.speaks);
	for (size_t slot = 0; slot < h->n_facts; slot++)
		if (AB_FACT_KNOWN(&held->facts[slot]))
			hear_fact(h, slot, held, &heard);
	for (size_t i = 0; i < k->n_causes; i++)
		log_odds[i] = weigh_heard(k, i, held, &heard);
}
